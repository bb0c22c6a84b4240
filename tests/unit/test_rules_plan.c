/*
 * The work plan where not all of it is decided: by when things are to be ordered, what holds all up, and jobs that are begun or
 * done. Days are worked by hand from 2027-03-01, on which all specs are judged.
 */
#include "unit/test_boat.h"

#include <stdio.h>

static void compile_jobs(Compiled *c, const char *things)
{
    char text[2048];
    assert_true(snprintf(text, sizeof text, "%s%s", EXAMPLE_BOAT, things) < (int)sizeof text);
    compile(c, text);
    expect_no_mistake(c);
}

static const Finding *finding_on(const Compiled *c, const char *rule, const char *subject)
{
    for (const Finding *f = c->judge->first; f != NULL; f = f->next) {
        if (strcmp(f->rule->name, rule) == 0 && str_is(entity_name(c->model, f->subject), subject)) {
            return f;
        }
    }
    return NULL;
}

/* The rule says just that of the thing; NULL: it has nothing to say. */
static void expect_of(const char *things, const char *rule, const char *subject, Verdict verdict,
                      const char *sentence)
{
    Compiled c;
    compile_jobs(&c, things);
    const Finding *finding = finding_on(&c, rule, subject);
    if (sentence == NULL) {
        assert_null(finding);
    } else {
        assert_non_null(finding);
        assert_string_equal(finding->message, sentence);
        assert_int_equal(finding->verdict, verdict);
    }
    done_with(&c);
}

static void expect_days(const char *things, const char *subject, FigureId id, Date low, Date high)
{
    Compiled c;
    compile_jobs(&c, things);
    const Entity *entity =
        strcmp(subject, "boat") == 0 ? c.model->boat : model_find(c.model, str_from(subject));
    const Figure *figure = figure_find(c.figures, entity, id, NULL);
    assert_non_null(figure);
    assert_int_equal(figure->state, STATE_KNOWN);
    assert_true(figure->low == 86400.0 * low);
    assert_true(figure->high == 86400.0 * high);
    done_with(&c);
}

/* 2027-05-01 less 5 d of work, 70 d of lead and 7 d in hand; what else is open in the plan makes no difference. */
static void the_day_to_order_by_hangs_on_no_other_job(void **state)
{
    (void)state;
    static const char *const varnish[] = {"1 d", "1..600 d", ">= 2 d", "50 d"};
    for (size_t i = 0; i < sizeof varnish / sizeof varnish[0]; i++) {
        char text[512];
        snprintf(text, sizeof text,
                 "goal launch { ready 2027-05-01 }\nitem motor { lead 10 week }\njob varnish { takes %s }\n"
                 "job motor-in { takes 5 d; needs motor }\n",
                 varnish[i]);
        expect_days(text, "motor", FIGURE_ORDER_BY, date_of(2027, 2, 8), date_of(2027, 2, 8));
    }
}

/* 2027-05-01 less 5 d of work, two weeks and 7 d in hand: cable comes from a shelf, whatever the lead of the motor is. */
static void what_a_thing_is_fitted_with_has_a_lead_of_its_own(void **state)
{
    (void)state;
    expect_days("goal launch { ready 2027-05-01 }\nitem motor { lead 10 week }\njob motor-in { takes 5 d; needs motor }\n",
                "motor", FIGURE_FITTINGS_BY, date_of(2027, 4, 5), date_of(2027, 4, 5));
}

/* The longest way from its jobs to the end counts, whichever it is: 3 + 10..20 d behind the 5 d of fitting. */
static void the_day_to_order_by_covers_the_work_behind(void **state)
{
    (void)state;
    expect_days("goal launch { ready 2027-09-01 }\nitem motor { lead 10 week }\njob motor-in { takes 5 d; "
                "needs motor }\n"
                "job line { takes 3 d; after motor-in }\njob try { takes 10..20 d; after line }\n",
                "motor", FIGURE_ORDER_BY, date_of(2027, 5, 19), date_of(2027, 5, 29));
}

/* What is late already stays late by the same day; only what the rest makes late in any case gives time: 40 d of paint past it. */
static void a_day_that_has_passed_stays_where_it_is(void **state)
{
    (void)state;
    static const char two[] =
        "goal launch { ready 2027-03-10 }\nitem motor { lead 8 week }\nitem gear { lead 8 week }\n"
        "job motor-in { takes 5 d; needs motor, gear }\n";
    expect_days(two, "motor", FIGURE_ORDER_BY, date_of(2027, 1, 1), date_of(2027, 1, 1));
    char text[512];
    snprintf(text, sizeof text, "%sjob paint { takes 49 d }\n", two);
    expect_days(text, "motor", FIGURE_ORDER_BY, date_of(2027, 2, 10), date_of(2027, 2, 10));
}

