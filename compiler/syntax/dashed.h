/*
 * Two numbers with a dash between them, as they are written in the trade: a whole number and its fraction, a range, feet and
 * inches, a gauge and how many conductors lie in the cable. Says what each may mean here. Knows texts alone.
 */
#ifndef GARBOARD_SYNTAX_DASHED_H
#define GARBOARD_SYNTAX_DASHED_H

#include "base/buf.h"
#include "base/str.h"

#include <stdbool.h>

typedef enum DashedFor {
    DASHED_ANY,
    DASHED_FEET, /* a length, which may be in feet and inches */
    DASHED_SIZE, /* the size of a conductor, of which the unit is not said; those that follow say it: */
    DASHED_AWG,
    DASHED_SAE,
    DASHED_MM2
} DashedFor;

/** A number as it is written: `12`, `2.5`, `3/4`, `1 1/4`, `2/0` (a gauge of one below nought). False: it is none. */
bool dashed_value(Str text, double *value);

/** Appends, in backquotes, what `from` and `to` with a dash between them would be; neither has a sign. */
void dashed_right(Buf *right, Str from, Str to, DashedFor what);

/** Appends, in backquotes, the number that a whole one and a fraction behind it are together. */
void dashed_sum(Buf *right, Str whole, Str fraction);

#endif
