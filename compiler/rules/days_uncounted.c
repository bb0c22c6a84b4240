/*
 * Two rules of the family rules_days: uncounted and joined-uncounted, what no day counts.
 */
#include "figures/water.h"
#include "rules/days.h"
#include "rules/upstream.h"

/* uncounted */

static bool goes_anywhere(const Model *model)
{
    for (const Entity *day = model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        if (entity_states(day, PROP_DAY_DISTANCE)) {
            return true;
        }
    }
    return false;
}

/* What runs for moments, or on no such day: one that leaves it out is as good a day. */
static bool is_left_out_rightly(const Model *model, const Entity *load)
{
    switch (load->kind) {
    case KIND_NAV_LIGHT:
        return !goes_anywhere(model);
    case KIND_WINDLASS:
    case KIND_THRUSTER:
    case KIND_HORN:
    case KIND_TOILET:
    case KIND_BILGE_PUMP:
        return true;
    default:
        return false;
    }
}

static bool runs_by_climate(const Judge *judge, const Entity *load)
{
    for (const Entity *day = judge->model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        if (running_time(judge->figures, load, day) != NULL) {
            return true;
        }
    }
    return false;
}

/* What an element takes for a day's showers is counted. */
static bool runs_for_showers(const Judge *judge, const Entity *heater)
{
    for (const Entity *day = judge->model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        if (element_time(judge->figures, heater, day) != NULL) {
            return true;
        }
    }
    return false;
}

static bool is_uncounted(const Judge *judge, const Upstream *upstream, const Entity *load)
{
    PropId drawn = load->kind == KIND_WATER_HEATER ? PROP_WATER_HEATER_ELEMENT : PROP_LOAD_DRAW;
    bool draws = is_aboard(load) && entity_states(load, drawn);
    Side draw = draws ? side_value(judge, load, drawn, 0) : side_number(0.0, UNIT_ALONE(UNIT_A));
    return draw.value.high > 0.0 && !states_use(load) && !is_left_out_rightly(judge->model, load) && takes_from_a_bank(upstream, load) &&
           !runs_by_climate(judge, load) && !runs_for_showers(judge, load);
}

/* How long it runs follows from how cold the day is, and some day does not say that. */
static bool waits_for_temperature(const Judge *judge, const Entity *load)
{
    const Entity *day = judge->model->first_of_kind[KIND_DAY];
    while (day != NULL && entity_states(day, PROP_DAY_TEMPERATURE)) {
        day = day->next_of_kind;
    }
    PropId serves = load->kind == KIND_HEATER ? PROP_HEATER_SERVES : PROP_COOLER_SERVES;
    return (load->kind == KIND_HEATER || load->kind == KIND_COOLER) && entity_states(load, serves) && day != NULL;
}

/* Hours of an element that is none count nothing, and nobody would see it. */
static void judge_no_element(Judge *judge)
{
    for (const Entity *heater = first_aboard(judge->model, KIND_WATER_HEATER); heater != NULL; heater = next_aboard(heater)) {
        if (!entity_states(heater, PROP_WATER_HEATER_USE) || entity_states(heater, PROP_WATER_HEATER_ELEMENT)) {
            continue;
        }
        if (heater->flags & ENTITY_PARTLESS) {
            judge_waiting(judge);
            continue;
        }
        Finding *f = judge_broken(judge, heater, place_of(judge, heater, PROP_WATER_HEATER_USE));
        finding_about(f, PROP_WATER_HEATER_USE);
        finding_say(judge, f, "`%s` states the hours of an element, and no `element`: this `use` counts nothing", say_name(judge, heater));
        finding_remedy(judge, f, "`element` with its power");
        finding_remedy(judge, f, "no `use`, if the engine alone heats it");
    }
}

