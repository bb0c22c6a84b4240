/*
 * What an engine needs around it: exhaust, raw water, air; and what its alternator takes from it when it
 * turns slowly.
 *
 * All rise with its rated power; back pressure falls steeply with the bore.
 */
#include "figures/drive.h"
#include "figures/power.h"

#include <string.h>

#include "physics/celsius.h"
#include "physics/pipe.h"

#include "model/status.h"

#include <math.h>

#define PERCENT UNIT_ALONE(UNIT_PERCENT)
#define RATIO UNIT_ALONE(UNIT_NONE)

/* ---- Exhaust ---- */

bool exhaust_is_wet(const Entity *exhaust)
{
    return entity_yes(exhaust, PROP_EXHAUST_WET) != 0;
}

/* One end of what the back pressure hangs on. */
typedef struct Blow {
    double gas_m3_per_s, bore, run, bends, lift;
} Blow;

/* Through a bore that nothing bounds the gas goes freely; one that may be next to none may hold all of it back. */
static double pressure_at(const Blow *blow, double celsius, double times)
{
    double length = blow->run + blow->bends * drive_limit(DRIVE_EXHAUST_BEND)->value * blow->bore;
    if (blow->bore <= 0.0) {
        return INFINITY;
    }
    double column = pressure_of_head_pa(blow->lift, liquid_density_kg_per_m3(LIQUID_SEA_15_C));
    if (blow->bore <= 0.0 || isinf(blow->bore)) {
        return isinf(blow->bore) ? column : INFINITY;
    }
    return times * exhaust_pressure_pa(length, blow->gas_m3_per_s, blow->bore, celsius) + column;
}

static Interval use_lift(Work *work, const Entity *exhaust, const char **shown)
{
    *shown = "";
    if (!exhaust_is_wet(exhaust) || !entity_states(exhaust, PROP_EXHAUST_LIFT)) {
        return point(0.0);
    }
    *shown = " + {lift} of sea water";
    return use_value(work, exhaust, PROP_EXHAUST_LIFT, 0).value;
}

static Interval use_bends(Work *work, const Entity *exhaust, const char **shown)
{
    *shown = "";
    if (!entity_states(exhaust, PROP_EXHAUST_BENDS)) {
        return point(0.0);
    }
    Interval bends = use_value(work, exhaust, PROP_EXHAUST_BENDS, 0).value;
    use_drive_limit(work, "bores that a bend is worth", DRIVE_EXHAUST_BEND, RATIO);
    *shown = " + {bends} x {bend} x {bore}";
    return bends;
}

static void record_back_pressure(Work *work, const Entity *exhaust)
{
    const Entity *engine = engine_of_exhaust(work->model, exhaust);
    if (engine == NULL || !burns_fuel(engine)) {
        return;
    }
    bool wet = exhaust_is_wet(exhaust);
    const char *bends_shown;
    const char *lift_shown;
    const char *power_shown;
    double celsius = drive_limit(DRIVE_EXHAUST_HEAT)->value;
    work_begin(work);
    double times = wet ? use_drive_limit(work, "wet, against a dry one", DRIVE_EXHAUST_WET, RATIO).low : 1.0;
    Interval run = use_value(work, exhaust, PROP_EXHAUST_RUN, 0).value;
    Interval bends = use_bends(work, exhaust, &bends_shown);
    if (bends_shown[0] != '\0') {
        use_value(work, exhaust, PROP_EXHAUST_BORE, 0);
    }
    Interval power = use_power_blown(work, exhaust, &power_shown);
    use_fact(work, "exhaust of each kWh", point(drive_limit(DRIVE_EXHAUST_MASS)->value),
             UNIT_BY(UNIT_KG, UNIT_KWH), drive_limit(DRIVE_EXHAUST_MASS)->source);
    use_fact(work, "heat of the exhaust", point(celsius + ZERO_CELSIUS_K), UNIT_ALONE(UNIT_CELSIUS),
             drive_limit(DRIVE_EXHAUST_HEAT)->source);
    Interval bore = use_value(work, exhaust, PROP_EXHAUST_BORE, 0).value;
    Interval lift = use_lift(work, exhaust, &lift_shown);
    Interval pressure = point(0.0);
    if (work->state == STATE_KNOWN) {
        double gas = exhaust_volume_m3(drive_limit(DRIVE_EXHAUST_MASS)->value, celsius);
        Blow least = {gas * power.low, bore.high, run.low, bends.low, lift.low};
        Blow most = {gas * power.high, bore.low, run.high, bends.high, lift.high};
        pressure = interval_corners(pressure_at(&least, celsius, times), pressure_at(&most, celsius, times));
        pressure.low = fmax(pressure.low, 0.0); /* of a bore without an end nothing is known */
    }
    Figure *figure = work_record(
        work, FIGURE_BACK_PRESSURE, exhaust, NULL, pressure,
        text_format(work->figures->arena,
                    "%s6.32 x ({run}%s) x (gas of %s, {mass}, {heat})^2 / ({bore}^5 x heat)%s",
                    wet ? "{wet} x " : "", bends_shown, power_shown, lift_shown));
    figure->unit = unit_of(engine, PROP_ENGINE_BACK_PRESSURE, figure->unit);
}

