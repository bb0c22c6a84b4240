/*
 * What several things share, or one thing that is counted: the rules look at all of them together.
 */
#include "check.h"
#include "compile.h"
#include "unit/verdict.h"

#define BOAT                                                                                            \
    "edition 1\nboat wren { length 9.6 m; waterline 8.4 m; beam 3 m; displacement 4800 kg; crew 2; " \
    "currency EUR; basis iso; sails yes; waters offshore }\n"

/* ---- engines that share an exhaust and an intake ---- */

#define PIPE "exhaust ex { bore 64 mm; run 3 m; bends 3; lift 0.5 m; riser-above-waterline 0.4 m }\n"
#define INTAKE(serves)                                                                                                        \
    "through-hull intake { bore 19 mm; height -0.3 m; seacock yes; reach yes; material bronze; backing yes; serves " serves " }\n" \
    "item tee {}\nhose c1 { from intake; to tee; bore 19 mm; run 1 m; clamps 2; grade raw-water }\n"                           \
    "hose c2 { from tee; to port; bore 19 mm; run 1 m; grade raw-water }\nstrainer st { on c1; bore 19 mm }\n"
#define ENGINE(name, says) "engine " name " { rated " says " at 3000 rpm; fuel diesel; exhaust ex; raw-water 90 l/min }\n"
#define BOTH                                                                      \
    BOAT ENGINE("port", "45 kW") ENGINE("stbd", "45 kW") PIPE INTAKE("port, stbd") \
        "hose c3 { from tee; to stbd; bore 19 mm; run 1 m; grade raw-water }\n"
#define ONE BOAT ENGINE("port", "90 kW") PIPE INTAKE("port")

/* Two of 45 kW blow out what one of 90 kW does: the same formula, with twice the gas. */
static void an_exhaust_takes_the_gas_of_all_that_blow_into_it(void **state)
{
    (void)state;
    Compiled one, both, counted;
    compile_text(&one, ONE);
    compile_text(&both, BOTH);
    compile_text(&counted, BOAT "engine port { rated 45 kW at 3000 rpm; fuel diesel; exhaust ex; count 2 }\n" PIPE);
    double alone = compiled_figure(&one, "ex", FIGURE_BACK_PRESSURE)->high;
    assert_near(compiled_figure(&both, "ex", FIGURE_BACK_PRESSURE)->high, alone, 1e-6);
    assert_near(compiled_figure(&counted, "ex", FIGURE_BACK_PRESSURE)->high, alone, 1e-6);
    compile_free(&one);
    compile_free(&both);
    compile_free(&counted);
    expect_verdict(BOTH, "exhaust-back", BROKEN_AT_ONE, "ex");
    expect_verdict(BOTH, "exhaust-riser", BROKEN_AT_ONE, "ex");
    expect_verdict(ONE, "exhaust-riser", NOTHING, NULL);
}

/* A generator of 45 kW beside an engine of 45 kW blows as a second one would; two generators fill each other. */
static void a_generator_shares_an_exhaust_as_an_engine_does(void **state)
{
    (void)state;
#define BLOWS(NAME) "generator " NAME " { rated 45 kW at 230 V; fuel diesel; exhaust ex }\n"
    Compiled one, both;
    compile_text(&one, ONE);
    compile_text(&both, BOAT ENGINE("port", "45 kW") BLOWS("genset") PIPE);
    assert_near(compiled_figure(&both, "ex", FIGURE_BACK_PRESSURE)->high, compiled_figure(&one, "ex", FIGURE_BACK_PRESSURE)->high, 1e-6);
    compile_free(&one);
    compile_free(&both);
    expect_verdict(BOAT ENGINE("port", "45 kW") BLOWS("genset") PIPE, "exhaust-riser", BROKEN_AT_ONE, "ex");
    expect_verdict(BOAT BLOWS("genset") BLOWS("spare") PIPE, "exhaust-riser", BROKEN_AT_ONE, "ex");
    expect_verdict(BOAT BLOWS("genset") PIPE, "exhaust-riser", NOTHING, NULL);
}

/* 25 mm for 85 kW: sqrt(90 / 85) of it, 25.72 mm, by the fitting, the hose before the T, and the strainer on it. */
static void an_intake_brings_the_water_of_all_that_draw_by_it(void **state)
{
    (void)state;
    static const char *const wide[] = {"intake", "c1", "st"};
    Compiled c;
    compile_text(&c, BOTH);
    for (size_t i = 0; i < sizeof wide / sizeof wide[0]; i++) {
        unsigned told = 0;
        for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
            told += strstr(f->message, wide[i]) != NULL && strstr(f->message, "25.72 mm") != NULL;
        }
        assert_true(told > 0);
    }
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        assert_null(strstr(f->message, "where its exhaust goes"));
        assert_true(strcmp(f->rule->name, "intake-hose") != 0 || strstr(f->message, "`c2`") == NULL);
    }
    compile_free(&c);
}

