/*
 * How plumbing hangs together: several tanks to one pump, several pumps to one tap, tanks that nobody can draw from or
 * fill, what is left open of several tanks, heights that her side does not have, joints that nothing leads to. Each
 * expected number is reckoned beside it.
 */
#include "unit/verdict.h"

#include "output/bom.h"
#include "physics/pipe.h"

#include <stdio.h>

#define BOAT                                                                                                  \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso " \
    "}\n"
#define FEET "edition 1\nboat wren { length 31 ft; beam 10 ft; displacement 11000 lb; crew 2; currency USD; basis us }\n"
#define TANK(NAME) "tank " NAME " { holds fresh; capacity 100 l; vent 16 mm; fill 38 mm }\n"
#define DRAIN "through-hull drain { bore 38 mm; height 0.3 m; seacock yes; material bronze; backing yes; reach yes }\n"
#define PUMP(NAME, SAYS) "pump " NAME " { from first; portable yes; self-priming 1.8 m; " SAYS " }\n"
#define HOSE(NAME, FROM, TO, SAYS) "hose " NAME " { from " FROM "; to " TO "; " SAYS " }\n"
#define TAP "fixture tap { flow 5 l/min; drains-to drain }\n"

/* ---- Several tanks to one pump, several pumps to one tap ---------------------------------------------------- */

#define TWO_TANKS(FIRST, SECOND)                                                                       \
    BOAT TANK("first") TANK("second") DRAIN TAP "item tee\n" PUMP("pump", "flow 12 l/min; shut-off 2 bar") \
        HOSE("one", "first", "tee", FIRST) HOSE("other", "second", "tee", SECOND)                      \
            HOSE("last", "tee", "pump", "bore 13 mm; run 1 m") HOSE("out", "pump", "tap", "bore 13 mm; run 2 m")

static void a_pump_draws_by_the_worst_of_its_tanks(void **state)
{
    (void)state;
    Compiled both, alone;
    compile_text(&both, TWO_TANKS("bore 13 mm; run 1 m", "bore 8 mm; run 3 m; rise 0.2 m"));
    compile_text(&alone, TWO_TANKS("bore 8 mm; run 3 m; rise 0.2 m", "bore 13 mm; run 1 m"));
    static const FigureId ids[] = {FIGURE_FLOW, FIGURE_SUCTION_LIFT};
    for (size_t i = 0; i < 2; i++) {
        assert_near(compiled_figure(&both, "pump", ids[i])->low, compiled_figure(&alone, "pump", ids[i])->low, 1e-12);
    }
    assert_string_equal(compiled_figure(&both, "pump", FIGURE_SUCTION_LIFT)->remark, "from `second`, the worst");
    assert_string_equal(compiled_figure(&alone, "pump", FIGURE_SUCTION_LIFT)->remark, "from `first`, the worst");
    /* each of them is in the suction, and is held against its speed */
    assert_string_equal(compiled_figure(&both, "other", FIGURE_VELOCITY)->remark, "in the suction of `pump`");
    compile_free(&both);
    compile_free(&alone);
}

/* 1.5 m/s in a suction hose, however many joints lie between it and the pump: 10 l/min in 10 mm run at 2.1 m/s. */
static void a_suction_hose_before_a_joint_is_one(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, TWO_TANKS("bore 10 mm; run 0.3 m", "bore 25 mm; run 1 m"));
    const Finding *finding = only_finding(&c, "hose-fast");
    assert_non_null(finding);
    assert_str(entity_name(outcome_first(c.outcome)->model, finding->subject), "one");
    assert_near(finding->limit.high, 1.5, 1e-12);
    compile_free(&c);
}

#define TWO_PUMPS(FOOT)                                                                                    \
    BOAT TANK("first") DRAIN TAP "item tee\n" PUMP("electric", "flow 11 l/min; shut-off 3 bar; pressure 2.8 bar; cut-in 1 bar") \
        PUMP("foot", FOOT) HOSE("one", "first", "electric", "bore 13 mm; run 1 m")                         \
            HOSE("other", "first", "foot", "bore 13 mm; run 1 m")                                          \
                HOSE("left", "electric", "tee", "bore 10 mm; run 1 m")                                     \
                    HOSE("right", "foot", "tee", "bore 10 mm; run 1 m")                                    \
                        HOSE("shared", "tee", "tap", "bore 10 mm; run 3 m")

