/*
 * Bilge: what pumps a basis asks for, what a pump really moves, and how fast a hole fills the boat.
 *
 * Knows hydraulics and two published tables; not where pumps and holes are.
 */
#ifndef GARBOARD_PHYSICS_BILGE_H
#define GARBOARD_PHYSICS_BILGE_H

#include "physics/basis.h"
#include "physics/pipe.h"

#include <stdbool.h>

typedef struct BilgeNeed {
    int power_pumps;              /* fixed power pumps asked for; 0: none */
    double power_m3_per_s;        /* each of them */
    double hand_m3_per_s;         /* the hand pump; 0: none asked for */
    double hand_lenient_m3_per_s; /* us: as the derived code reads the same line; else as above */
    Evidence evidence;
    const char *source; /* NULL: the basis has no figure for that length */
    const char *note;
} BilgeNeed;

/**
 * Pumps asked for by length (bilge.def). us is judged in feet, iso in metres. The us clause prints litres and
 * gallons that differ by a third of a per cent: the smaller of the two is taken, so that a pump that meets
 * either holds. Private boats are bound by neither. iso asks for a primary system and a second pump, of the
 * same figure each.
 */
BilgeNeed bilge_need(Basis basis, double length_m);

/** A centrifugal bilge pump from its open-flow rating and shut-off head. */
Pump bilge_pump(double rated_m3_per_s, double shut_off_m);

/**
 * What the pump moves aboard, in m3/s: its curve at the voltage it gets, against the static lift and its
 * hoses, one after the other, in sea water at 15 C. 0 where it cannot lift so high.
 */
double bilge_real_m3_per_s(const Pump *pump, double volts, double rated_volts, double lift_m,
                           const PipeRun runs[], size_t count);

typedef enum BilgeFraction {
#define BILGE_US(...)
#define BILGE_ISO(...)
#define BILGE_FRACTION(ID, ...) BILGE_FRACTION_##ID,
#include "tables/bilge.def"
#undef BILGE_US
#undef BILGE_ISO
#undef BILGE_FRACTION
    BILGE_FRACTION_COUNT
} BilgeFraction;

/** Share of the rating left where hose and shut-off head are not stated: an assumption (second hand). */
double bilge_fraction(BilgeFraction fraction);

/** Discharge coefficient of a plain hole (0.60 to 0.62 in hydraulics texts); 1.0 is the worst case. */
#define HOLE_DISCHARGE 0.6
#define HOLE_DISCHARGE_WORST 1.0

/**
 * Inflow in m3/s through a hole at a depth: Cd A sqrt(2 g h); 0 above the water. Rises with bore and depth.
 */
double hole_inflow_m3_per_s(double bore_m, double depth_m, double discharge);

/* A bilge of constant area that fills through one hole below the waterline. */
typedef struct Flooding {
    double area_m2; /* of the water surface inside */
    double hole_bore_m;
    double discharge;    /* HOLE_DISCHARGE */
    double head_begin_m; /* outside level above the inside one: at the beginning ... */
    double head_end_m;   /* ... and when the water has reached the level asked about; < head_begin_m, >= 0 */
    double pumps_m3_per_s; /* all pumps that run */
} Flooding;

/**
 * Seconds until the inside level has risen from the one head to the other; infinite if the pumps hold it
 * below; nought through a hole without bound.
 *
 * Without pumps t = 2 S (sqrt h0 - sqrt h1) / k; against steady pumps of q
 * t = -(2 S / k^2) (k (sqrt h1 - sqrt h0) + q ln((k sqrt h1 - q) / (k sqrt h0 - q))), k = Cd A sqrt(2 g).
 * The hole lies below both levels, and the boat does not sink meanwhile (it does: the true time is shorter).
 */
double flooding_time_s(const Flooding *flooding);

#endif
