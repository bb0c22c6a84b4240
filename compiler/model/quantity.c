/*
 * Quantities: numbers with their units, exact or undecided, turned to SI.
 *
 *   quantity  = "?" | (">=" | "<=") amount | amount [".." amount | "+/-" (number "%" | amount)]
 */
#include "model/amount.h"

#include "base/num.h"
#include "language/suggest.h"

#include <math.h>
#include <string.h>

static Span from_to(const Checker *checker, NodeId first, const Cursor *cursor)
{
    return (Span){tree_span(checker->tree, first).start, tree_span(checker->tree, cursor->at - 1).end};
}

static bool same_measure(const Amount *a, const Amount *b, const Atom *atom)
{
    if (atom->size) {
        return a->unit.unit == b->unit.unit;
    }
    return a->money == b->money && dimension_equal(unit_dimension(a->unit), unit_dimension(b->unit));
}

/* A job's hours are of work, so many in a day; its days are of the calendar: one cannot be the other's tolerance or other end. */
static bool mixes_work(const Amount *a, const Amount *b, const QuantityPlace *place)
{
    return place->row == &props[PROP_JOB_TAKES] && unit_is_of_the_clock(a->unit) != unit_is_of_the_clock(b->unit);
}

static bool tell_mixed_work(Checker *checker, Span at)
{
    Message *m = checker_tell(checker, MESSAGE_RANGE_UNITS, at, "hours of a job are of work, and its days are of the calendar");
    message_right(checker->messages, m, "hours alone, such as `24..72 h`, or days alone");
    return false;
}

/* `from` is the low end in SI, if it has a unit of its own. */
static bool read_range(Checker *checker, Cursor *cursor, const QuantityPlace *place, NodeId first, Amount *low, Interval from,
                       Value *value)
{
    cursor->at++; /* .. */
    if (cursor_kind(cursor) != NODE_NUMBER) {
        Message *m = checker_tell(checker, MESSAGE_TERM_MISSING, cursor_span(cursor), "a range has a number on both sides of `..`");
        message_right(checker->messages, m, "`30..50 l`; a range without an upper end is `>= 30 l`");
        return false;
    }
    NodeId second = cursor->at;
    Amount high;
    Interval to;
    if (!amount_read(checker, cursor, place, false, &high)) {
        return false;
    }
    if (!amount_finish(checker, &high, NULL, place, from_to(checker, second, cursor), &to) ||
        !amount_read_inches(checker, cursor, place, &high, &to)) {
        return false;
    }
    if (low->has_unit && !same_measure(low, &high, place->atom)) {
        Message *m = checker_tell(checker, MESSAGE_RANGE_UNITS, from_to(checker, first, cursor),
                          "the two ends of this range do not measure the same");
        message_right(checker->messages, m, "both ends in one unit");
        return false;
    }
    if (low->has_unit && mixes_work(low, &high, place)) {
        return tell_mixed_work(checker, from_to(checker, first, cursor));
    }
    if (!low->has_unit && !amount_finish(checker, low, &high, place, from_to(checker, first, cursor), &from)) {
        return false;
    }
    if (from.low > to.high) {
        Message *m = checker_tell(checker, MESSAGE_RANGE_ORDER, from_to(checker, first, cursor),
                          place->atom->size ? "a range of sizes runs from the thin one to the thick one"
                                           : "a range runs from the lesser to the greater");
        message_right(checker->messages, m, "the two ends the other way round");
        return false;
    }
    value->u.quantity.low = from.low;
    value->u.quantity.high = to.high;
    value->unit = high.unit;
    return true;
}

