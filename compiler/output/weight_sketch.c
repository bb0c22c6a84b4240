/*
 * See weight_sketch.h.
 *
 * One scale both ways, chosen so that everything placed is on the page. Names stand upright in a row above, in the order
 * of their places from the bow aft, each as near over its mark as its neighbours let it: an edit moves a few of them.
 */
#include "output/weight_sketch.h"

#include "model/status.h"
#include "model/tank_sides.h"
#include "figures/towards.h"
#include "figures/water.h"
#include "output/picture.h"
#include "output/spread.h"
#include "output/weight_frame.h"

#include <math.h>
#include <stdlib.h>

#define NAMES_BOTTOM 54.0 /* of the row of names */
#define NAMES_HIGH 45.0
#define CENTRES_TOP 160.0
#define CENTRE_ROW 5.0
#define SMALL FRAME_SMALL
#define NAME 2.7
#define PITCH 4.0 /* from name to name */
enum { NAMED = 44 };

/* Something that is weighed and placed. */
typedef struct Mark {
    const Entity *thing;
    double x_m, across_m; /* aft; up or to starboard by the view */
    double mass_kg;       /* all of it, at the most; for the size of the mark and the order alone */
    double name_mm;       /* where its name stands */
    uint32_t place;       /* in the spec */
} Mark;

/* What is said of a centre, in a row below the hull, and the centre that a line joins it to. */
typedef struct Said {
    SvgPoint centre;
    const char *words;
} Said;
enum { SAID = 3 };

typedef struct Sketch {
    Frame frame;
    Said said[SAID];
    unsigned said_count;
    const Book *book;
    Mark *marks; /* from the bow aft */
    size_t count, unnamed;
} Sketch;

static SvgPoint at(const Sketch *sketch, double aft_m, double across_m)
{
    return frame_at(&sketch->frame, aft_m, across_m);
}

/* ---- Gathering ----------------------------------------------------------------------------------------- */

static int from_the_bow(const void *left, const void *right)
{
    const Mark *a = left, *b = right;
    return a->x_m != b->x_m ? (a->x_m < b->x_m ? -1 : 1) : a->place < b->place ? -1 : 1;
}

static int heaviest_first(const void *left, const void *right)
{
    const Mark *a = left, *b = right;
    return a->mass_kg != b->mass_kg ? (a->mass_kg > b->mass_kg ? -1 : 1) : a->place < b->place ? -1 : 1;
}

/* As the weight study counts them: stated, or by the layout of a bank or an array; spares too. */
static Interval pieces_of(const Entity *thing)
{
    Purchase purchase = purchase_of(thing);
    return interval_add(purchase.count, purchase.spare);
}

static void gather(Sketch *sketch)
{
    const Model *model = sketch->book->model;
    sketch->marks = ARENA_ARRAY(sketch->book->arena, Mark, model->entity_count);
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *thing = model->entities[i];
        Mark mark = {.thing = thing, .place = i};
        double mass = 0.0;
        bool weighed = middle_of(thing, PROP_COMMON_MASS, 0, &mass);
        Interval pieces = pieces_of(thing);
        double count = isfinite(pieces.high) ? (pieces.low + pieces.high) / 2.0 : pieces.low;
        if (is_aboard(thing) && !is_ashore(thing) && (weighed || thing->kind == KIND_TANK) &&
            middle_of(thing, PROP_COMMON_AT, 0, &mark.x_m) &&
            middle_of(thing, PROP_COMMON_AT, sketch->frame.view == VIEW_SIDE ? 2 : 1, &mark.across_m)) {
            mark.mass_kg = mass * count;
            sketch->marks[sketch->count++] = mark;
            frame_see(&sketch->frame, mark.x_m, mark.across_m);
        }
    }
    if (sketch->count > 0) {
        qsort(sketch->marks, sketch->count, sizeof(Mark), heaviest_first);
    }
    sketch->unnamed = sketch->count > NAMED ? sketch->count - NAMED : 0;
}

/* ---- Names --------------------------------------------------------------------------------------------- */

