/*
 * Amounts: numbers with their units, conductor sizes and money, turned to SI.
 *
 *   amount    = number unit [number unit]        the second only for feet and inches
 *   unit      = word ["/" word] | "%" ["/" word]
 */
#include "model/amount.h"

#include "model/habits.h"

#include "base/num.h"
#include "language/suggest.h"
#include "model/meant.h"
#include "model/money.h"
#include "physics/conductor.h"
#include "syntax/dashed.h"

#include <math.h>
#include <string.h>

/* A word that may follow a quantity in its own right is no unit, however unknown. */
static bool is_known_word(const Checker *checker, NodeId term)
{
    Symbol s = tree_node(checker->tree, term)->u.symbol;
    return s == checker->measured || s == checker->labelled || s == checker->estimated ||
           s == checker->guessed;
}

/* What people call their money; dollars, pounds and crowns are those of several countries. */
static const char *code_meant(Str word)
{
    static const struct {
        const char *words, *code;
    } called[] = {
        {"dollar dollars bucks usd Dollar Dollars", "USD"}, {"euro euros eur Euro Euros", "EUR"},
        {"pound pounds sterling quid gbp Pound Pounds", "GBP"},
        {"franken francs franc chf", "CHF"},
    };
    for (size_t i = 0; i < sizeof called / sizeof called[0]; i++) {
        if (word_is_among(word, called[i].words)) {
            return called[i].code;
        }
    }
    return NULL;
}

bool currency_check(Checker *checker, NodeId term)
{
    Str word = tree_text(checker->tree, term);
    if (money_is_code(word)) {
        return true;
    }
    Message *m = message_report(checker->messages, MESSAGE_CURRENCY, tree_span(checker->tree, term),
                                "`%.*s` is not a currency code", STR_ARG(word));
    const char *code = code_meant(word);
    if (code != NULL) {
        message_right(checker->messages, m, "`%s`, if it is that: the three capitals of ISO 4217", code);
    } else {
        message_right(checker->messages, m, "the three capitals of ISO 4217, such as `EUR`");
    }
    return false;
}

static void right_units(Checker *checker, Message *message, const Atom *atom)
{
    Buf right;
    buf_init(&right, checker->arena);
    atom_describe(&right, atom);
    if (!atom->money && atom->unit_count > 0 && atom->units[0].unit != UNIT_NONE) {
        buf_text(&right, ", in `");
        unit_write(&right, atom->units[0]);
        buf_text(&right, "` for example");
    }
    message_right(checker->messages, message, "%s", right.text);
}

static bool serves(const Atom *atom, UnitPair unit)
{
    if (atom->size) {
        return unit.per == UNIT_NONE &&
               (unit.unit == UNIT_MM2 || unit.unit == UNIT_AWG || unit.unit == UNIT_SAE);
    }
    for (int i = 0; i < atom->unit_count; i++) {
        if (dimension_serves(unit_dimension(unit), unit_dimension(atom->units[i]))) {
            return true;
        }
    }
    return false;
}

static bool serves_elsewhere(const Atom *atom, const UnitElsewhere *unit)
{
    return unit != NULL && serves(atom, (UnitPair){.unit = (uint8_t)unit->unit, .per = UNIT_NONE});
}

/* A unit that is none. `over` is what stands before the slash, UNIT_NONE where it stands alone. */
static void tell_unknown_unit(Checker *checker, const Cursor *cursor, Span at, const QuantityPlace *place, UnitId over)
{
    Str word = span_text(checker->tree->sources, at);
    Message *m = message_report(checker->messages, MESSAGE_UNIT_UNKNOWN, at,
                                "`%.*s` is not a unit of the language", STR_ARG(word));
    if (habit_right_times(checker, cursor, place->atom, m) ||
        (over == UNIT_NONE && serves_elsewhere(place->atom, unit_elsewhere(word)) &&
         habit_right_elsewhere(checker, cursor, unit_elsewhere(word), m))) {
        return;
    }
    UnitId meant = unit_meant(word);
    UnitPair whole = {.unit = (uint8_t)(over != UNIT_NONE ? over : meant),
                      .per = (uint8_t)(over != UNIT_NONE ? meant : UNIT_NONE)};
    if (meant != UNIT_NONE && serves(place->atom, whole)) {
        bool plain = strcmp(units[meant].word, units[meant].meaning) == 0;
        message_right(checker->messages, m, plain ? "`%s`" : "`%s` (%s)", units[meant].word,
                      units[meant].meaning);
    } else if (over != UNIT_NONE && place->row != NULL) {
        message_right(checker->messages, m, "`%s`, for example", place->row->example);
    } else {
        right_units(checker, m, place->atom);
    }
}

