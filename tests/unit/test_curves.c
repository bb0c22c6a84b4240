/*
 * Curves that an owner reads off a maker's sheet, point by point: each line of them counts, however many there are. The oracle
 * is the same straight line told by its two ends.
 */
#include "check.h"
#include "compile.h"

#include <stdio.h>

#define BOAT                                                                                                         \
    "boat wren { length 9.5 m; waterline 8.4 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }\n"

enum { STEPS = 80 };

/* The value of a figure of a spec with such lines in the thing. */
static double with_lines(const char *before, const char *lines, const char *after, const char *subject, FigureId id, const char *at)
{
    char spec[8192];
    Compiled c;
    snprintf(spec, sizeof spec, "%s%s%s", before, lines, after);
    compile_text(&c, spec);
    if (c.spec->messages.first != NULL) {
        fail_msg("%s", c.spec->messages.first->text);
    }
    const Figure *figure = compiled_figure_at(&c, subject, id, at);
    assert_non_null(figure);
    assert_int_equal(figure->state, STATE_KNOWN);
    double value = figure->low;
    assert_near(figure->high, value, 1e-9 * value);
    compile_free(&c);
    return value;
}

/* Lines from one end to the other, the last one first. */
static const char *straight(char *lines, size_t size, const char *format, const double from[2], const double to[2], int steps)
{
    size_t at = 0;
    for (int i = steps; i >= 0; i--) {
        double share = (double)i / steps;
        at += (size_t)snprintf(lines + at, size - at, format, from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1]));
    }
    return lines;
}

static void every_point_of_an_alternators_curve_counts(void **state)
{
    (void)state;
    static const char before[] = BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                                      "engine motor { rated 20 kW at 3000 rpm; fuel diesel }\n"
                                      "day dd { engine 2 h at 2000 rpm }\n"
                                      "alternator alt { engine motor; pulley-ratio 2; output 100 A at 14.2 V\n";
    static const char after[] = "  feeds house { run 1 m; wire 50 mm2 }\n}\n";
    static const double slow[2] = {1000.0, 5.0}, fast[2] = {5000.0, 95.0};
    char few[200], many[6000];
    straight(few, sizeof few, "  curve %.1f rpm %.4f A\n", slow, fast, 1);
    straight(many, sizeof many, "  curve %.1f rpm %.4f A\n", slow, fast, STEPS);
    double wanted = with_lines(before, few, after, "alt", FIGURE_OFFERED, "dd");
    assert_near(with_lines(before, many, after, "alt", FIGURE_OFFERED, "dd"), wanted, 1e-6 * wanted);
}

static void every_point_of_an_engines_consumption_counts(void **state)
{
    (void)state;
    static const char before[] = BOAT "engine diesel { rated 25.92 kW at 3000 rpm; fuel diesel\n";
    static const char after[] = "}\nday out { distance 28 nmi at 6 kn }\nday run { engine 2 h at 2000 rpm }\n"
                                "tank main { holds fuel; capacity 200 l }\n";
    static const double slow[2] = {1000.0, 1.0}, fast[2] = {3000.0, 9.0};
    static const struct {
        const char *subject, *at;
        FigureId id;
    } asked[] = {{"diesel", "out", FIGURE_FUEL_RATE}, {"diesel", NULL, FIGURE_RATED_SPECIFIC}, {"main", "run", FIGURE_DAILY_FLOW}};
    char few[200], many[6000];
    straight(few, sizeof few, "  consumption %.1f rpm %.4f l/h\n", slow, fast, 1);
    straight(many, sizeof many, "  consumption %.1f rpm %.4f l/h\n", slow, fast, STEPS);
    for (size_t i = 0; i < sizeof asked / sizeof asked[0]; i++) {
        double wanted = with_lines(before, few, after, asked[i].subject, asked[i].id, asked[i].at);
        assert_near(with_lines(before, many, after, asked[i].subject, asked[i].id, asked[i].at), wanted, 1e-6 * wanted);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_point_of_an_alternators_curve_counts),
        cmocka_unit_test(every_point_of_an_engines_consumption_counts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
