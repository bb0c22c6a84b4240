/*
 * The blade area that keeps a screw clear of harmful cavitation, by two published criteria. SI throughout.
 *
 * Keller's is a formula for ships: thrust over the pressure at the shaft, and a share that knows one screw from two.
 * It does not know how fast the blades go, and its share was found on ships of up to some 20 knots: of a small fast
 * screw it asks for a quarter to a half more blade than Burrill's chart. Burrill's knows the speed of the blades, and how
 * much of their backs may be covered: 5 % is asked of merchant ships; 10 % is what is usual for small fast craft, whose
 * screws always cavitate a little (Blount and Fox, Marine Technology, 1978; from memory). Knows numbers; no boats.
 */
#ifndef GARBOARD_PHYSICS_CAVITATION_H
#define GARBOARD_PHYSICS_CAVITATION_H

/**
 * Pressure at the shaft over that of vapour, in Pa: air of 101325 Pa and the water above, less 1700 Pa (water of 15 C).
 * depth_m of the shaft, >= 0.
 */
double cavitation_pressure_pa(double depth_m, double density_kg_per_m3);

/**
 * Least expanded area ratio after Keller:
 *
 *     (1.3 + 0.3 Z) T / ((p_air + rho g h - p_vapour) D^2) + k
 *
 * k 0.2 for one screw, 0 to 0.1 for two (Holtrop and Mennen 1982, second hand). Rises with thrust and blades, falls
 * with diameter and pressure.
 */
double keller_area_ratio(double thrust_n, double blades, double diameter_m, double pressure_pa, double k);

/**
 * The greatest thrust loading with a tenth of the backs covered, at a cavitation number: straight between the points of
 * cavitation.def; through nought below the first, level above the last. Rises with sigma, and never faster than it.
 */
double burrill_loading_10(double sigma);
/** The same with a twentieth covered. */
double burrill_loading_5(double sigma);

/* A screw at work. */
typedef struct Loaded {
    double thrust_n, diameter_m, pitch_ratio;
    double blade_m_per_s;     /* of the water along the blades at 0.7 of the radius */
    double pressure_pa;       /* cavitation_pressure_pa */
    double density_kg_per_m3;
} Loaded;

/** Speed of the water along the blades at 0.7 of the radius: the root of Va^2 + (0.7 pi n D)^2. */
double blade_speed_m_per_s(double advance_m_per_s, double rev_per_s, double diameter_m);

/**
 * Least expanded area ratio by Burrill's chart, with a tenth of the backs covered:
 *
 *     T / (q tau(p / q) (1.067 - 0.229 P/D) pi/4 D^2)        q = rho V^2 / 2
 *
 * The bracket is Taylor's ratio of projected to developed area (verified in a US mooring design manual). Rises with
 * thrust and pitch ratio, falls with diameter, blade speed, density and pressure.
 */
double burrill_area_ratio(const Loaded *screw);

#endif
