/*
 * Figures of the work plan that are found from its end: how late a job can begin, by when a thing has to be here and to be
 * ordered, and what of the things that are waited for moves the end.
 *
 * By when a thing is needed is told whatever is still open turns out to be: it hangs on the goal's day and on the work
 * behind the thing, and on nothing else in the plan.
 */
#include "figures/plan_work.h"

#include <math.h>
#include <string.h>

/* Common practice, no source. */
static const double in_hand_s = 7.0 * SECONDS_A_DAY;

/* So many sets of things that come together are tried as if they were here: each goes through the whole plan once. */
enum { HOLDING_MOST = 16 };
/* So many of one set stand in the working of a figure, and in a sentence. */
enum { TOLD_MOST = 8, NAMED_MOST = 4 };

/* What would be waited for by so much less or more is waited for nearly as long: a choice of this program. */
static const double nearly_s = 7.0 * SECONDS_A_DAY;

/* A thing that a job to do waits for. */
typedef struct Awaited {
    const Entity *thing;
    const Figure *arrival;         /* NULL: it is here, and only what it is fitted with is awaited */
    Interval tail_s;               /* the longest way from when it is here to the end of all */
    double from_s;                 /* when the first of its jobs can begin */
    Interval end_s;                /* when all is ready by it, if nothing else is waited for */
    const Entity *jobs[TOLD_MOST]; /* the first that need it */
    uint32_t job_count;
    bool under_way; /* ordered, or here; else it is to be ordered */
    bool told;
} Awaited;

typedef struct Orders {
    Planner *plan;
    PlanTask *as_is; /* the tasks while others are tried in their place; NULL: none were yet */
    const Figure *ready; /* of the boat: asked once, for thousands of things hang on it */
    Awaited *awaited;
    uint32_t count;
    bool asked;     /* a goal states a day by which all is to be ready ... */
    double asked_s; /* ... the earliest */
    double
        late_s; /* all is ready so much later for certain, even with all that is to be ordered here today */
} Orders;

/* Jobs from the end */

static void record_latest(Planner *plan, const Entity *job, const PlanTask *task)
{
    work_begin(plan->work);
    if (plan_find(plan, job, FIGURE_EARLIEST_FINISH)->state == STATE_WAITING) {
        use_waiting(plan->work);
    }
    use_fact(plan->work, "what comes after it begins at the latest", point(task->ends_last_s),
             UNIT_ALONE(UNIT_DATE), "backward pass");
    plan_use_takes(plan, job);
    work_record(plan->work, FIGURE_LATEST_START, job, NULL, point(task->starts_last_s),
                "{end} - {takes}, the longest");
    work_begin(plan->work);
    use_figure(plan->work, plan_find(plan, job, FIGURE_LATEST_START));
    use_figure(plan->work, plan_find(plan, job, FIGURE_EARLIEST_START));
    double spare_s = plan_float_s(task);
    work_record(plan->work, FIGURE_FLOAT, job, NULL, point(spare_s),
                "{latest} - {earliest}, the latest of it");
}

void plan_record_latest(Planner *plan)
{
    const Model *model = plan->model;
    if (!isfinite(plan->ready_s.high)) {
        return; /* the latest end is not known: nothing is late by it */
    }
    plan_backward(plan->tasks, model->job_count, plan->ready_s.high);
    for (uint32_t i = 0; i < model->job_count; i++) {
        if (!plan_is_done(model->jobs[i]) && !plan->tasks[i].fixed) {
            record_latest(plan, model->jobs[i], &plan->tasks[i]);
        }
    }
}

