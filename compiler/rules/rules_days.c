/*
 * Days of the banks: charge that runs low, days that do not bring back what they take, heaters that do not
 * last the night, banks in the heat. What arrays come up against is in days_array.c and days_panels.c, belts and what else turns
 * alternators in days_alternator.c, what no day counts in days_uncounted.c.
 */
#include "rules/days.h"
#include "rules/families.h"

#include "rules/upstream.h"

#include "figures/power.h"
#include "figures/water.h"

#include <math.h>

/* flat */

static void judge_flat_on(Judge *judge, const Entity *bank, const Entity *when)
{
    const Figure *lowest = figure_find(judge->figures, bank, FIGURE_LOWEST_CHARGE, when);
    const Figure *least = figure_of(judge, bank, FIGURE_LEAST_CHARGE);
    if (lowest == NULL || lowest->state == STATE_WAITING) {
        return; /* what it waits for, other rules of the bank wait for too */
    }
    Finding *f =
        judge_at_least(judge, bank, place_of(judge, bank, PROP_BANK_CAPACITY), side_figure(lowest), side_figure(least));
    if (f == NULL) {
        return;
    }
    finding_at(f, when);
    finding_say(judge, f, "on `%s` `%s` %s to %s, and %s are to be left in it%s", say_name(judge, when),
                say_name(judge, bank), f->verdict == VERDICT_BROKEN ? "falls" : "may fall", say_figure(judge, lowest),
                say_figure(judge, least), say_remark(judge, lowest));
    finding_note(judge, f, place_of_name(judge, when), when->kind == KIND_DAY ? "this day" : "this cruise");
    finding_remedy(judge, f, f->verdict == VERDICT_OPEN ? "a larger `capacity`, more that charges it, or less use"
                                                        : "more that charges it, or less use");
    finding_may_mend(judge, f, bank, PROP_BANK_CAPACITY);
}

static void judge_flat(Judge *judge, const Entity *bank)
{
    for (const Entity *day = judge->model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        judge_flat_on(judge, bank, day);
    }
    for (const Entity *cruise = judge->model->first_of_kind[KIND_CRUISE]; cruise != NULL; cruise = cruise->next_of_kind) {
        judge_flat_on(judge, bank, cruise);
    }
}

/* deficit */

static void say_engine_hours(Judge *judge, Finding *finding, const Entity *day)
{
    const Figure *hours = figure_find(judge->figures, judge->model->boat, FIGURE_ENGINE_HOURS, day);
    if (hours == NULL || hours->state != STATE_KNOWN) {
        return;
    }
    if (hours->remark != NULL) {
        finding_note(judge, finding, place_of(judge, day, PROP_DAY_ENGINE), "%s", hours->remark);
    } else {
        finding_remedy(judge, finding, "%s of engine in place of what the day states",
                       isfinite(hours->high) ? say_no_less(judge, hours->high, hours->unit) : say_figure(judge, hours));
    }
}

/* "from one to the next `house` loses 120..340 Wh", or "may lose up to 340 Wh"; more than it holds is what is asked of it. */
static const char *say_loss(const Judge *judge, const Entity *bank, const Figure *balance)
{
    const Figure *usable = figure_of(judge, bank, FIGURE_USABLE_ENERGY);
    bool surely = balance->high < 0.0;
    Interval lost = surely ? interval(-balance->high, -balance->low) : point(-balance->low);
    const char *loss = say_side(judge, side_interval(lost, balance->unit)), *name = say_name(judge, bank);
    if (surely && usable != NULL && usable->state == STATE_KNOWN && lost.low > usable->high) {
        return text_format(judge->arena, "each asks %s more of `%s` than that gets, which holds %s down to its limit", loss, name,
                           say_figure(judge, usable));
    }
    return text_format(judge->arena, "from one to the next `%s` %s %s", name, surely ? "loses" : "may lose up to", loss);
}

/* What a converter carries over out of a bank's own charge is asked of both banks, and is one loss. */
static void note_carried(Judge *judge, Finding *finding, const Entity *bank, const Entity *day)
{
    for (const Entity *e = judge->model->first_of_kind[KIND_CONVERTER]; e != NULL; e = e->next_of_kind) {
        if (upstream_of(judge)->source[e->index] == bank && figure_find(judge->figures, e, FIGURE_SPARED_BALANCE, day) != NULL) {
            finding_note(judge, finding, place_of_name(judge, e),
                         "what this carries to another bank is in it; where that is told to lose too, the two are one loss");
        }
    }
}

