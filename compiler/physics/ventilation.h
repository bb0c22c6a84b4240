/*
 * Air for spaces in which petrol vapour can gather: what 33 CFR 183, subpart K asks of blowers and openings.
 *
 * The formulas stand in cubic feet and square inches and are judged so. All rise with the volume of the space, from which
 * the volume of what stands in it is to be taken off ("net compartment volume").
 */
#ifndef GARBOARD_PHYSICS_VENTILATION_H
#define GARBOARD_PHYSICS_VENTILATION_H

/**
 * Air in m3/s that the blowers of a space with a petrol engine are rated for together, at least: 50 cfm below 34 ft3,
 * 1.5 V to 100 ft3, V/2 + 100 above. 33 CFR 183.610(b), Table 183.610, column 2 (verified).
 */
double petrol_blower_m3_per_s(double volume_m3);

/** Air in m3/s that comes out of the boat from these, at least: 0.4 of that. The same, (c), column 3 (verified). */
double petrol_output_m3_per_s(double volume_m3);

/**
 * Area in m2 of the openings by which it breathes without a blower, in and out each: 5 ln(V/5) in2, and more than 3 in2.
 * 33 CFR 183.630(d), (e) (verified).
 */
double petrol_opening_m2(double volume_m3);

/**
 * Area in m2 of the fixed openings of a cabin in which a flame takes its air from there, half of it high and half low: 2200 mm2 for
 * each kW of what has no flue, 550 mm2 for each kW that a stove with a flue gives, 650 mm2 for each person. PD 5482-3, and BS
 * 8511 for stoves, as a scheme for inland boats prints them (second hand; of flues for other fuels it asks 440 mm2 for each kW
 * that is burned, which is the same of a stove that gives 80 % of it). Rises with all three.
 */
double flame_opening_m2(double burned_w, double flued_w, double people);

/** Area in m2 from which on a space is open to the atmosphere: 15 in2 for each ft3. 33 CFR 183.605 (verified). */
double open_to_air_m2(double volume_m3);

#endif
