/* See spreadsheet.h. */
#include "tools/spreadsheet.h"

#include "base/date.h"
#include "base/num.h"
#include "base/utf8.h"
#include "language/schema.h"
#include "language/suggest.h"
#include "language/unit.h"
#include "tools/cell_read.h"
#include "tools/columns.h"

#include <string.h>

typedef struct Sheet {
    Arena *arena;
    const SpreadsheetRequest *request;
    Columns columns;
    Symbols *taken; /* names that are used */
    Str currency;       /* of a price that says none */
    TableUnit mass_unit; /* of a mass that says none; empty: nothing tells */
    bool their_dollars; /* some are `$`, and nothing says whose */
    bool comma;         /* one stands before decimals */
} Sheet;

/* ---- Words ---- */

/* A name of the language out of any words: `Bilge pump, 12 V` makes `bilge-pump-12-v`. */
static Str make_name(Sheet *sheet, Str words, const char *otherwise)
{
    enum { MOST = 40 };
    Buf name;
    buf_init(&name, sheet->arena);
    for (size_t i = 0; i < words.length && name.length < MOST; i++) {
        char c = char_lower(words.text[i]);
        if (char_is_letter(c) || (c >= '0' && c <= '9' && name.length > 0)) {
            buf_char(&name, c);
        } else if (name.length > 0 && name.text[name.length - 1] != '-') {
            buf_char(&name, '-');
        }
    }
    while (name.length > 0 && name.text[name.length - 1] == '-') {
        name.text[--name.length] = '\0';
    }
    if (name.length == 0) {
        buf_text(&name, otherwise);
    }
    if (unit_find(buf_str(&name)) != UNIT_NONE || str_is(buf_str(&name), "yes") ||
        str_is(buf_str(&name), "no")) {
        buf_text(&name, "-1");
    }
    return buf_str(&name);
}

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

/* Text in quotes: line ends become blanks, control characters are left out. */
static void write_text(Buf *to, Str text)
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

/* ---- Values ---- */

/* No thing aboard weighs or costs more: a number that does is none. */
#define MOST_AMOUNT 1e6

static void write_number(Buf *to, double value)
{
    num_write(to, value, 9);
}

/* ---- Rows ---- */

/* A row on its way to a thing: what is written of it, and whether anything had to be left to the comment. */
typedef struct Thing {
    Sheet *sheet;
    const CsvRow *row;
    Buf body;
    Buf left; /* the cells of which nothing is said, with their headings */
} Thing;

static Str heading_of(const Thing *thing, uint32_t column)
{
    const CsvRow *head = thing->sheet->columns.head;
    return column < head->count ? head->cells[column] : (Str){"", 0};
}

/* A cell of which nothing is said. */
static void leave(Thing *thing, Str cell)
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

static void put_count(Thing *thing)
{
    double count;
    Str cell = cell_of(&thing->sheet->columns, thing->row, FIELD_COUNT);
    if (cell.length == 0) {
        return;
    }
    if (!num_read(cell, &count) || count < 1.0 || count > 1e6 || count != (double)(long)count) {
        leave(thing, cell);
    } else if (count != 1.0) {
        buf_text(&thing->body, "  count ");
        write_number(&thing->body, count);
        buf_char(&thing->body, '\n');
    }
}

/* A mass with the unit beside it, or that of the column. */
static void put_mass(Thing *thing)
{
    Sheet *sheet = thing->sheet;
    Str cell = cell_of(&sheet->columns, thing->row, FIELD_MASS), beside;
    double mass;
    if (cell.length == 0) {
        return;
    }
    bool fine = table_amount_read(sheet->arena, cell, (CellMarks){.comma = sheet->comma}, &mass, &beside);
    TableUnit unit = fine && beside.length > 0 ? table_unit(MEASURE_MASS, beside) : sheet->mass_unit;
    mass = fine ? mass * unit.factor : 0.0;
    if (!fine || unit.word.length == 0 || mass <= 0.0 || mass > MOST_AMOUNT) {
        leave(thing, cell);
        return;
    }
    buf_text(&thing->body, "  mass ");
    write_number(&thing->body, mass);
    buf_format(&thing->body, " %.*s\n", STR_ARG(unit.word));
}

/* The code that a sign or a word stands for: `$` is the sheet's, if those are dollars. Empty: none. */
static TableUnit code_of(const Sheet *sheet, Str word)
{
    TableUnit code = table_unit(MEASURE_MONEY, word);
    bool theirs = str_is(code.word, DOLLARS) && table_is_dollar(sheet->currency);
    code.word = theirs ? sheet->currency : code.word;
    return code;
}

