/*
 * Power for a speed, engine, thruster, cabins. See drive.h.
 */
#include "physics/drive.h"

#include <assert.h>
#include <math.h>

#define METRES_PER_FOOT 0.3048
#define KG_PER_POUND 0.45359237
#define KG_PER_LONG_TON 1016.0469088
#define W_PER_HP 745.69987158227022
#define M_PER_S_PER_KN (1852.0 / 3600.0)
#define M3_PER_S_PER_CFM (0.028316846592 / 60.0)

static const Limit limits[DRIVE_LIMIT_COUNT] = {
#define LIMIT(ID, VALUE, UNIT, EVIDENCE, SOURCE, NOTE) [DRIVE_##ID] = {VALUE, UNIT, EVIDENCE, SOURCE, NOTE},
#include "tables/drive.def"
#undef LIMIT
};

const Limit *drive_limit(DriveLimit limit)
{
    return &limits[limit];
}

/* Speed of a hull in the trade's ratio: knots by the root of feet. */
static double speed_length(double waterline_m, double speed_m_per_s)
{
    return speed_m_per_s / M_PER_S_PER_KN / sqrt(waterline_m / METRES_PER_FOOT);
}

static double of_speed_length(double waterline_m, double ratio)
{
    return ratio * sqrt(waterline_m / METRES_PER_FOOT) * M_PER_S_PER_KN;
}

static double cube(double value)
{
    return value * value * value;
}

double displacement_power_w(double mass_kg, double waterline_m, double speed_m_per_s)
{
    return mass_kg / KG_PER_POUND * cube(speed_length(waterline_m, speed_m_per_s) / 10.665) * W_PER_HP;
}

double displacement_power_low_w(double mass_kg, double waterline_m, double speed_m_per_s)
{
    double horsepower =
        mass_kg / KG_PER_POUND / 1000.0 * cube(speed_length(waterline_m, speed_m_per_s) / 1.18);
    return horsepower * W_PER_HP;
}

double displacement_speed_m_per_s(double mass_kg, double waterline_m, double power_w)
{
    double horsepower_per_pound = power_w / W_PER_HP / (mass_kg / KG_PER_POUND);
    return of_speed_length(waterline_m, 10.665 * cbrt(horsepower_per_pound));
}

double displacement_speed_limit_m_per_s(double mass_kg, double waterline_m)
{
    double ratio = mass_kg / KG_PER_LONG_TON / cube(waterline_m / METRES_PER_FOOT / 100.0);
    return of_speed_length(waterline_m, 8.26 / pow(ratio, 0.311));
}

double half_planing_speed_limit_m_per_s(double mass_kg, double waterline_m)
{
    return fmax(displacement_speed_limit_m_per_s(mass_kg, waterline_m),
                of_speed_length(waterline_m, drive_limit(DRIVE_PLANING_FROM)->value));
}

double planing_power_w(double mass_kg, double crouch_m_per_s, double speed_m_per_s)
{
    double share = speed_m_per_s / crouch_m_per_s;
    return share * share * mass_kg / KG_PER_POUND * W_PER_HP;
}

double planing_speed_m_per_s(double mass_kg, double crouch_m_per_s, double power_w)
{
    return crouch_m_per_s * sqrt(power_w / W_PER_HP / (mass_kg / KG_PER_POUND));
}

bool planes_at(double waterline_m, double speed_m_per_s)
{
    return speed_length(waterline_m, speed_m_per_s) >= drive_limit(DRIVE_PLANING_FROM)->value;
}

Interval planing_hull_power_w(Interval mass_kg, Interval waterline_m, Interval crouch_m_per_s, Interval speed_m_per_s)
{
    Interval power = {planing_power_w(mass_kg.low, crouch_m_per_s.high, speed_m_per_s.low),
                      planing_power_w(mass_kg.high, crouch_m_per_s.low, speed_m_per_s.high)};
    if (!planes_at(waterline_m.low, speed_m_per_s.high)) {
        power.low = fmax(power.low, displacement_power_w(mass_kg.low, waterline_m.high, speed_m_per_s.low));
    }
    if (!planes_at(waterline_m.high, speed_m_per_s.low)) {
        double ratio = fmin(speed_length(waterline_m.low, speed_m_per_s.high), drive_limit(DRIVE_PLANING_FROM)->value);
        power.high = fmax(power.high, mass_kg.high / KG_PER_POUND * cube(ratio / 10.665) * W_PER_HP);
    }
    return power;
}

