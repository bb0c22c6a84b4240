/*
 * Fuel: what a day burns in engines, generators and heaters.
 *
 * An engine's rate at a speed comes from its `consumption` lines: straight between two, by the cube of the
 * speed outside of them. Without any it is rated power times the cube of the speed's share times `specific`,
 * over the fuel's density (propeller law, from memory).
 */
#include "figures/water.h"

#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "figures/power.h"

#define RATIO UNIT_ALONE(UNIT_NONE)

static const double usual_heat_share = 0.8; /* what is left goes up the flue; common practice, no source */

/* One line of a day: so long, and with an engine so fast. */
typedef struct Running {
    Work *work;
    Sum *sum;
    const Entity *day;
    Block line;       /* the statement, by itself */
    const char *tail; /* what tells the labels of this line from those of others: "", " 2" ... */
} Running;

Interval use_specific(Work *work, const Entity *engine)
{
    const UnitPair unit = UNIT_BY(UNIT_G, UNIT_KWH);
    bool petrol = str_is(entity_word(engine, PROP_ENGINE_FUEL), "petrol");
    if (entity_states(engine, PROP_ENGINE_SPECIFIC)) {
        return use_value(work, engine, PROP_ENGINE_SPECIFIC, 0).value;
    }
    return use_fact(work, petrol ? "petrol for each kWh, not being stated" : "diesel for each kWh, not being stated",
                    point(unit_to_si(unit, petrol ? 304.0 : 243.0)), unit,
                    petrol ? "0.50 lb for each horsepower hour, a rule of thumb of the trade, from memory"
                           : "0.40 lb for each horsepower hour of a diesel, a trade magazine")
        .value;
}

static void show(Running *running, const char *before, const Entity *entity, const char *what)
{
    sum_label(running->sum, running->work, before, entity,
              text_format(running->work->figures->arena, "%s%s", what, running->tail));
}

/* Hours, or from when to when, in s. */
static Interval use_time(Running *running, PropId prop, const Entity *what_runs)
{
    const Value *value = property_value(&running->line.properties[0], 0);
    sum_next(running->sum);
    show(running, "", what_runs, "time");
    if (value->kind != VALUE_CLOCK) {
        return use_block_value(running->work, running->day, &running->line, prop, 0).value;
    }
    double seconds = clock_seconds(value);
    use_fact(running->work, "time that it runs", point(seconds), UNIT_ALONE(UNIT_H),
             "from when to when, as the day says");
    return point(seconds);
}

const Figure *turns_by_distance(const Work *work, const Entity *day, const Entity *engine)
{
    Interval rated;
    const Figure *turns = engine_by_distance(day) ? figure_find(work->figures, engine, FIGURE_TURNS, day) : NULL;
    bool can = turns != NULL && turns->state == STATE_KNOWN && entity_quantity(engine, PROP_ENGINE_RATED, 1, &rated) &&
               turns->high <= rated.low;
    return can ? turns : NULL;
}

/* What an engine runs at, and at most: as the line states, else anything from idle to rated. */
typedef struct Speed {
    Interval speed, rated;
} Speed;

static Speed use_speed(Running *running, const char *before, const Entity *engine)
{
    Work *work = running->work;
    bool stated = property_value(&running->line.properties[0], 1)->kind != VALUE_NONE;
    const Figure *turns = stated ? NULL : turns_by_distance(work, running->day, engine);
    show(running, before, engine, stated ? "speed" : turns != NULL ? "turns" : "idle");
    Speed used = {.speed = stated ? use_block_value(work, running->day, &running->line, PROP_DAY_ENGINE, 1).value
                           : turns != NULL ? use_figure(work, turns).value
                                           : use_value(work, engine, PROP_ENGINE_IDLE, 0).value};
    show(running, stated || turns != NULL ? " of " : " to ", engine, "rated speed");
    used.rated = use_value(work, engine, PROP_ENGINE_RATED, 1).value;
    used.speed = stated || turns != NULL ? used.speed : interval_hull(used.speed, used.rated);
    return used;
}

