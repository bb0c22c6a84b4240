/*
 * The weight study of whole specs: systems, contents of tanks and their states, against sums worked by hand, and against the
 * formulas of Derrett and Barrass (Ship Stability for Masters and Mates) worked by hand.
 */
#include "unit/test_boat.h"

#include "figures/towards.h"

#include <stdio.h>

#define BOAT                                                                                                 \
    "edition 1\n"                                                                                            \
    "boat wren { length 10 m; beam 3 m; waterline 9 m; waterplane 0.7; displacement 5000 kg; buoyancy 5 m; " \
    "gm 1 m\n"                                                                                               \
    "crew 2; currency EUR; basis us; water fresh }\n"

static void compile_boat(Compiled *c, const char *things)
{
    char text[4096];
    assert_true(snprintf(text, sizeof text, "%s%s", BOAT, things) < (int)sizeof text);
    compile(c, text);
    expect_no_mistake(c);
}

static void expect_in(const Compiled *c, FigureId id, FigureScope scope, double low, double high)
{
    const Figure *figure = figure_find_in(c->figures, c->model->boat, id, scope);
    assert_non_null(figure);
    assert_int_equal(figure->state, STATE_KNOWN);
    assert_near(figure->low, low, 1e-9 * (1.0 + fabs(low)));
    assert_near(figure->high, high, 1e-9 * (1.0 + fabs(high)));
}

/* An engine of 200 kg, two batteries and a spare of 20 kg, a stove without a place; a tank of 10 kg with 100 l in it. */
#define THINGS                                                                                              \
    "engine diesel { rated 20 kW at 3000 rpm; fuel diesel; mass 200 kg; at 7 m 0 m -0.2 m }\n"              \
    "bank house { chemistry agm; voltage 12 V; capacity 100 Ah; count 2; spare 1; mass 20 kg\n"             \
    "at 4 m 0.5 m 0.1 m }\n"                                                                                \
    "item stove { mass 30 kg }\n"                                                                           \
    "tank fresh { holds fresh; size 0.5 m by 0.4 m by 0.5 m; mass 10 kg; at 3 m -0.6 m 0 m; fill-level 80 " \
    "% }\n"

static void systems_have_their_masses_centres_and_moments(void **state)
{
    (void)state;
    Compiled c;
    compile_boat(&c, THINGS);
    expect_in(&c, FIGURE_MASS, (FigureScope)SYSTEM_DRIVE, 200.0, 200.0);
    expect_in(&c, FIGURE_MASS, (FigureScope)SYSTEM_POWER, 60.0, 60.0);
    expect_in(&c, FIGURE_LCG, (FigureScope)SYSTEM_POWER, 4.0, 4.0);
    expect_in(&c, FIGURE_MOMENT_STARBOARD, (FigureScope)SYSTEM_POWER, 30.0, 30.0);
    expect_in(&c, FIGURE_MASS, (FigureScope)SYSTEM_CABIN, 30.0, 30.0);
    assert_null(figure_find_in(c.figures, c.model->boat, FIGURE_PLACED_MASS, (FigureScope)SYSTEM_CABIN));
    expect_in(&c, FIGURE_PLACED_MASS, SCOPE_CONTENTS, 80.0, 80.0);
    /* 200 x 7 + 60 x 4 + 10 x 3 + 80 x 3 = 1910 kg m, over 350 kg. */
    expect_in(&c, FIGURE_MOMENT_AFT, SCOPE_WHOLE, 1910.0, 1910.0);
    expect_in(&c, FIGURE_LCG, SCOPE_WHOLE, 1910.0 / 350.0, 1910.0 / 350.0);
    done_with(&c);
}

