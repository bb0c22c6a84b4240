/*
 * The drawing of source lines: exact pictures. What they must look like is the design of Garboard's own
 * output; that they keep a terminal safe is checked against the control characters of ECMA-48 and Unicode.
 */
#define _XOPEN_SOURCE 700

#include "test_output.h"

#include "text/snippet.h"

typedef struct Texts {
    Sources sources;
    Source *source;
} Texts;

static Texts one_text(Bench *bench, const char *text, size_t length)
{
    Texts texts;
    char *copy = arena_alloc(&bench->arena, length + 1);
    memcpy(copy, text, length);
    sources_init(&texts.sources, &bench->arena);
    texts.source = sources_add(&texts.sources, STR("wren.boat"), copy, length);
    return texts;
}

/* The place of a piece of a source's text. */
static Span span_of(const Source *source, const char *piece)
{
    const char *at = strstr(source->text, piece);
    assert_non_null(at);
    uint32_t start = source->base + (uint32_t)(at - source->text);
    return (Span){start, start + (uint32_t)strlen(piece)};
}

static void draw(Bench *bench, const Texts *texts, const SnippetMark *marks, size_t count)
{
    buf_init(&bench->buf, &bench->arena);
    snippet_write(&bench->buf, &texts->sources, marks, count, COLOUR_OFF, TINT_RED);
}

static void expect_one(void **state, const char *text, const char *piece, const char *drawn)
{
    Bench *bench = *state;
    Texts texts = one_text(bench, text, strlen(text));
    draw(bench, &texts, (SnippetMark[]){{.at = span_of(texts.source, piece)}}, 1);
    assert_str(buf_str(&bench->buf), drawn);
}

static const char GALLEY[] = "circuit galley {\n"
                             "  fed-by main\n"
                             "  wire 2.5 mm2\n"
                             "  protect 30 A breaker\n"
                             "}\n";

static void a_place_is_underlined_with_what_is_to_be_seen_there(void **state)
{
    Bench *bench = *state;
    Texts texts = one_text(bench, GALLEY, strlen(GALLEY));
    SnippetMark marks[] = {
        {.at = span_of(texts.source, "2.5 mm2"), .text = "ampacity 21 A"},
        {.at = span_of(texts.source, "30 A"), .text = "limits the current to 30 A", .secondary = true},
    };
    draw(bench, &texts, marks, 2);
    assert_str(buf_str(&bench->buf), "    3 |   wire 2.5 mm2\n"
                                     "      |        ^^^^^^^ ampacity 21 A\n"
                                     "    4 |   protect 30 A breaker\n"
                                     "      |           ---- limits the current to 30 A\n");
}

static void places_stand_in_the_order_of_the_text_and_a_line_stands_once(void **state)
{
    Bench *bench = *state;
    Texts texts = one_text(bench, GALLEY, strlen(GALLEY));
    SnippetMark marks[] = {
        {.at = span_of(texts.source, "breaker"), .text = "last"},
        {.at = span_of(texts.source, "galley"), .secondary = true},
        {.at = span_of(texts.source, "30 A"), .text = "before it", .secondary = true},
    };
    draw(bench, &texts, marks, 3);
    assert_str(buf_str(&bench->buf), "    1 | circuit galley {\n"
                                     "      |         ------\n"
                                     "    4 |   protect 30 A breaker\n"
                                     "      |           ---- before it\n"
                                     "      |                ^^^^^^^ last\n");
}

static void two_marks_at_one_place_become_one(void **state)
{
    Bench *bench = *state;
    Texts texts = one_text(bench, GALLEY, strlen(GALLEY));
    SnippetMark marks[] = {
        {.at = span_of(texts.source, "galley"), .text = "here", .secondary = true},
        {.at = span_of(texts.source, "galley")},
    };
    draw(bench, &texts, marks, 2);
    assert_str(buf_str(&bench->buf), "    1 | circuit galley {\n"
                                     "      |         ^^^^^^ here\n");
}