/* unit = (word | "%") ["/" word]; has_unit stays false if there is none. False after a message. */
static bool read_unit(Checker *checker, Cursor *cursor, const QuantityPlace *place, Amount *amount)
{
    const Atom *atom = place->atom;
    NodeKind kind = cursor_kind(cursor);
    if (kind != NODE_PERCENT && kind != NODE_WORD) {
        return true;
    }
    amount->unit_span = cursor_span(cursor);
    if (atom->money && kind == NODE_WORD) {
        amount->currency = cursor_text(cursor);
        if (!money_is_code(amount->currency)) {
            return true;
        }
        amount->money = true;
        amount->has_unit = true;
        cursor->at++;
        return true;
    }
    UnitId unit = unit_of(checker, cursor->at);
    bool compound = cursor->at + 1 < cursor->end && tree_kind(checker->tree, cursor->at + 1) == NODE_SLASH;
    if (unit == UNIT_NONE) {
        bool plain = atom->unit_count > 0 && atom->units[0].unit == UNIT_NONE && !atom->money;
        bool glued = tree_node(checker->tree, cursor->at)->flags & NODE_GLUED;
        if ((plain && !glued) || (!glued && !compound && is_known_word(checker, cursor->at))) {
            return true;
        }
        return true; /* decided by read_amount, which knows what else may follow */
    }
    cursor->at++;
    amount->unit.unit = (uint8_t)unit;
    if (compound) {
        UnitId per = cursor->at + 1 < cursor->end ? unit_of(checker, cursor->at + 1) : UNIT_NONE;
        if (per == UNIT_NONE) {
            cursor->at++;
            tell_unknown_unit(checker, cursor, cursor_span(cursor), place, unit);
            return false;
        }
        amount->unit_span.end = tree_span(checker->tree, cursor->at + 1).end;
        amount->unit.per = (uint8_t)per;
        cursor->at += 2;
    }
    amount->has_unit = true;
    return true;
}

static bool wants_plain_number(const Atom *atom)
{
    return !atom->money && atom->unit_count > 0 && atom->units[0].unit == UNIT_NONE;
}

static void tell_other(Checker *checker, const Amount *amount, const Atom *atom, const PropRow *row)
{
    Buf wanted;
    buf_init(&wanted, checker->arena);
    atom_describe(&wanted, atom);
    Str written = span_text(checker->tree->sources, amount->unit_span);
    const char *is = amount->money ? "money" : dimension_name(unit_dimension(amount->unit));
    Message *m = message_report(checker->messages, MESSAGE_UNIT_OTHER, amount->unit_span,
                                "`%.*s` measures %s; %s belongs here", STR_ARG(written), is, wanted.text);
    if (habit_right_of_battery(checker, amount, atom, m)) {
        return;
    }
    const Conductor *meant = atom->size && str_is(written, "mm") ? conductor_find(SERIES_METRIC, amount->number.value * 1e-6) : NULL;
    if (row == &props[PROP_ENGINE_CONSUMPTION] && !amount->money &&
        dimension_equal(unit_dimension(amount->unit), unit_dimension((UnitPair){UNIT_KW, UNIT_NONE}))) {
        message_right(checker->messages, m, "of an electric engine `%s`, for example", props[PROP_ENGINE_TAKES].example);
    } else if (meant != NULL && row != NULL) {
        message_right(checker->messages, m, "`%s %s`: metric conductors are told by their area", row->word, meant->word);
    } else if (row != NULL) {
        message_right(checker->messages, m, "`%s`, for example", row->example);
    }
}

