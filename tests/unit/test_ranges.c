/*
 * Figures and verdicts where something is undecided, each a case in which one end of a range was once taken for the whole.
 * Checked against the same spec with exact values at the ends, or against arithmetic told beside it; what a generator finds
 * is in tests/run/sound_generated.c.
 */
#include "check.h"
#include "compile.h"

#define BANK(voltage) \
    "bank house { chemistry agm; voltage " voltage "; capacity 200 Ah; resistance 4 mohm }\n"

static Interval value_at(const char *text, const char *subject, FigureId id, const char *at)
{
    Compiled c;
    compile_text(&c, text);
    if (c.spec->messages.first != NULL) {
        fail_msg("the spec has a mistake: %s", c.spec->messages.first->text);
    }
    const Figure *figure = compiled_figure_at(&c, subject, id, at);
    assert_non_null(figure);
    assert_int_equal(figure->state, STATE_KNOWN);
    Interval value = {figure->low, figure->high};
    compile_free(&c);
    return value;
}

/* The range is that of the two exact ones. */
static void expect_from_to(const char *ranges, const char *one, const char *other, const char *subject,
                           FigureId id)
{
    Interval whole = value_at(ranges, subject, id, NULL);
    Interval hull = interval_hull(value_at(one, subject, id, NULL), value_at(other, subject, id, NULL));
    assert_near(whole.low, hull.low, 1e-9 * hull.high);
    assert_near(whole.high, hull.high, 1e-9 * hull.high);
    assert_true(whole.low < whole.high);
}

static void expect_verdict(const char *text, const char *rule, Verdict verdict)
{
    Compiled c;
    compile_text(&c, text);
    const Finding *finding = compiled_finding(&c, rule);
    assert_non_null(finding);
    assert_int_equal(finding->verdict, verdict);
    compile_free(&c);
}

static void expect_none(const char *text, const char *rule)
{
    Compiled c;
    compile_text(&c, text);
    assert_null(compiled_finding(&c, rule));
    compile_free(&c);
}

#define LAMP(voltage, more)                                                              \
    EXAMPLE_BOAT BANK(voltage) "day anchored { sun 0 h; shore 0 h }\n"                   \
                               "circuit lamps { fed-by house; run 5 m; wire 10 AWG" more \
                               "; protect 20 A breaker }\n"                              \
                               "load lamp { fed-by lamps; draw 2 A; use anchored 4 h }\n"

#define WARM(air) LAMP("12 V", "; through saloon") "space saloon { temperature " air " }\n"

static void insulation_and_air_make_an_ampacity_a_range(void **state)
{
    (void)state;
    expect_from_to(LAMP("12 V", " insulation 60..105 C"), LAMP("12 V", " insulation 60 C"),
                   LAMP("12 V", " insulation 105 C"), "lamps", FIGURE_AMPACITY);
    expect_from_to(WARM("30..50 C"), WARM("30 C"), WARM("50 C"), "lamps", FIGURE_AMPACITY);
}

#define LONG_LAMP(hours)                                                                                 \
    EXAMPLE_BOAT BANK("12 V") "day anchored { sun 0 h; shore 0 h }\n"                                    \
                              "panel main { fed-by house; run 1 m; wire 6 AWG; protect 50 A breaker }\n" \
                              "load lamp { fed-by main; draw 2 A; use anchored " hours " }\n"

/* What runs three hours or more is continuous: of 2 h to 4 h nobody knows yet. */
static void a_load_that_may_run_long_may_be_continuous(void **state)
{
    (void)state;
    expect_from_to(LONG_LAMP("2..4 h"), LONG_LAMP("2 h"), LONG_LAMP("4 h"), "main",
                   FIGURE_CONTINUOUS_CURRENT);
}

#define LONG_BOAT(length)                                                    \
    "edition 1\n"                                                            \
    "boat wren \"Wren\" { length " length                                    \
    "; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }\n" \
    "engine main-engine { rated 21 kW at 2800 rpm; fuel diesel }\n"          \
    "extinguisher small { rating 5-B }\n"

/* 33 CFR 175.320: two from 26 ft (7.92 m), three from 40 ft (12.19 m); nothing beyond 65 ft. */
static void a_length_beyond_the_table_leaves_the_number_of_extinguishers_open(void **state)
{
    (void)state;
    Interval need = value_at(LONG_BOAT("9..13 m"), "wren", FIGURE_EXTINGUISHERS_NEED, NULL);
    assert_true(need.low == 2.0 && need.high == 3.0);
    expect_verdict(LONG_BOAT("9..13 m"), "extinguisher-missing", VERDICT_BROKEN);
    expect_verdict(LONG_BOAT(">= 9 m"), "extinguisher-missing", VERDICT_OPEN);
}

#define CHARGED(output)                                                         \
    EXAMPLE_BOAT BANK(                                                          \
        "12 V") "engine main-engine { rated 21 kW at 2800 rpm; fuel diesel }\n" \
                "alternator belt-maker { engine main-engine; output " output    \
                " at 14 V; regulator internal; "                                \
                "feeds house { run 2 m; wire 2 AWG; protect 200 A fuse 0.1 m from source } }\n"

static void an_alternator_that_may_be_large_leaves_its_regulator_open(void **state)
{
    (void)state;
    expect_verdict(CHARGED("120 A"), "regulator", VERDICT_BROKEN);
    expect_verdict(CHARGED("80..120 A"), "regulator", VERDICT_OPEN);
}

