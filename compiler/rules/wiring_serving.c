/* See wiring_serving.h. */
#include "rules/wiring_serving.h"

#include "figures/cable.h"
#include "physics/ampacity.h"
#include "rules/ask.h"
#include "rules/upstream.h"
#include "rules/wiring.h"

#include <math.h>

const Conductor *conductor_of(const Figure *size)
{
    return size != NULL && size->low > 0.0 ? conductor_find(series_of_unit(size->unit), size->low) : NULL;
}

/* Of that size, where the one that is there carries so much; in the air that is the hottest on its way, or the coolest that may be. */
static double ampacity_by(const Judge *judge, const Feed *feed, const Conductor *row, double insulation_c, double carries_a, bool cool)
{
    const Conductor *own = conductor_of(feed_figure(judge, feed, FIGURE_WIRE_SIZE));
    double own_c = feed_insulation_celsius(feed);
    double table = own != NULL ? ampacity_table(judge->basis, own, own_c) : 0.0;
    double factor = table > 0.0 ? carries_a / table : 0.0; /* heat, bundle and parallel conductors, as they are */
    if (insulation_c != own_c && factor > 0.0) { /* the same heat lessens another insulation by less, or more */
        CableWay way = cable_way(judge->model, judge->basis, feed);
        way.air_c = cool ? way.least_air_c : way.air_c;
        factor *= cable_way_factor(&way, judge->basis, insulation_c) / cable_way_factor(&way, judge->basis, own_c);
    }
    return row != NULL ? ampacity_table(judge->basis, row, insulation_c) * factor : 0.0;
}

double ampacity_with(const Judge *judge, const Feed *feed, const Conductor *row, double insulation_c)
{
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    return ampacity_by(judge, feed, row, insulation_c, ampacity != NULL ? ampacity->low : 0.0, false);
}

double ampacity_at_most(const Judge *judge, const Feed *feed, const Conductor *row, double insulation_c)
{
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    return ampacity_by(judge, feed, row, insulation_c, ampacity != NULL ? ampacity->high : 0.0, true);
}

bool cable_serves(const Judge *judge, const Feed *feed, double ampacity_a, double amps, double device_a)
{
    double volts = nominal_volts(judge, feed).high;
    return ampacity_a > 0.0 && ampacity_a >= amps * (1.0 - 1e-9) &&
           protection_limit_a(judge->basis, volts, ampacity_a) >= device_a * (1.0 - 1e-9);
}

/* The next sizes up, up to the one that serves; NULL if none does. */
static const Conductor *size_that_serves(const Judge *judge, const Feed *feed, double insulation_c, double amps, double device_a)
{
    const Conductor *row = conductor_of(feed_figure(judge, feed, FIGURE_WIRE_SIZE));
    if (row == NULL || !isfinite(amps) || !isfinite(device_a)) {
        return NULL;
    }
    while (row != NULL && !cable_serves(judge, feed, ampacity_with(judge, feed, row, insulation_c), amps, device_a)) {
        row = conductor_next(row);
    }
    return row;
}

Serving cables_that_serve(const Judge *judge, const Feed *feed, double amps, double device_a)
{
    double insulation = feed_insulation_celsius(feed);
    Serving serving = {.own = size_that_serves(judge, feed, insulation, amps, device_a)};
    serving.best = insulation < BEST_INSULATION_C ? size_that_serves(judge, feed, BEST_INSULATION_C, amps, device_a) : NULL;
    if (serving.best != NULL && serving.own != NULL && serving.best->area_m2 >= serving.own->area_m2) {
        serving.best = NULL; /* it is not the heat that this one stands which it lacks */
    }
    return serving;
}
