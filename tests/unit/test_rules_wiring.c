/*
 * Rules of cables and protection where their own examples do not reach. Sources stand in the rules' own tables; here is what
 * follows.
 */
#include "unit/verdict.h"

#define ON(BASIS)                                                                                   \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; " \
    "basis " BASIS "; sails no }\n"
#define ISO ON("iso")

/* The one figure of a thing in a spec, which must be known and exact. */
static double figure_in(const char *spec, const char *subject, FigureId id)
{
    Compiled c;
    compile_text(&c, spec);
    const Figure *figure = compiled_figure(&c, subject, id);
    assert_non_null(figure);
    assert_int_equal(figure->state, STATE_KNOWN);
    assert_near(figure->low, figure->high, 0.0);
    double value = figure->low;
    compile_free(&c);
    return value;
}

/* ---- Limits of the drop ---- */

/*
 * ISO 10133:2012 (from an extract) and ABYC E-11 hold navigation lights to 3 %: 4 A through 2 x 8 m of 1 mm2 lose about a
 * tenth of 12 V, through 10 mm2 a hundredth. What the owner states beside it does not hide that.
 */
static void no_statement_takes_a_navigation_light_out_of_its_limit(void **state)
{
    (void)state;
#define LIGHTS(WIRE, MORE) \
    ISO "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; charged-ashore yes }\n" \
        "circuit nav { fed-by house; run 8 m; wire " WIRE " insulation 105 C; protect 5 A fuse; " MORE " }\n" \
        "nav-light sides { fed-by nav; draw 4 A; shows sidelights; visible 2 nmi }\n"
    static const char *const loosened[] = {LIGHTS("1 mm2", ""), LIGHTS("1 mm2", "drop 50 %"),
                                           LIGHTS("1 mm2", "critical no"), LIGHTS("1 mm2", "drop 50 %; critical yes")};
    for (size_t i = 0; i < sizeof loosened / sizeof loosened[0]; i++) {
        Compiled c;
        compile_text(&c, loosened[i]);
        const Finding *f = only_finding(&c, "wire-drop");
        assert_non_null(f);
        assert_int_equal(f->severity, SEVERITY_FAULT);
        assert_near(f->limit.high, 0.03, 1e-12);
        compile_free(&c);
    }
    expect_verdict(LIGHTS("10 mm2", "drop 50 %"), "wire-drop", NOTHING, NULL);
    expect_verdict(LIGHTS("10 mm2", "drop 0.5 %"), "wire-drop", BROKEN_AT_ONE, "nav");
    expect_verdict(LIGHTS("6 mm2", "drop 1..50 %"), "wire-drop", OPEN_AT_ONE, "nav");
}

/* "Bilge blowers" in both bases: what clears petrol vapour. 6 A through 2 x 5 m of 2.5 mm2 lose about 4 % of 12 V. */
static void only_a_blower_of_petrol_vapour_has_the_stricter_limit(void **state)
{
    (void)state;
#define FAN(SPACE, ENGINE) \
    ISO "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; charged-ashore yes }\n" \
        "space bay { engine-space yes; " SPACE " }\n" ENGINE \
        "blower fan { space bay; fed-by house; run 5 m; wire 2.5 mm2 insulation 105 C; protect 10 A fuse; draw 6 A }\n"
#define BURNS(FUEL) "engine eng { rated 21 kW at 2800 rpm; fuel " FUEL "; space bay }\n"
    expect_verdict(FAN("", BURNS("petrol")), "wire-drop", BROKEN_AT_ONE, "fan");
    expect_verdict(FAN("petrol yes", BURNS("diesel")), "wire-drop", BROKEN_AT_ONE, "fan");
    expect_verdict(FAN("", ""), "wire-drop", BROKEN_AT_ONE, "fan"); /* silence is not safety */
    expect_verdict(FAN("", BURNS("diesel")), "wire-drop", NOTHING, NULL);
    expect_verdict(FAN("petrol no", ""), "wire-drop", NOTHING, NULL);
}

/* ---- What charges a bank flows through its cables too ---- */

/* A bank of 24 V, its switch, a bus with 10 A of load and 100 A of charger on it. */
#define CHARGED(SWITCH, BUS)                                                                               \
    ISO "bank house { chemistry lifepo4; voltage 25.6 V; capacity 230 Ah; resistance 4 mohm; max-charge "  \
        "150 A }\n"                                                                                        \
        "switch sw { fed-by house; works-as battery; run 0.5 m; " SWITCH " }\n"                            \
        "bus positive { fed-by sw; run 0.5 m; rated 250 A; " BUS " }\n"                                    \
        "load lamp { fed-by positive; run 3 m; wire 2.5 mm2; draw 10 A; protect 15 A fuse terminal 0.1 m " \
        "from source }\n"                                                                                  \
        "inlet shore { rated 32 A at 230 V }\n"                                                            \
        "charger ch { fed-by shore; run 1 m; output 100 A at 28.8 V\n"                                     \
        "  feeds positive { run 2 m; wire 50 mm2 insulation 105 C; protect 150 A fuse class-t 0.1 m from " \
        "source } }\n"
#define FULL "wire 50 mm2 insulation 105 C"

/* Kirchhoff: with nothing switched on all 100 A go to the bank, through bus, switch and fuse. */
static void what_charges_goes_back_to_the_bank_through_switch_cable_and_fuse(void **state)
{
    (void)state;
    assert_near(figure_in(CHARGED("rated 200 A; " FULL "; protect 200 A fuse", FULL), "sw", FIGURE_BROUGHT),
                100.0, 1e-9);
    expect_verdict(CHARGED("rated 50 A; " FULL "; protect 200 A fuse", FULL), "bus-overloaded", BROKEN_AT_ONE,
                   "sw");
    expect_verdict(
        CHARGED("rated 200 A; wire 6 mm2 insulation 105 C; protect 40 A fuse", FULL "; protect 200 A fuse"),
        "wire-overloaded", BROKEN_AT_ONE, "sw");
    expect_verdict(CHARGED("rated 200 A; " FULL "; protect 200 A fuse",
                           "wire 4 mm2 insulation 105 C; protect 25 A fuse"),
                   "wire-overloaded", BROKEN_AT_ONE, "positive");
    expect_verdict(CHARGED("rated 200 A; " FULL "; protect 110 A fuse", FULL), "protect-tight", BROKEN_AT_ONE,
                   "sw");
    expect_verdict(CHARGED("rated 200 A; " FULL "; protect 125 A fuse", FULL), "protect-tight", NOTHING,
                   NULL);
    expect_verdict(CHARGED("rated 200 A; " FULL "; protect 200 A fuse", FULL), "wire-overloaded", NOTHING,
                   NULL);
    expect_verdict(CHARGED("rated 200 A; " FULL "; protect 200 A fuse", FULL), "bus-overloaded", NOTHING,
                   NULL);
}

