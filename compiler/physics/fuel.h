/*
 * What an engine burns along its propeller's curve, from points that somebody has measured: straight between
 * two, by the cube of the speed outside of them (propeller law, from memory). Points may be ranges.
 */
#ifndef GARBOARD_PHYSICS_FUEL_H
#define GARBOARD_PHYSICS_FUEL_H

#include "base/interval.h"

/* A point: speed in rev/s, rate in m3/s. */
typedef struct FuelPoint {
    double speed, rate;
} FuelPoint;

enum { FUEL_POINTS_MOST = 32 };

/* What it burns at least, and at most; by rising speed. */
typedef struct FuelCurve {
    FuelPoint low[FUEL_POINTS_MOST], high[FUEL_POINTS_MOST];
    int count;
} FuelCurve;

/** Adds a point, speed above nothing; a speed that is a range widens the curve. Ignored when it is full. */
void fuel_curve_add(FuelCurve *curve, Interval speed, Interval rate);
/** Rate in m3/s at a speed in rev/s; the curve has a point. Rises with the speed as long as the points do. */
Interval fuel_curve_rate(const FuelCurve *curve, Interval speed);

#endif
