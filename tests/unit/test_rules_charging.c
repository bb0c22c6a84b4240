/*
 * Rules on what charges and where it goes, where their own examples do not reach: common practice, no source; a nominal 12 V
 * is charged with about 14.4 V, 24 V with 28.8 V, 48 V with 57.6 V.
 */
#include "unit/verdict.h"

#define ISO                                                                                               \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis " \
    "iso; sails no }\n"
#define BANK(NAME, MORE) "bank " NAME " { chemistry agm; voltage 12 V; capacity 200 Ah; " MORE " }\n"
#define ENGINE "engine eng { rated 28 kW at 3000 rpm; fuel diesel }\n"
#define FEEDS(TO) "feeds " TO " { run 2 m; wire 35 mm2 insulation 105 C; protect 150 A fuse }"

static void what_feeds_nothing_is_told_of_every_kind(void **state)
{
    (void)state;
    expect_verdict(ISO BANK("house", "charged-ashore yes") ENGINE
                   "alternator alt { engine eng; output 60 A at 14 V }\n",
                   "feeds-nothing", BROKEN_AT_ONE, "alt");
    expect_verdict(
        ISO BANK("house",
                 "charged-ashore yes") "inlet shore { rated 16 A at 230 V }\n"
                                       "charger ch { fed-by shore; run 1 m; output 30 A at 14.4 V }\n",
        "feeds-nothing", BROKEN_AT_ONE, "ch");
    expect_verdict(ISO BANK("house", "charged-ashore yes") "solar panel { rated 100 W; portable yes }\n",
                   "feeds-nothing", NOTHING, NULL);
    expect_verdict(
        ISO BANK("house",
                 "charged-ashore yes") "inverter sine { fed-by house; run 1 m; rated 500 W; output 230 V }\n"
                                       "outlet socket { fed-by sine; run 1 m }\n",
        "feeds-nothing", NOTHING, NULL);
}

/* A mistake in the one line is told; nothing is said of what rests on it. */
static void a_way_with_a_mistake_in_it_is_waited_for(void **state)
{
    (void)state;
    expect_verdict(ISO BANK("house", "") "solar sun { rated 100 W; feeds hose { run 1 m } }\n",
                   "feeds-nothing", WAITING, NULL);
    expect_verdict(ISO BANK("house", "") "solar sun { rated 100 W; feeds hose { run 1 m } }\n",
                   "bank-uncharged", WAITING, NULL);
}

static void a_bank_is_charged_from_aboard_through_a_switch_or_ashore(void **state)
{
    (void)state;
#define TWO(MORE) \
    ISO BANK("house", "") BANK("start", "role start") "solar sun { rated 100 W; " FEEDS("house") " }\n" MORE
    expect_verdict(TWO(""), "bank-uncharged", BROKEN_AT_ONE, "start");
    expect_verdict(TWO("switch join { fed-by house, start; works-as parallel }\n"), "bank-uncharged", NOTHING,
                   NULL);
    expect_verdict(TWO("converter up { fed-by house; run 1 m; output 10 A at 14.4 V; " FEEDS("start") " }\n"),
                   "bank-uncharged", NOTHING, NULL);
    expect_verdict(ISO BANK("house", "charged-ashore yes"), "bank-uncharged", NOTHING, NULL);
    expect_verdict(ISO BANK("house", "portable yes"), "bank-uncharged", NOTHING, NULL);
}

static void voltages_are_compared_by_their_class(void **state)
{
    (void)state;
#define CHARGED_BY(BANK_V, CHARGER_V)                                               \
    ISO "bank house { chemistry lifepo4; voltage " BANK_V " V; capacity 200 Ah }\n" \
        "inlet shore { rated 16 A at 230 V }\n"                                     \
        "charger ch { fed-by shore; run 1 m; output 30 A at " CHARGER_V " V; " FEEDS("house") " }\n"
    static const struct {
        const char *spec;
        int verdict;
    } cases[] = {
        {CHARGED_BY("12.8", "14.6"), NOTHING},       {CHARGED_BY("12.8", "13.8"), NOTHING},
        {CHARGED_BY("12.8", "28.8"), BROKEN_AT_ONE}, {CHARGED_BY("25.6", "14.6"), BROKEN_AT_ONE},
        {CHARGED_BY("25.6", "29.2"), NOTHING},       {CHARGED_BY("38.4", "43.8"), NOTHING},
        {CHARGED_BY("51.2", "58.4"), NOTHING},       {CHARGED_BY("51.2", "29.2"), BROKEN_AT_ONE},
        {CHARGED_BY("51.2", "54"), NOTHING},         {CHARGED_BY("12.8", "14.4..28.8"), OPEN_AT_ONE},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        expect_verdict(cases[i].spec, "wrong-voltage", cases[i].verdict, "ch");
    }
}

/*
 * Four cells of lithium end at 3.65 V each, six of gel at 2.4 V (makers' absorption voltages, from memory); 12, 24 and 48 V are
 * one, two and four times that. A full bank of four rests at 13.4 V (battery.def).
 */
static void what_charges_stays_within_what_the_cells_stand_and_above_their_rest(void **state)
{
    (void)state;
#define SET_TO(BANK_LINES, CHARGER_V) \
    ISO "bank house { " BANK_LINES "; capacity 200 Ah }\ninlet shore { rated 16 A at 230 V }\n" \
        "charger ch { fed-by shore; run 1 m; output 30 A at " CHARGER_V " V; " FEEDS("house") " }\n"
#define LITHIUM_V(V) "chemistry lifepo4; voltage " V " V"
#define GEL_V(V) "chemistry gel; voltage " V " V"
    static const struct {
        const char *spec;
        int verdict;
        Severity severity;
    } cases[] = {
        {SET_TO(LITHIUM_V("12.8"), "15.8"), BROKEN_AT_ONE, SEVERITY_FAULT},
        {SET_TO(LITHIUM_V("12.8"), "19"), BROKEN_AT_ONE, SEVERITY_FAULT},
        {SET_TO(LITHIUM_V("12.8"), "14.6"), NOTHING, SEVERITY_FAULT},
        {SET_TO(LITHIUM_V("12.8"), "12"), BROKEN_AT_ONE, SEVERITY_WARNING},
        {SET_TO(LITHIUM_V("12.8"), "14..15"), OPEN_AT_ONE, SEVERITY_FAULT},
        {SET_TO(LITHIUM_V("12"), "14.4"), NOTHING, SEVERITY_FAULT},
        {SET_TO(LITHIUM_V("25.6"), "29.2"), NOTHING, SEVERITY_FAULT},
        {SET_TO(LITHIUM_V("25.6"), "29.6"), BROKEN_AT_ONE, SEVERITY_FAULT},
        {SET_TO(LITHIUM_V("12.8") "; series 4; count 4", "58.4"), NOTHING, SEVERITY_FAULT},
        {SET_TO(LITHIUM_V("12.8") "; series 4; count 4", "60"), BROKEN_AT_ONE, SEVERITY_FAULT},
        {SET_TO(LITHIUM_V("12.8") "; max-charge-voltage 14.2 V", "14.4"), BROKEN_AT_ONE, SEVERITY_FAULT},
        {SET_TO(GEL_V("12"), "15.8"), BROKEN_AT_ONE, SEVERITY_FAULT},
        {SET_TO(GEL_V("12"), "14.2"), NOTHING, SEVERITY_FAULT},
        {SET_TO(GEL_V("12"), "13"), BROKEN_AT_ONE, SEVERITY_WARNING}, /* above rest, below every float */
        {SET_TO(GEL_V("12"), "13.2"), NOTHING, SEVERITY_FAULT},
        {SET_TO(GEL_V("12") "; max-charge-voltage 15 V", "14.8"), NOTHING, SEVERITY_FAULT},
        {SET_TO(GEL_V("12..24"), "14.2"), OPEN_AT_ONE, SEVERITY_WARNING},
        {SET_TO(GEL_V("24"), "14.2"), NOTHING, SEVERITY_FAULT}, /* wrong-voltage tells of that */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        expect_verdict(cases[i].spec, "charge-voltage", cases[i].verdict, "ch");
        Compiled c;
        compile_text(&c, cases[i].spec);
        const Finding *f = only_finding(&c, "charge-voltage");
        assert_true(f == NULL || f->severity == cases[i].severity);
        compile_free(&c);
    }
    expect_verdict(ISO "bank house { " GEL_V("12") "; capacity 200 Ah }\n"
                       "solar sun { rated 100 W; charge-voltage 14.8 V; " FEEDS("house") " }\n",
                   "charge-voltage", BROKEN_AT_ONE, "sun");
}

