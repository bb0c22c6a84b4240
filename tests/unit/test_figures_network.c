/*
 * Figures of the solved network, of faults, and of what the program sizes, on whole small specs. Expected numbers are
 * Ohm's law and the closed form of a load of constant power, worked here from published resistances (IEC 60228 class 5
 * tinned, at 20 C: 2.5 mm2 8.21, 10 mm2 1.95, 70 mm2 0.277 ohm/km; 0.00393 per K). Ranges are proven by sampling.
 */
#include "check.h"
#include "compile.h"

#include "figures/working.h"

#include <stdio.h>

#define ISO "edition 1\nboat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso }\n"
#define US "edition 1\nboat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis us }\n"
#define BANK "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 4 mohm }\n"

static const double warm = 1.0 + 0.00393 * 30.0; /* 50 C */

static const Figure *known(const Compiled *c, const char *subject, FigureId id)
{
    const Figure *figure = compiled_figure(c, subject, id);
    if (figure == NULL || figure->state != STATE_KNOWN) {
        fail_msg("%s has no %s", subject, figure_rows[id].name);
    }
    return figure;
}

static double number(const Compiled *c, const char *subject, FigureId id)
{
    const Figure *figure = known(c, subject, id);
    assert_near(figure->low, figure->high, 0.0);
    return figure->low;
}

static void compile_well(Compiled *c, const char *text)
{
    compile_text(c, text);
    if (c->spec->messages.first != NULL) {
        fail_msg("a mistake: %s\n%s", c->spec->messages.first->text, text);
    }
}

/* ---- the solved network ---- */

#define ONE_LOAD(draw) ISO BANK "circuit c { fed-by house; run 5 m; wire 2.5 mm2; protect 30 A fuse }\n" \
                                "load one { fed-by c; " draw "; min-voltage 9 V }\n"

/* U^2 - E U + P R = 0, the upper root. */
static double upper_root(double emf_v, double ohm, double watts)
{
    return (emf_v + sqrt(emf_v * emf_v - 4.0 * ohm * watts)) / 2.0;
}

static void a_load_of_constant_power_has_its_closed_form(void **state)
{
    Compiled c;
    double ohm = 10.0 * 8.21e-3 * warm;
    double at_12 = upper_root(12.0, ohm, 120.0);

    (void)state;
    compile_well(&c, ONE_LOAD("draw 120 W"));
    assert_near(number(&c, "c", FIGURE_VOLTAGE_DROP), (12.0 - at_12) / 12.0, 1e-9);
    assert_near(number(&c, "c", FIGURE_LOSS), (12.0 - at_12) * 120.0 / at_12, 1e-6);
    /* 11.5 V: the lowest working voltage of lead, common practice. */
    assert_near(number(&c, "c", FIGURE_END_VOLTAGE), upper_root(11.5, ohm, 120.0), 1e-9);
    assert_near(number(&c, "one", FIGURE_END_VOLTAGE), upper_root(11.5, ohm, 120.0), 1e-9);
    assert_near(number(&c, "c", FIGURE_CURRENT), 10.0, 1e-12);
    compile_free(&c);
}

static void a_load_behaves_as_its_owner_says(void **state)
{
    Compiled c;
    double ohm = 10.0 * 8.21e-3 * warm;

    (void)state;
    compile_well(&c, ONE_LOAD("draw 10 A"));
    assert_near(number(&c, "c", FIGURE_VOLTAGE_DROP), 10.0 * ohm / 12.0, 1e-9);
    compile_free(&c);
    compile_well(&c, ONE_LOAD("draw 120 W; behaves current"));
    assert_near(number(&c, "c", FIGURE_VOLTAGE_DROP), 10.0 * ohm / 12.0, 1e-9);
    compile_free(&c);
    compile_well(&c, ONE_LOAD("draw 120 W; behaves resistance")); /* 1.2 ohm */
    assert_near(number(&c, "c", FIGURE_VOLTAGE_DROP), ohm / (1.2 + ohm), 1e-9);
    compile_free(&c);
    compile_well(&c, ONE_LOAD("draw 10 A; behaves power"));
    assert_near(number(&c, "c", FIGURE_VOLTAGE_DROP), (12.0 - upper_root(12.0, ohm, 120.0)) / 12.0, 1e-9);
    compile_free(&c);
}

