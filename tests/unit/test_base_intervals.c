/*
 * Tests of compiler/base: intervals.
 *
 * What they are checked against: the same sums in long double, at numbers picked from inside; IEEE 754.
 */
#include "check.h"

#include "base/interval.h"

#include <float.h>
#include <math.h>

static void assert_interval(Interval a, double low, double high)
{
    assert_near(a.low, low, 0);
    assert_near(a.high, high, 0);
}

static Interval random_interval(uint64_t *chance)
{
    double one = random_everyday(chance);
    double other = random_below(chance, 4) == 0 ? one : random_everyday(chance);
    return interval(fmin(one, other), fmax(one, other));
}

/* Some number of the interval, often an end. */
static double random_inside(Interval a, uint64_t *chance)
{
    int choice = random_below(chance, 10);
    if (choice < 2) {
        return choice == 0 ? a.low : a.high;
    }
    double value = a.low + (a.high - a.low) * ((double)random_below(chance, 1000001) / 1e6);
    return fmin(fmax(value, a.low), a.high);
}

/* Long double rounds much finer, and rounding never carries a number past a double on its way. */
static void assert_contains(Interval a, long double value)
{
    assert_true((long double)a.low <= value && value <= (long double)a.high);
}

static void assert_sound(Interval a, Interval b, uint64_t *chance)
{
    for (int i = 0; i < 10; i++) {
        double x = random_inside(a, chance);
        double y = random_inside(b, chance);
        long double wide = x;
        assert_contains(interval_add(a, b), wide + y);
        assert_contains(interval_subtract(a, b), wide - y);
        assert_contains(interval_multiply(a, b), wide * y);
        if (y != 0) {
            assert_contains(interval_divide(a, b), wide / y);
        }
        assert_contains(interval_scale(a, y), wide * y);
        assert_contains(interval_min(a, b), x < y ? x : y);
        assert_contains(interval_max(a, b), x > y ? x : y);
        assert_contains(interval_hull(a, b), x);
        assert_contains(interval_hull(a, b), y);
    }
}

static void intervals_contain_what_their_numbers_give(void **state)
{
    (void)state;
    uint64_t chance = 29;
    for (int i = 0; i < 40000; i++) {
        Interval a = random_interval(&chance);
        Interval b = random_interval(&chance);
        if (interval_is_point(a)) {
            a.high = nextafter(a.low, INFINITY); /* points are rounded as a calculator does: another test */
        }
        if (interval_is_point(b)) {
            b.low = nextafter(b.low, -INFINITY);
        }
        assert_sound(a, b, &chance);
    }
}

static void intervals_of_extreme_numbers_contain_what_their_numbers_give(void **state)
{
    (void)state;
    uint64_t chance = 31;
    for (int i = 0; i < 40000; i++) {
        double ends[4];
        for (int k = 0; k < 4; k++) {
            ends[k] = random_double(&chance);
        }
        Interval a = interval(fmin(ends[0], ends[1]), fmax(ends[0], ends[1]));
        Interval b = interval(fmin(ends[2], ends[3]), fmax(ends[2], ends[3]));
        for (int k = 0; k < 4; k++) {
            long double x = ends[k / 2];
            double y = ends[2 + k % 2];
            assert_contains(interval_add(a, b), x + y);
            assert_contains(interval_multiply(a, b), x * y);
            assert_contains(interval_divide(a, b), x / y);
        }
    }
}

static void points_stay_points_and_give_what_a_calculator_gives(void **state)
{
    (void)state;
    uint64_t chance = 37;
    for (int i = 0; i < 10000; i++) {
        double x = random_everyday(&chance);
        double y = random_everyday(&chance);
        assert_interval(interval_add(point(x), point(y)), x + y, x + y);
        assert_interval(interval_subtract(point(x), point(y)), x - y, x - y);
        assert_interval(interval_multiply(point(x), point(y)), x * y, x * y);
        assert_interval(interval_scale(point(x), y), x * y, x * y);
        assert_interval(interval_corners(x, x), x, x);
        if (y != 0) {
            assert_interval(interval_divide(point(x), point(y)), x / y, x / y);
        }
    }
}

static void ends_that_are_exact_do_not_move_and_others_move_one_step(void **state)
{
    (void)state;
    assert_interval(interval_scale(interval(10, 12), 2), 20, 24);
    assert_interval(interval_multiply(interval(0, 5), interval(0.1, 3)), 0, 15);
    assert_interval(interval_divide(interval(0, 6), interval(2, 3)), 0, 3);
    assert_interval(interval_subtract(interval(12, 14), point(12)), 0, 2);
    /* The doubles 0.1 and 0.2 sum to 0.3000000000000000166; beside it are 0.3 and 0.30000000000000004. */
    assert_near(0.1 + 0.2, nextafter(0.3, 1), 0);
    assert_interval(interval_add(interval(0.1, 1), interval(0.2, 1)), 0.3, 2);
    assert_interval(interval_add(interval(-1, -0.1), interval(-1, -0.2)), -2, -0.3);
}

