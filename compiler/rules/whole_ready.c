/*
 * The rule of goals, for a day on which all is to be ready: against the plan of the work, or the days on which it was done.
 */
#include "rules/ask.h"
#include "rules/dates.h"
#include "rules/upstream.h"
#include "rules/whole.h"

#include "model/jobs.h"

#include <math.h>

static void tell_overdue(Judge *judge, const Entity *goal, Date ready, const Entity *job, uint32_t left)
{
    Finding *finding = judge_broken(judge, goal, place_of(judge, goal, PROP_GOAL_READY));
    const char *more = left > 1 ? text_format(judge->arena, " and %u more are", (unsigned)(left - 1)) : " is";
    finding_say(judge, finding, "`%s` asked all to be ready %s ago; `%s`%s not done", say_name(judge, goal),
                say_days(judge, judge->today - ready), say_name(judge, job), more);
    finding_remedy(judge, finding, "`done` with its day on what is done, or another `ready` day");
    finding_remedy(judge, finding, "`ready %s met` with the day on which all was ready, if what is left is work of its own that came later",
                   say_date(judge, ready));
}

/*
 * Whether less time for a job can mend it. Where the day is missed even if all goes as fast as it may, that is what stands on a
 * way that is too long even so; else what has no float, and so decides when all is ready.
 */
static bool is_critical(const Judge *judge, const Entity *job, const Finding *finding, double wanted_s)
{
    if (finding->verdict != VERDICT_BROKEN) {
        const Figure *spare = figure_of(judge, job, FIGURE_FLOAT);
        return spare != NULL && spare->state == STATE_KNOWN && spare->high < SECONDS_A_DAY / 2.0;
    }
    const Figure *start = figure_of(judge, job, FIGURE_EARLIEST_START);
    const Figure *way = figure_of(judge, job, FIGURE_TO_THE_END);
    return start != NULL && start->state == STATE_KNOWN && way != NULL && way->state == STATE_KNOWN &&
           start->low + way->low > wanted_s + SECONDS_A_DAY / 2.0;
}

static void remedy_critical(Judge *judge, Finding *finding, double wanted_s)
{
    enum { NAMED = 8 };
    const Model *model = judge->model;
    Buf names;
    buf_init(&names, judge->arena);
    uint32_t count = 0;
    for (uint32_t i = 0; i < model->job_count; i++) {
        if (is_critical(judge, model->jobs[i], finding, wanted_s) && count++ < NAMED) {
            buf_format(&names, "%s`%s`", count > 1 ? ", " : "", say_name(judge, model->jobs[i]));
        }
    }
    if (count > 0) {
        const char *what = finding->verdict == VERDICT_BROKEN ? "what ends too late even at its fastest" : "what has no float";
        finding_remedy(judge, finding, "less time for %s: %s%s", what, names.text, count > NAMED ? " ..." : "");
    }
}

enum { NAMED_LATE = 4 };

/* What comes too late by itself: even if all work behind it goes as fast as it may. */
typedef struct TooLate {
    const Entity *things[NAMED_LATE];
    uint32_t count;
    double ends_s; /* all is ready no sooner than then */
    bool no_use;   /* one comes when all was to be ready: no faster work mends that */
} TooLate;

static void look_too_late(const Judge *judge, TooLate *late, const Entity *job, const Entity *thing,
                          double wanted_s)
{
    const Figure *arrival = figure_of(judge, thing, FIGURE_ARRIVAL);
    const Figure *way = figure_of(judge, job, FIGURE_TO_THE_END);
    if (arrival == NULL || arrival->state != STATE_KNOWN || way == NULL || way->state != STATE_KNOWN ||
        arrival->low + way->low <= wanted_s) {
        return;
    }
    late->ends_s = fmax(late->ends_s, arrival->low + way->low);
    late->no_use = late->no_use || arrival->low >= wanted_s;
    for (uint32_t i = 0; i < late->count && i < NAMED_LATE; i++) {
        if (late->things[i] == thing) {
            return;
        }
    }
    if (late->count < NAMED_LATE) {
        late->things[late->count] = thing;
    }
    late->count++;
}

static TooLate find_too_late(const Judge *judge, double wanted_s)
{
    TooLate late = {.count = 0, .ends_s = wanted_s};
    for (const Entity *job = judge->model->first_of_kind[KIND_JOB]; job != NULL; job = job->next_of_kind) {
        uint16_t at = 0;
        for (const Entity *thing = job_next_needed(job, &at); thing != NULL; thing = job_next_needed(job, &at)) {
            look_too_late(judge, &late, job, thing, wanted_s);
        }
    }
    return late;
}

/* ---- What may come too late, where the goal is open ---- */

/* By when a thing has to be here for all to be ready in time, whatever else is late. */
typedef struct Latest {
    bool needed;
    double day_s;    /* with the longest of the work behind it ... */
    double useful_s; /* ... and with the shortest */
} Latest;

