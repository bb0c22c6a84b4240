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

/* 12 to 60 l a day of each of two for 7 d: a tank of 840 l, and the next size, which is too heavy; up to 290 l it is not. */
static void what_breaks_with_a_size_that_was_chosen_is_open(void **state)
{
    (void)state;
#define HEAVY(CAPACITY)                                                                   \
    ISO "day anchored { water 12..60 l per person }\ngoal quiet { endure 7 d on anchored }\n" \
        "goal light { mass 0.3 t }\ntank fresh { holds fresh; capacity " CAPACITY "; mass 10 kg }\n"
    Compiled c;
    const Settle *s = settle_on(&c, HEAVY("?"), "goal-missed", "light", "fresh.capacity");
    assert_string_equal(s->text, "broken from 291 l up"); /* below it less than half of her is weighed */
    assert_int_equal(compiled_finding(&c, "goal-missed")->verdict, VERDICT_OPEN);
    assert_non_null(compiled_finding(&c, "size-chosen"));
    compile_free(&c);
    compile_text(&c, HEAVY("1000 l"));
    assert_int_equal(compiled_finding(&c, "goal-missed")->verdict, VERDICT_BROKEN);
    assert_null(compiled_finding(&c, "size-chosen"));
    compile_free(&c);
}

/* A heater of 1 A that states no `use` runs by what the space takes: the size that is chosen lasts as long as is asked. */
static void a_bank_is_sized_with_a_heater_without_a_use(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c,
                 ISO "space saloon { ventilated yes; volume 18 m3; skin 17 m2; glass 2 m2; built insulated }\n"
                     "day anchored { temperature 5 C }\ncruise summer { days 3 anchored }\ngoal quiet { endure 3 d on anchored }\n"
                     "bank house { chemistry agm; voltage 12 V; capacity ?; resistance 3 mohm }\n"
                     "circuit heat { fed-by house; run 2 m; wire 4 mm2; protect 15 A fuse 0.1 m from source }\n"
                     "heater h1 { fed-by heat; draw 1 A; output 4 kW; serves saloon; fuel diesel; fuel-rate 0.5 l/h }\n"
                     "load lamp { fed-by heat; draw 1 A; use anchored 7 h }\n");
    const Figure *lasts = compiled_figure_at(&c, "house", FIGURE_ENDURANCE, "anchored");
    assert_non_null(compiled_figure(&c, "house", FIGURE_FITTING_SIZE));
    assert_true(lasts->low >= 3.0 * 86400.0 * (1.0 - 1e-9));
    assert_null(compiled_finding(&c, "goal-missed"));
    assert_null(compiled_finding(&c, "flat"));
    compile_free(&c);
}

/*
 * 24 A on a device of 100 A upstream: 10 AWG carries 40 A at 60 C (33 CFR 183.425), and stands one of 60 A. No branch is wired
 * for 100 A: then none was found, which the figure says; and nothing is certain of a device of 36 to 90 A.
 */
static void a_chosen_cable_stands_the_device_upstream_or_none_is_found(void **state)
{
    (void)state;
#define UPSTREAM(PROTECT)                                                                                     \
    US "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n"                     \
       "panel main { fed-by house; run 1 m; wire 2 AWG; protect " PROTECT " fuse class-t 0.1 m from source }\n" \
       "circuit pump-1 { fed-by main; run 2 m; wire ? }\nload pump-motor { fed-by pump-1; draw 24 A }\n"
    expect_verdict(UPSTREAM("60 A"), "wire-unprotected", NOTHING, NULL);
    expect_verdict(UPSTREAM("100 A"), "wire-unprotected", BROKEN_AT_ONE, "pump-1");
    expect_verdict(UPSTREAM("36..90 A"), "wire-unprotected", OPEN_AT_ONE, "pump-1");
    Compiled c;
    compile_text(&c, UPSTREAM("100 A"));
    assert_string_equal(compiled_figure(&c, "pump-1", FIGURE_WIRE_SIZE)->remark,
                        "none was found that stands the 100 A device upstream and is no thicker than 10 AWG: it wants its own `protect`");
    compile_free(&c);
}