static void tanks_are_empty_half_full_and_full(void **state)
{
    (void)state;
    Compiled c;
    compile_boat(&c, THINGS);
    expect_in(&c, FIGURE_LOADED_MASS, SCOPE_TANKS_EMPTY, 300.0, 300.0);
    expect_in(&c, FIGURE_LOADED_MASS, SCOPE_TANKS_HALF, 350.0, 350.0);
    expect_in(&c, FIGURE_LOADED_MASS, SCOPE_TANKS_FULL, 400.0, 400.0);
    expect_in(&c, FIGURE_PLACED_MASS, SCOPE_TANKS_FULL, 370.0, 370.0);
    expect_in(&c, FIGURE_LCG, SCOPE_TANKS_EMPTY, 1670.0 / 270.0, 1670.0 / 270.0);
    expect_in(&c, FIGURE_LCG, SCOPE_TANKS_HALF, 1820.0 / 320.0, 1820.0 / 320.0);
    expect_in(&c, FIGURE_LCG, SCOPE_TANKS_FULL, 1970.0 / 370.0, 1970.0 / 370.0);
    /* 60 x 0.5 - 110 x 0.6 = -36 kg m over 5000 kg and 1 m. */
    expect_in(&c, FIGURE_HEEL, SCOPE_TANKS_FULL, atan(36.0 / 5000.0), atan(36.0 / 5000.0));
    assert_string_equal(figure_find_in(c.figures, c.model->boat, FIGURE_HEEL, SCOPE_TANKS_FULL)->remark,
                        "to port; 1 weighed thing has no place");
    done_with(&c);
}

/* Derrett and Barrass: rho l b^3 / 12 W = 1000 x 0.5 x 0.4^3 / 12 / 5000 m; counted while the tank is neither full nor empty. */
static void a_slack_tank_takes_what_is_worked_by_hand(void **state)
{
    (void)state;
    Compiled c;
    compile_boat(&c, THINGS);
    double loss = 1000.0 * 0.5 * 0.064 / 12.0 / 5000.0;
    const Figure *of_tank =
        figure_find(c.figures, model_find(c.model, STR("fresh")), FIGURE_SLACK_LOSS, NULL);
    assert_non_null(of_tank);
    assert_near(of_tank->low, loss, 1e-12);
    expect_in(&c, FIGURE_SLACK_LOSS, SCOPE_WHOLE, loss, loss);
    expect_in(&c, FIGURE_SLACK_LOSS, SCOPE_TANKS_HALF, loss, loss);
    assert_null(figure_find_in(c.figures, c.model->boat, FIGURE_SLACK_LOSS, SCOPE_TANKS_FULL));
    expect_in(&c, FIGURE_HEEL_MOMENT, SCOPE_WHOLE, 5000.0 * (1.0 - loss), 5000.0 * (1.0 - loss));
    done_with(&c);
}

/*
 * A boat of 3 m beam and 5000 kg, so 1000 x V / 0.05 x 3^2 / 12 / 5000 m at most of a tank of V m3 that does not say its
 * sides, and what its box takes of one that holds less than that.
 */
static void a_slack_tank_of_unknown_breadth_takes_anything_up_to_a_bound(void **state)
{
    (void)state;
    static const struct {
        const char *tank;
        double most;
    } rows[] = {{"capacity 300 l", 1000.0 * 0.3 / 0.05 * 9.0 / 12.0 / 5000.0},
                {"vent 16 mm", INFINITY},
                {"capacity 150 l; count 2", 1000.0 * 0.3 / 0.05 * 9.0 / 12.0 / 5000.0},
                {"capacity 125 l; size 0.5 m by 1 m by 0.5 m", 1000.0 * 0.5 / 12.0 / 5000.0}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[512];
        Compiled c;
        snprintf(text, sizeof text,
                 "edition 1\nboat wren { length 10 m; beam 3 m; displacement 5000 kg; gm 0.155 m; crew 2; currency EUR\n"
                 "basis us; water fresh }\ntank rain { holds fresh; fill-level 50 %%; %s }\n", rows[i].tank);
        compile(&c, text);
        expect_no_mistake(&c);
        expect_in(&c, FIGURE_SLACK_LOSS, SCOPE_WHOLE, 0.0, rows[i].most);
        const Finding *finding = finding_of(&c, "stability");
        assert_non_null(finding);
        assert_int_equal(finding->verdict, VERDICT_OPEN);
        assert_non_null(finding->depends);
        assert_string_equal(finding->depends->text, i < 3 ? "rain.size" : "surface of rain");
        done_with(&c);
    }
    Compiled c; /* what is carried by hand is no tank across her */
    compile(&c, "edition 1\nboat wren { length 10 m; beam 3 m; displacement 5000 kg; gm 0.155 m; crew 2; currency EUR\n"
                "basis us }\ntank can { holds fuel; fuel petrol; capacity 5 l; portable yes; fill-level 50 % }\n");
    assert_null(boat_figure(&c, FIGURE_SLACK_LOSS));
    done_with(&c);
    /* full, it does not move */
    compile_boat(&c, "tank rain { holds fresh; capacity 300 l }\nitem hull { mass 3000 kg; at 5 m 0.1 m 0 m }\n");
    assert_null(boat_figure(&c, FIGURE_SLACK_LOSS));
    const Figure *heel = boat_figure(&c, FIGURE_HEEL);
    assert_near(heel->low, heel->high, 1e-12);
    done_with(&c);
}

