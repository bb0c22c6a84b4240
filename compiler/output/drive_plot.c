/*
 * Power against speed. The curves come from figures/drive_curve.h, the marks are figures; nothing is computed here
 * but where things go. See drive_plot.h.
 */
#include "output/drive_plot.h"

#include "output/plot.h"

#include "figures/drive_curve.h"

#include <math.h>

enum { MOST_LINES = 4, MOST_MARKS = 12 };

static const UnitPair knots = {UNIT_KN, UNIT_NONE};

/* The engine and propeller of some combinations of the open choices. */
typedef struct Line {
    CaseSet cases;
    const Case *in; /* the first of them */
    DriveCurve curve; /* of the propeller at rated speed; or level at rated power */
    bool level;       /* what its propeller takes is not known */
    bool has_propeller;
    double rated, full_speed;
} Line;

typedef struct DrivePlot {
    const Book *book;
    UnitPair power; /* as the owner states it */
    Line lines[MOST_LINES];
    size_t line_count;
    uint32_t left_out; /* combinations that found no room */
    DriveCurve hull, hull_low;
    bool has_hull, has_low;
    double to_speed; /* m/s */
} DrivePlot;

static bool is_open(const Choice *choice)
{
    return choice->picked < 0 && choice->option_count > 1 && choice->chosen >= 0;
}

/* Whether some of these cases take that option of the choice. */
static bool is_taken(const Outcome *outcome, CaseSet cases, uint32_t choice, uint32_t option)
{
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        if (cases >> c & 1 && outcome->cases[c].model->choices[choice].chosen == (int32_t)option) {
            return true;
        }
    }
    return false;
}

/* "lean", "lean or middle"; nothing where the cases take each option that any case does: then the choice tells nothing of them. */
static const char *options_taken(const Book *book, CaseSet cases, uint32_t number)
{
    const Outcome *outcome = book->outcome;
    const Choice *choice = &outcome->cases[0].model->choices[number];
    bool all = true;
    Buf text;
    buf_init(&text, book->arena);
    for (uint32_t o = 0; o < choice->option_count; o++) {
        if (is_taken(outcome, cases, number, o)) {
            buf_format(&text, "%s%.*s", text.length > 0 ? " or " : "",
                       STR_ARG(symbols_text(outcome->spec->symbols, choice->options[o].name)));
        } else {
            all = all && !is_taken(outcome, options_all_cases(outcome), number, o);
        }
    }
    return all ? "" : text.text;
}

/* The options of the open choices that have to do with a line; empty where none has. */
static Str options_of(const Book *book, const Line *line)
{
    Buf text;
    buf_init(&text, book->arena);
    for (uint32_t i = 0; i < line->in->model->choice_count; i++) {
        const char *taken = is_open(&line->in->model->choices[i]) ? options_taken(book, line->cases, i) : "";
        buf_format(&text, "%s%s", text.length > 0 && taken[0] != 0 ? ", " : "", taken);
    }
    return buf_str(&text);
}

static double known_high(const Figures *figures, const Entity *subject, FigureId id)
{
    const Figure *figure = figure_find(figures, subject, id, NULL);
    return figure != NULL && figure->state == STATE_KNOWN && isfinite(figure->high) ? figure->high : NAN;
}

static double known_low(const Figures *figures, const Entity *subject, FigureId id)
{
    const Figure *figure = figure_find(figures, subject, id, NULL);
    return figure != NULL && figure->state == STATE_KNOWN && isfinite(figure->low) ? figure->low : NAN;
}

static double rated_power(const Entity *engine)
{
    const Value *rated = property_value(entity_property(engine, PROP_ENGINE_RATED), 0);
    return rated->kind == VALUE_QUANTITY ? rated->u.quantity.high : NAN;
}

static bool same_line(const Line *a, const Line *b)
{
    return a->rated == b->rated && a->full_speed == b->full_speed && a->curve.power[0] == b->curve.power[0];
}

static const Entity *propeller_of(const Model *model, const Entity *engine)
{
    const Entity *propeller = first_aboard(model, KIND_PROPELLER);
    while (propeller != NULL && entity_reference(propeller, PROP_PROPELLER_ENGINE) != engine) {
        propeller = next_aboard(propeller);
    }
    return propeller;
}

