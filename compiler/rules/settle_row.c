/* See settle_row.h. */
#include "rules/settle_row.h"

#include "figures/figure.h"
#include "physics/conductor.h"

#include <math.h>
#include <stdlib.h>

enum { FIRST_DECADE = -3, LAST_DECADE = 6 };

static double to_si(const Row *row, const Value *value, double number)
{
    return value->flags & VALUE_MONEY ? number / row->written : unit_to_si(value->unit, number);
}

double row_number(const Row *row, const Value *value, double si)
{
    return value->flags & VALUE_MONEY ? si * row->written : unit_from_si(value->unit, si);
}

static void row_begin(Row *row, double low)
{
    row->count = 0;
    row->at[row->count++] = low;
}

static void row_add(Row *row, double si)
{
    if (si > row->at[row->count - 1] && row->count < ROW_MOST - 1) {
        row->at[row->count++] = si;
    }
}

static void row_end(Row *row, double high)
{
    while (row->count > 1 && row->at[row->count - 1] >= high) {
        row->count--;
    }
    row->at[row->count++] = high;
}

static void lay_out_sizes(Row *row, const Value *value, double low, double high)
{
    Series series = series_of_unit(value->unit);
    row_begin(row, low);
    for (size_t i = 0; i < conductor_count(series); i++) {
        if (conductor_at(series, i)->sold) {
            row_add(row, conductor_at(series, i)->area_m2);
        }
    }
    row_end(row, high);
}

/* Steps of one, ten, a tenth ...: some 25 to 250 of them. Divided, not multiplied: each is the number that will be printed. */
void row_lay_out_steps(Row *row, const Value *value, double low, double high, bool whole)
{
    double from = row_number(row, value, low);
    double to = row_number(row, value, high);
    double decade = floor(log10((to - from) / 25.0));
    decade = whole && decade < 0.0 ? 0.0 : decade;
    double ten = pow(10.0, fabs(decade));
    double step = decade < 0.0 ? 1.0 / ten : ten;
    row_begin(row, low);
    for (double i = ceil(from / step); i * step <= to && row->count < ROW_MOST - 1; i += 1.0) {
        row_add(row, to_si(row, value, decade < 0.0 ? i / ten : i * ten));
    }
    row_end(row, high);
    row->close = !whole;
}

static void add_decade(Row *row, const Value *value, int decade, bool negative)
{
    static const double numbers[] = {1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0};
    enum { NUMBERS = sizeof numbers / sizeof numbers[0] };
    double ten = pow(10.0, abs(decade));
    for (int i = 0; i < NUMBERS; i++) {
        double number = negative ? -numbers[NUMBERS - 1 - i] : numbers[i];
        row_add(row, to_si(row, value, decade < 0 ? number / ten : number * ten));
    }
}

/* A count without bound: what anybody counts aboard, one by one. */
static void lay_out_counts(Row *row, double low, double high)
{
    enum { MOST_COUNTED = 100 };
    row_begin(row, low);
    for (int i = 0; i <= MOST_COUNTED; i++) {
        row_add(row, i);
    }
    row_end(row, high);
}

/* A side without bound: round numbers of every size. */
static void lay_out_decades(Row *row, const Value *value, double low, double high)
{
    row_begin(row, low);
    if (low < 0.0) {
        for (int decade = LAST_DECADE; decade >= FIRST_DECADE; decade--) {
            add_decade(row, value, decade, true);
        }
        row_add(row, to_si(row, value, 0.0));
    }
    for (int decade = FIRST_DECADE; decade <= LAST_DECADE; decade++) {
        add_decade(row, value, decade, false);
    }
    row_end(row, high);
}

void row_lay_out(Row *row, const Value *value, PropId prop, double most)
{
    double low = value->u.quantity.low, high = value->u.quantity.high;
    bool whole = props[prop].whole;
    row->close = false;
    if (value->flags & VALUE_SIZE) {
        lay_out_sizes(row, value, low, high);
    } else if (whole && high - low > 100.0) {
        lay_out_counts(row, low, high);
    } else if (isinf(low) || isinf(high)) {
        lay_out_decades(row, value, low, isinf(high) ? most : high);
    } else {
        row_lay_out_steps(row, value, low, high, whole);
    }
}

int row_guess(const Row *row, int yes, int no, double at_yes, double at_no)
{
    const double *at = row->at;
    int half = yes + (no - yes) / 2;
    bool even = row->close && isfinite(at[yes]) && isfinite(at[no]);
    if (!even || !isfinite(at_yes) || !isfinite(at_no) || at_yes <= at_no) {
        return half;
    }
    double root = at[no] + (at[yes] - at[no]) * (-at_no / (at_yes - at_no));
    int i = half;
    if (yes > no) {
        for (i = no + 1; i < yes - 1 && at[i] < root; i++) {
        }
    } else {
        for (i = no - 1; i > yes + 1 && at[i] > root; i--) {
        }
    }
    return i;
}
