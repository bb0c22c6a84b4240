/*
 * Drawing one section of a wiring tree on a page: bars, cables with what is to be read on them, loads.
 */
#ifndef GARBOARD_OUTPUT_DIAGRAM_DRAW_H
#define GARBOARD_OUTPUT_DIAGRAM_DRAW_H

#include "output/diagram_symbol.h"
#include "output/diagram_tree.h"
#include "output/svg.h"

/*
 * The sheet is as wide as what an upright A4 page leaves between its margins: so the words are read as they are drawn, and need not
 * be made smaller. mm.
 */
#define DIAGRAM_WIDTH 190.0
#define DIAGRAM_LEFT 6.0
#define DIAGRAM_RIGHT 185.0

/* A section, or a part of one that is too tall for a page. */
typedef struct Piece {
    const Spot *section;
    const Spot *first;        /* child that it begins with */
    unsigned count;           /* of children */
    const SpotSource *source; /* that it begins with, or NULL */
    unsigned source_count;
    bool continued; /* an earlier piece of the section stands before it */
    double height_mm;
    size_t page;
    double top_mm;
    struct Piece *next;
} Piece;

typedef struct Drawing {
    const DiagramTree *tree;
    Svg svg;
    size_t page;
    const char *(*page_name)(const DiagramTree *tree, size_t page); /* "power-dc-2.svg" */
    bool used[SYMBOL_COUNT]; /* the symbols on this page: the legend has these */
} Drawing;

/** Draws a piece at its place on the page. */
void diagram_draw_piece(Drawing *drawing, const Piece *piece);
/** Words from `at` on, cut to the width; nothing for an empty text. */
void diagram_words(Drawing *drawing, double x_mm, double baseline_mm, double size_mm, double width_mm,
                   Str text);

#endif
