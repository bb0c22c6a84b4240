/*
 * Rules of water, waste, hull and bilge where their own examples do not reach: the way of the water through
 * hoses, what is silent, what is not decided, what rests on a mistake. Sources stand in the rules' own
 * tables; here is what follows.
 */
#include "check.h"
#include "compile.h"
#include "unit/verdict.h"

#include "physics/made.h"

#include <stdio.h>

/* A motor boat: at the side the sea comes up 0.19 m when she heels, and 0.4 m is clear of it. */
#define BOAT                                                                                              \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis " \
    "iso; sails no; "                                                                                     \
    "waters coastal, offshore }\n"
#define INTAKE                                                                                               \
    "through-hull intake { bore 19 mm; height -0.3 m; seacock yes; reach yes; material bronze; backing yes " \
    "}\n"
#define OUTFALL                                                                                           \
    "through-hull outfall { bore 38 mm; height -0.2 m; seacock yes; reach yes; material bronze; backing " \
    "yes; secured tied }\n"
#define HOLDING "tank holding { holds black; capacity 80 l; vent 38 mm; pump-out 38 mm }\n"
#define TOILET_TO(TO) "toilet heads { worked-by hand; rim 0.05 m; flushes-with sea; to " TO " }\n"
#define HOSE(NAME, FROM, TO) "hose " NAME " { from " FROM "; to " TO "; bore 38 mm; run 2 m; clamps 2 }\n"
#define LOOP(HOSE, HEIGHT) "vent-loop " HOSE "-loop { on " HOSE "; height " HEIGHT " }\n"

/* ---- drain-intake, bilge-check ---- */

static void nothing_drains_into_an_intake(void **state)
{
    (void)state;
#define ENGINE "engine iron { rated 20 kW at 3000 rpm; fuel diesel }\n"
#define RAW(SAYS) "through-hull raw { bore 25 mm; seacock yes; " SAYS " }\n"
    expect_verdict(BOAT ENGINE RAW("height -0.4 m; serves iron") "fixture sink { drains-to raw }\n", "drain-intake", BROKEN_AT_ONE, "sink");
    expect_verdict(BOAT ENGINE RAW("height -0.4..0.1 m; serves iron") "fixture sink { drains-to raw }\n", "drain-intake", OPEN_AT_ONE, "sink");
    expect_verdict(BOAT ENGINE RAW("height -0.4 m") "fixture sink { }\n" HOSE("feed", "raw", "iron") HOSE("waste", "sink", "raw"),
                   "drain-intake", BROKEN_AT_ONE, "sink");
    expect_verdict(BOAT ENGINE RAW("height -0.4 m") "fixture sink { drains-to raw }\n", "drain-intake", NOTHING, NULL);
    expect_verdict(BOAT ENGINE RAW("height -0.4 m; serves iron") "bilge-pump arm { hand yes; rated 60 l/min }\n" HOSE("waste", "arm", "raw"),
                   "drain-intake", BROKEN_AT_ONE, "arm");
    /* what the engine lets out there is no intake */
    expect_verdict(BOAT ENGINE RAW("height -0.4 m; serves iron") "fixture sink { drains-to raw }\n" HOSE("out", "iron", "raw"),
                   "drain-intake", NOTHING, NULL);
    /* a drain whose hose is stated the wrong way round is another rule's */
    expect_verdict(BOAT RAW("height -0.4 m") "fixture sink { drains-to raw }\n" HOSE("waste", "raw", "sink"), "drain-intake", NOTHING, NULL);
}

static void a_check_valve_that_nothing_hangs_on_is_told(void **state)
{
    (void)state;
#define BILGE_HAND(SAYS) BOAT "bilge-pump arm { hand yes; rated 60 l/min; " SAYS " }\n"
    expect_verdict(BILGE_HAND("discharge-height 0.9 m; check-valve yes"), "bilge-check", BROKEN_AT_ONE, "arm");
    expect_verdict(BILGE_HAND("discharge-height 0.9 m; check-valve yes"), "bilge-valve", NOTHING, NULL);
    expect_verdict(BILGE_HAND("discharge-height 0.9 m; check-valve no"), "bilge-check", NOTHING, NULL);
    expect_verdict(BILGE_HAND("discharge-height 0.1 m; check-valve yes"), "bilge-check", NOTHING, NULL);
    expect_verdict(BILGE_HAND("discharge-height 0.1 m; check-valve yes"), "bilge-valve", BROKEN_AT_ONE, "arm");
    expect_verdict(BILGE_HAND("discharge-height 0.1..0.9 m; check-valve yes"), "bilge-check", OPEN_AT_ONE, "arm");
}

/* ---- siphon ---- */

#define BOTH_SIDES BOAT INTAKE OUTFALL HOSE("flush", "intake", "heads") HOSE("out", "heads", "outfall")

static void a_loop_on_one_side_of_the_bowl_does_not_serve_the_other(void **state)
{
    (void)state;
    expect_verdict(BOTH_SIDES TOILET_TO("outfall") LOOP("flush", "0.5 m") LOOP("out", "0.5 m"), "siphon",
                   NOTHING, NULL);
    expect_verdict(BOTH_SIDES TOILET_TO("outfall") LOOP("flush", "0.5 m"), "siphon", BROKEN_AT_ONE, "out");
    expect_verdict(BOTH_SIDES TOILET_TO("outfall") LOOP("out", "0.5 m"), "siphon", BROKEN_AT_ONE, "flush");
}

static void a_loop_must_stand_high_enough_and_may_be_undecided(void **state)
{
    (void)state;
    expect_verdict(BOTH_SIDES TOILET_TO("outfall") LOOP("flush", "0.3 m") LOOP("out", "0.5 m"), "siphon",
                   BROKEN_AT_ONE, "flush");
    expect_verdict(BOTH_SIDES TOILET_TO("outfall") LOOP("flush", "0.3..0.5 m") LOOP("out", "0.5 m"), "siphon",
                   OPEN_AT_ONE, "flush");
    expect_verdict(BOTH_SIDES TOILET_TO("outfall") "vent-loop silent { on flush }\n" LOOP("out", "0.5 m"),
                   "siphon", OPEN_AT_ONE, "flush");
    expect_verdict(
        BOTH_SIDES TOILET_TO(
            "outfall") "vent-loop mid { on flush; height 0.25 m; at 3 m 0.1 m 0.25 m }\n" LOOP("out",
                                                                                               "0.5 m"),
        "siphon", NOTHING, NULL);
}

static void a_bowl_above_the_heeled_water_cannot_fill(void **state)
{
    (void)state;
    expect_verdict(
        BOTH_SIDES LOOP("out",
                        "0.5 m") "toilet heads { worked-by hand; rim 0.3 m; flushes-with sea; to outfall }\n",
        "siphon", NOTHING, NULL);
    expect_verdict(
        BOTH_SIDES LOOP(
            "out", "0.5 m") "toilet heads { worked-by hand; rim 0.1..0.3 m; flushes-with sea; to outfall }\n",
        "siphon", OPEN_AT_ONE, "flush");
    expect_verdict(
        BOTH_SIDES LOOP("out", "0.5 m") "toilet heads { worked-by hand; flushes-with sea; to outfall }\n",
        "siphon", OPEN_AT_ONE, "flush");
}

/*
 * Installation manuals of several toilets: a loop where the rim is less than 20 cm above the water at rest. Heeled by 7 deg
 * it comes up to 0.19 m at her side; in her middle, to nothing.
 */
