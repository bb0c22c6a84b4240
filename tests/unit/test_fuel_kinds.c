/*
 * Petrol and diesel aboard one boat: which tank holds which, who draws on it, what lasts how long, and crossed lines.
 * Expected numbers are worked by hand beside the test: 90 % of a tank is usable, a fifth is kept on a range.
 */
#include "unit/verdict.h"

#include <stdio.h>

#define LITRE 0.001
#define DAY 86400.0
#define BOAT                                                                                              \
    "edition 1\nboat b { length 7.5 m; beam 2.5 m; displacement 2500 kg; waterline 6.6 m; hull planing; " \
    "sails no; "                                                                                          \
    "crew 3; currency EUR; basis iso }\nday quiet { }\nday trip { engine 2 h at 5000 rpm }\n"
#define OUTBOARD                                                                                             \
    "engine outboard { rated 80 kW at 5000 rpm; fuel petrol; mounted outboard; consumption 5000 rpm 30 l/h " \
    "}\n"
#define STOVE(SAYS) "heater stove { output 2 kW; fuel-rate 0.25 l/h; use quiet 24 h; " SAYS " }\n"
#define TANKS(FIRST, SECOND)                                                                                 \
    "tank one { holds fuel; capacity 100 l; " FIRST " }\ntank two { holds fuel; capacity 40 l; " SECOND " }" \
                                                                                                        "\n"
#define LINES \
    "fuel-line petrol-line { from one; to outboard }\nfuel-line diesel-line { from two; to stove }\n"

static void expect(const Compiled *c, const char *subject, FigureId id, const char *at, double value)
{
    const Figure *figure =
        at != NULL ? compiled_figure_at(c, subject, id, at) : compiled_figure(c, subject, id);
    assert_non_null(figure);
    assert_int_equal(figure->state, STATE_KNOWN);
    assert_near(figure->low, value, 1e-9 * value);
    assert_near(figure->high, value, 1e-9 * value);
}

static void make(Compiled *c, const char *text)
{
    compile_text(c, text);
    if (c->spec->messages.first != NULL) {
        fail_msg("the spec has a mistake: %s", c->spec->messages.first->text);
    }
}

/* 745 and 840 kg/m3, from memory: each tank weighs what its own fuel does, said or told by its line. */
static void each_tank_weighs_its_own_fuel(void **state)
{
    static const char *const specs[] = {BOAT OUTBOARD STOVE("") TANKS("", "") LINES,
                                        BOAT OUTBOARD TANKS("fuel petrol", "fuel diesel")};
    Compiled c;
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        make(&c, specs[i]);
        expect(&c, "one", FIGURE_FULL_MASS, NULL, 74.5);
        expect(&c, "two", FIGURE_FULL_MASS, NULL, 33.6);
        compile_free(&c);
    }
}

/* 0.25 l/h x 24 h = 6 l of 36 l a day: 6 days; two hours of 30 l/h of 90 l: 1.5 days. */
static void a_line_tells_from_which_tank_it_comes(void **state)
{
    Compiled c;
    (void)state;
    make(&c, BOAT OUTBOARD STOVE("") TANKS("", "") LINES);
    expect(&c, "two", FIGURE_DAILY_FLOW, "quiet", 6.0 * LITRE);
    expect(&c, "two", FIGURE_ENDURANCE, "quiet", 6.0 * DAY);
    expect(&c, "one", FIGURE_DAILY_FLOW, "trip", 60.0 * LITRE);
    expect(&c, "one", FIGURE_ENDURANCE, "trip", 1.5 * DAY);
    expect(&c, "b", FIGURE_ENDURANCE, "quiet", 6.0 * DAY);
    expect(&c, "b", FIGURE_ENDURANCE, "trip", 1.5 * DAY);
    compile_free(&c);
}

static void without_lines_each_draws_on_all_tanks_of_its_fuel(void **state)
{
    Compiled c;
    (void)state;
    make(&c, BOAT OUTBOARD STOVE("")
                 TANKS("fuel petrol",
                       "fuel diesel") "tank can { holds fuel; fuel petrol; capacity 20 l; portable yes }\n");
    expect(&c, "two", FIGURE_ENDURANCE, "quiet", 6.0 * DAY);
    expect(&c, "one", FIGURE_ENDURANCE, "trip", 108.0 / 60.0 * DAY);
    expect(&c, "can", FIGURE_ENDURANCE, "trip", 108.0 / 60.0 * DAY);
    compile_free(&c);
}

