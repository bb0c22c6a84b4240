/*
 * From the hull to the fuel: power for a speed, what an engine burns, breathes, cools itself with and blows
 * out, and what a thruster does to its cable.
 *
 * SI throughout; published formulas in feet, pounds and horsepower are turned inside. Knows numbers and
 * published formulas; not which engine a boat has.
 */
#ifndef GARBOARD_PHYSICS_DRIVE_H
#define GARBOARD_PHYSICS_DRIVE_H

#include "base/interval.h"
#include "physics/hull.h"

typedef enum DriveLimit {
#define LIMIT(ID, ...) DRIVE_##ID,
#include "tables/drive.def"
#undef LIMIT
    DRIVE_LIMIT_COUNT
} DriveLimit;

const Limit *drive_limit(DriveLimit limit);

/* Power and speed. Power is that behind gearbox and bearings, at the propeller. */

/**
 * Power for a speed of a displacement hull, in W:
 *
 *     SL = 10.665 / (LB / SHP)^(1/3)      SL = knots / sqrt(waterline in ft)
 *
 * turned round. Propeller Handbook, formula 2-1 (verified in two pages that use it). Good up to
 * displacement_speed_limit_m_per_s; it knows nothing of form, wind and waves. Rises with mass and the third
 * power of speed, falls with the waterline to the power of 1.5.
 */
double displacement_power_w(double mass_kg, double waterline_m, double speed_m_per_s);
/** The same by V = C sqrt(L) (1000 HP / D)^(1/3) with C = 1.18: Skene's Elements of Yacht Design, 8th ed.,
 * p. 105, as quoted in a trade text (verified there). C is 1.1 to 1.5; 1.18 is a trawler. Asks a quarter
 * less. */
double displacement_power_low_w(double mass_kg, double waterline_m, double speed_m_per_s);
/** Speed in m/s that a power gives, by the first. */
double displacement_speed_m_per_s(double mass_kg, double waterline_m, double power_w);

/**
 * The greatest speed that a hull is driven to without planing, in m/s: SL = 8.26 / (D/L)^0.311 with the
 * displacement-length ratio in long tons by (waterline / 100 ft)^3. Propeller Handbook, formula 2-3
 * (verified in a quotation). Falls with mass, rises with the waterline.
 */
double displacement_speed_limit_m_per_s(double mass_kg, double waterline_m);

/**
 * Planing: V = C sqrt(SHP / LB). Crouch's formula, Propeller Handbook 2-4 (verified). Only for hulls that plane.
 *
 * crouch_m_per_s  C as a speed: 150 knots for an average cruiser, 190 light and fast, 210 and more racing
 */
double planing_power_w(double mass_kg, double crouch_m_per_s, double speed_m_per_s);
double planing_speed_m_per_s(double mass_kg, double crouch_m_per_s, double power_w);

/**
 * A hull that can plane, at any speed. From DRIVE_PLANING_FROM on she planes, and goes by Crouch's formula;
 * slower, she takes no less than by formula 2-1, which above displacement_speed_limit_m_per_s asks for too
 * little by itself (that the greater of both is taken: a choice of this program). At the border the power of
 * the two is not the same: bounds over ranges that hold it are those of both sides. Power in W; speed in m/s is
 * that turned round, the greatest that a power gives.
 */
Interval planing_hull_power_w(Interval mass_kg, Interval waterline_m, Interval crouch_m_per_s, Interval speed_m_per_s);
Interval planing_hull_speed_m_per_s(Interval mass_kg, Interval waterline_m, Interval crouch_m_per_s, Interval power_w);
/**
 * How fast a hull is driven that half planes: up to where others plane, or to what holds a displacement hull back, if that
 * is more. Falls with mass, rises with the waterline.
 */
double half_planing_speed_limit_m_per_s(double mass_kg, double waterline_m);
/** Whether she planes at a speed. Rises with speed, falls with the waterline. */
bool planes_at(double waterline_m, double speed_m_per_s);

/* Engine. */

/** Fuel in m3/s of a power at a specific consumption (kg/J): P b / rho. */
double fuel_rate_m3_per_s(double power_w, double specific_kg_per_j, double density_kg_per_m3);
/**
 * Mean of rates, each of which lasts so long: the time that is the same above and below counts once. Of times
 * that are ranges the ends are those of the times that make it least and most; where something has no end, that
 * of sum over sum. seconds: one a rate.
 */
Interval mean_over_time(const Interval *rates, const Interval *seconds, int count);
/** Share of the rated speed at which the propeller takes a share of the rated power: its cube root. */
double propeller_law_speed(double power_share);

/**
 * Back pressure of an exhaust pipe without water, in Pa: 6.32 L Q^2 / (D^5 (t + 273)). An engine maker's
 * installation manual (verified): a friction factor of 0.022 in gas of that temperature.
 *
 * length_m  with what its bends are worth
 */
double exhaust_pressure_pa(double length_m, double gas_m3_per_s, double bore_m, double gas_celsius);
/** Volume that a mass of exhaust gas takes, in m3: 352.5 kg K/m3 over its absolute temperature (air at
 * 101325 Pa). */
double exhaust_volume_m3(double gas_kg, double gas_celsius);

/**
 * Air that an engine space must be given, in m3/s: the greater of 2.75 cfm a horsepower less 90 cfm (Boat
 * Mechanical Systems Handbook, verified) and 2.5 cfm a horsepower (second hand), which matters below 360 hp.
 */
double engine_air_m3_per_s(double power_w);

/** Least bore in m of the raw-water intake: 25 mm for 85 kW (engine maker's sheet), at equal speed of the
 * water for other powers (a modelling choice), and no less than 19 mm, the least of any maker's sheet (verified). */
double intake_bore_m(double power_w);

/* Thruster. */

/**
 * Pressure in Pa of a wind on what stands across it: half of 1.225 kg/m3 (air of 15 C, ISO 2533) times its speed
 * squared; the drag of a ship's side, about 1, is left to the shape. The form of UFC 4-159-03, Moorings, equation 2
 * (verified), and the worked example of a thruster's catalogue: 41 to 74 N/m2 at Beaufort 5.
 */
double wind_pressure_pa(double m_per_s);
/**
 * Thrust in N that holds an area of her side across the wind: shape x p A L / 2 over the arm from the pivot, which is
 * the far end of the boat (worked example of a thruster's catalogue, verified).
 */
double wind_thrust_n(double area_m2, double pressure_pa, double shape, double length_m, double arm_m);

/* Cabins. */

/** Heat in W that goes through a surface, U A dT, and out with the air, 0.335 V n dT (n changes an hour). */
double surface_heat_w(double u_w_per_m2_k, double area_m2, double kelvin);
double air_heat_w(double volume_m3, double changes_per_h, double kelvin);

#endif
