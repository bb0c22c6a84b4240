/* See picture.h. */
#include "output/picture.h"

#define BLOCK_LEFT 196.0
#define BLOCK_HEIGHT 20.0
#define BLOCK_WIDTH (PICTURE_RIGHT - BLOCK_LEFT - 3.0) /* of its words */
#define BLOCK_SIZE 2.3
#define BLOCK_LINE 2.9
#define BLOCK_FIRST 7.6 /* from the top to the line under the title */
#define BLOCK_MARGIN 1.5
#define STRIP_HEIGHT 3.0
#define LEGIBLE_MM 2.2

double picture_foot(const Svg *svg)
{
    return svg->height_mm - PICTURE_FOOT;
}

void picture_words(Svg *svg, Arena *arena, SvgPoint at, double size_mm, double width_mm, Str text)
{
    if (text.length > 0) {
        svg_text(svg, at, size_mm, SVG_START, svg_text_fit(arena, text, size_mm, width_mm));
    }
}

/* Behind a hyphen within a word, or a blank; not between a number and its unit, nor behind the sign of a number. */
static bool may_break(Str text, size_t at)
{
    char last = text.text[at - 1], before = at > 1 ? text.text[at - 2] : ' ';
    return last == ' ' ? !char_is_digit(before) : last == '-' && before != ' ' && !char_is_digit(text.text[at]);
}

/* How much of a text its first line takes: up to the last break that has room; 0: none has. */
static size_t first_line(Str text, double size_mm, double width_mm)
{
    size_t most = 0;
    for (size_t i = 1; i < text.length; i++) {
        if (may_break(text, i) && svg_text_width((Str){text.text, i}, size_mm) <= width_mm) {
            most = i;
        }
    }
    return most;
}

/* Two lines, the first of which takes so much of the text. */
static void draw_two(Svg *svg, Arena *arena, SvgPoint at, PictureFit fit, Str text, size_t first)
{
    double line = fit.size_mm * 1.15;
    SvgPoint upper = {at.x_mm, fit.upwards ? at.y_mm - line : at.y_mm}, lower = {at.x_mm, upper.y_mm + line};
    picture_words(svg, arena, upper, fit.size_mm, fit.width_mm, (Str){text.text, first});
    picture_words(svg, arena, lower, fit.size_mm, fit.width_mm, (Str){text.text + first, (uint32_t)(text.length - first)});
}

int picture_words_wrapped(Svg *svg, Arena *arena, SvgPoint at, PictureFit fit, Str text)
{
    bool wide = svg_text_width(text, fit.size_mm) > fit.width_mm;
    size_t first = wide ? first_line(text, fit.size_mm, fit.width_mm) : 0;
    if (wide && first == 0) { /* a long word: somewhat smaller */
        fit.size_mm = fit.size_mm * 0.85 > LEGIBLE_MM ? fit.size_mm * 0.85 : LEGIBLE_MM;
        first = svg_text_width(text, fit.size_mm) > fit.width_mm ? first_line(text, fit.size_mm, fit.width_mm) : 0;
    }
    if (first == 0) {
        picture_words(svg, arena, at, fit.size_mm, fit.width_mm, text);
        return 1;
    }
    draw_two(svg, arena, at, fit, text, first);
    return 2;
}

const char *picture_page_name(const Book *book, const char *start, size_t page)
{
    return page == 0 ? text_format(book->arena, "%s.svg", start)
                     : text_format(book->arena, "%s-%zu.svg", start, page + 1);
}

Str picture_drawn_with(const Book *book)
{
    Buf text;
    buf_init(&text, book->arena);
    for (uint32_t i = 0; i < book->model->choice_count; i++) {
        const Choice *choice = &book->model->choices[i];
        if (choice->picked >= 0 || choice->option_count < 2 || choice->chosen < 0) {
            continue;
        }
        const Symbols *symbols = book->model->tree->symbols;
        buf_format(&text, "%s%.*s=%.*s", text.length > 0 ? ", " : "drawn with ",
                   STR_ARG(symbols_text(symbols, choice->name)),
                   STR_ARG(symbols_text(symbols, choice->options[choice->chosen].name)));
    }
    return buf_str(&text);
}

