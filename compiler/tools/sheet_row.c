/* See sheet.h. What becomes of one row of a table: a thing, with what its cells say in properties; or a comment alone. */
#include "tools/sheet.h"

#include "base/date.h"
#include "base/num.h"
#include "base/utf8.h"
#include "language/schema.h"
#include "tools/cell_read.h"

#include <string.h>

/* ---- Words ---- */

/* The name, or the first of `name-2`, `name-3` ... that nothing has yet. */
static Str unique_name(Sheet *sheet, Str name)
{
    Str free = name;
    for (unsigned n = 2; symbols_find(sheet->taken, free) != 0; n++) {
        free = str_from(text_format(sheet->arena, "%.*s-%u", STR_ARG(name), n));
    }
    symbols_intern(sheet->taken, free);
    return free;
}

void write_text(Buf *to, Str text)
{
    buf_char(to, '"');
    for (size_t i = 0; i < text.length; i++) {
        char c = text.text[i];
        if (c == '\n' || c == '\r' || c == '\t') {
            buf_char(to, ' ');
        } else if ((unsigned char)c >= ' ' && c != 127) {
            if (c == '"' || c == '\\') {
                buf_char(to, '\\');
            }
            buf_char(to, c);
        }
    }
    buf_char(to, '"');
}

/* ---- Cells ---- */

static Str heading_of(const Thing *thing, uint32_t column)
{
    const CsvRow *head = thing->sheet->columns.head;
    return column < head->count ? head->cells[column] : (Str){"", 0};
}

void leave(Thing *thing, Str cell)
{
    uint32_t column = 0;
    while (column < thing->row->count && thing->row->cells[column].text != cell.text) {
        column++;
    }
    if (cell.length == 0 || column == thing->row->count) {
        return;
    }
    Str heading = heading_of(thing, column);
    buf_format(&thing->left, "%s%.*s%s", thing->left.length > 0 ? "; " : "", STR_ARG(heading), heading.length > 0 ? " " : "");
    write_text(&thing->left, cell);
}

/* A kind that stands as it is: nothing else has to be known of it, and it is neither fed nor feeds. */
static bool stands_alone(KindId kind)
{
    const uint32_t wired = GROUPS_FEED | GROUPS_LOAD | GROUPS_MAKER;
    if (kind == KIND_NONE || kinds[kind].group || (kinds[kind].groups & GROUPS_COMMON) == 0 ||
        kinds[kind].groups & wired) {
        return false;
    }
    for (int p = PROP_NONE + 1; p < PROP_COUNT; p++) {
        if (props[p].required && schema_has(kind, (PropId)p)) {
            return false;
        }
    }
    return true;
}

static KindId kind_of_row(Thing *thing)
{
    Str word = cell_of(&thing->sheet->columns, thing->row, FIELD_KIND);
    Buf small;
    buf_init(&small, thing->sheet->arena);
    for (size_t i = 0; i < word.length; i++) {
        buf_char(&small, word.text[i] == ' ' ? '-' : char_lower(word.text[i]));
    }
    KindId kind = schema_find_kind(buf_str(&small));
    if (stands_alone(kind)) {
        return kind;
    }
    leave(thing, word);
    return KIND_ITEM;
}

static void put_system(Thing *thing, KindId kind)
{
    Str cell = cell_of(&thing->sheet->columns, thing->row, FIELD_SYSTEM);
    for (int s = SYSTEM_NONE + 1; s < SYSTEM_COUNT; s++) {
        if (same_words(cell, str_from(system_word((System)s)))) {
            if (kinds[kind].system != s) {
                buf_format(&thing->body, "  system %s\n", system_word((System)s));
            }
            return;
        }
    }
    leave(thing, cell);
}

/* False of a count that is not read: then what one costs and weighs would be taken for what all do. */
static bool put_count(Thing *thing)
{
    double count = 1.0;
    Str cell = cell_of(&thing->sheet->columns, thing->row, FIELD_COUNT);
    if (cell.length > 0 && (!num_read(cell, &count) || count < 1.0 || count > 1e6 || count != (double)(long)count)) {
        leave(thing, cell);
        return false;
    }
    if (count != 1.0) {
        buf_text(&thing->body, "  count ");
        num_write(&thing->body, count, 9);
        buf_char(&thing->body, '\n');
    }
    thing->count = count;
    return true;
}

Str supplier_name(Sheet *sheet, Str cell)
{
    Str name = cell_name(sheet->arena, cell, "supplier");
    return str_equal(name, sheet->request->boat)
               ? str_from(text_format(sheet->arena, "%.*s-1", STR_ARG(name)))
               : name;
}

