/* See diagram.h: dividing a wiring tree among pages, and what stands on each of them. */
#include "output/diagram.h"

#include "output/diagram_draw.h"
#include "output/diagram_symbol.h"
#include "output/picture.h"

#include <math.h>

#define TOP PICTURE_TOP
#define PAGE_HEIGHT (PICTURE_BOTTOM - TOP)
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
    return DIAGRAM_HEAD + spot_root_height(piece->section) + DIAGRAM_ROW * piece->source_count;
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
    while (*source != NULL && left_height(piece) + DIAGRAM_ROW <= PAGE_HEIGHT) {
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

static void draw_legend(Drawing *drawing)
{
    static const double cell = 30.0, row = 6.0;
    unsigned place = 0;
    for (int kind = 0; kind < SYMBOL_COUNT; kind++) {
        if (!symbol_is_in_legend((SymbolKind)kind, drawing->tree->ac)) {
            continue;
        }
        double x = PICTURE_LEFT + cell * (place % 6);
        double y = PICTURE_LEGEND_TOP + 4.0 + row * (place / 6);
        symbol_draw(&drawing->svg, (SymbolKind)kind, x, kind == SYMBOL_GROUND ? y - 1.7 : y); /* it hangs */
        diagram_words(drawing, x + SYMBOL_WIDTH + 1.5, svg_baseline(y, 2.2), 2.2, cell - SYMBOL_WIDTH - 2.0,
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

static void draw_title_block(Drawing *drawing, size_t page, size_t pages)
{
    const DiagramTree *tree = drawing->tree;
    Str lost = not_drawn(tree);
    Str caution = tree->ac ? STR("Mains kill. Local codes apply; have it done as the law asks.")
                           : STR("Reports what the spec says, and no more: never that it is safe.");
    PictureBlock block = {
        .what = tree->ac ? "alternating current, one-line diagram" : "direct current, one-line diagram",
        .file = page_name(tree, page),
        .next = page + 1 < pages ? page_name(tree, page + 1) : NULL,
        .remark = tree->ac ? STR("One line stands for all conductors; mA: opens at that leakage.")
                           : STR("One line stands for both conductors; (sized): by Garboard."),
        .caution = lost.length > 0 ? lost : caution};
    picture_block(&drawing->svg, tree->book, &block);
}

static BookFile draw_page(const DiagramTree *tree, const Piece *pieces, size_t page, size_t pages)
{
    Buf bytes;
    buf_init(&bytes, tree->book->arena);
    Drawing drawing = {.tree = tree, .page = page, .page_name = page_name};
    const char *title =
        text_format(tree->book->arena, "Wiring, %s current%s", tree->ac ? "alternating" : "direct",
                    page > 0 ? text_format(tree->book->arena, ", %s", page_name(tree, page)) : "");
    svg_begin(&drawing.svg, &bytes, SVG_A4_LANDSCAPE, str_from(title));
    for (const Piece *piece = pieces; piece != NULL; piece = piece->next) {
        if (piece->page == page) {
            diagram_draw_piece(&drawing, piece);
        }
    }
    draw_legend(&drawing);
    draw_title_block(&drawing, page, pages);
    svg_end(&drawing.svg);
    return (BookFile){text_format(tree->book->arena, "img/%s", page_name(tree, page)), title,
                      buf_str(&bytes)};
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
    Piece *pieces = NULL, **end = &pieces;
    for (const Spot *section = tree.sections; section != NULL; section = section->next_section) {
        divide_section(&tree, section, &end);
    }
    size_t count = place(pieces);
    *pages = ARENA_ARRAY(book->arena, BookFile, count);
    for (size_t page = 0; page < count; page++) {
        (*pages)[page] = draw_page(&tree, pieces, page, count);
    }
    return count;
}
