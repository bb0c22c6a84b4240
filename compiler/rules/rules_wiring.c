/*
 * Cables, their protection, and the panels that they feed. The figures are those of each feed; the limits are published
 * ones (compiler/tables/). What starts an engine is exempt where the clauses exempt it.
 */
#include "rules/families.h"
#include "rules/upstream.h"
#include "rules/wiring.h"

#include "figures/power.h"
#include "physics/ampacity.h"
#include "physics/drop.h"
#include "physics/protection.h"

#include <math.h>

static const UnitPair amperes = {UNIT_A, UNIT_NONE};
static const UnitPair percent = {UNIT_PERCENT, UNIT_NONE};
static const UnitPair metres = {UNIT_M, UNIT_NONE};

/* What lessens a cable's ampacity, as is to be seen at the wire: "2.5 mm2, 60 C insulation, engine space". */
static void show_cable(Judge *judge, Finding *finding, const Feed *feed)
{
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    Buf text;
    buf_init(&text, judge->arena);
    buf_format(&text, "ampacity %s: %s%s", say_figure(judge, ampacity), say_figure(judge, size),
               size->chosen ? " (chosen)" : "");
    for (uint16_t i = 0; i < ampacity->input_count; i++) {
        const Input *input = &ampacity->inputs[i];
        if (input->kind == INPUT_VALUE && input->slot == 2) {
            const Value *value = property_value(input->u.property, 2);
            buf_format(&text, ", %s insulation", say_number(judge, value->u.quantity.low, UNIT_ALONE(UNIT_CELSIUS)));
        } else if (input->kind == INPUT_FACT && input->u.fact->unit.unit == UNIT_CELSIUS) {
            buf_format(&text, ", %s insulation assumed", say_number(judge, input->u.fact->low, UNIT_ALONE(UNIT_CELSIUS)));
        } else if (input->kind == INPUT_FACT && input->u.fact->unit.unit == UNIT_NONE) {
            buf_format(&text, ", %s (%s)", input->u.fact->what,
                       say_number(judge, input->u.fact->low, UNIT_ALONE(UNIT_NONE)));
        }
    }
    finding_here(judge, finding, "%s", text.text);
}

/* The next sizes up, up to the one that carries so much: what to write in its place. */
static const Conductor *size_that_carries(const Judge *judge, const Feed *feed, double amps)
{
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    const Conductor *row = size->low > 0.0 ? conductor_find(series_of_unit(size->unit), size->low) : NULL;
    double insulation = feed_insulation_celsius(feed);
    double table = row != NULL ? ampacity_table(judge->basis, row, insulation) : 0.0;
    if (table <= 0.0 || !isfinite(amps)) {
        return NULL;
    }
    double factor = ampacity->low / table; /* heat, bundle and parallel conductors, as they are */
    while (row != NULL && ampacity_table(judge->basis, row, insulation) * factor < amps * (1.0 - 1e-9)) {
        row = conductor_next(row);
    }
    return row;
}

static void remedy_size(Judge *judge, Finding *finding, const Feed *feed, double amps)
{
    const Conductor *row = size_that_carries(judge, feed, amps);
    if (row != NULL) {
        finding_remedy(judge, finding, "wire %s", row->word);
    }
}

/* wire-overloaded */

static bool brings_more(const Figure *back, const Figure *current)
{
    return back != NULL && back->state == STATE_KNOWN && (current == NULL || current->low < back->low);
}

/* What a cable carries by a figure: what loads take, or what makers behind it send back to the bank. */
static Finding *judge_carries(Judge *judge, const Feed *feed, const Figure *flow, bool back)
{
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    Finding *f = feed_at_least(judge, feed, PROP_FEED_WIRE, side_figure(ampacity), side_figure(flow));
    if (f != NULL) {
        finding_say(judge, f, "the cable of %s can carry %s here but %s can %s", feed_name(judge, feed),
                    say_figure(judge, ampacity), say_figure(judge, flow),
                    back ? "come back through it from what makes power" : "flow");
        show_cable(judge, f, feed);
        remedy_size(judge, f, feed, flow->high);
    }
    return f;
}

