/*
 * Flames that burn spirit, paraffin or diesel: the air that they take, the pan under what is primed, and how long what they burn
 * lasts. Oracles are worked by hand beside each test.
 */
#include "unit/verdict.h"

#include <stdio.h>

#define BOAT "edition 1\nboat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis us; sails no }\nday quiet { }\n"
#define LIT(SPACE, SAYS) BOAT "space galley { " SPACE " }\nburner hob { space galley; " SAYS " }\n"

/* 3 kW x 2200 mm2 and two people x 650 mm2 are 79 cm2; with a flue 3 x 550 and the two are 29.5 cm2. */
static void a_burner_asks_for_the_air_of_a_flame_without_a_flue(void **state)
{
    (void)state;
    expect_verdict(LIT("openings 78 cm2", "fuel spirit; output 3 kW"), "flame-air", BROKEN_AT_ONE, "hob");
    expect_verdict(LIT("openings 80 cm2", "fuel spirit; output 3 kW"), "flame-air", NOTHING, NULL);
    expect_verdict(LIT("openings 29 cm2", "fuel diesel; output 3 kW; flued yes"), "flame-air", BROKEN_AT_ONE, "hob");
    expect_verdict(LIT("openings 30 cm2", "fuel diesel; output 3 kW; flued yes"), "flame-air", NOTHING, NULL);
    expect_verdict(LIT("wet yes", "fuel paraffin"), "flame-air", OPEN_AT_ONE, "hob");
    expect_verdict(LIT("open-air yes", "fuel paraffin"), "flame-air", NOTHING, NULL);
    expect_verdict(LIT("ventilated no", "fuel paraffin"), "flame-air", BROKEN_AT_ONE, "hob");
    expect_verdict(BOAT "burner lamp { fuel paraffin }\n", "flame-air", OPEN_AT_ONE, "lamp");
    /* a stove beside it adds to what one finding asks: 2 kW x 550 mm2 more, 90 cm2 */
#define STOVE "heater stove { fuel wood; output 2 kW; space galley; portable yes }\n"
    expect_verdict(LIT("openings 89 cm2", "fuel spirit; output 3 kW") STOVE, "flame-air", BROKEN_AT_ONE, "hob");
    expect_verdict(LIT("openings 91 cm2", "fuel spirit; output 3 kW") STOVE, "flame-air", NOTHING, NULL);
}

/* 46 CFR 25.45-1: at least 3/4 in. */
static void what_is_primed_stands_in_a_pan(void **state)
{
    (void)state;
    expect_verdict(LIT("wet yes", "fuel spirit; primed yes; pan 18 mm"), "flame-pan", BROKEN_AT_ONE, "hob");
    expect_verdict(LIT("wet yes", "fuel spirit; primed yes; pan 3/4 in"), "flame-pan", NOTHING, NULL);
    expect_verdict(LIT("wet yes", "fuel spirit; primed yes"), "flame-pan", OPEN_AT_ONE, "hob");
    expect_verdict(LIT("wet yes", "fuel spirit; primed yes; pan 15..20 mm"), "flame-pan", OPEN_AT_ONE, "hob");
    expect_verdict(LIT("wet yes", "fuel spirit"), "flame-pan", OPEN_AT_ONE, "hob");
    expect_verdict(LIT("wet yes", "fuel spirit; pan 18 mm"), "flame-pan", OPEN_AT_ONE, "hob");
    expect_verdict(LIT("wet yes", "fuel spirit; pan 20 mm"), "flame-pan", NOTHING, NULL);
    expect_verdict(LIT("wet yes", "fuel spirit; primed no"), "flame-pan", NOTHING, NULL);
}

/* Nobody asks such a flame for what belongs to gas, and it needs neither a tank nor a feed. */
static void no_rule_of_gas_or_petrol_asks_after_spirit(void **state)
{
    static const char *const silent[] = {"gas-locker", "gas-drain", "gas-flame",  "petrol-blower", "petrol-cabin", "petrol-said",
                                         "spark",      "which-fuel", "wrong-fuel", "unpowered",     "fuel-tank"};
    (void)state;
    for (size_t i = 0; i < sizeof silent / sizeof silent[0]; i++) {
        expect_verdict(LIT("wet yes", "fuel spirit; output 3 kW; fuel-rate 0.6 l/h; use quiet 1 h") "engine main { rated 10 kW at 3000 rpm; fuel diesel }\n"
                       "tank diesel { holds fuel; fuel diesel; capacity 40 l; vent 16 mm; fill 38 mm; grounded yes }\n"
                       "tank bottle { holds fuel; fuel spirit; capacity 5 l; portable yes }\n",
                       silent[i], NOTHING, NULL);
    }
}