static void a_bowl_a_finger_above_the_water_at_rest_is_not_clear_of_it(void **state)
{
    (void)state;
#define LOW_BOWL(REST) BOTH_SIDES LOOP("out", "0.5 m") "toilet heads { worked-by hand; flushes-with sea; to outfall; " REST " }\n"
    expect_verdict(LOW_BOWL("rim 0.195 m"), "siphon", BROKEN_AT_ONE, "flush");
    expect_verdict(LOW_BOWL("rim 0.02 m; at 2 m 0 m 0.2 m"), "siphon", BROKEN_AT_ONE, "flush");
    expect_verdict(LOW_BOWL("rim 0.2 m; at 2 m 0 m 0.2 m"), "siphon", NOTHING, NULL);
}

/* Only the sides of the bowl that reach the sea: a hose that ends at a tank lets none in. */
static void a_hose_to_a_tank_needs_no_loop(void **state)
{
    (void)state;
    expect_verdict(BOAT INTAKE HOLDING HOSE("flush", "intake", "heads") HOSE("waste", "heads", "holding")
                       TOILET_TO("holding") LOOP("flush", "0.5 m"),
                   "siphon", NOTHING, NULL);
    expect_verdict(BOAT INTAKE HOLDING HOSE("flush", "intake", "heads") HOSE("waste", "heads", "holding")
                       TOILET_TO("holding") LOOP("waste", "0.5 m"),
                   "siphon", BROKEN_AT_ONE, "flush");
    expect_verdict(BOAT INTAKE OUTFALL HOLDING "pump fresh { from holding; to heads }\n" HOSE("rinse", "fresh", "heads")
                       HOSE("out", "heads", "outfall") TOILET_TO("outfall") LOOP("out", "0.5 m"),
                   "siphon", NOTHING, NULL);
}

/* A diverter between bowl, tank and sea: the loop may stand before it or behind it, but not on the way to the tank. */
static void a_diverter_does_not_part_a_hose_from_the_sea(void **state)
{
    (void)state;
#define DIVERTED                                                                                         \
    BOAT OUTFALL HOLDING TOILET_TO("holding") "item diverter { price 60.00 EUR }\n" HOSE(                \
        "waste", "heads", "diverter") HOSE("kept", "diverter", "holding") HOSE("out", "diverter", "outfall")
    expect_verdict(DIVERTED LOOP("waste", "0.5 m"), "siphon", NOTHING, NULL);
    expect_verdict(DIVERTED LOOP("out", "0.5 m"), "siphon", NOTHING, NULL);
    expect_verdict(DIVERTED LOOP("kept", "0.5 m"), "siphon", BROKEN_AT_ONE, "out");
}

/* The loop goes between pump and bowl, else the pump draws air; and between pump and hull on the way out. */
static void the_loop_of_a_line_with_a_pump_stands_behind_the_pump(void **state)
{
    (void)state;
    static const char *const lines = BOAT INTAKE HOLDING
        "pump flush-pump { from intake; to heads }\n" HOSE("suction", "intake", "flush-pump")
            HOSE("flush", "flush-pump", "heads");
    char spec[3000];
    snprintf(spec, sizeof spec, "%s%s", lines, TOILET_TO("holding") LOOP("flush", "0.5 m"));
    expect_verdict(spec, "siphon", NOTHING, NULL);
    snprintf(spec, sizeof spec, "%s%s", lines, TOILET_TO("holding") LOOP("suction", "0.5 m"));
    expect_verdict(spec, "siphon", BROKEN_AT_ONE, "flush");
    expect_verdict(BOAT OUTFALL HOLDING
                   "pump discharge { from holding; to outfall }\n" HOSE("suction", "holding", "discharge")
                       HOSE("overboard", "discharge", "outfall") LOOP("suction", "0.5 m"),
                   "siphon", BROKEN_AT_ONE, "overboard");
}

/* A tap on deck, 1.8 m up on the centreline, stands above the sea at any heel that is assumed. */
static void what_ends_above_the_sea_draws_none_in(void **state)
{
    (void)state;
#define WASHED(AT, PUMP)                                                                                         \
    BOAT INTAKE "pump wash { from intake; to spigot; " PUMP " }\nfixture spigot { " AT " }\n"                     \
        HOSE("suction", "intake", "wash") HOSE("spray", "wash", "spigot") LOOP("spare", "0.5 m")                  \
        HOSE("spare", "intake", "heads") TOILET_TO("holding") HOLDING
    expect_verdict(WASHED("at 3 m 0 m 1.8 m", "cut-in 2 bar"), "siphon", NOTHING, NULL);
    expect_verdict(WASHED("at 3 m 0 m -0.1 m", "cut-in 2 bar"), "siphon", BROKEN_AT_ONE, "spray");
    expect_verdict(WASHED("at 3 m 0 m -0.1..1.8 m", "cut-in 2 bar"), "siphon", OPEN_AT_ONE, "spray");
    expect_verdict(WASHED("", "cut-in 2 bar"), "siphon", OPEN_AT_ONE, "spray");
    expect_verdict(WASHED("at 3 m", "cut-in 2 bar"), "siphon", WAITING, NULL);
    Compiled c; /* on a line that stands under pressure the valve of a loop would squirt */
    compile_text(&c, WASHED("at 3 m 0 m -0.1 m", "cut-in 2 bar"));
    assert_non_null(strstr(compiled_finding(&c, "siphon")->remedies->text, "`at` of `spigot`"));
    assert_null(compiled_finding(&c, "siphon")->remedies->next);
    compile_free(&c);
    compile_text(&c, WASHED("at 3 m 0 m -0.1 m", "hand yes"));
    assert_non_null(strstr(compiled_finding(&c, "siphon")->remedies->next->text, "vent-loop"));
    compile_free(&c);
#define EMPTIED(AT)                                                                                    \
    BOAT OUTFALL "tank holding { holds black; capacity 80 l; " AT "}\npump discharge { from holding; to outfall }\n" \
        HOSE("suction", "holding", "discharge") HOSE("overboard", "discharge", "outfall") LOOP("suction", "0.5 m")
    expect_verdict(EMPTIED("at 3 m 0 m 1.8 m; "), "siphon", NOTHING, NULL);
    expect_verdict(EMPTIED("at 3 m 0 m -0.1 m; "), "siphon", BROKEN_AT_ONE, "overboard");
    expect_verdict(EMPTIED(""), "siphon", BROKEN_AT_ONE, "overboard");
}

static void a_strainer_does_not_part_a_hose(void **state)
{
    (void)state;
    expect_verdict(BOAT INTAKE HOLDING HOSE("before", "intake", "basket") HOSE("behind", "basket", "heads")
                       TOILET_TO("holding") "strainer basket { on before }\n" LOOP("behind", "0.5 m"),
                   "siphon", NOTHING, NULL);
    expect_verdict(BOAT INTAKE HOLDING HOSE("before", "intake", "basket") HOSE("behind", "basket", "heads")
                       TOILET_TO("holding") "strainer basket { on before }\n" LOOP("behind", "0.3 m"),
                   "siphon", BROKEN_AT_ONE, "before");
}

static void a_spec_that_lists_no_loop_at_all_leaves_it_open(void **state)
{
    (void)state;
    expect_verdict(BOAT INTAKE HOLDING HOSE("flush", "intake", "heads") TOILET_TO("holding"), "siphon",
                   OPEN_AT_ONE, "flush");
    expect_verdict(BOAT OUTFALL TOILET_TO("outfall"), "siphon", OPEN_AT_ONE, "heads");
}

