/*
 * What hangs on a battery: an engine that is started from the other bank, the cable up to a switch, what has no cable of its own,
 * fuses that are made, relays. Where their own examples do not reach: common practice, no source; the arithmetic by hand.
 */
#include "unit/verdict.h"

#include <stdio.h>

#define US "edition 1\nboat wren { length 9 m; beam 3 m; displacement 4000 kg; crew 2; currency USD; basis us }\n"
#define ISO "edition 1\nboat wren { length 9 m; beam 3 m; displacement 4000 kg; crew 2; currency EUR; basis iso; sails no }\n"
#define HOUSE "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n"

/* ---- An engine that is started from the other bank ---- */

#define LENT(HOUSE_SWITCH)                                                                                                      \
    US HOUSE "bank crank { role start; chemistry agm; voltage 12 V; capacity 90 Ah; resistance 4 mohm; cranking 800 A }\n"      \
             "switch hs { fed-by house; run 0.4 m; works-as battery; " HOUSE_SWITCH " }\n"                                      \
             "switch cs { fed-by crank; run 0.4 m; wire 2/0 AWG insulation 105 C; works-as battery; rated 300 A; cranking 900 A }\n" \
             "switch both { works-as emergency; fed-by hs, cs; rated 300 A; cranking 900 A; run 0.3 m; wire 2/0 AWG "           \
             "insulation 105 C }\n"                                                                                             \
             "engine main { fed-by cs; run 1.5 m; wire 2/0 AWG insulation 105 C; rated 30 kW at 3000 rpm; fuel diesel; "        \
             "starter 300 A }\n"                                                                                                \
             "load lamp { fed-by hs; run 4 m; wire 14 AWG insulation 105 C; protect 15 A breaker; draw 2 A; min-voltage 11 V }\n"

static double figure_at(const char *spec, const char *name, FigureId id)
{
    Compiled c;
    compile_text(&c, spec);
    const Case *of = outcome_first(c.outcome);
    const Figure *figure = NULL;
    for (uint32_t i = 0; i < of->model->entity_count && figure == NULL; i++) {
        const Entity *e = of->model->entities[i];
        figure = str_is(entity_name(of->model, e), name) ? figure_find(of->figures, e, id, NULL) : NULL;
    }
    double high = figure != NULL && figure->state == STATE_KNOWN ? figure->high : -1.0;
    compile_free(&c);
    return high;
}

static void the_switch_of_the_bank_that_lends_carries_the_starter(void **state)
{
    (void)state;
#define THIN "wire 8 AWG insulation 105 C; protect 60 A fuse class-t 0.1 m from source; rated 60 A"
#define THICK "wire 2/0 AWG insulation 105 C; protect 300 A fuse class-t 0.1 m from source; rated 300 A; cranking 900 A"
    assert_near(figure_at(LENT(THIN), "hs", FIGURE_CRANKING), 300.0, 1e-9);
    assert_near(figure_at(LENT(THIN), "cs", FIGURE_CRANKING), 300.0, 1e-9);
    assert_near(figure_at(LENT(THIN), "crank", FIGURE_CRANKING), 300.0, 1e-9);
    assert_near(figure_at(LENT(THIN), "house", FIGURE_CRANKING), -1.0, 1e-9); /* the bank is asked for its own alone */
    expect_verdict(LENT(THIN), "switch-cranking", OPEN_AT_ONE, "hs");
    expect_verdict(LENT(THIN), "surge", BROKEN_AT_ONE, "both");
    expect_verdict(LENT(THICK), "switch-cranking", NOTHING, NULL);
    expect_verdict(LENT(THICK), "surge", NOTHING, NULL);
}

/* 1.1 times 275 A of a fuse are 302.5 A, for seconds; a breaker is not known to carry more than its rating. */
static void a_fuse_lets_a_little_more_than_its_rating_crank(void **state)
{
    (void)state;
#define BIG(DEVICE) "wire 2/0 AWG insulation 105 C; protect " DEVICE " 0.1 m from source; rated 300 A; cranking 900 A"
    expect_verdict(LENT(BIG("275 A fuse terminal")), "surge", NOTHING, NULL);
    expect_verdict(LENT(BIG("275 A fuse class-t")), "surge", NOTHING, NULL);
    expect_verdict(LENT(BIG("275 A breaker thermal")), "surge", BROKEN_AT_ONE, "both");
    expect_verdict(LENT(BIG("250 A fuse class-t")), "surge", BROKEN_AT_ONE, "both");
    Compiled c;
    compile_text(&c, LENT(BIG("250 A fuse class-t")));
    const Finding *f = only_finding(&c, "surge");
    assert_non_null(f);
    assert_non_null(f->remedies);
    assert_non_null(strstr(f->remedies->text, "`protect 300 A fuse class-t 0.1 m from source` for `hs`"));
    assert_null(f->remedies->next); /* none takes the fused switch out of the way */
    compile_free(&c);
}

/*
 * Each finding of an emergency switch names the same pair of device and cable, with which no rule has anything to say: a fuse of
 * 175 A carries 1.1 times its rating, more than the 180 A of the starter, for seconds; one of 200 A would be blind at the far end.
 */
