/*
 * One rule of the family rules_drive: exhaust-riser. What keeps the sea out of an engine by its exhaust: an elbow that stands high, or
 * a vented loop between its pump and that elbow.
 */
#include "rules/drive_rules.h"

#include "figures/drive.h"
#include "physics/hull.h"
#include "rules/plumbing.h"

#include <math.h>

/*
 * A foot is 300 mm in metric papers of installation, from memory: what keeps to them is not 5 mm short. Whatever the unit, the
 * same height has one verdict.
 */
static double least_riser_m(void)
{
    static const double rounding_m = 0.0048;
    return hull_limit(LIMIT_EXHAUST_RISER)->value - rounding_m;
}

/* As it is told: a foot where the owner measures in feet. */
static double told_riser_m(UnitPair unit)
{
    return unit.unit == UNIT_FT || unit.unit == UNIT_IN ? hull_limit(LIMIT_EXHAUST_RISER)->value : least_riser_m();
}

/* Whether the water of a hose comes from the engine's pump, joints between or not. */
static bool comes_behind(const Judge *judge, const Entity *hose, const Entity *engine)
{
    FarEnds ends;
    joint_ends(plumbing_of(judge->figures), hose, entity_reference(hose, PROP_HOSE_FROM), FOLLOW_BACK, &ends);
    return is_end(&ends, engine);
}

static Answer loop_clears(const Judge *judge, const Entity *loop)
{
    return ask_at_least(side_value(judge, loop, PROP_VENT_LOOP_HEIGHT, 0), least_height(judge, loop));
}

/*
 * A vented loop between the engine's pump and its elbow keeps the sea from siphoning in behind a low elbow; in the hose to the
 * engine it would let the pump draw air, and break nothing behind it. Of several the best; NULL: none.
 */
static const Entity *loop_behind_pump(const Judge *judge, const Entity *engine, Answer *clears)
{
    const Entity *best = NULL;
    *clears = ANSWER_NO;
    for (const Entity *e = first_aboard(judge->model, KIND_VENT_LOOP); e != NULL && engine != NULL; e = next_aboard(e)) {
        const Entity *hose = entity_reference(e, PROP_VENT_LOOP_ON);
        if (hose == NULL || !comes_behind(judge, hose, engine)) {
            continue;
        }
        Answer answer = loop_clears(judge, e);
        if (best == NULL || *clears == ANSWER_NO || answer == ANSWER_YES) {
            best = e;
            *clears = answer;
        }
    }
    return best;
}

static void offer_higher_loop(Judge *judge, Finding *finding, const Entity *loop)
{
    Side least = least_height(judge, loop);
    UnitPair unit = unit_of(loop, PROP_VENT_LOOP_HEIGHT, least.unit);
    if (!side_is_known(least) || isinf(least.value.high)) {
        return;
    }
    if (is_over_deck_edge(judge, least.value.high) && !entity_states(loop, PROP_COMMON_AT)) {
        offer_nearer_middle(judge, finding, hull_limit(LIMIT_VENT_LOOP)->value, "the loop");
    } else {
        finding_remedy(judge, finding, "height %s of `%s`", say_up(judge, least.value.high, unit), say_name(judge, loop));
    }
}

/*
 * The elbow is low, or may be, and all that is behind the pump is a loop that is not known to clear the sea. By an air valve
 * under water water comes in, and no air: a fault; above it, though not as she heels, a warning.
 */
static void judge_riser_loop(Judge *judge, const Entity *exhaust, const Entity *loop, UnitPair unit)
{
    Side elbow = side_value(judge, exhaust, PROP_EXHAUST_RISER_ABOVE_WATERLINE, 0);
    Side top = side_value(judge, loop, PROP_VENT_LOOP_HEIGHT, 0), least = least_height(judge, loop);
    bool silent = top.state == STATE_MISSING;
    bool by_elbow = !silent && loop_clears(judge, loop) == ANSWER_NO && ask_at_least(elbow, side_number(least_riser_m(), unit)) == ANSWER_PERHAPS;
    Span place = silent ? place_of_name(judge, loop) : place_of(judge, loop, PROP_VENT_LOOP_HEIGHT);
    Finding *finding = silent ? judge_open(judge, exhaust, place, loop, PROP_VENT_LOOP_HEIGHT)
                       : by_elbow ? judge_at_least(judge, exhaust, place, elbow, side_number(least_riser_m(), unit))
                                  : judge_at_least(judge, exhaust, place, top, least);
    if (finding == NULL) {
        return;
    }
    finding_rests_on(judge, finding, exhaust, PROP_EXHAUST_RISER_ABOVE_WATERLINE);
    const char *low = text_format(judge->arena, "the mixing elbow of `%s` stands %s", say_name(judge, exhaust), say_from_water(judge, elbow));
    if (silent) {
        finding_say(judge, finding, "%s, and `%s`, the loop behind its engine's pump, does not say how high its top does", low, say_name(judge, loop));
    } else {
        finding_say(judge, finding, "%s, and `%s`, the loop behind its engine's pump, at %s; heeled, only %s is clear of the sea", low,
                    say_name(judge, loop), say_side(judge, top), say_clear(judge, least, top.unit));
        if (side_is_known(top) && top.value.low >= hull_limit(LIMIT_VENT_LOOP)->value) {
            finding_severity(finding, SEVERITY_WARNING);
        }
    }
    if (!entity_states(loop, PROP_COMMON_AT)) {
        finding_here(judge, finding, "taken to be at the side of the boat; `at` says where it is");
    }
    note_heel(judge, finding);
    offer_higher_loop(judge, finding, loop);
    finding_remedy(judge, finding, "riser-above-waterline %s", say_up(judge, told_riser_m(unit), unit));
}

