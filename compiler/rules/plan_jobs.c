/*
 * Rules of single jobs against what else the spec says of them: how long they take, and whether what they need is here.
 */
#include "rules/plan_jobs.h"

#include "rules/dates.h"
#include "rules/upstream.h"

#include "model/jobs.h"
#include "model/status.h"

/* runs-over */

/* Whether something that it needs, or a job before it, is what it goes on for. */
static bool waits_for_something(const Judge *judge, const Entity *job)
{
    uint16_t at = 0;
    for (const Entity *thing = job_next_needed(job, &at); thing != NULL; thing = job_next_needed(job, &at)) {
        if (figure_of(judge, thing, FIGURE_ARRIVAL) != NULL) {
            return true;
        }
    }
    at = 0;
    const Entity *before = job_next_before(job, &at);
    while (before != NULL && entity_states(before, PROP_JOB_DONE)) {
        before = job_next_before(job, &at);
    }
    return before != NULL;
}

void judge_runs_over(Judge *judge, const Entity *job)
{
    const Property *started = entity_property(job, PROP_JOB_STARTED);
    if (started == NULL || entity_states(job, PROP_JOB_DONE) || !entity_states(job, PROP_JOB_TAKES)) {
        return;
    }
    const Value *day = property_value(started, 0);
    if (started->flags & PROPERTY_BROKEN || day->kind != VALUE_DATE || day->flags & VALUE_BROKEN) {
        judge_waiting(judge);
        return;
    }
    if (waits_for_something(judge, job)) {
        judge_holds(judge); /* told by what it waits for */
        return;
    }
    int days = judge->today - day->u.date;
    Side since = side_number(days * SECONDS_A_DAY, UNIT_ALONE(UNIT_D));
    const Figure *work_days = figure_of(judge, job, FIGURE_WORK_DAYS);
    Side takes = work_days != NULL ? side_figure(work_days) : side_value(judge, job, PROP_JOB_TAKES, 0);
    Finding *finding = judge_at_most(judge, job, place_of(judge, job, PROP_JOB_STARTED), since, takes);
    if (finding == NULL) {
        return;
    }
    bool broken = finding->verdict == VERDICT_BROKEN;
    finding_say(judge, finding, "`%s` takes %s, and %s after it was begun it is not done%s",
                say_name(judge, job), say_side(judge, takes), say_days(judge, days),
                broken ? ": the plan takes it that anything up to all of it is still to do" : "");
    finding_remedy(
        judge, finding,
        "`done` with its day, if it is; else `takes` with what it will have taken from its first day on");
}

/* done-without */

/* What is said to be bought, or is on order, and is not here. */
static bool is_not_here(const Entity *thing)
{
    if (!is_bought(thing) || thing->flags & ENTITY_DROPPED) {
        return false;
    }
    Purchase purchase = purchase_of(thing);
    bool to_buy = status_is_to_buy(purchase.status) && thing_is_to_order(thing, purchase.status);
    return to_buy || purchase_is_under_way(&purchase);
}

/* The line by which it came only after that day. What an `event` tells may be an earlier purchase that the job used. */
static const Property *came_after(const Entity *thing, Date done)
{
    if (!is_bought(thing) || thing->flags & ENTITY_DROPPED) {
        return NULL;
    }
    Purchase purchase = purchase_of(thing);
    const Property *first = purchase.first_arrival;
    if (first == NULL || (purchase.first_fitting != NULL && property_date(purchase.first_fitting) < property_date(first))) {
        first = purchase.first_fitting;
    }
    return first != NULL && purchase.last_event == NULL && property_date(first) > done ? first : NULL;
}

