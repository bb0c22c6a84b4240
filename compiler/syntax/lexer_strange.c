/*
 * Characters that have no place in a spec, and what they stand in for: typographic quotes, dashes and blanks, and
 * words with a hyphen that is none. See lexer.h.
 */
#include "syntax/lexer.h"

#include "language/unit.h"

/* A usual stranger: its bytes, what it is called if it cannot be seen, and what is written for it here. */
typedef struct Stranger {
    const char *bytes;
    const char *called;
    const char *right;
} Stranger;

static const Stranger strangers[] = {
    {"\xC2\xB0", NULL, "`C` for temperatures, `degC` for differences, `deg` for angles"},
    {"\xC2\xB5", NULL, "`u`, as in `um`"},
    {"\xCE\xBC", NULL, "`u`, as in `um`"},
    {"\xC2\xB2", NULL, "`mm2`, `m2`"},
    {"\xC2\xB3", NULL, "`m3`, `cm3`"},
    {"\xCE\xA9", NULL, "`ohm`, `mohm`"},
    {"\xE2\x84\xA6", NULL, "`ohm`, `mohm`"},
    {"\xC2\xBD", NULL, "`1/2`, as in `1 1/2 in`"},
    {"\xC2\xBC", NULL, "`1/4`"},
    {"\xC2\xBE", NULL, "`3/4`"},
    {"\xC2\xB1", NULL, "`+/-`"},
    {"\xE2\x89\x88", NULL, "`+/-`, or `estimated` at the end of the line"},
    {"~", NULL, "`+/-`, or `estimated` at the end of the line"},
    {"\xC3\x97", NULL, "`by` between lengths"},
    {"\xE2\x80\x93", NULL, "`..` for a range, `-` in a name"},
    {"\xE2\x80\x94", NULL, "`..` for a range, `-` in a name"},
    {"\xE2\x88\x92", NULL, "`-`"},
    {"\xE2\x80\x90", NULL, "`-`, the hyphen of the keyboard"},
    {"\xE2\x80\x91", NULL, "`-`, the hyphen of the keyboard"},
    {"\xE2\x80\x92", NULL, "`-`, the hyphen of the keyboard"},
    {"\xC2\xAD", "a soft hyphen, which is often not shown,", "`-`, the hyphen of the keyboard"},
    {"\xE2\x80\xA6", NULL, "`..`"},
    {"\xE2\x80\x9C", NULL, "straight quotes, `\"`"},
    {"\xE2\x80\x9D", NULL, "straight quotes, `\"`"},
    {"\xE2\x80\x9E", NULL, "straight quotes, `\"`"},
    {"\xE2\x80\x98", NULL, "straight double quotes, `\"`"},
    {"\xE2\x80\x99", NULL, "straight double quotes, `\"`, round a text; `ft` behind a number of feet, as in `27 ft 6 in`"},
    {"'", NULL, "straight double quotes, `\"`, round a text; `ft` behind a number of feet, as in `27 ft 6 in`"},
    {"`", NULL, "straight double quotes, `\"`"},
    {"\xE2\x80\xB2", NULL, "`ft` for feet"},
    {"\xE2\x80\xB3", NULL, "`in` for inches"},
    {"\xE2\x82\xAC", NULL, "`EUR` after the amount"},
    {"\xC2\xA3", NULL, "`GBP` after the amount"},
    {"$", NULL, "a currency code after the amount, such as `USD`"},
    {"\xE2\x89\xA5", NULL, "`>=`"},
    {"\xE2\x89\xA4", NULL, "`<=`"},
    {">", NULL, "`>=`"},
    {"<", NULL, "`<=`"},
    {":", NULL, "a blank between a property and its value"},
    {"=", NULL, "a blank between a property and its value"},
    {"&", NULL, "a comma between the members of a list"},
    {"@", NULL, "`at`"},
    {"+", NULL, "no sign: a number without one is above 0"},
    {"-", NULL, "`-` directly before a number below 0, `..` for a range, nothing before a property"},
    {"\xE2\x80\xA2", NULL, "nothing: each statement stands on a line of its own"},
    {"*", NULL, "nothing: each statement stands on a line of its own"},
    {"(", NULL, "`{` where a block begins, `#` before a remark"},
    {"[", NULL, "`{` where a block begins, `#` before a remark"},
    {")", NULL, "`}` where a block ends, nothing behind a remark"},
    {"]", NULL, "`}` where a block ends, nothing behind a remark"},
    {"\\", NULL, "a comma at the end of a line of which the next one is a part"},
    {"\xC2\xA0", "a blank that does not break lines", "an ordinary blank in its place"},
    {"\xE2\x80\xAF", "a narrow blank that does not break lines", "an ordinary blank in its place"},
    {"\xE2\x80\x8B", "a character without width", "the line typed anew: it cannot be seen"},
    {"\xEF\xBB\xBF", "a byte-order mark inside of the file", "the line typed anew: it cannot be seen"},
};

