/*
 * The texts of a compilation, and how a place in them is told.
 *
 * Every text (a file, or the text of a default) occupies a stretch of one common range of offsets, so a place is one
 * 32-bit number wherever it is. Lines and columns exist only when a place is printed.
 */
#ifndef GARBOARD_TEXT_SOURCE_H
#define GARBOARD_TEXT_SOURCE_H

#include "base/arena.h"
#include "base/str.h"
#include "base/utf8.h"

#include <stdbool.h>
#include <stdint.h>

/** Where something stands: bytes start..end of the common range; start == end marks a spot between bytes. */
typedef struct Span {
    uint32_t start;
    uint32_t end;
} Span;

typedef struct Source {
    Str name;            /* as messages print it */
    const char *text;    /* NUL after the last byte; valid UTF-8 */
    uint32_t base;       /* common offset of the first byte */
    uint32_t length;
    uint32_t *lines_before; /* how many lines end before each stretch of the text; made when first needed */
    uint32_t line_start, line_end; /* of the line that was asked for last */
    bool line_is_known;
} Source;

typedef struct Sources {
    Arena *arena;
    Source **list;
    uint32_t count;
    uint32_t capacity;
    uint32_t end;        /* next free common offset */
    Source **recent;     /* where the last offset lay: most questions are about one text after the other */
} Sources;

/** A place as people count it: from 1; columns in characters, a tab as one. */
typedef struct Place {
    const Source *source;
    uint32_t line;
    uint32_t column;
} Place;

void sources_init(Sources *sources, Arena *arena);

/**
 * Adds a text of `length` bytes with a NUL after the last; not copied. A byte-order mark at its start is left out.
 * NULL if the common range (4 GiB) is full.
 */
Source *sources_add(Sources *sources, Str name, char *text, size_t length);

/** The source in which a common offset lies, looked for among all. */
Source *sources_search(const Sources *sources, uint32_t offset);

/** The source in which a common offset lies; offset must lie in one. */
static inline Source *sources_find(const Sources *sources, uint32_t offset)
{
    Source *recent = *sources->recent;
    return offset - recent->base <= recent->length ? recent : sources_search(sources, offset);
}

static inline Str span_text(const Sources *sources, Span span)
{
    const Source *source = sources_find(sources, span.start);
    return (Str){source->text + (span.start - source->base), span.end - span.start};
}

Place source_place(const Sources *sources, uint32_t offset);
/** The line in which an offset lies, without its line end. */
Str source_line(const Sources *sources, uint32_t offset);

#endif
