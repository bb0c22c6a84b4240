/*
 * Blades and shaft of a propeller: the area that keeps clear of cavitation, the gap to the hull, the shaft's diameter.
 *
 * All at full power and at `full-speed`, with the pitch that is matched. Blade area rises with thrust and pitch, and falls
 * with diameter, depth and the speed of the blades; each end of an interval is one corner.
 */
#include "figures/drive_screw.h"

#include "physics/cavitation.h"

#include <math.h>

static bool is_one_of_two(const Work *work, const Entity *engine)
{
    bool two = entity_states(engine, PROP_COMMON_COUNT);
    for (const Entity *e = first_aboard(work->model, KIND_ENGINE); e != NULL && !two; e = next_aboard(e)) {
        two = e != engine && run_together(work->model, e, engine);
    }
    return two;
}

/* How deep the shaft is: as `at` says, else its diameter. */
static Interval use_depth(Work *work, const Entity *propeller, Interval diameter)
{
    if (entity_states(propeller, PROP_COMMON_AT)) {
        Interval height = use_value(work, propeller, PROP_COMMON_AT, 2).value;
        return interval_max(interval_subtract(point(0.0), height), point(0.0));
    }
    return use_fact(work, "depth of the shaft", diameter, UNIT_ALONE(UNIT_MM),
                    "one diameter where `at` does not say it; common practice, no source")
        .value;
}

static Interval pressure_over(Interval depth, Interval density)
{
    return interval_corners(cavitation_pressure_pa(depth.low, density.low),
                            cavitation_pressure_pa(depth.high, density.high));
}

static Interval keller_area(Interval thrust, Interval blades, Interval diameter, Interval pressure, Interval k)
{
    return interval_corners(keller_area_ratio(thrust.low, blades.low, diameter.high, pressure.high, k.low),
                            keller_area_ratio(thrust.high, blades.high, diameter.low, pressure.low, k.high));
}

static Interval burrill_area(const Screwing *s, Interval pitch_ratio, Interval thrust, Interval pressure)
{
    Interval water = interval_multiply(s->boat_speed, interval_subtract(point(1.0), s->wake));
    Loaded least = {thrust.low, s->diameter.high, pitch_ratio.low, blade_speed_m_per_s(water.high, s->turns.high, s->diameter.high),
                    pressure.high, s->density.high};
    Loaded most = {thrust.high, s->diameter.low, pitch_ratio.high, blade_speed_m_per_s(water.low, s->turns.low, s->diameter.low),
                   pressure.low, s->density.low};
    return interval_corners(burrill_area_ratio(&least), burrill_area_ratio(&most));
}

Interval area_asked(const Screwing *s, const Bladed *bladed, Interval pitch_ratio, Interval thrust)
{
    Interval pressure = pressure_over(bladed->depth_is_diameter ? s->diameter : bladed->depth, s->density);
    return bladed->fast ? burrill_area(s, pitch_ratio, thrust, pressure)
                        : keller_area(thrust, s->blades, s->diameter, pressure, bladed->k);
}

/*
 * Thrust, diameter, turns and speed belong together: what is asked for part by part of the ranges is less than what their
 * bounds side by side would ask for. s: what it works with. Where some of that has no screw, the least is left as it is.
 */
static Interval narrowed(Interval area, const Screwing *s, const Bladed *bladed, const Figure *thrust)
{
    Thrusting t;
    if (interval_is_point(area) || !isfinite(area.high) || !thrusting_of(s, bladed, &t)) {
        return area;
    }
    return interval_corners(thrust->low > 0.0 ? fmax(area.low, fmin(t.area.low, area.high)) : area.low,
                            fmin(area.high, fmax(t.area.high, area.low)));
}

/* Of ships and of boats that move like them. */
static void record_by_keller(Work *work, const Entity *propeller, const Entity *engine, const Figure *thrust)
{
    Driven driven;
    Screwing s = screwing_apart(work, propeller, engine, &driven);
    work_begin(work);
    Interval force = use_figure(work, thrust).value;
    Interval blades = use_value(work, propeller, PROP_PROPELLER_BLADES, 0).value;
    Interval diameter = use_propeller_diameter(work, propeller);
    Interval depth = use_depth(work, propeller, diameter);
    Interval density = use_water_density(work);
    Interval k = use_drive_limit(work, "Keller's constant",
                                 is_one_of_two(work, engine) ? DRIVE_KELLER_TWO : DRIVE_KELLER_ONE, RATIO);
    Interval area = point(0.0);
    if (work->state == STATE_KNOWN) {
        Bladed bladed = {false, depth, !entity_states(propeller, PROP_COMMON_AT), k};
        area = keller_area(force, blades, diameter, pressure_over(depth, density), k);
        area = narrowed(area, &s, &bladed, thrust);
    }
    work_record(work, FIGURE_LEAST_AREA_RATIO, propeller, NULL, area,
                "{thrust} x (1.3 + 0.3 x {blades}) / ({diameter}^2 x pressure at {depth} in {water}) + {k}, by Keller");
}

