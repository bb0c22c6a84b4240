/*
 * The CSV writer: exact texts, and texts read back by a reader of our own that knows only the grammar of RFC
 * 4180, section 2.
 */
#define _XOPEN_SOURCE 700

#include "test_output.h"

#include "output/csv.h"

#include <float.h>
#include <math.h>

/* A sheet with one column named `text` and another named `n`. */
static Csv two_columns(Bench *bench)
{
    Csv csv;
    csv_init(&csv, &bench->buf, (const char *const[]){"text", "n"}, 2);
    return csv;
}

/* What one cell of text looks like, in a sheet of two columns. */
static void expect_cell(void **state, Str text, const char *written)
{
    Bench *bench = *state;
    Csv csv = two_columns(bench);
    csv_text(&csv, text);
    csv_empty(&csv);
    csv_row_end(&csv);
    assert_str(buf_str(&bench->buf), text_format(&bench->arena, "text,n\r\n%s,\r\n", written));
    buf_init(&bench->buf, &bench->arena);
}

/* ---- A reader ---- */

typedef struct Reader {
    const char *at;
    const char *end;
} Reader;

typedef struct Cell {
    char text[512];
    size_t length;
    bool quoted;
    bool last; /* of its row */
} Cell;

static void add(Cell *cell, char c)
{
    assert_true(cell->length < sizeof cell->text);
    cell->text[cell->length++] = c;
}

/* escaped = DQUOTE *(TEXTDATA / COMMA / CR / LF / 2DQUOTE) DQUOTE */
static void read_quoted(Reader *reader, Cell *cell)
{
    cell->quoted = true;
    reader->at++;
    for (;;) {
        assert_true(reader->at < reader->end);
        if (*reader->at == '"') {
            if (reader->end - reader->at < 2 || reader->at[1] != '"') {
                reader->at++;
                return;
            }
            reader->at++;
        }
        add(cell, *reader->at++);
    }
}

/* non-escaped = *TEXTDATA, in which there are no quotes and no line ends */
static void read_plain(Reader *reader, Cell *cell)
{
    while (reader->at < reader->end && *reader->at != ',' && *reader->at != '\r') {
        assert_true(*reader->at != '"' && *reader->at != '\n');
        add(cell, *reader->at++);
    }
}

static Cell read_cell(Reader *reader)
{
    Cell cell = {.length = 0};
    if (reader->at < reader->end && *reader->at == '"') {
        read_quoted(reader, &cell);
    } else {
        read_plain(reader, &cell);
    }
    assert_true(reader->at < reader->end);
    if (*reader->at == ',') {
        reader->at++;
        return cell;
    }
    assert_true(reader->end - reader->at >= 2 && reader->at[0] == '\r' && reader->at[1] == '\n');
    reader->at += 2;
    cell.last = true;
    return cell;
}

/* ---- Exact texts ---- */

static void a_header_and_rows_end_in_crlf(void **state)
{
    Bench *bench = *state;
    Csv csv = two_columns(bench);
    csv_text(&csv, STR("galley"));
    csv_number(&csv, 14.2);
    csv_row_end(&csv);
    csv_text(&csv, STR("mast lights"));
    csv_number(&csv, 230);
    csv_row_end(&csv);
    assert_str(buf_str(&bench->buf), "text,n\r\ngalley,14.2\r\nmast lights,230\r\n");
}

static void only_commas_quotes_and_line_ends_are_quoted(void **state)
{
    expect_cell(state, STR("plain text; 12 V | `x` 'y'"), "plain text; 12 V | `x` 'y'");
    expect_cell(state, STR("red, black"), "\"red, black\"");
    expect_cell(state, STR("1/2\" hose"), "\"1/2\"\" hose\"");
    expect_cell(state, STR("\""), "\"\"\"\"");
    expect_cell(state, STR("two\nlines"), "\"two\nlines\"");
    expect_cell(state, STR("two\r\nlines"), "\"two\r\nlines\"");
    expect_cell(state, STR("a\tb"), "a\tb");
    expect_cell(state, STR(""), "");
}

static void text_beyond_ascii_stays_as_it_is(void **state)
{
    expect_cell(state,
                STR("25 \xC2\xB0"
                    "C, \xC2\xBD in"),
                "\"25 \xC2\xB0"
                "C, \xC2\xBD in\"");
    expect_cell(state, STR("\xF0\x9F\x9B\xA5"), "\xF0\x9F\x9B\xA5");
}

static void bytes_that_are_no_text_are_replaced(void **state)
{
    expect_cell(state,
                STR("a\xFF"
                    "b"),
                "a\xEF\xBF\xBD"
                "b");
    expect_cell(state, STR("a\0b\x1B"),
                "a\xEF\xBF\xBD"
                "b\xEF\xBF\xBD");
}

/* The characters that guides to the guarding of spreadsheets name; from memory. */
static void text_that_looks_like_a_formula_is_defused(void **state)
{
    expect_cell(state, STR("=1+1"), "'=1+1");
    expect_cell(state, STR("+12V"), "'+12V");
    expect_cell(state, STR("-12V"), "'-12V");
    expect_cell(state, STR("@SUM(A1)"), "'@SUM(A1)");
    expect_cell(state, STR("\t=1"), "'\t=1");
    expect_cell(state, STR("\r=1"), "\"'\r=1\"");
    expect_cell(state, STR("\n=1"), "\"'\n=1\"");
    expect_cell(state, STR("=\"a\",b"), "\"'=\"\"a\"\",b\"");
    expect_cell(state, STR("a=b"), "a=b");
    expect_cell(state, STR("'quoted'"), "'quoted'");
}

