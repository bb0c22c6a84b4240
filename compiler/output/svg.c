/*
 * The SVG writer. Knows SVG 1.1 and the rules of XML 1.0 for text; nothing of what is drawn.
 */
#include "output/svg.h"

#include "base/num.h"
#include "output/character.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>

typedef struct PenStyle {
    const char *width;  /* mm */
    const char *dashes; /* NULL for an unbroken line */
} PenStyle;

static const PenStyle pens[] = {
    [SVG_NO_LINE] = {NULL, NULL}, [SVG_THIN] = {"0.18", NULL},      [SVG_LINE] = {"0.35", NULL},
    [SVG_THICK] = {"0.7", NULL},  [SVG_DASHED] = {"0.35", "2 1.2"}, [SVG_DOTTED] = {"0.35", "0.4 1"},
    [SVG_DASH_DOT] = {"0.35", "3 0.8 0.5 0.8"},
    [SVG_HAIR] = {"0.08", NULL},
};

/* ---- Numbers and text ---- */

/* At most two decimals: 12.5, 210, 0. */
static void write_mm(Buf *buf, double value_mm)
{
    assert(isfinite(value_mm));
    double hundredths = round(value_mm * 100.0);
    num_write_fixed(buf, hundredths == 0.0 ? 0.0 : hundredths / 100.0, 2); /* never minus zero */
    while (buf->text[buf->length - 1] == '0') {
        buf->text[--buf->length] = '\0';
    }
    if (buf->text[buf->length - 1] == '.') {
        buf->text[--buf->length] = '\0';
    }
}

static void write_attribute(Svg *svg, const char *name, double value_mm)
{
    buf_format(svg->buf, " %s=\"", name);
    write_mm(svg->buf, value_mm);
    buf_char(svg->buf, '"');
}

static void write_point(Svg *svg, SvgPoint point)
{
    write_mm(svg->buf, point.x_mm);
    buf_char(svg->buf, ',');
    write_mm(svg->buf, point.y_mm);
}

/* XML 1.0, section 2.2: these characters cannot be written in it, by reference either. */
static bool is_lost(uint32_t code)
{
    return character_is_control(code) || code == 0xFFFE || code == 0xFFFF;
}

static void write_character(Buf *buf, uint32_t code)
{
    switch (code) {
    case '&': buf_text(buf, "&amp;"); break;
    case '<': buf_text(buf, "&lt;"); break;
    case '>': buf_text(buf, "&gt;"); break;
    case '"': buf_text(buf, "&quot;"); break;
    case '\t':
    case '\n':
    case '\r': buf_char(buf, ' '); break;
    default: character_write(buf, is_lost(code) ? CHARACTER_REPLACEMENT : code); break;
    }
}

static void write_text(Buf *buf, Str text)
{
    while (text.length > 0) {
        write_character(buf, character_take(&text));
    }
}

/* ---- The page ---- */

static void begin(Svg *svg, Buf *buf, double width_mm, double height_mm, Str title)
{
    *svg = (Svg){buf, width_mm, height_mm};
    const char *width = num_text_fixed(buf->arena, width_mm, 0), *height = num_text_fixed(buf->arena, height_mm, 0);
    buf_format(buf, "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%smm\" height=\"%smm\"", width, height);
    buf_format(buf, " viewBox=\"0 0 %s %s\" font-family=\"sans-serif\">\n<title>", width, height);
    write_text(buf, title);
    buf_text(buf, "</title>\n");
    svg_rectangle(svg, (SvgBox){0.0, 0.0, svg->width_mm, svg->height_mm}, SVG_NO_LINE, SVG_WHITE);
}

void svg_begin(Svg *svg, Buf *buf, SvgPage page, Str title)
{
    bool portrait = page == SVG_A4_PORTRAIT;
    begin(svg, buf, portrait ? 210.0 : 297.0, portrait ? 297.0 : 210.0, title);
}

void svg_begin_sheet(Svg *svg, Buf *buf, double width_mm, double height_mm, Str title)
{
    begin(svg, buf, width_mm, ceil(height_mm), title);
}

void svg_begin_cut(Svg *svg, Buf *buf, double height_mm, Str title)
{
    begin(svg, buf, 297.0, fmin(ceil(height_mm), 210.0), title);
}