static void put_supplier(Thing *thing)
{
    Str cell = cell_of(&thing->sheet->columns, thing->row, FIELD_SUPPLIER);
    if (cell.length > 0) {
        buf_format(&thing->body, "  supplier %.*s\n", STR_ARG(supplier_name(thing->sheet, cell)));
    }
}

/* A date, unless it is none, or comes before what must have been before it: a spec in which that is so does not check. */
static bool put_date(Thing *thing, Field field, Date *not_before)
{
    Str cell = cell_of(&thing->sheet->columns, thing->row, field);
    Date date;
    char iso[CELL_DATE];
    if (cell.length == 0) {
        return false;
    }
    if (!cell_date(cell, iso, &date) || date < *not_before) {
        leave(thing, cell);
        return false;
    }
    if (field != FIELD_PROMISED) {
        *not_before = date;
    }
    buf_format(&thing->body, "  %s %s\n", column_word(field), iso);
    return true;
}

/* How far buying has come: what is ordered, what is here, what is fitted; and what no date tells, given up, lost or sent back. */
typedef enum Far { FAR_NOT, FAR_ORDERED, FAR_HERE, FAR_FITTED, FAR_OVER } Far;

static Far far_by_status(const char *status)
{
    return strcmp(status, "wanted") == 0                                      ? FAR_NOT
           : strcmp(status, "here") == 0                                      ? FAR_HERE
           : strcmp(status, "fitted") == 0                                    ? FAR_FITTED
           : strcmp(status, "dropped") == 0 || strcmp(status, "returned") == 0 || strcmp(status, "lost") == 0 ? FAR_OVER
                                                                                                              : FAR_ORDERED;
}

/* A status that says no more than the dates is not said twice, and one that says less would contradict them. */
static void put_status(Thing *thing, Far by_dates)
{
    static const char *const told[] = {[FAR_NOT] = "", [FAR_ORDERED] = "ordered", [FAR_HERE] = "here", [FAR_FITTED] = "fitted"};
    Str cell = cell_of(&thing->sheet->columns, thing->row, FIELD_STATUS);
    const char *status = cell_status(cell);
    if (status == NULL || far_by_status(status) < by_dates) {
        leave(thing, cell);
    } else if (strcmp(status, told[by_dates]) != 0) {
        buf_format(&thing->body, "  status %s\n", status);
    }
}

static void put_purchase(Thing *thing)
{
    static const Far far[] = {[FIELD_ORDERED] = FAR_ORDERED, [FIELD_PROMISED] = FAR_NOT, [FIELD_ARRIVED] = FAR_HERE, [FIELD_FITTED] = FAR_FITTED};
    Far by_dates = FAR_NOT;
    Date not_before = INT32_MIN;
    for (Field field = FIELD_ORDERED; field <= FIELD_FITTED; field++) {
        if (put_date(thing, field, &not_before) && far[field] > by_dates) {
            by_dates = far[field];
        }
    }
    put_status(thing, by_dates);
}

static void put_text(Thing *thing, Field field)
{
    Str cell = cell_of(&thing->sheet->columns, thing->row, field);
    if (cell.length > 0) {
        buf_format(&thing->body, "  %s ", column_word(field));
        write_text(&thing->body, cell);
        buf_char(&thing->body, '\n');
    }
}

/* A cell under a heading that means nothing here. */
static void leave_other_columns(Thing *thing)
{
    for (uint32_t i = 0; i < thing->row->count; i++) {
        if (!column_is_known(&thing->sheet->columns, i)) {
            leave(thing, thing->row->cells[i]);
        }
    }
}

/* The row as it stands, in a comment of one line. */
static void write_row_comment(Buf *to, const Thing *thing)
{
    bool below_headings = thing->row->line > thing->sheet->columns.head->line;
    buf_format(to, "# line %u:", (unsigned)thing->row->line);
    for (uint32_t i = 0; i < thing->row->count; i++) {
        Str cell = thing->row->cells[i];
        if (cell.length == 0) {
            continue;
        }
        Str heading = below_headings ? heading_of(thing, i) : (Str){"", 0};
        buf_format(to, " %.*s", STR_ARG(heading));
        buf_text(to, heading.length > 0 ? " " : "");
        write_text(to, cell);
        buf_char(to, ';');
    }
    buf_char(to, '\n');
}

/* ---- Rows that are no things ---- */

static Str words_of_row(const Sheet *sheet, const CsvRow *row)
{
    Str title = cell_of(&sheet->columns, row, FIELD_TITLE);
    return title.length > 0 ? title : cell_of(&sheet->columns, row, FIELD_NAME);
}