/* ---- Raw water, air ---- */

static const Entity *stated_exhaust(const Entity *engine)
{
    return entity_reference(engine, PROP_ENGINE_EXHAUST);
}

bool burns_within(const Entity *engine)
{
    return burns_fuel(engine) && !is_outboard(engine);
}

bool is_electric(const Entity *engine)
{
    return !burns_fuel(engine);
}

bool is_cooled_by_the_sea(const Entity *engine)
{
    Str cooling = entity_word(engine, PROP_ENGINE_COOLING);
    bool dry = stated_exhaust(engine) != NULL && !exhaust_is_wet(stated_exhaust(engine));
    return burns_within(engine) && (cooling.length > 0 ? str_is(cooling, "sea") : !dry);
}

bool takes_sea_water(const Entity *engine)
{
    bool wet = stated_exhaust(engine) != NULL && exhaust_is_wet(stated_exhaust(engine));
    return is_cooled_by_the_sea(engine) || (burns_within(engine) && wet);
}

static void record_raw_water(Work *work, const Entity *engine)
{
    if (!is_cooled_by_the_sea(engine)) {
        return;
    }
    const UnitPair litres_a_minute = UNIT_BY(UNIT_L, UNIT_MIN);
    work_begin(work);
    Interval power = use_value(work, engine, PROP_ENGINE_RATED, 0).value;
    Interval each = use_fact(work, "sea water for each kWh", point(drive_limit(DRIVE_RAW_WATER)->value),
                             UNIT_BY(UNIT_L, UNIT_KWH), "0.9 l/min for each kW: a trade page")
                        .value;
    Figure *figure = work_record(work, FIGURE_RAW_WATER_NEED, engine, NULL, interval_multiply(power, each),
                                 "{rated power} x {water}");
    figure->unit = unit_of(engine, PROP_ENGINE_RAW_WATER, work_unit(work, litres_a_minute));
    work_begin(work);
    power = use_value(work, engine, PROP_ENGINE_RATED, 0).value;
    use_drive_limit(work, "bore for 85 kW", DRIVE_INTAKE_BORE, UNIT_ALONE(UNIT_MM));
    use_drive_limit(work, "power for 25 mm", DRIVE_INTAKE_POWER, UNIT_ALONE(UNIT_KW));
    use_drive_limit(work, "least of small engines", DRIVE_INTAKE_LEAST, UNIT_ALONE(UNIT_MM));
    work_record(work, FIGURE_INTAKE_NEED, engine, NULL,
                interval_corners(intake_bore_m(power.low), intake_bore_m(power.high)),
                "root of {rated power} x {bore}, per root of {power}: the same speed of the water; no less than {what makers ask of the smallest}");
}

