/* See plot.h: axes with round numbers, curves cut at the frame, a key, marks. */
#include "output/plot.h"

#include "base/num.h"

#include <assert.h>
#include <limits.h>
#include <math.h>

/* In mm. */
static const double number_size = 2.6, title_size = 3.0;
static const double left_margin = 17.0, right_margin = 6.0, bottom_margin = 12.0;
static const double key_row = 5.0, key_sample = 9.0, key_gap = 7.0;
static const double tick = 1.2;

/* Round steps */

double plot_step(double span, int most)
{
    assert(isfinite(span) && span > 0.0 && most >= 1);
    static const double factors[] = {1.0, 2.0, 5.0, 10.0};
    double least = span / most;
    int exponent = (int)floor(log10(least));
    double power = pow(10.0, fabs((double)exponent));
    for (int i = 0; i < 4; i++) {
        double step = exponent < 0 ? factors[i] / power : factors[i] * power;
        if (step >= least * (1.0 - 1e-9)) {
            return step;
        }
    }
    return exponent < 0 ? 10.0 / power : 10.0 * power;
}

double plot_round_up(double value)
{
    double step = plot_step(value, 10);
    return step * ceil(value / step * (1.0 - 1e-9));
}

/* Digits behind the point that multiples of a step need. */
static int decimals_of(double step)
{
    int decimals = 0;
    while (decimals < 6 && fabs(step - round(step)) > 1e-6 * step) {
        step *= 10.0;
        decimals++;
    }
    return decimals;
}

/* The key: entries one after the other, in as many rows as it takes. */

static double key_width(const PlotCurve *curve)
{
    return key_sample + 1.5 + svg_text_width(curve->label, number_size) + key_gap;
}

/* Lays the key out, drawing it where svg is not NULL; returns how many rows it has. */
static int lay_key(Svg *svg, const Plot *plot)
{
    double left = plot->box.x_mm + left_margin;
    double right = plot->box.x_mm + plot->box.width_mm;
    double x = left;
    int rows = 0;
    for (size_t i = 0; i < plot->curve_count; i++) {
        const PlotCurve *curve = &plot->curves[i];
        if (curve->label.length == 0) {
            continue;
        }
        double width = key_width(curve);
        if (rows == 0 || (x + width - key_gap > right && x > left)) {
            x = left;
            rows++;
        }
        double middle = plot->box.y_mm + (rows - 0.5) * key_row;
        if (svg != NULL) {
            svg_line(svg, (SvgPoint){x, middle}, (SvgPoint){x + key_sample, middle}, curve->pen);
            Str label = svg_text_fit(svg->buf->arena, curve->label, number_size, right - x - key_sample - 1.5);
            svg_text(svg, (SvgPoint){x + key_sample + 1.5, svg_baseline(middle, number_size)}, number_size, SVG_START,
                     label);
        }
        x += width;
    }
    return rows;
}

/* The frame */

static SvgBox frame_of(const Plot *plot)
{
    double key = lay_key(NULL, plot) * key_row + 2.0;
    return (SvgBox){plot->box.x_mm + left_margin, plot->box.y_mm + key,
                    plot->box.width_mm - left_margin - right_margin, plot->box.height_mm - key - bottom_margin};
}

static double along(const PlotAxis *axis, double value)
{
    return (value - axis->low) / (axis->high - axis->low);
}

static SvgPoint place(const Plot *plot, const SvgBox *frame, double x, double y)
{
    return (SvgPoint){frame->x_mm + along(&plot->x, x) * frame->width_mm,
                      frame->y_mm + (1.0 - along(&plot->y, y)) * frame->height_mm};
}

SvgPoint plot_point(const Plot *plot, double x, double y)
{
    SvgBox frame = frame_of(plot);
    return place(plot, &frame, x, y);
}

static Str number_text(Svg *svg, double value, int decimals)
{
    Buf text;
    buf_init(&text, svg->buf->arena);
    num_write_fixed(&text, value == 0.0 ? 0.0 : value, decimals);
    return buf_str(&text);
}

static void draw_x_number(Svg *svg, const SvgBox *frame, SvgPoint at, Str number)
{
    double bottom = frame->y_mm + frame->height_mm;
    svg_line(svg, (SvgPoint){at.x_mm, bottom}, (SvgPoint){at.x_mm, bottom + tick}, SVG_THIN);
    svg_text(svg, (SvgPoint){at.x_mm, bottom + 4.3}, number_size, SVG_MIDDLE, number);
}

static void draw_y_number(Svg *svg, const SvgBox *frame, SvgPoint at, Str number)
{
    double right = frame->x_mm + frame->width_mm;
    svg_line(svg, (SvgPoint){frame->x_mm - tick, at.y_mm}, (SvgPoint){frame->x_mm, at.y_mm}, SVG_THIN);
    svg_line(svg, (SvgPoint){frame->x_mm, at.y_mm}, (SvgPoint){right, at.y_mm}, SVG_HAIR); /* below any curve on it */
    svg_text(svg, (SvgPoint){frame->x_mm - 2.0, svg_baseline(at.y_mm, number_size)}, number_size, SVG_END, number);
}

