/*
 * Weight on the water: centres of gravity, how deep a hull sinks, how she trims and heels, what slack water costs.
 *
 * First estimates for small angles, of a hull of which length, beam and waterplane coefficient are known, no lines. Its
 * waterplane is taken for one with half-breadth y = B/2 (1 - |2x/L|^m), m = Cwp/(1 - Cwp): computed, within 8 % of the
 * regressions in use. Sinkage, trim, heel and free surface: D. R. Derrett and C. B. Barrass, Ship Stability for Masters and
 * Mates (formulas verified in quoted pages). Knows numbers; not what is aboard.
 */
#ifndef GARBOARD_PHYSICS_WEIGHT_H
#define GARBOARD_PHYSICS_WEIGHT_H

#include "base/interval.h"

#include <stddef.h>

/** Density of the water she floats in, kg/m3: salt 1025, brackish 1010, fresh 1000. */
#define SALT_WATER_KG_PER_M3 1025.0
#define BRACKISH_WATER_KG_PER_M3 1010.0
#define FRESH_WATER_KG_PER_M3 1000.0

/**
 * The mean of places weighted with masses (>= 0), over all masses and places inside their intervals: exact ends, found by
 * the masses that pull farthest. Of no mass at all: the whole line.
 */
Interval weighted_mean(const Interval *masses, const Interval *places, size_t count);

/* What of such a mean is the same wherever the mean comes to lie: the masses from the first on that are points. */
typedef struct KnownMasses {
    size_t count;
    double mass, least_moment, greatest_moment; /* by the ends of their places */
} KnownMasses;

KnownMasses known_masses(const Interval *masses, const Interval *places, size_t count);
/** weighted_mean of a list that begins with these: for lists that differ in their ends only. */
Interval weighted_mean_from(const KnownMasses *known, const Interval *masses, const Interval *places, size_t count);

/** I = C_I L B^3 of a waterplane about its centreline; 1/12 at Cwp = 1. Rises with cwp (0.4..1). */
double inertia_across(double cwp);
/** I = C_I B L^3 about its middle; 1/12 at Cwp = 1. Rises with cwp. */
double inertia_along(double cwp);

/** How much deeper she floats with so many kg more, m. */
double sinkage_m(double more_kg, double density, double waterplane_m2);
/**
 * Longitudinal metacentric radius of a hull of that displacement: I_L / V. Falls with displacement, rises with all else.
 */
double radius_along_m(double cwp, double length_m, double beam_m, double displacement_kg, double density);
/** The angle, rad, by which a moment (kg m) turns a boat that displaces so much: M / (W GM), small angles. */
double turned_by_moment(double moment_kgm, double displacement_kg, double gm_m);
/** What a slack tank takes of the metacentric height: rho l b^3 / 12 W; b athwartships. */
double slack_loss_m(double density, double length_m, double breadth_m, double displacement_kg);

/**
 * Short-link anchor chain, kg/m: 22400 d^2, d in m. Within 4 % of the masses that a chain seller's table gives for chains of
 * 6 to 16 mm to ISO 4565 (EN 24565) and DIN 766 (second hand). Rises with the thickness.
 */
double chain_kg_per_m(double thick_m);
/** Three-strand polyamide rope, kg/m: 620 d^2, d in m; 62 g/m at 10 mm (ISO 1140, from memory). Rises with the thickness. */
double rope_kg_per_m(double thick_m);

#endif
