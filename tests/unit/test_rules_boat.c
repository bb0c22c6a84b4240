/*
 * Rules about buying, the spec as a whole and waivers, each by its own examples and by sentences that an
 * owner reads; and what a spec contradicts itself in. All specs are judged as on 2027-03-01.
 */
#include "unit/test_boat.h"

#include "rules/families.h"

#include <stdio.h>

/* ---- The examples in the tables ---- */

enum { NOTHING = 0, BROKEN = 1 << VERDICT_BROKEN, OPEN = 1 << VERDICT_OPEN };

static void expect_verdict(const Rule *rule, const char *example, const char *what, int expected)
{
    Compiled c;
    int found = NOTHING;
    compile(&c, example);
    for (const Finding *f = c.judge->first; f != NULL; f = f->next) {
        found |= f->rule == rule ? 1 << f->verdict : 0;
    }
    if (found != expected || c.spec->messages.count > 0) {
        print_error("`%s` %s: found %d, expected %d, %u mistakes\n", rule->name, what, found, expected,
                    (unsigned)c.spec->messages.count);
        fail();
    }
    done_with(&c);
}

static void each_rule_says_of_its_examples_what_they_are_for(void **state)
{
    (void)state;
    static const RuleFamily *const families[] = {&rules_buying, &rules_plan, &rules_whole, &rules_waivers};
    for (size_t f = 0; f < sizeof families / sizeof families[0]; f++) {
        for (size_t r = 0; r < families[f]->count; r++) {
            const Rule *rule = &families[f]->rules[r];
            expect_verdict(rule, rule->breaks, "breaks", BROKEN);
            expect_verdict(rule, rule->holds, "holds", NOTHING);
            if (rule->open != NULL) {
                expect_verdict(rule, rule->open, "open", OPEN);
            } else {
                assert_non_null(rule->never_open);
            }
        }
    }
}

/* ---- Sentences ---- */

static void compile_boat(Compiled *c, const char *things, uint64_t number)
{
    char text[4096];
    assert_true(snprintf(text, sizeof text, "%s%s", EXAMPLE_BOAT, things) < (int)sizeof text);
    compile_one(c, text, number);
}

/* The first finding of a rule says just that; NULL: there is none. The spec has no mistake. */
static void expect_sentence(const char *things, const char *rule, const char *sentence)
{
    Compiled c;
    compile_boat(&c, things, 0);
    expect_no_mistake(&c);
    const Finding *finding = finding_of(&c, rule);
    if (sentence == NULL) {
        assert_null(finding);
    } else {
        assert_non_null(finding);
        assert_string_equal(finding->message, sentence);
    }
    done_with(&c);
}

static uint32_t count_findings(const Compiled *c, const char *rule)
{
    uint32_t count = 0;
    for (const Finding *f = c->judge->first; f != NULL; f = f->next) {
        count += strcmp(f->rule->name, rule) == 0;
    }
    return count;
}

/* February 2027 has 28 days: from its 12th to the 1st of March are 17. */
static void what_is_late_says_by_how_much_and_which_jobs_need_it(void **state)
{
    (void)state;
    expect_sentence(
        "item fridge { ordered 2026-09-02; promised 2026-12-15; promised 2027-02-12 }\n"
        "job wire { takes 2 d; needs fridge }\njob old { takes 1 d; needs fridge; done 2027-01-02 }\n",
        "late", "`fridge` is 17 days late: promised for 2027-02-12; `wire` needs it");
    expect_sentence("item fridge { promised 2027-05-12; promised 2027-02-28 }\n", "late", /* brought forward: the last line counts */
                    "`fridge` is 1 day late: promised for 2027-02-28");
    expect_sentence("item fridge { promised 2027-03-01 }\n", "late", NULL);
    expect_sentence("item fridge { promised 2027-02-12; fitted 2027-02-14 }\n", "late", NULL);
    expect_sentence("item fridge { promised 2027-02-12; status dropped }\n", "late", NULL);
}

static void what_is_delayed_is_late_whatever_is_promised(void **state)
{
    (void)state;
    expect_sentence("item fridge { status delayed; promised 2027-05-12 }\n", "late",
                    "`fridge` is delayed, and promised for 2027-05-12 now");
    expect_sentence("item fridge { status delayed }\n", "late",
                    "`fridge` is delayed, and no day is promised");
    expect_sentence("item fridge { status delayed }\n", "silent", NULL);
}

static void a_part_of_a_delivery_leaves_the_rest_late(void **state)
{
    (void)state;
    expect_sentence(
        "item lamp { count 4; ordered 2027-01-01; promised 2027-02-12; arrived 2027-02-12 of 3 }\n", "late",
        "`lamp` is 17 days late: promised for 2027-02-12 (3 of 4 are here)");
}

/* 18 January and 42 days: 1 March. */
static void six_weeks_without_a_word_are_silence(void **state)
{
    (void)state;
    expect_sentence("item radar { ordered 2027-01-18 }\n", "silent",
                    "nothing was heard of `radar` for 42 days, and no day is promised");
    expect_sentence("item radar { ordered 2027-01-19 }\n", "silent", NULL);
    expect_sentence("item radar { ordered 2026-01-18; event 2027-02-01 \"They have it.\" }\n", "silent",
                    NULL);
    expect_sentence("item radar { ordered 2026-01-18; promised 2027-08-01 }\n", "silent", NULL);
}

/* A published refit log: 15000 estimated, 21919 spent; that this is 46.1 % more is computed from the two. */
static void a_budget_that_is_overrun_says_by_how_much(void **state)
{
    (void)state;
    static const char log[] =
        "goal purse { budget 15000 EUR }\nitem refit { price 21919 EUR; fitted 2027-01-01 }\nitem oar\n";
    expect_sentence(
        log, "over-budget",
        "everything costs 21919.00 EUR, 6919.00 EUR more than `purse` allows; 1 thing has no price");
    Compiled c;
    compile_boat(&c, log, 0);
    const Finding *f = finding_of(&c, "over-budget");
    assert_near(f->value.low / f->limit.low - 1.0, 0.461, 0.0005);
    done_with(&c);
}

