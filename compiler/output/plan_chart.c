/*
 * See plan_chart.h.
 *
 * A bar runs over the days that a job takes, at the latest of its earliest days; black, where it has no float. A dotted
 * line behind it is its float. A triangle stands on the day on which something that the job needs is still to come; with
 * the name of the thing, where it comes later than all else that the job waits for.
 */
#include "output/plan_chart.h"

#include "output/svg.h"

#include <math.h>
#include <stdlib.h>

static const double MARGIN = 12.0;
static const double TOP = 34.0;   /* of the first row */
static const double NAMES = 62.0; /* width of the column of names */
static const double ROW = 9.0;
static const double BAR = 3.6;
static const double TEXT = 3.0;
static const double SMALL = 2.5;
enum { ROWS = 15 };

/* A job that is left to do, with the days that the plan has of it. */
typedef struct Row {
    const Entity *job;
    double starts_s, ends_s; /* at the latest of its earliest days */
    double latest_s;         /* the latest start; that of starts_s where the job has begun */
    uint32_t place;          /* in the spec */
} Row;

typedef struct Chart {
    const Book *book;
    Row *rows;
    uint32_t count;
    double from_s, to_s; /* whole weeks */
    double left_mm, right_mm;
} Chart;

static const Figure *known(const Book *book, const Entity *subject, FigureId id)
{
    const Figure *figure = figure_find(book->figures, subject, id, NULL);
    return figure != NULL && figure->state == STATE_KNOWN && isfinite(figure->high) ? figure : NULL;
}

static int by_start(const void *left, const void *right)
{
    const Row *a = left, *b = right;
    if (a->starts_s != b->starts_s) {
        return a->starts_s < b->starts_s ? -1 : 1;
    }
    return a->place < b->place ? -1 : 1;
}

static double today_s(const Book *book)
{
    return book->figures->today * SECONDS_A_DAY;
}

/* The Monday on or before a day: 1970-01-01 was a Thursday. */
static double monday_before(double moment_s)
{
    double day = floor(moment_s / SECONDS_A_DAY);
    return (day - fmod(day + 3.0, 7.0)) * SECONDS_A_DAY;
}

static void gather(Chart *chart)
{
    const Book *book = chart->book;
    const Model *model = book->model;
    chart->rows = ARENA_ARRAY(book->arena, Row, model->job_count);
    double first_s = today_s(book), last_s = first_s;
    for (uint32_t i = 0; i < model->job_count; i++) {
        const Entity *job = model->jobs[i];
        const Figure *start = known(book, job, FIGURE_EARLIEST_START);
        const Figure *end = known(book, job, FIGURE_EARLIEST_FINISH);
        const Figure *latest = known(book, job, FIGURE_LATEST_START);
        if (start == NULL || end == NULL) {
            continue;
        }
        chart->rows[chart->count++] = (Row){.job = job,
                                            .starts_s = start->high,
                                            .ends_s = end->high,
                                            .latest_s = latest != NULL ? latest->high : start->high,
                                            .place = job->index};
        first_s = fmin(first_s, start->low);
        last_s = fmax(last_s, end->high);
    }
    if (chart->count > 0) {
        qsort(chart->rows, chart->count, sizeof(Row), by_start);
    }
    chart->from_s = monday_before(first_s);
    chart->to_s = monday_before(last_s) + 7.0 * SECONDS_A_DAY;
}

static double x_of(const Chart *chart, double moment_s)
{
    double share = (moment_s - chart->from_s) / (chart->to_s - chart->from_s);
    return chart->left_mm + share * (chart->right_mm - chart->left_mm);
}

static Str day_text(const Book *book, double moment_s)
{
    return book_date(book, (Date)(moment_s / SECONDS_A_DAY));
}

/* A line down the page at every week, and a date above every so many. */
static void draw_weeks(const Chart *chart, Svg *svg, double bottom)
{
    double weeks = (chart->to_s - chart->from_s) / (7.0 * SECONDS_A_DAY);
    double wide = (chart->right_mm - chart->left_mm) / weeks;
    double every = ceil(svg_text_width(STR("2027-12-31 "), SMALL) / wide);
    double line_every = ceil(2.0 / wide);
    for (double week = 0.0; week <= weeks; week += 1.0) {
        double x = x_of(chart, chart->from_s + week * 7.0 * SECONDS_A_DAY);
        if (fmod(week, line_every) == 0.0) {
            svg_line(svg, (SvgPoint){x, TOP - 3.0}, (SvgPoint){x, bottom}, SVG_HAIR);
        }
        if (fmod(week, every) == 0.0 && week + every / 2.0 < weeks) {
            svg_text(svg, (SvgPoint){x, TOP - 4.5}, SMALL, SVG_START,
                     day_text(chart->book, chart->from_s + week * 7.0 * SECONDS_A_DAY));
        }
    }
    double today = x_of(chart, today_s(chart->book));
    svg_line(svg, (SvgPoint){today, TOP - 3.0}, (SvgPoint){today, bottom + 1.0}, SVG_DASHED);
    svg_text(svg, (SvgPoint){today, bottom + 4.0}, SMALL, SVG_MIDDLE, STR("today"));
}

static const Figure *arrival_of(const Book *book, const Value *value)
{
    return value->kind == VALUE_REFERENCE && value->u.entity != NULL
               ? known(book, value->u.entity, FIGURE_ARRIVAL)
               : NULL;
}

