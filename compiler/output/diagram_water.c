/*
 * Fresh water and waste as pictures: trees from left to right, one row for each end. Symbols are drawn simply,
 * after the open standards for piping diagrams (from memory): what is a tank, what a pump, what a valve.
 */
#include "output/diagram_water.h"

#include "output/picture.h"
#include "output/pipework.h"

#define ROW 14.0
#define ROWS_ON_PAGE 12
#define ICON 6.0
#define NAMES 2.6
#define SMALL 2.3

typedef struct Page {
    const Pipework *work;
    Svg svg;
    double pitch; /* from one column to the next */
    bool used[ICON_COUNT], hot; /* on this page: the legend has these */
} Page;

/* ---- Symbols ------------------------------------------------------------------------------------------- */

static void line(Svg *svg, double x0, double y0, double x1, double y1)
{
    svg_line(svg, (SvgPoint){x0, y0}, (SvgPoint){x1, y1}, SVG_LINE);
}

static void draw_tank(Svg *svg, double x, double y)
{
    svg_rectangle(svg, (SvgBox){x + 0.4, y - 2.8, ICON - 0.8, 5.6}, SVG_LINE, SVG_WHITE);
    svg_line(svg, (SvgPoint){x + 0.4, y - 0.8}, (SvgPoint){x + ICON - 0.4, y - 0.8}, SVG_DASHED);
}

/* A circle with a triangle that points the way the water goes. */
static void draw_pump(Svg *svg, double x, double y)
{
    double middle = x + ICON / 2.0;
    svg_circle(svg, (SvgPoint){middle, y}, 2.7, SVG_LINE, SVG_WHITE);
    svg_triangle(svg, (SvgPoint){middle - 1.2, y - 1.9}, (SvgPoint){middle - 1.2, y + 1.9},
                 (SvgPoint){middle + 2.5, y});
}

static void draw_tap(Svg *svg, double x, double y)
{
    line(svg, x + 0.6, y, x + 4.4, y);
    line(svg, x + 4.4, y, x + 4.4, y + 2.4);
    line(svg, x + 2.4, y, x + 2.4, y - 2.0);
    svg_line(svg, (SvgPoint){x + 1.0, y - 2.0}, (SvgPoint){x + 3.8, y - 2.0}, SVG_THICK);
}

static void draw_heater(Svg *svg, double x, double y)
{
    const SvgPoint coil[] = {{x + 0.4, y + 1.4},       {x + 1.6, y + 1.4}, {x + 2.3, y - 1.4},
                             {x + 3.4, y + 1.4},       {x + 4.3, y - 1.4}, {x + 4.9, y + 1.4},
                             {x + ICON - 0.4, y + 1.4}};
    svg_rectangle(svg, (SvgBox){x + 0.4, y - 2.8, ICON - 0.8, 5.6}, SVG_LINE, SVG_WHITE);
    svg_polyline(svg, coil, sizeof coil / sizeof coil[0], SVG_LINE);
}

static void draw_toilet(Svg *svg, double x, double y)
{
    const SvgPoint bowl[] = {
        {x + 0.6, y - 1.6}, {x + 5.4, y - 1.6}, {x + 4.0, y + 1.6}, {x + 2.0, y + 1.6}, {x + 0.6, y - 1.6}};
    svg_polyline(svg, bowl, sizeof bowl / sizeof bowl[0], SVG_LINE);
    line(svg, x + 1.6, y + 2.6, x + 4.4, y + 2.6);
    line(svg, x + 3.0, y + 1.6, x + 3.0, y + 2.6);
}

/* The hull as a thick line; a valve as two triangles that meet. */
static void draw_hull(Svg *svg, double x, double y, bool seacock)
{
    svg_line(svg, (SvgPoint){x + ICON - 0.7, y - 3.0}, (SvgPoint){x + ICON - 0.7, y - 0.9}, SVG_THICK);
    svg_line(svg, (SvgPoint){x + ICON - 0.7, y + 0.9}, (SvgPoint){x + ICON - 0.7, y + 3.0}, SVG_THICK);
    if (seacock) {
        const SvgPoint valve[] = {{x + 0.4, y - 1.4},
                                  {x + 4.4, y + 1.4},
                                  {x + 4.4, y - 1.4},
                                  {x + 0.4, y + 1.4},
                                  {x + 0.4, y - 1.4}};
        svg_polyline(svg, valve, sizeof valve / sizeof valve[0], SVG_LINE);
    } else {
        line(svg, x, y, x + 4.4, y);
    }
}

