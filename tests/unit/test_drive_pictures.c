/*
 * The pictures of power and fuel, and the tables of the chapter of drive: what is in them, when there are none, and
 * that everything stays on its page however much there is. What they look like was judged by eye.
 */
#define _XOPEN_SOURCE 700

#include "unit/test_pictures.h"

#include "figures/drive_curve.h"

#include <stdio.h>

#define BOAT                                                                                             \
    "edition 1\nboat wren \"Wren\" { length 10.4 m; waterline 9.6 m; beam 3.4 m; displacement 7400 kg; " \
    "crew 2; currency EUR; basis iso; sails no }\n"
#define GEAR "gearbox gear { engine diesel; ratio 2.6 }\n"
#define CHOICE                                                                                \
    "choice power { option lean { engine diesel { rated 28 kW at 3000 rpm; fuel diesel } }\n" \
    "  option stout { engine diesel { rated 40 kW at 3000 rpm; fuel diesel } } }\n"

static void an_option_is_a_line_in_the_picture_of_power(void **state)
{
    (void)state;
    Made made;
    make(&made,
         BOAT CHOICE GEAR "propeller screw { engine diesel; diameter 530 mm; pitch ? }\n"
                          "day out { distance 28 nmi at 6 kn }\ngoal reach { range 100 nmi at 6 kn }\n");
    const char *svg = text_of(&made, "img/drive-power.svg");
    expect_words(svg, (const char *const[]){"hull, second formula", "lean: propeller", "stout: propeller",
                                            ">28 kW, ", ">40 kW, ", "out, reach", "speed, kn",
                                            "power of the engine, kW", NULL});
    expect_on_page(svg);
    expect_words(text_of(&made, "book.md"),
                 (const char *const[]){"### Speeds", "### By option of power", "Pitch that fits",
                                       "img/drive-power.svg", "### Laying up for the winter", NULL});
    compile_free(&made.compiled);
}

/* The commonest loss of a winter is a battery that was left flat: common practice, no source. */
static void each_kind_of_battery_is_laid_up_in_its_way(void **state)
{
    (void)state;
    static const char *const chemistries[][2] = {{"flooded", "Flooded bank: "}, {"agm", "AGM or gel bank: "}, {"lifepo4", "Lithium bank: "}};
    for (size_t i = 0; i < 3; i++) {
        Made made;
        char spec[1024];
        snprintf(spec, sizeof spec, "%sbank house { chemistry %s; voltage 12 V; capacity 100 Ah }\nengine diesel { rated 20 kW at 3000 rpm; fuel diesel }\n",
                 BOAT, chemistries[i][0]);
        make(&made, spec);
        for (size_t other = 0; other < 3; other++) {
            assert_true((strstr(text_of(&made, "book.md"), chemistries[other][1]) != NULL) == (other == i));
        }
        compile_free(&made.compiled);
    }
}

/* A generator is an engine too: without antifreeze it cracks in the first frost (common practice, no source). */
static void a_generator_is_laid_up_like_an_engine(void **state)
{
    (void)state;
    Made made;
#define DIESEL_TANK "tank fuel { holds fuel; capacity 60 l }\n"
    make(&made, BOAT DIESEL_TANK "generator genset { rated 4 kW at 230 V; fuel diesel }\n");
    expect_words(text_of(&made, "book.md"), (const char *const[]){"### Laying up for the winter", "Generator: run it warm", NULL});
    assert_null(strstr(text_of(&made, "book.md"), "Generator that is carried"));
    compile_free(&made.compiled);
    make(&made, BOAT DIESEL_TANK "generator genset { rated 1 kW at 230 V; fuel petrol; portable yes }\n");
    expect_words(text_of(&made, "book.md"), (const char *const[]){"Generator that is carried", NULL});
    assert_null(strstr(text_of(&made, "book.md"), "Generator: run it warm"));
    compile_free(&made.compiled);
}

/* The formula that is named is the one that was used. */
static void a_hull_that_planes_names_its_own_formula(void **state)
{
    (void)state;
    Made made;
    make(&made, "edition 1\nboat teal { length 7 m; waterline 6.2 m; beam 2.5 m; displacement 1800 kg; crew 2; currency EUR; "
                "basis iso; sails no; hull planing }\n"
                "engine motor { rated 110 kW at 4000 rpm; fuel petrol; mounted sterndrive }\n"
                "gearbox gear { engine motor; ratio 2 }\n"
                "propeller screw { engine motor; diameter 380 mm; pitch ? }\nday out { distance 40 nmi at 20 kn }\n");
    const char *svg = text_of(&made, "img/drive-power.svg");
    const char *book = text_of(&made, "book.md");
    expect_words(svg, (const char *const[]){"Crouch", NULL});
    expect_words(book, (const char *const[]){"Crouch's formula for hulls that plane", "Leg: change its oil", NULL});
    assert_null(strstr(svg, "Skene"));
    assert_null(strstr(book, "differ by a quarter"));
    compile_free(&made.compiled);
}

