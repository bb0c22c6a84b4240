/*
 * Numbers to and from text, whatever the locale of the program that uses the library.
 */
#ifndef GARBOARD_BASE_NUM_H
#define GARBOARD_BASE_NUM_H

#include "base/buf.h"
#include "base/str.h"

#include <stdbool.h>

/**
 * Reads `-?digits(_digits)*(.digits)?` whole. Correctly rounded for up to 19 significant digits; more digits
 * are read to within one unit in the last place. False if the text is anything else or the value is not
 * finite.
 */
bool num_read(Str text, double *value);

/**
 * Appends a value with at most `digits` significant digits (1..17), without trailing zeros and without an
 * exponent between 1e-6 and 1e15: 0.021, 12.5, 1200, 230. Digits before the point are never dropped for
 * zeros: 1234.5 at 3 digits is 1230. Ties, of the exact binary value, go away from zero. Infinite is `inf`,
 * not a number is `nan`, minus zero is `0`.
 */
void num_write(Buf *buf, double value, int digits);

/** Appends a value with exactly `decimals` digits after the point (0..9): money, 412.00. */
void num_write_fixed(Buf *buf, double value, int decimals);

/** The same two as a text of its own. */
const char *num_text(Arena *arena, double value, int digits);
const char *num_text_fixed(Arena *arena, double value, int decimals);

/** Appends the shortest text that reads back as the same double (at most 17 digits); for JSON and CSV. */
void num_write_exact(Buf *buf, double value);

#endif
