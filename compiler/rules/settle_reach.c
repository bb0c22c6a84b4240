/* See settle_reach.h. */
#include "rules/settle_reach.h"

#include <math.h>
#include <stdlib.h>

static Told tell_from(Search *search, double outer, int to)
{
    double at = search->row.at[to];
    return outer < at ? try_range(search->try, outer, at) : try_range(search->try, at, outer);
}

Told reach_tell(Search *search, int a, int b)
{
    return tell_from(search, search->row.at[a], b);
}

/* How far a trial is on the wanted side; not finite where the rule compared nothing. */
static double margin(const Search *search, Told wanted)
{
    return wanted == TOLD_HOLDS ? search->try->worst : -search->try->best;
}

int reach_stretch(Search *search, Told wanted, double outer, int yes, int no, double at_yes, double at_no)
{
    int slow = 0;
    while (abs(yes - no) > 1 && try_may(search->try)) {
        int between = abs(yes - no);
        int next = slow == 2 ? yes + (no - yes) / 2 : row_guess(&search->row, yes, no, at_yes, at_no);
        if (tell_from(search, outer, next) == wanted) {
            yes = next;
            at_yes = margin(search, wanted);
        } else {
            no = next;
            at_no = margin(search, wanted);
        }
        slow = abs(yes - no) > between / 2 + 1 ? slow + 1 : 0;
    }
    return yes;
}

bool reach_is_so_at(Search *search, Told told, double si)
{
    bool none = isinf(si) || (si == 0.0 && props[search->try->prop].sign == SIGN_POSITIVE);
    return none || !try_may(search->try) || try_range(search->try, si, si) == told;
}

bool reach_is_so_between(Search *search, Told told, double low, double high)
{
    enum { PARTS = 12 };
    double from = isinf(low) ? high / 3.0 : low;
    double to = isinf(high) ? low * 3.0 : high;
    bool size = search->value->flags & VALUE_SIZE, whole = props[search->try->prop].whole;
    for (int i = 1; i < PARTS && !size && !whole && from < to; i++) {
        if (!reach_is_so_at(search, told, from + (to - from) * i / PARTS)) {
            return false;
        }
    }
    return true;
}

End reach_begin(Search *search, bool upper)
{
    const Row *row = &search->row;
    int last = row->count - 1;
    int at = upper ? last : 0;
    bool no_value = isinf(row->at[at]) ||
                    (row->at[at] == 0.0 &&
                     (props[search->try->prop].sign == SIGN_POSITIVE || search->value->flags & VALUE_HOLE));
    int inner = !no_value ? at : upper ? last - 1 : 1;
    End end = {.at = at, .reach = inner, .from = at, .whole = NAN};
    end.told = inner > 0 || !no_value ? reach_tell(search, at, inner) : TOLD_NOTHING;
    end.worst = search->try->worst;
    end.best = search->try->best;
    return end;
}

void reach_out(Search *search, End *end, int no, double at_no)
{
    double at_yes = end->told == TOLD_HOLDS ? end->worst : -end->best;
    end->reach = reach_stretch(search, end->told, search->row.at[end->at], end->reach, no, at_yes, at_no);
}

void reach_on(Search *search, End *end, int no)
{
    bool whole = props[search->try->prop].whole; /* nothing lies between one number and the next */
    int step = end->at == 0 ? 1 : -1;
    while (abs(no - end->reach) > 1 && try_may(search->try)) {
        int from = whole ? end->reach + step : end->reach;
        if (reach_tell(search, from, end->reach + step) != end->told) {
            return;
        }
        end->from = from;
        end->reach = reach_stretch(search, end->told, search->row.at[from], end->reach + step, no, NAN, NAN);
    }
}

/* Value by value: the one farthest from yes towards no that is told so by itself. */
static int stretch_by_values(Search *search, Told told, int yes, int no)
{
    while (abs(no - yes) > 1 && try_may(search->try)) {
        int half = yes + (no - yes) / 2;
        bool so = reach_tell(search, half, half) == told;
        yes = so ? half : yes;
        no = so ? no : half;
    }
    return yes;
}

