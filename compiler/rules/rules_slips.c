/*
 * Rules of sizes that hardly can be: a tank larger than its space, an anchor on too short a rode, a pressure that no fresh-water
 * system stands, a water hose as wide as an exhaust, an opening in the hull above the deck. Most are slips of the pen, by a
 * point or a nought; each makes figures wrong that rest on it.
 */
#include "rules/ask.h"

#include "figures/drive.h"
#include "figures/water.h"
#include "model/tank_sides.h"
#include "physics/pipe.h"

#include "rules/families.h"
#include "rules/slips.h"

/* What hoses, fittings and heaters of a fresh-water system stand. Common practice, no source. */
static const double pressure_most_pa = 6e5;
/* Water in small craft runs in 10 to 25 mm, the suction of a large pump in 38 or 50 mm. Common practice, no source. */
static const double bore_most_m = 0.08;
/* Cable let out by depth and bow height: all chain, and with rope. Seamanship manuals say 3 to 5 and 5 to 7, from memory. */
static const double scope_chain = 3.0, scope_rope = 5.0;

/*
 * Momentum of a jet: a screw in a tunnel of usual width gives some 300 N for a kilowatt, and those on sale half of that
 * (from memory). So much is none: a choice of this program.
 */
static const double thrust_n_per_w = 0.5;

/* ---- tank-room ----------------------------------------------------------------------------------------- */

static void judge_tank_room(Judge *judge, const Entity *tank)
{
    const Entity *space = entity_reference(tank, PROP_COMMON_SPACE);
    const Figure *volume = figure_of(judge, tank, FIGURE_VOLUME);
    if (space == NULL || volume == NULL || !entity_states(space, PROP_SPACE_VOLUME)) {
        return; /* nothing to hold against each other */
    }
    PropId prop = entity_states(tank, PROP_TANK_CAPACITY) ? PROP_TANK_CAPACITY : tank_sides(tank);
    Side room = side_value(judge, space, PROP_SPACE_VOLUME, 0);
    Finding *finding = judge_at_most(judge, tank, place_of(judge, tank, prop), side_figure(volume), room);
    if (finding != NULL) {
        finding_say(judge, finding, "`%s` holds %s, and `%s`, in which it stands, has a volume of %s",
                    say_name(judge, tank), say_figure(judge, volume), say_name(judge, space),
                    say_side(judge, room));
        finding_note(judge, finding, place_of(judge, space, PROP_SPACE_VOLUME), "its space");
        finding_remedy(judge, finding, "the right volume on either line");
    }
}

/* What the tanks of a space hold together, as far as each of them says. */
typedef struct Filled {
    Interval volume;
    uint32_t count;
    const Entity *last;
    bool told; /* one of them alone is too large: told of that one */
} Filled;

static void add_tank(const Judge *judge, Filled *filled, const Entity *tank, const Entity *space)
{
    Side volume = side_figure(figure_of(judge, tank, FIGURE_VOLUME)), room = side_value(judge, space, PROP_SPACE_VOLUME, 0);
    if (side_is_known(volume) && side_is_known(room)) {
        filled->volume = interval_add(filled->volume, volume.value);
        filled->told = filled->told || volume.value.high > room.value.low;
        filled->count++;
        filled->last = tank;
    }
}