static void nothing_siphons_where_the_sea_is_not_joined_or_nothing_is_open(void **state)
{
    (void)state;
    expect_verdict(
        BOAT
        "tank bow { holds fresh; capacity 90 l; vent 16 mm; fill 38 mm }\npump fresh { from bow; to tap }\n"
        "fixture tap { cold yes }\n" HOSE("suction", "bow", "fresh") HOSE("cold", "fresh", "tap"),
        "siphon", NOTHING, NULL);
    expect_verdict(BOAT INTAKE OUTFALL
                   "pump circulating { from intake; to chiller }\ncooler chiller { output 3 kW }\n" HOSE(
                       "suction", "intake", "circulating") HOSE("cold", "circulating", "chiller")
                       HOSE("warm", "chiller", "outfall"),
                   "siphon", NOTHING, NULL);
    expect_verdict(BOAT OUTFALL "fixture sink { drains-to outfall }\n" HOSE("drain", "sink", "outfall"),
                   "siphon", NOTHING, NULL);
}

static void a_mistake_in_a_loop_or_hose_makes_its_siphon_wait(void **state)
{
    (void)state;
    expect_verdict(BOAT INTAKE HOLDING HOSE("flush", "intake", "heads") TOILET_TO("holding")
                       LOOP("flus", "0.5 m"),
                   "siphon", WAITING, NULL);
    expect_verdict(BOAT INTAKE HOLDING HOSE("flush", "intake", "heads") TOILET_TO("holding")
                       LOOP("flush", "0.5 kg"),
                   "siphon", WAITING, NULL);
    expect_verdict(BOAT INTAKE HOLDING HOSE("flush", "intak", "heads") TOILET_TO("holding"), "siphon",
                   WAITING, NULL);
}

/* ---- overboard ---- */

#define FREE_OUTFALL(SAYS)                                                                                \
    "through-hull outfall { bore 38 mm; height -0.2 m; seacock yes; reach yes; material bronze; backing " \
    "yes; " SAYS " }\n"
#define DISCHARGE(SAYS)                                                                                  \
    HOLDING "pump discharge { from holding; to outfall }\n" HOSE(                                        \
        "suction", "holding",                                                                            \
        "discharge") "hose overboard { from discharge; to outfall; bore 38 mm; run 2 m; clamps 2; " SAYS \
                     " }\n"

static void a_valve_in_the_hose_serves_as_well_as_one_on_the_hull(void **state)
{
    (void)state;
    expect_verdict(BOAT FREE_OUTFALL("secured handle-off") DISCHARGE(""), "overboard", NOTHING, NULL);
    expect_verdict(BOAT FREE_OUTFALL("") DISCHARGE("secured padlocked"), "overboard", NOTHING, NULL);
    expect_verdict(BOAT FREE_OUTFALL("") DISCHARGE("secured none"), "overboard", BROKEN_AT_ONE, "outfall");
    expect_verdict(BOAT FREE_OUTFALL("secured none") DISCHARGE(""), "overboard", BROKEN_AT_ONE, "outfall");
    expect_verdict(BOAT FREE_OUTFALL("") DISCHARGE(""), "overboard", OPEN_AT_ONE, "outfall");
}

static void a_second_way_around_the_valve_counts(void **state)
{
    (void)state;
    expect_verdict(BOAT FREE_OUTFALL("") DISCHARGE("secured tied") TOILET_TO("holding")
                       HOSE("flush", "heads", "holding"),
                   "overboard", NOTHING, NULL);
    expect_verdict(BOAT FREE_OUTFALL("") DISCHARGE("secured tied") TOILET_TO("holding")
                       HOSE("flush", "heads", "holding") HOSE("around", "heads", "outfall"),
                   "overboard", OPEN_AT_ONE, "outfall");
}

static void offshore_waters_alone_ask_nothing_and_silence_about_waters_is_open(void **state)
{
    (void)state;
#define IN_WATERS(WATERS)                                                                                 \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis " \
    "us; " WATERS " }\n" FREE_OUTFALL("secured none") TOILET_TO("outfall")
    expect_verdict(IN_WATERS("waters offshore"), "overboard", NOTHING, NULL);
    expect_verdict(IN_WATERS("waters inland"), "overboard", BROKEN_AT_ONE, "outfall");
    expect_verdict(IN_WATERS("waters offshore, no-discharge"), "overboard", BROKEN_AT_ONE, "outfall");
    expect_verdict(IN_WATERS(""), "overboard", OPEN_AT_ONE, "outfall");
}

/* ---- through-hulls ---- */

#define FITTING(SAYS) BOAT "through-hull drain { bore 38 mm; " SAYS " }\n"

static void a_fitting_well_above_the_heeled_water_needs_no_seacock(void **state)
{
    (void)state;
    expect_verdict(FITTING("height 0.3 m; seacock no"), "seacock", NOTHING, NULL);
    expect_verdict(FITTING("height 0.3 m"), "seacock", NOTHING, NULL);
    expect_verdict(FITTING("height 0.15 m; seacock no; material bronze; backing yes"), "seacock",
                   BROKEN_AT_ONE, "drain");
    expect_verdict(FITTING("height 0.1..0.3 m; seacock no; material bronze; backing yes"), "seacock",
                   OPEN_AT_ONE, "drain");
    expect_verdict(FITTING("seacock no; material bronze; backing yes"), "seacock", OPEN_AT_ONE, "drain");
}

static void what_a_seacock_is_of_and_stands_on_is_asked_once(void **state)
{
    (void)state;
    expect_verdict(FITTING("height 0 m; seacock yes; material brass; backing yes"), "seacock", BROKEN_AT_ONE,
                   "drain");
    expect_verdict(FITTING("height 0 m; seacock yes; material plastic; backing yes"), "seacock",
                   BROKEN_AT_ONE, "drain");
    expect_verdict(FITTING("height 0 m; seacock yes; material composite; backing no"), "seacock",
                   BROKEN_AT_ONE, "drain");
    expect_verdict(FITTING("height 0 m; seacock yes"), "seacock", OPEN_AT_ONE, "drain");
    expect_verdict(FITTING("height 0 m"), "seacock", OPEN_AT_ONE, "drain");
    expect_verdict(FITTING("height 0 m; seacock perhaps"), "seacock", WAITING, NULL);
}

static void an_exhaust_or_a_sounder_needs_none(void **state)
{
    (void)state;
    expect_verdict(FITTING("height 0 m; serves pipe") "exhaust pipe { bore 76 mm }\n", "seacock", NOTHING,
                   NULL);
    expect_verdict(
        FITTING("height -0.4 m; serves depth") "instrument depth { function depth; portable yes }\n",
        "seacock", NOTHING, NULL);
}

