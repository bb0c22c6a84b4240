/* The state of the parser, and what it sees when it looks ahead without going there. Within syntax/ alone. */
#ifndef GARBOARD_SYNTAX_PARSER_H
#define GARBOARD_SYNTAX_PARSER_H

#include "syntax/lexer.h"
#include "syntax/tree.h"

typedef struct Parser {
    Tree *tree;
    Messages *messages;
    Lexer lexer;         /* its token is the one being looked at */
    int depth;           /* blocks that are open */
    bool unbalanced;     /* second try: the braces do not match, so a header in column 1 ends what is open */
    bool never_closed;   /* the file ended inside a block */
    uint32_t told_at;    /* one more than the offset at which an unclosed block was last told; 0: none */
    bool after_blank;    /* a blank line stands before the token's line */
    uint32_t behind;     /* where the last token that was passed ended, line ends aside */
    Span *inside;        /* comments between the members of the list that is being read */
    uint32_t inside_count;
    uint32_t inside_capacity;
} Parser;

/** Whether the token stands in column 1. */
bool parser_in_first_column(const Parser *p);
/** Whether a word in column 1 whose line opens a block ends what is open, for the braces of the file do not match. */
bool parser_must_be_a_new_block(const Parser *p);
/** The same of the word `option` inside of an option, wherever it stands: none may hold one. */
bool parser_must_be_a_new_option(const Parser *p);
/** Whether the token behind the one at hand is a word. */
bool parser_word_follows(const Parser *p);
/** Whether an opening brace comes next; on the next line it is a mistake that is told when it is met. */
bool parser_block_follows(const Parser *p);
/**
 * Whether indented lines and a brace that closes follow a line that begins at `start`, in column 1, and opens none, before
 * anything else begins in column 1.
 */
bool parser_brace_is_forgotten(const Parser *p, uint32_t start);
/** Where a comment takes the closing brace of a short block with it: `wire #10 AWG }`; empty if that is not so. */
Span parser_comment_in_block(const Parser *p, Span open);

/* What it tells (parse_tell.c). */
void parser_tell_too_many(Parser *p, int most);
/** A statement in a place where it has no meaning; it is marked bad. */
void parser_tell_misplaced(Parser *p, NodeId statement, const char *right);
/** A block whose end the file does not hold, or that another block cuts off. */
void parser_tell_never_closed(Parser *p, Span open);
/** The token is a brace, and the statement takes no block, or lies too deep for one; it is marked bad. */
void parser_tell_no_block(Parser *p, NodeId statement);
void parser_tell_too_deep(Parser *p, NodeId statement);
/** The token is an opening brace on a line of its own. */
void parser_tell_brace_alone(Parser *p);
/** The token stands behind a closing brace on its line. */
void parser_tell_after_brace(Parser *p);
/** The token cannot begin a statement; `first`: of the block of that statement nothing has been read yet. */
void parser_tell_no_word(Parser *p, NodeId block, bool first);

#endif
