/*
 * The thrust of a propeller and its efficiency, with the pitch that fits. Over ranges they are bounded piece by
 * piece: pitch and thrust hang on the same things, and the bounds of the whole would be wide.
 */
#include "figures/drive_screw.h"

#include "physics/pipe.h"

#include <math.h>

/* From the bounds of pitch ratio and advance: both coefficients rise with pitch and fall with advance. */
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

/* By a logarithm's slope, over a range around a middle. */
static Interval risen(Interval slope, Interval range, double middle)
{
    if (interval_is_point(range)) {
        return point(0.0);
    }
    return interval_multiply(slope, interval_corners(log(range.low / middle), log(range.high / middle)));
}

static double middle_of(Interval range)
{
    return interval_is_point(range) ? range.low : 0.5 * (range.low + range.high);
}

/* One screw in the middle of a part of the ranges, with the pitch that fits it. */
typedef struct Middle {
    Screwing at;
    double thrust, efficiency;
} Middle;

static bool find_middle(const Screwing *s, bool goes_along, const Screws *screws, Middle *m)
{
    m->at = (Screwing){point(middle_of(s->power)),   point(middle_of(s->turns)), point(middle_of(s->boat_speed)),
                       point(middle_of(s->wake)),    s->blades,                  point(middle_of(s->area)),
                       point(middle_of(s->density)), point(middle_of(s->diameter)), s->driven};
    m->at.boat_speed = goes_along ? driven_speed(s->driven, m->at.power) : m->at.boat_speed;
    double turns = m->at.turns.low, diameter = m->at.diameter.low, density = m->at.density.low;
    double advance = screw_advance(m->at.boat_speed.low, m->at.wake.low, turns, diameter);
    double kq = screw_kq_of_power(m->at.power.low, turns, diameter, density);
    double ratio = screw_pitch_ratio(screws, advance, kq, m->at.area).low;
    if (ratio == 0.0 || isinf(ratio)) {
        return false;
    }
    m->thrust = screw_thrust_n(screw_kt(screws, advance, ratio, m->at.area).low, turns, diameter, density);
    m->efficiency = m->thrust * m->at.boat_speed.low * (1.0 - m->at.wake.low) / m->at.power.low;
    return m->thrust > 0.0 && m->efficiency > 0.0;
}

/* How the logarithms of thrust and efficiency leave those in the middle. */
typedef struct Leaving {
    Interval thrust, efficiency;
} Leaving;

/*
 * Bounds of the slopes times the ranges. All that a screw hangs on enters by power, advance and area: ln T = ln KT + ln rho
 * + 2 ln n + 4 ln D, with KQ by P / (rho n^3 D^5) and J by Va / (n D); ln eta = ln T + ln Va - ln P.
 */
static Leaving leaving_of(const Screwing *s, const Middle *m, const MatchedSlopes *by, Interval along, bool goes_along)
{
    const Interval one = point(1.0);
    Interval kq = by->by_kq, j = by->by_advance;
    Interval by_turns = interval_subtract(point(2.0), interval_add(interval_scale(kq, 3.0), j));
    Interval by_diameter = interval_subtract(point(4.0), interval_add(interval_scale(kq, 5.0), j));
    Interval with_water = interval_add(one, j);
    Interval water = interval_subtract(one, s->wake);
    double still = 1.0 - m->at.wake.low;
    Interval both = interval_add(risen(by_turns, s->turns, m->at.turns.low), risen(by_diameter, s->diameter, m->at.diameter.low));
    both = interval_add(both, risen(interval_subtract(one, kq), s->density, m->at.density.low));
    both = interval_add(both, interval_multiply(by->by_area, interval_subtract(s->area, m->at.area)));
    Leaving l = {both, both};
    l.thrust = interval_add(l.thrust, risen(j, water, still));
    l.efficiency = interval_add(l.efficiency, risen(with_water, water, still));
    Interval push = kq, worth = interval_subtract(kq, one);
    if (goes_along) {
        push = interval_add(push, interval_multiply(j, along));
        worth = interval_add(worth, interval_multiply(with_water, along));
    } else {
        l.thrust = interval_add(l.thrust, risen(j, s->boat_speed, m->at.boat_speed.low));
        l.efficiency = interval_add(l.efficiency, risen(with_water, s->boat_speed, m->at.boat_speed.low));
    }
    l.thrust = interval_add(l.thrust, risen(push, s->power, m->at.power.low));
    l.efficiency = interval_add(l.efficiency, risen(worth, s->power, m->at.power.low));
    return l;
}

static Interval within(Interval bounds, double middle, Interval leaving)
{
    double low = middle * exp(leaving.low), high = middle * exp(leaving.high);
    static const double rounding = 1e-8; /* the pitch in the middle is halved down to 1e-9 */
    return interval_corners(fmax(bounds.low, low * (1.0 - rounding)), fmin(bounds.high, high * (1.0 + rounding)));
}

/*
 * Narrower than by its bounds alone: by the mean value theorem, from the middle of that part. What pulls both ways, as turns
 * do on pitch and thrust, is then counted once.
 */
