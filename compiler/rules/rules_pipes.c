/*
 * Pipes and pumps: whether water comes out, how fast it runs, how often the pump starts, and what is not
 * joined to anything.
 */
#include "rules/pipes.h"
#include "rules/plumbing.h"

#include "figures/pipe_flow.h"
#include "rules/families.h"

#include <math.h>

/* ---- pump-starved -------------------------------------------------------------------------------------- */

static void judge_suction(Judge *judge, const Entity *pump)
{
    const Figure *lift = figure_of(judge, pump, FIGURE_SUCTION_LIFT);
    if (lift == NULL) {
        return; /* no hoses are stated: that is told elsewhere */
    }
    Side primes = side_value(judge, pump, PROP_PUMP_SELF_PRIMING, 0);
    Finding *finding =
        judge_at_most(judge, pump, place_of(judge, pump, PROP_PUMP_SELF_PRIMING), side_figure(lift), primes);
    if (finding == NULL) {
        return;
    }
    finding_about(finding, PROP_PUMP_SELF_PRIMING);
    finding_say(judge, finding,
                "`%s` has to draw %s, %s%s%s, and primes itself up to %s",
                say_name(judge, pump), say_figure(judge, lift),
                pump_has_curve(pump) ? "height and suction hose together" : "the height alone", lift->remark != NULL ? ", " : "",
                lift->remark != NULL ? lift->remark : "", say_side(judge, primes));
    finding_remedy(judge, finding, "a lower place for the pump, or a wider and shorter suction hose");
}

/* The only pump that a fixture's flow was computed with: the first input of that figure is the pump's. */
static const Entity *pump_of(const Judge *judge, const Figure *flow)
{
    for (uint16_t i = 0; i < flow->input_count; i++) {
        const Input *input = &flow->inputs[i];
        if (input->kind == INPUT_VALUE && judge->model->entities[input->entity]->kind == KIND_PUMP) {
            return judge->model->entities[input->entity];
        }
    }
    return NULL;
}

/* Whether the only pump of a tap can draw its water up: what does not is told of the pump, and nothing comes then. */
static Answer can_draw(const Judge *judge, const Entity *pump)
{
    const Figure *lift = pump != NULL ? figure_of(judge, pump, FIGURE_SUCTION_LIFT) : NULL;
    return lift != NULL ? ask_at_least(side_value(judge, pump, PROP_PUMP_SELF_PRIMING, 0), side_figure(lift))
                        : ANSWER_YES;
}

static void judge_tap(Judge *judge, const Entity *tap)
{
    const Figure *flow = figure_of(judge, tap, FIGURE_FLOW);
    const Figure *together = figure_of(judge, tap, FIGURE_FLOW_TOGETHER);
    const Entity *pump = flow != NULL ? pump_of(judge, flow) : NULL;
    Answer drawn = can_draw(judge, pump);
    if (flow != NULL && drawn == ANSWER_NO) {
        judge_gives_way(judge); /* to what is told of the pump */
    }
    if (flow == NULL || drawn == ANSWER_NO) {
        return;
    }
    Side wish = side_value(judge, tap, PROP_FIXTURE_FLOW, 0);
    Finding *finding =
        judge_at_least(judge, tap, place_of(judge, tap, PROP_FIXTURE_FLOW), side_figure(flow), wish);
    if (finding == NULL) {
        return;
    }
    if (drawn == ANSWER_PERHAPS && finding->verdict == VERDICT_BROKEN) {
        finding_left_open(judge, finding, pump, PROP_PUMP_SELF_PRIMING);
    }
    finding_say(judge, finding, "`%s` gets %s%s%s, where %s is wished for", say_name(judge, tap),
                say_figure(judge, flow), flow->remark != NULL ? " " : "",
                flow->remark != NULL ? flow->remark : "", say_side(judge, wish));
    if (!entity_states(tap, PROP_FIXTURE_FLOW)) {
        finding_here(judge, finding, "%s is assumed", say_side(judge, wish));
    }
    if (together != NULL && together->state == STATE_KNOWN) {
        finding_note(judge, finding, place_of_name(judge, tap), "with everything open it gets %s",
                     say_figure(judge, together));
    }
    finding_remedy(judge, finding, "a wider hose, fewer bends, or a pump with more pressure");
}

