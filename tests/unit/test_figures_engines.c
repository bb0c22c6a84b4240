/*
 * Figures of boats with more than one engine: what each takes of a speed, and what is left of it where one runs alone.
 */
#include "check.h"
#include "compile.h"

#include <string.h>

#define BOAT                                                                                                     \
    "edition 1\nboat wren { length 10 m; beam 3.2 m; waterline 9 m; displacement 6000 kg; crew 2; currency EUR; " \
    "basis iso; sails no }\n"
#define MAIN "engine main { rated 30 kW at 2800 rpm; fuel diesel }\ntank dt { holds fuel; fuel diesel; capacity 200 l }\n"
#define KICKER(SAYS)                                                                             \
    "engine kicker { rated 4.4 kW at 5500 rpm; fuel petrol; mounted outboard" SAYS " }\n"         \
    "tank pt { holds fuel; fuel petrol; capacity 12 l; portable yes }\n"
#define FAR "goal far { range 200 nmi at 6 kn }\n"
#define OUT "day out { engine 5 h at 2000 rpm; distance 30 nmi at 6 kn }\n"

static double value_of(const Compiled *c, const char *subject, FigureId id, const char *at)
{
    const Figure *figure = compiled_figure_at(c, subject, id, at);
    assert_non_null(figure);
    assert_int_equal(figure->state, STATE_KNOWN);
    assert_near(figure->high, figure->low, 1e-9 * figure->high);
    return figure->low;
}

/*
 * Worked by hand: 13 228 lb, 29.53 ft, 6 kn: 13 228 x (6 / 5.4340 / 10.665)^3 = 14.69 shp, 10.95 kW at the propellers. Of the
 * 30 x 0.96 x 0.985 + 4.4 = 32.77 kW that there are she takes a third: 10.03 kW of the one, 1.471 kW of the other. By halves, the
 * smaller one would have to give 5.48 kW.
 */
static void unlike_engines_share_by_what_they_give(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT MAIN KICKER("") FAR);
    assert_null(c.spec->messages.first);
    assert_near(value_of(&c, "main", FIGURE_NEEDED_POWER, "far"), 10.03e3, 10.0);
    assert_near(value_of(&c, "kicker", FIGURE_NEEDED_POWER, "far"), 1.471e3, 2.0);
    assert_null(compiled_finding(&c, "power-short"));
    assert_non_null(compiled_finding(&c, "goal-missed")); /* its petrol ends first */
    compile_free(&c);
}

/* Twins of ranges that are true to themselves: a screw's power is P / (e1 + e2), and each of these but once. */
static void ranges_of_twins_are_bounded(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT MAIN "engine other { rated 20..40 kW at 2800 rpm; fuel diesel }\n" FAR);
    assert_null(c.spec->messages.first);
    const Figure *main = compiled_figure_at(&c, "main", FIGURE_NEEDED_POWER, "far");
    double all = value_of(&c, "main", FIGURE_SHAFT_POWER, NULL) / 30e3; /* what of rated power reaches the propeller */
    assert_near(main->low, 10.95e3 / all * 30.0 / 70.0, 10.0);
    assert_near(main->high, 10.95e3 / all * 30.0 / 50.0, 10.0);
    const Figure *other = compiled_figure_at(&c, "other", FIGURE_NEEDED_POWER, "far");
    assert_near(other->low, 10.95e3 / all * 20.0 / 50.0, 10.0);
    assert_near(other->high, 10.95e3 / all * 40.0 / 70.0, 10.0);
    compile_free(&c);
}

/* Speeds, range, the day's fuel and what is said of them are those of the boat without it. */
static void one_that_runs_alone_changes_nothing_of_the_boat(void **state)
{
    (void)state;
    Compiled with, without;
    compile_text(&with, BOAT MAIN KICKER("; alone yes") OUT FAR);
    compile_text(&without, BOAT MAIN OUT FAR);
    assert_null(with.spec->messages.first);
    assert_near(value_of(&without, "wren", FIGURE_RANGE, "far") / 1852.0, 258.0, 0.5);
    assert_near(value_of(&with, "wren", FIGURE_RANGE, "far"), value_of(&without, "wren", FIGURE_RANGE, "far"), 1e-6);
    assert_near(value_of(&with, "main", FIGURE_NEEDED_POWER, "far"), value_of(&without, "main", FIGURE_NEEDED_POWER, "far"), 1e-6);
    assert_near(value_of(&with, "wren", FIGURE_FULL_SPEED, NULL), value_of(&without, "wren", FIGURE_FULL_SPEED, NULL), 1e-9);
    assert_null(compiled_figure_at(&with, "pt", FIGURE_DAILY_FLOW, "out"));
    assert_null(compiled_figure_at(&with, "kicker", FIGURE_RUNNING_RATE, "out"));
    assert_null(compiled_finding(&with, "power-short"));
    assert_null(compiled_finding(&with, "goal-missed"));
    assert_null(compiled_finding(&with, "day-told-twice"));
    /* By itself: 5.900 shp, 10.665 x (5.900 / 13 228)^(1/3) x 5.4340 = 4.43 kn. */
    assert_near(value_of(&with, "kicker", FIGURE_FULL_SPEED, NULL) * 3600.0 / 1852.0, 4.43, 0.01);
    compile_free(&with);
    compile_free(&without);
}

