/*
 * Every opening in the hull as one picture: how high each stands over the water, upright and heeled, and what
 * closes it. Heights are to scale, one scale a page; from left to right things stand in the order of the spec.
 */
#include "output/diagram_water.h"

#include "figures/water.h"
#include "output/picture.h"

#include <math.h>

#define COLUMNS 10 /* at most, on a page */
#define WIDEST 40.0
#define SMALL 2.3
#define NAMES 2.6
#define SEA_TOP 14.0 /* of the part where heights are to scale */
#define SEA_BOTTOM 96.0
#define WORDS_TOP 104.0
#define LINE 3.6

/* A thing with a height. */
typedef struct HullOpening {
    const Entity *thing;
    PropId height;
    double low, high; /* m */
    struct HullOpening *next;
} HullOpening;

typedef struct HullOpenings {
    const Book *book;
    HullOpening *first, *last;
    size_t count;
    double low, high; /* of what is to be seen: m */
} HullOpenings;

static void see(HullOpenings *all, double low, double high)
{
    all->low = fmin(all->low, low);
    all->high = fmax(all->high, high);
}

static void add_opening(HullOpenings *all, const Entity *thing, PropId height)
{
    const Value *value = property_value(height != PROP_NONE ? entity_property(thing, height) : NULL, 0);
    bool known =
        value->kind == VALUE_QUANTITY && isfinite(value->u.quantity.low) && isfinite(value->u.quantity.high);
    HullOpening *opening = ARENA_NEW(all->book->arena, HullOpening);
    *opening = (HullOpening){.thing = thing,
                             .height = height,
                             .low = known ? value->u.quantity.low : NAN,
                             .high = known ? value->u.quantity.high : NAN};
    if (known) {
        see(all, opening->low, opening->high);
    }
    if (all->last == NULL) {
        all->first = opening;
    } else {
        all->last->next = opening;
    }
    all->last = opening;
    all->count++;
}

static const Figure *known_figure(const Book *book, const Entity *thing, FigureId id)
{
    const Figure *figure = figure_find(book->figures, thing, id, NULL);
    bool known =
        figure != NULL && figure->state == STATE_KNOWN && isfinite(figure->low) && isfinite(figure->high);
    return known ? figure : NULL;
}

bool diagram_is_outlet_stated(const Model *model, const Entity *exhaust)
{
    const Entity *fitting = first_aboard(model, KIND_THROUGH_HULL);
    while (fitting != NULL && !entity_names(fitting, PROP_THROUGH_HULL_SERVES, exhaust)) {
        fitting = next_aboard(fitting);
    }
    return fitting != NULL;
}

static HullOpenings gather(const Book *book)
{
    static const struct {
        KindId kind;
        PropId height;
    } sorts[] = {{KIND_THROUGH_HULL, PROP_THROUGH_HULL_HEIGHT},
                 {KIND_BILGE_PUMP, PROP_BILGE_PUMP_DISCHARGE_HEIGHT},
                 {KIND_VENT_LOOP, PROP_VENT_LOOP_HEIGHT},
                 {KIND_TOILET, PROP_TOILET_RIM}};
    HullOpenings all = {.book = book, .low = -0.3, .high = 0.3};
    for (size_t s = 0; s < sizeof sorts / sizeof sorts[0]; s++) {
        for (const Entity *e = first_aboard(book->model, sorts[s].kind); e != NULL; e = next_aboard(e)) {
            if (s == 0 || entity_states(e, sorts[s].height)) {
                add_opening(&all, e, sorts[s].height);
            }
        }
    }
    for (const Entity *e = first_aboard(book->model, KIND_EXHAUST); e != NULL; e = next_aboard(e)) {
        if (!diagram_is_outlet_stated(book->model, e)) {
            add_opening(&all, e, PROP_NONE);
        }
    }
    const Figure *heeled =
        book->boat != NULL ? known_figure(book, book->boat, FIGURE_HEELED_WATERLINE) : NULL;
    if (heeled != NULL) {
        see(&all, heeled->low, heeled->high);
    }
    return all;
}