static void one_hole_does_not_silence_the_rest(void **state)
{
    (void)state;
    static const char spec[] =
        "goal launch { ready 2027-05-01 }\nsupplier q { lead ? }\nitem cushions { supplier q }\n"
        "item motor { lead 10 week }\njob sew { takes 1 d; needs cushions }\n"
        "job motor-in { takes 5 d; needs motor }\n";
    expect_of(spec, "order-now", "motor", VERDICT_BROKEN,
              "`motor` was to be ordered by 2027-02-08, for its job to have a week in hand");
    expect_of(spec, "order-now", "cushions", VERDICT_OPEN,
              "`cushions` is to be ordered by 2027-04-23 at the latest; earlier by how long it takes, which "
              "nothing says");
}

/* 45 d from today to 2027-04-15. */
static void what_comes_just_as_late_is_told_together(void **state)
{
    (void)state;
    static const char one[] =
        "goal launch { ready 2027-04-01 }\nitem motor { ordered 2027-01-01; promised 2027-04-15 }\n"
        "item gear { ordered 2027-01-01; promised 2027-0%s }\njob motor-in { takes 5 d; needs motor, gear "
        "}\n";
    char text[512];
    snprintf(text, sizeof text, one, "4-15");
    expect_of(text, "holds-up", "motor", VERDICT_BROKEN,
              "all waits for `motor` and `gear`: they may come as late as 2027-04-15, and with them here "
              "today all could be ready 45 "
              "days sooner");
    expect_of(text, "holds-up", "gear", VERDICT_BROKEN, NULL);
    snprintf(text, sizeof text, one, "3-02");
    expect_of(text, "holds-up", "motor", VERDICT_BROKEN,
              "all waits for `motor`: it may come as late as 2027-04-15, and with it here today all could be "
              "ready 44 days sooner");
}

