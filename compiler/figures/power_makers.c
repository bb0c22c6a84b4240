/*
 * What sources offer a bank in a day, in each step, whether it can take it or not.
 *
 * An alternator gives by the speed of its shaft and by its heat, one that wind or water drives what it says; an array by the sun, the heat of its cells, its shade and
 * its controller; a charger by what shore power or its generator leaves over from other loads. A converter brings nothing
 * of its own: it passes a surplus on (power_days.c).
 */
#include "figures/power_days.h"
#include "figures/water.h"

#include "physics/charging.h"

#include "model/status.h"

#include <math.h>
#include <string.h>

/* An engine that no one says the speed of runs at this share of its rated speed. */
static const double usual_speed_share = 0.6;
/* Air on a day that states no temperature. */
static const double usual_air_k = 273.15 + 20.0;
enum { CURVE_POINTS = 32 };

double bank_charge_volts(const Power *power, const Entity *bank)
{
    const PowerNode *node = power_node(power, bank);
    Chemistry chemistry;
    if (!bank_chemistry(bank, &chemistry) || node->nominal_v <= 0.0) {
        return 14.2;
    }
    return fmax(battery_volts(BATTERY_ABSORPTION, chemistry, node->nominal_v), node->working_v.high);
}

static double finite(double value)
{
    return fmin(value, 1e9);
}

/* Alternators */

static void sort_points(AlternatorPoint points[], size_t count)
{
    for (size_t i = 1; i < count; i++) {
        for (size_t j = i; j > 0 && points[j].rpm < points[j - 1].rpm; j--) {
            AlternatorPoint other = points[j];
            points[j] = points[j - 1];
            points[j - 1] = other;
        }
    }
}

/* The maker's curve, worse or better corner; how many points it has. */
static size_t read_curve(Work *work, const Entity *alternator, int corner, AlternatorPoint points[CURVE_POINTS])
{
    size_t count = 0;
    for (const Property *p = entity_property(alternator, PROP_ALTERNATOR_CURVE); p != NULL && count < CURVE_POINTS;
         p = block_next(&alternator->block, p)) {
        if (work != NULL) {
            use_statement(work, alternator, p, 0);
            use_statement(work, alternator, p, 1);
        }
        const Value *rpm = property_value(p, 0), *amps = property_value(p, 1);
        if (rpm->kind == VALUE_QUANTITY && amps->kind == VALUE_QUANTITY) {
            points[count++] = (AlternatorPoint){60.0 * (corner == WORSE ? rpm->u.quantity.high : rpm->u.quantity.low),
                                                corner == WORSE ? amps->u.quantity.low : amps->u.quantity.high};
        }
    }
    sort_points(points, count);
    return count;
}

/* What an alternator gives when it is hot, by the speed of its engine. */
typedef struct Alternator {
    Interval rated_a, ratio, hot, count;
    AlternatorPoint curve[CORNERS][CURVE_POINTS];
    size_t points;
    Interval usual_speed; /* of the engine, 1/s: where the day states none */
    bool built_in;        /* on the engine's own shaft: from idle to its rated speed in proportion */
    Interval idle, full;  /* of such a one: of the engine, 1/s */
    Interval turned_a;    /* no more than its engine can turn at its rated speed ... */
    Interval full_speed;  /* ... which is this, in 1/s */
    bool limited;         /* that may be less than it would give */
} Alternator;

/* A stated value, or its default, that is not recorded; false: there is none. */
static bool look_at(const Model *model, const Entity *entity, PropId prop, unsigned slot, Interval *value)
{
    const Property *stated = entity_property(entity, prop);
    const Value *at = property_value(stated != NULL ? stated : model_default(model, prop), slot);
    bool known = at->kind == VALUE_QUANTITY && !(at->flags & VALUE_BROKEN);
    if (known) {
        *value = (Interval){at->u.quantity.low, at->u.quantity.high};
    }
    return known;
}

