/* See csv_read.h. */
#include "tools/csv_read.h"

#include "base/buf.h"

#include <string.h>

typedef struct Reader {
    Arena *arena;
    const char *at, *end;
    char between;
    uint32_t line;
} Reader;

/* The separator of which the first line that has one has the most, quoted text left out. */
static char find_separator(Str text)
{
    static const char candidates[] = {',', ';', '\t'};
    size_t counts[3] = {0};
    bool quoted = false, found = false;
    for (size_t i = 0; i < text.length && (quoted || !found || (text.text[i] != '\n' && text.text[i] != '\r')); i++) {
        quoted ^= text.text[i] == '"';
        for (int c = 0; c < 3; c++) {
            bool separates = !quoted && text.text[i] == candidates[c];
            counts[c] += separates;
            found |= separates;
        }
    }
    int most = 0;
    for (int c = 1; c < 3; c++) {
        most = counts[c] > counts[most] ? c : most;
    }
    return candidates[most];
}

static Str trimmed(Str text)
{
    while (text.length > 0 && strchr(" \t\r\n", text.text[0]) != NULL) {
        text = (Str){text.text + 1, text.length - 1};
    }
    while (text.length > 0 && strchr(" \t\r\n", text.text[text.length - 1]) != NULL) {
        text.length--;
    }
    return text;
}

/* What stands between quotes, doubled ones once; stops behind the closing quote. */
static void read_quoted(Reader *reader, Buf *cell)
{
    reader->at++;
    while (reader->at < reader->end) {
        if (*reader->at == '"' && reader->at + 1 < reader->end && reader->at[1] == '"') {
            reader->at++;
        } else if (*reader->at == '"') {
            reader->at++;
            return;
        }
        reader->line += *reader->at == '\n';
        buf_char(cell, *reader->at++);
    }
}

static Str read_cell(Reader *reader)
{
    Buf cell;
    buf_init(&cell, reader->arena);
    while (reader->at < reader->end && *reader->at != reader->between && *reader->at != '\n' &&
           *reader->at != '\r') {
        if (*reader->at == '"' && trimmed(buf_str(&cell)).length == 0) {
            read_quoted(reader, &cell);
        } else {
            buf_char(&cell, *reader->at++);
        }
    }
    return trimmed(buf_str(&cell));
}

static void end_line(Reader *reader)
{
    if (reader->at < reader->end && *reader->at == '\r') {
        reader->at++;
    }
    if (reader->at < reader->end && *reader->at == '\n') {
        reader->at++;
    }
    reader->line++;
}

static CsvRow *read_row(Reader *reader)
{
    CsvRow *row = ARENA_NEW(reader->arena, CsvRow);
    uint32_t capacity = 0;
    row->line = reader->line;
    row->between = reader->between;
    for (;;) {
        if (row->count == capacity) {
            uint32_t more = capacity == 0 ? 16 : capacity * 2;
            row->cells = arena_grow(reader->arena, row->cells, capacity * sizeof(Str), more * sizeof(Str));
            capacity = more;
        }
        row->cells[row->count++] = read_cell(reader);
        if (reader->at >= reader->end || *reader->at != reader->between) {
            break;
        }
        reader->at++;
    }
    end_line(reader);
    return row;
}

static bool is_blank(const CsvRow *row)
{
    for (uint32_t i = 0; i < row->count; i++) {
        if (row->cells[i].length > 0) {
            return false;
        }
    }
    return true;
}

CsvRow *csv_read(Arena *arena, Str text)
{
    if (str_starts(text, "\xEF\xBB\xBF")) {
        text = (Str){text.text + 3, text.length - 3};
    }
    Reader reader = {arena, text.text, text.text + text.length, find_separator(text), 1};
    CsvRow *first = NULL, **end = &first;
    while (reader.at < reader.end) {
        CsvRow *row = read_row(&reader);
        if (!is_blank(row)) {
            *end = row;
            end = &row->next;
        }
    }
    return first;
}
