/*
 * Currents, gathered from the loads up to the sources.
 *
 * A circuit carries all its loads at once. A panel, bus, switch, bank or inlet carries what runs long all at once, plus the
 * greater of its largest intermittent load and a tenth of all of them; or `together` of the full sum where the owner
 * states it, and never less than its largest single load. (The two-column practice of US panels, from memory.)
 * Runs long: used an hour a day or more in any day, or nobody said. Continuous: three hours or more, or nobody said. The
 * element of a water heater runs long, and is continuous if one filling takes it three hours: then its thermostat stops it.
 * An inverter runs long if anything behind it does; how much of it is continuous, the loads behind it say.
 * Windlasses, thrusters and horns work in bursts by their nature, unless a `use` line says otherwise; a starter counts in
 * no current but its own (power_cranking.c). What a thing draws by itself is told by power_draw.c.
 */
#include "figures/power.h"

#include "base/date.h"
#include "physics/protection.h"

#include <math.h>

static const double hour_s = 3600.0;

/* Time of use */

static Interval one_use(const Property *use)
{
    const Value *value = property_value(use, 1);
    if (value->kind == VALUE_CLOCK) {
        return point(clock_seconds(value));
    }
    if (value->kind != VALUE_QUANTITY) {
        return point(0.0);
    }
    Interval stated = {value->u.quantity.low, value->u.quantity.high};
    return unit_dimension(value->unit).tag == TAG_RATIO ? interval_scale(stated, SECONDS_A_DAY) : stated;
}

bool states_use(const Entity *entity)
{
    return entity_states(entity, prop_of_use(entity));
}

bool use_seconds(const Entity *entity, const Entity *day, Interval *seconds)
{
    bool any = false;
    *seconds = point(0.0);
    for (const Property *use = entity_property(entity, prop_of_use(entity)); use != NULL; use = block_next(&entity->block, use)) {
        const Value *of_day = property_value(use, 0);
        if (value_names(of_day, day)) {
            *seconds = interval_add(*seconds, one_use(use));
            any = true;
        }
    }
    *seconds = interval_min(*seconds, point(SECONDS_A_DAY));
    return any;
}

bool use_is_mistaken(const Entity *entity, const Entity *day)
{
    for (const Property *use = entity_property(entity, prop_of_use(entity)); use != NULL; use = block_next(&entity->block, use)) {
        const Value *of_day = property_value(use, 0);
        bool other_day = day != NULL && value_entity(of_day) != NULL && value_entity(of_day) != day;
        if (property_is_mistaken(use) && !other_day) {
            return true;
        }
    }
    return false;
}

void record_one_use(Work *work, const Entity *entity, const Property *use)
{
    use_statement(work, entity, use, 1);
}

void record_uses(Work *work, const Entity *entity, const Entity *day)
{
    for (const Property *use = entity_property(entity, prop_of_use(entity)); use != NULL; use = block_next(&entity->block, use)) {
        const Value *of_day = property_value(use, 0);
        if (value_names(of_day, day)) {
            record_one_use(work, entity, use);
        }
    }
}

/* How long the element of a water heater is on at a time, in s; no shorter than what counts as long: it comes back. */
static Interval longest_heating(const Power *power, const Entity *heater)
{
    const Figures *figures = power->work->figures;
    const Figure *time = figure_find(figures, heater, FIGURE_HEAT_UP_ELEMENT, NULL); /* where the engine heats it too */
    time = time != NULL ? time : figure_find(figures, heater, FIGURE_HEAT_UP, NULL);
    if (time == NULL || time->state != STATE_KNOWN) {
        return point(INFINITY);
    }
    return interval_max((Interval){time->low, time->high}, point(hour_s));
}

/* Whether a later line states use of the same day. */
static bool is_stated_again(const Entity *entity, const Property *use, const Entity *day)
{
    const Property *later = block_next(&entity->block, use);
    while (later != NULL && !value_names(property_value(later, 0), day)) {
        later = block_next(&entity->block, later);
    }
    return later != NULL;
}