/* ---- Drawing ------------------------------------------------------------------------------------------- */

typedef struct Page {
    const HullOpenings *all;
    Svg svg;
    double column; /* width of one */
    double bottom; /* of the words under the openings */
    const HullOpening *first; /* on this page ... */
    unsigned columns;         /* ... and how many stand on it */
} Page;

static double y_of(const Page *page, double height_m)
{
    double scale = (SEA_BOTTOM - SEA_TOP) / (page->all->high - page->all->low);
    return SEA_TOP + (page->all->high - height_m) * scale;
}

static void words(Page *page, double x, double y, double size, double width, Str text)
{
    picture_words(&page->svg, page->all->book->arena, (SvgPoint){x, y}, size, width, text);
}

/* The water: a line with ripples under it, and the heeled one dashed. */
static void draw_water(Page *page)
{
    const Book *book = page->all->book;
    double y = y_of(page, 0.0);
    svg_line(&page->svg, (SvgPoint){PICTURE_LEFT, y}, (SvgPoint){PICTURE_RIGHT, y}, SVG_THICK);
    for (double x = PICTURE_LEFT + 2.0; x < PICTURE_RIGHT - 8.0; x += 12.0) {
        svg_line(&page->svg, (SvgPoint){x, y + 1.4}, (SvgPoint){x + 5.0, y + 1.4}, SVG_THIN);
    }
    const Figure *heeled =
        book->boat != NULL ? known_figure(book, book->boat, FIGURE_HEELED_WATERLINE) : NULL;
    if (heeled != NULL && heeled->high > 0.0) {
        double at = y_of(page, heeled->high);
        svg_line(&page->svg, (SvgPoint){PICTURE_LEFT, at}, (SvgPoint){PICTURE_RIGHT, at}, SVG_DASHED);
    }
}

static double opening_x(const Page *page, unsigned column)
{
    return PICTURE_LEFT + page->column * column + 5.0;
}

/* Whether the upright line of no opening, and no mark of one, runs through words of that width which end there. */
static bool is_clear(const Page *page, SvgPoint end, double width)
{
    const HullOpening *opening = page->first;
    for (unsigned column = 0; column < page->columns && opening != NULL; column++, opening = opening->next) {
        double x = opening_x(page, column), y = isnan(opening->low) ? INFINITY : y_of(page, opening->low);
        bool beside = fabs(y - end.y_mm) < 5.0; /* its mark stands at their height */
        bool passes = beside || (isfinite(y) && y_of(page, opening->high) < end.y_mm);
        double left = x - (beside ? 3.0 : 1.0), right = x + (beside ? 7.0 : 1.0);
        if (passes && right > end.x_mm - width && left < end.x_mm) {
            return false;
        }
    }
    return true;
}

/* A name of a line of water: at the right edge, or before the last opening that leaves room for it. */
static void name_line(Page *page, double y, Str text)
{
    double width = svg_text_width(text, SMALL);
    SvgPoint end = {PICTURE_RIGHT, y};
    for (unsigned column = page->columns; column-- > 0 && !is_clear(page, end, width);) {
        end.x_mm = opening_x(page, column) - 3.2;
    }
    bool found = is_clear(page, end, width) && end.x_mm - width >= PICTURE_LEFT;
    svg_text_clear(&page->svg, (SvgPoint){found ? end.x_mm : PICTURE_RIGHT, y}, SMALL, SVG_END, text);
}

/* Over the lines of the openings. */
static void name_water(Page *page)
{
    const Book *book = page->all->book;
    name_line(page, y_of(page, 0.0) + 4.6, STR("waterline"));
    const Figure *heeled =
        book->boat != NULL ? known_figure(book, book->boat, FIGURE_HEELED_WATERLINE) : NULL;
    if (heeled != NULL && heeled->high > 0.0) {
        const char *text = text_format(book->arena, "heeled, at the side: %.*s",
                                       STR_ARG(book_figure_short(book, book->boat, FIGURE_HEELED_WATERLINE, NULL)));
        name_line(page, y_of(page, heeled->high) - 1.2, str_from(text));
    }
}

