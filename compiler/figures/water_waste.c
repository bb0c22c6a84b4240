/*
 * Waste water: what of a day's water runs out of sinks and showers into tanks.
 */
#include "figures/plumbing.h"

#include <math.h>

enum { STEPS_MOST = 8 }; /* hoses and pumps between a sink and its tank */

/* The next thing behind one, by a hose or by what a pump says; NULL: nothing is stated. */
static const Entity *next_behind(const Model *model, const Entity *thing)
{
    for (const Entity *hose = first_aboard(model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        const Entity *to = entity_reference(hose, PROP_HOSE_TO);
        if (entity_reference(hose, PROP_HOSE_FROM) == thing && to != NULL && is_aboard(to)) {
            return to;
        }
    }
    return thing->kind == KIND_PUMP ? entity_reference(thing, PROP_PUMP_TO) : NULL;
}

/* Where a sump is emptied to, or a grey tank that something draws from: what comes goes on; NULL: it stays in the tank. */
static const Entity *emptied_to(const Plumbing *plumbing, const Entity *tank)
{
    bool goes_on = str_is(entity_word(tank, PROP_TANK_HOLDS), "grey") && plumbing->drawn_from[tank->index];
    const Way *way = goes_on ? plumbing->ways[tank->index] : NULL;
    while (way != NULL && !is_aboard(way->to)) {
        way = way->next;
    }
    return way != NULL ? way->to : NULL;
}

/* The tank that a sink drains into in the end; NULL: it runs overboard, or nobody says where. */
static const Entity *find_drained(const Model *model, const Plumbing *plumbing, const Entity *fixture)
{
    const Entity *at = entity_reference(fixture, PROP_FIXTURE_DRAINS_TO);
    at = at != NULL ? at : next_behind(model, fixture);
    for (int step = 0; step < STEPS_MOST && at != NULL && is_aboard(at); step++) {
        const Entity *on = at->kind == KIND_TANK ? emptied_to(plumbing, at) : at->kind == KIND_THROUGH_HULL ? NULL : next_behind(model, at);
        if (on == NULL && (at->kind == KIND_TANK || at->kind == KIND_THROUGH_HULL)) {
            return at->kind == KIND_TANK ? at : NULL;
        }
        at = on;
    }
    return NULL;
}

void plumbing_drain(const Model *model, Plumbing *plumbing)
{
    for (const Entity *e = first_aboard(model, KIND_FIXTURE); e != NULL; e = next_aboard(e)) {
        const Entity *tank = find_drained(model, plumbing, e);
        const Entity *share = tank != NULL ? plumbing->shares[tank->index] : NULL;
        if (share != NULL) {
            plumbing->drains_with[e->index] = share;
            plumbing->sinks_of[share->index]++;
        }
        plumbing->sinks++;
        plumbing->counts_sinks = plumbing->counts_sinks || entity_states(e, PROP_COMMON_COUNT);
    }
}

static Interval count_of(const Entity *fixture)
{
    const Value *stated = property_value(entity_property(fixture, PROP_COMMON_COUNT), 0);
    return stated->kind == VALUE_QUANTITY ? (Interval){stated->u.quantity.low, stated->u.quantity.high} : point(1.0);
}

static double part_of(double part, double rest)
{
    return part <= 0.0 ? 0.0 : isinf(part) ? 1.0 : part / (part + rest);
}

/* The share of all sinks and showers that drains into a tank and those that share with it. */
static Interval share_into(const Figures *figures, const Entity *tank)
{
    const Plumbing *plumbing = plumbing_of(figures);
    const Entity *share = plumbing->shares[tank->index];
    if (share == NULL || plumbing->sinks_of[share->index] == 0) {
        return point(0.0);
    }
    if (!plumbing->counts_sinks) {
        return point((double)plumbing->sinks_of[share->index] / (double)plumbing->sinks);
    }
    Interval into = point(0.0), rest = point(0.0);
    for (const Entity *e = first_aboard(figures->model, KIND_FIXTURE); e != NULL; e = next_aboard(e)) {
        Interval *part = plumbing->drains_with[e->index] == share ? &into : &rest;
        *part = interval_add(*part, count_of(e));
    }
    return (Interval){part_of(into.low, rest.high), part_of(into.high, rest.low)};
}

bool waste_of_day(Work *work, const Entity *day, const Entity *tank, Sum *sum)
{
    Interval share = share_into(work->figures, tank);
    if (share.high <= 0.0) {
        return false;
    }
    sum_next(sum);
    buf_text(&sum->formula, entity_states(day, PROP_DAY_SHOWERS) ? "{crew} x ({water} + {showers} x {shower}) x {share}"
                                                                 : "{crew} x {water} x {share}");
    Interval crew = use_value(work, work->model->boat, PROP_BOAT_CREW, 0).value;
    Interval each = use_value(work, day, PROP_DAY_WATER, 0).value;
    if (entity_states(day, PROP_DAY_SHOWERS)) {
        Interval showers = use_value(work, day, PROP_DAY_SHOWERS, 0).value;
        use_fact(work, "water for one shower", point(SHOWER_M3), UNIT_ALONE(UNIT_L), SHOWER_SOURCE);
        each = interval_add(each, interval_scale(showers, SHOWER_M3));
    }
    use_fact(work, "share of the sinks and showers that drain there", share, UNIT_ALONE(UNIT_PERCENT),
             "all are used alike");
    sum_add(sum, interval_multiply(interval_multiply(crew, each), share));
    return true;
}
