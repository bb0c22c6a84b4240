/*
 * Shore power, inverters and outlets: everything that can kill by alternating current. Each rule carries the
 * mains caution. Cables and their protection are judged with all others (rules_wiring.c); here is what only
 * alternating current asks for.
 */
#include "rules/families.h"

#include "rules/shore.h"

#include <math.h>

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
    Largest largest = largest_on(judge, upstream, inlet, FIGURE_CURRENT);
    finding_say(judge, f, "`%s` can be asked for %s at once, and gives %s%s%s", say_name(judge, inlet),
                say_figure(judge, demand), say_side(judge, rated), demand->remark != NULL ? "; " : "",
                demand->remark != NULL ? demand->remark : "");
    note_largest(judge, f, &largest);
    remedy_together(judge, f, upstream, inlet, side_is_known(rated) ? rated.value.high : INFINITY);
}

/* Outlets draw what is plugged in: what it may come to is estimated, where the spec says how large she is. */
static void judge_load_calculation(Judge *judge, const Entity *inlet)
{
    const Figure *needed = figure_of(judge, inlet, FIGURE_LOAD_CALCULATION);
    if (needed == NULL) {
        return;
    }
    Side rated = inlet_gives(judge, inlet);
    Finding *f =
        judge_at_most(judge, inlet, place_of(judge, inlet, PROP_INLET_RATED), side_figure(needed), rated);
    if (f != NULL) {
        finding_severity(f, SEVERITY_WARNING);
        finding_about(f, PROP_OUTLET_APPLIANCES);
        finding_rests_on(judge, f, inlet, PROP_FEED_PROTECT);
        finding_say(judge, f, "`%s` gives %s, and by the load calculation, outlets included, she needs %s",
                    say_name(judge, inlet), say_side(judge, rated), say_figure(judge, needed));
        finding_remedy(judge, f, "an inlet and a breaker of more current, or a rule aboard of what runs at once");
    }
}

static void judge_shore_demand(Judge *judge)
{
    if (judge->model->first_of_kind[KIND_INLET] == NULL) {
        return;
    }
    const Upstream *upstream = upstream_of(judge);
    for (const Entity *inlet = judge->model->first_of_kind[KIND_INLET]; inlet != NULL;
         inlet = inlet->next_of_kind) {
        if (is_aboard(inlet)) {
            judge_inlet_demand(judge, upstream, inlet);
            judge_load_calculation(judge, inlet);
        }
    }
}

/* one-source */

static void tell_meeting(Judge *judge, const Meeting *m)
{
    Finding *f = judge_broken(judge, m->at, place_of_feed(judge, m->second));
    finding_at(f, m->other);
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
        finding_say(judge, f, "`%s` passes `%s` to what it feeds, and %s transfer switch between the two",
                    say_name(judge, inverter), say_name(judge, passed),
                    f->verdict == VERDICT_BROKEN ? "has no" : "does not say whether it has a");
        finding_note(judge, f, place_of(judge, inverter, PROP_INVERTER_PASSES), "what it passes");
    }
}

/* Sets that are not made for it do not run in step, and each of them joins neutral and ground. */
static void judge_one_generator(Judge *judge, const Entity *generator)
{
    if (!is_aboard(generator) || generator->gives == NULL || !entity_states(generator, PROP_COMMON_COUNT)) {
        return;
    }
    Side count = side_value(judge, generator, PROP_COMMON_COUNT, 0);
    Finding *f = judge_at_most(judge, generator, place_of(judge, generator, PROP_COMMON_COUNT), count, side_number(1.0, count.unit));
    if (f != NULL) {
        finding_say(judge, f, "`%s` is %s generators that feed the same things at once: nothing switches between them",
                    say_name(judge, generator), say_side(judge, count));
        finding_remedy(judge, f, "a `generator` for each, and a `switch` that `works-as transfer`, which is fed by both");
        finding_remedy(judge, f, "one of the power of all together, where their maker joins them by a kit that is made for it");
    }
}

