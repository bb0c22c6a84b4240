/*
 * When service falls due, against days and readings worked by hand; and what the book's plan makes of it. How months are
 * added to a day is tested against the system's `date` elsewhere.
 */
#define _XOPEN_SOURCE 700

#include "unit/test_pictures.h"

#include "figures/maintenance.h"

#define BOAT                                                                                                 \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us " \
    "}\n"
#define STOVE(SAYS) BOAT "item stove { " SAYS " }\n"
#define ENGINE(SAYS) BOAT "engine iron { rated 20 kW at 3000 rpm; fuel diesel; " SAYS " }\n"

static void compile_clean(Compiled *c, const char *spec)
{
    compile_text(c, spec);
    if (c->spec->messages.first != NULL) {
        fail_msg("a mistake: %s", c->spec->messages.first->text);
    }
}

static void expect_range(const char *spec, const char *thing, FigureId id, double low, double high, double of)
{
    Compiled c;
    compile_clean(&c, spec);
    const Figure *figure = compiled_figure(&c, thing, id);
    assert_non_null(figure);
    assert_near(figure->low / of, low, 1e-9);
    assert_near(figure->high / of, high, 1e-9);
    compile_free(&c);
}

static void expect_day(const char *spec, const char *thing, Date low, Date high)
{
    expect_range(spec, thing, FIGURE_SERVICE_DUE, low, high, SECONDS_A_DAY);
}

static void expect_none(const char *spec, const char *thing, FigureId id)
{
    Compiled c;
    compile_clean(&c, spec);
    assert_null(compiled_figure(&c, thing, id));
    compile_free(&c);
}

static void months_and_years_are_those_of_the_calendar(void **state)
{
    (void)state;
    expect_day(STOVE("service every 12 month \"Sweep\" last 2026-10-04"), "stove", date_of(2027, 10, 4),
               date_of(2027, 10, 4));
    expect_day(STOVE("service every 1 month \"Sweep\" last 2027-01-31"), "stove", date_of(2027, 2, 28),
               date_of(2027, 2, 28));
    expect_day(STOVE("service every 2 year \"Sweep\" last 2024-02-29"), "stove", date_of(2026, 2, 28),
               date_of(2026, 2, 28));
    expect_day(STOVE("service every 2 week \"Sweep\" last 2027-02-20"), "stove", date_of(2027, 3, 6),
               date_of(2027, 3, 6));
    expect_day(STOVE("service every 6..12 month \"Sweep\" last 2026-10-04"), "stove", date_of(2027, 4, 4),
               date_of(2027, 10, 4));
}

static void the_first_of_several_counts_from_when_it_was_done_or_fitted(void **state)
{
    (void)state;
    expect_day(STOVE("fitted 2026-05-01; service every 12 month \"Sweep\"; service every 1 year \"Paint\" "
                     "last 2026-04-01"),
               "stove", date_of(2027, 4, 1), date_of(2027, 4, 1));
    expect_day(STOVE("fitted 2026-05-01; service every 12 month \"Sweep\""), "stove", date_of(2027, 5, 1),
               date_of(2027, 5, 1));
    expect_none(STOVE("service every 12 month \"Sweep\""), "stove", FIGURE_SERVICE_DUE);
}

static void expect_hours(const char *spec, const char *thing, double low, double high)
{
    expect_range(spec, thing, FIGURE_SERVICE_AT, low, high, 3600.0);
}

static void hours_count_from_the_reading(void **state)
{
    (void)state;
    expect_hours(ENGINE("hours 1240 h; service every 200 h \"Oil\" last 2026-09-01 at 1100 h"), "iron", 1300,
                 1300);
    expect_hours(ENGINE("hours 90 h; service every 150..200 h \"Oil\""), "iron", 150, 200);
    expect_none(ENGINE("hours 1240 h; service every 200 h \"Oil\""), "iron", FIGURE_SERVICE_AT);
    expect_none(ENGINE("hours 1240 h; service every 200 h \"Oil\" last 2026-09-01"), "iron",
                FIGURE_SERVICE_AT);
    expect_none(ENGINE("service every 200 h \"Oil\""), "iron", FIGURE_SERVICE_AT);
}

