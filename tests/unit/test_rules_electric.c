/*
 * What rules on electrical things say and offer: that an answer is asked by the name under which it can be given, and that who
 * follows a remedy to the letter meets no next finding. Sources stand in the rules' own tables; here is what follows.
 */
#include "unit/verdict.h"

#include "output/findings_text.h"
#include "rules/decide.h"

#define ISO "edition 1\nboat gull { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso }\n"
#define US "edition 1\nboat gull { length 30 ft; beam 10 ft; crew 2; currency USD; basis us }\n"
#define HOUSE "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 4 mohm }\n"

/* The finding of a rule about a thing; the first, or NULL. */
static const Finding *finding_about_thing(const Compiled *c, const char *rule, const char *subject)
{
    const Finding *f = c->outcome->findings;
    while (f != NULL && !(strcmp(f->rule->name, rule) == 0 && str_is(entity_name(outcome_first(c->outcome)->model, f->subject), subject))) {
        f = f->next;
    }
    return f;
}

static bool offers(const Finding *f, const char *remedy)
{
    const Remedy *r = f->remedies;
    while (r != NULL && strcmp(r->text, remedy) != 0) {
        r = r->next;
    }
    return r != NULL;
}

static void expect_offer(const char *spec, const char *rule, const char *subject, const char *remedy)
{
    Compiled c;
    compile_text(&c, spec);
    const Finding *f = finding_about_thing(&c, rule, subject);
    assert_non_null(f);
    if (!offers(f, remedy)) {
        fail_msg("%s offers `%s`, not `%s`", rule, f->remedies != NULL ? f->remedies->text : "nothing", remedy);
    }
    compile_free(&c);
}

static void expect_no_offer(const char *spec, const char *rule, const char *subject, const char *words)
{
    Compiled c;
    compile_text(&c, spec);
    const Finding *f = finding_about_thing(&c, rule, subject);
    assert_non_null(f);
    for (const Remedy *r = f->remedies; r != NULL; r = r->next) {
        if (strstr(r->text, words) != NULL) {
            fail_msg("%s offers `%s`", rule, r->text);
        }
    }
    compile_free(&c);
}

static void expect_hangs_on(const char *spec, const char *rule, const char *subject, const char *what)
{
    Compiled c;
    compile_text(&c, spec);
    const Finding *f = finding_about_thing(&c, rule, subject);
    assert_non_null(f);
    const Depend *d = f->depends;
    while (d != NULL && strcmp(d->text, what) != 0) {
        d = d->next;
    }
    if (d == NULL) {
        fail_msg("hangs on %s, not on %s", f->depends != NULL ? f->depends->text : "nothing", what);
    }
    compile_free(&c);
}

/* The 7 in of 33 CFR 183.455(b) are counted from the source: that of a plug's cable is the inlet, 10 ft (ABYC E-11 11.11). */
static void an_inlet_for_a_generator_is_an_inlet(void **state)
{
    (void)state;
#define STERN(PLACE)                                                                                                          \
    US "inlet stern { rated 30 A at 120 V; fed-by gen; run 20 ft; wire 10 AWG insulation 75 C; ground 10 AWG; protect 30 A " \
       "breaker miniature " PLACE " from source; poles 2; ground-fault 30 mA }\n"                                            \
       "generator gen { rated 3000 W at 120 V; portable yes; fuel petrol; bonds-neutral yes }\n"
    expect_verdict(STERN("9 ft"), "protect-far", NOTHING, NULL);
    expect_verdict(STERN("11 ft"), "protect-far", BROKEN_AT_ONE, "stern");
}

#define MADE(FEEDS)                                                                                                               \
    ISO HOUSE "inlet shore { rated 16 A at 230 V }\n"                                                                             \
              "charger ch { fed-by shore; run 1 m; wire 2.5 mm2 insulation 70 C; ground 2.5 mm2; protect 6 A breaker 0.4 m from source; output 60 " \
              "A at 14.4 V; " FEEDS " }\n"
#define BRINGS(BANK, RUN) "feeds " BANK " { run " RUN "; wire 16 mm2 insulation 105 C; protect 80 A fuse class-t 0.1 m from source }"