/* No panel gives its open-circuit voltage and its short-circuit current at once: 22 V x 6 A = 132 W is more than it can give. */
static void a_plate_that_cannot_be_right_is_told(void **state)
{
    (void)state;
#define PLATE(RATED, MORE) ISO "solar roof { rated " RATED "; open-circuit 22 V; " MORE " }\n"
#define CRANKED(LINES) ISO "bank start { voltage 12 V; role start; " LINES " }\n"
    expect_verdict(PLATE("1100 W", "short-circuit 6 A"), "array-power", BROKEN_AT_ONE, "roof");
    expect_verdict(PLATE("110 W", "short-circuit 6 A"), "array-power", NOTHING, NULL);
    expect_verdict(PLATE("11 W", "short-circuit 6 A"), "array-power", BROKEN_AT_ONE, "roof");
    expect_verdict(PLATE("110 W", "short-circuit 4..6 A"), "array-power", OPEN_AT_ONE, "roof");
    expect_verdict(PLATE("1100 W", ""), "array-power", NOTHING, NULL);
    expect_verdict(CRANKED("chemistry agm; capacity 7 Ah; cranking 640 A"), "cranking-doubtful", BROKEN_AT_ONE, "start");
    expect_verdict(CRANKED("chemistry agm; capacity 70 Ah; cranking 640 A"), "cranking-doubtful", NOTHING, NULL);
    expect_verdict(CRANKED("chemistry lifepo4; capacity 7 Ah; cranking 300 A"), "cranking-doubtful", NOTHING, NULL);
}

/*
 * Common practice, no source: one that seeks the greatest power turns voltage into current, so what it gives is no limit to
 * what it takes; a simple one passes what its panels drive. 2 strings x 6.2 A x 1.25 = 15.5 A.
 */
static void what_a_controller_takes_is_asked_where_only_what_it_gives_is_known(void **state)
{
    (void)state;
#define STRINGS(MORE) \
    ISO "solar roof { rated 100 W; open-circuit 22 V; short-circuit 6.2 A; count 2; parallel 2; max-output 15 A; " MORE " }\n"
    expect_verdict(STRINGS(""), "array-current", OPEN_AT_ONE, "roof");
    expect_verdict(STRINGS("controller pwm"), "array-current", BROKEN_AT_ONE, "roof");
    expect_verdict(STRINGS("max-input-current 15 A"), "array-current", BROKEN_AT_ONE, "roof");
    expect_verdict(STRINGS("max-input-current 20 A"), "array-current", NOTHING, NULL);
}

/* 30 A ashore, or 18 A with the engine, and 15 A of sun: 45 A at one time, 63 A with the engine running at the quay. */
static void what_charges_ashore_and_with_the_engine_is_not_simply_added(void **state)
{
    (void)state;
#define BOTH(MOST) \
    ISO "bank house { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah; max-charge " MOST " }\n" ENGINE \
        "bank start { chemistry agm; voltage 12 V; capacity 90 Ah; role start; max-charge 100 A }\n" \
        "alternator alt { engine eng; output 60 A at 14.2 V; " FEEDS("start") " }\n" \
        "converter dcdc { fed-by start; run 1 m; output 18 A at 14.2 V; " FEEDS("house") " }\n" \
        "inlet shore { rated 16 A at 230 V }\ncharger ch { fed-by shore; run 1 m; output 30 A at 14.2 V; " FEEDS("house") " }\n" \
        "solar sun { rated 300 W; max-output 15 A; charge-voltage 14.2 V; " FEEDS("house") " }\n"
    static const struct {
        const char *spec;
        int verdict;
        Severity severity;
    } cases[] = {
        {BOTH("70 A"), NOTHING, SEVERITY_FAULT},
        {BOTH("50 A"), BROKEN_AT_ONE, SEVERITY_WARNING},
        {BOTH("50..70 A"), OPEN_AT_ONE, SEVERITY_WARNING},
        {BOTH("40 A"), BROKEN_AT_ONE, SEVERITY_FAULT},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        expect_verdict(cases[i].spec, "bank-charge", cases[i].verdict, "house");
        Compiled c;
        compile_text(&c, cases[i].spec);
        const Finding *f = only_finding(&c, "bank-charge");
        assert_true(f == NULL || f->severity == cases[i].severity);
        compile_free(&c);
    }
}

/*
 * A charger of 25 A in all on both banks, and a relay of 30 A between them: 25 A ashore, 30 A with the engine, 55 A where both
 * run. One on the other bank alone, or a converter, which takes of that bank what it likes, may bring its 30 A at any time.
 */
static void what_a_relay_passes_on_of_a_charger_counts_once(void **state)
{
    (void)state;
#define RELAYED(MOST, RELAY, CHARGED) \
    ISO "bank house { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah; max-charge " MOST " }\n" ENGINE \
        "bank start { chemistry lifepo4; voltage 12.8 V; capacity 90 Ah; role start; max-charge 100 A }\n" \
        "alternator alt { engine eng; output 35 A at 14.2 V; " FEEDS("start") " }\n" \
        "converter between { " RELAY "fed-by start; run 1 m; output 30 A at 13.8 V; " FEEDS("house") " }\n" \
        "inlet shore { rated 16 A at 230 V }\ncharger ch { fed-by shore; run 1 m; output 25 A at 14.4 V; outputs-apart yes; " CHARGED " }\n"
    static const struct {
        const char *spec;
        int verdict;
        Severity severity;
    } cases[] = {
        {RELAYED("50 A", "relay yes; ", FEEDS("house") "; " FEEDS("start")), BROKEN_AT_ONE, SEVERITY_WARNING},
        {RELAYED("28 A", "relay yes; ", FEEDS("house") "; " FEEDS("start")), BROKEN_AT_ONE, SEVERITY_FAULT},
        {RELAYED("50 A", "", FEEDS("house") "; " FEEDS("start")), BROKEN_AT_ONE, SEVERITY_FAULT},
        {RELAYED("28 A", "relay yes; ", FEEDS("start")), BROKEN_AT_ONE, SEVERITY_FAULT},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        expect_verdict(cases[i].spec, "bank-charge", cases[i].verdict, "house");
        Compiled c;
        compile_text(&c, cases[i].spec);
        assert_int_equal(only_finding(&c, "bank-charge")->severity, cases[i].severity);
        compile_free(&c);
    }
}

/*
 * Kirchhoff: 40 A at 14.2 V and 90 % are 52.6 A of a 12 V bank; 16 A of alternator are 12 A when it is hot, less at low speed.
 * What is missing comes out of the bank that has to start the engine.
 */
static void a_converter_larger_than_the_alternator_before_it_is_warned_of(void **state)
{
    (void)state;
#define ACROSS(DAY, ROLE, AMPS, MORE) \
    ISO DAY ENGINE "bank start { chemistry agm; voltage 12 V; capacity 70 Ah; role " ROLE " }\n" BANK("house", "") \
        "alternator ob { engine eng; output 16 A at 14.4 V; " FEEDS("start") " }\n" \
        "converter dcdc { fed-by start; run 1 m; output " AMPS " at 14.2 V; " MORE FEEDS("house") " }\n"
#define TRIP "day trip { engine 3 h at 3000 rpm }\n"
    expect_verdict(ACROSS(TRIP, "start", "40 A", ""), "converter-drains", BROKEN_AT_ONE, "dcdc");
    expect_verdict(ACROSS("", "start", "40 A", ""), "converter-drains", BROKEN_AT_ONE, "dcdc");
    expect_verdict(ACROSS(TRIP, "start", "8 A", ""), "converter-drains", NOTHING, NULL);
    expect_verdict(ACROSS(TRIP, "start", "8..40 A", ""), "converter-drains", OPEN_AT_ONE, "dcdc");
    expect_verdict(ACROSS(TRIP, "start", "40 A", "surplus-only yes; "), "converter-drains", NOTHING, NULL);
    expect_verdict(ACROSS(TRIP, "house", "40 A", ""), "converter-drains", NOTHING, NULL);
    /* 11 A are more than the 8 A that are left at half the speed, and less than the 12 A at full speed */
    expect_verdict(ACROSS("day slow { engine 3 h at 700 rpm }\n", "start", "8 A", ""), "converter-drains", BROKEN_AT_ONE, "dcdc");
}

/*
 * 5 A half of a day at anchor, where nothing charges: 720 Wh over 90 % come out of the battery that starts the engine. Under way
 * the alternator brings more than the converter takes, and on such a day puts back what the night took.
 */
