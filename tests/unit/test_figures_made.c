/*
 * Water that is made aboard, hot water out of a heater's circuit, a well of sea water, and the walls of fuel tanks. Oracles are
 * worked by hand beside each test.
 */
#include "unit/verdict.h"

#include "physics/tank.h"

#define DAY 86400.0
#define BOAT "edition 1\nboat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis us; sails no; sea-temperature 15 C }\n"

static void make(Compiled *c, const char *text)
{
    compile_text(c, text);
    if (c->spec->messages.first != NULL) {
        fail_msg("the spec has a mistake: %s", c->spec->messages.first->text);
    }
}

static void expect(const Compiled *c, const char *subject, FigureId id, const char *at, double low, double high)
{
    const Figure *figure = at != NULL ? compiled_figure_at(c, subject, id, at) : compiled_figure(c, subject, id);
    assert_non_null(figure);
    assert_int_equal(figure->state, STATE_KNOWN);
    assert_near(figure->low, low, 1e-9 * low);
    assert_near(figure->high, high, 1e-9 * high);
}

/* Two people and 14 l are 28 l a day; a quarter of an hour of 60 l/h brings 15 l of it: 180 l last 180/13 days, else 180/28. */
static void what_a_watermaker_brings_is_not_taken_from_the_tank(void **state)
{
#define MADE(DRAW)                                                                                               \
    BOAT "tank water { holds fresh; capacity 200 l }\nbank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
         "load maker { fed-by house; makes-water 60 l/h; " DRAW "; use some 0.25 h; use much 1 h }\n"             \
         "day none { water 14 l per person }\nday some { water 14 l per person }\nday much { water 14 l per person }\n" \
         "cruise holiday { days 2 some, 3 much, 1 none }\n"
    Compiled c;
    (void)state;
    make(&c, MADE("draw 20 A"));
    expect(&c, "water", FIGURE_DAILY_FLOW, "none", 0.028, 0.028);
    expect(&c, "water", FIGURE_DAILY_FLOW, "some", 0.013, 0.013);
    expect(&c, "water", FIGURE_DAILY_FLOW, "much", 0.0, 0.0);
    expect(&c, "water", FIGURE_ENDURANCE, "none", 180.0 / 28.0 * DAY, 180.0 / 28.0 * DAY);
    expect(&c, "water", FIGURE_ENDURANCE, "some", 180.0 / 13.0 * DAY, 180.0 / 13.0 * DAY);
    assert_true(compiled_figure_at(&c, "water", FIGURE_ENDURANCE, "much")->low > 1e12);
    expect(&c, "water", FIGURE_CRUISE_FLOW, "holiday", 2.0 * 0.013 + 0.028, 2.0 * 0.013 + 0.028);
    compile_free(&c);
    make(&c, MADE("draw 20 A; count 2"));
    expect(&c, "water", FIGURE_DAILY_FLOW, "some", 0.0, 0.0);
    compile_free(&c);
    /* between nothing and an hour: between all of the 28 l and none */
    make(&c, BOAT "tank water { holds fresh; capacity 200 l }\nload maker { makes-water 60 l/h; portable yes; use some 0..1 h }\n"
                  "day some { water 14 l per person }\n");
    const Figure *flow = compiled_figure_at(&c, "water", FIGURE_DAILY_FLOW, "some");
    assert_near(flow->low, 0.0, 1e-12);
    assert_near(flow->high, 0.028, 1e-12);
    compile_free(&c);
}

