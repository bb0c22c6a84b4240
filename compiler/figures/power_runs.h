/*
 * What days and cruises of the banks share: what came of their runs, over both corners, and what a run rests on.
 * Private to power_days.c and power_cruises.c.
 */
#ifndef GARBOARD_FIGURES_POWER_RUNS_H
#define GARBOARD_FIGURES_POWER_RUNS_H

#include "figures/power_days.h"

#include <math.h>

/* The least and the most over the corners that were run. */
typedef struct Band {
    double low, high;
} Band;

static const Band no_band = {INFINITY, -INFINITY};

static inline void widen(Band *band, double value)
{
    band->low = fmin(band->low, value);
    band->high = fmax(band->high, value);
}

static inline Interval band_interval(Band band)
{
    return band.low <= band.high ? interval_corners(band.low, band.high) : point(0.0);
}

/* What came of a day or a cruise, over all corners. */
typedef struct Outcomes {
    Band lowest[DAY_BANKS], end[DAY_BANKS], balance[DAY_BANKS], endurance[DAY_BANKS];
    double lowest_at[CORNERS][DAY_BANKS]; /* in steps from the beginning */
    bool noted[CORNERS][DAY_BANKS];
    Band *refused;                        /* one a source, C */
    Band *spared;                         /* one a link, C: what its giver would gain if its converter gave surplus alone */
} Outcomes;

/** Nothing has come of any run yet. */
Outcomes *new_outcomes(Arena *arena, const Group *group);
/** The same again, for the next day of that group. */
void outcomes_forget(Outcomes *out, const Group *group);
/** Notes how low each bank fell, and when, in steps from the beginning. */
void note_lowest(Outcomes *out, const Group *group, int corner, const double lowest[], const double at[]);

/** By which formula what a run tells was found. */
extern const char run_formula[];
/** Records all that a run of bank b rests on besides its own day's use and charge; of a whole cruise day is NULL. */
void use_banks(Work *work, const Group *group, int b, const Entity *day);
/** When bank b was lowest, and what the cold did to it, in words. */
const char *when_lowest(Arena *arena, const Group *group, const Outcomes *out, int b, const char *cold);

/** The energy of a charge at a bank's voltage, in J. */
Interval energy_of(const Group *group, int b, Band charge_c);
/** Whether entry s is the first of its source: one that feeds several banks has several. */
bool is_first_of_source(const Group *group, int s);
/** What the source of that entry was refused by all banks that it feeds, in J. */
Interval refused_of(const Group *group, int s, const Outcomes *out);
/** What is left of an offer: never less than nothing, though both are ranges. */
Interval left_of(Interval offered, Interval refused);
/** What adding up in a hundred steps leaves of nothing is nothing. */
Interval without_dust(Interval part, double of);

/** Figures of a cruise of the group's banks and sources (power_cruises.c). */
void group_cruise(Power *power, Group *group, const Entity *cruise);

#endif
