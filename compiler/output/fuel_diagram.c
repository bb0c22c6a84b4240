/*
 * Tanks with what is in them on the left, what burns fuel on the right, everything between in the middle; a line leaves a thing on its
 * right and reaches the next on its left, a return and what flows to the left the other way. What a line states sits on it: a valve, a
 * separator, a filter. See fuel_diagram.h.
 */
#include "output/fuel_diagram.h"

#include "figures/fuel_plan.h"
#include "output/picture.h"
#include "output/svg.h"

#include <math.h>

enum { COLUMNS = 3 };

static const double column_x[COLUMNS] = {15.0, 125.0, 228.0};
static const double box_width = 54.0, least_height = 22.0, gap = 8.0, top = 22.0, bottom = 184.0;
static const double more_height = 4.5; /* of a box that says that nothing joins it */
static const double pitch = 11.0; /* between lines at one box: their words stand between them */
static const double small = 2.3, usual = 2.8;

/* A thing that fuel comes from or goes to. */
typedef struct Stop {
    const Entity *entity;
    int column;
    double y, height;
    int out, in;   /* lines drawn so far ... */
    int outs, ins; /* ... of all that leave on its right, and reach it on its left */
    struct Stop *next;
} Stop;

/* Words beside a line. */
typedef struct Label {
    SvgPoint at;
    Str text;
    struct Label *next;
} Label;

typedef struct FuelDiagram {
    const Book *book;
    const Model *model;
    Svg svg;
    Stop *stops, **last;
    Label *labels;
    double below[COLUMNS]; /* where the next box of a column goes */
    uint32_t left_out;
    int lines, drawn;   /* each bends at a place of its own */
    int lowered;        /* of them: led below what stands in the middle */
    bool has_far_valve; /* some have a valve at their right end */
    bool stops_siphon, valves, separators, filters, returns; /* drawn, so that the legend has them */
    double foot;        /* where the legend begins */
} FuelDiagram;

static bool takes_fuel(const Entity *entity)
{
    return entity->kind == KIND_ENGINE || entity->kind == KIND_GENERATOR || entity->kind == KIND_HEATER ||
           entity->kind == KIND_COOLER || entity->kind == KIND_BURNER;
}

/* "petrol"; of a tank that might hold either, that this is not known. */
static const char *fuel_of(const Model *model, const Entity *entity)
{
    bool tank = entity->kind == KIND_TANK;
    if (!tank && !is_burner(model, entity)) {
        return "";
    }
    Fuel fuel = tank ? fuel_held(model, entity) : fuel_burned(model, entity);
    return fuel != FUEL_UNKNOWN ? fuel_word(fuel) : tank ? "which?" : "";
}

static Stop *stop_of(FuelDiagram *diagram, const Entity *entity)
{
    for (Stop *s = diagram->stops; s != NULL; s = s->next) {
        if (s->entity == entity) {
            return s;
        }
    }
    Stop *stop = ARENA_NEW(diagram->book->arena, Stop);
    *stop = (Stop){.entity = entity, .column = entity->kind == KIND_TANK ? 0 : takes_fuel(entity) ? 2 : 1};
    *diagram->last = stop;
    diagram->last = &stop->next;
    return stop;
}

/* Both ends of a line, left one first; false where one is a mistake, or was found no room for. `turned`: it flows to the left. */
static bool ends_of(FuelDiagram *diagram, const Entity *line, Stop **left, Stop **right, bool *turned)
{
    const Entity *from = entity_reference(line, PROP_FUEL_LINE_FROM);
    const Entity *to = entity_reference(line, PROP_FUEL_LINE_TO);
    if (from == NULL || to == NULL) {
        return false;
    }
    Stop *first = stop_of(diagram, is_return(line) ? to : from), *second = stop_of(diagram, is_return(line) ? from : to);
    bool swapped = first->column > second->column;
    *left = swapped ? second : first;
    *right = swapped ? first : second;
    *turned = is_return(line) != swapped;
    return (*left)->height >= 0.0 && (*right)->height >= 0.0;
}

