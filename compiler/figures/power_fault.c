/*
 * Fault currents: what flows into a short circuit just behind each device, from every source that reaches it, and the least
 * that flows into one at the far end of its cable.
 *
 * Banks add up where a thing is fed from several at once (a transfer switch takes one at a time), and where something joins
 * them elsewhere (power_joined.c). The greatest current is reckoned with the open-circuit voltage of a full bank, the least
 * resistance and cold copper; the least with the lowest working voltage, the greatest resistance, warm copper and one source
 * alone. What makes power limits its own current: chargers, converters and
 * controllers to their output (common practice, no source), an alternator to 1.2 times its rating (the margin of 33 CFR
 * 183.460(b); common practice, no source). All of it is added, wherever it joins: on the safe side. Behind what converts
 * power there is no fault current to speak of; in front of it, in the cable that brings what it makes to a bank, the bank
 * feeds a short circuit. Inductance is left out.
 */
#include "figures/cable.h"

#include "physics/fault.h"

#include <math.h>

static const double cold_celsius = 20.0;

/* Copper */

static Interval copper(const Cable *cable, Interval run, double celsius)
{
    double most = cable->thin != NULL && isfinite(run.high)
                      ? conductor_resistance_ohm(cable->thin, 2.0 * run.high, celsius, cable->parallel)
                      : INFINITY;
    double least = cable->thick != NULL
                       ? conductor_resistance_ohm(cable->thick, 2.0 * run.low, celsius, cable->most_parallel)
                       : 0.0;
    return (Interval){least, most};
}

static Interval own_copper(const Cable *cable, double celsius)
{
    bool known = cable->run.state == STATE_KNOWN;
    return known ? copper(cable, cable->run.value, celsius) : (Interval){0.0, INFINITY};
}

Interval cable_cold_ohm(const Cable *cable)
{
    return own_copper(cable, cold_celsius);
}

bool is_away_unsaid(const Feed *feed)
{
    const Entity *taker = feed->taker;
    bool between = feed->giver != NULL && (feed->giver->kind == KIND_BANK || (taker->fed->next != NULL && taker->gives == NULL));
    const Value *run = property_value(entity_property(taker, PROP_FEED_RUN), 0);
    /* Any other run is tried on it: then there is a cable, of which no more is known. */
    bool bolted_on = run->kind == VALUE_QUANTITY && run->u.quantity.high <= 0.0;
    return !feed->maker && feed->shares && taker->kind == KIND_SWITCH && between && !bolted_on;
}

/* For a figure that counts the way to it. */
static void use_away_unsaid(Work *work, const Entity *away)
{
    use_assumption(work, away, PROP_FEED_RUN, 0,
                   (Fact){.what = "resistance of the copper to it: any", .high = INFINITY, .unit = UNIT_ALONE(UNIT_MOHM),
                          .source = "nobody says how far it is from what feeds it"});
}

/* Supplies */

/* The resistance of a bank in its worst state: as stated, else the high end of what is usual for its chemistry. */
static Interval greatest_resistance(const Power *power, const Entity *bank, Interval by_figure)
{
    const Figure *capacity = figure_find(power->work->figures, bank, FIGURE_CAPACITY, NULL);
    Chemistry chemistry;
    if (entity_states(bank, PROP_BANK_RESISTANCE) || entity_states(bank, PROP_BANK_SHORT_CIRCUIT) ||
        !bank_chemistry(bank, &chemistry) || capacity == NULL || capacity->state != STATE_KNOWN || capacity->low <= 0.0) {
        return by_figure;
    }
    Interval nominal = node_nominal(power_node(power, bank));
    if (nominal.low <= 0.0) {
        return by_figure; /* nobody can tell its voltage: no figure is told that rests on it */
    }
    return interval_corners(battery_resistance_ohm(chemistry, nominal.high, capacity->low).high,
                            battery_resistance_ohm(chemistry, nominal.low, capacity->high).high);
}

static Supply supply_of_bank(const Power *power, const Entity *bank)
{
    const PowerNode *node = power_node(power, bank);
    const Figure *at_bank = figure_find(power->work->figures, bank, FIGURE_SHORT_CIRCUIT, NULL);
    Supply supply = {.banks = 1, .volts = bank_open_v(bank, node->working_v)};
    if (at_bank != NULL && at_bank->state == STATE_WAITING) {
        supply.known = supply.waits = true;
        supply.cold_ohm = supply.hot_ohm = (Interval){0.0, INFINITY};
        return supply;
    }
    if (at_bank == NULL || at_bank->state != STATE_KNOWN || at_bank->high <= 0.0) {
        supply.lacks = at_bank != NULL && at_bank->state == STATE_MISSING ? bank : NULL;
        supply.cold_ohm = supply.hot_ohm = (Interval){0.0, INFINITY};
        return supply;
    }
    supply.known = true;
    supply.cold_ohm = (Interval){supply.volts.high / at_bank->high,
                                 at_bank->low > 0.0 ? supply.volts.low / at_bank->low : INFINITY};
    supply.hot_ohm = greatest_resistance(power, bank, supply.cold_ohm);
    return supply;
}

