/*
 * Conductors, ampacity and voltage drop: geometry, look-up, worked examples with known answers, and the edges
 * of the tables. The tables themselves are compared row by row in tests/reference.
 */
#include "unit/test_physics.h"

#include "physics/ampacity.h"
#include "physics/conductor.h"
#include "physics/drop.h"

#include <math.h>
#include <string.h>

#define PI 3.14159265358979323846
#define METRES_PER_FOOT 0.3048

static const Conductor *gauge(int n)
{
    return conductor_find_gauge(SERIES_AWG, n);
}

static const Conductor *square(double mm2)
{
    return conductor_find(SERIES_METRIC, mm2 * 1e-6);
}

#define M2_OF_A_MIL (PI / 4.0 * 0.0254e-3 * 0.0254e-3)

/* The thinnest size that loses no more than drop_v by the form of the basis. */
static const Conductor *thinnest(Basis basis, Series series, int parallel, double loop_m, double amps, double drop_v)
{
    const Conductor *row = conductor_at(series, 0);
    while (row != NULL && drop_by_rule_v(basis, row->area_m2 * parallel, loop_m, amps) > drop_v)
        row = conductor_next(row);
    return row;
}

/* ASTM B258: 10 AWG is 10383 circular mils, 4/0 211600 exactly; GNU units gives 2.5881867 mm for 10 AWG. */
static void gauge_areas_follow_the_formula(void **state)
{
    (void)state;
    assert_near(circular_mils(gauge(10)->area_m2), 10383.0, 0.5);
    assert_near(circular_mils(gauge(-3)->area_m2), 211600.0, 1e-6);
    assert_near(sqrt(gauge(10)->area_m2 * 4.0 / PI), 2.5881867e-3, 1e-9);
    for (size_t i = 0; i < conductor_count(SERIES_AWG); i++) {
        const Conductor *row = conductor_at(SERIES_AWG, i);
        double diameter_m = 0.127e-3 * pow(92.0, (36.0 - row->gauge) / 39.0);
        assert_within(row->area_m2, PI / 4.0 * diameter_m * diameter_m, 1e-14);
        assert_within(awg_area_m2(row->gauge), row->area_m2, 0.0);
    }
    /* Not among our rows; a published wire table prints 0.518 mm2. */
    assert_near(awg_area_m2(20), 0.518e-6, 0.0005e-6);
}

static void sizes_run_from_thin_to_thick(void **state)
{
    (void)state;
    for (int series = 0; series < SERIES_COUNT; series++) {
        size_t count = conductor_count((Series)series);
        for (size_t i = 0; i < count; i++) {
            const Conductor *row = conductor_at((Series)series, i);
            const Conductor *next = conductor_next(row);
            assert_int_equal(row->series, series);
            assert_ptr_equal(conductor_find((Series)series, row->area_m2 * 1.0005), row);
            assert_true((next == NULL) == (i + 1 == count));
            if (next == NULL)
                continue;
            assert_true(next->area_m2 > 1.15 * row->area_m2);
            assert_true(next->r20_ohm_per_m < row->r20_ohm_per_m);
        }
    }
}

static void sizes_are_found_by_area_and_number(void **state)
{
    (void)state;
    assert_string_equal(square(6)->word, "6 mm2");
    assert_string_equal(gauge(-1)->word, "2/0 AWG");
    assert_string_equal(conductor_find_gauge(SERIES_SAE, 10)->word, "10 SAE");
    assert_null(square(5));
    assert_null(gauge(20));
    assert_null(conductor_find_gauge(SERIES_SAE, 3)); /* no SAE figure is printed for 3 */
    assert_null(conductor_find_gauge(SERIES_METRIC, 0));
    assert_ptr_equal(conductor_at_least(SERIES_METRIC, 4.1e-6), square(6));
    assert_ptr_equal(conductor_at_least(SERIES_METRIC, 4e-6), square(4));
    assert_null(conductor_at_least(SERIES_METRIC, 151e-6));
}

