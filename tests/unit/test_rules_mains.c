/*
 * Mains of two whole boats, and the mistakes that can be made in them one at a time: each has to be found by its rule, about
 * the right thing. What the rules rest on stands in their own tables; here is what follows.
 */
#include "unit/verdict.h"

#include "base/buf.h"
#include "output/why.h"

/* 230 V 50 Hz: an inlet, a generator, a transfer switch, an inverter and charger in one that passes its circuit through. */
static const char iso_boat[] =
    "edition 1\n"
    "boat tern { length 11.8 m; beam 3.8 m; displacement 9200 kg; crew 4; currency EUR; basis iso }\n"
    "space saloon { wet no }\nspace galley { wet yes }\nspace heads { wet yes }\nspace engine-room { engine-space yes; wet no }\n"
    "bank house { chemistry lifepo4; voltage 12.8 V; capacity 400 Ah; resistance 2 mohm; max-discharge 300 A }\n"
    "bus positive { fed-by house; run 0.6 m; wire 120 mm2 insulation 105 C; protect 350 A fuse class-t 0.1 m from source }\n"
    "inlet shore { rated 16 A at 230 V; frequency 50 Hz; run 1.8 m; wire 2.5 mm2 insulation 70 C; ground 2.5 mm2; "
    "protect 16 A breaker miniature 0.4 m from source for 250 V; sheath none; poles 2; ground-fault 30 mA; "
    "isolation galvanic; bonded yes }\n"
    "generator genset { rated 4000 W at 230 V; frequency 50 Hz; bonds-neutral yes; space engine-room }\n"
    "switch changeover { works-as transfer; fed-by shore, genset; run 2 m; wire 4 mm2 insulation 90 C; ground 4 mm2; "
    "protect 16 A breaker miniature 0.3 m from source; poles 2; through engine-room; rated 32 A }\n"
    "panel ac-main { fed-by changeover; rated 25 A; together 60 %; run 1.2 m; wire 4 mm2 insulation 70 C; ground 4 mm2 }\n"
    "circuit heater { fed-by ac-main; run 5 m; wire 1.5 mm2 insulation 70 C; ground 1.5 mm2; protect 10 A breaker; poles 2 }\n"
    "water-heater boiler { fed-by heater; capacity 40 l; element 1200 W }\n"
    "circuit to-combi { fed-by ac-main; run 3 m; wire 4 mm2 insulation 70 C; ground 4 mm2; protect 16 A breaker; poles 2 }\n"
    "charger combi-charger { fed-by to-combi; output 70 A at 14.4 V; feeds positive { run 1.2 m; wire 70 mm2; "
    "protect 125 A fuse class-t 0.1 m from source } }\n"
    "inverter combi { fed-by positive; run 1.2 m; wire 70 mm2 insulation 105 C; protect 250 A fuse class-t 0.1 m from source; "
    "rated 2000 W; surge 4000 W; output 230 V; frequency 50 Hz; passes to-combi; transfer yes 16 A; bonds-neutral yes }\n"
    "panel sockets { fed-by combi; rated 20 A; together 60 %; run 1.5 m; wire 4 mm2 insulation 70 C; ground 4 mm2; "
    "protect 16 A breaker miniature 0.2 m from source; poles 2; ground-fault 30 mA }\n"
    "circuit galley-sockets { fed-by sockets; run 4 m; wire 2.5 mm2 insulation 70 C; ground 2.5 mm2; protect 10 A breaker; "
    "poles 2; bundle 4 }\n"
    "outlet galley-1 { fed-by galley-sockets; space galley }\noutlet galley-2 { fed-by galley-sockets; space galley }\n"
    "circuit cabin-sockets { fed-by sockets; run 7 m; wire 2.5 mm2 insulation 70 C; ground 2.5 mm2; protect 10 A breaker; "
    "poles 2; bundle 4 }\n"
    "outlet saloon-1 { fed-by cabin-sockets; space saloon }\noutlet heads-1 { fed-by cabin-sockets; space heads }\n"
    "load kettle { fed-by galley-1; draw 1000 W; made-for 230 V at 50 Hz }\nload toaster { fed-by galley-2; draw 700 W }\n"
    "load dryer { fed-by heads-1; draw 800 W at 230 V }\n";