/* `--set ch.run` is its mains cable; the name of the other is `ch.feeds.run`, as `set` has it. */
static void what_hangs_on_the_cable_of_a_feeds_is_named_so(void **state)
{
    (void)state;
    expect_hangs_on(MADE(BRINGS("house", "0.5..3 m")), "charge-drop", "ch", "ch.feeds.run");
    static const char two[] = MADE(BRINGS("house", "1 m") "; " BRINGS("spare", "0.5..3 m"))
        "bank spare { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 4 mohm }\n";
    expect_hangs_on(two, "charge-drop", "ch", "ch.feeds.spare.run");
    Compiled c;
    compile_text(&c, MADE(BRINGS("house", "0.5..3 m")));
    const Decisions *decisions = decide_compute(&c.arena, c.outcome);
    bool found = false;
    for (uint32_t i = 0; i < decisions->count; i++) {
        assert_true(strcmp(decisions->list[i]->name, "ch.run") != 0);
        found = found || strcmp(decisions->list[i]->name, "ch.feeds.run") == 0;
    }
    assert_true(found);
    compile_free(&c);
#define GENERATOR                                                                                            \
    ISO "generator gen { rated 3500 W at 230 V; fuel diesel; feeds ac { run 3 m; wire 2.5 mm2 insulation " \
        "70 C; protect-output 16 A breaker miniature } }\npanel ac { rated 16 A }\n"
    expect_hangs_on(GENERATOR, "earth", "gen", "gen.feeds.ground");
    expect_offer(GENERATOR, "earth", "gen", "`ground 2.5 mm2` in its `feeds ac`");
}

/* protect-large and shore-first-breaker are broken above what the end of the cable is rated for. */
static void no_new_device_is_larger_than_what_it_leads_to(void **state)
{
    (void)state;
    expect_offer(ISO "inlet shore { rated 16 A at 230 V; run 0.4 m; wire 4 mm2 insulation 70 C; ground 4 mm2; poles 2 }\n"
                     "load hob { fed-by shore; run 2 m; wire 4 mm2 insulation 70 C; ground 4 mm2; bundle 2; protect 20 A breaker "
                     "miniature; poles 2; draw 4000 W }\n",
                 "wire-unprotected", "shore", "protect 16 A breaker, and less than that at `hob` behind it");
    static const char lent[] =
        ISO HOUSE "bank start { role start; chemistry agm; voltage 12 V; capacity 90 Ah; resistance 5 mohm }\n"
                  "switch ss { works-as battery; fed-by start; rated 250 A; run 0.2 m; wire 50 mm2 insulation 105 C }\n"
                  "engine en { fed-by ss; run 1 m; wire 50 mm2 insulation 105 C; rated 20 kW at 3000 rpm; fuel diesel; starter 250 A }\n"
                  "switch em { works-as parallel; fed-by house, start; rated 150 A; cranking 500 A; run 2 m; wire 6 mm2 insulation 105 C }\n";
    expect_offer(lent, "wire-unprotected", "em",
                 "wire 50 mm2 insulation 105 C with protect 250 A fuse terminal 0.15 m from source, and a `switch` that is rated for it");
}

/* Bronze and aluminium lie 510 mV apart in sea water: unlike-metals. */
static void a_valve_is_of_what_it_stands_on(void **state)
{
    (void)state;
#define INTAKE(METAL)                                                                                                         \
    "edition 1\nboat gull { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso; built aluminium }\n"                   \
    "through-hull intake { bore 38 mm; height -0.3 m; seacock yes; material " METAL "; valve brass; reach yes; backing yes; " \
    "clamps 2; insulated yes }\n"
    expect_offer(INTAKE("bronze"), "seacock", "intake", "valve bronze");
    expect_no_offer(INTAKE("bronze"), "seacock", "intake", "aluminium");
    expect_offer(INTAKE("aluminium"), "seacock", "intake", "valve aluminium");
}

#define PUMP(FED_BY, SAID)                                                                                                     \
    "bilge-pump bp { fed-by " FED_BY "; run 2 m; wire 2.5 mm2 insulation 105 C; " SAID "draw 4 A; rated 3600 l/h; automatic " \
    "yes; discharge-height 1.2 m }\n"
