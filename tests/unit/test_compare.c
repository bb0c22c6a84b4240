/*
 * The open choices side by side. Expected values are worked out by hand beside the test; what is said of best, worst and
 * dominated of ranges is held against exact values from inside of them.
 */
#include "check.h"
#include "compile.h"

#include "figures/boat.h"
#include "garboard.h"
#include "rules/compare.h"

#include <stdio.h>
#include <stdlib.h>

typedef struct Compared {
    Compiled compiled;
    const Comparison *comparison;
} Compared;

static void compare(Compared *compared, const char *text)
{
    compile_text(&compared->compiled, text);
    if (compared->compiled.spec->messages.first != NULL) {
        fail_msg("a mistake: %s", compared->compiled.spec->messages.first->text);
    }
    compared->comparison = compare_compute(&compared->compiled.arena, compared->compiled.outcome);
}

static void end(Compared *compared)
{
    compile_free(&compared->compiled);
}

static const CompareRow *find_row(const CompareChoice *choice, const char *name)
{
    const CompareRow *row = choice->rows;
    while (row != NULL && strcmp(row->name, name) != 0) {
        row = row->next;
    }
    return row;
}

static const CompareCell *cell(const Compared *compared, uint32_t choice, const char *row_name, uint32_t option)
{
    const CompareRow *row = find_row(&compared->comparison->choices[choice], row_name);
    if (row == NULL) {
        fail_msg("there is no row `%s`", row_name);
    }
    return &row->cells[option];
}

static void assert_cell(const Compared *compared, uint32_t choice, const char *row, uint32_t option, const char *text,
                        CompareMark mark)
{
    const CompareCell *found = cell(compared, choice, row, option);
    assert_string_equal(found->text, text);
    assert_int_equal(found->mark, mark);
}

/* Sums */

#define PURSE EXAMPLE_BOAT "item anchor { price 300..500 EUR; mass 15..20 kg }\n"

/* The anchor's price is not decided, so both costs are ranges that overlap; the stoves differ by 100 and 10 %. */
static void what_options_share_does_not_blur_a_difference(void **state)
{
    Compared c;
    (void)state;
    compare(&c, PURSE "choice cooking {\n"
                      "  option gas { item stove { price 400 EUR; mass 20 kg } }\n"
                      "  option spirit { item stove { price 300 EUR; mass 8 kg } }\n"
                      "}\n");
    Interval difference;
    const Case *cases = c.compiled.outcome->cases;
    assert_true(boat_difference(cases[0].figures, cases[1].figures, FIGURE_STILL_TO_BUY, &difference));
    assert_near(difference.low, 100.0, 1e-9);
    assert_near(difference.high, 100.0, 1e-9);
    assert_true(boat_difference(cases[0].figures, cases[1].figures, FIGURE_MASS, &difference));
    assert_near(difference.low, 12.0, 1e-9);
    assert_near(difference.high, 12.0, 1e-9);
    assert_cell(&c, 0, "still-to-buy", 0, "700.00..900.00 EUR", MARK_WORST);
    assert_cell(&c, 0, "still-to-buy", 1, "600.00..800.00 EUR", MARK_BEST);
    assert_cell(&c, 0, "mass", 1, "23..28 kg", MARK_BEST);
    assert_cell(&c, 0, "cost", 0, cell(&c, 0, "cost", 0)->text, MARK_WORST);
    assert_int_equal(c.comparison->choices[0].options[0].dominated_by, 1);
    assert_non_null(strstr(c.comparison->choices[0].options[0].worse_in, "still to buy"));
    assert_int_equal(c.comparison->choices[0].options[1].dominated_by, -1);
    end(&c);
}

static void prices_of_the_options_that_overlap_are_not_told_apart(void **state)
{
    Compared c;
    (void)state;
    compare(&c, PURSE "choice cooking {\n"
                      "  option gas { item stove { price 300..400 EUR } }\n"
                      "  option spirit { item stove { price 390 EUR } }\n"
                      "}\n");
    assert_cell(&c, 0, "cost", 0, cell(&c, 0, "cost", 0)->text, MARK_NONE);
    assert_cell(&c, 0, "cost", 1, cell(&c, 0, "cost", 1)->text, MARK_NONE);
    assert_int_equal(c.comparison->choices[0].options[0].dominated_by, -1);
    assert_int_equal(c.comparison->choices[0].options[1].dominated_by, -1);
    end(&c);
}

