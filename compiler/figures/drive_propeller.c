/*
 * Propellers: the pitch and the diameter that take the engine's power at its rated speed, and what the
 * stated one takes.
 *
 * All at full power and at `full-speed`, in open water behind a hull with the stated wake. Pitch that fits
 * rises with power and boat speed, and falls with turns, diameter and wake; the load falls and rises the
 * other way round, and rises with the stated pitch: each end of an interval is one corner. Over a range of
 * blade areas the bounds are exact (see physics/propeller.h); over a range of blades every number is tried.
 */
#include "figures/drive_screw.h"

#include <math.h>

static void record_shaft_speed(Work *work, const Entity *propeller, const Entity *engine)
{
    const Entity *gearbox = gearbox_of(work->model, engine);
    work_begin(work);
    Interval turns = use_value(work, engine, PROP_ENGINE_RATED, 1).value;
    const char *formula = "{rated speed}";
    if (gearbox != NULL) {
        turns = interval_divide(turns, use_value(work, gearbox, PROP_GEARBOX_RATIO, 0).value);
        formula = "{rated speed} / {ratio}";
    }
    work_record(work, FIGURE_SHAFT_SPEED, propeller, NULL, turns, formula);
}

Interval use_propeller_wake(Work *work, const Entity *propeller)
{
    return entity_states(propeller, PROP_PROPELLER_WAKE)
               ? use_value(work, propeller, PROP_PROPELLER_WAKE, 0).value
               : use_drive_limit(work, "wake, not being stated", usual_wake(work->model), UNIT_ALONE(UNIT_NONE));
}

/* The pitch that belongs to the best diameter. Beyond 1.2 diameters the series feigns more than there is. */
static void record_best_pitch(Work *work, const Entity *propeller, const Entity *engine, Figure *diameter)
{
    static const double steep = 1.2;
    work_begin(work);
    Screwing s = use_screwing(work, propeller, engine);
    double across = use_figure(work, diameter).value.low;
    Screws screws;
    screws_init(&screws, (int)s.blades.low);
    double advance = screw_advance(s.boat_speed.low, s.wake.low, s.turns.low, across);
    double kq = screw_kq_of_power(s.power.low, s.turns.low, across, s.density.low);
    double ratio = screw_pitch_ratio(&screws, advance, kq, s.area).low;
    if (ratio <= 0.0 || isinf(ratio)) {
        return;
    }
    Figure *figure = work_record(work, FIGURE_BEST_PITCH, propeller, NULL, point(ratio * across),
                                 "pitch of the B-series that takes " SCREWING ", {best-diameter} across");
    figure->unit = unit_of(propeller, PROP_PROPELLER_PITCH, diameter->unit);
    diameter->remark = ratio > steep ? "its pitch is more than 1.2 diameters, where the series is mistrusted" : NULL;
}

/* The best diameter where all is definite: over ranges there is no one best. */
static const Figure *record_best_diameter(Work *work, const Entity *propeller, const Entity *engine)
{
    work_begin(work);
    Screwing s = use_screwing(work, propeller, engine);
    double best = 0.0;
    if (is_usable(work, &s)) {
        if (!is_definite(&s)) {
            return NULL;
        }
        Screws screws;
        screws_init(&screws, (int)s.blades.low);
        best = screw_best_diameter_m(&screws, s.area.low, s.power.low, s.turns.low,
                                     s.boat_speed.low * (1.0 - s.wake.low), s.density.low);
        if (best == 0.0) {
            return NULL;
        }
    } else if (work->state == STATE_KNOWN) {
        return NULL; /* something has no bound: none is the best, and least of all one of nothing */
    }
    Figure *figure = work_record(work, FIGURE_BEST_DIAMETER, propeller, NULL, point(best),
                                 "most efficient of the B-series that takes " SCREWING);
    figure->unit = unit_of(propeller, PROP_PROPELLER_DIAMETER, figure->unit);
    if (best > 0.0) {
        record_best_pitch(work, propeller, engine, figure);
    }
    return figure;
}

/* The diameter: stated, or else the best. */
Interval use_propeller_diameter(Work *work, const Entity *propeller)
{
    return states_number(propeller, PROP_PROPELLER_DIAMETER) ||
                   own(work, propeller, FIGURE_BEST_DIAMETER) == NULL
               ? use_value(work, propeller, PROP_PROPELLER_DIAMETER, 0).value
               : use_figure(work, own(work, propeller, FIGURE_BEST_DIAMETER)).value;
}

