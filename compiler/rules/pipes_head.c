/*
 * Part of the rule unplumbed: what makes the water flow. Taps and water heaters to which hoses lead from a tank of fresh water
 * with no pump between get it by its own weight alone, if at all.
 */
#include "rules/pipes.h"

#include "rules/plumbing.h"

/* What water reaches from some things, and how. */
typedef struct Reach {
    const Plumbing *plumbing;
    const Entity **queue;
    uint32_t count;
    bool *reached;       /* by Entity.index */
    const Entity **hose; /* by Entity.index: the last one on the way; NULL: none, or it begins there */
} Reach;

static Reach reach_make(const Judge *judge)
{
    size_t count = (size_t)judge->model->entity_count + 1;
    return (Reach){.plumbing = plumbing_of(judge->figures),
                   .queue = ARENA_ARRAY(judge->scratch, const Entity *, count),
                   .reached = ARENA_ARRAY(judge->scratch, bool, count),
                   .hose = ARENA_ARRAY(judge->scratch, const Entity *, count)};
}

static void reach_add(Reach *reach, const Entity *thing, const Entity *hose)
{
    if (!reach->reached[thing->index]) {
        reach->reached[thing->index] = true;
        reach->hose[thing->index] = hose;
        reach->queue[reach->count++] = thing;
    }
}

static bool ends_here(const Entity *thing)
{
    return thing->kind == KIND_FIXTURE || thing->kind == KIND_TANK || thing->kind == KIND_THROUGH_HULL ||
           thing->kind == KIND_TOILET;
}

/* On from all that is in the queue, up to where water ends; what a pump moves is another walk's matter. */
static void reach_walk(Reach *reach)
{
    uint32_t first = reach->count;
    for (uint32_t i = 0; i < reach->count; i++) {
        if (i >= first && (ends_here(reach->queue[i]) || reach->queue[i]->kind == KIND_PUMP)) {
            continue;
        }
        for (const Way *way = reach->plumbing->ways[reach->queue[i]->index]; way != NULL; way = way->next) {
            reach_add(reach, way->to, way->hose);
        }
    }
}

/* A pump that does not say where its water goes: it may be meant for this. */
static const Entity *silent_pump(const Judge *judge, const Plumbing *plumbing)
{
    const Entity *pump = first_aboard(judge->model, KIND_PUMP);
    while (pump != NULL && plumbing->ways[pump->index] != NULL) {
        pump = next_aboard(pump);
    }
    return pump;
}

/* The way back from a thing to its tank: how far it rises in all; `lacks`: a hose that does not say. `hot`: by a water heater. */
typedef struct Rise {
    Side height;
    const Entity *tank, *lacks, *last;
    bool hot;
} Rise;

static Rise rise_to(const Judge *judge, const Reach *drawn, const Entity *thing)
{
    Rise rise = {.height = side_number(0.0, UNIT_ALONE(UNIT_M)), .tank = thing, .last = drawn->hose[thing->index]};
    const Entity *hose;
    for (uint32_t step = 0; step < drawn->count && (hose = drawn->hose[rise.tank->index]) != NULL; step++) {
        Side part = side_value(judge, hose, PROP_HOSE_RISE, 0);
        if (!entity_states(hose, PROP_HOSE_RISE)) {
            rise.lacks = hose;
        } else {
            rise.height.state = part.state != STATE_KNOWN ? part.state : rise.height.state;
            rise.height.value = interval_add(rise.height.value, part.value);
            rise.height.unit = part.unit;
        }
        rise.tank = entity_reference(hose, PROP_HOSE_FROM);
        rise.hot = rise.hot || rise.tank->kind == KIND_WATER_HEATER;
    }
    return rise;
}

/* By the places of both, where not all hoses say how far they rise. */
static bool rise_by_place(const Judge *judge, const Entity *thing, Rise *rise)
{
    Side low = side_value(judge, rise->tank, PROP_COMMON_AT, 2), high = side_value(judge, thing, PROP_COMMON_AT, 2);
    if (low.state == STATE_MISSING || high.state == STATE_MISSING) {
        return false;
    }
    rise->height = side_interval(interval_left(high.value, low.value), high.unit);
    rise->height.state = side_is_known(low) ? high.state : low.state;
    return true;
}

static void rests_on_rises(Judge *judge, Finding *finding, const Reach *drawn, const Entity *thing)
{
    const Entity *hose;
    for (uint32_t step = 0; step < drawn->count && (hose = drawn->hose[thing->index]) != NULL; step++) {
        finding_rests_on(judge, finding, hose, PROP_HOSE_RISE);
        thing = entity_reference(hose, PROP_HOSE_FROM);
    }
}

#define FROM_THE_PUMP "`from` the pump, or what a hose from the pump leads to"

