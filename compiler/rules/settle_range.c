/*
 * See settle_try.h: for a quantity, the stretches of its range that settle a finding.
 *
 * The range is laid out as a row of round numbers in the owner's unit (settle_row.h). From an end that settles the finding,
 * the stretch is made longer number by number as far as it settles it whole (settle_reach.h).
 */
#include "base/num.h"
#include "model/tax.h"
#include "physics/conductor.h"
#include "rules/settle_reach.h"

#include "figures/figure.h"

#include <math.h>
#include <stdlib.h>

enum { DIGITS = 12 };

/* Saying */

static const char *number_text(const Search *search, double si)
{
    Buf text;
    const Value *value = search->value;
    buf_init(&text, search->try->settler->outcome->arena);
    const Conductor *size =
        value->flags & VALUE_SIZE ? conductor_find(series_of_unit(value->unit), si) : NULL;
    if (size != NULL) {
        buf_text(&text, size->word);
        return text.text;
    }
    num_write(&text, row_number(&search->row, value, si), DIGITS);
    if (value->flags & VALUE_MONEY) {
        buf_format(&text, " %.*s", STR_ARG(search->currency));
    } else if (value->unit.unit != UNIT_NONE) {
        buf_char(&text, ' ');
        unit_write(&text, value->unit);
    }
    return text.text;
}

static const char *stretch_text(const Search *search, int from, int to)
{
    Arena *arena = search->try->settler->outcome->arena;
    const Row *row = &search->row;
    bool size = search->value->flags & VALUE_SIZE;
    const char *low = number_text(search, row->at[from]);
    const char *high = number_text(search, row->at[to]);
    if (from == to) {
        return text_format(arena, size ? "with %s" : "at %s", low);
    }
    if (from <= (row->at[0] == 0.0) && to == row->count - 1 && isfinite(row->at[to])) {
        return text_format(arena, "whatever it is, up to the %s that may be stated", high);
    }
    if (to == row->count - 1) {
        return text_format(arena, size ? "with %s or thicker" : "from %s up", low);
    }
    bool lowest = from == 0 || (from == 1 && row->at[0] == 0.0);
    return lowest ? text_format(arena, size ? "with %s or thinner" : "up to %s", high)
                     : text_format(arena, "from %s to %s", low, high);
}

/*
 * A size that is left out is chosen for all of a range at once, and for one value again: both have to say the same. Sizes
 * go up and down by steps, so values all along the range are asked.
 */
static bool is_so_of_values(Search *search, Told told, int from, int to)
{
    enum { ASKED = 8 };
    const double *at = search->row.at;
    if (!search->try->chose) {
        return true;
    }
    for (int i = 0, before = -1; i <= ASKED; i++) {
        int k = from + (to - from) * i / ASKED;
        if (k != before && !reach_is_so_at(search, told, at[k])) {
            return false;
        }
        before = k;
    }
    return reach_is_so_between(search, told, at[from], at[to]);
}

static void add_range(Search *search, Settle *settle, Told told, int a, int b, const char *text)
{
    int from = a < b ? a : b;
    int to = a < b ? b : a;
    if (settle->range_count == SETTLE_RANGES || !is_so_of_values(search, told, from, to)) {
        return;
    }
    settle->ranges[settle->range_count++] =
        (SettleRange){{search->row.at[from], search->row.at[to]}, told == TOLD_HOLDS};
    settle->state = SETTLE_FOUND;
    const char *word = told == TOLD_HOLDS ? "holds" : "broken";
    settle->text = text_format(search->try->settler->outcome->arena, "%s%s%s %s", settle->text,
                               settle->text[0] != 0 ? ", " : "", word,
                               text != NULL ? text : stretch_text(search, from, to));
}

/* "below 150 l", "above 100 kg": where it is broken as soon as it does not hold, not only from the next number on. */
static const char *beyond_text(Search *search, const End *holds, const End *broken)
{
    Try *try = search->try;
    const double *row = search->row.at;
    double at = row[holds->reach];
    double outer = row[broken->at];
    double sliver = at != 0.0 ? fabs(at) * 1e-6 : fabs(row[broken->reach]) * 1e-3;
    uint32_t asked = try->asked;
    if (search->value->flags & VALUE_SIZE || props[try->prop].whole) {
        return NULL;
    }
    try->asked = try->case_count;
    Told told = outer < at ? try_range(try, outer, at - sliver) : try_range(try, at + sliver, outer);
    try->asked = asked;
    return told == TOLD_BROKEN ? text_format(try->settler->outcome->arena, "%s %s",
                                             outer < at ? "below" : "above", number_text(search, at))
                               : NULL;
}

