/*
 * Every rule proves itself: the example that breaks it does, the one that holds does, the one that leaves it open does, and
 * none of them has a mistake. Whether the examples are right by their sources is for the reader of the table.
 */
#include "check.h"
#include "compile.h"

#include <stdio.h>
#include <string.h>

/* Runs f on every rule; the first that fails stops the test with its name. */
#define EACH_RULE(rule)                                   \
    for (size_t f_ = 0; f_ < rule_family_count; f_++)     \
        for (const Rule *rule = rule_families[f_]->rules; \
             rule < rule_families[f_]->rules + rule_families[f_]->count; rule++)

static void compile_example(Compiled *compiled, const Rule *rule, const char *spec)
{
    compile_text(compiled, spec);
    if (compiled->spec->messages.first != NULL) {
        fail_msg("%s: an example has a mistake: %s [%s]", rule->name, compiled->spec->messages.first->text,
                 message_kinds[compiled->spec->messages.first->id].name);
    }
}

/* Examples are judged by the basis that their boat names; it must be one that the rule belongs to. */
static void in_basis(const Compiled *compiled, const Rule *rule)
{
    if (!(rule->basis & (1 << compiled->outcome->basis))) {
        fail_msg("%s: its example is of a basis that it does not belong to", rule->name);
    }
}

static void every_rule_is_broken_by_its_breaking_example(void **state)
{
    (void)state;
    EACH_RULE(rule)
    {
        Compiled compiled;
        compile_example(&compiled, rule, rule->breaks);
        in_basis(&compiled, rule);
        const Finding *finding = compiled_finding(&compiled, rule->name);
        if (finding == NULL) {
            fail_msg("%s: its breaking example does not break it", rule->name);
        }
        if (finding->verdict != VERDICT_BROKEN) {
            fail_msg("%s: its breaking example leaves it open", rule->name);
        }
        compile_free(&compiled);
    }
}

static void no_rule_speaks_on_its_holding_example(void **state)
{
    (void)state;
    EACH_RULE(rule)
    {
        Compiled compiled;
        compile_example(&compiled, rule, rule->holds);
        in_basis(&compiled, rule);
        const Finding *finding = compiled_finding(&compiled, rule->name);
        if (finding != NULL) {
            fail_msg("%s: its holding example is found fault with: %s", rule->name, finding->message);
        }
        compile_free(&compiled);
    }
}

static void every_rule_is_left_open_by_its_open_example_or_says_why_not(void **state)
{
    (void)state;
    EACH_RULE(rule)
    {
        if (rule->open == NULL) {
            if (rule->never_open == NULL || rule->never_open[0] == 0) {
                fail_msg("%s: it has neither an open example nor a reason for none", rule->name);
            }
            continue;
        }
        Compiled compiled;
        compile_example(&compiled, rule, rule->open);
        in_basis(&compiled, rule);
        const Finding *finding = compiled_finding(&compiled, rule->name);
        if (finding == NULL || finding->verdict != VERDICT_OPEN) {
            fail_msg("%s: its open example %s", rule->name, finding == NULL ? "holds" : "breaks it");
        }
        if (finding->depends == NULL) {
            fail_msg("%s: its open finding does not say what it hangs on", rule->name);
        }
        compile_free(&compiled);
    }
}

static void expect_each_told_apart(const Compiled *compiled, const char *what)
{
    const Judge *judge = compiled->outcome->cases[0].judge;
    for (const Finding *a = judge->first; a != NULL; a = a->next) {
        for (const Finding *b = a->next; b != NULL; b = b->next) {
            if (a->rule == b->rule && a->subject == b->subject && a->at == b->at &&
                a->place.start == b->place.start && finding_same_matter(a, b)) {
                fail_msg("%s: nothing tells these apart: %s | %s [%s]", what, a->message, b->message,
                         a->rule->name);
            }
        }
    }
}

/* Findings of several options are merged by what they are about: of two that are alike, a mistake in one would go unseen. */
static void two_findings_of_a_boat_are_never_about_the_same(void **state)
{
    (void)state;
    EACH_RULE(rule)
    {
        const char *const examples[] = {rule->breaks, rule->holds, rule->open};
        for (size_t i = 0; i < sizeof examples / sizeof examples[0]; i++) {
            if (examples[i] != NULL) {
                Compiled compiled;
                compile_text(&compiled, examples[i]);
                expect_each_told_apart(&compiled, rule->name);
                compile_free(&compiled);
            }
        }
    }
}