static void draw_numbers(Svg *svg, const Plot *plot, const SvgBox *frame, bool upright)
{
    const PlotAxis *axis = upright ? &plot->y : &plot->x;
    double span = axis->high - axis->low;
    assert(isfinite(span) && span > 0.0);
    double step = axis->step > 0.0 ? axis->step : plot_step(span, 10);
    double first = ceil(axis->low / step - 1e-9);
    int decimals = decimals_of(step);
    for (int i = 0; i < 1000 && (first + i) * step <= axis->high + span * 1e-9; i++) {
        double value = (first + i) * step;
        Str number = number_text(svg, value, decimals);
        if (upright) {
            draw_y_number(svg, frame, place(plot, frame, plot->x.low, value), number);
        } else {
            draw_x_number(svg, frame, place(plot, frame, value, plot->y.low), number);
        }
    }
}

static void draw_titles(Svg *svg, const Plot *plot, const SvgBox *frame)
{
    SvgPoint below = {frame->x_mm + frame->width_mm / 2.0, plot->box.y_mm + plot->box.height_mm - 2.0};
    SvgPoint beside = {plot->box.x_mm + 3.5, frame->y_mm + frame->height_mm / 2.0};
    svg_text(svg, below, title_size, SVG_MIDDLE, str_from(plot->x.title));
    svg_text_upwards(svg, beside, title_size, SVG_MIDDLE, str_from(plot->y.title));
}

/* Curves */

/*
 * Cuts a piece of a line at two parallel sides, by Liang and Barsky: from and to are how far along it they lie.
 * False: nothing is left.
 */
static bool cut(double start, double change, double low, double high, double *from, double *to)
{
    if (change == 0.0) {
        return start >= low && start <= high;
    }
    double at_low = (low - start) / change;
    double at_high = (high - start) / change;
    *from = fmax(*from, fmin(at_low, at_high));
    *to = fmin(*to, fmax(at_low, at_high));
    return *from <= *to;
}

/* Points gathered for a line that is drawn when it ends. */
typedef struct Line {
    Svg *svg;
    SvgPen pen;
    SvgPoint *points;
    size_t count;
} Line;

static void end_line(Line *line)
{
    if (line->count >= 2) {
        svg_polyline(line->svg, line->points, line->count, line->pen);
    }
    line->count = 0;
}

static void draw_piece(Line *line, const Plot *plot, const SvgBox *frame, const PlotCurve *curve, size_t i)
{
    double x = curve->x[i], y = curve->y[i];
    double across = curve->x[i + 1] - x, up = curve->y[i + 1] - y;
    double from = 0.0, to = 1.0;
    if (!isfinite(x) || !isfinite(y) || !isfinite(across) || !isfinite(up) ||
        !cut(x, across, plot->x.low, plot->x.high, &from, &to) ||
        !cut(y, up, plot->y.low, plot->y.high, &from, &to)) {
        end_line(line);
        return;
    }
    if (from > 0.0) {
        end_line(line);
    }
    if (line->count == 0) {
        line->points[line->count++] = place(plot, frame, x + from * across, y + from * up);
    }
    line->points[line->count++] = place(plot, frame, x + to * across, y + to * up);
    if (to < 1.0) {
        end_line(line);
    }
}

static void draw_curve(Svg *svg, const Plot *plot, const SvgBox *frame, const PlotCurve *curve)
{
    Line line = {svg, curve->pen, ARENA_ARRAY(svg->buf->arena, SvgPoint, curve->count + 1), 0};
    for (size_t i = 0; i + 1 < curve->count; i++) {
        draw_piece(&line, plot, frame, curve, i);
    }
    end_line(&line);
}

/* Marks */

static bool boxes_meet(const SvgBox *a, const SvgBox *b)
{
    return a->x_mm < b->x_mm + b->width_mm && b->x_mm < a->x_mm + a->width_mm && a->y_mm < b->y_mm + b->height_mm &&
           b->y_mm < a->y_mm + a->height_mm;
}

static bool is_in(const SvgBox *box, SvgPoint at)
{
    return at.x_mm > box->x_mm && at.x_mm < box->x_mm + box->width_mm && at.y_mm > box->y_mm &&
           at.y_mm < box->y_mm + box->height_mm;
}