static const Stranger *stranger_at(const unsigned char *from)
{
    for (size_t i = 0; i < sizeof strangers / sizeof strangers[0]; i++) {
        if (strncmp((const char *)from, strangers[i].bytes, strlen(strangers[i].bytes)) == 0) {
            return &strangers[i];
        }
    }
    return NULL;
}

static size_t character_length(const Lexer *lexer, const unsigned char *from)
{
    size_t left = lexer->source->length - (size_t)((const char *)from - lexer->source->text);
    size_t length = utf8_length(from, left);
    return length > 0 ? length : 1;
}

/* `1-2-both`, as the switch has it on its face; `-2` in it is a number, so the hyphen at hand is the second. */
static bool is_on_both(const Lexer *lexer, const unsigned char *hyphen)
{
    static const char *const faces[] = {"1-2-both", "1-2-Both", "1-2-BOTH", "1-2-all"};
    const char *begin = (const char *)hyphen - strlen("1-2");
    for (size_t i = 0; i < sizeof faces / sizeof faces[0] && begin >= lexer->source->text; i++) {
        if (strncmp(begin, faces[i], strlen(faces[i])) == 0) {
            return true;
        }
    }
    return false;
}

static void tell_strange(Lexer *lexer, Span at, const unsigned char *from)
{
    const Stranger *known = stranger_at(from);
    Message *m;
    if (*from < 0x20 || *from == 0x7F) {
        m = message_report(lexer->messages, MESSAGE_STRANGE_CHARACTER, at,
                           "a control character (byte %d) has no place in a spec", *from);
        message_right(lexer->messages, m, "the line typed anew: it cannot be seen");
        return;
    }
    if (known != NULL && known->called != NULL) {
        m = message_report(lexer->messages, MESSAGE_STRANGE_CHARACTER, at,
                           "%s has no place outside of quotes and comments", known->called);
    } else {
        m = message_report(lexer->messages, MESSAGE_STRANGE_CHARACTER, at,
                           "`%.*s` has no meaning outside of quotes and comments",
                           STR_ARG(lexer_text(from, from + character_length(lexer, from))));
    }
    message_right(lexer->messages, m, "%s",
                  is_on_both(lexer, from) ? "`works-as parallel`, for a switch with 1, 2 and both"
                  : known != NULL         ? known->right
                                  : "nothing in its place, or quotes around the text that it is part of");
}

/* Whether a bracket closes one that was told on the same line: it is the same mistake. */
static bool closes_told(Lexer *lexer, const unsigned char *from)
{
    const unsigned char *open = lexer->bracket;
    bool opens = *from == '(' || *from == '[';
    bool pair = open != NULL && *from == (*open == '(' ? ')' : ']') && memchr(open, '\n', (size_t)(from - open)) == NULL;
    lexer->bracket = opens ? from : pair ? NULL : open;
    return pair;
}

static bool is_curly_quote(const unsigned char *at, bool opening)
{
    return at[0] == 0xE2 && at[1] == 0x80 && (at[2] == 0x9C || at[2] == (opening ? 0x9E : 0x9D));
}

/* The end of a text in curly quotes, which is one mistake; NULL if it does not end on its line. */
static const unsigned char *curly_text_end(const unsigned char *from, const Lexer *lexer)
{
    const unsigned char *end = lexer_line_end(lexer, from);
    for (const unsigned char *c = from + 3; c + 3 <= end; c++) {
        if (is_curly_quote(c, false)) {
            return c + 3;
        }
    }
    return NULL;
}

/* A character that begins no token. Several of one sort in a row are one mistake. */
TokenKind lexer_strange(Lexer *lexer, const unsigned char *from)
{
    bool begins_line = (const char *)from == lexer->source->text || from[-1] == '\n';
    const unsigned char *merge = begins_line ? lexer_merge_line(lexer, from, false) : NULL;
    if (merge != NULL) {
        lexer->at = merge;
        return lexer_token(lexer, TOKEN_COMMENT, from);
    }
    size_t length = character_length(lexer, from);
    const unsigned char *curly = is_curly_quote(from, true) ? curly_text_end(from, lexer) : NULL;
    lexer->at = curly != NULL ? curly : from + length;
    while (*from != 0 && strncmp((const char *)lexer->at, (const char *)from, length) == 0) {
        lexer->at += length;
    }
    Span at = lexer_span(lexer, from, lexer->at);
    if (!closes_told(lexer, from)) {
        tell_strange(lexer, at, from);
    }
    if (*from == 0) {
        lexer_skip_spoilt_line(lexer, from); /* it may stand in a comment: what follows it is nobody's statement */
    }
    return lexer_token(lexer, TOKEN_BAD, from);
}

/* How far the hyphens and dashes go that stand beside each other from here on, and whether one is odd. */
static size_t hyphens_length(Str word, size_t from, bool *odd)
{
    size_t end = from;
    *odd = false;
    for (size_t length = 1; end < word.length && length > 0; end += length) {
        length = lexer_hyphen_length((const unsigned char *)word.text + end);
        *odd |= length > 0;
        length = word.text[end] == '-' ? 1 : length;
    }
    return end - from;
}

