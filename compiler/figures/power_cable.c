/*
 * Cables, from the sources on: what they are, gathered from the spec in the order in which givers come before takers.
 *
 * What the program chooses is chosen in power_size.c, what flows is solved in power_network.c, the figures of each are
 * recorded in power_cable_figures.c, faults are reckoned in power_fault.c.
 */
#include "figures/cable.h"
#include "figures/power_days.h"

#include "physics/celsius.h"
#include "physics/drop.h"

#include <math.h>

/* Which drops are critical */

/*
 * A blower is critical for the petrol vapour that it has to clear (the clause says "bilge blowers"). Not so where its space
 * says that it holds none, or where all engines are stated and none burns petrol: there it moves air. A boat that states
 * neither is taken for the worse.
 */
static bool may_clear_petrol(const Model *model, const Entity *blower)
{
    const Entity *space = entity_reference(blower, PROP_COMMON_SPACE);
    int stated = space != NULL ? entity_yes(space, PROP_SPACE_PETROL) : -1;
    bool any = false, petrol = false;
    for (const Entity *e = model->first_of_kind[KIND_ENGINE]; e != NULL; e = e->next_of_kind) {
        Str fuel = entity_word(e, PROP_ENGINE_FUEL);
        bool aboard = !(e->flags & ENTITY_DROPPED);
        any = any || aboard;
        petrol = petrol || (aboard && !(str_is(fuel, "diesel") || str_is(fuel, "electric")));
    }
    for (const Entity *e = model->first_of_kind[KIND_SPACE]; e != NULL; e = e->next_of_kind) {
        petrol = petrol || entity_yes(e, PROP_SPACE_PETROL) == 1;
    }
    return stated >= 0 ? stated == 1 : petrol || !any;
}

static const char *critical_kind(const Model *model, const Entity *entity, Basis basis)
{
    switch (entity->kind) {
    case KIND_PANEL:
        return "it feeds a panel";
    case KIND_BUS:
        return "it feeds a bus";
    case KIND_NAV_LIGHT:
        return "a navigation light hangs on it";
    case KIND_BLOWER:
        return may_clear_petrol(model, entity) ? "a blower hangs on it" : NULL;
    case KIND_INSTRUMENT:
    case KIND_RADIO:
    case KIND_NETWORK:
        return "electronics hang on it";
    case KIND_BILGE_PUMP:
        return basis == BASIS_ISO ? "a bilge pump hangs on it" : NULL;
    default:
        return NULL;
    }
}

bool feed_is_critical(const Model *model, const Feed *feed, Basis basis, const char **why)
{
    *why = "it is none of the critical ones";
    if (feed->maker) {
        return false;
    }
    if (entity_yes(feed->taker, PROP_COMMON_CRITICAL) == 1) {
        *why = "the owner calls it critical";
        return true;
    }
    const char *kind = critical_kind(model, feed->taker, basis);
    for (const Feed *on = feed->taker->gives; on != NULL && kind == NULL; on = on->next_of_giver) {
        if (!on->maker && on->shares && !(on->taker->flags & ENTITY_DROPPED)) {
            kind = entity_yes(on->taker, PROP_COMMON_CRITICAL) == 1 ? "something critical hangs on it"
                                                                   : critical_kind(model, on->taker, basis);
        }
    }
    if (kind != NULL) {
        *why = kind;
    }
    return kind != NULL;
}

/* Reading what the cable is */

bool states_sheath(const Property *sheath)
{
    const Value *value = property_value(sheath, 0);
    return value->kind == VALUE_WORD && !str_is(value->u.word, "none");
}

bool feed_is_sheathed(const Feed *feed)
{
    return states_sheath(feed_property(feed, PROP_FEED_SHEATH));
}

double insulation_celsius(const Value *stated)
{
    return stated->kind == VALUE_QUANTITY ? stated->u.quantity.low - ZERO_CELSIUS_K : CABLE_ASSUMED_INSULATION_C;
}

