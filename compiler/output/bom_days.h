/*
 * What stands beside a line of the shopping list: by when it is to be ordered, and what is to be decided before that.
 */
#ifndef GARBOARD_OUTPUT_BOM_DAYS_H
#define GARBOARD_OUTPUT_BOM_DAYS_H

#include "output/bom_list.h"

/** Fills dated, order_by, before and undated of the line of a thing. */
void bom_find_day(const Outcome *outcome, BomLine *line);
/** Fills undecided of all lines; they are given by the node of their thing. */
void bom_find_undecided(Arena *arena, const Outcome *outcome, BomLine *const *line_of);

#endif
