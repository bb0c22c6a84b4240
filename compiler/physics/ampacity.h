/*
 * Ampacity: the continuous current that a conductor may carry, and the least size that a basis allows.
 *
 *     allowed = table (size, insulation) x engine-space factor x bundle factor
 *
 * us: 33 CFR 183.425 (verified). iso: ISO 10133 / 13297 table and factors FROM MEMORY.
 * Knows the published tables; not voltage drop, protection, nor specs.
 */
#ifndef GARBOARD_PHYSICS_AMPACITY_H
#define GARBOARD_PHYSICS_AMPACITY_H

#include "physics/basis.h"
#include "physics/conductor.h"

#include <stdbool.h>

/* One cell of a published table, and which cell it was. */
typedef struct Ampacity {
    double amps;               /* 0: the basis tabulates nothing that thin, or no insulation that poor */
    const Conductor *row;      /* the tabulated size used; NULL if amps is 0 */
    double insulation_celsius; /* the column used */
    Evidence evidence;
    const char *source;
} Ampacity;

/**
 * The table figure for one conductor in 30 C air.
 *
 * A size of the basis's own series (us: AWG; iso: metric) is looked up directly. Under us an SAE size takes
 * the row of its gauge number, as the table is printed for both. Any other size (mm2 under us, AWG or SAE
 * under iso) takes the thickest tabulated size that has no more copper: the safe side. An insulation rating
 * between two columns takes the lower one (iso prints one column for 85 to 90 C). Rises with area and
 * insulation rating, in steps.
 */
Ampacity ampacity_find(Basis basis, const Conductor *row, double insulation_celsius);

/** ampacity_find(...).amps */
double ampacity_table(Basis basis, const Conductor *row, double insulation_celsius);

/**
 * Factor for a conductor that passes an engine space, by its insulation; between two columns the lower one.
 * An insulation below the first column gives 0. us: 33 CFR 183.425 note 1; iso: from memory.
 */
double engine_space_factor(Basis basis, double insulation_celsius);

/**
 * Factor for air of another temperature than 30 C: sqrt((insulation - ambient)/(insulation - 30)), 1 up to 30
 * C and 0 when the air is as hot as the insulation stands. It is the curve that the published engine-space
 * factors round (within 0.01, except 200 C where the regulation prints 1); use those for an engine space,
 * this for a warm space.
 */
double ambient_factor(double insulation_celsius, double ambient_celsius);

/**
 * Factor for current-carrying conductors that lie together. us: only in circuits of 50 V or more, from three
 * conductors (33 CFR 183.425 note 2, 183.435(b)); iso: from four, at any voltage, from memory.
 */
double bundle_factor(Basis basis, int conductors, double volts);

/** Factor for the heat on its way: the least of that of an engine space, if it runs through one, and that of the air. */
double heat_factor(Basis basis, double insulation_celsius, bool engine_space, double ambient_celsius);

/** How a cable is laid. */
typedef struct Laid {
    bool engine_space; /* it runs through one */
    double ambient_celsius;
    int bundle; /* current-carrying conductors that lie together */
    double volts;
    int parallel; /* equal conductors laid as one; >= 1 */
} Laid;

/** Table x factors, for all conductors laid as one (each carries its share). */
double ampacity_allowed(Basis basis, const Conductor *row, double insulation_celsius, Laid laid);

/**
 * Current in A that makes copper of so much cross-section as hot as its insulation stands within time_s, if it begins with the
 * heat on its way and gives none off: what starts an engine and lasts seconds. Rises with area and insulation, falls with heat
 * and time; 0 where the air is as hot as the insulation stands, or that is no more than 30 C.
 *
 * I = 226 A s^0.5/mm2 x area x sqrt(ln((234.5 + insulation) / (234.5 + start)) / time)
 * Source: IEC 60949, adiabatic; its constants of copper second hand. `heat` is the factor of the heat on its way, in [0, 1]:
 * start = insulation - heat^2 x (insulation - 30 C), which is what that factor stands for (ambient_factor).
 */
double short_time_a(double area_m2, double insulation_celsius, double heat, double time_s);
/**
 * How hot copper of so much cross-section gets that carries a current for a time, begins at start_celsius and gives no heat off:
 * the inverse of short_time_a, resistance growing with the heat. No more than 1084.62 C, where copper melts (a fixed point of
 * ITS-90): the formula is for solid copper; an area of 0 has melted. Rises with all but the area. An upper bound; insulation and air take some.
 *
 * T = (234.5 + start) x exp((I / (226 A s^0.5/mm2 x area))^2 x time) - 234.5
 */
double short_time_celsius(double area_m2, double start_celsius, double current_a, double time_s);

/**
 * The least size: us 16 AWG run on its own, 18 AWG inside a sheath (33 CFR 183.425(d),(e)); iso 1 mm2 on its
 * own, 0.75 mm2 inside a sheath (ISO 10133:2012 7.7). Both verified. Not for what the clauses exempt (data
 * cable, wires inside equipment, short pigtails).
 */
const Conductor *conductor_minimum(Basis basis, bool sheathed);


#endif