/*
 * Computed apart from this program: 8.21 ohm/km at 20 C is 9.178 at 50 C; the NEC note to table 8 of chapter
 * 9, verified, turns 75 C to T by 1 + 0.00323 (T - 75): both coefficients must agree to 0.1 per cent from 20
 * to 75 C.
 */
static void resistance_rises_with_temperature(void **state)
{
    (void)state;
    assert_near(conductor_resistance_ohm(square(2.5), 1000.0, 50.0, 1), 9.178, 0.0005);
    for (double celsius = 20.0; celsius <= 75.0; celsius += 5.0) {
        double by_nec = 1.29 / 304.8 * (1.0 + 0.00323 * (celsius - 75.0));
        assert_within(conductor_resistance_ohm(gauge(10), 1.0, celsius, 1), by_nec, 0.001);
    }
    /* IEC 60228 turns a reading at T to 20 C by 250 / (230 + T), verified; it rounds alpha to 0.004. */
    assert_within(conductor_resistance_ohm(square(6), 1.0, 20.0, 1),
                  conductor_resistance_ohm(square(6), 1.0, 60.0, 1) * 250.0 / 290.0, 0.003);
}

static void parallel_conductors_share_the_current(void **state)
{
    (void)state;
    assert_within(conductor_resistance_ohm(square(50), 3.0, 20.0, 2), 3.0 * 0.393e-3 / 2.0, 1e-12);
    assert_near(conductor_resistance_ohm(square(50), 0.0, 20.0, 1), 0.0, 0.0);
}

/* SAE has less copper and so more resistance, in the same measure. */
static void sae_resistance_goes_with_its_copper(void **state)
{
    (void)state;
    for (size_t i = 0; i < conductor_count(SERIES_SAE); i++) {
        const Conductor *sae = conductor_at(SERIES_SAE, i);
        const Conductor *awg = gauge(sae->gauge);
        assert_within(sae->r20_ohm_per_m * sae->area_m2, awg->r20_ohm_per_m * awg->area_m2, 1e-12);
        assert_int_not_equal(sae->r20_evidence, EVIDENCE_VERIFIED);
    }
}

/*
 * 14 AWG 105 C, three loaded AC conductors in an engine space: printed 20.8 A (reprint of US practice,
 * verified). The others are computed from 33 CFR 183.425.
 */
static void ampacity_examples_give_their_printed_answers(void **state)
{
    (void)state;
    assert_near(ampacity_allowed(BASIS_US, gauge(14), 105.0, (Laid){true, 30.0, 3, 120.0, 1}), 20.825, 1e-9);
    assert_near(ampacity_allowed(BASIS_US, gauge(8), 90.0, (Laid){true, 30.0, 1, 12.0, 1}), 57.4, 1e-9);
    assert_near(ampacity_allowed(BASIS_US, gauge(12), 60.0, (Laid){true, 30.0, 1, 12.0, 1}), 14.5, 1e-9);
    assert_near(ampacity_allowed(BASIS_US, gauge(8), 90.0, (Laid){false, 30.0, 1, 12.0, 2}), 140.0, 1e-9);
}

/*
 * 33 CFR 183.435(b): no bundle factor below 50 V, none for two conductors. iso, from memory: from four, at
 * any voltage, so that 2.5 mm2 of 105 C in an engine space and a bundle of four carries 35 x 0.86 x 0.7 = 21 A.
 */
