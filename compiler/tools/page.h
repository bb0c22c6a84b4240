/*
 * Text for a terminal of 80 columns: wrapped paragraphs, entries with a hanging indent, examples as they are
 * written.
 *
 * Knows columns and bold type; nothing of what the text says. A column is a character: bytes that go on a
 * character of UTF-8 take none.
 */
#ifndef GARBOARD_TOOLS_PAGE_H
#define GARBOARD_TOOLS_PAGE_H

#include "base/buf.h"

#include <stdbool.h>

enum { PAGE_COLUMNS = 80 };

typedef struct Page {
    Buf *buf;
    bool color;
} Page;

void page_blank(Page *page);
/** A line in bold. */
void page_heading(Page *page, Str text);
/** A line that begins with a word in bold: `bank: batteries that work as one`, wrapped. */
void page_title(Page *page, const char *word, Str text);
/** A paragraph: every line begins `indent` columns in. */
void page_paragraph(Page *page, int indent, Str text);
/**
 * A word in bold `indent` columns in, and its text from `column` on. Where the word leaves no room, the text
 * begins on the next line. An empty text is left out.
 */
void page_entry(Page *page, int indent, int column, Str word, Str text);
/** Lines of a spec, moved in and not wrapped. */
void page_code(Page *page, int indent, Str code);

/**
 * A spec with the blocks that would run past `columns` opened: a statement a line, two blanks a level. What
 * stands in quotes or in a comment is left as it is, and so is a line that is short enough.
 */
void page_open_blocks(Buf *to, Str spec, int columns);

#endif