static void a_converter_that_empties_the_starting_bank_at_anchor_is_warned_of(void **state)
{
    (void)state;
#define HOUSE_ON_START(MORE, DAY)                                                                                         \
    ISO "day day-1 { " DAY "sun 0 h }\n" ENGINE                                                                            \
        "bank start { chemistry agm; voltage 12 V; capacity 95 Ah; role start }\n" BANK("house", "")                      \
        "alternator big { engine eng; output 110 A at 14.4 V; " FEEDS("start") " }\n"                                     \
        "converter dcdc { fed-by start; run 1 m; output 40 A at 14.4 V; " MORE FEEDS("house") " }\n"                      \
        "load fridge { fed-by house; run 1 m; draw 5 A; use day-1 50 % }\n"
    expect_verdict(HOUSE_ON_START("", ""), "converter-drains", BROKEN_AT_ONE, "dcdc");
    expect_verdict(HOUSE_ON_START("surplus-only yes; ", ""), "converter-drains", NOTHING, NULL);
    expect_verdict(HOUSE_ON_START("", "engine 14 h at 2000 rpm; "), "converter-drains", NOTHING, NULL);
    /* a small load of its own, which the alternator makes good: without the converter nothing would be missing */
#define TRACKER(AMPS) "load tracker { fed-by start; run 1 m; draw " AMPS "; use day-1 24 h }\n"
    expect_verdict(HOUSE_ON_START("", "engine 6 h at 2000 rpm; ") TRACKER("0.5 A"), "converter-drains", BROKEN_AT_ONE, "dcdc");
    expect_verdict(HOUSE_ON_START("surplus-only yes; ", "engine 6 h at 2000 rpm; ") TRACKER("0.5 A"), "converter-drains", NOTHING, NULL);
    /* what the bank loses by that load alone is not laid to a converter that carries nothing */
    expect_verdict(ISO "day day-1 { sun 0 h }\n" ENGINE "bank start { chemistry agm; voltage 12 V; capacity 95 Ah; role start }\n" BANK("house", "")
                       "converter dcdc { fed-by start; run 1 m; output 4 A at 14.4 V; " FEEDS("house") " }\n" TRACKER("0.5 A"),
                   "converter-drains", NOTHING, NULL);
}

/* One cause, told once: on the worst day, the others by name. */
static void a_converter_that_drains_on_several_days_is_told_once(void **state)
{
    (void)state;
    static const char spec[] =
        HOUSE_ON_START("", "") "day day-2 { sun 0 h }\nday day-3 { sun 0 h }\nload more { fed-by house; run 1 m; draw 5 A; use day-2 80 %; use day-3 20 % }\n";
    expect_verdict(spec, "converter-drains", BROKEN_AT_ONE, "dcdc");
    Compiled c;
    compile_text(&c, spec);
    const Finding *f = compiled_finding(&c, "converter-drains");
    bool named = false;
    for (const FindingNote *note = f->notes; note != NULL; note = note->next) {
        named = named || strstr(note->text, "the same is found, and no worse, on `day-") != NULL;
    }
    assert_true(named);
    compile_free(&c);
}

/* 1200 Wh to its limit cannot lose more: what is asked beyond that is told so, and that what one lends the other is one loss. */
static void a_bank_is_not_said_to_lose_more_than_it_holds(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, ISO "day day-1 { sustainable yes; sun 0 h }\n" ENGINE
                         "bank start { chemistry agm; voltage 12 V; capacity 95 Ah; role start }\n" BANK("house", "")
                         "converter dcdc { fed-by start; run 1 m; output 40 A at 14.4 V; " FEEDS("house") " }\n"
                         "load fridge { fed-by house; run 1 m; draw 10 A; use day-1 100 % }\n");
    const Finding *start = NULL;
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        bool of_start = strcmp(f->rule->name, "deficit") == 0 && strstr(f->message, "`start`") != NULL;
        start = of_start ? f : start;
    }
    assert_non_null(start);
    assert_null(strstr(start->message, "loses"));
    assert_non_null(strstr(start->message, "more of `start` than that gets, which holds 570 Wh down to its limit"));
    assert_true(start->notes != NULL && strstr(start->notes->text, "the two are one loss") != NULL);
    compile_free(&c);
}

/* Common practice, no source: an outboard charges the battery that starts it, back through the cable of its starter. */
static void an_alternator_in_an_outboard_is_asked_for_no_cable_and_no_price(void **state)
{
    (void)state;
#define OUTBOARD(LINES) \
    ISO "bank start { chemistry agm; voltage 12 V; capacity 70 Ah; price 100 EUR }\n" BANK("house", "price 100 EUR") \
        "engine outboard { fed-by start; run 2 m; wire 35 mm2; rated 85 kW at 5500 rpm; fuel petrol; price 9000 EUR }\n" \
        "alternator ob { engine outboard; output 16 A at 14.4 V; " LINES " }\n"
    expect_verdict(OUTBOARD("built-in yes; feeds start"), "wire-unprotected", NOTHING, NULL);
    expect_verdict(OUTBOARD("built-in no; feeds start"), "wire-unprotected", BROKEN_AT_ONE, "ob");
    expect_verdict(OUTBOARD("built-in yes; feeds house"), "wire-unprotected", BROKEN_AT_ONE, "ob");
    /* The starter's cable stated once more is the same cable; another one is another. */
    expect_verdict(OUTBOARD("built-in yes; feeds start { run 2 m; wire 35 mm2 }"), "wire-unprotected", NOTHING, NULL);
    expect_verdict(OUTBOARD("built-in yes; feeds start { run 2 m; wire 2.5 mm2 }"), "wire-unprotected", BROKEN_AT_ONE, "ob");
    expect_verdict(OUTBOARD("built-in yes; feeds start"), "unpriced", NOTHING, NULL);
    expect_verdict(OUTBOARD("built-in no; feeds start"), "unpriced", BROKEN_AT_ONE, "wren");
}

static void a_load_for_another_voltage_is_warned_of(void **state)
{
    (void)state;
#define LAMP(DRAW)                                                                                          \
    ISO "bank house { chemistry lifepo4; voltage 25.6 V; capacity 200 Ah }\n"                               \
        "circuit lights { fed-by house; run 1 m; protect 5 A fuse }\nload lamp { fed-by lights; draw " DRAW \
        " }\n"
    expect_verdict(LAMP("10 W at 12 V"), "wrong-voltage", BROKEN_AT_ONE, "lamp");
    expect_verdict(LAMP("10 W at 24 V"), "wrong-voltage", NOTHING, NULL);
    expect_verdict(LAMP("10 W"), "wrong-voltage", NOTHING, NULL);
    Compiled c;
    compile_text(&c, LAMP("10 W at 12 V"));
    assert_int_equal(only_finding(&c, "wrong-voltage")->severity, SEVERITY_WARNING);
    compile_free(&c);
}

/*
 * Kirchhoff: two batteries on one stud of an alternator are in parallel; a diode isolator, or outputs of their own, keep
 * them apart.
 */
static void what_charges_two_banks_joins_them_unless_its_outputs_are_apart(void **state)
{
    (void)state;
#define TIED(CHEMISTRY, ROLE, MORE) \
    ISO "bank house { chemistry " CHEMISTRY "; voltage 12.8 V; capacity 200 Ah }\n" \
        "bank second { chemistry agm; voltage 12 V; capacity 80 Ah; role " ROLE " }\n" ENGINE \
        "bus positive { fed-by house; run 1 m }\n" \
        "alternator alt { engine eng; output 60 A at 14.2 V; " MORE FEEDS("positive") "\n" FEEDS("second") " }\n"
    expect_verdict(TIED("lifepo4", "start", ""), "mixed-bank", OPEN_AT_ONE, "alt");
    expect_verdict(TIED("lifepo4", "start", "outputs-apart no; "), "mixed-bank", BROKEN_AT_ONE, "alt");
    expect_verdict(TIED("lifepo4", "start", "outputs-apart yes; "), "mixed-bank", NOTHING, NULL);
    expect_verdict(TIED("agm", "start", ""), "mixed-bank", NOTHING, NULL);
    expect_verdict(TIED("agm", "start", ""), "start-alone", OPEN_AT_ONE, "second");
    expect_verdict(TIED("agm", "start", "outputs-apart no; "), "start-alone", BROKEN_AT_ONE, "second");
    expect_verdict(TIED("agm", "start", "outputs-apart yes; "), "start-alone", NOTHING, NULL);
    expect_verdict(TIED("agm", "house", ""), "start-alone", NOTHING, NULL);
}

