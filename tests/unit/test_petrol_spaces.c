/*
 * Spaces in which petrol vapour can lie: by what stands in them, and not by diesel; which of them have to breathe (33 CFR
 * 183.620(a), 183.630); flames and banks there.
 */
#include "unit/verdict.h"

#include <stdio.h>

#define US                                                                                                   \
    "edition 1\nboat dory { length 7.5 m; beam 2.5 m; displacement 2500 kg; crew 3; currency EUR; basis us " \
    "}\n"
#define ISO                                                                                               \
    "edition 1\nboat dory { length 7.5 m; beam 2.5 m; displacement 2500 kg; crew 3; currency EUR; basis " \
    "iso }\n"
#define OUTBOARD "engine outboard { rated 85 kW at 5500 rpm; fuel petrol; mounted outboard }\n"
#define BANK(SAYS) "bank house { chemistry agm; voltage 12 V; capacity 100 Ah; space bay; " SAYS " }\n"
#define LAMP                                                                                               \
    "load lamp { fed-by house; draw 2 A; space bay }\nspace box { }\nbank house { chemistry agm; voltage 12 V; capacity " \
    "100 Ah; space box }\n"
#define TANK(SAYS) "tank can { holds fuel; capacity 60 l; space bay; " SAYS " }\n"

static void a_tank_of_diesel_makes_no_space_of_petrol(void **state)
{
    (void)state;
#define FEED "fuel-line feed { from can; to stove }\nheater stove { output 2 kW; fuel-rate 0.2 l/h }\n"
    expect_verdict(US OUTBOARD "space bay { }\n" TANK("") LAMP, "spark", OPEN_AT_ONE, "lamp");
    expect_verdict(US OUTBOARD "space bay { }\n" TANK("") FEED LAMP, "spark", NOTHING, NULL);
    expect_verdict(US OUTBOARD "space bay { petrol no }\n" TANK("fuel diesel") LAMP, "spark", NOTHING, NULL);
    expect_verdict(US OUTBOARD "space bay { petrol no }\n" TANK("fuel diesel") LAMP, "petrol-said", NOTHING,
                   NULL);
}

/* What stands there goes before what is said; and the contradiction is told. */
static void petrol_no_is_believed_unless_petrol_is_there(void **state)
{
    (void)state;
    expect_verdict(US "space bay { petrol no }\n" TANK("fuel petrol") LAMP, "petrol-said", BROKEN_AT_ONE,
                   "bay");
    expect_verdict(US "space bay { petrol no }\n" TANK("fuel petrol") LAMP, "spark", OPEN_AT_ONE, "lamp");
    expect_verdict(US OUTBOARD "space bay { petrol no }\ntank can { holds fuel; capacity 60 l }\n"
                               "fuel-line feed { from can; to outboard; space bay }\n" LAMP,
                   "petrol-said", BROKEN_AT_ONE, "bay");
    expect_verdict(US "generator set { rated 3 kW at 120 V; fuel petrol; space bay; ignition-protected yes "
                      "}\nspace bay { }\n" LAMP,
                   "spark", OPEN_AT_ONE, "lamp");
}

static void no_vapour_gathers_under_the_sky(void **state)
{
    (void)state;
#define COCKPIT(SAYS) US OUTBOARD "space bay { " SAYS " }\n" TANK("portable yes") LAMP
    expect_verdict(COCKPIT(""), "spark", OPEN_AT_ONE, "lamp");
    expect_verdict(COCKPIT("open-air no"), "spark", OPEN_AT_ONE, "lamp");
    expect_verdict(COCKPIT("open-air yes"), "spark", NOTHING, NULL);
    expect_verdict(COCKPIT("open-air yes"), "petrol-tank-air", NOTHING, NULL);
    expect_verdict(COCKPIT("open-air yes"), "petrol-cabin", NOTHING, NULL);
    expect_verdict(COCKPIT("open-air yes; sleeping yes"), "petrol-said", BROKEN_AT_ONE, "bay");
    expect_verdict(
        US "space bay { open-air yes }\nengine inboard { rated 60 kW at 4000 rpm; fuel petrol; space bay }\n",
        "petrol-blower", NOTHING, NULL);
}