/* 20 A, 12 V, 3 %: with 20 m it is 36 mm2, and with 2 m the 10 mm2 that 30 A asks for; of a run that nobody knows, that at least. */
static void a_cable_of_no_known_run_is_so_thick_at_least(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, ISO "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n"
                         "panel board { fed-by house; run ?; wire ?; protect 30 A fuse 0.1 m from source }\n"
                         "load lamp { fed-by board; run 2 m; wire 4 mm2; protect 10 A breaker; draw 20 A }\n");
    assert_string_equal(figure_text(outcome_first(c.outcome)->figures, compiled_figure(&c, "board", FIGURE_WIRE_SIZE)),
                        "at least 10 mm2");
    compile_free(&c);
}

/* An inverter of a stated voltage has nothing behind it that runs for hours; of one that is left open nobody can tell. */
static void an_inverter_of_no_known_voltage_is_not_sure_to_run_for_hours(void **state)
{
    (void)state;
#define LOOPED(VOLTS)                                                                                                 \
    US "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"                                                \
       "inverter sine { fed-by house; run 1 m; rated 1200 W; output " VOLTS " }\n"                                    \
       "inlet shore { rated 30 A at 120 V; run 2 m }\nswitch source { works-as transfer; fed-by shore, sine }\n"      \
       "charger shore-charger { fed-by sine; run 2 m; output 30 A at 14.4 V; feeds house { run 1 m; protect 40 A fuse } }\n"
    expect_verdict(LOOPED("120 V"), "bank-discharge", NOTHING, NULL);
    expect_verdict(LOOPED("?"), "bank-discharge", OPEN_AT_ONE, "house");
}

#define CONVERTED                                                                                                      \
    US "bank house { chemistry lifepo4; voltage 25.6 V; capacity 200 Ah }\nconverter down { fed-by house; output 30 A " \
       "at 13.2 V }\n"

/* What hangs behind a converter is for mains: what the bank lasts with that is not known, and not told by all that it could give. */
static void a_bank_does_not_last_by_what_a_converter_could_give(void **state)
{
    (void)state;
    static const char *const specs[] = {
        CONVERTED "panel small { fed-by down; made-for 161 V at 50 Hz }\nload cold { fed-by small; draw 6 A }\n",
        CONVERTED "panel small { fed-by down }\nload cold { fed-by small; draw 6 A }\n",
        CONVERTED "panel small { fed-by down }\nload cold { fed-by small; draw 6 A; made-for ? at 50 Hz }\n",
    };
    Compiled waits, exact, open;
    compile_text(&waits, specs[0]);
    compile_text(&exact, specs[1]);
    compile_text(&open, specs[2]);
    assert_int_equal(compiled_figure(&waits, "house", FIGURE_RUNTIME)->state, STATE_WAITING);
    const Figure *is = compiled_figure(&exact, "house", FIGURE_RUNTIME), *may = compiled_figure(&open, "house", FIGURE_RUNTIME);
    assert_int_equal(is->state, STATE_KNOWN);
    assert_int_equal(may->state, STATE_KNOWN);
    assert_true(may->low < is->low && may->high > is->high);
    compile_free(&waits);
    compile_free(&exact);
    compile_free(&open);
}

#define INVERTED(MADE)                                                                                                   \
    US "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\nday anchored { sun 4 h }\n"                          \
       "inverter mains { fed-by house; rated 2000 W; output 230 V; feeds small { run 1 m } }\n"                            \
       "bank small { chemistry agm; voltage 12 V; capacity 50 Ah }\n"                                                      \
       "water-heater boiler { fed-by small; element 1200 W; capacity 40 l; use anchored 30 min; made-for " MADE " at 50 Hz }\n"

/* What an inverter gives for three hours is not sure to be all that it can, where what hangs on it may be for another voltage. */
static void an_inverter_does_not_run_for_hours_by_what_it_could_give(void **state)
{
    (void)state;
    Compiled exact, open;
    compile_text(&exact, INVERTED("69 V"));
    compile_text(&open, INVERTED("?"));
    const Figure *is = compiled_figure(&exact, "mains", FIGURE_CONTINUOUS_CURRENT), *may = compiled_figure(&open, "mains", FIGURE_CONTINUOUS_CURRENT);
    assert_int_equal(is->state, STATE_KNOWN);
    assert_int_equal(may->state, STATE_KNOWN);
    assert_true(may->low <= is->low && may->high >= is->high);
    compile_free(&exact);
    compile_free(&open);
}

