/*
 * Plots: round numbers along the axes, curves cut where the frame ends, nothing outside of the box. Expected places
 * are simple proportion, by hand.
 */
#define _XOPEN_SOURCE 700

#include "test_output.h"

#include "output/plot.h"

static Svg begin(Bench *bench)
{
    Svg svg;
    buf_init(&bench->buf, &bench->arena);
    svg_begin(&svg, &bench->buf, SVG_A4_PORTRAIT, STR("t"));
    return svg;
}

static const char *draw(Bench *bench, const Plot *plot)
{
    Svg svg = begin(bench);
    plot_draw(&svg, plot);
    svg_end(&svg);
    return bench->buf.text;
}

static void steps_are_one_two_or_five(void **state)
{
    (void)state;
    assert_near(plot_step(10.0, 10), 1.0, 0.0);
    assert_near(plot_step(24.0, 10), 5.0, 0.0);
    assert_near(plot_step(100.0, 10), 10.0, 0.0);
    assert_near(plot_step(101.0, 10), 20.0, 0.0);
    assert_near(plot_step(0.35, 10), 0.05, 0.0);
    assert_near(plot_step(7000.0, 5), 2000.0, 0.0);
    assert_near(plot_step(0.9, 1), 1.0, 0.0);
}

static void an_axis_ends_at_a_round_number(void **state)
{
    (void)state;
    assert_near(plot_round_up(87.0), 90.0, 0.0);
    assert_near(plot_round_up(100.0), 100.0, 0.0);
    assert_near(plot_round_up(0.21), 0.25, 1e-15);
    assert_near(plot_round_up(1340.0), 1400.0, 0.0);
}

/* A step is round, and as many of them as are allowed reach over the span. */
static void steps_cover_any_span(void **state)
{
    (void)state;
    uint64_t seed = 11;
    for (int i = 0; i < 2000; i++) {
        double span = pow(10.0, random_below(&seed, 1200) / 100.0 - 6.0);
        int most = 1 + random_below(&seed, 12);
        double step = plot_step(span, most);
        assert_true(step * most >= span * (1.0 - 1e-9));
        assert_true(step < 2.51 * span / most);
        double mantissa = step / pow(10.0, floor(log10(step * 1.0000001)));
        assert_true(fabs(mantissa - 1) < 1e-6 || fabs(mantissa - 2) < 1e-6 || fabs(mantissa - 5) < 1e-6);
    }
}

static Plot plain(const PlotCurve *curve)
{
    return (Plot){.box = {10, 10, 123, 84},
                  .x = {"time, h", 0.0, 10.0, 0.0},
                  .y = {"charge, %", 0.0, 100.0, 20.0},
                  .curves = curve,
                  .curve_count = 1};
}

/* Without a key the frame is 100 mm by 70 mm, its corner at (27, 12): 17 mm and 2 mm from the box. */
static void points_are_placed_in_proportion(void **state)
{
    (void)state;
    PlotCurve curve = {STR(""), SVG_LINE, NULL, NULL, 0};
    Plot plot = plain(&curve);
    SvgPoint low = plot_point(&plot, 0.0, 0.0);
    SvgPoint high = plot_point(&plot, 10.0, 100.0);
    SvgPoint middle = plot_point(&plot, 2.5, 50.0);
    assert_near(low.x_mm, 27.0, 1e-9);
    assert_near(low.y_mm, 82.0, 1e-9);
    assert_near(high.x_mm, 127.0, 1e-9);
    assert_near(high.y_mm, 12.0, 1e-9);
    assert_near(middle.x_mm, 52.0, 1e-9);
    assert_near(middle.y_mm, 47.0, 1e-9);
}

static void a_curve_goes_through_its_points(void **state)
{
    const double x[] = {0, 5, 10}, y[] = {0, 100, 50};
    PlotCurve curve = {STR(""), SVG_DASHED, x, y, 3};
    Plot plot = plain(&curve);
    assert_non_null(strstr(draw(*state, &plot), "<polyline points=\"27,82 77,12 127,47\""));
}

/* From (-5, 50) to (15, 50) only the part from 0 to 10 shows; up to 150 it leaves at x = 5. */
static void a_curve_is_cut_at_the_frame(void **state)
{
    const double x[] = {-5, 15}, level[] = {50, 50}, rise_x[] = {0, 7.5}, rise[] = {50, 125};
    PlotCurve curves[] = {{STR(""), SVG_LINE, x, level, 2}, {STR(""), SVG_LINE, rise_x, rise, 2}};
    Plot plot = plain(curves);
    plot.curve_count = 2;
    const char *text = draw(*state, &plot);
    assert_non_null(strstr(text, "<polyline points=\"27,47 127,47\""));
    assert_non_null(strstr(text, "<polyline points=\"27,47 77,12\""));
}

static void a_value_that_is_not_there_breaks_the_curve(void **state)
{
    const double x[] = {0, 1, 2, 3, 4}, y[] = {0, 0, (double)NAN, 0, 0};
    PlotCurve curve = {STR(""), SVG_LINE, x, y, 5};
    Plot plot = plain(&curve);
    const char *text = draw(*state, &plot);
    assert_non_null(strstr(text, "<polyline points=\"27,82 37,82\""));
    assert_non_null(strstr(text, "<polyline points=\"57,82 67,82\""));
}