/* What lies in her middle heels her to neither side, and nothing is said of one. */
static void a_heel_of_nothing_is_to_no_side(void **state)
{
    (void)state;
    Compiled c;
    compile_boat(&c, "item hull { mass 3000 kg; at 5 m 0 m 0 m }\n");
    expect_in(&c, FIGURE_HEEL, SCOPE_WHOLE, 0.0, 0.0);
    assert_null(boat_figure(&c, FIGURE_HEEL)->remark);
    done_with(&c);
}

/* Tonnes per centimetre need no mass of anything. */
static void how_deep_a_mass_sinks_her_is_told_before_anything_is_weighed(void **state)
{
    (void)state;
    Compiled c;
    compile_boat(&c, "item lamp { price 10 EUR }\n");
    expect_in(&c, FIGURE_IMMERSION, SCOPE_WHOLE, 18900.0, 18900.0);
    assert_non_null(boat_figure(&c, FIGURE_TRIM_MOMENT));
    done_with(&c);
}

/* Each of several tanks has a free surface of its own. */
static void two_slack_tanks_of_one_kind_take_twice_as_much(void **state)
{
    (void)state;
    Compiled c;
    compile_boat(&c, "tank water { holds fresh; size 0.5 m by 0.4 m by 0.5 m; fill-level 50 %; count 2 }\n");
    double loss = 2.0 * 1000.0 * 0.5 * 0.064 / 12.0 / 5000.0;
    expect_in(&c, FIGURE_SLACK_LOSS, SCOPE_WHOLE, loss, loss);
    done_with(&c);
}

/* What a sign stands for is said; nought goes nowhere, and what is partial goes on along. */
static void a_direction_is_a_word_and_no_sign(void **state)
{
    static const Directions across = {"to starboard", "to port", false}, column = {"to starboard", "to port", true};
    static const struct {
        double low, high;
        bool partial;
        const Directions *words;
        const char *text;
    } rows[] = {{-0.163, -0.163, false, &across, "0.163 m to port"},
                {-0.163, -0.1, false, &column, "0.1..0.163 m to port"},
                {0.1, 0.2, false, &across, "0.1..0.2 m to starboard"},
                {0.1, 0.2, false, &column, "0.1..0.2 m"},
                {0.0, 0.0, false, &across, "0 m"},
                {-0.2, 0.0, false, &across, "0..0.2 m to port"},
                {-0.2, 0.1, false, &column, "from 0.2 m to port to 0.1 m to starboard"},
                {-0.2, 0.1, true, &across, "from at most 0.2 m to port to at least 0.1 m to starboard"},
                {-0.2, -0.1, true, &across, "at most 0.1..0.2 m to port"}};
    (void)state;
    Compiled c;
    compile_boat(&c, THINGS);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Figure figure = {.low = rows[i].low, .high = rows[i].high, .state = STATE_KNOWN, .unit = UNIT_ALONE(UNIT_M), .partial = rows[i].partial};
        Buf text;
        buf_init(&text, &c.arena);
        figure_write_towards(&text, c.figures, &figure, rows[i].words);
        assert_string_equal(text.text, rows[i].text);
    }
    done_with(&c);
}

