/* Stub until its recipes are written. */
#include "figures/figure.h"

void figures_water(Work *work)
{
    (void)work;
}
