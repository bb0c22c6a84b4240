/*
 * Fuel: what a day burns in engines, generators and heaters.
 *
 * An engine's rate at a speed comes from its `consumption` lines: straight between two, by the cube of the speed outside
 * of them. Without any it is rated power times the cube of the speed's share times `specific`, over the fuel's density
 * (propeller law, from memory).
 */
#include "figures/water.h"

#include "figures/power.h"

#include <math.h>

static const double day_s = 86400.0;

/* A point of an engine's consumption: speed in rev/s, rate in m3/s. */
typedef struct Point {
    double speed, rate;
} Point;

enum { MOST_POINTS = 32 };

typedef struct Curve {
    Point low[MOST_POINTS], high[MOST_POINTS]; /* what it burns at least, and at most; by rising speed */
    int count;
} Curve;

static double by_cube(Point point, double speed)
{
    double share = speed / point.speed;
    return point.rate * share * share * share;
}

static double rate_between(Point a, Point b, double speed)
{
    return b.speed > a.speed ? a.rate + (b.rate - a.rate) * (speed - a.speed) / (b.speed - a.speed) : b.rate;
}

/* Rate at a speed. Rises with it as long as the points do. */
static double rate_at(const Point points[], int count, double speed)
{
    if (speed <= points[0].speed) {
        return by_cube(points[0], speed);
    }
    for (int i = 1; i < count; i++) {
        if (speed <= points[i].speed) {
            return rate_between(points[i - 1], points[i], speed);
        }
    }
    return by_cube(points[count - 1], speed);
}

static void insert_point(Point points[], int count, Point point)
{
    int i = count;
    for (; i > 0 && points[i - 1].speed > point.speed; i--) {
        points[i] = points[i - 1];
    }
    points[i] = point;
}

/* Reads and uses all `consumption` lines. A speed that is not decided widens the curve to both sides. */
static void use_curve(Work *work, const Entity *engine, Curve *curve)
{
    const Property *line = entity_property(engine, PROP_ENGINE_CONSUMPTION);
    for (; line != NULL && curve->count < MOST_POINTS; line = block_next(&engine->block, line)) {
        Block one = {.properties = line, .count = 1};
        Quantity speed = use_block_value(work, engine, &one, PROP_ENGINE_CONSUMPTION, 0);
        Quantity rate = use_block_value(work, engine, &one, PROP_ENGINE_CONSUMPTION, 1);
        if (speed.state == STATE_KNOWN && rate.state == STATE_KNOWN && speed.value.low > 0.0) {
            insert_point(curve->low, curve->count, (Point){speed.value.high, rate.value.low});
            insert_point(curve->high, curve->count, (Point){speed.value.low, rate.value.high});
            curve->count++;
        }
    }
}

static Interval rate_by_curve(const Curve *curve, Interval speed)
{
    if (curve->count == 0) {
        return point(0.0); /* all of it is broken: the figure waits */
    }
    return interval_corners(rate_at(curve->low, curve->count, speed.low), rate_at(curve->high, curve->count, speed.high));
}

static Interval cubed(Interval share)
{
    return interval_corners(share.low * share.low * share.low, share.high * share.high * share.high);
}

/* Rate in m3/s from rated power and specific consumption. */
static Interval rate_by_power(Work *work, const Entity *engine, Interval speed)
{
    Content content = str_is(entity_word(engine, PROP_ENGINE_FUEL), "petrol") ? CONTENT_PETROL : CONTENT_DIESEL;
    Interval power = use_value(work, engine, PROP_ENGINE_RATED, 0).value;
    Interval rated = use_value(work, engine, PROP_ENGINE_RATED, 1).value;
    Interval specific = use_value(work, engine, PROP_ENGINE_SPECIFIC, 0).value;
    double density = content_density_kg_per_m3(content);
    use_fact(work, "density of the fuel", point(density), UNIT_BY(UNIT_KG, UNIT_M3), "from memory");
    Interval kg_per_s = interval_multiply(interval_multiply(power, cubed(interval_divide(speed, rated))), specific);
    return interval_divide(kg_per_s, point(density));
}

/* The speed that a day's `engine` line states; else anything from idle to rated. */
static Interval use_speed(Work *work, const Entity *engine, const Entity *day, const Block *line)
{
    if (property_value(&line->properties[0], 1)->kind != VALUE_NONE) {
        return use_block_value(work, day, line, PROP_DAY_ENGINE, 1).value;
    }
    Interval idle = use_value(work, engine, PROP_ENGINE_IDLE, 0).value;
    Interval rated = use_value(work, engine, PROP_ENGINE_RATED, 1).value;
    return interval_hull(idle, rated);
}

