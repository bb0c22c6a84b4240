/*
 * What an array offers in a day, in each step: by the sun, the heat of its cells, its shade and its
 * controller; and what a string of it gives in volts.
 */
#include "figures/power_makers.h"

#include "physics/celsius.h"
#include "physics/charging.h"

#include <math.h>

/* Air on a day that states no temperature. */
static const double usual_air_k = ZERO_CELSIUS_K + 20.0;

static Interval air_of(Work *work, const Entity *day)
{
    Quantity stated = use_stated(work, day, PROP_DAY_TEMPERATURE, 0);
    if (stated.state == STATE_MISSING) {
        return use_fact(work, "air on a day that states no temperature", point(usual_air_k), UNIT_ALONE(UNIT_CELSIUS),
                        "a choice of this program")
            .value;
    }
    return stated.value;
}

/* What an array is, as far as its current goes. */
typedef struct Array {
    SolarController controller;
    Interval rated_w, share, most_a, air_k;
    Interval open_v; /* of one string; 0: not stated */
    Interval drop;   /* in the cable from the panels, in full sun; 0: not told, or of a controller that passes their current on */
    Interval charge_v;
} Array;

/* Over which voltage the power flows, its controller's own where it states one, and what the way leaves of it. */
static void use_array_way(Work *work, const Entity *entity, Array *array)
{
    if (array->controller == SOLAR_MPPT) {
        if (entity_states(entity, PROP_SOLAR_CHARGE_VOLTAGE)) {
            Quantity set = use_value(work, entity, PROP_SOLAR_CHARGE_VOLTAGE, 0);
            array->charge_v = set.state == STATE_KNOWN && set.value.low > 0.0 ? set.value : array->charge_v;
        } else {
            use_fact(work, "voltage at which it charges", array->charge_v, UNIT_ALONE(UNIT_V),
                     "usual for the bank's chemistry, from memory");
        }
        use_fact(work, "what soil, wiring, unlike panels and the controller leave", point(solar_way_share),
                 UNIT_ALONE(UNIT_PERCENT), "common practice, from memory");
        return;
    }
    use_fact(work, "voltage of greatest power of a string, at which its current is stated",
             interval_corners(solar_greatest_v(array->charge_v.low, array->open_v.low),
                              solar_greatest_v(array->charge_v.high, array->open_v.high)),
             UNIT_ALONE(UNIT_V), "0.82 of the open-circuit voltage, else of 22 V for each 12 V, from memory");
    use_fact(work, "what soil, wiring and unlike panels leave", point(solar_pwm_way_share), UNIT_ALONE(UNIT_PERCENT),
             "common practice, from memory");
}

static Interval use_open_voltage(Work *work, const Entity *array, SolarController controller)
{
    if (controller != SOLAR_PWM || !entity_states(array, PROP_SOLAR_OPEN_CIRCUIT)) {
        return point(0.0);
    }
    Interval open = use_stated(work, array, PROP_SOLAR_OPEN_CIRCUIT, 0).value;
    Quantity series = use_stated(work, array, PROP_SOLAR_SERIES, 0);
    return series.state == STATE_KNOWN ? interval_multiply(open, series.value) : open;
}

SolarController controller_of(const Entity *array)
{
    return str_is(entity_word(array, PROP_SOLAR_CONTROLLER), "pwm") ? SOLAR_PWM : SOLAR_MPPT;
}

bool use_greatest_voltage(Work *work, const Entity *array, Interval *volts)
{
    if (!entity_states(array, PROP_SOLAR_OPEN_CIRCUIT)) {
        return false;
    }
    Interval open = use_value(work, array, PROP_SOLAR_OPEN_CIRCUIT, 0).value;
    Interval series = use_or_one(work, array, PROP_SOLAR_SERIES).value;
    *volts = interval_scale(interval_multiply(open, series), solar_greatest_v(1.0, 1.0));
    return true;
}

/* A controller that does not boost brings a bank nothing of panels whose voltage is below the bank's. */
static bool is_too_low(Power *power, const Entity *array, const Entity *bank, int corner)
{
    Work aside = *power->work; /* recorded only where it counts */
    Interval volts, there = power_node(power, bank)->working_v;
    if (str_is(entity_word(array, PROP_SOLAR_CONTROLLER), "boost") ||
        !use_greatest_voltage(&aside, array, &volts)) {
        return false;
    }
    bool low = corner == WORSE ? volts.low < there.high : volts.high < there.low;
    if (low) {
        use_greatest_voltage(power->work, array, &volts);
    }
    return low;
}

/* What the cable from the panels loses beyond what the share of the way counts. A pwm controller takes their current as it comes. */
static void use_array_cable(Power *power, const Entity *array, Array *of)
{
    Work aside = *power->work; /* recorded only where it counts */
    Power looked = *power;
    looked.work = &aside;
    Interval drop;
    if (of->controller == SOLAR_MPPT && use_panel_drop(&looked, array, &drop) && drop.high > solar_cable_counted) {
        use_panel_drop(power, array, &of->drop);
    }
}

static Array read_array(Power *power, const Entity *array, const Entity *bank, const Entity *day)
{
    Work *work = power->work;
    Array of = {.controller = controller_of(array)};
    Interval watts = use_filled(power, array, PROP_SOLAR_RATED).value;
    of.rated_w = interval_multiply(watts, use_pieces(work, array).value);
    of.share = interval_subtract(point(1.0), use_value(work, array, PROP_SOLAR_SHADING, 0).value);
    of.air_k = air_of(work, day);
    Quantity most = use_stated(work, array, PROP_SOLAR_MAX_OUTPUT, 0);
    of.most_a = most.state == STATE_KNOWN ? most.value : point(INFINITY);
    of.open_v = use_open_voltage(work, array, of.controller);
    of.charge_v = bank_charge_volts(power, bank);
    use_array_way(work, array, &of);
    use_array_cable(power, array, &of);
    return of;
}