/* It burns in the cabin: carbon monoxide and fire. */
static void alarms_and_extinguishers_count_it(void **state)
{
    (void)state;
    expect_verdict(LIT("sleeping no", "fuel spirit"), "alarm-missing", OPEN_AT_ONE, "galley");
    expect_verdict(LIT("wet yes", "fuel spirit"), "alarm-missing", OPEN_AT_ONE, "galley");
    expect_verdict(LIT("sleeping no", "fuel spirit"), "extinguisher-missing", OPEN_AT_ONE, "wren");
    expect_verdict(LIT("petrol yes", "fuel spirit"), "spark", BROKEN_AT_ONE, "hob");
}

/* 0.5 l/h for an hour a day out of 90 % of 10 l: 18 days; full it holds 10 l of 810 kg/m3. The diesel tank lasts for ever. */
static void a_tank_of_its_fuel_lasts_so_long(void **state)
{
    Compiled c;
    (void)state;
    compile_text(&c, LIT("wet yes", "fuel spirit; output 2 kW; fuel-rate 0.5 l/h; use quiet 1 h")
                 "tank bottle { holds fuel; fuel spirit; capacity 10 l; portable yes }\n"
                 "tank diesel { holds fuel; fuel diesel; capacity 40 l }\nheater stove { fuel diesel; fuel-rate 0 l/h }\n");
    assert_null(c.spec->messages.first);
    const Figure *lasts = compiled_figure_at(&c, "bottle", FIGURE_ENDURANCE, "quiet");
    assert_near(lasts->low, 18.0 * 86400.0, 1e-3);
    assert_near(lasts->high, 18.0 * 86400.0, 1e-3);
    assert_near(compiled_figure(&c, "bottle", FIGURE_FULL_MASS)->low, 8.1, 1e-9);
    /* 2 kW of 0.5 l/h x 0.81 kg/l x 25 MJ/kg */
    assert_near(compiled_figure(&c, "hob", FIGURE_HEAT_SHARE)->low, 2000.0 / (0.5e-3 / 3600.0 * 810.0 * 25e6), 1e-9);
    compile_free(&c);
    expect_verdict(LIT("wet yes", "fuel spirit; output 3 kW; fuel-rate 0.5 l/h"), "heat-odd", BROKEN_AT_ONE, "hob");
}

static void a_line_of_another_fuel_is_crossed(void **state)
{
    (void)state;
#define FED(FUEL) LIT("wet yes", "fuel " FUEL) "tank can { holds fuel; fuel paraffin; capacity 10 l }\nfuel-line feed { from can; to hob; grade B1 }\n"
    expect_verdict(FED("diesel"), "wrong-fuel", BROKEN_AT_ONE, "hob");
    expect_verdict(FED("paraffin"), "wrong-fuel", NOTHING, NULL);
    /* of a boat with a petrol engine within her hull a line of paraffin is none of petrol */
#define PETROL "engine main { rated 10 kW at 3000 rpm; fuel petrol; space engine-room }\nspace engine-room { }\n"
    expect_verdict(FED("paraffin") PETROL "tank main-tank { holds fuel; fuel petrol; capacity 40 l }\n", "fuel-hose", NOTHING, NULL);
}

/* 4 kW for 3 h are 43.2 MJ; 840 kg/m3 x 42.8 MJ/kg x 80 % are 28.76 MJ/l: 1.502 l (from memory; the share is no source's). */
static void a_heater_that_does_not_say_what_it_burns_is_in_the_days_fuel(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, EXAMPLE_BOAT "heater hh { output 4 kW; fuel diesel; use anchored 3 h }\n"
                                  "tank dt { holds fuel; fuel diesel; capacity 40 l }\nday anchored { water 12 l per person }\n");
    assert_null(c.spec->messages.first);
    const Figure *flow = compiled_figure_at(&c, "dt", FIGURE_DAILY_FLOW, "anchored");
    assert_near(flow->low * 1000.0, 1.502, 1e-3);
    compile_free(&c);
}

int main(void)
{
    static const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_burner_asks_for_the_air_of_a_flame_without_a_flue),
        cmocka_unit_test(what_is_primed_stands_in_a_pan),
        cmocka_unit_test(no_rule_of_gas_or_petrol_asks_after_spirit),
        cmocka_unit_test(alarms_and_extinguishers_count_it),
        cmocka_unit_test(a_tank_of_its_fuel_lasts_so_long),
        cmocka_unit_test(a_heater_that_does_not_say_what_it_burns_is_in_the_days_fuel),
        cmocka_unit_test(a_line_of_another_fuel_is_crossed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
