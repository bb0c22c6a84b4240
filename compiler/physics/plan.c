/* See plan.h. */
#include "physics/plan.h"

#include <math.h>
#include <stddef.h>

/* When a task that is under way ends: what it waits for comes first, and it is not done yet at begin_s. */
static Interval ends_under_way(const PlanTask *tasks, const PlanTask *task, double begin_s)
{
    Interval ends = interval_add(task->starts_s, task->takes_s);
    double over_s = ends.high >= begin_s ? ends.high : begin_s + task->left_s;
    ends = interval(fmax(ends.low, begin_s), over_s);
    if (task->waits) {
        ends = interval_max(ends, interval(task->there_s.low, task->there_s.high + task->left_s));
    }
    for (uint32_t a = 0; a < task->after_count; a++) {
        const PlanTask *before = &tasks[task->after[a]];
        if (!before->done) {
            ends = interval_max(ends, interval(before->ends_s.low, before->ends_s.high + task->left_s));
        }
    }
    return ends;
}

Interval plan_forward(PlanTask *tasks, uint32_t count, double begin_s)
{
    Interval end = point(begin_s);
    for (uint32_t i = 0; i < count; i++) {
        PlanTask *task = &tasks[i];
        task->starts_s = task->from_s;
        for (uint32_t a = 0; a < task->after_count && !task->fixed; a++) {
            task->starts_s = interval_max(task->starts_s, tasks[task->after[a]].ends_s);
        }
        task->ends_s = task->fixed && !task->done ? ends_under_way(tasks, task, begin_s)
                                                  : interval_add(task->starts_s, task->takes_s);
        end = interval_max(end, task->ends_s);
    }
    return end;
}

void plan_backward(PlanTask *tasks, uint32_t count, double end_s)
{
    for (uint32_t i = 0; i < count; i++) {
        tasks[i].ends_last_s = end_s;
    }
    for (uint32_t i = count; i-- > 0;) {
        PlanTask *task = &tasks[i];
        task->starts_last_s = task->ends_last_s - task->takes_s.high;
        double behind_s = task->fixed ? task->ends_last_s - task->left_s : task->starts_last_s;
        for (uint32_t a = 0; a < task->after_count && !task->done; a++) {
            PlanTask *before = &tasks[task->after[a]];
            before->ends_last_s = fmin(before->ends_last_s, behind_s);
        }
    }
}

void plan_tails(PlanTask *tasks, uint32_t count)
{
    for (uint32_t i = 0; i < count; i++) {
        tasks[i].tail_s = point(0.0);
    }
    /* Till its turn comes a task's tail is what comes after it. */
    for (uint32_t i = count; i-- > 0;) {
        PlanTask *task = &tasks[i];
        bool under_way = task->fixed && !task->done;
        task->tail_s = interval_add(task->tail_s, under_way ? interval(0.0, task->left_s) : task->takes_s);
        for (uint32_t a = 0; a < task->after_count && !task->done; a++) {
            PlanTask *before = &tasks[task->after[a]];
            before->tail_s = interval_max(before->tail_s, task->tail_s);
        }
    }
}

/* What a task begins behind: when it ends without what is late, how much later with that, and when by that alone. */
typedef struct Before {
    Interval ends_s, delay_s, through_s;
} Before;

/* The k-th: first what the task needs itself, then the tasks that it comes after; where it names none, all there are. */
static Before before_of(const PlanTask *tasks, const PlanTask *task, uint32_t k)
{
    if (k == 0) {
        Interval from = task->from_s, held = task->held_s;
        return (Before){from, interval(fmax(0.0, held.low - from.high), fmax(0.0, held.high - from.low)), held};
    }
    const PlanTask *before = &tasks[task->after != NULL ? task->after[k - 1] : k - 1];
    return (Before){before->ends_s, before->delay_s, before->through_s};
}

/* How much later it starts, or, under way, ends; and through_s up to there. */
static void find_delay(const PlanTask *tasks, PlanTask *task)
{
    Interval at = task->fixed ? task->ends_s : task->starts_s;
    double left_s = task->fixed ? task->left_s : 0.0;
    double most_s = 0.0, first_s = -INFINITY; /* with what is late, no sooner than first_s */
    task->through_s = plan_not_held;
    for (uint32_t k = 0; k <= task->after_count; k++) {
        Before before = before_of(tasks, task, k);
        if (before.through_s.high > -INFINITY) {
            double later_s = before.through_s.high + left_s - at.low;
            most_s = fmax(most_s, fmin(before.delay_s.high, later_s));
            first_s = fmax(first_s, before.through_s.low);
            task->through_s = interval_max(task->through_s, before.through_s);
        }
        first_s = fmax(first_s, before.ends_s.low + before.delay_s.low);
    }
    double least_s = task->fixed ? fmax(0.0, first_s - at.high) : INFINITY;
    for (uint32_t k = 0; k <= task->after_count && !task->fixed; k++) {
        Before before = before_of(tasks, task, k);
        least_s = fmin(least_s, fmax(before.delay_s.low, first_s - before.ends_s.high));
    }
    task->delay_s = interval(fmin(least_s, most_s), most_s);
}

Interval plan_delay(PlanTask *tasks, uint32_t count, double begin_s)
{
    PlanTask all = {.from_s = point(begin_s), .starts_s = point(begin_s), .held_s = plan_not_held, .after_count = count};
    for (uint32_t i = 0; i < count; i++) {
        PlanTask *task = &tasks[i];
        task->through_s = plan_not_held;
        task->delay_s = point(0.0);
        if (!task->done) {
            find_delay(tasks, task);
        }
        if (task->through_s.high > -INFINITY) {
            task->through_s = interval_add(task->through_s, task->fixed ? interval(0.0, task->left_s) : task->takes_s);
        }
        all.starts_s = interval_max(all.starts_s, task->ends_s);
    }
    find_delay(tasks, &all);
    return all.delay_s;
}
