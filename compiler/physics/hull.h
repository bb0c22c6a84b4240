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

/**
 * True height over the heeled water of a thing at height_m (upright) and off_centre_m: z cos(heel) - y
 * sin(heel). This is what "200 mm above the heeled waterline" means. With the place across the boat unknown,
 * half the beam is the worst.
 */
double height_over_heeled_m(double height_m, double off_centre_m, double heel_rad);

/** Whether an opening stands below the heeled waterline. */
bool below_heeled_waterline(double height_m, double off_centre_m, double heel_rad);

/**
 * Whether an opening lies no more than 150 mm above the deepest waterline (46 CFR 179.350): it needs a
 * seacock there.
 */
bool near_waterline(double height_m);

/**
 * Whether water of that temperature at a tap needs a mixing valve: an engine heats it, or the setting is
 * above 60 C.
 */
bool water_scalds(bool engine_heats, double setting_celsius);

/** Litres of mixed water at the tap from a litre of hot: (Th - Tc) / (Tm - Tc). Tc < Tm <= Th. */
double mixed_yield(double hot_celsius, double cold_celsius, double mixed_celsius);

/** Energy in J to heat water: 1 kg per litre, 4186 J/(kg K). */
double water_heat_j(double volume_m3, double from_celsius, double to_celsius);

#endif