double feed_insulation_celsius(const Feed *feed)
{
    return insulation_celsius(property_value(feed_property(feed, PROP_FEED_WIRE), 2));
}

/* Its own `drop` where it has one; of what the basis holds to 3 % that can be less, not more. */
DropLimit feed_drop_limit(const Model *model, const Feed *feed, Basis basis)
{
    bool charges = feed->maker && !(feed->taker->flags & ENTITY_AC);
    DropLimit limit = {.share = DROP_LIMIT_OTHER};
    limit.critical = feed_is_critical(model, feed, basis, &limit.why);
    if (limit.critical || charges) {
        limit.share = DROP_LIMIT_CRITICAL;
        limit.why = charges ? "it brings what charges" : limit.why;
    }
    const Value *own = property_value(feed_property(feed, PROP_FEED_DROP), 0);
    if (own->kind != VALUE_QUANTITY || own->flags & VALUE_BROKEN) {
        return limit;
    }
    double least = own->u.quantity.low > 0.0 ? own->u.quantity.low : own->u.quantity.high;
    least = isfinite(least) ? least : DROP_LIMIT_OTHER; /* nobody said anything of it yet */
    bool lower = !limit.critical || least < limit.share;
    limit.own = lower || own->u.quantity.low < limit.share; /* of a hole it may turn out to be */
    if (lower) {
        limit.share = least;
        limit.why = "its own `drop`";
    }
    return limit;
}

/* How many a value says, from one up; `otherwise` if it is not stated. */
static Interval whole_of(const Value *value, double otherwise)
{
    enum { MOST_LAID = 1000 }; /* cables side by side, where nobody says how many at most */
    if (value->kind != VALUE_QUANTITY) {
        return point(otherwise);
    }
    return (Interval){fmax(1.0, fmin(value->u.quantity.low, MOST_LAID)), fmax(1.0, fmin(value->u.quantity.high, MOST_LAID))};
}

/* Conductors laid as one lie together, out and back: a bundle that is not stated, or said to be less, is these. */
static void read_cable(Power *power, Cable *cable)
{
    Interval conductors = whole_of(property_value(cable->wire, 1), 1.0);
    cable->parallel = (int)conductors.low;
    cable->most_parallel = (int)conductors.high;
    cable->insulation_c = insulation_celsius(property_value(cable->wire, 2));
    cable->bundle = (int)fmax(whole_of(property_value(cable->bundle_line, 0), 2.0).high, 2.0 * conductors.high);
    cable->sheathed = feed_is_sheathed(cable->feed);
    cable->way = cable_way(power->model, power->basis, cable->feed);
    cable->limit = feed_drop_limit(power->model, cable->feed, power->basis);
}

double cable_best_insulation_c(const Cable *cable)
{
    const Value *stated = property_value(cable->wire, 2);
    return stated->kind == VALUE_QUANTITY ? stated->u.quantity.high - ZERO_CELSIUS_K : CABLE_ASSUMED_INSULATION_C;
}

int cable_least_bundle(const Cable *cable)
{
    return (int)fmax(whole_of(property_value(cable->bundle_line, 0), 2.0).low, 2.0 * cable->parallel);
}

/* The size that the spec states; what it leaves out is for power_size.c. */
static void read_size(Cable *cable)
{
    const Value *value = property_value(cable->wire, 0);
    cable->size_broken = cable->wire != NULL && cable->wire->flags & PROPERTY_BROKEN;
    if (cable->size_broken) {
        return;
    }
    if (value->kind != VALUE_QUANTITY || value->flags & VALUE_HOLE) {
        cable->size_chosen = true;
        return;
    }
    Series series = series_of_unit(value->unit);
    double low = value->u.quantity.low;
    double high = value->u.quantity.high;
    cable->thin = low > 0.0 ? conductor_find(series, low) : NULL;
    cable->thick = high == low ? cable->thin : isfinite(high) ? conductor_find(series, high) : NULL;
}

/* A whole feed */

static Quantity maker_current(Power *power, const Feed *feed);

