/*
 * Fuel: tanks that breathe and are grounded, hoses that stand fire, valves, filters and the way back.
 */
#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "rules/ask.h"
#include "rules/families.h"
#include "rules/fuel_rules.h"
#include "rules/tank_filling.h"
#include "rules/upstream.h"

/* ---- fuel-tank ----------------------------------------------------------------------------------------- */

/* A bore that is there at all: how wide it has to be is asked by tank-breath. */
static void judge_opening(Judge *judge, const Entity *tank, PropId prop, const char *what, const char *why)
{
    Side bore = side_value(judge, tank, prop, 0);
    if (bore.state == STATE_WAITING) {
        judge_waiting(judge);
        return;
    }
    Finding *finding = NULL;
    if (bore.state == STATE_MISSING) {
        finding = judge_open(judge, tank, place_of_name(judge, tank), tank, prop);
        finding_say(judge, finding, "the fuel tank `%s` does not say whether it has a %s",
                    say_name(judge, tank), what);
    } else if (bore.value.high <= 0.0) {
        finding = judge_broken(judge, tank, place_of(judge, tank, prop));
        finding_say(judge, finding, "the fuel tank `%s` has no %s: %s", say_name(judge, tank), what, why);
    } else {
        judge_holds(judge);
    }
    if (finding != NULL) {
        finding_about(finding, prop);
        finding_remedy(judge, finding, "`%s` with the bore of a %s that leads outside", props[prop].word,
                       what);
    }
}

static void judge_filling_pipe(Judge *judge, const Entity *tank)
{
    switch (tank_filling(judge, tank)) {
    case FILLING_OWN: judge_opening(judge, tank, PROP_TANK_FILL, "filling pipe", "fuel is poured inside the boat"); break;
    case FILLING_ABOARD: judge_holds(judge); break; /* a day tank: what fills it has the filling pipe */
    case FILLING_WAITS: judge_waiting(judge); break;
    }
}

static void judge_fuel_tank(Judge *judge, const Entity *tank)
{
    if (!str_is(entity_word(tank, PROP_TANK_HOLDS), "fuel") || entity_yes(tank, PROP_COMMON_PORTABLE) == 1) {
        return; /* one that can be carried is filled ashore, and breathes by its cap */
    }
    judge_opening(judge, tank, PROP_TANK_VENT, "vent",
                  "it bulges or starves the engine, and its vapour comes in");
    judge_filling_pipe(judge, tank);
    Finding *finding = judge_yes(judge, tank, PROP_TANK_GROUNDED, "a joint with the boat's ground");
    if (finding != NULL) {
        finding_about(finding, PROP_TANK_GROUNDED);
    }
}

/* ---- fuel-hose ----------------------------------------------------------------------------------------- */

/* An engine within the hull, or that of a generator. */
static bool is_hot_itself(const Entity *end)
{
    return end->kind == KIND_GENERATOR || (end->kind == KIND_ENGINE && !is_outboard(end));
}

/* Whether a line comes near an engine: it ends at one, or it or one of its ends lies in an engine space. */
static bool is_hot(const Judge *judge, const Entity *line)
{
    const Entity *ends[] = {entity_reference(line, PROP_FUEL_LINE_FROM),
                            entity_reference(line, PROP_FUEL_LINE_TO)};
    bool hot = is_engine_space(judge->model, entity_reference(line, PROP_COMMON_SPACE));
    for (size_t i = 0; i < 2 && !hot; i++) {
        hot = ends[i] != NULL && (is_hot_itself(ends[i]) ||
                                  is_engine_space(judge->model, entity_reference(ends[i], PROP_COMMON_SPACE)));
    }
    return hot;
}

/* What is asked of a line: A1 of petrol near an engine, some A near an engine or of petrol, else anything. */
static bool serves(Str grade, bool petrol, bool hot)
{
    bool a1 = str_is(grade, "A1") || str_is(grade, "metal");
    bool a = a1 || str_is(grade, "A2");
    return petrol && hot ? a1 : petrol || hot ? a : true;
}