static void judge_one_source(Judge *judge)
{
    for (const Entity *e = judge->model->first_of_kind[KIND_GENERATOR]; e != NULL; e = e->next_of_kind) {
        judge_one_generator(judge, e);
    }
    for (const Meeting *m = meetings_of(judge, SOURCES_ALTERNATING); m != NULL; m = m->next) {
        if (m->with_first) {
            tell_meeting(judge, m);
        }
    }
    for (const Entity *e = judge->model->first_of_kind[KIND_INVERTER]; e != NULL; e = e->next_of_kind) {
        if (is_aboard(e)) {
            judge_passing(judge, e);
        }
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

#define SINGLE_POLE \
    "circuit sockets { fed-by shore; run 2 m; wire 12 AWG; ground 12 AWG; protect 20 A breaker; poles 1 }\n"
#define PASSING(output) EXAMPLE_BOAT HOUSE FULL_INLET \
    "inverter sine { fed-by house; run 1 m; protect 150 A fuse class-t 0.2 m from source; rated 1000 W; " \
    "output " output "; passes shore; transfer yes; bonds-neutral yes }\n"
#define KETTLES(rated, lines) EXAMPLE_BOAT HOUSE INVERTER(rated, "2/0", "300 A", lines) \
    "outlet socket { fed-by sine; run 2 m; protect 15 A breaker }\n" \
    "load kettle { fed-by socket; draw 1500 W }\n"
#define GENSET(rated) EXAMPLE_BOAT \
    "generator genset { rated " rated " at 120 V; bonds-neutral yes; feeds ac-main { run 1 m; " \
    "wire 10 AWG; ground 10 AWG; protect 30 A breaker } }\n" \
    "panel ac-main { }\n" \
    "load cooker { fed-by ac-main; run 2 m; wire 12 AWG; ground 12 AWG; protect 20 A breaker; draw 1800 W }\n"

#define MAINS_THROUGH_ENGINE(wire) EXAMPLE_BOAT FULL_INLET AC_PANEL "space engine-room { engine-space yes }\n" \
    "load cooker { fed-by ac-main; run 2 m; " wire "; ground 12 AWG; protect 20 A breaker; draw 900 W; " \
    "through engine-room }\n"

static const Rule rules[] = {
    {
        .name = "shore-demand",
        .severity = SEVERITY_FAULT,
        .title = "no more is asked of a shore inlet than it gives",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "the rating of the supply; what runs at once: common practice, from memory; the load "
                  "calculation: US boats (ABYC E-11, NFPA 302), from memory",
        .why = "A plug that carries too much for hours chars in its socket, where nobody sees it. What can "
               "be asked at once is all that hangs on the inlet, also by way of an inverter that passes it "
               "through, or the share of a panel that its owner states by `together`. Named is what has to be "
               "off for the rest to fit. Outlets draw what is plugged in: where spaces state their `floor`, "
               "what that may come to is estimated, and the rule warns by that.",
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
               "or on everything that the inlet feeds. What hangs behind an isolation transformer leaks nothing to the shore; what "
               "guards a person there is asked by `outlet-leakage`. Test its button every month.",
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
                  "iso: ISO 13297:2020, 30 mA (10 mA in an older edition, from memory); behind a transformer: that what leaks "
                  "returns to what it came from, Kirchhoff",
        .why = "Wet hands and a grounded tap make the surest way through a person. The nearest device on "
               "each way of power to the outlet counts, from the inverter as well as from the shore. The device of an inlet with "
               "a transformer stands before that, and what leaks behind returns to the transformer, unseen: there only one "
               "behind it counts. An engine space is one of them, whatever its `wet` says. An outlet that says neither where it is nor how it is guarded is left open.",
        .breaks = OUTLET("space galley { wet yes }\n", "ground-fault 30 mA "),
        .holds = OUTLET("space galley { wet yes }\n", "ground-fault 5 mA "),
        .open = OUTLET("space galley { volume 8 m3 }\n", ""),
        .judge_boat = judge_outlet_leakage,
    },
    {
        .name = "neutral-bond",
        .severity = SEVERITY_FAULT,
        .title = "neutral meets ground at the source in use, and nowhere else",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "ISO 13297:2020 6.8; us: voluntary practice (ABYC E-11), the same",
        .why = "Without that bond a fault to the case of something has no way back: no breaker opens, and "
               "the case stays live. With shore power the bond is ashore and nowhere aboard, so the one "
               "aboard has to open when the shore takes over: a transfer switch switches the neutral too. (Behind a transformer "
               "aboard the bond is at the transformer.) A portable source is let off while it feeds no more than leads with a thing or "
               "two on them; one that is plugged into an inlet, or leads to a panel, a switch or an outlet, is asked like a fixed one.",
        .breaks = BONDS("bonds-neutral no "),
        .holds = BONDS("bonds-neutral yes "),
        .open = BONDS(""),
        .kinds = {KIND_INVERTER, KIND_GENERATOR, KIND_SWITCH},
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
               "keeps them apart; an inverter may have one inside. Two generators that are written as one with `count 2` "
               "are two sources.",
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
        .title = "the grounding conductor of a shore inlet, and of an inverter, is joined to the boat's DC ground",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "ISO 13297:2020 3.4; us: voluntary practice (ABYC E-11), the same, from memory",
        .why = "A fault from mains to the DC system, in a charger say, makes engine, propeller and fuel "
               "pipes live unless the two grounds are one. The galvanic currents that the bond lets in are "
               "the isolator's business, never a reason to leave it out. Behind an isolation transformer the boat's grounding "
               "conductor begins at the transformer, and it is that one which is joined: the shore's ends there and is joined to "
               "nothing aboard, or the transformer would isolate nothing. Where both poles of the direct current are insulated "
               "(`direct-current insulated`, ISO 10133:2012 4.1, second hand) there is no DC ground: then the grounding conductor "
               "goes to the hull, and that is what `bonded yes` says.",
        .breaks = INLET("bonded no "),
        .holds = INLET("bonded yes "),
        .open = INLET(""),
        .kinds = {KIND_INLET, KIND_INVERTER},
        .judge = judge_earth_bond,
    },
    {
        .name = "shore-isolation",
        .severity = SEVERITY_FAULT,
        .title = "a galvanic isolator or a transformer keeps the marina's currents out of the underwater "
                 "metal",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "common practice, no source; what an isolator has to stand: ISO 13297:2020 6.9",
        .why = "By the grounding conductor of the shore cable all boats of a marina are one battery, and "
               "the anodes of one protect the hulls of all the others. An isolator blocks those small "
               "currents and passes the great one of a fault; a transformer leaves no connection at all. A hull of aluminium or "
               "steel is itself what is eaten, and can be holed in a season: there it is a fault.",
        .breaks = INLET("isolation none "),
        .holds = INLET("isolation galvanic "),
        .open = INLET(""),
        .kinds = {KIND_INLET},
        .judge = judge_shore_isolation,
    },
    {
        .name = "shore-polarity",
        .severity = SEVERITY_WARNING,
        .title = "a light tells when line and neutral of the shore have changed places, where it matters",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "ISO 13297:2020 6.10; us: voluntary practice (ABYC E-11), the same, from memory",
        .why = "A breaker that opens one conductor opens the wrong one if the pontoon's socket is wired the "
               "wrong way round: everything stops, and stays live. A fuse always opens one. Behind a transformer, or "
               "where each breaker opens line and neutral together (`poles 2`), it does not matter.",
        .breaks = INLET("polarity-indicator no ") SINGLE_POLE,
        .holds = INLET("polarity-indicator yes ") SINGLE_POLE,
        .open = INLET("") SINGLE_POLE,
        .judge_boat = judge_shore_polarity,
    },
    {
        .name = "ac-wire",
        .severity = SEVERITY_FAULT,
        .title = "mains cables have the insulation, the conductors and the room that they need",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "insulation of 75 C (us: ABYC E-11) or 70 C (iso: ISO 13297) in engine spaces, 60 C elsewhere: from memory; "
                  "conductors as one, us: NEC 310.10(G), 1/0 AWG and thicker, from memory; factors of a bundle, us: 33 CFR "
                  "183.425 note 2 and 183.435(b), iso: from memory",
        .why = "What is to keep mains voltage in must not soften where the engine keeps its space hot. Of thin conductors laid "
               "as one the better joint takes most of the current. Cables that lie together warm each other: `wire-overloaded` "
               "judges a cable by its `bundle`; where none is said it takes the cable to lie alone, and this rule tells where "
               "that is what the cable lives on. From three loaded conductors (us; iso from four) it carries less.",
        .breaks = MAINS_THROUGH_ENGINE("wire 12 AWG insulation 60 C"),
        .holds = MAINS_THROUGH_ENGINE("wire 12 AWG insulation 105 C"),
        .open = MAINS_THROUGH_ENGINE("wire 10 AWG"),
        .judge_feed = judge_ac_wire,
    },
    {
        .name = "ac-voltage",
        .severity = SEVERITY_FAULT,
        .title = "what can feed the same things gives the same voltage, and what hangs on it is made for that",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "common practice, no source: voltages 10 % apart at most, frequencies 5 %; 120 V 60 Hz and 230 V 50 Hz are "
                  "both at home afloat",
        .why = "A transfer switch, or an inverter that passes the shore through, puts either source on the same "
               "outlets. At twice the voltage what is plugged in burns, at half of it motors stall and burn. At another "
               "frequency, a warning for what is not a source, motors run too fast or too hot. A thing counts by what it is "
               "`made-for`.",
        .breaks = PASSING("230 V"),
        .holds = PASSING("120 V"),
        .open = PASSING("120..230 V"),
        .judge_boat = judge_ac_voltage,
    },
    {
        .name = "inverter-overloaded",
        .severity = SEVERITY_WARNING,
        .title = "an inverter carries what can be asked of it, and starts it",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "its rating; a surge: the maker's line, common practice, no source",
        .why = "An inverter that is asked for too much shuts down, and with it everything behind it. All that "
               "hangs on it counts at once, or `together` of its panel; then what starts hardest as it starts. "
               "Without a `surge` of its own an inverter is not known to give more than it is rated for.",
        .breaks = KETTLES("1000 W", ""),
        .holds = KETTLES("2000 W", ""),
        .open = KETTLES("1000..2000 W", ""),
        .kinds = {KIND_INVERTER},
        .judge = judge_inverter_overloaded,
    },
    {
        .name = "generator-overloaded",
        .severity = SEVERITY_WARNING,
        .title = "a generator carries what can be asked of it",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "its rating; what runs at once: common practice, from memory",
        .why = "A generator that is asked for too much slows down, and low voltage and frequency burn motors; or "
               "it trips. All that it can feed counts at once, or `together` of its panel.",
        .breaks = GENSET("1000 W"),
        .holds = GENSET("3500 W"),
        .open = GENSET("1000..3500 W"),
        .kinds = {KIND_GENERATOR},
        .judge = judge_generator_overloaded,
    },
    {
        .name = "inverter-feed",
        .severity = SEVERITY_FAULT,
        .title = "cable and protection of an inverter stand its rated power when the bank is low",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "power over efficiency and lowest working voltage, the device 1.25 times that; the "
                  "voltage by chemistry, and that a device carries twice its rating for seconds: common "
                  "practice, no source",
        .why = "An inverter keeps its power up when the voltage falls, by taking more current. At the end "
               "of a bank's charge that is a tenth more than its name suggests, for as long as the kettle "
               "boils. A cable that is too thin is a fault; protection that would open, for long or by a surge "
               "of seconds, a warning. What such a cable and device carry in normal use is less, and the rules of all "
               "cables leave it to this one.",
        .breaks = EXAMPLE_BOAT HOUSE INVERTER("2200 W", "2", "300 A", ""),
        .holds = EXAMPLE_BOAT HOUSE INVERTER("2000 W", "2", "250 A", ""),
        .open = EXAMPLE_BOAT HOUSE INVERTER("2000..2200 W", "2", "300 A", ""),
        .kinds = {KIND_INVERTER},
        .judge = judge_inverter_feed,
    },
};

const RuleFamily rules_shore = RULE_FAMILY("Shore power, inverters and outlets", rules);
