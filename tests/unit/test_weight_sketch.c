/*
 * The sketches of the weight study: what is in them, when there are none, and that names neither overlap nor leave the
 * page however many there are. What they look like was judged by eye.
 */
#define _XOPEN_SOURCE 700

#include "unit/test_pictures.h"

#include "output/spread.h"

#define BOAT                                                                                               \
    "edition 1\nboat wren \"Wren\" { length 10 m; waterline 9 m; beam 3 m; displacement 5000 kg; gm 1 m\n" \
    "buoyancy 5.2 m; crew 2; currency EUR; basis iso }\n"

static void what_is_placed_is_drawn_from_the_side_and_from_above(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "item ballast { mass 2900 kg; at 5 m 0 m -0.4 m }\n"
                     "bank house { chemistry agm; voltage 12 V; capacity 90 Ah; mass 27 kg; count 2; at 6 m "
                     "0.4 m 0.1 m }\n"
                     "tank fresh { holds fresh; size 1 m by 0.5 m by 0.4 m; mass 9 kg; at 3 m -0.5 m -0.1 m; "
                     "fill-level 60 % }\n");
    static const char *const views[] = {"img/weight-profile.svg", "img/weight-plan.svg"};
    for (size_t i = 0; i < 2; i++) {
        const char *svg = text_of(&made, views[i]);
        expect_words(svg, (const char *const[]){"ballast, 2900 kg", "house, 2 x 27 kg", "fresh, 9 kg",
                                                "centre of gravity, tanks empty",
                                                "tanks full: ", "centre of buoyancy on her lines: 5.2 m",
                                                "not to be measured from", NULL});
        expect_on_page(svg);
        expect_words(text_of(&made, "book.md"), (const char *const[]){views[i], NULL});
    }
    compile_free(&made.compiled);
}

static void what_lies_side_by_side_is_counted_by_its_layout(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "bank house { chemistry agm; voltage 12 V; capacity 90 Ah; mass 31 kg; parallel 2..3; at 6 m 0.4 m 0.1 m }\n"
                     "solar roof { rated 100 W; mass 9 kg; count 2; spare 1; at 4 m 0 m 1.9 m }\n");
    expect_words(text_of(&made, "img/weight-plan.svg"), (const char *const[]){"house, 2..3 x 31 kg", "roof, 3 x 9 kg", NULL});
    compile_free(&made.compiled);
}

static void without_a_mass_and_a_place_there_is_no_sketch(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "item stove { mass 30 kg }\nitem flue { at 3 m 0 m 1 m }\n");
    assert_null(text_of(&made, "img/weight-profile.svg"));
    assert_null(text_of(&made, "img/weight-plan.svg"));
    compile_free(&made.compiled);
}

/* A mast top at 14 m, a rudder behind the stern, sixty things in one locker, places that are ranges: still a page. */
static void everything_stays_on_the_page(void **state)
{
    (void)state;
    Made made;
    Arena arena = check_arena();
    Buf text;
    buf_init(&text, &arena);
    buf_text(
        &text, BOAT
        "item top { mass 3 kg; at 4 m 0 m 14 m }\nitem rudder { mass 40 kg; at 10.6 m 0 m -0.5 m }\n"
        "item somewhere { mass 1..90 kg; at 2..8 m -1..1 m 0 m }\nitem lost { mass 5 kg; at ? 0 m 0 m }\n");
    for (int i = 0; i < 60; i++) {
        buf_format(
            &text,
            "item a-thing-with-a-very-long-name-indeed-number-%d { mass %d kg; at 9.5 m 1.2 m 0.5 m }\n", i,
            i + 1);
    }
    make(&made, text.text);
    for (int view = 0; view < 2; view++) {
        const char *svg = text_of(&made, view == 0 ? "img/weight-profile.svg" : "img/weight-plan.svg");
        assert_non_null(svg);
        expect_on_page(svg);
        expect_words(svg, (const char *const[]){"lighter things have a mark and no name", NULL});
    }
    compile_free(&made.compiled);
    arena_free(&arena);
}

static void expect_spread(double places[], size_t count, double left, double right, const double wanted[])
{
    Arena arena = check_arena();
    spread(&arena, places, count, 4.0, left, right);
    for (size_t i = 0; i < count; i++) {
        assert_near(places[i], wanted[i], 1e-9);
    }
    arena_free(&arena);
}

