/*
 * Rules of openings in the hull that nothing may shut, of hulls of metal, and of anodes, beyond their own examples. Heights of a
 * gas drain: a class society's rules for recreational craft (second hand), 75 mm; the rest common practice, no source.
 */
#include "verdict.h"

#include "rules/rule.h"

#include <stdio.h>
#include <string.h>

#define BOAT(SAYS) "edition 1\nboat wren { length 10.5 m; beam 3.4 m; crew 2; currency EUR; basis iso; sails no; " SAYS " }\n"
#define BOX "gas-locker box { cylinder 11 kg; drained-overboard yes; drain 25 mm; gauge yes; shut-off yes }\n"
#define DRAIN(SAYS) BOAT("") BOX "through-hull gas-drain { bore 25 mm; material bronze; " SAYS " }\n"
#define HEATER "heater air-heater { portable yes; output 4 kW; fuel diesel; fuel-rate 0.5 l/h }\n"
#define BREATHING(SAYS) BOAT("") HEATER "through-hull flue { bore 24 mm; serves air-heater; " SAYS " }\n"

static void expect_severity(const char *spec, const char *rule, Severity severity)
{
    Compiled c;
    compile_text(&c, spec);
    const Finding *finding = compiled_finding(&c, rule);
    assert_non_null(finding);
    assert_int_equal(finding->severity, severity);
    compile_free(&c);
}

static void a_gas_drain_leaves_above_the_water_and_is_not_shut(void **state)
{
    (void)state;
    expect_verdict(DRAIN("serves box; height 0.12 m"), "gas-outlet", NOTHING, NULL);
    expect_verdict(DRAIN("serves box; height -0.12 m"), "gas-outlet", BROKEN_AT_ONE, "gas-drain");
    expect_severity(DRAIN("serves box; height -0.12 m"), "gas-outlet", SEVERITY_FAULT);
    expect_severity(DRAIN("serves box; height 0.05 m"), "gas-outlet", SEVERITY_WARNING);
    expect_verdict(DRAIN("serves box"), "gas-outlet", OPEN_AT_ONE, "gas-drain");
    expect_verdict(DRAIN("serves box; height 0.12 m; seacock yes"), "gas-outlet", BROKEN_AT_ONE, "gas-drain");
    expect_verdict(DRAIN("serves box; height 0.12 m; valve bronze"), "gas-outlet", BROKEN_AT_ONE, "gas-drain");
    expect_verdict(DRAIN("serves box; height 0.12 m; swan-neck 0.4 m"), "gas-outlet", BROKEN_AT_ONE, "gas-drain");
    expect_verdict(DRAIN("height -0.12 m") "hose fall { from box; to gas-drain; bore 25 mm; run 1 m }\n", "gas-outlet", BROKEN_AT_ONE,
                   "gas-drain");
    expect_verdict(DRAIN("height -0.12 m") "item tee {}\nhose fall { from box; to tee; bore 25 mm; run 1 m }\n"
                                           "hose on { from tee; to gas-drain; bore 25 mm; run 1 m }\n",
                   "gas-outlet", BROKEN_AT_ONE, "gas-drain");
    expect_verdict(BOAT("") BOX "through-hull gas-drain { bore 10 mm; height 0.12 m; serves box }\n", "gas-outlet", BROKEN_AT_ONE, "gas-drain");
}

static void no_seacock_is_asked_where_nothing_may_be_shut(void **state)
{
    (void)state;
    static const char *const rules[] = {"seacock", "open-sea", "clamps"};
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++) {
        expect_verdict(DRAIN("serves box; height 0.12 m"), rules[i], NOTHING, NULL);
        expect_verdict(BREATHING("height 0.12 m; material stainless"), rules[i], NOTHING, NULL);
    }
    expect_verdict(DRAIN("height 0.12 m"), "seacock", OPEN_AT_ONE, "gas-drain"); /* nothing says that it drains gas */
    expect_verdict(BOAT("") "heater pump-heat { portable yes; output 4 kW; draw 40 A }\n"
                            "through-hull intake { bore 24 mm; height -0.3 m; material bronze; serves pump-heat }\n",
                   "seacock", OPEN_AT_ONE, "intake"); /* nothing burns: sea water may run through it */
}