/* Up to what a handbook asks for at her speed; of one that may pass 8 kn, or of whose speed nothing is known, at either. */
static Interval use_cooler_of_handbook(Work *work, const Entity *engine)
{
    const Figure *full = full_speed_with(work->figures, engine);
    double slow = drive_limit(DRIVE_KEEL_COOLER_SLOW)->value, fast = drive_limit(DRIVE_KEEL_COOLER_FAST)->value;
    double border = drive_limit(DRIVE_KEEL_COOLER_SPEED)->value;
    Interval speed = full != NULL && full->state == STATE_KNOWN ? use_figure(work, full).value : interval(0.0, INFINITY);
    Interval each = {speed.high < border ? slow : fast, speed.low < border ? slow : fast};
    use_fact(work, "skin for each kW, by the handbook", interval_scale(each, 1000.0), UNIT_ALONE(UNIT_M2),
             drive_limit(DRIVE_KEEL_COOLER_SLOW)->source);
    return each;
}

/* Of painted steel: two rules, more than half apart, and what is enough lies between them. */
static void record_keel_cooler(Work *work, const Entity *engine)
{
    bool steel = work->model->boat != NULL && str_is(entity_word(work->model->boat, PROP_BOAT_BUILT), "steel");
    if (!burns_within(engine) || !str_is(entity_word(engine, PROP_ENGINE_COOLING), "keel") ||
        !(steel || entity_states(engine, PROP_ENGINE_KEEL_COOLER))) {
        return;
    }
    work_begin(work);
    Interval power = use_value(work, engine, PROP_ENGINE_RATED, 0).value;
    Interval least = use_fact(work, "skin for each kW, by the rule of canal boats",
                              point(drive_limit(DRIVE_KEEL_COOLER_LEAST)->value * 1000.0), UNIT_ALONE(UNIT_M2),
                              drive_limit(DRIVE_KEEL_COOLER_LEAST)->source)
                         .value;
    const Figure *full = full_speed_with(work->figures, engine);
    bool known = full != NULL && full->state == STATE_KNOWN;
    Interval most = use_cooler_of_handbook(work, engine);
    Interval need = interval_corners(power.low * least.low / 1000.0, power.high * most.high);
    work_record(work, FIGURE_KEEL_COOLER_NEED, engine, NULL, need,
                known ? "{rated power} in kW x {canal boats}, up to what at {full-speed} is {handbook} for each kW"
                      : "{rated power} in kW x {canal boats}, up to {handbook} for each kW")
        ->unit = unit_of(engine, PROP_ENGINE_KEEL_COOLER, UNIT_ALONE(UNIT_M2));
}

bool breathes_within(const Entity *thing)
{
    return thing->kind == KIND_GENERATOR ? entity_yes(thing, PROP_COMMON_PORTABLE) != 1 : burns_within(thing);
}

/*
 * The power of all engines in the space of one, and of generators; of that alone where no space is stated. What a generator
 * gives is a tenth to a fifth less than its engine: taken for it.
 */
static Interval use_powers_beside(Work *work, const Entity *engine, Sum *sum)
{
    static const KindId breathing[] = {KIND_ENGINE, KIND_GENERATOR};
    const Entity *space = entity_reference(engine, PROP_COMMON_SPACE);
    for (size_t k = 0; k < sizeof breathing / sizeof breathing[0]; k++) {
        PropId rated = k == 0 ? PROP_ENGINE_RATED : PROP_GENERATOR_RATED;
        for (const Entity *e = first_aboard(work->model, breathing[k]); e != NULL; e = next_aboard(e)) {
            bool beside = space != NULL && entity_reference(e, PROP_COMMON_SPACE) == space && breathes_within(e);
            if (e == engine || beside) {
                sum_next(sum);
                sum_label(sum, work, "", e, "rated power");
                Interval power = use_value(work, e, rated, 0).value;
                sum_count(sum, work, e);
                sum_add(sum, interval_multiply(power, use_count(work, e).value));
            }
        }
    }
    return sum->value;
}

