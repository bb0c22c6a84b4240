/*
 * Tanks that are no box. Oracles: geometry worked by hand beside each test; the segment of a circle by the handbook's table of
 * segments (a quarter of the area lies below 0.2980 of the diameter).
 */
#include "unit/verdict.h"

#include "physics/tank_shape.h"

#include <stdio.h>

#define BOAT "edition 1\nboat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso; sails no; displacement 5 t; gm 0.9 m }\n"

static void expect_figure(const char *spec, const char *subject, FigureId id, double low, double high)
{
    Compiled c;
    compile_text(&c, spec);
    if (c.spec->messages.first != NULL) {
        fail_msg("the spec has a mistake: %s", c.spec->messages.first->text);
    }
    const Figure *figure = compiled_figure(&c, subject, id);
    assert_non_null(figure);
    assert_int_equal(figure->state, STATE_KNOWN);
    assert_near(figure->low, low, 1e-7);
    assert_near(figure->high, high, 1e-7);
    compile_free(&c);
}

static void a_segment_of_a_circle_is_as_in_the_table(void **state)
{
    (void)state;
    assert_near(lying_depth_share(0.5), 0.5, 1e-12);
    assert_near(lying_depth_share(0.25), 0.2980, 5e-5);
    assert_near(lying_depth_share(0.75), 0.7020, 5e-5);
    assert_near(lying_depth_share(0.1), 0.1565, 5e-5);
    assert_near(lying_depth_share(0.0), 0.0, 1e-9);
    assert_near(lying_depth_share(1.0), 1.0, 1e-9);
}

/* A wedge has the square of the depth, a pyramid its cube, a box the depth itself. */
static void a_taper_lies_between_wedge_and_box(void **state)
{
    (void)state;
    assert_near(taper_depth_share((Taper){1.2, 0.6, 1.2, 0.0}, 0.25), 0.5, 1e-12);
    assert_near(taper_depth_share((Taper){1.2, 0.6, 0.0, 0.0}, 0.125), 0.5, 1e-12);
    assert_near(taper_depth_share((Taper){1.2, 0.6, 1.2, 0.6}, 0.3), 0.3, 1e-12);
    assert_near(taper_volume_m3((Taper){1.2, 0.6, 1.2, 0.0}, 0.4), 1.2 * 0.6 * 0.4 / 2.0, 1e-12);
    assert_near(taper_volume_m3((Taper){1.2, 0.6, 0.0, 0.0}, 0.4), 1.2 * 0.6 * 0.4 / 3.0, 1e-12);
    /* a frustum of half the sides at its floor is a pyramid of twice the height less its tip: 7/8 of it */
    assert_near(taper_volume_m3((Taper){1.2, 0.6, 0.6, 0.3}, 0.4), 1.2 * 0.6 * 0.8 / 3.0 * 7.0 / 8.0, 1e-12);
}

/* pi / 4 x 0.16 m2 x 1.2 m = 150.796 l, whichever way it stands. */
static void a_cylinder_holds_its_circle_by_its_length(void **state)
{
    (void)state;
    static const char *const ways[] = {"fore-and-aft", "athwartships", "upright"};
    static const double quarter[] = {0.4 * 0.298014, 0.4 * 0.298014, 0.3};
    for (size_t i = 0; i < 3; i++) {
        char spec[400];
        snprintf(spec, sizeof spec, BOAT "tank bow { holds fresh; cylinder 0.4 m by 1.2 m %s }\n", ways[i]);
        expect_figure(spec, "bow", FIGURE_VOLUME, 0.1507964474, 0.1507964474);
        Compiled c;
        compile_text(&c, spec);
        assert_near(compiled_figure(&c, "bow", FIGURE_DIP_QUARTER)->low, quarter[i], 1e-6);
        compile_free(&c);
    }
    expect_figure(BOAT "tank bow { holds fresh; cylinder 0.4..0.5 m by 1.2 m upright; count 2 }\n", "bow", FIGURE_VOLUME, 2 * 0.1507964474,
                  2 * 0.2356194490);
}

