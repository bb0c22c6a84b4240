/*
 * Rules on what reaches the loads: low-voltage, collapse, surge, bus-overloaded.
 */
#include "rules/network.h"

#include "figures/power.h"
#include "rules/upstream.h"
#include "rules/wiring.h"
#include "rules/wiring_rules.h"

#include <math.h>

static const UnitPair amperes = {UNIT_A, UNIT_NONE};
static const UnitPair volts = {UNIT_V, UNIT_NONE};
static const UnitPair seconds = {UNIT_S, UNIT_NONE};

static bool is_load(const Entity *thing)
{
    return is_aboard(thing) && kinds[thing->kind].groups & GROUPS_LOAD;
}

/* low-voltage */

void judge_low_voltage(Judge *judge)
{
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *load = judge->model->entities[i];
        if (!is_load(load) || !entity_states(load, PROP_LOAD_MIN_VOLTAGE) || load->fed == NULL) {
            continue;
        }
        const Figure *end = feed_figure(judge, load->fed, FIGURE_END_VOLTAGE);
        if (end == NULL) {
            judge_waiting(judge);
            continue;
        }
        Side needs = side_value(judge, load, PROP_LOAD_MIN_VOLTAGE, 0);
        Finding *f = judge_at_least(judge, load, place_of(judge, load, PROP_LOAD_MIN_VOLTAGE), side_figure(end), needs);
        if (f != NULL) {
            finding_say(judge, f, "`%s` needs %s and is left with %s when its source is low", say_name(judge, load),
                        say_side(judge, needs), say_figure(judge, end));
            finding_remedy(judge, f, "a thicker `wire` on the way to it, or a `converter` of its own");
        }
    }
}

/* collapse */

/* A voltage below which nothing works at all: the figure is 0 where there is no solution. */
static const double hardly_any = 1e-3;

static bool may_have_collapsed(const Figure *end)
{
    return end != NULL && end->state == STATE_KNOWN && end->low <= hardly_any;
}

static bool has_collapsed(const Figure *end)
{
    return may_have_collapsed(end) && end->high <= hardly_any;
}

void judge_collapse(Judge *judge, const Feed *feed)
{
    const Figure *end = feed_figure(judge, feed, FIGURE_END_VOLTAGE);
    const Entity *giver = feed->giver;
    if (end == NULL || feed->maker) {
        return;
    }
    if (end->state != STATE_KNOWN) {
        judge_gives_way(judge); /* what is missing or waits is told by wire-drop */
        return;
    }
    const Figure *before = giver != NULL && giver->fed != NULL ? feed_figure(judge, giver->fed, FIGURE_END_VOLTAGE) : NULL;
    if (has_collapsed(before)) {
        judge_gives_way(judge); /* it begins further up */
        return;
    }
    Side left = side_figure(end);
    left.value.high = may_have_collapsed(before) ? INFINITY : left.value.high; /* it may: then not here */
    Finding *f = feed_at_least(judge, feed, PROP_FEED_WIRE, left, side_number(hardly_any, volts));
    if (f != NULL) {
        finding_say(judge, f, "more power is asked through the cable of %s than it can bring: the voltage collapses",
                    feed_name(judge, feed));
        finding_here(judge, f, "%s, %s", say_figure(judge, feed_figure(judge, feed, FIGURE_WIRE_SIZE)),
                     say_side(judge, side_block_value(judge, feed->subject, feed->block, feed_prop(feed, PROP_FEED_RUN), 0)));
        remedy_carrying(judge, f, feed, feed_drop_limit(judge->model, feed, judge->basis).share);
    }
}

/* surge */

static PropId surge_prop(const Entity *thing)
{
    return thing->kind == KIND_INVERTER ? PROP_INVERTER_SURGE : PROP_LOAD_SURGE;
}

static double carried_a(ProtectionClass class, double rating_a, double time_s)
{
    return carries_surely(class, rating_a, time_s).amps;
}