/* Room for the ways of the jobs that come after each, from (*starts)[i] on: a job itself knows only what it comes after. */
static const Figure **jobs_behind(const Planner *plan, uint32_t **starts)
{
    uint32_t count = plan->model->job_count, edges = 0;
    uint32_t *first = ARENA_ARRAY(plan->work->scratch, uint32_t, count + 1);
    for (uint32_t i = 0; i < count; i++) {
        for (uint32_t a = 0; a < plan->tasks[i].after_count; a++) {
            first[plan->tasks[i].after[a]]++;
            edges++;
        }
    }
    for (uint32_t i = 0, sum = 0; i <= count; i++) {
        uint32_t own = i < count ? first[i] : 0;
        first[i] = sum;
        sum += own;
    }
    *starts = first;
    return ARENA_ARRAY(plan->work->scratch, const Figure *, edges + 1);
}

/* Of each job to do, from the last: what it takes itself, and the longest of what comes after it. */
static void record_ways_to_the_end(Planner *plan)
{
    const Model *model = plan->model;
    uint32_t *first;
    const Figure **behind = jobs_behind(plan, &first);
    uint32_t *filled = ARENA_ARRAY(plan->work->scratch, uint32_t, model->job_count + 1);
    plan_tails(plan->tasks, model->job_count);
    for (uint32_t i = model->job_count; i-- > 0;) {
        const PlanTask *task = &plan->tasks[i];
        const Entity *job = model->jobs[i];
        if (task->done) {
            continue;
        }
        Buf formula;
        buf_init(&formula, plan->work->figures->arena);
        work_begin(plan->work);
        plan_use_takes(plan, job);
        buf_text(&formula, task->fixed ? "none to all of {takes}" : "{takes}");
        for (uint32_t b = 0; b < filled[i]; b++) {
            use_figure(plan->work, behind[first[i] + b]);
            buf_text(&formula, b == 0 ? " + the longest of {behind it}" : ", {behind it}");
        }
        const Figure *way = work_record(plan->work, FIGURE_TO_THE_END, job, NULL, task->tail_s, formula.text);
        for (uint32_t a = 0; a < task->after_count; a++) {
            uint32_t before = task->after[a];
            behind[first[before] + filled[before]++] = way;
        }
    }
}

/* What is waited for */

/* The earliest day on which a goal asks all to be ready. */
static void find_goal(Orders *orders)
{
    orders->asked_s = INFINITY;
    for (const Entity *goal = orders->plan->model->first_of_kind[KIND_GOAL]; goal != NULL;
         goal = goal->next_of_kind) {
        const Value *value = goal_day_asked(goal);
        if (value->kind == VALUE_DATE) {
            orders->asked = true;
            orders->asked_s = fmin(orders->asked_s, plan_moment(value->u.date));
        }
    }
}

/* The tasks with what is marked here; put back by restore_tasks. */
static void try_tasks(Orders *orders)
{
    Planner *plan = orders->plan;
    uint32_t count = plan->model->job_count;
    if (orders->as_is == NULL) { /* one room for all that is tried */
        orders->as_is = ARENA_ARRAY(plan->work->scratch, PlanTask, count);
    }
    memcpy(orders->as_is, plan->tasks, count * sizeof(PlanTask));
    plan_fill_tasks(plan);
}

static void restore_tasks(Orders *orders)
{
    memcpy(orders->plan->tasks, orders->as_is, orders->plan->model->job_count * sizeof(PlanTask));
}

/* When all is ready with what is marked here; the tasks are as before afterwards. */
static Interval ready_with(Orders *orders)
{
    Planner *plan = orders->plan;
    try_tasks(orders);
    Interval ready_s = plan_forward(plan->tasks, plan->model->job_count, plan->today_s);
    restore_tasks(orders);
    return ready_s;
}

static void note_job(Orders *orders, Awaited *a, const Entity *job, const PlanTask *task)
{
    if (a->job_count < TOLD_MOST) {
        a->jobs[a->job_count++] = job;
    }
    a->tail_s = interval_max(a->tail_s, task->tail_s);
    a->from_s = fmin(a->from_s, fmax(task->starts_s.low, orders->plan->today_s));
}

