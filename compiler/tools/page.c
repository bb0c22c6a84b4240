/* See page.h. */
#include "tools/page.h"

#include "base/utf8.h"
#include "text/snippet.h"

static void put_in(Buf *buf, int columns)
{
    for (int i = 0; i < columns; i++) {
        buf_char(buf, ' ');
    }
}

static int columns_of(Str text)
{
    return (int)utf8_count(text.text, text.length);
}

static void strong(Page *page, Str text)
{
    Colour colour = {page->color};
    colour_begin(page->buf, colour, TINT_STRONG);
    buf_add(page->buf, text);
    colour_end(page->buf, colour, TINT_STRONG);
}

void page_blank(Page *page)
{
    buf_char(page->buf, '\n');
}

void page_heading(Page *page, Str text)
{
    strong(page, text);
    buf_char(page->buf, '\n');
}

static bool is_blank(char c)
{
    return c == ' ' || c == '\n';
}

/* Takes the next word off a text; empty at its end. */
static Str next_word(Str *rest)
{
    while (rest->length > 0 && is_blank(*rest->text)) {
        *rest = (Str){rest->text + 1, rest->length - 1};
    }
    Str word = {rest->text, 0};
    while (word.length < rest->length && !is_blank(word.text[word.length])) {
        word.length++;
    }
    *rest = (Str){rest->text + word.length, rest->length - word.length};
    return word;
}

/* Writes the words of a text from column `at` on; further lines begin at column `indent`. Ends the line. */
static void wrap(Page *page, int indent, int at, Str text)
{
    bool first = true;
    Str word = next_word(&text);
    for (; word.length > 0; word = next_word(&text)) {
        int width = columns_of(word);
        if (!first && at + 1 + width > PAGE_COLUMNS) {
            buf_char(page->buf, '\n');
            put_in(page->buf, indent);
            at = indent;
            first = true;
        }
        if (!first) {
            buf_char(page->buf, ' ');
            at++;
        }
        buf_add(page->buf, word);
        at += width;
        first = false;
    }
    buf_char(page->buf, '\n');
}

void page_title(Page *page, const char *word, Str text)
{
    strong(page, str_from(word));
    buf_text(page->buf, ": ");
    wrap(page, 2, columns_of(str_from(word)) + 2, text);
}

void page_paragraph(Page *page, int indent, Str text)
{
    put_in(page->buf, indent);
    wrap(page, indent, indent, text);
}

void page_entry(Page *page, int indent, int column, Str word, Str text)
{
    int at = indent + columns_of(word);
    put_in(page->buf, indent);
    strong(page, word);
    if (text.length == 0) {
        buf_char(page->buf, '\n');
        return;
    }
    if (at + 1 > column) {
        buf_char(page->buf, '\n');
        at = 0;
    }
    put_in(page->buf, column - at);
    wrap(page, column, column, text);
}

/* Takes the next line off a text, without its end. */
static Str next_line(Str *rest)
{
    Str line = {rest->text, 0};
    while (line.length < rest->length && line.text[line.length] != '\n') {
        line.length++;
    }
    size_t taken = line.length < rest->length ? line.length + 1 : line.length;
    *rest = (Str){rest->text + taken, rest->length - taken};
    return line;
}

void page_code(Page *page, int indent, Str code)
{
    while (code.length > 0) {
        Str line = next_line(&code);
        if (line.length > 0) {
            put_in(page->buf, indent);
            buf_add(page->buf, line);
        }
        buf_char(page->buf, '\n');
    }
}

/* Where what stands in quotes, or a comment, ends; `at` itself for any other character. */
static size_t after_quoted(Str line, size_t at)
{
    if (line.text[at] == '#') {
        return line.length - 1;
    }
    if (line.text[at] != '"') {
        return at;
    }
    size_t i = at + 1;
    while (i < line.length && line.text[i] != '"') {
        i += line.text[i] == '\\' ? 2 : 1;
    }
    return i < line.length ? i : line.length - 1;
}

static void new_line(Buf *to, int depth)
{
    while (to->length > 0 && to->text[to->length - 1] == ' ') {
        to->text[--to->length] = '\0';
    }
    if (to->length > 0 && to->text[to->length - 1] != '\n') {
        buf_char(to, '\n');
    }
    put_in(to, 2 * depth);
}

static bool at_line_start(const Buf *to)
{
    size_t i = to->length;
    while (i > 0 && to->text[i - 1] == ' ') {
        i--;
    }
    return i == 0 || to->text[i - 1] == '\n';
}

static void open_line(Buf *to, Str line, int depth)
{
    for (size_t i = 0; i < line.length; i++) {
        char c = line.text[i];
        if (c == '{') {
            buf_char(to, c);
            new_line(to, ++depth);
        } else if (c == '}') {
            new_line(to, depth > 0 ? --depth : 0);
            buf_char(to, c);
            new_line(to, depth);
        } else if (c == ';') {
            new_line(to, depth);
        } else if (c != ' ' || !at_line_start(to)) {
            size_t end = after_quoted(line, i);
            buf_add(to, (Str){line.text + i, end - i + 1});
            i = end;
        }
    }
    new_line(to, 0);
}

void page_open_blocks(Buf *to, Str spec, int columns)
{
    while (spec.length > 0) {
        Str line = next_line(&spec);
        int depth = 0;
        while ((size_t)depth * 2 + 1 < line.length && line.text[depth * 2] == ' ') {
            depth++;
        }
        if (columns_of(line) <= columns) {
            buf_add(to, line);
            buf_char(to, '\n');
        } else {
            put_in(to, 2 * depth);
            open_line(to, line, depth);
        }
    }
}
