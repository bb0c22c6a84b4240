/*
 * The statements of the language that are not properties: which word begins which, and the form that each must have.
 */
#ifndef GARBOARD_SYNTAX_STATEMENT_H
#define GARBOARD_SYNTAX_STATEMENT_H

#include "syntax/tree.h"
#include "text/message.h"

/** The statement that a first word begins outside of a thing; NODE_THING for any other word. */
NodeKind statement_kind(Str first_word);

/**
 * Whether the terms of a statement have the form that its kind asks for; tells what is wrong with the first that has
 * not (of a thing without a name only by NODE_NAMELESS). Properties are always right here: their shape is in the schema.
 */
bool statement_check(const Tree *tree, NodeId statement, bool block_follows, Messages *messages);

/** How each statement is written, for the manual: index by NodeKind; NULL for what is no statement. */
const char *statement_form(NodeKind kind);

#endif