/* `si` is the value in SI, if it has a unit of its own. */
static bool read_tolerance(Checker *checker, Cursor *cursor, const QuantityPlace *place, NodeId first, Amount *middle,
                           Interval si, Value *value)
{
    cursor->at++; /* +/- */
    Number number;
    if (place->atom->size) {
        Message *m = checker_tell(checker, MESSAGE_TOLERANCE, tree_span(checker->tree, cursor->at - 1), "a conductor is of one of the sizes that are made, without a tolerance");
        message_right(checker->messages, m, "the size, or a range between two of them, such as `6 mm2..10 mm2`");
        return false;
    }
    if (cursor_kind(cursor) != NODE_NUMBER) {
        Message *m = checker_tell(checker, MESSAGE_TOLERANCE, cursor_span(cursor), "a tolerance is a number");
        message_right(checker->messages, m, "`500 W +/- 10 %%` or `500 +/- 50 W`");
        return false;
    }
    Cursor ahead = *cursor;
    NodeId tolerance = cursor->at;
    if (!number_read(checker, &ahead, &number)) {
        return false;
    }
    Amount delta = {0};
    bool share = cursor_kind(&ahead) == NODE_PERCENT &&
                 !(ahead.at + 1 < ahead.end && tree_kind(checker->tree, ahead.at + 1) == NODE_SLASH);
    if (share && middle->has_unit && isnan(number.value)) {
        return number_tell_no_fraction(checker, from_to(checker, tolerance, &ahead));
    }
    if (share && middle->has_unit) {
        ahead.at++;
        *cursor = ahead;
        value->u.quantity.low = si.low - fabs(si.low * number.value) / 100.0;
        value->u.quantity.high = si.high + fabs(si.high * number.value) / 100.0;
        value->unit = middle->unit;
        return true;
    }
    if (!amount_read(checker, cursor, place, false, &delta)) {
        return false;
    }
    if (middle->has_unit && !same_measure(middle, &delta, place->atom)) {
        Message *m = checker_tell(checker, MESSAGE_TOLERANCE, from_to(checker, tolerance, cursor),
                          "the tolerance does not measure the same as the value");
        message_right(checker->messages, m, "`500 W +/- 10 %%` or `500 W +/- 50 W`");
        return false;
    }
    if (middle->has_unit && mixes_work(middle, &delta, place)) {
        return tell_mixed_work(checker, from_to(checker, first, cursor));
    }
    if (!middle->has_unit && !amount_finish(checker, middle, &delta, place, from_to(checker, first, cursor), &si)) {
        return false;
    }
    /* The difference of two readings, so that offsets (temperatures) fall out. */
    Amount zero = delta;
    zero.number.value = 0.0;
    Interval width;
    Interval nothing;
    if (!amount_finish(checker, &delta, NULL, place, from_to(checker, tolerance, cursor), &width) ||
        !amount_finish(checker, &zero, NULL, place, from_to(checker, tolerance, cursor), &nothing)) {
        return false;
    }
    double half = fabs(width.low - nothing.low);
    value->u.quantity.low = si.low - half;
    value->u.quantity.high = si.high + half;
    value->unit = delta.unit;
    return true;
}

/*
 * The schema's limit of a share or an angle, which cannot be any other; else what is said instead. (Other limits are there
 * against slips of the pen, and bound nothing in earnest.)
 */
static double limit_or(const QuantityPlace *place, UnitPair unit, double limit, double otherwise)
{
    bool limited = place->limited && limit != 0.0 && !place->atom->size && place->atom->unit_count > 0;
    Tag tag = unit_tag(unit);
    bool serves = limited && (tag == TAG_RATIO || tag == TAG_ANGLE) &&
                  dimension_serves(unit_dimension(unit), unit_dimension(place->atom->units[0]));
    return serves ? unit_to_si(place->atom->units[0], limit) : otherwise;
}

static bool is_absolute(const Atom *atom)
{
    return atom->unit_count > 0 && unit_tag(atom->units[0]) == TAG_TEMPERATURE;
}

static double lowest_possible(const QuantityPlace *place, UnitPair unit)
{
    bool any = place->row != NULL && (place->row->sign == SIGN_ANY || place->row->sign == SIGN_NOT_POSITIVE);
    double lowest = any && !is_absolute(place->atom) ? -INFINITY : 0.0;
    return limit_or(place, unit, place->least, lowest);
}

static double highest_possible(const QuantityPlace *place, UnitPair unit)
{
    double highest = place->row != NULL && place->row->sign == SIGN_NOT_POSITIVE ? 0.0 : INFINITY;
    return limit_or(place, unit, place->most, highest);
}

