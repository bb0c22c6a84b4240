/*
 * Gas by the heat of what burns it. ISO 6976, second hand: propane 46.3 MJ/kg net to 50.4 gross, butane 45.5 to 49.6. Oracles are
 * worked by hand beside each test.
 */
#include "unit/verdict.h"

#define BOAT "edition 1\nboat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso; sails no }\n"
#define LOCKER(SAYS) BOAT "day anchored { }\nday under-way { }\nday said { gas 0.3 kg }\ngas-locker box { cylinder 5 kg; " SAYS " }\n"
#define ONE(SAYS) "gas-appliance cooker { locker box; " SAYS " }\n"
#define TWO(SAYS) "gas-appliance fridge { locker box; " SAYS " }\n"

/* In kg; of endurance in days. */
static void expect_figure(const char *spec, const char *subject, FigureId id, const char *day, double low, double high)
{
    Compiled c;
    compile_text(&c, spec);
    const Figure *figure = compiled_figure_at(&c, subject, id, day);
    assert_non_null(figure);
    assert_int_equal(figure->state, STATE_KNOWN);
    double unit = id == FIGURE_ENDURANCE ? 86400.0 : 1.0;
    assert_near(figure->low / unit, low, 1e-9 + low * 1e-9);
    assert_near(figure->high / unit, high, 1e-9 + high * 1e-9);
    compile_free(&c);
}

/* 2 kW x 3600 s = 7.2 MJ. */
static void heat_and_hours_burn_so_much_gas(void **state)
{
    (void)state;
    expect_figure(LOCKER("gas propane") ONE("heat-input 2 kW; use anchored 1 h"), "cooker", FIGURE_GAS_BURNED, "anchored", 7.2 / 50.4, 7.2 / 46.3);
    expect_figure(LOCKER("gas butane") ONE("heat-input 2 kW; use anchored 1 h"), "cooker", FIGURE_GAS_BURNED, "anchored", 7.2 / 49.6, 7.2 / 45.5);
    expect_figure(LOCKER("") ONE("heat-input 2 kW; use anchored 1 h"), "cooker", FIGURE_GAS_BURNED, "anchored", 7.2 / 50.4, 7.2 / 45.5);
    expect_figure(LOCKER("gas propane") ONE("heat-input 2 kW; heat-by gross; use anchored 1 h"), "cooker", FIGURE_GAS_BURNED, "anchored",
                  7.2 / 50.4, 7.2 / 50.4);
    expect_figure(LOCKER("") ONE("heat-input 2 kW; heat-by net; use anchored 1 h"), "cooker", FIGURE_GAS_BURNED, "anchored", 7.2 / 46.3,
                  7.2 / 45.5);
    expect_figure(LOCKER("") ONE("heat-input 150 g/h; use anchored 2 h"), "cooker", FIGURE_GAS_BURNED, "anchored", 0.3, 0.3);
    expect_figure(LOCKER("") ONE("heat-input 100 g/h; count 2; use anchored 25 %"), "cooker", FIGURE_GAS_BURNED, "anchored", 1.2, 1.2);
    expect_figure(LOCKER("") ONE("heat-input 100 g/h; use anchored 18:00..20:00; use anchored 1 h"), "cooker", FIGURE_GAS_BURNED,
                  "anchored", 0.3, 0.3);
    expect_figure(LOCKER("") ONE("heat-input 100 g/h; use anchored 1 h"), "cooker", FIGURE_GAS_BURNED, "under-way", 0.0, 0.0);
}

/* A burner is rated by what it burns; of what else gives heat nobody knows how much it burns for it. */
static void of_a_cooker_its_output_is_what_it_burns(void **state)
{
    (void)state;
    expect_figure(LOCKER("gas propane") ONE("works-as cooker; output 2 kW; use anchored 1 h"), "cooker", FIGURE_GAS_BURNED, "anchored",
                  7.2 / 50.4, 7.2 / 46.3);
    Compiled c;
    compile_text(&c, LOCKER("gas propane") ONE("works-as heater; output 2 kW; use anchored 1 h"));
    assert_int_equal(compiled_figure_at(&c, "cooker", FIGURE_GAS_BURNED, "anchored")->state, STATE_MISSING);
    assert_int_equal(compiled_figure_at(&c, "box", FIGURE_ENDURANCE, "anchored")->state, STATE_MISSING);
    compile_free(&c);
}

