/* See columns.h. */
#include "tools/columns.h"

#include "base/buf.h"
#include "base/utf8.h"

#include <string.h>

/* The word that --column takes, and what people head such a column with, in lower case. */
static const struct {
    const char *word;
    const char *headings;
} fields[FIELDS] = {
    [FIELD_NAME] = {"name", "name|id|tag"},
    [FIELD_TITLE] = {"title", "title|item|description|what|part|article|thing"},
    [FIELD_KIND] = {"kind", "kind|type"},
    [FIELD_SYSTEM] = {"system", "system|category|group|area"},
    [FIELD_COUNT] = {"count", "count|quantity|qty|number|pieces|pcs|how many"},
    [FIELD_MASS] = {"mass", "mass|weight|mass each|weight each|unit weight|kg|lb|lbs"},
    [FIELD_PRICE] = {"price", "price|cost|unit price|price each|cost each|price_each_low|amount"},
    [FIELD_CURRENCY] = {"currency", "currency"},
    [FIELD_SUPPLIER] = {"supplier", "supplier|vendor|from|shop|source|bought from"},
    [FIELD_STATUS] = {"status", "status|state"},
    [FIELD_ORDERED] = {"ordered", "ordered|order date|date ordered|ordered on"},
    [FIELD_PROMISED] = {"promised", "promised|due|expected|delivery|delivery date|eta"},
    [FIELD_ARRIVED] = {"arrived", "arrived|received|date received|delivered"},
    [FIELD_FITTED] = {"fitted", "fitted|installed|date installed"},
    [FIELD_LINK] = {"link", "link|url|web"},
    [FIELD_SERIAL] = {"serial", "serial|serial number|s/n"},
    [FIELD_NOTE] = {"note", "note|notes|remark|remarks|comment|comments"},
};

/* What the units measure that a heading may name beside: a field that is not here has none. */
static const Measure measures[FIELDS] = {[FIELD_MASS] = MEASURE_MASS, [FIELD_PRICE] = MEASURE_MONEY};

bool same_words(Str a, Str b)
{
    bool same = a.length == b.length;
    for (size_t i = 0; i < a.length && same; i++) {
        same = char_lower(a.text[i]) == char_lower(b.text[i]);
    }
    return same;
}

static bool is_one_of(Str heading, const char *words)
{
    for (;;) {
        size_t length = strcspn(words, "|");
        if (same_words(heading, (Str){words, length})) {
            return true;
        }
        if (words[length] == '\0') {
            return false;
        }
        words += length + 1;
    }
}

/* Whether a column so headed is that field's: `Weight (lb)` as `Weight` is, and `Weight (tons)`, which is not clear. */
static bool heads(Arena *arena, int field, Str heading)
{
    if (is_one_of(heading, fields[field].headings)) {
        return true;
    }
    if (measures[field] == MEASURE_NONE) {
        return false;
    }
    TableHeading apart = table_heading(arena, measures[field], heading);
    return (apart.unit.word.length > 0 || apart.unclear.length > 0) && is_one_of(apart.rest, fields[field].headings);
}

static int find_column(const CsvRow *head, Str heading)
{
    for (uint32_t i = 0; i < head->count; i++) {
        if (same_words(head->cells[i], heading)) {
            return (int)i;
        }
    }
    return -1;
}

static const char *list_headings(const Columns *columns)
{
    Buf list;
    buf_init(&list, columns->arena);
    for (uint32_t i = 0; i < columns->head->count; i++) {
        if (columns->head->cells[i].length > 0) {
            buf_format(&list, "%s`%.*s`", list.length > 0 ? ", " : "", STR_ARG(columns->head->cells[i]));
        }
    }
    return list.text;
}

/* "price=Cost each": the field and its column. */
static const char *map_column(Columns *columns, const char *mapping)
{
    const char *equals = strchr(mapping, '=');
    if (equals == NULL) {
        return text_format(columns->arena,
                           "`%s`: a column is named as PROPERTY=HEADING, such as `price=Cost each`", mapping);
    }
    Str word = {mapping, (size_t)(equals - mapping)};
    int field = 0;
    while (field < FIELDS && !str_is(word, fields[field].word)) {
        field++;
    }
    if (field == FIELDS) {
        Buf words;
        buf_init(&words, columns->arena);
        for (int f = 0; f < FIELDS; f++) {
            buf_format(&words, "%s`%s`", f > 0 ? ", " : "", fields[f].word);
        }
        return text_format(columns->arena, "`%.*s` is not what a column can be; that is %s", STR_ARG(word),
                           words.text);
    }
    columns->of[field] = find_column(columns->head, str_from(equals + 1));
    if (columns->of[field] < 0) {
        return text_format(columns->arena, "no column is headed `%s`; there are %s", equals + 1,
                           list_headings(columns));
    }
    return NULL;
}

const char *columns_find(Columns *columns, Arena *arena, const CsvRow *head, const char *const mappings[],
                         size_t count)
{
    *columns = (Columns){.arena = arena, .head = head};
    for (int f = 0; f < FIELDS; f++) {
        columns->of[f] = -1;
        for (uint32_t i = 0; i < columns->head->count && columns->of[f] < 0; i++) {
            if (heads(arena, f, columns->head->cells[i])) {
                columns->of[f] = (int)i;
            }
        }
    }
    for (size_t i = 0; i < count; i++) {
        const char *wrong = map_column(columns, mappings[i]);
        if (wrong != NULL) {
            return wrong;
        }
    }
    if (columns->of[FIELD_NAME] < 0 && columns->of[FIELD_TITLE] < 0) {
        return text_format(columns->arena,
                           "no column says what things are called; name one: `--column title=HEADING`, of %s",
                           list_headings(columns));
    }
    return NULL;
}

Str cell_of(const Columns *columns, const CsvRow *row, Field field)
{
    int column = columns->of[field];
    return column >= 0 && (uint32_t)column < row->count ? row->cells[column] : (Str){"", 0};
}

TableHeading column_heading(const Columns *columns, Field field)
{
    int column = columns->of[field];
    Str heading = column >= 0 ? columns->head->cells[column] : (Str){"", 0};
    return table_heading(columns->arena, measures[field], heading);
}

bool column_is_known(const Columns *columns, uint32_t column)
{
    bool known = false;
    for (int f = 0; f < FIELDS; f++) {
        known |= columns->of[f] == (int)column;
    }
    return known;
}

const char *column_word(Field field)
{
    return fields[field].word;
}