/* No mark makes a flame safe: a fault, carried or fixed, and none is offered. */
static void a_flame_beside_petrol_is_a_fault(void **state)
{
    static const char *const flames[] = {
        "gas-appliance cooker { output 3 kW; space bay }\n",
        "heater cooker { output 2 kW; fuel-rate 0.2 l/h; fuel diesel; space bay; ignition-protected yes }\n",
        "heater cooker { output 2 kW; fuel-rate 0.2 l/h; fuel petrol; space bay; portable yes }\n",
    };
    (void)state;
    for (size_t i = 0; i < sizeof flames / sizeof flames[0]; i++) {
        Compiled c;
        char text[1000];
        snprintf(text, sizeof text, "%s%s", US "space bay { petrol yes }\n", flames[i]);
        expect_verdict(text, "spark", BROKEN_AT_ONE, "cooker");
        compile_text(&c, text);
        const Finding *finding = compiled_finding(&c, "spark");
        assert_int_equal(finding->severity, SEVERITY_FAULT);
        for (const Remedy *r = finding->remedies; r != NULL; r = r->next) {
            assert_null(strstr(r->text, "ignition-protected"));
        }
        compile_free(&c);
    }
    /* What does not say that it burns does; where nobody can tell, it is open; what is electric has no flame. */
    expect_verdict(US "space bay { petrol yes }\nheater fan { output 2 kW; space bay }\n", "spark", BROKEN_AT_ONE, "fan");
    expect_verdict(US "space bay { petrol yes }\nheater fan { draw 900 W; space bay }\n", "spark", OPEN_AT_ONE, "fan");
    expect_verdict(US "space bay { petrol yes }\nheater fan { output 2 kW; draw 2 kW; ignition-protected yes; space bay }\n", "spark",
                   NOTHING, NULL);
    expect_verdict(US "space bay { }\ngas-appliance cooker { output 3 kW; space bay }\n", "spark", NOTHING,
                   NULL);
}

/* 33 CFR 183.420 lets a covered battery stand there: a warning; any other is a fault. */
static void a_bank_beside_petrol_is_found(void **state)
{
    static const struct {
        const char *says;
        Severity severity;
    } rows[] = {{"", SEVERITY_FAULT},
                {"terminals-covered no", SEVERITY_FAULT},
                {"terminals-covered yes", SEVERITY_WARNING}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Compiled c;
        char text[1000];
        snprintf(text, sizeof text, US "space bay { petrol yes }\n" BANK("%s"), rows[i].says);
        expect_verdict(text, "spark", BROKEN_AT_ONE, "house");
        compile_text(&c, text);
        assert_int_equal(compiled_finding(&c, "spark")->severity, rows[i].severity);
        compile_free(&c);
    }
}

/* Under us a can that is carried, a tank that is not of metal, and one beside what can spark; under iso any. */
static void the_space_of_a_petrol_tank_breathes(void **state)
{
    (void)state;
#define SHUT "space bay { volume 1 m3; openings 0 cm2; petrol yes }\n"
    expect_verdict(US SHUT TANK("fuel petrol; material plastic"), "petrol-tank-air", BROKEN_AT_ONE, "can");
    expect_verdict(US SHUT TANK("fuel petrol; material aluminium; portable yes"), "petrol-tank-air",
                   BROKEN_AT_ONE, "can");
    expect_verdict(US SHUT TANK("fuel petrol; material aluminium"), "petrol-tank-air", NOTHING, NULL);
    expect_verdict(US SHUT TANK("fuel petrol; material aluminium") LAMP, "petrol-tank-air", BROKEN_AT_ONE,
                   "can");
    expect_verdict(ISO SHUT TANK("fuel petrol; material aluminium"), "petrol-tank-air", BROKEN_AT_ONE, "can");
    expect_verdict(ISO SHUT TANK("fuel diesel; material plastic"), "petrol-tank-air", NOTHING, NULL);
    expect_verdict(US "space bay { volume 1 m3; ventilated no }\n" TANK("fuel petrol; material plastic"),
                   "petrol-tank-air", BROKEN_AT_ONE, "can");
    expect_verdict(US "space bay { volume 1 m3 }\n" TANK("fuel petrol; material plastic"), "petrol-tank-air",
                   OPEN_AT_ONE, "can");
}

/* A tank of metal asks for nothing under us; the one of plastic that stands behind it does. */
static void of_several_tanks_that_speaks_for_which_the_space_breathes(void **state)
{
    (void)state;
#define BESIDE SHUT TANK("fuel petrol; material aluminium") "tank second { holds fuel; fuel petrol; capacity 10 l; space bay; material plastic }\n"
    expect_verdict(US BESIDE, "petrol-tank-air", BROKEN_AT_ONE, "second");
    expect_verdict(ISO BESIDE, "petrol-tank-air", BROKEN_AT_ONE, "can");
}

