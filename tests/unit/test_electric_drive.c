/*
 * An electric drive: what its display shows, what is said of it, what stands beside it, and what the book has of it.
 */
#include "check.h"
#include "compile.h"
#include "unit/verdict.h"

#include "output/book.h"

#include <stdio.h>

#define BOAT                                                                                            \
    "edition 1\nboat wren { length 10.4 m; waterline 9.6 m; beam 3.4 m; displacement 7400 kg; crew 2; " \
    "currency EUR; basis iso; sails no }\n"
#define BANK "bank drive { chemistry lifepo4; voltage 48 V; capacity 400 Ah; usable 80 %; peukert 1 }\n"
#define MOTOR(SAYS)                                                                                                   \
    BANK "engine motor { fed-by drive; run 2 m; wire 95 mm2; protect 400 A fuse 0.1 m from source; fuel electric; "    \
         "rated 15 kW at 1000 rpm; efficiency 90 %; " SAYS " }\n"

static double value_of(const Compiled *c, const char *subject, FigureId id, const char *at)
{
    const Figure *figure = at == NULL ? compiled_figure(c, subject, id) : compiled_figure_at(c, subject, id, at);
    if (figure == NULL || figure->state != STATE_KNOWN || figure->low != figure->high) {
        fail_msg("%s of %s is not known as one number", figure_rows[id].name, subject);
    }
    return figure->low;
}

/*
 * By hand: between 1 kW at 4 kn and 3.5 kW at 6 kn lie 2.25 kW at 5 kn, 46.9 A of 48 V and 450 Wh a mile, of which the motor
 * keeps 2.025 kW. 48 V x 400 Ah x 80 % x 80 % = 12 288 Wh last 27.31 nmi. 4 h at 1.5 kW are 6000 Wh, and 1.35 kW at the shaft.
 */
static void what_the_display_shows_goes_before_the_formulas(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT MOTOR("takes 500 rpm 1.5 kW; takes 4 kn 1 kW; takes 6 kn 3.5 kW")
                         "day out { engine 4 h at 500 rpm; distance 20 nmi at 5 kn }\n");
    assert_null(c.spec->messages.first);
    assert_near(value_of(&c, "motor", FIGURE_TAKEN_POWER, "out"), 2250.0, 1e-6);
    assert_near(value_of(&c, "motor", FIGURE_TAKEN_CURRENT, "out"), 46.875, 1e-6);
    assert_near(value_of(&c, "motor", FIGURE_MILE_ENERGY, "out") / 3600.0 * 1852.0, 450.0, 1e-6);
    assert_near(value_of(&c, "motor", FIGURE_NEEDED_POWER, "out"), 2025.0, 1e-6);
    assert_near(value_of(&c, "wren", FIGURE_RANGE, "out") / 1852.0, 12288.0 / 450.0, 1e-6);
    assert_near(value_of(&c, "motor", FIGURE_RUNNING_POWER, "out"), 1350.0, 1e-6);
    assert_near(value_of(&c, "drive", FIGURE_DAILY_USE, "out") / 3600.0, 6000.0, 0.5);
    compile_free(&c);
}

/* 4 h at 5 kn, 2.25 kW as above, are 9000 Wh, as 20 nmi of 450 Wh are. Where no distance is said either, it may be anything. */
static void a_day_without_turns_takes_what_its_speed_takes(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT MOTOR("takes 4 kn 1 kW; takes 6 kn 3.5 kW") "day out { engine 4 h; distance 20 nmi at 5 kn }\n");
    assert_null(c.spec->messages.first);
    assert_near(value_of(&c, "drive", FIGURE_DAILY_USE, "out") / 3600.0, 9000.0, 0.5);
    compile_free(&c);
    compile_text(&c, BOAT MOTOR("takes 4 kn 1 kW; takes 6 kn 3.5 kW") "day out { engine 4 h }\n");
    const Figure *use = compiled_figure_at(&c, "drive", FIGURE_DAILY_USE, "out");
    assert_true(use->low < 1.0 && use->high > 9000.0 * 3600.0);
    compile_free(&c);
}

