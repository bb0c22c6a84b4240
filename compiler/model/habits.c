/* See habits.h. */
#include "model/habits.h"

#include "model/meant.h"

#include <string.h>

/* What stands in the source from a place to the end of its line. */
static Str rest_of_line(const Checker *checker, uint32_t from)
{
    const char *text = span_text(checker->tree->sources, (Span){from, from}).text;
    return (Str){text, strcspn(text, "\n")};
}

static size_t digits(Str text, size_t from)
{
    size_t at = from;
    while (at < text.length && char_is_digit(text.text[at])) {
        at++;
    }
    return at - from;
}

/* ---- Dates ---- */

/* `2026/10/15` and `2026.10.15`: the order is right, what stands between is not. */
static bool right_date(const Match *m, Message *message)
{
    Str text = rest_of_line(m->checker, cursor_span(&m->cursor).start);
    size_t year = digits(text, 0);
    size_t month = year == 4 ? digits(text, 5) : 0;
    size_t day = month > 0 ? digits(text, 6 + month) : 0;
    bool known = month >= 1 && month <= 2 && day >= 1 && day <= 2 && strchr("/.", text.text[4]) != NULL;
    if (known) {
        message_right(m->checker->messages, message, "`%.4s-%s%.*s-%s%.*s`: year, month and day", text.text,
                      month == 1 ? "0" : "", (int)month, text.text + 5, day == 1 ? "0" : "", (int)day,
                      text.text + 6 + month);
    } else {
        message_right(m->checker->messages, message, "`%s`: year, month and day", m->row->example);
    }
    return true;
}

/* ---- Sizes of conductors ---- */

/* `AWG 6` and `AWG6`: the gauge stands first. */
static bool right_gauge(const Match *m, Message *message)
{
    Str word = cursor_text(&m->cursor);
    if (word.length < 3 || memcmp(word.text, "AWG", 3) != 0) {
        return false;
    }
    Str rest = rest_of_line(m->checker, cursor_span(&m->cursor).start + 3);
    size_t blank = strspn(rest.text, " ");
    size_t count = digits(rest, blank);
    bool aught = count > 0 && blank + count + 1 < rest.length && memcmp(rest.text + blank + count, "/0", 2) == 0;
    if (count == 0) {
        return false;
    }
    message_right(m->checker->messages, message, "`%.*s%s AWG`", (int)count, rest.text + blank, aught ? "/0" : "");
    return true;
}

/* `#10 AWG`: what follows is a comment. */
static bool right_comment(const Match *m, Message *message)
{
    uint32_t end = cursor_span(&m->cursor).start;
    Str rest = rest_of_line(m->checker, end);
    size_t blank = strspn(rest.text, " ");
    if (blank + 1 >= rest.length || rest.text[blank] != '#' || !char_is_digit(rest.text[blank + 1])) {
        return false;
    }
    size_t count = digits(rest, blank + 1);
    message_right(m->checker->messages, message, "`%.*s` without `#`, which begins a comment: what follows it is not read",
                  (int)count, rest.text + blank + 1);
    return true;
}

/* ---- Words instead of numbers ---- */

static const struct {
    const char *words; /* a blank between */
    const char *right;
} amounts_in_words[] = {
    {"unknown tbd tba undecided open later", "`?`, while it is not known"},
    {"max maximum max.", "`<=` before the number: at most so much"},
    {"min minimum min.", "`>=` before the number: at least so much"},
    {"approx about ca circa roughly around", "the number, or a range; `estimated` at the end of the line tells how well it is known"},
    {"none nil zero no without", NULL}, /* by what may be 0 */
};

/* What is not there: where it may be 0, that; else nothing is stated, for a fuse of 0 A is none. */
static void right_nothing(const Match *m, Message *message)
{
    if (m->row->sign != SIGN_POSITIVE) {
        message_right(m->checker->messages, message, "`0` with its unit");
    } else if (strncmp(m->row->word, "protect", 7) == 0) {
        message_right(m->checker->messages, message, "no such line: without it the device before it on the way protects its cable, if one does");
    } else {
        message_right(m->checker->messages, message, "no such line: what is not there is not stated");
    }
}