void svg_end(Svg *svg)
{
    buf_text(svg->buf, "</svg>\n");
}

/* ---- Shapes ---- */

/* Ends an element that has neither text nor parts. */
static void end_shape(Svg *svg, SvgPen pen, SvgFill fill)
{
    static const char *const fills[] = {[SVG_HOLLOW] = "none", [SVG_WHITE] = "white", [SVG_BLACK] = "black"};

    buf_format(svg->buf, " fill=\"%s\"", fills[fill]);
    if (pen != SVG_NO_LINE) {
        buf_format(svg->buf, " stroke=\"black\" stroke-width=\"%s\"", pens[pen].width);
    }
    if (pens[pen].dashes) {
        buf_format(svg->buf, " stroke-dasharray=\"%s\"", pens[pen].dashes);
    }
    buf_text(svg->buf, "/>\n");
}

void svg_line(Svg *svg, SvgPoint from, SvgPoint to, SvgPen pen)
{
    buf_text(svg->buf, "<line");
    write_attribute(svg, "x1", from.x_mm);
    write_attribute(svg, "y1", from.y_mm);
    write_attribute(svg, "x2", to.x_mm);
    write_attribute(svg, "y2", to.y_mm);
    end_shape(svg, pen, SVG_HOLLOW);
}

/* `name` is polyline or polygon. */
static void write_points(Svg *svg, const char *name, const SvgPoint points[], size_t count)
{
    buf_format(svg->buf, "<%s points=\"", name);
    for (size_t i = 0; i < count; i++) {
        buf_text(svg->buf, i > 0 ? " " : "");
        write_point(svg, points[i]);
    }
    buf_char(svg->buf, '"');
}

void svg_polyline(Svg *svg, const SvgPoint points[], size_t count, SvgPen pen)
{
    assert(count >= 2);
    write_points(svg, "polyline", points, count);
    end_shape(svg, pen, SVG_HOLLOW);
}

void svg_rectangle(Svg *svg, SvgBox box, SvgPen pen, SvgFill fill)
{
    assert(box.width_mm >= 0.0 && box.height_mm >= 0.0);
    buf_text(svg->buf, "<rect");
    write_attribute(svg, "x", box.x_mm);
    write_attribute(svg, "y", box.y_mm);
    write_attribute(svg, "width", box.width_mm);
    write_attribute(svg, "height", box.height_mm);
    end_shape(svg, pen, fill);
}

void svg_circle(Svg *svg, SvgPoint centre, double radius_mm, SvgPen pen, SvgFill fill)
{
    assert(radius_mm >= 0.0);
    buf_text(svg->buf, "<circle");
    write_attribute(svg, "cx", centre.x_mm);
    write_attribute(svg, "cy", centre.y_mm);
    write_attribute(svg, "r", radius_mm);
    end_shape(svg, pen, fill);
}

/*
 * The lines on which x + y, from the top left corner, is a multiple of the spacing: each from the right to
 * the left.
 */
void svg_hatch(Svg *svg, SvgBox box, double spacing_mm)
{
    assert(spacing_mm >= 0.5 && box.width_mm >= 0.0 && box.height_mm >= 0.0);
    double last_mm = box.width_mm + box.height_mm;
    if (last_mm <= spacing_mm) {
        return;
    }
    buf_text(svg->buf, "<path d=\"");
    for (unsigned i = 1; i * spacing_mm < last_mm; i++) {
        double sum_mm = i * spacing_mm;
        double right_mm = fmin(sum_mm, box.width_mm);
        double low_mm = fmin(sum_mm, box.height_mm);
        buf_text(svg->buf, i > 1 ? " M" : "M");
        write_point(svg, (SvgPoint){box.x_mm + right_mm, box.y_mm + sum_mm - right_mm});
        buf_text(svg->buf, " L");
        write_point(svg, (SvgPoint){box.x_mm + sum_mm - low_mm, box.y_mm + low_mm});
    }
    buf_char(svg->buf, '"');
    end_shape(svg, SVG_THIN, SVG_HOLLOW);
}

void svg_triangle(Svg *svg, SvgPoint a, SvgPoint b, SvgPoint c)
{
    write_points(svg, "polygon", (const SvgPoint[]){a, b, c}, 3);
    end_shape(svg, SVG_NO_LINE, SVG_BLACK);
}