/* From a number between both ends that settles it, as far as it goes. */
static bool tell_around(Search *search, Settle *settle, int at)
{
    int last = search->row.count - 1;
    Told told = reach_tell(search, at, at);
    if (told != TOLD_NOTHING) {
        const double *row = search->row.at;
        int from = reach_stretch(search, told, row[at], at, 0, NAN, NAN);
        int to = reach_stretch(search, told, row[from], at, last, NAN, NAN);
        add_range(search, settle, told, from, to, NULL);
    }
    return told != TOLD_NOTHING;
}

/* Whether the margins of a finding move along a line from end to end: then nothing between is better than both ends. */
static bool is_straight(double lower, double middle, double upper)
{
    double half = (lower + upper) / 2.0;
    bool still = lower == middle && middle == upper; /* perhaps without bound */
    return still || (isfinite(half) && fabs(middle - half) <= 1e-6 * (fabs(lower) + fabs(upper)));
}

/* Where neither end settles it. */
static void try_between(Search *search, Settle *settle, const End *lower, const End *upper)
{
    int last = search->row.count - 1;
    int half = last / 2;
    if (half == 0 || tell_around(search, settle, half)) {
        return;
    }
    const Try *try = search->try;
    double at = search->row.at[half];
    bool in_middle = fabs(2.0 * at - search->row.at[0] - search->row.at[last]) <= 1e-3 * fabs(at);
    if (in_middle && is_straight(lower->worst, try->worst, upper->worst) &&
        is_straight(lower->best, try->best, upper->best)) {
        return;
    }
    for (int quarter = 1; quarter <= 3 && try_may(try); quarter += 2) {
        int part = last * quarter / 4;
        if (part != 0 && part != last && tell_around(search, settle, part)) {
            return;
        }
    }
}

/* All the way to where the round numbers end: that says nothing of a value. */
static bool reaches_no_bound(const Search *search, const End *end)
{
    const Row *row = &search->row;
    double other = row->at[end->at == 0 ? row->count - 1 : 0];
    return isinf(other) && fabs(row_number(row, search->value, row->at[end->reach])) >= 1e6;
}

static void tell_end(Search *search, Settle *settle, const End *end, const char *text)
{
    if (end->told != TOLD_NOTHING && !reaches_no_bound(search, end)) {
        add_range(search, settle, end->told, end->at, end->reach, text);
    }
}

/* What is not stated may settle it by being stated at all: then no number is a limit, but perhaps nought is none. */
static bool tell_whole(Search *search, Settle *settle)
{
    Try *try = search->try;
    const Row *row = &search->row;
    int last = row->count - 1;
    bool nought = row->at[0] == 0.0 && last > 1 && props[try->prop].sign != SIGN_POSITIVE;
    Told told = try->put_in ? reach_tell(search, nought ? 1 : 0, last) : TOLD_NOTHING;
    if (told == TOLD_NOTHING) {
        return false;
    }
    Told at_nought = nought ? reach_tell(search, 0, 0) : told;
    if (at_nought == told) {
        add_range(search, settle, told, 0, last, told == TOLD_HOLDS ? "once it is stated" : "whatever it is");
        return true;
    }
    const char *zero = number_text(search, 0.0);
    add_range(search, settle, told, 1, last,
              text_format(try->settler->outcome->arena, "with more than %s", zero));
    if (at_nought != TOLD_NOTHING) {
        add_range(search, settle, at_nought, 0, 0, text_format(try->settler->outcome->arena, "with %s", zero));
    }
    return true;
}

/* Whether all of a range is told so, at once or in the halves of its halves. */
static bool is_so_in_halves(Search *search, Told told, double low, double high, int halvings)
{
    if (!try_may(search->try)) {
        return false;
    }
    if (try_range(search->try, low, high) == told) {
        return true;
    }
    double half = low + (high - low) / 2.0;
    return halvings > 0 && low < high && isfinite(half) && is_so_in_halves(search, told, low, half, halvings - 1) &&
           is_so_in_halves(search, told, half, high, halvings - 1);
}

