/*
 * What is computed of a value that is open holds what is computed of each of its values, at ends where a formula has none of its own:
 * a hole without bound, a weight of nothing that may be anywhere, what may be no load at all. The oracle is the same spec with the
 * value decided.
 */
#include "unit/verdict.h"

#include "physics/weight.h"

#define ISO "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso; sails no }\n"

/* Whether what one spec says of a figure is told by what the other one, in which a value is open, says: known, it lies within. */
static void expect_within(const char *open, const char *decided, const char *subject, FigureId id, const char *at)
{
    Compiled of_open, of_decided;
    compile_text(&of_open, open);
    compile_text(&of_decided, decided);
    assert_null(of_open.spec->messages.first);
    const Figure *wide = compiled_figure_at(&of_open, subject, id, at), *exact = compiled_figure_at(&of_decided, subject, id, at);
    assert_int_equal(exact->state, STATE_KNOWN);
    if (wide->state == STATE_KNOWN) {
        assert_true(wide->low <= exact->low + 1e-9 * fabs(exact->low));
        assert_true(wide->high >= exact->high - 1e-9 * fabs(exact->high));
    }
    compile_free(&of_open);
    compile_free(&of_decided);
}

#define LENT                                                                                              \
    ISO "day calm { }\n"                                                                                     \
        "bank house { chemistry lifepo4; voltage 12 V; capacity 200 Ah; role house }\n"                   \
        "bank bow { chemistry agm; voltage 12 V; capacity 100 Ah; role thruster }\n"                      \
        "converter to-bow { fed-by house; output 12 A at 14.2 V; feeds bow { run 2 m } }\n"               \
        "load pump { fed-by bow; draw 5 A; use calm 1 h; made-for %s }\n"

/* Of direct current it is one that keeps its current, and takes more at the voltage that a converter gives. */
static void what_may_be_for_mains_counts_whole_in_its_day(void **state)
{
    (void)state;
    Arena arena = check_arena();
    static const char *const volts[] = {"12 V", "80 V", "161 V"};
    for (size_t i = 0; i < sizeof volts / sizeof volts[0]; i++) {
        const char *open = text_format(&arena, LENT, "?"), *decided = text_format(&arena, LENT, volts[i]);
        expect_within(open, decided, "house", FIGURE_BALANCE, "calm");
        expect_within(open, decided, "house", FIGURE_ENDURANCE, "calm");
    }
    arena_free(&arena);
}

#define SWITCHED                                                                                                        \
    ISO "inlet shore { rated 16 A at 230 V }\ngenerator genset { rated 3 kW at %s }\n"                                 \
        "switch changeover { works-as transfer; fed-by shore, genset }\n"                                               \
        "panel ac { fed-by changeover; run 10 m; wire 2.5 mm2; protect 16 A breaker; poles 2 }\n"                       \
        "load kettle { fed-by ac; run 10 m; wire 1.5 mm2; draw 1500 W; protect 10 A breaker }\n"

/* The lower voltage takes more current: with the other source alone nobody can tell what is lost. */
static void a_source_of_open_voltage_leaves_open_what_is_lost(void **state)
{
    (void)state;
    Arena arena = check_arena();
    const char *open = text_format(&arena, SWITCHED, "?");
    static const char *const volts[] = {"110 V", "230 V", "250 V"};
    static const FigureId ids[] = {FIGURE_VOLTAGE_DROP, FIGURE_TOTAL_DROP, FIGURE_END_VOLTAGE, FIGURE_LOSS};
    for (size_t i = 0; i < 12; i++) {
        expect_within(open, text_format(&arena, SWITCHED, volts[i % 3]), i % 2 == 0 ? "kettle" : "ac", ids[i / 3], NULL);
    }
    Compiled c;
    compile_text(&c, open);
    assert_int_equal(compiled_figure(&c, "kettle", FIGURE_TOTAL_DROP)->state, STATE_MISSING);
    assert_int_equal(compiled_figure(&c, "kettle", FIGURE_CURRENT)->state, STATE_KNOWN);
    compile_free(&c);
    arena_free(&arena);
}

#define LENDS_AND_CARRIES                                                                                                   \
    ISO "day calm { engine 2 h; sun 3 h }\ncruise trip { days 3 calm; start 80 %% }\n"                                             \
        "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; role house }\n"                                        \
        "bank bow { chemistry agm; voltage 12 V; series %s; capacity 120 Ah; role thruster }\n"                            \
        "solar roof { rated 100 W; controller mppt; feeds house { run 4 m } }\n"                                           \
        "converter to-bow { fed-by house; output 25 A at 14.2 V; feeds bow { run 5 m } }\n"                                \
        "load motor { fed-by bow; draw 90 A; use calm 5 min }\n"                                                              \
        "converter down { fed-by house; output 30 A at 13.2 V; efficiency %s }\n"                                          \
        "load lamps { fed-by down; draw 6 A; use calm 5 h }\n"

