/*
 * Siphons: hoses that could let the sea in. How they hang together is found by siphon_runs.c.
 */
#include "rules/siphon.h"

#include "physics/hull.h"
#include "rules/families.h"

#include <math.h>

/* Of a bowl, that it is asked to stand higher than the water comes as she heels; else nothing. */
static const char *say_clear_of(Judge *judge, const Mouth *mouth, UnitPair unit)
{
    Side clear = siphon_clear_from(judge, mouth);
    return clear.value.high > waterline_at(judge, mouth->thing).value.high
               ? text_format(judge->arena, ", and it is clear from %s", say_clear(judge, clear, unit))
               : "";
}

static void note_mouth(Judge *judge, Finding *finding, const Mouth *mouth)
{
    bool rim = mouth->height == PROP_TOILET_RIM;
    bool outlet = mouth->height == PROP_BILGE_PUMP_DISCHARGE_HEIGHT || mouth->height == PROP_COMMON_AT;
    if (!entity_states(mouth->thing, mouth->height)) {
        finding_note(judge, finding, place_of_name(judge, mouth->thing),
                     "how high %s above the waterline is not said", rim ? "its rim is" : "it is");
        return;
    }
    UnitPair unit = unit_of(mouth->thing, mouth->height, figures_unit(judge->figures, UNIT_ALONE(UNIT_M)));
    finding_note(judge, finding, place_of(judge, mouth->thing, mouth->height),
                 "%s; heeled, the water comes up to %s%s",
                 rim      ? "the bowl's rim"
                 : outlet ? "where it comes out"
                          : "the way to the sea",
                 say_reach(judge, waterline_at(judge, mouth->thing), unit), say_clear_of(judge, mouth, unit));
    note_heel(judge, finding);
}

/* The loop that would do, at the side of the boat, where the water comes highest. */
static void offer_loop_on(Judge *judge, Finding *finding, const Entity *hose, UnitPair unit)
{
    const char *name = say_name(judge, hose);
    Side least = least_height(judge, judge->model->boat);
    if (side_is_known(least) && is_over_deck_edge(judge, least.value.high)) {
        offer_nearer_middle(judge, finding, hull_limit(LIMIT_VENT_LOOP)->value,
                            text_format(judge->arena, "a `vent-loop` on `%s`", name));
    } else if (side_is_known(least)) {
        finding_remedy(judge, finding, "vent-loop %s-loop { on %s; height %s }", name, name,
                       say_up(judge, least.value.high, unit));
    }
}

/* A tap that stands clear of the sea; and a loop, but on a line that stands under pressure, where its valve would squirt. */
static void offer_loop(Judge *judge, Finding *finding, const Entity *hose, const Run *run, const Mouth *mouth)
{
    Side water = waterline_at(judge, mouth->thing);
    if (mouth->height == PROP_COMMON_AT && side_is_known(water) && !isinf(water.value.high)) {
        UnitPair unit = figures_unit(judge->figures, UNIT_ALONE(UNIT_M));
        finding_remedy(judge, finding, "`at` of `%s` that says it ends at least %s above the waterline", say_name(judge, mouth->thing),
                       say_up(judge, water.value.high, unit));
        if (run->pressed) {
            return;
        }
    }
    offer_loop_on(judge, finding, hose,
                  unit_of(run->seas->thing, PROP_THROUGH_HULL_HEIGHT, figures_unit(judge->figures, UNIT_ALONE(UNIT_M))));
}

/* A line that has no loop that clears the sea. How sure that is hangs on the mouth, too. */
static Finding *judge_by_mouth(Judge *judge, const Entity *hose, Span place, const Mouth *mouth)
{
    switch (mouth->above) {
    case ANSWER_UNKNOWN: return judge_open(judge, hose, place, mouth->thing, mouth->height);
    case ANSWER_PERHAPS:
        return judge_at_least(judge, hose, place, side_value(judge, mouth->thing, mouth->height, mouth->part),
                              siphon_clear_from(judge, mouth));
    default: return judge_broken(judge, hose, place);
    }
}