static void a_switch_that_lends_is_offered_one_device_with_one_cable(void **state)
{
    (void)state;
#define JOINED(CABLE)                                                                                                          \
    US "bank house { chemistry flooded; voltage 12 V; capacity 100 Ah; cranking 800 A }\n"                                     \
       "bank start { chemistry flooded; voltage 12 V; capacity 75 Ah; cranking 800 A; role start }\n"                          \
       "switch combine { fed-by start, house; works-as emergency; rated 250 A; run 3 ft; " CABLE " }\n"                        \
       "engine outboard { fed-by start; run 8 ft; wire 2 AWG; rated 115 hp at 5500 rpm; fuel petrol; mounted outboard; starter 180 A }\n"
    static const char *const told[] = {"wire 2 AWG", "wire 2 AWG; protect 200 A fuse terminal 6 in from source",
                                       "wire 2 AWG; protect 125 A fuse terminal 6 in from source"};
    static const char *const rules[] = {"wire-unprotected", "wire-overloaded", "protect-blind", "protect-breaking", "protect-far", "surge"};
    for (size_t i = 0; i < sizeof told / sizeof told[0]; i++) {
        Compiled c;
        char spec[2000];
        snprintf(spec, sizeof spec, JOINED("%s"), told[i]);
        compile_text(&c, spec);
        int findings = 0;
        for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
            for (size_t r = 0; r < sizeof rules / sizeof rules[0]; r++) {
                if (strcmp(f->rule->name, rules[r]) == 0) {
                    assert_string_equal(f->remedies->text, "wire 2 AWG insulation 105 C with protect 175 A fuse terminal 6 in from source");
                    assert_string_equal(f->remedies->next->text, "wire 1/0 AWG with protect 175 A fuse terminal 6 in from source");
                    assert_null(f->remedies->next->next);
                    findings++;
                }
            }
        }
        assert_true(findings >= 2);
        compile_free(&c);
    }
    for (size_t r = 0; r < sizeof rules / sizeof rules[0]; r++) {
        expect_verdict(JOINED("wire 2 AWG insulation 105 C; protect 175 A fuse terminal 6 in from source"), rules[r], NOTHING, NULL);
        expect_verdict(JOINED("wire 1/0 AWG; protect 175 A fuse terminal 6 in from source"), rules[r], NOTHING, NULL);
    }
}

/* So does what is fed in a fault from the other end. */
static void a_switch_that_lends_is_offered_the_same_where_a_fault_is_fed_from_both_ends(void **state)
{
    (void)state;
#define ENDED(CABLE)                                                                                                           \
    ISO "bank house { chemistry flooded; voltage 12 V; capacity 100 Ah; cranking 800 A }\n"                                    \
        "bank start { chemistry flooded; voltage 12 V; capacity 75 Ah; cranking 800 A; role start }\n"                         \
        "switch combine { fed-by start, house; works-as emergency; rated 250 A; run 1 m; " CABLE " }\n"                        \
        "engine outboard { fed-by start; run 2.5 m; wire 35 mm2; rated 115 hp at 5500 rpm; fuel petrol; mounted outboard; starter 180 A }\n"
    Compiled c;
    int findings = 0;
    compile_text(&c, ENDED("wire 16 mm2; protect 100 A fuse terminal 0.1 m from source"));
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        if (strcmp(f->rule->name, "two-ended") == 0) {
            assert_string_equal(f->remedies->text, "wire 35 mm2 insulation 105 C with protect 175 A fuse terminal 0.1 m from source");
            findings++;
        }
    }
    assert_int_equal(findings, 2);
    compile_free(&c);
    expect_verdict(ENDED("wire 35 mm2 insulation 105 C; protect 175 A fuse terminal 0.1 m from source"), "two-ended", NOTHING, NULL);
}

/* Lithium cuts itself off: 300 A of a bank that may give 200 A start nothing. */
static void a_bank_that_is_lent_may_give_so_much(void **state)
{
    (void)state;
#define LITHIUM(MORE)                                                                                                     \
    US "bank house { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah; resistance 2 mohm; max-discharge 200 A" MORE " }\n" \
       "bank crank { role start; chemistry agm; voltage 12 V; capacity 90 Ah; resistance 4 mohm; cranking 800 A }\n"       \
       "switch both { works-as emergency; fed-by house, crank; rated 300 A; cranking 900 A; run 0.3 m; wire 2/0 AWG }\n"   \
       "engine main { fed-by crank; run 1.5 m; wire 2/0 AWG; rated 30 kW at 3000 rpm; fuel diesel; starter 300 A }\n"
    expect_verdict(LITHIUM(""), "bank-discharge", BROKEN_AT_ONE, "house");
    expect_verdict(LITHIUM("; cranking 900 A"), "bank-discharge", NOTHING, NULL);
}

