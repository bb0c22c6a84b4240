/*
 * Two rules of the family rules_drive: raw-water and engine-air. What an engine takes in: water to cool it, and air
 * to burn.
 */
#include "rules/drive_rules.h"

#include "figures/drive.h"
#include "rules/plumbing.h"
#include "rules/upstream.h"

const Figure *intake_need(const Judge *judge, const Entity *engine, const Entity *thing)
{
    const Figure *shared = figure_find(judge->figures, engine, FIGURE_INTAKE_NEED, thing);
    return shared != NULL ? shared : figure_of(judge, engine, FIGURE_INTAKE_NEED);
}

const char *say_with_others(const Figure *need)
{
    return need->at != NULL ? " and that of all that draw by it" : "";
}

static void judge_intake(Judge *judge, const Entity *engine, const Entity *fitting)
{
    const Figure *least = intake_need(judge, engine, fitting);
    Side bore = side_value(judge, fitting, PROP_THROUGH_HULL_BORE, 0);
    Finding *finding = judge_at_least(judge, engine, place_of(judge, fitting, PROP_THROUGH_HULL_BORE), bore,
                                      side_figure(least));
    if (finding != NULL) {
        finding_at(finding, fitting);
        finding_say(judge, finding, "the intake `%s` has a bore of %s; for the power of `%s`%s %s is the least",
                    say_name(judge, fitting), say_side(judge, bore), say_name(judge, engine), say_with_others(least),
                    say_figure(judge, least));
    }
}

/* With a dry exhaust it may be the keel, the air or the sea that takes its heat. */
static void judge_cooling_said(Judge *judge, const Entity *engine)
{
    if (!burns_within(engine) || is_cooled_by_the_sea(engine)) {
        return;
    }
    if (has_mistake(engine, PROP_ENGINE_COOLING)) {
        judge_waiting(judge);
    } else if (entity_states(engine, PROP_ENGINE_COOLING) || entity_states(engine, PROP_ENGINE_RAW_WATER)) {
        judge_holds(judge);
    } else {
        Finding *finding = judge_open(judge, engine, place_of_name(judge, engine), engine, PROP_ENGINE_COOLING);
        finding_say(judge, finding, "the exhaust of `%s` is dry, and nothing says what takes the heat of the engine itself", say_name(judge, engine));
        finding_remedy(judge, finding, "`cooling keel`, `cooling air` or `cooling sea`, whichever is so");
    }
}

/* To three digits, upwards: what has 10 ft2 is short of 10.03 ft2, and nobody is told that 10 ft2 are asked. */
static double asked_up(double si, UnitPair unit)
{
    double number = unit_from_si(unit, si);
    if (!isfinite(number) || number <= 0.0) {
        return si;
    }
    double step = pow(10.0, floor(log10(number)) - 2.0);
    return unit_to_si(unit, ceil(number / step - 1e-9) * step);
}

void judge_keel_cooler(Judge *judge, const Entity *engine)
{
    const Figure *need = figure_of(judge, engine, FIGURE_KEEL_COOLER_NEED);
    if (need == NULL) {
        return; /* cooled by something else, or by a cooler of another metal */
    }
    Side skin = side_value(judge, engine, PROP_ENGINE_KEEL_COOLER, 0);
    Finding *finding =
        judge_at_least(judge, engine, place_of(judge, engine, PROP_ENGINE_KEEL_COOLER), skin, side_figure(need));
    if (finding != NULL) {
        Interval asked = {asked_up(need->low, need->unit), asked_up(need->high, need->unit)};
        finding_say(judge, finding, "the keel cooler of `%s` has %s of skin in the water; of painted steel its power takes %s",
                    say_name(judge, engine), say_side(judge, skin), say_side(judge, side_interval(asked, need->unit)));
        finding_remedy(judge, finding, "keel-cooler %s or more, or what the maker of engine and cooler says",
                       say_up(judge, need->high, need->unit));
    }
}

void judge_raw_water(Judge *judge, const Entity *engine)
{
    judge_cooling_said(judge, engine);
    const Figure *need = figure_of(judge, engine, FIGURE_RAW_WATER_NEED);
    if (!is_cooled_by_the_sea(engine) || need == NULL) {
        return;
    }
    Side flow = side_value(judge, engine, PROP_ENGINE_RAW_WATER, 0);
    Finding *finding = judge_at_least(judge, engine, place_of(judge, engine, PROP_ENGINE_RAW_WATER), flow,
                                      side_figure(need));
    if (finding != NULL) {
        finding_say(judge, finding, "the pump of `%s` moves %s of sea water; its power takes about %s",
                    say_name(judge, engine), say_side(judge, flow), say_figure(judge, need));
        finding_remedy(judge, finding, "what its pump moves at rated speed, by its maker's sheet: raw-water %s or more",
                       say_up(judge, need->high, flow.unit));
        if (!entity_states(engine, PROP_ENGINE_COOLING)) {
            finding_remedy(judge, finding, "`cooling keel` or `cooling air`, if this pump cools its exhaust alone");
        }
    }
    for (const Entity *e = first_aboard(judge->model, KIND_THROUGH_HULL); e != NULL; e = next_aboard(e)) {
        if (entity_names(e, PROP_THROUGH_HULL_SERVES, engine)) {
            judge_intake(judge, engine, e);
        }
    }
}