/* `40 to 60 l` and `16-20 kg`: the second number of what is meant to be a range; 0 if it is none. */
static NodeId range_in_words(const Cursor *cursor)
{
    const Tree *tree = cursor->tree;
    Str next = cursor_text(cursor);
    bool word = cursor_kind(cursor) == NODE_WORD && (str_is(next, "to") || str_is(next, "or"));
    NodeId second = cursor->at + (word ? 1u : 0u);
    if (second >= cursor->end || tree_kind(tree, second) != NODE_NUMBER) {
        return 0;
    }
    bool dash = tree_node(tree, second)->flags & NODE_GLUED && tree_text(tree, second).text[0] == '-';
    return word || dash ? second : 0;
}

static void tell_range_in_words(Checker *checker, const Cursor *cursor, NodeId number, NodeId second, const Atom *atom)
{
    const Tree *tree = checker->tree;
    bool slash = second + 2 < cursor->end && tree_kind(tree, second + 1) == NODE_SLASH;
    NodeId last = second + (slash ? 2 : 0);
    Str to = span_text(tree->sources, (Span){tree_span(tree, second).start, tree_span(tree, last).end});
    bool dash = to.text[0] == '-';
    Span at = {tree_span(tree, number).start, tree_span(tree, last).end};
    Message *m =
        message_report(checker->messages, MESSAGE_TERM_UNEXPECTED, at, "a range has `..` between its ends");
    NodeId behind = cursor->at - 1;
    Str from = span_text(tree->sources, (Span){tree_span(tree, number).start, tree_span(tree, behind).end});
    bool feet = dash && !slash && !atom->size && !atom->money && atom->unit_count > 0 &&
                dimension_equal(unit_dimension(atom->units[0]), unit_dimension((UnitPair){UNIT_FT, UNIT_NONE}));
    UnitId unit = last + 1 < cursor->end ? unit_of(checker, last + 1) : UNIT_NONE;
    DashedFor size = unit == UNIT_MM2 ? DASHED_MM2 : unit == UNIT_SAE ? DASHED_SAE : unit == UNIT_AWG ? DASHED_AWG : DASHED_SIZE;
    Buf right;
    buf_init(&right, checker->arena);
    dashed_right(&right, from, (Str){to.text + dash, to.length - dash}, feet ? DASHED_FEET : atom->size ? size : DASHED_ANY);
    message_right(checker->messages, m, "%s", right.text);
}

/* A number that should have had a unit. */
static void tell_missing(Checker *checker, Cursor *cursor, NodeId number, const Atom *atom,
                         const PropRow *row)
{
    NodeId second = range_in_words(cursor);
    if (second != 0) {
        tell_range_in_words(checker, cursor, number, second, atom);
        return;
    }
    Span at = tree_span(checker->tree, number);
    if (cursor->at > number) {
        at.end = tree_span(checker->tree, cursor->at - 1).end;
    }
    Message *m = message_report(checker->messages, MESSAGE_UNIT_MISSING, at, "`%.*s` needs %s",
                                STR_ARG(span_text(checker->tree->sources, at)),
                                atom->money ? "its currency" : "a unit");
    if (habit_right_number(checker, cursor, number, atom, m)) {
        return;
    }
    Buf right;
    buf_init(&right, checker->arena);
    if (atom->money) {
        buf_text(&right, "a currency code after the amount");
    } else {
        atom_describe(&right, atom);
    }
    if (row != NULL) {
        buf_format(&right, ", such as `%s`", row->example);
    }
    message_right(checker->messages, m, "%s", right.text);
}

/* Where money stands: what follows the amount is no currency. */
static void tell_no_currency(Checker *checker, const Cursor *cursor, Amount *amount, const QuantityPlace *place)
{
    UnitId unit = unit_find(cursor_text(cursor));
    if (unit != UNIT_NONE) {
        amount->unit.unit = (uint8_t)unit;
        tell_other(checker, amount, place->atom, place->row);
    } else {
        currency_check(checker, cursor->at);
    }
}