/* How far one that stands by would bring her at a speed that it does not make is no range: the figure says so. 6 kn take 11 kW. */
static void a_speed_that_it_does_not_make_alone_is_told(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT MAIN KICKER("; alone yes") FAR
                     "bank dr { chemistry lifepo4; voltage 51.2 V; capacity 100 Ah; resistance 10 mohm }\n"
                     "engine motor { rated 6 kW at 1500 rpm; fuel electric; fed-by dr; run 2 m; wire 50 mm2; alone yes }\n"
                     "goal slow { range 20 nmi at 3 kn }\n");
    assert_null(c.spec->messages.first);
    assert_non_null(strstr(compiled_figure_at(&c, "kicker", FIGURE_RANGE, "far")->remark, "does not make that speed"));
    assert_non_null(strstr(compiled_figure_at(&c, "motor", FIGURE_RANGE, "far")->remark, "does not give that power"));
    assert_non_null(strstr(compiled_figure_at(&c, "motor", FIGURE_RANGE, "slow")->remark, "nothing else drawing"));
    assert_true(compiled_figure_at(&c, "kicker", FIGURE_RANGE, "far")->none);
    assert_true(compiled_figure_at(&c, "motor", FIGURE_RANGE, "far")->none);
    assert_false(compiled_figure_at(&c, "motor", FIGURE_RANGE, "slow")->none);
    compile_free(&c);
    /* 4 to 6 kn take 3.3 to 11 kW: of some of these speeds it has a range. */
    compile_text(&c, BOAT MAIN KICKER("; alone yes") "goal far { range 100 nmi at 4..6 kn }\n");
    assert_false(compiled_figure_at(&c, "kicker", FIGURE_RANGE, "far")->none);
    compile_free(&c);
}

/* Nor where it is named: the tank may hold what it likes, a goal of miles at that speed is missed. */
static void a_speed_that_those_named_do_not_make_is_no_range(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT MAIN KICKER("; alone yes") "goal home { range 1 nmi at 6 kn; under kicker }\ngoal slow { range 1 nmi at 3 kn; under kicker }\n");
    assert_null(c.spec->messages.first);
    assert_true(compiled_figure_at(&c, "wren", FIGURE_RANGE, "home")->none);
    assert_near(compiled_figure_at(&c, "wren", FIGURE_RANGE, "home")->high, 0.0, 1e-9);
    assert_false(compiled_figure_at(&c, "wren", FIGURE_RANGE, "slow")->none);
    const Finding *missed = compiled_finding(&c, "goal-missed");
    assert_non_null(missed);
    assert_int_equal(missed->verdict, VERDICT_BROKEN);
    assert_non_null(strstr(missed->message, "`home` asks for 6 kn, which she does not make"));
    compile_free(&c);
}

/* Nobody else is there to drive her: it is asked as if it said nothing. */
static void the_only_engine_is_never_the_one_that_stands_by(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT KICKER("; alone yes") FAR);
    assert_non_null(compiled_figure_at(&c, "wren", FIGURE_RANGE, "far"));
    assert_non_null(compiled_finding(&c, "power-short"));
    compile_free(&c);
    compile_text(&c, BOAT "engine main { rated 30 kW at 2800 rpm; fuel diesel; alone yes }\ntank dt { holds fuel; fuel diesel; capacity 200 l }\n"
                     KICKER("; alone yes") FAR);
    assert_near(value_of(&c, "wren", FIGURE_RANGE, "far"), value_of(&c, "main", FIGURE_RANGE, "far"), 1e-6);
    compile_free(&c);
}

/* What its alternator would bring on a day of the other one does not reach the bank. */
static void on_no_day_does_it_charge(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT MAIN KICKER("; alone yes")
                     "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n"
                     "alternator al { engine kicker; output 10 A at 14 V; feeds house { run 2 m; wire 16 mm2 } }\n" OUT);
    assert_null(c.spec->messages.first);
    const Figure *offered = compiled_figure_at(&c, "al", FIGURE_OFFERED, "out");
    assert_true(offered == NULL || offered->high <= 0.0);
    compile_free(&c);
}

/*
 * A boat of two engines on a day under one of them is, that day, a boat of one: the oracle is a spec from which the other is
 * left out. Only what it weighs and what it stands in is the same.
 */
#define ONE(name) "engine " name " { rated 40 kW at 2600 rpm; fuel diesel; specific 240 g/kWh; consumption 1600 rpm 3 l/h\n" \
                  "  consumption 2600 rpm 10 l/h }\ngearbox g" name " { engine " name "; ratio 2.2 }\n"
#define CHARGES(name, amps) "alternator a" name " { engine " name "; output " amps " at 14 V; feeds house { run 2 m; wire 50 mm2 } }\n"
#define REST "tank dt { holds fuel; capacity 600 l }\nbank house { chemistry agm; voltage 12 V; capacity 400 Ah; resistance 3 mohm }\n" \
             "load fridge { fed-by house; run 2 m; draw 5 A; use home 12 h }\n"