static void judge_together(Judge *judge, const Entity *space, const Filled *filled)
{
    Side room = side_value(judge, space, PROP_SPACE_VOLUME, 0);
    Side all = side_interval(filled->volume, figure_of(judge, filled->last, FIGURE_VOLUME)->unit);
    Finding *finding = judge_at_most(judge, space, place_of(judge, space, PROP_SPACE_VOLUME), all, room);
    if (finding == NULL) {
        return;
    }
    for (const Entity *e = first_aboard(judge->model, KIND_TANK); e != NULL; e = next_aboard(e)) {
        if (entity_reference(e, PROP_COMMON_SPACE) == space && figure_of(judge, e, FIGURE_VOLUME) != NULL) {
            PropId prop = entity_states(e, PROP_TANK_CAPACITY) ? PROP_TANK_CAPACITY : tank_sides(e);
            finding_rests_on(judge, finding, e, prop);
            finding_note(judge, finding, place_of(judge, e, prop), "`%s`", say_name(judge, e));
        }
    }
    finding_say(judge, finding, "the %u tanks that stand in `%s` hold %s together, and it has a volume of %s", (unsigned)filled->count,
                say_name(judge, space), say_side(judge, all), say_side(judge, room));
    finding_remedy(judge, finding, "the right volumes, or another `space` for one of them");
}

/* Each of several tanks may go into a space that does not hold all of them. One pass over the tanks, one over the spaces. */
static void judge_tanks_together(Judge *judge)
{
    const Entity *first = first_aboard(judge->model, KIND_TANK);
    if (first == NULL || next_aboard(first) == NULL) {
        return;
    }
    Filled *filled = ARENA_ARRAY(judge->scratch, Filled, judge->model->entity_count);
    for (const Entity *tank = first; tank != NULL; tank = next_aboard(tank)) {
        const Entity *space = entity_reference(tank, PROP_COMMON_SPACE);
        if (space != NULL && entity_states(space, PROP_SPACE_VOLUME)) {
            add_tank(judge, &filled[space->index], tank, space);
        }
    }
    for (const Entity *space = first_aboard(judge->model, KIND_SPACE); space != NULL; space = next_aboard(space)) {
        if (filled[space->index].count > 1 && !filled[space->index].told) {
            judge_together(judge, space, &filled[space->index]);
        }
    }
}

/* ---- anchor-rode --------------------------------------------------------------------------------------- */

static void judge_no_rode(Judge *judge, const Entity *anchor)
{
    Finding *finding = judge_open(judge, anchor, place_of_name(judge, anchor), anchor, PROP_ANCHOR_CHAIN);
    finding_say(judge, finding, "`%s` says nothing of a chain or a rope: without one it holds nothing",
                say_name(judge, anchor));
    finding_remedy(judge, finding, "`chain` or `rope`, with its length and thickness");
}

/* What is let out, chain and rope together. */
static Side rode_of(const Judge *judge, const Entity *anchor, bool chain, bool rope)
{
    Side rode = side_value(judge, anchor, chain ? PROP_ANCHOR_CHAIN : PROP_ANCHOR_ROPE, 0);
    if (chain && rope) {
        Side more = side_value(judge, anchor, PROP_ANCHOR_ROPE, 0);
        rode.state = side_is_known(rode) ? more.state : rode.state;
        rode.value = interval_add(rode.value, more.value);
        rode.property = NULL;
    }
    return rode;
}

