/*
 * What the recipes of sources share: what each kind offers in a day, and what it gives at its best
 * (power_makers.c joins them). Private to compiler/figures/.
 */
#ifndef GARBOARD_FIGURES_POWER_MAKERS_H
#define GARBOARD_FIGURES_POWER_MAKERS_H

#include "figures/power_days.h"
#include "physics/charging.h"

#include <math.h>

/** More than anything aboard gives or turns stands for what has no bound: A, W or revolutions a minute. */
static inline double finite(double value)
{
    return fmin(value, 1e9);
}

/**
 * Adds what an alternator offers on a day to a maker's, in A (power_alternator.c). True: its engine turned less of it than it
 * would give.
 */
bool alternator_hours(Work *work, const Entity *alternator, const Entity *day, Maker *maker);
/** Whether the engine that drives an alternator stands by, and no day names it: on none does that run (figures_drive.c). */
bool is_of_one_standing_by(const Model *model, const Entity *alternator);
/** Whether the engine that drives an alternator is of those that run on a day, if any does (figures_drive.c). */
bool is_turned_on(const Model *model, const Entity *alternator, const Entity *day);
/** The same of one that wind or water drives: what it says of that day. */
void given_hours(Work *work, const Entity *alternator, const Entity *day, Hours *amps);
/** Records FIGURE_OUTPUT of an alternator, in A: hot; of one in the wind as its plate says. */
const Figure *alternator_output_of(Power *power, const Entity *alternator);

/** Its controller: one that seeks the greatest power, unless the array says otherwise (power_array.c). */
SolarController controller_of(const Entity *array);
/** Sets amps to what an array offers on a day, in A at the voltage that its bank is charged at. True: the sun does not rise. */
bool array_hours(Power *power, const Entity *array, const Entity *bank, const Entity *day, Hours *amps);
/** Voltage of greatest power of a string, at 25 C; false: its panels do not state their open-circuit one. */
bool use_greatest_voltage(Work *work, const Entity *array, Interval *volts);
/** The share of their power that the cable from an array's panels takes in full sun; false: it, or their voltage, is not stated. */
bool use_panel_drop(Power *power, const Entity *array, Interval *share);
/** Records what the cable from an array's panels carries and loses, and what its strings drive back (power_panels.c). */
void record_panel_cable(Power *power, const Entity *array);
/** Records FIGURE_OUTPUT of an array, in A. */
const Figure *array_output_of(Power *power, const Entity *array, const Entity *bank);
/** Records what a string gives at its greatest power, at 25 C and hot, and what its bank is charged at, in V. */
void record_array_volts(Power *power, const Entity *array, const Entity *bank);

/**
 * Sets a maker's to what a charger offers on a day by the supply that leaves it the most, in A; true: it shares that with other
 * chargers (power_charger.c).
 */
bool charger_hours(Power *power, const Feed *feed, const Entity *day, Maker *maker);

#endif
