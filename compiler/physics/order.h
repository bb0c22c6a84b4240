/* The lesser and the greater of two numbers: unlike those of the C library no calls, for steps that run by the thousand. */
#ifndef GARBOARD_PHYSICS_ORDER_H
#define GARBOARD_PHYSICS_ORDER_H

static inline double lesser(double a, double b)
{
    return a < b ? a : b;
}

static inline double greater(double a, double b)
{
    return a > b ? a : b;
}

#endif