/* Its cable, fuse and hose may still have to be bought. */
static bool wants_fittings(const Entity *thing)
{
    Status status = thing_status(thing);
    return status_is_committed(status) && status != STATUS_FITTED && is_bought(thing);
}

/* No more things are waited for than jobs name. */
static uint32_t most_awaited(const Model *model)
{
    uint32_t most = 0;
    for (uint32_t i = 0; i < model->job_count; i++) {
        const Property *needs = entity_property(model->jobs[i], PROP_JOB_NEEDS);
        most += needs != NULL ? needs->count : 0u;
    }
    return most;
}

static void gather_awaited(Orders *orders)
{
    Planner *plan = orders->plan;
    const Model *model = plan->model;
    uint32_t *place = ARENA_ARRAY(plan->work->scratch, uint32_t, model->entity_count);
    orders->awaited = ARENA_ARRAY(plan->work->scratch, Awaited, most_awaited(model));
    for (uint32_t i = 0; i < model->job_count; i++) {
        const PlanTask *task = &plan->tasks[i];
        uint16_t at = 0;
        for (const Entity *thing = job_next_needed(model->jobs[i], &at); thing != NULL && !task->done;
             thing = job_next_needed(model->jobs[i], &at)) {
            const Figure *arrival = plan_find(plan, thing, FIGURE_ARRIVAL);
            if (arrival == NULL && !wants_fittings(thing)) {
                continue;
            }
            uint32_t e = thing->index;
            if (place[e] == 0) {
                bool under_way = !status_is_to_buy(thing_status(thing));
                orders->awaited[orders->count++] =
                    (Awaited){.thing = thing, .arrival = arrival, .from_s = INFINITY, .under_way = under_way};
                place[e] = orders->count;
            }
            note_job(orders, &orders->awaited[place[e] - 1], model->jobs[i], task);
        }
    }
    for (uint32_t i = 0; i < orders->count; i++) {
        Awaited *a = &orders->awaited[i];
        Interval arrives_s = a->arrival != NULL ? interval(a->arrival->low, a->arrival->high) : point(plan->today_s);
        a->end_s = interval_add(arrives_s, a->tail_s);
    }
}

/* Past the goal already, whatever is ordered today: nobody has to hurry for what the rest makes late by itself. */
static void find_late(Orders *orders)
{
    if (!orders->asked || orders->plan->ready_s.low <= orders->asked_s) {
        return;
    }
    uint8_t *tried = orders->plan->tried;
    for (uint32_t i = 0; i < orders->count; i++) {
        tried[orders->awaited[i].thing->index] = orders->awaited[i].under_way ? TRIED_AS_IT_IS : TRIED_HERE;
    }
    orders->late_s = fmax(0.0, ready_with(orders).low - orders->asked_s);
    for (uint32_t i = 0; i < orders->count; i++) {
        tried[orders->awaited[i].thing->index] = TRIED_AS_IT_IS;
    }
}

/* By when */

static void use_ways(Orders *orders, const Awaited *a, Buf *formula)
{
    for (uint32_t i = 0; i < a->job_count; i++) {
        use_figure(orders->plan->work, plan_find(orders->plan, a->jobs[i], FIGURE_TO_THE_END));
        plan_add_label(orders->plan, formula, i == 0 ? "{" : ", {", a->jobs[i], ".to-the-end}");
    }
}

/*
 * Without a goal: so that it does not move the end. That comes no sooner than the thing's own job can begin and the longest
 * way from there.
 */
static Interval needed_by(const Orders *orders, const Awaited *a)
{
    if (orders->asked) {
        return interval_subtract(point(orders->asked_s), a->tail_s);
    }
    Interval ready_s = orders->plan->ready_s;
    double low_s = isfinite(a->tail_s.high) ? ready_s.low - a->tail_s.high : -INFINITY;
    return interval(fmax(low_s, a->from_s), ready_s.high - a->tail_s.low);
}