/* 120 V 60 Hz: two inlets, single-pole breakers with an indicator, a panel behind an inverter that passes its circuit. */
static const char us_boat[] =
    "edition 1\n"
    "boat knot { length 38 ft; beam 12 ft; displacement 18000 lb; crew 4; currency USD; basis us }\n"
    "space saloon { wet no }\nspace galley { wet yes }\n"
    "bank house { chemistry agm; voltage 12 V; capacity 450 Ah; resistance 2 mohm }\n"
    "bus positive { fed-by house; run 2 ft; wire 4/0 AWG insulation 105 C; protect 300 A fuse class-t 6 in from source }\n"
    "inlet one { rated 30 A at 120 V; frequency 60 Hz; run 8 ft; wire 10 AWG insulation 105 C; ground 10 AWG; "
    "protect 30 A breaker miniature 8 ft from source; poles 2; ground-fault 30 mA; isolation galvanic; bonded yes; "
    "polarity-indicator yes }\n"
    "inlet two { rated 30 A at 120 V; frequency 60 Hz; run 8 ft; wire 10 AWG insulation 105 C; ground 10 AWG; "
    "protect 30 A breaker miniature 8 ft from source; poles 2; ground-fault 30 mA; isolation galvanic; bonded yes; "
    "polarity-indicator yes }\n"
    "panel ac-house { fed-by one; run 6 ft; wire 10 AWG insulation 105 C; ground 10 AWG; rated 30 A; together 80 % }\n"
    "panel ac-climate { fed-by two; run 6 ft; wire 10 AWG insulation 105 C; ground 10 AWG; rated 30 A }\n"
    "circuit air { fed-by ac-climate; run 14 ft; wire 12 AWG insulation 105 C; ground 12 AWG; protect 20 A breaker; poles 1 }\n"
    "cooler aircon { fed-by air; draw 11 A at 120 V }\n"
    "circuit to-sine { fed-by ac-house; run 8 ft; wire 10 AWG insulation 105 C; ground 10 AWG; protect 30 A breaker; poles 1 }\n"
    "inverter sine { fed-by positive; run 4 ft; wire 4/0 AWG insulation 105 C; protect 250 A fuse class-t 6 in from source; "
    "rated 2000 W; output 120 V; passes to-sine; transfer yes 30 A; bonds-neutral yes }\n"
    "panel sub { fed-by sine; run 5 ft; wire 10 AWG insulation 105 C; ground 10 AWG; protect 30 A breaker; poles 1; rated 30 A }\n"
    "circuit galley-outlets { fed-by sub; run 9 ft; wire 12 AWG insulation 105 C; ground 12 AWG; protect 20 A breaker; poles 1; "
    "ground-fault 5 mA }\n"
    "outlet galley-a { fed-by galley-outlets; space galley }\nload microwave { fed-by galley-a; draw 1200 W }\n";

/* A spec with the first of a text replaced by another one. */
static const char *with(Arena *arena, const char *spec, const char *old, const char *changed)
{
    const char *at = strstr(spec, old);
    Buf text;
    if (at == NULL) {
        fail_msg("no `%s` in the spec", old);
        return spec;
    }
    buf_init(&text, arena);
    buf_add(&text, (Str){spec, (size_t)(at - spec)});
    buf_text(&text, changed);
    buf_text(&text, at + strlen(old));
    return text.text;
}

typedef struct Mistake {
    const char *old, *changed;
    const char *rule;
    int expected;
    const char *subject;
} Mistake;