/* How much of a list a line takes: up to the last comma that has room; all of it where none has, or it has room itself. */
static size_t first_of_list(Str text, double size_mm, double width_mm)
{
    size_t most = 0;
    if (svg_text_width(text, size_mm) <= width_mm) {
        return text.length;
    }
    for (size_t i = 2; i < text.length; i++) {
        bool comma = text.text[i - 2] == ',' && text.text[i - 1] == ' ';
        most = comma && svg_text_width((Str){text.text, i}, size_mm) <= width_mm ? i : most;
    }
    return most > 0 ? most : text.length;
}

int picture_list(Svg *svg, Arena *arena, SvgPoint at, PictureFit fit, Str text)
{
    size_t first = first_of_list(text, fit.size_mm, fit.width_mm);
    if (first == text.length) {
        picture_words(svg, arena, at, fit.size_mm, fit.width_mm, text);
        return 1;
    }
    draw_two(svg, arena, at, fit, text, first);
    return 2;
}

static Str open_with(const Book *book)
{
    Str with = picture_drawn_with(book);
    return with.length > 0 ? str_from(text_format(book->arena, "Open; %.*s", STR_ARG(with))) : with;
}

double picture_strip(const Book *book)
{
    return svg_text_width(open_with(book), BLOCK_SIZE) > BLOCK_WIDTH ? STRIP_HEIGHT : 0.0;
}

/* What has no room in the block stands over it and the legend, over the whole page; what is left of it is returned. */
static Str draw_strip(Svg *svg, const Book *book, Str text)
{
    double width = PICTURE_RIGHT - PICTURE_LEFT;
    size_t first = first_of_list(text, BLOCK_SIZE, width);
    picture_words(svg, book->arena, (SvgPoint){PICTURE_LEFT, picture_foot(svg) - 0.7}, BLOCK_SIZE, width, (Str){text.text, first});
    return (Str){text.text + first, text.length - first};
}

static void draw_block(Svg *svg, const Book *book, const PictureBlock *block, SvgBox box, Str options)
{
    double width = box.width_mm - 2.0 * BLOCK_MARGIN, left = box.x_mm + BLOCK_MARGIN;
    Str boat = book->boat != NULL ? entity_label(book->model, book->boat) : STR("");
    const Str lines[] = {
        str_from(text_format(book->arena, "%s. Basis %s.%s", block->file, basis_word(book->outcome->basis),
                             block->scaled ? "" : " Not to scale.")),
        block->next != NULL ? str_from(text_format(book->arena, "Continues in %s.", block->next)) : STR(""),
        block->remark,
        block->caution,
    };
    svg_rectangle(svg, box, SVG_LINE, SVG_HOLLOW);
    /* What is shown must not be cut: a long name is. */
    const char *what = text_format(book->arena, ": %s", block->what);
    boat = svg_text_fit(book->arena, boat, 3.0, width - svg_text_width(str_from(what), 3.0));
    picture_words(svg, book->arena, (SvgPoint){left, box.y_mm + 4.0}, 3.0, width,
                  str_from(text_format(book->arena, "%.*s%s", STR_ARG(boat), what)));
    double y = box.y_mm + BLOCK_FIRST;
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        picture_words(svg, book->arena, (SvgPoint){left, y}, BLOCK_SIZE, width, lines[i]);
        y += lines[i].length > 0 ? BLOCK_LINE : 0.0;
    }
    picture_list(svg, book->arena, (SvgPoint){left, y}, (PictureFit){BLOCK_SIZE, width, false}, options);
}

double picture_block_height(const Book *book, const PictureBlock *block, double width_mm)
{
    Str options = open_with(book);
    bool wide = svg_text_width(options, BLOCK_SIZE) > width_mm - 2.0 * BLOCK_MARGIN;
    int more = (block->next != NULL) + (block->remark.length > 0) + (block->caution.length > 0) + (options.length > 0) + wide;
    return BLOCK_FIRST + BLOCK_LINE * more + 2.0;
}

void picture_block_in(Svg *svg, const Book *book, const PictureBlock *block, SvgBox box)
{
    draw_block(svg, book, block, box, open_with(book));
}

void picture_block(Svg *svg, const Book *book, const PictureBlock *block)
{
    Str options = open_with(book);
    if (picture_strip(book) > 0.0) {
        options = draw_strip(svg, book, options);
    }
    draw_block(svg, book, block, (SvgBox){BLOCK_LEFT, picture_foot(svg), PICTURE_RIGHT - BLOCK_LEFT, BLOCK_HEIGHT}, options);
}