static bool right_amount(const Match *m, Message *message)
{
    for (size_t i = 0; i < sizeof amounts_in_words / sizeof amounts_in_words[0]; i++) {
        if (!word_is_among(cursor_text(&m->cursor), amounts_in_words[i].words)) {
            continue;
        }
        if (amounts_in_words[i].right == NULL) {
            right_nothing(m, message);
        } else {
            message_right(m->checker->messages, message, "%s", amounts_in_words[i].right);
        }
        return true;
    }
    return false;
}

bool habit_right(const Match *m, Message *message, const Atom *atom)
{
    NodeKind kind = cursor_kind(&m->cursor);
    if (kind == NODE_NONE) {
        return right_comment(m, message);
    }
    if (atom->kind == ATOM_DATE && kind == NODE_NUMBER) {
        return right_date(m, message);
    }
    if (atom->kind != ATOM_QUANTITY || kind != NODE_WORD) {
        return false;
    }
    return (atom->size && right_gauge(m, message)) || right_amount(m, message);
}

/* "`50 mm2 conductors 2`" */
static void right_conductors(Checker *checker, Message *message, Str times, Str size, Str unit)
{
    message_right(checker->messages, message, "`%.*s %.*s conductors %.*s`", STR_ARG(size), STR_ARG(unit), STR_ARG(times));
}

bool habit_right_times(Checker *checker, const Cursor *cursor, const Atom *atom, Message *message)
{
    Str word = cursor_text(cursor);
    bool unit = cursor->at + 1 < cursor->end && tree_kind(checker->tree, cursor->at + 1) == NODE_WORD;
    if (!atom->size || word.length < 2 || word.text[0] != 'x' || digits(word, 1) + 1 != word.length || !unit) {
        return false;
    }
    right_conductors(checker, message, tree_text(checker->tree, cursor->at - 1), (Str){word.text + 1, word.length - 1},
                     tree_text(checker->tree, cursor->at + 1));
    return true;
}

/* `12 cu ft`, `3 square metres`: the unit of the language; UNIT_NONE: it is none. `cursor` stands at the first word. */
static UnitId unit_of_two_words(const Checker *checker, const Cursor *cursor)
{
    if (cursor_kind(cursor) != NODE_WORD || cursor->at + 1 >= cursor->end || tree_kind(checker->tree, cursor->at + 1) != NODE_WORD) {
        return UNIT_NONE;
    }
    bool cube = word_is_among(cursor_text(cursor), "cu cubic");
    UnitId side = cube || word_is_among(cursor_text(cursor), "sq square") ? unit_meant(tree_text(checker->tree, cursor->at + 1)) : UNIT_NONE;
    return side != UNIT_NONE ? unit_find(str_from(text_format(checker->arena, "%s%c", units[side].word, cube ? '3' : '2'))) : UNIT_NONE;
}

static bool right_two_words(Checker *checker, const Cursor *cursor, NodeId number, Message *message)
{
    UnitId unit = unit_of_two_words(checker, cursor);
    if (unit != UNIT_NONE) {
        Str written = span_text(checker->tree->sources, (Span){tree_span(checker->tree, number).start, tree_span(checker->tree, cursor->at - 1).end});
        message_right(checker->messages, message, "`%.*s %s`", STR_ARG(written), units[unit].word);
    }
    return unit != UNIT_NONE;
}