/* A feeder and two circuits of constant power, by plain repetition until nothing moves. */
static void loads_share_their_feeder(void **state)
{
    Compiled c;
    double feeder = 6.0 * 1.95e-3 * warm;
    double one = 8.0 * 8.21e-3 * warm;
    double other = 4.0 * 8.21e-3 * warm;
    double i1 = 0.0, i2 = 0.0, bus = 12.0;

    (void)state;
    for (int i = 0; i < 500; i++) {
        bus = 12.0 - feeder * (i1 + i2);
        i1 = 60.0 / (bus - one * i1);
        i2 = 90.0 / (bus - other * i2);
    }
    compile_well(&c, ISO BANK "panel main { fed-by house; run 3 m; wire 10 mm2; protect 50 A fuse }\n"
                              "circuit a { fed-by main; run 4 m; wire 2.5 mm2; protect 15 A fuse }\nload x { fed-by a; draw 60 W }\n"
                              "circuit b { fed-by main; run 2 m; wire 2.5 mm2; protect 15 A fuse }\nload y { fed-by b; draw 90 W }\n");
    assert_near(number(&c, "main", FIGURE_TOTAL_DROP), (12.0 - bus) / 12.0, 1e-9);
    assert_near(number(&c, "a", FIGURE_TOTAL_DROP), (12.0 - bus + one * i1) / 12.0, 1e-9);
    assert_near(number(&c, "b", FIGURE_TOTAL_DROP), (12.0 - bus + other * i2) / 12.0, 1e-9);
    assert_near(number(&c, "main", FIGURE_LOSS), feeder * (i1 + i2) * (i1 + i2), 1e-6);
    compile_free(&c);
}

/*
 * 16 kW are served through a cable of no length, and draw the more the lower their voltage; through a longer one they are
 * starved. The oracle is the statement: what lies in a range gives no more and no less than the range.
 */
static void a_load_that_may_be_starved_is_bounded_from_both_sides(void **state)
{
#define MAY_STARVE(RUN)                                                                              \
    ISO BANK "bus pos { fed-by house; run 1 m; wire 35 mm2; protect 150 A fuse }\n"                  \
             "panel main { fed-by pos; run " RUN "; wire 16 mm2; protect 149 A fuse }\n"             \
             "inverter sine { rated 2000 W; output 230 V; count 8; fed-by main; run 0..0.1 m; wire 6 mm2 }\n"
    static const char *const within[] = {MAY_STARVE("0.001 m"), MAY_STARVE("0.1 m"), MAY_STARVE("2.59 m"), MAY_STARVE("8 m")};
    Compiled open;

    (void)state;
    compile_well(&open, MAY_STARVE("?"));
    const Figure *drop = known(&open, "pos", FIGURE_VOLTAGE_DROP), *end = known(&open, "pos", FIGURE_END_VOLTAGE);
    for (size_t i = 0; i < sizeof within / sizeof within[0]; i++) {
        Compiled c;
        compile_well(&c, within[i]);
        const Figure *own_drop = known(&c, "pos", FIGURE_VOLTAGE_DROP), *own_end = known(&c, "pos", FIGURE_END_VOLTAGE);
        assert_true(drop->low <= own_drop->low + 1e-9 && own_drop->high <= drop->high + 1e-9);
        assert_true(end->low <= own_end->low + 1e-9 && own_end->high <= end->high + 1e-9);
        compile_free(&c);
    }
    compile_free(&open);
}

/* ---- faults ---- */

/*
 * Two agm banks of 12 V, 12.8 V when full (from memory), and 4 mohm, each through 1 m of 70 mm2, side by side: twice
 * 12.8 / (4 + 0.554) A.
 */
