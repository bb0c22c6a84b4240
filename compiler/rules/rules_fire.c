/*
 * Gas and fire: lockers that drain, gas that can be shut off, flames that do not leave gas behind, and
 * extinguishers; alarms are in fire_alarms.c.
 */
#include "rules/plumbing.h"

#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "figures/joints.h"
#include "physics/fire.h"
#include "rules/dates.h"
#include "rules/families.h"
#include "rules/fire.h"

#include "model/status.h"

/* ---- gas-locker, gas-drain, gas-place, gas-gauge, gas-shut, gas-flame --------------------------------------------- */

/* The spec has no locker at all. Where gas is on board already it is a fault; where it is planned, nobody may have come to it. */
static void judge_lockerless(Judge *judge, const Entity *appliance)
{
    bool is_fitted = thing_status(appliance) == STATUS_FITTED;
    Finding *finding = is_fitted ? judge_broken(judge, appliance, place_of_name(judge, appliance))
                                 : judge_open(judge, appliance, place_of_name(judge, appliance), NULL, PROP_NONE);
    finding_say(judge, finding,
                "`%s` burns gas%s, and the spec states no gas locker: a cylinder anywhere else leaks into the boat",
                say_name(judge, appliance), is_fitted ? " and is fitted" : "");
    if (!is_fitted) {
        finding_hangs_on(judge, finding, judge->model->boat, PROP_NONE, "gas-locker");
    }
    finding_remedy(judge, finding, "a `gas-locker` with `drained-overboard yes`, and `locker` with its name on `%s`",
                   say_name(judge, appliance));
}

static void judge_gas_locker(Judge *judge, const Entity *appliance)
{
    const Entity *first = first_aboard(judge->model, KIND_GAS_LOCKER);
    if (entity_reference(appliance, PROP_GAS_APPLIANCE_LOCKER) != NULL) {
        judge_holds(judge);
    } else if (has_mistake(appliance, PROP_GAS_APPLIANCE_LOCKER) || some_is_mistaken(judge, KIND_GAS_LOCKER) ||
               thing_status(appliance) == STATUS_WAITING) {
        judge_waiting(judge);
    } else if (first == NULL) {
        judge_lockerless(judge, appliance);
    } else if (next_aboard(first) == NULL) {
        judge_holds(judge); /* there is but one that it can come from */
    } else {
        Finding *finding =
            judge_open(judge, appliance, place_of_name(judge, appliance), appliance, PROP_GAS_APPLIANCE_LOCKER);
        finding_say(judge, finding, "`%s` burns gas, and does not say from which of the gas lockers it comes",
                    say_name(judge, appliance));
        finding_remedy(judge, finding, "`locker` with the name of one, such as `locker %s`", say_name(judge, first));
    }
}

/* A locker drains over the side, by a bore that is wide enough. */
static void judge_gas_drain(Judge *judge, const Entity *locker)
{
    int drained = entity_yes(locker, PROP_GAS_LOCKER_DRAINED_OVERBOARD);
    Finding *finding = judge_yes(judge, locker, PROP_GAS_LOCKER_DRAINED_OVERBOARD, "a drain");
    if (finding != NULL) {
        finding_say(judge, finding,
                    drained == 0 ? "gas that leaks in `%s` does not drain over the side"
                                 : "`%s` does not say whether gas that leaks in it drains over the side",
                    say_name(judge, locker));
        return;
    }
    if (drained != 1) {
        return; /* it rests on a mistake */
    }
    GasBore least = gas_drain_bore(judge->basis);
    UnitPair unit = unit_of(locker, PROP_GAS_LOCKER_DRAIN, bore_unit(judge));
    double least_m = nominal_bore_m(least.least_m, unit);
    Side drain = side_value(judge, locker, PROP_GAS_LOCKER_DRAIN, 0);
    if (drain.state == STATE_MISSING) {
        finding = judge_open(judge, locker, place_of_name(judge, locker), locker, PROP_GAS_LOCKER_DRAIN);
        finding_say(judge, finding, "`%s` does not say how wide its drain is", say_name(judge, locker));
    } else {
        Side limit = side_number(least_m, unit);
        finding = judge_at_least(judge, locker, place_of(judge, locker, PROP_GAS_LOCKER_DRAIN), drain, limit);
        if (finding == NULL) {
            return;
        }
        finding_say(judge, finding, "the drain of `%s` is %s wide; %s is the least", say_name(judge, locker),
                    say_side(judge, drain), say_side(judge, limit));
        finding_severity(finding, SEVERITY_WARNING);
    }
    finding_here(judge, finding, "%s", least.source);
    finding_remedy(judge, finding, "drain %s", say_made(judge, MADE_HOSE, least_m, unit));
}