/* 15 kW over 90 % are 16.67 kW, 347.2 A of 48 V; a display that shows 20 kW has seen 416.7 A, and one that shows less tells no more. */
static void its_cable_carries_the_most_that_the_display_shows(void **state)
{
    (void)state;
    static const struct {
        const char *spec;
        double watts;
    } tried[] = {{BOAT MOTOR(""), 15000.0 / 0.9},
                 {BOAT MOTOR("takes 500 rpm 1.5 kW"), 15000.0 / 0.9},
                 {BOAT MOTOR("takes 500 rpm 1.5 kW; takes 7 kn 20 kW"), 20000.0}};
    for (size_t i = 0; i < sizeof tried / sizeof tried[0]; i++) {
        Compiled c;
        compile_text(&c, tried[i].spec);
        assert_near(value_of(&c, "motor", FIGURE_CURRENT, NULL), tried[i].watts / 48.0, 1e-9);
        compile_free(&c);
    }
}

/* 3 kW from four of 12 V in series are 62.5 A, as from one of 48 V. */
static void its_current_is_that_of_all_in_series(void **state)
{
    (void)state;
    static const char *const banks[] = {"voltage 48 V", "voltage 12 V; series 4"};
    for (size_t i = 0; i < 2; i++) {
        Compiled c;
        char text[600];
        snprintf(text, sizeof text,
                 BOAT "bank drive { chemistry agm; %s; capacity 400 Ah }\n"
                      "engine motor { fed-by drive; run 2 m; wire 95 mm2; protect 400 A fuse 0.1 m from source; fuel electric; "
                      "rated 15 kW at 1000 rpm; takes 5 kn 3 kW }\nday out { distance 20 nmi at 5 kn }\n",
                 banks[i]);
        compile_text(&c, text);
        assert_null(c.spec->messages.first);
        assert_near(value_of(&c, "motor", FIGURE_TAKEN_CURRENT, "out"), 62.5, 1e-9);
        compile_free(&c);
    }
}

/*
 * Manual of a battery monitor (verified): 200 Ah at 50 A and k 1.25 last 2.675 h. Half of it is usable, a fifth of that kept: 1.07 h
 * at 2.4 kW from 48 V, 5.35 nmi at 5 kn. A bank that the program chooses for a range is chosen by the same law.
 */
static void the_range_goes_by_what_the_bank_gives_at_that_current(void **state)
{
    (void)state;
#define DRAWN_FROM(CAPACITY) \
    BOAT "bank drive { chemistry agm; voltage 12 V; series 4; capacity " CAPACITY "; peukert 1.25; usable 50 % }\n" \
         "engine motor { fed-by drive; run 2 m; wire 95 mm2; protect 400 A fuse 0.1 m from source; fuel electric; " \
         "rated 15 kW at 1000 rpm; takes 5 kn 2.4 kW }\ngoal far { range 5.4 nmi at 5 kn }\n"
    Compiled c;
    compile_text(&c, DRAWN_FROM("200 Ah"));
    assert_null(c.spec->messages.first);
    assert_near(value_of(&c, "wren", FIGURE_RANGE, "far") / 1852.0, 5.35, 0.002);
    compile_free(&c);
    expect_verdict(DRAWN_FROM("200 Ah"), "goal-missed", BROKEN_AT_ONE, "far");
    compile_text(&c, DRAWN_FROM("?"));
    assert_true(value_of(&c, "drive", FIGURE_CAPACITY, NULL) > 200.0 * 3600.0);
    assert_true(value_of(&c, "wren", FIGURE_RANGE, "far") >= 5.4 * 1852.0);
    compile_free(&c);
#undef DRAWN_FROM
}

#define DAY "day out { distance 20 nmi at 5 kn }\n"

