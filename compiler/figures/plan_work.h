/*
 * What the recipes of the work plan share: the plan as it is made, in figures_plan.c, and what is found by going through it
 * from its end, in plan_orders.c.
 */
#ifndef GARBOARD_FIGURES_PLAN_WORK_H
#define GARBOARD_FIGURES_PLAN_WORK_H

#include "figures/boat.h"
#include "model/jobs.h"
#include "model/status.h"
#include "physics/plan.h"

/* When a thing is taken to come. */
typedef enum Tried { TRIED_AS_IT_IS, TRIED_HERE } Tried;

typedef struct Planner {
    Work *work;
    const Model *model;
    double today_s;
    PlanTask *tasks;   /* beside Model.jobs */
    uint32_t *task_of; /* by Entity.index: 1 + the place in tasks */
    uint8_t *tried;    /* by Entity.index: Tried */
    Interval ready_s;
    uint32_t without_lead; /* things whose lead time is assumed */
} Planner;

/* What takes so long to come where nothing says how long: common practice, no source. */
static const double plan_assumed_lead_s = 14.0 * SECONDS_A_DAY;

static inline double plan_moment(Date day)
{
    return (double)day * SECONDS_A_DAY;
}

static inline const Figure *plan_find(const Planner *plan, const Entity *subject, FigureId id)
{
    return figure_find(plan->work->figures, subject, id, NULL);
}

static inline bool plan_is_done(const Entity *job)
{
    return entity_states(job, PROP_JOB_DONE);
}

/** Writes what stands before the name of a thing or job, the name, and what stands behind it: `, {engine.arrival}`. */
static inline void plan_add_label(const Planner *plan, Buf *formula, const char *before, const Entity *named, const char *behind)
{
    buf_text(formula, before);
    buf_add(formula, entity_name(plan->model, named));
    buf_text(formula, behind);
}

/** What a job takes, as an input: days as stated, or what its hours of work come to. */
Quantity plan_use_takes(const Planner *plan, const Entity *job);
void plan_use_today(Planner *plan);
/** How long the thing takes to come; two weeks where nothing says it. */
Interval plan_use_lead(Planner *plan, const Entity *thing);
/** The tasks anew, for what is tried. */
void plan_fill_tasks(const Planner *plan);

/** latest-start and float of jobs. */
void plan_record_latest(Planner *plan);
/** to-the-end of jobs; needed-by, order-by and holds-up of things that they wait for. */
void plan_record_orders(Planner *plan);

#endif
