/* See picture.h. */
#include "output/picture.h"

#define BLOCK_LEFT 196.0
#define BLOCK_TOP PICTURE_LEGEND_TOP
#define BLOCK_BOTTOM 204.0

void picture_words(Svg *svg, Arena *arena, SvgPoint at, double size_mm, double width_mm, Str text)
{
    if (text.length > 0) {
        svg_text(svg, at, size_mm, SVG_START, svg_text_fit(arena, text, size_mm, width_mm));
    }
}

const char *picture_page_name(const Book *book, const char *start, size_t page)
{
    return page == 0 ? text_format(book->arena, "%s.svg", start)
                     : text_format(book->arena, "%s-%zu.svg", start, page + 1);
}

/* "engine-size=lean" ...: which of the open options it is drawn with. */
static Str drawn_with(const Book *book)
{
    Buf text;
    buf_init(&text, book->arena);
    for (uint32_t i = 0; i < book->model->choice_count; i++) {
        const Choice *choice = &book->model->choices[i];
        if (choice->picked >= 0 || choice->option_count < 2 || choice->chosen < 0) {
            continue;
        }
        const Symbols *symbols = book->model->tree->symbols;
        buf_format(&text, "%s%.*s=%.*s", text.length > 0 ? ", " : "Open; drawn with ",
                   STR_ARG(symbols_text(symbols, choice->name)),
                   STR_ARG(symbols_text(symbols, choice->options[choice->chosen].name)));
    }
    return buf_str(&text);
}

void picture_block(Svg *svg, const Book *book, const PictureBlock *block)
{
    double width = PICTURE_RIGHT - BLOCK_LEFT - 3.0;
    Str boat = book->boat != NULL ? entity_label(book->model, book->boat) : STR("");
    const char *more = block->next != NULL ? text_format(book->arena, "; continues in %s", block->next) : "";
    const Str lines[] = {
        str_from(text_format(book->arena, "%s%s. Basis %s. Not to scale.", block->file, more,
                             basis_word(book->outcome->basis))),
        block->remark,
        block->caution,
        drawn_with(book),
    };
    svg_rectangle(svg, (SvgBox){BLOCK_LEFT, BLOCK_TOP, PICTURE_RIGHT - BLOCK_LEFT, BLOCK_BOTTOM - BLOCK_TOP},
                  SVG_LINE, SVG_HOLLOW);
    /* What is shown must not be cut: a long name is. */
    const char *what = text_format(book->arena, ": %s", block->what);
    boat = svg_text_fit(book->arena, boat, 3.0, width - svg_text_width(str_from(what), 3.0));
    picture_words(svg, book->arena, (SvgPoint){BLOCK_LEFT + 1.5, BLOCK_TOP + 4.0}, 3.0, width,
                  str_from(text_format(book->arena, "%.*s%s", STR_ARG(boat), what)));
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        double y = BLOCK_TOP + 7.6 + (i == 0 ? 0.0 : 3.2 * (double)i);
        picture_words(svg, book->arena, (SvgPoint){BLOCK_LEFT + 1.5, y}, 2.3, width, lines[i]);
    }
}