/* Each pump alone on its way to the tap: reckoned by the same physics, in one hose of its total length. */
static double by_pump(double flow_l_per_min, double shut_off_m, double most_m)
{
    Pump pump = {PUMP_LINE, shut_off_m, flow_l_per_min * 1e-3 / 60.0};
    double bends = 2.0 * minor_k(MINOR_ELBOW_90);
    PipeRun runs[] = {{{0.013, 1.0, 1e-5, bends + minor_k(MINOR_ENTRANCE)}, 1.0},
                      {{0.010, 1.0, 1e-5, bends}, 1.0},
                      {{0.010, 3.0, 1e-5, bends + minor_k(MINOR_TAP)}, 1.0}};
    return pump_through_m3_per_s(&pump, most_m, 0.0, runs, 3, liquid_viscosity_m2_per_s(LIQUID_FRESH_15_C));
}

static void a_tap_of_two_pumps_is_told_by_each_and_gets_what_the_stronger_brings(void **state)
{
    (void)state;
    Compiled c;
    double bar_m = head_of_pressure_m(1e5, liquid_density_kg_per_m3(LIQUID_FRESH_15_C));
    compile_text(&c, TWO_PUMPS("flow 6 l/min; shut-off 5 m"));
    assert_near(compiled_figure_at(&c, "tap", FIGURE_FLOW, "electric")->low, by_pump(11.0, 3.0 * bar_m, 2.8 * bar_m), 1e-10);
    assert_near(compiled_figure_at(&c, "tap", FIGURE_FLOW, "foot")->low, by_pump(6.0, 5.0, 5.0), 1e-10);
    assert_near(compiled_figure(&c, "foot", FIGURE_FLOW)->low, by_pump(6.0, 5.0, 5.0), 1e-10);
    const Figure *tap = compiled_figure_at(&c, "tap", FIGURE_FLOW, "");
    assert_near(tap->low, by_pump(11.0, 3.0 * bar_m, 2.8 * bar_m), 1e-10);
    assert_string_equal(tap->remark, "by `electric`, the strongest of its pumps");
    /* the hose that both share runs at the speed of the stronger */
    assert_near(compiled_figure(&c, "shared", FIGURE_VELOCITY)->low, pipe_speed_m_per_s(tap->low, 0.010), 1e-9);
    assert_null(compiled_finding(&c, "pump-starved"));
    compile_free(&c);
}

/* The lift of a second pump is judged as that of the first. */
static void a_second_pump_has_to_draw_too(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT TANK("first") DRAIN TAP "item tee\n" PUMP("electric", "flow 11 l/min; shut-off 3 bar") 
                 "pump foot { from first; portable yes; flow 6 l/min; shut-off 9 m; self-priming 0.5 m }\n"
                 HOSE("one", "first", "electric", "bore 13 mm; run 1 m") HOSE("other", "first", "foot", "bore 13 mm; run 1 m; rise 1 m")
                 HOSE("left", "electric", "tee", "bore 10 mm; run 1 m") HOSE("right", "foot", "tee", "bore 10 mm; run 1 m")
                 HOSE("shared", "tee", "tap", "bore 10 mm; run 3 m"));
    const Finding *finding = only_finding(&c, "pump-starved");
    assert_non_null(finding);
    assert_str(entity_name(outcome_first(c.outcome)->model, finding->subject), "foot");
    compile_free(&c);
}

/* ---- What counts in a day ------------------------------------------------------------------------------------ */

#define DAY "day quiet { water 10 l per person; flushes 5 per person }\n"