/* Whichever asks for more is judged first, and is told alone. */
static void judge_wire_overloaded(Judge *judge, const Feed *feed)
{
    if (feed_is_cranking(feed)) {
        return;
    }
    const Figure *current = feed_figure(judge, feed, FIGURE_CURRENT);
    const Figure *back = figure_brought_back(judge->figures, feed);
    bool back_first = brings_more(back, current);
    Finding *f = back_first ? judge_carries(judge, feed, back, true) : judge_carries(judge, feed, current, false);
    if (f == NULL && back_first) {
        judge_carries(judge, feed, current, false);
    } else if (f == NULL && back != NULL) {
        judge_carries(judge, feed, back, true);
    }
}

/* wire-unprotected */

static void no_protection(Judge *judge, const Feed *feed)
{
    Finding *f = judge_broken(judge, feed->subject, place_of_name(judge, feed->subject));
    finding_at(f, feed_at(feed));
    const Figure *would = feed_figure(judge, feed, FIGURE_WANTED_PROTECTION);
    finding_say(judge, f, "nothing protects the cable of %s", feed_name(judge, feed));
    if (would != NULL && would->state == STATE_KNOWN && isfinite(would->high)) {
        finding_remedy(judge, f, "protect %s %s", say_figure(judge, would), is_alternating(feed) ? "breaker" : "fuse");
    } else {
        finding_remedy(judge, f, "protect ?");
    }
}

static void judge_wire_unprotected(Judge *judge, const Feed *feed)
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
    if (where == NULL) {
        no_protection(judge, feed);
        return;
    }
    const Figure *device = feed_figure(judge, where, FIGURE_PROTECTION);
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    double volts = nominal_volts(judge, feed);
    Side limit = side_figure(ampacity);
    if (limit.state == STATE_KNOWN) {
        limit.value = (Interval){protection_limit_a(judge->basis, volts, ampacity->low),
                                 isfinite(ampacity->high) ? protection_limit_a(judge->basis, volts, ampacity->high)
                                                          : INFINITY};
    }
    Finding *f = feed_at_most(judge, feed, own != NULL ? PROP_FEED_PROTECT : PROP_FEED_WIRE, side_figure(device), limit);
    if (f == NULL) {
        return;
    }
    finding_say(judge, f, "the cable of %s can carry %s here but its %s lets %s pass", feed_name(judge, feed),
                say_figure(judge, ampacity), where == feed ? "protection" : "nearest protection upstream",
                say_figure(judge, device));
    if (own != NULL && feed_property(feed, PROP_FEED_WIRE) != NULL) {
        finding_note(judge, f, feed_place(judge, feed, PROP_FEED_WIRE), "ampacity %s", say_figure(judge, ampacity));
    } else if (where != feed) {
        finding_note(judge, f, feed_place(judge, where, PROP_FEED_PROTECT), "this is the nearest");
    }
    double per_volt = ampacity->low > 0.0 ? protection_limit_a(judge->basis, volts, ampacity->low) / ampacity->low : 1.0;
    remedy_size(judge, f, feed, device->high / per_volt);
    double largest = largest_rating_a(PROTECTION_NEC_SERIES, f->limit.low);
    const Figure *current = feed_figure(judge, feed, FIGURE_CURRENT);
    if (largest > 0.0 && current != NULL && current->state == STATE_KNOWN && largest >= current->high) {
        finding_remedy(judge, f, "protect %s", say_number(judge, largest, amperes));
    }
}

/* wire-small */