#define FUSED "protect 10 A fuse class-t 0.1 m from source; "
#define BUS                                                                                                                  \
    ISO HOUSE "switch hs { works-as battery; fed-by house; run 0.2 m; wire 95 mm2 insulation 105 C; protect 250 A fuse class-t 0.1 m " \
              "from source }\nbus pos { fed-by hs; run 1 m; wire 70 mm2 insulation 105 C }\n"
#define LAMPS "load lamps { fed-by pos; run 2 m; wire 2.5 mm2 insulation 105 C; " FUSED "draw 4 A }\n"

static void a_pump_is_taken_off_its_switch_and_not_all_beside_it(void **state)
{
    (void)state;
    expect_offer(BUS PUMP("pos", FUSED) LAMPS, "always-live", "bp", "fed-by house");
    expect_offer(BUS PUMP("pos", "") LAMPS, "always-live", "bp", "`fed-by house`, and a `protect` of its own close to that");
    expect_offer(BUS LAMPS "circuit bilge { fed-by pos; run 1 m; wire 4 mm2; " FUSED "}\n" PUMP("bilge", ""), "always-live", "bp",
                 "fed-by house for `bilge`, which feeds it");
    expect_offer(BUS "switch two { works-as battery; fed-by pos }\n" LAMPS PUMP("two", FUSED), "always-live", "bp", "fed-by house");
}

/* IEC 60364-5-54: beside 1.5 mm2 the grounding conductor is of 1.5 mm2. */
static void a_thicker_cable_of_mains_has_its_grounding_conductor(void **state)
{
    (void)state;
#define SHORE "inlet shore { rated 16 A at 230 V; run 0.4 m; wire 2.5 mm2 insulation 70 C; ground 2.5 mm2; protect 16 A "
    expect_offer(ISO SHORE "breaker miniature 0.4 m from source; poles 2; ground-fault 30 mA }\n"
                           "outlet so { fed-by shore; run 3 m; wire 1 mm2 insulation 70 C; ground 1 mm2; bundle 2; rated 16 A }\n",
                 "wire-unprotected", "so", "wire 1.5 mm2 insulation 70 C and ground 1.5 mm2");
    expect_offer(ISO SHORE "fuse 0.4 m from source; poles 1; ground-fault 30 mA }\n", "shore-first-breaker", "shore",
                 "protect 16 A breaker 0.4 m from source and poles 2");
    /* a device that lets more pass than the inlet is made for would be told next */
    expect_offer(ISO "inlet shore { rated 10 A at 230 V; run 0.3 m; wire 2.5 mm2; protect 20 A fuse 0.1 m from source }\n", "shore-first-breaker",
                 "shore", "protect 10 A breaker 0.1 m from source and poles 2");
    /* no device is made so small in the series: what its end is made for */
    expect_offer(ISO "generator set { rated 3000 W at 230 V }\ninlet shore { fed-by set; rated 3 A at 230 V; run 0.3 m; wire 2.5 mm2 }\n"
                      "load kettle { fed-by shore; run 1 m; wire 2.5 mm2; draw 1000 W }\n", "wire-unprotected", "shore", "protect 3 A breaker");
    expect_offer(ISO SHORE "fuse 0.4 m from source; poles 2; ground-fault 30 mA }\n", "shore-first-breaker", "shore",
                 "protect 16 A breaker 0.4 m from source");
}