static bool read_bound(Checker *checker, Cursor *cursor, const QuantityPlace *place, Value *value)
{
    bool at_least = cursor_kind(cursor) == NODE_AT_LEAST;
    cursor->at++;
    NodeId first = cursor->at;
    if (cursor_kind(cursor) != NODE_NUMBER) {
        Message *m = checker_tell(checker, MESSAGE_TERM_MISSING, cursor_span(cursor), "a bound needs its number");
        message_right(checker->messages, m, "`>= 500 Ah` or `<= 20 kg`");
        return false;
    }
    Amount amount;
    Interval si;
    if (!amount_read(checker, cursor, place, false, &amount) ||
        !amount_finish(checker, &amount, NULL, place, from_to(checker, first, cursor), &si) ||
        !amount_read_inches(checker, cursor, place, &amount, &si)) {
        return false;
    }
    value->unit = amount.unit;
    PropLimit limit = place->row != NULL && place->limited ? (PropLimit)place->row->limit : LIMIT_NONE;
    if (limit == (at_least ? LIMIT_LEAST : LIMIT_MOST)) { /* a budget of at most so much is a budget of that */
        value->u.quantity.low = si.low;
        value->u.quantity.high = si.high;
        return true;
    }
    value->u.quantity.low = at_least ? si.low : fmin(si.high, lowest_possible(place, amount.unit));
    value->u.quantity.high = at_least ? fmax(si.low, highest_possible(place, amount.unit)) : si.high;
    value->flags |= at_least ? VALUE_NO_HIGH : VALUE_NO_LOW;
    return true;
}

static void natural_unit(const Atom *atom, Value *value)
{
    if (atom->size) {
        value->unit.unit = UNIT_MM2;
    } else if (atom->unit_count > 0) {
        value->unit = atom->units[0];
    }
}

static bool read_form(Checker *checker, Cursor *cursor, const QuantityPlace *place, Value *value)
{
    NodeId first = cursor->at;
    NodeKind kind = cursor_kind(cursor);
    if (kind == NODE_HOLE) {
        cursor->at++;
        natural_unit(place->atom, value);
        value->flags |= VALUE_HOLE | VALUE_NO_LOW | VALUE_NO_HIGH;
        value->u.quantity.low = lowest_possible(place, value->unit);
        value->u.quantity.high = highest_possible(place, value->unit);
        value->unit = model_unit(checker->model, value->unit); /* it is told in the owner's units */
        return true;
    }
    if (kind == NODE_AT_LEAST || kind == NODE_AT_MOST) {
        return read_bound(checker, cursor, place, value);
    }
    Amount amount;
    if (!amount_read(checker, cursor, place, true, &amount)) {
        return false;
    }
    Span written = from_to(checker, first, cursor);
    Interval si = point(0.0);
    if (amount.has_unit) {
        if (!amount_finish(checker, &amount, NULL, place, written, &si) ||
            !amount_read_inches(checker, cursor, place, &amount, &si)) {
            return false;
        }
    }
    if (cursor_kind(cursor) == NODE_TO) {
        return read_range(checker, cursor, place, first, &amount, si, value);
    }
    if (cursor_kind(cursor) == NODE_TOLERANCE) {
        return read_tolerance(checker, cursor, place, first, &amount, si, value);
    }
    if (!amount.has_unit && !amount_finish(checker, &amount, NULL, place, written, &si)) {
        return false;
    }
    value->unit = amount.unit;
    value->u.quantity.low = si.low;
    value->u.quantity.high = si.high;
    return true;
}

static bool out_of_range(Checker *checker, const Cursor *cursor, const QuantityPlace *place, const Value *value, const char *why)
{
    Message *m =
        message_report(checker->messages, MESSAGE_OUT_OF_RANGE, from_to(checker, value->node, cursor), "%s", why);
    bool nothing = place->row != NULL && strncmp(place->row->word, "protect", 7) == 0 && value->u.quantity.high == 0.0;
    if (place->row != NULL) {
        message_right(checker->messages, m, nothing ? "`%s`, for example; no such line where there is none" : "`%s`, for example",
                      place->row->example);
    }
    return false;
}

static const char *limit_text(Checker *checker, UnitPair unit, const char *words, double limit)
{
    Buf text;
    buf_init(&text, checker->arena);
    buf_text(&text, words);
    num_write(&text, limit, 6);
    if (unit.unit != UNIT_NONE) {
        buf_char(&text, ' ');
        unit_write(&text, unit);
    }
    return text.text;
}

/* What the schema says that a value in such a unit may be. */
typedef struct Limits {
    UnitPair unit;
    double least, most; /* in that unit; 0: none */
} Limits;

static Limits limits_of(const QuantityPlace *place, UnitPair unit)
{
    const Atom *atom = place->atom;
    if (unit_equal(unit, atom->units[0]) || dimension_serves(unit_dimension(unit), unit_dimension(atom->units[0]))) {
        return (Limits){atom->units[0], place->least, place->most};
    }
    bool second = atom->unit_count > 1 && dimension_serves(unit_dimension(unit), unit_dimension(atom->units[1]));
    return (Limits){second ? atom->units[1] : unit, 0.0, second ? place->most_second : 0.0};
}