/* By Entity.index. */
static Latest *find_latest(const Judge *judge, double wanted_s)
{
    Latest *latest = ARENA_ARRAY(judge->scratch, Latest, judge->model->entity_count);
    for (const Entity *job = judge->model->first_of_kind[KIND_JOB]; job != NULL; job = job->next_of_kind) {
        const Figure *way = figure_of(judge, job, FIGURE_TO_THE_END);
        uint16_t at = 0;
        for (const Entity *thing = job_next_needed(job, &at); thing != NULL && way != NULL && way->state == STATE_KNOWN;
             thing = job_next_needed(job, &at)) {
            Latest *of = &latest[thing->index];
            double day_s = wanted_s - way->high, useful_s = wanted_s - way->low;
            *of = (Latest){true, of->needed ? fmin(of->day_s, day_s) : day_s, of->needed ? fmin(of->useful_s, useful_s) : useful_s};
        }
    }
    return latest;
}

static bool may_be_too_late(const Judge *judge, const Latest *latest, const Entity *thing)
{
    const Figure *arrival = latest[thing->index].needed ? figure_of(judge, thing, FIGURE_ARRIVAL) : NULL;
    return arrival != NULL && arrival->state == STATE_KNOWN && arrival->high > latest[thing->index].useful_s;
}

/* Whether the work may end too late even with those things here: begun today, or when what else it needs has come. */
static bool work_may_be_too_late(const Judge *judge, const Latest *latest, double wanted_s)
{
    for (const Entity *job = judge->model->first_of_kind[KIND_JOB]; job != NULL; job = job->next_of_kind) {
        const Figure *way = figure_of(judge, job, FIGURE_TO_THE_END);
        if (way == NULL || way->state != STATE_KNOWN) {
            continue;
        }
        double begins_s = (double)judge->today * SECONDS_A_DAY;
        uint16_t at = 0;
        for (const Entity *thing = job_next_needed(job, &at); thing != NULL; thing = job_next_needed(job, &at)) {
            const Figure *arrival = may_be_too_late(judge, latest, thing) ? NULL : figure_of(judge, thing, FIGURE_ARRIVAL);
            begins_s = arrival != NULL ? fmax(begins_s, arrival->high) : begins_s;
        }
        if (begins_s + way->high > wanted_s) {
            return true;
        }
    }
    return false;
}

/* A line that is a range of days leaves its day open: that is found by itself. Else only the supplier knows. */
static bool hangs_on_its_day(const Figure *arrival)
{
    for (uint16_t i = 0; i < arrival->input_count; i++) {
        const Input *input = &arrival->inputs[i];
        const Value *value = input->kind == INPUT_VALUE ? property_value(input->u.property, input->slot) : NULL;
        if (value != NULL && value->kind == VALUE_QUANTITY && value->u.quantity.low < value->u.quantity.high) {
            return false;
        }
    }
    return true;
}

/* "`windows` here by 2027-03-23". */
static void add_here_by(const Judge *judge, Buf *text, const Entity *thing, double day_s)
{
    bool possible = day_s >= (double)judge->today * SECONDS_A_DAY;
    buf_format(text, "%s`%s` here %s", text->length > 0 ? ", " : "", say_name(judge, thing),
               possible ? text_format(judge->arena, "by %s", say_date(judge, (Date)floor(day_s / SECONDS_A_DAY))) : "today at the latest");
}

/*
 * What may come so late that the work behind it, at its shortest, ends too late: the goal hangs on its day. Returns whether some of
 * it may come when all was to be ready: no faster work mends that.
 */
static bool tell_may_be_late(Judge *judge, Finding *finding, double wanted_s)
{
    const Latest *latest = find_latest(judge, wanted_s);
    Buf text;
    buf_init(&text, judge->arena);
    uint32_t count = 0;
    bool no_use = false;
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *thing = judge->model->entities[i];
        no_use = no_use || (may_be_too_late(judge, latest, thing) && figure_of(judge, thing, FIGURE_ARRIVAL)->high >= wanted_s);
        if (!may_be_too_late(judge, latest, thing) || count++ >= NAMED_LATE) {
            continue;
        }
        add_here_by(judge, &text, thing, latest[i].day_s);
        if (hangs_on_its_day(figure_of(judge, thing, FIGURE_ARRIVAL))) {
            finding_hangs_on(judge, finding, thing, PROP_NONE, text_format(judge->arena, "the day on which `%s` comes", say_name(judge, thing)));
        }
    }
    if (count > 0) {
        finding_remedy(judge, finding, "%s%s%s", text.text, count > NAMED_LATE ? " ..." : "",
                       work_may_be_too_late(judge, latest, wanted_s) ? ", and less time for the work" : "");
    }
    return no_use;
}