/* Of fast ones. Only where a pitch is matched: its thrust is known. */
static void record_by_burrill(Work *work, const Entity *propeller, const Entity *engine, const Figure *thrust)
{
    Driven driven;
    Screwing s = screwing_apart(work, propeller, engine, &driven);
    work_begin(work);
    Interval force = use_figure(work, thrust).value;
    Interval boat = use_figure(work, full_speed_with(work->figures, engine)).value;
    use_propeller_wake(work, propeller);
    Interval turns = use_figure(work, own(work, propeller, FIGURE_SHAFT_SPEED)).value;
    Interval diameter = use_propeller_diameter(work, propeller);
    Interval depth = use_depth(work, propeller, diameter);
    Interval density = use_water_density(work);
    Interval pitch = use_figure(work, own(work, propeller, FIGURE_MATCHED_PITCH)).value;
    Interval area = point(0.0);
    if (work->state == STATE_KNOWN) {
        Bladed bladed = {true, depth, !entity_states(propeller, PROP_COMMON_AT), point(0.0)};
        Interval ratio = {fmax(pitch.low / diameter.high, SCREW_PITCH_LEAST), fmin(pitch.high / diameter.low, SCREW_PITCH_MOST)};
        bool bounded = isfinite(force.high + boat.high + turns.high + diameter.high + depth.high) && turns.low > 0.0;
        area = bounded ? narrowed(burrill_area(&s, ratio, force, pressure_over(depth, density)), &s, &bladed, thrust)
                       : interval(0.0, INFINITY);
    }
    work_record(work, FIGURE_LEAST_AREA_RATIO, propeller, NULL, area,
                "area of {thrust} at {full-speed} less a wake of {wake}, at {shaft-speed}, {diameter} across, {depth} in "
                "{water}, with {matched-pitch}, a tenth of the backs covered, by Burrill's chart");
}

/* Blades of outboards and sterndrives are cupped and breathe exhaust: neither criterion was made for them. */
static void record_blade_area(Work *work, const Entity *propeller, const Entity *engine)
{
    const Figure *thrust = own(work, propeller, FIGURE_THRUST);
    if (thrust == NULL || is_outboard(engine) || is_sterndrive(engine)) {
        return;
    }
    if (is_fast(work->model)) {
        record_by_burrill(work, propeller, engine, thrust);
    } else {
        record_by_keller(work, propeller, engine, thrust);
    }
}

void drive_tip_gap(Work *work, const Entity *propeller)
{
    if (!entity_states(propeller, PROP_PROPELLER_APERTURE)) {
        return;
    }
    work_begin(work);
    Interval gap = use_value(work, propeller, PROP_PROPELLER_APERTURE, 0).value;
    Interval diameter = use_propeller_diameter(work, propeller);
    work_record(work, FIGURE_TIP_GAP, propeller, NULL, interval_divide(gap, diameter),
                "{aperture} / {diameter}");
}

static Interval use_yield(Work *work, const Entity *propeller)
{
    Str word = entity_word(propeller, PROP_PROPELLER_SHAFT_MATERIAL);
    for (size_t i = 0; shaft_material(i) != NULL; i++) {
        if (str_is(word, shaft_material(i)->name)) {
            return use_fact(
                       work,
                       text_format(work->figures->arena, "yield of %s in shear", shaft_material(i)->name),
                       point(shaft_material(i)->yield_pa), UNIT_ALONE(UNIT_MPA), shaft_material(i)->source)
                .value;
        }
    }
    if (entity_states(propeller, PROP_PROPELLER_SHAFT_MATERIAL)) {
        use_waiting(work);
    } else {
        use_missing(work, propeller, PROP_PROPELLER_SHAFT_MATERIAL);
    }
    return point(1.0);
}

static void record_shaft(Work *work, const Entity *propeller, const Entity *engine)
{
    static const double two_pi = 6.28318530717958648;
    work_begin(work);
    Interval power = use_figure(work, figure_find(work->figures, engine, FIGURE_SHAFT_POWER, NULL)).value;
    Interval turns = use_figure(work, own(work, propeller, FIGURE_SHAFT_SPEED)).value;
    Interval safety = use_drive_limit(work, "factor of safety", DRIVE_SHAFT_SAFETY, RATIO);
    Interval yield = use_yield(work, propeller);
    Interval diameter = point(0.0);
    if (work->state == STATE_KNOWN) {
        Interval torque = interval_divide(power, interval_scale(turns, two_pi));
        diameter = interval_corners(shaft_diameter_m(torque.low, safety.low, yield.high),
                                    shaft_diameter_m(torque.high, safety.high, yield.low));
    }
    Figure *figure =
        work_record(work, FIGURE_SHAFT_DIAMETER, propeller, NULL, diameter,
                    "(16 x {shaft-power} / (2 pi x {shaft-speed}) x {safety} / (pi x {yield}))^(1/3)");
    figure->unit = unit_of(propeller, PROP_PROPELLER_SHAFT, figure->unit);
}

/* As if the screw turned in something solid. */
void drive_pitch_speed(Work *work, const Entity *propeller)
{
    if (!states_number(propeller, PROP_PROPELLER_PITCH)) {
        return;
    }
    work_begin(work);
    Interval turns = use_figure(work, own(work, propeller, FIGURE_SHAFT_SPEED)).value;
    Interval pitch = use_value(work, propeller, PROP_PROPELLER_PITCH, 0).value;
    work_record(work, FIGURE_PITCH_SPEED, propeller, NULL, interval_multiply(turns, pitch), "{shaft-speed} x {pitch}");
}

void drive_blades(Work *work, const Entity *propeller, const Entity *engine)
{
    record_blade_area(work, propeller, engine);
    if (turns_a_shaft(engine)) {
        record_shaft(work, propeller, engine);
    }
}
