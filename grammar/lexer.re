/*
 * The lexer: bytes to tokens (see compiler/syntax/token.h). Generated with re2c.
 *
 * The text is not copied: tokens are spans of it. A NUL behind the last byte is the sentinel, so no bounds are
 * checked; a NUL before the end is a strange character. What takes a second look, and all mistakes: see
 * compiler/syntax/lexer.h.
 */
#include "syntax/lexer.h"

/*!re2c
    re2c:define:YYCTYPE = "unsigned char";
    re2c:define:YYCURSOR = at;
    re2c:define:YYMARKER = marker;
    re2c:yyfill:enable = 0;
    re2c:flags:tags = 0;

    digit   = [0-9];
    letter  = [A-Za-z];
    word    = letter [A-Za-z0-9-]*;
    rating  = digit+ "-" letter [A-Za-z0-9-]*;
    whole   = digit (digit | "_")*;
    real    = "-"? whole ("." digit+)?;
    time    = digit{1,2} ":" digit{2};
    dash    = "-" | "\xE2\x80\x93";
    hyphen  = "\xE2\x80" [\x90-\x94] | "\xE2\x88\x92" | "\xC2\xAD";
    part    = whole ("." digit+)? ("/" digit+)?;
    dashes  = "-"* hyphen ("-" | hyphen)*;
    odd     = hyphen | [_^] | "\xC2" [\xB0\xB2\xB3\xB5] | [\xC3-\xDF] [\x80-\xBF] | "\xE2\x84\xA6" | [\xE3-\xED] [\x80-\xBF]{2};
*/

/* The lexer behind a token that ends at `at`, which is counted apart: a byte that is read may lie anywhere, in it too. */
static Lexer *stop(Lexer *lexer, const unsigned char *at)
{
    lexer->at = at;
    return lexer;
}

TokenKind lexer_next(Lexer *lexer)
{
    const unsigned char *at = lexer->at;
    const unsigned char *from;
    const unsigned char *marker;

next:
    from = at;
    /*!re2c
        [ \t\r]+                            { goto next; }
        "\n"                                { return lexer_token(stop(lexer, at), TOKEN_NEWLINE, from); }
        "#" [^\n\x00]*                      { return lexer_token(stop(lexer, at), TOKEN_COMMENT, from); }
        word                                { return lexer_token(stop(lexer, at), TOKEN_WORD, from); }
        rating                              { return lexer_token(stop(lexer, at), TOKEN_WORD, from); }
        rating (":" rating)* (":" letter)?  { return lexer_marks(stop(lexer, at), from); }
        word odd (odd | [A-Za-z0-9-])*      { return lexer_strange_word(stop(lexer, at), from); }
        digit+ hyphen letter [A-Za-z0-9-]*  { return lexer_strange_word(stop(lexer, at), from); }
        digit{4} hyphen digit{1,2} hyphen digit{1,2} { return lexer_date_with_dashes(stop(lexer, at), from); }
        real                                { return lexer_token(stop(lexer, at), TOKEN_NUMBER, from); }
        "-"? part dashes part "\""?        { return lexer_number_with_dash(stop(lexer, at), from); }
        "-"? part [ ]+ (dashes | "-"+) [ ]+ part "\""? { return lexer_number_with_dash(stop(lexer, at), from); }
        "-"? whole ("," digit+)+ ("." digit+)? { return lexer_number_with_comma(stop(lexer, at), from); }
        "-"? whole ("." digit+){2,}         { return lexer_number_with_points(stop(lexer, at), from); }
        "-"? whole ("'" digit{3})+ ("." digit+)? { return lexer_number_with_apostrophe(stop(lexer, at), from); }
        real "\""                           { return lexer_number_with_quote(stop(lexer, at), from); }
        digit+ "'" [ ]* real "\""           { return lexer_number_with_quote(stop(lexer, at), from); }
        digit{4} "-" digit{1,2} "-" digit{1,2} { return lexer_date(stop(lexer, at), from); }
        time                                { return lexer_clock(stop(lexer, at), from); }
        time [ \t]* dash [ \t]* time        { return lexer_clocks_with_dash(stop(lexer, at), from); }
        "%"                                 { return lexer_token(stop(lexer, at), TOKEN_PERCENT, from); }
        "/"                                 { return lexer_token(stop(lexer, at), TOKEN_SLASH, from); }
        ".."                                { return lexer_token(stop(lexer, at), TOKEN_TO, from); }
        "."                                 { return lexer_token(stop(lexer, at), TOKEN_DOT, from); }
        "+/-"                               { return lexer_token(stop(lexer, at), TOKEN_TOLERANCE, from); }
        ">="                                { return lexer_token(stop(lexer, at), TOKEN_AT_LEAST, from); }
        "<="                                { return lexer_token(stop(lexer, at), TOKEN_AT_MOST, from); }
        "?"                                 { return lexer_token(stop(lexer, at), TOKEN_HOLE, from); }
        ","                                 { return lexer_token(stop(lexer, at), TOKEN_COMMA, from); }
        ";"                                 { return lexer_token(stop(lexer, at), TOKEN_SEMICOLON, from); }
        "{"                                 { return lexer_token(stop(lexer, at), TOKEN_OPEN, from); }
        "}"                                 { return lexer_token(stop(lexer, at), TOKEN_CLOSE, from); }
        "\"\"\"" [ \t\r]* / "\n"            { return lexer_long_text(stop(lexer, at), from); }
        "\"\"\""                            { return lexer_long_text_on_a_line(stop(lexer, at), from); }
        "\"" [^"\\\n\x00]* "\""              { return lexer_token(stop(lexer, at), TOKEN_TEXT, from); }
        "\"" ([^"\\\n\x00] | "\\" [^\n\x00])* "\"" { return lexer_escaped_text(stop(lexer, at), from); }
        "\"" ([^"\\\n\x00] | "\\" [^\n\x00])*      { return lexer_text_open(stop(lexer, at), from); }
        "\x00"                              { if (lexer_at_end(lexer, from)) {
                                                  return lexer_token(stop(lexer, from), TOKEN_END, from);
                                              }
                                              return lexer_strange(stop(lexer, at), from); }
        *                                   { return lexer_strange(stop(lexer, at), from); }
    */
}
