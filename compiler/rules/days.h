/*
 * What the files of the family rules_days share: the rules that are too long for its table's own file.
 */
#ifndef GARBOARD_RULES_DAYS_H
#define GARBOARD_RULES_DAYS_H

#include "rules/rule.h"

void judge_wasted_sun(Judge *judge, const Entity *array); /* days_array.c */
void judge_array_voltage(Judge *judge, const Entity *array);
void judge_array_low(Judge *judge, const Entity *array);
void judge_array_current(Judge *judge, const Entity *array);

void judge_panel_cable(Judge *judge, const Entity *array); /* days_panels.c */
void judge_panel_drop(Judge *judge, const Entity *array);
void judge_string_fuse(Judge *judge, const Entity *array);

void judge_belt(Judge *judge, const Entity *alternator); /* days_alternator.c */
void judge_alternator_power(Judge *judge, const Entity *engine);
void judge_curve_high(Judge *judge, const Entity *alternator);
void judge_mean_output(Judge *judge, const Entity *alternator);

void judge_uncounted(Judge *judge); /* days_uncounted.c */
void judge_joined_uncounted(Judge *judge);

#endif
