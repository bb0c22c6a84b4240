/* See solar.h. */
#include "physics/solar.h"

#include <assert.h>
#include <math.h>

static const double pi = 3.14159265358979323846;
static const double solar_constant_w_per_m2 = 1367.0;
static const double full_sun_w_per_m2 = 1000.0;
static const double day_s = 86400.0;

/* Cooper's formula: within 0.6 deg of the true declination. */
static double declination_rad(int day)
{
    return 23.45 * pi / 180.0 * sin(2.0 * pi * (284.0 + day) / 365.0);
}

double solar_extraterrestrial_j_per_m2(double latitude_rad, int day)
{
    double declination = declination_rad(day);
    double cosine = -tan(latitude_rad) * tan(declination);
    double sunset = acos(fmax(-1.0, fmin(1.0, cosine))); /* hour angle; pi in the polar day, 0 in the polar night */
    double distance = 1.0 + 0.033 * cos(2.0 * pi * day / 365.0);
    double height = cos(latitude_rad) * cos(declination) * sin(sunset) + sunset * sin(latitude_rad) * sin(declination);

    assert(day >= 1 && day <= 366);
    return fmax(0.0, day_s * solar_constant_w_per_m2 / pi * distance * height);
}

double solar_full_sun_s(double extraterrestrial_j_per_m2, double clearness)
{
    return extraterrestrial_j_per_m2 * clearness / full_sun_w_per_m2;
}

int solar_middle_day(int month)
{
    static const int middle[] = {16, 46, 75, 105, 136, 166, 197, 228, 258, 289, 319, 350};

    assert(month >= 1 && month <= 12);
    return middle[month - 1];
}
