/*
 * Flows as figures of small specs: what the model makes of hoses, taps, heaters and switches. The hydraulics
 * themselves are held against a fluid library in tests/reference.
 */
#include "unit/verdict.h"

#include "physics/pipe.h"

#include <stdio.h>

#define BOAT                                                                                                 \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us " \
    "}\n"                                                                                                    \
    "tank fresh { holds fresh; capacity 100 l; vent 16 mm; fill 38 mm }\n"
#define PUMP(SAYS) "pump pump { from fresh; portable yes; self-priming 1.8 m; " SAYS " }\n"
#define TAP(NAME, SAYS) "fixture " NAME " { drains-to drain; " SAYS " }\n"
#define DRAIN "through-hull drain { bore 38 mm; height 0.3 m }\n"
#define HOSE(NAME, FROM, TO, SAYS) "hose " NAME " { from " FROM "; to " TO "; " SAYS " }\n"
#define ONE_TAP(PUMP_SAYS, DELIVERY)                                                   \
    BOAT DRAIN PUMP(PUMP_SAYS) TAP("tap", "flow 5 l/min")                              \
        HOSE("suction", "fresh", "pump", "bore 10 mm; run 1.5 m; rise 0.6 m; bends 0") \
            HOSE("delivery", "pump", "tap", DELIVERY)

static const double lpm = 1e-3 / 60.0;

/*
 * The first row of the table pump-lines.tsv as a boat: 6 m of 10 mm in two hoses, 0.6 m up, loss coefficients of
 * 4.5 in all; but a tap has 10, an entrance 0.5 and an elbow 1.5, so the bends are none and the rest is solved
 * here by the same physics, in one hose.
 */
static void two_hoses_lose_what_one_as_long_does(void **state)
{
    (void)state;
    Compiled c;
    Pump pump = {PUMP_LINE, 31.0, 13.0 * lpm};
    Hose hose = {.bore_m = 0.010, .length_m = 6.0, .roughness_m = 1e-5, .minor_k = 10.5};
    compile_text(&c, ONE_TAP("flow 13 l/min; shut-off 31 m", "bore 10 mm; run 4.5 m; bends 0"));
    double wanted =
        pump_on_hose(&pump, 0.6, &hose, liquid_viscosity_m2_per_s(LIQUID_FRESH_15_C)).flow_m3_per_s;
    assert_near(compiled_figure(&c, "tap", FIGURE_FLOW)->low, wanted, 1e-10);
    assert_near(compiled_figure(&c, "pump", FIGURE_FLOW)->low, wanted, 1e-10);
    assert_near(compiled_figure(&c, "tap", FIGURE_FLOW_TOGETHER)->low, wanted, 1e-10);
    assert_near(compiled_figure(&c, "delivery", FIGURE_VELOCITY)->low, pipe_speed_m_per_s(wanted, 0.010),
                1e-6);
    assert_near(compiled_figure(&c, "pump", FIGURE_HEAD)->low,
                0.6 + hose_loss_m(&hose, wanted, liquid_viscosity_m2_per_s(LIQUID_FRESH_15_C)), 1e-6);
    hose = (Hose){.bore_m = 0.010, .length_m = 1.5, .roughness_m = 1e-5, .minor_k = 0.5}; /* where it leaves the tank */
    assert_near(compiled_figure(&c, "pump", FIGURE_SUCTION_LIFT)->low,
                0.6 + hose_loss_m(&hose, wanted, liquid_viscosity_m2_per_s(LIQUID_FRESH_15_C)), 1e-6);
    compile_free(&c);
}

static Interval head_of(const char *pump_says, const char *delivery)
{
    char spec[4096];
    Compiled c;
    snprintf(spec, sizeof spec, BOAT DRAIN "pump pump { from fresh; %s }\n" TAP("tap", "flow 5 l/min")
             HOSE("suction", "fresh", "pump", "bore 10 mm; run 1.5 m; rise 0.6 m; bends 0")
             "hose delivery { from pump; to tap; %s }\n", pump_says, delivery);
    compile_text(&c, spec);
    const Figure *head = compiled_figure(&c, "pump", FIGURE_HEAD);
    Interval found = {head->low, head->high};
    compile_free(&c);
    return found;
}

