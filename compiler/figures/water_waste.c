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

typedef enum Sinks { SINKS_ALL, SINKS_SHOWERS, SINKS_OTHERS } Sinks;

static bool is_of(const Entity *fixture, Sinks sinks)
{
    return sinks == SINKS_ALL || (entity_yes(fixture, PROP_FIXTURE_SHOWER) == 1) == (sinks == SINKS_SHOWERS);
}

/* The share of these that drains into a tank and those that share with it. */
static Interval share_of(const Figures *figures, const Entity *tank, Sinks sinks)
{
    const Plumbing *plumbing = plumbing_of(figures);
    const Entity *share = plumbing->shares[tank->index];
    if (sinks == SINKS_ALL && !plumbing->counts_sinks) {
        return point((double)plumbing->sinks_of[share->index] / (double)plumbing->sinks);
    }
    Interval into = point(0.0), rest = point(0.0);
    for (const Entity *e = first_aboard(figures->model, KIND_FIXTURE); e != NULL; e = next_aboard(e)) {
        if (is_of(e, sinks)) {
            Interval *part = plumbing->drains_with[e->index] == share ? &into : &rest;
            *part = interval_add(*part, count_of(e));
        }
    }
    return (Interval){part_of(into.low, rest.high), part_of(into.high, rest.low)};
}

/* Whether there are any; all are asked, for a word that is a mistake may be of one. */
static bool has_any(const Model *model, Sinks sinks)
{
    bool any = false;
    for (const Entity *e = first_aboard(model, KIND_FIXTURE); e != NULL; e = next_aboard(e)) {
        any = is_of(e, sinks) || any;
    }
    return any;
}

/* What of the water of showers, and of all other, comes to a tank and those that share with it. */
typedef struct Shares {
    Interval showers, others;
} Shares;

/*
 * Showers are taken where the spec says; while it does not, and some sinks drain elsewhere, all of them may be taken here, or
 * none. At a shower somebody may wash hands, or nobody does: the rest is spread over all alike, or over all others.
 */
static Shares shares_into(const Figures *figures, const Entity *tank, bool showers)
{
    const Plumbing *plumbing = plumbing_of(figures);
    const Entity *share = plumbing->shares[tank->index];
    if (share == NULL || plumbing->sinks_of[share->index] == 0) {
        return (Shares){point(0.0), point(0.0)};
    }
    Shares shares = {.others = share_of(figures, tank, SINKS_ALL)};
    shares.showers = shares.others;
    if (showers && shares.others.low < 1.0) {
        bool said = has_any(figures->model, SINKS_SHOWERS);
        shares.showers = said ? share_of(figures, tank, SINKS_SHOWERS) : (Interval){0.0, 1.0};
        if (said && has_any(figures->model, SINKS_OTHERS)) {
            shares.others = interval_hull(shares.others, share_of(figures, tank, SINKS_OTHERS));
        }
    }
    return shares;
}

const Entity *shower_unsaid(const Figures *figures, const Entity *tank, const Entity *day)
{
    const Plumbing *plumbing = plumbing_of(figures);
    const Entity *share = plumbing->shares[tank->index];
    bool parted = share != NULL && plumbing->sinks_of[share->index] > 0 && plumbing->sinks_of[share->index] < plumbing->sinks;
    if (!parted || !entity_states(day, PROP_DAY_SHOWERS) || has_any(figures->model, SINKS_SHOWERS)) {
        return NULL;
    }
    const Entity *e = first_aboard(figures->model, KIND_FIXTURE);
    while (e != NULL && plumbing->drains_with[e->index] != share) {
        e = next_aboard(e);
    }
    return e;
}

bool waste_of_day(Work *work, const Entity *day, const Entity *tank, Sum *sum)
{
    bool bathed = entity_states(day, PROP_DAY_SHOWERS);
    Shares shares = shares_into(work->figures, tank, bathed);
    if (shares.others.high <= 0.0 && shares.showers.high <= 0.0) {
        return false;
    }
    bool alike = shares.showers.low == shares.others.low && shares.showers.high == shares.others.high;
    sum_next(sum);
    buf_text(&sum->formula, !bathed ? "{crew} x {water} x {share}"
                            : alike ? "{crew} x ({water} + {showers} x {shower}) x {share}"
                                    : "{crew} x ({water} x {share} + {showers} x {shower} x {share of showers})");
    Interval crew = use_value(work, work->model->boat, PROP_BOAT_CREW, 0).value;
    Interval each = use_value(work, day, PROP_DAY_WATER, 0).value;
    Interval washed = point(0.0);
    if (!alike) {
        use_fact(work, "share of the sinks and showers that drain there", shares.others, UNIT_ALONE(UNIT_PERCENT), "all are used alike");
    }
    if (bathed) {
        washed = interval_scale(use_value(work, day, PROP_DAY_SHOWERS, 0).value, SHOWER_M3);
        use_fact(work, "water for one shower", point(SHOWER_M3), UNIT_ALONE(UNIT_L), SHOWER_SOURCE);
    }
    if (alike) {
        use_fact(work, "share of the sinks and showers that drain there", shares.others, UNIT_ALONE(UNIT_PERCENT), "all are used alike");
        sum_add(sum, interval_multiply(interval_multiply(crew, interval_add(each, washed)), shares.others));
        return true;
    }
    use_fact(work, "share of the showers that drain there", shares.showers, UNIT_ALONE(UNIT_PERCENT),
             has_any(work->model, SINKS_SHOWERS) ? "all are used alike" : "no fixture says `shower yes`: none or all of them");
    Interval comes = interval_add(interval_multiply(each, shares.others), interval_multiply(washed, shares.showers));
    sum_add(sum, interval_multiply(crew, comes));
    return true;
}
