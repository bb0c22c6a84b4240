/*
 * Siphons: hoses that could let the sea in, followed through strainers, pumps and toilets.
 *
 * Hoses that join without a break are one line: through strainers. Lines that join through pumps are one side,
 * and sides that join through a bowl are one run. A run that reaches the sea can empty it into the boat by the
 * bowl, or by what a pump in it has on its other side; but only by its sides that reach the sea themselves: a
 * hose from the bowl to a tank lets none in. Branches (a T or a diverter is an `item`) join whatever has no
 * loop that clears the sea, which would part them.
 */
#include "rules/plumbing.h"

#include "rules/families.h"

typedef struct Line {
    const Entity *first; /* hose, in the order of the spec */
    const Loop *loop;    /* the one that clears the sea best; NULL: none */
    Answer clears;
    bool feeds_pump; /* it ends at a pump that delivers into another hose: the loop belongs there */
    bool branches;   /* it ends at an item ... */
    bool goes_on;    /* ... and at its other end is not the sea */
} Line;

/* Where the water can come in or get out: a bowl's rim, or a through-hull. */
typedef struct Mouth {
    const Entity *thing;
    PropId height;
    Answer above; /* the heeled waterline */
    struct Mouth *next;
} Mouth;

typedef struct Run {
    Mouth *bowls, *seas;
    bool pumped; /* a pump is in it ... */
    bool inside; /* ... that draws from, or delivers to, something aboard */
} Run;

typedef struct Runs {
    Judge *judge;
    Plumbing plumbing;
    uint32_t *line_of, *side_of, *run_of; /* by Entity.index: a member that stands for all (union-find) */
    Line *lines;                          /* by Entity.index of that member */
    bool *to_sea;                         /* the same of sides: they reach the sea */
    Run *runs;
} Runs;

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

static Run *run_of(Runs *runs, const Entity *member)
{
    return &runs->runs[find_root(runs->run_of, member->index)];
}

static Line *line_of(Runs *runs, const Entity *hose)
{
    return &runs->lines[find_root(runs->line_of, hose->index)];
}

static void join_end(Runs *runs, const Entity *hose, const Entity *end)
{
    bool branch = end->kind == KIND_ITEM && line_of(runs, hose)->clears != ANSWER_YES;
    if (joins_side(end) || branch) {
        join(runs->side_of, hose, end);
    }
    if (joins_run(end) || branch) {
        join(runs->run_of, hose, end);
    }
}