/* Glow plugs of 40 A for a minute take 0.8 Ah of 80; a lamp for an hour is no part of the engine. */
static void what_runs_for_minutes_may_hang_on_the_starting_bank(void **state)
{
    (void)state;
#define GLOW(USE)                                                                                                                 \
    ISO "bank start { role start; chemistry agm; voltage 12 V; capacity 80 Ah; cranking 700 A; resistance 5 mohm }\n"             \
        "engine en { fed-by start; run 1 m; wire 50 mm2 insulation 105 C; rated 20 kW at 3000 rpm; fuel diesel; starter 250 A }\n" \
        "load glow { fed-by start; run 1 m; wire 10 mm2 insulation 105 C; protect 50 A fuse class-t; draw 40 A; " USE " }\n"      \
        "day d-1 { engine 2 h; water 1 l per person }\nday d-2 { water 1 l per person }\n"
    expect_verdict(GLOW("use d-1 0.02 h"), "start-alone", NOTHING, NULL);
    expect_verdict(GLOW("use d-1 0.02 h; use d-2 1 h"), "start-alone", BROKEN_AT_ONE, "start");
    expect_verdict(GLOW("use d-1 0.02..1 h"), "start-alone", OPEN_AT_ONE, "start");
    expect_verdict(GLOW("critical yes"), "start-alone", BROKEN_AT_ONE, "start");
}

/* `engine-hours` looks at house banks alone: they need less than the hour in which the bow's bank gets 36 of the 40 Ah it gave. */
static void of_a_bank_of_a_thruster_no_hours_of_the_engine_are_told(void **state)
{
    (void)state;
#define BOW                                                                                                                  \
    ISO HOUSE "bank bow { role thruster; chemistry agm; voltage 12 V; capacity 100 Ah }\n"                                   \
              "engine en { rated 20 kW at 3000 rpm; fuel diesel }\n"                                                         \
              "alternator alt { engine en; output 120 A at 14.4 V; feeds house { run 1 m } }\n"                              \
              "converter vsr { fed-by house; output 60 A at 14.2 V; relay yes; feeds bow { run 1 m } }\n"                    \
              "thruster th { fed-by bow; draw 200 A; thrust 400 N; use d-1 0.2 h }\n"                                        \
              "load fridge { fed-by house; draw 6 A; use d-1 30 % }\nday d-1 { engine 1 h at 2000 rpm; sustainable yes }\n"
    expect_no_offer(BOW, "deficit", "d-1", "of engine");
    expect_offer(BOW, "deficit", "d-1", "more of what charges `bow`, or less use of what hangs on it");
}

/* NEC 240.6(A): 15, 20, 25, 30 A; the series of IEC 60898 has no 30. */
static void a_miniature_breaker_of_the_us_has_its_ratings(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, US "inlet shore { rated 30 A at 120 V; frequency 60 Hz; run 8 ft; wire 10 AWG insulation 75 C; ground 10 AWG; "
                        "protect ? breaker miniature 8 ft from source; poles 2; ground-fault 30 mA }\n"
                        "load hob { fed-by shore; run 9 ft; wire 8 AWG insulation 75 C; ground 10 AWG; protect ? breaker miniature; "
                        "poles 2; draw 1200 W }\n");
    assert_near(compiled_figure(&c, "shore", FIGURE_PROTECTION)->low, 30.0, 1e-9);
    assert_near(compiled_figure(&c, "hob", FIGURE_PROTECTION)->low, 15.0, 1e-9);
    compile_free(&c);
}

/* IEC 60898 is for alternating current: at 12 V of direct current a miniature breaker is not "made for less". */
static void a_breaker_for_mains_is_told_by_its_current(void **state)
{
    (void)state;
#define DEVICE(KIND) \
    ISO HOUSE "load fan { fed-by house; run 3 m; wire 6 mm2 insulation 105 C; protect 10 A breaker " KIND " 0.1 m from source; draw 5 A }\n"
    Compiled c;
    compile_text(&c, DEVICE("miniature"));
    const Finding *f = finding_about_thing(&c, "protect-breaking", "fan");
    assert_non_null(f);
    assert_non_null(strstr(f->message, "made for alternating current"));
    assert_null(strstr(f->message, "for less than"));
    assert_true(offers(f, "protect 10 A breaker miniature 0.1 m from source interrupts 3 kA for 12 V, if its own sheet says as much"));
    compile_free(&c);
}

