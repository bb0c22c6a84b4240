/*
 * Fuel: tanks that breathe and are grounded, hoses that stand fire. Valves, filters and the way back are in
 * fuel_ways.c.
 */
#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "rules/ask.h"
#include "rules/families.h"
#include "rules/plumbing.h"
#include "rules/fuel_rules.h"
#include "rules/tank_filling.h"

/* ---- fuel-tank ----------------------------------------------------------------------------------------- */

/* A bore that is there at all: how wide it has to be is asked by tank-breath. */
static void judge_opening(Judge *judge, const Entity *tank, PropId prop, const char *what, const char *why)
{
    Side bore = side_value(judge, tank, prop, 0);
    if (bore.state == STATE_WAITING) {
        judge_waiting(judge);
        return;
    }
    Finding *finding = NULL;
    if (bore.state == STATE_MISSING) {
        finding = judge_open(judge, tank, place_of_name(judge, tank), tank, prop);
        finding_say(judge, finding, "the fuel tank `%s` does not say whether it has a %s",
                    say_name(judge, tank), what);
    } else if (bore.value.high <= 0.0) {
        finding = judge_broken(judge, tank, place_of(judge, tank, prop));
        finding_say(judge, finding, "the fuel tank `%s` has no %s: %s", say_name(judge, tank), what, why);
    } else {
        judge_holds(judge);
    }
    if (finding != NULL) {
        finding_about(finding, prop);
        finding_remedy(judge, finding, "`%s` with the bore of a %s that leads outside", props[prop].word,
                       what);
    }
}

static void judge_filling_pipe(Judge *judge, const Entity *tank)
{
    switch (tank_filling(judge, tank)) {
    case FILLING_OWN: judge_opening(judge, tank, PROP_TANK_FILL, "filling pipe", "fuel is poured inside the boat"); break;
    case FILLING_ABOARD: judge_holds(judge); break; /* a day tank: what fills it has the filling pipe */
    case FILLING_WAITS: judge_waiting(judge); break;
    }
}

static void judge_fuel_tank(Judge *judge, const Entity *tank)
{
    if (!str_is(entity_word(tank, PROP_TANK_HOLDS), "fuel") || entity_yes(tank, PROP_COMMON_PORTABLE) == 1) {
        return; /* one that can be carried is filled ashore, and breathes by its cap */
    }
    judge_opening(judge, tank, PROP_TANK_VENT, "vent",
                  "it bulges or starves the engine, and its vapour comes in");
    judge_filling_pipe(judge, tank);
    Finding *finding = judge_yes(judge, tank, PROP_TANK_GROUNDED, "a joint with the boat's ground");
    if (finding != NULL) {
        finding_about(finding, PROP_TANK_GROUNDED);
    }
}

/* ---- fuel-hose ----------------------------------------------------------------------------------------- */

/* An engine within the hull, or that of a generator. */
static bool is_hot_itself(const Entity *end)
{
    return end->kind == KIND_GENERATOR || (end->kind == KIND_ENGINE && !is_outboard(end));
}

/* Whether a line comes near an engine: it ends at one, or it or one of its ends lies in an engine space. */
static bool is_hot(const Judge *judge, const Entity *line)
{
    const Entity *ends[] = {entity_reference(line, PROP_FUEL_LINE_FROM),
                            entity_reference(line, PROP_FUEL_LINE_TO)};
    bool hot = is_engine_space(judge->model, entity_reference(line, PROP_COMMON_SPACE));
    for (size_t i = 0; i < 2 && !hot; i++) {
        hot = ends[i] != NULL && (is_hot_itself(ends[i]) ||
                                  is_engine_space(judge->model, entity_reference(ends[i], PROP_COMMON_SPACE)));
    }
    return hot;
}

/* What is asked of a line: A1 of petrol near an engine, some A near an engine or of petrol, else anything. */
static bool serves(Str grade, bool petrol, bool hot)
{
    bool a1 = str_is(grade, "A1") || str_is(grade, "metal");
    bool a = a1 || str_is(grade, "A2");
    return petrol && hot ? a1 : petrol || hot ? a : true;
}

