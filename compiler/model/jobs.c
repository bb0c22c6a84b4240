/* See jobs.h. */
#include "model/jobs.h"

#include <math.h>
#include <string.h>

bool job_takes_hours(const Value *takes)
{
    return takes->kind == VALUE_QUANTITY && takes->unit.per == UNIT_NONE &&
           (takes->unit.unit == UNIT_H || takes->unit.unit == UNIT_MIN || takes->unit.unit == UNIT_S);
}

const Entity *job_next_before(const Entity *job, uint16_t *at)
{
    const Property *after = entity_property(job, PROP_JOB_AFTER);
    while (after != NULL && *at < after->count) {
        const Value *value = &after->values[(*at)++];
        if (value_entity(value) != NULL && value->u.entity->kind == KIND_JOB) {
            return value->u.entity;
        }
    }
    return NULL;
}

const Entity *job_next_needed(const Entity *job, uint16_t *at)
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

/* Jobs by what they wait for: `first[j]` begins the list of the jobs that come after job j. */
typedef struct Later {
    Entity *job;
    struct Later *next;
} Later;

typedef struct Order {
    Model *model;
    uint32_t *waits; /* by Entity.index: how many jobs before it are not in the order yet */
    Later **later;   /* by Entity.index */
} Order;

static void note_waits(Order *order)
{
    for (Entity *job = order->model->first_of_kind[KIND_JOB]; job != NULL; job = job->next_of_kind) {
        uint16_t at = 0;
        for (const Entity *before = job_next_before(job, &at); before != NULL;
             before = job_next_before(job, &at)) {
            Later *later = ARENA_NEW(order->model->arena, Later);
            *later = (Later){job, order->later[before->index]};
            order->later[before->index] = later;
            order->waits[job->index]++;
        }
    }
}

static void put_in_order(Order *order)
{
    Model *model = order->model;
    for (Entity *job = model->first_of_kind[KIND_JOB]; job != NULL; job = job->next_of_kind) {
        if (order->waits[job->index] == 0) {
            model->jobs[model->job_count++] = job;
        }
    }
    for (uint32_t next = 0; next < model->job_count; next++) {
        for (Later *later = order->later[model->jobs[next]->index]; later != NULL; later = later->next) {
            if (--order->waits[later->job->index] == 0) {
                model->jobs[model->job_count++] = later->job;
            }
        }
    }
}

/* A job before this one that is not in the order either: going from one to the next must come round. */
static const Entity *stuck_before(const Order *order, const Entity *job)
{
    uint16_t at = 0;
    for (const Entity *before = job_next_before(job, &at); before != NULL;
         before = job_next_before(job, &at)) {
        if (order->waits[before->index] > 0) {
            return before;
        }
    }
    return NULL; /* cannot be: it would be in the order */
}

static void tell_circle(const Order *order, const Entity *job)
{
    enum { SHOWN = 8 };
    const Model *model = order->model;
    Buf way;
    buf_init(&way, model->arena);
    uint32_t length = 0;
    for (const Entity *at = job; at != NULL && (length == 0 || at != job);
         at = stuck_before(order, at), length++) {
        if (length < SHOWN) {
            buf_format(&way, "%s`%.*s`", length > 0 ? " after " : "", STR_ARG(entity_name(model, at)));
        }
    }
    buf_format(&way, "%s after `%.*s`", length > SHOWN ? " after ..." : "", STR_ARG(entity_name(model, job)));
    Message *m = message_report(model->messages, MESSAGE_JOB_CIRCLE,
                                property_span(model, entity_property(job, PROP_JOB_AFTER)),
                                "no job of this circle can be the first: %s", way.text);
    message_right(model->messages, m, "the same without one of these `after`");
}

/* From any job that is left over, going back from job to job comes round in a circle: told unless an earlier walk met it. */
static void tell_circles(const Order *order)
{
    const Model *model = order->model;
    uint32_t *met = ARENA_ARRAY(model->arena, uint32_t, model->entity_count); /* by which walk */
    uint32_t walk = 0;
    for (const Entity *job = model->first_of_kind[KIND_JOB]; job != NULL; job = job->next_of_kind) {
        if (order->waits[job->index] == 0 || met[job->index] != 0) {
            continue;
        }
        walk++;
        const Entity *at = job;
        while (at != NULL && met[at->index] == 0) {
            met[at->index] = walk;
            at = stuck_before(order, at);
        }
        if (at != NULL && met[at->index] == walk) {
            tell_circle(order, at);
        }
    }
}

static const Value *day_stated(const Entity *job, PropId prop)
{
    const Property *line = entity_property(job, prop);
    const Value *value = property_value(line, 0);
    return line != NULL && !(line->flags & PROPERTY_BROKEN) && value->kind == VALUE_DATE ? value : NULL;
}

/* Done before it was begun: one of the two days is wrong. */
static void check_dates(const Model *model, const Entity *job)
{
    const Value *started = day_stated(job, PROP_JOB_STARTED), *done = day_stated(job, PROP_JOB_DONE);
    if (started == NULL || done == NULL || done->u.date >= started->u.date) {
        return;
    }
    Buf day;
    buf_init(&day, model->arena);
    date_write(&day, started->u.date);
    Message *m = message_report(model->messages, MESSAGE_STATUS_CONTRADICTS, value_span(model, done),
                                "`%.*s` was done before it was begun", STR_ARG(entity_name(model, job)));
    message_note(model->messages, m, value_span(model, started), "begun on %s", day.text);
    message_right(model->messages, m, "the right day on either line");
}

/* `daily` tells how many hours of work a day has: of days of the calendar it would tell nothing. */
static void check_daily(Model *model, const Entity *job)
{
    const Property *takes = entity_property(job, PROP_JOB_TAKES), *daily = entity_property(job, PROP_JOB_DAILY);
    if (takes == NULL || daily == NULL || daily->node == 0 || property_is_mistaken(takes) || property_is_mistaken(daily)) {
        return;
    }
    const Value *value = property_value(takes, 0);
    bool decided = value->kind == VALUE_QUANTITY && !(value->flags & (VALUE_NO_LOW | VALUE_NO_HIGH)) && isfinite(value->u.quantity.high);
    if (!decided || job_takes_hours(value)) {
        return;
    }
    Message *m = message_report(model->messages, MESSAGE_SHAPE_OTHER, property_span(model, daily),
                                "`daily` is of hours, and what `%.*s` takes is in days of the calendar", STR_ARG(entity_name(model, job)));
    message_note(model->messages, m, property_span(model, takes), "these are days");
    message_right(model->messages, m, "`takes` in hours of work, or no `daily`");
}

void jobs_order(Model *model)
{
    uint32_t count = 0;
    for (const Entity *job = model->first_of_kind[KIND_JOB]; job != NULL; job = job->next_of_kind) {
        count++;
        check_dates(model, job);
        check_daily(model, job);
    }
    if (count == 0) {
        return;
    }
    Order order = {.model = model,
                   .waits = ARENA_ARRAY(model->arena, uint32_t, model->entity_count),
                   .later = ARENA_ARRAY(model->arena, Later *, model->entity_count)};
    model->jobs = ARENA_ARRAY(model->arena, Entity *, count);
    note_waits(&order);
    put_in_order(&order);
    if (model->job_count < count) {
        tell_circles(&order);
    }
}
