/*
 * Growing text in an arena. Knows nothing of what is written; real numbers come through base/num.h.
 */
#include "base/buf.h"

#include <assert.h>
#include <stdarg.h>
#include <stdbool.h>
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

/* Where formatted text goes: what does not fit is counted all the same. */
typedef struct Sink {
    char *text;
    size_t room;
    size_t length;
} Sink;

static void put(Sink *sink, const char *text, size_t length)
{
    if (length > 0 && sink->length + length < sink->room) {
        memcpy(sink->text + sink->length, text, length);
    }
    sink->length += length;
}

static void put_number(Sink *sink, unsigned number, bool negative)
{
    char digits[16];
    size_t at = sizeof digits;
    do {
        digits[--at] = (char)('0' + number % 10);
        number /= 10;
    } while (number > 0);
    if (negative) {
        digits[--at] = '-';
    }
    put(sink, digits + at, sizeof digits - at);
}

/*
 * The handful of directives that nearly every text is made of, several times as fast as the C library's general ones:
 * %s, %.*s, %c, %u, %d and %%. False at any other.
 */
__attribute__((format(printf, 2, 0)))
static bool format_plainly(Sink *sink, const char *format, va_list arguments)
{
    for (;;) {
        size_t plain = 0; /* a few letters mostly: strcspn costs more than they do */
        while (format[plain] != '%' && format[plain] != '\0') {
            plain++;
        }
        put(sink, format, plain);
        format += plain;
        if (*format == '\0') {
            return true;
        }
        if (format[1] == '.' && format[2] == '*' && format[3] == 's') {
            int length = va_arg(arguments, int);
            const char *text = va_arg(arguments, const char *);
            put(sink, text, length > 0 ? (size_t)length : 0);
            format += 4;
            continue;
        }
        switch (format[1]) {
        case 's': {
            const char *text = va_arg(arguments, const char *);
            put(sink, text, strlen(text));
            break;
        }
        case 'c': put(sink, &(char){(char)va_arg(arguments, int)}, 1); break;
        case 'u': put_number(sink, va_arg(arguments, unsigned), false); break;
        case 'd': {
            int number = va_arg(arguments, int);
            put_number(sink, number < 0 ? 0u - (unsigned)number : (unsigned)number, number < 0);
            break;
        }
        case '%': put(sink, "%", 1); break;
        default: return false;
        }
        format += 2;
    }
}

/* Whether a directive writes a real number: it would be written as the locale of the program around this one has it. */
static bool writes_real(const char *format)
{
    while ((format = strchr(format, '%')) != NULL) {
        format += 1 + strspn(format + 1, "-+ #0123456789.*hlLjzt");
        if (*format == '\0' || strchr("aAeEfFgG", *format) != NULL) {
            return true;
        }
        format++;
    }
    return false;
}

/* As vsnprintf, into `room` bytes: the length of the whole text, of which what fits is written if all of it does. */
__attribute__((format(printf, 3, 0)))
static size_t format_into(char *text, size_t room, const char *format, va_list arguments)
{
    va_list again;
    va_copy(again, arguments);
    Sink sink = {.text = text, .room = room};
    if (!format_plainly(&sink, format, arguments)) {
        assert(!writes_real(format));
        int length = vsnprintf(text, room, format, again);
        sink.length = length > 0 ? (size_t)length : 0;
    }
    va_end(again);
    if (sink.length < room) {
        text[sink.length] = '\0';
    }
    return sink.length;
}

__attribute__((format(printf, 2, 0)))
static void add_formatted(Buf *buf, const char *format, va_list arguments)
{
    va_list again;
    va_copy(again, arguments);
    size_t room = buf->capacity - buf->length;
    size_t length = format_into(buf->text + buf->length, room, format, arguments);
    if (length >= room) {
        reserve(buf, length);
        length = format_into(buf->text + buf->length, buf->capacity - buf->length, format, again);
    }
    va_end(again);
    buf->length += length;
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
    size_t length = format_into(first_try, sizeof first_try, format, arguments);
    char *text = arena_alloc(arena, length + 1);
    if (length < sizeof first_try) {
        memcpy(text, first_try, length + 1);
    } else {
        format_into(text, length + 1, format, again);
    }
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
