/*
 * One rule of the family rules_pipes: unplumbed. What nothing leads to, and what leads nowhere.
 */
#include "rules/pipes.h"

#include "figures/pipes.h"
#include "rules/plumbing.h"

typedef struct Joined {
    const Plumbing *plumbing;
    const Entity *silent; /* a pump that does not say where its water goes; NULL: all do */
    bool lost;            /* where something leads is a mistake */
} Joined;

static Joined find_joined(const Judge *judge)
{
    Joined joined = {.plumbing = plumbing_of(judge->figures)};
    joined.lost = joined.plumbing->lost_hoses;
    for (const Entity *pump = first_aboard(judge->model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        if (joined.plumbing->ways[pump->index] == NULL) {
            joined.silent = pump;
        }
        joined.lost |= has_mistake(pump, PROP_PUMP_TO) || has_mistake(pump, PROP_PUMP_FROM);
    }
    return joined;
}

/* A hose that ends or begins at a thing is stated the wrong way round, which is told of that hose: what follows from it is not. */
static bool has_turned_hose(const Judge *judge, const Joined *joined, const Entity *thing)
{
    const HoseList *lists[] = {&joined->plumbing->from, &joined->plumbing->into};
    for (int i = 0; i < 2; i++) {
        for (const Entity *hose = lists[i]->first[thing->index]; hose != NULL; hose = lists[i]->next[hose->index]) {
            if (hose_turned_by(judge, hose) != NULL) {
                return true;
            }
        }
    }
    return false;
}

/* A pump that says that it leads there, where hoses that are stated do not; NULL: none does. */
static const Entity *pump_that_says(const Judge *judge, const Entity *thing)
{
    const Entity *pump = first_aboard(judge->model, KIND_PUMP);
    while (pump != NULL && !entity_names(pump, PROP_PUMP_TO, thing)) {
        pump = next_aboard(pump);
    }
    return pump;
}

/* Nothing leads to it: open as long as a pump does not say where its water goes. */
static void judge_not_fed(Judge *judge, const Joined *joined, const Entity *thing)
{
    Span place = place_of_name(judge, thing);
    Finding *finding;
    if (has_turned_hose(judge, joined, thing)) {
        return;
    }
    if (joined->silent != NULL) {
        finding = judge_open(judge, thing, place, joined->silent, PROP_PUMP_TO);
        finding_say(judge, finding, "nothing says where the water of `%s` comes from",
                    say_name(judge, thing));
        finding_note(judge, finding, place_of_name(judge, joined->silent),
                     "this does not say where its water goes");
        finding_remedy(judge, finding, "to %s", say_name(judge, thing));
        return;
    }
    const Entity *pump = pump_that_says(judge, thing);
    finding = judge_broken(judge, thing, place);
    if (pump != NULL) {
        finding_say(judge, finding, "no `hose` to `%s` is stated, though `%s` says that it leads there, and its other hoses are",
                    say_name(judge, thing), say_name(judge, pump));
        finding_note(judge, finding, place_of(judge, pump, PROP_PUMP_TO), "its line");
        finding_remedy(judge, finding, "a `hose` from `%s` to it", say_name(judge, pump));
    } else {
        finding_say(judge, finding, "nothing brings water to `%s`", say_name(judge, thing));
        finding_remedy(judge, finding,
                       thing->kind == KIND_TOILET ? "a `hose` to it from a through-hull, or from a pump"
                                                  : "a `hose` from a pump to it, or its name in the `to` of a pump");
    }
}

/* A heater that leads nowhere is taken to feed whatever has hot water. */
static bool heater_feeds(const Judge *judge, const Joined *joined, const Entity *fixture)
{
    const Entity *heater = first_aboard(judge->model, KIND_WATER_HEATER);
    return entity_yes(fixture, PROP_FIXTURE_COLD) == 0 && entity_yes(fixture, PROP_FIXTURE_HOT) == 1 &&
           heater != NULL && joined->plumbing->ways[heater->index] == NULL;
}

static void judge_drain(Judge *judge, const Joined *joined, const Entity *fixture)
{
    if (entity_states(fixture, PROP_FIXTURE_DRAINS_TO) || joined->plumbing->ways[fixture->index] != NULL) {
        judge_holds(judge);
        return;
    }
    Finding *finding =
        judge_open(judge, fixture, place_of_name(judge, fixture), fixture, PROP_FIXTURE_DRAINS_TO);
    finding_about(finding, PROP_FIXTURE_DRAINS_TO);
    finding_say(judge, finding, "`%s` does not say where its waste water goes", say_name(judge, fixture));
    finding_remedy(judge, finding, "`drains-to` with a tank or a through-hull");
}

/* Waste goes into the tank, and no way leads out. */
static void judge_way_out(Judge *judge, const Joined *joined, const Entity *tank)
{
    bool black = str_is(entity_word(tank, PROP_TANK_HOLDS), "black");
    if (!black && !joined->plumbing->led_to[tank->index]) {
        return; /* a tank for grey water that nothing drains into yet */
    }
    bool carried = entity_yes(tank, PROP_COMMON_PORTABLE) == 1;
    if (black && !tank_counts(judge->figures, tank)) {
        Finding *unused = judge_broken(judge, tank, place_of_name(judge, tank));
        finding_matter(unused, "unused");
        finding_say(judge, unused, "nothing leads to `%s`: its room counts in no day", say_name(judge, tank));
        finding_remedy(judge, unused, "a `hose` to it, or its name in the `to` of a toilet or a pump");
    }
    if (carried || joined->plumbing->ways[tank->index] != NULL || entity_states(tank, PROP_TANK_PUMP_OUT)) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_open(judge, tank, place_of_name(judge, tank), tank, PROP_TANK_PUMP_OUT);
    finding_say(judge, finding, "nothing says how `%s` is emptied", say_name(judge, tank));
    finding_remedy(judge, finding, "pump-out 38 mm");
}

/* The bowl's hose to the waste is stated, and none for the water that flushes it. */
static void judge_flush(Judge *judge, const Joined *joined, const Entity *toilet)
{
    if (!entity_states(toilet, PROP_TOILET_FLUSHES_WITH) || joined->plumbing->hoses_from[toilet->index] == 0 ||
        str_is(entity_word(toilet, PROP_TOILET_WORKED_BY), "composting")) {
        return;
    }
    if (joined->plumbing->led_to[toilet->index]) {
        judge_holds(judge);
        return;
    }
    judge_not_fed(judge, joined, toilet);
}

/* Marks all that water can come to from what is in the queue, which has room for all things; heaters and ends stop it. */
static void spread(const Joined *joined, const Entity **queue, uint32_t count, bool *hot)
{
    for (uint32_t i = 0; i < count; i++) {
        for (const Way *way = joined->plumbing->ways[queue[i]->index]; way != NULL; way = way->next) {
            if (!hot[way->to->index]) {
                hot[way->to->index] = true;
                queue[count] = way->to;
                count += !is_outlet(way->to) && way->to->kind != KIND_WATER_HEATER;
            }
        }
    }
}

/* Marks all that cold water can come to: from tanks, the sea and pumps, and not through a heater. */
static bool *find_cold(Judge *judge, const Joined *joined)
{
    static const KindId sources[] = {KIND_TANK, KIND_THROUGH_HULL, KIND_PUMP};
    uint32_t count = 0;
    bool *cold = ARENA_ARRAY(judge->scratch, bool, judge->model->entity_count + 1);
    const Entity **queue = ARENA_ARRAY(judge->scratch, const Entity *, 2 * judge->model->entity_count + 1);
    for (size_t i = 0; i < sizeof sources / sizeof sources[0]; i++) {
        for (const Entity *e = first_aboard(judge->model, sources[i]); e != NULL; e = next_aboard(e)) {
            queue[count++] = e;
        }
    }
    spread(joined, queue, count, cold);
    return cold;
}

/* Taps to which hoses bring hot water alone, though they do not say `cold no`. */
static void judge_cold_taps(Judge *judge, const Joined *joined, const bool *hot)
{
    const bool *cold = find_cold(judge, joined);
    for (const Entity *tap = first_aboard(judge->model, KIND_FIXTURE); tap != NULL; tap = next_aboard(tap)) {
        if (!hot[tap->index] || cold[tap->index] || entity_yes(tap, PROP_FIXTURE_COLD) == 0 ||
            has_mistake(tap, PROP_FIXTURE_COLD) || has_turned_hose(judge, joined, tap)) {
            continue;
        }
        Finding *finding = judge_broken(judge, tap, place_of(judge, tap, PROP_FIXTURE_COLD));
        finding_about(finding, PROP_FIXTURE_COLD);
        finding_say(judge, finding, "only hot water comes to `%s`, which is to have cold water too", say_name(judge, tap));
        if (!entity_states(tap, PROP_FIXTURE_COLD)) {
            finding_here(judge, finding, "`cold yes` is assumed");
        }
        finding_remedy(judge, finding, "a `hose` to it that comes from no heater, or `cold no`");
    }
}

/* Whether hoses from pumps or fresh tanks meet at it: what is to flow on from there. Waste ends on deck at many an `item`. */
static bool is_supplied(const Model *model, const Entity *joint)
{
    for (const Entity *hose = first_aboard(model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        const Entity *from = entity_reference(hose, PROP_HOSE_TO) == joint ? entity_reference(hose, PROP_HOSE_FROM) : NULL;
        if (from != NULL && from->kind == KIND_TANK && str_is(entity_word(from, PROP_TANK_HOLDS), "fresh")) {
            return true;
        }
    }
    return false;
}

/* Several hoses end at a T, and none goes on. */
static void judge_blind_joint(Judge *judge, const Joined *joined, const Entity *joint)
{
    if (joined->plumbing->hoses_to[joint->index] < 2 || !is_supplied(judge->model, joint)) {
        return;
    }
    Finding *finding = judge_broken(judge, joint, place_of_name(judge, joint));
    finding_say(judge, finding, "hoses lead to `%s`, and none leads on from it", say_name(judge, joint));
    finding_remedy(judge, finding, "a `hose` from it, or one of them the other way round");
}

/* A T or a valve from which hoses lead on, and that nothing leads to. */
static void judge_joint(Judge *judge, const Joined *joined, const Entity *joint)
{
    if (joined->plumbing->hoses_from[joint->index] == 0) {
        judge_blind_joint(judge, joined, joint);
        return;
    }
    if (joined->plumbing->led_to[joint->index]) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, joint, place_of_name(judge, joint));
    finding_say(judge, finding, "hoses lead on from `%s`, and nothing leads to it", say_name(judge, joint));
    finding_remedy(judge, finding, "a `hose` to it");
}

/* Taps that say `hot yes`, where heaters lead somewhere by hoses: one that is forgotten gets cold water. */
static void judge_hot_taps(Judge *judge, const Joined *joined)
{
    const Model *model = judge->model;
    bool *hot = ARENA_ARRAY(judge->scratch, bool, model->entity_count + 1);
    const Entity **queue = ARENA_ARRAY(judge->scratch, const Entity *, model->entity_count + 1);
    uint32_t count = 0;
    bool leads = false;
    for (const Entity *heater = first_aboard(model, KIND_WATER_HEATER); heater != NULL; heater = next_aboard(heater)) {
        leads = leads || joined->plumbing->ways[heater->index] != NULL;
        queue[count++] = heater;
    }
    spread(joined, queue, count, hot);
    judge_cold_taps(judge, joined, hot);
    for (const Entity *tap = first_aboard(model, KIND_FIXTURE); tap != NULL && leads; tap = next_aboard(tap)) {
        if (entity_yes(tap, PROP_FIXTURE_HOT) != 1 || !joined->plumbing->led_to[tap->index] ||
            has_turned_hose(judge, joined, tap)) {
            continue;
        }
        if (hot[tap->index]) {
            judge_holds(judge);
            continue;
        }
        Finding *finding = judge_broken(judge, tap, place_of(judge, tap, PROP_FIXTURE_HOT));
        finding_about(finding, PROP_FIXTURE_HOT);
        finding_say(judge, finding, "no way leads from a water heater to `%s`, which is to have hot water", say_name(judge, tap));
        finding_remedy(judge, finding, "a `hose` from the heater to it, or `hot no`");
    }
}

/* Water that nobody can get at, though the spec says of other tanks how it is drawn. */
static void judge_drawn(Judge *judge, const Joined *joined, const Entity *tank)
{
    if (joined->plumbing->ways[tank->index] != NULL || entity_yes(tank, PROP_COMMON_PORTABLE) == 1) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, tank, place_of_name(judge, tank));
    finding_say(judge, finding,
                tank_counts(judge->figures, tank)
                    ? "nothing draws from `%s`: its water counts in what a day lasts, and cannot be had"
                    : "nothing draws from `%s`: its water cannot be had, and counts in no day",
                say_name(judge, tank));
    finding_remedy(judge, finding, "a `hose` from it, or its name in the `from` of a pump");
}