/* What was promised cannot be read: neither that nothing is, nor that it is late, is known. */
static void a_date_with_a_mistake_makes_nobody_silent_or_late(void **state)
{
    (void)state;
    static const char *const lines[] = {"promised 10.12.2026", "promised 2026-02-01; promised 2026-13-01",
                                        "event 2026-31-12 \"It left the yard.\""};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        Compiled c;
        char things[200];
        snprintf(things, sizeof things, "item radar { ordered 2026-01-18; %s }\n", lines[i]);
        compile_boat(&c, things, 0);
        assert_int_equal(c.spec->messages.count, 1);
        assert_null(finding_of(&c, "silent"));
        assert_null(finding_of(&c, "late"));
        assert_true(c.judge->waiting >= 1);
        done_with(&c);
    }
}

static void an_option_that_is_bought_while_its_choice_is_open_is_told(void **state)
{
    (void)state;
    static const char open[] = "choice size {\n"
                               "  option lean { item box { price 900 EUR } }\n"
                               "  option stout { item box { price 1600 EUR; status here } }\n"
                               "}\n";
    Compiled c;
    compile_boat(&c, open, 0);
    assert_null(finding_of(&c, "bought-before-chosen"));
    done_with(&c);
    compile_boat(&c, open, 1);
    assert_string_equal(finding_of(&c, "bought-before-chosen")->message,
                        "`box` is here, but `size` is not decided");
    done_with(&c);
}

#define HOUSE "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 4 mohm }\n"

static void what_hangs_on_an_unfed_thing_is_told_once_there(void **state)
{
    (void)state;
    static const char things[] =
        HOUSE "panel forward\ncircuit lights { fed-by forward; run 3 m }\n"
              "load lamps { fed-by lights; draw 1 A }\nload fan { fed-by lights; draw 1 A }\n";
    expect_sentence(things, "unpowered", "nothing feeds `forward`, which `lamps` and 1 more hang on");
    Compiled c;
    compile_boat(&c, things, 0);
    assert_int_equal(count_findings(&c, "unpowered"), 1);
    done_with(&c);
    expect_sentence("load fan { draw 1 A }\n", "unpowered",
                    "`fan` needs electric power, and nothing feeds it");
    expect_sentence(
        HOUSE "panel old { fed-by house; status dropped }\nload fan { fed-by old; run 1 m; draw 1 A }\n",
        "unpowered", "`fan` is fed by `old`, which is dropped");
}

static void what_needs_no_wire_is_not_unpowered(void **state)
{
    (void)state;
    expect_sentence("load fan { draw 1 A; portable yes }\n", "unpowered", NULL);
    expect_sentence("tank water { holds fresh; capacity 100 l }\npump foot-pump { from water }\n",
                    "unpowered", NULL);
    expect_sentence("space bilge { bilge yes }\nbilge-pump by-hand { space bilge; hand yes }\n", "unpowered",
                    NULL);
    expect_sentence(
        "tank holding { holds black; capacity 60 l }\ntoilet head { to holding; worked-by hand }\n",
        "unpowered", NULL);
    expect_sentence(HOUSE
                    "network bone { fed-by house; cable light }\ninstrument depth-meter { network bone }\n",
                    "unpowered", NULL);
    /* What a maker feeds is powered, without a `fed-by`. */
    expect_sentence("bus positive\nsolar roof { rated 100 W; feeds positive { run 1 m } }\n"
                    "load fan { fed-by positive; run 1 m; draw 1 A }\n",
                    "unpowered", NULL);
}

static void a_loop_is_told_once_from_its_first_thing(void **state)
{
    (void)state;
    /* `aft` hangs on the loop, and is in none. */
    static const char things[] = "panel aft { fed-by c2 }\npanel c1 { fed-by c3 }\npanel c2 { fed-by c1 }\n"
                                 "panel c3 { fed-by c2 }\npanel lone { fed-by lone }\n";
    Compiled c;
    compile_boat(&c, things, 0);
    assert_int_equal(count_findings(&c, "feed-loop"), 2);
    assert_string_equal(finding_of(&c, "feed-loop")->message,
                        "a feed leads back to itself: `c1` -> `c2` -> `c3` -> `c1`");
    assert_ptr_equal(finding_of(&c, "feed-loop")->subject, model_find(c.model, STR("c1")));
    done_with(&c);
}

/* What is to be bought and has no price costs something: no budget is met by leaving it out. */
static void a_budget_is_open_while_what_is_bought_has_no_price(void **state)
{
    (void)state;
#define PURSE "supplier quay { lead 2 week }\ngoal purse { budget 500 EUR }\nitem stove { price 300 EUR }\n"
    expect_sentence(PURSE "item oven { supplier quay }\n", "over-budget",
                    "everything costs at least 300.00 EUR, and `purse` allows 500.00 EUR; 1 thing has no price");
    expect_sentence(PURSE "item oven { ordered 2026-01-01 }\n", "over-budget",
                    "everything costs at least 300.00 EUR, and `purse` allows 500.00 EUR; 1 thing has no price");
    expect_sentence(PURSE "item oven { supplier quay; price 0..150 EUR }\n", "over-budget", NULL);
    expect_sentence(PURSE "item oar\n", "over-budget",
                    "everything costs at least 300.00 EUR, and `purse` allows 500.00 EUR; 1 thing has no price");
    expect_sentence(PURSE "item keel { fitted 2001-01-01 }\nitem oar { status fitted }\n", "over-budget", NULL);
}

