/*
 * Protection and fault current: ratings, limits, placement, and Ohm's law against worked answers.
 */
#include "unit/test_physics.h"

#include "physics/ampacity.h"
#include "physics/conductor.h"
#include "physics/fault.h"
#include "physics/protection.h"

#include <string.h>

#define INCH 0.0254

static void ratings_of_every_class_rise(void **state)
{
    (void)state;
    for (int class = 0; class < PROTECTION_CLASS_COUNT; class ++) {
        const Protection *row = protection_row((ProtectionClass) class);
        assert_true(row->rating_count > 5);
        for (size_t i = 1; i < row->rating_count; i++)
            assert_true(row->ratings_a[i] > row->ratings_a[i - 1]);
        assert_true(strlen(row->word) > 3 && strlen(row->standard) > 0 && strlen(row->note) > 0);
    }
    assert_int_equal(PROTECTION_NEC_SERIES, 0);
}

/* NEC 240.6(A), verified. */
static void the_next_rating_is_the_next_of_the_series(void **state)
{
    (void)state;
    assert_near(next_rating_a(PROTECTION_NEC_SERIES, 20.825), 25.0, 0.0);
    assert_near(next_rating_a(PROTECTION_NEC_SERIES, 35.0), 35.0, 0.0);
    assert_near(next_rating_a(PROTECTION_NEC_SERIES, 35.0000001), 40.0, 0.0);
    assert_near(next_rating_a(PROTECTION_NEC_SERIES, 1201.0), INFINITY, 0.0);
    assert_near(next_rating_a(PROTECTION_CARTRIDGE, 101.0), 125.0, 0.0);
    assert_near(largest_rating_a(PROTECTION_NEC_SERIES, 52.5), 50.0, 0.0);
    assert_near(largest_rating_a(PROTECTION_NEC_SERIES, 14.0), 0.0, 0.0);
    assert_true(is_standard_rating(PROTECTION_BLADE, 7.5));
    assert_false(is_standard_rating(PROTECTION_BLADE, 8.0));
    /* 0.58 x 100 A is a hair under 58 in binary and must not cost a size. */
    assert_near(largest_rating_a(PROTECTION_CARTRIDGE, 0.7 * (160.0 / 0.7)), 160.0, 0.0);
}

/* 24 A without end asks for 30 A (NEC practice). */
static void a_continuous_load_asks_for_a_quarter_more(void **state)
{
    (void)state;
    assert_near(rating_wanted_a(24.0, 0.0), 30.0, 1e-12);
    assert_near(rating_wanted_a(24.0, 5.0), 35.0, 1e-12);
    assert_near(next_rating_a(PROTECTION_BLADE, rating_wanted_a(24.0, 0.0)), 30.0, 0.0);
}

/*
 * 14 AWG 105 C: outside 52.5 A, so 50; in an engine space 29.75 x 1.5 = 44.6 A, so 40 (computed from 33 CFR
 * 183.455(c)(1)).
 */
static void under_50_v_the_us_limit_is_half_as_much_again(void **state)
{
    const Conductor *row = conductor_find_gauge(SERIES_AWG, 14);
    double outside_a = ampacity_allowed(BASIS_US, row, 105.0, (Laid){false, 30.0, 1, 12.0, 1});
    double engine_a = ampacity_allowed(BASIS_US, row, 105.0, (Laid){true, 30.0, 1, 12.0, 1});

    (void)state;
    assert_near(protection_limit_a(BASIS_US, 12.0, outside_a), 52.5, 1e-9);
    assert_near(protection_limit_a(BASIS_US, 12.0, engine_a), 44.625, 1e-9);
    assert_near(largest_rating_a(PROTECTION_NEC_SERIES, protection_limit_a(BASIS_US, 12.0, engine_a)), 40.0,
                0.0);
}

/* 33 CFR 183.455(c)(2), verified: the table current, or the next standard rating up to 1.5 x. */
static void from_50_v_the_us_limit_is_the_next_standard_rating(void **state)
{
    (void)state;
    assert_near(protection_limit_a(BASIS_US, 120.0, 20.825), 25.0, 0.0);
    assert_near(protection_limit_a(BASIS_US, 120.0, 35.0), 35.0, 0.0);
    assert_near(protection_limit_a(BASIS_US, 50.0, 20.825), 25.0, 0.0);
    assert_near(protection_limit_a(BASIS_US, 120.0, 8.0), 8.0, 0.0); /* 15 A is more than 12 */
    assert_near(protection_limit_a(BASIS_US, 49.9, 8.0), 12.0, 0.0);
}

/* ISO 13297:2020 13.1.5, verified: no latitude. */
static void the_iso_limit_is_the_ampacity(void **state)
{
    (void)state;
    assert_near(protection_limit_a(BASIS_ISO, 12.0, 35.0), 35.0, 0.0);
    assert_near(protection_limit_a(BASIS_ISO, 230.0, 20.8), 20.8, 0.0);
}

