/*
 * The JSON writer: exact texts, and strings read back by a reader of our own that knows only the grammar of
 * RFC 8259, section 7.
 */
#define _XOPEN_SOURCE 700

#include "test_output.h"

#include "output/json.h"

#include <float.h>
#include <math.h>

static Json begin(Bench *bench)
{
    Json json;
    buf_init(&bench->buf, &bench->arena);
    json_init(&json, &bench->buf);
    return json;
}

static void expect(const Bench *bench, const char *text)
{
    assert_str(buf_str(&bench->buf), text);
}

static void expect_text(void **state, Str text, const char *written)
{
    Bench *bench = *state;
    Json json = begin(bench);
    json_text(&json, text);
    json_end(&json);
    expect(bench, text_format(&bench->arena, "%s\n", written));
}

static void expect_number(void **state, double value, const char *written)
{
    Bench *bench = *state;
    Json json = begin(bench);
    json_number(&json, value);
    json_end(&json);
    expect(bench, text_format(&bench->arena, "%s\n", written));
}

static void a_document_is_indented_by_two_and_keeps_its_order(void **state)
{
    Bench *bench = *state;
    Json json = begin(bench);
    json_object(&json);
    json_put_whole(&json, "format", 1);
    json_put_text(&json, "spec", STR("wren.boat"));
    json_key(&json, "findings");
    json_array(&json);
    json_object(&json);
    json_put_text(&json, "rule", STR("wire-unprotected"));
    json_put_number(&json, "low", 21.5);
    json_put_bool(&json, "waived", false);
    json_key(&json, "limit");
    json_null(&json);
    json_object_end(&json);
    json_text(&json, STR("b"));
    json_text(&json, STR("a"));
    json_array_end(&json);
    json_object_end(&json);
    json_end(&json);
    expect(bench, "{\n"
                  "  \"format\": 1,\n"
                  "  \"spec\": \"wren.boat\",\n"
                  "  \"findings\": [\n"
                  "    {\n"
                  "      \"rule\": \"wire-unprotected\",\n"
                  "      \"low\": 21.5,\n"
                  "      \"waived\": false,\n"
                  "      \"limit\": null\n"
                  "    },\n"
                  "    \"b\",\n"
                  "    \"a\"\n"
                  "  ]\n"
                  "}\n");
}

static void what_is_empty_takes_no_lines(void **state)
{
    Bench *bench = *state;
    Json json = begin(bench);
    json_object(&json);
    json_key(&json, "depends");
    json_array(&json);
    json_array_end(&json);
    json_key(&json, "limit");
    json_object(&json);
    json_object_end(&json);
    json_object_end(&json);
    json_end(&json);
    expect(bench, "{\n  \"depends\": [],\n  \"limit\": {}\n}\n");
}

static void arrays_may_be_as_deep_as_promised(void **state)
{
    Bench *bench = *state;
    Json json = begin(bench);
    for (int i = 0; i < JSON_DEPTH; i++) {
        json_array(&json);
    }
    for (int i = 0; i < JSON_DEPTH; i++) {
        json_array_end(&json);
    }
    json_end(&json);
    assert_non_null(strstr(bench->buf.text, "[]"));
}

/* RFC 8259, section 7: quotation mark, reverse solidus and U+0000..U+001F must be escaped. */
static void quotes_backslashes_and_controls_are_escaped(void **state)
{
    expect_text(state, STR("1/2\" hose \\ x"), "\"1/2\\\" hose \\\\ x\"");
    expect_text(state, STR("\b\t\n\f\r"), "\"\\b\\t\\n\\f\\r\"");
    expect_text(state, STR("\0\x01\x0B\x1B\x1F"), "\"\\u0000\\u0001\\u000b\\u001b\\u001f\"");
    expect_text(state, STR("\x7F\xC2\x80\xC2\x9F"), "\"\\u007f\\u0080\\u009f\"");
    expect_text(state, STR("</script>"), "\"</script>\"");
}

