/*
 * Cruises: what the days of one take together from the fresh water, the fuel and the gas and put into the holding
 * tank, and what is left at the end. On the way nothing is filled or emptied but by a day that says so: then the most that is
 * taken until one is what has to be there.
 */
#include "figures/water.h"

#include "figures/fuel_plan.h"

#include <math.h>

bool read_leg(const Property *days, unsigned leg, Leg *read)
{
    const Value *day = property_value(days, 2 * leg + 1);
    *read = (Leg){.day = value_entity(day), .slot = 2 * leg};
    return days != NULL && 2 * leg + 1 < days->count;
}

bool day_renews(Work *work, const Entity *day, const Entity *subject)
{
    Str holds = subject->kind == KIND_GAS_LOCKER ? STR("gas") : entity_word(subject, PROP_TANK_HOLDS);
    PropId asked = holds_waste(subject) ? PROP_DAY_EMPTIES : PROP_DAY_FILLS;
    const Property *says = entity_property(day, asked);
    note_read(work, asked);
    if (says != NULL) {
        use_if_mistaken(work, says);
    }
    return property_lists(says, holds);
}

/* Of less than a whole day nobody knows whether it came to the filling. */
void stretch_add(Stretch *stretch, Interval days, Interval a_day, bool renewed)
{
    if (!renewed) {
        stretch->since = interval_add(stretch->since, interval_multiply(days, a_day));
        stretch->most = interval_max(stretch->most, stretch->since);
        return;
    }
    Interval first = interval_min(days, point(1.0));
    Interval with = interval_add(stretch->since, interval_multiply(first, a_day));
    stretch->most = interval_max(stretch->most, with);
    stretch->most.high = days.high > 1.0 ? fmax(stretch->most.high, a_day.high) : stretch->most.high;
    stretch->most.low = days.low >= 2.0 ? fmax(stretch->most.low, a_day.low) : stretch->most.low;
    stretch->since = days.low >= 1.0 ? point(0.0) : (Interval){0.0, with.high};
}

/* What one day of it takes: the figure of a tank's day, or what the day says of gas. */
static Quantity use_day(Work *work, const Entity *subject, const Entity *day)
{
    if (subject->kind == KIND_GAS_LOCKER) {
        return use_gas_of_day(work, day);
    }
    return use_figure(work, figure_find(work->figures, subject, FIGURE_DAILY_FLOW, day));
}

static bool some_day_renews(Work *work, const Entity *cruise, const Entity *subject)
{
    Leg leg;
    bool any = false;
    const Property *days = entity_property(cruise, PROP_CRUISE_DAYS);
    for (unsigned i = 0; read_leg(days, i, &leg); i++) {
        any = any || (leg.day != NULL && day_renews(work, leg.day, subject));
    }
    return any;
}

/* All that its days take, or with `between` the most of it to a day that fills or empties it, or to the end. */
static Figure *record_days(Work *work, const Entity *cruise, const Entity *subject, bool between)
{
    Sum sum;
    Leg leg;
    Stretch stretch = {point(0.0), point(0.0)};
    const Property *days = entity_property(cruise, PROP_CRUISE_DAYS);
    sum_begin(&sum, work);
    for (unsigned i = 0; read_leg(days, i, &leg); i++) {
        if (leg.day == NULL || !is_aboard(leg.day)) {
            use_waiting(work);
            continue;
        }
        const char *flow = subject->kind == KIND_GAS_LOCKER ? "gas" : "daily-flow";
        sum_next(&sum);
        sum_label_nth(&sum, work, "", cruise, "days", i);
        Interval count = use_value(work, cruise, PROP_CRUISE_DAYS, leg.slot).value;
        sum_label_nth(&sum, work, " x ", leg.day, flow, i);
        Interval a_day = use_day(work, subject, leg.day).value;
        bool renewed = between && day_renews(work, leg.day, subject);
        buf_text(&sum.formula, renewed ? " (renewed each time)" : "");
        sum_add(&sum, interval_multiply(count, a_day));
        stretch_add(&stretch, count, a_day, renewed);
    }
    buf_text(&sum.formula, between ? ": the most of it to such a day or to the end" : "");
    Interval value = between ? interval_max(stretch.most, stretch.since) : sum.value;
    return work_record(work, between ? FIGURE_CRUISE_STRETCH : FIGURE_CRUISE_FLOW, subject, cruise, value, sum.formula.text);
}

/* Returns what has to be there at its beginning. */
static const Figure *record_cruise_flow(Work *work, const Entity *cruise, const Entity *subject, UnitPair unit)
{
    Figure *flow = record_days(work, cruise, subject, false);
    flow->unit = unit;
    if (!some_day_renews(work, cruise, subject)) {
        return flow;
    }
    Figure *most = record_days(work, cruise, subject, true);
    most->unit = unit;
    return most;
}

