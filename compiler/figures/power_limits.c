/*
 * What arrays, belts, lead banks and heaters come up against: cold voltage and strong sun at a controller, power on a belt,
 * air for hydrogen, hours that a bank alone carries a heater.
 */
#include "figures/power_makers.h"

#include "physics/celsius.h"
#include "physics/charging.h"

#include "model/status.h"

#include <math.h>

/* Cells at dawn on a clear winter day, where nobody says how cold it gets. */
static const double coldest_k = ZERO_CELSIUS_K - 10.0;

/* The coldest of her days that is colder than `known_k`; NULL: none is. */
static const Entity *colder_day(const Model *model, double known_k)
{
    const Entity *coldest = NULL;
    for (const Entity *day = model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        const Property *line = entity_property(day, PROP_DAY_TEMPERATURE);
        const Value *air = property_value(line, 0);
        if (line != NULL && !(line->flags & PROPERTY_BROKEN) && air->kind == VALUE_QUANTITY && air->u.quantity.low < known_k) {
            known_k = air->u.quantity.low;
            coldest = day;
        }
    }
    return coldest;
}

/* As her owner says, else as cold as it may be; a day of the spec that is colder than that counts all the same. */
static const Figure *record_coldest(Power *power, const Entity *array)
{
    Work *work = power->work;
    const Entity *boat = power->model->boat;
    bool stated = boat != NULL && entity_states(boat, PROP_BOAT_COLDEST_AIR);
    work_begin(work);
    Fact usual = {.what = "coldest air, for `coldest-air` is not stated", .low = coldest_k, .high = coldest_k,
                  .unit = UNIT_ALONE(UNIT_CELSIUS), .source = "a choice of this program"};
    Interval air = stated         ? use_value(work, boat, PROP_BOAT_COLDEST_AIR, 0).value
                   : boat != NULL ? use_assumption(work, boat, PROP_BOAT_COLDEST_AIR, 0, usual).value
                                  : point(coldest_k);
    const Entity *day = work->state == STATE_KNOWN ? colder_day(power->model, air.high) : NULL;
    if (day != NULL) {
        air = interval_min(air, use_value(work, day, PROP_DAY_TEMPERATURE, 0).value);
    }
    return work_record(work, FIGURE_COLDEST_CELLS, array, NULL, air,
                       day != NULL ? "the colder of {coldest air} and {temperature} of a day" : "{coldest air}");
}

static void record_array(Power *power, const Entity *array)
{
    Work *work = power->work;
    if (entity_states(array, PROP_SOLAR_OPEN_CIRCUIT)) {
        const Figure *coldest = record_coldest(power, array);
        work_begin(work);
        Interval open = use_value(work, array, PROP_SOLAR_OPEN_CIRCUIT, 0).value;
        Interval beta = use_value(work, array, PROP_SOLAR_VOLTAGE_COEFFICIENT, 0).value;
        Interval cold = use_figure(work, coldest).value;
        Interval series = use_or_one(work, array, PROP_SOLAR_SERIES).value;
        double warmest_c = cold.high - ZERO_CELSIUS_K, coldest_c = cold.low - ZERO_CELSIUS_K;
        double low = fmin(solar_cold_v(series.low, open.low, beta.high, warmest_c), /* above 25 C the other end of it is less */
                          solar_cold_v(series.low, open.low, beta.low, warmest_c));
        double high = fmax(solar_cold_v(series.high, open.high, beta.low, coldest_c),
                           solar_cold_v(series.high, open.high, beta.high, coldest_c));
        work_record(work, FIGURE_COLD_VOLTAGE, array, NULL, interval_corners(low, high),
                    "panels in series x {open-circuit} x (1 + {voltage-coefficient} x ({coldest-cells} - 25 C))");
    }
    if (entity_states(array, PROP_SOLAR_SHORT_CIRCUIT)) {
        work_begin(work);
        Interval one = use_value(work, array, PROP_SOLAR_SHORT_CIRCUIT, 0).value;
        Interval strings = use_strings(work, array, PROP_SOLAR_SERIES, PROP_SOLAR_PARALLEL).value;
        work_record(work, FIGURE_ARRAY_CURRENT, array, NULL,
                    interval_corners(solar_most_a(strings.low, one.low), solar_most_a(strings.high, one.high)),
                    "1.25 x {short-circuit} x strings in parallel");
    }
}

static void record_belts(Power *power, const Entity *alternator)
{
    Work *work = power->work;
    if (is_built_in(alternator) || is_engineless(alternator)) {
        return;
    }
    work_begin(work);
    Interval belts = use_value(work, alternator, PROP_ALTERNATOR_BELTS, 0).value;
    use_fact(work, "power that one belt of 12.5 mm carries", point(belt_w), UNIT_ALONE(UNIT_KW), "about 5 hp, from memory");
    work_record(work, FIGURE_BELT_LIMIT, alternator, NULL, interval_scale(belts, belt_w), "{belts} x {one belt}");
}