/* So high above the waterline, or behind a vented loop that clears the sea above it at all. */
static void judge_elbow(Judge *judge, const Entity *exhaust, bool looped, UnitPair unit)
{
    Side height = side_value(judge, exhaust, PROP_EXHAUST_RISER_ABOVE_WATERLINE, 0);
    Span place = place_of(judge, exhaust, PROP_EXHAUST_RISER_ABOVE_WATERLINE);
    bool said = height.state != STATE_MISSING;
    Finding *finding = said ? judge_at_least(judge, exhaust, place, height, side_number(looped ? 0.0 : least_riser_m(), unit))
                            : judge_open(judge, exhaust, place, exhaust, PROP_EXHAUST_RISER_ABOVE_WATERLINE);
    if (finding == NULL) {
        return;
    }
    if (said) {
        finding_say(judge, finding, "the mixing elbow of `%s` stands %s; %s is the least%s",
                    say_name(judge, exhaust), say_from_water(judge, height), say_number(judge, looped ? 0.0 : told_riser_m(unit), unit),
                    looped ? " behind a vented loop" : "");
    } else {
        finding_say(judge, finding, "`%s` does not say how high its mixing elbow stands above the waterline",
                    say_name(judge, exhaust));
    }
    finding_remedy(judge, finding, "riser-above-waterline %s", say_up(judge, told_riser_m(unit), unit));
    if (!looped && !(height.state == STATE_KNOWN && height.value.high < 0.0)) {
        finding_remedy(judge, finding, "a `vent-loop` on a hose that leads from the engine's pump to the elbow, high above "
                                       "the water (never on the hose to the engine: its pump would draw air)");
    }
}

/* What one engine or generator blows into a pipe runs down into the other that stands: no riser keeps that out. */
static void judge_wet_alone(Judge *judge, const Entity *exhaust, const Entity *burner)
{
    const Entity *other = burner != NULL ? next_of_exhaust(judge->model, burner) : NULL;
    if (burner == NULL || entity_states(exhaust, PROP_COMMON_COUNT) ||
        (other == NULL && !entity_states(burner, PROP_COMMON_COUNT))) {
        return;
    }
    Side count = side_value(judge, burner, PROP_COMMON_COUNT, 0);
    Finding *finding = other != NULL ? judge_broken(judge, exhaust, place_of(judge, other, exhaust_prop(other)))
                                     : judge_at_most(judge, exhaust, place_of(judge, burner, PROP_COMMON_COUNT), count,
                                                     side_number(1.0, count.unit));
    if (finding != NULL) {
        finding_severity(finding, SEVERITY_WARNING);
        finding_matter(finding, "several engines");
        finding_say(judge, finding, "%s blow into `%s`, which is wet: the one that runs fills the other that stands",
                    other == NULL ? text_format(judge->arena, "several `%s`", say_name(judge, burner))
                                  : text_format(judge->arena, "`%s` and `%s`", say_name(judge, burner), say_name(judge, other)),
                    say_name(judge, exhaust));
        finding_remedy(judge, finding, "an `exhaust` of its own for each");
    }
}

void judge_exhaust_riser(Judge *judge, const Entity *exhaust)
{
    UnitPair unit = unit_of(exhaust, PROP_EXHAUST_RISER_ABOVE_WATERLINE, UNIT_ALONE(UNIT_M));
    if (!exhaust_is_wet(exhaust)) {
        return;
    }
    judge_wet_alone(judge, exhaust, burner_of_exhaust(judge->model, exhaust));
    judge_exhausts_meet(judge, exhaust);
    Answer clears;
    const Entity *loop = loop_behind_pump(judge, engine_of_exhaust(judge->model, exhaust), &clears);
    Side height = side_value(judge, exhaust, PROP_EXHAUST_RISER_ABOVE_WATERLINE, 0);
    bool by_loop = loop != NULL && clears != ANSWER_YES && height.state == STATE_KNOWN &&
                   ask_at_least(height, side_number(least_riser_m(), unit)) != ANSWER_YES &&
                   ask_at_least(height, side_number(0.0, unit)) != ANSWER_NO;
    if (by_loop) {
        judge_riser_loop(judge, exhaust, loop, unit);
    } else {
        judge_elbow(judge, exhaust, loop != NULL && clears == ANSWER_YES, unit); /* the sea may still come up the pipe */
    }
}