static void banks_that_are_joined_add_to_a_fault(void **state)
{
    Compiled c;
    const char *joined = ISO BANK
        "bank second { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 4 mohm }\n"
        "switch a { fed-by house; run 1 m; wire 70 mm2; protect 200 A fuse; works-as battery }\n"
        "switch b { fed-by second; run 1 m; wire 70 mm2; protect 200 A fuse; works-as battery }\n"
        "switch both { fed-by a, b; works-as %s }\n"
        "panel main { fed-by both; run 2 m; wire 70 mm2; protect 100 A fuse }\n";
    char spec[2048];
    double alone = 12.8 / (4e-3 + 2.0 * 0.277e-3);

    (void)state;
    snprintf(spec, sizeof spec, joined, "parallel");
    compile_well(&c, spec);
    assert_near(number(&c, "main", FIGURE_FAULT_CURRENT), 2.0 * alone, 1e-6);
    /* The least: one bank alone at 11.5 V, and warm copper to the far end. */
    assert_near(number(&c, "main", FIGURE_LEAST_FAULT), 11.5 / (4e-3 + 6.0 * 0.277e-3 * warm), 1e-6);
    compile_free(&c);
    snprintf(spec, sizeof spec, joined, "transfer");
    compile_well(&c, spec);
    assert_near(number(&c, "main", FIGURE_FAULT_CURRENT), alone, 1e-6);
    compile_free(&c);
}

/* An alternator adds 1.2 times its rating, a converter its output; what joins behind a device adds nothing to it. */
static void what_makes_power_adds_to_a_fault(void **state)
{
    Compiled c;

    (void)state;
    compile_well(&c, ISO BANK
                 "engine e { rated 20 kW at 3000 rpm; fuel diesel }\n"
                 "alternator alt { engine e; output 100 A at 14.2 V; feeds plus { run 2 m; wire 70 mm2; protect 150 A fuse } }\n"
                 "bus plus { fed-by house; run 1 m; wire 70 mm2; protect 200 A fuse }\n"
                 "panel main { fed-by plus; run 2 m; wire 70 mm2; protect 100 A fuse }\n");
    assert_near(number(&c, "plus", FIGURE_FAULT_CURRENT), 12.8 / 4e-3, 1e-6);
    assert_near(number(&c, "main", FIGURE_FAULT_CURRENT), 12.8 / (4e-3 + 2.0 * 0.277e-3) + 120.0, 1e-6);
    assert_near(number(&c, "plus", FIGURE_BROUGHT), 100.0, 1e-9);
    compile_free(&c);
}

/* 40 A more than it runs with, in 4 mohm and the warm cable. */
static void a_start_pulls_the_voltage_down(void **state)
{
    Compiled c;
    double ohm = 8.0 * 1.95e-3 * warm;

    (void)state;
    compile_well(&c, ISO BANK "load motor { fed-by house; run 4 m; wire 10 mm2; protect 60 A fuse; draw 20 A; surge 60 A for 1 s }\n");
    assert_near(number(&c, "motor", FIGURE_END_VOLTAGE), 11.5 - 20.0 * ohm, 1e-9);
    assert_near(number(&c, "motor", FIGURE_SURGE_VOLTAGE), 11.5 - 20.0 * ohm - 40.0 * (4e-3 + ohm), 1e-9);
    compile_free(&c);
}

/* 690 W of a bank at 11.5 V, its lowest: 60 A. */
static void a_start_in_watts_goes_by_the_lowest_voltage(void **state)
{
    Compiled c;

    (void)state;
    compile_well(&c, ISO BANK "load motor { fed-by house; run 4 m; wire 10 mm2; protect 60 A fuse; draw 20 A; surge 690 W for 1 s }\n");
    assert_near(number(&c, "motor", FIGURE_SURGE_CURRENT), 60.0, 1e-9);
    compile_free(&c);
    compile_well(&c, ISO BANK "inverter sine { fed-by house; run 1 m; wire 50 mm2; protect 150 A fuse; rated 800 W; efficiency 80 %; "
                     "surge 920 W; output 230 V }\n");
    assert_near(number(&c, "sine", FIGURE_SURGE_CURRENT), 100.0, 1e-9);
    assert_true(known(&c, "sine", FIGURE_SURGE_VOLTAGE)->low > 10.0);
    compile_free(&c);
}

