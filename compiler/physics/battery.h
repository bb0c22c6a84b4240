/*
 * Batteries: planning figures by chemistry, Peukert's law, what a bank takes as it fills and in the cold, and
 * the air that a lead bank needs. Runs over days are in days.h.
 *
 * Charge is in coulomb and energy in joule (1 Ah = 3600 C). The capacity is that of the 20-hour rate unless
 * said. Figures of battery.def are practice and memory: a spec's own value comes first. Knows numbers; not
 * cables, chargers, nor specs.
 */
#ifndef GARBOARD_PHYSICS_BATTERY_H
#define GARBOARD_PHYSICS_BATTERY_H

#include "base/interval.h"
#include "physics/basis.h"

#define COULOMB_PER_AH 3600.0
#define BATTERY_RATED_HOURS 20.0

typedef enum Chemistry {
    CHEMISTRY_FLOODED,
    CHEMISTRY_AGM,
    CHEMISTRY_GEL,
    CHEMISTRY_LIFEPO4,
    CHEMISTRY_COUNT
} Chemistry;

typedef enum BatteryFigure {
#define BATTERY(ID, ...) BATTERY_##ID,
#include "tables/battery.def"
#undef BATTERY
    BATTERY_FIGURE_COUNT
} BatteryFigure;

typedef struct BatteryRow {
    const char *name;
    const char *unit; /* as in the table: "1", "A per Ah", "V", "mohm", "C" */
    double value[CHEMISTRY_COUNT];
    Evidence evidence;
    const char *note;
} BatteryRow;

const BatteryRow *battery_row(BatteryFigure figure);
/** The figure of that chemistry, in the unit of the row. */
double battery_figure(BatteryFigure figure, Chemistry chemistry);

/** A current in A from a figure in A per Ah and a capacity. */
double battery_rate_a(double amps_per_ah, double capacity_coulomb);

/** A voltage figure of a 12 V battery, for a bank of that nominal voltage (12, 24, 36, 48): in proportion. */
double battery_volts(BatteryFigure figure, Chemistry chemistry, double nominal_v);

/**
 * How many cells in series one battery of such a nominal voltage has, of 2 V (lead) or 3.2 V (lithium: 12, 12.8 and 13.2 V are
 * four, 24 V eight). What is called by 36 or 48 V may be eleven or twelve, fifteen or sixteen: both are made (from memory).
 * Rises with it, in steps.
 */
Interval battery_cells(Chemistry chemistry, double one_v);

/** A voltage figure of a 12 V battery, for so many in series of such a nominal voltage each: by their cells. Rises with both. */
Interval battery_cells_v(BatteryFigure figure, Chemistry chemistry, double one_v, double series);

/**
 * Open-circuit voltage in V of batteries in series that are rested and full, by their cells: 12.65 to 12.8 V of six of lead,
 * 13.4 V of four of lithium (battery.def), where it may have more cells of these; never less than what the spec states. It is
 * what a short circuit draws from: IEC 61660-1 takes 1.05 times the nominal voltage of lead, from memory. Rises with both.
 */
double battery_open_v(Chemistry chemistry, double one_v, double series);

/**
 * Internal resistance in ohm of a bank without any stated one: the table's range for 12 V 100 Ah, in
 * proportion to voltage and inverse to capacity. From memory; halve or double it before trusting it. The low
 * end gives the greatest fault current, the high end the smallest.
 */
Interval battery_resistance_ohm(Chemistry chemistry, double nominal_v, double capacity_coulomb);

/**
 * Peukert: the share of the rated capacity that a steady current gets out, (I_rated / I)^(k - 1).
 *
 * rated_hours  the rate at which the capacity is stated, usually 20
 *
 * W. Peukert 1897. Lead-acid, one steady current, one temperature; it overstates the loss of intermittent
 * loads. 1 at and below the rated current (no extrapolation: a modelling choice). Falls with current and with
 * k.
 */
double peukert_share(double capacity_coulomb, double rated_hours, double current_a, double exponent);

/**
 * The current at which a bank's charge would be gone in that time, if it were of coulombs alone: I (I/I_rated)^(k-1), I at and
 * below the rate. What is above I is not lost, only out of reach: see days.h.
 */
double peukert_effective_a(double capacity_coulomb, double rated_hours, double current_a, double exponent);

/**
 * How long in s a bank gives a steady current, from full until that share of its charge is gone by Peukert; INFINITY for no
 * current. Rises with capacity and share, falls with current and exponent.
 */
double battery_lasting_s(double capacity_coulomb, double usable_share, double rated_hours, double current_a, double exponent);

/**
 * The other way round: the steady current in A that it gives for so long. Rises with capacity and share, falls with time and
 * exponent.
 */
double battery_steady_a(double capacity_coulomb, double usable_share, double rated_hours, double seconds, double exponent);

/* A bank as the day-by-day model sees it. */
typedef struct BatteryModel {
    double capacity_coulomb;
    double rated_hours;
    double exponent;     /* Peukert */
    double efficiency;   /* coulombic, of charging only */
    double acceptance_a; /* greatest charge current */
    double taper_begins; /* state of charge where it starts to fall, in a straight line ... */
    double tail_a;       /* ... to this at full */
} BatteryModel;

/** The model of a chemistry with the figures of battery.def (Peukert: the middle of the range). */
BatteryModel battery_model(Chemistry chemistry, double capacity_coulomb);

/**
 * Current that the bank takes at a state of charge: constant, then falling in a straight line; 0 when full.
 */
double battery_acceptance_a(const BatteryModel *model, double charge_share);

/**
 * The most charge current in A per Ah at a temperature of the cells: INFINITY where temperature sets no limit of its own
 * (lead, and lithium above 10 C). Source: tables/cold-charge.def. Rises with temperature.
 */
double battery_cold_limit_a_per_ah(Chemistry chemistry, double celsius);

/**
 * By how much more capacity a lead bank needs at a temperature of its cells, to give as much as at 25 C: 1 from there on.
 * Source: tables/cold-lead.def. Falls with temperature.
 */
double battery_cold_lead_factor(double celsius);

/* Air that carries the hydrogen of a lead bank away while it is charged. */
typedef struct BatteryAir {
    double flow_m3_per_s;
    double opening_m2; /* free area, of the inlet and of the outlet each, where air moves by itself */
} BatteryAir;

/**
 * Ventilation of a lead bank: Q = 0.05 n I C, in m3/h for n cells, I in mA per Ah over 1000 and C in Ah; A = 28 Q in cm2.
 *
 * cells  in series, 2 V each; capacity of the whole bank
 *
 * Source: EN 50272-2 / IEC 62485-2 (verified in reprints): 24 x 0.42e-3 x 5, diluting to a fifth of 4 per cent. Boost
 * charging with a limited voltage, up to 40 C. Nothing for lithium, which gives off no gas in use. The standard counts the
 * capacity at the 10-hour rate; the 20-hour one is a few per cent larger and errs to the safe side.
 */
BatteryAir battery_air(Chemistry chemistry, double cells, double capacity_coulomb);

#endif
