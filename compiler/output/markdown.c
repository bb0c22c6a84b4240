/*
 * The Markdown writer. What needs escaping is told from what stands in the buffer already, so that a text
 * which comes in pieces is escaped like one that comes whole. Knows no part of the book.
 */
#include "output/markdown.h"

#include "output/character.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

void markdown_init(Markdown *md, Buf *buf)
{
    *md = (Markdown){.buf = buf};
}

/* ---- What is in the buffer already ---- */

/* The byte `back` places before the end of the open block's text (1 is the last), or NUL. */
static char written(const Markdown *md, size_t back)
{
    return md->buf->length - md->start >= back ? md->buf->text[md->buf->length - back] : '\0';
}

static bool at_start(const Markdown *md)
{
    return md->buf->length == md->start;
}

/* Is the line so far nothing but the digits of a numbered item? Those are nine at most. */
static bool is_number_so_far(const Markdown *md)
{
    if (md->buf->length - md->start > 9) {
        return false;
    }
    for (size_t i = md->start; i < md->buf->length; i++) {
        if (md->buf->text[i] < '0' || md->buf->text[i] > '9') {
            return false;
        }
    }
    return !at_start(md);
}

static bool is_www_so_far(const Markdown *md)
{
    for (size_t back = 1; back <= 3; back++) {
        if (written(md, back) != 'w' && written(md, back) != 'W') {
            return false;
        }
    }
    return true;
}

/* ---- Text ---- */

static bool is_blank(uint32_t code)
{
    return code == ' ' || code == '\t' || code == '\n' || code == '\r';
}

static bool is_blank_or_end(char c)
{
    return c == '\0' || is_blank((unsigned char)c);
}

/*
 * May this character, where it stands, begin or close something? `next` is the byte that follows, NUL if none
 * does. An item or a rule begins at the start of a line, a numbered item only if a blank follows its point;
 * viewers link by themselves what has www. or :// in it; a `!` before a link would make it a picture.
 */
static bool needs_backslash(const Markdown *md, uint32_t code, char next)
{
    bool line_start = md->block != MARKDOWN_CELL; /* a cell begins no line */
    bool in_number = line_start && is_number_so_far(md) && is_blank_or_end(next);

    switch (code) {
    case '-':
    case '+': return line_start && at_start(md);
    case '.': return in_number || is_www_so_far(md);
    case ')': return in_number;
    case '/': return written(md, 1) == ':';
    case '!': return next == '\0';
    default: return code > 0 && code < 0x80 && strchr("\\`*_[]~#@$", (int)code) != NULL;
    }
}

static const char *entity_of(uint32_t code)
{
    switch (code) {
    case '&': return "&amp;";
    case '<': return "&lt;";
    case '>': return "&gt;";
    case '|': return "&#124;";
    default: return NULL;
    }
}

/* A line end or tab: one blank, none at the start of a block, where it would indent. */
static void write_blank(Markdown *md, uint32_t code)
{
    if (at_start(md) || (code != ' ' && written(md, 1) == ' ')) {
        return;
    }
    buf_char(md->buf, ' ');
}

static void write_character(Markdown *md, uint32_t code, char next)
{
    const char *entity = entity_of(code);
    if (is_blank(code)) {
        write_blank(md, code);
    } else if (entity) {
        buf_text(md->buf, entity);
    } else {
        if (needs_backslash(md, code, next)) {
            buf_char(md->buf, '\\');
        }
        character_write(md->buf, character_is_control(code) ? CHARACTER_REPLACEMENT : code);
    }
}

static void write_text(Markdown *md, Str text)
{
    while (text.length > 0) {
        uint32_t code = character_take(&text);
        write_character(md, code, text.length > 0 ? text.text[0] : '\0');
    }
}

static void assert_open(const Markdown *md)
{
    (void)md; /* where assertions are compiled out */
    assert(md->block == MARKDOWN_LINE || md->block == MARKDOWN_ITEM || md->block == MARKDOWN_CELL);
}

void markdown_text(Markdown *md, Str text)
{
    assert_open(md);
    write_text(md, text);
}

void markdown_format(Markdown *md, const char *format, ...)
{
    char first_try[256];
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(first_try, sizeof first_try, format, arguments);
    va_end(arguments);
    assert(length >= 0);
    if ((size_t)length < sizeof first_try) {
        markdown_text(md, (Str){first_try, (size_t)length});
        return;
    }
    char *text = arena_alloc(md->buf->arena, (size_t)length + 1);
    va_start(arguments, format);
    vsnprintf(text, (size_t)length + 1, format, arguments);
    va_end(arguments);
    markdown_text(md, (Str){text, (size_t)length});
}

