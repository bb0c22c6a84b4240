/*
 * What charges: sun over the day, panels in heat and cold, alternators, and the air that a lead bank needs. Against
 * published worked examples; what is a choice of this program says so.
 */
#include "unit/test_physics.h"

#include "physics/battery.h"
#include "physics/charging.h"
#include "physics/solar.h"

#define DEG (3.14159265358979323846 / 180.0)
#define AH COULOMB_PER_AH

/* FAO Irrigation and Drainage Paper 56, example 9: 20 S, 3 September (day 246): 11.7 hours of daylight. */
static void the_day_is_as_long_as_published(void **state)
{
    (void)state;
    assert_near(solar_day_length_s(-20.0 * DEG, 246) / 3600.0, 11.7, 0.05);
    /* Example 10: Rio de Janeiro, 22.9 S, middle of May: 10.9 h. */
    assert_near(solar_day_length_s(-22.9 * DEG, 135) / 3600.0, 10.9, 0.05);
    assert_near(solar_day_length_s(0.0, 200) / 3600.0, 12.0, 1e-9);
    assert_near(solar_day_length_s(70.0 * DEG, 355), 0.0, 0.0);
    assert_near(solar_day_length_s(70.0 * DEG, 172), 86400.0, 1e-6);
}

static double sum_of(const double sun[], int steps)
{
    double sum = 0.0;
    for (int i = 0; i < steps; i++) {
        sum += sun[i] * 86400.0 / steps;
    }
    return sum;
}

/* The mean over all days of a month is what a day of it is to stand for: counted out, day by day. */
static void the_average_day_of_a_month_gives_the_mean_of_its_days(void **state)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    (void)state;
    for (int degrees = -60; degrees <= 60; degrees += 10) {
        for (int month = 1, day = 1; month <= 12; month++) {
            double sum = 0.0, latitude = degrees * DEG;
            for (int i = 0; i < days[month - 1]; i++) {
                sum += solar_extraterrestrial_j_per_m2(latitude, day++);
            }
            assert_within(solar_extraterrestrial_j_per_m2(latitude, solar_average_day(month)), sum / days[month - 1], 0.025);
        }
    }
    assert_true(solar_extraterrestrial_j_per_m2(69.0 * DEG, solar_average_day(1)) > 0.0); /* the sun is back by the end of January */
}

/*
 * Duffie and Beckman (the published number from memory): 43 N, 13 February (day 44), 9:30 solar time: the sun is 66.5
 * degrees from the zenith. Above the air it then gives 1367 (1 + 0.033 cos(2 pi 44 / 365)) cos 66.5 W/m2 on the flat.
 */
static void the_sun_follows_its_height(void **state)
{
    double sun[96];
    double above = solar_extraterrestrial_j_per_m2(43.0 * DEG, 44);
    (void)state;
    solar_by_height(43.0 * DEG, 44, above, 96, sun);
    double expected = 1367.0 * (1.0 + 0.033 * cos(2.0 * 180.0 * DEG * 44.0 / 365.0)) * cos(66.5 * DEG);
    assert_within((sun[37] + sun[38]) / 2.0, expected, 0.005);
    assert_within(sum_of(sun, 96), above, 1e-12);
    assert_near(sun[40], sun[55], 1e-9); /* the same before and after noon */
    assert_near(sun[20], 0.0, 0.0);      /* 5 o'clock in February */
}

static void no_sun_in_the_polar_night(void **state)
{
    double sun[96];
    (void)state;
    solar_by_height(80.0 * DEG, 355, solar_extraterrestrial_j_per_m2(80.0 * DEG, 355), 96, sun);
    assert_near(sum_of(sun, 96), 0.0, 0.0);
    solar_by_height(80.0 * DEG, 172, 40e6, 96, sun);
    assert_within(sum_of(sun, 96), 40e6, 1e-12);
    assert_true(sun[0] > 0.0); /* midnight sun */
}

