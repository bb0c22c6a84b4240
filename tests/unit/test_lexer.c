/*
 * The lexer: which tokens a text falls into, and that a bad one is told once and handed on as such. The words of the
 * messages are tested by the specs in tests/wrong/.
 */
#include "check.h"

#include "base/buf.h"
#include "syntax/token.h"

#include <stdio.h>

static const char *const kind_words[] = {
    [TOKEN_END] = "end",        [TOKEN_NEWLINE] = "newline",     [TOKEN_COMMENT] = "comment",
    [TOKEN_WORD] = "word",      [TOKEN_NUMBER] = "number",       [TOKEN_TEXT] = "text",
    [TOKEN_LONG_TEXT] = "long", [TOKEN_DATE] = "date",           [TOKEN_CLOCK] = "clock",
    [TOKEN_PERCENT] = "%",      [TOKEN_SLASH] = "/",             [TOKEN_TO] = "..",
    [TOKEN_TOLERANCE] = "+/-",  [TOKEN_AT_LEAST] = ">=",         [TOKEN_AT_MOST] = "<=",
    [TOKEN_HOLE] = "?",         [TOKEN_COMMA] = ",",             [TOKEN_DOT] = ".",
    [TOKEN_SEMICOLON] = ";",    [TOKEN_OPEN] = "{",              [TOKEN_CLOSE] = "}",
    [TOKEN_BAD] = "bad",
};

/* The kinds of all tokens of a text, a blank between; the number of messages in *told. */
static const char *tokens(Arena *arena, const char *text, size_t length, uint32_t *told)
{
    Sources sources;
    Messages messages;
    Lexer lexer;
    Buf found;
    sources_init(&sources, arena);
    messages_init(&messages, arena);
    char *copy = arena_alloc(arena, length + 1);
    memcpy(copy, text, length);
    const Source *source = sources_add(&sources, STR("test"), copy, length);
    lexer_init(&lexer, source, &messages);
    buf_init(&found, arena);
    uint32_t at = source->base;
    for (;;) {
        lexer_next(&lexer);
        Token token = lexer.token;
        assert_true(token.span.start >= at && token.span.end >= token.span.start);
        at = token.span.end;
        if (token.kind == TOKEN_END) {
            break;
        }
        buf_format(&found, "%s%s", found.length > 0 ? " " : "", kind_words[token.kind]);
    }
    *told = messages.count;
    return found.length > 0 ? found.text : "";
}

static void expect(const char *text, const char *kinds, uint32_t messages)
{
    Arena arena = check_arena();
    uint32_t told;
    const char *found = tokens(&arena, text, strlen(text), &told);
    if (strcmp(found, kinds) != 0 || told != messages) {
        print_error("`%s` gives `%s` and %u messages, expected `%s` and %u\n", text, found, told, kinds, messages);
        fail();
    }
    arena_free(&arena);
}

static void words_and_numbers_fall_apart_where_they_should(void **state)
{
    (void)state;
    expect("fed-by main", "word word", 0);
    expect("4.5A", "number word", 0);
    expect("-0.35 m", "number word", 0);
    expect("12_500 EUR", "number word", 0);
    expect("2/0 AWG", "number / number word", 0);
    expect("1 1/2 in", "number number / number word", 0);
    expect("16..8 AWG", "number .. number word", 0);
    expect("30..50", "number .. number", 0);
    expect("lamps.count", "word . word", 0);
    expect("500 W +/- 10 %", "number word +/- number %", 0);
    expect(">= 500 Ah", ">= number word", 0);
    expect("%/degC", "% / word", 0);
    expect("5-B", "word", 0);
    expect("a { b; c }", "word { word ; word }", 0);
    expect("?", "?", 0);
}

static void dates_and_times_are_told_from_numbers(void **state)
{
    (void)state;
    expect("2026-03-14", "date", 0);
    expect("18:30", "clock", 0);
    expect("18:00..23:00", "clock .. clock", 0);
    expect("24:00", "clock", 0);
    expect("2024-02-29", "date", 0);
    expect("2026-02-29", "bad", 1);
    expect("24:01", "bad", 1);
    expect("7:60", "bad", 1);
}

