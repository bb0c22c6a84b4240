/*
 * Voltage drop and the size of conductor that keeps it small. See drop.h.
 */
#include "physics/drop.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>

#define METRES_PER_FOOT 0.3048
#define SQUARE_MILLIMETRE 1e-6

static const double us_ohm_mil_per_foot = 10.75;
static const double iso_ohm_mm2_per_m = 0.0164;

double drop_physical_v(const Conductor *row, double loop_m, double celsius, int parallel, double amps)
{
    return amps * conductor_resistance_ohm(row, loop_m, celsius, parallel);
}

/* Numerator of both forms: drop = this / area, area in the unit of the form. */
static double drop_times_area(Basis basis, double loop_m, double amps)
{
    if (basis == BASIS_US)
        return us_ohm_mil_per_foot * amps * (loop_m / METRES_PER_FOOT);
    return iso_ohm_mm2_per_m * amps * loop_m;
}

double drop_by_rule_v(Basis basis, double area_m2, double loop_m, double amps)
{
    double area = basis == BASIS_US ? circular_mils(area_m2) : area_m2 / SQUARE_MILLIMETRE;

    assert(area_m2 > 0.0);
    return drop_times_area(basis, loop_m, amps) / area;
}

double drop_area_m2(Basis basis, double loop_m, double amps, double drop_v)
{
    double numerator = drop_times_area(basis, loop_m, amps);
    double area;

    if (numerator <= 0.0)
        return 0.0;
    if (drop_v <= 0.0)
        return INFINITY;
    area = numerator / drop_v;
    return basis == BASIS_US ? area_of_circular_mils(area) : area * SQUARE_MILLIMETRE;
}

Evidence drop_rule_evidence(Basis basis)
{
    return basis == BASIS_US ? EVIDENCE_VERIFIED : EVIDENCE_MEMORY;
}

static bool drop_holds(const SizeDemand *demand, const Conductor *row)
{
    double area_m2 = row->area_m2 * demand->parallel;

    if (drop_area_m2(demand->basis, demand->loop_m, demand->drop_a, demand->drop_v) > area_m2)
        return false;
    return !demand->physical || drop_physical_v(row, demand->loop_m, demand->copper_celsius, demand->parallel,
                                                demand->drop_a) <= demand->drop_v;
}

static bool ampacity_holds(const SizeDemand *demand, const Conductor *row)
{
    double amps = ampacity_allowed(demand->basis, row, demand->insulation_celsius, demand->engine_space,
                                   demand->bundled, demand->volts, demand->parallel);

    return amps >= demand->ampacity_a && !conductor_too_small(demand->basis, row, demand->sheathed);
}

const Conductor *size_by_drop(const SizeDemand *demand)
{
    const Conductor *row = conductor_at(demand->series, 0);

    assert(demand->parallel >= 1);
    while (row != NULL && !drop_holds(demand, row))
        row = conductor_next(row);
    return row;
}

const Conductor *size_by_ampacity(const SizeDemand *demand)
{
    const Conductor *row = conductor_at(demand->series, 0);

    assert(demand->parallel >= 1);
    while (row != NULL && !ampacity_holds(demand, row))
        row = conductor_next(row);
    return row;
}

const Conductor *size_needed(const SizeDemand *demand)
{
    const Conductor *by_drop = size_by_drop(demand);
    const Conductor *by_ampacity = size_by_ampacity(demand);

    if (by_drop == NULL || by_ampacity == NULL)
        return NULL;
    return by_drop->area_m2 > by_ampacity->area_m2 ? by_drop : by_ampacity;
}
