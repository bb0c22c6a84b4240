/*
 * The chapter of service: what is due now, what comes month by month and hour by hour, and the parts that it takes.
 *
 * Every `service` line of every case, each told once. A range of how often counts from its shortest.
 */
#include "output/book_chapters.h"

#include "figures/maintenance.h"
#include "model/status.h"

#include <math.h>

enum { MONTHS = 12 };

/* A service line, and the case that it is from. */
typedef struct Line {
    const Maintenance *service;
    const BookThing *thing;
    const Case *in;
    struct Line *next;
} Line;

typedef struct Plan {
    Book *book;
    Line *lines; /* in the order of the spec */
    Date today, end;
} Plan;

/* ---- Gathering ----------------------------------------------------------------------------------------- */

static Str text_of(const Plan *plan, const Line *line)
{
    return book_statement(plan->book, line->in->model, line->service->line);
}

/* The same line may stand in several cases. */
static bool is_told(const Plan *plan, const Line *line)
{
    for (const Line *l = plan->lines; l != NULL; l = l->next) {
        if (l->thing == line->thing && l->in != line->in &&
            str_equal(text_of(plan, l), text_of(plan, line))) {
            return true;
        }
    }
    return false;
}

static void gather(Plan *plan)
{
    Book *book = plan->book;
    Line **end = &plan->lines;
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        const Case *in = &book->outcome->cases[c];
        for (const Maintenance *m = maintenance_list(book->arena, in->model); m != NULL; m = m->next) {
            Line *line = ARENA_NEW(book->arena, Line);
            *line = (Line){.service = m, .thing = book_thing(book, m->thing), .in = in};
            if (line->thing != NULL && !is_told(plan, line)) {
                *end = line;
                end = &line->next;
            }
        }
    }
}

/* ---- Cells --------------------------------------------------------------------------------------------- */

static void parts_cell(const Plan *plan, const Line *line)
{
    Book *book = plan->book;
    Buf text;
    buf_init(&text, book->arena);
    for (size_t i = 0; i < MAINTENANCE_PARTS && line->service->parts[i] != NULL; i++) {
        Interval takes = line->service->takes[i];
        buf_text(&text, i > 0 ? ", " : "");
        if (takes.low != 1.0 || takes.high != 1.0) {
            unit_print(&text, UNIT_ALONE(UNIT_NONE), takes.low, takes.high);
            buf_text(&text, " x ");
        }
        buf_char(&text, '`');
        buf_add(&text, entity_name(line->in->model, line->service->parts[i]));
        buf_char(&text, '`');
    }
    if (text.length > 0) {
        book_prose_cell(book, text.text);
    } else {
        book_cell(book, book_nothing);
    }
}

/* Known from when on it counts, and how often at the least. */
static bool is_counted(const Line *line)
{
    return line->service->counted && isfinite(line->service->due_s.high);
}

static Str every_of(const Plan *plan, const Line *line)
{
    return book_value_text(plan->book, line->in->model, maintenance_every(line->service));
}

static Str since_of(const Plan *plan, const Line *line)
{
    const Maintenance *m = line->service;
    if (!m->done && !(m->counted && !m->by_hours)) {
        return book_nothing;
    }
    Str day = book_date(plan->book, m->since);
    return m->done ? day : str_from(text_format(plan->book->arena, "%.*s (fitted)", STR_ARG(day)));
}

/* Name, what to do, parts: what every table of this chapter has. */
static void line_cells(const Plan *plan, const Line *line)
{
    book_name_cell(plan->book, line->thing);
    book_cell(plan->book, maintenance_what(line->service));
    parts_cell(plan, line);
}

static Date due_on(const Line *line)
{
    return (Date)floor(line->service->due_s.low / SECONDS_A_DAY);
}

static bool meter_shows(const Line *line, Interval *shows)
{
    const Entity *meter = line->service->meter;
    const Value *value = meter != NULL ? property_value(entity_property(meter, maintenance_meter_prop(meter)), 0) : NULL;
    if (value == NULL || value->kind != VALUE_QUANTITY || value->flags & VALUE_BROKEN) {
        return false;
    }
    *shows = (Interval){value->u.quantity.low, value->u.quantity.high};
    return true;
}

/* Whether it may be due already. */
static bool is_due(const Plan *plan, const Line *line)
{
    Interval shows;
    if (!is_counted(line)) {
        return false;
    }
    return line->service->by_hours ? meter_shows(line, &shows) && line->service->due_s.low <= shows.high
                                   : due_on(line) <= plan->today;
}

static Str hours_text(const Plan *plan, Interval hours)
{
    Buf text;
    buf_init(&text, plan->book->arena);
    unit_print(&text, UNIT_ALONE(UNIT_H), hours.low, hours.high);
    return buf_str(&text);
}

/* ---- Due now ------------------------------------------------------------------------------------------- */

