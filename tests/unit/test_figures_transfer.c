/*
 * Days behind transfer switches, on small whole specs: whichever source is there counts, in whatever order a switch names
 * them. Expected numbers are worked by hand beside the test.
 */
#include "test_boat.h"

#include <stdio.h>

#define BOAT "edition 1\nboat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso }\n"
/* 100 Ah, half usable, no loss in charging, no Peukert. PERCENT is doubled in what is printed with. */
#define BANK(PERCENT) "bank house { chemistry agm; voltage 12 V; capacity 100 Ah; peukert 1; charge-efficiency 100 " PERCENT " }\n"
#define SOURCES "inlet shore { rated 16 A at 230 V }\ngenerator genset { rated 2 kW at 230 V }\n"
#define SINE(PERCENT) \
    "inverter sine { fed-by house; run 1 m; rated 500 W; output 230 V; efficiency 100 " PERCENT "; idle 10 W"

static const double wh = 3600.0;

static double value(const Compiled *c, const char *subject, const char *name, const char *at)
{
    const Entity *of = model_find(c->model, str_from(subject));
    const Entity *when = at != NULL ? model_find(c->model, str_from(at)) : NULL;
    const Figure *figure = figure_find(c->figures, of, figure_id(str_from(name)), when);
    assert_non_null(figure);
    assert_int_equal(figure->state, STATE_KNOWN);
    assert_near(figure->low, figure->high, 1e-9 * fabs(figure->low));
    return figure->low;
}

static double value_of(const char *spec, const char *subject, const char *name, const char *at)
{
    Compiled c;
    compile(&c, spec);
    expect_no_mistake(&c);
    double found = value(&c, subject, name, at);
    done_with(&c);
    return found;
}

/*
 * A charger of 10 A behind a switch, 2 h of generator and 3 h of shore: 20, 30, together 50 Ah at 12 V. Ten to twelve twice
 * over is two hours still. Without a load on the bank `balance` is that of a bank that only fills.
 */
static void a_charger_gives_while_any_of_its_sources_is_there(void **state)
{
    static const struct {
        const char *day;
        double hours;
    } days[] = {{"generator 10:00..12:00", 2.0},
                {"shore 18:00..21:00", 3.0},
                {"generator 10:00..12:00; shore 18:00..21:00", 5.0},
                {"generator 10:00..12:00; shore 11:00..13:00", 3.0},
                {"generator 10:00..12:00; shore 10:00..12:00", 2.0},
                {"sun 0 h", 0.0}};
    static const char *const orders[] = {"shore, genset", "genset, shore"};
    static const char *const ways[] = {
        /* By a panel; through what an inverter passes on; beside a maker's `feeds`. */
        "panel ac { fed-by source; run 1 m }\ncharger box { fed-by ac; run 1 m; output 10 A at 14.4 V; feeds house { run 1 m } }\n",
        "panel ac { fed-by source; run 1 m }\n" SINE("%") "; passes ac; transfer yes }\n"
        "charger box { fed-by sine; run 1 m; output 10 A at 14.4 V; feeds house { run 1 m } }\n",
        "circuit to-sine { fed-by source; run 1 m }\n" SINE("%") "; passes to-sine; transfer yes }\n"
        "charger box { fed-by to-sine; run 1 m; output 10 A at 14.4 V; feeds house { run 1 m } }\n"};
    (void)state;
    for (size_t d = 0; d < sizeof days / sizeof days[0]; d++) {
        for (size_t w = 0; w < 2 * sizeof ways / sizeof ways[0]; w++) {
            char text[2048];
            snprintf(text, sizeof text,
                     BOAT BANK("%%") SOURCES "day quiet { %s }\nswitch source { works-as transfer; fed-by %s; rated 25 A; run 1 m }\n%s",
                     days[d].day, orders[w % 2], ways[w / 2]);
            assert_near(value_of(text, "house", "daily-charge", "quiet"), days[d].hours * 10.0 * 12.0 * wh, 1e-3);
        }
    }
}

/*
 * The generator gives 2 kW, the shore 3680 W. A kettle of 1900 W leaves 100 W and 1780 W: over the day's hours of both the
 * charger has 90 W / 14.4 V = 6.25 A by the first and its full 10 A by the second, which counts where both are there.
 */