static double side_by_side(double one, double other)
{
    return one <= 0.0 || other <= 0.0 ? 0.0 : isinf(one) ? other : isinf(other) ? one : one * other / (one + other);
}

static Supply supply_joined(Supply one, Supply other, bool one_at_a_time)
{
    if (!one.known || !other.known) {
        Supply only = one.known ? one : other;
        only.cut = one.cut;
        only.lacks = one.lacks != NULL ? one.lacks : other.lacks;
        return only;
    }
    Supply both = {.known = true, .waits = one.waits || other.waits, .banks = one_at_a_time ? 1 : one.banks + other.banks};
    both.volts = interval_hull(one.volts, other.volts);
    both.cold_ohm = interval_hull(one.cold_ohm, other.cold_ohm);
    both.hot_ohm = interval_max(one.hot_ohm, other.hot_ohm);
    both.unsaid = one.unsaid != NULL ? one.unsaid : other.unsaid;
    both.lacks = one.lacks != NULL ? one.lacks : other.lacks;
    if (!one_at_a_time) {
        both.cold_ohm.low = side_by_side(one.cold_ohm.low, other.cold_ohm.low);
    }
    return both;
}

static Supply supply_behind(Supply before, const Cable *cable)
{
    before.waits = before.waits || cable->size_broken || cable->run.state == STATE_WAITING;
    before.cold_ohm = interval_add(before.cold_ohm, own_copper(cable, cold_celsius));
    before.hot_ohm = interval_add(before.hot_ohm, own_copper(cable, CABLE_WORKING_CELSIUS));
    return before;
}

/* Behind a switch that may be any way off: the greatest current may be less by that. What drops counts it to the cable that leaves it. */
static Supply supply_behind_unsaid(Supply before, const Entity *away)
{
    before.cold_ohm.high = INFINITY;
    before.unsaid = away;
    return before;
}

/* What a feed brings to a short circuit; unknown where it comes from no bank. */
static Supply supply_before(const Power *power, const Feed *feed)
{
    const Entity *giver = feed->giver;
    if (giver == NULL || feed->maker || turns_power(giver) || feed->taker->flags & ENTITY_AC) {
        return (Supply){.known = false};
    }
    return power_node(power, giver)->supply;
}

/* Behind what is dropped nothing feeds a short circuit: `cut`. */
static Supply supply_of(const Power *power, const Entity *thing)
{
    if (thing->flags & ENTITY_DROPPED) {
        return (Supply){.cut = true};
    }
    Supply supply = thing->kind == KIND_BANK ? supply_of_bank(power, thing) : (Supply){.cut = thing->fed != NULL};
    for (const Feed *feed = thing->fed; feed != NULL; feed = feed->next) {
        const Cable *cable = power_cable_of(power, feed);
        Supply brought = supply_before(power, feed);
        if (brought.known) {
            brought = cable != NULL          ? supply_behind(brought, cable)
                      : is_away_unsaid(feed) ? supply_behind_unsaid(brought, feed->taker)
                                             : brought;
        }
        supply.cut = supply.cut && brought.cut;
        supply = supply_joined(supply, brought, takes_one_at_a_time(thing));
    }
    return supply;
}

/* From what feeds each thing; then what that adds which joins banks, and what hangs on these once more. */
void power_supplies(Power *power)
{
    const Model *model = power->model;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        const Entity *thing = model->feed_order[i];
        power_node(power, thing)->supply = supply_of(power, thing);
    }
    if (!power->joined_sought) {
        power_find_joined(power);
        power->joined_sought = true;
    }
    power_join(power);
    for (uint32_t i = 0; i < model->feed_order_count && power->joined != NULL; i++) {
        const Entity *thing = model->feed_order[i];
        PowerNode *node = power_node(power, thing);
        node->supply = node->reached != NULL ? supply_reached(node->supply, node->reached) : supply_of(power, thing);
    }
}

/* What makes power */

