/*
 * The hull in the water, heeled: how high things stand then, and the published thresholds that rules compare
 * with.
 *
 * Heights are above the upright static waterline, along the hull's own vertical, as a spec states them.
 * Angles in rad. Knows geometry and hull-limits.def; not which fittings a boat has.
 */
#ifndef GARBOARD_PHYSICS_HULL_H
#define GARBOARD_PHYSICS_HULL_H

#include "physics/basis.h"

#include <stdbool.h>

typedef enum HullLimit {
#define LIMIT(ID, ...) LIMIT_##ID,
#include "tables/hull-limits.def"
#undef LIMIT
    HULL_LIMIT_COUNT
} HullLimit;

typedef struct Limit {
    double value;     /* in the unit of its source */
    const char *unit; /* "m", "deg", "C", "N", "V" */
    Evidence evidence;
    const char *source;
    const char *note;
} Limit;

const Limit *hull_limit(HullLimit limit);

/**
 * How far up the hull the water comes at a distance from the centreline: y tan(heel), measured along the
 * hull's own vertical, so that it compares with heights as a spec states them. (Measured straight up it would
 * be y sin(heel), less.)
 *
 * off_centre_m  horizontal distance from the centreline towards the low side; half the beam at the hull's
 * side heel_rad      0 .. below a right angle
 *
 * Wall-sided hull that heels about the centreline at the waterline: a first estimate. Rises with both.
 */
double heeled_rise_m(double off_centre_m, double heel_rad);

/** Litres of mixed water at the tap from a litre of hot: (Th - Tc) / (Tm - Tc). Tc < Tm <= Th. */
double mixed_yield(double hot_celsius, double cold_celsius, double mixed_celsius);

/** Energy in J to heat water: 1 kg per litre, 4186 J/(kg K). */
double water_heat_j(double volume_m3, double from_celsius, double to_celsius);

#endif
