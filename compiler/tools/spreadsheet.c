/* See spreadsheet.h. */
#include "tools/spreadsheet.h"

#include "base/num.h"
#include "base/utf8.h"
#include "tools/sheet.h"

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

/* On a bill the amount is that of the whole row. */
static void write_amount(Buf *to, const Sheet *sheet)
{
    if (sheet->columns.amount >= 0) {
        buf_text(to, "# Whether ");
        write_text(to, sheet->columns.head->cells[sheet->columns.amount]);
        buf_text(to, " is the price of one or of all that a row counts is not known;\n# `--column price=");
        buf_add(to, sheet->columns.head->cells[sheet->columns.amount]);
        buf_text(to, "` would say that it is of one.\n\n");
    }
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

/* Cells that were merged are empty but for the first, which then says nothing twice. */
static void write_merged(Buf *to, const Sheet *sheet)
{
    int column = sheet->columns.of[FIELD_SUPPLIER];
    unsigned filled = 0, empty = 0;
    bool merged = column >= 0;
    Str above = {"", 0};
    for (const CsvRow *row = sheet->columns.head->next; row != NULL && merged; row = row->next) {
        Str cell = cell_of(&sheet->columns, row, FIELD_SUPPLIER);
        if (is_thing(sheet, row)) {
            merged = cell.length > 0 ? !str_equal(cell, above) : filled > 0;
            filled += cell.length > 0;
            empty += cell.length == 0;
            above = cell;
        }
    }
    if (merged && filled > 1 && empty >= filled) {
        buf_text(to, "# The column ");
        write_text(to, sheet->columns.head->cells[column]);
        buf_format(to, " is empty in %u rows: of cells that were merged, the first alone has the words.\n\n", empty);
    }
}

static bool has_few_bare(const Sheet *sheet)
{
    unsigned bare = 0, things = 0;
    for (const CsvRow *row = sheet->columns.head->next; row != NULL; row = row->next) {
        things += is_thing(sheet, row);
        bare += is_thing(sheet, row) && is_bare(row);
    }
    return bare * 2 < things;
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
        Str cell = is_thing(sheet, row) ? cell_of(&sheet->columns, row, FIELD_SUPPLIER) : (Str){"", 0};
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
    *count = (SpreadsheetCount){0, 0, 0, 0};
    Str boat = cell_name(arena, request->boat, "");
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
    sheet.few_bare = has_few_bare(&sheet);
    symbols_intern(sheet.taken, request->boat);
    write_boat(to, &sheet);
    write_unknown_columns(to, &sheet);
    write_amount(to, &sheet);
    write_unknown_unit(to, &sheet);
    write_merged(to, &sheet);
    for (const CsvRow *row = head; row != sheet.columns.head; row = row->next) {
        write_row(to, &sheet, row, count);
    }
    write_suppliers(to, &sheet);
    for (const CsvRow *row = sheet.columns.head->next; row != NULL; row = row->next) {
        write_row(to, &sheet, row, count);
    }
    return true;
}
