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

#endif
