/*
 * When things run in a day. What states a clock runs by it, a share of the day runs evenly, and hours without a clock are
 * laid where they usually fall: a choice of this program, told on the page about computing. The engine, instruments and
 * radios run from 9:00 on, navigation lights from 20:00, all other loads from 18:00, when no sun helps; shore power
 * and generator are there from 18:00 on. What passes midnight goes on at the beginning of the day. Heaters and coolers
 * that state no use run evenly, as long as their cabins ask for it.
 */
#include "figures/power_days.h"

#include "physics/solar.h"

#include <math.h>
#include <string.h>

static const double hour_s = 3600.0;

void hours_add(Hours *hours, const Value *value, double *next_s, const double weight[CORNERS], bool less_is_worse)
{
    if (value->kind == VALUE_CLOCK) {
        for (int c = 0; c < CORNERS; c++) {
            day_add_span(hours->of[c], value->u.clock.from * 60.0, clock_seconds(value), weight[c]);
        }
        return;
    }
    if (value->kind != VALUE_QUANTITY) {
        return;
    }
    double low = value->u.quantity.low, high = value->u.quantity.high;
    double of[CORNERS] = {less_is_worse ? low : high, less_is_worse ? high : low};
    bool even = unit_dimension(value->unit).tag == TAG_RATIO;
    for (int c = 0; c < CORNERS; c++) {
        double length = even ? DAY_SECONDS : fmin(of[c], DAY_SECONDS);
        double share = even ? fmin(of[c], 1.0) : 1.0;
        day_add_span(hours->of[c], *next_s, length, weight[c] * share);
    }
    if (!even) {
        *next_s = fmod(*next_s + fmin(high, DAY_SECONDS), DAY_SECONDS);
    }
}

static const double whole[CORNERS] = {1.0, 1.0};

/* No part of a step is counted twice where statements overlap. */
static void hold_to_one(Hours *hours)
{
    for (int c = 0; c < CORNERS; c++) {
        for (int i = 0; i < DAY_STEPS; i++) {
            hours->of[c][i] = fmin(hours->of[c][i], 1.0);
        }
    }
}

void hours_of_supply(Work *work, const Entity *day, PropId prop, Hours *hours)
{
    double next = SHORE_FROM_S;
    memset(hours, 0, sizeof *hours);
    for (const Property *p = entity_property(day, prop); p != NULL; p = block_next(&day->block, p)) {
        const Value *value = property_value(p, 0);
        if (value->kind == VALUE_QUANTITY || p->flags & PROPERTY_BROKEN) {
            use_statement(work, day, p, 0);
        }
        hours_add(hours, value, &next, whole, true);
    }
    hold_to_one(hours);
}

static double usual_beginning(const Entity *load)
{
    switch (load->kind) {
    case KIND_INSTRUMENT:
    case KIND_RADIO:
    case KIND_NETWORK: return ENGINE_FROM_S;
    case KIND_NAV_LIGHT: return 20.0 * hour_s;
    default: return 18.0 * hour_s;
    }
}

/* More hours than a day has are a day. */
static void hold_to_a_day(double share[DAY_STEPS])
{
    double sum = 0.0;
    for (int i = 0; i < DAY_STEPS; i++) {
        sum += share[i];
    }
    for (int i = 0; i < DAY_STEPS && sum > DAY_STEPS; i++) {
        share[i] *= DAY_STEPS / sum;
    }
}

/* A thermostat: on and off all day. */
static bool hours_by_climate(Work *work, const Entity *maker, const Entity *day, Hours *hours)
{
    const Figure *running = running_time(work->figures, maker, day);
    if (running == NULL) {
        return false;
    }
    Interval seconds = use_figure(work, running).value;
    memset(hours, 0, sizeof *hours);
    day_add_span(hours->of[WORSE], 0.0, DAY_SECONDS, seconds.high / DAY_SECONDS);
    day_add_span(hours->of[BETTER], 0.0, DAY_SECONDS, seconds.low / DAY_SECONDS);
    return true;
}