static void judge_fuel_hose(Judge *judge, const Entity *line)
{
    Fuel carried = fuel_carried(judge->model, line);
    bool petrol = has_petrol_inboard(judge->model) && carried != FUEL_DIESEL;
    bool hot = is_hot(judge, line);
    Str grade;
    State state = stated_word(line, PROP_FUEL_LINE_GRADE, &grade);
    const char *asked = petrol && hot ? "A1" : "A1 or A2";
    Finding *finding;
    if (state == STATE_WAITING) {
        judge_waiting(judge);
        return;
    }
    if (state == STATE_KNOWN && serves(grade, petrol, hot)) {
        judge_holds(judge);
        return;
    }
    if (state == STATE_KNOWN) {
        finding = judge_broken(judge, line, place_of(judge, line, PROP_FUEL_LINE_GRADE));
        finding_say(judge, finding, "`%s` is of class %s and %s; that asks for %s hose, or metal",
                    say_name(judge, line), str_copy(judge->arena, grade),
                    hot ? "comes near an engine" : "carries petrol", asked);
    } else {
        finding = judge_open(judge, line, place_of_name(judge, line), line, PROP_FUEL_LINE_GRADE);
        finding_say(judge, finding, "`%s` does not say of which class its hose is", say_name(judge, line));
    }
    finding_remedy(judge, finding, "grade A1");
    finding_remedy(judge, finding, "grade metal");
}

/* ---- fuel-shut ----------------------------------------------------------------------------------------- */

static bool is_return(const Entity *line)
{
    return entity_yes(line, PROP_FUEL_LINE_RETURN) == 1;
}

static void judge_part(Judge *judge, const Entity *line, PropId prop, const char *asks)
{
    Finding *finding = judge_yes(judge, line, prop, asks);
    if (finding != NULL) {
        finding_about(finding, prop);
    }
}

/* Something upstream of a line by name: the line that leads to where this one begins. */
static const Entity *line_before(const Judge *judge, const Entity *line)
{
    const Entity *from = entity_reference(line, PROP_FUEL_LINE_FROM);
    const Entity *before = first_aboard(judge->model, KIND_FUEL_LINE);
    while (before != NULL && (before == line || is_return(before) || from == NULL ||
                              entity_reference(before, PROP_FUEL_LINE_TO) != from)) {
        before = next_aboard(before);
    }
    return before;
}

/* The same as far as the nearest tank: how that one is filled is no part of the way to the engine. */
static const Entity *line_before_from_tank(const Judge *judge, const Entity *line)
{
    const Entity *from = entity_reference(line, PROP_FUEL_LINE_FROM);
    return from != NULL && from->kind == KIND_TANK ? NULL : line_before(judge, line);
}

/* Whether one of the lines from the tank to here states that part. */
static bool has_on_the_way(const Judge *judge, const Entity *line, PropId prop)
{
    for (int step = 0; line != NULL && step < 16; step++) {
        bool there = prop == PROP_FUEL_LINE_FILTER ? entity_states(line, prop) : entity_yes(line, prop) == 1;
        if (there) {
            return true;
        }
        line = line_before(judge, line);
    }
    return false;
}

/* A tank that is carried is unplugged by hand; an outboard on it has its own filter under the cowl. */
static bool comes_from_can(const Judge *judge, const Entity *line)
{
    for (int step = 0; line != NULL && step < 16; step++) {
        const Entity *from = entity_reference(line, PROP_FUEL_LINE_FROM);
        if (from != NULL && from->kind == KIND_TANK) {
            return entity_yes(from, PROP_COMMON_PORTABLE) == 1;
        }
        line = line_before(judge, line);
    }
    return false;
}

static bool is_fixed_engine(const Entity *thing)
{
    return thing->kind == KIND_GENERATOR || (thing->kind == KIND_ENGINE && !is_outboard(thing));
}

