/*
 * The owner's weighted scores against a published worked example. The table beside this file names its source.
 */
#include "reference/table.h"

#include "compile.h"
#include "rules/compare.h"

#include <stdlib.h>

/* The printed scores lie between 0 and 20. */
static void write_spec(char *spec, size_t room, const Table *table)
{
    int used = snprintf(spec, room, EXAMPLE_BOAT);
    static const char *const criteria[] = {"first", "second", "third"};
    static const char *const weights[] = {"weight_first", "weight_second", "weight_third"};
    for (size_t c = 0; c < 3; c++) {
        used += snprintf(spec + used, room - (size_t)used, "criterion %s { weight %s }\n", criteria[c],
                         table_text(table, 0, weights[c]));
    }
    used += snprintf(spec + used, room - (size_t)used, "choice matrix {\n");
    for (size_t o = 0; o < table->row_count; o++) {
        used += snprintf(spec + used, room - (size_t)used, "  option %s {\n", table_text(table, o, "option"));
        for (size_t c = 0; c < 3; c++) {
            used += snprintf(spec + used, room - (size_t)used, "    score %s %s of 20\n", criteria[c],
                             table_text(table, o, criteria[c]));
        }
        used += snprintf(spec + used, room - (size_t)used, "  }\n");
    }
    snprintf(spec + used, room - (size_t)used, "}\n");
}

static void totals_are_the_printed_ones_and_the_greatest_wins(void **state)
{
    Table table;
    Compiled compiled;
    char spec[2048];
    (void)state;
    table_load(&table, "decision-matrix.tsv");
    write_spec(spec, sizeof spec, &table);
    compile_text(&compiled, spec);
    assert_int_equal(compiled.outcome->mistakes, 0);
    const Comparison *comparison = compare_compute(&compiled.arena, compiled.outcome);
    assert_int_equal(comparison->count, 1);
    const CompareRow *row = comparison->choices[0].rows;
    while (strcmp(row->name, "score") != 0) {
        row = row->next;
        assert_non_null(row);
    }
    assert_near(row->most, 500.0, 0.0);
    for (uint32_t o = 0; o < table.row_count; o++) {
        assert_near(row->cells[o].value.low, table_number(&table, o, "total"), 0.0);
        assert_near(row->cells[o].value.high, table_number(&table, o, "total"), 0.0);
    }
    assert_string_equal(row->cells[0].text, "310 of 500");
    assert_int_equal(row->cells[0].mark, MARK_WORST);
    assert_string_equal(row->cells[1].text, "445 of 500");
    assert_int_equal(row->cells[1].mark, MARK_BEST);
    compile_free(&compiled);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(totals_are_the_printed_ones_and_the_greatest_wins),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
