/*
 * Thrusters, cabins that are heated or cooled, steering, anchors, and metal under water; safety gear is in
 * fittings_safety.c.
 */
#include "figures/drive.h"
#include "figures/power.h"
#include "rules/ask.h"
#include "rules/families.h"
#include "rules/fittings.h"
#include "rules/hull.h"
#include "rules/plumbing.h"

#include <math.h>

/* ---- thruster-volts ------------------------------------------------------------------------------------ */

static void judge_voltage(Judge *judge, const Entity *thruster)
{
    const Figure *left = figure_of(judge, thruster, FIGURE_BURST_VOLTAGE);
    const Figure *least = figure_of(judge, thruster, FIGURE_LEAST_VOLTAGE);
    const Figure *end = thruster->fed != NULL ? feed_figure(judge, thruster->fed, FIGURE_END_VOLTAGE) : NULL;
    if (end != NULL && end->state == STATE_KNOWN && end->high <= 0.0) {
        judge_gives_way(judge); /* to collapse */
        return;
    }
    Finding *finding = judge_at_least(judge, thruster, place_of(judge, thruster, PROP_FEED_WIRE),
                                      side_figure(left), side_figure(least));
    bool none = finding != NULL && finding->verdict == VERDICT_BROKEN && left->high <= 0.0;
    if (none) {
        finding_severity(finding, SEVERITY_FAULT);
        finding_say(judge, finding, "`%s` asks for more current than its bank and its cable can bring: the voltage collapses, and it "
                                    "does not turn", say_name(judge, thruster));
    } else if (finding != NULL) {
        finding_say(judge, finding, "while it runs `%s` is left with %s; it wants %s",
                    say_name(judge, thruster), say_figure(judge, left), say_figure(judge, least));
    }
    if (finding != NULL) {
        finding_remedy(judge, finding, "a thicker or shorter cable, or a bank of less resistance");
    }
}

static void judge_heat(Judge *judge, const Entity *thruster)
{
    const Figure *heat = figure_of(judge, thruster, FIGURE_BURST_TEMPERATURE);
    const Feed *cable = cable_of(thruster->fed);
    if (heat == NULL || cable == NULL) {
        return;
    }
    Side carries = side_figure(feed_figure(judge, cable, FIGURE_AMPACITY)), flows = side_figure(feed_figure(judge, cable, FIGURE_CURRENT));
    if (ask_at_least(carries, flows) == ANSWER_YES) {
        judge_holds(judge); /* what it carries for ever it carries for a burst: the figure is an upper bound */
        return;
    }
    Side most = side_block_value(judge, cable->subject, cable->block, feed_prop(cable, PROP_FEED_WIRE), 2);
    if (most.state == STATE_MISSING) {
        most = side_number(unit_to_si(UNIT_ALONE(UNIT_CELSIUS), feed_insulation_celsius(cable)), UNIT_ALONE(UNIT_CELSIUS));
    } else {
        most.unit = UNIT_ALONE(UNIT_CELSIUS);
    }
    Finding *finding = judge_at_most(judge, thruster, place_of(judge, thruster, PROP_THRUSTER_LONGEST_BURST),
                                     side_figure(heat), most);
    if (finding != NULL) {
        finding_about(finding, PROP_THRUSTER_LONGEST_BURST);
        finding_say(judge, finding,
                    "after its longest burst the cable of `%s` is at %s; its insulation stands %s",
                    say_name(judge, thruster), say_figure(judge, heat), say_side(judge, side_interval(most.value, most.unit)));
        finding_remedy(judge, finding, "a thicker cable, or a shorter `longest-burst`");
    }
}

static void judge_thruster_volts(Judge *judge, const Entity *thruster)
{
    if (figure_of(judge, thruster, FIGURE_BURST_VOLTAGE) == NULL) {
        return; /* no one bank feeds it: told by `unpowered` */
    }
    judge_voltage(judge, thruster);
    judge_heat(judge, thruster);
}

/* ---- thruster-weak ------------------------------------------------------------------------------------- */

