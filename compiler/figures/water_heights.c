/*
 * Heights: how far up the hull the water comes when she heels, and from what height a fitting is clear of it.
 *
 * All heights are above the upright waterline and along the hull's own vertical, as a spec states them. Where
 * a thing says how far it stands from the centreline (`at`), the rise is taken there; else at the side, which
 * is the worst. Rises with beam and heel.
 */
#include "figures/joints.h"
#include "base/num.h"

#include "physics/hull.h"

#include <math.h>

static const double degree = 3.14159265358979323846 / 180.0;

/*
 * The heel of a sailing boat that states none: no more than brings her deck edge to the water amidships, where the height
 * of that is known. Between bow and stern it is taken for their mean: a sheer that sags lies lower.
 */
static Interval use_deck_edge(Work *work, Interval heel)
{
    const Entity *boat = work->model->boat;
    const Property *freeboard = entity_property(boat, PROP_BOAT_FREEBOARD);
    if (freeboard == NULL) {
        return heel;
    }
    Interval height = use_value(work, boat, PROP_BOAT_FREEBOARD, 0).value;
    if (property_value(freeboard, 1)->kind == VALUE_QUANTITY) {
        height = interval_scale(interval_add(height, use_value(work, boat, PROP_BOAT_FREEBOARD, 1).value), 0.5);
    }
    Interval beam = use_value(work, boat, PROP_BOAT_BEAM, 0).value;
    Interval edge = interval_corners(atan2(height.low, beam.high / 2.0), atan2(height.high, beam.low / 2.0));
    return work->state == STATE_KNOWN ? interval_min(heel, edge) : heel;
}

/* The heel: stated, or by the kind of boat. */
static Interval use_heel(Work *work)
{
    const Entity *boat = work->model->boat;
    int sails = entity_yes(boat, PROP_BOAT_SAILS);
    if (!entity_states(boat, PROP_BOAT_HEEL) && sails == -2) {
        use_waiting(work);
    }
    if (!entity_states(boat, PROP_BOAT_HEEL) && sails == 0) {
        const Limit *limit = hull_limit(LIMIT_HEEL_POWER);
        return use_fact(work, "heel of a motor boat", point(limit->value * degree), UNIT_ALONE(UNIT_DEG),
                        limit->source)
            .value;
    }
    Interval heel = use_value(work, boat, PROP_BOAT_HEEL, 0).value;
    return entity_states(boat, PROP_BOAT_HEEL) ? heel : use_deck_edge(work, heel);
}

/* What there is to say of a figure at that heel. */
static const char *heel_remark(const Work *work, Interval heel)
{
    const Entity *boat = work->model->boat;
    const Value *assumed = property_value(model_property(work->model, boat, PROP_BOAT_HEEL), 0);
    bool capped = work->state == STATE_KNOWN && entity_yes(boat, PROP_BOAT_SAILS) != 0 &&
                  !entity_states(boat, PROP_BOAT_HEEL) && heel.high < assumed->u.quantity.low;
    return capped ? text_format(work->figures->arena, "at %s deg her deck edge is in the water: no more is looked at",
                                num_text(work->figures->arena, heel.high / degree, 3))
                  : NULL;
}

static Figure *record_waterline(Work *work, const Entity *thing, Interval off_centre, const char *formula)
{
    Interval heel = use_heel(work);
    Interval rise =
        interval_corners(heeled_rise_m(off_centre.low, heel.low), heeled_rise_m(off_centre.high, heel.high));
    Figure *figure = work_record(work, FIGURE_HEELED_WATERLINE, thing, NULL, rise, formula);
    figure->remark = heel_remark(work, heel);
    return figure;
}

/* Heights of openings are held against it: where the first of them is stated in inches, so is this. */
static UnitPair unit_of_heights(Work *work)
{
    const Entity *fitting = first_aboard(work->model, KIND_THROUGH_HULL);
    while (fitting != NULL && !entity_states(fitting, PROP_THROUGH_HULL_HEIGHT)) {
        fitting = next_aboard(fitting);
    }
    UnitPair of_beam = unit_of(work->model->boat, PROP_BOAT_BEAM, work_unit(work, UNIT_ALONE(UNIT_M)));
    return fitting != NULL ? unit_of(fitting, PROP_THROUGH_HULL_HEIGHT, of_beam) : of_beam;
}

static void record_boat(Work *work)
{
    UnitPair unit = unit_of_heights(work);
    work_begin(work);
    Interval beam = use_value(work, work->model->boat, PROP_BOAT_BEAM, 0).value;
    record_waterline(work, work->model->boat, interval_scale(beam, 0.5), "{beam} / 2 x tan({heel})")->unit = unit;
}

/* The only through-hull that a hose leads to, by joints or without; NULL: none, or which one it is hangs on a valve. */
static const Entity *outlet_of(const Work *work, const Entity *hose)
{
    FarEnds ends;
    joint_ends(plumbing_of(work->figures), hose, entity_reference(hose, PROP_HOSE_TO), FOLLOW_ON, &ends);
    return ends.count == 1 ? end_of_kind(&ends, KIND_THROUGH_HULL) : NULL;
}

