/* See figure.h: units that a figure is told in where no property of the owner's says one. */
#include "figures/figure.h"

UnitPair figures_unit(const Figures *figures, UnitPair unit)
{
    return figures->in_feet ? unit_customary(unit) : unit;
}

UnitPair work_unit(const Work *work, UnitPair unit)
{
    return figures_unit(work->figures, unit);
}