/* 40 l from 15 to 60 C are 40 x 4.186 x 45 kJ; by a coil of 4 kW, or of 6 kW on a heater that gives 5. */
static void a_heater_heats_water_through_its_coil(void **state)
{
#define CALORIFIER(SAYS)                                                                    \
    BOAT "heater boiler { fuel diesel; output 5 kW; fuel-rate 0.6 l/h }\n"                  \
         "water-heater calorifier { capacity 40 l; setting 60 C; heated-by boiler; " SAYS " }\n"
    const double heat_j = 40.0 * 4186.0 * 45.0;
    Compiled c;
    (void)state;
    make(&c, CALORIFIER("exchanger 4 kW"));
    expect(&c, "calorifier", FIGURE_HEAT_UP, NULL, heat_j / 4000.0, heat_j / 4000.0);
    compile_free(&c);
    make(&c, CALORIFIER("exchanger 6 kW"));
    expect(&c, "calorifier", FIGURE_HEAT_UP, NULL, heat_j / 5000.0, heat_j / 5000.0);
    compile_free(&c);
    make(&c, CALORIFIER("element 1 kW"));
    expect(&c, "calorifier", FIGURE_HEAT_UP_ELEMENT, NULL, heat_j / 1000.0, heat_j / 1000.0);
    expect(&c, "calorifier", FIGURE_HEAT_UP, NULL, heat_j / 6000.0, heat_j / 4000.0); /* a coil of 3 to 5 kW, from memory */
    compile_free(&c);
    expect_verdict(CALORIFIER("exchanger 4 kW"), "heater-engine", NOTHING, NULL);
    expect_verdict(CALORIFIER("exchanger 4 kW; mixing-valve no"), "heater-scald", BROKEN_AT_ONE, "calorifier");
}

/* The engine of a day takes nothing off an element beside a coil that only a heater warms: 2 showers of 21 l from 15 to 40 C. */
static void an_engine_that_does_not_heat_it_spares_the_element_nothing(void **state)
{
    Compiled c;
    (void)state;
    make(&c, BOAT "engine main { rated 20 kW at 3000 rpm; fuel diesel }\nheater boiler { fuel diesel; output 5 kW }\n"
                  "inlet shore { rated 16 A at 230 V }\npanel ac { fed-by shore; run 2 m }\n"
                  "water-heater calorifier { fed-by ac; run 2 m; capacity 40 l; setting 60 C; element 1 kW; heated-by boiler }\n"
                  "day home { showers 1 per person; engine 5 h at 2000 rpm }\n");
    const double element_s = 2.0 * 21.0 * 4186.0 * 25.0 / 1000.0;
    expect(&c, "calorifier", FIGURE_ELEMENT_TIME, "home", element_s, element_s);
    compile_free(&c);
}

static void a_live_well_holds_the_sea(void **state)
{
#define WELL(HOLDS)                                                                                                     \
    BOAT "through-hull intake { height -0.3 m; bore 19 mm }\nthrough-hull overflow { height 0.2 m; bore 38 mm }\n"      \
         "tank well { holds " HOLDS "; capacity 80 l }\npump filler { from intake; to well; flow 20 l/min }\n"          \
         "hose out { from well; to overflow; bore 38 mm; run 1 m }\n"
    Compiled c;
    (void)state;
    expect_verdict(WELL("fresh"), "wrong-liquid", BROKEN_AT_ONE, "filler");
    expect_verdict(WELL("sea"), "wrong-liquid", NOTHING, NULL);
    expect_verdict(WELL("sea"), "tank-breath", NOTHING, NULL);
    make(&c, WELL("sea") "day quiet { water 5 l per person }\n");
    expect(&c, "well", FIGURE_FULL_MASS, NULL, 82.0, 82.0); /* 1025 kg/m3 */
    assert_null(compiled_figure_at(&c, "well", FIGURE_ENDURANCE, "quiet"));
    compile_free(&c);
}