/* Each name over its mark, or near: the marks are in order from the bow. */
static void place_names(Sketch *sketch, size_t named)
{
    double *places = ARENA_ARRAY(sketch->book->arena, double, named + 1);
    for (size_t i = 0; i < named; i++) {
        places[i] = at(sketch, sketch->marks[i].x_m, 0.0).x_mm;
    }
    spread(sketch->book->arena, places, named, PITCH, PICTURE_LEFT + 2.0, PICTURE_RIGHT - 2.0);
    for (size_t i = 0; i < named; i++) {
        sketch->marks[i].name_mm = places[i];
    }
}

/* ", 2 x 19 kg" */
static Str mass_of(const Sketch *sketch, const Entity *thing)
{
    const Book *book = sketch->book;
    Buf text;
    buf_init(&text, book->arena);
    if (!entity_states(thing, PROP_COMMON_MASS)) {
        return (Str){"", 0};
    }
    buf_text(&text, ", ");
    Interval pieces = pieces_of(thing);
    if (pieces.low != 1.0 || pieces.high != 1.0) {
        unit_print(&text, UNIT_ALONE(UNIT_NONE), pieces.low, pieces.high);
        buf_text(&text, " x ");
    }
    const Value *mass = property_value(entity_property(thing, PROP_COMMON_MASS), 0);
    buf_add(&text, book_value_text(book, book->model, mass));
    return buf_str(&text);
}

/* A name that is too long is cut, never the mass. */
static Str name_of(const Sketch *sketch, const Mark *mark)
{
    Arena *arena = sketch->book->arena;
    Str mass = mass_of(sketch, mark->thing);
    Str name = svg_text_fit(arena, book_name(sketch->book, mark->thing), NAME,
                            NAMES_HIGH - svg_text_width(mass, NAME));
    return str_from(text_format(arena, "%.*s%.*s", STR_ARG(name), STR_ARG(mass)));
}

/* ---- Marks --------------------------------------------------------------------------------------------- */

/* What of a tank lies within the drawing: nobody wants to see how far one goes on that is longer than any boat. */
static SvgBox within_drawing(SvgBox box)
{
    double left = fmax(box.x_mm, PICTURE_LEFT), right = fmin(box.x_mm + box.width_mm, PICTURE_RIGHT);
    double top = fmax(box.y_mm, NAMES_BOTTOM), low = fmin(box.y_mm + box.height_mm, PICTURE_LEGEND_TOP);
    return (SvgBox){left, top, fmax(0.0, right - left), fmax(0.0, low - top)};
}

/* A tank to scale where its sides are stated: from the side with its level, from above without. */
static void draw_tank(Sketch *sketch, const Mark *mark)
{
    double length = 0.5, breadth = 0.4, height = 0.4, level = 1.0;
    const Property *filled = model_property(sketch->book->model, mark->thing, PROP_TANK_FILL_LEVEL);
    TankSide along = tank_side(mark->thing, TANK_LENGTH), beam = tank_side(mark->thing, TANK_BREADTH);
    TankSide up = tank_side(mark->thing, TANK_HEIGHT);
    bool stated = middle_of(mark->thing, along.prop, along.slot, &length);
    middle_of(mark->thing, beam.prop, beam.slot, &breadth);
    middle_of(mark->thing, up.prop, up.slot, &height);
    if (property_value(filled, 0)->kind == VALUE_QUANTITY) {
        level = fmin(property_value(filled, 0)->u.quantity.high, 1.0);
    }
    double across = sketch->frame.view == VIEW_SIDE ? height : breadth;
    SvgPoint corner = at(sketch, mark->x_m - length / 2.0, mark->across_m + across / 2.0);
    SvgBox box =
        within_drawing((SvgBox){corner.x_mm, corner.y_mm, length * sketch->frame.scale, across * sketch->frame.scale});
    svg_rectangle(&sketch->frame.svg, box, stated ? SVG_LINE : SVG_DASHED, SVG_HOLLOW);
    if (sketch->frame.view == VIEW_SIDE && level > 0.0) {
        svg_hatch(
            &sketch->frame.svg,
            (SvgBox){box.x_mm, box.y_mm + box.height_mm * (1.0 - level), box.width_mm, box.height_mm * level},
            1.6);
    }
}

