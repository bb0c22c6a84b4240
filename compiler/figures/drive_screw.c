/* See drive_screw.h. */
#include "figures/drive_screw.h"

#include <math.h>

/* Uses all but diameter and pitch, in the order of the formulas. */
Screwing use_screwing(Work *work, const Entity *propeller, const Entity *engine)
{
    return (Screwing){
        .power = use_figure(work, figure_find(work->figures, engine, FIGURE_SHAFT_POWER, NULL)).value,
        .turns = use_figure(work, own(work, propeller, FIGURE_SHAFT_SPEED)).value,
        .boat_speed = use_figure(work, full_speed_with(work->figures, engine)).value,
        .wake = use_propeller_wake(work, propeller),
        .blades = use_value(work, propeller, PROP_PROPELLER_BLADES, 0).value,
        .area = use_value(work, propeller, PROP_PROPELLER_AREA_RATIO, 0).value,
        .density = use_water_density(work),
    };
}

const Driven *driven_by_range(Work *work, const Entity *engine, Driven *driven)
{
    const Figure *power = figure_find(work->figures, engine, FIGURE_SHAFT_POWER, NULL);
    bool ranged = power != NULL && power->state == STATE_KNOWN && power->low != power->high;
    if (!ranged || measures_full_speed(work, engine, NULL)) {
        return NULL; /* a measured speed has a width of its own, and goes by no formula of the hull */
    }
    *driven = driven_of(work, engine);
    return driven->known ? driven : NULL;
}

Screwing screwing_apart(Work *work, const Entity *propeller, const Entity *engine, Driven *driven)
{
    const Driven *by = driven_by_range(work, engine, driven);
    work_begin(work);
    Screwing s = use_screwing(work, propeller, engine);
    s.diameter = use_propeller_diameter(work, propeller);
    s.driven = by;
    return s;
}

/* Whether all is there, and finite: for infinite ends no screw is looked for. */
bool is_usable(const Work *work, const Screwing *s)
{
    return work->state == STATE_KNOWN && s->turns.low > 0.0 && isfinite(s->turns.high) &&
           s->power.low > 0.0 && isfinite(s->power.high) && isfinite(s->boat_speed.high) &&
           isfinite(s->blades.high) && isfinite(s->area.high) && s->area.low > 0.0 &&
           s->blades.low >= SCREW_BLADES_LEAST && s->blades.high <= SCREW_BLADES_MOST;
}

/* Whether something has no bound, and any screw may be asked for. */
bool is_unbounded(const Work *work, const Screwing *s, Interval diameter)
{
    const Interval all[] = {s->power, s->turns, s->boat_speed, s->blades, s->area, diameter};
    bool unbounded = false;
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        unbounded = unbounded || (!interval_is_point(all[i]) && (all[i].low <= 0.0 || isinf(all[i].high)));
    }
    return work->state == STATE_KNOWN && unbounded;
}

bool is_definite(const Screwing *s)
{
    return interval_is_point(s->power) && interval_is_point(s->turns) && interval_is_point(s->boat_speed) &&
           interval_is_point(s->wake) && interval_is_point(s->blades) && interval_is_point(s->area) &&
           interval_is_point(s->density);
}

double advance_at(const Corner *c)
{
    return screw_advance(c->boat_speed, c->wake, c->turns, c->diameter);
}

static Interval pitch_ratio_at(const Screws *screws, const Corner *c, Interval area)
{
    double kq = screw_kq_of_power(c->power, c->turns, c->diameter, c->density);
    return screw_pitch_ratio(screws, advance_at(c), kq, area);
}

/* The corners of least and of most pitch ratio; with the diameter that belongs to them. */
static Corner least_corner(const Screwing *s)
{
    return (Corner){s->power.low, s->turns.high,   s->boat_speed.low,
                    s->wake.high, s->density.high, s->diameter.high};
}

static Corner most_corner(const Screwing *s)
{
    return (Corner){s->power.high, s->turns.low,   s->boat_speed.high,
                    s->wake.low,   s->density.low, s->diameter.low};
}

/* Pitch ratios that take the power, over all numbers of blades: 0 and infinity as screw_pitch_ratio has it. */
Interval pitch_ratios(const Screwing *s)
{
    Corner least = least_corner(s);
    Corner most = most_corner(s);
    Interval all = {INFINITY, 0.0};
    for (int blades = (int)s->blades.low; blades <= (int)s->blades.high; blades++) {
        Screws screws;
        screws_init(&screws, blades);
        all.low = fmin(all.low, pitch_ratio_at(&screws, &least, s->area).low);
        all.high = fmax(all.high, pitch_ratio_at(&screws, &most, s->area).high);
    }
    return all;
}