/*
 * A file that is checked by itself, a mistyped header or one without a name leaves a spec without a boat: that is told, and
 * nothing takes the boat for granted.
 */
static void every_example_is_read_without_a_boat_and_with_a_nameless_one(void **state)
{
    (void)state;
    EACH_RULE(rule)
    {
        const char *const examples[] = {rule->breaks, rule->holds, rule->open};
        for (size_t i = 0; i < sizeof examples / sizeof examples[0]; i++) {
            const char *header = examples[i] != NULL ? strstr(examples[i], "boat ") : NULL;
            if (header == NULL) {
                continue;
            }
            Arena arena = check_arena();
            int before = (int)(header - examples[i]);
            const char *brace = strchr(header, '{');
            const char *const spoilt[] = {text_format(&arena, "%.*sboat %s", before, examples[i], brace),
                                          text_format(&arena, "%.*sitem she %s", before, examples[i], brace)};
            for (size_t s = 0; s < sizeof spoilt / sizeof spoilt[0]; s++) {
                Compiled compiled;
                compile_text(&compiled, spoilt[s]);
                assert_true(compiled.spec->messages.count > 0);
                compile_free(&compiled);
            }
            arena_free(&arena);
        }
    }
}

static void every_rule_says_what_it_asks_why_and_on_whose_authority(void **state)
{
    (void)state;
    EACH_RULE(rule)
    {
        size_t length = rule->why != NULL ? strlen(rule->why) : 0;
        if (length > 0 && rule->why[length - 1] != '.') {
            fail_msg("%s: its text breaks off: %s", rule->name, rule->why);
        }
        if (rule->title == NULL || rule->why == NULL || rule->source == NULL || rule->basis == 0) {
            fail_msg("%s: its entry is not complete", rule->name);
        }
        if (rule->judge == NULL && rule->judge_feed == NULL && rule->judge_boat == NULL) {
            fail_msg("%s: nothing judges it", rule->name);
        }
        if (rule_find(str_from(rule->name)) != rule) {
            fail_msg("%s: the name is taken by another rule", rule->name);
        }
    }
}

static void sentences_of_findings_are_lower_case_and_have_no_full_stop(void **state)
{
    (void)state;
    EACH_RULE(rule)
    {
        Compiled compiled;
        compile_example(&compiled, rule, rule->breaks);
        const Finding *finding = compiled_finding(&compiled, rule->name);
        if (finding != NULL) {
            size_t length = strlen(finding->message);
            if (length == 0 || finding->message[length - 1] == '.' ||
                (finding->message[0] >= 'A' && finding->message[0] <= 'Z' && finding->message[1] >= 'a')) {
                fail_msg("%s: `%s`", rule->name, finding->message);
            }
        }
        compile_free(&compiled);
    }
}

/* The rules that the project has promised from its first release on. */
static void the_promised_rules_are_there(void **state)
{
    (void)state;
    static const char *const promised[] = {
        "unpowered",    "feed-loop",       "unmeasured",       "goal-missed",      "waiver-stale",
        "waiver-idle",  "wire-overloaded", "wire-unprotected", "wire-small",       "wire-drop",
        "protect-far",  "protect-tight",   "protect-breaking", "panel-overloaded", "bank-discharge",
        "bank-charge",  "bank-management", "bank-held",        "start-alone",      "always-live",
        "shore-demand", "outlet-leakage",  "one-source",       "water-short",      "waste-full",
        "tank-breath",  "heater-relief",   "heater-scald",     "overboard",        "siphon",
        "open-sea",     "seacock",         "clamps",           "bilge-capacity",   "over-budget",
        "late",         "no-parts"};
    for (size_t i = 0; i < sizeof promised / sizeof promised[0]; i++) {
        if (rule_find(str_from(promised[i])) == NULL) {
            fail_msg("the rule %s is missing", promised[i]);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_findings_of_a_boat_are_never_about_the_same),
        cmocka_unit_test(every_example_is_read_without_a_boat_and_with_a_nameless_one),
        cmocka_unit_test(every_rule_says_what_it_asks_why_and_on_whose_authority),
        cmocka_unit_test(the_promised_rules_are_there),
        cmocka_unit_test(every_rule_is_broken_by_its_breaking_example),
        cmocka_unit_test(no_rule_speaks_on_its_holding_example),
        cmocka_unit_test(every_rule_is_left_open_by_its_open_example_or_says_why_not),
        cmocka_unit_test(sentences_of_findings_are_lower_case_and_have_no_full_stop),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