static void judge_wire_small(Judge *judge, const Feed *feed)
{
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    if (size == NULL || size->chosen) {
        return;
    }
    bool sheathed = feed_is_sheathed(feed);
    const Conductor *least = conductor_minimum(judge->basis, sheathed);
    double area = least->area_m2;
    if (size->unit.unit == UNIT_SAE && least->series == SERIES_AWG) {
        const Conductor *sae = conductor_find_gauge(SERIES_SAE, least->gauge); /* by number, as the clause counts */
        area = sae != NULL ? sae->area_m2 : area;
    }
    Finding *f = feed_at_least(judge, feed, PROP_FEED_WIRE,
                                           side_figure(size), side_number(area, size->unit));
    if (f != NULL) {
        finding_say(judge, f, "%s is thinner than any conductor run %s may be, which is %s", say_figure(judge, size),
                    sheathed ? "in a sheath" : "on its own", least->word);
        finding_remedy(judge, f, "wire %s", least->word);
    }
}

/* wire-drop */

/* The first size that, by its own resistance or (by rule) its copper, has so small a share of what this one loses. */
static const Conductor *size_that_loses(const Figure *size, double share, bool physical)
{
    const Conductor *row = size->low > 0.0 ? conductor_find(series_of_unit(size->unit), size->low) : NULL;
    if (row == NULL || !physical) {
        return conductor_at_least(series_of_unit(size->unit), size->low / share);
    }
    double most = row->r20_ohm_per_m * share;
    while (row != NULL && row->r20_ohm_per_m > most) {
        row = conductor_next(row);
    }
    return row;
}

/* Larger sizes, until the drop of this cable fits what the way up to it leaves. */
static void remedy_drop(Judge *judge, Finding *f, const Feed *feed, double limit, bool physical)
{
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    const Figure *own = feed_figure(judge, feed, physical ? FIGURE_VOLTAGE_DROP : FIGURE_VOLTAGE_DROP_BY_RULE);
    const Figure *total = feed_figure(judge, feed, physical ? FIGURE_TOTAL_DROP : FIGURE_TOTAL_DROP_BY_RULE);
    double left = limit - (total->high - own->high);
    if (left > 0.0 && isfinite(own->high)) {
        const Conductor *row = size_that_loses(size, left / own->high, physical);
        if (row != NULL) {
            finding_remedy(judge, f, "wire %s", row->word);
            return;
        }
    }
    finding_remedy(judge, f, "a thicker cable on the way up to it, or a shorter `run`");
}

static void judge_wire_drop(Judge *judge, const Feed *feed)
{
    DropLimit allowed = feed_drop_limit(judge->model, feed, judge->basis);
    double limit = allowed.share;
    const char *why = allowed.own ? "its own limit" : allowed.critical ? allowed.why : NULL;
    const Figure *by_rule = feed_figure(judge, feed, FIGURE_TOTAL_DROP_BY_RULE);
    const Figure *physical = feed_figure(judge, feed, FIGURE_TOTAL_DROP);
    Finding *f = feed_at_most(judge, feed, PROP_FEED_WIRE, side_figure(by_rule), side_number(limit, percent));
    if (f != NULL) {
        finding_say(judge, f, "%s of the voltage is lost on the way to %s; at most %s may be%s%s", say_figure(judge, by_rule),
                    feed_name(judge, feed), say_number(judge, limit, percent), why != NULL ? ": " : "",
                    why != NULL ? why : "");
        finding_here(judge, f, "this cable itself loses %s",
                     say_figure(judge, feed_figure(judge, feed, FIGURE_VOLTAGE_DROP_BY_RULE)));
        finding_severity(f, why != NULL && feed_property(feed, PROP_FEED_DROP) == NULL ? SEVERITY_FAULT : SEVERITY_WARNING);
        remedy_drop(judge, f, feed, limit, false);
        return;
    }
    if (by_rule == NULL || by_rule->state != STATE_KNOWN) {
        return; /* counted already */
    }
    f = feed_at_most(judge, feed, PROP_FEED_WIRE, side_figure(physical), side_number(limit, percent));
    if (f != NULL) {
        finding_severity(f, SEVERITY_WARNING);
        finding_say(judge, f, "the formula of the basis passes the way to %s (%s), but real cable at 50 C loses %s; the limit is %s",
                    feed_name(judge, feed), say_figure(judge, by_rule), say_figure(judge, physical),
                    say_number(judge, limit, percent));
        remedy_drop(judge, f, feed, limit, true);
    }
}

