/*
 * What is asked of inlets, generators, inverters and panels of alternating current: the demand, and what an inverter
 * asks of its bank when that is low.
 *
 * Demand is what could run at once, all of it, or the share that the owner states by `together`, but never less than the
 * largest single thing. What hangs on an inverter that passes the shore through asks the inlet too, for it does so while the shore is there.
 */
#include "figures/power_mains.h"

#include <math.h>

/* Demand */

/* Watts that a source states, of all of them, in A at the voltage at which it gives them. */
static Quantity output_current(Power *power, const Entity *entity, PropId power_line)
{
    Work *work = power->work;
    Quantity watts = use_value(work, entity, power_line, 0);
    Quantity count = use_count(work, entity);
    Interval volts = power_mains_volts(power, entity);
    if (volts.low <= 0.0) {
        use_no_voltage(work, entity);
        return (Quantity){point(0.0), work->state};
    }
    use_fact(work, "voltage that it gives", volts, UNIT_ALONE(UNIT_V), "its own line, or the shore's");
    watts.value = interval_divide(interval_multiply(watts.value, count.value), volts);
    watts.state = watts.state > count.state ? watts.state : count.state;
    return watts;
}

static PropId rating_line(const Entity *entity)
{
    return entity->kind == KIND_INLET      ? PROP_INLET_RATED
           : entity->kind == KIND_PANEL    ? PROP_PANEL_RATED
           : entity->kind == KIND_INVERTER ? PROP_INVERTER_RATED
           : entity->kind == KIND_CONVERTER ? PROP_CONVERTER_OUTPUT
                                            : PROP_GENERATOR_RATED;
}

static PropId surge_line(const Entity *inverter)
{
    return entity_states(inverter, PROP_INVERTER_SURGE) ? PROP_INVERTER_SURGE : PROP_INVERTER_RATED;
}

static bool gives_watts(const Entity *entity)
{
    return entity->kind == KIND_INVERTER || entity->kind == KIND_GENERATOR;
}

/* Amperes that it states for one, of all of them. */
static Quantity rated_current(Work *work, const Entity *entity)
{
    Quantity rating = use_value(work, entity, rating_line(entity), 0);
    if (entity->kind == KIND_CONVERTER) {
        rating.value = interval_multiply(rating.value, use_count(work, entity).value);
    }
    return rating;
}

static const char *share_formula(const Entity *entity)
{
    if (gives_watts(entity)) {
        return "{demand} / ({rated} / voltage)";
    }
    if (entity->kind == KIND_CONVERTER) {
        return entity_states(entity, PROP_COMMON_COUNT) ? "{demand} / ({output} x {count})" : "{demand} / {output}";
    }
    return "{demand} / {rated}";
}

/* How much of its rating that is, and what to switch off where it is more than all. */
static void record_share(Power *power, const Entity *entity, Figure *demand)
{
    Work *work = power->work;
    work_begin(work);
    Quantity asked = use_figure(work, demand);
    Quantity rating = gives_watts(entity) ? output_current(power, entity, rating_line(entity))
                                          : rated_current(work, entity);
    Interval share = point(0.0);
    if (asked.state == STATE_KNOWN && work->state == STATE_KNOWN) {
        share = interval_divide(asked.value, rating.value);
        double excess = asked.value.high - rating.value.low;
        if (excess > 0.0 && isfinite(excess)) {
            const char *off = what_to_switch_off(power, entity, rating.value.low, excess);
            demand->remark = off != NULL ? off : demand->remark;
        }
    }
    Figure *figure = work_record(work, FIGURE_SHARE, entity, NULL, share,
                                 share_formula(entity));
    figure->remark = figure->state == STATE_KNOWN ? demand->remark : NULL;
}

/* A demand is no headroom where there are outlets: what will be plugged into them no spec lists. NULL: there are none. */
static const char *say_outlets(Power *power, const Entity *source)
{
    unsigned count = 0;
    for (const Behind *at = mains_behind(power, source); at != NULL; at = at->next) {
        count += at->entity->kind == KIND_OUTLET;
    }
    return count == 0 ? NULL
                      : text_format(power->work->figures->arena, "what else is plugged into its %s comes on top",
                                    count == 1 ? "outlet" : text_format(power->work->figures->arena, "%u outlets", count));
}

