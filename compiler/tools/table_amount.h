/*
 * Amounts as tables of things have them: a number with its unit or its currency beside it, in the cell or in the heading of
 * the column, by its name, its sign or as people call it. Knows nothing of columns and things.
 */
#ifndef GARBOARD_TOOLS_TABLE_AMOUNT_H
#define GARBOARD_TOOLS_TABLE_AMOUNT_H

#include "base/arena.h"
#include "base/str.h"
#include "tools/cell_read.h"

#include <stdbool.h>

/* What a column measures, if anything. */
typedef enum Measure { MEASURE_NONE, MEASURE_MASS, MEASURE_MONEY } Measure;

/* `$` alone: dollars of one country or another. */
#define DOLLARS "$"

/**
 * An amount such as `1,234.50`, `$12`, `EUR 12` or `12 lbs`: its number, as cell_number reads it, and what stands beside it
 * (empty: nothing). False where it is not plain what it says.
 */
bool table_amount_read(Arena *arena, Str cell, CellMarks marks, double *number, Str *beside);

/**
 * The word of the language for a unit of mass, or the code of a currency, that people write so: `lbs` is `lb`, `US$` is
 * `USD`. DOLLARS where it does not say whose; empty if it is none. Three capitals are a currency's code.
 */
Str table_unit(Measure measure, Str word);

/** Whether that code is of a currency that is called dollar. */
bool table_is_dollar(Str code);

/* A heading such as `Weight (lb)`, taken apart. */
typedef struct TableHeading {
    Str rest;     /* `Weight` */
    Str unit;     /* as table_unit has it; empty: none */
    bool several; /* it names more than one */
} TableHeading;

/** Takes a heading apart; `rest` and `unit` last as long as the arena. */
TableHeading table_heading(Arena *arena, Measure measure, Str heading);

#endif
