/* Numbers, dates and hours of the clock that are written otherwise than the language has them, and quoted texts. See lexer.h. */
#include "syntax/lexer.h"

#include "base/date.h"

#include <stdio.h>
#include <string.h>

void lexer_init(Lexer *lexer, const Source *source, Messages *messages)
{
    *lexer = (Lexer){.source = source,
                     .messages = messages,
                     .at = (const unsigned char *)source->text,
                     .zero = (uintptr_t)source->text - source->base};
}

/* A text with every `from` in it replaced. */
const char *lexer_with_other_mark(const Lexer *lexer, Str text, char from, char to)
{
    char *copy = arena_alloc(lexer->messages->arena, text.length + 1);
    for (size_t i = 0; i < text.length; i++) {
        copy[i] = text.text[i] == from ? to : text.text[i];
    }
    return copy;
}

/* 1,5 is half of Europe's one and a half, and nobody's here. */
TokenKind lexer_number_with_comma(Lexer *lexer, const unsigned char *from)
{
    Span at = lexer_span(lexer, from, lexer->at);
    Str text = lexer_text(from, lexer->at);
    Message *m = message_report(lexer->messages, MESSAGE_NUMBER_COMMA, at,
                                "`%.*s` has a comma in a number; the decimal mark is a point", STR_ARG(text));
    const char *comma = memchr(text.text, ',', text.length);
    size_t behind = text.length - (size_t)(comma - text.text) - 1;
    bool groups = memchr(comma + 1, ',', behind) != NULL || memchr(comma, '.', behind) != NULL;
    const char *grouped = lexer_with_other_mark(lexer, text, ',', '_');
    const char *decimal = lexer_with_other_mark(lexer, text, ',', '.');
    if (groups) {
        message_right(lexer->messages, m, "`%s`", grouped);
    } else if (behind == 3) {
        message_right(lexer->messages, m, "`%s` if the comma groups digits, `%s` if it is the decimal mark",
                      grouped, decimal);
    } else {
        message_right(lexer->messages, m, "`%s`, or a blank after the comma if these are members of a list",
                      decimal);
    }
    return lexer_token(lexer, TOKEN_BAD, from);
}

/* 14.2.2026 or 2026.2.14 */
static bool looks_like_a_date(Str text)
{
    size_t points = 0;
    for (size_t i = 0; i < text.length; i++) {
        points += text.text[i] == '.';
    }
    return points == 2 && text.length >= 8 && (text.text[4] == '.' || text.text[text.length - 5] == '.');
}

TokenKind lexer_number_with_points(Lexer *lexer, const unsigned char *from)
{
    Span at = lexer_span(lexer, from, lexer->at);
    Str text = lexer_text(from, lexer->at);
    Message *m = message_report(lexer->messages, MESSAGE_NUMBER_POINTS, at,
                                "`%.*s` has more than one point; a number has one at most, and no other mark",
                                STR_ARG(text));
    message_right(lexer->messages, m, "%s",
                  looks_like_a_date(text) ? "year, month and day, such as `2026-03-14`, if it is a date"
                                          : "`_` to group digits, such as `12_500.00`");
    return lexer_token(lexer, TOKEN_BAD, from);
}

/* 12'500 */
TokenKind lexer_number_with_apostrophe(Lexer *lexer, const unsigned char *from)
{
    Span at = lexer_span(lexer, from, lexer->at);
    Str text = lexer_text(from, lexer->at);
    Message *m = message_report(lexer->messages, MESSAGE_NUMBER_POINTS, at, "`%.*s` has an apostrophe in a number",
                                STR_ARG(text));
    message_right(lexer->messages, m, "`%s` to group digits, `ft` for feet", lexer_with_other_mark(lexer, text, '\'', '_'));
    return lexer_token(lexer, TOKEN_BAD, from);
}

