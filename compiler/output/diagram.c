/* See diagram.h: dividing a wiring tree among pages, and what stands on each of them. */
#include "output/diagram.h"

#include "output/diagram_draw.h"
#include "output/diagram_symbol.h"
#include "output/picture.h"

#include <math.h>

#define TOP PICTURE_TOP
#define PAGE_HEIGHT 204.0 /* with legend and block, an upright A4 page between its margins */
#define STEP 25.0 /* sections take whole steps, so that one more row seldom moves what follows */

static const char *page_name(const DiagramTree *tree, size_t page)
{
    return picture_page_name(tree->book, tree->ac ? "power-ac" : "power-dc", page);
}

/* Pieces */

static Piece *new_piece(const DiagramTree *tree, const Spot *section, Piece ***end)
{
    Piece *piece = ARENA_NEW(tree->book->arena, Piece);
    piece->section = section;
    **end = piece;
    *end = &piece->next;
    return piece;
}

static double left_height(const Piece *piece)
{
    return DIAGRAM_HEAD + spot_root_height(piece->section) + DIAGRAM_SOURCE * piece->source_count;
}

/* Takes as many children and sources as there is room for, one at least. */
static void fill_piece(Piece *piece, const Spot **child, const SpotSource **source)
{
    double right = spot_head(*child);
    piece->first = *child;
    piece->source = *source;
    while (*child != NULL && (piece->count == 0 || right + spot_height(*child) <= PAGE_HEIGHT)) {
        right += spot_height(*child);
        piece->count++;
        *child = (*child)->next;
    }
    while (*source != NULL && left_height(piece) + DIAGRAM_SOURCE <= PAGE_HEIGHT) {
        piece->source_count++;
        *source = (*source)->next;
    }
    double left = left_height(piece);
    piece->height_mm = right > left ? right : left;
}

static void divide_section(const DiagramTree *tree, const Spot *section, Piece ***end)
{
    const Spot *child = section->children;
    const SpotSource *source = section->sources;
    bool continued = false;
    do {
        Piece *piece = new_piece(tree, section, end);
        piece->continued = continued;
        fill_piece(piece, &child, &source);
        continued = true;
    } while (child != NULL || source != NULL);
}

/* Puts the pieces on pages, in order; returns the number of pages. */
static size_t place(Piece *pieces)
{
    size_t page = 0;
    double used = 0.0;
    for (Piece *piece = pieces; piece != NULL; piece = piece->next) {
        if (used > 0.0 && used + piece->height_mm > PAGE_HEIGHT) {
            page++;
            used = 0.0;
        }
        piece->page = page;
        piece->top_mm = TOP + used;
        used += STEP * ceil(piece->height_mm / STEP);
        if (!piece->continued) {
            ((Spot *)piece->section)->page = page;
        }
    }
    return pieces != NULL ? page + 1 : 0;
}

/* The foot of a page */

static const double legend_cell = 36.0, legend_row = 6.0;
enum { LEGEND_WIDE = 5 };

static unsigned legend_rows(const Drawing *drawing)
{
    unsigned used = 0;
    for (int kind = 0; kind < SYMBOL_COUNT; kind++) {
        used += drawing->used[kind];
    }
    return (used + LEGEND_WIDE - 1) / LEGEND_WIDE;
}

/* The symbols that are on the page, from this height on. */
static void draw_legend(Drawing *drawing, double top)
{
    unsigned place = 0;
    for (int kind = 0; kind < SYMBOL_COUNT; kind++) {
        if (!drawing->used[kind]) {
            continue;
        }
        double x = DIAGRAM_LEFT + legend_cell * (place % LEGEND_WIDE);
        double y = top + 4.0 + legend_row * (place / LEGEND_WIDE);
        symbol_draw(&drawing->svg, (SymbolKind)kind, x, kind == SYMBOL_GROUND ? y - 1.7 : y); /* it hangs */
        diagram_words(drawing, x + SYMBOL_WIDTH + 1.5, svg_baseline(y, 2.3), 2.3, legend_cell - SYMBOL_WIDTH - 2.0,
                      str_from(symbol_meaning((SymbolKind)kind)));
        place++;
    }
}

static Str not_drawn(const DiagramTree *tree)
{
    Buf text;
    buf_init(&text, tree->book->arena);
    for (size_t i = 0; i < tree->lost_count; i++) {
        buf_text(&text, i > 0 ? ", " : "Not drawn, for nothing feeds it: ");
        buf_add(&text, book_name(tree->book, tree->lost[i]));
    }
    return buf_str(&text);
}

static PictureBlock title_block(const DiagramTree *tree, size_t page, size_t pages)
{
    Str lost = not_drawn(tree);
    Str caution = tree->ac ? STR("Mains kill. Local codes apply; have it done as the law asks.")
                           : STR("Reports what the spec says, and no more: never that it is safe.");
    return (PictureBlock){
        .what = tree->ac ? "alternating current, one-line diagram" : "direct current, one-line diagram",
        .file = page_name(tree, page),
        .next = page + 1 < pages ? page_name(tree, page + 1) : NULL,
        .remark = tree->ac ? STR("One line stands for all conductors; mA: opens at that leakage.")
                           : STR("One line stands for both conductors; (sized): by Garboard."),
        .caution = lost.length > 0 ? lost : caution};
}

/* Where the last piece of a page ends: what is blank below is cut off. */
static double bottom_of(const Piece *pieces, size_t page)
{
    double bottom = TOP;
    for (const Piece *piece = pieces; piece != NULL; piece = piece->next) {
        bottom = piece->page == page ? fmax(bottom, piece->top_mm + piece->height_mm) : bottom;
    }
    return bottom;
}

