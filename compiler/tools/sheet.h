/* A table on its way to a spec: what its rows have in common, and one row. Private to spreadsheet.c, sheet_row.c and sheet_amount.c. */
#ifndef GARBOARD_TOOLS_SHEET_H
#define GARBOARD_TOOLS_SHEET_H

#include "language/suggest.h"
#include "language/unit.h"
#include "tools/columns.h"
#include "tools/spreadsheet.h"
#include "tools/table_sums.h"

typedef struct Sheet {
    Arena *arena;
    const SpreadsheetRequest *request;
    Columns columns;
    Symbols *taken; /* names that are used */
    Str currency;       /* of a price that says none */
    TableUnit mass_unit; /* of a mass that says none; empty: nothing tells */
    bool their_dollars; /* some are `$`, and nothing says whose */
    bool comma;         /* one stands before decimals */
    TableSums sums;     /* of the rows until now */
    const CsvRow *group; /* the last row with a cell in a column in which one may stand for several rows; NULL: there is none */
    uint32_t group_column;
    bool few_bare;      /* few rows say nothing but a name */
} Sheet;

/* A row on its way to a thing: what is written of it, and whether anything had to be left to the comment. */
typedef struct Thing {
    Sheet *sheet;
    const CsvRow *row;
    Buf body;
    Buf left; /* the cells of which nothing is said, with their headings */
    double count;
    double price; /* of one; below 0: none is said */
} Thing;

/** A cell of which nothing is said goes to the comment. */
void leave(Thing *thing, Str cell);
/** Text in quotes: line ends become blanks, control characters are left out. */
void write_text(Buf *to, Str text);
/** The name of a supplier; never that of the boat. */
Str supplier_name(Sheet *sheet, Str cell);
/** Whether a row below the headings is a thing: it names one, and is no sum. */
bool is_thing(const Sheet *sheet, const CsvRow *row);
/** Whether a row has one cell alone. */
bool is_bare(const CsvRow *row);
/** Writes what becomes of a row, and counts it. */
void write_row(Buf *to, Sheet *sheet, const CsvRow *row, SpreadsheetCount *count);

/** What the row says of mass and price, in the units of the sheet; else it is left. */
void put_mass(Thing *thing);
void put_price(Thing *thing);

#endif