/* By Entity.index of a bilge pump: the through-hull that its hose leads to. */
static const Entity **find_outlets(const Work *work)
{
    const Entity **outlets = ARENA_ARRAY(work->scratch, const Entity *, work->model->entity_count + 1);
    for (const Entity *hose = first_aboard(work->model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        const Entity *from = entity_reference(hose, PROP_HOSE_FROM);
        if (from != NULL && from->kind == KIND_BILGE_PUMP && outlets[from->index] == NULL) {
            outlets[from->index] = outlet_of(work, hose);
        }
    }
    return outlets;
}

/* A thing with its height, and what says how far off the centreline that is; NULL: nothing does. */
typedef struct Reached {
    const Entity *thing;
    PropId height;
    const Entity *place;
} Reached;

/* The water where a thing stands: a figure of its own if its place is said, else the boat's. */
static const Figure *waterline_at(Work *work, Reached reached)
{
    if (reached.place == NULL || !entity_states(reached.place, PROP_COMMON_AT)) {
        return figure_find(work->figures, work->model->boat, FIGURE_HEELED_WATERLINE, NULL);
    }
    work_begin(work);
    Interval across = use_value(work, reached.place, PROP_COMMON_AT, 1).value;
    Figure *figure = record_waterline(work, reached.thing, interval_size(across), "{across} x tan({heel})");
    figure->unit = unit_of(reached.thing, reached.height, figure->unit);
    return figure;
}

/*
 * Height that clears the heeled water by so much, plumb: rise + clearance / cos(heel). Of the boat: at its
 * side.
 */
static void record_clear(Work *work, Reached reached, HullLimit clearance)
{
    const Figure *waterline = waterline_at(work, reached);
    const Limit *limit = hull_limit(clearance);
    work_begin(work);
    Interval rise = use_figure(work, waterline).value;
    use_fact(work, "clear of the heeled waterline", point(limit->value), UNIT_ALONE(UNIT_MM), limit->source);
    Interval heel = use_heel(work);
    Interval along = interval_corners(limit->value / cos(heel.low), limit->value / cos(heel.high));
    Figure *figure = work_record(work, FIGURE_LEAST_HEIGHT, reached.thing, NULL, interval_add(rise, along),
                                 "{heeled-waterline} + {clearance} / cos({heel})");
    figure->unit = unit_of(reached.thing, reached.height, waterline->unit);
}

/*
 * Height from which a through-hull needs no seacock, or a bowl no loop: over the heeled water, and so much above the water
 * at rest, which no place across the boat takes off: she is loaded, and she pitches.
 */
static void record_above(Work *work, const Entity *thing, PropId height, HullLimit at_rest)
{
    const Figure *waterline = waterline_at(work, (Reached){thing, height, thing});
    const Limit *limit = hull_limit(at_rest);
    work_begin(work);
    Interval rise = use_figure(work, waterline).value;
    use_fact(work, "near the waterline", point(limit->value), UNIT_ALONE(UNIT_MM), limit->source);
    Figure *figure = work_record(work, FIGURE_LEAST_HEIGHT, thing, NULL, interval_max(rise, point(limit->value)),
                                 "the greater of {heeled-waterline} and {near}");
    figure->unit = unit_of(thing, height, figure->unit);
}

void water_heights(Work *work)
{
    const Model *model = work->model;
    const Entity **outlets = find_outlets(work);
    record_boat(work);
    record_clear(work, (Reached){model->boat, PROP_NONE, NULL}, LIMIT_VENT_LOOP);
    for (const Entity *e = first_aboard(model, KIND_THROUGH_HULL); e != NULL; e = next_aboard(e)) {
        record_above(work, e, PROP_THROUGH_HULL_HEIGHT, LIMIT_NEAR_WATERLINE);
    }
    for (const Entity *e = first_aboard(model, KIND_VENT_LOOP); e != NULL; e = next_aboard(e)) {
        record_clear(work, (Reached){e, PROP_VENT_LOOP_HEIGHT, e}, LIMIT_VENT_LOOP);
    }
    for (const Entity *e = first_aboard(model, KIND_BILGE_PUMP); e != NULL; e = next_aboard(e)) {
        record_clear(work, (Reached){e, PROP_BILGE_PUMP_DISCHARGE_HEIGHT, outlets[e->index]},
                     LIMIT_BILGE_OUTLET);
    }
    for (const Entity *e = first_aboard(model, KIND_TOILET); e != NULL; e = next_aboard(e)) {
        record_above(work, e, PROP_TOILET_RIM, LIMIT_BOWL_RIM);
    }
    for (const Entity *e = first_aboard(model, KIND_FIXTURE); e != NULL; e = next_aboard(e)) {
        waterline_at(work, (Reached){e, PROP_COMMON_AT, e});
    }
}
