/*
 * What a bank of an undecided size takes, where something else caps its current: the least over all its sizes. Charge in C,
 * currents in A. Knows numbers alone.
 */
#ifndef GARBOARD_PHYSICS_DAY_CAPPED_H
#define GARBOARD_PHYSICS_DAY_CAPPED_H

/*
 * Banks of many sizes of which something else caps the current. At one lack a larger one takes more while it is the size
 * that limits; then it is fuller, and tapers sooner; and then its tail alone reaches the cap.
 */
typedef struct DayCapped {
    double smallest_c, largest_c;
    double cap_a;
    double takes_per_c, tail_per_c; /* A for each C of size */
    double taper_lacks;             /* share that is lacking where the taper begins */
} DayCapped;

/** The least that any of them takes at that lack, in A: concave in the lack, being the least of what is concave. */
double day_capped_a(const DayCapped *capped, double lack_c);

/* What a bank of one size takes at any lack. */
typedef struct CappedSize {
    double accepts_a, tail_a;
    double along_per_c; /* of the way from full to where the taper begins, for each C that it lacks */
} CappedSize;

/* DayCapped, worked out once for the thousands of steps that ask. */
typedef struct DayCappedReady {
    CappedSize smallest, largest, first, last; /* first and last: between them it is convex ... */
    double first_c, last_c;                    /* ... and nowhere if the first is not the smaller */
    double root_c; /* for each C that is lacking, the square of the size that takes least */
    double tail_per_c, per_lacks;
} DayCappedReady;

DayCappedReady day_capped_ready(const DayCapped *of);
/** day_capped_a of what is ready. */
double day_capped_least_a(const DayCappedReady *capped, double lack_c);

#endif