static double radius_mm(const Mark *mark)
{
    return fmax(0.8, 0.24 * cbrt(mark->mass_kg));
}

static void draw_mark(Sketch *sketch, const Mark *mark)
{
    if (mark->thing->kind == KIND_TANK) {
        draw_tank(sketch, mark);
    } else {
        svg_circle(&sketch->frame.svg, at(sketch, mark->x_m, mark->across_m), radius_mm(mark), SVG_LINE,
                   SVG_HOLLOW);
    }
}

/* The name, and a line from it to the mark: straight down, bent at last. */
static void draw_name(Sketch *sketch, const Mark *mark)
{
    SvgPoint to = at(sketch, mark->x_m, mark->across_m);
    double top = mark->thing->kind == KIND_TANK ? to.y_mm : to.y_mm - radius_mm(mark);
    const SvgPoint way[] = {{mark->name_mm, NAMES_BOTTOM + 0.6}, {to.x_mm, FRAME_TOP - 1.0}, {to.x_mm, top}};
    svg_polyline(&sketch->frame.svg, way, 3, SVG_HAIR);
    svg_text_upwards(&sketch->frame.svg, (SvgPoint){mark->name_mm + 0.35 * NAME, NAMES_BOTTOM}, NAME,
                     SVG_START, name_of(sketch, mark));
}

static void draw_marks(Sketch *sketch)
{
    size_t named = sketch->count - sketch->unnamed;
    for (size_t i = 0; i < sketch->count; i++) {
        draw_mark(sketch, &sketch->marks[i]);
    }
    if (named > 0) {
        qsort(sketch->marks, named, sizeof(Mark), from_the_bow);
    }
    place_names(sketch, named);
    for (size_t i = 0; i < named; i++) {
        draw_name(sketch, &sketch->marks[i]);
    }
}

/* ---- Centres ------------------------------------------------------------------------------------------- */

/* The usual sign of a centre of gravity: a circle with two black quarters. */
static void draw_gravity(Svg *svg, SvgPoint centre, double radius)
{
    enum { FAN = 4 };
    static const double turn = 1.5707963267948966;
    svg_circle(svg, centre, radius, SVG_LINE, SVG_WHITE);
    for (int quarter = 0; quarter < 4; quarter += 2) {
        for (int i = 0; i < FAN; i++) {
            double a = turn * (quarter + (double)i / FAN), b = turn * (quarter + (double)(i + 1) / FAN);
            svg_triangle(svg, centre,
                         (SvgPoint){centre.x_mm + radius * cos(a), centre.y_mm + radius * sin(a)},
                         (SvgPoint){centre.x_mm + radius * cos(b), centre.y_mm + radius * sin(b)});
        }
    }
}

static void say(Sketch *sketch, SvgPoint centre, const char *words)
{
    sketch->said[sketch->said_count++] = (Said){centre, words};
}

/* How far a row's words hang from their line. */
static double away_of(unsigned row)
{
    return 4.0 + 2.0 * row;
}

/* Which words stand in which row, and which of them to the left of their line: bit i is row i. */
typedef struct Rows {
    const unsigned char *order;
    unsigned left;
} Rows;

/* What is wrong with that: words off the page, lines through words, and what need not have been moved. */
static unsigned cost_of(const Sketch *sketch, const Rows *rows)
{
    static const unsigned off_page = 100, crossed = 10;
    unsigned cost = 0;
    for (unsigned row = 0; row < sketch->said_count; row++) {
        const Said *said = &sketch->said[rows->order[row]];
        bool left = rows->left >> row & 1;
        double width = svg_text_width(str_from(said->words), NAME), away = away_of(row) + 1.0;
        double from = said->centre.x_mm + (left ? -away - width : away), to = from + width;
        cost += from < PICTURE_LEFT || to >= PICTURE_RIGHT ? off_page : 0u;
        cost += (rows->order[row] != row ? 1u : 0u) + (left ? 1u : 0u);
        for (unsigned below = row + 1; below < sketch->said_count; below++) {
            double x = sketch->said[rows->order[below]].centre.x_mm;
            cost += x > from && x < to ? crossed : 0u;
        }
    }
    return cost;
}

