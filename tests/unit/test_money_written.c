/*
 * Money that would settle a finding is told as the line that would change has it. Oracles are worked by hand beside each test.
 */
#include "unit/verdict.h"

#include "rules/settle.h"

#define BOAT(SAYS) "edition 1\nboat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso; sails no; " SAYS " }\n"

/* What would settle a finding is told as the line is written: 600 USD at 0.9 are 540 EUR, and 1.2 x 450 EUR as well. */
static void expect_settled(const char *spec, const char *says)
{
    Compiled c;
    compile_text(&c, spec);
    settle_findings(c.outcome);
    const Finding *finding = compiled_finding(&c, "over-budget");
    assert_non_null(finding);
    bool found = false;
    for (const Settle *settle = finding->settles; settle != NULL; settle = settle->next) {
        found = found || (settle->text != NULL && strstr(settle->text, says) != NULL);
    }
    if (!found) {
        fail_msg("%s: %s", says, finding->settles != NULL && finding->settles->text != NULL ? finding->settles->text : "nothing");
    }
    compile_free(&c);
}

static void money_is_told_as_it_is_written(void **state)
{
    (void)state;
    expect_settled(BOAT("rate 0.9 EUR per USD") "item sail { price 500..2000 USD }\ngoal purse { budget 540 EUR }\n", "holds up to 600 USD");
    expect_settled(BOAT("rate 0.9 EUR per USD") "item sail { price 500..2000 EUR }\ngoal purse { budget 600 USD }\n", "holds up to 540 EUR");
    expect_settled(BOAT("tax 20 %") "item sail { price 100..2000 EUR without-tax }\ngoal purse { budget 540 EUR }\n", "holds up to 450 EUR");
    expect_settled(BOAT("rate 0.8..0.9 EUR per USD") "item sail { price 500..2000 USD }\ngoal purse { budget 540 EUR }\n", "EUR");
}

static void the_budget_that_would_do_is_in_its_own_currency(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT("rate 0.9 EUR per USD") "item sail { price 900 EUR }\ngoal purse { budget 600 USD }\n");
    const Finding *finding = compiled_finding(&c, "over-budget");
    assert_non_null(finding);
    assert_str(str_from(finding->remedies->text), "budget 1000.00 USD");
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(money_is_told_as_it_is_written),
        cmocka_unit_test(the_budget_that_would_do_is_in_its_own_currency),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
