/*
 * Tests of compiler/base: memory, words, texts, dates. The programs beside this one test numbers and
 * intervals.
 *
 * What dates are checked against: gmtime of the C library, the `date` tool, the rules of the Gregorian
 * calendar.
 */
#include "check.h"

#include "base/arena.h"
#include "base/buf.h"
#include "base/date.h"
#include "base/str.h"

#include <limits.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

/* ------------------------------------------------------------------------------------------------ memory */

/* An allocator that counts, hands out dirty memory, and gives up once `left` allocations are made. */
typedef struct Tally {
    int alive;
    int left;
} Tally;

static void *tally_allocate(void *context, size_t size)
{
    Tally *tally = context;
    if (tally->left-- <= 0) {
        return NULL;
    }
    tally->alive++;
    void *memory = malloc(size);
    return memory ? memset(memory, 0xA5, size) : NULL;
}

static void tally_release(void *context, void *memory)
{
    ((Tally *)context)->alive--;
    free(memory);
}

static Allocator tally_allocator(Tally *tally)
{
    return (Allocator){tally_allocate, tally_release, tally};
}

static bool all_zero(const char *memory, size_t size)
{
    for (size_t i = 0; i < size; i++) {
        if (memory[i] != 0) {
            return false;
        }
    }
    return true;
}

/* Allocates `count` pieces, checks and then dirties each. */
static void fill_arena(Arena *arena, int count)
{
    uint64_t chance = 1;
    for (int i = 0; i < count; i++) {
        size_t size = (size_t)random_below(&chance, i % 50 == 0 ? 200000 : 300);
        char *memory = arena_alloc(arena, size);
        assert_non_null(memory);
        assert_int_equal((uintptr_t)memory % ARENA_ALIGNMENT, 0);
        assert_true(all_zero(memory, size));
        memset(memory, 0x5A, size);
    }
}

static void arena_gives_zeroed_aligned_memory_that_does_not_overlap(void **state)
{
    (void)state;
    Arena arena = check_arena();
    fill_arena(&arena, 5000);
    arena_free(&arena);
    fill_arena(&arena, 500);
    arena_free(&arena);
}

static void arena_zeroes_what_a_careless_allocator_gives_and_returns_every_block(void **state)
{
    (void)state;
    Tally tally = {0, 1000000};
    Arena arena;
    arena_init(&arena, tally_allocator(&tally), NULL);
    fill_arena(&arena, 2000);
    assert_true(tally.alive > 1);
    arena_free(&arena);
    assert_int_equal(tally.alive, 0);
}

static void arena_grows_by_few_blocks(void **state)
{
    (void)state;
    Tally tally = {0, 1000000};
    Arena arena;
    arena_init(&arena, tally_allocator(&tally), NULL);
    for (int i = 0; i < 100000; i++) {
        arena_alloc(&arena, 48); /* 4.8 MB in all: blocks of 2 and 4 MiB */
    }
    assert_in_range(tally.alive, 2, 4);
    arena_free(&arena);
}

static void arena_jumps_where_memory_runs_out_and_still_gives_all_back(void **state)
{
    (void)state;
    static Tally tally; /* static: unchanged by the jump */
    static Arena arena;
    tally = (Tally){0, 3};
    jmp_buf failure;
    arena_init(&arena, tally_allocator(&tally), &failure);
    if (setjmp(failure) == 0) {
        for (;;) {
            arena_alloc(&arena, 1000);
        }
    }
    assert_int_equal(tally.alive, 3);
    arena_free(&arena);
    assert_int_equal(tally.alive, 0);
}

static void arena_jumps_at_a_size_that_no_memory_has(void **state)
{
    (void)state;
    static Arena arena;
    static volatile int jumps;
    static volatile size_t size = SIZE_MAX;
    jmp_buf failure;
    arena_init(&arena, allocator_standard(), &failure);
    arena_alloc(&arena, 1);
    jumps = 0;
    if (setjmp(failure) == 0) {
        arena_alloc(&arena, size);
    } else {
        jumps = jumps + 1;
    }
    assert_int_equal(jumps, 1);
    arena_free(&arena);
}