static void put_price(Thing *thing)
{
    Sheet *sheet = thing->sheet;
    Str cell = cell_of(&sheet->columns, thing->row, FIELD_PRICE), beside,
        stated = cell_of(&sheet->columns, thing->row, FIELD_CURRENCY);
    double price;
    if (cell.length == 0) {
        return;
    }
    bool fine = table_amount_read(sheet->arena, cell, (CellMarks){.comma = sheet->comma, .money = true}, &price, &beside);
    bool bare = beside.length == 0 && stated.length == 0;
    TableHeading heading = column_heading(&sheet->columns, FIELD_PRICE);
    bool unsure = beside.length == 0 && (heading.several || heading.unclear.length > 0);
    TableUnit currency = bare ? (TableUnit){sheet->currency, 1.0, false} : code_of(sheet, beside.length > 0 ? beside : stated);
    price = fine ? price * (beside.length > 0 ? currency.factor : heading.unit.factor) : 0.0;
    if (!fine || unsure || price > MOST_AMOUNT || !str_equal(currency.word, sheet->currency)) {
        leave(thing, cell); /* another currency would need a rate, which nobody has said */
        return;
    }
    buf_text(&thing->body, "  price ");
    num_write_fixed(&thing->body, price, 2);
    buf_format(&thing->body, " %.*s\n", STR_ARG(currency.word));
}

