/*
 * The manual and the starter: whatever rows the tables hold are printed, whole, and fit the terminal; what is asked for by
 * a wrong name is told with near ones; the starter compiles.
 *
 * The oracle is the tables themselves: what stands in a row must stand on the page.
 */
#include "check.h"
#include "compile.h"

#include "syntax/statement.h"
#include "tools/manual.h"
#include "tools/manual_words.h"
#include "tools/page.h"
#include "tools/starter.h"

#include <stdio.h>
#include <string.h>

/* A page of the manual, in an arena of its own. */
typedef struct Asked {
    Arena arena;
    jmp_buf failure;
    Buf text;
    const char *error;
    bool found;
} Asked;

static void ask(Asked *asked, const char *output, const char *argument, bool color)
{
    arena_init(&asked->arena, allocator_standard(), &asked->failure);
    buf_init(&asked->text, &asked->arena);
    asked->error = NULL;
    asked->found = manual_write(&asked->text, &asked->arena, output, str_from(argument), color, &asked->error);
}

static void done(Asked *asked)
{
    arena_free(&asked->arena);
}

static void must_hold(const Asked *asked, const char *piece, const char *what)
{
    if (strstr(asked->text.text, piece) == NULL) {
        fail_msg("%s: the page does not hold `%s`", what, piece);
    }
}

/* The words of a text, one blank between: what wrapping leaves as it was. */
static const char *words_of(Arena *arena, const char *text)
{
    Buf words;
    buf_init(&words, arena);
    for (const char *c = text; *c != '\0'; c++) {
        bool blank = *c == ' ' || *c == '\n';
        if (!blank || (words.length > 0 && words.text[words.length - 1] != ' ')) {
            buf_char(&words, blank ? ' ' : *c);
        }
    }
    return words.text;
}

static void must_say(Asked *asked, const char *text, const char *what)
{
    const char *page = words_of(&asked->arena, asked->text.text);
    const char *wanted = words_of(&asked->arena, text);
    if (strstr(page, wanted) == NULL) {
        fail_msg("%s: the page does not say `%s`", what, wanted);
    }
}

/* No line is wider than the terminal, examples excepted: those are never wrapped. */
static void must_fit(const Asked *asked, const char *what)
{
    const char *line = asked->text.text;
    while (*line != '\0') {
        size_t length = strcspn(line, "\n");
        bool example = strncmp(line + strspn(line, " "), "example: ", 9) == 0;
        if (length > PAGE_COLUMNS && !example) {
            fail_msg("%s: a line of %d columns: %.*s", what, (int)length, (int)length, line);
        }
        line += length + (line[length] == '\n');
    }
}

/* ---- Kinds ---- */

static void every_kind_stands_under_one_heading(void **state)
{
    (void)state;
    int listed[KIND_COUNT] = {0};
    for (int s = 0; s < kind_section_count; s++) {
        for (KindId kind = section_next(s, KIND_NONE); kind != KIND_NONE; kind = section_next(s, kind)) {
            listed[kind]++;
        }
    }
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        if (listed[kind] != !kinds[kind].group) {
            fail_msg("`%s` is listed %d times", kinds[kind].word, listed[kind]);
        }
    }
}

static void the_list_of_kinds_names_each_with_its_line(void **state)
{
    (void)state;
    Asked asked;
    ask(&asked, "kinds", "", false);
    assert_true(asked.found);
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        must_hold(&asked, text_format(&asked.arena, "\n  %s ", kinds[kind].word), kinds[kind].word);
        must_say(&asked, kinds[kind].help, kinds[kind].word);
    }
    must_fit(&asked, "kinds");
    done(&asked);
}