/* No loop on it. Where the spec lists no loop at all, that is silence; else there is none here. */
static void judge_without_loop(Runs *runs, const Entity *hose, const Run *run, const Mouth *mouth)
{
    Judge *judge = runs->judge;
    Span place = place_of_name(judge, hose);
    bool silent = !runs->plumbing->states_loops;
    if (runs->plumbing->lost_loops) {
        judge_waiting(judge);
        return;
    }
    Finding *finding =
        silent ? judge_open(judge, hose, place, NULL, PROP_NONE) : judge_by_mouth(judge, hose, place, mouth);
    finding_say(judge, finding, "the sea %s siphon in by `%s`: %s",
                finding->verdict == VERDICT_OPEN ? "may" : "can", say_name(judge, hose),
                silent ? "the spec does not say whether it has a vented loop"
                       : "it has no vented loop of its own");
    if (silent) {
        finding_hangs_on(judge, finding, hose, PROP_VENT_LOOP_ON,
                         text_format(judge->arena, "%s.vent-loop", say_name(judge, hose)));
    }
    note_mouth(judge, finding, mouth);
    offer_loop(judge, finding, hose, run, mouth);
}

/* How high the top of a loop has to stand; or what is right where that would be above her deck. */
static void offer_height(Judge *judge, Finding *finding, const Entity *loop, Side least, UnitPair unit)
{
    if (isinf(least.value.high)) {
        return; /* nobody says how far she heels at most */
    }
    if (is_over_deck_edge(judge, least.value.high) && !entity_states(loop, PROP_COMMON_AT)) {
        offer_nearer_middle(judge, finding, hull_limit(LIMIT_VENT_LOOP)->value, "the loop");
    } else {
        finding_remedy(judge, finding, "height %s", say_up(judge, least.value.high, unit));
    }
}

static void judge_low_loop(Judge *judge, const Entity *hose, const Line *line, const Mouth *mouth)
{
    const Entity *loop = line->loop->loop;
    Side height = side_value(judge, loop, PROP_VENT_LOOP_HEIGHT, 0);
    Side least = least_height(judge, loop);
    Span place = place_of(judge, loop, PROP_VENT_LOOP_HEIGHT);
    bool by_loop =
        mouth->above == ANSWER_NO || (mouth->above == ANSWER_PERHAPS && line->clears == ANSWER_PERHAPS);
    Finding *finding = by_loop ? judge_at_least(judge, hose, place, height, least)
                               : judge_by_mouth(judge, hose, place, mouth);
    if (finding == NULL) {
        return;
    }
    finding_say(judge, finding,
                "the loop on `%s` stands at %s; heeled, only %s above the waterline is clear of the sea",
                say_name(judge, hose), say_side(judge, height), say_clear(judge, least, height.unit));
    if (!entity_states(loop, PROP_COMMON_AT)) {
        finding_here(judge, finding, "taken to be at the side of the boat; `at` says where it is");
    }
    note_mouth(judge, finding, mouth);
    offer_height(judge, finding, loop, least, height.unit);
}

static void judge_silent_loop(Judge *judge, const Entity *hose, const Entity *loop, const Mouth *mouth)
{
    Finding *finding = judge_open(judge, hose, place_of_name(judge, loop), loop, PROP_VENT_LOOP_HEIGHT);
    Side least = least_height(judge, loop);
    finding_say(judge, finding, "the loop on `%s` does not say how high above the waterline its top stands",
                say_name(judge, hose));
    note_mouth(judge, finding, mouth);
    offer_height(judge, finding, loop, least, least.unit);
}