static void growing_keeps_the_content_and_zeroes_the_rest(void **state)
{
    (void)state;
    Tally tally = {0, 1000000};
    Arena arenas[2] = {check_arena(), check_arena()};
    arena_init(&arenas[1], tally_allocator(&tally), NULL);
    for (int a = 0; a < 2; a++) {
        uint64_t chance = 3;
        size_t size = 3;
        char *memory = arena_grow(&arenas[a], NULL, 0, size);
        memset(memory, 'x', size);
        while (size < 3000000) {
            size_t longer = size + size / 3 + 1;
            if (random_below(&chance, 3) == 0) {
                arena_alloc(&arenas[a], 10); /* in the way of growing in place */
            }
            memory = arena_grow(&arenas[a], memory, size, longer);
            assert_int_equal(memory[0], 'x');
            assert_int_equal(memory[size - 1], 'x');
            assert_true(all_zero(memory + size, longer - size));
            memset(memory, 'x', longer);
            size = longer;
        }
        arena_free(&arenas[a]);
    }
    assert_int_equal(tally.alive, 0);
}

static void growing_the_last_piece_stays_in_place(void **state)
{
    (void)state;
    Arena arena = check_arena();
    char *memory = arena_alloc(&arena, 100);
    assert_ptr_equal(arena_grow(&arena, memory, 100, 5000), memory);
    assert_ptr_equal(arena_grow(&arena, memory, 5000, 10), memory);
    arena_alloc(&arena, 1);
    assert_ptr_not_equal(arena_grow(&arena, memory, 5000, 5001), memory);
    arena_free(&arena);
}

static void a_big_table_that_grows_leaves_no_former_selves(void **state)
{
    (void)state;
    Tally tally = {0, 1000000};
    Arena arena;
    arena_init(&arena, tally_allocator(&tally), NULL);
    size_t size = 200000;
    void *table = arena_alloc(&arena, size);
    for (int i = 0; i < 6; i++) {
        arena_alloc(&arena, 100);
        table = arena_grow(&arena, table, size, size * 2);
        size *= 2;
    }
    assert_int_equal(tally.alive, 2); /* the table and the block of the small pieces */
    arena_free(&arena);
}

/* ---------------------------------------------------------------------------------------- words and texts */

static void texts_compare_bytewise(void **state)
{
    (void)state;
    assert_true(str_equal(STR("bilge"), str_from("bilge")));
    assert_false(str_equal(STR("bilge"), STR("bilges")));
    assert_true(str_equal(str_from(NULL), STR("")));
    assert_true(str_equal((Str){NULL, 0}, STR("")));
    assert_true(str_is(STR("keel"), "keel"));
    assert_true(str_compare(STR("a"), STR("b")) < 0);
    assert_true(str_compare(STR("ab"), STR("a")) > 0);
    assert_true(str_compare(STR("\xC3"), STR("z")) > 0); /* bytes are unsigned */
    assert_int_equal(str_compare(STR(""), (Str){NULL, 0}), 0);
    assert_true(str_starts(STR("keelson"), "keel"));
    assert_false(str_starts(STR("kee"), "keel"));
    assert_true(str_starts(STR("kee"), ""));
}

static void a_copy_ends_in_nul(void **state)
{
    (void)state;
    Arena arena = check_arena();
    assert_string_equal(str_copy(&arena, (Str){"frames", 5}), "frame");
    assert_string_equal(str_copy(&arena, (Str){NULL, 0}), "");
    arena_free(&arena);
}

static void interning_numbers_words_in_order_of_first_appearance(void **state)
{
    (void)state;
    enum { COUNT = 20000 };
    Arena arena = check_arena();
    Symbols *symbols = symbols_new(&arena);
    assert_int_equal(symbols_end(symbols), 1);
    for (int round = 0; round < 2; round++) {
        for (int i = 0; i < COUNT; i++) {
            /* lengths 1 to 24, so that every way of hashing is taken */
            const char *word = text_format(&arena, "%d%.*s", i, i % 20, ".bow-light-starboard");
            assert_int_equal(symbols_find(symbols, str_from(word)), round == 0 ? 0 : i + 1);
            assert_int_equal(symbols_intern(symbols, str_from(word)), i + 1);
            assert_str(symbols_text(symbols, (Symbol)(i + 1)), word);
        }
    }
    assert_int_equal(symbols_end(symbols), COUNT + 1);
    arena_free(&arena);
}

static void the_empty_word_and_symbol_zero_do_no_harm(void **state)
{
    (void)state;
    Arena arena = check_arena();
    Symbols *symbols = symbols_new(&arena);
    assert_int_equal(symbols_find(symbols, STR("")), 0);
    assert_int_equal(symbols_intern(symbols, (Str){NULL, 0}), 1);
    assert_int_equal(symbols_intern(symbols, STR("")), 1);
    assert_str(symbols_text(symbols, 0), "");
    assert_str(symbols_text(symbols, 99), "");
    arena_free(&arena);
}