/* An output that is a range leaves open what part of it would break. */
static void an_undecided_output_leaves_what_comes_back_open(void **state)
{
    (void)state;
#define ALTERNATOR(OUTPUT)                                                                             \
    ISO "bank house { chemistry agm; voltage 12 V; capacity 230 Ah }\n"                                \
        "bus positive { fed-by house; run 0.5 m; wire 25 mm2 insulation 105 C; protect 125 A fuse }\n" \
        "engine motor { rated 20 kW at 3000 rpm; fuel diesel }\n"                                      \
        "alternator belt { engine motor; output " OUTPUT                                               \
        " at 14.2 V; feeds positive { run 2 m; wire 70 mm2 insulation 105 C; "                         \
        "protect 300 A fuse } }\n"
    expect_verdict(ALTERNATOR("80..200 A"), "wire-overloaded", OPEN_AT_ONE, "positive");
    expect_verdict(ALTERNATOR("80 A"), "wire-overloaded", NOTHING, NULL);
    expect_verdict(ALTERNATOR("200 A"), "wire-overloaded", BROKEN_AT_ONE, "positive");
}

/* What is left to the program is chosen for the greater of both directions: 100 A x 1.25 is the 125 A that is made. */
static void a_device_and_a_size_left_open_carry_what_comes_back(void **state)
{
    (void)state;
    const char *spec = CHARGED("protect ?", "wire ?");
    assert_near(figure_in(spec, "sw", FIGURE_PROTECTION), 125.0, 1e-9);
    assert_true(figure_in(spec, "sw", FIGURE_AMPACITY) >= 125.0);
    assert_true(figure_in(spec, "positive", FIGURE_AMPACITY) >= 125.0);
}

/* ---- No device is chosen that the spec does not state ---- */

static void what_stands_upstream_protects_and_nothing_is_chosen(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, CHARGED("rated 200 A; " FULL "; protect 200 A fuse", FULL));
    assert_null(compiled_figure(&c, "positive", FIGURE_PROTECTION));
    assert_null(compiled_figure(&c, "positive", FIGURE_WANTED_PROTECTION));
    compile_free(&c);
    /* Where nothing does, the rule says what would: 1.25 x 10 A is more than 10 A and at most 15 A. */
    compile_text(&c, ISO "bank house { chemistry agm; voltage 12 V; capacity 230 Ah }\n"
                         "load lamp { fed-by house; run 3 m; draw 10 A }\n");
    assert_null(compiled_figure(&c, "lamp", FIGURE_PROTECTION));
    assert_near(compiled_figure(&c, "lamp", FIGURE_WANTED_PROTECTION)->low, 15.0, 1e-9);
    const Finding *bare = only_finding(&c, "wire-unprotected");
    assert_non_null(bare);
    assert_str(str_from(bare->remedies->text), "protect 15 A fuse class-t 0.15 m from source"); /* no blade breaks a bank of 230 Ah */
    compile_free(&c);
}

/* An outlet is wired for what may be drawn from it, behind the breaker that is there: no finding about its own size. */
/*
 * Below 50 V on `us`: a device between the ampacity (20 A of 14 AWG at 60 C, 33 CFR 183.425 Table 5) and 150 % of it (183.455(c))
 * is a warning where a smaller one carries the load (voluntary practice, from memory), and none where no smaller one does.
 */
static void a_device_above_the_ampacity_that_need_not_be_is_a_warning(void **state)
{
    (void)state;
#define GUARDED(BASIS, DRAW, PROTECT) \
    ON(BASIS) "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; charged-ashore yes }\n" \
              "load lamp { fed-by house; run 1 m; wire 14 AWG insulation 60 C; draw " DRAW "; protect " PROTECT " fuse }\n"
    static const struct {
        const char *spec;
        Severity severity;
    } told[] = {{GUARDED("us", "10 A", "30 A"), SEVERITY_WARNING}, {GUARDED("us", "10 A", "40 A"), SEVERITY_FAULT}};
    for (size_t i = 0; i < sizeof told / sizeof told[0]; i++) {
        Compiled c;
        compile_text(&c, told[i].spec);
        const Finding *f = only_finding(&c, "wire-unprotected");
        assert_non_null(f);
        assert_int_equal(f->severity, told[i].severity);
        compile_free(&c);
    }
    expect_verdict(GUARDED("us", "10 A", "20 A"), "wire-unprotected", NOTHING, NULL);
    expect_verdict(GUARDED("us", "20 A", "25 A"), "wire-unprotected", NOTHING, NULL);
    expect_verdict(GUARDED("us", "10..30 A", "30 A"), "wire-unprotected", OPEN_AT_ONE, "lamp");
    expect_verdict(GUARDED("iso", "10 A", "30 A"), "wire-unprotected", BROKEN_AT_ONE, "lamp");
}