const Property *hours_only_use(const Entity *load, const Entity *day)
{
    const Property *only = NULL;
    for (const Property *use = entity_property(load, PROP_LOAD_USE); use != NULL; use = block_next(&load->block, use)) {
        const Value *of_day = property_value(use, 0);
        if (property_is_mistaken(use)) {
            return NULL;
        }
        if (of_day->kind == VALUE_REFERENCE && of_day->u.entity == day) {
            if (only != NULL) {
                return NULL;
            }
            only = use;
        }
    }
    return only;
}

void hours_add_use(Hours *hours, const Entity *load, const Property *use, const double weight[CORNERS])
{
    double next = usual_beginning(load);
    hours_add(hours, property_value(use, 1), &next, weight, false);
}

/* From when on, and for how long at the most (or the least) a statement of hours holds: see hours_add. */
typedef struct Stretch {
    double from_s, length_s;
} Stretch;

static Stretch stretch_of(const Value *value, double usual_s, bool most)
{
    if (value->kind == VALUE_CLOCK) {
        return (Stretch){value->u.clock.from * 60.0, clock_seconds(value)};
    }
    if (value->kind != VALUE_QUANTITY) {
        return (Stretch){usual_s, most ? DAY_SECONDS : 0.0};
    }
    double stated = most ? value->u.quantity.high : value->u.quantity.low;
    bool even = unit_dimension(value->unit).tag == TAG_RATIO;
    return even ? (Stretch){0.0, stated > 0.0 ? DAY_SECONDS : 0.0} : (Stretch){usual_s, fmin(stated, DAY_SECONDS)};
}

static bool covers(Stretch shore, Stretch use)
{
    double late = fmod(use.from_s - shore.from_s + DAY_SECONDS, DAY_SECONDS);
    return shore.length_s >= DAY_SECONDS || late + use.length_s <= shore.length_s;
}

/* At worst: the most use, the least shore power; or at best. */
static bool is_on_shore_alone(const Entity *load, const Entity *day, const Property *use, bool worst)
{
    Stretch used = stretch_of(property_value(use, 1), usual_beginning(load), worst);
    for (const Property *p = entity_property(day, PROP_DAY_SHORE); p != NULL; p = block_next(&day->block, p)) {
        if (covers(stretch_of(property_value(p, 0), SHORE_FROM_S, !worst), used)) {
            return true;
        }
    }
    return false;
}

Interval longest_use_without_shore(const Model *model, const Entity *load)
{
    Interval longest = point(0.0);
    for (const Entity *day = model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        bool covered = true, may_be = true;
        for (const Property *use = entity_property(load, PROP_LOAD_USE); use != NULL; use = block_next(&load->block, use)) {
            const Value *of_day = property_value(use, 0);
            bool of_this = of_day->kind == VALUE_REFERENCE && of_day->u.entity == day;
            covered = covered && (!of_this || is_on_shore_alone(load, day, use, true));
            may_be = may_be && (!of_this || is_on_shore_alone(load, day, use, false));
        }
        Interval seconds;
        if (!covered && use_seconds(load, day, &seconds)) {
            seconds.low = may_be ? 0.0 : seconds.low;
            longest = interval_max(longest, seconds);
        }
    }
    return longest;
}

bool hours_of_use(Work *work, const Entity *load, const Entity *day, Hours *hours)
{
    if (!states_use(load)) {
        return hours_by_climate(work, load, day, hours);
    }
    double next = usual_beginning(load);
    int statements = 0;
    if (use_is_mistaken(load, day)) {
        use_waiting(work);
    }
    for (const Property *use = entity_property(load, PROP_LOAD_USE); use != NULL; use = block_next(&load->block, use)) {
        const Value *of_day = property_value(use, 0);
        if (of_day->kind != VALUE_REFERENCE || of_day->u.entity != day) {
            continue;
        }
        if (statements++ == 0) {
            memset(hours, 0, sizeof *hours);
        }
        hours_add(hours, property_value(use, 1), &next, whole, false);
    }
    for (int c = 0; c < CORNERS && statements > 1; c++) {
        hold_to_a_day(hours->of[c]); /* one statement alone cannot be longer */
    }
    return statements > 0;
}

