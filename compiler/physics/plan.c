/* See plan.h. */
#include "physics/plan.h"

#include <math.h>

Interval plan_forward(PlanTask *tasks, uint32_t count, double begin_s)
{
    Interval end = point(begin_s);
    for (uint32_t i = 0; i < count; i++) {
        PlanTask *task = &tasks[i];
        task->starts_s = task->from_s;
        for (uint32_t a = 0; a < task->after_count && !task->fixed; a++) {
            task->starts_s = interval_max(task->starts_s, tasks[task->after[a]].ends_s);
        }
        task->ends_s = interval_add(task->starts_s, task->takes_s);
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
        for (uint32_t a = 0; a < task->after_count && !task->fixed; a++) {
            PlanTask *before = &tasks[task->after[a]];
            before->ends_last_s = fmin(before->ends_last_s, task->starts_last_s);
        }
    }
}