static void clamps_are_asked_where_the_sea_can_reach_the_hose(void **state)
{
    (void)state;
#define DRAINED(HEIGHT, CLAMPS)                                                                             \
    FITTING("height " HEIGHT "; seacock yes; reach yes; material bronze; backing yes")                      \
    "fixture sink { drains-to drain }\nhose waste { from sink; to drain; bore 38 mm; run 1 m; " CLAMPS " }" \
    "\n"
    expect_verdict(DRAINED("0.3 m", "clamps 1"), "clamps", NOTHING, NULL);
    expect_verdict(DRAINED("0.3 m", "clamps 1; below-waterline yes"), "clamps", BROKEN_AT_ONE, "waste");
    expect_verdict(DRAINED("0.1 m", "clamps 1"), "clamps", BROKEN_AT_ONE, "waste");
    expect_verdict(DRAINED("0.1..0.3 m", "clamps 1"), "clamps", OPEN_AT_ONE, "waste");
    expect_verdict(DRAINED("0.1 m", "clamps 1..2"), "clamps", OPEN_AT_ONE, "waste");
    expect_verdict(DRAINED("0.1 m; clamps 2", ""), "clamps", NOTHING, NULL);
    expect_verdict(DRAINED("0.1 m; clamps 1", ""), "clamps", BROKEN_AT_ONE, "drain");
}

/* ---- hot water ---- */

#define HEATER(SAYS)                                                                                        \
    BOAT "engine main { rated 20 kW at 3000 rpm; fuel diesel }\nwater-heater boiler { capacity 30 l; " SAYS \
         " }\n"

static void only_hot_water_needs_a_mixing_valve(void **state)
{
    (void)state;
    expect_verdict(HEATER("element 800 W; mixing-valve no; setting 60 C"), "heater-scald", NOTHING, NULL);
    expect_verdict(HEATER("element 800 W; mixing-valve no; setting 141 F"), "heater-scald", BROKEN_AT_ONE,
                   "boiler");
    expect_verdict(HEATER("element 800 W; mixing-valve no; setting 55..70 C"), "heater-scald", OPEN_AT_ONE,
                   "boiler");
    expect_verdict(HEATER("element 800 W; mixing-valve no"), "heater-scald", BROKEN_AT_ONE, "boiler");
    expect_verdict(HEATER("engine main; mixing-valve no; setting 55 C"), "heater-scald", BROKEN_AT_ONE,
                   "boiler");
    expect_verdict(HEATER("engine main; setting 55 C"), "heater-scald", OPEN_AT_ONE, "boiler");
    expect_verdict(HEATER("exchanger 4 kW; mixing-valve yes"), "heater-scald", NOTHING, NULL);
}

/* ---- tanks ---- */

/* What 33 CFR 183.520 is read to ask of private boats, which is what petrol runabouts have; not that of passenger vessels. */
static void a_petrol_tank_breathes_by_nine_sixteenths_of_an_inch(void **state)
{
    (void)state;
#define PETROL_VENT(BORE) \
    "edition 1\nboat wren { length 24 ft; beam 8 ft; displacement 2500 kg; crew 2; currency USD; basis us; sails no }\n" \
    "tank can { holds fuel; fuel petrol; capacity 90 l; fill 38 mm; vent " BORE " }\n"
    expect_verdict(PETROL_VENT("9/16 in"), "tank-breath", NOTHING, NULL);
    expect_verdict(PETROL_VENT("16 mm"), "tank-breath", NOTHING, NULL);
    expect_verdict(PETROL_VENT("1/2 in"), "tank-breath", BROKEN_AT_ONE, "can");
}

/* As of fuel: nobody says "it has none", and that is how a tank without one looks. */
static void a_holding_tank_that_says_nothing_of_its_vent_is_left_open(void **state)
{
    (void)state;
    expect_verdict(BOAT "tank holding { holds black; capacity 50 l; pump-out 38 mm }\n", "tank-breath", OPEN_AT_ONE, "holding");
    expect_verdict(BOAT "tank holding { holds black; capacity 50 l; vent 38 mm; pump-out 38 mm }\n", "tank-breath", NOTHING, NULL);
    expect_verdict(BOAT "tank holding { holds black; capacity 50 l; portable yes }\n", "tank-breath", NOTHING, NULL);
    expect_verdict(BOAT "tank bow { holds fresh; capacity 50 l; fill 38 mm }\n", "tank-breath", NOTHING, NULL);
}

/* 16 mm and 38 mm are practice, and in inches they are sold as 5/8 and 1 1/2. */
static void a_bore_of_practice_may_be_the_nearest_size_in_inches(void **state)
{
    (void)state;
    expect_verdict(BOAT "tank bow { holds fresh; capacity 90 l; vent 5/8 in; fill 1 1/2 in }\n",
                   "tank-breath", NOTHING, NULL);
    expect_verdict(BOAT "tank bow { holds fresh; capacity 90 l; vent 1/2 in; fill 1 1/2 in }\n",
                   "tank-breath", BROKEN_AT_ONE, "bow");
    expect_verdict(BOAT "tank bow { holds fresh; capacity 90 l; vent 15.8 mm; fill 38 mm }\n", "tank-breath",
                   BROKEN_AT_ONE, "bow");
}

/* ISO 8099-1:2018 (second hand): the vent of a holding tank under 400 l has 19 mm inside; of a larger one common practice, 38 mm. */
static void a_holding_tank_has_the_vent_of_its_standard(void **state)
{
    (void)state;
#define HELD(SAYS) BOAT "tank holding { holds black; pump-out 38 mm; " SAYS " }\n"
    expect_verdict(HELD("capacity 100 l; vent 18 mm"), "tank-breath", BROKEN_AT_ONE, "holding");
    expect_verdict(HELD("capacity 100 l; vent 19 mm"), "tank-breath", NOTHING, NULL);
    expect_verdict(HELD("capacity 100 l; vent 25 mm"), "tank-breath", NOTHING, NULL);
    expect_verdict(HELD("capacity 300..500 l; vent 25 mm"), "tank-breath", OPEN_AT_ONE, "holding");
    Compiled c;
    compile_text(&c, HELD("capacity 100 l; vent 18 mm"));
    assert_int_equal(only_finding(&c, "tank-breath")->severity, SEVERITY_WARNING);
    compile_free(&c);
    compile_text(&c, HELD("capacity 400 l; vent 25 mm"));
    assert_int_equal(only_finding(&c, "tank-breath")->severity, SEVERITY_ADVICE);
    assert_non_null(strstr(only_finding(&c, "tank-breath")->message, "for sewage 38 mm is common practice"));
    compile_free(&c);
}

/* Vents of 1/2 in are usual on tanks for water (common practice, no source); narrower ones are warned of. */
static void a_usual_vent_of_half_an_inch_is_advised_against_alone(void **state)
{
    (void)state;
    static const char *const vents[] = {BOAT "tank bow { holds fresh; capacity 90 l; vent 1/2 in; fill 38 mm }\n",
                                        BOAT "tank bow { holds fresh; capacity 90 l; vent 8 mm; fill 38 mm }\n"};
    for (int i = 0; i < 2; i++) {
        Compiled c;
        compile_text(&c, vents[i]);
        assert_int_equal(only_finding(&c, "tank-breath")->severity, i == 0 ? SEVERITY_ADVICE : SEVERITY_WARNING);
        compile_free(&c);
    }
}

/* ---- bilge ---- */

#define FED "bank house { chemistry agm; voltage 12 V; capacity 100 Ah }\n"
#define ELECTRIC(SAYS) \
    FED "bilge-pump sump { fed-by house; run 1 m; protect 10 A fuse; draw 4 A; rated 4000 l/h; " SAYS " }\n"
#define BY_HAND "bilge-pump helm { hand yes; rated 3000 l/h; discharge-height 0.5 m }\n"

static Severity severity_of(const char *spec)
{
    Compiled c;
    compile_text(&c, spec);
    const Finding *finding = only_finding(&c, "bilge-capacity");
    assert_non_null(finding);
    Severity severity = finding->severity;
    compile_free(&c);
    return severity;
}

