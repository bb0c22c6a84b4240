/*
 * What the recipes of a propeller's pitch, thrust and load share: what it works with, and the pitch that takes the
 * power. Private to drive_propeller.c, drive_thrust.c and drive_blades.c.
 */
#ifndef GARBOARD_FIGURES_DRIVE_SCREW_H
#define GARBOARD_FIGURES_DRIVE_SCREW_H

#include "figures/drive.h"
#include "physics/propeller.h"

#define PERCENT UNIT_ALONE(UNIT_PERCENT)
#define RATIO UNIT_ALONE(UNIT_NONE)

/* What a propeller works with. */
typedef struct Screwing {
    Interval power, turns, boat_speed, wake, blades, area, density, diameter;
} Screwing;

/** A figure of a propeller itself. */
static inline const Figure *own(const Work *work, const Entity *propeller, FigureId id)
{
    return figure_find(work->figures, propeller, id, NULL);
}

/** Uses all but diameter and pitch, in the order of SCREWING, which tells them. */
Screwing use_screwing(Work *work, const Entity *propeller, const Entity *engine);
#define SCREWING                                                                                          \
    "{shaft-power} at {shaft-speed}, at {full-speed} less a wake of {wake}, by {number} blades of {area " \
    "ratio} "                                                                                             \
    "in {water}"
/** Whether all is there, and finite: for infinite ends no screw is looked for. */
bool is_usable(const Work *work, const Screwing *s);
/** Whether something has no bound, and any screw may be asked for. */
bool is_unbounded(const Work *work, const Screwing *s, Interval diameter);
bool is_definite(const Screwing *s);

/* One corner of what the pitch hangs on. */
typedef struct Corner {
    double power, turns, boat_speed, wake, density, diameter;
} Corner;

double advance_at(const Corner *c);
/** Pitch ratios that take the power, over all numbers of blades: 0 and infinity as screw_pitch_ratio has it. */
Interval pitch_ratios(const Screwing *s);

/** Thrust and efficiency with the pitch that fits (drive_thrust.c). unbounded: nothing is known of what fits. */
void record_thrust(Work *work, const Entity *propeller, const Screwing *s, Interval ratio, bool unbounded);

#endif