static void a_thing_without_a_price_is_no_gift(void **state)
{
    Compared c;
    (void)state;
    compare(&c, PURSE "choice cooking {\n"
                      "  option gas { item stove { mass 4 kg } }\n"
                      "  option spirit { item stove { price 390 EUR; mass 4 kg } }\n"
                      "}\n");
    const CompareCell *free_stove = cell(&c, 0, "cost", 0);
    assert_int_equal(free_stove->mark, MARK_NONE);
    assert_string_equal(free_stove->remark, "without `stove`");
    assert_null(cell(&c, 0, "cost", 1)->remark);
    assert_cell(&c, 0, "mass", 0, "19..24 kg", MARK_NONE);
    assert_int_equal(c.comparison->choices[0].options[1].dominated_by, -1);
    end(&c);
}

/* What one option sets on a thing of both counts for it alone. */
static void what_an_option_sets_counts(void **state)
{
    Compared c;
    (void)state;
    compare(&c, PURSE "choice ground {\n"
                      "  option heavy { set anchor.price 700 EUR }\n"
                      "  option light { set anchor.note \"As it is.\" }\n"
                      "}\n");
    assert_cell(&c, 0, "still-to-buy", 0, "700.00 EUR", MARK_WORST);
    assert_cell(&c, 0, "still-to-buy", 1, "300.00..500.00 EUR", MARK_BEST);
    assert_string_equal(c.comparison->choices[0].options[0].sets, "`anchor.price`");
    assert_null(c.comparison->choices[0].options[0].brings);
    end(&c);
}

static void equal_values_have_no_mark_and_what_is_ordered_is_not_judged(void **state)
{
    Compared c;
    (void)state;
    compare(&c, PURSE "choice cooking {\n"
                      "  option gas { item stove { price 300 EUR; mass 9 kg; ordered 2027-02-20 } }\n"
                      "  option spirit { item stove { price 300 EUR; mass 9 kg } }\n"
                      "  option coal { item stove { price 900 EUR; mass 9 kg } }\n"
                      "}\n");
    assert_cell(&c, 0, "still-to-buy", 0, "300.00..500.00 EUR", MARK_BEST);
    assert_cell(&c, 0, "committed", 0, "300.00 EUR", MARK_NONE);
    assert_cell(&c, 0, "committed", 1, "0.00 EUR", MARK_NONE);
    assert_cell(&c, 0, "findings.faults", 0, "0", MARK_NONE);
    assert_cell(&c, 0, "findings.faults", 1, "0", MARK_NONE);
    assert_true(find_row(&c.comparison->choices[0], "findings.faults")->same);
    assert_true(find_row(&c.comparison->choices[0], "mass")->same); /* a range, of the anchor that all have */
    assert_false(find_row(&c.comparison->choices[0], "committed")->same);
    /* The stove of `gas` is ordered: with each of the others that may be gone, and the cost alone advises nothing. */
    assert_cell(&c, 0, "cost", 2, cell(&c, 0, "cost", 2)->text, MARK_NONE);
    assert_cell(&c, 0, "cost-in-all", 0, cell(&c, 0, "cost", 0)->text, MARK_NONE);
    assert_cell(&c, 0, "cost-in-all", 2, cell(&c, 0, "cost-in-all", 2)->text, MARK_WORST);
    assert_int_equal(c.comparison->choices[0].options[2].dominated_by, 0);
    end(&c);
}

static void the_longest_lead_is_of_what_is_to_be_ordered(void **state)
{
    Compared c;
    (void)state;
    compare(&c, PURSE "supplier quay { lead 3 week }\n"
                      "item sails { price 900 EUR; lead 9 week; ordered 2027-02-01 }\n"
                      "item lines { price 90 EUR; supplier quay }\n"
                      "choice cooking {\n"
                      "  option gas { item stove { price 300 EUR; supplier quay; lead 5 week } }\n"
                      "  option spirit { item stove { price 300 EUR; lead 2 week } }\n"
                      "  option coal { item stove { price 300 EUR } }\n"
                      "}\n");
    assert_cell(&c, 0, "longest-lead", 0, "5 week", MARK_NONE);
    assert_cell(&c, 0, "longest-lead", 1, "3 week", MARK_NONE);
    assert_cell(&c, 0, "longest-lead", 2, "3 week", MARK_NONE);
    assert_string_equal(cell(&c, 0, "longest-lead", 2)->remark, "without `stove`");
    end(&c);
}

