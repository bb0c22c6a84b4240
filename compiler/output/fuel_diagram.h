/*
 * The picture of the fuel for the build book: tanks, lines with their valves, separators and filters, engines, and
 * the way back.
 */
#ifndef GARBOARD_OUTPUT_FUEL_DIAGRAM_H
#define GARBOARD_OUTPUT_FUEL_DIAGRAM_H

#include "output/book_page.h"

/** Draws it as `img/drive-fuel.svg`, from the first case; false where the spec states no fuel line. */
bool fuel_diagram(const Book *book, BookFile *file);

#endif
