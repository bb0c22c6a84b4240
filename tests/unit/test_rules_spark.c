/*
 * What may spark where petrol vapour or gas can lie. 33 CFR 183.410(a) asks it of every electrical component of a boat with a
 * petrol engine, outboards apart (183.401(a)), both from memory; of gas: common practice, no source.
 */
#include "unit/verdict.h"

#include <stdio.h>

#define BOAT                                                                                                        \
    "edition 1\nboat b { length 28 ft; beam 9 ft; displacement 8200 lb; crew 2; currency USD; basis us }\nspace bay " \
    "{ }\nspace cabin { }\nbank house { chemistry agm; voltage 12 V; capacity 200 Ah; space cabin }\n"
#define PETROL_BAY BOAT "engine aux { rated 18 hp at 3200 rpm; fuel petrol; space bay; ignition-protected yes }\n"
#define LOCKER BOAT "gas-locker lp { cylinder 10 lb; drained-overboard yes; drain 1/2 in; space bay }\n"

/* Things that switch, turn or charge, without and with the word that settles it. */
static const struct {
    const char *statement, *end, *name;
} sparking[] = {
    {"panel main { fed-by house; space bay", " }", "main"},
    {"switch off { fed-by house; works-as battery; space bay", " }", "off"},
    {"charger ch { output 20 A at 14.2 V; space bay", " }", "ch"},
    {"inverter inv { fed-by house; rated 500 W; output 120 V; space bay", " }", "inv"},
    {"inlet shore { rated 30 A at 120 V; space bay", " }", "shore"},
    {"outlet plug { fed-by house; space bay", " }", "plug"},
    {"generator gen { rated 3 kW at 120 V; space bay", " }", "gen"},
    {"water-heater boiler { fed-by house; capacity 6 gal; space bay", " }", "boiler"},
    {"alternator alt { output 55 A at 14.2 V; engine aux", " }", "alt"},
    {"load lamp { fed-by house; draw 2 A; space bay", " }", "lamp"},
};

static void each_thing_that_sparks(const char *boat, int from_petrol)
{
    for (size_t i = 0; i < sizeof sparking / sizeof sparking[0]; i++) {
        char silent[1200], no[1200], yes[1200];
        bool bolted = strcmp(sparking[i].name, "alt") == 0;
        if (bolted && !from_petrol) {
            continue; /* it stands where its engine does, and there is none */
        }
        snprintf(silent, sizeof silent, "%s%s%s\n", boat, sparking[i].statement, sparking[i].end);
        snprintf(no, sizeof no, "%s%s; ignition-protected no%s\n", boat, sparking[i].statement, sparking[i].end);
        snprintf(yes, sizeof yes, "%s%s; ignition-protected yes%s\n", boat, sparking[i].statement, sparking[i].end);
        expect_verdict(silent, "spark", OPEN_AT_ONE, sparking[i].name);
        expect_verdict(no, "spark", BROKEN_AT_ONE, sparking[i].name);
        expect_verdict(yes, "spark", NOTHING, NULL);
    }
}

static void whatever_is_electric_beside_petrol_is_protected(void **state)
{
    (void)state;
    each_thing_that_sparks(PETROL_BAY, 1);
}

static void whatever_is_electric_beside_gas_is_protected(void **state)
{
    (void)state;
    each_thing_that_sparks(LOCKER, 0);
    expect_verdict(LOCKER "bank start { chemistry agm; voltage 12 V; capacity 70 Ah; space bay }\n", "spark", BROKEN_AT_ONE,
                   "start");
}

#define OPEN_LOCKER \
    BOAT "space box { open-air yes }\ngas-locker lp { cylinder 10 lb; drained-overboard yes; drain 1/2 in; space box }\n"