static bool is_counted(const Sheet *sheet, const CsvRow *row)
{
    return cell_of(&sheet->columns, row, FIELD_COUNT).length > 0;
}

/* The headings again, as they stand on each page of a print. */
static bool is_head_again(const Sheet *sheet, const CsvRow *row)
{
    return same_words(words_of_row(sheet, row), words_of_row(sheet, sheet->columns.head));
}

bool is_thing(const Sheet *sheet, const CsvRow *row)
{
    Str words = words_of_row(sheet, row);
    return words.length > 0 && !is_head_again(sheet, row) && cell_is_sum(words, is_counted(sheet, row)) != CELL_SUM;
}

/* Called by the word for a sum and more: one that says who sells it, or what part it is, is a thing. */
static bool may_be_called_sum(const Sheet *sheet, const CsvRow *row)
{
    bool sold = cell_of(&sheet->columns, row, FIELD_SUPPLIER).length > 0 || cell_of(&sheet->columns, row, FIELD_LINK).length > 0 ||
                cell_of(&sheet->columns, row, FIELD_SERIAL).length > 0;
    return !sold && cell_is_sum(words_of_row(sheet, row), is_counted(sheet, row)) == CELL_SUM_PERHAPS;
}

/* So called, and its amount is what the things above it cost. */
static bool is_sum_by_amount(Sheet *sheet, const CsvRow *row)
{
    Thing tried = {.sheet = sheet, .row = row, .count = 1.0, .price = -1.0};
    buf_init(&tried.body, sheet->arena);
    buf_init(&tried.left, sheet->arena);
    if (!may_be_called_sum(sheet, row)) {
        return false;
    }
    put_price(&tried);
    return tried.price > 0.0 && table_sums_hold(&sheet->sums, tried.price);
}

static uint32_t count_filled(const CsvRow *row, uint32_t *last)
{
    uint32_t filled = 0;
    for (uint32_t i = 0; i < row->count; i++) {
        filled += row->cells[i].length > 0;
        *last = row->cells[i].length > 0 ? i : *last;
    }
    return filled;
}

bool is_bare(const CsvRow *row)
{
    uint32_t unused;
    return count_filled(row, &unused) == 1;
}

/* A sum, or an amount without a name: how it compares with what stands above it. */
static const char *tell_sum(Thing *thing, const char *what)
{
    Sheet *sheet = thing->sheet;
    put_price(thing);
    return thing->price < 0.0 ? what
                              : text_format(sheet->arena, "%s%s", what,
                                            table_sums_tell(&sheet->sums, sheet->arena, thing->price,
                                                            text_format(sheet->arena, "%.*s", STR_ARG(sheet->currency))));
}

/* A word may stand once for several things; an amount, a date or a note is of one. */
static bool may_stand_for_several(const Columns *columns, int column, Str cell)
{
    static const Field fields[] = {FIELD_KIND, FIELD_SYSTEM, FIELD_CURRENCY, FIELD_SUPPLIER, FIELD_STATUS};
    bool may = !column_is_known(columns, (uint32_t)column);
    for (size_t i = 0; i < sizeof fields / sizeof fields[0]; i++) {
        may |= columns->of[fields[i]] == column;
    }
    return may && (char_is_letter(cell.text[0]) || (unsigned char)cell.text[0] >= 0xC3);
}

/* Why a row is no thing. One cell that stands alone may be one for all rows below it, as merged cells are saved. */
static const char *why_no_thing(Thing *thing)
{
    Sheet *sheet = thing->sheet;
    sheet->group = NULL;
    if (thing->row->line < sheet->columns.head->line) {
        return "it stands above the headings";
    }
    if (words_of_row(sheet, thing->row).length > 0) {
        return is_head_again(sheet, thing->row) ? "the headings again" : tell_sum(thing, "a sum, and no thing");
    }
    uint32_t column = 0;
    bool alone = count_filled(thing->row, &column) == 1;
    if (alone && may_stand_for_several(&sheet->columns, (int)column, thing->row->cells[column])) {
        sheet->group = thing->row;
        sheet->group_column = column;
        return "it names no thing; one cell alone may stand for all the rows below it, in which it is empty";
    }
    return tell_sum(thing, "it names no thing, and may be a sum");
}

static void leave_out(Buf *to, Thing *thing, SpreadsheetCount *count)
{
    const char *why = why_no_thing(thing);
    write_row_comment(to, thing);
    buf_format(to, "# left out: %s\n\n", why);
    count->rows++;
    count->left_out++;
}