/* The longest day of use, in s: infinite where nobody said, which counts as long. *waits: a mistake may be longer. */
static Interval longest_use(const Power *power, const Entity *entity, bool *waits)
{
    if (entity->kind == KIND_WATER_HEATER) {
        return longest_heating(power, entity);
    }
    if (!states_use(entity)) {
        bool bursts = is_cranked(entity) || entity->kind == KIND_WINDLASS || entity->kind == KIND_THRUSTER ||
                      entity->kind == KIND_HORN;
        return point(bursts ? 0.0 : INFINITY);
    }
    Interval longest = point(0.0);
    for (const Property *use = entity_property(entity, prop_of_use(entity)); use != NULL; use = block_next(&entity->block, use)) {
        const Entity *day = value_entity(property_value(use, 0));
        Interval all_day;
        *waits = *waits || use->flags & PROPERTY_BROKEN;
        longest = interval_max(longest, one_use(use)); /* in a day whose name is a mistake it runs as long */
        if (day != NULL && is_stated_again(entity, use, day) && use_seconds(entity, day, &all_day)) {
            longest = interval_max(longest, all_day);
        }
    }
    *waits = *waits && longest.low < CONTINUOUS_SECONDS;
    return longest;
}

/* Flows */

static const Flow no_flow;

/* A current that counts where it runs so long at least: all of it, none, or either where the time is not decided. */
static Interval if_so_long(Interval current, Interval longest_s, double least_s)
{
    double least = least_s * (1.0 - 1e-9);
    return longest_s.low >= least   ? current
           : longest_s.high < least ? point(0.0)
                                    : interval_hull(point(0.0), current);
}

static Interval if_brief(Interval current, Interval longest_s)
{
    double hour = hour_s * (1.0 - 1e-9);
    return longest_s.low >= hour ? point(0.0) : longest_s.high < hour ? current : interval_hull(point(0.0), current);
}

/* current: of all pieces; one: of each */
static Flow flow_of_load(Interval current, Interval one, Interval longest_s)
{
    Interval brief = if_brief(current, longest_s);
    return (Flow){.all = current,
                  .lasting = if_so_long(current, longest_s, hour_s),
                  .brief = brief,
                  .brief_most = brief,
                  .continuous = if_so_long(current, longest_s, CONTINUOUS_SECONDS),
                  .held = if_so_long(current, longest_s, hour_s),
                  .one = one,
                  .lasting_one = if_so_long(one, longest_s, hour_s),
                  .brief_one = if_brief(one, longest_s),
                  .continuous_one = if_so_long(one, longest_s, CONTINUOUS_SECONDS),
                  .held_one = if_so_long(one, longest_s, hour_s)};
}

static void add_flow(Flow *to, const Flow *more)
{
    to->waits = to->waits || more->waits;
    to->held_waits = to->held_waits || more->held_waits;
    to->all = interval_add(to->all, more->all);
    to->lasting = interval_add(to->lasting, more->lasting);
    to->brief = interval_add(to->brief, more->brief);
    to->brief_most = interval_max(to->brief_most, more->brief_most);
    to->continuous = interval_add(to->continuous, more->continuous);
    to->held = interval_add(to->held, more->held);
    to->one = interval_max(to->one, more->one);
    to->lasting_one = interval_max(to->lasting_one, more->lasting_one);
    to->brief_one = interval_max(to->brief_one, more->brief_one);
    to->continuous_one = interval_max(to->continuous_one, more->continuous_one);
    to->held_one = interval_max(to->held_one, more->held_one);
}

/* Behind a `together` the single loads of both columns may be more than all that comes through it. */
Interval flow_at_once(const Flow *flow)
{
    Interval columns = interval_add(flow->lasting, interval_max(flow->brief_most, interval_scale(flow->brief, 0.1)));
    return interval_min(columns, flow->all);
}

static const char formula_columns[] = "all that runs long, plus the greater of the largest brief one and a tenth of them";
static const char formula_together[] = "all at once, times the share that runs together; at least the largest single load";
static const char formula_all[] = "all loads at once";

/* What a thing's takers ask of it. Takers behind an inverter, charger or converter ask that one, not what feeds it. */
bool turns_power(const Entity *entity)
{
    return entity->kind == KIND_INVERTER || entity->kind == KIND_CHARGER || entity->kind == KIND_CONVERTER;
}

/* A converter that no bank stands behind: what hangs there has no other source. */
static bool is_only_source(const Power *power, const Feed *feed)
{
    return feed->giver->kind == KIND_CONVERTER && !is_relay(feed->giver) && power_node(power, feed->taker)->source == feed->giver;
}

bool is_asked_by_takers(const Power *power, const Entity *converter)
{
    const Feed *feed = converter->gives;
    while (feed != NULL && !(is_only_source(power, feed) && !(feed->taker->flags & (ENTITY_DROPPED | ENTITY_LOOP)))) {
        feed = feed->next_of_giver;
    }
    return feed != NULL;
}

/*
 * Of what makes power mains are asked for by what they feed, and so is what stands in for a bank; what charges gives what it
 * can. What a starter takes for seconds is a figure of its own (power_cranking.c).
 */