/* Puts the boxes one below the other; a box without room gets a height below nothing, and its lines are left out. */
static void place(FuelDiagram *diagram)
{
    for (int column = 0; column < COLUMNS; column++) {
        diagram->below[column] = top;
    }
    for (Stop *s = diagram->stops; s != NULL; s = s->next) {
        int lines = s->outs > s->ins ? s->outs : s->ins;
        s->y = diagram->below[s->column];
        double least = least_height + (lines == 0 ? more_height : 0.0);
        s->height = fmin(fmax(least, pitch * (lines + 1)), bottom - s->y);
        if (s->height < least_height) {
            s->height = -1.0;
        } else {
            diagram->below[s->column] += s->height + gap;
        }
    }
}

static void gather(FuelDiagram *diagram)
{
    Stop *left;
    Stop *right;
    bool turned;
    for (const Entity *t = first_tank(diagram->model, "fuel"); t != NULL; t = next_tank(t, "fuel")) {
        stop_of(diagram, t);
    }
    for (const Entity *e = first_aboard(diagram->model, KIND_FUEL_LINE); e != NULL; e = next_aboard(e)) {
        diagram->lines++;
        diagram->has_far_valve |= entity_yes(e, PROP_FUEL_LINE_ENGINE_SHUT_OFF) == 1;
        if (ends_of(diagram, e, &left, &right, &turned)) {
            left->outs++;
            /* A line between two things of one column leaves and comes on the right. */
            *(left->column == right->column ? &right->outs : &right->ins) += 1;
        }
    }
    place(diagram);
}

static SvgBox box_of(const Stop *stop)
{
    return (SvgBox){column_x[stop->column], stop->y, box_width, stop->height};
}

/* As the engine that is drawn states it. */
static Str rated_of(const Book *book, const Entity *engine)
{
    const Property *rated = entity_property(engine, PROP_ENGINE_RATED);
    return str_from(
        text_format(book->arena, "%s at %s",
                    str_copy(book->arena, book_value_text(book, book->model, property_value(rated, 0))),
                    str_copy(book->arena, book_value_text(book, book->model, property_value(rated, 1)))));
}

/* What is to be read of a thing below its name. */
static Str strength_of(const Book *book, const Entity *entity)
{
    switch (entity->kind) {
    case KIND_TANK: return book_figure_short(book, entity, FIGURE_VOLUME, NULL);
    case KIND_ENGINE: return rated_of(book, entity);
    case KIND_HEATER:
    case KIND_BURNER:
    case KIND_GENERATOR: return book_value(book, entity, fuel_rate_prop((KindId)entity->kind), 0);
    default: return STR("");
    }
}

static void words(FuelDiagram *diagram, double x, double y, double size, double width, Str text)
{
    if (!str_equal(text, book_nothing)) {
        picture_words(&diagram->svg, diagram->book->arena, (SvgPoint){x, y}, size, width, text);
    }
}

static Str bores_of(const Book *book, const Entity *tank)
{
    return str_from(text_format(book->arena, "vent %s, fill %s",
                                book_value(book, tank, PROP_TANK_VENT, 0).text,
                                book_value(book, tank, PROP_TANK_FILL, 0).text));
}

static void draw_stop(FuelDiagram *diagram, const Stop *stop)
{
    const Book *book = diagram->book;
    SvgBox box = box_of(stop);
    svg_rectangle(&diagram->svg, box, stop->column == 0 ? SVG_THICK : SVG_LINE, SVG_WHITE);
    double width = box.width_mm - 3.0;
    words(diagram, box.x_mm + 1.5, box.y_mm + 5.0, usual, width, book_name(book, stop->entity));
    words(diagram, box.x_mm + 1.5, box.y_mm + 9.5, small, width, stop->entity->title);
    Str strength = strength_of(book, stop->entity);
    const char *fuel = holds_fuel(stop->entity) || stop->column == 2 ? fuel_of(diagram->model, stop->entity) : "";
    bool both = strength.length > 0 && !str_equal(strength, book_nothing) && fuel[0] != '\0';
    words(diagram, box.x_mm + 1.5, box.y_mm + 14.0, small, width,
          both ? str_from(text_format(book->arena, "%.*s, %s", STR_ARG(strength), fuel)) : fuel[0] != '\0' ? str_from(fuel) : strength);
    if (stop->entity->kind == KIND_TANK) {
        words(diagram, box.x_mm + 1.5, box.y_mm + 18.5, small, width, bores_of(book, stop->entity));
    }
    if (stop->outs == 0 && stop->ins == 0) {
        words(diagram, box.x_mm + 1.5, box.y_mm + box.height_mm - 2.5, small, width, STR("joined to nothing"));
    }
}