static void text_beyond_ascii_stays_as_it_is(void **state)
{
    expect_text(state,
                STR("25 \xC2\xB0"
                    "C \xE2\x89\xA5 \xF0\x9F\x9B\xA5"),
                "\"25 \xC2\xB0"
                "C \xE2\x89\xA5 \xF0\x9F\x9B\xA5\"");
}

/* RFC 3629, section 3 and 4: what may not occur in UTF-8. */
static void bytes_that_are_no_text_are_replaced_one_by_one(void **state)
{
    expect_text(state, STR("a\xFFz"), "\"a\xEF\xBF\xBDz\"");
    expect_text(state, STR("\xC3"), "\"\xEF\xBF\xBD\"");                                 /* cut short */
    expect_text(state, STR("\xE2\x89"), "\"\xEF\xBF\xBD\xEF\xBF\xBD\"");                 /* cut short */
    expect_text(state, STR("\xC0\xAF"), "\"\xEF\xBF\xBD\xEF\xBF\xBD\"");                 /* overlong */
    expect_text(state, STR("\xE0\x80\xAF"), "\"\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD\""); /* overlong */
    expect_text(state, STR("\xED\xA0\x80"), "\"\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD\""); /* surrogate */
    expect_text(state, STR("\xF4\x90\x80\x80"),                                          /* beyond U+10FFFF */
                "\"\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD\"");
    expect_text(state, STR("\xF4\x8F\xBF\xBF"), "\"\xF4\x8F\xBF\xBF\""); /* the last there is */
}

static void numbers_are_exact_and_what_is_none_is_null(void **state)
{
    expect_number(state, 0.021, "0.021");
    expect_number(state, -12.5, "-12.5");
    expect_number(state, 230.0, "230");
    expect_number(state, -0.0, "0");
    expect_number(state, (double)INFINITY, "null");
    expect_number(state, -(double)INFINITY, "null");
    expect_number(state, (double)NAN, "null");
}

/* RFC 8259, section 6: [ minus ] int [ frac ] [ exp ] */
static bool is_number_of_the_grammar(const char *at)
{
    at += *at == '-';
    size_t whole = strspn(at, "0123456789");
    if (whole == 0 || (whole > 1 && *at == '0')) {
        return false;
    }
    at += whole;
    if (*at == '.') {
        size_t fraction = strspn(at + 1, "0123456789");
        if (fraction == 0) {
            return false;
        }
        at += 1 + fraction;
    }
    if (*at == 'e' || *at == 'E') {
        at++;
        at += *at == '-' || *at == '+';
        size_t exponent = strspn(at, "0123456789");
        if (exponent == 0) {
            return false;
        }
        at += exponent;
    }
    return *at == '\n';
}

static void every_double_is_written_by_the_grammar_and_reads_back(void **state)
{
    Bench *bench = *state;
    uint64_t seed = 7;
    for (int i = 0; i < 2000; i++) {
        uint64_t bits = next_random(&seed);
        double value;
        memcpy(&value, &bits, sizeof value);
        Json json = begin(bench);
        json_number(&json, isfinite(value) ? value : DBL_MIN);
        json_end(&json);
        assert_true(is_number_of_the_grammar(bench->buf.text));
        /* The test runs in the C locale, where the C library's own reader is the outside judge. */
        assert_true(strtod(bench->buf.text, NULL) == (isfinite(value) ? value : DBL_MIN));
    }
}

/* Reads one string of the grammar into `text`; the code points of its escapes are all below U+0100. */
static const char *read_string(const char *at, Buf *text)
{
    static const char forms[] = "\"\\/bfnrt";
    static const char meanings[] = "\"\\/\b\f\n\r\t";
    assert_true(*at++ == '"');
    for (; *at != '"'; at++) {
        assert_true((unsigned char)*at >= 0x20);
        if (*at != '\\') {
            buf_char(text, *at);
        } else if (*++at != 'u') {
            const char *form = strchr(forms, *at);
            assert_non_null(form);
            buf_char(text, meanings[form - forms]);
        } else {
            char digits[5] = {at[1], at[2], at[3], at[4], 0};
            unsigned long code = strtoul(digits, NULL, 16);
            assert_true(code < 0x100);
            buf_text(text, code < 0x80 ? "" : code < 0xC0 ? "\xC2" : "\xC3");
            buf_char(text, (char)(code < 0xC0 ? code : code - 0x40));
            at += 4;
        }
    }
    return at + 1;
}