static void write_due(const Plan *plan)
{
    Book *book = plan->book;
    bool begun = false;
    for (const Line *l = plan->lines; l != NULL; l = l->next) {
        if (!is_due(plan, l)) {
            continue;
        }
        if (!begun) {
            markdown_heading(&book->md, 3, STR("Due now"), NULL);
            book_head(book,
                      (const char *const[]){"Name", "What to do", "Parts", ">Every", ">Last done", ">Due"},
                      6);
            begun = true;
        }
        markdown_row(&book->md);
        line_cells(plan, l);
        book_cell(book, every_of(plan, l));
        book_cell(book, since_of(plan, l));
        book_cell(book,
                  l->service->by_hours ? hours_text(plan, l->service->due_s) : book_date(book, due_on(l)));
    }
}

/* ---- By the calendar ----------------------------------------------------------------------------------- */

static bool is_often(const Line *line)
{
    double most_s = maintenance_every(line->service)->u.quantity.high;
    return isfinite(most_s) &&
           maintenance_every(line->service)->u.quantity.low < 1.5 * units[UNIT_MONTH].factor;
}

/* Services of a month and less would fill every row: they stand above the table. */
static void write_often(const Plan *plan)
{
    Book *book = plan->book;
    for (const Line *l = plan->lines; l != NULL; l = l->next) {
        if (!l->service->by_hours && is_often(l)) {
            markdown_item(&book->md, MARKDOWN_BULLET, 0);
            markdown_format(&book->md, "every %s: ", every_of(plan, l).text);
            markdown_code(&book->md, book_name(book, l->service->thing));
            markdown_format(&book->md, ", %.*s", STR_ARG(maintenance_what(l->service)));
        }
    }
}

/* The first day from `from` on, and before `until`, on which it is due if it is always done in time; false: on none. */
static bool due_within(const Plan *plan, const Line *line, Date from, Date until, Date *day)
{
    Date due = due_on(line) > plan->today ? due_on(line) : plan->today; /* what is overdue is done today */
    while (due < from) {
        due = maintenance_after(line->service, due);
    }
    *day = due;
    return due < until;
}

static bool is_planned(const Line *line)
{
    return !line->service->by_hours && is_counted(line) && !is_often(line);
}

static void day_rows(const Plan *plan, Date day, bool *begun)
{
    Book *book = plan->book;
    for (const Line *l = plan->lines; l != NULL; l = l->next) {
        Date due;
        if (!is_planned(l) || !due_within(plan, l, day, day + 1, &due)) {
            continue;
        }
        if (!*begun) {
            book_head(book, (const char *const[]){"Month", ">Day", "Name", "What to do", "Parts"}, 5);
            *begun = true;
        }
        markdown_row(&book->md);
        book_cell(book, (Str){book_date(book, day).text, 7}); /* 2027-03 */
        book_cell(book, book_date(book, day));
        line_cells(plan, l);
    }
}

static void write_calendar(const Plan *plan)
{
    Book *book = plan->book;
    bool any = false, begun = false;
    for (const Line *l = plan->lines; l != NULL; l = l->next) {
        any = any || (!l->service->by_hours && (is_often(l) || is_planned(l)));
    }
    if (!any) {
        return;
    }
    markdown_heading(&book->md, 3, STR("The coming year"), NULL);
    write_often(plan);
    for (Date day = plan->today; day < plan->end; day++) {
        day_rows(plan, day, &begun);
    }
    book_say(book,
             "From %s to %s, each done on its day; what is overdue, today. How often in a range counts from "
             "its shortest.",
             book_date(book, plan->today).text, book_date(book, plan->end).text);
}

/* ---- By engine hours ----------------------------------------------------------------------------------- */

/* What the meter shows, and on which day it did, where that is said. */
static Str shown_text(const Plan *plan, const Line *line, Interval shows)
{
    const Entity *meter = line->service->meter;
    const Value *day = property_value(entity_property(meter, maintenance_meter_prop(meter)), 1);
    Str hours = hours_text(plan, shows);
    return day->kind != VALUE_DATE || day->flags & VALUE_BROKEN
               ? hours
               : str_from(text_format(plan->book->arena, "%.*s on %.*s", STR_ARG(hours), STR_ARG(book_date(plan->book, day->u.date))));
}

static void hour_row(const Plan *plan, const Line *line)
{
    Book *book = plan->book;
    const Entity *meter = line->service->meter;
    Interval shows;
    markdown_row(&book->md);
    book_cell(book, every_of(plan, line));
    line_cells(plan, line);
    book_cell(book, since_of(plan, line));
    book_cell(book, is_counted(line) ? hours_text(plan, line->service->due_s) : book_nothing);
    book_cell(book, meter_shows(line, &shows) ? shown_text(plan, line, shows) : book_nothing);
    book_cell(book, meter != NULL ? entity_name(line->in->model, meter) : book_nothing);
}

/* The next interval that is longer than the last: from often to seldom, the order of the spec among equals. */
static double next_every(const Plan *plan, double last_s)
{
    double next = INFINITY;
    for (const Line *l = plan->lines; l != NULL; l = l->next) {
        double every = maintenance_every(l->service)->u.quantity.low;
        next = l->service->by_hours && every > last_s ? fmin(next, every) : next;
    }
    return next;
}

