/*
 * What a boat needs besides, and no list of cables, hoses and parts can hold, as the spec does not say enough of it: told in words, so
 * that no list reads as if it were complete.
 *
 * Knows the things of all cases; must not know how they are printed.
 */
#ifndef GARBOARD_OUTPUT_UNLISTED_H
#define GARBOARD_OUTPUT_UNLISTED_H

#include "rules/outcome.h"

typedef enum UnlistedPart {
    UNLISTED_DIRECT = 1,      /* conductors of direct current, and what joins metal to ground */
    UNLISTED_ALTERNATING = 2, /* those of mains */
    UNLISTED_PIECES = 4,      /* hose and what belongs to it, rings, gas */
} UnlistedPart;

typedef struct Unlisted {
    const char *text; /* a part of a sentence, names in backquotes: "the grounding wires of `diesel` and of their deck fittings" */
    struct Unlisted *next;
} Unlisted;

/** Of these parts (a set), what is not in the lists; NULL: nothing. to_buy: without the hose and the like of things that are fitted. */
const Unlisted *unlisted_of(Arena *arena, const Outcome *outcome, unsigned parts, bool to_buy);

#endif
