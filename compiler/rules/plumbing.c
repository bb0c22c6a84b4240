/* See plumbing.h. */
#include "rules/plumbing.h"

#include "base/num.h"

#include <math.h>

/* Saying */

const char *say_up(const Judge *judge, double si, UnitPair unit)
{
    double number = unit_from_si(unit, si);
    if (isfinite(number) && number > 0.0) {
        double step = pow(10.0, floor(log10(number)) - 1.0);
        number = ceil(number / step - 1e-9) * step;
    }
    return say_number(judge, unit_to_si(unit, number), unit);
}

const char *say_made(const Judge *judge, MadeThing thing, double least_m, UnitPair unit)
{
    const char *made = made_at_least(thing, unit.unit == UNIT_IN || unit.unit == UNIT_FT, least_m);
    return made != NULL ? made : say_up(judge, least_m, unit);
}

void note_heel(Judge *judge, Finding *finding)
{
    const Entity *boat = judge->model->boat;
    if (entity_states(boat, PROP_BOAT_HEEL)) {
        finding_note(judge, finding, place_of(judge, boat, PROP_BOAT_HEEL), "at this heel");
    } else if (!entity_states(boat, PROP_BOAT_SAILS)) {
        finding_note(judge, finding, place_of_name(judge, boat),
                     "a heel of 30 deg is assumed; `sails no` makes it 7 deg");
    }
}

/* Heights */

Side waterline_at(const Judge *judge, const Entity *thing)
{
    const Figure *own = figure_of(judge, thing, FIGURE_HEELED_WATERLINE);
    return side_figure(own != NULL ? own : figure_of(judge, judge->model->boat, FIGURE_HEELED_WATERLINE));
}

Side least_height(const Judge *judge, const Entity *thing)
{
    return side_figure(figure_of(judge, thing, FIGURE_LEAST_HEIGHT));
}