/* What fills a bank of more volts takes more of the one that lends; what is behind a converter takes what it draws, by any efficiency. */
static void banks_and_converters_of_open_numbers_hold_each_of_them(void **state)
{
    (void)state;
    Arena arena = check_arena();
    static const char *const many[] = {"1", "2", "4"}, *const keeps[] = {"20 %", "64.4 %", "100 %"};
    for (size_t i = 0; i < 3; i++) {
        const char *open = text_format(&arena, LENDS_AND_CARRIES, "1..4", "90 %"), *decided = text_format(&arena, LENDS_AND_CARRIES, many[i], "90 %");
        expect_within(open, decided, "house", FIGURE_LOWEST_CHARGE, "trip");
        expect_within(open, decided, "house", FIGURE_END_CHARGE, "trip");
        open = text_format(&arena, LENDS_AND_CARRIES, "1", "?");
        expect_within(open, text_format(&arena, LENDS_AND_CARRIES, "1", keeps[i]), "house", FIGURE_RUNTIME, NULL);
    }
    arena_free(&arena);
}

#define HOT                                                                                                                     \
    ISO "space saloon { volume 14 m3; skin 21 m2; glass 2 m2 }\nday calm { temperature %s }\n"                                 \
        "cooler air { output 1700 W; serves saloon }\n"

/* A day that is no hotter than it is to be inside asks for nothing, however the sun shines; one that is a little hotter, for all of it. */
static void a_day_that_may_not_be_hot_may_ask_for_no_cooling(void **state)
{
    (void)state;
    Arena arena = check_arena();
    const char *open = text_format(&arena, HOT, "10..36 C");
    Compiled c;
    compile_text(&c, open);
    assert_near(compiled_figure_at(&c, "air", FIGURE_COOL_NEED, "calm")->low, 0.0, 1e-9);
    compile_free(&c);
    expect_within(open, text_format(&arena, HOT, "26 C"), "air", FIGURE_COOL_NEED, "calm");
    expect_within(open, text_format(&arena, HOT, "36 C"), "air", FIGURE_RUNNING_TIME, "calm");
    /* By the thumb 14 m3 ask for 2 kW where no day says more, and a hot day for more still. */
    expect_verdict(text_format(&arena, HOT, "10 C"), "cabin-cool", BROKEN_AT_ONE, "air");
    expect_verdict(text_format(&arena, HOT, "26 C"), "cabin-cool", NOTHING, "air");
    expect_verdict(text_format(&arena, HOT, "10..26 C"), "cabin-cool", OPEN_AT_ONE, "air");
    arena_free(&arena);
}

#define HOLED                                                                                                          \
    ISO "space below { floor 4 m2; bilge yes }\n"                                                                      \
        "bank house { chemistry agm; voltage 12 V; capacity 100 Ah; space below; at 4 m 0 m -0.1 m }\n"                \
        "through-hull intake { bore %s; height -0.4 m; space below }\n"                                                \
        "bilge-pump lift { space below; rated 30 l/min; fed-by house; draw 4 A; run 2 m; automatic yes }\n"

/* Through a hole of which nobody says how wide it is the water may stand there at once: not never. */
static void an_opening_of_any_bore_may_flood_at_once(void **state)
{
    (void)state;
    Arena arena = check_arena();
    static const char *const bores[] = {"38 mm", "60 mm"};
    for (size_t i = 0; i < 2; i++) {
        expect_within(text_format(&arena, HOLED, "?"), text_format(&arena, HOLED, bores[i]), "house", FIGURE_FLOODING_TIME, NULL);
        expect_within(text_format(&arena, HOLED, ">= 20 mm"), text_format(&arena, HOLED, bores[i]), "house", FIGURE_FLOODING_TIME, NULL);
    }
    Compiled c;
    compile_text(&c, text_format(&arena, HOLED, "?"));
    const Figure *time = compiled_figure(&c, "house", FIGURE_FLOODING_TIME);
    assert_int_equal(time->state, STATE_KNOWN);
    assert_near(time->low, 0.0, 1e-9);
    assert_near(time->high, INFINITY, 0.0);
    compile_free(&c);
    arena_free(&arena);
}

static void what_weighs_nothing_turns_nothing_wherever_it_is(void **state)
{
    (void)state;
    const Interval masses[] = {{100.0, 100.0}, {0.0, 0.0}, {50.0, 60.0}}, places[] = {{1.0, 1.0}, {-INFINITY, INFINITY}, {2.0, 2.0}};
    Interval mean = weighted_mean(masses, places, 3);
    assert_near(mean.low, 200.0 / 150.0, 1e-9);
    assert_near(mean.high, 220.0 / 160.0, 1e-9);
    const Interval perhaps[] = {{100.0, 100.0}, {0.0, 1.0}, {50.0, 50.0}};
    mean = weighted_mean(perhaps, places, 3);
    assert_near(mean.low, -INFINITY, 0.0);
    assert_near(mean.high, INFINITY, 0.0);
}