/* At the engine: what the fuel has passed on its way. */
static void judge_feed(Judge *judge, const Entity *line)
{
    if (has_on_the_way(judge, line, PROP_FUEL_LINE_FILTER)) {
        judge_holds(judge);
    } else {
        Finding *finding = judge_open(judge, line, place_of_name(judge, line), line, PROP_FUEL_LINE_FILTER);
        finding_about(finding, PROP_FUEL_LINE_FILTER);
        finding_say(judge, finding, "`%s` does not say whether a filter sits between tank and engine",
                    say_name(judge, line));
        finding_remedy(judge, finding, "filter 10 um");
    }
    if (has_on_the_way(judge, line, PROP_FUEL_LINE_SEPARATOR)) {
        judge_holds(judge);
    } else {
        judge_part(judge, line, PROP_FUEL_LINE_SEPARATOR, "a separator that takes water out");
    }
}

/* The tanks that an engine can draw from, along all lines that lead to it. */
typedef struct DrawnFrom {
    const Entity *tanks[8];
    uint32_t count;
    const Entity *line; /* the first that leaves the first of them */
    bool *seen;         /* by Entity.index: lines meet and part again, and each thing is asked once */
} DrawnFrom;

static void add_sources(Judge *judge, const Entity *to, DrawnFrom *sources)
{
    for (const Entity *line = first_aboard(judge->model, KIND_FUEL_LINE); line != NULL; line = next_aboard(line)) {
        const Entity *from = entity_reference(line, PROP_FUEL_LINE_FROM);
        if (is_return(line) || from == NULL || entity_reference(line, PROP_FUEL_LINE_TO) != to || sources->seen[from->index]) {
            continue;
        }
        sources->seen[from->index] = true;
        if (from->kind != KIND_TANK) {
            add_sources(judge, from, sources);
        } else if (str_is(entity_word(from, PROP_TANK_HOLDS), "fuel") && /* else `wrong-liquid` tells it */
                   sources->count < sizeof sources->tanks / sizeof sources->tanks[0]) {
            sources->line = sources->count == 0 ? line : sources->line;
            sources->tanks[sources->count++] = from;
        }
    }
}

/* Marks everything that returns lead to from a thing, through selectors and whatever else stands between. */
static void mark_returned(const Judge *judge, const Entity *from, bool *reached)
{
    for (const Entity *line = first_aboard(judge->model, KIND_FUEL_LINE); line != NULL; line = next_aboard(line)) {
        const Entity *to = entity_reference(line, PROP_FUEL_LINE_TO);
        if (is_return(line) && to != NULL && entity_reference(line, PROP_FUEL_LINE_FROM) == from && !reached[to->index]) {
            reached[to->index] = true;
            if (to->kind != KIND_TANK) {
                mark_returned(judge, to, reached);
            }
        }
    }
}

/* Each tank that it draws from has a way back from it: which of them is open is in the owner's hand, as with the feed. */
static bool returns_to_all(const Judge *judge, const Entity *engine, const DrawnFrom *sources)
{
    bool *reached = ARENA_ARRAY(judge->scratch, bool, judge->model->entity_count + 1);
    mark_returned(judge, engine, reached);
    for (uint32_t i = 0; i < sources->count; i++) {
        if (!reached[sources->tanks[i]->index]) {
            return false;
        }
    }
    return true;
}

/* The feed can be turned to another tank than the one that the return always ends in. */
static void say_turned_feed(Judge *judge, const Entity *line, const Entity *engine, const DrawnFrom *sources)
{
    Finding *finding = judge_broken(judge, line, place_of(judge, line, PROP_FUEL_LINE_TO));
    finding_severity(finding, SEVERITY_WARNING);
    finding_about(finding, PROP_FUEL_LINE_TO);
    finding_say(judge, finding, "`%s` can draw from %s, and `%s` always leads back to `%s`: while it draws from another, that runs over",
                say_name(judge, engine), say_names(judge, sources->tanks, sources->count, sources->count),
                say_name(judge, line), say_name(judge, entity_reference(line, PROP_FUEL_LINE_TO)));
    finding_remedy(judge, finding, "a valve that turns feed and return together, with the return led to it");
}

