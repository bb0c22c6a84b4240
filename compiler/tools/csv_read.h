/*
 * Reads a table of comma-separated values (RFC 4180), as spreadsheets write it.
 *
 * Forgiving where spreadsheets differ: a byte-order mark, any line end, semicolons or tabs between cells where the first
 * line with any of them has more than commas. A quote that is not closed runs to the end. Knows cells, not what they mean.
 */
#ifndef GARBOARD_TOOLS_CSV_READ_H
#define GARBOARD_TOOLS_CSV_READ_H

#include "base/arena.h"
#include "base/str.h"

#include <stdint.h>

typedef struct CsvRow {
    Str *cells; /* blanks around them are cut off */
    uint32_t count;
    uint32_t line; /* where it begins, from 1 */
    char between;  /* what stands between the cells of the table */
    struct CsvRow *next;
} CsvRow;

/** The rows of the text in order, lines without any content left out; NULL if there are none. All in the arena. */
CsvRow *csv_read(Arena *arena, Str text);

#endif