/* No cylinder is stowed with what sets fire to its gas, or feeds the fire (ABYC A-1, from memory): the sky does not help. */
static void a_gas_locker_in_the_open_air_shares_its_space_with_nothing_that_burns_or_sparks(void **state)
{
    (void)state;
    expect_verdict(OPEN_LOCKER "bank start { chemistry agm; voltage 12 V; capacity 70 Ah; space box; terminals-covered yes }\n",
                   "spark", BROKEN_AT_ONE, "start");
    expect_verdict(OPEN_LOCKER "switch off { fed-by house; works-as battery; space box; ignition-protected no }\n", "spark",
                   BROKEN_AT_ONE, "off");
    expect_verdict(OPEN_LOCKER "engine aux { fed-by house; rated 18 hp at 3200 rpm; fuel diesel; space box }\n", "spark",
                   OPEN_AT_ONE, "aux");
    expect_verdict(OPEN_LOCKER "engine aux { rated 18 hp at 3200 rpm; fuel petrol; mounted outboard }\n"
                               "tank can { holds fuel; capacity 3 gal; portable yes; space box }\n", "spark", BROKEN_AT_ONE, "can");
}

/* A cockpit with a locker in it is open to the sky too: there what has said nothing is not asked. */
static void what_says_nothing_in_a_cockpit_with_a_gas_locker_is_not_asked(void **state)
{
    (void)state;
    expect_verdict(OPEN_LOCKER "panel main { fed-by house; space box }\n", "spark", NOTHING, NULL);
    expect_verdict(OPEN_LOCKER "engine out { rated 18 hp at 5000 rpm; fuel petrol; mounted outboard; space box }\n", "spark",
                   NOTHING, NULL);
}

static void a_petrol_engine_says_it_of_its_starter_and_ignition(void **state)
{
    (void)state;
    expect_verdict(BOAT "engine aux { rated 18 hp at 3200 rpm; fuel petrol; space bay }\n", "spark", OPEN_AT_ONE, "aux");
    expect_verdict(BOAT "engine aux { rated 18 hp at 3200 rpm; fuel diesel; space bay }\n", "spark", NOTHING, NULL);
}

#define OUTBOARD BOAT "engine out { rated 18 hp at 5000 rpm; fuel petrol; mounted outboard; space bay }\n"
#define LAMP "load lamp { fed-by house; draw 2 A; space bay }\n"
#define TANK "tank can { holds fuel; capacity 6 gal; space bay }\n"

static void the_tank_of_an_outboard_counts_and_the_outboard_does_not(void **state)
{
    (void)state;
    expect_verdict(OUTBOARD LAMP, "spark", NOTHING, NULL);
    expect_verdict(OUTBOARD TANK LAMP, "spark", OPEN_AT_ONE, "lamp");
}

/* What states no space may stand beside it: a warning where what is in the outboard alone is there, else a fault. */
static void what_states_no_space_is_asked_as_gravely_as_what_is_there(void **state)
{
    (void)state;
    static const struct {
        const char *beside;
        Severity severity;
    } cases[] = {{"", SEVERITY_WARNING}, {"tank can { holds fuel; capacity 6 gal; space locker }\n", SEVERITY_FAULT}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char spec[2048];
        snprintf(spec, sizeof spec, BOAT "space shut { ventilated no }\nspace locker { }\n"
                 "engine out { rated 18 hp at 5000 rpm; fuel petrol; mounted outboard; space shut }\n"
                 "switch off { fed-by house; works-as battery }\n%s", cases[i].beside);
        Compiled c;
        compile_text(&c, spec);
        const Finding *open = NULL;
        for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
            open = strcmp(f->rule->name, "spark") == 0 && strstr(f->message, "nothing says whether") != NULL ? f : open;
        }
        assert_non_null(open);
        assert_int_equal(open->severity, cases[i].severity);
        compile_free(&c);
    }
}

/* With a diesel aboard too it is the line that says what is in the tank. */
static void a_tank_with_a_line_to_a_petrol_engine_holds_petrol(void **state)
{
    (void)state;
#define BOTH OUTBOARD "engine main-engine { rated 18 hp at 3200 rpm; fuel diesel; space cabin }\n" TANK LAMP
    expect_verdict(BOTH "fuel-line pipe { from can; to out }\n", "spark", OPEN_AT_ONE, "lamp");
    expect_verdict(BOTH "fuel-line pipe { from can; to main-engine }\n", "spark", NOTHING, NULL);
}