/* `number unit`; the unit may be left out where may_lack says so (the first end of a range). False after a message. */
bool amount_read(Checker *checker, Cursor *cursor, const QuantityPlace *place, bool may_lack, Amount *amount)
{
    *amount = (Amount){0};
    NodeId first = cursor->at;
    const Atom *atom = place->atom;
    bool more = first + 2 < cursor->end; /* than a number and its unit */
    if ((more && habit_tell_turns(checker, cursor, atom)) || !number_read(checker, cursor, &amount->number) ||
        (atom->money ? habit_tell_grouped(checker, cursor, first) : habit_tell_groups(checker, cursor, first)) || !read_unit(checker, cursor, place, amount)) {
        return false;
    }
    if (wants_plain_number(atom)) {
        if (amount->has_unit) {
            Message *m = message_report(checker->messages, MESSAGE_UNIT_UNWANTED, amount->unit_span,
                                        "this is a plain number; it takes no unit");
            if (place->row != NULL) {
                message_right(checker->messages, m, "`%s`, for example", place->row->example);
            }
            return false;
        }
        return true;
    }
    if (!amount->has_unit) {
        NodeKind next = cursor_kind(cursor);
        if (may_lack && (next == NODE_TO || next == NODE_TOLERANCE)) {
            return true;
        }
        bool glued = next == NODE_WORD && tree_node(checker->tree, cursor->at)->flags & NODE_GLUED;
        bool meant = next == NODE_WORD && (unit_meant(cursor_text(cursor)) != UNIT_NONE || unit_elsewhere(cursor_text(cursor)) != NULL);
        bool last = next == NODE_WORD && !is_known_word(checker, cursor->at) && cursor->at + 1 == cursor->end;
        if (atom->money && (glued || meant || last)) {
            tell_no_currency(checker, cursor, amount, place);
        } else if (glued || meant || last) {
            Span at = cursor_span(cursor);
            if (cursor->at + 2 < cursor->end && tree_kind(checker->tree, cursor->at + 1) == NODE_SLASH) {
                at.end = tree_span(checker->tree, cursor->at + 2).end;
            }
            tell_unknown_unit(checker, cursor, at, place, UNIT_NONE);
        } else {
            tell_missing(checker, cursor, first, atom, place->row);
        }
        return false;
    }
    if (atom->money ? !amount->money : !serves(atom, amount->unit)) {
        tell_other(checker, amount, atom, place->row);
        return false;
    }
    return true;
}

/* Whether a size of a series is as thick as what was written, or thicker. */
static bool is_as_thick(const Conductor *row, const Number *written)
{
    double gauge = written->aught != 0 ? 1.0 - fabs((double)written->aught) : written->value;
    return row->series == SERIES_METRIC ? row->area_m2 >= written->value * 1e-6 : row->gauge <= gauge;
}

/* `00 AWG` is 2/0: how many noughts stand there, and nothing else; else 0. */
static size_t noughts(Str written)
{
    size_t count = 0;
    while (count < written.length && written.text[count] == '0') {
        count++;
    }
    return count < written.length && written.text[count] == ' ' && count <= 4 ? count : 0;
}

/* `12/2 AWG`: the gauge of a cable and how many conductors lie in it, as is printed on boat cable. */
static bool tell_cable(Checker *checker, const Amount *amount, Series series, Span at)
{
    double gauge = amount->number.over;
    double under = amount->number.under;
    const Conductor *row = series == SERIES_METRIC ? conductor_find(series, gauge * 1e-6)
                           : gauge > 0.0 && gauge < 100.0 && gauge == floor(gauge) ? conductor_find_gauge(series, (int)gauge)
                                                                                  : NULL;
    Message *m = message_report(checker->messages, MESSAGE_NO_SUCH_SIZE, at, "`%.*s` is no size of a conductor",
                                STR_ARG(span_text(checker->tree->sources, at)));
    if (row != NULL && under != 0.0) {
        Buf right;
        buf_init(&right, checker->arena);
        buf_format(&right, "`%s`, if it is a cable of ", row->word);
        num_write(&right, under, 6);
        buf_text(&right, " conductors of that size; how many lie in one sheath is not said here");
        message_right(checker->messages, m, "%s", right.text);
    } else {
        message_right(checker->messages, m, "the size of one conductor, such as `%s`", series == SERIES_METRIC ? "2.5 mm2" : "12 AWG");
    }
    return false;
}

