/*
 * Tanks and cylinders whose size is left to Garboard: the smallest that is made in which there is what the goals ask for.
 *
 * Several tanks of one content that are left open share what is asked equally; what others hold is taken off first. Tanks
 * of fuel share with those that the same things draw on (fuel_plan.h).
 *
 * A goal asks by `endure` for what so many of a day take or make, of fuel also by `range` for what all engines burn on the
 * way at that speed, with a reserve kept; a cruise asks that nothing runs out, or over, on it. Asked in the worse case of
 * all that is open. Sizes are a choice of this program.
 */
#include "figures/drive.h"
#include "figures/fuel_plan.h"

#include "base/date.h"
#include "model/tank_sides.h"

#include <math.h>
#include <string.h>

static const double litres[] = {20,  30,  40,  50,  60,  80,  100,  120,  150, 200,
                                250, 300, 400, 500, 600, 800, 1000, 1500, 2000};
static const double gallons[] = {5,  8,  10, 12,  15,  18,  20,  25,  30,  40,
                                 50, 60, 80, 100, 120, 150, 200, 300, 400, 500};
static const double kilograms[] = {0.5, 1, 2, 3, 5, 6, 9, 11, 13};
static const double pounds[] = {1, 5, 6, 10, 11, 20, 30};

/* Sizes that are made, rising, in their unit. */
typedef struct Sizes {
    const double *list;
    size_t count;
    uint8_t unit;
} Sizes;

#define SIZES(LIST, UNIT) ((Sizes){(LIST), sizeof(LIST) / sizeof((LIST)[0]), (UNIT)})

static Sizes tank_sizes(Basis basis)
{
    return basis == BASIS_US ? SIZES(gallons, UNIT_GAL) : SIZES(litres, UNIT_L);
}

static Sizes cylinder_sizes(Basis basis)
{
    return basis == BASIS_US ? SIZES(pounds, UNIT_LB) : SIZES(kilograms, UNIT_KG);
}

/* The smallest of at least so much, in SI; infinite if none is. */
static double next_size(const Sizes *sizes, double need)
{
    for (size_t i = 0; i < sizes->count; i++) {
        double size = unit_to_si(UNIT_ALONE(sizes->unit), sizes->list[i]);
        if (size >= need * (1.0 - 1e-9)) {
            return size;
        }
    }
    return INFINITY;
}

static bool is_hole(const Entity *thing, PropId prop)
{
    return value_is_hole(property_value(entity_property(thing, prop), 0));
}

/* ---- What a goal or a cruise asks for ------------------------------------------------------------------------------ */

/* The day on which a goal asks that something lasts; NULL if it asks for none. */
static const Entity *endured_day(const Entity *goal)
{
    const Value *on = property_value(entity_property(goal, PROP_GOAL_ENDURE), 1);
    const Entity *day = value_entity(on);
    return day != NULL && is_aboard(day) ? day : NULL;
}

/* A tank whose size is looked for. */
typedef struct Sizing {
    Work *work;
    const Entity *tank;
    const FuelPlan *plan; /* of one that holds fuel; else NULL */
    FuelSet share;        /* the tanks that it shares with */
} Sizing;

static bool add_flow(const Sizing *sizing, const Entity *day, Sum *sum)
{
    Str holds = entity_word(sizing->tank, PROP_TANK_HOLDS);
    if (sizing->plan != NULL) {
        return fuel_of_set(sizing->work, day, sizing->plan, sizing->share, sum);
    }
    DayFlow *flow = str_is(holds, "fresh") ? fresh_of_day : str_is(holds, "black") ? black_of_day : waste_of_day;
    return flow(sizing->work, day, sizing->tank, sum);
}

/* The first tank of those that share what is asked, and the next one: of fuel, those that the plan tells. */
static const Entity *fuel_from_here(const Sizing *sizing, const Entity *tank)
{
    while (tank != NULL && !fuel_is_in(sizing->plan, sizing->share, tank)) {
        tank = next_tank(tank, "fuel");
    }
    return tank;
}

static const Entity *first_to_share(const Sizing *sizing)
{
    const Figures *figures = sizing->work->figures;
    return sizing->plan != NULL ? fuel_from_here(sizing, first_tank(figures->model, "fuel")) : first_sharing(figures, sizing->tank);
}

static const Entity *next_to_share(const Sizing *sizing, const Entity *tank)
{
    return sizing->plan != NULL ? fuel_from_here(sizing, next_tank(tank, "fuel")) : next_sharing(sizing->work->figures, tank);
}

/* What one line of a goal, or a cruise, asks of a tank, in m3 (0: nothing), with the formula that shows all that was used. */
typedef struct Need {
    double volume;
    const char *formula;
} Need;

