/*
 * What the files of the family rules_bank share: the rules that are too long for its table's own file.
 */
#ifndef GARBOARD_RULES_BANK_H
#define GARBOARD_RULES_BANK_H

#include "rules/upstream.h"

void judge_bank_management(Judge *judge, const Entity *bank); /* bank_kept.c */
void judge_bank_held(Judge *judge, const Entity *bank);
void judge_bank_covered(Judge *judge, const Entity *bank);
void judge_bank_vented(Judge *judge, const Entity *bank);

void judge_bank_discharge(Judge *judge); /* bank_limits.c */
void judge_bank_charge(Judge *judge);
void judge_vital_hours(Judge *judge);
/** A stated limit of one battery, for all strings together. */
Side bank_limit(const Judge *judge, const Entity *bank, PropId prop);
/** "100 A", "80..120 A"; in a sentence where a bound without its other side reads badly. */
const char *say_bank_amperes(const Judge *judge, Interval value);

void judge_start_alone(Judge *judge); /* bank_start.c */

void judge_mixed_bank(Judge *judge); /* bank_feeds.c */
void judge_joined_voltage(Judge *judge);
void judge_always_live(Judge *judge);
void judge_load_dump(Judge *judge);
void judge_regulator(Judge *judge);

void judge_spark(Judge *judge); /* bank_spark.c */

void judge_charge_loop(Judge *judge); /* bank_joined.c */
/** The part of mixed-bank and of start-alone that is about what charges several banks. */
void judge_mixed_by_makers(Judge *judge);
/** Calls for the bank of each converter that is a relay with each bank that it charges: it joins them, as a switch does. */
void each_relay(Judge *judge, void (*judge_joins)(Judge *, const Meeting *));
void judge_start_by_makers(Judge *judge, const Upstream *upstream);
/**
 * Whether what charges a bank by that feed can run on anything but the bank itself and banks that are not alive, by
 * Entity.index; what that is looked up in is made once.
 */
typedef struct RunsOn RunsOn;
RunsOn *runs_on_make(const Judge *judge);
bool charges_from_elsewhere(RunsOn *runs, const Feed *feed, const Entity *bank, const bool *alive);

/** What a bank gives: one battery times those in series. */
Side bank_volts(const Judge *judge, const Entity *bank); /* bank_voltage.c */
/**
 * The greatest voltage that anything aboard states to charge a bank at, of what is for its class; missing where nothing says it.
 * `maker`: what says so.
 */
Side bank_charged_at(const Judge *judge, const Entity *bank, const Entity **maker);
/** Where such a maker says it, for a note or what a finding rests on. */
PropId charge_voltage_prop(const Entity *maker);
/** Of a finding about what that charger puts on something: a warning, of a matter of its own, that points to the charger. */
void finding_of_charging(Judge *judge, Finding *finding, const Entity *maker);
void judge_high_voltage(Judge *judge, const Entity *source);
void judge_system_unmet(Judge *judge);
void judge_feeds_nothing(Judge *judge, const Entity *maker); /* bank_charging.c */
void judge_bank_uncharged(Judge *judge);
void judge_wrong_voltage(Judge *judge);
void judge_charge_drop(Judge *judge, const Feed *feed); /* bank_charge_drop.c */

void judge_charge_voltage(Judge *judge); /* bank_voltage.c */

void judge_converter_drains(Judge *judge); /* bank_converter.c */

void judge_battery_fuse(Judge *judge, const Entity *bank); /* bank_fuse.c */

void judge_array_power(Judge *judge, const Entity *array); /* bank_doubtful.c */
void judge_cranking_doubtful(Judge *judge, const Entity *bank);

/** The word of a bank's chemistry as it is stated. */
static inline const char *chemistry_word(const Judge *judge, const Entity *bank)
{
    return str_copy(judge->arena, entity_word(bank, PROP_BANK_CHEMISTRY));
}

#endif