/* ISO 15083:2020, 5.1 (preview): a fixed pump and one more, worked by hand, by an engine or by current. */
static void iso_asks_for_two_pumps_of_any_kind(void **state)
{
    (void)state;
#define HAND_PUMP(NAME, RATED) "bilge-pump " NAME " { hand yes; rated " RATED " l/h; discharge-height 2 m }\n"
    expect_verdict(BOAT HAND_PUMP("big", "6000") HAND_PUMP("second", "4000"), "bilge-capacity", NOTHING, NULL);
    expect_verdict(BOAT HAND_PUMP("big", "6000") HAND_PUMP("second", "1000"), "bilge-capacity", BROKEN_AT_ONE, "wren");
    expect_verdict(BOAT HAND_PUMP("big", "1000") HAND_PUMP("second", "1000"), "bilge-capacity", BROKEN_AT_ONE, "wren");
    expect_verdict(BOAT FED "bilge-pump one { fed-by house; draw 4 A; rated 4000 l/h; automatic yes; count 2 }\n", "bilge-capacity",
                   NOTHING, NULL);
    assert_int_equal(severity_of(BOAT HAND_PUMP("big", "6000")), SEVERITY_FAULT);
    assert_int_equal(severity_of(BOAT ELECTRIC("automatic no") BY_HAND), SEVERITY_ADVICE); /* that it starts by itself */
    assert_int_equal(severity_of(BOAT FED HAND_PUMP("big", "6000") HAND_PUMP("second", "4000")), SEVERITY_ADVICE);
}

static unsigned count_verdicts(const char *spec, Verdict verdict)
{
    Compiled c;
    unsigned count = 0;
    compile_text(&c, spec);
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        count += strcmp(f->rule->name, "bilge-capacity") == 0 && f->verdict == verdict;
    }
    compile_free(&c);
    return count;
}

/*
 * Two hulls, 9.5 m: ISO 15083 asks for 900 l/h of each pump (published summary), and for a second that empties all bilges
 * (5.1.3.3, second hand). Half of 1400 and 1400 l/h is enough together, and in neither hull.
 */
static void each_bilge_of_its_own_is_to_have_two_pumps(void **state)
{
    (void)state;
#define HULLS(RATED, BY_HAND)                                                                                           \
    BOAT FED "space port { bilge yes }\nspace stbd { bilge yes }\n"                                                     \
             "bilge-pump left { space port; fed-by house; draw 4 A; automatic yes; rated " RATED " l/h }\n"              \
             "bilge-pump right { space stbd; fed-by house; draw 4 A; automatic yes; rated " RATED " l/h }\n"             \
             "bilge-pump both { hand yes; rated 4000 l/h; " BY_HAND " }\n"
    expect_verdict(HULLS("4000", ""), "bilge-capacity", NOTHING, NULL);
    expect_verdict(HULLS("4000", "space port"), "bilge-capacity", BROKEN_AT_ONE, "stbd");
    assert_int_equal(severity_of(HULLS("4000", "space port")), SEVERITY_FAULT);
    assert_int_equal(count_verdicts(HULLS("1400", ""), VERDICT_BROKEN), 2);
    Compiled c;
    compile_text(&c, HULLS("1400", "space port"));
    assert_near(compiled_figure(&c, "stbd", FIGURE_FIRST_PUMPING)->high, 0.7 / 3600.0, 1e-12);
    assert_near(compiled_figure(&c, "stbd", FIGURE_SECOND_PUMPING)->high, 0.0, 1e-12);
    assert_near(compiled_figure(&c, "wren", FIGURE_SECOND_PUMPING)->high, 0.7 / 3600.0, 1e-12);
    compile_free(&c);
}

/* One of half of 500 l/h is too little whatever the other moves: while that may be enough, its lack is told as well. */
static void what_a_first_pump_leaves_open_hides_no_second(void **state)
{
    (void)state;
    static const char spec[] = BOAT HAND_PUMP("big", "1000..6000") HAND_PUMP("second", "500");
    assert_int_equal(count_verdicts(spec, VERDICT_OPEN), 1);
    assert_int_equal(count_verdicts(spec, VERDICT_BROKEN), 1);
    /* Nor that neither of the two starts by itself. */
    static const char both[] = BOAT FED HAND_PUMP("big", "1000..6000") HAND_PUMP("second", "1000..4000");
    assert_int_equal(count_verdicts(both, VERDICT_OPEN), 2);
    assert_int_equal(count_verdicts(both, VERDICT_BROKEN), 1);
}

#define SMALL(SAYS) \
    "edition 1\nboat mite { length 3.9 m; beam 1.45 m; displacement 310 kg; crew 2; currency EUR; sails yes; " SAYS " }\n"
#define BAILER "item bailer { carried bailer }\n"

/* ISO 15083:2020, 5.1.2 (preview): open boats without bilge compartments are bailed. */
static void an_open_boat_is_bailed(void **state)
{
    (void)state;
    static const char *const bases[] = {"basis iso", "basis us"};
    for (size_t i = 0; i < 2; i++) {
        Arena arena = check_arena();
        const char *open = text_format(&arena, SMALL("%s; enclosed no"), bases[i]), *decked = text_format(&arena, SMALL("%s; enclosed yes"), bases[i]);
        const char *silent = text_format(&arena, SMALL("%s"), bases[i]);
        expect_verdict(text_format(&arena, "%s" BAILER, open), "bilge-capacity", NOTHING, NULL);
        expect_verdict(text_format(&arena, "%sspace well { bilge yes }\n" BAILER, open), "bilge-capacity", OPEN_AT_ONE, "mite");
        static const char *const compartments[] = {"space cabin { sleeping yes }", "through-hull drain { bore 25 mm; height -0.3 m }",
                                                   "space box\nengine diesel { rated 5 kW at 3000 rpm; fuel diesel; space box }"};
        for (size_t c = 0; c < 3; c++) { /* water gathers there, whatever `enclosed` says */
            expect_verdict(text_format(&arena, "%s" BAILER "%s\n", open, compartments[c]), "bilge-capacity", OPEN_AT_ONE, "mite");
        }
        expect_verdict(text_format(&arena, "%s" BAILER "space box\nengine o { rated 5 kW at 3000 rpm; fuel petrol; mounted outboard; space box }\n"
                                           "through-hull drain { bore 25 mm; height 0.1 m }\n", open), "bilge-capacity", NOTHING, NULL);
        expect_verdict(open, "bilge-capacity", OPEN_AT_ONE, "mite");
        expect_verdict(text_format(&arena, "%s" BAILER, decked), "bilge-capacity", OPEN_AT_ONE, "mite");
        expect_verdict(text_format(&arena, "%s" BAILER, silent), "bilge-capacity", OPEN_AT_ONE, "mite");
        arena_free(&arena);
    }
    expect_verdict(SMALL("basis iso; enclosed no") "bilge-pump bailer { hand yes; rated 1200 l/h; portable yes }\n", "bilge-capacity", NOTHING,
                   NULL);
    expect_verdict(SMALL("basis iso; enclosed yes") "bilge-pump bailer { hand yes; rated 1200 l/h; portable yes }\n", "bilge-capacity",
                   BROKEN_AT_ONE, "mite"); /* one that is fixed */
}