static const Mistake iso_mistakes[] = {
    /* the inlet and its breaker */
    {"protect 16 A breaker miniature 0.4", "protect 20 A breaker miniature 0.4", "shore-first-breaker", BROKEN_AT_ONE, "shore"},
    {"protect 16 A breaker miniature 0.4", "protect 16 A fuse cartridge 0.4", "shore-first-breaker", BROKEN_AT_ONE, "shore"},
    {"sheath none; poles 2", "sheath none; poles 1", "shore-first-breaker", BROKEN_AT_ONE, "shore"},
    {"sheath none; poles 2", "sheath none", "shore-first-breaker", OPEN_AT_ONE, "shore"},
    {"0.4 m from source", "0.8 m from source", "protect-far", BROKEN_AT_ONE, "shore"},
    {"for 250 V", "for 125 V", "protect-voltage", BROKEN_AT_ONE, "shore"},
    {"ground-fault 30 mA; isolation", "ground-fault 100 mA; isolation", "shore-leakage", BROKEN_AT_ONE, "shore"},
    {"ground-fault 30 mA; isolation", "isolation", "shore-leakage", OPEN_AT_ONE, "shore"},
    {"isolation galvanic", "isolation none", "shore-isolation", BROKEN_AT_ONE, "shore"},
    {"isolation galvanic; ", "", "shore-isolation", OPEN_AT_ONE, "shore"},
    {"bonded yes", "bonded no", "earth-bond", BROKEN_AT_ONE, "shore"},
    {"; bonded yes", "", "earth-bond", OPEN_AT_ONE, "shore"},
    {"together 60 %; run 1.2", "run 1.2", "shore-demand", BROKEN_AT_ONE, "shore"},
    /* sources against one another */
    {"bonds-neutral yes; space", "bonds-neutral no; space", "neutral-bond", BROKEN_AT_ONE, "genset"},
    {"bonds-neutral yes; space", "space", "neutral-bond", OPEN_AT_ONE, "genset"},
    {"transfer yes 16 A; bonds-neutral yes", "transfer yes 16 A; bonds-neutral no", "neutral-bond", BROKEN_AT_ONE, "combi"},
    {"poles 2; through", "poles 1; through", "neutral-bond", BROKEN_AT_ONE, "changeover"},
    {"poles 2; through", "through", "neutral-bond", OPEN_AT_ONE, "changeover"},
    {"works-as transfer", "works-as parallel", "one-source", BROKEN_AT_ONE, "changeover"},
    {"transfer yes 16 A", "transfer no", "one-source", BROKEN_AT_ONE, "combi"},
    {"transfer yes 16 A; ", "", "one-source", OPEN_AT_ONE, "combi"},
    {"4000 W at 230 V", "4000 W at 120 V", "ac-voltage", BROKEN_AT_ONE, "genset"},
    {"at 230 V; frequency 50 Hz; bonds", "at 230 V; frequency 60 Hz; bonds", "ac-voltage", BROKEN_AT_ONE, "genset"},
    {"4000 W at", "1500 W at", "generator-overloaded", BROKEN_AT_ONE, "genset"},
    /* the way through the inverter */
    {"passes to-combi", "passes ac-main", "inverter-passes", OPEN_AT_ONE, "combi"},
    {"passes to-combi", "passes shore", "inverter-passes", OPEN_AT_ONE, "combi"},
    {"passes to-combi", "passes galley-sockets", "inverter-passes", BROKEN_AT_ONE, "combi"},
    {"transfer yes 16 A", "transfer yes 10 A", "inverter-passes", BROKEN_AT_ONE, "combi"},
    {"transfer yes 16 A", "transfer yes", "inverter-passes", OPEN_AT_ONE, "combi"},
    {"rated 2000 W; surge 4000 W", "rated 1000 W; surge 2000 W", "inverter-overloaded", BROKEN_AT_ONE, "combi"},
    {"protect 250 A fuse", "protect 150 A fuse", "inverter-feed", BROKEN_AT_ONE, "combi"},
    {"wire 70 mm2 insulation 105 C; protect 250", "wire 25 mm2 insulation 105 C; protect 250", "wire-unprotected", BROKEN_AT_ONE,
     "combi"},
    /* cables */
    {"ground 4 mm2; protect 16 A breaker miniature 0.3", "ground 1.5 mm2; protect 16 A breaker miniature 0.3", "earth",
     BROKEN_AT_ONE, "changeover"},
    {"ground 1.5 mm2; ", "", "earth", OPEN_AT_ONE, "heater"},
    {"wire 4 mm2 insulation 90 C", "wire 16 mm2 insulation 60 C", "ac-wire", BROKEN_AT_ONE, "changeover"},
    {"run 3 m; wire 4 mm2", "run 3 m; wire 1 mm2", "wire-unprotected", BROKEN_AT_ONE, "to-combi"},
    {"element 1200 W", "element 5000 W", "wire-overloaded", BROKEN_AT_ONE, "heater"},
    {"rated 32 A", "rated 10 A", "panel-overloaded", BROKEN_AT_ONE, "changeover"},
    {"fed-by shore, genset; run 2 m", "fed-by shore; run 2 m", "wire-unprotected", NOTHING, NULL},
    /* leakage and polarity */
    {"; ground-fault 30 mA }\ncircuit galley", " }\ncircuit galley", "outlet-leakage", OPEN_AT_ONE, NULL},
    {"0.2 m from source; poles 2; ground-fault 30 mA", "0.2 m from source; poles 2; ground-fault 300 mA", "outlet-leakage",
     BROKEN_AT_ONE, NULL},
    {"protect 10 A breaker; poles 2 }\nwater", "protect 10 A breaker; poles 1 }\nwater", "shore-polarity", OPEN_AT_ONE, "shore"},
    {"protect 10 A breaker; poles 2 }\nwater", "protect 10 A breaker }\nwater", "shore-polarity", OPEN_AT_ONE, "shore"},
    {"protect 10 A breaker; poles 2 }\nwater", "protect 10 A fuse }\nwater", "shore-polarity", OPEN_AT_ONE, "shore"},
    {"0.2 m from source; poles 2", "0.2 m from source; poles 1", "shore-polarity", OPEN_AT_ONE, "shore"}, /* behind the inverter */
    /* what hangs on it */
    {"made-for 230 V at 50 Hz", "made-for 120 V", "ac-voltage", BROKEN_AT_ONE, "kettle"},
    {"made-for 230 V at 50 Hz", "made-for 230 V at 60 Hz", "ac-voltage", BROKEN_AT_ONE, "kettle"},
    {"made-for 230 V at 50 Hz", "made-for 100 V to 240 V", "ac-voltage", NOTHING, NULL},
    {"made-for 230 V at 50 Hz", "made-for 120..230 V", "ac-voltage", OPEN_AT_ONE, "kettle"},
    {"draw 800 W at 230 V", "draw 800 W at 120 V", "wrong-voltage", BROKEN_AT_ONE, "dryer"},
    {"made-for 230 V at 50 Hz", "made-for 24 V", "wrong-supply", BROKEN_AT_ONE, "kettle"},
    {"made-for 230 V at 50 Hz", "made-for 24 V", "ac-voltage", NOTHING, NULL}, /* told once */
    {"fed-by galley-1; draw 1000 W", "fed-by positive; run 1 m; draw 1000 W", "wrong-supply", BROKEN_AT_ONE, "kettle"},
    {"combi-charger { fed-by to-combi", "combi-charger { fed-by positive; run 1 m", "wrong-supply", BROKEN_AT_ONE,
     "combi-charger"},
};

static const Mistake us_mistakes[] = {
    {"miniature 8 ft from", "miniature 12 ft from", "protect-far", BROKEN_AT_ONE, "one"},
    {"ground 12 AWG; protect 20 A breaker; poles 1 }\ncooler", "ground 14 AWG; protect 20 A breaker; poles 1 }\ncooler", "earth",
     BROKEN_AT_ONE, "air"},
    {"ground 12 AWG; protect 20 A breaker; poles 1 }\ncooler", "ground 12 AWG; protect 20 A breaker for 32 V; poles 1 }\ncooler",
     "protect-voltage", BROKEN_AT_ONE, "air"}, /* of no class: what it states counts all the same */
    {"ground 12 AWG; protect 20 A breaker; poles 1 }\ncooler", "ground 12 AWG; protect 20 A breaker for 125 V; poles 1 }\ncooler",
     "protect-voltage", NOTHING, NULL},
    {"ground-fault 5 mA", "ground-fault 30 mA", "outlet-leakage", BROKEN_AT_ONE, "galley-a"},
    {"polarity-indicator yes", "polarity-indicator no", "shore-polarity", BROKEN_AT_ONE, "one"},
    {"; polarity-indicator yes", "", "shore-polarity", OPEN_AT_ONE, "one"},
    {"ac-climate { fed-by two", "ac-climate { fed-by two, one", "one-source", BROKEN_AT_ONE, "ac-climate"},
    {"wire 12 AWG insulation 105 C; ground 12 AWG; protect 20 A breaker; poles 1 }",
     "wire 12 AWG conductors 2 insulation 105 C; ground 12 AWG; protect 20 A breaker; poles 1 }", "ac-wire", BROKEN_AT_ONE, "air"},
    {"ac-house { fed-by one", "ac-house { fed-by sine", "inverter-passes", BROKEN_AT_ONE, "sine"},
    {"one { rated 30 A at 120 V", "one { rated 30 A at 230 V", "ac-voltage", BROKEN_AT_ONE, "sine"},
    {"11 A at 120 V", "11 A at 230 V", "wrong-voltage", BROKEN_AT_ONE, "aircon"},
    {"inverter sine { fed-by positive", "inverter sine { fed-by ac-climate", "wrong-supply", BROKEN_AT_ONE, "sine"},
    {"output 120 V; passes", "passes", "ac-voltage", NOTHING, NULL}, /* then it gives what it passes */
};