static void a_goal_says_by_how_much_it_is_missed(void **state)
{
    (void)state;
    expect_sentence("goal light { mass 100 kg }\nitem stove { mass 120 kg }\nitem oar\n", "goal-missed",
                    "she weighs at least 120 kg, at least 20 kg more than `light` allows; 1 thing has no mass");
    /* What nobody has weighed could weigh more than is left: no goal is met by the half of a boat. */
    expect_sentence("goal light { mass 140 kg }\nitem stove { mass 120 kg }\nitem oar { count 40 }\n", "goal-missed",
                    "she weighs at least 120 kg, and `light` allows 140 kg; 1 thing has no mass");
    expect_sentence("goal light { mass 4140 kg }\nitem stove { mass 4120 kg }\nitem oar { mass 0..4 kg; count 5 }\n",
                    "goal-missed", NULL);
    /* Two people, two flushes each of 5 l, and 0.8 to 2 l each of their own: 21.6 to 24 l a day into 30 l. */
    expect_sentence("day aboard { sun 0 h; flushes 2 per person }\n"
                    "tank holding { holds black; capacity 30 l; usable 100 % }\n"
                    "toilet head { worked-by hand; flush 5 l; flushes-with sea; to holding }\n"
                    "goal quiet { endure 4 d on aboard }\n",
                    "goal-missed",
                    "on `aboard` she lasts 1.25..1.39 d, 2.61..2.75 d less than `quiet` asks; `holding` ends it");
}

static void a_day_to_be_ready_by_is_missed_by_the_plan_and_by_the_calendar(void **state)
{
    (void)state;
    static const char jobs[] = "item mast { ordered 2027-02-01; promised 2027-06-11 }\n"
                               "job rig { takes 3 d; needs mast }\njob paint { takes 3 d }\n";
    char text[1024];
    snprintf(text, sizeof text, "%sgoal launch { ready 2027-06-01 }\n", jobs);
    /* Three days from the day on which the mast comes: 2027-06-14. */
    expect_sentence(text, "goal-missed",
                    "`launch` asks that all is ready by 2027-06-01; the plan of the work ends on 2027-06-14, "
                    "13 days later");
    snprintf(text, sizeof text, "%sgoal launch { ready 2027-07-01 }\n", jobs);
    expect_sentence(text, "goal-missed", NULL);
    snprintf(text, sizeof text, "%sgoal launch { ready 2027-02-26 }\n", jobs);
    expect_sentence(text, "goal-missed",
                    "`launch` asked all to be ready 3 days ago; `rig` and 1 more are not done");
    /* All is done: it was ready when the last job was. */
    expect_sentence("goal launch { ready 2027-02-10 }\njob paint { takes 3 d; done 2027-02-13 }\njob rig { takes 1 d; done 2027-02-09 }\n",
                    "goal-missed",
                    "`launch` asked that all is ready by 2027-02-10; the last job was done on 2027-02-13, 3 days later");
    expect_sentence("goal launch { ready 2027-02-13 }\njob paint { takes 3 d; done 2027-02-13 }\njob rig { takes 1 d; done 2027-02-09 }\n",
                    "goal-missed", NULL);
}

/* EXAMPLE_BOAT displaces 5200 kg: half of it is 2600 kg. */
static void a_goal_of_mass_waits_for_half_of_her(void **state)
{
    (void)state;
    expect_sentence("goal light { mass 4000 kg }\nitem hull { mass 2500 kg }\n", "goal-missed",
                    "`light` allows 4000 kg; only 2500 kg of the 5200 kg that she displaces is weighed, so nobody can tell before at least "
                    "half of it is");
    expect_sentence("goal light { mass 4000 kg }\nitem hull { mass 2700 kg }\n", "goal-missed", NULL);
    {
        Compiled c; /* of a boat that says no displacement half is half of nobody knows what */
        compile(&c, "edition 1\nboat wren \"Wren\" { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso }\n"
                    "goal light { mass 4000 kg }\nitem hull { mass 2700 kg }\n");
        const Finding *finding = finding_of(&c, "goal-missed");
        assert_int_equal(finding->verdict, VERDICT_OPEN);
        assert_string_equal(finding->message, "`light` allows 4000 kg; 2700 kg is weighed, and nothing says what she displaces, so "
                                              "nobody can tell how much of her that is");
        done_with(&c);
    }
    expect_sentence("goal light { mass 2000 kg }\nitem hull { mass 2500 kg }\n", "goal-missed",
                    "she weighs 2500 kg, 500 kg more than `light` allows");
}

/* At most so much is the limit itself: nothing of it is left to be decided. At least so much would be a range. */
static void a_limit_may_be_written_with_its_sign(void **state)
{
    (void)state;
    expect_sentence("goal purse { budget <= 100 EUR }\nitem oven { price 60 EUR }\n", "over-budget", NULL);
    expect_sentence("goal purse { budget <= 100 EUR }\nitem oven { price 160 EUR }\n", "over-budget",
                    "everything costs 160.00 EUR, 60.00 EUR more than `purse` allows");
    expect_sentence("goal purse { budget >= 100 EUR }\nitem oven { price 160 EUR }\n", "over-budget",
                    "everything costs 160.00 EUR, and `purse` allows at least 100.00 EUR");
}