/* Through a relay another bank feeds the short circuit, and with more than it is rated for: it makes nothing itself. */
Interval cable_greatest_made(const Cable *cable)
{
    double share = cable->feed->giver->kind == KIND_ALTERNATOR ? ALTERNATOR_PROTECTION_SHARE : 1.0;
    bool adds = cable->current.state == STATE_KNOWN && !(cable->feed->taker->flags & ENTITY_AC) && !is_relay(cable->feed->giver);
    return adds ? interval_scale(cable->current.value, share) : point(0.0);
}

static void add_made(PowerNode *to, Interval more)
{
    to->made_a = interval_add(to->made_a, more);
}

void power_makers_faults(Power *power)
{
    const Model *model = power->model;
    for (uint32_t i = power->cable_count; i-- > power->fed_count;) {
        Cable *cable = &power->cables[i];
        PowerNode *taker = power_node(power, cable->feed->taker);
        add_made(taker, cable_greatest_made(cable));
        cable->next_brought = taker->brought;
        taker->brought = cable;
    }
    for (uint32_t i = model->feed_order_count; i-- > 0;) {
        const Entity *thing = model->feed_order[i];
        const Feed *feed = thing->fed;
        if (feed != NULL && feed->giver != NULL && !turns_power(feed->giver) && !(thing->flags & ENTITY_AC)) {
            add_made(power_node(power, feed->giver), power_node(power, thing)->made_a);
        }
    }
}

/* What joins banks, as far as it matters at a cable's device; NULL: nothing does. */
static const Reached *reached_at(const Power *power, const Cable *cable, const Entity *source)
{
    return cable->reached != NULL ? cable->reached : power_node(power, source)->reached;
}

/* What makers bring to a device: all that reaches its bank, but for what joins behind it. */
static Interval made_before(const Power *power, const Cable *cable, const Entity *source)
{
    Interval all = power_node(power, source)->made_a;
    const Reached *reached = reached_at(power, cable, source);
    if (reached != NULL) { /* of one that may not join them, the own ones are sure */
        all = (Interval){reached->count == reached->sources ? reached->made_a.low : all.low, fmax(all.high, reached->made_a.high)};
    }
    Interval behind =
        cable->feed->maker ? cable_greatest_made(cable) : power_node(power, cable->feed->taker)->made_a;
    /* What is behind is one of the terms of all: each end less its own. */
    return (Interval){fmax(all.low - behind.low, 0.0), isinf(all.high) ? INFINITY : fmax(all.high - behind.high, 0.0)};
}

/* Starting */

static PropId surge_prop(const Entity *thing)
{
    return thing->kind == KIND_INVERTER                   ? PROP_INVERTER_SURGE
           : kinds[thing->kind].groups & GROUPS_LOAD ? PROP_LOAD_SURGE
                                                     : PROP_NONE;
}

/* In A, of all of them together, at the lowest voltage. */
static const Figure *record_surge_current(Power *power, const Entity *thing)
{
    Work *work = power->work;
    const PowerNode *node = power_node(power, thing);
    PropId prop = surge_prop(thing);
    work_begin(work);
    Quantity surge = use_value(work, thing, prop, 0);
    UnitPair unit = property_value(entity_property(thing, prop), 0)->unit;
    bool in_watts = !dimension_equal(unit_dimension(unit), unit_dimension(UNIT_ALONE(UNIT_A)));
    if (in_watts && node->least_v.low > 0.0) {
        use_fact(work, "lowest voltage of its source", node->least_v, UNIT_ALONE(UNIT_V), node->least_source);
        surge.value = interval_divide(surge.value, node->least_v);
    } else if (in_watts) {
        use_no_voltage(work, node->source);
    }
    if (thing->kind == KIND_INVERTER) {
        surge.value = interval_divide(surge.value, use_value(work, thing, PROP_INVERTER_EFFICIENCY, 0).value);
    }
    surge.value = interval_multiply(surge.value, use_count(work, thing).value);
    return work_record(work, FIGURE_SURGE_CURRENT, thing, NULL, surge.value, "as stated; of watts, over the lowest voltage");
}

