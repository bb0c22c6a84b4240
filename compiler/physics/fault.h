/*
 * Fault current: what flows when a conductor is shorted, from the bank's voltage and resistance and the
 * copper between.
 *
 * For interrupting capacity use the greatest: full open-circuit voltage, least resistance, cold copper (20
 * C). For "does the device still open" use the least: low voltage, most resistance, hot copper. Knows volts
 * and ohms; not where they come from.
 */
#ifndef GARBOARD_PHYSICS_FAULT_H
#define GARBOARD_PHYSICS_FAULT_H

/**
 * I = U / (R_bank + R_loop). loop_ohm: out and back to the fault, and whatever else lies in it; 0 at the
 * terminals. Infinite if both resistances are 0. Rises with voltage, falls with resistance. (Ohm; inductance
 * is left out.)
 */
double fault_current_a(double open_circuit_v, double bank_ohm, double loop_ohm);

/** Resistance of equal batteries: series members add, parallel strings divide. series, parallel > 0. */
double bank_resistance_ohm(double battery_ohm, double series, double parallel);

/**
 * Short-circuit current of a bank by the rule form: strings in parallel add, members in series do not (US
 * practice, verified). Six 6 V batteries of 2400 A, two in series and three strings: 7200 A.
 */
double bank_short_circuit_a(double battery_short_circuit_a, double parallel);

/** Bank resistance from a stated short-circuit current at open-circuit voltage. */
double resistance_of_short_circuit_ohm(double open_circuit_v, double short_circuit_a);

/** Battery resistance from voltages under two loads: (U1 - U2) / (I2 - I1). */
double resistance_of_two_loads_ohm(double volts1, double current1_a, double volts2, double current2_a);

/**
 * Bound on the resistance at -18 C from the cold-cranking rating of a 12 V battery: (12.6 - 7.2) / CCA (SAE
 * J537).
 */
double resistance_of_cranking_ohm(double cold_cranking_a);

/**
 * Voltage at a load of constant power behind a resistance: the upper root of U^2 - E U + P R = 0, the only
 * one that a real load settles on. Not a number where none exists (P > E^2 / 4R): the load collapses.
 */
double constant_power_v(double source_v, double ohm, double watts);
/** The most power that a source can push through a resistance: E^2 / 4R; infinite if ohm is 0. */
double greatest_power_w(double source_v, double ohm);

#endif