/* (2 x 1.2 x 0.6 + 2 x 1.0 x 0.2 + 1.2 x 0.2 + 1.0 x 0.6) x 0.4 / 6 = 178.667 l. */
static void a_bilge_tank_narrows_to_its_bottom(void **state)
{
    (void)state;
#define BILGE "tank bilge { holds fresh; size 1.2 m by 0.6 m by 0.4 m; bottom "
    expect_figure(BOAT BILGE "1.0 m by 0.2 m }\n", "bilge", FIGURE_VOLUME, 0.1786666667, 0.1786666667);
    expect_figure(BOAT BILGE "1.2 m by 0 m }\n", "bilge", FIGURE_VOLUME, 0.144, 0.144);
    expect_figure(BOAT BILGE "1.2 m by 0 m }\n", "bilge", FIGURE_DIP_QUARTER, 0.2, 0.2);
    /* from a wedge to a box: the larger the floor, the less deep */
    expect_figure(BOAT BILGE "1.2 m by 0..0.6 m }\n", "bilge", FIGURE_DIP_QUARTER, 0.1, 0.2);
    expect_figure(BOAT "tank bilge { holds fresh; size 1.2 m by 0.6 m by 0.4 m }\n", "bilge", FIGURE_DIP_THREE_QUARTERS, 0.3, 0.3);
}

/* A tank that holds less than its sides say is narrower somewhere: nobody can tell how deep it is. */
static void what_is_narrower_somewhere_has_no_dips(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "tank bow { holds fresh; size 1.2 m by 0.6 m by 0.4 m; capacity 200 l }\ntank stern { holds fresh; capacity 90 l }\n");
    assert_null(compiled_figure(&c, "bow", FIGURE_DIP_HALF));
    assert_null(compiled_figure(&c, "stern", FIGURE_DIP_HALF));
    compile_free(&c);
    /* of a floor alone the rest is asked for */
    compile_text(&c, BOAT "tank bow { holds fresh; bottom 1.2 m by 0.1 m }\n");
    assert_int_equal(compiled_figure(&c, "bow", FIGURE_VOLUME)->state, STATE_MISSING);
    compile_free(&c);
}

/* rho pi d^4 / 64 W of a standing one; of a lying one from nothing to its box: 1000 x 1.2 x 0.4^3 / (12 x 5000). */
static void free_surfaces_go_by_the_shape(void **state)
{
    (void)state;
    expect_figure(BOAT "tank bow { holds fresh; cylinder 0.4 m by 1.2 m upright }\n", "bow", FIGURE_SLACK_LOSS, 0.000251327, 0.000251327);
    expect_figure(BOAT "tank bow { holds fresh; cylinder 0.4 m by 1.2 m fore-and-aft }\n", "bow", FIGURE_SLACK_LOSS, 0.0, 0.00128);
    expect_figure(BOAT "tank bow { holds fresh; cylinder 0.4 m by 1.2 m athwartships }\n", "bow", FIGURE_SLACK_LOSS, 0.0, 0.01152);
    expect_figure(BOAT BILGE "1.0 m by 0.2 m }\n", "bilge", FIGURE_SLACK_LOSS, 0.0, 0.00432);
}

/* A cylinder is counted as a box is: what is left out of her loss states neither. */
static void the_loss_of_her_says_which_tanks_are_left_out(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, "edition 1\nboat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso; sails no; displacement 5 t }\n"
                     "tank bow { holds fresh; cylinder 0.4 m by 1.2 m upright }\n");
    const Case *first = &c.outcome->cases[0];
    assert_string_equal(figure_find_in(first->figures, first->model->boat, FIGURE_SLACK_LOSS, SCOPE_TANKS_HALF)->remark,
                        "tanks that state neither `size` nor `cylinder` are left out; baffles are not counted on");
    compile_free(&c);
}

/* Another tank of known shape is taken off what is asked of one that is left open: 300 l and more are asked, of which it has 136. */
static void a_shape_counts_where_another_tank_is_sized(void **state)
{
    (void)state;
    expect_figure(BOAT "day anchored { water 15 l per person; flushes 0 per person }\ngoal quiet { endure 10 d on anchored }\n"
                       "tank bow { holds fresh; cylinder 0.4 m by 1.2 m upright }\ntank keel { holds fresh; capacity ? }\n",
                  "keel", FIGURE_VOLUME, 0.2, 0.2);
    expect_verdict(BOAT "day anchored { water 15 l per person; flushes 0 per person }\ngoal quiet { endure 10 d on anchored }\n"
                        "tank bow { holds fresh; cylinder 0.4 m by 1.2 m upright }\n",
                   "water-short", BROKEN_AT_ONE, "bow");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_segment_of_a_circle_is_as_in_the_table),
        cmocka_unit_test(a_taper_lies_between_wedge_and_box),
        cmocka_unit_test(a_cylinder_holds_its_circle_by_its_length),
        cmocka_unit_test(a_bilge_tank_narrows_to_its_bottom),
        cmocka_unit_test(what_is_narrower_somewhere_has_no_dips),
        cmocka_unit_test(free_surfaces_go_by_the_shape),
        cmocka_unit_test(the_loss_of_her_says_which_tanks_are_left_out),
        cmocka_unit_test(a_shape_counts_where_another_tank_is_sized),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
