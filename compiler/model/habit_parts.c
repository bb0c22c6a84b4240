/*
 * Amounts in two units, `12 lb 4 oz`, as they are said and not written: only inches go on behind feet, and only behind whole
 * ones. What is meant is told in one unit. See habits.h.
 */
#include "model/habits.h"

#include "base/num.h"
#include "model/jobs.h"
#include "model/meant.h"
#include "model/number.h"

#include <math.h>

/* The number and unit at a cursor, which then stands behind it. */
typedef struct Part {
    Span at;
    Number number;
    UnitPair unit;
} Part;

/* Looks before it reads, so that nothing is told of what is no amount. */
static bool is_amount(const Checker *checker, const Cursor *cursor)
{
    Cursor ahead = *cursor;
    while (cursor_kind(&ahead) == NODE_NUMBER || cursor_kind(&ahead) == NODE_SLASH) {
        ahead.at++;
    }
    return ahead.at > cursor->at && ahead.at < ahead.end && unit_of(checker, ahead.at) != UNIT_NONE;
}

/* False after a message. */
static bool read_part(Checker *checker, Cursor *cursor, Part *part)
{
    NodeId first = cursor->at;
    if (!number_read(checker, cursor, &part->number)) {
        return false;
    }
    part->unit = (UnitPair){.unit = (uint8_t)unit_of(checker, cursor->at), .per = UNIT_NONE};
    part->at = (Span){tree_span(checker->tree, first).start, tree_span(checker->tree, cursor->at).end};
    cursor->at++;
    return true;
}

/* The quantity that was read last, or NULL. */
static const Value *last_read(const Match *m)
{
    const Value *last = NULL;
    for (uint32_t i = 0; i < m->count; i++) {
        const Value *value = &m->values[i];
        if (value->kind == VALUE_QUANTITY && value->node != 0 && (last == NULL || value->node > last->node)) {
            last = value;
        }
    }
    return last;
}

/* Both parts in the unit of the first: `12.25 lb`; feet and inches where they are that. */
static const char *in_one(const Match *m, const Value *value, const Part *part)
{
    double below = copysign(1.0, value->u.quantity.low);
    double si = value->u.quantity.low + below * unit_to_si(part->unit, fabs(part->number.value)); /* the sign of the first is for both */
    double whole = unit_from_si(value->unit, si);
    Buf text;
    buf_init(&text, m->checker->arena);
    if (value->unit.unit == UNIT_FT && part->unit.unit == UNIT_IN) {
        double feet = trunc(whole + copysign(1e-9, whole));
        double inches = fabs(unit_from_si(part->unit, si) - 12.0 * feet);
        buf_text(&text, signbit(si) ? "-" : ""); /* also of nought feet */
        num_write(&text, fabs(feet), 6);
        buf_text(&text, " ft ");
        num_write(&text, inches < 1e-6 ? 0.0 : inches, 6);
        buf_text(&text, " in");
    } else {
        num_write(&text, whole, 6);
        buf_char(&text, ' ');
        unit_write(&text, value->unit);
    }
    return text.text;
}

static const char *wrong_inches(const Match *m, const Value *value, const Part *part)
{
    bool fraction = tree_kind(m->checker->tree, value->node + 1) != NODE_WORD;
    double feet = unit_from_si(value->unit, value->u.quantity.low);
    if (signbit(part->number.value)) {
        return "has a sign of its own behind feet; that of the feet is for both";
    }
    if (fraction || fabs(feet - round(feet)) > 1e-9) {
        return "stands behind feet that are no whole number";
    }
    return "behind feet is a foot or more: inches there are less than 12";
}

bool habit_tell_parts(Match *m)
{
    const Value *value = last_read(m);
    Cursor cursor = m->cursor;
    Part part;
    bool known = value != NULL && !(value->flags & (VALUE_MONEY | VALUE_SIZE | VALUE_NO_LOW | VALUE_NO_HIGH)) &&
                 value->u.quantity.low == value->u.quantity.high && is_amount(m->checker, &cursor);
    if (!known) {
        return false;
    }
    if (!read_part(m->checker, &cursor, &part)) {
        return true;
    }
    bool inches = value->unit.unit == UNIT_FT && part.unit.unit == UNIT_IN && value->unit.per == UNIT_NONE;
    bool lesser = !unit_equal(value->unit, part.unit) && unit_to_si(part.unit, 1.0) < unit_to_si(value->unit, 1.0) &&
                  dimension_equal(unit_dimension(part.unit), unit_dimension(value->unit)) && part.number.aught == 0;
    if (!lesser || cursor.at != cursor.end || isnan(part.number.value)) {
        return false;
    }
    Str written = span_text(m->checker->tree->sources, part.at);
    Message *message =
        inches ? message_report(m->checker->messages, MESSAGE_TERM_UNEXPECTED, part.at, "`%.*s` %s", STR_ARG(written),
                                wrong_inches(m, value, &part))
               : message_report(m->checker->messages, MESSAGE_TERM_UNEXPECTED, part.at,
                                "`%.*s` is left over: an amount has one unit, feet and inches apart", STR_ARG(written));
    if (m->row == &props[PROP_JOB_TAKES] && !job_takes_hours(value)) {
        message_right(m->checker->messages, message, "hours of work alone, `daily` of them in a day, or days of the calendar alone");
    } else {
        message_right(m->checker->messages, message, "`%s`, if both are one", in_one(m, value, &part));
    }
    return true;
}

