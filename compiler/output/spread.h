/*
 * Labels in a row that must not overlap: each as near as can be to the place that it wishes for.
 */
#ifndef GARBOARD_OUTPUT_SPREAD_H
#define GARBOARD_OUTPUT_SPREAD_H

#include "base/arena.h"

/**
 * Moves places, in mm and in rising order, apart until neighbours are `pitch` (> 0) from each other, all between left and
 * right if there is room for them. The sum of squares of how far each moves is the least there is; what has room stays
 * where it is, so that one place more moves only those that crowd around it.
 */
void spread(Arena *arena, double places[], size_t count, double pitch, double left, double right);

#endif
