/*
 * Hot water as figures of small specs.
 */
#include "check.h"
#include "compile.h"

#include "physics/hull.h"

#include <stdio.h>

#define BOAT                                                                                                 \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us " \
    "}\n"
#define HEATER(SAYS) "water-heater boiler { " SAYS " }\n"
#define ENGINE "engine main { rated 20 kW at 3000 rpm; fuel diesel; starter 200 A }\n"

/* By hand: 40 l from 15 C to 60 C by 1.2 kW take 2.093 kWh and 1.744 h at 4.186 kJ/(kg K). */
static void forty_litres_take_an_hour_and_three_quarters(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT HEATER("capacity 40 l; element 1200 W"));
    assert_near(compiled_figure(&c, "boiler", FIGURE_HEAT_UP)->low / 3600.0, 1.744, 0.0005);
    assert_null(compiled_figure(&c, "boiler", FIGURE_HEAT_UP_ELEMENT)); /* there is nothing else */
    assert_null(compiled_figure(&c, "boiler", FIGURE_HEAT_UP_ENERGY));  /* no inverter feeds it */
    assert_null(compiled_finding(&c, "heater-slow"));
    compile_free(&c);
}

static void element_and_engine_heat_together(void **state)
{
    (void)state;
    Compiled c;
    compile_text(
        &c, BOAT ENGINE HEATER("capacity 40 l; element 1200 W; exchanger 4 kW; engine main; setting 60 C"));
    assert_near(compiled_figure(&c, "boiler", FIGURE_HEAT_UP_ELEMENT)->low / 3600.0, 1.744, 0.0005);
    assert_near(compiled_figure(&c, "boiler", FIGURE_HEAT_UP_ENGINE)->low / 3600.0, 2.093 / 4.0, 0.0005);
    assert_near(compiled_figure(&c, "boiler", FIGURE_HEAT_UP)->low / 3600.0, 2.093 / 5.2, 0.0005);
    compile_free(&c);
    compile_text(&c, BOAT ENGINE HEATER("capacity 40 l; engine main")); /* 3 to 5 kW, from memory */
    assert_near(compiled_figure(&c, "boiler", FIGURE_HEAT_UP)->low / 3600.0, 2.093 / 5.0, 0.0005);
    assert_near(compiled_figure(&c, "boiler", FIGURE_HEAT_UP)->high / 3600.0, 2.093 / 3.0, 0.0005);
    compile_free(&c);
}

/* By hand: 40 l at 70 C mixed with water of 15 C to 40 C make 88.0 l; 70 to 80 % of that comes out. */
static void hot_water_is_mixed_for_the_shower(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT HEATER("capacity 40 l; element 1200 W; setting 70 C"));
    const Figure *water = compiled_figure(&c, "boiler", FIGURE_SHOWER_WATER);
    assert_near(water->low, 0.0880 * 0.7, 1e-6);
    assert_near(water->high, 0.0880 * 0.8, 1e-6);
    assert_near(compiled_figure(&c, "boiler", FIGURE_SHOWERS)->high, 0.0880 * 0.8 / 0.021, 1e-4);
    compile_free(&c);
    compile_text(&c, BOAT HEATER("capacity 40 l; element 1200 W; setting 38 C"));
    assert_near(compiled_figure(&c, "boiler", FIGURE_SHOWERS)->high, 0.0, 0.0);
    compile_free(&c);
}

static void an_inverter_draws_more_from_the_bank_than_the_water_gets(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT
                 "bank house { chemistry agm; voltage 12 V; capacity 400 Ah }\n"
                 "inverter inv { fed-by house; rated 2000 W; output 230 V; efficiency 90 % }\n"
                 "panel ac { fed-by inv; rated 16 A }\n" HEATER("fed-by ac; capacity 40 l; element 1200 W"));
    assert_near(compiled_figure(&c, "boiler", FIGURE_HEAT_UP_ENERGY)->low / 3600.0, 2093.0 / 0.9, 0.5);
    compile_free(&c);
}

static void times_and_showers_over_ranges_hold_every_one_inside(void **state)
{
    (void)state;
    static const FigureId told[] = {FIGURE_HEAT_UP, FIGURE_HEAT_UP_ELEMENT, FIGURE_SHOWER_WATER,
                                    FIGURE_SHOWERS};
    static const char *const frame =
        "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis "
        "us; "
        "sea-temperature %s C }\n" ENGINE
        "water-heater boiler { capacity %s l; element %s W; exchanger 3 kW; engine main; setting %s C }\n";
    static const double from[] = {5, 20, 600, 45}, to[] = {28, 60, 1500, 75};
    char text[4][40], spec[700];
    uint64_t chance = 5;
    Compiled whole, one;
    for (int i = 0; i < 4; i++) {
        snprintf(text[i], sizeof text[i], "%g..%g", from[i], to[i]);
    }
    snprintf(spec, sizeof spec, frame, text[0], text[1], text[2], text[3]);
    compile_text(&whole, spec);
    for (int turn = 0; turn < 60; turn++) {
        for (int i = 0; i < 4; i++) {
            snprintf(text[i], sizeof text[i], "%.6g",
                     from[i] + (to[i] - from[i]) * random_below(&chance, 1001) / 1000.0);
        }
        snprintf(spec, sizeof spec, frame, text[0], text[1], text[2], text[3]);
        compile_text(&one, spec);
        for (size_t f = 0; f < sizeof told / sizeof told[0]; f++) {
            const Figure *wide = compiled_figure(&whole, "boiler", told[f]);
            const Figure *inside = compiled_figure(&one, "boiler", told[f]);
            assert_true(inside->low >= wide->low * (1.0 - 1e-9) && inside->high <= wide->high * (1.0 + 1e-9));
        }
        compile_free(&one);
    }
    compile_free(&whole);
}

/* Shore is there where the day says so: at anchor nothing heats what is showered away. */
static void an_element_without_mains_says_so(void **state)
{
    (void)state;
    static const char *const days[] = {"sun 3 h", "shore 10 h"};
    for (size_t i = 0; i < 2; i++) {
        char spec[1024];
        snprintf(spec, sizeof spec, BOAT "inlet shore { rated 16 A at 230 V }\nday away { %s; showers 1 per person }\n"
                                         HEATER("fed-by shore; run 1 m; capacity 30 l; element 1000 W"), days[i]);
        Compiled c;
        compile_text(&c, spec);
        const Figure *time = compiled_figure_at(&c, "boiler", FIGURE_ELEMENT_TIME, "away");
        assert_non_null(time);
        assert_true((time->remark != NULL) == (i == 0));
        compile_free(&c);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_element_without_mains_says_so),
        cmocka_unit_test(forty_litres_take_an_hour_and_three_quarters),
        cmocka_unit_test(element_and_engine_heat_together),
        cmocka_unit_test(hot_water_is_mixed_for_the_shower),
        cmocka_unit_test(an_inverter_draws_more_from_the_bank_than_the_water_gets),
        cmocka_unit_test(times_and_showers_over_ranges_hold_every_one_inside),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
