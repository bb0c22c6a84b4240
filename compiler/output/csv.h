/*
 * Comma-separated values by RFC 4180: a header row, CRLF after every row, the same number of cells in each.
 *
 * The writer owns quoting and the guard against formulas. It knows text and numbers; what the columns mean,
 * and their units (which stand in the header, so that a sheet can add), is its caller's business.
 *
 *     Csv csv;
 *     csv_init(&csv, buf, (const char *const[]){"id", "length_m"}, 2);
 *     csv_text(&csv, STR("galley"));
 *     csv_number(&csv, 14.2);
 *     csv_row_end(&csv);
 */
#ifndef GARBOARD_OUTPUT_CSV_H
#define GARBOARD_OUTPUT_CSV_H

#include "base/buf.h"
#include "base/str.h"

#include <stddef.h>

typedef struct Csv {
    Buf *buf;
    size_t columns; /* cells of every row */
    size_t cells;   /* written so far of the row at hand */
} Csv;

/** Writes the header row; columns >= 1. */
void csv_init(Csv *csv, Buf *buf, const char *const headers[], size_t columns);

/**
 * A cell of text. Where a spreadsheet would take it for a formula (it begins with = + - @, a tab or a line
 * end) an apostrophe is put before it. Bytes that are not UTF-8, and control characters other than tab and
 * line ends, become U+FFFD.
 */
void csv_text(Csv *csv, Str text);

/**
 * A cell of the shortest number that reads back the same, never guarded; empty if the value is not finite.
 */
void csv_number(Csv *csv, double value);

/** A cell of a number with that many decimals (0..9), for money; empty if the value is not finite. */
void csv_fixed(Csv *csv, double value, int decimals);

/** A cell with nothing in it. */
void csv_empty(Csv *csv);

/** Ends a row, in which every column must have had its cell. */
void csv_row_end(Csv *csv);

#endif
