/*
 * The work plan: the jobs, each behind those that must be done before it, else in the order of the spec.
 */
#include "output/book_chapters.h"

#include "model/jobs.h"
#include "model/status.h"

/*
 * Putting jobs in order: a walk from each job to those before it, with a stack of its own, for a chain may be
 * long.
 */

typedef enum Mark { MARK_NEW, MARK_BEGUN, MARK_LISTED } Mark;

typedef struct Step {
    const BookThing *job;
    uint16_t next; /* of its `after` */
} Step;

typedef struct Plan {
    const BookThing **jobs; /* in the order of doing */
    uint32_t count;
    Step *stack;
    uint32_t depth;
    uint8_t *marks; /* by Symbol of the job's name */
} Plan;

static const BookThing *job_before(const Book *book, const Step *step)
{
    const Property *after = entity_property(step->job->entity, PROP_JOB_AFTER);
    if (after == NULL || step->next >= after->count) {
        return NULL;
    }
    const Value *value = &after->values[step->next];
    return value_entity(value) != NULL ? book_thing(book, value_entity(value))
                                                                     : step->job;
}

static void begin_job(Plan *plan, const BookThing *job)
{
    plan->marks[job->entity->name] = MARK_BEGUN;
    plan->stack[plan->depth++] = (Step){job, 0};
}

/* Jobs that wait for one another in a circle are listed in the order in which they are met. */
static void list_with_those_before(const Book *book, Plan *plan, const BookThing *job)
{
    begin_job(plan, job);
    while (plan->depth > 0) {
        Step *top = &plan->stack[plan->depth - 1];
        const BookThing *before = job_before(book, top);
        if (before == NULL) {
            plan->marks[top->job->entity->name] = MARK_LISTED;
            plan->jobs[plan->count++] = top->job;
            plan->depth--;
            continue;
        }
        top->next++;
        if (before->entity->kind == KIND_JOB && plan->marks[before->entity->name] == MARK_NEW) {
            begin_job(plan, before);
        }
    }
}

static Plan put_in_order(const Book *book)
{
    uint32_t jobs = 0;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        jobs += t->entity->kind == KIND_JOB;
    }
    Plan plan = {.jobs = ARENA_ARRAY(book->arena, const BookThing *, jobs),
                 .stack = ARENA_ARRAY(book->arena, Step, jobs),
                 .marks = ARENA_ARRAY(book->arena, uint8_t, symbols_end(book->outcome->spec->symbols))};
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind == KIND_JOB && plan.marks[t->entity->name] == MARK_NEW) {
            list_with_those_before(book, &plan, t);
        }
    }
    return plan;
}

/* Telling them */

static bool is_missing(const Entity *thing)
{
    if (!is_bought(thing)) {
        return false;
    }
    Status status = thing_status(thing);
    return status != STATUS_HERE && status != STATUS_FITTED;
}

/* Whether it still has to come, with any of these options. */
static bool is_missing_in(const Book *book, CaseSet cases, const Entity *thing)
{
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        const Entity *here = cases >> c & 1 ? book_same_thing(&book->outcome->cases[c], thing) : NULL;
        if (here != NULL && is_missing(here)) {
            return true;
        }
    }
    return false;
}

/* What it needs with any of the options, and how far that has come where it is not here. */
static bool needs_cell(Book *book, const Entity *job)
{
    bool missing = false;
    const BookNamed *first = book_named(book, job, PROP_JOB_NEEDS);
    markdown_cell(&book->md);
    for (const BookNamed *need = first; need != NULL; need = need->next) {
        markdown_text(&book->md, need == first ? STR("") : STR(", "));
        markdown_code(&book->md, book_name(book, need->thing));
        if (is_missing_in(book, need->cases, need->thing)) {
            markdown_format(&book->md, " (%s)", book_status(book, need->thing).text);
            missing = true;
        }
        if (need->only_with != NULL) {
            markdown_format(&book->md, " (with %s)", need->only_with);
        }
    }
    markdown_text(&book->md, first != NULL ? STR("") : book_nothing);
    return missing;
}

static bool waits_for_a_job_in(const Entity *job)
{
    const Property *after = entity_property(job, PROP_JOB_AFTER);
    for (uint16_t i = 0; after != NULL && i < after->count; i++) {
        const Value *value = &after->values[i];
        if (value_entity(value) != NULL && !entity_states(value_entity(value), PROP_JOB_DONE)) {
            return true;
        }
    }
    return false;
}