/* How the tanks of one kind are emptied, or drawn from. */
static void judge_tanks(Judge *judge, const Joined *joined, const char *holds,
                        void (*judge_tank)(Judge *, const Joined *, const Entity *))
{
    for (const Entity *tank = first_tank(judge->model, holds); tank != NULL; tank = next_tank(tank, holds)) {
        if (is_asked(judge, tank)) {
            judge_tank(judge, joined, tank);
        }
    }
}

static void judge_fixture(Judge *judge, const Joined *joined, const Entity *fixture)
{
    if (!joined->plumbing->led_to[fixture->index] && !heater_feeds(judge, joined, fixture)) {
        judge_not_fed(judge, joined, fixture);
    }
    judge_drain(judge, joined, fixture);
}

static void judge_heater(Judge *judge, const Joined *joined, const Entity *heater)
{
    if (!joined->plumbing->led_to[heater->index]) {
        judge_not_fed(judge, joined, heater);
    }
}

/* What is aboard of one kind. */
static void judge_kind(Judge *judge, const Joined *joined, KindId kind,
                       void (*judge_thing)(Judge *, const Joined *, const Entity *))
{
    for (const Entity *e = kind_is_asked(judge, kind) ? first_aboard(judge->model, kind) : NULL; e != NULL;
         e = next_aboard(e)) {
        if (is_asked(judge, e)) {
            judge_thing(judge, joined, e);
        }
    }
}