/* Findings of a rule that name a thing in backquotes. */
static unsigned found(const Compiled *c, const char *rule, const char *name)
{
    unsigned count = 0;
    for (const Finding *f = c->outcome->findings; f != NULL; f = f->next) {
        count += strcmp(f->rule->name, rule) == 0 && strstr(f->message, name) != NULL;
    }
    return count;
}

/* Two intakes and a hose for flushing lead into a chest: the water is followed by all of them, not by the first that is written. */
static void the_water_of_engines_is_followed_by_every_hose_at_a_joint(void **state)
{
    (void)state;
#define THIRSTY(name) "engine " name " { rated 40 kW at 3000 rpm; fuel diesel; raw-water 60 l/min }\n"
#define LED(name, from, to, bore) "hose " name " { from " from "; to " to "; bore " bore "; run 1 m; clamps 2 }\n"
    Compiled c;
    compile_text(&c, BOAT THIRSTY("e1") THIRSTY("e2") "tank flush { holds fresh; capacity 20 l }\nitem chest\n"
                          "through-hull left { bore 25 mm; height -0.4 m }\nthrough-hull right { bore 25 mm; height -0.4 m }\n"
                          LED("flushing", "flush", "chest", "13 mm") LED("one", "left", "chest", "25 mm") LED("two", "right", "chest", "20 mm")
                          LED("to-1", "chest", "e1", "25 mm") LED("to-2", "chest", "e2", "25 mm") "strainer st { on one; bore 25 mm }\n");
    assert_non_null(compiled_figure_at(&c, "e1", FIGURE_INTAKE_NEED, "right"));
    assert_non_null(compiled_figure_at(&c, "e1", FIGURE_INTAKE_NEED, "two"));
    assert_non_null(compiled_figure_at(&c, "e2", FIGURE_INTAKE_NEED, "st"));
    assert_null(compiled_figure_at(&c, "e1", FIGURE_INTAKE_NEED, "to-1"));
    assert_int_equal(found(&c, "intake-hose", "`two` has a bore of 20 mm"), 2); /* of each engine, once */
    assert_int_equal(found(&c, "intake-hose", "no strainer stands between the hull and `e1`, on `two`"), 1);
    assert_int_equal(found(&c, "intake-hose", "on `one`"), 0);
    compile_free(&c);
}

/* ---- exhausts that meet on their way out ---- */

#define OWN(name, pipe) "engine " name " { rated 20 kW at 3000 rpm; fuel diesel; exhaust " pipe "; cooling sea }\n"
#define WET(name) "exhaust " name " { bore 51 mm; run 3 m; riser-above-waterline 0.4 m }\n"
#define TWO BOAT OWN("port", "pp") OWN("star", "sp") WET("pp") WET("sp")
#define OUT(SAYS) "through-hull out { bore 76 mm; height 0.2 m; seacock no; material bronze; " SAYS " }\n"
#define WAY(name, from, to) "hose " name " { from " from "; to " to "; bore 64 mm; run 1 m; grade exhaust }\n"

/* What one blows out runs down into the other: common practice, no source. */
static void exhausts_that_meet_fill_the_engine_that_stands(void **state)
{
    (void)state;
    const char *meeting[] = {
        TWO OUT("serves pp, sp"),
        TWO OUT("") WAY("h1", "pp", "out") WAY("h2", "sp", "out"),
        TWO OUT("serves pp") WAY("h2", "sp", "out"),
        TWO OUT("") "item tee\n" WAY("h1", "pp", "tee") WAY("h2", "sp", "tee") WAY("h3", "tee", "out"),
        TWO "item tee\n" WAY("h1", "pp", "tee") WAY("h2", "sp", "tee"),
        TWO "item lock\nitem tee\n" WAY("h1", "pp", "lock") WAY("h2", "lock", "tee") WAY("h3", "sp", "tee") OUT("") WAY("h4", "tee", "out"),
        TWO OUT("serves sp") WAY("h1", "pp", "sp"),
        TWO OUT("serves port, star"),
    };
    for (size_t i = 0; i < sizeof meeting / sizeof meeting[0]; i++) {
        expect_verdict(meeting[i], "exhaust-riser", BROKEN_AT_ONE, "sp");
    }
    const char *apart[] = {
        TWO OUT("serves pp") "through-hull out2 { bore 76 mm; height 0.2 m; serves sp }\n",
        TWO OUT("count 2; serves pp, sp"),
        TWO OUT("") "item tee\n" WAY("h1", "pp", "tee") WAY("h3", "tee", "out"),
        TWO "through-hull sea-inlet { bore 38 mm; height -0.4 m; serves port, star }\n",
        BOAT OWN("port", "pp") WET("pp") WET("sp") OUT("serves pp, sp"), /* both of one engine, for there is no other */
    };
    for (size_t i = 0; i < sizeof apart / sizeof apart[0]; i++) {
        expect_verdict(apart[i], "exhaust-riser", NOTHING, NULL);
    }
}

