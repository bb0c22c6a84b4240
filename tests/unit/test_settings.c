/*
 * What options and the command line set over the lines of the spec: it tells the same as the line that is edited. Sums are
 * by hand.
 */
#include "check.h"
#include "compile.h"

#include "rules/compare.h"

#include <stdio.h>

#define WREN "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso"
#define RATE "; rate 0.95 EUR per USD }\n"
#define RAFT "item raft { price 1000 USD }\ngoal purse { budget 920 EUR }\n"
#define DOLLAR "choice dollar { option now { }; option later { set wren.rate 0.90 EUR per USD } }\n"

static void expect_cost(const Compiled *c, double low, double high)
{
    Figure cost;
    if (c->spec->messages.first != NULL) {
        fail_msg("a mistake: %s", c->spec->messages.first->text);
    }
    assert_true(outcome_figure(c->outcome, STR("wren"), FIGURE_COST, STR(""), &cost));
    assert_near(cost.low, low, 1e-9);
    assert_near(cost.high, high, 1e-9);
}

static void cost_with(const char *text, const char *set, const char *pick, double low, double high)
{
    Compiled c;
    compile_text_with(&c, text, set, pick);
    expect_cost(&c, low, high);
    compile_free(&c);
}

static void a_rate_that_is_set_turns_every_price(void **state)
{
    (void)state;
    cost_with(WREN RATE RAFT, NULL, NULL, 950.0, 950.0);
    cost_with(WREN RATE RAFT, "wren.rate=0.90 EUR per USD", NULL, 900.0, 900.0);
    cost_with(WREN RATE RAFT DOLLAR, NULL, "dollar=later", 900.0, 900.0);
    cost_with(WREN RATE RAFT DOLLAR, NULL, "dollar=now", 950.0, 950.0);
    cost_with(WREN RATE RAFT DOLLAR, NULL, NULL, 900.0, 950.0);
}

/* The command line stands above what options set, and is stated once with it. */
static void a_rate_of_the_command_line_stands_above_those_of_options(void **state)
{
    (void)state;
    const char *both = WREN RATE RAFT "choice dollar { option now { set wren.rate 0.97 EUR per USD }\n"
                                      "option later { set wren.rate 0.90 EUR per USD } }\n";
    cost_with(both, NULL, NULL, 900.0, 970.0);
    cost_with(both, "wren.rate=0.80 EUR per USD", NULL, 800.0, 800.0);
    cost_with(both, "wren.rate=0.80 EUR per USD", "dollar=later", 800.0, 800.0);
}

static void a_rate_may_stand_in_options_alone_or_on_the_command_line(void **state)
{
    (void)state;
    cost_with(WREN " }\n" RAFT, "wren.rate=0.80 EUR per USD", NULL, 800.0, 800.0);
    cost_with(WREN " }\n" RAFT "choice dollar { option now { set wren.rate 0.95 EUR per USD }\n"
                               "option later { set wren.rate 0.90 EUR per USD } }\n", NULL, NULL, 900.0, 950.0);
    Compiled c;
    compile_text(&c, WREN " }\n" RAFT DOLLAR);
    assert_non_null(c.spec->messages.first); /* with `now` there is none */
    assert_int_equal(c.spec->messages.first->id, MESSAGE_RATE_MISSING);
    assert_null(c.spec->messages.first->next);
    compile_free(&c);
}