static void judge_deficit(Judge *judge, const Entity *day)
{
    int claims = entity_yes(day, PROP_DAY_SUSTAINABLE);
    if (claims == -2) {
        judge_waiting(judge);
    }
    for (const Entity *bank = judge->model->first_of_kind[KIND_BANK]; bank != NULL && claims == 1;
         bank = bank->next_of_kind) {
        const Figure *balance = is_aboard(bank) ? figure_find(judge->figures, bank, FIGURE_BALANCE, day) : NULL;
        if (balance == NULL) {
            continue;
        }
        Finding *f = judge_at_least(judge, day, place_of(judge, day, PROP_DAY_SUSTAINABLE), side_figure(balance),
                                    side_number(0.0, UNIT_ALONE(UNIT_WH)));
        if (f != NULL) {
            finding_at(f, bank);
            finding_say(judge, f, "`%s` is to go on day after day, and %s", say_name(judge, day), say_loss(judge, bank, balance));
            note_carried(judge, f, bank, day);
            if (bank_is_house(bank)) {
                say_engine_hours(judge, f, day);
                finding_remedy(judge, f, "more sun or shore power, or less use");
            } else { /* `engine-hours` is that of the house banks */
                finding_remedy(judge, f, "more of what charges `%s`, or less use of what hangs on it", say_name(judge, bank));
            }
        }
    }
}

/* overnight-heater */

static const double night_s = 8.0 * 3600.0;

/* How long the bank has to carry it: a night, or for as long as it is said to be used without shore power. */
static Interval asked_of_bank(const Judge *judge, const Entity *heater)
{
    if (!states_use(heater) || has_mistake(heater, PROP_LOAD_USE)) {
        return (Interval){night_s, night_s};
    }
    Interval used = {0.0, 0.0};
    if (heater->mains & MAINS_SHORE) { /* through the inverter, or by a transfer switch */
        used = longest_use_without_shore(judge->model, heater);
    } else {
        for (const Entity *day = judge->model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
            Interval seconds;
            if (use_seconds(heater, day, &seconds)) {
                used = interval_max(used, seconds);
            }
        }
    }
    return interval_min(used, (Interval){night_s, night_s});
}

/* One filling: then the thermostat stops the element, and nobody draws hot water all night. */
static Side asked_by_water(const Judge *judge, const Entity *heater)
{
    const Figure *time = figure_of(judge, heater, FIGURE_HEAT_UP_ELEMENT); /* where the engine heats it too */
    time = time != NULL ? time : figure_of(judge, heater, FIGURE_HEAT_UP);
    if (time == NULL) {
        return side_number(night_s, UNIT_ALONE(UNIT_H));
    }
    Side side = side_figure(time);
    side.value = interval_min(side.value, point(night_s));
    return side;
}

static const char *say_asked(const Judge *judge, const Entity *heater, Side asked)
{
    if (asked.value.high >= night_s) {
        return "no night long";
    }
    return text_format(judge->arena, heater->kind == KIND_WATER_HEATER ? "and one filling takes %s"
                                                                      : "and it is used for %s without shore power",
                       say_side(judge, asked));
}

static void judge_overnight(Judge *judge, const Entity *heater)
{
    const Figure *hours = figure_of(judge, heater, FIGURE_RUNTIME);
    if (hours == NULL) {
        return;
    }
    Side side = heater->kind == KIND_WATER_HEATER ? asked_by_water(judge, heater)
                                                  : side_interval(asked_of_bank(judge, heater), UNIT_ALONE(UNIT_H));
    Finding *f = judge_at_least(judge, heater, place_of_name(judge, heater), side_figure(hours), side);
    if (f != NULL) {
        if (heater->kind != KIND_WATER_HEATER) {
            finding_rests_on(judge, f, heater, PROP_LOAD_USE);
        }
        finding_say(judge, f, "`%s` is a resistance behind an inverter: the bank alone carries it for %s, %s", say_name(judge, heater),
                    say_figure(judge, hours), say_asked(judge, heater, side));
        finding_remedy(judge, f, "heat from fuel, from the shore or from the engine, or insulation");
    }
}

/* bank-hot */

