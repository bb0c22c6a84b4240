/*
 * Rules on cables: wire-overloaded, wire-unprotected, wire-small.
 */
#include "rules/wiring_rules.h"

#include "figures/power.h"
#include "model/status.h"
#include "physics/ampacity.h"
#include "physics/celsius.h"
#include "rules/ask.h"
#include "rules/upstream.h"
#include "rules/wiring.h"

#include <math.h>

/* wire-overloaded */

/* Air that is as hot as its insulation may become: no thickness of copper helps. */
static bool is_in_heat(const Judge *judge, const Feed *feed, const Figure *ampacity)
{
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    const Conductor *row = size != NULL && size->high > 0.0 ? conductor_find(series_of_unit(size->unit), size->high) : NULL;
    return is_in_no_table(ampacity) && row != NULL && ampacity_table(judge->basis, row, feed_insulation_celsius(feed)) > 0.0;
}

static void tell_heat(Judge *judge, Finding *f, const Feed *feed, const char *what)
{
    static const double best_c = 105.0; /* the best insulation that is sold for boats */
    double stands_c = feed_insulation_celsius(feed);
    finding_say(judge, f, "the air on the way of the cable of %s is as hot as its insulation may become, %s: it can carry nothing; %s",
                feed_name(judge, feed), say_number(judge, stands_c + ZERO_CELSIUS_K, UNIT_ALONE(UNIT_CELSIUS)), what);
    finding_here(judge, f, "%s", say_cable(judge, feed));
    if (stands_c < best_c) {
        finding_remedy(judge, f, "an `insulation` that stands more than the air there, such as 105 C, if that is printed on the cable");
    }
    finding_remedy(judge, f, "another way for it, or the `temperature` that the space really has");
}

/* The first size of its own series that the table knows with that insulation, and by which it carries so much. */
static const Conductor *first_in_table(const Judge *judge, const Figure *size, double celsius, double amps)
{
    const Conductor *row = conductor_find(series_of_unit(size->unit), size->high);
    while (row != NULL && ampacity_table(judge->basis, row, celsius) < fmax(amps, 1e-9)) {
        row = conductor_next(row);
    }
    return row;
}

/* A size or an insulation that the table has no current for; `passes` is what can flow, or what a device lets through. */
static void tell_no_table(Judge *judge, Finding *f, const Feed *feed, const char *passes, double amps)
{
    static const double coolest_c = 60.0; /* the first column of either table */
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    double stands_c = feed_insulation_celsius(feed);
    bool cool = stands_c < coolest_c;
    finding_say(judge, f, cool ? "the table of currents begins with insulation of 60 C, and gives none for the cable of %s; %s"
                               : "the conductors of the cable of %s are thinner than any in the table of currents, which gives none "
                                 "for them; %s",
                feed_name(judge, feed), passes);
    const Conductor *row = first_in_table(judge, size, fmax(stands_c, coolest_c), amps);
    if (row != NULL) {
        finding_remedy(judge, f, "%s", say_wire(judge, feed, row, cool ? coolest_c : 0.0));
    }
    if (cool) {
        finding_remedy(judge, f, "the `insulation` that is printed on the cable; what is sold for boats stands 60 C at least");
    }
}

static void tell_carries(Judge *judge, Finding *f, const Feed *feed, const Figure *flow, bool back)
{
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    const char *flows = back ? "come back through it from what makes power" : "flow";
    if (is_in_heat(judge, feed, ampacity)) {
        tell_heat(judge, f, feed, text_format(judge->arena, "%s can %s", say_figure(judge, flow), flows));
        return;
    }
    if (is_in_no_table(ampacity)) {
        tell_no_table(judge, f, feed, text_format(judge->arena, "%s can %s", say_figure(judge, flow), flows), flow->high);
        finding_here(judge, f, "%s", say_cable(judge, feed));
        return;
    } else {
        finding_say(judge, f, "the cable of %s can carry %s here but %s can %s", feed_name(judge, feed), say_figure(judge, ampacity),
                    say_figure(judge, flow), flows);
    }
    finding_here(judge, f, "%s", say_cable(judge, feed));
    const Figure *device = feed->guard != NULL ? feed_figure(judge, feed->guard, FIGURE_PROTECTION) : NULL;
    bool known = device != NULL && device->state == STATE_KNOWN;
    remedy_size(judge, f, feed, (Interval){flow->low, fmax(flow->high, when_low(judge, feed))},
                known ? device_to_stand(judge, feed, device) : point(0.0));
}