/* Gas climbs over nothing: what says that its drain rises, or leaves above the locker, is told. */
static void a_gas_drain_falls_all_the_way(void **state)
{
    (void)state;
#define FALL(SAYS) DRAIN("height 0.12 m") "hose fall { from box; to gas-drain; run 1 m; " SAYS " }\n"
    expect_verdict(FALL("bore 25 mm; rise -0.2 m"), "gas-outlet", NOTHING, NULL);
    expect_verdict(FALL("bore 25 mm; rise 0.2 m"), "gas-outlet", BROKEN_AT_ONE, "fall");
    expect_severity(FALL("bore 25 mm; rise 0.2 m"), "gas-outlet", SEVERITY_FAULT);
    expect_verdict(FALL("bore 25 mm; rise -0.2..0.2 m"), "gas-outlet", OPEN_AT_ONE, "fall");
    expect_verdict(FALL("bore 6 mm; rise -0.2 m"), "gas-outlet", BROKEN_AT_ONE, "fall");
    expect_severity(FALL("bore 6 mm; rise -0.2 m"), "gas-outlet", SEVERITY_WARNING);
    expect_verdict(DRAIN("height 0.12 m") "hose fall { from gas-drain; to box; run 1 m; bore 25 mm; rise 0.2 m }\n", "gas-outlet", NOTHING, NULL);
    expect_verdict(DRAIN("height 0.12 m") "item tee {}\nhose fall { from box; to tee; run 1 m; bore 25 mm; rise -0.2 m }\n"
                                          "hose on { from tee; to gas-drain; run 1 m; bore 25 mm; rise 0.1 m }\n",
                   "gas-outlet", BROKEN_AT_ONE, "on");
#define BOX_AT(HEIGHT) BOAT("") "gas-locker box { cylinder 11 kg; drained-overboard yes; drain 25 mm; gauge yes; shut-off yes; at 9 m 0 m 0.5 m }\n" \
                       "through-hull gas-drain { bore 25 mm; material bronze; serves box; height " HEIGHT " }\n"
    expect_verdict(BOX_AT("0.4 m"), "gas-outlet", NOTHING, NULL);
    expect_verdict(BOX_AT("0.7 m"), "gas-outlet", BROKEN_AT_ONE, "gas-drain");
    expect_verdict(BOX_AT("0.4..0.7 m"), "gas-outlet", OPEN_AT_ONE, "gas-drain");
}

/* The sink's way out needs the seacock that the locker's must not have. */
static void what_nothing_may_shut_is_shared_with_nothing(void **state)
{
    (void)state;
    static const char *const shared[] = {
        DRAIN("serves box, sink; height 0.12 m; seacock no") "fixture sink {}\n",
        DRAIN("serves box; height 0.12 m; seacock no") "fixture sink { drains-to gas-drain }\n",
        DRAIN("serves box, well; height 0.12 m; seacock no") "space well {}\n",
        DRAIN("height 0.12 m; seacock no") "item tee {}\nfixture sink {}\nhose a { from box; to tee; bore 25 mm; run 1 m; clamps 2 }\n"
                                           "hose b { from sink; to tee; bore 25 mm; run 1 m }\nhose c { from tee; to gas-drain; bore 25 mm; run 1 m; clamps 2 }\n",
    };
    for (size_t i = 0; i < sizeof shared / sizeof shared[0]; i++) {
        expect_verdict(shared[i], "gas-outlet", BROKEN_AT_ONE, "gas-drain");
        expect_severity(shared[i], "gas-outlet", SEVERITY_FAULT);
        expect_verdict(shared[i], "seacock", BROKEN_AT_ONE, "gas-drain");
    }
    expect_verdict(BREATHING("height 0.5 m; material stainless; seacock no") "fixture basin { drains-to flue }\n", "burner-outlet", BROKEN_AT_ONE, "flue");
    expect_verdict(BOAT("") "space well { open-air yes }\ngas-locker box { cylinder 11 kg; drained-overboard yes; drain 25 mm; gauge yes; shut-off yes; space well }\n"
                            "through-hull gas-drain { bore 25 mm; material bronze; serves box, well; height 0.12 m }\n",
                   "gas-outlet", BROKEN_AT_ONE, "gas-drain");
}

