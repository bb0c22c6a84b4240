/*
 * Heat allotted to those that reach the spaces: by hand, against filling space by space until nothing moves, and of ranges
 * against values of them.
 */
#include "check.h"
#include "compile.h"

#include "physics/allot.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static double falls_to(const Allotment *a, int maker)
{
    Interval w = allotted_w(a, maker);
    assert_near(w.high, w.low, 1e-9 * (1.0 + w.high));
    return w.low;
}

/*
 * By hand: saloon 2, forepeak 1, aft 1 kW. The one of 3 kW serves saloon and forepeak, the one of 1 kW saloon and aft: only all
 * of the saloon from the first leaves the second enough for the aft cabin. Of 4.5 and 1.5 kW each gives two thirds.
 */
static void those_that_cross_help_each_other_out(void **state)
{
    (void)state;
    Allotment a = {.spaces = 3, .makers = 2, .reaches = {3u, 5u}, .asks = {{2e3, 2e3}, {1e3, 1e3}, {1e3, 1e3}}};
    a.gives[0] = point(3e3);
    a.gives[1] = point(1e3);
    assert_near(falls_to(&a, 0), 3e3, 1e-6);
    assert_near(falls_to(&a, 1), 1e3, 1e-6);
    a.gives[0] = point(4.5e3);
    a.gives[1] = point(1.5e3);
    assert_near(falls_to(&a, 0), 3e3, 1e-6);
    a.gives[1] = point(0.5e3); /* too little for the aft cabin by itself: it gives nothing to the saloon */
    assert_near(falls_to(&a, 1), 1e3, 1e-6);
    a = (Allotment){.spaces = 1, .makers = 2, .reaches = {1u, 1u}, .asks = {{3e3, 3e3}}, .gives = {{1e3, 1e3}, {2e3, 2e3}}};
    assert_near(falls_to(&a, 0), 1e3, 1e-6);
    a.gives[1] = (Interval){2e3, INFINITY}; /* who gives without end may take all of it */
    assert_near(allotted_w(&a, 0).low, 0.0, 0.0);
    assert_near(allotted_w(&a, 0).high, 1e3, 1e-6);
}

static double drawn(double low, double high)
{
    return low + (high - low) * rand() / RAND_MAX;
}

/* Fills one space anew: what is asked for there goes where the load is least, until all that have some are loaded alike. */
static void fill(const Allotment *a, int space, double part[ALLOT_SPACES][ALLOT_MAKERS], double load[ALLOT_MAKERS])
{
    double level = 0.0, step = 1.0;
    for (int m = 0; m < a->makers; m++) {
        load[m] -= part[space][m];
        level = fmax(level, load[m] / a->gives[m].low);
    }
    step = level + a->asks[space].low;
    double low = 0.0, high = step;
    for (int i = 0; i < 60; i++) {
        double taken = 0.0;
        level = 0.5 * (low + high);
        for (int m = 0; m < a->makers; m++) {
            taken += a->reaches[m] >> space & 1u ? fmax(level * a->gives[m].low - load[m], 0.0) : 0.0;
        }
        *(taken < a->asks[space].low ? &low : &high) = level;
    }
    for (int m = 0; m < a->makers; m++) {
        part[space][m] = a->reaches[m] >> space & 1u ? fmax(level * a->gives[m].low - load[m], 0.0) : 0.0;
        load[m] += part[space][m];
    }
}

static Allotment some_boat(void)
{
    Allotment a = {.spaces = 2 + rand() % 5, .makers = 2 + rand() % 4};
    for (int m = 0; m < a.makers; m++) {
        a.reaches[m] = 1u + (uint32_t)rand() % ((1u << a.spaces) - 1u);
        a.gives[m] = point(drawn(1.0, 5.0));
    }
    for (int s = 0; s < a.spaces; s++) {
        uint32_t reached = 0;
        for (int m = 0; m < a.makers; m++) {
            reached |= a.reaches[m];
        }
        a.asks[s] = point(reached >> s & 1u ? drawn(0.1, 4.0) : 0.0);
    }
    return a;
}

