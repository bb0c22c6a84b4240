/*
 * Numbers to and from text.
 *
 * Reading collects up to 19 significant digits in a whole number and a power of ten; base/exact.h makes the
 * pair a double.
 *
 * Writing scales everyday sizes to whole numbers by exact arithmetic and takes the digits of all others from
 * snprintf; mark, zeros and sign it places itself, so that the locale's decimal mark never shows. Knows
 * nothing of units.
 */
#include "base/num.h"

#include "base/exact.h"

#include <float.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

/* ------------------------------------------------------------------------------------------------ reading */

/* From here on no further digit is taken: 19 are there, and 10^19 - 1 fits 64 bits. */
static const uint64_t FULL = 1000000000000000000;

/* Powers of ten beyond are all the same to exact_value, and might not fit an int. */
enum { FAR = 1000 };

/* What has been read of a number: digits as a whole number, and the power of ten they are worth. */
typedef struct Digits {
    uint64_t mantissa;
    size_t dropped; /* digits that found no room any more */
} Digits;

/* Takes as many digits as there are; where it stops. */
static const char *read_digits(Digits *digits, const char *at, const char *end)
{
    for (; at < end; at++) {
        unsigned digit = (unsigned)*at - '0';
        if (digit > 9) {
            break;
        }
        if (digits->mantissa < FULL) {
            digits->mantissa = digits->mantissa * 10 + digit;
        } else {
            digits->dropped++;
        }
    }
    return at;
}

/* Digits and perhaps a point between them, so few that all of them count: as nearly all numbers are. False of others. */
static bool read_short(Str text, double *value)
{
    enum { FEW = 15 };
    uint64_t mantissa = 0;
    size_t decimals = 0;
    if (text.length == 0 || text.length > FEW) {
        return false;
    }
    for (size_t i = 0; i < text.length; i++) {
        unsigned digit = (unsigned)text.text[i] - '0';
        if (digit <= 9) {
            mantissa = mantissa * 10 + digit;
        } else if (text.text[i] == '.' && i > 0 && i + 1 < text.length && decimals == 0) {
            decimals = text.length - i - 1;
        } else {
            return false;
        }
    }
    *value = exact_value(mantissa, -(int)decimals);
    return true;
}

bool num_read(Str text, double *value)
{
    if (read_short(text, value)) {
        return true;
    }
    if (text.length == 0) {
        return false;
    }
    const char *at = text.text;
    const char *end = at + text.length;
    bool negative = *at == '-';
    at += negative;
    if (at == end || !char_is_digit(*at)) {
        return false;
    }
    Digits digits = {0};
    at = read_digits(&digits, at, end);
    while (at + 1 < end && *at == '_' && char_is_digit(at[1])) {
        at = read_digits(&digits, at + 1, end);
    }
    ptrdiff_t decimals = 0;
    if (at < end && *at == '.') {
        const char *first = at + 1;
        at = read_digits(&digits, first, end);
        decimals = at - first;
        if (decimals == 0) {
            return false;
        }
    }
    /* A digit that was dropped is one less behind the point, or one more before it. */
    ptrdiff_t power = (ptrdiff_t)digits.dropped - decimals;
    double size = exact_value(digits.mantissa, (int)(power < -FAR ? -FAR : power > FAR ? FAR : power));
    if (at != end || !isfinite(size)) {
        return false;
    }
    *value = negative ? -size : size;
    return true;
}

/* ------------------------------------------------------------------------------------------------ writing */

enum {
    EXACT_DIGITS = 767,    /* no double has more significant digits */
    EXACT_DECIMALS = 1074, /* nor more digits behind the point */
    DIGITS_ROOM = 1400,    /* 309 digits before the point and EXACT_DECIMALS behind it */
    LEAST_PLAIN = -5,      /* 1e-6 is written plain: five zeros behind the point */
    GREATEST_PLAIN = 16    /* and 1e15: 16 digits before the point */
};

/* Digits of a number >= 0, and how many of them stand before the point; if less than 0, zeros behind it. */
typedef struct Decimal {
    char digit[DIGITS_ROOM];
    int count;
    int point;
} Decimal;

/* A whole number, with zeros in front to make it at least `least` digits. */
static void set_digits(Decimal *decimal, uint64_t value, int least)
{
    char text[20];
    int at = (int)sizeof text;
    for (; value != 0 || least > 0; value /= 10) {
        text[--at] = (char)('0' + (int)(value % 10));
        least--;
    }
    decimal->count = (int)sizeof text - at;
    memcpy(decimal->digit, text + at, (size_t)decimal->count);
}