static void a_class_is_chosen_by_rating_where_none_is_stated(void **state)
{
    (void)state;
    assert_int_equal(protection_default_class(false, 40.0, false), PROTECTION_BLADE);
    assert_int_equal(protection_default_class(false, 60.0, false), PROTECTION_BOLT_ON);
    assert_int_equal(protection_default_class(true, 50.0, false), PROTECTION_HYDRAULIC);
    assert_int_equal(protection_default_class(true, 100.0, false), PROTECTION_THERMAL);
    assert_int_equal(protection_default_class(true, 16.0, true), PROTECTION_MINIATURE);
}

/*
 * ISO 8820-3 blade fuses: 1000 A at 32 V (verified). Class T: 20 kA at 125 V (second hand). Terminal fuses:
 * from memory.
 */
static void interrupting_capacity_ends_at_the_rated_voltage(void **state)
{
    (void)state;
    assert_near(interrupting_capacity_a(PROTECTION_BLADE, 24.0, false), 1000.0, 0.0);
    assert_near(interrupting_capacity_a(PROTECTION_BLADE, 48.0, false), 0.0, 0.0);
    assert_near(interrupting_capacity_a(PROTECTION_CLASS_T, 48.0, false), 20000.0, 0.0);
    assert_near(interrupting_capacity_a(PROTECTION_TERMINAL, 12.0, false), 10000.0, 0.0);
    assert_near(interrupting_capacity_a(PROTECTION_TERMINAL, 24.0, false), 5000.0, 0.0);
    assert_near(interrupting_capacity_a(PROTECTION_TERMINAL, 48.0, false), 2000.0, 0.0);
    assert_near(interrupting_capacity_a(PROTECTION_MINIATURE, 230.0, true), 6000.0, 0.0);
    assert_near(interrupting_capacity_a(PROTECTION_MINIATURE, 12.0, false), 0.0, 0.0);
    assert_near(interrupting_capacity_a(PROTECTION_BLADE, 120.0, true), 0.0, 0.0);
}

/* 33 CFR 183.455(b) and 183.460(a), verified: 7, 40 and 72 in. US practice: 10 ft from the inlet. */
static void us_distances_are_those_of_33_cfr(void **state)
{
    (void)state;
    assert_near(placement_limit(BASIS_US, FROM_BATTERY, false).limit_m, 72.0 * INCH, 1e-12);
    assert_near(placement_limit(BASIS_US, FROM_BATTERY, true).limit_m, 72.0 * INCH, 1e-12);
    for (int origin = FROM_OTHER; origin < POWER_ORIGIN_COUNT; origin++) {
        if (origin == FROM_INLET)
            continue;
        assert_near(placement_limit(BASIS_US, (PowerOrigin)origin, false).limit_m, 7.0 * INCH, 1e-12);
        assert_near(placement_limit(BASIS_US, (PowerOrigin)origin, true).limit_m, 40.0 * INCH, 1e-12);
    }
    assert_near(placement_limit(BASIS_US, FROM_INLET, false).limit_m, 120.0 * INCH, 1e-12);
}

/*
 * ISO 10133:2000 8.1 (second hand; the sheathed case from memory), ISO 13297:2020 12.3 and 13.2.2 (verified).
 */
static void iso_distances_are_those_of_iso_13297(void **state)
{
    (void)state;
    assert_near(placement_limit(BASIS_ISO, FROM_BATTERY, false).limit_m, 0.2, 0.0);
    assert_near(placement_limit(BASIS_ISO, FROM_BATTERY, true).limit_m, INFINITY, 0.0);
    assert_int_equal(placement_limit(BASIS_ISO, FROM_BATTERY, true).evidence, EVIDENCE_MEMORY);
    assert_near(placement_limit(BASIS_ISO, FROM_CHARGING, false).limit_m, 1.8, 0.0);
    assert_near(placement_limit(BASIS_ISO, FROM_AC, false).limit_m, 0.5, 0.0);
    assert_near(placement_limit(BASIS_ISO, FROM_INLET, true).limit_m, INFINITY, 0.0);
}

/* Computed: 12.8 V and 5 mohm 2560 A; lithium cells 4 x 0.2 + 0.4 mohm at 13.3 V 11083 A, above 10 kA. */
static void fault_current_at_the_terminals(void **state)
{
    (void)state;
    assert_near(fault_current_a(12.8, 0.005, 0.0), 2560.0, 1e-9);
    assert_near(fault_current_a(13.3, 4.0 * 0.0002 + 0.0004, 0.0), 11083.3, 0.05);
    assert_near(fault_current_a(12.8, 0.0, 0.0), INFINITY, 0.0);
}