/* 3/4" or 6'3" */
TokenKind lexer_number_with_quote(Lexer *lexer, const unsigned char *from)
{
    Span at = lexer_span(lexer, from, lexer->at);
    bool feet = memchr(from, '\'', (size_t)(lexer->at - from)) != NULL;
    Message *m = message_report(lexer->messages, MESSAGE_STRANGE_CHARACTER, at,
                                "a quote begins a text; behind a number it has no meaning");
    message_right(lexer->messages, m, "%s", feet ? "`ft` and `in`, such as `6 ft 3 in`" : "`in` for inches");
    return lexer_token(lexer, TOKEN_BAD, from);
}

/* `2026-2-3` with its noughts; false if there is no such day even so. */
static bool date_with_noughts(Str written, char text[static 32])
{
    unsigned part[3] = {0, 0, 0};
    for (size_t i = 0, at = 0; i < written.length; i++) {
        if (written.text[i] == '-') {
            at++;
        } else {
            part[at] = part[at] * 10 + (unsigned)(written.text[i] - '0');
        }
    }
    Date ignored;
    snprintf(text, 32, "%04u-%02u-%02u", part[0], part[1], part[2]);
    return written.length < 10 && date_read(str_from(text), &ignored);
}

TokenKind lexer_date(Lexer *lexer, const unsigned char *from)
{
    Date ignored;
    Str written = lexer_text(from, lexer->at);
    if (date_read(written, &ignored)) {
        return lexer_token(lexer, TOKEN_DATE, from);
    }
    char right[32];
    bool noughts = date_with_noughts(written, right);
    Span at = lexer_span(lexer, from, lexer->at);
    Message *m = message_report(lexer->messages, MESSAGE_NO_SUCH_DATE, at,
                                noughts ? "month and day of `%.*s` lack a nought" : "`%.*s` is not a day of the calendar",
                                STR_ARG(written));
    message_right(lexer->messages, m, noughts ? "`%s`" : "%s", noughts ? right : "year, month and day, such as `2026-03-14`");
    return lexer_token(lexer, TOKEN_BAD, from);
}

TokenKind lexer_clock(Lexer *lexer, const unsigned char *from)
{
    const unsigned char *colon = from;
    int hour = 0;
    for (; *colon != ':'; colon++) {
        hour = hour * 10 + (*colon - '0');
    }
    int minute = (colon[1] - '0') * 10 + (colon[2] - '0');
    if (hour > 24 || minute > 59 || (hour == 24 && minute > 0)) {
        Span at = lexer_span(lexer, from, lexer->at);
        Message *m = message_report(lexer->messages, MESSAGE_NO_SUCH_TIME, at, "`%.*s` is not a time of the day",
                                    STR_ARG(lexer_text(from, lexer->at)));
        message_right(lexer->messages, m, "hours and minutes from `0:00` to `24:00`");
        return lexer_token(lexer, TOKEN_BAD, from);
    }
    return lexer_token(lexer, TOKEN_CLOCK, from);
}

/* 18:00-22:00 */
TokenKind lexer_clocks_with_dash(Lexer *lexer, const unsigned char *from)
{
    Span at = lexer_span(lexer, from, lexer->at);
    Message *m = message_report(lexer->messages, MESSAGE_STRANGE_CHARACTER, at,
                                "a dash between two times has no meaning");
    message_right(lexer->messages, m, "`..` between them, such as `18:00..22:00`");
    return lexer_token(lexer, TOKEN_BAD, from);
}

/*
 * Goes to the end of a line that a quote has spoilt. A brace that ends the line is taken to stand outside of the text,
 * and a whole block there as well: more often than not that is so, and losing one brace would bring a second message.
 */
void lexer_skip_spoilt_line(Lexer *lexer, const unsigned char *from)
{
    const unsigned char *end = lexer_line_end(lexer, lexer->at);
    while (end > from + 1 && (end[-1] == ' ' || end[-1] == '\t' || end[-1] == '\r')) {
        end--;
    }
    bool brace = end > from + 1 && (end[-1] == '{' || end[-1] == '}');
    const unsigned char *block = brace && end[-1] == '}' ? memchr(from, '{', (size_t)(end - from)) : NULL;
    lexer->at = block != NULL ? block : brace ? end - 1 : end;
}

