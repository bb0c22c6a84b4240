/*
 * The weight study as a picture: what is weighed and placed, seen from the side and from above, with the centres.
 */
#ifndef GARBOARD_OUTPUT_WEIGHT_SKETCH_H
#define GARBOARD_OUTPUT_WEIGHT_SKETCH_H

#include "output/book_page.h"

/**
 * Two pages, `img/weight-profile.svg` and `img/weight-plan.svg`; none where nothing has both a mass and a place. Drawn
 * from the first case. Returns how many.
 */
size_t weight_sketch(const Book *book, BookFile **pages);

#endif
