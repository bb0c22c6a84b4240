/*
 * Hoses that could let the sea in, followed through strainers, pumps and toilets.
 *
 * Hoses that join without a break are one line: through strainers. Lines that join through pumps are one side,
 * and sides that join through a bowl are one run. A run that reaches the sea can empty it into the boat by the
 * bowl, or by what a pump in it has on its other side; but only by its sides that reach the sea themselves: a
 * hose from the bowl to a tank lets none in. Branches (a T or a diverter is an `item`) join whatever has no
 * loop that clears the sea, which would part them. In what branches and strainers join and no pump parts the water finds its level.
 */
#ifndef GARBOARD_RULES_SIPHON_H
#define GARBOARD_RULES_SIPHON_H

#include "rules/plumbing.h"

typedef struct Line {
    const Entity *first; /* hose, in the order of the spec */
    const Loop *loop;    /* the one that clears the sea best; NULL: none */
    Answer clears;
    bool feeds_pump; /* it ends at a pump that delivers into another hose: the loop belongs there */
    bool branches;   /* it ends at an item ... */
    bool goes_on;    /* ... and at its other end is not the sea */
    const Entity *sea, *tank; /* at its ends: a through-hull; a tank; or NULL */
} Line;

/* Where the water can come in or get out: a bowl's rim, a through-hull, or where a line ends inboard (by its `at`). */
typedef struct Mouth {
    const Entity *thing;
    PropId height;
    uint16_t part; /* which of that property's values is the height */
    Answer above; /* what siphon_clear_from says */
    struct Mouth *next;
} Mouth;

typedef struct Run {
    Mouth *bowls, *seas;
    Mouth *ends;  /* what a pump in it draws from, or delivers to, aboard, of which it can be asked how high it stands */
    bool inside;  /* ... and what else there is, which may stand anywhere */
    bool pumped;  /* a pump is in it ... */
    bool pressed; /* ... that a pressure switch starts: its line ends in taps */
} Run;

typedef struct Runs {
    Judge *judge;
    const Plumbing *plumbing;
    uint32_t *line_of, *side_of, *run_of; /* by Entity.index: a member that stands for all (union-find) */
    Line **lines;                         /* by Entity.index of that member; NULL: nobody has asked for it */
    bool *to_sea;                         /* the same of sides: they reach the sea */
    uint32_t *level_of;                   /* lines between which the water finds its level: joints join them, pumps and loops do not */
    const Entity **level_sea;             /* by that member: the opening in the hull that they lead to, the lowest */
    Run **runs;
} Runs;

/** The runs of a boat. */
Runs siphon_runs(Judge *judge);
/** The run, and the line, that a thing or a hose is part of. */
Run *siphon_run_of(Runs *runs, const Entity *member);
Line *siphon_line_of(Runs *runs, const Entity *hose);
/** Whether the side that a hose is part of reaches the sea by itself. */
bool siphon_reaches_sea(Runs *runs, const Entity *hose);
/** The opening in the hull, the lowest, that a hose has an open way to; NULL: none. */
const Entity *siphon_level_sea(Runs *runs, const Entity *hose);
/** What draws on the water that a hose brings it from the sea, joints between or not: an engine, or a pump that delivers. NULL: nothing. */
const Entity *siphon_drawn_by(const Runs *runs, const Entity *hose);
void judge_tanks_below(Judge *judge); /* siphon_level.c */
void judge_sinks_below(Judge *judge);
/** The height from which a mouth is clear of the sea: where she heels to; of a bowl's rim with what its makers ask at rest. */
Side siphon_clear_from(Judge *judge, const Mouth *mouth);
/**
 * What the danger hangs on: the lowest rim, else the lowest end inboard, else the lowest opening in the hull. NULL where
 * the run cannot siphon: it has no sea, no bowl and no way inboard, or one of the two stands clear of the sea.
 */
const Mouth *siphons_by(const Run *run);

#endif