bool habit_right_number(Checker *checker, const Cursor *cursor, NodeId number, const Atom *atom, Message *message)
{
    const Tree *tree = checker->tree;
    bool times = cursor->at + 2 < cursor->end && str_is(cursor_text(cursor), "x") &&
                 tree_kind(tree, cursor->at + 1) == NODE_NUMBER && tree_kind(tree, cursor->at + 2) == NODE_WORD;
    if (!atom->size) {
        return !atom->money && right_two_words(checker, cursor, number, message);
    }
    if (times) {
        right_conductors(checker, message, tree_text(tree, number), tree_text(tree, cursor->at + 1),
                         tree_text(tree, cursor->at + 2));
        return true;
    }
    Str written = span_text(tree->sources, (Span){tree_span(tree, number).start, tree_span(tree, cursor->at - 1).end});
    if (written.length == 3 && memcmp(written.text + 1, "/0", 2) == 0) {
        message_right(checker->messages, message, "`%.*s AWG`", STR_ARG(written));
        return true;
    }
    Str under = tree_text(tree, cursor->at - 1);
    size_t gauge = digits(written, 0);
    bool cable = gauge > 0 && gauge + 1 + under.length == written.length && written.text[gauge] == '/' && under.length == 1 &&
                 under.text[0] >= '2' && under.text[0] <= '7';
    if (cable) {
        message_right(checker->messages, message, "`%.*s AWG`, if it is a cable of %.*s conductors of that size", (int)gauge,
                      written.text, STR_ARG(under));
    }
    return cable;
}

/* ---- Speeds of rotation ---- */

static bool takes_unit(const Atom *atom, UnitPair unit)
{
    for (int i = 0; i < atom->unit_count; i++) {
        if (dimension_serves(unit_dimension(unit), unit_dimension(atom->units[i]))) {
            return true;
        }
    }
    return false;
}

bool habit_tell_turns(Checker *checker, const Cursor *cursor, const Atom *atom)
{
    const Tree *tree = checker->tree;
    NodeId unit = cursor->at + 1;
    if (unit + 1 >= cursor->end || !(tree_kind(tree, unit) == NODE_SLASH || tree_kind(tree, unit + 1) == NODE_SLASH)) {
        return false;
    }
    bool bare = tree_kind(tree, unit) == NODE_SLASH;
    NodeId per = unit + (bare ? 1u : 2u);
    bool one = !bare && str_is(tree_text(tree, unit), "1"), turns = takes_unit(atom, (UnitPair){UNIT_RPM, UNIT_NONE});
    bool litres = one && takes_unit(atom, (UnitPair){UNIT_L, UNIT_MIN});
    bool over = bare || one || (turns && word_is_among(tree_text(tree, unit), "U u r R rev revs Rev tr rot turns rpm RPM"));
    bool minute = per < cursor->end && tree_kind(tree, per) == NODE_WORD;
    if (!(litres || turns) || !over || !minute || !word_is_among(tree_text(tree, per), "min Min mn minute")) {
        return false;
    }
    Span at = {tree_span(tree, unit).start, tree_span(tree, per).end};
    Message *m = message_report(checker->messages, MESSAGE_UNIT_UNKNOWN, at, "`%.*s` is not a unit of the language",
                                STR_ARG(span_text(tree->sources, at)));
    message_right(checker->messages, m, litres ? "`%.*s l/min`, with the letter" : "`%.*s rpm`", STR_ARG(cursor_text(cursor)));
    return true;
}

/* ---- Quotes within quotes ---- */

bool habit_tell_quote(Match *m)
{
    const Tree *tree = m->checker->tree;
    NodeId at = m->cursor.at;
    bool behind_text = at > m->cursor.statement + 1 && tree_kind(tree, at - 1) == NODE_TEXT;
    if (!behind_text || !(tree_node(tree, at)->flags & NODE_GLUED)) {
        return false;
    }
    Span quote = {tree_span(tree, at - 1).end - 1, tree_span(tree, at - 1).end};
    Message *message = message_report(m->checker->messages, MESSAGE_TERM_UNEXPECTED, quote,
                                      "this quote ends the text, and more of it stands behind");
    message_right(m->checker->messages, message, "`\\\"` for a quote inside of a text");
    return true;
}

