/*
 * What a thing draws by itself, apart from what hangs on it: stated, or what it turns of one kind of power
 * into another; and how that follows the voltage. What flows through things is gathered of it in
 * power_current.c.
 */
#include "figures/power.h"

#include "physics/navigation.h"

static bool is_known_voltage(const PowerNode *node)
{
    return node->nominal_v > 0.0;
}

bool takes_direct(const Entity *thing)
{
    return thing->kind == KIND_CONVERTER || thing->kind == KIND_INVERTER || thing->kind == KIND_NETWORK ||
           thing->kind == KIND_ENGINE;
}

PropId prop_of_volts(const Entity *thing)
{
    bool draws = kinds[thing->kind].groups & GROUPS_LOAD && !entity_states(thing, PROP_FEED_MADE_FOR);
    return draws ? PROP_LOAD_DRAW : PROP_FEED_MADE_FOR;
}

/* The voltage that a thing says it is for, in V; 0: it says none. */
static Interval volts_for(const Entity *thing)
{
    PropId prop = prop_of_volts(thing);
    const Value *volts = property_value(entity_property(thing, prop), prop == PROP_LOAD_DRAW);
    bool known = volts->kind == VALUE_QUANTITY && !(volts->flags & VALUE_BROKEN);
    return known ? (Interval){volts->u.quantity.low, volts->u.quantity.high} : point(0.0);
}

bool is_for_mains(const Entity *thing)
{
    return thing->kind == KIND_CHARGER || (!takes_direct(thing) && volts_for(thing).low >= MAINS_FROM_V);
}

bool may_be_for_mains(const Entity *thing)
{
    return thing->kind == KIND_CHARGER || (!takes_direct(thing) && volts_for(thing).high >= MAINS_FROM_V);
}

/* Whether a thing that is for mains hangs, or may hang, on direct current. */
static bool may_be_on_direct(const Entity *thing, const PowerNode *node)
{
    return !(thing->flags & ENTITY_AC) && node->nominal_v > 0.0 && node->nominal_v < MAINS_FROM_V && may_be_for_mains(thing);
}

/* In any case: what it would draw there is no current that anybody should size a cable for. Told by wrong-supply. */
static bool is_mains_on_direct(const Entity *thing, const PowerNode *node)
{
    return may_be_on_direct(thing, node) && is_for_mains(thing) && node->nominal_most_v < MAINS_FROM_V;
}

bool may_be_misfed(const Entity *thing, const PowerNode *node)
{
    return may_be_on_direct(thing, node) && !is_mains_on_direct(thing, node);
}

static LoadSort stated_sort(const Entity *load, bool in_amperes);

static bool states_own_volts(const Entity *load)
{
    return property_value(entity_property(load, PROP_LOAD_DRAW), 1)->kind == VALUE_QUANTITY && !(load->flags & ENTITY_AC);
}

static bool is_in_amperes(const Entity *load)
{
    UnitPair unit = property_value(entity_property(load, PROP_LOAD_DRAW), 0)->unit;
    return dimension_equal(unit_dimension(unit), unit_dimension(UNIT_ALONE(UNIT_A)));
}

bool behaves_at_own_volts(const Entity *load)
{
    if (!states_own_volts(load)) {
        return false;
    }
    bool in_amperes = is_in_amperes(load);
    return stated_sort(load, in_amperes) != (in_amperes ? LOAD_CURRENT : LOAD_POWER);
}

/* One draw of a load at the voltage that it states, in A: at the one that is there the same power, or through the same resistance. */
static Interval at_voltage_there(Work *work, const Entity *load, Interval draw, bool in_amperes, LoadSort sort, Interval there)
{
    if (sort == LOAD_POWER && !in_amperes) {
        return interval_divide(draw, there);
    }
    Interval stated = use_value(work, load, PROP_LOAD_DRAW, 1).value;
    Interval amps = in_amperes ? draw : interval_divide(draw, stated);
    return sort == LOAD_CURRENT ? amps
           : sort == LOAD_POWER ? interval_divide(interval_multiply(amps, stated), there)
                                : interval_multiply(interval_divide(amps, stated), there);
}