static void record_air(Work *work, const Entity *engine)
{
    Arena *arena = work->figures->arena;
    Sum sum;
    if (!breathes_within(engine)) {
        return;
    }
    sum_begin(&sum, work);
    Interval power = use_powers_beside(work, engine, &sum);
    use_fact(work, "opening for each kW", point(drive_limit(DRIVE_AIR_OPENING)->value * 1000.0),
             UNIT_ALONE(UNIT_CM2), drive_limit(DRIVE_AIR_OPENING)->source);
    const Entity *space = entity_reference(engine, PROP_COMMON_SPACE);
    Figure *opening = work_record(work, FIGURE_AIR_OPENING, engine, NULL,
                interval_scale(power, drive_limit(DRIVE_AIR_OPENING)->value),
                text_format(arena, "(%s) in kW x {opening}", sum.formula.text));
    opening->unit = space != NULL ? unit_of(space, PROP_SPACE_OPENINGS, opening->unit) : opening->unit;
    sum_begin(&sum, work);
    power = use_powers_beside(work, engine, &sum);
    work_record(work, FIGURE_AIR_FLOW, engine, NULL,
                interval_corners(engine_air_m3_per_s(power.low), engine_air_m3_per_s(power.high)),
                text_format(arena, "2.75 cfm x (%s) in hp - 90 cfm, at least 2.5 cfm a hp", sum.formula.text))
        ->unit = work_unit(work, UNIT_BY(UNIT_M3, UNIT_H));
}

/* ---- Alternator ---- */

/* Output at idle by the maker's points, straight between two; 0 below the first, the last beyond. */
/* The least, or the most, where points of the curve are ranges: it rises with the speed. */
static double output_at(const Entity *alternator, double turns, bool least, bool *any)
{
    const Property *line = entity_property(alternator, PROP_ALTERNATOR_CURVE);
    double last_turns = 0.0;
    double last = 0.0;
    *any = false;
    for (; line != NULL; line = block_next(&alternator->block, line)) {
        const Value *at = property_value(line, 0);
        const Value *amps = property_value(line, 1);
        *any = true;
        if (at->kind != VALUE_QUANTITY || amps->kind != VALUE_QUANTITY) {
            continue; /* a mistake: what reads the curve waits for it */
        }
        double point_turns = least ? at->u.quantity.high : at->u.quantity.low;
        double point_amps = least ? amps->u.quantity.low : amps->u.quantity.high;
        if (turns <= point_turns) {
            double span = point_turns - last_turns;
            bool within = span > 0.0 && isfinite(span) && isfinite(point_amps);
            return within ? last + (point_amps - last) * (turns - last_turns) / span : least ? fmin(last, point_amps) : fmax(last, point_amps);
        }
        last_turns = point_turns;
        last = point_amps;
    }
    return last;
}

/* Current that it can give while the engine idles: by its curve, else all of its output. */
static Interval use_idle_output(Work *work, const Entity *alternator, const Entity *engine,
                                const char **shown)
{
    bool any;
    const Property *line = entity_property(alternator, PROP_ALTERNATOR_CURVE);
    for (; line != NULL; line = block_next(&alternator->block, line)) {
        use_if_mistaken(work, line);
    }
    output_at(alternator, 0.0, true, &any);
    if (!any) {
        *shown = "{output}";
        return use_value(work, alternator, PROP_ALTERNATOR_OUTPUT, 0).value;
    }
    Interval rated = use_value(work, alternator, PROP_ALTERNATOR_OUTPUT, 0).value; /* never more than that: curve-high */
    Interval idle = use_value(work, engine, PROP_ENGINE_IDLE, 0).value;
    Interval pulley = use_value(work, alternator, PROP_ALTERNATOR_PULLEY_RATIO, 0).value;
    double low = output_at(alternator, idle.low * pulley.low, true, &any);
    double high = output_at(alternator, idle.high * pulley.high, false, &any);
    *shown = "the least of {output} and, at {idle} x {pulley ratio}, {current} by its curve,";
    Interval by_curve = use_fact(work, "current by its curve", interval_corners(low, high), UNIT_ALONE(UNIT_A),
                                 "`curve` of the alternator, straight between its points")
                            .value;
    return interval_min(by_curve, rated);
}