/* Derrett and Barrass: 9 x 3 x 0.7 m2 of waterplane in fresh water carry 18.9 t a metre, 189 kg a centimetre. */
static void what_is_not_weighed_lets_her_float_deeper(void **state)
{
    (void)state;
    Compiled c;
    compile_boat(&c, THINGS "item hull { mass 2700 kg }\nitem lamp { price 10 EUR }\n");
    expect_in(&c, FIGURE_IMMERSION, SCOPE_WHOLE, 18900.0, 18900.0);
    expect_in(&c, FIGURE_ALLOWANCE, SCOPE_WHOLE, 150.0, 300.0);
    expect_in(&c, FIGURE_ALLOWANCE_SINKAGE, SCOPE_WHOLE, 150.0 / 18900.0, 300.0 / 18900.0);
    done_with(&c);
    compile_boat(&c, THINGS "item lamp { price 10 EUR }\n");
    assert_null(boat_figure(&c, FIGURE_ALLOWANCE)); /* so little is weighed that a share of it says nothing */
    done_with(&c);
    compile_boat(&c, "item hull { mass 3000 kg }\n");
    assert_null(boat_figure(&c, FIGURE_ALLOWANCE));
    done_with(&c);
}

/* A tank that does not say what it weighs itself is full of water all the same. */
static void contents_count_where_the_tank_itself_is_not_weighed(void **state)
{
    (void)state;
    Compiled c;
    compile_boat(&c, "item stove { mass 100 kg; at 5 m 0 m 0 m }\n"
                     "tank fresh { holds fresh; capacity 100 l; at 3 m 0 m 0 m }\n");
    expect_in(&c, FIGURE_LCG, SCOPE_WHOLE, 4.0, 4.0);
    done_with(&c);
}

/* An option that is open, a mass that is a range: both ends of the mean, not wider than the things allow. */
static void ranges_give_both_ends(void **state)
{
    (void)state;
    Compiled c;
    compile_boat(
        &c, "item stove { mass 100..300 kg; at 4 m 0 m 0 m }\nitem oven { mass 100 kg; at 6 m 0 m 0 m }\n");
    expect_in(&c, FIGURE_LCG, SCOPE_WHOLE, 4.5, 5.0);
    expect_in(&c, FIGURE_MOMENT_AFT, SCOPE_WHOLE, 1000.0, 1800.0);
    done_with(&c);
}

/* A mistake anywhere may be a thing of any system: all sums wait, and none is a number that leaves it out. */
static void a_broken_mass_makes_the_sums_wait(void **state)
{
    (void)state;
    Compiled c;
    char text[1024];
    assert_true(
        snprintf(text, sizeof text, "%s%s", BOAT,
                 "item stove { mass 30 kgs; at 4 m 0 m 0 m }\nitem oven { mass 10 kg; at 6 m 0 m 0 m }\n") >
        0);
    compile(&c, text);
    const Figure *lcg = boat_figure(&c, FIGURE_LCG);
    assert_non_null(lcg);
    assert_int_equal(lcg->state, STATE_WAITING);
    done_with(&c);
}

/* Inertia of the waterplane by its length: what she displaces has no part in it, and a range of that makes none. */
static void the_moment_that_trims_her_does_not_hang_on_the_displacement(void **state)
{
    (void)state;
    static const char *const displacements[] = {"4500 kg", "5500 kg", "4500..5500 kg"};
    double first = 0.0;
    for (size_t i = 0; i < sizeof displacements / sizeof displacements[0]; i++) {
        char text[1024];
        Compiled c;
        snprintf(
            text, sizeof text,
            "edition 1\nboat wren { length 10 m; beam 3 m; waterline 9 m; waterplane 0.7; displacement %s; "
            "buoyancy 5 m; gm 1 m\ncrew 2; currency EUR; basis us; water fresh }\n%s",
            displacements[i], THINGS);
        compile(&c, text);
        expect_no_mistake(&c);
        const Figure *moment = figure_find_in(c.figures, c.model->boat, FIGURE_TRIM_MOMENT, SCOPE_WHOLE);
        first = i == 0 ? moment->low : first;
        assert_near(moment->low, first, 1e-9 * first);
        assert_near(moment->high, first, 1e-9 * first);
        done_with(&c);
    }
}