/* Amperes of a load's stated draw, of one, at the voltage that is there: a plate says what it draws at its own. */
Quantity power_draw_current(Power *power, const Entity *load)
{
    Work *work = power->work;
    Quantity draw = use_value(work, load, PROP_LOAD_DRAW, 0);
    if (draw.state != STATE_KNOWN) {
        return draw;
    }
    bool in_amperes = is_in_amperes(load), own_volts = states_own_volts(load);
    LoadSort sort = own_volts ? stated_sort(load, in_amperes) : in_amperes ? LOAD_CURRENT : LOAD_POWER;
    const PowerNode *node = power_node(power, load);
    if (in_amperes && sort == LOAD_CURRENT) {
        return draw;
    }
    if (own_volts && (sort == LOAD_CURRENT || !is_known_voltage(node))) {
        draw.value = at_voltage_there(work, load, draw.value, in_amperes, LOAD_CURRENT, point(0.0));
        return draw;
    }
    if (!is_known_voltage(node)) {
        use_no_voltage(work, node->source);
        return (Quantity){point(0.0), work->state};
    }
    Interval there = use_working_voltage(work, node);
    draw.value = own_volts ? at_voltage_there(work, load, draw.value, in_amperes, sort, there) : interval_divide(draw.value, there);
    return draw;
}

/* How the current of a load follows the voltage, for the solved network (power_network.c). */

static LoadSort stated_sort(const Entity *load, bool in_amperes)
{
    Str behaves = entity_word(load, PROP_LOAD_BEHAVES);
    return str_is(behaves, "current")      ? LOAD_CURRENT
           : str_is(behaves, "power")      ? LOAD_POWER
           : str_is(behaves, "resistance") ? LOAD_RESISTANCE
           : in_amperes                    ? LOAD_CURRENT
                                           : LOAD_POWER;
}

LoadSort power_stated_own(const Power *power, const Entity *load, Interval *own)
{
    const PowerNode *node = power_node(power, load);
    const Property *property = entity_property(load, PROP_LOAD_DRAW);
    const Value *draw = property_value(property, 0);
    const Value *at = property_value(property, 1);
    if (draw->kind != VALUE_QUANTITY) {
        return LOAD_NONE;
    }
    bool own_voltage = at->kind == VALUE_QUANTITY && !(load->flags & ENTITY_AC);
    Interval volts = own_voltage ? (Interval){at->u.quantity.low, at->u.quantity.high} : node->working_v;
    Interval value = {draw->u.quantity.low, draw->u.quantity.high};
    bool in_amperes = dimension_equal(unit_dimension(draw->unit), unit_dimension(UNIT_ALONE(UNIT_A)));
    LoadSort sort = stated_sort(load, in_amperes);
    switch (sort) {
    case LOAD_CURRENT:
        *own = in_amperes ? value : interval_divide(value, volts);
        break;
    case LOAD_POWER:
        *own = in_amperes ? interval_multiply(value, volts) : value;
        break;
    default:
        *own = interval_divide(in_amperes ? value : interval_divide(value, volts), volts);
        break;
    }
    return sort;
}

/* Current of a thing that turns power of one kind into another: power out over efficiency and voltage in. */
static Quantity converted_at(Power *power, const Entity *entity, Quantity watts, Quantity share)
{
    Work *work = power->work;
    PowerNode *node = power_node(power, entity);
    if (!is_known_voltage(node)) {
        use_no_voltage(work, node->source);
        return (Quantity){point(0.0), work->state};
    }
    if (watts.state != STATE_KNOWN || share.state != STATE_KNOWN) {
        return (Quantity){point(0.0), STATE_MISSING};
    }
    Interval volts = use_working_voltage(work, node);
    node->sort = LOAD_POWER;
    node->own = interval_divide(watts.value, share.value);
    return (Quantity){interval_divide(watts.value, interval_multiply(share.value, volts)), STATE_KNOWN};
}