static void expect_clean(const char *spec)
{
    static const char *const rules[] = {"shore-demand", "shore-first-breaker", "shore-leakage", "outlet-leakage", "neutral-bond",
                                        "one-source", "earth", "earth-bond", "shore-isolation", "shore-polarity", "ac-wire",
                                        "ac-voltage", "inverter-overloaded", "generator-overloaded", "inverter-feed",
                                        "wrong-supply", "inverter-passes", "wire-overloaded", "wire-unprotected", "protect-far",
                                        "panel-overloaded", "protect-voltage", "wrong-voltage"};
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++) {
        expect_verdict(spec, rules[i], NOTHING, NULL);
    }
}

/* 50 A at 14.4 V are 720 W: an inlet takes what hangs on it, so a smaller one mends nothing. */
static void a_generator_that_is_plugged_in_is_told_of_what_it_feeds(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, "edition 1\nboat b { length 9 m; beam 3 m; displacement 4000 kg; crew 2; basis iso; currency EUR; sails no }\n"
                     "bank hb { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                     "generator carry { rated 500 W at 230 V; frequency 50 Hz; fuel petrol; portable yes }\n"
                     "inlet shore { fed-by carry; rated 16 A at 230 V; run 1.2 m; wire 2.5 mm2; ground 2.5 mm2; protect 16 A breaker }\n"
                     "charger ch { fed-by shore; run 1 m; wire 2.5 mm2; ground 2.5 mm2; protect 6 A breaker; output 50 A at 14.4 V\n"
                     "  feeds hb { run 1 m; wire 35 mm2; protect 80 A fuse class-t } }\n");
    const Finding *f = only_finding(&c, "generator-overloaded");
    assert_non_null(f);
    assert_non_null(f->remedies);
    assert_non_null(strstr(f->remedies->text, "a smaller `ch`"));
    assert_non_null(f->remedies->next);
    assert_non_null(strstr(f->remedies->next->text, "generator that is rated for more"));
    compile_free(&c);
}

#define ON_BANK(volts, kettle) \
    "edition 1\nboat b { length 9 m; beam 3 m; displacement 4000 kg; crew 2; basis iso; currency EUR; sails no }\n" \
    "bank hb { chemistry agm; voltage " volts "; capacity 200 Ah }\n" \
    "panel main { fed-by hb; run 0.5 m; wire 16 mm2; protect 60 A fuse class-t 0.1 m from source; rated 100 A }\n" \
    "circuit galley { fed-by main; run 5 m; wire 1.5 mm2; protect 10 A breaker }\n" kettle "\n"

/* 2000 W at 12 V would be 167 A: nobody is to be told to lay a cable for it. */
static void nothing_is_sized_for_what_hangs_on_the_wrong_supply(void **state)
{
    (void)state;
    static const char *const kettles[] = {
        ON_BANK("12 V", "load kettle { fed-by galley; draw 2000 W; made-for 230 V at 50 Hz }"),
        ON_BANK("12 V", "load kettle { fed-by galley; draw 2000 W at 230 V }"),
        ON_BANK("12 V", "water-heater kettle { fed-by galley; capacity 40 l; element 2000 W; made-for 230 V }"),
        ON_BANK("12 V", "charger kettle { fed-by galley; output 100 A at 14.4 V }"),
    };
    static const char *const goes_by_current[] = {"wire-drop", "panel-overloaded", "protect-tight", "bank-discharge"};
    for (size_t i = 0; i < sizeof kettles / sizeof kettles[0]; i++) {
        expect_verdict(kettles[i], "wrong-supply", BROKEN_AT_ONE, "kettle");
        expect_verdict(kettles[i], "wrong-voltage", NOTHING, NULL);
        for (size_t k = 0; k < sizeof goes_by_current / sizeof goes_by_current[0]; k++) {
            expect_verdict(kettles[i], goes_by_current[k], WAITING, NULL);
        }
    }
}

static void direct_current_of_a_high_voltage_is_no_mains(void **state)
{
    (void)state;
    static const char heating[] = ON_BANK("96 V", "load heating { fed-by galley; draw 3 A at 96 V }");
    expect_verdict(heating, "wrong-supply", NOTHING, NULL);
    expect_verdict(heating, "wrong-voltage", NOTHING, NULL);
    expect_verdict(ON_BANK("12 V", "load lamp { fed-by galley; draw 1 A at 24 V }"), "wrong-supply", NOTHING, NULL);
    expect_verdict(ON_BANK("12 V", "load lamp { fed-by galley; draw 1 A at 24 V }"), "wrong-voltage", BROKEN_AT_ONE, "lamp");
}