/* Rated power at every speed, where no propeller is known. */
static void level(Line *line, double to_speed)
{
    for (int i = 0; i < DRIVE_CURVE_POINTS; i++) {
        line->curve.speed[i] = to_speed * i / (DRIVE_CURVE_POINTS - 1);
        line->curve.power[i] = line->rated;
    }
}

static void add_line(DrivePlot *plot, const Case *in)
{
    const Entity *engine = first_driving(in->model);
    CaseSet own = (CaseSet)1 << (uint32_t)(in - plot->book->outcome->cases);
    Line line = {.in = in, .cases = own};
    if (engine == NULL) {
        return;
    }
    const Entity *propeller = propeller_of(in->model, engine);
    line.rated = rated_power(engine);
    line.full_speed = known_low(in->figures, in->model->boat, FIGURE_FULL_SPEED); /* the curve is that of the heaviest boat */
    line.level =
        propeller == NULL || !drive_propeller_curve(in->figures, propeller, plot->to_speed, &line.curve);
    line.has_propeller = propeller != NULL;
    if (line.level) {
        level(&line, plot->to_speed);
    }
    for (size_t i = 0; i < plot->line_count; i++) {
        if (same_line(&plot->lines[i], &line)) {
            plot->lines[i].cases |= own;
            return;
        }
    }
    if (!isfinite(line.rated) || !isfinite(line.full_speed)) {
        return;
    }
    if (plot->line_count == MOST_LINES) {
        plot->left_out++;
    } else {
        plot->lines[plot->line_count++] = line;
    }
}

/* How far the axis of speed goes: a little beyond the fastest that is spoken of. */
static double greatest_speed(const Book *book)
{
    double most = NAN;
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        const Case *in = &book->outcome->cases[c];
        if (in->model->boat != NULL) {
            most = fmax(most, known_high(in->figures, in->model->boat, FIGURE_FULL_SPEED));
            for (const Entity *asks = first_speed(in->model); asks != NULL;
                 asks = next_speed(in->model, asks)) {
                const Value *speed = property_value(entity_property(asks, speed_of(asks)), 1);
                bool usual = speed->kind == VALUE_QUANTITY && isfinite(speed->u.quantity.high);
                most = usual ? fmax(most, speed->u.quantity.high) : most;
            }
        }
    }
    return most;
}

static bool gather(DrivePlot *plot)
{
    const Book *book = plot->book;
    const Case *first = outcome_first(book->outcome);
    const Entity *engine = first_driving(first->model);
    double most = greatest_speed(book);
    if (book->boat == NULL || engine == NULL || !isfinite(most) || most <= 0.0) {
        return false;
    }
    plot->power = unit_of(engine, PROP_ENGINE_RATED, UNIT_ALONE(UNIT_KW));
    plot->to_speed = unit_to_si(knots, plot_round_up(unit_from_si(knots, most * 1.1)));
    plot->has_hull = drive_hull_curve(first->figures, engine, false, plot->to_speed, &plot->hull);
    plot->has_low = drive_hull_curve(first->figures, engine, true, plot->to_speed, &plot->hull_low);
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        if (book->outcome->cases[c].model->boat != NULL) {
            add_line(plot, &book->outcome->cases[c]);
        }
    }
    return plot->has_hull && plot->line_count > 0;
}

/* To the units of the axes. */
static PlotCurve curve_of(const DrivePlot *plot, const DriveCurve *curve, SvgPen pen, Str label)
{
    double *x = ARENA_ARRAY(plot->book->arena, double, DRIVE_CURVE_POINTS);
    double *y = ARENA_ARRAY(plot->book->arena, double, DRIVE_CURVE_POINTS);
    for (int i = 0; i < DRIVE_CURVE_POINTS; i++) {
        x[i] = unit_from_si(knots, curve->speed[i]);
        y[i] = unit_from_si(plot->power, curve->power[i]);
    }
    return (PlotCurve){.label = label, .pen = pen, .x = x, .y = y, .count = DRIVE_CURVE_POINTS};
}

