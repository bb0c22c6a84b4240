/*
 * What is asked of inlets, generators, inverters and panels of alternating current: the demand, what to switch off so
 * that it fits, the load calculation, and what an inverter asks of its bank when that is low.
 *
 * Demand is what could run at once, all of it, or the share that the owner states by `together`, but never less than the
 * largest single thing. What hangs on an inverter that passes the shore through asks the inlet too, for it does so while the shore is there.
 */
#include "figures/power.h"
#include "figures/water.h"

#include "physics/service.h"

#include <math.h>

/* Walking down from a source */

/* Something that hangs on a source, by whatever way. */
typedef struct Behind {
    const Entity *entity;
    double share;   /* of its draw that counts at the source: each `together` on the way */
    bool on_outlet; /* plugged in, not built in */
    struct Behind *next;
} Behind;

typedef struct Walk {
    Power *power;
    Behind *last;
    uint32_t number; /* of this walk: marks the nodes that it has been at */
} Walk;

static void walk_to(Walk *walk, const Entity *entity, double share, bool on_outlet)
{
    PowerNode *node = power_node(walk->power, entity);
    if (node->walk == walk->number || entity->flags & (ENTITY_DROPPED | ENTITY_LOOP)) {
        return;
    }
    node->walk = walk->number;
    Behind *behind = ARENA_NEW(walk->power->work->scratch, Behind);
    *behind = (Behind){.entity = entity, .share = share, .on_outlet = on_outlet};
    walk->last->next = behind;
    walk->last = behind;
}

static double share_together(const Entity *entity)
{
    PropId together = power_together_prop(entity);
    const Value *value = together != PROP_NONE ? property_value(entity_property(entity, together), 0) : NULL;
    return value != NULL && value->kind == VALUE_QUANTITY && isfinite(value->u.quantity.high) ? value->u.quantity.high : 1.0;
}

static void walk_on(Walk *walk, const Behind *from)
{
    for (const Feed *feed = from->entity->gives; feed != NULL; feed = feed->next_of_giver) {
        if (!feed->maker || feed->giver->kind == KIND_INVERTER || feed->giver->kind == KIND_GENERATOR) {
            walk_to(walk, feed->taker, from->share * share_together(feed->taker),
                    from->on_outlet || from->entity->kind == KIND_OUTLET);
        }
    }
    for (const Entity *inverter = walk->power->model->first_of_kind[KIND_INVERTER]; inverter != NULL;
         inverter = inverter->next_of_kind) {
        if (entity_reference(inverter, PROP_INVERTER_PASSES) == from->entity) {
            walk_to(walk, inverter, from->share, false);
        }
    }
}

/* Everything that hangs on a source, the nearest first; what turns mains into something else ends the way. */
static const Behind *all_behind(Power *power, const Entity *source)
{
    Behind head = {.entity = source, .share = 1.0};
    Walk walk = {.power = power, .last = &head, .number = ++power->walks};
    power_node(power, source)->walk = walk.number;
    walk_on(&walk, &head);
    for (const Behind *at = head.next; at != NULL; at = at->next) {
        if (at->entity->kind == KIND_INVERTER || !turns_power(at->entity)) {
            walk_on(&walk, at);
        }
    }
    return head.next;
}

/* A thing behind a source that draws by itself: its current, all of them; false for what only hands on. */
static bool draws_mains(const Power *power, const Entity *entity, Interval *current)
{
    const PowerNode *node = power_node(power, entity);
    bool hands_on = entity->kind == KIND_CIRCUIT || entity->kind == KIND_PANEL || entity->kind == KIND_BUS ||
                    entity->kind == KIND_SWITCH || entity->kind == KIND_OUTLET || entity->kind == KIND_INVERTER;
    if (hands_on || node->current == NULL || node->current->state != STATE_KNOWN) {
        return false;
    }
    *current = (Interval){node->current->low, node->current->high};
    return true;
}

/* What to switch off */

enum { MOST_OFF = 4 }; /* more than that is no plan */

typedef struct Off {
    const Entity *thing[MOST_OFF];
    unsigned count;
    double spared_a;
    double last_a; /* draw of the one added last */
} Off;

static bool is_off(const Off *off, const Entity *thing)
{
    for (unsigned i = 0; i < off->count; i++) {
        if (off->thing[i] == thing) {
            return true;
        }
    }
    return false;
}

/* The next to go: the smallest that makes it fit, else the largest. */
static bool switch_off_one(const Power *power, const Behind *behind, double excess_a, Off *off)
{
    const Entity *best = NULL;
    double best_a = 0.0;
    for (const Behind *at = behind; at != NULL; at = at->next) {
        Interval current;
        if (!draws_mains(power, at->entity, &current) || is_off(off, at->entity)) {
            continue;
        }
        double spares = current.low * at->share;
        bool enough = spares >= excess_a - off->spared_a;
        bool best_enough = best != NULL && best_a >= excess_a - off->spared_a;
        if (spares > 0.0 && (enough ? !best_enough || spares < best_a : !best_enough && spares > best_a)) {
            best = at->entity;
            best_a = spares;
        }
    }
    if (best == NULL) {
        return false;
    }
    off->thing[off->count++] = best;
    off->spared_a += best_a;
    off->last_a = best_a;
    return true;
}