static void each_source_leaves_a_charger_what_its_own_loads_do_not_take(void **state)
{
    static const char *const orders[] = {"shore, genset", "genset, shore"};
    static const struct {
        const char *day;
        double ampere_hours;
    } days[] = {{"generator 10:00..12:00", 12.5}, {"shore 10:00..12:00", 20.0}, {"generator 10:00..12:00; shore 10:00..11:00", 16.25}};
    (void)state;
    for (size_t d = 0; d < sizeof days / sizeof days[0]; d++) {
        for (size_t o = 0; o < 2; o++) {
            char text[2048];
            snprintf(text, sizeof text,
                     BOAT BANK("%%") SOURCES
                     "day quiet { %s }\nswitch source { works-as transfer; fed-by %s; rated 25 A; run 1 m }\n"
                     "load kettle { fed-by source; run 1 m; draw 1900 W; use quiet 10:00..12:00 }\n"
                     "charger box { fed-by source; run 1 m; output 10 A at 14.4 V; efficiency 90 %%; feeds house { run 1 m } }\n",
                     days[d].day, orders[o]);
            assert_near(value_of(text, "house", "daily-charge", "quiet"), days[d].ampere_hours * 12.0 * wh, 1e-3);
        }
    }
}

/*
 * 100 W from ten to fourteen and 10 W of idle. The generator carries two of the hours, the shore three in the evening: 200 Wh,
 * and 19 h of idle. What hangs on the inverter alone needs it all day.
 */
static void loads_and_idle_ask_the_bank_while_no_other_source_is_there(void **state)
{
    static const char *const orders[] = {"shore, genset, sine", "genset, sine, shore", "sine, genset, shore"};
    static const char lamp[] = "load lamp { fed-by source; draw 100 W; use quiet 10:00..14:00 }\n";
    static const char alone[] = "load pump-light { fed-by sine; run 1 m; draw 5 W; use quiet 24 h }\n";
    char text[2048];
    (void)state;
    for (size_t o = 0; o < sizeof orders / sizeof orders[0]; o++) {
        for (int both = 0; both < 2; both++) {
            snprintf(text, sizeof text,
                     BOAT BANK("%%") SOURCES "day quiet { generator 10:00..12:00; shore 18:00..21:00 }\n" SINE("%%")
                                       " }\nswitch source { works-as transfer; fed-by %s; rated 25 A; run 1 m }\n%s%s",
                     orders[o], lamp, both ? alone : "");
            double wanted = both ? 200.0 + 24.0 * 10.0 + 24.0 * 5.0 : 200.0 + 19.0 * 10.0;
            assert_near(value_of(text, "house", "daily-use", "quiet"), wanted * wh, 1e-3);
        }
    }
}

/* By a panel of its own before the switch, and through a supply of direct current behind it (of 50 %). */
static void what_lies_between_an_inverter_and_its_switch_changes_nothing(void **state)
{
    static const char *const orders[] = {"shore, from-sine", "from-sine, shore"};
    (void)state;
    for (size_t o = 0; o < 2; o++) {
        char text[2048];
        snprintf(text, sizeof text,
                 BOAT BANK("%%") SOURCES "day quiet { shore 10:00..12:00 }\n" SINE("%%")
                                   " }\npanel from-sine { fed-by sine; run 1 m }\n"
                                   "switch source { works-as transfer; fed-by %s; rated 25 A; run 1 m }\n"
                                   "converter supply { fed-by source; run 1 m; output 5 A at 12 V; efficiency 50 %% }\n"
                                   "load lamp { fed-by supply; run 1 m; draw 24 W; use quiet 10:00..14:00 }\n",
                 orders[o]);
        assert_near(value_of(text, "house", "daily-use", "quiet"), (2.0 * 48.0 + 22.0 * 10.0) * wh, 1e-3);
    }
}

/* Two inverters at one switch do not both carry what hangs on it: the first that it names does. */
static void a_load_is_counted_on_one_bank(void **state)
{
    static const char spec[] = BOAT BANK("%")
        "bank second { chemistry agm; voltage 12 V; capacity 100 Ah; peukert 1 }\nday quiet { sun 0 h }\n" SINE("%") " }\n"
        "inverter spare { fed-by second; run 1 m; rated 500 W; output 230 V; efficiency 100 %; idle 0 W }\n"
        "switch source { works-as transfer; fed-by sine, spare; rated 25 A; run 1 m }\n"
        "load lamp { fed-by source; draw 100 W; use quiet 2 h }\n";
    (void)state;
    assert_near(value_of(spec, "house", "daily-use", "quiet"), (200.0 + 240.0) * wh, 1e-3);
    assert_near(value_of(spec, "second", "daily-use", "quiet"), 0.0, 0.0);
}

