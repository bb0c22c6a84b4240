/* See siphon.h. */
#include "rules/siphon.h"

static uint32_t find_root(uint32_t *parent, uint32_t i)
{
    while (parent[i] != i) {
        parent[i] = parent[parent[i]];
        i = parent[i];
    }
    return i;
}

static void join(uint32_t *parent, const Entity *a, const Entity *b)
{
    parent[find_root(parent, b->index)] = find_root(parent, a->index);
}

static bool joins_line(const Entity *thing)
{
    return thing->kind == KIND_STRAINER;
}

static bool joins_side(const Entity *thing)
{
    return thing->kind == KIND_STRAINER || thing->kind == KIND_PUMP;
}

static bool joins_run(const Entity *thing)
{
    return joins_side(thing) || thing->kind == KIND_TOILET;
}

Run *siphon_run_of(Runs *runs, const Entity *member)
{
    Run **run = &runs->runs[find_root(runs->run_of, member->index)];
    if (*run == NULL) {
        *run = ARENA_NEW(runs->judge->scratch, Run);
    }
    return *run;
}

Line *siphon_line_of(Runs *runs, const Entity *hose)
{
    Line **line = &runs->lines[find_root(runs->line_of, hose->index)];
    if (*line == NULL) {
        *line = ARENA_NEW(runs->judge->scratch, Line);
    }
    return *line;
}

bool siphon_reaches_sea(Runs *runs, const Entity *hose)
{
    return runs->to_sea[find_root(runs->side_of, hose->index)];
}

static void join_end(Runs *runs, const Entity *hose, const Entity *end)
{
    bool branch = end->kind == KIND_ITEM && siphon_line_of(runs, hose)->clears != ANSWER_YES;
    if (joins_line(end) || branch) {
        join(runs->level_of, hose, end);
    }
    if (joins_side(end) || branch) {
        join(runs->side_of, hose, end);
    }
    if (joins_run(end) || branch) {
        join(runs->run_of, hose, end);
    }
}

Side siphon_clear_from(Judge *judge, const Mouth *mouth)
{
    return mouth->height == PROP_TOILET_RIM ? least_height(judge, mouth->thing) : waterline_at(judge, mouth->thing);
}

static void add_mouth(Runs *runs, Mouth **list, const Entity *thing, PropId height, uint16_t part)
{
    Mouth *mouth = ARENA_NEW(runs->judge->scratch, Mouth);
    *mouth = (Mouth){.thing = thing, .height = height, .part = part, .next = *list};
    mouth->above = ask_at_least(side_value(runs->judge, thing, height, part), siphon_clear_from(runs->judge, mouth));
    *list = mouth;
}

/* Closed at both sides: the sea passes through it, or nothing does. */
static bool is_closed(const Entity *thing)
{
    switch (thing->kind) {
    case KIND_ENGINE:
    case KIND_GENERATOR:
    case KIND_EXHAUST:
    case KIND_SHAFT_SEAL:
    case KIND_WATER_HEATER:
    case KIND_HEATER:
    case KIND_COOLER:
    case KIND_BILGE_PUMP: return true;
    default: return false;
    }
}

/*
 * A tap mostly stands well above the sea, so that one which does not say is asked; whatever else holds water may as well
 * stand in the bilge.
 */
static bool says_where_it_ends(const Entity *end)
{
    return end->kind == KIND_FIXTURE || (end->kind == KIND_TANK && entity_states(end, PROP_COMMON_AT));
}

/* What a run has at one of its ends, or a pump or toilet in it beside its hoses. */
static void add_end(Runs *runs, Run *run, const Entity *end)
{
    if (end == NULL || !is_aboard(end) || joins_run(end) || end->kind == KIND_ITEM) {
        return;
    }
    if (end->kind == KIND_THROUGH_HULL) {
        add_mouth(runs, &run->seas, end, PROP_THROUGH_HULL_HEIGHT, 0);
    } else if (says_where_it_ends(end)) {
        add_mouth(runs, &run->ends, end, PROP_COMMON_AT, 2);
    } else if (!is_closed(end)) {
        run->inside = true;
    }
}

/* A side reaches the sea by a hose, or by what a pump in it says. */
static void reach_sea(Runs *runs, const Entity *member, const Entity *end)
{
    if (end != NULL && is_aboard(end) && end->kind == KIND_THROUGH_HULL) {
        runs->to_sea[find_root(runs->side_of, member->index)] = true;
    }
}

