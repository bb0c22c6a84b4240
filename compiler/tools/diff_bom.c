/*
 * Which lines of the bill of materials differ: quantity, price, status and what goes with buying.
 *
 * The lines are read back from the CSV that `bom` prints, so that the two can never tell different stories.
 * A line is the thing that it stands for, followed as that thing is; lines of cable and protection are known
 * by their names. Knows columns by their headers; computes no total.
 */
#include "tools/diff_parts.h"

#include "base/num.h"
#include "output/bom.h"

#include <math.h>
#include <string.h>

/* The columns that are compared, and what they are called. */
typedef enum Column {
    COLUMN_NAME,
    COLUMN_TITLE,
    COLUMN_OPTION,
    COLUMN_COUNT,
    COLUMN_SPARE,
    COLUMN_STATUS,
    COLUMN_SUPPLIER,
    COLUMN_EACH_LOW,
    COLUMN_EACH_HIGH,
    COLUMN_TOTAL_LOW,
    COLUMN_TOTAL_HIGH,
    COLUMN_CURRENCY,
    COLUMN_PROMISED,
    COLUMNS,
} Column;

static const char *const headers[COLUMNS] = {
    [COLUMN_NAME] = "name",
    [COLUMN_TITLE] = "title",
    [COLUMN_OPTION] = "option",
    [COLUMN_COUNT] = "count",
    [COLUMN_SPARE] = "spare",
    [COLUMN_STATUS] = "status",
    [COLUMN_SUPPLIER] = "supplier",
    [COLUMN_EACH_LOW] = "price_each_low",
    [COLUMN_EACH_HIGH] = "price_each_high",
    [COLUMN_TOTAL_LOW] = "price_total_low",
    [COLUMN_TOTAL_HIGH] = "price_total_high",
    [COLUMN_CURRENCY] = "currency",
    [COLUMN_PROMISED] = "promised",
};

typedef struct Row {
    const char *cells[COLUMNS];
    DiffThing *thing; /* NULL: cable or protection */
    struct Row *partner;
    struct Row *next;
} Row;

/* Reading */

/*
 * Takes a cell off the text of a CSV (RFC 4180) and moves behind its separator; *ends: it was the last of its
 * row.
 */
static const char *take_cell(Arena *arena, const char **at, bool *ends)
{
    Buf cell;
    buf_init(&cell, arena);
    bool quoted = **at == '"';
    const char *c = quoted ? *at + 1 : *at;
    for (; *c != '\0'; c++) {
        if (quoted && c[0] == '"') {
            if (c[1] != '"') {
                c++;
                break;
            }
            c++;
        } else if (!quoted && (*c == ',' || *c == '\r' || *c == '\n')) {
            break;
        }
        buf_char(&cell, *c);
    }
    *ends = *c != ',';
    *at = *c == ',' ? c + 1 : *c == '\r' && c[1] == '\n' ? c + 2 : *c != '\0' ? c + 1 : c;
    return cell.text;
}

static int column_of(const char *header)
{
    for (int i = 0; i < COLUMNS; i++) {
        if (strcmp(headers[i], header) == 0) {
            return i;
        }
    }
    return -1;
}

static void read_header(Arena *arena, const char **at, int *column, size_t most)
{
    bool ends = false;
    for (size_t i = 0; i < most; i++) {
        column[i] = ends ? -1 : column_of(take_cell(arena, at, &ends));
    }
}

static Row *read_row(Arena *arena, const char **at, const int *column, size_t most)
{
    Row *row = ARENA_NEW(arena, Row);
    for (int i = 0; i < COLUMNS; i++) {
        row->cells[i] = "";
    }
    bool ends = false;
    for (size_t i = 0; !ends; i++) {
        const char *cell = take_cell(arena, at, &ends);
        if (i < most && column[i] >= 0) {
            row->cells[column[i]] = cell;
        }
    }
    return row;
}

