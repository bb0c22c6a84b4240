/*
 * What flows in pipes and where they end, where the rules' own examples do not reach. That drinking water, fuel and waste
 * share no pipe is common practice; no source is quoted here.
 */
#include "check.h"
#include "compile.h"
#include "unit/verdict.h"

#define BOAT \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso; sails no }\n"
#define TANKS                                                               \
    "tank fresh { holds fresh; capacity 200 l; vent 16 mm; fill 38 mm }\n"  \
    "tank diesel { holds fuel; capacity 200 l; vent 16 mm; fill 38 mm }\n"  \
    "tank grey { holds grey; capacity 60 l }\ntank black { holds black; capacity 60 l }\n"
#define SEA "through-hull sea { bore 38 mm; height -0.2 m }\n"
#define HOSE(NAME, FROM, TO) "hose " NAME " { from " FROM "; to " TO "; bore 13 mm; run 2 m }\n"
#define LINE(NAME, FROM, TO) "fuel-line " NAME " { from " FROM "; to " TO "; bore 8 mm; run 2 m }\n"
#define ENGINE "engine diesel-engine { rated 28 kW at 3000 rpm; fuel diesel }\n"

static void sewage_finds_its_way_through_fittings_into_drinking_water(void **state)
{
    (void)state;
    expect_verdict(BOAT TANKS "toilet bowl { worked-by hand; to black }\nitem diverter { mass 1 kg }\n" HOSE("one", "black", "diverter")
                       HOSE("two", "diverter", "fresh"),
                   "wrong-liquid", BROKEN_AT_ONE, "two");
    expect_verdict(BOAT TANKS "toilet bowl { worked-by hand; to black }\nitem diverter { mass 1 kg }\n" SEA HOSE("one", "black", "diverter")
                       HOSE("two", "diverter", "sea"),
                   "wrong-liquid", NOTHING, NULL);
}

static void a_bowl_and_its_hose_tell_one_mistake_once(void **state)
{
    (void)state;
    expect_verdict(BOAT TANKS "toilet bowl { worked-by hand; to fresh }\n" HOSE("waste", "bowl", "fresh"), "wrong-liquid",
                   BROKEN_AT_ONE, "waste");
    expect_verdict(BOAT TANKS "toilet bowl { worked-by hand; to fresh }\n" HOSE("waste", "bowl", "black"), "wrong-liquid",
                   BROKEN_AT_ONE, "bowl");
}

/* A bowl that was flushed with the sea and now has a hose of fresh water: the old one is still there. */
static void drinking_water_and_the_sea_do_not_meet_in_a_bowl(void **state)
{
    (void)state;
#define TWO_WATERS(WITH)                                                                                             \
    BOAT TANKS SEA "pump pump { from fresh; portable yes }\ntoilet bowl { worked-by motor; to black" WITH " }\n"     \
        HOSE("sweet", "pump", "bowl")
    expect_verdict(TWO_WATERS("; flushes-with fresh") HOSE("salt", "sea", "bowl"), "wrong-liquid", BROKEN_AT_ONE, "bowl");
    expect_verdict(TWO_WATERS("") HOSE("salt", "sea", "bowl"), "wrong-liquid", BROKEN_AT_ONE, "bowl");
    expect_verdict(TWO_WATERS("; flushes-with fresh"), "wrong-liquid", NOTHING, NULL);
    Compiled c;
    compile_text(&c, TWO_WATERS("; flushes-with fresh") HOSE("salt", "sea", "bowl"));
    const Finding *finding = compiled_finding(&c, "wrong-liquid");
    assert_int_equal(finding->severity, SEVERITY_WARNING);
    assert_string_equal(finding->remedies->text, "no way from the sea to `bowl`, without `salt`");
    compile_free(&c);
}

static void fuel_at_a_tap_and_water_at_an_engine_are_told_where_they_arrive(void **state)
{
    (void)state;
    expect_verdict(BOAT TANKS "pump pump { from diesel; portable yes }\nfixture tap { drains-to grey }\n" HOSE("tail", "pump", "tap"),
                   "wrong-liquid", BROKEN_AT_ONE, "tail");
    expect_verdict(BOAT TANKS ENGINE LINE("feed", "fresh", "diesel-engine"), "wrong-liquid", BROKEN_AT_ONE, "feed");
    expect_verdict(BOAT TANKS ENGINE LINE("feed", "diesel", "diesel-engine") LINE("back", "diesel-engine", "fresh"),
                   "wrong-liquid", BROKEN_AT_ONE, "back");
    expect_verdict(BOAT TANKS ENGINE SEA LINE("feed", "diesel", "diesel-engine") LINE("back", "diesel-engine", "diesel")
                       HOSE("cooling", "sea", "diesel-engine"),
                   "wrong-liquid", NOTHING, NULL);
}