FuelCurve fuel_curve_for(const Work *work, const Entity *engine)
{
    uint32_t room = entity_statement_count(engine, PROP_ENGINE_CONSUMPTION);
    return fuel_curve_in(ARENA_ARRAY(work->scratch, FuelPoint, 2u * room + 1u), (int)room);
}

/* Reads and uses all `consumption` lines. A speed that is not decided widens the curve to both sides. */
static void use_curve(Running *running, const Entity *engine, FuelCurve *curve)
{
    const Property *line = entity_property(engine, PROP_ENGINE_CONSUMPTION);
    for (; line != NULL; line = block_next(&engine->block, line)) {
        Block one = {.properties = line, .count = 1, .has = ~(uint64_t)0};
        Quantity speed = use_block_value(running->work, engine, &one, PROP_ENGINE_CONSUMPTION, 0);
        Quantity rate = use_block_value(running->work, engine, &one, PROP_ENGINE_CONSUMPTION, 1);
        int i = curve->count + 1;
        show(running, i > 1 ? ", " : " by ", engine,
             text_format(running->work->figures->arena, "speed of point %d", i));
        show(running, ": ", engine, text_format(running->work->figures->arena, "rate of point %d", i));
        if (speed.state == STATE_KNOWN && rate.state == STATE_KNOWN) {
            fuel_curve_add(curve, speed.value, rate.value);
        }
    }
}

/* Rate in m3/s from the points that the owner has measured. */
static Interval rate_by_curve(Running *running, const Entity *engine)
{
    FuelCurve curve = fuel_curve_for(running->work, engine);
    Interval speed = use_speed(running, " x rate at ", engine).speed;
    use_curve(running, engine, &curve);
    if (curve.count == 0) {
        return point(0.0); /* all of it is broken: the figure waits */
    }
    return fuel_curve_rate(&curve, speed);
}

/* Rate in m3/s from rated power and specific consumption. */
static Interval rate_by_power(Running *running, const Entity *engine)
{
    Work *work = running->work;
    Content content =
        str_is(entity_word(engine, PROP_ENGINE_FUEL), "petrol") ? CONTENT_PETROL : CONTENT_DIESEL;
    double density = content_density_kg_per_m3(content);
    show(running, " x ", engine, "rated power");
    Interval power = use_value(work, engine, PROP_ENGINE_RATED, 0).value;
    Speed at = use_speed(running, " x (", engine);
    buf_text(&running->sum->formula, ")^3");
    show(running, " x ", engine, "specific");
    Interval specific = use_specific(work, engine);
    show(running, " / ", engine, "density of its fuel");
    use_fact(work, "density of the fuel", point(density), UNIT_BY(UNIT_KG, UNIT_M3), "from memory");
    Interval share = interval_cube(interval_divide(at.speed, at.rated));
    return interval_divide(interval_multiply(interval_multiply(power, share), specific), point(density));
}

static bool is_never(const Property *line)
{
    const Value *value = property_value(line, 0);
    return value->kind == VALUE_QUANTITY && value->u.quantity.high <= 0.0;
}

static void add_engine(Running *running, const Entity *engine)
{
    Interval time = use_time(running, PROP_DAY_ENGINE, engine);
    bool curve = entity_states(engine, PROP_ENGINE_CONSUMPTION);
    Interval rate = curve ? rate_by_curve(running, engine) : rate_by_power(running, engine);
    sum_count(running->sum, running->work, engine);
    Interval count = use_count(running->work, engine).value;
    sum_add(running->sum, interval_multiply(interval_multiply(rate, time), count));
}

bool states_speeds(const Entity *day)
{
    bool any = false;
    for (const Property *p = entity_property(day, PROP_DAY_ENGINE); p != NULL; p = block_next(&day->block, p)) {
        if (property_value(p, 1)->kind != VALUE_QUANTITY && !is_never(p)) {
            return false;
        }
        any = any || !is_never(p);
    }
    return any;
}