/* What a cable carries by a figure: what loads take, or what makers behind it send back to the bank. */
static Finding *judge_carries(Judge *judge, const Feed *feed, const Figure *flow, bool back)
{
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    Finding *f = feed_at_least(judge, feed, PROP_FEED_WIRE, side_figure(ampacity), side_figure(flow));
    if (f != NULL) {
        tell_carries(judge, f, feed, flow, back);
    }
    return f;
}

/* The device that guards the cable of several things; NULL: there is none, or one load alone, whose cable has to carry it. */
static const Figure *device_of_several(const Judge *judge, const Feed *feed)
{
    const Feed *behind = feed->taker->gives;
    bool several = behind != NULL && (behind->next_of_giver != NULL || behind->taker->gives != NULL);
    const Figure *device = several && feed->guard != NULL ? feed_figure(judge, feed->guard, FIGURE_PROTECTION) : NULL;
    return device != NULL && device->state == STATE_KNOWN && device->high > 0.0 ? device : NULL;
}

/*
 * What loads take. What several take is stopped before it is too much for the cable, where the device that guards it opens
 * first: that it opens, the rule protect-tight tells.
 */
static Finding *judge_load(Judge *judge, const Feed *feed, const Figure *current)
{
    const Figure *device = device_of_several(judge, feed), *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    Answer stopped = device != NULL ? ask_at_least(side_figure(ampacity), side_figure(device)) : ANSWER_NO;
    if (stopped == ANSWER_YES) {
        judge_holds(judge);
        return NULL;
    }
    if (stopped != ANSWER_PERHAPS || ask_at_least(side_figure(ampacity), side_figure(current)) == ANSWER_YES) {
        return judge_carries(judge, feed, current, false);
    }
    Finding *f = feed_at_least(judge, feed, PROP_FEED_WIRE, side_figure(ampacity), side_figure(device));
    if (f != NULL) {
        tell_carries(judge, f, feed, current, false);
        finding_note(judge, f, feed_place(judge, feed->guard, PROP_FEED_PROTECT), "this may open before it is too much");
    }
    return f;
}

/* Whichever asks for more is judged first, and is told alone. */
void judge_wire_overloaded(Judge *judge, const Feed *feed)
{
    judge_cranks(judge, feed);
    if (is_cranked(feed->taker)) {
        return;
    }
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    const Figure *back = figure_brought_back(judge->figures, feed);
    if (is_inverter_feed(judge, feed) && size != NULL && !size->chosen) {
        if (back != NULL) {
            judge_carries(judge, feed, back, true);
        }
        return;
    }
    const Figure *current = feed_figure(judge, feed, FIGURE_CURRENT);
    bool back_first = brings_more(back, current);
    Finding *f =
        back_first ? judge_carries(judge, feed, back, true) : judge_load(judge, feed, current);
    if (f == NULL && back_first) {
        judge_load(judge, feed, current);
    } else if (f == NULL && back != NULL) {
        judge_carries(judge, feed, back, true);
    }
}

/* wire-unprotected */

/* Whether power comes to it, or to what hangs on it, from elsewhere too: a short circuit in the cable before it is fed by that. */
static bool is_fed_elsewhere(const Entity *taker, int depth)
{
    enum { DEEPEST = 16 };
    bool elsewhere = taker->made != NULL || (taker->fed != NULL && taker->fed->next != NULL) || depth == DEEPEST;
    for (const Feed *feed = taker->gives; feed != NULL && !elsewhere; feed = feed->next_of_giver) {
        elsewhere = feed->maker || is_fed_elsewhere(feed->taker, depth + 1);
    }
    return elsewhere;
}

/*
 * The converter that alone feeds it, by way of panels and the like that nothing else feeds: it limits itself, and no more than its
 * output flows into any short circuit behind it. NULL: there is another source, or one that gives what it can.
 */