/* Derrett and Barrass: M / (W GM). The moment is 100 x 0.9 and what rights her 5000 x 1; a mass on the centreline is in neither. */
static void a_range_that_turns_nothing_leaves_the_angle_exact(void **state)
{
    (void)state;
    Compiled c;
    compile_boat(&c, "item ballast { mass 500..1500 kg; at 5 m 0 m -0.5 m }\n"
                     "item tanks { mass 100 kg; at 6 m 0.9 m 0 m }\n");
    expect_in(&c, FIGURE_HEEL, SCOPE_WHOLE, atan(90.0 / 5000.0), atan(90.0 / 5000.0));
    expect_in(&c, FIGURE_TRIMMING, SCOPE_WHOLE, 100.0, 100.0); /* her centre of buoyancy lies at 5 m too */
    const Figure *trim = boat_figure(&c, FIGURE_TRIM);
    assert_near(trim->high, trim->low, 1e-12);
    done_with(&c);
}

/* The same slack water takes the same moment whatever she displaces: 1000 x 0.5 x 0.4^3 / 12 kg m. */
static void what_slack_water_takes_of_the_righting_moment_is_exact(void **state)
{
    (void)state;
    Compiled c;
    compile(&c, "edition 1\nboat wren { length 10 m; beam 3 m; displacement 4500..5500 kg; gm 1 m; crew 2; currency EUR\n"
                "basis us; water fresh }\n" THINGS);
    expect_no_mistake(&c);
    const double taken = 1000.0 * 0.5 * 0.064 / 12.0;
    expect_in(&c, FIGURE_HEEL_MOMENT, SCOPE_WHOLE, 4500.0 - taken, 5500.0 - taken);
    done_with(&c);
}

/* 2400 of 5000 kg are less than half: 500 kg at her stern mean nothing yet, in the rules as in a goal. */
static void while_little_is_placed_nobody_can_tell_how_she_lies(void **state)
{
    (void)state;
    static const struct {
        const char *hull;
        Verdict verdict;
    } hulls[] = {{"mass 1900 kg", VERDICT_OPEN}, {"mass 1900..2100 kg", VERDICT_OPEN}, {"mass 2100 kg", VERDICT_BROKEN}};
    for (size_t i = 0; i < sizeof hulls / sizeof hulls[0]; i++) {
        char text[600];
        Compiled c;
        snprintf(text, sizeof text,
                 "edition 1\nboat wren { length 10 m; waterline 9 m; beam 3 m; displacement 5000 kg; buoyancy 5 m; gm 1 m\n"
                 "crew 2; currency EUR; basis us }\nitem hull { %s; at 5 m 0 m 0 m }\n"
                 "item motor { mass 500 kg; at 9.5 m 0.9 m 0 m }\ngoal level { trim 0.5 deg }\n",
                 hulls[i].hull);
        compile(&c, text);
        static const char *const rules[] = {"trim", "heel", "goal-missed"};
        for (size_t r = 0; r < sizeof rules / sizeof rules[0]; r++) {
            const Finding *finding = finding_of(&c, rules[r]);
            assert_non_null(finding);
            assert_int_equal(finding->verdict, hulls[i].verdict);
        }
        expect_in(&c, FIGURE_WEIGHED_SHARE, SCOPE_WHOLE, i < 2 ? 0.48 : 0.52, i < 1 ? 0.48 : 0.52);
        done_with(&c);
    }
}

/* Which of several things without a mass comes first says nothing of what is heavy: none of them is named. */
static void of_several_that_are_not_weighed_none_is_named(void **state)
{
    (void)state;
    static const struct {
        const char *light, *hangs_on;
    } specs[] = {{"item keel { }\n", "keel.mass"},
                 {"alarm bell { detects co }\n", "hull"}, /* no alarm weighs half of her */
                 {"alarm bell { detects co }\nalarm gong { detects smoke }\n", "the mass of things"},
                 {"", "hull"}};
    for (size_t i = 0; i < sizeof specs / sizeof specs[0]; i++) {
        char text[600];
        Compiled c;
        snprintf(text, sizeof text,
                 "edition 1\nboat wren { length 10 m; waterline 9 m; beam 3 m; displacement 5000 kg; buoyancy 5 m; gm 1 m\n"
                 "crew 2; currency EUR; basis us }\n%sitem motor { mass 500 kg; at 9.5 m 0.9 m 0 m }\n",
                 specs[i].light);
        compile(&c, text);
        const Finding *finding = finding_of(&c, "heel");
        assert_non_null(finding);
        assert_non_null(finding->depends);
        assert_string_equal(finding->depends->text, specs[i].hangs_on);
        done_with(&c);
    }
}