/* ---- ranges ---- */

/* A number of the range, and how it is written: the whole range, or a point in it. */
typedef struct Range {
    const char *before;
    double low, high;
    const char *after;
} Range;

static const Range ranges[] = {
    {ISO "bank house { chemistry agm; voltage ", 11.8, 12.6, " V; capacity 200 Ah; resistance "},
    {"", 3.0, 6.0, " mohm }\npanel main { fed-by house; run "},
    {"", 2.0, 3.5, " m; wire 16 mm2; protect 80 A fuse 0.2 m from source }\ncircuit a { fed-by main; run "},
    {"", 3.0, 6.0, " m; wire 4 mm2; protect 25 A fuse 0.1 m from source }\nload x { fed-by a; draw "},
    {"", 40.0, 90.0, " W; surge 30 A for 0.2 s; min-voltage 9 V }\ncircuit b { fed-by main; run 4 m; wire 4 mm2; protect 25 A fuse }\nload y { fed-by b; draw "},
    {"", 3.0, 9.0, " A; use trip 0.2 h }\nload heat { fed-by main; run 2 m; wire 4 mm2; protect 25 A fuse; behaves resistance; draw "},
    {"", 60.0, 120.0, " W }\nload z { fed-by main; run 5 m; wire 4 mm2; protect 25 A fuse; use trip 0.3 h; draw "},
    {"", 40.0, 110.0, " W }\nday trip { engine 0 h }\n"},
};
enum { RANGE_COUNT = sizeof ranges / sizeof ranges[0] };

static void write_spec(char *text, size_t size, uint64_t *chance)
{
    size_t used = 0;
    for (int i = 0; i < RANGE_COUNT; i++) {
        const Range *r = &ranges[i];
        if (chance == NULL) {
            used += (size_t)snprintf(text + used, size - used, "%s%.6f..%.6f%s", r->before, r->low, r->high, r->after);
        } else {
            int step = random_below(chance, 101); /* now and then an end */
            double value = r->low + (r->high - r->low) * (step % 10 == 0 ? (step / 10) % 2 : step / 100.0);
            used += (size_t)snprintf(text + used, size - used, "%s%.6f%s", r->before, value, r->after);
        }
    }
}

static void figures_of_ranges_contain_those_of_every_point(void **state)
{
    static const char *const subjects[] = {"main", "a", "b", "heat", "z"};
    static const FigureId ids[] = {FIGURE_CURRENT,     FIGURE_VOLTAGE_DROP, FIGURE_TOTAL_DROP,    FIGURE_TOTAL_DROP_BY_RULE,
                                   FIGURE_END_VOLTAGE, FIGURE_LOSS,         FIGURE_FAULT_CURRENT, FIGURE_LEAST_FAULT};
    static char text[4096];
    Compiled whole;
    uint64_t chance = 4711;

    (void)state;
    write_spec(text, sizeof text, NULL);
    compile_well(&whole, text);
    for (int round = 0; round < 150; round++) {
        Compiled one;
        write_spec(text, sizeof text, &chance);
        compile_well(&one, text);
        for (size_t s = 0; s < sizeof subjects / sizeof subjects[0]; s++) {
            for (size_t i = 0; i < sizeof ids / sizeof ids[0]; i++) {
                const Figure *range = known(&whole, subjects[s], ids[i]);
                const Figure *sample = known(&one, subjects[s], ids[i]);
                double slack = 1e-9 * fabs(range->high);
                if (sample->low < range->low - slack || sample->high > range->high + slack) {
                    fail_msg("%s.%s is %g, outside of %g..%g, in\n%s", subjects[s], figure_rows[ids[i]].name, sample->low,
                             range->low, range->high, text);
                }
            }
        }
        const Figure *range = known(&whole, "x", FIGURE_SURGE_VOLTAGE);
        const Figure *sample = known(&one, "x", FIGURE_SURGE_VOLTAGE);
        assert_true(sample->low >= range->low - 1e-9 && sample->high <= range->high + 1e-9);
        compile_free(&one);
    }
    compile_free(&whole);
}