/* Judged on 2027-03-01. The one stove takes three weeks and the job a day, the other seven weeks. */
static void the_day_on_which_all_is_done_is_compared(void **state)
{
    Compared c;
    (void)state;
    compare(&c, PURSE "job fit-galley { takes 1 d; needs stove }\n"
                      "choice cooking {\n"
                      "  option gas { item stove { price 300 EUR; lead 3 week } }\n"
                      "  option spirit { item stove { price 300 EUR; lead 7 week } }\n"
                      "}\n");
    const CompareCell *gas = cell(&c, 0, "ready", 0);
    const CompareCell *spirit = cell(&c, 0, "ready", 1);
    assert_int_equal(gas->mark, MARK_BEST);
    assert_near(spirit->value.low - gas->value.low, 28.0 * 86400.0, 1e-3);
    end(&c);
    compare(&c, PURSE "job fit-galley { takes 1 d; needs stove }\n"
                      "choice cooking {\n"
                      "  option gas { item stove { price 300 EUR } }\n"
                      "  option spirit { item stove { price 300 EUR; lead 7 week } }\n"
                      "}\n");
    assert_int_equal(cell(&c, 0, "ready", 0)->mark, MARK_NONE);
    assert_int_equal(cell(&c, 0, "ready", 1)->mark, MARK_NONE);
    end(&c);
}

/* Two choices */

#define LAMPS                                                                                        \
    EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n"  \
                 "circuit lamps { fed-by house; run 2 m; wire 16 AWG; protect 10 A breaker }\n"      \
                 "day anchored { engine 0 h; shore 0 h }\n"                                          \
                 "choice light {\n"                                                                  \
                 "  option plain { load lamp { fed-by lamps; draw 2 A; use anchored 5 h } }\n"       \
                 "  option fine { load lamp { fed-by lamps; draw 1 A; use anchored 5 h } }\n"        \
                 "}\n"                                                                               \
                 "choice cold {\n"                                                                   \
                 "  option box { load fridge { fed-by lamps; draw 3 A; use anchored 10 h } }\n"      \
                 "  option none { item ice-box { price 40 EUR } }\n"                                 \
                 "}\n"

/* Lamps 10 or 5 Ah, refrigerator 30 Ah or none, at 12 V: 120 or 60 Wh, with or without 360 Wh. */
static void a_cell_covers_the_other_choices_and_a_mark_holds_within_each_of_them(void **state)
{
    Compared c;
    (void)state;
    compare(&c, LAMPS);
    assert_int_equal(c.comparison->count, 2);
    assert_int_equal(c.comparison->choices[0].tried, 2);
    assert_string_equal(c.comparison->choices[0].others, "`cold`");
    assert_cell(&c, 0, "house.daily-use@anchored", 0, "120..480 Wh", MARK_WORST);
    assert_cell(&c, 0, "house.daily-use@anchored", 1, "60..420 Wh", MARK_BEST);
    assert_cell(&c, 1, "house.daily-use@anchored", 0, "420..480 Wh", MARK_WORST);
    assert_cell(&c, 1, "house.daily-use@anchored", 1, "60..120 Wh", MARK_BEST);
    /* The first two cases have the plain lamp, with the refrigerator and without. */
    const Case *cases = c.compiled.outcome->cases;
    const Entity *day = model_find(cases[0].model, STR("anchored"));
    const Figure *with = figure_find(cases[0].figures, cases[0].model->boat, FIGURE_ENDURANCE, day);
    day = model_find(cases[1].model, STR("anchored"));
    const Figure *without = figure_find(cases[1].figures, cases[1].model->boat, FIGURE_ENDURANCE, day);
    assert_near(cell(&c, 0, "endurance@anchored", 0)->value.low, with->low, 0.0);
    assert_near(cell(&c, 0, "endurance@anchored", 0)->value.high, without->high, 0.0);
    assert_true(with->high < without->low);
    assert_int_equal(cell(&c, 0, "endurance@anchored", 1)->mark, MARK_BEST);
    end(&c);
}

static void a_choice_that_is_picked_is_not_compared(void **state)
{
    Compared c;
    (void)state;
    compare(&c, EXAMPLE_BOAT "choice one { option only { item a { price 1 EUR } } }\n"
                             "choice two { option left { item b }; option right { item c }; pick left }\n");
    assert_int_equal(c.comparison->count, 0);
    end(&c);
}

/* Of 20 kg out of 5600 kg nobody can tell how she lies: check and book refuse it, and so does the table. With a hull placed it says it. */
static void an_angle_that_rests_on_little_is_not_compared(void **state)
{
    Compared c;
    (void)state;
#define LYING(HULL)                                                                                                     \
    "edition 1\nboat b { length 9.6 m; waterline 8.7 m; beam 3.2 m; draft 0.9 m; displacement 5600 kg; crew 2; "         \
    "currency EUR; basis iso; gm 0.9 m }\n" HULL                                                                          \
    "choice two { option left { item p { mass 20 kg; at 1 m 1 m 0 m } }; option right { item q { mass 20 kg; at 8 m -1 m 0 m } } }\n"
    compare(&c, LYING(""));
    assert_null(find_row(&c.comparison->choices[0], "trim"));
    assert_null(find_row(&c.comparison->choices[0], "heel"));
    end(&c);
    compare(&c, LYING("item hull { mass 5000 kg; at 4.35 m 0 m 0.2 m }\n"));
    assert_non_null(find_row(&c.comparison->choices[0], "heel"));
    end(&c);
}

