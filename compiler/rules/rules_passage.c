/*
 * Under way: whether what the spec says of the engine's speed, of the boat's, and of what the engine burns agrees.
 */
#include "figures/drive.h"
#include "base/num.h"
#include "rules/ask.h"
#include "rules/drive_examples.h"
#include "rules/families.h"

static const double whole_day_s = 24.0 * 3600.0;

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

/* "`port` and 1 engine like it each burn" */
static const char *say_engines(Judge *judge, const Entity *engine, unsigned like_it, const char *one, const char *several)
{
    return like_it == 0 ? text_format(judge->arena, "`%s` %s", say_name(judge, engine), one)
                        : text_format(judge->arena, "`%s` and %u engine%s like it each %s", say_name(judge, engine), like_it,
                                      like_it == 1 ? "" : "s", several);
}

/* Up to where the two are taken to agree: the side of it that is passed. */
static const char *say_bound(Judge *judge, const Finding *finding, const Figure *by_boat)
{
    double times = drive_limit(DRIVE_RATES_APART)->value;
    bool above = finding->limit.low > by_boat->low;
    Side bound = side_figure(by_boat);
    bound.value = interval_scale(bound.value, above ? times : 1.0 / times);
    return text_format(judge->arena, "%s to %s, %s times %s, the two are taken to agree", above ? "up" : "down",
                       say_side(judge, bound), num_text(judge->arena, times, 6), above ? "as much" : "less");
}

/* Another one that drives her with it, of another power; false where there is none, or they are counted alike. */
static bool drives_with_another(const Model *model, const Entity *day, const Entity *engine)
{
    Interval own = point(0.0), others = point(0.0);
    for (const Entity *e = first_driving_on(model, day); e != NULL; e = next_driving_on(model, e, day)) {
        bool rated = entity_quantity(engine, PROP_ENGINE_RATED, 0, &own) && entity_quantity(e, PROP_ENGINE_RATED, 0, &others);
        if (e != engine && rated && (own.low != others.low || own.high != others.high)) {
            return true;
        }
    }
    return false;
}