static void judge_thruster_weak(Judge *judge, const Entity *thruster)
{
    const Figure *asked = figure_of(judge, thruster, FIGURE_WIND_THRUST);
    Side thrust = side_value(judge, thruster, PROP_THRUSTER_THRUST, 0);
    Finding *finding = judge_at_least(judge, thruster, place_of(judge, thruster, PROP_THRUSTER_THRUST), thrust,
                                      side_figure(asked));
    if (finding != NULL) {
        const Figure *held = figure_of(judge, thruster, FIGURE_HELD_AREA);
        finding_say(judge, finding, "`%s` pushes with %s; a wind on her side of %s asks for %s%s: it holds %s of it",
                    say_name(judge, thruster), say_side(judge, thrust),
                    say_side(judge, side_value(judge, judge->model->boat, PROP_BOAT_WINDAGE, 0)),
                    say_figure(judge, asked), entity_states(thruster, PROP_COMMON_COUNT) ? " of each" : "",
                    say_figure(judge, held));
        finding_remedy(judge, finding, "a `thrust` of %s or more, or less `wind`", say_no_less(judge, asked->high, asked->unit));
    }
}

/* ---- cabin-heat, cabin-cool ---------------------------------------------------------------------------- */

/* What one of these two rules looks at. */
typedef struct Climate {
    PropId output, serves;
    FigureId need, thumb;
    const char *gives; /* "gives" */
    const char *do_so; /* "lose" */
} Climate;

/* Against what all that are counted give together. */
static Finding *judge_output(Judge *judge, const Entity *maker, const Climate *climate, const Figure *need, Side *output)
{
    *output = side_value(judge, maker, climate->output, 0);
    bool several = entity_states(maker, PROP_COMMON_COUNT);
    Side count = side_value(judge, maker, PROP_COMMON_COUNT, 0);
    if (several && count.state != STATE_KNOWN) {
        output->state = output->state == STATE_KNOWN ? count.state : output->state;
    } else if (several && output->state == STATE_KNOWN) {
        output->value = interval_multiply(output->value, count.value);
    }
    Finding *finding = judge_at_least(judge, maker, place_of(judge, maker, climate->output), *output, side_figure(need));
    if (finding != NULL && several) {
        finding_rests_on(judge, finding, maker, PROP_COMMON_COUNT);
    }
    return finding;
}

static void judge_on_day(Judge *judge, const Entity *maker, const Climate *climate, const Entity *day)
{
    const Figure *need = figure_find(judge->figures, maker, climate->need, day);
    Side output;
    Finding *finding = judge_output(judge, maker, climate, need, &output);
    if (finding == NULL) {
        return;
    }
    Side outside = side_value(judge, day, PROP_DAY_TEMPERATURE, 0);
    finding_at(finding, day);
    finding_say(judge, finding,
                "`%s` %s %s; on `%s`, at %s, the spaces that it serves %s %s (by the thumb %s)",
                say_name(judge, maker), climate->gives, say_side(judge, output), say_name(judge, day),
                say_side(judge, outside), climate->do_so, say_figure(judge, need),
                say_figure(judge, figure_of(judge, maker, climate->thumb)));
}

/* By the thumb alone, where no day or no skin says more; `unless`: a day whose temperature leaves open whether it does. */
static void judge_by_thumb(Judge *judge, const Entity *maker, const Climate *climate, const Entity *unless)
{
    const Figure *thumb = figure_of(judge, maker, climate->thumb);
    Side output;
    Finding *finding = judge_output(judge, maker, climate, thumb, &output);
    if (finding != NULL) {
        finding_say(
            judge, finding,
            "`%s` %s %s; by the thumb the volume that it serves takes %s (`skin` of its spaces and the "
            "`temperature` of a day would tell more)",
            say_name(judge, maker), climate->gives, say_side(judge, output), say_figure(judge, thumb));
        if (unless != NULL) {
            finding_may_not_apply(finding);
            finding_rests_on(judge, finding, unless, PROP_DAY_TEMPERATURE);
        }
    }
}

static void judge_climate(Judge *judge, const Entity *maker, const Climate *climate)
{
    bool certain = false; /* that a day asks for it */
    const Entity *perhaps = NULL;
    for (const Entity *day = first_aboard(judge->model, KIND_DAY); day != NULL; day = next_aboard(day)) {
        const Figure *need = figure_find(judge->figures, maker, climate->need, day);
        if (need != NULL) {
            judge_on_day(judge, maker, climate, day);
            bool maybe = need->state == STATE_KNOWN && need->low <= 0.0;
            certain = certain || !maybe;
            perhaps = perhaps == NULL ? day : perhaps;
        }
    }
    if (perhaps == NULL && !entity_states(maker, climate->serves)) {
        judge_unmeasured(judge, maker, climate->serves);
    } else if (!certain) {
        judge_by_thumb(judge, maker, climate, perhaps);
    }
}