/* What the engine says of all that is electric on it holds for an alternator that is built into it; an outboard is not asked. */
static void an_alternator_in_its_engine_is_spoken_for(void **state)
{
    (void)state;
#define BUILT_IN(MOUNTED, SAYS, OWN) \
    BOAT "engine eng { rated 10 hp at 5500 rpm; fuel petrol; " MOUNTED "space bay; " SAYS " }\n" TANK \
         "alternator alt { engine eng; output 10 A at 14.2 V; built-in yes; " OWN "feeds house }\n"
    expect_verdict(BUILT_IN("mounted outboard; ", "ignition-protected yes", ""), "spark", NOTHING, NULL);
    expect_verdict(BUILT_IN("mounted outboard; ", "", ""), "spark", NOTHING, NULL);
    expect_verdict(BUILT_IN("", "ignition-protected yes", ""), "spark", NOTHING, NULL);
    expect_verdict(BUILT_IN("", "", ""), "spark", OPEN_AT_ONE, "eng");
    expect_verdict(BUILT_IN("", "ignition-protected yes", "ignition-protected no; "), "spark", BROKEN_AT_ONE, "alt");
}

static void what_is_carried_about_or_stands_elsewhere_is_not_asked(void **state)
{
    (void)state;
    expect_verdict(PETROL_BAY "panel main { fed-by house; space cabin }\n", "spark", NOTHING, NULL);
    expect_verdict(PETROL_BAY "load lamp { draw 2 A; portable yes; space bay }\n", "spark", NOTHING, NULL);
    expect_verdict(PETROL_BAY "tank can { holds fresh; capacity 6 gal }\npump by-hand { from can; space bay }\n", "spark", NOTHING, NULL);
}

/* Silence is not safety: what has no place is asked for it once, and not where only gas can lie, nor what hangs on deck. */
#define RELAY "converter relay { relay yes; fed-by house; output 30 A at 13.8 V; feeds house"
static void what_stands_nowhere_is_asked_for_its_space_beside_petrol(void **state)
{
    (void)state;
    expect_verdict(PETROL_BAY RELAY " }\n", "spark", OPEN_AT_ONE, "relay");
    expect_verdict(PETROL_BAY RELAY " }\nload wash { draw 6 A; fed-by house }\nbank start { chemistry agm; voltage 12 V; capacity 70 Ah }\n",
                   "spark", OPEN_AT_ONE, "relay");
    expect_verdict(PETROL_BAY RELAY "; space cabin }\n", "spark", NOTHING, NULL);
    expect_verdict(PETROL_BAY RELAY "; ignition-protected yes }\n", "spark", NOTHING, NULL);
    expect_verdict(PETROL_BAY "nav-light top { shows masthead; draw 1 A; fed-by house }\n", "spark", NOTHING, NULL);
    expect_verdict(LOCKER RELAY " }\n", "spark", NOTHING, NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(whatever_is_electric_beside_petrol_is_protected),
        cmocka_unit_test(whatever_is_electric_beside_gas_is_protected),
        cmocka_unit_test(a_gas_locker_in_the_open_air_shares_its_space_with_nothing_that_burns_or_sparks),
        cmocka_unit_test(what_says_nothing_in_a_cockpit_with_a_gas_locker_is_not_asked),
        cmocka_unit_test(a_petrol_engine_says_it_of_its_starter_and_ignition),
        cmocka_unit_test(the_tank_of_an_outboard_counts_and_the_outboard_does_not),
        cmocka_unit_test(what_states_no_space_is_asked_as_gravely_as_what_is_there),
        cmocka_unit_test(a_tank_with_a_line_to_a_petrol_engine_holds_petrol),
        cmocka_unit_test(an_alternator_in_its_engine_is_spoken_for),
        cmocka_unit_test(what_is_carried_about_or_stands_elsewhere_is_not_asked),
        cmocka_unit_test(what_stands_nowhere_is_asked_for_its_space_beside_petrol),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
