/*
 * One-line diagrams of the boat's wiring, as SVG pages for the build book: direct current and alternating
 * current.
 */
#ifndef GARBOARD_OUTPUT_DIAGRAM_H
#define GARBOARD_OUTPUT_DIAGRAM_H

#include "output/book_page.h"

/**
 * Draws the wiring of one kind of current on as many pages as it takes; returns how many (0: there is nothing
 * to draw). Files are named `img/NAME.svg`, `img/NAME-2.svg` ... Drawn from the first case; figures cover all
 * cases.
 */
size_t diagram_draw(const Book *book, bool ac, BookFile **pages);

#endif
