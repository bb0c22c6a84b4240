/*
 * Sizes that hardly can be, where the rules' own examples do not reach.
 */
#include "unit/verdict.h"

#define BOAT(REST)                                                                                       \
    "edition 1\nboat wren { length 7.5 m; beam 2.55 m; crew 2; currency EUR; basis iso; sails no; " REST \
    " }\n"
#define USUAL BOAT("displacement 2500 kg; waterline 6.6 m")

/* 23 t over 6.6 m x 2.55 m are 1.33 m of sea water; a canal boat of 21.3 m by 2.08 m and 17 t has 0.37 m, 0.18 of her beam. */
static void a_nought_too_many_or_too_few_in_her_displacement_is_told(void **state)
{
    (void)state;
    expect_verdict(BOAT("displacement 23000 kg; waterline 6.6 m"), "proportions", BROKEN_AT_ONE, "wren");
    expect_verdict(BOAT("displacement 2300..23000 kg; waterline 6.6 m"), "proportions", OPEN_AT_ONE, "wren");
    /* A tenth of what she displaces, with a draft and without; rowing boats, canoes and trimarans are as light as they say. */
#define LIGHT(SAYS) "edition 1\nboat wren { crew 3; currency USD; basis us; " SAYS " }\n"
#define CRUISER "length 24 ft; waterline 20 ft; beam 8 ft; hull planing; sails no; "
    expect_verdict(LIGHT(CRUISER "displacement 520 lb"), "proportions", BROKEN_AT_ONE, "wren");
    expect_verdict(LIGHT(CRUISER "draft 1 ft 6 in; displacement 520 lb"), "proportions", BROKEN_AT_ONE, "wren");
    expect_verdict(LIGHT(CRUISER "draft 1 ft 6 in; displacement 500..5200 lb"), "proportions", OPEN_AT_ONE, "wren");
    expect_verdict(LIGHT(CRUISER "draft 1 ft 6 in; displacement 5200 lb"), "proportions", NOTHING, NULL);
    expect_verdict(LIGHT("length 4.4 m; waterline 4.2 m; beam 1.4 m; sails no; displacement 60 kg"), "proportions", NOTHING, NULL);
    expect_verdict(LIGHT("length 5 m; beam 0.85 m; sails no; displacement 30 kg"), "proportions", NOTHING, NULL);
    expect_verdict(LIGHT("length 7.2 m; beam 5.5 m; sails yes; displacement 900 kg"), "proportions", NOTHING, NULL);
    expect_verdict(LIGHT("length 9.5 m; waterline 8.5 m; beam 3.1 m; displacement 52 kg"), "proportions", BROKEN_AT_ONE, "wren");
    expect_verdict(USUAL, "proportions", NOTHING, NULL);
    expect_verdict("edition 1\nboat wren { length 21.3 m; waterline 20.8 m; beam 2.08 m; displacement 17 t; "
                   "crew 2; currency EUR; "
                   "basis iso; sails no }\n",
                   "proportions", NOTHING, NULL);
}

static void an_anchor_without_a_rode_is_left_open_and_a_short_one_told(void **state)
{
    (void)state;
    expect_verdict(USUAL "anchor bower { mass 10 kg }\n", "anchor-rode", OPEN_AT_ONE, "bower");
    expect_verdict(USUAL "anchor bower { mass 10 kg; chain 1.5 m of 8 mm; rope 3 m of 12 mm }\n",
                   "anchor-rode", BROKEN_AT_ONE, "bower");
    /* 3 x 4 m of all chain do, 5 x 4 m with rope; from a bow 1 m up it is 5 m in each. */
    expect_verdict(USUAL "anchor bower { mass 10 kg; chain 12 m of 8 mm }\n", "anchor-rode", NOTHING, NULL);
    expect_verdict(USUAL "anchor bower { mass 10 kg; rope 19 m of 12 mm }\n", "anchor-rode", BROKEN_AT_ONE,
                   "bower");
    expect_verdict(USUAL "anchor bower { mass 10 kg; rope 20 m of 12 mm }\n", "anchor-rode", NOTHING, NULL);
    expect_verdict(
        BOAT("displacement 2500 kg; freeboard 1 m") "anchor bower { mass 10 kg; rope 20 m of 12 mm }\n",
        "anchor-rode", BROKEN_AT_ONE, "bower");
    expect_verdict(USUAL "anchor bower { mass 10 kg; rope 20 m of 12 mm; depth 5 m }\n", "anchor-rode",
                   BROKEN_AT_ONE, "bower");
}