/* The curve of the hull is that of the heaviest boat that she may be: the speed beside the engine's mark is hers. */
static void the_mark_of_the_engine_lies_on_the_curve_of_the_hull(void **state)
{
    (void)state;
    Made made;
    make(&made, "edition 1\nboat teal { length 7 m; waterline 6.2 m; beam 2.5 m; displacement 2000..3000 kg; crew 2; currency EUR; "
                "basis iso; sails no; hull planing }\n"
                "engine motor { rated 85 kW at 5500 rpm; fuel petrol; mounted outboard }\nday out { distance 40 nmi at 18 kn }\n");
    const Figure *full = compiled_figure(&made.compiled, "teal", FIGURE_FULL_SPEED);
    assert_true(full->high > full->low * 1.1);
    Buf text;
    buf_init(&text, &made.compiled.arena);
    buf_text(&text, "85 kW, ");
    unit_print(&text, (UnitPair){UNIT_KN, UNIT_NONE}, full->low, full->low);
    expect_words(text_of(&made, "img/drive-power.svg"), (const char *const[]){text.text, NULL});
    expect_words(text_of(&made, "book.md"), (const char *const[]){"with her constant `crouch`; at speeds too slow to plane", NULL});
    compile_free(&made.compiled);
}

/* What to heat with is undecided, and says nothing of the propeller; which engine is, does. */
static void a_curve_bears_the_options_that_change_it_alone(void **state)
{
    (void)state;
#define UNDECIDED(engine) "edition 1\nboat teal { length 9 m; waterline 8.2 m; beam 3 m; displacement 5000 kg; crew 2; currency EUR; basis iso }\n" \
                          engine "choice heat {\noption stove { item coal-stove { } }\noption blown { item air-heater { } }\n}\n"
    Made made;
    make(&made, UNDECIDED("engine motor { rated 20 kW at 3000 rpm; fuel diesel }\n"));
    const char *svg = text_of(&made, "img/drive-power.svg");
    expect_words(svg, (const char *const[]){"rated power of the engine", NULL});
    assert_null(strstr(svg, "stove"));
    assert_null(strstr(svg, "blown"));
    compile_free(&made.compiled);
    make(&made, UNDECIDED("choice power {\noption small { engine motor { rated 12 kW at 3000 rpm; fuel diesel } }\n"
                          "option large { engine motor { rated 30 kW at 3000 rpm; fuel diesel } }\n}\n"));
    svg = text_of(&made, "img/drive-power.svg");
    expect_words(svg, (const char *const[]){"small: rated power of the engine", "large: rated power of the engine", NULL});
    assert_null(strstr(svg, "stove"));
    compile_free(&made.compiled);
}

static void where_nothing_is_known_there_is_no_picture(void **state)
{
    (void)state;
    Made made;
    make(&made, "edition 1\nboat wren { length 9 m; beam 3 m; crew 2; currency EUR; basis iso }\n"
                "engine diesel { rated 28 kW at 3000 rpm; fuel diesel }\n");
    assert_null(text_of(&made, "img/drive-power.svg"));
    assert_null(text_of(&made, "img/drive-fuel.svg"));
    compile_free(&made.compiled);
    make(&made, BOAT);
    assert_null(text_of(&made, "img/drive-power.svg"));
    compile_free(&made.compiled);
}

static void fuel_is_drawn_with_what_sits_in_its_lines(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "engine diesel \"A diesel\" { rated 28 kW at 3000 rpm; fuel diesel }\n"
                     "tank port { holds fuel; capacity 100 l; vent 16 mm; fill 38 mm }\n"
                     "item manifold \"<Manifold>\" { }\n"
                     "fuel-line first { from port; to manifold; shut-off yes; grade A1 }\n"
                     "fuel-line second { from manifold; to diesel; separator yes; filter 10 um }\n"
                     "fuel-line back { from diesel; to port; return yes }\n");
    const char *svg = text_of(&made, "img/drive-fuel.svg");
    expect_words(svg, (const char *const[]){">port<", ">manifold<", "&lt;Manifold&gt;", ">diesel<",
                                            "28 kW at 3000 rpm", "vent 16 mm, fill 38 mm", "first: A1",
                                            "second: 10 um", ">back<", ">W<", ">F<", NULL});
    expect_on_page(svg);
    compile_free(&made.compiled);
}

