/* What rules ask of the heavy cables of a boat, of what stands before them, and of what guards an outlet in the wet. */
#include "unit/verdict.h"

#define ISO "edition 1\nboat wren \"Wren\" { length 9.6 m; beam 3.2 m; crew 2; currency EUR; basis iso }\n"
#define US "edition 1\nboat wren \"Wren\" { length 9.6 m; beam 3.2 m; crew 2; currency EUR; basis us }\n"

#define TWO_BANKS                                                                                        \
    "bank house { chemistry agm; voltage 12 V; capacity 360 Ah; resistance 2 mohm; cranking 2000 A }\n"  \
    "bank start { role start; chemistry agm; voltage 12 V; capacity 95 Ah; resistance 4 mohm; cranking 800 A }\n"
#define DIESEL(FED, WIRE) \
    "engine diesel { fed-by " FED "; run 1.5 m; wire " WIRE "; rated 48 kW at 2800 rpm; fuel diesel; starter 380 A }\n"
#define LINK(CABLE)                                                                                       \
    ISO TWO_BANKS "switch ss { fed-by start; works-as battery; rated 300 A; cranking 900 A; run 0.5 m; wire 70 mm2 }\n" \
                  "switch link { fed-by house, start; works-as emergency; rated 300 A; cranking 900 A; " CABLE " }\n" DIESEL("ss", "70 mm2")

/*
 * IEC 60949, adiabatic: 226 A s^0.5/mm2 x 16 mm2 x sqrt(ln(294.5 / 264.5) / 10 s) = 374.8 A from 30 C to 60 C; of 6 mm2 140.5 A,
 * of 25 mm2 585.6 A, of 16 mm2 from 30 C to 105 C 571.4 A. The starter takes 380 A.
 */
static void a_cable_that_lends_a_bank_stands_the_starter(void **state)
{
    (void)state;
    expect_verdict(LINK("run 1 m; wire 6 mm2"), "wire-overloaded", BROKEN_AT_ONE, "link");
    expect_verdict(LINK("run 1 m; wire 16 mm2"), "wire-overloaded", BROKEN_AT_ONE, "link");
    expect_verdict(LINK("run 1 m; wire 16 mm2 insulation 105 C"), "wire-overloaded", NOTHING, NULL);
    expect_verdict(LINK("run 1 m; wire 16..25 mm2"), "wire-overloaded", OPEN_AT_ONE, "link");
    expect_verdict(LINK("run 1 m; wire 25 mm2"), "wire-overloaded", NOTHING, NULL);
    expect_verdict(LINK("run 1 m; wire 6 mm2; protect 25 A fuse class-t 0.1 m from source"), "wire-overloaded", NOTHING, NULL);
    /* of the thinner its device does not open before it is too much for the cable, of the thicker it does */
    expect_verdict(LINK("run 1 m; wire 1.5..6 mm2; protect 25 A fuse class-t 0.1 m from source"), "wire-overloaded", OPEN_AT_ONE, "link");
}

/*
 * Of two cables of 3 m, one to each bank, the current goes through both: 0.0164 ohm mm2/m x 2 x 6 m x 380 A / 35 mm2 = 2.14 V of 12 V:
 * 17.8 %; of 1.5 m each 8.9 %. Too thin a one is told once.
 */
static void voltage_is_left_at_the_end_of_a_cable_that_lends(void **state)
{
    (void)state;
    expect_verdict(LINK("run 3 m; wire 35 mm2"), "wire-drop", BROKEN_AT_ONE, "link");
    expect_verdict(LINK("run 1.5 m; wire 35 mm2"), "wire-drop", NOTHING, NULL);
    Compiled c;
    compile_text(&c, LINK("run 3 m; wire 35 mm2"));
    const Finding *f = only_finding(&c, "wire-drop");
    assert_non_null(strstr(f->message, "by the formula of the basis 17.8 % of the voltage is lost in the cables of `link`"));
    assert_non_null(strstr(f->message, "by way of it (in real cable at 50 C ")); /* as the book has it */
    compile_free(&c);
    expect_verdict(LINK("run 6 m; wire 6 mm2"), "wire-drop", NOTHING, NULL);
}

