/*
 * Shore power, inverters and outlets: everything that can kill by alternating current. Each rule carries the
 * mains caution. Cables and their protection are judged with all others (rules_wiring.c); here is what only
 * alternating current asks for.
 */
#include "rules/families.h"

#include "physics/conductor.h"
#include "physics/protection.h"
#include "rules/shore.h"

#include <math.h>

static const UnitPair amperes = {UNIT_A, UNIT_NONE};

/* shore-demand */

static void judge_inlet_demand(Judge *judge, const Upstream *upstream, const Entity *inlet)
{
    const Figure *demand = figure_of(judge, inlet, FIGURE_DEMAND);
    Side rated = side_value(judge, inlet, PROP_INLET_RATED, 0);
    Finding *f =
        judge_at_most(judge, inlet, place_of(judge, inlet, PROP_INLET_RATED), side_figure(demand), rated);
    if (f == NULL) {
        return;
    }
    Largest largest = largest_on(judge, upstream, inlet);
    uint32_t count = 0;
    while (count < LARGEST_COUNT && largest.thing[count] != NULL) {
        count++;
    }
    finding_say(judge, f, "`%s` can be asked for %s at once, and gives %s%s%s", say_name(judge, inlet),
                say_figure(judge, demand), say_side(judge, rated), count > 0 ? "; to switch off first: " : "",
                count > 0 ? say_names(judge, largest.thing, count, count) : "");
    note_largest(judge, f, &largest);
    finding_remedy(judge, f, "`together` on its panel, if never so much of it runs at once");
}

static void judge_shore_demand(Judge *judge)
{
    Upstream upstream = upstream_make(judge);
    for (const Entity *inlet = judge->model->first_of_kind[KIND_INLET]; inlet != NULL;
         inlet = inlet->next_of_kind) {
        if (is_there(inlet)) {
            judge_inlet_demand(judge, &upstream, inlet);
        }
    }
}

/* neutral-bond */

static void judge_neutral_bond(Judge *judge, const Entity *source)
{
    if (entity_yes(source, PROP_COMMON_PORTABLE) == 1) {
        return;
    }
    PropId prop = source->kind == KIND_INVERTER ? PROP_INVERTER_BONDS_NEUTRAL : PROP_GENERATOR_BONDS_NEUTRAL;
    Finding *f = judge_yes(judge, source, prop, "");
    if (f != NULL) {
        finding_say(judge, f, "`%s` %s neutral and ground while it is the source", say_name(judge, source),
                    f->verdict == VERDICT_BROKEN ? "does not join" : "does not say whether it joins");
    }
}

/* one-source */

static Span place_of_feed(const Judge *judge, const Feed *feed)
{
    if (feed->maker) {
        for (const Property *p = entity_property(feed->giver, PROP_MAKER_FEEDS); p != NULL;
             p = block_next(&feed->giver->block, p)) {
            const Value *target = property_value(p, 0);
            if (target->kind == VALUE_REFERENCE && target->u.entity == feed->taker) {
                return value_span(judge->model, target);
            }
        }
    }
    const Property *fed_by = entity_property(feed->taker, PROP_FEED_FED_BY);
    for (uint16_t i = 0; fed_by != NULL && i < fed_by->count; i++) {
        if (fed_by->values[i].kind == VALUE_REFERENCE && fed_by->values[i].u.entity == feed->giver) {
            return value_span(judge->model, &fed_by->values[i]);
        }
    }
    return place_of_name(judge, feed->subject);
}

static void tell_meeting(Judge *judge, const Meeting *m)
{
    Finding *f = judge_broken(judge, m->at, place_of_feed(judge, m->second));
    finding_say(judge, f, "`%s` and `%s` can both feed `%s` at once: nothing switches between them",
                say_name(judge, m->one), say_name(judge, m->other), say_name(judge, m->at));
    finding_note(judge, f, place_of_feed(judge, m->first), "`%s` comes by this", say_name(judge, m->one));
    if (m->at->kind == KIND_SWITCH) {
        finding_remedy(judge, f, "works-as transfer");
    } else {
        finding_remedy(judge, f, "`fed-by` a `switch` that `works-as transfer`, which is fed by both");
    }
}