/*
 * No two lines lie on one another; a line to a thing further left leaves on that side, with its words where it ends; and a valve
 * at the engine is drawn there.
 */
static void which_fuel_goes_where_can_be_told(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "engine left { rated 28 kW at 3000 rpm; fuel diesel }\nengine right { rated 28 kW at 3000 rpm; fuel diesel }\n"
                     "tank main-tank { holds fuel; capacity 100 l; vent 16 mm; fill 38 mm }\n"
                     "tank day-tank { holds fuel; capacity 20 l; vent 16 mm }\nitem transfer { }\n"
                     "fuel-line lift { from main-tank; to transfer }\nfuel-line fill-day { from transfer; to day-tank }\n"
                     "fuel-line feed-left { from main-tank; to left; engine-shut-off yes }\n"
                     "fuel-line feed-right { from main-tank; to right }\n"
                     "fuel-line back-left { from left; to day-tank; return yes }\n"
                     "fuel-line back-right { from right; to day-tank; return yes }\n");
    const char *svg = text_of(&made, "img/drive-fuel.svg");
    double lanes[16];
    int count = 0;
    for (const char *at = strstr(svg, "<polyline points=\""); at != NULL && count < 16; at = strstr(at + 1, "<polyline points=\"")) {
        double x[6] = {0}, y[6] = {0};
        int read = sscanf(at, "<polyline points=\"%lf,%lf %lf,%lf %lf,%lf %lf,%lf %lf,%lf %lf,%lf", &x[0], &y[0], &x[1], &y[1], &x[2],
                          &y[2], &x[3], &y[3], &x[4], &y[4], &x[5], &y[5]);
        lanes[count] = read == 12 ? y[2] : y[0];
        for (int i = 0; i < count; i++) {
            assert_true(lanes[i] > lanes[count] + 0.2 || lanes[i] < lanes[count] - 0.2);
        }
        count++;
    }
    assert_int_equal(count, 6);
    assert_non_null(strstr(svg, "<polygon points=\"217,")); /* at the left of the engine's box, which begins at 228 */
    const char *words = strstr(svg, ">fill-day<");
    assert_non_null(words);
    while (*words != '<') {
        words--;
    }
    assert_memory_equal(words, "<text x=\"71\"", 12); /* at the right of the tank's box, which ends at 69 */
    compile_free(&made.compiled);
}

/* Petrol goes stale, swells and wants no biocide; diesel is filled up. A can without a line is shown as what it is. */
static void each_tank_is_drawn_and_laid_up_by_its_own_fuel(void **state)
{
    (void)state;
    Made made;
#define PETROL_BOAT                                                                                                   \
    BOAT "engine hung { rated 60 kW at 5500 rpm; fuel petrol; mounted outboard }\n"                                   \
         "tank main-tank { holds fuel; capacity 100 l }\nfuel-line feed { from main-tank; to hung }\n"
    make(&made, PETROL_BOAT);
    const char *book = text_of(&made, "book.md");
    expect_words(book, (const char *const[]){"Petrol tank: petrol goes stale", "no biocide: that is for diesel", NULL});
    assert_null(strstr(book, "add a biocide"));
    assert_null(strstr(book, "Diesel tank"));
    assert_null(strstr(book, "Cans of fuel"));
    assert_null(strstr(text_of(&made, "img/drive-fuel.svg"), "joined to nothing"));
    compile_free(&made.compiled);

    make(&made, PETROL_BOAT "heater stove { output 2 kW; fuel-rate 0.24 l/h }\ntank heater-tank { holds fuel; capacity 10 l }\n"
                            "fuel-line pipe { from heater-tank; to stove }\ntank can { holds fuel; capacity 20 l; portable yes }\n");
    book = text_of(&made, "book.md");
    const char *svg = text_of(&made, "img/drive-fuel.svg");
    expect_words(book, (const char *const[]){"Diesel tank: fill it", "Petrol tank: petrol goes stale", "Cans of fuel: carry", NULL});
    expect_words(svg, (const char *const[]){">100 l, petrol<", ">10 l, diesel<", ">20 l, petrol<", ">joined to nothing<",
                                            ">60 kW at 5500 rpm, petrol<", ">0.24 l/h, diesel<", NULL});
    expect_on_page(svg);
    compile_free(&made.compiled);
}