/* By hand: P at the hull are 1000 (P / 15 kW)^(1/3) rpm, so that 6 kW at 500 rpm are 48 kW P / 15 kW = 3.2 P then. */
static void points_of_turns_make_a_range_shorter_and_never_longer(void **state)
{
    (void)state;
    static const struct {
        const char *spec;
        double times;
    } tried[] = {{BOAT MOTOR("takes 500 rpm 6 kW") DAY, 3.2}, {BOAT MOTOR("takes 500 rpm 0.1 kW") DAY, 1.0 / 0.9}};
    for (size_t i = 0; i < sizeof tried / sizeof tried[0]; i++) {
        Compiled c;
        compile_text(&c, tried[i].spec);
        double needed = value_of(&c, "motor", FIGURE_NEEDED_POWER, "out");
        assert_near(value_of(&c, "motor", FIGURE_TAKEN_POWER, "out") / needed, tried[i].times, 1e-6);
        compile_free(&c);
    }
}

static void what_it_takes_rises_with_its_speed(void **state)
{
    (void)state;
    expect_verdict(BOAT MOTOR("takes 400 rpm 2 kW; takes 600 rpm 1 kW"), "consumption-falls", BROKEN_AT_ONE, "motor");
    expect_verdict(BOAT MOTOR("takes 400 rpm 1 kW; takes 600 rpm 2 kW; takes 5 kn 0.5 kW"), "consumption-falls", NOTHING, "motor");
}

/* The words of a finding of that rule; fails if there is none. */
static void expect_words(const char *text, const char *rule, const char *says)
{
    Compiled c;
    compile_text(&c, text);
    assert_null(c.spec->messages.first);
    const Finding *finding = c.outcome->findings;
    while (finding != NULL && strcmp(finding->rule->name, rule) != 0) {
        finding = finding->next;
    }
    assert_non_null(finding);
    if (strstr(finding->message, says) == NULL) {
        fail_msg("%s says `%s`, not `%s`", rule, finding->message, says);
    }
    compile_free(&c);
}

/*
 * By hand: 15 kW at 90 % are 16.667 kW of the bank, between 8 kW at 4 kn and 20 kW at 6 kn at 4 + 2 x 8.667 / 12 = 5.444 kn; and
 * by the cube beyond 8 kW at 5 kn at 5 x (16.667 / 8)^(1/3) = 6.386 kn. Two motors alike say nothing of one alone.
 */
static void how_fast_she_goes_is_what_was_measured(void **state)
{
    (void)state;
    static const struct {
        const char *spec;
        double kn;
    } rows[] = {{BOAT MOTOR("takes 4 kn 8 kW measured; takes 6 kn 20 kW measured"), 5.4444}, {BOAT MOTOR("takes 5 kn 8 kW"), 6.3859}};
    Compiled c;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        compile_text(&c, rows[i].spec);
        const Figure *speed = compiled_figure(&c, "wren", FIGURE_FULL_SPEED);
        assert_near(speed->low * 3600.0 / 1852.0, rows[i].kn, 1e-3);
        assert_near(speed->high, speed->low, 1e-9);
        compile_free(&c);
    }
    compile_text(&c, BOAT MOTOR("takes 5 kn 8..9 kW"));
    const Figure *speed = compiled_figure(&c, "wren", FIGURE_FULL_SPEED);
    assert_near(speed->high * 3600.0 / 1852.0, 6.3859, 1e-3);
    assert_near(speed->low * 3600.0 / 1852.0, 6.1401, 1e-3); /* 5 x (16.667 / 9)^(1/3) */
    compile_free(&c);
    compile_text(&c, BOAT MOTOR("count 2; takes 5 kn 8 kW"));
    assert_non_null(strstr(compiled_figure(&c, "wren", FIGURE_FULL_SPEED)->formula, "10.665"));
    compile_free(&c);
}