static void add_mouth(Runs *runs, Mouth **list, const Entity *thing, PropId height)
{
    Mouth *mouth = ARENA_NEW(runs->judge->scratch, Mouth);
    *mouth = (Mouth){.thing = thing, .height = height, .next = *list};
    mouth->above = ask_at_least(runs->judge, side_value(runs->judge, thing, height, 0),
                                waterline_at(runs->judge, thing));
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

/* What a run has at one of its ends, or a pump or toilet in it beside its hoses. */
static void add_end(Runs *runs, Run *run, const Entity *end)
{
    if (end == NULL || !is_aboard(end) || joins_run(end) || end->kind == KIND_ITEM) {
        return;
    }
    if (end->kind == KIND_THROUGH_HULL) {
        add_mouth(runs, &run->seas, end, PROP_THROUGH_HULL_HEIGHT);
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

static void add_pump(Runs *runs, const Entity *pump)
{
    Run *run = run_of(runs, pump);
    const Property *to = entity_property(pump, PROP_PUMP_TO);
    run->pumped = true;
    add_end(runs, run, entity_reference(pump, PROP_PUMP_FROM));
    reach_sea(runs, pump, entity_reference(pump, PROP_PUMP_FROM));
    for (uint16_t i = 0; to != NULL && i < to->count; i++) {
        const Entity *end = to->values[i].kind == VALUE_REFERENCE ? to->values[i].u.entity : NULL;
        add_end(runs, run, end);
        reach_sea(runs, pump, end);
    }
}

static void add_toilet(Runs *runs, const Entity *toilet)
{
    Run *run = run_of(runs, toilet);
    add_mouth(runs, &run->bowls, toilet, PROP_TOILET_RIM);
    add_end(runs, run, entity_reference(toilet, PROP_TOILET_TO));
}

static bool delivers_on(const Runs *runs, const Entity *end)
{
    return end->kind == KIND_PUMP && runs->plumbing.hoses_from[end->index] > 0;
}

/* Notes the loops of a hose with its line. */
static void add_to_line(Runs *runs, const Entity *hose, const Entity *from, const Entity *to)
{
    Line *line = line_of(runs, hose);
    bool at_sea = from->kind == KIND_THROUGH_HULL || to->kind == KIND_THROUGH_HULL;
    line->goes_on = (line->first == NULL || line->goes_on) && !at_sea;
    line->branches = line->branches || from->kind == KIND_ITEM || to->kind == KIND_ITEM;
    line->first = line->first != NULL ? line->first : hose;
    line->feeds_pump = line->feeds_pump || delivers_on(runs, to);
    for (const Loop *loop = runs->plumbing.loops[hose->index]; loop != NULL; loop = loop->next) {
        Side height = side_value(runs->judge, loop->loop, PROP_VENT_LOOP_HEIGHT, 0);
        Answer clears = ask_at_least(runs->judge, height, least_height(runs->judge, loop->loop));
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

static Runs find_runs(Judge *judge)
{
    uint32_t count = judge->model->entity_count + 1;
    Runs runs = {.judge = judge,
                 .plumbing = plumbing_make(judge->scratch, judge->model),
                 .line_of = ARENA_ARRAY(judge->scratch, uint32_t, count),
                 .side_of = ARENA_ARRAY(judge->scratch, uint32_t, count),
                 .run_of = ARENA_ARRAY(judge->scratch, uint32_t, count),
                 .to_sea = ARENA_ARRAY(judge->scratch, bool, count),
                 .lines = ARENA_ARRAY(judge->scratch, Line, count),
                 .runs = ARENA_ARRAY(judge->scratch, Run, count)};
    for (uint32_t i = 0; i < count; i++) {
        runs.line_of[i] = runs.side_of[i] = runs.run_of[i] = i;
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
            add_end(&runs, run_of(&runs, e), from);
            add_end(&runs, run_of(&runs, e), to);
            reach_sea(&runs, e, from);
            reach_sea(&runs, e, to);
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

/*
 * What the danger hangs on: the lowest rim, else the lowest opening in the hull. NULL where the run cannot
 * siphon: it has no sea, no bowl and no way inboard, or one of the two stands above the heeled waterline.
 */
static const Mouth *siphons_by(const Run *run)
{
    if (run->seas == NULL || (run->bowls == NULL && !(run->pumped && run->inside))) {
        return NULL;
    }
    const Mouth *sea = lowest(run->seas);
    const Mouth *rim = lowest(run->bowls);
    if (sea->above == ANSWER_YES || (rim != NULL && rim->above == ANSWER_YES)) {
        return NULL;
    }
    bool by_sea = rim == NULL || (rim->above == ANSWER_NO && sea->above != ANSWER_NO);
    return by_sea ? sea : rim;
}

static void note_mouth(Judge *judge, Finding *finding, const Mouth *mouth)
{
    bool rim = mouth->height == PROP_TOILET_RIM;
    if (!entity_states(mouth->thing, mouth->height)) {
        finding_note(judge, finding, place_of_name(judge, mouth->thing),
                     "how high %s above the waterline is not said", rim ? "its rim is" : "it is");
        return;
    }
    UnitPair unit = unit_of(mouth->thing, mouth->height, UNIT_ALONE(UNIT_M));
    finding_note(judge, finding, place_of(judge, mouth->thing, mouth->height),
                 "%s; heeled, the water comes up to %s", rim ? "the bowl's rim" : "the way to the sea",
                 say_number(judge, waterline_at(judge, mouth->thing).value.high, unit));
    note_heel(judge, finding);
}

/* The loop that would do, at the side of the boat, where the water comes highest. */
static void offer_loop(Judge *judge, Finding *finding, const Entity *hose, const Run *run)
{
    const char *name = say_name(judge, hose);
    Side least = least_height(judge, judge->model->boat);
    UnitPair unit = unit_of(run->seas->thing, PROP_THROUGH_HULL_HEIGHT, UNIT_ALONE(UNIT_M));
    if (side_is_known(least)) {
        finding_remedy(judge, finding, "vent-loop %s-loop { on %s; height %s }", name, name,
                       say_up(judge, least.value.high, unit));
    }
}

/* A line that has no loop that clears the sea. How sure that is hangs on the mouth, too. */
static Finding *judge_by_mouth(Judge *judge, const Entity *hose, Span place, const Mouth *mouth)
{
    switch (mouth->above) {
    case ANSWER_UNKNOWN: return judge_open(judge, hose, place, mouth->thing, mouth->height);
    case ANSWER_PERHAPS:
        return judge_at_least(judge, hose, place, side_value(judge, mouth->thing, mouth->height, 0),
                              waterline_at(judge, mouth->thing));
    default: return judge_broken(judge, hose, place);
    }
}

/* No loop on it. Where the spec lists no loop at all, that is silence; else there is none here. */
static void judge_without_loop(Runs *runs, const Entity *hose, const Run *run, const Mouth *mouth)
{
    Judge *judge = runs->judge;
    Span place = place_of_name(judge, hose);
    bool silent = !runs->plumbing.states_loops;
    if (runs->plumbing.lost_loops) {
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
    offer_loop(judge, finding, hose, run);
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
                say_name(judge, hose), say_side(judge, height), say_number(judge, least.value.high, height.unit));
    if (!entity_states(loop, PROP_COMMON_AT)) {
        finding_here(judge, finding, "taken to be at the side of the boat; `at` says where it is");
    }
    note_mouth(judge, finding, mouth);
    finding_remedy(judge, finding, "height %s", say_up(judge, least.value.high, height.unit));
}

static void judge_silent_loop(Judge *judge, const Entity *hose, const Entity *loop, const Mouth *mouth)
{
    Finding *finding = judge_open(judge, hose, place_of_name(judge, loop), loop, PROP_VENT_LOOP_HEIGHT);
    Side least = least_height(judge, loop);
    finding_say(judge, finding, "the loop on `%s` does not say how high above the waterline its top stands",
                say_name(judge, hose));
    note_mouth(judge, finding, mouth);
    finding_remedy(judge, finding, "height %s", say_up(judge, least.value.high, least.unit));
}

static void judge_line(Runs *runs, const Entity *hose)
{
    Judge *judge = runs->judge;
    const Line *line = line_of(runs, hose);
    const Entity *loop = line->loop != NULL ? line->loop->loop : NULL;
    const Run *run = run_of(runs, hose);
    const Mouth *mouth = siphons_by(run);
    if (mouth == NULL || line->feeds_pump) {
        return;
    }
    bool elsewhere = line->branches && line->goes_on; /* told once, of the hose at the sea */
    if (!runs->to_sea[find_root(runs->side_of, hose->index)] || elsewhere) {
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
    bool bare = runs->plumbing.hoses_from[toilet->index] == 0 && runs->plumbing.hoses_to[toilet->index] == 0;
    if (!sea || !bare || runs->plumbing.lost_hoses || run_of(runs, toilet)->bowls->above == ANSWER_YES) {
        return;
    }
    Finding *finding = judge_open(judge, toilet, place_of_name(judge, toilet), NULL, PROP_NONE);
    finding_say(judge, finding, "the sea may siphon in by `%s`: no hose of it is stated, nor a vented loop",
                say_name(judge, toilet));
    finding_hangs_on(judge, finding, toilet, PROP_HOSE_TO,
                     text_format(judge->arena, "%s.hose", say_name(judge, toilet)));
    note_mouth(judge, finding, run_of(runs, toilet)->bowls);
}

static void judge_siphon(Judge *judge)
{
    const Entity *from;
    const Entity *to;
    if (first_aboard(judge->model, KIND_HOSE) == NULL && first_aboard(judge->model, KIND_TOILET) == NULL) {
        return;
    }
    Runs runs = find_runs(judge);
    for (const Entity *hose = first_aboard(judge->model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        if (!hose_ends(hose, &from, &to)) {
            judge_waiting(judge);
        } else if (line_of(&runs, hose)->first == hose) {
            judge_line(&runs, hose);
        }
    }
    for (const Entity *e = first_aboard(judge->model, KIND_TOILET); e != NULL; e = next_aboard(e)) {
        judge_bare_toilet(&runs, e);
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

static const Rule rules[] = {
    {.name = "siphon",
     .severity = SEVERITY_FAULT,
     .title = "every hose by which the sea could siphon in has a vented loop of its own, and a high one",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "installation sheet of a marine toilet: a vented loop, its top at least 200 mm (8 in) above "
               "the static and the heeled waterline; ISO 8099:2000 (preview) asks that a heeled boat does "
               "not siphon back through the toilet",
     .why = "A hose that is full of water and ends below the waterline goes on running when the pump stops, "
            "and a bowl whose rim dips below the sea as she heels fills the boat. A loop with an air valve, "
            "led high, breaks the column. It has to be there on each side of the bowl that reaches the sea, "
            "for either hose alone can siphon; a hose to a tank alone lets no sea in. The same goes for a pump that discharges into the sea. Where a pump of its "
            "own stands in the line the loop belongs behind it, since a vented loop before a pump lets it "
            "draw air. A loop that does not say where it stands across the boat is taken to be at the side, "
            "where the water comes highest; the sheer is not looked at. A spec that lists vented loops and "
            "has none on a hose says that there is none; one that lists no loop at all leaves it open.",
     .breaks = TOILET("rim 0.1 m;", "vent-loop flush-loop { on flush-hose; height 1.2 m }\n"),
     .holds = TOILET("rim 0.1 m;", "vent-loop flush-loop { on flush-hose; height 1.2 m }\n"
                                   "vent-loop waste-loop { on waste-hose; height 1.2 m }\n"),
     .open = TOILET("rim 0.1 m;", ""),
     .judge_boat = judge_siphon},
};
const RuleFamily rules_siphon = RULE_FAMILY("Siphons", rules);