/* Why gas that leaks in a locker there would stay in the boat; NULL: nothing that the space says of itself. */
static const char *shut_in(const Judge *judge, const Entity *space)
{
    if (entity_yes(space, PROP_SPACE_SLEEPING) == 1) {
        return "people sleep in it";
    }
    if (is_machinery_space(judge->model, space)) {
        return "an engine is in it";
    }
    for (const Entity *e = first_aboard(judge->model, KIND_GAS_APPLIANCE); e != NULL; e = next_aboard(e)) {
        if (entity_reference(e, PROP_COMMON_SPACE) == space) {
            return text_format(judge->arena, "`%s` burns in it", say_name(judge, e));
        }
    }
    if (is_cabin(space)) {
        return "it is a cabin: it states `skin`, `glass` or `built`";
    }
    return entity_yes(space, PROP_SPACE_OPEN_AIR) == 0 ? "it is not open to the sky" : NULL;
}

static void judge_gas_space(Judge *judge, const Entity *locker, const Entity *space)
{
    int open_air = entity_yes(space, PROP_SPACE_OPEN_AIR);
    const char *why = open_air == 1 ? NULL : shut_in(judge, space);
    if (open_air == 1) {
        judge_holds(judge);
        return;
    }
    if (open_air == -2 || (why == NULL && entity_yes(space, PROP_SPACE_SLEEPING) == -2)) {
        judge_waiting(judge);
        return;
    }
    Span place = place_of(judge, locker, PROP_COMMON_SPACE);
    Finding *finding = why != NULL ? judge_broken(judge, locker, place)
                                   : judge_open(judge, locker, place, space, PROP_SPACE_OPEN_AIR);
    finding_about(finding, PROP_COMMON_SPACE);
    if (why != NULL) {
        finding_say(judge, finding, "`%s` stands in `%s`, and %s: gas that leaks there stays in the boat", say_name(judge, locker),
                    say_name(judge, space), why);
    } else {
        finding_say(judge, finding, "`%s` stands in `%s`, which does not say whether it is open to the sky",
                    say_name(judge, locker), say_name(judge, space));
    }
    finding_note(judge, finding, place_of_name(judge, space), "the space");
    finding_remedy(judge, finding, "a locker that opens to the open air alone, in a `space` with `open-air yes` or in none");
}

/* What falls out of it leaves below it, and from under water nothing does. */
static void judge_gas_height(Judge *judge, const Entity *locker)
{
    Side height = side_value(judge, locker, PROP_COMMON_AT, 2);
    if (height.state == STATE_MISSING || entity_yes(locker, PROP_GAS_LOCKER_DRAINED_OVERBOARD) != 1) {
        return;
    }
    static const double above_m = 1e-6; /* at the water itself is none */
    Finding *finding = judge_at_least(judge, locker, place_of(judge, locker, PROP_COMMON_AT), height, side_number(above_m, height.unit));
    if (finding != NULL) {
        finding_about(finding, PROP_COMMON_AT);
        finding_say(judge, finding, "`%s` is placed at %s, the waterline being 0: from there no gas drains over the side",
                    say_name(judge, locker), say_side(judge, height));
        finding_remedy(judge, finding, "a place from which its drain falls all the way to an outlet above the water");
    }
}

