/*
 * Growing text in an arena. Knows nothing of what is written; real numbers come through base/num.h.
 */
#include "base/buf.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum {
    FIRST_CAPACITY = 64,
    LAST_DOUBLING = 1024 * 1024 /* beyond, half as much again: a big text leaves less unused */
};

void buf_init(Buf *buf, Arena *arena)
{
    *buf = (Buf){arena, arena_alloc(arena, FIRST_CAPACITY), 0, FIRST_CAPACITY};
}

/* Makes room for `extra` more bytes and the NUL behind them. */
static void reserve(Buf *buf, size_t extra)
{
    size_t needed = buf->length + extra + 1;
    if (needed <= buf->capacity) {
        return;
    }
    size_t capacity = buf->capacity < LAST_DOUBLING ? buf->capacity * 2 : buf->capacity + buf->capacity / 2;
    if (capacity < needed) {
        capacity = needed;
    }
    buf->text = arena_grow(buf->arena, buf->text, buf->capacity, capacity);
    buf->capacity = capacity;
}

void buf_add(Buf *buf, Str s)
{
    if (s.length == 0) {
        return;
    }
    reserve(buf, s.length);
    memcpy(buf->text + buf->length, s.text, s.length);
    buf->length += s.length;
    buf->text[buf->length] = '\0';
}

void buf_text(Buf *buf, const char *text)
{
    buf_add(buf, str_from(text));
}

void buf_char(Buf *buf, char c)
{
    reserve(buf, 1);
    buf->text[buf->length++] = c;
    buf->text[buf->length] = '\0';
}

__attribute__((format(printf, 2, 0)))
static void add_formatted(Buf *buf, const char *format, va_list arguments)
{
    va_list again;
    va_copy(again, arguments);
    size_t room = buf->capacity - buf->length;
    int length = vsnprintf(buf->text + buf->length, room, format, arguments);
    if (length >= 0 && (size_t)length >= room) {
        reserve(buf, (size_t)length);
        length = vsnprintf(buf->text + buf->length, buf->capacity - buf->length, format, again);
    }
    va_end(again);
    if (length > 0) {
        buf->length += (size_t)length;
    }
    buf->text[buf->length] = '\0';
}

void buf_format(Buf *buf, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    add_formatted(buf, format, arguments);
    va_end(arguments);
}

Str buf_str(const Buf *buf)
{
    return (Str){buf->text, buf->length};
}

const char *text_format_list(Arena *arena, const char *format, va_list arguments)
{
    char first_try[256]; /* holds most texts, so that the arena keeps no more than the text */
    va_list again;
    va_copy(again, arguments);
    int length = vsnprintf(first_try, sizeof first_try, format, arguments);
    if (length < (int)sizeof first_try) {
        va_end(again);
        return str_copy(arena, (Str){first_try, length > 0 ? (size_t)length : 0});
    }
    char *text = arena_alloc(arena, (size_t)length + 1);
    vsnprintf(text, (size_t)length + 1, format, again);
    va_end(again);
    return text;
}

const char *text_format(Arena *arena, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    const char *text = text_format_list(arena, format, arguments);
    va_end(arguments);
    return text;
}