static int count_of(const char *text, const char *word)
{
    int count = 0;
    for (const char *at = strstr(text, word); at != NULL; at = strstr(at + 1, word)) {
        count++;
    }
    return count;
}

static void numbers_stand_along_both_axes(void **state)
{
    const double x[] = {0, 10}, y[] = {0, 0};
    PlotCurve curve = {STR(""), SVG_LINE, x, y, 2};
    Plot plot = plain(&curve);
    plot.x.high = 2.0;
    const char *text = draw(*state, &plot);
    assert_non_null(strstr(text, ">0.2</text>"));
    assert_non_null(strstr(text, ">2.0</text>"));
    assert_non_null(strstr(text, ">80</text>"));
    assert_non_null(strstr(text, ">100</text>"));
    assert_int_equal(count_of(text, "<text"), 11 + 6 + 2);
}

/* Every curve is in the key with its own pen; long labels take another row, longer ones are cut. */
static void the_key_names_each_curve(void **state)
{
    const double x[] = {0, 10}, y[] = {0, 0};
    PlotCurve curves[] = {
        {STR("state of charge at worst, of the house bank"), SVG_THICK, x, y, 2},
        {STR("the loads"), SVG_DOTTED, x, y, 2},
        {STR("a label that goes on and on and on and on and on and on and on and on and on and on"), SVG_DASHED, x, y,
         2},
    };
    Plot plot = plain(curves);
    plot.curve_count = 3;
    const char *text = draw(*state, &plot);
    assert_non_null(strstr(text, ">state of charge at worst, of the house bank</text>"));
    assert_non_null(strstr(text, ">the loads</text>"));
    assert_non_null(strstr(text, "\xE2\x80\xA6</text>"));
    assert_int_equal(count_of(text, "stroke-width=\"0.7\""), 2); /* in the key, and in the frame */
}

static void words_of_a_mark_stay_inside(void **state)
{
    const double x[] = {0, 10}, y[] = {0, 0};
    PlotCurve curve = {STR(""), SVG_LINE, x, y, 2};
    PlotMark marks[] = {{10, 100, STR("in the corner")}, {0, 50, STR("left")}};
    Plot plot = plain(&curve);
    plot.marks = marks;
    plot.mark_count = 2;
    const char *text = draw(*state, &plot);
    assert_non_null(strstr(text, "text-anchor=\"end\">in the corner</text>"));
    assert_non_null(strstr(text, "font-size=\"2.6\">left</text>"));
}

/* On a rising curve the words of a mark stand above it to the left: to the right they would lie on it. */
static void words_of_a_mark_keep_clear_of_curves(void **state)
{
    const double x[] = {0, 10}, y[] = {0, 100}, falling[] = {100, 0};
    PlotCurve curve = {STR(""), SVG_LINE, x, y, 2};
    PlotMark mark = {5, 50, STR("half way")};
    Plot plot = plain(&curve);
    plot.marks = &mark;
    plot.mark_count = 1;
    assert_non_null(strstr(draw(*state, &plot), "text-anchor=\"end\">half way</text>"));
    curve.y = falling;
    assert_non_null(strstr(draw(*state, &plot), "font-size=\"2.6\">half way</text>"));
}

/* Where two curves cross at a mark all four places close to it lie on one of them: the words stand 8 mm off, at (77 + 8, ...). */
static void words_of_a_mark_on_a_crossing_stand_farther_off(void **state)
{
    const double rise_x[] = {3, 7}, rise[] = {0, 100}, x[] = {0, 10}, falling[] = {60, 40};
    PlotCurve curves[] = {{STR(""), SVG_LINE, rise_x, rise, 2}, {STR(""), SVG_LINE, x, falling, 2}};
    PlotMark mark = {5, 50, STR("half way")};
    Plot plot = plain(curves);
    plot.curve_count = 2;
    plot.marks = &mark;
    plot.mark_count = 1;
    assert_non_null(strstr(draw(*state, &plot), "<text x=\"85\" y=\"45.4\" font-size=\"2.6\">half way</text>"));
}

static void draw_an_axis_without_length(Bench *bench)
{
    PlotCurve curve = {STR(""), SVG_LINE, NULL, NULL, 0};
    Plot plot = plain(&curve);
    plot.x.high = plot.x.low;
    draw(bench, &plot);
}

static void an_axis_without_length_is_stopped(void **state)
{
    expect_stopped(*state, draw_an_axis_without_length);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        BENCH_TEST(steps_are_one_two_or_five),
        BENCH_TEST(an_axis_ends_at_a_round_number),
        BENCH_TEST(steps_cover_any_span),
        BENCH_TEST(points_are_placed_in_proportion),
        BENCH_TEST(a_curve_goes_through_its_points),
        BENCH_TEST(a_curve_is_cut_at_the_frame),
        BENCH_TEST(a_value_that_is_not_there_breaks_the_curve),
        BENCH_TEST(numbers_stand_along_both_axes),
        BENCH_TEST(the_key_names_each_curve),
        BENCH_TEST(words_of_a_mark_stay_inside),
        BENCH_TEST(words_of_a_mark_keep_clear_of_curves),
        BENCH_TEST(words_of_a_mark_on_a_crossing_stand_farther_off),
        BENCH_TEST(an_axis_without_length_is_stopped),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
