/*
 * What the rules of water, waste, hull and bilge share: heights over the waterline, and the way that water takes
 * through hoses, pumps and toilets.
 */
#ifndef GARBOARD_RULES_PLUMBING_H
#define GARBOARD_RULES_PLUMBING_H

#include "figures/water.h"
#include "rules/ask.h"

/* Saying */

/** A number rounded up to two digits, as it may be typed: "0.42 m". */
const char *say_up(const Judge *judge, double si, UnitPair unit);
/** Notes that the heel was assumed, if it was. */
void note_heel(Judge *judge, Finding *finding);

/* Heights */

/** How far up the hull the water comes at a thing when she heels: its own figure, else the boat's. */
Side waterline_at(const Judge *judge, const Entity *thing);
/** The height from which a through-hull, a loop or a bilge outlet is clear of the sea. */
Side least_height(const Judge *judge, const Entity *thing);

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

/** The plumbing of the model, in the judge's arena. */
Plumbing plumbing_make(const Judge *judge);
/** The two ends of a hose; false if one of them is a mistake. */
bool hose_ends(const Entity *hose, const Entity **from, const Entity **to);

#endif