#define FRESH "tank fresh { holds fresh; capacity 100 l; vent 16 mm; fill 38 mm }\n"

/* 6 bar are 61 m of water. */
static void a_pressure_may_be_a_head_and_counts_on_fresh_water_alone(void **state)
{
    (void)state;
    expect_verdict(USUAL FRESH "pump tap-pump { from fresh; portable yes; shut-off 62 m }\n", "pump-pressure",
                   BROKEN_AT_ONE, "tap-pump");
    expect_verdict(USUAL FRESH "pump tap-pump { from fresh; portable yes; shut-off 60 m }\n", "pump-pressure",
                   NOTHING, NULL);
    expect_verdict(USUAL FRESH
                   "pump tap-pump { from fresh; portable yes; shut-off 8 bar; pressure 2.8 bar }\n",
                   "pump-pressure", NOTHING, NULL); /* its switch stops it */
    expect_verdict(USUAL "through-hull sea { bore 19 mm; height -0.3 m }\npump maker { from sea; portable "
                         "yes; pressure 55 bar }\n",
                   "pump-pressure", NOTHING, NULL);
}

static void a_wide_hose_is_told_of_water_alone(void **state)
{
    (void)state;
    expect_verdict(
        USUAL FRESH
        "item drum { price 5 EUR }\nhose wide { from fresh; to drum; bore 130 mm; run 2 m; grade water }\n",
        "hose-wide", BROKEN_AT_ONE, "wide");
    expect_verdict(USUAL "exhaust pipe { bore 130 mm; run 2 m }\nitem lock { price 5 EUR }\n"
                         "hose wide { from lock; to pipe; bore 130 mm; run 2 m; grade exhaust }\n",
                   "hose-wide", NOTHING, NULL);
}

static void her_side_may_be_higher_at_either_end(void **state)
{
    (void)state;
#define DRAIN "through-hull drain { bore 38 mm; height 1.2 m }\n"
    expect_verdict(BOAT("displacement 2500 kg; freeboard 1.1 m") DRAIN, "fitting-high", BROKEN_AT_ONE,
                   "drain");
    expect_verdict(BOAT("displacement 2500 kg; freeboard 1.1 m to 1.3 m") DRAIN, "fitting-high", NOTHING,
                   NULL);
    expect_verdict(BOAT("displacement 2500 kg; freeboard 1.3 m to 0.9 m") DRAIN, "fitting-high", NOTHING,
                   NULL);
    expect_verdict(BOAT("displacement 2500 kg") DRAIN, "fitting-high", NOTHING, NULL);
}

static void several_tanks_of_one_name_share_a_space(void **state)
{
    (void)state;
#define BAY "space bay { volume 250 l }\n"
    expect_verdict(USUAL BAY "tank fresh { holds fresh; capacity 100 l; count 2; space bay }\n", "tank-room",
                   NOTHING, NULL);
    expect_verdict(USUAL BAY "tank fresh { holds fresh; capacity 100 l; count 3; space bay }\n", "tank-room",
                   BROKEN_AT_ONE, "fresh");
    expect_verdict(USUAL "space bay\ntank fresh { holds fresh; capacity 1000 l; space bay }\n", "tank-room",
                   NOTHING, NULL);
}