static int how_dry(Runs *runs, const Entity *sea)
{
    Side height = side_value(runs->judge, sea, PROP_THROUGH_HULL_HEIGHT, 0);
    switch (ask_at_least(height, side_number(0.0, height.unit))) {
    case ANSWER_NO: return 0;
    case ANSWER_PERHAPS: return 1;
    default: return height.state == STATE_KNOWN ? 3 : 2;
    }
}

static void add_level(Runs *runs, const Entity *hose, const Entity *end)
{
    const Entity **sea = &runs->level_sea[find_root(runs->level_of, hose->index)];
    bool opening = end->kind == KIND_THROUGH_HULL && is_aboard(end);
    if (!opening || *sea == NULL) {
        *sea = opening ? end : *sea;
        return;
    }
    int own = how_dry(runs, end), other = how_dry(runs, *sea);
    bool lower = side_value(runs->judge, end, PROP_THROUGH_HULL_HEIGHT, 0).value.low <
                 side_value(runs->judge, *sea, PROP_THROUGH_HULL_HEIGHT, 0).value.low;
    *sea = own < other || (own == other && lower) ? end : *sea;
}

const Entity *siphon_level_sea(Runs *runs, const Entity *hose)
{
    return runs->level_sea[find_root(runs->level_of, hose->index)];
}

static void add_pump(Runs *runs, const Entity *pump)
{
    Run *run = siphon_run_of(runs, pump);
    const Property *to = entity_property(pump, PROP_PUMP_TO);
    run->pumped = true;
    run->pressed = run->pressed || entity_states(pump, PROP_PUMP_CUT_IN);
    add_end(runs, run, entity_reference(pump, PROP_PUMP_FROM));
    reach_sea(runs, pump, entity_reference(pump, PROP_PUMP_FROM));
    for (uint16_t i = 0; to != NULL && i < to->count; i++) {
        const Entity *end = value_entity(&to->values[i]);
        add_end(runs, run, end);
        reach_sea(runs, pump, end);
    }
}

static void add_toilet(Runs *runs, const Entity *toilet)
{
    Run *run = siphon_run_of(runs, toilet);
    add_mouth(runs, &run->bowls, toilet, PROP_TOILET_RIM, 0);
    add_end(runs, run, entity_reference(toilet, PROP_TOILET_TO));
}

static bool delivers_on(const Runs *runs, const Entity *end)
{
    return end->kind == KIND_PUMP && runs->plumbing->hoses_from[end->index] > 0;
}

static bool draws_in(const Runs *runs, const Entity *end)
{
    return end->kind == KIND_ENGINE || end->kind == KIND_GENERATOR || delivers_on(runs, end) ||
           (end->kind == KIND_PUMP && entity_states(end, PROP_PUMP_TO));
}

const Entity *siphon_drawn_by(const Runs *runs, const Entity *hose)
{
    FarEnds ends;
    joint_ends(runs->plumbing, hose, entity_reference(hose, PROP_HOSE_TO), FOLLOW_ON, &ends);
    for (uint32_t i = 0; i < ends.count; i++) {
        if (draws_in(runs, ends.things[i])) {
            return comes_from(runs->plumbing, hose, KIND_THROUGH_HULL) != NULL ? ends.things[i] : NULL;
        }
    }
    return NULL;
}

static void add_line_ends(Line *line, const Entity *from, const Entity *to)
{
    const Entity *hull = from->kind == KIND_THROUGH_HULL ? from : to->kind == KIND_THROUGH_HULL ? to : NULL;
    const Entity *tank = from->kind == KIND_TANK ? from : to->kind == KIND_TANK ? to : NULL;
    line->sea = hull != NULL ? hull : line->sea;
    line->tank = tank != NULL ? tank : line->tank;
}

/* Notes the loops of a hose with its line. */
static void add_to_line(Runs *runs, const Entity *hose, const Entity *from, const Entity *to)
{
    Line *line = siphon_line_of(runs, hose);
    bool at_sea = from->kind == KIND_THROUGH_HULL || to->kind == KIND_THROUGH_HULL;
    line->goes_on = (line->first == NULL || line->goes_on) && !at_sea;
    line->branches = line->branches || from->kind == KIND_ITEM || to->kind == KIND_ITEM;
    line->first = line->first != NULL ? line->first : hose;
    line->feeds_pump = line->feeds_pump || delivers_on(runs, to);
    add_line_ends(line, from, to);
    for (const Loop *loop = runs->plumbing->loops[hose->index]; loop != NULL; loop = loop->next) {
        Side height = side_value(runs->judge, loop->loop, PROP_VENT_LOOP_HEIGHT, 0);
        Answer clears = ask_at_least(height, least_height(runs->judge, loop->loop));
        bool better = line->loop == NULL || line->clears == ANSWER_NO || clears == ANSWER_YES;
        if (better && line->clears != ANSWER_YES) {
            line->loop = loop;
            line->clears = clears;
        }
    }
}