/*
 * Thirteen choices of two options are more combinations than are computed: the others stand at their first option, then at
 * their last.
 */
static void of_too_many_combinations_one_is_compared(void **state)
{
    char spec[4096];
    Compared c;
    (void)state;
    int used = snprintf(spec, sizeof spec, EXAMPLE_BOAT);
    for (int i = 0; i < 13; i++) {
        used += snprintf(spec + used, sizeof spec - (size_t)used,
                         "choice c%d { option a { item a%d { price %d EUR } }; option b { item b%d { price 1 EUR } } }\n", i, i,
                         i + 2, i);
    }
    compare(&c, spec);
    assert_true(c.compiled.outcome->sampled);
    assert_int_equal(c.comparison->count, 13);
    for (uint32_t i = 0; i < 13; i++) {
        assert_int_equal(c.comparison->choices[i].tried, 2);
        assert_int_equal(cell(&c, i, "cost", 1)->mark, MARK_BEST);
    }
    end(&c);
}

/* Scores */

#define CRITERIA EXAMPLE_BOAT "criterion mend { weight 3 }\ncriterion calm { weight 2 }\ncriterion dear\n"

/* fine: 3 x 5 points for mend, and 0 to 5 twice for calm, of which nothing is said: 15..25 of 25. */
static void what_is_not_scored_is_said_and_is_not_zero(void **state)
{
    Compared c;
    (void)state;
    compare(&c, CRITERIA "choice light {\n"
                         "  option plain { item a; score mend 4 of 5; score calm 3 of 5 }\n"
                         "  option fine { item b; score mend 5 of 5 }\n"
                         "}\n");
    assert_cell(&c, 0, "score.mend", 1, "5 of 5", MARK_BEST);
    assert_cell(&c, 0, "score.calm", 1, "not scored", MARK_NONE);
    assert_cell(&c, 0, "score", 0, "18 of 25", MARK_NONE);
    assert_cell(&c, 0, "score", 1, "15..25 of 25", MARK_NONE);
    assert_string_equal(c.comparison->choices[0].options[1].unscored, "`calm`");
    assert_string_equal(c.comparison->choices[0].unscored, "`dear`");
    end(&c);
}

/* 3 of 4 is 7.5 of 10; weight 3 each. */
static void scores_out_of_different_numbers_are_brought_to_the_greatest(void **state)
{
    Compared c;
    (void)state;
    compare(&c, CRITERIA "choice light {\n"
                         "  option plain { item a; score mend 3 of 4 }\n"
                         "  option fine { item b; score mend 8 of 10 }\n"
                         "}\n");
    assert_cell(&c, 0, "score", 0, "22.5 of 30", MARK_WORST);
    assert_cell(&c, 0, "score", 1, "24 of 30", MARK_BEST);
    end(&c);
}

/* A weight that is not decided is the same for both: 5 of 5 beats 4 of 5 whatever it is. */
static void an_undecided_weight_blurs_nothing(void **state)
{
    Compared c;
    (void)state;
    compare(&c, EXAMPLE_BOAT "criterion mend { weight 1..3 }\n"
                             "choice light {\n"
                             "  option plain { item a; score mend 4 of 5 }\n"
                             "  option fine { item b; score mend 5 of 5 }\n"
                             "}\n");
    assert_cell(&c, 0, "score", 0, "4..12 of 15", MARK_WORST);
    assert_cell(&c, 0, "score", 1, "5..15 of 15", MARK_BEST);
    end(&c);
}

/* What is said of ranges, against exact values from inside */

enum { HOLES = 6, SAMPLES = 100 };