static const Entity *limited_source(const Feed *feed)
{
    enum { DEEPEST = 16 };
    const Entity *at = feed->maker || feed->taker->flags & ENTITY_LOOP || is_fed_elsewhere(feed->taker, 0) ? NULL : feed->giver;
    for (int depth = 0; at != NULL && at->kind != KIND_CONVERTER && depth < DEEPEST; depth++) {
        at = at->fed != NULL && !is_fed_elsewhere(at, 0) ? at->fed->giver : NULL;
    }
    return at != NULL && at->kind == KIND_CONVERTER && !is_relay(at) && is_aboard(at) ? at : NULL;
}

/* ABYC E-11, from memory: no device where a source that limits itself gives no more than the conductor can carry. */
static bool is_spared_by_its_source(Judge *judge, const Feed *feed, Finding **open)
{
    const Entity *source = limited_source(feed);
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    if (source == NULL || ampacity == NULL || !entity_states(source, PROP_CONVERTER_OUTPUT)) {
        return false;
    }
    Side gives = side_value(judge, source, PROP_CONVERTER_OUTPUT, 0);
    if (!side_is_known(gives) || gives.value.low > ampacity->high) {
        return false;
    }
    *open = feed_at_most(judge, feed, PROP_FEED_WIRE, gives, side_figure(ampacity));
    if (*open != NULL) {
        finding_here(judge, *open, "it can carry %s, and `%s`, which limits itself, gives %s", say_figure(judge, ampacity),
                     say_name(judge, source), say_side(judge, gives));
    }
    return true;
}

/* Between two banks for an emergency start: no clause exempts it, but hardly a boat has a fuse there. What it adds to the message. */
static const char *say_lent(Judge *judge, Finding *f, const Feed *feed)
{
    if (!feed_lends_start(feed)) {
        return "";
    }
    finding_severity(f, SEVERITY_WARNING);
    return text_format(judge->arena, ": `%s` stands between two banks, and this is live from both of its ends; a fuse at each end that "
                                     "lets the starter crank is common practice",
                       say_name(judge, feed->taker));
}

static void no_protection(Judge *judge, const Feed *feed)
{
    Finding *f = NULL;
    if (is_spared_by_its_source(judge, feed, &f) && f == NULL) {
        return;
    }
    f = f != NULL ? f : judge_broken(judge, feed->subject, place_of_name(judge, feed->subject));
    finding_at(f, feed_at(feed));
    finding_say(judge, f, "nothing protects the cable of %s%s", feed_name(judge, feed), say_lent(judge, f, feed));
    note_battery_fuse(judge, f, feed);
    if (feed->maker && is_built_in(feed->giver)) {
        finding_remedy(judge, f, "`feeds` what the starter hangs on, with no `run` and no `wire`, where it charges through the "
                                 "starter's cable");
    }
    if (!remedy_lent(judge, f, feed)) {
        remedy_no_device(judge, f, feed);
    }
}

/* Whether what brings it its power is a mistake, on the way from the source to here: a device may stand before that. */
static bool way_is_mistaken(const Feed *feed)
{
    enum { DEEPEST = 64 };
    for (int depth = 0; depth < DEEPEST; depth++) {
        if (has_mistake(feed->subject, PROP_FEED_FED_BY)) {
            return true;
        }
        if (feed->giver == NULL || feed->giver->fed == NULL || feed->giver->flags & ENTITY_LOOP) {
            return false;
        }
        feed = feed->giver->fed;
    }
    return false;
}

/* An engine that hangs on nobody knows what may crank by way of a cable that leads to other things as well. */
static bool may_crank(const Judge *judge, const Feed *feed)
{
    bool leads_on = feed->taker->gives != NULL || feed->taker->kind == KIND_SWITCH;
    for (const Entity *e = judge->model->first_of_kind[KIND_ENGINE]; e != NULL && leads_on; e = e->next_of_kind) {
        if (is_cranked(e) && has_mistake(e, PROP_FEED_FED_BY)) {
            return true;
        }
    }
    return false;
}

/*
 * What US practice asks of a device below 50 V: no more than the ampacity, or where its load needs more, the next one that is
 * made. The two limits are one, so that it is judged over ranges.
 */