static Rows arrange(const Sketch *sketch)
{
    static const unsigned char orders[][SAID] = {{0, 1, 2}, {1, 0, 2}, {0, 2, 1}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}};
    static const size_t orders_of[SAID + 1] = {1, 1, 2, 6}; /* the first of them move no more than so many */
    Rows best = {orders[0], 0};
    for (size_t i = 0; i < orders_of[sketch->said_count]; i++) {
        for (unsigned left = 0; left < 1u << sketch->said_count; left++) {
            Rows rows = {orders[i], left};
            best = cost_of(sketch, &rows) < cost_of(sketch, &best) ? rows : best;
        }
    }
    return best;
}

/* Words at the end of a line; what would run off the page stands on two lines, parted at its last comma. */
static void hang_words(Sketch *sketch, double x, double y, bool left, Str words)
{
    double room = left ? x - PICTURE_LEFT : PICTURE_RIGHT - x, half = 0.58 * NAME;
    SvgAnchor anchor = left ? SVG_END : SVG_START;
    size_t comma = words.length;
    while (comma > 0 && words.text[comma - 1] != ',') {
        comma--;
    }
    if (svg_text_width(words, NAME) <= room || comma == 0) {
        svg_text(&sketch->frame.svg, (SvgPoint){x, svg_baseline(y, NAME)}, NAME, anchor, words);
        return;
    }
    Str below = {words.text + comma + 1, words.length - comma - 1};
    words.length = comma;
    svg_text(&sketch->frame.svg, (SvgPoint){x, svg_baseline(y - half, NAME)}, NAME, anchor, words);
    svg_text(&sketch->frame.svg, (SvgPoint){x, svg_baseline(y + half, NAME)}, NAME, anchor, below);
}

/* A centre's words in a row below, joined to it by a line. */
static void draw_row(Sketch *sketch, SvgPoint centre, unsigned row, bool left, const char *words)
{
    double y = CENTRES_TOP + 3.0 + CENTRE_ROW * row, away = away_of(row), side = left ? -1.0 : 1.0;
    const SvgPoint way[] = {
        {centre.x_mm, centre.y_mm + 2.0}, {centre.x_mm, y}, {centre.x_mm + side * away, y}};
    svg_polyline(&sketch->frame.svg, way, 3, SVG_THIN);
    hang_words(sketch, centre.x_mm + side * (away + 1.0), y, left, str_from(words));
}

static const Figure *known(const Sketch *sketch, FigureId id, FigureScope scope)
{
    const Figure *figure = figure_find_in(sketch->book->figures, sketch->book->boat, id, scope);
    return figure != NULL && figure->state == STATE_KNOWN && isfinite(figure->low) && isfinite(figure->high)
               ? figure
               : NULL;
}

static const char *towards_text(const Sketch *sketch, const Figure *figure, const Directions *words)
{
    Buf text;
    buf_init(&text, sketch->book->arena);
    Figure rounded = book_rounded(figure);
    figure_write_towards(&text, sketch->book->figures, &rounded, words);
    return text.text;
}