/* What so many of a day take or make. */
static Need use_days(const Sizing *sizing, const Entity *goal)
{
    Work *work = sizing->work;
    Sum sum;
    const Entity *day = endured_day(goal);
    sum_begin(&sum, work);
    if (day == NULL || !add_flow(sizing, day, &sum)) {
        return (Need){0.0, ""};
    }
    Interval days = use_value(work, goal, PROP_GOAL_ENDURE, 0).value;
    double most = day_renews(work, day, sizing->tank) ? fmin(days.high, SECONDS_A_DAY) : days.high;
    return (Need){sum.value.high * most / SECONDS_A_DAY,
                  text_format(work->figures->arena, "(%s) x {endure}", sum.formula.text)};
}

/* What all engines that drive her and share the tank burn on the way. */
static Need use_range(const Sizing *sizing, const Entity *goal)
{
    Work *work = sizing->work;
    Sum sum;
    sum_begin(&sum, work);
    Interval rate = use_fuel_rates(work, first_driving_on(work->model, goal), goal, sizing->plan, sizing->share, &sum);
    Interval way = use_value(work, goal, PROP_GOAL_RANGE, 0).value;
    Interval speed = use_value(work, goal, PROP_GOAL_RANGE, 1).value;
    Interval reserve = use_drive_limit(work, "reserve of fuel", DRIVE_FUEL_RESERVE, UNIT_ALONE(UNIT_PERCENT));
    bool known = work->state == STATE_KNOWN && speed.low > 0.0;
    return (Need){known ? rate.high * way.high / speed.low / (1.0 - reserve.high) : 0.0,
                  text_format(work->figures->arena, "(%s) x {range} / {speed} / (1 - {reserve})", sum.formula.text)};
}

/* What all days of a cruise take or make. */
static Need use_legs(const Sizing *sizing, const Entity *cruise)
{
    Work *work = sizing->work;
    Leg leg;
    Sum sum;
    Stretch stretch = {point(0.0), point(0.0)};
    bool any = false;
    const Property *days = entity_property(cruise, PROP_CRUISE_DAYS);
    sum_begin(&sum, work);
    for (unsigned i = 0; read_leg(days, i, &leg); i++) {
        Sum day = {.value = point(0.0)};
        buf_init(&day.formula, work->figures->arena);
        if (leg.day == NULL || !is_aboard(leg.day) || !add_flow(sizing, leg.day, &day)) {
            return (Need){0.0, ""};
        }
        sum_next(&sum);
        buf_format(&sum.formula, "(%s) x {count of leg %u}", day.formula.text, i + 1);
        bool renewed = day_renews(work, leg.day, sizing->tank);
        stretch_add(&stretch, use_value(work, cruise, PROP_CRUISE_DAYS, leg.slot).value, day.value, renewed);
        any = any || renewed;
    }
    return (Need){stretch.most.high,
                  text_format(work->figures->arena, any ? "(%s, the most of it up to a day that fills or empties it)" : "(%s)", sum.formula.text)};
}

/* Another tank of the same content: what it holds for sure, or that it shares what is asked. */
static void use_other(Work *work, const Entity *other, Sum *sum, double *shares)
{
    Interval count = use_count(work, other).value;
    bool counted = entity_states(other, PROP_COMMON_COUNT);
    bool shaped = !entity_states(other, PROP_TANK_CAPACITY) && tank_shape(other) != TANK_UNSAID;
    if (!shaped && is_hole(other, PROP_TANK_CAPACITY)) {
        *shares += count.low;
        return;
    }
    const char *name = str_copy(work->figures->arena, entity_name(work->model, other));
    const char *held = text_format(work->figures->arena, "{%s.capacity}", name);
    Interval one = shaped ? use_shape(work, other, text_format(work->figures->arena, "%s.", name), &held)
                          : use_value(work, other, PROP_TANK_CAPACITY, 0).value;
    Interval whole = interval_multiply(interval_multiply(one, count), use_usable_share(work, other));
    buf_format(&sum->formula, counted ? " - {%s.count}" : " - ", name);
    buf_format(&sum->formula, "%s%s x {%s.usable}", counted ? " x " : "", held, name);
    sum->value.low += whole.low;
}

/* What each tank of that name has to hold of a need: less what others hold, in equal shares with those that are open too. */
static double use_share(const Sizing *sizing, Sum *sum, double need)
{
    Work *work = sizing->work;
    const Entity *tank = sizing->tank;
    bool counted = entity_states(tank, PROP_COMMON_COUNT);
    double shares = 0.0;
    for (const Entity *e = first_to_share(sizing); e != NULL; e = next_to_share(sizing, e)) {
        if (e != tank) {
            use_other(work, e, sum, &shares);
        }
    }
    buf_text(&sum->formula, ")");
    if (counted) {
        buf_text(&sum->formula, " over {count} and what shares it");
    }
    shares += use_count(work, tank).value.low;
    if (shares > 1.0) {
        use_fact(work, "tanks that share it", point(shares), UNIT_ALONE(UNIT_NONE), "equal shares: a choice of this program");
        buf_text(&sum->formula, counted ? ", {tanks that share it} in all" : " / {tanks that share it}");
    }
    return (need - sum->value.low) / shares;
}