/* Of several tanks, the fuel goes back to the one that it came from. */
static void judge_way_back(Judge *judge, const Entity *line)
{
    const Entity *engine = entity_reference(line, PROP_FUEL_LINE_FROM);
    const Entity *back = entity_reference(line, PROP_FUEL_LINE_TO);
    DrawnFrom sources = {.seen = ARENA_ARRAY(judge->scratch, bool, judge->model->entity_count + 1)};
    sources.seen[engine->index] = true;
    add_sources(judge, engine, &sources);
    if (sources.count == 0 || back->kind != KIND_TANK) {
        return;
    }
    bool among = false;
    for (uint32_t i = 0; i < sources.count; i++) {
        among = among || sources.tanks[i] == back;
    }
    if (among && sources.count > 1 && !returns_to_all(judge, engine, &sources)) {
        say_turned_feed(judge, line, engine, &sources);
        return;
    }
    if (among) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, line, place_of(judge, line, PROP_FUEL_LINE_TO));
    finding_about(finding, PROP_FUEL_LINE_TO);
    finding_say(judge, finding, "`%s` takes fuel from %s back to `%s`, until that runs over", say_name(judge, line),
                say_names(judge, sources.tanks, sources.count, sources.count), say_name(judge, back));
    finding_note(judge, finding, place_of(judge, sources.line, PROP_FUEL_LINE_FROM), "it comes from here");
    finding_remedy(judge, finding, "to %s", say_name(judge, sources.tanks[0]));
}

/* What a line joins; false where a mistake hides it, and the judgement waits. */
static bool find_ends(Judge *judge, const Entity *line, const Entity **from, const Entity **to)
{
    *from = entity_reference(line, PROP_FUEL_LINE_FROM);
    *to = entity_reference(line, PROP_FUEL_LINE_TO);
    if (*from == NULL || *to == NULL || has_mistake(line, PROP_FUEL_LINE_RETURN)) {
        judge_waiting(judge);
        return false;
    }
    return true;
}

static void judge_fuel_shut(Judge *judge, const Entity *line)
{
    const Entity *from, *to;
    if (!find_ends(judge, line, &from, &to)) {
        return;
    }
    if (from == to) {
        Finding *finding = judge_broken(judge, line, place_of(judge, line, PROP_FUEL_LINE_TO));
        finding_about(finding, PROP_FUEL_LINE_TO);
        finding_say(judge, finding, "`%s` leads from `%s` to itself", say_name(judge, line), say_name(judge, from));
        finding_remedy(judge, finding, "another end");
        return;
    }
    if (is_return(line)) {
        judge_way_back(judge, line);
        return;
    }
    bool carried = !is_fixed_engine(to) && comes_from_can(judge, line);
    if (is_overflow(judge, line)) {
        judge_holds(judge); /* a valve in it could be shut when the pump has filled the tank */
    } else if (from->kind == KIND_TANK && !carried) {
        judge_part(judge, line, PROP_FUEL_LINE_SHUT_OFF, "a valve at the tank that shuts it");
    }
    if ((to->kind == KIND_ENGINE || to->kind == KIND_GENERATOR) && !carried) {
        judge_feed(judge, line);
    }
}

/* ---- fuel-valves --------------------------------------------------------------------------------------- */

/* From there on a second valve is asked for: 12 ft (33 CFR 183.568(c)(2), verified). */
static const double one_valve_m = 3.6576;

