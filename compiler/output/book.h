/*
 * The build book: every file that `garboard book` writes, made from an outcome.
 *
 * The book is for the owner on a winter evening and for the surveyor who has an hour. It prints figures,
 * values of the spec and findings; it computes nothing. Its chapters stand in book_*.c, each knowing only
 * book_page.h; its pictures come from diagram.h. Nothing in a file depends on a clock, a folder, a line
 * number or the order of a table's memory, so that a small edit of the spec makes a small difference here.
 */
#ifndef GARBOARD_OUTPUT_BOOK_H
#define GARBOARD_OUTPUT_BOOK_H

#include "rules/outcome.h"

typedef struct BookFile {
    const char *name;  /* relative, with `/`: "img/power-dc.svg" */
    const char *title; /* what it shows, in a few words */
    Str bytes;
} BookFile;

/**
 * Makes the files, book.md first, all in the arena, and tells how many there are. The outcome has at least
 * one case.
 */
size_t book_files(Arena *arena, const Outcome *outcome, BookFile **files);

#endif