/* What it takes of its engine when it gives all that it gives hot, of all of them, in W; 0: not known. */
static Interval belt_watts(const Model *model, const Entity *alternator)
{
    Interval amps, volts, hot, keeps, count;
    if (!look_at(model, alternator, PROP_ALTERNATOR_OUTPUT, 0, &amps) ||
        !look_at(model, alternator, PROP_ALTERNATOR_OUTPUT, 1, &volts) ||
        !look_at(model, alternator, PROP_ALTERNATOR_HOT_OUTPUT, 0, &hot) ||
        !look_at(model, alternator, PROP_ALTERNATOR_EFFICIENCY, 0, &keeps)) {
        return point(0.0);
    }
    if (!look_at(model, alternator, PROP_COMMON_COUNT, 0, &count)) {
        count = point(1.0);
    }
    return interval_divide(interval_multiply(interval_multiply(interval_multiply(amps, volts), hot), count),
                           keeps);
}

/* Of all alternators on its engine together: each has the same share of what the engine gives. */
static Interval belts_together(const Model *model, const Entity *engine)
{
    Interval sum = point(0.0);
    for (const Entity *e = first_aboard(model, KIND_ALTERNATOR); e != NULL; e = next_aboard(e)) {
        if (entity_reference(e, PROP_ALTERNATOR_ENGINE) == engine) {
            sum = interval_add(sum, belt_watts(model, e));
        }
    }
    return sum;
}

/*
 * An engine gives no more than its rated power, and at less than its rated speed less in proportion: the same torque. What
 * all alternators on it would take beyond that each lacks in proportion.
 */
static void read_limit(const Model *model, const Entity *alternator, Alternator *of)
{
    const Entity *engine = entity_reference(alternator, PROP_ALTERNATOR_ENGINE);
    Interval watts, count;
    if (engine == NULL || !look_at(model, engine, PROP_ENGINE_RATED, 0, &watts) ||
        !look_at(model, engine, PROP_ENGINE_RATED, 1, &of->full_speed) || of->full_speed.low <= 0.0) {
        return;
    }
    if (look_at(model, engine, PROP_COMMON_COUNT, 0, &count)) {
        watts = interval_multiply(watts, count);
    }
    Interval all = belts_together(model, engine);
    if (all.low <= 0.0) {
        return;
    }
    of->turned_a = interval_multiply(interval_multiply(interval_multiply(of->rated_a, of->hot), of->count),
                                     interval_divide(watts, all));
    of->limited = true;
}

/* The most that its engine turns of it at such a speed, in A. */
static double turned_a(const Alternator *of, Interval engine_speed, bool low)
{
    if (!of->limited) {
        return INFINITY;
    }
    double share = low ? engine_speed.low / of->full_speed.high : engine_speed.high / of->full_speed.low;
    return finite(low ? of->turned_a.low : of->turned_a.high) * fmin(1.0, share);
}

/* Of one in an outboard, without a curve: nothing at idle, all at the rated speed. Common practice, no source. */
static double built_in_share(const Alternator *of, double rpm, bool low)
{
    double idle = 60.0 * (low ? of->idle.high : of->idle.low), full = 60.0 * (low ? of->full.high : of->full.low);
    return full > idle ? fmin(1.0, fmax(0.0, (rpm - idle) / (full - idle))) : 1.0;
}

/* What it gives at a speed, if its engine turns it. */
static double wished_amps(const Alternator *of, Interval engine_speed, int corner)
{
    bool low = corner == WORSE;
    double rpm = 60.0 * (low ? engine_speed.low * of->ratio.low : engine_speed.high * of->ratio.high);
    double cold = of->points > 0 ? alternator_output(of->curve[corner], of->points, finite(rpm))
                                 : (low ? of->rated_a.low : of->rated_a.high) *
                                       (of->built_in ? built_in_share(of, rpm, low) : alternator_usual_share(finite(rpm)));
    return finite((low ? of->count.low : of->count.high) * (low ? of->hot.low : of->hot.high) * cold);
}

static double alternator_amps(const Alternator *of, Interval engine_speed, int corner)
{
    return fmin(wished_amps(of, engine_speed, corner), turned_a(of, engine_speed, corner == WORSE));
}

/* What it hangs on that its engine cannot turn it faster: recorded where that is so. */
static bool use_limit(Work *work, const Entity *alternator, const Alternator *of, Interval speed)
{
    const Entity *engine = entity_reference(alternator, PROP_ALTERNATOR_ENGINE);
    if (wished_amps(of, speed, WORSE) <= turned_a(of, speed, true) &&
        wished_amps(of, speed, BETTER) <= turned_a(of, speed, false)) {
        return false;
    }
    use_value(work, engine, PROP_ENGINE_RATED, 0);
    use_value(work, engine, PROP_ENGINE_RATED, 1);
    use_value(work, alternator, PROP_ALTERNATOR_OUTPUT, 1);
    use_value(work, alternator, PROP_ALTERNATOR_EFFICIENCY, 0);
    return true;
}