/* ---- sizing ---- */

static const char *const sized_rules[] = {"wire-overloaded", "wire-unprotected", "wire-small",     "wire-drop",
                                          "protect-tight",   "protect-order",    "protect-breaking"};

static void write_open_boat(char *text, size_t size, uint64_t *chance)
{
    int circuits = 1 + random_below(chance, 6);
    size_t used = (size_t)snprintf(
        text, size, "%sbank house { chemistry agm; voltage %d V; capacity 200 Ah; resistance 8.5 mohm }\n"
                    "bus plus { fed-by house; run %d.%d m; wire ?; protect ? fuse }\n"
                    "panel main { fed-by plus; run %d m; wire ?; protect ? fuse }\n",
        random_below(chance, 2) ? US : ISO, random_below(chance, 2) ? 12 : 24, random_below(chance, 3), 1 + random_below(chance, 9),
        1 + random_below(chance, 6));
    for (int i = 0; i < circuits; i++) {
        used += (size_t)snprintf(text + used, size - used,
                                 "circuit c%d { fed-by %s; run %d m; %s; protect ? breaker%s }\n"
                                 "load l%d { fed-by c%d; draw %d.5 %s }\n",
                                 i, random_below(chance, 4) ? "main" : "plus", 1 + random_below(chance, 12),
                                 random_below(chance, 3) ? "wire ?" : "sheath none", random_below(chance, 3) ? "" : "; critical yes", i,
                                 i, 1 + random_below(chance, 20), random_below(chance, 2) ? "A" : "W");
    }
}

/* Nothing that the program has sized breaks the rules by which it sizes. */
static void what_is_sized_keeps_every_rule(void **state)
{
    static char text[8192];
    uint64_t chance = 99;

    (void)state;
    for (int round = 0; round < 120; round++) {
        Compiled c;
        write_open_boat(text, sizeof text, &chance);
        compile_well(&c, text);
        for (size_t r = 0; r < sizeof sized_rules / sizeof sized_rules[0]; r++) {
            const Finding *finding = compiled_finding(&c, sized_rules[r]);
            if (finding != NULL) {
                fail_msg("%s: %s, in\n%s", sized_rules[r], finding->message, text);
            }
        }
        compile_free(&c);
    }
}

/* The feeder alone may lose 3 %, and so may what hangs on it, critical too, in all: they have to share that. */
static void open_feeders_leave_something_for_what_hangs_on_them(void **state)
{
    Compiled c;

    (void)state;
    compile_well(&c, ISO BANK "panel main { fed-by house; run 4 m; wire ?; protect ? fuse }\n"
                              "circuit lamp { fed-by main; run 10 m; wire ?; protect ? breaker }\n"
                              "nav-light bow { fed-by lamp; draw 4 A; shows sidelights }\n");
    assert_true(number(&c, "lamp", FIGURE_TOTAL_DROP) <= 0.03);
    assert_true(number(&c, "lamp", FIGURE_TOTAL_DROP_BY_RULE) <= 0.03);
    assert_true(known(&c, "main", FIGURE_WIRE_SIZE)->chosen && known(&c, "lamp", FIGURE_WIRE_SIZE)->chosen);
    compile_free(&c);
}

static void a_way_that_no_size_serves_says_so(void **state)
{
    Compiled c;

    (void)state;
    compile_well(&c, ISO BANK "load far { fed-by house; run 200 m; wire ?; protect ? fuse; draw 90 A; critical yes }\n");
    assert_string_equal(known(&c, "far", FIGURE_WIRE_SIZE)->remark, "no size keeps the drop within its limit");
    assert_non_null(compiled_finding(&c, "wire-drop"));
    compile_free(&c);
}

