/*
 * What a charger offers in a day, in each step: what shore power or its generator leaves over from other loads.
 * Several chargers on one supply share that by what each takes at full output (a choice of this program); what
 * one leaves because its bank is full goes to none.
 */
#include "figures/power_makers.h"

#include <math.h>
#include <string.h>

/* By what a supply's rating is multiplied for W: an inlet's is in A, at a voltage that may be open down to nothing. */
static bool rating_volts(const Power *power, const Entity *supply, Interval *volts)
{
    const PowerNode *node = power_node(power, supply);
    *volts = point(1.0);
    if (supply->kind != KIND_INLET) {
        return true;
    }
    const Value *at = property_value(entity_property(supply, PROP_INLET_RATED), 1);
    if (node->nominal_v > 0.0) {
        *volts = (Interval){node->nominal_v, node->nominal_most_v};
    } else if (at->kind == VALUE_QUANTITY && !(at->flags & VALUE_BROKEN)) {
        *volts = (Interval){fmax(0.0, at->u.quantity.low), at->u.quantity.high};
    } else {
        return false;
    }
    return true;
}

/* What the inlet or generator leaves to its chargers, in W; nothing is taken off where its rating is not known. */
static bool supply_left(Power *power, const Entity *supply, const Entity *day, Hours *left)
{
    PropId prop = supply->kind == KIND_INLET ? PROP_INLET_RATED : PROP_GENERATOR_RATED;
    const Value *rated = property_value(entity_property(supply, prop), 0);
    Interval volts;
    if (rated->kind != VALUE_QUANTITY || !rating_volts(power, supply, &volts)) {
        return false;
    }
    Hours asked;
    Quantity most = use_value(power->work, supply, prop, 0);
    Interval there = interval_multiply(volts, most.value);
    supply_watts(power, supply, day, &asked);
    for (int c = 0; c < CORNERS; c++) {
        for (int i = 0; i < DAY_STEPS; i++) {
            left->of[c][i] = fmax(0.0, (c == WORSE ? there.low : there.high) - asked.of[c][i]);
        }
    }
    return true;
}

/* Marks all that can bring mains to a thing, by any of its feeds and through what an inverter passes. */
static void mark_upward(Power *power, const Entity *thing, uint32_t walk, int depth)
{
    enum { DEEPEST = 64 }; /* longer than any chain of feeds aboard */
    PowerNode *node = power_node(power, thing);
    if (node->walk == walk || depth > DEEPEST || thing->flags & (ENTITY_DROPPED | ENTITY_LOOP)) {
        return;
    }
    node->walk = walk;
    if (thing->kind == KIND_INVERTER) {
        const Entity *passed = entity_reference(thing, PROP_INVERTER_PASSES);
        if (passed != NULL) {
            mark_upward(power, passed, walk, depth + 1);
        }
        return;
    }
    for (const Feed *feed = thing->fed; feed != NULL; feed = feed->next) {
        if (feed->giver != NULL && mains_given(feed->giver) != 0) {
            mark_upward(power, feed->giver, walk, depth + 1);
        }
    }
    for (const Feed *feed = thing->made; feed != NULL; feed = feed->next_of_taker) {
        if (mains_given(feed->giver) != 0) {
            mark_upward(power, feed->giver, walk, depth + 1);
        }
    }
}

/* The inlets or generators that a charger can work from, as they stand in the spec; up to NULL. */
static const Entity **charger_supplies(Power *power, const Entity *charger, KindId kind)
{
    const Entity *first = power->model->first_of_kind[kind];
    uint32_t count = 0, walk = ++power->walks;
    mark_upward(power, charger, walk, 0);
    for (const Entity *e = first; e != NULL; e = e->next_of_kind) {
        count += power_node(power, e)->walk == walk;
    }
    const Entity **supplies = ARENA_ARRAY(power->work->scratch, const Entity *, count + 1);
    count = 0;
    for (const Entity *e = first; e != NULL; e = e->next_of_kind) {
        if (power_node(power, e)->walk == walk) {
            supplies[count++] = e;
        }
    }
    return supplies;
}

/* What a charger can give while shore power is there, or while the generator runs, and in which part of each step it is. */
typedef struct Supplied {
    Hours amps, there;
    bool shared; /* with other chargers */
} Supplied;

static bool charges_a_bank(const Power *power, const Entity *charger)
{
    for (const Feed *feed = charger->gives; feed != NULL; feed = feed->next_of_giver) {
        const Entity *bank = feed->maker ? power_node(power, feed->taker)->source : NULL;
        if (bank != NULL && bank->kind == KIND_BANK && !(bank->flags & ENTITY_DROPPED)) {
            return true;
        }
    }
    return false;
}

