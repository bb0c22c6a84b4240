/* See shore.h: how thick a grounding conductor has to be. */
#include "rules/shore.h"

double earth_by_live_m2(double live_m2)
{
    double mm2 = live_m2 * 1e6;
    return live_m2 <= 0.0 || mm2 <= 16.0 ? live_m2 : (mm2 <= 35.0 ? 16e-6 : live_m2 / 2.0);
}

const char *earth_size_word(Basis basis, double area_m2)
{
    const Conductor *row =
        conductor_at_least(basis == BASIS_US ? SERIES_AWG : SERIES_METRIC, area_m2 * (1.0 - 1e-6));
    return row != NULL ? row->word : NULL;
}