/* Symbols on a line at y, each 8 mm wide: two triangles, a box with S for siphoning or W for water, a circle with F. */

static void draw_valve(Svg *svg, double x, double y)
{
    svg_triangle(svg, (SvgPoint){x, y - 2.0}, (SvgPoint){x, y + 2.0}, (SvgPoint){x + 3.0, y});
    svg_triangle(svg, (SvgPoint){x + 6.0, y - 2.0}, (SvgPoint){x + 6.0, y + 2.0}, (SvgPoint){x + 3.0, y});
}

static void draw_box(Svg *svg, double x, double y, Str letter)
{
    svg_rectangle(svg, (SvgBox){x, y - 2.8, 6.0, 5.6}, SVG_LINE, SVG_WHITE);
    svg_text(svg, (SvgPoint){x + 3.0, svg_baseline(y, small)}, small, SVG_MIDDLE, letter);
}

static void draw_filter(Svg *svg, double x, double y)
{
    svg_circle(svg, (SvgPoint){x + 3.0, y}, 3.0, SVG_LINE, SVG_WHITE);
    svg_text(svg, (SvgPoint){x + 3.0, svg_baseline(y, small)}, small, SVG_MIDDLE, STR("F"));
}

static void draw_symbols(FuelDiagram *diagram, const Entity *line, double x, double y)
{
    if (entity_yes(line, PROP_FUEL_LINE_ANTI_SIPHON) == 1) {
        draw_box(&diagram->svg, x, y, STR("S"));
        diagram->stops_siphon = true;
        x += 8.0;
    }
    if (entity_yes(line, PROP_FUEL_LINE_SHUT_OFF) == 1) {
        draw_valve(&diagram->svg, x, y);
        diagram->valves = true;
        x += 8.0;
    }
    if (entity_yes(line, PROP_FUEL_LINE_SEPARATOR) == 1) {
        draw_box(&diagram->svg, x, y, STR("W"));
        diagram->separators = true;
        x += 8.0;
    }
    if (entity_states(line, PROP_FUEL_LINE_FILTER)) {
        draw_filter(&diagram->svg, x, y);
        diagram->filters = true;
    }
}

/* `8 mm, A1, 10 um` */
static Str line_text(const Book *book, const Entity *line)
{
    static const PropId shown[] = {PROP_FUEL_LINE_BORE, PROP_FUEL_LINE_GRADE, PROP_FUEL_LINE_FILTER,
                                   PROP_FUEL_LINE_RUN};
    Buf text;
    buf_init(&text, book->arena);
    for (size_t i = 0; i < sizeof shown / sizeof shown[0]; i++) {
        if (entity_states(line, shown[i])) {
            buf_text(&text, text.length > 0 ? ", " : "");
            buf_add(&text, book_value(book, line, shown[i], 0));
        }
    }
    return buf_str(&text);
}

/* Heights at which the n-th of so many lines leaves or reaches a box. */
static double port(const Stop *stop, int n, int of)
{
    return stop->y + stop->height * (n + 1) / (of + 1);
}

static bool is_height_of_line(const FuelDiagram *diagram, const Stop *right, double y, double own)
{
    static const double too_near = 1.5;
    for (const Stop *s = diagram->stops; s != NULL; s = s->next) {
        for (int n = 0; n < s->outs && s->column < right->column && s->height >= 0.0; n++) {
            double other = port(s, n, s->outs);
            if (fabs(other - y) < too_near && other != own) {
                return true;
            }
        }
    }
    return false;
}

/*
 * Where a line from the height `own` reaches a box on its left: never at the height at which another one leaves its box, or the two
 * would lie on each other and look joined.
 */
static double reached_port(const FuelDiagram *diagram, Stop *right, double own)
{
    static const double aside[] = {0.0, 1.6, -1.6, 3.2, -3.2};
    double y = port(right, right->in++, right->ins);
    for (size_t i = 0; i < sizeof aside / sizeof aside[0]; i++) {
        if (!is_height_of_line(diagram, right, y + aside[i], own)) {
            return y + aside[i];
        }
    }
    return y;
}