static void say_both(Judge *judge, Finding *finding, const Entity *day, const Entity *engine, unsigned like_it)
{
    const Figure *turns = figure_find(judge->figures, engine, FIGURE_TURNS, day);
    bool burns = burns_fuel(engine);
    const Figure *by_engine =
        figure_find(judge->figures, engine, burns ? FIGURE_RUNNING_RATE : FIGURE_RUNNING_POWER, day);
    const Figure *by_boat = figure_find(judge->figures, engine, burns ? FIGURE_FUEL_RATE : FIGURE_NEEDED_POWER, day);
    Side speed = side_value(judge, day, PROP_DAY_DISTANCE, 1);
    finding_at(finding, engine);
    finding_say(judge, finding, "%s %s as fast as `%s` lets it turn; %s takes %s%s",
                say_engines(judge, engine, like_it, burns ? "burns" : "gives", burns ? "burn" : "give"), say_figure(judge, by_engine),
                say_name(judge, day), say_side(judge, speed), say_figure(judge, by_boat),
                finding->verdict == VERDICT_OPEN ? ""
                : burns ? ": the tanks of that day go by the first, and her range by the second"
                        : ": the bank of that day goes by the first, and her range by the second");
    finding_note(judge, finding, place_of(judge, day, PROP_DAY_DISTANCE), "the speed that is told of the boat: %s",
                 say_bound(judge, finding, by_boat));
    /* How fast it turns then is reckoned from its rated power; one that has measured points knows better. */
    if (turns != NULL && turns->state == STATE_KNOWN && turns->remark == NULL && !states_taken(engine, true)) {
        finding_remedy(judge, finding, "about %s of the engine for that speed", say_figure(judge, turns));
    }
    finding_remedy(judge, finding, "another speed in `distance`");
    if (drives_with_another(judge->model, day, engine)) {
        finding_remedy(judge, finding, "`alone yes` of the engine that does not run together with the others");
    }
    finding_remedy(judge, finding, "`%s` of `%s`%s, as measured at two or three speeds",
                   props[burns ? PROP_ENGINE_CONSUMPTION : PROP_ENGINE_TAKES].word, say_name(judge, engine),
                   like_it > 0 ? " and of those like it" : "");
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

/* By what it is compared: rates where it has measured points, power otherwise. */
static const Figure *figure_by_engine(Judge *judge, const Entity *day, const Entity *engine)
{
    bool measured = entity_states(engine, PROP_ENGINE_CONSUMPTION);
    return figure_find(judge->figures, engine, measured ? FIGURE_RUNNING_RATE : FIGURE_RUNNING_POWER, day);
}

static const Figure *figure_by_boat(Judge *judge, const Entity *day, const Entity *engine)
{
    bool measured = entity_states(engine, PROP_ENGINE_CONSUMPTION);
    return figure_find(judge->figures, engine, measured ? FIGURE_FUEL_RATE : FIGURE_NEEDED_POWER, day);
}

static bool same_figure(const Figure *one, const Figure *other)
{
    return one != NULL && other != NULL && one->state == STATE_KNOWN && other->state == STATE_KNOWN && one->id == other->id &&
           one->low == other->low && one->high == other->high;
}

/* Twin engines are told of once: so many that follow one in the spec run as it does. */
static unsigned count_alike(Judge *judge, const Entity *day, const Entity *engine)
{
    Interval speed, other;
    unsigned count = 0;
    const Figure *by_engine = figure_by_engine(judge, day, engine), *by_boat = figure_by_boat(judge, day, engine);
    for (const Entity *e = next_driving_on(judge->model, engine, day); e != NULL; e = next_driving_on(judge->model, e, day)) {
        bool rated = entity_quantity(engine, PROP_ENGINE_RATED, 1, &speed) && entity_quantity(e, PROP_ENGINE_RATED, 1, &other);
        if (!rated || speed.low != other.low || speed.high != other.high ||
            !same_figure(by_engine, figure_by_engine(judge, day, e)) || !same_figure(by_boat, figure_by_boat(judge, day, e))) {
            break;
        }
        count++;
    }
    return count;
}

static void judge_rates(Judge *judge, const Entity *day, const Entity *engine, unsigned like_it)
{
    if (judge_turns(judge, day, engine)) {
        return;
    }
    const Figure *by_engine = figure_by_engine(judge, day, engine), *by_boat = figure_by_boat(judge, day, engine);
    Finding *finding =
        by_engine == NULL || by_boat == NULL ? NULL : compare_both(judge, day, by_engine, by_boat);
    if (finding != NULL) {
        say_both(judge, finding, day, engine, like_it);
    }
}

static bool some_engine_burns(const Model *model)
{
    const Entity *engine = first_aboard(model, KIND_ENGINE);
    while (engine != NULL && !burns_fuel(engine)) {
        engine = next_aboard(engine);
    }
    return engine != NULL;
}

/*
 * One that does not sail goes as long as an engine runs. Hours that are those of the distance are as many as she is under way,
 * however far that is from being decided; but a day has no more than 24 of them.
 */
static void judge_times(Judge *judge, const Entity *day)
{
    const Figure *way = figure_of(judge, day, FIGURE_UNDER_WAY);
    const Figure *runs = figure_of(judge, day, FIGURE_ENGINE_TIME);
    bool by_distance = engine_by_distance(day);
    Side least = side_figure(way), most = side_figure(runs);
    least.value = interval_scale(least.value, drive_limit(DRIVE_TIME_APART)->value);
    most.value = by_distance ? point(whole_day_s) : most.value;
    Finding *finding = judge_at_least(judge, day, place_of(judge, day, PROP_DAY_ENGINE), most, least);
    if (finding == NULL) {
        return;
    }
    finding_about(finding, PROP_DAY_DISTANCE);
    finding_say(judge, finding,
                "on `%s` she is under way for %s and has no sails (`sails no`), but the engine runs %s: no more than that is "
                "counted of %s",
                say_name(judge, day), say_figure(judge, way), say_figure(judge, runs),
                some_engine_burns(judge->model) ? "the fuel that she burns" : "what she takes from her bank");
    finding_note(judge, finding, place_of(judge, day, PROP_DAY_DISTANCE), "so far, and so fast");
    if (by_distance) {
        finding_remedy(judge, finding, "as far in `distance`, and as fast, as she goes in 24 h");
        return;
    }
    finding_remedy(judge, finding, "`engine %s at ...` on that day", say_figure(judge, way));
}

/* One that sails, or may: of a day that says how far she goes and nothing of the engine, all is taken to be sailed. */
static void judge_sailed(Judge *judge, const Entity *day, int sails)
{
    const Model *model = judge->model;
    const Figure *way = figure_of(judge, day, FIGURE_UNDER_WAY);
    if (way == NULL || way->state != STATE_KNOWN) {
        judge_waiting(judge);
        return;
    }
    Finding *finding = judge_open(judge, day, place_of(judge, day, PROP_DAY_DISTANCE), day, PROP_DAY_ENGINE);
    finding_severity(finding, SEVERITY_ADVICE);
    finding_say(judge, finding, "`%s` says how far she goes and states no `engine`: it is taken that she sails for all of %s, and %s",
                say_name(judge, day), say_figure(judge, way),
                some_engine_burns(model) ? "no fuel is counted" : "nothing is counted that her motor takes from its bank");
    finding_remedy(judge, finding, "`engine %s at ...` on that day, or as long as she goes under engine", say_figure(judge, way));
    finding_remedy(judge, finding, "`engine 0 h`, if she sails all of it");
    if (sails == -1) {
        finding_remedy(judge, finding, "`sails no` of `%s`, if she has none", say_name(judge, model->boat));
    }
}

static void judge_day_told_twice(Judge *judge, const Entity *day)
{
    const Model *model = judge->model;
    if (first_aboard(model, KIND_ENGINE) == NULL) {
        return;
    }
    int sails = entity_yes(model->boat, PROP_BOAT_SAILS);
    if (entity_states(day, PROP_DAY_DISTANCE) && sails == 0) {
        judge_times(judge, day);
    } else if (entity_states(day, PROP_DAY_DISTANCE) && !entity_states(day, PROP_DAY_ENGINE) && sails != -2 && first_driving(model) != NULL) {
        judge_sailed(judge, day, sails);
    }
    for (const Entity *e = first_driving_on(model, day); e != NULL; e = next_driving_on(model, e, day)) {
        unsigned like_it = count_alike(judge, day, e);
        judge_rates(judge, day, e, like_it);
        while (like_it-- > 0) {
            e = next_driving_on(model, e, day);
        }
    }
}

/* ---- consumption-falls --------------------------------------------------------------------------------- */

static Side rate_of(Judge *judge, const Entity *engine, const Property *point, unsigned slot)
{
    Block line = {.properties = point, .count = 1, .has = ~(uint64_t)0};
    return side_block_value(judge, engine, &line, (PropId)point->id, slot);
}

/* Turns are compared with turns, and speeds of the boat with such. */
static bool is_of_one_curve(const Property *one, const Property *other)
{
    return (unit_tag(property_value(one, 0)->unit) == TAG_TURNING) == (unit_tag(property_value(other, 0)->unit) == TAG_TURNING);
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
        finding = judge_open(judge, engine, place, engine, (PropId)fast->id); /* which is the faster is not decided */
    }
    if (finding == NULL) {
        return true;
    }
    bool burns = fast->id == PROP_ENGINE_CONSUMPTION;
    finding_say(judge, finding, "`%s` %s %s at %s, and %s at %s: on its propeller it %s more the faster it turns", say_name(judge, engine),
                burns ? "burns" : "takes", say_side(judge, more), say_side(judge, faster), say_side(judge, less), say_side(judge, slower),
                burns ? "burns" : "takes");
    finding_note(judge, finding, property_span(judge->model, slow), "more here, and slower");
    return false;
}