#define TAPPED                                                                                                              \
    ISO "tank fresh { holds fresh; capacity 150 l }\n"                                                                      \
        "pump supply { from fresh; flow 13 l/min; pressure 2 bar; shut-off 2.8 bar }\n"                                     \
        "water-heater boiler { capacity 20 l; element 700 W }\n"                                                            \
        "fixture galley { flow 6 l/min; hot yes }\nfixture basin { flow 6 l/min }\n"                                        \
        "hose suction { from fresh; to supply; bore 13 mm; run 2 m; bends %s }\n"                                           \
        "hose cold { from supply; to galley; bore 13 mm; run 3 m; rise 0.3 m }\n"                                           \
        "hose to-boiler { from supply; to boiler; bore 13 mm; run 2 m }\n"                                                  \
        "hose hot { from boiler; to galley; bore %s; run 3 m; rise 0.3 m }\n"                                               \
        "hose to-basin { from supply; to basin; bore 13 mm; run 6 m; rise 0.8 m }\n"

/* Where something is open by which way a tap gets less, both ways are reckoned with, and by either another one gets what is left. */
static void which_way_is_the_worse_may_be_open(void **state)
{
    (void)state;
    Arena arena = check_arena();
    static const struct {
        const char *open[2], *decided[2];
    } cases[] = {{{"?", "10 mm"}, {"1", "10 mm"}}, {{"1", "8..19 mm"}, {"1", "8 mm"}}, {{"1", "8..19 mm"}, {"1", "19 mm"}}, {{"?", "?"}, {"2", "12 mm"}}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const char *open = text_format(&arena, TAPPED, cases[i].open[0], cases[i].open[1]);
        const char *decided = text_format(&arena, TAPPED, cases[i].decided[0], cases[i].decided[1]);
        expect_within(open, decided, "galley", FIGURE_PRESSURE_LOSS, NULL);
        expect_within(open, decided, "galley", FIGURE_FLOW_TOGETHER, NULL);
        expect_within(open, decided, "basin", FIGURE_FLOW_TOGETHER, NULL);
        expect_within(open, decided, "supply", FIGURE_FLOW, NULL);
        expect_within(open, decided, "supply", FIGURE_HEAD, NULL);
        expect_within(open, decided, "suction", FIGURE_VELOCITY, NULL);
    }
    arena_free(&arena);
}

#define TWO_BANKS                                                                                                          \
    ISO "day calm { }\nbank house { chemistry agm; voltage 12 V; series %s; capacity 200 Ah }\n"                            \
        "bank start { chemistry agm; voltage 12 V; series %s; capacity 90 Ah; role start }\n"                              \
        "switch link { works-as emergency; fed-by house, start; run 0.5 m; wire 35 mm2 }\n"                                \
        "panel main { fed-by house; run 1 m; wire 16 mm2; protect 80 A fuse 0.1 m from source }\n"                         \
        "load lamp { fed-by main; run 2 m; wire 2.5 mm2; draw 4 A; use calm 2 h; protect 10 A breaker }\n"                 \
        "network backbone { fed-by main; run 2 m; cable light }\n"                                                         \
        "instrument plotter { network backbone; load-number 4; use calm 12 h }\n"                                           \
        "solar roof { rated 100 W; controller mppt; feeds house { run 4 m } }\n"

/* A bank of which nobody knows what it brings still brings it; what is in amperes at no known voltage is not no power. */
static void a_bank_of_open_voltage_is_not_left_out(void **state)
{
    (void)state;
    Arena arena = check_arena();
    const char *decided = text_format(&arena, TWO_BANKS, "1", "1");
    static const char *const opens[] = {"?", ">= 1", "1..2"};
    for (size_t i = 0; i < sizeof opens / sizeof opens[0]; i++) {
        const char *of_start = text_format(&arena, TWO_BANKS, "1", opens[i]), *of_house = text_format(&arena, TWO_BANKS, opens[i], "1");
        expect_within(of_start, decided, "lamp", FIGURE_FAULT_CURRENT, NULL);
        expect_within(of_start, decided, "main", FIGURE_FAULT_CURRENT, NULL);
        expect_within(of_start, decided, "lamp", FIGURE_LEAST_FAULT, NULL);
        expect_within(of_house, decided, "lamp", FIGURE_FAULT_CURRENT, NULL);
        expect_within(of_house, decided, "house", FIGURE_DAILY_USE, "calm");
        expect_within(of_house, text_format(&arena, TWO_BANKS, "2", "1"), "roof", FIGURE_OUTPUT, NULL);
    }
    arena_free(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_may_be_for_mains_counts_whole_in_its_day),
        cmocka_unit_test(a_source_of_open_voltage_leaves_open_what_is_lost),
        cmocka_unit_test(banks_and_converters_of_open_numbers_hold_each_of_them),
        cmocka_unit_test(a_day_that_may_not_be_hot_may_ask_for_no_cooling),
        cmocka_unit_test(an_opening_of_any_bore_may_flood_at_once),
        cmocka_unit_test(what_weighs_nothing_turns_nothing_wherever_it_is),
        cmocka_unit_test(which_way_is_the_worse_may_be_open),
        cmocka_unit_test(a_bank_of_open_voltage_is_not_left_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
