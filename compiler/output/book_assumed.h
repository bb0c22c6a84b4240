/*
 * What the build book marks "(assumed)", so that its chapter Assumptions lists all of it: written down where it is printed.
 */
#ifndef GARBOARD_OUTPUT_BOOK_ASSUMED_H
#define GARBOARD_OUTPUT_BOOK_ASSUMED_H

#include "output/book_page.h"

/** What is taken by no row of the schema: what a space that an engine heats, or a cable, is taken to be. */
typedef struct BookAssumption {
    const char *property; /* as an owner would write it */
    const char *assumed;
    const char *help, *authority;
} BookAssumption;

/** A default of the schema that was taken for a thing. Changes what `book->assumed` points at. */
void book_assume(const Book *book, PropId prop, Symbol name);
/** The same of another assumption; what it points at is kept, and tells it from others. */
void book_assume_other(const Book *book, const BookAssumption *what, Symbol name);
/** A table of all of them under its heading; false if there are none. */
bool book_assumed_table(Book *book);

#endif