/* The weakest pump on the widest hose has the least head, the strongest on the longest the most: no wider than these two. */
static void the_head_of_a_range_is_as_wide_as_its_ends(void **state)
{
    (void)state;
    Interval all = head_of("flow 10..13 l/min; shut-off 28..31 m", "bore 10 mm; run 3..6 m; bends 0");
    Interval least = head_of("flow 10 l/min; shut-off 28 m", "bore 10 mm; run 3 m; bends 0");
    Interval most = head_of("flow 13 l/min; shut-off 31 m", "bore 10 mm; run 6 m; bends 0");
    assert_near(all.low, least.low, 1e-9);
    assert_near(all.high, most.high, 1e-9);
    assert_true(all.low > 1.0 && all.low < all.high);
}

static void without_a_shut_off_the_stopping_pressure_stands_for_it(void **state)
{
    (void)state;
    Compiled with, without;
    compile_text(&with, ONE_TAP("flow 13 l/min; shut-off 2 bar", "bore 10 mm; run 4.5 m"));
    compile_text(&without, ONE_TAP("flow 13 l/min; pressure 2 bar", "bore 10 mm; run 4.5 m"));
    assert_near(compiled_figure(&with, "tap", FIGURE_FLOW)->low,
                compiled_figure(&without, "tap", FIGURE_FLOW)->low, 1e-15);
    compile_free(&with);
    compile_free(&without);
    compile_text(&with, ONE_TAP("flow 13 l/min", "bore 10 mm; run 4.5 m"));
    assert_int_equal(compiled_figure(&with, "tap", FIGURE_FLOW)->state, STATE_MISSING);
    compile_free(&with);
}

#define TWO_TAPS(WISHES)                                                                          \
    BOAT DRAIN PUMP("flow 13 l/min; shut-off 3 bar") WISHES                                       \
        "item tee { price 5.00 EUR }\n" HOSE("suction", "fresh", "pump", "bore 13 mm; run 1.5 m") \
            HOSE("main", "pump", "tee", "bore 13 mm; run 2 m")                                    \
                HOSE("left", "tee", "one", "bore 10 mm; run 4 m")                                 \
                    HOSE("right", "tee", "other", "bore 8 mm; run 6 m")

/*
 * Parallel branches (Cengel and Cimbala, and Munson et al., chapter 8): one head at the T, and what comes in goes out. Both
 * are reckoned here with the flows that were found.
 */
static void with_everything_open_the_branches_of_a_joint_have_one_head(void **state)
{
    (void)state;
    Compiled c;
    double viscosity = liquid_viscosity_m2_per_s(LIQUID_FRESH_15_C);
    double bends = 2.0 * minor_k(MINOR_ELBOW_90), tap = bends + minor_k(MINOR_TAP);
    const Hose left = {0.010, 4.0, 1e-5, tap}, right = {0.008, 6.0, 1e-5, tap};
    const Hose suction = {0.013, 1.5, 1e-5, bends + minor_k(MINOR_ENTRANCE)}, main_hose = {0.013, 2.0, 1e-5, bends};
    compile_text(&c, TWO_TAPS(TAP("one", "flow 6 l/min") TAP("other", "flow 3 l/min")));
    double one = compiled_figure(&c, "one", FIGURE_FLOW_TOGETHER)->low;
    double other = compiled_figure(&c, "other", FIGURE_FLOW_TOGETHER)->low;
    double all = compiled_figure(&c, "pump", FIGURE_FLOW)->low;
    double head = hose_loss_m(&left, one, viscosity);
    double shut_off = head_of_pressure_m(3e5, liquid_density_kg_per_m3(LIQUID_FRESH_15_C));
    assert_near(one + other, all, 1e-12);
    assert_near(hose_loss_m(&right, other, viscosity), head, 1e-6);
    assert_near(shut_off * (1.0 - all / (13.0 * lpm)),
                head + hose_loss_m(&suction, all, viscosity) + hose_loss_m(&main_hose, all, viscosity), 1e-6);
    assert_true(one < compiled_figure(&c, "one", FIGURE_FLOW)->low);
    compile_free(&c);
}