static void an_outlet_is_sized_by_its_rating(void **state)
{
    (void)state;
#define SOCKET(BASIS, INLET, BREAKER, RATED)                                                                \
    ON(BASIS)                                                                                               \
    "inlet shore { rated " INLET "; run 0.4 m; wire 4 mm2 insulation 70 C; protect " BREAKER " breaker }\n" \
    "outlet socket { fed-by shore; run 6 m; rated " RATED "; bundle 2 }\n"
    expect_verdict(SOCKET("iso", "16 A at 230 V", "16 A", "16 A"), "wire-unprotected", NOTHING, NULL);
    assert_true(figure_in(SOCKET("iso", "16 A at 230 V", "16 A", "16 A"), "socket", FIGURE_AMPACITY) >= 16.0);
    expect_verdict(SOCKET("us", "15 A at 120 V", "15 A", "15 A"), "wire-unprotected", NOTHING, NULL);
    assert_true(figure_in(SOCKET("us", "15 A at 120 V", "15 A", "15 A"), "socket", FIGURE_AMPACITY) >= 15.0);
}

/* A lamp on a main fuse of 150 A is not wired with 70 mm2: it wants a device of its own, and the rule says so. */
static void a_branch_on_a_large_device_wants_its_own(void **state)
{
    (void)state;
    const char *spec =
        ISO "bank house { chemistry agm; voltage 12 V; capacity 230 Ah }\n"
            "bus positive { fed-by house; run 1 m; wire 70 mm2 insulation 105 C; protect 150 A fuse }\n"
            "load lamp { fed-by positive; run 3 m; draw 2 A }\n";
    expect_verdict(spec, "wire-unprotected", BROKEN_AT_ONE, "lamp");
    assert_true(figure_in(spec, "lamp", FIGURE_WIRE_SIZE) <= 6e-6);
}

/* ---- What is assumed is said ---- */

/* ISO table, from memory: 35 mm2 of 60 C insulation 87 A, of 105 C 210 A. */
static void a_fault_on_assumed_insulation_says_so_and_what_else_it_may_be(void **state)
{
    (void)state;
#define FED(WIRE)                                                       \
    ISO "bank house { chemistry agm; voltage 12 V; capacity 230 Ah }\n" \
        "panel main { fed-by house; run 1 m; wire " WIRE "; protect 150 A fuse }\n"
    Compiled c;
    compile_text(&c, FED("35 mm2"));
    const Finding *f = only_finding(&c, "wire-unprotected");
    assert_non_null(f);
    assert_str(str_from(f->notes->text), "ampacity 87 A: 35 mm2, 60 C insulation (assumed: not stated)");
    assert_str(str_from(f->remedies->text), "`insulation 105 C`, if that is printed on the cable");
    compile_free(&c);
    compile_text(&c, FED("35 mm2 insulation 60 C"));
    f = only_finding(&c, "wire-unprotected");
    assert_str(str_from(f->notes->text), "ampacity 87 A: 35 mm2, 60 C insulation");
    assert_str(str_from(f->remedies->text), "wire 35 mm2 insulation 105 C"); /* another cable: it says what this one is */
    compile_free(&c);
    expect_verdict(FED("35 mm2 insulation 105 C"), "wire-unprotected", NOTHING, NULL);
}

/* ---- Cranking ---- */

#define START(SWITCH, STARTER, MORE)                                                                        \
    ISO "bank start { chemistry agm; voltage 12 V; capacity 90 Ah; role start; cranking 800 A; resistance " \
        "4 mohm }\n"                                                                                        \
        "switch sw { fed-by start; works-as battery; run 0.8 m; wire 35 mm2 insulation 105 C; " SWITCH      \
        " }\n"                                                                                              \
        "engine eng { rated 28 kW at 3000 rpm; fuel diesel; starter " STARTER                               \
        "; fed-by sw; run 1.5 m; wire 35 mm2 insulation 105 C }\n" MORE

/* 33 CFR 183.425(g), 183.455(e), 183.460(a): the main feed to a cranking motor, and a battery switch is a part of it. */
static void the_exemption_of_the_starter_reaches_through_its_switch(void **state)
{
    (void)state;
    static const char *const rules[] = {"wire-overloaded", "wire-unprotected", "protect-tight", "protect-far",
                                        "panel-overloaded"};
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++) {
        expect_verdict(START("rated 300 A", "280 A", ""), rules[i], NOTHING, NULL);
    }
    /* What else hangs there is no part of it: neither the lamp's own cable, nor what the switch carries for long. */
    expect_verdict(
        START("rated 300 A", "280 A", "load lamp { fed-by sw; run 2 m; wire 2.5 mm2; draw 3 A }\n"),
        "wire-unprotected", BROKEN_AT_ONE, "lamp");
    expect_verdict(START("rated 300 A", "280 A",
                         "load big { fed-by sw; run 2 m; wire 95 mm2 insulation 105 C; draw 250 A; protect "
                         "325 A fuse }\n"),
                   "wire-overloaded", BROKEN_AT_ONE, "sw");
    /* An electric motor is no starter. */
    expect_verdict(
        ISO "bank house { chemistry agm; voltage 12 V; capacity 90 Ah }\n"
            "engine eng { rated 2 kW at 3000 rpm; fuel electric; fed-by house; run 1.5 m; wire 95 mm2 }\n",
        "wire-unprotected", BROKEN_AT_ONE, "eng");
}

/*
 * 33 CFR 183.455(e) exempts the main feed from a battery to its own starter: what an emergency switch puts between two banks is live
 * from both of its ends, and is none. A warning, where a switch that joins banks is a fault.
 */
static void an_emergency_switch_is_no_main_feed_of_a_starter(void **state)
{
    (void)state;
#define LENDING(works_as)                                                                                                      \
    ISO "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 2 mohm }\n"                                     \
        "bank start { chemistry agm; voltage 12 V; capacity 90 Ah; role start; cranking 800 A; resistance 4 mohm }\n"          \
        "switch own { fed-by start; run 0.4 m; wire 50 mm2 insulation 90 C; works-as battery; rated 300 A; cranking 900 A }\n" \
        "switch lent { fed-by own, house; run 0.5 m; wire 50 mm2 insulation 90 C; works-as " works_as "; rated 300 A; cranking 900 A }\n" \
        "engine diesel { rated 40 kW at 3000 rpm; fuel diesel; starter 220 A; fed-by own; run 1.8 m; wire 50 mm2 insulation "  \
        "90 C }\n"
    Compiled c;
    compile_text(&c, LENDING("emergency"));
    const Finding *f = compiled_finding(&c, "wire-unprotected");
    assert_non_null(f);
    assert_int_equal(f->severity, SEVERITY_WARNING);
    assert_non_null(strstr(f->message, "live from both of its ends; a fuse at each end that lets the starter crank"));
    compile_free(&c);
    compile_text(&c, LENDING("parallel"));
    assert_int_equal(compiled_finding(&c, "wire-unprotected")->severity, SEVERITY_FAULT);
    compile_free(&c);
}