/* What may be for mains, or for what is there, is decided by neither end of the range: what it draws is not known until then. */
static void what_may_be_for_mains_is_open_on_a_bank(void **state)
{
    (void)state;
    static const char *const kettles[] = {
        ON_BANK("12 V", "load kettle { fed-by galley; draw 2000 W; made-for 24..230 V }"),
        ON_BANK("12 V", "load kettle { fed-by galley; draw 2000 W at 24..230 V }"),
        ON_BANK("12..100 V", "load kettle { fed-by galley; draw 2000 W at 230 V }"),
    };
    for (size_t i = 0; i < sizeof kettles / sizeof kettles[0]; i++) {
        expect_verdict(kettles[i], "wrong-supply", OPEN_AT_ONE, "kettle");
        expect_verdict(kettles[i], "wrong-voltage", OPEN_AT_ONE, "kettle");
        expect_verdict(kettles[i], "wire-overloaded", NOTHING, NULL);
        Compiled c;
        compile_text(&c, kettles[i]);
        assert_int_equal(compiled_figure(&c, "kettle", FIGURE_CURRENT)->state, STATE_MISSING);
        Buf why;
        buf_init(&why, &c.arena);
        assert_null(why_text(&why, c.outcome, STR("kettle.current")));
        assert_non_null(strstr(why.text, ": not decided\n"));
        compile_free(&c);
    }
    expect_verdict(ON_BANK("12 V", "load lamp { fed-by galley; draw 24 W; made-for 12..14 V }"), "wrong-voltage", NOTHING, NULL);
    Compiled c; /* what it may draw shortens how long the bank lasts, at most by all of it: a 20 W lamp, and as much of it */
    compile_text(&c, ON_BANK("12 V", "load kettle { fed-by galley; draw 20 W; made-for 12..230 V }\nload lamp { fed-by galley; draw 20 W }"));
    const Figure *runtime = compiled_figure(&c, "hb", FIGURE_RUNTIME);
    assert_near(runtime->high, 2.0 * runtime->low, 1e-6 * runtime->high);
    compile_free(&c);
    compile_text(&c, ON_BANK("12 V", "load kettle { fed-by galley; made-for 24..230 V }")); /* its draw is missing first of all */
    bool told = false;
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        told = told || (strcmp(f->rule->name, "unmeasured") == 0 && f->about == PROP_LOAD_DRAW);
    }
    assert_true(told);
    compile_free(&c);
}

/* An inverter takes direct current by its nature: one for a high voltage draws what it draws, and hangs on the wrong one. */
static void what_takes_direct_current_is_never_for_mains(void **state)
{
    (void)state;
    static const char inverter[] = ON_BANK("12 V", "inverter sine { fed-by main; run 1 m; rated 2000 W; made-for 370 V }");
    expect_verdict(inverter, "wrong-voltage", BROKEN_AT_ONE, "sine");
    expect_verdict(inverter, "wrong-supply", NOTHING, NULL);
    Compiled c;
    compile_text(&c, inverter);
    assert_int_equal(compiled_figure(&c, "sine", FIGURE_CURRENT)->state, STATE_KNOWN);
    compile_free(&c);
}

static void the_two_boats_break_no_rule_of_mains(void **state)
{
    (void)state;
    expect_clean(iso_boat);
    expect_clean(us_boat);
}

/* Where a mistake is found at several things alike, only that it is found. */
static void expect_some(const char *spec, const Mistake *mistake)
{
    Compiled c;
    compile_text(&c, spec);
    const Finding *finding = compiled_finding(&c, mistake->rule);
    assert_non_null(finding);
    assert_int_equal(finding->verdict, mistake->expected == OPEN_AT_ONE ? VERDICT_OPEN : VERDICT_BROKEN);
    compile_free(&c);
}

static void expect_found(Arena *arena, const char *boat, const Mistake *mistakes, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const Mistake *mistake = &mistakes[i];
        const char *spec = with(arena, boat, mistake->old, mistake->changed);
        if (mistake->subject == NULL && mistake->expected != NOTHING) {
            expect_some(spec, mistake);
        } else {
            expect_verdict(spec, mistake->rule, mistake->expected, mistake->subject);
        }
    }
}

static void each_mistake_is_found_by_its_rule(void **state)
{
    (void)state;
    Arena arena;
    jmp_buf failure;
    assert_int_equal(setjmp(failure), 0);
    arena_init(&arena, allocator_standard(), &failure);
    expect_found(&arena, iso_boat, iso_mistakes, sizeof iso_mistakes / sizeof iso_mistakes[0]);
    expect_found(&arena, us_boat, us_mistakes, sizeof us_mistakes / sizeof us_mistakes[0]);
    arena_free(&arena);
}

