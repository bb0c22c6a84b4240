/*
 * Voltage drop: as physics has it, and as the two bases write it.
 *
 * The rule forms take copper and current only; the physical form takes the resistance of real cable at its
 * temperature. Lengths are loops: from the source to the load AND BACK. (46 CFR 183.340 counts one way; its
 * table is checked so.) Knows conductors and ampacity; not networks, nor specs.
 */
#ifndef GARBOARD_PHYSICS_DROP_H
#define GARBOARD_PHYSICS_DROP_H

#include "physics/ampacity.h"
#include "physics/basis.h"
#include "physics/conductor.h"

/*
 * Limits of the total drop, as a share of the nominal voltage. Critical (feeds of panels, navigation lights,
 * blowers, electronics, and under iso bilge pumps and what is vital): verified in both practices. Other: us
 * verified (also 46 CFR 183.340(p)), iso from memory.
 */
#define DROP_LIMIT_CRITICAL 0.03
/** So much of a limit may be lost before the cable of a feed without that one being the cable to change: a choice of this program. */
#define DROP_MOST_BEFORE 0.75
#define DROP_LIMIT_OTHER 0.10

/**
 * Drop in V of `amps` through a loop of real cable: I x conductor_resistance_ohm. Rises with all but area.
 */
double drop_physical_v(const Conductor *row, double loop_m, double celsius, int parallel, double amps);

/**
 * Drop in V in the form of the basis, for a copper area in m2 (of all parallel conductors together).
 *
 * us:  10.75 x I x L / CM, L in feet, CM in circular mils (voluntary US practice, verified in a
 * reprint). 10.75 ohm circular mil per foot is solid copper at 29 C. iso: 0.0164 x I x L / S, L in m, S in
 * mm2 (ISO 10133 annex, from memory). Below real cable at 50 C: us by 11 to 23 per cent, iso by 18 to 29.
 */
double drop_by_rule_v(Basis basis, double area_m2, double loop_m, double amps);

#endif
