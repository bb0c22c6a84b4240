/*
 * What the lexer (grammar/lexer.re) hands on because it takes a second look: tokens whose inside is asked for, and text that is
 * no token. Private to the lexer. Apart from it, because the few tokens of this sort would slow down all others.
 */
#ifndef GARBOARD_SYNTAX_LEXER_H
#define GARBOARD_SYNTAX_LEXER_H

#include "syntax/token.h"

#include <string.h>

static inline Span lexer_span(const Lexer *lexer, const unsigned char *from, const unsigned char *to)
{
    return (Span){(uint32_t)((uintptr_t)from - lexer->zero), (uint32_t)((uintptr_t)to - lexer->zero)};
}

/** What stands there, as it stands. */
static inline Str lexer_text(const unsigned char *from, const unsigned char *to)
{
    return (Str){(const char *)from, (size_t)(to - from)};
}

/** The token is that from `from` to where the lexer is. */
static inline TokenKind lexer_token(Lexer *lexer, TokenKind kind, const unsigned char *from)
{
    lexer->token = (Token){kind, lexer_span(lexer, from, lexer->at)};
    return kind;
}

/** Whether the text ends here, and not with a NUL in the middle of it. */
static inline bool lexer_at_end(const Lexer *lexer, const unsigned char *at)
{
    return at >= (const unsigned char *)lexer->source->text + lexer->source->length;
}

/** Where the line ends that goes on at a place: at its newline, or at the end of the text. */
static inline const unsigned char *lexer_line_end(const Lexer *lexer, const unsigned char *at)
{
    const unsigned char *end = (const unsigned char *)lexer->source->text + lexer->source->length;
    const unsigned char *newline = memchr(at, '\n', (size_t)(end - at));
    return newline != NULL ? newline : end;
}

/** The length of a hyphen as word processors write it (2010 to 2014, the minus sign, the soft hyphen); 0: it is none. */
static inline size_t lexer_hyphen_length(const unsigned char *at)
{
    bool dash = at[0] == 0xE2 && at[1] == 0x80 && at[2] >= 0x90 && at[2] <= 0x94;
    bool minus = at[0] == 0xE2 && at[1] == 0x88 && at[2] == 0x92;
    bool soft = at[0] == 0xC2 && at[1] == 0xAD;
    return dash || minus ? 3 : soft ? 2 : 0;
}

/** The text with every `from` in it replaced, in the messages' memory. */
const char *lexer_with_other_mark(const Lexer *lexer, Str text, char from, char to);
/** Goes on behind a line of which nothing can be read, from its first mistake on: one mistake, one message. */
void lexer_skip_spoilt_line(Lexer *lexer, const unsigned char *from);

/** Each looks at what lies between `from` and where the lexer is: a token, or TOKEN_BAD after a message. */
typedef TokenKind LexerLook(Lexer *lexer, const unsigned char *from);
LexerLook lexer_date, lexer_clock, lexer_escaped_text, lexer_long_text;
LexerLook lexer_clocks_with_dash, lexer_number_with_comma, lexer_number_with_points, lexer_number_with_apostrophe,
    lexer_number_with_quote, lexer_marks, lexer_text_open, lexer_long_text_on_a_line, lexer_strange, lexer_strange_word,
    lexer_date_with_dashes, lexer_number_with_dash;

/**
 * Passes a line that a merge has left, and tells it: once for both sides and what parts them. Of the two sides the first is read,
 * with `conflict` set meanwhile, and the other one passed with the line before it. Returns where that ends, before the end of its
 * line; NULL if the line is none of these. `in_text`: it stands in a text between lines of three quotes.
 */
const unsigned char *lexer_merge_line(Lexer *lexer, const unsigned char *line, bool in_text);

#endif