static void nothing_electric_smokes(void **state)
{
    (void)state;
    expect_words(BOAT MOTOR("") "propeller screw { engine motor; diameter 480 mm; pitch 600 mm }\n", "propeller-load", "controller");
    expect_words(BOAT MOTOR("") "day out { engine 2 h at 780 rpm; distance 20 nmi at 5 kn }\n", "day-told-twice",
                 "what she takes from her bank");
    expect_words(BOAT MOTOR("") "day out { engine 4 h at 500 rpm; distance 20 nmi at 5 kn }\n", "day-told-twice",
                 "the bank of that day goes by the first");
}

/* What a generator brings on the way is in no range; the message names it, where its power can come to the motor's bank. */
static void a_range_says_that_nothing_charges_on_the_way(void **state)
{
    (void)state;
    static const char goal[] = "nothing that `gen` may bring on the way is counted";
#define FAR "goal far { range 100 nmi at 5 kn }\n"
#define HOUSE_FED_BY(MAKER) "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" MAKER FAR
#define GEN "generator gen { rated 4 kW at 230 V; fuel diesel }\ncharger ch { fed-by gen; run 1 m; output 30 A at 54 V; feeds "
    expect_words(BOAT MOTOR("") GEN "drive { run 1 m } }\n" FAR, "goal-missed", goal);
    expect_words(BOAT MOTOR("") HOUSE_FED_BY(GEN "house { run 1 m } }\n"), "goal-missed", "asks; a fifth is kept");
    expect_words(BOAT MOTOR("") HOUSE_FED_BY(GEN "house { run 1 m } }\n" "converter up { fed-by house; run 1 m; output 20 A at 54 V; "
                                             "feeds drive { run 1 m } }\n"), "goal-missed", goal);
    Compiled c;
    compile_text(&c, BOAT MOTOR("") HOUSE_FED_BY(GEN "house { run 1 m } }\n"));
    const Finding *alone = only_finding(&c, "goal-missed");
    assert_null(strstr(alone->message, "gen"));
    compile_free(&c);
    compile_text(&c, BOAT MOTOR("") "goal far { range 100 nmi at 5 kn }\n");
    const Figure *range = compiled_figure_at(&c, "motor", FIGURE_RANGE, "far");
    assert_non_null(range);
    assert_non_null(strstr(range->remark, "nothing charging it"));
    compile_free(&c);
}

#define BESIDE(FUEL, SPACE)                                                                                            \
    BOAT "space bay { " SPACE " }\nbank house { chemistry agm; voltage 12 V; capacity 200 Ah; space bay }\n"            \
         "engine mill { rated 12 kW at 1300 rpm; fuel " FUEL "; space bay }\n"

/* Cables there carry what they carry anywhere; it is still a place where nobody lies down. */
static void a_motor_makes_no_hot_space(void **state)
{
    (void)state;
    expect_verdict(BESIDE("electric", ""), "bank-hot", NOTHING, "house");
    expect_verdict(BESIDE("diesel", ""), "bank-hot", BROKEN_AT_ONE, "house");
    expect_verdict(BESIDE("electric", "engine-space yes"), "bank-hot", BROKEN_AT_ONE, "house");
    Compiled c;
    double ampacity[2];
    static const char *const fuels[2] = {BESIDE("electric", "") "load lamp { fed-by house; run 3 m; wire 4 mm2; protect 20 A fuse; draw 2 A; space bay }\n",
                                         BESIDE("diesel", "") "load lamp { fed-by house; run 3 m; wire 4 mm2; protect 20 A fuse; draw 2 A; space bay }\n"};
    for (size_t i = 0; i < 2; i++) {
        compile_text(&c, fuels[i]);
        ampacity[i] = value_of(&c, "lamp", FIGURE_AMPACITY, NULL);
        compile_free(&c);
    }
    assert_true(ampacity[0] > ampacity[1] * 1.05);
}

/* A heater that draws and burns nothing has no burner to look after. */
static void a_resistance_needs_no_service(void **state)
{
    (void)state;
    expect_verdict(BOAT BANK "heater warm { fed-by drive; run 2 m; wire 10 mm2; protect 40 A fuse; draw 1500 W; output 1500 W }\n",
                   "service-blind", NOTHING, "warm");
    expect_verdict(BOAT BANK "heater warm { fed-by drive; run 2 m; wire 10 mm2; protect 40 A fuse; draw 30 W; fuel diesel }\n",
                   "service-blind", BROKEN_AT_ONE, "warm");
}

