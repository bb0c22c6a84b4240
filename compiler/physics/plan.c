/* See plan.h. */
#include "physics/plan.h"

#include <math.h>

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
