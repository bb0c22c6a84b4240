/*
 * Cables and banks that cannot bring what is asked of them. Ohm's law: E volts behind R ohm bring E2 / 4R watts at most, at half
 * the current of a short circuit.
 */
#include "verdict.h"

#include <stdio.h>

#define BOAT "edition 1\nboat b { length 9 m; beam 3 m; displacement 4000 kg; crew 2; basis iso; currency EUR; sails no }\n"
#define BANK(more) "bank hb { chemistry agm; voltage 12 V; capacity 100 Ah; " more " }\n"
#define TAKES(thing, more) thing " { fed-by hb; run 1 m; wire 95 mm2; protect 250 A fuse class-t 0.1 m from source; " more " }\n"

/* An agm battery of 12 V rests at some 12.8 V: 160 A through 80 mohm, and at most 512 W. */
static void a_bank_too_weak_for_what_hangs_on_it_is_told_once(void **state)
{
    (void)state;
    expect_verdict(BOAT BANK("resistance 80 mohm") TAKES("windlass wl", "draw 1000 W"), "collapse", BROKEN_AT_ONE, "hb");
    expect_verdict(BOAT BANK("resistance 80 mohm") TAKES("windlass wl", "draw 400 W"), "collapse", NOTHING, NULL);
    expect_verdict(BOAT BANK("resistance 80 mohm") TAKES("inverter inv", "rated 1000 W; output 230 V"), "collapse", BROKEN_AT_ONE, "hb");
    expect_verdict(BOAT BANK("resistance 80 mohm") TAKES("load fan", "draw 100 A"), "collapse", BROKEN_AT_ONE, "hb");
    expect_verdict(BOAT BANK("resistance 80 mohm") TAKES("load fan", "draw 70 A"), "collapse", NOTHING, NULL); /* amperes do not rise */
    expect_verdict(BOAT BANK("resistance 20..80 mohm") TAKES("windlass wl", "draw 1000 W"), "collapse", OPEN_AT_ONE, "hb");
    expect_verdict(BOAT BANK("") TAKES("windlass wl", "draw 1000 W"), "collapse", NOTHING, NULL); /* usual resistance: a few mohm */
    expect_verdict(BOAT BANK("resistance 80 mohm") TAKES("load one", "draw 50 A") TAKES("load two", "draw 50 A"), "collapse", BROKEN_AT_ONE, "hb");
    /* told of the thruster by thruster-volts, of a starter by the rules of cranking */
    expect_verdict(BOAT BANK("resistance 80 mohm") TAKES("thruster bow", "draw 3000 W"), "collapse", NOTHING, NULL);
    expect_verdict(BOAT BANK("resistance 80 mohm") TAKES("engine iron", "rated 20 kW at 3000 rpm; fuel diesel; starter 200 A"), "collapse", NOTHING,
                   NULL);
}

/* 500 W over 30 m of 14 AWG (2.08 mm2, 0.5 ohm there and back): 12 V bring 70 W at most, and no more than 12 V are lost. */
static void no_more_than_all_is_lost(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT BANK("resistance 3 mohm") "load fan { fed-by hb; run 30 m; wire 14 AWG; protect 15 A fuse class-t 0.1 m from source; draw 500 W }\n");
    assert_true(compiled_figure(&c, "fan", FIGURE_VOLTAGE_DROP)->high <= 1.0);
    assert_true(compiled_figure(&c, "fan", FIGURE_TOTAL_DROP)->high <= 1.0);
    assert_null(compiled_figure(&c, "fan", FIGURE_LOSS));
    compile_free(&c);
}

/* Of two banks side by side nobody knows what each of them gives. */
static void of_joined_banks_neither_is_told(void **state)
{
    (void)state;
    expect_verdict(BOAT BANK("resistance 80 mohm") "bank other { chemistry agm; voltage 12 V; capacity 100 Ah; resistance 80 mohm }\n"
                   "switch both { fed-by hb, other; works-as parallel; rated 300 A }\n"
                   "load fan { fed-by both; run 1 m; wire 95 mm2; protect 250 A fuse class-t; draw 100 A }\n",
                   "collapse", NOTHING, NULL);
}