static void judge_pump_starved(Judge *judge, const Entity *subject)
{
    if (subject->kind == KIND_PUMP) {
        judge_suction(judge, subject);
    } else {
        judge_tap(judge, subject);
    }
}

/* ---- pump-cycling -------------------------------------------------------------------------------------- */

static void judge_pump_cycling(Judge *judge, const Entity *pump)
{
    const Figure *starts = figure_of(judge, pump, FIGURE_STARTS);
    if (starts == NULL) {
        return; /* it serves no tap, or does not say between which pressures it runs */
    }
    Answer turned = ask_at_least(side_value(judge, pump, PROP_PUMP_CUT_IN, 0), side_value(judge, pump, PROP_PUMP_PRESSURE, 0));
    if (turned == ANSWER_YES) {
        judge_gives_way(judge); /* to pump-switch: the pressures are the wrong way round */
        return;
    }
    Side limit = side_number(STARTS_LIMIT_PER_H, UNIT_ALONE(UNIT_NONE));
    Finding *finding =
        judge_at_most(judge, pump, place_of(judge, pump, PROP_PUMP_ACCUMULATOR), side_figure(starts), limit);
    if (finding == NULL) {
        return;
    }
    if (turned == ANSWER_PERHAPS) {
        finding_may_not_apply(finding);
        finding_rests_on(judge, finding, pump, PROP_PUMP_CUT_IN);
        finding_rests_on(judge, finding, pump, PROP_PUMP_PRESSURE);
    }
    if (starts->state == STATE_KNOWN && isinf(starts->low)) {
        finding_say(judge, finding,
                    "`%s` has no accumulator: it starts and stops all the time while a tap runs",
                    say_name(judge, pump));
    } else if (starts->state == STATE_KNOWN && isinf(starts->high)) {
        finding_say(judge, finding, "how often `%s` starts while a tap runs is not known yet; %s times an hour is what it stands well",
                    say_name(judge, pump), say_side(judge, limit));
    } else {
        finding_say(judge, finding,
                    "`%s` starts up to %s times an hour while a tap runs; %s is what it stands well",
                    say_name(judge, pump), say_figure(judge, starts), say_side(judge, limit));
    }
    if (finding->verdict == VERDICT_OPEN && !entity_states(pump, PROP_PUMP_SHUT_OFF)) {
        finding_left_open(judge, finding, pump, PROP_PUMP_SHUT_OFF);
    }
    finding_remedy(judge, finding, "a larger `accumulator`, or a `cut-in` farther below the `pressure`");
}

/* ---- pump-switch --------------------------------------------------------------------------------------- */

/* A head in metres as the pressure of so much water. */
static Side as_pressure(Side side)
{
    UnitPair bar = UNIT_ALONE(UNIT_BAR);
    if (!side_is_known(side) || dimension_equal(unit_dimension(side.unit), unit_dimension(bar))) {
        return side;
    }
    double each = pressure_of_head_pa(1.0, liquid_density_kg_per_m3(LIQUID_FRESH_15_C));
    return side_interval(interval_scale(side.value, each), bar);
}

/* Two pressures of a pump, the first at most the second; nothing where one is not stated. */
static Finding *judge_order(Judge *judge, const Entity *pump, PropId lower, PropId higher)
{
    if (!entity_states(pump, lower) || !entity_states(pump, higher)) {
        return NULL;
    }
    Side low = side_value(judge, pump, lower, 0), high = side_value(judge, pump, higher, 0);
    Finding *finding = judge_at_most(judge, pump, place_of(judge, pump, lower), as_pressure(low), as_pressure(high));
    if (finding != NULL) {
        finding_rests_on(judge, finding, pump, lower);
        finding_rests_on(judge, finding, pump, higher);
        finding_about(finding, lower);
        finding_note(judge, finding, place_of(judge, pump, higher), "%s", say_side(judge, high));
    }
    return finding;
}

