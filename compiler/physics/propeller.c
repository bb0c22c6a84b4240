/*
 * The B-series: its polynomials arranged by powers, so that a screw costs a few hundred multiplications. See
 * propeller.h.
 */
#include "physics/propeller.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <string.h>

#define PI 3.14159265358979323846

typedef struct Term {
    double c;
    unsigned char s, t, u, v; /* powers of J, P/D, Ae/A0, Z */
} Term;

static const Term kt_terms[] = {
#define KT_TERM(C, S, T, U, V) {C, S, T, U, V},
#define KQ_TERM(...)
#include "tables/propeller-series.def"
#undef KT_TERM
#undef KQ_TERM
};
static const Term kq_terms[] = {
#define KT_TERM(...)
#define KQ_TERM(C, S, T, U, V) {C, S, T, U, V},
#include "tables/propeller-series.def"
#undef KT_TERM
#undef KQ_TERM
};

typedef struct StepTerm {
    Term term;
    unsigned char w; /* power of L */
} StepTerm;

static const StepTerm kt_steps[] = {
#define KT_STEP(C, S, T, U, V, W) {{C, S, T, U, V}, W},
#define KQ_STEP(...)
#define TESTED(...)
#include "tables/propeller-reynolds.def"
#undef KT_STEP
#undef KQ_STEP
};
static const StepTerm kq_steps[] = {
#define KT_STEP(...)
#define KQ_STEP(C, S, T, U, V, W) {{C, S, T, U, V}, W},
#include "tables/propeller-reynolds.def"
#undef KT_STEP
#undef KQ_STEP
#undef TESTED
};

#define COUNT(ROWS) (sizeof(ROWS) / sizeof((ROWS)[0]))

static const Interval tested[SCREW_BLADES_MOST + 1] = {
#define KT_STEP(...)
#define KQ_STEP(...)
#define TESTED(BLADES, LEAST, MOST) [BLADES] = {LEAST, MOST},
#include "tables/propeller-reynolds.def"
#undef KT_STEP
#undef KQ_STEP
#undef TESTED
};

Interval screw_tested_area(int blades)
{
    assert(blades >= SCREW_BLADES_LEAST && blades <= SCREW_BLADES_MOST);
    return tested[blades];
}

static double power(double base, int exponent)
{
    double product = 1.0;
    for (int i = 0; i < exponent; i++) {
        product *= base;
    }
    return product;
}

static void add_terms(double sums[4][7][3], const Term terms[], size_t count, int blades)
{
    for (size_t i = 0; i < count; i++) {
        sums[terms[i].s][terms[i].t][terms[i].u] += terms[i].c * power(blades, terms[i].v);
    }
}

void screws_init(Screws *screws, int blades)
{
    assert(blades >= SCREW_BLADES_LEAST && blades <= SCREW_BLADES_MOST);
    memset(screws, 0, sizeof *screws);
    screws->blades = blades;
    add_terms(screws->kt, kt_terms, COUNT(kt_terms), blades);
    add_terms(screws->kq, kq_terms, COUNT(kq_terms), blades);
}

/* The polynomial at one advance: coefficients by powers of P/D and Ae/A0. */
typedef struct AtAdvance {
    double c[7][3];
} AtAdvance;

static AtAdvance at_advance(const double sums[4][7][3], double advance_number)
{
    AtAdvance at;
    double advance = fmin(advance_number, SCREW_ADVANCE_MOST);
    for (int t = 0; t < 7; t++) {
        for (int u = 0; u < 3; u++) {
            at.c[t][u] = ((sums[3][t][u] * advance + sums[2][t][u]) * advance + sums[1][t][u]) * advance +
                         sums[0][t][u];
        }
    }
    return at;
}

/* The least and the greatest of a + b u + c u^2 over a range of u. */
static Interval parabola_between(const double abc[3], Interval u)
{
    double low = (abc[2] * u.low + abc[1]) * u.low + abc[0];
    double high = (abc[2] * u.high + abc[1]) * u.high + abc[0];
    Interval ends = {fmin(low, high), fmax(low, high)};
    double turn = abc[2] != 0.0 ? -abc[1] / (2.0 * abc[2]) : u.low;
    if (turn <= u.low || turn >= u.high) {
        return ends;
    }
    double there = (abc[2] * turn + abc[1]) * turn + abc[0];
    return (Interval){fmin(ends.low, there), fmax(ends.high, there)};
}