/* `max-discharge` is what it may give for long: nothing in lead cuts a burst off, and what a maker of lithium states does. */
static void a_burst_beyond_what_lead_gives_for_long_is_no_fault(void **state)
{
    (void)state;
#define BURST(chemistry)                                                                                                   \
    US "bank house { chemistry " chemistry "; voltage 12.8 V; capacity 360 Ah; max-discharge 270 A }\n"                    \
       "thruster bow { fed-by house; run 1.5 m; wire 4/0 AWG; draw 300 A; thrust 550 N; longest-burst 3 min }\n"
    static const char *const specs[] = {BURST("agm"), BURST("lifepo4")};
    for (size_t i = 0; i < 2; i++) {
        Compiled c;
        compile_text(&c, specs[i]);
        const Finding *f = only_finding(&c, "bank-discharge");
        assert_non_null(f);
        assert_int_equal(f->severity, i == 0 ? SEVERITY_WARNING : SEVERITY_FAULT);
        compile_free(&c);
    }
}

/* What the house switch is rated for long is no matter of the starter: its device may not be larger than that. */
static void a_lent_start_takes_no_rating_out_of_protect_large(void **state)
{
    (void)state;
    expect_verdict(LENT("wire 2/0 AWG insulation 105 C; protect 300 A fuse class-t 0.1 m from source; rated 60 A; cranking 900 A"),
                   "protect-large", BROKEN_AT_ONE, "hs");
}

static void a_size_that_is_left_open_carries_a_lent_start(void **state)
{
    (void)state;
    double area = 0.0;
    Compiled c;
    compile_text(&c, LENT("protect ?; rated 400 A; cranking 900 A"));
    const Case *of = outcome_first(c.outcome);
    for (const Entity *e = of->model->first_of_kind[KIND_SWITCH]; e != NULL; e = e->next_of_kind) {
        if (str_is(entity_name(of->model, e), "hs")) {
            area = figure_find(of->figures, e, FIGURE_WIRE_SIZE, e->fed->giver) != NULL
                       ? figure_find(of->figures, e, FIGURE_WIRE_SIZE, e->fed->giver)->low
                       : figure_find(of->figures, e, FIGURE_WIRE_SIZE, NULL)->low;
        }
    }
    assert_true(area > 50e-6); /* 300 A: 2/0 AWG of 67 mm2 and up by 33 CFR 183.425 Table 5 */
    compile_free(&c);
}

/* ---- The cable up to a switch ---- */

#define SWITCHED(SWITCH, MORE)                                                                                    \
    ISO HOUSE "switch bs { fed-by house; works-as battery; rated 250 A; " SWITCH " }\n"                           \
              "panel main { fed-by bs; rated 100 A; run 1 m; wire 25 mm2 insulation 105 C; protect 100 A fuse "   \
              "class-t 0.15 m from source }\nload lamp { fed-by main; run 4 m; wire 2.5 mm2; protect 10 A breaker; draw 2 A }\n" MORE

static void a_switch_without_a_run_leaves_its_protection_open(void **state)
{
    (void)state;
    expect_verdict(SWITCHED("", ""), "wire-unprotected", OPEN_AT_ONE, "bs");
    expect_verdict(SWITCHED("run 0 m", ""), "wire-unprotected", NOTHING, NULL); /* bolted to the post */
    expect_verdict(SWITCHED("run 3 m; wire 25 mm2", ""), "wire-unprotected", BROKEN_AT_ONE, "bs");
    expect_verdict(SWITCHED("run 3 m; wire 35 mm2 insulation 105 C; protect 100 A fuse class-t 0.1 m from source", ""),
                   "wire-unprotected", NOTHING, NULL);
    /* The main feed of a starter is exempt, however long. */
    expect_verdict(SWITCHED("", "engine e { fed-by bs; run 1 m; wire 50 mm2; rated 20 kW at 3000 rpm; fuel diesel; starter 200 A }\n"),
                   "wire-unprotected", NOTHING, NULL);
}

/* ---- What is bolted on has a voltage too ---- */

#define BOLTED(VOLTS, TO, OUTPUT)                                                                                \
    ISO "bank b { chemistry agm; voltage " VOLTS "; capacity 100 Ah; resistance 5 mohm }\n"                      \
        "bus studs { fed-by b; run 1 m; wire 50 mm2 insulation 105 C; protect 150 A fuse class-t 0.2 m from source }\n" \
        "engine e { rated 20 kW at 2800 rpm; fuel diesel }\n"                                                     \
        "alternator alt { engine e; output 50 A at " OUTPUT "; feeds " TO " { run 0 m } }\n"

static void what_is_bolted_on_is_held_against_the_voltage_there(void **state)
{
    (void)state;
    expect_verdict(BOLTED("12 V", "b", "28.8 V"), "wrong-voltage", BROKEN_AT_ONE, "alt");
    expect_verdict(BOLTED("12 V", "studs", "28.8 V"), "wrong-voltage", BROKEN_AT_ONE, "alt");
    expect_verdict(BOLTED("24 V", "studs", "57 V"), "wrong-voltage", BROKEN_AT_ONE, "alt");
    expect_verdict(BOLTED("12..24 V", "b", "28.8 V"), "wrong-voltage", OPEN_AT_ONE, "alt");
    Compiled c;
    compile_text(&c, BOLTED("12 V", "studs", "14.4 V"));
    assert_null(compiled_finding(&c, "wrong-voltage"));
    assert_int_equal(c.outcome->waiting, 0); /* there is no mistake to wait for */
    compile_free(&c);
}

