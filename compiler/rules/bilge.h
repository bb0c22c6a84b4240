/*
 * What the files of the family rules_bilge share: rules that are too long for its table's own file.
 */
#ifndef GARBOARD_RULES_BILGE_H
#define GARBOARD_RULES_BILGE_H

#include "rules/rule.h"

void judge_bilge_capacity(Judge *judge); /* bilge_capacity.c */
void judge_bilge_outlet(Judge *judge, const Entity *pump); /* bilge_outlet.c */
void judge_bilge_valve(Judge *judge, const Entity *pump);
void judge_bilge_check(Judge *judge, const Entity *pump);

#endif
