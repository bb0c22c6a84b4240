/* What of a step of days.h is not one current from its beginning to its end. */
#ifndef GARBOARD_PHYSICS_DAY_BURSTS_H
#define GARBOARD_PHYSICS_DAY_BURSTS_H

#include "physics/days.h"

/** The next step from that one on within which something begins or ends; DAY_STEPS: there is none. */
int day_burst_step(const DayTable *table, int step);
/** Whether what begins or ends within that step is the same in both. */
bool day_same_bursts(const DayTable *one, const DayTable *other, int step);
/**
 * What Peukert's law counts beyond the coulombs in a step, as a mean in A, with so much more drawn all the time than net_a
 * tells. Rises with all that is drawn at any moment, falls with what is offered.
 */
double day_beyond_a(const DayTable *table, const BatteryModel *model, double of_coulomb, int step, double more_a);
/* A walk through one step: parts of it in which one current is drawn. */
typedef struct DayWalk {
    const DayBurst *next, *end;
    int step;
    double drawn_a, passed; /* of the part that comes next; so much of the step lies before it */
} DayWalk;

/** From the beginning of a step, with so much more drawn all the time than net_a tells. */
DayWalk day_walk(const DayTable *table, int step, double more_a);
/** The length of the next part, as a share of the step, with what is drawn in it (negative: offered); until `passed` is 1. */
double day_walk_part(DayWalk *walk, double *drawn_a);

#endif