static void a_load_that_is_bolted_on_is_for_the_voltage_there(void **state)
{
    (void)state;
#define LAMP(MADE_FOR) BOLTED("24 V", "studs", "28.8 V") "load lamp { fed-by studs; run 0 m; draw 1 A; made-for " MADE_FOR " }\n"
    expect_verdict(LAMP("12 V"), "wrong-voltage", BROKEN_AT_ONE, "lamp");
    expect_verdict(LAMP("24 V"), "wrong-voltage", NOTHING, NULL);
}

/* ---- Fuses that are made ---- */

#define FUSED(PROTECT) ISO HOUSE "load lamp { fed-by house; run 1 m; wire 10 mm2 insulation 105 C; protect " PROTECT "; draw 1 A }\n"

static void a_fuse_is_one_of_its_series(void **state)
{
    (void)state;
    expect_verdict(FUSED("33 A fuse terminal"), "protect-made", BROKEN_AT_ONE, "lamp");
    expect_verdict(FUSED("5 A fuse terminal"), "protect-made", BROKEN_AT_ONE, "lamp");
    expect_verdict(FUSED("25..35 A fuse terminal"), "protect-made", OPEN_AT_ONE, "lamp"); /* 30 A is one of them */
    expect_verdict(FUSED("30 A fuse terminal"), "protect-made", NOTHING, NULL);
    expect_verdict(FUSED("70 A fuse bolt-on"), "protect-made", NOTHING, NULL); /* of the small ones */
    expect_verdict(FUSED("72 A fuse bolt-on"), "protect-made", BROKEN_AT_ONE, "lamp");
    expect_verdict(FUSED("70 A fuse blade"), "protect-made", NOTHING, NULL); /* ISO 8820-3, type E */
    expect_verdict(FUSED("100 A fuse blade"), "protect-made", NOTHING, NULL);
    expect_verdict(FUSED("45 A fuse blade"), "protect-made", BROKEN_AT_ONE, "lamp");
    expect_verdict(FUSED("110 A fuse blade"), "protect-made", BROKEN_AT_ONE, "lamp");
    expect_verdict(FUSED("33 A fuse blade"), "protect-made", BROKEN_AT_ONE, "lamp");
    expect_verdict(FUSED("33 A fuse"), "protect-made", NOTHING, NULL);             /* of which class nobody says */
    expect_verdict(FUSED("33 A breaker hydraulic"), "protect-made", NOTHING, NULL);
}

/* ---- A switch for each bank ---- */

static void a_bank_has_a_switch_but_for_what_stays_on(void **state)
{
    (void)state;
#define ON_BANK(WHAT) ISO HOUSE WHAT " { fed-by house; run 1 m; wire 6 mm2; protect 20 A fuse"
    expect_verdict(ON_BANK("load lamp") "; draw 1 A }\n", "battery-switch", BROKEN_AT_ONE, "house");
    expect_verdict(ON_BANK("load lamp") "; draw 1 A; critical yes }\n", "battery-switch", NOTHING, NULL);
    expect_verdict(ON_BANK("bilge-pump low") "; draw 3 A }\n", "battery-switch", NOTHING, NULL);
    expect_verdict(ON_BANK("nav-light red") "; draw 1 A; shows sidelights }\n", "battery-switch", NOTHING, NULL);
    expect_verdict(ISO HOUSE "windlass capstan { fed-by house; run 1 m; wire 35 mm2; protect 100 A breaker; draw 80 A }\n",
                   "battery-switch", NOTHING, NULL); /* it is opened by hand */
    expect_verdict(SWITCHED("run 0 m", ""), "battery-switch", NOTHING, NULL);
    expect_verdict(ISO HOUSE "engine e { fed-by house; run 1 m; wire 50 mm2; rated 20 kW at 3000 rpm; fuel diesel; starter 200 A }\n",
                   "battery-switch", BROKEN_AT_ONE, "house");
}

/* ---- Circles ---- */

#define CIRCLE(LOCKED)                                                                                             \
    ISO HOUSE "bank main { chemistry agm; voltage 24 V; capacity 100 Ah }\n"                                        \
              "bus plus { fed-by house; run 1 m; wire 50 mm2; protect 150 A fuse }\n"                               \
              "bus minus { fed-by main; run 1 m; wire 50 mm2; protect 150 A fuse }\n"                               \
              "converter down { fed-by minus; run 1 m; protect 40 A fuse; output 20 A at 14.3 V; feeds plus { run 1 m; " \
              "protect 40 A fuse } }\n"                                                                             \
              "inverter sine { fed-by plus; run 1 m; protect 100 A fuse; rated 800 W; output 230 V }\n"             \
              "charger up { fed-by sine; run 1 m; protect 10 A breaker; output 10 A at 28.4 V; " LOCKED              \
              "feeds minus { run 1 m; protect 20 A fuse } }\n"

