/*
 * What differs between two specs. Expected values are worked out by hand beside the test, or are what the
 * language page says of a value; how it is told in words is tested by tests/run/diff.sh.
 */
#include "check.h"
#include "compile.h"

#include "garboard.h"
#include "tools/diff_parts.h"

#include <stdio.h>
#include <stdlib.h>

/* Two small specs, and what differs. */
typedef struct Pair {
    Compiled before, after;
    const Diff *diff;
} Pair;

#define BOAT EXAMPLE_BOAT
#define BANK "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 4 mohm }\n"
#define LIGHTS "circuit lights { fed-by house; run 4 m; wire 2.5 mm2; protect 10 A breaker }\n"

static void compare(Pair *pair, const char *before, const char *after)
{
    compile_text(&pair->before, before);
    compile_text(&pair->after, after);
    pair->diff = diff_compute(&pair->after.arena, pair->before.outcome, pair->after.outcome);
}

static void end(Pair *pair)
{
    compile_free(&pair->before);
    compile_free(&pair->after);
}

/* Two texts behind the same beginning. */
static void compare_lines(Pair *pair, const char *begin, const char *before, const char *after)
{
    char old[4096];
    char now[4096];
    snprintf(old, sizeof old, "%s%s\n", begin, before);
    snprintf(now, sizeof now, "%s%s\n", begin, after);
    compare(pair, old, now);
}

static void assert_same(const char *begin, const char *before, const char *after)
{
    Pair pair;
    compare_lines(&pair, begin, before, after);
    if (diff_is_different(pair.diff)) {
        print_error("`%s` and `%s` are told apart\n", before, after);
        fail();
    }
    end(&pair);
}

static const DiffItem *item_of(const Pair *pair, const char *name)
{
    for (const DiffItem *item = pair->diff->items; item != NULL; item = item->next) {
        if (strcmp(item->name, name) == 0) {
            return item;
        }
    }
    return NULL;
}

static const DiffLine *line_of(const DiffItem *item, const char *property)
{
    for (const DiffLine *line = item != NULL ? item->lines : NULL; line != NULL; line = line->next) {
        if (strcmp(line->property, property) == 0) {
            return line;
        }
    }
    return NULL;
}

static void assert_line(const DiffLine *line, const char *before, const char *after)
{
    assert_non_null(line);
    assert_string_equal(line->before != NULL ? line->before : "(none)", before != NULL ? before : "(none)");
    assert_string_equal(line->after != NULL ? line->after : "(none)", after != NULL ? after : "(none)");
}

static const DiffFigure *figure_of_pair(const Pair *pair, const char *subject, const char *name)
{
    for (const DiffFigure *figure = pair->diff->figures; figure != NULL; figure = figure->next) {
        if (strcmp(figure->subject, subject) == 0 && strcmp(figure->name, name) == 0) {
            return figure;
        }
    }
    return NULL;
}

static const DiffFinding *finding_in(const DiffFindingList *list, const char *rule)
{
    for (const DiffFinding *pair = list->first; pair != NULL; pair = pair->next) {
        const Finding *any = pair->after != NULL ? pair->after : pair->before;
        if (strcmp(any->rule->name, rule) == 0) {
            return pair;
        }
    }
    return NULL;
}

/* Values */