static void judge_bank_hot(Judge *judge, const Entity *bank)
{
    const Entity *space = entity_reference(bank, PROP_COMMON_SPACE);
    if (has_mistake(bank, PROP_COMMON_SPACE)) {
        judge_waiting(judge);
    } else if (space == NULL || !is_engine_space(judge->model, space)) {
        judge_holds(judge);
    } else {
        Finding *f = judge_broken(judge, bank, place_of(judge, bank, PROP_COMMON_SPACE));
        finding_say(judge, f, "`%s` stands in `%s`, which the engine heats", say_name(judge, bank), say_name(judge, space));
        finding_remedy(judge, f, "another `space`");
    }
}

/* Examples */

#define LAMP_ON(capacity, use) EXAMPLE_BOAT \
    "bank house { chemistry agm; voltage 12 V; capacity " capacity " }\n" \
    "day anchored { sun 0 h }\n" \
    "load lamp { fed-by house; run 1 m; wire 12 AWG; protect 15 A breaker; draw 5 A; " use " }\n"
#define LAMP(capacity, hours) LAMP_ON(capacity, "use anchored " hours)
#define LAMP_USED(use) LAMP_ON("200 Ah", use)
#define ALL_DAY(claim, sun) EXAMPLE_BOAT \
    "bank house { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah; disconnect yes }\n" \
    "day anchored { " claim "sun " sun " }\n" \
    "solar roof { rated 200 W; feeds house { run 2 m; wire 10 AWG; protect 20 A fuse 0.1 m from source } }\n" \
    "load fridge { fed-by house; run 1 m; wire 12 AWG; protect 15 A breaker; draw 4 A; use anchored 40 % }\n"
#define ARRAY(lines) EXAMPLE_BOAT \
    "bank house { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah }\n" \
    "solar roof { rated 130 W; open-circuit 22.8 V; short-circuit 7.5 A; " lines "; " \
    "feeds house { run 2 m; wire 10 AWG; protect 30 A fuse 0.1 m from source } }\n"
#define PANELS(lines) ARRAY("max-input 60 V; max-input-current 60 A; " lines)
#define LOW(open) EXAMPLE_BOAT \
    "bank house { chemistry lifepo4; voltage 51.2 V; capacity 100 Ah }\n" \
    "solar roof { rated 400 W; open-circuit " open "; short-circuit 13.8 A; max-input 150 V; max-input-current 40 A; " \
    "feeds house { run 2 m; wire 10 AWG; protect 30 A fuse class-t 0.1 m from source } }\n"
#define DRIVEN(output) EXAMPLE_BOAT \
    "bank house { chemistry agm; voltage 12 V; capacity 400 Ah }\n" \
    "engine auxiliary { rated 30 hp at 3000 rpm; fuel diesel }\n" \
    "alternator belt-maker { engine auxiliary; output " output " at 14.2 V; " \
    "feeds house { run 2 m; wire 2/0 AWG; protect 250 A fuse 0.15 m from source } }\n"
#define TURNED(output) EXAMPLE_BOAT \
    "bank house { chemistry agm; voltage 12 V; capacity 800 Ah }\n" \
    "engine auxiliary { rated 10 hp at 3000 rpm; fuel diesel }\n" \
    "alternator belt-maker { engine auxiliary; output " output " at 14.2 V; belts 4; " \
    "feeds house { run 2 m; wire 4/0 AWG; protect 500 A fuse class-t 0.15 m from source } }\n"
#define BLOWN(lines) EXAMPLE_BOAT \
    "bank house { chemistry agm; voltage 12 V; capacity 400 Ah }\n" \
    "day windy { sun 2 h }\n" \
    "alternator windmill { driven-by wind; output 25 A at 14.2 V; regulator diversion; " lines \
    "feeds house { run 5 m; wire 6 AWG; protect 40 A fuse 0.15 m from source } }\n"
#define CURVED(most) EXAMPLE_BOAT \
    "bank house { chemistry agm; voltage 12 V; capacity 400 Ah }\n" \
    "engine auxiliary { rated 14 hp at 3000 rpm; fuel diesel }\n" \
    "alternator belt-maker { engine auxiliary; output 50 A at 14.2 V; curve 2000 rpm 30 A; curve 6000 rpm " most "\n" \
    "feeds house { run 2 m; wire 4 AWG; protect 80 A fuse 0.15 m from source } }\n"
