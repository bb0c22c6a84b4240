/*
 * Figures of service: when the first thing that has to be done to something is due, by the calendar and by the engine's
 * hours. A line of which nothing says from when on it counts has no figure.
 */
#include "figures/maintenance.h"

#include "figures/figure.h"

static void use_since(Work *work, const Maintenance *service)
{
    if (service->by_hours) {
        use_statement(work, service->thing, service->line, 3);
        return;
    }
    use_fact(work, service->done ? "last done" : "fitted", point((double)service->since * SECONDS_A_DAY),
             UNIT_ALONE(UNIT_DATE), "the spec");
}

/* The earliest of the lines of one thing that count one way, from `first` on. */
static void record_first(Work *work, const Maintenance *first, bool by_hours)
{
    Interval due = {0.0, 0.0};
    const Maintenance *soonest = NULL;
    work_begin(work);
    for (const Maintenance *m = first; m != NULL && m->thing == first->thing; m = m->next) {
        if (m->by_hours == by_hours && m->counted) {
            use_since(work, m);
            use_statement(work, m->thing, m->line, 0);
            due = soonest == NULL ? m->due_s : interval_min(due, m->due_s);
            soonest = soonest == NULL || m->due_s.low < soonest->due_s.low ? m : soonest;
        }
    }
    if (soonest == NULL) {
        return;
    }
    Figure *figure = work_record(work, by_hours ? FIGURE_SERVICE_AT : FIGURE_SERVICE_DUE, first->thing, NULL,
                                 due, "the earliest of when it was last done and how often");
    figure->remark = text_format(work->figures->arena, "%.*s", STR_ARG(maintenance_what(soonest)));
}

void figures_service(Work *work)
{
    const Maintenance *list = maintenance_list(work->figures->arena, work->model);
    for (const Maintenance *m = list, *before = NULL; m != NULL; before = m, m = m->next) {
        if (before == NULL || before->thing != m->thing) {
            record_first(work, m, false);
            record_first(work, m, true);
        }
    }
}
