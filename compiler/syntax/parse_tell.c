/* What the parser tells: see parser.h. */
#include "syntax/parse.h"
#include "syntax/parser.h"

void parser_tell_too_many(Parser *p, int most)
{
    Message *m = message_report(p->messages, MESSAGE_STATEMENT_FORM, p->lexer.token.span,
                                "a statement of more than %d terms is more than anybody can mean", most);
    message_right(p->messages, m, "several statements");
}

void parser_tell_misplaced(Parser *p, NodeId statement, const char *right)
{
    Message *m = message_report(p->messages, MESSAGE_MISPLACED, tree_span(p->tree, statement + 1),
                                "`%.*s` cannot stand here", STR_ARG(tree_text(p->tree, statement + 1)));
    message_right(p->messages, m, "%s", right);
    tree_node(p->tree, statement)->flags |= NODE_BAD;
}

void parser_tell_never_closed(Parser *p, Span open)
{
    Message *m = message_report(p->messages, MESSAGE_BRACE_OPEN, open, "this block is never closed");
    Span comment = parser_comment_in_block(p, open);
    if (comment.end > comment.start) {
        message_note(p->messages, m, comment, "`#` begins a comment: the brace behind it is not read");
        message_right(p->messages, m, "no `#` in front of what is to be read");
    } else if (p->lexer.token.kind == TOKEN_WORD) {
        message_note(p->messages, m, p->lexer.token.span, "a new block begins here");
        message_right(p->messages, m, "a line `}` before it");
    } else {
        message_right(p->messages, m, "a line `}` where it ends");
    }
}

void parser_tell_no_block(Parser *p, NodeId statement)
{
    Message *m = message_report(p->messages, MESSAGE_BLOCK_HERE, p->lexer.token.span, "`%.*s` takes no block",
                                STR_ARG(tree_text(p->tree, statement + 1)));
    message_right(p->messages, m, "a line of its own for each statement, without braces");
    tree_node(p->tree, statement)->flags |= NODE_BAD;
}

void parser_tell_too_deep(Parser *p, NodeId statement)
{
    Message *m = message_report(p->messages, MESSAGE_TOO_DEEP, p->lexer.token.span,
                                "blocks are nested more than %d deep here; nothing in a boat is", PARSE_DEPTH);
    message_right(p->messages, m, "things beside each other; they refer to each other by name");
    tree_node(p->tree, statement)->flags |= NODE_BAD;
}

void parser_tell_brace_alone(Parser *p)
{
    Message *m = message_report(p->messages, MESSAGE_BRACE_PLACE, p->lexer.token.span,
                                "an opening brace stands at the end of the line that its block belongs to");
    message_right(p->messages, m, "`{` at the end of the line above");
}

void parser_tell_after_brace(Parser *p)
{
    Message *m = message_report(p->messages, MESSAGE_BRACE_PLACE, p->lexer.token.span,
                                "after a closing brace the line ends");
    message_right(p->messages, m,
                  p->lexer.token.kind == TOKEN_SLASH ? "`#` before a comment" : "a new line, or `;` inside of a short block");
}

/* A text as the first of a block: the title, which stands in the line that opens it. False: that one has a title, or may not. */
static bool right_title(Parser *p, NodeId block, Message *m)
{
    const Node *owner = tree_node(p->tree, block);
    bool header = owner->kind == NODE_THING || owner->kind == NODE_PART || owner->kind == NODE_CHOICE || owner->kind == NODE_OPTION;
    if (!header || owner->terms < 2 || tree_kind(p->tree, block + owner->terms) != NODE_WORD) {
        return false;
    }
    message_right(p->messages, m, "`%.*s %.*s {`, if that is its title; `note` before it, if it is a remark",
                  STR_ARG(span_text(p->tree->sources, tree_span(p->tree, block))),
                  STR_ARG(span_text(p->tree->sources, p->lexer.token.span)));
    return true;
}

void parser_tell_no_word(Parser *p, NodeId block, bool first)
{
    Message *m = message_report(p->messages, MESSAGE_STATEMENT_START, p->lexer.token.span,
                                "a statement begins with a word, not with `%.*s`",
                                STR_ARG(span_text(p->tree->sources, p->lexer.token.span)));
    bool text = p->lexer.token.kind == TOKEN_TEXT || p->lexer.token.kind == TOKEN_LONG_TEXT;
    if (first && p->lexer.token.kind == TOKEN_TEXT && right_title(p, block, m)) {
        return;
    }
    NodeId comma = first || text ? 0 : tree_list_before(p->tree, p->tree->count, p->lexer.token.span.start);
    if (comma != 0) {
        message_note(p->messages, m, tree_span(p->tree, comma), "a blank line ends this list");
        message_right(p->messages, m, "no blank line between, if `%.*s` belongs to that list",
                      STR_ARG(span_text(p->tree->sources, p->lexer.token.span)));
        return;
    }
    message_right(p->messages, m, "%s",
                  text                                 ? "`note \"...\"` for a remark, or `#` before a comment"
                  : p->lexer.token.kind == TOKEN_SLASH ? "`#` before a comment"
                                                       : "a property or a kind of thing in first place, or `#` before a comment");
}