/* protect-far */

static PowerOrigin origin_of(const Feed *feed)
{
    if (feed->giver == NULL) {
        return FROM_INLET;
    }
    if (feed->maker) {
        return FROM_BATTERY; /* `protect` of a maker's feed stands at the bank's end */
    }
    const Entity *giver = feed->giver;
    while (giver->kind == KIND_SWITCH && giver->fed != NULL && giver->fed->shares && giver->fed->giver != NULL &&
           !(giver->flags & ENTITY_LOOP)) {
        giver = giver->fed->giver; /* a switch in the cable is no source */
    }
    if (giver->kind == KIND_BANK) {
        return FROM_BATTERY;
    }
    if (giver->kind == KIND_INLET) {
        return FROM_INLET;
    }
    return giver->flags & ENTITY_AC || giver->kind == KIND_INVERTER || giver->kind == KIND_GENERATOR ? FROM_AC : FROM_OTHER;
}

static void judge_distance(Judge *judge, const Feed *feed, PropId prop, PowerOrigin origin, const char *whose)
{
    const Property *protect = block_property(feed->block, prop);
    const Value *distance = property_value(protect, 3);
    if (protect == NULL || distance->kind != VALUE_QUANTITY) {
        return;
    }
    bool sheathed = feed_is_sheathed(feed);
    Placement placement = placement_limit(judge->basis, origin, sheathed);
    if (isinf(placement.limit_m)) {
        judge_holds(judge);
        return;
    }
    Side value = side_block_value(judge, feed->subject, feed->block, prop, 3);
    Finding *f = feed_at_most(judge, feed, PROP_FEED_PROTECT, value, side_number(placement.limit_m, distance->unit));
    if (f == NULL) {
        return;
    }
    f->place = value_span(judge->model, distance);
    finding_say(judge, f, "the protection of %s stands %s from %s; it may be at most %s (%s)", feed_name(judge, feed),
                say_side(judge, value), whose, say_number(judge, placement.limit_m, distance->unit), placement.source);
    finding_remedy(judge, f, "%s within %s of it", props[prop].word, say_number(judge, placement.limit_m, metres));
    Placement covered = placement_limit(judge->basis, origin, true);
    if (!sheathed && covered.limit_m > placement.limit_m && covered.limit_m >= value.value.high) {
        finding_remedy(judge, f, "sheath conduit");
    }
}

static void judge_protect_far(Judge *judge, const Feed *feed)
{
    if (feed_is_cranking(feed)) {
        return;
    }
    judge_distance(judge, feed, feed_prop(feed, PROP_FEED_PROTECT), origin_of(feed),
                   feed->maker ? "the bank's end" : "its source");
    if (feed->maker) {
        judge_distance(judge, feed, PROP_FEEDS_PROTECT_OUTPUT, FROM_CHARGING, "what makes the power");
    }
}

/* protect-tight */

/* What flows, with the margin for the part of it that lasts. */
static Side rating_wanted(const Judge *judge, const Feed *feed, const Figure *flow, bool back)
{
    const Figure *continuous = feed_figure(judge, feed, FIGURE_CONTINUOUS_CURRENT);
    Side wanted = side_figure(flow);
    if (side_is_known(wanted)) {
        bool may_last = feed->maker || back || continuous == NULL; /* a charger may run all day */
        Interval lasting = may_last ? wanted.value : interval_min((Interval){continuous->low, continuous->high}, wanted.value);
        wanted.value = interval_add(wanted.value, interval_scale(lasting, CONTINUOUS_MARGIN - 1.0));
    }
    return wanted;
}

