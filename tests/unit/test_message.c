/*
 * The list of mistakes: each kept once, in the order of their places, forgotten again where a try is given up, and never
 * so many that keeping them takes for ever.
 */
#include "check.h"

#include "text/message.h"

#include <ctype.h>

static Arena arena;
static Messages messages;

static int begin(void **state)
{
    (void)state;
    arena = check_arena();
    messages_init(&messages, &arena);
    return 0;
}

static int end(void **state)
{
    (void)state;
    arena_free(&arena);
    return 0;
}

static Message *report(MessageId id, uint32_t at)
{
    return message_report(&messages, id, (Span){at, at + 1}, "at %u", at);
}

static void names_are_words_and_differ(void **state)
{
    (void)state;
    for (int i = 0; i < MESSAGE_COUNT; i++) {
        assert_true(strlen(message_kinds[i].meaning) > 10);
        for (const char *c = message_kinds[i].name; *c != 0; c++) {
            assert_true(islower((unsigned char)*c) || isdigit((unsigned char)*c) || *c == '-');
        }
        for (int j = 0; j < i; j++) {
            assert_string_not_equal(message_kinds[i].name, message_kinds[j].name);
        }
    }
}

static void a_mistake_is_kept_once_with_its_first_words(void **state)
{
    (void)state;
    Message *first = report(MESSAGE_UNKNOWN_NAME, 5);
    message_right(&messages, first, "this");
    Message *again = message_report(&messages, MESSAGE_UNKNOWN_NAME, (Span){5, 6}, "other words");
    message_right(&messages, again, "that");
    message_note(&messages, again, (Span){1, 2}, "there");
    assert_ptr_not_equal(first, again);
    assert_int_equal(messages.count, 1);
    assert_string_equal(messages.first->right, "this");
    assert_null(messages.first->notes);
    report(MESSAGE_WRONG_KIND, 5);
    message_report(&messages, MESSAGE_UNKNOWN_NAME, (Span){5, 7}, "a longer place");
    assert_int_equal(messages.count, 3);
}

static void of_the_whole_spec_words_tell_mistakes_apart(void **state)
{
    (void)state;
    message_report_whole(&messages, MESSAGE_PICK_UNKNOWN, "one");
    message_report_whole(&messages, MESSAGE_PICK_UNKNOWN, "two");
    message_report_whole(&messages, MESSAGE_PICK_UNKNOWN, "one");
    assert_int_equal(messages.count, 2);
}

static void they_are_sorted_by_place_with_those_of_the_whole_last(void **state)
{
    (void)state;
    message_report_whole(&messages, MESSAGE_NO_BOAT, "no boat");
    uint64_t seed = 3;
    for (int i = 0; i < 100; i++) {
        report(MESSAGE_UNKNOWN_NAME, (uint32_t)random_below(&seed, 1000));
    }
    messages_sort(&messages);
    uint32_t at = 0;
    uint32_t count = 0;
    for (const Message *m = messages.first; m != NULL; m = m->next) {
        assert_true(m->placed ? m->at.start >= at : m == messages.last);
        at = m->at.start;
        count++;
    }
    assert_int_equal(count, messages.count);
    assert_false(messages.last->placed);
}

static void a_try_that_is_given_up_can_be_told_again(void **state)
{
    (void)state;
    report(MESSAGE_UNKNOWN_NAME, 1);
    MessagesMark mark = messages_mark(&messages);
    report(MESSAGE_UNKNOWN_NAME, 2);
    report(MESSAGE_UNKNOWN_NAME, 3);
    messages_rewind(&messages, mark);
    assert_int_equal(messages.count, 1);
    report(MESSAGE_UNKNOWN_NAME, 1);
    report(MESSAGE_UNKNOWN_NAME, 2);
    assert_int_equal(messages.count, 2);
    assert_int_equal(messages.last->at.start, 2);
}

static void notes_keep_their_order(void **state)
{
    (void)state;
    Message *m = report(MESSAGE_NAME_TWICE, 1);
    message_note(&messages, m, (Span){9, 10}, "one");
    message_note(&messages, m, (Span){4, 5}, "two");
    assert_string_equal(m->notes->text, "one");
    assert_string_equal(m->notes->next->text, "two");
    assert_null(m->notes->next->next);
}

static void more_than_anybody_reads_is_not_kept(void **state)
{
    (void)state;
    for (uint32_t i = 0; i < MESSAGES_MOST; i++) {
        report(MESSAGE_UNKNOWN_NAME, i);
    }
    assert_false(messages.more);
    for (uint32_t i = 0; i < 1000; i++) {
        Message *m = report(MESSAGE_UNKNOWN_NAME, MESSAGES_MOST + i);
        message_note(&messages, m, (Span){0, 1}, "a note");
        message_right(&messages, m, "something");
    }
    message_report_whole(&messages, MESSAGE_NO_BOAT, "no boat");
    assert_true(messages.more);
    assert_int_equal(messages.count, MESSAGES_MOST);
    assert_int_equal(messages.last->at.start, MESSAGES_MOST - 1);
    assert_null(messages.spill.notes);
    assert_null(messages.spill.right);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(names_are_words_and_differ),
        TEST(a_mistake_is_kept_once_with_its_first_words),
        TEST(of_the_whole_spec_words_tell_mistakes_apart),
        TEST(they_are_sorted_by_place_with_those_of_the_whole_last),
        TEST(a_try_that_is_given_up_can_be_told_again),
        TEST(notes_keep_their_order),
        TEST(more_than_anybody_reads_is_not_kept),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
