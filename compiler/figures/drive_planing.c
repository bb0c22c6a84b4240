/*
 * A hull that planes, at a speed that may be too slow for it: which formula counts, what her full power gives
 * her, and what is to be said of it. Where she planes goes by her waterline; a spec that states none leaves a
 * slow speed open.
 */
#include "figures/drive.h"

#define RATIO UNIT_ALONE(UNIT_NONE)

static Interval use_border(Work *work)
{
    return use_drive_limit(work, "speed-length ratio from which she planes", DRIVE_PLANING_FROM, RATIO);
}

/* No waterline is longer than the boat: a speed that is enough for that length is enough. */
static Interval use_power_by_length(Work *work, Interval mass, Interval crouch, Interval speed, const char **formula)
{
    Interval length = use_value(work, work->model->boat, PROP_BOAT_LENGTH, 0).value;
    *formula = "{displacement} x ({speed} / {crouch})^2, hp, lb; she planes from {ratio} x root of the waterline on, which "
               "is no longer than {length}; kn, ft";
    if (work->state == STATE_KNOWN && !planes_at(length.high, speed.low)) {
        use_missing(work, work->model->boat, PROP_BOAT_WATERLINE);
    }
    return interval_corners(planing_power_w(mass.low, crouch.high, speed.low),
                            planing_power_w(mass.high, crouch.low, speed.high));
}

static const char *tell_slow(Interval mass, Interval waterline, Interval speed)
{
    if (planes_at(waterline.high, speed.low)) {
        return NULL;
    }
    if (planes_at(waterline.low, speed.high)) {
        return "it is not decided whether she planes at that speed";
    }
    return speed.high <= displacement_speed_limit_m_per_s(mass.high, waterline.low)
               ? "she does not plane at that speed: no less than a displacement hull takes"
               : "she does not plane yet at that speed, and neither formula holds there: she may take more";
}

Interval use_planing_power(Work *work, const Entity *asks, const char **formula, const char **remark)
{
    const Entity *boat = work->model->boat;
    Interval mass = use_value(work, boat, PROP_BOAT_DISPLACEMENT, 0).value;
    Interval speed = use_value(work, asks, speed_of(asks), 1).value;
    Interval crouch = use_value(work, boat, PROP_BOAT_CROUCH, 0).value;
    *remark = NULL;
    use_border(work);
    if (!entity_states(boat, PROP_BOAT_WATERLINE)) {
        return use_power_by_length(work, mass, crouch, speed, formula);
    }
    Interval waterline = use_value(work, boat, PROP_BOAT_WATERLINE, 0).value;
    *formula = "{displacement} x ({speed} / {crouch})^2, hp, lb; slower than {ratio} x root of {waterline} no less than "
               "{displacement} x ({speed} / root of {waterline} / 10.665)^3, hp, lb, kn, ft";
    if (work->state != STATE_KNOWN) {
        return point(0.0);
    }
    *remark = tell_slow(mass, waterline, speed);
    return planing_hull_power_w(mass, waterline, crouch, speed);
}

Interval use_planing_speed(Work *work, Interval power, const char *powers, const char **formula, const char **remark)
{
    const Entity *boat = work->model->boat;
    Interval mass = use_value(work, boat, PROP_BOAT_DISPLACEMENT, 0).value;
    Interval crouch = use_value(work, boat, PROP_BOAT_CROUCH, 0).value;
    Interval speed = point(0.0);
    *remark = NULL;
    *formula = text_format(work->figures->arena, "root of (%s) / {displacement} x {crouch}; hp, lb", powers);
    if (!entity_states(boat, PROP_BOAT_WATERLINE)) {
        return work->state != STATE_KNOWN ? speed
                                          : interval_corners(planing_speed_m_per_s(mass.high, crouch.low, power.low),
                                                             planing_speed_m_per_s(mass.low, crouch.high, power.high));
    }
    use_border(work);
    Interval waterline = use_value(work, boat, PROP_BOAT_WATERLINE, 0).value;
    if (work->state == STATE_KNOWN) {
        speed = planing_hull_speed_m_per_s(mass, waterline, crouch, power);
        *remark = planes_at(waterline.high, speed.low)   ? NULL
                  : planes_at(waterline.low, speed.high) ? "it is not decided whether she planes with it"
                                                         : "with that she does not plane";
    }
    *formula = text_format(work->figures->arena,
                           "root of (%s) / {displacement} x {crouch}; slower than {ratio} x root of {waterline} no more than "
                           "10.665 x ((%s) / {displacement})^(1/3) x root of {waterline}; hp, lb, kn, ft",
                           powers, powers);
    return speed;
}
