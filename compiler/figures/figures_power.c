/* Stub until its recipes are written. */
#include "figures/figure.h"

void figures_power(Work *work)
{
    (void)work;
}
