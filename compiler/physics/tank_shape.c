/*
 * Tanks that are no box. See tank_shape.h.
 */
#include "physics/tank_shape.h"

#include <assert.h>
#include <math.h>

static const double half_circle = 3.14159265358979323846;

double cylinder_volume_m3(double diameter_m, double length_m)
{
    assert(diameter_m >= 0.0 && length_m >= 0.0);
    return half_circle / 4.0 * diameter_m * diameter_m * length_m;
}

double taper_volume_m3(Taper t, double height_m)
{
    double top = t.length_m * t.width_m, floor_area = t.floor_length_m * t.floor_width_m;
    return height_m / 6.0 * (2.0 * top + 2.0 * floor_area + t.length_m * t.floor_width_m + t.floor_length_m * t.width_m);
}

/* Share of a circle that lies below a chord at that share of its diameter. */
static double segment_share(double depth)
{
    double angle = acos(1.0 - 2.0 * depth);
    return (angle - sin(angle) * cos(angle)) / half_circle;
}

/* What lies below that share of the height. */
static double taper_below(Taper t, double depth)
{
    Taper below = {.length_m = t.floor_length_m + (t.length_m - t.floor_length_m) * depth,
                   .width_m = t.floor_width_m + (t.width_m - t.floor_width_m) * depth,
                   .floor_length_m = t.floor_length_m,
                   .floor_width_m = t.floor_width_m};
    return taper_volume_m3(below, depth);
}

enum { HALVINGS = 60 }; /* beyond what a double can tell apart */

double lying_depth_share(double filled)
{
    double low = 0.0, high = 1.0;
    for (int i = 0; i < HALVINGS; i++) {
        double middle = (low + high) / 2.0;
        *(segment_share(middle) < filled ? &low : &high) = middle;
    }
    return (low + high) / 2.0;
}

double taper_depth_share(Taper taper, double filled)
{
    double whole = taper_volume_m3(taper, 1.0), low = 0.0, high = 1.0;
    for (int i = 0; i < HALVINGS; i++) {
        double middle = (low + high) / 2.0;
        *(taper_below(taper, middle) < filled * whole ? &low : &high) = middle;
    }
    return (low + high) / 2.0;
}