/* ---- The next property on the same line ---- */

static bool is_name(const Checker *checker, NodeId term)
{
    return checker->model->by_symbol[symbol_of(checker, term)] != NULL;
}

/* Appends the terms from `from` on as statements of a block, each from the word of a property of `kind` to the next. */
static void write_block(const Checker *checker, Buf *to, KindId kind, NodeId from, NodeId end)
{
    const Tree *tree = checker->tree;
    for (NodeId at = from; at < end;) {
        NodeId next = at + 1;
        while (next < end && !(tree_kind(tree, next) == NODE_WORD && schema_find_prop(kind, tree_text(tree, next)) != PROP_NONE)) {
            next++;
        }
        NodeId last = next - (tree_kind(tree, next - 1) == NODE_COMMA ? 2 : 1);
        buf_text(to, at == from ? "" : "; ");
        buf_add(to, span_text(tree->sources, (Span){tree_span(tree, at).start, tree_span(tree, last < at ? at : last).end}));
        at = next;
    }
}

/* `feeds main run 1 m`: what tells of the way stands in the block of `feeds`; on a line of its own it would tell of another. */
static void right_block(const Match *m, Message *message, NodeId at)
{
    const Checker *checker = m->checker;
    const Tree *tree = checker->tree;
    NodeId statement = m->cursor.statement;
    if (tree_node(tree, statement)->flags & NODE_HAS_BLOCK) {
        message_right(checker->messages, message, "`%.*s` inside of the braces", STR_ARG(tree_text(tree, at)));
        return;
    }
    Buf block;
    buf_init(&block, checker->arena);
    write_block(checker, &block, (KindId)m->row->block, at, statement + 1 + tree_node(tree, statement)->terms);
    NodeId before = at - (tree_kind(tree, at - 1) == NODE_COMMA ? 2 : 1);
    Str own = span_text(tree->sources, (Span){tree_span(tree, statement + 1).start, tree_span(tree, before).end});
    message_right(checker->messages, message, "`%.*s { %s }`: the cable of that way stands in a block of its own", STR_ARG(own),
                  block.text);
}

/* Whether a term is a word of the thing's properties, or of those in the block of the one at hand, and no thing's name. */
bool habit_is_property(const Match *m, NodeId term)
{
    const Checker *checker = m->checker;
    if (tree_kind(checker->tree, term) != NODE_WORD || is_name(checker, term)) {
        return false;
    }
    Str word = tree_text(checker->tree, term);
    bool inside = m->row->block != KIND_NONE && schema_find_prop((KindId)m->row->block, word) != PROP_NONE;
    return inside || (m->entity != NULL && schema_find_prop((KindId)m->entity->kind, word) != PROP_NONE);
}

bool habit_tell_property(Match *m)
{
    const Checker *checker = m->checker;
    NodeId at = m->cursor.at;
    if (at >= m->cursor.end || !habit_is_property(m, at)) {
        return false;
    }
    Str word = cursor_text(&m->cursor);
    bool comma = tree_kind(checker->tree, at - 1) == NODE_COMMA;
    Message *message = message_report(m->checker->messages, MESSAGE_TERM_UNEXPECTED, cursor_span(&m->cursor),
                                      "`%.*s` begins another property, and `%s` has not ended", STR_ARG(word), m->row->word);
    if (m->row->block != KIND_NONE && schema_find_prop((KindId)m->row->block, word) != PROP_NONE) {
        right_block(m, message, at);
    } else {
        message_right(m->checker->messages, message, comma ? "`; %.*s` without the comma, or `%.*s` on a new line"
                                                           : "`; %.*s`, or `%.*s` on a new line",
                      STR_ARG(word), STR_ARG(word));
    }
    return true;
}