static void what_burns_leaves_by_metal_above_the_water(void **state)
{
    (void)state;
    expect_verdict(BREATHING("height 0.5 m; material stainless"), "burner-outlet", NOTHING, NULL);
    expect_verdict(BREATHING("height 0.5 m; material plastic"), "burner-outlet", BROKEN_AT_ONE, "flue");
    expect_verdict(BREATHING("height 0.5 m; material plastic; air-intake yes"), "burner-outlet", NOTHING, NULL);
    expect_verdict(BREATHING("height 0.5 m; material plastic") "through-hull other { bore 24 mm; height 0.5 m; serves air-heater }\n",
                   "burner-outlet", OPEN_AT_ONE, "flue");
    expect_verdict(BREATHING("height 0.5 m; material stainless; seacock yes"), "burner-outlet", BROKEN_AT_ONE, "flue");
    expect_severity(BREATHING("height -0.1 m; material stainless"), "burner-outlet", SEVERITY_FAULT);
    expect_severity(BREATHING("height 0.02 m; material stainless"), "burner-outlet", SEVERITY_WARNING);
}

/* 7 deg: 1.7 m x tan 7 deg = 0.209 m. */
static void the_sea_runs_over_no_swan_neck(void **state)
{
    (void)state;
    expect_verdict(BREATHING("height 0.12 m; material stainless"), "burner-outlet", OPEN_AT_ONE, "flue");
    expect_verdict(BREATHING("height 0.12 m; material stainless; swan-neck 0.21 m"), "burner-outlet", NOTHING, NULL);
    expect_verdict(BREATHING("height 0.12 m; material stainless; swan-neck 0.2 m"), "burner-outlet", BROKEN_AT_ONE, "flue");
    expect_verdict(BREATHING("height 0.22 m; material stainless"), "burner-outlet", NOTHING, NULL);
    /* Perhaps so low that the sea is there as she lies, which is told alone: until that is decided both are open. */
    Compiled c;
    compile_text(&c, BREATHING("height 0.02..0.12 m; material stainless; swan-neck 0.2 m"));
    unsigned open = 0;
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        open += strcmp(f->rule->name, "burner-outlet") == 0 && f->verdict == VERDICT_OPEN && f->depends != NULL;
        assert_false(strcmp(f->rule->name, "burner-outlet") == 0 && f->verdict == VERDICT_BROKEN);
    }
    assert_int_equal(open, 2);
    compile_free(&c);
}

#define LOW "through-hull drain { bore 38 mm; height -0.2 m; reach yes; clamps 2; "

static void a_hull_of_plate_is_asked_for_no_block(void **state)
{
    (void)state;
    expect_verdict(BOAT("built steel") LOW "seacock yes; material stainless; backing no }\n", "seacock", NOTHING, NULL);
    expect_verdict(BOAT("built aluminium") LOW "seacock yes; material aluminium }\n", "seacock", NOTHING, NULL);
    expect_verdict(BOAT("built wood") LOW "seacock yes; material bronze; backing no }\n", "seacock", BROKEN_AT_ONE, "drain");
    expect_verdict(BOAT("") LOW "seacock yes; material bronze }\n", "seacock", OPEN_AT_ONE, "drain");
}

static void plain_steel_is_right_in_a_hull_of_metal_alone(void **state)
{
    (void)state;
    expect_verdict(BOAT("built steel") LOW "seacock yes; material steel; valve steel }\n", "seacock", NOTHING, NULL);
    expect_verdict(BOAT("built composite") LOW "seacock yes; material steel; backing yes }\n", "seacock", BROKEN_AT_ONE, "drain");
    expect_verdict(BOAT("") LOW "seacock yes; material steel; backing yes }\n", "seacock", OPEN_AT_ONE, "drain");
}

/* One of them alone settles nothing: they are offered together. */
static void what_is_asked_together_is_offered_together(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT("") LOW "material bronze }\n");
    const Finding *finding = compiled_finding(&c, "seacock");
    assert_non_null(finding);
    assert_string_equal(finding->remedies->text, "seacock yes and backing yes");
    assert_null(finding->remedies->next);
    compile_free(&c);
}

#define ANODE(SAYS) "anode plates { " SAYS " }\n"
#define DRIVEN "engine diesel { rated 28 kW at 3000 rpm; fuel diesel }\npropeller screw { engine diesel; diameter 500 mm }\n"

