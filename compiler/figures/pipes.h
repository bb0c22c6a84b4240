/*
 * Pumps and what they serve: the hoses from a tank through a pump to every tap, tank or fitting that it
 * reaches, and what flows there.
 *
 * Hoses and things are joined by name. From a pump the water is followed through hoses, water heaters and
 * whatever else a hose leads on from (a manifold may be an `item`), up to fixtures, tanks, through-hulls,
 * toilets and other pumps, where it ends, and back through every hose of its suction to all that it may draw from.
 * What only a `to` states is reached, but without a hose nothing can be computed of it.
 */
#ifndef GARBOARD_FIGURES_PIPES_H
#define GARBOARD_FIGURES_PIPES_H

#include "figures/joints.h"
#include "physics/pipe.h"

/* A hose as physics sees it, at the end of its ranges that lets least through and at the one that lets most. */
typedef struct PipePiece {
    Hose least, most;
    Interval rise;
    bool blocked; /* at the least end nothing is known to pass (no bound on its run, say) */
    bool open;    /* at the most end it loses nothing */
} PipePiece;

/* A thing that the water reaches from a pump. */
typedef struct PipeStep {
    const Entity *thing;
    const Entity *hose; /* the last one on the way; NULL: none is stated */
    uint32_t before;    /* the step that it comes from; the first step is the pump itself */
    bool hot;           /* it has passed a water heater */
    bool whole;         /* every hose on the way is stated, the pump's suction too */
} PipeStep;

enum { SUCTION_HOSES = 8, SUCTION_WAYS = 8 };

/* One way to a pump from a tank or through-hull: its hoses, the last one first. */
typedef struct Suction {
    const Entity *hoses[SUCTION_HOSES];
    uint32_t count;
} Suction;

typedef struct Pipes {
    const Model *model;
    const Plumbing *plumbing;
    PipePiece **pieces;  /* by Entity.index of a hose */
    uint32_t *seen;      /* by Entity.index and hot: the last walk that has been there */
    uint32_t walks;
    PipeStep *steps; /* of the last walk */
    uint32_t step_count;
    Suction suctions[SUCTION_WAYS]; /* of the pump of the last walk: from all that it may draw from */
    uint32_t suction_count, suction_looks;
} Pipes;

typedef struct HoseSize {
    Interval run, bore; /* m */
} HoseSize;

/** Uses both of a hose, and shows them behind `before`: "{sink-hose.run} of {sink-hose.bore}". */
HoseSize use_hose_size(Work *work, Sum *said, const char *before, const Entity *hose);

/** The pipes of these figures' model; nothing is walked yet. */
Pipes pipes_make(Arena *arena, const Figures *figures);
/** Follows the water from a pump: fills steps and suction. */
void pipes_walk(Pipes *pipes, const Entity *pump);

/** What a hose of that word is like inside; smooth, where there is no word. */
Roughness roughness_named(Str material);

#endif
