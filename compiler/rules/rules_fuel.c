/*
 * Fuel: tanks that breathe and are grounded, hoses that stand fire, valves, filters and the way back.
 */
#include "figures/drive.h"
#include "rules/ask.h"
#include "rules/drive_examples.h"
#include "rules/families.h"

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

static void judge_fuel_tank(Judge *judge, const Entity *tank)
{
    if (!str_is(entity_word(tank, PROP_TANK_HOLDS), "fuel") || entity_yes(tank, PROP_COMMON_PORTABLE) == 1) {
        return; /* one that can be carried is filled ashore, and breathes by its cap */
    }
    judge_opening(judge, tank, PROP_TANK_VENT, "vent",
                  "it bulges or starves the engine, and its vapour comes in");
    judge_opening(judge, tank, PROP_TANK_FILL, "filling pipe", "fuel is poured inside the boat");
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
    bool petrol = has_petrol_inboard(judge->model);
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

/* Of several tanks, the fuel goes back to the one that it came from. */
static void judge_way_back(Judge *judge, const Entity *line)
{
    const Entity *engine = entity_reference(line, PROP_FUEL_LINE_FROM);
    const Entity *back = entity_reference(line, PROP_FUEL_LINE_TO);
    const Entity *feed = first_aboard(judge->model, KIND_FUEL_LINE);
    while (feed != NULL && (is_return(feed) || entity_reference(feed, PROP_FUEL_LINE_TO) != engine)) {
        feed = next_aboard(feed);
    }
    while (feed != NULL && line_before(judge, feed) != NULL) {
        feed = line_before(judge, feed);
    }
    const Entity *source = feed != NULL ? entity_reference(feed, PROP_FUEL_LINE_FROM) : NULL;
    if (source == NULL || back == NULL || source->kind != KIND_TANK || back->kind != KIND_TANK ||
        !str_is(entity_word(source, PROP_TANK_HOLDS), "fuel")) {
        return; /* fed from what holds no fuel: that is told by `wrong-liquid` */
    }
    if (source == back) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, line, place_of(judge, line, PROP_FUEL_LINE_TO));
    finding_about(finding, PROP_FUEL_LINE_TO);
    finding_say(judge, finding, "`%s` takes fuel from `%s` back to `%s`, until that runs over",
                say_name(judge, line), say_name(judge, source), say_name(judge, back));
    finding_note(judge, finding, place_of(judge, feed, PROP_FUEL_LINE_FROM), "it comes from here");
    finding_remedy(judge, finding, "to %s", say_name(judge, source));
}