static void judge_pump_switch(Judge *judge, const Entity *pump)
{
    Finding *finding = judge_order(judge, pump, PROP_PUMP_PRESSURE, PROP_PUMP_SHUT_OFF);
    if (finding != NULL) {
        finding_say(judge, finding, "the switch of `%s` stops it at %s, which it cannot reach: it never stops", say_name(judge, pump),
                    say_side(judge, side_value(judge, pump, PROP_PUMP_PRESSURE, 0)));
        finding_remedy(judge, finding, "a `pressure` below its `shut-off`");
    }
    finding = judge_order(judge, pump, PROP_PUMP_CUT_IN, PROP_PUMP_PRESSURE);
    if (finding != NULL) {
        finding_say(judge, finding, "the switch of `%s` starts it at %s, above where it stops it", say_name(judge, pump),
                    say_side(judge, side_value(judge, pump, PROP_PUMP_CUT_IN, 0)));
        finding_remedy(judge, finding, "a `cut-in` below its `pressure`");
    }
}

/* ---- hose-fast, hose-pressure -------------------------------------------------------------------------- */

static void judge_hose_fast(Judge *judge, const Entity *hose)
{
    const Figure *speed = figure_of(judge, hose, FIGURE_VELOCITY);
    if (speed == NULL) {
        return;
    }
    const char *suction = speed->remark;
    Side limit = side_number(suction != NULL ? SPEED_LIMIT_SUCTION_M_PER_S : SPEED_LIMIT_DELIVERY_M_PER_S, speed->unit);
    Finding *finding =
        judge_at_most(judge, hose, place_of(judge, hose, PROP_HOSE_BORE), side_figure(speed), limit);
    if (finding == NULL) {
        return;
    }
    finding_say(judge, finding, "the water runs through `%s` at %s; %s is the most %s", say_name(judge, hose),
                say_figure(judge, speed), say_side(judge, limit),
                suction != NULL ? suction : "behind a pump");
    finding_remedy(judge, finding, "a wider `bore`");
}

/* What of its pressure a pump keeps for sure: that at which it starts again. */
static PropId kept_pressure(const Entity *pump)
{
    return entity_states(pump, PROP_PUMP_CUT_IN)     ? PROP_PUMP_CUT_IN
           : entity_states(pump, PROP_PUMP_PRESSURE) ? PROP_PUMP_PRESSURE
                                                     : PROP_PUMP_SHUT_OFF;
}

/* One pump that brings water to a tap by hoses; its figures of the tap may tell it by `at`. */
static void judge_loss(Judge *judge, const Entity *tap, const Entity *pump, const Entity *at)
{
    const Figure *loss = figure_find(judge->figures, tap, FIGURE_PRESSURE_LOSS, at);
    const Figure *flow = figure_find(judge->figures, tap, FIGURE_FLOW, at);
    Side wish = side_value(judge, tap, PROP_FIXTURE_FLOW, 0);
    Answer flows = flow != NULL ? ask_at_least(side_figure(flow), wish) : ANSWER_NO;
    if (flow != NULL && flow->state == STATE_WAITING) {
        judge_waiting(judge); /* whether it is starved is not known, and then this is not the matter */
        return;
    }
    if (loss != NULL && flow != NULL && flows == ANSWER_NO) {
        judge_gives_way(judge); /* what does not even flow at full pressure is the matter of `pump-starved` */
    }
    if (loss == NULL || flows == ANSWER_NO) {
        return;
    }
    PropId kept = kept_pressure(pump);
    const Value *stated = property_value(entity_property(pump, kept), 0);
    Side pressure = side_value(judge, pump, kept, 0);
    if (side_is_known(pressure) &&
        !dimension_equal(unit_dimension(stated->unit), unit_dimension(UNIT_ALONE(UNIT_BAR)))) {
        return; /* a head in metres: what comes out says it all */
    }
    Finding *finding =
        judge_at_most(judge, tap, place_of(judge, tap, PROP_FIXTURE_FLOW), side_figure(loss), pressure);
    if (finding == NULL) {
        return;
    }
    finding_at(finding, at);
    finding_say(judge, finding, "%s is lost on the way from `%s` through `%s` at %s, where it %s %s",
                say_figure(judge, loss), say_name(judge, pump), say_name(judge, tap), say_side(judge, wish),
                kept == PROP_PUMP_CUT_IN ? "starts again only at" : "gives no more than",
                say_side(judge, pressure));
    if (flows == ANSWER_PERHAPS && finding->verdict == VERDICT_BROKEN) {
        finding_left_open(judge, finding, tap, PROP_FIXTURE_FLOW); /* it may be `pump-starved` instead */
    }
    finding_note(judge, finding, place_of(judge, pump, kept), "so the flow falls off before the pump helps");
    finding_remedy(judge, finding, "a wider hose, or a shorter way");
}

