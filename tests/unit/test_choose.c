/*
 * Which combinations of open choices are looked at, and what is said of those that are not. A covering sample is judged
 * by what it must do: each option stands in some combination, and no combination is looked at twice.
 */
#include "unit/verdict.h"

#include "rules/options.h"
#include "rules/settle.h"

#include <stdio.h>

#define BOAT "boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }\n"

/* So many choices of so many options; in the last option of the first choice stands `odd`, in all others a fine thing. */
static const char *choices_of(char *text, size_t room, int choices, int options, const char *odd)
{
    int length = snprintf(text, room, "%s", BOAT);
    for (int c = 0; c < choices; c++) {
        length += snprintf(text + length, room - (size_t)length, "choice q%d {\n", c);
        for (int o = 0; o < options; o++) {
            bool here = c == 0 && o == options - 1;
            length += snprintf(text + length, room - (size_t)length, "  option o%d { item t%d { %s } }\n", o, c,
                               here ? odd : "mass 1 kg");
        }
        length += snprintf(text + length, room - (size_t)length, "}\n");
    }
    assert_true((size_t)length < room);
    return text;
}

static bool is_taken(const Outcome *outcome, uint32_t choice, int32_t option)
{
    for (uint32_t i = 0; i < outcome->case_count; i++) {
        if (outcome->cases[i].model->choices[choice].chosen == option) {
            return true;
        }
    }
    return false;
}

static bool are_alike(const Model *a, const Model *b)
{
    for (uint32_t i = 0; i < a->choice_count; i++) {
        if (a->choices[i].chosen != b->choices[i].chosen) {
            return false;
        }
    }
    return true;
}

/* Compiles, and checks that the cases are as many, all different, and take every option among the first OUTCOME_MOST. */
static void assert_covered(int choices, int options, uint32_t cases, uint32_t unseen)
{
    static char text[200000];
    Compiled c;
    compile_text(&c, choices_of(text, sizeof text, choices, options, "mass 1 kg; colour red"));
    assert_int_equal(c.outcome->case_count, cases);
    assert_int_equal(c.outcome->unseen, unseen);
    for (uint32_t q = 0; q < (uint32_t)choices; q++) {
        for (int32_t o = 0; o < options && o < OUTCOME_MOST; o++) {
            assert_true(is_taken(c.outcome, q, o));
        }
    }
    for (uint32_t i = 0; i < cases; i++) {
        for (uint32_t j = 0; j < i; j++) {
            assert_false(are_alike(c.outcome->cases[i].model, c.outcome->cases[j].model));
        }
    }
    /* The mistake in the last option of the first choice shows, whether that option was judged or only read. */
    assert_int_equal(c.spec->messages.count, 1);
    assert_string_equal(message_kinds[c.spec->messages.first->id].name, "unknown-property");
    compile_free(&c);
}

static void all_combinations_where_they_are_few(void **state)
{
    (void)state;
    assert_covered(1, 3, 3, 0);
    assert_covered(3, 4, 64, 0);
    assert_covered(6, 2, 64, 0);
    assert_covered(1, 64, 64, 0);
}

static void one_option_at_a_time_where_that_is_few(void **state)
{
    (void)state;
    assert_covered(7, 2, 16, 0);
    assert_covered(4, 4, 26, 0);
    assert_covered(9, 8, 64, 0);
}

static void all_at_once_where_they_are_many(void **state)
{
    (void)state;
    assert_covered(22, 4, 64, 0);
    assert_covered(100, 2, 64, 0);
    assert_covered(2, 64, 64, 0);
    assert_covered(70, 31, 64, 0);
}

static void what_no_combination_takes_is_counted(void **state)
{
    (void)state;
    assert_covered(1, 65, 64, 1);
    assert_covered(3, 100, 64, 108);
}

/* In a sample the other choices differ too from case to case: by chance, and that is not told as a reason. */
static void a_sample_names_only_the_choice_that_brings_a_finding(void **state)
{
    (void)state;
    static char text[200000];
    Compiled c;
    compile_text(&c, choices_of(text, sizeof text, 40, 4, "discontinued yes"));
    const Finding *f = finding_on(&c, "no-parts", "t0");
    assert_non_null(f);
    assert_string_equal(f->only_with, "q0=o3");
    assert_string_equal(f->depends->text, "q0");
    assert_null(f->depends->next);
    compile_free(&c);
}