static void record_alternator(Work *work, const Entity *alternator)
{
    const Entity *engine = entity_reference(alternator, PROP_ALTERNATOR_ENGINE);
    if (engine == NULL || !is_aboard(engine) || is_built_in(alternator)) {
        return; /* what its engine gives is stated with it at work */
    }
    work_begin(work);
    Interval current = use_value(work, alternator, PROP_ALTERNATOR_OUTPUT, 0).value;
    Interval voltage = use_value(work, alternator, PROP_ALTERNATOR_OUTPUT, 1).value;
    Interval efficiency = use_value(work, alternator, PROP_ALTERNATOR_EFFICIENCY, 0).value;
    work_record(work, FIGURE_BELT_POWER, alternator, NULL,
                interval_divide(interval_multiply(current, voltage), efficiency),
                "{output} x {voltage} / {efficiency}");
    const char *shown;
    work_begin(work);
    current = use_idle_output(work, alternator, engine, &shown);
    voltage = use_value(work, alternator, PROP_ALTERNATOR_OUTPUT, 1).value;
    efficiency = use_value(work, alternator, PROP_ALTERNATOR_EFFICIENCY, 0).value;
    Interval rated = use_value(work, engine, PROP_ENGINE_RATED, 0).value;
    Interval idle = use_value(work, engine, PROP_ENGINE_IDLE, 0).value;
    Interval turns = use_value(work, engine, PROP_ENGINE_RATED, 1).value;
    Interval taken = interval_divide(interval_multiply(current, voltage), efficiency);
    Interval given = interval_divide(interval_multiply(rated, idle), turns);
    Figure *share = work_record(
        work, FIGURE_IDLE_SHARE, alternator, NULL, interval_divide(taken, given),
        text_format(work->figures->arena,
                    "%s x {voltage} / {efficiency} / ({rated power} x {idle} / {rated speed})", shown));
    share->remark = strcmp(shown, "{output}") == 0
                        ? "with all of its output already at idle, for it states no `curve`: at most"
                        : NULL;
}

/*
 * How many of so many alternators one of so many engines drives: where they do not share out evenly, the most
 * that one has.
 */
static Interval on_one(Interval alternators, Interval engines)
{
    return (Interval){ceil(alternators.low / engines.high - 1e-9), ceil(alternators.high / engines.low - 1e-9)};
}

/* What turns an engine's alternators, all that it drives at their full output; where the engine is counted, of each. */
static void record_alternators_of(Work *work, const Entity *engine)
{
    Interval sum = point(0.0);
    bool any = false, counted = entity_states(engine, PROP_COMMON_COUNT);
    work_begin(work);
    Interval engines = use_count(work, engine).value;
    for (const Entity *e = first_aboard(work->model, KIND_ALTERNATOR); e != NULL && is_cranked(engine);
         e = next_aboard(e)) {
        if (entity_reference(e, PROP_ALTERNATOR_ENGINE) == engine && !is_built_in(e)) {
            Interval one = use_figure(work, figure_find(work->figures, e, FIGURE_BELT_POWER, NULL)).value;
            Interval alternators = use_count(work, e).value;
            sum = interval_add(sum, interval_multiply(one, counted ? on_one(alternators, engines) : alternators));
            any = true;
        }
    }
    if (any) {
        work_record(work, FIGURE_ALTERNATOR_POWER, engine, NULL, sum,
                    counted ? "sum of belt-power of its alternators, of each as many as one of {count} has"
                            : "sum of belt-power of its alternators");
    }
}

void drive_engines(Work *work)
{
    const Model *model = work->model;
    for (const Entity *e = first_aboard(model, KIND_EXHAUST); e != NULL; e = next_aboard(e)) {
        record_back_pressure(work, e);
    }
    for (const Entity *e = first_aboard(model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        record_raw_water(work, e);
        record_keel_cooler(work, e);
        record_air(work, e);
    }
    drive_shared_intakes(work);
    for (const Entity *e = first_aboard(model, KIND_GENERATOR); e != NULL; e = next_aboard(e)) {
        record_air(work, e);
    }
    for (const Entity *e = first_aboard(model, KIND_ALTERNATOR); e != NULL; e = next_aboard(e)) {
        record_alternator(work, e);
    }
    for (const Entity *e = first_aboard(model, KIND_ENGINE);
         e != NULL && first_aboard(model, KIND_ALTERNATOR) != NULL; e = next_aboard(e)) {
        record_alternators_of(work, e);
    }
}
