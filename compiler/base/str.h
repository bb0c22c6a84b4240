/*
 * Text as pointer and length: a view into a source, a literal, or text in the arena. Never owns, need not
 * end in NUL.
 */
#ifndef GARBOARD_BASE_STR_H
#define GARBOARD_BASE_STR_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

typedef struct Str {
    const char *text;
    size_t length;
} Str;

/** A Str of a string literal. */
#define STR(literal) ((Str){(literal), sizeof(literal) - 1})

/** For printf: printf("%.*s", STR_ARG(s)). */
#define STR_ARG(s) (int)(s).length, (s).text

Str str_from(const char *text); /* of a NUL-terminated text; NULL gives the empty Str */
static inline bool str_equal(Str a, Str b)
{
    return a.length == b.length && (a.length == 0 || memcmp(a.text, b.text, a.length) == 0);
}
/** Here, so that the length of a literal is known when compiling. */
static inline bool str_is(Str s, const char *literal)
{
    return str_equal(s, (Str){literal, strlen(literal)});
}
/** The same of a row of a table, which is mostly another one: few begin with the same letter. False of an empty s. */
static inline bool str_is_row(Str s, const char *row)
{
    return s.length > 0 && s.text[0] == row[0] && str_is(s, row);
}
/* ASCII alone, whatever the locale. */
static inline bool char_is_capital(char c)
{
    return c >= 'A' && c <= 'Z';
}
static inline char char_lower(char c)
{
    return char_is_capital(c) ? (char)(c - 'A' + 'a') : c;
}
static inline bool char_is_letter(char c)
{
    return char_lower(c) >= 'a' && char_lower(c) <= 'z';
}
static inline bool char_is_digit(char c)
{
    return c >= '0' && c <= '9';
}
int str_compare(Str a, Str b); /* bytewise; <0, 0, >0 */
bool str_starts(Str s, const char *prefix);
/** A NUL-terminated copy in the arena. */
const char *str_copy(Arena *arena, Str s);

/* Interned words: comparing two is comparing two numbers. */
typedef uint32_t Symbol; /* 0 is no word */

typedef struct Symbols Symbols;

Symbols *symbols_new(Arena *arena);
/** The symbol of a word; the text must outlive the table (it is not copied). */
Symbol symbols_intern(Symbols *symbols, Str word);
/** The symbol of a word if it is known, else 0. */
Symbol symbols_find(const Symbols *symbols, Str word);
Str symbols_text(const Symbols *symbols, Symbol symbol);
/** One more than the greatest symbol in use. */
Symbol symbols_end(const Symbols *symbols);

#endif
