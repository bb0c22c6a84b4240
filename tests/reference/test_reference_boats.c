/*
 * Worked examples as whole specs: that the published formulas get the numbers that the owner states, in whatever units, and
 * nothing else. What is expected was computed apart from this program, from the formula and source named beside it.
 */
#include "reference/table.h"
#include "compile.h"

#include <string.h>

#define KNOT (1852.0 / 3600.0)
#define FOOT 0.3048
#define POUND 0.45359237
#define LITRE_PER_H (1e-3 / 3600.0)

static double value_of(const Compiled *c, const char *subject, FigureId id, const char *at)
{
    const Figure *figure = compiled_figure_at(c, subject, id, at);
    if (figure == NULL || figure->state != STATE_KNOWN || figure->low != figure->high) {
        fail_msg("%s has no one %s", subject, figure_rows[id].name);
    }
    return figure->low;
}

static void compile_clean(Compiled *c, const char *text)
{
    compile_text(c, text);
    if (c->spec->messages.first != NULL) {
        fail_msg("a mistake: %s", c->spec->messages.first->text);
    }
}

/*
 * The boat of 26 455 lb on 34 ft that the formulas of the Propeller Handbook (2-1, 2-3) and of Skene's Elements of Yacht
 * Design are worked with elsewhere: 37.73 and 28.0 shp at 7 kn, a speed-length ratio of at most 1.401; behind a gearbox of
 * 100 % and a bearing of 98.5 %. At 220 g/kWh and 840 g/l that burns 7.481 l/h; 288 l of 400 last for 269.5 nmi, with a tenth
 * left in the tank and a fifth kept. Propeller law: 60 kW at 3000 rpm give 28.56 kW at 2342 rpm.
 */
static void a_displacement_boat(void **state)
{
    Compiled c;
    (void)state;
    compile_clean(&c, "edition 1\nboat wren { length 12 m; waterline 34 ft; beam 3.4 m; displacement 26455 lb; crew 2; currency "
                      "EUR; basis iso; sails no }\nengine motor { rated 60 kW at 3000 rpm; fuel diesel; specific 220 g/kWh }\n"
                      "gearbox gear { engine motor; ratio 2; efficiency 100 % }\nday out { distance 28 nmi at 7 kn }\n"
                      "tank fuel { holds fuel; capacity 400 l }\n");
    assert_within(value_of(&c, "motor", FIGURE_NEEDED_POWER, "out"), 37.73 * 745.7 / 0.985, 0.0005);
    assert_within(value_of(&c, "motor", FIGURE_NEEDED_POWER_LOW, "out"), 21089.0, 0.0005);
    assert_within(value_of(&c, "wren", FIGURE_SPEED_LIMIT, NULL) / KNOT / sqrt(34.0), 1.401, 0.001);
    assert_within(value_of(&c, "motor", FIGURE_FUEL_RATE, "out") / LITRE_PER_H, 7.481, 0.0005);
    assert_within(value_of(&c, "wren", FIGURE_RANGE, "out") / 1852.0, 269.5, 0.0005);
    assert_within(value_of(&c, "motor", FIGURE_TURNS, "out") * 60.0, 2342.5, 0.0005);
    compile_free(&c);
}

/*
 * 30 kW at 3000 rpm through 2.6 to one, 0.508 m, P/D matched over the polynomials of the B-series from an independent
 * table: she makes 7.937 kn by formula 2-1, J 0.3344, KQ 0.018307: pitch 338.0 mm, efficiency 0.4659, 4046 N; 330 mm of pitch
 * take 94.6 %, and fit a diameter of 516.6 mm. Keller (k 0.2, 0.6 m deep): 0.5265. Shaft of naval brass (20 000 psi, safety 3)
 * by the US form (321 000 SHP SF / (St rpm))^(1/3): 29.63 mm.
 */
static void an_engine_and_its_propeller(void **state)
{
    Compiled c;
    (void)state;
    compile_clean(&c, "edition 1\nboat wren { length 10.4 m; waterline 9.6 m; beam 3.4 m; displacement 7400 kg; crew 2; currency "
                      "EUR; basis iso; sails no }\nengine motor { rated 30 kW at 3000 rpm; fuel diesel }\n"
                      "gearbox gear { engine motor; ratio 2.6 }\n"
                      "propeller screw { engine motor; diameter 508 mm; pitch 330 mm; wake 0.2; at 9 m 0 m -0.6 m; "
                      "shaft-material naval-brass; aperture 60 mm }\n");
    assert_within(value_of(&c, "wren", FIGURE_FULL_SPEED, NULL), 4.0831, 0.0002);
    assert_within(value_of(&c, "screw", FIGURE_MATCHED_PITCH, NULL), 0.33803, 0.0002);
    assert_within(value_of(&c, "screw", FIGURE_PROPELLER_EFFICIENCY, NULL), 0.46589, 0.0002);
    assert_within(value_of(&c, "screw", FIGURE_THRUST, NULL), 4045.98, 0.0002);
    assert_within(value_of(&c, "screw", FIGURE_PROPELLER_LOAD, NULL), 0.94615, 0.0002);
    assert_within(value_of(&c, "screw", FIGURE_MATCHED_DIAMETER, NULL), 0.51658, 0.0002);
    assert_within(value_of(&c, "screw", FIGURE_LEAST_AREA_RATIO, NULL), 0.52646, 0.0005);
    assert_within(value_of(&c, "screw", FIGURE_SHAFT_DIAMETER, NULL) * 1000.0, 29.63, 0.0005);
    assert_within(value_of(&c, "screw", FIGURE_TIP_GAP, NULL), 60.0 / 508.0, 1e-9);
    compile_free(&c);
}