/* A controller that switches joins panels and bank: no more flows than the panels give into a short circuit. */
static void a_switching_controller_sends_no_more_than_the_short_circuit_current(void **state)
{
    (void)state;
#define PANEL(MORE) ISO BANK("house", "") "solar roof { rated 100 W; open-circuit 22 V; " MORE "feeds house { run 4 m; wire 6 mm2 } }\n"
    static const struct {
        const char *spec;
        double amps;
    } cases[] = {
        {PANEL("controller pwm; short-circuit 5.8 A; "), 5.8},
        {PANEL("controller pwm; short-circuit 5.8 A; max-output 5 A; "), 5.0},
        {PANEL("controller pwm; short-circuit 2 A; parallel 3; "), 6.0},
        {PANEL("controller mppt; short-circuit 5.8 A; "), 100.0 / 12.0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        Compiled c;
        compile_text(&c, cases[i].spec);
        assert_null(c.spec->messages.first);
        assert_near(compiled_figure_at(&c, "roof", FIGURE_CURRENT, "house")->high, cases[i].amps, 0.01);
        compile_free(&c);
    }
}

/* A 1-2-both switch puts either bank on the starter, and what hangs behind it on either bank. */
static void each_bank_that_a_switch_chooses_from_is_looked_at_whichever_is_named_first(void **state)
{
    (void)state;
#define CHOSEN(WORKS_AS, ORDER, HOUSE, START) \
    ISO "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; cranking " HOUSE " }\n" \
        "bank second { chemistry agm; voltage 12 V; capacity 80 Ah; cranking " START " }\n" \
        "switch sel { works-as " WORKS_AS "; fed-by " ORDER "; run 1 m }\n" \
        "engine eng { rated 28 kW at 3000 rpm; fuel diesel; fed-by sel; run 2 m; starter 300 A }\n"
    static const char *const weak_start[] = {
        CHOSEN("parallel", "house, second", "500 A", "200 A"), CHOSEN("parallel", "second, house", "500 A", "200 A"),
        CHOSEN("transfer", "house, second", "500 A", "200 A"), CHOSEN("transfer", "second, house", "500 A", "200 A")};
    for (size_t i = 0; i < sizeof weak_start / sizeof weak_start[0]; i++) {
        expect_verdict(weak_start[i], "start-alone", BROKEN_AT_ONE, "second");
    }
    expect_verdict(CHOSEN("parallel", "second, house", "200 A", "500 A"), "start-alone", BROKEN_AT_ONE, "house");
    expect_verdict(CHOSEN("parallel", "house, second", "500 A", "500 A"), "start-alone", NOTHING, NULL);
    expect_verdict(CHOSEN("emergency", "second, house", "200 A", "500 A"), "start-alone", NOTHING, NULL);
#define FRIDGE_BEHIND(WORKS_AS, ORDER) \
    ISO "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
        "bank second { chemistry agm; voltage 12 V; capacity 80 Ah; role start }\n" \
        "switch sel { works-as " WORKS_AS "; fed-by " ORDER "; run 1 m }\npanel main { fed-by sel; run 1 m }\n" \
        "load fridge { fed-by main; run 2 m; draw 4 A }\n"
    expect_verdict(FRIDGE_BEHIND("parallel", "house, second"), "start-alone", BROKEN_AT_ONE, "second");
    expect_verdict(FRIDGE_BEHIND("transfer", "house, second"), "start-alone", BROKEN_AT_ONE, "second");
    expect_verdict(FRIDGE_BEHIND("parallel", "second, house"), "start-alone", BROKEN_AT_ONE, "second");
    expect_verdict(FRIDGE_BEHIND("emergency", "house, second"), "start-alone", NOTHING, NULL);
}

/* What cranks is asked of the second bank's `max-discharge` too, where its `cranking` is not stated. */
static void a_bank_that_a_switch_puts_on_the_starter_is_asked_for_its_current(void **state)
{
    (void)state;
    expect_verdict(ISO "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; cranking 500 A }\n"
                       "bank second { chemistry lifepo4; voltage 12 V; capacity 80 Ah; max-discharge 100 A }\n"
                       "switch sel { works-as transfer; fed-by house, second; run 1 m }\n"
                       "engine eng { rated 28 kW at 3000 rpm; fuel diesel; fed-by sel; run 2 m; starter 300 A }\n",
                   "bank-discharge", BROKEN_AT_ONE, "second");
}

/* Conservation of energy: what a charger and an inverter lose comes out of the bank that both hang on. */
static void a_charger_that_runs_on_its_own_bank_charges_nothing(void **state)
{
    (void)state;
#define ROUND(FED_BY, PASSES, MORE) \
    ISO BANK("house", "") "inlet shore { rated 16 A at 230 V }\n" \
        "inverter sine { fed-by house; run 1 m; rated 1000 W; output 230 V; " PASSES " }\n" \
        "switch either { fed-by shore, sine; works-as transfer }\npanel ac { fed-by " FED_BY "; run 1 m }\n" \
        "charger ch { fed-by ac; run 1 m; output 30 A at 14.4 V; " MORE FEEDS("house") " }\n"
    expect_verdict(ROUND("sine", "", ""), "charge-loop", BROKEN_AT_ONE, "ch");
    expect_verdict(ROUND("sine", "", ""), "bank-uncharged", BROKEN_AT_ONE, "house");
    expect_verdict(ROUND("sine", "", "locked-out yes; "), "charge-loop", BROKEN_AT_ONE, "ch");
    expect_verdict(ROUND("sine", "passes shore", ""), "charge-loop", OPEN_AT_ONE, "ch");
    expect_verdict(ROUND("either", "", ""), "charge-loop", OPEN_AT_ONE, "ch");
    expect_verdict(ROUND("either", "", "locked-out no; "), "charge-loop", BROKEN_AT_ONE, "ch");
    expect_verdict(ROUND("either", "", "locked-out yes; "), "charge-loop", NOTHING, NULL);
    expect_verdict(ROUND("either", "", ""), "bank-uncharged", NOTHING, NULL);
    expect_verdict(ROUND("shore", "", ""), "charge-loop", NOTHING, NULL);
    expect_verdict(ISO BANK("house", "") "converter round { fed-by house; run 1 m; output 10 A at 14.4 V; " FEEDS("house") " }\n",
                   "charge-loop", BROKEN_AT_ONE, "round");
}

/* A pump behind a converter stays behind it: the converter is fed unswitched. */
static void an_unswitched_pump_keeps_its_voltage(void **state)
{
    Compiled c;
    (void)state;
    compile_text(
        &c, ISO BANK("house",
                     "") "switch hs { fed-by house; works-as battery; run 1 m }\n"
                         "converter down { fed-by hs; run 1 m; output 10 A at 28 V }\n"
                         "bilge-pump bp { fed-by down; run 2 m; made-for 24 V; draw 5 A; automatic yes }\n");
    const Finding *f = only_finding(&c, "always-live");
    assert_non_null(f);
    assert_str(str_from(f->remedies->text), "fed-by house for `down`, which feeds it");
    compile_free(&c);
    const char *beside = ISO BANK("house", "") "switch hs { fed-by house; works-as battery; run 1 m }\n"
                                               "converter down { fed-by hs; run 1 m; output 10 A at 28 V }\n"
                                               "load lamp { fed-by down; run 2 m; made-for 24 V; draw 1 A }\n"
                                               "bilge-pump bp { fed-by down; run 2 m; made-for 24 V; draw 5 A; automatic yes }\n";
    compile_text(&c, beside);
    f = only_finding(&c, "always-live");
    assert_str(str_from(f->remedies->text), "`fed-by house` for `down`, which turns its power");
    assert_str(str_from(f->remedies->next->text), "another `converter` for `bp` alone, `fed-by house`");
    compile_free(&c);
    compile_text(&c, ISO BANK("house", "") "switch hs { fed-by house; works-as battery; run 1 m }\n" /* a switch before it, and one behind */
                                           "converter down { fed-by hs; run 1 m; output 10 A at 28 V }\n"
                                           "switch ds { fed-by down; works-as battery; run 1 m }\n"
                                           "bilge-pump bp { fed-by ds; run 2 m; made-for 24 V; draw 5 A; automatic yes }\n");
    f = only_finding(&c, "always-live");
    assert_str(str_from(f->remedies->text), "another `converter` for `bp` alone, `fed-by house`");
    compile_free(&c);
}

/* Conservation of energy: what two banks give one another comes from neither, and each turn loses a part. */
static void converters_that_charge_each_others_bank_make_nothing(void **state)
{
    (void)state;
#define LINKS(NAME, FROM, TO, MORE) \
    "converter " NAME " { fed-by " FROM "; run 1 m; output 10 A at 14.4 V; " MORE FEEDS(TO) " }\n"
#define PAIR(MORE)                                                                \
    ISO BANK("house", "") BANK("start", "") LINKS("down", "house", "start", MORE) \
        LINKS("up", "start", "house", "")
    static const char charger[] =
        PAIR("") "inlet shore { rated 16 A at 230 V }\n"
                 "charger ch { fed-by shore; run 1 m; output 30 A at 14.4 V; " FEEDS("house") " }\n";
    expect_verdict(PAIR(""), "charge-loop", BROKEN_AT_ONE, "down");
    expect_verdict(PAIR("surplus-only yes; "), "charge-loop", NOTHING, NULL);
    Compiled c;
    compile_text(&c, PAIR(""));
    int uncharged = 0;
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        uncharged += strcmp(f->rule->name, "bank-uncharged") == 0;
    }
    compile_free(&c);
    assert_int_equal(uncharged, 2);
    expect_verdict(charger, "bank-uncharged", NOTHING, NULL);
    expect_verdict(charger, "charge-loop", BROKEN_AT_ONE, "down");
    expect_verdict(ISO BANK("house", "") BANK("start", "") BANK("bow", "") LINKS("a", "house", "start", "")
                       LINKS("b", "start", "bow", "") LINKS("c", "bow", "house", ""),
                   "charge-loop", BROKEN_AT_ONE, "a");
#undef PAIR
#undef LINKS
}

