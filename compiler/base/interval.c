/*
 * Interval arithmetic, rounded outward. Knows nothing of units.
 *
 * The rounding mode of the processor is left alone. Each end is computed to the nearest double together with
 * the sign of what rounding lost (T. J. Dekker, "A floating-point technique for extending the available
 * precision", Numerische Mathematik 18, 1971; D. E. Knuth, "The Art of Computer Programming", volume 2, for
 * the sum; both cited from memory). An end moves to the next double outward only where the lost part lies on
 * that side: an exact end, above all zero, stays what it is.
 *
 * What has no value (infinity less infinity) is the whole line, so that no end is ever NaN.
 */
#include "base/interval.h"

#include <float.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

/* Below, a residual may underflow and so hide that there is one. 2^-1022 * 2^53 is 2e-292. */
static const double SMALLEST_RESIDUAL = 1e-290;

/* How far the value of a formula at a corner is trusted, relative to itself: some ten roundings. */
static const double CORNER_MARGIN = 16 * DBL_EPSILON;

/* A rounded result and what the true one has more: only the sign counts; NaN where it is not known. */
typedef struct Rounded {
    double value;
    double lost;
} Rounded;

/* As nextafter upward, which is a call that costs more than all of an addition: doubles lie in the order of their bits. */
static double next_above(double value)
{
    if (value == 0) {
        return DBL_TRUE_MIN;
    }
    if (!(value < INFINITY)) {
        return value;
    }
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    bits = value > 0 ? bits + 1 : bits - 1;
    memcpy(&value, &bits, sizeof bits);
    return value;
}

static double lower(Rounded end)
{
    return end.lost >= 0 ? end.value : -next_above(-end.value);
}

static double upper(Rounded end)
{
    return end.lost <= 0 ? end.value : next_above(end.value);
}

static Interval whole_line(void)
{
    return (Interval){-INFINITY, INFINITY};
}

static Interval without_nan(Interval a)
{
    return (Interval){isnan(a.low) ? -INFINITY : a.low, isnan(a.high) ? INFINITY : a.high};
}

static bool both_points(Interval a, Interval b)
{
    return interval_is_point(a) && interval_is_point(b);
}

/* Knuth's sum: the lost part comes out exactly unless something overflows, and then as NaN or infinite. */
static Rounded add(double a, double b)
{
    double sum = a + b;
    double b_part = sum - a;
    double a_part = sum - b_part;
    return (Rounded){sum, (a - a_part) + (b - b_part)};
}

Interval interval_add(Interval a, Interval b)
{
    if (both_points(a, b)) {
        return without_nan(point(a.low + b.low));
    }
    return without_nan((Interval){lower(add(a.low, b.low)), upper(add(a.high, b.high))});
}

Interval interval_subtract(Interval a, Interval b)
{
    return interval_add(a, (Interval){-b.high, -b.low});
}

/* Some thousand roundings: more than a sum has terms. */
static double left_of(double a, double b, double left)
{
    static const double noise = 1e-12;
    double greater = fmax(fabs(a), fabs(b));
    return isfinite(greater) && fabs(left) <= noise * greater ? 0.0 : left;
}

Interval interval_left(Interval a, Interval b)
{
    Interval left = interval_subtract(a, b);
    return (Interval){left_of(a.low, b.high, left.low), left_of(a.high, b.low, left.high)};
}

static double times(double a, double b)
{
    return a == 0 || b == 0 ? 0 : a * b; /* 0 times infinity is 0 */
}

static Rounded multiply(double a, double b)
{
    double product = times(a, b);
    if (a == 0 || b == 0 || isinf(a) || isinf(b)) {
        return (Rounded){product, 0};
    }
    if (fabs(product) < SMALLEST_RESIDUAL) {
        return (Rounded){product, NAN};
    }
    return (Rounded){product, fma(a, b, -product)};
}