static void draw_valve(Page *page, double x, double y)
{
    const SvgPoint valve[] = {
        {x + 1.6, y - 1.5}, {x + 5.6, y + 1.5}, {x + 5.6, y - 1.5}, {x + 1.6, y + 1.5}, {x + 1.6, y - 1.5}};
    svg_polyline(&page->svg, valve, sizeof valve / sizeof valve[0], SVG_LINE);
}

static void draw_symbol(Page *page, const Entity *thing, double x, double y)
{
    switch (thing->kind) {
    case KIND_THROUGH_HULL:
        svg_circle(&page->svg, (SvgPoint){x, y}, 1.5, SVG_LINE, SVG_WHITE);
        if (entity_yes(thing, PROP_THROUGH_HULL_SEACOCK) == 1) {
            draw_valve(page, x, y);
        }
        break;
    case KIND_BILGE_PUMP:
        svg_circle(&page->svg, (SvgPoint){x, y}, 1.5, SVG_LINE, SVG_WHITE);
        svg_arrow(&page->svg, (SvgPoint){x + 6.0, y}, (SvgPoint){x + 1.7, y}, SVG_LINE);
        break;
    case KIND_VENT_LOOP: {
        const SvgPoint loop[] = {{x - 1.5, y + 4.0}, {x - 1.5, y}, {x + 1.5, y}, {x + 1.5, y + 4.0}};
        svg_polyline(&page->svg, loop, sizeof loop / sizeof loop[0], SVG_LINE);
        break;
    }
    default: {
        const SvgPoint bowl[] = {
            {x - 2.6, y}, {x + 2.6, y}, {x + 1.2, y + 3.0}, {x - 1.2, y + 3.0}, {x - 2.6, y}};
        svg_polyline(&page->svg, bowl, sizeof bowl / sizeof bowl[0], SVG_LINE);
        break;
    }
    }
}

static void say(Page *page, double x, double *y, const char *what, Str value)
{
    if (value.length > 0 && !str_equal(value, book_nothing)) {
        Arena *arena = page->all->book->arena;
        Str text = str_from(text_format(arena, "%s%.*s", what, STR_ARG(value)));
        *y += LINE * picture_words_wrapped(&page->svg, arena, (SvgPoint){x, *y}, (PictureFit){SMALL, page->column - 2.0, false}, text);
        page->bottom = *y > page->bottom ? *y : page->bottom;
    }
}

static void say_through_hull(Page *page, const Entity *thing, double x, double *y)
{
    const Book *book = page->all->book;
    int seacock = entity_yes(thing, PROP_THROUGH_HULL_SEACOCK);
    say(page, x, y, "bore ", book_value(book, thing, PROP_THROUGH_HULL_BORE, 0));
    say(page, x, y, "at ", book_value(book, thing, PROP_THROUGH_HULL_HEIGHT, 0));
    say(page, x, y, "clear from ", book_figure_short(book, thing, FIGURE_LEAST_HEIGHT, NULL));
    say(page, x, y, "lets in ", book_figure_short(book, thing, FIGURE_INFLOW, NULL));
    say(page, x, y, "",
        seacock == 1                   ? STR("seacock")
        : serves_open(book->model, thing) != NULL ? STR("nothing may shut it")
        : seacock == 0                 ? STR("no seacock")
                                       : STR("seacock: not said"));
    say(page, x, y, "in reach: ", book_value(book, thing, PROP_THROUGH_HULL_REACH, 0));
    say(page, x, y, "of ", book_value(book, thing, PROP_THROUGH_HULL_MATERIAL, 0));
    say(page, x, y, "valve of ", book_value(book, thing, PROP_THROUGH_HULL_VALVE, 0));
    say(page, x, y, "insulated: ", book_value(book, thing, PROP_THROUGH_HULL_INSULATED, 0));
    say(page, x, y, "pipe rises to ", book_value(book, thing, PROP_THROUGH_HULL_SWAN_NECK, 0));
    say(page, x, y, "backing: ", book_value(book, thing, PROP_THROUGH_HULL_BACKING, 0));
    say(page, x, y, "clamps: ", book_value(book, thing, PROP_THROUGH_HULL_CLAMPS, 0));
    say(page, x, y, "secured: ", book_value(book, thing, PROP_THROUGH_HULL_SECURED, 0));
    say(page, x, y, "serves ", book_property(book, thing, PROP_THROUGH_HULL_SERVES));
}

