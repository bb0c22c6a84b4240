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

/* What an amount is counted in. */
typedef struct TableUnit {
    Str word;      /* a unit of the language, the code of a currency, or DOLLARS where it does not say whose; empty: none */
    double factor; /* how many of them one is: 14 lb a stone, 1000 EUR a `kâ¬` */
    bool unclear;  /* it is a unit, but does not say which: a ton of 2000 lb, of 2240 lb or of 1000 kg */
} TableUnit;

/** What people write for it: `lbs` is `lb`, `US$` is `USD`. Three capitals are a currency's code. */
TableUnit table_unit(Measure measure, Str word);

/** Whether that code is of a currency that is called dollar. */
bool table_is_dollar(Str code);

/* A heading such as `Weight (lb)`, taken apart. */
typedef struct TableHeading {
    Str rest;     /* `Weight` */
    TableUnit unit;
    bool several; /* it names more than one */
    Str unclear;  /* what it names that is no unit to count in: `tons`, or what stands in brackets; empty: nothing */
} TableHeading;

/** Takes a heading apart; `rest` and `unit` last as long as the arena. */
TableHeading table_heading(Arena *arena, Measure measure, Str heading);

#endif