static void record_air(Power *power, const Entity *bank)
{
    Work *work = power->work;
    Chemistry chemistry;
    if (!bank_chemistry(bank, &chemistry) || chemistry == CHEMISTRY_LIFEPO4) {
        return;
    }
    const Figure *capacity = figure_find(work->figures, bank, FIGURE_CAPACITY, NULL);
    Interval cells = interval_scale(node_nominal(power_node(power, bank)), 0.5);
    work_begin(work);
    Interval charge = use_figure(work, capacity).value;
    use_fact(work, "cells in series, 2 V each", cells, UNIT_ALONE(UNIT_NONE), "nominal voltage");
    if (cells.low <= 0.0) {
        use_no_voltage(work, bank);
    }
    BatteryAir low = battery_air(chemistry, cells.low, charge.low), high = battery_air(chemistry, cells.high, charge.high);
    Figure *flow = work_record(work, FIGURE_VENT_AIR, bank, NULL, interval_corners(low.flow_m3_per_s, high.flow_m3_per_s),
                               chemistry == CHEMISTRY_FLOODED ? "0.05 x cells x 20 mA/Ah x {capacity}"
                                                              : "0.05 x cells x 8 mA/Ah x {capacity}");
    flow->unit = work_unit(work, UNIT_BY(UNIT_M3, UNIT_H));
    work_begin(work);
    use_figure(work, flow);
    work_record(work, FIGURE_VENT_AREA, bank, NULL, interval_corners(low.opening_m2, high.opening_m2),
                "28 cm2 for each m3/h of {vent-air}");
}

/* The bank behind an inverter; NULL: it hangs on something else. */
static const Entity *bank_of_inverter(const Power *power, const Entity *inverter)
{
    const Entity *bank = inverter != NULL ? power_node(power, inverter)->source : NULL;
    return bank != NULL && bank->kind == KIND_BANK ? bank : NULL;
}

/* What a heater draws of alternating current, in W. */
static Interval heater_watts(Power *power, const Entity *heater)
{
    Work *work = power->work;
    if (heater->kind == KIND_WATER_HEATER) {
        return use_value(work, heater, PROP_WATER_HEATER_ELEMENT, 0).value;
    }
    Quantity draw = use_value(work, heater, PROP_LOAD_DRAW, 0);
    UnitPair unit = property_value(entity_property(heater, PROP_LOAD_DRAW), 0)->unit;
    Interval watts = interval_multiply(draw.value, use_count(work, heater).value);
    if (dimension_equal(unit_dimension(unit), unit_dimension(UNIT_ALONE(UNIT_A)))) {
        watts = interval_multiply(watts, power_node(power, heater)->working_v);
    }
    return watts;
}

static void record_heater(Power *power, const Entity *heater, PropId draw)
{
    Work *work = power->work;
    const Entity *inverter = inverter_before(heater);
    const Entity *bank = bank_of_inverter(power, inverter);
    if (bank == NULL || !entity_states(heater, draw) || heater->flags & ENTITY_DROPPED) {
        return;
    }
    work_begin(work);
    const char *shown;
    Interval capacity = use_figure(work, figure_find(work->figures, bank, FIGURE_CAPACITY, NULL)).value;
    Interval least = use_figure(work, figure_find(work->figures, bank, FIGURE_LEAST_CHARGE, NULL)).value;
    Interval keeps = use_value(work, inverter, PROP_INVERTER_EFFICIENCY, 0).value;
    Interval volts = use_bank_volts(work, bank, &shown);
    Interval watts = heater_watts(power, heater);
    Interval amps = point(0.0);
    if (work->state == STATE_KNOWN && watts.high > 0.0) {
        amps = interval_divide(interval_divide(watts, keeps), volts);
    }
    Interval seconds = use_lasting(work, bank, capacity, least, amps);
    work_record(work, FIGURE_RUNTIME, heater, NULL, seconds,
                text_format(work->figures->arena, "{capacity of its bank} x (1 - {least-charge}) / (draw / {efficiency} / %s), "
                                                  "counted by Peukert", shown));
}

void power_limits(Power *power)
{
    const Model *model = power->model;
    for (const Entity *e = model->first_of_kind[KIND_SOLAR]; e != NULL; e = e->next_of_kind) {
        record_array(power, e);
        record_panel_cable(power, e);
    }
    for (const Entity *e = model->first_of_kind[KIND_ALTERNATOR]; e != NULL; e = e->next_of_kind) {
        record_belts(power, e);
    }
    for (const Entity *e = model->first_of_kind[KIND_BANK]; e != NULL; e = e->next_of_kind) {
        record_air(power, e);
    }
    for (const Entity *e = model->first_of_kind[KIND_HEATER]; e != NULL; e = e->next_of_kind) {
        record_heater(power, e, PROP_LOAD_DRAW);
    }
    for (const Entity *e = model->first_of_kind[KIND_WATER_HEATER]; e != NULL; e = e->next_of_kind) {
        record_heater(power, e, PROP_WATER_HEATER_ELEMENT);
    }
}