/* Both break nothing at 48 V, each for its own reason. */
static void what_lacks_the_same_for_another_reason_is_told_apart(void **state)
{
    (void)state;
#define WAY(NAME, SAYS) \
    "circuit " NAME " { fed-by main; run 3 m; wire 2.5 mm2; protect 10 A breaker " SAYS " }\nload l-" NAME " { fed-by " NAME "; draw 1 A }\n"
    Compiled c;
    compile_text(&c, ISO "bank house { chemistry lifepo4; voltage 12.8 V; series 4; capacity 100 Ah; resistance 3 mohm }\n"
                         "panel main { fed-by house; run 1 m; wire 16 mm2 insulation 105 C; protect 80 A fuse class-t 0.1 m from source }\n"
                         WAY("one", "miniature") WAY("two", "hydraulic") WAY("three", "miniature"));
    Buf text;
    buf_init(&text, &c.arena);
    findings_text(&text, c.outcome, COLOUR_OFF);
    assert_non_null(strstr(text.text, "  the same is found of `three` on `main`\n"));
    compile_free(&c);
}

static void what_stands_out_of_its_order_is_told_so(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, DEVICE("interrupts 10 kA hydraulic"));
    assert_non_null(c.spec->messages.first);
    assert_non_null(strstr(c.spec->messages.first->right, "`hydraulic` before `interrupts`"));
    compile_free(&c);
    compile_text(&c, DEVICE("for 48 V interrupts 10 kA"));
    assert_non_null(strstr(c.spec->messages.first->right, "`interrupts` before `for`"));
    compile_free(&c);
}

/* At one place by two ways, each is told with its own. */
static void a_device_too_large_is_told_with_the_way_that_it_stands_on(void **state)
{
    (void)state;
#define PIER(NAME) "inlet " NAME " { rated 16 A at 230 V; protect 16 A breaker miniature; poles 2 }\n"
    Compiled c;
    compile_text(&c, ISO PIER("bow") PIER("stern") "switch sel { works-as transfer; fed-by bow, stern; rated 10 A }\n");
    uint32_t ways = 0;
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        bool meant = strcmp(f->rule->name, "protect-large") == 0;
        ways |= meant && strstr(f->message, "from `bow`") != NULL ? 1u : 0u;
        ways |= meant && strstr(f->message, "from `stern`") != NULL ? 2u : 0u;
    }
    assert_int_equal(ways, 3);
    compile_free(&c);
}

/* A load of 230 V on mains of 120 V hangs on no bank; 0.5 mm2 is in no table, with others or without. */
static void no_answer_is_asked_for_that_mends_nothing(void **state)
{
    (void)state;
#define AMERICAN "inlet shore { rated 30 A at 120 V; frequency 60 Hz; protect 30 A breaker }\n"
    expect_no_offer(US AMERICAN "load iron { fed-by shore; run 9 ft; wire 14 AWG; draw 5 A at 230 V }\n", "wrong-voltage", "iron", "bank");
    expect_verdict(ISO SHORE "breaker miniature 0.4 m from source; poles 2 }\n"
                             "load lamp { fed-by shore; run 3 m; wire 0.5 mm2 insulation 70 C; ground 1 mm2; protect 6 A breaker; draw 1 A }\n",
                   "ac-wire", NOTHING, NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_inlet_for_a_generator_is_an_inlet),
        cmocka_unit_test(what_hangs_on_the_cable_of_a_feeds_is_named_so),
        cmocka_unit_test(no_new_device_is_larger_than_what_it_leads_to),
        cmocka_unit_test(a_valve_is_of_what_it_stands_on),
        cmocka_unit_test(a_pump_is_taken_off_its_switch_and_not_all_beside_it),
        cmocka_unit_test(a_thicker_cable_of_mains_has_its_grounding_conductor),
        cmocka_unit_test(what_runs_for_minutes_may_hang_on_the_starting_bank),
        cmocka_unit_test(of_a_bank_of_a_thruster_no_hours_of_the_engine_are_told),
        cmocka_unit_test(a_miniature_breaker_of_the_us_has_its_ratings),
        cmocka_unit_test(a_breaker_for_mains_is_told_by_its_current),
        cmocka_unit_test(what_lacks_the_same_for_another_reason_is_told_apart),
        cmocka_unit_test(what_stands_out_of_its_order_is_told_so),
        cmocka_unit_test(a_device_too_large_is_told_with_the_way_that_it_stands_on),
        cmocka_unit_test(no_answer_is_asked_for_that_mends_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
