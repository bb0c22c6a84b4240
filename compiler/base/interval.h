/*
 * Intervals: a value that lies somewhere from low to high, ends included.
 *
 * Sound: the result of an operation contains the result of that operation on every pair of numbers inside.
 * Ends are therefore rounded outward, except that a point stays a point: where every operand is exact (low
 * == high) the result is the ordinary floating-point one, so that a spec without ranges gives the numbers
 * that a calculator gives. The judge allows 1e-9 of either side for the rounding of points. Ends may be
 * infinite (a bound without its other side); 0 times infinity is 0. Knows nothing of units.
 */
#ifndef GARBOARD_BASE_INTERVAL_H
#define GARBOARD_BASE_INTERVAL_H

#include <stdbool.h>

typedef struct Interval {
    double low;
    double high;
} Interval;

/** low <= high */
static inline Interval interval(double low, double high)
{
    return (Interval){low, high};
}

static inline Interval point(double value)
{
    return (Interval){value, value};
}

static inline bool interval_is_point(Interval a)
{
    return a.low == a.high;
}

Interval interval_add(Interval a, Interval b);
Interval interval_subtract(Interval a, Interval b);
/**
 * What is left of a when b is taken: an end that is no more than the last digits of the two it came from is zero. Amounts
 * that were added up by different ways meet where they are equal; 1e-12 of them is far below what the judge allows.
 */
Interval interval_left(Interval a, Interval b);
Interval interval_multiply(Interval a, Interval b);
/** Division by an interval that contains zero gives the whole line on the sides that this opens. */
Interval interval_divide(Interval a, Interval b);
Interval interval_scale(Interval a, double factor);
Interval interval_cube(Interval a);

/* No end is ever NaN, so that plain comparisons do. */
static inline Interval interval_min(Interval a, Interval b)
{
    return (Interval){a.low < b.low ? a.low : b.low, a.high < b.high ? a.high : b.high};
}

static inline Interval interval_max(Interval a, Interval b)
{
    return (Interval){a.low > b.low ? a.low : b.low, a.high > b.high ? a.high : b.high};
}

/** How far from zero, on either side of it. */
Interval interval_size(Interval a);
/** The smallest interval that contains both. */
Interval interval_hull(Interval a, Interval b);

/**
 * For a formula that rises or falls steadily in each input: give its values at the two corners, in any
 * order. Rounds outward unless both are equal.
 */
Interval interval_corners(double at_one, double at_other);

#endif
