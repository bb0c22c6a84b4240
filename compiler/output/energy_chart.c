/* See energy_chart.h. */
#include "output/energy_chart.h"

#include "figures/power_series.h"
#include "output/picture.h"
#include "output/plot.h"

#include <math.h>
#include <string.h>

enum { MOST_DAYS = 14, MOST_SOURCES = 5 };

const char *energy_chart_names(const Book *book, const Entity *when)
{
    return text_format(book->arena, "img/energy-%.*s.", STR_ARG(book_name(book, when)));
}

/* Times of the ends of steps, in hours of a day or in days of a cruise. */
static const double *times_of(Arena *arena, const PowerSeries *series, double unit_s)
{
    double *times = ARENA_ARRAY(arena, double, series->steps + 1);
    for (uint32_t i = 0; i <= series->steps; i++) {
        times[i] = i * series->step_s / unit_s;
    }
    return times;
}

static const double *per_cent(Arena *arena, const PowerSeries *series, const double *shares)
{
    double *values = ARENA_ARRAY(arena, double, series->steps + 1);
    for (uint32_t i = 0; i <= series->steps; i++) {
        values[i] = shares[i] * 100.0;
    }
    return values;
}

/* A curve at the height of the frame lies on it and cannot be seen. */
static const double clear_of_frame = 1.05;

/* What has no bound is run as a load so large: it is no power to draw. */
static const double without_bound_w = 1e8;

/* The mean of a step holds from its beginning to its end: two points a step, fewer where it stays the same. */
static PlotCurve stairs(Arena *arena, const PowerSeries *series, const double *times, const double *means,
                        SvgPen pen, Str label)
{
    double *x = ARENA_ARRAY(arena, double, 2 * series->steps + 2);
    double *y = ARENA_ARRAY(arena, double, 2 * series->steps + 2);
    size_t count = 0;
    for (uint32_t i = 0; i < series->steps; i++) {
        double mean = means[i] < without_bound_w ? means[i] : NAN; /* breaks the curve */
        if (count >= 2 && y[count - 1] == mean) {
            x[count - 1] = times[i + 1];
            continue;
        }
        x[count] = times[i];
        y[count++] = mean;
        x[count] = times[i + 1];
        y[count++] = mean;
    }
    return (PlotCurve){.label = label, .pen = pen, .x = x, .y = y, .count = count};
}

static double greatest(const double *values, uint32_t count, double so_far)
{
    for (uint32_t i = 0; i < count; i++) {
        so_far = values[i] < without_bound_w ? fmax(so_far, values[i]) : so_far;
    }
    return so_far;
}

/* The longest time for which two curves lie on each other, off the axis, in steps; 0: never for long. */
static uint32_t together(const double *one, const double *other, uint32_t steps, uint32_t *first)
{
    enum { LEAST_STEPS = 2 }; /* less is a crossing */
    uint32_t most = 0, length = 0;
    for (uint32_t i = 0; i < steps; i++) {
        bool same = one[i] > 0.0 && one[i] < without_bound_w && fabs(one[i] - other[i]) <= 1e-3 * one[i];
        length = same ? length + 1 : 0;
        if (length > most) {
            most = length;
            *first = i + 1 - length;
        }
    }
    return most >= LEAST_STEPS ? most : 0;
}

/* What both plots of a page share. */
typedef struct Page {
    const Book *book;
    const Entity *bank, *when;
    PowerSeries series;
    const SeriesSource *shown[MOST_SOURCES]; /* those that bring or take most, in the order of the series */
    uint32_t shown_count;
    const double *times;
    PlotAxis along;
} Page;

static bool is_shown(const Page *page, const SeriesSource *source)
{
    for (uint32_t s = 0; s < page->shown_count; s++) {
        if (page->shown[s] == source) {
            return true;
        }
    }
    return false;
}

