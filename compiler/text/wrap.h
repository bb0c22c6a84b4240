/*
 * A finished text for a terminal: its long lines folded at a width. Drawings of places stay as they are, for their underlines
 * have to stand where they stand. Knows lines, blanks, names in backquotes and colours, and not what the text is about.
 */
#ifndef GARBOARD_TEXT_WRAP_H
#define GARBOARD_TEXT_WRAP_H

#include "base/buf.h"

enum { WRAP_COLUMNS = 80, WRAP_INDENT = 4 };

/**
 * Adds the text with each line of more than so many columns folded at blanks; what follows is indented by WRAP_INDENT. What
 * stands in backquotes stays on one line if one can hold it, and a word that is longer than a line is not broken.
 */
void text_wrap(Buf *to, Str text, int columns);

#endif