/* Ends in m: what lies below the series is up to half of the diameter, what lies above at least 1.4 of it. */
static Interval pitch_of_ratios(Interval ratio, Interval diameter)
{
    double low = ratio.low == 0.0   ? 0.0
                 : isinf(ratio.low) ? SCREW_PITCH_MOST * diameter.low
                                    : ratio.low * diameter.high;
    double high = ratio.high == 0.0   ? SCREW_PITCH_LEAST * diameter.high
                  : isinf(ratio.high) ? INFINITY
                                      : ratio.high * diameter.low;
    if (ratio.low == 0.0) {
        high = fmax(high, SCREW_PITCH_LEAST * diameter.high); /* of the larger ones, that lie below */
    }
    if (isinf(ratio.high)) {
        low = fmin(low, SCREW_PITCH_MOST * diameter.low);
    }
    return interval_corners(fmin(low, high), fmax(low, high));
}

static const char *pitch_remark(Interval ratio)
{
    if (isinf(ratio.low)) {
        return "the propeller is too small for that power, or turns too slowly: even a pitch of 1.4 "
               "diameters "
               "takes less";
    }
    if (ratio.high == 0.0) {
        return "the propeller is too large for that power, or turns too fast: even a pitch of half the "
               "diameter "
               "takes more";
    }
    return ratio.low == 0.0 || isinf(ratio.high) ? "part of the range lies outside of the series" : NULL;
}

static const Figure *record_matched_pitch(Work *work, const Entity *propeller, const Entity *engine)
{
    Driven driven;
    Screwing s = screwing_apart(work, propeller, engine, &driven);
    bool usable = is_usable(work, &s) && s.diameter.low > 0.0 && isfinite(s.diameter.high);
    bool unbounded = !usable && is_unbounded(work, &s, s.diameter);
    if (work->state == STATE_KNOWN && !usable && !unbounded) {
        return NULL;
    }
    Interval ratio = usable ? pitch_ratios(&s) : unbounded ? interval(0.0, INFINITY) : point(0.0);
    Figure *figure = work_record(work, FIGURE_MATCHED_PITCH, propeller, NULL,
                                 usable ? pitch_of_ratios(ratio, s.diameter) : ratio,
                                 "pitch of the B-series that takes " SCREWING ", {diameter} across");
    figure->unit =
        unit_of(propeller,
                states_number(propeller, PROP_PROPELLER_PITCH) ? PROP_PROPELLER_PITCH : PROP_PROPELLER_DIAMETER,
                figure->unit);
    if (!usable && !unbounded) {
        return figure;
    }
    figure->remark = pitch_remark(ratio);
    figure->none = isinf(ratio.low) || ratio.high == 0.0;
    if (!figure->none) {
        record_thrust(work, propeller, &s, ratio, unbounded);
    }
    return figure;
}

/* Share of the power that a pitch takes at a corner, by one bound of KQ; the ratio held within the series. */
static double load_at(const Screwing *s, const Corner *c, double pitch, bool greatest)
{
    double ratio = fmin(fmax(pitch / c->diameter, SCREW_PITCH_LEAST), SCREW_PITCH_MOST);
    double bound = greatest ? 0.0 : INFINITY;
    for (int blades = (int)s->blades.low; blades <= (int)s->blades.high; blades++) {
        Screws screws;
        screws_init(&screws, blades);
        Interval kq = screw_kq(&screws, advance_at(c), ratio, s->area);
        bound = greatest ? fmax(bound, kq.high) : fmin(bound, kq.low);
    }
    return fmax(screw_power_w(bound, c->turns, c->diameter, c->density) / c->power, 0.0);
}

/* Over all corners; without an end on the side on which the pitch leaves the series. */
static Interval load_of(const Screwing *s, Interval pitch, const char **remark)
{
    Corner least = {s->power.high, s->turns.low,   s->boat_speed.high,
                    s->wake.low,   s->density.low, s->diameter.low};
    Corner most = {s->power.low, s->turns.high,   s->boat_speed.low,
                   s->wake.high, s->density.high, s->diameter.high};
    Interval load =
        interval_corners(load_at(s, &least, pitch.low, false), load_at(s, &most, pitch.high, true));
    *remark = NULL;
    if (pitch.low / s->diameter.high < SCREW_PITCH_LEAST) {
        load.low = 0.0;
        *remark = "the pitch is less than the half of the diameter that the series begins with";
    }
    if (pitch.high / s->diameter.low > SCREW_PITCH_MOST) {
        load.high = INFINITY;
        *remark = "the pitch is more than the 1.4 diameters that the series ends with";
    }
    return load;
}

