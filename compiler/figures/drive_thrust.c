/*
 * The thrust of a propeller and its efficiency, with the pitch that fits. Over ranges they are bounded piece by
 * piece: pitch and thrust hang on the same things, and the bounds of the whole would be wide.
 */
#include "figures/drive_screw.h"

#include "physics/pipe.h"

#include <math.h>

/*
 * Bounds of everything else at full power, from the bounds of pitch ratio and advance: both coefficients rise
 * with pitch and fall with advance.
 */
typedef struct Thrusting {
    Interval advance, ratio, thrust, efficiency;
} Thrusting;

static Interval thrust_coefficient(const Screwing *s, const Thrusting *t)
{
    Interval all = {INFINITY, -INFINITY};
    for (int blades = (int)s->blades.low; blades <= (int)s->blades.high; blades++) {
        Screws screws;
        screws_init(&screws, blades);
        all.low = fmin(all.low, screw_kt(&screws, t->advance.high, t->ratio.low, s->area).low);
        all.high = fmax(all.high, screw_kt(&screws, t->advance.low, t->ratio.high, s->area).high);
    }
    return interval_corners(fmax(all.low, 0.0), fmax(all.high, 0.0));
}

static Interval raised(Interval base, int exponent)
{
    Interval product = point(1.0);
    for (int i = 0; i < exponent; i++) {
        product = interval_multiply(product, base);
    }
    return product;
}

/* Thrust and efficiency of one part of the ranges, from the bounds of its own pitch. */
static Thrusting thrusting_in(const Screwing *s, Interval ratio)
{
    Corner slow = {0.0, s->turns.high, s->boat_speed.low, s->wake.high, 0.0, s->diameter.high};
    Corner fast = {0.0, s->turns.low, s->boat_speed.high, s->wake.low, 0.0, s->diameter.low};
    Thrusting t = {.ratio = ratio, .advance = interval_corners(advance_at(&slow), advance_at(&fast))};
    Interval kt = thrust_coefficient(s, &t);
    Interval n2d4 = interval_multiply(raised(s->turns, 2), raised(s->diameter, 4));
    t.thrust = interval_multiply(interval_multiply(kt, s->density), n2d4);
    Interval water_speed = interval_multiply(s->boat_speed, interval_subtract(point(1.0), s->wake));
    t.efficiency = interval_divide(interval_multiply(t.thrust, water_speed), s->power);
    return t;
}

/* The ranges that a screw's pitch and thrust both hang on. */
enum { SPLIT_RANGES = 6, SPLIT_CELLS = 36 };

static Interval *split_range(Screwing *s, int number)
{
    Interval *const ranges[SPLIT_RANGES] = {&s->turns, &s->boat_speed, &s->power, &s->wake, &s->diameter, &s->area};
    return ranges[number];
}

/* Which of `pieces` equal parts a range is cut down to: neighbours share an end, so that no value falls between them. */
static Interval piece_of(Interval whole, int number, int pieces)
{
    double step = (whole.high - whole.low) / pieces;
    return interval_corners(number == 0 ? whole.low : whole.low + step * number,
                            number + 1 == pieces ? whole.high : whole.low + step * (number + 1));
}

/* In how many pieces each range is cut, so that all cells together are no more than SPLIT_CELLS; 1: nothing is a range. */
static int pieces_each(const Screwing *s)
{
    Screwing copy = *s;
    int wide = 0;
    for (int r = 0; r < SPLIT_RANGES; r++) {
        wide += !interval_is_point(*split_range(&copy, r));
    }
    return wide == 0 ? 1 : (int)(pow(SPLIT_CELLS, 1.0 / wide) + 1e-9);
}

/* The cell of that number: its digits, to the base `pieces`, choose a piece of each range. */
static Screwing cell_of_ranges(const Screwing *s, int number, int pieces)
{
    Screwing cell = *s;
    for (int r = 0; r < SPLIT_RANGES; r++) {
        Interval *range = split_range(&cell, r);
        if (!interval_is_point(*range)) {
            *range = piece_of(*range, number % pieces, pieces);
            number /= pieces;
        }
    }
    return cell;
}

static int cells_of(const Screwing *s, int pieces)
{
    Screwing copy = *s;
    int cells = 1;
    for (int r = 0; r < SPLIT_RANGES; r++) {
        cells *= interval_is_point(*split_range(&copy, r)) ? 1 : pieces;
    }
    return cells;
}