/* From the nearest tank to the engine, over all lines that lead there; `lacks`: one that does not say how long it is. */
static Side length_of_way(const Judge *judge, const Entity *line, const Entity **lacks)
{
    Side whole = side_value(judge, line, PROP_FUEL_LINE_RUN, 0);
    *lacks = whole.state == STATE_MISSING ? line : NULL;
    for (int step = 0; step < 16; step++) {
        line = line_before_from_tank(judge, line);
        if (line == NULL) {
            break;
        }
        Side run = side_value(judge, line, PROP_FUEL_LINE_RUN, 0);
        *lacks = *lacks == NULL && run.state == STATE_MISSING ? line : *lacks;
        whole.state = whole.state == STATE_WAITING || run.state == STATE_WAITING ? STATE_WAITING
                      : *lacks != NULL                                           ? STATE_MISSING
                                                                                 : STATE_KNOWN;
        whole.value = interval_add(whole.value, run.value);
    }
    Side length = side_interval(whole.value, whole.unit);
    length.state = whole.state;
    return length;
}

/* What an open finding on the length hangs on. */
static void rests_on_way(Judge *judge, Finding *finding, const Entity *line)
{
    for (int step = 0; line != NULL && step < 16; step++) {
        finding_rests_on(judge, finding, line, PROP_FUEL_LINE_RUN);
        line = line_before_from_tank(judge, line);
    }
}

/* How far it is is known; whether a valve at the engine shuts it is not, or it is known that none does. */
static void judge_long_way(Judge *judge, const Entity *line, Side length, bool says_no)
{
    UnitPair unit = unit_of(line, PROP_FUEL_LINE_RUN, length.unit);
    Side limit = side_number(one_valve_m, unit);
    Finding *finding;
    if (ask_at_least(limit, length) == ANSWER_YES) {
        judge_holds(judge);
        return;
    }
    if (says_no) {
        finding = judge_at_most(judge, line, place_of(judge, line, PROP_FUEL_LINE_ENGINE_SHUT_OFF), length, limit);
        if (finding == NULL) {
            return;
        }
        finding_say(judge, finding, "from the tank to the end of `%s` the fuel goes %s, and no valve at the engine shuts it; from %s on one belongs there",
                    say_name(judge, line), say_side(judge, length), say_side(judge, limit));
    } else {
        finding = judge_open(judge, line, place_of_name(judge, line), line, PROP_FUEL_LINE_ENGINE_SHUT_OFF);
        finding_say(judge, finding, "from the tank to the end of `%s` the fuel goes %s, and it does not say whether a valve at the engine shuts it; from %s on one belongs there",
                    say_name(judge, line), say_side(judge, length), say_side(judge, limit));
    }
    rests_on_way(judge, finding, line);
    finding_about(finding, PROP_FUEL_LINE_ENGINE_SHUT_OFF);
    finding_remedy(judge, finding, "engine-shut-off yes");
}

static void judge_second_valve(Judge *judge, const Entity *line)
{
    int shut = entity_yes(line, PROP_FUEL_LINE_ENGINE_SHUT_OFF);
    const Entity *lacks = NULL;
    Side length = length_of_way(judge, line, &lacks);
    if (shut == 1) {
        judge_holds(judge);
    } else if (shut == -2 || length.state == STATE_WAITING) {
        judge_waiting(judge);
    } else if (lacks != NULL) {
        judge_unmeasured(judge, lacks, PROP_FUEL_LINE_RUN);
    } else {
        judge_long_way(judge, line, length, shut == 0);
    }
}