static void bundles_count_only_where_the_basis_says(void **state)
{
    (void)state;
    assert_near(bundle_factor(BASIS_US, 30, 49.9), 1.0, 0.0);
    assert_near(bundle_factor(BASIS_US, 2, 120.0), 1.0, 0.0);
    assert_near(bundle_factor(BASIS_US, 3, 50.0), 0.7, 0.0);
    assert_near(bundle_factor(BASIS_ISO, 3, 12.0), 1.0, 0.0);
    assert_near(bundle_factor(BASIS_ISO, 4, 12.0), 0.7, 0.0);
    assert_near(bundle_factor(BASIS_ISO, 7, 12.0), 0.6, 0.0);
    assert_near(bundle_factor(BASIS_ISO, 25, 12.0), 0.5, 0.0);
}

static void insulation_between_columns_takes_the_lower(void **state)
{
    (void)state;
    assert_near(ampacity_table(BASIS_US, gauge(10), 70.0), 40.0, 0.0);
    assert_near(ampacity_table(BASIS_US, gauge(10), 104.9), 55.0, 0.0);
    assert_near(ampacity_table(BASIS_US, gauge(10), 250.0), 70.0, 0.0);
    assert_near(ampacity_table(BASIS_ISO, square(6), 90.0), 50.0, 0.0);
    assert_near(ampacity_find(BASIS_ISO, square(6), 90.0).insulation_celsius, 85.0, 0.0);
    assert_near(ampacity_table(BASIS_US, gauge(10), 59.0), 0.0, 0.0);
    assert_near(engine_space_factor(BASIS_US, 59.0), 0.0, 0.0);
    assert_near(engine_space_factor(BASIS_US, 89.0), 0.78, 0.0);
}

/* A size of the other basis's series takes the thickest row that has no more copper. */
static void sizes_of_another_series_take_the_row_below(void **state)
{
    (void)state;
    assert_ptr_equal(ampacity_find(BASIS_US, square(6), 105.0).row, gauge(10));
    assert_ptr_equal(ampacity_find(BASIS_US, square(2.5), 105.0).row, gauge(14));
    assert_ptr_equal(ampacity_find(BASIS_ISO, gauge(14), 105.0).row, square(1.5));
    assert_ptr_equal(ampacity_find(BASIS_ISO, gauge(-3), 105.0).row, square(95));
    assert_null(ampacity_find(BASIS_US, square(0.5), 105.0).row);
    assert_near(ampacity_table(BASIS_ISO, square(0.5), 105.0), 0.0, 0.0);
    /* SAE under us goes by its number, although it has less copper than AWG of that number. */
    assert_ptr_equal(ampacity_find(BASIS_US, conductor_find_gauge(SERIES_SAE, 10), 105.0).row, gauge(10));
    assert_ptr_equal(ampacity_find(BASIS_ISO, conductor_find_gauge(SERIES_SAE, 10), 105.0).row, square(4));
}

static void a_table_from_memory_says_so(void **state)
{
    (void)state;
    assert_int_equal(ampacity_find(BASIS_ISO, square(6), 105.0).evidence, EVIDENCE_MEMORY);
    assert_int_equal(ampacity_find(BASIS_US, gauge(6), 105.0).evidence, EVIDENCE_VERIFIED);
    assert_int_equal(square(6)->r20_evidence, EVIDENCE_VERIFIED);
    assert_int_equal(gauge(10)->r20_evidence, EVIDENCE_MEMORY);
    assert_int_equal(gauge(6)->r20_evidence, EVIDENCE_VERIFIED);
    for (int i = 0; i < EVIDENCE_COUNT; i++)
        assert_true(strlen(evidence_word((Evidence)i)) > 3);
    assert_string_equal(basis_word(BASIS_US), "us");
    assert_string_equal(basis_word(BASIS_ISO), "iso");
}

/* The published factors of 33 CFR 183.425 note 1 round this curve, 200 C excepted. */
static void ambient_factor_is_the_curve_behind_the_engine_factors(void **state)
{
    static const double ratings[] = {60, 75, 80, 90, 105, 125};

    (void)state;
    for (size_t i = 0; i < 6; i++)
        assert_near(ambient_factor(ratings[i], 50.0), engine_space_factor(BASIS_US, ratings[i]), 0.01);
    assert_near(ambient_factor(60.0, 25.0), 1.0, 0.0);
    assert_near(ambient_factor(60.0, 60.0), 0.0, 0.0);
}