static const Figure *record_demand(Power *power, const Entity *entity)
{
    Work *work = power->work;
    work_begin(work);
    State state = STATE_KNOWN;
    Flow flow = power_gather_passed(power, entity, &state);
    if (state == STATE_WAITING) {
        use_waiting(work);
    } else if (state != STATE_KNOWN) {
        use_figure(work, NULL);
    }
    const char *formula = "all that it feeds at once";
    Interval current =
        entity->kind == KIND_PANEL || entity->kind == KIND_CONVERTER ? power_shared_current(power, entity, &flow, &formula) : flow.all;
    Figure *demand = work_record(work, FIGURE_DEMAND, entity, NULL, current, formula);
    demand->remark = demand->state == STATE_KNOWN ? say_outlets(power, entity) : NULL;
    if (entity_states(entity, rating_line(entity))) {
        record_share(power, entity, demand);
    }
    return demand;
}

/* Inverters */

/* How much more one of them takes as it starts, in A. */
static Quantity starting_step(Power *power, const Entity *load)
{
    Work *work = power->work;
    Quantity surge = use_value(work, load, PROP_LOAD_SURGE, 0);
    Quantity draw = power_draw_current(power, load);
    const PowerNode *node = power_node(power, load);
    UnitPair unit = property_value(entity_property(load, PROP_LOAD_SURGE), 0)->unit;
    if (!dimension_equal(unit_dimension(unit), unit_dimension(UNIT_ALONE(UNIT_A)))) {
        surge.value = node->nominal_v > 0.0 ? interval_divide(surge.value, node->working_v) : surge.value;
    }
    State state = surge.state > draw.state ? surge.state : draw.state;
    return (Quantity){{fmax(0.0, surge.value.low - draw.value.high), fmax(0.0, surge.value.high - draw.value.low)}, state};
}

static bool may_surge(const Entity *entity)
{
    bool draws = entity->kind == KIND_LOAD || kinds[entity->kind].groups & GROUPS_LOAD;
    return draws && entity_states(entity, PROP_LOAD_SURGE) && entity_states(entity, PROP_LOAD_DRAW);
}

static void record_surge(Power *power, const Entity *inverter, const Figure *demand)
{
    Work *work = power->work;
    Interval greatest = point(0.0);
    bool any = false;
    work_begin(work);
    Quantity asked = use_figure(work, demand);
    for (const Behind *at = mains_behind(power, inverter); at != NULL; at = at->next) {
        if (may_surge(at->entity)) {
            Quantity step = starting_step(power, at->entity);
            greatest = interval_max(greatest, step.value);
            any = true;
        }
    }
    if (any) {
        work_record(work, FIGURE_SURGE_DEMAND, inverter, NULL, interval_add(asked.value, greatest),
                    "{demand} + the greatest step from a draw to its surge");
        work_begin(work);
        Quantity output = output_current(power, inverter, surge_line(inverter));
        work_record(work, FIGURE_SURGE_OUTPUT, inverter, NULL, output.value, "{power} / voltage");
    }
}

static Interval lowest_working(const PowerNode *bank, Chemistry chemistry)
{
    return (Interval){battery_volts(BATTERY_LOWEST_WORKING, chemistry, bank->nominal_v),
                      battery_volts(BATTERY_LOWEST_WORKING, chemistry, bank->nominal_most_v)};
}

/* Whether any switch between sources stands above it: on most boats none does. */
static bool is_switched(const Entity *thing)
{
    enum { DEEPEST = 64 };
    for (int i = 0; i < DEEPEST && thing != NULL && thing->fed != NULL && thing->kind != KIND_BANK; i++) {
        if (thing->fed->next != NULL) {
            return true;
        }
        thing = thing->fed->giver;
    }
    return false;
}