static Side wanted_at_most(const Judge *judge, const Feed *feed, Side ampacity)
{
    Side load = rating_wanted(judge, feed, feed_figure(judge, feed, FIGURE_CURRENT), false);
    const Figure *back = figure_brought_back(judge->figures, feed);
    Side brought = back != NULL ? rating_wanted(judge, feed, back, true) : side_number(0.0, UNIT_ALONE(UNIT_A));
    if (!side_is_known(load) || !side_is_known(brought)) {
        return load;
    }
    Interval wanted = interval_max(load.value, brought.value);
    wanted.high = fmax(wanted.high, when_low(judge, feed));
    Interval made = {next_made(judge, feed, wanted.low), next_made(judge, feed, wanted.high)};
    Side *greater = made.high > ampacity.value.high ? &load : &ampacity;
    greater->value = interval_max(ampacity.value, made);
    return *greater;
}

/* Its own device is no fault; but a smaller one would carry the load and spare the cable. */
static void judge_needless(Judge *judge, const Feed *feed, const Figure *device, const Figure *ampacity)
{
    static const double us_limit_v = 50.0; /* 33 CFR 183.455(c): above it the rule is another */
    Interval volts = nominal_volts(judge, feed);
    Side carries = side_figure(ampacity);
    if (judge->basis != BASIS_US || volts.low <= 0.0 || volts.low >= us_limit_v || device->chosen || !side_is_known(carries)) {
        return;
    }
    Side limit = wanted_at_most(judge, feed, carries);
    if (!side_is_known(limit)) {
        return; /* what flows is not known: told where that is missing */
    }
    Finding *f = feed_at_most(judge, feed, PROP_FEED_PROTECT, side_figure(device), limit);
    if (f == NULL) {
        return;
    }
    if (volts.high >= us_limit_v) {
        finding_may_not_apply(f);
    }
    finding_severity(f, SEVERITY_WARNING);
    bool lends = feed_lends_start(feed); /* a smaller one may open in a start */
    finding_say(judge, f, "the cable of %s can carry %s here and its protection lets %s pass, where %s",
                feed_name(judge, feed), say_figure(judge, ampacity), say_figure(judge, device),
                lends ? "no load asks for so much but for the seconds of a start" : "a smaller one would carry its load");
    finding_note(judge, f, feed_place(judge, feed, PROP_FEED_WIRE), "%s", say_cable(judge, feed));
    if (remedy_lent(judge, f, feed)) {
        return;
    }
    remedy_size(judge, f, feed, (Interval){device->low, device->high}, point(0.0));
    if (isfinite(limit.value.low)) {
        finding_remedy(judge, f, "%s %s%s", device_word(feed),
                       say_number(judge, largest_made(judge, feed, limit.value.low), UNIT_ALONE(UNIT_A)), stated_kind(judge, feed));
    }
}

/*
 * A chosen cable behind a chosen device, where no size carries the load itself: wire-overloaded tells it. What such a device
 * lets pass says nothing, for a thinner cable would be given a smaller one.
 */
static bool is_chosen_in_vain(const Judge *judge, const Feed *feed, const Figure *device, const Figure *ampacity)
{
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE), *current = feed_figure(judge, feed, FIGURE_CURRENT);
    bool chosen = size != NULL && size->chosen && device != NULL && device->chosen;
    return chosen && current != NULL && current->state == STATE_KNOWN && ampacity != NULL && ampacity->state == STATE_KNOWN &&
           ampacity->high < current->low;
}