static void draw_deck(Svg *svg, double x, double y)
{
    line(svg, x + 0.4, y - 2.6, x + ICON - 0.4, y - 2.6);
    svg_arrow(svg, (SvgPoint){x + ICON / 2.0, y + 2.4}, (SvgPoint){x + ICON / 2.0, y - 2.4}, SVG_LINE);
}

/* A dot on the line that passes it. */
static void draw_joint(Svg *svg, double x, double y)
{
    line(svg, x, y, x + ICON, y);
    svg_circle(svg, (SvgPoint){x + ICON / 2.0, y}, 1.0, SVG_LINE, SVG_BLACK);
}

static void draw_again(Svg *svg, double x, double y)
{
    svg_triangle(svg, (SvgPoint){x + 1.0, y - 1.4}, (SvgPoint){x + 1.0, y + 1.4}, (SvgPoint){x + 4.0, y});
    line(svg, x, y, x + 1.0, y);
}

static void draw_icon(Svg *svg, PipeIcon icon, double x, double y)
{
    switch (icon) {
    case ICON_TANK: draw_tank(svg, x, y); break;
    case ICON_PUMP: draw_pump(svg, x, y); break;
    case ICON_TAP: draw_tap(svg, x, y); break;
    case ICON_HEATER: draw_heater(svg, x, y); break;
    case ICON_TOILET: draw_toilet(svg, x, y); break;
    case ICON_SEACOCK: draw_hull(svg, x, y, true); break;
    case ICON_HULL: draw_hull(svg, x, y, false); break;
    case ICON_DECK: draw_deck(svg, x, y); break;
    case ICON_JOINT: draw_joint(svg, x, y); break;
    case ICON_AGAIN: draw_again(svg, x, y); break;
    case ICON_NONE:
    case ICON_COUNT: break;
    }
}

static const char *const meanings[ICON_COUNT] = {
    [ICON_TANK] = "tank",
    [ICON_PUMP] = "pump",
    [ICON_TAP] = "tap, sink",
    [ICON_HEATER] = "water heater",
    [ICON_TOILET] = "toilet",
    [ICON_SEACOCK] = "hull, with seacock",
    [ICON_HULL] = "hull, no seacock stated",
    [ICON_DECK] = "by the deck",
    [ICON_JOINT] = "joint",
    [ICON_AGAIN] = "drawn above",
};

/* ---- A page -------------------------------------------------------------------------------------------- */

static double x_of(const Page *page, const PipeNode *node)
{
    return PICTURE_LEFT + page->pitch * node->column;
}

static double y_of(const PipeNode *node)
{
    return PICTURE_TOP + ROW * (node->row % ROWS_ON_PAGE) + ROW / 2.0;
}

static void words(Page *page, double x, double y, double size, double width, Str text)
{
    picture_words(&page->svg, page->work->book->arena, (SvgPoint){x, y}, size, width, text);
}

/* Room for words beside a symbol, before the hoses that leave it begin. */
static double word_width(const Page *page)
{
    return page->pitch * 0.52 - ICON - 1.0;
}

/*
 * Where the hose to a node leaves its row for a lower one. A tank has a fitting for each: the lines do not part from one, which would
 * be a tee, and one that goes lower leaves it further left, so that none crosses another.
 */
static double x_down(const Page *page, const PipeNode *node)
{
    const PipeNode *from = node->parent;
    if (from->icon != ICON_TANK) {
        return x_of(page, from) + page->pitch * 0.52 + 1.0;
    }
    static const double first = 5.0, most_apart = 1.6, width = 4.2; /* within the symbol */
    unsigned number = 0, lower = 0;
    for (const PipeNode *child = from->children; child != NULL; child = child->next) {
        number = child == node ? lower : number;
        lower += child->row != from->row;
    }
    double apart = lower > 1 && width / (lower - 1) < most_apart ? width / (lower - 1) : most_apart;
    return x_of(page, from) + first - apart * number;
}