static void judge_line(Runs *runs, const Entity *hose)
{
    Judge *judge = runs->judge;
    const Line *line = siphon_line_of(runs, hose);
    const Entity *loop = line->loop != NULL ? line->loop->loop : NULL;
    const Run *run = siphon_run_of(runs, hose);
    const Mouth *mouth = siphons_by(run);
    if (mouth == NULL || line->feeds_pump) {
        return;
    }
    bool elsewhere = line->branches && line->goes_on; /* told once, of the hose at the sea */
    if (!siphon_reaches_sea(runs, hose) || elsewhere) {
        judge_holds(judge);
        return;
    }
    bool mistake = has_mistake(mouth->thing, mouth->height) ||
                   !side_is_known(waterline_at(judge, mouth->thing)) ||
                   (loop != NULL && has_mistake(loop, PROP_VENT_LOOP_HEIGHT));
    if (mistake) {
        judge_waiting(judge);
    } else if (line->clears == ANSWER_YES) {
        judge_holds(judge);
    } else if (loop == NULL) {
        judge_without_loop(runs, hose, run, mouth);
    } else if (!entity_states(loop, PROP_VENT_LOOP_HEIGHT)) {
        judge_silent_loop(judge, hose, loop, mouth);
    } else {
        judge_low_loop(judge, hose, line, mouth);
    }
}

/* A toilet of which no hose is stated at all. */
static void judge_bare_toilet(Runs *runs, const Entity *toilet)
{
    Judge *judge = runs->judge;
    const Entity *to = entity_reference(toilet, PROP_TOILET_TO);
    bool sea = str_is(entity_word(toilet, PROP_TOILET_FLUSHES_WITH), "sea") ||
               (to != NULL && to->kind == KIND_THROUGH_HULL);
    bool bare = runs->plumbing->hoses_from[toilet->index] == 0 && runs->plumbing->hoses_to[toilet->index] == 0;
    if (!sea || !bare || runs->plumbing->lost_hoses || siphon_run_of(runs, toilet)->bowls->above == ANSWER_YES) {
        return;
    }
    Finding *finding = judge_open(judge, toilet, place_of_name(judge, toilet), NULL, PROP_NONE);
    finding_say(judge, finding, "the sea may siphon in by `%s`: no hose of it is stated, nor a vented loop",
                say_name(judge, toilet));
    finding_hangs_on(judge, finding, toilet, PROP_HOSE_TO,
                     text_format(judge->arena, "%s.hose", say_name(judge, toilet)));
    note_mouth(judge, finding, siphon_run_of(runs, toilet)->bowls);
}

/* A pump between the sea and something aboard of which no hose is stated at all. */
static void judge_bare_pump(Runs *runs, const Entity *pump)
{
    Judge *judge = runs->judge;
    const Mouth *mouth = siphons_by(siphon_run_of(runs, pump));
    bool bare = runs->plumbing->hoses_from[pump->index] == 0 && runs->plumbing->hoses_to[pump->index] == 0;
    if (mouth == NULL || !bare || runs->plumbing->lost_hoses) {
        return;
    }
    if (has_mistake(mouth->thing, mouth->height) || !side_is_known(waterline_at(judge, mouth->thing))) {
        judge_waiting(judge);
        return;
    }
    Finding *finding = judge_open(judge, pump, place_of_name(judge, pump), NULL, PROP_NONE);
    finding_say(judge, finding, "the sea may siphon in by `%s`: no hose of it is stated, nor a vented loop",
                say_name(judge, pump));
    finding_hangs_on(judge, finding, pump, PROP_HOSE_FROM, text_format(judge->arena, "%s.hose", say_name(judge, pump)));
    note_mouth(judge, finding, mouth);
}