/* Whether that is so of the job with any of the options. */
static bool in_any_case(const Book *book, const Entity *job, bool (*is_so)(const Entity *))
{
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        const Entity *here = book_same_thing(&book->outcome->cases[c], job);
        if (here != NULL && is_so(here)) {
            return true;
        }
    }
    return false;
}

static bool waits_for_a_job(const Book *book, const Entity *job)
{
    return in_any_case(book, job, waits_for_a_job_in);
}

static void state_cell(Book *book, const Entity *job, bool missing)
{
    if (entity_states(job, PROP_JOB_DONE)) {
        book_cell(book, str_from(text_format(book->arena, "done %s",
                                             book_value(book, job, PROP_JOB_DONE, 0).text)));
    } else if (entity_states(job, PROP_JOB_STARTED)) {
        book_cell(book, str_from(text_format(book->arena, "begun %s",
                                             book_value(book, job, PROP_JOB_STARTED, 0).text)));
    } else if (waits_for_a_job(book, job)) {
        book_cell(book, missing ? STR("waits for a job, and for things") : STR("waits for a job"));
    } else {
        book_cell(book, missing ? STR("waits for things") : STR("can begin"));
    }
}

static void figure_cell(Book *book, const Entity *job, FigureId id)
{
    book_cell(book, book_has_figure(book, job, id, NULL) ? book_figure(book, job, id, NULL) : book_nothing);
}

static bool is_waited_for(const Book *book, const BookThing *thing, const void *what)
{
    (void)what;
    return book_has_figure(book, thing->entity, FIGURE_ARRIVAL, NULL);
}

/* What is still to come, what it costs in days, and when it has to be ordered. */
static void things_waited_for(Book *book)
{
    static const BookColumn columns[] = {
        NAME_COLUMN,
        TITLE_COLUMN,
        STATUS_COLUMN,
        PROPERTY_COLUMN("Supplier", PROP_COMMON_SUPPLIER),
        FIGURE_COLUMN("Can be here", FIGURE_ARRIVAL),
        FIGURE_COLUMN("To be ordered by", FIGURE_ORDER_BY),
        FIGURE_COLUMN("Holds all up by", FIGURE_HOLDS_UP),
    };
    book_table(book, "Things that jobs wait for", columns, sizeof columns / sizeof columns[0], is_waited_for,
               NULL);
}

/* What to do now */

static bool lacks_something(const Entity *job)
{
    const Property *needs = entity_property(job, PROP_JOB_NEEDS);
    for (uint16_t i = 0; needs != NULL && i < needs->count; i++) {
        const Value *value = &needs->values[i];
        if (value_entity(value) != NULL && is_missing(value_entity(value))) {
            return true;
        }
    }
    return false;
}

/* Whatever is decided. */
static bool can_be_worked_on(const Book *book, const BookThing *thing, const void *what)
{
    (void)what;
    const Entity *job = thing->entity;
    bool left = job->kind == KIND_JOB && !entity_states(job, PROP_JOB_DONE);
    return left && (entity_states(job, PROP_JOB_STARTED) || (!waits_for_a_job(book, job) && !in_any_case(book, job, lacks_something)));
}

/* On or before the last day of a week from today. */
static bool is_to_order_now(const Book *book, const BookThing *thing, const void *what)
{
    Figure by;
    (void)what;
    bool known = outcome_figure(book->outcome, book_name(book, thing->entity), FIGURE_ORDER_BY, STR(""), &by);
    return known && by.low < ((double)book->outcome->today + 7.0) * SECONDS_A_DAY;
}

static bool holds_all_up(const Book *book, const BookThing *thing, const void *what)
{
    Figure days;
    (void)what;
    bool known = outcome_figure(book->outcome, book_name(book, thing->entity), FIGURE_HOLDS_UP, STR(""), &days);
    return known && days.high > 0.0;
}

