/*
 * Batteries: Peukert's law against published answers, energy and endurance, and the charge model over several
 * days.
 */
#include "unit/test_physics.h"

#include "physics/battery.h"

#include <string.h>

#define HOUR 3600.0
#define DAY 86400.0
#define AH COULOMB_PER_AH

/*
 * Manual of a battery monitor, verified: 10 A from 100 Ah with k 1.2 gives 87 per cent; 200 Ah, 50 A, k 1.25:
 * 134 Ah.
 */
static void peukert_gives_the_published_amp_hours(void **state)
{
    (void)state;
    assert_near(peukert_time_s(100.0 * AH, 20.0, 10.0, 1.2) / HOUR, 8.7055, 0.00005);
    assert_near(200.0 * peukert_share(200.0 * AH, 20.0, 50.0, 1.25), 134.0, 0.5);
    assert_near(peukert_time_s(200.0 * AH, 20.0, 50.0, 1.25) / HOUR, 2.675, 0.0005);
    assert_near(100.0 * peukert_share(100.0 * AH, 20.0, 100.0, 1.3), 41.0, 0.5);
}

/* At the nameplate rate the nameplate holds; the one-ampere form with a nameplate in it would say 14.5 h. */
static void peukert_keeps_the_nameplate(void **state)
{
    (void)state;
    assert_near(peukert_time_s(100.0 * AH, 20.0, 5.0, 1.2) / HOUR, 20.0, 1e-9);
    assert_near(peukert_share(100.0 * AH, 20.0, 1.0, 1.2), 1.0, 0.0);
    assert_near(peukert_effective_a(100.0 * AH, 20.0, 3.0, 1.2), 3.0, 0.0);
    assert_within(peukert_effective_a(100.0 * AH, 20.0, 10.0, 1.2), 10.0 * pow(2.0, 0.2), 1e-12);
}

/*
 * Computed: 75 A for 1.8 h and 11.25 A for 20 h: k 1.2693. The exponent comes back out of the times it makes.
 */
static void peukert_exponent_comes_from_two_tests(void **state)
{
    double one_s = peukert_time_s(100.0 * AH, 20.0, 10.0, 1.17);
    double other_s = peukert_time_s(100.0 * AH, 20.0, 40.0, 1.17);

    (void)state;
    assert_near(peukert_exponent(75.0, 1.8 * HOUR, 11.25, 20.0 * HOUR), 1.2693, 0.00005);
    assert_near(peukert_exponent(10.0, one_s, 40.0, other_s), 1.17, 1e-12);
}

/*
 * Computed: 120 Ah a day for two days, half usable and 0.8 for age, is 600 Ah of lead, 375 Ah of lithium at
 * 0.8.
 */
static void endurance_is_what_is_usable_over_what_a_day_takes(void **state)
{
    double day_j = 120.0 * AH * 12.0;

    (void)state;
    assert_near(battery_endurance_s(battery_usable_j(600.0 * AH, 12.0, 0.5 * 0.8), day_j, 0.0) / DAY, 2.0,
                1e-12);
    assert_near(battery_endurance_s(battery_usable_j(375.0 * AH, 12.0, 0.8 * 0.8), day_j, 0.0) / DAY, 2.0,
                1e-12);
    assert_near(battery_endurance_s(1e6, 5e5, 4e5) / DAY, 10.0, 1e-9);
    assert_near(battery_endurance_s(1e6, 5e5, 5e5), INFINITY, 0.0);
    assert_near(battery_endurance_s(0.0, 5e5, 0.0), 0.0, 0.0);
    /* 100 Ah at 12 V and 80 per cent are 960 Wh. */
    assert_near(battery_usable_j(100.0 * AH, 12.0, 0.8) / HOUR, 960.0, 1e-9);
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
}

/* What a run of hourly steps comes to. */
typedef struct Run {
    double midnight[4]; /* state of charge at the end of each day, per cent */
    double lowest;      /* per cent */
    int lowest_hour;    /* hours since the beginning, at the end of which it was reached */
    double refused_ah;
    double in_ah, out_ah; /* as counted: after efficiency, and by Peukert */
    double charge_share;
} Run;

typedef double (*AmpsAtHour)(int hour_of_day);

