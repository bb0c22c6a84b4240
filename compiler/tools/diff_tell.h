/*
 * What the files that write the difference for people share: where they write to, and lines of a word and a
 * text. Private to compiler/tools/diff_t*.c.
 */
#ifndef GARBOARD_TOOLS_DIFF_TELL_H
#define GARBOARD_TOOLS_DIFF_TELL_H

#include "tools/diff_parts.h"
#include "tools/page.h"

enum {
    INDENT = 2,
    HOW_COLUMN = 10,    /* where the text begins behind `added`, `changed` */
    WORD_COLUMN = 20,   /* ... behind a property's word */
    FIGURE_COLUMN = 30, /* ... behind a figure's name, or that of a line of the bill of materials */
};

typedef struct Teller {
    Page page;
    Arena *arena;
    const Diff *diff;
} Teller;

/** A text on one line, harmless on a terminal. */
Str tell_plain(Teller *teller, const char *text);
/** A word and behind it, from a column on, its text. Both are made harmless. */
void tell_entry(Teller *teller, int indent, int column, const char *word, const char *text);
/** A blank line and a heading. */
void tell_heading(Teller *teller, const char *text);
/** "s", or nothing for one. */
const char *tell_plural(uint32_t count);

void tell_things(Teller *teller); /* diff_tell_things.c: things, choices, waivers */
void tell_choices(Teller *teller);
void tell_waivers(Teller *teller);
void tell_figures(Teller *teller); /* diff_tell_figures.c */

#endif
