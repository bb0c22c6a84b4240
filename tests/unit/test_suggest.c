/*
 * Near spellings.
 *
 * Distances are checked against the definition: the recursion of the optimal string alignment distance, as it
 * stands below, on thousands of pairs of short words; and against textbook pairs (from memory).
 */
#include "base/arena.h"
#include "base/buf.h"
#include "language/suggest.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

/* The distance at which `candidate` is suggested for `word`; -1 if it is not. */
static int suggested_at(const char *word, const char *candidate)
{
    Suggestions suggestions = suggest_begin(str_from(word));

    suggest_offer(&suggestions, str_from(candidate));
    return suggestions.count ? suggestions.distance[0] : -1;
}

static int least(int a, int b)
{
    return a < b ? a : b;
}

/* The definition: prefixes of i and j letters. */
static int by_definition(const char *a, const char *b, int i, int j)
{
    int best;

    if (i == 0 || j == 0) {
        return i + j;
    }
    best = by_definition(a, b, i - 1, j - 1) + (a[i - 1] != b[j - 1]);
    best = least(best, by_definition(a, b, i - 1, j) + 1);
    best = least(best, by_definition(a, b, i, j - 1) + 1);
    if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        best = least(best, by_definition(a, b, i - 2, j - 2) + 1);
    }
    return best;
}

/* A word of up to seven letters out of a, b, c from a number; every number gives one. */
static void word_of(unsigned number, char word[8])
{
    int length = (int)(number % 8);

    number /= 8;
    for (int i = 0; i < length; i++) {
        word[i] = (char)('a' + number % 3);
        number /= 3;
    }
    word[length] = '\0';
}

/* The header's rule: a third of the length, at least 1, at most 3; not the word itself, and not all edits. */
static int expected_at(const char *a, const char *b)
{
    int length = (int)strlen(a);
    int longer = length > (int)strlen(b) ? length : (int)strlen(b);
    int limit = length / 3 < 1 ? 1 : length / 3;
    int distance = by_definition(a, b, length, (int)strlen(b));

    return distance > 0 && distance <= least(limit, 3) && distance < longer ? distance : -1;
}

static void short_words_are_as_far_apart_as_the_definition_says(void **state)
{
    unsigned seed = 1;
    int near = 0;

    (void)state;
    for (int i = 0; i < 4000; i++) {
        char a[8];
        char b[8];

        seed = seed * 1664525u + 1013904223u;
        word_of(seed >> 8, a);
        seed = seed * 1664525u + 1013904223u;
        word_of(seed >> 8, b);
        near += expected_at(a, b) > 0;
        if (suggested_at(a, b) != expected_at(a, b)) {
            fail_msg("%s and %s: %d, not %d", a, b, suggested_at(a, b), expected_at(a, b));
        }
    }
    assert_true(near > 100);
}

/* The three edits of kitten and sitting: the standing example of every textbook (from memory). */
static void kitten_and_sitting_are_three_apart(void **state)
{
    (void)state;
    assert_int_equal(suggested_at("kitten---", "sitting---"), 3);
}

static void a_swap_of_neighbours_is_one_edit(void **state)
{
    (void)state;
    assert_int_equal(suggested_at("circiut", "circuit"), 1);
    assert_int_equal(suggested_at("fedb-y", "fed-by"), 1);
}

static void a_swap_is_not_edited_again(void **state)
{
    (void)state;
    /* The textbook pair (from memory): ca to abc is 3 by optimal string alignment, 2 without restriction. */
    assert_int_equal(suggested_at("ca------", "abc------"), -1);
    assert_int_equal(suggested_at("ca-------", "abc-------"), 3);
}

static void a_third_of_the_length_may_be_wrong(void **state)
{
    (void)state;
    assert_int_equal(suggested_at("tanc", "tank"), 1);
    assert_int_equal(suggested_at("tonc", "tank"), -1);
    assert_int_equal(suggested_at("pannal", "panel"), 2);
    assert_int_equal(suggested_at("pamnall", "panel"), -1);
}

static void never_more_than_three_edits_are_near(void **state)
{
    (void)state;
    assert_int_equal(suggested_at("terminals-coverXXX", "terminals-covered"), 3);
    assert_int_equal(suggested_at("terminals-covXXXXX", "terminals-covered"), -1);
    assert_int_equal(suggested_at("terminals", "terminals-covered"), -1);
}

static void capitals_are_one_edit(void **state)
{
    (void)state;
    assert_int_equal(suggested_at("LIFEPO4", "lifepo4"), 1);
    assert_int_equal(suggested_at("V", "v"), 1);
    assert_int_equal(suggested_at("Main-Engine", "main-engine"), 1);
}