/* With no righting moment, or one that works the other way, there is no small angle at which she rests. */
static void what_nothing_rights_lies_over(void **state)
{
    (void)state;
    static const char *const heights[] = {"0 m", "-0.2 m"};
    for (size_t i = 0; i < sizeof heights / sizeof heights[0]; i++) {
        char text[512];
        Compiled c;
        snprintf(text, sizeof text,
                 "edition 1\nboat wren { length 10 m; beam 3 m; displacement 5000 kg; gm %s; crew 2; currency EUR\n"
                 "basis us }\nitem motor { mass 400 kg; at 6 m 0.5 m 0 m }\n",
                 heights[i]);
        compile(&c, text);
        const double over = acos(-1.0) / 2.0;
        expect_in(&c, FIGURE_HEEL, SCOPE_WHOLE, over, over);
        const Finding *finding = finding_of(&c, "stability");
        assert_non_null(finding);
        assert_int_equal(finding->verdict, VERDICT_BROKEN);
        assert_int_equal(finding->severity, SEVERITY_FAULT);
        assert_null(finding_of(&c, "heel"));
        done_with(&c);
    }
}

/* 2008 IS Code, Part A 2.2: 0.15 m; slack water counts, 100 kg m of 5000 kg here. */
static void what_slack_water_leaves_of_the_metacentric_height_is_held_to_the_limit(void **state)
{
    (void)state;
    static const char *const heights[] = {"0.16 m", "0.18 m"};
    for (size_t i = 0; i < 2; i++) {
        char text[512];
        Compiled c;
        snprintf(text, sizeof text,
                 "edition 1\nboat wren { length 10 m; beam 3 m; displacement 5000 kg; gm %s; crew 2; currency EUR; water fresh\n"
                 "basis us }\ntank rain { holds fresh; size 1.2 m by 1 m by 0.4 m; fill-level 50 %% }\n",
                 heights[i]);
        compile(&c, text);
        const Finding *finding = finding_of(&c, "stability");
        assert_true((finding != NULL) == (i == 0)); /* 1000 x 1.2 x 1 / 12 / 5000 = 0.02 m are taken */
        assert_true(finding == NULL || finding->severity == SEVERITY_WARNING);
        done_with(&c);
    }
}

/* By hand: 1000 x 1.2 x 1.5^3 / 12 / 5000 = 0.068 m of 0.5 m. The default of `fill-level` is full, which is no reason not to tell. */
static void a_tank_is_half_full_one_day_whatever_level_the_study_takes(void **state)
{
    (void)state;
    static const char *const levels[] = {"", "fill-level 100 %", "fill-level 50 %", "fill-level 0 %"};
    for (size_t i = 0; i < 4; i++) {
        char text[512];
        Compiled c;
        snprintf(text, sizeof text,
                 "edition 1\nboat wren { length 10 m; beam 3 m; displacement 5000 kg; gm 0.5 m; crew 2; currency EUR; water fresh\n"
                 "basis us }\ntank rain { holds fresh; size 1.2 m by 1.5 m by 0.4 m; %s }\n",
                 levels[i]);
        compile(&c, text);
        const Finding *finding = finding_of(&c, "slack-water");
        assert_non_null(finding);
        assert_int_equal(finding->verdict, VERDICT_BROKEN);
        done_with(&c);
    }
}

