/*
 * What every test program needs besides cmocka: nearness in double precision, an arena, chance.
 * Includes what cmocka wants to see before it.
 */
#ifndef GARBOARD_TESTS_CHECK_H
#define GARBOARD_TESTS_CHECK_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "base/arena.h"
#include "base/str.h"

/**
 * Fails unless actual lies within tolerance (>= 0, same unit) of expected. NaN anywhere fails; an infinity
 * is near only to itself. cmocka's own assert_float_equal works in single precision.
 */
#define assert_near(actual, expected, tolerance) \
    check_near((actual), (expected), (tolerance), #actual, __FILE__, __LINE__)

static inline void check_near(double actual, double expected, double tolerance, const char *what,
                              const char *file, int line)
{
    if (actual == expected || fabs(actual - expected) <= tolerance) {
        return; /* every comparison with NaN is false */
    }
    print_error("%s is %.17g, expected %.17g within %g (off by %g)\n", what, actual, expected, tolerance,
                actual - expected);
    _fail(file, line);
}

/** Fails unless a Str (or what buf_str gives) is the NUL-terminated text expected; shows both. */
#define assert_str(actual, expected) check_str((actual), (expected), #actual, __FILE__, __LINE__)

static inline void check_str(Str actual, const char *expected, const char *what, const char *file, int line)
{
    if (str_is(actual, expected)) {
        return;
    }
    print_error("%s is `%.*s`, expected `%s`\n", what, STR_ARG(actual), expected);
    _fail(file, line);
}

/** An empty arena for one test; give it back with arena_free. Where memory runs out, the test crashes. */
static inline Arena check_arena(void)
{
    Arena arena;
    arena_init(&arena, allocator_standard(), NULL);
    return arena;
}

/* Chance that is the same every time; the state starts at any number but 0.
 * G. Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8 (14), 2003; shifts from memory. */
static inline uint64_t next_random(uint64_t *state)
{
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return *state;
}

/** 0 to limit - 1. */
static inline int random_below(uint64_t *state, int limit)
{
    return (int)(next_random(state) % (uint64_t)limit);
}

/** Any finite double, all exponents alike. */
static inline double random_double(uint64_t *state)
{
    double value;
    do {
        uint64_t bits = next_random(state);
        memcpy(&value, &bits, sizeof value);
    } while (!isfinite(value));
    return value;
}

/** Everyday sizes of either sign, now and then zero or a whole number. */
static inline double random_everyday(uint64_t *state)
{
    double value = (double)random_below(state, 2000001) - 1e6;
    static const double SCALES[] = {1, 1e-3, 1.0 / 3, 1e3, 0, 1e-9, 1e9, 0.1};
    return value * SCALES[random_below(state, 8)];
}

#endif
