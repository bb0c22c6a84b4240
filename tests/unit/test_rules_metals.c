/*
 * The rules of unlike metals and of mains cables, beyond their own examples. Potentials: galvanic series of US small-craft
 * practice (bulletin of a boat-design school, 2010) and, for the alloys nobler than brass, from memory; the step of 200 mV is
 * the bulletin's. Factors of a bundle and of an engine space: 33 CFR 183.425, notes 1 and 2; the table: its Table 5.
 */
#include "check.h"
#include "compile.h"

#include "physics/galvanic.h"
#include "rules/rule.h"

#define ENGINE EXAMPLE_BOAT "engine diesel-1 { rated 20 kW at 3000 rpm; fuel diesel }\n"
#define FITTING(says) EXAMPLE_BOAT "through-hull drain { bore 38 mm; " says " }\n"
#define MAINS(says)                                                                                                   \
    EXAMPLE_BOAT "inlet shore { rated 30 A at 120 V }\n"                                                              \
                 "panel ac-main { fed-by shore; run 1 m; wire 10 AWG; protect 30 A breaker }\n"                       \
                 "space engine-room { }\nengine diesel-1 { rated 20 kW at 3000 rpm; fuel diesel; space engine-room }\n" \
                 "load cooker { fed-by ac-main; run 2 m; protect 20 A breaker; " says " }\n"

enum { HOLDS = -1 };

/* Compiles, and fails unless the rule's first finding has such a verdict (HOLDS: it has none). */
static void expect(const char *text, const char *rule, int verdict)
{
    Compiled c;
    compile_text(&c, text);
    if (c.spec->messages.count != 0) {
        fail_msg("%s", c.spec->messages.first->text);
    }
    const Finding *f = compiled_finding(&c, rule);
    if ((f == NULL ? HOLDS : (int)f->verdict) != verdict) {
        fail_msg("%s: %s\n%s", rule, f == NULL ? "nothing" : f->message, text);
    }
    compile_free(&c);
}

static void the_series_is_in_order(void **state)
{
    (void)state;
    static const char *const falling[] = {"nickel-copper", "stainless", "bronze", "brass", "aluminium"};
    for (size_t i = 1; i < sizeof falling / sizeof falling[0]; i++) {
        assert_true(metal_find(falling[i])->mv < metal_find(falling[i - 1])->mv);
    }
    assert_near(metal_find("manganese-bronze")->mv, -450.0, 0.0);
    assert_near(metal_find("aluminium")->mv, -820.0, 0.0);
    assert_near(metal_find("steel")->mv, -790.0, 0.0); /* mild steel of the same series */
    assert_null(metal_find("composite"));
}

/* Steel lies at -790 mV (verified) and bronze at -310 (from memory): 480 apart. Copper alloys in aluminium: never (second hand). */
static void a_fitting_in_a_hull_of_metal_is_held_against_it(void **state)
{
    (void)state;
#define BUILT(metal, water)                                                                                            \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us; built " metal \
    "; water " water " }\n"
#define BRONZE(says) "through-hull drain { bore 38 mm; height -0.2 m; material bronze; " says " }\n"
    expect(BUILT("steel", "salt") BRONZE(""), "unlike-metals", VERDICT_BROKEN);
    expect(BUILT("steel", "salt") BRONZE("insulated yes"), "unlike-metals", HOLDS);
    expect(BUILT("steel", "salt") "through-hull drain { bore 38 mm; height -0.2 m; material brass }\n", "unlike-metals", VERDICT_BROKEN);
    expect(BUILT("steel", "fresh") BRONZE(""), "unlike-metals", HOLDS);
    expect(BUILT("composite", "salt") BRONZE(""), "unlike-metals", HOLDS);
    expect(BUILT("steel", "salt") BRONZE("") "anode plate { material zinc; protects wren }\n", "unlike-metals", HOLDS);
    expect(BUILT("aluminium", "salt") BRONZE("") "anode plate { material zinc; protects wren }\n", "unlike-metals",
           VERDICT_BROKEN);
    expect(BUILT("aluminium", "salt") BRONZE("insulated yes"), "unlike-metals", HOLDS);
}