static void a_hull_of_metal_wants_anodes_of_its_own(void **state)
{
    (void)state;
    expect_verdict(BOAT("built steel"), "unprotected-metal", OPEN_AT_ONE, "wren");
    expect_verdict(BOAT("built steel; water fresh"), "unprotected-metal", OPEN_AT_ONE, "wren");
    expect_verdict(BOAT("built composite"), "unprotected-metal", NOTHING, NULL);
    expect_verdict(BOAT("built steel") ANODE("protects wren; material zinc"), "unprotected-metal", NOTHING, NULL);
    expect_verdict(BOAT("built aluminium") ANODE("material zinc"), "unprotected-metal", OPEN_AT_ONE, "wren");
    expect_verdict(BOAT("built steel") DRIVEN ANODE("protects screw; material zinc"), "unprotected-metal", BROKEN_AT_ONE, "wren");
    expect_verdict(BOAT("built steel") DRIVEN ANODE("protects screw, wren; material zinc"), "unprotected-metal", NOTHING, NULL);
}

/* On inland waters alone nothing says that she floats in salt. */
static void inland_it_hangs_on_the_water_what_an_anode_is_of(void **state)
{
    (void)state;
    static const char *const unclear[] = {"zinc", "magnesium"};
    for (size_t i = 0; i < 2; i++) {
        Compiled c;
        char spec[512];
        snprintf(spec, sizeof spec, BOAT("waters inland") ANODE("protects wren; material %s"), unclear[i]);
        compile_text(&c, spec);
        const Finding *finding = compiled_finding(&c, "anode-unfit");
        assert_non_null(finding);
        assert_int_equal(finding->verdict, VERDICT_OPEN);
        assert_string_equal(finding->depends->text, "wren.water");
        compile_free(&c);
    }
    expect_verdict(BOAT("waters inland") ANODE("protects wren; material aluminium"), "anode-unfit", NOTHING, NULL);
    expect_verdict(BOAT("waters inland, coastal") ANODE("protects wren; material magnesium"), "anode-unfit", BROKEN_AT_ONE, "plates");
    expect_verdict(BOAT("waters inland; water fresh") ANODE("protects wren; material magnesium"), "anode-unfit", NOTHING, NULL);
    expect_verdict(BOAT("waters inland; built steel") ANODE("material zinc") LOW "seacock yes; material bronze }\n", "unlike-metals", OPEN_AT_ONE,
                   "drain");
}

static void what_is_broken_by_salt_says_that_it_is_assumed(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT("") ANODE("protects wren; material magnesium"));
    const Finding *finding = compiled_finding(&c, "anode-unfit");
    assert_non_null(finding);
    assert_non_null(finding->assumed);
    assert_string_equal(finding->assumed->text, "wren.water");
    assert_non_null(strstr(finding->notes->text, "salt water is assumed"));
    compile_free(&c);
}

/* 2.6 m on her lines; 4000 kg of 5000 kg float her 52 mm higher in the sea: 9 m x 3 m x 0.7 x 1025 kg/m3 are 19373 kg for a metre. */
static void a_bridge_is_held_against_her_height_over_the_water(void **state)
{
    (void)state;
#define UNDER(SAYS, REST) \
    "edition 1\nboat wren { length 10 m; beam 3 m; waterline 9 m; displacement 5000 kg; crew 2; currency EUR; basis iso; sails no; " SAYS " }\n" REST
#define HULL "item hull { mass 4000 kg }\n"
    expect_verdict(UNDER("air-draft 2.6 m", "goal bridge { air-draft 2.61 m }\n"), "goal-missed", NOTHING, NULL); /* nothing is weighed */
    expect_verdict(UNDER("air-draft 2.6 m", "goal bridge { air-draft 2.5 m }\n"), "goal-missed", BROKEN_AT_ONE, "bridge");
    expect_verdict(UNDER("air-draft 2.6 m", HULL "goal bridge { air-draft 2.64 m }\n"), "goal-missed", BROKEN_AT_ONE, "bridge");
    expect_verdict(UNDER("air-draft 2.6 m", HULL "goal bridge { air-draft 2.66 m }\n"), "goal-missed", NOTHING, NULL);
    expect_verdict(UNDER("air-draft 2.6 m", HULL "item oven { }\ngoal bridge { air-draft 2.64 m }\n"), "goal-missed", OPEN_AT_ONE, "bridge");
    Compiled c; /* what is not weighed lowers her: she stands that high at the most, never "at least" */
    compile_text(&c, UNDER("air-draft 2.6 m", HULL "item oven { }\n"));
    assert_false(compiled_figure(&c, "wren", FIGURE_AIR_DRAFT)->partial);
    compile_free(&c);
    expect_verdict(UNDER("air-draft 2.5..2.7 m", "goal bridge { air-draft 2.6 m }\n"), "goal-missed", OPEN_AT_ONE, "bridge");
    expect_verdict(UNDER("", "goal bridge { air-draft 2.6 m }\n"), "goal-missed", OPEN_AT_ONE, "bridge");
}