static void judge_anchor_rode(Judge *judge, const Entity *anchor)
{
    const Entity *boat = judge->model->boat;
    bool chain = entity_states(anchor, PROP_ANCHOR_CHAIN), rope = entity_states(anchor, PROP_ANCHOR_ROPE);
    if (boat == NULL || has_mistake(anchor, PROP_ANCHOR_CHAIN) || has_mistake(anchor, PROP_ANCHOR_ROPE)) {
        judge_waiting(judge);
        return;
    }
    if (!chain && !rope) {
        judge_no_rode(judge, anchor);
        return;
    }
    Side rode = rode_of(judge, anchor, chain, rope);
    Side depth = side_value(judge, anchor, PROP_ANCHOR_DEPTH, 0),
         bow = side_value(judge, boat, PROP_BOAT_FREEBOARD, 0);
    double scope = rope ? scope_rope : scope_chain;
    Side least = depth;
    if (entity_states(boat, PROP_BOAT_FREEBOARD)) {
        least.state = side_is_known(bow) ? least.state : bow.state;
        least.value = interval_add(least.value, bow.value);
    }
    least.value = interval_scale(least.value, scope);
    least.unit = rode.unit;
    Finding *finding = judge_at_least(
        judge, anchor, place_of(judge, anchor, chain ? PROP_ANCHOR_CHAIN : PROP_ANCHOR_ROPE), rode, least);
    if (finding == NULL) {
        return;
    }
    finding_rests_on(judge, finding, anchor, PROP_ANCHOR_CHAIN);
    finding_rests_on(judge, finding, anchor, PROP_ANCHOR_ROPE);
    finding_rests_on(judge, finding, boat, PROP_BOAT_FREEBOARD);
    finding_say(judge, finding,
                "`%s` has %s of %s; in %s of water %s is the least to lie to: %s times the depth%s",
                say_name(judge, anchor), say_side(judge, rode),
                chain && rope ? "chain and rope"
                : chain       ? "chain"
                              : "rope",
                say_side(judge, depth), say_side(judge, least), rope ? "five" : "three",
                entity_states(boat, PROP_BOAT_FREEBOARD) ? " and the height of her bow" : "");
    if (!entity_states(anchor, PROP_ANCHOR_DEPTH)) {
        finding_here(judge, finding, "a shallow anchorage is taken; `depth` says how deep she anchors");
    }
    finding_remedy(judge, finding, "more chain or rope");
}

/* ---- pump-pressure ------------------------------------------------------------------------------------- */

/* The pressure at which its switch stops it, else that at which nothing flows any more. */
static void judge_pump_pressure(Judge *judge, const Entity *pump)
{
    const Entity *from = entity_reference(pump, PROP_PUMP_FROM);
    PropId prop = entity_states(pump, PROP_PUMP_PRESSURE) ? PROP_PUMP_PRESSURE : PROP_PUMP_SHUT_OFF;
    if (from == NULL || from->kind != KIND_TANK || !str_is(entity_word(from, PROP_TANK_HOLDS), "fresh") ||
        !entity_states(pump, prop)) {
        return;
    }
    Side pressure = side_value(judge, pump, prop, 0);
    Side most = side_number(pressure_most_pa, UNIT_ALONE(UNIT_BAR));
    bool head =
        side_is_known(pressure) && !dimension_equal(unit_dimension(pressure.unit), unit_dimension(most.unit));
    if (head) { /* metres of water */
        most = side_number(head_of_pressure_m(pressure_most_pa, liquid_density_kg_per_m3(LIQUID_FRESH_15_C)),
                           UNIT_ALONE(UNIT_M));
    }
    Finding *finding = judge_at_most(judge, pump, place_of(judge, pump, prop), pressure, most);
    if (finding != NULL) {
        finding_say(judge, finding,
                    "`%s` puts up to %s on the fresh water; %s is what hoses, taps and heaters aboard stand",
                    say_name(judge, pump), say_side(judge, pressure), say_side(judge, most));
        finding_remedy(judge, finding, "%s 2.8 bar, or what its maker says", props[prop].word);
    }
}

/* ---- hose-wide ----------------------------------------------------------------------------------------- */

static bool is_of_water(const Entity *end)
{
    return end != NULL &&
           (end->kind == KIND_PUMP || end->kind == KIND_FIXTURE || end->kind == KIND_WATER_HEATER);
}

static void judge_hose_wide(Judge *judge, const Entity *hose)
{
    bool water = str_is(entity_word(hose, PROP_HOSE_GRADE), "water") ||
                 is_of_water(entity_reference(hose, PROP_HOSE_FROM)) ||
                 is_of_water(entity_reference(hose, PROP_HOSE_TO));
    if (!water) {
        return; /* exhausts and cockpit drains are as wide */
    }
    Side bore = side_value(judge, hose, PROP_HOSE_BORE, 0);
    Side most = side_number(bore_most_m, UNIT_ALONE(UNIT_MM));
    most.unit = side_is_known(bore) ? bore.unit : most.unit;
    Finding *finding = judge_at_most(judge, hose, place_of(judge, hose, PROP_HOSE_BORE), bore, most);
    if (finding != NULL) {
        finding_say(judge, finding, "the bore of `%s` is %s, out of all proportion for water; %s is wide",
                    say_name(judge, hose), say_side(judge, bore), say_side(judge, most));
        finding_remedy(judge, finding,
                       "its inner diameter: 13 or 19 mm are usual, 38 mm before a large pump");
    }
}