static void judge_passing(Judge *judge, const Entity *inverter)
{
    const Entity *passed = entity_reference(inverter, PROP_INVERTER_PASSES);
    if (passed == NULL) {
        return;
    }
    Finding *f = judge_yes(judge, inverter, PROP_INVERTER_TRANSFER, "");
    if (f != NULL) {
        finding_say(judge, f, "`%s` passes `%s` to what it feeds, and %s a transfer switch between the two",
                    say_name(judge, inverter), say_name(judge, passed),
                    f->verdict == VERDICT_BROKEN ? "has no" : "does not say whether it has");
        finding_note(judge, f, place_of(judge, inverter, PROP_INVERTER_PASSES), "what it passes");
    }
}

static void judge_one_source(Judge *judge)
{
    for (const Meeting *m = meetings_of(judge, SOURCES_ALTERNATING); m != NULL; m = m->next) {
        tell_meeting(judge, m);
    }
    for (const Entity *e = judge->model->first_of_kind[KIND_INVERTER]; e != NULL; e = e->next_of_kind) {
        if (is_there(e)) {
            judge_passing(judge, e);
        }
    }
}

/* earth-bond, shore-isolation */

static void judge_earth_bond(Judge *judge, const Entity *inlet)
{
    Finding *f = judge_yes(judge, inlet, PROP_INLET_BONDED, "");
    if (f != NULL) {
        finding_say(judge, f, "%s`%s` %s joined to the boat's DC ground",
                    f->verdict == VERDICT_BROKEN ? "the grounding conductor of " : "", say_name(judge, inlet),
                    f->verdict == VERDICT_BROKEN ? "is not"
                                                 : "does not say whether its grounding conductor is");
    }
}

static void judge_shore_isolation(Judge *judge, const Entity *inlet)
{
    Str word;
    State state = stated_word(inlet, PROP_INLET_ISOLATION, &word);
    if (state == STATE_WAITING) {
        judge_waiting(judge);
    } else if (state == STATE_MISSING) {
        Finding *f = judge_open(judge, inlet, place_of_name(judge, inlet), inlet, PROP_INLET_ISOLATION);
        finding_say(judge, f,
                    "`%s` does not say what keeps the marina's currents out of the underwater metal",
                    say_name(judge, inlet));
        finding_remedy(judge, f, "isolation galvanic");
        finding_remedy(judge, f, "isolation transformer");
    } else if (str_is(word, "none")) {
        Finding *f = judge_broken(judge, inlet, place_of(judge, inlet, PROP_INLET_ISOLATION));
        finding_about(f, PROP_FEED_WIRE);
        finding_say(judge, f, "`%s` joins the boat's underwater metal to that of the whole marina",
                    say_name(judge, inlet));
        finding_remedy(judge, f, "isolation galvanic");
        finding_remedy(judge, f, "isolation transformer");
    } else {
        judge_holds(judge);
    }
}

/* inverter-feed */

/* What an inverter takes at its rated power when the bank is as low as it may get. */
static Side current_at_lowest(const Judge *judge, const Entity *inverter, double volts)
{
    Side side = side_value(judge, inverter, PROP_INVERTER_RATED, 0);
    Side efficiency = side_value(judge, inverter, PROP_INVERTER_EFFICIENCY, 0);
    Side count = side_value(judge, inverter, PROP_COMMON_COUNT, 0);
    if (!side_is_known(side) || !side_is_known(efficiency) || !side_is_known(count)) {
        side.state = side_is_known(side) ? STATE_WAITING : side.state;
        return side;
    }
    Interval watts = interval_multiply(side.value, count.value);
    side.value = interval_divide(watts, interval_scale(efficiency.value, volts));
    side.unit = amperes;
    return side;
}

static void judge_inverter_cable(Judge *judge, const Feed *feed, Side current, double volts)
{
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    if ((size != NULL && size->chosen) || already_told(judge, "wire-overloaded", feed->subject)) {
        return;
    }
    Finding *f = judge_at_least(judge, feed->subject, place_of(judge, feed->subject, PROP_FEED_WIRE),
                                side_figure(ampacity), current);
    if (f != NULL) {
        finding_say(
            judge, f,
            "the cable of `%s` can carry %s, and at its rated power with the bank down to %s %s flows",
            say_name(judge, feed->subject), say_figure(judge, ampacity),
            say_number(judge, volts, UNIT_ALONE(UNIT_V)),
            say_side(judge, side_interval(current.value, amperes)));
        finding_remedy(judge, f, "a thicker `wire`, or an inverter of less power");
    }
}