/* Half of it reads values of the spec, and records them where work is not a scratch. */
static Alternator read_alternator(Work *work, const Entity *alternator)
{
    Alternator of = {.rated_a = use_value(work, alternator, PROP_ALTERNATOR_OUTPUT, 0).value};
    of.count = use_count(work, alternator).value;
    of.hot = use_value(work, alternator, PROP_ALTERNATOR_HOT_OUTPUT, 0).value;
    const Entity *engine = entity_reference(alternator, PROP_ALTERNATOR_ENGINE);
    of.built_in = is_built_in(alternator) && engine != NULL;
    if (of.built_in) {
        of.ratio = point(1.0);
        of.idle = use_value(work, engine, PROP_ENGINE_IDLE, 0).value;
        of.full = use_value(work, engine, PROP_ENGINE_RATED, 1).value;
    } else {
        of.ratio = use_value(work, alternator, PROP_ALTERNATOR_PULLEY_RATIO, 0).value;
    }
    of.points = read_curve(work, alternator, WORSE, of.curve[WORSE]);
    read_curve(NULL, alternator, BETTER, of.curve[BETTER]);
    read_limit(work->model, alternator, &of);
    return of;
}

/* The engine's speed where a day states none. */
static Interval usual_speed(Work *work, const Entity *alternator)
{
    const Entity *engine = entity_reference(alternator, PROP_ALTERNATOR_ENGINE);
    Quantity rated = engine != NULL ? use_value(work, engine, PROP_ENGINE_RATED, 1) : (Quantity){point(0.0), STATE_MISSING};
    if (rated.state != STATE_KNOWN) {
        return point(0.0);
    }
    use_fact(work, "share of its rated speed that an engine runs at where the day states no speed", point(usual_speed_share),
             UNIT_ALONE(UNIT_PERCENT), "a choice of this program");
    return interval_scale(rated.value, usual_speed_share);
}

static Interval speed_of(Work *work, const Entity *alternator, const Entity *day, const Property *run)
{
    if (run != NULL && property_value(run, 1)->kind == VALUE_QUANTITY) {
        return use_statement(work, day, run, 1).value;
    }
    return usual_speed(work, alternator);
}

static bool runs(const Property *run)
{
    const Value *value = property_value(run, 0);
    return value->kind == VALUE_CLOCK || (value->kind == VALUE_QUANTITY && value->u.quantity.high > 0.0);
}

static bool engine_runs(const Entity *day)
{
    for (const Property *run = entity_property(day, PROP_DAY_ENGINE); run != NULL; run = block_next(&day->block, run)) {
        if (runs(run) || run->flags & PROPERTY_BROKEN) {
            return true;
        }
    }
    return false;
}

/* Whether its engine turned less of it than it would give. */
static bool alternator_hours(Work *work, const Entity *alternator, const Entity *day, Hours *amps)
{
    double next = ENGINE_FROM_S;
    bool limited = false;
    if (!engine_runs(day)) {
        return false;
    }
    Alternator of = read_alternator(work, alternator);
    for (const Property *run = entity_property(day, PROP_DAY_ENGINE); run != NULL; run = block_next(&day->block, run)) {
        if (!runs(run)) {
            use_if_mistaken(work, run);
            continue;
        }
        Interval speed = speed_of(work, alternator, day, run);
        double weight[CORNERS] = {alternator_amps(&of, speed, WORSE), alternator_amps(&of, speed, BETTER)};
        use_statement(work, day, run, 0);
        limited = use_limit(work, alternator, &of, speed) || limited;
        hours_add(amps, property_value(run, 0), &next, weight, true);
    }
    return limited;
}

double alternator_running_a(Work *work, const Entity *alternator, const Entity *day, int corner)
{
    Alternator of = read_alternator(work, alternator);
    Interval speed = speed_of(work, alternator, day, entity_property(day, PROP_DAY_ENGINE));
    use_limit(work, alternator, &of, speed);
    return alternator_amps(&of, speed, corner);
}

