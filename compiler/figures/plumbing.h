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

/* Hoses by a thing at one of their ends, in the order of the spec. */
typedef struct HoseList {
    const Entity **first; /* by Entity.index of the thing; NULL: none */
    const Entity **next;  /* by Entity.index of a hose */
} HoseList;

/* By Entity.index: */
typedef struct Plumbing {
    Way **ways;           /* where the water goes from there */
    uint32_t way_count;   /* all of them together */
    uint32_t *hoses_from; /* how many hoses begin at it ... */
    uint32_t *hoses_to;   /* ... and end at it */
    HoseList from, into;  /* the hoses that begin, or end, at a thing; their other end may be a mistake */
    bool *led_to;         /* some way leads to it, or the drain of a sink */
    bool *drawn_from;     /* a hose draws from it, or a pump does of which no suction hose is stated */
    const Entity **said_by; /* the first sink, bowl or pump that says that it drains or leads to it */
    bool *filled;         /* a hose leads to it, or a toilet or a pump says so */
    const Entity **drains_with; /* of a sink: what stands for the tanks that it drains into in the end; NULL: overboard, or nobody says */
    uint32_t *sinks_of;         /* of what stands for tanks of waste: how many sinks drain there */
    uint32_t sinks;             /* all that are aboard ... */
    bool counts_sinks;          /* ... and whether some of them states a `count` */
    bool lost_tanks;             /* what some tank `holds` is a mistake */
    const Entity **shares;       /* of a tank of waste: what stands for all with which it shares what comes; else NULL */
    bool *counted;               /* a tank that counts in what a day lasts */
    const Entity **first_sharing, **next_sharing; /* of a counted tank of water or waste: those with which it shares */
    Loop **loops;         /* of a hose: the vented loops on it */
    bool states_loops;    /* the spec has vented loops at all */
    bool lost_loops;      /* the hose of some vented loop is a mistake */
    bool lost_hoses;      /* an end of some hose is a mistake */
} Plumbing;

/** The plumbing of the model: it is made once, for it hangs on names alone, and no value that is tried changes it. */
const Plumbing *plumbing_of(const Figures *figures);
/* What hangs on all of the above: the tanks (tank_sharing.c; `room` is for its own use), then the drains (water_waste.c). */
void plumbing_share_tanks(Arena *room, const Model *model, Plumbing *plumbing);
void plumbing_drain(const Model *model, Plumbing *plumbing);
/** Whether a hose is made for gas. */
bool is_gas_hose(const Entity *hose);
/** The two ends of a hose; false if one of them is a mistake. */
bool hose_ends(const Entity *hose, const Entity **from, const Entity **to);

#endif