static void expect_in_chapter(const char *chapter, const char *spec, const char *const says[], const char *const not[])
{
    Compiled c;
    BookFile *files;
    const char *text = NULL;
    compile_text(&c, spec);
    assert_null(c.spec->messages.first);
    size_t count = book_files(&c.arena, c.outcome, &files);
    for (size_t i = 0; i < count; i++) {
        text = strcmp(files[i].name, "book.md") == 0 ? str_copy(&c.arena, files[i].bytes) : text;
    }
    assert_non_null(text);
    text = strstr(text, chapter);
    assert_non_null(text);
    for (size_t i = 0; says[i] != NULL; i++) {
        if (strstr(text, says[i]) == NULL) {
            fail_msg("the book does not say `%s`", says[i]);
        }
    }
    for (size_t i = 0; not[i] != NULL; i++) {
        if (strstr(text, not[i]) != NULL) {
            fail_msg("the book says `%s`", not[i]);
        }
    }
    compile_free(&c);
}

static void expect_in_book(const char *spec, const char *const says[], const char *const not[])
{
    expect_in_chapter("## Drive and fuel", spec, says, not);
}

static void the_book_of_an_electric_drive_speaks_of_its_bank(void **state)
{
    (void)state;
    expect_in_book(BOAT MOTOR("takes 4 kn 1 kW; takes 6 kn 3.5 kW") "goal far { range 20 nmi at 5 kn }\n",
                   (const char *const[]){"### Electric engines", "| 2.25 kW | 46.9 A | 450 Wh/nmi |", "Isolate the bank", "half charged",
                                         "a fifth of the charge kept", NULL},
                   (const char *const[]){"800 rpm", "Burns |", "start circuit", "Fuel vapour", "oil filter", "of the fuel kept", NULL});
    expect_in_book(BOAT MOTOR("") "engine iron { rated 28 kW at 3000 rpm; fuel diesel }\ngoal far { range 20 nmi at 5 kn }\n",
                   (const char *const[]){"### Electric engines", "### Engines", "Isolate the bank", "start circuit", "Burns |", "800 rpm", NULL},
                   (const char *const[]){NULL});
    expect_in_book(BOAT "engine iron { rated 28 kW at 3000 rpm; fuel diesel }\n",
                   (const char *const[]){"### Engines", "start circuit", NULL},
                   (const char *const[]){"lectric engine", "Isolate the bank", "half charged", NULL});
}

/* 20 nmi at 5 kn are 4 h, at 2 kW 8000 Wh; of a range of ways and speeds the least and the most. */
static void a_day_of_a_boat_without_sails_runs_as_long_as_she_goes(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT MOTOR("takes 5 kn 2 kW") "day out { distance 20 nmi at 5 kn }\n");
    assert_null(c.spec->messages.first);
    assert_null(compiled_finding(&c, "day-told-twice"));
    assert_near(value_of(&c, "motor", FIGURE_DAILY_USE, "out"), 8000.0 * 3600.0, 1e-6);
    assert_near(value_of(&c, "drive", FIGURE_DAILY_USE, "out"), 8000.0 * 3600.0, 1e-6);
    assert_near(value_of(&c, "out", FIGURE_ENGINE_TIME, NULL), 4.0 * 3600.0, 1e-6);
    compile_free(&c);
    compile_text(&c, BOAT MOTOR("takes 5 kn 2 kW") "day out { distance 10..20 nmi at 5 kn }\n");
    const Figure *use = compiled_figure_at(&c, "motor", FIGURE_DAILY_USE, "out");
    assert_near(use->low, 4000.0 * 3600.0, 1e-6);
    assert_near(use->high, 8000.0 * 3600.0, 1e-6);
    compile_free(&c);
    compile_text(&c, BOAT MOTOR("takes 5 kn 2 kW") "day out { distance 20 nmi at 5 kn; engine 1 h }\n"); /* what is stated counts */
    assert_near(value_of(&c, "motor", FIGURE_DAILY_USE, "out"), 2000.0 * 3600.0, 1e-6);
    assert_non_null(strstr(compiled_finding(&c, "day-told-twice")->message, "under way for 4 h and has no sails (`sails no`), but the engine runs 1 h"));
    compile_free(&c);
}

