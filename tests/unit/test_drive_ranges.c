/*
 * Drive figures with one range in the spec: they hold what each value of it gives, and are little wider than that. What enters
 * a figure by two ways, as a power does by itself and by the speed that it gives, must not count twice.
 *
 * The oracle is the arithmetic of exact values, 25 of them.
 */
#include "check.h"
#include "compile.h"

#include <math.h>
#include <stdio.h>

enum { VALUES = 25 };

/* What a range stands for, one by one; the number behind it in the spec is `usual`. */
typedef enum Ranged {
    RANGED_MASS, RANGED_WATERLINE, RANGED_POWER, RANGED_TURNS, RANGED_RATIO, RANGED_DIAMETER, RANGED_AREA, RANGED_WAKE,
    RANGED_GEAR, RANGED_SPEED, RANGED_COUNT
} Ranged;

/* An invented boat: the numbers are no boat's, and their order of size is that of what is built. */
typedef struct Sort {
    const char *hull, *rest;
    double usual[RANGED_COUNT];
} Sort;

static const Sort sorts[] = {
    {"", "", {7400, 9.6, 28, 3000, 2.6, 508, 0.5, 0.2, 95, 6}},
    {"", "count 2\n", {12000, 11, 60, 2600, 2.2, 560, 0.55, 0.1, 95, 8}},
    {"hull planing; crouch 180 kn", "", {6000, 9, 220, 3600, 1.8, 520, 0.7, 0.07, 96, 22}},
    {"hull planing", "consumption 2000 rpm 16 l/h\nconsumption 2800 rpm 30 l/h\nconsumption 3600 rpm 58 l/h\n",
     {6000, 9, 220, 3600, 1.8, 520, 0.7, 0.07, 96, 22}},
};

static const struct {
    const char *subject;
    FigureId id;
    const char *at;
} told[] = {
    {"wren", FIGURE_FULL_SPEED, NULL},         {"screw", FIGURE_MATCHED_PITCH, NULL}, {"screw", FIGURE_PROPELLER_LOAD, NULL},
    {"screw", FIGURE_THRUST, NULL},            {"screw", FIGURE_PROPELLER_EFFICIENCY, NULL},
    {"screw", FIGURE_LEAST_AREA_RATIO, NULL},  {"screw", FIGURE_MATCHED_DIAMETER, NULL},
    {"screw", FIGURE_SHAFT_DIAMETER, NULL},    {"diesel", FIGURE_NEEDED_POWER, "out"}, {"diesel", FIGURE_USABLE_POWER, NULL},
    {"diesel", FIGURE_FUEL_RATE, "out"},       {"wren", FIGURE_RANGE, "out"},          {"diesel", FIGURE_TURNS, "out"},
};
enum { TOLD = sizeof told / sizeof told[0] };

static void text_of(char *text, size_t room, const Sort *sort, Ranged ranged, double low, double high)
{
    char value[RANGED_COUNT][64];
    for (int r = 0; r < RANGED_COUNT; r++) {
        if (r == (int)ranged && low < high) {
            snprintf(value[r], sizeof value[r], "%.6f..%.6f", low, high);
        } else {
            snprintf(value[r], sizeof value[r], "%.6f", r == (int)ranged ? low : sort->usual[r]);
        }
    }
    snprintf(text, room,
             "edition 1\nboat wren { length 12 m; waterline %s m; beam 3.6 m; displacement %s kg; crew 2\n"
             "  currency EUR; basis iso; sails no; %s }\n"
             "engine diesel { rated %s kW at %s rpm; fuel diesel\n%s}\ngearbox gear { engine diesel; ratio %s; efficiency %s %% }\n"
             "propeller screw { engine diesel; diameter %s mm; pitch 460 mm; area-ratio %s; wake %s; shaft-material stainless-316\n"
             "  at 9 m 0 m -0.6 m }\n"
             "tank fuel { holds fuel; capacity 400 l }\nday out { distance 30 nmi at %s kn }\n",
             value[RANGED_WATERLINE], value[RANGED_MASS], sort->hull, value[RANGED_POWER], value[RANGED_TURNS], sort->rest,
             value[RANGED_RATIO], value[RANGED_GEAR], value[RANGED_DIAMETER], value[RANGED_AREA], value[RANGED_WAKE],
             value[RANGED_SPEED]);
}

static void widen(const Compiled *c, Interval truth[TOLD])
{
    for (int i = 0; i < TOLD; i++) {
        const Figure *figure = compiled_figure_at(c, told[i].subject, told[i].id, told[i].at);
        if (figure != NULL) {
            truth[i].low = fmin(truth[i].low, figure->low);
            truth[i].high = fmax(truth[i].high, figure->high);
        }
    }
}

