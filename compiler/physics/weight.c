/* See weight.h. */
#include "physics/weight.h"

#include <math.h>
#include <stdbool.h>

/* What weighs nothing turns nothing, wherever it may be. */
static double moment_at(double mass, double place)
{
    return mass != 0.0 ? mass * place : 0.0;
}

KnownMasses known_masses(const Interval *masses, const Interval *places, size_t count)
{
    KnownMasses known = {.count = 0};
    for (size_t i = 0; i < count && interval_is_point(masses[i]); i++) {
        known.mass += masses[i].low;
        known.least_moment += moment_at(masses[i].low, places[i].low);
        known.greatest_moment += moment_at(masses[i].low, places[i].high);
        known.count++;
    }
    return known;
}

/* One end of the mean: `sign` 1 for the greatest. Takes the masses that pull that way, until the mean rests (Dinkelbach). */
static double mean_end(const KnownMasses *known, const Interval *masses, const Interval *places, size_t count, double sign)
{
    double mean = -sign * INFINITY;
    for (size_t round = 0; round <= count; round++) {
        double moment = sign > 0.0 ? known->greatest_moment : known->least_moment, mass = known->mass;
        for (size_t i = known->count; i < count; i++) {
            double place = sign > 0.0 ? places[i].high : places[i].low;
            bool pulls = sign * (place - mean) > 0.0;
            double heavy = pulls ? masses[i].high : masses[i].low;
            moment += moment_at(heavy, place);
            mass += heavy;
        }
        double next = mass > 0.0 ? moment / mass : mean;
        if (!(sign * (next - mean) > 0.0)) {
            break;
        }
        mean = next;
    }
    return mean;
}

static Interval all_places(const Interval *places, size_t count)
{
    Interval all = interval(INFINITY, -INFINITY);
    for (size_t i = 0; i < count; i++) {
        all = interval_hull(all, places[i]);
    }
    return all;
}

Interval weighted_mean_from(const KnownMasses *known, const Interval *masses, const Interval *places, size_t count)
{
    double least = known->mass;
    bool unbounded = isinf(known->mass);
    for (size_t i = known->count; i < count; i++) {
        least += masses[i].low;
        unbounded |= isinf(masses[i].high);
    }
    if (count == 0 || unbounded || least <= 0.0) {
        return count == 0 ? interval(-INFINITY, INFINITY) : all_places(places, count);
    }
    double from = mean_end(known, masses, places, count, -1.0), to = mean_end(known, masses, places, count, 1.0);
    return from < to ? interval_corners(from, to) : point(from);
}

Interval weighted_mean(const Interval *masses, const Interval *places, size_t count)
{
    KnownMasses known = known_masses(masses, places, count);
    return weighted_mean_from(&known, masses, places, count);
}

/* The exponent of the waterplane's outline; infinite for a box. */
static double outline(double cwp)
{
    return cwp < 1.0 ? cwp / (1.0 - cwp) : INFINITY;
}

double inertia_across(double cwp)
{
    double m = outline(cwp);
    return (1.0 - 3.0 / (m + 1.0) + 3.0 / (2.0 * m + 1.0) - 1.0 / (3.0 * m + 1.0)) / 12.0;
}

double inertia_along(double cwp)
{
    return (1.0 / 3.0 - 1.0 / (outline(cwp) + 3.0)) / 4.0;
}

double sinkage_m(double more_kg, double density, double waterplane_m2)
{
    return more_kg / (density * waterplane_m2);
}

double radius_along_m(double cwp, double length_m, double beam_m, double displacement_kg, double density)
{
    return inertia_along(cwp) * beam_m * length_m * length_m * length_m * density / displacement_kg;
}

double turned_by_moment(double moment_kgm, double displacement_kg, double gm_m)
{
    return atan(moment_kgm / (displacement_kg * gm_m));
}

double slack_loss_m(double density, double length_m, double breadth_m, double displacement_kg)
{
    return density * length_m * breadth_m * breadth_m * breadth_m / 12.0 / displacement_kg;
}

double chain_kg_per_m(double thick_m)
{
    return 22400.0 * thick_m * thick_m;
}

double rope_kg_per_m(double thick_m)
{
    return 620.0 * thick_m * thick_m;
}