/* What is wrong with a value of that sign, or NULL. */
static const char *wrong_sign(const Atom *atom, int sign, double low, double high)
{
    if (low > 0.0 && sign != SIGN_NOT_POSITIVE) {
        return NULL; /* as most are */
    }
    bool negative = low < 0.0 || high < 0.0;
    if (is_absolute(atom) && negative) {
        return "nothing is colder than -273.15 C";
    }
    if (negative && !is_absolute(atom) && sign != SIGN_ANY && sign != SIGN_NOT_POSITIVE) {
        return "this cannot be negative";
    }
    if (sign == SIGN_POSITIVE && high == 0.0) {
        return "this cannot be 0";
    }
    if (sign == SIGN_NOT_POSITIVE && (low > 0.0 || high > 0.0)) {
        return "this is 0 or negative";
    }
    return NULL;
}

/* Whether every value that the owner leaves possible is one that can be. */
static bool within_limits(Checker *checker, const Cursor *cursor, const QuantityPlace *place, const Value *value)
{
    double low = value->u.quantity.low;
    double high = value->u.quantity.high;
    bool may_be_nought = place->row == NULL || (place->row->later_nought && !place->limited);
    const char *wrong = wrong_sign(place->atom, may_be_nought ? SIGN_NOT_NEGATIVE : place->row->sign, low, high);
    if (wrong != NULL) {
        return out_of_range(checker, cursor, place, value, wrong);
    }
    if ((place->least == 0.0 && place->most == 0.0) || place->atom->size || place->atom->unit_count == 0) {
        return true;
    }
    Limits limits = limits_of(place, value->unit);
    if (limits.most != 0.0) {
        double most = unit_to_si(limits.unit, limits.most);
        most += 1e-12 * fabs(most);
        if (low > most || (high > most && !(value->flags & VALUE_NO_HIGH))) {
            return out_of_range(checker, cursor, place, value,
                                limit_text(checker, limits.unit, "this can be at most ", limits.most));
        }
    }
    if (limits.least != 0.0) {
        double least = unit_to_si(limits.unit, limits.least);
        least -= 1e-12 * fabs(least);
        if (high < least || (low < least && !(value->flags & VALUE_NO_LOW))) {
            return out_of_range(checker, cursor, place, value,
                                limit_text(checker, limits.unit, "this is at least ", limits.least));
        }
    }
    return true;
}

/* Every end is a number, unless the owner left it open. */
static bool is_finite(const Value *value)
{
    return (isfinite(value->u.quantity.low) || value->flags & VALUE_NO_LOW) &&
           (isfinite(value->u.quantity.high) || value->flags & VALUE_NO_HIGH);
}

static bool whole_enough(Checker *checker, const Cursor *cursor, const QuantityPlace *place, const Value *value)
{
    double low = value->u.quantity.low;
    double high = value->u.quantity.high;
    if (place->row == NULL || !place->row->whole || !place->limited || (low == floor(low) && high == floor(high))) {
        return true;
    }
    Message *m = message_report(checker->messages, MESSAGE_NOT_WHOLE, from_to(checker, value->node, cursor),
                                "this counts things; it is a whole number");
    message_right(checker->messages, m, "`%s`, for example", place->row->example);
    return false;
}

/* What a small motor takes of its supply, of what its shaft gives: common practice, no source. */
static const double supply_by_shaft = 2.0;

/* "1500 W", "300..450 W": what motors of such shaft power take, to two digits. */
static const char *supply_text(const Checker *checker, const Value *value)
{
    double low = supply_by_shaft * value->u.quantity.low, high = supply_by_shaft * value->u.quantity.high;
    Buf text;
    buf_init(&text, checker->arena);
    if (value->flags & (VALUE_NO_LOW | VALUE_NO_HIGH)) {
        buf_text(&text, value->flags & VALUE_NO_LOW ? "<= " : ">= ");
    } else if (low != high) {
        num_write(&text, low, 2);
        buf_text(&text, "..");
    }
    num_write(&text, value->flags & VALUE_NO_HIGH ? low : high, 2);
    buf_text(&text, " W");
    return text.text;
}

/*
 * What a motor draws is not what its shaft gives, and horsepower stands on its plate for that alone: at 115 V one of 1 hp, 746 W,
 * takes 16 A (NEC Table 430.248, second hand).
 */
