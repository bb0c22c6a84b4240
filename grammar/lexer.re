/*
 * The lexer: bytes to tokens (see compiler/syntax/token.h). Generated with re2c.
 *
 * The text is not copied: tokens are spans of it. A NUL behind the last byte is the sentinel, so no bounds are
 * checked; a NUL before the end is a strange character. What is wrong inside a token is reported here.
 */
#include "syntax/token.h"

#include "base/date.h"

#include <string.h>

void lexer_init(Lexer *lexer, const Source *source, Messages *messages)
{
    *lexer = (Lexer){.source = source, .messages = messages, .at = (const unsigned char *)source->text};
}

static Span span_of(const Lexer *lexer, const unsigned char *from, const unsigned char *to)
{
    const unsigned char *text = (const unsigned char *)lexer->source->text;
    uint32_t base = lexer->source->base;
    return (Span){base + (uint32_t)(from - text), base + (uint32_t)(to - text)};
}

static Str text_of(const unsigned char *from, const unsigned char *to)
{
    return (Str){(const char *)from, (size_t)(to - from)};
}

static bool at_end(const Lexer *lexer, const unsigned char *at)
{
    return at >= (const unsigned char *)lexer->source->text + lexer->source->length;
}

static Token token(const Lexer *lexer, TokenKind kind, const unsigned char *from)
{
    return (Token){kind, span_of(lexer, from, lexer->at)};
}

/* 1,5 is half of Europe's one and a half, and nobody's here. */
static Token number_with_comma(Lexer *lexer, const unsigned char *from)
{
    Span at = span_of(lexer, from, lexer->at);
    Str text = text_of(from, lexer->at);
    Message *m = message_report(lexer->messages, MESSAGE_NUMBER_COMMA, at,
                                "`%.*s` has a comma in a number; the decimal mark is a point", STR_ARG(text));
    size_t comma = (size_t)((const char *)memchr(text.text, ',', text.length) - text.text);
    Str whole = {text.text, comma};
    Str rest = {text.text + comma + 1, text.length - comma - 1};
    bool grouped = rest.length == 3 || (rest.length > 3 && rest.text[3] == '.');
    message_right(lexer->messages, m, "%s%.*s_%.*s%s`%.*s.%.*s`, or a blank after the comma if these are two members of a list",
                  grouped ? "`" : "", grouped ? (int)whole.length : 0, whole.text, grouped ? (int)rest.length : 0, rest.text,
                  grouped ? "` if the comma groups digits, " : "", STR_ARG(whole), STR_ARG(rest));
    return (Token){TOKEN_BAD, at};
}

static Token number_with_points(Lexer *lexer, const unsigned char *from)
{
    Span at = span_of(lexer, from, lexer->at);
    Message *m = message_report(lexer->messages, MESSAGE_NUMBER_POINTS, at,
                                "`%.*s` has more than one point; a number has one at most, and no other mark",
                                STR_ARG(text_of(from, lexer->at)));
    message_right(lexer->messages, m, "`_` to group digits, such as `12_500.00`");
    return (Token){TOKEN_BAD, at};
}

static Token date(Lexer *lexer, const unsigned char *from)
{
    Date ignored;
    if (!date_read(text_of(from, lexer->at), &ignored)) {
        Span at = span_of(lexer, from, lexer->at);
        Message *m = message_report(lexer->messages, MESSAGE_NO_SUCH_DATE, at, "`%.*s` is not a day of the calendar",
                                    STR_ARG(text_of(from, lexer->at)));
        message_right(lexer->messages, m, "year, month and day, such as `2026-03-14`");
        return (Token){TOKEN_BAD, at};
    }
    return token(lexer, TOKEN_DATE, from);
}

static Token clock(Lexer *lexer, const unsigned char *from)
{
    const unsigned char *colon = from;
    int hour = 0;
    for (; *colon != ':'; colon++) {
        hour = hour * 10 + (*colon - '0');
    }
    int minute = (colon[1] - '0') * 10 + (colon[2] - '0');
    if (hour > 24 || minute > 59 || (hour == 24 && minute > 0)) {
        Span at = span_of(lexer, from, lexer->at);
        Message *m = message_report(lexer->messages, MESSAGE_NO_SUCH_TIME, at, "`%.*s` is not a time of the day",
                                    STR_ARG(text_of(from, lexer->at)));
        message_right(lexer->messages, m, "hours and minutes from `0:00` to `24:00`");
        return (Token){TOKEN_BAD, at};
    }
    return token(lexer, TOKEN_CLOCK, from);
}