/* Common practice, no source: 12 V equipment on mains burns; 220 and 240 V count as one, 120 and 230 V do not. */
static void a_load_for_batteries_on_mains_is_a_fault(void **state)
{
    (void)state;
#define ON_MAINS(DRAW) \
    ISO "inlet shore { rated 16 A at 230 V }\npanel ac { fed-by shore; run 1 m }\noutlet socket { fed-by ac; run 1 m }\n" \
        "load fridge { fed-by socket; draw " DRAW " }\n"
    expect_verdict(ON_MAINS("45 W at 12 V"), "wrong-voltage", BROKEN_AT_ONE, "fridge");
    expect_verdict(ON_MAINS("45 W at 120 V"), "wrong-voltage", BROKEN_AT_ONE, "fridge");
    expect_verdict(ON_MAINS("45 W at 12..230 V"), "wrong-voltage", OPEN_AT_ONE, "fridge");
    expect_verdict(ON_MAINS("45 W at 220 V"), "wrong-voltage", NOTHING, NULL);
    expect_verdict(ON_MAINS("45 W"), "wrong-voltage", NOTHING, NULL);
    Compiled c;
    compile_text(&c, ON_MAINS("45 W at 12 V"));
    assert_int_equal(only_finding(&c, "wrong-voltage")->severity, SEVERITY_FAULT);
    compile_free(&c);
}

/* Direct and alternating current never share a conductor (common practice, no source). */
static void direct_current_is_not_led_to_mains_nor_mains_to_a_bank(void **state)
{
    (void)state;
#define MAINS "inlet shore { rated 16 A at 230 V }\npanel ac { fed-by shore; run 1 m }\n"
    expect_verdict(ISO MAINS "solar roof { rated 100 W; " FEEDS("ac") " }\n", "wrong-voltage", BROKEN_AT_ONE, "roof");
    expect_verdict(ISO MAINS ENGINE "alternator alt { engine eng; output 60 A at 14 V; " FEEDS("ac") " }\n", "wrong-voltage",
                   BROKEN_AT_ONE, "alt");
    expect_verdict(ISO BANK("house", "charged-ashore yes") "inlet shore { rated 16 A at 230 V }\n"
                   "panel main { fed-by house; run 1 m }\npanel both { fed-by shore, main; run 1 m }\n",
                   "wrong-voltage", BROKEN_AT_ONE, "both");
    expect_verdict(ISO BANK("house", "charged-ashore yes") "inlet shore { rated 16 A at 230 V }\n"
                   "inverter sine { fed-by shore; run 1 m; rated 500 W; output 230 V; " FEEDS("house") " }\n",
                   "wrong-voltage", BROKEN_AT_ONE, "sine");
    expect_verdict(ISO BANK("house", "") "solar roof { rated 100 W; " FEEDS("house") " }\n", "wrong-voltage", NOTHING, NULL);
    expect_verdict(ISO BANK("house", "charged-ashore yes") "inlet shore { rated 16 A at 230 V }\n"
                   "charger ch { fed-by shore; run 1 m; output 30 A at 14.4 V; " FEEDS("house") " }\n"
                   "inverter sine { fed-by house; run 1 m; rated 500 W; output 230 V }\npanel ac { fed-by sine; run 1 m }\n",
                   "wrong-voltage", NOTHING, NULL);
}

/*
 * Ohm's law: only the resistance of banks limits what flows between two voltages. A transfer switch and what stands behind
 * it see either. Nominal 12 V is 12 V of lead and 12.8 V of four lithium cells; 6 V twice is 12 V.
 */
static void joined_banks_are_of_one_voltage(void **state)
{
    (void)state;
#define JOINED(ONE, OTHER, WORKS_AS) \
    ISO "bank a { chemistry agm; capacity 100 Ah; " ONE " }\nbank b { chemistry agm; capacity 100 Ah; " OTHER " }\n" \
        "switch joiner { fed-by a, b; works-as " WORKS_AS " }\n"
    static const struct {
        const char *spec;
        int verdict;
    } cases[] = {
        {JOINED("voltage 12 V", "voltage 12.8 V", "parallel"), NOTHING},
        {JOINED("voltage 12 V", "voltage 6 V; series 2", "parallel"), NOTHING},
        {JOINED("voltage 12 V", "voltage 12 V; series 2", "parallel"), BROKEN_AT_ONE},
        {JOINED("voltage 24 V", "voltage 12 V", "emergency"), BROKEN_AT_ONE},
        {JOINED("voltage 24 V", "voltage 12 V", "transfer"), BROKEN_AT_ONE},
        {JOINED("voltage 24 V", "voltage 36 V", "parallel"), BROKEN_AT_ONE},
        {JOINED("voltage 12 V", "voltage 12..24 V", "parallel"), OPEN_AT_ONE},
        {JOINED("voltage 12..24 V", "voltage 25.6 V", "transfer"), OPEN_AT_ONE},
        {JOINED("voltage 12 V", "voltage 12 V; series 1..2", "parallel"), OPEN_AT_ONE},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        expect_verdict(cases[i].spec, "joined-voltage", cases[i].verdict, "joiner");
    }
}

/* The first two are alike; the third is not. */
static void a_third_bank_is_compared_too(void **state)
{
    (void)state;
    static const char spec[] = ISO BANK("a", "") BANK("b", "")
        "bank c { chemistry lifepo4; voltage 25.6 V; capacity 100 Ah }\nbus both { fed-by a, b, c }\n";
    Compiled c;
    compile_text(&c, spec);
    assert_string_equal(only_finding(&c, "joined-voltage")->message, "`both` joins 12 V of `a` and 25.6 V of `c`");
    assert_non_null(only_finding(&c, "mixed-bank"));
    compile_free(&c);
}

/*
 * Ohm's law by hand: class 5 tinned copper has at most 0.565 ohm/km at 35 mm2 and 0.393 at 50 mm2 (IEC 60228), 1.1179 times
 * that at 50 C. 90 A through 2 x 2 m of the one lose 0.2274 V, through 2 x 3 m of the other 0.2372 V: of 12 V, 1.895 and
 * 1.977 per cent.
 */
static void what_charges_through_a_feeder_loses_in_both_cables(void **state)
{
    (void)state;
#define THROUGH(DROP)                                                                                          \
    ISO ENGINE BANK("house", "")                                                                               \
        "bus pos { fed-by house; run 3 m; wire 50 mm2 insulation 105 C; protect 150 A fuse class-t }\n"        \
        "alternator alt { engine eng; output 90 A at 14.2 V\n"                                                 \
        "  feeds pos { run 2 m; wire 35 mm2 insulation 105 C; protect 150 A fuse; " DROP " } }\n"
    Compiled c;
    compile_text(&c, THROUGH(""));
    assert_near(compiled_figure_at(&c, "alt", FIGURE_CHARGE_DROP, "pos")->high, 0.01895 + 0.01977, 2e-5);
    assert_near(compiled_figure(&c, "pos", FIGURE_BROUGHT_DROP)->high, 0.01977, 1e-5);
    compile_free(&c);
    expect_verdict(THROUGH(""), "charge-drop", BROKEN_AT_ONE, "alt");
    expect_verdict(THROUGH("drop 4 %"), "charge-drop", NOTHING, NULL);
    expect_verdict(THROUGH("drop 4 %"), "wire-drop", NOTHING, NULL);
    expect_verdict(THROUGH("drop 3..5 %"), "charge-drop", OPEN_AT_ONE, "alt");
}

