/*
 * The rule vital-hours: what is vital on a bank, for three hours: navigation lights, radio, bilge pumps, those behind converters
 * and inverters too.
 */
#include "rules/bank.h"

#include <math.h>

static const UnitPair amperes = {UNIT_A, UNIT_NONE};

static const char *say_interval(const Judge *judge, Interval value, UnitPair unit)
{
    return say_side(judge, side_interval(value, unit));
}

static const double vital_seconds = 3.0 * 3600.0;

static bool is_vital(const Entity *thing)
{
    return thing->kind == KIND_NAV_LIGHT || thing->kind == KIND_RADIO ||
           (thing->kind == KIND_BILGE_PUMP && entity_yes(thing, PROP_BILGE_PUMP_HAND) != 1);
}

/* What vital things draw of a bank, gathered. */
typedef struct Vital {
    const Judge *judge;
    const Upstream *upstream;
    Side drawn;
    uint32_t count;
} Vital;

enum { TURNED_MOST = 4 }; /* so many converters in a row are followed */

static void add_vital(Vital *vital, const Entity *thing, Side ratio)
{
    Side *drawn = &vital->drawn;
    Side current = side_figure(figure_of(vital->judge, thing, FIGURE_CURRENT));
    if (!side_is_known(current) || !side_is_known(ratio)) {
        *drawn = side_is_known(current) ? ratio : current;
        return;
    }
    if (drawn->figure == NULL || !interval_is_point(current.value)) {
        drawn->figure = current.figure; /* what it hangs on, if it is left open */
    }
    vital->count++;
    drawn->value = interval_add(drawn->value, interval_multiply(current.value, ratio.value));
}

/* What turns power for others: not what charges a bank, on which nothing hangs. */
static bool turns_for_others(const Upstream *upstream, const Entity *thing)
{
    return (thing->kind == KIND_CONVERTER || thing->kind == KIND_INVERTER) && upstream->first[thing->index] != NULL;
}

/* The voltage that it gives. */
static Side given_volts(const Judge *judge, const Entity *thing, Side before_v)
{
    return is_relay(thing)                  ? before_v
           : thing->kind == KIND_CONVERTER ? side_value(judge, thing, PROP_CONVERTER_OUTPUT, 1)
                                           : side_value(judge, thing, PROP_INVERTER_OUTPUT, 0);
}

/* How much current goes in for one that comes out: by the two voltages, over its efficiency. */
static Side turned_ratio(const Judge *judge, const Entity *thing, Side before_v, Side given_v)
{
    Side keeps = side_value(judge, thing, thing->kind == KIND_CONVERTER ? PROP_CONVERTER_EFFICIENCY : PROP_INVERTER_EFFICIENCY, 0);
    Side ratio = side_interval(point(1.0), UNIT_ALONE(UNIT_NONE));
    if (is_relay(thing)) {
        return ratio;
    }
    if (!side_is_known(given_v) || !side_is_known(keeps) || !side_is_known(before_v)) {
        return !side_is_known(given_v) ? given_v : !side_is_known(keeps) ? keeps : before_v;
    }
    Interval kept = interval_multiply(before_v.value, keeps.value);
    ratio.value = kept.low > 0.0 ? interval_divide(given_v.value, kept) : (Interval){0.0, INFINITY};
    return ratio;
}

/* What they draw at once on a source, and behind what turns its power; the state is the worst of their currents. */
static void gather_vital(Vital *vital, const Entity *source, Side source_v, Side ratio, int depth)
{
    const Entity *thing = vital->upstream->first[source->index];
    for (; thing != NULL && side_is_known(vital->drawn); thing = vital->upstream->next[thing->index]) {
        if (is_vital(thing)) {
            add_vital(vital, thing, ratio);
        } else if (depth < TURNED_MOST && turns_for_others(vital->upstream, thing)) {
            Side given_v = given_volts(vital->judge, thing, source_v);
            Side through = turned_ratio(vital->judge, thing, source_v, given_v);
            through.value = interval_multiply(ratio.value, through.value);
            gather_vital(vital, thing, given_v, side_is_known(ratio) ? through : ratio, depth + 1);
        }
    }
}