static void expect_remedy(const char *spec, const char *remedy)
{
    Compiled c;
    compile_text(&c, spec);
    const Finding *finding = compiled_finding(&c, "wrong-liquid");
    assert_non_null(finding);
    assert_string_equal(finding->remedies->text, remedy);
    assert_null(finding->remedies->next);
    compile_free(&c);
}

/* What is wrong is where the waste goes: no tank of fuel is to be led to an engine's cooling water, nor drinking water to a bilge hose. */
static void waste_is_led_elsewhere_not_replaced(void **state)
{
    (void)state;
    expect_remedy(BOAT TANKS ENGINE SEA "item tee {}\nfixture sink {}\n" HOSE("one", "sink", "tee") HOSE("two", "sea", "tee") HOSE("on", "tee", "diesel-engine"),
                  "a way of its own for what comes from `sink`, not by `tee`");
    expect_remedy(BOAT "bilge-pump sump { hand yes }\nfixture sink {}\n" HOSE("up", "sump", "sink"), "`to` with a through-hull of its own");
    expect_remedy(BOAT TANKS "toilet bowl { worked-by hand; to fresh }\n", "to black");
    expect_remedy(BOAT TANKS "pump pump { from diesel; portable yes }\nfixture tap { drains-to grey }\n" HOSE("tail", "pump", "tap"), "from fresh");
}

/* What already holds drinking water is not told to hold it. */
static void sea_water_in_a_tank_has_no_tank_to_go_to(void **state)
{
    (void)state;
    static const char *const tanks[] = {"fresh", "diesel"};
    for (size_t i = 0; i < 2; i++) {
        Compiled c;
        Arena arena = check_arena();
        compile_text(&c, text_format(&arena, BOAT TANKS SEA "pump pump { from sea; to %s; portable yes }\n", tanks[i]));
        const Finding *finding = compiled_finding(&c, "wrong-liquid");
        assert_non_null(finding);
        assert_string_equal(finding->remedies->text, text_format(&arena, "no way from the sea to `%s`", tanks[i]));
        bool holds = finding->remedies->next != NULL;
        assert_int_equal(holds, i == 0);
        compile_free(&c);
        arena_free(&arena);
    }
}

static void the_sea_may_come_to_a_galley_tap_and_through_what_makes_it_fresh(void **state)
{
    (void)state;
    expect_verdict(BOAT TANKS SEA "pump pump { from sea; to tap; portable yes }\nfixture tap { drains-to grey }\n", "wrong-liquid",
                   NOTHING, NULL);
    expect_verdict(BOAT TANKS SEA "item maker { mass 30 kg }\n" HOSE("inward", "sea", "maker") HOSE("outward", "maker", "fresh"),
                   "wrong-liquid", NOTHING, NULL);
    expect_verdict(BOAT TANKS SEA "strainer basket { }\n" HOSE("inward", "sea", "basket") HOSE("outward", "basket", "fresh"),
                   "wrong-liquid", BROKEN_AT_ONE, "outward");
}

static void pipes_in_a_ring_come_to_an_end(void **state)
{
    (void)state;
    expect_verdict(BOAT TANKS "item one { mass 1 kg }\nitem two { mass 1 kg }\n" HOSE("a", "one", "two") HOSE("b", "two", "one")
                       HOSE("c", "fresh", "one"),
                   "wrong-liquid", NOTHING, NULL);
}

static void a_tank_of_nobody_knows_what_waits(void **state)
{
    (void)state;
    expect_verdict(BOAT TANKS "tank odd { holds fersh; capacity 10 l }\n" HOSE("a", "black", "odd"), "wrong-liquid", WAITING, NULL);
}

static void a_fuel_return_to_another_tank_is_not_told_where_the_feed_is_no_fuel(void **state)
{
    (void)state;
    expect_verdict(BOAT TANKS ENGINE "fuel-line feed { from fresh; to diesel-engine; shut-off yes; filter 10 um; separator yes }\n"
                                     "fuel-line back { from diesel-engine; to diesel; return yes }\n",
                   "fuel-shut", NOTHING, NULL);
}

/* A tank that is carried is unplugged by hand, and the filter sits under the cowl (common practice, no source). */
static void an_outboard_on_a_carried_tank_is_asked_for_no_valve_and_no_filter(void **state)
{
    (void)state;
#define HANGS_ON(CAN, MOUNTED) \
    BOAT "engine out { rated 7 kW at 5500 rpm; fuel petrol; " MOUNTED "}\n" \
         "tank can { holds fuel; fuel petrol; capacity 20 l; " CAN "}\nfuel-line hose { from can; to out; filter 10 um; separator yes }\n"
    expect_verdict(HANGS_ON("portable yes; ", "mounted outboard; "), "fuel-shut", NOTHING, NULL);
    expect_verdict(HANGS_ON("", "mounted outboard; "), "fuel-shut", OPEN_AT_ONE, "hose");
    expect_verdict(HANGS_ON("portable yes; ", ""), "fuel-shut", OPEN_AT_ONE, "hose");
    expect_verdict(BOAT "engine out { rated 7 kW at 5500 rpm; fuel petrol; mounted outboard }\n"
                        "tank can { holds fuel; fuel petrol; capacity 20 l; portable yes }\n"
                        "fuel-line hose { from can; to out; shut-off no; separator no }\n", "fuel-shut", NOTHING, NULL);
}