static Interval at_pitch(const AtAdvance *at, double pitch_ratio, Interval area_ratio)
{
    double abc[3] = {0.0, 0.0, 0.0};
    for (int t = 6; t >= 0; t--) {
        for (int u = 0; u < 3; u++) {
            abc[u] = abc[u] * pitch_ratio + at->c[t][u];
        }
    }
    return parabola_between(abc, area_ratio);
}

Interval screw_kt(const Screws *screws, double advance, double pitch_ratio, Interval area_ratio)
{
    AtAdvance at = at_advance(screws->kt, advance);
    return at_pitch(&at, pitch_ratio, area_ratio);
}

Interval screw_kq(const Screws *screws, double advance, double pitch_ratio, Interval area_ratio)
{
    AtAdvance at = at_advance(screws->kq, advance);
    return at_pitch(&at, pitch_ratio, area_ratio);
}

/* A polynomial of one number of blades and its three partial derivatives, bounded over a box. */
typedef struct Slopes {
    Interval value, by_advance, by_pitch, by_area;
} Slopes;

/* Powers of a range without negative numbers, from 0 on. */
static void fill_powers(Interval of[], int count, Interval range)
{
    of[0] = point(1.0);
    for (int i = 1; i < count; i++) {
        of[i] = interval_multiply(of[i - 1], range);
    }
}

/* Adds c times a product; nothing where a power that is differentiated away is nought. */
static void add_product(Interval *sum, double c, Interval a, Interval b, Interval d)
{
    if (c != 0.0) {
        *sum = interval_add(*sum, interval_scale(interval_multiply(interval_multiply(a, b), d), c));
    }
}

static Slopes slopes_over(const double sums[4][7][3], Interval advance, Interval pitch_ratio, Interval area_ratio)
{
    Interval j[4], r[7], a[3];
    Slopes all = {point(0.0), point(0.0), point(0.0), point(0.0)};
    fill_powers(j, 4, advance);
    fill_powers(r, 7, pitch_ratio);
    fill_powers(a, 3, area_ratio);
    for (int s = 0; s < 4; s++) {
        for (int t = 0; t < 7; t++) {
            for (int u = 0; u < 3; u++) {
                double c = sums[s][t][u];
                add_product(&all.value, c, j[s], r[t], a[u]);
                add_product(&all.by_advance, c * s, j[s > 0 ? s - 1 : 0], r[t], a[u]);
                add_product(&all.by_pitch, c * t, j[s], r[t > 0 ? t - 1 : 0], a[u]);
                add_product(&all.by_area, c * u, j[s], r[t], a[u > 0 ? u - 1 : 0]);
            }
        }
    }
    return all;
}

bool screw_matched_slopes(const Screws *screws, Interval advance, Interval pitch_ratio, Interval kq, Interval area_ratio,
                          MatchedSlopes *slopes)
{
    if (advance.low < 0.0 || advance.high > SCREW_ADVANCE_MOST) {
        return false;
    }
    Slopes kt = slopes_over(screws->kt, advance, pitch_ratio, area_ratio);
    Slopes torque = slopes_over(screws->kq, advance, pitch_ratio, area_ratio);
    if (kt.value.low <= 0.0 || torque.by_pitch.low <= 0.0) {
        return false;
    }
    Interval each = interval_divide(kt.by_pitch, torque.by_pitch); /* KT by KQ, the advance being the same */
    Interval by_advance = interval_subtract(kt.by_advance, interval_multiply(each, torque.by_advance));
    Interval by_area = interval_subtract(kt.by_area, interval_multiply(each, torque.by_area));
    slopes->by_kq = interval_divide(interval_multiply(each, kq), kt.value);
    slopes->by_advance = interval_divide(interval_multiply(by_advance, advance), kt.value);
    slopes->by_area = interval_divide(by_area, kt.value);
    return true;
}

double screw_efficiency(double advance, double kt, double kq)
{
    return advance > 0.0 && kq > 0.0 ? advance * kt / (2.0 * PI * kq) : 0.0;
}

/* The same for one area ratio: coefficients by powers of P/D alone. */
static void collapse(const AtAdvance *at, double area_ratio, double c[7])
{
    for (int t = 0; t < 7; t++) {
        c[t] = (at->c[t][2] * area_ratio + at->c[t][1]) * area_ratio + at->c[t][0];
    }
}

static double polynomial(const double c[7], double x)
{
    double sum = 0.0;
    for (int t = 6; t >= 0; t--) {
        sum = sum * x + c[t];
    }
    return sum;
}

