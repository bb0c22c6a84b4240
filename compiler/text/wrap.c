/* See wrap.h. */
#include "text/wrap.h"

#include "text/snippet.h"

#include <string.h>

/* Behind a colour's escape sequence that begins there; else the same place. */
static const char *skip_colour(const char *at, const char *end)
{
    if (end - at < 2 || at[0] != '\x1b' || at[1] != '[') {
        return at;
    }
    const char *last = memchr(at, 'm', (size_t)(end - at));
    return last != NULL ? last + 1 : at;
}

/* Columns of a stretch; its colours take none. */
static int columns_of(const char *at, const char *end)
{
    int columns = 0;
    while (at < end) {
        const char *behind = skip_colour(at, end);
        if (behind == at) {
            const char *next = memchr(at + 1, '\x1b', (size_t)(end - at - 1));
            behind = next != NULL ? next : end;
            columns += snippet_columns(at, behind);
        }
        at = behind;
    }
    return columns;
}

/* "   48 |   wire 2.5 mm2", and what is drawn under it. */
static bool is_drawing(const char *at, const char *end)
{
    const char *start = at;
    while (at < end) {
        const char *behind = skip_colour(at, end);
        if (behind == at && strchr(" 0123456789", *at) == NULL) {
            break;
        }
        at = behind > at ? behind : at + 1;
    }
    return at > start && at < end && *at == '|';
}

/* The end of the word that begins there; what stands in backquotes is one, unless it is wider than `most`. */
static const char *word_end(const char *at, const char *end, int most)
{
    const char *start = at;
    while (at < end && *at != ' ') {
        const char *close = *at == '`' ? memchr(at + 1, '`', (size_t)(end - at - 1)) : NULL;
        at = close != NULL && columns_of(start, close + 1) <= most ? close + 1 : at + 1;
    }
    return at;
}

static Str stretch(const char *at, const char *end)
{
    return (Str){at, (size_t)(end - at)};
}

static void wrap_line(Buf *to, const char *at, const char *end, int columns)
{
    int used = 0;
    bool has_words = false;
    while (at < end) {
        const char *word = at;
        while (word < end && *word == ' ') {
            word++;
        }
        const char *behind = word_end(word, end, columns - WRAP_INDENT);
        int width = columns_of(word, behind);
        int blanks = (int)(word - at);
        if (has_words && used + blanks + width > columns) {
            buf_format(to, "\n%*s", WRAP_INDENT, "");
            used = WRAP_INDENT;
        } else {
            buf_add(to, stretch(at, word));
            used += blanks;
        }
        buf_add(to, stretch(word, behind));
        used += width;
        has_words = true;
        at = behind;
    }
}

void text_wrap(Buf *to, Str text, int columns)
{
    const char *at = text.text;
    const char *end = text.text + text.length;
    while (at < end) {
        const char *line_end = memchr(at, '\n', (size_t)(end - at));
        line_end = line_end != NULL ? line_end : end;
        if (columns_of(at, line_end) <= columns || is_drawing(at, line_end)) {
            buf_add(to, stretch(at, line_end));
        } else {
            wrap_line(to, at, line_end, columns);
        }
        buf_text(to, line_end < end ? "\n" : "");
        at = line_end < end ? line_end + 1 : end;
    }
}
