/*
 * Range: how far the fuel in the tanks that an engine draws on, or what is in the bank of an electric engine,
 * brings her at a speed that the spec speaks of, with a reserve kept and all engines at work that run with it
 * and draw on no other tanks; on a day also generators.
 */
#include "figures/drive.h"

#include "figures/fuel_plan.h"
#include "figures/power.h"

#include <math.h>

static bool draws_within(const FuelBurner *burner, KindId kind, FuelSet set)
{
    return burner->entity->kind == kind && burner->tanks != 0 && !(burner->tanks & ~set);
}

Interval use_fuel_rates(Work *work, const Entity *engine, const Entity *asks, const FuelPlan *plan, FuelSet set, Sum *sum)
{
    for (uint32_t i = 0; i < plan->burner_count; i++) {
        const FuelBurner *burner = &plan->burners[i];
        const Entity *e = burner->entity;
        bool within = draws_within(burner, KIND_ENGINE, set) && run_together_on(work->model, e, engine, asks);
        const Figure *rate = within ? figure_find(work->figures, e, FIGURE_FUEL_RATE, asks) : NULL;
        if (rate != NULL) {
            if (burner->broken) {
                use_waiting(work);
            }
            sum_next(sum);
            sum_label(sum, work, "", e, "fuel-rate");
            Interval one = use_figure(work, rate).value;
            sum_count(sum, work, e);
            sum_add(sum, interval_multiply(one, use_count(work, e).value));
        }
    }
    return sum->value;
}

/* A day under way on which the generator runs, and it is known what that burns. */
static bool runs_beside(const Entity *asks, const Entity *generator)
{
    return asks->kind == KIND_DAY && entity_states(asks, PROP_DAY_GENERATOR) && entity_states(generator, PROP_GENERATOR_FUEL_RATE);
}

/* Hours of a day's generator, in s. */
static Interval use_generator_time(Work *work, const Entity *day, Buf *formula)
{
    Interval seconds = point(0.0);
    unsigned count = 0;
    for (const Property *p = entity_property(day, PROP_DAY_GENERATOR); p != NULL; p = block_next(&day->block, p)) {
        const Value *value = property_value(p, 0);
        buf_format(formula, "%s{generator %u}", count > 0 ? " + " : "", count + 1);
        count++;
        if (value->kind == VALUE_CLOCK) {
            use_fact(work, "time that it runs", point(clock_seconds(value)), UNIT_ALONE(UNIT_H), "from when to when, as the day says");
            seconds = interval_add(seconds, point(clock_seconds(value)));
        } else {
            seconds = interval_add(seconds, use_statement(work, day, p, 0).value);
        }
    }
    return seconds;
}

/* What generators on these tanks alone burn that day, over the hours under way: it is gone as well when she has made her miles. */
static void use_generators(Work *work, const Entity *asks, const FuelPlan *plan, FuelSet set, Interval speed, Sum *sum)
{
    for (uint32_t i = 0; i < plan->burner_count; i++) {
        const Entity *e = plan->burners[i].entity;
        if (!draws_within(&plan->burners[i], KIND_GENERATOR, set) || !runs_beside(asks, e)) {
            continue;
        }
        if (plan->burners[i].broken) {
            use_waiting(work);
        }
        sum_next(sum);
        sum_label(sum, work, "", e, "fuel-rate");
        Interval burned = use_value(work, e, PROP_GENERATOR_FUEL_RATE, 0).value;
        sum_count(sum, work, e);
        burned = interval_multiply(burned, use_count(work, e).value);
        buf_text(&sum->formula, " x (");
        burned = interval_multiply(burned, use_generator_time(work, asks, &sum->formula));
        buf_text(&sum->formula, ") x {speed} / {distance}");
        Interval distance = use_value(work, asks, PROP_DAY_DISTANCE, 0).value;
        sum_add(sum, interval_divide(interval_multiply(burned, speed), distance));
    }
}

/* How far what is in a set of tanks brings her, with all engines at work that draw on no others; and how that is reckoned. */
static Interval use_way(Work *work, const Entity *engine, const Entity *asks, const FuelPlan *plan, FuelSet set, bool rises, Buf *formula)
{
    Sum fuel = {.value = point(0.0)};
    Sum rate = {.value = point(0.0)};
    buf_init(&fuel.formula, work->figures->arena);
    buf_init(&rate.formula, work->figures->arena);
    fuel_add_volumes(work, plan, set, &fuel);
    Interval reserve = use_drive_limit(work, "reserve of fuel", DRIVE_FUEL_RESERVE, UNIT_ALONE(UNIT_PERCENT));
    Interval speed = use_value(work, asks, speed_of(asks), 1).value;
    use_fuel_rates(work, engine, asks, plan, set, &rate);
    use_generators(work, asks, plan, set, speed, &rate);
    Interval held = interval_multiply(fuel.value, interval_subtract(point(1.0), reserve));
    buf_format(formula, "(%s) x (1 - {reserve}) x {speed} / (%s)", fuel.formula.text, rate.formula.text);
    return rises ? way_by_speed(interval_divide(held, rate.value), speed, true)
                 : interval_divide(interval_multiply(held, speed), rate.value);
}