/* The thing that a row stands for. */
static DiffThing *thing_of(Arena *arena, const DiffSide *side, const Row *row)
{
    Symbol name = symbols_find(side_symbols(side), str_from(row->cells[COLUMN_NAME]));
    for (DiffThing *t = name < side->symbol_count ? side->by_name[name] : NULL; t != NULL;
         t = t->next_of_name) {
        const char *path = t->in_boat ? "" : option_path(arena, side, t->option);
        if (strcmp(path, row->cells[COLUMN_OPTION]) == 0) {
            return t;
        }
    }
    return NULL;
}

static Row *read_bom(Diff *diff, const DiffSide *side)
{
    enum { MOST = 64 };
    int column[MOST];
    Buf csv;
    buf_init(&csv, diff->arena);
    bom_csv(&csv, side->outcome);
    const char *at = csv.text;
    read_header(diff->arena, &at, column, MOST);
    Row *first = NULL;
    Row **end = &first;
    while (*at != '\0') {
        Row *row = read_row(diff->arena, &at, column, MOST);
        row->thing = thing_of(diff->arena, side, row);
        *end = row;
        end = &row->next;
    }
    return first;
}

/* Pairing */

static Str take_word(Str *rest)
{
    Str word = {rest->text, 0};
    while (word.length < rest->length && word.text[word.length] != ' ') {
        word.length++;
    }
    size_t taken = word.length < rest->length ? word.length + 1 : word.length;
    *rest = (Str){rest->text + taken, rest->length - taken};
    return word;
}

/* Takes a number and its unit off a text, in SI; false, and nothing taken, if there is none. */
static bool take_quantity(Str *rest, double *si)
{
    Str after = *rest;
    double number;
    if (!num_read(take_word(&after), &number)) {
        return false;
    }
    UnitPair unit = UNIT_ALONE(unit_find(take_word(&after)));
    if (unit.unit == UNIT_NONE || isnan(units[unit.unit].factor)) {
        return false;
    }
    *si = unit_to_si(unit, number);
    *rest = after;
    return true;
}

/* "10 A breaker interrupts 5 kA" says the same as "10 A breaker interrupts 5000 A". */
static bool same_description(Str a, Str b)
{
    while (a.length > 0 && b.length > 0) {
        double si_a;
        double si_b;
        bool quantity = take_quantity(&a, &si_a);
        if (quantity != take_quantity(&b, &si_b)) {
            return false;
        }
        if (quantity ? !numbers_same(si_a, si_b) : !str_equal(take_word(&a), take_word(&b))) {
            return false;
        }
    }
    return a.length == b.length;
}

/*
 * Rows of cable and protection are few: one for each size and rating. Their names are made of the owner's own
 * units; so where none is called the same, one that says the same will do.
 */
static Row *find_alike(Row *rows, const Row *wanted, bool by_name)
{
    for (Row *row = rows; row != NULL; row = row->next) {
        if (row->thing == NULL && row->partner == NULL &&
            (by_name ? strcmp(row->cells[COLUMN_NAME], wanted->cells[COLUMN_NAME]) == 0
                     : same_description(str_from(row->cells[COLUMN_TITLE]),
                                        str_from(wanted->cells[COLUMN_TITLE])))) {
            return row;
        }
    }
    return NULL;
}

static void join_rows(Row *a, Row *b)
{
    if (a != NULL && b != NULL && a->partner == NULL && b->partner == NULL) {
        a->partner = b;
        b->partner = a;
    }
}

/* By thing: a table from the old things to their rows. */
static void pair_rows(Diff *diff, Row *before, Row *after)
{
    Row **of_thing = ARENA_ARRAY(diff->arena, Row *, diff->before.thing_count);
    for (Row *row = before; row != NULL; row = row->next) {
        if (row->thing != NULL) {
            of_thing[row->thing->number] = row;
        }
    }
    for (Row *row = after; row != NULL; row = row->next) {
        if (row->thing == NULL) {
            join_rows(find_alike(before, row, true), row);
        } else if (row->thing->partner != NULL) {
            join_rows(of_thing[row->thing->partner->number], row);
        }
    }
    for (Row *row = after; row != NULL; row = row->next) {
        if (row->thing == NULL && row->partner == NULL) {
            join_rows(find_alike(before, row, false), row);
        }
    }
}

/* Telling */