/* Worked by hand: three at 20 stand at 16, 20 and 24; what has room stays; the ends of the row hold. */
static void what_crowds_is_pushed_apart_and_the_rest_stays(void **state)
{
    (void)state;
    expect_spread((double[]){5, 20, 20, 20, 40}, 5, 0, 100, (double[]){5, 16, 20, 24, 40});
    expect_spread((double[]){20, 22, 23}, 3, 0, 100, (double[]){53.0 / 3.0, 65.0 / 3.0, 77.0 / 3.0});
    expect_spread((double[]){1, 1}, 2, 0, 100, (double[]){0, 4});
    expect_spread((double[]){99, 99}, 2, 0, 100, (double[]){96, 100});
    expect_spread((double[]){10}, 1, 0, 100, (double[]){10});
}

/* Engines 2.3 m to each side at the stern lie within her beam of 5.6 m: in one ship-shaped hull they would lie outside of it. */
static void a_boat_of_two_hulls_is_a_box_from_above(void **state)
{
    (void)state;
    static const char *const boats[] = {"hulls 2; ", ""};
    for (size_t i = 0; i < 2; i++) {
        Made made;
        char spec[400];
        snprintf(spec, sizeof spec, "edition 1\nboat wren { %slength 10 m; waterline 9 m; beam 5.6 m; displacement 5000 kg; crew 2; currency EUR; "
                                    "basis iso; sails no }\nitem left { mass 130 kg; at 9.5 m -2.3 m 0 m }\nitem right { mass 130 kg; at 9.5 m 2.3 m 0 m }\n",
                 boats[i]);
        make(&made, spec);
        const char *svg = text_of(&made, "img/weight-plan.svg");
        assert_int_equal(strstr(svg, "The box: length by beam; her hulls are not drawn.") != NULL, i == 0);
        expect_on_page(svg);
        compile_free(&made.compiled);
    }
}

/*
 * The centre with tanks empty lies so far aft that its words go to the left; the line of the other one, further forward, would run
 * through them from the row below: it gets the row above.
 */
static void no_line_to_a_centre_runs_through_words(void **state)
{
    (void)state;
    Made made;
    make(&made, "edition 1\nboat wren { length 10 m; waterline 9 m; beam 3 m; displacement 500 kg; crew 2; currency EUR; basis iso; sails no }\n"
                "item engine { mass 300 kg; at 8.8 m 0 m 0 m }\ntank fresh { holds fresh; capacity 400 l; at 4 m 0 m 0 m }\n");
    const char *svg = text_of(&made, "img/weight-plan.svg"), *full = strstr(svg, "tanks full: "), *empty = strstr(svg, "tanks empty: ");
    assert_true(full != NULL && empty != NULL && full < empty); /* rows are drawn from the upper one on */
    expect_on_page(svg);
    compile_free(&made.compiled);
}

/* 60 kg of 5000 kg are no centre of the boat; neither picture nor table may say so. */
static void the_centre_of_a_small_part_of_her_is_not_told(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "item arch { mass 60 kg; at 8 m 0 m 2 m }\n");
    const char *svg = text_of(&made, "img/weight-profile.svg");
    expect_words(svg, (const char *const[]){"arch, 60 kg", "Where her centre of gravity lies is not told: 1.2 % of what she displaces is weighed and placed",
                                            "centre of buoyancy on her lines: 5.2 m", NULL});
    assert_null(strstr(svg, "aft of the bow, 2 m up"));
    const char *book = text_of(&made, "book.md");
    assert_null(strstr(book, "Centre of gravity, aft of the bow"));
    expect_words(book, (const char *const[]){"Where her centre of gravity lies, and how she trims and heels, is not told: 1.2 %", NULL});
    compile_free(&made.compiled);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_placed_is_drawn_from_the_side_and_from_above),
        cmocka_unit_test(what_lies_side_by_side_is_counted_by_its_layout),
        cmocka_unit_test(without_a_mass_and_a_place_there_is_no_sketch),
        cmocka_unit_test(everything_stays_on_the_page),
        cmocka_unit_test(what_crowds_is_pushed_apart_and_the_rest_stays),
        cmocka_unit_test(a_boat_of_two_hulls_is_a_box_from_above),
        cmocka_unit_test(no_line_to_a_centre_runs_through_words),
        cmocka_unit_test(the_centre_of_a_small_part_of_her_is_not_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
