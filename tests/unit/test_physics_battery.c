/*
 * Batteries: Peukert's law against published answers, figures of practice, and what a bank takes as it fills.
 */
#include "unit/test_physics.h"

#include "physics/battery.h"

#include <string.h>

#define HOUR 3600.0
#define AH COULOMB_PER_AH

/*
 * Manual of a battery monitor, verified: 10 A from 100 Ah with k 1.2 gives 87 per cent; 200 Ah, 50 A, k 1.25:
 * 134 Ah.
 */
static void peukert_gives_the_published_amp_hours(void **state)
{
    (void)state;
    assert_near(100.0 / peukert_effective_a(100.0 * AH, 20.0, 10.0, 1.2), 8.7055, 0.00005);
    assert_near(200.0 * peukert_share(200.0 * AH, 20.0, 50.0, 1.25), 134.0, 0.5);
    assert_near(200.0 / peukert_effective_a(200.0 * AH, 20.0, 50.0, 1.25), 2.675, 0.0005);
    assert_near(100.0 * peukert_share(100.0 * AH, 20.0, 100.0, 1.3), 41.0, 0.5);
}

/* At the nameplate rate the nameplate holds; the one-ampere form with a nameplate in it would say 14.5 h. */
static void peukert_keeps_the_nameplate(void **state)
{
    (void)state;
    assert_near(peukert_share(100.0 * AH, 20.0, 1.0, 1.2), 1.0, 0.0);
    assert_near(peukert_effective_a(100.0 * AH, 20.0, 3.0, 1.2), 3.0, 0.0);
    assert_within(peukert_effective_a(100.0 * AH, 20.0, 10.0, 1.2), 10.0 * pow(2.0, 0.2), 1e-12);
}

/* From memory: 12 V 100 Ah of lithium 2 to 5 mohm; twice the voltage and twice the charge are the same. */
static void default_resistance_scales_with_voltage_and_charge(void **state)
{
    Interval one = battery_resistance_ohm(CHEMISTRY_LIFEPO4, 12.0, 100.0 * AH);
    Interval same = battery_resistance_ohm(CHEMISTRY_LIFEPO4, 24.0, 200.0 * AH);
    Interval flooded = battery_resistance_ohm(CHEMISTRY_FLOODED, 12.0, 200.0 * AH);

    (void)state;
    assert_near(one.low, 0.002, 1e-15);
    assert_near(one.high, 0.005, 1e-15);
    assert_near(same.low, one.low, 1e-15);
    assert_near(same.high, one.high, 1e-15);
    assert_near(flooded.low, 0.0025, 1e-15);
    assert_near(flooded.high, 0.005, 1e-15);
}

/* Common practice and memory (no standard): the values of the table, and that it owns up to it. */
static void planning_figures_are_those_of_practice(void **state)
{
    (void)state;
    assert_near(battery_figure(BATTERY_USABLE, CHEMISTRY_AGM), 0.5, 0.0);
    assert_near(battery_figure(BATTERY_USABLE, CHEMISTRY_LIFEPO4), 0.8, 0.0);
    assert_near(battery_figure(BATTERY_CHARGE_EFFICIENCY, CHEMISTRY_FLOODED), 0.85, 0.0);
    assert_near(battery_rate_a(battery_figure(BATTERY_ACCEPTANCE, CHEMISTRY_GEL), 200.0 * AH), 40.0, 1e-12);
    assert_near(battery_volts(BATTERY_ABSORPTION, CHEMISTRY_AGM, 24.0), 28.8, 1e-12);
    for (int figure = 0; figure < BATTERY_FIGURE_COUNT; figure++) {
        const BatteryRow *row = battery_row((BatteryFigure)figure);
        assert_int_not_equal(row->evidence, EVIDENCE_VERIFIED);
        assert_true(strlen(row->name) > 0 && strlen(row->unit) > 0);
    }
    for (int chemistry = 0; chemistry < CHEMISTRY_COUNT; chemistry++) {
        Chemistry one = (Chemistry)chemistry;
        assert_true(battery_figure(BATTERY_PEUKERT_LOW, one) < battery_figure(BATTERY_PEUKERT_HIGH, one));
        assert_true(battery_figure(BATTERY_RESISTANCE_LOW, one) <
                    battery_figure(BATTERY_RESISTANCE_HIGH, one));
        assert_true(battery_figure(BATTERY_LOWEST_WORKING, one) < battery_figure(BATTERY_OPEN_FULL, one));
        assert_true(battery_figure(BATTERY_TAIL, one) < battery_figure(BATTERY_ACCEPTANCE, one));
    }
}

static void acceptance_tapers_in_a_straight_line(void **state)
{
    BatteryModel model = {.acceptance_a = 100.0, .taper_begins = 0.8, .tail_a = 2.0};

    (void)state;
    assert_near(battery_acceptance_a(&model, 0.3), 100.0, 0.0);
    assert_near(battery_acceptance_a(&model, 0.8), 100.0, 0.0);
    assert_near(battery_acceptance_a(&model, 0.9), 51.0, 1e-9);
    assert_near(battery_acceptance_a(&model, 0.9999999), 2.0, 1e-3);
    assert_near(battery_acceptance_a(&model, 1.0), 0.0, 0.0);
    model = battery_model(CHEMISTRY_LIFEPO4, 100.0 * AH);
    assert_near(model.acceptance_a, 50.0, 1e-12);
    assert_near(model.exponent, 1.03, 1e-12);
}

/* IEEE 485, Table 1, by way of worksheets of stand-alone systems (second hand); between two of its rows a straight line. */
static void lead_needs_more_capacity_in_the_cold(void **state)
{
    (void)state;
    assert_near(battery_cold_lead_factor(30.0), 1.0, 0.0);
    assert_near(battery_cold_lead_factor(25.0), 1.0, 0.0);
    assert_near(battery_cold_lead_factor(15.6), 1.11, 1e-12);
    assert_near(battery_cold_lead_factor(10.0), 1.19, 1e-12);
    assert_near(battery_cold_lead_factor(7.2), (1.19 + 1.30) / 2.0, 1e-12);
    assert_near(battery_cold_lead_factor(4.4), 1.30, 1e-12);
    assert_near(battery_cold_lead_factor(-1.1), 1.40, 1e-12);
    assert_near(battery_cold_lead_factor(-6.7), 1.59, 0.0);
    assert_near(battery_cold_lead_factor(-30.0), 1.59, 0.0);
    for (double celsius = -20.0; celsius < 30.0; celsius += 0.1) { /* the colder, the more */
        assert_true(battery_cold_lead_factor(celsius) >= battery_cold_lead_factor(celsius + 0.1));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lead_needs_more_capacity_in_the_cold),
        cmocka_unit_test(peukert_gives_the_published_amp_hours),
        cmocka_unit_test(peukert_keeps_the_nameplate),
        cmocka_unit_test(default_resistance_scales_with_voltage_and_charge),
        cmocka_unit_test(planning_figures_are_those_of_practice),
        cmocka_unit_test(acceptance_tapers_in_a_straight_line),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