/* An outlet that stands free, or a loop. */
static void offer_free_outlet(Judge *judge, Finding *finding, const Entity *pump, Outlet outlet, const Entity *hose)
{
    Side least = least_height(judge, pump);
    Side loop = least_height(judge, judge->model->boat);
    if (side_is_known(least) && !is_over_deck_edge(judge, least.value.high)) {
        UnitPair unit = unit_of(outlet.thing, outlet.height, least.unit);
        offer_outlet_height(judge, finding, outlet, say_up(judge, least.value.high, unit));
    }
    if (hose == NULL) {
        finding_remedy(judge, finding, "a hose from it to a through-hull with `seacock yes`, and a vent-loop on that hose");
    } else if (side_is_known(loop)) {
        offer_loop_on(judge, finding, hose, loop.unit);
    }
}

/* A loop on the hose of a pump whose outlet is under water, that is too low, or perhaps so. */
static void judge_loop_of_pump(Judge *judge, const Entity *hose, const Line *line, const Mouth *outlet)
{
    const Entity *loop = line->loop->loop;
    if (has_mistake(loop, PROP_VENT_LOOP_HEIGHT)) {
        judge_waiting(judge);
    } else if (!entity_states(loop, PROP_VENT_LOOP_HEIGHT)) {
        judge_silent_loop(judge, hose, loop, outlet);
    } else {
        judge_low_loop(judge, hose, line, outlet);
    }
}

static bool line_clears(Runs *runs, const Entity *hose)
{
    return hose != NULL && siphon_line_of(runs, hose)->clears == ANSWER_YES;
}

/* Whatever way its water takes, a loop that clears the sea is on it. */
static bool way_is_clear(Runs *runs, const WayOut *way)
{
    bool all = way->ends.count > 0;
    for (uint32_t i = 0; i < way->count; i++) {
        if (line_clears(runs, way->hoses[i])) {
            return true;
        }
    }
    for (uint32_t i = 0; i < way->ends.count; i++) {
        all = all && line_clears(runs, way->ends.hoses[i]);
    }
    return all;
}

/* Of two hoses the one whose loop may clear the sea; the first, where both do, or neither. The second may be NULL. */
static const Entity *better_looped(Runs *runs, const Entity *best, const Entity *hose)
{
    const Line *line = hose != NULL ? siphon_line_of(runs, hose) : NULL, *before = siphon_line_of(runs, best);
    bool better = line != NULL && line->loop != NULL && (before->loop == NULL || (before->clears == ANSWER_NO && line->clears != ANSWER_NO));
    return better ? hose : best;
}

/* The hose of its way to the hull with the best loop on it; else the first one; NULL: none is stated. */
static const Entity *looped_hose(Runs *runs, const WayOut *way)
{
    const Entity *best = way->count > 0 ? way->hoses[0] : NULL;
    for (uint32_t i = 1; i < way->count; i++) {
        best = better_looped(runs, best, way->hoses[i]);
    }
    for (uint32_t i = 0; best != NULL && i < way->ends.count; i++) {
        best = better_looped(runs, best, way->ends.hoses[i]);
    }
    return best;
}

/*
 * A bilge pump whose outlet is under water while she lies upright: the bilge is at its other end. Of one that dips as she
 * heels, and of one that does not say how high it stands, `bilge-outlet` speaks.
 */
