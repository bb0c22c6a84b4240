/*
 * Three rules of the family rules_bilge: bilge-outlet, bilge-valve and bilge-check. What keeps the sea from coming in by a pump
 * that is there to put it out.
 */
#include "rules/bilge.h"
#include "rules/plumbing.h"

#include "physics/hull.h"

#include <math.h>

/* ---- bilge-outlet, bilge-valve ------------------------------------------------------------------------- */

/* A loop on a hose, its top certainly high enough. */
static bool has_high_loop(const Judge *judge, const Entity *hose)
{
    for (const Loop *loop = plumbing_of(judge->figures)->loops[hose->index]; loop != NULL; loop = loop->next) {
        if (ask_at_least(side_value(judge, loop->loop, PROP_VENT_LOOP_HEIGHT, 0), least_height(judge, loop->loop)) == ANSWER_YES) {
            return true;
        }
    }
    return false;
}

/* Each through-hull that its water leaves by has a seacock, and a high loop before it. */
static bool is_guarded(const Judge *judge, const WayOut *way)
{
    bool looped = false, some = false;
    for (uint32_t i = 0; i < way->count; i++) {
        looped = looped || has_high_loop(judge, way->hoses[i]);
    }
    for (uint32_t i = 0; i < way->ends.count; i++) {
        const Entity *end = way->ends.things[i], *last = way->ends.hoses[i];
        bool hull = end->kind == KIND_THROUGH_HULL;
        some = some || hull;
        if (hull && (entity_yes(end, PROP_THROUGH_HULL_SEACOCK) != 1 || !(looped || (last != NULL && has_high_loop(judge, last))))) {
            return false;
        }
    }
    return some;
}

/* The first loop on its way to the hull; NULL: none. */
static const Entity *first_loop(const Judge *judge, const WayOut *way)
{
    Loop *const *loops = plumbing_of(judge->figures)->loops;
    for (uint32_t i = 0; i < way->count; i++) {
        if (loops[way->hoses[i]->index] != NULL) {
            return loops[way->hoses[i]->index]->loop;
        }
    }
    for (uint32_t i = 0; i < way->ends.count; i++) {
        const Entity *last = way->ends.hoses[i];
        if (last != NULL && loops[last->index] != NULL) {
            return loops[last->index]->loop;
        }
    }
    return NULL;
}

/* What is lacking where seacock and loop are there and the loop's top is not surely high enough. */
static bool tell_low_loop(Judge *judge, Finding *finding, const WayOut *way)
{
    const Entity *end = end_of_kind(&way->ends, KIND_THROUGH_HULL), *loop = first_loop(judge, way);
    if (loop == NULL || end == NULL || entity_yes(end, PROP_THROUGH_HULL_SEACOCK) != 1) {
        return false;
    }
    UnitPair unit = unit_of(loop, PROP_VENT_LOOP_HEIGHT, UNIT_ALONE(UNIT_M));
    const char *least = say_up(judge, least_height(judge, loop).value.high, unit);
    finding_note(judge, finding, place_of(judge, loop, PROP_VENT_LOOP_HEIGHT),
                 "with its seacock, this loop would do from %s above the waterline on", least);
    finding_remedy(judge, finding, "height %s of the loop `%s`", least, say_name(judge, loop));
    return true;
}

/* Where its water comes out, and how high that is. */
static Outlet outlet_of(const Judge *judge, const Entity *pump)
{
    WayOut way;
    find_way_out(judge, pump, &way);
    return outlet_of_pump(judge, pump, &way);
}

static Side outlet_height(const Judge *judge, Outlet outlet)
{
    return side_value(judge, outlet.thing, outlet.height, 0);
}

/* A low outlet is as good with a high loop and a seacock. */
static bool is_low_with_loop_and_seacock(const Judge *judge, const Entity *pump)
{
    Side height = outlet_height(judge, outlet_of(judge, pump));
    if (ask_at_least(height, least_height(judge, pump)) == ANSWER_YES) {
        return false;
    }
    WayOut way;
    find_way_out(judge, pump, &way);
    return is_guarded(judge, &way);
}

static Finding *judge_height(Judge *judge, const Entity *pump, Span place)
{
    Side height = outlet_height(judge, outlet_of(judge, pump));
    bool waits = judge->model->boat == NULL || least_height(judge, pump).state == STATE_WAITING;
    if (height.state == STATE_MISSING && waits) {
        judge_waiting(judge); /* no height could be said to be right */
        return NULL;
    }
    if (height.state == STATE_MISSING) {
        return judge_open(judge, pump, place, pump, PROP_BILGE_PUMP_DISCHARGE_HEIGHT);
    }
    return judge_at_least(judge, pump, place, height, least_height(judge, pump));
}

