/*
 * Screws: that every bound that is taken at a corner holds inside, that what is solved solves, and what
 * happens where nothing fits.
 */
#include "unit/test_physics.h"

#include "physics/drive.h"
#include "physics/propeller.h"

#include <time.h>

static double between(uint64_t *chance, double low, double high)
{
    return low + (high - low) * (double)random_below(chance, 1000001) / 1e6;
}

/* The advance at which a screw stops pushing. */
static double advance_without_thrust(const Screws *screws, double pitch, Interval area)
{
    double low = 0.0;
    double high = 2.0;
    while (high - low > 1e-6) {
        double middle = 0.5 * (low + high);
        *(screw_kt(screws, middle, pitch, area).high > 0.0 ? &low : &high) = middle;
    }
    return low;
}

/*
 * Everything that is computed at corners rests on this: within the series, where a screw pushes, both
 * coefficients rise with pitch and fall with advance. Two blades excepted at steep pitch and little advance,
 * where the polynomials feign a fall of torque (see propeller.h).
 */
static void coefficients_rise_with_pitch_and_fall_with_advance(void **state)
{
    (void)state;
    for (int blades = 3; blades <= SCREW_BLADES_MOST; blades++) {
        Screws screws;
        Interval tested = screw_tested_area(blades);
        screws_init(&screws, blades);
        for (double area = tested.low; area <= tested.high + 1e-9; area += (tested.high - tested.low) / 8.0) {
            for (double pitch = SCREW_PITCH_LEAST; pitch < SCREW_PITCH_MOST - 0.005; pitch += 0.01) {
                double most = advance_without_thrust(&screws, pitch, point(area));
                for (double advance = 0.0; advance < most - 0.02; advance += 0.02) {
                    double kt = screw_kt(&screws, advance, pitch, point(area)).low;
                    double kq = screw_kq(&screws, advance, pitch, point(area)).low;
                    assert_true(screw_kt(&screws, advance, pitch + 0.01, point(area)).low > kt);
                    assert_true(screw_kq(&screws, advance, pitch + 0.01, point(area)).low > kq);
                    assert_true(screw_kt(&screws, advance + 0.02, pitch, point(area)).low < kt);
                    assert_true(screw_kq(&screws, advance + 0.02, pitch, point(area)).low < kq);
                }
            }
        }
    }
}

static void a_range_of_blade_area_bounds_every_area_in_it(void **state)
{
    uint64_t chance = 7;

    (void)state;
    for (int i = 0; i < 3000; i++) {
        Screws screws;
        int blades = 3 + random_below(&chance, 5);
        Interval tested = screw_tested_area(blades);
        double a = between(&chance, tested.low, tested.high);
        double b = between(&chance, tested.low, tested.high);
        Interval area = {fmin(a, b), fmax(a, b)};
        double advance = between(&chance, 0.1, 0.6);
        double kq = between(&chance, 0.01, 0.06);
        double inside = between(&chance, area.low, area.high);
        screws_init(&screws, blades);
        Interval all = screw_pitch_ratio(&screws, advance, kq, area);
        Interval one = screw_pitch_ratio(&screws, advance, kq, point(inside));
        assert_true(all.low <= one.low + 1e-8 && one.high <= all.high + 1e-8);
    }
}

/* The pitch that is found takes the power that it was asked to. */
static void a_matched_pitch_takes_the_power(void **state)
{
    uint64_t chance = 11;
    int matched = 0;

    (void)state;
    for (int i = 0; i < 2000; i++) {
        Screws screws;
        double power = between(&chance, 5e3, 80e3);
        double turns = between(&chance, 10.0, 30.0);
        double diameter = between(&chance, 0.3, 0.8);
        screws_init(&screws, 3 + random_below(&chance, 2));
        double advance = screw_advance(between(&chance, 2.0, 5.0), 0.2, turns, diameter);
        double kq = screw_kq_of_power(power, turns, diameter, 1025.0);
        Interval pitch = screw_pitch_ratio(&screws, advance, kq, point(0.5));
        if (pitch.low > 0.0 && isfinite(pitch.high)) {
            double again = screw_kq(&screws, advance, pitch.low, point(0.5)).low;
            assert_within(screw_power_w(again, turns, diameter, 1025.0), power, 1e-7);
            matched++;
        }
    }
    assert_true(matched > 300);
}