static void another_file_is_named_above_its_lines(void **state)
{
    Bench *bench = *state;
    Texts texts = one_text(bench, GALLEY, strlen(GALLEY));
    char other[] = "load lamp { draw 2 A }";
    const Source *second = sources_add(&texts.sources, STR("parts/lamps.boat"), other, strlen(other));
    SnippetMark marks[] = {
        {.at = span_of(second, "2 A"), .text = "draws this"},
        {.at = span_of(texts.source, "30 A"), .secondary = true},
    };
    draw(bench, &texts, marks, 2);
    assert_str(buf_str(&bench->buf), "    1 | load lamp { draw 2 A }\n"
                                     "      |                  ^^^ draws this\n"
                                     "      in wren.boat:\n"
                                     "    4 |   protect 30 A breaker\n"
                                     "      |           ----\n");
}

static void a_spot_at_the_end_of_a_line_has_one_caret_behind_it(void **state)
{
    Bench *bench = *state;
    Texts texts = one_text(bench, GALLEY, strlen(GALLEY));
    uint32_t end = span_of(texts.source, "main").end;
    draw(bench, &texts, (SnippetMark[]){{.at = {end, end}}}, 1);
    assert_str(buf_str(&bench->buf), "    2 |   fed-by main\n"
                                     "      |              ^\n");
    uint32_t last = texts.source->base + texts.source->length;
    draw(bench, &texts, (SnippetMark[]){{.at = {last, last}}}, 1);
    assert_str(buf_str(&bench->buf), "    6 |\n"
                                     "      | ^\n");
}

static void a_place_of_several_lines_is_drawn_on_its_first(void **state)
{
    expect_one(state, GALLEY, "galley {\n  fed-by",
               "    1 | circuit galley {\n"
               "      |         ^^^^^^^^\n");
    expect_one(state, "a   \r\nb\n", "a   \r\nb",
               "    1 | a   \n"
               "      | ^\n");
}

static void a_tab_is_one_blank(void **state)
{
    expect_one(state, "\twire\t6 mm2\n", "6 mm2",
               "    1 |  wire 6 mm2\n"
               "      |       ^^^^^\n");
}

static void columns_are_characters_and_wide_ones_are_two(void **state)
{
    expect_one(state, "note \"\xC2\xB5\xC2\xB2\" # \xE2\x84\xA6 x", "x",
               "    1 | note \"\xC2\xB5\xC2\xB2\" # \xE2\x84\xA6 x\n"
               "      |               ^\n");
    expect_one(state, "\xE8\x88\xB9 x", "x",
               "    1 | \xE8\x88\xB9 x\n" /* U+8239, East Asian Width W */
               "      |    ^\n");
    expect_one(state, "e\xCC\x81 x", "x",
               "    1 | e\xCC\x81 x\n" /* e and U+0301, which stands above it */
               "      |   ^\n");
}

#define STRANGE "\xEF\xBF\xBD"

static void what_could_harm_a_terminal_is_replaced(void **state)
{
    expect_one(state, "a \x1b[2J b", "b",
               "    1 | a " STRANGE "[2J b\n"
               "      |        ^\n");
    expect_one(state, "a \xC2\x9B b", "b",
               "    1 | a " STRANGE " b\n" /* U+009B, CSI of ECMA-48 */
               "      |     ^\n");
    expect_one(state, "a \xE2\x80\xAE b", "b",
               "    1 | a " STRANGE " b\n" /* U+202E, right-to-left override */
               "      |     ^\n");
    expect_one(state, "a \xFF b", "b",
               "    1 | a " STRANGE " b\n" /* no text at all */
               "      |     ^\n");
    Bench *bench = *state;
    Texts texts = one_text(bench, "a\0b", 3);
    draw(bench, &texts, (SnippetMark[]){{.at = {0, 1}, .text = "x\r\ny\x07"}}, 1);
    assert_str(buf_str(&bench->buf), "    1 | a" STRANGE "b\n"
                                     "      | ^ x  y" STRANGE "\n");
}

