/*
 * Pictures of the water, as SVG pages for the build book: fresh and hot water, waste, and every opening in the
 * hull. Drawn from the first case; figures cover all cases.
 */
#ifndef GARBOARD_OUTPUT_DIAGRAM_WATER_H
#define GARBOARD_OUTPUT_DIAGRAM_WATER_H

#include "output/book_page.h"

/** Each draws as many pages as it takes and returns how many (0: there is nothing to draw). */
size_t diagram_fresh(const Book *book, BookFile **pages);
size_t diagram_waste(const Book *book, BookFile **pages);
size_t diagram_openings(const Book *book, BookFile **pages);

/** Whether a through-hull says that it is the outlet of an exhaust. */
bool diagram_is_outlet_stated(const Model *model, const Entity *exhaust);

#endif