bool array_hours(Power *power, const Entity *array, const Entity *bank, const Entity *day, Hours *amps)
{
    Hours sun;
    if (!hours_of_sun(power, array, day, &sun)) {
        return false;
    }
    Array of = read_array(power, array, bank, day);
    for (int c = 0; c < CORNERS; c++) {
        bool low = c == WORSE;
        if (is_too_low(power, array, bank, c)) {
            continue;
        }
        double air = (low ? of.air_k.high : of.air_k.low) - ZERO_CELSIUS_K;
        double watts = finite(low ? of.rated_w.low : of.rated_w.high);
        double share = fmax(0.0, low ? of.share.low : of.share.high);
        double most = low ? of.most_a.low : of.most_a.high;
        double open = low ? of.open_v.high : of.open_v.low;
        double charge_v = low ? of.charge_v.high : of.charge_v.low;
        double drop = low ? of.drop.high : of.drop.low;
        for (int i = 0; i < DAY_STEPS; i++) {
            double got = sun.of[c][i] * share;
            if (got <= 0.0) {
                amps->of[c][i] = 0.0;
                continue;
            }
            double given = solar_current_a(of.controller, watts, got, air, charge_v, open);
            amps->of[c][i] = fmin(most, drop > 0.0 ? given * solar_cable_share(drop, got) : given);
        }
    }
    return hours_sum_c(sun.of[BETTER]) <= 0.0;
}

/* At its best, the day apart */

static Interval cable_leaves(Interval drop)
{
    static const double full_sun_w_per_m2 = 1000.0;
    return (Interval){solar_cable_share(drop.high, full_sun_w_per_m2), solar_cable_share(drop.low, full_sun_w_per_m2)};
}

const Figure *array_output_of(Power *power, const Entity *array, const Entity *bank)
{
    Work *work = power->work;
    Interval watts = use_filled(power, array, PROP_SOLAR_RATED).value;
    watts = interval_multiply(watts, use_pieces(work, array).value);
    Array of = {.controller = controller_of(array), .charge_v = bank_charge_volts(power, bank)};
    if (power_node(power, bank)->nominal_v <= 0.0) {
        use_no_voltage(work, bank);
    }
    of.open_v = use_open_voltage(work, array, of.controller);
    use_array_way(work, array, &of);
    use_array_cable(power, array, &of);
    bool pwm = of.controller == SOLAR_PWM;
    Interval amps =
        pwm ? interval_divide(interval_scale(watts, solar_pwm_way_share),
                              interval_corners(solar_greatest_v(of.charge_v.low, of.open_v.low),
                                               solar_greatest_v(of.charge_v.high, of.open_v.high)))
            : interval_divide(interval_multiply(interval_scale(watts, solar_way_share), cable_leaves(of.drop)), of.charge_v);
    Quantity most = use_stated(work, array, PROP_SOLAR_MAX_OUTPUT, 0);
    amps = most.state == STATE_KNOWN ? interval_min(amps, most.value) : amps;
    return work_record(work, FIGURE_OUTPUT, array, NULL, amps,
                       pwm ? "rated power of all panels, less what the way costs, over the voltage of greatest power; at most max-output"
                       : of.drop.high > 0.0
                           ? "rated power of all panels, less what the way costs, and what the cable from them takes beyond 3 %, over "
                             "the charging voltage; at most max-output"
                           : "rated power of all panels, less what the way costs, over the charging voltage; at most max-output");
}

/* What a string gives, and what it has to: its panels are of use as long as their voltage is above the bank's. */
void record_array_volts(Power *power, const Entity *array, const Entity *bank)
{
    Work *work = power->work;
    Interval volts;
    work_begin(work);
    if (!use_greatest_voltage(work, array, &volts)) {
        return;
    }
    const Figure *greatest = work_record(work, FIGURE_GREATEST_VOLTAGE, array, NULL, volts,
                                         "panels in series x {open-circuit} x 0.82");
    work_begin(work);
    volts = use_figure(work, greatest).value;
    Interval beta = use_value(work, array, PROP_SOLAR_VOLTAGE_COEFFICIENT, 0).value;
    use_fact(work, "hot cells", point(solar_hot_celsius + ZERO_CELSIUS_K), UNIT_ALONE(UNIT_CELSIUS),
             "a choice of this program");
    work_record(work, FIGURE_HOT_VOLTAGE, array, NULL,
                interval_corners(solar_hot_v(volts.low, beta.low, solar_hot_celsius),
                                 solar_hot_v(volts.high, beta.high, solar_hot_celsius)),
                "{greatest-voltage} x (1 + {voltage-coefficient} x ({hot cells} - 25 C))");
    work_begin(work);
    if (entity_states(array, PROP_SOLAR_CHARGE_VOLTAGE)) {
        volts = use_value(work, array, PROP_SOLAR_CHARGE_VOLTAGE, 0).value;
    } else {
        volts = use_source_voltage(work, bank, "voltage at which it is charged", bank_charge_volts(power, bank),
                                   "usual for the bank's chemistry, from memory");
        if (power_node(power, bank)->nominal_v <= 0.0) {
            use_no_voltage(work, bank);
        }
    }
    work_record(work, FIGURE_CHARGING_VOLTAGE, array, NULL, volts,
                "as its controller is set, or usual for the chemistry");
}
