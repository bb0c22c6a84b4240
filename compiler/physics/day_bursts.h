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
/** What is offered in a step beyond what is drawn and what a bank takes that takes no more than that at any moment: a mean in A. */
double day_refused_a(const DayTable *table, int step, double accepts_a);

#endif