/* 5 h of full sun from 6 to 18: the top of a half sine is 5 pi / 24 kW/m2, by integration. */
static void stated_sun_is_half_a_wave(void **state)
{
    double sun[96];
    (void)state;
    solar_by_wave(5.0 * 3.6e6, 96, sun);
    assert_within(sum_of(sun, 96), 5.0 * 3.6e6, 1e-12);
    assert_within((sun[47] + sun[48]) / 2.0, 1000.0 * 5.0 * 180.0 * DEG / 24.0, 0.001);
    assert_near(sun[23], 0.0, 0.0);
    assert_true(sun[24] > 0.0 && sun[71] > 0.0);
    assert_near(sun[72], 0.0, 1e-9);
    solar_by_wave(10.0 * 3.6e6, 96, sun); /* more than fits under 1000 W/m2 in twelve hours */
    assert_within(sum_of(sun, 96), 10.0 * 3.6e6, 1e-12);
    assert_true(sun[47] < 1001.0);
}

/*
 * Tests of a public BSD-licensed library of photovoltaic models (verified): Ross, 1000 W/m2, 30 C, NOCT 50: 67.5 C; NREL
 * TP-6A20-62641, 900 W/m2 at 30 C on 100 W with -0.3 % per K: 88.65 W.
 */
static void cells_run_hot_as_published(void **state)
{
    (void)state;
    assert_near(solar_cell_celsius(30.0, 1000.0, 50.0), 67.5, 1e-9);
    assert_near(100.0 * 0.9 * solar_heat_share(30.0, -0.003), 88.65, 1e-9);
}

/*
 * Computed: 400 W, 5.5 h of full sun, 28 C, 650 W/m2 in the mean: cells at 49.94 C, 0.91272 of the power left; with soil,
 * wiring, mismatch and controller, and a tenth of shade, 1583.1 Wh.
 */
static void a_panel_gives_what_the_way_leaves(void **state)
{
    double amps = solar_current_a(SOLAR_MPPT, 400.0, 650.0, 28.0, 14.0, 0.0);
    (void)state;
    assert_near(solar_cell_celsius(28.0, 650.0, solar_noct_celsius), 49.94, 0.005);
    assert_near(solar_heat_share(49.94, solar_gamma_per_k), 0.91272, 0.00001);
    assert_within(amps * 14.0 * 5.5 / 0.65 * 0.90, 1583.1, 0.0005);
}

/* A choice of this program: the panel's own current, at 0.82 of 22 V; 100 W in full sun: 5.54 A before the way. */
static void a_simple_controller_wastes_the_voltage(void **state)
{
    double amps = solar_current_a(SOLAR_PWM, 100.0, 1000.0, 25.0, 14.2, 0.0);
    (void)state;
    assert_near(amps, 100.0 / (0.82 * 22.0) * 0.97 * 0.98 * 0.97, 1e-9);
    assert_true(amps < solar_current_a(SOLAR_MPPT, 100.0, 1000.0, 25.0, 14.2, 0.0));
    assert_near(solar_current_a(SOLAR_PWM, 100.0, 1000.0, 25.0, 28.4, 0.0), amps / 2.0, 1e-9);
}

/* NEC 690.7 as published: 45.0 V, -0.28 % per K, 3 C: 47.77 V. Computed: 3 x 22.8 V, -0.30 % per K, 0 C: 73.53 V. */
static void cold_panels_have_more_voltage(void **state)
{
    (void)state;
    assert_near(solar_cold_v(1.0, 45.0, -0.0028, 3.0), 47.77, 0.005);
    assert_near(solar_cold_v(3.0, 22.8, -0.0030, 0.0), 73.53, 0.005);
    assert_near(solar_most_a(2.0, 9.6), 24.0, 1e-9); /* NEC 690.8: 1.25 x short-circuit current */
}

static void an_alternator_needs_its_power_at_the_belt(void **state)
{
    (void)state;
    assert_near(belt_w / 745.69987, 5.0, 1e-9);
}

/* A straight line between two points, by hand; the usual curve is a choice of this program. */
static void an_alternator_gives_by_its_speed(void **state)
{
    static const AlternatorPoint curve[] = {{1500, 20}, {3000, 80}, {6000, 100}};
    (void)state;
    assert_near(alternator_output(curve, 3, 1400.0), 0.0, 0.0);
    assert_near(alternator_output(curve, 3, 1500.0), 20.0, 0.0);
    assert_near(alternator_output(curve, 3, 2000.0), 40.0, 1e-12);
    assert_near(alternator_output(curve, 3, 9000.0), 100.0, 0.0);
    assert_near(alternator_usual_share(1200.0), 0.06, 1e-12);
    assert_near(alternator_usual_share(3500.0), 0.86, 1e-12);
    for (double rpm = 0.0; rpm < 8000.0; rpm += 50.0) {
        assert_true(alternator_usual_share(rpm + 50.0) >= alternator_usual_share(rpm));
    }
}