/* The next size of its class that lets something start; the cable has to bear it too. */
static void remedy_lets_start(Judge *judge, Finding *f, const Feed *where, double starts_a, double lasts_s)
{
    const Figure *device = feed_figure(judge, where, FIGURE_PROTECTION);
    ProtectionClass class = device_class(feed_property(where, PROP_FEED_PROTECT), device->low, false);
    double rating_a = rating_that_carries_a(class, device->low, starts_a, lasts_s);
    if (isfinite(rating_a) && isfinite(starts_a)) {
        const Entity *thing = where->taker; /* what `protect-large` asks of it, too */
        Side rated = side_value(judge, thing, PROP_SWITCH_RATED, 0);
        bool small = thing->kind == KIND_SWITCH && !feed_is_cranking(where) && !feed_lends_start(where) && !has_starter_behind(judge->model, thing) &&
                     side_is_known(rated) && rated.value.low < rating_a;
        finding_remedy(judge, f, "`%s %s %s %s%s` for %s, and a cable that it may protect%s", device_word(where), say_number(judge, rating_a, amperes),
                       protection_row(class)->breaker ? "breaker" : "fuse", protection_row(class)->word,
                       stated_place(judge, feed_property(where, PROP_FEED_PROTECT)), feed_name(judge, where),
                       !small ? "" : text_format(judge->arena, ", and `%s` rated for as much", say_name(judge, thing)));
    } else {
        finding_remedy(judge, f, "a slower or larger device for %s, and a cable that it may protect", feed_name(judge, where));
    }
}

static void judge_surge_device(Judge *judge, const Entity *thing, const Figure *surge, const Feed *where)
{
    const Figure *device = feed_figure(judge, where, FIGURE_PROTECTION);
    bool nearest = where == thing->fed->guard;
    if (device == NULL || device->state != STATE_KNOWN) {
        return; /* wire-unprotected tells */
    }
    const Value *lasts = property_value(entity_property(thing, surge_prop(thing)), 1);
    Interval time_s = lasts->kind == VALUE_QUANTITY ? (Interval){lasts->u.quantity.low, lasts->u.quantity.high}
                                                    : point(USUAL_SURGE_SECONDS);
    const Property *protect = feed_property(where, PROP_FEED_PROTECT);
    ProtectionClass class = device_class(protect, device->high, false);
    DeviceLimit limit = carries_surely(class, device->high, time_s.high);
    Side carries = side_figure(device);
    carries.value = device_numbers(protect, device, false, carried_a, time_s.high, time_s.low);
    Finding *f = judge_at_most(judge, thing, place_of(judge, thing, surge_prop(thing)), side_figure(surge), carries);
    if (f != NULL) {
        finding_at(f, nearest ? NULL : where->taker);
        finding_rests_on(judge, f, thing, surge_prop(thing));
        finding_say(judge, f, "`%s` takes %s for %s while it starts, and the %s device %s%s surely carries only %s so long",
                    say_name(judge, thing), say_figure(judge, surge), say_side(judge, side_interval(time_s, seconds)),
                    say_figure(judge, device), nearest ? "before it" : "of ", nearest ? "" : feed_name(judge, where),
                    say_side(judge, side_interval(carries.value, amperes)));
        finding_note(judge, f, feed_place(judge, where, PROP_FEED_PROTECT), "%s: %s, %s", protection_row(class)->word,
                     limit.source, evidence_word(limit.evidence));
        remedy_lets_start(judge, f, where, surge->high, time_s.high);
    }
}

/* Whether the way up ends there: it makes the power, or nobody can tell. */
static bool gives_by_itself(const Entity *giver)
{
    return giver == NULL || giver->flags & (ENTITY_DROPPED | ENTITY_LOOP) || giver->kind == KIND_BANK || turns_power(giver);
}

/* Devices on the way from a source, each once. */
typedef struct Way {
    const Feed *devices[32]; /* more than any boat has one behind the other */
    int count;
} Way;

static void add_device(Way *way, const Feed *feed)
{
    for (int i = 0; i < way->count; i++) {
        if (way->devices[i] == feed) {
            return;
        }
    }
    if (way->count < (int)(sizeof way->devices / sizeof way->devices[0])) {
        way->devices[way->count++] = feed;
    }
}

/* From a feed up to what makes the power, by all ways that the switches between may stand. */
static void find_devices(Way *way, const Feed *feed, int depth)
{
    enum { DEEPEST = 64 }; /* longer than any chain of feeds aboard */
    const Entity *giver = feed->giver;
    if (feed->guard == feed) {
        add_device(way, feed);
    }
    if (depth > DEEPEST || gives_by_itself(giver)) {
        return;
    }
    for (const Feed *before = giver->fed; before != NULL; before = before->next) {
        find_devices(way, before, depth + 1);
    }
}

/* What flows while it starts comes through every device from the source on. */
static void judge_surge_devices(Judge *judge, const Entity *thing, const Figure *surge)
{
    Way way = {.count = 0};
    find_devices(&way, thing->fed, 0);
    for (int i = 0; i < way.count; i++) {
        judge_surge_device(judge, thing, surge, way.devices[i]);
    }
}

