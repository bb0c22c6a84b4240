/*
 * What the files of the formatter share: the first line of a statement (format_statement.c), and whether
 * two trees say the same (format_same.c). Private to compiler/tools/format*.c.
 */
#ifndef GARBOARD_TOOLS_FORMAT_PARTS_H
#define GARBOARD_TOOLS_FORMAT_PARTS_H

#include "base/buf.h"
#include "language/schema.h"
#include "syntax/tree.h"

/** Where a statement stands and what stands around it. */
typedef struct FormatPlace {
    KindId
        inside; /* the kind or group whose block it stands in; KIND_NONE outside of things, or if unknown */
    int level;  /* how many blocks are around it */
    bool comma_at_end; /* what follows lets a list end in a comma */
} FormatPlace;

/** Columns of a text: characters, not bytes. */
size_t format_width(Str text);
void format_indent(Buf *to, int level);
/** A comment, or a text of which nothing could be made: without blanks behind it, its line ends LF alone. */
void format_as_it_stands(Buf *to, const Tree *tree, NodeId id);

/**
 * Whether a statement's terms are to be set anew. False for a mistake that shows without the model: it is
 * written as it stands, so that what `check` says of it stays true.
 */
bool format_statement_reads(const Tree *tree, NodeId statement, KindId inside);
/** Appends the terms of a statement without its block on one line; false if that cannot be. */
bool format_statement_on_a_line(Buf *to, const Tree *tree, NodeId statement, KindId inside);
/**
 * Appends the terms of a statement without its block, on as many lines as they need; comments between the
 * members of a list included. The indent of the first line stands already.
 */
void format_statement(Buf *to, const Tree *tree, NodeId statement, FormatPlace place);
/** Whether a comment stands between the terms of the statement before it. */
bool format_comment_is_inside(const Tree *tree, NodeId statement, NodeId comment);

/**
 * Whether two blocks (of statements, or of files) say the same: the same statements, terms and comments,
 * wherever they stand. 0 if they do, else the node of `a` where they first differ.
 */
NodeId format_difference(const Tree *a, NodeId a_owner, const Tree *b, NodeId b_owner);

#endif
