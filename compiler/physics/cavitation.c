/*
 * Keller's formula and Burrill's chart. See cavitation.h.
 */
#include "physics/cavitation.h"

#include "physics/pipe.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>

#define PI 3.14159265358979323846

static const double air_pa = 101325.0;
static const double vapour_pa = 1700.0;

double cavitation_pressure_pa(double depth_m, double density_kg_per_m3)
{
    return air_pa + density_kg_per_m3 * GRAVITY_M_PER_S2 * depth_m - vapour_pa;
}

double keller_area_ratio(double thrust_n, double blades, double diameter_m, double pressure_pa, double k)
{
    return (1.3 + 0.3 * blades) * thrust_n / (pressure_pa * diameter_m * diameter_m) + k;
}

/* Starts at nought, where nothing may be loaded. */
static const double chart[][3] = {
    {0.0, 0.0, 0.0},
#define BURRILL(SIGMA, TAU_5, TAU_10) {SIGMA, TAU_5, TAU_10},
#include "tables/cavitation.def"
#undef BURRILL
};
enum { CHART_POINTS = sizeof chart / sizeof chart[0] };

static double loading(double sigma, size_t line)
{
    for (size_t i = 1; i < CHART_POINTS; i++) {
        if (sigma <= chart[i][0]) {
            double share = (sigma - chart[i - 1][0]) / (chart[i][0] - chart[i - 1][0]);
            return chart[i - 1][line] + share * (chart[i][line] - chart[i - 1][line]);
        }
    }
    return chart[CHART_POINTS - 1][line];
}

double burrill_loading_5(double sigma)
{
    return loading(sigma, 1);
}

double burrill_loading_10(double sigma)
{
    return loading(sigma, 2);
}

double blade_speed_m_per_s(double advance_m_per_s, double rev_per_s, double diameter_m)
{
    return hypot(advance_m_per_s, 0.7 * PI * rev_per_s * diameter_m);
}

double burrill_area_ratio(const Loaded *screw)
{
    double q = 0.5 * screw->density_kg_per_m3 * screw->blade_m_per_s * screw->blade_m_per_s;
    double disc = PI / 4.0 * screw->diameter_m * screw->diameter_m;
    double projected = 1.067 - 0.229 * screw->pitch_ratio;
    assert(q > 0.0 && projected > 0.0);
    return screw->thrust_n / (q * burrill_loading_10(screw->pressure_pa / q) * projected * disc);
}
