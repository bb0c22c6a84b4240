/*
 * Which cable would serve in the place of one that is there: as its size and insulation, with all that lessens its current as it
 * is. Knows no finding and no rule.
 */
#ifndef GARBOARD_RULES_WIRING_SERVING_H
#define GARBOARD_RULES_WIRING_SERVING_H

#include "physics/conductor.h"
#include "rules/rule.h"

/** Insulation of the best cable that is sold for boats, in C. */
#define BEST_INSULATION_C 105.0

/** The conductor of a size's least end; NULL: not known, or none. */
const Conductor *conductor_of(const Figure *size);
/** The table's current for a size with such insulation, and all that lessens it on the way of that feed; 0 if not known. */
double ampacity_with(const Judge *judge, const Feed *feed, const Conductor *row, double insulation_c);
/** The same in the coolest air that may be there. */
double ampacity_at_most(const Judge *judge, const Feed *feed, const Conductor *row, double insulation_c);
/** Whether a cable of that ampacity carries so much, behind such a device (0: none is asked for). */
bool cable_serves(const Judge *judge, const Feed *feed, double ampacity_a, double amps, double device_a);

/** A cable that serves with the insulation that it has, and a thinner one with the best; either may be NULL. */
typedef struct Serving {
    const Conductor *own, *best;
} Serving;

/** The next sizes up from the one that is there, up to those that serve. */
Serving cables_that_serve(const Judge *judge, const Feed *feed, double amps, double device_a);

#endif