void judge_wire_unprotected(Judge *judge, const Feed *feed)
{
    if (feed_is_cranking(feed)) {
        return;
    }
    const Property *own = feed_property(feed, PROP_FEED_PROTECT);
    if (own != NULL && own->flags & PROPERTY_BROKEN) {
        judge_waiting(judge);
        return;
    }
    const Feed *where = feed->guard;
    if (where == NULL && (way_is_mistaken(feed) || may_crank(judge, feed))) {
        judge_waiting(judge);
        return;
    }
    if (where == NULL) {
        no_protection(judge, feed);
        return;
    }
    const Figure *device = feed_figure(judge, where, FIGURE_PROTECTION);
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    if (where == feed && is_chosen_in_vain(judge, feed, device, ampacity)) {
        judge_gives_way(judge);
        return;
    }
    Side limit = allowed_by(judge, feed);
    Finding *f = feed_at_most(judge, feed, own != NULL ? PROP_FEED_PROTECT : PROP_FEED_WIRE,
                              side_figure(device), limit);
    if (f == NULL && where == feed) {
        judge_needless(judge, feed, device, ampacity);
    }
    if (f == NULL) {
        return;
    }
    const char *which = where == feed ? "protection" : "nearest protection upstream";
    if (is_in_heat(judge, feed, ampacity)) {
        tell_heat(judge, f, feed, text_format(judge->arena, "its %s lets %s pass", which, say_figure(judge, device)));
        return;
    }
    if (is_in_no_table(ampacity)) {
        tell_no_table(judge, f, feed, text_format(judge->arena, "%s passes its %s", say_figure(judge, device), which), device->high);
    } else {
        finding_say(judge, f, "the cable of %s can carry %s here but its %s lets %s pass%s", feed_name(judge, feed),
                    say_figure(judge, ampacity), which, say_figure(judge, device), say_lent(judge, f, feed));
    }
    if (own != NULL && feed_property(feed, PROP_FEED_WIRE) != NULL) {
        finding_note(judge, f, feed_place(judge, feed, PROP_FEED_WIRE), "%s", say_cable(judge, feed));
    } else if (where != feed) {
        finding_here(judge, f, "%s", say_cable(judge, feed));
        finding_note(judge, f, feed_place(judge, where, PROP_FEED_PROTECT), "this is the nearest");
    }
    if (is_in_no_table(ampacity)) {
        return;
    }
    if (where != feed || !remedy_lent(judge, f, feed)) {
        remedy_device_or_size(judge, f, feed, device);
    }
}

/*
 * The cable of a switch of which nothing is stated: without a length nobody knows whether it asks for a device. In the way from a
 * bank to its own starter it asks for none.
 */
void judge_switch_unprotected(Judge *judge, const Entity *thing)
{
    for (const Feed *feed = thing->fed; feed != NULL; feed = feed->next) {
        if (!switch_cable_is_unstated(feed) || feed_is_cranking(feed) || (feed_lends_start(feed) && feed != thing->fed)) {
            continue;
        }
        if (has_mistake(thing, PROP_FEED_RUN) || may_crank(judge, feed)) {
            judge_waiting(judge);
            continue;
        }
        Finding *f = judge_open(judge, thing, place_of(judge, thing, PROP_FEED_FED_BY), NULL, PROP_NONE);
        finding_hangs_on(judge, f, thing, PROP_NONE, text_format(judge->arena, "%s.run", say_name(judge, thing)));
        finding_at(f, feed->giver);
        finding_say(judge, f, "no `run` says how far `%s` is from `%s`, and nothing protects the cable between them%s", say_name(judge, thing),
                    say_name(judge, feed->giver), say_lent(judge, f, feed));
        finding_remedy(judge, f, "its `run` and `wire`, and `protect` close to `%s`", say_name(judge, feed->giver));
        finding_remedy(judge, f, feed->giver->kind == KIND_BANK ? "`run 0 m`, if it is bolted to the post of the battery itself"
                                                                : "`run 0 m`, if it sits in what makes the power");
    }
}

/* wire-small */

/* One of several conductors in a sheath of their own: each holds the others up. A conduit is a tube for single ones. */
static bool is_multiconductor(const Feed *feed)
{
    const Value *sheath = property_value(feed_property(feed, PROP_FEED_SHEATH), 0);
    return sheath->kind == VALUE_WORD && str_is(sheath->u.word, "sheathed");
}

void judge_wire_small(Judge *judge, const Feed *feed)
{
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    if (size == NULL || size->chosen) {
        return;
    }
    bool sheathed = is_multiconductor(feed);
    const Conductor *least = conductor_minimum(judge->basis, sheathed);
    double area = least->area_m2;
    if (size->unit.unit == UNIT_SAE && least->series == SERIES_AWG) {
        const Conductor *sae =
            conductor_find_gauge(SERIES_SAE, least->gauge); /* by number, as the clause counts */
        area = sae != NULL ? sae->area_m2 : area;
    }
    Finding *f = feed_at_least(judge, feed, PROP_FEED_WIRE, side_figure(size), side_number(area, size->unit));
    if (f != NULL) {
        finding_say(judge, f, "%s is thinner than any conductor run %s may be, which is %s",
                    say_figure(judge, size), sheathed ? "in a sheath" : "on its own", least->word);
        finding_remedy(judge, f, "%s", say_wire(judge, feed, least, 0.0));
    }
}
