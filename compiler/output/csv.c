/*
 * The CSV writer. Rules: RFC 4180, section 2; numbers in brackets below are its paragraphs.
 */
#include "output/csv.h"

#include "base/num.h"
#include "output/character.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* [4] A comma before each cell but the first, none behind the last. */
static void begin_cell(Csv *csv)
{
    assert(csv->cells < csv->columns);
    if (csv->cells++ > 0) {
        buf_char(csv->buf, ',');
    }
}

/* What spreadsheets take for the start of a formula; the line ends because some skip them on import. */
static bool looks_like_formula(Str text)
{
    return text.length > 0 && text.text[0] != '\0' && strchr("=+-@\t\r\n", text.text[0]) != NULL;
}

/* [6] */
static bool needs_quotes(Str text)
{
    for (size_t i = 0; i < text.length; i++) {
        if (text.text[i] != '\0' && strchr(",\"\r\n", text.text[i]) != NULL) {
            return true;
        }
    }
    return false;
}

static void write_character(Buf *buf, uint32_t code)
{
    bool lost = character_is_control(code) && code != '\t' && code != '\r' && code != '\n';
    if (code == '"') {
        buf_char(buf, '"'); /* [7] */
    }
    character_write(buf, lost ? CHARACTER_REPLACEMENT : code);
}

void csv_text(Csv *csv, Str text)
{
    begin_cell(csv);
    /* A row of one empty cell would be an empty line, which readers skip. */
    bool quotes = needs_quotes(text) || (csv->columns == 1 && text.length == 0);
    if (quotes) {
        buf_char(csv->buf, '"');
    }
    if (looks_like_formula(text)) {
        buf_char(csv->buf, '\'');
    }
    while (text.length > 0) {
        write_character(csv->buf, character_take(&text));
    }
    if (quotes) {
        buf_char(csv->buf, '"');
    }
}

void csv_empty(Csv *csv)
{
    csv_text(csv, STR(""));
}

void csv_number(Csv *csv, double value)
{
    if (!isfinite(value)) {
        csv_empty(csv);
        return;
    }
    begin_cell(csv);
    num_write_exact(csv->buf, value);
}

void csv_fixed(Csv *csv, double value, int decimals)
{
    if (!isfinite(value)) {
        csv_empty(csv);
        return;
    }
    begin_cell(csv);
    num_write_fixed(csv->buf, value, decimals);
}

void csv_row_end(Csv *csv)
{
    assert(csv->cells == csv->columns);
    buf_text(csv->buf, "\r\n"); /* [1] */
    csv->cells = 0;
}

void csv_init(Csv *csv, Buf *buf, const char *const headers[], size_t columns)
{
    assert(columns > 0);
    *csv = (Csv){.buf = buf, .columns = columns};
    for (size_t i = 0; i < columns; i++) {
        csv_text(csv, str_from(headers[i]));
    }
    csv_row_end(csv);
}
