/*
 * Flow in hose and pipe. See pipe.h.
 */
#include "physics/pipe.h"

#include <assert.h>
#include <math.h>

#define PI 3.14159265358979323846
#define LAMINAR_TO 2300.0
#define TURBULENT_FROM 4000.0

static const PipeRow roughnesses[ROUGHNESS_COUNT] = {
#define ROUGHNESS(ID, NAME, MM, EVIDENCE, SOURCE) [ROUGHNESS_##ID] = {NAME, MM, EVIDENCE, SOURCE},
#define MINOR(...)
#include "tables/pipe.def"
#undef ROUGHNESS
#undef MINOR
};

static const PipeRow minors[MINOR_COUNT] = {
#define ROUGHNESS(...)
#define MINOR(ID, NAME, K, EVIDENCE, SOURCE) [MINOR_##ID] = {NAME, K, EVIDENCE, SOURCE},
#include "tables/pipe.def"
#undef ROUGHNESS
#undef MINOR
};

static const struct {
    double density_kg_per_m3;
    double viscosity_m2_per_s;
} liquids[LIQUID_COUNT] = {
    [LIQUID_FRESH_15_C] = {999.1, 1.139e-6},
    [LIQUID_SEA_15_C] = {1025.0, 1.19e-6},
    [LIQUID_DIESEL_15_C] = {840.0, 4e-6},
};

const PipeRow *roughness_row(Roughness roughness)
{
    return &roughnesses[roughness];
}

const PipeRow *minor_row(MinorLoss loss)
{
    return &minors[loss];
}

double roughness_m(Roughness roughness)
{
    return roughnesses[roughness].value / 1000.0;
}

double minor_k(MinorLoss loss)
{
    return minors[loss].value;
}

double liquid_density_kg_per_m3(Liquid liquid)
{
    return liquids[liquid].density_kg_per_m3;
}

double liquid_viscosity_m2_per_s(Liquid liquid)
{
    return liquids[liquid].viscosity_m2_per_s;
}

double pipe_speed_m_per_s(double flow_m3_per_s, double bore_m)
{
    assert(bore_m > 0.0);
    return 4.0 * flow_m3_per_s / (PI * bore_m * bore_m);
}

double pipe_reynolds(double flow_m3_per_s, double bore_m, double viscosity_m2_per_s)
{
    assert(viscosity_m2_per_s > 0.0);
    return pipe_speed_m_per_s(flow_m3_per_s, bore_m) * bore_m / viscosity_m2_per_s;
}

/* Newton's method for x = 1/sqrt f: x + 2 log10(eps/3.7 + 2.51 x/Re) is concave in x and rises, so it never strays. */
static double colebrook(double reynolds, double relative_roughness)
{
    static const double per_log10 = 0.86858896380650366; /* 2 / ln 10 */
    double rough = relative_roughness / 3.7;
    double slope = 2.51 / reynolds;
    double x = 8.0; /* any start in the usual range converges in some four passes */

    for (int pass = 0; pass < 50; pass++) {
        double inside = rough + slope * x;
        double step = (x + per_log10 * log(inside)) / (1.0 + per_log10 * slope / inside);
        x -= step;
        if (fabs(step) <= 1e-14 * x)
            break;
    }
    return 1.0 / (x * x);
}

double friction_factor(double reynolds, double relative_roughness)
{
    assert(reynolds >= 0.0 && relative_roughness >= 0.0);
    if (reynolds <= 0.0)
        return 0.0;
    if (reynolds < LAMINAR_TO)
        return 64.0 / reynolds;
    if (reynolds > TURBULENT_FROM)
        return colebrook(reynolds, relative_roughness);
    return fmax(64.0 / reynolds, colebrook(reynolds, relative_roughness));
}

double hose_loss_known_m(const Hose *hose, double flow_m3_per_s, double friction)
{
    double speed = pipe_speed_m_per_s(flow_m3_per_s, hose->bore_m);

    return (friction * hose->length_m / hose->bore_m + hose->minor_k) * speed * speed /
           (2.0 * GRAVITY_M_PER_S2);
}

double hose_loss_m(const Hose *hose, double flow_m3_per_s, double viscosity_m2_per_s)
{
    double reynolds = pipe_reynolds(flow_m3_per_s, hose->bore_m, viscosity_m2_per_s);

    return hose_loss_known_m(hose, flow_m3_per_s,
                             friction_factor(reynolds, hose->roughness_m / hose->bore_m));
}