/* A stub of the hull's own metal is the hull. Steel to bronze 340 mV, to stainless 500; copper in aluminium: never. */
static void a_valve_on_a_stub_is_held_against_the_hull(void **state)
{
    (void)state;
#define STUB(metal, valve) "through-hull drain { bore 38 mm; height -0.2 m; material " metal "; " valve " }\n"
#define PLATE "anode plate { material zinc; protects wren }\n"
    expect(BUILT("steel", "salt") STUB("steel", ""), "unlike-metals", HOLDS);
    expect(BUILT("steel", "salt") STUB("steel", "valve bronze"), "unlike-metals", VERDICT_BROKEN);
    expect(BUILT("steel", "salt") STUB("steel", "valve bronze") PLATE, "unlike-metals", HOLDS);
    expect(BUILT("steel", "salt") STUB("steel", "valve bronze; insulated yes"), "unlike-metals", HOLDS);
    expect(BUILT("steel", "fresh") STUB("steel", "valve bronze"), "unlike-metals", HOLDS);
    expect(BUILT("aluminium", "salt") STUB("aluminium", "valve bronze") PLATE, "unlike-metals", VERDICT_BROKEN);
    expect(BUILT("aluminium", "salt") STUB("aluminium", "valve stainless") PLATE, "unlike-metals", HOLDS);
    expect(BUILT("aluminium", "salt") STUB("aluminium", "valve bronze; insulated yes"), "unlike-metals", HOLDS);
    expect(BUILT("composite", "salt") STUB("steel", "valve bronze") PLATE, "unlike-metals", VERDICT_BROKEN); /* no stub of hers */
}

static void an_anode_suits_the_water(void **state)
{
    (void)state;
    expect(BUILT("steel", "fresh") "anode plate { material zinc; protects wren }\n", "anode-unfit", VERDICT_BROKEN);
    expect(BUILT("steel", "fresh") "anode plate { material magnesium; protects wren }\n", "anode-unfit", HOLDS);
    expect(BUILT("steel", "brackish") "anode plate { material magnesium; protects wren }\n", "anode-unfit", VERDICT_BROKEN);
    expect(BUILT("steel", "brackish") "anode plate { material aluminium; protects wren }\n", "anode-unfit", HOLDS);
}

static void a_propeller_far_from_its_shaft_wants_an_anode(void **state)
{
    (void)state;
    static const char bare[] = ENGINE "propeller screw { engine diesel-1; material manganese-bronze; shaft-material stainless-316 }\n";
    static const char near[] = ENGINE "propeller screw { engine diesel-1; material bronze; shaft-material stainless-316 }\n";
    static const char anoded[] = ENGINE
        "propeller screw { engine diesel-1; material manganese-bronze; shaft-material stainless-316 }\n"
        "anode collar { material zinc; protects screw }\n";
    static const char dropped[] = ENGINE
        "propeller screw { engine diesel-1; material manganese-bronze; shaft-material stainless-316 }\n"
        "anode collar { material zinc; protects screw; status dropped }\n";
    static const char unsaid[] = ENGINE "propeller screw { engine diesel-1; material manganese-bronze }\n";
    static const char silent[] = ENGINE "propeller screw { engine diesel-1 }\n";
    expect(bare, "unlike-metals", VERDICT_BROKEN);  /* 300 mV */
    expect(near, "unlike-metals", HOLDS);   /* 160 mV */
    expect(anoded, "unlike-metals", HOLDS);
    expect(dropped, "unlike-metals", VERDICT_BROKEN);
    expect(unsaid, "unlike-metals", VERDICT_OPEN);
    expect(silent, "unlike-metals", HOLDS); /* nothing is known to touch */
}

