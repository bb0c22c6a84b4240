/*
 * Voltages: what each source gives, handed on to all that hangs on it.
 *
 * Nominal voltage of direct current: the boat's `system-voltage` where that is decided and the bank is one of that voltage,
 * else 12, 24, 36 or 48 V if the bank is of such a class, else its own. Watts become amperes at the bank's own voltage. Of
 * alternating current: what the inlet, generator or inverter says.
 */
#include "figures/drive.h"
#include "figures/power.h"

#include "physics/charging.h"

#include <math.h>

static const Value *stated_quantity(const Entity *entity, PropId prop, unsigned slot)
{
    const Property *property = entity_property(entity, prop);
    const Value *value = property_value(property, slot);
    bool usable = property != NULL && !(property->flags & PROPERTY_BROKEN) && value->kind == VALUE_QUANTITY;
    return usable ? value : NULL;
}

static Interval value_interval(const Value *value)
{
    return (Interval){value->u.quantity.low, value->u.quantity.high};
}

/* How a source's own voltage stands to its nominal one. */
typedef struct Giving {
    double within; /* above its class, and still of it */
    double own;    /* the nominal voltage of one of no class, of its own */
} Giving;

static const Giving giving_lead = {NOMINAL_WITHIN, 1.0};
static const Giving giving_lithium = {NOMINAL_WITHIN, NOMINAL_OF_LITHIUM};
static const Giving giving_charge = {NOMINAL_WITHIN_CHARGING, 1.0};

/*
 * The nominal voltage for a working one: the boat's own if it is of that class. Between 12 and 24 V, or not decided at all,
 * the boat's says nothing, and the bank, which has a voltage, says which it is.
 */
static double nominal_for(const Power *power, double volts, Giving giving)
{
    double nearest = nominal_voltage_v(volts, giving.within, giving.own);
    const Value *system =
        power->model->boat != NULL ? stated_quantity(power->model->boat, PROP_BOAT_SYSTEM_VOLTAGE, 0) : NULL;
    bool decided = system != NULL && system->u.quantity.low == system->u.quantity.high;
    return decided && is_of_system(nearest, system->u.quantity.low) ? system->u.quantity.low : nearest;
}

/* One without a bound is no voltage yet: see use_no_voltage. Between classes of systems it may be of either. */
static void set_direct(Power *power, PowerNode *node, Interval volts, Giving giving)
{
    if (volts.low > 0.0 && isfinite(volts.high)) {
        node->working_v = volts;
        node->nominal_v = nominal_for(power, volts.low, giving);
        node->nominal_most_v = nominal_for(power, volts.high, giving);
    }
}

static void set_alternating(PowerNode *node, const Value *value)
{
    if (value != NULL && value->u.quantity.low > 0.0 && isfinite(value->u.quantity.high)) {
        node->working_v = value_interval(value);
        node->nominal_v = value->u.quantity.low;
        node->nominal_most_v = value->u.quantity.high;
    }
}

static void set_bank(Power *power, const Entity *bank, PowerNode *node)
{
    const Value *volts = stated_quantity(bank, PROP_BANK_VOLTAGE, 0);
    const Value *series = stated_quantity(bank, PROP_BANK_SERIES, 0);
    if (volts != NULL) {
        Interval one = value_interval(volts);
        Chemistry chemistry;
        bool lithium = bank_chemistry(bank, &chemistry) && chemistry == CHEMISTRY_LIFEPO4;
        set_direct(power, node, series != NULL ? interval_multiply(one, value_interval(series)) : one,
                   lithium ? giving_lithium : giving_lead);
    }
}

/* What a source itself gives. Others have nothing yet. */
static void set_source(Power *power, const Entity *entity)
{
    PowerNode *node = power_node(power, entity);
    const Value *volts;
    switch (entity->kind) {
    case KIND_BANK:
        node->source = entity;
        set_bank(power, entity, node);
        break;
    case KIND_INLET:
        node->source = entity;
        set_alternating(node, stated_quantity(entity, PROP_INLET_RATED, 1));
        break;
    case KIND_GENERATOR:
        node->source = entity;
        set_alternating(node, stated_quantity(entity, PROP_GENERATOR_RATED, 1));
        break;
    case KIND_ALTERNATOR:
        volts = stated_quantity(entity, PROP_ALTERNATOR_OUTPUT, 1);
        if (volts != NULL) {
            set_direct(power, node, value_interval(volts), giving_charge);
        }
        break;
    default:
        break;
    }
}