/*
 * size * 10^power to the nearest whole number, ties upward. Exact for |power| <= 22, results up to 10^18
 * and, where the power is negative, up to 2^53: what the product has lost is known exactly, of the quotient
 * its sign.
 */
static uint64_t scaled(double size, int power)
{
    double ten = exact_value(1, power < 0 ? -power : power);
    double value = power < 0 ? size / ten : size * ten;
    double lost = power < 0 ? fma(-value, ten, size) : fma(size, ten, -value);
    double whole = floor(value);
    double part = value - whole;
    if (value >= 0x1p53) { /* so great that value is whole and the fraction is all in what it lost */
        double carried = floor(lost);
        return (uint64_t)whole + (uint64_t)(int64_t)carried + (lost - carried >= 0.5);
    }
    return (uint64_t)whole + (part > 0.5 || (part == 0.5 && lost >= 0));
}

/* `digits` (up to 17) significant digits of a size of everyday magnitude, without snprintf; else false. */
static bool scale_digits(Decimal *decimal, double size, int digits)
{
    if (size < 1e-5 || size >= 1e15) {
        return false;
    }
    int exponent;
    frexp(size, &exponent);
    int power = digits - 1 - (int)floor((exponent - 1) * 0.30103); /* log10 of 2: right or one too many */
    uint64_t value = scaled(size, power);
    if (value >= (uint64_t)exact_value(1, digits)) {
        value = scaled(size, --power);
    }
    set_digits(decimal, value, digits);
    decimal->point = digits - power;
    return true;
}

/* Collects the digits of a printed number and passes over whatever the locale put between them. */
static const char *collect(Decimal *decimal, const char *printed)
{
    decimal->count = 0;
    for (; *printed && *printed != 'e'; printed++) {
        if (char_is_digit(*printed)) {
            decimal->digit[decimal->count++] = *printed;
        }
    }
    return printed;
}

/* `digits` significant digits of value >= 0. */
static void print_digits(Decimal *decimal, double value, int digits)
{
    char printed[DIGITS_ROOM];
    snprintf(printed, sizeof printed, "%.*e", digits - 1, value);
    const char *at = collect(decimal, printed);
    bool negative = at[1] == '-';
    int exponent = 0;
    for (at += 2; char_is_digit(*at); at++) {
        exponent = exponent * 10 + (*at - '0');
    }
    decimal->point = 1 + (negative ? -exponent : exponent);
}

/* All digits of value >= 0 down to `decimals` behind the point. */
static void print_decimals(Decimal *decimal, double value, int decimals)
{
    char printed[DIGITS_ROOM];
    snprintf(printed, sizeof printed, "%.*f", decimals, value);
    collect(decimal, printed);
    decimal->point = decimal->count - decimals;
}

static bool ends_in_five(const Decimal *decimal)
{
    return decimal->digit[decimal->count - 1] == '5';
}

/* Adds one to the last digit. */
static void raise_last(Decimal *decimal)
{
    for (int i = decimal->count - 1; i >= 0; i--) {
        if (decimal->digit[i] != '9') {
            decimal->digit[i]++;
            return;
        }
        decimal->digit[i] = '0';
    }
    memmove(decimal->digit + 1, decimal->digit, (size_t)decimal->count);
    decimal->digit[0] = '1';
    decimal->count++;
    decimal->point++;
}

/* Keeps the first `keep` digits; rounds by the first that goes, a five upward. */
static void round_to(Decimal *decimal, int keep)
{
    if (keep >= decimal->count) {
        return;
    }
    bool up = decimal->digit[keep] >= '5';
    decimal->count = keep;
    if (up) {
        raise_last(decimal);
    }
}

/*
 * size > 0 to `digits` significant digits. Of what snprintf gives, one digit more than wanted decides the
 * rounding, unless it is a five, which may itself be rounded.
 */
static void round_digits(Decimal *decimal, double size, int digits)
{
    if (scale_digits(decimal, size, digits)) {
        return;
    }
    print_digits(decimal, size, digits + 1);
    if (ends_in_five(decimal)) {
        print_digits(decimal, size, EXACT_DIGITS);
    }
    round_to(decimal, digits);
}

/* The same down to `decimals` digits behind the point, at most 9; size >= 0. */
static void round_decimals(Decimal *decimal, double size, int decimals)
{
    if (size < 1e8) {
        set_digits(decimal, scaled(size, decimals), decimals + 1);
        decimal->point = decimal->count - decimals;
        return;
    }
    print_decimals(decimal, size, decimals + 1);
    if (ends_in_five(decimal)) {
        print_decimals(decimal, size, EXACT_DECIMALS);
    }
    round_to(decimal, decimal->point + decimals);
}