/* Where the centre may be: a bar from end to end of each range, and the sign in the middle. */
static void draw_centre(Sketch *sketch, FigureScope scope, const char *what)
{
    static const Directions lengthwise = {"aft of the bow", "ahead of the bow", false}, crosswise = {"to starboard", "to port", false},
                            upwards = {"up", "down", false};
    FigureId across_id = sketch->frame.view == VIEW_SIDE ? FIGURE_VCG : FIGURE_TCG;
    const Figure *aft = known(sketch, FIGURE_LCG, scope), *across = known(sketch, across_id, scope);
    if (aft == NULL || across == NULL) {
        return;
    }
    double x_m = (aft->low + aft->high) / 2.0, y_m = (across->low + across->high) / 2.0;
    svg_line(&sketch->frame.svg, at(sketch, aft->low, y_m), at(sketch, aft->high, y_m), SVG_THICK);
    svg_line(&sketch->frame.svg, at(sketch, x_m, across->low), at(sketch, x_m, across->high), SVG_THICK);
    SvgPoint centre = at(sketch, x_m, y_m);
    draw_gravity(&sketch->frame.svg, centre, 1.9);
    say(sketch, centre,
        text_format(sketch->book->arena, "%s: %s, %s", what, towards_text(sketch, aft, &lengthwise),
                    towards_text(sketch, across, sketch->frame.view == VIEW_SIDE ? &upwards : &crosswise)));
}

static void draw_buoyancy(Sketch *sketch)
{
    double aft_m;
    if (!middle_of(sketch->book->boat, PROP_BOAT_BUOYANCY, 0, &aft_m)) {
        return;
    }
    SvgPoint tip = at(sketch, aft_m, 0.0);
    svg_triangle(&sketch->frame.svg, tip, (SvgPoint){tip.x_mm - 1.8, tip.y_mm + 3.2},
                 (SvgPoint){tip.x_mm + 1.8, tip.y_mm + 3.2});
    say(sketch, (SvgPoint){tip.x_mm, tip.y_mm + 1.2},
        text_format(sketch->book->arena, "centre of buoyancy on her lines: %s aft of the bow",
                    book_value(sketch->book, sketch->book->boat, PROP_BOAT_BUOYANCY, 0).text));
}

/* Of a few things that are placed the centre is not hers: the sign of one would be read as the boat's. */
static void draw_gravities(Sketch *sketch)
{
    const Book *book = sketch->book;
    const char *untold = NULL;
    if (!book_is_most(book, FIGURE_PLACED_SHARE)) {
        untold = text_format(book->arena,
                             "Where her centre of gravity lies is not told: %s of what she displaces is weighed and placed, less than half.",
                             book_figure(book, book->boat, FIGURE_PLACED_SHARE, NULL).text);
    } else if (known(sketch, FIGURE_LCG, SCOPE_TANKS_EMPTY) != NULL) {
        draw_centre(sketch, SCOPE_TANKS_EMPTY, "centre of gravity, tanks empty");
        draw_centre(sketch, SCOPE_TANKS_FULL, "tanks full");
    } else {
        draw_centre(sketch, SCOPE_WHOLE, "centre of gravity");
    }
    if (sketch->said_count == 0 && untold == NULL) {
        untold = "The centre of gravity is not known: a mass or a place has no bounds, or waits for a mistake.";
    }
    if (untold != NULL) {
        double y = CENTRES_TOP + 3.0 + CENTRE_ROW; /* below the row of the centre of buoyancy */
        svg_text(&sketch->frame.svg, (SvgPoint){PICTURE_LEFT, svg_baseline(y, NAME)}, NAME, SVG_START, str_from(untold));
    }
}

static void draw_centres(Sketch *sketch)
{
    draw_gravities(sketch);
    draw_buoyancy(sketch);
    Rows rows = arrange(sketch);
    for (unsigned row = 0; row < sketch->said_count; row++) {
        const Said *said = &sketch->said[rows.order[row]];
        draw_row(sketch, said->centre, row, rows.left >> row & 1, said->words);
    }
}

/* ---- The page ------------------------------------------------------------------------------------------ */