static void check_property(Asked *asked, PropId prop)
{
    const PropRow *row = &props[prop];
    must_hold(asked, text_format(&asked->arena, "\n  %s\n", row->word), row->word);
    must_say(asked, row->help, row->word);
    must_hold(asked, text_format(&asked->arena, "      example: %s\n", row->example), row->word);
    if (row->assumed != NULL) {
        must_say(asked, text_format(&asked->arena, "left out: %s is assumed (%s)", schema_assumed_text(&asked->arena, prop), row->authority), row->word);
    }
}

static void the_page_of_a_kind_tells_all_its_properties(void **state)
{
    (void)state;
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        Asked asked;
        ask(&asked, "kinds", kinds[kind].word, false);
        assert_true(asked.found);
        for (PropId p = kind_next_own(kind, PROP_NONE); p != PROP_NONE; p = kind_next_own(kind, p)) {
            check_property(&asked, p);
        }
        for (PropId p = schema_next_prop(kind, PROP_NONE); p != PROP_NONE; p = schema_next_prop(kind, p)) {
            must_hold(&asked, props[p].word, kinds[kind].word);
        }
        must_fit(&asked, kinds[kind].word);
        done(&asked);
    }
}

static void a_required_property_is_told_as_required(void **state)
{
    (void)state;
    Asked asked;
    ask(&asked, "kinds", "bank.chemistry", false);
    must_hold(&asked, "required: one of flooded, agm, gel or lifepo4", "bank.chemistry");
    done(&asked);
    ask(&asked, "kinds", "bank.peukert", false);
    must_hold(&asked, "value: a plain number, from 1 to 2\n", "bank.peukert");
    done(&asked);
    ask(&asked, "kinds", "solar.voltage-coefficient", false);
    must_say(&asked, "0 or less, at least -2 %/degC", "solar.voltage-coefficient");
    done(&asked);
    ask(&asked, "kinds", "alternator.feeds", false);
    must_say(&asked, "then a block of its own; may stand several times", "alternator.feeds");
    done(&asked);
}

static void a_word_of_several_kinds_prints_each(void **state)
{
    (void)state;
    Asked asked;
    ask(&asked, "kinds", "capacity", false);
    must_hold(&asked, "  bank.capacity\n", "capacity");
    must_hold(&asked, "  tank.capacity\n", "capacity");
    must_hold(&asked, "  water-heater.capacity\n", "capacity");
    done(&asked);
}

static void the_page_of_units_has_every_unit(void **state)
{
    (void)state;
    Asked asked;
    ask(&asked, "kinds", "units", false);
    for (UnitId unit = UNIT_NONE + 1; unit < UNIT_COUNT; unit++) {
        must_hold(&asked, text_format(&asked.arena, "\n  %s ", units[unit].word), units[unit].word);
        must_hold(&asked, units[unit].meaning, units[unit].word);
    }
    /* SP 811: a foot is 0.3048 m; SI Brochure 2.3.1: K = C + 273.15. */
    must_hold(&asked, "foot: 0.3048 m\n", "ft");
    must_hold(&asked, "degree Celsius: (number + 273.15) K\n", "C");
    must_fit(&asked, "units");
    done(&asked);
}

static void the_page_of_statements_has_every_form(void **state)
{
    (void)state;
    Asked asked;
    ask(&asked, "kinds", "statements", false);
    for (NodeKind node = NODE_THING; node <= NODE_WAIVE; node++) {
        if (statement_form(node) != NULL) {
            must_hold(&asked, statement_form(node), "statements");
        }
    }
    must_fit(&asked, "statements");
    done(&asked);
}

/* `garboard kinds set`: the statement that begins so, alone. */
static void a_statement_is_found_by_its_first_word(void **state)
{
    (void)state;
    Asked asked;
    ask(&asked, "kinds", "set", false);
    assert_true(asked.found);
    must_hold(&asked, statement_form(NODE_SET), "set");
    assert_null(strstr(asked.text.text, "choice NAME"));
    done(&asked);
}

/* ---- Rules and figures ---- */

