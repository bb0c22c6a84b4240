/*
 * Which use of a load is told to be forgotten: of days on which it most likely runs, and of no other.
 */
#include "verdict.h"

#include <stdio.h>

/* Two days, with `chart` under way so that something is counted on each. */
#define TWO_DAYS(first, second, lines) \
    "edition 1\nboat b { length 9 m; beam 3 m; displacement 4000 kg; crew 2; basis iso; currency EUR; sails no }\n" \
    "bank hb { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
    "day one { " first " }\nday two { " second " }\n" lines "\n"
#define AT_ANCHOR "water 10 l per person"
#define UNDER_WAY "distance 30 nmi at 5 kn"
#define TAKES(thing, use) thing " { fed-by hb; run 2 m; protect 10 A breaker; draw 2 A; " use " }\n"
#define CHART TAKES("load chart", "use two 8 h")

static void expect_told(const char *spec, const char *loads)
{
    Compiled c;
    compile_text(&c, spec);
    assert_null(c.spec->messages.first);
    const Finding *f = only_finding(&c, "uncounted");
    assert_non_null(f);
    assert_int_equal(f->verdict, VERDICT_BROKEN);
    if (strstr(f->message, loads) == NULL) {
        fail_msg("%s", f->message);
    }
    compile_free(&c);
}

/* Common practice, no source: a thermostat runs on each day that people live aboard. */
static void a_day_on_which_a_load_most_likely_runs_too_is_told(void **state)
{
    (void)state;
    expect_told(TWO_DAYS(AT_ANCHOR, UNDER_WAY, CHART TAKES("load cold", "use one 40 %")), "`two` counts nothing of `cold`, which states a `use` for the other day");
    expect_told(TWO_DAYS(AT_ANCHOR, AT_ANCHOR "; sun 4 h", TAKES("load cold", "use two 40 %") TAKES("load lamp", "use one 4 h")), "`one` counts nothing of `cold`");
    /* nothing at all is counted on the second day: all are named, in one finding */
    expect_told(TWO_DAYS(AT_ANCHOR, UNDER_WAY, TAKES("load lamp", "use one 4 h") TAKES("load cold", "use one 40 %")), "`lamp` and `cold`");
    expect_told(TWO_DAYS(AT_ANCHOR, "engine 4 h", TAKES("load lamp", "use one 4 h")), "`lamp`");
    /* what states no use at all is told alone: what mends that mends the other */
    expect_told(TWO_DAYS(AT_ANCHOR, UNDER_WAY, TAKES("load lamp", "") TAKES("load cold", "use one 40 %")), "`lamp` states no `use`");
}

static void gear_of_some_days_is_left_alone(void **state)
{
    (void)state;
    static const char *const quiet[] = {
        TWO_DAYS(AT_ANCHOR, UNDER_WAY, CHART TAKES("load lamp", "use one 4 h")),                  /* an evening's */
        TWO_DAYS(AT_ANCHOR, UNDER_WAY, CHART TAKES("load riding-light", "use one 14 h")),         /* a night's */
        TWO_DAYS(AT_ANCHOR, UNDER_WAY, TAKES("load lamp", "use one 4 h") TAKES("load pilot", "use two 30 %")), /* a passage's */
        TWO_DAYS(AT_ANCHOR, UNDER_WAY, CHART TAKES("load cold", "use one 40 %; use two 0 h")),     /* said to be off */
        TWO_DAYS(AT_ANCHOR, "sun 4 h", TAKES("load cold", "use one 40 %")),                        /* nobody is said to be aboard */
        TWO_DAYS(AT_ANCHOR, AT_ANCHOR "; shore 24 h", TAKES("load cold", "use one 40 %")),         /* the shore carries it */
        TWO_DAYS(AT_ANCHOR, UNDER_WAY, CHART TAKES("windlass wl", "use two 0.1 h")),
        TWO_DAYS(AT_ANCHOR, UNDER_WAY, CHART TAKES("nav-light riding", "shows all-round; use one 14 h")),
        TWO_DAYS(AT_ANCHOR, UNDER_WAY, CHART TAKES("heater warm", "output 2 kW; use one 50 %")),   /* a season's */
        TWO_DAYS(AT_ANCHOR, UNDER_WAY, TAKES("radio vhf", "use two 24 h") CHART),
    };
    for (size_t i = 0; i < sizeof quiet / sizeof quiet[0]; i++) {
        expect_verdict(quiet[i], "uncounted", NOTHING, NULL);
    }
}

/* Hours of an element that is none: the line would count nothing without a word. */
static void the_use_of_a_heater_without_an_element_is_told(void **state)
{
    (void)state;
#define BOILER(SAYS) TWO_DAYS(AT_ANCHOR, UNDER_WAY, CHART "water-heater boiler { capacity 20 l; " SAYS " }\n")
    expect_verdict(BOILER("use one 2 h"), "uncounted", BROKEN_AT_ONE, "boiler");
    expect_verdict(BOILER("element 800 W; use one 2 h"), "uncounted", NOTHING, NULL);
    expect_verdict(BOILER(""), "uncounted", NOTHING, NULL);
}

