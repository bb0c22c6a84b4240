/*
 * Extinguishers by length against the published table, row by row.
 */
#include "reference/table.h"

#include "physics/fire.h"

#define METRES_PER_FOOT 0.3048

static void extinguishers_are_those_of_33_cfr_175_320(void **state)
{
    Table table;

    (void)state;
    table_load(&table, "extinguishers-33cfr175-320.tsv");
    assert_int_equal(table.row_count, 9);
    for (size_t i = 0; i < table.row_count; i++) {
        bool fixed = strcmp(table_text(&table, i, "fixed"), "yes") == 0;
        double from = table_number(&table, i, "from_ft"), to = table_number(&table, i, "to_ft");
        double counted = table_number(&table, i, "n_5b") + 2.0 * table_number(&table, i, "n_20b");
        double lengths_ft[] = {from, (from + to) / 2.0, to - 0.001};
        for (size_t k = 0; k < 3; k++) {
            assert_row_near(&table, i, extinguishers_asked(lengths_ft[k] * METRES_PER_FOOT, fixed), counted,
                            0.0);
        }
    }
    assert_int_equal(extinguishers_asked(65.0 * METRES_PER_FOOT, false), 3);
    assert_int_equal(extinguishers_asked(65.1 * METRES_PER_FOOT, false), -1);
}

/* Surveyors' summaries of US practice: half an inch; from memory of the ISO standard: 19 mm. */
static void a_gas_drain_is_wider_by_the_one_basis_than_by_the_other(void **state)
{
    (void)state;
    assert_near(gas_drain_bore(BASIS_US).least_m, 0.013, 1e-12);
    assert_int_equal(gas_drain_bore(BASIS_US).evidence, EVIDENCE_SECOND_HAND);
    assert_near(gas_drain_bore(BASIS_ISO).least_m, 0.019, 1e-12);
    assert_int_equal(gas_drain_bore(BASIS_ISO).evidence, EVIDENCE_MEMORY);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(extinguishers_are_those_of_33_cfr_175_320),
        cmocka_unit_test(a_gas_drain_is_wider_by_the_one_basis_than_by_the_other),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