static void check_rule(const Rule *rule)
{
    Asked asked;
    ask(&asked, "rules", rule->name, false);
    assert_true(asked.found);
    must_say(&asked, rule->title, rule->name);
    must_say(&asked, rule->why, rule->name);
    must_say(&asked, rule->source, rule->name);
    must_hold(&asked, "\nBroken by\n", rule->name);
    must_hold(&asked, "\nHolds for\n", rule->name);
    must_hold(&asked, rule->open != NULL ? "\nLeft open by\n" : "\nNever open\n", rule->name);
    if (rule->danger != DANGER_NONE) {
        must_say(&asked, danger_caution(rule->danger), rule->name);
    }
    must_fit(&asked, rule->name);
    done(&asked);
}

static void the_page_of_a_rule_tells_all_of_it(void **state)
{
    (void)state;
    for (size_t f = 0; f < rule_family_count; f++) {
        for (size_t r = 0; r < rule_families[f]->count; r++) {
            check_rule(&rule_families[f]->rules[r]);
        }
    }
}

static void the_list_of_rules_has_all_rules_and_mistakes(void **state)
{
    (void)state;
    Asked asked;
    ask(&asked, "rules", "", false);
    for (size_t f = 0; f < rule_family_count; f++) {
        must_hold(&asked, rule_families[f]->title, "rules");
        for (size_t r = 0; r < rule_families[f]->count; r++) {
            const Rule *rule = &rule_families[f]->rules[r];
            must_hold(&asked, text_format(&asked.arena, "\n  %c %s", severity_letter(rule->severity), rule->name), "rules");
        }
    }
    for (int m = 0; m < MESSAGE_COUNT; m++) {
        must_hold(&asked, text_format(&asked.arena, "\n    %s", message_kinds[m].name), "rules");
    }
    must_fit(&asked, "rules");
    done(&asked);
}

static void a_mistake_can_be_asked_for_like_a_rule(void **state)
{
    (void)state;
    for (int m = 0; m < MESSAGE_COUNT; m++) {
        Asked asked;
        ask(&asked, "rules", message_kinds[m].name, false);
        assert_true(asked.found);
        must_say(&asked, message_kinds[m].meaning, message_kinds[m].name);
        done(&asked);
    }
}

static void every_danger_has_a_caution_that_defers_to_local_rules(void **state)
{
    (void)state;
    for (int danger = DANGER_NONE + 1; danger <= DANGER_FLOODING; danger++) {
        const char *caution = danger_caution((Danger)danger);
        assert_non_null(caution);
        assert_true(strstr(caution, "ocal codes") != NULL || strstr(caution, "ocal rules") != NULL);
    }
    assert_null(danger_caution(DANGER_NONE));
}

static void every_figure_is_listed_and_told(void **state)
{
    (void)state;
    Asked list;
    ask(&list, "kinds", "figures", false);
    for (int f = FIGURE_NONE + 1; f < FIGURE_COUNT; f++) {
        Asked one;
        must_hold(&list, figure_rows[f].name, "figures");
        ask(&one, "figures", figure_rows[f].name, false);
        must_say(&one, figure_rows[f].help, figure_rows[f].name);
        must_say(&one, figure_rows[f].source, figure_rows[f].name);
        must_fit(&one, figure_rows[f].name);
        done(&one);
    }
    done(&list);
}

/* ---- The pages of docs/ ---- */

/* The page of a group's heading carries an anchor of its own. */
static const char *heading_of(Arena *arena, KindId kind)
{
    return kinds[kind].group ? text_format(arena, "\n### <a id=\"group-%s\"></a>%s\n", kinds[kind].word, kinds[kind].word)
                             : text_format(arena, "\n### %s\n", kinds[kind].word);
}

static void the_reference_has_a_heading_for_every_kind_and_group(void **state)
{
    (void)state;
    Asked asked;
    ask(&asked, "reference", "", false);
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        must_hold(&asked, heading_of(&asked.arena, kind), "reference");
    }
    done(&asked);
}

