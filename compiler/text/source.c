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

Source *sources_search(const Sources *sources, uint32_t offset)
{
    uint32_t low = 0;
    uint32_t high = sources->count;
    assert(high > 0);
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

/* Lines are counted by stretches of so many bytes. */
enum { STRETCH = 128 };

static uint32_t line_ends_in(const char text[static STRETCH])
{
    uint8_t count = 0; /* as small as can be: so they are counted many at once */
    for (size_t i = 0; i < STRETCH; i++) {
        count = (uint8_t)(count + (text[i] == '\n'));
    }
    return count;
}

static void count_lines(const Sources *sources, Source *source)
{
    uint32_t stretches = source->length / STRETCH;
    source->lines_before = ARENA_ARRAY(sources->arena, uint32_t, stretches + 1);
    for (uint32_t i = 0; i < stretches; i++) {
        source->lines_before[i + 1] = source->lines_before[i] + line_ends_in(source->text + (size_t)i * STRETCH);
    }
}

/* How many lines end before an offset of this source. */
static uint32_t lines_before(const Source *source, uint32_t offset)
{
    uint32_t lines = source->lines_before[offset / STRETCH];
    for (uint32_t i = offset - offset % STRETCH; i < offset; i++) {
        lines += source->text[i] == '\n';
    }
    return lines;
}

/* Where the line begins in which an offset of this source lies. */
static uint32_t line_start(const Source *source, uint32_t offset)
{
    while (offset > 0 && source->text[offset - 1] != '\n') {
        offset--;
    }
    return offset;
}

Place source_place(const Sources *sources, uint32_t offset)
{
    Source *source = sources_find(sources, offset);
    if (source->lines_before == NULL) {
        count_lines(sources, source);
    }
    offset -= source->base;
    uint32_t column = 1;
    for (uint32_t i = line_start(source, offset); i < offset; i++) {
        column += ((unsigned char)source->text[i] & 0xC0u) != 0x80u;
    }
    return (Place){.source = source, .line = lines_before(source, offset) + 1, .column = column};
}

Str source_line(const Sources *sources, uint32_t offset)
{
    Source *source = sources_find(sources, offset);
    offset -= source->base;
    if (!source->line_is_known || offset < source->line_start || offset > source->line_end) { /* a line of a million mistakes is measured once */
        source->line_start = source->line_end = line_start(source, offset);
        while (source->line_end < source->length && source->text[source->line_end] != '\n') {
            source->line_end++;
        }
        source->line_is_known = true;
    }
    uint32_t start = source->line_start, end = source->line_end;
    if (end > start && source->text[end - 1] == '\r') {
        end--;
    }
    return (Str){source->text + start, end - start};
}
