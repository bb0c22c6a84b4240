/* See dashed.h. */
#include "syntax/dashed.h"

#include "base/num.h"

#include <math.h>
#include <string.h>

typedef struct Parts {
    double whole; /* before a fraction; 0 where there is none */
    double over;
    double under; /* 0: no fraction, and `over` is the number */
} Parts;

static Str part(Str text, size_t from, size_t to)
{
    return (Str){text.text + from, to - from};
}

static size_t place_of_any(Str text, const char *marks, size_t from)
{
    while (from < text.length && strchr(marks, text.text[from]) == NULL) {
        from++;
    }
    return from;
}

static bool read_parts(Str text, Parts *parts)
{
    *parts = (Parts){0};
    size_t slash = place_of_any(text, "/", 0);
    if (slash == text.length) {
        return num_read(text, &parts->over);
    }
    size_t blank = place_of_any(text, " -", 0);
    bool mixed = blank > 0 && blank < slash;
    return (!mixed || num_read(part(text, 0, blank), &parts->whole)) &&
           num_read(part(text, mixed ? blank + 1 : 0, slash), &parts->over) &&
           num_read(part(text, slash + 1, text.length), &parts->under);
}

static bool is_whole(double value, double least, double most)
{
    return value == floor(value) && value >= least && value <= most;
}

bool dashed_value(Str text, double *value)
{
    Parts parts;
    size_t slash = place_of_any(text, "/", 0);
    if (!read_parts(text, &parts)) {
        return false;
    }
    if (slash < text.length && parts.under == 0.0) {
        *value = 1.0 - parts.over; /* 1/0 stands next to 1 AWG, 2/0 behind it */
        return parts.whole == 0.0;
    }
    *value = parts.whole + (parts.under != 0.0 ? parts.over / parts.under : parts.over);
    return true;
}

/* `2 1/4`, of which the fraction is less than one. */
static void write_sum(Buf *to, double whole, Parts fraction)
{
    double over = whole * fraction.under + fraction.over;
    double ones = floor(over / fraction.under), rest = over - ones * fraction.under;
    num_write(to, ones, 6);
    if (rest > 0.0) {
        buf_char(to, ' ');
        num_write(to, rest, 6);
        buf_char(to, '/');
        num_write(to, fraction.under, 6);
    }
}

void dashed_sum(Buf *right, Str whole, Str fraction)
{
    double first = 0.0;
    Parts parts = {0};
    bool read = num_read(whole, &first) && read_parts(fraction, &parts) && parts.under != 0.0;
    double sign = first < 0.0 ? -1.0 : 1.0;
    buf_text(right, sign < 0.0 ? "`-" : "`");
    if (read && is_whole(fabs(first), 0.0, 1e9)) {
        write_sum(right, fabs(first), parts);
    } else {
        num_write(right, fabs(first) + (read ? parts.over / parts.under : 0.0), 6);
    }
    buf_char(right, '`');
}

static void write_range(Buf *to, Str low, Str high)
{
    buf_format(to, "`%.*s..%.*s`", STR_ARG(low), STR_ARG(high));
}

/* `1-1/4`, `0-3/4` and `1-5/4`, behind a number that is whole. */
static void right_mixed(Buf *right, Str from, Str to, double whole, Parts fraction)
{
    if (whole == 0.0) {
        buf_format(right, "`%.*s` for that part of one, ", STR_ARG(to));
        write_range(right, from, to);
        buf_text(right, " for a range");
        return;
    }
    buf_char(right, '`');
    write_sum(right, whole, fraction);
    buf_char(right, '`');
    if (fraction.over >= fraction.under) {
        buf_text(right, ", if both are added up");
    }
    if (fraction.over / fraction.under > whole) {
        buf_text(right, "; ");
        write_range(right, from, to);
        buf_text(right, " for a range");
    }
}

/* `14-2` is what is printed on a cable of two conductors of 14 AWG; the greater number of a gauge is the thinner one. */
static void right_gauge(Buf *right, Str from, Str to, double first, double second, const char *unit)
{
    bool cable = first != second && is_whole(second, 2.0, 7.0) && memchr(to.text, '/', to.length) == NULL;
    if (cable) {
        buf_format(right, "`%.*s %s`, if it is a cable of %.*s conductors of that size; ", STR_ARG(from), unit, STR_ARG(to));
    }
    bool falls = first < second;
    Str thin = falls ? to : from, thick = falls ? from : to;
    buf_format(right, "`%.*s..%.*s %s`%s", STR_ARG(thin), STR_ARG(thick), unit, cable ? " for a range of sizes" : "");
}

/* `3-1.5`, three conductors of 1.5 mm2: no conductor is made of 2, 3, 5 or 7 mm2 (IEC 60228). */
static void right_area(Buf *right, Str from, Str to, double first, double second)
{
    if (first == 2.0 || first == 3.0 || first == 5.0 || first == 7.0) {
        buf_format(right, "`%.*s mm2`, if it is a cable of %.*s conductors of that size", STR_ARG(to), STR_ARG(from));
    } else {
        write_range(right, first < second ? from : to, first < second ? to : from);
    }
}

static void right_size(Buf *right, Str from, Str to, double first, double second, DashedFor what)
{
    bool gauges = first == floor(first) && second == floor(second);
    if (what == DASHED_MM2 || (what == DASHED_SIZE && !gauges)) {
        right_area(right, from, to, first, second);
    } else {
        right_gauge(right, from, to, first, second, what == DASHED_SAE ? "SAE" : "AWG");
    }
}

void dashed_right(Buf *right, Str from, Str to, DashedFor what)
{
    double first = 0.0, second = 0.0;
    Parts fraction;
    bool read = dashed_value(from, &first) && dashed_value(to, &second) && read_parts(to, &fraction);
    if (!read) {
        write_range(right, from, to);
    } else if (what >= DASHED_SIZE) {
        right_size(right, from, to, first, second, what);
    } else if (fraction.under != 0.0 && fraction.whole == 0.0 && memchr(from.text, '/', from.length) == NULL && is_whole(first, 0.0, 1e6)) {
        right_mixed(right, from, to, first, fraction);
    } else {
        bool feet = what == DASHED_FEET && is_whole(first, 0.0, 1e6) && is_whole(second, 0.0, 11.0);
        if (second > first) {
            write_range(right, from, to);
            buf_text(right, feet ? " for a range, " : "");
        } else if (!feet) {
            write_range(right, to, from);
        }
        if (feet) {
            buf_format(right, "`%.*s ft %.*s in` for feet and inches%s", STR_ARG(from), STR_ARG(to),
                       second > first ? "" : "; a range runs upwards");
        }
    }
}
