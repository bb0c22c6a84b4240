/*
 * The chapter of the book that things of a kind are told in: for the book and for the manual, which tells the same.
 */
#ifndef GARBOARD_OUTPUT_BOOK_KIND_H
#define GARBOARD_OUTPUT_BOOK_KIND_H

#include "language/schema.h"

System book_system_of_kind(KindId kind);

#endif
