/*
 * Figures of the work plan: when what a job needs can be here, when each job can begin and has to, when all is ready.
 *
 * Today is a moment like any other here: nothing that is not done can be done yesterday. A thing that is neither here nor
 * promised is expected after its lead time; where none is stated anywhere one is assumed, and said.
 */
#include "figures/plan_work.h"

#include "model/jobs.h"

#include <math.h>

/* Arrivals */

void plan_use_today(Planner *plan)
{
    use_fact(plan->work, "today", point(plan->today_s), UNIT_ALONE(UNIT_DATE), "the day that is judged by");
}

Interval plan_use_lead(Planner *plan, const Entity *thing)
{
    Quantity lead = boat_lead_of(plan->work, thing);
    if (lead.state == STATE_MISSING) {
        plan->without_lead++;
        lead = use_fact(plan->work, "lead time where none is stated", point(plan_assumed_lead_s),
                        UNIT_ALONE(UNIT_WEEK), "common practice, no source");
    }
    return lead.value;
}

/* A day that somebody has named: still to come, or passed, and then it may be any day within the lead time from now. */
static Interval expected(Planner *plan, const Entity *thing, const char *what, double day_s,
                         const char **formula)
{
    Interval day = use_fact(plan->work, what, point(day_s), UNIT_ALONE(UNIT_DATE), "the spec").value;
    if (day_s >= plan->today_s) {
        *formula = "{day}";
        return day;
    }
    plan_use_today(plan);
    Interval lead = plan_use_lead(plan, thing);
    *formula = "{day} has passed: from {today} to {today} + {lead}";
    return interval(plan->today_s, plan->today_s + lead.high);
}

static Interval arrival_of(Planner *plan, const Entity *thing, const Purchase *purchase, const char **formula)
{
    bool under_way = purchase_is_under_way(purchase) || purchase_may_go_on(purchase);
    if (under_way && purchase->last_promise != NULL) {
        return expected(plan, thing, "promised", plan_moment(property_date(purchase->last_promise)), formula);
    }
    if (under_way && purchase->ordered != NULL) {
        double ordered_s = plan_moment(property_date(purchase->ordered));
        use_fact(plan->work, "ordered", point(ordered_s), UNIT_ALONE(UNIT_DATE), "the spec");
        Interval lead = plan_use_lead(plan, thing);
        Interval day = interval_add(point(ordered_s), lead);
        *formula = day.low >= plan->today_s ? "{ordered} + {lead}" : "{ordered} + {lead}, and from today on";
        double last_s = day.high >= plan->today_s ? day.high : plan->today_s + lead.high;
        return interval(fmax(day.low, plan->today_s), last_s);
    }
    plan_use_today(plan);
    Interval lead = plan_use_lead(plan, thing);
    *formula = "{today} + {lead}";
    return under_way ? interval(plan->today_s, plan->today_s + lead.high)
                     : interval_add(point(plan->today_s), lead);
}

static bool is_awaited(const Entity *thing, const Purchase *purchase)
{
    bool here = purchase->status == STATUS_HERE || purchase->status == STATUS_FITTED;
    return is_bought(thing) && (!here || purchase_may_go_on(purchase)) && !(thing->flags & ENTITY_DROPPED);
}

static void record_arrival(Planner *plan, const Entity *thing)
{
    Purchase purchase = purchase_of(thing);
    if (!is_awaited(thing, &purchase) || plan_find(plan, thing, FIGURE_ARRIVAL) != NULL) {
        return;
    }
    work_begin(plan->work);
    if (purchase.status == STATUS_WAITING || purchase.unread) {
        use_waiting(plan->work);
    }
    const char *formula = NULL;
    Interval day = arrival_of(plan, thing, &purchase, &formula);
    if (purchase_may_go_on(&purchase)) {
        day = interval_hull(day, point(plan->today_s));
        formula = text_format(plan->work->figures->arena, "here already, if no more are wanted; else %s", formula);
    }
    work_record(plan->work, FIGURE_ARRIVAL, thing, NULL, day, formula);
}

