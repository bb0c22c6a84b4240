/*
 * Two rules of the family rules_fuel, of the way from tank to engine and back: fuel-shut, what shuts and
 * cleans it and where it goes back to; fuel-valves, a second valve, and one where a tank could run empty.
 */
#include "rules/fuel_rules.h"

#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "figures/plumbing.h"
#include "rules/ask.h"
#include "rules/tank_filling.h"
#include "rules/upstream.h"

/* ---- fuel-shut ----------------------------------------------------------------------------------------- */

static bool joins_burner_and_tank(const Entity *burner, const Entity *tank)
{
    return burner != NULL && tank != NULL && tank->kind == KIND_TANK &&
           (burner->kind == KIND_ENGINE || burner->kind == KIND_GENERATOR || burner->kind == KIND_HEATER || burner->kind == KIND_BURNER);
}

/* A return that is stated from a tank to what burns: told at that line, and taken the right way round by all others. */
static bool is_turned_return(const Entity *line)
{
    return is_return(line) && joins_burner_and_tank(entity_reference(line, PROP_FUEL_LINE_TO), entity_reference(line, PROP_FUEL_LINE_FROM));
}

/* A line from what burns to a tank that is no return: told at that line as well, and taken for a feed by all others. */
bool is_turned_feed(const Entity *line)
{
    return entity_yes(line, PROP_FUEL_LINE_RETURN) != -2 && !is_return(line) &&
           joins_burner_and_tank(entity_reference(line, PROP_FUEL_LINE_FROM), entity_reference(line, PROP_FUEL_LINE_TO));
}

/* Where the fuel of a feed comes from, and goes to. */
static const Entity *feed_from(const Entity *line)
{
    return entity_reference(line, is_turned_feed(line) ? PROP_FUEL_LINE_TO : PROP_FUEL_LINE_FROM);
}

static const Entity *feed_to(const Entity *line)
{
    return entity_reference(line, is_turned_feed(line) ? PROP_FUEL_LINE_FROM : PROP_FUEL_LINE_TO);
}

static void judge_turned_return(Judge *judge, const Entity *line)
{
    const char *from = say_name(judge, entity_reference(line, PROP_FUEL_LINE_FROM));
    const char *to = say_name(judge, entity_reference(line, PROP_FUEL_LINE_TO));
    Finding *finding = judge_broken(judge, line, place_of(judge, line, PROP_FUEL_LINE_FROM));
    finding_severity(finding, SEVERITY_WARNING);
    finding_about(finding, PROP_FUEL_LINE_FROM);
    finding_say(judge, finding, "`%s` carries fuel back, and leads from `%s` to `%s`: what comes back goes the other way",
                say_name(judge, line), from, to);
    finding_note(judge, finding, place_of(judge, line, PROP_FUEL_LINE_RETURN), "said here");
    finding_remedy(judge, finding, "`from %s` and `to %s`", to, from);
    finding_remedy(judge, finding, "return no, if it feeds `%s`", to);
}