/* Driven by wind or water: what it says of that day, evenly, or for so long, from when an engine would run on. */
static void given_hours(Power *power, const Entity *alternator, const Entity *bank, const Entity *day, Hours *amps)
{
    Work *work = power->work;
    double next = ENGINE_FROM_S;
    Interval volts = power_node(power, bank)->working_v;
    for (const Property *p = entity_property(alternator, PROP_ALTERNATOR_GIVES); p != NULL;
         p = block_next(&alternator->block, p)) {
        const Value *of_day = property_value(p, 0), *mean = property_value(p, 1), *when = property_value(p, 2);
        if (p->flags & PROPERTY_BROKEN || (of_day->kind == VALUE_REFERENCE && of_day->u.entity == day)) {
            Interval each = interval_multiply(use_statement(work, alternator, p, 1).value, use_count(work, alternator).value);
            bool watts = !dimension_equal(unit_dimension(mean->unit), unit_dimension(UNIT_ALONE(UNIT_A)));
            if (watts && volts.low > 0.0) {
                use_fact(work, "voltage of the bank", volts, UNIT_ALONE(UNIT_V), "its figures");
                each = interval_divide(each, volts);
            }
            Interval most = use_value(work, alternator, PROP_ALTERNATOR_OUTPUT, 0).value;
            each = interval_min(each, interval_multiply(most, use_count(work, alternator).value));
            double weight[CORNERS] = {finite(each.low), finite(each.high)};
            if (when->kind == VALUE_QUANTITY) {
                use_statement(work, alternator, p, 2);
            }
            if (when->kind == VALUE_QUANTITY || when->kind == VALUE_CLOCK) {
                hours_add(amps, when, &next, weight, true);
            } else {
                day_add_span(amps->of[WORSE], 0.0, DAY_SECONDS, weight[WORSE]);
                day_add_span(amps->of[BETTER], 0.0, DAY_SECONDS, weight[BETTER]);
            }
        }
    }
}

/* Arrays */

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
    double charge_v;
} Array;

