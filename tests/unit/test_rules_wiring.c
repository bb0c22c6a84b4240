/*
 * Rules of cables and protection where their own examples do not reach. Sources stand in the rules' own tables; here is what
 * follows.
 */
#include "unit/verdict.h"

#define ON(BASIS) \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis " BASIS "; sails no }\n"
#define ISO ON("iso")

/* The one figure of a thing in a spec, which must be known and exact. */
static double figure_in(const char *spec, const char *subject, FigureId id)
{
    Compiled c;
    compile_text(&c, spec);
    const Figure *figure = compiled_figure(&c, subject, id);
    assert_non_null(figure);
    assert_int_equal(figure->state, STATE_KNOWN);
    assert_near(figure->low, figure->high, 0.0);
    double value = figure->low;
    compile_free(&c);
    return value;
}

/* ---- What charges a bank flows through its cables too ---- */

/* A bank of 24 V, its switch, a bus with 10 A of load and 100 A of charger on it. */
#define CHARGED(SWITCH, BUS) \
    ISO "bank house { chemistry lifepo4; voltage 25.6 V; capacity 230 Ah; resistance 4 mohm; max-charge 150 A }\n" \
    "switch sw { fed-by house; works-as battery; run 0.5 m; " SWITCH " }\n" \
    "bus positive { fed-by sw; run 0.5 m; rated 250 A; " BUS " }\n" \
    "load lamp { fed-by positive; run 3 m; wire 2.5 mm2; draw 10 A; protect 15 A fuse terminal 0.1 m from source }\n" \
    "inlet shore { rated 32 A at 230 V }\n" \
    "charger ch { fed-by shore; run 1 m; output 100 A at 28.8 V\n" \
    "  feeds positive { run 2 m; wire 50 mm2 insulation 105 C; protect 150 A fuse class-t 0.1 m from source } }\n"
#define FULL "wire 50 mm2 insulation 105 C"

/* Kirchhoff: with nothing switched on all 100 A go to the bank, through bus, switch and fuse. */
static void what_charges_goes_back_to_the_bank_through_switch_cable_and_fuse(void **state)
{
    (void)state;
    assert_near(figure_in(CHARGED("rated 200 A; " FULL "; protect 200 A fuse", FULL), "sw", FIGURE_BROUGHT), 100.0, 1e-9);
    expect_verdict(CHARGED("rated 50 A; " FULL "; protect 200 A fuse", FULL), "bus-overloaded", BROKEN_AT_ONE, "sw");
    expect_verdict(CHARGED("rated 200 A; wire 6 mm2 insulation 105 C; protect 40 A fuse", FULL "; protect 200 A fuse"),
                   "wire-overloaded", BROKEN_AT_ONE, "sw");
    expect_verdict(CHARGED("rated 200 A; " FULL "; protect 200 A fuse", "wire 4 mm2 insulation 105 C; protect 25 A fuse"),
                   "wire-overloaded", BROKEN_AT_ONE, "positive");
    expect_verdict(CHARGED("rated 200 A; " FULL "; protect 110 A fuse", FULL), "protect-tight", BROKEN_AT_ONE, "sw");
    expect_verdict(CHARGED("rated 200 A; " FULL "; protect 125 A fuse", FULL), "protect-tight", NOTHING, NULL);
    expect_verdict(CHARGED("rated 200 A; " FULL "; protect 200 A fuse", FULL), "wire-overloaded", NOTHING, NULL);
    expect_verdict(CHARGED("rated 200 A; " FULL "; protect 200 A fuse", FULL), "bus-overloaded", NOTHING, NULL);
}

/* An output that is a range leaves open what part of it would break. */
static void an_undecided_output_leaves_what_comes_back_open(void **state)
{
    (void)state;
#define ALTERNATOR(OUTPUT) \
    ISO "bank house { chemistry agm; voltage 12 V; capacity 230 Ah }\n" \
    "bus positive { fed-by house; run 0.5 m; wire 25 mm2 insulation 105 C; protect 125 A fuse }\n" \
    "engine motor { rated 20 kW at 3000 rpm; fuel diesel }\n" \
    "alternator belt { engine motor; output " OUTPUT " at 14.2 V; feeds positive { run 2 m; wire 70 mm2 insulation 105 C; " \
    "protect 300 A fuse } }\n"
    expect_verdict(ALTERNATOR("80..200 A"), "wire-overloaded", OPEN_AT_ONE, "positive");
    expect_verdict(ALTERNATOR("80 A"), "wire-overloaded", NOTHING, NULL);
    expect_verdict(ALTERNATOR("200 A"), "wire-overloaded", BROKEN_AT_ONE, "positive");
}

