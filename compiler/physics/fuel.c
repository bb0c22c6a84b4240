/*
 * The curve of consumption. See fuel.h.
 */
#include "physics/fuel.h"

#include <assert.h>

static double by_cube(FuelPoint point, double speed)
{
    double share = speed / point.speed;
    return point.rate * share * share * share;
}

static double rate_between(FuelPoint a, FuelPoint b, double speed)
{
    return b.speed > a.speed ? a.rate + (b.rate - a.rate) * (speed - a.speed) / (b.speed - a.speed) : b.rate;
}

static double rate_at(const FuelPoint points[], int count, double speed)
{
    if (speed <= points[0].speed) {
        return by_cube(points[0], speed);
    }
    for (int i = 1; i < count; i++) {
        if (speed <= points[i].speed) {
            return rate_between(points[i - 1], points[i], speed);
        }
    }
    return by_cube(points[count - 1], speed);
}

static void insert_point(FuelPoint points[], int count, FuelPoint point)
{
    int i = count;
    for (; i > 0 && points[i - 1].speed > point.speed; i--) {
        points[i] = points[i - 1];
    }
    points[i] = point;
}

FuelCurve fuel_curve_in(FuelPoint *points, int room)
{
    return (FuelCurve){.low = points, .high = points + room, .room = room};
}

void fuel_curve_add(FuelCurve *curve, Interval speed, Interval rate)
{
    assert(curve->count < curve->room);
    insert_point(curve->low, curve->count, (FuelPoint){speed.high, rate.low});
    insert_point(curve->high, curve->count, (FuelPoint){speed.low, rate.high});
    curve->count++;
}

Interval fuel_curve_rate(const FuelCurve *curve, Interval speed)
{
    assert(curve->count > 0);
    return interval_corners(rate_at(curve->low, curve->count, speed.low),
                            rate_at(curve->high, curve->count, speed.high));
}