/* Silence is not safety: of the cable between two banks nobody knows whether it stands anything. */
static void a_cable_that_lends_and_is_not_stated_is_open_once(void **state)
{
    (void)state;
    expect_verdict(LINK("critical no"), "wire-unprotected", OPEN_AT_ONE, "link");
    expect_verdict(LINK("run 0 m"), "wire-unprotected", NOTHING, NULL);
}

/* The same between a generator and the switch that chooses between it and the shore; the shore's cable is the inlet's own. */
static void a_cable_from_a_generator_to_its_switch_that_is_not_stated_is_open(void **state)
{
    (void)state;
#define CHOOSES(CABLE)                                                                                                            \
    ISO "inlet shore { rated 16 A at 230 V; run 1 m; wire 4 mm2; ground 4 mm2; protect 16 A breaker 0.4 m from source; poles 2 }\n" \
        "generator genset { rated 3 kW at 230 V; fuel diesel }\n"                                                                 \
        "switch source { works-as transfer; fed-by shore, genset; rated 32 A; poles 2; " CABLE " }\n"                              \
        "load kettle { fed-by source; run 3 m; wire 2.5 mm2; ground 2.5 mm2; protect 10 A breaker; poles 2; draw 1500 W }\n"
    expect_verdict(CHOOSES("critical no"), "wire-unprotected", OPEN_AT_ONE, "source");
    expect_verdict(CHOOSES("run 0 m"), "wire-unprotected", NOTHING, NULL);
#undef CHOOSES
}

static void the_cable_of_a_starter_stands_it(void **state)
{
    (void)state;
#define CRANKED(WIRE) ISO TWO_BANKS DIESEL("start", WIRE)
    expect_verdict(CRANKED("6 mm2"), "wire-overloaded", BROKEN_AT_ONE, "diesel");
    expect_verdict(CRANKED("70 mm2"), "wire-overloaded", NOTHING, NULL);
}

/*
 * 25 mm2 stand 585.6 A (see LINK) and lose 0.0164 ohm mm2/m x 4 m x 300 A / 25 mm2 = 0.787 V of 12 V, 6.56 %; by which 70 mm2 is the first
 * that keeps 10 % over 12 m with 380 A, 62.3 mm2, which two cables of 3 m are. It is not asked to carry either for long.
 */
static void the_copper_of_a_starter_is_sized_as_it_is_judged(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, ISO TWO_BANKS "engine diesel { fed-by start; run 2 m; wire ?; rated 30 kW at 2800 rpm; fuel diesel; starter 300 A }\n");
    assert_near(compiled_figure(&c, "diesel", FIGURE_WIRE_SIZE)->high, 25e-6, 1e-9);
    assert_null(compiled_finding(&c, "wire-overloaded"));
    assert_null(compiled_finding(&c, "wire-drop"));
    compile_free(&c);
    compile_text(&c, LINK("run 3 m; wire ?"));
    assert_near(compiled_figure_at(&c, "link", FIGURE_WIRE_SIZE, "house")->high, 70e-6, 1e-9);
    assert_null(compiled_finding(&c, "wire-drop"));
    compile_free(&c);
    expect_verdict(LINK("run 6 m; wire ?"), "wire-overloaded", NOTHING, NULL);
}

/* What a starter takes is not stated: the word `emergency` alone excuses no thin cable. A fuse that guards it does. */
static void a_starter_that_is_not_stated_leaves_its_cables_open(void **state)
{
    (void)state;
#define UNSAID(CABLE) \
    ISO TWO_BANKS "engine diesel { rated 48 kW at 2800 rpm; fuel diesel; fed-by start; run 0 m }\n" \
        "switch link { fed-by house, start; works-as emergency; rated 300 A; cranking 900 A; " CABLE " }\n"
    expect_verdict(UNSAID("run 6 m; wire 6 mm2"), "wire-overloaded", OPEN_AT_ONE, "link");
    expect_verdict(UNSAID("run 6 m; wire 6 mm2; protect 25 A fuse class-t 0.1 m from source"), "wire-overloaded", NOTHING, NULL);
    expect_verdict(ISO TWO_BANKS "engine diesel { rated 48 kW at 2800 rpm; fuel diesel; fed-by start; run 2 m; wire 6 mm2 }\n",
                   "wire-overloaded", OPEN_AT_ONE, "diesel");
}

