/*
 * What is undecided is neither told as certain nor passed over: a voltage between two classes of systems, a hole, and what one
 * rule leaves to another one. The oracle is what the same spec says with each of the values.
 */
#include "unit/verdict.h"

#include "rules/settle.h"

#define US "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us; sails no }\n"
#define ISO "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso; sails no }\n"

/* The same of a bank of each voltage. */
static void expect_by_volts(const char *spec, const char *rule, const char *subject, const char *const volts[3], const int verdicts[3])
{
    for (int i = 0; i < 3; i++) {
        Arena arena = check_arena();
        expect_verdict(text_format(&arena, spec, volts[i]), rule, verdicts[i], subject);
        arena_free(&arena);
    }
}

#define FUSED US "bank house { chemistry lifepo4; voltage %s; capacity 100 Ah; resistance 20 mohm }\n" \
                 "load motor { fed-by house; run 2 m; wire 14 AWG; protect 10 A fuse blade 0.1 m from source; draw 5 A }\n"

/* Blade fuses stand 32 V: of 36 and of 48 V they are broken, and so of all between. */
static void what_breaks_at_every_voltage_is_broken(void **state)
{
    (void)state;
    expect_by_volts(FUSED, "protect-voltage", "motor", (const char *const[]){"38.4 V", "51.2 V", "38.4..51.2 V"},
                    (const int[]){BROKEN_AT_ONE, BROKEN_AT_ONE, BROKEN_AT_ONE});
    expect_by_volts(FUSED, "protect-voltage", "motor", (const char *const[]){"12.8 V", "51.2 V", "12.8..51.2 V"},
                    (const int[]){NOTHING, BROKEN_AT_ONE, OPEN_AT_ONE});
    expect_by_volts(FUSED, "protect-voltage", "motor", (const char *const[]){"12.8 V", "25.6 V", "12.8..25.6 V"},
                    (const int[]){NOTHING, NOTHING, NOTHING});
}

#define SUNNY                                                                                                             \
    US "bank house { chemistry lifepo4; voltage %s; capacity 200 Ah }\n"                                                  \
       "solar roof { rated 100 W; count 3; open-circuit 22.8 V; short-circuit 6 A; controller mppt; max-output 30 A; "   \
       "feeds house { run 2 m; wire 8 AWG; protect 30 A fuse 0.1 m from source } }\n"

static void what_breaks_at_one_of_the_voltages_is_open(void **state)
{
    (void)state;
    const char *const volts[] = {"12.8 V", "25.6 V", "12.8..25.6 V"};
    expect_by_volts(SUNNY, "array-low", "roof", volts, (const int[]){NOTHING, BROKEN_AT_ONE, OPEN_AT_ONE});
    expect_by_volts(SUNNY, "protect-tight", "roof", volts, (const int[]){BROKEN_AT_ONE, NOTHING, OPEN_AT_ONE});
    expect_by_volts(SUNNY, "protect-tight", "roof", (const char *const[]){"12.8 V", "51.2 V", "?"},
                    (const int[]){BROKEN_AT_ONE, NOTHING, OPEN_AT_ONE});
}

#define CHARGED                                                                                \
    US "bank house { chemistry agm; voltage %s; capacity 200 Ah }\n"                           \
       "engine e1 { rated 21 kW at 2800 rpm; fuel diesel }\n"                                  \
       "alternator al { engine e1; output 60 A at 14.2 V; feeds house { run 1 m; wire 2 AWG; " \
       "protect 80 A fuse 0.1 m from source } }\n"

static void the_class_of_a_bank_may_be_open(void **state)
{
    (void)state;
    expect_by_volts(CHARGED, "wrong-voltage", "al", (const char *const[]){"12 V", "24 V", "12..24 V"},
                    (const int[]){NOTHING, BROKEN_AT_ONE, OPEN_AT_ONE});
    expect_by_volts(CHARGED, "wrong-voltage", "al", (const char *const[]){">= 20 V", "<= 14 V", "?"},
                    (const int[]){BROKEN_AT_ONE, NOTHING, OPEN_AT_ONE});
}

static const Settle *settle_on(Compiled *c, const char *spec, const char *rule, const char *subject, const char *input)
{
    compile_text(c, spec);
    assert_null(c->spec->messages.first);
    settle_findings(c->outcome);
    for (const Finding *f = c->outcome->findings; f != NULL; f = f->next) {
        bool same = strcmp(f->rule->name, rule) == 0 && str_is(entity_name(outcome_first(c->outcome)->model, f->subject), subject);
        for (const Settle *s = same ? f->settles : NULL; s != NULL; s = s->next) {
            if (strcmp(s->input, input) == 0) {
                return s;
            }
        }
    }
    fail_msg("nothing is said of %s", input);
    return NULL;
}