static void judge_surge_voltage(Judge *judge, const Entity *thing)
{
    const Figure *left = figure_of(judge, thing, FIGURE_SURGE_VOLTAGE);
    if (left == NULL || !is_load(thing) || !entity_states(thing, PROP_LOAD_MIN_VOLTAGE)) {
        return;
    }
    Side needs = side_value(judge, thing, PROP_LOAD_MIN_VOLTAGE, 0);
    Finding *f = judge_at_least(judge, thing, place_of(judge, thing, surge_prop(thing)), side_figure(left), needs);
    if (f != NULL) {
        finding_about(f, PROP_LOAD_MIN_VOLTAGE);
        finding_say(judge, f, "while it starts `%s` is left with %s, and it needs %s", say_name(judge, thing),
                    say_figure(judge, left), say_side(judge, needs));
        finding_remedy(judge, f, "a thicker `wire` on the way to it, or a larger bank");
    }
}

/* A device has to let a starter crank: what it surely carries meanwhile. NULL where it does, or where that is not known. */
static Finding *judge_lets_crank(Judge *judge, const Entity *subject, Span place, const Feed *where, const Figure *starter, Side *carries)
{
    const Figure *device = where != NULL ? feed_figure(judge, where, FIGURE_PROTECTION) : NULL;
    if (device == NULL || device->state != STATE_KNOWN) {
        return NULL;
    }
    const Property *protect = feed_property(where, PROP_FEED_PROTECT);
    *carries = side_figure(device);
    carries->value = device_numbers(protect, device, false, carried_a, CRANKS_SECONDS, CRANKS_SECONDS);
    return judge_at_most(judge, subject, place, side_figure(starter), *carries);
}

static void note_lets_crank(Judge *judge, Finding *f, const Feed *where)
{
    const Figure *device = feed_figure(judge, where, FIGURE_PROTECTION);
    const Property *protect = feed_property(where, PROP_FEED_PROTECT);
    ProtectionClass class = device_class(protect, isfinite(device->high) ? device->high : device->low, false);
    DeviceLimit low = carries_surely(class, device->low, CRANKS_SECONDS);
    finding_note(judge, f, feed_place(judge, where, PROP_FEED_PROTECT), "%s: %s, %s", protection_row(class)->word,
                 low.source, evidence_word(low.evidence));
}

/* The next device on the way to a source, by the first feed of each thing; NULL: there is none. */
static const Feed *device_above(const Feed *where)
{
    const Entity *giver = where->giver;
    return gives_by_itself(giver) || giver->fed == NULL ? NULL : giver->fed->guard;
}

/* A device that somebody has put in the way of a starter: it need not be there. */
static void judge_cranking_device(Judge *judge, const Entity *engine, const Feed *where)
{
    const Figure *starter = feed_figure(judge, engine->fed, FIGURE_CURRENT);
    bool nearest = where == engine->fed->guard;
    Side carries;
    Finding *f = judge_lets_crank(judge, engine, place_of(judge, engine, PROP_ENGINE_STARTER), where, starter, &carries);
    if (f != NULL) {
        finding_at(f, nearest ? NULL : where->taker);
        finding_say(judge, f, "the starter of `%s` takes %s, and the %s device %s%s surely carries only %s for %s",
                    say_name(judge, engine), say_figure(judge, starter), say_figure(judge, feed_figure(judge, where, FIGURE_PROTECTION)),
                    nearest ? "before it" : "of ", nearest ? "" : feed_name(judge, where),
                    say_side(judge, side_interval(carries.value, amperes)), say_number(judge, CRANKS_SECONDS, seconds));
        note_lets_crank(judge, f, where);
        finding_remedy(judge, f, "no device in the main feed of the starter, which needs none, or a larger one");
    }
}

/* Whether the device is told of with an engine itself. */
static bool is_told_with_engine(const Judge *judge, const Feed *device)
{
    for (const Entity *e = judge->model->first_of_kind[KIND_ENGINE]; e != NULL; e = e->next_of_kind) {
        bool starts = is_aboard(e) && is_cranked(e) && e->fed != NULL && entity_states(e, PROP_ENGINE_STARTER);
        for (const Feed *where = starts ? e->fed->guard : NULL; where != NULL; where = device_above(where)) {
            if (where == device) {
                return true;
            }
        }
    }
    return false;
}

