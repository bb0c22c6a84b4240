/*
 * The starter: a commented spec of a small boat to begin from (`garboard new`). It checks without a fault or
 * a mistake; what it leaves open or is warned of is explained in its own comments. Knows no file: it makes a
 * text.
 */
#ifndef GARBOARD_TOOLS_STARTER_H
#define GARBOARD_TOOLS_STARTER_H

#include "base/buf.h"

#include <stdbool.h>

/**
 * The starter for a boat of that name (`wren` makes `boat wren "Wren"`). False if it is no name of the
 * language, or one that something else in the starter has: *error is then a sentence that says what would be
 * right, in the arena, and nothing is added to `to`.
 */
bool starter_write(Buf *to, Arena *arena, Str name, const char **error);

#endif