static void judge_turned_feed(Judge *judge, const Entity *line)
{
    const char *from = say_name(judge, entity_reference(line, PROP_FUEL_LINE_FROM));
    const char *to = say_name(judge, entity_reference(line, PROP_FUEL_LINE_TO));
    Finding *finding = judge_broken(judge, line, place_of(judge, line, PROP_FUEL_LINE_FROM));
    finding_about(finding, PROP_FUEL_LINE_FROM);
    finding_say(judge, finding, "`%s` leads from `%s` to `%s`, and is no return: fuel comes from a tank, and nothing but a return goes back",
                say_name(judge, line), from, to);
    finding_remedy(judge, finding, "`from %s` and `to %s`, if it feeds `%s`", to, from, from);
    finding_remedy(judge, finding, "return yes, if it carries fuel back");
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
    const Entity *from = feed_from(line);
    const Entity *before = first_aboard(judge->model, KIND_FUEL_LINE);
    while (before != NULL && (before == line || is_return(before) || from == NULL || feed_to(before) != from)) {
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
        const Entity *from = feed_from(line);
        if (is_return(line) || from == NULL || feed_to(line) != to || sources->seen[from->index]) {
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
        bool turned = is_turned_return(line);
        const Entity *to = entity_reference(line, turned ? PROP_FUEL_LINE_FROM : PROP_FUEL_LINE_TO);
        const Entity *begin = entity_reference(line, turned ? PROP_FUEL_LINE_TO : PROP_FUEL_LINE_FROM);
        if (is_return(line) && to != NULL && begin == from && !reached[to->index]) {
            reached[to->index] = true;
            if (to->kind != KIND_TANK) {
                mark_returned(judge, to, reached);
            }
        }
    }
}

/* Which of two tanks a pipe begins at, and at which it ends, one way or the other. */
static bool joins(const Entity *pipe, PropId from, PropId to, const Entity *tank, const Entity *other)
{
    const Entity *begin = entity_reference(pipe, from), *end = entity_reference(pipe, to);
    return (begin == tank && end == other) || (begin == other && end == tank);
}

/* By a pipe between the two that is no overflow their levels even out: what comes into the one does not run over. */
static bool is_level_with(const Judge *judge, const Entity *tank, const Entity *other)
{
    for (const Entity *line = first_aboard(judge->model, KIND_FUEL_LINE); line != NULL; line = next_aboard(line)) {
        if (joins(line, PROP_FUEL_LINE_FROM, PROP_FUEL_LINE_TO, tank, other) && !is_return(line) && !is_overflow(judge, line)) {
            return true;
        }
    }
    const HoseList *list = &plumbing_of(judge->figures)->from;
    const Entity *ends[] = {tank, other};
    for (int i = 0; i < 2; i++) {
        for (const Entity *hose = list->first[ends[i]->index]; hose != NULL; hose = list->next[hose->index]) {
            if (joins(hose, PROP_HOSE_FROM, PROP_HOSE_TO, tank, other)) {
                return true;
            }
        }
    }
    return false;
}

/* Each tank that it draws from has a way back from it: which of them is open is in the owner's hand, as with the feed. */
static bool returns_to_all(const Judge *judge, const Entity *engine, const Entity *back, const DrawnFrom *sources)
{
    bool *reached = ARENA_ARRAY(judge->scratch, bool, judge->model->entity_count + 1);
    mark_returned(judge, engine, reached);
    for (uint32_t i = 0; i < sources->count; i++) {
        if (!reached[sources->tanks[i]->index] && !is_level_with(judge, sources->tanks[i], back)) {
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
        among = among || sources.tanks[i] == back || is_level_with(judge, sources.tanks[i], back);
    }
    if (among && sources.count > 1 && !returns_to_all(judge, engine, back, &sources)) {
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

/* Petrol that a device, an electric stop valve or its own way keeps from siphoning asks for no valve that a hand shuts. */
static bool is_kept_back(const Judge *judge, const Entity *line)
{
    return entity_yes(line, PROP_FUEL_LINE_ANTI_SIPHON) == 1 && entity_yes(line, PROP_FUEL_LINE_BELOW_TOP) != 1 &&
           fuel_carried(judge->model, line) == FUEL_PETROL;
}

/* No valve, and whether a device does in its place is not said: of petrol alone. */
static bool may_be_kept_back(const Judge *judge, const Entity *line)
{
    return entity_yes(line, PROP_FUEL_LINE_SHUT_OFF) == 0 && entity_yes(line, PROP_FUEL_LINE_ANTI_SIPHON) == -1 &&
           entity_yes(line, PROP_FUEL_LINE_BELOW_TOP) != 1 && fuel_carried(judge->model, line) == FUEL_PETROL;
}

static void judge_valve_at_tank(Judge *judge, const Entity *line)
{
    if (has_mistake(line, PROP_FUEL_LINE_ANTI_SIPHON)) {
        judge_waiting(judge);
    } else if (is_kept_back(judge, line)) {
        judge_holds(judge);
    } else if (may_be_kept_back(judge, line)) {
        Finding *finding = judge_open(judge, line, place_of(judge, line, PROP_FUEL_LINE_SHUT_OFF), line, PROP_FUEL_LINE_ANTI_SIPHON);
        finding_about(finding, PROP_FUEL_LINE_SHUT_OFF);
        finding_say(judge, finding, "`%s` has no valve at the tank that shuts it, and does not say whether anything else keeps its petrol "
                    "from siphoning", say_name(judge, line));
        finding_remedy(judge, finding, "anti-siphon yes");
        finding_remedy(judge, finding, "shut-off yes");
    } else {
        judge_part(judge, line, PROP_FUEL_LINE_SHUT_OFF, "a valve at the tank that shuts it");
    }
}

void judge_fuel_shut(Judge *judge, const Entity *line)
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
    if (is_turned_return(line)) {
        judge_turned_return(judge, line);
        return;
    }
    if (is_return(line)) {
        judge_way_back(judge, line);
        return;
    }
    if (is_turned_feed(line)) {
        judge_turned_feed(judge, line);
        return;
    }
    bool carried = !is_fixed_engine(to) && comes_from_can(judge, line);
    if (is_overflow(judge, line)) {
        judge_holds(judge); /* a valve in it could be shut when the pump has filled the tank */
    } else if (from->kind == KIND_TANK && !carried) {
        judge_valve_at_tank(judge, line);
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

/* The way begins at a tank from which a device keeps the petrol from siphoning: 183.568(b) asks for no valve then. */
static bool begins_kept_back(const Judge *judge, const Entity *line)
{
    for (int step = 0; line != NULL && step < 16; step++) {
        if (is_kept_back(judge, line)) {
            return true;
        }
        line = line_before_from_tank(judge, line);
    }
    return false;
}

static void judge_second_valve(Judge *judge, const Entity *line)
{
    int shut = entity_yes(line, PROP_FUEL_LINE_ENGINE_SHUT_OFF);
    const Entity *lacks = NULL;
    Side length = length_of_way(judge, line, &lacks);
    if (shut == 1 || begins_kept_back(judge, line)) {
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
        if (is_return(line)) {
            finding_remedy(judge, finding, "below-top no"); /* a valve in a return can be left shut */
        }
    }
    finding_about(finding, PROP_FUEL_LINE_BELOW_TOP);
    finding_remedy(judge, finding, "shut-off yes");
}

void judge_fuel_valves(Judge *judge, const Entity *line)
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