#define BY_PARALLEL(HOUSE, START)                                                                                             \
    US TWO_BANKS "switch hs { fed-by house; works-as battery; rated 300 A; cranking 900 A; run 0.5 m; wire 2/0 AWG " HOUSE " }\n" \
                 "switch ss { fed-by start; works-as battery; rated 300 A; cranking 900 A; run 0.5 m; wire 2/0 AWG " START " }\n" \
                 "switch both { fed-by hs, ss; works-as emergency; rated 300 A; cranking 900 A; run 0.5 m; wire 2/0 AWG }\n"  \
                 DIESEL("both", "2/0 AWG")

/* A class-t fuse of 60 A surely carries 66 A (1.1 times its rating, from memory), and the starter takes 380 A. */
static void an_engine_starts_by_each_of_its_ways(void **state)
{
    (void)state;
    expect_verdict(BY_PARALLEL("; protect 60 A fuse class-t 0.1 m from source", ""), "surge", BROKEN_AT_ONE, "both");
    expect_verdict(BY_PARALLEL("", "; protect 60 A fuse class-t 0.1 m from source"), "surge", BROKEN_AT_ONE, "both");
    expect_verdict(BY_PARALLEL("", ""), "surge", NOTHING, NULL);
    /* Where the other way is gone, the device is the engine's own. */
    expect_verdict(BY_PARALLEL("; protect 60 A fuse class-t 0.1 m from source", "; status dropped"), "surge", BROKEN_AT_ONE, "diesel");
}

/*
 * ISO 10133:2000 8.1: 200 mm from the battery; 33 CFR 183.460(a): 72 in. Where nobody says how far a device stands that is not
 * known: silence is not safety. A cable that is no longer has no place that is too far.
 */
static void a_battery_cable_says_where_its_device_stands(void **state)
{
    (void)state;
#define FUSED(BASIS, RUN, MORE) \
    BASIS TWO_BANKS "switch hs { fed-by house; works-as battery; rated 300 A; run " RUN "; wire 2/0 AWG; protect 200 A fuse class-t" MORE " }\n"
    expect_verdict(FUSED(ISO, "3 m", ""), "protect-far", OPEN_AT_ONE, "hs");
    expect_verdict(FUSED(ISO, "3 m", " 0.15 m from source"), "protect-far", NOTHING, NULL);
    expect_verdict(FUSED(ISO, "3 m", "; sheath conduit"), "protect-far", NOTHING, NULL);
    expect_verdict(FUSED(ISO, "0.2 m", ""), "protect-far", NOTHING, NULL);
    expect_verdict(FUSED(US, "3 m", ""), "protect-far", OPEN_AT_ONE, "hs");
    expect_verdict(FUSED(US, "6 ft", ""), "protect-far", NOTHING, NULL);
    /* The same of what charges a bank, and behind a switch, in which no device stands, whose own is too large for the cable. */
    expect_verdict(ISO TWO_BANKS "alternator alt { driven-by wind; output 90 A at 14.2 V; feeds house { run 2 m; wire 35 mm2; protect 150 A fuse bolt-on } }\n",
                   "protect-far", OPEN_AT_ONE, "alt");
#define BEHIND(GIVER, SIZE) "panel main { fed-by " GIVER "; run 4 m; wire " SIZE "; protect 60 A fuse class-t }\n"
    expect_verdict(FUSED(ISO, "0.2 m", "") BEHIND("hs", "16 mm2"), "protect-far", OPEN_AT_ONE, "main");
    expect_verdict(FUSED(ISO, "0.2 m", "") BEHIND("hs", "120 mm2 insulation 105 C"), "protect-far", NOTHING, NULL);
    expect_verdict(FUSED(ISO, "0.2 m", "") "bus pos { fed-by hs; run 0 m }\n" BEHIND("pos", "16 mm2"), "protect-far", NOTHING, NULL);
#undef BEHIND
    /* A fuse on the post of the battery stands there. */
    expect_verdict(ISO TWO_BANKS "panel main { fed-by house; run 4 m; wire 16 mm2; protect 60 A fuse terminal }\n", "protect-far", NOTHING,
                   NULL);
}