static void narrow(const Screwing *s, Thrusting *t)
{
    Screws screws;
    Middle m;
    MatchedSlopes by;
    Interval along = point(0.0);
    bool goes_along = s->driven != NULL && driven_is_exact(s->driven) && driven_slope(s->driven, s->power, &along);
    Interval kq = interval_corners(screw_kq_of_power(s->power.low, s->turns.high, s->diameter.high, s->density.high),
                                   screw_kq_of_power(s->power.high, s->turns.low, s->diameter.low, s->density.low));
    screws_init(&screws, (int)s->blades.low);
    if (s->boat_speed.low <= 0.0 || s->wake.high >= 1.0 || !screw_matched_slopes(&screws, t->advance, t->ratio, kq, s->area, &by) ||
        !find_middle(s, goes_along, &screws, &m)) {
        return;
    }
    Leaving leaving = leaving_of(s, &m, &by, along, goes_along);
    t->thrust = within(t->thrust, m.thrust, leaving.thrust);
    t->efficiency = within(t->efficiency, m.efficiency, leaving.efficiency);
}

/* The ranges that a screw's pitch and thrust both hang on. Power first: her speed may go with it. */
enum { SPLIT_RANGES = 6, SPLIT_CELLS = 36 };

static Interval *split_range(Screwing *s, int number)
{
    Interval *const ranges[SPLIT_RANGES] = {&s->power, &s->boat_speed, &s->turns, &s->wake, &s->diameter, &s->area};
    return ranges[number];
}

/* A speed that hangs on the power alone is not cut by itself. */
static bool is_cut(Screwing *s, int number)
{
    bool goes_along = number == 1 && s->driven != NULL && driven_is_exact(s->driven);
    return !goes_along && !interval_is_point(*split_range(s, number));
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
        wide += is_cut(&copy, r);
    }
    return wide == 0 ? 1 : (int)(pow(SPLIT_CELLS, 1.0 / wide) + 1e-9);
}

/* The speeds that go with the power of a cell: none beyond those of the whole. */
static Interval speed_along(const Screwing *cell)
{
    Interval speed = driven_speed(cell->driven, cell->power);
    return interval_corners(fmin(fmax(speed.low, cell->boat_speed.low), cell->boat_speed.high),
                            fmax(fmin(speed.high, cell->boat_speed.high), cell->boat_speed.low));
}

/* The cell of that number: its digits, to the base `pieces`, choose a piece of each range. */
static Screwing cell_of_ranges(const Screwing *s, int number, int pieces)
{
    Screwing cell = *s, whole = *s;
    for (int r = 0; r < SPLIT_RANGES; r++) {
        Interval *range = split_range(&cell, r);
        if (is_cut(&whole, r)) {
            *range = piece_of(*range, number % pieces, pieces);
            number /= pieces;
        }
        if (r == 0 && s->driven != NULL) {
            cell.boat_speed = speed_along(&cell);
        }
    }
    return cell;
}

static int cells_of(const Screwing *s, int pieces)
{
    Screwing copy = *s;
    int cells = 1;
    for (int r = 0; r < SPLIT_RANGES; r++) {
        cells *= is_cut(&copy, r) ? pieces : 1;
    }
    return cells;
}

static void join(Thrusting *all, const Thrusting *t, bool first)
{
    if (first) {
        *all = *t;
        return;
    }
    all->advance = interval_hull(all->advance, t->advance);
    all->ratio = interval_hull(all->ratio, t->ratio);
    all->thrust = interval_hull(all->thrust, t->thrust);
    all->efficiency = interval_hull(all->efficiency, t->efficiency);
    all->area = interval_hull(all->area, t->area);
}

/*
 * At the pitch that takes the power, slower turns go with more pitch, and more power with more speed: bounds of the one
 * beside bounds of the other would hold screws that cannot be. The ranges are cut into cells, each with its own bounds, for
 * each number of blades; what comes out is the hull of all, which holds every screw of the whole and little else.
 */
bool thrusting_of(const Screwing *s, const Bladed *bladed, Thrusting *all)
{
    bool first = true;
    int pieces = pieces_each(s);
    int cells = cells_of(s, pieces);
    *all = (Thrusting){.ratio = point(0.0)};
    for (int blades = (int)s->blades.low; blades <= (int)s->blades.high; blades++) {
        for (int c = 0; c < cells; c++) {
            Screwing cell = cell_of_ranges(s, c, pieces);
            cell.blades = point(blades);
            Interval fits = pitch_ratios(&cell);
            if (fits.high == 0.0 || isinf(fits.low)) {
                continue; /* no screw: see record_thrust */
            }
            Thrusting t = thrusting_in(&cell, interval_corners(fmax(fits.low, SCREW_PITCH_LEAST), fmin(fits.high, SCREW_PITCH_MOST)));
            if (fits.low > 0.0 && !isinf(fits.high) && !(is_definite(&cell) && interval_is_point(cell.diameter))) {
                narrow(&cell, &t);
            }
            t.area = bladed != NULL ? area_asked(&cell, bladed, t.ratio, t.thrust) : point(0.0);
            join(all, &t, first);
            first = false;
        }
    }
    return !first;
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
    Thrusting t = any_thrust;
    if (!unbounded) {
        thrusting_of(s, NULL, &t);
    }
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
