/*
 * Steps for the water of the boat when she is left and before the first frost.
 */
#ifndef GARBOARD_OUTPUT_BOOK_WINTER_H
#define GARBOARD_OUTPUT_BOOK_WINTER_H

#include "output/book_page.h"

/** Two lists under headings of level 3; nothing where nothing aboard asks for a step. */
void book_winter(Book *book);
/** What is shut and switched off when nobody stays aboard: of the chapter of safety. */
void book_leaving(Book *book);

/** Laying up of drive and fuel, a part of that chapter (book_laying_up.c). */
void book_laying_up(Book *book);

#endif