/* From 21.6 V on it charges no bank of 12 V: wrong-voltage tells that, and it is no word that charge-voltage holds. */
static void what_is_left_to_another_rule_does_not_hold(void **state)
{
    (void)state;
    Compiled c;
    const Settle *s = settle_on(&c,
                                ISO "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n"
                                    "solar roof { rated 100 W; charge-voltage ?; feeds house { run 2 m; wire 6 mm2 } }\n",
                                "charge-voltage", "roof", "roof.charge-voltage");
    assert_string_equal(s->text, "holds up to 14.8 V");
    compile_free(&c);
    s = settle_on(&c,
                  ISO "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n"
                      "solar roof { rated 100 W; charge-voltage ?; feeds house { run 2 m; wire 6 mm2 } }\n",
                  "wrong-voltage", "roof", "roof.charge-voltage");
    assert_string_equal(s->text, "holds up to 21.5 V, broken from 21.6 V up");
    compile_free(&c);
}

/* 0.0164 ohm mm2/m, 9 A, 41 m there and back, 10 mm2: 10.1 % are lost before the lamp, which may lose 10 % in all. */
static void what_is_told_of_the_feeder_does_not_hold_behind_it(void **state)
{
    (void)state;
    Compiled c;
    const Settle *s = settle_on(&c,
                                ISO "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n"
                                    "panel board { fed-by house; run 1..100 m; wire 10 mm2; protect 30 A fuse 0.1 m from source }\n"
                                    "load lamp { fed-by board; run 2 m; wire 4 mm2; protect 10 A breaker; draw 9 A }\n",
                                "wire-drop", "lamp", "board.run");
    for (uint32_t i = 0; i < s->range_count; i++) {
        assert_true(!s->ranges[i].holds || s->ranges[i].value.high < 41.0);
    }
    assert_true(s->range_count > 0);
    compile_free(&c);
}

static void a_hole_opens_what_a_range_opens(void **state)
{
    (void)state;
#define BURNS(RATE) ISO "heater h1 { fuel diesel; output 2..4 kW; fuel-rate " RATE "; portable yes }\n"
    expect_verdict(BURNS("0.01..5 l/h"), "heat-odd", OPEN_AT_ONE, "h1");
    expect_verdict(BURNS("?"), "heat-odd", OPEN_AT_ONE, "h1");
    expect_verdict(BURNS("<= 0.5 l/h"), "heat-odd", OPEN_AT_ONE, "h1");
    expect_verdict(BURNS("0.2 l/h"), "heat-odd", BROKEN_AT_ONE, "h1");
#define STARTS(CAPACITY) ISO "bank start { chemistry agm; voltage 12 V; capacity " CAPACITY "; role start; cranking 700 A }\n"
    expect_verdict(STARTS("5..90 Ah"), "cranking-doubtful", OPEN_AT_ONE, "start");
    expect_verdict(STARTS("?"), "cranking-doubtful", OPEN_AT_ONE, "start");
    expect_verdict(STARTS("9 Ah"), "cranking-doubtful", BROKEN_AT_ONE, "start");
#define PANELS(RATED) ISO "bank house { chemistry agm; voltage 12 V; capacity 100 Ah }\n" \
                          "solar roof { rated " RATED "; open-circuit 22 V; short-circuit 6 A; feeds house { run 1 m } }\n"
    expect_verdict(PANELS("110 W"), "array-power", NOTHING, NULL);
    expect_verdict(PANELS("1100 W"), "array-power", BROKEN_AT_ONE, "roof");
#define SEALED(SHAFT)                                                                                             \
    ISO "engine diesel { fuel diesel; rated 28 kW at 3000 rpm }\ngearbox reduction { engine diesel; ratio 2.6 }\n" \
        "propeller screw { engine diesel; diameter 530 mm; shaft " SHAFT " }\n"                                   \
        "shaft-seal stern-seal { propeller screw; shaft 30 mm }\n"
    expect_verdict(SEALED("35 mm"), "seal-fits", BROKEN_AT_ONE, "stern-seal");
    expect_verdict(SEALED("30 mm"), "seal-fits", NOTHING, NULL);
    expect_verdict(SEALED("?"), "seal-fits", OPEN_AT_ONE, "stern-seal");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_breaks_at_every_voltage_is_broken),
        cmocka_unit_test(what_breaks_at_one_of_the_voltages_is_open),
        cmocka_unit_test(the_class_of_a_bank_may_be_open),
        cmocka_unit_test(what_is_left_to_another_rule_does_not_hold),
        cmocka_unit_test(what_is_told_of_the_feeder_does_not_hold_behind_it),
        cmocka_unit_test(a_hole_opens_what_a_range_opens),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