/* A generator that `feeds` the transfer switch by a cable of its own is a source of it like any other. */
static void a_generator_may_state_its_own_cable(void **state)
{
    (void)state;
    Arena arena;
    jmp_buf failure;
    assert_int_equal(setjmp(failure), 0);
    arena_init(&arena, allocator_standard(), &failure);
    const char *shore_only = with(&arena, iso_boat, "fed-by shore, genset", "fed-by shore");
#define BY_ITS_OWN(AMPS) "bonds-neutral yes; feeds changeover { run 4 m; wire 16 mm2 insulation 90 C; ground 16 mm2; " \
                         "protect-output " AMPS " breaker 0.1 m from source; poles 2 }; space"
    expect_clean(with(&arena, shore_only, "bonds-neutral yes; space", BY_ITS_OWN("25 A")));
    /* 4 mm2 of 70 C carry 35 A (iso): the panel's cable is guarded by 16 A from the shore, by 50 A from the generator. */
    expect_verdict(with(&arena, shore_only, "bonds-neutral yes; space", BY_ITS_OWN("50 A")), "wire-unprotected", BROKEN_AT_ONE,
                   "ac-main");
    const char *open = with(&arena, with(&arena, shore_only, "bonds-neutral yes; space", BY_ITS_OWN("25 A")), "poles 2; through",
                            "through");
    expect_verdict(open, "neutral-bond", OPEN_AT_ONE, "changeover");
    const char *volts = with(&arena, with(&arena, shore_only, "bonds-neutral yes; space", BY_ITS_OWN("25 A")), "4000 W at 230 V",
                             "4000 W at 120 V");
    expect_verdict(volts, "ac-voltage", BROKEN_AT_ONE, "genset");
    arena_free(&arena);
}

/*
 * What leaks behind a transformer returns to it (Kirchhoff): a device of the inlet, before it, guards no outlet; one behind it
 * does. The boat's grounding conductor begins at a transformer that isolates, and it is that one which is joined.
 */
static void behind_a_transformer_the_device_of_the_inlet_guards_nobody(void **state)
{
    (void)state;
#define TRANSFORMED(INLET, PANEL)                                                                                             \
    "edition 1\nboat w { length 11 m; beam 3.7 m; crew 2; currency EUR; basis iso }\nspace galley { wet yes }\n"              \
    "inlet shore { rated 16 A at 230 V; run 1 m; wire 2.5 mm2; ground 2.5 mm2; protect 16 A breaker 0.4 m from source; poles 2; " \
    "ground-fault 30 mA; " INLET "}\npanel ac { fed-by shore; run 3 m; wire 2.5 mm2; ground 2.5 mm2; poles 2; " PANEL "}\n"     \
    "outlet socket { fed-by ac; run 3 m; wire 2.5 mm2; ground 2.5 mm2; protect 6 A breaker; poles 2; space galley }\n"
    expect_verdict(TRANSFORMED("isolation galvanic; bonded yes ", ""), "outlet-leakage", NOTHING, NULL);
    expect_verdict(TRANSFORMED("isolation transformer; bonded yes ", ""), "outlet-leakage", OPEN_AT_ONE, "socket");
    expect_verdict(TRANSFORMED("isolation galvanic; polarisation-transformer yes; bonded yes ", ""), "outlet-leakage", OPEN_AT_ONE,
                   "socket");
    expect_verdict(TRANSFORMED("isolation transformer; bonded yes ", "protect 10 A breaker; ground-fault 30 mA "), "outlet-leakage",
                   NOTHING, NULL);

    static const struct {
        const char *spec, *said;
    } bonds[] = {{TRANSFORMED("isolation transformer; bonded no ", ""),
                  "the grounding conductor that begins at the transformer of `shore` is not joined to the boat's DC ground"},
                 {TRANSFORMED("isolation transformer ", ""), "nobody says whether the grounding conductor that begins at the "
                                                             "transformer of `shore` is joined to the boat's DC ground"},
                 {TRANSFORMED("isolation galvanic; polarisation-transformer yes; bonded no ", ""),
                  "the grounding conductor of `shore` is not joined to the boat's DC ground"}};
    for (size_t i = 0; i < sizeof bonds / sizeof bonds[0]; i++) {
        Compiled c;
        compile_text(&c, bonds[i].spec);
        const Finding *found = only_finding(&c, "earth-bond");
        assert_string_equal(found->message, bonds[i].said);
        bool told = false;
        for (const FindingNote *note = found->notes; note != NULL; note = note->next) {
            told = told || strstr(note->text, "is never joined to anything aboard") != NULL;
        }
        assert_true(told == (i < 2));
        compile_free(&c);
    }
}

/* Common practice, no source: the hull itself is what the marina's currents eat, where it is metal. */
static void an_inlet_without_isolation_is_a_fault_in_a_hull_of_metal(void **state)
{
    (void)state;
    static const struct {
        const char *spec;
        Severity severity;
        Verdict verdict;
    } cases[] = {
#define BUILT(LINE, ISOLATION) \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso; " LINE " }\n" \
    "inlet shore { rated 16 A at 230 V; " ISOLATION " }\n"
        {BUILT("built aluminium", "isolation none"), SEVERITY_FAULT, VERDICT_BROKEN},
        {BUILT("built steel", ""), SEVERITY_FAULT, VERDICT_OPEN},
        {BUILT("built composite", "isolation none"), SEVERITY_WARNING, VERDICT_BROKEN},
        {BUILT("", "isolation none"), SEVERITY_WARNING, VERDICT_BROKEN},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        Compiled c;
        compile_text(&c, cases[i].spec);
        const Finding *f = only_finding(&c, "shore-isolation");
        assert_non_null(f);
        assert_int_equal(f->severity, cases[i].severity);
        assert_int_equal(f->verdict, cases[i].verdict);
        compile_free(&c);
    }
}