/* 100 l of which 90 % are drawn by two people at 10 l: 4.5 d of one tank, 9 d of two. */
static void water_that_nothing_draws_counts_in_no_day(void **state)
{
    (void)state;
    static const struct {
        const char *spec;
        double days;
        const char *counts; /* the tank that has a figure of it */
    } boats[] = {
        {BOAT DAY TANK("first") TANK("second"), 9.0, "first"}, /* of none is anything said */
        {BOAT DAY TANK("first") TANK("second") PUMP("pump", ""), 4.5, "first"},
        {BOAT DAY TANK("second") TANK("first") PUMP("pump", ""), 4.5, "first"},
        {BOAT DAY TANK("first") TANK("second") PUMP("pump", "") HOSE("tap-less", "second", "pump", "bore 13 mm; run 1 m"), 4.5,
         "second"}, /* its hose says better than the pump where it draws */
        {BOAT DAY TANK("first") "tank second { holds fresh; capacity 100 l; portable yes }\n" PUMP("pump", ""), 9.0, "second"},
    };
    for (size_t i = 0; i < sizeof boats / sizeof boats[0]; i++) {
        Compiled c;
        compile_text(&c, boats[i].spec);
        const Figure *lasts = compiled_figure_at(&c, boats[i].counts, FIGURE_ENDURANCE, "quiet");
        assert_non_null(lasts);
        assert_near(lasts->low / 86400.0, boats[i].days, 1e-9);
        compile_free(&c);
    }
    Compiled c;
    compile_text(&c, boats[1].spec);
    assert_null(compiled_figure_at(&c, "second", FIGURE_ENDURANCE, "quiet"));
    compile_free(&c);
}

/* 60 l of which three quarters are filled by two people with 5 flushes of 3 l, and 0.8 to 2 l of their own: 45 l / 34 l is 1.3235 d. */
static void a_holding_tank_to_which_nothing_leads_has_no_room(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT DAY "tank spare { holds black; capacity 60 l; vent 38 mm; pump-out 38 mm }\n"
                              "tank used { holds black; capacity 60 l; vent 38 mm; pump-out 38 mm }\n"
                              "toilet wc { worked-by hand; rim 1.2 m; flushes-with sea; to used }\n");
    assert_near(compiled_figure_at(&c, "used", FIGURE_ENDURANCE, "quiet")->low / 86400.0, 45.0 / 34.0, 1e-9);
    const Finding *finding = only_finding(&c, "unplumbed");
    assert_non_null(finding);
    assert_string_equal(finding->message, "nothing leads to `spare`: its room counts in no day");
    compile_free(&c);
}

/* ---- Sizes that are left open --------------------------------------------------------------------------------- */

#define WISH "day quiet { water 20 l per person }\ngoal long { endure 10 d on quiet }\n"
#define OPEN_TANK(NAME, SAYS) "tank " NAME " { holds fresh; vent 16 mm; fill 38 mm; " SAYS " }\n"

/* 400 l are asked; a tank gives 90 %. The sizes made are those of water_sizes.c. */
static void tanks_that_are_left_open_share_equally(void **state)
{
    (void)state;
    static const struct {
        const char *spec;
        double litres; /* of `one` */
        bool shared;
    } boats[] = {
        {BOAT WISH OPEN_TANK("one", "capacity ?"), 500.0, false},                                             /* 444 l */
        {BOAT WISH OPEN_TANK("one", "capacity ?") OPEN_TANK("two", "capacity ?"), 250.0, true},               /* 222 l */
        {BOAT WISH OPEN_TANK("one", "capacity ?") OPEN_TANK("two", "capacity ?; count 3"), 120.0, true},      /* 111 l */
        {BOAT WISH OPEN_TANK("one", "capacity ?; count 2") OPEN_TANK("two", "capacity ?"), 2 * 150.0, true},  /* 148 l each */
        {BOAT WISH OPEN_TANK("one", "capacity ?") OPEN_TANK("two", "capacity 200 l"), 250.0, false},          /* 244 l */
        {BOAT WISH OPEN_TANK("one", "capacity ?") OPEN_TANK("two", "capacity 100..200 l"), 400.0, false},     /* 344 l */
        {BOAT WISH OPEN_TANK("one", "capacity ?") OPEN_TANK("two", "size 1 m by 0.5 m by 0.4 m"), 250.0, false},
    };
    for (size_t i = 0; i < sizeof boats / sizeof boats[0]; i++) {
        Compiled c;
        compile_text(&c, boats[i].spec);
        const Figure *volume = compiled_figure(&c, "one", FIGURE_VOLUME);
        assert_true(volume->chosen);
        assert_near(volume->low * 1e3, boats[i].litres, 1e-9);
        assert_int_equal(strstr(volume->remark, "in equal shares") != NULL, boats[i].shared);
        assert_null(compiled_finding(&c, "water-short"));
        compile_free(&c);
    }
}