/* The worse of both ways counts: the hot one is longer. */
static void a_tap_with_hot_water_is_judged_by_its_worse_way(void **state)
{
    (void)state;
    Compiled cold, both;
#define COLD                                                                             \
    BOAT DRAIN PUMP("flow 13 l/min; shut-off 3 bar") TAP("tap", "flow 5 l/min; hot yes") \
        HOSE("suction", "fresh", "pump", "bore 13 mm; run 1.5 m")                        \
            HOSE("delivery", "pump", "tap", "bore 13 mm; run 4 m")
    compile_text(&cold, COLD);
    compile_text(&both, COLD "water-heater boiler { capacity 30 l }\n" HOSE("feed", "pump", "boiler",
                                                                            "bore 10 mm; run 3 m")
                            HOSE("hot", "boiler", "tap", "bore 10 mm; run 9 m"));
    const Figure *flow = compiled_figure(&both, "tap", FIGURE_FLOW);
    assert_true(flow->low < compiled_figure(&cold, "tap", FIGURE_FLOW)->low);
    assert_string_equal(flow->remark, "by its hot way, the worse");
    compile_free(&cold);
    compile_free(&both);
}

static void what_a_hose_leads_on_to_is_not_passed_through(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT DRAIN PUMP("flow 13 l/min; shut-off 3 bar") TAP("one", "flow 5 l/min")
                         TAP("other", "") HOSE("suction", "fresh", "pump", "bore 13 mm; run 1 m")
                             HOSE("a", "pump", "one", "bore 13 mm; run 1 m")
                                 HOSE("b", "one", "drain", "bore 25 mm; run 1 m")
                                     HOSE("c", "one", "other", "bore 25 mm; run 1 m"));
    assert_non_null(compiled_figure(&c, "one", FIGURE_FLOW));
    assert_null(compiled_figure(&c, "other", FIGURE_FLOW)); /* a drain hose is no feed */
    compile_free(&c);
}

/* Boyle: an accumulator of 8 l, 1.4 to 2.8 bar, pre-charged 2 psi below: worst at half of what the pump moves. */
static void starts_follow_from_boyle(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c,
                 ONE_TAP("flow 12 l/min; shut-off 4.2 bar; pressure 2.8 bar; cut-in 1.4 bar; accumulator 8 l",
                         "bore 13 mm; run 4.5 m"));
    double p1 = (1.4e5 - 13789.5 + 101325.0), p2 = 1.4e5 + 101325.0, p3 = 2.8e5 + 101325.0;
    double drawn = 8e-3 * (p1 / p2 - p1 / p3), moved = 12.0 * lpm * 0.5;
    assert_near(compiled_figure(&c, "pump", FIGURE_STARTS)->low, 3600.0 * moved / (4.0 * drawn), 1e-9);
    compile_free(&c);
    compile_text(&c, ONE_TAP("flow 12 l/min; shut-off 4.2 bar; pressure 2.8 bar; cut-in 1.4 bar",
                             "bore 13 mm; run 1 m"));
    assert_true(isinf(compiled_figure(&c, "pump", FIGURE_STARTS)->low));
    assert_int_equal(compiled_finding(&c, "pump-cycling")->severity, SEVERITY_ADVICE);
    compile_free(&c);
}