/* 1000 x 0.95 + 100 x 1.1 = 1060 EUR; with the pound at 1.3 it is 1080, the dollar at 0.9 takes 50 off. */
static void a_rate_that_is_set_leaves_those_of_other_currencies(void **state)
{
    (void)state;
    const char *two = WREN "; rate 0.95 EUR per USD; rate 1.1 EUR per GBP }\n" RAFT "item oar { price 100 GBP }\n";
    const char *pound = "choice pound { option same { }; option dear { set wren.rate 1.3 EUR per GBP } }\n";
    char text[1024];
    cost_with(two, NULL, NULL, 1060.0, 1060.0);
    cost_with(two, "wren.rate=1.3 EUR per GBP", NULL, 1080.0, 1080.0);
    cost_with(two, "wren.rate=1.3 EUR per GBP\nwren.rate=0.9 EUR per USD", NULL, 1030.0, 1030.0);
    snprintf(text, sizeof text, "%s%s", two, pound);
    cost_with(text, NULL, NULL, 1060.0, 1080.0);
    cost_with(text, "wren.rate=0.9 EUR per USD", "pound=dear", 1030.0, 1030.0);
    cost_with(text, "wren.rate=0.5 GBP per EUR", "pound=dear", 1150.0, 1150.0); /* the same two, the other way round */
    snprintf(text, sizeof text, "%s%s%s", two, pound, DOLLAR); /* and two choices each set one */
    cost_with(text, NULL, NULL, 1010.0, 1080.0);
    cost_with(text, NULL, "pound=dear", 1030.0, 1080.0);
}

/* What each model reads itself has its title all the same. */
static void titles_stay_whatever_money_is_set(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, "edition 1\nboat wren \"Wren\" { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso"
                 RATE "item raft \"The raft\" { price 1000 USD }\n" DOLLAR);
    for (uint32_t i = 0; i < 2; i++) {
        const Model *model = c.outcome->cases[i].model;
        assert_str(entity_label(model, model->boat), "Wren");
        assert_str(entity_label(model, model_find(model, STR("raft"))), "The raft");
    }
    compile_free(&c);
}

/* 900 EUR are within the 920 EUR, 950 EUR are not. */
static void the_budget_goes_by_the_rate_that_is_set(void **state)
{
    (void)state;
    Compiled c;
    compile_text_with(&c, WREN RATE RAFT DOLLAR, NULL, "dollar=later");
    assert_null(compiled_finding(&c, "over-budget"));
    compile_free(&c);
    compile_text_with(&c, WREN RATE RAFT DOLLAR, NULL, "dollar=now");
    assert_non_null(compiled_finding(&c, "over-budget"));
    compile_free(&c);
}

static void options_are_compared_by_the_rates_that_they_set(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, WREN RATE RAFT DOLLAR);
    const Comparison *comparison = compare_compute(&c.arena, c.outcome);
    const CompareRow *row = comparison->choices[0].rows;
    while (row != NULL && strcmp(row->name, "cost") != 0) {
        row = row->next;
    }
    assert_non_null(row);
    assert_false(row->same);
    compile_free(&c);
}

/* Without a rate the prices in other money are mistakes, as they are of a boat whose own line says so. */
static void a_currency_that_is_set_is_that_of_all_totals(void **state)
{
    (void)state;
    cost_with(WREN RATE RAFT, "wren.currency=USD", NULL, 1000.0, 1000.0);
    cost_with(WREN RATE RAFT "choice c { option a { set wren.currency USD }; pick a }\n", NULL, NULL, 1000.0, 1000.0);
    cost_with(WREN RATE RAFT "choice c { option a { set wren.currency USD }; option b { set wren.currency USD } }\n", NULL, NULL,
              1000.0, 1000.0);
    Compiled c;
    compile_text_with(&c, WREN " }\nitem raft { price 1000 EUR }\n", "wren.currency=USD", NULL);
    assert_non_null(c.spec->messages.first);
    assert_int_equal(c.spec->messages.first->id, MESSAGE_RATE_MISSING);
    compile_free(&c);
}

/* The line that is set over stands in the space no more. */
static void a_space_is_unused_by_what_is_set(void **state)
{
    (void)state;
    const char *text = WREN " }\nspace cabin { sleeping no }\nspace locker { sleeping no }\nitem rope { mass 5 kg; space cabin }\n";
    Compiled c;
    compile_text(&c, text);
    assert_str(entity_name(outcome_first(c.outcome)->model, compiled_finding(&c, "space-unused")->subject), "locker");
    compile_free(&c);
    compile_text_with(&c, text, "rope.space=locker", NULL);
    assert_str(entity_name(outcome_first(c.outcome)->model, compiled_finding(&c, "space-unused")->subject), "cabin");
    compile_free(&c);
}