/* Practice, from memory: what the case of an inverter stands on and its DC negative have to be one. */
static void an_inverter_is_asked_for_its_bond_unless_it_shares_that_of_the_inlet(void **state)
{
    (void)state;
#define SINE(LINES, MORE) \
    EXAMPLE_BOAT_ISO "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" MORE \
                     "inverter sine { fed-by house; run 1 m; rated 500 W; output 230 V; " LINES " }\n"
    expect_verdict(SINE("", ""), "earth-bond", OPEN_AT_ONE, "sine");
    expect_verdict(SINE("bonded no", ""), "earth-bond", BROKEN_AT_ONE, "sine");
    expect_verdict(SINE("bonded yes", ""), "earth-bond", NOTHING, NULL);
    expect_verdict(SINE("portable yes", ""), "earth-bond", NOTHING, NULL);
    expect_verdict(SINE("portable yes", "panel mains { fed-by sine; run 1 m; wire 2.5 mm2 }\n"), "earth-bond", OPEN_AT_ONE, "sine");
    expect_verdict(SINE("passes shore", "inlet shore { rated 16 A at 230 V; bonded yes }\n"), "earth-bond", NOTHING, NULL);
}

/* Power comes aboard by an inlet: the cord of a generator may be plugged into it, and nothing else feeds it. */
static void an_inlet_that_something_aboard_feeds_is_told_once(void **state)
{
    (void)state;
#define ASHORE(FED, MORE)                                                                                                        \
    EXAMPLE_BOAT_ISO "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"                                            \
                     "inlet shore { " FED "rated 16 A at 230 V; run 1 m; wire 2.5 mm2; ground 2.5 mm2; protect 16 A breaker }\n" \
                     "charger ch { fed-by acp; run 1 m; wire 1.5 mm2; output 10 A at 14.4 V; feeds house { run 1 m; wire 6 mm2 } }\n" MORE
    static const char turned[] = ASHORE("fed-by acp; ", "panel acp { rated 16 A }\n");
    static const char on_bank[] = ASHORE("fed-by house; ", "panel acp { fed-by shore; rated 16 A }\n");
    expect_verdict(turned, "wrong-supply", BROKEN_AT_ONE, "shore");
    expect_verdict(turned, "unpowered", NOTHING, NULL);
    expect_verdict(on_bank, "wrong-supply", BROKEN_AT_ONE, "shore");
    expect_verdict(on_bank, "wrong-voltage", NOTHING, NULL);
    expect_verdict(ASHORE("", "panel acp { fed-by shore; rated 16 A }\n"), "wrong-supply", NOTHING, NULL);
    expect_verdict(ASHORE("", "panel acp { rated 16 A }\n"), "wrong-supply", NOTHING, NULL); /* it gives nothing: unpowered */
    expect_verdict(ASHORE("", "panel acp { rated 16 A }\n"), "unpowered", BROKEN_AT_ONE, "acp");
    expect_verdict(ASHORE("", "panel acp { fed-by house; rated 16 A }\n"), "wrong-supply", BROKEN_AT_ONE, "ch");
    expect_verdict(ASHORE("fed-by carry; ", "generator carry { rated 2000 W at 230 V; portable yes }\n"
                                            "panel acp { fed-by shore; rated 16 A }\n"),
                   "wrong-supply", NOTHING, NULL);
}

/* ISO 10133:2012 4.1, second hand: a fully insulated system has no DC ground; the grounding conductor of mains goes to the hull. */
static void an_insulated_boat_joins_her_grounding_conductor_to_the_hull(void **state)
{
    (void)state;
#define SHORE(boat, inlet)                                                                                                        \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso; " boat " }\n" \
    "inlet shore { rated 16 A at 230 V; " inlet " }\n"
    Compiled c;
    compile_text(&c, SHORE("built steel; direct-current insulated", "bonded no"));
    assert_non_null(strstr(compiled_finding(&c, "earth-bond")->message, "the hull"));
    assert_null(strstr(compiled_finding(&c, "earth-bond")->message, "DC ground"));
    compile_free(&c);
    compile_text(&c, SHORE("direct-current negative-ground", "bonded no"));
    assert_non_null(strstr(compiled_finding(&c, "earth-bond")->message, "DC ground"));
    compile_free(&c);
    expect_verdict(SHORE("direct-current insulated", "bonded yes"), "earth-bond", NOTHING, NULL);
#undef SHORE
}

/*
 * 108 ft2 and two appliance circuits ask for 2425.6 W (test_figures_mains.c), 20.2 A of 120 V: behind a breaker of 20 A the pins of
 * 50 A give no more than 20.
 */
static void an_inlet_gives_no_more_than_its_breaker_lets_pass(void **state)
{
    (void)state;
#define BEHIND(breaker)                                                                                                        \
    "edition 1\nboat b { length 28 ft; beam 9 ft; crew 2; currency USD; basis us }\nspace saloon { floor 10.033516 m2 }\n"     \
    "inlet shore { rated 50 A at 120 V; run 3 ft; wire 6 AWG; protect " breaker " breaker 3 ft from source; poles 2 }\n"       \
    "outlet one { fed-by shore; run 2 m; appliances yes }\noutlet two { fed-by shore; run 2 m; appliances yes }\n"
    expect_verdict(BEHIND("20 A"), "shore-demand", BROKEN_AT_ONE, "shore");
    expect_verdict(BEHIND("50 A"), "shore-demand", NOTHING, NULL);
}