/* What the stated pitch takes at rated speed, as a share of what there is. */
static void record_load(Work *work, const Entity *propeller, const Entity *engine)
{
    if (!states_number(propeller, PROP_PROPELLER_PITCH) || !states_number(propeller, PROP_PROPELLER_DIAMETER)) {
        return;
    }
    work_begin(work);
    Screwing s = use_screwing(work, propeller, engine);
    s.diameter = use_value(work, propeller, PROP_PROPELLER_DIAMETER, 0).value;
    Interval pitch = use_value(work, propeller, PROP_PROPELLER_PITCH, 0).value;
    const char *remark = NULL;
    bool usable = is_usable(work, &s) && s.diameter.low > 0.0 && isfinite(s.diameter.high);
    bool unbounded = !usable && is_unbounded(work, &s, s.diameter);
    if (work->state == STATE_KNOWN && !usable && !unbounded) {
        return;
    }
    Interval load = usable ? load_of(&s, pitch, &remark) : unbounded ? interval(0.0, INFINITY) : point(0.0);
    work_record(work, FIGURE_PROPELLER_LOAD, propeller, NULL, load,
                "power that the B-series takes, of " SCREWING
                ", {diameter} across and {pitch} of pitch, as a share of it")
        ->remark = remark;
}

/* Diameters that take the power with that pitch, over all numbers of blades: 0 and infinity outside of the series. */
static Interval diameters_of(const Screwing *s, Interval pitch)
{
    Interval all = {INFINITY, 0.0};
    for (int blades = (int)s->blades.low; blades <= (int)s->blades.high; blades++) {
        Screws screws;
        screws_init(&screws, blades);
        double slow = s->boat_speed.low * (1.0 - s->wake.high);
        double fast = s->boat_speed.high * (1.0 - s->wake.low);
        all.low = fmin(all.low, screw_diameter_m(&screws, pitch.high, s->power.low, s->turns.high, slow,
                                                 s->density.high, s->area)
                                    .low);
        all.high = fmax(all.high, screw_diameter_m(&screws, pitch.low, s->power.high, s->turns.low, fast,
                                                   s->density.low, s->area)
                                      .high);
    }
    return all;
}

static const char *diameter_remark(Interval found)
{
    if (found.high == 0.0) {
        return "that pitch is too much for any: even a screw so small that it is 1.4 diameters takes more";
    }
    if (isinf(found.low)) {
        return "that pitch is too little for any: even a screw so large that it is half of its diameter takes less";
    }
    return found.low == 0.0 || isinf(found.high) ? "part of the range lies outside of the series" : NULL;
}

/* The other way round: the diameter that makes the stated pitch fit. */
static void record_matched_diameter(Work *work, const Entity *propeller, const Entity *engine)
{
    if (!states_number(propeller, PROP_PROPELLER_PITCH)) {
        return;
    }
    work_begin(work);
    Screwing s = use_screwing(work, propeller, engine);
    Interval pitch = use_value(work, propeller, PROP_PROPELLER_PITCH, 0).value;
    bool usable = is_usable(work, &s) && pitch.low > 0.0 && isfinite(pitch.high);
    if (work->state == STATE_KNOWN && !usable) {
        return;
    }
    Interval found = usable ? diameters_of(&s, pitch) : point(1.0);
    /* What lies above the series is at least twice the pitch, what lies below it up to 1/1.4 of it. */
    double low = isinf(found.high) ? fmin(found.low, pitch.low / SCREW_PITCH_LEAST) : found.low;
    double high = found.low == 0.0 ? fmax(found.high, pitch.high / SCREW_PITCH_MOST) : found.high;
    Figure *figure = work_record(work, FIGURE_MATCHED_DIAMETER, propeller, NULL, interval_corners(low, high),
                                 "diameter of the B-series that takes " SCREWING ", with {pitch} of pitch");
    figure->unit = unit_of(propeller, PROP_PROPELLER_DIAMETER, unit_of(propeller, PROP_PROPELLER_PITCH, figure->unit));
    figure->remark = usable ? diameter_remark(found) : NULL;
    figure->none = usable && (found.high == 0.0 || isinf(found.low));
}

/* The engine of a propeller, where it is known how fast that turns it; else NULL. */
static const Entity *turned_by(const Model *model, const Entity *propeller)
{
    const Entity *engine = entity_reference(propeller, PROP_PROPELLER_ENGINE);
    bool known = engine != NULL && is_aboard(engine) && (gearbox_of(model, engine) != NULL || is_direct(model, engine));
    return known ? engine : NULL;
}

void drive_propellers(Work *work)
{
    const Model *model = work->model;
    for (const Entity *e = first_aboard(model, KIND_PROPELLER); e != NULL; e = next_aboard(e)) {
        const Entity *engine = turned_by(model, e);
        drive_tip_gap(work, e);
        if (engine == NULL) {
            continue;
        }
        record_shaft_speed(work, e, engine);
        drive_pitch_speed(work, e);
        record_best_diameter(work, e, engine);
        record_matched_pitch(work, e, engine);
        drive_blades(work, e, engine);
    }
}

void drive_pitches(Work *work)
{
    for (const Entity *e = first_aboard(work->model, KIND_PROPELLER); e != NULL; e = next_aboard(e)) {
        const Entity *engine = turned_by(work->model, e);
        if (engine != NULL) {
            record_load(work, e, engine);
            record_matched_diameter(work, e, engine);
        }
    }
}