static void write_now(Book *book)
{
    static const BookColumn jobs[] = {NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Takes", PROP_JOB_TAKES),
                                      VALUE_COLUMN("Begun", PROP_JOB_STARTED),
                                      FIGURE_COLUMN("Begins at the latest", FIGURE_LATEST_START)};
    static const BookColumn orders[] = {NAME_COLUMN, TITLE_COLUMN, PROPERTY_COLUMN("Supplier", PROP_COMMON_SUPPLIER),
                                        FIGURE_COLUMN("To be ordered by", FIGURE_ORDER_BY)};
    static const BookColumn holding[] = {NAME_COLUMN, TITLE_COLUMN, STATUS_COLUMN,
                                         PROPERTY_COLUMN("Supplier", PROP_COMMON_SUPPLIER),
                                         FIGURE_COLUMN("Can be here", FIGURE_ARRIVAL),
                                         FIGURE_COLUMN("Moves the end by", FIGURE_HOLDS_UP)};
    if (!book_table(book, "What can be worked on now", jobs, sizeof jobs / sizeof jobs[0], can_be_worked_on, NULL)) {
        markdown_heading(&book->md, 3, STR("What can be worked on now"), NULL);
        book_say(book, "No job that is left to do can be worked on now: each waits for another one, or for things.");
    }
    if (!book_table(book, "What must be ordered this week", orders, sizeof orders / sizeof orders[0], is_to_order_now,
                    NULL)) {
        markdown_heading(&book->md, 3, STR("What must be ordered this week"), NULL);
        book_say(book, "Nothing has to be ordered within a week for the jobs that need it.");
    }
    book_table(book, "What moves the end of all work", holding, sizeof holding / sizeof holding[0], holds_all_up, NULL);
}

/* The earliest day that a goal asks for, in any of the options; false if none does. */
static bool day_asked(const Book *book, Date *day)
{
    bool any = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        const Value *ready = t->entity->kind == KIND_GOAL ? goal_day_asked(t->entity) : NULL;
        if (ready != NULL && ready->kind == VALUE_DATE && (!any || ready->u.date < *day)) {
            *day = ready->u.date;
            any = true;
        }
    }
    return any;
}

/* Two days are called the latest: jobs are reckoned back from the earliest end, and orders from the goal's day. */
static void say_two_ends(Book *book)
{
    Date day = 0;
    Figure end;
    bool asked = day_asked(book, &day);
    bool known = asked && book->boat != NULL &&
                 outcome_figure(book->outcome, book_name(book, book->boat), FIGURE_READY, STR(""), &end);
    if (known && end.state == STATE_KNOWN && end.low >= ((double)day + 1.0) * SECONDS_A_DAY) {
        book_say(book,
                 "By when a job begins at the latest, and its float, go by that day. A goal asks for %.*s, after which all is ready in any "
                 "case: by when a thing is to be ordered, here and under Buying, goes by %.*s, and one that is ordered on its last day "
                 "may move the end of all work up to that, not to the goal's day.",
                 STR_ARG(book_date(book, day)), STR_ARG(book_date(book, (Date)(end.low / SECONDS_A_DAY))));
    } else if (asked) {
        book_say(book,
                 "By when a job begins at the latest, and its float, go by that day. By when a thing is to be ordered, here and "
                 "under Buying, goes by the day that a goal asks for, %.*s: one that is ordered on its last day may move the end "
                 "of all work up to that.",
                 STR_ARG(book_date(book, day)));
    }
}

void book_plan(Book *book)
{
    Plan plan = put_in_order(book);
    if (plan.count == 0) {
        book_say(book, "The spec has no jobs.");
        return;
    }
    book_say(book,
             "Each job stands behind those that it waits for. What a job needs and is not here yet says how "
             "far it has come. "
             "Days are those of the calendar, and a finish is the first day on which what comes after can "
             "begin. A job without "
             "float is on the critical path: each day that it is late moves the day on which all is ready.");
    book_picture(book, "img/plan");
    book_head(book,
              (const char *const[]){"Job", "What", ">Takes", "After", "Needs", "State", "Begins from",
                                    "Ends from", "Begins at the latest", ">Float", "Because"},
              11);
    for (uint32_t i = 0; i < plan.count; i++) {
        const Entity *job = plan.jobs[i]->entity;
        markdown_row(&book->md);
        book_name_cell(book, plan.jobs[i]);
        book_cell(book, job->title);
        book_cell(book, book_value(book, job, PROP_JOB_TAKES, 0));
        book_names_cell(book, job, PROP_JOB_AFTER);
        bool missing = needs_cell(book, job);
        state_cell(book, job, missing);
        figure_cell(book, job, FIGURE_EARLIEST_START);
        figure_cell(book, job, FIGURE_EARLIEST_FINISH);
        figure_cell(book, job, FIGURE_LATEST_START);
        figure_cell(book, job, FIGURE_FLOAT);
        book_cell(book, book_value(book, job, PROP_JOB_BECAUSE, 0));
    }
    if (book->boat != NULL && book_has_figure(book, book->boat, FIGURE_READY, NULL)) {
        book_say(book, "All is ready on %.*s.", STR_ARG(book_figure(book, book->boat, FIGURE_READY, NULL)));
        say_two_ends(book);
    }
    write_now(book);
    things_waited_for(book);
}