/* Over which voltage the power flows, and what the way leaves of it. */
static void use_array_way(Work *work, const Array *array)
{
    if (array->controller == SOLAR_MPPT) {
        use_fact(work, "voltage at which it charges", point(array->charge_v), UNIT_ALONE(UNIT_V),
                 "usual for the bank's chemistry, from memory");
        use_fact(work, "what soil, wiring, unlike panels and the controller leave", point(solar_way_share),
                 UNIT_ALONE(UNIT_PERCENT), "common practice, from memory");
        return;
    }
    use_fact(work, "voltage of greatest power of a string, at which its current is stated",
             interval_corners(solar_greatest_v(array->charge_v, array->open_v.low),
                              solar_greatest_v(array->charge_v, array->open_v.high)),
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

static SolarController controller_of(const Entity *array)
{
    return str_is(entity_word(array, PROP_SOLAR_CONTROLLER), "pwm") ? SOLAR_PWM : SOLAR_MPPT;
}

/* Voltage of greatest power of a string, at 25 C; false: its panels do not state their open-circuit one. */
static bool use_greatest_voltage(Work *work, const Entity *array, Interval *volts)
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
    use_array_way(work, &of);
    return of;
}

static void array_hours(Power *power, const Entity *array, const Entity *bank, const Entity *day, Hours *amps)
{
    Hours sun;
    if (!hours_of_sun(power->work, array, day, &sun)) {
        return;
    }
    Array of = read_array(power, array, bank, day);
    for (int c = 0; c < CORNERS; c++) {
        bool low = c == WORSE;
        if (is_too_low(power, array, bank, c)) {
            continue;
        }
        double air = (low ? of.air_k.high : of.air_k.low) - 273.15;
        double watts = finite(low ? of.rated_w.low : of.rated_w.high);
        double share = fmax(0.0, low ? of.share.low : of.share.high);
        double most = low ? of.most_a.low : of.most_a.high;
        double open = low ? of.open_v.high : of.open_v.low;
        for (int i = 0; i < DAY_STEPS; i++) {
            double got = sun.of[c][i] * share;
            amps->of[c][i] = got > 0.0 ? fmin(most, solar_current_a(of.controller, watts, got, air, of.charge_v, open))
                                       : 0.0;
        }
    }
}

/* Chargers */

/* What the inlet or generator leaves to its chargers, in W; nothing is taken off where its rating is not known. */
static bool supply_left(Power *power, const Entity *supply, const Entity *day, Hours *left)
{
    PropId prop = supply->kind == KIND_INLET ? PROP_INLET_RATED : PROP_GENERATOR_RATED;
    const Value *rated = property_value(entity_property(supply, prop), 0);
    const PowerNode *node = power_node(power, supply);
    if (rated->kind != VALUE_QUANTITY || (supply->kind == KIND_INLET && node->nominal_v <= 0.0)) {
        return false;
    }
    Hours asked;
    Quantity most = use_value(power->work, supply, prop, 0);
    supply_watts(power, supply, day, &asked);
    for (int c = 0; c < CORNERS; c++) {
        double least_or_most = c == WORSE ? node->nominal_v : node->nominal_most_v;
        double volts = supply->kind == KIND_INLET ? least_or_most : 1.0;
        for (int i = 0; i < DAY_STEPS; i++) {
            double there = volts * (c == WORSE ? most.value.low : most.value.high);
            left->of[c][i] = fmax(0.0, there - asked.of[c][i]);
        }
    }
    return true;
}

/* Marks all that can bring mains to a thing, by any of its feeds and through what an inverter passes. */
static void mark_upward(Power *power, const Entity *thing, uint32_t walk, int depth)
{
    enum { DEEPEST = 64 }; /* longer than any chain of feeds aboard */
    PowerNode *node = power_node(power, thing);
    if (node->walk == walk || depth > DEEPEST || thing->flags & (ENTITY_DROPPED | ENTITY_LOOP)) {
        return;
    }
    node->walk = walk;
    if (thing->kind == KIND_INVERTER) {
        const Entity *passed = entity_reference(thing, PROP_INVERTER_PASSES);
        if (passed != NULL) {
            mark_upward(power, passed, walk, depth + 1);
        }
        return;
    }
    for (const Feed *feed = thing->fed; feed != NULL; feed = feed->next) {
        if (feed->giver != NULL && mains_given(feed->giver) != 0) {
            mark_upward(power, feed->giver, walk, depth + 1);
        }
    }
    for (const Feed *feed = thing->made; feed != NULL; feed = feed->next_of_taker) {
        if (mains_given(feed->giver) != 0) {
            mark_upward(power, feed->giver, walk, depth + 1);
        }
    }
}

/* The inlets or generators that a charger can work from, as they stand in the spec; up to NULL. */
static const Entity **charger_supplies(Power *power, const Entity *charger, KindId kind)
{
    const Entity *first = power->model->first_of_kind[kind];
    uint32_t count = 0, walk = ++power->walks;
    mark_upward(power, charger, walk, 0);
    for (const Entity *e = first; e != NULL; e = e->next_of_kind) {
        count += power_node(power, e)->walk == walk;
    }
    const Entity **supplies = ARENA_ARRAY(power->work->scratch, const Entity *, count + 1);
    count = 0;
    for (const Entity *e = first; e != NULL; e = e->next_of_kind) {
        if (power_node(power, e)->walk == walk) {
            supplies[count++] = e;
        }
    }
    return supplies;
}

/* What a charger can give while shore power is there, or while the generator runs, and in which part of each step it is. */
typedef struct Supplied {
    Hours amps, there;
} Supplied;

/* By the inlet, or generator, that leaves it the most; false where there is none on that day. */
static bool supplied_by(Power *power, const Feed *feed, const Entity *bank, const Entity *day, KindId kind, Supplied *of)
{
    Work *work = power->work;
    const Entity *charger = feed->giver;
    PropId prop = kind == KIND_INLET ? PROP_DAY_SHORE : PROP_DAY_GENERATOR;
    memset(of, 0, sizeof *of);
    if (!(charger->mains & (kind == KIND_INLET ? MAINS_SHORE : MAINS_GENERATOR)) || !entity_states(day, prop)) {
        return false;
    }
    hours_of_supply(work, day, prop, &of->there);
    Interval output = use_value(work, charger, PROP_CHARGER_OUTPUT, 0).value;
    output = interval_multiply(output, use_count(work, charger).value);
    double charge_v = bank_charge_volts(power, bank);
    for (const Entity **supply = charger_supplies(power, charger, kind); *supply != NULL; supply++) {
        Hours left;
        bool limited = supply_left(power, *supply, day, &left);
        Interval efficiency = limited ? use_value(work, charger, PROP_CHARGER_EFFICIENCY, 0).value : point(1.0);
        for (int c = 0; c < CORNERS; c++) {
            double most = finite(c == WORSE ? output.low : output.high);
            double share = c == WORSE ? efficiency.low : efficiency.high;
            for (int i = 0; i < DAY_STEPS; i++) {
                double can = limited ? fmin(most, left.of[c][i] * share / charge_v) : most;
                of->amps.of[c][i] = fmax(of->amps.of[c][i], can);
            }
        }
    }
    return true;
}

/*
 * Each step by what is there, whichever a transfer switch names first; where both are, by the one that leaves it more: then
 * more of either is never less charge.
 */
static void charger_hours(Power *power, const Feed *feed, const Entity *bank, const Entity *day, Hours *amps)
{
    Supplied shore, generator;
    bool any = supplied_by(power, feed, bank, day, KIND_INLET, &shore);
    any = supplied_by(power, feed, bank, day, KIND_GENERATOR, &generator) || any;
    for (int i = 0; i < DAY_STEPS * CORNERS && any; i++) {
        int c = i / DAY_STEPS, step = i % DAY_STEPS;
        bool by_shore = shore.amps.of[c][step] >= generator.amps.of[c][step];
        const Supplied *more = by_shore ? &shore : &generator, *less = by_shore ? &generator : &shore;
        double first = more->there.of[c][step], rest = fmin(less->there.of[c][step], 1.0 - first);
        amps->of[c][step] = more->amps.of[c][step] * first + less->amps.of[c][step] * rest;
    }
}

/* The figure */

static const char alternator_formula[] =
    "sum over the day's steps of the current that its speed and heat allow, times the bank's voltage";
static const char limited_formula[] =
    "sum over the day's steps of the current that its speed and heat allow, but no more than its engine can turn at that speed, "
    "times the bank's voltage";
static const char given_formula[] = "sum over the day's steps of what it `gives`, up to its output, times the bank's voltage";
static const char array_formula[] = "sum over the day's steps of sun x rated power, less heat, shade and losses, over the "
                                    "charging voltage, times the bank's voltage";
static const char pwm_formula[] = "sum over the day's steps of sun x rated power, less shade and losses, over the voltage of "
                                  "greatest power, times the bank's voltage";
static const char charger_formula[] =
    "sum over the day's steps of what its supply leaves it, up to its output, times the bank's voltage";

/* NULL where it offers nothing. */
static const Figure *record_offer(Power *power, const Feed *feed, const Entity *bank, const Entity *day, const Maker *maker,
                                  const char *formula)
{
    Interval volts = power_node(power, bank)->working_v;
    Interval joule = {hours_sum_c(maker->amps.of[WORSE]) * volts.low, hours_sum_c(maker->amps.of[BETTER]) * volts.high};
    bool offers = hours_sum_c(maker->amps.of[BETTER]) > 0.0;
    if (offers && volts.high <= 0.0) {
        use_no_voltage(power->work, bank);
    }
    if (power->work->state == STATE_KNOWN && !offers) {
        return NULL;
    }
    return work_record(power->work, FIGURE_OFFERED, feed->giver, day, interval_corners(joule.low, joule.high),
                       formula);
}

/* At its best, the day apart */

static const Figure *alternator_output_of(Power *power, const Entity *alternator)
{
    Work *work = power->work;
    Interval amps = use_value(work, alternator, PROP_ALTERNATOR_OUTPUT, 0).value;
    if (is_engineless(alternator)) { /* in the wind: what its plate says is what it gives */
        amps = interval_multiply(amps, use_count(work, alternator).value);
        return work_record(work, FIGURE_OUTPUT, alternator, NULL, amps, "as stated: output of all");
    }
    Interval hot = use_value(work, alternator, PROP_ALTERNATOR_HOT_OUTPUT, 0).value;
    Quantity count = use_count(work, alternator);
    return work_record(work, FIGURE_OUTPUT, alternator, NULL,
                       interval_multiply(interval_multiply(amps, hot), count.value),
                       entity_states(alternator, PROP_COMMON_COUNT) ? "{output} x {hot-output} x {count}"
                                                                   : "{output} x {hot-output}");
}

static const Figure *array_output_of(Power *power, const Entity *array, const Entity *bank)
{
    Work *work = power->work;
    Interval watts = use_filled(power, array, PROP_SOLAR_RATED).value;
    watts = interval_multiply(watts, use_pieces(work, array).value);
    Array of = {.controller = controller_of(array), .charge_v = bank_charge_volts(power, bank)};
    of.open_v = use_open_voltage(work, array, of.controller);
    use_array_way(work, &of);
    bool pwm = of.controller == SOLAR_PWM;
    Interval amps =
        pwm ? interval_divide(interval_scale(watts, solar_pwm_way_share),
                              interval_corners(solar_greatest_v(of.charge_v, of.open_v.low),
                                               solar_greatest_v(of.charge_v, of.open_v.high)))
            : interval_scale(watts, solar_way_share / of.charge_v);
    Quantity most = use_stated(work, array, PROP_SOLAR_MAX_OUTPUT, 0);
    amps = most.state == STATE_KNOWN ? interval_min(amps, most.value) : amps;
    return work_record(work, FIGURE_OUTPUT, array, NULL, amps,
                       pwm ? "rated power of all panels, less what the way costs, over the voltage of greatest power; at most max-output"
                           : "rated power of all panels, less what the way costs, over the charging voltage; at most max-output");
}

/* What a string gives, and what it has to: its panels are of use as long as their voltage is above the bank's. */
static void record_array_volts(Power *power, const Entity *array, const Entity *bank)
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
    use_fact(work, "hot cells", point(solar_hot_celsius + 273.15), UNIT_ALONE(UNIT_CELSIUS),
             "a choice of this program");
    work_record(work, FIGURE_HOT_VOLTAGE, array, NULL,
                interval_corners(solar_hot_v(volts.low, beta.low, solar_hot_celsius),
                                 solar_hot_v(volts.high, beta.high, solar_hot_celsius)),
                "{greatest-voltage} x (1 + {voltage-coefficient} x ({hot cells} - 25 C))");
    work_begin(work);
    if (entity_states(array, PROP_SOLAR_CHARGE_VOLTAGE)) {
        volts = use_value(work, array, PROP_SOLAR_CHARGE_VOLTAGE, 0).value;
    } else {
        volts = use_fact(work, "voltage at which it is charged", point(bank_charge_volts(power, bank)),
                         UNIT_ALONE(UNIT_V), "usual for the bank's chemistry, from memory")
                    .value;
        if (power_node(power, bank)->nominal_v <= 0.0) {
            use_no_voltage(work, bank);
        }
    }
    work_record(work, FIGURE_CHARGING_VOLTAGE, array, NULL, volts,
                "as its controller is set, or usual for the chemistry");
}

