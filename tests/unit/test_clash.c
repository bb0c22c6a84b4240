/*
 * Options of different choices that set one property: a mistake once both are picked, and before that no boat that figures
 * and findings look at. Which combinations those are is counted by hand.
 */
#include "unit/verdict.h"

#include "output/compare.h"
#include "rules/compare.h"
#include "tools/diff.h"

#include <stdio.h>

#define BOAT                                                                                                       \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }\n"    \
    "item lamps { price 10 EUR; mass 1 kg }\n"
#define LIGHT(picked) "choice light { option dim { set lamps.count 3 }; option bright { set lamps.count 6 }; option none { }\n" picked "}\n"
#define CREW(picked) "choice crew { option two { item hammock { price 40 EUR } }; option four { set lamps.count 8 }\n" picked "}\n"

static uint32_t findings_of(const Compiled *c, const char *rule)
{
    uint32_t count = 0;
    for (const Finding *f = c->outcome->findings; f != NULL; f = f->next) {
        count += strcmp(f->rule->name, rule) == 0;
    }
    return count;
}

static Interval cost_of(const Compiled *c)
{
    Figure cost;
    assert_true(outcome_figure(c->outcome, STR("wren"), FIGURE_COST, STR(""), &cost));
    return (Interval){cost.low, cost.high};
}

/* Six combinations; dim and bright do not go with four. Of the others the cheapest is one lamp and a hammock, the dearest eight lamps. */
static void what_cannot_be_picked_together_is_left_out(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT LIGHT("") CREW(""));
    assert_null(c.spec->messages.first);
    assert_int_equal(c.outcome->case_count, 4);
    assert_near(cost_of(&c).low, 50.0, 1e-9);
    assert_near(cost_of(&c).high, 100.0, 1e-9);
    assert_int_equal(findings_of(&c, "options-apart"), 1);
    const Finding *f = compiled_finding(&c, "options-apart");
    assert_string_equal(f->message, "`crew=four` cannot be picked together with `light=dim` or `light=bright`: each sets "
                                    "`lamps.count`; figures and findings leave such a boat out");
    compile_free(&c);
}

static void what_is_picked_leaves_the_open_options_that_go_with_it(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT LIGHT("pick bright\n") CREW(""));
    assert_null(c.spec->messages.first);
    assert_int_equal(c.outcome->case_count, 1);
    assert_near(cost_of(&c).high, 100.0, 1e-9);
    assert_string_equal(compiled_finding(&c, "options-apart")->message,
                        "`crew=four` cannot be picked together with `light=bright`: both set `lamps.count`; figures and findings leave "
                        "it out");
    compile_free(&c);
    compile_text_with(&c, BOAT LIGHT("pick none\n") CREW(""), NULL, NULL);
    assert_null(compiled_finding(&c, "options-apart"));
    assert_int_equal(c.outcome->case_count, 2);
    compile_free(&c);
}

/* Picked in the file, on the command line, or where there is nothing else to pick. */
static void what_is_picked_together_is_a_mistake(void **state)
{
    (void)state;
    static const struct {
        const char *text, *pick;
    } specs[] = {
        {BOAT LIGHT("pick dim\n") CREW("pick four\n"), NULL},
        {BOAT LIGHT("pick dim\n") CREW(""), "crew=four"},
        {BOAT "choice light { option dim { set lamps.count 3 } }\n" CREW("pick four\n"), NULL},
    };
    for (size_t i = 0; i < sizeof specs / sizeof specs[0]; i++) {
        Compiled c;
        compile_text_with(&c, specs[i].text, NULL, specs[i].pick);
        assert_int_equal(c.spec->messages.count, 1);
        assert_string_equal(message_kinds[c.spec->messages.first->id].name, "set-twice");
        assert_null(compiled_finding(&c, "options-apart"));
        compile_free(&c);
    }
}

/* What no model takes is read for its mistakes all the same: things, and what is set. */
static void an_option_that_goes_with_nothing_is_read_for_mistakes(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT LIGHT("pick dim\n") "choice crew { option two { }\n option four { set lamps.count 8; set lamps.colour red\n"
                                              "item hammock { colour blue } }\n}\n");
    assert_int_equal(c.outcome->case_count, 1);
    assert_int_equal(c.spec->messages.count, 2);
    compile_free(&c);
}