/* Whether she is heavier than the goal hangs on both choices: 10 t only where both are large. */
static void a_finding_that_two_options_bring_together_names_both(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "goal light { mass 10 t }\n"
                          "choice a { option small { item x { mass 1 t } }; option large { item x { mass 6 t } } }\n"
                          "choice b { option small { item y { mass 1 t } }; option large { item y { mass 6 t } } }\n"
                          "choice e { option small { item z { mass 1 t } }; option large { item z { mass 2 t } } }\n");
    const Finding *f = finding_on(&c, "goal-missed", "light");
    assert_non_null(f);
    assert_int_equal(f->verdict, VERDICT_OPEN);
    assert_string_equal(f->only_with, "a=large and b=large");
    compile_free(&c);
}

static bool is_found(const Compiled *c, const char *rule)
{
    return compiled_finding(c, rule) != NULL;
}

#define COLD(waiver)                                                                                             \
    BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" waiver                                  \
         "choice cold {\n  option box { item ice-box }\n"                                                       \
         "  option fridge { load cooled { fed-by house; run 3 m; wire 2.5 mm2; protect 15 A breaker; draw 4 A } }\n" \
         "}\n"

/* A fault that endangers somebody counts though a waiver sets it aside; what is a matter of order does not. */
static void a_waived_danger_counts_as_a_fault(void **state)
{
    (void)state;
    static const char danger[] = BOAT "gas-locker box { cylinder 5 kg; drained-overboard no; gauge yes }\n"
                                      "waive gas-drain on box until 2027-09-01 because \"Next week.\"\n";
    Compiled c;
    compile_text(&c, danger);
    assert_non_null(compiled_finding(&c, "gas-drain"));
    assert_int_equal(c.outcome->waived, 1);
    assert_int_equal(c.outcome->waived_faults, 1);
    assert_int_equal(c.outcome->faults, 1);
    assert_true(outcome_is_broken(c.outcome));
    compile_free(&c);
}

/* What only one option brings may be waived, or set on the command line, all the same: it counts where it is. */
static void what_one_option_brings_is_waived_and_set_where_it_is(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, COLD("waive protect-breaking on cooled because \"The maker told us.\"\n"));
    assert_null(c.spec->messages.first);
    assert_int_equal(c.outcome->waived, 1);
    assert_false(is_found(&c, "waiver-idle"));
    compile_free(&c);
    compile_text(&c, COLD("waive wire-drop on cooled because \"Short.\"\n"));
    assert_true(is_found(&c, "waiver-idle"));
    assert_int_equal(compiled_finding(&c, "waiver-idle")->verdict, VERDICT_BROKEN);
    settle_findings(c.outcome);
    compile_free(&c);
    compile_text_with(&c, COLD("waive wire-drop on cooled because \"Short.\"\n"), NULL, "cold=box");
    assert_null(c.spec->messages.first); /* it is not aboard, and nothing is wrong with that */
    compile_free(&c);

    compile_text_with(&c, COLD(""), "cooled.run=60 m", NULL);
    assert_null(c.spec->messages.first);
    assert_non_null(finding_on(&c, "wire-drop", "cooled"));
    compile_free(&c);
    compile_text_with(&c, COLD(""), "cooled.run=60 m", "cold=box");
    assert_non_null(c.spec->messages.first); /* what is not aboard cannot be tried */
    compile_free(&c);
}

/*
 * Seven choices of 10 or 20 EUR each are 128 combinations: what only the last options together bring, 140 EUR, is seen too.
 */
static void the_last_options_are_looked_at_together_too(void **state)
{
    (void)state;
    Compiled c;
    Buf text;
    Arena arena = check_arena();
    buf_init(&text, &arena);
    buf_text(&text, BOAT "goal purse { budget 130 EUR }\n");
    for (int i = 0; i < 7; i++) {
        buf_format(&text, "choice q%d { option a { item t%d { price 10 EUR } }; option b { item t%d { price 20 EUR } } }\n", i, i,
                   i);
    }
    compile_text(&c, text.text);
    assert_true(is_found(&c, "over-budget"));
    Figure cost;
    assert_true(outcome_figure(c.outcome, STR("wren"), FIGURE_COST, STR(""), &cost));
    assert_near(cost.low, 70.0, 1e-9);
    assert_near(cost.high, 140.0, 1e-9);
    compile_free(&c);
    arena_free(&arena);
}