/* Where none starts by itself, none is too small. */
static void what_is_not_there_is_not_made_larger(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, "edition 1\nboat w { length 9.5 m; beam 3 m; displacement 5 t; crew 2; currency USD; basis us; sails yes; enclosed yes }\n"
                     "bilge-pump one { hand yes; rated 17000 l/h; discharge-height 1.3 m }\n");
    const Remedy *remedy = compiled_finding(&c, "bilge-capacity")->remedies;
    assert_string_equal(remedy->text, "a `bilge-pump` with `automatic yes`, fed");
    compile_free(&c);
}

static void a_boat_has_an_automatic_pump_and_one_worked_by_hand(void **state)
{
    (void)state;
    expect_verdict(BOAT ELECTRIC("automatic yes") BY_HAND, "bilge-capacity", NOTHING, NULL);
    expect_verdict(BOAT ELECTRIC("automatic yes"), "bilge-capacity", BROKEN_AT_ONE, "wren");
    expect_verdict(BOAT BY_HAND, "bilge-capacity", BROKEN_AT_ONE, "wren");
    expect_verdict(BOAT ELECTRIC("automatic no") BY_HAND, "bilge-capacity", BROKEN_AT_ONE, "wren");
    expect_verdict(BOAT ELECTRIC("") BY_HAND, "bilge-capacity", OPEN_AT_ONE, "wren");
    expect_verdict(BOAT, "bilge-capacity", OPEN_AT_ONE, "wren");
    expect_verdict(BOAT "bilge-pump sump { rated 4000 l/h; automatic yes }\n" BY_HAND, "bilge-capacity",
                   BROKEN_AT_ONE, "wren");
    expect_verdict(BOAT FED "bilge-pump sump { fed-by house; automatic yes }\n" BY_HAND, "bilge-capacity",
                   OPEN_AT_ONE, "wren");
    expect_verdict(BOAT ELECTRIC("automatic maybe") BY_HAND, "bilge-capacity", WAITING, NULL);
}

/*
 * 46 CFR 182.520(a) prints 10 gpm for the hand pump too, the code drawn from it 5 gpm; it is for inspected vessels, so what
 * falls short of it is a warning, and that there is no hand pump a fault.
 */
static void what_falls_short_of_a_benchmark_is_a_warning_and_no_pump_a_fault(void **state)
{
    (void)state;
#define US_BOAT                                                                                              \
    "edition 1\nboat wren { length 32 ft; beam 10 ft; displacement 5200 kg; crew 2; currency USD; basis us " \
    "}\n"
    static const struct {
        const char *pump;
        Severity severity;
    } tried[] = {{"bilge-pump helm { hand yes; rated 16 gpm }\n", SEVERITY_WARNING},
                 {"bilge-pump helm { hand yes; rated 9 gpm }\n", SEVERITY_WARNING},
                 {"", SEVERITY_FAULT}};
    for (size_t i = 0; i < sizeof tried / sizeof tried[0]; i++) {
        Compiled c;
        char spec[2000];
        snprintf(spec, sizeof spec, "%s%s", US_BOAT ELECTRIC("automatic yes; count 2"), tried[i].pump);
        compile_text(&c, spec);
        const Finding *finding = only_finding(&c, "bilge-capacity");
        assert_non_null(finding);
        assert_int_equal(finding->verdict, VERDICT_BROKEN);
        assert_int_equal(finding->severity, tried[i].severity);
        compile_free(&c);
    }
}

static void an_alarm_in_the_space_serves_its_pump(void **state)
{
    (void)state;
#define SPACES "space aft { bilge yes }\nspace fore { bilge yes }\n"
    expect_verdict(
        BOAT SPACES ELECTRIC(
            "automatic yes; alarm no; space aft") "alarm float { detects bilge; space aft; portable yes }\n",
        "bilge-alarm", NOTHING, NULL);
    expect_verdict(
        BOAT SPACES ELECTRIC(
            "automatic yes; alarm no; space aft") "alarm float { detects bilge; space fore; portable yes }\n",
        "bilge-alarm", BROKEN_AT_ONE, "sump");
    expect_verdict(BOAT SPACES ELECTRIC("automatic yes; space aft"), "bilge-alarm", OPEN_AT_ONE, "sump");
    expect_verdict(BOAT BY_HAND, "bilge-alarm", NOTHING, NULL);
}

static void a_low_outlet_may_have_a_loop_and_a_seacock_and_a_check_valve_is_neither(void **state)
{
    (void)state;
#define LOW ELECTRIC("automatic yes; alarm yes; discharge-height 0.1 m; check-valve yes")
    expect_verdict(BOAT ELECTRIC("automatic yes; alarm yes; discharge-height 0.5 m; check-valve yes"),
                   "bilge-valve", NOTHING, NULL);
    expect_verdict(BOAT LOW, "bilge-valve", BROKEN_AT_ONE, "sump");
    expect_verdict(BOAT LOW, "bilge-outlet", BROKEN_AT_ONE, "sump");
    expect_verdict(BOAT LOW OUTFALL HOSE("out", "sump", "outfall") LOOP("out", "0.5 m"), "bilge-outlet",
                   NOTHING, NULL);
    expect_verdict(BOAT LOW OUTFALL HOSE("out", "sump", "outfall") LOOP("out", "0.5 m"), "bilge-valve",
                   NOTHING, NULL);
    expect_verdict(BOAT LOW OUTFALL HOSE("out", "sump", "outfall") LOOP("out", "0.2 m"), "bilge-outlet",
                   BROKEN_AT_ONE, "sump");
    Compiled c;
    compile_text(&c, BOAT LOW OUTFALL HOSE("out", "sump", "outfall") LOOP("out", "0.2 m"));
    bool told = false; /* what is lacking: all else that would do is there */
    for (const Remedy *r = compiled_finding(&c, "bilge-outlet")->remedies; r != NULL; r = r->next) {
        told = told || strstr(r->text, "of the loop `out-loop`") != NULL;
    }
    assert_true(told);
    compile_free(&c);
}

static void a_bilge_pump_comes_out_where_its_hose_ends(void **state)
{
    (void)state;
#define ENDS_IN(PUMP, HULL)                                              \
    BOAT ELECTRIC("automatic yes; alarm yes; check-valve no; " PUMP)     \
    "through-hull spout { bore 38 mm; height " HULL " }\n" HOSE("out", "sump", "spout")
    expect_verdict(ENDS_IN("", "0.6 m"), "bilge-outlet", NOTHING, NULL);
    expect_verdict(ENDS_IN("", "0.05 m"), "bilge-outlet", BROKEN_AT_ONE, "sump");
    expect_verdict(ENDS_IN("", "0.05..0.6 m"), "bilge-outlet", OPEN_AT_ONE, "sump");
    expect_verdict(ENDS_IN("", "0.3 m; at 9 m 0 m 0.3 m"), "bilge-outlet", NOTHING, NULL);
    expect_verdict(ENDS_IN("discharge-height 0.6 m", "0.05 m"), "bilge-outlet", BROKEN_AT_ONE, "sump"); /* the lower */
    Compiled c;
    compile_text(&c, ENDS_IN("", "0.05 m"));
    assert_non_null(strstr(compiled_finding(&c, "bilge-outlet")->remedies->text, "of `spout`"));
    compile_free(&c);
}