/* A can that no line leads from is no part of what a line brings; nor is a tank whose line was taken away. */
static void a_tank_without_a_line_does_not_count_where_there_are_lines(void **state)
{
    Compiled c;
    (void)state;
    make(&c, BOAT OUTBOARD STOVE("") TANKS("", "") LINES
         "tank can { holds fuel; capacity 20 l; portable yes }\n");
    expect(&c, "one", FIGURE_ENDURANCE, "trip", 1.5 * DAY);
    assert_null(compiled_figure_at(&c, "can", FIGURE_ENDURANCE, "trip"));
    expect(&c, "can", FIGURE_FULL_MASS, NULL, 14.9);
    compile_free(&c);
}

/* The engine draws on both, the heater on the smaller alone: that is empty after 6 days whatever the other holds. */
static void what_can_draw_on_one_tank_alone_ends_with_it(void **state)
{
    Compiled c;
    (void)state;
    make(&c, BOAT "engine main { rated 20 kW at 5000 rpm; fuel diesel; consumption 5000 rpm 3 l/h }\n" STOVE(
                 "") TANKS("", "") "fuel-line first-line { from one; to main }\nfuel-line second-line { from "
                                   "two; to main }\nfuel-line diesel-line { from two; to stove }\n");
    expect(&c, "two", FIGURE_ENDURANCE, "quiet", 6.0 * DAY);
    expect(&c, "one", FIGURE_ENDURANCE, "trip", 126.0 / 6.0 * DAY);
    expect(&c, "b", FIGURE_ENDURANCE, "quiet", 6.0 * DAY);
    compile_free(&c);
}

/*
 * Engine on both, heater on `two` alone: 36 l of `two` last 6 days for the heater, and of both together 126 l for 12 l a day
 * 10.5 days. What is told of both names both, and offers no capacity of one that would do for the other.
 */
static void what_is_told_of_tanks_together_names_all_of_them(void **state)
{
    (void)state;
    Compiled c;
    int both = 0, alone = 0;
    make(&c, BOAT "engine main { rated 20 kW at 5000 rpm; fuel diesel; consumption 5000 rpm 3 l/h }\n"
                  "heater stove { output 2 kW; fuel-rate 0.25 l/h; use trip 24 h }\ngoal far { endure 20 d on trip }\n"
                  "cruise away { days 20 trip }\n" TANKS("", "")
                  "fuel-line first-line { from one; to main }\nfuel-line second-line { from two; to main }\n"
                  "fuel-line diesel-line { from two; to stove }\n");
    expect(&c, "one", FIGURE_ENDURANCE, "trip", 10.5 * DAY);
    expect(&c, "two", FIGURE_ENDURANCE, "trip", 6.0 * DAY);
    assert_non_null(strstr(compiled_figure_at(&c, "two", FIGURE_DAILY_FLOW, "trip")->remark, "`main`"));
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        bool of_both = strstr(f->message, "the fuel in `one` and `two` ") != NULL;
        bool of_one = strstr(f->message, "the fuel in `two` ") != NULL;
        if (strcmp(f->rule->name, "fuel-short") == 0 || strcmp(f->rule->name, "cruise-short") == 0) {
            assert_true(of_both != of_one);
            both += of_both;
            alone += of_one;
        }
        if (of_one && strcmp(f->rule->name, "fuel-short") == 0) {
            assert_non_null(strstr(f->place_note, "without what `main` takes"));
        }
        if (of_both && strcmp(f->rule->name, "fuel-short") == 0) {
            assert_non_null(strstr(f->message, "together"));
            assert_null(f->remedies);
        }
    }
    assert_int_equal(both, 2);
    assert_int_equal(alone, 2);
    compile_free(&c);
}

/*
 * Two engines on a tank each and on one between them, 36 l each: each alone would find 72 l for its 6 l a day, both together
 * have 108 l for 12 l: 9 days.
 */
