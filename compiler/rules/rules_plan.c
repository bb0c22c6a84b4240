/*
 * Rules of the work plan: what holds everything up, and what has to be ordered now.
 *
 * The days are figures of the plan; today is the day that is judged by.
 */
#include "rules/ask.h"
#include "rules/families.h"

#include "rules/dates.h"
#include "rules/plan_jobs.h"

#include "model/jobs.h"
#include "model/status.h"

#include <math.h>

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
            if (value_names(value, thing) && count++ < MOST_PLACES) {
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

/* Whether all may be ready only after a day that a goal asks for: else it costs nobody anything that something is waited for. */
static bool may_miss_goal(const Judge *judge)
{
    const Figure *ready = figure_of(judge, judge->model->boat, FIGURE_READY);
    for (const Entity *goal = judge->model->first_of_kind[KIND_GOAL]; goal != NULL; goal = goal->next_of_kind) {
        const Value *day = goal_day_asked(goal);
        if (day->kind == VALUE_DATE && (ready == NULL || ready->high > (double)day->u.date * SECONDS_A_DAY)) {
            return true;
        }
    }
    return false;
}

/* Whether this is the one of those that come just as late under which that is told: the first that is ordered. */
static bool is_first_of_held(const Entity *thing, const Figure *holds)
{
    for (uint16_t i = 0; i < holds->input_count; i++) {
        const Figure *arrival = holds->inputs[i].kind == INPUT_FIGURE ? holds->inputs[i].u.figure : NULL;
        if (arrival != NULL && arrival->id == FIGURE_ARRIVAL) {
            return arrival->subject == thing;
        }
    }
    return true;
}

/* "36 days sooner", "36 to 40 days sooner", "up to 56 days sooner", "sooner". */
static const char *say_sooner(const Judge *judge, const Figure *holds)
{
    if (!isfinite(holds->high)) {
        return "sooner";
    }
    int least = (int)(holds->low / SECONDS_A_DAY), most = (int)(holds->high / SECONDS_A_DAY);
    const char *days = say_days(judge, most);
    return least == most ? text_format(judge->arena, "%s sooner", days)
           : least == 0  ? text_format(judge->arena, "up to %s sooner", days)
                         : text_format(judge->arena, "%d to %s sooner", least, days);
}

/* "; `stove` would be waited for nearly as long: with that here too, 27 days sooner" */
static const char *say_next(const Judge *judge, const Entity *thing)
{
    const Figure *nearly = figure_of(judge, thing, FIGURE_HOLDS_UP_NEARLY);
    return nearly == NULL ? ""
                          : text_format(judge->arena, "; %s would be waited for nearly as long: with that here too, %s", nearly->remark,
                                        say_sooner(judge, nearly));
}

static void look_holding(Judge *judge, const Entity *thing, const Figure *holds)
{
    Purchase purchase = purchase_of(thing);
    if (!purchase_is_under_way(&purchase) || !is_first_of_held(thing, holds)) {
        return; /* still to be ordered: told by `order-now` */
    }
    const Property *promise = purchase.last_promise;
    Span place = promise != NULL ? property_span(judge->model, promise) : place_of_name(judge, thing);
    Finding *finding =
        judge_at_most(judge, thing, place, side_figure(holds), side_number(0.0, UNIT_ALONE(UNIT_D)));
    if (finding == NULL) {
        return;
    }
    if (finding->verdict == VERDICT_OPEN && promise != NULL && property_date(promise) < judge->today) {
        finding_hangs_on(judge, finding, thing, PROP_NONE, text_format(judge->arena, "the day on which `%s` comes", say_name(judge, thing)));
    }
    if (!may_miss_goal(judge)) {
        finding_severity(finding, SEVERITY_ADVICE);
    }
    const Figure *arrival = figure_of(judge, thing, FIGURE_ARRIVAL);
    const char *all = finding->verdict == VERDICT_BROKEN ? "all waits" : "all may wait";
    const char *what = holds->remark != NULL ? holds->remark : text_format(judge->arena, "`%s`", say_name(judge, thing));
    const char *come = holds->remark != NULL ? "they" : "it";
    const char *with = holds->remark != NULL ? "them" : "it";
    const char *sooner = text_format(judge->arena, "%s%s", say_sooner(judge, holds), say_next(judge, thing));
    if (isfinite(arrival->high)) {
        finding_say(judge, finding, "%s for %s: %s may come as late as %s, and with %s here today all could be ready %s", all, what,
                    come, say_date(judge, date_of_figure(arrival)), with, sooner);
    } else {
        finding_say(judge, finding, "%s for %s: nothing says by when %s come at the latest, and with %s here today all could be ready %s",
                    all, what, holds->remark != NULL ? "they" : "it may", with, sooner);
    }
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

/*
 * "; waiting for it moves the end of all work by 17 days", with what comes just as late; or for what it is late all the same. Of
 * what is ordered on its last day nothing is moved yet.
 */
static const char *say_moves(const Judge *judge, const Entity *thing, Date last)
{
    const Figure *holds = figure_of(judge, thing, FIGURE_HOLDS_UP);
    int days = holds != NULL && holds->state == STATE_KNOWN ? (int)(fmin(holds->low, 1e6 * SECONDS_A_DAY) / SECONDS_A_DAY) : 0;
    if (days == 0 || last >= judge->today) {
        return ", for its job to have a week in hand";
    }
    return text_format(judge->arena, "; waiting for %s moves the end of all work by %s", holds->remark != NULL ? holds->remark : "it",
                       say_days(judge, days));
}

static void say_order(Judge *judge, Finding *finding, const Entity *thing, const Figure *by)
{
    const char *name = say_name(judge, thing);
    if (finding->verdict == VERDICT_BROKEN) {
        Date last = date_of_figure(by);
        const char *when = last == judge->today ? "is to be ordered today"
                                                : text_format(judge->arena, "was to be ordered by %s", say_date(judge, last));
        finding_say(judge, finding, "`%s` %s%s%s", name, when, by->low < by->high ? " at the latest" : "", say_moves(judge, thing, last));
        return;
    }
    const char *latest = isfinite(by->high) ? text_format(judge->arena, " by %s at the latest", say_date(judge, date_of_figure(by))) : "";
    if (isfinite(by->low)) {
        Date first = (Date)floor(by->low / SECONDS_A_DAY);
        const char *when = first == judge->today ? "is to be ordered today"
                                                 : text_format(judge->arena, "was to be ordered by %s", say_date(judge, first));
        finding_say(judge, finding, "`%s` %s, if it and the work behind it take as long as they may; else%s", name, when,
                    *latest != '\0' ? latest : " later");
    } else {
        finding_say(judge, finding,
                    "`%s` is to be ordered%s; earlier by how long it takes, which nothing says", name, latest);
    }
}

static void look_order(Judge *judge, const Entity *thing, const Figure *by)
{
    Finding *finding = judge_at_least(judge, thing, place_of_name(judge, thing), side_figure(by),
                                      side_date(judge->today + 1));
    if (finding == NULL) {
        return;
    }
    say_order(judge, finding, thing, by);
    note_needs(judge, finding, thing);
    finding_remedy(judge, finding,
                   "an order today, and `ordered` with its day; or a shorter `lead`, if somebody has it");
}

/* Without a day on which all is to be ready the plan moves on with today, and nothing is ever late. */
static void judge_order_now(Judge *judge)
{
    for (const Entity *goal = judge->model->first_of_kind[KIND_GOAL]; goal != NULL; goal = goal->next_of_kind) {
        if (goal_day_asked(goal)->kind != VALUE_NONE) {
            each_planned(judge, FIGURE_ORDER_BY, look_order);
            return;
        }
    }
}

/* out-of-order */

static Span place_of_start(const Judge *judge, const Entity *job)
{
    bool done = entity_states(job, PROP_JOB_DONE);
    return place_of(judge, job, done ? PROP_JOB_DONE : PROP_JOB_STARTED);
}

static void judge_out_of_order(Judge *judge, const Entity *job)
{
    bool done = entity_states(job, PROP_JOB_DONE);
    uint16_t at = 0;
    if (!done && !entity_states(job, PROP_JOB_STARTED)) {
        return;
    }
    for (const Entity *before = job_next_before(job, &at); before != NULL; before = job_next_before(job, &at)) {
        if (entity_states(before, PROP_JOB_DONE)) {
            judge_holds(judge);
            continue;
        }
        Finding *finding = judge_broken(judge, job, place_of_start(judge, job));
        finding_at(finding, before);
        finding_say(judge, finding, "`%s` is %s, and comes after `%s`, which is not done", say_name(judge, job),
                    done ? "done" : "begun", say_name(judge, before));
        finding_note(judge, finding, place_of(judge, job, PROP_JOB_AFTER), "after it");
        finding_remedy(judge, finding, "`done` with its day on `%s`, if it is", say_name(judge, before));
        finding_remedy(judge, finding, "`after` without it, if the one does not wait for the other");
    }
}

/* needs-dropped */

/* What stands in the place of a thing that is not bought; NULL: nothing says so. */
static const Entity *replacement_of(const Model *model, const Entity *dropped)
{
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *thing = model->entities[i];
        if (!(thing->flags & ENTITY_DROPPED) && entity_names(thing, PROP_COMMON_REPLACES, dropped)) {
            return thing;
        }
    }
    return NULL;
}

static void tell_dropped(Judge *judge, const Entity *job, const Value *value)
{
    const Entity *thing = value_entity(value);
    const Entity *instead = replacement_of(judge->model, thing);
    Finding *finding = judge_broken(judge, job, value_span(judge->model, value));
    finding_at(finding, thing);
    finding_say(judge, finding, "`%s` needs `%s`, which is dropped: the plan waits for nothing in its place", say_name(judge, job),
                say_name(judge, thing));
    if (instead != NULL) {
        finding_remedy(judge, finding, "`needs %s`, which replaces it", say_name(judge, instead));
    } else {
        finding_remedy(judge, finding, "`needs` with what comes instead of it, or without it");
    }
}

static void judge_needs_dropped(Judge *judge, const Entity *job)
{
    const Property *needs = entity_states(job, PROP_JOB_DONE) ? NULL : entity_property(job, PROP_JOB_NEEDS);
    for (uint16_t i = 0; needs != NULL && i < needs->count; i++) {
        const Value *value = property_value(needs, i);
        bool thing = value_entity(value) != NULL;
        if (thing && value_entity(value)->flags & ENTITY_DROPPED) {
            tell_dropped(judge, job, value);
        } else if (thing) {
            judge_holds(judge);
        }
    }
}

/* replaced-counts */

static void judge_replaced_counts(Judge *judge)
{
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *entity = judge->model->entities[i];
        const Value *value = property_value(entity_property(entity, PROP_COMMON_REPLACES), 0);
        if (entity->flags & (ENTITY_BROKEN | ENTITY_DROPPED) || value_entity(value) == NULL) {
            continue;
        }
        const Entity *old = value_entity(value);
        if (old->flags & ENTITY_DROPPED) {
            judge_holds(judge);
            continue;
        }
        Finding *finding = judge_broken(judge, entity, value_span(judge->model, value));
        finding_at(finding, old);
        finding_say(judge, finding, "`%s` replaces `%s`, which is not dropped: both count, in money, mass and power",
                    say_name(judge, entity), say_name(judge, old));
        finding_note(judge, finding, entity_span(judge->model, old), "counted beside it");
        finding_remedy(judge, finding, "`status dropped` on `%s`", say_name(judge, old));
        finding_remedy(judge, finding, "no `replaces`, if both stay aboard");
    }
}