/*
 * ISO 10133:2012, 3 %: of its own cable 2 x 12 m x 3 A x 0.0164 ohm mm2/m / 1 mm2 = 1.18 V, 9.84 %; the panel's before it 2.79 %.
 * What breaks its limit by itself is told though its panel's cable breaks its own too, and neither of the two can mend it alone.
 */
static void a_cable_that_loses_too_much_itself_is_told_with_what_mends_it(void **state)
{
    (void)state;
#define LIGHT(MAIN, RUN) ISO "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 5 mohm }\n" \
    "panel p { fed-by house; run 6 m; wire " MAIN " insulation 105 C; protect 40 A fuse class-t 0.1 m from source }\n" \
    "load fridge { fed-by p; run 3 m; wire 6 mm2; protect 20 A breaker; draw 14 A }\n" \
    "circuit n { fed-by p; run " RUN "; wire 1 mm2; protect 5 A breaker }\n" \
    "nav-light side { fed-by n; draw 3 A; shows sidelights; visible 2 nmi; height 2 m }\n"
    static const char *const specs[] = {LIGHT("10 mm2", "12 m"), LIGHT("6 mm2", "12 m")};
    for (size_t i = 0; i < 2; i++) {
        Compiled c;
        compile_text(&c, specs[i]);
        const Finding *f = finding_on(&c, "wire-drop", "n");
        assert_non_null(f);
        assert_string_equal(f->remedies->text, "wire 10 mm2, and with it wire 35 mm2 insulation 105 C for `p`, which feeds it");
        compile_free(&c);
    }
    /* Of 2 to 12 m 3.66 m are the last that lose no more than 3 % alone; 2 m do not, and there the panel's cable alone is told. */
    Compiled c;
    compile_text(&c, LIGHT("6 mm2", "2..12 m"));
    const Finding *f = finding_on(&c, "wire-drop", "n");
    assert_non_null(f);
    assert_int_equal(f->verdict, VERDICT_OPEN);
    compile_free(&c);
    compile_text(&c, LIGHT("6 mm2", "2 m"));
    assert_null(finding_on(&c, "wire-drop", "n"));
    compile_free(&c);
#undef LIGHT
}

/* 33 CFR 183.460(a): 72 in from the battery; US voluntary practice (ABYC E-11, second hand): 7 in of bare cable. One place meets both. */
static void the_place_that_is_proposed_meets_both_limits(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, FUSED(US, "3 m", " 80 in from source"));
    const Finding *f = only_finding(&c, "protect-far");
    assert_string_equal(f->remedies->text, "`7 in from source` on its `protect`");
    assert_string_equal(f->remedies->next->text, "`72 in from source` with `sheath conduit`");
    compile_free(&c);
    compile_text(&c, FUSED(US, "3 m", " 72 in from source"));
    f = only_finding(&c, "protect-far");
    assert_int_equal(f->severity, SEVERITY_WARNING);
    assert_string_equal(f->remedies->text, "`7 in from source` on its `protect`");
    compile_free(&c);
    expect_verdict(FUSED(US, "3 m", " 7 in from source"), "protect-far", NOTHING, NULL);
    expect_verdict(FUSED(US, "3 m", " 72 in from source; sheath conduit"), "protect-far", NOTHING, NULL);
}