#define WARMED(draw) EXAMPLE_BOAT \
    "bank house { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah }\n" \
    "inverter sine { fed-by house; run 1 m; wire 2/0 AWG; protect 250 A fuse class-t 0.1 m from source; rated 2000 W; " \
    "output 120 V }\nheater electric { fed-by sine; run 3 m; wire 14 AWG; protect 15 A breaker; draw " draw " }\n"
#define SIDE_BY_SIDE(joint) EXAMPLE_BOAT \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
    "bank start { chemistry agm; voltage 12 V; capacity 90 Ah; role start }\n" \
    "day under-way { engine 4 h }\n" \
    "engine auxiliary { rated 14 hp at 3000 rpm; fuel diesel }\n" \
    "alternator belt-maker { engine auxiliary; output 60 A at 14.2 V\n" \
    "  feeds start { run 1 m; wire 2 AWG; protect 80 A fuse 0.15 m from source } }\n" joint "\n"
#define CLOSES_BY_ITSELF "wire 6 AWG; protect 60 A fuse 0.15 m from source"
#define STANDS_IN(lines) EXAMPLE_BOAT \
    "space below { " lines " }\nbank house { chemistry agm; voltage 12 V; capacity 200 Ah; space below }\n"

#define FROSTY(DRAW) \
    EXAMPLE_BOAT "day frost { temperature -7 C }\ngoal quiet { endure 1.5 d on frost }\n" \
    "bank house { chemistry flooded; voltage 12 V; capacity 400 Ah }\n" \
    "circuit lamps { fed-by house; run 1 m }\nload lamp { fed-by lamps; draw " DRAW "; use frost 24 h }\n"