static void a_switch_is_held_against_its_cranking_rating_apart(void **state)
{
    (void)state;
    expect_verdict(START("rated 300 A", "280 A", ""), "switch-cranking", NOTHING, NULL);
    expect_verdict(START("rated 200 A", "280 A", ""), "switch-cranking", OPEN_AT_ONE, "sw");
    expect_verdict(START("rated 200 A; cranking 250 A", "280 A", ""), "switch-cranking", BROKEN_AT_ONE, "sw");
    expect_verdict(START("rated 200 A; cranking 700 A", "280 A", ""), "switch-cranking", NOTHING, NULL);
    expect_verdict(START("rated 200 A; cranking 250..700 A", "280 A", ""), "switch-cranking", OPEN_AT_ONE,
                   "sw");
    expect_verdict(START("rated 200 A", "280 A", ""), "panel-overloaded", NOTHING, NULL);
}

/* A device need not be there; one that is has to let the starter crank, and break a short circuit. */
static void a_device_before_a_starter_lets_it_crank(void **state)
{
    (void)state;
    expect_verdict(START("rated 300 A; protect 150 A fuse class-t", "280 A", ""), "surge", BROKEN_AT_ONE,
                   "eng");
    expect_verdict(START("rated 300 A; protect 400 A fuse class-t", "280 A", ""), "surge", NOTHING, NULL);
    expect_verdict(START("rated 300 A; protect 400 A fuse blade", "280 A", ""), "protect-breaking",
                   BROKEN_AT_ONE, "sw");
}

/* By hand: 280 A x 2 x 0.8 m x 0.0164 ohm mm2/m / 35 mm2 / 12 V = 1.75 %, and with the 1.5 m of its own 5.03 %. */
static void what_cranks_counts_in_its_own_drop_and_in_no_others(void **state)
{
    (void)state;
    const char *spec = START("rated 300 A", "280 A",
                             "radio vhf { fed-by sw; run 1 m; wire 2.5 mm2; draw 5 A; protect 10 A fuse }\n");
    assert_near(figure_in(spec, "sw", FIGURE_CURRENT), 5.0, 1e-9);
    assert_near(figure_in(spec, "sw", FIGURE_CRANKING), 280.0, 1e-9);
    double each = 0.0164 * 2.0 / 35.0 / 12.0; /* by ampere and metre */
    assert_near(figure_in(spec, "sw", FIGURE_TOTAL_DROP_BY_RULE), 5.0 * 0.8 * each, 1e-9);
    assert_near(figure_in(spec, "sw", FIGURE_CRANKING_DROP_BY_RULE), 285.0 * 0.8 * each, 1e-9);
    assert_near(figure_in(spec, "eng", FIGURE_TOTAL_DROP_BY_RULE), (285.0 * 0.8 + 280.0 * 1.5) * each, 1e-9);
    assert_near(figure_in(spec, "start", FIGURE_DISCHARGE_CURRENT), 5.0, 1e-9);
}

/*
 * By hand, with the bank at 11.5 V and 4 mohm, both feeders at 280 A and what runs: 280 x 4 mohm = 1.12 V are lost in the bank,
 * and on the 0.8 m of 35 mm2 that are shared about 280 x 1.6 m x 0.63 mohm/m = 0.28 V more.
 */
static void what_is_left_while_an_engine_is_cranked(void **state)
{
    (void)state;
#define VHF(NEEDS) \
    "radio vhf { fed-by sw; run 1 m; wire 2.5 mm2; draw 1 A; min-voltage " NEEDS "; protect 10 A fuse }\n"
    assert_near(figure_in(START("rated 300 A", "280 A", VHF("9 V")), "vhf", FIGURE_CRANKING_VOLTAGE),
                11.5 - 1.12 - 0.28, 0.05);
    expect_verdict(START("rated 300 A", "280 A", VHF("9.6 V")), "surge", NOTHING, NULL);
    expect_verdict(START("rated 300 A", "280 A", VHF("10.8 V")), "surge", BROKEN_AT_ONE, "vhf");
    expect_verdict(START("rated 300 A", "280 A", VHF("10.8 V")), "low-voltage", NOTHING, NULL);
}

/* A starter that nobody has looked up leaves the house's currents known. */
static void a_starter_that_is_not_stated_hides_nothing_else(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, ISO
                 "bank start { chemistry agm; voltage 12 V; capacity 90 Ah }\n"
                 "switch sw { fed-by start; works-as battery; run 0.8 m; wire 35 mm2 }\n"
                 "engine eng { rated 28 kW at 3000 rpm; fuel diesel; fed-by sw; run 1.5 m; wire 35 mm2 }\n"
                 "load lamp { fed-by sw; run 2 m; wire 2.5 mm2; draw 3 A; protect 5 A fuse }\n");
    assert_int_equal(compiled_figure(&c, "sw", FIGURE_CURRENT)->state, STATE_KNOWN);
    assert_int_equal(compiled_figure(&c, "sw", FIGURE_CRANKING)->state, STATE_MISSING);
    compile_free(&c);
}

/* A bank whose management allows 100 A does not crank with 280 A, unless it states that it does. */
static void a_starter_is_asked_of_a_bank_that_states_no_cranking(void **state)
{
    (void)state;
#define CRANKS(MORE)                                                                                         \
    ISO "bank house { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah; max-discharge 100 A; " MORE " }\n" \
        "engine eng { rated 28 kW at 3000 rpm; fuel diesel; starter 280 A; fed-by house; run 1.5 m; wire "   \
        "70 mm2 }\n"
    expect_verdict(CRANKS(""), "bank-discharge", BROKEN_AT_ONE, "house");
    expect_verdict(CRANKS("cranking 400 A"), "bank-discharge", NOTHING, NULL);
}