static void tanks_that_overlap_are_empty_together(void **state)
{
    Compiled c;
    (void)state;
    make(&c, BOAT "engine port { rated 20 kW at 5000 rpm; fuel diesel; consumption 5000 rpm 3 l/h }\n"
                  "engine starboard { rated 20 kW at 5000 rpm; fuel diesel; consumption 5000 rpm 3 l/h }\n"
                  "tank left { holds fuel; capacity 40 l }\ntank between { holds fuel; capacity 40 l }\n"
                  "tank right { holds fuel; capacity 40 l }\nfuel-line first-line { from left; to port }\n"
                  "fuel-line second-line { from between; to port }\nfuel-line third-line { from between; to "
                  "starboard }\n"
                  "fuel-line diesel-line { from right; to starboard }\n");
    expect(&c, "b", FIGURE_ENDURANCE, "trip", 9.0 * DAY);
    compile_free(&c);
}

/* A day tank holds what a pump brings it: both count. */
static void a_pump_between_two_tanks_is_a_line(void **state)
{
    Compiled c;
    (void)state;
    make(&c, BOAT OUTBOARD TANKS("", "") "fuel-line petrol-line { from two; to outboard }\npump lift { from "
                                         "one; to two; portable yes }\n");
    expect(&c, "two", FIGURE_ENDURANCE, "trip", 126.0 / 60.0 * DAY);
    compile_free(&c);
}

/* The range goes by the tank that feeds the engine: 90 l x 0.8 at 30 l/h; the power at that speed is above rated, the rate kept. */
static void the_range_counts_the_engines_own_tank(void **state)
{
    Compiled both, alone;
    (void)state;
    make(&both, BOAT OUTBOARD STOVE("") TANKS("", "") LINES "goal far { range 60 nmi at 18 kn }\n");
    make(&alone,
         BOAT OUTBOARD "tank one { holds fuel; capacity 100 l }\ngoal far { range 60 nmi at 18 kn }\n");
    const Figure *range = compiled_figure_at(&alone, "b", FIGURE_RANGE, "far");
    assert_non_null(range);
    expect(&both, "b", FIGURE_RANGE, "far", range->low);
    assert_null(compiled_figure_at(&both, "outboard", FIGURE_RANGE, "far")->remark);
    compile_free(&both);
    make(&both, BOAT OUTBOARD STOVE("") TANKS("", "") LINES
         "goal far { range 60 nmi at 18 kn }\n"
         "tank can { holds fuel; capacity 20 l; portable yes }\n");
    expect(&both, "b", FIGURE_RANGE, "far", range->low);
    assert_string_equal(compiled_figure_at(&both, "outboard", FIGURE_RANGE, "far")->remark,
                        "not counted, for no line leads from it: `can`");
    compile_free(&both);
    compile_free(&alone);
}

/*
 * A generator of 1.5 l/h that runs 2 h on a day of 60 nmi takes 3 l for each 60 nmi, whatever the engine burns: of 90 % of 200 l
 * less a fifth, 144 l, that is 3/144 of a filling for each 60 nmi. A goal says nothing of generators, and the figure says that.
 */
static void a_range_counts_the_generator_of_its_day(void **state)
{
#define GENSET(SAYS) "generator genset { rated 4 kW at 230 V; fuel diesel; " SAYS " }\n"
#define CRUISER                                                                                                            \
    "edition 1\nboat b { length 10 m; waterline 9 m; beam 3.3 m; displacement 6000 kg; sails no; crew 2; currency EUR; basis iso }\n" \
    "engine main { rated 28 kW at 3000 rpm; fuel diesel }\ntank diesel { holds fuel; capacity 200 l }\n"                      \
    "day plain { distance 60 nmi at 6 kn }\nday charged { distance 60 nmi at 6 kn; generator 0.5 h; generator 10:00..11:30 }\n" \
    "goal far { range 200 nmi at 6 kn }\n"
    Compiled c;
    (void)state;
    make(&c, CRUISER GENSET("fuel-rate 1.5 l/h"));
    double without = compiled_figure_at(&c, "main", FIGURE_RANGE, "plain")->low;
    double with = compiled_figure_at(&c, "main", FIGURE_RANGE, "charged")->low;
    assert_near(1.0 / with - 1.0 / without, 3.0 / 144.0 / (60.0 * 1852.0), 1e-12);
    assert_null(compiled_figure_at(&c, "main", FIGURE_RANGE, "plain")->remark);
    assert_null(compiled_figure_at(&c, "main", FIGURE_RANGE, "charged")->remark);
    expect(&c, "main", FIGURE_RANGE, "far", without);
    assert_string_equal(compiled_figure_at(&c, "main", FIGURE_RANGE, "far")->remark,
                        "not counted is what is burned meanwhile by `genset`");
    compile_free(&c);
    make(&c, CRUISER GENSET(""));
    expect(&c, "main", FIGURE_RANGE, "charged", without);
    assert_non_null(compiled_figure_at(&c, "main", FIGURE_RANGE, "charged")->remark);
    compile_free(&c);
}

