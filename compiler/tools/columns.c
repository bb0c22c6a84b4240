/* See columns.h. */
#include "tools/columns.h"

#include "base/buf.h"

#include <string.h>

/* The word that --column takes, and what people head such a column with, in lower case. */
#define AMOUNT "amount" /* of money; on a bill it is that of the whole row */
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
    [FIELD_PRICE] = {"price", "price|cost|unit price|price each|cost each|unit cost|price_each_low|" AMOUNT},
    [FIELD_CURRENCY] = {"currency", "currency"},
    [FIELD_SUPPLIER] = {"supplier", "supplier|vendor|from|shop|source|bought from"},
    [FIELD_STATUS] = {"status", "status|state"},
    [FIELD_ORDERED] = {"ordered", "ordered|order date|date ordered|ordered on|po date"},
    [FIELD_PROMISED] = {"promised", "promised|due|expected|delivery|delivery date|eta"},
    [FIELD_ARRIVED] = {"arrived", "arrived|received|date received|delivered"},
    [FIELD_FITTED] = {"fitted", "fitted|installed|date installed"},
    [FIELD_LINK] = {"link", "link|url|web"},
    [FIELD_SERIAL] = {"serial", "serial|serial number|s/n"},
    [FIELD_NOTE] = {"note", "note|notes|remark|remarks|comment|comments"},
};

/* What the units measure that a heading may name beside: a field that is not here has none. */
static const Measure measures[FIELDS] = {[FIELD_MASS] = MEASURE_MASS, [FIELD_PRICE] = MEASURE_MONEY};

/* Whether a column so headed is that field's: `Weight (lb)` as `Weight` is, and `Weight (tons)`, which is not clear. */
static bool heads(Arena *arena, int field, Str heading)
{
    if (is_one_of_words(heading, fields[field].headings)) {
        return true;
    }
    if (measures[field] == MEASURE_NONE) {
        return false;
    }
    TableHeading apart = table_heading(arena, measures[field], heading);
    return (apart.unit.word.length > 0 || apart.unclear.length > 0) && is_one_of_words(apart.rest, fields[field].headings);
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

static bool is_amount(const Columns *columns, int column)
{
    return is_one_of_words(table_heading(columns->arena, MEASURE_MONEY, columns->head->cells[column]).rest, AMOUNT);
}

/* Whether a row counts more than one, or it is not plain how many. */
static bool counts_several(const Columns *columns)
{
    for (const CsvRow *row = columns->head->next; row != NULL; row = row->next) {
        Str cell = cell_of(columns, row, FIELD_COUNT);
        if (cell.length > 0 && !str_is(cell, "1")) {
            return true;
        }
    }
    return false;
}

/* An amount is the price of one if no row counts several: else another column may be, and where none is, it is not known. */
static void doubt_amount(Columns *columns)
{
    int amount = columns->of[FIELD_PRICE];
    if (amount < 0 || !is_amount(columns, amount) || !counts_several(columns)) {
        return;
    }
    columns->of[FIELD_PRICE] = -1;
    for (int i = 0; i < (int)columns->head->count && columns->of[FIELD_PRICE] < 0; i++) {
        Str heading = columns->head->cells[i];
        bool of_one = heads(columns->arena, FIELD_PRICE, heading) && !is_amount(columns, i);
        if (of_one || is_one_of_words(heading, "rate|unit|each|unit rate")) { /* of money, for an amount stands beside it */
            columns->of[FIELD_PRICE] = i;
        }
    }
    columns->amount = columns->of[FIELD_PRICE] < 0 ? amount : -1;
}

static bool is_mapped(Field field, const char *const mappings[], size_t count)
{
    size_t length = strlen(fields[field].word);
    for (size_t i = 0; i < count; i++) {
        if (strncmp(mappings[i], fields[field].word, length) == 0 && mappings[i][length] == '=') {
            return true;
        }
    }
    return false;
}

/* The columns of a table with its headings in that row. */
static const char *find_below(Columns *columns, Arena *arena, const CsvRow *head, const char *const mappings[], size_t count)
{
    *columns = (Columns){.arena = arena, .head = head, .amount = -1};
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
    if (!is_mapped(FIELD_PRICE, mappings, count)) {
        doubt_amount(columns);
    }
    if (columns->of[FIELD_NAME] < 0 && columns->of[FIELD_TITLE] < 0) {
        return text_format(columns->arena,
                           "no column says what things are called; name one: `--column title=HEADING`, of %s",
                           list_headings(columns));
    }
    return NULL;
}

static bool has_several(const int *of, const CsvRow *row)
{
    int known = 0;
    for (int f = 0; f < FIELDS && of != NULL; f++) {
        known += of[f] >= 0;
    }
    for (uint32_t i = 0; i < row->count && of == NULL; i++) {
        known += row->cells[i].length > 0;
    }
    return known > 1;
}

const char *columns_find(Columns *columns, Arena *arena, const CsvRow *first, const char *const mappings[],
                         size_t count)
{
    enum { FURTHEST = 20 };
    const char *wrong = find_below(columns, arena, first, mappings, count);
    const CsvRow *head = first;
    for (const CsvRow *row = first->next; row != NULL && row->next != NULL && row->line < FURTHEST && wrong != NULL; row = row->next) {
        if (find_below(columns, arena, row, mappings, count) == NULL && has_several(columns->of, row)) {
            return NULL;
        }
        head = has_several(NULL, head) ? head : row;
    }
    return head == first ? wrong : find_below(columns, arena, head, mappings, count);
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