void maker_output(Power *power, const Feed *feed, const Entity *bank)
{
    const Entity *giver = feed->giver;
    work_begin(power->work);
    if (giver->kind == KIND_ALTERNATOR) {
        alternator_output_of(power, giver);
    } else if (giver->kind == KIND_SOLAR) {
        array_output_of(power, giver, bank);
        record_array_volts(power, giver, bank);
    } else if (giver->kind == KIND_CHARGER) {
        Interval amps = use_value(power->work, giver, PROP_CHARGER_OUTPUT, 0).value;
        amps = interval_multiply(amps, use_count(power->work, giver).value);
        work_record(power->work, FIGURE_OUTPUT, giver, NULL, amps, "as stated: output of all");
    }
}

bool maker_offers(Power *power, const Feed *feed, const Entity *bank, const Entity *day, Maker *maker)
{
    const Entity *giver = feed->giver;
    memset(maker, 0, sizeof *maker);
    work_begin(power->work);
    switch (giver->kind) {
    case KIND_ALTERNATOR:
        if (is_engineless(giver)) {
            given_hours(power, giver, bank, day, &maker->amps);
            maker->offered = record_offer(power, feed, bank, day, maker, given_formula);
            return true;
        }
        maker->offered = record_offer(
            power, feed, bank, day, maker,
            alternator_hours(power->work, giver, day, &maker->amps) ? limited_formula : alternator_formula);
        return true;
    case KIND_SOLAR:
        array_hours(power, giver, bank, day, &maker->amps);
        maker->offered = record_offer(power, feed, bank, day, maker,
                                      controller_of(giver) == SOLAR_PWM ? pwm_formula : array_formula);
        return true;
    case KIND_CHARGER:
        charger_hours(power, feed, bank, day, &maker->amps);
        maker->offered = record_offer(power, feed, bank, day, maker, charger_formula);
        return true;
    default: return false;
    }
}