/* Thirty tanks: what has no room is counted, and nothing leaves the page. */
static void more_than_a_page_holds_is_counted(void **state)
{
    static char text[16384];
    (void)state;
    size_t length = (size_t)snprintf(text, sizeof text, "%s",
                                     BOAT "engine diesel { rated 28 kW at 3000 rpm; fuel diesel }\n");
    for (int i = 0; i < 30; i++) {
        length += (size_t)snprintf(text + length, sizeof text - length,
                                   "tank t%d-fuel { holds fuel; capacity 10 l }\n"
                                   "fuel-line l%d-feed { from t%d-fuel; to diesel }\n",
                                   i, i, i);
    }
    Made made;
    make(&made, text);
    const char *svg = text_of(&made, "img/drive-fuel.svg");
    expect_words(svg, (const char *const[]){"more lines found no room", NULL});
    expect_on_page(svg);
    compile_free(&made.compiled);
}

/* The curves are the figures at more speeds: at those that the spec speaks of they must agree. */
static void curves_agree_with_the_figures(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "engine diesel { rated 28 kW at 3000 rpm; fuel diesel }\n" GEAR
                          "propeller screw { engine diesel; diameter 530 mm; pitch ? }\n"
                          "day out { distance 28 nmi at 6 kn }\n");
    const Case *in = outcome_first(c.outcome);
    const Entity *engine = model_find(in->model, STR("diesel"));
    const Entity *screw = model_find(in->model, STR("screw"));
    DriveCurve curve;
    double speed = 6.0 * 1852.0 / 3600.0;
    assert_true(drive_hull_curve(in->figures, engine, false, speed, &curve));
    double needed = compiled_figure_at(&c, "diesel", FIGURE_NEEDED_POWER, "out")->low;
    assert_near(curve.power[DRIVE_CURVE_POINTS - 1], needed, needed * 1e-9);
    assert_true(drive_hull_curve(in->figures, engine, true, speed, &curve));
    needed = compiled_figure_at(&c, "diesel", FIGURE_NEEDED_POWER_LOW, "out")->low;
    assert_near(curve.power[DRIVE_CURVE_POINTS - 1], needed, needed * 1e-9);
    speed = compiled_figure_at(&c, "wren", FIGURE_FULL_SPEED, NULL)->low;
    assert_true(drive_propeller_curve(in->figures, screw, speed, &curve));
    assert_near(curve.power[DRIVE_CURVE_POINTS - 1], 28e3, 0.1);
    compile_free(&c);
}

/* A surveyor of a boat with petrol looks for it first: the picture says that what is not drawn may be missing. */
static void what_keeps_fuel_from_siphoning_is_drawn(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "engine outboard { rated 10 kW at 5000 rpm; fuel petrol; mounted outboard }\ntank can { holds fuel; capacity 50 l }\n"
                     "fuel-line feed { from can; to outboard; shut-off yes; separator yes; filter 10 um; anti-siphon yes }\n");
    const char *svg = text_of(&made, "img/drive-fuel.svg");
    assert_non_null(strstr(svg, ">S</text>"));
    assert_non_null(strstr(svg, ">keeps it from siphoning</text>"));
    compile_free(&made.compiled);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_option_is_a_line_in_the_picture_of_power),
        cmocka_unit_test(a_generator_is_laid_up_like_an_engine),
        cmocka_unit_test(each_kind_of_battery_is_laid_up_in_its_way),
        cmocka_unit_test(a_hull_that_planes_names_its_own_formula),
        cmocka_unit_test(the_mark_of_the_engine_lies_on_the_curve_of_the_hull),
        cmocka_unit_test(a_curve_bears_the_options_that_change_it_alone),
        cmocka_unit_test(where_nothing_is_known_there_is_no_picture),
        cmocka_unit_test(fuel_is_drawn_with_what_sits_in_its_lines),
        cmocka_unit_test(which_fuel_goes_where_can_be_told),
        cmocka_unit_test(each_tank_is_drawn_and_laid_up_by_its_own_fuel),
        cmocka_unit_test(more_than_a_page_holds_is_counted),
        cmocka_unit_test(curves_agree_with_the_figures),
        cmocka_unit_test(what_keeps_fuel_from_siphoning_is_drawn),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
