/*
 * How her speed at full power hangs on what one engine gives: apart from the figure, so that a propeller's thrust over a
 * range of powers is that of powers and speeds which belong together.
 */
#include "figures/drive.h"

#include <math.h>

/* What those give that run with an engine. */
static Interval use_powers_beside(Work *work, const Entity *engine)
{
    Interval sum = point(0.0);
    for (const Entity *e = first_aboard(work->model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        if (e != engine && run_together(work->model, e, engine)) {
            Interval power = use_figure(work, figure_find(work->figures, e, FIGURE_SHAFT_POWER, NULL)).value;
            sum = interval_add(sum, interval_multiply(power, use_count(work, e).value));
        }
    }
    return sum;
}

Driven driven_of(Work *work, const Entity *engine)
{
    const Entity *boat = work->model->boat;
    const Figure *limit = figure_find(work->figures, boat, FIGURE_SPEED_LIMIT, NULL);
    Driven d = {.planing = is_planing(work->model), .waterline = point(0.0), .limit = point(INFINITY)};
    work_begin(work);
    d.others = use_powers_beside(work, engine);
    d.count = use_count(work, engine).value;
    d.mass = use_value(work, boat, PROP_BOAT_DISPLACEMENT, 0).value;
    d.fast_by = use_value(work, boat, d.planing ? PROP_BOAT_CROUCH : PROP_BOAT_WATERLINE, 0).value;
    if (d.planing && entity_states(boat, PROP_BOAT_WATERLINE)) {
        d.waterline = use_value(work, boat, PROP_BOAT_WATERLINE, 0).value;
    }
    d.limit = !d.planing && limit != NULL ? use_figure(work, limit).value : d.limit;
    d.known = work->state == STATE_KNOWN && d.mass.low > 0.0 && d.fast_by.low > 0.0 && d.count.low > 0.0 &&
              isfinite(d.others.high + d.count.high + d.mass.high + d.fast_by.high + d.waterline.high);
    return d;
}

bool driven_is_exact(const Driven *d)
{
    return interval_is_point(d->others) && interval_is_point(d->count) && interval_is_point(d->mass) &&
           interval_is_point(d->fast_by) && interval_is_point(d->waterline) && interval_is_point(d->limit);
}

Interval driven_speed(const Driven *d, Interval power)
{
    Interval all = interval_add(interval_multiply(power, d->count), d->others);
    if (!d->planing) {
        Interval speed = interval_corners(displacement_speed_m_per_s(d->mass.high, d->fast_by.low, all.low),
                                          displacement_speed_m_per_s(d->mass.low, d->fast_by.high, all.high));
        return interval_min(speed, d->limit);
    }
    if (d->waterline.low > 0.0) {
        return planing_hull_speed_m_per_s(d->mass, d->waterline, d->fast_by, all);
    }
    return interval_corners(planing_speed_m_per_s(d->mass.high, d->fast_by.low, all.low),
                            planing_speed_m_per_s(d->mass.low, d->fast_by.high, all.high));
}

/* By the power of all: a third along the curve of a displacement hull, a half along Crouch's, nothing at the limit. */
bool driven_slope(const Driven *d, Interval power, Interval *slope)
{
    static const double third = 1.0 / 3.0, half = 0.5;
    Interval speed = driven_speed(d, power);
    Interval own = interval_multiply(power, d->count);
    Interval share = interval_corners(own.low / (own.low + d->others.high), own.high / (own.high + d->others.low));
    if (!d->planing) {
        *slope = interval_corners(speed.high < d->limit.low ? third : 0.0, speed.low < d->limit.high ? third : 0.0);
    } else if (d->waterline.low <= 0.0 || planes_at(d->waterline.high, speed.low)) {
        *slope = point(half);
    } else if (!planes_at(d->waterline.low, speed.high)) {
        *slope = interval_corners(third, half);
    } else {
        return false;
    }
    *slope = interval_multiply(*slope, share);
    return true;
}
