/*
 * The jobs of a spec in an order in which they can be done: each behind those that it comes after.
 *
 * Knows `after` of jobs, and tells a circle of them: nobody can begin it. Knows no durations and no days.
 */
#ifndef GARBOARD_MODEL_JOBS_H
#define GARBOARD_MODEL_JOBS_H

#include "model/model.h"

/** Fills Model.jobs. Jobs of a circle, and what comes after them, are left out. A circle is told once. */
void jobs_order(Model *model);

/** The next job that this one comes after, from list place *at on; NULL at the end. Broken names are passed over. */
const Entity *job_next_before(const Entity *job, uint16_t *at);
/** The next thing that the job needs, in the same way. */
const Entity *job_next_needed(const Entity *job, uint16_t *at);

/** Of `takes`: hours of work, which are not hours on end: nobody wires a boat round the clock. Else days of the calendar. */
bool job_takes_hours(const Value *takes);

/** The day by which a goal asks all to be ready; of kind VALUE_NONE where it asks for none, or says that it was met. */
static inline const Value *goal_day_asked(const Entity *goal)
{
    const Property *ready = entity_property(goal, PROP_GOAL_READY);
    return property_value(ready, 1)->kind == VALUE_NONE ? property_value(ready, 0) : &value_none;
}

#endif