/* No end of a range is told finer than the other, and no length aboard finer than a tenth of a millimetre. */
static void digits_are_no_finer_than_what_is_known(void **state)
{
    (void)state;
    static const struct {
        double low, high;
        UnitId unit;
        const char *text;
    } rows[] = {
        {-0.00003683, 0.002802, UNIT_M, "0..0.0028 m"},
        {0.4127, 1.104, UNIT_KG, "0.413..1.104 kg"},
        {0.00004, 12.34, UNIT_KG, "0.00004..12.34 kg"},
        {12.5, 30000.0, UNIT_KG, "13..30000 kg"},
        {2.5, 2.5, UNIT_M, "2.5 m"},
        {7264.7, 7264.7, UNIT_A, "7260 A"}, /* not 7265 first, and then 7270 */
    };
    Compiled c;
    compile_boat(&c, THINGS);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Figure figure = {.id = FIGURE_TCG, .low = rows[i].low, .high = rows[i].high, .unit = UNIT_ALONE(rows[i].unit)};
        assert_string_equal(figure_text(c.figures, &figure), rows[i].text);
    }
    done_with(&c);
}

/* 2 x 11 kg of gas in cylinders of 14 kg empty: 22 and 28 kg, full however full the tanks are; 50 kg 2 m aft of the middle. */
static void gas_in_the_cylinders_weighs(void **state)
{
    (void)state;
    Compiled c;
    compile_boat(&c, "gas-locker box { cylinder 11 kg; count 2; mass 14 kg; at 7 m 0 m 0.5 m }\n"
                     "tank fresh { holds fresh; capacity 100 l; mass 9 kg; at 5 m 0 m 0 m }\n");
    expect_in(&c, FIGURE_LOADED_MASS, SCOPE_TANKS_EMPTY, 28.0 + 22.0 + 9.0, 28.0 + 22.0 + 9.0);
    expect_in(&c, FIGURE_LOADED_MASS, SCOPE_TANKS_FULL, 159.0, 159.0);
    expect_in(&c, FIGURE_TRIMMING, SCOPE_TANKS_EMPTY, 50.0 * 2.0, 50.0 * 2.0);
    done_with(&c);
    compile_boat(&c, "gas-locker box { cylinder 11 kg; count 2; mass 14 kg }\n");
    assert_near(figure_find(c.figures, c.model->boat, FIGURE_LOADED_MASS, NULL)->low, 50.0, 1e-9);
    done_with(&c);
}

/*
 * 60 m of 10 mm chain are 135 kg by the mass that a table of chain to ISO 4565 gives, 2.25 kg/m (second hand), here within 4 %;
 * 40 l of fresh water are 40 kg, in the heater whether the tanks are full or empty.
 */
static void chain_and_the_water_in_a_heater_weigh(void **state)
{
    (void)state;
    Compiled c;
    compile_boat(&c, "anchor bower { mass 16 kg; chain 60 m of 10 mm; at 0.4 m 0 m 0.8 m }\n"
                     "water-heater calorifier { capacity 40 l; mass 15 kg; at 7 m 1 m 0 m; relief-valve yes }\n"
                     "tank fresh { holds fresh; capacity 100 l; mass 9 kg; at 5 m 0 m 0 m }\n");
    const Figure *mass = figure_find(c.figures, c.model->boat, FIGURE_MASS, NULL);
    assert_near(mass->low, 16.0 + 135.0 + 15.0 + 9.0, 0.04 * 135.0);
    double chain = mass->low - 40.0;
    expect_in(&c, FIGURE_MASS, (FigureScope)SYSTEM_SAFETY, 16.0 + chain, 16.0 + chain);
    expect_in(&c, FIGURE_MOMENT_STARBOARD, SCOPE_WHOLE, 55.0, 55.0);
    expect_in(&c, FIGURE_LOADED_MASS, SCOPE_TANKS_EMPTY, chain + 80.0, chain + 80.0);
    expect_in(&c, FIGURE_LOADED_MASS, SCOPE_TANKS_FULL, chain + 180.0, chain + 180.0);
    expect_in(&c, FIGURE_MOMENT_STARBOARD, SCOPE_TANKS_EMPTY, 55.0, 55.0);
    expect_in(&c, FIGURE_TRIMMING, SCOPE_TANKS_EMPTY, (16.0 + chain) * -4.6 + 55.0 * 2.0, (16.0 + chain) * -4.6 + 55.0 * 2.0);
    done_with(&c);
    /* Two anchors with rope alone, and one of which only the rope is known: 30 m of 62 g/m (ISO 1140, from memory). */
    compile_boat(&c, "anchor bower { mass 10 kg; count 2; rope 30 m of 10 mm }\nanchor kedge { rope 30..60 m of 10 mm }\n");
    expect_in(&c, FIGURE_MASS, SCOPE_WHOLE, 20.0 + 3.0 * 1.86, 20.0 + 4.0 * 1.86);
    done_with(&c);
}