/* The charger closes it: the converter takes from one bank what the other is short of, as it is there to do. */
static void a_circle_through_a_charger_is_told_of_the_charger(void **state)
{
    (void)state;
    expect_verdict(CIRCLE(""), "charge-loop", OPEN_AT_ONE, "up");
    expect_verdict(CIRCLE("locked-out no; "), "charge-loop", BROKEN_AT_ONE, "up");
}

/* ---- Relays ---- */

#define RELAY(MORE)                                                                                                    \
    ISO HOUSE "bank crank { role start; chemistry agm; voltage 12 V; capacity 90 Ah }\n"                               \
              "converter relay { fed-by crank; run 1 m; wire 6 mm2 insulation 105 C; protect 40 A fuse bolt-on 0.1 m " \
              "from source; output 30 A at 14 V; " MORE "; feeds house { run 1 m; wire 6 mm2 insulation 105 C; protect 40 A fuse " \
              "bolt-on 0.1 m from source } }\n"

/* 30 A for good ask for 37.5 A; a converter of no loss takes 30 A x 14 V / 12 V = 35 A. */
static void a_relay_takes_the_current_that_it_gives(void **state)
{
    (void)state;
    expect_verdict(RELAY("relay yes"), "protect-tight", NOTHING, NULL);
    expect_verdict(RELAY("efficiency 100 %; surplus-only yes"), "protect-tight", BROKEN_AT_ONE, "relay");
    expect_verdict(RELAY("relay yes") "day trip { engine 1 h }\n", "converter-drains", NOTHING, NULL);
}

/* What the alternator brings the first bank, which nothing draws on, is less than passes through: all of it comes out. */
static void a_relay_passes_on_all_of_the_current(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, RELAY("relay yes") "engine eng { rated 28 kW at 3000 rpm; fuel diesel }\n"
                                        "alternator alt { engine eng; output 40 A at 14 V; feeds crank { run 1 m; wire 10 mm2; "
                                        "protect 60 A fuse } }\nday trip { engine 1 h }\nload lamp { fed-by house; run 1 m; "
                                        "protect 15 A fuse; draw 5 A; use trip 10 h }\n");
    const Case *of = outcome_first(c.outcome);
    const Entity *relay = of->model->first_of_kind[KIND_CONVERTER], *trip = of->model->first_of_kind[KIND_DAY];
    const Figure *offered = figure_find(of->figures, relay, FIGURE_OFFERED, trip);
    const Figure *made = figure_find(of->figures, of->model->first_of_kind[KIND_ALTERNATOR], FIGURE_OFFERED, trip);
    assert_non_null(offered);
    assert_non_null(made);
    assert_near(offered->high, made->high, 1e-6 * made->high);
    compile_free(&c);
}

/* What it joins is joined as by a parallel switch (the rules' own examples): the voltage of its `output` is not its own. */
#define TIES(CHEMISTRY, VOLTS, MORE)                                                                                        \
    ISO HOUSE "bank crank { role start; chemistry " CHEMISTRY "; voltage " VOLTS "; capacity 90 Ah }\n"                     \
              "switch off { fed-by crank; run 0 m; works-as battery; rated 300 A }\n"                                      \
              "bus plus { fed-by house; run 1 m; wire 6 mm2; protect 40 A fuse; rated 100 A }\n"                           \
              "converter relay { fed-by off; run 1 m; wire 6 mm2 insulation 105 C; protect 40 A fuse bolt-on 0.1 m "       \
              "from source; output 30 A at 14 V; " MORE "feeds plus { run 1 m; wire 6 mm2 insulation 105 C; protect 40 A fuse " \
              "bolt-on 0.1 m from source } }\n"

static void a_relay_joins_its_two_banks(void **state)
{
    (void)state;
    expect_verdict(TIES("agm", "24 V", "relay yes; "), "joined-voltage", BROKEN_AT_ONE, "relay");
    expect_verdict(TIES("agm", "12..24 V", "relay yes; "), "joined-voltage", OPEN_AT_ONE, "relay");
    expect_verdict(TIES("agm", "12.4 V", "relay yes; "), "joined-voltage", NOTHING, NULL);
    expect_verdict(TIES("agm", "24 V", ""), "joined-voltage", NOTHING, NULL);
    expect_verdict(TIES("lifepo4", "12.8 V", "relay yes; "), "mixed-bank", BROKEN_AT_ONE, "relay");
    expect_verdict(TIES("agm", "12 V", "relay yes; "), "mixed-bank", NOTHING, NULL);
    expect_verdict(TIES("lifepo4", "12.8 V", ""), "mixed-bank", NOTHING, NULL);
}

static void a_relay_between_chemistries_is_as_bad_as_a_switch(void **state)
{
    static const struct {
        const char *spec;
        Severity severity;
    } of[] = {{TIES("lifepo4", "12.8 V", "relay yes; "), SEVERITY_FAULT}, {TIES("flooded", "12 V", "relay yes; "), SEVERITY_WARNING}};
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        Compiled c;
        compile_text(&c, of[i].spec);
        const Finding *f = only_finding(&c, "mixed-bank");
        assert_non_null(f);
        assert_int_equal(f->severity, of[i].severity);
        compile_free(&c);
    }
}