static void a_valve_is_judged_where_it_is_wet_and_of_metal(void **state)
{
    (void)state;
    expect(FITTING("height -0.2 m; material stainless; valve brass"), "unlike-metals", VERDICT_BROKEN);
    expect(FITTING("height 0.9 m; material stainless; valve brass"), "unlike-metals", HOLDS);
    expect(FITTING("material stainless; valve brass"), "unlike-metals", VERDICT_BROKEN);
    expect(FITTING("height -0.2 m; material stainless; valve composite"), "unlike-metals", HOLDS);
    expect(FITTING("height -0.2 m; material composite; valve brass"), "unlike-metals", HOLDS);
}

/* The rule `seacock` tells of brass in a valve as it does in a fitting. */
static void a_valve_of_brass_is_as_bad_as_a_fitting_of_it(void **state)
{
    (void)state;
    expect(FITTING("height -0.2 m; seacock yes; reach yes; backing yes; material bronze; valve brass"), "seacock", VERDICT_BROKEN);
    expect(FITTING("height -0.2 m; seacock yes; reach yes; backing yes; material bronze; valve bronze"), "seacock", HOLDS);
}

/* An engine makes an engine space of the space that it stands in. */
static void mains_through_an_engine_space_want_better_insulation(void **state)
{
    (void)state;
    expect(MAINS("draw 900 W; wire 10 AWG insulation 60 C; through engine-room"), "ac-wire", VERDICT_BROKEN);
    expect(MAINS("draw 900 W; wire 10 AWG insulation 75 C; through engine-room"), "ac-wire", HOLDS);
    expect(MAINS("draw 900 W; wire 10 AWG; through engine-room"), "ac-wire", VERDICT_OPEN);
    expect(MAINS("draw 900 W; wire 10 AWG"), "ac-wire", HOLDS);
}

/* 12 AWG, 60 C: 25 A alone, 17.5 A of three loaded conductors together. */
static void a_cable_that_lives_on_lying_alone_is_told(void **state)
{
    (void)state;
    expect(MAINS("draw 2280 W; wire 12 AWG"), "ac-wire", VERDICT_OPEN);            /* 19 A */
    expect(MAINS("draw 2280 W; wire 12 AWG; bundle 2"), "ac-wire", HOLDS);
    expect(MAINS("draw 2040 W; wire 12 AWG"), "ac-wire", HOLDS);           /* 17 A */
    expect(MAINS("draw 2280 W; wire 12 AWG; bundle 3"), "wire-overloaded", VERDICT_BROKEN);
}

static void thin_mains_conductors_share_no_current(void **state)
{
    (void)state;
    expect(MAINS("draw 900 W; wire 12 AWG conductors 2"), "ac-wire", VERDICT_BROKEN);
    expect(MAINS("draw 900 W; wire 1/0 AWG conductors 2"), "ac-wire", HOLDS);
    expect(EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                        "load pump-motor { fed-by house; run 2 m; wire 6 AWG conductors 2; protect 40 A fuse; draw 20 A }\n",
           "ac-wire", HOLDS); /* of direct current it asks nothing */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_series_is_in_order),
        cmocka_unit_test(a_fitting_in_a_hull_of_metal_is_held_against_it),
        cmocka_unit_test(a_valve_on_a_stub_is_held_against_the_hull),
        cmocka_unit_test(an_anode_suits_the_water),
        cmocka_unit_test(a_propeller_far_from_its_shaft_wants_an_anode),
        cmocka_unit_test(a_valve_is_judged_where_it_is_wet_and_of_metal),
        cmocka_unit_test(a_valve_of_brass_is_as_bad_as_a_fitting_of_it),
        cmocka_unit_test(mains_through_an_engine_space_want_better_insulation),
        cmocka_unit_test(a_cable_that_lives_on_lying_alone_is_told),
        cmocka_unit_test(thin_mains_conductors_share_no_current),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