/* ---- One cause, one finding ---- */

/* By hand: 20 A x 2 x 10 m x 0.0164 / 6 mm2 / 12 V = 9.1 %: all that may lose 3 % is lost before it begins. */
static void a_thin_feeder_is_told_once_with_what_hangs_on_it(void **state)
{
    (void)state;
#define RADIO(NAME) "radio " NAME " { fed-by main; run 1 m; wire 6 mm2; draw 5 A; protect 10 A fuse }\n"
#define FEEDER(WIRE)                                                    \
    ISO "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
        "panel main { fed-by house; run 10 m; wire " WIRE               \
        " insulation 105 C; protect 40 A fuse }\n" RADIO("one") RADIO("two") RADIO("three") RADIO("four")
    Compiled c;
    compile_text(&c, FEEDER("6 mm2"));
    const Finding *f = only_finding(&c, "wire-drop");
    assert_non_null(f);
    assert_str(entity_name(outcome_first(c.outcome)->model, f->subject), "main");
    assert_str(str_from(f->notes->text),
               "so too much is lost to what hangs on it: `one`, `two`, `three` and 1 more");
    compile_free(&c);
    expect_verdict(FEEDER("50 mm2"), "wire-drop", NOTHING, NULL);
    /* One thin branch is told of itself. */
    expect_verdict(
        FEEDER("50 mm2") "radio far { fed-by main; run 9 m; wire 1.5 mm2; draw 5 A; protect 10 A fuse }\n",
        "wire-drop", BROKEN_AT_ONE, "far");
}

/* A rating of no known size is no remedy: "rated at least 5 A or more" was one once. */
static void what_is_not_known_is_not_proposed_as_a_rating(void **state)
{
    (void)state;
#define PANEL(DRAW)                                                                          \
    ISO "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"                      \
        "panel main { fed-by house; run 1 m; wire 25 mm2; protect 60 A fuse; rated 20 A }\n" \
        "load pump-motor { fed-by main; run 1 m; wire 6 mm2; draw " DRAW "; protect 40 A fuse }\n"
    Compiled c;
    compile_text(&c, PANEL(">= 5 A"));
    const Finding *f = only_finding(&c, "panel-overloaded");
    assert_non_null(f);
    assert_str(str_from(f->remedies->text), "`together`, if never so much of it runs at once");
    compile_free(&c);
    compile_text(&c, PANEL("25..30 A"));
    assert_str(str_from(only_finding(&c, "panel-overloaded")->remedies->text), "rated 30 A or more");
    compile_free(&c);
}

/* What the spec does not list cannot be asked for: a demand with outlets says that it is no headroom. */
static void a_demand_with_outlets_says_what_comes_on_top(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, ISO "inlet shore { rated 16 A at 230 V }\n"
                         "outlet one { fed-by shore; run 1 m; rated 16 A }\noutlet two { fed-by shore; run 1 "
                         "m; rated 16 A }\n");
    const Figure *demand = compiled_figure(&c, "shore", FIGURE_DEMAND);
    const Figure *share = compiled_figure(&c, "shore", FIGURE_SHARE);
    assert_string_equal(demand->remark, "what else is plugged into its 2 outlets comes on top");
    assert_string_equal(share->remark, demand->remark);
    compile_free(&c);
    compile_text(
        &c, ISO
        "inlet shore { rated 16 A at 230 V }\ncharger ch { fed-by shore; run 1 m; output 10 A at 14.4 V }\n");
    assert_null(compiled_figure(&c, "shore", FIGURE_DEMAND)->remark);
    compile_free(&c);
}

/* ---- wire-unprotected, protect-far: what makes alternating current ---- */

#define GENERATOR(DEVICE, WIRE)                                                                              \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us " \
    "}\n"                                                                                                    \
    "generator gen { rated 4000 W at 120 V; bonds-neutral yes; feeds board { run 3 m; wire " WIRE            \
    " insulation 105 C; " DEVICE "poles 2; ground 8 AWG } }\npanel board { rated 50 A }\n"

/* A short circuit in its cable is fed from the generator alone: the breaker there is the one that it takes. */
static void the_breaker_on_a_generator_protects_its_cable(void **state)
{
    (void)state;
    expect_verdict(GENERATOR("protect-output 40 A breaker 0.1 m from source; ", "8 AWG"), "wire-unprotected",
                   NOTHING, NULL);
    expect_verdict(GENERATOR("protect-output 40 A breaker 0.1 m from source; ", "8 AWG"), "protect-far",
                   NOTHING, NULL);
    /* It is held against the cable and against what flows (4000 W at 120 V for hours: 1.25 x 33.3 A) as any other is. */
    expect_verdict(GENERATOR("protect-output 100 A breaker 0.1 m from source; ", "14 AWG"), "wire-unprotected",
                   BROKEN_AT_ONE, "gen");
    expect_verdict(GENERATOR("protect-output 100 A breaker 0.1 m from source; ", "14 AWG"), "two-ended", NOTHING,
                   NULL);
    expect_verdict(GENERATOR("protect-output 20 A breaker 0.1 m from source; ", "8 AWG"), "protect-tight",
                   BROKEN_AT_ONE, "gen");
    expect_verdict(GENERATOR("protect-output 20 A breaker 3 m from source; ", "8 AWG"), "protect-far", BROKEN_AT_ONE,
                   "gen");
    expect_verdict(GENERATOR("", "8 AWG"), "wire-unprotected", BROKEN_AT_ONE, "gen");
}

/*
 * US voluntary practice by cold-cranking current, older editions, verified in a reprint: up to 650 A a main breaker breaks
 * 1500 A and a branch 750; up to 1100 A 3000 and 1500; beyond 5000 and 2500. The bank's 12 mohm let 1067 A flow at most.
 */
