/*
 * The parser: tokens to statements. It knows statements and terms, no kinds and no properties, and it never stops at a
 * mistake: the line is where it finds its feet again, a block stays a block whatever stands in its first line.
 */
#ifndef GARBOARD_SYNTAX_PARSE_H
#define GARBOARD_SYNTAX_PARSE_H

#include "syntax/token.h"
#include "syntax/tree.h"

/** Blocks deeper than this are skipped with a message. */
enum { PARSE_DEPTH = 16 };

/** Parses a whole source into the tree; returns its NODE_FILE. Mistakes go to messages. */
NodeId parse_source(Tree *tree, const Source *source, Messages *messages);

/** Parses one property (`word terms`) from a source of its own: for defaults. The statement, or 0. */
NodeId parse_property(Tree *tree, const Source *source, Messages *messages);

/** Parses one `set NAME.PROPERTY terms` from a source of its own: for values from the command line. */
NodeId parse_setting(Tree *tree, const Source *source, Messages *messages);

#endif
