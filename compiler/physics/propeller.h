/*
 * Screw propellers of the Wageningen B-series in open water: thrust, torque, efficiency, and the pitch or the
 * diameter that takes a given power.
 *
 *     J = Va / (n D)    T = KT rho n^2 D^4    Q = KQ rho n^2 D^5    eta = J KT / (2 pi KQ)
 *
 * n in rev/s, everything SI. Source: propeller-series.def. Screws of small craft are often sharper in section
 * and thicker at the hub than those of the series: take torque for 5 % uncertain (from memory). With few
 * blades and much pitch the polynomials feign optima that no screw has (Helma, Journal of Marine Science and
 * Engineering 8, 211, 2020): mistrust two blades, and pitch ratios above 1.2. Knows screws; not engines.
 */
#ifndef GARBOARD_PHYSICS_PROPELLER_H
#define GARBOARD_PHYSICS_PROPELLER_H

#include "base/interval.h"

#include <stdbool.h>
#include <stddef.h>

/* What was tested. Below 0.5 and above 1.4 nothing is known of these screws. */
#define SCREW_PITCH_LEAST 0.5
#define SCREW_PITCH_MOST 1.4
#define SCREW_BLADES_LEAST 2
#define SCREW_BLADES_MOST 7

/* Where every screw of the series has long ceased to take torque. Farther on the polynomials mean nothing: it stays so. */
#define SCREW_ADVANCE_MOST 1.7

/** The area ratios that were tested with so many blades; 2..7 blades. */
Interval screw_tested_area(int blades);

/* All screws of one number of blades: coefficients by powers of J, P/D and Ae/A0. */
typedef struct Screws {
    int blades;
    double kt[4][7][3];
    double kq[4][7][3];
} Screws;

/** blades 2..7. */
void screws_init(Screws *screws, int blades);

/**
 * Thrust and torque coefficient over a range of area ratios: the least and the greatest, exact, for both are
 * polynomials of the second degree in Ae/A0.
 *
 * advance 0 .. where KT reaches 0; pitch_ratio 0.5..1.4. Both rise with pitch and fall with advance.
 */
Interval screw_kt(const Screws *screws, double advance, double pitch_ratio, Interval area_ratio);
Interval screw_kq(const Screws *screws, double advance, double pitch_ratio, Interval area_ratio);

/* How the logarithm of KT changes where the pitch is always that which takes the power. */
typedef struct MatchedSlopes {
    Interval by_kq, by_advance; /* by their logarithms */
    Interval by_area;           /* by Ae/A0 itself */
} MatchedSlopes;

/**
 * Bounds of those slopes over ranges of advance, pitch ratio and area ratio that hold every screw meant, and of the KQ
 * that all of them have: d ln KT = (KT_r dr + KT_J dJ + KT_a da) / KT with dr = (dKQ - KQ_J dJ - KQ_a da) / KQ_r, each
 * partial derivative of the polynomials bounded term by term. False where KT or KQ_r may be nought, or beyond
 * SCREW_ADVANCE_MOST: nothing is known then.
 */
bool screw_matched_slopes(const Screws *screws, Interval advance, Interval pitch_ratio, Interval kq, Interval area_ratio,
                          MatchedSlopes *slopes);

/** Open-water efficiency; 0 without advance. */
double screw_efficiency(double advance, double kt, double kq);

/**
 * Pitch ratios, over a range of area ratios, at which the torque coefficient is that. The low end is 0 where
 * even a pitch ratio of 0.5 takes more, the high end infinite where even 1.4 takes less: then nothing within
 * the series fits on that side. Rises with kq and with advance. Halving, to 1e-9.
 */
Interval screw_pitch_ratio(const Screws *screws, double advance, double kq, Interval area_ratio);

/**
 * Diameters, over a range of area ratios, whose screw of that pitch takes the power, in m. The low end is 0 where even a
 * screw of 1.4 diameters of pitch takes more, the high end infinite where even one of half a diameter takes less. Its
 * slip being the same, a larger screw of a pitch takes more. Rises with power and the speed of the water, falls with
 * pitch, turns and density. Halving, to 1e-9 of it.
 */
Interval screw_diameter_m(const Screws *screws, double pitch_m, double power_w, double rev_per_s,
                          double advance_m_per_s, double density_kg_per_m3, Interval area_ratio);

/** Advance number of a screw in the wake of a hull: V (1 - w) / (n D). */
double screw_advance(double boat_m_per_s, double wake, double rev_per_s, double diameter_m);
/** KQ of a screw that takes that power: P / (2 pi rho n^3 D^5). */
double screw_kq_of_power(double power_w, double rev_per_s, double diameter_m, double density_kg_per_m3);
/** Power that a torque coefficient takes, in W: the same turned round. */
double screw_power_w(double kq, double rev_per_s, double diameter_m, double density_kg_per_m3);
double screw_thrust_n(double kt, double rev_per_s, double diameter_m, double density_kg_per_m3);

/**
 * The diameter whose screw takes the power with the best open-water efficiency, in m, its pitch matched; 0 if
 * none within the series does. Golden section over the diameters whose pitch ratio lies in 0.5..1.4, to a
 * thousandth of it.
 *
 * advance_m_per_s  of the water that reaches it, > 0
 */
double screw_best_diameter_m(const Screws *screws, double area_ratio, double power_w, double rev_per_s,
                             double advance_m_per_s, double density_kg_per_m3);

/**
 * Reynolds number of the blades at three quarters of the radius: c sqrt(Va^2 + (0.75 pi n D)^2) / nu with a
 * chord of c = 2.073 (Ae/A0) D / Z.
 */
double screw_reynolds(double blades, double area_ratio, double diameter_m, double rev_per_s,
                      double advance_m_per_s, double viscosity_m2_per_s);
/** What a Reynolds number adds to both coefficients; nothing up to 2e6, which the series is given for. */
void screw_reynolds_step(double reynolds, double blades, double advance, double pitch_ratio,
                         double area_ratio, double *kt_step, double *kq_step);

/**
 * Diameter of a solid shaft that carries a torque, in m: (16 T S / (pi yield))^(1/3), torsion alone.
 *
 * safety  2 light, 3 yachts, 3.5 to 4 long voyages, 5 to 6 work boats (a boat designer's handbook, verified)
 * yield_pa  in shear
 */
double shaft_diameter_m(double torque_nm, double safety, double yield_pa);

typedef struct ShaftMaterial {
    const char *name; /* as the language spells it */
    double yield_pa;  /* in shear */
    const char *source;
} ShaftMaterial;

/** The i-th of the materials that have a row in shafts.def; NULL behind the last. */
const ShaftMaterial *shaft_material(size_t i);

#endif