static bool gives_to(const Power *power, const Feed *feed)
{
    bool asked = !feed->maker || feed->giver->kind == KIND_INVERTER || feed->giver->kind == KIND_GENERATOR || is_only_source(power, feed);
    return asked && !is_cranked(feed->taker) && !(feed->taker->flags & (ENTITY_DROPPED | ENTITY_LOOP));
}

Flow power_gather(Power *power, const Entity *entity, State *state)
{
    Flow flow = no_flow;
    for (const Feed *feed = entity->gives; feed != NULL; feed = feed->next_of_giver) {
        if (!gives_to(power, feed)) {
            continue;
        }
        const PowerNode *taker = power_node(power, feed->taker);
        if (taker->current != NULL) {
            use_figure(power->work, taker->current);
        }
        if (taker->state > *state) {
            *state = taker->state;
        }
        add_flow(&flow, &taker->flow);
    }
    return flow;
}

/* What hangs on an inverter that passes this thing through asks this one too, while it is live. */
static void add_passed(Power *power, const Entity *passed, Flow *flow, State *state)
{
    for (const Entity *inverter = power->model->first_of_kind[KIND_INVERTER]; inverter != NULL;
         inverter = inverter->next_of_kind) {
        if (!(inverter->flags & ENTITY_DROPPED) && entity_reference(inverter, PROP_INVERTER_PASSES) == passed) {
            Flow behind = power_gather(power, inverter, state);
            add_flow(flow, &behind);
        }
    }
}

Flow power_gather_passed(Power *power, const Entity *entity, State *state)
{
    Flow flow = power_gather(power, entity, state);
    add_passed(power, entity, &flow, state);
    return flow;
}

/* A share of what may run; what runs at all runs whole. */
static Interval share_of(Interval all, Interval share, Interval one)
{
    return interval_max(interval_multiply(all, share), one);
}

static void scale_flow(Flow *flow, Interval share)
{
    flow->all = share_of(flow->all, share, flow->one);
    flow->lasting = share_of(flow->lasting, share, flow->lasting_one);
    flow->brief = share_of(flow->brief, share, flow->brief_one);
    flow->brief_most = flow->brief; /* the owner says that so much runs at once: what feeds it carries it too */
    flow->continuous = share_of(flow->continuous, share, flow->continuous_one);
    flow->held = share_of(flow->held, share, flow->held_one);
}

PropId power_together_prop(const Entity *entity)
{
    return entity->kind == KIND_PANEL ? PROP_PANEL_TOGETHER : entity->kind == KIND_BUS ? PROP_BUS_TOGETHER : PROP_NONE;
}

/* The practice of two columns is one of batteries: of mains all that is there may run, or what the owner says. */
bool takes_all_at_once(const Entity *entity)
{
    return entity->kind == KIND_CIRCUIT || entity->kind == KIND_OUTLET || entity->flags & ENTITY_AC;
}

/* The current that a thing takes when what hangs on it is gathered in flow. */
Interval power_shared_current(Power *power, const Entity *entity, Flow *flow, const char **formula)
{
    PropId together = power_together_prop(entity);
    if (together != PROP_NONE && entity_states(entity, together)) {
        Quantity share = use_value(power->work, entity, together, 0);
        *formula = formula_together;
        scale_flow(flow, share.value); /* what hangs on it asks no more of what feeds it either */
        return flow->all;
    }
    if (takes_all_at_once(entity)) {
        *formula = formula_all;
        return flow->all;
    }
    *formula = formula_columns;
    if (flow->waits) {
        use_waiting(power->work);
    }
    return flow_at_once(flow);
}

static bool has_own_feed(const Entity *entity)
{
    return entity->fed != NULL;
}

static void record_current(Power *power, const Entity *entity, Interval current, const char *formula)
{
    PowerNode *node = power_node(power, entity);
    if (!has_own_feed(entity)) {
        return;
    }
    for (const Feed *feed = entity->fed; feed != NULL; feed = feed->next) {
        const Figure *figure = work_record(power->work, FIGURE_CURRENT, entity, feed_at(feed), current, formula);
        node->current = figure;
    }
    if (node->current->state == STATE_KNOWN) {
        work_begin(power->work);
        use_figure(power->work, node->current);
        if (node->flow.waits) {
            use_waiting(power->work);
        }
        for (const Feed *feed = entity->fed; feed != NULL; feed = feed->next) {
            work_record(power->work, FIGURE_CONTINUOUS_CURRENT, entity, feed_at(feed), node->flow.continuous,
                        "what of it runs three hours or more in some day or at a time, or without a stated use");
        }
    }
}

