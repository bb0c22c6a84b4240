/*
 * The way that water takes through hoses, pumps and toilets. Things that are joined by name: nothing is
 * computed here.
 */
#ifndef GARBOARD_FIGURES_PLUMBING_H
#define GARBOARD_FIGURES_PLUMBING_H

#include "figures/water.h"

/* The way of the water */

/* From a thing to the next. hose is NULL where the spec states the way (`to`, `from`) and no hose. */
typedef struct Way {
    const Entity *to;
    const Entity *hose;
    struct Way *next;
} Way;

typedef struct Loop {
    const Entity *loop; /* the vent-loop */
    struct Loop *next;
} Loop;

typedef struct Plumbing {
    Way **ways;           /* by Entity.index: where the water goes from there */
    uint32_t *hoses_from; /* by Entity.index: how many hoses begin at it ... */
    uint32_t *hoses_to;   /* ... and end at it */
    Loop **loops;         /* by Entity.index of a hose: the vented loops on it */
    bool states_loops;    /* the spec has vented loops at all */
    bool lost_loops;      /* the hose of some vented loop is a mistake */
    bool lost_hoses;      /* an end of some hose is a mistake */
} Plumbing;

/** The plumbing of the model, in the arena. */
Plumbing plumbing_make(Arena *arena, const Model *model);
/** The two ends of a hose; false if one of them is a mistake. */
bool hose_ends(const Entity *hose, const Entity **from, const Entity **to);

#endif
