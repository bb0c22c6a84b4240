/* A slip of the pen in one number is one finding: what rests on it waits. No source: what a reader can act upon. */
#include "check.h"
#include "compile.h"

#include "output/findings_text.h"

#define WREN(DISPLACEMENT) \
    "edition 1\nboat wren \"Wren\" { length 9.5 m; waterline 8.6 m; beam 3.1 m; draft 1.2 m; crew 2; currency EUR; basis iso\n" \
    "  displacement " DISPLACEMENT " }\nitem ballast { mass 1500 kg; at 5 m 0 m 0 m }\n"

static unsigned found_of_displacement(const Compiled *c)
{
    static const char *const rules[] = {"digits-grouped", "proportions", "overweight"};
    unsigned count = 0;
    for (const Finding *f = c->outcome->findings; f != NULL; f = f->next) {
        for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++) {
            count += strcmp(f->rule->name, rules[i]) == 0;
        }
    }
    return count;
}

static void grouped_digits_are_one_finding(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, WREN("5.200 kg"));
    assert_int_equal(found_of_displacement(&c), 1);
    assert_non_null(compiled_finding(&c, "digits-grouped"));
    assert_true(c.outcome->waiting > 0);
    Buf summary;
    buf_init(&summary, &c.arena);
    findings_summary(&summary, c.outcome);
    assert_non_null(strstr(summary.text, "for what is found to be mended")); /* it is neither mistake nor fault */
    compile_free(&c);
}

static void who_means_so_little_writes_it_without_the_noughts(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, WREN("5.2 kg"));
    assert_null(compiled_finding(&c, "digits-grouped"));
    assert_non_null(compiled_finding(&c, "proportions"));
    compile_free(&c);
}

static void who_waives_it_means_what_stands_there(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, WREN("5.200 kg") "waive digits-grouped on wren because \"A model\"\n");
    assert_null(c.spec->messages.first);
    assert_int_equal(c.outcome->waived, 1);
    assert_non_null(compiled_finding(&c, "proportions"));
    assert_int_equal(c.outcome->waiting, 0);
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(grouped_digits_are_one_finding),
        cmocka_unit_test(who_waives_it_means_what_stands_there),
        cmocka_unit_test(who_means_so_little_writes_it_without_the_noughts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