/* What is left to the program is chosen for the greater of both directions: 100 A x 1.25 is the 125 A that is made. */
static void a_device_and_a_size_left_open_carry_what_comes_back(void **state)
{
    (void)state;
    const char *spec = CHARGED("protect ?", "wire ?");
    assert_near(figure_in(spec, "sw", FIGURE_PROTECTION), 125.0, 1e-9);
    assert_true(figure_in(spec, "sw", FIGURE_AMPACITY) >= 125.0);
    assert_true(figure_in(spec, "positive", FIGURE_AMPACITY) >= 125.0);
}

/* ---- No device is chosen that the spec does not state ---- */

static void what_stands_upstream_protects_and_nothing_is_chosen(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, CHARGED("rated 200 A; " FULL "; protect 200 A fuse", FULL));
    assert_null(compiled_figure(&c, "positive", FIGURE_PROTECTION));
    assert_null(compiled_figure(&c, "positive", FIGURE_WANTED_PROTECTION));
    compile_free(&c);
    /* Where nothing does, the rule says what would: 1.25 x 10 A is more than 10 A and at most 15 A. */
    compile_text(&c, ISO "bank house { chemistry agm; voltage 12 V; capacity 230 Ah }\n"
                         "load lamp { fed-by house; run 3 m; draw 10 A }\n");
    assert_null(compiled_figure(&c, "lamp", FIGURE_PROTECTION));
    assert_near(compiled_figure(&c, "lamp", FIGURE_WANTED_PROTECTION)->low, 15.0, 1e-9);
    const Finding *bare = only_finding(&c, "wire-unprotected");
    assert_non_null(bare);
    assert_str(str_from(bare->remedies->text), "protect 15 A fuse");
    compile_free(&c);
}

/* An outlet is wired for what may be drawn from it, behind the breaker that is there: no finding about its own size. */
static void an_outlet_is_sized_by_its_rating(void **state)
{
    (void)state;
#define SOCKET(BASIS, INLET, BREAKER, RATED) \
    ON(BASIS) "inlet shore { rated " INLET "; run 0.4 m; wire 4 mm2 insulation 70 C; protect " BREAKER " breaker }\n" \
    "outlet socket { fed-by shore; run 6 m; rated " RATED "; bundle 2 }\n"
    expect_verdict(SOCKET("iso", "16 A at 230 V", "16 A", "16 A"), "wire-unprotected", NOTHING, NULL);
    assert_true(figure_in(SOCKET("iso", "16 A at 230 V", "16 A", "16 A"), "socket", FIGURE_AMPACITY) >= 16.0);
    expect_verdict(SOCKET("us", "15 A at 120 V", "15 A", "15 A"), "wire-unprotected", NOTHING, NULL);
    assert_true(figure_in(SOCKET("us", "15 A at 120 V", "15 A", "15 A"), "socket", FIGURE_AMPACITY) >= 15.0);
}

/* A lamp on a main fuse of 150 A is not wired with 70 mm2: it wants a device of its own, and the rule says so. */
static void a_branch_on_a_large_device_wants_its_own(void **state)
{
    (void)state;
    const char *spec = ISO "bank house { chemistry agm; voltage 12 V; capacity 230 Ah }\n"
                           "bus positive { fed-by house; run 1 m; wire 70 mm2; protect 150 A fuse }\n"
                           "load lamp { fed-by positive; run 3 m; draw 2 A }\n";
    expect_verdict(spec, "wire-unprotected", BROKEN_AT_ONE, "lamp");
    assert_true(figure_in(spec, "lamp", FIGURE_WIRE_SIZE) <= 6e-6);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_charges_goes_back_to_the_bank_through_switch_cable_and_fuse),
        cmocka_unit_test(an_undecided_output_leaves_what_comes_back_open),
        cmocka_unit_test(a_device_and_a_size_left_open_carry_what_comes_back),
        cmocka_unit_test(what_stands_upstream_protects_and_nothing_is_chosen),
        cmocka_unit_test(an_outlet_is_sized_by_its_rating),
        cmocka_unit_test(a_branch_on_a_large_device_wants_its_own),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