/* us: 46 CFR 182.440, Table 1 to (a)(1); iso: ISO 21487:2022, as a page that interprets it gives its figures (second hand). */
static void the_wall_of_a_metal_fuel_tank(void **state)
{
#define WALLED(SAYS) BOAT "tank diesel { holds fuel; fuel diesel; vent 16 mm; fill 38 mm; grounded yes; " SAYS " }\n"
    (void)state;
    assert_near(tank_wall_m(BASIS_US, WALL_STEEL, CONTENT_DIESEL, 0.300), 1.90e-3, 1e-12);
    assert_near(tank_wall_m(BASIS_US, WALL_STEEL, CONTENT_DIESEL, 0.301), 2.66e-3, 1e-12);
    assert_near(tank_wall_m(BASIS_US, WALL_STEEL, CONTENT_DIESEL, 0.570), 2.66e-3, 1e-12);
    assert_near(tank_wall_m(BASIS_US, WALL_STEEL, CONTENT_DIESEL, 0.600), 4.55e-3, 1e-12);
    assert_near(tank_wall_m(BASIS_US, WALL_ALUMINIUM, CONTENT_DIESEL, 0.1), 6.35e-3, 1e-12);
    assert_near(tank_wall_m(BASIS_US, WALL_OTHER, CONTENT_DIESEL, 0.1), 0.0, 1e-12);
    assert_near(tank_wall_m(BASIS_US, WALL_STAINLESS, CONTENT_DIESEL, 0.1), 0.0, 1e-12);
    assert_near(tank_wall_m(BASIS_ISO, WALL_ALUMINIUM, CONTENT_PETROL, 0.6), 2.0e-3, 1e-12);
    assert_near(tank_wall_m(BASIS_ISO, WALL_ALUMINIUM, CONTENT_DIESEL, 0.6), 2.0e-3, 1e-12);
    assert_near(tank_wall_m(BASIS_ISO, WALL_STEEL, CONTENT_PETROL, 0.6), 1.5e-3, 1e-12);
    assert_near(tank_wall_m(BASIS_ISO, WALL_STEEL, CONTENT_DIESEL, 0.1), 1.5e-3, 1e-12);
    assert_near(tank_wall_m(BASIS_ISO, WALL_STAINLESS, CONTENT_DIESEL, 0.1), 1.0e-3, 1e-12);
    assert_near(tank_wall_m(BASIS_ISO, WALL_OTHER, CONTENT_DIESEL, 0.1), 0.0, 1e-12);
#define WALLED_ISO(SAYS)                                                                                            \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso; sails no }\n"               \
    "tank diesel { holds fuel; fuel diesel; vent 16 mm; fill 38 mm; grounded yes; capacity 150 l; " SAYS " }\n"
    expect_verdict(WALLED_ISO("material aluminium; wall 4 mm"), "tank-thin", NOTHING, NULL);
    expect_verdict(WALLED_ISO("material aluminium; wall 1.9 mm"), "tank-thin", BROKEN_AT_ONE, "diesel");
    expect_verdict(WALLED_ISO("material steel; wall 1.5 mm"), "tank-thin", NOTHING, NULL);
    expect_verdict(WALLED_ISO("material stainless; wall 0.9 mm"), "tank-thin", BROKEN_AT_ONE, "diesel");
    Compiled c;
    compile_text(&c, WALLED("capacity 400 l; material steel; wall 2 mm"));
    const Finding *thin = only_finding(&c, "tank-thin");
    assert_non_null(strstr(thin->message, "a benchmark"));
    assert_string_equal(thin->remedies->text, "another tank, with a `wall` of 2.7 mm");
    assert_string_equal(thin->remedies->next->text,
                        "`waive tank-thin on diesel` with the tests on its maker's label as the reason, if it bears such a label");
    compile_free(&c);
    expect_verdict(WALLED("capacity 300 l; material steel; wall 2 mm"), "tank-thin", NOTHING, NULL);
    expect_verdict(WALLED("capacity 400 l; material steel; wall 2 mm"), "tank-thin", BROKEN_AT_ONE, "diesel");
    expect_verdict(WALLED("capacity 250..400 l; material steel; wall 2 mm"), "tank-thin", OPEN_AT_ONE, "diesel");
    expect_verdict(WALLED("capacity 400 l; material stainless; wall 2 mm"), "tank-thin", NOTHING, NULL);
    expect_verdict(WALLED("capacity 100 l; material aluminium; wall 1/4 in"), "tank-thin", NOTHING, NULL);
    expect_verdict(WALLED("capacity 100 l; material aluminium; wall 4 mm"), "tank-thin", BROKEN_AT_ONE, "diesel");
    expect_verdict(WALLED("capacity 100 l; material aluminium"), "tank-thin", NOTHING, NULL);
}

int main(void)
{
    static const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_a_watermaker_brings_is_not_taken_from_the_tank),
        cmocka_unit_test(a_heater_heats_water_through_its_coil),
        cmocka_unit_test(an_engine_that_does_not_heat_it_spares_the_element_nothing),
        cmocka_unit_test(a_live_well_holds_the_sea),
        cmocka_unit_test(the_wall_of_a_metal_fuel_tank),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