static void say_all(Page *page, const HullOpening *opening, double x)
{
    const Book *book = page->all->book;
    const Entity *thing = opening->thing;
    double y = WORDS_TOP;
    y += LINE * picture_words_wrapped(&page->svg, book->arena, (SvgPoint){x, y}, (PictureFit){NAMES, page->column - 2.0, false},
                                      book_name(book, thing));
    say(page, x, &y, "", thing->title);
    if (entity_states(thing, PROP_COMMON_COUNT)) {
        say(page, x, &y, "so many of them: ", book_value(book, thing, PROP_COMMON_COUNT, 0));
    }
    if (thing->kind == KIND_EXHAUST) {
        say(page, x, &y, "", STR("outlet not stated"));
        say(page, x, &y, "bore ", book_value(book, thing, PROP_EXHAUST_BORE, 0));
        return;
    }
    if (thing->kind == KIND_THROUGH_HULL) {
        say_through_hull(page, thing, x, &y);
        return;
    }
    say(page, x, &y, thing->kind == KIND_TOILET ? "rim at " : "at ",
        book_value(book, thing, opening->height, 0));
    say(page, x, &y, "clear from ", book_figure_short(book, thing, FIGURE_LEAST_HEIGHT, NULL));
    if (thing->kind == KIND_VENT_LOOP) {
        say(page, x, &y, "on ", book_value(book, thing, PROP_VENT_LOOP_ON, 0));
    } else if (thing->kind == KIND_BILGE_PUMP) {
        say(page, x, &y, "moves ", book_figure_short(book, thing, FIGURE_PUMPED, NULL));
        say(page, x, &y, "check valve: ", book_value(book, thing, PROP_BILGE_PUMP_CHECK_VALVE, 0));
    }
}

static void draw_opening(Page *page, const HullOpening *opening, unsigned column)
{
    double x = PICTURE_LEFT + page->column * column;
    double at = opening_x(page, column);
    if (isnan(opening->low)) {
        words(page, x, SEA_TOP - 1.0, SMALL, page->column - 2.0, STR("height not said"));
    } else {
        double y = y_of(page, opening->low);
        svg_line(&page->svg, (SvgPoint){at, y}, (SvgPoint){at, WORDS_TOP - 3.6}, SVG_DOTTED);
        if (opening->high > opening->low) { /* somewhere between the two */
            svg_line(&page->svg, (SvgPoint){at, y_of(page, opening->high)}, (SvgPoint){at, y}, SVG_THICK);
        }
        draw_symbol(page, opening->thing, at, y);
    }
    say_all(page, opening, x);
}

/* A symbol of the legend with its words; where the next one goes. */
static double name_symbol(Page *page, const Entity *thing, bool valve, double x, const char *name)
{
    double y = picture_foot(&page->svg) + 4.0;
    if (thing->kind == KIND_THROUGH_HULL) {
        svg_circle(&page->svg, (SvgPoint){x + 1.5, y}, 1.5, SVG_LINE, SVG_WHITE);
    } else {
        draw_symbol(page, thing, x + 2.6, thing->kind == KIND_BILGE_PUMP ? y : y - 1.7);
    }
    if (valve) {
        draw_valve(page, x + 1.5, y);
    }
    words(page, x + 10.0, svg_baseline(y, SMALL), SMALL, 36.0, str_from(name));
    return x + 16.0 + svg_text_width(str_from(name), SMALL);
}