static double all_of(const PowerSeries *series, const SeriesSource *source)
{
    double sum = 0.0;
    for (uint32_t i = 0; i < series->steps; i++) {
        sum += source->offered_w[i];
    }
    return sum;
}

/* Of more than a plot can tell apart those with the most energy. */
static void choose_shown(Page *page)
{
    const PowerSeries *series = &page->series;
    for (uint32_t s = 0; s < series->source_count && page->shown_count < MOST_SOURCES; s++) {
        double own = all_of(series, &series->sources[s]);
        uint32_t before = 0;
        for (uint32_t other = 0; other < series->source_count; other++) {
            double sum = all_of(series, &series->sources[other]);
            before += sum > own || (sum == own && other < s);
        }
        if (before < MOST_SOURCES) {
            page->shown[page->shown_count++] = &series->sources[s];
        }
    }
}

static bool has_bound(const PowerSeries *series)
{
    for (uint32_t i = 0; i < series->steps; i++) {
        if (!(series->load_w[i] < without_bound_w)) {
            return false;
        }
    }
    return true;
}

static void draw_charge(Svg *svg, Page *page)
{
    Arena *arena = page->book->arena;
    const PowerSeries *series = &page->series;
    const double *worse = per_cent(arena, series, series->worse);
    const double *better = per_cent(arena, series, series->better);
    double ends[2] = {page->along.low, page->along.high};
    double limit[2] = {series->least_charge * 100.0, series->least_charge * 100.0};
    bool band = false;
    for (uint32_t i = 0; i <= series->steps; i++) {
        band = band || better[i] - worse[i] > 0.05;
    }
    PlotCurve curves[] = {
        {band ? STR("state of charge, worse case") : STR("state of charge"), SVG_THICK, page->times, worse,
         series->steps + 1},
        {STR("usable limit"), SVG_DOTTED, ends, limit, 2},
        {STR("better case"), SVG_DASHED, page->times, better, series->steps + 1},
    };
    Plot plot = {.box = {15.0, 20.0, 267.0, 84.0},
                 .x = page->along,
                 .y = {"state of charge, %", 0.0, 105.0, 20.0}, /* full keeps clear of the frame */
                 .curves = curves,
                 .curve_count = band ? 3 : 2};
    plot_draw(svg, &plot);
}

/* "loads and `array` together", "`one` and `other` together", "`one` and 4 more together" */
static Str say_together(const Page *page, const SeriesSource *first, bool with_loads, uint32_t others, const SeriesSource *other)
{
    Arena *arena = page->book->arena;
    Str name = entity_name(page->book->model, first->maker);
    const char *loads = with_loads ? "loads, " : "";
    if (others > 1) {
        return str_from(text_format(arena, "%s%.*s and %u more together", loads, STR_ARG(name), (unsigned)others));
    }
    return others == 1 ? str_from(text_format(arena, "%s%.*s and %.*s together", loads, STR_ARG(name),
                                              STR_ARG(entity_name(page->book->model, other->maker))))
                       : str_from(text_format(arena, "loads and %.*s together", STR_ARG(name)));
}

/* Where curves lie on each other they are named once, all of them: those below cannot be seen. */
static size_t mark_together(const Page *page, PlotMark marks[MOST_SOURCES])
{
    const PowerSeries *series = &page->series;
    bool told[MOST_SOURCES] = {false};
    size_t count = 0;
    for (uint32_t s = 0; s < page->shown_count; s++) {
        const double *means = page->shown[s]->offered_w;
        const SeriesSource *other = NULL;
        uint32_t first = 0, others = 0, steps = told[s] ? 0 : together(means, series->load_w, series->steps, &first);
        bool with_loads = steps > 0;
        for (uint32_t later = s + 1; later < page->shown_count && !told[s]; later++) {
            uint32_t at = 0, so_long = told[later] ? 0 : together(means, page->shown[later]->offered_w, series->steps, &at);
            if (so_long > 0) {
                first = steps == 0 ? at : first;
                steps = steps == 0 ? so_long : steps;
                told[later] = true;
                other = page->shown[later];
                others++;
            }
        }
        if (steps > 0) {
            uint32_t middle = first + steps / 2;
            marks[count++] = (PlotMark){page->times[middle], means[middle], say_together(page, page->shown[s], with_loads, others, other)};
        }
    }
    return count;
}