static Need use_goal(const Sizing *sizing, const Entity *goal, PropId line)
{
    Work *work = sizing->work;
    const Entity *tank = sizing->tank;
    work_begin(work);
    if (!entity_states(goal, line) || (line == PROP_GOAL_RANGE && sizing->plan == NULL)) {
        return (Need){0.0, ""};
    }
    Need need = line == PROP_GOAL_RANGE    ? use_range(sizing, goal)
                : line == PROP_CRUISE_DAYS ? use_legs(sizing, goal)
                                           : use_days(sizing, goal);
    Sum others = {.value = point(0.0)};
    buf_init(&others.formula, work->figures->arena);
    double asked = use_share(sizing, &others, need.volume);
    Interval share = use_usable_share(work, tank);
    bool known = work->state == STATE_KNOWN && share.low > 0.0;
    return (Need){known ? asked / share.low : 0.0,
                  text_format(work->figures->arena, "(%s%s / {usable}, and the next size made", need.formula,
                              others.formula.text)};
}

/* ---- Choosing ------------------------------------------------------------------------------------------ */

static void tell_chosen(Work *work, Figure *figure, const Sizes *sizes, const Entity *asks, const char *shares)
{
    work_choose(work, figure, true);
    figure->unit = UNIT_ALONE(sizes->unit);
    figure->remark = text_format(work->figures->arena, "as large as `%.*s` asks%s; the sizes are a choice of this program",
                                 STR_ARG(entity_name(work->model, asks)), shares);
}

/* Its number is known, if there are several. */
static bool is_counted_exactly(const Entity *tank)
{
    const Value *count = property_value(entity_property(tank, PROP_COMMON_COUNT), 0);
    return !entity_states(tank, PROP_COMMON_COUNT) || value_is_point(count);
}

static bool is_left_open(const Work *work, const Entity *tank)
{
    return entity_word(tank, PROP_TANK_HOLDS).length > 0 && is_hole(tank, PROP_TANK_CAPACITY) && tank_shape(tank) == TANK_UNSAID &&
           is_counted_exactly(tank) && tank_counts(work->figures, tank);
}

/* The others that are open are sized in the same way, or none is. */
static bool all_open_can_be_sized(const Sizing *sizing)
{
    for (const Entity *e = first_to_share(sizing); e != NULL; e = next_to_share(sizing, e)) {
        if (is_hole(e, PROP_TANK_CAPACITY) && tank_shape(e) == TANK_UNSAID && !is_counted_exactly(e)) {
            return false;
        }
    }
    return true;
}

static const struct {
    KindId kind;
    PropId line;
} asking[] = {{KIND_GOAL, PROP_GOAL_ENDURE}, {KIND_GOAL, PROP_GOAL_RANGE}, {KIND_CRUISE, PROP_CRUISE_DAYS}};

Figure *size_tank(Work *work, const Entity *tank)
{
    const Entity *asks = NULL;
    PropId by = PROP_NONE;
    double most = 0.0;
    note_read(work, PROP_TANK_CAPACITY);
    if (work->model->boat == NULL || !is_left_open(work, tank)) {
        return NULL;
    }
    Sizing sizing = {.work = work, .tank = tank, .plan = holds_fuel(tank) ? fuel_plan(work->scratch, work->model) : NULL};
    sizing.share = sizing.plan != NULL ? fuel_share_of(sizing.plan, tank) : 0;
    if (!all_open_can_be_sized(&sizing)) {
        return NULL;
    }
    Sizes sizes = tank_sizes(work->figures->basis);
    for (size_t i = 0; i < sizeof asking / sizeof asking[0]; i++) {
        for (const Entity *e = first_aboard(work->model, asking[i].kind); e != NULL; e = next_aboard(e)) {
            double need = use_goal(&sizing, e, asking[i].line).volume;
            /* A cruise that no tank is large enough for fills up on the way; `cruise-short` tells. */
            bool can = asking[i].kind != KIND_CRUISE || isfinite(next_size(&sizes, need));
            if (need > most && can) {
                asks = e;
                by = asking[i].line;
                most = need;
            }
        }
    }
    double size = next_size(&sizes, most);
    if (asks == NULL || !isfinite(size)) {
        return NULL;
    }
    const char *formula = use_goal(&sizing, asks, by).formula;
    double count = entity_states(tank, PROP_COMMON_COUNT) ? use_count(work, tank).value.low : 1.0;
    Figure *figure = work_record(work, FIGURE_VOLUME, tank, NULL, point(size * count), formula);
    tell_chosen(work, figure, &sizes, asks, strstr(formula, "{tanks that share it}") != NULL ? ", in equal shares" : "");
    return figure;
}