static void breakers_break_what_the_table_by_cranking_asks(void **state)
{
    (void)state;
#define CRANKED(BASIS, CRANKS, MAIN, BRANCH)                                                                               \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis " BASIS " }\n"     \
    "bank house { chemistry agm; voltage 12 V; capacity 100 Ah; resistance 12 mohm; cranking " CRANKS " }\n"               \
    "panel board { fed-by house; run 1 m; wire 6 AWG; protect 50 A breaker interrupts " MAIN " }\n"                         \
    "load lamp { fed-by board; run 1 m; wire 12 AWG; protect 20 A breaker interrupts " BRANCH "; draw 5 A }\n"
    static const struct {
        const char *spec;
        int verdict;
        const char *subject;
    } cases[] = {
        {CRANKED("us", "650 A", "1500 A", "1100 A"), NOTHING, NULL},
        {CRANKED("us", "651 A", "1500 A", "1500 A"), BROKEN_AT_ONE, "board"},
        {CRANKED("us", "1100 A", "3000 A", "1500 A"), NOTHING, NULL},
        {CRANKED("us", "1101 A", "5000 A", "1500 A"), BROKEN_AT_ONE, "lamp"},
        {CRANKED("us", "1101 A", "5000 A", "2500 A"), NOTHING, NULL},
        {CRANKED("us", "600..700 A", "1500 A", "1500 A"), OPEN_AT_ONE, "board"},
        {CRANKED("iso", "1101 A", "1500 A", "1500 A"), NOTHING, NULL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        expect_verdict(cases[i].spec, "protect-breaking", cases[i].verdict, cases[i].subject);
    }
}

/* A transfer switch names its sources; a source that names the switch as well would be two cables. */
static void one_cable_that_both_ends_state_is_told(void **state)
{
    (void)state;
#define CHANGEOVER(FEEDS)                                                                                    \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us " \
    "}\n"                                                                                                    \
    "inlet shore { rated 30 A at 120 V }\ngenerator gen { rated 4000 W at 120 V; " FEEDS "}\n"               \
    "switch change { works-as transfer; fed-by shore, gen }\n"
    expect_verdict(CHANGEOVER(""), "fed-twice", NOTHING, NULL);
    expect_verdict(CHANGEOVER("feeds change { run 2 m } "), "fed-twice", BROKEN_AT_ONE, "change");
}

/* 12 V over 1.2 mohm and a little copper is some 8 kA, from the bank: it flows into the alternator's cable too. */
static void what_charges_a_bank_is_protected_against_the_bank(void **state)
{
    (void)state;
#define ALTERNATOR_FUSE(CLASS)                                                                               \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us " \
    "}\n"                                                                                                    \
    "bank house { chemistry agm; voltage 12 V; capacity 400 Ah; resistance 1.2 mohm }\n"                     \
    "bus pos { fed-by house; run 0.5 m; wire 2/0 AWG insulation 105 C; rated 300 A; "                        \
    "protect 300 A fuse class-t 0.1 m from source interrupts 20 kA }\n"                                      \
    "engine eng { rated 50 kW at 2600 rpm; fuel diesel }\n"                                                  \
    "alternator alt { engine eng; output 110 A at 14.2 V; feeds pos { run 2 m; wire 1 AWG insulation 105 "   \
    "C; "                                                                                                    \
    "protect 150 A fuse " CLASS " 0.1 m from source } }\n"
    expect_verdict(ALTERNATOR_FUSE("blade"), "protect-breaking", BROKEN_AT_ONE, "alt");
    expect_verdict(ALTERNATOR_FUSE("class-t"), "protect-breaking", NOTHING, NULL);
}

/*
 * 2200 W at 88 % are 208 A at 12 V, and more when the bank is low. 2 AWG in the open carries 210 A at 105 C and less at 90 C
 * (33 CFR 183.425, table 5): broken with any insulation, and told by one rule alone whether that is decided or not.
 */
static void the_cable_of_an_inverter_is_told_by_one_rule(void **state)
{
    (void)state;
#define SINE(insulation)                                                                                                    \
    EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 300 Ah }\n"                                            \
                 "inverter sine { fed-by house; run 1 m; wire 2 AWG insulation " insulation "; protect 300 A fuse class-t 0.2 m " \
                 "from source; rated 2200 W; output 120 V; efficiency 88 % }\n"
    static const char *const specs[] = {SINE("75 C"), SINE("105 C"), SINE("75..105 C")};
    for (size_t i = 0; i < sizeof specs / sizeof specs[0]; i++) {
        expect_verdict(specs[i], "inverter-feed", BROKEN_AT_ONE, "sine");
        expect_verdict(specs[i], "wire-overloaded", NOTHING, NULL);
    }
}

/* 2000 W at 88 % and 11.5 V are 198 A; with the margin of a quarter the device is asked for 247 A. */
static void what_an_inverter_asks_of_its_device_is_told_with_the_margin(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 300 Ah; resistance 3 mohm }\n"
                                  "inverter sine { fed-by house; run 1 m; wire 95 mm2 insulation 105 C; protect 200 A fuse class-t "
                                  "0.2 m from source; rated 2000 W; output 120 V; efficiency 88 % }\n");
    const Finding *finding = compiled_finding(&c, "inverter-feed");
    assert_non_null(finding);
    assert_non_null(strstr(finding->message, "198 A flows with the bank low, which asks for 247 A"));
    compile_free(&c);
}

/* What runs for minutes is no part of what is asked for hours, and is not named among it: agm gives a fifth of 100 Ah for long. */
static void what_is_asked_for_hours_names_no_brief_load(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, EXAMPLE_BOAT
                 "bank house { chemistry agm; voltage 12 V; capacity 100 Ah; resistance 4 mohm }\n"
                 "panel main { fed-by house; run 1 m; wire 50 mm2 insulation 105 C; protect 200 A fuse class-t 0.15 m from source }\n"
                 "day anchored { sun 4 h }\n"
                 "load heat { fed-by main; draw 90 A; use anchored 6 h }\n"
                 "thruster bow { fed-by main; draw 220 A; longest-burst 2 min }\n");
    const Finding *finding = compiled_finding(&c, "bank-discharge");
    assert_non_null(finding);
    assert_non_null(strstr(finding->message, "90 A can be asked of `house` for hours, what runs for minutes not counted"));
    bool heat = false;
    for (const FindingNote *note = finding->notes; note != NULL; note = note->next) {
        assert_null(strstr(note->text, "bow"));
        heat = heat || strstr(note->text, "`heat` takes 90 A") != NULL;
    }
    assert_true(heat);
    compile_free(&c);
}

