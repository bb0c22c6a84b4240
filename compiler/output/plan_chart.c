/*
 * See plan_chart.h.
 *
 * A bar runs over the days that a job takes, at the latest of its earliest days; black, where it has no float. A dotted
 * line behind it is its float. A triangle with a name stands on the day on which something that the job needs is still to
 * come.
 */
#include "output/plan_chart.h"

#include "output/picture.h"

#include <math.h>
#include <stdlib.h>

static const double MARGIN = 12.0;
static const double TOP = 34.0;   /* of the first row */
static const double NAMES = 62.0; /* width of the column of names */
static const double ROW = 9.0;
static const double BAR = 3.6;
static const double TEXT = 3.0;
static const double SMALL = 2.5;
static const double LABEL_LINE = 3.0;
static const double ROOM = 150.0; /* for rows on a page */

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

/* The first day that a goal asks for, where the page reaches so far. */
static void draw_goal(const Chart *chart, Svg *svg, double bottom)
{
    double day_s = INFINITY;
    for (const Entity *goal = chart->book->model->first_of_kind[KIND_GOAL]; goal != NULL; goal = goal->next_of_kind) {
        const Value *ready = property_value(entity_property(goal, PROP_GOAL_READY), 0);
        bool asked = ready->kind == VALUE_DATE && !(goal->flags & ENTITY_DROPPED);
        day_s = asked ? fmin(day_s, (double)ready->u.date * SECONDS_A_DAY) : day_s;
    }
    if (day_s < chart->from_s || day_s > chart->to_s) {
        return;
    }
    double x = x_of(chart, day_s), today = x_of(chart, today_s(chart->book));
    svg_line(svg, (SvgPoint){x, TOP - 3.0}, (SvgPoint){x, bottom + 1.0}, SVG_DASHED);
    svg_text(svg, (SvgPoint){x, fabs(x - today) < 14.0 ? TOP - 8.0 : bottom + 4.0}, SMALL, SVG_MIDDLE, STR("a goal's day"));
}

static const Figure *arrival_of(const Book *book, const Value *value)
{
    return value_entity(value) != NULL
               ? known(book, value_entity(value), FIGURE_ARRIVAL)
               : NULL;
}

/* ---- What is still to come ------------------------------------------------------------------------------ */

enum { LABELS = 24, LINES = 5 };

/* A day on which things come that the job needs, with their names, on one of the lines over its bar. */
typedef struct Label {
    double x_mm;
    Str names;
    int line;
} Label;

static int by_place(const void *left, const void *right)
{
    const Label *a = left, *b = right;
    return a->x_mm < b->x_mm ? -1 : a->x_mm > b->x_mm ? 1 : 0;
}

/* One label a day. */
static int gather_labels(const Chart *chart, const Row *row, Label labels[LABELS])
{
    int count = 0;
    const Book *book = chart->book;
    const Property *needs = entity_property(row->job, PROP_JOB_NEEDS);
    for (uint16_t i = 0; needs != NULL && i < needs->count; i++) {
        const Figure *arrival = arrival_of(book, &needs->values[i]);
        int at = 0;
        if (arrival == NULL) {
            continue;
        }
        double x = x_of(chart, arrival->high);
        while (at < count && labels[at].x_mm != x) {
            at++;
        }
        Str name = book_name(book, arrival->subject);
        if (at < count) {
            labels[at].names = str_from(text_format(book->arena, "%.*s, %.*s", STR_ARG(labels[at].names), STR_ARG(name)));
        } else if (count < LABELS) {
            labels[count++] = (Label){.x_mm = x, .names = name};
        }
    }
    qsort(labels, (size_t)count, sizeof(Label), by_place);
    return count;
}