static bool is_electric(Checker *checker, const Cursor *cursor, const QuantityPlace *place, const Value *value)
{
    UnitPair unit = value->unit;
    if (place->row == NULL || !place->row->electric || !place->limited || (unit.unit != UNIT_HP && unit.unit != UNIT_PS)) {
        return true;
    }
    Message *m = message_report(checker->messages, MESSAGE_SHAFT_POWER, from_to(checker, value->node, cursor),
                                "horsepower is what the shaft of a motor gives; `%s` is what it takes of its supply, about twice as much",
                                place->row->word);
    message_right(checker->messages, m, "the amps or watts of its plate; until it is read `%s %s`, at the voltage of its circuit",
                  place->row->word, supply_text(checker, value));
    return false;
}

/*
 * Whether a quantity may end before a term of that kind: what would make it a range, a fraction, feet and inches, or give it
 * another unit, may not follow.
 */
static bool may_end_before(NodeKind kind, bool has_unit, bool feet)
{
    switch (kind) {
    case NODE_TO:
    case NODE_TOLERANCE:
    case NODE_SLASH: return false;
    case NODE_NUMBER: return has_unit && !feet;
    case NODE_WORD:
    case NODE_PERCENT: return has_unit;
    default: return true;
    }
}

/* Whether a term is the very unit that its place asks for: of money, the boat's currency. */
static bool is_unit_asked_for(const Checker *checker, const Atom *atom, NodeId term)
{
    if (atom->money) {
        const Node *node = tree_node(checker->tree, term);
        return node->kind == NODE_WORD && node->u.symbol == checker->currency;
    }
    return unit_of(checker, term) == atom->units[0].unit;
}

/* `1.234`, which may be a group of digits: of money that is told. */
static bool has_three_decimals(Str number)
{
    return number.length > 4 && number.text[number.length - 4] == '.';
}

/*
 * The form that most lines have, a number and the very unit that its place asks for: read at once. False, and nothing
 * read, for every other form; those go the long way, which gives the same value.
 */
static bool read_plain(Checker *checker, Cursor *cursor, const Atom *atom, Value *value, double *number)
{
    UnitPair unit = atom->units[0];
    bool has_unit = atom->money || unit.unit != UNIT_NONE;
    if (cursor_kind(cursor) != NODE_NUMBER || atom->size || unit.per != UNIT_NONE) {
        return false;
    }
    NodeId after = cursor->at + 1;
    if (has_unit && (after == cursor->end || !is_unit_asked_for(checker, atom, after++))) {
        return false;
    }
    Str written = cursor_text(cursor);
    if ((after < cursor->end && !may_end_before(tree_kind(checker->tree, after), has_unit, unit.unit == UNIT_FT)) ||
        (atom->money && has_three_decimals(written)) || !num_read(written, number)) {
        return false;
    }
    value->unit = unit;
    value->u.quantity.low = value->u.quantity.high = atom->money ? *number : unit_to_si(unit, *number);
    cursor->at = after;
    return true;
}

/*
 * Whether nothing can be wrong with a number that stands in the unit of its limits: above 0 and within them, where any sort
 * of number may stand. What is not told by that is looked at in SI.
 */
static bool is_plainly_right(const QuantityPlace *place, double number, double si)
{
    return si > 0.0 && isfinite(si) && number >= place->least && (number <= place->most || place->most == 0.0) &&
           (place->row == NULL || (!place->row->whole && place->row->sign != SIGN_NOT_POSITIVE));
}

bool quantity_read(Checker *checker, Cursor *cursor, const QuantityPlace *place, Value *value)
{
    *value = (Value){.kind = VALUE_QUANTITY, .node = cursor->at};
    if (place->atom->money) {
        value->flags |= VALUE_MONEY;
    }
    if (place->atom->size) {
        value->flags |= VALUE_SIZE;
    }
    double number;
    if (read_plain(checker, cursor, place->atom, value, &number)) {
        if (is_plainly_right(place, number, value->u.quantity.high)) {
            return true;
        }
    } else if (!read_form(checker, cursor, place, value)) {
        return false;
    }
    if (place->atom->money && isinf(value->u.quantity.high)) {
        value->flags |= VALUE_NO_HIGH; /* by a rate without a bound */
    }
    if (!is_finite(value)) {
        return number_tell_too_long(checker, from_to(checker, value->node, cursor));
    }
    return within_limits(checker, cursor, place, value) && whole_enough(checker, cursor, place, value) &&
           is_electric(checker, cursor, place, value);
}