/* What others hold is enough, or is not known: no size follows. */
static void a_tank_that_no_goal_needs_stays_open(void **state)
{
    (void)state;
    static const char *const others[] = {OPEN_TANK("two", "capacity 500 l"), OPEN_TANK("two", ""),
                                         OPEN_TANK("two", "capacity ?; count 1..2")};
    for (size_t i = 0; i < 3; i++) {
        Compiled c;
        char spec[1000];
        snprintf(spec, sizeof spec, "%s%s", BOAT WISH OPEN_TANK("one", "capacity ?"), others[i]);
        compile_text(&c, spec);
        assert_false(compiled_figure(&c, "one", FIGURE_VOLUME)->chosen);
        compile_free(&c);
    }
}

/* ---- Her deck edge -------------------------------------------------------------------------------------------- */

#define LOW_SIDED(FREEBOARD)                                                                                        \
    "edition 1\nboat wren { length 9.5 m; beam 3.6 m; displacement 5200 kg; crew 2; currency EUR; basis iso; " \
    "freeboard " FREEBOARD " }\n"
#define OUTLET "bilge-pump by-hand { hand yes; rated 3600 l/h; discharge-height 0.5 m }\n"

/* ISO 9093: 30 degrees, or the sheer amidships if that comes first: atan(0.8 / 1.8) is 24 degrees. */
static void she_is_heeled_no_farther_than_her_deck_edge(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, LOW_SIDED("0.9 m to 0.7 m"));
    assert_near(compiled_figure(&c, "wren", FIGURE_HEELED_WATERLINE)->low, 0.8, 1e-9);
    compile_free(&c);
    compile_text(&c, LOW_SIDED("1.3 m to 1.1 m"));
    assert_near(compiled_figure(&c, "wren", FIGURE_HEELED_WATERLINE)->low, 1.8 * tan(3.14159265358979323846 / 6.0), 1e-9);
    compile_free(&c);
}

/*
 * 1.04 m of water at her side and 203 mm above it: 1.27 m, which a side of 1.1 m does not have. At 30 degrees the clearance
 * is 0.234 m along her own vertical, and (1.1 - 0.234) / tan 30 is a hair less than 1.5 m from the middle.
 */
static void no_height_is_offered_that_her_side_does_not_have(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, LOW_SIDED("1.3 m to 1.1 m") OUTLET);
    const Finding *finding = compiled_finding(&c, "bilge-outlet");
    assert_non_null(finding);
    bool moved = false;
    for (const Remedy *r = finding->remedies; r != NULL; r = r->next) {
        assert_null(strstr(r->text, "discharge-height"));
        moved = moved || strcmp(r->text, "a hose from it to a through-hull under the deck within 1.4 m of her middle, said "
                                         "with `at`") == 0;
    }
    assert_true(moved);
    compile_free(&c);
    compile_text(&c, LOW_SIDED("1.6 m to 1.4 m") OUTLET);
    assert_string_equal(compiled_finding(&c, "bilge-outlet")->remedies->text, "discharge-height 1.3 m");
    compile_free(&c);
}

/* ---- What is not joined ---------------------------------------------------------------------------------------- */

static void hoses_from_a_joint_need_one_to_it(void **state)
{
    (void)state;
    expect_verdict(BOAT TANK("first") DRAIN TAP "item tee\n" PUMP("pump", "") HOSE("out", "tee", "tap", "bore 13 mm; run 2 m"),
                   "unplumbed", BROKEN_AT_ONE, "tee");
    expect_verdict(BOAT TANK("first") DRAIN TAP "item tee\n" PUMP("pump", "") HOSE("way-in", "pump", "tee", "bore 13 mm; run 2 m")
                       HOSE("out", "tee", "tap", "bore 13 mm; run 2 m"),
                   "unplumbed", NOTHING, NULL);
}