/* What is told of a way without a pump; `pressed`: by another way a pump brings water to the same tap. */
static const char *say_dry(const Judge *judge, const Rise *rise, const Entity *tap, bool known, bool pressed)
{
    const char *between = text_format(judge->arena, "no pump stands between `%s` and `%s`", say_name(judge, rise->tank), say_name(judge, tap));
    between = pressed ? text_format(judge->arena, "%s on the way by `%s`", between, say_name(judge, rise->last)) : between;
    if (!known) {
        return text_format(judge->arena, "%s, and nothing says that the tank lies higher", between);
    }
    return text_format(judge->arena, pressed ? "%s, and the tap lies %s higher: nothing comes that way, and what a pump brings can run back by it"
                                             : "%s, which lies %s higher: nothing comes, unless the water in the tank stands above it",
                       between, say_side(judge, rise->height));
}

static void judge_by_weight(Judge *judge, const Reach *drawn, const Entity *tap, bool pressed)
{
    Rise rise = rise_to(judge, drawn, tap);
    const Entity *silent = silent_pump(judge, drawn->plumbing);
    bool known = rise.lacks == NULL || rise_by_place(judge, tap, &rise);
    if (rise.last == NULL || rise.hot || rise.tank->kind != KIND_TANK || entity_yes(rise.tank, PROP_COMMON_PORTABLE) == 1) {
        return; /* of what a water heater gives, that one is asked */
    }
    Span place = place_of(judge, rise.last, PROP_HOSE_FROM);
    Finding *finding = silent != NULL ? judge_open(judge, tap, place, silent, PROP_PUMP_TO)
                       : known        ? judge_at_most(judge, tap, place, rise.height, side_number(0.0, rise.height.unit))
                                      : judge_open(judge, tap, place, rise.lacks, PROP_HOSE_RISE);
    if (finding == NULL) {
        return;
    }
    known = known && silent == NULL;
    finding_matter(finding, "head");
    finding_say(judge, finding, "%s", say_dry(judge, &rise, tap, known, pressed));
    if (known) {
        rests_on_rises(judge, finding, drawn, tap);
    }
    if (pressed) {
        finding_remedy(judge, finding, FROM_THE_PUMP);
    } else {
        finding_remedy(judge, finding, "a `pump` between them, with its `hose` to `%s`", say_name(judge, tap));
    }
}

/* A pump behind it draws through it. */
static bool is_drawn_through(const Judge *judge, const Entity *heater)
{
    Reach behind = reach_make(judge);
    reach_add(&behind, heater, NULL);
    reach_walk(&behind);
    for (uint32_t i = 0; i < behind.count; i++) {
        if (behind.queue[i]->kind == KIND_PUMP) {
            return true;
        }
    }
    return false;
}

static void judge_heater_head(Judge *judge, const Reach *drawn, const Entity *heater)
{
    Rise rise = rise_to(judge, drawn, heater);
    if (rise.last == NULL || rise.tank->kind != KIND_TANK || silent_pump(judge, drawn->plumbing) != NULL ||
        is_drawn_through(judge, heater)) {
        return;
    }
    Finding *finding = judge_broken(judge, heater, place_of(judge, rise.last, PROP_HOSE_FROM));
    finding_matter(finding, "head");
    finding_say(judge, finding, "`%s` is fed from `%s` before any pump: nothing presses its hot water to the taps", say_name(judge, heater),
                say_name(judge, rise.tank));
    finding_remedy(judge, finding, FROM_THE_PUMP);
}

void judge_head(Judge *judge)
{
    if (!kind_is_asked(judge, KIND_FIXTURE) && !kind_is_asked(judge, KIND_WATER_HEATER)) {
        return;
    }
    Reach pressed = reach_make(judge), drawn = reach_make(judge);
    bool some = false;
    for (const Entity *pump = first_aboard(judge->model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        reach_add(&pressed, pump, NULL);
    }
    reach_walk(&pressed);
    for (const Entity *tank = first_tank(judge->model, "fresh"); tank != NULL; tank = next_tank(tank, "fresh")) {
        reach_add(&drawn, tank, NULL);
    }
    reach_walk(&drawn);
    for (const Entity *tap = first_aboard(judge->model, KIND_FIXTURE); tap != NULL; tap = next_aboard(tap)) {
        some = some || pressed.reached[tap->index];
        if (drawn.reached[tap->index] && is_asked(judge, tap)) { /* one hose from a pump waters no other that rises from a tank */
            judge_by_weight(judge, &drawn, tap, pressed.reached[tap->index]);
        }
    }
    for (const Entity *e = first_aboard(judge->model, KIND_WATER_HEATER); some && e != NULL; e = next_aboard(e)) {
        if (drawn.reached[e->index] && !pressed.reached[e->index] && is_asked(judge, e)) {
            judge_heater_head(judge, &drawn, e);
        }
    }
}