static void remedy_late(Judge *judge, Finding *finding, double wanted_s)
{
    if (judge->quiet) {
        return;
    }
    if (finding->verdict == VERDICT_OPEN && tell_may_be_late(judge, finding, wanted_s)) {
        return;
    }
    TooLate late = find_too_late(judge, wanted_s);
    if (late.count > 0) {
        Date day = (Date)(late.ends_s / SECONDS_A_DAY);
        finding_remedy(
            judge, finding, "an earlier day for %s: as it stands, all is ready no sooner than %s by %s alone",
            say_names(judge, late.things, late.count < NAMED_LATE ? late.count : NAMED_LATE, late.count),
            say_date(judge, day), late.count == 1 ? "it" : "them");
    }
    if (!late.no_use) {
        remedy_critical(judge, finding, wanted_s);
    }
}

/* The plan ends after the day, or may. */
static void judge_plan_end(Judge *judge, const Entity *goal, Date ready)
{
    const Figure *end = figure_of(judge, judge->model->boat, FIGURE_READY);
    Side wanted = side_number((double)ready * SECONDS_A_DAY, UNIT_ALONE(UNIT_DATE));
    Finding *finding =
        judge_at_most(judge, goal, place_of(judge, goal, PROP_GOAL_READY), side_figure(end), wanted);
    if (finding == NULL) {
        return;
    }
    if (finding->verdict == VERDICT_BROKEN) {
        int days = (int)((end->low - wanted.value.low) / SECONDS_A_DAY);
        finding_say(judge, finding,
                    "`%s` asks that all is ready by %s; the plan of the work ends on %s, %s%s later",
                    say_name(judge, goal), say_date(judge, ready), say_figure(judge, end),
                    end->low < end->high ? "at least " : "", say_days(judge, days));
    } else {
        finding_say(judge, finding, "`%s` asks that all is ready by %s; the plan of the work ends on %s",
                    say_name(judge, goal), say_date(judge, ready), say_figure(judge, end));
    }
    remedy_late(judge, finding, wanted.value.low);
}

/* All is done: whether it was by the day. */
static void judge_done_by(Judge *judge, const Entity *goal, Date ready)
{
    const Figure *end = figure_of(judge, judge->model->boat, FIGURE_READY);
    if (end == NULL || end->state != STATE_KNOWN || end->high <= (double)ready * SECONDS_A_DAY) {
        judge_holds(judge);
        return;
    }
    Date last = (Date)(end->high / SECONDS_A_DAY);
    Finding *finding = judge_broken(judge, goal, place_of(judge, goal, PROP_GOAL_READY));
    finding_say(judge, finding, "`%s` asked that all is ready by %s; the last job was done on %s, %s later",
                say_name(judge, goal), say_date(judge, ready), say_date(judge, last),
                say_days(judge, last - ready));
    finding_remedy(judge, finding, "the day that it became, `ready %s`", say_date(judge, last));
}

/* Its owner says when it was met: whatever work comes later, it stays so. */
static void judge_met(Judge *judge, const Entity *goal, Date ready, const Value *line)
{
    Date met = line->u.date;
    if (met <= ready && met <= judge->today) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, goal, value_span(judge->model, line));
    if (met > judge->today) {
        finding_say(judge, finding, "`%s` is said to be met on %s, which is still to come: today is %s", say_name(judge, goal), say_date(judge, met),
                    say_date(judge, judge->today));
        finding_remedy(judge, finding, "`ready %s` alone, until it is", say_date(judge, ready));
    } else {
        finding_say(judge, finding, "`%s` asked that all is ready by %s; it was on %s, %s later", say_name(judge, goal), say_date(judge, ready),
                    say_date(judge, met), say_days(judge, met - ready));
        finding_remedy(judge, finding, "the day that it became, `ready %s met %s`", say_date(judge, met), say_date(judge, met));
    }
}

void judge_goal_ready(Judge *judge, const Entity *goal)
{
    const Property *line = entity_property(goal, PROP_GOAL_READY);
    if (line->flags & PROPERTY_BROKEN) {
        judge_waiting(judge);
        return;
    }
    Date ready = property_value(line, 0)->u.date;
    const Value *met = property_value(line, 1);
    if (met->kind == VALUE_DATE) {
        judge_met(judge, goal, ready, met);
        return;
    }
    const Entity *first = NULL;
    uint32_t left = 0;
    for (const Entity *job = judge->model->first_of_kind[KIND_JOB]; job != NULL; job = job->next_of_kind) {
        if (!whole_is_out(job) && !entity_states(job, PROP_JOB_DONE)) {
            first = first != NULL ? first : job;
            left++;
        }
    }
    if (left == 0) {
        judge_done_by(judge, goal, ready);
    } else if (judge->today > ready) {
        tell_overdue(judge, goal, ready, first, left);
    } else {
        judge_plan_end(judge, goal, ready);
    }
}
