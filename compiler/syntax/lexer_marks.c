/* Several marks in one, as they are printed on gear. See lexer.h. */
#include "syntax/lexer.h"

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