/* What an inverter gives: as it says, else as the first inlet. */
static const Value *inverter_volts(const Power *power, const Entity *inverter)
{
    const Value *volts = stated_quantity(inverter, PROP_INVERTER_OUTPUT, 0);
    const Entity *inlet = power->model->first_of_kind[KIND_INLET];
    return volts == NULL && inlet != NULL ? stated_quantity(inlet, PROP_INLET_RATED, 1) : volts;
}

/* Where a source says what voltage it has. */
static PropId voltage_prop(const Entity *source, unsigned *slot)
{
    *slot = source->kind != KIND_BANK && source->kind != KIND_INVERTER;
    switch (source->kind) {
    case KIND_BANK: return PROP_BANK_VOLTAGE;
    case KIND_INVERTER: return PROP_INVERTER_OUTPUT;
    case KIND_CONVERTER: return PROP_CONVERTER_OUTPUT;
    case KIND_CHARGER: return PROP_CHARGER_OUTPUT;
    case KIND_ALTERNATOR: return PROP_ALTERNATOR_OUTPUT;
    case KIND_GENERATOR: return PROP_GENERATOR_RATED;
    case KIND_INLET: return PROP_INLET_RATED;
    default: return PROP_NONE;
    }
}

static bool is_open(const Entity *entity, PropId prop, unsigned slot)
{
    const Value *value = stated_quantity(entity, prop, slot);
    return value != NULL && value->u.quantity.low != value->u.quantity.high;
}

/* What required properties lack is a mistake and told; the others may be left out, and each may be open. */
static bool may_lack(const Entity *source)
{
    return source->kind == KIND_INVERTER || source->kind == KIND_CONVERTER || source->kind == KIND_GENERATOR;
}

void use_no_voltage(Work *work, const Entity *source)
{
    unsigned slot = 0;
    PropId states = source != NULL ? voltage_prop(source, &slot) : PROP_NONE;
    if (states != PROP_NONE && (is_open(source, states, slot) || (may_lack(source) && !entity_states(source, states)))) {
        use_missing(work, source, states);
    } else if (source != NULL && source->kind == KIND_BANK && is_open(source, PROP_BANK_SERIES, 0)) {
        use_missing(work, source, PROP_BANK_SERIES);
    } else {
        use_waiting(work);
    }
}

Interval use_source_voltage(Work *work, const Entity *source, const char *what, Interval volts, const char *told_by)
{
    unsigned slot = 0;
    PropId prop = source != NULL ? voltage_prop(source, &slot) : PROP_NONE;
    if (prop == PROP_BANK_VOLTAGE && !is_open(source, prop, slot)) {
        prop = PROP_BANK_SERIES;
    }
    if (prop == PROP_NONE || !is_open(source, prop, slot)) {
        return use_fact(work, what, volts, UNIT_ALONE(UNIT_V), told_by).value;
    }
    Fact fact = {.what = what, .low = volts.low, .high = volts.high, .unit = UNIT_ALONE(UNIT_V), .source = told_by};
    return use_assumption(work, source, prop, slot, fact).value;
}

Interval use_working_voltage(Work *work, const PowerNode *node)
{
    if (node->lower_source != NULL) {
        return use_source_voltage(work, node->lower_source, "voltage that it works at", node->lower_v,
                                  "the lowest of the banks that a switch can put it on");
    }
    return use_source_voltage(work, node->source, "voltage that it works at", node->working_v, "its source");
}

Interval power_mains_volts(const Power *power, const Entity *source)
{
    PowerNode node = {.nominal_v = 0.0};
    set_alternating(&node, source->kind == KIND_INVERTER ? inverter_volts(power, source)
                           : source->kind == KIND_INLET  ? stated_quantity(source, PROP_INLET_RATED, 1)
                                                         : stated_quantity(source, PROP_GENERATOR_RATED, 1));
    return (Interval){node.nominal_v, node.nominal_most_v};
}