/* Room for a valve at the right end, between the last bend and the arrow. */
static double reach_of(const FuelDiagram *diagram, const Stop *right)
{
    return diagram->has_far_valve && right->column == 2 ? 13.0 : 5.0;
}

/*
 * The bends of a line between its ends, at most 4. What passes the middle column by goes straight on where nothing stands there,
 * and else right below all that does.
 */
static size_t bends_of(FuelDiagram *diagram, const Stop *left, const Stop *right, SvgPoint from, SvgPoint to,
                       SvgPoint bends[4])
{
    int number = diagram->drawn++;
    double near = fmin(2.0, 12.0 / diagram->lines) * number, far = fmin(2.0, 30.0 / diagram->lines) * number;
    double last = to.x_mm - reach_of(diagram, right) - (right->column == 2 ? far : near);
    bool passes = right->column - left->column == 2 && diagram->below[1] > top && from.y_mm < diagram->below[1];
    if (!passes) {
        double x = left->column == right->column ? from.x_mm + 36.0 + near : last;
        bends[0] = (SvgPoint){x, from.y_mm};
        bends[1] = (SvgPoint){x, to.y_mm};
        return 2;
    }
    double lane = fmin(diagram->below[1], 190.0) - gap + (gap - 1.0) * ++diagram->lowered / (diagram->lines + 1);
    bends[0] = (SvgPoint){from.x_mm + 36.0 + near, from.y_mm};
    bends[1] = (SvgPoint){bends[0].x_mm, lane};
    bends[2] = (SvgPoint){last, lane};
    bends[3] = (SvgPoint){last, to.y_mm};
    return 4;
}

static void draw_way(FuelDiagram *diagram, const SvgPoint points[], size_t count, bool back, bool turned)
{
    SvgPen pen = back ? SVG_DASHED : SVG_LINE;
    svg_polyline(&diagram->svg, points, count, pen);
    if (turned) {
        svg_arrow(&diagram->svg, (SvgPoint){points[0].x_mm + 4.0, points[0].y_mm}, points[0], SVG_LINE);
    } else {
        double side = points[count - 1].x_mm > points[count - 2].x_mm ? -4.0 : 4.0;
        svg_arrow(&diagram->svg, (SvgPoint){points[count - 1].x_mm + side, points[count - 1].y_mm},
                  points[count - 1], SVG_LINE);
    }
}

static void draw_line(FuelDiagram *diagram, const Entity *line)
{
    Stop *left;
    Stop *right;
    bool turned;
    if (!ends_of(diagram, line, &left, &right, &turned)) {
        diagram->left_out++;
        return;
    }
    bool beside = left->column == right->column;
    SvgPoint points[6];
    points[0] = (SvgPoint){column_x[left->column] + box_width, port(left, left->out++, left->outs)};
    SvgPoint end = {beside ? points[0].x_mm : column_x[right->column],
                    beside ? port(right, right->out++, right->outs) : reached_port(diagram, right, points[0].y_mm)};
    size_t count = 1 + bends_of(diagram, left, right, points[0], end, points + 1);
    points[count++] = end;
    draw_way(diagram, points, count, is_return(line), turned);
    draw_symbols(diagram, line, points[0].x_mm + 5.0, points[0].y_mm);
    if (right->column == 2 && entity_yes(line, PROP_FUEL_LINE_ENGINE_SHUT_OFF) == 1) {
        draw_valve(&diagram->svg, end.x_mm - 11.0, end.y_mm);
        diagram->valves = true;
    }
    diagram->returns |= is_return(line);
    Str text = line_text(diagram->book, line);
    Label *label = ARENA_NEW(diagram->book->arena, Label);
    *label = (Label){{points[0].x_mm + 2.0, points[0].y_mm - 3.8},
                     str_from(text_format(diagram->book->arena, "%.*s%s%.*s", STR_ARG(book_name(diagram->book, line)),
                                          text.length > 0 ? ": " : "", STR_ARG(text))),
                     diagram->labels};
    diagram->labels = label;
}