static const Finding *finding_there(const Compiled *c, const char *rule, const char *subject)
{
    const Finding *f = finding_on(c, rule, subject);
    if (f == NULL) {
        fail_msg("%s says nothing of %s", rule, subject);
    }
    return f;
}

/* 80 A through 14 m of 1.5 mm2: 13.8 V of 12 V by resistance, 12.2 V by the formula. */
static void nothing_loses_more_than_all(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT BANK("resistance 5 mohm") "load fan { fed-by hb; run 7 m; wire 1.5 mm2; protect 10 A breaker 0.1 m from source; draw 80 A }\n");
    const Finding *drop = finding_there(&c, "wire-drop", "fan"), *collapse = finding_there(&c, "collapse", "fan");
    assert_non_null(strstr(drop->message, "by the formula of the basis more than all of the voltage is lost"));
    assert_null(strstr(drop->message, "102 %"));
    static const char *const cables[] = {"wire 25 mm2 insulation 105 C", "wire 35 mm2"}; /* these carry 80 A too */
    assert_string_equal(drop->remedies->text, "wire 25 mm2");
    assert_string_equal(collapse->remedies->text, cables[0]);
    assert_string_equal(collapse->remedies->next->text, cables[1]);
    compile_free(&c);
    for (size_t i = 0; i < sizeof cables / sizeof cables[0]; i++) {
        char spec[1000];
        snprintf(spec, sizeof spec, BOAT BANK("resistance 5 mohm") "load fan { fed-by hb; run 7 m; %s; protect 100 A breaker 0.1 m from source; draw 80 A }\n", cables[i]);
        compile_text(&c, spec);
        assert_null(only_finding(&c, "collapse"));
        assert_null(only_finding(&c, "wire-drop"));
        compile_free(&c);
    }
}

/* A run that is not decided may lose nothing, or all. */
static void what_an_undecided_run_loses_is_said_in_words(void **state)
{
    (void)state;
#define RUN(LENGTH) BOAT BANK("resistance 5 mohm") "load fan { fed-by hb; run " LENGTH "; wire 4 mm2; protect 10 A fuse; draw 8 A }\n"
    static const struct {
        const char *spec, *said;
    } runs[] = {
        {RUN("?"), "anything from nothing to all of the voltage is lost on the way to `fan`; at most"},
        {RUN(">= 2 m"), "% or more of the voltage is lost on the way to `fan`; at most"},
    };
    for (size_t i = 0; i < 2; i++) {
        Compiled c;
        compile_text(&c, runs[i].spec);
        const Finding *drop = finding_there(&c, "wire-drop", "fan");
        assert_int_equal(drop->verdict, VERDICT_OPEN);
        assert_non_null(strstr(drop->message, runs[i].said));
        assert_null(strstr(drop->message, "formula of the basis"));
        compile_free(&c);
    }
}

/* Of how many volts a bank is not decided: what so many watts are in amperes nobody knows, which is no word that a start holds. */
static void a_surge_that_is_not_known_is_counted(void **state)
{
    (void)state;
#define STARTED(SURGE)                                                                                  \
    BOAT "bank hb { chemistry agm; voltage ?; capacity 100 Ah }\n"                                       \
    "load fan { fed-by hb; run 7 m; wire 6 mm2; protect 10 A fuse 0.1 m from source; draw 5 A" SURGE " }\n"
    Compiled c;
    compile_text(&c, STARTED(""));
    uint32_t without = c.outcome->unjudged;
    compile_free(&c);
    compile_text(&c, STARTED("; surge 500 W for 1 s"));
    assert_null(only_finding(&c, "surge"));
    assert_int_equal(c.outcome->unjudged, without + 1);
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_more_than_all_is_lost),
        cmocka_unit_test(a_bank_too_weak_for_what_hangs_on_it_is_told_once),
        cmocka_unit_test(of_joined_banks_neither_is_told),
        cmocka_unit_test(nothing_loses_more_than_all),
        cmocka_unit_test(what_an_undecided_run_loses_is_said_in_words),
        cmocka_unit_test(a_surge_that_is_not_known_is_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