/* What is known of all that hangs behind: what somebody plugs into a free socket is missing, as nothing there is. */
static State state_behind(const Power *power, const Entity *giver, int depth)
{
    enum { DEEPEST = 32 };
    bool any = false;
    State worst = STATE_KNOWN;
    for (const Feed *feed = giver->gives; feed != NULL && depth < DEEPEST; feed = feed->next_of_giver) {
        const Entity *taker = feed->taker;
        if (!gives_to(power, feed)) {
            continue;
        }
        bool hands_on = taker->gives != NULL && !turns_power(taker);
        State own = power_node(power, taker)->state;
        State behind = hands_on ? state_behind(power, taker, depth + 1) : taker->kind == KIND_OUTLET ? STATE_MISSING : STATE_KNOWN;
        own = behind > own ? behind : own;
        worst = own > worst ? own : worst;
        any = true;
    }
    return any ? worst : STATE_MISSING;
}

/* Whether what something behind draws is not known for its voltage alone: with one of those it may be it is. */
static bool may_misfeed_behind(const Power *power, const Entity *giver, int depth)
{
    enum { DEEPEST = 32 };
    bool may = false;
    for (const Feed *feed = giver->gives; feed != NULL && !may && depth < DEEPEST; feed = feed->next_of_giver) {
        const Entity *taker = feed->taker;
        bool hands_on = taker->gives != NULL && !turns_power(taker);
        may = gives_to(power, feed) &&
              (may_be_misfed(taker, power_node(power, taker)) || (hands_on && may_misfeed_behind(power, taker, depth + 1)));
    }
    return may;
}

/* What a current of mains behind an inverter is before it: never more than it takes at its rated power. */
static Interval before_inverter(Interval amps, Interval ratio, Interval rated)
{
    return interval_min(interval_multiply(amps, ratio), rated);
}

static Interval stated_or_default(const Power *power, const Entity *entity, PropId prop)
{
    const Property *stated = entity_property(entity, prop);
    const Value *value = property_value(stated != NULL ? stated : model_default(power->model, prop), 0);
    return value->kind == VALUE_QUANTITY ? (Interval){value->u.quantity.low, value->u.quantity.high} : point(0.0);
}

/* What an inverter takes while nothing asks it for anything: it runs all day. */
static Interval idle_of(const Power *power, const Entity *inverter)
{
    Interval volts = node_lowest_v(power_node(power, inverter));
    Interval watts = stated_or_default(power, inverter, PROP_INVERTER_IDLE);
    return volts.low > 0.0 ? interval_divide(watts, volts) : point(0.0);
}

/*
 * All that an inverter can give may be asked of it for a while: long, if anything behind it runs long. How much is
 * continuous the loads behind it tell, where they are known; else all of it.
 */
static Flow flow_of_inverter(const Power *power, const Entity *inverter, Interval current, Interval one)
{
    Interval volts = power_mains_volts(power, inverter);
    const Property *stated = entity_property(inverter, PROP_INVERTER_EFFICIENCY);
    const Value *efficiency = property_value(stated != NULL ? stated : model_default(power->model, PROP_INVERTER_EFFICIENCY), 0);
    const PowerNode *node = power_node(power, inverter);
    State known = state_behind(power, inverter, 0);
    if (node->state != STATE_KNOWN || volts.low <= 0.0 || efficiency->kind != VALUE_QUANTITY ||
        known != STATE_KNOWN) {
        bool says = entity_states(inverter, PROP_INVERTER_OUTPUT) || entity_states(inverter, PROP_INVERTER_PASSES);
        /* Where a voltage is not decided, what runs how long behind it is not, either: it may be known then. */
        bool open = (says && (volts.low <= 0.0 || !interval_is_point(volts))) ||
                    (known == STATE_MISSING && may_misfeed_behind(power, inverter, 0));
        Flow all = flow_of_load(current, one, open ? (Interval){0.0, INFINITY} : point(INFINITY));
        all.held_waits = known == STATE_WAITING;
        return all;
    }
    Flow behind = no_flow;
    for (const Feed *feed = inverter->gives; feed != NULL; feed = feed->next_of_giver) {
        if (gives_to(power, feed)) {
            add_flow(&behind, &power_node(power, feed->taker)->flow);
        }
    }
    Interval share = {efficiency->u.quantity.low, efficiency->u.quantity.high};
    Interval ratio = interval_divide(volts, interval_multiply(share, node_lowest_v(node)));
    double longest_s = behind.lasting.low > 0.0 ? INFINITY : 0.0;
    Flow flow = flow_of_load(current, one, (Interval){longest_s, behind.lasting.high > 0.0 ? INFINITY : 0.0});
    flow.waits = behind.waits;
    flow.continuous = before_inverter(behind.continuous, ratio, current);
    flow.continuous_one = before_inverter(behind.continuous_one, ratio, one);
    flow.held = interval_min(interval_add(before_inverter(behind.held, ratio, current), idle_of(power, inverter)), current);
    flow.held_one = flow.held;
    return flow;
}