static Finding *judge_opens_in_use(Judge *judge, const Feed *feed, const Figure *flow, bool back)
{
    const Figure *device = feed_figure(judge, feed, FIGURE_PROTECTION);
    Side wanted = rating_wanted(judge, feed, flow, back);
    Finding *f = feed_at_least(judge, feed, PROP_FEED_PROTECT, side_figure(device), wanted);
    if (f == NULL) {
        return NULL;
    }
    const char *way = back ? "comes back through it from what makes power" : "flows";
    if (wanted.value.low <= 0.0 && isinf(wanted.value.high)) {
        finding_say(judge, f, "the %s protection of %s may open in normal use: %s %s", say_figure(judge, device),
                    feed_name(judge, feed), say_figure(judge, flow), way);
    } else {
        finding_say(judge, f, "the %s protection of %s may open in normal use: %s %s, which asks for %s",
                    say_figure(judge, device), feed_name(judge, feed), say_figure(judge, flow), way,
                    say_side(judge, side_interval(wanted.value, amperes)));
    }
    double next = isfinite(wanted.value.high) ? next_rating_a(PROTECTION_NEC_SERIES, wanted.value.high) : INFINITY;
    if (isfinite(next)) {
        finding_remedy(judge, f, "protect %s, if the cable allows it", say_number(judge, next, amperes));
    }
    return f;
}

static void judge_protect_tight(Judge *judge, const Feed *feed)
{
    const Property *protect = feed_property(feed, PROP_FEED_PROTECT);
    if (protect == NULL || feed_is_cranking(feed)) {
        return;
    }
    const Figure *current = feed_figure(judge, feed, FIGURE_CURRENT);
    const Figure *back = figure_brought_back(judge->figures, feed);
    bool back_first = brings_more(back, current);
    Finding *f = back_first ? judge_opens_in_use(judge, feed, back, true) : judge_opens_in_use(judge, feed, current, false);
    if (f == NULL && back_first) {
        judge_opens_in_use(judge, feed, current, false);
    } else if (f == NULL && back != NULL) {
        judge_opens_in_use(judge, feed, back, true);
    }
}

/* protect-breaking */

/* The bank whose short circuit a fault current comes from, if its resistance is only what is usual; else NULL. */
static const Entity *bank_by_usual(const Figure *fault)
{
    const Input *first = fault->input_count > 0 ? &fault->inputs[0] : NULL;
    if (first == NULL || first->kind != INPUT_FIGURE) {
        return NULL;
    }
    const Entity *bank = first->u.figure->subject;
    bool stated = entity_states(bank, PROP_BANK_RESISTANCE) || entity_states(bank, PROP_BANK_SHORT_CIRCUIT);
    return stated ? NULL : bank;
}

static void judge_protect_breaking(Judge *judge, const Feed *feed)
{
    const Property *protect = feed_property(feed, PROP_FEED_PROTECT);
    const Figure *fault = feed_figure(judge, feed, FIGURE_FAULT_CURRENT);
    if (protect == NULL || fault == NULL || feed_is_cranking(feed)) {
        return;
    }
    const Figure *device = feed_figure(judge, feed, FIGURE_PROTECTION);
    if (device->state != STATE_KNOWN) {
        judge_waiting(judge);
        return;
    }
    Side breaks = side_block_value(judge, feed->subject, feed->block, feed_prop(feed, PROP_FEED_PROTECT), 4);
    ProtectionClass class = device_class(protect, isfinite(device->high) ? device->high : device->low, false);
    bool assumed = breaks.state == STATE_MISSING;
    if (assumed && device->chosen && property_value(protect, 2)->kind != VALUE_WORD && fault->state == STATE_KNOWN) {
        bool breaker = str_is(property_value(protect, 1)->kind == VALUE_WORD ? property_value(protect, 1)->u.word : STR(""), "breaker");
        ProtectionClass serves = class_that_breaks(breaker, device->high, nominal_volts(judge, feed), fault->high);
        class = serves != PROTECTION_CLASS_COUNT ? serves : class; /* the class is left to the program too */
    }
    if (assumed) {
        breaks = side_number(interrupting_capacity_a(class, nominal_volts(judge, feed), false), amperes);
    }
    Finding *f = feed_at_least(judge, feed, PROP_FEED_PROTECT, breaks,
                                           side_figure(fault));
    if (f == NULL) {
        return;
    }
    const Entity *usual = bank_by_usual(fault);
    finding_say(judge, f, "a short circuit behind the protection of %s can draw %s%s; it can break %s%s", feed_name(judge, feed),
                say_figure(judge, fault), usual != NULL ? ", by what is usual for such a bank" : "", say_side(judge, breaks),
                assumed ? text_format(judge->arena, ", as %s devices usually do", protection_row(class)->word) : "");
    if (usual != NULL) {
        finding_severity(f, SEVERITY_WARNING);
        finding_remedy(judge, f, "`short-circuit` or `resistance` of `%s`, as its maker states it", say_name(judge, usual));
    }
    if (assumed) {
        finding_remedy(judge, f, "interrupts %s, if the device's own sheet says so", say_figure(judge, fault));
    }
    finding_remedy(judge, f, "a device that breaks more, such as a class-t fuse (20 kA at 125 V)");
}