static const char formula_output[] = "its greatest output";
static const char formula_array[] = "rated power of all panels over the nominal voltage; at most max-output";
static const char formula_pwm[] =
    "rated power of all panels over the nominal voltage; at most short-circuit x strings, and max-output";

static bool passes_panels(const Entity *array)
{
    return str_is(entity_word(array, PROP_SOLAR_CONTROLLER), "pwm") && entity_states(array, PROP_SOLAR_SHORT_CIRCUIT);
}

static void read_current(Power *power, Cable *cable)
{
    const Figure *figure = figure_find(power->work->figures, cable->subject, FIGURE_CURRENT, cable->at);
    cable->current_figure = figure;
    cable->current = figure != NULL ? (Quantity){{figure->low, figure->high}, (State)figure->state}
                                    : (Quantity){point(0.0), STATE_MISSING};
}

const Feed *cable_of_inverter(const Entity *inverter)
{
    const Feed *feed = inverter->fed;
    bool bolted = feed != NULL && feed->shares && entity_states(inverter, PROP_FEED_RUN);
    return bolted && feed->giver != NULL && feed->giver->kind == KIND_BUS ? feed->giver->fed : feed;
}

/* Of several inverters on one bus the first: the rule inverter-feed asks each. */
static void read_low(Power *power)
{
    for (const Entity *e = power->model->first_of_kind[KIND_INVERTER]; e != NULL; e = e->next_of_kind) {
        const Feed *feed = cable_of_inverter(e);
        Cable *cable = feed != NULL && !feed->maker ? power_cable_of(power, feed) : NULL;
        const Figure *low = cable != NULL && cable->low_figure == NULL ? figure_find(power->work->figures, e, FIGURE_CURRENT_WHEN_LOW, NULL) : NULL;
        if (low != NULL) {
            cable->low_figure = low;
            cable->low.value = low->state == STATE_KNOWN ? (Interval){low->low, low->high} : point(0.0);
        }
    }
}

static void record_output(Power *power, const Feed *feed)
{
    work_begin(power->work);
    Quantity current = maker_current(power, feed);
    work_record(power->work, FIGURE_CURRENT, feed->subject, feed_at(feed), current.value,
                passes_panels(feed->giver)                          ? formula_pwm
                : entity_states(feed->giver, PROP_SOLAR_MAX_OUTPUT) ? formula_array
                                                                    : formula_output);
}

/* What of what makes power comes back through each cable. */
static void find_brought(Power *power)
{
    power_brought(power);
    for (uint32_t i = 0; i < power->cable_count; i++) {
        power->cables[i].brought = cable_brought(power, &power->cables[i]);
        power->cables[i].cranking = cable_cranking(power, &power->cables[i]);
    }
}

static void gather_cable(Power *power, const Feed *feed, Cable *cable)
{
    cable->feed = feed;
    cable->subject = feed->subject;
    cable->at = feed_at(feed);
    cable->wire = feed_property(feed, PROP_FEED_WIRE);
    cable->run_line = feed_property(feed, PROP_FEED_RUN);
    cable->bundle_line = feed_property(feed, PROP_FEED_BUNDLE);
    cable->protect = feed_property(feed, PROP_FEED_PROTECT);
    cable->nominal_v = power_node(power, feed->taker)->nominal_v;
    cable->nominal_most_v = power_node(power, feed->taker)->nominal_most_v;
    read_cable(power, cable);
    read_current(power, cable);
    const Value *run = property_value(cable->run_line, 0);
    bool wrong = cable->run_line != NULL && (cable->run_line->flags & PROPERTY_BROKEN || run->flags & VALUE_BROKEN);
    cable->run = wrong                          ? (Quantity){{0.0, 0.0}, STATE_WAITING}
                 : run->kind == VALUE_QUANTITY ? (Quantity){{run->u.quantity.low, run->u.quantity.high}, STATE_KNOWN}
                                               : (Quantity){{0.0, 0.0}, STATE_MISSING};
    read_size(cable);
}