/* What a diesel burns in an hour at that speed, times the hours. */
static void the_fuel_of_such_a_day_is_that_of_its_speed(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "engine iron { rated 28 kW at 3000 rpm; fuel diesel }\ntank day-tank { holds fuel; capacity 100 l }\n"
                          "fuel-line pipe { from day-tank; to iron }\nday out { distance 20 nmi at 5 kn }\n");
    double rate = value_of(&c, "iron", FIGURE_FUEL_RATE, "out");
    assert_near(value_of(&c, "day-tank", FIGURE_DAILY_FLOW, "out"), rate * 4.0 * 3600.0, 1e-9);
    compile_free(&c);
}

/* Hours that were put in from the distance are as many as she is under way, however wide both are; a day has 24 h. */
static void hours_that_are_those_of_the_distance_tell_nothing_twice(void **state)
{
    (void)state;
    expect_verdict(BOAT MOTOR("takes 5 kn 2 kW") "day out { distance 5..10 nmi at 4..5 kn }\n", "day-told-twice", NOTHING, NULL);
    expect_verdict(BOAT MOTOR("takes 5 kn 2 kW") "day out { distance 200 nmi at 5 kn }\n", "day-told-twice", BROKEN_AT_ONE, "out");
    expect_verdict(BOAT MOTOR("takes 5 kn 2 kW") "day out { distance 100..200 nmi at 5 kn }\n", "day-told-twice", OPEN_AT_ONE, "out");
    expect_verdict(BOAT MOTOR("takes 5 kn 2 kW") "day out { distance 10 nmi at 5 kn; engine 1..2 h }\n", "day-told-twice", OPEN_AT_ONE, "out");
}

/* As of a diesel: 4 h at the turns of 5 kn, by the propeller's law or by points of its turns, 1.5 kW at 500 rpm and 9.5 kW at 900 rpm. */
static void a_motor_without_points_of_speed_turns_as_that_speed_asks(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT MOTOR("") DAY);
    double taken = value_of(&c, "motor", FIGURE_NEEDED_POWER, "out") / 0.9;
    assert_near(value_of(&c, "drive", FIGURE_DAILY_USE, "out") / (taken * 4.0 * 3600.0), 1.0, 1e-6);
    compile_free(&c);
    compile_text(&c, BOAT MOTOR("takes 500 rpm 1.5 kW; takes 900 rpm 9.5 kW") DAY);
    double rpm = value_of(&c, "motor", FIGURE_TURNS, "out") * 60.0;
    assert_true(rpm > 500.0 && rpm < 900.0);
    assert_near(value_of(&c, "motor", FIGURE_DAILY_USE, "out") / 3600.0, 4.0 * (1500.0 + (rpm - 500.0) * 20.0), 0.5);
    compile_free(&c);
}

/* It runs, but nobody knows for how long: neither for no time, nor is what it draws on without an end. */
static void a_day_of_an_open_speed_lasts_for_some_of_its_24_hours(void **state)
{
    (void)state;
#define OPEN_DAY(DISTANCE) BOAT MOTOR("takes 5 kn 2 kW") "day out { distance " DISTANCE " }\n"
    static const char *const days[] = {OPEN_DAY("10 nmi at ?"), OPEN_DAY("? at 5 kn"), OPEN_DAY("? at ?")};
    for (size_t i = 0; i < sizeof days / sizeof days[0]; i++) {
        Compiled c;
        compile_text(&c, days[i]);
        const Figure *time = compiled_figure(&c, "out", FIGURE_ENGINE_TIME);
        assert_near(time->low, 0.0, 1e-9);
        assert_near(time->high, 24.0 * 3600.0, 1e-6);
        const Figure *lasts = compiled_figure_at(&c, "drive", FIGURE_ENDURANCE, "out");
        assert_true(lasts->state != STATE_KNOWN || lasts->low < 7.0 * 86400.0);
        compile_free(&c);
    }
#undef OPEN_DAY
}