/* KQ by pitch at one advance, to be turned round: of one area ratio, or a bound over a range of them. */
typedef struct TorqueByPitch {
    const AtAdvance *at;
    Interval area_ratio;
    bool definite, greatest;
    double c[7]; /* definite */
} TorqueByPitch;

static double torque_at(const TorqueByPitch *torque, double pitch_ratio)
{
    if (torque->definite) {
        return polynomial(torque->c, pitch_ratio);
    }
    Interval both = at_pitch(torque->at, pitch_ratio, torque->area_ratio);
    return torque->greatest ? both.high : both.low;
}

/* Where KQ, which rises with pitch, reaches that; 0 below the series, infinite above it. */
static double pitch_where(const TorqueByPitch *torque, double kq)
{
    double low = SCREW_PITCH_LEAST;
    double high = SCREW_PITCH_MOST;
    if (torque_at(torque, low) > kq) {
        return 0.0;
    }
    if (torque_at(torque, high) < kq) {
        return INFINITY;
    }
    while (high - low > 1e-9) {
        double middle = 0.5 * (low + high);
        *(torque_at(torque, middle) < kq ? &low : &high) = middle;
    }
    return 0.5 * (low + high);
}

Interval screw_pitch_ratio(const Screws *screws, double advance, double kq, Interval area_ratio)
{
    AtAdvance at = at_advance(screws->kq, advance);
    TorqueByPitch torque = {
        .at = &at, .area_ratio = area_ratio, .definite = area_ratio.low == area_ratio.high, .greatest = true};
    collapse(&at, area_ratio.low, torque.c);
    double low = pitch_where(&torque, kq);
    torque.greatest = false;
    return (Interval){low, torque.definite ? low : pitch_where(&torque, kq)};
}

double screw_advance(double boat_m_per_s, double wake, double rev_per_s, double diameter_m)
{
    return boat_m_per_s * (1.0 - wake) / (rev_per_s * diameter_m);
}

double screw_kq_of_power(double power_w, double rev_per_s, double diameter_m, double density_kg_per_m3)
{
    return power_w / screw_power_w(1.0, rev_per_s, diameter_m, density_kg_per_m3);
}

double screw_power_w(double kq, double rev_per_s, double diameter_m, double density_kg_per_m3)
{
    return 2.0 * PI * density_kg_per_m3 * kq * power(rev_per_s, 3) * power(diameter_m, 5);
}

double screw_thrust_n(double kt, double rev_per_s, double diameter_m, double density_kg_per_m3)
{
    return kt * density_kg_per_m3 * power(rev_per_s, 2) * power(diameter_m, 4);
}

/* What the search for a diameter holds fast. */
typedef struct Task {
    const Screws *screws;
    Interval area_ratio;
    double power_w, rev_per_s, advance_m_per_s, density;
} Task;

/* Efficiency at a diameter, its pitch matched: below nothing where no pitch of the series fits. */
static double efficiency_at(const Task *task, double diameter_m)
{
    double advance = task->advance_m_per_s / (task->rev_per_s * diameter_m);
    double kq = screw_kq_of_power(task->power_w, task->rev_per_s, diameter_m, task->density);
    double pitch = screw_pitch_ratio(task->screws, advance, kq, task->area_ratio).low;
    if (pitch == 0.0 || isinf(pitch)) {
        return -1.0;
    }
    return screw_efficiency(advance, screw_kt(task->screws, advance, pitch, task->area_ratio).low, kq);
}

/* The diameter that takes the power at one pitch ratio: the smaller, the steeper the pitch. */
static double diameter_of_pitch(const Task *task, double pitch_ratio)
{
    double low = 1e-3;
    double high = 100.0;
    while (high - low > 1e-4 * low) {
        double middle = sqrt(low * high);
        double advance = task->advance_m_per_s / (task->rev_per_s * middle);
        double kq = fmax(screw_kq(task->screws, advance, pitch_ratio, task->area_ratio).low, 0.0);
        bool takes_more =
            advance < 2.0 && screw_power_w(kq, task->rev_per_s, middle, task->density) > task->power_w;
        if (takes_more) {
            high = middle;
        } else {
            low = middle;
        }
    }
    return high;
}