/* How many of the places along a curve, less than a millimetre apart, lie under words. */
static int covers(const Plot *plot, const SvgBox *frame, const PlotCurve *curve, const SvgBox *words)
{
    static const double apart_mm = 0.8;
    enum { MOST = 1000 };
    int covered = 0;
    for (size_t i = 0; i + 1 < curve->count; i++) {
        SvgPoint from = place(plot, frame, curve->x[i], curve->y[i]);
        SvgPoint to = place(plot, frame, curve->x[i + 1], curve->y[i + 1]);
        double across = to.x_mm - from.x_mm, down = to.y_mm - from.y_mm;
        if (!isfinite(from.x_mm) || !isfinite(from.y_mm) || !isfinite(across) || !isfinite(down)) {
            continue;
        }
        int parts = (int)fmin(1.0 + hypot(across, down) / apart_mm, MOST);
        for (int part = 0; part < parts; part++) {
            double share = (double)part / parts;
            covered += is_in(words, (SvgPoint){from.x_mm + share * across, from.y_mm + share * down});
        }
    }
    return covered;
}

/* Words that are placed, so that the next ones keep clear of them. */
typedef struct Words {
    SvgBox *boxes;
    size_t count;
} Words;

static int badness(const Plot *plot, const SvgBox *frame, const Words *placed, const SvgBox *words)
{
    enum { OUTSIDE = 100000, ON_WORDS = 1000 };
    bool outside = words->x_mm < frame->x_mm || words->x_mm + words->width_mm > frame->x_mm + frame->width_mm ||
                   words->y_mm < frame->y_mm || words->y_mm + words->height_mm > frame->y_mm + frame->height_mm;
    int bad = outside ? OUTSIDE : 0;
    for (size_t i = 0; i < placed->count; i++) {
        bad += boxes_meet(words, &placed->boxes[i]) ? ON_WORDS : 0;
    }
    for (size_t i = 0; i < plot->curve_count; i++) {
        bad += covers(plot, frame, &plot->curves[i], words);
    }
    for (size_t i = 0; i < plot->mark_count; i++) {
        SvgPoint other = place(plot, frame, plot->marks[i].x, plot->marks[i].y);
        bad += isfinite(other.x_mm) && isfinite(other.y_mm) && is_in(words, other) ? ON_WORDS : 0;
    }
    return bad;
}

/* Where words may stand beside their mark, by how far from it: nearer ones first, of these above to the right. */
typedef struct Corner {
    bool left, below;
    double apart_mm;
} Corner;

static const Corner corners[] = {
    {false, false, 2.0}, {true, false, 2.0}, {false, true, 2.0}, {true, true, 2.0},
    {false, false, 8.0}, {true, false, 8.0}, {false, true, 8.0}, {true, true, 8.0},
};

static SvgBox box_at(const Corner *corner, SvgPoint mark, double width)
{
    double height = number_size * 1.2;
    return (SvgBox){corner->left ? mark.x_mm - corner->apart_mm - width : mark.x_mm + corner->apart_mm,
                    corner->below ? mark.y_mm + 1.4 : mark.y_mm - 1.0 - height, width, height};
}

/* Words stand at whichever corner of their mark covers least. */
static void draw_mark(Svg *svg, const Plot *plot, const SvgBox *frame, SvgPoint at, Str label, Words *placed)
{
    double width = svg_text_width(label, number_size);
    const Corner *best = &corners[0];
    int least = INT_MAX;
    for (size_t i = 0; i < sizeof corners / sizeof corners[0]; i++) {
        SvgBox tried = box_at(&corners[i], at, width);
        int bad = badness(plot, frame, placed, &tried);
        if (bad < least) {
            best = &corners[i];
            least = bad;
        }
    }
    placed->boxes[placed->count++] = box_at(best, at, width);
    SvgPoint words = {best->left ? at.x_mm - best->apart_mm : at.x_mm + best->apart_mm,
                      best->below ? at.y_mm + 2.0 + number_size : at.y_mm - 1.6};
    svg_circle(svg, at, 0.9, SVG_LINE, SVG_WHITE);
    svg_text_clear(svg, words, number_size, best->left ? SVG_END : SVG_START, label);
}

void plot_draw(Svg *svg, const Plot *plot)
{
    SvgBox frame = frame_of(plot);
    assert(plot->box.width_mm >= 60.0 && plot->box.height_mm >= 40.0 && frame.height_mm > 5.0);
    lay_key(svg, plot);
    draw_numbers(svg, plot, &frame, false);
    draw_numbers(svg, plot, &frame, true);
    svg_rectangle(svg, frame, SVG_LINE, SVG_HOLLOW);
    draw_titles(svg, plot, &frame);
    for (size_t i = 0; i < plot->curve_count; i++) {
        draw_curve(svg, plot, &frame, &plot->curves[i]);
    }
    Words placed = {ARENA_ARRAY(svg->buf->arena, SvgBox, plot->mark_count + 1), 0};
    for (size_t i = 0; i < plot->mark_count; i++) {
        const PlotMark *mark = &plot->marks[i];
        if (isfinite(mark->x) && isfinite(mark->y)) {
            draw_mark(svg, plot, &frame, place(plot, &frame, mark->x, mark->y), mark->label, &placed);
        }
    }
}
