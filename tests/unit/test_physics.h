/*
 * What the tests of physics share: comparing doubles with a tolerance, in double precision and failing on a
 * NaN.
 */
#ifndef GARBOARD_TEST_PHYSICS_H
#define GARBOARD_TEST_PHYSICS_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static inline void near_or_fail(double is, double wanted, double tolerance, const char *text,
                                const char *file, int line)
{
    if (fabs(is - wanted) <= tolerance || is == wanted)
        return;
    print_error("%s is %.12g, not %.12g within %.3g\n", text, is, wanted, tolerance);
    _fail(file, line);
}

/* Within an absolute tolerance; equal infinities are near. */
#define assert_near(is, wanted, tolerance) near_or_fail((is), (wanted), (tolerance), #is, __FILE__, __LINE__)

/* Within a share of the wanted value. */
#define assert_within(is, wanted, share) \
    near_or_fail((is), (wanted), fabs(wanted) * (share), #is, __FILE__, __LINE__)

#endif
