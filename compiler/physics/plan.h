/*
 * The critical path: tasks with durations, each after others, and the days that follow from that.
 *
 * The forward pass finds the earliest days, the backward pass the latest that leave the end where it is; their difference
 * is the float of a task. Method of the critical path: J. E. Kelley and M. R. Walker, "Critical-Path Planning and
 * Scheduling", 1959 (from memory); worked examples with printed dates are in the tests.
 *
 * Times are seconds, moments seconds since an epoch of the caller's. Every earliest moment rises with every duration and
 * every moment that things are there, so both corners bound it. A float does not: it, and the latest moments, are those
 * of the late corner, in which everything takes as long and comes as late as it still may.
 */
#ifndef GARBOARD_PHYSICS_PLAN_H
#define GARBOARD_PHYSICS_PLAN_H

#include "base/interval.h"

#include <math.h>
#include <stdint.h>

typedef struct PlanTask {
    Interval takes_s;      /* zero or more */
    Interval from_s;       /* it cannot begin before: what it needs is there then */
    bool fixed;            /* it begins at from_s, whatever stands before it: done, or under way */
    bool done;             /* nothing of it is left, and nothing waits for it */
    double left_s;         /* under way: so much of it may be left when what it waits for is there or has ended */
    bool waits;            /* under way, and something that it needs is not there yet, but ... */
    Interval there_s;      /* ... then */
    const uint32_t *after; /* the tasks that must have ended: numbers less than its own */
    uint32_t after_count;
    /* Found by the passes: */
    Interval starts_s, ends_s;         /* at the earliest */
    double starts_last_s, ends_last_s; /* at the latest, in the late corner */
    Interval tail_s;                   /* from when what it needs is there to the end of all, if nothing else is waited for */
    /* Of plan_delay: */
    Interval held_s;    /* given: when what is late of what it needs comes; plan_not_held: nothing of it is */
    Interval through_s; /* found: when it ends by what is late alone; plan_not_held: it does not wait for that */
    Interval delay_s;   /* found: how much later it ends for that */
} PlanTask;

/** A task is under way while what stands before it is not done, or something it needs is not there: it ends with that at
 *  the earliest, and left_s later at the latest, for how far it can come without is not known. One that should have ended
 *  before begin_s, and has not, ends then at the earliest, and left_s later at the latest (a choice: nobody knows).
 *  Fills starts_s and ends_s of tasks in an order in which what comes before stands before. Returns when all have ended
 *  (of no task: the moment `begin_s`). */
Interval plan_forward(PlanTask *tasks, uint32_t count, double begin_s);

/** Fills tail_s, from durations alone: the longest way from the start of a task to the end of all. Of one under way all of
 *  left_s may be to do when its things come, or nothing. A tail rises with every duration, so both corners bound it. */
void plan_tails(PlanTask *tasks, uint32_t count);

static const Interval plan_not_held = {-INFINITY, -INFINITY};

/**
 * By how much later all ends because some things come at held_s, which the tasks took to be there: plan_forward, without them,
 * comes first. Fills delay_s. The difference of two ends rises with one duration and falls with another, so no corner has
 * either end of it; these are bounds of it for every case, and exact where no two ways to the end share a duration:
 *
 * - a task starts later by no more than the most that anything before it ends later, and by no more than a way through what is
 *   late comes at the latest after the earliest start without;
 * - whatever it would start behind without them, it starts later by at least as much as that itself ends later, and as what
 *   comes through at the earliest lies behind it.
 */
Interval plan_delay(PlanTask *tasks, uint32_t count, double begin_s);

/** Fills starts_last_s and ends_last_s so that everything ends by end_s; plan_forward comes first. */
void plan_backward(PlanTask *tasks, uint32_t count, double end_s);

/** How much later than at the earliest a task may begin, in the late corner. */
static inline double plan_float_s(const PlanTask *task)
{
    return task->starts_last_s - task->starts_s.high;
}

#endif