Interval planing_hull_speed_m_per_s(Interval mass_kg, Interval waterline_m, Interval crouch_m_per_s, Interval power_w)
{
    Interval speed = {planing_speed_m_per_s(mass_kg.high, crouch_m_per_s.low, power_w.low),
                      planing_speed_m_per_s(mass_kg.low, crouch_m_per_s.high, power_w.high)};
    if (!planes_at(waterline_m.low, speed.high)) {
        speed.high = fmin(speed.high, displacement_speed_m_per_s(mass_kg.low, waterline_m.high, power_w.high));
    }
    if (!planes_at(waterline_m.high, speed.low)) {
        speed.low = fmin(speed.low, displacement_speed_m_per_s(mass_kg.high, waterline_m.low, power_w.low));
    }
    return speed;
}

/*
 * One end of the mean. What lies beyond the mean on the side that is asked for lasts as long as it may, the
 * rest as short: from all at their longest on, which moves the mean to that side each time, until it stays.
 */
static double mean_end(const Interval *rates, const Interval *seconds, int count, bool least)
{
    double mean = least ? INFINITY : -INFINITY;
    for (int step = 0; step <= count + 1; step++) {
        double sum = 0.0, time = 0.0;
        for (int i = 0; i < count; i++) {
            double rate = least ? rates[i].low : rates[i].high;
            double lasts = (least ? rate <= mean : rate >= mean) ? seconds[i].high : seconds[i].low;
            sum += rate * lasts;
            time += lasts;
        }
        if (time <= 0.0 || sum / time == mean) {
            break;
        }
        mean = sum / time;
    }
    return mean;
}

Interval mean_over_time(const Interval *rates, const Interval *seconds, int count)
{
    Interval sum = point(0.0), time = point(0.0);
    bool bounded = true;
    for (int i = 0; i < count; i++) {
        sum = interval_add(sum, interval_multiply(rates[i], seconds[i]));
        time = interval_add(time, seconds[i]);
        bounded = bounded && isfinite(rates[i].high) && isfinite(seconds[i].high);
    }
    if (!bounded || time.high <= 0.0) {
        return interval_divide(sum, time);
    }
    if (count == 1) {
        return rates[0];
    }
    return (Interval){mean_end(rates, seconds, count, true), mean_end(rates, seconds, count, false)};
}

double fuel_rate_m3_per_s(double power_w, double specific_kg_per_j, double density_kg_per_m3)
{
    return power_w * specific_kg_per_j / density_kg_per_m3;
}

double propeller_law_speed(double power_share)
{
    return cbrt(power_share);
}

double exhaust_pressure_pa(double length_m, double gas_m3_per_s, double bore_m, double gas_celsius)
{
    double fifth = bore_m * bore_m * cube(bore_m);
    return 6.32 * length_m * gas_m3_per_s * gas_m3_per_s / (fifth * (gas_celsius + 273.0));
}

double exhaust_volume_m3(double gas_kg, double gas_celsius)
{
    return gas_kg * (gas_celsius + 273.0) / 352.5;
}

double engine_air_m3_per_s(double power_w)
{
    double horsepower = power_w / W_PER_HP;
    return fmax(2.75 * horsepower - 90.0, 2.5 * horsepower) * M3_PER_S_PER_CFM;
}

double intake_bore_m(double power_w)
{
    double same_speed = limits[DRIVE_INTAKE_BORE].value * sqrt(power_w / limits[DRIVE_INTAKE_POWER].value);
    return fmax(same_speed, limits[DRIVE_INTAKE_LEAST].value);
}

double wind_pressure_pa(double m_per_s)
{
    static const double air_kg_per_m3 = 1.225;
    return 0.5 * air_kg_per_m3 * m_per_s * m_per_s;
}

double wind_thrust_n(double area_m2, double pressure_pa, double shape, double length_m, double arm_m)
{
    return shape * pressure_pa * area_m2 * length_m / 2.0 / arm_m;
}

double surface_heat_w(double u_w_per_m2_k, double area_m2, double kelvin)
{
    return u_w_per_m2_k * area_m2 * kelvin;
}

double air_heat_w(double volume_m3, double changes_per_h, double kelvin)
{
    return 0.335 * volume_m3 * changes_per_h * kelvin;
}