/* All that it needs is here now; whether all of that was, on the day on which it was done. */
static void judge_done_before(Judge *judge, const Entity *job, const Property *needs)
{
    const Property *done = entity_property(job, PROP_JOB_DONE);
    for (uint16_t i = 0; !property_is_mistaken(done) && i < needs->count; i++) {
        const Entity *thing = value_entity(property_value(needs, i));
        const Property *came = thing != NULL ? came_after(thing, property_date(done)) : NULL;
        if (came == NULL) {
            continue;
        }
        Finding *finding = judge_broken(judge, job, place_of(judge, job, PROP_JOB_DONE));
        finding_say(judge, finding, "`%s` was done on %s, and `%s`, which it needs, came after that: on %s", say_name(judge, job),
                    say_date(judge, property_date(done)), say_name(judge, thing), say_date(judge, property_date(came)));
        finding_note(judge, finding, property_span(judge->model, came), "came");
        finding_remedy(judge, finding, "the right day on either line; `needs` without what it was done without");
        return;
    }
    judge_holds(judge);
}

void judge_done_without(Judge *judge, const Entity *job)
{
    enum { NAMED = 4 };
    const Entity *named[NAMED];
    uint32_t count = 0;
    const Property *needs = entity_states(job, PROP_JOB_DONE) ? entity_property(job, PROP_JOB_NEEDS) : NULL;
    for (uint16_t i = 0; needs != NULL && i < needs->count; i++) {
        const Entity *thing = value_entity(property_value(needs, i));
        if (thing == NULL || !is_not_here(thing)) {
            continue;
        }
        if (count < NAMED) {
            named[count] = thing;
        }
        count++;
    }
    if (needs == NULL) {
        return;
    }
    if (count == 0) {
        judge_done_before(judge, job, needs);
        return;
    }
    Finding *finding = judge_broken(judge, job, place_of(judge, job, PROP_JOB_DONE));
    const char *names = judge->quiet ? "" : say_names(judge, named, count < NAMED ? count : NAMED, count);
    finding_say(judge, finding, "`%s` is done, and what it needs is not here by what the spec says of it: %s",
                say_name(judge, job), names);
    for (uint32_t i = 0; i < count && i < NAMED; i++) {
        finding_note(judge, finding, place_of_name(judge, named[i]), "%s",
                     status_word(thing_status(named[i])));
    }
    finding_remedy(judge, finding,
                   "`arrived` or `fitted` with its day on what is here; `needs` without what it was done "
                   "without; or no `done` yet");
}

/* Its service counts from the day on which it was fitted, for a line of it does not say when it was last done. */
static bool counts_from_fitting(const Entity *thing)
{
    static const unsigned slot_last = 2;
    const Property *line = schema_has((KindId)thing->kind, PROP_COMMON_SERVICE) ? entity_property(thing, PROP_COMMON_SERVICE) : NULL;
    while (line != NULL && property_value(line, slot_last)->kind != VALUE_NONE) {
        line = block_next(&thing->block, line);
    }
    return line != NULL;
}

static void tell_unfitted(Judge *judge, const Entity *job, const Entity *thing)
{
    Finding *finding = judge_broken(judge, job, place_of(judge, job, PROP_JOB_DONE));
    finding_at(finding, thing);
    finding_say(judge, finding,
                "`%s` is done, and `%s`, which it needs, has arrived and is not `fitted`: from when on its service counts is "
                "not said",
                say_name(judge, job), say_name(judge, thing));
    finding_note(judge, finding, place_of(judge, thing, PROP_COMMON_SERVICE), "its service");
    finding_remedy(judge, finding, "`fitted` on `%s`, with the day on which it was; or `last` in the line of its service",
                   say_name(judge, thing));
}

void judge_done_unfitted(Judge *judge, const Entity *job)
{
    const Property *needs = entity_states(job, PROP_JOB_DONE) ? entity_property(job, PROP_JOB_NEEDS) : NULL;
    for (uint16_t i = 0; needs != NULL && i < needs->count; i++) {
        const Entity *thing = value_entity(property_value(needs, i));
        if (thing == NULL || thing->flags & ENTITY_DROPPED || !counts_from_fitting(thing)) {
            continue;
        }
        if (thing_status(thing) == STATUS_HERE) {
            tell_unfitted(judge, job, thing);
        } else if (thing_status(thing) == STATUS_FITTED) {
            judge_holds(judge);
        }
    }
}