/* ---- fitting-high -------------------------------------------------------------------------------------- */

/* So high above her deck edge ends the stack of a dry exhaust, or the flue of a stove, on a wheelhouse. Common practice, no source. */
static const double stack_m = 3.0;

/* Whether a dry exhaust or a burner leaves by it: through the roof, as often as not. */
static bool is_stack(const Model *model, const Entity *fitting)
{
    const Entity *burner = serves_open(model, fitting);
    bool stack = burner != NULL && burner->kind != KIND_GAS_LOCKER;
    uint16_t at = 0;
    for (const Entity *served = next_served(fitting, &at); served != NULL && !stack; served = next_served(fitting, &at)) {
        stack = served->kind == KIND_EXHAUST && !exhaust_is_wet(served);
    }
    return stack;
}

static void judge_fitting_high(Judge *judge, const Entity *fitting)
{
    const Entity *boat = judge->model->boat;
    if (boat == NULL || !entity_states(boat, PROP_BOAT_FREEBOARD) ||
        !entity_states(fitting, PROP_THROUGH_HULL_HEIGHT)) {
        return;
    }
    Side bow = side_value(judge, boat, PROP_BOAT_FREEBOARD, 0),
         stern = side_value(judge, boat, PROP_BOAT_FREEBOARD, 1);
    Side edge = side_is_known(stern) && stern.value.high > bow.value.high ? stern : bow;
    Side height = side_value(judge, fitting, PROP_THROUGH_HULL_HEIGHT, 0);
    Side most = edge;
    bool stack = is_stack(judge->model, fitting);
    most.value = interval_add(most.value, point(stack ? stack_m : 0.0));
    Finding *finding =
        judge_at_most(judge, fitting, place_of(judge, fitting, PROP_THROUGH_HULL_HEIGHT), height, most);
    const char *what = stack ? "roof" : "hull";
    if (finding != NULL && finding->verdict == VERDICT_OPEN) {
        finding_say(judge, finding, "`%s` may stand higher above the waterline than her side, which is %s high: no %s would be there",
                    say_name(judge, fitting), say_side(judge, edge), what);
    } else if (finding != NULL) {
        finding_say(judge, finding,
                    "`%s` stands %s above the waterline, and her side is %s high: no %s is there",
                    say_name(judge, fitting), say_side(judge, height), say_side(judge, edge), what);
    }
    if (finding != NULL) {
        finding_note(judge, finding, place_of(judge, boat, PROP_BOAT_FREEBOARD), "her side");
        finding_remedy(judge, finding, "the right measure on either line");
    }
}

/* ---- thruster-strong ----------------------------------------------------------------------------------- */

static void judge_thruster_strong(Judge *judge, const Entity *thruster)
{
    const Figure *power = figure_of(judge, thruster, FIGURE_BURST_POWER);
    if (power == NULL || power->state != STATE_KNOWN || !entity_states(thruster, PROP_THRUSTER_THRUST)) {
        return; /* no one bank feeds it, or nothing says what it takes: told elsewhere */
    }
    Side thrust = side_value(judge, thruster, PROP_THRUSTER_THRUST, 0);
    Side most = side_figure(power);
    most.value = interval_scale(most.value, thrust_n_per_w);
    most.unit = thrust.unit;
    Finding *finding = judge_at_most(judge, thruster, place_of(judge, thruster, PROP_THRUSTER_THRUST), thrust, most);
    if (finding != NULL) {
        finding_say(judge, finding, "`%s` pushes with %s and takes %s: no screw in a tunnel gives more than %s for that",
                    say_name(judge, thruster), say_side(judge, thrust), say_figure(judge, power), say_side(judge, most));
        finding_note(judge, finding, place_of(judge, thruster, PROP_LOAD_DRAW), "what it takes");
        finding_remedy(judge, finding, "the right measure on either line: thrust in N is ten times that in kg");
    }
}