static bool tell_no_size(Checker *checker, const Amount *amount, Series series, Span at)
{
    Str written = span_text(checker->tree->sources, at);
    Message *m = message_report(checker->messages, MESSAGE_NO_SUCH_SIZE, at, "no table here has a conductor of `%.*s`",
                                STR_ARG(written));
    if (series != SERIES_METRIC && noughts(written) > 0) {
        message_right(checker->messages, m, "`%zu/0 %s`", noughts(written), units[amount->unit.unit].word);
        return false;
    }
    const Conductor *thinner = NULL;
    const Conductor *thicker = conductor_at(series, 0);
    while (thicker != NULL && !is_as_thick(thicker, &amount->number)) {
        thinner = thicker;
        thicker = conductor_next(thicker);
    }
    if (thinner != NULL && thicker != NULL) {
        message_right(checker->messages, m, "`%s` or `%s`", thinner->word, thicker->word);
    } else {
        message_right(checker->messages, m, "`%s`", thinner != NULL ? thinner->word : thicker->word);
    }
    return false;
}

static bool size_to_si(Checker *checker, Amount *amount, Span at)
{
    const Conductor *row;
    Series series = amount->unit.unit == UNIT_MM2   ? SERIES_METRIC
                    : amount->unit.unit == UNIT_AWG ? SERIES_AWG
                                                    : SERIES_SAE;
    if (isnan(amount->number.value)) {
        return number_tell_no_fraction(checker, at);
    }
    if (amount->number.parts && amount->number.aught == 0) {
        return tell_cable(checker, amount, series, at);
    }
    if (series == SERIES_METRIC) {
        row = amount->number.aught == 0 ? conductor_find(SERIES_METRIC, amount->number.value * 1e-6) : NULL;
    } else {
        double gauge = amount->number.aught > 0 ? 1.0 - amount->number.aught : amount->number.value;
        bool whole = amount->number.aught >= 0 && gauge == floor(gauge) && fabs(gauge) < 100.0;
        row = whole && (gauge > 0.0 || amount->number.aught > 0) ? conductor_find_gauge(series, (int)gauge)
                                                                 : NULL;
    }
    if (row == NULL) {
        return tell_no_size(checker, amount, series, at);
    }
    amount->si = row->area_m2;
    return true;
}

static bool has_broken_rate(const Checker *checker)
{
    const Entity *boat = checker->model->boat;
    for (const Property *p = boat != NULL ? entity_property(boat, PROP_BOAT_RATE) : NULL; p != NULL;
         p = block_next(&boat->block, p)) {
        if (p->flags & PROPERTY_BROKEN) {
            return true;
        }
    }
    return false;
}

/* Turns an amount to SI; of money to the boat's currency, low and high by the rate's. */
static bool to_si(Checker *checker, Amount *amount, const Atom *atom, Span at, Interval *si)
{
    if (atom->size) {
        if (!size_to_si(checker, amount, at)) {
            return false;
        }
        *si = point(amount->si);
        return true;
    }
    if (amount->number.aught != 0 || isnan(amount->number.value)) {
        return number_tell_no_fraction(checker, at);
    }
    if (amount->money) {
        Interval rate;
        bool known = money_rate(checker->model, amount->currency, &rate);
        if (!known && has_broken_rate(checker)) {
            return false; /* that may have been the rate */
        }
        if (!known) {
            Message *m = message_report(checker->messages, MESSAGE_RATE_MISSING, amount->unit_span,
                                        "the boat states no rate for `%.*s`", STR_ARG(amount->currency));
            message_right(checker->messages, m, "in the boat's block: `rate ... %.*s per %.*s`, the number by the day's rate",
                          STR_ARG(checker->model->currency), STR_ARG(amount->currency));
            return false;
        }
        *si = interval_divide(point(amount->number.value), rate);
        return true;
    }
    amount->si = unit_to_si(amount->unit, amount->number.value);
    *si = point(amount->si);
    return true;
}