static void judge_fuel_hose(Judge *judge, const Entity *line)
{
    Fuel carried = fuel_carried(judge->model, line);
    bool petrol = has_petrol_inboard(judge->model) && (carried == FUEL_PETROL || carried == FUEL_UNKNOWN);
    bool hot = is_hot(judge, line);
    Str grade;
    State state = stated_word(line, PROP_FUEL_LINE_GRADE, &grade);
    const char *asked = petrol && hot ? "A1" : "A1 or A2";
    Finding *finding;
    if (state == STATE_WAITING) {
        judge_waiting(judge);
        return;
    }
    if (state == STATE_KNOWN && serves(grade, petrol, hot)) {
        judge_holds(judge);
        return;
    }
    if (state == STATE_KNOWN) {
        finding = judge_broken(judge, line, place_of(judge, line, PROP_FUEL_LINE_GRADE));
        finding_say(judge, finding, "`%s` is of class %s and %s; that asks for %s hose, or metal",
                    say_name(judge, line), str_copy(judge->arena, grade),
                    hot ? "comes near an engine" : "carries petrol", asked);
    } else {
        finding = judge_open(judge, line, place_of_name(judge, line), line, PROP_FUEL_LINE_GRADE);
        finding_say(judge, finding, "`%s` does not say of which class its hose is", say_name(judge, line));
    }
    finding_remedy(judge, finding, "grade A1");
    finding_remedy(judge, finding, "grade metal");
}

/* ---- tank-thin ------------------------------------------------------------------------------------------ */