static void the_reference_has_a_row_for_every_property(void **state)
{
    (void)state;
    Asked asked;
    ask(&asked, "reference", "", false);
    const char *at = asked.text.text;
    /* In the order of the table, group by group: found one behind the other from each kind's heading on. */
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        at = strstr(asked.text.text, heading_of(&asked.arena, kind));
        assert_non_null(at);
        for (PropId p = kind_next_own(kind, PROP_NONE); p != PROP_NONE; p = kind_next_own(kind, p)) {
            at = strstr(at, text_format(&asked.arena, "\n| `%s` | ", props[p].word));
            if (at == NULL) {
                fail_msg("%s.%s has no row", kinds[kind].word, props[p].word);
            }
        }
    }
    done(&asked);
}

static void the_rules_page_has_every_rule_and_no_backslashed_quote(void **state)
{
    (void)state;
    Asked asked;
    ask(&asked, "rules-reference", "", false);
    for (size_t f = 0; f < rule_family_count; f++) {
        for (size_t r = 0; r < rule_families[f]->count; r++) {
            const char *name = rule_families[f]->rules[r].name;
            must_hold(&asked, text_format(&asked.arena, "\n### %s\n", name), name);
            must_hold(&asked, text_format(&asked.arena, "[`%s`](#%s)", name, name), name);
        }
    }
    assert_null(strstr(asked.text.text, "\\`")); /* what stands in backquotes in the tables is code on the page */
    done(&asked);
}

static void the_figures_page_has_every_figure(void **state)
{
    (void)state;
    Asked asked;
    Asked same;
    ask(&asked, "figures-reference", "", false);
    ask(&same, "reference", "figures", false);
    assert_str(buf_str(&asked.text), same.text.text);
    for (int f = FIGURE_NONE + 1; f < FIGURE_COUNT; f++) {
        must_hold(&asked, text_format(&asked.arena, "\n| `%s` | ", figure_rows[f].name), "figures");
    }
    done(&asked);
    done(&same);
}

/* ---- What is not there ---- */

static void must_be_told(const char *output, const char *argument, const char *error)
{
    Asked asked;
    ask(&asked, output, argument, false);
    assert_false(asked.found);
    assert_int_equal(asked.text.length, 0);
    assert_string_equal(asked.error, error);
    done(&asked);
}

static void a_wrong_name_is_told_with_near_ones(void **state)
{
    (void)state;
    must_be_told("kinds", "battery", "there is no kind, property or figure called `battery`; did you mean `bank`?");
    must_be_told("kinds", "bnak", "there is no kind, property or figure called `bnak`; did you mean `bank`?");
    must_be_told("kinds", "zzzzz", "there is no kind, property or figure called `zzzzz`; `garboard kinds` lists what there is");
    must_be_told("kinds", "bank.capcity", "`bank` has no property called `capcity`; did you mean `capacity`?");
    must_be_told("kinds", "bnak.capacity", "there is no kind, property or figure called `bnak`; did you mean `bank`?");
    must_be_told("kinds", "bank.", "`bank` has no property called ``; `garboard kinds bank` lists what it has");
    must_be_told("rules", "over-bugdet", "there is no rule called `over-bugdet`; did you mean `over-budget`?");
    must_be_told("figures", "volume-drop-by", "there is no figure called `volume-drop-by`; `garboard figures` lists those of a spec");
    must_be_told("rules-reference", "late", "as Markdown there is a page of all of them, and none of `late` alone");
    must_be_told("poems", "", "there is no output called `poems`");
}

/* ---- Layout ---- */

