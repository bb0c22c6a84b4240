/*
 * What a mile costs, over a range of speeds. Speed enters it twice, by the miles in an hour and by what an hour takes: where
 * every engine takes the more for a mile the faster she goes, each end of the range is one corner, and little else is told than
 * what can be. Where that is not so for certain, both count by themselves.
 */
#include "figures/drive.h"

#include <math.h>

/*
 * Whether what a curve gives rises at least as that power of the speed, between the points that a range meets; outside of all
 * points it rises as the cube. Along a straight line from one point to the next it rises least at the upper end.
 */
static bool rises_as(const FuelCurve *curve, double power, Interval met)
{
    for (int i = 0; i < curve->count; i++) {
        const FuelPoint *here = &curve->low[i], *high = &curve->high[i];
        if (here->speed != high->speed || here->rate != high->rate || here->speed != here->other || here->speed <= 0.0) {
            return false;
        }
        const FuelPoint *before = &curve->low[i > 0 ? i - 1 : 0];
        bool crossed = i > 0 && here->speed > met.low && before->speed < met.high;
        double slope = crossed ? (here->rate - before->rate) / (here->speed - before->speed) : INFINITY;
        if (slope * here->speed < power * here->rate) {
            return false;
        }
    }
    return true;
}

/* Whether the hull asks for more power a mile, and as which power of the speed it rises at least. */
static bool hull_rises(const Work *work, Interval speed, double *power)
{
    Interval waterline;
    const Entity *boat = work->model->boat;
    *power = is_planing(work->model) ? 2.0 : 3.0;
    if (!is_planing(work->model) || !entity_states(boat, PROP_BOAT_WATERLINE)) {
        return true;
    }
    return entity_quantity(boat, PROP_BOAT_WATERLINE, 0, &waterline) &&
           (planes_at(waterline.high, speed.low) || !planes_at(waterline.low, speed.high)); /* what it takes falls when she planes */
}

/* Fuel, or power from a bank, a mile of one engine. It works with no more than its own use of the work. */
static bool engine_rises(Work *work, const Entity *engine, const Entity *asks, Interval speed)
{
    const Figure *turns = figure_find(work->figures, engine, FIGURE_TURNS, asks);
    Buf unread;
    double power;
    buf_init(&unread, work->scratch);
    if (states_taken(engine, false)) {
        FuelCurve curve = use_taken_curve(work, engine, false, &unread);
        return rises_as(&curve, 1.0, speed);
    }
    if (!hull_rises(work, speed, &power) || turns == NULL || turns->state != STATE_KNOWN) {
        return false;
    }
    Interval met = {turns->low, turns->high};
    if (burns_fuel(engine) && entity_states(engine, PROP_ENGINE_CONSUMPTION)) {
        FuelCurve curve = use_burned_curve(work, engine, &unread);
        return rises_as(&curve, 3.0 / power, met); /* turns go as the cube root of the power */
    }
    if (states_taken(engine, true)) {
        FuelCurve curve = use_taken_curve(work, engine, true, &unread);
        return rises_as(&curve, 3.0 / power, met);
    }
    return true;
}

bool mile_rises(Work *work, const Entity *engine, const Entity *asks)
{
    Interval speed;
    bool ranged = entity_quantity(asks, speed_of(asks), 1, &speed) && speed.low > 0.0 && speed.high > speed.low && isfinite(speed.high);
    for (const Entity *e = first_aboard(work->model, KIND_ENGINE); ranged && e != NULL; e = next_aboard(e)) {
        work_begin(work);
        ranged = !run_together_on(work->model, e, engine, asks) || engine_rises(work, e, asks, speed);
    }
    return ranged;
}

Interval way_by_speed(Interval lasting, Interval speed, bool rises)
{
    Interval way = interval_multiply(lasting, speed);
    if (!rises || !isfinite(way.high)) {
        return way;
    }
    return interval_corners(lasting.low * speed.high, lasting.high * speed.low);
}