/* What it hangs on by when a thing is needed, and how that is worked out. */
static void use_needed_by(Orders *orders, const Awaited *a, Buf *formula)
{
    Work *work = orders->plan->work;
    buf_init(formula, work->figures->arena);
    work_begin(work);
    if (orders->asked) {
        use_fact(work, "the day that a goal asks for", point(orders->asked_s), UNIT_ALONE(UNIT_DATE),
                 "the spec");
        if (orders->ready->state == STATE_WAITING) {
            use_waiting(work); /* a job that comes after may stand in a line with a mistake */
        }
    } else {
        use_figure(work, orders->ready);
    }
    buf_text(formula, a->job_count > 1 ? "{the end} - the longest of " : "{the end} - ");
    use_ways(orders, a, formula);
}

static void record_needed_by(Orders *orders, const Awaited *a)
{
    Buf formula;
    use_needed_by(orders, a, &formula);
    work_record(orders->plan->work, FIGURE_NEEDED_BY, a->thing, NULL, needed_by(orders, a), formula.text);
}

/* The day on which an order is due; without a goal the plan moves on with today, and no order is late. */
static Interval due_s(Orders *orders, Interval by_s, Interval lead_s)
{
    Interval day_s = interval_subtract(interval_add(by_s, point(orders->late_s)), interval_add(lead_s, point(in_hand_s)));
    if (!orders->asked) {
        plan_use_today(orders->plan);
        day_s = interval_max(day_s, point(orders->plan->today_s));
    }
    return day_s;
}

/* What is late in any case leaves all else that much more time: added to the formula where there is any. */
static void use_lateness(Orders *orders, Buf *formula)
{
    if (orders->late_s > 0.0) {
        use_fact(orders->plan->work, "so much after the goal's day all is ready in any case", point(orders->late_s),
                 UNIT_ALONE(UNIT_D), "the plan with all that is to be ordered here today");
        buf_text(formula, " + {late}");
    }
}

/* `lead` is the one that was used last. */
static void record_due(Orders *orders, FigureId id, const Entity *thing, Interval by_s, Interval lead_s, Buf *formula)
{
    use_fact(orders->plan->work, "time in hand", point(in_hand_s), UNIT_ALONE(UNIT_D), "common practice, no source");
    buf_text(formula, orders->asked || orders->late_s > 0.0 ? " - {lead} - {in hand}" : " - {lead} - {in hand}, and from {today} on");
    work_record(orders->plan->work, id, thing, NULL, due_s(orders, by_s, lead_s), formula->text);
}

/* Cable, fuse and hose of a thing: they come from a shelf, whatever the lead of the thing itself is. */
static void record_fittings_by(Orders *orders, const Awaited *a)
{
    Buf formula;
    use_needed_by(orders, a, &formula);
    buf_text(&formula, ",");
    use_lateness(orders, &formula);
    Interval lead_s = use_fact(orders->plan->work, "lead time of what it is fitted with", point(plan_assumed_lead_s),
                               UNIT_ALONE(UNIT_WEEK), "common practice, no source")
                          .value;
    record_due(orders, FIGURE_FITTINGS_BY, a->thing, needed_by(orders, a), lead_s, &formula);
}

static void record_order_by(Orders *orders, const Entity *thing)
{
    Buf formula;
    buf_init(&formula, orders->plan->work->figures->arena);
    work_begin(orders->plan->work);
    Interval by_s = use_figure(orders->plan->work, plan_find(orders->plan, thing, FIGURE_NEEDED_BY)).value;
    buf_text(&formula, "{needed by}");
    use_lateness(orders, &formula);
    record_due(orders, FIGURE_ORDER_BY, thing, by_s, plan_use_lead(orders->plan, thing), &formula);
}

/* Holding up */