/* Sun */

static void worsen_sun(Hours *sun, const double more[DAY_STEPS], bool first)
{
    for (int i = 0; i < DAY_STEPS; i++) {
        sun->of[WORSE][i] = first ? more[i] : fmin(sun->of[WORSE][i], more[i]);
        sun->of[BETTER][i] = first ? more[i] : fmax(sun->of[BETTER][i], more[i]);
    }
}

/* Of a range of latitudes, each step's least and most; clearness is left out. */
static void sun_above(double low_rad, double high_rad, int middle, Hours *sun)
{
    enum { LATITUDES = 17 };
    int count = low_rad == high_rad ? 1 : LATITUDES;
    for (int i = 0; i < count; i++) {
        double latitude = count == 1 ? low_rad : low_rad + (high_rad - low_rad) * i / (LATITUDES - 1);
        double one[DAY_STEPS];
        solar_by_height(latitude, middle, solar_extraterrestrial_j_per_m2(latitude, middle), DAY_STEPS, one);
        worsen_sun(sun, one, i == 0);
    }
}

static double daily_sum(const double w_per_m2[DAY_STEPS])
{
    double sum = 0.0;
    for (int i = 0; i < DAY_STEPS; i++) {
        sum += w_per_m2[i] * DAY_STEP_S;
    }
    return sum;
}

static void scale_sun(Hours *sun, Interval factor)
{
    for (int i = 0; i < DAY_STEPS; i++) {
        sun->of[WORSE][i] *= factor.low;
        sun->of[BETTER][i] *= factor.high;
    }
}

static bool sun_by_month(Work *work, const Entity *day, Hours *sun)
{
    const Value *month = property_value(entity_property(day, PROP_DAY_MONTH), 0);
    if (!entity_states(day, PROP_DAY_LATITUDE) || month->kind != VALUE_MONTH) {
        return false;
    }
    Quantity latitude = use_value(work, day, PROP_DAY_LATITUDE, 0);
    Quantity clearness = use_value(work, day, PROP_DAY_CLEARNESS, 0);
    if (latitude.state != STATE_KNOWN || clearness.state != STATE_KNOWN) {
        memset(sun, 0, sizeof *sun);
        return true; /* the figure waits */
    }
    sun_above(latitude.value.low, latitude.value.high, solar_middle_day(month->u.month), sun);
    Interval sum = {daily_sum(sun->of[WORSE]), daily_sum(sun->of[BETTER])};
    use_fact(work, "irradiation above the air in the middle of the month, J/m2", sum, UNIT_ALONE(UNIT_NONE),
             "Duffie and Beckman, Solar Engineering of Thermal Processes");
    scale_sun(sun, clearness.value);
    return true;
}

/* In each step the greater sum gives no less: both waves have their middle at noon. */
static void sun_as_stated(Work *work, const Entity *day, Hours *sun)
{
    static const double full_sun_w_per_m2 = 1000.0;
    Interval stated = use_value(work, day, PROP_DAY_SUN, 0).value;
    solar_by_wave(fmin(stated.low, DAY_SECONDS) * full_sun_w_per_m2, DAY_STEPS, sun->of[WORSE]);
    if (interval_is_point(stated)) {
        memcpy(sun->of[BETTER], sun->of[WORSE], sizeof sun->of[WORSE]);
    } else {
        solar_by_wave(fmin(stated.high, DAY_SECONDS) * full_sun_w_per_m2, DAY_STEPS, sun->of[BETTER]);
    }
}

bool hours_of_sun(Work *work, const Entity *day, Hours *sun)
{
    if (entity_states(day, PROP_DAY_SUN)) {
        sun_as_stated(work, day, sun);
        return true;
    }
    return sun_by_month(work, day, sun);
}

double hours_sum_c(const double amps[DAY_STEPS])
{
    double sum = 0.0;
    for (int i = 0; i < DAY_STEPS; i++) {
        sum += amps[i] * DAY_STEP_S;
    }
    return sum;
}