/* 33 CFR 183.425(d),(e), and ISO 10133:2012 7.7, both verified. */
static void least_sizes_are_those_of_the_bases(void **state)
{
    (void)state;
    assert_ptr_equal(conductor_minimum(BASIS_US, false), gauge(16));
    assert_ptr_equal(conductor_minimum(BASIS_US, true), gauge(18));
    assert_ptr_equal(conductor_minimum(BASIS_ISO, false), square(1));
    assert_ptr_equal(conductor_minimum(BASIS_ISO, true), square(0.75));
}

/*
 * A bilge pump of 10 A, 11 ft out and 10 back, 12 V, 3 per cent: 6270.8 circular mils; 12 AWG is enough, of
 * SAE it takes 10 (printed example of US practice, verified).
 */
static void drop_example_of_a_bilge_pump(void **state)
{
    (void)state;
    double drop_v = DROP_LIMIT_CRITICAL * 12.0;
    assert_near(drop_by_rule_v(BASIS_US, 6270.8 * M2_OF_A_MIL, 21.0 * METRES_PER_FOOT, 10.0), drop_v, 1e-5);
    assert_ptr_equal(thinnest(BASIS_US, SERIES_AWG, 1, 21.0 * METRES_PER_FOOT, 10.0, drop_v), gauge(12));
    assert_int_equal(thinnest(BASIS_US, SERIES_SAE, 1, 21.0 * METRES_PER_FOOT, 10.0, drop_v)->gauge, 10);
}

/*
 * 20 A, 6 m each way, 4 mm2, 12 V: 0.984 V by the iso form (from memory), 1.2216 V in real cable (computed).
 */
static void the_iso_form_is_short_of_the_real_drop(void **state)
{
    (void)state;
    assert_near(drop_by_rule_v(BASIS_ISO, 4e-6, 12.0, 20.0), 0.984, 1e-9);
    assert_near(drop_physical_v(square(4), 12.0, 20.0, 1, 20.0), 1.2216, 1e-9);
}

/*
 * Computed apart from this program, iso form from memory: 15 A over 16 m at 12 V, 3 per cent: 10.93 mm2, so
 * 16; 10 A over 20 m at 24 V: 4.556 mm2, so 6. The physical form at 20 C agrees on both.
 */
static void iso_sizes_of_two_examples(void **state)
{
    (void)state;
    assert_near(drop_by_rule_v(BASIS_ISO, 10.933e-6, 16.0, 15.0), 0.36, 0.001);
    assert_ptr_equal(thinnest(BASIS_ISO, SERIES_METRIC, 1, 16.0, 15.0, 0.36), square(16));
    assert_near(drop_physical_v(square(16), 16.0, 20.0, 1, 15.0), 0.2976, 1e-6);
    assert_ptr_equal(thinnest(BASIS_ISO, SERIES_METRIC, 1, 20.0, 10.0, 0.72), square(6));
    assert_near(drop_physical_v(square(6), 20.0, 20.0, 1, 10.0), 0.678, 1e-6);
}

static void two_conductors_in_parallel_may_be_thinner(void **state)
{
    (void)state;
    assert_ptr_equal(thinnest(BASIS_ISO, SERIES_METRIC, 2, 4.0, 260.0, 0.36), square(25)); /* 47.4 mm2 in all */
    assert_ptr_equal(thinnest(BASIS_ISO, SERIES_METRIC, 1, 4.0, 260.0, 0.36), square(50));
}

/* K = 10.75 is 0.017871 ohm mm2/m (GNU units: 0.017871081). */
static void the_us_constant_is_the_published_one(void **state)
{
    (void)state;
    assert_near(drop_by_rule_v(BASIS_US, 1e-6, 1.0, 1.0), 0.017871081, 5e-10);
}

