/*
 * Rules of the work plan: what holds everything up, and what has to be ordered now.
 *
 * The days are figures of the plan; today is the day that is judged by.
 */
#include "rules/families.h"

#include "rules/dates.h"

#include "model/status.h"

static Side side_date(Date day)
{
    return side_number((double)day * SECONDS_A_DAY, UNIT_ALONE(UNIT_DATE));
}

static Date date_of_figure(const Figure *figure)
{
    return (Date)(figure->high / SECONDS_A_DAY);
}

/* Notes where the first jobs that are left to do say that they need the thing. */
static void note_needs(Judge *judge, Finding *finding, const Entity *thing)
{
    enum { MOST_PLACES = 3 };
    int count = 0;
    for (const Entity *job = judge->model->first_of_kind[KIND_JOB]; job != NULL; job = job->next_of_kind) {
        const Property *needs =
            entity_states(job, PROP_JOB_DONE) ? NULL : entity_property(job, PROP_JOB_NEEDS);
        for (uint16_t i = 0; needs != NULL && i < needs->count; i++) {
            const Value *value = property_value(needs, i);
            if (value->kind == VALUE_REFERENCE && value->u.entity == thing && count++ < MOST_PLACES) {
                finding_note(judge, finding, value_span(judge->model, value), "`%s` needs it",
                             say_name(judge, job));
            }
        }
    }
}

/* Each thing that the plan has a figure of. */
static void each_planned(Judge *judge, FigureId id, void (*look)(Judge *, const Entity *, const Figure *))
{
    if (judge->model->job_count == 0) {
        return;
    }
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *thing = judge->model->entities[i];
        const Figure *figure = figure_of(judge, thing, id);
        if (figure != NULL) {
            look(judge, thing, figure);
        }
    }
}

/* holds-up */

static void look_holding(Judge *judge, const Entity *thing, const Figure *holds)
{
    Purchase purchase = purchase_of(thing);
    if (!purchase_is_under_way(&purchase)) {
        return; /* still to be ordered: told by `order-now` */
    }
    const Property *promise = purchase.last_promise;
    Span place = promise != NULL ? property_span(judge->model, promise) : place_of_name(judge, thing);
    Finding *finding =
        judge_at_most(judge, thing, place, side_figure(holds), side_number(0.0, UNIT_ALONE(UNIT_D)));
    if (finding == NULL) {
        return;
    }
    const Figure *arrival = figure_of(judge, thing, FIGURE_ARRIVAL);
    finding_say(
        judge, finding,
        "all waits for `%s`: it may come as late as %s, and with it here today all could be ready %s sooner",
        say_name(judge, thing), say_date(judge, date_of_figure(arrival)),
        say_days(judge, (int)(holds->high / SECONDS_A_DAY)));
    note_needs(judge, finding, thing);
    finding_remedy(
        judge, finding,
        "an earlier day from the supplier, another one that is to be had, or jobs that begin without it");
}

static void judge_holds_up(Judge *judge)
{
    each_planned(judge, FIGURE_HOLDS_UP, look_holding);
}

/* order-now */

static void look_order(Judge *judge, const Entity *thing, const Figure *by)
{
    Finding *finding = judge_at_least(judge, thing, place_of_name(judge, thing), side_figure(by),
                                      side_date(judge->today + 1));
    if (finding == NULL) {
        return;
    }
    Date last = date_of_figure(by);
    const Figure *holds = figure_of(judge, thing, FIGURE_HOLDS_UP);
    int days = holds != NULL && holds->state == STATE_KNOWN ? (int)(holds->high / SECONDS_A_DAY) : 0;
    const char *when = last == judge->today
                           ? "is to be ordered today"
                           : text_format(judge->arena, "was to be ordered by %s", say_date(judge, last));
    if (days > 0) {
        finding_say(judge, finding, "`%s` %s; waiting for it moves the end of all work by %s",
                    say_name(judge, thing), when, say_days(judge, days));
    } else {
        finding_say(judge, finding, "`%s` %s, for its job to have a week in hand", say_name(judge, thing),
                    when);
    }
    note_needs(judge, finding, thing);
    finding_remedy(judge, finding,
                   "an order today, and `ordered` with its day; or a shorter `lead`, if somebody has it");
}

static void judge_order_now(Judge *judge)
{
    each_planned(judge, FIGURE_ORDER_BY, look_order);
}

#define STOVE_JOB(FACTS) \
    EXAMPLE_BOAT "heater stove { " FACTS " }\njob warm \"Fit the stove\" { takes 2 d; needs stove }\n"

static const char one_corner[] =
    "its days are those of the latest corner, in which everything takes as long as it may";

static const Rule rules[] = {
    {
        .name = "holds-up",
        .severity = SEVERITY_WARNING,
        .title = "nothing that is on order moves the day on which all is ready",
        .basis = ON_BOTH,
        .source = "critical path method; common practice, no source",
        .why = "Of all that is late, most does not matter: its job has time. What stands on the critical "
               "path costs a day "
               "of the season for each day that it is late, and is what to telephone about.",
        .breaks = STOVE_JOB("ordered 2001-03-01; promised 2001-05-01"),
        .holds = STOVE_JOB("ordered 2001-03-01; arrived 2001-04-27"),
        .never_open = one_corner,
        .judge_boat = judge_holds_up,
    },
    {
        .name = "order-now",
        .severity = SEVERITY_WARNING,
        .title = "what a job needs is ordered while it can still come in time",
        .basis = ON_BOTH,
        .source = "need-by day less lead time and a week in hand; common practice, no source",
        .why = "Lead times are longer than they seem from the workbench. The last day to order is the latest "
               "start of the job that needs the thing, less the longest lead time, less a week for what goes "
               "wrong; where a goal asks for a later day than the one on which all can be ready, that much "
               "later.",
        .breaks = STOVE_JOB("lead 6 week"),
        .holds = STOVE_JOB("lead 6 week; ordered 2001-03-01; arrived 2001-04-27"),
        .never_open = one_corner,
        .judge_boat = judge_order_now,
    },
};
const RuleFamily rules_plan = RULE_FAMILY("Work plan", rules);