static void the_word_itself_and_a_wholly_other_one_are_not_suggested(void **state)
{
    (void)state;
    assert_int_equal(suggested_at("bank", "bank"), -1);
    assert_int_equal(suggested_at("a", "b"), -1);
    assert_int_equal(suggested_at("", "b"), -1);
    assert_int_equal(suggested_at("", ""), -1);
    assert_int_equal(suggested_at("a", "ab"), 1);
}

static void check_best(const Suggestions *suggestions, int i, const char *expected)
{
    assert_true(i < suggestions->count);
    assert_true(str_is(suggestions->best[i], expected));
}

static void the_nearest_comes_first_and_ties_stay_in_order(void **state)
{
    Suggestions suggestions = suggest_begin(STR("lamps-aft"));

    (void)state;
    suggest_offer(&suggestions, STR("lamp-aft1"));
    suggest_offer(&suggestions, STR("lamps-bft"));
    suggest_offer(&suggestions, STR("lamps-cft"));
    suggest_offer(&suggestions, STR("engine"));
    assert_int_equal(suggestions.count, 3);
    check_best(&suggestions, 0, "lamps-bft");
    check_best(&suggestions, 1, "lamps-cft");
    check_best(&suggestions, 2, "lamp-aft1");
}

static void only_three_are_kept_and_a_nearer_one_pushes_the_last_out(void **state)
{
    Suggestions suggestions = suggest_begin(STR("lamps-aft"));

    (void)state;
    suggest_offer(&suggestions, STR("lamp-aft1"));
    suggest_offer(&suggestions, STR("lamp-aft2"));
    suggest_offer(&suggestions, STR("lamp-aft3"));
    suggest_offer(&suggestions, STR("lamp-aft4"));
    suggest_offer(&suggestions, STR("lamps-a"));
    suggest_offer(&suggestions, STR("lamps-af"));
    assert_int_equal(suggestions.count, 3);
    check_best(&suggestions, 0, "lamps-af");
    check_best(&suggestions, 1, "lamp-aft1");
    check_best(&suggestions, 2, "lamp-aft2");
}

static void a_candidate_that_is_offered_twice_is_kept_once(void **state)
{
    Suggestions suggestions = suggest_begin(STR("banc"));

    (void)state;
    suggest_offer(&suggestions, STR("bank"));
    suggest_offer(&suggestions, STR("bank"));
    assert_int_equal(suggestions.count, 1);
}

static void very_long_words_are_compared_too(void **state)
{
    static char a[200001];
    static char b[200001];

    (void)state;
    memset(a, 'a', sizeof a - 1);
    memset(b, 'a', sizeof b - 1);
    b[100000] = 'b';
    assert_int_equal(suggested_at(a, b), 1);
    memset(b, 'b', sizeof b - 1);
    assert_int_equal(suggested_at(a, b), -1);
}

static void check_written(Arena *arena, const Suggestions *suggestions, const char *expected)
{
    Buf buf;

    buf_init(&buf, arena);
    assert_int_equal(suggest_write(&buf, suggestions), expected[0] != '\0');
    assert_true(str_is(buf_str(&buf), expected));
}

static void suggestions_are_written_as_an_enumeration(void **state)
{
    Arena arena;
    jmp_buf out_of_memory;
    Suggestions suggestions = suggest_begin(STR("main-engin"));

    (void)state;
    arena_init(&arena, allocator_standard(), &out_of_memory);
    check_written(&arena, &suggestions, "");
    suggest_offer(&suggestions, STR("main-engine"));
    check_written(&arena, &suggestions, "`main-engine`");
    suggest_offer(&suggestions, STR("main-engines"));
    check_written(&arena, &suggestions, "`main-engine` or `main-engines`");
    suggest_offer(&suggestions, STR("mean-engine"));
    check_written(&arena, &suggestions, "`main-engine`, `main-engines` or `mean-engine`");
    arena_free(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(short_words_are_as_far_apart_as_the_definition_says),
        cmocka_unit_test(kitten_and_sitting_are_three_apart),
        cmocka_unit_test(a_swap_of_neighbours_is_one_edit),
        cmocka_unit_test(a_swap_is_not_edited_again),
        cmocka_unit_test(a_third_of_the_length_may_be_wrong),
        cmocka_unit_test(never_more_than_three_edits_are_near),
        cmocka_unit_test(capitals_are_one_edit),
        cmocka_unit_test(the_word_itself_and_a_wholly_other_one_are_not_suggested),
        cmocka_unit_test(the_nearest_comes_first_and_ties_stay_in_order),
        cmocka_unit_test(only_three_are_kept_and_a_nearer_one_pushes_the_last_out),
        cmocka_unit_test(a_candidate_that_is_offered_twice_is_kept_once),
        cmocka_unit_test(very_long_words_are_compared_too),
        cmocka_unit_test(suggestions_are_written_as_an_enumeration),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