/*
 * Around an engine of 40 kW: gas of 6.5 kg/kWh at 450 C is 0.14813 m3/s; 6.32 L Q^2 / (D^5 T), L 3 m and four bends of 15
 * bores, twice that for a wet one, and 0.5 m of sea water: 7.470 kPa. 104 cm2 (handbook, 2.6 cm2/kW), 134.1 cfm, 36 l/min.
 */
static void what_an_engine_asks_for(void **state)
{
    Compiled c;
    (void)state;
    compile_clean(&c, "edition 1\nboat wren { length 10.4 m; waterline 9.6 m; beam 3.4 m; displacement 7400 kg; crew 2; currency "
                      "EUR; basis iso }\nengine motor { rated 40 kW at 3000 rpm; fuel diesel; exhaust pipe }\n"
                      "exhaust pipe { bore 64 mm; run 3 m; bends 4; lift 0.5 m }\n");
    assert_within(value_of(&c, "pipe", FIGURE_BACK_PRESSURE, NULL), 7469.7, 0.0005);
    assert_within(value_of(&c, "motor", FIGURE_AIR_OPENING, NULL), 0.0104, 0.0001);
    assert_within(value_of(&c, "motor", FIGURE_AIR_FLOW, NULL) / 0.000471947443, 134.1, 0.0005);
    assert_within(value_of(&c, "motor", FIGURE_RAW_WATER_NEED, NULL) * 60e3, 36.0, 0.0001);
    compile_free(&c);
}

/*
 * The thruster of the catalogue's example (424 N, see test_reference_drive.c) on 95 mm2: IEC 60228 class 5, tinned, 0.210
 * ohm/km at 20 C, so 0.2348 at 50 C: 5 m there and back lose 0.587 V of 250 A, a bank of 3 mohm 0.750 V: 10.663 V are left.
 */
static void a_thruster_at_the_end_of_its_cable(void **state)
{
    Compiled c;
    (void)state;
    compile_clean(&c, "edition 1\nboat wren { length 11 m; beam 3.4 m; displacement 7000 kg; windage 18 m2; crew 2; currency EUR; "
                      "basis iso }\nbank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n"
                      "thruster bow { fed-by house; run 5 m; wire 95 mm2; protect 300 A fuse 0.1 m from source; draw 250 A; "
                      "thrust 500 N; at 0.5 m 0 m -0.4 m; longest-burst 2 min }\n");
    assert_within(value_of(&c, "bow", FIGURE_WIND_THRUST, NULL), 4455.0 / 10.5, 1e-9);
    assert_within(value_of(&c, "bow", FIGURE_BURST_VOLTAGE, NULL), 10.663, 0.0001);
    compile_free(&c);
}

/*
 * Trim, by the formulas of Derrett and Barrass: a waterplane whose half breadth is B/2 (1 - |2x/L|^m), m = Cw / (1 - Cw), has
 * CI_L = (1/3 - 1/(m + 3)) / 4: of 9 m by 3 m and 0.7, I = 79.73 m4, and MCT 1 cm = 1025 kg/m3 x I / (100 x 9 m) = 90.81 kg m
 * (with a regression of CI_L, from memory, 84.7). 300 kg moved 2.5 m aft of 6000 kg: tan = 750 kg m / (1025 I) = 0.0091770.
 * Slack water in a tank 1.2 m long and 1.5 m broad takes 1000 x 1.2 x 1.5^3 / 12 / 6000 = 0.05625 m of her metacentric height.
 */