/* The hose that leads to a node: out of the one before it, down, and along. */
static void draw_edge(Page *page, const PipeNode *node)
{
    static const double below_tank = 2.8, tank_edge = 0.4;
    const PipeNode *from = node->parent;
    SvgPen pen = node->hot ? SVG_DASHED : SVG_LINE;
    double x0;
    double x1 = x_of(page, node) - 0.5;
    double y = y_of(node);
    bool here = from->row / ROWS_ON_PAGE == node->row / ROWS_ON_PAGE;
    if (from->row != node->row) {
        double top = here ? y_of(from) + (from->icon == ICON_TANK ? below_tank : 0.0) : PICTURE_TOP;
        x0 = x_down(page, node);
        svg_line(&page->svg, (SvgPoint){x0, top}, (SvgPoint){x0, y}, pen);
    } else {
        x0 = x_of(page, from) + ICON - (from->icon == ICON_TANK ? tank_edge : 0.0); /* below its name, above what else is said of it */
    }
    svg_line(&page->svg, (SvgPoint){x0, y}, (SvgPoint){x1, y}, pen);
    double text_x = x_of(page, from) + page->pitch * 0.52 + 2.0;
    double width = x1 - text_x - 0.5;
    Arena *arena = page->work->book->arena;
    int lines = picture_words_wrapped(&page->svg, arena, (SvgPoint){text_x, y - 1.0}, (PictureFit){SMALL, width - (node->has_loop ? 3.0 : 0.0), true},
                                      node->edge);
    picture_words_wrapped(&page->svg, arena, (SvgPoint){text_x, y + 2.9}, (PictureFit){SMALL, width, false}, node->edge_more);
    if (node->has_loop) { /* an upturned U that stands on the hose */
        const SvgPoint loop[] = {{x1 - 3.0, y}, {x1 - 3.0, y - 3.4}, {x1 - 1.2, y - 3.4}, {x1 - 1.2, y}};
        svg_polyline(&page->svg, loop, sizeof loop / sizeof loop[0], SVG_LINE);
        svg_text(&page->svg, (SvgPoint){x1, lines > 1 ? y - 6.4 : y - 4.2}, SMALL, SVG_END, node->loop);
    }
}

static void draw_node(Page *page, const PipeNode *node)
{
    double x = x_of(page, node), y = y_of(node);
    double text_x = x + ICON + 0.8;
    double width = node->children != NULL ? word_width(page) : PICTURE_RIGHT - text_x;
    draw_icon(&page->svg, node->icon, x, y);
    page->used[node->icon] = true;
    page->hot |= node->hot;
    Arena *arena = page->work->book->arena;
    double name_y = node->children != NULL ? y - 1.0 : y - 0.4;
    picture_words_wrapped(&page->svg, arena, (SvgPoint){text_x, name_y}, (PictureFit){NAMES, width, true}, node->name);
    picture_words_wrapped(&page->svg, arena, (SvgPoint){text_x, y + 2.9}, (PictureFit){SMALL, width, false}, node->more);
}

static void draw_legend(Page *page)
{
    unsigned place = 0;
    for (int icon = ICON_TANK; icon < ICON_COUNT; icon++) {
        if (!page->used[icon]) {
            continue;
        }
        double x = PICTURE_LEFT + 36.0 * (place % 5), y = picture_foot(&page->svg) + 4.0 + 8.0 * (place / 5);
        draw_icon(&page->svg, (PipeIcon)icon, x, y);
        words(page, x + ICON + 1.5, svg_baseline(y, SMALL), SMALL, 28.0, str_from(meanings[icon]));
        place++;
    }
    if (!page->hot) {
        return;
    }
    double x = PICTURE_LEFT + 36.0 * (place % 5), y = picture_foot(&page->svg) + 4.0 + 8.0 * (place / 5);
    svg_line(&page->svg, (SvgPoint){x, y}, (SvgPoint){x + ICON, y}, SVG_DASHED);
    words(page, x + ICON + 1.5, svg_baseline(y, SMALL), SMALL, 28.0, STR("hot water"));
}

typedef struct Subject {
    const char *start; /* of the files' names: "water-fresh" */
    const char *title, *what;
    Str remark, caution;
} Subject;

