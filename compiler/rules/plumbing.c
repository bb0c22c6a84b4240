/* See plumbing.h. */
#include "rules/plumbing.h"

#include "base/num.h"
#include "figures/towards.h"
#include "physics/hull.h"

#include <math.h>

/* Saying */

const char *say_in_unit(const Judge *judge, Side side, UnitPair unit)
{
    side.unit = unit;
    side.figure = NULL; /* whose own unit that is not */
    return say_side(judge, side);
}

const char *say_from_water(const Judge *judge, Side height)
{
    static const Directions words = {"above the waterline", "below the waterline", false};
    Figure shown = {.low = height.value.low, .high = height.value.high, .state = (uint8_t)height.state, .unit = height.unit};
    Buf text;
    if (judge->quiet) {
        return "";
    }
    buf_init(&text, judge->arena);
    figure_write_towards(&text, judge->figures, &shown, &words);
    return text.text;
}

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

double nominal_bore_m(double bore_m, UnitPair unit)
{
    bool inches = unit.unit == UNIT_IN || unit.unit == UNIT_FT;
    double eighth_m = 0.0254 / 8.0;
    return inches ? round(bore_m / eighth_m) * eighth_m : bore_m;
}

UnitPair bore_unit(const Judge *judge)
{
    return model_is_in_feet(judge->model) ? UNIT_ALONE(UNIT_IN) : UNIT_ALONE(UNIT_MM);
}

/* So much of her length, a beam may be that of several hulls. Common practice, no source. */
static const double broad_from = 0.4;

/* She says that she has several hulls: between them she has no side; or she may have, and does not say. */
static bool has_several(const Judge *judge)
{
    Side hulls = side_value(judge, judge->model->boat, PROP_BOAT_HULLS, 0);
    return side_is_known(hulls) && hulls.value.high > 1.0;
}

static bool may_have_several(const Judge *judge)
{
    const Entity *boat = judge->model->boat;
    Side length = side_value(judge, boat, PROP_BOAT_LENGTH, 0), beam = side_value(judge, boat, PROP_BOAT_BEAM, 0);
    return boat != NULL && !entity_states(boat, PROP_BOAT_HULLS) && !entity_states(boat, PROP_BOAT_HEEL) && side_is_known(length) &&
           side_is_known(beam) && beam.value.high > broad_from * length.value.low;
}

void note_heel(Judge *judge, Finding *finding)
{
    const Entity *boat = judge->model->boat;
    if (entity_states(boat, PROP_BOAT_HEEL)) {
        finding_note(judge, finding, place_of(judge, boat, PROP_BOAT_HEEL), "at this heel");
    } else if (waterline_at(judge, boat).figure != NULL && waterline_at(judge, boat).figure->remark != NULL) {
        finding_note(judge, finding, place_of(judge, boat, PROP_BOAT_FREEBOARD), "%s",
                     waterline_at(judge, boat).figure->remark);
    } else if (has_several(judge) && entity_yes(boat, PROP_BOAT_SAILS) != 0) {
        finding_note(judge, finding, place_of(judge, boat, PROP_BOAT_HULLS), "a heel of %s is assumed",
                     say_side(judge, side_value(judge, boat, PROP_BOAT_HEEL, 0)));
    } else if (boat != NULL && !entity_states(boat, PROP_BOAT_SAILS)) {
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

/* The deck edge at its lowest; missing where the boat does not say. */
static Side deck_edge(const Judge *judge)
{
    const Entity *boat = judge->model->boat;
    Side bow = side_value(judge, boat, PROP_BOAT_FREEBOARD, 0);
    Side stern = side_value(judge, boat, PROP_BOAT_FREEBOARD, 1);
    return side_is_known(stern) && stern.value.low < bow.value.low ? stern : bow;
}

const char *say_reach(const Judge *judge, Side waterline, UnitPair unit)
{
    return isinf(waterline.value.high) ? "any height" : say_number(judge, waterline.value.high, unit);
}

const char *say_clear(const Judge *judge, Side least, UnitPair unit)
{
    return isinf(least.value.high) ? text_format(judge->arena, "at least %s", say_number(judge, least.value.low, unit))
                                   : say_number(judge, least.value.high, unit);
}

void find_way_out(const Judge *judge, const Entity *pump, WayOut *way)
{
    const Plumbing *plumbing = plumbing_of(judge->figures);
    const Entity *first = plumbing->from.first[pump->index];
    way->count = hoses_after(plumbing, pump, way->hoses);
    if (way->count == 0 && first != NULL) {
        way->hoses[way->count++] = first; /* of several */
    }
    joint_ends(plumbing, first, first != NULL ? entity_reference(first, PROP_HOSE_TO) : NULL, FOLLOW_ON, &way->ends);
}

Outlet outlet_of_pump(const Judge *judge, const Entity *pump, const WayOut *way)
{
    Outlet lowest = {pump, PROP_BILGE_PUMP_DISCHARGE_HEIGHT};
    for (uint32_t i = 0; i < way->ends.count; i++) {
        if (way->ends.things[i]->kind != KIND_THROUGH_HULL) {
            continue;
        }
        Outlet other = {way->ends.things[i], PROP_THROUGH_HULL_HEIGHT};
        Side stated = side_value(judge, lowest.thing, lowest.height, 0), fitted = side_value(judge, other.thing, other.height, 0);
        bool lower = side_is_known(fitted) && !(stated.value.high <= fitted.value.high);
        if (fitted.state != STATE_MISSING && (stated.state == STATE_MISSING || lower)) {
            lowest = other;
        }
    }
    return lowest;
}

void offer_outlet_height(Judge *judge, Finding *finding, Outlet outlet, const char *height)
{
    if (outlet.height == PROP_BILGE_PUMP_DISCHARGE_HEIGHT) {
        finding_remedy(judge, finding, "discharge-height %s", height);
    } else {
        finding_remedy(judge, finding, "height %s of `%s`", height, say_name(judge, outlet.thing));
    }
}

bool is_over_deck_edge(const Judge *judge, double height_m)
{
    Side edge = deck_edge(judge);
    return side_is_known(edge) && height_m >= edge.value.low;
}

void offer_nearer_middle(Judge *judge, Finding *finding, double clearance_m, const char *move)
{
    const Entity *boat = judge->model->boat;
    Side edge = deck_edge(judge), beam = side_value(judge, boat, PROP_BOAT_BEAM, 0);
    Side rise = waterline_at(judge, boat);
    finding_note(judge, finding, place_of(judge, boat, PROP_BOAT_FREEBOARD),
                 "her side is not that high everywhere");
    if (!side_is_known(rise) || !side_is_known(beam) || rise.value.high <= 0.0 || has_several(judge)) {
        return; /* between hulls there is no place for a fitting */
    }
    if (may_have_several(judge) && entity_yes(boat, PROP_BOAT_SAILS) != 0) {
        finding_remedy(judge, finding, "`hulls 2` of a catamaran, which heels less, or `heel` as her builder states it");
        return;
    }
    double heel = atan2(rise.value.high, beam.value.low / 2.0);
    double room = (edge.value.low - clearance_m / cos(heel)) / tan(heel);
    double half = beam.value.low / 2.0;
    if (room > 0.05 * half) { /* rounded to the middle: two digits */
        double number = unit_from_si(beam.unit, room < half ? room : half);
        double step = pow(10.0, floor(log10(number)) - 1.0);
        double within = unit_to_si(beam.unit, floor(number / step) * step);
        finding_remedy(judge, finding, "%s under the deck within %s of her middle, said with `at`", move,
                       say_number(judge, within, beam.unit));
    }
}