/* A valve that is stuck open is none: only a loop that clears the sea, or an outlet above it, keeps it out. */
static void a_bilge_pump_that_ends_under_water_siphons(void **state)
{
    (void)state;
#define ENDS_AT(HEIGHT, VALVE) ELECTRIC("automatic yes; alarm yes; discharge-height " HEIGHT "; check-valve " VALVE)
#define OUT HOSE("out", "sump", "outfall")
    expect_verdict(BOAT ENDS_AT("-0.3 m", "no"), "siphon", BROKEN_AT_ONE, "sump");
    expect_verdict(BOAT ENDS_AT("-0.3 m", "yes"), "siphon", BROKEN_AT_ONE, "sump");
    expect_verdict(BOAT ENDS_AT("-0.3..0.3 m", "no"), "siphon", OPEN_AT_ONE, "sump");
    expect_verdict(BOAT ENDS_AT("0.1 m", "no"), "siphon", NOTHING, NULL);
    expect_verdict(BOAT ENDS_AT("0.1 m", "no"), "bilge-outlet", BROKEN_AT_ONE, "sump");
    expect_verdict(BOAT "bilge-pump helm { hand yes; discharge-height -0.1 m }\n", "siphon", BROKEN_AT_ONE, "helm");
    expect_verdict(BOAT ENDS_AT("-0.2 m", "no") OUTFALL OUT, "siphon", BROKEN_AT_ONE, "sump");
    expect_verdict(BOAT ENDS_AT("0.5 m", "no") OUTFALL OUT, "siphon", BROKEN_AT_ONE, "sump"); /* by its through-hull */
    expect_verdict(BOAT ENDS_AT("-0.2 m", "no") OUTFALL OUT LOOP("out", "0.5 m"), "siphon", NOTHING, NULL);
    expect_verdict(BOAT ENDS_AT("-0.2 m", "no") OUTFALL OUT LOOP("out", "0.2 m"), "siphon", BROKEN_AT_ONE, "out");
    expect_verdict(BOAT ENDS_AT("-0.2 m", "no") OUTFALL OUT LOOP("out", "0.2..0.5 m"), "siphon", OPEN_AT_ONE, "out");
    expect_verdict(BOAT ENDS_AT("-0.2 m", "no") OUTFALL OUT "vent-loop out-loop { on out }\n", "siphon", OPEN_AT_ONE, "out");
}

/* Water finds its level by any pipe that no pump and no high loop parts. */
static void what_stands_below_the_sea_fills_through_joints(void **state)
{
    (void)state;
#define TANK_AT(AT, HOLDS) BOAT OUTFALL "tank low { holds " HOLDS "; capacity 80 l; vent 38 mm; at 3 m 0 m " AT " }\n"
#define BY_VALVE "item valve {}\n" HOSE("off", "low", "valve") HOSE("out", "valve", "outfall")
    expect_verdict(TANK_AT("-0.3 m", "black") HOSE("off", "low", "outfall"), "tank-below", BROKEN_AT_ONE, "off");
    expect_verdict(TANK_AT("-0.3 m", "black") BY_VALVE, "tank-below", BROKEN_AT_ONE, "off");
    expect_verdict(TANK_AT("-0.3 m", "black") BY_VALVE LOOP("out", "0.9 m"), "tank-below", NOTHING, NULL);
    expect_verdict(TANK_AT("0.3 m", "black") BY_VALVE, "tank-below", NOTHING, NULL);
    expect_verdict(TANK_AT("-0.3 m", "fresh") "item maker {}\n" HOSE("draw", "outfall", "maker") HOSE("on", "maker", "low"), "tank-below",
                   NOTHING, NULL); /* it may make it of the sea */
#define PAN(AT) BOAT OUTFALL "fixture pan { drains-to outfall; at 3 m " AT " }\n"
    expect_verdict(PAN("0 m -0.1 m") HOSE("off", "pan", "outfall"), "sink-below", BROKEN_AT_ONE, "off");
    expect_verdict(PAN("0 m -0.1 m"), "sink-below", BROKEN_AT_ONE, "pan"); /* no hose is stated */
    expect_verdict(PAN("0 m -0.1 m") "item tee {}\n" HOSE("off", "pan", "tee") HOSE("out", "tee", "outfall"), "sink-below", BROKEN_AT_ONE, "off");
    expect_verdict(PAN("0 m -0.1 m") "tank sump { holds grey; capacity 8 l }\n" HOSE("off", "pan", "sump"), "sink-below", NOTHING, NULL);
    expect_verdict(PAN("0 m -0.1 m") HOSE("off", "pan", "outfall") LOOP("off", "0.9 m"), "sink-below", NOTHING, NULL);
    expect_verdict(PAN("0 m 0.1 m") HOSE("off", "pan", "outfall"), "sink-below", NOTHING, NULL); /* in her middle */
    expect_verdict(PAN("1.4 m 0.1 m") HOSE("off", "pan", "outfall"), "sink-below", BROKEN_AT_ONE, "off");
    expect_verdict(PAN("1.4 m 0.9 m") HOSE("off", "pan", "outfall"), "sink-below", NOTHING, NULL);
    expect_verdict(PAN("1.4 m 0.1..0.9 m") HOSE("off", "pan", "outfall"), "sink-below", OPEN_AT_ONE, "off");
    Compiled c;
    compile_text(&c, PAN("1.4 m 0.1 m") HOSE("off", "pan", "outfall"));
    assert_int_equal(compiled_finding(&c, "sink-below")->severity, SEVERITY_WARNING);
    compile_free(&c);
    compile_text(&c, PAN("1.4 m -0.1..0.1 m") HOSE("off", "pan", "outfall"));
    int open = 0; /* as she lies, or else as she heels */
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        open += strcmp(f->rule->name, "sink-below") == 0 && f->verdict == VERDICT_OPEN;
    }
    assert_int_equal(open, 2);
    compile_free(&c);
}

/* A T in its hose, or a valve that chooses between two fittings, keeps no sea out. */
static void a_bilge_pump_is_followed_through_joints(void **state)
{
    (void)state;
#define JOINED ENDS_AT("0.8 m", "no") OUTFALL "item tee {}\n" HOSE("out", "sump", "tee") HOSE("on", "tee", "outfall")
#define OTHER "through-hull other { bore 38 mm; height 0.9 m; seacock yes }\n" HOSE("up", "tee", "other")
    static const char *const low[] = {BOAT JOINED, BOAT JOINED OTHER};
    for (size_t i = 0; i < sizeof low / sizeof low[0]; i++) {
        expect_verdict(low[i], "siphon", BROKEN_AT_ONE, "sump");
        expect_verdict(low[i], "bilge-outlet", BROKEN_AT_ONE, "sump");
    }
    expect_verdict(BOAT JOINED LOOP("out", "0.5 m"), "siphon", NOTHING, NULL);
    expect_verdict(BOAT JOINED LOOP("on", "0.5 m"), "siphon", NOTHING, NULL);
    expect_verdict(BOAT JOINED LOOP("on", "0.5 m"), "bilge-outlet", NOTHING, NULL);
    expect_verdict(BOAT JOINED LOOP("on", "0.2 m"), "siphon", BROKEN_AT_ONE, "on");
    expect_verdict(BOAT JOINED LOOP("out", "0.2 m") LOOP("on", "0.2..0.5 m"), "siphon", OPEN_AT_ONE, "on");
    expect_verdict(BOAT JOINED OTHER LOOP("out", "0.5 m"), "bilge-outlet", NOTHING, NULL);
    expect_verdict(BOAT JOINED OTHER LOOP("on", "0.5 m"), "bilge-outlet", BROKEN_AT_ONE, "sump");
    expect_verdict(BOAT ELECTRIC("automatic yes; alarm yes; check-valve no") "through-hull spout { bore 38 mm; height 0.6 m }\nitem tee {}\n"
                   HOSE("out", "sump", "tee") HOSE("on", "tee", "spout"),
                   "bilge-outlet", NOTHING, NULL);
}