/* 8 days of 6 l over 90 %: 53.3 l, of which the next made is 60 l; nothing is asked of the petrol tank, which is stated. */
static void a_tank_left_open_is_sized_for_its_own_fuel(void **state)
{
    Compiled c;
    (void)state;
    make(&c,
         BOAT OUTBOARD STOVE(
             "") "goal stay { endure 8 d on quiet }\ntank one { holds fuel; capacity 100 l; fuel petrol }\n"
                 "tank two { holds fuel; capacity ?; fuel diesel }\n");
    expect(&c, "two", FIGURE_VOLUME, NULL, 60.0 * LITRE);
    compile_free(&c);
}

static void crossed_lines_are_a_fault(void **state)
{
    (void)state;
#define CROSSED \
    "fuel-line petrol-line { from two; to outboard }\nfuel-line diesel-line { from one; to stove }\n"
    expect_verdict(BOAT OUTBOARD STOVE("fuel diesel") TANKS("fuel petrol", "fuel diesel") LINES, "wrong-fuel",
                   NOTHING, NULL);
    expect_verdict(BOAT OUTBOARD STOVE("fuel petrol") TANKS("fuel petrol", "fuel diesel") CROSSED,
                   "wrong-fuel", BROKEN_AT_ONE, "outboard");
    expect_verdict(BOAT STOVE("fuel diesel")
                       TANKS("fuel petrol", "fuel diesel") "fuel-line diesel-line { from one; to stove }\n",
                   "wrong-fuel", BROKEN_AT_ONE, "stove");
    /* Diesel is only taken for granted there. */
    expect_verdict(BOAT STOVE("")
                       TANKS("fuel petrol", "fuel diesel") "fuel-line diesel-line { from one; to stove }\n",
                   "wrong-fuel", OPEN_AT_ONE, "stove");
    /* One tank for a petrol engine and a diesel heater: what the engine burns is in it. */
    expect_verdict(BOAT OUTBOARD STOVE("fuel diesel")
                       TANKS("", "") "fuel-line petrol-line { from one; to outboard }\n"
                                     "fuel-line diesel-line { from one; to stove }\n",
                   "wrong-fuel", BROKEN_AT_ONE, "stove");
    expect_verdict(BOAT STOVE("fuel diesel")
                       TANKS("fuel petrol", "") "fuel-line diesel-line { from one; to stove; return yes }\n",
                   "wrong-fuel", NOTHING, NULL);
}

static void a_tank_of_which_nobody_knows_what_is_in_it_is_open(void **state)
{
    (void)state;
#define DIESEL "engine main { rated 20 kW at 3000 rpm; fuel diesel }\n"
    expect_verdict(BOAT OUTBOARD DIESEL "tank one { holds fuel; capacity 100 l }\n", "which-fuel",
                   OPEN_AT_ONE, "one");
    expect_verdict(BOAT OUTBOARD DIESEL TANKS("fuel petrol", "fuel diesel"), "which-fuel", NOTHING, NULL);
    expect_verdict(BOAT OUTBOARD DIESEL TANKS("", "") "fuel-line petrol-line { from one; to outboard "
                                                      "}\nfuel-line diesel-line { from two; to main }\n",
                   "which-fuel", NOTHING, NULL);
    expect_verdict(BOAT OUTBOARD STOVE("") "tank one { holds fuel; capacity 100 l }\n", "which-fuel",
                   OPEN_AT_ONE, "stove");
    expect_verdict(BOAT "tank one { holds fresh; capacity 100 l; fuel petrol }\n", "which-fuel",
                   BROKEN_AT_ONE, "one");
    Compiled c;
    make(&c, BOAT OUTBOARD DIESEL "tank one { holds fuel; capacity 100 l }\n");
    assert_int_equal(compiled_figure_at(&c, "one", FIGURE_ENDURANCE, "trip")->state, STATE_MISSING);
    compile_free(&c);
}