/* What stands once for several rows, and not in this one. */
static void leave_group(Thing *thing)
{
    Sheet *sheet = thing->sheet;
    uint32_t column = sheet->group_column;
    bool filled = column < thing->row->count && thing->row->cells[column].length > 0;
    if (sheet->group == NULL || filled) {
        sheet->group = filled && sheet->group != NULL ? thing->row : sheet->group;
        return;
    }
    buf_format(&thing->left, "%s%.*s, empty below ", thing->left.length > 0 ? "; " : "", STR_ARG(heading_of(thing, column)));
    write_text(&thing->left, sheet->group->cells[column]);
    buf_format(&thing->left, " of line %u", (unsigned)sheet->group->line);
}

/* A name alone, in a list that says more of most things, may be no thing: whatever it is, nothing else is said of it. */
static void doubt_bare(Thing *thing)
{
    if (thing->sheet->few_bare && thing->row->next != NULL && is_bare(thing->row)) {
        buf_format(&thing->left, "%swhether this is a thing, or heads those below it", thing->left.length > 0 ? "; " : "");
    }
}

static void doubt_sum(Thing *thing)
{
    if (may_be_called_sum(thing->sheet, thing->row)) {
        buf_format(&thing->left, "%swhether this is a thing, or a sum", thing->left.length > 0 ? "; " : "");
    }
}

/* The last row may be a sum by another word: one with an amount alone, which is what all above it cost. */
static bool may_be_sum(const Thing *thing)
{
    const Sheet *sheet = thing->sheet;
    uint32_t unused;
    return thing->row->next == NULL && thing->price > 0.0 && sheet->sums.things > 1 && !sheet->sums.lost &&
           count_filled(thing->row, &unused) == 2 && table_sums_hold(&sheet->sums, thing->price);
}

/* What one costs and weighs, where it is known how many there are. */
static void put_amounts(Thing *thing)
{
    TableSums *sums = &thing->sheet->sums;
    Str mass = cell_of(&thing->sheet->columns, thing->row, FIELD_MASS),
        price = cell_of(&thing->sheet->columns, thing->row, FIELD_PRICE);
    if (!put_count(thing)) {
        leave(thing, mass);
        leave(thing, price);
        sums->lost |= price.length > 0;
        return;
    }
    put_mass(thing);
    size_t before = thing->body.length;
    put_price(thing);
    if (may_be_sum(thing)) {
        thing->body.length = before;
        leave(thing, price);
        buf_text(&thing->left, ", which is the sum of those above");
    } else if (thing->price >= 0.0) {
        table_sums_add(sums, thing->price, thing->count);
    } else {
        sums->lost |= price.length > 0;
    }
}

/* ---- Rows that are things ---- */

static void write_thing(Buf *to, Thing *thing)
{
    Sheet *sheet = thing->sheet;
    Str title = words_of_row(sheet, thing->row), called = cell_of(&sheet->columns, thing->row, FIELD_NAME);
    Str name = unique_name(sheet, cell_name(sheet->arena, called.length > 0 ? called : title, "thing"));
    KindId kind = kind_of_row(thing);
    put_system(thing, kind);
    put_amounts(thing);
    put_supplier(thing);
    put_purchase(thing);
    put_text(thing, FIELD_LINK);
    put_text(thing, FIELD_SERIAL);
    put_text(thing, FIELD_NOTE);
    leave_other_columns(thing);
    leave_group(thing);
    doubt_bare(thing);
    doubt_sum(thing);
    if (thing->left.length > 0) {
        write_row_comment(to, thing);
        buf_format(to, "# not said below: %s\n", thing->left.text);
    }
    buf_format(to, "%s %.*s", kinds[kind].word, STR_ARG(name));
    if (title.length > 0 && !str_equal(title, name)) {
        buf_char(to, ' ');
        write_text(to, title);
    }
    if (thing->body.length > 0) {
        buf_format(to, " {\n%.*s}\n", STR_ARG(buf_str(&thing->body)));
    } else {
        buf_char(to, '\n');
    }
}

void write_row(Buf *to, Sheet *sheet, const CsvRow *row, SpreadsheetCount *count)
{
    Thing thing = {.sheet = sheet, .row = row, .count = 1.0, .price = -1.0};
    buf_init(&thing.body, sheet->arena);
    buf_init(&thing.left, sheet->arena);
    if (row->line < sheet->columns.head->line || !is_thing(sheet, row) || is_sum_by_amount(sheet, row)) {
        leave_out(to, &thing, count);
        return;
    }
    write_thing(to, &thing);
    count->rows++;
    count->placed += thing.left.length == 0;
    count->commented += thing.left.length > 0;
}