static void judge_cabin_heat(Judge *judge, const Entity *heater)
{
    static const Climate heat = {
        PROP_HEATER_OUTPUT, PROP_HEATER_SERVES, FIGURE_HEAT_NEED, FIGURE_HEAT_THUMB, "gives", "lose"};
    judge_climate(judge, heater, &heat);
}

static void judge_cabin_cool(Judge *judge, const Entity *cooler)
{
    static const Climate cool = {PROP_COOLER_OUTPUT, PROP_COOLER_SERVES, FIGURE_COOL_NEED,
                                 FIGURE_COOL_THUMB,  "takes away",       "gain"};
    judge_climate(judge, cooler, &cool);
}

/* ---- steering-second, anchor-small --------------------------------------------------------------------- */

static void judge_steering_second(Judge *judge, const Entity *steering)
{
    judge_yes(judge, steering, PROP_STEERING_SECOND, "a second way to steer");
}

/* All that the spec states to steer her with is dropped, and nothing says that it takes its place. */
static void judge_unsteered(Judge *judge)
{
    const Entity *lost = judge->model->first_of_kind[KIND_STEERING];
    if (lost == NULL || some_is_mistaken(judge, KIND_STEERING)) {
        return;
    }
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *thing = judge->model->entities[i];
        const Entity *old = is_aboard(thing) ? entity_reference(thing, PROP_COMMON_REPLACES) : NULL;
        if (is_aboard(thing) && (thing->kind == KIND_STEERING || (old != NULL && old->kind == KIND_STEERING))) {
            judge_holds(judge);
            return;
        }
    }
    const Entity *boat = judge->model->boat;
    Finding *finding = judge_open(judge, boat, place_of_name(judge, lost), NULL, PROP_NONE);
    finding_hangs_on(judge, finding, boat, PROP_NONE, "steering");
    finding_say(judge, finding, "`%s` is dropped, and nothing else says how she is steered", say_name(judge, lost));
    finding_remedy(judge, finding, "a `steering`; a tiller on the rudder is `worked-by rod`");
}

static void judge_thickness(Judge *judge, const Entity *anchor, PropId prop, FigureId id, const char *what)
{
    if (!entity_states(anchor, prop)) {
        return;
    }
    const Figure *least = figure_of(judge, anchor, id);
    Side thick = side_value(judge, anchor, prop, 1);
    Finding *finding =
        judge_at_least(judge, anchor, place_of(judge, anchor, prop), thick, side_figure(least));
    if (finding != NULL) {
        finding_about(finding, prop);
        finding_say(judge, finding, "the %s of `%s` is %s thick; for a boat of %s %s is usual", what,
                    say_name(judge, anchor), say_side(judge, thick),
                    say_side(judge, side_value(judge, judge->model->boat, PROP_BOAT_LENGTH, 0)),
                    say_figure(judge, least));
        finding_remedy(judge, finding, "%s %s of %s", props[prop].word, say_side(judge, side_value(judge, anchor, prop, 0)),
                       say_up(judge, least->high, thick.unit));
    }
}

/* Her anchors, gone over once: a boat has one bower, and lighter ones beside it, for a kedge is rowed out. */
typedef struct Anchors {
    double surely_kg;                  /* the heaviest weighs at least that */
    const Entity *heaviest, *heavy;    /* the two that may weigh the most */
    double heaviest_kg, heavy_kg;      /* and how much; infinite: it does not say */
} Anchors;

static void add_anchor(const Judge *judge, Anchors *anchors, const Entity *anchor)
{
    Side mass = side_value(judge, anchor, PROP_COMMON_MASS, 0);
    double most = side_is_known(mass) ? mass.value.high : INFINITY;
    anchors->surely_kg = fmax(anchors->surely_kg, side_is_known(mass) ? mass.value.low : 0.0);
    if (anchors->heaviest == NULL || most > anchors->heaviest_kg) {
        anchors->heavy = anchors->heaviest;
        anchors->heavy_kg = anchors->heaviest_kg;
        anchors->heaviest = anchor;
        anchors->heaviest_kg = most;
    } else if (anchors->heavy == NULL || most > anchors->heavy_kg) {
        anchors->heavy = anchor;
        anchors->heavy_kg = most;
    }
}