/* ---- Air as hot as the insulation ---- */

static void heat_is_told_where_it_takes_all(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, ISO HOUSE "space hot { engine-space yes; temperature 60 C }\n"
                               "load fan { fed-by house; run 1 m; wire 2.5 mm2; protect 5 A fuse; draw 2 A; through hot }\n");
    const Finding *f = compiled_finding(&c, "wire-overloaded");
    assert_non_null(f);
    assert_non_null(strstr(f->message, "as hot as its insulation may become"));
    assert_non_null(f->remedies);
    compile_free(&c);
}

/* ---- Remedies, and what cannot be ---- */

static void expect_remedy(const char *spec, const char *rule, const char *says)
{
    Compiled c;
    compile_text(&c, spec);
    const Finding *f = compiled_finding(&c, rule);
    assert_non_null(f);
    bool any = false;
    for (const Remedy *r = f->remedies; r != NULL; r = r->next) {
        any = any || strstr(r->text, says) != NULL;
    }
    if (!any) {
        fail_msg("no remedy of %s says `%s`", rule, says);
    }
    compile_free(&c);
}

static void what_is_offered_can_be_done(void **state)
{
    (void)state;
    /* 0.5 A without end ask for 0.625 A: the smallest breaker that is made is one of 5 A. */
    expect_remedy(ISO HOUSE "panel main { fed-by house; run 1 m; wire 16 mm2; protect 60 A fuse class-t }\n"
                            "load lamp { fed-by main; run 2 m; wire 2.5 mm2; protect 0.25 A breaker; draw 0.5 A }\n",
                  "protect-tight", "protect 5 A breaker");
    expect_remedy(ISO HOUSE "converter down { fed-by house; run 1 m; wire 16 mm2; protect 40 A fuse; output 20 A at 14.3 V; feeds house "
                            "{ run 1 m; wire 16 mm2; protect 40 A fuse } }\n",
                  "charge-loop", "another bank");
    expect_remedy(ISO "inlet shore { rated 16 A at 230 V; run 1 m }\ngenerator genset { rated 2 kW at 120 V; fuel diesel }\n"
                      "switch source { works-as transfer; fed-by shore, genset; run 1 m; wire 2.5 mm2; protect 16 A breaker }\n"
                      "outlet socket { fed-by source; run 1 m; wire 2.5 mm2; protect 16 A breaker }\n",
                  "ac-voltage", "a `generator` for 230 V");
}

/* 200 A through 300 mohm are 60 V: a bank of 12 V has nothing left, and no voltage is below that. */
static void no_thruster_is_left_with_less_than_nothing(void **state)
{
    (void)state;
    expect_verdict(ISO "bank b1 { chemistry agm; voltage 12 V; capacity 400 Ah; resistance 300 mohm }\n"
                       "thruster bow { fed-by b1; run 3 m; wire 95 mm2; protect 250 A fuse class-t; draw 200 A; thrust 400 N }\n",
                   "thruster-volts", BROKEN_AT_ONE, "bow");
    assert_near(figure_at(ISO "bank b1 { chemistry agm; voltage 12 V; capacity 400 Ah; resistance 300 mohm }\n"
                              "thruster bow { fed-by b1; run 3 m; wire 95 mm2; protect 250 A fuse class-t; draw 200 A; thrust 400 N }\n",
                          "bow", FIGURE_BURST_VOLTAGE),
                0.0, 1e-9);
}

/* Behind a switch that takes either of two banks each of two thrusters is told of the one that leaves less, 30 mohm at 200 A. */
static void each_thruster_is_told_of_the_weakest_bank_of_its_switch(void **state)
{
    (void)state;
#define PUSHING(name) "thruster " name " { fed-by sel; run 3 m; wire 95 mm2; protect 250 A fuse class-t; draw 200 A; thrust 400 N }\n"
#define TWO_BANKS                                                                     \
    ISO "bank b1 { chemistry agm; voltage 12 V; capacity 400 Ah; resistance 2 mohm }\n" \
        "bank b2 { chemistry agm; voltage 12 V; capacity 400 Ah; resistance 30 mohm }\n" \
        "switch sel { works-as transfer; fed-by b1, b2; rated 300 A; run 0 m }\n" PUSHING("bow") PUSHING("stern")
    double bow = figure_at(TWO_BANKS, "bow", FIGURE_BURST_VOLTAGE), stern = figure_at(TWO_BANKS, "stern", FIGURE_BURST_VOLTAGE);
    assert_near(bow, stern, 1e-12);
    assert_true(bow < 7.5); /* 12.8 V full at most, less 6 V */
}

/*
 * Ohm's law: three batteries of 12.8 V and 4 mohm, 13.4 V full (battery.def, from memory), give 13.4 / (0.004 / 3) = 10 050 A; into one
 * of them the others drive two thirds of it, 6700 A.
 */