#define LAMP                                                                                                            \
    WREN " }\nbank house { chemistry agm; voltage 12 V; capacity 400 Ah }\nday anchored { sun 4 h }\nday passage { sun 4 h }\n" \
    "load lamp { fed-by house; draw 1 A; use anchored 2 h; use passage 3 h }\n"

static void expect_over(const char *text, const char *set, const char *says)
{
    Compiled c;
    compile_text_with(&c, text, set, NULL);
    if (c.spec->messages.first != NULL) {
        fail_msg("a mistake: %s", c.spec->messages.first->text);
    }
    const Finding *f = compiled_finding(&c, "set-over");
    if (says == NULL) {
        assert_null(f);
    } else {
        assert_non_null(f);
        assert_string_equal(f->message, says);
    }
    compile_free(&c);
}

/* It stands in place of all lines; which are not said anew is told, by their day, their speed. A rate leaves those of other currencies. */
static void lines_that_are_set_over_are_told(void **state)
{
    (void)state;
    expect_over(LAMP, NULL, NULL);
    expect_over(LAMP, "lamp.use=anchored 5 h", "`set lamp.use anchored 5 h` stands in place of all lines of `use`: 1 of `lamp` counts no more");
    expect_over(LAMP, "lamp.use=anchored 5 h\nlamp.use=passage 3 h", NULL);
    expect_over(LAMP "choice q { option o { set lamp.use passage 1 h }; option p { } }\n", NULL,
                "`set lamp.use passage 1 h` stands in place of all lines of `use`: 1 of `lamp` counts no more");
    expect_over(WREN "; rate 0.95 EUR per USD; rate 1.1 EUR per GBP }\n", "wren.rate=1.05 USD per EUR", NULL);
    expect_over(WREN "; rate 0.95 EUR per USD }\n", "wren.rate=1.05 USD per EUR", NULL);
    const char *curve = WREN " }\nengine iron { rated 20 hp at 3000 rpm; fuel diesel; consumption 1000 rpm 1 l/h; consumption 2000 rpm 2 l/h;\n"
                             "consumption 3000 rpm 4 l/h }\n";
    expect_over(curve, "iron.consumption=2000 rpm 2.5 l/h",
                "`set iron.consumption 2000 rpm 2.5 l/h` stands in place of all lines of `consumption`: 2 of `iron` count no more");
}

/* Of hours of an engine nothing says which are meant: told where they are fewer. */
static void lines_that_nothing_tells_apart_are_counted(void **state)
{
    (void)state;
    expect_over(WREN " }\nday run { engine 2 h }\n", "run.engine=3 h", NULL);
    expect_over(WREN " }\nday run { engine 08:00..09:00; engine 18:00..19:00 }\n", "run.engine=3 h",
                "`set run.engine 3 h` stands in place of all lines of `engine`: 2 of `run` count no more");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_rate_that_is_set_turns_every_price),
        cmocka_unit_test(a_rate_of_the_command_line_stands_above_those_of_options),
        cmocka_unit_test(a_rate_that_is_set_leaves_those_of_other_currencies),
        cmocka_unit_test(a_rate_may_stand_in_options_alone_or_on_the_command_line),
        cmocka_unit_test(titles_stay_whatever_money_is_set),
        cmocka_unit_test(the_budget_goes_by_the_rate_that_is_set),
        cmocka_unit_test(options_are_compared_by_the_rates_that_they_set),
        cmocka_unit_test(a_space_is_unused_by_what_is_set),
        cmocka_unit_test(lines_that_are_set_over_are_told),
        cmocka_unit_test(lines_that_nothing_tells_apart_are_counted),
        cmocka_unit_test(a_currency_that_is_set_is_that_of_all_totals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
