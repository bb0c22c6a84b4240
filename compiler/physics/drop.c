/*
 * Voltage drop. See drop.h.
 */
#include "physics/drop.h"

#include <assert.h>

#define METRES_PER_FOOT 0.3048
#define SQUARE_MILLIMETRE 1e-6

static const double us_ohm_mil_per_foot = 10.75;
static const double iso_ohm_mm2_per_m = 0.0164;

double drop_physical_v(const Conductor *row, double loop_m, double celsius, int parallel, double amps)
{
    return amps * conductor_resistance_ohm(row, loop_m, celsius, parallel);
}

double drop_by_rule_v(Basis basis, double area_m2, double loop_m, double amps)
{
    assert(area_m2 > 0.0);
    if (basis == BASIS_US)
        return us_ohm_mil_per_foot * amps * (loop_m / METRES_PER_FOOT) / circular_mils(area_m2);
    return iso_ohm_mm2_per_m * amps * loop_m / (area_m2 / SQUARE_MILLIMETRE);
}