void svg_arrow(Svg *svg, SvgPoint from, SvgPoint to, SvgPen pen)
{
    double x_mm = to.x_mm - from.x_mm;
    double y_mm = to.y_mm - from.y_mm;
    double length_mm = hypot(x_mm, y_mm);
    if (length_mm < 0.01) { /* the grid: both points are one */
        return;
    }
    double head = fmin(2.4, length_mm) / length_mm; /* its length, as a share of the arrow's */
    double half = head / 3.0;                       /* half its width, likewise */
    SvgPoint neck = {to.x_mm - head * x_mm, to.y_mm - head * y_mm};
    if (head < 1.0) {
        svg_line(svg, from, neck, pen);
    }
    svg_triangle(svg, to, (SvgPoint){neck.x_mm - half * y_mm, neck.y_mm + half * x_mm},
                 (SvgPoint){neck.x_mm + half * y_mm, neck.y_mm - half * x_mm});
}

/* ---- Words ---- */

static void begin_text(Svg *svg, SvgPoint at, double size_mm, SvgAnchor anchor)
{
    static const char *const anchors[] = {
        [SVG_START] = "", [SVG_MIDDLE] = " text-anchor=\"middle\"", [SVG_END] = " text-anchor=\"end\""};

    assert(size_mm > 0.0);
    buf_text(svg->buf, "<text");
    write_attribute(svg, "x", at.x_mm);
    write_attribute(svg, "y", at.y_mm);
    write_attribute(svg, "font-size", size_mm);
    buf_text(svg->buf, anchors[anchor]);
}

static void end_text(Svg *svg, Str text)
{
    buf_char(svg->buf, '>');
    write_text(svg->buf, text);
    buf_text(svg->buf, "</text>\n");
}

void svg_text(Svg *svg, SvgPoint at, double size_mm, SvgAnchor anchor, Str text)
{
    begin_text(svg, at, size_mm, anchor);
    end_text(svg, text);
}

void svg_text_clear(Svg *svg, SvgPoint at, double size_mm, SvgAnchor anchor, Str text)
{
    begin_text(svg, at, size_mm, anchor);
    buf_text(svg->buf, " stroke=\"white\" stroke-width=\"1\" stroke-linejoin=\"round\"");
    end_text(svg, text);
    svg_text(svg, at, size_mm, anchor, text);
}

void svg_text_upwards(Svg *svg, SvgPoint at, double size_mm, SvgAnchor anchor, Str text)
{
    begin_text(svg, at, size_mm, anchor);
    buf_text(svg->buf, " transform=\"rotate(-90 ");
    write_point(svg, at);
    buf_text(svg->buf, ")\"");
    end_text(svg, text);
}

double svg_baseline(double middle_mm, double size_mm)
{
    return middle_mm + 0.36 * size_mm; /* capitals are about 0.72 of the size high */
}

/* ---- How wide words are ---- */

enum { FIRST_ASCII = ' ', LAST_ASCII = '~', WIDEST = 1800 };

/* Thousandths of the font's size; see svg_text_width in the header. */
/* clang-format off */
static const short ascii_widths[] = {
    360, 410, 470, 860, 650, 1100, 800, 290, 460, 460, 650, 860, 370, 460, 370, 460, /*  !"#$%&'()*+,-./ */
    650, 650, 650, 650, 650, 650, 650, 650, 650, 650, 460, 460, 860, 860, 860, 570,  /* 0123456789:;<=>? */
    1040, 700, 700, 740, 790, 690, 630, 800, 770, 430, 520, 710, 570, 890, 770, 810, /* @ABCDEFGHIJKLMNO */
    690, 810, 740, 700, 630, 750, 700, 1010, 700, 690, 700, 460, 460, 460, 860, 650, /* PQRSTUVWXYZ[\]^_ */
    650, 630, 650, 570, 650, 630, 370, 650, 650, 290, 360, 610, 290, 1000, 650, 630, /* `abcdefghijklmno */
    650, 650, 440, 540, 410, 650, 610, 840, 610, 610, 540, 650, 460, 650, 860,       /* pqrstuvwxyz{|}~ */
};
/* clang-format on */
_Static_assert(sizeof ascii_widths / sizeof *ascii_widths == LAST_ASCII - FIRST_ASCII + 1, "one a character");