/* ---- blower-gains -------------------------------------------------------------------------------------- */

static void judge_blower_gains(Judge *judge, const Entity *blower)
{
    if (!entity_states(blower, PROP_BLOWER_FLOW) || !entity_states(blower, PROP_BLOWER_OUTPUT)) {
        return; /* nothing to hold against each other */
    }
    Side output = side_value(judge, blower, PROP_BLOWER_OUTPUT, 0), flow = side_value(judge, blower, PROP_BLOWER_FLOW, 0);
    Finding *finding = judge_at_most(judge, blower, place_of(judge, blower, PROP_BLOWER_OUTPUT), output, flow);
    if (finding != NULL) {
        finding_say(judge, finding, "%s come out at the end of the duct of `%s`, which moves %s in free air", say_side(judge, output),
                    say_name(judge, blower), say_side(judge, flow));
        finding_note(judge, finding, place_of(judge, blower, PROP_BLOWER_FLOW), "what it moves");
        finding_remedy(judge, finding, "the right number on either line");
    }
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define TANK_OF(SAYS)                                                                      \
    EXAMPLE_BOAT "space bow { volume 1.2 m3 }\ntank fresh { holds fresh; space bow; " SAYS \
                 "; vent 16 mm; fill 38 mm }\n"
#define ANCHOR(SAYS) EXAMPLE_BOAT "anchor bower { mass 16 kg; " SAYS " }\n"
#define FRESH "tank fresh { holds fresh; capacity 100 l; vent 16 mm; fill 38 mm }\n"
#define PUMPED(SAYS) \
    EXAMPLE_BOAT FRESH "pump tap-pump { from fresh; portable yes; flow 11 l/min; " SAYS " }\n"
#define HOSED(BORE)                                                                                      \
    EXAMPLE_BOAT FRESH                                                                                   \
        "pump tap-pump { from fresh; portable yes }\nhose suction { from fresh; to tap-pump; bore " BORE \
        "; run 2 m }\n"
#define FITTED(HEIGHT)                                                                                    \
    "edition 1\nboat wren \"Wren\" { length 9.5 m; beam 3.1 m; displacement 5200 kg; freeboard 1.1 m to " \
    "0.9 m; crew 2; "                                                                                     \
    "currency EUR; basis us }\nthrough-hull drain { bore 38 mm; height " HEIGHT                           \
    "; seacock yes; reach yes; material bronze }\n"
#define PUSHING(THRUST)                                                                                            \
    EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 400 Ah }\n"                                   \
                 "thruster bow { fed-by house; run 3 m; wire 95 mm2 insulation 105 C; draw 200 A; thrust " THRUST " }\n"
#define FLOWING(RATED)                                                                                    \
    EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 100 Ah; resistance 5 mohm }\n"        \
                 "bilge-pump well { fed-by house; draw 3.5 A; shut-off 4 m; rated " RATED " }\n"
#define LOOPED(HEIGHT)                                                                                    \
    "edition 1\nboat wren \"Wren\" { length 9.5 m; beam 3.1 m; displacement 5200 kg; freeboard 1.1 m to " \
    "0.9 m; crew 2; currency EUR; basis us }\n"                                                           \
    "tank black { holds black; capacity 60 l }\ntoilet head { worked-by hand; to black }\n"               \
    "through-hull inlet { bore 19 mm; height -0.3 m; seacock yes; material bronze }\n"                    \
    "hose flush { from inlet; to head; bore 19 mm; run 2 m }\nvent-loop bend { on flush; height " HEIGHT " }\n"