/* Tasks */

/* What of the things that the job needs is not here: the latest day on which one of it comes. False: all is, or is taken to be. */
static bool still_to_come(const Planner *plan, const Entity *job, Interval *there)
{
    bool any = false;
    uint16_t at = 0;
    for (const Entity *thing = job_next_needed(job, &at); thing != NULL; thing = job_next_needed(job, &at)) {
        Tried tried = (Tried)plan->tried[thing->index];
        const Figure *arrival = tried == TRIED_HERE ? NULL : plan_find(plan, thing, FIGURE_ARRIVAL);
        if (arrival != NULL && arrival->state == STATE_KNOWN) {
            Interval day = interval(arrival->low, arrival->high);
            *there = any ? interval_max(*there, day) : day;
            any = true;
        }
    }
    return any;
}

static double date_of_line(const Entity *job, PropId prop, double otherwise)
{
    const Property *line = entity_property(job, prop);
    const Value *value = property_value(line, 0);
    return line != NULL && !(line->flags & PROPERTY_BROKEN) && value->kind == VALUE_DATE
               ? plan_moment(value->u.date)
               : otherwise;
}

static void record_work_days(Planner *plan, const Entity *job)
{
    if (!job_takes_hours(property_value(entity_property(job, PROP_JOB_TAKES), 0))) {
        return;
    }
    work_begin(plan->work);
    Interval hours_s = use_value(plan->work, job, PROP_JOB_TAKES, 0).value;
    Interval daily_s = use_value(plan->work, job, PROP_JOB_DAILY, 0).value;
    Interval days = interval_divide(hours_s, daily_s);
    work_record(plan->work, FIGURE_WORK_DAYS, job, NULL, interval_multiply(days, point(SECONDS_A_DAY)), "{takes} / {daily} a day");
}

Quantity plan_use_takes(const Planner *plan, const Entity *job)
{
    const Figure *days = plan_find(plan, job, FIGURE_WORK_DAYS);
    return days != NULL ? use_figure(plan->work, days) : use_value(plan->work, job, PROP_JOB_TAKES, 0);
}

static Interval takes_of(const Planner *plan, const Entity *job)
{
    const Value *value = property_value(entity_property(job, PROP_JOB_TAKES), 0);
    if (job_takes_hours(value)) {
        const Figure *days = plan_find(plan, job, FIGURE_WORK_DAYS);
        return days != NULL && days->state == STATE_KNOWN ? interval(fmax(days->low, 0.0), days->high) : point(0.0);
    }
    bool known = value->kind == VALUE_QUANTITY && !(value->flags & VALUE_BROKEN);
    return known ? interval(fmax(value->u.quantity.low, 0.0), value->u.quantity.high) : point(0.0);
}

/* What a job is to the plan. Done: nothing waits for it. Begun: it goes on till all it needs has come, and may then be all to do. */
static void fill_task(const Planner *plan, const Entity *job)
{
    PlanTask *task = &plan->tasks[plan->task_of[job->index] - 1];
    Interval there = point(plan->today_s);
    bool waits = still_to_come(plan, job, &there);
    task->takes_s = takes_of(plan, job);
    task->from_s = interval_max(there, point(plan->today_s));
    task->fixed = task->waits = false;
    task->done = plan_is_done(job);
    task->left_s = task->takes_s.high;
    if (task->done) {
        task->fixed = true;
        task->from_s = point(fmin(date_of_line(job, PROP_JOB_DONE, plan->today_s), plan->today_s));
        task->takes_s = point(0.0);
    } else if (entity_states(job, PROP_JOB_STARTED)) {
        task->fixed = true;
        task->from_s = point(date_of_line(job, PROP_JOB_STARTED, plan->today_s));
        task->waits = waits;
        task->there_s = there;
    }
}

void plan_fill_tasks(const Planner *plan)
{
    for (uint32_t i = 0; i < plan->model->job_count; i++) {
        fill_task(plan, plan->model->jobs[i]);
    }
}