static void write_hours(const Plan *plan)
{
    Book *book = plan->book;
    bool begun = false;
    for (double every = next_every(plan, 0.0); isfinite(every); every = next_every(plan, every)) {
        for (const Line *l = plan->lines; l != NULL; l = l->next) {
            if (!l->service->by_hours || maintenance_every(l->service)->u.quantity.low != every) {
                continue;
            }
            if (!begun) {
                markdown_heading(&book->md, 3, STR("By hours of engines and generators"), NULL);
                book_head(book,
                          (const char *const[]){">Every", "Name", "What to do", "Parts", ">Last done",
                                                ">Due at", ">Meter shows", "Hours of"},
                          8);
                begun = true;
            }
            hour_row(plan, l);
        }
    }
}

/* ---- What is not said, and parts ----------------------------------------------------------------------- */

static void write_unsaid(const Plan *plan)
{
    Book *book = plan->book;
    bool begun = false;
    for (const Line *l = plan->lines; l != NULL; l = l->next) {
        if (is_counted(l)) {
            continue;
        }
        if (!begun) {
            markdown_heading(&book->md, 3, STR("From when on, or how often, is not said"), NULL);
            markdown_paragraph(&book->md);
            book_prose(
                book,
                "Neither `last` in the line nor a day on which the thing was fitted says from when on these "
                "count; by hours, a reading of the meter does (`last 2027-03-01 at 1240 h`).");
            book_head(book, (const char *const[]){"Name", "What to do", "Parts", ">Every"}, 4);
            begun = true;
        }
        markdown_row(&book->md);
        line_cells(plan, l);
        book_cell(book, every_of(plan, l));
    }
}

/* How often a service comes in the year; once, where that cannot be told. */
static unsigned times_a_year(const Plan *plan, const Line *line)
{
    unsigned times = 0;
    Date day = plan->today;
    if (line->service->by_hours || !is_counted(line)) {
        return 1;
    }
    while (due_within(plan, line, day, plan->end, &day)) {
        times++;
        day++;
    }
    return times;
}

static Interval takes_a_year(const Plan *plan, const Entity *part)
{
    Interval taken = point(0.0);
    for (const Line *l = plan->lines; l != NULL; l = l->next) {
        for (size_t i = 0; i < MAINTENANCE_PARTS && l->service->parts[i] != NULL; i++) {
            if (l->service->parts[i]->name == part->name) {
                taken = interval_add(taken, interval_scale(l->service->takes[i], times_a_year(plan, l)));
            }
        }
    }
    return taken;
}

static bool is_part(const Plan *plan, const Entity *entity)
{
    for (const Line *l = plan->lines; l != NULL; l = l->next) {
        for (size_t i = 0; i < MAINTENANCE_PARTS && l->service->parts[i] != NULL; i++) {
            if (l->service->parts[i]->name == entity->name) {
                return true;
            }
        }
    }
    return false;
}

static Str pieces(const Plan *plan, Interval number)
{
    Buf text;
    buf_init(&text, plan->book->arena);
    unit_print(&text, UNIT_ALONE(UNIT_NONE), number.low, number.high);
    return buf_str(&text);
}

static Str lacking(const Plan *plan, const Entity *part, Interval needed)
{
    Interval aboard = part->flags & ENTITY_DROPPED ? point(0.0) : spares_aboard(part);
    return pieces(plan, (Interval){fmax(needed.low - aboard.high, 0.0), fmax(needed.high - aboard.low, 0.0)});
}

static void write_parts(const Plan *plan)
{
    Book *book = plan->book;
    bool begun = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (!is_part(plan, t->entity)) {
            continue;
        }
        if (!begun) {
            markdown_heading(&book->md, 3, STR("Parts for the coming year"), NULL);
            book_head(
                book,
                (const char *const[]){"Name", "What", ">Taken", ">Spares aboard", ">Lacking", "Supplier"}, 6);
            begun = true;
        }
        Interval needed = takes_a_year(plan, t->entity);
        markdown_row(&book->md);
        book_name_cell(book, t);
        book_cell(book, book_title(book, t->entity));
        book_cell(book, pieces(plan, needed));
        book_cell(book, t->entity->flags & ENTITY_DROPPED ? STR("none: it is dropped") : book_value(book, t->entity, PROP_COMMON_SPARE, 0));
        book_cell(book, lacking(plan, t->entity, needed));
        book_cell(book, book_value(book, t->entity, PROP_COMMON_SUPPLIER, 0));
    }
    if (begun) {
        book_say(
            book,
            "Services by hours, and those of which it is not said from when on they count, are taken to come "
            "once in the year. Each takes one of a part, unless its line states a number.");
    }
}

void book_service(Book *book)
{
    Date today = book->figures->today;
    Plan plan = {.book = book, .today = today, .end = date_add_months(today, MONTHS)};
    gather(&plan);
    if (plan.lines == NULL) {
        book_say(book, "The spec states no service.");
        return;
    }
    write_due(&plan);
    write_calendar(&plan);
    write_hours(&plan);
    write_unsaid(&plan);
    write_parts(&plan);
}