/* A number that is whole is one of few: where each of them breaks the rule nothing is open. What is said of the most, and that. */
static const char *say_of_each(Search *search, double least, double most)
{
    const char *said = search->try->settler->outcome->case_count == 1 ? try_said(search->try, most) : NULL;
    if (said == NULL) {
        return NULL;
    }
    Arena *arena = search->try->settler->outcome->arena;
    const char *low = number_text(search, least), *high = number_text(search, most);
    return text_format(arena, "%s (with `%s` %s; broken with each number from %s on)", said, props[search->try->prop].word, high, low);
}

/*
 * Where it holds from both ends on, and between where they meet as well, every value has been tried and holds: then nothing of
 * this input has to be decided, and what left the finding open is that all of the range at once is reckoned too wide. Where it
 * is broken so, nothing that is decided of this input mends it.
 */
static void tell_parts(Search *search, Settle *settle, const End *a, const End *b)
{
    enum { HALVINGS = 4 };
    const End *lower = a->at == 0 ? a : b;
    const End *upper = a->at == 0 ? b : a;
    const double *at = search->row.at;
    bool stepped = search->value->flags & VALUE_SIZE || props[search->try->prop].whole; /* nothing lies between */
    bool meet = lower->reach >= upper->reach || (stepped && lower->reach + 1 == upper->reach);
    bool both = a->told == b->told && a->told != TOLD_NOTHING && settle->range_count > 1;
    if (!both || (!meet && !is_so_in_halves(search, a->told, at[lower->reach], at[upper->reach], stepped ? 0 : HALVINGS))) {
        return;
    }
    bool holds = a->told == TOLD_HOLDS;
    if (!holds && props[search->try->prop].whole && !search->try->chose) {
        settle->broken = say_of_each(search, at[0], at[search->row.count - 1]);
    }
    settle->parts = holds && !search->try->chose; /* of a size that is chosen anew only some values were asked */
    settle->text = text_format(search->try->settler->outcome->arena,
                               "%s whatever it is, tried in parts; only all of its range at once is too wide to tell",
                               holds ? "holds" : "broken");
}

static void search_ranges(Search *search, Settle *settle, double worst, double best)
{
    row_lay_out(&search->row, search->value, search->try->prop, search->most);
    if (tell_whole(search, settle)) {
        return;
    }
    End upper = reach_begin(search, true);
    End lower = reach_begin(search, false);
    End *good = upper.told == TOLD_HOLDS ? &upper : lower.told == TOLD_HOLDS ? &lower : NULL;
    End *first = good != NULL ? good : upper.told != TOLD_NOTHING ? &upper : &lower;
    End *second = first == &upper ? &lower : &upper;
    if (first->told == TOLD_NOTHING) {
        try_between(search, settle, &lower, &upper);
        return;
    }
    reach_out(search, first, second->at, first->told == TOLD_HOLDS ? worst : -best);
    if (search->in_parts) {
        reach_on(search, first, second->at);
        reach_by_values(search, first, second->at);
    }
    if (second->told != TOLD_NOTHING) {
        reach_to(search, second, first);
        if (search->in_parts && props[search->try->prop].whole) {
            reach_on(search, second, first->reach);
        }
    }
    bool meet =
        first->told == TOLD_HOLDS && second->told == TOLD_BROKEN && abs(first->reach - second->reach) == 1;
    reach_refine(search, first, second);
    reach_refine(search, second, first);
    reach_hold(search, first);
    reach_further(search, first);
    reach_hold(search, second);
    const char *beyond = meet ? beyond_text(search, first, second) : NULL;
    tell_end(search, settle, first, NULL);
    tell_end(search, settle, second, beyond);
    tell_parts(search, settle, first, second);
}

/* The first case has been asked of just these ranges; of what lies between, where that counts, it alone. */
static bool is_sure(Try *try, const Settle *settle)
{
    if (settle->parts) {
        return false;
    }
    for (uint32_t i = 0; i < settle->range_count; i++) {
        const SettleRange *range = &settle->ranges[i];
        if (!try_others(try, range->value.low, range->value.high, range->holds ? TOLD_HOLDS : TOLD_BROKEN)) {
            return false;
        }
    }
    return true;
}