/* A telephone on a power pack has a lead with a plug: no cable of the boat. A cable that is stated is one, and so is what is wired in. */
static void what_is_plugged_into_a_pack_has_no_cable(void **state)
{
    (void)state;
#define PLUGGED(BANK, LOAD)                                                                                     \
    US "bank pack { chemistry lifepo4; voltage 12.8 V; capacity 50 Ah; charged-ashore yes; " BANK " }\n"        \
       "load phones { fed-by pack; draw 10 W at 5 V; " LOAD " }\n"
    static const char plugged[] = PLUGGED("portable yes", "portable yes");
    expect_verdict(plugged, "wire-unprotected", NOTHING, NULL);
    expect_verdict(plugged, "protect-far", NOTHING, NULL);
    Compiled c;
    compile_text(&c, plugged);
    assert_null(compiled_figure(&c, "phones", FIGURE_WIRE_SIZE));
    assert_non_null(compiled_figure(&c, "phones", FIGURE_CURRENT));
    compile_free(&c);
    expect_verdict(PLUGGED("portable yes", "portable yes; run 3 m; wire 16 AWG"), "wire-unprotected", BROKEN_AT_ONE, "phones");
    expect_verdict(PLUGGED("portable yes", "portable no"), "wire-unprotected", BROKEN_AT_ONE, "phones");
    expect_verdict(PLUGGED("portable no", "portable yes"), "wire-unprotected", BROKEN_AT_ONE, "phones");
}

/*
 * 33 CFR 183.425, Table 5: 105 C in an engine space carries 0.85 x 120 A in 6 AWG, x 160 A = 136 A in 4 AWG, x 210 A = 179 A in 2 AWG.
 * An alternator of 150 A asks for a device of 1.25 x 150 A = 188 A, of 200 A, for which 4 AWG would do by 183.455(c); not for 150 A.
 */
static void one_answer_meets_current_cable_and_device(void **state)
{
    (void)state;
#define CHARGED_BY(WIRE, DEVICE)                                                                                                 \
    US TWO_BANKS "space engine-room { engine-space yes }\n"                                                                      \
                 "engine diesel { rated 90 hp at 2500 rpm; fuel diesel; space engine-room; starter 300 A; fed-by start; run 1 m; " \
                 "wire 2/0 AWG }\nalternator alt { engine diesel; output 150 A at 14.2 V; feeds house { run 2 m; wire " WIRE      \
                 " insulation 105 C; protect " DEVICE " A fuse class-t 6 in from source; drop 10 % } }\n"
    Compiled c;
    compile_text(&c, CHARGED_BY("6 AWG", "175"));
    assert_string_equal(compiled_finding(&c, "wire-overloaded")->remedies->text, "wire 2 AWG insulation 105 C");
    assert_string_equal(compiled_finding(&c, "wire-unprotected")->remedies->text, "wire 2 AWG insulation 105 C with protect 200 A fuse class-t 6 in from source");
    assert_string_equal(compiled_finding(&c, "protect-tight")->remedies->text, "wire 2 AWG insulation 105 C with protect 200 A fuse class-t 6 in from source");
    compile_free(&c);
    compile_text(&c, CHARGED_BY("2 AWG", "200"));
    assert_null(compiled_finding(&c, "wire-overloaded"));
    assert_null(compiled_finding(&c, "wire-unprotected"));
    assert_null(compiled_finding(&c, "protect-tight"));
    compile_free(&c);
}

/* The same where the device may be no larger than the ampacity (ISO 13297:2020 13.1.5): 200 A ask for more than 1 AWG, which carries 181 A. */
static void one_answer_meets_cable_and_device_on_iso_too(void **state)
{
    (void)state;
#define BY_ISO(WIRE, DEVICE)                                                                                                     \
    ISO TWO_BANKS "space engine-room { engine-space yes }\n"                                                                     \
                  "engine diesel { rated 90 hp at 2500 rpm; fuel diesel; space engine-room; starter 300 A; fed-by start; run 1 m; " \
                  "wire 2/0 AWG }\nalternator alt { engine diesel; output 150 A at 14.2 V; feeds house { run 2 m; wire " WIRE     \
                  " insulation 105 C; protect " DEVICE " A fuse class-t 6 in from source; drop 10 % } }\n"
    Compiled c;
    compile_text(&c, BY_ISO("6 AWG", "175"));
    assert_string_equal(compiled_finding(&c, "wire-overloaded")->remedies->text, "wire 1/0 AWG insulation 105 C");
    assert_string_equal(compiled_finding(&c, "protect-tight")->remedies->text, "wire 1/0 AWG insulation 105 C with protect 200 A fuse class-t 6 in from source");
    compile_free(&c);
    /* An inverter of 2500 W takes 247 A of a low bank, and asks for 309 A: what guards its cable too small is told with it. */
    compile_text(&c, ISO TWO_BANKS "inverter inv { fed-by house; run 2 m; wire 35 mm2 conductors 2 insulation 70 C; "
                                   "protect 300 A fuse class-t 0.1 m from source; rated 2500 W; output 230 V }\n");
    static const char better[] = "wire 50 mm2 conductors 2 insulation 105 C", thicker[] = "wire 70 mm2 conductors 2 insulation 70 C";
    static const char device[] = " with protect 350 A fuse class-t 0.1 m from source";
    const Remedy *both = compiled_finding(&c, "wire-unprotected")->remedies, *cable = compiled_finding(&c, "inverter-feed")->remedies;
    assert_true(strncmp(both->text, better, strlen(better)) == 0 && strcmp(both->text + strlen(better), device) == 0);
    assert_true(strncmp(both->next->text, thicker, strlen(thicker)) == 0 && strcmp(both->next->text + strlen(thicker), device) == 0);
    assert_string_equal(cable->text, better);
    assert_string_equal(cable->next->text, thicker);
    compile_free(&c);
}

