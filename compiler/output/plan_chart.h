/*
 * The work plan as a picture: a bar for each job, by the week, for the build book.
 */
#ifndef GARBOARD_OUTPUT_PLAN_CHART_H
#define GARBOARD_OUTPUT_PLAN_CHART_H

#include "output/book_page.h"

/**
 * Draws the jobs that are left to do on as many pages as it takes; returns how many (0: there are none, or no days are
 * known). Files are named `img/plan.svg`, `img/plan-2.svg` ... Drawn from the first case.
 */
size_t plan_chart_draw(const Book *book, BookFile **pages);

#endif
