/*
 * How deep a tank is, from its floor, when a quarter, half or three quarters of it is full: for a dipstick, and for a sender that
 * measures height. Of a tank whose shape is known: one that holds less than its box is narrower somewhere, and nobody says where.
 */
#include "figures/water.h"

#include "model/agree.h"
#include "model/tank_sides.h"
#include "physics/tank_shape.h"

static const struct {
    FigureId id;
    double filled;
    const char *share;
} dips[] = {{FIGURE_DIP_QUARTER, 0.25, "a quarter"}, {FIGURE_DIP_HALF, 0.5, "half"}, {FIGURE_DIP_THREE_QUARTERS, 0.75, "three quarters"}};

/* Of a floor that is larger more lies below. */
static Interval use_taper(Work *work, const Entity *tank, double filled)
{
    Interval length = use_value(work, tank, PROP_TANK_SIZE, 0).value, width = use_value(work, tank, PROP_TANK_SIZE, 1).value;
    Interval floor_length = use_value(work, tank, PROP_TANK_BOTTOM, 0).value;
    Interval floor_width = use_value(work, tank, PROP_TANK_BOTTOM, 1).value;
    if (work->state != STATE_KNOWN) {
        return point(0.0);
    }
    Taper flat = {length.low, width.low, floor_length.high, floor_width.high};
    Taper steep = {length.high, width.high, floor_length.low, floor_width.low};
    return interval_corners(taper_depth_share(flat, filled), taper_depth_share(steep, filled));
}

static void record_dip(Work *work, const Entity *tank, size_t row)
{
    double filled = dips[row].filled;
    TankShape shape = tank_shape(tank);
    work_begin(work);
    const char *formula;
    Interval share = point(filled);
    TankSide height_at = tank_side(tank, TANK_HEIGHT);
    if (shape == TANK_TAPERED) {
        share = use_taper(work, tank, filled);
        formula = text_format(work->figures->arena,
                              "where %s of it lies below, by {length}, {width}, {floor length}, {floor width} and {height}",
                              dips[row].share);
    } else if (shape == TANK_LYING) {
        share = point(lying_depth_share(filled));
        formula = text_format(work->figures->arena, "where a segment of %s of the circle lies below, of {diameter}", dips[row].share);
    } else {
        formula = text_format(work->figures->arena, "%s of {height}", dips[row].share);
    }
    Interval height = use_value(work, tank, height_at.prop, height_at.slot).value;
    Figure *figure = work_record(work, dips[row].id, tank, NULL, interval_multiply(share, height), formula);
    figure->unit = work_unit(work, UNIT_ALONE(UNIT_MM));
}

void water_dips(Work *work)
{
    note_read(work, PROP_TANK_CAPACITY);
    for (const Entity *tank = first_aboard(work->model, KIND_TANK); tank != NULL; tank = next_aboard(tank)) {
        for (size_t i = 0; i < sizeof dips / sizeof dips[0] && tank_shape(tank) != TANK_UNSAID && !tank_is_no_box(tank); i++) {
            record_dip(work, tank, i);
        }
    }
}