/* Whether the schema's limits of it are what cannot be otherwise; those of a size or a current are there against slips of the pen. */
static bool is_bounded_in_earnest(UnitPair unit)
{
    uint8_t tag = (uint8_t)unit_dimension(unit).tag;
    return tag == TAG_RATIO || tag == TAG_ANGLE || tag == TAG_TEMPERATURE;
}

/* The quantity that the schema limits, if that is what is tried, in units that its limits are stated in; else NULL. */
static const Atom *limited_atom(const Try *try, const Model *model, const Value *value)
{
    const Shape *shape = shapes_get(model->shapes, try->prop);
    const Atom *atom = &shape->items[0].atoms[0];
    bool first = shape->items[0].kind == ITEM_ATOM && shape->items[0].slot == try->slot && atom->kind == ATOM_QUANTITY;
    bool limited = first && !atom->size && !atom->money && atom->unit_count > 0 &&
                   dimension_serves(unit_dimension(value->unit), unit_dimension(atom->units[0]));
    return limited ? atom : NULL;
}

/* What nobody can state more of, in SI: more is a mistake, whatever the limit is there for. */
static double most_stated(const Try *try, const Model *model, const Value *value)
{
    const Atom *atom = limited_atom(try, model, value);
    double most = props[try->prop].most;
    return atom != NULL && most != 0.0 ? unit_to_si(atom->units[0], most) : INFINITY;
}

/* Of what is not bounded by the owner, the schema may know what cannot be. */
static Value within_schema(const Try *try, const Model *model, const Value *value)
{
    const PropRow *row = &props[try->prop];
    const Atom *atom = limited_atom(try, model, value);
    Value clipped = *value;
    if (atom != NULL && is_bounded_in_earnest(atom->units[0])) {
        double low = row->least != 0.0 ? unit_to_si(atom->units[0], row->least) : value->u.quantity.low;
        double high = row->most != 0.0 ? unit_to_si(atom->units[0], row->most) : value->u.quantity.high;
        clipped.u.quantity.low = fmax(value->u.quantity.low, low);
        clipped.u.quantity.high = fmin(value->u.quantity.high, high);
    }
    return clipped;
}

/* Of a size that nobody wrote nobody knows the series: that of the basis. */
static void put_series(Try *try, Settle *settle, const Value *value, Value *within)
{
    bool unwritten = value->flags & VALUE_SIZE && value->flags & VALUE_HOLE;
    if (!unwritten || try->cases[0].in->judge->basis != BASIS_US) {
        return;
    }
    within->unit = settle->unit = UNIT_ALONE(UNIT_AWG);
    for (uint32_t i = 0; i < try->case_count; i++) {
        try->cases[i].trial.value->unit = within->unit;
    }
}

/* As the line that is tried has it: in its currency, and without tax where that is to be added. */
static double money_as_is_written(const Search *search, const Value *value, Str *currency)
{
    const Entity *thing = search->try->cases[0].trial.entity;
    *currency = search->model->currency;
    bool money = value->flags & VALUE_MONEY && value->node != 0;
    return money ? tax_as_written(search->model, thing, entity_property(thing, search->try->prop), value, currency) : 1.0;
}

/* Searched in one case, for the others mostly say the same; only where they do not, in all of them together. */
void settle_ranges(Try *try, Settle *settle, const Value *value, bool in_parts)
{
    const Model *model = try->cases[0].in->model;
    Value within = within_schema(try, model, value);
    put_series(try, settle, value, &within);
    Search search = {.try = try, .value = &within, .model = model, .in_parts = in_parts, .most = most_stated(try, model, value)};
    search.row.written = money_as_is_written(&search, value, &search.currency);
    Settle before = *settle;
    double worst = try->worst;
    double best = try->best;
    try->asked = 1;
    search_ranges(&search, settle, worst, best);
    try->asked = try->case_count;
    if (try->case_count > 1 && !is_sure(try, settle)) {
        *settle = before;
        search_ranges(&search, settle, worst, best);
    }
}