static void draw_key(Sketch *sketch)
{
    Svg *svg = &sketch->frame.svg;
    double y = PICTURE_LEGEND_TOP + 3.0, x = PICTURE_LEFT;
    draw_gravity(svg, (SvgPoint){x + 1.9, y}, 1.9);
    svg_text(svg, (SvgPoint){x + 5.5, svg_baseline(y, SMALL)}, SMALL, SVG_START, STR("centre of gravity"));
    svg_circle(svg, (SvgPoint){x + 38.0, y}, 1.2, SVG_LINE, SVG_HOLLOW);
    svg_text(svg, (SvgPoint){x + 41.0, svg_baseline(y, SMALL)}, SMALL, SVG_START,
             STR("a thing; the heavier, the larger"));
    SvgBox box = {x + 90.0, y - 1.5, 6.0, 3.0};
    svg_rectangle(svg, box, SVG_LINE, SVG_HOLLOW);
    svg_hatch(svg, (SvgBox){box.x_mm, box.y_mm + 1.0, box.width_mm, box.height_mm - 1.0}, 1.0);
    svg_text(svg, (SvgPoint){x + 98.0, svg_baseline(y, SMALL)}, SMALL, SVG_START,
             STR("a tank and its level"));
    svg_text(svg, (SvgPoint){x, y + 6.0}, SMALL, SVG_START,
             sketch->frame.view == VIEW_SIDE
                 ? STR("Dashed: not stated, drawn as is usual. A mark: the middle of where a thing may be.")
             : frame_is_box(sketch->book->boat)
                 ? STR("Dashed: not stated, drawn as is usual. The box: length by beam; her hulls are not drawn. "
                       "Starboard is up the page.")
                 : STR("Dashed: not stated, drawn as is usual. Starboard is up the page."));
    if (sketch->unnamed > 0) {
        svg_text(svg, (SvgPoint){x, y + 10.0}, SMALL, SVG_START,
                 str_from(text_format(sketch->book->arena, "%zu lighter things have a mark and no name.",
                                      sketch->unnamed)));
    }
}

static const struct {
    const char *file, *title, *what;
} views[] = {
    [VIEW_SIDE] = {"weight-profile.svg", "What she weighs and where, from the side",
                   "weights, from the side"},
    [VIEW_ABOVE] = {"weight-plan.svg", "What she weighs and where, from above", "weights, from above"}};

static void draw(Sketch *sketch, Buf *bytes)
{
    const Book *book = sketch->book;
    Frame *frame = &sketch->frame;
    gather(sketch);
    frame_fit(frame, book->boat);
    svg_begin(&frame->svg, bytes, SVG_A4_LANDSCAPE, str_from(views[frame->view].title));
    frame_draw_hull(frame, book->boat);
    draw_marks(sketch);
    draw_centres(sketch);
    draw_key(sketch);
    PictureBlock block = {.what = views[sketch->frame.view].what,
                          .file = views[sketch->frame.view].file,
                          .remark = STR("A sketch, not to be measured from."),
                          .caution = STR("What has no mass or no place is not in it.")};
    picture_block(&sketch->frame.svg, book, &block);
    svg_end(&sketch->frame.svg);
}

/* Of a boat whose length or beam is not decided at all there is nothing to draw the rest into. */
static bool can_be_drawn(const Book *book)
{
    double length_m = 0.0, beam_m = 0.0;
    return book->boat != NULL && is_aboard(book->boat) &&
           figure_find(book->figures, book->boat, FIGURE_LCG, NULL) != NULL &&
           middle_of(book->boat, PROP_BOAT_LENGTH, 0, &length_m) &&
           middle_of(book->boat, PROP_BOAT_BEAM, 0, &beam_m) && length_m > 0.0 && beam_m > 0.0;
}

size_t weight_sketch(const Book *book, BookFile **pages)
{
    if (!can_be_drawn(book)) {
        return 0;
    }
    size_t count = sizeof views / sizeof views[0];
    *pages = ARENA_ARRAY(book->arena, BookFile, count);
    for (size_t i = 0; i < count; i++) {
        Sketch sketch = {.frame = {.view = (View)i}, .book = book};
        Buf bytes;
        buf_init(&bytes, book->arena);
        draw(&sketch, &bytes);
        (*pages)[i] =
            (BookFile){text_format(book->arena, "img/%s", views[i].file), views[i].title, buf_str(&bytes)};
    }
    return count;
}