/*
 * A balance by hand: half of 400 Ah at 5 A last 40 h, 1.67 d; over 1.59 at -7 C (IEEE 485, Table 1, second hand) 25.2 h, 1.05 d,
 * and over 1.11 at 15.6 C 36 h.
 */
static void a_goal_that_lead_meets_is_held_against_the_cold(void **state)
{
    (void)state;
#define IN_THE_COLD(DAY, GOAL, BANK)                                                                              \
    "edition 1\nboat wren { length 10 m; beam 3 m; crew 2; currency EUR; basis iso }\nday frost { " DAY " }\n"  \
    "goal quiet { endure " GOAL " on frost }\nbank house { voltage 12 V; capacity 400 Ah; peukert 1; " BANK " }\n" \
    "circuit lamps { fed-by house; run 1 m }\nload lamp { fed-by lamps; draw 5 A; use frost 24 h }\n"
    Compiled c;
    compile_text(&c, IN_THE_COLD("temperature -7 C", "1.6 d", "chemistry flooded"));
    assert_near(compiled_figure_at(&c, "house", FIGURE_ENDURANCE, "frost")->low, 40.0 * 3600.0, 1.0);
    assert_near(compiled_figure_at(&c, "house", FIGURE_COLD_ENDURANCE, "frost")->low, 40.0 / 1.59 * 3600.0, 1.0);
    compile_free(&c);
    compile_text(&c, IN_THE_COLD("temperature 15.6 C", "1.6 d", "chemistry gel"));
    assert_near(compiled_figure_at(&c, "house", FIGURE_COLD_ENDURANCE, "frost")->low, 40.0 / 1.11 * 3600.0, 1.0);
    compile_free(&c);
    expect_verdict(IN_THE_COLD("temperature -7 C", "1.6 d", "chemistry flooded"), "bank-cold", BROKEN_AT_ONE, "house");
    expect_verdict(IN_THE_COLD("temperature -7 C", "1 d", "chemistry flooded"), "bank-cold", NOTHING, NULL);
    expect_verdict(IN_THE_COLD("temperature -7..25 C", "1.6 d", "chemistry flooded"), "bank-cold", OPEN_AT_ONE, "house");
    expect_verdict(IN_THE_COLD("temperature -7 C", "1.6..1.8 d", "chemistry flooded"), "bank-cold", OPEN_AT_ONE, "house");
    /* What is missed as it is says goal-missed; a warm day, a heated box, lithium and a day that says nothing do not mind. */
    expect_verdict(IN_THE_COLD("temperature -7 C", "2 d", "chemistry flooded"), "bank-cold", NOTHING, NULL);
    expect_verdict(IN_THE_COLD("temperature 25 C", "1.6 d", "chemistry flooded"), "bank-cold", NOTHING, NULL);
    expect_verdict(IN_THE_COLD("temperature -7 C", "1.6 d", "chemistry flooded; coldest 25 C"), "bank-cold", NOTHING, NULL);
    expect_verdict(IN_THE_COLD("temperature -7 C", "1.6 d", "chemistry lifepo4"), "bank-cold", NOTHING, NULL);
    expect_verdict(IN_THE_COLD("water 10 l per person", "1.6 d", "chemistry flooded"), "bank-cold", NOTHING, NULL);
}

/* How long it runs follows from the cold of the day: what lacks first is the day's `temperature`. */
static void a_heater_that_no_day_counts_asks_for_the_temperature(void **state)
{
    (void)state;
    static const char *const days[] = {"day winter { }\n", "day winter { temperature 0 C }\n"};
    for (size_t i = 0; i < 2; i++) {
        char spec[900];
        Compiled c;
        snprintf(spec, sizeof spec, "edition 1\nboat k { length 9 m; beam 3 m; displacement 7000 kg; crew 2; currency EUR; basis iso; sails no }\n"
                                    "space saloon { volume 15 m3; floor 6 m2; skin 20 m2; glass 3 m2; built insulated; sleeping no }\n"
                                    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                                    "heater warm { fed-by house; run 3 m; protect 10 A fuse; draw 3 A; output 4 kW; fuel-rate 0.5 l/h; serves saloon; "
                                    "room-sealed yes }\n%s", days[i]);
        compile_text(&c, spec);
        const Finding *finding = compiled_finding(&c, "uncounted");
        assert_true((finding != NULL) == (i == 0));
        assert_true(finding == NULL || strstr(finding->remedies->text, "`temperature` of each day") != NULL);
        compile_free(&c);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_goal_that_lead_meets_is_held_against_the_cold),
        cmocka_unit_test(a_day_on_which_a_load_most_likely_runs_too_is_told),
        cmocka_unit_test(gear_of_some_days_is_left_alone),
        cmocka_unit_test(the_use_of_a_heater_without_an_element_is_told),
        cmocka_unit_test(a_heater_that_no_day_counts_asks_for_the_temperature),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