static void drop_trailing_zeros(Decimal *decimal)
{
    while (decimal->count > 1 && decimal->digit[decimal->count - 1] == '0') {
        decimal->count--;
    }
}

static void add_zeros(Buf *buf, int count)
{
    for (; count > 0; count--) {
        buf_char(buf, '0');
    }
}

static void add_plain(Buf *buf, const Decimal *decimal)
{
    int before = decimal->point < decimal->count ? decimal->point : decimal->count;
    if (before <= 0) {
        buf_char(buf, '0');
    } else {
        buf_add(buf, (Str){decimal->digit, (size_t)before});
        add_zeros(buf, decimal->point - before);
    }
    if (decimal->point < decimal->count) {
        int from = before > 0 ? before : 0;
        buf_char(buf, '.');
        add_zeros(buf, -decimal->point);
        buf_add(buf, (Str){decimal->digit + from, (size_t)(decimal->count - from)});
    }
}

static void add_with_exponent(Buf *buf, Decimal *decimal)
{
    int exponent = decimal->point - 1;
    decimal->point = 1;
    add_plain(buf, decimal);
    buf_format(buf, "e%d", exponent);
}

static void add_shortened(Buf *buf, Decimal *decimal)
{
    drop_trailing_zeros(decimal);
    if (decimal->point < LEAST_PLAIN || decimal->point > GREATEST_PLAIN) {
        add_with_exponent(buf, decimal);
    } else {
        add_plain(buf, decimal);
    }
}

/* Writes what has no digits, and zero (true), else at most a sign. */
static bool add_special(Buf *buf, double value)
{
    if (value < 0) {
        buf_char(buf, '-');
    }
    if (isfinite(value) && value != 0) {
        return false;
    }
    buf_text(buf, isnan(value) ? "nan" : value == 0 ? "0" : "inf");
    return true;
}

void num_write(Buf *buf, double value, int digits)
{
    if (add_special(buf, value)) {
        return;
    }
    Decimal decimal;
    round_digits(&decimal, fabs(value), digits);
    add_shortened(buf, &decimal);
}

static bool all_zeros(const Decimal *decimal)
{
    for (int i = 0; i < decimal->count; i++) {
        if (decimal->digit[i] != '0') {
            return false;
        }
    }
    return true;
}

void num_write_fixed(Buf *buf, double value, int decimals)
{
    if (!isfinite(value)) {
        add_special(buf, value);
        return;
    }
    Decimal decimal;
    round_decimals(&decimal, fabs(value), decimals);
    if (value < 0 && !all_zeros(&decimal)) {
        buf_char(buf, '-');
    }
    add_plain(buf, &decimal);
}

/* Whether the digits, at most 19, read back as the value. */
static bool reads_back(const Decimal *decimal, double value)
{
    uint64_t mantissa = 0;
    for (int i = 0; i < decimal->count; i++) {
        mantissa = mantissa * 10 + (uint64_t)(decimal->digit[i] - '0');
    }
    return exact_value(mantissa, decimal->point - decimal->count) == value;
}

/*
 * The shortest digits that read back. If fewer than 15 are enough for a normal number, then its 15 end in
 * zeros; 17 always are enough. Below a power of two the doubles are closer than above it: the nearest
 * decimal, below, may then miss where the next one above still reads back.
 */
static void shortest(Decimal *decimal, double size)
{
    int exponent;
    bool uneven = frexp(size, &exponent) == 0.5;
    for (int digits = size < DBL_MIN ? 1 : DBL_DIG; digits <= DBL_DECIMAL_DIG; digits++) {
        round_digits(decimal, size, digits);
        if (digits == DBL_DECIMAL_DIG || reads_back(decimal, size)) {
            return;
        }
        if (uneven) {
            raise_last(decimal);
            if (reads_back(decimal, size)) {
                return;
            }
        }
    }
}

void num_write_exact(Buf *buf, double value)
{
    if (add_special(buf, value)) {
        return;
    }
    Decimal decimal;
    shortest(&decimal, fabs(value));
    add_shortened(buf, &decimal);
}

const char *num_text(Arena *arena, double value, int digits)
{
    Buf buf;
    buf_init(&buf, arena);
    num_write(&buf, value, digits);
    return buf.text;
}

const char *num_text_fixed(Arena *arena, double value, int decimals)
{
    Buf buf;
    buf_init(&buf, arena);
    num_write_fixed(&buf, value, decimals);
    return buf.text;
}