/* The name of a supplier; never that of the boat. */
static Str supplier_name(Sheet *sheet, Str cell)
{
    Str name = make_name(sheet, cell, "supplier");
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

/* The dated facts tell how far it is; a status is written where there are none, and else left to the comment. */
static void put_purchase(Thing *thing)
{
    static const char *const words[] = {"wanted", "ordered", "delayed",  "shipped",
                                        "here",   "fitted",  "returned", "dropped"};
    bool dated = false;
    Date not_before = INT32_MIN;
    for (Field field = FIELD_ORDERED; field <= FIELD_FITTED; field++) {
        dated |= put_date(thing, field, &not_before);
    }
    Str cell = cell_of(&thing->sheet->columns, thing->row, FIELD_STATUS);
    for (size_t i = 0; i < sizeof words / sizeof words[0] && !dated; i++) {
        if (same_words(cell, str_from(words[i]))) {
            buf_format(&thing->body, "  status %s\n", words[i]);
            return;
        }
    }
    leave(thing, cell);
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

/* The row as it stands, and what of it the thing below does not say, in comments of one line each. */
static void write_row_comment(Buf *to, const Thing *thing)
{
    buf_format(to, "# line %u:", (unsigned)thing->row->line);
    for (uint32_t i = 0; i < thing->row->count; i++) {
        Str cell = thing->row->cells[i];
        if (cell.length == 0) {
            continue;
        }
        Str heading = heading_of(thing, i);
        buf_format(to, " %.*s", STR_ARG(heading));
        buf_text(to, heading.length > 0 ? " " : "");
        write_text(to, cell);
        buf_char(to, ';');
    }
    buf_format(to, "\n# not said below: %s\n", thing->left.text);
}

static void write_thing(Buf *to, Sheet *sheet, const CsvRow *row, SpreadsheetCount *count)
{
    Thing thing = {.sheet = sheet, .row = row};
    buf_init(&thing.body, sheet->arena);
    buf_init(&thing.left, sheet->arena);
    Str title = cell_of(&sheet->columns, row, FIELD_TITLE),
        called = cell_of(&sheet->columns, row, FIELD_NAME);
    Str name = unique_name(sheet, make_name(sheet, called.length > 0 ? called : title, "thing"));
    KindId kind = kind_of_row(&thing);
    put_system(&thing, kind);
    put_count(&thing);
    put_mass(&thing);
    put_price(&thing);
    put_supplier(&thing);
    put_purchase(&thing);
    put_text(&thing, FIELD_LINK);
    put_text(&thing, FIELD_SERIAL);
    put_text(&thing, FIELD_NOTE);
    leave_other_columns(&thing);
    title = title.length > 0 ? title : called;
    bool left = thing.left.length > 0;
    if (left) {
        write_row_comment(to, &thing);
    }
    buf_format(to, "%s %.*s", kinds[kind].word, STR_ARG(name));
    if (title.length > 0 && !str_equal(title, name)) {
        buf_char(to, ' ');
        write_text(to, title);
    }
    if (thing.body.length > 0) {
        buf_format(to, " {\n%s}\n", thing.body.text);
    } else {
        buf_char(to, '\n');
    }
    count->rows++;
    count->placed += !left;
    count->commented += left;
}

/* ---- The whole ---- */

/* The currency that a row states, in its own column or beside its price; empty: none. */
static Str currency_of_row(const Sheet *sheet, const CsvRow *row)
{
    Str stated = table_unit(MEASURE_MONEY, cell_of(&sheet->columns, row, FIELD_CURRENCY)).word, beside;
    double unused;
    CellMarks marks = {.comma = sheet->comma, .money = true};
    bool fine = table_amount_read(sheet->arena, cell_of(&sheet->columns, row, FIELD_PRICE), marks, &unused, &beside);
    return stated.length > 0 ? stated : fine ? table_unit(MEASURE_MONEY, beside).word : (Str){"", 0};
}

/* Spreadsheets that write a decimal comma set semicolons between the cells; but a decimal point in one of them shows another. */
static bool has_decimal_commas(const Sheet *sheet)
{
    bool comma = sheet->columns.head->between == ';';
    for (const CsvRow *row = sheet->columns.head->next; row != NULL && comma; row = row->next) {
        comma = !cell_has_decimal_point(cell_of(&sheet->columns, row, FIELD_PRICE)) &&
                !cell_has_decimal_point(cell_of(&sheet->columns, row, FIELD_MASS));
    }
    return comma;
}

/*
 * The currency of the heading, else of the first row that states one. Where that is `$`, the first code of a dollar says
 * whose; those of the United States where none does.
 */
static void find_currency(Sheet *sheet)
{
    TableHeading heading = column_heading(&sheet->columns, FIELD_PRICE);
    Str found = heading.several ? (Str){"", 0} : heading.unit.word;
    bool dollars = str_is(found, DOLLARS);
    for (const CsvRow *row = sheet->columns.head->next; row != NULL && (found.length == 0 || dollars); row = row->next) {
        Str stated = currency_of_row(sheet, row);
        bool whose = dollars && table_is_dollar(stated);
        found = whose || found.length == 0 ? stated : found;
        dollars = str_is(found, DOLLARS);
    }
    sheet->their_dollars = dollars;
    sheet->currency = dollars ? STR("USD") : found.length > 0 ? found : STR("EUR");
}

/*
 * The unit of a mass that says none: that of the heading, else the one that all others say. Where none does, kg; but not in
 * a list with prices in USD, for there it may as well be lb.
 */
static void find_mass_unit(Sheet *sheet)
{
    TableHeading heading = column_heading(&sheet->columns, FIELD_MASS);
    bool several = heading.several;
    TableUnit found = heading.unit;
    for (const CsvRow *row = sheet->columns.head->next; row != NULL && heading.unit.word.length == 0; row = row->next) {
        Str beside;
        double unused;
        CellMarks marks = {.comma = sheet->comma};
        bool fine = table_amount_read(sheet->arena, cell_of(&sheet->columns, row, FIELD_MASS), marks, &unused, &beside);
        TableUnit unit = table_unit(MEASURE_MASS, fine ? beside : (Str){"", 0});
        bool other = !str_equal(unit.word, found.word) || unit.factor != found.factor;
        several |= found.word.length > 0 && unit.word.length > 0 && other;
        found = unit.word.length > 0 ? unit : found;
    }
    bool unknown = several || heading.unclear.length > 0 || (found.word.length == 0 && str_is(sheet->currency, "USD"));
    sheet->mass_unit = unknown                   ? (TableUnit){{"", 0}, 1.0, false}
                       : found.word.length > 0 ? found
                                               : (TableUnit){STR("kg"), 1.0, false};
}

/* Headings that mean nothing here are named: a column that was meant for a property can be mapped. */
static void write_unknown_columns(Buf *to, const Sheet *sheet)
{
    const CsvRow *head = sheet->columns.head;
    uint32_t count = 0;
    for (uint32_t i = 0; i < head->count; i++) {
        if (head->cells[i].length > 0 && !column_is_known(&sheet->columns, i)) {
            buf_text(to, count++ == 0 ? "# No property is known for the columns: " : ", ");
            write_text(to, head->cells[i]);
        }
    }
    buf_text(to, count > 0 ? ".\n# `--column PROPERTY=HEADING` says what one of them holds.\n\n" : "");
}

/* What a heading names that nothing can be counted in: its bare numbers are left to the comments. */
static bool write_unclear(Buf *to, const Sheet *sheet, Field field, const char *example)
{
    Str unclear = column_heading(&sheet->columns, field).unclear;
    if (unclear.length > 0) {
        buf_text(to, "# Numbers below the heading ");
        write_text(to, sheet->columns.head->cells[sheet->columns.of[field]]);
        buf_text(to, " are not read: what ");
        write_text(to, unclear);
        buf_format(to, " is, is not clear. The heading may name another unit, as in `%s`.\n\n", example);
    }
    return unclear.length > 0;
}

/* A mass without its unit, of which nothing tells what it is. */
static void write_unknown_unit(Buf *to, const Sheet *sheet)
{
    int column = sheet->columns.of[FIELD_MASS];
    write_unclear(to, sheet, FIELD_PRICE, "Price (EUR)");
    if (!write_unclear(to, sheet, FIELD_MASS, "Weight (lb)") && column >= 0 && sheet->mass_unit.word.length == 0) {
        buf_text(to, "# The unit of a mass without one is not known: the heading ");
        write_text(to, sheet->columns.head->cells[column]);
        buf_text(to, " may say it, as in `Weight (lb)`.\n\n");
    }
}

static void write_boat(Buf *to, const Sheet *sheet)
{
    buf_format(to,
               "# %.*s: made of a list of things. What could not be placed stands in comments, line by "
               "line.\n\nedition 1\n\n"
               "%s# `?` is not decided yet: length, beam and crew are asked for first.\n"
               "boat %.*s { length ?; beam ?; displacement ?; crew ?; currency %.*s; basis %s }\n\n",
               STR_ARG(sheet->request->boat),
               sheet->their_dollars ? "# Nothing says whose dollars `$` are: here they are USD.\n" : "",
               STR_ARG(sheet->request->boat), STR_ARG(sheet->currency), str_is(sheet->currency, "USD") ? "us" : "iso");
}

/* A supplier for each that the rows name; their names are taken before those of things. */
static void write_suppliers(Buf *to, Sheet *sheet)
{
    uint32_t before = (uint32_t)to->length;
    for (const CsvRow *row = sheet->columns.head->next; row != NULL; row = row->next) {
        Str cell = cell_of(&sheet->columns, row, FIELD_SUPPLIER);
        Str name = cell.length > 0 ? supplier_name(sheet, cell) : cell;
        if (name.length > 0 && symbols_find(sheet->taken, name) == 0) {
            symbols_intern(sheet->taken, name);
            buf_format(to, "supplier %.*s ", STR_ARG(name));
            write_text(to, cell);
            buf_char(to, '\n');
        }
    }
    buf_text(to, to->length > before ? "\n" : "");
}

bool spreadsheet_write(Buf *to, Arena *arena, const SpreadsheetRequest *request, SpreadsheetCount *count,
                       const char **error)
{
    Sheet sheet = {.arena = arena, .request = request, .taken = symbols_new(arena)};
    const CsvRow *head = csv_read(arena, request->text);
    *count = (SpreadsheetCount){0, 0, 0};
    Str boat = make_name(&sheet, request->boat, "");
    if (!str_equal(boat, request->boat)) {
        *error = text_format(arena, "`%.*s` is no name for a boat; `%.*s` would be", STR_ARG(request->boat),
                             STR_ARG(boat.length > 0 ? boat : STR("wren")));
        return false;
    }
    if (utf8_first_bad(request->text.text, request->text.length, 0) < request->text.length) {
        *error = "the table is not UTF-8; spreadsheets offer that where they save as CSV";
        return false;
    }
    if (head == NULL || head->next == NULL) {
        *error = "the table has no rows; its first line names the columns, each line behind it is a thing";
        return false;
    }
    *error = columns_find(&sheet.columns, arena, head, request->columns, request->column_count);
    if (*error != NULL) {
        return false;
    }
    sheet.comma = has_decimal_commas(&sheet);
    find_currency(&sheet);
    find_mass_unit(&sheet);
    symbols_intern(sheet.taken, request->boat);
    write_boat(to, &sheet);
    write_unknown_columns(to, &sheet);
    write_unknown_unit(to, &sheet);
    write_suppliers(to, &sheet);
    for (const CsvRow *row = head->next; row != NULL; row = row->next) {
        write_thing(to, &sheet, row, count);
    }
    return true;
}