/* A blower in the same space that says what it moves; NULL if there is none. */
static const Entity *blower_beside(const Judge *judge, const Entity *space)
{
    const Entity *blower = first_aboard(judge->model, KIND_BLOWER);
    while (blower != NULL && (entity_reference(blower, PROP_COMMON_SPACE) != space ||
                              !entity_states(blower, PROP_BLOWER_FLOW))) {
        blower = next_aboard(blower);
    }
    return blower;
}

/* Whether an engine breathes in a space with others, and all of them are looked at with the first. */
static bool breathes_with(const Entity *engine, const Entity *space)
{
    return breathes_within(engine) && entity_reference(engine, PROP_COMMON_SPACE) == space;
}

static const Entity *next_breathing(const Judge *judge, const Entity *engine)
{
    const Entity *next = next_aboard(engine);
    return next == NULL && engine->kind == KIND_ENGINE ? first_aboard(judge->model, KIND_GENERATOR) : next;
}

/* Engines, then generators. */
static const Entity *first_breathing(const Judge *judge)
{
    const Entity *first = first_aboard(judge->model, KIND_ENGINE);
    return first != NULL ? first : first_aboard(judge->model, KIND_GENERATOR);
}

static bool is_looked_at_before(const Judge *judge, const Entity *engine, const Entity *space)
{
    const Entity *first = first_breathing(judge);
    while (first != engine && !breathes_with(first, space)) {
        first = next_breathing(judge, first);
    }
    return first != engine;
}

/* "`main-engine` takes", "`port` and `starboard` take" */
static const char *say_breathing(const Judge *judge, const Entity *space)
{
    enum { NAMED = 4 };
    const Entity *named[NAMED];
    uint32_t count = 0;
    for (const Entity *e = first_breathing(judge); e != NULL; e = next_breathing(judge, e)) {
        if (breathes_with(e, space) && count++ < NAMED) {
            named[count - 1] = e;
        }
    }
    return text_format(judge->arena, "%s %s", say_names(judge, named, count < NAMED ? count : NAMED, count),
                       count == 1 ? "takes" : "take");
}

static void judge_openings(Judge *judge, const Entity *engine, const Entity *space)
{
    const Figure *need = figure_of(judge, engine, FIGURE_AIR_OPENING);
    Side area = side_value(judge, space, PROP_SPACE_OPENINGS, 0);
    Finding *finding =
        judge_at_least(judge, engine, place_of(judge, space, PROP_SPACE_OPENINGS), area, side_figure(need));
    if (finding != NULL) {
        finding_at(finding, space);
        finding_say(judge, finding, "`%s` lets air in through %s; %s %s to breathe and to keep cool",
                    say_name(judge, space), say_side(judge, area), say_breathing(judge, space),
                    say_figure(judge, need));
        finding_remedy(judge, finding, "openings %s", say_up(judge, need->high, need->unit));
    }
}

static void judge_blower(Judge *judge, const Entity *engine, const Entity *blower)
{
    const Figure *need = figure_of(judge, engine, FIGURE_AIR_FLOW);
    PropId prop = entity_states(blower, PROP_BLOWER_OUTPUT) ? PROP_BLOWER_OUTPUT : PROP_BLOWER_FLOW;
    Side flow = side_value(judge, blower, prop, 0);
    Finding *finding = judge_at_least(judge, engine, place_of(judge, blower, prop), flow, side_figure(need));
    if (finding != NULL) {
        finding_at(finding, blower);
        finding_say(judge, finding, "`%s` moves %s of air; %s %s to breathe and to keep cool",
                    say_name(judge, blower), say_side(judge, flow),
                    say_breathing(judge, entity_reference(engine, PROP_COMMON_SPACE)),
                    say_figure(judge, need));
    }
}

void judge_engine_air(Judge *judge, const Entity *engine)
{
    const Entity *space = entity_reference(engine, PROP_COMMON_SPACE);
    if (!breathes_within(engine)) {
        return;
    }
    if (has_mistake(engine, PROP_COMMON_SPACE)) {
        judge_waiting(judge);
    } else if (space == NULL) {
        judge_unmeasured(judge, engine, PROP_COMMON_SPACE);
    } else if (is_looked_at_before(judge, engine, space)) {
        return;
    } else if (!entity_states(space, PROP_SPACE_OPENINGS) && blower_beside(judge, space) != NULL) {
        judge_blower(judge, engine, blower_beside(judge, space));
    } else {
        judge_openings(judge, engine, space);
    }
}