static BookFile draw_page(const Pipework *work, const Subject *subject, size_t number, size_t pages)
{
    Buf bytes;
    const Book *book = work->book;
    const char *file = picture_page_name(book, subject->start, number);
    const char *title =
        number == 0 ? subject->title : text_format(book->arena, "%s, %s", subject->title, file);
    double pitch = (PICTURE_RIGHT - PICTURE_LEFT) / work->columns;
    Page page = {.work = work, .pitch = pitch < 66.0 ? pitch : 66.0};
    buf_init(&bytes, book->arena);
    size_t rows = number + 1 < pages ? ROWS_ON_PAGE : work->rows - number * ROWS_ON_PAGE;
    svg_begin_cut(&page.svg, &bytes, PICTURE_TOP + ROW * (double)rows + 4.0 + picture_strip(book) + PICTURE_FOOT, str_from(title));
    for (const PipeNode *node = work->first; node != NULL; node = node->next_drawn) {
        if (node->row / ROWS_ON_PAGE == number) {
            if (node->parent != NULL) {
                draw_edge(&page, node);
            }
            draw_node(&page, node);
        }
    }
    draw_legend(&page);
    PictureBlock block = {.what = subject->what,
                          .file = file,
                          .next =
                              number + 1 < pages ? picture_page_name(book, subject->start, number + 1) : NULL,
                          .remark = subject->remark,
                          .caution = subject->caution};
    picture_block(&page.svg, book, &block);
    svg_end(&page.svg);
    return (BookFile){text_format(book->arena, "img/%s", file), title, buf_str(&bytes)};
}

static size_t draw_all(const Pipework *work, const Subject *subject, BookFile **pages)
{
    size_t count = (work->rows + ROWS_ON_PAGE - 1) / ROWS_ON_PAGE;
    *pages = ARENA_ARRAY(work->book->arena, BookFile, count);
    for (size_t page = 0; page < count; page++) {
        (*pages)[page] = draw_page(work, subject, page, count);
    }
    return count;
}

static bool is_engine_heating(const Model *model)
{
    const Entity *heater = first_aboard(model, KIND_WATER_HEATER);
    while (heater != NULL && !entity_states(heater, PROP_WATER_HEATER_ENGINE)) {
        heater = next_aboard(heater);
    }
    return heater != NULL;
}

/* A pump that draws from the sea and delivers to something that is named. */
static bool pumps_sea(const Model *model)
{
    for (const Entity *pump = first_aboard(model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        const Property *from = entity_property(pump, PROP_PUMP_FROM);
        for (uint16_t i = 0; from != NULL && i < from->count; i++) {
            const Entity *source = value_entity(&from->values[i]);
            if (source != NULL && source->kind == KIND_THROUGH_HULL) {
                return true;
            }
        }
    }
    return false;
}

size_t diagram_fresh(const Book *book, BookFile **pages)
{
    static const char *const titles[2][2] = {{"Fresh water", "Fresh and sea water"}, {"Fresh and hot water", "Fresh, hot and sea water"}};
    static const char *const whats[2][2] = {{"fresh water", "fresh and sea water"}, {"fresh and hot water", "fresh, hot and sea water"}};
    Pipework work = pipework_fresh(book);
    bool hot = first_aboard(book->model, KIND_WATER_HEATER) != NULL, sea = pumps_sea(book->model);
    return draw_all(
        &work,
        &(Subject){.start = "water-fresh",
                   .title = titles[hot][sea],
                   .what = whats[hot][sea],
                   .remark = STR("Over a hose its name, under it bore and run; flows with one tap open."),
                   .caution = is_engine_heating(book->model) ? STR("Water that an engine heats scalds. Only what the spec says is drawn.")
                                                             : STR("Only what the spec says is drawn.")},
        pages);
}

size_t diagram_waste(const Book *book, BookFile **pages)
{
    Pipework work = pipework_waste(book);
    return draw_all(
        &work,
        &(Subject){.start = "water-waste",
                   .title = "Waste water",
                   .what = "waste water",
                   .remark = STR("An upturned U is a vented loop; heights are above the waterline."),
                   .caution = STR("What may go overboard, and where, is a matter of law.")},
        pages);
}