/* What may turn out to be the lighter one is not found wanting for certain: that hangs on the other. */
static void leave_to_other(Judge *judge, Finding *finding, const Entity *anchor, const Anchors *anchors)
{
    const Entity *other = anchors->heaviest != anchor ? anchors->heaviest : anchors->heavy;
    double other_kg = anchors->heaviest != anchor ? anchors->heaviest_kg : anchors->heavy_kg;
    Side mass = side_value(judge, anchor, PROP_COMMON_MASS, 0);
    if (finding->verdict == VERDICT_BROKEN && other != NULL && side_is_known(mass) && other_kg > mass.value.low) {
        finding_left_open(judge, finding, other, PROP_COMMON_MASS);
    }
}

static void judge_weight(Judge *judge, const Entity *anchor, const Anchors *anchors)
{
    const Figure *least = figure_of(judge, anchor, FIGURE_ANCHOR_NEED);
    Side mass = side_value(judge, anchor, PROP_COMMON_MASS, 0), near = side_figure(least);
    near.value = interval_scale(near.value, drive_limit(DRIVE_ANCHOR_NEAR)->value);
    Finding *finding = judge_at_least(judge, anchor, place_of(judge, anchor, PROP_COMMON_MASS), mass, near);
    if (finding != NULL) {
        finding_say(judge, finding, "the anchor `%s` weighs %s; for a boat of %s %s is usual",
                    say_name(judge, anchor), say_side(judge, mass),
                    say_side(judge, side_value(judge, judge->model->boat, PROP_BOAT_LENGTH, 0)),
                    say_figure(judge, least));
        finding_remedy(judge, finding, "mass %s", say_up(judge, least->high, mass.unit));
        leave_to_other(judge, finding, anchor, anchors);
    }
}

static void judge_anchors(Judge *judge)
{
    Anchors anchors = {.surely_kg = 0.0};
    for (const Entity *e = first_aboard(judge->model, KIND_ANCHOR); e != NULL; e = next_aboard(e)) {
        add_anchor(judge, &anchors, e);
    }
    for (const Entity *e = first_aboard(judge->model, KIND_ANCHOR); e != NULL; e = next_aboard(e)) {
        Side mass = side_value(judge, e, PROP_COMMON_MASS, 0);
        if (side_is_known(mass) && mass.value.high < anchors.surely_kg) {
            judge_holds(judge); /* a second one: light on purpose, and so is its rode */
            continue;
        }
        judge_weight(judge, e, &anchors);
        judge_thickness(judge, e, PROP_ANCHOR_CHAIN, FIGURE_CHAIN_NEED, "chain");
        judge_thickness(judge, e, PROP_ANCHOR_ROPE, FIGURE_ROPE_NEED, "rope");
    }
}

/* ---- unprotected-metal --------------------------------------------------------------------------------- */

static bool is_named(const Entity *anode, const Entity *thing)
{
    const Property *protects = entity_property(anode, PROP_ANODE_PROTECTS);
    for (uint16_t i = 0; protects != NULL && i < protects->count; i++) {
        if (value_names(&protects->values[i], thing)) {
            return true;
        }
    }
    return false;
}

/* Whether an anode names the propeller, or a seal on its shaft. */
static bool is_protected(const Judge *judge, const Entity *propeller)
{
    for (const Entity *anode = first_aboard(judge->model, KIND_ANODE); anode != NULL;
         anode = next_aboard(anode)) {
        if (is_named(anode, propeller)) {
            return true;
        }
        for (const Entity *e = first_aboard(judge->model, KIND_SHAFT_SEAL); e != NULL; e = next_aboard(e)) {
            if (entity_reference(e, PROP_SHAFT_SEAL_PROPELLER) == propeller && is_named(anode, e)) {
                return true;
            }
        }
    }
    return false;
}

static bool some_anode_is_unclear(const Judge *judge)
{
    for (const Entity *anode = first_aboard(judge->model, KIND_ANODE); anode != NULL;
         anode = next_aboard(anode)) {
        if (has_mistake(anode, PROP_ANODE_PROTECTS)) {
            return true;
        }
    }
    return false;
}

