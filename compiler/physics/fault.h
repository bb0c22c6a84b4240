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

#include <stdint.h>

/**
 * I = U / (R_bank + R_loop). loop_ohm: out and back to the fault, and whatever else lies in it; 0 at the
 * terminals. Infinite if both resistances are 0. Rises with voltage, falls with resistance. (Ohm; inductance
 * is left out.)
 */
double fault_current_a(double open_circuit_v, double bank_ohm, double loop_ohm);

/** A resistance between two places: copper, or that of a source, which lies between its terminals and place 0. */
typedef struct FaultLink {
    uint32_t one, other;
    double ohm;
} FaultLink;

/**
 * What several sources have as their resistance, all together, for a short circuit at one place: that between it and place 0,
 * which holds the voltage within all of them. The number `left_out` of the links is taken for cut; one that does not exist:
 * none is. siemens is room for places x places numbers. Infinite where no source reaches it. Exact: places are taken away one
 * by one, each star of resistances for the mesh that is worth as much (Rosen's theorem, from memory). Rises with each
 * resistance.
 */
double fault_joined_ohm(const FaultLink *links, uint32_t link_count, uint32_t places, uint32_t at, uint32_t left_out, double *siemens);

#endif
