/* See charging.h. */
#include "physics/charging.h"

#include <assert.h>
#include <math.h>

const double belt_w = 5.0 * 745.69987;
const double solar_way_share = 0.97 * 0.98 * 0.97 * 0.95;

const double solar_noct_celsius = 47.0;
const double solar_gamma_per_k = -0.0035;

const double solar_pwm_way_share = 0.97 * 0.98 * 0.97;
static const double full_sun_w_per_m2 = 1000.0;
static const double test_celsius = 25.0;

double nominal_class_v(double volts)
{
    static const double nominal[] = {12.0, 24.0, 36.0, 48.0, 72.0, 96.0, 120.0, 144.0, 192.0, 288.0, 384.0, 576.0, 768.0};
    size_t count = sizeof nominal / sizeof nominal[0];
    double best = nominal[0];
    if (volts > nominal[count - 1]) {
        return nominal[count - 1]; /* also of what has no bound */
    }
    for (size_t i = 1; i < count; i++) {
        if (fabs(volts - nominal[i]) < fabs(volts - best)) {
            best = nominal[i];
        }
    }
    return best;
}

double nominal_voltage_v(double volts, double within, double own)
{
    static const double forgiven = 1.0 + 1e-9;
    double class_v = nominal_class_v(volts);
    bool of_class = volts * NOMINAL_WITHIN * forgiven >= class_v && volts <= class_v * within * forgiven;
    return of_class || !isfinite(volts) ? class_v : volts * own;
}

double nominal_of_bank_v(double volts, bool lithium)
{
    return nominal_voltage_v(volts, NOMINAL_WITHIN, lithium ? NOMINAL_OF_LITHIUM : 1.0);
}

bool is_of_system(double nominal_v, double system_v)
{
    static const double within = NOMINAL_WITHIN * (1.0 + 1e-9);
    return nominal_v <= system_v * within && system_v <= nominal_v * within;
}

double alternator_output(const AlternatorPoint points[], size_t count, double rpm)
{
    assert(count > 0);
    if (rpm < points[0].rpm) {
        return 0.0;
    }
    for (size_t i = 1; i < count; i++) {
        if (rpm <= points[i].rpm) {
            double along = (rpm - points[i - 1].rpm) / (points[i].rpm - points[i - 1].rpm);
            return points[i - 1].output + along * (points[i].output - points[i - 1].output);
        }
    }
    return points[count - 1].output;
}

double alternator_usual_share(double rpm)
{
    static const AlternatorPoint usual[] = {
#define ALTERNATOR_POINT(RPM, SHARE) {RPM, SHARE},
#include "tables/alternator.def"
#undef ALTERNATOR_POINT
    };
    return alternator_output(usual, sizeof usual / sizeof usual[0], rpm);
}

double solar_cell_celsius(double air_celsius, double sun_w_per_m2, double noct_celsius)
{
    return air_celsius + (noct_celsius - 20.0) / 800.0 * sun_w_per_m2;
}

double solar_heat_share(double cell_celsius, double gamma_per_k)
{
    double share = 1.0 + gamma_per_k * (cell_celsius - test_celsius);
    return share > 0.0 ? share : 0.0;
}

double solar_greatest_v(double charge_v, double open_v)
{
    static const double greatest_power_share = 0.82;
    static const double usual_open_v = 22.0;
    double open = open_v > 0.0 ? open_v : usual_open_v * fmax(1.0, round(charge_v / 14.0));
    return greatest_power_share * open;
}

double solar_current_a(SolarController controller, double rated_w, double sun_w_per_m2, double air_celsius,
                       double charge_v, double open_v)
{
    double heat = solar_heat_share(solar_cell_celsius(air_celsius, sun_w_per_m2, solar_noct_celsius), solar_gamma_per_k);

    assert(charge_v > 0.0);
    if (controller == SOLAR_MPPT) {
        return rated_w * sun_w_per_m2 * heat * solar_way_share / (full_sun_w_per_m2 * charge_v);
    }
    return rated_w * sun_w_per_m2 * solar_pwm_way_share / (full_sun_w_per_m2 * solar_greatest_v(charge_v, open_v));
}

const double solar_cable_counted = 0.03;

double solar_cable_share(double drop, double sun_w_per_m2)
{
    double lost = fmax(0.0, drop - solar_cable_counted) * sun_w_per_m2 / full_sun_w_per_m2;
    return lost <= 0.5 ? 1.0 - lost : 0.25 / lost;
}

double solar_cold_v(double series, double open_v, double beta_per_k, double celsius)
{
    return series * open_v * (1.0 + beta_per_k * (celsius - test_celsius));
}

const double solar_hot_celsius = 60.0;

double solar_hot_v(double greatest_v, double beta_per_k, double celsius)
{
    return solar_cold_v(1.0, greatest_v, beta_per_k, celsius);
}

double solar_most_a(double strings, double short_a)
{
    return 1.25 * strings * short_a;
}
