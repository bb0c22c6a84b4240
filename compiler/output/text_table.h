/*
 * A table for a terminal: columns side by side, each as wide as it needs, what is longer wrapped inside its cell.
 *
 * Knows characters and blanks; nothing of what the cells say. A column is a character: bytes that go on a character of
 * UTF-8 take none. Texts are made harmless.
 */
#ifndef GARBOARD_OUTPUT_TEXT_TABLE_H
#define GARBOARD_OUTPUT_TEXT_TABLE_H

#include "base/buf.h"

#include <stdint.h>

enum { TEXT_TABLE_GAP = 2, TEXT_TABLE_NARROWEST = 14 };

typedef struct TextTable {
    Arena *arena;
    size_t columns;
    Str *cells; /* row by row */
    size_t count, capacity;
    uint32_t right; /* bit c: what stands in column c is flush right, as numbers are */
} TextTable;

void text_table_init(TextTable *table, Arena *arena, size_t columns);
/** The next cell; rows fill from the left. */
void text_table_add(TextTable *table, const char *text);
/**
 * Writes what was added, `indent` in, in `width` columns if that can be: no column is made narrower than
 * TEXT_TABLE_NARROWEST for it, nor than its longest word.
 */
void text_table_write(Buf *to, const TextTable *table, size_t indent, size_t width);

#endif