static void record_surge_voltage(Power *power, const Entity *thing, const Figure *surge)
{
    Work *work = power->work;
    const PowerNode *node = power_node(power, thing);
    if (!node->supply.known || !node->end_known || node->current == NULL) {
        return;
    }
    work_begin(work);
    Quantity starts = use_figure(work, surge);
    Quantity runs = use_figure(work, node->current);
    if (node->supply.waits) {
        use_waiting(work); /* the bank, or some of the copper from it */
    }
    use_fact(work, "voltage here while all that can run does, its source at its lowest", node->end_v, UNIT_ALONE(UNIT_V),
             "the network of its source, solved");
    use_fact(work, "resistance of the bank at its greatest and of the copper up to here, at 50 C", node->supply.hot_ohm,
             UNIT_ALONE(UNIT_MOHM), "the stated or chosen sizes; a bank's usual resistance from memory");
    Interval extra = interval_max(interval_subtract(starts.value, runs.value), point(0.0));
    Interval volts = interval_subtract(node->end_v, interval_multiply(extra, node->supply.hot_ohm));
    work_record(work, FIGURE_SURGE_VOLTAGE, thing, NULL, interval_max(volts, point(0.0)),
                "end voltage - ({surge-current} - {current}) x resistance of bank and copper");
}

static bool may_surge(const Entity *thing)
{
    PropId prop = surge_prop(thing);
    return prop != PROP_NONE && entity_states(thing, prop) && !(thing->flags & (ENTITY_DROPPED | ENTITY_AC));
}

void power_surge_currents(Power *power)
{
    const Model *model = power->model;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        const Entity *thing = model->feed_order[i];
        if (may_surge(thing)) {
            const Figure *surge = record_surge_current(power, thing);
            power_note_surge(power, thing, surge, property_value(entity_property(thing, surge_prop(thing)), 1));
        }
    }
}

void power_surge_voltages(Power *power)
{
    const Model *model = power->model;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        const Entity *thing = model->feed_order[i];
        if (may_surge(thing)) {
            record_surge_voltage(power, thing, figure_find(power->work->figures, thing, FIGURE_SURGE_CURRENT, NULL));
        }
    }
}

/* Figures */

static Interval fault_in(Interval volts, Interval ohm)
{
    double high = fault_current_a(volts.high, ohm.low, 0.0);
    double low = isfinite(ohm.high) ? fault_current_a(volts.low, ohm.high, 0.0) : 0.0;
    return interval_corners(low, high);
}

/* What stands between the source and the device. */
static Interval ohm_before_device(const Cable *cable, Supply before)
{
    const Value *distance = property_value(cable->protect, 3);
    Interval lead = distance->kind == VALUE_QUANTITY ? (Interval){distance->u.quantity.low, distance->u.quantity.high}
                                                     : point(0.0);
    return interval_add(before.cold_ohm, copper(cable, lead, cold_celsius));
}

/*
 * Where a short circuit in a cable is fed from: what gives it its power, but of what makes power the end that the bank is on;
 * its device stands there.
 */
static const Entity *fed_from(const Cable *cable)
{
    return cable->feed->maker ? cable->feed->taker : cable->feed->giver;
}

/* The bank from which a short circuit behind a cable's device would draw; NULL where what converts power limits it. */
static const Entity *bank_of(const Power *power, const Cable *cable)
{
    const Entity *from = fed_from(cable);
    const Entity *source = from != NULL ? power_node(power, from)->source : NULL;
    bool limited = source == NULL || source->kind != KIND_BANK || cable->feed->taker->flags & ENTITY_AC || (!cable->feed->maker && turns_power(from)) ||
                   power_node(power, from)->supply.cut;
    return limited ? NULL : source;
}

/* What feeds a short circuit through a cable's device: not what comes by that very cable from its other end. */
static Supply supply_at_device(const Power *power, const Cable *cable)
{
    return supply_reached(power_node(power, fed_from(cable))->supply, cable->reached);
}

double power_greatest_fault(Power *power, const Cable *cable)
{
    const Entity *bank = bank_of(power, cable);
    Supply before = bank != NULL ? supply_at_device(power, cable) : (Supply){.known = false};
    if (!before.known) {
        return 0.0;
    }
    return fault_in(before.volts, ohm_before_device(cable, before)).high + made_before(power, cable, bank).high;
}

/* A short circuit of copper in which there is a mistake is not computed before that is mended. */
static void use_supply(Work *work, const Entity *source, Supply before)
{
    use_figure(work, figure_find(work->figures, source, FIGURE_SHORT_CIRCUIT, NULL));
    if (before.known && before.waits) {
        use_waiting(work);
    }
    if (before.lacks != NULL && before.lacks != source) {
        use_figure(work, figure_find(work->figures, before.lacks, FIGURE_SHORT_CIRCUIT, NULL));
    }
}