/* ISO 4217: the currencies whose coin is a thousandth. */
static bool has_thousandths(Str code)
{
    static const char *const codes[] = {"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"};
    for (size_t i = 0; i < sizeof codes / sizeof codes[0]; i++) {
        if (str_is(code, codes[i])) {
            return true;
        }
    }
    return false;
}

static bool is_number_at(const Checker *checker, NodeId at, NodeId end)
{
    return at < end && tree_kind(checker->tree, at) == NODE_NUMBER;
}

static size_t point_in(Str number)
{
    size_t at = 0;
    while (at < number.length && number.text[at] != '.') {
        at++;
    }
    return at;
}

bool habit_tell_groups(Checker *checker, const Cursor *cursor, NodeId number)
{
    const Tree *tree = checker->tree;
    Str word = tree_text(tree, number);
    size_t point = point_in(word);
    bool few = point >= 1 && point <= 3 && word.text[0] != '0' && number + 1 == cursor->at;
    bool comma = few && word.length == point + 4 && cursor_kind(cursor) == NODE_COMMA && is_number_at(checker, cursor->at + 1, cursor->end);
    bool blank = few && word.length == point && is_number_at(checker, cursor->at, cursor->end) && cursor_text(cursor).length >= 3 &&
                 point_in(cursor_text(cursor)) == 3 && digits(cursor_text(cursor), 0) == 3;
    if (!comma && !blank) {
        return false;
    }
    NodeId last = comma ? cursor->at + 1 : cursor->at;
    Span at = {tree_span(tree, number).start, tree_span(tree, last).end};
    Message *m = message_report(checker->messages, MESSAGE_NUMBER_POINTS, at, "%s",
                                comma ? "a point groups the digits of this number, and a comma stands before its decimals"
                                      : "a blank stands between the digits of this number");
    Str rest = tree_text(tree, last);
    if (comma) {
        message_right(checker->messages, m, "`%.*s%.3s.%.*s`: nothing between groups of digits, a point before the decimals",
                      (int)point, word.text, word.text + point + 1, STR_ARG(rest));
    } else {
        message_right(checker->messages, m, "`%.*s%.*s`, or `%.*s_%.*s`", STR_ARG(word), STR_ARG(rest), STR_ARG(word), STR_ARG(rest));
    }
    return true;
}

bool habit_tell_grouped(Checker *checker, const Cursor *cursor, NodeId number)
{
    Str word = tree_text(checker->tree, number);
    Str dot = {word.text, point_in(word)};
    bool three = dot.length >= 1 && dot.length <= 3 && word.text[0] != '0' && word.length == dot.length + 4;
    if (!three || (cursor_kind(cursor) == NODE_WORD && has_thousandths(cursor_text(cursor)))) {
        return false;
    }
    bool cents = cursor_kind(cursor) == NODE_COMMA && cursor->at + 1 < cursor->end &&
                 tree_kind(checker->tree, cursor->at + 1) == NODE_NUMBER;
    Str after = cents ? tree_text(checker->tree, cursor->at + 1) : (Str){"", 0};
    Span at = tree_span(checker->tree, number);
    at.end = cents ? tree_span(checker->tree, cursor->at + 1).end : at.end;
    Message *m = message_report(checker->messages, MESSAGE_NUMBER_POINTS, at,
                                cents ? "a point groups the digits of this amount, and a comma stands before its cents"
                                      : "`%.*s` has three digits behind its point, and no such coin is made",
                                STR_ARG(word));
    const char *thousands = text_format(checker->arena, "%.*s%.3s", STR_ARG(dot), dot.text + dot.length + 1);
    if (cents) {
        message_right(checker->messages, m, "`%s.%.*s`: nothing between groups of digits, a point before the cents", thousands,
                      STR_ARG(after));
    } else {
        message_right(checker->messages, m, "`%s`, if the point was to group digits; else with two digits behind it, `%.*s.%.2s`",
                      thousands, STR_ARG(dot), dot.text + dot.length + 1);
    }
    return true;
}