/*
 * Computed with IEC 60228 resistances: 13.2 V, 1.2 mohm through 1 m out and back of 70 mm2: 7526 A; 12.8 V, 4
 * mohm through 12 m of 2.5 mm2: 124.9 A. A circuit simulator (ngspice 39) gives 640 A for 12.8 V behind 0.002
 * + 0.006 + 0.012 ohm.
 */
static void fault_current_along_the_cable(void **state)
{
    const Conductor *thick = conductor_find(SERIES_METRIC, 70e-6);
    const Conductor *thin = conductor_find(SERIES_METRIC, 2.5e-6);

    (void)state;
    assert_near(fault_current_a(13.2, 0.0012, conductor_resistance_ohm(thick, 2.0, 20.0, 1)), 7526.0, 0.5);
    assert_near(fault_current_a(12.8, 0.004, conductor_resistance_ohm(thin, 12.0, 20.0, 1)), 124.9, 0.05);
    assert_near(fault_current_a(12.8, 0.002, 0.006 + 0.012), 640.0, 1e-9);
}

/* ISO 8820-3 type C, from memory: 2 times the rating opens within 5 s, and not before 0.15 s. Others: choices of the program. */
static void devices_open_promptly_and_carry_surely_by_their_class(void **state)
{
    (void)state;
    assert_near(opens_promptly(PROTECTION_BLADE, 15.0).amps, 30.0, 1e-9);
    assert_near(opens_promptly(PROTECTION_BOLT_ON, 100.0).amps, 350.0, 1e-9);
    assert_near(opens_promptly(PROTECTION_CLASS_T, 100.0).amps, 100.0 * PROMPT_MULTIPLE, 1e-9);
    assert_int_equal(opens_promptly(PROTECTION_BLADE, 15.0).evidence, EVIDENCE_SECOND_HAND);
    /* IEC 60269-1, table 3 (second hand): a gG of 100 A melts within 5 s from 580 A on, and stands 290 A for 10 s. */
    assert_near(opens_promptly(PROTECTION_CARTRIDGE, 100.0).amps, 580.0, 1e-9);
    assert_near(opens_promptly(PROTECTION_CARTRIDGE, 90.0).amps, 580.0, 1e-9);
    assert_near(opens_promptly(PROTECTION_CARTRIDGE, 16.0).amps, 65.0, 1e-9);
    assert_near(carries_surely(PROTECTION_CARTRIDGE, 100.0, 10.0).amps, 290.0, 1e-9);
    assert_near(carries_surely(PROTECTION_CARTRIDGE, 110.0, 10.0).amps, 290.0, 1e-9);
    assert_near(carries_surely(PROTECTION_CARTRIDGE, 100.0, 0.1).amps, 820.0, 1e-9);
    assert_near(carries_surely(PROTECTION_CARTRIDGE, 100.0, 61.0).amps, 100.0, 1e-9);
    /* UL 248-2 and 248-9 (second hand): 1.1 times for 15 minutes at least; class T alike, and ISO 8820, from memory. */
    assert_near(carries_surely(PROTECTION_CLASS_T, 250.0, 5.0).amps, 275.0, 1e-9);
    assert_near(carries_surely(PROTECTION_TERMINAL, 250.0, 5.0).amps, 275.0, 1e-9);
    assert_near(carries_surely(PROTECTION_BLADE, 40.0, 5.0).amps, 44.0, 1e-9);
    assert_near(carries_surely(PROTECTION_CARTRIDGE, 100.0, 60.0).amps, 110.0, 1e-9);
    assert_near(carries_surely(PROTECTION_THERMAL, 100.0, 5.0).amps, 100.0, 1e-9);
    assert_near(carries_surely(PROTECTION_CLASS_T, 250.0, 1.0).amps, 500.0, 1e-9);
    for (double a = 2.0; a < 900.0; a += 1.0) {
        assert_true(opens_promptly(PROTECTION_CARTRIDGE, a).amps <= opens_promptly(PROTECTION_CARTRIDGE, a + 1.0).amps);
        assert_true(carries_surely(PROTECTION_CARTRIDGE, a, 1.0).amps <= carries_surely(PROTECTION_CARTRIDGE, a + 1.0, 1.0).amps);
    }
    /* Makers' sheets after ISO 8820-3 (second hand): type C 1.6 times in 0.25 to 50 s; type E 2 times in 2 to 50 s. */
    assert_near(carries_surely(PROTECTION_BLADE, 10.0, 0.25).amps, 16.0, 1e-9);
    assert_near(carries_surely(PROTECTION_BLADE_LARGE, 40.0, 2.0).amps, 80.0, 1e-9);
    assert_near(opens_promptly(PROTECTION_BLADE_LARGE, 40.0).amps, 240.0, 1e-9);
    assert_int_equal(opens_promptly(PROTECTION_THERMAL, 15.0).evidence, EVIDENCE_MODEL);
    assert_near(carries_surely(PROTECTION_BLADE, 10.0, 0.15).amps, 20.0, 1e-9);
    assert_near(carries_surely(PROTECTION_BLADE, 10.0, 1e4).amps, 10.0, 1e-9);
    assert_near(carries_surely(PROTECTION_BLADE, 10.0, 1e-3).amps, 60.0, 1e-9);
    assert_near(carries_surely(PROTECTION_HYDRAULIC, 10.0, 1.0).amps, 20.0, 1e-9);
    assert_near(carries_surely(PROTECTION_HYDRAULIC, 10.0, 2.0).amps, 10.0, 1e-9);
    for (int i = 1; i < 200; i++) { /* the longer, the less */
        assert_true(carries_surely(PROTECTION_BLADE, 10.0, 0.01 * i).amps <= carries_surely(PROTECTION_BLADE, 10.0, 0.01 * (i - 1) + 1e-4).amps);
    }
    /* And the other way round: the least of the class, from a rating on, that carries it. */
    assert_near(rating_that_carries_a(PROTECTION_CARTRIDGE, 0.0, 290.0, 10.0), 100.0, 1e-9);
    assert_near(rating_that_carries_a(PROTECTION_CARTRIDGE, 160.0, 290.0, 10.0), 160.0, 1e-9);
    assert_true(isinf(rating_that_carries_a(PROTECTION_CLASS_T, 0.0, 1e6, 10.0)));
}