/*
 * One panel of 110 W gives a bank of 12 V 9.2 A at most, whatever its controller could let through: P = U I. 10 A over 4 m
 * out and back of 6 mm2 lose 2.5 %, 30 A 7.6 %.
 */
static void a_controller_brings_no_more_than_its_panels_give(void **state)
{
    (void)state;
#define ROOF(COUNT, MOST, FUSE) \
    ISO "bank house { chemistry lifepo4; voltage 12.8 V; capacity 100 Ah; resistance 4 mohm; max-charge 25 A }\n" \
        "solar roof { rated 110 W; count " COUNT "; open-circuit 22 V; short-circuit 6.2 A; max-output " MOST "; " \
        "feeds house { run 4 m; wire 6 mm2 insulation 90 C; protect " FUSE " 0.15 m from source } }\n"
    Compiled c;
    compile_text(&c, ROOF("1", "30 A", "15 A fuse class-t"));
    assert_near(compiled_figure_at(&c, "roof", FIGURE_CURRENT, "house")->high, 110.0 / 12.0, 1e-9);
    compile_free(&c);
    compile_text(&c, ROOF("4", "30 A", "40 A fuse class-t"));
    assert_near(compiled_figure_at(&c, "roof", FIGURE_CURRENT, "house")->high, 30.0, 1e-9);
    compile_free(&c);
    compile_text(&c, ROOF("1", "5..30 A", "15 A fuse class-t"));
    assert_near(compiled_figure_at(&c, "roof", FIGURE_CURRENT, "house")->low, 5.0, 1e-9);
    assert_near(compiled_figure_at(&c, "roof", FIGURE_CURRENT, "house")->high, 110.0 / 12.0, 1e-9);
    compile_free(&c);
    expect_verdict(ROOF("1", "30 A", "15 A fuse class-t"), "bank-charge", NOTHING, NULL);
    expect_verdict(ROOF("1", "30 A", "15 A fuse class-t"), "charge-drop", NOTHING, NULL);
    expect_verdict(ROOF("1", "30 A", "15 A fuse class-t"), "protect-tight", NOTHING, NULL);
    expect_verdict(ROOF("4", "30 A", "40 A fuse class-t"), "bank-charge", BROKEN_AT_ONE, "house");
    /* Nor without a bound, where the controller is not decided: a fuse that breaks 20 kA breaks what the bank can give. */
    expect_verdict(ROOF("1", "?", "15 A fuse class-t"), "protect-breaking", NOTHING, NULL);
    expect_verdict(ROOF("1", "?", "15 A fuse class-t"), "charge-drop", NOTHING, NULL);
}

/* Asked of a bank that only a `parallel` switch reaches, and where there are days to count it in. */
static void what_a_parallel_switch_brings_is_said_not_to_be_counted(void **state)
{
    (void)state;
#define RELAY(WORKS_AS, DAYS, MORE) \
    ISO BANK("house", "") BANK("start", "role start") ENGINE DAYS \
        "alternator alt { engine eng; output 60 A at 14 V; " FEEDS("start") " }\n" \
        "switch relay { fed-by start, house; works-as " WORKS_AS "; rated 140 A }\n" MORE
#define A_DAY "day trip { engine 4 h }\n"
    expect_verdict(RELAY("parallel", A_DAY, ""), "joined-uncounted", BROKEN_AT_ONE, "relay");
    expect_verdict(RELAY("emergency", A_DAY, ""), "joined-uncounted", NOTHING, NULL);
    expect_verdict(RELAY("parallel", "", ""), "joined-uncounted", NOTHING, NULL);
    expect_verdict(RELAY("parallel", A_DAY, ""), "bank-uncharged", NOTHING, NULL);
    expect_verdict(RELAY("emergency", A_DAY, ""), "bank-uncharged", BROKEN_AT_ONE, "house"); /* it is open but for a moment */
    expect_verdict(RELAY("parallel", A_DAY, "solar sun { rated 100 W; " FEEDS("house") " }\n"), "joined-uncounted", NOTHING, NULL);
}

/* Between such a switch and a bank nothing else is: what is said to feed the switch is at one of its ends, or behind one. */
static void what_charges_through_an_emergency_switch_says_at_which_end(void **state)
{
    (void)state;
#define AT_AN_END(WORKS_AS, FED)                                                                            \
    ISO BANK("house", "") BANK("start", "role start") "inlet plug { rated 16 A at 230 V }\n" A_DAY         \
        "switch tie { fed-by house, start; works-as " WORKS_AS "; rated 300 A }\n"                         \
        "bus plus { fed-by tie; run 1 m }\ncharger box { fed-by plug; output 20 A at 14.2 V; " FEEDS(FED) " }\n"
    expect_verdict(AT_AN_END("emergency", "tie"), "joined-uncounted", BROKEN_AT_ONE, "tie");
    expect_verdict(AT_AN_END("emergency", "plus"), "joined-uncounted", BROKEN_AT_ONE, "tie");
    expect_verdict(AT_AN_END("emergency", "house"), "joined-uncounted", NOTHING, NULL);
    expect_verdict(AT_AN_END("transfer", "tie"), "joined-uncounted", NOTHING, NULL);
    expect_verdict(AT_AN_END("emergency", "tie"), "bank-uncharged", BROKEN_AT_ONE, "start");
}

/* Common practice, no source: a lead bank takes the leap of its voltage, unless a switch on the way cuts it off. */
static void an_alternator_behind_a_switch_is_asked_for_what_saves_its_diodes(void **state)
{
    (void)state;
#define SWITCHED_OFF(WORKS, DUMP, TO)                                                                                        \
    ISO BANK("house", "") "switch cut { works-as " WORKS "; fed-by house; rated 300 A }\n"                                  \
    "bus plus { fed-by cut; run 1 m; wire 50 mm2; protect 150 A fuse }\n" ENGINE                                            \
    "alternator alt { engine eng; output 60 A at 14 V; " DUMP FEEDS(TO) " }\n"
    expect_verdict(SWITCHED_OFF("battery", "load-dump no; ", "plus"), "load-dump", BROKEN_AT_ONE, "alt");
    expect_verdict(SWITCHED_OFF("transfer", "load-dump no; ", "cut"), "load-dump", BROKEN_AT_ONE, "alt");
    expect_verdict(SWITCHED_OFF("parallel", "", "plus"), "load-dump", OPEN_AT_ONE, "alt"); /* a 1-2-both */
    expect_verdict(SWITCHED_OFF("emergency", "", "plus"), "load-dump", NOTHING, NULL);
    expect_verdict(SWITCHED_OFF("battery", "", "plus"), "load-dump", OPEN_AT_ONE, "alt");
    expect_verdict(SWITCHED_OFF("battery", "load-dump yes; ", "plus"), "load-dump", NOTHING, NULL);
    expect_verdict(SWITCHED_OFF("battery", "load-dump no; ", "house"), "load-dump", NOTHING, NULL);
    expect_verdict(SWITCHED_OFF("battery", "load-dump no; " FEEDS("house") "; ", "plus"), "load-dump", NOTHING, NULL);
}

/* Of an array it is its controller that is set for a voltage; banks of drives are told apart as well. */
static void a_controller_is_set_for_the_voltage_of_its_bank(void **state)
{
    (void)state;
#define SUN_ON(VOLTS, CHARGE)                                                                                         \
    "edition 1\nboat wren { length 9 m; beam 3 m; displacement 4000 kg; crew 2; currency EUR; basis iso }\n"          \
    "bank house { chemistry agm; voltage " VOLTS "; capacity 100 Ah }\n"                                               \
    "solar panel { rated 100 W; charge-voltage " CHARGE "; feeds house { run 3 m; wire 6 mm2 } }\n"
    expect_verdict(SUN_ON("12 V", "14.4 V"), "wrong-voltage", NOTHING, NULL);
    expect_verdict(SUN_ON("24 V", "14.4 V"), "wrong-voltage", BROKEN_AT_ONE, "panel");
    expect_verdict(SUN_ON("120 V", "14.4 V"), "wrong-voltage", BROKEN_AT_ONE, "panel");
    expect_verdict(SUN_ON("120 V", "144 V"), "wrong-voltage", NOTHING, NULL);
    expect_verdict(SUN_ON("12 V", "14..29 V"), "wrong-voltage", OPEN_AT_ONE, "panel");
}

