/*
 * Extinguishers by length against the published table, row by row.
 */
#include "reference/table.h"

#include "physics/fire.h"
#include "physics/ventilation.h"

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
    assert_near(gas_drain_bore(BASIS_US).least_m, 0.0127, 1e-12);
    assert_int_equal(gas_drain_bore(BASIS_US).evidence, EVIDENCE_SECOND_HAND);
    assert_near(gas_drain_bore(BASIS_ISO).least_m, 0.019, 1e-12);
    assert_int_equal(gas_drain_bore(BASIS_ISO).evidence, EVIDENCE_MEMORY);
}

/*
 * 33 CFR 183.610, Table 183.610, columns 2 and 3, and 183.630(d), (e), worked by hand: 50 cfm, 1.5 V, V/2 + 100; 20, 0.6 V, 0.2 V + 40; 5 ln(V/5) in2 and
 * 3 in2 at least; 183.605, 15 in2 for each ft3.
 */
static void air_for_petrol_is_that_of_33_cfr_183_subpart_k(void **state)
{
    (void)state;
    const double ft3 = 0.028316846592;
    const double cfm = ft3 / 60.0;
    const double in2 = 0.00064516;
    assert_near(petrol_blower_m3_per_s(20.0 * ft3), 50.0 * cfm, 1e-12);
    assert_near(petrol_blower_m3_per_s(33.9 * ft3), 50.0 * cfm, 1e-12);
    assert_near(petrol_blower_m3_per_s(60.0 * ft3), 90.0 * cfm, 1e-12);
    assert_near(petrol_blower_m3_per_s(100.0 * ft3), 150.0 * cfm, 1e-12);
    assert_near(petrol_blower_m3_per_s(180.0 * ft3), 190.0 * cfm, 1e-12);
    assert_near(petrol_output_m3_per_s(33.9 * ft3), 20.0 * cfm, 1e-12);
    assert_near(petrol_output_m3_per_s(60.0 * ft3), 36.0 * cfm, 1e-12);
    /* A boat design school's worked example: 319.7 ft3 ask for a rating of 259.8 cfm, and 103.9 cfm as installed. */
    assert_near(petrol_blower_m3_per_s(319.7 * ft3) / cfm, 259.8, 0.06);
    assert_near(petrol_output_m3_per_s(319.7 * ft3) / cfm, 103.9, 0.06);
    assert_near(petrol_opening_m2(100.0 * ft3), 14.97866 * in2, 1e-8);
    assert_near(petrol_opening_m2(8.0 * ft3), 3.0 * in2, 1e-12);
    assert_near(petrol_opening_m2(0.0), 3.0 * in2, 1e-12);
    assert_near(open_to_air_m2(10.0 * ft3), 150.0 * in2, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(extinguishers_are_those_of_33_cfr_175_320),
        cmocka_unit_test(air_for_petrol_is_that_of_33_cfr_183_subpart_k),
        cmocka_unit_test(a_gas_drain_is_wider_by_the_one_basis_than_by_the_other),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