static void a_buf_grows_and_always_ends_in_nul(void **state)
{
    (void)state;
    Arena arena = check_arena();
    Buf buf;
    buf_init(&buf, &arena);
    assert_string_equal(buf.text, "");
    for (int i = 0; i < 50000; i++) {
        buf_char(&buf, 'a');
        buf_text(&buf, "bc");
        buf_add(&buf, (Str){"def", 2});
        buf_format(&buf, "%d", i % 10);
        arena_alloc(&arena, 1);
    }
    assert_int_equal(buf.length, 50000 * 6);
    assert_int_equal(strlen(buf.text), buf.length);
    assert_memory_equal(buf.text + buf.length - 12, "abcde8abcde9", 12);
    arena_free(&arena);
}

static void formatting_holds_texts_of_any_length(void **state)
{
    (void)state;
    Arena arena = check_arena();
    for (int length = 0; length < 600; length++) {
        const char *text = text_format(&arena, "%*s", length, "");
        assert_int_equal(strlen(text), length);
        Buf buf;
        buf_init(&buf, &arena);
        buf_format(&buf, "%*s|", length, "");
        assert_int_equal(buf.length, length + 1);
        assert_int_equal(buf.text[length], '|');
    }
    arena_free(&arena);
}

/* Oracle: the C library's snprintf. */
static void formatting_agrees_with_the_c_library(void **state)
{
    (void)state;
    jmp_buf failure;
    Arena arena;
    arena_init(&arena, allocator_standard(), &failure);
    static const int numbers[] = {0, 7, -7, 10, -10, 4711, INT_MAX, INT_MIN};
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        char expected[200];
        int n = numbers[i];
        snprintf(expected, sizeof expected, "%d, %u: %s%c %.*s|%.*s 100%%", n, (unsigned)n, "fore", '&', 3,
                 "after", 0, "");
        const char *text = text_format(&arena, "%d, %u: %s%c %.*s|%.*s 100%%", n, (unsigned)n, "fore", '&', 3,
                                       "after", 0, "");
        assert_string_equal(text, expected);
        snprintf(expected, sizeof expected, "%s %5d %02d %zu", "mixed", n, n, (size_t)i);
        assert_string_equal(text_format(&arena, "%s %5d %02d %zu", "mixed", n, n, (size_t)i), expected);
    }
    arena_free(&arena);
}

/* ------------------------------------------------------------------------------------------------ dates */

static Date read_date(const char *text)
{
    Date date = 0;
    assert_true(date_read(str_from(text), &date));
    return date;
}

/* 0 is Sunday. 1970-01-01 was a Thursday. */
static int weekday(Date date)
{
    return (int)((((int64_t)date + 4) % 7 + 7) % 7);
}

static void days_of_the_calendar_are_read_and_no_others(void **state)
{
    (void)state;
    /* Leap years: divisible by 4, of centuries only those by 400 (Inter gravissimas, 1582; ISO 8601). */
    static const char *const RIGHT[] = {"2000-02-29", "2024-02-29", "1600-02-29", "1000-01-01",
                                        "9999-12-31", "2026-04-30", "2026-01-31"};
    static const char *const WRONG[] = {"1900-02-29", "2100-02-29",  "2026-02-29", "2026-04-31", "2026-00-10",
                                        "2026-13-01", "2026-01-00",  "2026-01-32", "0999-12-31", "2026-1-01",
                                        "2026/01/01", "2026-01-01 ", "26-01-01",   "",           "2026-01-0x",
                                        "-026-01-01", "2026-01_01",  "+026-01-01"};
    Date date;
    for (size_t i = 0; i < sizeof RIGHT / sizeof *RIGHT; i++) {
        assert_true(date_read(str_from(RIGHT[i]), &date));
    }
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        assert_false(date_read(str_from(WRONG[i]), &date));
    }
    assert_false(date_read((Str){NULL, 0}, &date));
}

static void days_are_counted_from_1970(void **state)
{
    (void)state;
    /* Counted by `date -u -d DAY +%s` of the GNU tools, divided by 86400. */
    assert_int_equal(read_date("1970-01-01"), 0);
    assert_int_equal(read_date("1969-12-31"), -1);
    assert_int_equal(read_date("2000-01-01"), 10957);
    assert_int_equal(read_date("2000-03-01"), 11017);
    assert_int_equal(read_date("2026-11-25"), 20782);
    assert_int_equal(read_date("1000-01-01"), -354285);
    assert_int_equal(read_date("9999-12-31"), 2932896);
}