Interval use_running_rate(Work *work, const Entity *day, const Entity *engine, Sum *sum, Interval *seconds)
{
    uint32_t room = entity_statement_count(day, PROP_DAY_ENGINE);
    Interval *rates = ARENA_ARRAY(work->scratch, Interval, 2u * room + 1u), *times = rates + room;
    int lines = 0, count = 0;
    *seconds = point(0.0);
    if (!states_speeds(day)) {
        return point(0.0);
    }
    for (const Property *p = entity_property(day, PROP_DAY_ENGINE); p != NULL; p = block_next(&day->block, p)) {
        Running running = {.work = work, .sum = sum, .day = day, .line = {.properties = p, .count = 1, .has = ~(uint64_t)0}};
        running.tail = ++lines > 1 ? text_format(work->figures->arena, " %d", lines) : "";
        if (!is_never(p)) {
            times[count] = use_time(&running, PROP_DAY_ENGINE, engine);
            rates[count] = entity_states(engine, PROP_ENGINE_CONSUMPTION) ? rate_by_curve(&running, engine)
                                                                          : rate_by_power(&running, engine);
            *seconds = interval_add(*seconds, times[count++]);
        }
    }
    return count > 0 ? mean_over_time(rates, times, count) : point(0.0);
}

static void add_generator(Running *running, const Entity *generator)
{
    Interval time = use_time(running, PROP_DAY_GENERATOR, generator);
    show(running, " x ", generator, "fuel-rate");
    Interval rate = use_value(running->work, generator, PROP_GENERATOR_FUEL_RATE, 0).value;
    sum_count(running->sum, running->work, generator);
    Interval count = use_count(running->work, generator).value;
    sum_add(running->sum, interval_multiply(interval_multiply(rate, time), count));
}

/* What an engine's alternator brought that day, as far as it is known: at most what it offered; NULL: nothing is known. */
static const Figure *brought_by(Work *work, const Entity *alternator, const Entity *day, bool *at_most)
{
    const Figure *energy = figure_find(work->figures, alternator, FIGURE_ENERGY, day);
    *at_most = energy == NULL || energy->state != STATE_KNOWN;
    if (*at_most) {
        energy = figure_find(work->figures, alternator, FIGURE_OFFERED, day);
    }
    return energy != NULL && energy->state == STATE_KNOWN && energy->high > 0.0 ? energy : NULL;
}

/* What the alternators of an engine take is burned beyond what the propeller asks for. */
static void add_alternators(Work *work, const Entity *day, Sum *sum, const Entity *engine)
{
    bool petrol = str_is(entity_word(engine, PROP_ENGINE_FUEL), "petrol"), at_most;
    double density = content_density_kg_per_m3(petrol ? CONTENT_PETROL : CONTENT_DIESEL);
    for (const Entity *e = first_aboard(work->model, KIND_ALTERNATOR); e != NULL; e = next_aboard(e)) {
        const Figure *brought =
            entity_reference(e, PROP_ALTERNATOR_ENGINE) == engine ? brought_by(work, e, day, &at_most) : NULL;
        if (brought == NULL) {
            continue;
        }
        sum_next(sum);
        sum_label(sum, work, "", e, at_most ? "offered" : "energy");
        Interval joule = use_figure(work, brought).value;
        joule.low = at_most ? 0.0 : joule.low;
        sum_label(sum, work, " / ", e, "efficiency");
        joule = interval_divide(joule, use_value(work, e, PROP_ALTERNATOR_EFFICIENCY, 0).value);
        sum_label(sum, work, " x ", e, "specific");
        joule = interval_multiply(joule, use_specific(work, engine));
        sum_label(sum, work, " / ", e, "density of the fuel");
        use_fact(work, "density of the fuel", point(density), UNIT_BY(UNIT_KG, UNIT_M3), "from memory");
        sum_add(sum, interval_divide(joule, point(density)));
    }
}

/* Each line of the day, for an engine or a generator. */
static void add_running(Work *work, const Entity *day, Sum *sum, const Entity *burner)
{
    PropId prop = burner->kind == KIND_ENGINE ? PROP_DAY_ENGINE : PROP_DAY_GENERATOR;
    int lines = 0;
    for (const Property *line = entity_property(day, prop); line != NULL; line = block_next(&day->block, line)) {
        Running running = {.work = work,
                           .sum = sum,
                           .day = day,
                           .line = {.properties = line, .count = 1, .has = ~(uint64_t)0}};
        running.tail = ++lines > 1 ? text_format(work->figures->arena, " %d", lines) : "";
        if (!is_never(line)) {
            burner->kind == KIND_ENGINE ? add_engine(&running, burner) : add_generator(&running, burner);
        }
    }
    if (burner->kind == KIND_ENGINE) {
        add_alternators(work, day, sum, burner);
    }
}