typedef struct WidthRange {
    uint32_t last; /* code point; the first is the one after the range before */
    short width;
} WidthRange;

/*
 * Beyond ASCII, whole ranges share the width of their widest letter, or nearly so that of the book's own
 * signs.
 */
/* clang-format off */
static const WidthRange wide_ranges[] = {
    {0xBF, 1040},                                   /* signs of Latin-1 */
    {0xC5, 740}, {0xC6, 1040}, {0xDE, 860},         /* capitals, AE among them */
    {0xE5, 660}, {0xE6, 1040}, {0xFF, 860},         /* small letters, ae among them */
    {0x17F, 1120}, {0x2FF, 1460}, {0x52F, 1220},    /* Latin, Greek, Cyrillic */
    {0x10FF, 1300}, {0x1DFF, 1800}, {0x1FFF, 1300}, /* other letters, more accents */
    {0x202F, 1040}, {0x2031, 1800}, {0x209F, 1040}, /* dashes, ellipsis; per mille; small digits */
    {0x20CF, 1300}, {0x218F, 1460}, {0x21FF, 860},  /* currencies; signs like letters; arrows */
};
/* clang-format on */

static short width_of(uint32_t code)
{
    if (code >= FIRST_ASCII && code <= LAST_ASCII) {
        return ascii_widths[code - FIRST_ASCII];
    }
    for (size_t i = 0; i < sizeof wide_ranges / sizeof *wide_ranges; i++) {
        if (code <= wide_ranges[i].last) {
            return wide_ranges[i].width;
        }
    }
    return WIDEST;
}

/* In thousandths of the size: a whole number, so that sums do not depend on their order. */
static long width_in_thousandths(Str text)
{
    long width = 0;
    while (text.length > 0) {
        width += width_of(character_take(&text));
    }
    return width;
}

double svg_text_width(Str text, double size_mm)
{
    return (double)width_in_thousandths(text) * size_mm / 1000.0;
}

static bool is_combining(uint32_t code)
{
    return code >= 0x300 && code <= 0x36F;
}

/*
 * The length in bytes of the longest start whose characters are within `room` thousandths and keep their
 * accents.
 */
static size_t length_within(Str text, long room)
{
    Str rest = text;
    size_t fits = 0;
    while (rest.length > 0) {
        size_t before = text.length - rest.length;
        uint32_t code = character_take(&rest);
        if (!is_combining(code)) {
            fits = before;
        }
        room -= width_of(code);
        if (room < 0) {
            return fits;
        }
    }
    return text.length;
}

/* Where the longest end begins whose characters are within `room` thousandths, none of them an accent of one before. */
static size_t end_within(Str text, long room)
{
    Str rest = text;
    long left = width_in_thousandths(text);
    size_t begins = 0;
    while (rest.length > 0) {
        begins = text.length - rest.length;
        Str next = rest;
        uint32_t code = character_take(&next);
        if (left <= room && !is_combining(code)) {
            return begins;
        }
        left -= width_of(code);
        rest = next;
    }
    return text.length;
}

/* One word, as a name of the spec is: names of a kind differ at their ends as often as at their beginnings. */
static bool is_one_word(Str text)
{
    bool blank = false;
    for (size_t i = 0; i < text.length; i++) {
        blank = blank || text.text[i] == ' ';
    }
    return !blank;
}

Str svg_text_fit(Arena *arena, Str text, double size_mm, double width_mm)
{
    static const uint32_t ellipsis = 0x2026;

    assert(size_mm > 0.0);
    double room = floor(width_mm * 1000.0 / size_mm + 1e-6); /* a text exactly as wide as its box has room */
    if ((double)width_in_thousandths(text) <= room) {
        return text;
    }
    if (room < width_of(ellipsis)) {
        return STR("");
    }
    long free = (long)room - width_of(ellipsis);
    size_t end = is_one_word(text) ? end_within(text, free / 2) : text.length;
    Str tail = {text.text + end, text.length - end};
    text.length = length_within(text, free - width_in_thousandths(tail));
    while (text.length > 0 && text.text[text.length - 1] == ' ') {
        text.length--;
    }
    Buf cut;
    buf_init(&cut, arena);
    buf_add(&cut, text);
    character_write(&cut, ellipsis);
    buf_add(&cut, tail);
    return buf_str(&cut);
}