/* panel-overloaded */

static void judge_panel_overloaded(Judge *judge, const Entity *panel)
{
    PropId rated = rating_prop(panel);
    const Figure *current = NULL;
    for (const Feed *feed = panel->fed; feed != NULL && current == NULL; feed = feed->next) {
        current = feed_figure(judge, feed, FIGURE_CURRENT);
    }
    if (current == NULL || !entity_states(panel, rated)) {
        return; /* nothing flows, or nothing is claimed */
    }
    Side rating = side_value(judge, panel, rated, 0);
    Finding *f = judge_at_least(judge, panel, place_of(judge, panel, rated), rating, side_figure(current));
    if (f != NULL) {
        finding_say(judge, f, "`%s` is rated %s but %s can run through it at once", say_name(judge, panel),
                    say_side(judge, rating), say_figure(judge, current));
        finding_remedy(judge, f, "rated %s or more", say_figure(judge, current));
        if (panel->kind != KIND_SWITCH) {
            finding_remedy(judge, f, "together, if never so much of it runs at once");
        }
    }
}

/* Examples: one bank, one panel, one circuit; each rule varies a line of it. */

#define BANK_AND_PANEL \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n" \
    "panel main { fed-by house; run 1 m; wire 2 AWG insulation 105 C; protect 100 A fuse class-t 0.15 m from source }\n"
#define ON_MAIN(wire, protect, draw) \
    EXAMPLE_BOAT BANK_AND_PANEL "circuit lamps { fed-by main; run 2 m; " wire "; " protect " }\n" \
    "load lamp { fed-by lamps; " draw " }\n"
#define ISO_ON_MAIN(wire, protect, draw) \
    EXAMPLE_BOAT_ISO \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n" \
    "panel main { fed-by house; run 1 m; wire 35 mm2 insulation 105 C; protect 100 A fuse class-t 0.15 m from source }\n" \
    "circuit lamps { fed-by main; run 2 m; " wire "; " protect " }\n" \
    "load lamp { fed-by lamps; " draw " }\n"