double screw_best_diameter_m(const Screws *screws, double area_ratio, double power_w, double rev_per_s,
                             double advance_m_per_s, double density_kg_per_m3)
{
    static const double golden = 0.61803398874989485;
    Task task = {screws, point(area_ratio), power_w, rev_per_s, advance_m_per_s, density_kg_per_m3};
    double low = diameter_of_pitch(&task, SCREW_PITCH_MOST) * 1.001;
    double high = diameter_of_pitch(&task, SCREW_PITCH_LEAST) * 0.999;
    double a = high - golden * (high - low);
    double b = low + golden * (high - low);
    double at_a = efficiency_at(&task, a);
    double at_b = efficiency_at(&task, b);
    while (high - low > 1e-3 * low) {
        bool left = at_a > at_b;
        *(left ? &high : &low) = left ? b : a;
        *(left ? &b : &a) = left ? a : b;
        *(left ? &at_b : &at_a) = left ? at_a : at_b;
        double next = left ? high - golden * (high - low) : low + golden * (high - low);
        *(left ? &a : &b) = next;
        *(left ? &at_a : &at_b) = efficiency_at(&task, next);
    }
    return fmax(at_a, at_b) > 0.0 ? 0.5 * (low + high) : 0.0;
}

/* A screw of one pitch, whatever its diameter. */
typedef struct OfPitch {
    const Screws *screws;
    double pitch_m, power_w, rev_per_s, advance_m_per_s, density;
    Interval area_ratio;
    bool greatest; /* bound of its torque */
} OfPitch;

static bool takes_more(const OfPitch *of, double diameter_m)
{
    double advance = of->advance_m_per_s / (of->rev_per_s * diameter_m);
    Interval kq = screw_kq(of->screws, advance, of->pitch_m / diameter_m, of->area_ratio);
    double taken = screw_power_w(of->greatest ? kq.high : kq.low, of->rev_per_s, diameter_m, of->density);
    return taken > of->power_w;
}

static double diameter_where(const OfPitch *of)
{
    double low = of->pitch_m / SCREW_PITCH_MOST;
    double high = of->pitch_m / SCREW_PITCH_LEAST;
    if (takes_more(of, low)) {
        return 0.0;
    }
    if (!takes_more(of, high)) {
        return INFINITY;
    }
    while (high - low > 1e-9 * high) {
        double middle = 0.5 * (low + high);
        *(takes_more(of, middle) ? &high : &low) = middle;
    }
    return 0.5 * (low + high);
}

Interval screw_diameter_m(const Screws *screws, double pitch_m, double power_w, double rev_per_s,
                          double advance_m_per_s, double density_kg_per_m3, Interval area_ratio)
{
    OfPitch of = {screws,          pitch_m,           power_w,    rev_per_s,
                  advance_m_per_s, density_kg_per_m3, area_ratio, true};
    double low = diameter_where(&of);
    of.greatest = false;
    return (Interval){low, area_ratio.low == area_ratio.high ? low : diameter_where(&of)};
}

double screw_reynolds(double blades, double area_ratio, double diameter_m, double rev_per_s,
                      double advance_m_per_s, double viscosity_m2_per_s)
{
    double chord = 2.073 * area_ratio * diameter_m / blades;
    return chord * hypot(advance_m_per_s, 0.75 * PI * rev_per_s * diameter_m) / viscosity_m2_per_s;
}

typedef struct Powers {
    double advance, pitch_ratio, area_ratio, blades, log;
} Powers;

static double sum_steps(const StepTerm steps[], size_t count, const Powers *at)
{
    double sum = 0.0;
    for (size_t i = 0; i < count; i++) {
        const Term *term = &steps[i].term;
        sum += term->c * power(at->advance, term->s) * power(at->pitch_ratio, term->t) *
               power(at->area_ratio, term->u) * power(at->blades, term->v) * power(at->log, steps[i].w);
    }
    return sum;
}

void screw_reynolds_step(double reynolds, double blades, double advance, double pitch_ratio,
                         double area_ratio, double *kt_step, double *kq_step)
{
    Powers at = {advance, pitch_ratio, area_ratio, blades, log10(reynolds) - 0.301};
    bool above = reynolds > 2e6;
    *kt_step = above ? sum_steps(kt_steps, COUNT(kt_steps), &at) : 0.0;
    *kq_step = above ? sum_steps(kq_steps, COUNT(kq_steps), &at) : 0.0;
}

double shaft_diameter_m(double torque_nm, double safety, double yield_pa)
{
    return cbrt(16.0 * torque_nm * safety / (PI * yield_pa));
}

static const ShaftMaterial materials[] = {
#define SHAFT(NAME, YIELD, SOURCE) {NAME, YIELD, SOURCE},
#include "tables/shafts.def"
#undef SHAFT
};

const ShaftMaterial *shaft_material(size_t i)
{
    return i < COUNT(materials) ? &materials[i] : NULL;
}
