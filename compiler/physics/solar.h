/*
 * Sunshine on the flat: what reaches the top of the air in a day, and how many hours of full sun a share of it is.
 * Knows latitudes and days of the year; not panels, nor specs.
 */
#ifndef GARBOARD_PHYSICS_SOLAR_H
#define GARBOARD_PHYSICS_SOLAR_H

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

/** Day of the year in the middle of a month (1..12), of a common year. */
int solar_middle_day(int month);

#endif