/* The device upstream is larger than the one that is stated behind it, whatever its current asks. */
static void a_rating_upstream_is_larger_than_those_behind_it(void **state)
{
    Compiled c;

    (void)state;
    compile_well(&c, ISO BANK "panel main { fed-by house; run 1 m; wire ?; protect ? fuse }\n"
                              "circuit lamp { fed-by main; run 2 m; wire ?; protect 40 A breaker }\nload one { fed-by lamp; draw 2 A }\n");
    assert_near(number(&c, "main", FIGURE_PROTECTION), 50.0, 0.0);
    assert_null(compiled_finding(&c, "protect-order"));
    compile_free(&c);
}

/* A label of a number that waits stands for what has its name, and for nothing else that happens to be there. */
static void a_mistake_leaves_its_place_in_the_working(void **state)
{
    (void)state;
    static const char *const runs[] = {"run 10 feet", "run 10 ft 14 in"};
    for (size_t i = 0; i < 2; i++) {
        Compiled compiled;
        char text[512];
        snprintf(text, sizeof text,
                 "edition 1\nboat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis us; sails no }\n"
                 "bank b { chemistry agm; voltage 12 V; capacity 100 Ah }\n"
                 "circuit c1 { fed-by b; %s; wire 12 AWG; protect 15 A breaker 6 in from source }\n"
                 "load x1 { fed-by c1; draw 3 A }\n", runs[i]);
        compile_text(&compiled, text);
        Arena *arena = &compiled.arena;
        const Figure *drop = compiled_figure(&compiled, "c1", FIGURE_VOLTAGE_DROP);
        assert_int_equal(drop->state, STATE_WAITING);
        Working working = working_of(arena, drop);
        assert_int_equal(working_input(&working, STR("run"))->kind, INPUT_MISTAKE);
        assert_int_equal(working_input(&working, STR("wire-size"))->u.figure->id, FIGURE_WIRE_SIZE);
        assert_string_equal(working_input(&working, STR("nominal voltage"))->u.fact->what, "nominal voltage");
        compile_free(&compiled);
    }
}

/* 40 A and 30 A run briefly: the rule of two columns counts 40 A, and who says `together 100 %` says 70 A, in series at either place. */
static void what_is_said_to_run_together_flows_in_what_feeds_it_too(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, "boat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso }\nday one { engine 0 h }\n"
                     "bank house { chemistry agm; voltage 12 V; capacity 400 Ah }\n"
                     "switch sw { fed-by house; works-as battery; rated 100 A; run 0.5 m; wire 50 mm2; protect 100 A fuse }\n"
                     "bus positive { fed-by sw; run 0.5 m; wire 50 mm2; rated 100 A; together 100 % }\n"
                     "load winch { fed-by positive; run 1 m; wire 16 mm2; protect 50 A fuse; draw 40 A; use one 10 min }\n"
                     "load press { fed-by positive; run 1 m; wire 16 mm2; protect 40 A fuse; draw 30 A; use one 10 min }\n");
    assert_near(compiled_figure(&c, "positive", FIGURE_CURRENT)->high, 70.0, 1e-9);
    assert_near(compiled_figure(&c, "sw", FIGURE_CURRENT)->high, 70.0, 1e-9);
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_load_of_constant_power_has_its_closed_form),
        cmocka_unit_test(a_load_behaves_as_its_owner_says),
        cmocka_unit_test(loads_share_their_feeder),
        cmocka_unit_test(a_load_that_may_be_starved_is_bounded_from_both_sides),
        cmocka_unit_test(banks_that_are_joined_add_to_a_fault),
        cmocka_unit_test(what_makes_power_adds_to_a_fault),
        cmocka_unit_test(a_start_pulls_the_voltage_down),
        cmocka_unit_test(a_start_in_watts_goes_by_the_lowest_voltage),
        cmocka_unit_test(figures_of_ranges_contain_those_of_every_point),
        cmocka_unit_test(what_is_sized_keeps_every_rule),
        cmocka_unit_test(open_feeders_leave_something_for_what_hangs_on_them),
        cmocka_unit_test(a_way_that_no_size_serves_says_so),
        cmocka_unit_test(a_rating_upstream_is_larger_than_those_behind_it),
        cmocka_unit_test(a_mistake_leaves_its_place_in_the_working),
        cmocka_unit_test(what_is_said_to_run_together_flows_in_what_feeds_it_too),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
