/* Stub until its recipes are written. */
#include "figures/figure.h"

void figures_boat(Work *work)
{
    (void)work;
}
