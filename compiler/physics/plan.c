/* See plan.h. */
#include "physics/plan.h"

#include <math.h>

/* What a task that is under way waits for before it can end. */
static Interval ends_behind(const PlanTask *tasks, const PlanTask *task)
{
    Interval ends = interval_add(task->starts_s, task->takes_s);
    for (uint32_t a = 0; a < task->after_count && task->fixed && !task->done; a++) {
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
        task->ends_s = ends_behind(tasks, task);
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
