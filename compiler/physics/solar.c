/* See solar.h. */
#include "physics/solar.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>

static const double pi = 3.14159265358979323846;
static const double solar_constant_w_per_m2 = 1367.0;
static const double full_sun_w_per_m2 = 1000.0;
const double solar_beam_per_clearness = 1.13;
static const double day_s = 86400.0;

/* Cooper's formula: within 0.6 deg of the true declination. */
static double declination_rad(int day)
{
    return 23.45 * pi / 180.0 * sin(2.0 * pi * (284.0 + day) / 365.0);
}

/* Hour angle; pi in the polar day, 0 in the polar night. */
static double sunset_rad(double latitude_rad, double declination)
{
    return acos(fmax(-1.0, fmin(1.0, -tan(latitude_rad) * tan(declination))));
}

double solar_normal_w_per_m2(int day)
{
    return solar_constant_w_per_m2 * (1.0 + 0.033 * cos(2.0 * pi * day / 365.0));
}

double solar_extraterrestrial_j_per_m2(double latitude_rad, int day)
{
    double declination = declination_rad(day);
    double sunset = sunset_rad(latitude_rad, declination);
    double height = cos(latitude_rad) * cos(declination) * sin(sunset) + sunset * sin(latitude_rad) * sin(declination);

    assert(day >= 1 && day <= 366);
    return fmax(0.0, day_s / pi * solar_normal_w_per_m2(day) * height);
}

/* 0 where the sun stands low at noon, 1 where it stands high: see solar_usual_clearness. */
static double highness(double latitude_rad, double declination)
{
    double degrees = 90.0 - fabs(latitude_rad - declination) * 180.0 / pi;
    return fmax(0.0, fmin(1.0, (degrees - 15.0) / (40.0 - 15.0)));
}

Interval solar_usual_clearness(Interval latitude_rad, int day)
{
    double declination = declination_rad(day);
    double below = fmin(highness(latitude_rad.low, declination), highness(latitude_rad.high, declination));
    double nearest = fmax(latitude_rad.low, fmin(latitude_rad.high, declination));
    return (Interval){0.15 + 0.15 * below, 0.45 + 0.30 * highness(nearest, declination)};
}

double solar_day_length_s(double latitude_rad, int day)
{
    return day_s * sunset_rad(latitude_rad, declination_rad(day)) / pi;
}

/* Turns parts of anything in proportion to the sun, which are so much together, into W/m2. */
static void scale_to(double daily_j_per_m2, double together, int steps, double parts[])
{
    double factor = together > 0.0 ? daily_j_per_m2 * steps / (day_s * together) : 0.0;
    for (int i = 0; i < steps; i++) {
        parts[i] *= factor;
    }
}

void solar_by_height(double latitude_rad, int day, double daily_j_per_m2, int steps, double sun_w_per_m2[])
{
    double declination = declination_rad(day);
    double sunset = sunset_rad(latitude_rad, declination);
    double steady = sin(latitude_rad) * sin(declination);
    double swing = cos(latitude_rad) * cos(declination);
    double step = 2.0 * pi / steps;
    double sine_of_step = sin(step), cosine_of_step = cos(step);
    double from = -sunset;
    double sine = sin(from), cosine = 1.0;
    double together = 0.0;
    bool whole = false; /* the sun rose in an earlier step */
    for (int i = 0; i < (steps + 1) / 2; i++) {
        /* The integral of the sun's height over the part of the step between sunrise and sunset. */
        double end = step * (i + 1) - pi;
        double part = 0.0;
        if (end > from) {
            double to = end < sunset ? end : sunset;
            double sine_to, cosine_to;
            if (whole && to == end) { /* one step on from the last: turned, for sines take most of a day's time */
                sine_to = sine * cosine_of_step + cosine * sine_of_step;
                cosine_to = cosine * cosine_of_step - sine * sine_of_step;
            } else {
                sine_to = sin(to);
                cosine_to = cos(to);
            }
            part = steady * (to - from) + swing * (sine_to - sine);
            from = to;
            sine = sine_to;
            cosine = cosine_to;
            whole = true;
        }
        double lit = part > 0.0 ? part : 0.0;
        int mirrored = steps - 1 - i; /* the afternoon is the morning backwards */
        sun_w_per_m2[i] = sun_w_per_m2[mirrored] = lit;
        together += mirrored == i ? lit : 2.0 * lit;
    }
    scale_to(daily_j_per_m2, together, steps, sun_w_per_m2);
}

void solar_by_wave(double daily_j_per_m2, int steps, double sun_w_per_m2[])
{
    /* A half wave of length L has its top at sum x pi / (2 L). */
    double least_s = daily_j_per_m2 * pi / (2.0 * full_sun_w_per_m2);
    double length = fmin(1.0, fmax(0.5, least_s / day_s));
    double before = 1.0, together = 0.0;
    for (int i = 0; i < steps; i++) {
        double at = fmax(0.0, fmin(1.0, ((i + 1.0) / steps - 0.5) / length + 0.5));
        double cosine = cos(pi * at);
        sun_w_per_m2[i] = before - cosine;
        together += sun_w_per_m2[i];
        before = cosine;
    }
    scale_to(daily_j_per_m2, together, steps, sun_w_per_m2);
}

double solar_sky_share(double tilt_rad)
{
    return (1.0 + cos(tilt_rad)) / 2.0;
}

double solar_beam_share(double clearness)
{
    return fmin(1.0, solar_beam_per_clearness * clearness);
}

double solar_all_round(double tilt_rad, double sine_of_height)
{
    double straight = cos(tilt_rad) * sine_of_height;
    double across = sin(tilt_rad) * sqrt(fmax(0.0, 1.0 - sine_of_height * sine_of_height));
    if (straight >= across) {
        return straight; /* the sun is before the panel on every heading */
    }
    double until = acos(-straight / across);
    return (straight * until + across * sin(until)) / pi;
}

void solar_lit(double latitude_rad, int day, int steps, double lit[])
{
    double half = steps * solar_day_length_s(latitude_rad, day) / day_s / 2.0;
    for (int i = 0; i < steps; i++) {
        double from = fmax(i, steps / 2.0 - half), to = fmin(i + 1.0, steps / 2.0 + half);
        lit[i] = fmax(0.0, to - from);
    }
}

double solar_met_w_per_m2(double flat_above_w_per_m2, double normal_w_per_m2, double lit, double tilt_rad)
{
    if (flat_above_w_per_m2 <= 0.0 || lit <= 0.0) {
        return 0.0;
    }
    return lit * normal_w_per_m2 * solar_all_round(tilt_rad, fmin(1.0, flat_above_w_per_m2 / (lit * normal_w_per_m2)));
}

double solar_leaning_w_per_m2(double clearness, double sky_w_per_m2, double met_w_per_m2)
{
    double beam = solar_beam_share(clearness);
    return clearness * ((1.0 - beam) * sky_w_per_m2 + beam * met_w_per_m2);
}

int solar_average_day(int month)
{
    static const int average[] = {17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344};

    assert(month >= 1 && month <= 12);
    return average[month - 1];
}