/* Whether some engine draws on just these tanks. */
static bool is_of_an_engine(const FuelPlan *plan, FuelSet set)
{
    for (uint32_t i = 0; i < plan->burner_count; i++) {
        if (plan->burners[i].entity->kind == KIND_ENGINE && plan->burners[i].tanks == set) {
            return true;
        }
    }
    return false;
}

/* Adds generators on its tanks of which nothing tells here what they burn meanwhile. */
static uint32_t tell_uncounted(Buf *text, const FuelPlan *plan, const Entity *asks, FuelSet set)
{
    uint32_t count = 0;
    bool never = asks->kind == KIND_DAY && !entity_states(asks, PROP_DAY_GENERATOR);
    for (uint32_t i = 0; i < plan->burner_count && !never && count < 4; i++) {
        const FuelBurner *burner = &plan->burners[i];
        if (burner->entity->kind == KIND_GENERATOR && burner->tanks & set && !(draws_within(burner, KIND_GENERATOR, set) && runs_beside(asks, burner->entity))) {
            buf_format(text, "%s`%.*s`", count++ > 0 ? ", " : "not counted is what is burned meanwhile by ", STR_ARG(entity_name(plan->model, burner->entity)));
        }
    }
    return count;
}

/* What is not counted: generators, and tanks of its fuel from which no line leads to anything, though others have one. NULL: nothing. */
static const char *left_out(Work *work, const FuelPlan *plan, const Entity *engine, const Entity *asks, FuelSet set)
{
    Fuel fuel = fuel_burned(plan->model, engine);
    Buf text;
    uint32_t count = 0;
    buf_init(&text, work->figures->arena);
    uint32_t before = tell_uncounted(&text, plan, asks, set);
    for (uint32_t i = 0; i < plan->tank_count && count < 4; i++) {
        if (!(set & fuel_bit(i)) && fuel_share(plan, i) == 0 && plan->held[i] == fuel) {
            buf_format(&text, "%s`%.*s`", count++ > 0 ? ", " : before > 0 ? "; nor, for no line leads from it, " : "not counted, for no line leads from it: ",
                       STR_ARG(entity_name(plan->model, plan->tanks[i])));
        }
    }
    return before + count > 0 ? buf_str(&text).text : NULL;
}

/*
 * Whether an engine that stands by, or that is named for that speed, never gives what it takes: no miles are made at that speed,
 * by whatever it draws on.
 */
static bool never_makes(const Work *work, const Entity *engine, const Entity *asks)
{
    Interval rated;
    const Figure *needed = figure_find(work->figures, engine, FIGURE_NEEDED_POWER, asks);
    bool apart = names_engines(asks) || !drives_on(work->model, engine, asks);
    return apart && needed != NULL && needed->state == STATE_KNOWN &&
           entity_quantity(engine, PROP_ENGINE_RATED, 0, &rated) && needed->low > rated.high * (1.0 + 1e-9);
}

/* Of an engine that shares only some of its tanks with others, all of them together may be empty sooner. */
static void record_range(Work *work, const Entity *engine, const Entity *asks, const FuelPlan *plan)
{
    FuelSet set = fuel_tanks_of(plan, engine);
    FuelSet whole = fuel_together(plan, set);
    Buf formula;
    if (set == 0) {
        return;
    }
    bool rises = mile_rises(work, engine, asks);
    work_begin(work);
    buf_init(&formula, work->figures->arena);
    Interval range = use_way(work, engine, asks, plan, set, rises, &formula);
    if (!is_of_an_engine(plan, whole)) {
        buf_text(&formula, ", or if that is less ");
        range = interval_min(range, use_way(work, engine, asks, plan, whole, rises, &formula));
    }
    use_fuel_kinds(work, plan, set);
    Figure *figure = work_record(work, FIGURE_RANGE, engine, asks, range, formula.text);
    const Figure *rate = figure_find(work->figures, engine, FIGURE_FUEL_RATE, asks);
    figure->none = never_makes(work, engine, asks);
    if (work->figures->before == NULL) {
        /* Of one that stands by, or is named: that it does not make that speed. */
        bool told = (figure->none || !drives_on(work->model, engine, asks)) && rate != NULL && rate->remark != NULL;
        figure->remark = told ? rate->remark : left_out(work, plan, engine, asks, set);
    }
}