/*
 * What wind or water drives gives whether the bank is full or not: what holds its voltage is asked for, whatever the bank;
 * of an engine's small alternator on a lead bank it is not. Common practice, no source.
 */
static void what_wind_drives_is_regulated(void **state)
{
    (void)state;
#define BLOWN(DRIVEN, MORE) \
    ISO BANK("house", "") ENGINE "alternator mill { " DRIVEN "; output 20 A at 14 V; " MORE FEEDS("house") " }\n"
    expect_verdict(BLOWN("driven-by wind", ""), "regulator", OPEN_AT_ONE, "mill");
    expect_verdict(BLOWN("driven-by water", "regulator none; "), "regulator", BROKEN_AT_ONE, "mill");
    expect_verdict(BLOWN("driven-by wind", "regulator diversion; "), "regulator", NOTHING, NULL);
    expect_verdict(BLOWN("driven-by wind", "regulator internal; "), "regulator", NOTHING, NULL);
    expect_verdict(BLOWN("driven-by winds", "regulator none; "), "regulator", WAITING, NULL);
    expect_verdict(BLOWN("engine eng", ""), "regulator", NOTHING, NULL);
    expect_verdict(BLOWN("driven-by wind", "regulator internal; "), "belt", NOTHING, NULL);
#undef BLOWN
}

/* Common practice, no source: 16 cells are charged with up to 58.4 V; 17 of them with 62 V, above the 60 V of the rule. */
/*
 * Four cells a 12 V battery of lithium, 3.65 V each at most (from memory): four such in series take 58.4 V. One that is called
 * 48 V may have fifteen, 54.75 V, or sixteen.
 */
#define BANK_AT(battery, volts)                                                                                                  \
    ISO "bank pb { chemistry lifepo4; " battery "; capacity 100 Ah; resistance 2 mohm }\n"                                        \
        "charger ch { output 30 A at " volts "; feeds pb { run 2 m; wire 16 mm2; protect 50 A fuse class-t 0.1 m from source } }\n"

static void cells_are_counted_battery_by_battery(void **state)
{
    (void)state;
    expect_verdict(BANK_AT("voltage 12 V; series 4", "57.6 V"), "charge-voltage", NOTHING, NULL);
    expect_verdict(BANK_AT("voltage 12 V; series 3", "43.2 V"), "charge-voltage", NOTHING, NULL);
    expect_verdict(BANK_AT("voltage 24 V; series 2", "57.6 V"), "charge-voltage", NOTHING, NULL);
    expect_verdict(BANK_AT("voltage 12 V; series 4", "58.6 V"), "charge-voltage", BROKEN_AT_ONE, "ch");
    expect_verdict(BANK_AT("voltage 12 V; series 4", "50.5 V"), "charge-voltage", BROKEN_AT_ONE, "ch");
    expect_verdict(BANK_AT("voltage 48 V", "57.6 V"), "charge-voltage", OPEN_AT_ONE, "ch");
    expect_verdict(BANK_AT("voltage 48 V", "60 V"), "charge-voltage", BROKEN_AT_ONE, "ch");
    expect_verdict(BANK_AT("voltage 51.2 V", "57.6 V"), "charge-voltage", NOTHING, NULL);
}

/* 13.4 V of four cells at rest (from memory): four times 13.4 V over four times 2 mohm, as much as one gives. */
static void batteries_in_series_give_what_one_gives_into_a_short_circuit(void **state)
{
    (void)state;
    static const char *const batteries[] = {BANK_AT("voltage 12 V; series 4", "57.6 V"), BANK_AT("voltage 12 V", "14.4 V")};
    for (size_t i = 0; i < sizeof batteries / sizeof batteries[0]; i++) {
        Compiled c;
        compile_text(&c, batteries[i]);
        assert_near(compiled_figure_at(&c, "pb", FIGURE_SHORT_CIRCUIT, NULL)->high, 6700.0, 1e-6);
        compile_free(&c);
    }
}

#define OF_48 ISO "bank pb { chemistry lifepo4; voltage 51.2 V; capacity 280 Ah; max-charge-voltage 58.4 V }\n"
#define CHARGED_48 "charger ch { portable yes; output 40 A at 58.4 V; feeds pb { run 1 m } }\n"
static void what_charges_stands_across_all_that_hangs_on_the_bank(void **state)
{
    (void)state;
#define BREAKER(volts) "panel pan { fed-by pb; run 1 m; protect 200 A breaker interrupts 20 kA for " volts " }\n"
    expect_verdict(OF_48 CHARGED_48 BREAKER("48 V"), "protect-voltage", BROKEN_AT_ONE, "pan");
    expect_verdict(OF_48 CHARGED_48 BREAKER("60 V"), "protect-voltage", NOTHING, NULL);
    expect_verdict(OF_48 BREAKER("48 V"), "protect-voltage", NOTHING, NULL);
    /* The clause speaks of the nominal voltage, and devices for 12 V are named by that. */
    expect_verdict(ISO BANK("house", "") "charger ch { portable yes; output 40 A at 14.4 V; feeds house { run 1 m } }\n"
                   "panel pan { fed-by house; run 1 m; protect 200 A breaker interrupts 20 kA for 12 V }\n",
                   "protect-voltage", NOTHING, NULL);
#undef BREAKER
#define FAN(volts) "panel pan { fed-by pb; run 1 m }\nload fan { fed-by pan; run 1 m; draw 5 A; made-for " volts " }\n"
    expect_verdict(OF_48 CHARGED_48 FAN("40 V to 52 V"), "wrong-voltage", BROKEN_AT_ONE, "fan");
    expect_verdict(OF_48 CHARGED_48 FAN("40 V to 60 V"), "wrong-voltage", NOTHING, NULL);
    expect_verdict(OF_48 CHARGED_48 FAN("48 V"), "wrong-voltage", NOTHING, NULL);
    expect_verdict(OF_48 FAN("40 V to 52 V"), "wrong-voltage", NOTHING, NULL);
#undef FAN
#define SEVENTEEN "bank pb { chemistry lifepo4; voltage 54.4 V; capacity 280 Ah; max-charge-voltage 62.1 V }\n"
    expect_verdict(ISO SEVENTEEN "charger ch { portable yes; output 40 A at 62 V; feeds pb { run 1 m } }\n", "high-voltage", BROKEN_AT_ONE, "pb");
    expect_verdict(ISO SEVENTEEN "charger ch { portable yes; output 40 A at 59 V; feeds pb { run 1 m } }\n", "high-voltage", NOTHING, NULL);
    expect_verdict(OF_48 CHARGED_48, "high-voltage", NOTHING, NULL);
#undef SEVENTEEN
}

/* Common practice, no source: much for 12 V stands 24 V, next to nothing 48 V. */
static void what_says_no_voltage_is_asked_above_32_v(void **state)
{
    (void)state;
#define VHF(more) "radio vhf { fed-by pb; run 1 m; draw 5 A; " more " }\n"
    expect_verdict(OF_48 VHF(""), "wrong-voltage", OPEN_AT_ONE, "vhf");
    expect_verdict(OF_48 VHF("made-for 48 V"), "wrong-voltage", NOTHING, NULL);
    expect_verdict(OF_48 "load lo { fed-by pb; run 1 m; draw 1 A; min-voltage 10.5 V }\n", "wrong-voltage", OPEN_AT_ONE, "lo");
    expect_verdict(OF_48 "load lo { fed-by pb; run 1 m; draw 1 A; min-voltage 40 V }\n", "wrong-voltage", NOTHING, NULL);
    expect_verdict(OF_48 "load lo { fed-by pb; run 1 m; draw 1 A }\n", "wrong-voltage", NOTHING, NULL);
    expect_verdict(ISO BANK("pb", "series 2") VHF("min-voltage 7 V"), "wrong-voltage", NOTHING, NULL);
#undef VHF
}
#undef OF_48
#undef CHARGED_48

