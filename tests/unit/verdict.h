/*
 * What one rule says of a small spec: nothing, or one finding about one thing. For tests only.
 */
#ifndef GARBOARD_TEST_VERDICT_H
#define GARBOARD_TEST_VERDICT_H

#include "check.h"
#include "compile.h"

enum { NOTHING, OPEN_AT_ONE, BROKEN_AT_ONE, WAITING };

/* The first that a rule has about a thing; NULL: none. */
static inline const Finding *finding_on(const Compiled *compiled, const char *rule, const char *subject)
{
    const Finding *f = compiled->outcome->findings;
    while (f != NULL && !(strcmp(f->rule->name, rule) == 0 && f->subject != NULL &&
                          str_is(entity_name(outcome_first(compiled->outcome)->model, f->subject), subject))) {
        f = f->next;
    }
    return f;
}

static inline const Finding *only_finding(const Compiled *compiled, const char *rule)
{
    const Finding *found = NULL;
    for (const Finding *f = compiled->outcome->findings; f != NULL; f = f->next) {
        if (strcmp(f->rule->name, rule) == 0) {
            if (found != NULL) {
                fail_msg("two findings: %s; %s", found->message, f->message);
            }
            found = f;
        }
    }
    return found;
}

/*
 * What a rule says of a spec: nothing, or one finding about `subject`. WAITING: nothing, and a judgement
 * waits.
 */
static inline void expect_verdict(const char *spec, const char *rule, int expected, const char *subject)
{
    if (rule_find(str_from(rule)) == NULL) {
        fail_msg("there is no rule `%s`: this could never fail", rule);
    }
    Compiled c;
    compile_text(&c, spec);
    if (expected != WAITING && c.spec->messages.first != NULL) {
        fail_msg("the spec has a mistake: %s", c.spec->messages.first->text);
    }
    const Finding *finding = only_finding(&c, rule);
    if (expected == NOTHING || expected == WAITING) {
        if (finding != NULL) {
            fail_msg("%s", finding->message);
        }
        assert_true(expected == NOTHING || c.outcome->waiting > 0);
    } else {
        if (finding == NULL) {
            fail_msg("nothing is found about %s", subject);
        }
        assert_int_equal(finding->verdict, expected == OPEN_AT_ONE ? VERDICT_OPEN : VERDICT_BROKEN);
        assert_str(entity_name(outcome_first(c.outcome)->model, finding->subject), subject);
        assert_true(finding->verdict == VERDICT_BROKEN || finding->depends != NULL);
    }
    compile_free(&c);
}

#endif