/* One charger feeds two banks: what is set of one cable is nothing of the other. */
static void cables_of_one_maker_are_set_apart(void **state)
{
    (void)state;
    static const char text[] = BOAT
        "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\nbank start { chemistry agm; voltage 12 V; capacity 90 Ah }\n"
        "inlet shore { rated 16 A at 230 V }\n"
        "charger main { fed-by shore; output 30 A at 14.4 V\n feeds house { run 1 m }\n feeds start { run 1 m }\n}\n"
        "choice a { option near { set main.feeds.house.run 2 m }; option far { set main.feeds.house.run 3 m } }\n"
        "choice b { option near { set main.feeds.%s.run 2 m }; option far { } }\n";
    static const struct {
        const char *bank;
        uint32_t cases;
    } rows[] = {{"start", 4}, {"house", 2}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char with[1500];
        Compiled c;
        snprintf(with, sizeof with, text, rows[i].bank);
        compile_text(&c, with);
        assert_null(c.spec->messages.first);
        assert_int_equal(c.outcome->case_count, rows[i].cases);
        compile_free(&c);
    }
}

/* Eight choices of three, 6561 combinations; the first options of the first two clash, and so do the last of the last two. */
static const char *eight_choices(char *text, size_t room)
{
    int length = snprintf(text, room, "%s", BOAT);
    for (int q = 0; q < 8; q++) {
        const char *first = q < 2 ? "set lamps.count 2" : "", *last = q > 5 ? "set lamps.mass 2 kg" : "";
        length += snprintf(text + length, room - (size_t)length,
                           "choice q%d { option a { %s }; option b { item t%d { mass 1 kg } }; option c { %s } }\n", q, first, q, last);
    }
    return text;
}

static void a_sample_takes_every_option_and_no_two_that_clash(void **state)
{
    (void)state;
    static char text[4000];
    Compiled c;
    compile_text(&c, eight_choices(text, sizeof text));
    assert_null(c.spec->messages.first);
    assert_true(c.outcome->sampled);
    bool taken[8][3] = {{false}};
    for (uint32_t i = 0; i < c.outcome->case_count; i++) {
        const Choice *choices = c.outcome->cases[i].model->choices;
        assert_false(choices[0].chosen == 0 && choices[1].chosen == 0);
        assert_false(choices[6].chosen == 2 && choices[7].chosen == 2);
        for (int q = 0; q < 8; q++) {
            taken[q][choices[q].chosen] = true;
        }
    }
    for (int q = 0; q < 8; q++) {
        assert_true(taken[q][0] && taken[q][1] && taken[q][2]);
    }
    assert_int_equal(findings_of(&c, "options-apart"), 2);
    compile_free(&c);
}

static void columns_say_what_they_cover(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "choice light { option dim { set lamps.count 3 }; option bright { set lamps.count 6 } }\n" CREW(""));
    const Comparison *comparison = compare_compute(c.outcome->arena, c.outcome);
    assert_int_equal(comparison->choices[0].tried, 1);
    assert_non_null(strstr(compare_covers(c.outcome->arena, comparison, &comparison->choices[0]), "as far as it goes with every option, in 1 "));
    assert_int_equal(comparison->choices[1].tried, 0);
    assert_non_null(strstr(compare_covers(c.outcome->arena, comparison, &comparison->choices[1]), "options-apart"));
    compile_free(&c);
}

/* What an option is that no combination takes is told by `diff` as well. */
static void what_is_left_out_is_compared_with_an_earlier_spec(void **state)
{
    (void)state;
    Compiled before, after;
    compile_text(&before, BOAT LIGHT("pick dim\n") "choice crew { option two { }; option four { set lamps.count 8; item cot { mass 2 kg } } }\n");
    compile_text(&after, BOAT LIGHT("pick dim\n") "choice crew { option two { }; option four { set lamps.count 9; item cot { mass 3 kg } } }\n");
    const Diff *diff = diff_compute(after.outcome->arena, before.outcome, after.outcome);
    assert_true(diff_is_different(diff));
    Buf text;
    buf_init(&text, after.outcome->arena);
    diff_text(&text, diff, (Colour){.on = false});
    assert_non_null(strstr(text.text, "2 kg"));
    assert_non_null(strstr(text.text, "3 kg"));
    compile_free(&before);
    compile_free(&after);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_cannot_be_picked_together_is_left_out),
        cmocka_unit_test(what_is_picked_leaves_the_open_options_that_go_with_it),
        cmocka_unit_test(what_is_picked_together_is_a_mistake),
        cmocka_unit_test(an_option_that_goes_with_nothing_is_read_for_mistakes),
        cmocka_unit_test(cables_of_one_maker_are_set_apart),
        cmocka_unit_test(a_sample_takes_every_option_and_no_two_that_clash),
        cmocka_unit_test(columns_say_what_they_cover),
        cmocka_unit_test(what_is_left_out_is_compared_with_an_earlier_spec),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