static void draw_power(Svg *svg, Page *page)
{
    static const SvgPen pens[MOST_SOURCES] = {SVG_DASHED, SVG_DOTTED, SVG_LINE, SVG_THIN, SVG_HAIR};
    Arena *arena = page->book->arena;
    const PowerSeries *series = &page->series;
    PlotCurve curves[MOST_SOURCES + 1];
    size_t count = 0;
    double most = greatest(series->load_w, series->steps, 1.0);
    curves[count++] = stairs(arena, series, page->times, series->load_w, SVG_THICK,
                             has_bound(series) ? STR("loads take")
                                               : STR("loads take; without a bound where there is no line"));
    for (uint32_t s = 0; s < page->shown_count; s++) {
        const SeriesSource *source = page->shown[s];
        const char *does = source->draws ? (source->takes ? "takes" : "brings") : source->takes ? "may take" : "offers";
        const char *label = text_format(arena, "%.*s %s", STR_ARG(entity_name(page->book->model, source->maker)), does);
        curves[count++] = stairs(arena, series, page->times, source->offered_w, pens[s], str_from(label));
        most = greatest(source->offered_w, series->steps, most);
    }
    PlotMark marks[MOST_SOURCES];
    size_t mark_count = mark_together(page, marks);
    Plot plot = {.box = {15.0, 105.0, 267.0, 84.0},
                 .x = page->along,
                 .y = {"power, W", 0.0, plot_round_up(most * clear_of_frame), 0.0},
                 .curves = curves,
                 .curve_count = count,
                 .marks = marks,
                 .mark_count = mark_count};
    plot_draw(svg, &plot);
}

static const char *title_of(const Page *page)
{
    return text_format(page->book->arena, "Energy of %.*s on %.*s",
                       STR_ARG(book_name(page->book, page->bank)),
                       STR_ARG(book_name(page->book, page->when)));
}

/* Which sources the plot has no room for, the first few by name. */
static const char *say_left_out(const Page *page)
{
    enum { NAMED = 4 };
    Buf text;
    unsigned count = 0;
    buf_init(&text, page->book->arena);
    for (uint32_t s = 0; s < page->series.source_count; s++) {
        const SeriesSource *source = &page->series.sources[s];
        if (!is_shown(page, source) && count++ < NAMED) {
            buf_text(&text, count > 1 ? ", " : " Not drawn, for they bring no more: ");
            buf_add(&text, entity_name(page->book->model, source->maker));
        }
    }
    if (count > NAMED) {
        buf_format(&text, " and %u more", count - NAMED);
    }
    buf_text(&text, count > 0 ? "." : "");
    return text.text;
}

/* What a reader has to know who sees the page alone. */
static void write_foot(Svg *svg, const Page *page)
{
    Arena *arena = page->book->arena;
    Str options = picture_drawn_with(page->book);
    const char *of =
        page->when->kind == KIND_DAY ? "One day, begun full at midnight." : "The cruise, begun as it says.";
    const char *more =
        page->series.left_out > 0
            ? text_format(arena, " The %u days after these are not drawn.", (unsigned)page->series.left_out)
            : "";
    const char *sources = say_left_out(page);
    const char *lines[] = {
        text_format(arena, "%s Run in steps of 15 minutes; power is the mean of each, in the worse case.%s%s",
                    of, more, sources),
        options.length > 0 ? text_format(arena, "Choices are open: %.*s.", STR_ARG(options)) : "",
        "What sources offer and neither loads nor bank can take is refused; how much stands in the book's "
        "tables.",
    };
    double y = 194.0;
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        if (lines[i][0] != '\0') {
            int told = picture_list(svg, arena, (SvgPoint){15.0, y}, (PictureFit){3.0, 267.0, false}, str_from(lines[i]));
            y += told == 1 ? 4.5 : 8.0;
        }
    }
}

