/*
 * Plots: curves over two axes, on a picture of svg.h.
 *
 * Legible in black and white: curves differ by their pens, a key above the frame names each, and marks have words
 * of their own. Numbers along the axes are round. It knows rectangles and numbers, in whatever units its caller
 * puts in; it knows nothing of boats, and computes nothing but places.
 */
#ifndef GARBOARD_OUTPUT_PLOT_H
#define GARBOARD_OUTPUT_PLOT_H

#include "output/svg.h"

typedef struct PlotAxis {
    const char *title; /* what it measures, with its unit: "speed, kn" */
    double low, high;  /* low < high */
    double step;       /* between numbers along it; 0: a round one that gives five to ten of them */
} PlotAxis;

/* A line through points. One that is not finite breaks it; what lies outside of the frame is cut off. */
typedef struct PlotCurve {
    Str label; /* in the key; empty: not in it */
    SvgPen pen;
    const double *x, *y;
    size_t count;
} PlotCurve;

/* A point on the picture, with words beside it. */
typedef struct PlotMark {
    double x, y;
    Str label;
} PlotMark;

typedef struct Plot {
    SvgBox box; /* all of it: key, frame, numbers, titles; at least 60 by 40 mm */
    PlotAxis x, y;
    const PlotCurve *curves;
    size_t curve_count;
    const PlotMark *marks;
    size_t mark_count;
} Plot;

/** Draws it. Texts that are cut for want of room are made in the arena of the picture's buffer. */
void plot_draw(Svg *svg, const Plot *plot);

/**
 * The smallest round step (1, 2 or 5 times a power of ten) of which at most `most` (>= 1) make up a span (> 0). Exact
 * where a double can be.
 */
double plot_step(double span, int most);
/** The smallest multiple of plot_step(value, 10) that is not less than the value (> 0): where an axis may end. */
double plot_round_up(double value);

/** Where a point comes to lie on the picture: for what a caller draws besides. */
SvgPoint plot_point(const Plot *plot, double x, double y);

#endif