/* What its motor keeps is not stated: her measured speed, and all that fits, are narrow ranges. */
#define KEEPS_UNSAID(RATED)                                                                                            \
    BOAT BANK "engine motor { fed-by drive; run 2 m; wire 95 mm2; protect 400 A fuse 0.1 m from source; fuel electric; " \
              "rated " RATED " at 1500 rpm; takes 4 kn 2 kW; takes 5 kn 4 kW; takes 6 kn 9 kW }\n"

static const char *first_remedy(const Compiled *c, const char *rule)
{
    const Finding *finding = compiled_finding(c, rule);
    return finding != NULL && finding->remedies != NULL ? finding->remedies->text : "";
}

static void a_screw_by_a_measured_speed_has_a_remedy(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, KEEPS_UNSAID("10 kW") "propeller screw { engine motor; diameter 400 mm; pitch 300 mm; blades 3 }\n");
    assert_non_null(strstr(first_remedy(&c, "propeller-load"), "with the pitch as it is"));
    compile_free(&c);
    compile_text(&c, KEEPS_UNSAID("10 kW") "propeller screw { engine motor; diameter 400 mm; blades 3 }\n");
    assert_non_null(strstr(compiled_finding(&c, "propeller-load")->message, "is too large: even with a pitch of half its diameter"));
    assert_non_null(strstr(first_remedy(&c, "propeller-load"), "a smaller `diameter`"));
    compile_free(&c);
}

static void thrust_by_a_measured_speed_holds_that_of_each_power(void **state)
{
    (void)state;
#define SCREW "propeller screw { engine motor; diameter 300 mm; pitch 250 mm; blades 3 }\n"
    static const char *const each[] = {KEEPS_UNSAID("7 kW") SCREW, KEEPS_UNSAID("10 kW") SCREW, KEEPS_UNSAID("13 kW") SCREW};
    static const FigureId ids[] = {FIGURE_THRUST, FIGURE_PROPELLER_EFFICIENCY, FIGURE_LEAST_AREA_RATIO};
    Compiled all;
    compile_text(&all, KEEPS_UNSAID("7..13 kW") SCREW);
    for (size_t i = 0; i < sizeof each / sizeof each[0]; i++) {
        Compiled one;
        compile_text(&one, each[i]);
        for (size_t k = 0; k < sizeof ids / sizeof ids[0]; k++) {
            const Figure *whole = compiled_figure(&all, "screw", ids[k]), *part = compiled_figure(&one, "screw", ids[k]);
            assert_true(whole->low <= part->low && whole->high >= part->high);
        }
        compile_free(&one);
    }
    compile_free(&all);
#undef SCREW
}

/* Who names the only engine that drives her names what was measured; of one that usually runs with another nothing was. */
static void who_is_named_goes_as_fast_as_was_measured(void **state)
{
    (void)state;
#define NAMED "day out { distance 20 nmi at 5 kn; under motor }\n"
#define IRON "engine iron { rated 20 kW at 3000 rpm; fuel diesel"
    static const struct {
        const char *spec;
        bool measured;
    } tried[] = {{BOAT MOTOR("takes 5 kn 8 kW") NAMED, true},
                 {BOAT MOTOR("takes 5 kn 8 kW") IRON "; alone yes }\n" NAMED, true},
                 {BOAT MOTOR("takes 5 kn 8 kW; alone yes") IRON " }\n" NAMED, true},
                 {BOAT MOTOR("takes 5 kn 8 kW") IRON " }\n" NAMED, false}};
    for (size_t i = 0; i < sizeof tried / sizeof tried[0]; i++) {
        Compiled c;
        compile_text(&c, tried[i].spec);
        assert_null(c.spec->messages.first);
        const Figure *speed = compiled_figure_at(&c, "wren", FIGURE_FULL_SPEED, "out");
        assert_int_equal(strstr(speed->formula, "10.665") == NULL, tried[i].measured);
        compile_free(&c);
    }
#undef NAMED
#undef IRON
}

