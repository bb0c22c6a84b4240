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
    const Driven *driven; /* where the power is a range, and so her speed goes with it by a formula; else NULL */
} Screwing;

/* What a screw has to have of blades, beside what it works with: by Burrill's chart, or else by Keller's formula. */
typedef struct Bladed {
    bool fast;
    Interval depth;
    bool depth_is_diameter;
    Interval k; /* Keller's */
} Bladed;

/* Bounds of everything else at full power, with the pitch that fits; the area only where it is asked for. */
typedef struct Thrusting {
    Interval advance, ratio, thrust, efficiency, area;
} Thrusting;

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

/** Gathers all of that with the diameter; what the work has used is forgotten. `driven` is room for what the speed hangs on. */
Screwing screwing_apart(Work *work, const Entity *propeller, const Entity *engine, Driven *driven);
/** What the speed hangs on, where the power is a range and nobody measured it; else NULL. What the work has used is forgotten. */
const Driven *driven_by_range(Work *work, const Entity *engine, Driven *driven);
/** The hull of all screws that fit somewhere in those ranges; false: none does. bladed: NULL, or which area is asked for. */
bool thrusting_of(const Screwing *s, const Bladed *bladed, Thrusting *all);
/** The area that one part of the ranges asks for (drive_blades.c). */
Interval area_asked(const Screwing *s, const Bladed *bladed, Interval pitch_ratio, Interval thrust);
/** Thrust and efficiency with the pitch that fits (drive_thrust.c). unbounded: nothing is known of what fits. */
void record_thrust(Work *work, const Entity *propeller, const Screwing *s, Interval ratio, bool unbounded);

#endif