/* Of what boat it is, for a page that is printed by itself. */
static void write_whose(Svg *svg, const Page *page, const char *file)
{
    const Book *book = page->book;
    Str boat = book->boat != NULL ? entity_label(book->model, book->boat) : STR("a boat without a name");
    const char *text = text_format(book->arena, "%.*s. %s. Basis %s.", STR_ARG(boat), file, basis_word(book->outcome->basis));
    double room = 267.0 - svg_text_width(str_from(title_of(page)), 5.0) - 6.0;
    svg_text(svg, (SvgPoint){282.0, 14.0}, 2.6, SVG_END, svg_text_fit(book->arena, str_from(text), 2.6, room));
}

static BookFile draw_page(Page *page)
{
    Arena *arena = page->book->arena;
    bool day = page->when->kind == KIND_DAY;
    double unit_s = day ? 3600.0 : 86400.0;
    double end = page->series.steps * page->series.step_s / unit_s;
    Buf text;
    Svg svg;
    buf_init(&text, arena);
    page->times = times_of(arena, &page->series, unit_s);
    choose_shown(page);
    page->along = (PlotAxis){day ? "hour of the day" : "days of the cruise, from midnight to midnight", 0.0,
                             end, day ? 3.0 : 1.0};
    svg_begin(&svg, &text, SVG_A4_LANDSCAPE, str_from(title_of(page)));
    svg_text(&svg, (SvgPoint){15.0, 14.0}, 5.0, SVG_START,
             svg_text_fit(arena, str_from(title_of(page)), 5.0, 267.0));
    const char *name = text_format(arena, "%s%.*s.svg", energy_chart_names(page->book, page->when),
                                   STR_ARG(book_name(page->book, page->bank)));
    write_whose(&svg, page, name + strlen("img/"));
    draw_charge(&svg, page);
    draw_power(&svg, page);
    write_foot(&svg, page);
    svg_end(&svg);
    return (BookFile){name, title_of(page), buf_str(&text)};
}

typedef struct Pages {
    BookFile *list;
    size_t count;
} Pages;

/* Every bank of the first case on one day or cruise. */
static void draw_banks(const Book *book, const Entity *when, Pages *pages)
{
    for (const Entity *bank = book->model->first_of_kind[KIND_BANK]; bank != NULL;
         bank = bank->next_of_kind) {
        Page page = {.book = book, .bank = bank, .when = when};
        if (!(bank->flags & ENTITY_DROPPED) &&
            power_series(book->arena, book->figures, bank, when, MOST_DAYS, &page.series)) {
            pages->list[pages->count++] = draw_page(&page);
        }
    }
}

static size_t count_kind(const Model *model, KindId kind)
{
    size_t count = 0;
    for (const Entity *e = model->first_of_kind[kind]; e != NULL; e = e->next_of_kind) {
        count++;
    }
    return count;
}

size_t energy_chart_draw(const Book *book, BookFile **files)
{
    static const KindId kinds_of_time[] = {KIND_DAY, KIND_CRUISE};
    const Model *model = book->model;
    size_t most =
        count_kind(model, KIND_BANK) * (count_kind(model, KIND_DAY) + count_kind(model, KIND_CRUISE));
    Pages pages = {.list = ARENA_ARRAY(book->arena, BookFile, most + 1)};
    for (size_t k = 0; k < 2; k++) {
        for (const Entity *when = model->first_of_kind[kinds_of_time[k]]; when != NULL;
             when = when->next_of_kind) {
            draw_banks(book, when, &pages);
        }
    }
    *files = pages.list;
    return pages.count;
}