/* Of the banks of one class that a switch can put it on, the one that falls lowest, or one of which nobody can tell. */
static const Entity *lowest_bank(Power *power, const Entity *inverter, const Entity *first)
{
    uint32_t count = 0;
    const Entity *giver = inverter->fed != NULL ? inverter->fed->giver : NULL, *lowest = first;
    if (!is_switched(giver)) {
        return first;
    }
    if (power->climb == NULL) {
        power->climb = climb_new(power->model, power->work->scratch);
    }
    const Entity **banks = banks_above(power->climb, giver, &count);
    double lowest_v = INFINITY;
    for (uint32_t i = 0; i < count && count > 1; i++) {
        const PowerNode *node = power_node(power, banks[i]);
        Chemistry chemistry;
        if (node->nominal_v <= 0.0 || !bank_chemistry(banks[i], &chemistry)) {
            return banks[i];
        }
        double volts = lowest_working(node, chemistry).low;
        if (volts < lowest_v && node->nominal_v == power_node(power, first)->nominal_v) {
            lowest = banks[i];
            lowest_v = volts;
        }
    }
    return lowest;
}

/* What it takes from its bank for a power that it gives, at the lowest voltage that the bank works at. */
static void record_when_low(Power *power, const Entity *inverter, PropId watts, FigureId id)
{
    Work *work = power->work;
    const PowerNode *node = power_node(power, inverter);
    Chemistry chemistry;
    if (node->source == NULL || node->source->kind != KIND_BANK || !entity_states(inverter, watts)) {
        return;
    }
    work_begin(work);
    Quantity gives = use_value(work, inverter, watts, 0);
    Quantity count = use_count(work, inverter);
    Quantity efficiency = use_value(work, inverter, PROP_INVERTER_EFFICIENCY, 0);
    Interval amps = point(0.0);
    const Entity *bank = lowest_bank(power, inverter, node->source);
    node = power_node(power, bank);
    if (node->nominal_v <= 0.0 || !bank_chemistry(bank, &chemistry)) {
        use_no_voltage(work, bank);
    } else {
        Interval volts = lowest_working(node, chemistry);
        use_source_voltage(work, bank, "lowest working voltage of its bank", volts,
                           "usual for its chemistry; common practice, no source");
        if (work->state == STATE_KNOWN) {
            amps = interval_divide(interval_multiply(gives.value, count.value), interval_multiply(efficiency.value, volts));
        }
    }
    bool several = entity_states(inverter, PROP_COMMON_COUNT);
    work_record(work, id, inverter, NULL, amps,
                several ? "{power} x {count} / ({efficiency} x {lowest voltage})" : "{power} / ({efficiency} x {lowest voltage})");
}

static void compute_inverter(Power *power, const Entity *inverter)
{
    const Figure *demand = record_demand(power, inverter);
    record_surge(power, inverter, demand);
    record_when_low(power, inverter, PROP_INVERTER_RATED, FIGURE_CURRENT_WHEN_LOW);
    record_when_low(power, inverter, PROP_INVERTER_SURGE, FIGURE_SURGE_WHEN_LOW);
}

static void compute_kind(Power *power, KindId kind, void (*compute)(Power *, const Entity *))
{
    for (const Entity *entity = power->model->first_of_kind[kind]; entity != NULL; entity = entity->next_of_kind) {
        if (!(entity->flags & ENTITY_DROPPED)) {
            compute(power, entity);
        }
    }
}

static void compute_inlet(Power *power, const Entity *inlet)
{
    record_demand(power, inlet);
    record_load_calculation(power, inlet);
}

static void compute_generator(Power *power, const Entity *generator)
{
    record_demand(power, generator);
}

static void compute_converter(Power *power, const Entity *converter)
{
    if (is_asked_by_takers(power, converter)) {
        record_demand(power, converter);
    }
}

static void compute_panel(Power *power, const Entity *panel)
{
    if (panel->flags & ENTITY_AC) {
        record_demand(power, panel);
    }
}

void power_demands(Power *power)
{
    compute_kind(power, KIND_INLET, compute_inlet);
    compute_kind(power, KIND_GENERATOR, compute_generator);
    compute_kind(power, KIND_INVERTER, compute_inverter);
    compute_kind(power, KIND_PANEL, compute_panel);
    compute_kind(power, KIND_CONVERTER, compute_converter);
}
