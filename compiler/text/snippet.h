/*
 * Lines of a text drawn with places in them underlined: one drawing for mistakes and findings alike.
 *
 *        48 |   wire 2.5 mm2
 *           |        ^^^^^^^ ampacity 21 A
 *        49 |   protect 30 A breaker
 *           |           ---- limits the current to 30 A
 *
 * Whatever stands in a spec is harmless on a terminal: a tab is drawn as one blank; control characters,
 * characters that turn the direction of writing, and bytes that are no text as U+FFFD. Of a long line only
 * the part around the place is drawn. Colour says nothing that the characters do not say too. Knows texts and
 * places, neither mistakes nor rules.
 */
#ifndef GARBOARD_TEXT_SNIPPET_H
#define GARBOARD_TEXT_SNIPPET_H

#include "base/buf.h"
#include "text/source.h"

#include <stdbool.h>
#include <stddef.h>

enum { SNIPPET_COLUMNS = 100 }; /* of a source line that are drawn at most */

/** Whether a text goes to something that shows colours (ANSI escape sequences). */
typedef struct Colour {
    bool on;
} Colour;
#define COLOUR_ON ((Colour){true})
#define COLOUR_OFF ((Colour){false})

typedef enum Tint { TINT_NONE, TINT_STRONG, TINT_RED, TINT_YELLOW } Tint;

/** Begins and ends a coloured stretch; both write nothing where colour is off or the tint is none. */
void colour_begin(Buf *to, Colour colour, Tint tint);
void colour_end(Buf *to, Colour colour, Tint tint);

/** A place to underline: `^` for what a message is about, `-` for what else matters. */
typedef struct SnippetMark {
    Span at;
    const char *text; /* what is to be seen there, or NULL */
    bool secondary;
} SnippetMark;

/**
 * Draws the lines of the marks, each line once, in the order of the text; files in the order in which the
 * marks name them. A file other than the first mark's is named above its lines. Two marks at one place become
 * one. tint is that of the primary marks. A mark of several lines is drawn on its first.
 */
void snippet_write(Buf *to, const Sources *sources, const SnippetMark marks[], size_t count, Colour colour,
                   Tint tint);

/** A text on one line and harmless, as above; line ends are drawn as blanks too. */
void snippet_plain(Buf *to, Str text);

/** How many columns of a terminal a text takes that was drawn so. */
int snippet_columns(const char *at, const char *end);

/**
 * Places asked for one after the other: where they ascend, a line of many places is counted through once,
 * not each time.
 */
typedef struct PlaceWalk {
    uint32_t offset;
    Place place; /* of `offset`; source NULL: none yet */
} PlaceWalk;
Place place_walk(PlaceWalk *walk, const Sources *sources, uint32_t offset);

#endif
