/*
 * Pictures as SVG 1.1: lines, boxes, circles and words in millimetres on a page, in black and white.
 *
 * x grows to the right, y down, from the top left corner. The writer owns escaping and how numbers are
 * printed: every coordinate is snapped to a hundredth of a millimetre, and one element stands on a line, so
 * that equal pictures are equal files and a small change is a small difference. There is no script, style
 * sheet, reference or font in them; a text is as wide as its viewer's font makes it, therefore boxes are
 * sized with svg_text_width, which is generous. It knows nothing of boats; where things go on a page is its
 * caller's business.
 */
#ifndef GARBOARD_OUTPUT_SVG_H
#define GARBOARD_OUTPUT_SVG_H

#include "base/buf.h"
#include "base/str.h"

#include <stddef.h>

typedef enum SvgPage { SVG_A4_PORTRAIT, SVG_A4_LANDSCAPE } SvgPage;

typedef enum SvgPen { SVG_NO_LINE, SVG_THIN, SVG_LINE, SVG_THICK, SVG_DASHED, SVG_DOTTED, SVG_DASH_DOT, SVG_HAIR } SvgPen;

typedef enum SvgFill { SVG_HOLLOW, SVG_WHITE, SVG_BLACK } SvgFill;

/* Which point of a text is put at its place. */
typedef enum SvgAnchor { SVG_START, SVG_MIDDLE, SVG_END } SvgAnchor;

typedef struct SvgPoint {
    double x_mm;
    double y_mm;
} SvgPoint;

typedef struct SvgBox {
    double x_mm; /* left */
    double y_mm; /* top */
    double width_mm;
    double height_mm;
} SvgBox;

typedef struct Svg {
    Buf *buf;
    double width_mm; /* of the page */
    double height_mm;
} Svg;

/** Begins a picture on a white page. The title says in a line what it shows, for those who do not see it. */
void svg_begin(Svg *svg, Buf *buf, SvgPage page, Str title);
/** The same on an A4 page that lies on its side, cut off below a height of at most 210 mm: what is drawn needs no more. */
void svg_begin_cut(Svg *svg, Buf *buf, double height_mm, Str title);
/** The same on a sheet of its own size. */
void svg_begin_sheet(Svg *svg, Buf *buf, double width_mm, double height_mm, Str title);
void svg_end(Svg *svg);

void svg_line(Svg *svg, SvgPoint from, SvgPoint to, SvgPen pen);
/** A line through two points or more. */
void svg_polyline(Svg *svg, const SvgPoint points[], size_t count, SvgPen pen);
/** A box; sides >= 0. */
void svg_rectangle(Svg *svg, SvgBox box, SvgPen pen, SvgFill fill);
/**
 * Slanting lines `spacing_mm` (>= 0.5) apart all over a box, which tell it from others in black and white.
 */
void svg_hatch(Svg *svg, SvgBox box, double spacing_mm);
void svg_circle(Svg *svg, SvgPoint centre, double radius_mm, SvgPen pen, SvgFill fill);
/** A triangle filled with black. */
void svg_triangle(Svg *svg, SvgPoint a, SvgPoint b, SvgPoint c);
/**
 * A line with a filled head at `to`; nothing if both points are one. The head shrinks with a very short line.
 */
void svg_arrow(Svg *svg, SvgPoint from, SvgPoint to, SvgPen pen);

/** Words; `at` lies on their baseline (see svg_baseline), size_mm > 0 is the size of the font. */
void svg_text(Svg *svg, SvgPoint at, double size_mm, SvgAnchor anchor, Str text);
/** The same over lines: a white edge around the letters keeps them legible. */
void svg_text_clear(Svg *svg, SvgPoint at, double size_mm, SvgAnchor anchor, Str text);
/** Words that run upwards, as along the upright axis of a plot. */
void svg_text_upwards(Svg *svg, SvgPoint at, double size_mm, SvgAnchor anchor, Str text);

/** The y of the baseline for words whose capitals are to have their middle at middle_mm. */
double svg_baseline(double middle_mm, double size_mm);

/**
 * How wide a text may come out at most, in mm, whatever sans-serif font it is shown in: the sum over its code
 * points. Source: advance widths of DejaVu Sans 2.37 (measured) and of Helvetica and Verdana (from memory),
 * the widest of the three plus 2 %. Holds for upright letters of normal weight.
 */
double svg_text_width(Str text, double size_mm);

/**
 * The text, or as much of its start as has room within width_mm together with an ellipsis; in the arena if
 * cut.
 */
Str svg_text_fit(Arena *arena, Str text, double size_mm, double width_mm);

#endif