static void a_tap_to_which_hot_water_alone_comes_lacks_the_cold(void **state)
{
    (void)state;
#define HOT(SAYS)                                                                                                   \
    BOAT TANK("first") DRAIN "water-heater boiler { capacity 30 l }\nfixture tap { drains-to drain; " SAYS " }\n" \
        PUMP("pump", "") HOSE("way-in", "pump", "boiler", "bore 13 mm; run 2 m")                                       \
            HOSE("out", "boiler", "tap", "bore 13 mm; run 2 m")
    expect_verdict(HOT("hot yes"), "unplumbed", BROKEN_AT_ONE, "tap");
    expect_verdict(HOT("hot yes; cold no"), "unplumbed", NOTHING, NULL);
    expect_verdict(HOT("hot yes") HOSE("cold", "pump", "tap", "bore 13 mm; run 2 m"), "unplumbed", NOTHING, NULL);
}

/* Of two things that the spec says, one is wrong; and a drain does not run from the sea to the sink. */
static void what_is_said_of_a_way_is_held_against_its_hoses(void **state)
{
    (void)state;
#define SAID(FROM, DRAIN_FROM, DRAIN_TO)                                                                                     \
    BOAT TANK("first") TANK("second") DRAIN TAP "pump pump { from " FROM "; portable yes }\n"                           \
        "pump other { from second; portable yes }\n" HOSE("suction", "first", "pump", "bore 13 mm; run 1 m")             \
            HOSE("out", "pump", "tap", "bore 13 mm; run 1 m") HOSE("down", DRAIN_FROM, DRAIN_TO, "bore 38 mm; run 1 m")   \
                HOSE("spare", "other", "tap", "bore 13 mm; run 1 m")
    expect_verdict(SAID("first", "tap", "drain"), "unplumbed", NOTHING, NULL);
    expect_verdict(SAID("second", "tap", "drain"), "unplumbed", BROKEN_AT_ONE, "pump");
    expect_verdict(SAID("first", "drain", "tap"), "unplumbed", BROKEN_AT_ONE, "down");
    Compiled c;
    compile_text(&c, BOAT DRAIN "tank holding { holds black; capacity 60 l; vent 38 mm; pump-out 38 mm }\n"
                 "toilet wc { worked-by hand; rim 1.2 m; flushes-with fresh; to drain }\n"
                 HOSE("waste", "wc", "holding", "bore 38 mm; run 1 m") HOSE("flush", "wc", "wc", "bore 13 mm; run 1 m"));
    assert_string_equal(only_finding(&c, "unplumbed")->message, "`wc` says `to drain`, and its hoses lead to `holding`");
    compile_free(&c);
}

static void a_joint_that_hoses_end_at_is_blind(void **state)
{
    (void)state;
    expect_verdict(BOAT TANK("first") TANK("second") DRAIN TAP "item tee\n" PUMP("pump", "to tap") 
                       HOSE("one", "first", "tee", "bore 13 mm; run 1 m") HOSE("two", "second", "tee", "bore 13 mm; run 1 m"),
                   "unplumbed", BROKEN_AT_ONE, "tee");
}

static void gas_comes_from_a_locker(void **state)
{
    (void)state;
#define GAS_BOX(NAME) "gas-locker " NAME " { cylinder 5 kg; drained-overboard yes; drain 19 mm }\n"
    static const struct {
        const char *spec;
        int verdict;
    } cases[] = {
        {BOAT "gas-appliance cooker { }\n", OPEN_AT_ONE},
        {BOAT "gas-appliance cooker { ordered 2026-01-02 }\n", OPEN_AT_ONE},
        {BOAT "gas-appliance cooker { fitted 2026-01-02 }\n", BROKEN_AT_ONE},
        {BOAT GAS_BOX("box") "gas-appliance cooker { fitted 2026-01-02 }\n", NOTHING},
        {BOAT GAS_BOX("box") GAS_BOX("stern-box") "gas-appliance cooker { fitted 2026-01-02 }\n", OPEN_AT_ONE},
        {BOAT GAS_BOX("box") GAS_BOX("stern-box") "gas-appliance cooker { locker box; fitted 2026-01-02 }\n", NOTHING},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        expect_verdict(cases[i].spec, "gas-locker", cases[i].verdict, "cooker");
        expect_verdict(cases[i].spec, "gas-drain", NOTHING, NULL);
    }
    Compiled c;
    compile_text(&c, BOAT "gas-appliance cooker { fitted 2026-01-02 }\n");
    assert_string_equal(only_finding(&c, "gas-locker")->message, "`cooker` burns gas and is fitted, and the spec states no gas "
                                                                 "locker: a cylinder anywhere else leaks into the boat");
    compile_free(&c);
}