/* The filter belongs to the only engine aboard; to neither of two. */
static void things_count_by_the_hours_of_their_engine(void **state)
{
    (void)state;
    expect_hours(ENGINE("hours 30 h") "item filter { service every 100 h \"Change\" }\n", "filter", 100, 100);
    expect_none(ENGINE("hours 30 h") "engine second { rated 5 kW at 3000 rpm; fuel diesel; hours 10 h }\n"
                                     "item filter { service every 100 h \"Change\" }\n",
                "filter", FIGURE_SERVICE_AT);
}

#define GENSET(SAYS) "generator genset { rated 3500 W at 230 V; " SAYS " }\n"

/* A generator has a meter of its own, whatever the engine's shows; so has what leads fuel to it. */
static void a_generator_counts_its_own_hours(void **state)
{
    (void)state;
    expect_hours(ENGINE("hours 820 h") GENSET("hours 430 h; service every 100 h \"Oil\" last 2026-09-01 at 310 h"),
                 "genset", 410, 410);
    expect_hours(ENGINE("hours 820 h") GENSET("hours 30 h; service every 100 h \"Oil\""), "genset", 100, 100);
    expect_hours(BOAT "tank fuel { holds fuel; capacity 90 l }\n" GENSET("hours 30 h")
                     "engine iron { rated 20 kW at 3000 rpm; fuel diesel; hours 820 h }\n"
                     "fuel-line feed { from fuel; to genset; service every 50 h \"Filter\" }\n",
                 "feed", 50, 50);
    expect_hours(BOAT GENSET("hours 30 h") "item filter { service every 60 h \"Change\" }\n", "filter", 60, 60);
}

static void expect_found(const char *spec, const char *message)
{
    Compiled c;
    compile_clean(&c, spec);
    const Finding *finding = compiled_finding(&c, "service-overdue");
    if (message == NULL) {
        assert_null(finding);
    } else {
        assert_non_null(finding);
        assert_string_equal(finding->message, message);
    }
    compile_free(&c);
}

static void what_is_overdue_is_told_by_day_and_by_hours(void **state)
{
    (void)state;
    expect_found(STOVE("service every 12 month \"Sweep\" last 2026-02-28"),
                 "\"Sweep\" of `stove` was due on 2027-02-28");
    expect_found(STOVE("service every 12 month \"Sweep\" last 2026-03-01"), NULL); /* today is its day */
    expect_found(ENGINE("hours 1310 h; service every 200 h \"Oil\" last 2026-09-01 at 1100 h"),
                 "\"Oil\" of `iron` was due at 1300 h; the meter of `iron` shows 1310 h");
    expect_found(ENGINE("hours 1290 h; service every 200 h \"Oil\" last 2026-09-01 at 1100 h"), NULL);
    expect_found(ENGINE("hours 1290..1310 h; service every 200 h \"Oil\" last 2026-09-01 at 1100 h"),
                 "\"Oil\" of `iron` may have been due at 1300 h; the meter of `iron` shows 1290..1310 h");
    expect_found(ENGINE("hours 820 h") GENSET("hours 430 h; service every 100 h \"Oil\" last 2026-09-01 at 310 h"),
                 "\"Oil\" of `genset` was due at 410 h; the meter of `genset` shows 430 h");
    expect_found(BOAT GENSET("hours 12107 h; service every 150 h \"Oil\" last 2026-09-01 at 11953 h"), /* each of its digits counts */
                 "\"Oil\" of `genset` was due at 12103 h; the meter of `genset` shows 12107 h");
    Compiled c; /* a meter that nobody has read is missing, once */
    compile_clean(&c, BOAT GENSET("service every 100 h \"Oil\" last 2026-09-01 at 310 h"));
    assert_null(compiled_finding(&c, "service-overdue"));
    const Finding *missing = compiled_finding(&c, "unmeasured");
    while (missing != NULL && strstr(missing->message, "states no `hours`") == NULL) {
        missing = missing->next;
    }
    assert_non_null(missing);
    compile_free(&c);
}