/* What is carried with its tank is a can, whatever hangs on it; without, its carburettor and its hose are left: common practice. */
static void an_outboard_below_deck_brings_petrol_there(void **state)
{
    (void)state;
#define STOWED_AT(BAY, SAYS) \
    US "space bay { sleeping no; volume 1 m3; " BAY " }\nengine small { rated 2 kW at 5000 rpm; mounted outboard; fuel petrol; " SAYS " }\n"
    expect_verdict(STOWED_AT("", "space bay; portable yes") LAMP, "spark", OPEN_AT_ONE, "lamp");
    expect_verdict(STOWED_AT("", "space bay; portable yes") BANK(""), "spark", BROKEN_AT_ONE, "house");
    expect_verdict(STOWED_AT("open-air no", "space bay") BANK(""), "spark", BROKEN_AT_ONE, "house");
    expect_verdict(STOWED_AT("ventilated no", "space bay") BANK(""), "spark", BROKEN_AT_ONE, "house");
    expect_verdict(STOWED_AT("", "space bay") BANK(""), "spark", NOTHING, NULL); /* taken to hang in the open */
    expect_verdict(STOWED_AT("open-air yes", "space bay; portable yes") BANK(""), "spark", NOTHING, NULL);
    expect_verdict(STOWED_AT("", "portable yes") BANK(""), "spark", NOTHING, NULL);
    /* beside a locker of gas that reason is the stronger */
    expect_verdict(STOWED_AT("open-air no", "space bay") "gas-locker box { space bay }\n" BANK(""), "spark", BROKEN_AT_ONE, "house");

    expect_verdict(STOWED_AT("openings 0 cm2", "space bay; portable yes"), "petrol-tank-air", BROKEN_AT_ONE, "small");
    expect_verdict(STOWED_AT("openings 70 cm2", "space bay; portable yes"), "petrol-tank-air", NOTHING, NULL);
    expect_verdict(STOWED_AT("", "space bay; portable yes"), "petrol-tank-air", OPEN_AT_ONE, "small");
    expect_verdict(STOWED_AT("openings 0 cm2", "space bay; portable yes") TANK("fuel petrol; portable yes"), "petrol-tank-air",
                   BROKEN_AT_ONE, "can");
    expect_verdict(STOWED_AT("openings 0 cm2", "space bay"), "petrol-tank-air", NOTHING, NULL); /* it has no tank */
}

/* 1 m3 is 35.3 ft3: 5 ln(35.3 / 5) = 9.77 in2 = 63.0 cm2. */
static void so_much_has_to_be_open(void **state)
{
    (void)state;
#define OPEN(AREA) US "space bay { volume 1 m3; openings " AREA " }\n" TANK("fuel petrol; material plastic")
    expect_verdict(OPEN("62.9 cm2"), "petrol-tank-air", BROKEN_AT_ONE, "can");
    expect_verdict(OPEN("63.1 cm2"), "petrol-tank-air", NOTHING, NULL);
    /* Without a volume: less than 3 in2, 19.4 cm2, is too little for any; more may be, and waits for it. */
#define UNKNOWN(AREA)               \
    US "space bay { openings " AREA \
       "; sleeping no }\n" TANK("fuel petrol; material plastic; vent 19 mm; fill 38 mm")
    expect_verdict(UNKNOWN("19 cm2"), "petrol-tank-air", BROKEN_AT_ONE, "can");
    expect_verdict(UNKNOWN("100 cm2"), "petrol-tank-air", OPEN_AT_ONE, "can");
}