static void sewage_is_followed_through_valves_and_pumps(void **state)
{
    (void)state;
#define WASTE(GRADE)                                                                                                       \
    BOAT DRAIN "tank holding { holds black; capacity 60 l; vent 38 mm; pump-out 38 mm }\nitem y-valve\n"                \
        "pump macerator { from holding; to drain; portable yes }\n" HOSE("one", "holding", "y-valve", "bore 38 mm; run 1 m") \
            HOSE("two", "y-valve", "macerator", "bore 38 mm; run 1 m")                                                    \
                HOSE("three", "macerator", "drain", "bore 25 mm; run 1 m; " GRADE)
    expect_verdict(WASTE("grade water"), "hose-grade", BROKEN_AT_ONE, "three");
    expect_verdict(WASTE("grade sanitation"), "hose-grade", NOTHING, NULL);
    expect_verdict(WASTE(""), "hose-grade", NOTHING, NULL);
}

/* At 12.0 of 13.6 V a head of 4.5 m is 3.5 m (affinity laws): 3.6 m it does not lift. */
static void a_pump_that_lifts_nothing_is_told_though_others_are_enough(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "bank house { chemistry agm; voltage 12 V; capacity 100 Ah }\n"
                          "bilge-pump one { fed-by house; draw 4 A; automatic yes; rated 9000 l/h }\n"
                          "bilge-pump two { fed-by house; draw 4 A; automatic yes; rated 5000 l/h; lift 3.6 m; shut-off 4.5 m; "
                          "outlet 29 mm by 3 m }\n"
                          "bilge-pump by-hand { hand yes; rated 3600 l/h }\n");
    const Finding *finding = only_finding(&c, "bilge-capacity");
    assert_non_null(finding);
    assert_int_equal(finding->severity, SEVERITY_WARNING);
    assert_str(entity_name(outcome_first(c.outcome)->model, finding->subject), "two");
    compile_free(&c);
}

/* ---- Units, and what is bought --------------------------------------------------------------------------------- */

/* 13 mm of practice is sold as 1/2 in. */
static void a_drain_in_inches_is_asked_in_inches(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, FEET "gas-locker box { cylinder 11 lb; drained-overboard yes; drain 3/8 in; gauge yes; shut-off yes }\n");
    assert_string_equal(compiled_finding(&c, "gas-drain")->message, "the drain of `box` is 3/8 in wide; 0.5 in is the least");
    assert_string_equal(compiled_finding(&c, "gas-drain")->remedies->text, "drain 1/2 in");
    compile_free(&c);
    compile_text(&c, FEET "gas-locker box { cylinder 11 lb; drained-overboard yes; drain 1/2 in; gauge yes; shut-off yes }\n");
    assert_null(compiled_finding(&c, "gas-drain"));
    compile_free(&c);
}

/* What nobody states is told in the owner's units as well: a hose rises by nothing, in feet. */
static void a_default_is_told_in_the_owners_units(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, FEET "fixture tap { }\nhose one { from tap; to drain; bore 1/2 in; run 3 ft }\nthrough-hull drain { bore 1 in }\n");
    const Model *model = outcome_first(c.outcome)->model;
    assert_int_equal(property_value(model_default(model, PROP_HOSE_RISE), 0)->unit.unit, UNIT_FT);
    assert_int_equal(property_value(model_default(model, PROP_FIXTURE_FLOW), 0)->unit.unit, UNIT_GPM);
    assert_near(property_value(model_default(model, PROP_FIXTURE_FLOW), 0)->u.quantity.low, 5e-3 / 60.0, 1e-15);
    compile_free(&c);
}

