/*
 * The curve of consumption. See fuel.h.
 */
#include "physics/fuel.h"

#include <assert.h>
#include <math.h>

static double by_cube(FuelPoint point, double speed)
{
    if (point.speed <= 0.0) {
        return point.rate > 0.0 ? INFINITY : 0.0; /* it may be as little as anything */
    }
    double share = speed / point.speed;
    return point.rate * share * share * share;
}

static double rate_between(FuelPoint a, FuelPoint b, double speed)
{
    if (isinf(a.rate) || isinf(b.rate)) {
        return speed < b.speed ? INFINITY : b.rate; /* nobody knows how high that line begins, or ends */
    }
    return b.speed > a.speed ? a.rate + (b.rate - a.rate) * (speed - a.speed) / (b.speed - a.speed) : b.rate;
}

/* A point with the rate of what may turn out to lie on its other side: as the curve rises, it is at least that, or at most. */
static FuelPoint point_at(const FuelPoint points[], int count, int i)
{
    FuelPoint point = points[i];
    for (int k = 0; k < count; k++) {
        bool below = k < i && points[k].other > points[i].speed;
        bool above = k > i && points[k].other < points[i].speed;
        if ((below && points[k].rate > point.rate) || (above && points[k].rate < point.rate)) {
            point.rate = points[k].rate;
        }
    }
    return point;
}

static double rate_at(const FuelPoint points[], int count, double speed)
{
    if (speed <= points[0].speed) {
        return by_cube(point_at(points, count, 0), speed);
    }
    for (int i = 1; i < count; i++) {
        if (speed <= points[i].speed) {
            return rate_between(point_at(points, count, i - 1), point_at(points, count, i), speed);
        }
    }
    return by_cube(point_at(points, count, count - 1), speed);
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
    insert_point(curve->low, curve->count, (FuelPoint){speed.high, rate.low, speed.low});
    insert_point(curve->high, curve->count, (FuelPoint){speed.low, rate.high, speed.high});
    curve->count++;
}

Interval fuel_curve_rate(const FuelCurve *curve, Interval speed)
{
    assert(curve->count > 0);
    Interval rate = {rate_at(curve->low, curve->count, speed.low), rate_at(curve->high, curve->count, speed.high)};
    const double ends[] = {speed.low, speed.high};
    for (int i = 0; i < curve->count + 2; i++) { /* points that were measured may fall between */
        double low = i < 2 ? ends[i] : curve->low[i - 2].speed, high = i < 2 ? ends[i] : curve->high[i - 2].speed;
        rate.low = low >= speed.low && low <= speed.high ? fmin(rate.low, rate_at(curve->low, curve->count, low)) : rate.low;
        rate.high = high >= speed.low && high <= speed.high ? fmax(rate.high, rate_at(curve->high, curve->count, high)) : rate.high;
    }
    return interval_corners(rate.low, rate.high);
}

static const double beyond = 1e6; /* no screw, and no boat, goes as fast as that: rev/s, m/s */

/* The greatest rate up to a speed; or the least from it on. Either rises with the speed, whatever the points do. */
static double most_up_to(const FuelCurve *curve, double speed)
{
    return fuel_curve_rate(curve, interval(0.0, speed)).high;
}

static double least_from(const FuelCurve *curve, double speed)
{
    return fuel_curve_rate(curve, interval(speed, beyond)).low;
}

static double where(const FuelCurve *curve, double (*of)(const FuelCurve *, double), double rate)
{
    double low = 0.0, high = beyond;
    for (int i = 0; i < 100; i++) {
        double middle = 0.5 * (low + high);
        *(of(curve, middle) < rate ? &low : &high) = middle;
    }
    return 0.5 * (low + high);
}

Interval fuel_curve_speed(const FuelCurve *curve, Interval rate)
{
    const double same = 1e-9; /* the corners of a curve of points are wider than it by less than that */
    double low = where(curve, most_up_to, rate.low), high = where(curve, least_from, rate.high);
    return high - low <= same * high ? point(high) : interval_corners(low, high);
}