static Quantity converted(Power *power, const Entity *entity, Quantity watts, PropId efficiency)
{
    return converted_at(power, entity, watts, use_value(power->work, entity, efficiency, 0));
}

static Quantity output_watts(Power *power, const Entity *entity, PropId output)
{
    Quantity amps = use_value(power->work, entity, output, 0);
    Quantity volts = use_value(power->work, entity, output, 1);
    State state = amps.state > volts.state ? amps.state : volts.state;
    return (Quantity){interval_multiply(amps.value, volts.value), state};
}

static const char formula_own[] = "draw times count; of watts, over the voltage";
static const char formula_inverter[] = "{rated} / ({efficiency} x {voltage})";
static const char formula_converted[] = "{output} x {its voltage} / ({efficiency} x {voltage})";
static const char formula_relay[] = "{output}: a relay takes what it gives";
static const char formula_element[] = "{element} / {voltage}";
static const char formula_motor[] = "{rated} / ({what its motor keeps} x {voltage})";
static const char formula_backbone[] = "50 mA for each load number on the backbone";
static const char formula_starter[] = "as stated: {starter}";

Quantity use_motor_keeps(Work *work, const Entity *engine)
{
    static const Interval keeps = {0.8, 0.95};
    if (entity_states(engine, PROP_ENGINE_EFFICIENCY)) {
        return use_value(work, engine, PROP_ENGINE_EFFICIENCY, 0);
    }
    return use_fact(work, "what motor and controller keep", keeps, UNIT_ALONE(UNIT_PERCENT), "common practice, no source");
}

/* An electric engine at its rated power, in its motor and controller; more, where a point of its `takes` says more. */
static Quantity motor_current(Power *power, const Entity *engine, const char **formula)
{
    Work *work = power->work;
    Quantity watts = use_value(work, engine, PROP_ENGINE_RATED, 0), keeps = use_motor_keeps(work, engine);
    const Property *line = entity_property(engine, PROP_ENGINE_TAKES);
    *formula = formula_motor;
    if (line == NULL || watts.state != STATE_KNOWN || keeps.state != STATE_KNOWN) {
        return converted_at(power, engine, watts, keeps);
    }
    Buf text;
    buf_init(&text, work->figures->arena);
    buf_text(&text, "the greatest of {rated} / {what its motor keeps}");
    watts.value = interval_divide(watts.value, keeps.value);
    for (int point = 1; line != NULL; line = block_next(&engine->block, line), point++) {
        Quantity taken = use_statement(work, engine, line, 1);
        watts.value = taken.state == STATE_KNOWN ? interval_max(watts.value, taken.value) : watts.value;
        buf_format(&text, ", {taken %d}", point);
    }
    buf_text(&text, "; over {voltage}");
    *formula = text.text;
    return converted_at(power, engine, watts, (Quantity){point(1.0), STATE_KNOWN});
}

/* Of a heater without an element nothing: its watts are missing then. */
static Quantity element_current(Power *power, const Entity *heater)
{
    Work *work = power->work;
    PowerNode *node = power_node(power, heater);
    Quantity watts = use_value(work, heater, PROP_WATER_HEATER_ELEMENT, 0);
    if (watts.state != STATE_KNOWN) {
        return watts;
    }
    if (!is_known_voltage(node)) {
        use_no_voltage(work, node->source);
        return (Quantity){point(0.0), work->state};
    }
    node->sort = LOAD_RESISTANCE;
    node->own = interval_divide(interval_divide(watts.value, node->working_v), node->working_v);
    Interval volts = use_working_voltage(work, node);
    return (Quantity){interval_divide(watts.value, volts), STATE_KNOWN};
}

const Entity *power_next_joined(const Model *model, const Entity *network, const Entity *last)
{
    for (uint32_t i = last != NULL ? last->index + 1 : 0; i < model->entity_count; i++) {
        const Entity *thing = model->entities[i];
        if (kinds[thing->kind].groups & GROUPS_NETWORK && !(thing->flags & (ENTITY_DROPPED | ENTITY_BROKEN)) &&
            entity_reference(thing, PROP_NETWORKED_NETWORK) == network) {
            return thing;
        }
    }
    return NULL;
}