static void draw_pieces(Drawing *drawing, const Piece *pieces)
{
    for (const Piece *piece = pieces; piece != NULL; piece = piece->next) {
        if (piece->page == drawing->page) {
            diagram_draw_piece(drawing, piece);
        }
    }
}

/* How high the legend is, is known once the rest is drawn: that is done twice. */
static BookFile draw_page(const DiagramTree *tree, const Piece *pieces, size_t page, size_t pages)
{
    Buf bytes, measured;
    Drawing drawing = {.tree = tree, .page = page, .page_name = page_name};
    double foot = bottom_of(pieces, page) + 3.0;
    const char *title =
        text_format(tree->book->arena, "Wiring, %s current%s", tree->ac ? "alternating" : "direct",
                    page > 0 ? text_format(tree->book->arena, ", %s", page_name(tree, page)) : "");
    buf_init(&measured, tree->book->arena);
    svg_begin_sheet(&drawing.svg, &measured, DIAGRAM_WIDTH, foot, str_from(title));
    draw_pieces(&drawing, pieces);
    PictureBlock block = title_block(tree, page, pages);
    SvgBox box = {DIAGRAM_LEFT, foot + legend_row * legend_rows(&drawing) + 2.0, DIAGRAM_RIGHT - DIAGRAM_LEFT, 0.0};
    box.height_mm = picture_block_height(tree->book, &block, box.width_mm);
    buf_init(&bytes, tree->book->arena);
    svg_begin_sheet(&drawing.svg, &bytes, DIAGRAM_WIDTH, box.y_mm + box.height_mm + 4.0, str_from(title));
    draw_pieces(&drawing, pieces);
    draw_legend(&drawing, foot);
    picture_block_in(&drawing.svg, tree->book, &block, box);
    svg_end(&drawing.svg);
    return (BookFile){text_format(tree->book->arena, "img/%s", page_name(tree, page)), title,
                      buf_str(&bytes)};
}

/* Trees */

/* Puts a tree on pages: *count of them. */
static Piece *lay_out(const DiagramTree *tree, size_t *count)
{
    Piece *pieces = NULL, **end = &pieces;
    for (const Spot *section = tree->sections; section != NULL; section = section->next_section) {
        divide_section(tree, section, &end);
    }
    *count = place(pieces);
    return pieces;
}

static const SpotSource *source_from(const SpotSource *source, const Entity *maker)
{
    while (source != NULL && (source->elsewhere || source->wire.giver != maker)) {
        source = source->next;
    }
    return source;
}

static bool has_child(const Piece *piece, const Spot *child)
{
    const Spot *spot = piece->first;
    for (unsigned i = 0; i < piece->count; i++, spot = spot->next) {
        if (spot == child) {
            return true;
        }
    }
    return false;
}

static bool has_source(const Piece *piece, const SpotSource *wanted)
{
    const SpotSource *source = piece->source;
    for (unsigned i = 0; i < piece->source_count; i++, source = source->next) {
        if (source == wanted) {
            return true;
        }
    }
    return false;
}

/* Whether a piece has what makes power: as its root, beside it, or beside a bar that hangs on it. */
static bool shows_maker(const DiagramTree *tree, const Piece *piece, const Entity *maker)
{
    bool found = piece->section->entity == maker;
    for (size_t i = 0; i < tree->count && !found; i++) {
        const Spot *spot = tree->order[i], *child = spot;
        const SpotSource *source = source_from(spot->sources, maker);
        while (source != NULL && child != piece->section && child->parent != NULL && child->parent != child &&
               child->parent != piece->section && !child->cut) {
            child = child->parent;
        }
        found = source != NULL && (spot == piece->section ? has_source(piece, source) : has_child(piece, child));
    }
    return found;
}

/* On which sheets of the other current's picture its makers are drawn; on the first where they are on none. */
static void find_other_sheets(DiagramTree *tree)
{
    DiagramTree other = diagram_tree(tree->book, !tree->ac, PAGE_HEIGHT);
    size_t count;
    const Piece *pieces = lay_out(&other, &count);
    tree->other_sheet = ARENA_ARRAY(tree->book->arena, const char *, tree->model->entity_count + 1);
    for (uint32_t i = 0; i < tree->model->entity_count; i++) {
        const Entity *entity = tree->model->entities[i];
        bool makes_other = book_makes_power(entity) && book_gives_ac(entity) != tree->ac;
        const Piece *piece = makes_other ? pieces : NULL;
        while (piece != NULL && !shows_maker(&other, piece, entity)) {
            piece = piece->next;
        }
        tree->other_sheet[i] = page_name(&other, piece != NULL ? piece->page : 0);
    }
}

size_t diagram_draw(const Book *whole, bool ac, BookFile **pages)
{
    /* What is drawn is the first case, and so is what is written beside it; the tables have the others. */
    Outcome *first = ARENA_NEW(whole->arena, Outcome);
    Book *book = ARENA_NEW(whole->arena, Book);
    *first = *whole->outcome;
    first->case_count = first->case_count > 0 ? 1 : 0;
    *book = *whole;
    book->outcome = first;
    DiagramTree tree = diagram_tree(book, ac, PAGE_HEIGHT);
    size_t count;
    const Piece *pieces = lay_out(&tree, &count);
    find_other_sheets(&tree);
    *pages = ARENA_ARRAY(book->arena, BookFile, count);
    for (size_t page = 0; page < count; page++) {
        (*pages)[page] = draw_page(&tree, pieces, page, count);
    }
    return count;
}