/* Things that the job needs and that are still to come; the last of them by name, if the job waits for it. */
static void draw_arrivals(const Chart *chart, Svg *svg, const Row *row, double y)
{
    const Book *book = chart->book;
    const Property *needs = entity_property(row->job, PROP_JOB_NEEDS);
    double waits_s = entity_states(row->job, PROP_JOB_STARTED) ? row->ends_s : row->starts_s;
    const Figure *last = NULL;
    for (uint16_t i = 0; needs != NULL && i < needs->count; i++) {
        const Figure *arrival = arrival_of(book, &needs->values[i]);
        if (arrival == NULL) {
            continue;
        }
        double x = x_of(chart, arrival->high);
        svg_triangle(svg, (SvgPoint){x, y - 0.2}, (SvgPoint){x - 1.2, y - 2.4}, (SvgPoint){x + 1.2, y - 2.4});
        if (arrival->high >= waits_s && (last == NULL || arrival->high > last->high)) {
            last = arrival;
        }
    }
    if (last != NULL) { /* to its right is no other arrival of this job; to its left where there is no room */
        Str name = book_name(book, last->subject);
        double x = x_of(chart, last->high);
        bool right = svg_text_width(name, SMALL) < chart->right_mm - x - 1.8;
        double room = right ? chart->right_mm - x - 1.8 : x - 1.8 - chart->left_mm;
        svg_text(svg, (SvgPoint){right ? x + 1.8 : x - 1.8, y - 0.5}, SMALL,
                       right ? SVG_START : SVG_END, svg_text_fit(book->arena, name, SMALL, room));
    }
}

static void draw_row(const Chart *chart, Svg *svg, const Row *row, double top)
{
    const Book *book = chart->book;
    double bar = top + ROW - BAR - 1.4;
    Str label = row->job->title.length > 0 ? row->job->title : book_name(book, row->job);
    svg_text(svg, (SvgPoint){MARGIN, svg_baseline(bar + BAR / 2.0, TEXT)}, TEXT, SVG_START,
             svg_text_fit(book->arena, label, TEXT, NAMES - 2.0));
    double from = x_of(chart, row->starts_s), to = x_of(chart, row->ends_s);
    bool begun = entity_states(row->job, PROP_JOB_STARTED);
    double spare_s = row->latest_s - row->starts_s;
    bool critical = !begun && spare_s < SECONDS_A_DAY / 2.0;
    SvgBox box = {from, bar, fmax(to - from, 0.4), BAR};
    svg_rectangle(svg, box, SVG_LINE, critical ? SVG_BLACK : SVG_WHITE);
    if (begun) {
        svg_hatch(svg, box, 1.2);
    }
    if (spare_s > 0.0) {
        double middle = bar + BAR / 2.0;
        svg_line(svg, (SvgPoint){to, middle}, (SvgPoint){x_of(chart, row->ends_s + spare_s), middle},
                 SVG_DOTTED);
    }
    draw_arrivals(chart, svg, row, bar);
}

static void draw_key(Svg *svg, double y)
{
    static const char *const words[] = {"no float: moves the end", "has float, the dotted line", "begun"};
    double x = MARGIN;
    for (int i = 0; i < 3; i++) {
        SvgBox box = {x, y - BAR, 8.0, BAR};
        svg_rectangle(svg, box, SVG_LINE, i == 0 ? SVG_BLACK : SVG_WHITE);
        if (i == 2) {
            svg_hatch(svg, box, 1.2);
        }
        svg_text(svg, (SvgPoint){x + 10.0, y - 0.8}, SMALL, SVG_START, str_from(words[i]));
        x += 14.0 + svg_text_width(str_from(words[i]), SMALL);
    }
    svg_triangle(svg, (SvgPoint){x + 1.2, y - 0.6}, (SvgPoint){x, y - 2.8}, (SvgPoint){x + 2.4, y - 2.8});
    svg_text(svg, (SvgPoint){x + 4.0, y - 0.8}, SMALL, SVG_START,
             STR("something that the job needs comes, at the latest"));
}

static void draw_page(const Chart *chart, Buf *bytes, uint32_t first)
{
    Svg svg;
    const Book *book = chart->book;
    uint32_t here = chart->count - first < ROWS ? chart->count - first : ROWS;
    const char *title =
        text_format(book->arena, "Work plan of %.*s", STR_ARG(entity_label(book->model, book->boat)));
    svg_begin(&svg, bytes, SVG_A4_LANDSCAPE, str_from(title));
    svg_text(&svg, (SvgPoint){MARGIN, MARGIN + 4.0}, 4.5, SVG_START, str_from(title));
    double bottom = TOP + here * ROW + 2.0;
    draw_weeks(chart, &svg, bottom);
    for (uint32_t i = 0; i < here; i++) {
        draw_row(chart, &svg, &chart->rows[first + i], TOP + i * ROW);
    }
    draw_key(&svg, bottom + 10.0);
    svg_end(&svg);
}

size_t plan_chart_draw(const Book *book, BookFile **pages)
{
    Chart chart = {.book = book, .left_mm = MARGIN + NAMES, .right_mm = 297.0 - MARGIN};
    if (book->boat == NULL) {
        return 0;
    }
    gather(&chart);
    size_t count = (chart.count + ROWS - 1) / ROWS;
    *pages = ARENA_ARRAY(book->arena, BookFile, count);
    for (size_t i = 0; i < count; i++) {
        Buf bytes;
        buf_init(&bytes, book->arena);
        draw_page(&chart, &bytes, (uint32_t)(i * ROWS));
        const char *name = i == 0 ? "img/plan.svg" : text_format(book->arena, "img/plan-%zu.svg", i + 1);
        (*pages)[i] = (BookFile){name, "the work plan by the week", buf_str(&bytes)};
    }
    return count;
}
