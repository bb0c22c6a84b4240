/*
 * What the columns of a table of things hold: known by their headings, which are a property's word, one of a few words that
 * people use for it, or what the caller says.
 */
#ifndef GARBOARD_TOOLS_COLUMNS_H
#define GARBOARD_TOOLS_COLUMNS_H

#include "base/arena.h"
#include "base/str.h"
#include "tools/cell_words.h"
#include "tools/csv_read.h"
#include "tools/table_amount.h"

#include <stdbool.h>
#include <stddef.h>

/* What a column may hold, in the order in which properties are written. */
typedef enum Field {
    FIELD_NAME,
    FIELD_TITLE,
    FIELD_KIND,
    FIELD_SYSTEM,
    FIELD_COUNT,
    FIELD_MASS,
    FIELD_PRICE,
    FIELD_CURRENCY,
    FIELD_SUPPLIER,
    FIELD_STATUS,
    FIELD_ORDERED,
    FIELD_PROMISED,
    FIELD_ARRIVED,
    FIELD_FITTED,
    FIELD_LINK,
    FIELD_SERIAL,
    FIELD_NOTE,
    FIELDS
} Field;

typedef struct Columns {
    Arena *arena;
    const CsvRow *head;
    int of[FIELDS]; /* -1: none */
    int amount;     /* a column of money, of which nothing says whether it is of one or of all that a row counts; -1: none */
} Columns;

/**
 * Finds the row of the headings, which is the first unless titles of the list stand above it, and the column of each field. mappings: "price=Cost each" and the like, which come before what a heading says by
 * itself. Returns NULL, or a sentence that says what is wrong and what would be right.
 */
const char *columns_find(Columns *columns, Arena *arena, const CsvRow *first, const char *const mappings[],
                         size_t count);
/** What a row says in the column of a field; empty where there is none. */
Str cell_of(const Columns *columns, const CsvRow *row, Field field);
/** The heading of the column that a field has, taken apart; of a field with a mass or a price alone. */
TableHeading column_heading(const Columns *columns, Field field);
/** Whether a column is that of a field. */
bool column_is_known(const Columns *columns, uint32_t column);
/** The word of a field: the property that it becomes. */
const char *column_word(Field field);

#endif