/* 12 A for ten hours less 20 Ah of charge: the run of the engine, how long she lasts and how a cruise ends follow. */
static void all_that_follows_a_day_follows_its_sources(void **state)
{
    static const char *const figures[][3] = {{"house", "endurance", "quiet"},
                                             {"wren", "engine-hours", "quiet"},
                                             {"house", "lowest-charge", "trip"},
                                             {"box", "energy", "trip"}};
    static const char rest[] = "engine iron { rated 20 hp at 3000 rpm; fuel diesel }\n"
                               "alternator belt-maker { engine iron; output 60 A at 14.2 V; hot-output 50 %; feeds house { run 1 m } }\n"
                               "charger box { fed-by source; run 1 m; output 10 A at 14.4 V; feeds house { run 1 m } }\n"
                               "load lamp { fed-by house; run 1 m; draw 3 A; use quiet 10 h }\ncruise trip { days 3 quiet }\n";
    (void)state;
    for (size_t f = 0; f < sizeof figures / sizeof figures[0]; f++) {
        double found[3];
        for (size_t o = 0; o < 3; o++) {
            static const char *const orders[] = {"shore, genset", "genset, shore", "genset"};
            char text[2048];
            snprintf(text, sizeof text,
                     BOAT BANK("%%") SOURCES "day quiet { generator 10:00..12:00 }\n"
                                       "switch source { works-as transfer; fed-by %s; rated 25 A; run 1 m }\n%s",
                     orders[o], rest);
            found[o] = value_of(text, figures[f][0], figures[f][1], figures[f][2]);
        }
        assert_near(found[0], found[2], 0.0);
        assert_near(found[1], found[2], 0.0);
    }
}

/*
 * Lead of 12 V falls to 11.5 V, lithium called 12.8 V to 12 V. The inverter's 2000 W over 0.9 are 185.2 A at 12 V and 193.2 A at
 * 11.5 V; 200 W are 16.67 A at 12 V. A short circuit draws least from the small bank, at its 11.5 V. Which is named first says
 * nothing; only of an emergency switch, closed for a moment, the first counts.
 */
static void the_worst_bank_counts_in_whatever_order_they_are_named(void **state)
{
    static const char *const orders[] = {"big, small", "small, big"};
    static const char *const works[] = {"transfer", "parallel"};
    static const char rest[] = "circuit to-pump { fed-by both; run 6 m; protect ? fuse }\n"
                               "load pump-motor { fed-by to-pump; draw 200 W; use quiet 24 h }\n"
                               "inverter sine { fed-by both; run 2 m; wire 70 mm2; protect 250 A fuse class-t; rated 2000 W; output 230 V; efficiency 90 % }\n";
    double least[2] = {0.0, 0.0};
    (void)state;
    for (int w = 0; w < 2; w++) {
        for (int o = 0; o < 2; o++) {
            char text[2048];
            snprintf(text, sizeof text,
                     "%sday quiet { sun 0 h }\nbank big { chemistry lifepo4; voltage 12.8 V; capacity 400 Ah; short-circuit 4000 A }\n"
                     "bank small { chemistry flooded; voltage 12 V; capacity 60 Ah; short-circuit 800 A }\n"
                     "switch both { works-as %s; fed-by %s; run 0 m; rated 300 A }\n%s", BOAT, works[w], orders[o], rest);
            Compiled c;
            compile(&c, text);
            expect_no_mistake(&c);
            assert_near(value(&c, "sine", "current", NULL), 2000.0 / 0.9 / 12.0, 1e-9);
            assert_near(value(&c, "sine", "current-when-low", NULL), 2000.0 / 0.9 / 11.5, 1e-9);
            assert_near(value(&c, "pump-motor", "current", NULL), 200.0 / 12.0, 1e-9);
            least[o] = value(&c, "to-pump", "least-fault-current", NULL);
            done_with(&c);
        }
        assert_near(least[0], least[1], 1e-9);
    }
}