static void nothing_fits_far_too_small_or_too_large_a_screw(void **state)
{
    Screws screws;

    (void)state;
    screws_init(&screws, 3);
    double kq = screw_kq_of_power(40e3, 20.0, 0.25, 1025.0); /* much power on a small disc */
    assert_true(isinf(screw_pitch_ratio(&screws, 0.3, kq, point(0.5)).low));
    kq = screw_kq_of_power(40e3, 20.0, 1.2, 1025.0);
    assert_near(screw_pitch_ratio(&screws, 0.3, kq, point(0.5)).low, 0.0, 0.0);
    /* Over a range of areas one end may fit and the other not. */
    kq = screw_kq(&screws, 0.3, SCREW_PITCH_MOST, point(0.5)).low;
    Interval pitch = screw_pitch_ratio(&screws, 0.3, kq, (Interval){0.35, 0.8});
    assert_true(pitch.low > 0.0 && pitch.low < pitch.high);
}

static double efficiency_with(const Screws *screws, double diameter, double power, double turns, double water)
{
    double advance = water / (turns * diameter);
    double kq = screw_kq_of_power(power, turns, diameter, 1025.0);
    double pitch = screw_pitch_ratio(screws, advance, kq, point(0.5)).low;
    if (pitch == 0.0 || isinf(pitch)) {
        return 0.0;
    }
    return screw_efficiency(advance, screw_kt(screws, advance, pitch, point(0.5)).low, kq);
}

/* Looked for at every millimetre. */
static void the_best_diameter_is_better_than_all_others(void **state)
{
    static const double powers[] = {10e3, 28e3, 45e3};

    (void)state;
    for (int blades = 3; blades <= 4; blades++) {
        for (size_t i = 0; i < 3; i++) {
            Screws screws;
            double most = 0.0;
            screws_init(&screws, blades);
            double best = screw_best_diameter_m(&screws, 0.5, powers[i], 19.0, 3.2, 1025.0);
            for (double diameter = 0.2; diameter < 1.0; diameter += 0.001) {
                most = fmax(most, efficiency_with(&screws, diameter, powers[i], 19.0, 3.2));
            }
            assert_within(efficiency_with(&screws, best, powers[i], 19.0, 3.2), most, 1e-4);
        }
    }
}

/* Oosterveld and van Oossanen give the series for 2e6: what is added there must be next to nothing. (0.00015 of
 * KQ is half a per cent of what a small screw has.) */
static void reynolds_adds_nothing_where_the_series_was_tested(void **state)
{
    (void)state;
    for (int blades = 3; blades <= 7; blades++) {
        for (double pitch = 0.5; pitch <= 1.4; pitch += 0.1) {
            for (double advance = 0.0; advance <= pitch; advance += 0.1) {
                double kt;
                double kq;
                double area = 0.5 * (screw_tested_area(blades).low + screw_tested_area(blades).high);
                screw_reynolds_step(2.0001e6, blades, advance, pitch, area, &kt, &kq);
                assert_near(kt, 0.0, 8e-4);
                assert_near(kq, 0.0, 1.5e-4);
                screw_reynolds_step(1.9e6, blades, advance, pitch, area, &kt, &kq);
                assert_near(kt, 0.0, 0.0);
                assert_near(kq, 0.0, 0.0);
            }
        }
    }
}

/* A chord of 2.073 x 0.5 x 0.5 m / 3 in water of 1.19e-6 m2/s. */
static void blades_of_a_boat_run_near_two_million(void **state)
{
    (void)state;
    double speed = hypot(2.7, 0.75 * 3.14159265358979 * 19.0 * 0.5);
    assert_within(screw_reynolds(3.0, 0.5, 0.5, 19.0, 2.7, 1.19e-6), 0.17275 * speed / 1.19e-6, 1e-12);
    assert_true(screw_reynolds(3.0, 0.5, 0.5, 19.0, 2.7, 1.19e-6) > 2e6);
}

static void every_shaft_material_has_a_strength(void **state)
{
    size_t count = 0;

    (void)state;
    for (; shaft_material(count) != NULL; count++) {
        assert_true(shaft_material(count)->yield_pa > 100e6 && shaft_material(count)->yield_pa < 600e6);
        assert_true(strlen(shaft_material(count)->source) > 10);
    }
    assert_int_equal(count, 6);
}