static void lithium_in_parallel_has_a_fuse_at_each(void **state)
{
    (void)state;
#define PACKS(lines) \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso; sails no }\n" \
    "bank house { capacity 200 Ah; resistance 4 mohm; " lines " }\n"
#define LITHIUM_12 "chemistry lifepo4; voltage 12.8 V; "
    expect_verdict(PACKS(LITHIUM_12 "parallel 3"), "battery-fuse", OPEN_AT_ONE, "house");
    expect_verdict(PACKS(LITHIUM_12 "parallel 3; battery-fuse 150 A"), "battery-fuse", OPEN_AT_ONE, "house");
    expect_verdict(PACKS(LITHIUM_12 "parallel 3; battery-fuse 150 A interrupts 6.6 kA"), "battery-fuse", BROKEN_AT_ONE, "house");
    expect_verdict(PACKS(LITHIUM_12 "parallel 3; battery-fuse 150 A interrupts 6.8 kA"), "battery-fuse", NOTHING, NULL);
    expect_verdict(PACKS(LITHIUM_12 "series 2"), "battery-fuse", NOTHING, NULL);
    expect_verdict(PACKS("chemistry lifepo4; voltage 3.2 V; series 4; parallel 3"), "battery-fuse", NOTHING, NULL);
    expect_verdict(PACKS("chemistry agm; voltage 12 V; parallel 3"), "battery-fuse", NOTHING, NULL);
#undef LITHIUM_12
#undef PACKS
}

/* Peukert by hand, k 1.25: 200 Ah last (10 / I)^0.25 x 200 / I, 3.05 h at 45 A and 2.97 h at 46 A; by energy alone they would at 66 A. */
static void what_is_vital_is_counted_at_its_current(void **state)
{
    (void)state;
#define RADIO(BANK, DRAW) \
    ISO "bank house { chemistry agm; voltage 12 V; " BANK "; usable 100 % }\n" \
        "radio set { fed-by house; run 1 m; wire 35 mm2; protect 80 A fuse; draw " DRAW " }\n"
    expect_verdict(RADIO("capacity 200 Ah; peukert 1.25", "45 A"), "vital-hours", NOTHING, NULL);
    expect_verdict(RADIO("capacity 200 Ah; peukert 1.25", "46 A"), "vital-hours", BROKEN_AT_ONE, "house");
    expect_verdict(RADIO("capacity 200 Ah; peukert 1..1.25", "46 A"), "vital-hours", OPEN_AT_ONE, "house");
    expect_verdict(RADIO("capacity 190..200 Ah; peukert 1.25", "45 A"), "vital-hours", OPEN_AT_ONE, "house");
#undef RADIO
}

/* The same 45 and 46 A, of a bank of 24 V: behind a converter of 95 % they are 85.5 and 87.4 A at 12 V. */
static void what_is_vital_is_followed_through_a_converter(void **state)
{
    (void)state;
#define BEHIND(CONVERTER, PANEL, DRAW) \
    ISO "bank house { chemistry agm; voltage 24 V; capacity 200 Ah; peukert 1.25; usable 100 % }\n" \
        "converter c12 { fed-by house; output 100 A at 12 V; " CONVERTER " }\n" PANEL "radio set { fed-by p; draw " DRAW " }\n"
    expect_verdict(BEHIND("efficiency 95 %", "panel p { fed-by c12; run 1 m }\n", "85 A"), "vital-hours", NOTHING, NULL);
    expect_verdict(BEHIND("efficiency 95 %", "panel p { fed-by c12; run 1 m }\n", "88 A"), "vital-hours", BROKEN_AT_ONE, "house");
    expect_verdict(BEHIND("efficiency 95 %; feeds p { run 1 m }", "panel p { rated 99 A }\n", "88 A"), "vital-hours", BROKEN_AT_ONE, "house");
    expect_verdict(BEHIND("efficiency 80..95 %", "panel p { fed-by c12; run 1 m }\n", "85 A"), "vital-hours", OPEN_AT_ONE, "house");
#undef BEHIND
}

/* Two fuses of 60 A side by side let 120 A pass; a single one, of whatever chemistry, is held against the same. */
static void the_fuse_at_a_battery_lets_pass_what_is_asked(void **state)
{
    (void)state;
#define AT_EACH(BANK, LOAD)                                                                                                        \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso }\n"                     \
    "bank house { voltage 12 V; capacity 200 Ah; resistance 4 mohm; " BANK " }\n"                                                    \
    "load bow { fed-by house; run 1 m; wire 95 mm2; protect 200 A fuse class-t; draw " LOAD " }\n"                                  \
    "inlet quay { rated 16 A at 230 V }\n"                                                                                          \
    "charger ch { fed-by quay; output 50 A at 14.4 V; feeds house { run 1 m; wire 35 mm2; protect 80 A fuse } }\n"
#define TWO "chemistry lifepo4; parallel 2; battery-fuse 60 A interrupts 20 kA"
    expect_verdict(AT_EACH(TWO, "115 A"), "battery-fuse", NOTHING, NULL);
    expect_verdict(AT_EACH(TWO, "125 A"), "battery-fuse", BROKEN_AT_ONE, "house");
    expect_verdict(AT_EACH(TWO, "115..125 A"), "battery-fuse", OPEN_AT_ONE, "house");
    expect_verdict(AT_EACH("chemistry agm; battery-fuse 60 A", "55 A"), "battery-fuse", NOTHING, NULL);
    expect_verdict(AT_EACH("chemistry agm; battery-fuse 60 A", "65 A"), "battery-fuse", BROKEN_AT_ONE, "house");
    expect_verdict(AT_EACH("chemistry agm; battery-fuse 40 A", "30 A"), "battery-fuse", BROKEN_AT_ONE, "house"); /* by what charges */
#undef TWO
#undef AT_EACH
    Compiled c;
    compile_text(&c, ISO "bank house { chemistry agm; voltage 12 V; capacity 100 Ah; battery-fuse 150 A }\n"
                         "switch hs { fed-by house; works-as battery; run 0.3 m; wire 35 mm2 }\n");
    const Finding *f = only_finding(&c, "wire-unprotected");
    assert_non_null(f);
    assert_non_null(strstr(f->notes->text, "if it is what protects this cable, it is the cable's `protect`"));
    compile_free(&c);
}