static void judge_consumption_falls(Judge *judge, const Entity *engine)
{
    const Property *first = entity_property(engine, burns_fuel(engine) ? PROP_ENGINE_CONSUMPTION : PROP_ENGINE_TAKES);
    for (const Property *p = first; p != NULL; p = block_next(&engine->block, p)) {
        for (const Property *q = first; q != NULL; q = block_next(&engine->block, q)) {
            bool both = p != q && is_point_of_curve(p) && is_point_of_curve(q) && is_of_one_curve(p, q);
            if (both && !judge_points(judge, engine, p, q)) {
                return;
            }
        }
    }
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define CURVE(SAYS) HULL DIESEL("rated 28 kW at 3000 rpm; " SAYS)
#define UNDER_WAY(SAYS) \
    HULL DIESEL("rated 28 kW at 3000 rpm; specific 240 g/kWh") "day passage { distance 28 nmi at 6 kn; " SAYS " }\n"

static const Rule rules[] = {
    {.name = "consumption-falls",
     .severity = SEVERITY_WARNING,
     .title = "an engine's consumption rises with its speed",
     .basis = ON_BOTH,
     .source = "propeller law, from memory",
     .why = "A propeller that turns faster takes more, and so does the engine. A point of `consumption`, or of what an electric "
            "one `takes`, that lies below that of a lower speed is a slip or a bad reading, and range and the tanks of each day go by it.",
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
     .why = "`engine 5 h at 2100 rpm` says what the day burns by the propeller law or the engine's `consumption` or `takes`; `distance "
            "28 nmi at 6 kn` says it by what her hull takes at that speed. The tanks of the day, or the bank, are counted by the first, "
            "range by the second. Both are estimates, and may be a third apart; what is farther apart is told, for one of the "
            "two is wrong: a slip, a hull that is heavier than it says, or a propeller that does not fit. A boat without "
            "sails (`sails no`) is also asked whether her engine runs as long as she goes; where the day says nothing of the "
            "engine, it is counted for as long. Of one that may sail such a day is taken to be sailed, and that is told: "
            "`engine 0 h` says that it is so. And no day lets an engine turn faster than it can.",
     .breaks = UNDER_WAY("engine 4.7 h at 2900 rpm"),
     .holds = UNDER_WAY("engine 4.7 h at 2350 rpm"),
     .open = UNDER_WAY("engine 4.7 h at 2300..2900 rpm"),
     .kinds = {KIND_DAY},
     .judge = judge_day_told_twice},
};
const RuleFamily rules_passage = RULE_FAMILY("Under way", rules);