static void a_header_is_defused_too(void **state)
{
    Bench *bench = *state;
    Csv csv;
    csv_init(&csv, &bench->buf, (const char *const[]){"=id", "a,b"}, 2);
    assert_str(buf_str(&bench->buf), "'=id,\"a,b\"\r\n");
}

static void numbers_are_never_defused(void **state)
{
    Bench *bench = *state;
    Csv csv = two_columns(bench);
    csv_number(&csv, -0.021);
    csv_fixed(&csv, -412.0, 2);
    csv_row_end(&csv);
    csv_number(&csv, 0.1);
    csv_fixed(&csv, 1234.5, 2);
    csv_row_end(&csv);
    assert_str(buf_str(&bench->buf), "text,n\r\n-0.021,-412.00\r\n0.1,1234.50\r\n");
}

static void a_number_that_is_none_leaves_its_cell_empty(void **state)
{
    Bench *bench = *state;
    Csv csv = two_columns(bench);
    csv_number(&csv, (double)INFINITY);
    csv_fixed(&csv, (double)NAN, 2);
    csv_row_end(&csv);
    assert_str(buf_str(&bench->buf), "text,n\r\n,\r\n");
}

static void a_row_of_one_empty_cell_is_no_empty_line(void **state)
{
    Bench *bench = *state;
    Csv csv;
    csv_init(&csv, &bench->buf, (const char *const[]){"text"}, 1);
    csv_empty(&csv);
    csv_row_end(&csv);
    assert_str(buf_str(&bench->buf), "text\r\n\"\"\r\n");
}

/* ---- Read back ---- */

static void expect_read_back(Reader *reader, Str text, bool last)
{
    Cell cell = read_cell(reader);
    Str read = {cell.text, cell.length};
    bool special = false;
    for (size_t i = 0; i < text.length; i++) {
        special = special || strchr(",\"\r\n", text.text[i]) != NULL;
    }
    assert_int_equal(cell.quoted, special);
    assert_int_equal(cell.last, last);
    if (text.length > 0 && strchr("=+-@\t\r\n", text.text[0])) {
        assert_true(read.length > 0 && read.text[0] == '\'');
        read = (Str){read.text + 1, read.length - 1};
    }
    assert_true(str_equal(read, text));
}

static void what_is_written_is_what_a_strict_reader_reads(void **state)
{
    enum { ROWS = 3000 };
    static const char *const pieces[] = {",", "\"", "\r", "\n", "=", "+",   "-",
                                         "@", "\t", "'",  " ",  "a", "0.5", "\xC2\xB5"};
    Bench *bench = *state;
    Str *texts = ARENA_ARRAY(&bench->arena, Str, 2 * ROWS);
    uint64_t seed = 1;
    Csv csv = two_columns(bench);
    for (size_t i = 0; i < 2 * ROWS; i++) {
        texts[i] = random_text(&bench->arena, &seed, pieces, sizeof pieces / sizeof *pieces, 7);
        csv_text(&csv, texts[i]);
        if (i % 2 == 1) {
            csv_row_end(&csv);
        }
    }
    Reader reader = {bench->buf.text, bench->buf.text + bench->buf.length};
    expect_read_back(&reader, STR("text"), false);
    expect_read_back(&reader, STR("n"), true);
    for (size_t i = 0; i < 2 * ROWS; i++) {
        expect_read_back(&reader, texts[i], i % 2 == 1);
    }
    assert_ptr_equal(reader.at, reader.end);
}

static void numbers_read_back_as_the_same_double(void **state)
{
    static const double values[] = {0.1, -1.0 / 3.0, 1e-6, 123456789.125, DBL_MAX, DBL_MIN, -7.0, 0.0};
    Bench *bench = *state;
    for (size_t i = 0; i < sizeof values / sizeof *values; i++) {
        buf_init(&bench->buf, &bench->arena);
        Csv csv;
        csv_init(&csv, &bench->buf, (const char *const[]){"n"}, 1);
        csv_number(&csv, values[i]);
        csv_row_end(&csv);
        /* The test runs in the C locale, where the C library's own reader is the outside judge. */
        assert_true(strtod(bench->buf.text + strlen("n\r\n"), NULL) == values[i]);
    }
}

/* ---- Mistakes of a caller ---- */

static void leave_a_cell_out(Bench *bench)
{
    Csv csv = two_columns(bench);
    csv_text(&csv, STR("a"));
    csv_row_end(&csv);
}

static void add_a_cell_too_many(Bench *bench)
{
    Csv csv = two_columns(bench);
    csv_text(&csv, STR("a"));
    csv_text(&csv, STR("b"));
    csv_text(&csv, STR("c"));
}

static void a_row_with_another_number_of_cells_is_stopped(void **state)
{
    expect_stopped(*state, leave_a_cell_out);
    expect_stopped(*state, add_a_cell_too_many);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_header_and_rows_end_in_crlf),
        BENCH_TEST(only_commas_quotes_and_line_ends_are_quoted),
        BENCH_TEST(text_beyond_ascii_stays_as_it_is),
        BENCH_TEST(bytes_that_are_no_text_are_replaced),
        BENCH_TEST(text_that_looks_like_a_formula_is_defused),
        BENCH_TEST(a_header_is_defused_too),
        BENCH_TEST(numbers_are_never_defused),
        BENCH_TEST(a_number_that_is_none_leaves_its_cell_empty),
        BENCH_TEST(a_row_of_one_empty_cell_is_no_empty_line),
        BENCH_TEST(what_is_written_is_what_a_strict_reader_reads),
        BENCH_TEST(numbers_read_back_as_the_same_double),
        BENCH_TEST(a_row_with_another_number_of_cells_is_stopped),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