/* What joins a tank below its top lets it run empty where it bursts, also against the way that the fuel goes. */
static void judge_below_top(Judge *judge, const Entity *line, const Entity *tank)
{
    int below = entity_yes(line, PROP_FUEL_LINE_BELOW_TOP);
    int shut = entity_yes(line, PROP_FUEL_LINE_SHUT_OFF);
    Finding *finding;
    if (below == 0 || shut == 1) {
        judge_holds(judge);
        return;
    }
    if (below == -2 || shut == -2) {
        judge_waiting(judge);
        return;
    }
    if (below == -1) {
        finding = judge_open(judge, line, place_of_name(judge, line), line, PROP_FUEL_LINE_BELOW_TOP);
        finding_say(judge, finding, "`%s` does not say whether it joins `%s` below its top: there the tank runs empty through it where it bursts",
                    say_name(judge, line), say_name(judge, tank));
        finding_remedy(judge, finding, "below-top no");
    } else {
        Span place = place_of(judge, line, shut == 0 ? PROP_FUEL_LINE_SHUT_OFF : PROP_FUEL_LINE_BELOW_TOP);
        finding = shut == 0 ? judge_broken(judge, line, place) : judge_open(judge, line, place, line, PROP_FUEL_LINE_SHUT_OFF);
        finding_say(judge, finding, "`%s` joins `%s` below its top, and %s: where it bursts the tank runs empty through it",
                    say_name(judge, line), say_name(judge, tank),
                    shut == 0 ? "no valve at the tank shuts it" : "does not say whether a valve at the tank shuts it");
    }
    finding_about(finding, PROP_FUEL_LINE_BELOW_TOP);
    finding_remedy(judge, finding, "shut-off yes");
}