/* A number that is said beside a volume that is not proves nothing, and none is named as enough. */
static void what_goes_by_the_volume_is_open_without_it(void **state)
{
    (void)state;
#define BAY(SAYS, BLOWS)                                                                                              \
    US "space bay { engine-space yes; " SAYS " }\nengine inboard { rated 40 kW at 4000 rpm; fuel petrol; space bay }\n" \
       "blower fan { space bay; " BLOWS " }\n"
    static const char *const rules[] = {"petrol-blower", "petrol-blower-output", "petrol-openings"};
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++) {
        expect_verdict(BAY("openings 110 cm2", "flow 90 m3/h; output 40 m3/h"), rules[i], OPEN_AT_ONE, "inboard");
        expect_verdict(BAY("openings 90 cm2; volume 3 m3", "flow 90 m3/h; output 40 m3/h"), rules[i], BROKEN_AT_ONE, "inboard");
        expect_verdict(BAY("openings 110 cm2; volume 0.9 m3", "flow 300 m3/h; output 200 m3/h"), rules[i], NOTHING, NULL);
        expect_verdict(BAY("", ""), rules[i], OPEN_AT_ONE, "inboard");
    }
    Compiled c;
    compile_text(&c, BAY("", ""));
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        assert_null(strstr(f->message, "not known"));
    }
    compile_free(&c);
    compile_text(&c, US "space bay { }\n" TANK("fuel petrol; material plastic"));
    for (const Remedy *r = compiled_finding(&c, "petrol-tank-air")->remedies; r != NULL; r = r->next) {
        assert_null(strstr(r->text, "openings"));
    }
    compile_free(&c);
}

static void nobody_sleeps_beside_petrol(void **state)
{
    (void)state;
#define CABIN(SAYS, OF) US "space bay { " SAYS " }\n" TANK(OF)
    expect_verdict(CABIN("sleeping yes", "fuel petrol; portable yes"), "petrol-cabin", BROKEN_AT_ONE, "can");
    expect_verdict(CABIN("sleeping no", "fuel petrol"), "petrol-cabin", NOTHING, NULL);
    expect_verdict(CABIN("", "fuel petrol"), "petrol-cabin", OPEN_AT_ONE, "can");
    expect_verdict(CABIN("sleeping yes", "fuel diesel"), "petrol-cabin", NOTHING, NULL);
#define STOWED(SAYS, OF) \
    US "space bay { " SAYS " }\nengine small { rated 2 kW at 5000 rpm; mounted outboard; space bay; " OF " }\n"
    expect_verdict(STOWED("sleeping yes", "fuel petrol; portable yes"), "petrol-cabin", BROKEN_AT_ONE, "small");
    expect_verdict(STOWED("", "fuel petrol; portable yes"), "petrol-cabin", OPEN_AT_ONE, "small");
    expect_verdict(STOWED("open-air yes", "fuel petrol; portable yes"), "petrol-cabin", NOTHING, NULL);
    expect_verdict(STOWED("sleeping yes", "fuel diesel; portable yes"), "petrol-cabin", NOTHING, NULL);
    expect_verdict(STOWED("sleeping yes", "fuel petrol; portable yes")
                       "tank can { holds fuel; fuel petrol; capacity 10 l }\nfuel-line feed { from can; to small }\n",
                   "petrol-cabin", NOTHING, NULL);
}

/* With a petrol engine and a diesel heater aboard, the line of the heater carries none. */
static void the_class_of_a_hose_goes_by_what_is_in_it(void **state)
{
    (void)state;
#define INBOARD                                                                                              \
    US "engine inboard { rated 60 kW at 4000 rpm; fuel petrol }\nheater stove { output 2 kW; fuel-rate 0.2 " \
       "l/h }\n"
    expect_verdict(
        INBOARD TANK("fuel diesel") "space bay { }\nfuel-line feed { from can; to stove; grade B1 }\n",
        "fuel-hose", NOTHING, NULL);
    expect_verdict(
        INBOARD TANK("fuel petrol") "space bay { }\nfuel-line feed { from can; to stove; grade B1 }\n",
        "fuel-hose", BROKEN_AT_ONE, "feed");
}

int main(void)
{
    static const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_tank_of_diesel_makes_no_space_of_petrol),
        cmocka_unit_test(petrol_no_is_believed_unless_petrol_is_there),
        cmocka_unit_test(no_vapour_gathers_under_the_sky),
        cmocka_unit_test(a_flame_beside_petrol_is_a_fault),
        cmocka_unit_test(a_bank_beside_petrol_is_found),
        cmocka_unit_test(the_space_of_a_petrol_tank_breathes),
        cmocka_unit_test(of_several_tanks_that_speaks_for_which_the_space_breathes),
        cmocka_unit_test(an_outboard_below_deck_brings_petrol_there),
        cmocka_unit_test(so_much_has_to_be_open),
        cmocka_unit_test(what_goes_by_the_volume_is_open_without_it),
        cmocka_unit_test(nobody_sleeps_beside_petrol),
        cmocka_unit_test(the_class_of_a_hose_goes_by_what_is_in_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
