/*
 * The heeled waterline, thresholds at the hull, hot water. See hull.h.
 */
#include "physics/hull.h"

#include <assert.h>
#include <math.h>

static const double water_joule_per_m3_kelvin = 4186.0 * 1000.0;

static const Limit limits[HULL_LIMIT_COUNT] = {
#define LIMIT(ID, VALUE, UNIT, EVIDENCE, SOURCE, NOTE) [LIMIT_##ID] = {VALUE, UNIT, EVIDENCE, SOURCE, NOTE},
#include "tables/hull-limits.def"
#undef LIMIT
};

const Limit *hull_limit(HullLimit limit)
{
    return &limits[limit];
}

double heeled_rise_m(double off_centre_m, double heel_rad)
{
    static const double on_her_side = 1e6; /* of the tangent: what a right angle leaves in binary */
    double slope = tan(heel_rad);
    return slope > on_her_side && off_centre_m > 0.0 ? INFINITY : off_centre_m * slope;
}

double mixed_yield(double hot_celsius, double cold_celsius, double mixed_celsius)
{
    assert(mixed_celsius > cold_celsius);
    return (hot_celsius - cold_celsius) / (mixed_celsius - cold_celsius);
}

double water_heat_j(double volume_m3, double from_celsius, double to_celsius)
{
    return water_joule_per_m3_kelvin * volume_m3 * (to_celsius - from_celsius);
}