/* 9 m x 3 m x 0.7 in fresh water: 18900 kg for a metre. 945 l less let her float 50 mm higher. */
static void she_stands_highest_with_her_tanks_empty(void **state)
{
    (void)state;
#define STANDING(ITEMS)                                                                                                \
    "edition 1\nboat wren { length 10 m; beam 3 m; waterline 9 m; waterplane 0.7; displacement 5000 kg; air-draft 2.6 m; " \
    "crew 2; currency EUR; basis us; water fresh }\n" ITEMS
#define FILLED "tank fresh { holds fresh; capacity 945 l; fill-level 100 %; mass 55 kg; vent 19 mm; fill 38 mm }\n"
    Compiled c;
    compile(&c, STANDING("item hull { mass 4000 kg }\n" FILLED));
    expect_in(&c, FIGURE_HEIGHT_OVER_WATER, SCOPE_TANKS_FULL, 2.6, 2.6);
    expect_in(&c, FIGURE_HEIGHT_OVER_WATER, SCOPE_TANKS_EMPTY, 2.65, 2.65);
    expect_in(&c, FIGURE_AIR_DRAFT, SCOPE_WHOLE, 2.65, 2.65);
    done_with(&c);
    compile(&c, STANDING("item hull { mass 4000 kg }\nitem oven { }\n" FILLED)); /* what is not weighed sinks her to her lines at most */
    expect_in(&c, FIGURE_AIR_DRAFT, SCOPE_WHOLE, 2.6, 2.65);
    done_with(&c);
    compile(&c, STANDING("item hull { mass 100 kg }\n" FILLED)); /* next to nothing of her is weighed */
    expect_in(&c, FIGURE_AIR_DRAFT, SCOPE_WHOLE, 2.6, 2.6);
    assert_null(figure_find_in(c.figures, c.model->boat, FIGURE_HEIGHT_OVER_WATER, SCOPE_WHOLE));
    done_with(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(systems_have_their_masses_centres_and_moments),
        cmocka_unit_test(the_moment_that_trims_her_does_not_hang_on_the_displacement),
        cmocka_unit_test(a_range_that_turns_nothing_leaves_the_angle_exact),
        cmocka_unit_test(what_slack_water_takes_of_the_righting_moment_is_exact),
        cmocka_unit_test(while_little_is_placed_nobody_can_tell_how_she_lies),
        cmocka_unit_test(of_several_that_are_not_weighed_none_is_named),
        cmocka_unit_test(what_nothing_rights_lies_over),
        cmocka_unit_test(what_slack_water_leaves_of_the_metacentric_height_is_held_to_the_limit),
        cmocka_unit_test(a_tank_is_half_full_one_day_whatever_level_the_study_takes),
        cmocka_unit_test(digits_are_no_finer_than_what_is_known),
        cmocka_unit_test(chain_and_the_water_in_a_heater_weigh),
        cmocka_unit_test(she_stands_highest_with_her_tanks_empty),
        cmocka_unit_test(gas_in_the_cylinders_weighs),
        cmocka_unit_test(tanks_are_empty_half_full_and_full),
        cmocka_unit_test(a_slack_tank_of_unknown_breadth_takes_anything_up_to_a_bound),
        cmocka_unit_test(a_heel_of_nothing_is_to_no_side),
        cmocka_unit_test(how_deep_a_mass_sinks_her_is_told_before_anything_is_weighed),
        cmocka_unit_test(a_slack_tank_takes_what_is_worked_by_hand),
        cmocka_unit_test(two_slack_tanks_of_one_kind_take_twice_as_much),
        cmocka_unit_test(a_direction_is_a_word_and_no_sign),
        cmocka_unit_test(what_is_not_weighed_lets_her_float_deeper),
        cmocka_unit_test(contents_count_where_the_tank_itself_is_not_weighed),
        cmocka_unit_test(ranges_give_both_ends),
        cmocka_unit_test(a_broken_mass_makes_the_sums_wait),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