static void what_is_left_open_is_told_in_the_owners_units(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, FEET "tank holding { holds black; capacity 20 gal; vent ?; pump-out 1 1/2 in }\n");
    const Finding *finding = only_finding(&c, "tank-breath");
    assert_non_null(finding);
    assert_string_equal(finding->message, "the vent of `holding` is an undecided length; for sewage 1.5 in is the least");
    compile_free(&c);
}

static void expect_bill(const char *spec, const char *const pieces[], size_t count)
{
    Compiled c;
    Buf text;
    compile_text(&c, spec);
    buf_init(&text, &c.arena);
    bom_csv(&text, c.outcome);
    for (size_t i = 0; i < count; i++) {
        if (strstr(text.text, pieces[i]) == NULL) {
            fail_msg("missing: %s\nin:\n%s", pieces[i], text.text);
        }
    }
    compile_free(&c);
}

/*
 * 3 bends and 1 bend are 4 elbows, and the hose with one elbow has a straight tail at its other end; the third says nothing:
 * an elbow at each end is assumed. 4 m and a tenth are 4.4 m; in feet, 13 1/2 and a tenth are 14.85 ft.
 */
static void elbows_and_tails_stand_in_the_bill(void **state)
{
    (void)state;
    static const char *const metric[] = {
        "hose-13-mm,\"Hose of 13 mm, in metres\",hose-by-the-metre,water,5,",
        "elbows-13-mm,Elbows of 90 degrees for a bore of 13 mm,fitting,water,4,",
        "tails-13-mm,Straight hose tails for a bore of 13 mm,fitting,water,1,",
        "elbows-19-mm,Elbows of 90 degrees for a bore of 19 mm; assumed for 1 of 1 hose,fitting,water,2,",
        "clamps-13-mm,Hose clamps for a bore of 13 mm; 1 hose does not say how many: one or two at each end,clamp,water,6..8,",
    };
    static const char *const feet[] = {"hose-0.5-in,\"Hose of 1/2 in, in feet\",hose-by-the-metre,water,15,"};
    expect_bill(BOAT TANK("first") TAP DRAIN PUMP("pump", "") HOSE("one", "first", "pump", "bore 13 mm; run 3 m; bends 3; clamps 2")
                    HOSE("two", "pump", "tap", "bore 13 mm; run 1 m; bends 1") HOSE("three", "tap", "drain", "bore 19 mm; run 1 m"),
                metric, sizeof metric / sizeof metric[0]);
    expect_bill(FEET TANK("first") TAP DRAIN HOSE("one", "first", "tap", "bore 1/2 in; run 13 ft 6 in"), feet, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_pump_draws_by_the_worst_of_its_tanks),
        cmocka_unit_test(a_suction_hose_before_a_joint_is_one),
        cmocka_unit_test(a_tap_of_two_pumps_is_told_by_each_and_gets_what_the_stronger_brings),
        cmocka_unit_test(a_second_pump_has_to_draw_too),
        cmocka_unit_test(water_that_nothing_draws_counts_in_no_day),
        cmocka_unit_test(a_holding_tank_to_which_nothing_leads_has_no_room),
        cmocka_unit_test(tanks_that_are_left_open_share_equally),
        cmocka_unit_test(a_tank_that_no_goal_needs_stays_open),
        cmocka_unit_test(she_is_heeled_no_farther_than_her_deck_edge),
        cmocka_unit_test(no_height_is_offered_that_her_side_does_not_have),
        cmocka_unit_test(hoses_from_a_joint_need_one_to_it),
        cmocka_unit_test(a_tap_to_which_hot_water_alone_comes_lacks_the_cold),
        cmocka_unit_test(what_is_said_of_a_way_is_held_against_its_hoses),
        cmocka_unit_test(a_joint_that_hoses_end_at_is_blind),
        cmocka_unit_test(gas_comes_from_a_locker),
        cmocka_unit_test(sewage_is_followed_through_valves_and_pumps),
        cmocka_unit_test(a_pump_that_lifts_nothing_is_told_though_others_are_enough),
        cmocka_unit_test(a_drain_in_inches_is_asked_in_inches),
        cmocka_unit_test(a_default_is_told_in_the_owners_units),
        cmocka_unit_test(what_is_left_open_is_told_in_the_owners_units),
        cmocka_unit_test(elbows_and_tails_stand_in_the_bill),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