/* A quoted text that reaches the end of its line. */
TokenKind lexer_text_open(Lexer *lexer, const unsigned char *from)
{
    lexer_skip_spoilt_line(lexer, from);
    Span at = lexer_span(lexer, from, lexer->at);
    Message *m = message_report(lexer->messages, MESSAGE_TEXT_OPEN, (Span){at.start, at.start + 1},
                                "this text has no closing quote on its line");
    bool inside = at.start > lexer->source->base && from[-1] > ' ' && strchr("{;,", from[-1]) == NULL;
    message_right(lexer->messages, m, "%s",
                  inside ? "`\\\"` for each quote inside of a text, or a `\"` at its end"
                         : "a `\"` at its end; a long text goes on as another quoted text on the next line, or stands between "
                           "two lines of `\"\"\"`");
    return lexer_token(lexer, TOKEN_BAD, from);
}

/* Three quotes with something behind them on their line. */
TokenKind lexer_long_text_on_a_line(Lexer *lexer, const unsigned char *from)
{
    Span at = lexer_span(lexer, from, lexer->at);
    lexer_skip_spoilt_line(lexer, from);
    Message *m = message_report(lexer->messages, MESSAGE_TEXT_OPEN, at,
                                "`\"\"\"` ends its line, and the text stands on the lines below it");
    message_right(lexer->messages, m, "one `\"` on each side of a text on one line");
    return lexer_token(lexer, TOKEN_BAD, from);
}

TokenKind lexer_escaped_text(Lexer *lexer, const unsigned char *from)
{
    TokenKind kind = TOKEN_TEXT;
    for (const unsigned char *c = from + 1; c < lexer->at - 1; c++) {
        if (*c != '\\') {
            continue;
        }
        if (c[1] != '"' && c[1] != '\\') {
            Message *m = message_report(lexer->messages, MESSAGE_TEXT_ESCAPE, lexer_span(lexer, c, c + 1),
                                        "a backslash in a text stands only before a quote or a backslash");
            message_right(lexer->messages, m, "`\\\\` for each backslash itself");
            kind = TOKEN_BAD;
            break;
        }
        c++;
    }
    return lexer_token(lexer, kind, from);
}

static const unsigned char *skip_blanks(const unsigned char *at)
{
    while (*at == ' ' || *at == '\t' || *at == '\r') {
        at++;
    }
    return at;
}

static bool closes_long_text(const unsigned char *line)
{
    const unsigned char *c = skip_blanks(line);
    return c[0] == '"' && c[1] == '"' && c[2] == '"';
}

/* Where an unclosed long text is taken to end: before a line that looks like a statement of the outermost level. */
static bool looks_like_a_new_block(const unsigned char *line)
{
    return (*line >= 'a' && *line <= 'z') || *line == '}';
}

TokenKind lexer_long_text(Lexer *lexer, const unsigned char *from)
{
    const unsigned char *give_up = NULL;
    const unsigned char *line = lexer_line_end(lexer, lexer->at);
    Lexer begun = *lexer;
    while (*line == '\n' && !(lexer->none_closes && give_up != NULL)) {
        line++;
        const unsigned char *merge = lexer_merge_line(lexer, line, true);
        if (merge != NULL) {
            line = merge;
            continue;
        }
        if (closes_long_text(line)) {
            lexer->at = skip_blanks(line) + 3;
            return lexer_token(lexer, TOKEN_LONG_TEXT, from);
        }
        if (give_up == NULL && looks_like_a_new_block(line)) {
            give_up = line - 1;
        }
        line = lexer_line_end(lexer, line);
    }
    bool torn = lexer->conflict || lexer->merge_lines > begun.merge_lines; /* told: the line may have gone with that */
    *lexer = begun; /* what a merge has left is met again, outside of the text */
    lexer->none_closes = true; /* else many such texts would be searched to the end, each of them */
    if (!torn) {
        Span at = lexer_span(lexer, from, from + 3);
        Message *m = message_report(lexer->messages, MESSAGE_TEXT_OPEN, at, "this text has no closing line of `\"\"\"`");
        message_right(lexer->messages, m, "a line with nothing but `\"\"\"` after its last line");
    }
    lexer->at = give_up != NULL ? give_up : line;
    return lexer_token(lexer, TOKEN_BAD, from);
}