/*
 * A course's sheet on IEC 60949, worked example (second hand): 95 mm2 of copper go from 90 C to 250 C in 1 s with 13.6 kA.
 * By hand: 25 mm2 with 775 A for 10 s from 50 C, 284.5 C x exp((775 / 25 / 226)^2 x 10) - 234.5 C = 108.9 C.
 */
static void what_heats_copper_to_its_limit_leaves_it_at_its_limit(void **state)
{
    (void)state;
    double from_90_c = sqrt((250.0 - 90.0) / (250.0 - 30.0)); /* the factor of the heat on its way that stands for it */
    assert_near(short_time_a(95e-6, 250.0, from_90_c, 1.0), 13600.0, 10.0);
    assert_near(short_time_celsius(25e-6, 50.0, 775.0, 10.0), 108.9, 0.05);
    for (double celsius = 60.0; celsius < 260.0; celsius += 15.0) {
        for (double seconds = 1.0; seconds < 600.0; seconds *= 3.0) {
            double amps = short_time_a(35e-6, celsius, 1.0, seconds);
            assert_near(short_time_celsius(35e-6, 30.0, amps, seconds), celsius, 1e-9);
        }
    }
    assert_near(short_time_celsius(1e-6, 50.0, 1000.0, 60.0), 1084.62, 0.0); /* it melts */
}

/* docs/computing.md says how far the forms of the bases lie below real cable: gauges of coated strand, metric ones at their most. */
static void the_forms_of_the_bases_lie_below_real_cable(void **state)
{
    (void)state;
    static const struct {
        Basis basis;
        Series series;
        double least, most;
    } rows[] = {{BASIS_US, SERIES_AWG, 0.11, 0.15},
                {BASIS_US, SERIES_METRIC, 0.17, 0.23},
                {BASIS_ISO, SERIES_AWG, 0.185, 0.22},
                {BASIS_ISO, SERIES_METRIC, 0.24, 0.29}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        for (size_t n = 0; n < conductor_count(rows[i].series); n++) {
            const Conductor *row = conductor_at(rows[i].series, n);
            double below = 1.0 - drop_by_rule_v(rows[i].basis, row->area_m2, 10.0, 5.0) / drop_physical_v(row, 10.0, 50.0, 1, 5.0);
            assert_true(below > rows[i].least && below < rows[i].most);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_heats_copper_to_its_limit_leaves_it_at_its_limit),
        cmocka_unit_test(gauge_areas_follow_the_formula),
        cmocka_unit_test(sizes_run_from_thin_to_thick),
        cmocka_unit_test(sizes_are_found_by_area_and_number),
        cmocka_unit_test(resistance_rises_with_temperature),
        cmocka_unit_test(parallel_conductors_share_the_current),
        cmocka_unit_test(sae_resistance_goes_with_its_copper),
        cmocka_unit_test(ampacity_examples_give_their_printed_answers),
        cmocka_unit_test(bundles_count_only_where_the_basis_says),
        cmocka_unit_test(insulation_between_columns_takes_the_lower),
        cmocka_unit_test(sizes_of_another_series_take_the_row_below),
        cmocka_unit_test(a_table_from_memory_says_so),
        cmocka_unit_test(ambient_factor_is_the_curve_behind_the_engine_factors),
        cmocka_unit_test(least_sizes_are_those_of_the_bases),
        cmocka_unit_test(drop_example_of_a_bilge_pump),
        cmocka_unit_test(the_forms_of_the_bases_lie_below_real_cable),
        cmocka_unit_test(the_iso_form_is_short_of_the_real_drop),
        cmocka_unit_test(iso_sizes_of_two_examples),
        cmocka_unit_test(two_conductors_in_parallel_may_be_thinner),
        cmocka_unit_test(the_us_constant_is_the_published_one),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