static void colour_makes_names_bold_and_changes_no_word(void **state)
{
    (void)state;
    Asked plain;
    Asked coloured;
    Buf stripped;
    ask(&plain, "kinds", "bank", false);
    ask(&coloured, "kinds", "bank", true);
    buf_init(&stripped, &coloured.arena);
    for (const char *c = coloured.text.text; *c != '\0'; c++) {
        if (*c == '\x1b') {
            c += strcspn(c, "m");
        } else {
            buf_char(&stripped, *c);
        }
    }
    assert_null(strchr(plain.text.text, '\x1b'));
    assert_non_null(strstr(coloured.text.text, "\x1b[1mbank\x1b[0m: "));
    assert_str(buf_str(&stripped), plain.text.text);
    done(&plain);
    done(&coloured);
}

static void a_paragraph_is_wrapped_at_eighty_characters(void **state)
{
    (void)state;
    Arena arena = check_arena();
    Buf buf;
    Page page = {&buf, false};
    buf_init(&buf, &arena);
    /* 12 words of 6 characters, 9 bytes each: 11 of them and their blanks fill 76 columns, a twelfth would need 83. */
    page_paragraph(&page, 0,
                   STR("\xC3\xA9\xC3\xA9\xC3\xA9xyz \xC3\xA9\xC3\xA9\xC3\xA9xyz \xC3\xA9\xC3\xA9\xC3\xA9xyz "
                       "\xC3\xA9\xC3\xA9\xC3\xA9xyz \xC3\xA9\xC3\xA9\xC3\xA9xyz \xC3\xA9\xC3\xA9\xC3\xA9xyz "
                       "\xC3\xA9\xC3\xA9\xC3\xA9xyz \xC3\xA9\xC3\xA9\xC3\xA9xyz \xC3\xA9\xC3\xA9\xC3\xA9xyz "
                       "\xC3\xA9\xC3\xA9\xC3\xA9xyz \xC3\xA9\xC3\xA9\xC3\xA9xyz \xC3\xA9\xC3\xA9\xC3\xA9xyz"));
    assert_int_equal(strcspn(buf.text, "\n"), 11 * 9 + 10);
    buf_init(&buf, &arena);
    page_entry(&page, 2, 6, STR("a-long-word"), STR("its text"));
    assert_str(buf_str(&buf), "  a-long-word\n      its text\n");
    buf_init(&buf, &arena);
    page_entry(&page, 2, 10, STR("word"), STR("its text"));
    assert_str(buf_str(&buf), "  word    its text\n");
    arena_free(&arena);
}

static void a_long_line_of_blocks_is_opened_and_a_short_one_left(void **state)
{
    (void)state;
    Arena arena = check_arena();
    Buf buf;
    buf_init(&buf, &arena);
    page_open_blocks(&buf, STR("load a { draw 1 A }\n"
                               "solar b \"x; { y\" { rated 1 W; feeds c { run 1 m; wire 6 mm2 } } # d; e\n"
                               "item f { note \"say \\\"g; h\\\"\" }\n"),
                     24);
    assert_str(buf_str(&buf), "load a { draw 1 A }\n"
                              "solar b \"x; { y\" {\n"
                              "  rated 1 W\n"
                              "  feeds c {\n"
                              "    run 1 m\n"
                              "    wire 6 mm2\n"
                              "  }\n"
                              "}\n"
                              "# d; e\n"
                              "item f {\n"
                              "  note \"say \\\"g; h\\\"\"\n"
                              "}\n");
    arena_free(&arena);
}

/* ---- The starter ---- */

static void the_starter_compiles_without_a_fault_or_a_mistake(void **state)
{
    (void)state;
    Asked asked;
    Compiled compiled;
    ask(&asked, "starter", "sea-otter", false);
    assert_true(asked.found);
    compile_text(&compiled, asked.text.text);
    const Message *message = compiled.spec->messages.first;
    if (message != NULL) {
        fail_msg("%s", message->text);
    }
    assert_int_equal(compiled.outcome->faults, 0);
    assert_int_equal(compiled.outcome->warnings, 0);
    /* Its own comments speak of two goals that are open, and of nothing else. */
    const Finding *finding = compiled.outcome->findings;
    assert_int_equal(compiled.outcome->open, 2);
    assert_string_equal(finding->rule->name, "goal-missed");
    assert_non_null(strstr(asked.text.text, "two goals are open"));
    compile_free(&compiled);
    done(&asked);
}