static void judge_gas_place(Judge *judge, const Entity *locker)
{
    const Entity *space = entity_reference(locker, PROP_COMMON_SPACE);
    if (has_mistake(locker, PROP_COMMON_SPACE)) {
        judge_waiting(judge);
    } else if (space != NULL) {
        judge_gas_space(judge, locker, space);
    }
    judge_gas_height(judge, locker);
}

static void judge_gas_gauge(Judge *judge, const Entity *locker)
{
    Finding *finding = judge_yes(judge, locker, PROP_GAS_LOCKER_GAUGE, "a gauge before the regulator");
    if (finding != NULL && finding->verdict == VERDICT_BROKEN) {
        finding_say(judge, finding, "without a gauge nothing shows a leak in the gas line from `%s`",
                    say_name(judge, locker));
    }
}

static void judge_gas_shut(Judge *judge, const Entity *locker)
{
    Finding *finding = judge_yes(judge, locker, PROP_GAS_LOCKER_SHUT_OFF, "a shut-off");
    if (finding != NULL) {
        finding_say(judge, finding,
                    finding->verdict == VERDICT_BROKEN
                        ? "the gas of `%s` cannot be shut off from beside what burns it"
                        : "`%s` does not say whether its gas can be shut off from beside what burns it",
                    say_name(judge, locker));
    }
}

static void judge_gas_flame(Judge *judge, const Entity *appliance)
{
    Finding *finding =
        judge_yes(judge, appliance, PROP_GAS_APPLIANCE_FLAME_FAILURE, "a flame failure device");
    if (finding != NULL && finding->verdict == VERDICT_BROKEN) {
        finding_say(judge, finding, "when the flame of `%s` goes out, the gas goes on",
                    say_name(judge, appliance));
    }
}

/* ---- extinguisher-missing ------------------------------------------------------------------------------ */

static void note_extinguishers(Judge *judge, Finding *finding)
{
    for (const Entity *e = first_aboard(judge->model, KIND_EXTINGUISHER); e != NULL; e = next_aboard(e)) {
        if (has_expired(judge->figures, e)) {
            finding_note(judge, finding, place_of(judge, e, PROP_EXTINGUISHER_EXPIRES),
                         "its date has passed, so it does not count");
        } else if (entity_yes(e, PROP_EXTINGUISHER_FIXED) == 1 &&
                   !is_machinery_space(judge->model, entity_reference(e, PROP_COMMON_SPACE))) {
            finding_note(judge, finding, place_of_name(judge, e),
                         "a fixed system counts in the engine's space");
        }
    }
}

/* One that is to be carried and does not say its rating; NULL if there is none. */
static const Entity *find_unrated(const Judge *judge)
{
    const Entity *e = first_aboard(judge->model, KIND_EXTINGUISHER);
    while (e != NULL && (entity_states(e, PROP_EXTINGUISHER_RATING) || has_expired(judge->figures, e) ||
                         entity_yes(e, PROP_EXTINGUISHER_FIXED) == 1)) {
        e = next_aboard(e);
    }
    return e;
}

/* What is asked is law of the one basis, and the nearest table at hand for the other. */
static void say_table(Judge *judge, Finding *finding)
{
    if (judge->basis == BASIS_ISO) {
        finding_severity(finding, SEVERITY_WARNING);
        finding_here(judge, finding,
                     "33 CFR 175.320 as a benchmark: the figures of ISO 9094 were not at hand");
    }
}