/* While it is open whether an inverter carries what runs, what starts is asked as well: 4000 W of it are too much for most of the range. */
static void what_starts_is_asked_of_an_inverter_that_is_not_decided(void **state)
{
    (void)state;
#define TOOL(RATED)                                                                                                       \
    "edition 1\nboat b { length 9 m; beam 3 m; crew 2; currency EUR; basis iso }\n"                                       \
    "bank house { chemistry agm; voltage 12 V; capacity 400 Ah }\n"                                                       \
    "inverter inv { fed-by house; run 1 m; wire 70 mm2; protect 300 A fuse; output 230 V; rated " RATED " }\n"           \
    "load tool { fed-by inv; run 2 m; protect 16 A breaker; draw 1500 W; surge 4000 W for 1 s }\n"
    static const struct {
        const char *spec;
        int findings;
    } rows[] = {{TOOL("1000..3000 W"), 2}, {TOOL("3000 W"), 1}, {TOOL("1000 W"), 1}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Compiled c;
        compile_text(&c, rows[i].spec);
        assert_null(c.spec->messages.first);
        int findings = 0;
        for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
            findings += strcmp(f->rule->name, "inverter-overloaded") == 0;
        }
        assert_int_equal(findings, rows[i].findings);
        compile_free(&c);
    }
}

static void two_generators_of_one_count_are_two_sources(void **state)
{
    (void)state;
#define SETS(COUNT)                                                                                                            \
    "edition 1\nboat wren { length 9 m; beam 3 m; crew 2; currency EUR; basis iso }\n"                                        \
    "generator gen { " COUNT "rated 2000 W at 230 V; frequency 50 Hz; fuel petrol; fuel-rate 1 l/h; bonds-neutral yes }\n"    \
    "load hob { fed-by gen; run 2 m; draw 1500 W }\n"
    expect_verdict(SETS("count 2; "), "one-source", BROKEN_AT_ONE, "gen");
    expect_verdict(SETS("count 1..2; "), "one-source", OPEN_AT_ONE, "gen");
    expect_verdict(SETS("count 1; "), "one-source", NOTHING, NULL);
    expect_verdict(SETS(""), "one-source", NOTHING, NULL);
}

/* ABYC E-11: heads, galley, machinery space and on deck. */
static void an_outlet_beside_an_engine_is_guarded_whatever_wet_says(void **state)
{
    (void)state;
#define BESIDE(SPACE, GUARD)                                                                                \
    "edition 1\nboat wren { length 32 ft; beam 10 ft; crew 2; currency USD; basis us }\n"                  \
    "inlet shore { rated 30 A at 120 V }\nspace there { " SPACE " }\n"                                     \
    "outlet socket { fed-by shore; run 10 ft; rated 15 A; space there" GUARD " }\n"
    expect_verdict(BESIDE("engine-space yes; wet no", ""), "outlet-leakage", OPEN_AT_ONE, "socket");
    expect_verdict(BESIDE("engine-space yes; wet no", "; ground-fault 30 mA"), "outlet-leakage", BROKEN_AT_ONE, "socket");
    expect_verdict(BESIDE("engine-space yes; wet no", "; ground-fault 5 mA"), "outlet-leakage", NOTHING, NULL);
    expect_verdict(BESIDE("wet no", ""), "outlet-leakage", NOTHING, NULL);
}

/* NEC Table 250.122: 3 AWG behind 400 A, and the next that is sold is 2 AWG. */
static void a_ground_is_asked_for_as_the_table_has_it(void **state)
{
    (void)state;
#define GROUNDED(SIZE)                                                                                                \
    "edition 1\nboat wren { length 10 m; beam 3 m; crew 2; currency EUR; basis us }\ninlet shore { rated 400 A at 120 V; run 0.5 m; " \
    "wire 4/0 AWG insulation 105 C; ground " SIZE "; protect 400 A breaker 0.3 m from source; poles 2 }\n"
    Compiled c;
    compile_text(&c, GROUNDED("4 AWG"));
    const Finding *f = only_finding(&c, "earth");
    assert_non_null(f);
    assert_non_null(strstr(f->message, "it has to be 3 AWG; the next that is sold is 2 AWG"));
    assert_string_equal(f->remedies->text, "ground 2 AWG");
    compile_free(&c);
    expect_verdict(GROUNDED("3 AWG"), "earth", NOTHING, NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_ground_is_asked_for_as_the_table_has_it),
        cmocka_unit_test(what_starts_is_asked_of_an_inverter_that_is_not_decided),
        cmocka_unit_test(an_inlet_gives_no_more_than_its_breaker_lets_pass),
        cmocka_unit_test(an_inlet_that_something_aboard_feeds_is_told_once),
        cmocka_unit_test(an_insulated_boat_joins_her_grounding_conductor_to_the_hull),
        cmocka_unit_test(an_inverter_is_asked_for_its_bond_unless_it_shares_that_of_the_inlet),
        cmocka_unit_test(an_inlet_without_isolation_is_a_fault_in_a_hull_of_metal),
        cmocka_unit_test(a_generator_that_is_plugged_in_is_told_of_what_it_feeds),
        cmocka_unit_test(the_two_boats_break_no_rule_of_mains),
        cmocka_unit_test(nothing_is_sized_for_what_hangs_on_the_wrong_supply),
        cmocka_unit_test(direct_current_of_a_high_voltage_is_no_mains),
        cmocka_unit_test(what_may_be_for_mains_is_open_on_a_bank),
        cmocka_unit_test(what_takes_direct_current_is_never_for_mains),
        cmocka_unit_test(each_mistake_is_found_by_its_rule),
        cmocka_unit_test(a_generator_may_state_its_own_cable),
        cmocka_unit_test(behind_a_transformer_the_device_of_the_inlet_guards_nobody),
        cmocka_unit_test(two_generators_of_one_count_are_two_sources),
        cmocka_unit_test(an_outlet_beside_an_engine_is_guarded_whatever_wet_says),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