/*
 * 33 CFR 183.455(b): 7 in. The output of an alternator limits itself (ABYC E-11 excepts it, from memory): a breaker there that nobody
 * asks for is no fault where it stands, for to take it out would be none.
 */
static void a_second_device_at_an_alternator_is_no_fault_where_it_stands(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, US TWO_BANKS "alternator alt { driven-by wind; output 70 A at 14.2 V; feeds house { run 2 m; wire 4 AWG; protect 100 A fuse "
                                  "class-t 6 in from source; protect-output 100 A breaker 1 ft from source } }\n");
    const Finding *f = only_finding(&c, "protect-far");
    assert_non_null(f);
    assert_int_equal(f->severity, SEVERITY_ADVICE);
    assert_non_null(strstr(f->message, "at most 7 in ("));
    compile_free(&c);
}

/* Where nothing comes there is no short circuit: 12.8 V / 4 mohm = 3.2 kA were more than such a breaker breaks. */
static void what_hangs_on_a_dropped_panel_is_told_once(void **state)
{
    (void)state;
#define ON_PANEL(STATUS)                                                                                                          \
    US "bank house { chemistry agm; voltage 12 V; capacity 400 Ah; resistance 4 mohm }\n"                                         \
       "panel main { " STATUS "fed-by house; run 3 m; wire 2 AWG insulation 105 C; protect 100 A fuse class-t 0.15 m from source }\n" \
       "circuit a { fed-by main; run 4 m; wire 14 AWG; protect 15 A breaker hydraulic }\nload lamp { fed-by a; draw 2 A }\n"      \
       "circuit b { fed-by main; run 4 m; wire 14 AWG; protect 15 A breaker hydraulic }\nload fan { fed-by b; draw 2 A }\n"
    expect_verdict(ON_PANEL(""), "protect-breaking", NOTHING, NULL);
    expect_verdict(ON_PANEL("status dropped; "), "protect-breaking", NOTHING, NULL);
    expect_verdict(ON_PANEL("status dropped; "), "protect-blind", NOTHING, NULL);
    expect_verdict(ON_PANEL("status dropped; "), "unpowered", BROKEN_AT_ONE, "a");
    Compiled c;
    compile_text(&c, ON_PANEL("status dropped; "));
    assert_string_equal(compiled_finding(&c, "unpowered")->message, "`a` and `b` are fed by `main`, which is dropped");
    compile_free(&c);
}

/* Of two sources one is gone: there is no emergency start any more, and a feed of a single source would say so. */
static void a_source_of_a_switch_that_is_dropped_is_told(void **state)
{
    (void)state;
    expect_verdict(BY_PARALLEL("; status dropped", ""), "rests-on-dropped", BROKEN_AT_ONE, "both");
    expect_verdict(BY_PARALLEL("", "; status dropped"), "rests-on-dropped", BROKEN_AT_ONE, "both");
    expect_verdict(BY_PARALLEL("", ""), "rests-on-dropped", NOTHING, NULL);
    /* Of both: that is unpowered. */
    expect_verdict(BY_PARALLEL("; status dropped", "; status dropped"), "rests-on-dropped", NOTHING, NULL);
    expect_verdict(BY_PARALLEL("; status dropped", "; status dropped"), "unpowered", BROKEN_AT_ONE, "both");
}