/* Whether it may be what all waits for, whatever else turns out to be: at its latest no other is sure to come later. */
static bool may_hold(const Orders *orders, const Awaited *a)
{
    const double half_s = SECONDS_A_DAY / 2.0;
    return a->arrival != NULL && a->arrival->state == STATE_KNOWN && a->arrival->high > orders->plan->today_s &&
           a->end_s.high + half_s > orders->plan->ready_s.low;
}

static bool is_tied(const Awaited *a, const Awaited *b)
{
    return a->end_s.low == b->end_s.low && a->end_s.high == b->end_s.high;
}

/* "`engine` and `gearbox`" */
static const char *names_of(const Planner *plan, const Awaited *const held[], uint32_t count)
{
    Buf names;
    buf_init(&names, plan->work->figures->arena);
    for (uint32_t i = 0; i < count && i < NAMED_MOST; i++) {
        Str name = entity_name(plan->model, held[i]->thing);
        buf_format(&names, "%s`%.*s`", i == 0 ? "" : i + 1 == count ? " and " : ", ", STR_ARG(name));
    }
    if (count > NAMED_MOST) {
        buf_format(&names, " and %u more", (unsigned)(count - NAMED_MOST));
    }
    return names.text;
}

/* What comes together moves the end together; what is ordered stands first. */
static const char *use_together(Planner *plan, const Awaited *const held[], uint32_t count)
{
    Buf inputs;
    buf_init(&inputs, plan->work->figures->arena);
    uint32_t told = count > TOLD_MOST ? TOLD_MOST : count;
    for (uint32_t i = 0; i < told; i++) {
        Str name = entity_name(plan->model, held[i]->thing);
        buf_format(&inputs, "%s{%.*s.arrival}", i == 0 ? "" : ", ", STR_ARG(name));
        use_figure(plan->work, held[i]->arrival);
    }
    return text_format(plan->work->figures->arena, "{ready} with %s%s, less the same with %s here today",
                       inputs.text, count > told ? " and more" : "", count == 1 ? "it" : "all of that");
}

/* When the latest comes of what is taken to be here, of all that the job needs. */
static Interval held_of(const Planner *plan, const Entity *job)
{
    Interval held_s = plan_not_held;
    uint16_t at = 0;
    for (const Entity *thing = job_next_needed(job, &at); thing != NULL; thing = job_next_needed(job, &at)) {
        if ((Tried)plan->tried[thing->index] == TRIED_HERE) {
            const Figure *arrival = plan_find(plan, thing, FIGURE_ARRIVAL);
            held_s = interval_max(held_s, interval(arrival->low, arrival->high));
        }
    }
    return held_s;
}

/* By how much the end moves with what is marked here as late as it comes; the tasks are as before afterwards. */
static Interval delay_without(Orders *orders)
{
    Planner *plan = orders->plan;
    uint32_t count = plan->model->job_count;
    try_tasks(orders);
    plan_forward(plan->tasks, count, plan->today_s);
    for (uint32_t i = 0; i < count; i++) {
        plan->tasks[i].held_s = held_of(plan, plan->model->jobs[i]);
    }
    Interval delay_s = plan_delay(plan->tasks, count, plan->today_s);
    restore_tasks(orders);
    return delay_s;
}

/*
 * By how much the end moves with these as late as they may come, and with them here, all else being the same in both; by no more
 * than the latest day is away from today. What may come so early that nothing waits for it may hold up nothing. Where no latest
 * day is known it may be anything.
 */
static Interval held_up_s(Orders *orders, const Awaited *const held[], uint32_t count)
{
    uint8_t *of = orders->plan->tried;
    double today_s = orders->plan->today_s, latest_s = today_s;
    for (uint32_t i = 0; i < count; i++) {
        latest_s = fmax(latest_s, held[i]->arrival->high);
        of[held[i]->thing->index] = TRIED_HERE;
    }
    Interval delay_s = delay_without(orders);
    for (uint32_t i = 0; i < count; i++) {
        of[held[i]->thing->index] = TRIED_AS_IT_IS;
    }
    double most_s = fmin(delay_s.high, latest_s - today_s);
    return interval(fmin(delay_s.low, most_s), most_s);
}