/* A catamaran does not heel like a boat with a keel, and has no hull in her middle: common practice, no source. */
static void a_boat_of_two_hulls_heels_less_and_has_no_middle(void **state)
{
    (void)state;
#define BROAD(SAYS)                                                                                                           \
    "edition 1\nboat pair { length 8.2 m; beam 4.4 m; displacement 2600 kg; crew 2; currency EUR; basis iso; sails yes; "      \
    "freeboard 1.1 m to 0.9 m; " SAYS " }\nbilge-pump hand { hand yes; rated 3000 l/h; discharge-height 0.8 m }\n"
    Compiled c;
    compile_text(&c, BROAD(""));
    assert_string_equal(compiled_finding(&c, "bilge-outlet")->remedies->text,
                        "`hulls 2` of a catamaran, which heels less, or `heel` as her builder states it");
    compile_free(&c);
    expect_verdict(BROAD("hulls 2"), "bilge-outlet", NOTHING, NULL);
    compile_text(&c, BROAD("hulls 2"));
    assert_near(compiled_figure(&c, "pair", FIGURE_HEELED_WATERLINE)->high, 2.2 * tan(10.0 * 3.14159265358979 / 180.0), 1e-6);
    compile_free(&c);
    compile_text(&c, "edition 1\nboat pair { length 8.2 m; beam 3 m; displacement 2600 kg; crew 2; currency EUR; basis iso; sails yes; "
                     "freeboard 0.7 m }\nbilge-pump hand { hand yes; rated 3000 l/h; discharge-height 0.5 m }\n");
    assert_non_null(strstr(compiled_finding(&c, "bilge-outlet")->remedies->text, "of her middle"));
    compile_free(&c);
}

/* Two findings that nothing tells apart by name are told by what they say. */
static void a_waiver_of_several_says_which_they_are(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT("") "through-hull a1 { bore 38 mm; height -0.1 m; material plastic; seacock no; backing yes }\n"
                              "waive seacock on a1 until 2030-01-01 because \"Next year.\"\n");
    const char *message = compiled_finding(&c, "waiver-broad")->message;
    assert_non_null(strstr(message, "is of plastic"));
    assert_non_null(strstr(message, "whether there is a seacock"));
    compile_free(&c);
}

/* `air-draft` clears the bridge, and an aerial does not: the mast may fold, but nobody says so. */
static void what_stands_higher_than_her_air_draft_is_held_against_a_bridge(void **state)
{
    (void)state;
#define BRIDGE(ITEMS) BOAT("air-draft 2.5 m") "goal bridge { air-draft 2.6 m }\n" ITEMS
    expect_verdict(BRIDGE(""), "goal-missed", NOTHING, NULL);
    expect_verdict(BRIDGE("item radar { at 4 m 0 m 7 m }\n"), "goal-missed", OPEN_AT_ONE, "bridge");
    expect_verdict(BRIDGE("item radar { at 4 m 0 m 2.55 m }\n"), "goal-missed", NOTHING, NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_boat_of_two_hulls_heels_less_and_has_no_middle),
        cmocka_unit_test(a_gas_drain_leaves_above_the_water_and_is_not_shut),
        cmocka_unit_test(no_seacock_is_asked_where_nothing_may_be_shut),
        cmocka_unit_test(a_gas_drain_falls_all_the_way),
        cmocka_unit_test(what_nothing_may_shut_is_shared_with_nothing),
        cmocka_unit_test(what_burns_leaves_by_metal_above_the_water),
        cmocka_unit_test(the_sea_runs_over_no_swan_neck),
        cmocka_unit_test(a_hull_of_plate_is_asked_for_no_block),
        cmocka_unit_test(plain_steel_is_right_in_a_hull_of_metal_alone),
        cmocka_unit_test(what_is_asked_together_is_offered_together),
        cmocka_unit_test(a_hull_of_metal_wants_anodes_of_its_own),
        cmocka_unit_test(inland_it_hangs_on_the_water_what_an_anode_is_of),
        cmocka_unit_test(what_is_broken_by_salt_says_that_it_is_assumed),
        cmocka_unit_test(a_waiver_of_several_says_which_they_are),
        cmocka_unit_test(what_stands_higher_than_her_air_draft_is_held_against_a_bridge),
        cmocka_unit_test(a_bridge_is_held_against_her_height_over_the_water),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