static void judge_extinguisher_missing(Judge *judge)
{
    const Entity *boat = judge->model->boat;
    const Figure *need = figure_of(judge, boat, FIGURE_EXTINGUISHERS_NEED);
    const Figure *have = figure_of(judge, boat, FIGURE_EXTINGUISHERS);
    const Entity *first = first_aboard(judge->model, KIND_EXTINGUISHER);
    const Entity *unrated = find_unrated(judge);
    Finding *finding;
    if (need == NULL || have == NULL) {
        return; /* nothing burns, or the table has no figure for that length */
    }
    if (some_is_mistaken(judge, KIND_EXTINGUISHER)) {
        judge_waiting(judge);
        return;
    }
    Span place = first != NULL ? place_of_name(judge, first) : place_of_name(judge, boat);
    if (first == NULL && need->state == STATE_KNOWN) {
        finding = judge_open(judge, boat, place, NULL, PROP_NONE);
        finding_hangs_on(judge, finding, boat, PROP_NONE, "extinguisher");
        finding_say(judge, finding,
                    "the spec states no fire extinguisher; for a boat of %s %s of 5-B or more is asked",
                    say_side(judge, side_value(judge, boat, PROP_BOAT_LENGTH, 0)), say_figure(judge, need));
    } else if (unrated != NULL && have->state != STATE_WAITING) {
        finding = judge_open(judge, boat, place_of_name(judge, unrated), unrated, PROP_EXTINGUISHER_RATING);
        finding_say(judge, finding, "`%s` does not say how it is rated", say_name(judge, unrated));
        finding_remedy(judge, finding, "`rating`, as its plate says it");
        return;
    } else {
        finding = judge_at_least(judge, boat, place, side_figure(have), side_figure(need));
        if (finding == NULL) {
            return;
        }
        finding_say(judge, finding,
                    "the extinguishers to carry count for %s of 5-B; for a boat of %s %s is asked",
                    say_figure(judge, have), say_side(judge, side_value(judge, boat, PROP_BOAT_LENGTH, 0)),
                    say_figure(judge, need));
    }
    say_table(judge, finding);
    note_extinguishers(judge, finding);
    finding_remedy(judge, finding, judge->basis == BASIS_ISO ? "an `extinguisher` with `rating 34-B` by EN 3, or `rating 10-B` by a US plate; a 183-B, or a 20-B, counts for two"
                                                             : "an `extinguisher` with `rating 10-B`; a 20-B counts for two");
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define LOCKER(SAYS) EXAMPLE_BOAT "gas-locker deck-box { cylinder 5 kg; " SAYS " }\n"
#define COOKER(SAYS)                                                                                    \
    EXAMPLE_BOAT "gas-locker deck-box { cylinder 5 kg; drained-overboard yes; drain 19 mm; gauge yes; " \
                 "shut-off yes }\n"                                                                     \
                 "space galley { wet yes }\n"                                                           \
                 "gas-appliance cooker { locker deck-box; space galley; " SAYS " }\n"
#define GALLEY(SAYS)                                                                                    \
    EXAMPLE_BOAT "gas-locker deck-box { cylinder 5 kg; drained-overboard yes; drain 19 mm; gauge yes; " \
                 "shut-off yes }\n"                                                                     \
                 "space galley { sleeping no; " SAYS " }\n"                                             \
                 "gas-appliance cooker { locker deck-box; space galley; flame-failure yes; output 4.5 kW }\n"
#define PRIMED(SAYS) \
    EXAMPLE_BOAT "space galley { ventilated yes }\nburner hob { fuel paraffin; output 3 kW; space galley; " SAYS " }\n"
#define CABIN(ALARM) EXAMPLE_BOAT "space cabin { sleeping yes }\nspace saloon { wet yes }\n" ALARM

#define GEYSER(SAYS)                                                                                    \
    EXAMPLE_BOAT "space heads { openings 600 cm2; ventilated yes }\ntoilet loo { worked-by hand; space heads; to holding }\n" \
                 "tank holding { holds black; capacity 60 l }\nthrough-hull flue { bore 60 mm; height 1.2 m; serves geyser }\n" \
                 "gas-appliance geyser { works-as water-heater; output 10 kW; flame-failure yes; space heads; " SAYS " }\n"
#define LOCKERLESS(SAYS) EXAMPLE_BOAT SAYS "gas-appliance cooker { flame-failure yes; fitted 2001-04-27 }\n"

static const Rule rules[] = {
    {.name = "gas-locker",
     .severity = SEVERITY_FAULT,
     .title = "what burns gas takes it from a gas locker",
     .basis = ON_BOTH,
     .danger = DANGER_GAS,
     .source = "US voluntary practice (ABYC A-1) and ISO 10239, both from memory",
     .why = "Valves, regulators and joints at a cylinder leak sooner or later, and the gas is heavier than air. Cylinders, "
            "full and empty ones and those that are carried aboard as spares, stand in a locker that is tight towards "
            "the boat, opens to the open air alone and drains over the side, or on deck where the gas falls overboard; "
            "such a place is a `gas-locker` too. A fault where what burns it is fitted and the spec states no locker; "
            "open where it is not aboard yet, and where there are several and it does not say from which it comes.",
     .breaks = LOCKERLESS(""),
     .holds = LOCKERLESS("gas-locker deck-box { cylinder 5 kg; drained-overboard yes; drain 19 mm; gauge yes; shut-off yes }\n"),
     .open = EXAMPLE_BOAT "gas-appliance cooker { flame-failure yes }\n",
     .kinds = {KIND_GAS_APPLIANCE},
     .judge = judge_gas_locker},
    {.name = "gas-drain",
     .severity = SEVERITY_FAULT,
     .title = "a gas locker drains over the side, by a bore that is wide enough",
     .basis = ON_BOTH,
     .danger = DANGER_GAS,
     .source =
         "us: voluntary practice (ABYC A-1, from surveyors' summaries), 1/2 in (12.7 mm); iso: ISO 10239, "
         "19 mm, from memory",
     .why = "Cooking gas is heavier than air. In a locker that is tight towards the boat and drains over the "
            "side above the waterline a leak falls into the open; anywhere else it lies in the bilge until a "
            "spark finds it. The drain leaves from the lowest point, and its outlet stands well away from "
            "every opening into the boat (510 mm, second hand), which a spec does not say. A drain that is "
            "too narrow is a warning.",
     .breaks = LOCKER("drained-overboard no; gauge yes; shut-off yes"),
     .holds = LOCKER("drained-overboard yes; drain 19 mm; gauge yes; shut-off yes"),
     .open = LOCKER("drained-overboard yes; gauge yes; shut-off yes"),
     .kinds = {KIND_GAS_LOCKER},
     .judge = judge_gas_drain},
    {.name = "gas-place",
     .severity = SEVERITY_FAULT,
     .title = "a gas locker stands in the open air, above the waterline",
     .basis = ON_BOTH,
     .danger = DANGER_GAS,
     .source = "US voluntary practice (ABYC A-1) and ISO 10239, both from memory: it is tight towards the boat, opens to the "
               "open air alone, and its drain leaves above the waterline",
     .why = "What leaks has to fall out of the boat. A locker in a space where people sleep, where an engine is or gas burns, in "
            "a cabin or in any space that is not open to the sky opens into the boat, whatever its drain does; and from a "
            "locker whose place, `at`, is at the waterline or under it nothing falls over the side. A space that does not say "
            "whether it is open to the sky leaves it open. One that stands in no `space` is taken to open on deck.",
     .breaks = LOCKER("drained-overboard yes; space cabin") "space cabin { sleeping yes }\n",
     .holds = LOCKER("drained-overboard yes; space cockpit; at 8 m 0.4 m 0.3 m") "space cockpit { open-air yes }\n",
     .open = LOCKER("drained-overboard yes; space aft-locker") "space aft-locker { volume 0.2 m3 }\n",
     .kinds = {KIND_GAS_LOCKER},
     .judge = judge_gas_place},
    {.name = "gas-gauge",
     .severity = SEVERITY_WARNING,
     .title = "a gauge on the cylinder's side of the regulator shows a leak",
     .basis = ON_BOTH,
     .danger = DANGER_GAS,
     .source =
         "US voluntary practice (ABYC A-1, from surveyors' summaries); on iso the same as common practice",
     .why = "Open the cylinder, everything else shut, read the gauge, shut the cylinder: it must not fall in "
            "three minutes (from memory). That test, once a month, finds a leak that no nose does.",
     .breaks = LOCKER("drained-overboard yes; drain 19 mm; gauge no; shut-off yes"),
     .holds = LOCKER("drained-overboard yes; drain 19 mm; gauge yes; shut-off yes"),
     .open = LOCKER("drained-overboard yes; drain 19 mm; shut-off yes"),
     .kinds = {KIND_GAS_LOCKER},
     .judge = judge_gas_gauge},
    {.name = "gas-shut",
     .severity = SEVERITY_FAULT,
     .title = "the gas can be shut off from beside what burns it",
     .basis = ON_BOTH,
     .danger = DANGER_GAS,
     .source = "US voluntary practice (ABYC A-1, from surveyors' summaries); iso: ISO 10239, from memory",
     .why = "When a pan burns or a hose fails nobody climbs to the locker on deck. A valve, or a switch for "
            "one in the locker, stands where it is reached without leaning over the flames; the cylinder is "
            "shut as well whenever the cook is done.",
     .breaks = LOCKER("drained-overboard yes; drain 19 mm; gauge yes; shut-off no"),
     .holds = LOCKER("drained-overboard yes; drain 19 mm; gauge yes; shut-off yes"),
     .open = LOCKER("drained-overboard yes; drain 19 mm; gauge yes"),
     .kinds = {KIND_GAS_LOCKER},
     .judge = judge_gas_shut},
    {.name = "gas-flame",
     .severity = SEVERITY_FAULT,
     .title = "the gas stops when a flame goes out",
     .basis = ON_BOTH,
     .danger = DANGER_GAS,
     .source = "ISO 10239, from memory; on us common practice, no source",
     .why = "A draught or an overflowing pot blows out a burner, and the gas flows on, downwards. A flame "
            "failure device on each burner shuts it within a minute.",
     .breaks = COOKER("flame-failure no"),
     .holds = COOKER("flame-failure yes"),
     .open = COOKER(""),
     .kinds = {KIND_GAS_APPLIANCE},
     .judge = judge_gas_flame},
    {.name = "gas-flue",
     .severity = SEVERITY_FAULT,
     .title = "gas that burns unwatched sends its fumes overboard, and does not burn the air of those who wash or sleep",
     .basis = ON_BOTH,
     .danger = DANGER_GAS,
     .source = "ISO 10239:2025, 7.5 and 7.6, from a summary of that edition (second hand); that the way out is stated, and of where "
               "people sleep: common practice, no source",
     .why = "A cooker burns while somebody stands before it. A water heater, a cabin heater or a refrigerator burns by itself, and "
            "what it leaves kills asleep, or under the shower: its fumes go overboard by a fitting that `serves` it, and where there is "
            "a toilet or a shower it is room-sealed. Where people sleep that is a warning. Elsewhere one with an open flue has to shut "
            "itself off when oxygen falls, by the same summary: no word says so here, look at its plate. What says `room-sealed yes`, "
            "or heats water that is led to it, is no cooker; else `works-as` says what it is.",
     .breaks = GEYSER("room-sealed no"),
     .holds = GEYSER("room-sealed yes"),
     .open = GEYSER(""),
     .kinds = {KIND_GAS_APPLIANCE},
     .judge = judge_gas_flue},
    {.name = "gas-line",
     .severity = SEVERITY_FAULT,
     .title = "gas is led by pipes and hoses that are made for it",
     .basis = ON_BOTH,
     .danger = DANGER_GAS,
     .source = "ISO 10239 and ABYC A-1, both from memory: copper or stainless pipe, and hose that is marked for the gas; end fittings that "
               "are permanently attached: ABYC A-1 (1993, incorporated by 46 CFR 184.240) A-1.9.3, second hand",
     .why = "Hose for water or fuel swells in gas, lets it through and hardens. A pipe from a locker to what burns the gas is "
            "stated as a `hose` with `grade gas`, and so is each piece of it where a tester, an elbow or a T (an `item`) stands in it. Hose for gas is bought with its end fittings made on it: where `clamps` hold it, that is a warning, and none "
            "are listed. Whether it is held, sleeved where it passes a bulkhead, tight and in date is "
            "for who is licensed to work on gas: none of that is looked at.",
     .breaks = COOKER("flame-failure yes") "hose gas-pipe { from deck-box; to cooker; bore 8 mm; run 3 m; grade water }\n",
     .holds = COOKER("flame-failure yes") "hose gas-pipe { from deck-box; to cooker; bore 8 mm; run 3 m; grade gas }\n",
     .open = COOKER("flame-failure yes") "hose gas-pipe { from deck-box; to cooker; bore 8 mm; run 3 m }\n",
     .kinds = {KIND_HOSE, KIND_FUEL_LINE},
     .judge = judge_gas_line},
    {.name = "flame-air",
     .severity = SEVERITY_FAULT,
     .title = "air comes by itself to where a flame takes it from the cabin",
     .basis = ON_BOTH,
     .danger = DANGER_GAS,
     .source = "that fixed openings belong there, high and low: ISO 10239 and ABYC A-26, from memory; their area: PD 5482-3, and BS "
               "8511 for stoves, as a scheme for inland boats prints them (second hand): 2200 mm2 for each kW of gas, taken for a `burner` without a "
               "flue too, 550 mm2 for each kW that a stove gives, and 650 mm2 for each person",
     .why = "A flame in a closed cabin uses up the oxygen, and then makes carbon monoxide, of which nobody wakes. A space that says "
            "`ventilated no`, or `openings` of nothing, is a fault; one that says neither is open. Where the `openings` are stated, "
            "their area is held against what burns there and her crew, as a warning; what states no `output` counts as nothing "
            "where that alone asks for more, and else leaves it open. "
            "What says `room-sealed yes` draws its air from outside, and is not asked. Gas, wood and coal are taken to burn what is "
            "in the cabin, and so is each `burner`, which is asked for its space as well; a heater for diesel or petrol has to say which it is, for a drip stove does and one with pipes for both "
            "ways does not. What burns in the open air, or in no `space`, is not asked.",
     .breaks = GALLEY("ventilated no"),
     .holds = GALLEY("openings 120 cm2"),
     .open = GALLEY("wet yes"),
     .kinds = {KIND_GAS_APPLIANCE, KIND_BURNER, KIND_HEATER},
     .judge = judge_flame_air},
    {.name = "flame-pan",
     .severity = SEVERITY_WARNING,
     .title = "what is primed with burning spirit or paraffin stands in a pan",
     .basis = ON_BOTH,
     .danger = DANGER_FIRE,
     .source = "46 CFR 25.45-1(b)(2), (c)(1) and 25.45-2(a): a pan of at least 3/4 in (19 mm), verified (boats that carry passengers for "
               "hire: a benchmark for others); the rest: common practice, no source",
     .why = "Who opens the valve before the cup has burned out gets a jet of liquid that burns; what runs over burns where it lies, and a "
            "flame of spirit is hardly seen by day. It is filled cold, with every flame out, and never from a can above another that "
            "burns; spirit is put out with plenty of water, paraffin and diesel are spread by it: a blanket is at hand. Petrol is no "
            "fuel to cook, heat or light with: 46 CFR 184.202(a) forbids it aboard small passenger vessels (verified). What has a wick "
            "or an open can says `primed no`.",
     .breaks = PRIMED("primed yes; pan 10 mm"),
     .holds = PRIMED("primed yes; pan 20 mm"),
     .open = PRIMED("primed yes"),
     .kinds = {KIND_BURNER},
     .judge = judge_flame_pan},
    {.name = "alarm-missing",
     .chapter = SYSTEM_SAFETY,
     .severity = SEVERITY_FAULT,
     .title = "alarms warn of carbon monoxide and smoke where people sleep, and of gas where it burns",
     .basis = ON_BOTH,
     .danger = DANGER_FIRE,
     .source = "carbon monoxide in each space to sleep in, on us in the main cabin too: US voluntary practice (ABYC A-24) "
               "and ISO 12133, both from memory; smoke and gas: common practice, no source; beside a stove: inland schemes ask "
               "for one, from memory",
     .why =
         "Carbon monoxide has no smell, and comes from the engine, the heater, the cooker or the "
         "neighbour's generator; who sleeps does not wake of it, nor of smoke in time. Gas sinks: its "
         "sensor sits low. Each space that says `sleeping yes` is to name an alarm for both, and the space "
         "of each gas appliance one for gas. One whose `expires` has passed does not count: the sensors of "
         "these alarms wear out (from memory). A space that does not say whether people sleep in it is left open "
         "where a heater that burns fuel stands in it or heats it, where a gas appliance stands in it, and, if it "
         "states `skin`, `glass` or `built` as a cabin does, where an engine or a generator runs aboard: "
         "`sleeping no`, or an alarm for carbon monoxide, settles it. An engine's space is none to sleep in, nor "
         "one that says `petrol yes`. What burns in the open air, in a space that says `open-air yes`, asks for none there. On us a cabin with `sleeping no` in which a heater burns fuel, or gas burns, is advised "
         "to have one for carbon monoxide too: a main cabin has one. Where wood or coal burns in it, or a heater says `room-sealed "
         "no`, it is a warning on both: people doze beside a stove, and the cabins hang on the same air.",
     .breaks = CABIN("alarm saloon-alarm { detects co, smoke; portable yes; space saloon }\n"),
     .holds = CABIN("alarm cabin-alarm { detects co, smoke; portable yes; space cabin }\n"),
     .open = CABIN("alarm some-alarm { detects co, smoke; portable yes }\n"),
     .kinds = {KIND_SPACE, KIND_GAS_APPLIANCE},
     .judge = judge_alarm_missing},
    {.name = "extinguisher-missing",
     .chapter = SYSTEM_SAFETY,
     .severity = SEVERITY_FAULT,
     .title = "as many fire extinguishers are carried as a boat of that length is asked to",
     .basis = ON_BOTH,
     .danger = DANGER_FIRE,
     .source =
         "33 CFR 175.320(a), Table 1, in force since 20 April 2022 (second hand), judged in feet; on iso "
         "a benchmark, for the figures of ISO 9094 were not at hand, and a warning",
     .why =
         "What one can reach in the first minute decides. Counted as 5-B, a 20-B for two; of plates by EN 3 a 34-B for one on iso "
         "and a 183-B for two, as no more than their sizes of fire allow, and none on us, where they have to be approved. One whose date has "
         "passed does not count, and a fixed system in the engine's space spares one. Asked where something "
         "aboard burns fuel or gas, or people sleep; the clause lets off some open outboard boats, which is "
         "not looked at. One within reach of the galley and a blanket beside the cooker are common "
         "practice.",
     .breaks = EXAMPLE_BOAT "space cabin { sleeping yes }\nextinguisher red { rating 5-B; space cabin }\n",
     .holds =
         EXAMPLE_BOAT "space cabin { sleeping yes }\nextinguisher red { rating 5-B; count 2; space cabin }\n",
     .open = EXAMPLE_BOAT "space cabin { sleeping yes }\n",
     .judge_boat = judge_extinguisher_missing},
};
const RuleFamily rules_fire = RULE_FAMILY("Gas and fire", rules);
