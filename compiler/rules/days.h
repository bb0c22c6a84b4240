/*
 * What the files of the family rules_days share: the rules that are too long for its table's own file.
 */
#ifndef GARBOARD_RULES_DAYS_H
#define GARBOARD_RULES_DAYS_H

#include "rules/upstream.h"

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

void judge_bank_cold(Judge *judge, const Entity *bank); /* days_cold.c */

void judge_uncounted(Judge *judge); /* days_uncounted.c */
void judge_joined_uncounted(Judge *judge);
/** Whether what it draws comes out of a bank, by way of inverters and converters too, whichever source is named first. */
bool takes_from_a_bank(const Upstream *upstream, const Entity *load);
/** What states a `use` for some days and most likely runs on another too; false if nothing is told (days_uneven.c). */
bool judge_uneven(Judge *judge);

#endif