static void judge_inverter_device(Judge *judge, const Feed *feed, Side current, double volts)
{
    const Figure *device = feed_figure(judge, feed, FIGURE_PROTECTION);
    bool stated = entity_states(feed->subject, PROP_FEED_PROTECT) && device != NULL && !device->chosen;
    if (!stated || already_told(judge, "protect-tight", feed->subject)) {
        return;
    }
    Side wanted = current;
    wanted.value = interval_scale(current.value, CONTINUOUS_MARGIN);
    Finding *f = judge_at_least(judge, feed->subject, place_of(judge, feed->subject, PROP_FEED_PROTECT),
                                side_figure(device), wanted);
    if (f == NULL) {
        return;
    }
    finding_severity(f, SEVERITY_WARNING);
    finding_about(f, PROP_FEED_PROTECT);
    finding_say(judge, f,
                "the %s protection of `%s` may open at its rated power: %s flows with the bank down to %s, "
                "which asks for %s",
                say_figure(judge, device), say_name(judge, feed->subject),
                say_side(judge, side_interval(current.value, amperes)),
                say_number(judge, volts, UNIT_ALONE(UNIT_V)),
                say_side(judge, side_interval(wanted.value, amperes)));
    double next =
        isfinite(wanted.value.high) ? next_rating_a(PROTECTION_NEC_SERIES, wanted.value.high) : INFINITY;
    if (isfinite(next)) {
        finding_remedy(judge, f, "protect %s, if the cable allows it", say_number(judge, next, amperes));
    }
}

static void judge_inverter_feed(Judge *judge)
{
    Upstream upstream = upstream_make(judge);
    for (const Entity *e = judge->model->first_of_kind[KIND_INVERTER]; e != NULL; e = e->next_of_kind) {
        const Feed *feed = e->fed;
        const Entity *bank = upstream.source[e->index];
        Chemistry chemistry;
        if (!is_there(e) || feed == NULL || feed->shares || bank == NULL || bank->kind != KIND_BANK) {
            continue;
        }
        double nominal = nominal_volts(judge, feed);
        if (!bank_chemistry(bank, &chemistry) || nominal <= 0.0) {
            judge_waiting(judge);
            continue;
        }
        double volts = battery_volts(BATTERY_LOWEST_WORKING, chemistry, nominal);
        Side current = current_at_lowest(judge, e, volts);
        judge_inverter_cable(judge, feed, current, volts);
        judge_inverter_device(judge, feed, current, volts);
    }
}

/* Examples: an inlet and its panel; a bank and its inverter. Each rule varies a line. */

#define INLET_WITH(rated, lines) "inlet shore { rated " rated "; " lines "}\n"
#define INLET(lines) EXAMPLE_BOAT INLET_WITH("30 A at 120 V", lines)
#define FULL_INLET \
    INLET_WITH("30 A at 120 V", "run 2 m; wire 10 AWG; ground 10 AWG; protect 30 A breaker; poles 2; " \
                                "ground-fault 30 mA; isolation galvanic; bonded yes ")
#define AC_PANEL "panel ac-main { fed-by shore; run 1 m; wire 10 AWG; ground 10 AWG; protect 30 A breaker }\n"
#define BOILER(element) EXAMPLE_BOAT FULL_INLET AC_PANEL \
    "circuit hot { fed-by ac-main; run 2 m; wire 10 AWG; ground 10 AWG; protect 30 A breaker }\n" \
    "water-heater boiler { fed-by hot; capacity 20 l; element " element " }\n" \
    "load cooker { fed-by ac-main; run 2 m; wire 12 AWG; ground 12 AWG; protect 20 A breaker; draw 1500 W }\n"
#define OUTLET(space, leakage) EXAMPLE_BOAT FULL_INLET AC_PANEL space \
    "circuit sockets { fed-by ac-main; run 2 m; wire 12 AWG; protect 20 A breaker; " leakage "}\n" \
    "outlet socket { fed-by sockets; space galley }\n"
#define HOUSE "bank house { chemistry agm; voltage 12 V; capacity 400 Ah }\n"
#define INVERTER(rated, wire, protect, lines) \
    "inverter sine { fed-by house; run 1 m; wire " wire " AWG insulation 105 C; " \
    "protect " protect " fuse class-t 0.2 m from source; rated " rated "; output 120 V; efficiency 88 %; " \
    lines "}\n"
#define BONDS(lines) EXAMPLE_BOAT HOUSE INVERTER("1000 W", "2/0", "150 A", lines)
#define TWO_SOURCES(panel) EXAMPLE_BOAT FULL_INLET \
    "generator genset { rated 3500 W at 120 V; bonds-neutral yes }\n" panel