static void judge_fuel_shut(Judge *judge, const Entity *line)
{
    const Entity *from = entity_reference(line, PROP_FUEL_LINE_FROM);
    const Entity *to = entity_reference(line, PROP_FUEL_LINE_TO);
    if (from == NULL || to == NULL || has_mistake(line, PROP_FUEL_LINE_RETURN)) {
        judge_waiting(judge);
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
    if (from->kind == KIND_TANK) {
        judge_part(judge, line, PROP_FUEL_LINE_SHUT_OFF, "a valve at the tank that shuts it");
    }
    if (to->kind == KIND_ENGINE || to->kind == KIND_GENERATOR) {
        judge_feed(judge, line);
    }
}

/* ---- day-told-twice ------------------------------------------------------------------------------------ */

/*
 * Of two estimates the one is to lie within parts of the other. Power is compared, in which the fuel for each kWh is the same
 * on both sides; rates only where they come from measured points.
 */
static Finding *compare_both(Judge *judge, const Entity *day, const Figure *by_engine, const Figure *by_boat)
{
    double times = drive_limit(DRIVE_RATES_APART)->value;
    Span place = place_of(judge, day, PROP_DAY_ENGINE);
    Side most = side_figure(by_boat), least = most;
    most.value = interval_scale(most.value, times);
    least.value = interval_scale(least.value, 1.0 / times);
    Finding *finding = judge_at_most(judge, day, place, side_figure(by_engine), most);
    return finding != NULL || by_engine->state != STATE_KNOWN
               ? finding
               : judge_at_least(judge, day, place, side_figure(by_engine), least);
}

static void say_both(Judge *judge, Finding *finding, const Entity *day, const Entity *engine)
{
    const Figure *turns = figure_find(judge->figures, engine, FIGURE_TURNS, day);
    bool burns = burns_fuel(engine);
    const Figure *by_engine =
        figure_find(judge->figures, engine, burns ? FIGURE_RUNNING_RATE : FIGURE_RUNNING_POWER, day);
    const Figure *by_boat = figure_find(judge->figures, engine, burns ? FIGURE_FUEL_RATE : FIGURE_NEEDED_POWER, day);
    Side speed = side_value(judge, day, PROP_DAY_DISTANCE, 1);
    finding_at(finding, engine);
    finding_say(judge, finding, "`%s` %s %s as fast as `%s` lets it turn; %s takes %s%s", say_name(judge, engine),
                burns ? "burns" : "gives", say_figure(judge, by_engine), say_name(judge, day), say_side(judge, speed),
                say_figure(judge, by_boat),
                finding->verdict == VERDICT_OPEN || !burns
                    ? ""
                    : ": the tanks of that day go by the first, and her range by the second");
    finding_note(judge, finding, place_of(judge, day, PROP_DAY_DISTANCE), "the speed that is told of the boat");
    if (turns != NULL && turns->state == STATE_KNOWN && turns->remark == NULL) {
        finding_remedy(judge, finding, "about %s of the engine for that speed", say_figure(judge, turns));
    }
    finding_remedy(judge, finding, "another speed in `distance`");
    if (burns) {
        finding_remedy(judge, finding, "`consumption` of `%s`, as measured at two or three speeds", say_name(judge, engine));
    }
}

/* A day that asks for more turns than the engine has; what it burns then is not asked. */
static bool judge_turns(Judge *judge, const Entity *day, const Entity *engine)
{
    Side most = side_value(judge, engine, PROP_ENGINE_RATED, 1);
    most.value = interval_scale(most.value, drive_limit(DRIVE_TURNS_MOST)->value);
    for (const Property *p = entity_property(day, PROP_DAY_ENGINE); p != NULL; p = block_next(&day->block, p)) {
        Block line = {.properties = p, .count = 1, .has = ~(uint64_t)0};
        if (property_value(p, 1)->kind != VALUE_QUANTITY) {
            continue;
        }
        Side speed = side_block_value(judge, day, &line, PROP_DAY_ENGINE, 1);
        Finding *finding = judge_at_most(judge, day, property_span(judge->model, p), speed, most);
        if (finding != NULL) {
            finding_at(finding, engine);
            finding_say(judge, finding, "`%s` lets `%s` turn at %s; it is rated at %s, and turns little faster than that",
                        say_name(judge, day), say_name(judge, engine), say_side(judge, speed),
                        say_side(judge, side_value(judge, engine, PROP_ENGINE_RATED, 1)));
            finding_note(judge, finding, place_of(judge, engine, PROP_ENGINE_RATED), "rated here");
            return true;
        }
    }
    return false;
}

static void judge_rates(Judge *judge, const Entity *day, const Entity *engine)
{
    if (judge_turns(judge, day, engine)) {
        return;
    }
    bool measured = entity_states(engine, PROP_ENGINE_CONSUMPTION);
    const Figure *by_engine =
        figure_find(judge->figures, engine, measured ? FIGURE_RUNNING_RATE : FIGURE_RUNNING_POWER, day);
    const Figure *by_boat =
        figure_find(judge->figures, engine, measured ? FIGURE_FUEL_RATE : FIGURE_NEEDED_POWER, day);
    Finding *finding =
        by_engine == NULL || by_boat == NULL ? NULL : compare_both(judge, day, by_engine, by_boat);
    if (finding != NULL) {
        say_both(judge, finding, day, engine);
    }
}

/* One that does not sail goes as long as an engine runs. */
static void judge_times(Judge *judge, const Entity *day)
{
    const Figure *way = figure_of(judge, day, FIGURE_UNDER_WAY);
    const Figure *runs = figure_of(judge, day, FIGURE_ENGINE_TIME);
    Side least = side_figure(way);
    least.value = interval_scale(least.value, drive_limit(DRIVE_TIME_APART)->value);
    Finding *finding = judge_at_least(judge, day, place_of(judge, day, PROP_DAY_ENGINE), side_figure(runs), least);
    if (finding == NULL) {
        return;
    }
    finding_about(finding, PROP_DAY_DISTANCE);
    finding_say(judge, finding,
                "on `%s` she is under way for %s, and the engine runs %s: the fuel of that day is counted for the second, and "
                "`%s` states no sails",
                say_name(judge, day), say_figure(judge, way), say_figure(judge, runs), say_name(judge, judge->model->boat));
    finding_note(judge, finding, place_of(judge, day, PROP_DAY_DISTANCE), "so far, and so fast");
    finding_remedy(judge, finding, "`engine %s at ...` on that day", say_figure(judge, way));
}

static void judge_day_told_twice(Judge *judge, const Entity *day)
{
    const Model *model = judge->model;
    if (first_aboard(model, KIND_ENGINE) == NULL) {
        return;
    }
    if (entity_states(day, PROP_DAY_DISTANCE) && model->boat != NULL && entity_yes(model->boat, PROP_BOAT_SAILS) == 0) {
        judge_times(judge, day);
    }
    for (const Entity *e = first_aboard(model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        judge_rates(judge, day, e);
    }
}

/* ---- consumption-falls --------------------------------------------------------------------------------- */

static Side rate_of(Judge *judge, const Entity *engine, const Property *point, unsigned slot)
{
    Block line = {.properties = point, .count = 1, .has = ~(uint64_t)0};
    return side_block_value(judge, engine, &line, PROP_ENGINE_CONSUMPTION, slot);
}

static bool is_point_of_curve(const Property *point)
{
    return property_value(point, 0)->kind == VALUE_QUANTITY && !(point->flags & PROPERTY_BROKEN);
}

/* The faster of two points is to burn no less; false once something is found. */
static bool judge_points(Judge *judge, const Entity *engine, const Property *slow, const Property *fast)
{
    Side slower = rate_of(judge, engine, slow, 0), faster = rate_of(judge, engine, fast, 0);
    Side less = rate_of(judge, engine, slow, 1), more = rate_of(judge, engine, fast, 1);
    Span place = property_span(judge->model, fast);
    Finding *finding = NULL;
    if (faster.value.low > slower.value.high) {
        finding = judge_at_least(judge, engine, place, more, less);
    } else if (faster.value.high > slower.value.low && more.value.low < less.value.high) {
        finding = judge_open(judge, engine, place, engine, PROP_ENGINE_CONSUMPTION); /* which is the faster is not decided */
    }
    if (finding == NULL) {
        return true;
    }
    finding_say(judge, finding, "`%s` burns %s at %s, and %s at %s: on its propeller it burns more the faster it turns",
                say_name(judge, engine), say_side(judge, more), say_side(judge, faster), say_side(judge, less),
                say_side(judge, slower));
    finding_note(judge, finding, property_span(judge->model, slow), "more here, and slower");
    return false;
}

static void judge_consumption_falls(Judge *judge, const Entity *engine)
{
    const Property *first = entity_property(engine, PROP_ENGINE_CONSUMPTION);
    for (const Property *p = first; p != NULL; p = block_next(&engine->block, p)) {
        for (const Property *q = first; q != NULL; q = block_next(&engine->block, q)) {
            bool both = p != q && is_point_of_curve(p) && is_point_of_curve(q);
            if (both && !judge_points(judge, engine, p, q)) {
                return;
            }
        }
    }
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define TANK(SAYS) EXAMPLE_BOAT "tank fuel { holds fuel; capacity 200 l; " SAYS " }\n"
#define CURVE(SAYS) HULL DIESEL("rated 28 kW at 3000 rpm; " SAYS)
#define UNDER_WAY(SAYS) \
    HULL DIESEL("rated 28 kW at 3000 rpm; specific 240 g/kWh") "day passage { distance 28 nmi at 6 kn; " SAYS " }\n"
#define LINE(SAYS)                                                                                  \
    EXAMPLE_BOAT "tank fuel { holds fuel; capacity 200 l; vent 16 mm; fill 38 mm; grounded yes }\n" \
                 "engine diesel { rated 28 kW at 3000 rpm; fuel diesel }\n"                         \
                 "fuel-line feed { from fuel; to diesel; " SAYS " }\n"

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
         "openings into the hull, is for the eye. A tank that can be carried (`portable yes`) is not asked.",
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
            "lies or ends in an engine's space. Petrol asks for A1 there, and for A everywhere. An outboard "
            "hangs outside: a line to it comes near no engine, and its petrol asks for nothing here.",
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
         "one at sea. On runs of more than 3.65 m (12 ft) a second valve belongs at the engine, which is not "
         "judged.",
     .breaks = LINE("grade A1; shut-off no; filter 10 um; separator yes"),
     .holds = LINE("grade A1; shut-off yes; filter 10 um; separator yes"),
     .open = LINE("grade A1; filter 10 um; separator yes"),
     .kinds = {KIND_FUEL_LINE},
     .judge = judge_fuel_shut},
    {.name = "consumption-falls",
     .severity = SEVERITY_WARNING,
     .title = "an engine's consumption rises with its speed",
     .basis = ON_BOTH,
     .source = "propeller law, from memory",
     .why = "A propeller that turns faster takes more, and so does the engine. A point of `consumption` that lies below that "
            "of a lower speed is a slip or a bad reading, and range and the tanks of each day go by it.",
     .breaks = CURVE("consumption 1400 rpm 2.2 l/h; consumption 2000 rpm 0.9 l/h"),
     .holds = CURVE("consumption 1400 rpm 1.2 l/h; consumption 2000 rpm 2.9 l/h"),
     .open = CURVE("consumption 1400 rpm 1.2 l/h; consumption 2000 rpm 0.9..2.9 l/h"),
     .kinds = {KIND_ENGINE},
     .judge = judge_consumption_falls},
    {.name = "day-told-twice",
     .severity = SEVERITY_WARNING,
     .title = "a day under way says the same by its engine as by its distance",
     .basis = ON_BOTH,
     .source = "Propeller Handbook, formula 2-1, or Crouch's (verified); propeller law, from memory; that half as much again "
               "is a contradiction: a choice of this program",
     .why = "`engine 5 h at 2100 rpm` says what the day burns by the propeller law or the engine's `consumption`; `distance "
            "28 nmi at 6 kn` says it by what her hull takes at that speed. The tanks of the day are counted by the first, "
            "range by the second. Both are estimates, and may be a third apart; what is farther apart is told, for one of the "
            "two is wrong: a slip, a hull that is heavier than it says, or a propeller that does not fit. A boat without "
            "sails (`sails no`) is also asked whether her engine runs as long as she goes; and no day lets an engine turn "
            "faster than it can.",
     .breaks = UNDER_WAY("engine 4.7 h at 2900 rpm"),
     .holds = UNDER_WAY("engine 4.7 h at 2350 rpm"),
     .open = UNDER_WAY("engine 4.7 h at 2300..2900 rpm"),
     .kinds = {KIND_DAY},
     .judge = judge_day_told_twice},
};
const RuleFamily rules_fuel = RULE_FAMILY("Fuel", rules);
