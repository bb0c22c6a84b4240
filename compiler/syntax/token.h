/*
 * The tokens of the language, and the lexer (grammar/lexer.re) that finds them. The lexer reports what is wrong with
 * a token itself and hands on TOKEN_BAD, on which the parser stays silent.
 */
#ifndef GARBOARD_SYNTAX_TOKEN_H
#define GARBOARD_SYNTAX_TOKEN_H

#include "text/message.h"
#include "text/source.h"

typedef enum TokenKind {
    /* what ends a statement */
    TOKEN_END,
    TOKEN_NEWLINE,
    TOKEN_COMMENT,    /* from # to the end of the line; or what a merge has left, which was told */
    TOKEN_SEMICOLON,
    TOKEN_OPEN,
    TOKEN_CLOSE,
    TOKEN_BAD,        /* reported */
    /* terms, in the order of their nodes (tree.h) */
    TOKEN_WORD,
    TOKEN_NUMBER,
    TOKEN_TEXT,       /* "...", quotes included */
    TOKEN_LONG_TEXT,  /* between lines of three quotes, those included */
    TOKEN_DATE,
    TOKEN_CLOCK,
    TOKEN_PERCENT,
    TOKEN_SLASH,
    TOKEN_TO,         /* .. */
    TOKEN_TOLERANCE,  /* +/- */
    TOKEN_AT_LEAST,   /* >= */
    TOKEN_AT_MOST,    /* <= */
    TOKEN_HOLE,       /* ? */
    TOKEN_COMMA,
    TOKEN_DOT,
} TokenKind;

typedef struct Token {
    TokenKind kind;
    Span span;
} Token;

typedef struct Lexer {
    const Source *source;
    Messages *messages;
    const unsigned char *at; /* next byte; the text ends in NUL, which is the sentinel */
    uintptr_t zero;          /* the address that the common offset 0 would have, were it of this text */
    bool none_closes;        /* no line of three quotes stands in the rest of the text */
    bool conflict;           /* what is read is the first of two sides that a merge has left */
    uint32_t merge_lines;    /* lines that a merge has left, passed until now */
    Token token;             /* the last one that was read */
    const unsigned char *bracket; /* the last `(` or `[` that was told, and is not closed; NULL: none */
    uint32_t mended_at;      /* where the last word began that was told, and stands for `mended` */
    Str mended;              /* empty: there was none */
} Lexer;

void lexer_init(Lexer *lexer, const Source *source, Messages *messages);
/** Reads one token into lexer->token; its kind. */
TokenKind lexer_next(Lexer *lexer);

#endif