/* Every %s is a value: a range first, then points inside of it. */
static const char template[] =
    EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity %s Ah; resistance 3 mohm; price %s EUR; mass 58 kg }\n"
                 "circuit lamps { fed-by house; run 2 m; wire 16 AWG; protect 10 A breaker }\n"
                 "day anchored { engine 0 h; shore 0 h }\n"
                 "load lamp { fed-by lamps; draw %s A; use anchored 5 h; price 20 EUR; mass 1 kg }\n"
                 "criterion mend { weight %s }\n"
                 "choice cold {\n"
                 "  option box { load fridge { fed-by lamps; draw %s A; use anchored 10 h; price %s EUR; mass 20 kg }\n"
                 "    score mend 2 of 5 }\n"
                 "  option ice { item ice-box { price 40 EUR; mass 4 kg }\n    score mend 5 of 5 }\n"
                 "  option both { load fridge { fed-by lamps; draw 5 A; use anchored 10 h; price 900 EUR; mass 30 kg }\n"
                 "    score mend 1 of 5 }\n"
                 "}\n"
                 "choice light {\n"
                 "  option plain { item torch { price 10 EUR; mass 1 kg } }\n"
                 "  option fine { item torch { price 30 EUR; mass 1 kg } }\n"
                 "}\n";
static const double ends[HOLES][2] = {{180, 260}, {300, 700}, {0.5, 2}, {1, 4}, {2, 6}, {500, 1000}};

static void compare_with(Compared *compared, char values[HOLES][40])
{
    char spec[4096];
    snprintf(spec, sizeof spec, template, values[0], values[1], values[2], values[3], values[4], values[5]);
    compare(compared, spec);
}

static void assert_agrees(const CompareChoice *ranged, const CompareChoice *exact)
{
    for (const CompareRow *row = ranged->rows; row != NULL; row = row->next) {
        const CompareRow *there = find_row(exact, row->name);
        assert_non_null(there);
        for (uint32_t o = 0; o < ranged->option_count; o++) {
            const CompareCell *wide = &row->cells[o];
            const CompareCell *narrow = &there->cells[o];
            if (wide->mark != MARK_NONE && wide->mark != narrow->mark) {
                fail_msg("%s: %s is marked over the range, and not inside of it", row->name, wide->text);
            }
            if (wide->state == COMPARE_KNOWN) {
                double slack = 1e-9 * fabs(wide->value.high);
                assert_true(wide->value.low - slack <= narrow->value.low);
                assert_true(narrow->value.high <= wide->value.high + slack);
            }
        }
    }
    for (uint32_t o = 0; o < ranged->option_count; o++) {
        assert_true(ranged->options[o].dominated_by < 0 || exact->options[o].dominated_by >= 0);
    }
}

static void what_is_said_of_ranges_holds_inside_of_them(void **state)
{
    char values[HOLES][40];
    uint64_t chance = 20270301;
    Compared ranged;
    (void)state;
    for (int h = 0; h < HOLES; h++) {
        snprintf(values[h], sizeof values[h], "%g..%g", ends[h][0], ends[h][1]);
    }
    compare_with(&ranged, values);
    /* `both` draws and costs more than `ice`, and is scored lower, whatever is decided. */
    assert_int_equal(ranged.comparison->choices[0].options[2].dominated_by, 1);
    for (int s = 0; s < SAMPLES; s++) {
        Compared exact;
        for (int h = 0; h < HOLES; h++) {
            double share = random_below(&chance, 101) / 100.0;
            snprintf(values[h], sizeof values[h], "%.4f", ends[h][0] + share * (ends[h][1] - ends[h][0]));
        }
        compare_with(&exact, values);
        for (uint32_t i = 0; i < 2; i++) {
            assert_agrees(&ranged.comparison->choices[i], &exact.comparison->choices[i]);
        }
        end(&exact);
    }
    end(&ranged);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_options_share_does_not_blur_a_difference),
        cmocka_unit_test(prices_of_the_options_that_overlap_are_not_told_apart),
        cmocka_unit_test(a_thing_without_a_price_is_no_gift),
        cmocka_unit_test(what_an_option_sets_counts),
        cmocka_unit_test(equal_values_have_no_mark_and_what_is_ordered_is_not_judged),
        cmocka_unit_test(the_longest_lead_is_of_what_is_to_be_ordered),
        cmocka_unit_test(the_day_on_which_all_is_done_is_compared),
        cmocka_unit_test(a_cell_covers_the_other_choices_and_a_mark_holds_within_each_of_them),
        cmocka_unit_test(a_choice_that_is_picked_is_not_compared),
        cmocka_unit_test(an_angle_that_rests_on_little_is_not_compared),
        cmocka_unit_test(of_too_many_combinations_one_is_compared),
        cmocka_unit_test(what_is_not_scored_is_said_and_is_not_zero),
        cmocka_unit_test(scores_out_of_different_numbers_are_brought_to_the_greatest),
        cmocka_unit_test(an_undecided_weight_blurs_nothing),
        cmocka_unit_test(what_is_said_of_ranges_holds_inside_of_them),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