#define POLES(poles)                                                                                        \
    EXAMPLE_BOAT                                                                                            \
        "inlet shore { rated 30 A at 120 V; polarity-indicator no }\n"                                      \
        "panel ac-main { fed-by shore; run 1 m; wire 10 AWG; protect 30 A breaker; poles 2 }\n"             \
        "circuit sockets { fed-by ac-main; run 5 m; wire 12 AWG; protect 15 A breaker; poles " poles " }\n" \
        "load kettle { fed-by sockets; draw 1200 W }\n"

static void a_breaker_that_may_open_one_conductor_leaves_the_polarity_open(void **state)
{
    (void)state;
    expect_verdict(POLES("1"), "shore-polarity", VERDICT_BROKEN);
    expect_verdict(POLES("1..2"), "shore-polarity", VERDICT_OPEN);
}

#define BATTERIES(layout) \
    EXAMPLE_BOAT          \
    "bank house { chemistry agm; voltage 6 V; capacity 200 Ah; resistance 4 mohm; count 4; " layout " }\n"

/* Four of 200 Ah, in one string or in up to four: 200 Ah to 800 Ah. */
static void strings_of_an_undecided_length_leave_the_capacity_a_range(void **state)
{
    (void)state;
    Interval capacity = value_at(BATTERIES("series ?"), "house", FIGURE_CAPACITY, NULL);
    assert_near(capacity.low, 200.0 * 3600.0, 1e-6);
    assert_near(capacity.high, 800.0 * 3600.0, 1e-6);
}

/* Of a day's sun, the bank refuses what it did not give: a smaller one gives more of its charge for the same load, by
 * Peukert, so that the middle of a range may refuse less than the largest. */
#define SUNNY(capacity)                                                                                             \
    EXAMPLE_BOAT "day anchored { sun 5 h; shore 0 h; engine 0 h }\n"                                                \
                 "bank house { chemistry agm; voltage 12 V; capacity " capacity "; resistance 4 mohm }\n"           \
                 "circuit lamps { fed-by house; run 3 m; wire 8 AWG; protect 20 A breaker }\n"                      \
                 "load lamp { fed-by lamps; draw 9.5 A; use anchored 4 h }\n"                                       \
                 "solar roof { rated 175 W; count 2; feeds house { run 5 m; wire 6 AWG; protect 40 A fuse } }\n"

static void what_a_bank_of_an_undecided_size_refuses_is_bounded(void **state)
{
    (void)state;
    Interval whole = value_at(SUNNY("<= 230 Ah"), "roof", FIGURE_REFUSED, "anchored");
    Interval middle = value_at(SUNNY("175 Ah"), "roof", FIGURE_REFUSED, "anchored");
    Interval large = value_at(SUNNY("230 Ah"), "roof", FIGURE_REFUSED, "anchored");
    assert_true(middle.low < large.low);
    assert_true(whole.low <= middle.low && whole.high >= large.high);
}

static void a_rating_without_an_end_is_judged_by_its_class(void **state)
{
    (void)state;
    expect_verdict(EXAMPLE_BOAT "inlet shore { rated 16 A at 230 V; run 1 m; wire 6 mm2; "
                                "protect >= 100 A fuse class-t 0.5 m from source }\n",
                   "protect-voltage", VERDICT_BROKEN);
}

/* 5 l/min loses more than the pump keeps, 7 l/min does not flow at all and is the matter of `pump-starved`. */
#define TAP(wish)                                                                                                    \
    EXAMPLE_BOAT "tank fresh { holds fresh; capacity 100 l; vent 16 mm; fill 38 mm }\n"                              \
                 "through-hull drain { bore 38 mm; height 0.3 m; seacock yes; material bronze; backing yes }\n"      \
                 "pump pump { from fresh; flow 11 l/min; shut-off 3 bar; portable yes; self-priming 1.8 m; "         \
                 "pressure 2.8 bar; cut-in 0.5 bar; accumulator 8 l }\n"                                             \
                 "fixture tap { flow " wish "; drains-to drain }\n"                                                  \
                 "hose suction { from fresh; to pump; run 1 m; bore 13 mm }\n"                                       \
                 "hose delivery { from pump; to tap; run 6 m; bore 7 mm }\n"

static void a_wish_that_may_not_flow_leaves_its_pressure_open(void **state)
{
    (void)state;
    expect_verdict(TAP("5 l/min"), "hose-pressure", VERDICT_BROKEN);
    expect_verdict(TAP("5..6.3 l/min"), "hose-pressure", VERDICT_OPEN);
    expect_none(TAP("7 l/min"), "hose-pressure");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(insulation_and_air_make_an_ampacity_a_range),
        cmocka_unit_test(a_load_that_may_run_long_may_be_continuous),
        cmocka_unit_test(a_length_beyond_the_table_leaves_the_number_of_extinguishers_open),
        cmocka_unit_test(an_alternator_that_may_be_large_leaves_its_regulator_open),
        cmocka_unit_test(a_breaker_that_may_open_one_conductor_leaves_the_polarity_open),
        cmocka_unit_test(strings_of_an_undecided_length_leave_the_capacity_a_range),
        cmocka_unit_test(what_a_bank_of_an_undecided_size_refuses_is_bounded),
        cmocka_unit_test(a_rating_without_an_end_is_judged_by_its_class),
        cmocka_unit_test(a_wish_that_may_not_flow_leaves_its_pressure_open),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