/*
 * At the pitch that takes the power, slower turns go with more pitch: bounds of pitch beside bounds of turns would hold
 * screws that cannot be. The ranges are cut into cells, each with its own bounds, for each number of blades; what comes
 * out is the hull of all, which holds every screw of the whole and little else.
 */
static Thrusting thrusting_of(const Screwing *s, Interval ratio)
{
    Thrusting all = {.ratio = ratio};
    bool first = true;
    int pieces = pieces_each(s);
    int cells = cells_of(s, pieces);
    for (int blades = (int)s->blades.low; blades <= (int)s->blades.high; blades++) {
        for (int c = 0; c < cells; c++) {
            Screwing cell = cell_of_ranges(s, c, pieces);
            cell.blades = point(blades);
            Interval fits = pitch_ratios(&cell);
            if (fits.high == 0.0 || isinf(fits.low)) {
                continue; /* no screw: see record_thrust */
            }
            Thrusting t = thrusting_in(&cell, interval_corners(fmax(fits.low, SCREW_PITCH_LEAST), fmin(fits.high, SCREW_PITCH_MOST)));
            all.advance = first ? t.advance : interval_hull(all.advance, t.advance);
            all.thrust = first ? t.thrust : interval_hull(all.thrust, t.thrust);
            all.efficiency = first ? t.efficiency : interval_hull(all.efficiency, t.efficiency);
            first = false;
        }
    }
    return all;
}

/* Notes how far the blades are from the Reynolds number that the series is given for. */
static const char *reynolds_remark(Work *work, const Screwing *s, const Thrusting *t)
{
    if (!is_definite(s) || !interval_is_point(s->diameter)) {
        return NULL;
    }
    double blades = s->blades.low;
    double water = s->boat_speed.low * (1.0 - s->wake.low);
    double viscosity = liquid_viscosity_m2_per_s(LIQUID_SEA_15_C);
    double reynolds = screw_reynolds(blades, s->area.low, s->diameter.low, s->turns.low, water, viscosity);
    double kt;
    double kq;
    screw_reynolds_step(reynolds, blades, t->advance.low, t->ratio.low, s->area.low, &kt, &kq);
    Screws screws;
    screws_init(&screws, (int)blades);
    double share = kq / screw_kq(&screws, t->advance.low, t->ratio.low, s->area).low;
    Buf remark;
    buf_init(&remark, work->figures->arena);
    buf_text(&remark, "Reynolds number of the blades ");
    unit_print(&remark, RATIO, reynolds / 1e6, reynolds / 1e6);
    buf_text(&remark, " million; the series is given for 2 million");
    if (fabs(share) >= 0.0005) {
        buf_text(&remark, share < 0.0 ? ", and there the torque would be less by "
                                      : ", and there it would be more by ");
        unit_print(&remark, PERCENT, fabs(share), fabs(share));
    }
    return remark.text;
}

/* Where nothing has a bound, nothing is known but that a screw pushes, and gives no more than it takes. */
static const Thrusting any_thrust = {.thrust = {0.0, INFINITY}, .efficiency = {0.0, 1.0}};

/* Thrust and efficiency with the pitch that fits; where none does, in part of the ranges, there may be none. */
void record_thrust(Work *work, const Entity *propeller, const Screwing *s, Interval ratio, bool unbounded)
{
    bool partly = ratio.low == 0.0 || isinf(ratio.high);
    Thrusting t = unbounded ? any_thrust : thrusting_of(s, ratio);
    if (partly) {
        t.thrust.low = t.efficiency.low = 0.0;
    }
    t.efficiency = interval_min(t.efficiency, point(1.0)); /* bounds of a wide range say more than a screw can */
    Figure *efficiency = work_record(work, FIGURE_PROPELLER_EFFICIENCY, propeller, NULL, t.efficiency,
                                     "J KT / (2 pi KQ) of the B-series at the pitch that takes " SCREWING
                                     ", {diameter} across");
    efficiency->remark = partly || unbounded ? "in part of the range no screw of the series fits" : reynolds_remark(work, s, &t);
    Figure *thrust = work_record(work, FIGURE_THRUST, propeller, NULL, t.thrust,
                                 "KT rho n^2 D^4 of the B-series at the pitch that takes " SCREWING ", {diameter} across");
    thrust->remark = partly || unbounded ? efficiency->remark : NULL;
}
