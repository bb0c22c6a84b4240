/*
 * What the recipes of inlets, generators, inverters and panels of alternating current share: all that hangs on a
 * source. Private to power_mains.c, power_behind.c and power_load_calculation.c.
 */
#ifndef GARBOARD_FIGURES_POWER_MAINS_H
#define GARBOARD_FIGURES_POWER_MAINS_H

#include "figures/power.h"

/* Something that hangs on a source, by whatever way. */
typedef struct Behind {
    const Entity *entity;
    double share;   /* of its draw that counts at the source: each `together` on the way */
    bool on_outlet; /* plugged in, not built in */
    struct Behind *next;
} Behind;

/** Everything that hangs on a source, the nearest first; what turns mains into something else ends the way. */
const Behind *mains_behind(Power *power, const Entity *source);
/** A thing behind a source that draws by itself: its current, all of them; false for what only hands on. */
bool draws_mains(const Power *power, const Entity *entity, Interval *current);
/** What to switch off of a source so that the rest fits its rating, in words; NULL: nothing spares enough. */
const char *what_to_switch_off(Power *power, const Entity *source, double rating_a, double excess_a);
/** Records the load calculation of an inlet, where the spec says how large any living space is. */
void record_load_calculation(Power *power, const Entity *inlet);

#endif
