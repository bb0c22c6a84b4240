/*
 * Sunshine on the flat and on panels that lean: what reaches the top of the air in a day, and how many hours of full sun a
 * share of it is.
 * Knows latitudes and days of the year; not panels, nor specs.
 */
#ifndef GARBOARD_PHYSICS_SOLAR_H
#define GARBOARD_PHYSICS_SOLAR_H

#include "base/interval.h"

/**
 * Extraterrestrial irradiation of a horizontal plane in J/m2 in one day; 0 in the polar night.
 *
 * latitude_rad  north positive
 * day           of the year, 1..366
 *
 * Cooper's declination, 23.45 deg sin(360 (284 + n) / 365), and the day's integral over the sun's hours, solar constant
 * 1367 W/m2. Source: Duffie and Beckman, Solar Engineering of Thermal Processes (the formula, as carried by a public
 * program that cites it); within half a per cent of FAO Irrigation and Drainage Paper 56.
 */
double solar_extraterrestrial_j_per_m2(double latitude_rad, int day);

/**
 * What part of that reaches the sea in the mean of a month where nobody says it, least and most: by the height of the sun at
 * noon, the range of latitudes over. 0.30 to 0.75 where it stands 40 degrees high or more, 0.15 to 0.45 at 15 degrees or less,
 * straight between. The ends are from memory, set wide for coasts from the tropics to the far north; published beside them: about
 * 0.25 in an average December in London, 0.75 in a very sunny month of a desert (an energy program's help page, second hand).
 */
Interval solar_usual_clearness(Interval latitude_rad, int day);

/**
 * Length of the day, sunrise to sunset, in s: 24 h x sunset angle / pi. 0 in the polar night, 86400 in the polar day.
 * Source as above.
 */
double solar_day_length_s(double latitude_rad, int day);

/**
 * Mean sun on the flat in W/m2 in each of `steps` equal parts of a day, from midnight to midnight of solar time, of a day
 * that brings daily_j_per_m2 in all: by the height of the sun, the rise and fall of the irradiation above the air. All 0 in
 * the polar night. Summed over the day it is daily_j_per_m2 to rounding.
 */
void solar_by_height(double latitude_rad, int day, double daily_j_per_m2, int steps, double sun_w_per_m2[]);

/**
 * The same where only the day's sum is known: half a wave of a sine, from 6 to 18 h; longer on both sides where noon would be
 * stronger than 1000 W/m2. A choice of this program.
 */
void solar_by_wave(double daily_j_per_m2, int steps, double sun_w_per_m2[]);

/** What the sun gives a plane square to it above the air on that day of the year, in W/m2. Source as above. */
double solar_normal_w_per_m2(int day);

/**
 * Share of the sky that a plane sees which leans so far from the flat: (1 + cos tilt) / 2. Source: B. Y. H. Liu and
 * R. C. Jordan 1963, a sky that is equally bright all over (Duffie and Beckman, ch. 2; the formula from memory). Falls with tilt.
 */
double solar_sky_share(double tilt_rad);

extern const double solar_beam_per_clearness;
/**
 * Share of a mean day's sun on the flat that comes straight from the sun, by clearness: 1.13 of it, 1 at most. Source: J. K. Page
 * 1961, diffuse = 1 - 1.13 clearness (Duffie and Beckman, from memory; 0.43 at 0.5, where other correlations say 0.37 to 0.43).
 */
double solar_beam_share(double clearness);

/**
 * Mean over all headings of the cosine at which a leaning plane meets the sun, nothing where the sun is behind it.
 *
 * The cosine is cos tilt sin height + sin tilt cos height cos heading (Duffie and Beckman, 1.6), which is averaged here: a boat at
 * anchor swings. At no tilt the sine of the sun's height. May rise or fall with tilt: a low sun is met better by a steep panel.
 */
double solar_all_round(double tilt_rad, double sine_of_height);

/** In which share of each of `steps` equal parts of that day the sun is up. */
void solar_lit(double latitude_rad, int day, int steps, double lit[]);

/**
 * What the sun gives such a plane straight above the air, in W/m2 over one step of a day.
 *
 * flat_above_w_per_m2  on the flat above the air, as of solar_by_height
 * normal_w_per_m2      as of solar_normal_w_per_m2
 * lit                  share of the step in which the sun is up
 */
double solar_met_w_per_m2(double flat_above_w_per_m2, double normal_w_per_m2, double lit, double tilt_rad);

/**
 * Sun on such a plane in W/m2 under that clearness: the diffuse part of what falls on the flat above the air by the sky that it
 * sees (sky_w_per_m2 = flat_above x solar_sky_share), the direct part by what it meets. Both are in one proportion all day, and
 * what water and deck throw up is left out: Liu and Jordan. At no tilt it is clearness x flat_above. A parabola of clearness up
 * to 1 / solar_beam_per_clearness, a straight line from there on.
 */
double solar_leaning_w_per_m2(double clearness, double sky_w_per_m2, double met_w_per_m2);

/**
 * Day of the year, of a common one, whose irradiation above the air is nearest to the mean of its month (1..12): S. A. Klein 1977, as
 * tabled by Duffie and Beckman (table 1.6.1, from memory). Up to 60 degrees within 2.5 % of the mean; the 16th of December is 6 %
 * under it there.
 */
int solar_average_day(int month);

#endif