static void the_book_plans_the_year_with_its_parts(void **state)
{
    (void)state;
    Made made;
    make(
        &made,
        ENGINE(
            "hours 1240 h\n service every 200 h \"Oil\" last 2026-09-01 at 1000 h with oil-filter and "
            "sump-oil\n"
            "service every 6 month \"Impeller\" last 2026-12-15 with impeller") "item oil-filter { spare 2 "
                                                                                "}\nitem sump-oil { price 30 "
                                                                                "EUR }\nitem impeller { "
                                                                                "spare 1 }\n"
                                                                                "item stove { service every "
                                                                                "1 month \"Sweep\"; service "
                                                                                "every 5 year \"Paint\" }\n");
    const char *book = text_of(&made, "book.md");
    expect_words(book, (const char *const[]){
                           "### Due now",
                           "| `iron` | Oil | `oil-filter`, `sump-oil` | 200 h | 2026-09-01 | 1200 h |",
                           "| 2027-06 | 2027-06-15 | `iron` | Impeller | `impeller` |",
                           "| 2027-12 | 2027-12-15 | `iron` | Impeller | `impeller` |",
                           "- every 1 month: `stove`, Sweep", "| `stove` | Paint | \xE2\x80\x93 | 5 year |",
                           "| `oil-filter` | item | 1 | 2 | 0 |", "| `sump-oil` | item | 1 | 0 | 1 |",
                           "| `impeller` | item | 2 | 1 | 1 |", NULL});
    compile_free(&made.compiled);
}

/* A new engine stands at 0 h. How often cannot be 0. */
static void service_may_have_been_done_at_no_hours(void **state)
{
    (void)state;
    expect_range(ENGINE("hours 0 h; service every 100 h \"Oil\" last 2026-11-01 at 0 h"), "iron", FIGURE_SERVICE_AT, 100.0, 100.0,
                 3600.0);
    Compiled c;
    compile_text(&c, ENGINE("service every 0 h \"Oil\" last 2026-11-01 at 0 h"));
    assert_int_equal(c.spec->messages.count, 1);
    compile_free(&c);
}

/* Four anodes are renewed with four: taken 4, one carried, 3 lacking, and one spare is not enough; without a number one of each. */
static void a_service_says_how_many_of_a_part_it_takes(void **state)
{
    (void)state;
    static const char *const with[] = {"with 4 zinc", "with zinc"};
    static const char *const parts[] = {"| `zinc` | anode | 4 | 1 | 3 |", "| `zinc` | anode | 1 | 1 | 0 |"};
    for (size_t i = 0; i < 2; i++) {
        Made made;
        char spec[600];
        snprintf(spec, sizeof spec, BOAT "anode zinc { protects wren; material zinc; count 4; spare 1; service every 12 month \"Renew all\" "
                                         "last 2026-03-01 %s }\n", with[i]);
        make(&made, spec);
        assert_null(made.compiled.spec->messages.first);
        expect_words(text_of(&made, "book.md"), (const char *const[]){parts[i], i == 0 ? "4 x `zinc`" : "`zinc`", NULL});
        const Finding *lacks = compiled_finding(&made.compiled, "service-parts");
        assert_true((lacks != NULL) == (i == 0));
        compile_free(&made.compiled);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(service_may_have_been_done_at_no_hours),
        cmocka_unit_test(months_and_years_are_those_of_the_calendar),
        cmocka_unit_test(the_first_of_several_counts_from_when_it_was_done_or_fitted),
        cmocka_unit_test(hours_count_from_the_reading),
        cmocka_unit_test(things_count_by_the_hours_of_their_engine),
        cmocka_unit_test(a_generator_counts_its_own_hours),
        cmocka_unit_test(what_is_overdue_is_told_by_day_and_by_hours),
        cmocka_unit_test(the_book_plans_the_year_with_its_parts),
        cmocka_unit_test(a_service_says_how_many_of_a_part_it_takes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
