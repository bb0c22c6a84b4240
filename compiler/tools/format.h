/*
 * The canonical layout of a spec: one way to write what a file says, so that a difference between two
 * versions of it is a difference in the boat.
 *
 *   - two blanks a level; one blank between terms, none around `..`, `/` and the point of a `set`, none
 *     before a comma
 *   - a block of one or two statements stands on one line if it fits, any other is open; a block that holds
 *     a comment, a blank line, a text over several lines or a mistake is open too
 *   - a list that does not fit goes one member a line, with a comma after the last where the language takes
 *     one (before the end of the block or a blank line)
 *   - a quoted text that goes on stands on a line of its own; what is inside of quotes is never touched
 *   - a comment stands two blanks after its statement, or above what follows in the same column
 *   - one blank line at most, none at the beginning and the end of a block or of the file; lines end in LF
 *     alone
 *
 * A statement that cannot be read stands as it was written; a brace on the wrong line goes to the right
 * one. Nothing that the text means is changed: what comes out is parsed once more and compared. Knows the
 * tree, the schema and the units; no model: files that are included are not read.
 */
#ifndef GARBOARD_TOOLS_FORMAT_H
#define GARBOARD_TOOLS_FORMAT_H

#include "base/buf.h"

#include <stdbool.h>

/** Columns (characters) that a line has at most, where it can be broken; a comment behind it aside. */
enum { FORMAT_COLUMNS = 100 };

/**
 * Appends the text of one file in its canonical layout. False if nothing can be made of it (bytes that are
 * not UTF-8, braces that do not balance): *why is then a sentence that begins with name and place, and
 * nothing is appended.
 */
bool format_text(Buf *to, Arena *arena, Str name, Str text, const char **why);

#endif