static void make_tasks(Planner *plan)
{
    const Model *model = plan->model;
    Arena *arena = plan->work->scratch;
    plan->tasks = ARENA_ARRAY(arena, PlanTask, model->job_count);
    plan->task_of = ARENA_ARRAY(arena, uint32_t, model->entity_count);
    plan->tried = ARENA_ARRAY(arena, uint8_t, model->entity_count);
    for (uint32_t i = 0; i < model->job_count; i++) {
        plan->task_of[model->jobs[i]->index] = i + 1;
    }
    for (uint32_t i = 0; i < model->job_count; i++) {
        const Entity *job = model->jobs[i];
        const Property *line = entity_property(job, PROP_JOB_AFTER);
        uint32_t *after = ARENA_ARRAY(arena, uint32_t, line != NULL ? line->count : 0u);
        uint16_t at = 0;
        for (const Entity *before = job_next_before(job, &at); before != NULL;
             before = job_next_before(job, &at)) {
            after[plan->tasks[i].after_count++] = plan->task_of[before->index] - 1;
        }
        plan->tasks[i].after = after;
    }
    plan_fill_tasks(plan);
}

/* Forward */

/* What stood in a line with a mistake is not known: it may be a thing to come, a job, a day. */
static void wait_if_mistaken(Planner *plan, const Entity *job, PropId prop)
{
    const Property *line = entity_property(job, prop);
    if (line != NULL) {
        use_if_mistaken(plan->work, line);
    }
}

static void use_all_there(Planner *plan, const Entity *job, Buf *formula)
{
    uint16_t at = 0;
    wait_if_mistaken(plan, job, PROP_JOB_NEEDS);
    for (const Entity *thing = job_next_needed(job, &at); thing != NULL; thing = job_next_needed(job, &at)) {
        const Figure *arrival = plan_find(plan, thing, FIGURE_ARRIVAL);
        if (arrival != NULL) {
            use_figure(plan->work, arrival);
            plan_add_label(plan, formula, ", {", thing, ".arrival}");
        }
    }
}

static void use_jobs_before(Planner *plan, const Entity *job, Buf *formula)
{
    wait_if_mistaken(plan, job, PROP_JOB_AFTER);
    uint16_t at = 0;
    for (const Entity *before = job_next_before(job, &at); before != NULL;
         before = job_next_before(job, &at)) {
        if (!plan_is_done(before)) {
            use_figure(plan->work, plan_find(plan, before, FIGURE_EARLIEST_FINISH));
            plan_add_label(plan, formula, ", {", before, ".earliest-finish}");
        }
    }
}

/* Whether a job that comes before it is not done. */
static bool waits_for_job(const Entity *job)
{
    uint16_t at = 0;
    const Entity *before = job_next_before(job, &at);
    while (before != NULL && plan_is_done(before)) {
        before = job_next_before(job, &at);
    }
    return before != NULL;
}

static void record_start(Planner *plan, const Entity *job, const PlanTask *task)
{
    Buf formula;
    buf_init(&formula, plan->work->figures->arena);
    work_begin(plan->work);
    wait_if_mistaken(plan, job, PROP_JOB_STARTED);
    wait_if_mistaken(plan, job, PROP_JOB_DONE);
    if (task->fixed) {
        use_fact(plan->work, "begun", task->from_s, UNIT_ALONE(UNIT_DATE), "the spec");
        buf_text(&formula, "{begun}");
    } else {
        plan_use_today(plan);
        buf_text(&formula, "the latest of {today}");
        use_jobs_before(plan, job, &formula);
        use_all_there(plan, job, &formula);
    }
    work_record(plan->work, FIGURE_EARLIEST_START, job, NULL, task->starts_s, formula.text);
}