void judge_unplumbed(Judge *judge)
{
    const Model *model = judge->model;
    if (first_aboard(model, KIND_FIXTURE) == NULL && first_aboard(model, KIND_WATER_HEATER) == NULL &&
        first_aboard(model, KIND_TOILET) == NULL && first_aboard(model, KIND_TANK) == NULL) {
        return;
    }
    Joined joined = find_joined(judge);
    if (joined.lost) {
        judge_waiting(judge);
        return;
    }
    judge_kind(judge, &joined, KIND_FIXTURE, judge_fixture);
    judge_kind(judge, &joined, KIND_WATER_HEATER, judge_heater);
    judge_kind(judge, &joined, KIND_TOILET, judge_flush);
    if (kind_is_asked(judge, KIND_FIXTURE)) {
        judge_hot_taps(judge, &joined);
    }
    judge_kind(judge, &joined, KIND_ITEM, judge_joint);
    judge_head(judge);
    if (judge->compared == NULL || judge->compared->kind != KIND_TANK) {
        judge_what_is_said(judge); /* nothing of tanks */
    }
    judge_tanks(judge, &joined, "black", judge_way_out);
    judge_tanks(judge, &joined, "grey", judge_way_out);
    if (first_aboard(model, KIND_PUMP) != NULL) {
        judge_tanks(judge, &joined, "fresh", judge_drawn);
    }
}
