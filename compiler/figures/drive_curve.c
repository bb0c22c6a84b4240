/*
 * Curves of power against speed. See drive_curve.h.
 */
#include "figures/drive_curve.h"

#include "physics/pipe.h"
#include "physics/propeller.h"

#include <math.h>

static double speed_at(int i, double to)
{
    return to * i / (DRIVE_CURVE_POINTS - 1);
}

static const Figure *known(const Figures *figures, const Entity *subject, FigureId id)
{
    const Figure *figure = figure_find(figures, subject, id, NULL);
    return figure != NULL && figure->state == STATE_KNOWN ? figure : NULL;
}

/* The greatest of a stated or assumed quantity; NAN where there is none. */
static double most_of(const Model *model, const Entity *entity, PropId prop, unsigned slot)
{
    const Value *value = property_value(model_property(model, entity, prop), slot);
    bool usual = value->kind == VALUE_QUANTITY && !(value->flags & VALUE_BROKEN);
    return usual && isfinite(value->u.quantity.high) ? value->u.quantity.high : NAN;
}

/* Rated power by what of it reaches the propeller. */
static double losses(const Figures *figures, const Entity *engine)
{
    const Figure *shaft = known(figures, engine, FIGURE_SHAFT_POWER);
    return shaft != NULL ? most_of(figures->model, engine, PROP_ENGINE_RATED, 0) / shaft->high : NAN;
}

/* What an engine gives of a power at the propellers, by that power: all that run together are loaded alike. */
static double part_of(const Figures *figures, const Entity *engine)
{
    const Model *model = figures->model;
    double all = 0.0;
    for (const Entity *e = first_aboard(model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        const Figure *shaft = known(figures, e, FIGURE_SHAFT_POWER);
        double count = entity_states(e, PROP_COMMON_COUNT) ? most_of(model, e, PROP_COMMON_COUNT, 0) : 1.0;
        if (run_together(model, e, engine)) {
            all += shaft != NULL ? shaft->high * count : NAN;
        }
    }
    return most_of(model, engine, PROP_ENGINE_RATED, 0) / all;
}

bool drive_hull_curve(const Figures *figures, const Entity *engine, bool low, double to_m_per_s,
                      DriveCurve *curve)
{
    const Model *model = figures->model;
    bool planing = str_is(entity_word(model->boat, PROP_BOAT_HULL), "planing");
    double mass = most_of(model, model->boat, PROP_BOAT_DISPLACEMENT, 0);
    double fast_by = most_of(model, model->boat, planing ? PROP_BOAT_CROUCH : PROP_BOAT_WATERLINE, 0);
    double times = part_of(figures, engine);
    if ((planing && low) || !isfinite(mass * fast_by * times)) {
        return false;
    }
    for (int i = 0; i < DRIVE_CURVE_POINTS; i++) {
        double speed = speed_at(i, to_m_per_s);
        double power = planing ? planing_power_w(mass, fast_by, speed)
                       : low   ? displacement_power_low_w(mass, fast_by, speed)
                               : displacement_power_w(mass, fast_by, speed);
        curve->speed[i] = speed;
        curve->power[i] = power * times;
    }
    return true;
}

/* One number of a value or figure that is no range; NAN otherwise. */
static double exact_of(const Figures *figures, const Entity *entity, PropId prop)
{
    const Value *value = property_value(model_property(figures->model, entity, prop), 0);
    bool exact = value_is_point(value) && !(value->flags & VALUE_BROKEN);
    return exact ? value->u.quantity.high : NAN;
}

static double exact_figure(const Figures *figures, const Entity *entity, FigureId id)
{
    const Figure *figure = known(figures, entity, id);
    return figure != NULL && figure->low == figure->high ? figure->low : NAN;
}

static double water_density(const Figures *figures)
{
    const Value *water =
        property_value(model_property(figures->model, figures->model->boat, PROP_BOAT_WATER), 0);
    bool fresh = water->kind == VALUE_WORD && str_is(water->u.word, "fresh");
    return liquid_density_kg_per_m3(fresh ? LIQUID_FRESH_15_C : LIQUID_SEA_15_C);
}

bool drive_propeller_curve(const Figures *figures, const Entity *propeller, double to_m_per_s,
                           DriveCurve *curve)
{
    const Entity *engine = entity_reference(propeller, PROP_PROPELLER_ENGINE);
    bool stated = states_number(propeller, PROP_PROPELLER_DIAMETER);
    double diameter = stated ? exact_of(figures, propeller, PROP_PROPELLER_DIAMETER)
                             : exact_figure(figures, propeller, FIGURE_BEST_DIAMETER);
    double pitch = states_number(propeller, PROP_PROPELLER_PITCH)
                       ? exact_of(figures, propeller, PROP_PROPELLER_PITCH)
                       : exact_figure(figures, propeller, FIGURE_MATCHED_PITCH);
    double blades = exact_of(figures, propeller, PROP_PROPELLER_BLADES);
    double area = exact_of(figures, propeller, PROP_PROPELLER_AREA_RATIO);
    double wake = entity_states(propeller, PROP_PROPELLER_WAKE) ? exact_of(figures, propeller, PROP_PROPELLER_WAKE)
                                                                : drive_limit(usual_wake(figures->model))->value;
    double turns = exact_figure(figures, propeller, FIGURE_SHAFT_SPEED);
    double times = engine != NULL ? losses(figures, engine) : NAN;
    double ratio = pitch / diameter;
    bool usable = isfinite(ratio * blades * area * wake * turns * times) && ratio >= SCREW_PITCH_LEAST &&
                  ratio <= SCREW_PITCH_MOST && blades >= SCREW_BLADES_LEAST && blades <= SCREW_BLADES_MOST;
    if (!usable || turns <= 0.0) {
        return false;
    }
    Screws screws;
    screws_init(&screws, (int)blades);
    for (int i = 0; i < DRIVE_CURVE_POINTS; i++) {
        double speed = speed_at(i, to_m_per_s);
        double kq = screw_kq(&screws, screw_advance(speed, wake, turns, diameter), ratio, point(area)).low;
        curve->speed[i] = speed;
        curve->power[i] = times * screw_power_w(fmax(kq, 0.0), turns, diameter, water_density(figures));
    }
    return true;
}
