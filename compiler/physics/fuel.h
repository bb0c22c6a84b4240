/*
 * What an engine burns along its propeller's curve, from points that somebody has measured: straight between
 * two, by the cube of the speed outside of them (propeller law, from memory). Points may be ranges.
 */
#ifndef GARBOARD_PHYSICS_FUEL_H
#define GARBOARD_PHYSICS_FUEL_H

#include "base/interval.h"

/* A point: speed in rev/s, rate in m3/s; of a speed that is a range the end that the curve goes by, and the other one. */
typedef struct FuelPoint {
    double speed, rate, other;
} FuelPoint;

/* What it burns at least, and at most; by rising speed. */
typedef struct FuelCurve {
    FuelPoint *low, *high;
    int count, room;
} FuelCurve;

/** A curve without a point yet, in room for twice as many points as it may come to have: the caller's. */
FuelCurve fuel_curve_in(FuelPoint *points, int room);
/** Adds a point, for which there is room; a speed that is a range widens the curve. One from nothing up may be any above it. */
void fuel_curve_add(FuelCurve *curve, Interval speed, Interval rate);
/** Rate in m3/s at a speed in rev/s; the curve has a point. Rises with the speed as long as the points do. */
Interval fuel_curve_rate(const FuelCurve *curve, Interval speed);
/** The speed at which a rate (> 0) is reached, the other way round; from nothing up where the curve never has so much. */
Interval fuel_curve_speed(const FuelCurve *curve, Interval rate);

#endif
