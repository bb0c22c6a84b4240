/*
 * What an alternator offers in a day, in each step: by the speed of its shaft and by its heat, and no more
 * than its engine can turn; one that wind or water drives what it says.
 */
#include "figures/power_makers.h"
#include "figures/water.h"

#include "physics/charging.h"

#include "model/status.h"

#include <math.h>

/* An engine that no one says the speed of runs at this share of its rated speed. */
static const double usual_speed_share = 0.6;

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

/* The maker's curve, worse or better corner, in room for all of its points; how many it has. The worse is recorded. */
static size_t read_curve(Work *work, const Entity *alternator, int corner, AlternatorPoint points[])
{
    size_t count = 0;
    for (const Property *p = entity_property(alternator, PROP_ALTERNATOR_CURVE); p != NULL;
         p = block_next(&alternator->block, p)) {
        if (corner == WORSE) {
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
    AlternatorPoint *curve[CORNERS];
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
        !look_at(model, engine, PROP_ENGINE_RATED, 1, &of->full_speed) || of->full_speed.high <= 0.0) {
        return;
    }
    if (look_at(model, engine, PROP_COMMON_COUNT, 0, &count)) {
        watts = interval_multiply(watts, count);
    }
    Interval all = belts_together(model, engine);
    if (all.high <= 0.0) {
        return;
    }
    of->turned_a = interval_multiply(interval_multiply(interval_multiply(of->rated_a, of->hot), of->count),
                                     interval_divide(watts, all));
    of->limited = true;
}

/* The most that its engine turns of it at such a speed, in A; of an engine whose rated speed is `?` anything from nothing up. */
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

/* What it gives at a speed, if its engine turns it: never more than its output, by which its cable, fuse and belts are judged. */
static double wished_amps(const Alternator *of, Interval engine_speed, int corner)
{
    bool low = corner == WORSE;
    double rpm = 60.0 * (low ? engine_speed.low * of->ratio.low : engine_speed.high * of->ratio.high);
    double rated = low ? of->rated_a.low : of->rated_a.high;
    double cold = of->points > 0 ? fmin(rated, alternator_output(of->curve[corner], of->points, finite(rpm)))
                                 : rated * (of->built_in ? built_in_share(of, rpm, low) : alternator_usual_share(finite(rpm)));
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
    uint32_t room = entity_statement_count(alternator, PROP_ALTERNATOR_CURVE);
    for (int corner = WORSE; corner <= BETTER; corner++) {
        of.curve[corner] = ARENA_ARRAY(work->scratch, AlternatorPoint, room + 1u);
        of.points = read_curve(work, alternator, corner, of.curve[corner]);
    }
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
bool alternator_hours(Work *work, const Entity *alternator, const Entity *day, Maker *maker)
{
    double next = ENGINE_FROM_S;
    Edges edges[CORNERS];
    edges[WORSE].count = edges[BETTER].count = 0;
    bool limited = false;
    if (!engine_runs(day) || !is_turned_on(work->model, alternator, day)) {
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
        hours_add_edges(edges, property_value(run, 0), next, weight, true);
        hours_add(&maker->amps, property_value(run, 0), &next, weight, true);
    }
    burst_add_edges(work->scratch, &maker->bursts, edges);
    return limited;
}

double alternator_running_a(Work *work, const Entity *alternator, const Entity *day, int corner)
{
    if (!is_turned_on(work->model, alternator, day)) {
        return 0.0;
    }
    Alternator of = read_alternator(work, alternator);
    Interval speed = speed_of(work, alternator, day, entity_property(day, PROP_DAY_ENGINE));
    use_limit(work, alternator, &of, speed);
    return alternator_amps(&of, speed, corner);
}

/* Driven by wind or water: what it says of that day, evenly, or for so long, from when an engine would run on. */
void given_hours(Work *work, const Entity *alternator, const Entity *day, Hours *amps)
{
    double next = ENGINE_FROM_S;
    for (const Property *p = entity_property(alternator, PROP_ALTERNATOR_GIVES); p != NULL;
         p = block_next(&alternator->block, p)) {
        const Value *of_day = property_value(p, 0), *mean = property_value(p, 1), *when = property_value(p, 2);
        if (p->flags & PROPERTY_BROKEN || value_names(of_day, day)) {
            Interval each = interval_multiply(use_statement(work, alternator, p, 1).value, use_count(work, alternator).value);
            bool watts = !dimension_equal(unit_dimension(mean->unit), unit_dimension(UNIT_ALONE(UNIT_A)));
            if (watts) { /* a maker's curve tells them at its terminals, where its plate tells the amperes */
                Quantity volts = use_value(work, alternator, PROP_ALTERNATOR_OUTPUT, 1);
                each = volts.state == STATE_KNOWN ? interval_divide(each, volts.value) : each;
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

/* At its best, the day apart */

const Figure *alternator_output_of(Power *power, const Entity *alternator)
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