static Interval use_motor_powers(Work *work, const Entity *engine, const Entity *bank, const Entity *asks, Sum *sum)
{
    for (const Entity *e = first_aboard(work->model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        const Figure *taken = figure_find(work->figures, e, FIGURE_TAKEN_POWER, asks);
        if (taken != NULL && bank_behind(e->fed) == bank && run_together_on(work->model, e, engine, asks)) {
            sum_next(sum);
            sum_label(sum, work, "", e, "taken-power");
            Interval power = use_figure(work, taken).value;
            sum_count(sum, work, e);
            sum_add(sum, interval_multiply(power, use_count(work, e).value));
        }
    }
    return sum->value;
}

/*
 * All electric engines on that bank at work that run with one, and nothing else; what of its capacity is used
 * goes by the current.
 */
static Interval use_electric_way(Work *work, const Entity *engine, const Entity *bank, const Entity *asks, Interval capacity,
                                 Interval least, bool rises, Sum *taken, const char **volts)
{
    Interval reserve = use_drive_limit(work, "reserve of energy", DRIVE_FUEL_RESERVE, UNIT_ALONE(UNIT_PERCENT));
    Interval speed = use_value(work, asks, speed_of(asks), 1).value;
    Interval power = use_motor_powers(work, engine, bank, asks, taken);
    Interval amps = interval_divide(power, use_bank_volts(work, bank, volts));
    Interval seconds = use_lasting(work, bank, capacity, least, amps);
    return way_by_speed(interval_multiply(seconds, interval_subtract(point(1.0), reserve)), speed, rises);
}

bool electric_way(Work *work, const Entity *bank, const Entity *asks, Interval capacity, Interval least, Interval *metres)
{
    Sum sum = {.value = point(0.0)};
    const char *volts;
    buf_init(&sum.formula, work->figures->arena);
    bool rises = mile_rises(work, first_driving_on(work->model, asks), asks);
    work_begin(work);
    *metres = use_electric_way(work, first_driving_on(work->model, asks), bank, asks, capacity, least, rises, &sum, &volts);
    return work->state == STATE_KNOWN && sum.value.low > 0.0;
}

static void record_electric_range(Work *work, const Entity *engine, const Entity *asks)
{
    const Entity *bank = bank_behind(engine->fed);
    const Figure *charge = bank != NULL ? figure_find(work->figures, bank, FIGURE_CAPACITY, NULL) : NULL;
    const Figure *kept = bank != NULL ? figure_find(work->figures, bank, FIGURE_LEAST_CHARGE, NULL) : NULL;
    if (burns_fuel(engine) || charge == NULL || kept == NULL) {
        return;
    }
    Sum sum = {.value = point(0.0)};
    const char *volts;
    buf_init(&sum.formula, work->figures->arena);
    bool rises = mile_rises(work, engine, asks);
    work_begin(work);
    Interval capacity = use_figure(work, charge).value;
    Interval least = use_figure(work, kept).value;
    Interval way = use_electric_way(work, engine, bank, asks, capacity, least, rises, &sum, &volts);
    Figure *figure = work_record(work, FIGURE_RANGE, engine, asks, way,
                                 text_format(work->figures->arena, "{capacity} x (1 - {least-charge}) x (1 - {reserve}) x {speed} / "
                                                                   "((%s) / %s), counted by Peukert", sum.formula.text, volts));
    const Figure *turns = figure_find(work->figures, engine, FIGURE_TURNS, asks);
    figure->none = never_makes(work, engine, asks);
    bool told = (figure->none || !drives_on(work->model, engine, asks)) && turns != NULL && turns->remark != NULL;
    figure->remark = told ? turns->remark : "nothing else drawing from the bank and nothing charging it";
}

/* A range is told in the unit in which it is asked for: km beside km. */
static void tell_as_asked(Figure *range, const Entity *asks)
{
    PropId prop = asks->kind == KIND_GOAL ? PROP_GOAL_RANGE : asks->kind == KIND_DAY ? PROP_DAY_DISTANCE : PROP_NONE;
    const Value *asked = prop != PROP_NONE ? property_value(entity_property(asks, prop), 0) : NULL;
    if (asked != NULL && asked->kind == VALUE_QUANTITY && !(asked->flags & VALUE_BROKEN)) {
        range->unit = asked->unit;
    }
}

/* Of the boat: the least of the engines that drive her. */
static void record_boat_range(Work *work, const Entity *asks)
{
    Interval least = point(INFINITY);
    Buf formula;
    bool none = false;
    buf_init(&formula, work->figures->arena);
    work_begin(work);
    for (const Entity *e = first_aboard(work->model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        const Figure *range = figure_find(work->figures, e, FIGURE_RANGE, asks);
        if (range != NULL && drives_on(work->model, e, asks)) {
            buf_format(&formula, "%s{%.*s.range}", work->count > 0 ? " or " : "",
                       STR_ARG(entity_name(work->model, e)));
            least = interval_min(least, use_figure(work, range).value);
            none = none || range->none;
        }
    }
    least = none ? point(0.0) : least; /* that she does not make the speed is judged, not only told */
    if (work->count > 0) {
        Figure *figure = work_record(work, FIGURE_RANGE, work->model->boat, asks, least, formula.text);
        figure->least = true;
        figure->none = none;
        tell_as_asked(figure, asks);
    }
}

void drive_ranges(Work *work)
{
    const Model *model = work->model;
    const FuelPlan *plan = fuel_plan(work->scratch, model);
    for (const Entity *asks = first_speed(model); asks != NULL; asks = next_speed(model, asks)) {
        for (const Entity *e = first_aboard(model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
            if (!names_engines(asks) || drives_on(model, e, asks)) {
                record_range(work, e, asks, plan);
                record_electric_range(work, e, asks);
            }
        }
        record_boat_range(work, asks);
    }
}