static void the_decision_in_the_starter_compiles_once_its_signs_are_taken_away(void **state)
{
    (void)state;
    Asked asked;
    Compiled compiled;
    ask(&asked, "starter", "wren", false);
    char *choice = strstr(asked.text.text, "# choice ");
    assert_non_null(choice);
    for (char *line = choice; line != NULL; line = strchr(line, '\n') != NULL ? strchr(line, '\n') + 1 : NULL) {
        if (*line == '#') {
            *line = ' ';
        }
    }
    compile_text(&compiled, asked.text.text);
    assert_null(compiled.spec->messages.first);
    assert_int_equal(compiled.outcome->case_count, 2);
    assert_int_equal(compiled.outcome->faults, 0);
    compile_free(&compiled);
    done(&asked);
}

static void the_starter_has_the_boats_name_and_a_title_from_it(void **state)
{
    (void)state;
    Asked asked;
    ask(&asked, "starter", "sea-otter", false);
    must_hold(&asked, "\nboat sea-otter \"Sea otter\" {\n", "starter");
    must_hold(&asked, "garboard check sea-otter.boat", "starter");
    assert_null(strchr(asked.text.text, '@'));
    done(&asked);
}

static void a_name_that_cannot_be_the_boats_is_told(void **state)
{
    (void)state;
    static const char *const wrong[] = {"", "7seas", "sea otter", "wren.boat", "-wren", "m", "gal", "yes", "no", "house", "bilge"};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        Asked asked;
        ask(&asked, "starter", wrong[i], false);
        if (asked.found || asked.error == NULL || asked.text.length > 0) {
            fail_msg("`%s` is taken for a name", wrong[i]);
        }
        done(&asked);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_kind_stands_under_one_heading),
        cmocka_unit_test(the_list_of_kinds_names_each_with_its_line),
        cmocka_unit_test(the_page_of_a_kind_tells_all_its_properties),
        cmocka_unit_test(a_required_property_is_told_as_required),
        cmocka_unit_test(a_word_of_several_kinds_prints_each),
        cmocka_unit_test(the_page_of_units_has_every_unit),
        cmocka_unit_test(the_page_of_statements_has_every_form),
        cmocka_unit_test(a_statement_is_found_by_its_first_word),
        cmocka_unit_test(the_page_of_a_rule_tells_all_of_it),
        cmocka_unit_test(the_list_of_rules_has_all_rules_and_mistakes),
        cmocka_unit_test(a_mistake_can_be_asked_for_like_a_rule),
        cmocka_unit_test(every_danger_has_a_caution_that_defers_to_local_rules),
        cmocka_unit_test(every_figure_is_listed_and_told),
        cmocka_unit_test(the_reference_has_a_heading_for_every_kind_and_group),
        cmocka_unit_test(the_reference_has_a_row_for_every_property),
        cmocka_unit_test(the_rules_page_has_every_rule_and_no_backslashed_quote),
        cmocka_unit_test(the_figures_page_has_every_figure),
        cmocka_unit_test(a_wrong_name_is_told_with_near_ones),
        cmocka_unit_test(colour_makes_names_bold_and_changes_no_word),
        cmocka_unit_test(a_paragraph_is_wrapped_at_eighty_characters),
        cmocka_unit_test(a_long_line_of_blocks_is_opened_and_a_short_one_left),
        cmocka_unit_test(the_starter_compiles_without_a_fault_or_a_mistake),
        cmocka_unit_test(the_decision_in_the_starter_compiles_once_its_signs_are_taken_away),
        cmocka_unit_test(the_starter_has_the_boats_name_and_a_title_from_it),
        cmocka_unit_test(a_name_that_cannot_be_the_boats_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