/* A day that states its `gas` says all of it. */
static void judge_gas_twice(Judge *judge, const Entity *appliance)
{
    for (const Property *use = entity_property(appliance, PROP_GAS_APPLIANCE_USE); use != NULL; use = block_next(&appliance->block, use)) {
        const Entity *day = value_entity(property_value(use, 0));
        if (day == NULL || !entity_states(day, PROP_DAY_GAS)) {
            continue;
        }
        Finding *f = judge_broken(judge, appliance, property_span(judge->model, use));
        finding_at(f, day);
        finding_say(judge, f, "`%s` states its `gas`, which is all that it takes: this `use` of `%s` counts nothing there",
                    say_name(judge, day), say_name(judge, appliance));
        finding_remedy(judge, f, "no `gas` in `%s`, if what the appliances burn is to be counted", say_name(judge, day));
        finding_remedy(judge, f, "no `use` of that day");
    }
}

/* Where one says how long it burns, what the others burn counts too. */
static void judge_gas_uncounted(Judge *judge)
{
    const Model *model = judge->model;
    bool counts = false;
    for (const Entity *e = first_aboard(model, KIND_GAS_APPLIANCE); e != NULL; e = next_aboard(e)) {
        counts = counts || states_use(e);
        judge_gas_twice(judge, e);
    }
    for (const Entity *e = first_aboard(model, KIND_GAS_APPLIANCE); counts && e != NULL; e = next_aboard(e)) {
        if (states_use(e)) {
            continue;
        }
        if (e->flags & ENTITY_PARTLESS) {
            judge_waiting(judge);
            continue;
        }
        Finding *f = judge_broken(judge, e, place_of_name(judge, e));
        finding_say(judge, f, "`%s` states no `use`: no day counts the gas that it burns, as they do that of others", say_name(judge, e));
        finding_remedy(judge, f, "a `use` for each day, `use DAY 0 h` on those that it is not used on");
    }
}

void judge_uncounted(Judge *judge)
{
    judge_no_element(judge);
    judge_gas_uncounted(judge);
    enum { NAMED = 3 };
    const Model *model = judge->model;
    const Entity *named[NAMED];
    uint32_t count = 0;
    const Upstream *upstream = upstream_of(judge);
    for (uint32_t i = 0; i < model->entity_count && model->first_of_kind[KIND_DAY] != NULL; i++) {
        if (is_uncounted(judge, upstream, model->entities[i])) {
            if (count < NAMED) {
                named[count] = model->entities[i];
            }
            count++;
        }
    }
    if (count == 0) {
        if (!judge_uneven(judge)) {
            judge_holds(judge);
        }
        return; /* one of both: what the first says mends the second */
    }
    Finding *f = judge_broken(judge, NULL, place_of_name(judge, named[0]));
    finding_say(judge, f, "%s %s no `use`: no day counts what %s", say_names(judge, named, count < NAMED ? count : NAMED, count),
                count == 1 ? "states" : "state", count == 1 ? "it takes from the bank" : "they take from the banks");
    for (uint32_t i = 0; i < count && i < NAMED; i++) {
        if (waits_for_temperature(judge, named[i])) {
            finding_remedy(judge, f, "`temperature` of each day, from which follows how long `%s` runs", say_name(judge, named[i]));
            break;
        }
    }
    finding_remedy(judge, f, "a `use` for each day, `use DAY 0 h` on those that it is not used on");
}

/* joined-uncounted */

static bool has_days(const Judge *judge)
{
    return judge->model->first_of_kind[KIND_DAY] != NULL || judge->model->first_of_kind[KIND_CRUISE] != NULL;
}

static bool is_charged_itself(const Upstream *upstream, const Entity *bank)
{
    const Charging *c = upstream->charging[bank->index];
    while (c != NULL && c->turned) {
        c = c->next;
    }
    return c != NULL;
}

/* Of two banks that a switch puts side by side, the one that nothing else charges; NULL where both are charged, or neither. */
static const Entity *charged_by_joint(const Upstream *upstream, const Meeting *m)
{
    bool one = is_charged_itself(upstream, m->one), other = is_charged_itself(upstream, m->other);
    return one == other ? NULL : one ? m->other : m->one;
}

