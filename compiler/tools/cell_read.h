/*
 * What one cell of a table says where it is plain: numbers and dates as spreadsheets of several lands write them. Pure functions
 * of the text: no columns, no things. What may mean one of two is not read.
 */
#ifndef GARBOARD_TOOLS_CELL_READ_H
#define GARBOARD_TOOLS_CELL_READ_H

#include "base/date.h"
#include "base/str.h"

/* How the numbers of a table are written. */
typedef struct CellMarks {
    bool comma; /* a comma stands before decimals */
    bool money; /* three digits behind the only mark may be thousands: not read */
} CellMarks;

/**
 * A number such as `1,234.50`, `1.234,50`, `1'234.50` or `12`. False where it is not plain what it says: of `1,5` the table has to
 * tell what it is.
 */
bool cell_number(Arena *arena, Str text, CellMarks marks, double *number);

/** The length of a blank at a place: also of those that do not break lines, which spreadsheets set before a currency; 0: none. */
size_t cell_blank(Str text, size_t at);

/** Whether a point stands before decimals in the cell, for sure: `12.5`. */
bool cell_has_decimal_point(Str text);

enum { CELL_DATE = 16 };
/**
 * A date as ISO 8601 has it, or with the year first, or with points (day first), or with slashes if only one order is in the
 * calendar; written to `iso` as a spec has it. False of all else.
 */
bool cell_date(Str text, char iso[static CELL_DATE], Date *date);

#endif