/* Records it of the first `of` things in `held`. */
static void record_held(Orders *orders, FigureId id, const Awaited *const held[], uint32_t of, uint32_t count, Interval held_s,
                        const char *remark)
{
    Work *work = orders->plan->work;
    work_begin(work);
    use_figure(work, orders->ready);
    const char *formula = use_together(orders->plan, held, count);
    for (uint32_t i = 0; i < of; i++) {
        work_record(work, id, held[i]->thing, NULL, held_s, formula)->remark = remark;
    }
}

/* Puts behind those in `held` what all waits for nearly as long; how many there are then. */
static uint32_t add_near(const Orders *orders, const Awaited *held[], uint32_t count)
{
    uint32_t all = count;
    for (uint32_t i = 0; i < orders->count; i++) {
        const Awaited *a = &orders->awaited[i];
        bool comes = a->arrival != NULL && a->arrival->state == STATE_KNOWN && a->arrival->high > orders->plan->today_s;
        double apart_s = fabs(a->end_s.high - held[0]->end_s.high);
        if (comes && !is_tied(held[0], a) && apart_s <= nearly_s) {
            held[all++] = a;
        }
    }
    return all;
}

/*
 * With one day between two things, the one that comes last moves the end by that day alone: of what is ordered, what both of
 * them cost is told too. What alone moves it by more than a week is worth a call by itself, and
 * of more than can be told together no list helps.
 */
static void record_together(Orders *orders, const Awaited *held[], uint32_t count)
{
    const double half_s = SECONDS_A_DAY / 2.0;
    Interval held_s = held_up_s(orders, held, count);
    const char *together = count > 1 ? names_of(orders->plan, held, count) : NULL;
    record_held(orders, FIGURE_HOLDS_UP, held, count, count, held_s, together);
    uint32_t all = held[0]->under_way && held_s.high <= nearly_s ? add_near(orders, held, count) : count;
    Interval with_s = all > count && all <= TOLD_MOST ? held_up_s(orders, held, all) : held_s;
    if (with_s.high > held_s.high + half_s) {
        record_held(orders, FIGURE_HOLDS_UP_NEARLY, held, count, all, with_s,
                    names_of(orders->plan, &held[count], all - count));
    }
}

static void record_holding(Orders *orders)
{
    const Awaited **held = ARENA_ARRAY(orders->plan->work->scratch, const Awaited *, orders->count);
    int looked = 0;
    for (uint32_t i = 0; i < orders->count && looked < HOLDING_MOST; i++) {
        Awaited *first = &orders->awaited[i];
        if (first->told || !may_hold(orders, first)) {
            continue;
        }
        uint32_t count = 0;
        for (int under_way = 1; under_way >= 0; under_way--) {
            for (uint32_t k = i; k < orders->count; k++) {
                Awaited *other = &orders->awaited[k];
                if (other->under_way == (under_way == 1) && is_tied(first, other) &&
                    may_hold(orders, other)) {
                    other->told = true;
                    held[count++] = other;
                }
            }
        }
        record_together(orders, held, count);
        looked++;
    }
}

void plan_record_orders(Planner *plan)
{
    Orders orders = {.plan = plan, .ready = plan_find(plan, plan->model->boat, FIGURE_READY)};
    record_ways_to_the_end(plan);
    gather_awaited(&orders);
    find_goal(&orders);
    find_late(&orders);
    for (uint32_t i = 0; i < orders.count; i++) {
        const Awaited *a = &orders.awaited[i];
        if (a->arrival != NULL) {
            record_needed_by(&orders, a);
        }
        if (!a->under_way) {
            record_order_by(&orders, a->thing);
        }
        if (!a->under_way || wants_fittings(a->thing)) {
            record_fittings_by(&orders, a);
        }
    }
    record_holding(&orders);
}
