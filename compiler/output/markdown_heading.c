/*
 * Headings of the Markdown writer, and the ids by which links find them. A part of its own because viewers
 * make ids from the words of a heading: the writer has to know theirs to tell whether they will do.
 */
#include "output/markdown.h"

#include <assert.h>
#include <string.h>

struct MarkdownAnchor {
    MarkdownAnchor *next;
    const char *id;
};

/* The id that a viewer derives; it may be empty. */
static const char *derive_id(Arena *arena, Str text)
{
    Buf id;
    buf_init(&id, arena);
    for (size_t i = 0; i < text.length; i++) {
        char c = text.text[i];
        if (c >= 'A' && c <= 'Z') {
            buf_char(&id, (char)(c - 'A' + 'a'));
        } else if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-' || c == '_') {
            buf_char(&id, c);
        } else if (c == ' ') {
            buf_char(&id, '-');
        }
    }
    return id.text;
}

const char *markdown_id(Arena *arena, Str text)
{
    const char *id = derive_id(arena, text);
    return *id != '\0' ? id : "section";
}

static bool is_used(const Markdown *md, const char *id)
{
    for (const MarkdownAnchor *anchor = md->anchors; anchor; anchor = anchor->next) {
        if (strcmp(anchor->id, id) == 0) {
            return true;
        }
    }
    return false;
}

static void add_anchor(Markdown *md, const char *id)
{
    MarkdownAnchor *anchor = ARENA_NEW(md->buf->arena, MarkdownAnchor);
    *anchor = (MarkdownAnchor){md->anchors, str_copy(md->buf->arena, str_from(id))};
    md->anchors = anchor;
}

static void write_anchor(Markdown *md, const char *id)
{
    assert(strpbrk(id, " \t\r\n\"&<>") == NULL);
    buf_text(md->buf, "<a id=\"");
    buf_text(md->buf, id);
    buf_text(md->buf, "\"></a>");
}

/*
 * Does a heading of this text get this id from viewers? With characters beyond ASCII, or blanks at its ends,
 * that is not certain enough.
 */
static bool is_derived(const Markdown *md, Str text, const char *derived, const char *id)
{
    if (text.length == 0 || text.text[0] == ' ' || text.text[text.length - 1] == ' ') {
        return false;
    }
    for (size_t i = 0; i < text.length; i++) {
        if (text.text[i] < ' ' || text.text[i] > '~') {
            return false;
        }
    }
    return strcmp(derived, id) == 0 && !is_used(md, derived);
}

void markdown_heading(Markdown *md, unsigned level, Str text, const char *id)
{
    assert(level >= 1 && level <= 6);
    const char *derived = derive_id(md->buf->arena, text);
    markdown_paragraph(md);
    buf_add(md->buf, (Str){"###### ", level});
    buf_char(md->buf, ' ');
    if (id && !is_derived(md, text, derived, id) && !is_used(md, id)) {
        write_anchor(md, id);
        add_anchor(md, id);
    }
    if (!is_used(md, derived)) {
        add_anchor(md, derived);
    }
    md->start = md->buf->length;
    markdown_text(md, text);
}
