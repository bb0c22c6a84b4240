/*
 * Figures of the work plan: when what a job needs can be here, when each job can begin and has to, when all is ready.
 *
 * Today is a moment like any other here: nothing that is not done can be done yesterday. A thing that is neither here nor
 * promised is expected after its lead time; where none is stated anywhere one is assumed, and said.
 */
#include "figures/boat.h"

#include "model/jobs.h"
#include "model/status.h"
#include "physics/plan.h"

#include <math.h>
#include <string.h>

/* Both common practice, no source. */
static const double assumed_lead_s = 14.0 * SECONDS_A_DAY;
static const double in_hand_s = 7.0 * SECONDS_A_DAY;

/* How many things are looked at that may hold up the end: a critical path begins with one, ties aside. */
enum { HOLDING_MOST = 16 };

typedef struct Planner {
    Work *work;
    const Model *model;
    double today_s;
    PlanTask *tasks;   /* beside Model.jobs */
    uint32_t *task_of; /* by Entity.index: 1 + the place in tasks */
    Interval ready_s;
    uint32_t without_lead; /* things whose lead time is assumed */
} Planner;

static double moment(Date day)
{
    return (double)day * SECONDS_A_DAY;
}

static const Figure *find(const Planner *plan, const Entity *subject, FigureId id)
{
    return figure_find(plan->work->figures, subject, id, NULL);
}

static bool is_done(const Entity *job)
{
    return entity_states(job, PROP_JOB_DONE);
}

static const Entity *needed(const Entity *job, uint16_t *at)
{
    const Property *needs = entity_property(job, PROP_JOB_NEEDS);
    while (needs != NULL && *at < needs->count) {
        const Value *value = &needs->values[(*at)++];
        if (value_entity(value) != NULL) {
            return value_entity(value);
        }
    }
    return NULL;
}

/* Arrivals */

static void use_today(Planner *plan)
{
    use_fact(plan->work, "today", point(plan->today_s), UNIT_ALONE(UNIT_DATE), "the day that is judged by");
}

