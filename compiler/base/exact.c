/*
 * Whole number times power of ten to the nearest double: by one operation on exact operands where that is
 * possible, by one operation in long double where its rounding provably does no harm, else by long division
 * of big whole numbers. Knows nothing of text.
 */
#include "base/exact.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>

enum {
    EXACT_POWER = 22,       /* 10^22 is the greatest power of ten that is a double */
    EXACT_LONG_POWER = 27,  /* and 10^27 with a mantissa of 64 bits */
    LEAST_POWER = -343,     /* below, everything rounds to zero: 2^64 * 10^-344 < 2^-1075 */
    GREATEST_POWER = 308,   /* above, one digit is more than DBL_MAX */
    BIG_WORDS = 32          /* 1024 bits; 5^343 has 797, and 64 bits times 5^308 have 780 */
};

static const double POWERS[EXACT_POWER + 1] = {
    1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
    1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
};

/* A whole number, least word first; no leading zero words. */
typedef struct Big {
    uint32_t word[BIG_WORDS];
    int count;
} Big;

static void big_set(Big *big, uint64_t value)
{
    big->count = 0;
    for (; value != 0; value >>= 32) {
        big->word[big->count++] = (uint32_t)value;
    }
}

static void big_multiply(Big *big, uint32_t factor)
{
    uint64_t carry = 0;
    for (int i = 0; i < big->count; i++) {
        carry += (uint64_t)big->word[i] * factor;
        big->word[i] = (uint32_t)carry;
        carry >>= 32;
    }
    if (carry != 0) {
        big->word[big->count++] = (uint32_t)carry;
    }
}

static void big_multiply_power_of_five(Big *big, int power)
{
    for (; power >= 13; power -= 13) {
        big_multiply(big, 1220703125U); /* 5^13, the greatest in 32 bits */
    }
    for (; power > 0; power--) {
        big_multiply(big, 5);
    }
}

static int big_bits(const Big *big)
{
    int bits = 32 * (big->count - 1);
    for (uint32_t top = big->word[big->count - 1]; top != 0; top >>= 1) {
        bits++;
    }
    return bits;
}

static void big_shift(Big *big, int bits)
{
    for (; bits >= 31; bits -= 31) {
        big_multiply(big, 1U << 31);
    }
    big_multiply(big, 1U << bits);
}

static int big_compare(const Big *a, const Big *b)
{
    if (a->count != b->count) {
        return a->count < b->count ? -1 : 1;
    }
    for (int i = a->count - 1; i >= 0; i--) {
        if (a->word[i] != b->word[i]) {
            return a->word[i] < b->word[i] ? -1 : 1;
        }
    }
    return 0;
}

/* a -= b, where a >= b. */
static void big_subtract(Big *a, const Big *b)
{
    uint64_t borrow = 0;
    for (int i = 0; i < a->count; i++) {
        uint64_t taken = borrow + (i < b->count ? b->word[i] : 0);
        borrow = a->word[i] < taken;
        a->word[i] = (uint32_t)(a->word[i] - taken);
    }
    while (a->count > 0 && a->word[a->count - 1] == 0) {
        a->count--;
    }
}

/* One bit of a long division: 1 if b goes into a, which keeps the rest, doubled for the next bit. */
static uint64_t next_bit(Big *a, const Big *b)
{
    uint64_t bit = big_compare(a, b) >= 0;
    if (bit) {
        big_subtract(a, b);
    }
    big_multiply(a, 2);
    return bit;
}

/* mantissa * 10^power to the nearest double, ties to even, subnormals included. The mantissa is not 0. */
static double divide_long(uint64_t mantissa, int power)
{
    Big above;
    Big below;
    big_set(&above, mantissa);
    big_set(&below, 1);
    big_multiply_power_of_five(power < 0 ? &below : &above, power < 0 ? -power : power);
    int shift = big_bits(&below) - big_bits(&above);
    big_shift(shift > 0 ? &above : &below, shift > 0 ? shift : -shift);
    int exponent = power - shift; /* value = above / below * 2^exponent */
    if (big_compare(&above, &below) < 0) {
        big_multiply(&above, 2);
        exponent--;
    }
    int precision = DBL_MANT_DIG; /* 1 <= above / below < 2 */
    if (exponent < DBL_MIN_EXP - 1) {
        precision -= DBL_MIN_EXP - 1 - exponent;
    }
    if (precision < 0) {
        return 0;
    }
    uint64_t quotient = 0;
    for (int i = 0; i < precision; i++) {
        quotient = quotient << 1 | next_bit(&above, &below);
    }
    int half = big_compare(&above, &below);
    if (half > 0 || (half == 0 && (quotient & 1))) {
        quotient++;
    }
    return ldexp((double)quotient, exponent - precision + 1);
}

#if LDBL_MANT_DIG >= 64
/*
 * In long double mantissa and power are exact and one operation rounds. Rounding on to double then gives the
 * nearest one unless the long double lies just between two doubles, where it may hide on which side the true
 * value was.
 */
static bool by_long_double(uint64_t mantissa, int power, double *value)
{
    int size = power < 0 ? -power : power;
    if (size > EXACT_LONG_POWER) {
        return false;
    }
    long double ten = POWERS[size > EXACT_POWER ? EXACT_POWER : size];
    ten *= size > EXACT_POWER ? POWERS[size - EXACT_POWER] : 1;
    long double wide = power < 0 ? (long double)mantissa / ten : (long double)mantissa * ten;
    *value = (double)wide;
    long double other = *value + 2 * (wide - *value);
    return wide == *value || (double)other != other;
}
#else
static bool by_long_double(uint64_t mantissa, int power, double *value)
{
    (void)mantissa;
    (void)power;
    (void)value;
    return false;
}
#endif

double exact_value(uint64_t mantissa, int power)
{
    if (mantissa <= UINT64_C(1) << DBL_MANT_DIG && power >= -EXACT_POWER && power <= EXACT_POWER) {
        return power < 0 ? (double)mantissa / POWERS[-power] : (double)mantissa * POWERS[power];
    }
    if (mantissa == 0 || power < LEAST_POWER) {
        return 0;
    }
    if (power > GREATEST_POWER) {
        return HUGE_VAL;
    }
    double value;
    return by_long_double(mantissa, power, &value) ? value : divide_long(mantissa, power);
}