static void judge_bilge_pump(Runs *runs, const Entity *pump)
{
    Judge *judge = runs->judge;
    WayOut way;
    find_way_out(judge, pump, &way);
    const Entity *hose = looped_hose(runs, &way);
    const Line *line = hose != NULL ? siphon_line_of(runs, hose) : NULL;
    Outlet place = outlet_of_pump(judge, pump, &way);
    Mouth outlet = {.thing = place.thing, .height = place.height};
    Side height = side_value(judge, outlet.thing, outlet.height, 0);
    Side water = side_number(0.0, height.unit);
    if (height.state == STATE_MISSING) {
        return;
    }
    if (height.state == STATE_WAITING || runs->plumbing->lost_loops || runs->plumbing->lost_hoses) {
        judge_waiting(judge);
        return;
    }
    outlet.above = ask_at_least(height, water);
    if (way_is_clear(runs, &way)) {
        judge_holds(judge);
        return;
    }
    if (outlet.above == ANSWER_NO && line != NULL && line->loop != NULL) {
        judge_loop_of_pump(judge, hose, line, &outlet);
        return;
    }
    Finding *finding = judge_at_least(judge, pump, place_of(judge, outlet.thing, outlet.height), height, water);
    if (finding == NULL) {
        return;
    }
    bool open = finding->verdict == VERDICT_OPEN;
    finding_say(judge, finding, "the sea %s siphon in by `%s`: its outlet %s under water with the boat upright (%s), and no "
                "vented loop that clears the sea is on its hose",
                open ? "may" : "can", say_name(judge, pump), open ? "may be" : "is", say_side(judge, height));
    if (entity_yes(pump, PROP_BILGE_PUMP_CHECK_VALVE) == 1) {
        finding_note(judge, finding, place_of(judge, pump, PROP_BILGE_PUMP_CHECK_VALVE),
                     "this valve is all that keeps it out, and a bit of dirt holds it open");
    }
    offer_free_outlet(judge, finding, pump, place, hose);
}