/* ISO 8820-3:2015, scope (second hand): blade fuses of types C, E and F, of 100 A at most; which of them from memory. */
static void a_blade_of_more_than_forty_amperes_is_a_large_one(void **state)
{
    (void)state;
    assert_int_equal(class_of_family(PROTECTION_BLADE, 40.0), PROTECTION_BLADE);
    assert_int_equal(class_of_family(PROTECTION_BLADE, 50.0), PROTECTION_BLADE_LARGE);
    assert_int_equal(class_of_family(PROTECTION_BLADE_SMALL, 50.0), PROTECTION_BLADE_SMALL);
    assert_int_equal(class_of_family(PROTECTION_CLASS_T, 50.0), PROTECTION_CLASS_T);
}

/* Capacities of the class table: blade 1000 A, bolt-on 2000 A from 35 A, terminal 10 kA from 30 A, class T 20 kA from 1 A; IEC 60269: gG 1.6 to 1. */
static void a_class_is_found_that_breaks_the_fault(void **state)
{
    (void)state;
    assert_int_equal(class_that_breaks(false, 10.0, 12.0, 900.0), PROTECTION_BLADE);
    assert_int_equal(class_that_breaks(false, 7.5, 12.0, 3000.0), PROTECTION_CLASS_T);
    assert_int_equal(class_that_breaks(false, 100.0, 12.0, 2000.0), PROTECTION_BOLT_ON);
    assert_int_equal(class_that_breaks(false, 100.0, 12.0, 2001.0), PROTECTION_TERMINAL);
    assert_int_equal(class_that_breaks(false, 100.0, 12.0, 15000.0), PROTECTION_CLASS_T);
    assert_int_equal(class_that_breaks(false, 100.0, 48.0, 1000.0), PROTECTION_TERMINAL);
    assert_int_equal(class_that_breaks(true, 20.0, 12.0, 4000.0), PROTECTION_CLASS_COUNT);
    assert_near(order_ratio(PROTECTION_CARTRIDGE, PROTECTION_CARTRIDGE), 1.6, 0.0);
    assert_true(order_ratio(PROTECTION_CLASS_T, PROTECTION_HYDRAULIC) > 1.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ratings_of_every_class_rise),
        cmocka_unit_test(the_next_rating_is_the_next_of_the_series),
        cmocka_unit_test(a_continuous_load_asks_for_a_quarter_more),
        cmocka_unit_test(under_50_v_the_us_limit_is_half_as_much_again),
        cmocka_unit_test(from_50_v_the_us_limit_is_the_next_standard_rating),
        cmocka_unit_test(the_iso_limit_is_the_ampacity),
        cmocka_unit_test(a_class_is_chosen_by_rating_where_none_is_stated),
        cmocka_unit_test(interrupting_capacity_ends_at_the_rated_voltage),
        cmocka_unit_test(us_distances_are_those_of_33_cfr),
        cmocka_unit_test(iso_distances_are_those_of_iso_13297),
        cmocka_unit_test(fault_current_at_the_terminals),
        cmocka_unit_test(fault_current_along_the_cable),
        cmocka_unit_test(a_blade_of_more_than_forty_amperes_is_a_large_one),
        cmocka_unit_test(devices_open_promptly_and_carry_surely_by_their_class),
        cmocka_unit_test(a_class_is_found_that_breaks_the_fault),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