/* Batteries that may be strings of one bank: of one chemistry and voltage, and there for the same. */
static bool are_of_one_kind(const Entity *one, const Entity *other)
{
    Interval volts, other_volts;
    bool same_volts = entity_quantity(one, PROP_BANK_VOLTAGE, 0, &volts) &&
                      entity_quantity(other, PROP_BANK_VOLTAGE, 0, &other_volts) && interval_is_point(volts) && interval_is_point(other_volts) && volts.low == other_volts.low;
    return same_volts && str_equal(entity_word(one, PROP_BANK_CHEMISTRY), entity_word(other, PROP_BANK_CHEMISTRY)) &&
           str_equal(entity_word(one, PROP_BANK_ROLE), entity_word(other, PROP_BANK_ROLE));
}

/* How many banks a switch joins. */
static unsigned banks_of(const Entity *joiner)
{
    unsigned count = 0;
    for (const Feed *feed = joiner->fed; feed != NULL; feed = feed->next) {
        count++;
    }
    return count;
}

/* Whether what a maker feeds hangs on that switch. */
static bool feeds_by_way_of(const Feed *feed, const Entity *at)
{
    enum { DEEPEST = 64 };
    const Entity *thing = feed->taker;
    for (int step = 0; thing != NULL && thing != at && !turns_power(thing) && step < DEEPEST; step++) {
        thing = thing->fed != NULL ? thing->fed->giver : NULL;
    }
    return thing == at;
}

/* What charges by way of a switch that is closed in an emergency alone is at one end of it, and nobody says at which. */
static void judge_end(Judge *judge, const Meeting *m)
{
    for (uint32_t i = 0; i < judge->model->feed_count; i++) {
        const Feed *feed = judge->model->feeds[i];
        if (!feed->maker || !is_aboard(feed->giver) || !feed_brings(feed) || !feeds_by_way_of(feed, m->at)) {
            continue;
        }
        Finding *f = judge_broken(judge, m->at, place_of(judge, feed->giver, PROP_MAKER_FEEDS));
        finding_at(f, feed->giver);
        finding_say(judge, f,
                    "`%s` charges by way of `%s`, which is closed in an emergency alone: it counts for `%s`, and may be on the side "
                    "of `%s`",
                    say_name(judge, feed->giver), say_name(judge, m->at), say_name(judge, m->one), say_name(judge, m->other));
        finding_note(judge, f, place_of(judge, m->at, PROP_FEED_FED_BY), "the first of its banks counts");
        finding_remedy(judge, f, "`feeds %s`, or `feeds %s`, whichever is on its side of `%s`", say_name(judge, m->one),
                       say_name(judge, m->other), say_name(judge, m->at));
    }
}

void judge_joined_uncounted(Judge *judge)
{
    const Upstream *upstream = upstream_of(judge);
    for (const Meeting *m = meetings_of(judge, SOURCES_DIRECT); m != NULL && has_days(judge); m = m->next) {
        const Entity *bank = charged_by_joint(upstream, m), *from = bank == m->one ? m->other : m->one;
        if (m->with_first && str_is(entity_word(m->at, PROP_SWITCH_WORKS_AS), "emergency")) {
            judge_end(judge, m);
        }
        if (!m->with_first || m->at->kind != KIND_SWITCH || !str_is(entity_word(m->at, PROP_SWITCH_WORKS_AS), "parallel")) {
            continue;
        }
        if (bank == NULL) {
            judge_holds(judge);
            continue;
        }
        Finding *f = judge_broken(judge, m->at, place_of(judge, m->at, PROP_FEED_FED_BY));
        finding_at(f, bank);
        finding_say(judge, f, "nothing but `%s` brings `%s` what charges `%s`, and no day counts what passes through such a switch",
                    say_name(judge, m->at), say_name(judge, bank), say_name(judge, from));
        finding_note(judge, f, place_of_name(judge, bank), "in the days nothing charges it");
        finding_remedy(judge, f,
                       "where it closes by itself while `%s` is charged, a `converter` in its place that is `fed-by` that one and `feeds` "
                       "`%s`, of the current that passes as its `output`, with `relay yes`",
                       say_name(judge, from), say_name(judge, bank));
        if (are_of_one_kind(m->one, m->other)) {
            finding_remedy(judge, f, "one bank with `parallel %u` in place of these, if they are alike and always work as one",
                           banks_of(m->at));
        }
    }
}