static void what_is_allotted_is_where_filling_space_by_space_ends(void **state)
{
    (void)state;
    srand(7);
    for (int boat = 0; boat < 200; boat++) {
        Allotment a = some_boat();
        double part[ALLOT_SPACES][ALLOT_MAKERS] = {{0.0}}, load[ALLOT_MAKERS] = {0.0};
        for (int round = 0; round < 3000; round++) {
            fill(&a, round % a.spaces, part, load);
        }
        for (int m = 0; m < a.makers; m++) {
            assert_near(falls_to(&a, m), load[m], 1e-3);
        }
    }
}

static double in(Interval range)
{
    int where = rand() % 4;
    return where == 0 ? range.low : where == 1 ? range.high : drawn(range.low, range.high);
}

static void ranges_hold_what_falls_to_each_at_every_value(void **state)
{
    (void)state;
    srand(11);
    for (int boat = 0; boat < 150; boat++) {
        Allotment a = some_boat(), one;
        for (int s = 0; s < a.spaces; s++) {
            a.asks[s].high *= drawn(1.0, 1.6);
        }
        for (int m = 0; m < a.makers; m++) {
            a.gives[m].high *= drawn(1.0, 1.6);
        }
        for (int value = 0; value < 60; value++) {
            one = a;
            for (int s = 0; s < a.spaces; s++) {
                one.asks[s] = point(in(a.asks[s]));
            }
            for (int m = 0; m < a.makers; m++) {
                one.gives[m] = point(in(a.gives[m]));
            }
            for (int m = 0; m < a.makers; m++) {
                Interval whole = allotted_w(&a, m);
                double falls = falls_to(&one, m);
                assert_true(falls >= whole.low - 1e-9 && falls <= whole.high + 1e-9);
            }
        }
    }
}

#define BOAT                                                                                                             \
    "edition 1\nboat wren { length 12 m; beam 3.8 m; crew 2; currency EUR; basis iso; sails no }\n"                        \
    "space saloon { volume 16 m3; skin 20 m2; built insulated }\nspace forepeak { volume 8 m3; skin 12 m2; built insulated }\n" \
    "space aft { volume 8 m3; skin 12 m2; built insulated }\nday cold { temperature -5 C }\nday hot { temperature 40 C }\n"

/*
 * By hand: 25 C x (0.7 x 20 + 0.67 x 16) = 618 W in the saloon, 25 x (0.7 x 12 + 0.67 x 8) = 344 W in each of the others. Half a
 * kilowatt is enough for the aft cabin as long as the other one warms the saloon; 1.2 and 0.5 kW are loaded with 1306 / 1700.
 */
static void a_heater_that_is_enough_with_the_others_help_is_enough(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "heater a { serves saloon, forepeak; output 1.2 kW; fuel diesel }\n"
                          "heater b { serves saloon, aft; output 0.5 kW; fuel diesel }\n");
    assert_null(c.spec->messages.first);
    assert_near(compiled_figure_at(&c, "a", FIGURE_HEAT_NEED, "cold")->high, 1306.0 / 1700.0 * 1200.0, 1.0);
    assert_near(compiled_figure_at(&c, "b", FIGURE_HEAT_NEED, "cold")->high, 1306.0 / 1700.0 * 500.0, 1.0);
    assert_null(compiled_finding(&c, "cabin-heat"));
    compile_free(&c);
    compile_text(&c, BOAT "heater a { serves saloon, forepeak; output 3 kW; fuel diesel }\n"
                          "heater b { serves saloon, aft; output 0.3 kW; fuel diesel }\n");
    assert_non_null(compiled_finding(&c, "cabin-heat")); /* 0.3 kW are too little for the aft cabin, whoever warms the saloon */
    compile_free(&c);
    /* The crew may all sit in the aft cabin, which only one cools: 15 x (0.7 x 12 + 0.335 x 8) + 2 x 73 = 312 W. */
    compile_text(&c, BOAT "cooler a { serves saloon, forepeak; output 1 kW }\ncooler b { serves saloon, aft; output 0.4 kW }\n");
    assert_near(compiled_figure_at(&c, "b", FIGURE_COOL_NEED, "hot")->high, 312.2, 0.5);
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(those_that_cross_help_each_other_out),
        cmocka_unit_test(what_is_allotted_is_where_filling_space_by_space_ends),
        cmocka_unit_test(ranges_hold_what_falls_to_each_at_every_value),
        cmocka_unit_test(a_heater_that_is_enough_with_the_others_help_is_enough),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