/* A line of so many `x `, with a place in it. */
static void long_line(Bench *bench, size_t length, size_t at)
{
    char *text = arena_alloc(&bench->arena, length + 1);
    for (size_t i = 0; i < length; i++) {
        text[i] = i % 2 == 0 ? 'x' : ' ';
    }
    memcpy(text + at, "HERE", 4);
    Texts texts = one_text(bench, text, length);
    draw(bench, &texts, (SnippetMark[]){{.at = span_of(texts.source, "HERE"), .text = "note"}}, 1);
}

/* Each line's length; the underlining right under the place. */
static void expect_windowed(Bench *bench)
{
    Str drawn = buf_str(&bench->buf);
    const char *end = memchr(drawn.text, '\n', drawn.length);
    assert_non_null(end);
    size_t first = (size_t)(end - drawn.text);
    assert_true(first <= 8 + SNIPPET_COLUMNS);
    const char *place = strstr(drawn.text, "HERE");
    const char *carets = strstr(drawn.text, "^^^^ note\n");
    assert_non_null(place);
    assert_non_null(carets);
    assert_int_equal(place - drawn.text, carets - (end + 1));
}

static void of_a_long_line_the_part_around_the_place_is_drawn(void **state)
{
    Bench *bench = *state;
    for (size_t at = 0; at <= 1996; at += 4) {
        long_line(bench, 2000, at);
        expect_windowed(bench);
    }
    long_line(bench, 2000, 1000);
    assert_non_null(strstr(bench->buf.text, "    1 | ...x "));
    assert_non_null(strstr(bench->buf.text, "...\n"));
    long_line(bench, SNIPPET_COLUMNS, 40);
    assert_null(strstr(bench->buf.text, "..."));
}

static void a_long_line_with_two_places_far_apart_is_drawn_twice(void **state)
{
    Bench *bench = *state;
    char text[1001];
    memset(text, '.', 1000);
    text[1000] = '\0';
    memcpy(text + 10, "ONE", 3);
    memcpy(text + 900, "TWO", 3);
    Texts texts = one_text(bench, text, 1000);
    SnippetMark marks[] = {{.at = span_of(texts.source, "ONE")},
                           {.at = span_of(texts.source, "TWO"), .secondary = true}};
    draw(bench, &texts, marks, 2);
    const char *one = strstr(bench->buf.text, "ONE");
    const char *two = strstr(bench->buf.text, "TWO");
    assert_non_null(one);
    assert_non_null(two);
    assert_true(two > strstr(one, "^^^"));
    assert_non_null(strstr(two, "---"));
}

static void colour_says_nothing_that_is_lost_without_it(void **state)
{
    Bench *bench = *state;
    Texts texts = one_text(bench, GALLEY, strlen(GALLEY));
    SnippetMark mark = {.at = span_of(texts.source, "2.5 mm2"), .text = "ampacity 21 A"};
    draw(bench, &texts, &mark, 1);
    const char *plain = bench->buf.text;
    Buf coloured;
    buf_init(&coloured, &bench->arena);
    snippet_write(&coloured, &texts.sources, &mark, 1, COLOUR_ON, TINT_YELLOW);
    assert_non_null(strstr(coloured.text, "\x1b[33m^^^^^^^ ampacity 21 A\x1b[0m"));
    Buf stripped;
    buf_init(&stripped, &bench->arena);
    for (const char *c = coloured.text; *c != '\0'; c++) {
        if (*c == '\x1b') {
            c = strchr(c, 'm');
            continue;
        }
        buf_char(&stripped, *c);
    }
    assert_str(buf_str(&stripped), plain);
}

static void a_line_number_of_many_digits_moves_the_bar_of_all(void **state)
{
    Bench *bench = *state;
    enum { LINES = 123456 };
    char *text = arena_alloc(&bench->arena, LINES + 8);
    memset(text, '\n', LINES);
    memcpy(text, "top", 3);
    memcpy(text + LINES, "end", 4);
    Texts texts = one_text(bench, text, LINES + 3);
    SnippetMark marks[] = {{.at = span_of(texts.source, "top")},
                           {.at = span_of(texts.source, "end"), .secondary = true}};
    draw(bench, &texts, marks, 2);
    assert_str(buf_str(&bench->buf), "     1 | top\n"
                                     "       | ^^^\n"
                                     "123454 | end\n"
                                     "       | ---\n");
}