#define PEAK "space forepeak { volume 1 m3 }\n"
#define TANK(NAME, CAPACITY) "tank " NAME " { holds fresh; capacity " CAPACITY "; vent 19 mm; fill 38 mm; space forepeak }\n"

static void tanks_that_go_into_a_space_alone_are_added_up(void **state)
{
    (void)state;
    expect_verdict(USUAL PEAK TANK("port", "800 l") TANK("starboard", "800 l"), "tank-room", BROKEN_AT_ONE, "forepeak");
    expect_verdict(USUAL PEAK TANK("port", "500 l") TANK("starboard", "500 l"), "tank-room", NOTHING, NULL);
    expect_verdict(USUAL PEAK TANK("port", "500 l") TANK("starboard", "400..600 l"), "tank-room", OPEN_AT_ONE, "forepeak");
    expect_verdict(USUAL PEAK TANK("port", "1800 l") TANK("starboard", "800 l"), "tank-room", BROKEN_AT_ONE, "port");
}

static void a_stack_goes_through_the_roof(void **state)
{
    (void)state;
#define STACK(WET, HEIGHT)                                                                                           \
    BOAT("displacement 2500 kg; freeboard 1.35 m") "exhaust stack { wet " WET "; bore 64 mm; run 4 m }\n"              \
        "through-hull stack-top { bore 64 mm; height " HEIGHT "; material stainless; serves stack }\n"
    expect_verdict(STACK("no", "2.4 m"), "fitting-high", NOTHING, NULL);
    expect_verdict(STACK("no", "24 m"), "fitting-high", BROKEN_AT_ONE, "stack-top");
    expect_verdict(STACK("yes", "2.4 m"), "fitting-high", BROKEN_AT_ONE, "stack-top");
    expect_verdict(BOAT("displacement 2500 kg; freeboard 1.35 m") "heater stove { output 4 kW; fuel wood }\n"
                   "through-hull flue { bore 100 mm; height 3 m; material stainless; serves stove }\n",
                   "fitting-high", NOTHING, NULL);
}

/* The first lines of a spec made of a list: nothing is out of proportion to a measure that nobody has taken yet. */
static void what_is_not_measured_yet_is_in_no_proportion(void **state)
{
    (void)state;
#define HER(MEASURES) "edition 1\nboat wren { crew 2; currency EUR; basis iso; " MEASURES " }\n"
    expect_verdict(HER("length ?; beam ?; displacement ?"), "proportions", NOTHING, NULL);
    expect_verdict(HER("length 9.5 m; beam ?; displacement ?; draft ?"), "proportions", NOTHING, NULL);
    expect_verdict(HER("length 9.5 m; beam 9..12 m; displacement ?"), "proportions", OPEN_AT_ONE, "wren");
}

/* A sum that may be anything is told as what it is. */
static void money_that_may_be_anything_is_undecided(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, HER("length 9.5 m; beam 3 m; displacement 5 t") "item mast { price ? }\ngoal purse { budget 1000 EUR }\n");
    assert_string_equal(compiled_finding(&c, "over-budget")->message,
                        "everything costs an undecided sum of money, and `purse` allows 1000.00 EUR");
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_nought_too_many_or_too_few_in_her_displacement_is_told),
        cmocka_unit_test(an_anchor_without_a_rode_is_left_open_and_a_short_one_told),
        cmocka_unit_test(a_pressure_may_be_a_head_and_counts_on_fresh_water_alone),
        cmocka_unit_test(a_wide_hose_is_told_of_water_alone),
        cmocka_unit_test(her_side_may_be_higher_at_either_end),
        cmocka_unit_test(several_tanks_of_one_name_share_a_space),
        cmocka_unit_test(tanks_that_go_into_a_space_alone_are_added_up),
        cmocka_unit_test(a_stack_goes_through_the_roof),
        cmocka_unit_test(what_is_not_measured_yet_is_in_no_proportion),
        cmocka_unit_test(money_that_may_be_anything_is_undecided),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