/* Every boat inside the ranges has its flows inside the figures. */
static void flows_over_ranges_hold_every_flow_inside(void **state)
{
    (void)state;
    static const struct {
        const char *thing;
        FigureId id;
    } told[] = {{"one", FIGURE_FLOW},          {"other", FIGURE_FLOW},
                {"one", FIGURE_FLOW_TOGETHER}, {"other", FIGURE_FLOW_TOGETHER},
                {"pump", FIGURE_FLOW},         {"pump", FIGURE_SUCTION_LIFT},
                {"pump", FIGURE_HEAD},         {"main", FIGURE_VELOCITY},
                {"left", FIGURE_VELOCITY},     {"one", FIGURE_PRESSURE_LOSS},
                {"pump", FIGURE_STARTS}};
    static const char *const frame = BOAT DRAIN
        "pump pump { from fresh; portable yes; flow %s l/min; shut-off %s bar; pressure 2.8 bar; cut-in %s "
        "bar; "
        "accumulator %s l }\n"
        "fixture one { drains-to drain; flow %s l/min }\nfixture other { drains-to drain; flow %s l/min }\n"
        "item tee { price 5.00 EUR }\n"
        "hose suction { from fresh; to pump; bore 13 mm; run 1.5 m; rise %s m }\n"
        "hose main { from pump; to tee; bore %s mm; run 2 m }\nhose left { from tee; to one; bore 10 mm; run "
        "%s m }\n"
        "hose right { from tee; to other; bore 8 mm; run 6 m }\n";
    static const double from[] = {9, 3, 1.0, 2, 3, 2, 0.1, 9, 1}, to[] = {14, 3.6, 1.6, 6, 7, 6, 0.9, 14, 9};
    enum { SLOTS = 9 };
    char text[SLOTS][40], spec[1600];
    uint64_t chance = 29;
    Compiled whole, one;
#define FILL()                                                                                        \
    snprintf(spec, sizeof spec, frame, text[0], text[1], text[2], text[3], text[4], text[5], text[6], \
             text[7], text[8])
    for (int i = 0; i < SLOTS; i++) {
        snprintf(text[i], sizeof text[i], "%g..%g", from[i], to[i]);
    }
    FILL();
    compile_text(&whole, spec);
    assert_null(whole.spec->messages.first);
    for (int turn = 0; turn < 80; turn++) {
        for (int i = 0; i < SLOTS; i++) { /* now and then an end of the range */
            int part =
                random_below(&chance, 4) == 0 ? 1000 * random_below(&chance, 2) : random_below(&chance, 1001);
            snprintf(text[i], sizeof text[i], "%.6g", from[i] + (to[i] - from[i]) * part / 1000.0);
        }
        FILL();
        compile_text(&one, spec);
        for (size_t f = 0; f < sizeof told / sizeof told[0]; f++) {
            const Figure *wide = compiled_figure(&whole, told[f].thing, told[f].id);
            const Figure *inside = compiled_figure(&one, told[f].thing, told[f].id);
            if (!(inside->low >= wide->low * (1.0 - 1e-9) && inside->high <= wide->high * (1.0 + 1e-9))) {
                fail_msg("%s of %s: %g..%g is not in %g..%g", figure_rows[told[f].id].name, told[f].thing,
                         inside->low, inside->high, wide->low, wide->high);
            }
        }
        compile_free(&one);
    }
    compile_free(&whole);
}

/* Two pumps of one name move what one of twice the free flow does; two taps of one name, what one of twice the wish. */
static void what_is_counted_twice_flows_twice(void **state)
{
    (void)state;
    Compiled two, one;
    compile_text(&two, ONE_TAP("flow 7 l/min; count 2; shut-off 2 bar", "bore 10 mm; run 4.5 m"));
    compile_text(&one, ONE_TAP("flow 14 l/min; shut-off 2 bar", "bore 10 mm; run 4.5 m"));
    assert_near(compiled_figure(&two, "tap", FIGURE_FLOW)->low, compiled_figure(&one, "tap", FIGURE_FLOW)->low, 1e-15);
    assert_near(compiled_figure(&two, "pump", FIGURE_HEAD)->low, compiled_figure(&one, "pump", FIGURE_HEAD)->low, 1e-9);
    compile_free(&two);
    compile_free(&one);
    /* two taps side by side take more than one, and less than twice as much */
    compile_text(&two, TWO_TAPS(TAP("one", "flow 4 l/min") TAP("other", "flow 2 l/min; count 2")));
    compile_text(&one, TWO_TAPS(TAP("one", "flow 4 l/min") TAP("other", "flow 2 l/min")));
    double each = compiled_figure(&two, "other", FIGURE_FLOW_TOGETHER)->low;
    double alone = compiled_figure(&one, "other", FIGURE_FLOW_TOGETHER)->low;
    assert_true(each < alone && 2.0 * each > alone);
    assert_near(compiled_figure(&two, "one", FIGURE_FLOW_TOGETHER)->low + 2.0 * each, compiled_figure(&two, "pump", FIGURE_FLOW)->low,
                1e-12);
    compile_free(&two);
    compile_free(&one);
}