/* 8 l/h x 0.84 kg/l / 28 kW = 240 g/kWh; petrol at 0.745 kg/l: 20 l/h at 60 kW are 248 g/kWh. */
static void consumption_is_held_against_rated_power(void **state)
{
    Compiled c;
    (void)state;
#define MEASURED(POINTS) BOAT "engine main { rated 28 kW at 3000 rpm; fuel diesel; " POINTS " }\n"
    make(
        &c,
        MEASURED(
            "consumption 2000 rpm 3 l/h; consumption 3000 rpm 8 l/h") "engine outboard { rated 60 kW at 5000 "
                                                                      "rpm; fuel petrol; mounted outboard; "
                                                                      "consumption 5000 rpm 20 l/h }\n");
    expect(&c, "main", FIGURE_RATED_SPECIFIC, NULL, 0.240 / 3.6e6);
    expect(&c, "outboard", FIGURE_RATED_SPECIFIC, NULL, 14.9 / 60.0 / 3.6e6);
    compile_free(&c);
    expect_verdict(MEASURED("consumption 3000 rpm 8 l/h"), "consumption-odd", NOTHING, NULL);
    expect_verdict(MEASURED("consumption 3000 rpm 0.8 l/h"), "consumption-odd", BROKEN_AT_ONE, "main");
    expect_verdict(MEASURED("consumption 3000 rpm 30 l/h"), "consumption-odd", BROKEN_AT_ONE, "main");
    /* A slow point goes by the cube to rated speed: 2.37 l/h at 2000 rpm are 8 l/h at 3000. */
    expect_verdict(MEASURED("consumption 2000 rpm 2.37 l/h"), "consumption-odd", NOTHING, NULL);
}

/* 0.24 l/h x 0.84 kg/l x 42.8 MJ/kg = 8.628 MJ/h = 2.397 kW, of which 2 kW are 83 %. */
static void a_heater_gives_no_more_than_is_in_its_fuel(void **state)
{
    Compiled c;
    (void)state;
#define BURNS(RATE) BOAT "heater stove { output 2 kW; fuel diesel; fuel-rate " RATE " }\n"
    make(&c, BURNS("0.24 l/h"));
    expect(&c, "stove", FIGURE_HEAT_SHARE, NULL, 2000.0 / (0.24e-3 / 3600.0 * 840.0 * 42.8e6));
    compile_free(&c);
    expect_verdict(BURNS("0.24 l/h"), "heat-odd", NOTHING, NULL);
    expect_verdict(BURNS("0.024 l/h"), "heat-odd", BROKEN_AT_ONE, "stove");
    expect_verdict(BURNS("2.4 l/h"), "heat-odd", BROKEN_AT_ONE, "stove");
    expect_verdict(BURNS("0 l/h"), "heat-odd", NOTHING, NULL);
}

int main(void)
{
    static const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_tank_weighs_its_own_fuel),
        cmocka_unit_test(a_line_tells_from_which_tank_it_comes),
        cmocka_unit_test(without_lines_each_draws_on_all_tanks_of_its_fuel),
        cmocka_unit_test(a_tank_without_a_line_does_not_count_where_there_are_lines),
        cmocka_unit_test(what_can_draw_on_one_tank_alone_ends_with_it),
        cmocka_unit_test(what_is_told_of_tanks_together_names_all_of_them),
        cmocka_unit_test(tanks_that_overlap_are_empty_together),
        cmocka_unit_test(a_pump_between_two_tanks_is_a_line),
        cmocka_unit_test(the_range_counts_the_engines_own_tank),
        cmocka_unit_test(a_range_counts_the_generator_of_its_day),
        cmocka_unit_test(a_tank_left_open_is_sized_for_its_own_fuel),
        cmocka_unit_test(crossed_lines_are_a_fault),
        cmocka_unit_test(consumption_is_held_against_rated_power),
        cmocka_unit_test(a_heater_gives_no_more_than_is_in_its_fuel),
        cmocka_unit_test(a_tank_of_which_nobody_knows_what_is_in_it_is_open),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