#define MAINS                                                                                                              \
    US "inlet shore { rated 30 A at 120 V; run 6 m; wire 10 AWG; protect 30 A breaker }\n"                                \
       "panel ac-main { fed-by shore; run 6 m; wire 10 AWG; protect 30 A breaker; drop "
#define MAINS_LOAD "load heater { fed-by ac-main; draw 15 A; run 1 m; wire 12 AWG; protect 20 A breaker }\n"

/* Where the basis says 3 %, a limit of the owner's own that is not decided may be less. */
static void a_limit_that_is_not_decided_may_be_less_than_that_of_the_basis(void **state)
{
    (void)state;
    expect_verdict(MAINS "0.1 % }\n" MAINS_LOAD, "wire-drop", BROKEN_AT_ONE, "ac-main");
    expect_verdict(MAINS "? }\n" MAINS_LOAD, "wire-drop", OPEN_AT_ONE, "ac-main");
    expect_verdict(MAINS "<= 10 % }\n" MAINS_LOAD, "wire-drop", OPEN_AT_ONE, "ac-main");
    expect_verdict(MAINS "8 % }\n" MAINS_LOAD, "wire-drop", NOTHING, NULL);
}

#define GALLEY(OPENINGS)                                                                                                      \
    US "gas-locker deck-box { cylinder 5 kg; drained-overboard yes; drain 19 mm; gauge yes; shut-off yes }\n"                \
       "space galley { sleeping no; ventilated no; openings " OPENINGS " }\n"                                                \
       "gas-appliance cooker { locker deck-box; space galley; flame-failure yes; output 4.5 kW }\n"

/* 2200 mm2 for each kW, and 650 for each of a crew of 2: 112 cm2. */
static void openings_that_are_not_decided_may_let_air_in(void **state)
{
    (void)state;
    expect_verdict(GALLEY("140 cm2"), "flame-air", NOTHING, NULL);
    expect_verdict(GALLEY("?"), "flame-air", OPEN_AT_ONE, "cooker");
    expect_verdict(GALLEY("<= 140 cm2"), "flame-air", OPEN_AT_ONE, "cooker");
}

#define PETROL(OPENINGS, BLOWER)                                                                 \
    US "space engine-box { volume 2 m3; openings " OPENINGS " }\n"                               \
       "engine petrol-engine { rated 60 kW at 4000 rpm; fuel petrol; space engine-box }\n" BLOWER

static void a_space_that_may_be_open_to_the_air_may_need_no_blower(void **state)
{
    (void)state;
    static const char *const rules[] = {"petrol-blower-output", "petrol-blower"};
#define WEAK "blower fan { space engine-box; flow 20 m3/h; output 10 m3/h }\n"
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++) {
        expect_verdict(PETROL("300 cm2", WEAK), rules[i], BROKEN_AT_ONE, "petrol-engine");
        expect_verdict(PETROL("10 m2", WEAK), rules[i], NOTHING, NULL);
        expect_verdict(PETROL("?", WEAK), rules[i], OPEN_AT_ONE, "petrol-engine");
    }
}

static void a_series_that_is_not_decided_may_give_more_volts_than_a_thing_stands(void **state)
{
    (void)state;
#define HORN(SERIES) US "bank house { chemistry agm; voltage 12 V; capacity 100 Ah; series " SERIES " }\n" \
                        "horn deck-horn { fed-by house; run 2 m; wire 14 AWG; protect 10 A fuse 0.1 m from source; draw 4 A }\n"
    expect_verdict(HORN("2"), "wrong-voltage", NOTHING, NULL);
    expect_verdict(HORN("3"), "wrong-voltage", OPEN_AT_ONE, "deck-horn");
    expect_verdict(HORN("1..4"), "wrong-voltage", OPEN_AT_ONE, "deck-horn");
    expect_verdict(HORN("1..2"), "wrong-voltage", NOTHING, NULL);
}