static void weekdays_are_those_of_the_wall_calendar(void **state)
{
    (void)state;
    assert_int_equal(weekday(read_date("2026-11-25")), 3); /* `date`: Wednesday */
    assert_int_equal(weekday(read_date("2000-02-29")), 2); /* `date`: Tuesday */
    assert_int_equal(weekday(read_date("1582-10-15")), 5); /* the calendar's first day, a Friday */
}

static void every_day_agrees_with_gmtime_and_reads_back(void **state)
{
    (void)state;
    Arena arena = check_arena();
    Buf buf;
    buf_init(&buf, &arena);
    Date last = date_of(9999, 12, 31);
    for (Date date = date_of(1000, 1, 1); date <= last; date++) {
        int year;
        int month;
        int day;
        date_parts(date, &year, &month, &day);
        assert_true(date_of(year, month, day) == date);
        if (date % 7 != 0) {
            continue; /* gmtime and printing are slow, and a week fits no month and no year */
        }
        time_t seconds = (time_t)date * 86400;
        const struct tm *tm = gmtime(&seconds);
        assert_true(tm->tm_year + 1900 == year && tm->tm_mon + 1 == month && tm->tm_mday == day);
        buf.length = 0;
        date_write(&buf, date);
        assert_true(read_date(buf.text) == date);
    }
    arena_free(&arena);
}

static void assert_months_on(const char *from, int months, const char *expected)
{
    Arena arena = check_arena();
    Buf buf;
    buf_init(&buf, &arena);
    date_write(&buf, date_add_months(read_date(from), months));
    assert_str(buf_str(&buf), expected);
    arena_free(&arena);
}

static void months_on_end_at_the_last_day_of_a_shorter_month(void **state)
{
    (void)state;
    /* Common practice, no source; the leap days are the calendar's. */
    assert_months_on("2026-01-31", 1, "2026-02-28");
    assert_months_on("2024-01-31", 1, "2024-02-29");
    assert_months_on("2024-02-29", 12, "2025-02-28");
    assert_months_on("2026-11-25", 2, "2027-01-25");
    assert_months_on("2026-11-25", 0, "2026-11-25");
    assert_months_on("2026-03-31", -1, "2026-02-28");
    assert_months_on("2026-01-15", -13, "2024-12-15");
}

static void dates_far_out_stop_at_the_ends_of_the_calendar(void **state)
{
    (void)state;
    assert_months_on("2026-01-15", INT32_MAX, "9999-12-31");
    assert_months_on("2026-01-15", INT32_MIN, "1000-01-01");
    int year;
    int month;
    int day;
    date_parts(INT32_MAX, &year, &month, &day);
    assert_int_equal(date_of(year, month, day), INT32_MAX);
    date_parts(INT32_MIN, &year, &month, &day);
    assert_int_equal(date_of(year, month, day), INT32_MIN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(arena_gives_zeroed_aligned_memory_that_does_not_overlap),
        cmocka_unit_test(arena_zeroes_what_a_careless_allocator_gives_and_returns_every_block),
        cmocka_unit_test(arena_grows_by_few_blocks),
        cmocka_unit_test(arena_jumps_where_memory_runs_out_and_still_gives_all_back),
        cmocka_unit_test(arena_jumps_at_a_size_that_no_memory_has),
        cmocka_unit_test(growing_keeps_the_content_and_zeroes_the_rest),
        cmocka_unit_test(growing_the_last_piece_stays_in_place),
        cmocka_unit_test(a_big_table_that_grows_leaves_no_former_selves),
        cmocka_unit_test(texts_compare_bytewise),
        cmocka_unit_test(a_copy_ends_in_nul),
        cmocka_unit_test(interning_numbers_words_in_order_of_first_appearance),
        cmocka_unit_test(the_empty_word_and_symbol_zero_do_no_harm),
        cmocka_unit_test(a_buf_grows_and_always_ends_in_nul),
        cmocka_unit_test(formatting_holds_texts_of_any_length),
        cmocka_unit_test(formatting_agrees_with_the_c_library),
        cmocka_unit_test(days_of_the_calendar_are_read_and_no_others),
        cmocka_unit_test(days_are_counted_from_1970),
        cmocka_unit_test(weekdays_are_those_of_the_wall_calendar),
        cmocka_unit_test(every_day_agrees_with_gmtime_and_reads_back),
        cmocka_unit_test(months_on_end_at_the_last_day_of_a_shorter_month),
        cmocka_unit_test(dates_far_out_stop_at_the_ends_of_the_calendar),
    };
    return cmocka_run_group_tests_name("base", tests, NULL, NULL);
}