/* The other banks, and whatever does not say whether it joins them. */
static void use_reached(Work *work, const Entity *source, const Reached *reached)
{
    for (uint32_t i = 0; reached != NULL && i < reached->count; i++) {
        const Entity *thing = reached->things[i];
        if (i >= reached->sources) {
            use_assumption(work, thing, PROP_MAKER_OUTPUTS_APART, 0,
                           (Fact){.what = "whether it joins what it feeds: nought or one", .high = 1.0, .unit = UNIT_ALONE(UNIT_NONE),
                                  .source = "it does not say whether its outputs are apart"});
        } else if (thing != source && thing->kind == KIND_BANK) {
            use_figure(work, figure_find(work->figures, thing, FIGURE_SHORT_CIRCUIT, NULL));
        }
    }
    for (uint32_t i = 0; reached != NULL && i < reached->unsaid; i++) {
        use_away_unsaid(work, reached->things[reached->count + i]);
    }
}

static void record_fault(Power *power, const Cable *cable, const Entity *source, Supply before)
{
    Work *work = power->work;
    Interval made = made_before(power, cable, source);
    Interval current = point(0.0);
    work_begin(work);
    use_supply(work, source, before);
    use_reached(work, source, reached_at(power, cable, source));
    if (before.known && before.unsaid != NULL) {
        use_away_unsaid(work, before.unsaid);
    }
    if (cable->size != NULL && cable->size->state == STATE_WAITING) {
        use_waiting(work); /* a part of it lies before the device */
    }
    if (before.known) {
        Interval ohm = ohm_before_device(cable, before);
        use_fact(work, before.banks > 1 ? "resistance of all banks that reach it and of the copper up to the device, at 20 C"
                                        : "resistance of the bank and of the copper up to the device, at 20 C",
                 ohm, UNIT_ALONE(UNIT_MOHM), "the stated or chosen sizes, the bank by its short-circuit current");
        current = fault_in(before.volts, ohm);
    }
    if (made.high > 0.0) {
        use_fact(work, "what makes power adds", made, UNIT_ALONE(UNIT_A),
                 "outputs; alternators 1.2 times: 33 CFR 183.460(b); common practice, no source");
        current = interval_add(current, made);
    }
    work_record(work, FIGURE_FAULT_CURRENT, cable->subject, cable->at, current,
                made.high > 0.0 ? "open-circuit voltage / resistance, from {short-circuit-current} and the copper, and what is made on top"
                                : "open-circuit voltage / resistance, from {short-circuit-current} and the copper");
}

static void record_least_fault(Power *power, const Cable *cable, const Entity *source, Supply before)
{
    Work *work = power->work;
    const PowerNode *bank = power_node(power, fed_from(cable)); /* the lowest of all banks that reach it */
    Interval current = point(0.0);
    work_begin(work);
    use_supply(work, source, before);
    use_feed_value(work, cable->feed, PROP_FEED_RUN, 0);
    use_figure(work, cable->size);
    if (before.known && bank->least_v.low > 0.0) {
        Interval own = own_copper(cable, CABLE_WORKING_CELSIUS);
        Interval ohm = interval_add(before.hot_ohm, own);
        use_fact(work, "lowest voltage of its source", bank->least_v, UNIT_ALONE(UNIT_V), bank->least_source);
        use_fact(work, "resistance of the bank at its greatest and of the copper to the far end, at 50 C", ohm,
                 UNIT_ALONE(UNIT_MOHM), "the stated or chosen sizes; a bank's usual resistance from memory");
        current = fault_in(bank->least_v, ohm);
    }
    work_record(work, FIGURE_LEAST_FAULT, cable->subject, cable->at, current, "voltage / resistance of bank and copper");
}

/* The device to buy for a rating that was left to the program. */
static void say_class(const Power *power, Cable *cable)
{
    if (cable->protection != NULL && cable->protection->state == STATE_KNOWN && cable->class != PROTECTION_NEC_SERIES &&
        property_value(cable->protect, 2)->kind != VALUE_WORD) {
        const Protection *row = protection_row(cable->class);
        Arena *arena = power->work->figures->arena;
        cable->protection->device = text_format(arena, "%s %s", row->breaker ? "breaker" : "fuse", row->word);
        const char *why = cable->rating_remark;
        cable->protection->remark = text_format(arena, "%s%sa %s breaks the short circuit behind it", why != NULL ? why : "",
                                                why != NULL ? "; " : "", cable->protection->device);
    }
}

void power_record_faults(Power *power, Cable *cable)
{
    const Entity *bank = bank_of(power, cable);
    if (bank == NULL) {
        return; /* what converts limits the current itself */
    }
    Supply before = supply_at_device(power, cable);
    record_fault(power, cable, bank, before);
    say_class(power, cable);
    if (cable->feed->guard != NULL) {
        record_least_fault(power, cable, bank, before);
    }
}
