/*
 * Engines: power for the hull, and exhaust; the table of these rules and of those in the files drive_*.c (drive_rules.h).
 */
#include "figures/drive.h"
#include "rules/ask.h"
#include "rules/drive_examples.h"
#include "rules/drive_rules.h"
#include "rules/families.h"
#include "rules/plumbing.h"

#include <math.h>

#define PERCENT UNIT_ALONE(UNIT_PERCENT)

/* 40 kW take 1.25 m2 by the one rule, and at the 8.5 kn of this hull 1.68 m2 by the other. */
#define KEELED(COOLER) HULL DIESEL("rated 40 kW at 3000 rpm; cooling keel; " COOLER)

/* ---- power-short, power-idle --------------------------------------------------------------------------- */

/* Whether two ask for one speed, which is decided, and so for one power. */
static bool asks_the_same(const Judge *judge, const Entity *engine, const Entity *asks, const Entity *other)
{
    Side speed = side_value(judge, asks, speed_of(asks), 1), of_other = side_value(judge, other, speed_of(other), 1);
    const Figure *need = figure_find(judge->figures, engine, FIGURE_RATED_POWER_NEED, asks);
    const Figure *needs = figure_find(judge->figures, engine, FIGURE_RATED_POWER_NEED, other);
    bool decided = side_is_known(speed) && side_is_known(of_other) && interval_is_point(speed.value) &&
                   interval_is_point(of_other.value);
    return decided && speed.value.low == of_other.value.low && need != NULL && needs != NULL && need->low == needs->low &&
           need->high == needs->high;
}

static bool is_asked_before(const Judge *judge, const Entity *engine, const Entity *asks)
{
    const Entity *other = first_speed(judge->model);
    while (other != asks && !asks_the_same(judge, engine, asks, other)) {
        other = next_speed(judge->model, other);
    }
    return other != asks;
}

/* Days and goals of one speed are told once, each with its place. */
static void judge_power_at(Judge *judge, const Entity *engine, const Entity *asks)
{
    const Figure *need = figure_find(judge->figures, engine, FIGURE_RATED_POWER_NEED, asks);
    Side rated = side_value(judge, engine, PROP_ENGINE_RATED, 0);
    Finding *finding =
        judge_at_least(judge, engine, place_of(judge, engine, PROP_ENGINE_RATED), rated, side_figure(need));
    if (finding == NULL) {
        return;
    }
    Side speed = side_value(judge, asks, speed_of(asks), 1);
    const Figure *bare = figure_find(judge->figures, engine, FIGURE_NEEDED_POWER, asks);
    finding_at(finding, asks);
    finding_say(
        judge, finding,
        "`%s` is rated %s; %s takes %s in flat water, and %s with a margin for the sea and at what an "
        "engine gives for long",
        say_name(judge, engine), say_side(judge, rated), say_side(judge, speed), say_figure(judge, bare),
        say_figure(judge, need));
    finding_note(judge, finding, place_of(judge, asks, speed_of(asks)), "asked for here");
    for (const Entity *other = next_speed(judge->model, asks); other != NULL; other = next_speed(judge->model, other)) {
        if (asks_the_same(judge, engine, asks, other)) {
            finding_note(judge, finding, place_of(judge, other, speed_of(other)), "and here");
        }
    }
    finding_remedy(judge, finding, "a slower speed, or an engine of %s",
                   say_up(judge, need->high, need->unit));
}

static void judge_power_short(Judge *judge, const Entity *engine)
{
    for (const Entity *asks = first_speed(judge->model); asks != NULL;
         asks = next_speed(judge->model, asks)) {
        bool drives = drives_on(judge->model, engine, asks); /* else others make that speed */
        if (drives && !is_asked_before(judge, engine, asks)) {
            judge_power_at(judge, engine, asks);
        }
    }
}