/* Whether what a day uses burns for sure, whether it says how much or not; most heaters are only taken to burn. */
static bool burns_for_sure(const Model *model, const Entity *e)
{
    return entity_states(e, fuel_rate_prop((KindId)e->kind)) ||
           (e->kind == KIND_HEATER && heater_says_it_burns(model, e) && !burns_wood(e));
}

/* What a heater that does not say it burns at full output, in m3/s: by its output, and what of its fuel's heat the usual one gives. */
static Interval use_usual_rate(Work *work, Sum *sum, const Entity *e)
{
    Fuel fuel = fuel_burned(work->model, e);
    Content content = fuel == FUEL_UNKNOWN ? CONTENT_DIESEL : fuel_content(fuel);
    const Limit *heat = drive_limit(heat_of(fuel));
    double density = content_density_kg_per_m3(content);
    sum_label(sum, work, "", e, "output");
    Interval output = use_value(work, e, PROP_HEATER_OUTPUT, 0).value;
    sum_label(sum, work, " / (", e, "usual share of the heat");
    use_fact(work, "share of the fuel's heat that it gives, `fuel-rate` not being stated", point(usual_heat_share), RATIO,
             "common practice, no source");
    sum_label(sum, work, " x ", e, "density of its fuel");
    use_fact(work, "density of the fuel", point(density), UNIT_BY(UNIT_KG, UNIT_M3), "from memory");
    sum_label(sum, work, " x ", e, "heat of its fuel");
    use_fact(work, "heat in a kilogram, in MJ", point(heat->value / 1e6), UNIT_ALONE(UNIT_NONE), heat->source);
    buf_text(&sum->formula, ")");
    return interval_scale(output, 1.0 / (usual_heat_share * density * heat->value));
}

/* A heater, a cooler or a burner, for as long as it runs at full output. */
static void add_heater(Work *work, const Entity *day, Sum *sum, const Entity *e)
{
    Interval time;
    const Figure *running = running_time(work->figures, e, day);
    if (use_is_mistaken(e, day)) {
        use_waiting(work);
    }
    if (running == NULL && !use_seconds(e, day, &time)) {
        return;
    }
    sum_next(sum);
    Interval rate;
    if (entity_states(e, fuel_rate_prop((KindId)e->kind))) {
        sum_label(sum, work, "", e, "fuel-rate");
        rate = use_value(work, e, fuel_rate_prop((KindId)e->kind), 0).value;
    } else {
        rate = use_usual_rate(work, sum, e);
    }
    sum_label(sum, work, " x ", e, running != NULL ? "running-time" : "use");
    if (running != NULL) {
        time = use_figure(work, running).value;
    } else {
        use_fact(work, "time at full output", time, UNIT_ALONE(UNIT_H), "its `use` that day");
    }
    sum_count(sum, work, e);
    sum_add(sum, interval_multiply(interval_multiply(rate, time), use_count(work, e).value));
}

bool fuel_of_set(Work *work, const Entity *day, const FuelPlan *plan, FuelSet set, Sum *sum)
{
    bool any = false;
    for (uint32_t i = 0; i < plan->burner_count; i++) {
        const FuelBurner *burner = &plan->burners[i];
        const Entity *e = burner->entity;
        bool heats = burns_by_use(e);
        if (e->kind == KIND_ENGINE && !drives_on(work->model, e, day)) {
            continue; /* the day does not speak of it */
        }
        if (burner->tanks == 0 || burner->tanks & ~set || (heats && !burns_for_sure(work->model, e))) {
            continue;
        }
        any = true;
        if (burner->broken) {
            use_waiting(work);
        }
        heats ? add_heater(work, day, sum, e) : add_running(work, day, sum, e);
    }
    return any;
}