static void a_wet_exhaust_meets_a_dry_one_and_that_of_a_generator(void **state)
{
    (void)state;
#define GENSET BOAT OWN("port", "pp") WET("pp") "generator genset { rated 3 kW at 230 V }\n"
    expect_verdict(BOAT OWN("port", "pp") OWN("star", "sp") WET("pp") "exhaust sp { bore 51 mm; run 3 m; wet no }\n" OUT("serves pp, sp"),
                   "exhaust-riser", BROKEN_AT_ONE, "pp");
    expect_verdict(GENSET "item tee\n" WAY("h1", "pp", "tee") WAY("h2", "genset", "tee"), "exhaust-riser", BROKEN_AT_ONE, "pp");
    expect_verdict(GENSET WAY("h2", "genset", "pp"), "exhaust-riser", BROKEN_AT_ONE, "pp");
    expect_verdict(GENSET OUT("serves pp, genset"), "exhaust-riser", BROKEN_AT_ONE, "pp");
    expect_verdict(GENSET OUT("serves pp") "through-hull out2 { bore 51 mm; height 0.2 m; serves genset }\n", "exhaust-riser", NOTHING, NULL);
}

/* The second exhaust that a fitting lets out melts it, or presses back, as the first does. */
static void a_fitting_is_held_against_each_exhaust_that_leaves_by_it(void **state)
{
    (void)state;
    const char *text = BOAT OWN("port", "pp") OWN("star", "sp") WET("pp")
        "exhaust sp { bore 64 mm; run 3 m; wet no; riser-above-waterline 3 m }\n"
        "through-hull out { bore 51 mm; height 0.2 m; seacock no; material plastic; serves pp, sp }\n";
    Compiled c;
    unsigned melts = 0, narrow = 0, all = 0;
    compile_text(&c, text);
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        bool outlet = strcmp(f->rule->name, "exhaust-outlet") == 0;
        melts += outlet && strstr(f->message, "the dry exhaust `sp` leaves by it") != NULL;
        narrow += outlet && strstr(f->message, "`sp` one of 64 mm") != NULL;
        all += outlet;
    }
    compile_free(&c);
    assert_int_equal(melts, 1);
    assert_int_equal(narrow, 1);
    assert_int_equal(all, 2);
}

/* ---- heaters and coolers that are counted ---- */

/* 155 W for each m3 of 20 m3 are 3.1 kW: two of 2.5 kW give more, one does not. */
static void heaters_that_are_counted_heat_together(void **state)
{
    (void)state;
#define HEATED(COUNT) \
    BOAT "space sal { volume 20 m3 }\nheater hh { output 2.5 kW; fuel diesel; fuel-rate 0.3 l/h; serves sal; " COUNT " }\n"
#define COOLED(COUNT) BOAT "space sal { volume 20 m3 }\ncooler cc { output 1.6 kW; serves sal; draw 500 W; " COUNT " }\n"
    expect_verdict(HEATED(""), "cabin-heat", BROKEN_AT_ONE, "hh");
    expect_verdict(HEATED("count 2"), "cabin-heat", NOTHING, NULL);
    expect_verdict(HEATED("count 1..2"), "cabin-heat", OPEN_AT_ONE, "hh");
    expect_verdict(COOLED(""), "cabin-cool", BROKEN_AT_ONE, "cc");
    expect_verdict(COOLED("count 2"), "cabin-cool", NOTHING, NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_exhaust_takes_the_gas_of_all_that_blow_into_it),
        cmocka_unit_test(a_generator_shares_an_exhaust_as_an_engine_does),
        cmocka_unit_test(an_intake_brings_the_water_of_all_that_draw_by_it),
        cmocka_unit_test(the_water_of_engines_is_followed_by_every_hose_at_a_joint),
        cmocka_unit_test(exhausts_that_meet_fill_the_engine_that_stands),
        cmocka_unit_test(a_wet_exhaust_meets_a_dry_one_and_that_of_a_generator),
        cmocka_unit_test(a_fitting_is_held_against_each_exhaust_that_leaves_by_it),
        cmocka_unit_test(heaters_that_are_counted_heat_together),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