/* How often a pump starts hangs on its own line and vessel, and on no hose. */
static void starts_are_known_without_hoses(void **state)
{
    (void)state;
    Compiled hoses, none;
    compile_text(&hoses, ONE_TAP("flow 13 l/min; shut-off 4 bar; pressure 2.8 bar; cut-in 1.4 bar; accumulator 2 l",
                                 "bore 10 mm; run 4.5 m"));
    compile_text(&none, BOAT DRAIN PUMP("to tap; flow 13 l/min; shut-off 4 bar; pressure 2.8 bar; cut-in 1.4 bar; "
                                        "accumulator 2 l") TAP("tap", "flow 5 l/min"));
    assert_near(compiled_figure(&none, "pump", FIGURE_STARTS)->low, compiled_figure(&hoses, "pump", FIGURE_STARTS)->low,
                1e-9);
    assert_null(compiled_figure(&none, "pump", FIGURE_FLOW));
    compile_free(&hoses);
    compile_free(&none);
}

/* ---- unplumbed ---- */

static void a_tap_that_nothing_leads_to_is_found(void **state)
{
    (void)state;
    expect_verdict(ONE_TAP("flow 13 l/min; shut-off 2 bar", "bore 10 mm; run 4.5 m"), "unplumbed", NOTHING,
                   NULL);
    expect_verdict(ONE_TAP("flow 13 l/min; shut-off 2 bar", "bore 10 mm; run 4.5 m") TAP("shower", ""),
                   "unplumbed", BROKEN_AT_ONE, "shower");
    expect_verdict(
        ONE_TAP("flow 13 l/min; shut-off 2 bar",
                "bore 10 mm; run 4.5 m") "pump other { from fresh; portable yes }\n" TAP("shower", ""),
        "unplumbed", OPEN_AT_ONE, "shower");
}

static void a_sink_and_a_holding_tank_lead_somewhere(void **state)
{
    (void)state;
    expect_verdict(BOAT PUMP("to tap") "fixture tap { flow 5 l/min }\n", "unplumbed", OPEN_AT_ONE, "tap");
    expect_verdict(BOAT "tank black { holds black; capacity 60 l }\n", "unplumbed", OPEN_AT_ONE, "black");
    expect_verdict(BOAT "tank black { holds black; capacity 60 l; pump-out 38 mm }\n", "unplumbed", NOTHING,
                   NULL);
    expect_verdict(BOAT PUMP("to boiler") DRAIN
                   "water-heater boiler { capacity 30 l }\n" TAP("tap", "cold no; hot yes"),
                   "unplumbed", NOTHING, NULL);
}

static void a_sink_does_not_drain_into_the_drinking_water(void **state)
{
    (void)state;
    expect_verdict(BOAT PUMP("to tap") "fixture tap { drains-to fresh }\n", "wrong-liquid", BROKEN_AT_ONE, "tap");
    expect_verdict(BOAT PUMP("to tap") "fixture tap { drains-to waste }\ntank waste { holds grey; capacity 40 l; "
                                       "pump-out 38 mm }\n",
                   "unplumbed", NOTHING, NULL);
    expect_verdict(BOAT PUMP("to tap") "fixture tap { drains-to waste }\ntank waste { holds grey; capacity 40 l }\n",
                   "unplumbed", OPEN_AT_ONE, "waste");
}

/* A tank of grey water that a pump empties counts in no day, and is joined all the same. */
static void a_sump_that_is_pumped_out_is_joined(void **state)
{
    (void)state;
    expect_verdict(BOAT DRAIN PUMP("to tap") "fixture tap { drains-to sump }\ntank sump { holds grey; capacity 8 l }\n"
                                             "pump away { from sump; to drain; portable yes }\n",
                   "unplumbed", NOTHING, NULL);
}

#define BOWL                                                                                         \
    BOAT DRAIN "tank black { holds black; capacity 60 l; pump-out 38 mm }\n"                         \
               "pump pump { from fresh; to basin; portable yes }\nfixture basin { drains-to drain }\n" \
               "toilet bowl { worked-by hand; flushes-with sea; to black }\n"

static void a_bowl_gets_its_flushing_water(void **state)
{
    (void)state;
    expect_verdict(BOWL, "unplumbed", NOTHING, NULL); /* no hoses are stated for it */
    expect_verdict(BOWL HOSE("waste", "bowl", "black", "bore 38 mm; run 2 m"), "unplumbed", BROKEN_AT_ONE, "bowl");
    expect_verdict(BOWL HOSE("waste", "bowl", "black", "bore 38 mm; run 2 m") HOSE("sea", "drain", "bowl", "bore 19 mm; run 2 m"),
                   "unplumbed", NOTHING, NULL);
}

