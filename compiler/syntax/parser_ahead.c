/* See parser.h. */
#include "syntax/parser.h"
#include "syntax/statement.h"

#include <string.h>

static bool begins_line(const Parser *p, uint32_t at)
{
    uint32_t offset = at - p->lexer.source->base;
    return offset == 0 || p->lexer.source->text[offset - 1] == '\n';
}

bool parser_in_first_column(const Parser *p)
{
    return begins_line(p, p->lexer.token.span.start);
}

/* Whether the line at the token looks like `word name ... {`: a new block, whatever is still open. */
static bool line_opens_block(const Parser *p)
{
    Lexer ahead = p->lexer;
    Messages none;
    messages_init(&none, p->messages->arena);
    ahead.messages = &none;
    TokenKind kind = lexer_next(&ahead);
    if (kind != TOKEN_WORD) {
        return false;
    }
    while (kind != TOKEN_NEWLINE && kind != TOKEN_END && kind != TOKEN_COMMENT) {
        if (kind == TOKEN_OPEN) {
            return true;
        }
        kind = lexer_next(&ahead);
    }
    return false;
}

bool parser_must_be_a_new_block(const Parser *p)
{
    return p->unbalanced && p->depth > 0 && parser_in_first_column(p) && line_opens_block(p);
}

bool parser_must_be_a_new_option(const Parser *p)
{
    return statement_kind(span_text(p->tree->sources, p->lexer.token.span)) == NODE_OPTION && line_opens_block(p);
}

bool parser_word_follows(const Parser *p)
{
    Lexer ahead = p->lexer;
    Messages none;
    messages_init(&none, p->messages->arena);
    ahead.messages = &none;
    return lexer_next(&ahead) == TOKEN_WORD;
}

bool parser_block_follows(const Parser *p)
{
    if (p->lexer.token.kind != TOKEN_NEWLINE) {
        return p->lexer.token.kind == TOKEN_OPEN;
    }
    const unsigned char *c = p->lexer.at;
    while (*c == ' ' || *c == '\t' || *c == '\r' || *c == '\n') {
        c++;
    }
    return *c == '{';
}

bool parser_brace_is_forgotten(const Parser *p, uint32_t start)
{
    if (!begins_line(p, start)) {
        return false; /* and where many lines are indented, none looks further than the next that is not */
    }
    Parser ahead = *p;
    Messages none;
    messages_init(&none, p->messages->arena);
    ahead.lexer.messages = &none;
    size_t open = 0;
    bool line_begins = false;
    for (;;) {
        TokenKind kind = ahead.lexer.token.kind;
        bool says_something = kind != TOKEN_CLOSE && kind != TOKEN_COMMENT && kind != TOKEN_NEWLINE;
        if (kind == TOKEN_END || (line_begins && says_something && parser_in_first_column(&ahead))) {
            return false;
        }
        if (kind == TOKEN_CLOSE && open == 0) {
            return true;
        }
        open += kind == TOKEN_OPEN;
        open -= kind == TOKEN_CLOSE;
        line_begins = kind == TOKEN_NEWLINE;
        lexer_next(&ahead.lexer);
    }
}

Span parser_comment_in_block(const Parser *p, Span open)
{
    const char *line = span_text(p->tree->sources, open).text;
    size_t length = strcspn(line, "\n");
    const char *mark = memchr(line, '#', length);
    if (mark == NULL || memchr(mark, '}', length - (size_t)(mark - line)) == NULL) {
        return (Span){0, 0};
    }
    uint32_t at = open.start + (uint32_t)(mark - line);
    return (Span){at, at + 1};
}