/* What guards the whole panel would trip on the charger's leak: the circuit of the outlet gets a device of its own. */
static void an_outlet_in_the_wet_gets_a_leakage_device_of_its_own(void **state)
{
    (void)state;
#define SOCKET(PANEL, CIRCUIT)                                                                                           \
    US "inlet shore { rated 30 A at 120 V; run 2 m; wire 10 AWG; protect 30 A breaker; poles 2 }\n"                      \
       "panel acp { fed-by shore; run 1 m; wire 10 AWG; protect 30 A breaker; poles 2 " PANEL "}\nspace galley { wet yes }\n" \
       "circuit sockets { fed-by acp; run 2 m; wire 12 AWG; protect 20 A breaker " CIRCUIT "}\n"                          \
       "outlet socket { fed-by sockets; space galley }\n"
    Compiled c;
    compile_text(&c, SOCKET("; ground-fault 30 mA ", ""));
    const Finding *f = only_finding(&c, "outlet-leakage");
    assert_non_null(f);
    assert_string_equal(f->remedies->text, "`ground-fault 5 mA` on `sockets`");
    compile_free(&c);
    compile_text(&c, SOCKET("", "; ground-fault 30 mA "));
    assert_string_equal(only_finding(&c, "outlet-leakage")->remedies->text, "ground-fault 5 mA");
    compile_free(&c);
    expect_verdict(SOCKET("; ground-fault 30 mA ", "; ground-fault 5 mA "), "outlet-leakage", NOTHING, NULL);
}

/*
 * (100 A / 25 mm2)^2 x 0.0193 ohm mm2/m x 600 s / 3.45 MJ/m3K = 54 K from 50 C on were 104 C, more than 90 C insulation stands, if
 * all heat stayed in the copper; ISO 13297 (from memory) lets 25 mm2 carry 140 A for ever. 16 mm2 (100 A) carries no 110 A.
 */
static void what_a_cable_carries_for_ever_it_carries_for_a_burst(void **state)
{
    (void)state;
#define PUSHING(WIRE, DRAW)                                                                                                       \
    ISO TWO_BANKS "thruster bow { fed-by house; run 0.5 m; wire " WIRE " insulation 90 C; protect 110 A fuse class-t 0.1 m from source; " \
                  "draw " DRAW "; thrust 300 N; longest-burst 10 min }\n"
    expect_verdict(PUSHING("25 mm2", "100 A"), "thruster-volts", NOTHING, NULL);
    expect_verdict(PUSHING("16 mm2", "110 A"), "thruster-volts", BROKEN_AT_ONE, "bow");
}

/*
 * A start of 600 A by way of it: a bolt-on fuse of 300 A, as its switch is rated for long, surely carries 526 A for 5 s (ISO 8820-5,
 * from memory: 1.75 times); one of 450 A, which the cable allows, 788 A. The banks are weak enough for what such a fuse surely breaks.
 */
static void the_device_that_is_proposed_lets_the_starter_crank(void **state)
{
    (void)state;
#define TIED(PROTECT)                                                                                                                \
    US "bank house { chemistry agm; voltage 12 V; capacity 360 Ah; resistance 14 mohm; cranking 2000 A }\n"                          \
       "bank start { role start; chemistry agm; voltage 12 V; capacity 95 Ah; resistance 14 mohm; cranking 800 A }\n"               \
       "switch ss { fed-by start; works-as battery; rated 300 A; cranking 1500 A; run 0.5 m; wire 150 mm2 }\n"                      \
                 "switch link { fed-by house, start; works-as emergency; rated 300 A; cranking 1500 A; run 1.5 m; wire 150 mm2; protect " \
                 PROTECT " }\nengine diesel { fed-by ss; run 1.5 m; wire 150 mm2; rated 48 kW at 2800 rpm; fuel diesel; starter 600 A }\n"
    Compiled c;
    compile_text(&c, TIED("?"));
    assert_null(compiled_finding(&c, "surge"));
    assert_null(compiled_finding(&c, "protect-large"));
    assert_null(compiled_finding(&c, "wire-unprotected"));
    compile_free(&c);
    compile_text(&c, TIED("300 A fuse bolt-on"));
    assert_non_null(compiled_finding(&c, "surge"));
    compile_free(&c);
}