static void what_is_here_is_read_off(void **state)
{
    (void)state;
    static const char line[] = "bank house { chemistry agm; voltage 12 V; capacity %s; price 500 EUR; status %s }\n";
    static const struct {
        const char *capacity, *status, *says;
    } rows[] = {
        {"100..400 Ah", "fitted", "`house` is fitted, and the spec leaves open of it: `capacity`"},
        {"?", "here", "`house` is here, and the spec leaves open of it: `capacity`"},
        {"100..400 Ah", "ordered", NULL},
        {"190..210 Ah", "fitted", NULL},
        {"100..200 Ah measured", "fitted", NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[256];
        snprintf(text, sizeof text, line, rows[i].capacity, rows[i].status);
        expect_sentence(text, "read-off", rows[i].says);
    }
}

/* Sums by hand: what is gone counts against the purse, though it is in no other sum. */
static void what_was_paid_in_vain_is_held_against_the_budget(void **state)
{
    (void)state;
    static const struct {
        const char *things, *says;
    } rows[] = {
        {"item old { price 50 EUR; arrived 2027-01-01; status dropped }\nitem new { price 60 EUR; status here }\n",
         "everything costs 110.00 EUR with 50.00 EUR for what is dropped or not picked, 10.00 EUR more than `purse` allows"},
        {"item old { price 50 EUR; arrived 2027-01-01; refunded 20 EUR; status dropped }\nitem new { price 60 EUR; status here }\n", NULL},
        {"item old { price 50 EUR; ordered 2027-01-01; status dropped }\nitem new { price 60 EUR; status here }\n",
         NULL}, /* called off: what is on order is owed, not paid */
        {"item old { price 50 EUR; ordered 2027-01-01; refunded 0 EUR; status dropped }\nitem new { price 60 EUR; status here }\n",
         "everything costs 110.00 EUR with 50.00 EUR for what is dropped or not picked, 10.00 EUR more than `purse` allows"},
        {"choice heat { option a { item old { price 50 EUR; ordered 2027-01-01 } }\noption b { item new { price 60 EUR; status here } }\n"
         "pick b }\n", /* that order stands */
         "everything costs 60.00..110.00 EUR with 0.00..50.00 EUR for what is dropped or not picked, and `purse` allows 100.00 EUR"},
        {"item old { price 50 EUR; status dropped }\nitem new { price 60 EUR; status here }\n", NULL}, /* never bought */
        {"choice heat { option a { item old { price 50 EUR; status here } }\noption b { item new { price 60 EUR; status here } }\n"
         "pick b }\n",
         "everything costs 110.00 EUR with 50.00 EUR for what is dropped or not picked, 10.00 EUR more than `purse` allows"},
        {"choice heat { option a { item old { price 50 EUR; status returned; refunded 45 EUR } }\n"
         "option b { item new { price 60 EUR; status here } }\npick b }\n",
         NULL},
        /* nothing is picked: with either, what the other has cost is gone */
        {"choice heat { option a { item old { price 50 EUR; status here } }\noption b { item new { price 60 EUR; status here } } }\n",
         "everything costs 110.00 EUR with 60.00 EUR for what is dropped or not picked, 10.00 EUR more than `purse` allows"},
        {"choice heat { option a { item old { price 30 EUR } }\noption b { item new { price 90 EUR; status here } } }\n",
         "everything costs 120.00 EUR with 90.00 EUR for what is dropped or not picked, 20.00 EUR more than `purse` allows"},
        {"choice heat { option a { item old { price 50 EUR } }\noption b { item new { price 60 EUR } } }\n", NULL},
        /* gone, and nobody says how much */
        {"item old { arrived 2027-01-01; status dropped }\nitem new { price 60 EUR; status here }\n",
         "everything costs at least 60.00 EUR, and `purse` allows 100.00 EUR; what was paid for `old`, which is dropped, is not stated"},
        {"choice heat { option a { item old { status here } }\noption b { item new { price 60 EUR; status here } }\npick b }\n",
         "everything costs at least 60.00 EUR, and `purse` allows 100.00 EUR; what was paid for `old`, of an option that is not picked, is not "
         "stated"},
        {"item old { status dropped }\nitem new { price 60 EUR; status here }\n", NULL}, /* never bought */
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[512];
        snprintf(text, sizeof text, "goal purse { budget 100 EUR }\n%s", rows[i].things);
        expect_sentence(text, "over-budget", rows[i].says);
    }
    Compiled c; /* what stands below adds up to it */
    compile_boat(&c, "goal purse { budget 100 EUR }\nitem old { price 90 EUR; arrived 2027-01-01; status returned; refunded 75 EUR }\n", 0);
    assert_string_equal(finding_of(&c, "over-budget")->place_note,
                        "0.00 EUR bound by what is ordered, here or fitted, 90.00 EUR still to buy, 0.00 EUR of contingency on that, "
                        "15.00 EUR lost on what went back or never came");
    done_with(&c);
    expect_sentence("choice heat {\noption a { item old { price 50 EUR; arrived 2027-01-01 } }\noption b { item new }\npick b\n}\n",
                    "bought-not-picked", "`old` is here, and its option is not picked: the 50.00 EUR for it are in no sum but `paid-in-vain`");
}

/* What is dropped never comes, and no day of the plan hangs on it; what is done needs nothing any more. */
static void what_is_dropped_is_told_to_the_jobs_that_need_it(void **state)
{
    (void)state;
    expect_sentence("item mast { status dropped }\nitem pole { replaces mast }\njob rig { takes 3 d; needs mast }\n",
                    "needs-dropped", "`rig` needs `mast`, which is dropped: the plan waits for nothing in its place");
    expect_sentence("item mast { status dropped }\njob rig { takes 3 d; needs mast; done 2027-02-09 }\n", "needs-dropped", NULL);
}

/* The day, 2027-03-01, and sums of days worked by hand. */
static void what_holds_all_up_is_told_with_the_days_that_it_costs(void **state)
{
    (void)state;
    /* Painting takes 10 days in any case, so the mast costs 102 + 3 - 10. */
    static const char mast[] = "item mast { ordered 2027-02-01; promised 2027-06-11 }\n"
                               "job rig { takes 3 d; needs mast }\njob paint { takes 10 d }\n";
    expect_sentence(mast, "holds-up",
                    "all waits for `mast`: it may come as late as 2027-06-11, and with it here today all "
                    "could be ready 95 days "
                    "sooner");
    /* Seven days and a half to come, and the job has three weeks: nobody waits. */
    expect_sentence("item mast { ordered 2027-02-01; promised 2027-03-09 }\n"
                    "job rig { takes 3 d; needs mast }\njob paint { takes 21 d }\n",
                    "holds-up", NULL);
    /* It warns where a day is missed by it: all is ready on 2027-06-14. Else it is good to know. */
    static const struct {
        const char *goal;
        Severity severity;
    } rows[] = {
        {"", SEVERITY_ADVICE},
        {"goal cheap { budget 100 EUR }\n", SEVERITY_ADVICE},
        {"goal sail { ready 2027-06-14 }\n", SEVERITY_ADVICE},
        {"goal sail { ready 2027-06-13 }\n", SEVERITY_WARNING},
        {"goal sail { ready 2027-07-31 }\ngoal show { ready 2027-05-25 }\n", SEVERITY_WARNING},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char spec[400];
        Compiled c;
        snprintf(spec, sizeof spec, "%s%s", mast, rows[i].goal);
        compile_boat(&c, spec, 0);
        assert_int_equal(finding_of(&c, "holds-up")->severity, rows[i].severity);
        done_with(&c);
    }
}

/*
 * Its day has passed, so the mast may come from today, 1 March, to seventy days on, 10 May; then 18 days of work. With the work
 * at nothing it still ends on 10 May, so what is said is the last day on which it may come: 18 days before the goal.
 */
static void a_day_that_hangs_on_what_may_come_late_says_by_when_it_has_to_be_here(void **state)
{
    (void)state;
    static const char spec[] = "goal launch { ready 2027-04-10 }\nitem mast { ordered 2026-12-05; %s }\n"
                               "job step { takes %s; needs mast }\njob rig { takes 10 d; after step }\n";
    static const struct {
        const char *mast, *takes, *remedy, *also;
        bool depends; /* on its day */
    } rows[] = {
        {"promised 2027-01-10; lead 10 week", "8 d", "`mast` here by 2027-03-23", NULL, true},
        /* the longest of the work counts: 30 + 10 days; and 45 days from today would end too late without any mast */
        {"promised 2027-01-10; lead 10 week", "8..30 d", "`mast` here by 2027-03-01", NULL, true},
        {"promised 2027-01-10; lead 10 week", "8..35 d", "`mast` here today at the latest, and less time for the work", NULL, true},
        /* at the latest 5 April: faster work would make up for it */
        {"promised 2027-01-10; lead 5 week", "8 d", "`mast` here by 2027-03-23", "less time for what has no float: `step`, `rig`", true},
        {"lead 13..25 week", "8 d", "`mast` here by 2027-03-23", NULL, false}, /* hangs on the lead, by itself */
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[1024];
        Compiled c;
        snprintf(text, sizeof text, spec, rows[i].mast, rows[i].takes);
        compile_boat(&c, text, i);
        const Finding *finding = finding_of(&c, "goal-missed");
        assert_non_null(finding);
        assert_int_equal(finding->verdict, VERDICT_OPEN);
        assert_string_equal(finding->remedies->text, rows[i].remedy);
        assert_int_equal(finding->remedies->next != NULL, rows[i].also != NULL);
        if (rows[i].also != NULL) {
            assert_string_equal(finding->remedies->next->text, rows[i].also);
        }
        bool depends = false;
        for (const Depend *d = finding->depends; d != NULL; d = d->next) {
            depends = depends || strcmp(d->text, "the day on which `mast` comes") == 0;
        }
        assert_int_equal(depends, rows[i].depends);
        done_with(&c);
    }
}

/* Worked by hand: the wiring ends on 2027-03-11; at the latest all 15 days of lining come behind it. */
static void a_job_that_has_begun_ends_behind_what_it_comes_after(void **state)
{
    (void)state;
    static const char jobs[] = "job wire-galley { takes 10 d }\n"
                               "job line-galley { takes 15 d; after wire-galley; started 2027-02-28 }\n"
                               "goal launch { ready 2027-03-20 }\n";
    expect_sentence(jobs, "goal-missed",
                    "`launch` asks that all is ready by 2027-03-20; the plan of the work ends on 2027-03-15..2027-03-26");
    expect_sentence(jobs, "out-of-order", "`line-galley` is begun, and comes after `wire-galley`, which is not done");
    /* Begun long ago and short: only the wiring decides, and what is left behind it. */
    expect_sentence("job wire-galley { takes 10 d }\n"
                    "job line-galley { takes 1 d; after wire-galley; started 2027-02-01 }\n"
                    "goal launch { ready 2027-03-10 }\n",
                    "goal-missed",
                    "`launch` asks that all is ready by 2027-03-10; the plan of the work ends on 2027-03-11..2027-03-12, "
                    "at least 1 day later");
}

static void a_day_to_come_is_no_fact(void **state)
{
    (void)state;
    static const struct {
        const char *things;
        const char *says;
    } rows[] = {
        {"item mast { ordered 2027-02-01; arrived 2072-02-11 }\n",
         "`mast` arrived on 2072-02-11, which is still to come: today is 2027-03-01"},
        {"item mast { fitted 2027-03-02 }\n", "`mast` was fitted on 2027-03-02, which is still to come: today is 2027-03-01"},
        {"item mast { ordered 2027-03-02 }\n", "`mast` was ordered on 2027-03-02, which is still to come: today is 2027-03-01"},
        {"item mast { service every 12 month \"Shrouds\" last 2027-04-01 }\n",
         "`mast` had its service on 2027-04-01, which is still to come: today is 2027-03-01"},
        {"job rig { takes 1 d; done 2028-01-01 }\n",
         "`rig` was done on 2028-01-01, which is still to come: today is 2027-03-01"},
        {"job rig { takes 1 d; started 2028-01-01 }\n",
         "`rig` was begun on 2028-01-01, which is still to come: today is 2027-03-01"},
        {"item mast { ordered 2027-03-01; promised 2028-03-01 }\n", NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        expect_sentence(rows[i].things, "dated-ahead", rows[i].says);
    }
}

#define READY "goal sail { ready 2027-05-10 }\n"

/* Need-by arithmetic, no source: the latest start less lead and a week. 70 days of paint, 3 of rigging: day 67. */
static void what_must_be_ordered_is_told_when_its_day_has_come(void **state)
{
    (void)state;
    /* 67 - 56 - 7 = day 4 from now: time yet. */
    expect_sentence(
        "item mast { lead 8 week }\njob rig { takes 3 d; needs mast }\njob paint { takes 70 d }\n" READY,
        "order-now", NULL);
    /* 67 - 60 - 7 = today */
    expect_sentence(
        "item mast { lead 50..60 d }\njob rig { takes 3 d; needs mast }\njob paint { takes 70 d }\n" READY,
        "order-now", "`mast` is to be ordered today, if it and the work behind it take as long as they may; else by 2027-03-11 at the latest");
    /* 67 - 63 - 7: three days ago, and the week in hand still saves the end */
    expect_sentence(
        "item mast { lead 9 week }\njob rig { takes 3 d; needs mast }\njob paint { takes 70 d }\n" READY,
        "order-now", "`mast` was to be ordered by 2027-02-26, for its job to have a week in hand");
    /* 77 days of lead and 3 of rigging are 10 more than 70; 87 days before the goal */
    expect_sentence(
        "item mast { supplier slow }\nsupplier slow { lead 11 week }\njob rig { takes 3 d; needs mast }\n"
        "job paint { takes 70 d }\n" READY,
        "order-now",
        "`mast` was to be ordered by 2027-02-12; waiting for it moves the end of all work by 10 days");
}

/* Where nobody says when all is to be ready, the plan moves on with today: an order is late on no day. */
static void without_a_day_to_be_ready_by_no_order_is_late(void **state)
{
    (void)state;
    expect_sentence("item mast { lead 11 week }\njob rig { takes 3 d; needs mast }\n", "order-now", NULL);
    expect_sentence("item mast { lead 11 week }\njob rig { takes 3 d; needs mast }\ngoal cheap { budget 100 EUR }\n",
                    "order-now", NULL);
}

/* The same slow mast: 87 days before the earliest goal, whether that can be kept still or not. */
static void a_goal_that_is_far_off_gives_time_to_order(void **state)
{
    (void)state;
    static const char plan[] =
        "item mast { lead 11 week }\njob rig { takes 3 d; needs mast }\njob paint { takes 70 d }\n";
    static const struct {
        const char *goals;
        const char *says;
    } rows[] = {
        {"goal sail { ready 2027-05-31 }\n", NULL},
        {"goal sail { ready 2027-05-31 }\ngoal show { ready 2027-05-25 }\n",
         "`mast` was to be ordered by 2027-02-27; waiting for it moves the end of all work by 10 days"},
        {"goal sail { ready 2027-05-10 }\n",
         "`mast` was to be ordered by 2027-02-12; waiting for it moves the end of all work by 10 days"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char spec[400];
        snprintf(spec, sizeof spec, "%s%s", plan, rows[i].goals);
        expect_sentence(spec, "order-now", rows[i].says);
    }
}

static void what_an_option_uses_is_used_whichever_is_taken(void **state)
{
    (void)state;
    static const char spec[] = "space saloon\nspace deck\npart mixer for fixture { flow 5 l/min }\n"
                               "choice tap {\n"
                               "  option none-yet { item plug }\n"
                               "  option lever { fixture galley-tap is mixer { space saloon } }\n"
                               "}\n";
    for (uint64_t number = 0; number < 2; number++) {
        Compiled c;
        compile_boat(&c, spec, number);
        expect_no_mistake(&c);
        assert_null(finding_of(&c, "part-unused"));
        assert_int_equal(count_findings(&c, "space-unused"), 1);
        assert_string_equal(finding_of(&c, "space-unused")->message,
                            "nothing stands in the space `deck`, and no cable passes it");
        done_with(&c);
    }
}

static void a_stale_waiver_says_since_when(void **state)
{
    (void)state;
    static const char waive[] =
        "item horn { discontinued yes }\nwaive no-parts on horn until 2027-02-28 because \"Later.\"\n";
    expect_sentence(waive, "waiver-stale",
                    "`no-parts` on `horn` was set aside until 2027-02-28, 1 day ago, and counts again");
    expect_sentence(waive, "waiver-idle", NULL);
    expect_sentence(
        "item horn { discontinued yes }\nwaive no-parts on horn until 2027-03-01 because \"Later.\"\n",
        "waiver-stale", NULL);
}

static void a_waiver_that_is_past_its_date_and_meets_nothing_is_idle_alone(void **state)
{
    (void)state;
    static const char waive[] = "item horn { discontinued yes; spare 1 }\n"
                                "waive no-parts on horn until 2027-02-28 because \"Later.\"\n";
    expect_sentence(waive, "waiver-stale", NULL);
    expect_sentence(waive, "waiver-idle", "this sets aside `no-parts` on `horn`, where nothing is found");
}

/* The same name in the option that is picked: the finding is about the other one, and is set aside by its name alone. */
static void a_waiver_finds_the_thing_of_an_option_that_is_not_picked(void **state)
{
    (void)state;
    Compiled c;
    compile_boat(&c, "choice heat { option a { item stove { price 9 EUR; ordered 2027-02-01 } }\noption b { item stove }\npick b }\n"
                     "waive bought-not-picked on stove because \"It is sold.\"\n", 0);
    assert_null(finding_of(&c, "waiver-idle"));
    assert_non_null(finding_of(&c, "bought-not-picked")->waiver);
    done_with(&c);
}

static void expect_first_remedy(const char *text, const char *remedy)
{
    Compiled c;
    compile_boat(&c, text, 0);
    const Finding *finding = finding_of(&c, "waiver-idle");
    assert_non_null(finding);
    assert_string_equal(finding->remedies->text, remedy);
    done_with(&c);
}

/* A reason that was given for one thing sets nothing aside of another: only what stands on its lines, or had its name, is offered. */
static void an_idle_waiver_is_told_of_what_it_may_have_meant(void **state)
{
    (void)state;
    expect_first_remedy("load lamp { draw 1 A }\nitem bell\nwaive unpowered on bell because \"Later.\"\n", "no such line");
    expect_first_remedy("load lamp was bell { draw 1 A }\nitem bell\nwaive unpowered on bell because \"Later.\"\n",
                        "`waive unpowered on lamp`, where something is found");
    expect_first_remedy("bilge-pump small { hand yes; rated 1 l/min }\nwaive bilge-capacity on small because \"Later.\"\n",
                        "`waive bilge-capacity on wren`, where something is found");
    expect_first_remedy("choice heat {\n  option a { item stove { price 10 EUR; ordered 2026-01-01; arrived 2026-02-01 } }\n"
                        "  option b { item oven }\n  pick b\n}\nitem bell\nwaive bought-not-picked on bell because \"Later.\"\n",
                        "no such line");
}

/* A year from 1 March 2027 ends on 1 March 2028. */
static void a_danger_is_set_aside_for_a_year_at_the_most(void **state)
{
    (void)state;
#define NO_SEACOCK \
    "through-hull sink-drain { bore 38 mm; height -0.2 m; seacock no }\nwaive seacock on sink-drain"
    expect_sentence(NO_SEACOCK " until 2028-03-01 because \"Haul-out.\"\n", "waiver-open-ended", NULL);
    expect_sentence(NO_SEACOCK " until 2028-03-02 because \"Haul-out.\"\n", "waiver-open-ended",
                    "`seacock` is a danger of flooding, and is set aside for more than a year");
    expect_sentence(NO_SEACOCK " because \"Haul-out.\"\n", "waiver-open-ended",
                    "`seacock` is a danger of flooding, and is set aside without an end");
    expect_sentence("item horn { discontinued yes }\nwaive no-parts on horn because \"Later.\"\n",
                    "waiver-open-ended", NULL);
}

/* ---- Mistakes ---- */

static void expect_mistake(const char *things, MessageId id, const char *text, const char *right)
{
    Compiled c;
    compile_boat(&c, things, 0);
    assert_int_equal(c.spec->messages.count, 1);
    const Message *m = c.spec->messages.first;
    assert_int_equal(m->id, id);
    if (text != NULL) {
        assert_string_equal(m->text, text);
    }
    if (right != NULL) {
        assert_string_equal(m->right, right);
    }
    done_with(&c);
}

static void a_waiver_of_no_rule_is_a_mistake_with_the_near_name(void **state)
{
    (void)state;
    expect_mistake("item horn\nwaive no-part on horn because \"x\"\n", MESSAGE_UNKNOWN_RULE,
                   "there is no rule called `no-part`", "`no-parts`");
}

static void a_status_that_the_dates_contradict_is_a_mistake(void **state)
{
    (void)state;
    static const struct {
        const char *lines;
        const char *text;
    } wrong[] = {
        {"status ordered; fitted 2027-02-01",
         "the status says `ordered`, but `horn` was fitted on 2027-02-01"},
        {"status wanted; ordered 2027-01-02",
         "the status says `wanted`, but `horn` was ordered on 2027-01-02"},
        {"status shipped; arrived 2027-01-02", "the status says `shipped`, but `horn` arrived on 2027-01-02"},
        {"status here; fitted 2027-01-01", "the status says `here`, but `horn` was fitted on 2027-01-01"},
        {"count 4; arrived 2027-01-02 of 2; status here", "the status says `here`, but only 2 of 4 arrived"},
        {"count 4; fitted 2027-01-02 of 2; status fitted",
         "the status says `fitted`, but only 2 of 4 were fitted"},
        {"ordered 2027-02-01; arrived 2027-01-01",
         "`horn` arrived on 2027-01-01, which is before it was ordered"},
        {"ordered 2027-02-01; fitted 2027-01-01",
         "`horn` was fitted on 2027-01-01, which is before it was ordered"},
        {"ordered 2027-02-01; promised 2027-01-01",
         "`horn` is promised for 2027-01-01, which is before it was ordered"},
        {"arrived 2027-02-01; fitted 2027-01-01",
         "`horn` was fitted on 2027-01-01, which is before it arrived"},
        {"count 4; arrived 2027-01-02 of 2; fitted 2027-01-03 of 3", "3 of `horn` are fitted, and only 2 came"},
        {"count 4; arrived 2027-01-02 of 2; fitted 2027-01-03", "4 of `horn` are fitted, and only 2 came"},
        {"count 4; arrived 2027-01-02 of 2; arrived 2027-02-01 of 2; fitted 2027-01-03 of 3",
         "`horn` was fitted on 2027-01-03, which is before it arrived in full"},
        {"count 4; spare 1; arrived 2027-01-02 of 6", "6 of `horn` arrived, and only 5 are wanted"},
    };
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        char text[256];
        snprintf(text, sizeof text, "item horn { %s }\n", wrong[i].lines);
        expect_mistake(text, MESSAGE_STATUS_CONTRADICTS, wrong[i].text, NULL);
    }
}

static void a_job_is_not_done_before_it_is_begun(void **state)
{
    (void)state;
    expect_mistake("job rig { takes 1 d; started 2027-02-20; done 2027-02-10 }\n", MESSAGE_STATUS_CONTRADICTS,
                   "`rig` was done before it was begun", NULL);
}

static void a_job_needs_what_can_be_bought(void **state)
{
    (void)state;
    expect_mistake("job blast { takes 3 week; price 4200 EUR }\n", MESSAGE_UNKNOWN_PROPERTY, "`job` has no property `price`",
                   "an `item` for what is bought, with its `price`, and its name under `needs` of the job: a yard's work and its slot too");
    static const char *const rows[] = {"quay", "saloon", "purse", "rig", "wren"};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[256];
        snprintf(text, sizeof text,
                 "supplier quay { lead 2 week }\nspace saloon { volume 9 m3 }\ngoal purse { budget 9 EUR }\n"
                 "job rig { takes 1 d; needs %s }\n",
                 rows[i]);
        expect_mistake(text, MESSAGE_WRONG_KIND, NULL, "the name of a thing that is bought");
    }
}

static void dates_that_agree_are_left_alone(void **state)
{
    (void)state;
    static const char *const fine[] = {
        "ordered 2027-01-01; arrived 2027-01-01; fitted 2027-01-01",
        "count 4; arrived 2027-01-02 of 2; fitted 2027-01-03 of 2; arrived 2027-01-05; fitted 2027-01-09",
        "count 4; ordered 2027-01-02; promised 2027-04-02; arrived 2027-01-20 of 2; status ordered",
        "status returned; ordered 2026-01-02; arrived 2026-03-02",
        "status fitted; arrived 2026-03-02",
        "count 4; spare 2; arrived 2027-01-02 of 6",
    };
    for (size_t i = 0; i < sizeof fine / sizeof fine[0]; i++) {
        char text[256];
        Compiled c;
        snprintf(text, sizeof text, "item horn { %s }\n", fine[i]);
        compile_boat(&c, text, 0);
        expect_no_mistake(&c);
        done_with(&c);
    }
}

static void one_thing_stated_in_two_ways_has_to_agree(void **state)
{
    (void)state;
    static const char strings[] =
        "the strings of `house` do not make its count: `series` times `parallel` is the count";
    expect_mistake(
        "bank house { chemistry agm; voltage 6 V; capacity 9 Ah; series 2; parallel 2; count 3 }\n",
        MESSAGE_SHAPE_OTHER, strings, NULL);
    expect_mistake("bank house { chemistry agm; voltage 6 V; capacity 9 Ah; series 2; count 3 }\n",
                   MESSAGE_SHAPE_OTHER, strings, NULL);
    /* 1.0 x 0.5 x 0.5 m: 250 l. */
    expect_mistake("tank water { holds fresh; capacity 300 l; size 1 m by 0.5 m by 0.5 m }\n",
                   MESSAGE_SHAPE_OTHER, "a tank of this size holds 250 l, but its capacity is 300 l", NULL);
    /* A fifth of its box: a pyramid still fills a third. */
    expect_mistake("tank water { holds fresh; capacity 50 l; size 1 m by 0.5 m by 0.5 m }\n",
                   MESSAGE_SHAPE_OTHER, "a tank of this size holds 250 l, but its capacity is 50 l", NULL);
    Compiled c;
    compile_boat(&c,
                 "tank wedge { holds fresh; capacity 125 l; size 1 m by 0.5 m by 0.5 m }\n"
                 "tank water { holds fresh; capacity 240 l; size 1 m by 0.5 m by 0.5 m }\n"
                 "tank sump { holds grey; capacity 10..20 l; size 0.4 m by 0.2 m by 0.2 m }\n"
                 "bank house { chemistry agm; voltage 6 V; capacity 9 Ah; series 2; count 4 }\n",
                 0);
    expect_no_mistake(&c);
    done_with(&c);
}

/* Who feeds the bus from elsewhere has to think of the device that stood before it. */
static void what_is_dropped_takes_its_device_along(void **state)
{
    (void)state;
#define BEHIND(PROTECT) HOUSE "switch old { works-as battery; fed-by house; run 1 m; status dropped; " PROTECT " }\n" \
                              "bus plus { fed-by old; run 1 m; wire 10 mm2 }\nload fan { fed-by plus; run 1 m; draw 1 A }\n"
    Compiled c;
    compile_boat(&c, BEHIND("protect 30 A fuse"), 0);
    const Finding *finding = finding_of(&c, "unpowered");
    assert_non_null(finding);
    assert_non_null(finding->notes);
    assert_string_equal(finding->notes->text, "this goes with it, and nothing else protects the cable of `plus`");
    assert_non_null(strstr(finding->remedies->text, "a `protect` of its own"));
    done_with(&c);
    compile_boat(&c, BEHIND(""), 0);
    finding = finding_of(&c, "unpowered");
    assert_null(finding->notes);
    assert_string_equal(finding->remedies->text, "`fed-by` something that stays aboard");
    done_with(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_waiver_finds_the_thing_of_an_option_that_is_not_picked),
        cmocka_unit_test(each_rule_says_of_its_examples_what_they_are_for),
        cmocka_unit_test(what_is_late_says_by_how_much_and_which_jobs_need_it),
        cmocka_unit_test(what_is_delayed_is_late_whatever_is_promised),
        cmocka_unit_test(a_part_of_a_delivery_leaves_the_rest_late),
        cmocka_unit_test(six_weeks_without_a_word_are_silence),
        cmocka_unit_test(a_budget_that_is_overrun_says_by_how_much),
        cmocka_unit_test(a_budget_is_open_while_what_is_bought_has_no_price),
        cmocka_unit_test(a_date_with_a_mistake_makes_nobody_silent_or_late),
        cmocka_unit_test(an_option_that_is_bought_while_its_choice_is_open_is_told),
        cmocka_unit_test(what_hangs_on_an_unfed_thing_is_told_once_there),
        cmocka_unit_test(what_needs_no_wire_is_not_unpowered),
        cmocka_unit_test(a_loop_is_told_once_from_its_first_thing),
        cmocka_unit_test(a_goal_says_by_how_much_it_is_missed),
        cmocka_unit_test(a_day_to_be_ready_by_is_missed_by_the_plan_and_by_the_calendar),
        cmocka_unit_test(a_day_that_hangs_on_what_may_come_late_says_by_when_it_has_to_be_here),
        cmocka_unit_test(what_was_paid_in_vain_is_held_against_the_budget),
        cmocka_unit_test(a_goal_of_mass_waits_for_half_of_her),
        cmocka_unit_test(a_limit_may_be_written_with_its_sign),
        cmocka_unit_test(what_is_here_is_read_off),
        cmocka_unit_test(what_is_dropped_is_told_to_the_jobs_that_need_it),
        cmocka_unit_test(what_holds_all_up_is_told_with_the_days_that_it_costs),
        cmocka_unit_test(what_must_be_ordered_is_told_when_its_day_has_come),
        cmocka_unit_test(without_a_day_to_be_ready_by_no_order_is_late),
        cmocka_unit_test(a_goal_that_is_far_off_gives_time_to_order),
        cmocka_unit_test(what_an_option_uses_is_used_whichever_is_taken),
        cmocka_unit_test(a_stale_waiver_says_since_when),
        cmocka_unit_test(a_waiver_that_is_past_its_date_and_meets_nothing_is_idle_alone),
        cmocka_unit_test(an_idle_waiver_is_told_of_what_it_may_have_meant),
        cmocka_unit_test(a_danger_is_set_aside_for_a_year_at_the_most),
        cmocka_unit_test(a_waiver_of_no_rule_is_a_mistake_with_the_near_name),
        cmocka_unit_test(a_status_that_the_dates_contradict_is_a_mistake),
        cmocka_unit_test(dates_that_agree_are_left_alone),
        cmocka_unit_test(a_job_is_not_done_before_it_is_begun),
        cmocka_unit_test(a_job_needs_what_can_be_bought),
        cmocka_unit_test(a_job_that_has_begun_ends_behind_what_it_comes_after),
        cmocka_unit_test(a_day_to_come_is_no_fact),
        cmocka_unit_test(one_thing_stated_in_two_ways_has_to_agree),
        cmocka_unit_test(what_is_dropped_takes_its_device_along),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