/*
 * A word with the hyphen of the keyboard for each other one and for `_`; empty if something else in it is strange. Those
 * beside each other, such as one for the eye and a soft one, are one.
 */
static Str with_hyphens(const Lexer *lexer, Str word)
{
    char *copy = arena_alloc(lexer->messages->arena, word.length + 1);
    size_t length = 0;
    for (size_t i = 0; i < word.length;) {
        bool odd;
        size_t hyphens = hyphens_length(word, i, &odd);
        bool plain = char_is_letter(word.text[i]) || char_is_digit(word.text[i]) || (word.text[i] == '-' && !odd);
        if (!odd && !plain && word.text[i] != '_') {
            return (Str){"", 0};
        }
        copy[length++] = plain ? word.text[i] : '-';
        i += odd ? hyphens : 1;
    }
    return (Str){copy, copy[length - 1] == '-' ? 0 : length};
}

/* `40 A–60 A`, a range of currents: the unit ends where the dash begins. Else the end of the whole word. */
static const unsigned char *unit_end(const Lexer *lexer, const unsigned char *from, const unsigned char *odd, const unsigned char *end)
{
    const unsigned char *behind = odd + lexer_hyphen_length(odd), *before = from;
    while (before > (const unsigned char *)lexer->source->text && before[-1] == ' ') {
        before--;
    }
    bool amount = before > (const unsigned char *)lexer->source->text && char_is_digit((char)before[-1]);
    bool range = amount && behind > odd && char_is_digit((char)*behind) && unit_find(lexer_text(from, odd)) != UNIT_NONE;
    return range ? odd : end;
}

static void tell_odd(Lexer *lexer, const unsigned char *odd, Str word, Str mended)
{
    Span at = lexer_span(lexer, odd, odd + character_length(lexer, odd));
    if (mended.length > 0) {
        bool soft = *odd == 0xC2;
        Message *m = message_report(lexer->messages, MESSAGE_STRANGE_CHARACTER, at,
                                    *odd == '_' ? "`%.*s` cannot stand in a name"
                                    : soft      ? "a soft hyphen stands here, which is often not shown"
                                                : "`%.*s` is not the hyphen of the keyboard",
                                    STR_ARG(lexer_text(odd, odd + character_length(lexer, odd))));
        message_right(lexer->messages, m, *odd == '_' ? "`%.*s`" : "`%.*s`, with the hyphen of the keyboard", STR_ARG(mended));
    } else if (stranger_at(odd) != NULL) {
        tell_strange(lexer, at, odd);
    } else {
        Message *m = message_report(lexer->messages, MESSAGE_STRANGE_CHARACTER, at, "`%.*s` cannot stand in a name",
                                    STR_ARG(lexer_text(odd, odd + character_length(lexer, odd))));
        if (*odd == '_') {
            message_right(lexer->messages, m, "`%s`", lexer_with_other_mark(lexer, word, '_', '-'));
        } else {
            message_right(lexer->messages, m,
                          "letters from a to z, digits and hyphens; a title in quotes may have any");
        }
    }
}

/*
 * A word with a letter or a mark in it that no word of the language has: `saloon_cushions`, `mm²`. Where its hyphens alone
 * are wrong it is read as it was meant, for all that it stands for is known.
 */
TokenKind lexer_strange_word(Lexer *lexer, const unsigned char *from)
{
    const unsigned char *odd = from;
    while (*odd < 0x80 && *odd != '_' && *odd != '^') {
        odd++;
    }
    lexer->at = unit_end(lexer, from, odd, lexer->at);
    if (lexer->at == odd) {
        return lexer_token(lexer, TOKEN_WORD, from);
    }
    Span at = lexer_span(lexer, from, lexer->at);
    Str word = lexer_text(from, lexer->at);
    UnitId meant = unit_meant(word);
    if (meant != UNIT_NONE) {
        Message *m = message_report(lexer->messages, MESSAGE_UNIT_UNKNOWN, at, "`%.*s` is not a unit of the language",
                                    STR_ARG(word));
        message_right(lexer->messages, m, "`%s` (%s)", units[meant].word, units[meant].meaning);
        return lexer_token(lexer, TOKEN_BAD, from);
    }
    lexer->mended = with_hyphens(lexer, word);
    lexer->mended_at = at.start;
    tell_odd(lexer, odd, word, lexer->mended);
    return lexer_token(lexer, lexer->mended.length > 0 ? TOKEN_WORD : TOKEN_BAD, from);
}

/* `2026‑03‑14`, copied from where hyphens do not break lines. */
TokenKind lexer_date_with_dashes(Lexer *lexer, const unsigned char *from)
{
    Span at = lexer_span(lexer, from, lexer->at);
    Str written = lexer_text(from, lexer->at);
    Message *m = message_report(lexer->messages, MESSAGE_STRANGE_CHARACTER, at, "the dashes in `%.*s` are not the hyphen of the keyboard",
                                STR_ARG(written));
    message_right(lexer->messages, m, "`%.*s`", STR_ARG(with_hyphens(lexer, written)));
    return lexer_token(lexer, TOKEN_BAD, from);
}
