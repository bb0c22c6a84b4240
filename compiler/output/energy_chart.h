/*
 * Pictures of the banks through days and cruises: state of charge above, loads and sources below.
 */
#ifndef GARBOARD_OUTPUT_ENERGY_CHART_H
#define GARBOARD_OUTPUT_ENERGY_CHART_H

#include "output/book_page.h"

/**
 * A page for each bank and each day or cruise in which something draws on it or charges it; returns how many. Files are
 * named `img/energy-DAY.BANK.svg`. Drawn from the first case.
 */
size_t energy_chart_draw(const Book *book, BookFile **pages);
/** The beginning of those names of one day or cruise. */
const char *energy_chart_names(const Book *book, const Entity *when);

#endif