/* What the things on a data backbone take of its supply, by their load numbers. */
static Quantity backbone_current(Power *power, const Entity *network)
{
    Work *work = power->work;
    Interval sum = point(0.0);
    for (const Entity *thing = power_next_joined(work->model, network, NULL); thing != NULL;
         thing = power_next_joined(work->model, network, thing)) {
        Interval number = use_value(work, thing, PROP_NETWORKED_LOAD_NUMBER, 0).value;
        sum = interval_add(sum, interval_multiply(number, use_count(work, thing).value));
    }
    return (Quantity){interval_scale(sum, BACKBONE_LOAD_A), work->state};
}

/* The same, whatever voltage it is for. */
static bool draw_as_stated(Power *power, const Entity *entity, Quantity *current, const char **formula)
{
    Work *work = power->work;
    switch (entity->kind) {
    case KIND_INVERTER:
        *formula = formula_inverter;
        *current = converted(power, entity, use_value(work, entity, PROP_INVERTER_RATED, 0), PROP_INVERTER_EFFICIENCY);
        return true;
    case KIND_CHARGER:
        *formula = formula_converted;
        *current = converted(power, entity, output_watts(power, entity, PROP_CHARGER_OUTPUT), PROP_CHARGER_EFFICIENCY);
        return true;
    case KIND_CONVERTER:
        if (is_relay(entity)) {
            *formula = formula_relay;
            *current = use_value(work, entity, PROP_CONVERTER_OUTPUT, 0);
            power_node(power, entity)->sort = LOAD_CURRENT;
            power_node(power, entity)->own = current->value;
            return true;
        }
        *formula = formula_converted;
        *current = converted(power, entity, output_watts(power, entity, PROP_CONVERTER_OUTPUT), PROP_CONVERTER_EFFICIENCY);
        return true;
    case KIND_ENGINE:
        if (!is_cranked(entity)) {
            *current = motor_current(power, entity, formula);
            return true;
        }
        *formula = formula_starter;
        *current = use_value(work, entity, PROP_ENGINE_STARTER, 0);
        power_node(power, entity)->sort = LOAD_CURRENT;
        power_node(power, entity)->own = current->value;
        return true;
    case KIND_WATER_HEATER:
        *formula = formula_element;
        *current = element_current(power, entity);
        return true;
    case KIND_NETWORK:
        *formula = formula_backbone;
        *current = backbone_current(power, entity);
        power_node(power, entity)->sort = LOAD_CURRENT;
        power_node(power, entity)->own = current->value;
        return power_next_joined(work->model, entity, NULL) != NULL;
    default:
        if (!entity_has_group(entity, GROUPS_LOAD) || (entity->kind == KIND_OUTLET)) {
            return false;
        }
        *current = power_draw_current(power, entity);
        if (current->state == STATE_KNOWN) {
            PowerNode *node = power_node(power, entity);
            node->sort = power_stated_own(power, entity, &node->own);
        }
        return true;
    }
}

bool own_draw(Power *power, const Entity *entity, Quantity *current, const char **formula)
{
    Work *work = power->work;
    PowerNode *node = power_node(power, entity);
    *formula = formula_own;
    if (is_mains_on_direct(entity, node)) {
        use_waiting(work);
        *current = (Quantity){point(0.0), STATE_WAITING};
        return true;
    }
    bool draws = draw_as_stated(power, entity, current, formula);
    if (draws && may_be_on_direct(entity, node)) { /* not known until it is decided; what leaves that out counts up to all of it */
        if (is_for_mains(entity)) {
            use_no_voltage(work, node->source);
        } else {
            use_missing(work, entity, prop_of_volts(entity));
        }
        *current = (Quantity){interval_hull(current->value, point(0.0)), STATE_MISSING};
        node->own = interval_hull(node->own, point(0.0));
    }
    return draws;
}