static Str trimmed(Str text)
{
    while (text.length > 0 && is_blank((unsigned char)text.text[0])) {
        text.text++;
        text.length--;
    }
    while (text.length > 0 && is_blank((unsigned char)text.text[text.length - 1])) {
        text.length--;
    }
    return text;
}

void markdown_strong(Markdown *md, Str text)
{
    assert_open(md);
    text = trimmed(text); /* a blank inside of the stars would make them plain stars */
    if (text.length > 0) {
        buf_text(md->buf, "**");
        write_text(md, text);
        buf_text(md->buf, "**");
    }
}

/* ---- Code ---- */

static size_t longest_run_of_backticks(Str code)
{
    size_t longest = 0;
    size_t run = 0;
    for (size_t i = 0; i < code.length; i++) {
        run = code.text[i] == '`' ? run + 1 : 0;
        longest = run > longest ? run : longest;
    }
    return longest;
}

static void write_backticks(Markdown *md, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        buf_char(md->buf, '`');
    }
}

/* A viewer takes one blank off both ends of a code span, so that backticks may stand there. */
static bool needs_padding(Str code)
{
    char first = code.text[0];
    char last = code.text[code.length - 1];

    return first == '`' || last == '`' || (is_blank((unsigned char)first) && is_blank((unsigned char)last));
}

static void write_code(Markdown *md, Str code)
{
    if (code.length == 0) {
        return;
    }
    if (md->code_end == md->buf->length && !at_start(md)) {
        buf_char(md->buf, ' '); /* two spans that touch would be one */
    }
    size_t fence = longest_run_of_backticks(code) + 1;
    bool padding = needs_padding(code);
    write_backticks(md, fence);
    buf_text(md->buf, padding ? " " : "");
    while (code.length > 0) {
        uint32_t character = character_take(&code);
        uint32_t shown = character_is_control(character) ? CHARACTER_REPLACEMENT : character;
        character_write(md->buf, is_blank(character) ? ' ' : shown);
    }
    buf_text(md->buf, padding ? " " : "");
    write_backticks(md, fence);
    md->code_end = md->buf->length;
}

void markdown_code(Markdown *md, Str code)
{
    assert_open(md);
    bool has_bar = code.length > 0 && memchr(code.text, '|', code.length) != NULL;
    if (has_bar && md->block == MARKDOWN_CELL) {
        write_text(md, code);
    } else {
        write_code(md, code);
    }
}

/* ---- Links ---- */

/* A target with a scheme is linked only if the scheme does nothing but show a page or address a letter. */
static bool is_harmless(const char *target)
{
    size_t head = strcspn(target, ":/?#");
    if (target[head] != ':') {
        return true;
    }
    Str scheme = {target, head};
    return str_is(scheme, "http") || str_is(scheme, "https") || str_is(scheme, "mailto");
}

static bool is_hex(char c)
{
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f') || (c >= 'A' && c <= 'F');
}

/* The characters of RFC 3986, without those that mean something to Markdown at this place. */
static bool is_plain_in_target(const char *at)
{
    if (*at == '%') {
        return is_hex(at[1]) && is_hex(at[2]);
    }
    bool letter = (*at >= 'a' && *at <= 'z') || (*at >= 'A' && *at <= 'Z') || (*at >= '0' && *at <= '9');
    return letter || strchr("-._~/?#:@!$'*+,;=", *at) != NULL;
}

static void write_target(Markdown *md, const char *target)
{
    buf_text(md->buf, "](");
    for (const char *at = target; *at != '\0'; at++) {
        if (*at == '&') {
            buf_text(md->buf, "&amp;");
        } else if (is_plain_in_target(at)) {
            buf_char(md->buf, *at);
        } else {
            buf_format(md->buf, "%%%02X", (unsigned)(unsigned char)*at);
        }
    }
    buf_char(md->buf, ')');
}

static void write_link(Markdown *md, const char *mark, Str text, const char *target)
{
    assert_open(md);
    if (!is_harmless(target)) {
        write_text(md, text);
        return;
    }
    buf_text(md->buf, mark);
    write_text(md, trimmed(text));
    write_target(md, target);
}

void markdown_link(Markdown *md, Str text, const char *target)
{
    write_link(md, "[", text, target);
}

void markdown_image(Markdown *md, Str text, const char *target)
{
    write_link(md, "![", text, target);
}

void markdown_link_code(Markdown *md, Str code, const char *target)
{
    assert_open(md);
    if (!is_harmless(target)) {
        markdown_code(md, code);
        return;
    }
    buf_char(md->buf, '[');
    markdown_code(md, code);
    write_target(md, target);
}

/* ---- Blocks ---- */