/* What takes power from a bank only through a converter takes what it draws, however much that could give. */
static Flow flow_of_converter(const Power *power, const Entity *converter, Interval current, Interval one, Interval longest)
{
    Flow flow = flow_of_load(current, one, longest), behind = no_flow;
    const PowerNode *node = power_node(power, converter);
    Interval share = stated_or_default(power, converter, PROP_CONVERTER_EFFICIENCY);
    State known = state_behind(power, converter, 0);
    Interval volts = {0.0, 0.0};
    for (const Feed *feed = converter->gives; feed != NULL; feed = feed->next_of_giver) {
        if (gives_to(power, feed)) {
            add_flow(&behind, &power_node(power, feed->taker)->flow);
            volts = power_node(power, feed->taker)->working_v;
        }
    }
    bool asked = is_asked_by_takers(power, converter);
    flow.held_waits = asked && known == STATE_WAITING;
    if (asked && known == STATE_MISSING && may_misfeed_behind(power, converter, 0)) {
        flow.held.low = flow.held_one.low = 0.0;
    }
    if (!asked || share.high <= 0.0 || volts.low <= 0.0 || node->working_v.low <= 0.0 || known != STATE_KNOWN) {
        return flow;
    }
    Interval ratio = interval_divide(volts, interval_multiply(share, node_lowest_v(node)));
    flow.held = before_inverter(behind.held, ratio, current);
    flow.held_one = flow.held;
    return flow;
}

static const char formula_one_starts[] = "as stated, of one: engines start one after the other";

static void compute_thing(Power *power, const Entity *entity)
{
    Work *work = power->work;
    PowerNode *node = power_node(power, entity);
    bool waits = false;
    Interval longest = longest_use(power, entity, &waits); /* first: the current itself does not go by it */
    work_begin(work);
    Quantity own;
    const char *formula;
    if (own_draw(power, entity, &own, &formula)) {
        bool cranked = is_cranked(entity); /* several start one after the other */
        Quantity count = cranked ? (Quantity){point(1.0), STATE_KNOWN} : use_count(work, entity);
        formula = cranked && entity_states(entity, PROP_COMMON_COUNT) ? formula_one_starts : formula;
        Interval current = interval_multiply(own.value, count.value);
        node->own = interval_multiply(node->own, count.value);
        node->pieces = count.value;
        node->flow = entity->kind == KIND_INVERTER    ? flow_of_inverter(power, entity, current, own.value)
                     : entity->kind == KIND_CONVERTER ? flow_of_converter(power, entity, current, own.value, longest)
                                                      : flow_of_load(current, own.value, longest);
        node->flow.waits = node->flow.waits || waits;
        node->state = work->state;
        record_current(power, entity, current, formula);
        return;
    }
    State state = STATE_KNOWN;
    node->flow = power_gather_passed(power, entity, &state);
    node->state = state > work->state ? state : work->state;
    if (state == STATE_WAITING) {
        use_waiting(work);
    } else if (state == STATE_MISSING) {
        use_figure(work, NULL);
    }
    Interval current = power_shared_current(power, entity, &node->flow, &formula);
    record_current(power, entity, current, formula);
}

/*
 * What hangs on inverters comes first: what they pass through is asked for that too, wherever it stands.
 */
static bool hangs_on_inverter(const Power *power, const Entity *entity)
{
    const Entity *source = power_node(power, entity)->source;
    return source != NULL && source->kind == KIND_INVERTER;
}

static void compute_things(Power *power, bool behind_inverters)
{
    const Model *model = power->model;
    for (uint32_t i = model->feed_order_count; i-- > 0;) {
        const Entity *entity = model->feed_order[i];
        if (!(entity->flags & ENTITY_DROPPED) && (entity->fed != NULL || !turns_power(entity)) &&
            hangs_on_inverter(power, entity) == behind_inverters) {
            compute_thing(power, entity);
        }
    }
}

void power_currents(Power *power)
{
    if (power->model->first_of_kind[KIND_INVERTER] != NULL) {
        compute_things(power, true);
    }
    compute_things(power, false);
    power_demands(power);
}