static void judge_unprotected_metal(Judge *judge, const Entity *propeller)
{
    const char *name = say_name(judge, propeller);
    const Entity *engine = entity_reference(propeller, PROP_PROPELLER_ENGINE);
    if (engine != NULL && is_outboard(engine)) {
        return; /* its leg has anodes of its maker's, and is tilted out of the water */
    }
    if (some_anode_is_unclear(judge)) {
        judge_waiting(judge);
    } else if (is_protected(judge, propeller)) {
        judge_holds(judge);
    } else if (some_is_mistaken(judge, KIND_ANODE)) {
        judge_waiting(judge);
    } else if (first_aboard(judge->model, KIND_ANODE) != NULL) {
        Finding *finding = judge_broken(judge, propeller, place_of_name(judge, propeller));
        finding_say(judge, finding, "no anode protects `%s` and its shaft", name);
        finding_remedy(judge, finding, "`protects %s` on an anode that is joined to it", name);
    } else {
        Finding *finding = judge_open(judge, propeller, place_of_name(judge, propeller), NULL, PROP_NONE);
        finding_say(judge, finding, "the spec states no anode, and `%s` and its shaft are metal in the water",
                    name);
        finding_hangs_on(judge, finding, propeller, PROP_NONE, "anode");
        finding_remedy(judge, finding, "anode shaft-anode { protects %s; material %s }", name,
                       anode_metal(judge));
    }
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define PUSHED(SAYS)                                                                                \
    EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n" \
                 "thruster bow { fed-by house; run 6 m; " SAYS                                      \
                 "; protect 300 A fuse 0.1 m from source; draw 250 A; thrust 500 N }\n"
#define BLOWN(THRUST)                                                                                                  \
    "edition 1\n"                                                                                                       \
    "boat wren \"Wren\" { length 11 m; beam 3.4 m; displacement 7200 kg; crew 2; currency EUR; basis us; "               \
    "windage 20 m2 }\n"                                                                                                 \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n"                                   \
    "thruster bow { fed-by house; run 6 m; wire 120 mm2; protect 300 A fuse 0.1 m from source; draw 250 A; at 0.5 m 0 m " \
    "-0.4 m; thrust " THRUST " }\n"
#define HEATED(SAYS) EXAMPLE_BOAT "space saloon { volume 14 m3 }\nheater stove { serves saloon; " SAYS " }\n"
#define COOLED(SAYS) EXAMPLE_BOAT "space saloon { volume 14 m3 }\ncooler box { serves saloon; " SAYS " }\n"
#define DRIVEN                                                              \
    EXAMPLE_BOAT "engine diesel { rated 28 kW at 3000 rpm; fuel diesel }\n" \
                 "propeller screw { engine diesel; diameter 500 mm }\n"

static const Rule rules[] = {
    {.name = "thruster-volts",
     .severity = SEVERITY_WARNING,
     .title = "a thruster keeps its voltage while it runs, and does not cook its cable",
     .basis = ON_BOTH,
     .source = "Ohm's law; 10.5 V of 12 V where `min-voltage` is not stated: common practice, no source",
     .why =
         "A thruster pushes with the square of what voltage is left. On a long thin cable, or a tired bank, "
         "half "
         "of its thrust is lost at the moment when all of it is wanted. The bank is taken full; an empty one "
         "gives less. The heat of its longest burst is taken to stay in the copper, from 50 C on, where "
         "the cable does not carry its current for ever.",
     .breaks = PUSHED("wire 35 mm2"),
     .holds = PUSHED("wire 120 mm2"),
     .open = PUSHED("wire 35..120 mm2"),
     .kinds = {KIND_THRUSTER},
     .judge = judge_thruster_volts},
    {.name = "thruster-weak",
     .severity = SEVERITY_WARNING,
     .title = "a thruster holds her end against the wind that it is meant for",
     .basis = ON_BOTH,
     .source = "pressure of the wind by UFC 4-159-03, equation 2 (verified); moment, shape and Beaufort 5 where no `wind` "
               "is stated: a trade example (verified), common practice",
     .why = "A thruster that loses against the wind is of use only where none is needed. What the wind takes rises with the "
            "square of its speed: twice the wind asks for four times the thrust. `windage` is the area of her side above "
            "water, with deckhouse, spray hood and dodgers; it can be counted on squared paper from a photograph taken abeam.",
     .breaks = BLOWN("450 N"),
     .holds = BLOWN("500 N"),
     .open = BLOWN("450..500 N"),
     .kinds = {KIND_THRUSTER},
     .judge = judge_thruster_weak},
    {.name = "cabin-heat",
     .severity = SEVERITY_ADVICE,
     .title = "a heater gives the heat that its spaces lose",
     .basis = ON_BOTH,
     .source = "U A dT with U from memory; thumb of 15 BTU an hour for each cubic foot: a sailing author "
               "(verified)",
     .why =
         "Where spaces state their `skin` and days their `temperature`, the loss through hull, glass and air "
         "counts; else a thumb of so much for each cubic metre. Both are within a factor of two at best. A "
         "heater "
         "that is far too large soots and cycles, which is not judged.",
     .breaks = HEATED("output 1.2 kW"),
     .holds = HEATED("output 3 kW"),
     .open = HEATED("output 1.2..3 kW"),
     .kinds = {KIND_HEATER},
     .judge = judge_cabin_heat},
    {.name = "cabin-cool",
     .severity = SEVERITY_ADVICE,
     .title = "a cooler takes away the heat that its spaces gain",
     .basis = ON_BOTH,
     .source =
         "U A dT with U from memory; thumb of 14 BTU an hour for each cubic foot: a cooling rule (verified)",
     .why =
         "As with heat: by skin, glass, sun, people and air where spaces and days say enough, else by the "
         "thumb. "
         "More than is needed is not better: a cooler that is too large stops before it has dried the air.",
     .breaks = COOLED("output 1.2 kW"),
     .holds = COOLED("output 3 kW"),
     .open = COOLED("output 1.2..3 kW"),
     .kinds = {KIND_COOLER},
     .judge = judge_cabin_cool},
    {.name = "steering-second",
     .severity = SEVERITY_WARNING,
     .title = "there is a way to steer, and a second one",
     .basis = ON_BOTH,
     .source = "common practice, no source",
     .why = "A cable parts, a hose bursts, and always on a lee shore. An emergency tiller on the rudder "
            "stock, tried "
            "once in calm water, brings her home. Where all that she was steered with is dropped, it asks what is in its place.",
     .breaks = EXAMPLE_BOAT "steering wheel-gear { worked-by cable; second no }\n",
     .holds = EXAMPLE_BOAT "steering wheel-gear { worked-by cable; second yes }\n",
     .open = EXAMPLE_BOAT "steering wheel-gear { worked-by cable }\n",
     .kinds = {KIND_STEERING},
     .judge = judge_steering_second,
     .judge_boat = judge_unsteered},
    {.name = "anchor-small",
     .severity = SEVERITY_ADVICE,
     .title = "anchor, chain and rope are as heavy as is usual for the boat's length",
     .basis = ON_BOTH,
     .source = "common practice, no source, from memory: 1 lb of anchor for each foot of length, 1/8 in of "
               "rope for "
               "each 9 ft, chain half as thick as the rope; that an anchor of 9/10 of that is near enough: a "
               "choice of this program",
     .why = "The anchor is what is left when the engine stops. These are the thumbs of the trade for a usual "
            "boat in "
            "a usual breeze; makers' tables go by windage, and say more. What it "
            "holds, and what rode and cleats then bear, is not computed. An anchor's `mass` with its chain "
            "in it "
            "tells too much, and weighs twice: chain and rope count beside it in what she weighs. Of several anchors the "
            "heaviest is looked at: a kedge is lighter, and its rode thinner.",
     .breaks = EXAMPLE_BOAT "anchor bower { mass 6 kg; chain 30 m of 8 mm }\n",
     .holds = EXAMPLE_BOAT "anchor bower { mass 16 kg; chain 30 m of 8 mm }\n",
     .open = EXAMPLE_BOAT "anchor bower { mass 10..16 kg; chain 30 m of 8 mm }\n",
     .judge_boat = judge_anchors},
    {.name = "unprotected-metal",
     .severity = SEVERITY_WARNING,
     .title = "an anode protects propeller and shaft, and a hull of metal",
     .basis = ON_BOTH,
     .source = "common practice, no source; that unlike metals in the sea corrode: galvanic series of a "
               "boat-design "
               "school (verified)",
     .why = "A bronze propeller on a steel shaft in salt water is a battery, and what it eats first is the "
            "cheapest "
            "metal that is joined to it. Let that be an anode. A hull that is `built` of steel or aluminium wants anodes of its own, "
            "in fresh water too: paint has holes, and what it leaves bare is eaten. How many and how heavy is not judged: that takes "
            "the wetted area and the paint. A through-hull that stands alone in a hull of anything else needs none.",
     .breaks = DRIVEN "anode hull-anode { material zinc }\n",
     .holds = DRIVEN "anode shaft-anode { protects screw; material zinc }\n",
     .open = DRIVEN,
     .kinds = {KIND_PROPELLER},
     .judge = judge_unprotected_metal,
     .judge_boat = judge_unprotected_hull},
    {.name = "life-jackets",
     .chapter = SYSTEM_SAFETY,
     .severity = SEVERITY_FAULT,
     .title = "there is a life jacket for each of the crew",
     .basis = ON_BOTH,
     .source = "33 CFR 175.15(a), one wearable for each person aboard (from memory); iso: common practice, no source",
     .why = "One that is worn saves, and one that is missing is missed by somebody. Held against the `crew`, which guests and "
            "children add to; size, kind and date of service are not looked at. Open where the spec states none, as it is of "
            "lights and the horn. On iso a warning.",
     .breaks = EXAMPLE_BOAT "item vests { carried life-jacket; count 1 }\n",
     .holds = EXAMPLE_BOAT "item vests { carried life-jacket; count 8 }\n",
     .open = EXAMPLE_BOAT "item vests { carried life-jacket; count 1..8 }\n",
     .judge_boat = judge_life_jackets},
    {.name = "throwable",
     .chapter = SYSTEM_SAFETY,
     .severity = SEVERITY_WARNING,
     .title = "a boat of 16 ft or more carries something to throw to somebody in the water",
     .basis = ON_US,
     .source = "33 CFR 175.15(b): one throwable beside the life jackets from 16 ft on; 175.19(b): immediately available "
               "(second hand, as amended 2014)",
     .why = "Who falls in is out of reach in seconds, and a ring or a cushion that is at hand is the first help. Broken where "
            "other safety gear is stated with `carried`, and this is not; open where none is stated. Canoes and kayaks need "
            "none (175.17), which a spec does not say.",
     .breaks = EXAMPLE_BOAT "item vests { carried life-jacket; count 8 }\n",
     .holds = EXAMPLE_BOAT "item vests { carried life-jacket; count 8 }\nitem ring { carried throwable }\n",
     .open = EXAMPLE_BOAT,
     .judge_boat = judge_throwable},
    {.name = "distress-signals",
     .chapter = SYSTEM_SAFETY,
     .severity = SEVERITY_WARNING,
     .title = "a boat of 16 ft or more carries visual distress signals on coastal waters",
     .basis = ON_US,
     .source = "33 CFR 175.110 with 175.101 and 175.105, coastal waters and the high seas from 16 ft on; 175.115, exceptions "
               "(second hand); no signal past the date that it is marked with, 175.125 (verified); three of each, 175.130: from memory",
     .why = "A radio fails with its bank; a flare is seen. Asked where `waters` says coastal or offshore, or nothing; not where it "
            "says inland alone, though the Great Lakes and wide bays count as coastal. Those whose date has "
            "passed (`expires`) do not count. How many there are is not looked at: three for the day and three for the night as a rule. "
            "A smaller boat, one that "
            "is rowed, and an open sailing boat under 26 ft without an engine need them at night alone, which is left to the "
            "owner. Broken where other safety gear is stated with `carried`, and this is not.",
     .breaks = EXAMPLE_BOAT "item vests { carried life-jacket; count 8 }\n",
     .holds = EXAMPLE_BOAT "item vests { carried life-jacket; count 8 }\nitem flares { carried flare }\n",
     .open = EXAMPLE_BOAT,
     .judge_boat = judge_distress_signals},
};
const RuleFamily rules_fittings = RULE_FAMILY("Thrusters, cabins, steering, anchors and safety gear", rules);