/* 0.1 and 0.4 kg a day of 5 kg are ten days; 0.3 kg of the day's own word 16 2/3. */
static void the_cylinders_last_by_what_all_of_them_burn(void **state)
{
    (void)state;
#define BOTH ONE("heat-input 100 g/h; use anchored 1 h; use under-way 1 h") TWO("heat-input 20 g/h; use anchored 20 h")
    expect_figure(LOCKER("") BOTH, "box", FIGURE_DAILY_GAS, "anchored", 0.5, 0.5);
    expect_figure(LOCKER("") BOTH, "box", FIGURE_ENDURANCE, "anchored", 10.0, 10.0);
    expect_figure(LOCKER("") BOTH, "box", FIGURE_ENDURANCE, "under-way", 50.0, 50.0);
    expect_figure(LOCKER("") BOTH, "box", FIGURE_ENDURANCE, "said", 5.0 / 0.3, 5.0 / 0.3);
    expect_figure(LOCKER("") BOTH "cruise trip { days 4 anchored, 1 said }\n", "box", FIGURE_CRUISE_LEFT, "trip", 2.7, 2.7);
    expect_verdict(LOCKER("") BOTH "goal quiet { endure 11 d on anchored }\n", "gas-short", BROKEN_AT_ONE, "box");
    expect_verdict(LOCKER("") BOTH "goal quiet { endure 10 d on anchored }\n", "gas-short", NOTHING, NULL);
    expect_verdict(LOCKER("gas propane") ONE("heat-input 2 kW; use anchored 1 h") "goal quiet { endure 34 d on anchored }\n", "gas-short",
                   OPEN_AT_ONE, "box");
    expect_verdict(LOCKER("") ONE("heat-input 2 kW; use anchored 1 h") "goal quiet { endure 34 d on anchored }\n", "gas-short", OPEN_AT_ONE,
                   "box");
}

/* What burns nothing on a day need not say how fast it burns on another: 0.1 kg of the cooker are all. */
static void on_a_day_without_use_no_rate_is_asked_for(void **state)
{
    (void)state;
#define SILENT ONE("heat-input 100 g/h; use anchored 1 h; use under-way 1 h") TWO("works-as refrigerator; use under-way 24 h")
    expect_figure(LOCKER("gas propane") SILENT, "fridge", FIGURE_GAS_BURNED, "anchored", 0.0, 0.0);
    expect_figure(LOCKER("gas propane") SILENT, "box", FIGURE_DAILY_GAS, "anchored", 0.1, 0.1);
    expect_figure(LOCKER("gas propane") SILENT, "box", FIGURE_ENDURANCE, "anchored", 50.0, 50.0);
    Compiled c;
    compile_text(&c, LOCKER("gas propane") SILENT);
    assert_int_equal(compiled_figure_at(&c, "box", FIGURE_DAILY_GAS, "under-way")->state, STATE_MISSING);
    compile_free(&c);
}

/* The cylinder that a goal asks for: 0.5 kg of ten days are 5 kg; of eleven the next size, 6 kg. */
static void a_cylinder_is_sized_by_what_burns(void **state)
{
    (void)state;
#define SIZED(DAYS) BOAT "day anchored { }\ngoal quiet { endure " DAYS " d on anchored }\ngas-locker box { cylinder ? }\n" \
    ONE("heat-input 100 g/h; use anchored 1 h") TWO("heat-input 20 g/h; use anchored 20 h")
    expect_figure(SIZED("10"), "box", FIGURE_GAS_HELD, NULL, 5.0, 5.0);
    expect_figure(SIZED("11"), "box", FIGURE_GAS_HELD, NULL, 6.0, 6.0);
}

/* Nothing that is said is passed over. */
static void what_counts_nothing_is_told(void **state)
{
    (void)state;
    expect_verdict(LOCKER("") ONE("heat-input 2 kW; use said 1 h"), "uncounted", BROKEN_AT_ONE, "cooker");
    expect_verdict(LOCKER("") ONE("heat-input 2 kW; use anchored 1 h") TWO("heat-input 0.3 kW"), "uncounted", BROKEN_AT_ONE, "fridge");
    expect_verdict(LOCKER("") ONE("heat-input 2 kW; use anchored 1 h"), "uncounted", NOTHING, NULL);
    expect_verdict(LOCKER("") ONE("heat-input 2 kW"), "uncounted", NOTHING, NULL);
}

/* 2200 mm2 for each kW, and 650 mm2 for each of two: 2 kW ask for 57 cm2. */
static void air_goes_by_the_heat_input_where_no_output_is_stated(void **state)
{
    (void)state;
#define IN(OPENINGS) BOAT "space galley { openings " OPENINGS " }\ngas-appliance cooker { space galley; works-as cooker; heat-input 2 kW }\n"
    expect_verdict(IN("56 cm2"), "flame-air", BROKEN_AT_ONE, "cooker");
    expect_verdict(IN("58 cm2"), "flame-air", NOTHING, NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(heat_and_hours_burn_so_much_gas),
        cmocka_unit_test(of_a_cooker_its_output_is_what_it_burns),
        cmocka_unit_test(the_cylinders_last_by_what_all_of_them_burn),
        cmocka_unit_test(on_a_day_without_use_no_rate_is_asked_for),
        cmocka_unit_test(a_cylinder_is_sized_by_what_burns),
        cmocka_unit_test(what_counts_nothing_is_told),
        cmocka_unit_test(air_goes_by_the_heat_input_where_no_output_is_stated),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
