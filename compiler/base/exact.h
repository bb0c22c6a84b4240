/*
 * The step from decimal digits to a double, correctly rounded. What base/num.h reads goes through here.
 */
#ifndef GARBOARD_BASE_EXACT_H
#define GARBOARD_BASE_EXACT_H

#include <stdint.h>

/** The double nearest to mantissa * 10^power, ties to even; infinite where it is too great, else finite. */
double exact_value(uint64_t mantissa, int power);

#endif