static Side peukert_of(const Judge *judge, const Entity *bank)
{
    Chemistry chemistry;
    if (entity_states(bank, PROP_BANK_PEUKERT)) {
        return side_value(judge, bank, PROP_BANK_PEUKERT, 0);
    }
    return bank_chemistry(bank, &chemistry) ? side_number(battery_model(chemistry, 1.0).exponent, UNIT_ALONE(UNIT_NONE))
                                            : (Side){.state = STATE_WAITING};
}

/* The current that a bank gives for three hours, from full to its usable limit. */
static Side vital_supply(const Judge *judge, const Entity *bank)
{
    Side supply = side_figure(figure_of(judge, bank, FIGURE_USABLE_ENERGY)); /* for what it hangs on */
    Side capacity = side_figure(figure_of(judge, bank, FIGURE_CAPACITY)), least = side_figure(figure_of(judge, bank, FIGURE_LEAST_CHARGE));
    Side exponent = peukert_of(judge, bank);
    if (!side_is_known(supply) || !side_is_known(exponent)) {
        return side_is_known(supply) ? exponent : supply;
    }
    Interval loses = interval_max(point(1.0), exponent.value);
    supply.value = (Interval){
        battery_steady_a(capacity.value.low, 1.0 - least.value.high, BATTERY_RATED_HOURS, vital_seconds, loses.high),
        battery_steady_a(capacity.value.high, 1.0 - least.value.low, BATTERY_RATED_HOURS, vital_seconds, loses.low)};
    supply.unit = amperes;
    return supply;
}

/* What is open of what turns its power decides too. */
static void rest_on_turned(Judge *judge, Finding *f, const Upstream *upstream, const Entity *source, int depth)
{
    for (const Entity *thing = upstream->first[source->index]; thing != NULL; thing = upstream->next[thing->index]) {
        if (depth < TURNED_MOST && turns_for_others(upstream, thing)) {
            bool converts = thing->kind == KIND_CONVERTER;
            finding_rests_on(judge, f, thing, converts ? PROP_CONVERTER_OUTPUT : PROP_INVERTER_OUTPUT);
            finding_rests_on(judge, f, thing, converts ? PROP_CONVERTER_EFFICIENCY : PROP_INVERTER_EFFICIENCY);
            rest_on_turned(judge, f, upstream, thing, depth + 1);
        }
    }
}

static void judge_vital(Judge *judge, const Upstream *upstream, const Entity *bank)
{
    Vital vital = {judge, upstream, side_interval(point(0.0), amperes), 0};
    gather_vital(&vital, bank, bank_volts(judge, bank), side_interval(point(1.0), UNIT_ALONE(UNIT_NONE)), 0);
    Side drawn = vital.drawn;
    if (vital.count == 0 && side_is_known(drawn)) {
        return; /* nothing vital hangs on it */
    }
    Side supply = vital_supply(judge, bank);
    Finding *f = judge_at_least(judge, bank, place_of_name(judge, bank), supply, drawn);
    if (f != NULL) {
        finding_rests_on(judge, f, bank, PROP_BANK_PEUKERT);
        rest_on_turned(judge, f, upstream, bank, 0);
        finding_say(judge, f,
                    "what is vital on `%s` (navigation lights, radio, bilge pumps) draws %s; for three hours it can give %s",
                    say_name(judge, bank), say_interval(judge, drawn.value, amperes), say_interval(judge, supply.value, amperes));
        finding_remedy(judge, f, "a larger `capacity`, or part of them on another bank");
    }
}

void judge_vital_hours(Judge *judge)
{
    const Upstream *upstream = upstream_of(judge);
    for (const Entity *bank = judge->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        if (is_aboard(bank)) {
            judge_vital(judge, upstream, bank);
        }
    }
}