/* The lowest line on which each has room to its right: on the first one the next triangle stands in the way. Returns how many. */
static int set_lines(const Chart *chart, Label labels[], int count)
{
    double ends[LINES] = {0};
    int lines = 0;
    for (int i = 0; i < count; i++) {
        double room = chart->right_mm - labels[i].x_mm - 1.8;
        double most = room > 40.0 ? room : 40.0; /* else it stands to the left of its day */
        labels[i].names = svg_text_fit(chart->book->arena, labels[i].names, SMALL, most);
        double width = svg_text_width(labels[i].names, SMALL);
        double from = width > room ? labels[i].x_mm - 1.8 - width : labels[i].x_mm;
        double end = from + width + 2.5;
        bool next_is_near = i + 1 < count && labels[i + 1].x_mm < end;
        bool last_is_near = i > 0 && labels[i - 1].x_mm > from - 1.5;
        int line = (width > room ? last_is_near : next_is_near) ? 1 : 0;
        while (line + 1 < LINES && ends[line] > from) {
            line++;
        }
        labels[i].line = line;
        ends[line] = end;
        lines = line + 1 > lines ? line + 1 : lines;
    }
    return lines;
}

/* How high a row is: its names may take several lines. */
static double row_height(const Chart *chart, const Row *row)
{
    Label labels[LABELS];
    int lines = set_lines(chart, labels, gather_labels(chart, row, labels));
    return ROW + (lines > 1 ? LABEL_LINE * (lines - 1) : 0.0);
}

static void draw_arrivals(const Chart *chart, Svg *svg, const Row *row, double y)
{
    Label labels[LABELS];
    int count = gather_labels(chart, row, labels);
    set_lines(chart, labels, count);
    for (int i = 0; i < count; i++) {
        double x = labels[i].x_mm, up = y - LABEL_LINE * labels[i].line;
        bool left = svg_text_width(labels[i].names, SMALL) > chart->right_mm - x - 1.8;
        svg_triangle(svg, (SvgPoint){x, y - 0.2}, (SvgPoint){x - 1.2, y - 2.4}, (SvgPoint){x + 1.2, y - 2.4});
        if (labels[i].line > 0) {
            svg_line(svg, (SvgPoint){x, y - 2.4}, (SvgPoint){x, up - 0.5}, SVG_THIN);
        }
        svg_text_clear(svg, (SvgPoint){left ? x - 1.8 : x + (labels[i].line > 0 ? 0.8 : 1.8), up - 1.1}, SMALL,
                       left ? SVG_END : SVG_START, labels[i].names);
    }
}

static void draw_row(const Chart *chart, Svg *svg, const Row *row, double top)
{
    const Book *book = chart->book;
    double bar = top + row_height(chart, row) - BAR - 1.4;
    Str label = row->job->title.length > 0 ? row->job->title : book_name(book, row->job);
    picture_words_wrapped(svg, book->arena, (SvgPoint){MARGIN, svg_baseline(bar + BAR / 2.0, TEXT)}, (PictureFit){TEXT, NAMES - 2.0, true},
                          label);
    double from = x_of(chart, row->starts_s), to = x_of(chart, row->ends_s);
    bool begun = entity_states(row->job, PROP_JOB_STARTED);
    double spare_s = row->latest_s - row->starts_s;
    bool critical = !begun && spare_s < SECONDS_A_DAY / 2.0;
    SvgBox box = {from, bar, fmax(to - from, 0.4), BAR};
    draw_arrivals(chart, svg, row, bar); /* before the bar, which what clears the names of lines would cut into */
    svg_rectangle(svg, box, SVG_LINE, critical ? SVG_BLACK : SVG_WHITE);
    if (begun) {
        svg_hatch(svg, box, 1.2);
    }
    if (spare_s > 0.0) {
        double middle = bar + BAR / 2.0;
        svg_line(svg, (SvgPoint){to, middle}, (SvgPoint){x_of(chart, row->ends_s + spare_s), middle},
                 SVG_DOTTED);
    }
}

/* What of the key stands on a page. */
typedef struct Signs {
    bool bars[3]; /* critical, with float, begun */
    bool arrival;
} Signs;

static void note_signs(const Chart *chart, const Row *row, Signs *signs)
{
    Label labels[LABELS];
    bool begun = entity_states(row->job, PROP_JOB_STARTED);
    bool critical = !begun && row->latest_s - row->starts_s < SECONDS_A_DAY / 2.0;
    signs->bars[begun ? 2 : critical ? 0 : 1] = true;
    signs->arrival = signs->arrival || gather_labels(chart, row, labels) > 0;
}

