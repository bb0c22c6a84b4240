/*
 * Pumps and what they serve: the hoses from a tank through a pump to every tap, tank or fitting that it
 * reaches, and what flows there.
 *
 * Hoses and things are joined by name. From a pump the water is followed through hoses, water heaters and
 * whatever else a hose leads on from (a manifold may be an `item`), up to fixtures, tanks, through-hulls,
 * toilets and other pumps, where it ends. What only a `to` states is reached, but without a hose nothing can be
 * computed of it.
 */
#ifndef GARBOARD_FIGURES_PIPES_H
#define GARBOARD_FIGURES_PIPES_H

#include "figures/plumbing.h"
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

typedef struct Pipes {
    const Model *model;
    Plumbing plumbing;
    const Entity **into; /* by Entity.index: a hose that ends at it; NULL: none */
    PipePiece **pieces;  /* by Entity.index of a hose */
    uint32_t *seen;      /* by Entity.index and hot: the last walk that has been there */
    uint32_t walks;
    PipeStep *steps; /* of the last walk */
    uint32_t step_count;
    const Entity *suction[8]; /* hoses from the source to the pump of the last walk, the last one first */
    uint32_t suction_count;
    bool suction_whole; /* they begin at a tank or through-hull */
} Pipes;

/** The pipes of a model; nothing is walked yet. */
Pipes pipes_make(Arena *arena, const Model *model);
/** Follows the water from a pump: fills steps and suction. */
void pipes_walk(Pipes *pipes, const Entity *pump);

/** A thing at which the water ends. */
bool is_outlet(const Entity *thing);

#endif