static const Rule rules[] = {
    {
        .name = "wire-overloaded",
        .severity = SEVERITY_FAULT,
        .title = "a cable carries no more than it can stand",
        .basis = ON_BOTH,
        .source = "us: 33 CFR 183.425, Table 5 and notes; iso: ISO 13297 Table A.1, from memory",
        .why = "A conductor hotter than its insulation is made for ages, and in the end burns. The table is for 30 C air; an "
               "engine space, and other cables close by, take some of it away. What cranks an engine is exempt: it lasts "
               "seconds.",
        .breaks = ON_MAIN("wire 16 AWG", "protect 20 A breaker", "draw 18 A"),
        .holds = ON_MAIN("wire 10 AWG", "protect 25 A breaker", "draw 18 A"),
        .open = ON_MAIN("wire 16..10 AWG", "protect 25 A breaker", "draw 18 A"),
        .judge_feed = judge_wire_overloaded,
    },
    {
        .name = "wire-unprotected",
        .severity = SEVERITY_FAULT,
        .title = "every cable has a fuse or breaker that opens before the cable burns",
        .basis = ON_BOTH,
        .source = "us: 33 CFR 183.455(c): under 50 V at most 150 % of the ampacity, from 50 V the next standard rating; "
                  "iso: ISO 13297:2020 13.1.5, at most the ampacity",
        .why = "In a short circuit the cable is the weakest part unless something weaker is put in its way. The device may "
               "stand upstream, if it is small enough for this cable too. The feed of a starter is exempt.",
        .breaks = ON_MAIN("wire 16 AWG", "protect 30 A breaker", "draw 2 A"),
        .holds = ON_MAIN("wire 16 AWG", "protect 10 A breaker", "draw 2 A"),
        .open = ON_MAIN("wire 16..10 AWG", "protect 30 A breaker", "draw 2 A"),
        .judge_feed = judge_wire_unprotected,
    },
    {
        .name = "wire-small",
        .severity = SEVERITY_WARNING,
        .title = "no conductor is thinner than the basis allows",
        .basis = ON_BOTH,
        .source = "us: 33 CFR 183.425(d), (e), 16 AWG or 18 AWG in a sheath; iso: ISO 10133:2012 7.7, 1 mm2 or 0.75 mm2 in a "
                  "sheath",
        .why = "A thin conductor breaks where it is bent or pulled, long before its current matters. Wires inside of equipment "
               "and short tails are outside of this.",
        .breaks = ON_MAIN("wire 18 AWG", "protect 5 A breaker", "draw 1 A"),
        .holds = ON_MAIN("wire 16 AWG", "protect 5 A breaker", "draw 1 A"),
        .open = ON_MAIN("wire 18..16 AWG", "protect 5 A breaker", "draw 1 A"),
        .judge_feed = judge_wire_small,
    },
    {
        .name = "wire-drop",
        .severity = SEVERITY_FAULT,
        .title = "not too much voltage is lost between the source and the load, out and back",
        .basis = ON_BOTH,
        .source = "us: voluntary practice, 3 % critical and 10 % other (10 % also 46 CFR 183.340(p), a benchmark); iso: ISO "
                  "10133, 10 % from memory",
        .why = "Navigation lights grow dim, radios fail when they transmit, pumps slow down. The total counts from the bank, "
               "feeders included. A fault where it is critical (panels, navigation lights, blowers, electronics, by iso bilge "
               "pumps, and what the owner calls so), else a warning. Where the formula of the basis passes and the cable at "
               "its working temperature does not, this rule warns as well.",
        .breaks = ON_MAIN("wire 16 AWG", "protect 15 A breaker", "draw 14 A; critical yes") "\n",
        .holds = ON_MAIN("wire 10 AWG", "protect 15 A breaker", "draw 10 A; use day-1 1 h") "day day-1 { engine 0 h }\n",
        .open = ON_MAIN("wire 16..8 AWG", "protect 15 A breaker", "draw 14 A; critical yes") "\n",
        .judge_feed = judge_wire_drop,
    },
    {
        .name = "protect-far",
        .severity = SEVERITY_FAULT,
        .title = "protection stands close to its source of power",
        .basis = ON_BOTH,
        .source = "us: 33 CFR 183.455(b), 183.460(a); iso: ISO 10133:2000 8.1 (quoted), ISO 13297:2020 12.3, 13.2.2",
        .why = "The cable between a source and its fuse is protected by nothing. The shorter it is, the less can rub through. "
               "A sheath allows more. The feed of a starter is exempt.",
        .breaks = ON_MAIN("wire 10 AWG", "protect 15 A breaker 0.5 m from source", "draw 5 A"),
        .holds = ON_MAIN("wire 10 AWG", "protect 15 A breaker 0.1 m from source", "draw 5 A"),
        .open = ON_MAIN("wire 10 AWG", "protect 15 A breaker 0.1..0.5 m from source", "draw 5 A"),
        .judge_feed = judge_protect_far,
    },
    {
        .name = "protect-tight",
        .severity = SEVERITY_WARNING,
        .title = "protection does not open in normal use",
        .basis = ON_BOTH,
        .source = "continuous loads at most 0.8 of the rating: NEC practice; common practice aboard, no source",
        .why = "A fuse that blows in the night for no fault is soon replaced by a larger one. What flows three hours or more "
               "gets a margin of a quarter.",
        .breaks = ON_MAIN("wire 10 AWG", "protect 10 A breaker", "draw 9 A"),
        .holds = ON_MAIN("wire 10 AWG", "protect 15 A breaker", "draw 9 A"),
        .open = ON_MAIN("wire 10 AWG", "protect 10 A breaker", "draw 7..9 A"),
        .judge_feed = judge_protect_tight,
    },
    {
        .name = "protect-breaking",
        .severity = SEVERITY_FAULT,
        .title = "protection can break the short circuit that may stand behind it",
        .basis = ON_BOTH,
        .danger = DANGER_BATTERY,
        .source = "33 CFR 183.455 read with voluntary US practice; capacities by class from the fuse standards, in part from "
                  "memory",
        .why = "A device that is asked to break more than it can arcs on, or bursts. Lithium banks have so little resistance "
               "that ordinary fuses are soon outdone. The current is what the bank's voltage drives through its own "
               "resistance and the cold copper up to the device. A warning where the resistance is not stated and the usual "
               "one, from memory, stands in.",
        .breaks = EXAMPLE_BOAT "bank house { chemistry lifepo4; voltage 12.8 V; capacity 460 Ah; resistance 1.5 mohm }\n"
                  "panel main { fed-by house; run 1 m; wire 2 AWG; protect 100 A fuse bolt-on 0.15 m from source }\n",
        .holds = EXAMPLE_BOAT "bank house { chemistry lifepo4; voltage 12.8 V; capacity 460 Ah; resistance 1.5 mohm }\n"
                 "panel main { fed-by house; run 1 m; wire 2 AWG; protect 100 A fuse class-t 0.15 m from source }\n",
        .open = EXAMPLE_BOAT "bank house { chemistry lifepo4; voltage 12.8 V; capacity 460 Ah; resistance 1.5..3 mohm }\n"
                "panel main { fed-by house; run 1 m; wire 2 AWG; protect 100 A fuse bolt-on 0.15 m from source }\n",
        .judge_feed = judge_protect_breaking,
    },
    {
        .name = "panel-overloaded",
        .severity = SEVERITY_FAULT,
        .title = "what can run at once fits the rating of the panel, bus or switch",
        .basis = ON_BOTH,
        .source = "two-column load practice of US panels, from memory",
        .why = "Loads are added one by one over the years, and each is small. What runs long counts at once, and of what runs "
               "briefly the greater of the largest and a tenth of all; or the share that `together` states.",
        .breaks = EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                  "panel main { fed-by house; rated 30 A; run 1 m; wire 2 AWG; protect 100 A fuse }\n"
                  "circuit pump-1 { fed-by main; run 2 m }\nload pump-motor { fed-by pump-1; draw 40 A }\n",
        .holds = EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                 "panel main { fed-by house; rated 50 A; run 1 m; wire 2 AWG; protect 100 A fuse }\n"
                 "circuit pump-1 { fed-by main; run 2 m }\nload pump-motor { fed-by pump-1; draw 40 A }\n",
        .open = EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                "panel main { fed-by house; rated 30..50 A; run 1 m; wire 2 AWG; protect 100 A fuse }\n"
                "circuit pump-1 { fed-by main; run 2 m }\nload pump-motor { fed-by pump-1; draw 40 A }\n",
        .kinds = {KIND_PANEL, KIND_BUS, KIND_SWITCH},
        .judge = judge_panel_overloaded,
    },
};

const RuleFamily rules_wiring = RULE_FAMILY("DC wiring and protection", rules);