/*
 * A switch of several sources in the way of a starter, or that lends one bank to the starter of another: an engine has to start
 * by each of its ways, and a device in one of them may let none by.
 */
static void judge_lent_start(Judge *judge, const Entity *tie)
{
    const Figure *starter = figure_of(judge, tie, FIGURE_CRANKING);
    bool lends = starter != NULL && tie->fed != NULL && tie->fed->next != NULL;
    for (const Feed *feed = tie->fed; feed != NULL && lends; feed = feed->next) {
        const Feed *where = feed->guard;
        if (where != NULL && is_told_with_engine(judge, where)) {
            continue;
        }
        Side carries;
        Finding *f = judge_lets_crank(judge, tie, place_of(judge, tie, PROP_FEED_FED_BY), where, starter, &carries);
        if (f == NULL) {
            continue;
        }
        finding_at(f, feed->giver);
        finding_say(judge, f, "an engine that is started by way of `%s` takes %s through the %s device of %s, which surely carries only %s for %s",
                    say_name(judge, tie), say_figure(judge, starter), say_figure(judge, feed_figure(judge, where, FIGURE_PROTECTION)),
                    feed_name(judge, where), say_side(judge, side_interval(carries.value, amperes)),
                    say_number(judge, CRANKS_SECONDS, seconds));
        note_lets_crank(judge, f, where);
        if (!remedy_lent(judge, f, where)) {
            remedy_lets_start(judge, f, where, starter->high, CRANKS_SECONDS);
        }
    }
}

/* While a starter of its bank works. */
static void judge_while_cranked(Judge *judge, const Entity *load)
{
    const Figure *left = figure_of(judge, load, FIGURE_CRANKING_VOLTAGE);
    if (left == NULL) {
        return;
    }
    Side needs = side_value(judge, load, PROP_LOAD_MIN_VOLTAGE, 0);
    Finding *f = judge_at_least(judge, load, place_of(judge, load, PROP_LOAD_MIN_VOLTAGE), side_figure(left), needs);
    if (f != NULL) {
        finding_about(f, PROP_ENGINE_STARTER);
        finding_say(judge, f, "while an engine is cranked from its bank `%s` is left with %s, and it needs %s", say_name(judge, load),
                    say_figure(judge, left), say_side(judge, needs));
        finding_remedy(judge, f, "a bank of its own for the starter, or a `converter` before it");
    }
}

void judge_surge(Judge *judge)
{
    for (const Entity *e = judge->model->first_of_kind[KIND_ENGINE]; e != NULL; e = e->next_of_kind) {
        if (is_aboard(e) && is_cranked(e) && e->fed != NULL && entity_states(e, PROP_ENGINE_STARTER)) {
            for (const Feed *where = e->fed->guard; where != NULL; where = device_above(where)) {
                judge_cranking_device(judge, e, where);
            }
        }
    }
    for (const Entity *tie = judge->model->first_of_kind[KIND_SWITCH]; tie != NULL; tie = tie->next_of_kind) {
        if (is_aboard(tie)) {
            judge_lent_start(judge, tie);
        }
    }
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *thing = judge->model->entities[i];
        bool can = thing->kind == KIND_INVERTER ? is_aboard(thing) : is_load(thing);
        if (is_load(thing)) {
            judge_while_cranked(judge, thing);
        }
        if (!can || thing->fed == NULL || !entity_states(thing, surge_prop(thing))) {
            continue;
        }
        const Figure *surge = figure_of(judge, thing, FIGURE_SURGE_CURRENT);
        if (surge != NULL) {
            judge_surge_devices(judge, thing, surge);
            judge_surge_voltage(judge, thing);
        }
    }
}

/* bus-overloaded */

void judge_bus_overloaded(Judge *judge, const Entity *thing)
{
    PropId rated = rating_prop(thing);
    const Figure *brought = figure_of(judge, thing, FIGURE_BROUGHT);
    if (brought == NULL || !entity_states(thing, rated)) {
        return; /* nothing is brought, or nothing is claimed */
    }
    Side rating = side_value(judge, thing, rated, 0);
    Finding *f = judge_at_least(judge, thing, place_of(judge, thing, rated), rating, side_figure(brought));
    if (f != NULL) {
        finding_say(judge, f, "`%s` is rated %s but its sources can bring %s to it at once", say_name(judge, thing),
                    say_side(judge, rating), say_figure(judge, brought));
        remedy_at_least(judge, f, "rated", brought);
    }
}