/*
 * Conservation of energy: what two chargers bring takes no more from their source than that gives. 6 A at 230 V are 1380 W for 3 h;
 * at 14.4 V (absorption of agm) and 90 % two alike have 1380 x 0.9 / 2 / 14.4 = 43.125 A each, of 30 and 90 A the one a quarter
 * and the other three. Where it has enough for both, each gives its own output.
 */
static void chargers_share_what_their_source_leaves(void **state)
{
    static const char *const sources[] = {"inlet source { rated 6 A at 230 V }\nday quiet { shore 18:00..21:00 }\n",
                                          "generator source { rated 1380 W at 230 V }\nday quiet { generator 18:00..21:00 }\n"};
    static const struct {
        double own_a, other_a, expected_a;
    } pairs[] = {{60.0, 60.0, 43.125}, {30.0, 90.0, 21.5625}, {90.0, 30.0, 64.6875}, {60.0, 5.0, 60.0}};
    (void)state;
    for (size_t s = 0; s < sizeof sources / sizeof sources[0]; s++) {
        for (size_t p = 0; p < sizeof pairs / sizeof pairs[0]; p++) {
            char text[2048];
            snprintf(text, sizeof text,
                     BOAT BANK("%%") "bank second { chemistry agm; voltage 12 V; capacity 100 Ah }\n%s"
                                     "panel ac { fed-by source; run 1 m }\n"
                                     "charger box { fed-by ac; run 1 m; output %g A at 14.4 V; efficiency 90 %%; feeds house { run 1 m } }\n"
                                     "charger other { fed-by ac; run 1 m; output %g A at 14.4 V; efficiency 90 %%; feeds second { run 1 m } }\n",
                     sources[s], pairs[p].own_a, pairs[p].other_a);
            assert_near(value_of(text, "box", "offered", "quiet") / wh, pairs[p].expected_a * 3.0 * 12.0, 1e-6);
        }
    }
}

/* A range of one charger bounds what each of the numbers in it gives, for both, and by no more than these. */
static void a_range_of_chargers_holds_each_of_them(void **state)
{
    static const char *const outputs[] = {"40", "50", "60", "40..60"};
    static const char *const asked[] = {"box", "other"};
    (void)state;
    for (size_t a = 0; a < 2; a++) {
        Interval all = {INFINITY, 0.0};
        for (size_t o = 0; o < 4; o++) {
            Compiled c;
            char text[2048];
            snprintf(text, sizeof text,
                     BOAT BANK("%%") "bank second { chemistry agm; voltage 12 V; capacity 100 Ah }\n"
                                     "inlet source { rated 6 A at 230 V }\nday quiet { shore 18:00..21:00 }\n"
                                     "charger box { fed-by source; run 1 m; output %s A at 14.4 V; efficiency 90 %%; feeds house { run 1 m } }\n"
                                     "charger other { fed-by source; run 1 m; output 60 A at 14.4 V; efficiency 90 %%; feeds second { run 1 m } }\n",
                     outputs[o]);
            compile(&c, text);
            expect_no_mistake(&c);
            const Figure *offered = figure_find(c.figures, model_find(c.model, str_from(asked[a])), figure_id(STR("offered")),
                                                model_find(c.model, STR("quiet")));
            if (o < 3) {
                all = (Interval){fmin(all.low, offered->low), fmax(all.high, offered->high)};
            } else {
                assert_near(offered->low, all.low, 1e-6);
                assert_near(offered->high, all.high, 1e-6);
            }
            done_with(&c);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_worst_bank_counts_in_whatever_order_they_are_named),
        cmocka_unit_test(a_charger_gives_while_any_of_its_sources_is_there),
        cmocka_unit_test(each_source_leaves_a_charger_what_its_own_loads_do_not_take),
        cmocka_unit_test(loads_and_idle_ask_the_bank_while_no_other_source_is_there),
        cmocka_unit_test(what_lies_between_an_inverter_and_its_switch_changes_nothing),
        cmocka_unit_test(a_load_is_counted_on_one_bank),
        cmocka_unit_test(all_that_follows_a_day_follows_its_sources),
        cmocka_unit_test(chargers_share_what_their_source_leaves),
        cmocka_unit_test(a_range_of_chargers_holds_each_of_them),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
