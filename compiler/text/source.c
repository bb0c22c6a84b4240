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

static void find_lines(const Sources *sources, Source *source)
{
    const char *end = source->text + source->length;
    size_t room = source->length / 32 + 16; /* lines are seldom shorter */
    uint32_t *lines = ARENA_ARRAY(sources->arena, uint32_t, room);
    uint32_t count = 1;
    for (const char *c = source->text; (c = memchr(c, '\n', (size_t)(end - c))) != NULL; c++) {
        if (count == room) {
            lines = arena_grow(sources->arena, lines, room * sizeof *lines, 2 * room * sizeof *lines);
            room *= 2;
        }
        lines[count++] = (uint32_t)(c - source->text) + 1;
    }
    source->lines = lines;
    source->line_count = count;
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