static Run run_days(const BatteryModel *model, double charge_share, int days, AmpsAtHour source,
                    AmpsAtHour load)
{
    Run run = {.lowest = 100.0, .charge_share = charge_share};

    for (int hour = 0; hour < 24 * days; hour++) {
        BatteryStep step = battery_step(model, run.charge_share, source(hour % 24), load(hour % 24), HOUR);
        run.charge_share = step.charge_share;
        run.refused_ah += step.refused_a;
        run.in_ah += step.taken_a > 0.0 ? model->efficiency * step.taken_a : 0.0;
        if (step.taken_a < 0.0)
            run.out_ah += peukert_effective_a(model->capacity_coulomb, model->rated_hours, -step.taken_a,
                                              model->exponent);
        if (100.0 * run.charge_share < run.lowest - 1e-9) {
            run.lowest = 100.0 * run.charge_share;
            run.lowest_hour = hour + 1;
        }
        if (hour % 24 == 23)
            run.midnight[hour / 24] = 100.0 * run.charge_share;
    }
    return run;
}

static double sun_of_a(int hour)
{
    return hour >= 8 && hour < 16 ? 12.0 : 0.0;
}

static double load_of_a(int hour)
{
    (void)hour;
    return 5.0;
}

static double sources_of_b(int hour)
{
    return (hour == 9 || hour == 10 ? 60.0 : 0.0) + (hour >= 8 && hour <= 16 ? 8.0 : 0.0);
}

static double loads_of_b(int hour)
{
    return hour == 18 ? 40.0 : 6.0;
}

static void assert_charge_is_conserved(const BatteryModel *model, double begin_share, const Run *run)
{
    double change_ah = (run->charge_share - begin_share) * model->capacity_coulomb / AH;
    assert_near(change_ah, run->in_ah - run->out_ah, 1e-9);
}

/* Computed apart from this program, with the same model: 400 Ah, three days. */
static void three_days_with_little_sun(void **state)
{
    BatteryModel model = {400.0 * AH, 20.0, 1.12, 0.90, 160.0, 0.85, 4.0};
    Run run = run_days(&model, 1.0, 3, sun_of_a, load_of_a);

    (void)state;
    assert_near(run.midnight[0], 90.0, 0.05);
    assert_near(run.midnight[1], 82.6, 0.05);
    assert_near(run.midnight[2], 75.2, 0.05);
    assert_near(run.lowest, 72.6, 0.05);
    assert_int_equal(run.lowest_hour, 56);
    /* By hand: the first day offers 8 x 7 Ah to a bank that wants 40 Ah at 0.9; the later days are taken
     * whole. */
    assert_near(run.refused_ah, 56.0 - 40.0 / 0.9, 1e-9);
    assert_charge_is_conserved(&model, 1.0, &run);
}

/* Computed apart from this program, with the same model: 450 Ah, an engine for two hours a day, four days. */
static void four_days_with_an_engine(void **state)
{
    static const double midnight[] = {81.736, 78.872, 76.008, 73.144};
    BatteryModel model = {450.0 * AH, 20.0, 1.25, 0.85, 90.0, 0.80, 4.5};
    Run run = run_days(&model, 0.90, 4, sources_of_b, loads_of_b);

    (void)state;
    for (int day = 0; day < 4; day++)
        assert_near(run.midnight[day], midnight[day], 0.0005);
    assert_near(run.lowest, 65.3413, 0.00005);
    assert_int_equal(run.lowest_hour, 80);
    assert_charge_is_conserved(&model, 0.90, &run);
}

static void charge_stays_between_empty_and_full(void **state)
{
    BatteryModel model = battery_model(CHEMISTRY_LIFEPO4, 100.0 * AH);
    BatteryStep down = battery_step(&model, 0.01, 0.0, 50.0, HOUR);
    BatteryStep up = battery_step(&model, 0.999, 50.0, 0.0, HOUR);

    (void)state;
    assert_near(down.charge_share, 0.0, 0.0);
    assert_true(up.charge_share <= 1.0);
    assert_true(up.refused_a > 40.0);
    assert_near(model.acceptance_a, 50.0, 1e-12);
    assert_near(model.exponent, 1.03, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(peukert_gives_the_published_amp_hours),
        cmocka_unit_test(peukert_keeps_the_nameplate),
        cmocka_unit_test(peukert_exponent_comes_from_two_tests),
        cmocka_unit_test(endurance_is_what_is_usable_over_what_a_day_takes),
        cmocka_unit_test(default_resistance_scales_with_voltage_and_charge),
        cmocka_unit_test(planning_figures_are_those_of_practice),
        cmocka_unit_test(acceptance_tapers_in_a_straight_line),
        cmocka_unit_test(three_days_with_little_sun),
        cmocka_unit_test(four_days_with_an_engine),
        cmocka_unit_test(charge_stays_between_empty_and_full),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