/* Of two taps that are to have hot water the one that no hose from the heater comes to is found. */
static void a_hot_tap_hangs_on_a_heater(void **state)
{
    (void)state;
#define HOT                                                                                             \
    BOAT DRAIN PUMP("to boiler, galley, basin") "water-heater boiler { capacity 30 l }\n"               \
        TAP("galley", "hot yes") TAP("basin", "hot yes") HOSE("one", "boiler", "galley", "bore 13 mm; run 2 m")
    expect_verdict(HOT, "unplumbed", BROKEN_AT_ONE, "basin");
    expect_verdict(HOT HOSE("two", "boiler", "basin", "bore 13 mm; run 2 m"), "unplumbed", NOTHING, NULL);
}

static void a_mistake_in_a_hose_makes_it_wait(void **state)
{
    (void)state;
    expect_verdict(BOAT DRAIN PUMP("") TAP("tap", "") HOSE("lost", "pump", "nowhere", "bore 10 mm; run 2 m"),
                   "unplumbed", WAITING, NULL);
}

/*
 * What a hand or a foot gives is nobody's curve: nothing is computed of such a pump or its tap, and nothing asked; it is
 * still held to the height that it says it draws, 0.6 m here.
 */
static void a_pump_that_is_worked_by_hand_is_asked_for_no_curve(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT DRAIN "pump pump { from fresh; hand yes }\n" TAP("tap", "flow 5 l/min")
                         HOSE("suction", "fresh", "pump", "bore 10 mm; run 1.5 m; rise 0.6 m")
                             HOSE("delivery", "pump", "tap", "bore 10 mm; run 2 m"));
    assert_null(compiled_finding(&c, "unmeasured"));
    assert_null(compiled_finding(&c, "pump-starved"));
    assert_null(compiled_finding(&c, "unpowered"));
    assert_null(compiled_figure(&c, "tap", FIGURE_FLOW));
    compile_free(&c);
    expect_verdict(BOAT DRAIN "pump pump { from fresh; hand yes; self-priming 0.3 m }\n"
                       HOSE("suction", "fresh", "pump", "bore 10 mm; run 1.5 m; rise 0.6 m")
                           HOSE("delivery", "pump", "drain", "bore 10 mm; run 2 m"),
                   "pump-starved", BROKEN_AT_ONE, "pump");
    compile_text(&c, ONE_TAP("hand yes; flow 13 l/min; shut-off 31 m", "bore 10 mm; run 4.5 m; bends 0"));
    assert_non_null(compiled_figure(&c, "tap", FIGURE_FLOW)); /* who states a curve has it used */
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_hoses_lose_what_one_as_long_does),
        cmocka_unit_test(the_head_of_a_range_is_as_wide_as_its_ends),
        cmocka_unit_test(without_a_shut_off_the_stopping_pressure_stands_for_it),
        cmocka_unit_test(with_everything_open_the_branches_of_a_joint_have_one_head),
        cmocka_unit_test(a_tap_with_hot_water_is_judged_by_its_worse_way),
        cmocka_unit_test(what_a_hose_leads_on_to_is_not_passed_through),
        cmocka_unit_test(what_is_counted_twice_flows_twice),
        cmocka_unit_test(starts_are_known_without_hoses),
        cmocka_unit_test(starts_follow_from_boyle),
        cmocka_unit_test(flows_over_ranges_hold_every_flow_inside),
        cmocka_unit_test(a_tap_that_nothing_leads_to_is_found),
        cmocka_unit_test(a_sink_and_a_holding_tank_lead_somewhere),
        cmocka_unit_test(a_sink_does_not_drain_into_the_drinking_water),
        cmocka_unit_test(a_sump_that_is_pumped_out_is_joined),
        cmocka_unit_test(a_bowl_gets_its_flushing_water),
        cmocka_unit_test(a_hot_tap_hangs_on_a_heater),
        cmocka_unit_test(a_mistake_in_a_hose_makes_it_wait),
        cmocka_unit_test(a_pump_that_is_worked_by_hand_is_asked_for_no_curve),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