/* A seventh of the truth: common practice, no source. What is hardly a range by the truth may be a thousandth of its size. */
static void expect_little_more(const Compiled *c, const Interval truth[TOLD], const char *text)
{
    for (int i = 0; i < TOLD; i++) {
        const Figure *figure = compiled_figure_at(c, told[i].subject, told[i].id, told[i].at);
        if (figure == NULL || figure->none) {
            continue;
        }
        double wide = truth[i].high - truth[i].low, slack = 1e-8 * fabs(truth[i].high);
        bool sound = figure->low <= truth[i].low + slack && figure->high >= truth[i].high - slack;
        bool narrow = figure->high - figure->low <= 1.143 * wide + 1e-3 * fabs(truth[i].high);
        if (!sound || !narrow) {
            fail_msg("%s.%s is %g to %g, and the values in the range give %g to %g:\n%s", told[i].subject,
                     figure_rows[told[i].id].name, figure->low, figure->high, truth[i].low, truth[i].high, text);
        }
    }
}

static void expect_of(const Sort *sort, Ranged ranged)
{
    char text[1400];
    Interval truth[TOLD];
    Compiled c;
    double low = sort->usual[ranged] * 0.95, high = sort->usual[ranged] * 1.05;
    high = ranged == RANGED_GEAR ? 99.0 : high;
    for (int i = 0; i < TOLD; i++) {
        truth[i] = (Interval){INFINITY, -INFINITY};
    }
    for (int i = 0; i < VALUES; i++) {
        double value = low + (high - low) * i / (VALUES - 1);
        text_of(text, sizeof text, sort, ranged, value, value);
        compile_text(&c, text);
        assert_null(c.spec->messages.first);
        widen(&c, truth);
        compile_free(&c);
    }
    text_of(text, sizeof text, sort, ranged, low, high);
    compile_text(&c, text);
    assert_null(c.spec->messages.first);
    expect_little_more(&c, truth, text);
    compile_free(&c);
}

static void one_range_tells_little_more_than_its_values(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof sorts / sizeof sorts[0]; i++) {
        for (int r = 0; r < RANGED_COUNT; r++) {
            expect_of(&sorts[i], (Ranged)r);
        }
    }
}

/*
 * By hand: of a displacement hull a mile takes fuel as the square of the speed, so that 5 to 7 kn is what lies between both,
 * and a curve that burns less a turn where it turns faster does not bring her farther at 5 kn than at 6.
 */
static void a_range_of_speeds_counts_once_where_a_mile_grows_dearer(void **state)
{
    (void)state;
    static const char boat[] = "edition 1\nboat wren { length 11 m; waterline 9.6 m; beam 3.4 m; displacement 7400 kg; crew 2\n"
                               "  currency EUR; basis iso; sails no }\ntank fuel { holds fuel; capacity 330 l }\n"
                               "goal reach { range 100 nmi at %s }\n%s";
    static const char plain[] = "engine aux { rated 28 kW at 3000 rpm; fuel diesel }\n";
    static const char odd[] = "engine aux { rated 28 kW at 3000 rpm; fuel diesel; consumption 1500 rpm 3 l/h; consumption 2600 rpm 3.2 l/h }\n";
    double at[2];
    static const char *const speeds[] = {"5 kn", "7 kn", "5..7 kn"};
    char text[800];
    Compiled c;
    for (int i = 0; i < 2; i++) {
        snprintf(text, sizeof text, boat, speeds[i], plain);
        compile_text(&c, text);
        at[i] = compiled_figure_at(&c, "wren", FIGURE_RANGE, "reach")->low;
        compile_free(&c);
    }
    assert_near(at[0] / at[1], 49.0 / 25.0, 1e-9);
    snprintf(text, sizeof text, boat, speeds[2], plain);
    compile_text(&c, text);
    assert_near(compiled_figure_at(&c, "wren", FIGURE_RANGE, "reach")->low, at[1], 1e-6 * at[1]);
    assert_near(compiled_figure_at(&c, "wren", FIGURE_RANGE, "reach")->high, at[0], 1e-6 * at[0]);
    compile_free(&c);
    Interval truth = {INFINITY, 0.0};
    for (int tenths = 40; tenths <= 60; tenths++) {
        char value[32];
        snprintf(value, sizeof value, "%.1f kn", tenths / 10.0);
        snprintf(text, sizeof text, boat, value, odd);
        compile_text(&c, text);
        const Figure *range = compiled_figure_at(&c, "wren", FIGURE_RANGE, "reach");
        truth = (Interval){fmin(truth.low, range->low), fmax(truth.high, range->high)};
        compile_free(&c);
    }
    snprintf(text, sizeof text, boat, "4..6 kn", odd);
    compile_text(&c, text);
    const Figure *range = compiled_figure_at(&c, "wren", FIGURE_RANGE, "reach");
    assert_true(range->low <= truth.low && range->high >= truth.high);
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_range_tells_little_more_than_its_values),
        cmocka_unit_test(a_range_of_speeds_counts_once_where_a_mile_grows_dearer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