static const unsigned char *line_end(const unsigned char *at, const Lexer *lexer)
{
    while (*at != '\n' && !(*at == 0 && at_end(lexer, at))) {
        at++;
    }
    return at;
}

/*
 * A quoted text that reaches the end of its line. A brace that ends the line is taken to stand outside of the text:
 * more often than not it opens or closes the block, and losing it would bring a second message.
 */
static Token text_open(Lexer *lexer, const unsigned char *from)
{
    const unsigned char *end = line_end(lexer->at, lexer);
    while (end > from + 1 && (end[-1] == ' ' || end[-1] == '\t' || end[-1] == '\r')) {
        end--;
    }
    bool brace = end > from + 1 && (end[-1] == '{' || end[-1] == '}');
    lexer->at = brace ? end - 1 : end;
    Span at = span_of(lexer, from, lexer->at);
    Message *m = message_report(lexer->messages, MESSAGE_TEXT_OPEN, (Span){at.start, at.start + 1},
                                "this text has no closing quote on its line");
    message_right(lexer->messages, m, "a `\"` at its end; a long text goes on as another quoted text on the next line, "
                                      "or stands between two lines of `\"\"\"`");
    return (Token){TOKEN_BAD, at};
}

static Token text(Lexer *lexer, const unsigned char *from)
{
    Token whole = token(lexer, TOKEN_TEXT, from);
    for (const unsigned char *c = from + 1; c < lexer->at - 1; c++) {
        if (*c != '\\') {
            continue;
        }
        if (c[1] != '"' && c[1] != '\\') {
            Message *m = message_report(lexer->messages, MESSAGE_TEXT_ESCAPE, span_of(lexer, c, c + 1),
                                        "a backslash in a text stands only before a quote or a backslash");
            message_right(lexer->messages, m, "`\\\\` for a backslash itself");
            whole.kind = TOKEN_BAD;
        }
        c++;
    }
    return whole;
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

static Token long_text(Lexer *lexer, const unsigned char *from)
{
    const unsigned char *give_up = NULL;
    const unsigned char *line = line_end(lexer->at, lexer);
    while (*line == '\n') {
        line++;
        if (closes_long_text(line)) {
            lexer->at = skip_blanks(line) + 3;
            return token(lexer, TOKEN_LONG_TEXT, from);
        }
        if (give_up == NULL && looks_like_a_new_block(line)) {
            give_up = line - 1;
        }
        line = line_end(line, lexer);
    }
    Span at = span_of(lexer, from, from + 3);
    Message *m = message_report(lexer->messages, MESSAGE_TEXT_OPEN, at, "this text has no closing line of `\"\"\"`");
    message_right(lexer->messages, m, "a line with nothing but `\"\"\"` after its last line");
    lexer->at = give_up != NULL ? give_up : line;
    return token(lexer, TOKEN_BAD, from);
}

/* The usual strangers, by their first bytes, and what is written for them here. */
static const char *stranger_meant(const unsigned char *from)
{
    static const struct {
        const char *bytes;
        const char *right;
    } strangers[] = {
        {"\xC2\xB0", "`C` for temperatures, `degC` for differences, `deg` for angles"},
        {"\xC2\xB5", "`u`, as in `um`"},
        {"\xCE\xBC", "`u`, as in `um`"},
        {"\xC2\xB2", "`mm2`, `m2`"},
        {"\xC2\xB3", "`m3`, `cm3`"},
        {"\xCE\xA9", "`ohm`, `mohm`"},
        {"\xE2\x84\xA6", "`ohm`, `mohm`"},
        {"\xC2\xBD", "`1/2`, as in `1 1/2 in`"},
        {"\xC2\xBC", "`1/4`"},
        {"\xC2\xBE", "`3/4`"},
        {"\xC2\xB1", "`+/-`"},
        {"\xE2\x80\x93", "`..` for a range, `-` in a name"},
        {"\xE2\x80\x94", "`..` for a range, `-` in a name"},
        {"\xE2\x80\xA6", "`..`"},
        {"\xE2\x80\x9C", "straight quotes, `\"`"},
        {"\xE2\x80\x9D", "straight quotes, `\"`"},
        {"\xE2\x80\x9E", "straight quotes, `\"`"},
        {"\xE2\x82\xAC", "`EUR` after the amount"},
        {"\xC2\xA3", "`GBP` after the amount"},
        {"\xE2\x89\xA5", "`>=`"},
        {"\xE2\x89\xA4", "`<=`"},
        {"$", "a currency code after the amount, such as `USD`"},
        {"'", "straight double quotes, `\"`"},
        {":", "a blank between a property and its value"},
        {"=", "a blank between a property and its value"},
        {"&", "a comma between the members of a list"},
        {"\xC2\xA0", "an ordinary blank; this one does not break lines and cannot be seen"},
    };
    for (size_t i = 0; i < sizeof strangers / sizeof strangers[0]; i++) {
        if (strncmp((const char *)from, strangers[i].bytes, strlen(strangers[i].bytes)) == 0) {
            return strangers[i].right;
        }
    }
    return NULL;
}

static Token strange(Lexer *lexer, const unsigned char *from)
{
    size_t left = lexer->source->length - (size_t)((const char *)from - lexer->source->text);
    size_t length = utf8_length(from, left);
    lexer->at = from + (length > 0 ? length : 1);
    Span at = span_of(lexer, from, lexer->at);
    Message *m;
    if (*from < 0x20 || *from == 0x7F) {
        m = message_report(lexer->messages, MESSAGE_STRANGE_CHARACTER, at,
                           "a control character (byte %d) has no place in a spec", *from);
    } else {
        m = message_report(lexer->messages, MESSAGE_STRANGE_CHARACTER, at,
                           "`%.*s` has no meaning outside of quotes and comments", STR_ARG(text_of(from, lexer->at)));
    }
    const char *right = stranger_meant(from);
    if (right != NULL) {
        message_right(lexer->messages, m, "%s", right);
    }
    return (Token){TOKEN_BAD, at};
}

/*!re2c
    re2c:define:YYCTYPE = "unsigned char";
    re2c:define:YYCURSOR = "lexer->at";
    re2c:define:YYMARKER = marker;
    re2c:yyfill:enable = 0;
    re2c:flags:tags = 0;

    digit   = [0-9];
    letter  = [A-Za-z];
    word    = letter [A-Za-z0-9-]*;
    rating  = digit+ "-" letter [A-Za-z0-9-]*;
    whole   = digit (digit | "_")*;
*/

Token lexer_next(Lexer *lexer)
{
    const unsigned char *from;
    const unsigned char *marker;

next:
    from = lexer->at;
    /*!re2c
        [ \t\r]+                            { goto next; }
        "\n"                                { return token(lexer, TOKEN_NEWLINE, from); }
        "#" [^\n\x00]*                      { return token(lexer, TOKEN_COMMENT, from); }
        word                                { return token(lexer, TOKEN_WORD, from); }
        rating                              { return token(lexer, TOKEN_WORD, from); }
        "-"? whole ("." digit+)?            { return token(lexer, TOKEN_NUMBER, from); }
        "-"? whole "," digit+ ("." digit+)? { return number_with_comma(lexer, from); }
        "-"? whole ("." digit+){2,}         { return number_with_points(lexer, from); }
        digit{4} "-" digit{1,2} "-" digit{1,2} { return date(lexer, from); }
        digit{1,2} ":" digit{2}             { return clock(lexer, from); }
        "%"                                 { return token(lexer, TOKEN_PERCENT, from); }
        "/"                                 { return token(lexer, TOKEN_SLASH, from); }
        ".."                                { return token(lexer, TOKEN_TO, from); }
        "."                                 { return token(lexer, TOKEN_DOT, from); }
        "+/-"                               { return token(lexer, TOKEN_TOLERANCE, from); }
        ">="                                { return token(lexer, TOKEN_AT_LEAST, from); }
        "<="                                { return token(lexer, TOKEN_AT_MOST, from); }
        "?"                                 { return token(lexer, TOKEN_HOLE, from); }
        ","                                 { return token(lexer, TOKEN_COMMA, from); }
        ";"                                 { return token(lexer, TOKEN_SEMICOLON, from); }
        "{"                                 { return token(lexer, TOKEN_OPEN, from); }
        "}"                                 { return token(lexer, TOKEN_CLOSE, from); }
        "\"\"\"" [ \t\r]* / "\n"            { return long_text(lexer, from); }
        "\"" ([^"\\\n\x00] | "\\" [^\n\x00])* "\"" { return text(lexer, from); }
        "\"" ([^"\\\n\x00] | "\\" [^\n\x00])*      { return text_open(lexer, from); }
        "\x00"                              { if (at_end(lexer, from)) {
                                                  lexer->at = from;
                                                  return token(lexer, TOKEN_END, from);
                                              }
                                              return strange(lexer, from); }
        *                                   { return strange(lexer, from); }
    */
}
