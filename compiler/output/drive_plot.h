/*
 * The picture of power against speed for the build book: what the hull takes, what each engine and its propeller
 * give, an option a line.
 */
#ifndef GARBOARD_OUTPUT_DRIVE_PLOT_H
#define GARBOARD_OUTPUT_DRIVE_PLOT_H

#include "output/book_page.h"

/** Draws it as `img/drive-power.svg`; false where too little is known for a picture. */
bool drive_plot(const Book *book, BookFile *file);

#endif
