/* Several in one, as they are printed on gear and in catalogues: marks, and numbers with a dash between. See lexer.h. */
#include "syntax/lexer.h"

#include "syntax/dashed.h"

#include <string.h>

/* `1-A:10-B:C`, the marks of an extinguisher: that for burning liquids is the one in `B`. */
TokenKind lexer_marks(Lexer *lexer, const unsigned char *from)
{
    Span at = lexer_span(lexer, from, lexer->at);
    Str marks = {(const char *)from, (size_t)(lexer->at - from)};
    Message *m = message_report(lexer->messages, MESSAGE_STRANGE_CHARACTER, at,
                                "`%.*s` are several marks, and one is a word of the language", STR_ARG(marks));
    size_t begin = 0;
    for (size_t i = 0; i <= marks.length; i++) {
        if (i < marks.length && marks.text[i] != ':') {
            continue;
        }
        if (i > begin && marks.text[i - 1] == 'B') {
            message_right(lexer->messages, m, "`%.*s`, for burning liquids", (int)(i - begin), marks.text + begin);
            return lexer_token(lexer, TOKEN_BAD, from);
        }
        begin = i + 1;
    }
    message_right(lexer->messages, m, "the one that is meant, without the others");
    return lexer_token(lexer, TOKEN_BAD, from);
}

static bool is_part(unsigned char c)
{
    return char_is_digit((char)c) || c == '_' || c == '.' || c == '/';
}

/* What two numbers are of, by the word behind them. */
static DashedFor what_for(const Lexer *lexer)
{
    const char *at = (const char *)lexer->at;
    at += strspn(at, " ");
    Str unit = {at, strspn(at, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz2")};
    return str_is(unit, "AWG")   ? DASHED_AWG
           : str_is(unit, "SAE") ? DASHED_SAE
           : str_is(unit, "mm2") ? DASHED_MM2
           : str_is(unit, "ft")  ? DASHED_FEET
                                 : DASHED_ANY;
}

/* `1–1/4` as a typesetter writes it, with a soft hyphen, and `30 - 50` with blanks. */
TokenKind lexer_number_with_dash(Lexer *lexer, const unsigned char *from)
{
    const unsigned char *first_end = from + (*from == '-');
    while (is_part(*first_end)) {
        first_end++;
    }
    const unsigned char *second = first_end, *odd = NULL;
    while (!char_is_digit((char)*second)) {
        size_t hyphen = lexer_hyphen_length(second);
        odd = hyphen > 0 && odd == NULL ? second : odd;
        second += hyphen > 0 ? hyphen : 1;
    }
    const unsigned char *end = lexer->at - (lexer->at[-1] == '"');
    Str written = {(const char *)from, (size_t)(end - from)};
    bool soft = odd != NULL && *odd == 0xC2;
    Message *m;
    if (soft) {
        m = message_report(lexer->messages, MESSAGE_STRANGE_CHARACTER, lexer_span(lexer, odd, odd + 2),
                           "a soft hyphen stands here, which is often not shown");
    } else if (odd != NULL && *first_end != ' ') {
        m = message_report(lexer->messages, MESSAGE_STRANGE_CHARACTER, lexer_span(lexer, from, end),
                           "the dash in `%.*s` is not the hyphen of the keyboard", STR_ARG(written));
    } else {
        m = message_report(lexer->messages, MESSAGE_STRANGE_CHARACTER, lexer_span(lexer, from, end),
                           "a dash between two numbers has no meaning");
    }
    Buf right;
    buf_init(&right, lexer->messages->arena);
    dashed_right(&right, (Str){(const char *)from, (size_t)(first_end - from)}, (Str){(const char *)second, (size_t)(end - second)},
                 what_for(lexer));
    message_right(lexer->messages, m, "%s", right.text);
    return lexer_token(lexer, TOKEN_BAD, from);
}