static void judge_siphon(Judge *judge)
{
    const Entity *from;
    const Entity *to;
    static const KindId sides[] = {KIND_HOSE, KIND_TOILET, KIND_PUMP, KIND_BILGE_PUMP};
    bool some = false;
    for (size_t i = 0; i < sizeof sides / sizeof sides[0]; i++) {
        some = some || first_aboard(judge->model, sides[i]) != NULL;
    }
    if (!some) {
        return;
    }
    Runs runs = siphon_runs(judge);
    for (const Entity *hose = first_aboard(judge->model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        if (!hose_ends(hose, &from, &to)) {
            judge_waiting(judge);
        } else if (siphon_line_of(&runs, hose)->first == hose) {
            judge_line(&runs, hose);
        }
    }
    for (const Entity *e = first_aboard(judge->model, KIND_TOILET); e != NULL; e = next_aboard(e)) {
        judge_bare_toilet(&runs, e);
    }
    for (const Entity *e = first_aboard(judge->model, KIND_PUMP); e != NULL; e = next_aboard(e)) {
        judge_bare_pump(&runs, e);
    }
    for (const Entity *e = first_aboard(judge->model, KIND_BILGE_PUMP); e != NULL; e = next_aboard(e)) {
        judge_bilge_pump(&runs, e);
    }
}

/* ---- loop-before-pump ---------------------------------------------------------------------------------- */

static void judge_loop_place(Runs *runs, const Entity *loop)
{
    Judge *judge = runs->judge;
    const Entity *hose = entity_reference(loop, PROP_VENT_LOOP_ON);
    if (hose == NULL || (hose->flags & ENTITY_DROPPED)) {
        return;
    }
    const Entity *sucks = siphon_drawn_by(runs, hose);
    if (sucks == NULL) {
        judge_holds(judge);
        return;
    }
    bool pump = sucks->kind == KIND_PUMP;
    Finding *finding = judge_broken(judge, loop, place_of(judge, loop, PROP_VENT_LOOP_ON));
    finding_say(judge, finding, "`%s` sits between the sea and %s`%s`: by its valve the pump draws air in place of water%s",
                say_name(judge, loop), pump ? "" : "the pump of ", say_name(judge, sucks),
                pump ? "" : ", and the engine runs hot");
    finding_note(judge, finding, place_of_name(judge, sucks), pump ? "it draws on that hose" : "it draws its cooling water by that hose");
    if (pump) {
        finding_remedy(judge, finding, "`on` the hose behind `%s`", say_name(judge, sucks));
    } else {
        finding_remedy(judge, finding, "`on` a hose `from %s`, between its pump and the place where the water enters the exhaust",
                       say_name(judge, sucks));
    }
}

static void judge_loops(Judge *judge)
{
    if (first_aboard(judge->model, KIND_VENT_LOOP) == NULL) {
        return;
    }
    Runs runs = siphon_runs(judge);
    for (const Entity *loop = first_aboard(judge->model, KIND_VENT_LOOP); loop != NULL; loop = next_aboard(loop)) {
        if (has_mistake(loop, PROP_VENT_LOOP_ON)) {
            judge_waiting(judge);
        } else {
            judge_loop_place(&runs, loop);
        }
    }
}

/* A hand toilet: its intake, its discharge overboard, and what breaks the siphon in each. */
#define TOILET(RIM, LOOPS)                                                                                       \
    EXAMPLE_BOAT                                                                                                 \
    "toilet heads { worked-by hand; " RIM " flushes-with sea; to outfall }\n"                                    \
    "through-hull intake { bore 19 mm; height -0.4 m; seacock yes; reach yes; material bronze; backing yes }\n"  \
    "through-hull outfall { bore 38 mm; height -0.2 m; seacock yes; reach yes; material bronze; backing yes }\n" \
    "hose flush-hose { from intake; to heads; bore 19 mm; run 2 m; clamps 2 }\n"                                 \
    "hose waste-hose { from heads; to outfall; bore 38 mm; run 2 m; clamps 2 }\n" LOOPS

/* An engine on sea water, with a loop on one of its hoses. */
#define COOLED(HOSE)                                                                                                \
    EXAMPLE_BOAT                                                                                                    \
    "engine diesel { rated 20 kW at 3000 rpm; fuel diesel; exhaust pipe }\nexhaust pipe { bore 51 mm; run 3 m }\n" \
    "through-hull intake { bore 25 mm; height -0.3 m; seacock yes }\n"                                             \
    "hose inlet-hose { from intake; to diesel; bore 25 mm; run 1.5 m }\n"                                          \
    "hose elbow-hose { from diesel; to pipe; bore 25 mm; run 1.5 m }\n"                                            \
    "vent-loop loop { on " HOSE "; height 0.6 m }\n"
/* A holding tank that empties through a through-hull under water. */
#define EMPTIED(HEIGHT)                                                                                        \
    EXAMPLE_BOAT "tank waste { holds black; capacity 60 l; at 3 m 0 m " HEIGHT " }\n"                         \
                 "through-hull outfall { bore 38 mm; height -0.2 m; seacock yes }\n"                          \
                 "hose waste-hose { from waste; to outfall; bore 38 mm; run 2 m; clamps 2 }\n"

/* A shower that drains through a through-hull under water. */
#define DRAINED(AT)                                                                      \
    EXAMPLE_BOAT "fixture shower { drains-to drain; at 3 m " AT " }\n"                  \
                 "through-hull drain { bore 25 mm; height -0.2 m; seacock yes }\n"      \
                 "hose drain-hose { from shower; to drain; bore 25 mm; run 1 m; clamps 2 }\n"

static const Rule rules[] = {
    {.name = "siphon",
     .severity = SEVERITY_FAULT,
     .title = "every hose by which the sea could siphon in has a vented loop of its own, and a high one",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "installation sheet of a marine toilet: a vented loop, its top at least 200 mm (8 in) above "
               "the static and the heeled waterline; ISO 8099:2000 (preview) asks that a heeled boat does "
               "not siphon back through the toilet; installation manuals of several marine toilets (verified): loops where "
               "the rim is less than 200 mm (8 in) above the water at rest, or may ever be below it",
     .why = "A hose that is full of water and ends below the waterline goes on running when the pump stops, "
            "and a bowl whose rim dips below the sea as she heels fills the boat. A loop with an air valve, "
            "led high, breaks the column. It has to be there on each side of the bowl that reaches the sea, "
            "for either hose alone can siphon; a hose to a tank alone lets no sea in. The same goes for a pump that "
            "discharges into the sea or draws on it, unless what it joins aboard stands above the heeled waterline: a tap "
            "that does not say where it stands (`at`) is asked, and a tank that does not is taken to stand low; and for a bilge pump whose outlet is under water with the boat upright, whether "
            "its hose is stated or not (of one that only dips as she heels `bilge-outlet` speaks). Where a pump of its "
            "own stands in the line the loop belongs behind it, since a vented loop before a pump lets it draw air. A "
            "loop that does not say where it stands across the boat is taken to be at the side, where the water comes "
            "highest; the sheer is not looked at. A bowl is clear of the sea only where its rim stands 200 mm above the water "
            "at rest too, even in the middle of the boat, where heel raises nothing: she is loaded, and she pitches. A spec that lists vented loops and has none on a hose says that there "
            "is none; one that lists no loop at all leaves it open, but for a bilge pump.",
     .breaks = TOILET("rim 0.1 m;", "vent-loop flush-loop { on flush-hose; height 1.2 m }\n"),
     .holds = TOILET("rim 0.1 m;", "vent-loop flush-loop { on flush-hose; height 1.2 m }\n"
                                   "vent-loop waste-loop { on waste-hose; height 1.2 m }\n"),
     .open = TOILET("rim 0.1 m;", ""),
     .judge_boat = judge_siphon},
    {.name = "loop-before-pump",
     .severity = SEVERITY_WARNING,
     .title = "no vented loop sits before a pump that draws on the sea",
     .basis = ON_BOTH,
     .source = "installation manuals of engines, from memory: the loop belongs behind the engine's pump, before the water enters "
               "the exhaust",
     .why = "The valve at the top of a loop lets air in whenever the pressure there falls: that is what it is for. Before a pump "
            "it falls as soon as the pump draws, which then gets air instead of water, and an engine that it cools runs hot. "
            "An engine or a generator on its sea water, and a pump that delivers into a hose, are looked at, behind a strainer or a T "
            "(an `item`) too; the pump of a toilet is part of it.",
     .breaks = COOLED("inlet-hose"),
     .holds = COOLED("elbow-hose"),
     .never_open = "which hose a loop sits in is stated",
     .judge_boat = judge_loops},
    {.name = "tank-below",
     .severity = SEVERITY_WARNING,
     .title = "the sea cannot run into a tank by the hose that empties it",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "water finds its level; common practice, no source",
     .why = "A tank that stands below the waterline, with a hose to a through-hull below the waterline and nothing but a seacock "
            "between, fills from the sea as soon as that is open, and goes on by its vent or by the bowl when she heels. A "
            "tank that empties by its weight stands above the water; one that does not has a pump, and a vented loop behind "
            "it (which `siphon` asks for). A T or a valve (an `item`) between the two keeps no water out; what leads to a tank of fresh "
            "water may make it of the sea, and is not asked. A tank that does not say how high it stands (`at`) is not asked.",
     .breaks = EMPTIED("-0.3 m"),
     .holds = EMPTIED("0.3 m"),
     .open = EMPTIED("-0.3..0.3 m"),
     .judge_boat = judge_tanks_below},
    {.name = "sink-below",
     .severity = SEVERITY_FAULT,
     .title = "no sink or shower that drains straight into the sea stands below it",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "water finds its level; common practice, no source",
     .why = "A shower pan below the waterline that drains to a fitting below the waterline is a hole in the boat as soon as the "
            "seacock is open. It drains into a sump with a pump, and a vented loop behind that. A sink that stands above the water "
            "and far from the middle of the boat fills when she heels to its side: a warning, for its seacock can be shut at sea. "
            "Looked at where a fixture says where it stands (`at`), along the hoses that lead from it, through joints, up to the "
            "first pump or high loop; where no hose is stated, what its `drains-to` says.",
     .breaks = DRAINED("0 m -0.2 m"),
     .holds = DRAINED("0 m 0.3 m"),
     .open = DRAINED("0 m -0.2..0.3 m"),
     .judge_boat = judge_sinks_below},
};
const RuleFamily rules_siphon = RULE_FAMILY("Siphons", rules);