/* The voltage that a giver hands on, which for a converting one is not the voltage it takes. */
static void hand_on(Power *power, const Entity *giver, PowerNode *taker)
{
    const PowerNode *node = power_node(power, giver);
    const Value *volts;
    switch (giver->kind) {
    case KIND_INVERTER:
        taker->source = giver;
        set_alternating(taker, inverter_volts(power, giver));
        break;
    case KIND_CONVERTER:
        taker->source = giver;
        volts = stated_quantity(giver, PROP_CONVERTER_OUTPUT, 1);
        if (volts != NULL) {
            set_direct(power, taker, value_interval(volts), giving_charge);
        }
        break;
    case KIND_CHARGER:
        taker->source = giver;
        volts = stated_quantity(giver, PROP_CHARGER_OUTPUT, 1);
        if (volts != NULL) {
            set_direct(power, taker, value_interval(volts), giving_charge);
        }
        break;
    default:
        taker->source = node->source;
        taker->working_v = node->working_v;
        taker->nominal_v = node->nominal_v;
        taker->nominal_most_v = node->nominal_most_v;
        taker->lower_v = node->lower_v;
        taker->lower_source = node->lower_source;
        break;
    }
}

/*
 * By another of its feeds, from a bank of the same class: an emergency switch is closed for a moment, and what hangs there counts
 * for the first.
 */
static void note_lower(Power *power, const Entity *taker)
{
    PowerNode *node = power_node(power, taker);
    bool lends = taker->fed->next != NULL && str_is(entity_word(taker, PROP_SWITCH_WORKS_AS), "emergency");
    for (const Feed *feed = taker->fed->next; feed != NULL && !lends && !(taker->flags & ENTITY_AC); feed = feed->next) {
        PowerNode other = {.source = NULL};
        if (feed->giver == NULL || feed->giver->flags & ENTITY_DROPPED) {
            continue;
        }
        hand_on(power, feed->giver, &other);
        Interval volts = node_lowest_v(&other), before = node_lowest_v(node);
        bool same = other.nominal_v > 0.0 && other.nominal_v == node->nominal_v && other.nominal_most_v == node->nominal_most_v;
        if (same && (volts.low < before.low || volts.high < before.high)) {
            bool lower = volts.low < before.low || before.low <= 0.0;
            const Entity *own = node->lower_source != NULL ? node->lower_source : node->source;
            node->lower_source = !lower ? own : other.lower_source != NULL ? other.lower_source : other.source;
            node->lower_v = interval_min(before, volts);
        }
    }
}

/* Engines within the hull that burn something make the space that they stand in an engine space, whatever it says of itself. */
static void mark_hot_spaces(Power *power)
{
    for (const Entity *engine = power->model->first_of_kind[KIND_ENGINE]; engine != NULL; engine = engine->next_of_kind) {
        const Entity *space = entity_reference(engine, PROP_COMMON_SPACE);
        if (space != NULL && !(engine->flags & ENTITY_DROPPED) && burns_within(engine)) {
            power_node(power, space)->hot = true;
        }
    }
    for (const Entity *space = power->model->first_of_kind[KIND_SPACE]; space != NULL; space = space->next_of_kind) {
        if (entity_yes(space, PROP_SPACE_ENGINE_SPACE) == 1) {
            power_node(power, space)->hot = true;
        }
    }
}

void power_voltages(Power *power)
{
    const Model *model = power->model;
    for (uint32_t i = 0; i < model->entity_count; i++) {
        set_source(power, model->entities[i]);
    }
    /* A panel that only a maker feeds (a generator's) has its voltage from there. */
    for (uint32_t i = 0; i < model->feed_count; i++) {
        const Feed *feed = model->feeds[i];
        if (feed->maker && feed->taker->fed == NULL && power_node(power, feed->taker)->source == NULL) {
            hand_on(power, feed->giver, power_node(power, feed->taker));
        }
    }
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        const Entity *taker = model->feed_order[i];
        if (taker->fed != NULL && taker->fed->giver != NULL && taker->kind != KIND_INLET) {
            hand_on(power, taker->fed->giver, power_node(power, taker));
            note_lower(power, taker);
        }
    }
    mark_hot_spaces(power);
}