bool habit_right_elsewhere(Checker *checker, const Cursor *cursor, const UnitElsewhere *unit, Message *message)
{
    double number;
    NodeId at = cursor->at - 1;
    bool plain = tree_kind(checker->tree, at) == NODE_NUMBER && num_read(tree_text(checker->tree, at), &number) &&
                 tree_kind(checker->tree, at - 1) != NODE_SLASH && tree_kind(checker->tree, at - 1) != NODE_TO;
    const char *remark = unit->remark != NULL ? text_format(checker->arena, "; %s", unit->remark) : "";
    if (plain) {
        message_right(checker->messages, message, "`%s %s`, if that is in %s%s", num_text(checker->arena, number * unit->factor, 4),
                      units[unit->unit].word, unit->meaning, remark);
    } else {
        message_right(checker->messages, message, "in `%s`, which is %s times what it is in %s%s", units[unit->unit].word,
                      num_text(checker->arena, unit->factor, 4), unit->meaning, remark);
    }
    return true;
}

static bool measures(UnitPair unit, UnitId as)
{
    return dimension_equal(unit_dimension(unit), unit_dimension((UnitPair){(uint8_t)as, UNIT_NONE}));
}

bool habit_right_of_battery(Checker *checker, const Amount *amount, const Atom *atom, Message *message)
{
    bool one = !amount->money && atom->unit_count == 1 && !atom->size && !atom->money;
    if (one && atom->units[0].unit == UNIT_A && amount->unit.unit == UNIT_CELSIUS) {
        message_right(checker->messages, message, "in A: so many times its `capacity`, if it is a rate of the battery; 1 C of 100 Ah is `100 A`");
        return true;
    }
    if (one && atom->units[0].unit == UNIT_AH && measures(amount->unit, UNIT_WH)) {
        message_right(checker->messages, message, "in Ah: the energy over its `voltage`; 1 kWh at 12.8 V is `78.1 Ah`");
        return true;
    }
    return false;
}

static bool any_word(const void *atom, Str word)
{
    const Atom *of = atom;
    for (uint16_t i = 0; i < of->word_count; i++) {
        if (str_equal(word, of->words[i])) {
            return true;
        }
    }
    return false;
}

bool habit_tell_joined(Match *m)
{
    const Tree *tree = m->checker->tree;
    NodeId at = m->cursor.at;
    bool joined = cursor_kind(&m->cursor) == NODE_SLASH && at + 1 < m->cursor.end && tree_kind(tree, at + 1) == NODE_WORD;
    Span span = {tree_span(tree, at - 1).start, joined ? tree_span(tree, at + 1).end : 0};
    for (uint8_t i = 0; joined && i < m->shape->item_count; i++) {
        const ShapeItem *item = &m->shape->items[i];
        Buf right;
        buf_init(&right, m->checker->arena);
        if (item->kind == ITEM_ATOM &&
            value_meant(&right, m->row->word, span_text(tree->sources, span), any_word, &item->atoms[0])) {
            Message *message = message_report(m->checker->messages, MESSAGE_WORD_UNKNOWN, span, "`%.*s` is one word in `%s`",
                                              STR_ARG(span_text(tree->sources, span)), m->row->word);
            message_right(m->checker->messages, message, "%s", right.text);
            return true;
        }
    }
    return false;
}

/* Where `10 ft 0 in` stands among the terms that were read: the last of that form; empty if none. */
static Span feet_and_inches(const Match *m)
{
    const Tree *tree = m->checker->tree;
    NodeId inches = 0;
    for (NodeId at = m->cursor.end - 1; at > m->cursor.statement; at--) {
        NodeKind kind = tree_kind(tree, at);
        bool feet = inches != 0 && kind == NODE_WORD && unit_of(m->checker, at) == UNIT_FT;
        if (feet && at + 1 < inches) {
            return (Span){tree_span(tree, at - 1).start, tree_span(tree, inches).end};
        }
        inches = kind != NODE_WORD ? inches : unit_of(m->checker, at) == UNIT_IN ? at : 0;
    }
    return (Span){0, 0};
}

bool habit_right_parts(const Match *m, Message *message)
{
    Span at = feet_and_inches(m);
    if (at.end == 0) {
        return false;
    }
    message_right(m->checker->messages, message, "`%.*s` is one length: of two, the second is in feet too, or in feet and inches",
                  STR_ARG(span_text(m->checker->tree->sources, at)));
    return true;
}
