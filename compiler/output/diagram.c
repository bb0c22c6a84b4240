/* See diagram.h: dividing a wiring tree among pages, and what stands on each of them. */
#include "output/diagram.h"

#include "output/diagram_draw.h"
#include "output/diagram_symbol.h"

#include <math.h>

#define TOP 8.0
#define BOTTOM 181.0 /* of what is drawn; legend and title block stand below */
#define PAGE_HEIGHT (BOTTOM - TOP)
#define STEP 25.0 /* sections take whole steps, so that one more row seldom moves what follows */
#define LEFT 10.0
#define RIGHT 287.0
#define BLOCK_LEFT 196.0
#define BLOCK_TOP 184.0
#define BLOCK_BOTTOM 204.0

static const char *page_name(const DiagramTree *tree, size_t page)
{
    const char *kind = tree->ac ? "ac" : "dc";
    return page == 0 ? text_format(tree->book->arena, "power-%s.svg", kind)
                     : text_format(tree->book->arena, "power-%s-%zu.svg", kind, page + 1);
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
        double x = LEFT + cell * (place % 6);
        double y = BLOCK_TOP + 4.0 + row * (place / 6);
        symbol_draw(&drawing->svg, (SymbolKind)kind, x, y);
        diagram_words(drawing, x + SYMBOL_WIDTH + 1.5, svg_baseline(y, 2.2), 2.2, cell - SYMBOL_WIDTH - 2.0,
                      str_from(symbol_meaning((SymbolKind)kind)));
        place++;
    }
}

/* "engine-size=lean" ...: which of the open options it is drawn with. */
static Str drawn_with(const DiagramTree *tree)
{
    Buf text;
    buf_init(&text, tree->book->arena);
    for (uint32_t i = 0; i < tree->model->choice_count; i++) {
        const Choice *choice = &tree->model->choices[i];
        if (choice->picked >= 0 || choice->option_count < 2 || choice->chosen < 0) {
            continue;
        }
        const Symbols *symbols = tree->model->tree->symbols;
        buf_format(&text, "%s%.*s=%.*s", text.length > 0 ? ", " : "Open; drawn with ",
                   STR_ARG(symbols_text(symbols, choice->name)),
                   STR_ARG(symbols_text(symbols, choice->options[choice->chosen].name)));
    }
    return buf_str(&text);
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
    const Book *book = tree->book;
    double width = RIGHT - BLOCK_LEFT - 3.0;
    double x = BLOCK_LEFT + 1.5;
    svg_rectangle(&drawing->svg,
                  (SvgBox){BLOCK_LEFT, BLOCK_TOP, RIGHT - BLOCK_LEFT, BLOCK_BOTTOM - BLOCK_TOP}, SVG_LINE,
                  SVG_HOLLOW);
    Str boat = book->boat != NULL ? entity_label(book->model, book->boat) : STR("");
    const char *what =
        tree->ac ? "alternating current, one-line diagram" : "direct current, one-line diagram";
    diagram_words(drawing, x, BLOCK_TOP + 4.0, 3.0, width,
                  str_from(text_format(book->arena, "%.*s: %s", STR_ARG(boat), what)));
    const char *more =
        page + 1 < pages ? text_format(book->arena, "; continues in %s", page_name(tree, page + 1)) : "";
    diagram_words(drawing, x, BLOCK_TOP + 7.6, 2.3, width,
                  str_from(text_format(book->arena, "%s%s. Basis %s. Not to scale.", page_name(tree, page),
                                       more, basis_word(book->outcome->basis))));
    diagram_words(drawing, x, BLOCK_TOP + 10.8, 2.3, width,
                  tree->ac ? STR("One line stands for all conductors; mA: opens at that leakage.")
                           : STR("One line stands for both conductors; (sized): by Garboard."));
    Str with = drawn_with(tree);
    Str lost = not_drawn(tree);
    Str caution = tree->ac ? STR("Mains kill. Local codes apply; have it done as the law asks.")
                           : STR("Reports what the spec says, and no more: never that it is safe.");
    diagram_words(drawing, x, BLOCK_TOP + 14.0, 2.3, width, lost.length > 0 ? lost : caution);
    diagram_words(drawing, x, BLOCK_TOP + 17.2, 2.3, width, with);
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

size_t diagram_draw(const Book *book, bool ac, BookFile **pages)
{
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