static void places_walked_through_are_the_places_asked_for_one_by_one(void **state)
{
    Bench *bench = *state;
    static const char *const PIECES[] = {"a", "\n", "\xC2\xB5", "\t", "word ", "\r\n", "\xF0\x9F\x9A\xA4"};
    uint64_t seed = 20;
    Str text = random_text(&bench->arena, &seed, PIECES, 7, 400);
    Texts texts = one_text(bench, text.text, text.length);
    char more[] = "b\nc";
    sources_add(&texts.sources, STR("more.boat"), more, 3);
    PlaceWalk walk = {0};
    uint32_t offset = 0;
    for (int i = 0; i < 2000; i++) {
        bool on = random_below(&seed, 8) > 0;
        offset = on ? offset + (uint32_t)random_below(&seed, 5)
                    : (uint32_t)random_below(&seed, (int)texts.sources.end);
        offset = offset < texts.sources.end ? offset : 0;
        Place walked = place_walk(&walk, &texts.sources, offset);
        Place asked = source_place(&texts.sources, offset);
        assert_ptr_equal(walked.source, asked.source);
        assert_int_equal(walked.line, asked.line);
        assert_int_equal(walked.column, asked.column);
    }
}

static void any_marks_in_any_text_are_drawn_without_harm(void **state)
{
    Bench *bench = *state;
    static const char *const PIECES[] = {
        "a", "\n", "\xC2\xB5", "\t", "\xFF", "\x1b[31m", "\r\n", "\xE2\x80\xAE", "xxxxxxxxxxxxxxxxxxxxxxxx"};
    uint64_t seed = 7;
    for (int round = 0; round < 500; round++) {
        Str text = random_text(&bench->arena, &seed, PIECES, 9, 60);
        Texts texts = one_text(bench, text.text, text.length);
        SnippetMark marks[4];
        for (int i = 0; i < 4; i++) {
            uint32_t start = (uint32_t)random_below(&seed, (int)text.length + 1);
            uint32_t end = start + (uint32_t)random_below(&seed, (int)(text.length - start) + 1);
            marks[i] = (SnippetMark){.at = {start, end}, .secondary = i > 0};
        }
        draw(bench, &texts, marks, 4);
        size_t columns = 0;
        for (const char *c = bench->buf.text; *c != '\0'; c++) {
            assert_true(*c == '\n' || ((unsigned char)*c >= ' ' && *c != 0x7F));
            columns = *c == '\n' ? 0 : columns + (((unsigned char)*c & 0xC0u) != 0x80u);
            assert_true(columns <= 8 + SNIPPET_COLUMNS + 1); /* a caret may stand behind the last column */
        }
        assert_true(utf8_first_bad(bench->buf.text, bench->buf.length, 0) == bench->buf.length);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_place_is_underlined_with_what_is_to_be_seen_there),
        BENCH_TEST(places_stand_in_the_order_of_the_text_and_a_line_stands_once),
        BENCH_TEST(two_marks_at_one_place_become_one),
        BENCH_TEST(another_file_is_named_above_its_lines),
        BENCH_TEST(a_spot_at_the_end_of_a_line_has_one_caret_behind_it),
        BENCH_TEST(a_place_of_several_lines_is_drawn_on_its_first),
        BENCH_TEST(a_tab_is_one_blank),
        BENCH_TEST(columns_are_characters_and_wide_ones_are_two),
        BENCH_TEST(what_could_harm_a_terminal_is_replaced),
        BENCH_TEST(of_a_long_line_the_part_around_the_place_is_drawn),
        BENCH_TEST(a_long_line_with_two_places_far_apart_is_drawn_twice),
        BENCH_TEST(colour_says_nothing_that_is_lost_without_it),
        BENCH_TEST(a_line_number_of_many_digits_moves_the_bar_of_all),
        BENCH_TEST(places_walked_through_are_the_places_asked_for_one_by_one),
        BENCH_TEST(any_marks_in_any_text_are_drawn_without_harm),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
