/*
 * What burning can give: an engine's measured consumption by its rated power, a heater's heat by what its fuel holds. They show
 * slips by ten, and nothing else is reckoned with them.
 */
#include "figures/drive.h"
#include "figures/fuel_plan.h"

static Interval use_density(Work *work, Fuel fuel)
{
    double density = content_density_kg_per_m3(fuel_content(fuel));
    use_fact(work, "density of the fuel", point(density), UNIT_BY(UNIT_KG, UNIT_M3), "from memory");
    return point(density);
}

/* Grams for each kilowatt hour at rated power, by the points of `consumption`. */
static void record_specific(Work *work, const Entity *engine)
{
    FuelCurve curve = fuel_curve_for(work, engine);
    Buf formula;
    buf_init(&formula, work->figures->arena);
    work_begin(work);
    Interval speed = use_value(work, engine, PROP_ENGINE_RATED, 1).value;
    buf_text(&formula, "rate at {rated speed} by ");
    const Property *line = entity_property(engine, PROP_ENGINE_CONSUMPTION);
    for (; line != NULL; line = block_next(&engine->block, line)) {
        Quantity turns = use_statement(work, engine, line, 0);
        Quantity rate = use_statement(work, engine, line, 1);
        buf_format(&formula, "%s{speed %d}: {rate %d}", curve.count > 0 ? ", " : "", curve.count + 1,
                   curve.count + 1);
        if (turns.state == STATE_KNOWN && rate.state == STATE_KNOWN) {
            fuel_curve_add(&curve, turns.value, rate.value);
        }
    }
    Interval density = use_density(work, fuel_burned(work->model, engine));
    Interval power = use_value(work, engine, PROP_ENGINE_RATED, 0).value;
    if (curve.count == 0) {
        use_missing(work, engine, PROP_ENGINE_CONSUMPTION);
    }
    bool known = work->state == STATE_KNOWN;
    Interval rate = known ? fuel_curve_rate(&curve, speed) : point(0.0);
    buf_text(&formula, ", x {density} / {rated power}");
    work_record(work, FIGURE_RATED_SPECIFIC, engine, NULL,
                known ? interval_divide(interval_multiply(rate, density), power) : rate, formula.text)
        ->unit = UNIT_BY(UNIT_G, UNIT_KWH);
}

/* The same of a generator that burns so much at its usual load, which is no more than its rated power. */
static void record_generator_specific(Work *work, const Entity *generator)
{
    Fuel fuel = fuel_burned(work->model, generator);
    if (fuel == FUEL_UNKNOWN) {
        return; /* a mistake */
    }
    work_begin(work);
    Interval rate = use_value(work, generator, PROP_GENERATOR_FUEL_RATE, 0).value;
    Interval density = use_density(work, fuel);
    Interval power = use_value(work, generator, PROP_GENERATOR_RATED, 0).value;
    work_record(work, FIGURE_RATED_SPECIFIC, generator, NULL, interval_divide(interval_multiply(rate, density), power),
                "{fuel-rate} x {density} / {rated power}")
        ->unit = UNIT_BY(UNIT_G, UNIT_KWH);
}

DriveLimit heat_of(Fuel fuel)
{
    return fuel == FUEL_PETROL     ? DRIVE_PETROL_HEAT
           : fuel == FUEL_PARAFFIN ? DRIVE_PARAFFIN_HEAT
           : fuel == FUEL_SPIRIT   ? DRIVE_SPIRIT_HEAT
                                   : DRIVE_DIESEL_HEAT;
}

/* The share of the heat in its fuel that a heater or a burner gives. */
static void record_heat_share(Work *work, const Entity *heater)
{
    Fuel fuel = fuel_burned(work->model, heater);
    if (fuel == FUEL_UNKNOWN) {
        return; /* a mistake */
    }
    work_begin(work);
    bool heats = heater->kind == KIND_HEATER;
    Interval output = use_value(work, heater, heats ? PROP_HEATER_OUTPUT : PROP_BURNER_OUTPUT, 0).value;
    Interval rate = use_value(work, heater, fuel_rate_prop((KindId)heater->kind), 0).value;
    Interval density = use_density(work, fuel);
    const Limit *heat = drive_limit(heat_of(fuel));
    use_fact(work, "heat in a kilogram, in MJ", point(heat->value / 1e6), UNIT_ALONE(UNIT_NONE),
             heat->source);
    Interval burned = interval_scale(interval_multiply(rate, density), heat->value);
    work_record(work, FIGURE_HEAT_SHARE, heater, NULL, interval_divide(output, burned),
                "{output} / ({fuel-rate} x {density} x {heat})");
}

static void record_heat_shares(Work *work, KindId kind, PropId output)
{
    for (const Entity *e = first_aboard(work->model, kind); e != NULL; e = next_aboard(e)) {
        const Value *rate = property_value(entity_property(e, fuel_rate_prop(kind)), 0);
        bool burns = rate->kind == VALUE_QUANTITY && rate->u.quantity.high > 0.0 && !burns_wood(e);
        if (burns && entity_states(e, output)) {
            record_heat_share(work, e);
        }
    }
}

void drive_burned(Work *work)
{
    for (const Entity *e = first_aboard(work->model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        if (burns_fuel(e) && entity_states(e, PROP_ENGINE_CONSUMPTION)) {
            record_specific(work, e);
        }
    }
    for (const Entity *e = first_aboard(work->model, KIND_GENERATOR); e != NULL; e = next_aboard(e)) {
        if (entity_states(e, PROP_GENERATOR_FUEL_RATE) && entity_states(e, PROP_GENERATOR_RATED)) {
            record_generator_specific(work, e);
        }
    }
    record_heat_shares(work, KIND_HEATER, PROP_HEATER_OUTPUT);
    record_heat_shares(work, KIND_BURNER, PROP_BURNER_OUTPUT);
}