#define SAILING "edition 1\nboat wren { length 10.4 m; waterline 9.6 m; beam 3.4 m; displacement 7400 kg; crew 2; currency EUR; basis iso; sails yes }\n"

static void a_day_that_may_be_sailed_is_told_to_be_taken_so(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, SAILING MOTOR("takes 5 kn 2 kW") "day out { distance 20 nmi at 5 kn }\n");
    const Finding *f = compiled_finding(&c, "day-told-twice");
    assert_true(f != NULL && f->verdict == VERDICT_OPEN && f->severity == SEVERITY_ADVICE);
    assert_non_null(strstr(f->message, "it is taken that she sails for all of 4 h"));
    assert_near(value_of(&c, "drive", FIGURE_DAILY_USE, "out"), 0.0, 1e-6);
    compile_free(&c);
    expect_verdict(SAILING MOTOR("takes 5 kn 2 kW") "day out { distance 20 nmi at 5 kn; engine 0 h }\n", "day-told-twice", NOTHING, NULL);
    expect_in_chapter("### A day's energy", SAILING MOTOR("takes 5 kn 2 kW") "day out { distance 20 nmi at 5 kn }\n",
                   (const char *const[]){"all of it is taken to be sailed", NULL}, (const char *const[]){NULL});
    expect_in_chapter("### A day's energy", BOAT MOTOR("takes 5 kn 2 kW") "day out { distance 20 nmi at 5 kn }\n",
                   (const char *const[]){"counted for the time that her `distance` takes, 4 h.", NULL}, (const char *const[]){NULL});
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_the_display_shows_goes_before_the_formulas),
        cmocka_unit_test(its_cable_carries_the_most_that_the_display_shows),
        cmocka_unit_test(its_current_is_that_of_all_in_series),
        cmocka_unit_test(the_range_goes_by_what_the_bank_gives_at_that_current),
        cmocka_unit_test(points_of_turns_make_a_range_shorter_and_never_longer),
        cmocka_unit_test(a_day_without_turns_takes_what_its_speed_takes),
        cmocka_unit_test(what_it_takes_rises_with_its_speed),
        cmocka_unit_test(how_fast_she_goes_is_what_was_measured),
        cmocka_unit_test(nothing_electric_smokes),
        cmocka_unit_test(a_range_says_that_nothing_charges_on_the_way),
        cmocka_unit_test(a_motor_makes_no_hot_space),
        cmocka_unit_test(a_resistance_needs_no_service),
        cmocka_unit_test(the_book_of_an_electric_drive_speaks_of_its_bank),
        cmocka_unit_test(a_day_of_a_boat_without_sails_runs_as_long_as_she_goes),
        cmocka_unit_test(the_fuel_of_such_a_day_is_that_of_its_speed),
        cmocka_unit_test(hours_that_are_those_of_the_distance_tell_nothing_twice),
        cmocka_unit_test(a_motor_without_points_of_speed_turns_as_that_speed_asks),
        cmocka_unit_test(a_day_of_an_open_speed_lasts_for_some_of_its_24_hours),
        cmocka_unit_test(a_screw_by_a_measured_speed_has_a_remedy),
        cmocka_unit_test(thrust_by_a_measured_speed_holds_that_of_each_power),
        cmocka_unit_test(who_is_named_goes_as_fast_as_was_measured),
        cmocka_unit_test(a_day_that_may_be_sailed_is_told_to_be_taken_so),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