static void record_cable(Power *power, Cable *cable)
{
    cable_record(power, cable);
    power_record_faults(power, cable);
}

/* Which property tells the greatest current of a maker; PROP_NONE: its power does. */
static PropId stated_output(const Entity *maker)
{
    switch (maker->kind) {
    case KIND_ALTERNATOR:
        return PROP_ALTERNATOR_OUTPUT;
    case KIND_CHARGER:
        return PROP_CHARGER_OUTPUT;
    case KIND_CONVERTER:
        return PROP_CONVERTER_OUTPUT;
    default:
        return PROP_NONE;
    }
}

static PropId rated_power(const Entity *maker)
{
    return maker->kind == KIND_SOLAR      ? PROP_SOLAR_RATED
           : maker->kind == KIND_INVERTER ? PROP_INVERTER_RATED
                                          : PROP_GENERATOR_RATED;
}

/* Of a maker that states its power: of all of them, at the nominal voltage of what it feeds. */
static Quantity current_of_power(Power *power, const Feed *feed)
{
    Work *work = power->work;
    const PowerNode *taker = power_node(power, feed->taker);
    Quantity all = use_filled(power, feed->giver, rated_power(feed->giver));
    all.value = interval_multiply(all.value, use_pieces(work, feed->giver).value);
    if (taker->nominal_v <= 0.0) {
        use_no_voltage(work, taker->source);
        return (Quantity){point(0.0), work->state};
    }
    Interval volts = {taker->nominal_v, taker->nominal_most_v};
    use_source_voltage(work, taker->source, "nominal voltage", volts, "its target");
    all.value = interval_divide(all.value, volts);
    return all;
}

/* A controller that switches passes the panels' own current on, which is at most what they give into a short circuit. */
static Quantity no_more_than_shorted(Power *power, const Entity *array, Quantity panels)
{
    Quantity one = use_stated(power->work, array, PROP_SOLAR_SHORT_CIRCUIT, 0);
    Interval strings = use_strings(power->work, array, PROP_SOLAR_SERIES, PROP_SOLAR_PARALLEL).value;
    if (one.state == STATE_KNOWN && panels.state == STATE_KNOWN) {
        panels.value = interval_min(panels.value, interval_multiply(one.value, strings));
    }
    return panels;
}

/* One controller: no more than it lets through, and no more than its panels give, at the voltage of a bank that is low. */
static Quantity array_current(Power *power, const Feed *feed)
{
    Quantity most = use_stated(power->work, feed->giver, PROP_SOLAR_MAX_OUTPUT, 0);
    const PowerNode *taker = power_node(power, feed->taker);
    if (most.state != STATE_MISSING && taker->nominal_v <= 0.0) {
        if (taker->source != NULL && taker->source->kind == KIND_BANK) {
            use_value(power->work, taker->source, PROP_BANK_VOLTAGE, 0); /* with a high one the panels give less */
        }
        most.value.low = 0.0;
        return most;
    }
    Quantity panels = current_of_power(power, feed);
    panels = passes_panels(feed->giver) ? no_more_than_shorted(power, feed->giver, panels) : panels;
    if (most.state == STATE_KNOWN && panels.state == STATE_KNOWN) {
        panels.value = interval_min(panels.value, most.value);
    }
    return panels;
}

/* The greatest current that a maker sends down its output: of all of them, except that an array has one controller. */
static Quantity maker_current(Power *power, const Feed *feed)
{
    const Entity *maker = feed->giver;
    PropId output = stated_output(maker);
    if (maker->kind == KIND_SOLAR) {
        return array_current(power, feed);
    }
    if (output == PROP_NONE) {
        return current_of_power(power, feed);
    }
    Quantity current = use_value(power->work, maker, output, 0);
    current.value = interval_multiply(current.value, use_pieces(power->work, maker).value);
    return current;
}

/* What is dropped carries nothing, and what leads back to itself has no source to compute from. */
static bool is_followed(const Feed *feed)
{
    return !((feed->subject->flags | feed->taker->flags) & (ENTITY_LOOP | ENTITY_DROPPED));
}

