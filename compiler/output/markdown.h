/*
 * Markdown, as CommonMark 0.31 with the tables of GitHub's dialect: the book's own format.
 *
 * The writer owns blank lines, tables and escaping: whatever is handed in as text comes out as that text, and
 * can start no heading, list, link, table, emphasis, reference or HTML. A block (heading, paragraph, item,
 * quote, table) lasts until the next begins; what stands in it is added piece by piece (text, code, strong,
 * link, image). Every block is one line, and a table is one line a row and not padded, so that a small change
 * makes a small difference. It knows nothing of the book.
 *
 *     markdown_heading(&md, 2, STR("Power"), "power");
 *     markdown_paragraph(&md);
 *     markdown_text(&md, STR("Fed by "));
 *     markdown_link_code(&md, STR("main"), "#main");
 *     markdown_table(&md, columns, 2);
 *     markdown_row(&md);
 *     markdown_cell_text(&md, name);
 *     markdown_cell_text(&md, current);
 *     markdown_end(&md);
 */
#ifndef GARBOARD_OUTPUT_MARKDOWN_H
#define GARBOARD_OUTPUT_MARKDOWN_H

#include "base/buf.h"
#include "base/str.h"

#include <stdbool.h>
#include <stddef.h>

typedef enum MarkdownAlign { MARKDOWN_LEFT, MARKDOWN_RIGHT } MarkdownAlign;

typedef struct MarkdownColumn {
    const char *title;
    MarkdownAlign align;
} MarkdownColumn;

/*
 * Numbers are all written `1.`, and counted by whoever shows the list: one more item then changes one line.
 */
typedef enum MarkdownItem { MARKDOWN_BULLET, MARKDOWN_NUMBER, MARKDOWN_TO_DO, MARKDOWN_DONE } MarkdownItem;

enum { MARKDOWN_LEVELS = 4 }; /* of items inside items */

typedef enum MarkdownBlock {
    MARKDOWN_NOTHING,
    MARKDOWN_LINE, /* heading, paragraph or quote */
    MARKDOWN_ITEM,
    MARKDOWN_TABLE,
    MARKDOWN_ROW, /* begun, without a cell */
    MARKDOWN_CELL,
    MARKDOWN_CODE
} MarkdownBlock;

typedef struct MarkdownAnchor MarkdownAnchor;

typedef struct Markdown {
    Buf *buf;
    MarkdownBlock block;             /* what is open */
    size_t start;                    /* where the text of the open block begins in buf */
    size_t code_end;                 /* where the last code span ends in buf */
    size_t columns;                  /* of the open table */
    size_t cells;                    /* begun in its open row */
    size_t indents[MARKDOWN_LEVELS]; /* how far the items inside of an item are moved in, by level */
    unsigned level;                  /* of the last item */
    MarkdownAnchor *anchors;         /* in use so far */
} Markdown;

void markdown_init(Markdown *md, Buf *buf);

/* Blocks. */

/**
 * A heading of level 1..6. `id` is what links to it say after `#`, or NULL; no blanks, quotes, `&`, `<` or
 * `>` in it. Viewers derive an id from a heading's words: only where that one is not `id`, or has been used
 * before, an anchor is written as well. An id that a heading has already gets no second anchor.
 */
void markdown_heading(Markdown *md, unsigned level, Str text, const char *id);
void markdown_paragraph(Markdown *md);
/** A paragraph set apart: a caution. */
void markdown_quote(Markdown *md);
/** An item of a list; level 0 is outermost, and an item is at most one level deeper than the one before. */
void markdown_item(Markdown *md, MarkdownItem kind, unsigned level);
/** A table with its head; count >= 1. Rows follow. */
void markdown_table(Markdown *md, const MarkdownColumn columns[], size_t count);
void markdown_row(Markdown *md);
void markdown_cell(Markdown *md);
/** A block of code, whole; `language` is its info string, of letters, or "". Not inside an item. */
void markdown_code_block(Markdown *md, Str code, const char *language);
/** Ends the document. */
void markdown_end(Markdown *md);

/* Pieces of the open block. */

/**
 * Text, as it is. Line ends and tabs become blanks; control characters and bytes that are not UTF-8 U+FFFD.
 */
void markdown_text(Markdown *md, Str text);
/** printf for texts and whole numbers, then as markdown_text. */
void markdown_format(Markdown *md, const char *format, ...) __attribute__((format(printf, 2, 3)));
/**
 * A name, or what stands in a spec. In a table, one with a `|` in it is written as text, for viewers differ
 * there.
 */
void markdown_code(Markdown *md, Str code);
/** Stressed text; wants a blank, or the block's end, on both sides. */
void markdown_strong(Markdown *md, Str text);
/**
 * A link to `#id`, to a relative path or to http, https or mailto. Anything else that looks like an address
 * (a scheme that runs something) is not linked: its text alone is written.
 */
void markdown_link(Markdown *md, Str text, const char *target);
void markdown_link_code(Markdown *md, Str code, const char *target);
/** A picture; `text` is for those who do not see it. Targets as for links. */
void markdown_image(Markdown *md, Str text, const char *target);

/** A cell and its text at once. */
void markdown_cell_text(Markdown *md, Str text);
/** A cell and a name in it. */
void markdown_cell_code(Markdown *md, Str code);

/**
 * The id that viewers derive from a heading of ASCII text: lower case, blanks as `-`, punctuation left out.
 * Characters beyond ASCII are left out too; "section" if nothing remains. Source: the behaviour of GitHub's
 * viewer, from memory.
 */
const char *markdown_id(Arena *arena, Str text);

#endif