double pressure_of_head_pa(double head_m, double density_kg_per_m3)
{
    return density_kg_per_m3 * GRAVITY_M_PER_S2 * head_m;
}

double head_of_pressure_m(double pressure_pa, double density_kg_per_m3)
{
    return pressure_pa / (density_kg_per_m3 * GRAVITY_M_PER_S2);
}

double pump_head_m(const Pump *pump, double flow_m3_per_s)
{
    double share = flow_m3_per_s / pump->free_flow_m3_per_s;

    return pump->shut_off_m * (1.0 - (pump->shape == PUMP_PARABOLA ? share * share : share));
}

double pump_most_power_w(const Pump *pump, double density_kg_per_m3)
{
    double share = pump->shape == PUMP_PARABOLA ? 2.0 / (3.0 * sqrt(3.0)) : 0.25;

    return share * pressure_of_head_pa(pump->shut_off_m, density_kg_per_m3) * pump->free_flow_m3_per_s;
}

Pump pump_at_voltage(Pump pump, double volts, double rated_volts)
{
    double share = volts / rated_volts;

    assert(rated_volts > 0.0);
    pump.free_flow_m3_per_s *= share;
    pump.shut_off_m *= share * share;
    return pump;
}

/* What a pump works against. */
typedef struct System {
    const Pump *pump;
    double most_m; /* its switch lets it give no more head than that */
    double lift_m;
    const PipeRun *runs;
    size_t count;
    double viscosity_m2_per_s;
} System;

/* Head that the pump has left at a flow after lift and hoses: falls steadily with the flow. */
static double spare_head_m(const System *system, double flow)
{
    double loss = 0.0;

    for (size_t i = 0; i < system->count && flow > 0.0; i++) {
        double through = flow * system->runs[i].share;
        loss += through > 0.0 ? hose_loss_m(&system->runs[i].hose, through, system->viscosity_m2_per_s) : 0.0;
    }
    return fmin(pump_head_m(system->pump, flow), system->most_m) - system->lift_m - loss;
}

/*
 * The flow at which nothing is left, by false position (the Illinois variant: the end that stays is halved), which
 * needs a tenth of the steps that halving the interval would; the bracket is never left.
 */
static double flow_without_spare(const System *system)
{
    double low = 0.0;
    double high = system->pump->free_flow_m3_per_s;
    double at_low = spare_head_m(system, low);
    double at_high = spare_head_m(system, high);
    int kept = 0;

    if (at_high >= 0.0)
        return high;
    for (int step = 0; step < 100 && high - low > 1e-12 * high; step++) {
        double flow = (low * at_high - high * at_low) / (at_high - at_low);
        double spare = spare_head_m(system, flow);
        if (fabs(spare) < 1e-12 * system->pump->shut_off_m)
            return flow;
        if (spare > 0.0) {
            low = flow;
            at_low = spare;
            at_high = kept > 0 ? at_high / 2.0 : at_high;
            kept = 1;
        } else {
            high = flow;
            at_high = spare;
            at_low = kept < 0 ? at_low / 2.0 : at_low;
            kept = -1;
        }
    }
    return (low + high) / 2.0;
}

double pump_through_m3_per_s(const Pump *pump, double most_m, double lift_m, const PipeRun runs[], size_t count,
                             double viscosity_m2_per_s)
{
    System system = {pump, most_m, lift_m, runs, count, viscosity_m2_per_s};

    if (lift_m >= fmin(pump->shut_off_m, most_m) || pump->free_flow_m3_per_s <= 0.0)
        return 0.0;
    return flow_without_spare(&system);
}

OperatingPoint pump_on_hose(const Pump *pump, double lift_m, const Hose *hose, double viscosity_m2_per_s)
{
    OperatingPoint point = {0.0, pump->shut_off_m, 0.0};
    PipeRun run = {*hose, 1.0};

    point.flow_m3_per_s = pump_through_m3_per_s(pump, INFINITY, lift_m, &run, 1, viscosity_m2_per_s);
    if (point.flow_m3_per_s <= 0.0)
        return point;
    point.head_m = pump_head_m(pump, point.flow_m3_per_s);
    point.reynolds = pipe_reynolds(point.flow_m3_per_s, hose->bore_m, viscosity_m2_per_s);
    return point;
}

double suction_head_left_m(double air_pa, double vapour_pa, double density_kg_per_m3, double lift_m,
                           double loss_m)
{
    return head_of_pressure_m(air_pa - vapour_pa, density_kg_per_m3) - lift_m - loss_m;
}