/* Computed by hand: 400 N, 9 m from the pivot of a boat of 10 m, hold 400 x 9 / (0.75 x 60 x 5) = 16 m2. */
static void thrusters_hold_her_side(void **state)
{
    (void)state;
    assert_near(wind_thrust_n(16.0, 60.0, 0.75, 10.0, 9.0), 400.0, 1e-9);
}

/* What a check pays for an engine with its propeller. Bounded loosely: the machine may be busy. */
static void a_match_is_cheap(void **state)
{
    double sum = 0.0;

    (void)state;
    clock_t begun = clock();
    for (int i = 0; i < 200; i++) {
        Screws screws;
        screws_init(&screws, 3);
        sum += screw_pitch_ratio(&screws, 0.27, 0.018 + 1e-6 * i, point(0.5)).low;
        sum += screw_best_diameter_m(&screws, 0.5, 30e3, 19.0, 2.7, 1025.0);
    }
    double each = (double)(clock() - begun) / CLOCKS_PER_SEC / 200.0;
    print_message("a match and a search: %.1f us\n", each * 1e6);
    assert_true(sum > 0.0);
    assert_true(each < 2e-3);
}

/*
 * Everything that is computed of a matched diameter rests on this: with the same pitch a larger screw takes more, as far as
 * it pushes at all and has a tested area; and what is solved solves.
 */
static void a_larger_screw_of_a_pitch_takes_more(void **state)
{
    uint64_t chance = 11;
    (void)state;
    for (int i = 0; i < 3000; i++) {
        Screws screws;
        screws_init(&screws, 3 + (int)random_below(&chance, 5));
        Interval tested = screw_tested_area(screws.blades);
        Interval area = point(between(&chance, tested.low, tested.high));
        double pitch = between(&chance, 0.2, 0.6), turns = between(&chance, 8.0, 50.0);
        double water = pitch * turns * between(&chance, 0.2, 0.9);
        double before = 0.0;
        for (double ratio = SCREW_PITCH_MOST; ratio > SCREW_PITCH_LEAST; ratio -= 0.02) {
            double diameter = pitch / ratio;
            double kq = screw_kq(&screws, water / (turns * diameter), ratio, area).low;
            double power = screw_power_w(kq, turns, diameter, 1025.0);
            assert_true(power > before);
            before = power;
        }
        double wanted = between(&chance, 0.05, 0.95) * before;
        Interval found = screw_diameter_m(&screws, pitch, wanted, turns, water, 1025.0, area);
        if (found.low > 0.0 && isfinite(found.high)) {
            double kq = screw_kq(&screws, water / (turns * found.low), pitch / found.low, area).low;
            assert_near(screw_power_w(kq, turns, found.low, 1025.0) / wanted, 1.0, 1e-6);
        }
    }
}

/* Beyond the advance at which any screw pushes the polynomials would feign torque: a small one far too slow takes none. */
static void far_beyond_its_advance_a_screw_takes_nothing(void **state)
{
    (void)state;
    for (int blades = SCREW_BLADES_LEAST; blades <= SCREW_BLADES_MOST; blades++) {
        Screws screws;
        screws_init(&screws, blades);
        for (double advance = SCREW_ADVANCE_MOST; advance < 6.0; advance += 0.5) {
            assert_true(screw_kq(&screws, advance, SCREW_PITCH_MOST, screw_tested_area(blades)).high < 0.0);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(coefficients_rise_with_pitch_and_fall_with_advance),
        cmocka_unit_test(a_range_of_blade_area_bounds_every_area_in_it),
        cmocka_unit_test(a_matched_pitch_takes_the_power),
        cmocka_unit_test(nothing_fits_far_too_small_or_too_large_a_screw),
        cmocka_unit_test(the_best_diameter_is_better_than_all_others),
        cmocka_unit_test(reynolds_adds_nothing_where_the_series_was_tested),
        cmocka_unit_test(blades_of_a_boat_run_near_two_million),
        cmocka_unit_test(every_shaft_material_has_a_strength),
        cmocka_unit_test(thrusters_hold_her_side),
        cmocka_unit_test(a_larger_screw_of_a_pitch_takes_more),
        cmocka_unit_test(far_beyond_its_advance_a_screw_takes_nothing),
        cmocka_unit_test(a_match_is_cheap),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
