/* See text_table.h. */
#include "output/text_table.h"

#include "base/utf8.h"
#include "text/snippet.h"

void text_table_init(TextTable *table, Arena *arena, size_t columns)
{
    *table = (TextTable){.arena = arena, .columns = columns};
}

void text_table_add(TextTable *table, const char *text)
{
    if (table->count == table->capacity) {
        size_t capacity = table->capacity ? table->capacity * 2 : 64;
        table->cells = arena_grow(table->arena, table->cells, table->capacity * sizeof(Str), capacity * sizeof(Str));
        table->capacity = capacity;
    }
    Buf plain;
    buf_init(&plain, table->arena);
    snippet_plain(&plain, str_from(text));
    table->cells[table->count++] = buf_str(&plain);
}

/* Takes as many words off a text as fit; one at least. Empty at the end of the text. */
static Str next_line(Str *rest, size_t width)
{
    while (rest->length > 0 && *rest->text == ' ') {
        *rest = (Str){rest->text + 1, rest->length - 1};
    }
    size_t end = 0; /* of the last word that fits */
    for (size_t i = 1; i <= rest->length; i++) {
        bool at_end = i == rest->length || rest->text[i] == ' ';
        if (at_end && (end == 0 || utf8_count(rest->text, i) <= width)) {
            end = i;
        } else if (at_end) {
            break;
        }
    }
    Str line = {rest->text, end};
    *rest = (Str){rest->text + end, rest->length - end};
    return line;
}

static size_t longest_word(Str text)
{
    size_t longest = 0;
    for (Str word = next_line(&text, 1); word.length > 0; word = next_line(&text, 1)) {
        longest = utf8_count(word.text, word.length) > longest ? utf8_count(word.text, word.length) : longest;
    }
    return longest;
}

/* How wide a column would like to be, and how narrow it can be made. */
static void measure(const TextTable *table, size_t column, size_t *wanted, size_t *least)
{
    *wanted = *least = 0;
    for (size_t i = column; i < table->count; i += table->columns) {
        size_t width = utf8_count(table->cells[i].text, table->cells[i].length);
        size_t word = longest_word(table->cells[i]);
        *wanted = width > *wanted ? width : *wanted;
        *least = word > *least ? word : *least;
    }
    size_t narrowest = *wanted < TEXT_TABLE_NARROWEST ? *wanted : TEXT_TABLE_NARROWEST;
    *least = *least > narrowest ? *least : narrowest;
}

/* Takes a column after the other from the widest until the row fits, or none can be narrower. */
static void fit(size_t *widths, const size_t *least, size_t columns, size_t room)
{
    for (;;) {
        size_t sum = 0, widest = columns;
        for (size_t c = 0; c < columns; c++) {
            sum += widths[c] + (c > 0 ? TEXT_TABLE_GAP : 0);
            bool can = widths[c] > least[c];
            widest = can && (widest == columns || widths[c] > widths[widest]) ? c : widest;
        }
        if (sum <= room || widest == columns) {
            return;
        }
        widths[widest]--;
    }
}

static void put_blanks(Buf *to, size_t count)
{
    while (count-- > 0) {
        buf_char(to, ' ');
    }
}

/* One line of a row; false when all cells are at their end. */
static bool write_line(Buf *to, const TextTable *table, Str *rests, const size_t *widths, size_t indent)
{
    size_t behind = indent; /* blanks that are only written if something follows */
    bool any = false;
    for (size_t c = 0; c < table->columns; c++) {
        Str line = next_line(&rests[c], widths[c]);
        size_t width = utf8_count(line.text, line.length);
        size_t left = width < widths[c] ? widths[c] - width : 0;
        bool right = table->right >> c & 1;
        if (line.length > 0) {
            put_blanks(to, behind + (right ? left : 0));
            buf_add(to, line);
            behind = right ? 0 : left;
            any = true;
        } else {
            behind += left;
        }
        behind += widths[c] > 0 ? TEXT_TABLE_GAP : 0;
    }
    if (any) {
        buf_char(to, '\n');
    }
    return any;
}

void text_table_write(Buf *to, const TextTable *table, size_t indent, size_t width)
{
    size_t *widths = ARENA_ARRAY(table->arena, size_t, table->columns);
    size_t *least = ARENA_ARRAY(table->arena, size_t, table->columns);
    Str *rests = ARENA_ARRAY(table->arena, Str, table->columns);
    for (size_t c = 0; c < table->columns; c++) {
        measure(table, c, &widths[c], &least[c]);
    }
    fit(widths, least, table->columns, width > indent ? width - indent : 0);
    for (size_t i = 0; i + table->columns <= table->count; i += table->columns) {
        for (size_t c = 0; c < table->columns; c++) {
            rests[c] = table->cells[i + c];
        }
        while (write_line(to, table, rests, widths, indent)) {
        }
    }
}