static void record_finish(Planner *plan, const Entity *job, const PlanTask *task)
{
    Buf formula;
    buf_init(&formula, plan->work->figures->arena);
    work_begin(plan->work);
    use_figure(plan->work, plan_find(plan, job, FIGURE_EARLIEST_START));
    plan_use_takes(plan, job);
    buf_text(&formula, "{start} + {takes}");
    if (task->fixed) {
        plan_use_today(plan);
        buf_text(&formula, ", not before {today}");
        use_all_there(plan, job, &formula);
        use_jobs_before(plan, job, &formula);
        bool over = task->starts_s.high + task->takes_s.high < plan->today_s;
        buf_text(&formula, task->waits || waits_for_job(job) ? "; at the latest as long as it takes behind what it waits for"
                           : over                            ? "; over its time: at the latest as long again"
                                                             : "");
    }
    work_record(plan->work, FIGURE_EARLIEST_FINISH, job, NULL, task->ends_s, formula.text);
}

static void record_ready(Planner *plan)
{
    const Model *model = plan->model;
    Buf formula;
    buf_init(&formula, plan->work->figures->arena);
    work_begin(plan->work);
    uint32_t left = 0;
    for (uint32_t i = 0; i < model->job_count; i++) {
        wait_if_mistaken(plan, model->jobs[i], PROP_JOB_DONE);
        if (!plan_is_done(model->jobs[i])) {
            use_figure(plan->work, plan_find(plan, model->jobs[i], FIGURE_EARLIEST_FINISH));
            plan_add_label(plan, &formula, left++ == 0 ? "the latest of {" : ", {", model->jobs[i], ".earliest-finish}");
        }
    }
    if (left == 0) {
        use_fact(plan->work, "the last job was done", plan->ready_s, UNIT_ALONE(UNIT_DATE), "the spec");
        buf_text(&formula, "{done}");
    }
    for (const Entity *job = model->first_of_kind[KIND_JOB]; job != NULL; job = job->next_of_kind) {
        if (plan->task_of[job->index] == 0) {
            use_waiting(plan->work); /* in a circle, or behind one: told already */
        }
    }
    Figure *ready = work_record(plan->work, FIGURE_READY, model->boat, NULL, plan->ready_s, formula.text);
    if (plan->without_lead > 0) {
        ready->remark = text_format(plan->work->figures->arena, "of %u %s that jobs wait for no lead time is known: two weeks are taken",
                                    (unsigned)plan->without_lead, plan->without_lead == 1 ? "thing" : "things");
    }
}

/* When all is ready: of what is left to do by the forward pass; where all is done, when the last of it was. */
static Interval find_ready(Planner *plan)
{
    Interval ready_s = plan_forward(plan->tasks, plan->model->job_count, plan->today_s);
    double last_s = -INFINITY;
    for (uint32_t i = 0; i < plan->model->job_count; i++) {
        if (!plan->tasks[i].done) {
            return ready_s;
        }
        last_s = fmax(last_s, plan->tasks[i].ends_s.high);
    }
    return point(last_s);
}

void figures_plan(Work *work)
{
    const Model *model = work->model;
    if (model->job_count == 0 || model->boat == NULL) {
        return;
    }
    Planner plan = {.work = work, .model = model, .today_s = plan_moment(work->figures->today)};
    for (uint32_t i = 0; i < model->job_count; i++) {
        uint16_t at = 0;
        const Entity *job = model->jobs[i];
        for (const Entity *thing = job_next_needed(job, &at); thing != NULL && !plan_is_done(job);
             thing = job_next_needed(job, &at)) {
            record_arrival(&plan, thing);
        }
        if (!plan_is_done(job)) {
            record_work_days(&plan, job);
        }
    }
    make_tasks(&plan);
    plan.ready_s = find_ready(&plan);
    for (uint32_t i = 0; i < model->job_count; i++) {
        if (!plan_is_done(model->jobs[i])) {
            record_start(&plan, model->jobs[i], &plan.tasks[i]);
            record_finish(&plan, model->jobs[i], &plan.tasks[i]);
        }
    }
    record_ready(&plan);
    plan_record_latest(&plan);
    plan_record_orders(&plan);
}