/* A second anchor is lighter on purpose (common practice, no source): the heaviest is the one to be looked at. */
static void a_kedge_may_be_lighter_than_the_bower(void **state)
{
    (void)state;
#define ANCHORS(BOWER, KEDGE) BOAT "anchor bower { " BOWER " }\nanchor kedge { " KEDGE " }\n"
    expect_verdict(ANCHORS("mass 20 kg", "mass 6 kg; rope 40 m of 8 mm"), "anchor-small", NOTHING, NULL);
    expect_verdict(ANCHORS("mass 8 kg", "mass 6 kg"), "anchor-small", BROKEN_AT_ONE, "bower");
    /* 9.5 m are 31.2 ft: 30 lb are near enough, for a thumb knows no pound; 12 kg, 26.5 lb, are not. */
    expect_verdict(ANCHORS("mass 30 lb", "mass 6 kg"), "anchor-small", NOTHING, NULL);
    expect_verdict(ANCHORS("mass 12 kg", "mass 6 kg"), "anchor-small", BROKEN_AT_ONE, "bower");
    expect_verdict(ANCHORS("mass 7..20 kg", "mass 6 kg"), "anchor-small", OPEN_AT_ONE, "bower");
    expect_verdict(ANCHORS("because \"It came with her.\"", "mass 6 kg"), "anchor-small", OPEN_AT_ONE, "kedge");
}

static void a_pipe_ends_at_what_is_aboard_and_takes_liquids(void **state)
{
    (void)state;
    expect_verdict(BOAT TANKS "space saloon { }\n" HOSE("a", "fresh", "saloon"), "pipe-end", BROKEN_AT_ONE, "a");
    expect_verdict(BOAT TANKS "supplier quay { }\n" HOSE("a", "fresh", "quay"), "pipe-end", BROKEN_AT_ONE, "a");
    expect_verdict(BOAT TANKS "through-hull old { bore 38 mm; height 0.1 m; status dropped }\nfixture tap { drains-to old }\n",
                   "pipe-end", BROKEN_AT_ONE, "tap");
    expect_verdict(BOAT TANKS "through-hull old { bore 38 mm; height 0.1 m; status dropped }\n"
                              "fixture tap { drains-to old; status dropped }\n",
                   "pipe-end", NOTHING, NULL);
}

/* Common practice, no source: the box under a shower is open to the air, and empty most of the time. */
static void a_sump_that_a_pump_empties_needs_no_vent(void **state)
{
    (void)state;
#define SUMP(SAYS, PUMP) BOAT "tank sump { holds grey; vent 0 mm; " SAYS " }\n" SEA PUMP
#define EMPTIES "pump out { from sump; to sea; portable yes }\n"
    expect_verdict(SUMP("capacity 8 l", EMPTIES), "tank-breath", NOTHING, NULL);
    expect_verdict(SUMP("capacity 8 l", ""), "tank-breath", BROKEN_AT_ONE, "sump");
    expect_verdict(SUMP("capacity 40 l", EMPTIES), "tank-breath", BROKEN_AT_ONE, "sump");
    expect_verdict(SUMP("size 600 mm by 300 mm by 300 mm", EMPTIES), "tank-breath", BROKEN_AT_ONE, "sump");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sewage_finds_its_way_through_fittings_into_drinking_water),
        cmocka_unit_test(a_bowl_and_its_hose_tell_one_mistake_once),
        cmocka_unit_test(drinking_water_and_the_sea_do_not_meet_in_a_bowl),
        cmocka_unit_test(fuel_at_a_tap_and_water_at_an_engine_are_told_where_they_arrive),
        cmocka_unit_test(waste_is_led_elsewhere_not_replaced),
        cmocka_unit_test(sea_water_in_a_tank_has_no_tank_to_go_to),
        cmocka_unit_test(the_sea_may_come_to_a_galley_tap_and_through_what_makes_it_fresh),
        cmocka_unit_test(pipes_in_a_ring_come_to_an_end),
        cmocka_unit_test(a_tank_of_nobody_knows_what_waits),
        cmocka_unit_test(a_fuel_return_to_another_tank_is_not_told_where_the_feed_is_no_fuel),
        cmocka_unit_test(an_outboard_on_a_carried_tank_is_asked_for_no_valve_and_no_filter),
        cmocka_unit_test(a_kedge_may_be_lighter_than_the_bower),
        cmocka_unit_test(a_pipe_ends_at_what_is_aboard_and_takes_liquids),
        cmocka_unit_test(a_sump_that_a_pump_empties_needs_no_vent),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