/* dated-ahead */

/* What lines state that something has happened, by PropId. */
static const char *const past_lines[PROP_COUNT] = {
    [PROP_COMMON_ORDERED] = "was ordered on",     [PROP_COMMON_ARRIVED] = "arrived on",
    [PROP_COMMON_FITTED] = "was fitted on",       [PROP_COMMON_EVENT] = "has an event of",
    [PROP_COMMON_SERVICE] = "had its service on", [PROP_ENGINE_HOURS] = "had its hours read on",
    [PROP_JOB_STARTED] = "was begun on",          [PROP_JOB_DONE] = "was done on",
};

static void look_ahead(Judge *judge, const Entity *entity, const Property *line, const char *is)
{
    for (uint16_t i = 0; i < line->count && !(line->flags & PROPERTY_BROKEN); i++) {
        const Value *value = property_value(line, i);
        if (value->kind != VALUE_DATE || value->flags & VALUE_BROKEN) {
            continue;
        }
        if (value->u.date <= judge->today) {
            judge_holds(judge);
            continue;
        }
        Finding *finding = judge_broken(judge, entity, value_span(judge->model, value));
        finding_about(finding, (PropId)line->id);
        finding_say(judge, finding, "`%s` %s %s, which is still to come: today is %s", say_name(judge, entity), is,
                    say_date(judge, value->u.date), say_date(judge, judge->today));
        finding_remedy(judge, finding, line->id == PROP_COMMON_ARRIVED ? "`promised` with that day, or the day on which it came"
                                                                       : "the day on which it was, or no such line yet");
    }
}