static const char *number_text(const DrivePlot *plot, double si, UnitPair unit)
{
    Buf text;
    buf_init(&text, plot->book->arena);
    unit_print(&text, unit, si, si);
    return text.text;
}

/* Of what a propeller would take of a boat that lies still no more than this of rated power is drawn: no engine gives it. */
static const double most_of_rated = 1.5;

static double greatest_power(const DrivePlot *plot)
{
    double most = 0.0;
    for (size_t i = 0; i < plot->line_count; i++) {
        double rated = plot->lines[i].rated;
        most = fmax(most, fmax(rated, fmin(plot->lines[i].curve.power[0], most_of_rated * rated)));
    }
    return unit_from_si(plot->power, most);
}

/* An upright line at the speed beyond which a hull that does not plane is hardly driven; nothing for one that does. */
static size_t add_limit(const DrivePlot *plot, PlotCurve curves[], size_t count, double top)
{
    const Case *first = outcome_first(plot->book->outcome);
    double limit = known_low(first->figures, first->model->boat, FIGURE_SPEED_LIMIT); /* of the heaviest boat, as the curve is */
    if (!isfinite(limit) || limit > plot->to_speed) {
        return count;
    }
    double *x = ARENA_ARRAY(plot->book->arena, double, 2);
    double *y = ARENA_ARRAY(plot->book->arena, double, 2);
    x[0] = x[1] = unit_from_si(knots, limit);
    y[0] = 0.0;
    y[1] = top;
    curves[count++] = (PlotCurve){.label = str_from(text_format(plot->book->arena, "speed-limit of the hull, %s",
                                                                number_text(plot, limit, knots))),
                                  .pen = SVG_HAIR,
                                  .x = x,
                                  .y = y,
                                  .count = 2};
    return count;
}

/* Adds a mark; one at the same place takes its words too. Of more than there is room for, the last are left out. */
static size_t add_mark(Arena *arena, PlotMark marks[MOST_MARKS], size_t count, PlotMark new)
{
    for (size_t i = 0; i < count; i++) {
        if (marks[i].x == new.x && marks[i].y == new.y) {
            marks[i].label =
                str_from(text_format(arena, "%.*s, %.*s", STR_ARG(marks[i].label), STR_ARG(new.label)));
            return count;
        }
    }
    if (count < MOST_MARKS) {
        marks[count++] = new;
    }
    return count;
}

/* Where each engine gives all that it has, and what each speed that is spoken of takes. */
static size_t mark(const DrivePlot *plot, PlotMark marks[MOST_MARKS])
{
    Arena *arena = plot->book->arena;
    const Case *first = outcome_first(plot->book->outcome);
    const Entity *engine = first_driving(first->model);
    size_t count = 0;
    for (size_t i = 0; i < plot->line_count; i++) {
        const Line *line = &plot->lines[i];
        marks[count++] =
            (PlotMark){unit_from_si(knots, line->full_speed), unit_from_si(plot->power, line->rated),
                       str_from(text_format(arena, "%s, %s", number_text(plot, line->rated, plot->power),
                                            number_text(plot, line->full_speed, knots)))};
    }
    for (const Entity *asks = first_speed(first->model); asks != NULL;
         asks = next_speed(first->model, asks)) {
        const Figure *needed = figure_find(first->figures, engine, FIGURE_NEEDED_POWER, asks);
        const Value *speed = property_value(entity_property(asks, speed_of(asks)), 1);
        if (needed != NULL && needed->state == STATE_KNOWN && speed->kind == VALUE_QUANTITY &&
            isfinite(needed->high)) {
            PlotMark new = {unit_from_si(knots, speed->u.quantity.high),
                            unit_from_si(plot->power, needed->high), entity_name(first->model, asks)};
            count = add_mark(arena, marks, count, new);
        }
    }
    return count;
}

static void words(Svg *svg, Arena *arena, double y, const char *text)
{
    svg_text(svg, (SvgPoint){20.0, y}, 2.6, SVG_START, svg_text_fit(arena, str_from(text), 2.6, 257.0));
}