static void draw_key(Svg *svg, double y, const Signs *signs)
{
    static const char *const words[] = {"no float: moves the end", "has float, the dotted line", "begun"};
    double x = MARGIN;
    for (int i = 0; i < 3; i++) {
        if (!signs->bars[i]) {
            continue;
        }
        SvgBox box = {x, y - BAR, 8.0, BAR};
        svg_rectangle(svg, box, SVG_LINE, i == 0 ? SVG_BLACK : SVG_WHITE);
        if (i == 2) {
            svg_hatch(svg, box, 1.2);
        }
        svg_text(svg, (SvgPoint){x + 10.0, y - 0.8}, SMALL, SVG_START, str_from(words[i]));
        x += 14.0 + svg_text_width(str_from(words[i]), SMALL);
    }
    if (signs->arrival) {
        svg_triangle(svg, (SvgPoint){x + 1.2, y - 0.6}, (SvgPoint){x, y - 2.8}, (SvgPoint){x + 2.4, y - 2.8});
        svg_text(svg, (SvgPoint){x + 4.0, y - 0.8}, SMALL, SVG_START,
                 STR("something that the job needs comes, at the latest"));
    }
}

/* The plan is that of one combination of the open choices. */
static void draw_options(Svg *svg, const Book *book, double left_mm)
{
    Str with = picture_drawn_with(book);
    if (with.length > 0) {
        picture_list(svg, book->arena, (SvgPoint){left_mm, MARGIN + 4.0}, (PictureFit){2.6, 297.0 - MARGIN - left_mm, true},
                              str_from(text_format(book->arena, "Open; %.*s", STR_ARG(with))));
    }
}

/* Draws from that row on as many as have room; the first row of the next page. */
static uint32_t draw_page(const Chart *chart, Buf *bytes, uint32_t first)
{
    Svg svg;
    const Book *book = chart->book;
    uint32_t behind = first;
    double height = 0.0;
    while (behind < chart->count && (behind == first || height + row_height(chart, &chart->rows[behind]) <= ROOM)) {
        height += row_height(chart, &chart->rows[behind++]);
    }
    const char *title =
        text_format(book->arena, "Work plan of %.*s", STR_ARG(entity_label(book->model, book->boat)));
    double bottom = TOP + height + 2.0, top = TOP;
    svg_begin_cut(&svg, bytes, bottom + 16.0, str_from(title));
    svg_text(&svg, (SvgPoint){MARGIN, MARGIN + 4.0}, 4.5, SVG_START, str_from(title));
    draw_options(&svg, book, MARGIN + svg_text_width(str_from(title), 4.5) + 6.0);
    draw_weeks(chart, &svg, bottom);
    draw_goal(chart, &svg, bottom);
    Signs signs = {.arrival = false};
    for (uint32_t i = first; i < behind; i++) {
        note_signs(chart, &chart->rows[i], &signs);
        draw_row(chart, &svg, &chart->rows[i], top);
        top += row_height(chart, &chart->rows[i]);
    }
    draw_key(&svg, bottom + 10.0, &signs);
    svg_end(&svg);
    return behind;
}

size_t plan_chart_draw(const Book *book, BookFile **pages)
{
    Chart chart = {.book = book, .left_mm = MARGIN + NAMES, .right_mm = 297.0 - MARGIN};
    size_t count = 0;
    if (book->boat == NULL) {
        return 0;
    }
    gather(&chart);
    *pages = ARENA_ARRAY(book->arena, BookFile, chart.count);
    for (uint32_t first = 0; first < chart.count; count++) {
        Buf bytes;
        buf_init(&bytes, book->arena);
        first = draw_page(&chart, &bytes, first);
        const char *name = count == 0 ? "img/plan.svg" : text_format(book->arena, "img/plan-%zu.svg", count + 1);
        (*pages)[count] = (BookFile){name, "the work plan by the week", buf_str(&bytes)};
    }
    return count;
}