static const Rule rules[] = {
    {
        .name = "flat",
        .severity = SEVERITY_WARNING,
        .title = "on no day and no cruise a bank falls below its usable limit",
        .kinds = {KIND_BANK},
        .basis = ON_BOTH,
        .source = "common practice, no source; the run of a day is a model of this program",
        .why = "Lead that is often emptied below half loses its capacity in a few seasons, and lithium disconnects itself "
               "without asking. Each day is run from a full bank at midnight, each cruise as it says, in steps of a quarter "
               "of an hour; what counts is what can be had at the current of that time, the charge less what Peukert's law "
               "withholds. What the hours of a day mean is told on the page about computing.",
        .breaks = LAMP("100 Ah", "15 h"),
        .holds = LAMP("200 Ah", "15 h"),
        .open = LAMP("100..200 Ah", "15 h"),
        .judge = judge_flat,
    },
    {
        .name = "deficit",
        .severity = SEVERITY_WARNING,
        .title = "a day that is to go on without end brings back what it takes",
        .kinds = {KIND_DAY},
        .basis = ON_BOTH,
        .source = "arithmetic; the run of a day is a model of this program",
        .why = "A day says `sustainable yes` where such days are to follow each other for as long as the crew likes. Then each "
               "bank has to gain at least as much as it loses, once they have come to rest above its usable limit: an emptier "
               "bank takes more of what it is offered. The hours of engine that would make it good are told where an engine "
               "can.",
        .breaks = ALL_DAY("sustainable yes; ", "2 h"),
        .holds = ALL_DAY("sustainable yes; ", "6 h"),
        .open = ALL_DAY("sustainable yes; ", "2..6 h"),
        .judge = judge_deficit,
    },
    {
        .name = "wasted-sun",
        .severity = SEVERITY_ADVICE,
        .title = "no more than half of an array's energy finds no taker",
        .kinds = {KIND_SOLAR},
        .basis = ON_BOTH,
        .source = "a choice of this program",
        .why = "An array that stands idle for most of the day was paid for and is carried about for nothing: a larger bank, "
               "water heated by day or a smaller array may be the better buy. Looked at on the second of two such days, but not on one on "
               "which shore power brings the bank all that is taken from it.",
        .breaks = ALL_DAY("", "8 h"),
        .holds = ALL_DAY("", "4 h"),
        .open = ALL_DAY("", "4..8 h"),
        .judge = judge_wasted_sun,
    },
    {
        .name = "array-voltage",
        .severity = SEVERITY_FAULT,
        .title = "the controller stands the voltage of cold panels",
        .kinds = {KIND_SOLAR},
        .basis = ON_BOTH,
        .source = "common practice; the voltage by the formula of NEC 690.7; without a stated `voltage-coefficient` by -0.30 to -0.45 % "
                  "a degree of crystalline silicon, from memory (the table of NEC 690.7(A), for modules whose sheet states none, goes "
                  "by some -0.40: 1.14 at -6 to -10 C, second hand)",
        .why = "Cold cells give more voltage than their plate says. At dawn on a clear winter day they have no load yet, and a "
               "controller that is driven past its limit dies at once. By how much goes by the cells: while no sheet has been looked "
               "at, the rule is open between the least and the most that is usual. The boat's `coldest-air` counts, or -10 C where "
               "nobody says; a day of the spec that is colder counts all the same.",
        .breaks = ARRAY("count 3; series 3; max-input 75 V"),
        .holds = ARRAY("count 2; series 2; max-input 75 V"),
        .open = ARRAY("count 3; series 3; max-input 70..100 V"),
        .judge = judge_array_voltage,
    },
    {
        .name = "array-low",
        .severity = SEVERITY_FAULT,
        .title = "the panels of a string give more voltage than their bank is charged at",
        .kinds = {KIND_SOLAR},
        .basis = ON_BOTH,
        .source = "common practice, no source; 0.82 of the open-circuit voltage: from memory",
        .why = "Panels give their greatest power at some 0.82 of the voltage that their plate calls open-circuit, and less when their "
               "cells are hot: 60 C is counted. A controller turns volts down, not up: of a string below the voltage of the bank "
               "nothing comes through, whatever the sun does, and no day counts it then. One that is above it when cool but not when hot "
               "is a warning: the bank is never quite full in summer. What makes more volts of fewer says `controller boost`.",
        .breaks = LOW("37.2 V"),
        .holds = LOW("90 V"),
        .open = LOW("37.2..90 V"),
        .judge = judge_array_low,
    },
    {
        .name = "array-current",
        .severity = SEVERITY_FAULT,
        .title = "the controller stands the current of its panels in the strongest sun",
        .kinds = {KIND_SOLAR},
        .basis = ON_BOTH,
        .source = "common practice; the current by NEC 690.8",
        .why = "Cloud edges and cold make the sun on a panel stronger than its plate assumes. A simple controller has to pass "
               "all of that current: what it gives counts, if the spec does not say what it takes. One that seeks the greatest "
               "power takes less or more than it gives, so there the question stays open.",
        .breaks = ARRAY("count 4; parallel 4; controller pwm; max-output 30 A"),
        .holds = ARRAY("count 2; parallel 2; max-output 30 A"),
        .open = ARRAY("count 4; parallel 4; max-output 30 A; max-input-current 30..50 A"),
        .judge = judge_array_current,
    },
    {
        .name = "panel-cable",
        .severity = SEVERITY_FAULT,
        .title = "the cable from panels to their controller carries what they can drive",
        .kinds = {KIND_SOLAR},
        .basis = ON_BOTH,
        .danger = DANGER_FIRE,
        .source = "the current by NEC 690.8, from memory: 1.25 x short-circuit; the cable by the tables of the basis",
        .why = "No fuse guards this cable: its panels cannot be switched off, and drive little more than it is rated for into a short "
               "circuit. So it has to carry all of that for ever. It lies in the sun, where its air is hotter than aboard.",
        .breaks = PANELS("count 4; parallel 4; panel-run 9 m; panel-wire 16 AWG"),
        .holds = PANELS("count 4; parallel 4; panel-run 9 m; panel-wire 6 AWG insulation 90 C"),
        .open = PANELS("count 4; parallel 4; panel-run 9 m; panel-wire 16..6 AWG insulation 90 C"),
        .judge = judge_panel_cable,
    },
    {
        .name = "panel-drop",
        .severity = SEVERITY_WARNING,
        .title = "the cable from panels to their controller takes no more than 3 % of what they give",
        .kinds = {KIND_SOLAR},
        .basis = ON_BOTH,
        .source = "Ohm's law; 3 %: common practice, no source",
        .why = "The run from an arch or a mast to the controller is the longest of an array, and at the volts of one panel its current is "
               "great. What it loses is lost in full sun, every day.",
        .breaks = PANELS("panel-run 20 m; panel-wire 14 AWG"),
        .holds = PANELS("panel-run 9 m; panel-wire 6 AWG"),
        .open = PANELS("panel-run 9..30 m; panel-wire 10 AWG"),
        .judge = judge_panel_drop,
    },
    {
        .name = "string-fuse",
        .severity = SEVERITY_FAULT,
        .title = "from three strings side by side on, each has a fuse that its panels bear",
        .kinds = {KIND_SOLAR},
        .basis = ON_BOTH,
        .danger = DANGER_FIRE,
        .source = "NEC 690.9, from memory",
        .why = "Into a string with a fault all others drive their current, backwards. Of two strings that is what one gives, and any panel "
               "bears that; of more it may be more than the largest fuse that the plate of a panel allows, and the panel burns.",
        .breaks = PANELS("count 4; parallel 4; string-fuse 30 A; largest-fuse 15 A"),
        .holds = PANELS("count 4; parallel 4; string-fuse 15 A; largest-fuse 15 A"),
        .open = PANELS("count 4; parallel 4"),
        .judge = judge_string_fuse,
    },
    {
        .name = "belt",
        .severity = SEVERITY_WARNING,
        .title = "an alternator's belts carry the power that it takes",
        .kinds = {KIND_ALTERNATOR},
        .basis = ON_BOTH,
        .source = "common practice, from memory: about 5 hp for a belt of 12.5 mm",
        .why = "A belt that slips squeals, heats the pulley, wears to dust and stops charging at the worst moment; the bearing "
               "suffers from one that is tightened to make up for it.",
        .breaks = DRIVEN("180 A"),
        .holds = DRIVEN("90 A"),
        .open = DRIVEN("90..180 A"),
        .judge = judge_belt,
    },
    {
        .name = "alternator-power",
        .severity = SEVERITY_FAULT,
        .title = "an engine can turn all alternators on it",
        .kinds = {KIND_ENGINE},
        .basis = ON_BOTH,
        .source = "the law of conservation of energy",
        .why = "What an alternator gives the engine has to turn, and nearly as much again is lost in heat: "
               "one of 10 kW on an engine of "
               "8 kW stalls it, or slips its belt. In the days an alternator brings no more than its engine "
               "gives at the speed that "
               "it runs at, which falls with the speed: at half of the rated speed it is half of the rated "
               "power at most. What "
               "the propeller takes meanwhile is not taken off.",
        .breaks = TURNED("400 A"),
        .holds = TURNED("90 A"),
        .open = TURNED("90..400 A"),
        .judge = judge_alternator_power,
    },
    {
        .name = "mean-output",
        .severity = SEVERITY_WARNING,
        .title = "what wind or water drives says what it gives in a day, and no more than its output",
        .kinds = {KIND_ALTERNATOR},
        .basis = ON_BOTH,
        .source = "arithmetic; that the mean of a day is a part of the output: common practice, no source",
        .why = "A wind generator gives its output in a gale. At anchor the wind of a whole day is far less, and what comes of it "
               "falls faster still: the maker's curve, at the wind or the speed of such a day, tells. The days reckon with what "
               "`gives` says, and with nothing where it says nothing.",
        .breaks = BLOWN("gives windy 40 A; "),
        .holds = BLOWN("gives windy 4 A; "),
        .open = BLOWN("gives windy 20..40 A; "),
        .judge = judge_mean_output,
    },
    {
        .name = "curve-high",
        .severity = SEVERITY_WARNING,
        .title = "no point of an alternator's curve is above its output by more than 5 %",
        .kinds = {KIND_ALTERNATOR},
        .basis = ON_BOTH,
        .source = "arithmetic: cable, fuse, belts and engine are judged by `output`",
        .why = "A curve that gives more than the plate is of another alternator, or of another voltage, or the plate is wrong. If "
               "it is right, all that carries the current was reckoned for too little. A plate is a nominal figure: 5 % above it "
               "is no finding (common practice, no source). The days count no more than the output.",
        .breaks = CURVED("60 A"),
        .holds = CURVED("48 A"),
        .open = CURVED("48..60 A"),
        .judge = judge_curve_high,
    },
    {
        .name = "overnight-heater",
        .severity = SEVERITY_WARNING,
        .title = "heat from a resistance behind an inverter does not have to last the night on the bank",
        .kinds = {KIND_HEATER, KIND_WATER_HEATER},
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "A small electric heater takes in a night what a bank stores for days. On shore power that is nobody's concern; "
               "the day the cable is not plugged in, the bank is flat in the morning. Eight hours of it count as a night; of a heater that "
               "states its `use`, no more than that on a day; where shore power can carry it instead, without what shore covers. Of a water "
               "heater one filling counts, if that takes less: then its thermostat stops it.",
        .breaks = WARMED("1000 W"),
        .holds = WARMED("100 W"),
        .open = WARMED("100..1000 W"),
        .judge = judge_overnight,
    },
    {
        .name = "uncounted",
        .severity = SEVERITY_ADVICE,
        .title = "what draws from a bank says how long it runs",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "A load without a `use` counts in no day: the bank lasts as if it were never switched on. Asked where the spec "
               "states days, of all but what runs for moments only (windlass, thruster, horn, toilet, bilge pump), and of "
               "navigation lights where some day states a `distance`. A heater or cooler needs none where the need of its cabins can be computed, "
               "nor does a water heater where a day states `showers`; the `use` of one without an `element` counts nothing. "
               "Gas appliances are asked where one of them states a `use`; on a day that states its `gas`, that is all that it takes. "
               "Where all state some, a load or pump is named that most likely runs on one more day: one on which people live aboard "
               "away from the shore (it states `distance`, `engine` or `water`, and no `shore`), if on others it runs for a share of the "
               "time, or if nothing is counted on that day at all. Gear that runs under way only is not asked at rest.",
        .breaks = LAMP_USED(""),
        .holds = LAMP_USED("use anchored 15 h"),
        .never_open = "a `use` is stated or it is not",
        .judge_boat = judge_uncounted,
    },
    {
        .name = "joined-uncounted",
        .severity = SEVERITY_ADVICE,
        .title = "what charges a bank through a switch is counted in the days",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "A relay that joins two banks while one of them is charged is the commonest way to charge the other. A `parallel` "
               "switch does not say when it is closed nor what passes: the run of a day keeps the banks apart, and the one that "
               "nothing else charges only falls. Stated as a `converter` that is a `relay` it is counted: that one "
               "passes on what the first bank's sources bring beyond its loads, and never from its charge. What charges by way of an "
               "`emergency` switch hangs on one of its banks for good, and the first is taken for that one. Asked where the spec "
               "states days.",
        .breaks = SIDE_BY_SIDE("switch relay { fed-by start, house; run 0.5 m; " CLOSES_BY_ITSELF "; works-as parallel; rated 140 A }"),
        .holds = SIDE_BY_SIDE("converter relay { fed-by start; run 0.5 m; " CLOSES_BY_ITSELF "; output 40 A at 14.2 V; relay yes; "
                              "isolated no; feeds house { run 0.5 m; " CLOSES_BY_ITSELF " } }"),
        .never_open = "what charges a bank by a way of its own is a plain fact of the spec",
        .judge_boat = judge_joined_uncounted,
    },
    {
        .name = "bank-cold",
        .severity = SEVERITY_ADVICE,
        .title = "a goal that a lead bank meets is met in the cold too",
        .kinds = {KIND_BANK},
        .basis = ON_BOTH,
        .source = "IEEE 485, Table 1, second hand: 1.19 times the capacity at 10 C, 1.59 times at -6.7 C",
        .why = "Lead gives less in the cold, and days are run with all of a bank's capacity. Asked of a goal `endure` that is met, on a "
               "day that states a `temperature` below 25 C: the same day is run once more with what may be used of the bank over "
               "that factor. The cells are taken to be as cold as the day, unless `coldest` of the bank says that they are not. "
               "Lithium loses little, and is not asked.",
        .breaks = FROSTY("5 A"),
        .holds = FROSTY("3 A"),
        .open = FROSTY("3..5 A"),
        .judge = judge_bank_cold,
    },
    {
        .name = "bank-hot",
        .severity = SEVERITY_WARNING,
        .title = "no bank stands in a space that an engine heats",
        .kinds = {KIND_BANK},
        .basis = ON_BOTH,
        .source = "common practice, from memory: about half the life for each 10 degrees above 25 C",
        .why = "Heat ages every battery, makes lead lose its water, and lithium stop taking charge. The space of an engine is "
               "the hottest aboard for hours after it has stopped.",
        .breaks = STANDS_IN("engine-space yes"),
        .holds = STANDS_IN("engine-space no"),
        .never_open = "where a bank stands is a plain fact of the spec; one that does not say its space is not asked",
        .judge = judge_bank_hot,
    },
};

const RuleFamily rules_days = RULE_FAMILY("Days of the banks", rules);