static void judge_fuel_valves(Judge *judge, const Entity *line)
{
    const Entity *from, *to;
    if (!find_ends(judge, line, &from, &to)) {
        return;
    }
    if (from == to) {
        return; /* told by `fuel-shut` */
    }
    if (to->kind == KIND_TANK && entity_yes(to, PROP_COMMON_PORTABLE) != 1) {
        judge_below_top(judge, line, to);
    }
    if (is_fixed_engine(to) && !is_return(line)) {
        judge_second_valve(judge, line);
    }
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define TANK(SAYS) EXAMPLE_BOAT "tank fuel { holds fuel; capacity 200 l; " SAYS " }\n"
#define LINE(SAYS)                                                                                  \
    EXAMPLE_BOAT "tank fuel { holds fuel; capacity 200 l; vent 16 mm; fill 38 mm; grounded yes }\n" \
                 "engine diesel { rated 28 kW at 3000 rpm; fuel diesel }\n"                         \
                 "fuel-line feed { from fuel; to diesel; " SAYS " }\n"

#define STOVE(TANK, SAYS)                                                                      \
    EXAMPLE_BOAT "tank can { holds fuel; capacity 20 l; vent 16 mm; fill 38 mm; grounded yes; " TANK " }\n" \
                 "heater stove { output 2 kW; fuel-rate 0.24 l/h; " SAYS " }\n"
#define FED_STOVE(TANK, SAYS) STOVE(TANK, SAYS) "fuel-line feed { from can; to stove; shut-off yes }\n"

#define CONSUMES(RATE) EXAMPLE_BOAT "engine diesel { rated 28 kW at 3000 rpm; fuel diesel; consumption 3000 rpm " RATE " }\n"
#define HEATS(RATE) EXAMPLE_BOAT "heater stove { output 2 kW; fuel diesel; fuel-rate " RATE " }\n"

static const Rule rules[] = {
    {.name = "fuel-tank",
     .severity = SEVERITY_FAULT,
     .title = "a fuel tank has a vent and a filling pipe of its own, and is joined to the boat's ground",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "33 CFR 183.572 (petrol inboards: a benchmark for others) and 46 CFR 182.440(b), 182.450 (small "
               "passenger vessels, edition of 2015: a benchmark); ISO 10088, second hand",
     .why =
         "Fuel that flows through a hose charges tank and filler, and a spark between the filler and the "
         "nozzle meets the vapour at the worst place. A tank without a vent bulges, or starves the engine. "
         "How wide vent and fill have to be is asked by `tank-breath`; that both end on deck, away from "
         "openings into the hull, is for the eye. A tank that can be carried (`portable yes`) is not asked, and of one that a pump, a line or a hose fills "
         "from a tank with a filling pipe, as a day tank, no pipe of its own is.",
     .breaks = TANK("vent 16 mm; fill 38 mm; grounded no"),
     .holds = TANK("vent 16 mm; fill 38 mm; grounded yes"),
     .open = TANK("vent 16 mm; fill 38 mm"),
     .kinds = {KIND_TANK},
     .judge = judge_fuel_tank},
    {.name = "fuel-hose",
     .severity = SEVERITY_FAULT,
     .title = "a fuel hose near an engine stands fire",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "us: 33 CFR 183.558(b) (petrol inboards: a benchmark for others, verified); iso: ISO 7840 near "
               "engines, "
               "ISO 8469 elsewhere, ISO 10088:2022 (all second hand)",
     .why = "In a fire the hose decides whether the tank feeds it. Class A stands two and a half minutes of "
            "flame "
            "and B does not; 1 lets less vapour through than 2. A line comes near an engine if it ends at "
            "one or at a generator, or "
            "lies or ends in an engine's space. In a boat with a petrol engine within her hull, petrol asks for A1 there, and for A "
            "everywhere. An outboard hangs outside: a line to it comes near no engine, and its petrol asks for nothing here.",
     .breaks = LINE("grade B1; shut-off yes; filter 10 um; separator yes"),
     .holds = LINE("grade A1; shut-off yes; filter 10 um; separator yes"),
     .open = LINE("shut-off yes; filter 10 um; separator yes"),
     .kinds = {KIND_FUEL_LINE},
     .judge = judge_fuel_hose},
    {.name = "fuel-shut",
     .severity = SEVERITY_FAULT,
     .title = "a valve at the tank shuts the fuel; filter and separator stand before the engine; it goes "
              "back where it "
              "came from",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "us: 33 CFR 183.568 (petrol inboards: a benchmark for others, verified); Boat Mechanical Systems "
               "Handbook; "
               "filter, separator and way back: common practice, no source",
     .why =
         "The valve is what stops a burst hose from emptying the tank into the bilge, or into a fire. Water "
         "and "
         "dirt are what stops diesels. A return that ends in another tank than the feed began in overfills "
         "that "
         "one at sea, and so does one that stays while the feed is turned to another tank; where returns lead to each "
         "of them, they are taken to be turned with it. The valve is to be worked "
         "from outside the space that it stands in, which a spec does not say. A second one is asked for by `fuel-valves`. "
         "An outboard on a tank that is carried is asked for none of it: its hose is unplugged by hand, and its filter sits "
         "under its cowl. A line that leads from a tank back to the one that a pump fills it from is an overflow, and asked for no valve: "
         "shut, it lets the tank burst or spill.",
     .breaks = LINE("grade A1; shut-off no; filter 10 um; separator yes"),
     .holds = LINE("grade A1; shut-off yes; filter 10 um; separator yes"),
     .open = LINE("grade A1; filter 10 um; separator yes"),
     .kinds = {KIND_FUEL_LINE},
     .judge = judge_fuel_shut},
    {.name = "fuel-valves",
     .severity = SEVERITY_WARNING,
     .title = "a long way of the fuel has a second valve at the engine, and what leads into a tank below its top one at the tank",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "second valve: 33 CFR 183.568(c)(2) (petrol inboards without a device against siphoning: a benchmark for others, "
               "verified); below the top: ABYC H-33 and ISO 10088, both from memory",
     .why =
         "Over a long way more fuel stands in the line than anybody wants in a fire, and the valve at the tank is out of reach "
         "of whoever works at the engine: beyond 3.66 m (12 ft), measured over all lines from the nearest tank, a valve stands at the "
         "engine too. A return, or a line that fills one tank from another, is forgotten as a way out: where it joins the tank "
         "below its top and bursts, the tank runs empty through it. Whether what feeds the engine has a valve at its tank is asked "
         "by `fuel-shut`, wherever it leaves it. An outboard, and a tank that can be carried, are not asked.",
     .breaks = LINE("run 5 m; grade A1; shut-off yes; engine-shut-off no; filter 10 um; separator yes"),
     .holds = LINE("run 5 m; grade A1; shut-off yes; engine-shut-off yes; filter 10 um; separator yes"),
     .open = LINE("run 5 m; grade A1; shut-off yes; filter 10 um; separator yes"),
     .kinds = {KIND_FUEL_LINE},
     .judge = judge_fuel_valves},
    {.name = "wrong-fuel",
     .severity = SEVERITY_FAULT,
     .title = "nothing is fed from a tank of another fuel than it burns",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "common practice, no source",
     .why = "Petrol in a diesel heater or a diesel engine explodes or burns where nothing is made for it, and diesel stops a "
            "petrol engine and spoils it. Fuel is followed from the tank along its lines; a tank that does not say its `fuel` "
            "holds what the engine burns that it is led to.",
     .breaks = FED_STOVE("fuel petrol", "fuel diesel"),
     .holds = FED_STOVE("fuel diesel", "fuel diesel"),
     .open = FED_STOVE("fuel petrol", ""),
     .kinds = {KIND_ENGINE, KIND_GENERATOR, KIND_HEATER, KIND_COOLER},
     .judge = judge_wrong_fuel},
    {.name = "which-fuel",
     .severity = SEVERITY_WARNING,
     .title = "it is known which fuel a tank holds, and what burns fuel has a tank of it",
     .basis = ON_BOTH,
     .source = "a choice of this program",
     .why = "Range, endurance and what is left of a cruise count on what comes out of the tanks that hold the right fuel. Where "
            "a tank does not say its `fuel`, that follows from what its lines lead to, and without any from what all engines "
            "burn. Where a heater does not say it, diesel is taken. An engine that is carried (`portable yes`) has a tank of its "
            "own.",
     .breaks = STOVE("fuel petrol", "fuel diesel"),
     .holds = STOVE("fuel diesel", "fuel diesel"),
     .open = STOVE("fuel petrol", ""),
     .kinds = {KIND_TANK, KIND_ENGINE, KIND_GENERATOR, KIND_HEATER, KIND_COOLER},
     .judge = judge_which_fuel},
    {.name = "consumption-odd",
     .severity = SEVERITY_WARNING,
     .title = "an engine's consumption fits its rated power",
     .basis = ON_BOTH,
     .source = "150 g/kWh from memory, below which no engine comes; 700 g/kWh common practice, no source",
     .why = "Range and the tanks of each day go by the points of `consumption`. At rated speed they come to so much fuel for each "
            "kilowatt hour: 200 to 260 g of most diesels, 270 to 350 g of four-stroke petrol engines, more of two-strokes. What "
            "lies far outside is a point or a comma in the wrong place, or gallons for litres.",
     .breaks = CONSUMES("0.8 l/h"),
     .holds = CONSUMES("8 l/h"),
     .open = CONSUMES("0.8..8 l/h"),
     .kinds = {KIND_ENGINE},
     .judge = judge_consumption_odd},
    {.name = "heat-odd",
     .severity = SEVERITY_WARNING,
     .title = "a heater gives no more heat than is in its fuel, and not far less",
     .basis = ON_BOTH,
     .source = "heat of diesel 42.8 MJ/kg, of petrol 43.4 MJ/kg, both from memory; at least 30 %: common practice, no source",
     .why = "A litre of diesel holds about 10 kWh, and a heater keeps 60 to 85 % of that in the boat. Where `output` and "
            "`fuel-rate` say otherwise by far, one of them is a slip, and so is how long the fuel is said to last.",
     .breaks = HEATS("0.024 l/h"),
     .holds = HEATS("0.24 l/h"),
     .open = HEATS("0.024..0.24 l/h"),
     .kinds = {KIND_HEATER},
     .judge = judge_heat_odd},
};
const RuleFamily rules_fuel = RULE_FAMILY("Fuel", rules);
