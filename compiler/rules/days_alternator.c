/*
 * Rules of the family rules_days about what turns: belt and alternator-power, what belts carry and engines
 * can turn; curve-high, whose curve its plate denies; mean-output, what wind or water drives.
 */
#include "rules/days.h"

#include "figures/water.h"
#include "model/status.h"
#include "physics/charging.h"

#include <math.h>

/* belt */

/* So many belts as carry it; none where no pulley takes so many. */
static void remedy_belts(Judge *judge, Finding *f, Side power)
{
    double belts = side_is_known(power) ? ceil(power.value.high / belt_w - 1e-9) : INFINITY;
    if (belts <= props[PROP_ALTERNATOR_BELTS].most) {
        finding_remedy(judge, f, "belts %d", (int)belts);
    }
    finding_remedy(judge, f, "an alternator of less `output`, or a drive that carries more than belts do");
}

void judge_belt(Judge *judge, const Entity *alternator)
{
    const Figure *taken = figure_of(judge, alternator, FIGURE_BELT_POWER);
    if (taken == NULL) {
        return; /* its engine is not there, or a mistake */
    }
    Side power = side_figure(taken);
    Side limit = side_figure(figure_of(judge, alternator, FIGURE_BELT_LIMIT));
    Finding *f = judge_at_most(judge, alternator, place_of(judge, alternator, PROP_ALTERNATOR_OUTPUT), power, limit);
    if (f != NULL) {
        finding_say(judge, f, "`%s` takes %s at its full output, and its belts carry %s",
                    say_name(judge, alternator), say_side(judge, power), say_side(judge, limit));
        remedy_belts(judge, f, power);
    }
}

/* alternator-power */

void judge_alternator_power(Judge *judge, const Entity *engine)
{
    const Figure *taken = figure_of(judge, engine, FIGURE_ALTERNATOR_POWER);
    if (taken == NULL) {
        return; /* it drives none */
    }
    Side gives = side_value(judge, engine, PROP_ENGINE_RATED, 0);
    Finding *f =
        judge_at_most(judge, engine, place_of(judge, engine, PROP_ENGINE_RATED), side_figure(taken), gives);
    if (f != NULL) {
        finding_say(judge, f,
                    "the alternators on `%s` take %s at their full output, and it gives %s at its best",
                    say_name(judge, engine), say_side(judge, side_figure(taken)), say_side(judge, gives));
        for (const Entity *e = first_aboard(judge->model, KIND_ALTERNATOR); e != NULL; e = next_aboard(e)) {
            if (entity_reference(e, PROP_ALTERNATOR_ENGINE) == engine && !is_built_in(e)) {
                finding_note(judge, f, place_of(judge, e, PROP_ALTERNATOR_OUTPUT), "`%s` takes %s",
                             say_name(judge, e), say_figure(judge, figure_of(judge, e, FIGURE_BELT_POWER)));
            }
        }
        finding_remedy(judge, f,
                       "an alternator of less `output`, or a regulator that keeps it to less: state that as "
                       "its `output`");
    }
}

/* curve-high: told once, of the highest point that is too high */

/* A plate is a nominal figure: a curve may rise above it by so much. Common practice, no source. */
static const double plate_tolerance = 0.05;

void judge_curve_high(Judge *judge, const Entity *alternator)
{
    const Property *highest = NULL;
    const Property *line = entity_property(alternator, PROP_ALTERNATOR_CURVE);
    for (; line != NULL; line = block_next(&alternator->block, line)) {
        const Value *amps = property_value(line, 1);
        if (line->flags & PROPERTY_BROKEN || amps->kind != VALUE_QUANTITY) {
            judge_waiting(judge);
        } else if (highest == NULL || amps->u.quantity.high > property_value(highest, 1)->u.quantity.high) {
            highest = line;
        }
    }
    if (highest == NULL) {
        return;
    }
    Side point = side_stated(alternator, highest, 1), most = side_value(judge, alternator, PROP_ALTERNATOR_OUTPUT, 0);
    Side tolerated = most;
    tolerated.value = interval_scale(most.value, 1.0 + plate_tolerance);
    Finding *f = judge_at_most(judge, alternator, property_span(judge->model, highest), point, tolerated);
    if (f != NULL) {
        finding_say(judge, f, "by its curve `%s` gives %s, and its `output` is %s: no day counts more than that",
                    say_name(judge, alternator), say_side(judge, point), say_side(judge, most));
        finding_note(judge, f, place_of(judge, alternator, PROP_ALTERNATOR_OUTPUT), "by this its cable, fuse and belts are judged");
        finding_remedy(judge, f, "the curve of this alternator, or as its `output` the most that it gives");
    }
}

/* mean-output */

/* As its line says: of one of them, in A or in W. */
static Side rated_as(const Judge *judge, const Entity *alternator, UnitPair unit)
{
    Side amps = side_value(judge, alternator, PROP_ALTERNATOR_OUTPUT, 0);
    if (dimension_equal(unit_dimension(unit), unit_dimension(UNIT_ALONE(UNIT_A)))) {
        return amps;
    }
    Side volts = side_value(judge, alternator, PROP_ALTERNATOR_OUTPUT, 1);
    amps.state = side_is_known(volts) ? amps.state : volts.state;
    amps.value = interval_multiply(amps.value, volts.value);
    amps.unit = unit;
    return amps;
}

static void judge_given(Judge *judge, const Entity *alternator, const Property *line)
{
    const Value *day = property_value(line, 0), *mean = property_value(line, 1);
    if (line->flags & PROPERTY_BROKEN || value_entity(day) == NULL || mean->kind != VALUE_QUANTITY) {
        judge_waiting(judge);
        return;
    }
    Side gives = side_stated(alternator, line, 1), most = rated_as(judge, alternator, mean->unit);
    Finding *f = judge_at_most(judge, alternator, property_span(judge->model, line), gives, most);
    if (f != NULL) {
        finding_at(f, value_entity(day));
        finding_rests_on(judge, f, alternator, PROP_ALTERNATOR_OUTPUT);
        finding_say(judge, f, "`%s` is to give %s on `%s`, and gives %s at most", say_name(judge, alternator), say_side(judge, gives),
                    say_name(judge, value_entity(day)), say_side(judge, most));
        finding_remedy(judge, f, "what it gives in the mean of such a day, by its maker's curve and the usual wind or speed there");
    }
}

void judge_mean_output(Judge *judge, const Entity *alternator)
{
    if (!is_engineless(alternator)) {
        return;
    }
    const Property *line = entity_property(alternator, PROP_ALTERNATOR_GIVES);
    if (line == NULL && first_aboard(judge->model, KIND_DAY) != NULL) {
        judge_unmeasured(judge, alternator, PROP_ALTERNATOR_GIVES);
    }
    for (; line != NULL; line = block_next(&alternator->block, line)) {
        judge_given(judge, alternator, line);
    }
}