/* 45 d from today to 2027-04-15, of which the motor alone has 3, and from 2027-04-07 on 8. */
static void what_comes_nearly_as_late_is_told_with_it(void **state)
{
    (void)state;
    static const struct {
        const char *gear, *says;
    } rows[] = {
        {"04-12", "3 days sooner; `gear` would be waited for nearly as long: with that here too, 45 days sooner"},
        {"04-08", "7 days sooner; `gear` would be waited for nearly as long: with that here too, 45 days sooner"},
        {"04-07", "8 days sooner"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[512], says[300];
        snprintf(text, sizeof text,
                 "goal launch { ready 2027-04-01 }\nitem motor { ordered 2027-01-01; promised 2027-04-15 }\n"
                 "item gear { ordered 2027-01-01; promised 2027-%s }\njob motor-in { takes 5 d; needs motor, gear }\n", rows[i].gear);
        snprintf(says, sizeof says, "all waits for `motor`: it may come as late as 2027-04-15, and with it here today all could be ready %s",
                 rows[i].says);
        expect_of(text, "holds-up", "motor", VERDICT_BROKEN, says);
    }
}

static void what_may_hold_all_up_is_open(void **state)
{
    (void)state;
    expect_of("goal launch { ready 2027-04-01 }\nitem motor { ordered 2027-01-01; promised 2027-04-15 }\n"
              "job varnish { takes 1..600 d }\njob motor-in { takes 5 d; needs motor }\n",
              "holds-up", "motor", VERDICT_OPEN,
              "all may wait for `motor`: it may come as late as 2027-04-15, and with it here today all could "
              "be ready up to 45 days "
              "sooner");
}

/*
 * By hand, of 1 March: with the motor on 21 March the end moves by max(hull, 20) - max(hull, 0), which is 10 d where the hull
 * takes 10 d and nothing where it takes 20 d or more; what comes behind both, however long it takes, moves it no further.
 */
static void what_else_is_open_is_the_same_with_it_and_without(void **state)
{
    (void)state;
    static const char spec[] = "goal launch { ready 2027-03-10 }\nitem motor { ordered 2027-01-01; promised 2027-03-21 }\n"
                               "job hull { takes %s }\njob motor-in { takes %s; after hull; needs motor }\n";
    static const struct {
        const char *hull, *fit, *says;
        Verdict verdict;
    } rows[] = {{"10..40 d", "5 d",
                 "all may wait for `motor`: it may come as late as 2027-03-21, and with it here today all could be ready up to 10 days "
                 "sooner",
                 VERDICT_OPEN},
                {"2 d", "5..60 d",
                 "all waits for `motor`: it may come as late as 2027-03-21, and with it here today all could be ready 18 days sooner",
                 VERDICT_BROKEN},
                {"2..8 d", ">= 5 d",
                 "all waits for `motor`: it may come as late as 2027-03-21, and with it here today all could be ready 12 to 18 days "
                 "sooner",
                 VERDICT_BROKEN}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[512];
        snprintf(text, sizeof text, spec, rows[i].hull, rows[i].fit);
        expect_of(text, "holds-up", "motor", rows[i].verdict, rows[i].says);
    }
}

/* On 1 March nothing is here. In two weeks from 26 February it comes within the 45 days of painting, in twenty long after them. */
static void what_may_come_before_anything_waits_for_it_is_open(void **state)
{
    (void)state;
    static const char spec[] = "goal launch { ready 2027-04-01 }\nitem motor { ordered 2027-02-26; lead %s }\n"
                               "job paint { takes 45 d }\njob motor-in { takes 5 d; needs motor }\n";
    static const struct {
        const char *lead, *says;
        Verdict verdict;
    } rows[] = {{"2..20 week",
                 "all may wait for `motor`: it may come as late as 2027-07-16, and with it here today all could be ready up to 97 days "
                 "sooner",
                 VERDICT_OPEN},
                {"10..20 week",
                 "all waits for `motor`: it may come as late as 2027-07-16, and with it here today all could be ready 27 to 97 days "
                 "sooner",
                 VERDICT_BROKEN},
                {"20 week",
                 "all waits for `motor`: it may come as late as 2027-07-16, and with it here today all could be ready 97 days sooner",
                 VERDICT_BROKEN}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[512];
        snprintf(text, sizeof text, spec, rows[i].lead);
        expect_of(text, "holds-up", "motor", rows[i].verdict, rows[i].says);
    }
    /* its promised day has passed: it may come today, or 20 weeks on, 19 July */
    expect_of("goal launch { ready 2027-04-01 }\nitem motor { lead 20 week; ordered 2027-01-01; promised 2027-02-20 }\n"
              "job paint { takes 45 d }\njob motor-in { takes 5 d; needs motor }\n",
              "holds-up", "motor", VERDICT_OPEN,
              "all may wait for `motor`: it may come as late as 2027-07-19, and with it here today all could be ready up to 100 days "
              "sooner");
}

/* A job that is done used what it needs: that was there on its day. */
static void what_came_after_its_job_was_done_is_told(void **state)
{
    (void)state;
    static const struct {
        const char *stove, *says;
    } rows[] = {
        {"arrived 2027-02-20", "`fit` was done on 2027-02-10, and `stove`, which it needs, came after that: on 2027-02-20"},
        {"fitted 2027-02-11", "`fit` was done on 2027-02-10, and `stove`, which it needs, came after that: on 2027-02-11"},
        {"arrived 2027-02-10", NULL},
        {"arrived 2027-01-10; fitted 2027-02-20", NULL},
        {"arrived 2027-02-20; event 2027-01-10 \"the first one came, and was changed\"", NULL},
        {"status here", NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[512];
        snprintf(text, sizeof text, "item stove { price 700 EUR; %s }\njob fit { takes 1 d; needs stove; done 2027-02-10 }\n", rows[i].stove);
        expect_of(text, "done-without", "fit", VERDICT_BROKEN, rows[i].says);
    }
}

/* 60 days of one job alone miss the day; the other may take 1 day or 90, and less of it mends nothing. */
static void a_day_missed_for_certain_names_the_way_that_misses_it(void **state)
{
    (void)state;
    Compiled c;
    compile_jobs(&c, "goal launch { ready 2027-04-01 }\njob long { takes 60 d }\njob maybe { takes 1..90 d }\n");
    const Finding *finding = finding_of(&c, "goal-missed");
    assert_int_equal(finding->verdict, VERDICT_BROKEN);
    assert_string_equal(finding->remedies->text, "less time for what ends too late even at its fastest: `long`");
    done_with(&c);
}

/* What comes after the goal's day is named, and no faster work is advised. */
static void a_missed_day_names_what_comes_too_late(void **state)
{
    (void)state;
    Compiled c;
    compile_jobs(&c,
                 "goal launch { ready 2027-04-01 }\nitem motor { ordered 2027-01-01; promised 2027-04-15 }\n"
                 "job varnish { takes 1..600 d }\njob motor-in { takes 5 d; needs motor }\n");
    const Finding *finding = finding_of(&c, "goal-missed");
    assert_non_null(finding);
    assert_string_equal(
        finding->remedies->text,
        "an earlier day for `motor`: as it stands, all is ready no sooner than 2027-04-20 by it alone");
    assert_null(finding->remedies->next);
    done_with(&c);
}

/* How far a job can come without what it waits for is not known: none of its 30 d may be left then, or all. */
static void a_job_that_has_begun_may_be_all_to_do_when_its_thing_comes(void **state)
{
    (void)state;
    expect_days("item motor { ordered 2027-01-01; promised 2027-04-15 }\n"
                "job motor-in { takes 30 d; needs motor; started 2027-02-20 }\n",
                "boat", FIGURE_READY, date_of(2027, 4, 15), date_of(2027, 5, 15));
}

static void a_job_that_is_over_its_time_is_told(void **state)
{
    (void)state;
    static const char paint[] = "job paint { takes 10 d; started 2027-01-01 }\n";
    expect_days(paint, "boat", FIGURE_READY, date_of(2027, 3, 1), date_of(2027, 3, 11));
    expect_of(paint, "runs-over", "paint", VERDICT_BROKEN,
              "`paint` takes 10 d, and 59 days after it was begun it is not done: the plan takes it that "
              "anything up to all of it is "
              "still to do");
    expect_of("job paint { takes 10..80 d; started 2027-01-01 }\n", "runs-over", "paint", VERDICT_OPEN,
              "`paint` takes 10..80 d, and 59 days after it was begun it is not done");
    expect_of("item motor { ordered 2027-01-01; promised 2027-04-15 }\njob paint { takes 10 d; started "
              "2027-01-01; needs motor }\n",
              "runs-over", "paint", VERDICT_BROKEN, NULL);
}

static void a_done_job_has_what_it_needs(void **state)
{
    (void)state;
    static const char job[] = "job fit-stove { takes 1 d; needs stove, flue; done 2027-02-20 }\n";
    static const struct {
        const char *things, *says;
    } rows[] = {
        {"item stove { price 700 EUR }\nitem flue { ordered 2027-01-01; promised 2027-04-01 }\n",
         "`fit-stove` is done, and what it needs is not here by what the spec says of it: `stove` and "
         "`flue`"},
        {"item stove { price 700 EUR; arrived 2027-02-01 }\nitem flue { status fitted }\n", NULL},
        {"item stove\nitem flue\n",
         NULL}, /* nothing says that they are bought: they may always have been aboard */
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[512];
        snprintf(text, sizeof text, "%s%s", rows[i].things, job);
        expect_of(text, "done-without", "fit-stove", VERDICT_BROKEN, rows[i].says);
    }
}

/* She was launched in time; a battery that is changed years on is no part of that, and nothing is ordered for that day. */
static void a_goal_that_was_met_stays_met(void **state)
{
    (void)state;
#define AFTER_LAUNCH(MET) \
    "goal launch { ready 2027-02-01" MET " }\nitem battery { lead 1 week }\njob launching { takes 1 d; done 2027-01-28 }\n" \
    "job swap { takes 3 h; needs battery }\n"
    expect_of(AFTER_LAUNCH(" met 2027-01-28"), "goal-missed", "launch", VERDICT_BROKEN, NULL);
    expect_of(AFTER_LAUNCH(" met 2027-01-28"), "order-now", "battery", VERDICT_BROKEN, NULL);
    expect_of(AFTER_LAUNCH(" met 2027-02-05"), "goal-missed", "launch", VERDICT_BROKEN,
              "`launch` asked that all is ready by 2027-02-01; it was on 2027-02-05, 4 days later");
    expect_of(AFTER_LAUNCH(" met 2027-04-01"), "goal-missed", "launch", VERDICT_BROKEN,
              "`launch` is said to be met on 2027-04-01, which is still to come: today is 2027-03-01");
    Compiled c;
    compile_jobs(&c, AFTER_LAUNCH(""));
    const Finding *finding = finding_on(&c, "goal-missed", "launch");
    assert_non_null(finding);
    assert_non_null(strstr(finding->remedies->next->text, "`ready 2027-02-01 met`"));
    done_with(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_day_to_order_by_hangs_on_no_other_job),
        cmocka_unit_test(what_a_thing_is_fitted_with_has_a_lead_of_its_own),
        cmocka_unit_test(the_day_to_order_by_covers_the_work_behind),
        cmocka_unit_test(a_day_that_has_passed_stays_where_it_is),
        cmocka_unit_test(one_hole_does_not_silence_the_rest),
        cmocka_unit_test(what_comes_just_as_late_is_told_together),
        cmocka_unit_test(what_comes_nearly_as_late_is_told_with_it),
        cmocka_unit_test(what_may_hold_all_up_is_open),
        cmocka_unit_test(what_came_after_its_job_was_done_is_told),
        cmocka_unit_test(a_day_missed_for_certain_names_the_way_that_misses_it),
        cmocka_unit_test(what_else_is_open_is_the_same_with_it_and_without),
        cmocka_unit_test(what_may_come_before_anything_waits_for_it_is_open),
        cmocka_unit_test(a_missed_day_names_what_comes_too_late),
        cmocka_unit_test(a_job_that_has_begun_may_be_all_to_do_when_its_thing_comes),
        cmocka_unit_test(a_job_that_is_over_its_time_is_told),
        cmocka_unit_test(a_goal_that_was_met_stays_met),
        cmocka_unit_test(a_done_job_has_what_it_needs),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
