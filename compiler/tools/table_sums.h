/*
 * What the prices of a table add up to on the way down, so that a row which says the same is known for a sum, and one which says
 * something else is told. Pure arithmetic: no cells, no columns.
 */
#ifndef GARBOARD_TOOLS_TABLE_SUMS_H
#define GARBOARD_TOOLS_TABLE_SUMS_H

#include "base/arena.h"

#include <stdbool.h>

/* The prices of some rows. */
typedef struct TableSum {
    double of_all; /* each times its count */
    double of_one; /* each taken once */
} TableSum;

typedef struct TableSums {
    TableSum whole, since; /* from the first row on, and from the last sum on */
    unsigned things;       /* that have a price */
    bool lost;             /* a price could not be read */
} TableSums;

void table_sums_add(TableSums *sums, double price, double count);

/** Whether an amount is what the rows from the first, or from the last sum on, cost together. */
bool table_sums_hold(const TableSums *sums, double amount);

/** How an amount compares with what the rows add up to, as the end of a sentence; after that, another sum begins. */
const char *table_sums_tell(TableSums *sums, Arena *arena, double amount, const char *currency);

#endif
