/*
 * Numbers as they are written, before their units.
 *
 *   number    = digits | [digits] digits "/" digits
 */
#include "model/number.h"

#include "base/num.h"
#include "syntax/dashed.h"

#include <math.h>

Message *checker_tell(Checker *checker, MessageId id, Span at, const char *text)
{
    return message_report(checker->messages, id, at, "%s", text);
}

bool number_tell_too_long(Checker *checker, Span at)
{
    Message *m = checker_tell(checker, MESSAGE_NUMBER_LONG, at, "this number is greater than anything aboard");
    message_right(checker->messages, m, "fewer digits, or another unit");
    return false;
}

bool number_tell_no_fraction(Checker *checker, Span at)
{
    Message *m = checker_tell(checker, MESSAGE_TERM_UNEXPECTED, at, "nothing can be divided by 0");
    message_right(checker->messages, m,
                  "a fraction such as `3/4 in` or `1 1/2 in`, or a size such as `2/0 AWG`");
    return false;
}

/* A `_` that no digit stands behind, or before. */
static bool has_stray_mark(Str text)
{
    for (size_t i = 0; i < text.length; i++) {
        if (text.text[i] == '_' && (i == 0 || i + 1 == text.length || !char_is_digit(text.text[i - 1]) || !char_is_digit(text.text[i + 1]))) {
            return true;
        }
    }
    return false;
}

static bool read_digits(Checker *checker, NodeId term, double *value)
{
    Str text = tree_text(checker->tree, term);
    if (num_read(text, value)) {
        return true;
    }
    if (has_stray_mark(text)) {
        Message *m = checker_tell(checker, MESSAGE_TERM_UNEXPECTED, tree_span(checker->tree, term), "`_` stands between two digits of a number and nowhere else");
        message_right(checker->messages, m, "`12_500`, for example");
        return false;
    }
    return number_tell_too_long(checker, tree_span(checker->tree, term));
}

static bool is_negative(const Checker *checker, NodeId term)
{
    return tree_text(checker->tree, term).text[0] == '-';
}

/*
 * What is wrong with a whole number and a fraction, `1 1/4` or as it is written in trade `1-1/4`, or NULL: the sign stands
 * before all of it, and the parts are those of one. `0-1/2` may as well be a range.
 */
static const char *wrong_mixed(const Checker *checker, NodeId first, double whole, double over, double under)
{
    bool dash = is_negative(checker, first + 1);
    if (dash && !(tree_node(checker->tree, first + 1)->flags & NODE_GLUED)) {
        return "the sign of a number stands before all of it, not before its fraction";
    }
    if (whole != floor(whole)) {
        return "a fraction stands behind a whole number, and this one has decimals";
    }
    if (dash && whole == 0.0) {
        return "this may be a range or a fraction";
    }
    return under != 0.0 && fabs(over) >= fabs(under) ? "the fraction behind a whole number is less than one" : NULL;
}

static bool tell_mixed(Checker *checker, NodeId first, const char *wrong)
{
    const Tree *tree = checker->tree;
    Span at = {tree_span(tree, first).start, tree_span(tree, first + 3).end};
    Str whole = tree_text(tree, first), over = tree_text(tree, first + 1), under = tree_text(tree, first + 3);
    size_t sign = over.text[0] == '-';
    Str part = {over.text + sign, over.length - sign};
    Message *m = checker_tell(checker, MESSAGE_TERM_UNEXPECTED, at, wrong);
    bool glued = sign > 0 && tree_node(tree, first + 1)->flags & NODE_GLUED;
    Str fraction = {part.text, (size_t)(under.text + under.length - part.text)};
    Buf right;
    buf_init(&right, checker->arena);
    if (glued) {
        dashed_right(&right, whole, fraction, DASHED_ANY);
    } else {
        dashed_sum(&right, whole, fraction);
        buf_text(&right, sign > 0 ? ", if no two numbers are meant" : ", if both are added up");
    }
    message_right(checker->messages, m, "%s", right.text);
    return false;
}

/* The part behind a whole number belongs to its sign: `-10 1/2` is ten and a half below nought, `10-1/2` ten and a half. */
static double mixed_value(double whole, double over, double under)
{
    return copysign(fabs(whole) + fabs(over) / under, whole);
}

/* number = digits ["/" digits] | digits digits "/" digits */
bool number_read(Checker *checker, Cursor *cursor, Number *number)
{
    *number = (Number){0};
    NodeId first = cursor->at;
    double whole;
    if (!read_digits(checker, cursor->at, &whole)) {
        return false;
    }
    cursor->at++;
    double over = 0.0;
    bool mixed = cursor_kind(cursor) == NODE_NUMBER && cursor->at + 2 < cursor->end &&
                 tree_kind(checker->tree, cursor->at + 1) == NODE_SLASH;
    if (mixed) {
        if (!read_digits(checker, cursor->at, &over)) {
            return false;
        }
        cursor->at++;
    } else {
        over = whole;
    }
    if (cursor_kind(cursor) != NODE_SLASH) {
        *number = (Number){.value = whole, .written = true};
        return true;
    }
    double under;
    bool lacks = cursor->at + 1 >= cursor->end || tree_kind(checker->tree, cursor->at + 1) != NODE_NUMBER;
    if (lacks || is_negative(checker, cursor->at + 1)) {
        Message *m = checker_tell(checker, MESSAGE_TERM_UNEXPECTED, cursor_span(cursor),
                          lacks ? "a number stands on both sides of `/`" : "what stands behind `/` has no sign");
        message_right(checker->messages, m,
                      "a fraction such as `3/4 in` or `1 1/2 in`, or a size such as `2/0 AWG`");
        return false;
    }
    if (!read_digits(checker, cursor->at + 1, &under)) {
        return false;
    }
    const char *wrong = mixed ? wrong_mixed(checker, first, whole, over, under) : NULL;
    if (wrong != NULL) {
        return tell_mixed(checker, first, wrong);
    }
    cursor->at += 2;
    *number = (Number){.written = true, .parts = true};
    if (under == 0.0 && !mixed) {
        number->aught = over >= 1.0 && over <= 4.0 && over == floor(over) ? (int)over : -1;
    } else {
        number->value = under == 0.0 ? NAN : mixed ? mixed_value(whole, over, under) : over / under;
        number->over = over;
        number->under = mixed ? 0.0 : under;
    }
    return true;
}