/* IEC sizes begin at 0.5 mm2, ISO 13297's table of currents at 0.75 mm2: that is no current of 0 A. */
static void a_size_that_is_in_no_table_is_told_as_that(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, EXAMPLE_BOAT_ISO "bank house { chemistry agm; voltage 12 V; capacity 100 Ah }\n"
                                      "load lamp { fed-by house; run 2 m; wire 0.5 mm2; protect 5 A fuse; draw 2 A }\n");
    assert_null(strstr(compiled_finding(&c, "wire-overloaded")->message, "0 A "));
    assert_non_null(strstr(compiled_finding(&c, "wire-overloaded")->message, "thinner than any in the table"));
    assert_non_null(strstr(compiled_finding(&c, "wire-unprotected")->message, "thinner than any in the table"));
    compile_free(&c);
}

/* language.md: what is given a word that it does not know is a mistake, and the rules that need it wait. */
static void a_bank_of_a_chemistry_that_nobody_knows_makes_short_circuits_wait(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, EXAMPLE_BOAT_ISO "bank house { chemistry lithium; voltage 12 V; capacity 100 Ah }\n"
                                      "load lamp { fed-by house; run 2 m; wire 1 mm2; protect 5 A fuse; draw 2 A }\n");
    assert_null(compiled_finding(&c, "protect-blind"));
    assert_null(compiled_finding(&c, "protect-breaking"));
    assert_true(c.outcome->waiting >= 2);
    compile_free(&c);
}

/*
 * 300 A behind a fuse of 400 A: no cable with insulation for 60 C carries that, which is taken where nobody says what it is.
 * Nobody has said what cable it is to be either, and one for 105 C would do: that is open. Where 60 C is stated, it is not.
 */
static void a_cable_that_is_not_decided_has_no_insulation_yet(void **state)
{
    (void)state;
#define HEAVY(WIRE) HEAVIER(WIRE, "400 A", "300 A")
#define HEAVIER(WIRE, DEVICE, DRAW) \
    "edition 1\nboat wren { length 9 m; beam 3 m; displacement 4000 kg; crew 2; currency EUR; basis iso }\n" \
    "bank house { chemistry agm; voltage 12 V; capacity 400 Ah; resistance 2 mohm }\n" \
    "bus positive { fed-by house; run 1 m; wire " WIRE "; protect " DEVICE " fuse class-t 0.15 m from source interrupts 20 kA }\n" \
    "load big { fed-by positive; run 1 m; draw " DRAW " }\n"
    static const char *const rules[] = {"wire-overloaded", "wire-unprotected"};
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++) {
        Compiled c;
        compile_text(&c, HEAVY("?"));
        assert_int_equal(compiled_finding(&c, rules[i])->verdict, VERDICT_OPEN);
        compile_free(&c);
        compile_text(&c, HEAVY("? insulation 60 C"));
        assert_int_equal(compiled_finding(&c, rules[i])->verdict, VERDICT_BROKEN);
        compile_free(&c);
        compile_text(&c, HEAVIER("?", "400..900 A", "300..900 A")); /* it would do for the least of these */
        assert_int_equal(compiled_finding(&c, rules[i])->verdict, VERDICT_OPEN);
        compile_free(&c);
        compile_text(&c, HEAVIER("?", "800..900 A", "700..900 A"));
        assert_int_equal(compiled_finding(&c, rules[i])->verdict, VERDICT_BROKEN);
        compile_free(&c);
    }
}

/* An array whose size is left open is chosen for the day; what its cable loses rests on that choice, and says so. */
static void a_finding_that_rests_on_a_chosen_size_says_so(void **state)
{
    Compiled c;
    (void)state;
    compile_text(&c, "edition 1\nboat wren { length 9 m; beam 3 m; displacement 4000 kg; crew 2; currency EUR; basis iso }\n"
                     "day quiet { sun 5 h }\ngoal long { endure 30 d on quiet }\n"
                     "bank house { chemistry agm; voltage 12 V; capacity 100 Ah; resistance 2 mohm }\n"
                     "load fridge { fed-by house; run 1 m; draw 2 A; use quiet 40 % }\n"
                     "solar panel { rated ?; feeds house { run 9 m; wire 1.5 mm2 } }\n");
    const Finding *f = compiled_finding(&c, "charge-drop");
    assert_non_null(f);
    bool said = false;
    for (const FindingNote *note = f->notes; note != NULL; note = note->next) {
        said = said || (note->text != NULL && strstr(note->text, "as Garboard chose it") != NULL);
    }
    assert_true(said);
    compile_free(&c);
}

/* 150 mm2 of 60 C carry 220 A (ISO 13297 Table A.1, from memory): 333 A is more, and a device for as much is no second cause. */
static void a_load_that_no_cable_carries_is_told_once(void **state)
{
    (void)state;
#define BEHIND(draw)                                                                                      \
    ISO "bank pb { chemistry lifepo4; voltage 51.2 V; capacity 280 Ah; parallel 3; resistance 12 mohm }\n" \
        "load lo { fed-by pb; run 1 m; wire ?; protect ?; draw " draw " }\n"
    expect_verdict(BEHIND("333 A"), "wire-overloaded", OPEN_AT_ONE, "lo");
    expect_verdict(BEHIND("333 A"), "wire-unprotected", NOTHING, NULL);
    Compiled c;
    compile_text(&c, BEHIND("333 A"));
    assert_non_null(strstr(compiled_figure(&c, "lo", FIGURE_WIRE_SIZE)->remark, "no size was found"));
    compile_free(&c);
    compile_text(&c, BEHIND("100 A"));
    assert_null(strstr(compiled_figure(&c, "lo", FIGURE_WIRE_SIZE)->remark, "no size was found"));
    compile_free(&c);
#undef BEHIND
}

