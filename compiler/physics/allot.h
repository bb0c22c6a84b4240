/*
 * Heat that spaces ask for, allotted to those that reach them. Each may give to several spaces, and a space take from several;
 * those that cross help each other out. Of all ways to share it this is the one in which the makers that are loaded most are
 * loaded least, then those loaded most of the rest, and so on: every space has what it asks for if there is any way at all.
 *
 * The load of the most loaded is the greatest, over all sets of spaces, of what these ask for by what all can give that reach
 * one of them (the theorem of the greatest flow and the least cut); they give just that, and are left out with these spaces.
 */
#ifndef GARBOARD_PHYSICS_ALLOT_H
#define GARBOARD_PHYSICS_ALLOT_H

#include "base/interval.h"

#include <stdint.h>

/* So many are allotted at most: all sets of spaces are tried. */
enum { ALLOT_SPACES = 10, ALLOT_MAKERS = 12 };

typedef struct Allotment {
    int spaces, makers;
    uint32_t reaches[ALLOT_MAKERS]; /* bit s: it gives to space s */
    Interval asks[ALLOT_SPACES];    /* W, >= 0 */
    Interval gives[ALLOT_MAKERS];   /* W at most, >= 0; the high end may be infinite */
} Allotment;

/**
 * What falls to one maker, in W. Rises with all that is asked for and with what it gives itself, and falls with what the
 * others give: each end is one corner.
 */
Interval allotted_w(const Allotment *allotment, int maker);

#endif