static void judge_dated_ahead(Judge *judge)
{
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *entity = judge->model->entities[i];
        if (entity->flags & (ENTITY_BROKEN | ENTITY_DROPPED)) {
            continue;
        }
        for (uint32_t p = 0; p < entity->block.count; p++) {
            const Property *line = &entity->block.properties[p];
            if (past_lines[line->id] != NULL) {
                look_ahead(judge, entity, line, past_lines[line->id]);
            }
        }
    }
}

#define STOVE_JOB(FACTS) \
    EXAMPLE_BOAT "heater stove { " FACTS " }\njob warm \"Fit the stove\" { takes 2 d; needs stove }\n"

#define DONE_JOB(FACTS) \
    EXAMPLE_BOAT "heater stove { " FACTS " }\njob warm \"Fit the stove\" { takes 2 d; needs stove; done 2001-03-04 }\n"

#define READY(DAY) "goal launched { ready " DAY " }\n"

#define TWO_JOBS(FIRST, THEN)                                        \
    EXAMPLE_BOAT "job wire-galley { takes 2 d; " FIRST " }\n"        \
                 "job line-galley { takes 3 d; after wire-galley; " THEN " }\n"

static const char a_day_is_past_or_not[] = "a day has come or it has not, and a job is done or it is not";
static const Rule rules[] = {
    {
        .name = "holds-up",
        .severity = SEVERITY_WARNING,
        .title = "nothing that is on order moves the day on which all is ready",
        .basis = ON_BOTH,
        .source = "critical path method; common practice, no source",
        .why = "Of all that is late, most does not matter: its job has time. What stands on the critical "
               "path costs a day "
               "of the season for each day that it is late, and is what to telephone about. Things that come just as late are "
               "told together: one of them alone moves nothing. What may come so early that nothing waits for it, for its lead is a range or the "
               "promised day has passed, leaves it open. Advice where no goal "
               "states a `ready` day, or all is ready by it even so.",
        .breaks = STOVE_JOB("ordered 2001-03-01; promised 2999-05-01") READY("2001-05-02"),
        .holds = STOVE_JOB("ordered 2001-03-01; arrived 2001-04-27") READY("2001-05-02"),
        .open = STOVE_JOB("ordered 2001-03-01; promised 2001-05-01") "job varnish { takes 1..90 d }\n" READY("2001-05-02"),
        .judge_boat = judge_holds_up,
    },
    {
        .name = "order-now",
        .severity = SEVERITY_WARNING,
        .title = "what a job needs is ordered while it can still come in time",
        .basis = ON_BOTH,
        .source = "need-by day less lead time and a week in hand; common practice, no source",
        .why = "Lead times are longer than they seem from the workbench. The last day to order is that on which a goal asks all "
               "to be ready, less the longest work from the job that needs the thing to the end, less the lead time, less a week "
               "for what goes wrong. It hangs on nothing else in the plan, and stays where it is when it has passed. Only where "
               "all is ready later in any case, by the work and by what is on order, it is that much later: nobody has to hurry "
               "then. Where no goal states a `ready` day, no order is late, and nothing is said.",
        .breaks = STOVE_JOB("lead 6 week") READY("2001-06-01"),
        .holds = STOVE_JOB("lead 6 week; ordered 2001-03-01; arrived 2001-04-27") READY("2001-06-01"),
        .open = STOVE_JOB("lead ?") "job hull { takes 300 d }\n" READY("2001-06-01"),
        .judge_boat = judge_order_now,
    },
    {
        .name = "out-of-order",
        .severity = SEVERITY_WARNING,
        .title = "no job begins before those that it comes after are done",
        .basis = ON_BOTH,
        .source = "critical path method; common practice, no source",
        .why = "Either the job before it is done and its line does not say so, or work goes on that may have to be "
               "opened up again. The plan then counts on both: that the job ends when the other does, and that all of "
               "it is still to do behind that.",
        .breaks = TWO_JOBS("", "started 2001-03-02"),
        .holds = TWO_JOBS("done 2001-03-01", "started 2001-03-02"),
        .never_open = a_day_is_past_or_not,
        .kinds = {KIND_JOB},
        .judge = judge_out_of_order,
    },
    {
        .name = "runs-over",
        .severity = SEVERITY_WARNING,
        .title = "a job that is begun is done when its time is over",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "Its line is behind what is so aboard, or the job is larger than it was thought, and so is what comes after it. Until "
               "one of them is said the plan does not know when it ends: today at the earliest, and as long again at the latest. What "
               "a job waits for, a thing or another job, is told of that.",
        .breaks = TWO_JOBS("started 2001-03-02", ""),
        .holds = TWO_JOBS("started 2001-03-02; done 2001-03-09", ""),
        .open = EXAMPLE_BOAT "job paint { takes >= 10 d; started 2001-03-02 }\n",
        .kinds = {KIND_JOB},
        .judge = judge_runs_over,
    },
    {
        .name = "done-without",
        .severity = SEVERITY_WARNING,
        .title = "what a job needs was here before it was done",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "A thing that a job has used is aboard. While its own lines say that it is still to be bought or under way, it stands on "
               "the shopping list, its money counts as still to be spent, and it may be bought twice; or the job is not done.",
        .breaks = DONE_JOB("price 700.00 EUR"),
        .holds = DONE_JOB("price 700.00 EUR; arrived 2001-03-01"),
        .never_open = a_day_is_past_or_not,
        .kinds = {KIND_JOB},
        .judge = judge_done_without,
    },
    {
        .name = "done-unfitted",
        .severity = SEVERITY_ADVICE,
        .title = "what a job has used and what has a service is fitted once the job is done",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "A service counts from the day on which it was last done, or from that on which the thing was fitted. Of what has `arrived` alone "
               "neither is said, though the job that it was for is done: the service plan then has no day for it.",
        .breaks = DONE_JOB("arrived 2001-03-01; service every 12 month \"Sweep the flue\""),
        .holds = DONE_JOB("arrived 2001-03-01; fitted 2001-03-04; service every 12 month \"Sweep the flue\""),
        .never_open = a_day_is_past_or_not,
        .kinds = {KIND_JOB},
        .judge = judge_done_unfitted,
    },
    {
        .name = "needs-dropped",
        .severity = SEVERITY_WARNING,
        .title = "no job that is left to do needs what is dropped",
        .basis = ON_BOTH,
        .source = "critical path method; common practice, no source",
        .why = "What is dropped never comes, and the plan does not wait for it: the job looks ready to begin, though what is "
               "to be fitted in its place may be months away.",
        .breaks = STOVE_JOB("status dropped") "heater stove-2 { replaces stove }\n",
        .holds = STOVE_JOB(""),
        .never_open = a_day_is_past_or_not,
        .kinds = {KIND_JOB},
        .judge = judge_needs_dropped,
    },
    {
        .name = "replaced-counts",
        .severity = SEVERITY_WARNING,
        .title = "what is replaced is dropped",
        .basis = ON_BOTH,
        .source = "a choice of this program",
        .why = "What another thing `replaces` stays in the spec as `status dropped`, so that its story is kept. Until it says so it "
               "counts beside what takes its place: twice the price, twice the mass, twice the current.",
        .breaks = EXAMPLE_BOAT "heater stove { status fitted }\nheater stove-2 { replaces stove }\n",
        .holds = EXAMPLE_BOAT "heater stove { status dropped }\nheater stove-2 { replaces stove }\n",
        .never_open = "a thing is dropped or it is not",
        .judge_boat = judge_replaced_counts,
    },
    {
        .name = "dated-ahead",
        .severity = SEVERITY_FAULT,
        .title = "what is stated as ordered, here, fitted, begun or done has happened by today",
        .basis = ON_BOTH,
        .source = "a calendar; common practice, no source",
        .why = "A slip in a year makes a thing that is late one that has come, and its warning is gone: cost, plan and "
               "shopping list believe the line. What is expected is `promised`.",
        .breaks = STOVE_JOB("ordered 2001-03-01; arrived 2999-04-27"),
        .holds = STOVE_JOB("ordered 2001-03-01; arrived 2001-04-27"),
        .never_open = a_day_is_past_or_not,
        .judge_boat = judge_dated_ahead,
    },
};
const RuleFamily rules_plan = RULE_FAMILY("Work plan", rules);