void reach_by_values(Search *search, End *end, int no)
{
    Row *row = &search->row;
    int next = end->reach + (end->at == 0 ? 1 : -1);
    bool stepped = search->value->flags & VALUE_SIZE || props[search->try->prop].whole;
    if (stepped || abs(no - end->reach) <= 1 || reach_tell(search, next, next) != end->told) {
        return;
    }
    int reach = stretch_by_values(search, end->told, next, no), beyond = reach + (next - end->reach);
    double whole = row->at[end->reach], found = row->at[reach], other = row->at[beyond];
    if (isfinite(other) && other != 0.0 && !row->close) {
        Row coarse = *row;
        row_lay_out_steps(row, search->value, fmin(found, other), fmax(found, other), false);
        int last = row->count - 1;
        found = row->at[stretch_by_values(search, end->told, found < other ? 0 : last, found < other ? last : 0)];
        *row = coarse;
    }
    if (reach_is_so_between(search, end->told, fmin(found, whole), fmax(found, whole))) {
        row->at[reach] = found;
        end->reach = reach;
        end->by_values = true;
    }
}

/* Of a stretch that was tried before; not a number where that is forgotten. */
static double known_margin(const Search *search, Told wanted, double outer, double at)
{
    return try_known(search->try, fmin(outer, at), fmax(outer, at)) ? margin(search, wanted) : NAN;
}

void reach_refine(Search *search, End *end, const End *other)
{
    Row *row = &search->row;
    int beyond = end->at == 0 ? end->reach + 1 : end->reach - 1;
    if (end->told == TOLD_NOTHING || end->by_values || row->close || search->value->flags & VALUE_SIZE ||
        props[search->try->prop].whole || beyond < 0 || beyond >= row->count || isinf(row->at[beyond])) {
        return;
    }
    double outer = row->at[end->from];
    double a = row->at[end->reach];
    double b = row->at[beyond];
    if (isinf(search->value->u.quantity.high) && b == 0.0) {
        return; /* nobody wants to know how little more than nothing */
    }
    bool meet = other->told != TOLD_NOTHING && other->reach == beyond;
    double at_yes = known_margin(search, end->told, outer, a);
    double at_no = known_margin(search, end->told, outer, b);
    at_no = isnan(at_no) && meet ? 0.0 : at_no;
    Row coarse = *row;
    row_lay_out_steps(row, search->value, fmin(a, b), fmax(a, b), false);
    int last = row->count - 1;
    int yes = reach_stretch(search, end->told, outer, a < b ? 0 : last, a < b ? last : 0, at_yes, at_no);
    double found = row->at[yes];
    end->whole = known_margin(search, end->told, outer, found);
    end->beyond = b;
    *row = coarse;
    row->at[end->reach] = found;
    row->close = false;
}

void reach_further(Search *search, End *end)
{
    Row *row = &search->row;
    double from = row->at[end->reach];
    double alone = known_margin(search, end->told, from, from);
    bool wide = alone - end->whole > 1e-6 * fabs(search->try->worst_before); /* not by rounding, nor where either is no number */
    if (!search->in_parts || end->told != TOLD_HOLDS || !wide) {
        return;
    }
    Row coarse = *row;
    row_lay_out_steps(row, search->value, fmin(from, end->beyond), fmax(from, end->beyond), false);
    int last = row->count - 1, yes = from < end->beyond ? 0 : last, no = last - yes, next = yes + (no > yes ? 1 : -1);
    bool goes_on = abs(no - yes) > 1 && reach_tell(search, next, next) == end->told;
    double found = goes_on ? row->at[stretch_by_values(search, end->told, next, no)] : from;
    *row = coarse;
    if (found != from && reach_is_so_between(search, end->told, fmin(found, from), fmax(found, from))) {
        row->at[end->reach] = found;
    }
}

void reach_to(Search *search, End *end, const End *other)
{
    int step = end->at == 0 ? -1 : 1;
    int next = other->reach + step;
    bool ends = next == end->reach || reach_tell(search, end->at, next) == end->told;
    if (!ends && abs(next - end->reach) > 1) {
        next += step;
        ends = reach_tell(search, end->at, next) == end->told;
    }
    if (ends) {
        end->reach = next;
    } else {
        reach_out(search, end, next, margin(search, end->told));
    }
}

void reach_hold(Search *search, End *end)
{
    int step = end->at == 0 ? -1 : 1;
    for (int tried = 0; end->told != TOLD_NOTHING && !isinf(search->row.at[end->reach]) &&
                        reach_tell(search, end->reach, end->reach) != end->told;
         tried++) {
        if (tried > 0 || abs(end->reach - end->at) <= 1) {
            end->told = TOLD_NOTHING;
        } else {
            end->reach += step;
        }
    }
}
