/* See source.h. */
#include "text/source.h"

#include <assert.h>
#include <string.h>

void sources_init(Sources *sources, Arena *arena)
{
    *sources = (Sources){.arena = arena, .recent = ARENA_NEW(arena, Source *)};
}

Source *sources_add(Sources *sources, Str name, char *text, size_t length)
{
    if (length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0) {
        text += 3;
        length -= 3;
    }
    /* One offset more than the length, so that the end of one text is not the start of the next. */
    if (length >= UINT32_MAX - sources->end - 1) {
        return NULL;
    }
    if (sources->count == sources->capacity) {
        uint32_t capacity = sources->capacity ? sources->capacity * 2 : 16;
        sources->list = arena_grow(sources->arena, sources->list, sources->capacity * sizeof(Source *),
                                   capacity * sizeof(Source *));
        sources->capacity = capacity;
    }
    Source *source = ARENA_NEW(sources->arena, Source);
    *source = (Source){.name = name, .text = text, .base = sources->end, .length = (uint32_t)length};
    sources->list[sources->count++] = source;
    *sources->recent = source;
    sources->end += (uint32_t)length + 1;
    return source;
}

Source *sources_find(const Sources *sources, uint32_t offset)
{
    uint32_t low = 0;
    uint32_t high = sources->count;
    assert(high > 0);
    const Source *recent = *sources->recent;
    if (offset >= recent->base && offset - recent->base <= recent->length) {
        return *sources->recent;
    }
    while (high - low > 1) {
        uint32_t middle = low + (high - low) / 2;
        if (sources->list[middle]->base <= offset) {
            low = middle;
        } else {
            high = middle;
        }
    }
    *sources->recent = sources->list[low];
    return sources->list[low];
}

static void find_lines(const Sources *sources, Source *source)
{
    const char *end = source->text + source->length;
    uint32_t count = 1;
    for (const char *c = source->text; (c = memchr(c, '\n', (size_t)(end - c))) != NULL; c++) {
        count++;
    }
    source->lines = ARENA_ARRAY(sources->arena, uint32_t, count);
    source->line_count = count;
    uint32_t line = 1;
    for (const char *c = source->text; (c = memchr(c, '\n', (size_t)(end - c))) != NULL; c++) {
        source->lines[line++] = (uint32_t)(c - source->text) + 1;
    }
}

/* Index of the line in which an offset of this source lies. */
static uint32_t line_of(const Source *source, uint32_t offset)
{
    uint32_t low = 0;
    uint32_t high = source->line_count;
    while (high - low > 1) {
        uint32_t middle = low + (high - low) / 2;
        if (source->lines[middle] <= offset) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return low;
}

Place source_place(const Sources *sources, uint32_t offset)
{
    Source *source = sources_find(sources, offset);
    if (source->lines == NULL) {
        find_lines(sources, source);
    }
    offset -= source->base;
    uint32_t line = line_of(source, offset);
    uint32_t column = 1;
    for (uint32_t i = source->lines[line]; i < offset && i < source->length; i++) {
        column += ((unsigned char)source->text[i] & 0xC0u) != 0x80u;
    }
    return (Place){.source = source, .line = line + 1, .column = column};
}

Str span_text(const Sources *sources, Span span)
{
    const Source *source = sources_find(sources, span.start);
    return (Str){source->text + (span.start - source->base), span.end - span.start};
}

Str source_line(const Sources *sources, const Source *source, uint32_t line)
{
    if (source->lines == NULL) {
        find_lines(sources, sources_find(sources, source->base));
    }
    assert(line >= 1 && line <= source->line_count);
    uint32_t start = source->lines[line - 1];
    uint32_t end = line < source->line_count ? source->lines[line] - 1 : source->length;
    if (end > start && source->text[end - 1] == '\r') {
        end--;
    }
    return (Str){source->text + start, end - start};
}

static bool is_tail(unsigned char c)
{
    return (c & 0xC0u) == 0x80u;
}

size_t utf8_length(const unsigned char *text, size_t left)
{
    unsigned char c = text[0];
    if (c < 0x80u) {
        return 1;
    }
    if (c >= 0xC2u && c <= 0xDFu) {
        return left >= 2 && is_tail(text[1]) ? 2 : 0;
    }
    if ((c & 0xF0u) == 0xE0u) {
        if (left < 3 || !is_tail(text[1]) || !is_tail(text[2])) {
            return 0;
        }
        bool overlong = c == 0xE0u && text[1] < 0xA0u;
        bool surrogate = c == 0xEDu && text[1] >= 0xA0u;
        return overlong || surrogate ? 0 : 3;
    }
    if (c >= 0xF0u && c <= 0xF4u) {
        if (left < 4 || !is_tail(text[1]) || !is_tail(text[2]) || !is_tail(text[3])) {
            return 0;
        }
        bool overlong = c == 0xF0u && text[1] < 0x90u;
        bool beyond = c == 0xF4u && text[1] >= 0x90u;
        return overlong || beyond ? 0 : 4;
    }
    return 0;
}

size_t utf8_first_bad(const char *text, size_t length, size_t from)
{
    size_t i = from;
    while (i < length) {
        uint64_t eight;
        if (i + 8 <= length && (memcpy(&eight, text + i, 8), (eight & 0x8080808080808080u) == 0)) {
            i += 8;
            continue;
        }
        size_t step = utf8_length((const unsigned char *)text + i, length - i);
        if (step == 0) {
            return i;
        }
        i += step;
    }
    return length;
}