/* ABYC E-11, from memory: what a source that limits itself gives, the cable carries for ever. ISO: 2.5 mm2 carries 17 A at 60 C. */
static void what_limits_itself_below_what_the_cable_carries_asks_for_no_device(void **state)
{
    (void)state;
#define BEHIND(GIVES, MORE)                                                                                                    \
    ISO TWO_BANKS "converter steps { fed-by house; run 1 m; wire 2.5 mm2; protect 5 A fuse class-t 0.1 m from source; output " GIVES \
                  " }\n" "load radio { fed-by steps; run 2 m; wire 2.5 mm2; draw 2 A }\n" MORE
    expect_verdict(BEHIND("3 A at 12 V", ""), "wire-unprotected", NOTHING, NULL);
    expect_verdict(BEHIND("40 A at 12 V", ""), "wire-unprotected", BROKEN_AT_ONE, "radio");
    expect_verdict(BEHIND("3..40 A at 12 V", ""), "wire-unprotected", OPEN_AT_ONE, "radio");
    expect_verdict(BEHIND("3 A at 12 V; relay yes", ""), "wire-unprotected", BROKEN_AT_ONE, "radio");
    expect_verdict(BEHIND("3 A at 12 V", "panel small { fed-by steps; run 1 m; wire 2.5 mm2 }\nload lamp { fed-by small; run 1 m; wire 2.5 mm2; draw 1 A }\n"),
                   "wire-unprotected", NOTHING, NULL);
    /* An array feeds a short circuit in it from the other end. */
    expect_verdict(BEHIND("3 A at 12 V", "bus small { fed-by steps; run 1 m; wire 2.5 mm2 }\n"
                                 "solar roof { rated 20 W; feeds small { run 1 m; wire 2.5 mm2; protect 5 A fuse } }\n"),
                   "wire-unprotected", BROKEN_AT_ONE, "small");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_cable_that_lends_a_bank_stands_the_starter),
        cmocka_unit_test(voltage_is_left_at_the_end_of_a_cable_that_lends),
        cmocka_unit_test(a_cable_that_lends_and_is_not_stated_is_open_once),
        cmocka_unit_test(the_cable_of_a_starter_stands_it),
        cmocka_unit_test(the_copper_of_a_starter_is_sized_as_it_is_judged),
        cmocka_unit_test(a_starter_that_is_not_stated_leaves_its_cables_open),
        cmocka_unit_test(an_engine_starts_by_each_of_its_ways),
        cmocka_unit_test(a_battery_cable_says_where_its_device_stands),
        cmocka_unit_test(the_place_that_is_proposed_meets_both_limits),
        cmocka_unit_test(what_is_plugged_into_a_pack_has_no_cable),
        cmocka_unit_test(one_answer_meets_current_cable_and_device),
        cmocka_unit_test(one_answer_meets_cable_and_device_on_iso_too),
        cmocka_unit_test(a_second_device_at_an_alternator_is_no_fault_where_it_stands),
        cmocka_unit_test(what_hangs_on_a_dropped_panel_is_told_once),
        cmocka_unit_test(a_source_of_a_switch_that_is_dropped_is_told),
        cmocka_unit_test(a_cable_that_loses_too_much_itself_is_told_with_what_mends_it),
        cmocka_unit_test(a_cable_from_a_generator_to_its_switch_that_is_not_stated_is_open),
        cmocka_unit_test(an_outlet_in_the_wet_gets_a_leakage_device_of_its_own),
        cmocka_unit_test(what_a_cable_carries_for_ever_it_carries_for_a_burst),
        cmocka_unit_test(the_device_that_is_proposed_lets_the_starter_crank),
        cmocka_unit_test(what_limits_itself_below_what_the_cable_carries_asks_for_no_device),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