/* What so many of a day burn, in kg s, with its part of the formula; false: the day says nothing of gas. */
static bool add_gas(Work *work, const Entity *day, const Entity *asks, PropId line, unsigned slot, unsigned nth, Sum *sum)
{
    if (day == NULL || !is_aboard(day) || !day_takes_gas(work->figures, day)) {
        return false;
    }
    sum_next(sum);
    sum_label(sum, work, "", day, "gas");
    Interval gas = use_gas_of_day(work, day).value;
    sum_label_nth(sum, work, " x ", asks, props[line].word, nth);
    Interval days = use_value(work, asks, line, slot).value;
    sum_add(sum, interval_multiply(gas, line == PROP_GOAL_ENDURE ? interval_scale(days, 1.0 / SECONDS_A_DAY) : days));
    return true;
}

/* What a goal or a cruise asks of each of the cylinders in the only locker, in kg; 0: nothing. */
static double use_gas(Work *work, const Entity *asks, const Entity *locker, Sum *sum)
{
    bool any = false;
    sum_begin(sum, work);
    if (asks->kind == KIND_GOAL) {
        any = add_gas(work, endured_day(asks), asks, PROP_GOAL_ENDURE, 0, 0, sum);
    }
    Leg leg;
    const Property *days = asks->kind == KIND_CRUISE ? entity_property(asks, PROP_CRUISE_DAYS) : NULL;
    for (unsigned i = 0; days != NULL && read_leg(days, i, &leg); i++) {
        any |= add_gas(work, leg.day, asks, PROP_CRUISE_DAYS, leg.slot, i, sum);
    }
    Interval count = use_count(work, locker).value;
    return any && work->state == STATE_KNOWN && count.low > 0.0 ? sum->value.high / count.low : 0.0;
}

static bool size_cylinder(Work *work, const Entity *locker)
{
    static const KindId kinds_asking[] = {KIND_GOAL, KIND_CRUISE};
    const Entity *asks = NULL;
    double most = 0.0;
    Sum sum;
    Sizes sizes = cylinder_sizes(work->figures->basis);
    bool alone = first_aboard(work->model, KIND_GAS_LOCKER) == locker && next_aboard(locker) == NULL;
    for (size_t i = 0; i < sizeof kinds_asking / sizeof kinds_asking[0]; i++) {
        for (const Entity *e = first_aboard(work->model, kinds_asking[i]); alone && e != NULL; e = next_aboard(e)) {
            double need = use_gas(work, e, locker, &sum);
            /* A cruise that no cylinder is large enough for changes it on the way; `cruise-short` tells. */
            bool can = e->kind == KIND_GOAL || isfinite(next_size(&sizes, need));
            asks = need > most && can ? e : asks;
            most = need > most && can ? need : most;
        }
    }
    double size = next_size(&sizes, most);
    if (asks == NULL || !isfinite(size)) {
        return false;
    }
    use_gas(work, asks, locker, &sum);
    bool several = entity_states(locker, PROP_COMMON_COUNT);
    Interval all = interval_scale(use_count(work, locker).value, size);
    tell_chosen(work,
                work_record(work, FIGURE_GAS_HELD, locker, NULL, all,
                            text_format(work->figures->arena,
                                        several ? "(%s) / {count}, the next size made, x count" : "%s, and the next size made",
                                        sum.formula.text)),
                &sizes, asks, "");
    return true;
}

void water_gas(Work *work)
{
    for (const Entity *e = first_aboard(work->model, KIND_GAS_LOCKER); e != NULL; e = next_aboard(e)) {
        note_read(work, PROP_GAS_LOCKER_CYLINDER);
        if (is_hole(e, PROP_GAS_LOCKER_CYLINDER) && size_cylinder(work, e)) {
            continue;
        }
        work_begin(work);
        Interval one = use_value(work, e, PROP_GAS_LOCKER_CYLINDER, 0).value;
        Interval all = interval_multiply(one, use_count(work, e).value);
        work_record(work, FIGURE_GAS_HELD, e, NULL, all,
                    entity_states(e, PROP_COMMON_COUNT) ? "{cylinder} x {count}" : "{cylinder}")
            ->unit = unit_of(e, PROP_GAS_LOCKER_CYLINDER, UNIT_ALONE(UNIT_KG));
    }
}