/* One that is left alone may be too much: a `together` upstream spares none of it. */
static bool leaves_too_large(const Power *power, const Behind *behind, const Off *off, double rating_a)
{
    for (const Behind *at = behind; at != NULL; at = at->next) {
        Interval current;
        if (draws_mains(power, at->entity, &current) && power_node(power, at->entity)->flow.one.high > rating_a &&
            !is_off(off, at->entity)) {
            return true;
        }
    }
    return false;
}

/* With all of it off everything fits: that is no plan either. */
static bool leaves_any(const Power *power, const Behind *behind, const Off *off)
{
    for (const Behind *at = behind; at != NULL; at = at->next) {
        Interval current;
        if (draws_mains(power, at->entity, &current) && current.high > 0.0 && !is_off(off, at->entity)) {
            return true;
        }
    }
    return false;
}

/* "it fits with `boiler` and `kettle` off", or NULL where a few things do not do it. */
static const char *what_to_switch_off(Power *power, const Entity *source, double rating_a, double excess_a)
{
    Off off = {.count = 0};
    const Behind *behind = all_behind(power, source);
    while (off.spared_a < excess_a) {
        if (off.count == MOST_OFF || !switch_off_one(power, behind, excess_a, &off)) {
            return NULL;
        }
    }
    if (!leaves_any(power, behind, &off) || leaves_too_large(power, behind, &off, rating_a)) {
        return NULL;
    }
    Buf text;
    buf_init(&text, power->work->figures->arena);
    buf_text(&text, "it fits with ");
    for (unsigned i = 0; i < off.count; i++) {
        buf_format(&text, "%s`%.*s`", i == 0 ? "" : i + 1 == off.count ? " and " : ", ",
                   STR_ARG(entity_name(power->model, off.thing[i])));
    }
    buf_text(&text, " off");
    return text.text;
}

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
    for (const Behind *at = all_behind(power, source); at != NULL; at = at->next) {
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

/* The load calculation of an inlet */

static bool is_living_space(const Power *power, const Entity *space)
{
    return !(space->flags & ENTITY_DROPPED) && !power_node(power, space)->hot && entity_yes(space, PROP_SPACE_PETROL) != 1;
}

/* What stands only where people live. */
static const KindId of_living[] = {KIND_FIXTURE, KIND_TOILET, KIND_OUTLET, KIND_GAS_APPLIANCE, KIND_BURNER};

/* Whether anything says that people live in a space of which nobody says how large it is: a chain locker asks for no light. */
static bool is_lived_in(const Power *power, const Entity *space)
{
    bool lined = entity_states(space, PROP_SPACE_SKIN) || entity_states(space, PROP_SPACE_GLASS) ||
                 entity_states(space, PROP_SPACE_BUILT);
    if (lined || entity_yes(space, PROP_SPACE_SLEEPING) == 1) {
        return true;
    }
    for (size_t i = 0; i < sizeof of_living / sizeof of_living[0]; i++) {
        for (const Entity *e = first_aboard(power->model, of_living[i]); e != NULL; e = next_aboard(e)) {
            if (entity_reference(e, PROP_COMMON_SPACE) == space) {
                return true;
            }
        }
    }
    return false;
}

/* Whether the spec says how large any living space is: else nobody asks for this calculation. */
static bool states_floors(const Power *power)
{
    for (const Entity *space = power->model->first_of_kind[KIND_SPACE]; space != NULL; space = space->next_of_kind) {
        if (is_living_space(power, space) && entity_states(space, PROP_SPACE_FLOOR)) {
            return true;
        }
    }
    return false;
}

static Interval use_floors(Power *power)
{
    Interval floor = point(0.0);
    for (const Entity *space = power->model->first_of_kind[KIND_SPACE]; space != NULL; space = space->next_of_kind) {
        if (is_living_space(power, space) && (entity_states(space, PROP_SPACE_FLOOR) || is_lived_in(power, space))) {
            Quantity one = use_value(power->work, space, PROP_SPACE_FLOOR, 0);
            floor = interval_add(floor, one.value);
        }
    }
    return floor;
}

/* Which spaces state no floor and are taken for none that people live in. */
static const char *remark_left_out(const Power *power)
{
    Buf text;
    buf_init(&text, power->work->figures->arena);
    for (const Entity *space = power->model->first_of_kind[KIND_SPACE]; space != NULL; space = space->next_of_kind) {
        if (is_living_space(power, space) && !entity_states(space, PROP_SPACE_FLOOR) && !is_lived_in(power, space)) {
            buf_format(&text, "%s`%.*s`", text.length > 0 ? ", " : "without ", STR_ARG(entity_name(power->model, space)));
        }
    }
    return text.length > 0 ? text.text : NULL;
}

static bool is_motor(const Entity *entity)
{
    switch ((KindId)entity->kind) {
    case KIND_PUMP:
    case KIND_BILGE_PUMP:
    case KIND_BLOWER:
    case KIND_COOLER:
    case KIND_THRUSTER:
    case KIND_WINDLASS:
    case KIND_TOILET: return true;
    default: return false;
    }
}

static void add_to_service(Service *service, const Entity *entity, double amps)
{
    if (is_motor(entity) && amps > service->largest_motor_a) {
        service->largest_motor_a = amps;
    }
    if (entity->kind == KIND_HEATER) {
        service->heating_a += amps;
    } else if (entity->kind == KIND_COOLER) {
        service->cooling_a += amps;
    } else if (is_motor(entity)) {
        service->motors_a += amps;
    } else {
        service->fixed_a += amps;
    }
}

/* Gathers both ends of what hangs on an inlet; false if no outlet does, and nothing is left to estimate. */
static bool gather_service(Power *power, const Behind *behind, Service *low, Service *high)
{
    bool outlets = false;
    for (const Behind *at = behind; at != NULL; at = at->next) {
        Interval current;
        if (at->entity->kind == KIND_OUTLET) {
            uint32_t appliances = entity_yes(at->entity, PROP_OUTLET_APPLIANCES) == 1;
            outlets = true;
            low->appliances += appliances;
            high->appliances += appliances;
        } else if (!at->on_outlet && draws_mains(power, at->entity, &current)) {
            add_to_service(low, at->entity, current.low);
            add_to_service(high, at->entity, current.high);
        }
    }
    return outlets;
}

static void use_built_in(Power *power, const Behind *behind)
{
    Interval current;
    for (const Behind *at = behind; at != NULL; at = at->next) {
        if (!at->on_outlet && draws_mains(power, at->entity, &current)) {
            use_figure(power->work, power_node(power, at->entity)->current);
        }
    }
}

static const char formula_service[] = "{lighting and outlets} / {voltage} + all that is built in + the greater of heating and "
                                      "cooling + a quarter of the largest motor";

/* The two facts of the formula come first, then floors and currents, however many they are. */
static void record_load_calculation(Power *power, const Entity *inlet)
{
    Work *work = power->work;
    const PowerNode *node = power_node(power, inlet);
    Interval volts = {node->nominal_v, node->nominal_most_v};
    const Behind *behind = volts.low > 0.0 && states_floors(power) ? all_behind(power, inlet) : NULL;
    work_begin(work);
    Interval floor = behind != NULL ? use_floors(power) : point(0.0);
    Service low = {.volts = volts.high, .living_m2 = floor.low};
    Service high = {.volts = volts.low, .living_m2 = isfinite(floor.high) ? floor.high : 0.0};
    if (!gather_service(power, behind, &low, &high)) {
        return;
    }
    Interval base = {service_base_w(low.living_m2, low.appliances), service_base_w(high.living_m2, high.appliances)};
    base.high = isfinite(floor.high) ? base.high : INFINITY;
    double built_in = high.fixed_a + high.motors_a + high.heating_a + high.cooling_a;
    Interval current = {service_current_a(&low), isfinite(base.high) && isfinite(built_in) ? service_current_a(&high) : INFINITY};
    work_begin(work);
    use_fact(work,
             text_format(work->figures->arena,
                         "2 W a square foot, %u x 1500 W for outlets with `appliances yes`, of that 2000 W whole and "
                         "the rest at 35 %%",
                         (unsigned)low.appliances),
             base, UNIT_ALONE(UNIT_W), "ABYC E-11, NFPA 302, from memory");
    use_fact(work, "nominal voltage", volts, UNIT_ALONE(UNIT_V), "its own line");
    use_floors(power);
    use_built_in(power, behind);
    work_record(work, FIGURE_LOAD_CALCULATION, inlet, NULL, current, formula_service)->remark = remark_left_out(power);
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
    for (const Behind *at = all_behind(power, inverter); at != NULL; at = at->next) {
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
    if (node->nominal_v <= 0.0 || !bank_chemistry(node->source, &chemistry)) {
        use_no_voltage(work, node->source);
    } else {
        Interval volts = {battery_volts(BATTERY_LOWEST_WORKING, chemistry, node->nominal_v),
                          battery_volts(BATTERY_LOWEST_WORKING, chemistry, node->nominal_most_v)};
        use_source_voltage(work, node->source, "lowest working voltage of its bank", volts,
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