/* Hours, or from when to when, in s. */
static Interval use_time(Work *work, const Entity *day, const Block *line, PropId prop)
{
    const Value *value = property_value(&line->properties[0], 0);
    if (value->kind != VALUE_CLOCK) {
        return use_block_value(work, day, line, prop, 0).value;
    }
    int32_t minutes = value->u.clock.to - value->u.clock.from;
    double seconds = (minutes <= 0 ? minutes + 1440 : minutes) * 60.0;
    use_fact(work, "time that it runs", point(seconds), UNIT_ALONE(UNIT_H), "from when to when, as the day says");
    return point(seconds);
}

static bool burns(const Entity *engine)
{
    return !str_is(entity_word(engine, PROP_ENGINE_FUEL), "electric");
}

static bool is_never(const Property *line)
{
    const Value *value = property_value(line, 0);
    return value->kind == VALUE_QUANTITY && value->u.quantity.high <= 0.0;
}

/* The words that the formula shows of one engine line: as many braces as there are inputs. */
static const char *shown_since(Work *work, uint32_t from, const char *meaning)
{
    Buf text;
    buf_init(&text, work->figures->arena);
    buf_format(&text, "%s(", meaning);
    for (uint32_t i = from; i < work->count; i++) {
        buf_text(&text, i > from ? ", {}" : "{}");
    }
    buf_char(&text, ')');
    return text.text;
}

static void add_engine(Work *work, const Entity *engine, const Entity *day, const Block *line, Sum *sum)
{
    uint32_t from = work->count;
    Interval time = use_time(work, day, line, PROP_DAY_ENGINE);
    Interval speed = use_speed(work, engine, day, line);
    Interval rate;
    if (entity_states(engine, PROP_ENGINE_CONSUMPTION)) {
        Curve curve = {.count = 0};
        use_curve(work, engine, &curve);
        rate = rate_by_curve(&curve, speed);
    } else {
        rate = rate_by_power(work, engine, speed);
    }
    Interval count = use_count(work, engine).value;
    sum_add(sum, interval_multiply(interval_multiply(rate, time), count), shown_since(work, from, "engine"));
}

static bool add_engines(Work *work, const Entity *day, Sum *sum)
{
    bool any = false;
    for (const Entity *e = first_aboard(work->model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        if (!burns(e)) {
            continue;
        }
        any = true;
        const Property *line = entity_property(day, PROP_DAY_ENGINE);
        for (; line != NULL; line = block_next(&day->block, line)) {
            Block one = {.properties = line, .count = 1};
            if (!is_never(line)) {
                add_engine(work, e, day, &one, sum);
            }
        }
    }
    return any;
}

static bool add_generators(Work *work, const Entity *day, Sum *sum)
{
    bool any = false;
    for (const Entity *e = first_aboard(work->model, KIND_GENERATOR); e != NULL; e = next_aboard(e)) {
        any = true;
        const Property *line = entity_property(day, PROP_DAY_GENERATOR);
        for (; line != NULL; line = block_next(&day->block, line)) {
            Block one = {.properties = line, .count = 1};
            if (is_never(line)) {
                continue;
            }
            Interval time = use_time(work, day, &one, PROP_DAY_GENERATOR);
            Interval rate = use_value(work, e, PROP_GENERATOR_FUEL_RATE, 0).value;
            sum_add(sum, interval_multiply(time, rate), "{generator} x {fuel-rate}");
        }
    }
    return any;
}

static bool add_heaters(Work *work, const Entity *day, KindId kind, PropId fuel_rate, Sum *sum)
{
    bool any = false;
    for (const Entity *e = first_aboard(work->model, kind); e != NULL; e = next_aboard(e)) {
        Interval time;
        if (!entity_states(e, fuel_rate)) {
            continue;
        }
        any = true;
        if (use_seconds(e, day, &time)) {
            Interval rate = use_value(work, e, fuel_rate, 0).value;
            use_fact(work, "time at full output", time, UNIT_ALONE(UNIT_H), "its `use` that day");
            bool several = entity_states(e, PROP_COMMON_COUNT);
            Interval burnt = interval_multiply(interval_multiply(rate, time), use_count(work, e).value);
            sum_add(sum, burnt, several ? "{fuel-rate} x {use} x {count}" : "{fuel-rate} x {use}");
        }
    }
    return any;
}

bool fuel_of_day(Work *work, const Entity *day, Sum *sum)
{
    bool engines = add_engines(work, day, sum);
    bool generators = add_generators(work, day, sum);
    bool heaters = add_heaters(work, day, KIND_HEATER, PROP_HEATER_FUEL_RATE, sum);
    bool coolers = add_heaters(work, day, KIND_COOLER, PROP_COOLER_FUEL_RATE, sum);
    sum->value = interval_min(sum->value, point(HUGE_VAL));
    return engines || generators || heaters || coolers;
}