static const Rule rules[] = {
    {
        .name = "shore-demand",
        .severity = SEVERITY_FAULT,
        .title = "no more is asked of a shore inlet than it gives",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "the rating of the supply; what runs at once: common practice, from memory",
        .why = "A plug that carries too much for hours chars in its socket, where nobody sees it. What can "
               "be asked at once is all that hangs on the inlet, or the share of a panel that its owner "
               "states by `together`. The largest of it is named, as what to switch off first.",
        .breaks = BOILER("3000 W"),
        .holds = BOILER("1500 W"),
        .open = BOILER("1500..3000 W"),
        .judge_boat = judge_shore_demand,
    },
    {
        .name = "shore-first-breaker",
        .severity = SEVERITY_FAULT,
        .title = "a breaker that opens all live conductors stands close behind a shore inlet, and is no "
                 "larger than it",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "us: voluntary practice (ABYC E-11 11.11), 10 ft from the inlet, poles from memory; iso: "
                  "ISO 13297:2020 13.2.1 (double pole), 13.1.2 (no fuses), 13.2.2 (0.5 m, farther only in a "
                  "sheath)",
        .why = "The cable between inlet and breaker is protected by the pontoon alone. Line and neutral may "
               "be the wrong way round ashore, so both have to open. A breaker larger than the inlet "
               "protects neither the inlet nor its plug. `protect` of the inlet is this breaker, and `run` "
               "leads to it; else the `protect` of what the inlet feeds.",
        .breaks = INLET("run 4 m; wire 10 AWG; protect 30 A breaker; poles 2 "),
        .holds = INLET("run 2 m; wire 10 AWG; protect 30 A breaker; poles 2 "),
        .open = INLET("run 2 m; wire 10 AWG; protect 30 A breaker "),
        .kinds = {KIND_INLET},
        .judge = judge_shore_first_breaker,
    },
    {
        .name = "shore-leakage",
        .severity = SEVERITY_FAULT,
        .title = "leakage protection of 30 mA guards all that hangs on a shore inlet",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "us: voluntary practice (ABYC E-11 11.11.1), within 100 ms, not needed with an isolation "
                  "transformer within 10 ft; iso: ISO 13297:2020, 30 mA; that a transformer stands in for "
                  "it there, from memory",
        .why = "A few tens of milliamperes through a person, or through the water around the boat to a "
               "swimmer, kill; no fuse notices them. The protection stands with the inlet's first breaker, "
               "or on everything that the inlet feeds. Test its button every month.",
        .breaks = INLET("ground-fault 100 mA "),
        .holds = INLET("ground-fault 30 mA "),
        .open = INLET(""),
        .kinds = {KIND_INLET},
        .judge = judge_shore_leakage,
    },
    {
        .name = "outlet-leakage",
        .severity = SEVERITY_FAULT,
        .title = "an outlet in a wet space has leakage protection that a person survives",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "us: voluntary practice (ABYC E-11), 5 mA in heads, galley, machinery space and on deck; "
                  "iso: ISO 13297:2020, 30 mA (10 mA in an older edition, from memory)",
        .why = "Wet hands and a grounded tap make the surest way through a person. The nearest device on "
               "each way of power to the outlet counts, from the inverter as well as from the shore. An "
               "outlet that says neither where it is nor how it is guarded is left open.",
        .breaks = OUTLET("space galley { wet yes }\n", "ground-fault 30 mA "),
        .holds = OUTLET("space galley { wet yes }\n", "ground-fault 5 mA "),
        .open = OUTLET("space galley { volume 8 m3 }\n", ""),
        .judge_boat = judge_outlet_leakage,
    },
    {
        .name = "neutral-bond",
        .severity = SEVERITY_FAULT,
        .title = "an inverter or generator joins neutral and ground while it is the source",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "ISO 13297:2020 6.8; us: voluntary practice (ABYC E-11), the same",
        .why = "Without that bond a fault to the case of something has no way back: no breaker opens, and "
               "the case stays live. With shore power the bond is ashore and nowhere aboard, so the one "
               "aboard has to open when the shore takes over.",
        .breaks = BONDS("bonds-neutral no "),
        .holds = BONDS("bonds-neutral yes "),
        .open = BONDS(""),
        .kinds = {KIND_INVERTER, KIND_GENERATOR},
        .judge = judge_neutral_bond,
    },
    {
        .name = "one-source",
        .severity = SEVERITY_FAULT,
        .title = "two sources of alternating current never meet",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "us: voluntary practice (ABYC E-11); iso: ISO 13297; both from memory",
        .why = "Two sources out of step destroy each other, and a plug of the shore cable becomes live in "
               "somebody's hand. A transfer switch that opens one before it closes the other, neutral too, "
               "keeps them apart; an inverter may have one inside.",
        .breaks = TWO_SOURCES("panel ac-main { fed-by shore, genset; run 1 m; protect 30 A breaker }\n"),
        .holds = TWO_SOURCES("switch changeover { works-as transfer; fed-by shore, genset }\n"
                             "panel ac-main { fed-by changeover; run 1 m; protect 30 A breaker }\n"),
        .open = EXAMPLE_BOAT HOUSE FULL_INLET
                INVERTER("1000 W", "2/0", "150 A", "passes shore "),
        .judge_boat = judge_one_source,
    },
    {
        .name = "earth",
        .severity = SEVERITY_FAULT,
        .title = "a grounding conductor, thick enough to open the breaker, runs with every cable of "
                 "alternating current",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "us: NEC Table 250.122, by the rating of the protection; iso: as thick as the live "
                  "conductors up to 16 mm2, then 16 mm2, then half of them, IEC 60364-5-54, from memory",
        .why = "In a fault the grounding conductor carries as much as the live one, until the breaker "
               "opens. Too thin, it burns first, and what it was to make safe becomes live.",
        .breaks = INLET("protect 30 A breaker; wire 10 AWG; ground 14 AWG "),
        .holds = INLET("protect 30 A breaker; wire 10 AWG; ground 10 AWG "),
        .open = INLET("protect 30 A breaker; wire 10 AWG "),
        .kinds = {KIND_INLET},
        .judge = judge_inlet_earth,
        .judge_feed = judge_feed_earth,
    },
    {
        .name = "earth-bond",
        .severity = SEVERITY_FAULT,
        .title = "the grounding conductor of the shore inlet is joined to the boat's DC ground",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "ISO 13297:2020 3.4; us: voluntary practice (ABYC E-11), the same, from memory",
        .why = "A fault from mains to the DC system, in a charger say, makes engine, propeller and fuel "
               "pipes live unless the two grounds are one. The galvanic currents that the bond lets in are "
               "the isolator's business, never a reason to leave it out.",
        .breaks = INLET("bonded no "),
        .holds = INLET("bonded yes "),
        .open = INLET(""),
        .kinds = {KIND_INLET},
        .judge = judge_earth_bond,
    },
    {
        .name = "shore-isolation",
        .severity = SEVERITY_WARNING,
        .title = "a galvanic isolator or a transformer keeps the marina's currents out of the underwater "
                 "metal",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "common practice, no source; what an isolator has to stand: ISO 13297:2020 6.9",
        .why = "By the grounding conductor of the shore cable all boats of a marina are one battery, and "
               "the anodes of one protect the hulls of all the others. An isolator blocks those small "
               "currents and passes the great one of a fault; a transformer leaves no connection at all.",
        .breaks = INLET("isolation none "),
        .holds = INLET("isolation galvanic "),
        .open = INLET(""),
        .kinds = {KIND_INLET},
        .judge = judge_shore_isolation,
    },
    {
        .name = "inverter-feed",
        .severity = SEVERITY_FAULT,
        .title = "cable and protection of an inverter stand its rated power when the bank is low",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "power over efficiency and lowest working voltage, the device 1.25 times that; the "
                  "voltage by chemistry: common practice, no source",
        .why = "An inverter keeps its power up when the voltage falls, by taking more current. At the end "
               "of a bank's charge that is a tenth more than its name suggests, for as long as the kettle "
               "boils. A cable that is too thin is a fault, protection that would open a warning. What "
               "rules of all cables have said already is not said again.",
        .breaks = EXAMPLE_BOAT HOUSE INVERTER("2200 W", "2", "300 A", ""),
        .holds = EXAMPLE_BOAT HOUSE INVERTER("2000 W", "2", "250 A", ""),
        .open = EXAMPLE_BOAT HOUSE INVERTER("2000..2200 W", "2", "300 A", ""),
        .judge_boat = judge_inverter_feed,
    },
};

const RuleFamily rules_shore = RULE_FAMILY("Shore power, inverters and outlets", rules);