/* What stands on the page, each once. */
static void draw_legend(Page *page, const HullOpening *first, unsigned columns)
{
    static const struct {
        KindId kind;
        bool valve;
        const char *name;
    } sorts[] = {{KIND_THROUGH_HULL, false, "through-hull"},
                 {KIND_THROUGH_HULL, true, "with a seacock"},
                 {KIND_BILGE_PUMP, false, "bilge pump's outlet"},
                 {KIND_VENT_LOOP, false, "top of a vented loop"},
                 {KIND_TOILET, false, "rim of a toilet"}};
    double x = PICTURE_LEFT;
    bool between = false;
    for (size_t s = 0; s < sizeof sorts / sizeof sorts[0]; s++) {
        const HullOpening *opening = first;
        for (unsigned column = 0; column < columns && opening != NULL; column++, opening = opening->next) {
            bool valve = opening->thing->kind == KIND_THROUGH_HULL && entity_yes(opening->thing, PROP_THROUGH_HULL_SEACOCK) == 1;
            between = between || opening->high > opening->low;
            if (!isnan(opening->low) && opening->thing->kind == sorts[s].kind && valve == sorts[s].valve) {
                x = name_symbol(page, opening->thing, valve, x, sorts[s].name);
                break;
            }
        }
    }
    words(page, PICTURE_LEFT, svg_baseline(picture_foot(&page->svg) + 11.0, SMALL), SMALL, 120.0,
          between ? STR("A thick upright line: somewhere between.") : STR(""));
}

static void draw_all(Page *page, const HullOpening *first, unsigned columns)
{
    draw_water(page);
    for (unsigned column = 0; column < columns && first != NULL; column++, first = first->next) {
        draw_opening(page, first, column);
    }
    name_water(page);
}

static BookFile draw_page(const HullOpenings *all, const HullOpening *first, unsigned columns, size_t number, size_t pages)
{
    static const char start[] = "hull-openings";
    Buf bytes, measured;
    const Book *book = all->book;
    const char *file = picture_page_name(book, start, number);
    const char *title = number == 0 ? "Every opening in the hull"
                                    : text_format(book->arena, "Every opening in the hull, %s", file);
    Page page = {.all = all,
                 .column = fmin((PICTURE_RIGHT - PICTURE_LEFT) / columns, WIDEST),
                 .first = first,
                 .columns = columns};
    buf_init(&measured, book->arena);
    svg_begin_cut(&page.svg, &measured, 210.0, str_from(title));
    draw_all(&page, first, columns); /* how high the page is, is known once it is drawn */
    buf_init(&bytes, book->arena);
    svg_begin_cut(&page.svg, &bytes, page.bottom + 2.0 + picture_strip(book) + PICTURE_FOOT, str_from(title));
    draw_all(&page, first, columns);
    draw_legend(&page, first, columns);
    PictureBlock block = {.what = "openings in the hull",
                          .file = file,
                          .next = number + 1 < pages ? picture_page_name(book, start, number + 1) : NULL,
                          .remark = STR("Heights over the waterline are to scale; nothing else is."),
                          .scaled = true,
                          .caution = STR("A hose that comes off under water sinks her: know every seacock.")};
    picture_block(&page.svg, book, &block);
    svg_end(&page.svg);
    return (BookFile){text_format(book->arena, "img/%s", file), title, buf_str(&bytes)};
}

size_t diagram_openings(const Book *book, BookFile **pages)
{
    HullOpenings all = gather(book);
    const HullOpening *next = all.first;
    size_t count = (all.count + COLUMNS - 1) / COLUMNS;
    unsigned columns = count > 0 ? (unsigned)((all.count + count - 1) / count) : 0; /* pages of the same width */
    *pages = ARENA_ARRAY(book->arena, BookFile, count);
    for (size_t page = 0; page < count; page++) {
        (*pages)[page] = draw_page(&all, next, columns, page, count);
        for (unsigned i = 0; i < columns && next != NULL; i++) {
            next = next->next;
        }
    }
    return count;
}