#define HOME(under) "day home { distance 30 nmi at 5.5 kn; engine 5.5 h at 1900 rpm" under " }\ngoal back { range 300 nmi at 6 kn" under " }\n"

static void a_day_under_one_engine_is_that_of_a_boat_with_one(void **state)
{
    (void)state;
    static const struct {
        const char *subject;
        FigureId id;
        const char *at;
    } same[] = {{"port", FIGURE_NEEDED_POWER, "home"}, {"port", FIGURE_TURNS, "home"},     {"port", FIGURE_FUEL_RATE, "back"},
                {"port", FIGURE_RUNNING_RATE, "home"}, {"wren", FIGURE_RANGE, "home"},     {"wren", FIGURE_RANGE, "back"},
                {"dt", FIGURE_DAILY_FLOW, "home"},     {"aport", FIGURE_OFFERED, "home"},  {"house", FIGURE_BALANCE, "home"},
                {"wren", FIGURE_ENGINE_HOURS, "home"}, {"port", FIGURE_RATED_POWER_NEED, "back"}};
    Compiled two, one;
    compile_text(&two, BOAT ONE("port") ONE("starboard") CHARGES("port", "60 A") CHARGES("starboard", "100 A") REST HOME("; under port"));
    compile_text(&one, BOAT ONE("port") CHARGES("port", "60 A") REST HOME(""));
    assert_null(two.spec->messages.first);
    assert_null(one.spec->messages.first);
    for (size_t i = 0; i < sizeof same / sizeof same[0]; i++) {
        assert_near(value_of(&two, same[i].subject, same[i].id, same[i].at), value_of(&one, same[i].subject, same[i].id, same[i].at),
                    1e-9 * fabs(value_of(&one, same[i].subject, same[i].id, same[i].at)));
    }
    assert_near(value_of(&two, "wren", FIGURE_FULL_SPEED, "home"), value_of(&one, "wren", FIGURE_FULL_SPEED, NULL), 1e-9);
    assert_non_null(strstr(compiled_figure_at(&two, "wren", FIGURE_FULL_SPEED, "home")->remark, "drag of a propeller"));
    assert_null(compiled_figure_at(&two, "starboard", FIGURE_NEEDED_POWER, "home"));
    assert_null(compiled_figure_at(&two, "starboard", FIGURE_RANGE, "back"));
    const Figure *stands = compiled_figure_at(&two, "astarboard", FIGURE_OFFERED, "home");
    assert_true(stands == NULL || stands->high <= 0.0);
    compile_free(&two);
    compile_free(&one);
}

/* One that stands by drives her on a day that names it, and its alternator charges; on the others it does not. */
static void a_day_under_the_one_that_stands_by_is_its_own(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT MAIN KICKER("; alone yes")
                     "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n"
                     "load fridge { fed-by house; run 2 m; draw 5 A; use home 12 h }\n"
                     "alternator al { engine kicker; output 10 A at 14 V; feeds house { run 2 m; wire 16 mm2 } }\n" OUT
                     "day home { distance 12 nmi at 3 kn; engine 4 h at 4000 rpm; under kicker }\n"
                     "day fast { distance 12 nmi at 6.5 kn; engine 2 h; under kicker }\n");
    assert_null(c.spec->messages.first);
    assert_null(compiled_figure_at(&c, "main", FIGURE_NEEDED_POWER, "home"));
    assert_non_null(compiled_figure_at(&c, "pt", FIGURE_DAILY_FLOW, "home"));
    assert_true(compiled_figure_at(&c, "al", FIGURE_OFFERED, "home")->low > 0.0);
    const Figure *out = compiled_figure_at(&c, "al", FIGURE_OFFERED, "out");
    assert_true(out == NULL || out->high <= 0.0);
    assert_near(value_of(&c, "wren", FIGURE_FULL_SPEED, "home"), value_of(&c, "kicker", FIGURE_FULL_SPEED, NULL), 1e-9);
    const Finding *shorts = compiled_finding(&c, "power-short"); /* 6.5 kn are too fast for it */
    assert_non_null(shorts);
    assert_true(str_is(entity_name(c.outcome->cases[0].model, shorts->subject), "kicker"));
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(unlike_engines_share_by_what_they_give),
        cmocka_unit_test(ranges_of_twins_are_bounded),
        cmocka_unit_test(one_that_runs_alone_changes_nothing_of_the_boat),
        cmocka_unit_test(a_speed_that_it_does_not_make_alone_is_told),
        cmocka_unit_test(a_speed_that_those_named_do_not_make_is_no_range),
        cmocka_unit_test(the_only_engine_is_never_the_one_that_stands_by),
        cmocka_unit_test(on_no_day_does_it_charge),
        cmocka_unit_test(a_day_under_one_engine_is_that_of_a_boat_with_one),
        cmocka_unit_test(a_day_under_the_one_that_stands_by_is_its_own),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