static void texts_end_where_they_end(void **state)
{
    (void)state;
    expect("\"a \\\" b \\\\\" c", "text word", 0);
    expect("\"\"", "text", 0);
    expect("\"a\" # \"b", "text comment", 0);
    expect("\"\"\"\n a\n  \"\"\"\nb", "long newline word", 0);
    expect("\"\"\"\r\n a\r\n\"\"\"\r\n", "long newline", 0);
    expect("\"a", "bad", 1);
    expect("\"a {\nb", "bad { newline word", 1);
    expect("\"a }\nb", "bad } newline word", 1);
    expect("\"a { b }\nc", "bad { word } newline word", 1);
    expect("\"a \\n b \\t c\"", "bad", 1);
    expect("\"\"\"a\"\"\"\nb", "bad newline word", 1);
    expect("\"\"\"\n a\nb", "bad newline word", 1);
}

static void a_bad_token_is_told_once(void **state)
{
    (void)state;
    expect("1,5 kg", "bad word", 1);
    expect("1,250,000.50 EUR", "bad word", 1);
    expect("1.250.000", "bad", 1);
    expect("12'500", "bad", 1);
    expect("6'3\" long", "bad word", 1);
    expect("3/4\"", "number / bad", 1);
    expect("18:00-22:00", "bad", 1);
    expect("18:00 \xE2\x80\x93 22:00", "bad", 1);
    expect("\xE2\x80\x9Ctwo words\xE2\x80\x9D next", "bad word", 1);
    expect("a\xC2\xA0\xC2\xA0" "b", "word bad word", 1);
    expect("a_b c", "word word", 1);
    expect("a\xC3\xA9_b c", "bad word", 1);
    expect("a\xE2\x80\x91" "b c", "word word", 1);
    expect("4 A\xE2\x80\x93" "6 A", "number word bad number word", 1);
    expect("2026\xE2\x80\x91" "03\xE2\x80\x91" "14 a", "bad word", 1);
    expect("(a) b", "bad word bad word", 1);
    expect("k\xC3\xBChlbox {", "bad {", 1);
    expect("2.5 mm\xC2\xB2", "number bad", 1);
    expect("2.5 mm^2", "number bad", 1);
    expect("@@@ a", "bad word", 1);
    expect("16\xE2\x80\x93" "20 A", "bad word", 1);
    expect("1-\xC2\xAD" "1/4 in", "bad word", 1);
    expect("1 - 2 m", "bad word", 1);
    expect("fed\xE2\x80\x94" "by a", "word word", 1);
    expect("a l\xE2\x80\x91" "3", "word word", 1);
}

/* A NUL in the middle is a strange character, not the end; and what is cut off in a character does no harm. */
static void odd_bytes_end_nothing(void **state)
{
    (void)state;
    Arena arena = check_arena();
    uint32_t told;
    assert_string_equal(tokens(&arena, "a \0 b\nc", 7, &told), "word bad newline word");
    assert_int_equal(told, 1);
    assert_string_equal(tokens(&arena, "\"a\0b\"", 5, &told), "bad");
    assert_string_equal(tokens(&arena, "a \xE2", 3, &told), "word bad");
    assert_int_equal(told, 1);
    assert_string_equal(tokens(&arena, "a \xE2\x80", 4, &told), "word bad bad");
    assert_string_equal(tokens(&arena, "", 0, &told), "");
    arena_free(&arena);
}

/* Any bytes whatever: the lexer comes to the end, and each bad token has a message or is one of several alike. */
static void chance_comes_to_an_end(void **state)
{
    (void)state;
    uint64_t seed = 20270301;
    for (int round = 0; round < 2000; round++) {
        Arena arena = check_arena();
        char text[64];
        size_t length = (size_t)random_below(&seed, (int)sizeof text);
        for (size_t i = 0; i < length; i++) {
            text[i] = (char)random_below(&seed, 256);
        }
        uint32_t told;
        bool bad = strstr(tokens(&arena, text, length, &told), "bad") != NULL;
        assert_true(bad == (told > 0));
        arena_free(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_and_numbers_fall_apart_where_they_should),
        cmocka_unit_test(dates_and_times_are_told_from_numbers),
        cmocka_unit_test(texts_end_where_they_end),
        cmocka_unit_test(a_bad_token_is_told_once),
        cmocka_unit_test(odd_bytes_end_nothing),
        cmocka_unit_test(chance_comes_to_an_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