/* So many findings and judgements of the boat, beside a choice of which one option is picked and the other says `spare`. */
typedef struct Count {
    uint32_t findings, open, judged, unjudged, waiting;
} Count;

static Count count_with(const char *spare, const char *pick, const char *command)
{
    static char text[2000];
    Compiled c;
    snprintf(text, sizeof text,
             "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us; sails yes\n"
             "waters coastal }\nspace cabin { sleeping yes; volume 2 m3 }\n"
             "engine aux { rated 20 kW at 3600 rpm; fuel petrol; space cabin }\n"
             "choice q { option other { %s }; option taken { job paint { takes 1 h } }\n%s }\n", spare, pick);
    compile_text_with(&c, text, NULL, command);
    const Outcome *o = c.outcome;
    Count count = {.open = o->open, .judged = o->cases[0].judge->judged, .unjudged = o->unjudged, .waiting = o->waiting};
    for (const Finding *f = o->findings; f != NULL; f = f->next) {
        count.findings++;
    }
    compile_free(&c);
    return count;
}

/* Whatever stands in an option that is not picked, "none is aboard" is said of its kind as if nothing were written there. */
static void what_is_not_picked_is_as_if_not_written(void **state)
{
    (void)state;
    Count bare = count_with("", "", "q=taken");
    assert_true(bare.open > 5); /* no alarm, no light, no horn, no life jacket ... */
    for (int k = KIND_NONE + 1; k < KIND_COUNT; k++) {
        char thing[100];
        snprintf(thing, sizeof thing, "%s spare { }", kinds[k].word);
        if (kinds[k].group || k == KIND_BOAT) {
            continue;
        }
        Count picked = count_with(thing, "pick taken", NULL), tried = count_with(thing, "", "q=taken");
        if (memcmp(&picked, &bare, sizeof bare) != 0 || memcmp(&tried, &bare, sizeof bare) != 0) {
            fail_msg("`%s` in an option that is not picked: %u open, and %u where it is not written", thing, picked.open,
                     bare.open);
        }
    }
    Count nameless = count_with("alarm { detects co }", "pick taken", NULL);
    assert_memory_equal(&nameless, &bare, sizeof bare);
}

#define WITH_ALARMS(OPTIONS, BEHIND)                                                                                   \
    "edition 1\n" BOAT "space cabin { sleeping yes }\nchoice q {\n" OPTIONS "option plain { job paint { takes 1 h } }\n}\n" BEHIND

/* A mistake in the first line of a thing holds back what is said of its kind: wherever that thing may be aboard, in each case. */
static void a_mistake_holds_back_what_may_be_aboard(void **state)
{
    (void)state;
    expect_verdict(WITH_ALARMS("option dull { job scrub { takes 1 h } }\n", "alarm { detects co }\n"), "alarm-missing", WAITING, NULL);
    expect_verdict(WITH_ALARMS("option { alarm a { detects co } }\n", ""), "alarm-missing", WAITING, NULL);
    expect_verdict(WITH_ALARMS("option dull { job scrub { takes 1 h } }\noption dull { alarm a { detects co } }\n", ""),
                   "alarm-missing", WAITING, NULL);
    Compiled c;
    compile_text_with(&c, WITH_ALARMS("option dull { job scrub { takes 1 h } }\noption dull { alarm a { detects co } }\n", ""),
                      NULL, "q=plain");
    assert_true(is_found(&c, "alarm-missing"));
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(all_combinations_where_they_are_few),
        cmocka_unit_test(one_option_at_a_time_where_that_is_few),
        cmocka_unit_test(all_at_once_where_they_are_many),
        cmocka_unit_test(what_no_combination_takes_is_counted),
        cmocka_unit_test(a_sample_names_only_the_choice_that_brings_a_finding),
        cmocka_unit_test(a_finding_that_two_options_bring_together_names_both),
        cmocka_unit_test(a_waived_danger_counts_as_a_fault),
        cmocka_unit_test(what_one_option_brings_is_waived_and_set_where_it_is),
        cmocka_unit_test(the_last_options_are_looked_at_together_too),
        cmocka_unit_test(what_is_not_picked_is_as_if_not_written),
        cmocka_unit_test(a_mistake_holds_back_what_may_be_aboard),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
