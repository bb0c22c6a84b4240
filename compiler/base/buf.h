/*
 * Growing text. Lives in an arena; always NUL-terminated, so that buf->text can be handed to C functions.
 */
#ifndef GARBOARD_BASE_BUF_H
#define GARBOARD_BASE_BUF_H

#include "base/arena.h"
#include "base/str.h"

#include <stdarg.h>

typedef struct Buf {
    Arena *arena;
    char *text;
    size_t length;
    size_t capacity;
} Buf;

void buf_init(Buf *buf, Arena *arena);
void buf_add(Buf *buf, Str s);
void buf_text(Buf *buf, const char *text);
void buf_char(Buf *buf, char c);
/** printf for texts and whole numbers only: a real number goes through base/num.h, which knows no locale; asserted. */
void buf_format(Buf *buf, const char *format, ...) __attribute__((format(printf, 2, 3)));
Str buf_str(const Buf *buf);
/** printf into the arena; the same restriction. */
const char *text_format(Arena *arena, const char *format, ...) __attribute__((format(printf, 2, 3)));

/** The same with arguments already taken. */
const char *text_format_list(Arena *arena, const char *format, va_list arguments) __attribute__((format(printf, 2, 0)));

#endif