/* A switch has no first bank: what charges by way of it charges each that it is turned to. Common practice, no source. */
static void what_charges_through_a_switch_is_judged_for_each_of_its_banks(void **state)
{
    (void)state;
#define LITHIUM                                                                                                  \
    "bank lithium { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah; disconnect yes; max-charge 50 A; "       \
    "max-charge-voltage 14.2 V }\n"
#define TURNED(WORKS, ORDER)                                                                                     \
    ISO BANK("lead", "max-charge 100 A") LITHIUM "switch choose { works-as " WORKS "; fed-by " ORDER "; run 0.3 m; wire 50 mm2; " \
    "protect 200 A fuse class-t }\n" ENGINE                                                                     \
    "alternator alt { engine eng; output 90 A at 14.8 V; regulator internal; load-dump no; " FEEDS("pos") " }\n" \
    "bus pos { fed-by choose; run 1 m; wire 50 mm2 }\n"
    static const char *const ways[] = {TURNED("transfer", "lead, lithium"), TURNED("transfer", "lithium, lead"),
                                       TURNED("parallel", "lead, lithium")};
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
        expect_verdict(ways[i], "bank-charge", BROKEN_AT_ONE, "lithium");
        expect_verdict(ways[i], "charge-voltage", BROKEN_AT_ONE, "alt");
        expect_verdict(ways[i], "regulator", BROKEN_AT_ONE, "alt");
    }
    expect_verdict(ISO BANK("lead", "max-charge 100 A") LITHIUM ENGINE
                   "alternator alt { engine eng; output 90 A at 14.8 V; " FEEDS("lead") " }\n",
                   "bank-charge", NOTHING, NULL);
    /* For a moment, with somebody at it. */
    expect_verdict(TURNED("emergency", "lead, lithium"), "bank-charge", NOTHING, NULL);
}

/* The lowest that a bank of lead works at is taken for 11.5 V (docs/computing.md), less than the radio needs. */
static void what_a_switch_can_put_on_a_weak_bank_is_judged_by_that(void **state)
{
    (void)state;
#define ON_EITHER(WORKS, ORDER, LOAD)                                                                                     \
    ISO "bank good { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah; resistance 2 mohm; max-discharge 200 A }\n"      \
        "bank old { chemistry flooded; voltage 12 V; capacity 60 Ah; resistance 40 mohm }\n"                              \
        "switch choose { works-as " WORKS "; fed-by " ORDER "; run 0.3 m; wire 70 mm2 insulation 105 C }\n" LOAD
#define RADIO "radio vhf { fed-by choose; run 3 m; wire 4 mm2; protect 15 A fuse; draw 6 A; min-voltage 11.5 V }\n"
#define THRUSTER "thruster th { fed-by choose; run 3 m; wire 50 mm2; protect 150 A fuse class-t; draw 130 A; thrust 200 N }\n"
    expect_verdict(ON_EITHER("transfer", "good, old", RADIO), "low-voltage", BROKEN_AT_ONE, "vhf");
    expect_verdict(ON_EITHER("transfer", "old, good", RADIO), "low-voltage", BROKEN_AT_ONE, "vhf");
    expect_verdict(ON_EITHER("parallel", "good, old", RADIO), "low-voltage", BROKEN_AT_ONE, "vhf");
    expect_verdict(ON_EITHER("emergency", "good, old", RADIO), "low-voltage", NOTHING, NULL);
    expect_verdict(ON_EITHER("transfer", "good", RADIO), "low-voltage", NOTHING, NULL);
    expect_verdict(ON_EITHER("transfer", "good, old", THRUSTER), "thruster-volts", BROKEN_AT_ONE, "th");
    expect_verdict(ON_EITHER("transfer", "old, good", THRUSTER), "thruster-volts", BROKEN_AT_ONE, "th");
}

/* With the one turned to lithium and the other closed the two are simply joined. */
static void banks_that_meet_behind_a_transfer_switch_are_all_compared(void **state)
{
    (void)state;
#define HELPED(ORDER)                                                                                                \
    ISO BANK("lead", "") BANK("start", "role start") LITHIUM "switch choose { works-as transfer; fed-by " ORDER " }\n" \
                                                             "switch help { works-as parallel; fed-by choose, start }\n"
    expect_verdict(HELPED("lead, lithium"), "mixed-bank", BROKEN_AT_ONE, "help");
    expect_verdict(HELPED("lithium, lead"), "mixed-bank", BROKEN_AT_ONE, "help");
    expect_verdict(HELPED("lead"), "mixed-bank", NOTHING, NULL);
}

/* 49 V at 25 C, -0.35 % a degree down to -10 C: 1.1225 of it (NREL, NEC 690.7, from memory); 55 V of one, 110 of two. */
static void panels_in_series_are_high_voltage_too(void **state)
{
    (void)state;
#define ARRAY(SERIES) ISO BANK("house", "") "solar arch { rated 400 W; series " SERIES "; open-circuit 49 V; " FEEDS("house") " }\n"
    expect_verdict(ARRAY("1"), "high-voltage", NOTHING, NULL);
    expect_verdict(ARRAY("2"), "high-voltage", BROKEN_AT_ONE, "arch");
    expect_verdict(ARRAY("1..2"), "high-voltage", OPEN_AT_ONE, "arch");
    expect_verdict(ISO BANK("house", "") "solar arch { rated 400 W; series 5; " FEEDS("house") " }\n", "high-voltage", NOTHING, NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cells_are_counted_battery_by_battery),
        cmocka_unit_test(a_converter_that_empties_the_starting_bank_at_anchor_is_warned_of),
        cmocka_unit_test(batteries_in_series_give_what_one_gives_into_a_short_circuit),
        cmocka_unit_test(what_feeds_nothing_is_told_of_every_kind),
        cmocka_unit_test(an_alternator_behind_a_switch_is_asked_for_what_saves_its_diodes),
        cmocka_unit_test(a_way_with_a_mistake_in_it_is_waited_for),
        cmocka_unit_test(a_bank_is_charged_from_aboard_through_a_switch_or_ashore),
        cmocka_unit_test(voltages_are_compared_by_their_class),
        cmocka_unit_test(what_charges_two_banks_joins_them_unless_its_outputs_are_apart),
        cmocka_unit_test(a_switching_controller_sends_no_more_than_the_short_circuit_current),
        cmocka_unit_test(each_bank_that_a_switch_chooses_from_is_looked_at_whichever_is_named_first),
        cmocka_unit_test(a_bank_that_a_switch_puts_on_the_starter_is_asked_for_its_current),
        cmocka_unit_test(a_charger_that_runs_on_its_own_bank_charges_nothing),
        cmocka_unit_test(converters_that_charge_each_others_bank_make_nothing),
        cmocka_unit_test(an_unswitched_pump_keeps_its_voltage),
        cmocka_unit_test(a_load_for_batteries_on_mains_is_a_fault),
        cmocka_unit_test(direct_current_is_not_led_to_mains_nor_mains_to_a_bank),
        cmocka_unit_test(what_charges_stays_within_what_the_cells_stand_and_above_their_rest),
        cmocka_unit_test(a_plate_that_cannot_be_right_is_told),
        cmocka_unit_test(what_a_controller_takes_is_asked_where_only_what_it_gives_is_known),
        cmocka_unit_test(what_charges_ashore_and_with_the_engine_is_not_simply_added),
        cmocka_unit_test(what_a_relay_passes_on_of_a_charger_counts_once),
        cmocka_unit_test(a_converter_larger_than_the_alternator_before_it_is_warned_of),
        cmocka_unit_test(an_alternator_in_an_outboard_is_asked_for_no_cable_and_no_price),
        cmocka_unit_test(a_load_for_another_voltage_is_warned_of),
        cmocka_unit_test(joined_banks_are_of_one_voltage),
        cmocka_unit_test(a_third_bank_is_compared_too),
        cmocka_unit_test(what_charges_through_a_feeder_loses_in_both_cables),
        cmocka_unit_test(a_controller_brings_no_more_than_its_panels_give),
        cmocka_unit_test(what_a_parallel_switch_brings_is_said_not_to_be_counted),
        cmocka_unit_test(what_charges_through_an_emergency_switch_says_at_which_end),
        cmocka_unit_test(a_controller_is_set_for_the_voltage_of_its_bank),
        cmocka_unit_test(what_wind_drives_is_regulated),
        cmocka_unit_test(what_charges_stands_across_all_that_hangs_on_the_bank),
        cmocka_unit_test(a_converter_that_drains_on_several_days_is_told_once),
        cmocka_unit_test(a_bank_is_not_said_to_lose_more_than_it_holds),
        cmocka_unit_test(what_says_no_voltage_is_asked_above_32_v),
        cmocka_unit_test(what_charges_through_a_switch_is_judged_for_each_of_its_banks),
        cmocka_unit_test(what_a_switch_can_put_on_a_weak_bank_is_judged_by_that),
        cmocka_unit_test(banks_that_meet_behind_a_transfer_switch_are_all_compared),
        cmocka_unit_test(panels_in_series_are_high_voltage_too),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
