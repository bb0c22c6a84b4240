/*
 * Fire and gas: how many extinguishers a boat of some length is asked to carry, how wide a gas drain is.
 *
 * Knows fire.def; not what is aboard.
 */
#ifndef GARBOARD_PHYSICS_FIRE_H
#define GARBOARD_PHYSICS_FIRE_H

#include "physics/basis.h"

#include <stdbool.h>

/**
 * Extinguishers asked for, counted as 5-B; -1 above 65 ft, where the table ends. `fixed`: the engine space has
 * a fixed system. Judged in feet. Rises with length.
 */
int extinguishers_asked(double length_m, bool fixed);

typedef struct GasBore {
    double least_m;
    Evidence evidence;
    const char *source;
} GasBore;

/** Least bore of the drain of a gas locker. */
GasBore gas_drain_bore(Basis basis);

#endif