/*
 * EN 50272-2, worked: six vented cells of 400 Ah: 2.40 m3/h, 67.2 cm2; six sealed ones of 300 Ah: 0.72 m3/h, 20.2 cm2.
 * Lithium gives off nothing.
 */
static void a_lead_bank_needs_air(void **state)
{
    BatteryAir vented = battery_air(CHEMISTRY_FLOODED, 6.0, 400.0 * AH);
    BatteryAir sealed = battery_air(CHEMISTRY_AGM, 6.0, 300.0 * AH);
    (void)state;
    assert_near(vented.flow_m3_per_s * 3600.0, 2.40, 1e-9);
    assert_near(vented.opening_m2 * 1e4, 67.2, 1e-9);
    assert_near(sealed.flow_m3_per_s * 3600.0, 0.72, 1e-9);
    assert_near(sealed.opening_m2 * 1e4, 20.16, 1e-9);
    assert_near(battery_air(CHEMISTRY_LIFEPO4, 4.0, 300.0 * AH).opening_m2, 0.0, 0.0);
}

/* The standard column of one maker's manual (verified for that battery): nothing at 0 C, 0.1 A per Ah to 10 C. */
static void lithium_is_not_charged_in_the_cold(void **state)
{
    (void)state;
    assert_near(battery_cold_limit_a_per_ah(CHEMISTRY_LIFEPO4, -5.0), 0.0, 0.0);
    assert_near(battery_cold_limit_a_per_ah(CHEMISTRY_LIFEPO4, 0.0), 0.0, 0.0);
    assert_near(battery_cold_limit_a_per_ah(CHEMISTRY_LIFEPO4, 4.0), 0.1, 0.0);
    assert_true(isinf(battery_cold_limit_a_per_ah(CHEMISTRY_LIFEPO4, 10.1)));
    assert_true(isinf(battery_cold_limit_a_per_ah(CHEMISTRY_AGM, -10.0)));
}

/* Beyond 3 %: of 13 % in full sun 10 % there, 5 % in half of it; through what would take twice the power a quarter of 1/2 arrives. */
static void a_long_cable_from_the_panels_takes_its_share(void **state)
{
    (void)state;
    assert_near(solar_cable_share(0.02, 1000.0), 1.0, 0.0);
    assert_near(solar_cable_share(0.13, 1000.0), 0.9, 1e-12);
    assert_near(solar_cable_share(0.13, 500.0), 0.95, 1e-12);
    assert_near(solar_cable_share(2.03, 1000.0), 0.125, 1e-12);
    for (double sun = 10.0; sun < 1000.0; sun += 10.0) { /* more sun never gives less */
        assert_true(solar_cable_share(2.03, sun + 10.0) * (sun + 10.0) >= solar_cable_share(2.03, sun) * sun - 1e-9);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_day_is_as_long_as_published),
        cmocka_unit_test(the_average_day_of_a_month_gives_the_mean_of_its_days),
        cmocka_unit_test(the_sun_follows_its_height),
        cmocka_unit_test(no_sun_in_the_polar_night),
        cmocka_unit_test(stated_sun_is_half_a_wave),
        cmocka_unit_test(cells_run_hot_as_published),
        cmocka_unit_test(a_panel_gives_what_the_way_leaves),
        cmocka_unit_test(a_simple_controller_wastes_the_voltage),
        cmocka_unit_test(a_long_cable_from_the_panels_takes_its_share),
        cmocka_unit_test(cold_panels_have_more_voltage),
        cmocka_unit_test(an_alternator_needs_its_power_at_the_belt),
        cmocka_unit_test(an_alternator_gives_by_its_speed),
        cmocka_unit_test(a_lead_bank_needs_air),
        cmocka_unit_test(lithium_is_not_charged_in_the_cold),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