/* Words come last, and break the lines that they lie on. */
static void draw_labels(FuelDiagram *diagram)
{
    for (const Label *label = diagram->labels; label != NULL; label = label->next) {
        svg_text_clear(&diagram->svg, label->at, small, SVG_START,
                       svg_text_fit(diagram->book->arena, label->text, small, 52.0));
    }
}

/* Words behind a symbol of the legend; where the next symbol goes. */
static double name_symbol(FuelDiagram *diagram, double x, Str name)
{
    words(diagram, x + 8.0, svg_baseline(diagram->foot, small), small, 40.0, name);
    return x + 8.0 + svg_text_width(name, small) + 12.0;
}

/* What is drawn, and no more. */
static void draw_legend(FuelDiagram *diagram)
{
    double x = column_x[0], y = diagram->foot;
    if (diagram->stops_siphon) {
        draw_box(&diagram->svg, x, y, STR("S"));
        x = name_symbol(diagram, x, STR("keeps it from siphoning"));
    }
    if (diagram->valves) {
        draw_valve(&diagram->svg, x, y);
        x = name_symbol(diagram, x, STR("valve"));
    }
    if (diagram->separators) {
        draw_box(&diagram->svg, x, y, STR("W"));
        x = name_symbol(diagram, x, STR("water separator"));
    }
    if (diagram->filters) {
        draw_filter(&diagram->svg, x, y);
        x = name_symbol(diagram, x, STR("filter"));
    }
    if (diagram->returns) {
        svg_line(&diagram->svg, (SvgPoint){x - 4.0, y}, (SvgPoint){x + 6.0, y}, SVG_DASHED);
        name_symbol(diagram, x, STR("back to the tank"));
    }
    words(diagram, column_x[0], y + 7.0, small, 260.0,
          STR("Only what the spec states is drawn: what is not here may be missing aboard, or not said. Not "
              "to scale."));
    if (diagram->left_out > 0) {
        words(diagram, column_x[0], y + 11.0, small, 260.0,
              str_from(text_format(diagram->book->arena,
                                   "%u more lines found no room, or an end that is not known: see "
                                   "the table.",
                                   (unsigned)diagram->left_out)));
    }
}

/* The options stand behind the title if there is room, else in small words under it. */
static void draw_title(FuelDiagram *diagram)
{
    const double size = 4.0, width = 260.0;
    const Book *book = diagram->book;
    Str boat = entity_label(book->model, book->boat), with = picture_drawn_with(book);
    const char *title = text_format(book->arena, "%.*s: fuel", STR_ARG(boat));
    const char *both = with.length > 0 ? text_format(book->arena, "%s; open, %.*s", title, STR_ARG(with)) : title;
    bool room = svg_text_width(str_from(both), size) <= width;
    words(diagram, 15.0, 14.0, size, width, str_from(room ? both : title));
    if (!room) {
        picture_list(&diagram->svg, book->arena, (SvgPoint){15.0, 17.6}, (PictureFit){2.6, width, false},
                              str_from(text_format(book->arena, "Open; %.*s", STR_ARG(with))));
    }
}

bool fuel_diagram(const Book *book, BookFile *file)
{
    FuelDiagram diagram = {.book = book, .model = book->model};
    diagram.last = &diagram.stops;
    if (book->boat == NULL || first_aboard(book->model, KIND_FUEL_LINE) == NULL) {
        return false;
    }
    gather(&diagram);
    Buf bytes;
    buf_init(&bytes, book->arena);
    diagram.foot = fmax(diagram.below[0], fmax(diagram.below[1], diagram.below[2]));
    svg_begin_cut(&diagram.svg, &bytes, diagram.foot + 18.0, STR("Fuel, from tank to engine"));
    draw_title(&diagram);
    for (const Entity *e = first_aboard(book->model, KIND_FUEL_LINE); e != NULL; e = next_aboard(e)) {
        draw_line(&diagram, e);
    }
    for (const Stop *s = diagram.stops; s != NULL; s = s->next) {
        if (s->height >= 0.0) {
            draw_stop(&diagram, s);
        }
    }
    draw_labels(&diagram);
    draw_legend(&diagram);
    svg_end(&diagram.svg);
    *file = (BookFile){"img/drive-fuel.svg", "Fuel, from tank to engine", buf_str(&bytes)};
    return true;
}