/* Ends the open row of a table, in which no cell may lack. */
static void end_row(Markdown *md)
{
    if (md->block == MARKDOWN_ROW || md->block == MARKDOWN_CELL) {
        assert(md->cells == md->columns);
        buf_text(md->buf, at_start(md) ? "|\n" : " |\n");
        md->block = MARKDOWN_TABLE;
    }
}

static void end_block(Markdown *md)
{
    end_row(md);
    if (md->block == MARKDOWN_LINE || md->block == MARKDOWN_ITEM) {
        buf_char(md->buf, '\n');
    }
}

/* Between blocks is a blank line, but none between the items of a list. */
static void begin_block(Markdown *md, MarkdownBlock block)
{
    end_block(md);
    if (md->block != MARKDOWN_NOTHING && !(md->block == MARKDOWN_ITEM && block == MARKDOWN_ITEM)) {
        buf_char(md->buf, '\n');
    }
    md->block = block;
    md->start = md->buf->length;
}

/* Begins a block of one line; `mark` is what makes it the block it is. */
static void begin_line(Markdown *md, const char *mark)
{
    begin_block(md, MARKDOWN_LINE);
    buf_text(md->buf, mark);
    md->start = md->buf->length;
}

void markdown_paragraph(Markdown *md)
{
    begin_line(md, "");
}

void markdown_quote(Markdown *md)
{
    begin_line(md, "> ");
}

void markdown_item(Markdown *md, MarkdownItem kind, unsigned level)
{
    static const char *const marks[] = {
        [MARKDOWN_BULLET] = "- ",
        [MARKDOWN_NUMBER] = "1. ",
        [MARKDOWN_TO_DO] = "- [ ] ",
        [MARKDOWN_DONE] = "- [x] ",
    };
    assert(level < MARKDOWN_LEVELS && level <= (md->block == MARKDOWN_ITEM ? md->level + 1 : 0));
    begin_block(md, MARKDOWN_ITEM);
    size_t indent = level > 0 ? md->indents[level - 1] : 0;
    for (size_t i = 0; i < indent; i++) {
        buf_char(md->buf, ' ');
    }
    buf_text(md->buf, marks[kind]);
    md->indents[level] = indent + (kind == MARKDOWN_NUMBER ? strlen("1. ") : strlen("- "));
    md->level = level;
    md->start = md->buf->length;
}

void markdown_row(Markdown *md)
{
    end_row(md);
    assert(md->block == MARKDOWN_TABLE);
    md->block = MARKDOWN_ROW;
    md->cells = 0;
    buf_char(md->buf, '|');
}

void markdown_cell(Markdown *md)
{
    assert(md->block == MARKDOWN_ROW || (md->block == MARKDOWN_CELL && md->cells < md->columns));
    if (md->cells++ > 0) {
        buf_text(md->buf, at_start(md) ? "|" : " |");
    }
    buf_char(md->buf, ' ');
    md->block = MARKDOWN_CELL;
    md->start = md->buf->length;
}

void markdown_cell_text(Markdown *md, Str text)
{
    markdown_cell(md);
    write_text(md, text);
}

void markdown_cell_code(Markdown *md, Str code)
{
    markdown_cell(md);
    markdown_code(md, code);
}

void markdown_table(Markdown *md, const MarkdownColumn columns[], size_t count)
{
    assert(count > 0);
    begin_block(md, MARKDOWN_TABLE);
    md->columns = count;
    markdown_row(md);
    for (size_t i = 0; i < count; i++) {
        markdown_cell_text(md, str_from(columns[i].title));
    }
    end_row(md);
    buf_char(md->buf, '|');
    for (size_t i = 0; i < count; i++) {
        buf_text(md->buf, columns[i].align == MARKDOWN_RIGHT ? " ---: |" : " --- |");
    }
    buf_char(md->buf, '\n');
}

void markdown_code_block(Markdown *md, Str code, const char *language)
{
    size_t fence = longest_run_of_backticks(code) + 1;
    fence = fence < 3 ? 3 : fence;
    begin_block(md, MARKDOWN_CODE);
    write_backticks(md, fence);
    buf_text(md->buf, language);
    buf_char(md->buf, '\n');
    while (code.length > 0) {
        uint32_t character = character_take(&code);
        bool lost = character_is_control(character) && character != '\n' && character != '\t';
        if (character != '\r') {
            character_write(md->buf, lost ? CHARACTER_REPLACEMENT : character);
        }
    }
    if (md->buf->text[md->buf->length - 1] != '\n') {
        buf_char(md->buf, '\n');
    }
    write_backticks(md, fence);
    buf_char(md->buf, '\n');
}

void markdown_end(Markdown *md)
{
    end_block(md);
    md->block = MARKDOWN_NOTHING;
}