static void dividing_by_what_contains_zero_opens_the_side(void **state)
{
    (void)state;
    assert_interval(interval_divide(interval(2, 4), interval(0, 2)), 1, INFINITY);
    assert_interval(interval_divide(interval(-4, -2), interval(0, 2)), -INFINITY, -1);
    assert_interval(interval_divide(interval(2, 4), interval(-2, 0)), -INFINITY, -1);
    assert_interval(interval_divide(interval(-4, -2), interval(-2, 0)), 1, INFINITY);
    assert_interval(interval_divide(interval(0, 4), interval(0, 2)), 0, INFINITY);
    assert_interval(interval_divide(interval(-1, 4), interval(0, 2)), -INFINITY, INFINITY);
    assert_interval(interval_divide(interval(2, 4), interval(-1, 2)), -INFINITY, INFINITY);
    assert_interval(interval_divide(point(2), point(0)), -INFINITY, INFINITY);
    assert_interval(interval_divide(point(2), interval(0, INFINITY)), 0, INFINITY);
}

static void infinite_ends_stay_and_zero_times_infinity_is_zero(void **state)
{
    (void)state;
    Interval at_least_2 = interval(2, INFINITY);
    Interval whole = interval(-INFINITY, INFINITY);
    assert_interval(interval_add(at_least_2, interval(1, 3)), 3, INFINITY);
    assert_interval(interval_subtract(at_least_2, at_least_2), -INFINITY, INFINITY);
    assert_interval(interval_multiply(at_least_2, interval(0, 3)), 0, INFINITY);
    assert_interval(interval_multiply(at_least_2, point(0)), 0, 0);
    assert_interval(interval_multiply(point(0), point(INFINITY)), 0, 0);
    assert_interval(interval_multiply(whole, interval(-1, 2)), -INFINITY, INFINITY);
    assert_interval(interval_divide(interval(1, 2), at_least_2), 0, 1);
    assert_interval(interval_divide(at_least_2, at_least_2), 0, INFINITY);
    assert_interval(interval_add(point(INFINITY), point(-INFINITY)), -INFINITY, INFINITY);
    assert_interval(interval_min(at_least_2, point(5)), 2, 5);
    assert_interval(interval_max(at_least_2, point(5)), 5, INFINITY);
    assert_interval(interval_hull(point(5), point(-1)), -1, 5);
}

static void what_overflows_keeps_a_finite_end_below_it(void **state)
{
    (void)state;
    Interval big = interval(DBL_MAX / 2, DBL_MAX);
    assert_interval(interval_scale(big, 4), DBL_MAX, INFINITY);
    assert_interval(interval_scale(big, -4), -INFINITY, -DBL_MAX);
    assert_interval(interval_add(big, big), DBL_MAX, INFINITY);
}

/* 3 x 0.1 and 0.3 are one amount in decimal, two in binary. */
static void what_is_left_of_an_amount_without_all_of_it_is_nothing(void **state)
{
    (void)state;
    double by_steps = 0.1 + 0.1 + 0.1;
    assert_true(by_steps > 0.3);
    assert_interval(interval_left(point(0.3), point(by_steps)), 0, 0);
    assert_interval(interval_left(point(by_steps), point(0.3)), 0, 0);
    assert_interval(interval_left(interval(0.3, 2), interval(0.25, by_steps)), 0, 1.75);
    assert_interval(interval_left(point(8), point(7.5)), 0.5, 0.5);
    assert_interval(interval_left(point(1), point(1 - 1e-11)), 1 - (1 - 1e-11), 1 - (1 - 1e-11));
    assert_interval(interval_left(interval(2, INFINITY), point(1)), 1, INFINITY);
}

static void corners_are_ordered_and_widened_by_less_than_1e_12(void **state)
{
    (void)state;
    Interval a = interval_corners(3, 2);
    assert_true(a.low < 2 && a.high > 3);
    assert_near(a.low, 2, 1e-12);
    assert_near(a.high, 3, 1e-12);
    assert_near(interval_corners(0, 2).low, 0, 0);
    assert_near(interval_corners(-3, 0).high, 0, 0);
    assert_true(interval_corners(-3, 0).low < -3);
    assert_interval(interval_corners(INFINITY, -INFINITY), -INFINITY, INFINITY);
    assert_interval(interval_corners(NAN, 2), -INFINITY, INFINITY);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(intervals_contain_what_their_numbers_give),
        cmocka_unit_test(intervals_of_extreme_numbers_contain_what_their_numbers_give),
        cmocka_unit_test(points_stay_points_and_give_what_a_calculator_gives),
        cmocka_unit_test(ends_that_are_exact_do_not_move_and_others_move_one_step),
        cmocka_unit_test(dividing_by_what_contains_zero_opens_the_side),
        cmocka_unit_test(infinite_ends_stay_and_zero_times_infinity_is_zero),
        cmocka_unit_test(what_overflows_keeps_a_finite_end_below_it),
        cmocka_unit_test(what_is_left_of_an_amount_without_all_of_it_is_nothing),
        cmocka_unit_test(corners_are_ordered_and_widened_by_less_than_1e_12),
    };
    return cmocka_run_group_tests_name("base: intervals", tests, NULL, NULL);
}