static void weights_that_move(void **state)
{
#define AFLOAT                                                                                                            \
    "edition 1\nboat wren { length 10 m; waterline 9 m; beam 3 m; displacement 6000 kg; waterplane 0.7; gm 1 m; crew 2; " \
    "currency EUR; basis iso; buoyancy 5 m }\n"
    Compiled c;
    (void)state;
    compile_clean(&c, AFLOAT "item ballast { mass 300 kg; at 5.5 m 0 m 0 m }\n");
    double forward = value_of(&c, "wren", FIGURE_TRIM, NULL);
    assert_within(value_of(&c, "wren", FIGURE_TRIM_MOMENT, NULL) / 100.0, 90.81, 0.0005);
    compile_free(&c);
    compile_clean(&c, AFLOAT "item ballast { mass 300 kg; at 8 m 0 m 0 m }\n");
    assert_within(tan(value_of(&c, "wren", FIGURE_TRIM, NULL)) - tan(forward), 0.0091770, 0.001);
    compile_free(&c);
    compile_clean(&c, AFLOAT "tank tub { holds fresh; size 1.2 m by 1.5 m by 0.4 m; fill-level 50 %; at 5 m 0 m 0 m }\n");
    assert_within(value_of(&c, "wren", FIGURE_SLACK_LOSS, NULL), 0.05625, 0.001);
    compile_free(&c);
}

/*
 * 12 l/min through 10 m of smooth 13 mm hose and an open globe valve (K 10, Munson et al., table 8.2): 1.5068 m/s, Re 17 204,
 * f 0.02836 by Colebrook: (f L/D + 10) v^2/2 = 0.3609 bar of water of 15 C, 0.2475 of it in the hose. The vessel of 0.2 l by
 * Boyle's law, as a magazine of well builders works its example: from 2.8 to 1.4 bar and pre-charged to 2 psi below it gives
 * 0.0692 l, and half of 11 l/min x (1 - 2.1/3.5) empties it 953.3 times an hour: with hoses or without a word of them.
 */
static void a_tap_and_a_small_accumulator(void **state)
{
    static const char boat[] =
        "edition 1\nboat wren { length 10 m; beam 3 m; displacement 6000 kg; crew 2; currency EUR; basis us "
        "}\n"
        "tank fresh { holds fresh; capacity 200 l }\nthrough-hull drain { bore 38 mm; height 0.3 m }\n"
        "pump pump { from fresh; portable yes; flow 11 l/min; pressure 2.8 bar; cut-in 1.4 bar; shut-off 3.5 "
        "bar; "
        "accumulator 0.2 l }\n%s";
    static const char *const led[] = {
        "",
        "item tee\nhose delivery { from pump; to tee; bore 13 mm; run 1 m }\n",
        "fixture tap { flow 12 l/min; drains-to drain }\nhose delivery { from pump; to tap; bore 13 mm; run "
        "10 m; bends 0 }\n"
        "hose suction { from fresh; to pump; bore 19 mm; run 1 m }\n",
        "hose delivery { from pump; to drain; bore 13 mm; run 1 m }\n",
    };
    (void)state;
    for (size_t i = 0; i < sizeof led / sizeof led[0]; i++) {
        char text[1200];
        Compiled c;
        snprintf(text, sizeof text, boat, led[i]);
        compile_clean(&c, text);
        if (i < 3) {
            assert_within(value_of(&c, "pump", FIGURE_STARTS, NULL), 953.3, 0.0002);
        } else {
            assert_null(compiled_figure_at(&c, "pump", FIGURE_STARTS, NULL)); /* it fills no tap */
        }
        if (i == 2) {
            assert_within(value_of(&c, "tap", FIGURE_PRESSURE_LOSS, NULL), 0.3609e5, 0.001);
        }
        compile_free(&c);
    }
}

/* Whole specs with the numbers of published tables and worked examples, each with its source in the table. */
static void published_examples_as_whole_specs(void **state)
{
    Table table;
    (void)state;
    table_load(&table, "published.tsv");
    assert_int_equal(table.row_count, 20);
    for (size_t i = 0; i < table.row_count; i++) {
        char spec[800];
        snprintf(spec, sizeof spec, "%s\n", table_text(&table, i, "spec"));
        for (char *bar = strchr(spec, '|'); bar != NULL; bar = strchr(bar, '|')) {
            *bar = '\n';
        }
        Compiled c;
        compile_clean(&c, spec);
        const char *day = table_has(&table, i, "day") ? table_text(&table, i, "day") : NULL;
        double value = value_of(&c, table_text(&table, i, "thing"), figure_id(str_from(table_text(&table, i, "figure"))), day);
        assert_row_near(&table, i, value * table_number(&table, i, "times"), table_number(&table, i, "published"),
                        table_number(&table, i, "within"));
        compile_free(&c);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(published_examples_as_whole_specs),
        cmocka_unit_test(a_displacement_boat),     cmocka_unit_test(an_engine_and_its_propeller),
        cmocka_unit_test(what_an_engine_asks_for), cmocka_unit_test(a_thruster_at_the_end_of_its_cable),
        cmocka_unit_test(weights_that_move),       cmocka_unit_test(a_tap_and_a_small_accumulator),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