/* That a value of an input is said to make a rule hold, which says of it that it does not. */
static void expect_not_told(const char *spec, const char *rule, const char *told)
{
    Compiled c;
    compile_text(&c, spec);
    settle_findings(c.outcome);
    unsigned settles = 0;
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        for (const Settle *s = strcmp(f->rule->name, rule) == 0 ? f->settles : NULL; s != NULL; s = s->next, settles++) {
            if (strstr(s->text, told) != NULL) {
                fail_msg("%s: %s", s->input, s->text);
            }
        }
    }
    assert_true(settles > 0);
    compile_free(&c);
}

/* With 41 of them the voltage collapses, and below 80 V it is made for direct current: other rules tell that. */
static void what_another_rule_tells_of_instead_is_not_said_to_hold(void **state)
{
    (void)state;
    expect_not_told(US "bank house { chemistry agm; voltage 12 V; capacity 400 Ah }\nthruster bow { fed-by house; run 3 m; wire 95 mm2 "
                       "insulation 105 C; draw 200 A; thrust 400 N; count 1..80 }\n",
                    "thruster-volts", "holds from");
    expect_not_told(US "inlet shore { rated 30 A at 120 V; frequency 60 Hz }\npanel ac-main { fed-by shore; run 1 m; wire 10 AWG; "
                       "protect 30 A breaker; made-for ? }\n",
                    "ac-voltage", "holds up to");
}

#define WARM(OUTPUT) US "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\nheater electric { fed-by house; draw 1000 W; output " OUTPUT " }\n"

/* What draws a tenth of its output is electric, and nothing in it has to be swept. */
static void a_heater_that_may_burn_nothing_may_need_no_service(void **state)
{
    (void)state;
    expect_verdict(WARM("1 kW"), "service-blind", NOTHING, NULL);
    expect_verdict(WARM("12 kW"), "service-blind", BROKEN_AT_ONE, "electric");
    expect_verdict(WARM("?"), "service-blind", OPEN_AT_ONE, "electric");
}

#define HEATED                                                                                                                        \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us; air-temperature %s }\n" \
    "bank house { chemistry agm; voltage 12 V; capacity 2000 Ah }\nload motor { fed-by house; run 1 m; draw 400 A }\n"

/* No copper carries it as it is insulated; with the best it would be carried where it is cool. */
static void the_best_insulation_may_serve_in_the_coolest_air(void **state)
{
    (void)state;
    expect_by_volts(HEATED, "wire-overloaded", "motor", (const char *const[]){"20 C", "58 C", "20..58 C"},
                    (const int[]){OPEN_AT_ONE, BROKEN_AT_ONE, OPEN_AT_ONE});
    expect_by_volts(HEATED, "wire-overloaded", "motor", (const char *const[]){"0..60 C", "?", "55..60 C"},
                    (const int[]){OPEN_AT_ONE, OPEN_AT_ONE, BROKEN_AT_ONE});
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
        cmocka_unit_test(what_breaks_with_a_size_that_was_chosen_is_open),
        cmocka_unit_test(a_bank_is_sized_with_a_heater_without_a_use),
        cmocka_unit_test(a_chosen_cable_stands_the_device_upstream_or_none_is_found),
        cmocka_unit_test(a_cable_of_no_known_run_is_so_thick_at_least),
        cmocka_unit_test(an_inverter_of_no_known_voltage_is_not_sure_to_run_for_hours),
        cmocka_unit_test(a_bank_does_not_last_by_what_a_converter_could_give),
        cmocka_unit_test(an_inverter_does_not_run_for_hours_by_what_it_could_give),
        cmocka_unit_test(a_limit_that_is_not_decided_may_be_less_than_that_of_the_basis),
        cmocka_unit_test(openings_that_are_not_decided_may_let_air_in),
        cmocka_unit_test(a_space_that_may_be_open_to_the_air_may_need_no_blower),
        cmocka_unit_test(what_another_rule_tells_of_instead_is_not_said_to_hold),
        cmocka_unit_test(a_heater_that_may_burn_nothing_may_need_no_service),
        cmocka_unit_test(a_series_that_is_not_decided_may_give_more_volts_than_a_thing_stands),
        cmocka_unit_test(the_best_insulation_may_serve_in_the_coolest_air),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