/* The least and the greatest of what four corners give. */
static Interval around(const Rounded corners[4])
{
    Interval result = {NAN, NAN};
    for (int i = 0; i < 4; i++) {
        result.low = fmin(result.low, lower(corners[i])); /* fmin and fmax pass over NaN */
        result.high = fmax(result.high, upper(corners[i]));
    }
    return without_nan(result);
}

/* Of an `a` that is nowhere negative the sign of an end of b says which end of a goes with it: most products are of such. */
static Interval multiply_by_sign(Interval a, Interval b)
{
    double with_low = b.low < 0 ? a.high : a.low, with_high = b.high < 0 ? a.low : a.high;
    return (Interval){lower(multiply(with_low, b.low)), upper(multiply(with_high, b.high))};
}

Interval interval_multiply(Interval a, Interval b)
{
    if (both_points(a, b)) {
        return point(times(a.low, b.low));
    }
    if (a.low >= 0 || b.low >= 0) {
        return a.low >= 0 ? multiply_by_sign(a, b) : multiply_by_sign(b, a);
    }
    const Rounded corners[4] = {
        multiply(a.low, b.low),
        multiply(a.low, b.high),
        multiply(a.high, b.low),
        multiply(a.high, b.high),
    };
    return around(corners);
}

/* a / b, where b is not 0. */
static Rounded divide(double a, double b)
{
    double quotient = a / b;
    if (a == 0 || isinf(a) || isinf(b)) {
        return (Rounded){quotient, 0};
    }
    if (fabs(quotient) < SMALLEST_RESIDUAL || fabs(a) < SMALLEST_RESIDUAL) {
        return (Rounded){quotient, NAN};
    }
    double rest = fma(-quotient, b, a);
    return (Rounded){quotient, b < 0 ? -rest : rest};
}

/* a / b, where b begins or ends with 0 but is more than that: one end stays finite, where a has one sign. */
static Interval divide_to_zero(Interval a, Interval b)
{
    double far_end = b.low == 0 ? b.high : b.low;
    bool upward = b.low == 0 ? a.low >= 0 : a.high <= 0;
    bool downward = b.low == 0 ? a.high <= 0 : a.low >= 0;
    double near_zero = a.low >= 0 ? a.low : a.high; /* the end of a that is nearer to zero */
    if (!upward && !downward) {
        return whole_line();
    }
    Rounded end = divide(near_zero, far_end);
    return upward ? (Interval){lower(end), INFINITY} : (Interval){-INFINITY, upper(end)};
}

Interval interval_divide(Interval a, Interval b)
{
    if (b.low <= 0 && b.high >= 0) {
        bool inside = b.low == b.high || (b.low != 0 && b.high != 0);
        return inside ? whole_line() : without_nan(divide_to_zero(a, b));
    }
    if (both_points(a, b)) {
        return without_nan(point(a.low / b.low));
    }
    const Rounded corners[4] = {
        divide(a.low, b.low),
        divide(a.low, b.high),
        divide(a.high, b.low),
        divide(a.high, b.high),
    };
    return around(corners);
}

Interval interval_cube(Interval a)
{
    return interval_corners(a.low * a.low * a.low, a.high * a.high * a.high);
}

Interval interval_scale(Interval a, double factor)
{
    return interval_multiply(a, point(factor));
}

Interval interval_size(Interval a)
{
    double low = a.low > 0.0 ? a.low : a.high < 0.0 ? -a.high : 0.0;
    return (Interval){low, fmax(fabs(a.low), fabs(a.high))};
}

Interval interval_hull(Interval a, Interval b)
{
    return (Interval){fmin(a.low, b.low), fmax(a.high, b.high)};
}

static double moved(double value, double direction)
{
    return isinf(value) ? value : value + direction * fabs(value) * CORNER_MARGIN;
}

/* A corner that is exactly zero stays: a formula reaches it by a factor that is zero, not by rounding. */
Interval interval_corners(double at_one, double at_other)
{
    if (isnan(at_one) || isnan(at_other)) {
        return whole_line();
    }
    if (at_one == at_other) {
        return point(at_one);
    }
    return (Interval){moved(fmin(at_one, at_other), -1), moved(fmax(at_one, at_other), 1)};
}