static const char *filled(const char *cell)
{
    return *cell != '\0' ? cell : NULL;
}

/* "12.00 EUR", "12.00..15.00 EUR"; NULL if there is none. */
static const char *money(Arena *arena, const Row *row, Column low)
{
    const char *from = row->cells[low];
    const char *to = row->cells[low + 1];
    if (*from == '\0' && *to == '\0') {
        return NULL;
    }
    const char *currency = row->cells[COLUMN_CURRENCY];
    return strcmp(from, to) == 0 ? text_format(arena, "%s %s", from, currency)
                                 : text_format(arena, "%s..%s %s", from, to, currency);
}

static const char *cell_text(Arena *arena, const Row *row, Column column)
{
    if (row == NULL) {
        return NULL;
    }
    return column == COLUMN_EACH_LOW || column == COLUMN_TOTAL_LOW ? money(arena, row, column)
                                                                   : filled(row->cells[column]);
}

static DiffLine *compare_cells(Diff *diff, const Row *before, const Row *after)
{
    static const struct {
        Column column;
        const char *word;
    } told[] = {{COLUMN_COUNT, "count"},       {COLUMN_SPARE, "spare"},       {COLUMN_STATUS, "status"},
                {COLUMN_SUPPLIER, "supplier"}, {COLUMN_PROMISED, "promised"}, {COLUMN_EACH_LOW, "price"},
                {COLUMN_TOTAL_LOW, "in all"}};
    DiffLine *lines = NULL;
    for (size_t i = 0; i < sizeof told / sizeof told[0]; i++) {
        diff_add_texts(diff, &lines, told[i].word, cell_text(diff->arena, before, told[i].column),
                       cell_text(diff->arena, after, told[i].column));
    }
    return lines;
}

static const char *followed_name(const Diff *diff, const Row *before)
{
    Symbol after = before->thing != NULL ? name_after(diff, before->thing->entity->name) : 0;
    return after != 0 ? str_copy(diff->arena, symbols_text(side_symbols(&diff->after), after))
                      : before->cells[COLUMN_NAME];
}

/* A supplier that was only renamed is the same. */
static void follow_supplier(const Diff *diff, Row *row)
{
    Symbol supplier = symbols_find(side_symbols(&diff->before), str_from(row->cells[COLUMN_SUPPLIER]));
    Symbol after = supplier != 0 ? name_after(diff, supplier) : 0;
    if (after != 0) {
        row->cells[COLUMN_SUPPLIER] = str_copy(diff->arena, symbols_text(side_symbols(&diff->after), after));
    }
}

static void add_row(Diff *diff, DiffBom ***end, Row *before, const Row *after)
{
    if (before != NULL) {
        follow_supplier(diff, before);
    }
    DiffLine *lines = compare_cells(diff, before, after);
    const Row *row = after != NULL ? after : before;
    if (lines == NULL && before != NULL && after != NULL) {
        return;
    }
    DiffBom *added = ARENA_NEW(diff->arena, DiffBom);
    *added = (DiffBom){.how = before == NULL  ? DIFF_ADDED
                              : after == NULL ? DIFF_REMOVED
                                              : DIFF_CHANGED,
                       .name = row->cells[COLUMN_NAME],
                       .title = row->cells[COLUMN_TITLE],
                       .where = filled(row->cells[COLUMN_OPTION]),
                       .lines = lines};
    if (before != NULL && after != NULL &&
        strcmp(followed_name(diff, before), before->cells[COLUMN_NAME]) != 0) {
        added->was = before->cells[COLUMN_NAME];
    }
    **end = added;
    *end = &added->next;
}

void diff_find_bom(Diff *diff)
{
    Row *before = read_bom(diff, &diff->before);
    Row *after = read_bom(diff, &diff->after);
    pair_rows(diff, before, after);
    DiffBom **end = &diff->bom;
    for (Row *row = after; row != NULL; row = row->next) {
        add_row(diff, &end, row->partner, row);
    }
    for (Row *row = before; row != NULL; row = row->next) {
        if (row->partner == NULL) {
            add_row(diff, &end, row, NULL);
        }
    }
}
