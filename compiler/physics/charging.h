/*
 * What charges: the alternator by the speed of its shaft, its power at the belt, the array by sun and heat and what the
 * cold does to its voltage. Knows numbers; not days, banks, nor specs.
 */
#ifndef GARBOARD_PHYSICS_CHARGING_H
#define GARBOARD_PHYSICS_CHARGING_H

#include "physics/basis.h"

#include <stdbool.h>
#include <stddef.h>

/**
 * The nominal voltage of direct current that is nearest: 12, 24, 36 or 48 V; above 60 V, of drives, multiples of these as they
 * are usual (common practice, no source).
 */
double nominal_class_v(double volts);
/** Of a source whose voltage is no more than a tenth from its class: that. A choice of this program: 12.8 and 51.2 V are within. */
#define NOMINAL_WITHIN 1.1
/** What charges or converts gives up to so much over the class of what it is for: 15 V of 12, equalizing (common practice, no source). */
#define NOMINAL_WITHIN_CHARGING 1.25
/** Four cells of 3.2 V stand for the 12 V of six of lead: what turns the voltage of a lithium bank into that. */
#define NOMINAL_OF_LITHIUM (12.0 / 12.8)
/**
 * The nominal voltage of a source that gives `volts`: its class, where it is below that by a tenth at most and above by no more
 * than `within` times; else it is of no class and that is its own voltage, times `own`. Rises with the voltage where `own` is
 * no less than 1 / `within`.
 */
double nominal_voltage_v(double volts, double within, double own);
/** The same of a bank, lithium or not. */
double nominal_of_bank_v(double volts, bool lithium);
/** Whether a bank of that nominal voltage is of the system's: no more than a tenth from it, either way. */
bool is_of_system(double nominal_v, double system_v);
/** What charges a bank gives about so many times its nominal voltage: 14.4 V of 12, 57.6 V of 48 (common practice, no source). */
#define CHARGING_OVER_NOMINAL 1.2

/* A point of an alternator's curve: what it gives at a speed of its own shaft, in A or as a share. */
typedef struct AlternatorPoint {
    double rpm;
    double output;
} AlternatorPoint;

/**
 * Output at a speed of its own shaft (not the engine's): straight between two points, nothing below the first, the last
 * beyond it. The points stand in the order of their speeds, one at least. In the unit of the points.
 */
double alternator_output(const AlternatorPoint points[], size_t count, double rpm);

/**
 * The same where its maker's curve is not known, as a share of its full output, by tables/alternator.def. Rises with the
 * speed.
 */
double alternator_usual_share(double rpm);

/** What one V belt of 12.5 mm carries, W: about 5 hp, from memory. */
extern const double belt_w;

/* How a solar controller works. */
typedef enum SolarController {
    SOLAR_MPPT, /* seeks the voltage of greatest power */
    SOLAR_PWM,  /* holds the panel at the battery's voltage */
} SolarController;

/**
 * Temperature of the cells in C: air + (NOCT - 20) / 800 x sun. Source: R. G. Ross 1976 (the formula as carried by a public
 * program that cites it). Rises with each.
 */
double solar_cell_celsius(double air_celsius, double sun_w_per_m2, double noct_celsius);

/**
 * Share of the rated power that cells of that temperature have left: 1 + gamma (cell - 25), never less than 0. Source:
 * NREL TP-6A20-62641. Falls with temperature where gamma is negative; more than 1 in the cold.
 */
double solar_heat_share(double cell_celsius, double gamma_per_k);

/** A panel with air behind it, from memory; one glued to the deck runs 10 to 15 C hotter. */
extern const double solar_noct_celsius;
/** Crystalline silicon, from memory (-0.0030 to -0.0045). */
extern const double solar_gamma_per_k;

/**
 * What of it arrives besides heat and shade: soil and salt 0.97, unlike panels 0.98, wiring 0.97, controller 0.95.
 * Common practice, from memory.
 */
extern const double solar_way_share;
/** The same behind a PWM controller, which loses next to nothing itself. */
extern const double solar_pwm_way_share;

/** Of the cable from the panels, in full sun, what the 0.97 for wiring covers: a choice of this program. */
extern const double solar_cable_counted;

/**
 * What the cable from the panels leaves of their power, besides what solar_way_share counts: it loses the square of the current,
 * a share that goes with the sun. drop: share of the power that it takes in full sun, at the voltage of greatest power. No
 * cable passes more than where it takes as much as it leaves: half of the voltage each, a quarter of what drop of 1 stands for.
 * Source: Ohm's law. Falls with drop; times the sun it rises with the sun.
 */
double solar_cable_share(double drop, double sun_w_per_m2);

/**
 * Voltage of greatest power of one string, 0.82 of its open-circuit one (from memory); open_v 0: panels of 36 cells for each
 * 12 V, 22 V.
 */
double solar_greatest_v(double charge_v, double open_v);

/** Cells in strong sun on a hot day, in C: a choice of this program. */
extern const double solar_hot_celsius;
/** The voltage of greatest power of cells that are no longer at 25 C; beta as of solar_cold_v. Falls with temperature. */
double solar_hot_v(double greatest_v, double beta_per_k, double celsius);

/**
 * Current into a bank in A.
 *
 * rated_w       of all panels together, at 1000 W/m2 and 25 C
 * sun_w_per_m2  on the flat, shade taken off
 * charge_v      voltage that the bank is charged at
 * open_v        open-circuit voltage of one string; for PWM. 0: panels of 36 cells for each 12 V, 22 V
 *
 * MPPT: power over the charging voltage. PWM: the panel's own current, which heat does not change: rated power over the
 * voltage of greatest power, 0.82 of the open-circuit one (from memory), with the losses of the way but the controller's.
 * Rises with rated power and sun; falls with the temperature of the air (MPPT).
 */
double solar_current_a(SolarController controller, double rated_w, double sun_w_per_m2, double air_celsius,
                       double charge_v, double open_v);

/**
 * Open-circuit voltage of panels in series when they are cold: series x open x (1 + beta (celsius - 25)); beta per K, zero or
 * less. Source: the formula of NEC 690.7 (verified). Falls with temperature.
 */
double solar_cold_v(double series, double open_v, double beta_per_k, double celsius);

/**
 * The current that an array's controller and cable must stand: 1.25 x short-circuit current of all strings; the sun may be
 * stronger than 1000 W/m2. Source: NEC 690.8 (verified).
 */
double solar_most_a(double strings, double short_a);

#endif