/* Which hoses are one line, and which loops they have. */
static void find_lines(Runs *runs)
{
    const Entity *from;
    const Entity *to;
    for (const Entity *e = first_aboard(runs->judge->model, KIND_HOSE); e != NULL; e = next_aboard(e)) {
        if (hose_ends(e, &from, &to) && joins_line(from)) {
            join(runs->line_of, e, from);
        }
        if (hose_ends(e, &from, &to) && joins_line(to)) {
            join(runs->line_of, e, to);
        }
    }
    for (const Entity *e = first_aboard(runs->judge->model, KIND_HOSE); e != NULL; e = next_aboard(e)) {
        if (hose_ends(e, &from, &to)) {
            add_to_line(runs, e, from, to);
        }
    }
}

Runs siphon_runs(Judge *judge)
{
    uint32_t count = judge->model->entity_count + 1;
    Runs runs = {.judge = judge,
                 .plumbing = plumbing_of(judge->figures),
                 .line_of = ARENA_ARRAY(judge->scratch, uint32_t, count),
                 .side_of = ARENA_ARRAY(judge->scratch, uint32_t, count),
                 .run_of = ARENA_ARRAY(judge->scratch, uint32_t, count),
                 .to_sea = ARENA_ARRAY(judge->scratch, bool, count),
                 .level_of = ARENA_ARRAY(judge->scratch, uint32_t, count),
                 .level_sea = ARENA_ARRAY(judge->scratch, const Entity *, count),
                 .lines = ARENA_ARRAY(judge->scratch, Line *, count),
                 .runs = ARENA_ARRAY(judge->scratch, Run *, count)};
    for (uint32_t i = 0; i < count; i++) {
        runs.line_of[i] = runs.side_of[i] = runs.run_of[i] = runs.level_of[i] = i;
    }
    find_lines(&runs);
    const Entity *from;
    const Entity *to;
    for (const Entity *e = first_aboard(judge->model, KIND_HOSE); e != NULL; e = next_aboard(e)) {
        if (hose_ends(e, &from, &to)) {
            join_end(&runs, e, from);
            join_end(&runs, e, to);
        }
    }
    for (const Entity *e = first_aboard(judge->model, KIND_HOSE); e != NULL; e = next_aboard(e)) {
        if (hose_ends(e, &from, &to)) {
            add_end(&runs, siphon_run_of(&runs, e), from);
            add_end(&runs, siphon_run_of(&runs, e), to);
            reach_sea(&runs, e, from);
            reach_sea(&runs, e, to);
            add_level(&runs, e, from);
            add_level(&runs, e, to);
        }
    }
    for (const Entity *e = first_aboard(judge->model, KIND_PUMP); e != NULL; e = next_aboard(e)) {
        add_pump(&runs, e);
    }
    for (const Entity *e = first_aboard(judge->model, KIND_TOILET); e != NULL; e = next_aboard(e)) {
        add_toilet(&runs, e);
    }
    return runs;
}

/* The mouth in a list that is least above the heeled waterline. */
static const Mouth *lowest(const Mouth *list)
{
    const Mouth *found = list;
    for (const Mouth *o = list; o != NULL; o = o->next) {
        bool below = o->above == ANSWER_NO && found->above != ANSWER_NO;
        bool perhaps = o->above != ANSWER_YES && found->above == ANSWER_YES;
        found = below || perhaps ? o : found;
    }
    return found;
}

const Mouth *siphons_by(const Run *run)
{
    bool inboard = run->pumped && (run->inside || run->ends != NULL);
    if (run->seas == NULL || (run->bowls == NULL && !inboard)) {
        return NULL;
    }
    const Mouth *sea = lowest(run->seas);
    const Mouth *rim = run->bowls != NULL ? lowest(run->bowls) : run->inside ? NULL : lowest(run->ends);
    if (sea->above == ANSWER_YES || (rim != NULL && rim->above == ANSWER_YES)) {
        return NULL;
    }
    bool by_sea = rim == NULL || (rim->above == ANSWER_NO && sea->above != ANSWER_NO);
    return by_sea ? sea : rim;
}
