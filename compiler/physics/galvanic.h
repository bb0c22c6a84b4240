/*
 * The galvanic series: which of two metals that touch in sea water is eaten.
 *
 * Knows galvanic.def; not what is aboard.
 */
#ifndef GARBOARD_PHYSICS_GALVANIC_H
#define GARBOARD_PHYSICS_GALVANIC_H

#include "physics/basis.h"

typedef struct Metal {
    const char *word;
    double mv; /* against Ag/AgCl in sea water at 25 C; the lower of two is the one that corrodes */
    Evidence evidence;
    const char *name; /* in a sentence */
} Metal;

/** The metal of a word of the schema; NULL for what is no metal, and for NULL. */
const Metal *metal_find(const char *word);

#endif
