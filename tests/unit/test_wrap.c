/*
 * Long lines on a terminal: what `check` says, folded at 80 columns by the library, is what it says on one line each, word for
 * word; pictures of places, names in backquotes and colours are left whole.
 */
#include "check.h"

#include "garboard.h"
#include "text/snippet.h"
#include "text/wrap.h"

typedef struct Bench {
    Arena arena;
    Buf buf;
} Bench;

static void bench_begin(Bench *bench)
{
    *bench = (Bench){.arena = check_arena()};
}

static void bench_end(Bench *bench)
{
    arena_free(&bench->arena);
}

static const char *wrapped(Bench *bench, const char *text, int columns)
{
    buf_init(&bench->buf, &bench->arena);
    text_wrap(&bench->buf, str_from(text), columns);
    return bench->buf.text;
}

static void a_long_line_goes_on_indented(void **state)
{
    (void)state;
    Bench bench;
    bench_begin(&bench);
    assert_string_equal(wrapped(&bench, "one two three\n", 13), "one two three\n");
    assert_string_equal(wrapped(&bench, "one two three four five six\n  seven\n", 13),
                        "one two three\n    four five\n    six\n  seven\n");
    assert_string_equal(wrapped(&bench, "  one two three", 13), "  one two\n    three");
    /* What no line can hold stands alone, and is not broken. */
    assert_string_equal(wrapped(&bench, "a/very/long/path.boat:1:2: fault", 13), "a/very/long/path.boat:1:2:\n    fault");
    assert_string_equal(wrapped(&bench, "", 13), "");
    bench_end(&bench);
}

static void a_name_in_backquotes_stays_whole(void **state)
{
    (void)state;
    Bench bench;
    bench_begin(&bench);
    assert_string_equal(wrapped(&bench, "as (see `garboard rules x`) has it", 24), "as (see\n    `garboard rules x`)\n    has it");
    assert_string_equal(wrapped(&bench, "as seen (`garboard rule`) has it", 24), "as seen\n    (`garboard rule`)\n    has it");
    /* One that no line holds is broken like any other text. */
    assert_string_equal(wrapped(&bench, "it is `so long that no line`", 16), "it is `so long\n    that no\n    line`");
    bench_end(&bench);
}

static void pictures_are_not_folded_and_colours_take_no_room(void **state)
{
    (void)state;
    Bench bench;
    bench_begin(&bench);
    static const char picture[] = "   48 |   wire 2.5 mm2 of that\n      |        ^^^^^^^ ampacity 21 A\n";
    assert_string_equal(wrapped(&bench, picture, 13), picture);
    static const char coloured[] = "\x1b[1mone\x1b[0m two \x1b[1;31mthree\x1b[0m";
    assert_string_equal(wrapped(&bench, coloured, 13), coloured);
    /* Columns, not bytes: e with an acute accent is one, a Chinese sign two (Unicode, East Asian Width). */
    assert_string_equal(wrapped(&bench, "\xc3\xa9t\xc3\xa9 deux un", 11), "\xc3\xa9t\xc3\xa9 deux un");
    assert_string_equal(wrapped(&bench, "\xe8\x88\xb9\xe8\x88\xb9 deux un", 11), "\xe8\x88\xb9\xe8\x88\xb9 deux\n    un");
    bench_end(&bench);
}

static GbFile no_file(void *context, const char *path, void *(*allocate)(void *memory, size_t size), void *memory)
{
    (void)context, (void)path, (void)allocate, (void)memory;
    return (GbFile){.error = "there is no such file"};
}

/* Without line ends and what stands at the beginning of lines. */
static void add_words(Buf *to, Str text)
{
    bool blank = true;
    for (size_t i = 0; i < text.length; i++) {
        bool now = text.text[i] == ' ' || text.text[i] == '\n';
        if (!now || !blank) {
            buf_char(to, now ? ' ' : text.text[i]);
        }
        blank = now;
    }
}

static const char spec[] =
    "edition 1\nboat wren { length 9.6 m; beam 3 m; displacement 4839 kg; crew 2; currency EUR; basis us }\n"
    "bank house { chemistry agm; voltage 12 V; capacity 231 Ah }\n"
    "panel main { fed-by house; rated 30..50 A; run 1 m; wire 2 AWG; protect ? fuse }\n"
    "load heater { fed-by main; run 2 m; draw 60 A }\n";

static void check_says_the_same_folded(void **state)
{
    (void)state;
    static const char *const formats[][2] = {{"text", "text+wrap"}, {"text+color", "text+color+wrap"}};
    GbRequest request = {.path = "wren.boat", .text = spec, .length = strlen(spec), .reader = {no_file, NULL}, .today = "2027-03-01"};
    GbCompilation *boat;
    assert_int_equal(gb_compile(&request, &boat), GB_DONE);
    for (size_t f = 0; f < 2; f++) {
        Bench bench;
        bench_begin(&bench);
        GbText plain, folded;
        assert_int_equal(gb_output(boat, "check", formats[f][0], NULL, &plain), GB_DONE);
        assert_int_equal(gb_output(boat, "check", formats[f][1], NULL, &folded), GB_DONE);
        assert_true(folded.length > plain.length);
        Buf words, folded_words;
        buf_init(&words, &bench.arena);
        buf_init(&folded_words, &bench.arena);
        add_words(&words, (Str){plain.text, plain.length});
        add_words(&folded_words, (Str){folded.text, folded.length});
        assert_string_equal(words.text, folded_words.text);
        const char *at = folded.text;
        for (const char *end = strchr(at, '\n'); end != NULL && f == 0; at = end + 1, end = strchr(at, '\n')) {
            bool is_picture = memchr(at, '|', (size_t)(end - at)) != NULL && at[strspn(at, " 0123456789")] == '|';
            assert_true(is_picture || snippet_columns(at, end) <= WRAP_COLUMNS);
        }
        bench_end(&bench);
    }
    GbText none;
    assert_int_equal(gb_output(boat, "check", "json+wrap", NULL, &none), GB_BAD_REQUEST);
    assert_int_equal(gb_output(boat, "check", "text+wrap+wrap", NULL, &none), GB_BAD_REQUEST);
    gb_free(boat);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_long_line_goes_on_indented),
        cmocka_unit_test(a_name_in_backquotes_stays_whole),
        cmocka_unit_test(pictures_are_not_folded_and_colours_take_no_room),
        cmocka_unit_test(check_says_the_same_folded),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