#define SEWAGE(BORE)                                                                                      \
    EXAMPLE_BOAT "tank black { holds black; capacity 60 l }\ntoilet head { worked-by hand; to black }\n"  \
                 "hose waste { from head; to black; run 2 m; bore " BORE " }\n"
#define LED_OUT(SAYS)                                                                                                    \
    EXAMPLE_BOAT "through-hull drain { bore 38 mm; height 0.6 m; seacock yes; material bronze }\n"                       \
                 "bilge-pump by-hand { hand yes; rated 3600 l/h; lift 1 m; shut-off 5 m; outlet 38 mm by 3 m }\n"        \
                 "hose out { from by-hand; to drain; run 3 m; bore " SAYS " }\n"
static const char practice[] = "common practice, no source";

#define BLOWING(OUTPUT) EXAMPLE_BOAT "blower fan { portable yes; flow 250 m3/h; output " OUTPUT " }\n"

#define LIT(SAYS)                                                                                                                   \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; air-draft 3.1 m; crew 2; currency EUR; basis us }\n" \
    "nav-light top { shows all-round; portable yes; " SAYS " }\n"

static const Rule rules[] = {
    {.name = "tank-room",
     .severity = SEVERITY_WARNING,
     .title = "a tank holds no more than its space, and all that stand there together no more",
     .basis = ON_BOTH,
     .source = "geometry",
     .why = "A nought too many makes 120 l into 1200 l, and days, mass and trim follow it without a word. "
            "Looked at where a "
            "tank names its `space` and that states its `volume`; of a space in which the volume is what the "
            "tank leaves of it, "
            "a waiver says so. Where each goes in and all together do not, it is told of the space.",
     .breaks = TANK_OF("capacity 1500 l"),
     .holds = TANK_OF("capacity 150 l"),
     .open = TANK_OF("capacity 150..1500 l"),
     .kinds = {KIND_TANK},
     .judge = judge_tank_room,
     .judge_boat = judge_tanks_together},
    {.name = "anchor-rode",
     .severity = SEVERITY_WARNING,
     .title = "an anchor has chain or rope, and enough to lie to",
     .basis = ON_BOTH,
     .source = "three times the depth of all chain, five times with rope, from the bow down: what seamanship "
               "manuals give as the "
               "least of 3 to 5 and 5 to 7 (from memory); a depth of 4 m where none is stated: a choice of "
               "this program",
     .why = "An anchor holds by a pull along the bottom. On a short rode it is lifted out, in the first "
            "squall and at night. In "
            "a blow the manuals ask for twice as much.",
     .breaks = ANCHOR("chain 1.5 m of 8 mm; rope 3 m of 14 mm"),
     .holds = ANCHOR("chain 10 m of 8 mm; rope 40 m of 14 mm"),
     .open = ANCHOR("chain 10 m of 8 mm; rope 3..40 m of 14 mm"),
     .kinds = {KIND_ANCHOR},
     .judge = judge_anchor_rode},
    {.name = "pump-pressure",
     .severity = SEVERITY_WARNING,
     .title = "a fresh-water pump makes no more pressure than what hangs on it stands",
     .basis = ON_BOTH,
     .source = practice,
     .why = "Hoses, taps, filters and heaters of small craft are made for 4 to 6 bar. Above that a fitting "
            "lets go while nobody "
            "is aboard, and the pump empties the tank into the bilge. The `pressure` at which its switch "
            "stops it counts, else "
            "its `shut-off`.",
     .breaks = PUMPED("pressure 24 bar"),
     .holds = PUMPED("pressure 2.4 bar"),
     .open = PUMPED("pressure 2.4..8 bar"),
     .kinds = {KIND_PUMP},
     .judge = judge_pump_pressure},
    {.name = "hose-wide",
     .severity = SEVERITY_WARNING,
     .title = "a hose of water is no wider than water asks for",
     .basis = ON_BOTH,
     .source = practice,
     .why = "A nought too many makes 13 mm into 130 mm, and every flow and lift by that hose comes out "
            "better than it is. Looked "
            "at where a hose is made for water, or ends at a pump, a tap or a water heater.",
     .breaks = HOSED("130 mm"),
     .holds = HOSED("13 mm"),
     .open = HOSED("13..130 mm"),
     .kinds = {KIND_HOSE},
     .judge = judge_hose_wide},
    {.name = "fitting-high",
     .severity = SEVERITY_WARNING,
     .title = "a fitting through the hull stands no higher than her side",
     .basis = ON_BOTH,
     .source = "geometry: the higher end of her `freeboard`; 3 m more for a stack or a flue: common practice, no source",
     .why = "A height that is meant in another unit, or from another line, makes an opening safe that is "
            "not: what stands high "
            "needs no seacock. By what `serves` a dry exhaust, a heater that burns something or a gas appliance smoke leaves through a "
            "roof, up to 3 m above her side.",
     .breaks = FITTED("2.5 m"),
     .holds = FITTED("0.6 m"),
     .open = FITTED("0.6..2.5 m"),
     .kinds = {KIND_THROUGH_HULL},
     .judge = judge_fitting_high},
    {.name = "thruster-strong",
     .severity = SEVERITY_WARNING,
     .title = "a thruster pushes no harder than its power can",
     .basis = ON_BOTH,
     .source = "momentum of a jet gives some 300 N for a kilowatt in a usual tunnel, from memory; that 500 N are a slip: a choice of "
               "this program",
     .why = "A nought too many makes 400 N into 4000 N, and any wind is held then. Counted from what its cable carries and from "
            "the voltage of its bank.",
     .breaks = PUSHING("4000 N"),
     .holds = PUSHING("400 N"),
     .open = PUSHING("400..4000 N"),
     .kinds = {KIND_THRUSTER},
     .judge = judge_thruster_strong},
    {.name = "loop-high",
     .severity = SEVERITY_WARNING,
     .title = "the top of a vented loop is in the boat",
     .basis = ON_BOTH,
     .source = "geometry: the higher end of her `freeboard`, and 1.5 m for a coach roof (common practice, no source)",
     .why = "A comma too far to the right makes a loop as high as a mast, and every siphon is held to be broken by it.",
     .breaks = LOOPED("7 m"),
     .holds = LOOPED("0.7 m"),
     .open = LOOPED("0.7..7 m"),
     .kinds = {KIND_VENT_LOOP},
     .judge = judge_loop_high},
    {.name = "pump-power",
     .severity = SEVERITY_WARNING,
     .title = "a pump has the power for the flow and the head that are stated of it",
     .basis = ON_BOTH,
     .source = "energy: no pump gives the water more power than it draws; real ones give a tenth to a half of it, and the largest "
               "that are worked by hand move some 150 l/min (common practice, no source)",
     .why = "Litres a minute that are meant for litres an hour make a pump sixty times as strong, and the water that comes in by a broken "
            "hose is no danger any more, on paper. Looked at where flow and `draw` are stated, and one bank says of how many "
            "volts the amperes are; where `shut-off` is not, by what the pump is to lift or to press up to, or by half a metre, "
            "and only what it gives at least is told. One that is worked by hand moves 300 l/min at most; one that is not, and draws "
            "nothing, moves nothing.",
     .breaks = FLOWING("5600 l/min"),
     .holds = FLOWING("5600 l/h"),
     .open = FLOWING("5600..60000 l/h"),
     .kinds = {KIND_PUMP, KIND_BILGE_PUMP},
     .judge = judge_pump_power},
    {.name = "hose-narrow",
     .severity = SEVERITY_WARNING,
     .title = "sewage goes through a hose that it does not block",
     .basis = ON_BOTH,
     .source = practice,
     .why = "What a bowl holds does not pass a hose for water. 38 mm (1 1/2 in) is usual; less than 25 mm behind a bowl that is "
            "pumped by hand, and less than 19 mm behind a motor or out of a tank, is a slip, behind a T or a valve (an `item`) too.",
     .breaks = SEWAGE("16 mm"),
     .holds = SEWAGE("38 mm"),
     .open = SEWAGE("16..38 mm"),
     .kinds = {KIND_HOSE},
     .judge = judge_hose_narrow},
    {.name = "outlet-unlike",
     .severity = SEVERITY_WARNING,
     .title = "the `outlet` of a bilge pump is the hose that is stated of it",
     .basis = ON_BOTH,
     .source = "two statements of one thing; that a tenth of the bore and a quarter of the run are alike: a choice of this program",
     .why = "What a bilge pump moves hangs on its hose more than on its plate. A hose that is stated from the pump on says best what "
            "that is, and its flow is computed with it; an `outlet` that says something else is a slip on one line or the other. The "
            "run is looked at where the hoses lead to where the water ends.",
     .breaks = LED_OUT("25 mm"),
     .holds = LED_OUT("38 mm"),
     .open = LED_OUT("25..38 mm"),
     .kinds = {KIND_BILGE_PUMP},
     .judge = judge_outlet_unlike},
    {.name = "digits-grouped",
     .severity = SEVERITY_WARNING,
     .title = "a number with three digits behind its point is not meant in thousands",
     .basis = ON_BOTH,
     .source = practice,
     .why = "Many lands write 1.200 for twelve hundred. Here a point stands before decimals: a tank of `1.200 l` holds a litre, and "
            "every day and mass that rests on it is a thousandth. Told where so little hardly is: a tank of less than 4 l, a boat "
            "of less than 100 kg, an inverter of less than 20 W and the like; two digits behind the point say that it is meant so. What "
            "is computed with such a number waits, unless this is waived: else each rule that asks for it would tell of the one slip.",
     .breaks = EXAMPLE_BOAT "tank fuel { holds fuel; capacity 1.200 l }\n",
     .holds = EXAMPLE_BOAT "tank fuel { holds fuel; capacity 1200 l }\ntank header { holds fuel; capacity 1.2 l }\n",
     .never_open = "it looks at how a number is written",
     .judge_boat = judge_digits_grouped},
    {.name = "light-over",
     .severity = SEVERITY_WARNING,
     .title = "no light stands higher than the boat's `air-draft`, unless it folds down",
     .basis = ON_BOTH,
     .source = "both are heights over the water: by their own meaning",
     .why = "`air-draft` is what every bridge is held against. Who moves a light up, as the rules of lights may ask, and leaves it as it "
            "was, finds the goal of a bridge met on paper and the light on the bridge.",
     .breaks = LIT("height 3.6 m; folds no"),
     .holds = LIT("height 3.6 m; folds yes"),
     .open = LIT("height 3.6 m"),
     .kinds = {KIND_NAV_LIGHT},
     .judge = judge_light_over},
    {.name = "blower-gains",
     .severity = SEVERITY_WARNING,
     .title = "no more air comes out of a blower's duct than the blower moves",
     .basis = ON_BOTH,
     .source = "`output` is `flow` less what the duct costs: by their own meaning",
     .why = "One of the two is a slip, or the two are turned round; and it is by `output` that the space of a petrol engine is held to be "
            "aired.",
     .breaks = BLOWING("400 m3/h"),
     .holds = BLOWING("150 m3/h"),
     .open = BLOWING("150..400 m3/h"),
     .kinds = {KIND_BLOWER},
     .judge = judge_blower_gains},
};
const RuleFamily rules_slips = RULE_FAMILY("Sizes that hardly can be", rules);