static void record_left(Work *work, const Figure *flow, Sum *sum)
{
    sum_label(sum, work, " - ", flow->subject, figure_rows[flow->id].name);
    Interval taken = use_figure(work, flow).value;
    work_record(work, FIGURE_CRUISE_LEFT, flow->subject, flow->at, interval_left(sum->value, taken),
                sum->formula.text)
        ->unit = flow->unit;
}

/* Of the tanks that share a load the first one stands for all. */
static void record_cruise_of_sharing(Work *work, const Entity *cruise, const Entity *first)
{
    Sum sum;
    Leg leg;
    if (!read_leg(entity_property(cruise, PROP_CRUISE_DAYS), 0, &leg) || leg.day == NULL ||
        figure_find(work->figures, first, FIGURE_DAILY_FLOW, leg.day) == NULL) {
        return; /* nothing aboard uses it */
    }
    const Figure *flow = record_cruise_flow(work, cruise, first, figure_find(work->figures, first, FIGURE_VOLUME, NULL)->unit);
    sum_begin(&sum, work);
    wait_for_tanks(work);
    for (const Entity *tank = first; tank != NULL; tank = next_sharing(work->figures, tank)) {
        sum_next(&sum);
        sum_label(&sum, work, "", tank, "usable-volume");
        sum_add(&sum, use_figure(work, figure_find(work->figures, tank, FIGURE_USABLE_VOLUME, NULL)).value);
    }
    record_left(work, flow, &sum);
}

static void record_tanks(Work *work, const Entity *cruise, const char *holds)
{
    const Entity *tank = first_counted(work->figures, holds);
    for (; tank != NULL; tank = next_counted(work->figures, tank, holds)) {
        if (first_sharing(work->figures, tank) == tank) {
            record_cruise_of_sharing(work, cruise, tank);
        }
    }
}

/* Each tank of fuel stands for those with which it shares what is burned. */
static void record_cruise_fuel(Work *work, const Entity *cruise, const FuelPlan *plan)
{
    Leg leg;
    Sum sum;
    if (!read_leg(entity_property(cruise, PROP_CRUISE_DAYS), 0, &leg) || leg.day == NULL) {
        return;
    }
    for (uint32_t i = 0; i < plan->tank_count; i++) {
        const Entity *tank = plan->tanks[i];
        FuelSet share = fuel_share(plan, i);
        if (fuel_first_sharing(plan, share) != tank || figure_find(work->figures, tank, FIGURE_DAILY_FLOW, leg.day) == NULL) {
            continue; /* nothing aboard uses it, or another one stands for it */
        }
        const Figure *flow = record_cruise_flow(work, cruise, tank, figure_find(work->figures, tank, FIGURE_VOLUME, NULL)->unit);
        sum_begin(&sum, work);
        fuel_add_volumes(work, plan, share, &sum);
        record_left(work, flow, &sum);
    }
}

static bool some_day_takes_gas(const Work *work, const Entity *cruise)
{
    Leg leg;
    const Property *days = entity_property(cruise, PROP_CRUISE_DAYS);
    for (unsigned i = 0; read_leg(days, i, &leg); i++) {
        if (leg.day != NULL && day_takes_gas(work->figures, leg.day)) {
            return true;
        }
    }
    return false;
}

static void record_cruise_gas(Work *work, const Entity *cruise)
{
    Sum sum;
    const Entity *first = first_aboard(work->model, KIND_GAS_LOCKER);
    if (first == NULL || !some_day_takes_gas(work, cruise)) {
        return;
    }
    const Figure *flow = record_cruise_flow(work, cruise, first, work_unit(work, UNIT_ALONE(UNIT_KG)));
    sum_begin(&sum, work);
    for (const Entity *locker = first; locker != NULL; locker = next_aboard(locker)) {
        sum_next(&sum);
        sum_label(&sum, work, "", locker, "gas-held");
        sum_add(&sum, use_figure(work, figure_find(work->figures, locker, FIGURE_GAS_HELD, NULL)).value);
    }
    record_left(work, flow, &sum);
}

void water_cruises_fresh(Work *work)
{
    for (const Entity *cruise = first_aboard(work->model, KIND_CRUISE); cruise != NULL;
         cruise = next_aboard(cruise)) {
        record_tanks(work, cruise, "fresh");
    }
}

void water_cruises(Work *work)
{
    const FuelPlan *plan = fuel_plan(work->scratch, work->model);
    for (const Entity *cruise = first_aboard(work->model, KIND_CRUISE); cruise != NULL;
         cruise = next_aboard(cruise)) {
        record_tanks(work, cruise, "black");
        record_tanks(work, cruise, "grey");
        record_cruise_fuel(work, cruise, plan);
        record_cruise_gas(work, cruise);
    }
}