/* A height that is clear of the sea; or what is right where her side is not so high. */
static void offer_height(Judge *judge, Finding *finding, Outlet outlet, Side least)
{
    if (!side_is_known(least)) {
        return; /* it waits for a mistake */
    }
    if (isinf(least.value.high)) {
        return; /* nobody says how far she heels at most */
    }
    if (is_over_deck_edge(judge, least.value.high)) {
        offer_nearer_middle(judge, finding, hull_limit(LIMIT_BILGE_OUTLET)->value,
                            "a hose from it to a through-hull");
    } else {
        offer_outlet_height(judge, finding, outlet, say_up(judge, least.value.high, least.unit));
    }
}

void judge_bilge_outlet(Judge *judge, const Entity *pump)
{
    if (is_low_with_loop_and_seacock(judge, pump)) {
        judge_holds(judge);
        return;
    }
    Outlet outlet = outlet_of(judge, pump);
    Finding *finding = judge_height(judge, pump, place_of(judge, outlet.thing, outlet.height));
    if (finding == NULL) {
        return;
    }
    Side least = least_height(judge, pump), height = outlet_height(judge, outlet);
    if (height.state != STATE_MISSING) {
        const char *by = outlet.thing == pump ? "" : text_format(judge->arena, ", `%s`,", say_name(judge, outlet.thing));
        finding_say(
            judge, finding,
            "the outlet of `%s`%s stands at %s; heeled, only %s above the waterline is clear of the sea",
            say_name(judge, pump), by, say_side(judge, height), say_clear(judge, least, height.unit));
        least.unit = height.unit;
    } else {
        finding_say(judge, finding, "`%s` does not say how high above the waterline its outlet stands",
                    say_name(judge, pump));
    }
    offer_height(judge, finding, outlet, least);
    if (figure_of(judge, pump, FIGURE_HEELED_WATERLINE) == NULL) {
        finding_here(judge, finding,
                     "taken to be at the side of the boat; `at` of its through-hull says where it is");
    }
    note_heel(judge, finding);
    WayOut way;
    find_way_out(judge, pump, &way);
    if (!tell_low_loop(judge, finding, &way)) {
        finding_remedy(judge, finding, "a hose from it to a through-hull with `seacock yes`, and a vent-loop on that hose");
    }
}

/* A check valve matters where the outlet is low: there it must not be all that keeps the sea out. */
void judge_bilge_valve(Judge *judge, const Entity *pump)
{
    int valve = entity_yes(pump, PROP_BILGE_PUMP_CHECK_VALVE);
    if (valve == -2) {
        judge_waiting(judge);
    }
    if (valve != 1) {
        return;
    }
    if (is_low_with_loop_and_seacock(judge, pump)) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_height(judge, pump, place_of(judge, pump, PROP_BILGE_PUMP_CHECK_VALVE));
    if (finding != NULL) {
        finding_say(judge, finding, "a check valve is all that keeps the sea from running back through `%s`",
                    say_name(judge, pump));
        Outlet outlet = outlet_of(judge, pump);
        if (entity_states(outlet.thing, outlet.height)) {
            finding_note(judge, finding, place_of(judge, outlet.thing, outlet.height),
                         "heeled, the sea reaches its outlet here");
        }
        note_heel(judge, finding);
        offer_height(judge, finding, outlet, least_height(judge, pump));
    }
}

/* Where the height or a loop keeps the sea out, a check valve has nothing to do but to stick. */
void judge_bilge_check(Judge *judge, const Entity *pump)
{
    int valve = entity_yes(pump, PROP_BILGE_PUMP_CHECK_VALVE);
    Side height = outlet_height(judge, outlet_of(judge, pump));
    Side least = least_height(judge, pump);
    Answer clear = is_low_with_loop_and_seacock(judge, pump) ? ANSWER_YES : ask_at_least(height, least);
    if (valve == -2) {
        judge_waiting(judge);
    }
    if (valve != 1 || clear == ANSWER_UNKNOWN) {
        return;
    }
    if (clear == ANSWER_NO) {
        judge_gives_way(judge); /* of one that the sea reaches `bilge-valve` speaks */
        return;
    }
    Span place = place_of(judge, pump, PROP_BILGE_PUMP_CHECK_VALVE);
    Finding *finding = clear == ANSWER_YES ? judge_broken(judge, pump, place) : judge_at_most(judge, pump, place, height, least);
    if (finding == NULL) {
        return;
    }
    finding_say(judge, finding,
                "a check valve sits in the hose of `%s`, and the sea %s its outlet: stuck shut, it stops the pump",
                say_name(judge, pump), clear == ANSWER_YES ? "does not reach" : "may not reach");
    finding_remedy(judge, finding, "check-valve no, unless without it the pump would cycle on the water that runs back");
}