void power_outputs(Power *power)
{
    for (uint32_t i = 0; i < power->model->feed_count; i++) {
        const Feed *feed = power->model->feeds[i];
        if (feed->maker && is_followed(feed)) {
            record_output(power, feed);
        }
    }
}

Cable *power_cable_of(const Power *power, const Feed *feed)
{
    /* Those of one taker, or of one maker, stand together. */
    const PowerNode *node = power_node(power, feed->maker ? feed->giver : feed->taker);
    Cable *cable = feed->maker ? node->makes : node->cable;
    const Cable *end = power->cables + power->cable_count;
    while (cable != NULL && cable < end && cable->subject == feed->subject && cable->feed->maker == feed->maker) {
        if (cable->feed == feed) {
            return cable;
        }
        cable++;
    }
    return NULL;
}

/* At most so many: half of all feeds have no cable of their own, and a Cable is large. */
static uint32_t most_cables(const Model *model)
{
    uint32_t most = 0;
    for (uint32_t i = 0; i < model->feed_count; i++) {
        const Feed *feed = model->feeds[i];
        most += is_followed(feed) && (feed->maker || !feed->shares);
    }
    return most;
}

/* Cables of `fed-by` in the order in which givers come before takers, then those of makers. */
static void gather_cables(Power *power)
{
    const Model *model = power->model;
    power->cables = ARENA_ARRAY(power->work->scratch, Cable, most_cables(model) + 1);
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        PowerNode *node = power_node(power, model->feed_order[i]);
        node->cable = &power->cables[power->cable_count];
        for (const Feed *feed = model->feed_order[i]->fed; feed != NULL; feed = feed->next) {
            if (is_followed(feed) && !feed->shares) {
                gather_cable(power, feed, &power->cables[power->cable_count++]);
            }
        }
        if (node->cable == &power->cables[power->cable_count]) {
            node->cable = NULL;
        }
    }
    power->fed_count = power->cable_count;
    for (uint32_t i = 0; i < model->feed_count; i++) {
        if (model->feeds[i]->maker && is_followed(model->feeds[i])) {
            Cable *cable = &power->cables[power->cable_count++];
            gather_cable(power, model->feeds[i], cable);
            PowerNode *maker = power_node(power, model->feeds[i]->giver);
            maker->makes = maker->makes != NULL ? maker->makes : cable;
        }
    }
    read_low(power);
}

enum { CHOICES_MOST = 20, CLASSES_MOST = 4 };

/* Sizes ask for currents, currents for sizes, classes for both: ratings and sizes only grow, so this settles. */
static void choose_and_solve(Power *power)
{
    power_choose(power);
    for (int tries = 0;; tries++) {
        power_solve(power);
        power_supplies(power);
        for (int i = 0; i < CHOICES_MOST && power_choose_again(power); i++) {
            power_solve(power);
            power_supplies(power);
        }
        if (tries == CLASSES_MOST || !power_choose_classes(power)) {
            return;
        }
    }
}

void power_cables(Power *power)
{
    const Model *model = power->model;
    power_short_circuits(power);
    gather_cables(power);
    power_makers_faults(power);
    find_brought(power);
    power_least_voltages(power); /* of watts a starting current goes by them */
    power_surge_currents(power);
    choose_and_solve(power);
    Cable *cable = power->cables;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        for (const Feed *feed = model->feed_order[i]->fed; feed != NULL; feed = feed->next) {
            if (is_followed(feed) && feed->shares) {
                cable_record_without(power, feed);
            } else if (is_followed(feed)) {
                record_cable(power, cable++);
            }
        }
    }
    for (uint32_t i = power->fed_count; i < power->cable_count; i++) {
        if (!power->cables[i].feed->shares) {
            record_cable(power, &power->cables[i]);
        }
    }
    power_charge_drops(power);
    power_surge_voltages(power);
    power_cranking_voltages(power);
}