static void draw_foot(Svg *svg, const DrivePlot *plot)
{
    Arena *arena = plot->book->arena;
    words(svg, arena, 186.0,
          is_planing(outcome_first(plot->book->outcome)->model)
              ? "Hull: brake power in flat water, clean, by Crouch's formula for hulls that plane; below the speed at "
                "which she planes it asks for too little."
              : "Hull: brake power in flat water, clean, by two published formulas (Propeller Handbook; Skene's "
                "Elements of Yacht Design); beyond `speed-limit` both ask for too little.");
    words(svg, arena, 190.5,
          "Propeller: what it takes at the engine's rated speed, of its stated pitch, else of the pitch that "
          "fits "
          "(Wageningen B-series). Above the engine's rated power the engine is held back.");
    words(
        svg, arena, 195.0,
        "Marks: all that the engine gives, and how fast that drives her, at `speed-limit` at the most; and what a day or a goal asks for. "
        "What is a range is drawn at its heavy end.");
    if (plot->left_out > 0) {
        words(svg, arena, 199.5,
              text_format(arena, "%u more combinations of options found no room.", (unsigned)plot->left_out));
    }
}

static Str line_label(const DrivePlot *plot, const Line *line)
{
    const char *what = !line->level          ? "propeller at the engine's rated speed"
                       : line->has_propeller ? "rated power of the engine; its propeller does not fit, or is not decided"
                                             : "rated power of the engine; the spec states no propeller";
    Str label = options_of(plot->book, line);
    return label.length > 0 ? str_from(text_format(plot->book->arena, "%.*s: %s", STR_ARG(label), what)) : str_from(what);
}

static void draw(Svg *svg, const DrivePlot *plot)
{
    static const SvgPen pens[MOST_LINES] = {SVG_LINE, SVG_DASHED, SVG_DOTTED, SVG_DASH_DOT};
    PlotCurve curves[MOST_LINES + 3];
    PlotMark marks[MOST_MARKS];
    size_t count = 0;
    curves[count++] = curve_of(plot, &plot->hull, SVG_THICK, STR("hull"));
    if (plot->has_low) {
        curves[count++] = curve_of(plot, &plot->hull_low, SVG_THIN, STR("hull, second formula"));
    }
    for (size_t i = 0; i < plot->line_count; i++) {
        curves[count++] = curve_of(plot, &plot->lines[i].curve, pens[i], line_label(plot, &plot->lines[i]));
    }
    double top = plot_round_up(greatest_power(plot) * 1.05);
    count = add_limit(plot, curves, count, top);
    Buf unit;
    buf_init(&unit, plot->book->arena);
    unit_write(&unit, plot->power);
    Plot picture = {.box = {18.0, 16.0, 262.0, 164.0},
                    .x = {.title = "speed, kn", .low = 0.0, .high = unit_from_si(knots, plot->to_speed)},
                    .y = {.title = text_format(plot->book->arena, "power of the engine, %s", unit.text),
                          .low = 0.0,
                          .high = top},
                    .curves = curves,
                    .curve_count = count,
                    .marks = marks,
                    .mark_count = mark(plot, marks)};
    plot_draw(svg, &picture);
}

bool drive_plot(const Book *book, BookFile *file)
{
    DrivePlot *plot = ARENA_NEW(book->arena, DrivePlot);
    *plot = (DrivePlot){.book = book};
    if (!gather(plot)) {
        return false;
    }
    Buf bytes;
    Svg svg;
    buf_init(&bytes, book->arena);
    const char *title = "Power against speed";
    svg_begin(&svg, &bytes, SVG_A4_LANDSCAPE, str_from(title));
    Str boat = entity_label(book->model, book->boat);
    svg_text(&svg, (SvgPoint){20.0, 11.0}, 4.0, SVG_START,
             svg_text_fit(book->arena,
                          str_from(text_format(book->arena, "%.*s: power against speed", STR_ARG(boat))), 4.0,
                          257.0));
    draw(&svg, plot);
    draw_foot(&svg, plot);
    svg_end(&svg);
    *file = (BookFile){"img/drive-power.svg", title, buf_str(&bytes)};
    return true;
}