/* Each row: two ways to write one value, by the definitions of the units (an inch is 25.4 mm). */
static void one_value_written_in_two_ways_is_no_difference(void **state)
{
    (void)state;
    static const char *const rows[][2] = {
        {"item a { mass 4.5 kg }", "item a { mass 4500g }"},
        {"item a { mass 4.5 kg }", "item a {\n  mass   4.50 kg  # weighed\n}"},
        {"item a { mass 1..2 kg }", "item a { mass 1_000..2_000 g }"},
        {"item a { mass 10 +/- 2 kg }", "item a { mass 8..12 kg }"},
        {"item a { mass 10 kg +/- 20 % }", "item a { mass 8..12 kg }"},
        {"item a { price 412 EUR }", "item a { price 412.00 EUR }"},
        {"item a { at 1000 mm 0 m 1 ft }", "item a { at 1 m 0 mm 12 in }"},
        {"item a { at 6 ft 3 in 0 m 0 m }", "item a { at 75 in 0 m 0 m }"},
        {"item a { lead 2 week }", "item a { lead 14 d }"},
        {"item a { note \"one\" \"two\" }", "item a { note \"one two\" }"},
        {"item a \"A\" \"B\" { mass 1 kg }", "item a \"A B\" { mass 1 kg }"},
        {"space s { temperature 32 F }", "space s { temperature 0 C }"},
        {"item a { mass ? }", "item a {\n  mass ?\n}"},
        {"item a { mass 1 kg; price 2 EUR }", "item a { price 2 EUR; mass 1 kg }"},
        {"item a { mass 1 kg }\nitem b { mass 2 kg }", "item b { mass 2 kg }\nitem a { mass 1 kg }"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        assert_same(BOAT, rows[i][0], rows[i][1]);
    }
}

static void values_that_only_look_alike_are_told_apart(void **state)
{
    (void)state;
    /* of a load, then what each way to write it is told as */
    static const char *const rows[][2] = {
        {"draw 5 A", "draw 5 W"},          /* the same number of another measure */
        {"draw ?", "draw 0..40 A"},        /* a hole is no range */
        {"draw <= 5 A", "draw 0..5 A"},    /* nor is a bound */
        {"draw 5 A", "draw 5 A measured"}, /* how well it is known */
        {"draw 5 A", "draw 5.00001 A"},    {"wire 10 AWG", "wire 10 SAE"}, /* sizes of two series */
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char before[256];
        char after[256];
        Pair pair;
        const char *draw = strncmp(rows[i][0], "wire", 4) == 0 ? "draw 5 A; " : "";
        snprintf(before, sizeof before, "load pump-1 { fed-by house; run 1 m; %s%s }", draw, rows[i][0]);
        snprintf(after, sizeof after, "load pump-1 { fed-by house; run 1 m; %s%s }", draw, rows[i][1]);
        compare_lines(&pair, BOAT BANK, before, after);
        const char *word = *draw != 0 ? "wire" : "draw";
        assert_line(line_of(item_of(&pair, "pump-1"), word), rows[i][0] + 5, rows[i][1] + 5);
        end(&pair);
    }
}

/* The spaces that a cable passes are a set; the days of a cruise follow one another. */
static void a_list_of_names_has_no_order_and_days_have_one(void **state)
{
    (void)state;
    Pair pair;
    const char *spaces = BOAT BANK "space a { wet yes }\nspace b { wet yes }\n";
    assert_same(spaces, "circuit c { fed-by house; through a, b }",
                "circuit c { fed-by house; through b, a }");
    compare_lines(&pair, spaces, "circuit c { fed-by house; through a, b }",
                  "circuit c { fed-by house; through a }");
    assert_line(line_of(item_of(&pair, "c"), "through"), "a, b", "a");
    end(&pair);
    compare_lines(&pair, BOAT "day x { sun 1 h }\nday y { sun 2 h }\n", "cruise c { days 1 x, 2 y }",
                  "cruise c { days 2 y, 1 x }");
    assert_line(line_of(item_of(&pair, "c"), "days"), "1 x, 2 y", "2 y, 1 x");
    end(&pair);
}

static void what_is_no_longer_stated_shows_what_is_assumed_instead(void **state)
{
    (void)state;
    Pair pair;
    compare_lines(&pair, BOAT BANK, "load l { fed-by house; draw 1 A; count 2 }",
                  "load l { fed-by house; draw 1 A }");
    const DiffLine *line = line_of(item_of(&pair, "l"), "count");
    assert_line(line, "2", NULL);
    assert_string_equal(line->assumed, props[PROP_COMMON_COUNT].assumed);
    end(&pair);
}

static void lines_that_repeat_are_paired_by_their_first_value(void **state)
{
    (void)state;
    Pair pair;
    const char *days = BOAT BANK "day x { sun 1 h }\nday y { sun 2 h }\n";
    compare_lines(&pair, days, "load l { fed-by house; draw 1 A; use x 1 h; use y 2 h }",
                  "load l { fed-by house; draw 1 A; use y 2 h; use x 3 h }");
    const DiffItem *item = item_of(&pair, "l");
    assert_line(line_of(item, "use"), "x 1 h", "x 3 h");
    assert_null(line_of(item, "use")->next);
    end(&pair);
}

/* Names */

static void a_renamed_bank_is_followed_by_all_that_names_it(void **state)
{
    (void)state;
    Pair pair;
    compare(&pair, BOAT BANK LIGHTS "load l { fed-by lights; draw 1 A }\n",
            BOAT "bank store was house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 4 mohm }\n"
                 "circuit lights { fed-by store; run 4 m; wire 2.5 mm2; protect 10 A breaker }\n"
                 "load l { fed-by lights; draw 1 A }\n");
    const DiffItem *item = item_of(&pair, "store");
    assert_non_null(item);
    assert_string_equal(item->was, "house");
    assert_null(item->lines);
    assert_null(item->next); /* the circuit that names it does not differ */
    assert_null(pair.diff->figures);
    assert_int_equal(pair.diff->findings.fresh.count + pair.diff->findings.gone.count, 0);
    assert_true(diff_is_different(pair.diff));
    end(&pair);
}

static void without_was_another_name_is_another_thing(void **state)
{
    (void)state;
    Pair pair;
    compare(&pair, BOAT "item a { mass 1 kg }\n", BOAT "item b { mass 1 kg }\n");
    assert_int_equal(item_of(&pair, "b")->how, DIFF_ADDED);
    assert_int_equal(item_of(&pair, "a")->how, DIFF_REMOVED);
    end(&pair);
}

static void a_was_that_both_specs_have_says_nothing_new(void **state)
{
    (void)state;
    assert_same(BOAT, "item b was a { mass 1 kg }\nitem a { mass 2 kg }",
                "item a { mass 2 kg }\nitem b was a { mass 1 kg }");
}

static void a_was_that_names_nothing_is_an_addition(void **state)
{
    (void)state;
    Pair pair;
    compare(&pair, BOAT, BOAT "item b was a { mass 1 kg }\n");
    assert_int_equal(item_of(&pair, "b")->how, DIFF_ADDED);
    end(&pair);
}

/* Choices */

#define CHOICE(lean, stout, pick)                                                                       \
    "choice size { option lean { item rope { mass " lean " } }\noption stout { item rope { mass " stout \
    " } }\n" pick "}\n"

static void a_pick_is_told_and_the_things_are_compared_with_those_picked_before(void **state)
{
    (void)state;
    Pair pair;
    compare(&pair, BOAT CHOICE("1 kg", "2 kg", "pick lean\n"), BOAT CHOICE("1 kg", "2 kg", "pick stout\n"));
    assert_non_null(pair.diff->choices);
    assert_string_equal(pair.diff->choices->lines->property, "pick");
    assert_line(pair.diff->choices->lines, "lean", "stout");
    assert_line(line_of(item_of(&pair, "rope"), "mass"), "1 kg", "2 kg");
    assert_null(item_of(&pair, "rope")->next);
    end(&pair);
}

static void deciding_a_choice_changes_no_thing_that_is_as_it_was(void **state)
{
    (void)state;
    Pair pair;
    compare(&pair, BOAT CHOICE("1 kg", "2 kg", ""), BOAT CHOICE("1 kg", "2 kg", "pick stout\n"));
    assert_null(pair.diff->items);
    assert_line(pair.diff->choices->lines, NULL, "stout");
    const DiffFigure *mass = figure_of_pair(&pair, "wren", "mass");
    assert_near(mass->before.figure.low, 1.0, 0.0); /* both options covered: 1..2 kg */
    assert_near(mass->before.figure.high, 2.0, 0.0);
    assert_near(mass->after.figure.low, 2.0, 0.0);
    end(&pair);
}

static void an_option_that_is_not_picked_is_compared_by_value_too(void **state)
{
    (void)state;
    Pair pair;
    assert_same(BOAT, CHOICE("1 kg", "2 kg", "pick lean\n"), CHOICE("1 kg", "2000 g", "pick lean\n"));
    compare(&pair, BOAT CHOICE("1 kg", "2 kg", "pick lean\n"), BOAT CHOICE("1 kg", "3 kg", "pick lean\n"));
    const DiffItem *item = item_of(&pair, "rope");
    assert_line(line_of(item, "mass"), "2 kg", "3 kg");
    assert_string_equal(item->where, "size=stout");
    assert_null(pair.diff->figures); /* the boat does not have it */
    end(&pair);
}

/* What an option sets is the boat's if it is picked, left open while it may be, and nothing if it is not. */
static void what_options_set_is_told_by_what_is_picked(void **state)
{
    (void)state;
    Pair pair;
    const char *rope = BOAT "item rope { mass 1 kg }\n";
    compare_lines(&pair, rope, "choice size { option lean { set rope.price 2 EUR } }",
                  "choice size { option lean { set rope.price 2 EUR }\npick lean\n}");
    assert_line(line_of(item_of(&pair, "rope"), "price"), "left to an open choice", "2 EUR");
    end(&pair);
    assert_same(rope, "choice size { option lean { set rope.price 2 EUR }\noption none { }\npick none\n}",
                "choice size { option lean { set rope.price 2.00 EUR }\noption none { }\npick none\n}");
    compare_lines(&pair, rope,
                  "choice size { option lean { set rope.price 2 EUR }\noption none { }\npick none\n}",
                  "choice size { option lean { set rope.price 3 EUR }\noption none { }\npick none\n}");
    const DiffItem *item = item_of(&pair, "rope");
    assert_true(item->set);
    assert_line(line_of(item, "price"), "2 EUR", "3 EUR");
    assert_null(item->next);
    end(&pair);
}

static void comparing_leaves_the_picks_and_mistakes_of_a_spec_alone(void **state)
{
    (void)state;
    Pair pair;
    compare(&pair, BOAT CHOICE("1 kg", "2 kg", "pick lean\n"), BOAT CHOICE("1 kg", "3 kgs", "pick lean\n"));
    assert_int_equal(pair.before.spec->choices[0].picked, 0);
    assert_int_equal(pair.after.spec->choices[0].picked, 0);
    assert_int_equal(pair.before.spec->messages.count, pair.before.outcome->mistakes);
    assert_int_equal(pair.after.spec->messages.count, pair.after.outcome->mistakes);
    end(&pair);
}

/* Figures: 24 kg and 18 kg are 42 kg; without the 18 kg 24 kg are left: -18 kg, -18/42 = -42.857... %. */
static void a_change_is_the_difference_and_its_share_of_the_old_value(void **state)
{
    (void)state;
    Pair pair;
    double change;
    double percent;
    compare(&pair, BOAT "item a { mass 24 kg }\nitem b { mass 18 kg }\n", BOAT "item a { mass 24 kg }\n");
    const DiffFigure *mass = figure_of_pair(&pair, "wren", "mass");
    assert_true(mass->of_boat);
    assert_true(figure_change(mass, false, &change, &percent));
    assert_near(change, -18.0, 1e-12);
    assert_near(percent, -1800.0 / 42.0, 1e-12);
    end(&pair);
}

/* 1..2 kg to 2..6 kg: the low end by 1 kg and 100 %, the high end by 4 kg and 200 %. */
static void both_ends_of_a_range_are_subtracted(void **state)
{
    (void)state;
    Pair pair;
    double change;
    double percent;
    compare(&pair, BOAT "item a { mass 1..2 kg }\n", BOAT "item a { mass 2..6 kg }\n");
    const DiffFigure *mass = figure_of_pair(&pair, "wren", "mass");
    assert_true(figure_change(mass, false, &change, &percent));
    assert_near(change, 1.0, 1e-12);
    assert_near(percent, 100.0, 1e-9);
    assert_true(figure_change(mass, true, &change, &percent));
    assert_near(change, 4.0, 1e-12);
    assert_near(percent, 200.0, 1e-9);
    end(&pair);
}

/* From nothing no share can be told; and what was unlimited has moved by nothing that can be said. */
static void a_change_that_cannot_be_said_is_not_said(void **state)
{
    (void)state;
    Pair pair;
    double change;
    double percent;
    const char *day = BOAT BANK "day x { sun 0 h }\n";
    compare_lines(&pair, day, "load l { fed-by house; draw 1 A; use x 0 h }",
                  "load l { fed-by house; draw 1 A; use x 1 h }");
    const DiffFigure *use = figure_of_pair(&pair, "house", "daily-use@x");
    assert_true(figure_change(use, false, &change, &percent));
    assert_true(isnan(percent));
    const DiffFigure *lasts = figure_of_pair(&pair, "house", "endurance@x");
    assert_string_equal(lasts->before.text, "unlimited");
    assert_false(figure_change(lasts, false, &change, &percent));
    end(&pair);
}

static void digits_that_print_alike_are_no_move(void **state)
{
    (void)state;
    Pair pair;
    compare(&pair, BOAT "item a { mass 1234.00 kg }\n", BOAT "item a { mass 1234.001 kg }\n");
    assert_line(line_of(item_of(&pair, "a"), "mass"), "1234.00 kg", "1234.001 kg");
    assert_null(figure_of_pair(&pair, "wren", "mass"));
    end(&pair);
}

/* Findings */

static void a_finding_that_was_open_and_is_settled_has_gone(void **state)
{
    (void)state;
    const Rule *rule = rule_find(STR("wire-overloaded"));
    Pair pair;
    compare(&pair, rule->open, rule->holds);
    const DiffFinding *gone = finding_in(&pair.diff->findings.gone, "wire-overloaded");
    assert_non_null(gone);
    assert_int_equal(gone->before->verdict, VERDICT_OPEN);
    assert_null(gone->after);
    end(&pair);
    compare(&pair, rule->open, rule->breaks);
    const DiffFinding *changed = finding_in(&pair.diff->findings.changed, "wire-overloaded");
    assert_non_null(changed);
    assert_int_equal(changed->before->verdict, VERDICT_OPEN);
    assert_int_equal(changed->after->verdict, VERDICT_BROKEN);
    end(&pair);
}

static void a_new_finding_and_a_gone_one_are_each_others_mirror(void **state)
{
    (void)state;
    const Rule *rule = rule_find(STR("wire-overloaded"));
    Pair there;
    Pair back;
    compare(&there, rule->holds, rule->breaks);
    compare(&back, rule->breaks, rule->holds);
    assert_non_null(finding_in(&there.diff->findings.fresh, "wire-overloaded"));
    assert_int_equal(there.diff->findings.fresh.count, back.diff->findings.gone.count);
    assert_int_equal(there.diff->findings.gone.count, back.diff->findings.fresh.count);
    assert_int_equal(there.diff->findings.still, back.diff->findings.still);
    end(&there);
    end(&back);
}

static void a_waiver_changes_the_state_of_its_finding(void **state)
{
    (void)state;
    Pair pair;
    const char *lamp = BOAT "item lamp { price 4.00 EUR; ordered 2026-12-01; promised 2027-02-01 }\n";
    compare_lines(&pair, lamp, "", "waive late on lamp because \"No hurry.\"");
    assert_non_null(pair.diff->waivers);
    assert_null(pair.diff->waivers->before);
    const DiffFinding *late = finding_in(&pair.diff->findings.changed, "late");
    assert_non_null(late);
    assert_null(late->before->waiver);
    assert_non_null(late->after->waiver);
    end(&pair);
}

static void a_goal_is_met_or_lost(void **state)
{
    (void)state;
    Pair pair;
    compare(&pair, BOAT "item a { price 90 EUR }\ngoal purse { budget 100 EUR }\n",
            BOAT "item a { price 110 EUR }\ngoal purse { budget 100 EUR }\n");
    assert_non_null(pair.diff->goals);
    assert_string_equal(pair.diff->goals->before, "met");
    assert_string_equal(pair.diff->goals->after, "missed");
    end(&pair);
}

/* Everything against itself */

static void count_rules(const char *text, int *count)
{
    if (text != NULL) {
        assert_same("", text, text);
        (*count)++;
    }
}

/* Every example of every rule, one of which at least is wrong in its way. */
static void an_example_of_a_rule_differs_in_nothing_from_itself(void **state)
{
    (void)state;
    int count = 0;
    for (size_t f = 0; f < rule_family_count; f++) {
        for (size_t r = 0; r < rule_families[f]->count; r++) {
            const Rule *rule = &rule_families[f]->rules[r];
            count_rules(rule->breaks, &count);
            count_rules(rule->holds, &count);
            count_rules(rule->open, &count);
        }
    }
    assert_true(count > 100);
}

static void a_compilation_can_be_compared_with_itself(void **state)
{
    (void)state;
    Compiled one;
    compile_text(&one, BOAT BANK LIGHTS CHOICE("1 kg", "2 kg", ""));
    assert_false(diff_is_different(diff_compute(&one.arena, one.outcome, one.outcome)));
    compile_free(&one);
}

/* The library */

/* Gives memory until `left` calls have been made, and counts what is not given back. */
typedef struct Counted {
    long left;
    long out;
} Counted;

static void *counted_allocate(void *context, size_t size)
{
    Counted *counted = context;
    if (counted->left == 0) {
        return NULL;
    }
    counted->left--;
    counted->out++;
    return malloc(size);
}

static void counted_release(void *context, void *memory)
{
    if (memory != NULL) {
        ((Counted *)context)->out--;
        free(memory);
    }
}

static GbCompilation *compile_given(const char *text, Counted *counted)
{
    GbCompilation *boat;
    GbRequest request = {.path = "test.boat",
                         .text = text,
                         .length = strlen(text),
                         .reader = gb_reader_files(),
                         .today = "2027-03-01",
                         .allocator = {counted_allocate, counted_release, counted}};
    assert_int_equal(gb_compile(&request, &boat), GB_DONE);
    return boat;
}

static const char *const old_text =
    BOAT BANK LIGHTS CHOICE("1 kg", "2 kg", "pick lean\n") "load l { fed-by lights; draw 1 A }\n";
static const char *const new_text =
    BOAT BANK LIGHTS CHOICE("1 kg", "4 kg", "pick stout\n") "load l { fed-by lights; draw 2 A }\n";

static void an_unknown_format_is_refused_with_a_reason(void **state)
{
    (void)state;
    Counted counted = {.left = -1};
    GbCompilation *before = compile_given(old_text, &counted);
    GbCompilation *after = compile_given(new_text, &counted);
    GbText text;
    bool different;
    assert_int_equal(gb_diff(before, after, "csv", &text, &different), GB_BAD_REQUEST);
    assert_non_null(strstr(gb_error(after), "csv"));
    assert_int_equal(gb_diff(before, after, "json", &text, &different), GB_DONE);
    assert_true(different);
    gb_free(before);
    gb_free(after);
    assert_int_equal(counted.out, 0);
}

static void comparing_changes_no_output_of_either(void **state)
{
    (void)state;
    Counted counted = {.left = -1};
    GbCompilation *before = compile_given(old_text, &counted);
    GbCompilation *after = compile_given(new_text, &counted);
    GbText told;
    GbText first;
    GbText again;
    bool different;
    assert_int_equal(gb_output(before, "check", "json", NULL, &first), GB_DONE);
    assert_int_equal(gb_diff(before, after, "text", &told, &different), GB_DONE);
    assert_int_equal(gb_output(before, "check", "json", NULL, &again), GB_DONE);
    assert_int_equal(first.length, again.length);
    assert_memory_equal(first.text, again.text, first.length);
    assert_int_equal(gb_diff(before, after, "text", &first, &different), GB_DONE);
    assert_int_equal(first.length, told.length);
    assert_memory_equal(first.text, told.text, told.length);
    gb_free(before);
    gb_free(after);
}

/* A spec with many things, so that comparing needs more than what its arenas have left. */
static const char *long_text(char *buffer, size_t size, const char *begin, const char *mass)
{
    size_t at = (size_t)snprintf(buffer, size, "%s", begin);
    for (int i = 0; i < 800; i++) {
        at +=
            (size_t)snprintf(buffer + at, size - at, "item item-%d { mass %d%s; price 1 EUR }\n", i, i, mass);
    }
    assert_true(at < size);
    return buffer;
}

/* Wherever memory runs out in comparing, it is said, and all of it can be given back. */
static void memory_that_runs_out_anywhere_is_told_and_given_back(void **state)
{
    (void)state;
    static char buffers[2][64 * 1024];
    const char *old_long = long_text(buffers[0], sizeof buffers[0], old_text, " kg");
    const char *new_long = long_text(buffers[1], sizeof buffers[1], new_text, ".5 kg");
    int failures = 0;
    bool done = false;
    for (long most = 0; !done; most++) {
        Counted one = {.left = -1};
        Counted two = {.left = -1};
        GbCompilation *before = compile_given(old_long, &one);
        GbCompilation *after = compile_given(new_long, &two);
        GbText text;
        bool different;
        two.left = most;
        one.left = most / 2;
        GbStatus status = gb_diff(before, after, "json", &text, &different);
        assert_true(status == GB_DONE || status == GB_OUT_OF_MEMORY);
        failures += status == GB_OUT_OF_MEMORY;
        done = status == GB_DONE;
        gb_free(after);
        gb_free(before);
        assert_int_equal(one.out, 0);
        assert_int_equal(two.out, 0);
    }
    assert_true(failures > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_value_written_in_two_ways_is_no_difference),
        cmocka_unit_test(values_that_only_look_alike_are_told_apart),
        cmocka_unit_test(a_list_of_names_has_no_order_and_days_have_one),
        cmocka_unit_test(what_is_no_longer_stated_shows_what_is_assumed_instead),
        cmocka_unit_test(lines_that_repeat_are_paired_by_their_first_value),
        cmocka_unit_test(a_renamed_bank_is_followed_by_all_that_names_it),
        cmocka_unit_test(without_was_another_name_is_another_thing),
        cmocka_unit_test(a_was_that_both_specs_have_says_nothing_new),
        cmocka_unit_test(a_was_that_names_nothing_is_an_addition),
        cmocka_unit_test(a_pick_is_told_and_the_things_are_compared_with_those_picked_before),
        cmocka_unit_test(deciding_a_choice_changes_no_thing_that_is_as_it_was),
        cmocka_unit_test(an_option_that_is_not_picked_is_compared_by_value_too),
        cmocka_unit_test(what_options_set_is_told_by_what_is_picked),
        cmocka_unit_test(comparing_leaves_the_picks_and_mistakes_of_a_spec_alone),
        cmocka_unit_test(a_change_is_the_difference_and_its_share_of_the_old_value),
        cmocka_unit_test(both_ends_of_a_range_are_subtracted),
        cmocka_unit_test(a_change_that_cannot_be_said_is_not_said),
        cmocka_unit_test(digits_that_print_alike_are_no_move),
        cmocka_unit_test(a_finding_that_was_open_and_is_settled_has_gone),
        cmocka_unit_test(a_new_finding_and_a_gone_one_are_each_others_mirror),
        cmocka_unit_test(a_waiver_changes_the_state_of_its_finding),
        cmocka_unit_test(a_goal_is_met_or_lost),
        cmocka_unit_test(an_example_of_a_rule_differs_in_nothing_from_itself),
        cmocka_unit_test(a_compilation_can_be_compared_with_itself),
        cmocka_unit_test(an_unknown_format_is_refused_with_a_reason),
        cmocka_unit_test(comparing_changes_no_output_of_either),
        cmocka_unit_test(memory_that_runs_out_anywhere_is_told_and_given_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