static void judge_tank_thin(Judge *judge, const Entity *tank)
{
    Str material = entity_word(tank, PROP_TANK_MATERIAL);
    WallMetal metal = str_is(material, "steel")       ? WALL_STEEL
                      : str_is(material, "stainless") ? WALL_STAINLESS
                      : str_is(material, "aluminium") ? WALL_ALUMINIUM
                                                      : WALL_OTHER;
    Content content = tank_content(judge->model, tank);
    if (!holds_fuel(tank) || metal == WALL_OTHER || !entity_states(tank, PROP_TANK_WALL) || entity_yes(tank, PROP_COMMON_PORTABLE) == 1) {
        return;
    }
    Side wall = side_value(judge, tank, PROP_TANK_WALL, 0);
    Side holds = side_value(judge, tank, PROP_TANK_CAPACITY, 0);
    if (holds.state != STATE_KNOWN) {
        return; /* by `capacity` alone: what a `size` encloses may be a box around it */
    }
    Side least = holds; /* what it hangs on is what that does */
    least.unit = wall.unit;
    least.value = (Interval){tank_wall_m(judge->basis, metal, content, holds.value.low),
                             tank_wall_m(judge->basis, metal, content, holds.value.high)};
    Finding *finding = judge_at_least(judge, tank, place_of(judge, tank, PROP_TANK_WALL), wall, least);
    if (finding != NULL) {
        finding_say(judge, finding, "the wall of `%s` is %s; of %s, %s is the least%s", say_name(judge, tank),
                    say_side(judge, wall), str_copy(judge->arena, material), say_side(judge, least),
                    judge->basis == BASIS_US ? " for what it holds, by the table for small passenger vessels, a benchmark" : " by ISO 21487");
        finding_note(judge, finding, place_of(judge, tank, PROP_TANK_CAPACITY), "so much");
        finding_remedy(judge, finding, "another tank, with a `wall` of %s", say_up(judge, least.value.high, wall.unit));
        finding_remedy(judge, finding,
                       "`waive tank-thin on %s` with the tests on its maker's label as the reason, if it bears such a label",
                       say_name(judge, tank));
    }
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define TANK(SAYS) EXAMPLE_BOAT "tank fuel { holds fuel; capacity 200 l; " SAYS " }\n"
#define LINE(SAYS)                                                                                  \
    EXAMPLE_BOAT "tank fuel { holds fuel; capacity 200 l; vent 16 mm; fill 38 mm; grounded yes }\n" \
                 "engine diesel { rated 28 kW at 3000 rpm; fuel diesel }\n"                         \
                 "fuel-line feed { from fuel; to diesel; " SAYS " }\n"

#define PETROL(SAYS)                                                                                             \
    EXAMPLE_BOAT "tank fuel { holds fuel; capacity 200 l; vent 16 mm; fill 38 mm; grounded yes }\n"              \
                 "engine petrol { rated 28 kW at 3000 rpm; fuel petrol }\n"                                     \
                 "fuel-line feed { from fuel; to petrol; shut-off yes; grade A1; filter 10 um; " SAYS " }\n"

#define STOVE(TANK, SAYS)                                                                      \
    EXAMPLE_BOAT "tank can { holds fuel; capacity 20 l; vent 16 mm; fill 38 mm; grounded yes; " TANK " }\n" \
                 "heater stove { output 2 kW; fuel-rate 0.24 l/h; " SAYS " }\n"
#define FED_STOVE(TANK, SAYS) STOVE(TANK, SAYS) "fuel-line feed { from can; to stove; shut-off yes }\n"

#define CONSUMES(RATE) EXAMPLE_BOAT "engine diesel { rated 28 kW at 3000 rpm; fuel diesel; consumption 3000 rpm " RATE " }\n"
#define HEATS(RATE) EXAMPLE_BOAT "heater stove { output 2 kW; fuel diesel; fuel-rate " RATE " }\n"

static const Rule rules[] = {
    {.name = "fuel-tank",
     .severity = SEVERITY_FAULT,
     .title = "a fuel tank has a vent and a filling pipe of its own, and is joined to the boat's ground",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "33 CFR 183.572 (petrol inboards: a benchmark for others) and 46 CFR 182.440(b), 182.450 (small "
               "passenger vessels, edition of 2015: a benchmark); ISO 10088, second hand",
     .why =
         "Fuel that flows through a hose charges tank and filler, and a spark between the filler and the "
         "nozzle meets the vapour at the worst place. A tank without a vent bulges, or starves the engine. "
         "How wide vent and fill have to be is asked by `tank-breath`; that both end on deck, away from "
         "openings into the hull, is for the eye. A tank that can be carried (`portable yes`) is not asked, and of one that a pump, a line or a hose fills "
         "from a tank with a filling pipe, as a day tank, no pipe of its own is.",
     .breaks = TANK("vent 16 mm; fill 38 mm; grounded no"),
     .holds = TANK("vent 16 mm; fill 38 mm; grounded yes"),
     .open = TANK("vent 16 mm; fill 38 mm"),
     .kinds = {KIND_TANK},
     .judge = judge_fuel_tank},
    {.name = "tank-thin",
     .severity = SEVERITY_WARNING,
     .title = "the wall of a metal fuel tank is as thick as the table of the basis asks",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "us: 46 CFR 182.440, Table 1 to (a)(1) (verified; small passenger vessels: a benchmark), for pleasure boats have no "
               "such table there: 33 CFR 183.510 asks for tests of the tank; iso: ISO 21487:2022, second hand",
     .why = "A wall that is thin is pitted through in few years, at the supports and where water lies in it. Asked where a tank that holds "
            "fuel states `wall`, `capacity` and a `material` of metal; us: steel 1.90 mm to 300 l, 2.66 mm to 570 l, 4.55 mm "
            "beyond, aluminium 6.35 mm, and no figure for stainless; iso: steel 1.5 mm, aluminium 2.0 mm, stainless 1.0 mm for diesel. "
            "Plastic and tanks that are carried are not in it; a tank that bears a maker's label "
            "of tests that it has passed goes by that: the warning is then waived with it as the reason.",
     .breaks = TANK("vent 16 mm; fill 38 mm; grounded yes; material steel; wall 1.5 mm"),
     .holds = TANK("vent 16 mm; fill 38 mm; grounded yes; material steel; wall 2 mm"),
     .open = TANK("vent 16 mm; fill 38 mm; grounded yes; material steel; wall 1.5..3 mm"),
     .kinds = {KIND_TANK},
     .judge = judge_tank_thin},
    {.name = "fuel-hose",
     .severity = SEVERITY_FAULT,
     .title = "a fuel hose near an engine stands fire",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "us: 33 CFR 183.558(b) (petrol inboards: a benchmark for others, verified); iso: ISO 7840 near "
               "engines, "
               "ISO 8469 elsewhere, ISO 10088:2022 (all second hand)",
     .why = "In a fire the hose decides whether the tank feeds it. Class A stands two and a half minutes of "
            "flame "
            "and B does not; 1 lets less vapour through than 2. A line comes near an engine if it ends at "
            "one or at a generator, or "
            "lies or ends in an engine's space. In a boat with a petrol engine within her hull, petrol asks for A1 there, and for A "
            "everywhere. An outboard hangs outside: a line to it comes near no engine, and its petrol asks for nothing here.",
     .breaks = LINE("grade B1; shut-off yes; filter 10 um; separator yes"),
     .holds = LINE("grade A1; shut-off yes; filter 10 um; separator yes"),
     .open = LINE("shut-off yes; filter 10 um; separator yes"),
     .kinds = {KIND_FUEL_LINE},
     .judge = judge_fuel_hose},
    {.name = "fuel-shut",
     .severity = SEVERITY_FAULT,
     .title = "a valve at the tank shuts the fuel; filter and separator stand before the engine; it goes "
              "back where it "
              "came from",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "us: 33 CFR 183.568 (petrol inboards: a benchmark for others, verified); Boat Mechanical Systems "
               "Handbook; "
               "filter, separator and way back: common practice, no source",
     .why =
         "The valve is what stops a burst hose from emptying the tank into the bilge, or into a fire. Water "
         "and "
         "dirt are what stops diesels. A return that ends in another tank than the feed began in overfills "
         "that "
         "one at sea, unless a pipe straight from tank to tank lets their levels even out, whose valve stays open then; and so does one "
         "that stays while the feed is turned to another tank; where returns lead to each of them, they are taken to be "
         "turned with it; one that is stated from a tank to an engine is told, and taken the other way round, "
         "and so is a feed from an engine to a tank. The valve is to be worked "
         "from outside the space that it stands in, which a spec does not say. Petrol that leaves its tank at the top, and that a "
         "device keeps from siphoning (`anti-siphon yes`), is asked for no valve: the law takes either, and that valve shuts "
         "itself. A second one is asked for by `fuel-valves`. "
         "An outboard on a tank that is carried is asked for none of it: its hose is unplugged by hand, and its filter sits "
         "under its cowl. A line that leads from a tank back to the one that a pump fills it from is an overflow, and asked for no valve: "
         "shut, it lets the tank burst or spill.",
     .breaks = LINE("grade A1; shut-off no; filter 10 um; separator yes"),
     .holds = LINE("grade A1; shut-off yes; filter 10 um; separator yes"),
     .open = LINE("grade A1; filter 10 um; separator yes"),
     .kinds = {KIND_FUEL_LINE},
     .judge = judge_fuel_shut},
    {.name = "fuel-valves",
     .severity = SEVERITY_WARNING,
     .title = "a long way of the fuel has a second valve at the engine, and what leads into a tank below its top one at the tank",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "second valve: 33 CFR 183.568(c)(2) (petrol inboards without a device against siphoning: a benchmark for others, "
               "verified); below the top: ABYC H-33 and ISO 10088, both from memory",
     .why =
         "Over a long way more fuel stands in the line than anybody wants in a fire, and the valve at the tank is out of reach "
         "of whoever works at the engine: beyond 3.66 m (12 ft), measured over all lines from the nearest tank, a valve stands at the "
         "engine too. Petrol that a device keeps from siphoning (`anti-siphon yes`) is not asked. A return, or a line that fills one tank from another, is forgotten as a way out: where it joins the tank "
         "below its top and bursts, the tank runs empty through it. Whether what feeds the engine has a valve at its tank is asked "
         "by `fuel-shut`, wherever it leaves it. An outboard, and a tank that can be carried, are not asked.",
     .breaks = LINE("run 5 m; grade A1; shut-off yes; engine-shut-off no; filter 10 um; separator yes"),
     .holds = LINE("run 5 m; grade A1; shut-off yes; engine-shut-off yes; filter 10 um; separator yes"),
     .open = LINE("run 5 m; grade A1; shut-off yes; filter 10 um; separator yes"),
     .kinds = {KIND_FUEL_LINE},
     .judge = judge_fuel_valves},
    {.name = "petrol-siphon",
     .severity = SEVERITY_FAULT,
     .title = "petrol leaves its tank at the top, and cannot siphon out where the line bursts",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "33 CFR 183.518 (every opening of the tank at or above its topmost surface) and 183.568 (the line above the tank's "
               "top, or a device against siphoning or an electric stop valve at the tank, or metal or A1 hose with a valve where "
               "the tank's top lies below the carburettor), verified; on iso a benchmark, and a warning; of outboards with built-in "
               "tanks ABYC H-24, from memory",
     .why = "A joint below the top of a tank of petrol lets all of it into the bilge, and no valve is shut while nobody is "
            "aboard. A line that leaves at the top siphons the tank empty as well, once it is full and lies lower anywhere: a device "
            "at the tank stops that. A fault where petrol is drawn from below the top or led back there, a warning where nothing "
            "stops it from siphoning, and where an outboard draws it, which runs the same petrol into the same bilge. A tank that "
            "is carried is left out on deck, or where nobody says in which `space` it stands, and not below deck.",
     .breaks = PETROL("below-top yes; anti-siphon yes"),
     .holds = PETROL("below-top no; anti-siphon yes"),
     .open = PETROL("anti-siphon yes"),
     .kinds = {KIND_FUEL_LINE},
     .judge = judge_petrol_siphon},
    {.name = "wrong-fuel",
     .severity = SEVERITY_FAULT,
     .title = "nothing is fed from a tank of another fuel than it burns",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "common practice, no source",
     .why = "Petrol or spirit in a diesel heater or a diesel engine explodes or burns where nothing is made for it, and diesel stops a "
            "petrol engine and spoils it. Fuel is followed from the tank along its lines; a tank that does not say its `fuel` "
            "holds what the engine burns that it is led to.",
     .breaks = FED_STOVE("fuel petrol", "fuel diesel"),
     .holds = FED_STOVE("fuel diesel", "fuel diesel"),
     .open = FED_STOVE("fuel petrol", ""),
     .kinds = {KIND_ENGINE, KIND_GENERATOR, KIND_HEATER, KIND_COOLER, KIND_BURNER},
     .judge = judge_wrong_fuel},
    {.name = "which-fuel",
     .severity = SEVERITY_WARNING,
     .title = "it is known which fuel a tank holds, and what burns fuel has a tank of it",
     .basis = ON_BOTH,
     .source = "a choice of this program",
     .why = "Range, endurance and what is left of a cruise count on what comes out of the tanks that hold the right fuel. Where "
            "a tank does not say its `fuel`, that follows from what its lines lead to, and without any from what all engines "
            "burn. Where a heater does not say it, diesel is taken. An engine that is carried (`portable yes`) has a tank of its "
            "own, and so may a `burner`: none is asked for it.",
     .breaks = STOVE("fuel petrol", "fuel diesel"),
     .holds = STOVE("fuel diesel", "fuel diesel"),
     .open = STOVE("fuel petrol", ""),
     .kinds = {KIND_TANK, KIND_ENGINE, KIND_GENERATOR, KIND_HEATER, KIND_COOLER},
     .judge = judge_which_fuel},
    {.name = "consumption-odd",
     .severity = SEVERITY_WARNING,
     .title = "an engine's consumption fits its rated power",
     .basis = ON_BOTH,
     .source = "150 g/kWh from memory, below which no engine comes; 700 g/kWh common practice, no source",
     .why = "Range and the tanks of each day go by the points of `consumption`. At rated speed they come to so much fuel for each "
            "kilowatt hour: 200 to 260 g of most diesels, 270 to 350 g of four-stroke petrol engines, more of two-strokes. What "
            "lies far outside is a point or a comma in the wrong place, or gallons for litres. Of a generator the `fuel-rate` is looked "
            "at, which is that of its usual load: only too much is told.",
     .breaks = CONSUMES("0.8 l/h"),
     .holds = CONSUMES("8 l/h"),
     .open = CONSUMES("0.8..8 l/h"),
     .kinds = {KIND_ENGINE, KIND_GENERATOR},
     .judge = judge_consumption_odd},
    {.name = "heat-odd",
     .severity = SEVERITY_WARNING,
     .title = "a heater gives no more heat than is in its fuel, and not far less",
     .basis = ON_BOTH,
     .source = "heat of diesel 42.8 MJ/kg, of petrol 43.4, of paraffin 43.1, of burning spirit 25, all from memory; at least 30 %: common practice, no source",
     .why = "A litre of diesel or paraffin holds about 10 kWh, one of spirit 5.6, and a heater keeps 60 to 85 % of that in the boat; a `burner` gives nearly all of it. Where `output` and "
            "`fuel-rate` say otherwise by far, one of them is a slip, and so is how long the fuel is said to last.",
     .breaks = HEATS("0.024 l/h"),
     .holds = HEATS("0.24 l/h"),
     .open = HEATS("0.024..0.24 l/h"),
     .kinds = {KIND_HEATER, KIND_BURNER},
     .judge = judge_heat_odd},
};
const RuleFamily rules_fuel = RULE_FAMILY("Fuel", rules);
