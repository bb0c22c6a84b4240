/*
 * From a spreadsheet to a spec: a list of things as comma-separated values becomes a spec that checks (`garboard new NAME
 * --from FILE`).
 *
 * Each row becomes one thing, unless it is the list's own sum, or names none. A column is known by its heading: a property's word, one of a few words that people use for
 * it, or what the caller says. A kind stands as it is if nothing else has to be known of it; of a bank, a pump or a cable
 * more has to be said, so such a row becomes an `item` with the row in a comment above it. Whatever cannot be read (a date
 * in another order, an amount without sense) stands in that comment too: nothing is lost.
 */
#ifndef GARBOARD_TOOLS_SPREADSHEET_H
#define GARBOARD_TOOLS_SPREADSHEET_H

#include "base/buf.h"

#include <stdbool.h>
#include <stddef.h>

typedef struct SpreadsheetRequest {
    Str boat;                   /* the boat's name */
    Str text;                   /* the table */
    const char *const *columns; /* "PROPERTY=HEADING" */
    size_t column_count;
} SpreadsheetRequest;

typedef struct SpreadsheetCount {
    unsigned rows;      /* but for the headings; the sum of those below */
    unsigned placed;    /* things of which the spec says all that the row does */
    unsigned commented; /* things with their row in a comment */
    unsigned left_out;  /* rows that are no things, in a comment of their own: sums, headings of groups */
} SpreadsheetCount;

/** Writes the spec. False if it cannot be made: *error is then a sentence in the arena that says what would be right. */
bool spreadsheet_write(Buf *to, Arena *arena, const SpreadsheetRequest *request, SpreadsheetCount *count,
                       const char **error);

#endif