static void engines_of_one_count_start_one_after_the_other(void **state)
{
    (void)state;
#define TWINS                                                                                                                     \
    ISO "bank start { role start; chemistry agm; voltage 12 V; capacity 90 Ah; resistance 5 mohm; cranking 400 A }\n"             \
        "switch ss { works-as battery; fed-by start; run 0.2 m; wire 50 mm2 insulation 105 C; rated 300 A; cranking 400 A }\n"    \
        "engine en { count 2; fed-by ss; run 3 m; wire 50 mm2 insulation 105 C; rated 20 kW at 3000 rpm; fuel diesel; "           \
        "starter 250 A }\n"
    assert_near(figure_at(TWINS, "ss", FIGURE_CRANKING), 250.0, 1e-9);
    assert_near(figure_at(TWINS, "en", FIGURE_CURRENT), 250.0, 1e-9);
    expect_verdict(TWINS, "switch-cranking", NOTHING, NULL);
    expect_verdict(TWINS, "start-alone", NOTHING, NULL);
}

static void a_pump_on_a_bank_that_cuts_itself_off_unheard_is_told(void **state)
{
    (void)state;
#define PUMP(NAME, BANK) "bilge-pump " NAME " { fed-by " BANK "; run 2 m; wire 2.5 mm2; protect 10 A fuse; draw 4 A; automatic yes }\n"
#define CUTS(WARNS, MORE) \
    ISO "bank li { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah; disconnect yes; warns " WARNS " }\n" PUMP("bp", "li") MORE
    expect_verdict(CUTS("no", ""), "always-live", BROKEN_AT_ONE, "bp");
    expect_verdict(CUTS("yes", ""), "always-live", NOTHING, NULL);
    expect_verdict(CUTS("no", HOUSE PUMP("second", "house")), "always-live", NOTHING, NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_vital_is_counted_at_its_current),
        cmocka_unit_test(what_is_vital_is_followed_through_a_converter),
        cmocka_unit_test(lithium_in_parallel_has_a_fuse_at_each),
        cmocka_unit_test(the_fuse_at_a_battery_lets_pass_what_is_asked),
        cmocka_unit_test(the_switch_of_the_bank_that_lends_carries_the_starter),
        cmocka_unit_test(a_fuse_lets_a_little_more_than_its_rating_crank),
        cmocka_unit_test(a_switch_that_lends_is_offered_one_device_with_one_cable),
        cmocka_unit_test(a_switch_that_lends_is_offered_the_same_where_a_fault_is_fed_from_both_ends),
        cmocka_unit_test(a_bank_that_is_lent_may_give_so_much),
        cmocka_unit_test(a_burst_beyond_what_lead_gives_for_long_is_no_fault),
        cmocka_unit_test(a_lent_start_takes_no_rating_out_of_protect_large),
        cmocka_unit_test(a_size_that_is_left_open_carries_a_lent_start),
        cmocka_unit_test(a_switch_without_a_run_leaves_its_protection_open),
        cmocka_unit_test(what_is_bolted_on_is_held_against_the_voltage_there),
        cmocka_unit_test(a_load_that_is_bolted_on_is_for_the_voltage_there),
        cmocka_unit_test(a_fuse_is_one_of_its_series),
        cmocka_unit_test(a_bank_has_a_switch_but_for_what_stays_on),
        cmocka_unit_test(a_circle_through_a_charger_is_told_of_the_charger),
        cmocka_unit_test(a_relay_takes_the_current_that_it_gives),
        cmocka_unit_test(a_relay_passes_on_all_of_the_current),
        cmocka_unit_test(a_relay_joins_its_two_banks),
        cmocka_unit_test(a_relay_between_chemistries_is_as_bad_as_a_switch),
        cmocka_unit_test(heat_is_told_where_it_takes_all),
        cmocka_unit_test(what_is_offered_can_be_done),
        cmocka_unit_test(no_thruster_is_left_with_less_than_nothing),
        cmocka_unit_test(each_thruster_is_told_of_the_weakest_bank_of_its_switch),
        cmocka_unit_test(engines_of_one_count_start_one_after_the_other),
        cmocka_unit_test(a_pump_on_a_bank_that_cuts_itself_off_unheard_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