/*
 * `6 ft 3 in` is one length, as is `6 ft 3 1/2 in`. Of `0.5 ft 30 in`, as in a place `at 9 ft 0.5 ft 30 in`, the inches are
 * a length of their own: nobody writes parts of a foot, or a dozen and more, before them.
 */
bool amount_read_inches(Checker *checker, Cursor *cursor, const QuantityPlace *place, Amount *amount, Interval *si)
{
    if (amount->unit.unit != UNIT_FT || amount->unit.per != UNIT_NONE || cursor_kind(cursor) != NODE_NUMBER) {
        return true;
    }
    Cursor ahead = *cursor;
    while (cursor_kind(&ahead) == NODE_NUMBER || cursor_kind(&ahead) == NODE_SLASH) {
        ahead.at++;
    }
    double first;
    bool few = num_read(cursor_text(cursor), &first) && first >= 0.0 && first < 12.0;
    if (!str_is(cursor_text(&ahead), "in") || !few || amount->number.value != floor(amount->number.value)) {
        return true;
    }
    Amount inches;
    Interval more;
    NodeId second = cursor->at;
    if (!amount_read(checker, cursor, place, false, &inches)) {
        return false;
    }
    Span at = {tree_span(checker->tree, second).start, tree_span(checker->tree, cursor->at - 1).end};
    if (!amount_finish(checker, &inches, NULL, place, at, &more)) {
        return false;
    }
    bool below = signbit(amount->number.value); /* `-0 ft 6 in` is below nought */
    *si = below ? interval_subtract(*si, more) : interval_add(*si, more);
    return true;
}

static void write_number(Buf *to, double number)
{
    buf_char(to, '`');
    num_write(to, number, 6);
}

/*
 * `12/24 V` is what the trade writes for 12 V or 24 V, and `10/15 A` for a device that is made in both: no half of a volt.
 * Parts of an inch are what fractions are for; a plain number, such as a gear's ratio, may be the quotient of two.
 */
static bool tell_fraction(Checker *checker, const Amount *amount, const QuantityPlace *place, Span at)
{
    const Number *number = &amount->number;
    if (number->under == 0.0 || place->atom->size || (!amount->money && amount->unit.unit == UNIT_NONE) ||
        dimension_equal(unit_dimension(amount->unit), unit_dimension((UnitPair){UNIT_M, UNIT_NONE}))) {
        return false;
    }
    bool rises = number->over < number->under;
    double least = rises ? number->over : number->under, most = rises ? number->under : number->over;
    bool both = place->row != NULL && strstr(place->row->shape, "[to Q(") != NULL; /* "made-for 12 V to 24 V" */
    Str unit = span_text(checker->tree->sources, amount->unit_span);
    Buf right;
    buf_init(&right, checker->arena);
    write_number(&right, least);
    if (both) {
        buf_format(&right, " %.*s to ", STR_ARG(unit));
    } else {
        buf_text(&right, "..");
    }
    num_write(&right, most, 6);
    buf_format(&right, " %.*s`%s, ", STR_ARG(unit), both ? " for one that takes either" : " while it may be either");
    write_number(&right, number->value);
    buf_format(&right, " %.*s` if that part of one is meant", STR_ARG(unit));
    Message *m = message_report(checker->messages, MESSAGE_NUMBER_FRACTION, at,
                                "fractions stand with lengths alone, as in `3/4 in`; this may mean one of two");
    message_right(checker->messages, m, "%s", right.text);
    return true;
}

/* An amount with its SI value; a unit that is lacking is the one of `other` (the end of a range that has it). */
bool amount_finish(Checker *checker, Amount *amount, const Amount *other, const QuantityPlace *place, Span at,
                   Interval *si)
{
    const Atom *atom = place->atom;
    if (!amount->has_unit && other != NULL && !wants_plain_number(atom)) {
        amount->unit = other->unit;
        amount->money = other->money;
        amount->currency = other->currency;
        amount->unit_span = other->unit_span;
    }
    return !tell_fraction(checker, amount, place, at) && to_si(checker, amount, atom, at, si);
}
