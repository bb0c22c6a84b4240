/*
 * The cable from panels to their controller, and what strings side by side can drive back into one of them. What the controller
 * passes on has a cable of its own, by `feeds`.
 */
#include "figures/power_makers.h"

#include "physics/ampacity.h"
#include "physics/celsius.h"
#include "physics/conductor.h"

#include "figures/cable.h"
#include "model/status.h"

#include <math.h>

/* The stated size at its thinnest and at its thickest; NULL: none so thin, or no end to it. */
typedef struct Sizes {
    const Conductor *thin, *thick;
} Sizes;

static Sizes use_sizes(Work *work, const Entity *array)
{
    Interval area = use_value(work, array, PROP_SOLAR_PANEL_WIRE, 0).value;
    Series series = series_of_unit(property_value(entity_property(array, PROP_SOLAR_PANEL_WIRE), 0)->unit);
    return (Sizes){area.low > 0.0 ? conductor_find(series, area.low) : NULL,
                   isfinite(area.high) && area.high > 0.0 ? conductor_find(series, area.high) : NULL};
}

static Interval use_insulation(Work *work, const Entity *array)
{
    if (property_value(entity_property(array, PROP_SOLAR_PANEL_WIRE), 1)->kind == VALUE_QUANTITY) {
        return use_value(work, array, PROP_SOLAR_PANEL_WIRE, 1).value;
    }
    double assumed = CABLE_ASSUMED_INSULATION_C + ZERO_CELSIUS_K;
    return use_assumption(work, array, PROP_SOLAR_PANEL_WIRE, 1,
                          (Fact){.what = "insulation", .low = assumed, .high = assumed, .unit = UNIT_ALONE(UNIT_CELSIUS),
                                 .source = "not stated: the least that is sold for boats"})
        .value;
}

static double carries(const Power *power, const Conductor *row, double insulation_k, double air_k)
{
    double celsius = insulation_k - ZERO_CELSIUS_K;
    return ampacity_table(power->basis, row, celsius) * ambient_factor(celsius, air_k - ZERO_CELSIUS_K);
}

static void record_ampacity(Power *power, const Entity *array)
{
    Work *work = power->work;
    const Entity *boat = power->model->boat;
    work_begin(work);
    Sizes sizes = use_sizes(work, array);
    Interval insulation = use_insulation(work, array);
    Interval air = boat != NULL ? use_value(work, boat, PROP_BOAT_AIR_TEMPERATURE, 0).value : point(ZERO_CELSIUS_K + 30.0);
    Interval amps = {sizes.thin != NULL ? carries(power, sizes.thin, insulation.low, air.high) : 0.0,
                     sizes.thick != NULL ? carries(power, sizes.thick, insulation.high, air.low) : INFINITY};
    work_record(work, FIGURE_PANEL_AMPACITY, array, NULL, amps,
                boat != NULL ? "table current of {panel-wire} with {insulation}, in {air-temperature}"
                             : "table current of {panel-wire} with {insulation}");
}

/* At the greatest power: what flows is the power of all panels over the voltage of a string. */
bool use_panel_drop(Power *power, const Entity *array, Interval *share)
{
    Work *work = power->work;
    Interval volts;
    if (!entity_states(array, PROP_SOLAR_PANEL_WIRE) || !entity_states(array, PROP_SOLAR_PANEL_RUN) ||
        !entity_states(array, PROP_SOLAR_OPEN_CIRCUIT)) {
        return false;
    }
    Interval run = use_value(work, array, PROP_SOLAR_PANEL_RUN, 0).value;
    Sizes sizes = use_sizes(work, array);
    Interval watts = use_filled(power, array, PROP_SOLAR_RATED).value;
    watts = interval_multiply(watts, use_pieces(work, array).value);
    use_greatest_voltage(work, array, &volts);
    double worst = sizes.thin != NULL ? conductor_resistance_ohm(sizes.thin, 2.0 * run.high, CABLE_WORKING_CELSIUS, 1) : INFINITY;
    double best = sizes.thick != NULL ? conductor_resistance_ohm(sizes.thick, 2.0 * run.low, CABLE_WORKING_CELSIUS, 1) : 0.0;
    *share = (Interval){volts.high > 0.0 ? best * watts.low / (volts.high * volts.high) : 0.0,
                        volts.low > 0.0 ? worst * watts.high / (volts.low * volts.low) : INFINITY};
    return true;
}

static void record_drop(Power *power, const Entity *array)
{
    Interval share;
    work_begin(power->work);
    if (use_panel_drop(power, array, &share)) {
        work_record(power->work, FIGURE_PANEL_DROP, array, NULL, share,
                    "2 x {panel-run} x resistance of {panel-wire} at 50 C x rated power of all panels / (voltage of greatest power)^2");
    }
}

static void record_strings(Work *work, const Entity *array)
{
    work_begin(work);
    Quantity strings = use_strings(work, array, PROP_SOLAR_SERIES, PROP_SOLAR_PARALLEL);
    if (strings.state == STATE_KNOWN && strings.value.high <= 2.0) {
        return; /* one can drive back what one of them gives: any panel bears that */
    }
    const Figure *count = work_record(work, FIGURE_STRING_COUNT, array, NULL, strings.value, "panels over those in series");
    if (entity_states(array, PROP_SOLAR_SHORT_CIRCUIT)) {
        work_begin(work);
        Interval side_by_side = use_figure(work, count).value;
        Interval others = interval_max(interval_subtract(side_by_side, point(1.0)), point(0.0));
        Interval one = use_value(work, array, PROP_SOLAR_SHORT_CIRCUIT, 0).value;
        work_record(work, FIGURE_STRING_BACK, array, NULL,
                    interval_corners(solar_most_a(others.low, one.low), solar_most_a(others.high, one.high)),
                    "1.25 x {short-circuit} x ({string-count} - 1)");
    }
}

void record_panel_cable(Power *power, const Entity *array)
{
    if (array->flags & (ENTITY_DROPPED | ENTITY_BROKEN)) {
        return;
    }
    if (entity_states(array, PROP_SOLAR_PANEL_WIRE)) {
        record_ampacity(power, array);
        record_drop(power, array);
    }
    record_strings(power->work, array);
}