static bool works_from(Power *power, const Entity *charger, const Entity *supply)
{
    uint32_t walk = ++power->walks;
    mark_upward(power, charger, walk, 0);
    return power_node(power, supply)->walk == walk;
}

static Interval use_output(Work *work, const Entity *charger)
{
    Interval output = use_value(work, charger, PROP_CHARGER_OUTPUT, 0).value;
    return interval_multiply(output, use_count(work, charger).value);
}

/* At what voltage it gives its current; one that is not decided at all is more than none. */
static Interval use_charging_volts(Work *work, const Entity *charger)
{
    return interval_max(use_value(work, charger, PROP_CHARGER_OUTPUT, 1).value, point(1.0));
}

/* What the other chargers of a supply take from it at full output, in W; 0: there are none. */
static Interval use_other_chargers(Power *power, const Entity *charger, const Entity *supply)
{
    Interval watts = point(0.0);
    for (const Entity *e = power->model->first_of_kind[KIND_CHARGER]; e != NULL; e = e->next_of_kind) {
        if (e != charger && charges_a_bank(power, e) && works_from(power, e, supply)) {
            Interval given = interval_multiply(use_output(power->work, e), use_charging_volts(power->work, e));
            watts = interval_add(watts, interval_divide(given, use_value(power->work, e, PROP_CHARGER_EFFICIENCY, 0).value));
        }
    }
    return watts;
}

/* By the inlet, or generator, that leaves it the most; false where there is none on that day. */
static bool supplied_by(Power *power, const Feed *feed, const Entity *day, KindId kind, Supplied *of)
{
    Work *work = power->work;
    const Entity *charger = feed->giver;
    PropId prop = kind == KIND_INLET ? PROP_DAY_SHORE : PROP_DAY_GENERATOR;
    memset(of, 0, sizeof *of);
    if (!(charger->mains & (kind == KIND_INLET ? MAINS_SHORE : MAINS_GENERATOR)) || !entity_states(day, prop)) {
        return false;
    }
    hours_of_supply(work, day, prop, &of->there);
    Interval output = use_output(work, charger);
    for (const Entity **supply = charger_supplies(power, charger, kind); *supply != NULL; supply++) {
        Hours left;
        bool limited = supply_left(power, *supply, day, &left);
        Interval efficiency = limited ? use_value(work, charger, PROP_CHARGER_EFFICIENCY, 0).value : point(1.0);
        Interval charge_v = limited ? use_charging_volts(work, charger) : point(1.0);
        Interval others = limited ? use_other_chargers(power, charger, *supply) : point(0.0);
        of->shared = of->shared || others.high > 0.0;
        for (int c = 0; c < CORNERS; c++) {
            double most = finite(c == WORSE ? output.low : output.high);
            double beside = c == WORSE ? others.high : others.low;
            double each = c == WORSE ? charge_v.high / efficiency.low : charge_v.low / efficiency.high; /* W for each A */
            each += beside > 0.0 ? beside / most : 0.0; /* while it gives one ampere, the others take their part */
            for (int i = 0; i < DAY_STEPS; i++) {
                double can = limited ? fmin(most, left.of[c][i] / each) : most;
                of->amps.of[c][i] = fmax(of->amps.of[c][i], can);
            }
        }
    }
    return true;
}

static void burst_of(Arena *arena, Maker *maker, int corner, int step, double share, double amps)
{
    if (share > 0.0 && share < 1.0 && amps > 0.0) {
        burst_add(arena, &maker->bursts, corner, (DayBurst){step, -1, share, amps});
    }
}

/*
 * Each step by what is there, whichever a transfer switch names first; where both are, by the one that leaves it more: then
 * more of either is never less charge.
 */
bool charger_hours(Power *power, const Feed *feed, const Entity *day, Maker *maker)
{
    Supplied shore, generator;
    bool any = supplied_by(power, feed, day, KIND_INLET, &shore);
    any = supplied_by(power, feed, day, KIND_GENERATOR, &generator) || any;
    for (int i = 0; i < DAY_STEPS * CORNERS && any; i++) {
        int c = i / DAY_STEPS, step = i % DAY_STEPS;
        bool by_shore = shore.amps.of[c][step] >= generator.amps.of[c][step];
        const Supplied *more = by_shore ? &shore : &generator, *less = by_shore ? &generator : &shore;
        double first = more->there.of[c][step], rest = fmin(less->there.of[c][step], 1.0 - first);
        maker->amps.of[c][step] = more->amps.of[c][step] * first + less->amps.of[c][step] * rest;
        double lesser = rest > 0.0 ? less->amps.of[c][step] : 0.0; /* after the other */
        burst_of(power->work->scratch, maker, c, step, first, more->amps.of[c][step] - lesser);
        burst_of(power->work->scratch, maker, c, step, first + rest, lesser);
    }
    return shore.shared || generator.shared;
}