static void judge_power_idle(Judge *judge, const Entity *engine)
{
    const Figure *most = figure_of(judge, engine, FIGURE_IDLE_POWER);
    if (most == NULL) {
        return; /* a hull that planes uses what it is given */
    }
    Side rated = side_value(judge, engine, PROP_ENGINE_RATED, 0);
    Finding *finding =
        judge_at_most(judge, engine, place_of(judge, engine, PROP_ENGINE_RATED), rated, side_figure(most));
    if (finding != NULL) {
        const Entity *boat = judge->model->boat;
        finding_say(
            judge, finding,
            "`%s` is rated %s; such a hull is hardly driven faster than %s, and that takes %s with all "
            "margins",
            say_name(judge, engine), say_side(judge, rated),
            say_figure(judge, figure_of(judge, boat, FIGURE_SPEED_LIMIT)),
            say_figure(judge, figure_of(judge, engine, FIGURE_USABLE_POWER)));
        finding_note(judge, finding, place_of(judge, boat, PROP_BOAT_WATERLINE),
                     "the waterline sets the speed");
    }
}

/* ---- exhaust-back -------------------------------------------------------------------------------------- */

static void judge_exhaust_back(Judge *judge, const Entity *exhaust)
{
    const Entity *engine = engine_of_exhaust(judge->model, exhaust);
    const Figure *pressure = figure_of(judge, exhaust, FIGURE_BACK_PRESSURE);
    if (engine == NULL || pressure == NULL) {
        return;
    }
    Side most = side_value(judge, engine, PROP_ENGINE_BACK_PRESSURE, 0);
    Finding *finding = judge_at_most(judge, exhaust, place_of(judge, exhaust, PROP_EXHAUST_BORE),
                                     side_figure(pressure), most);
    if (finding == NULL) {
        return;
    }
    const Entity *other = next_of_exhaust(judge->model, engine);
    finding_say(judge, finding, "`%s` presses back with %s at rated power of `%s`%s, which stands %s",
                say_name(judge, exhaust), say_figure(judge, pressure), say_name(judge, engine),
                other != NULL ? text_format(judge->arena, " and `%s`", say_name(judge, other)) : "", say_side(judge, most));
    if (!entity_states(engine, PROP_ENGINE_BACK_PRESSURE)) {
        finding_note(judge, finding, place_of_name(judge, engine),
                     "its `back-pressure` is assumed: without a turbocharger");
    }
    finding_remedy(judge, finding, "a wider bore, fewer bends, or less lift");
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define POWER_FOR_7_KN(RATED) HULL DIESEL(RATED) "day passage { distance 35 nmi at 7 kn }\n"
#define EXHAUST(SAYS) \
    HULL DIESEL(      \
        "rated 28 kW at 3000 rpm; exhaust pipe") "exhaust pipe { run 3 m; bends 3; lift 0.5 m; " SAYS " }\n"

#define INTAKE(HOSE)                                                                                              \
    HULL DIESEL("rated 40 kW at 3000 rpm; raw-water 45 l/min")                                                    \
    "through-hull intake { bore 38 mm; height -0.4 m; seacock yes; reach yes; material bronze; backing yes; "     \
    "serves diesel }\nhose intake-hose { from intake; to diesel; run 2 m; clamps 2; " HOSE " }\n"                 \
    "strainer basket { on intake-hose; bore 32 mm }\n"

#define OUTLET(SAYS)                                                                                           \
    HULL DIESEL("rated 20 kW at 3000 rpm; exhaust pipe") "exhaust pipe { run 3 m; bore 51 mm }\n"              \
                                                         "through-hull outlet { bore 51 mm; serves pipe; " SAYS " }\n"

#define PETROL_MOTOR(SAYS) \
    EXAMPLE_BOAT "engine motor { rated 100 hp at 4600 rpm; fuel petrol; mounted sterndrive; " SAYS " }\n"
#define FAST(SAYS)                                                                                                      \
    "edition 1\nboat wren \"Wren\" { length 6.5 m; beam 2.4 m; displacement 1500 kg; hull planing; crew 2; currency EUR; " \
    "basis us }\nengine motor { rated 100 hp at 5500 rpm; fuel petrol; mounted outboard; " SAYS " }\n"

static const Rule rules[] = {
    {.name = "power-short",
     .severity = SEVERITY_WARNING,
     .title = "an engine has power for each speed that the spec speaks of, with a margin",
     .basis = ON_BOTH,
     .source = "Propeller Handbook, formula 2-1 (verified), of a hull that planes Crouch's formula, and no less than 2-1 at speeds too "
               "slow to plane; a margin of 15 % for sea and growth, and 85 % of "
               "rated power for long: common practice, no source",
     .why =
         "The formula knows flat water and a clean hull. Against a headwind and a chop she needs more, and "
         "an engine that is held at its rated power all day does not last. The speeds are those of days "
         "(`distance 35 nmi at 7 kn`) and of goals (`range 300 nmi at 6 kn`).",
     .breaks = POWER_FOR_7_KN("rated 20 kW at 3000 rpm"),
     .holds = POWER_FOR_7_KN("rated 40 kW at 3000 rpm"),
     .open = POWER_FOR_7_KN("rated 20..40 kW at 3000 rpm"),
     .kinds = {KIND_ENGINE},
     .judge = judge_power_short},
    {.name = "power-idle",
     .severity = SEVERITY_WARNING,
     .title = "an engine has not far more power than the hull can use",
     .basis = ON_BOTH,
     .source =
         "Propeller Handbook, formulas 2-1 and 2-3 (verified in quotations); margins: common practice, no "
         "source; half as much again is far more: a choice of this program",
     .why =
         "A hull that does not plane meets a wall: twice the power makes her squat, not go. An engine that "
         "is far too large runs cold and unloaded, which glazes a diesel's cylinders; it weighs, costs and "
         "drinks more, and asks for a stronger shaft.",
     .breaks = HULL DIESEL("rated 90 kW at 3000 rpm"),
     .holds = HULL DIESEL("rated 40 kW at 3000 rpm"),
     .open = HULL DIESEL("rated 40..90 kW at 3000 rpm"),
     .kinds = {KIND_ENGINE},
     .judge = judge_power_idle},
    {.name = "exhaust-back",
     .severity = SEVERITY_WARNING,
     .title = "an exhaust presses back no more than the engine stands",
     .basis = ON_BOTH,
     .source = "an engine maker's installation manual, Boat Mechanical Systems Handbook (both verified); "
               "limit: the "
               "engine's `back-pressure`, else an engine maker's data sheet",
     .why = "What an engine cannot blow out it cannot breathe in: it loses power, smokes, runs hot and burns "
            "its "
            "valves. Bore matters most, then the height that a water lock lifts, then bends. The maker's own "
            "limit goes before the assumed one; a turbocharger halves it.",
     .breaks = EXHAUST("bore 38 mm"),
     .holds = EXHAUST("bore 64 mm"),
     .open = EXHAUST("bore 38..64 mm"),
     .kinds = {KIND_EXHAUST},
     .judge = judge_exhaust_back},
    {.name = "exhaust-riser",
     .severity = SEVERITY_FAULT,
     .title = "the mixing elbow of a wet exhaust stands high above the waterline",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source =
         "trade magazine and Boat Mechanical Systems Handbook, second hand: 12 in (305 mm) above the loaded waterline, heeled and "
         "under way; metric papers of installation round it to 300 mm (from memory), and by that it is judged",
     .why =
         "Behind a low elbow the sea runs through the cooling water's hose, or back up the pipe in a "
         "following "
         "sea, into the cylinders, and then into the boat. A vented loop on a hose that comes `from` the engine, between "
         "its pump and the elbow, breaks the siphon: the elbow then has to stand above the waterline at all. Its top has to clear the sea as `siphon` asks of "
         "every loop, 200 mm above the heeled waterline: by a valve under water comes no air, but the sea. One that clears the water at "
         "rest alone is a warning. One on the "
         "hose to the engine lets the pump draw air and breaks nothing. The height is that upright and at rest: how far she heels, and how "
         "she squats under way, is not reckoned here, and where the elbow stands far out or far aft more is needed. "
         "Of two engines that share one wet exhaust, or whose exhausts meet in one through-hull or behind a T, the one that runs drives "
         "its water into the other that stands, whatever the height: a warning (common practice, no source). A generator is looked at "
         "where a hose of the grade `exhaust`, or the through-hull of an exhaust, is its way out.",
     .breaks = EXHAUST("bore 51 mm; riser-above-waterline 0.1 m"),
     .holds = EXHAUST("bore 51 mm; riser-above-waterline 0.4 m"),
     .open = EXHAUST("bore 51 mm"),
     .kinds = {KIND_EXHAUST},
     .judge = judge_exhaust_riser},
    {.name = "exhaust-wet",
     .severity = SEVERITY_FAULT,
     .title = "an exhaust that is said to be dry has no water to lift, and the engine's sea water another way out",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "that the two exclude each other is plain; that an engine which pumps sea water lets it out somewhere too",
     .why = "With `wet no` nothing is asked of the height of the mixing elbow, which is what keeps the sea out of the "
            "engine. A water lock stands in wet exhausts alone, and sea water that is pumped in leaves by the exhaust, "
            "or by a hose of its own from the engine, as behind a heat exchanger with a dry stack.",
     .breaks = HULL DIESEL("rated 20 kW at 3000 rpm; exhaust pipe") "exhaust pipe { run 3 m; bore 51 mm; wet no; lift 0.4 m }\n",
     .holds = HULL DIESEL("rated 20 kW at 3000 rpm; exhaust pipe") "exhaust pipe { run 3 m; bore 51 mm; wet no }\n",
     .open = HULL DIESEL("rated 20 kW at 3000 rpm; exhaust pipe") "exhaust pipe { run 3 m; bore 51 mm; wet no; lift 0..0.4 m }\n",
     .kinds = {KIND_EXHAUST},
     .judge = judge_exhaust_wet},
    {.name = "exhaust-outlet",
     .severity = SEVERITY_FAULT,
     .title = "an exhaust leaves the hull above the water or by a seacock, by what stands it, and as wide as its pipe",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "common practice, no source; the clause on seacocks that `seacock` goes by leaves exhausts out",
     .why = "Under the waterline the sea stands in the pipe up to its level, and a hose that burns through or comes off "
             "lets it in; plastic and brass do not last in hot water. Less than 50 mm above the water in which she rests it is under it as "
             "soon as she is loaded or heels: a warning. Higher up no seacock is asked: flap, riser and bends keep "
             "the waves out. A dry exhaust has no water lock, and no water that cools it: the sea that she heels into must not "
             "reach over its outlet, or over the highest place of its pipe (`riser-above-waterline`), and plastic melts at any "
             "height. A fitting that is narrower than the pipe presses back, which is a warning. Looked at where a through-hull "
            "`serves` an exhaust.",
     .breaks = OUTLET("height -0.2 m; seacock no; material bronze"),
     .holds = OUTLET("height 0.1 m; seacock no; material bronze"),
     .open = OUTLET("height -0.2 m; material bronze"),
     .kinds = {KIND_THROUGH_HULL},
     .judge = judge_exhaust_outlet},
    {.name = "engine-joined",
     .severity = SEVERITY_WARNING,
     .title = "fuel and cooling water come to an engine, fuel to what else burns it, and the exhaust of each leaves the boat",
     .basis = ON_BOTH,
     .source = "common practice, no source",
     .why = "Rules of fuel lines, intakes and exhausts ask of what is stated; a pipe that is forgotten has nobody to ask. Fuel "
            "comes by a `fuel-line` that leads to the engine (one that takes fuel back does not count), sea water by a hose to "
            "it, by a fitting that serves it and does not lie above the waterline, or by the leg of a saildrive or sterndrive. An "
            "outboard brings its own. The exhaust leaves by a fitting that serves it, by one above the waterline that serves the "
            "engine, or by the leg of a sterndrive: one that ends inside brings carbon monoxide, and its opening may let the sea in. "
            "A generator is asked, and a heater that burns (see its `fuel`), unless they are portable; what serves it, or the `exhaust` "
            "that a generator names (or that alone is named by none), lets its exhaust out.",
     .breaks = HULL DIESEL("rated 28 kW at 3000 rpm") "tank fuel { holds fuel; capacity 200 l }\n"
                                                      "fuel-line back { from diesel; to fuel; return yes }\n",
     .holds = HULL DIESEL("rated 28 kW at 3000 rpm; exhaust pipe") "tank fuel { holds fuel; capacity 200 l }\n"
                                                                   "fuel-line feed { from fuel; to diesel }\n"
                                                                   "exhaust pipe { bore 64 mm; run 2 m }\n"
                                                                   "through-hull intake { bore 25 mm; serves diesel }\n"
                                                                   "through-hull outlet { bore 64 mm; serves pipe }\n",
     .open = HULL DIESEL("rated 28 kW at 3000 rpm"),
     .kinds = {KIND_ENGINE, KIND_HEATER, KIND_GENERATOR},
     .judge = judge_engine_joined},
    {.name = "raw-water",
     .severity = SEVERITY_WARNING,
     .title = "sea water enough for the engine's heat, through an intake wide enough",
     .basis = ON_BOTH,
     .source =
         "a trade page: 0.87 to 0.94 l/min for each kW (verified); an engine maker's sheet: 25 mm for 85 kW "
         "(verified), at equal speed of the water for other powers",
     .why = "Cooling that is only just enough when all is clean is not enough when weed lies on the "
            "strainer. An "
            "engine that says `cooling keel` or `cooling air` is left alone, for what it pumps cools its exhaust at most; one with "
            "a dry exhaust that says neither what cools it nor any `raw-water` is left open. How large a keel cooler has to be "
            "is asked by keel-cooler.",
     .breaks = HULL DIESEL("rated 40 kW at 3000 rpm; raw-water 20 l/min"),
     .holds = HULL DIESEL("rated 40 kW at 3000 rpm; raw-water 45 l/min"),
     .open = HULL DIESEL("rated 40 kW at 3000 rpm; raw-water 30..45 l/min"),
     .kinds = {KIND_ENGINE},
     .judge = judge_raw_water},
    {.name = "keel-cooler",
     .severity = SEVERITY_WARNING,
     .title = "the skin of a keel cooler is large enough for the engine's heat",
     .basis = ON_BOTH,
     .source = "Boat Mechanical Systems Handbook, table 8-1 (verified): 0.050 m2 for each kW under 8 kn, 0.042 above, of painted "
               "steel; a trade page for skin tanks of canal boats (verified): kW / 32 in m2",
     .why = "A cooler that is too small shows on the first hot day on which all of the power is asked for. The two rules are more "
            "than half apart: below the smaller one it is a warning, between them it is open, and what the engine's maker says "
            "counts. Asked of engines with `cooling keel` in a hull of steel, or that state a `keel-cooler`; for other metals no "
            "published size was at hand. Paint, growth and warm water take off of it, and at a berth the water does not pass.",
     .breaks = KEELED("keel-cooler 0.9 m2"),
     .holds = KEELED("keel-cooler 2.2 m2"),
     .open = KEELED("keel-cooler 0.9..2.2 m2"),
     .kinds = {KIND_ENGINE},
     .judge = judge_keel_cooler},
    {.name = "intake-hose",
     .severity = SEVERITY_WARNING,
     .title = "sea water comes to the engine through a strainer and wide hoses that are made for it",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "bore: as of `raw-water`, an engine maker's sheet (verified); strainer and kind of hose: common practice, no "
               "source",
     .why = "The narrowest place decides what the pump gets, be it the hose or the strainer behind a wide seacock. Hose for "
            "drinking water draws flat under suction when it is warm, and is thin for what lies under the waterline; hose "
            "for exhausts or sewage is not. What a strainer does not stop sticks in the pump or in the heat exchanger. "
            "Looked at where hoses are stated all the way from a through-hull; a grade that is not stated is not asked for.",
     .breaks = INTAKE("bore 12 mm"),
     .holds = INTAKE("bore 32 mm; grade raw-water"),
     .open = INTAKE("bore 12..32 mm"),
     .kinds = {KIND_ENGINE},
     .judge = judge_intake_hose},
    {.name = "engine-air",
     .severity = SEVERITY_WARNING,
     .title = "air enough reaches the engine to burn and to keep it cool",
     .basis = ON_BOTH,
     .source = "Boat Mechanical Systems Handbook, chapter 16 (verified): 2.6 cm2 for each kW; for a blower "
               "2.75 cfm "
               "a horsepower less 90, or 2.5 cfm a horsepower (second hand)",
     .why = "An engine that has to suck its air through the gaps of the sole loses power, and its space "
            "grows so "
            "hot that hoses, cables and the alternator age in a season. Stated `openings` of its space are "
            "asked "
            "first, a blower only where there are none; several engines in a space add up, and a generator that is not carried "
            "counts as one, by the power that it gives.",
     .breaks =
         HULL "space engine-room { openings 50 cm2 }\n" DIESEL("rated 40 kW at 3000 rpm; space engine-room"),
     .holds =
         HULL "space engine-room { openings 200 cm2 }\n" DIESEL("rated 40 kW at 3000 rpm; space engine-room"),
     .open = HULL
     "space engine-room { openings 50..200 cm2 }\n" DIESEL("rated 40 kW at 3000 rpm; space engine-room"),
     .kinds = {KIND_ENGINE, KIND_GENERATOR},
     .judge = judge_engine_air},
    {.name = "backfire",
     .severity = SEVERITY_FAULT,
     .title = "the flame of a petrol engine's backfire stays in its intake",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "46 CFR 25.35-1 (verified): every petrol engine installed after April 25, 1940, but outboards; on iso a benchmark "
               "and a warning: ISO 13592, from memory, was not at hand",
     .why = "An engine that is badly timed, or started cold, blows a flame out of its intake, into a space where petrol vapour may "
            "lie. An arrester that is marked for boats, tight on the intake and clean, stops it; the intake of an engine with "
            "injection may have been tested to do as much, and says so on its label. Outboards are not asked.",
     .breaks = PETROL_MOTOR("flame-arrester no"),
     .holds = PETROL_MOTOR("flame-arrester yes"),
     .open = PETROL_MOTOR(""),
     .kinds = {KIND_ENGINE},
     .judge = judge_backfire},
    {.name = "engine-cut-off",
     .severity = SEVERITY_WARNING,
     .title = "a small fast boat has a switch that stops the engine when nobody is left at the helm",
     .basis = ON_US,
     .source = "46 USC 4312 (verified): boats under 26 ft that can develop 115 lbf of static thrust, fitted by whoever installs engine "
               "and controls since the act of 2018, its link used on plane or above displacement speed; that 3 hp give so "
               "much: from memory",
     .why = "Who is thrown out sees the boat come round in a circle, with nobody aboard to stop the propeller. The switch does it, by "
            "a line at the wrist or the jacket, or by radio. Asked of a hull that is `planing` or `semi-displacement`, and of one that "
            "does not say where the engine is an outboard or a sterndrive. Where the main helm is in an enclosed cabin the law does not "
            "ask that the link is worn; a boat that was fitted out earlier need not have the switch, and it serves her as well.",
     .breaks = FAST("cut-off no"),
     .holds = FAST("cut-off yes"),
     .open = FAST(""),
     .kinds = {KIND_ENGINE},
     .judge = judge_engine_cut_off},
    {.name = "exhaust-lagged",
     .severity = SEVERITY_WARNING,
     .title = "a dry exhaust is lagged or shielded all the way",
     .basis = ON_BOTH,
     .danger = DANGER_FIRE,
     .source = "an inland scheme's rules ask that silencer, pipe and flanges be lagged or shielded where no water runs through "
               "them (second hand); otherwise common practice, no source",
     .why = "No water cools it: under load the pipe glows near the engine, and sets fire to wood, lining and hoses, or burns who "
            "reaches past it. Lagging that is soaked with oil burns too, so it is looked at with each oil change. Where the "
            "pipe passes through a bulkhead or the deck, it needs a sleeve of its own, which is not looked at.",
     .breaks = EXHAUST("bore 64 mm; wet no; lagged no"),
     .holds = EXHAUST("bore 64 mm; wet no; lagged yes"),
     .open = EXHAUST("bore 64 mm; wet no"),
     .kinds = {KIND_EXHAUST},
     .judge = judge_exhaust_lagged},
};
const RuleFamily rules_drive = RULE_FAMILY("Engine", rules);