static void strings_read_back_as_they_were(void **state)
{
    static const char *const pieces[] = {
        "\"",   "\\",       "/", "\b", "\f",   "\n", "\r",       "\t",           "\x01",
        "\x7F", "\xC2\x85", "u", "n",  "0041", " ",  "\xC2\xB5", "\xE2\x80\xA8", "\xF0\x9F\x9B\xA5"};
    Bench *bench = *state;
    uint64_t seed = 3;
    for (int i = 0; i < 2000; i++) {
        Str text = random_text(&bench->arena, &seed, pieces, sizeof pieces / sizeof *pieces, 10);
        Buf read;
        buf_init(&read, &bench->arena);
        Json json = begin(bench);
        json_text(&json, text);
        json_end(&json);
        assert_string_equal(read_string(bench->buf.text, &read), "\n");
        assert_true(str_equal(buf_str(&read), text));
    }
}

/* ---- Mistakes of a caller ---- */

static void give_a_value_without_its_key(Bench *bench)
{
    Json json = begin(bench);
    json_object(&json);
    json_whole(&json, 1);
}

static void give_a_key_in_an_array(Bench *bench)
{
    Json json = begin(bench);
    json_array(&json);
    json_key(&json, "a");
}

static void give_two_keys(Bench *bench)
{
    Json json = begin(bench);
    json_object(&json);
    json_key(&json, "a");
    json_key(&json, "b");
}

static void end_an_object_behind_a_key(Bench *bench)
{
    Json json = begin(bench);
    json_object(&json);
    json_key(&json, "a");
    json_object_end(&json);
}

static void end_an_array_as_an_object(Bench *bench)
{
    Json json = begin(bench);
    json_array(&json);
    json_object_end(&json);
}

static void leave_an_array_open(Bench *bench)
{
    Json json = begin(bench);
    json_array(&json);
    json_end(&json);
}

static void give_two_documents(Bench *bench)
{
    Json json = begin(bench);
    json_null(&json);
    json_null(&json);
}

static void go_too_deep(Bench *bench)
{
    Json json = begin(bench);
    for (int i = 0; i <= JSON_DEPTH; i++) {
        json_array(&json);
    }
}

static void calls_that_make_no_document_are_stopped(void **state)
{
    expect_stopped(*state, give_a_value_without_its_key);
    expect_stopped(*state, give_a_key_in_an_array);
    expect_stopped(*state, give_two_keys);
    expect_stopped(*state, end_an_object_behind_a_key);
    expect_stopped(*state, end_an_array_as_an_object);
    expect_stopped(*state, leave_an_array_open);
    expect_stopped(*state, give_two_documents);
    expect_stopped(*state, go_too_deep);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_document_is_indented_by_two_and_keeps_its_order),
        BENCH_TEST(what_is_empty_takes_no_lines),
        BENCH_TEST(arrays_may_be_as_deep_as_promised),
        BENCH_TEST(quotes_backslashes_and_controls_are_escaped),
        BENCH_TEST(text_beyond_ascii_stays_as_it_is),
        BENCH_TEST(bytes_that_are_no_text_are_replaced_one_by_one),
        BENCH_TEST(numbers_are_exact_and_what_is_none_is_null),
        BENCH_TEST(every_double_is_written_by_the_grammar_and_reads_back),
        BENCH_TEST(strings_read_back_as_they_were),
        BENCH_TEST(calls_that_make_no_document_are_stopped),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
