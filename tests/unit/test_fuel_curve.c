/*
 * The curve of consumption where speeds or rates of its points are not decided: whatever they turn out to be, what is burned
 * then lies within. The oracle is the same curve through points that are known.
 */
#include "unit/verdict.h"

#include "physics/fuel.h"

enum { MOST = 4 };

static double share(uint64_t *seed)
{
    return random_below(seed, 10001) / 10000.0;
}

static Interval around(uint64_t *seed, double value)
{
    switch (random_below(seed, 5)) {
    case 0: return point(value);
    case 1: return (Interval){0.0, INFINITY};
    case 2: return (Interval){0.0, value * (1.0 + share(seed))};
    case 3: return (Interval){value * share(seed), INFINITY};
    default: return (Interval){value * share(seed), value * (1.0 + 2.0 * share(seed))};
    }
}

static void whatever_the_points_turn_out_to_be_what_is_burned_lies_within(void **state)
{
    (void)state;
    uint64_t seed = 20270301;
    for (int i = 0; i < 20000; i++) {
        FuelPoint of_exact[2 * MOST + 1], of_ranges[2 * MOST + 1];
        FuelCurve exact = fuel_curve_in(of_exact, MOST), ranges = fuel_curve_in(of_ranges, MOST);
        double speed = 10.0 * share(&seed) + 0.1, rate = share(&seed) + 0.01;
        for (int left = 1 + random_below(&seed, MOST); left > 0; left--) {
            fuel_curve_add(&exact, point(speed), point(rate));
            fuel_curve_add(&ranges, around(&seed, speed), around(&seed, rate));
            speed += 10.0 * share(&seed) + 0.1;
            rate += share(&seed);
        }
        double at = (speed + 5.0) * share(&seed);
        Interval is = fuel_curve_rate(&exact, point(at)), may = fuel_curve_rate(&ranges, random_below(&seed, 2) ? point(at) : around(&seed, at));
        double slack = 1e-9 * is.high;
        if (!(may.low <= is.low + slack && may.high >= is.high - slack)) {
            fail_msg("curve %d: %g at %g, and %g..%g with ranges", i, is.high, at, may.low, may.high);
        }
    }
}

/* Of points that fall the least lies at the lower one, and not at an end of the speeds. */
static void a_curve_that_falls_between_two_points_is_no_more_than_the_lower_one(void **state)
{
    (void)state;
    FuelPoint points[5];
    FuelCurve curve = fuel_curve_in(points, 2);
    fuel_curve_add(&curve, point(1400.0), point(3.0));
    fuel_curve_add(&curve, point(2000.0), point(2.0));
    assert_near(fuel_curve_rate(&curve, (Interval){1400.0, 4000.0}).low, 2.0, 1e-12);
    assert_near(fuel_curve_rate(&curve, (Interval){700.0, 2000.0}).high, 3.0, 1e-12);
}

/* From a rate that nobody knows it may fall to the next point: on the way there nobody knows it either. */
static void between_a_rate_that_is_not_known_and_one_that_is_nothing_is_known(void **state)
{
    (void)state;
    FuelPoint points[5];
    FuelCurve curve = fuel_curve_in(points, 2);
    fuel_curve_add(&curve, point(1400.0), (Interval){0.0, INFINITY});
    fuel_curve_add(&curve, point(2000.0), point(2.0));
    Interval rate = fuel_curve_rate(&curve, (Interval){1700.0, 2500.0});
    assert_true(rate.low >= 0.0 && isinf(rate.high));
    assert_near(fuel_curve_rate(&curve, (Interval){2000.0, 2200.0}).high, 2.0 * 1.1 * 1.1 * 1.1, 1e-9);
}

#define BOAT                                                                                                             \
    "edition 1\nboat b { length 10.4 m; waterline 9.6 m; beam 3.4 m; displacement 7400 kg; crew 2; currency EUR; basis " \
    "iso }\nday passage { distance 28 nmi at 6 kn; engine 4.7 h at 2350 rpm }\n"                                         \
    "engine diesel { fuel diesel; rated 28 kW at 3000 rpm; consumption "

/* Nobody knows at which speed that was: it is not nothing that she burns. */
static void a_point_at_no_known_speed_says_nothing_of_what_is_burned(void **state)
{
    (void)state;
    static const char *const specs[] = {BOAT "? 3.1 l/h }\n", BOAT "<= 2600 rpm 3.1 l/h }\n"};
    for (size_t i = 0; i < sizeof specs / sizeof specs[0]; i++) {
        Compiled c;
        compile_text(&c, specs[i]);
        const Figure *rate = compiled_figure_at(&c, "diesel", FIGURE_FUEL_RATE, "passage");
        assert_int_equal(rate->state, STATE_KNOWN);
        assert_true(isinf(rate->high));
        compile_free(&c);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(whatever_the_points_turn_out_to_be_what_is_burned_lies_within),
        cmocka_unit_test(a_curve_that_falls_between_two_points_is_no_more_than_the_lower_one),
        cmocka_unit_test(between_a_rate_that_is_not_known_and_one_that_is_nothing_is_known),
        cmocka_unit_test(a_point_at_no_known_speed_says_nothing_of_what_is_burned),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