static void a_fault_is_what_siphons_at_rest_and_a_warning_what_dips(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT ENDS_AT("-0.3 m", "no"));
    assert_int_equal(compiled_finding(&c, "siphon")->severity, SEVERITY_FAULT);
    compile_free(&c);
    compile_text(&c, BOAT ENDS_AT("0.1 m", "no"));
    assert_int_equal(compiled_finding(&c, "bilge-outlet")->severity, SEVERITY_WARNING);
    compile_free(&c);
}

/* What says where it draws from and delivers to, and states no hose at all. */
static void a_pump_between_sea_and_boat_without_hoses_is_left_open(void **state)
{
    (void)state;
    expect_verdict(BOAT OUTFALL HOLDING "pump discharge { from holding; to outfall }\n", "siphon", OPEN_AT_ONE, "discharge");
    expect_verdict(BOAT "through-hull high { bore 38 mm; height 0.5 m }\n" HOLDING
                        "pump discharge { from holding; to high }\n", "siphon", NOTHING, NULL);
}

/* It is carried ashore to be filled and emptied. */
static void a_tank_that_can_be_carried_has_no_pipes(void **state)
{
    (void)state;
    static const char *const rules[] = {"unplumbed", "tank-breath", "fuel-tank"};
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++) {
        expect_verdict(BOAT "tank carried { holds black; capacity 20 l; portable yes }\n", rules[i], NOTHING, NULL);
        expect_verdict(BOAT "tank can { holds fuel; capacity 20 l; portable yes }\n", rules[i], NOTHING, NULL);
    }
    expect_verdict(BOAT "tank holding { holds black; capacity 20 l }\n", "unplumbed", OPEN_AT_ONE, "holding");
}

/* Sizes as they are sold: common practice, no source. A size that is a thousandth short of what is asked for is that size. */
static void a_remedy_names_a_size_that_is_made(void **state)
{
    (void)state;
    assert_string_equal(made_at_least(MADE_HOSE, true, 0.0158), "5/8 in");
    assert_string_equal(made_at_least(MADE_HOSE, true, 0.01727), "3/4 in");
    assert_string_equal(made_at_least(MADE_HOSE, false, 0.016), "16 mm");
    assert_string_equal(made_at_least(MADE_HOSE, false, 0.0161), "19 mm");
    assert_string_equal(made_at_least(MADE_SHAFT, false, 0.0306), "35 mm");
    assert_string_equal(made_at_least(MADE_SHAFT, true, 0.0306), "1 1/4 in");
    assert_null(made_at_least(MADE_SHAFT, true, 0.1));
    Compiled c;
    compile_text(&c, "edition 1\nboat wren { length 32 ft; beam 10 ft; displacement 5200 kg; crew 2; currency USD; basis us }\n"
                     "tank holding { holds black; capacity 20 gal; vent 3/8 in; pump-out 1 1/2 in }\n");
    const Finding *finding = only_finding(&c, "tank-breath");
    assert_non_null(finding);
    assert_null(strchr(finding->remedies->text, '.'));
    assert_non_null(strstr(finding->remedies->text, " in"));
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_drains_into_an_intake),
        cmocka_unit_test(a_holding_tank_has_the_vent_of_its_standard),
        cmocka_unit_test(a_check_valve_that_nothing_hangs_on_is_told),
        cmocka_unit_test(a_remedy_names_a_size_that_is_made),
        cmocka_unit_test(a_loop_on_one_side_of_the_bowl_does_not_serve_the_other),
        cmocka_unit_test(a_loop_must_stand_high_enough_and_may_be_undecided),
        cmocka_unit_test(a_bowl_above_the_heeled_water_cannot_fill),
        cmocka_unit_test(a_bowl_a_finger_above_the_water_at_rest_is_not_clear_of_it),
        cmocka_unit_test(a_hose_to_a_tank_needs_no_loop),
        cmocka_unit_test(a_diverter_does_not_part_a_hose_from_the_sea),
        cmocka_unit_test(the_loop_of_a_line_with_a_pump_stands_behind_the_pump),
        cmocka_unit_test(what_ends_above_the_sea_draws_none_in),
        cmocka_unit_test(a_strainer_does_not_part_a_hose),
        cmocka_unit_test(a_spec_that_lists_no_loop_at_all_leaves_it_open),
        cmocka_unit_test(nothing_siphons_where_the_sea_is_not_joined_or_nothing_is_open),
        cmocka_unit_test(a_mistake_in_a_loop_or_hose_makes_its_siphon_wait),
        cmocka_unit_test(a_valve_in_the_hose_serves_as_well_as_one_on_the_hull),
        cmocka_unit_test(a_second_way_around_the_valve_counts),
        cmocka_unit_test(offshore_waters_alone_ask_nothing_and_silence_about_waters_is_open),
        cmocka_unit_test(a_fitting_well_above_the_heeled_water_needs_no_seacock),
        cmocka_unit_test(what_a_seacock_is_of_and_stands_on_is_asked_once),
        cmocka_unit_test(an_exhaust_or_a_sounder_needs_none),
        cmocka_unit_test(clamps_are_asked_where_the_sea_can_reach_the_hose),
        cmocka_unit_test(only_hot_water_needs_a_mixing_valve),
        cmocka_unit_test(a_petrol_tank_breathes_by_nine_sixteenths_of_an_inch),
        cmocka_unit_test(a_holding_tank_that_says_nothing_of_its_vent_is_left_open),
        cmocka_unit_test(a_bore_of_practice_may_be_the_nearest_size_in_inches),
        cmocka_unit_test(a_usual_vent_of_half_an_inch_is_advised_against_alone),
        cmocka_unit_test(iso_asks_for_two_pumps_of_any_kind),
        cmocka_unit_test(each_bilge_of_its_own_is_to_have_two_pumps),
        cmocka_unit_test(what_a_first_pump_leaves_open_hides_no_second),
        cmocka_unit_test(an_open_boat_is_bailed),
        cmocka_unit_test(what_is_not_there_is_not_made_larger),
        cmocka_unit_test(a_boat_has_an_automatic_pump_and_one_worked_by_hand),
        cmocka_unit_test(what_falls_short_of_a_benchmark_is_a_warning_and_no_pump_a_fault),
        cmocka_unit_test(an_alarm_in_the_space_serves_its_pump),
        cmocka_unit_test(a_tank_that_can_be_carried_has_no_pipes),
        cmocka_unit_test(a_bilge_pump_comes_out_where_its_hose_ends),
        cmocka_unit_test(a_bilge_pump_that_ends_under_water_siphons),
        cmocka_unit_test(what_stands_below_the_sea_fills_through_joints),
        cmocka_unit_test(a_bilge_pump_is_followed_through_joints),
        cmocka_unit_test(a_fault_is_what_siphons_at_rest_and_a_warning_what_dips),
        cmocka_unit_test(a_pump_between_sea_and_boat_without_hoses_is_left_open),
        cmocka_unit_test(a_low_outlet_may_have_a_loop_and_a_seacock_and_a_check_valve_is_neither),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