static void judge_hose_pressure(Judge *judge, const Entity *tap)
{
    const Figure *flow = figure_of(judge, tap, FIGURE_FLOW);
    const Entity *only = flow != NULL ? pump_of(judge, flow) : NULL;
    if (only != NULL) {
        judge_loss(judge, tap, only, NULL);
        return;
    }
    for (const Entity *pump = first_aboard(judge->model, KIND_PUMP); pump != NULL && flow != NULL;
         pump = next_aboard(pump)) {
        if (figure_find(judge->figures, tap, FIGURE_FLOW, pump) != NULL) {
            judge_loss(judge, tap, pump, pump);
        }
    }
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define TANK "tank fresh { holds fresh; capacity 100 l; vent 16 mm; fill 38 mm }\n"
#define DRAIN "through-hull drain { bore 38 mm; height 0.3 m; seacock yes; material bronze; backing yes }\n"
#define LINE(PUMP, SUCTION, DELIVERY)                                                                    \
    EXAMPLE_BOAT TANK DRAIN                                                                              \
        "pump pump { from fresh; flow 11 l/min; portable yes; self-priming 1.8 m; " PUMP \
        " }\n"                                                                                           \
        "fixture tap { flow 5 l/min; drains-to drain }\n"                                                \
        "hose suction { from fresh; to pump; run 1 m; " SUCTION " }\n"                                   \
        "hose delivery { from pump; to tap; run 6 m; " DELIVERY " }\n"

#define SHARED_BY(DRAIN, HEIGHT)                                                                                 \
    "engine diesel { rated 20 kW at 3000 rpm; fuel diesel }\n"                                                   \
    "through-hull intake { bore 25 mm; height " HEIGHT "; seacock yes; material bronze; backing yes; serves diesel }\n" \
    "fixture sink { drains-to " DRAIN " }\n"
#define SHARED(HEIGHT) SHARED_BY("intake", HEIGHT)

static const Rule rules[] = {
    {.name = "pump-starved",
     .severity = SEVERITY_WARNING,
     .title = "a pump can draw its water up, and each tap gets what is wished of it",
     .basis = ON_BOTH,
     .source =
         "Darcy and Weisbach with Colebrook, fittings of Munson et al.; what a pump primes is its maker's "
         "word, and a line from free flow to shut-off stands for its curve: common practice, no source",
     .why = "A pump that cannot prime runs dry and wears out, and a thin hose eats the pressure before the "
            "tap. Each tap is looked at by itself, by the worse of its cold and its hot way; what it gets "
            "with everything open is told beside it; of several pumps to one tap the strongest counts, and of "
            "several tanks that a pump may draw from the one that lets least through. Where hoses are not "
            "stated nothing is computed, nor what a pump gives that is worked by hand or foot (`hand yes`) and states no "
            "`flow` and `shut-off`: of such a one the height that it draws is held against its `self-priming`, where it "
            "states that.",
     .breaks = LINE("shut-off 3 bar", "bore 13 mm; rise 0.4 m", "bore 6 mm; rise 0.8 m"),
     .holds = LINE("shut-off 3 bar", "bore 13 mm; rise 0.4 m", "bore 13 mm; rise 0.8 m"),
     .open = LINE("shut-off 3 bar", "bore 13 mm; rise 0.4 m", "bore 6..13 mm; rise 0.8 m"),
     .kinds = {KIND_PUMP, KIND_FIXTURE},
     .judge = judge_pump_starved},
    {.name = "pump-cycling",
     .severity = SEVERITY_ADVICE,
     .title = "the accumulator keeps a pressure pump from starting too often",
     .basis = ON_BOTH,
     .source =
         "Boyle's law with the pre-charge of a worked example (a magazine of well builders); 60 starts an "
         "hour: common practice, no source",
     .why = "Each start is a blow of current on switch and motor. An accumulator gives some water before the "
            "pump has to run; how much follows from its volume, its pre-charge and the two pressures of the "
            "switch. The draw at which the pump starts most often is half of what it moves; without a `shut-off` that is anything from "
            "what is left of its flow if it gave nothing at its `pressure` to all of its free flow.",
     .breaks = LINE("shut-off 3 bar; pressure 2.8 bar; cut-in 1.4 bar; accumulator 0.5 l", "bore 13 mm", "bore 13 mm"),
     .holds = LINE("shut-off 3 bar; pressure 2.8 bar; cut-in 1.4 bar; accumulator 8 l", "bore 13 mm", "bore 13 mm"),
     .open = LINE("shut-off 3 bar; pressure 2.8 bar; cut-in 1.4 bar; accumulator 0.5..8 l", "bore 13 mm", "bore 13 mm"),
     .kinds = {KIND_PUMP},
     .judge = judge_pump_cycling},
    {.name = "pump-switch",
     .severity = SEVERITY_WARNING,
     .title = "a pressure pump's switch starts it below where it stops it, and it can reach that",
     .basis = ON_BOTH,
     .source = "common practice, no source",
     .why = "A pump that cannot reach the pressure at which its switch opens runs on until something melts or somebody "
            "notices; one whose two pressures are the wrong way round chatters. Only what states both of a pair "
            "is held against each other; a `shut-off` in metres is that of so much water.",
     .breaks = LINE("shut-off 2.5 bar; pressure 2.8 bar", "bore 13 mm", "bore 13 mm"),
     .holds = LINE("shut-off 3.5 bar; pressure 2.8 bar; cut-in 1.4 bar; accumulator 8 l", "bore 13 mm", "bore 13 mm"),
     .open = LINE("shut-off 2.5..3.5 bar; pressure 2.8 bar", "bore 13 mm", "bore 13 mm"),
     .kinds = {KIND_PUMP},
     .judge = judge_pump_switch},
    {.name = "hose-fast",
     .severity = SEVERITY_WARNING,
     .title = "water runs no faster than hoses and pumps like",
     .basis = ON_BOTH,
     .source = "1.5 m/s in a suction hose, 3 m/s behind a pump: common practice, no source",
     .why = "Fast water is loud, hammers when a tap shuts, and in a suction hose it boils off air until the "
            "pump loses its prime.",
     .breaks = LINE("shut-off 3 bar", "bore 8 mm", "bore 13 mm"),
     .holds = LINE("shut-off 3 bar", "bore 19 mm", "bore 13 mm"),
     .open = LINE("shut-off 3 bar", "bore 8..19 mm", "bore 13 mm"),
     .kinds = {KIND_HOSE},
     .judge = judge_hose_fast},
    {.name = "hose-pressure",
     .severity = SEVERITY_WARNING,
     .title = "what is lost on the way to a tap is less than the pressure that its pump keeps up",
     .basis = ON_BOTH,
     .source = "Darcy and Weisbach with Colebrook; the comparison: common practice, no source",
     .why = "Between two starts the pressure falls to that at which the switch starts the pump again. If the "
            "hoses, the height and the open tap (taken for a globe valve) take more than that at the wished flow, "
            "the tap dribbles each time before the pump helps. Without a `cut-in` the pressure at which it stops "
            "is taken.",
     .breaks = LINE("shut-off 3 bar; pressure 2.8 bar; cut-in 0.5 bar; accumulator 8 l", "bore 13 mm", "bore 7 mm"),
     .holds = LINE("shut-off 3 bar; pressure 2.8 bar; cut-in 0.5 bar; accumulator 8 l", "bore 13 mm", "bore 13 mm"),
     .open = LINE("shut-off 3 bar; pressure 2.8 bar; cut-in 0.5 bar; accumulator 8 l", "bore 13 mm", "bore 7..13 mm"),
     .kinds = {KIND_FIXTURE},
     .judge = judge_hose_pressure},
    {.name = "hose-grade",
     .severity = SEVERITY_ADVICE,
     .title = "hoses for sewage and for drinking water are made for that",
     .basis = ON_BOTH,
     .source = "common practice, no source",
     .why = "Sewage smells through any hose but a sanitation one within a year or two, and drinking water takes the taste of "
            "what it stands in. Water is followed from the tanks and the toilets on, through pumps, heaters and joints, up to "
            "where it ends. A hose that says no `grade` is not looked at.",
     .breaks = LINE("shut-off 3 bar", "bore 13 mm; rise 0.4 m", "bore 13 mm; rise 0.8 m; grade fuel"),
     .holds = LINE("shut-off 3 bar", "bore 13 mm; rise 0.4 m", "bore 13 mm; rise 0.8 m; grade water"),
     .never_open = "a grade is a word: stated it fits or not, and none is asked for",
     .judge_boat = judge_hose_grade},
    {.name = "unplumbed",
     .severity = SEVERITY_WARNING,
     .title = "water comes to every tap, heater and bowl, and a way leads out of every sink and waste tank",
     .basis = ON_BOTH,
     .source = "common practice, no source",
     .why =
         "A hose that is forgotten on paper is forgotten in the order as well. Ways are the hoses, and what "
         "pumps and toilets say with `to`. As long as some pump does not say where its water goes, what "
         "nothing leads to is open. A bowl is asked for its flushing water where a hose leads from it; a tap with "
         "hot water for a way from a heater where one leads on from a heater at all, and for cold water beside it; a joint "
         "from which hoses lead on for one that leads to it; a tap or a water heater for a pump on the way from its tank, or a tank that "
         "lies higher; a tank of fresh water for what "
         "draws from it, and one of sewage for what leads to it: else it counts in no day, if others do. What a pump, a toilet or a "
         "sink says of its way is held against the hoses that are stated of it, and a hose against the way that its water must go: "
         "a suction leads to its pump, an intake to its engine, a tap gets and a heater gives.",
     .breaks =
         EXAMPLE_BOAT TANK DRAIN "pump pump { from fresh; to tap; portable yes }\n"
                                 "fixture tap { drains-to drain }\nfixture shower { drains-to drain }\n",
     .holds = EXAMPLE_BOAT TANK DRAIN "pump pump { from fresh; to tap; portable yes }\n"
                                      "fixture tap { drains-to drain }\n",
     .open =
         EXAMPLE_BOAT TANK DRAIN "pump pump { from fresh; portable yes }\nfixture tap { drains-to drain }\n",
     .judge_boat = judge_unplumbed},
    {.name = "drain-intake",
     .severity = SEVERITY_WARNING,
     .title = "nothing drains into an opening under water through which something draws the sea in",
     .basis = ON_BOTH,
     .source = "common practice, no source",
     .why =
         "An engine draws grease and scraps from the sink into its strainer and its heat exchanger, and air by a drain that "
         "has run dry: then it has no water. The sea stands in the drain as high as outside, and heeled it may come up into "
         "the sink. Asked of sinks, bowls and bilge pumps; an opening is an intake where a hose leads from it, by a T or a strainer or without, to an engine, "
         "a generator, a pump or a toilet, where a pump draws from it, or where it serves an engine that lets "
         "out nothing there.",
     .breaks = EXAMPLE_BOAT SHARED("-0.3 m"),
     .holds = EXAMPLE_BOAT DRAIN SHARED_BY("drain", "-0.3 m"),
     .open = EXAMPLE_BOAT SHARED("-0.3..0.3 m"),
     .kinds = {KIND_THROUGH_HULL},
     .judge = judge_drain_intake},
    {.name = "intake-dry",
     .severity = SEVERITY_FAULT,
     .title = "an opening through which something draws the sea in lies under water",
     .basis = ON_BOTH,
     .source = "geometry, and common practice, no source",
     .why = "An engine whose intake stands above the water has no cooling, and its pump is gone within a minute; a pump or a toilet "
            "draws nothing. A sign that is forgotten, or a height that is taken from another line, makes it so on paper, and spares "
            "the opening its seacock. Which openings are intakes is told as of `drain-intake`. For pumps, toilets and "
            "strainers with nothing behind them a warning. How far one comes out of the water when she heels or rolls is for the eye.",
     .breaks = EXAMPLE_BOAT DRAIN SHARED_BY("drain", "0.3 m"),
     .holds = EXAMPLE_BOAT DRAIN SHARED_BY("drain", "-0.3 m"),
     .open = EXAMPLE_BOAT DRAIN SHARED_BY("drain", "-0.3..0.3 m"),
     .kinds = {KIND_THROUGH_HULL},
     .judge = judge_intake_dry},
    {.name = "wrong-liquid",
     .severity = SEVERITY_FAULT,
     .title = "nothing but drinking water comes to taps and fresh tanks, nothing but fuel to fuel tanks and engines",
     .basis = ON_BOTH,
     .danger = DANGER_DRINKING,
     .source = "no connection between drinking water and anything else: ISO 15748-2 and plumbing codes, from memory; the rest: "
               "common practice, no source",
     .why =
         "Two pipes are soon joined wrongly, on paper as well as behind a panel: sewage into the drinking water makes "
         "everybody ill, water in the fuel stops the engine, fuel over the side is an offence. Liquids are followed from "
         "tanks, the sea, bowls and sinks along hoses, fuel lines and what pumps, bowls and sinks say of their way. Sea water "
         "at a tap is nobody's mistake (a galley may have it); what passes an `item` or a `load` may be made fresh there. "
         "Sewage in a tank for grey water is a warning, and so is a bowl that drinking water and the sea both come to.",
     .breaks = EXAMPLE_BOAT TANK DRAIN "toilet bowl { to fresh; worked-by hand }\n",
     .holds = EXAMPLE_BOAT TANK DRAIN "toilet bowl { to black; worked-by hand }\ntank black { holds black; capacity 60 l }\n",
     .never_open = "what a tank holds and where a pipe ends are words: stated, or a mistake",
     .judge_boat = judge_wrong_liquid},
    {.name = "pipe-end",
     .severity = SEVERITY_WARNING,
     .title = "every pipe ends at something that is aboard and can take what flows, and none that was dropped is missed",
     .basis = ON_BOTH,
     .source = "common practice, no source",
     .why = "A tank that was dropped leaves hoses that lead nowhere, and no other rule misses the water. A space, a job or a "
            "supplier takes no water either. Before hoses are planned, `to`, `drains-to`, `from` and `serves` say enough of a way; a "
            "hose that was stated and is dropped is another thing: what stood at its end leads on by nothing until another takes "
            "its place.",
     .breaks = EXAMPLE_BOAT DRAIN "tank fresh { holds fresh; capacity 200 l; status dropped }\n"
                                  "pump pump { from fresh; portable yes }\n",
     .holds = EXAMPLE_BOAT TANK DRAIN "pump pump { from fresh; portable yes }\n",
     .never_open = "whether a thing is dropped, and what kind it is of, is stated",
     .kinds = {KIND_HOSE, KIND_FUEL_LINE, KIND_PUMP, KIND_TOILET, KIND_FIXTURE},
     .judge = judge_pipe_end,
     .judge_boat = judge_dropped_hoses},
};
const RuleFamily rules_pipes = RULE_FAMILY("Pipes and pumps", rules);
