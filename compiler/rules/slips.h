/*
 * What the files of the family rules_slips share: rules that stand beside their table's own file.
 */
#ifndef GARBOARD_RULES_SLIPS_H
#define GARBOARD_RULES_SLIPS_H

#include "rules/rule.h"

void judge_pump_power(Judge *judge, const Entity *pump);  /* slips_pipes.c */
void judge_loop_high(Judge *judge, const Entity *loop);   /* slips_pipes.c */
void judge_digits_grouped(Judge *judge);                  /* slips_digits.c */
void judge_hose_narrow(Judge *judge, const Entity *hose); /* slips_pipes.c */
void judge_outlet_unlike(Judge *judge, const Entity *pump); /* slips_pipes.c */
void judge_light_over(Judge *judge, const Entity *light); /* slips_height.c */

#endif