/* 33 CFR 183.425, Table 5, begins with 18 AWG and with 60 C: of less it gives no current, which is no 0 A. */
static void what_the_table_does_not_know_is_not_called_nought(void **state)
{
    (void)state;
#define CABLE(wire)                                                                           \
    ON("us") "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; charged-ashore yes }\n" \
             "load lamp { fed-by house; run 2 m; wire " wire "; sheath sheathed; protect 3 A fuse; draw 1 A }\n"
    Compiled c;
    compile_text(&c, CABLE("0.75 mm2 insulation 105 C"));
    const Figure *ampacity = compiled_figure(&c, "lamp", FIGURE_AMPACITY);
    assert_non_null(strstr(ampacity->formula, "not known"));
    for (uint16_t i = 0; i < ampacity->input_count; i++) {
        assert_false(ampacity->inputs[i].kind == INPUT_FACT && strstr(ampacity->inputs[i].u.fact->what, "table current") != NULL);
    }
    assert_string_equal(compiled_finding(&c, "wire-overloaded")->remedies->text, "wire 1 mm2 insulation 105 C");
    compile_free(&c);
    compile_text(&c, CABLE("10 AWG insulation 50 C"));
    assert_non_null(strstr(compiled_finding(&c, "wire-overloaded")->message, "begins with insulation of 60 C"));
    assert_string_equal(compiled_finding(&c, "wire-overloaded")->remedies->text, "wire 10 AWG insulation 60 C");
    compile_free(&c);
#undef CABLE
}

static void a_switch_opens_both_sides_where_neither_is_grounded(void **state)
{
    (void)state;
#define SIDES(SYSTEM, POLES)                                                                                              \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso; built steel" SYSTEM " }\n"        \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"                                                      \
    "switch hs { works-as battery; fed-by house; run 0.2 m; wire 50 mm2; protect 150 A fuse class-t" POLES " }\n"        \
    "load lamp { fed-by hs; run 3 m; wire 2.5 mm2; protect 10 A breaker; poles 1; draw 5 A }\n"
    expect_verdict(SIDES("; direct-current insulated", "; poles 1"), "insulated-poles", BROKEN_AT_ONE, "hs");
    expect_verdict(SIDES("; direct-current insulated", ""), "insulated-poles", OPEN_AT_ONE, "hs");
    expect_verdict(SIDES("; direct-current insulated", "; poles 2"), "insulated-poles", NOTHING, NULL);
    expect_verdict(SIDES("; direct-current negative-ground", "; poles 1"), "insulated-poles", NOTHING, NULL);
    expect_verdict(SIDES("", "; poles 1"), "insulated-poles", NOTHING, NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_size_that_is_in_no_table_is_told_as_that),
        cmocka_unit_test(a_load_that_no_cable_carries_is_told_once),
        cmocka_unit_test(what_the_table_does_not_know_is_not_called_nought),
        cmocka_unit_test(a_bank_of_a_chemistry_that_nobody_knows_makes_short_circuits_wait),
        cmocka_unit_test(breakers_break_what_the_table_by_cranking_asks),
        cmocka_unit_test(what_an_inverter_asks_of_its_device_is_told_with_the_margin),
        cmocka_unit_test(what_is_asked_for_hours_names_no_brief_load),
        cmocka_unit_test(one_cable_that_both_ends_state_is_told),
        cmocka_unit_test(the_breaker_on_a_generator_protects_its_cable),
        cmocka_unit_test(what_charges_a_bank_is_protected_against_the_bank),
        cmocka_unit_test(what_charges_goes_back_to_the_bank_through_switch_cable_and_fuse),
        cmocka_unit_test(an_undecided_output_leaves_what_comes_back_open),
        cmocka_unit_test(a_device_and_a_size_left_open_carry_what_comes_back),
        cmocka_unit_test(what_stands_upstream_protects_and_nothing_is_chosen),
        cmocka_unit_test(a_device_above_the_ampacity_that_need_not_be_is_a_warning),
        cmocka_unit_test(an_outlet_is_sized_by_its_rating),
        cmocka_unit_test(no_statement_takes_a_navigation_light_out_of_its_limit),
        cmocka_unit_test(only_a_blower_of_petrol_vapour_has_the_stricter_limit),
        cmocka_unit_test(a_fault_on_assumed_insulation_says_so_and_what_else_it_may_be),
        cmocka_unit_test(the_exemption_of_the_starter_reaches_through_its_switch),
        cmocka_unit_test(an_emergency_switch_is_no_main_feed_of_a_starter),
        cmocka_unit_test(a_switch_is_held_against_its_cranking_rating_apart),
        cmocka_unit_test(a_device_before_a_starter_lets_it_crank),
        cmocka_unit_test(what_cranks_counts_in_its_own_drop_and_in_no_others),
        cmocka_unit_test(what_is_left_while_an_engine_is_cranked),
        cmocka_unit_test(a_starter_that_is_not_stated_hides_nothing_else),
        cmocka_unit_test(a_starter_is_asked_of_a_bank_that_states_no_cranking),
        cmocka_unit_test(a_thin_feeder_is_told_once_with_what_hangs_on_it),
        cmocka_unit_test(what_is_not_known_is_not_proposed_as_a_rating),
        cmocka_unit_test(a_demand_with_outlets_says_what_comes_on_top),
        cmocka_unit_test(a_branch_on_a_large_device_wants_its_own),
        cmocka_unit_test(the_cable_of_an_inverter_is_told_by_one_rule),
        cmocka_unit_test(a_cable_that_is_not_decided_has_no_insulation_yet),
        cmocka_unit_test(a_finding_that_rests_on_a_chosen_size_says_so),
        cmocka_unit_test(a_switch_opens_both_sides_where_neither_is_grounded),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