static Interval use_lead(Planner *plan, const Entity *thing)
{
    Quantity lead = boat_lead_of(plan->work, thing);
    if (lead.state == STATE_MISSING) {
        plan->without_lead++;
        lead = use_fact(plan->work, "lead time where none is stated", point(assumed_lead_s),
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
    use_today(plan);
    Interval lead = use_lead(plan, thing);
    *formula = "{day} has passed: from {today} to {today} + {lead}";
    return interval(plan->today_s, plan->today_s + lead.high);
}

static Interval arrival_of(Planner *plan, const Entity *thing, const Purchase *purchase, const char **formula)
{
    bool under_way = purchase_is_under_way(purchase) || purchase_may_go_on(purchase);
    if (under_way && purchase->last_promise != NULL) {
        return expected(plan, thing, "promised", moment(property_date(purchase->last_promise)), formula);
    }
    if (under_way && purchase->ordered != NULL) {
        double ordered_s = moment(property_date(purchase->ordered));
        use_fact(plan->work, "ordered", point(ordered_s), UNIT_ALONE(UNIT_DATE), "the spec");
        Interval lead = use_lead(plan, thing);
        Interval day = interval_add(point(ordered_s), lead);
        *formula = day.low >= plan->today_s ? "{ordered} + {lead}" : "{ordered} + {lead}, and from today on";
        double last_s = day.high >= plan->today_s ? day.high : plan->today_s + lead.high;
        return interval(fmax(day.low, plan->today_s), last_s);
    }
    use_today(plan);
    Interval lead = use_lead(plan, thing);
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
    if (!is_awaited(thing, &purchase) || find(plan, thing, FIGURE_ARRIVAL) != NULL) {
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

/* The latest day on which something comes that the job needs; `without`: as if that thing were here. */
static Interval all_there(const Planner *plan, const Entity *job, const Entity *without)
{
    Interval there = point(plan->today_s);
    uint16_t at = 0;
    for (const Entity *thing = needed(job, &at); thing != NULL; thing = needed(job, &at)) {
        const Figure *arrival = thing != without ? find(plan, thing, FIGURE_ARRIVAL) : NULL;
        if (arrival != NULL && arrival->state == STATE_KNOWN) {
            there = interval_max(there, interval(arrival->low, arrival->high));
        }
    }
    return there;
}

static double date_of_line(const Entity *job, PropId prop, double otherwise)
{
    const Property *line = entity_property(job, prop);
    const Value *value = property_value(line, 0);
    return line != NULL && !(line->flags & PROPERTY_BROKEN) && value->kind == VALUE_DATE
               ? moment(value->u.date)
               : otherwise;
}

static Interval takes_of(const Entity *job)
{
    const Value *value = property_value(entity_property(job, PROP_JOB_TAKES), 0);
    bool known = value->kind == VALUE_QUANTITY && !(value->flags & VALUE_BROKEN);
    return known ? interval(fmax(value->u.quantity.low, 0.0), value->u.quantity.high) : point(0.0);
}

/* What a job is to the plan. Done: nothing waits for it. Begun: it goes on till all it needs has come. */
static void fill_task(const Planner *plan, const Entity *job, const Entity *without)
{
    PlanTask *task = &plan->tasks[plan->task_of[job->index] - 1];
    Interval there = all_there(plan, job, without);
    task->takes_s = takes_of(job);
    task->from_s = there;
    task->fixed = false;
    task->done = is_done(job);
    task->left_s = task->takes_s.high;
    if (task->done) {
        task->fixed = true;
        task->from_s = point(fmin(date_of_line(job, PROP_JOB_DONE, plan->today_s), plan->today_s));
        task->takes_s = point(0.0);
    } else if (entity_states(job, PROP_JOB_STARTED)) {
        task->fixed = true;
        task->from_s = point(date_of_line(job, PROP_JOB_STARTED, plan->today_s));
        task->takes_s = interval_max(task->takes_s, interval_subtract(there, task->from_s));
    }
}

static void make_tasks(Planner *plan)
{
    const Model *model = plan->model;
    Arena *arena = plan->work->scratch;
    plan->tasks = ARENA_ARRAY(arena, PlanTask, model->job_count);
    plan->task_of = ARENA_ARRAY(arena, uint32_t, model->entity_count);
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
        fill_task(plan, job, NULL);
    }
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
    for (const Entity *thing = needed(job, &at); thing != NULL; thing = needed(job, &at)) {
        const Figure *arrival = find(plan, thing, FIGURE_ARRIVAL);
        if (arrival != NULL) {
            use_figure(plan->work, arrival);
            buf_format(formula, ", {%.*s.arrival}", STR_ARG(entity_name(plan->model, thing)));
        }
    }
}

static void use_jobs_before(Planner *plan, const Entity *job, Buf *formula)
{
    wait_if_mistaken(plan, job, PROP_JOB_AFTER);
    uint16_t at = 0;
    for (const Entity *before = job_next_before(job, &at); before != NULL;
         before = job_next_before(job, &at)) {
        if (!is_done(before)) {
            use_figure(plan->work, find(plan, before, FIGURE_EARLIEST_FINISH));
            buf_format(formula, ", {%.*s.earliest-finish}", STR_ARG(entity_name(plan->model, before)));
        }
    }
}

/* Whether a job that comes before it is not done. */
static bool waits_for_job(const Entity *job)
{
    uint16_t at = 0;
    const Entity *before = job_next_before(job, &at);
    while (before != NULL && is_done(before)) {
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
        use_today(plan);
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
    use_figure(plan->work, find(plan, job, FIGURE_EARLIEST_START));
    use_value(plan->work, job, PROP_JOB_TAKES, 0);
    buf_text(&formula, "{start} + {takes}");
    if (task->fixed) {
        use_today(plan);
        buf_text(&formula, ", not before {today}");
        use_all_there(plan, job, &formula);
        use_jobs_before(plan, job, &formula);
        buf_text(&formula, waits_for_job(job) ? "; at the latest as long as it takes behind the jobs before it" : "");
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
        if (!is_done(model->jobs[i])) {
            use_figure(plan->work, find(plan, model->jobs[i], FIGURE_EARLIEST_FINISH));
            buf_format(&formula, "%s{%.*s.earliest-finish}", left++ == 0 ? "the latest of " : ", ",
                       STR_ARG(entity_name(model, model->jobs[i])));
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

/* Backward */

static void record_latest(Planner *plan, const Entity *job, const PlanTask *task)
{
    work_begin(plan->work);
    if (find(plan, job, FIGURE_EARLIEST_FINISH)->state == STATE_WAITING) {
        use_waiting(plan->work);
    }
    use_fact(plan->work, "what comes after it begins at the latest", point(task->ends_last_s),
             UNIT_ALONE(UNIT_DATE), "backward pass");
    use_value(plan->work, job, PROP_JOB_TAKES, 0);
    work_record(plan->work, FIGURE_LATEST_START, job, NULL, point(task->starts_last_s),
                "{end} - {takes}, the longest");
    work_begin(plan->work);
    use_figure(plan->work, find(plan, job, FIGURE_LATEST_START));
    use_figure(plan->work, find(plan, job, FIGURE_EARLIEST_START));
    double spare_s = plan_float_s(task);
    work_record(plan->work, FIGURE_FLOAT, job, NULL, point(spare_s),
                "{latest} - {earliest}, the latest of it");
}

/* The last moment at which a thing has to be here; infinite if no job that is left to do needs it. */
static void note_needed_by(double *by_s, const Planner *plan)
{
    const Model *model = plan->model;
    for (uint32_t i = 0; i < model->entity_count; i++) {
        by_s[i] = INFINITY;
    }
    for (uint32_t i = 0; i < model->job_count; i++) {
        const Entity *job = model->jobs[i];
        const PlanTask *task = &plan->tasks[i];
        /* A job that has begun can go on with what is here; when its things have come, all of it may still be to do. */
        double last_s =
            task->fixed ? fmax(plan->today_s, task->ends_last_s - takes_of(job).high) : task->starts_last_s;
        uint16_t at = 0;
        for (const Entity *thing = needed(job, &at); thing != NULL && !is_done(job);
             thing = needed(job, &at)) {
            by_s[thing->index] = fmin(by_s[thing->index], last_s);
        }
    }
}

/* The earliest day on which a goal asks all to be ready; infinite where none does. */
static double asked_by_goals_s(const Planner *plan)
{
    double asked_s = INFINITY;
    for (const Entity *goal = plan->model->first_of_kind[KIND_GOAL]; goal != NULL; goal = goal->next_of_kind) {
        const Value *value = property_value(entity_property(goal, PROP_GOAL_READY), 0);
        asked_s = value != NULL && value->kind == VALUE_DATE ? fmin(asked_s, moment(value->u.date)) : asked_s;
    }
    return asked_s;
}

/* Where no goal asks for a day the plan begins with today, and moves on with it: no order is late, the first ones are for today. */
static void record_last_day(Planner *plan, const Entity *thing, FigureId id, double by_s, double asked_s)
{
    Work *work = plan->work;
    double spare_s = isinf(asked_s) ? 0.0 : fmax(0.0, asked_s - plan->ready_s.high);
    work_begin(work);
    use_fact(work, "its job begins at the latest", point(by_s), UNIT_ALONE(UNIT_DATE), "backward pass");
    if (spare_s > 0.0) {
        use_fact(work, "what the plan has to spare before its goal", point(spare_s), UNIT_ALONE(UNIT_D),
                 "the goal's day less that on which all is ready");
    }
    Interval lead = id == FIGURE_ORDER_BY ? use_lead(plan, thing)
                                          : use_fact(work, "lead time of what it is fitted with", point(assumed_lead_s),
                                                     UNIT_ALONE(UNIT_WEEK), "common practice, no source").value;
    use_fact(work, "time in hand", point(in_hand_s), UNIT_ALONE(UNIT_D), "common practice, no source");
    double day_s = by_s + spare_s - lead.high - in_hand_s;
    const char *formula = spare_s > 0.0 ? "{by} + {spare} - {lead}, the longest, - {in hand}" : "{by} - {lead}, the longest, - {in hand}";
    if (isinf(asked_s)) {
        use_today(plan);
        day_s = fmax(day_s, plan->today_s);
        formula = "{by} - {lead}, the longest, - {in hand}, and from {today} on";
    }
    work_record(work, id, thing, NULL, point(day_s), formula);
}

/* What is still to be ordered; and the cable, fuse and hose of what is on its way or here. */
static void record_order_by(Planner *plan, const double *by_s)
{
    double asked_s = asked_by_goals_s(plan);
    for (uint32_t i = 0; i < plan->model->entity_count; i++) {
        const Entity *thing = plan->model->entities[i];
        if (isinf(by_s[i])) {
            continue;
        }
        Status status = thing_status(thing);
        if (status_is_to_buy(status) && find(plan, thing, FIGURE_ARRIVAL) != NULL) {
            record_last_day(plan, thing, FIGURE_ORDER_BY, by_s[i], asked_s);
        } else if (status_is_committed(status) && status != STATUS_FITTED && is_bought(thing)) {
            record_last_day(plan, thing, FIGURE_FITTINGS_BY, by_s[i], asked_s);
        }
    }
}

/* Holding up */

static bool needs(const Entity *job, const Entity *wanted)
{
    uint16_t at = 0;
    const Entity *thing = needed(job, &at);
    while (thing != NULL && thing != wanted) {
        thing = needed(job, &at);
    }
    return thing != NULL;
}

/* When all would be ready if a thing were here; as_is are the tasks as they are, and they are so again afterwards. */
static double without(const Planner *plan, const PlanTask *as_is, const Entity *thing)
{
    uint32_t count = plan->model->job_count;
    for (uint32_t i = 0; i < count; i++) {
        if (needs(plan->model->jobs[i], thing)) {
            fill_task(plan, plan->model->jobs[i], thing);
        }
    }
    double end_s = plan_forward(plan->tasks, count, plan->today_s).high;
    memcpy(plan->tasks, as_is, count * sizeof(PlanTask));
    return end_s;
}

/* A thing moves the end only if a job without float waits for it longer than for anything else. */
static bool may_hold(const Planner *plan, const PlanTask *task, const Figure *arrival)
{
    double spare_s = task->fixed ? task->ends_last_s - task->ends_s.high : plan_float_s(task);
    double waits_s = task->fixed ? task->ends_s.high : task->starts_s.high;
    return spare_s < SECONDS_A_DAY / 2.0 && arrival->high >= waits_s && arrival->high > plan->today_s;
}

static void record_holding(Planner *plan)
{
    const Model *model = plan->model;
    int looked = 0;
    PlanTask *as_is = ARENA_ARRAY(plan->work->scratch, PlanTask, model->job_count);
    memcpy(as_is, plan->tasks, model->job_count * sizeof(PlanTask));
    for (uint32_t i = 0; i < model->job_count; i++) {
        uint16_t at = 0;
        const Entity *job = model->jobs[i];
        for (const Entity *thing = needed(job, &at); thing != NULL && !is_done(job);
             thing = needed(job, &at)) {
            const Figure *arrival = find(plan, thing, FIGURE_ARRIVAL);
            if (arrival == NULL || arrival->state != STATE_KNOWN ||
                !may_hold(plan, &plan->tasks[i], arrival) || find(plan, thing, FIGURE_HOLDS_UP) != NULL ||
                looked++ >= HOLDING_MOST) {
                continue;
            }
            double sooner_s = plan->ready_s.high - without(plan, as_is, thing);
            work_begin(plan->work);
            use_figure(plan->work, find(plan, model->boat, FIGURE_READY));
            use_figure(plan->work, arrival);
            work_record(plan->work, FIGURE_HOLDS_UP, thing, NULL, point(fmax(sooner_s, 0.0)),
                        "{ready} with {arrival}, less the same with it here today");
        }
    }
}

static void record_backward(Planner *plan)
{
    const Model *model = plan->model;
    plan_backward(plan->tasks, model->job_count, plan->ready_s.high);
    for (uint32_t i = 0; i < model->job_count; i++) {
        if (!is_done(model->jobs[i]) && !plan->tasks[i].fixed) {
            record_latest(plan, model->jobs[i], &plan->tasks[i]);
        }
    }
    double *by_s = ARENA_ARRAY(plan->work->scratch, double, model->entity_count);
    note_needed_by(by_s, plan);
    record_order_by(plan, by_s);
    record_holding(plan);
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
    Planner plan = {.work = work, .model = model, .today_s = moment(work->figures->today)};
    for (uint32_t i = 0; i < model->job_count; i++) {
        uint16_t at = 0;
        const Entity *job = model->jobs[i];
        for (const Entity *thing = needed(job, &at); thing != NULL && !is_done(job);
             thing = needed(job, &at)) {
            record_arrival(&plan, thing);
        }
    }
    make_tasks(&plan);
    plan.ready_s = find_ready(&plan);
    for (uint32_t i = 0; i < model->job_count; i++) {
        if (!is_done(model->jobs[i])) {
            record_start(&plan, model->jobs[i], &plan.tasks[i]);
            record_finish(&plan, model->jobs[i], &plan.tasks[i]);
        }
    }
    record_ready(&plan);
    if (isfinite(plan.ready_s.high)) {
        record_backward(&plan);
    }
}
