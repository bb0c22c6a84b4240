/*
 * Batteries: figures, Peukert and what they take. See battery.h.
 */
#include "physics/battery.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>

#define SECONDS_PER_HOUR 3600.0

static const BatteryRow rows[BATTERY_FIGURE_COUNT] = {
#define BATTERY(ID, NAME, UNIT, FLOODED, AGM, GEL, LIFEPO4, EVIDENCE, NOTE) \
    [BATTERY_##ID] = {NAME, UNIT, {FLOODED, AGM, GEL, LIFEPO4}, EVIDENCE, NOTE},
#include "tables/battery.def"
#undef BATTERY
};

const BatteryRow *battery_row(BatteryFigure figure)
{
    return &rows[figure];
}

double battery_figure(BatteryFigure figure, Chemistry chemistry)
{
    return rows[figure].value[chemistry];
}

double battery_rate_a(double amps_per_ah, double capacity_coulomb)
{
    return amps_per_ah * capacity_coulomb / COULOMB_PER_AH;
}

double battery_volts(BatteryFigure figure, Chemistry chemistry, double nominal_v)
{
    return battery_figure(figure, chemistry) * nominal_v / 12.0;
}

Interval battery_cells(Chemistry chemistry, double one_v)
{
    if (chemistry != CHEMISTRY_LIFEPO4) {
        return interval(round(one_v / 2.0), round(one_v / 2.0));
    }
    double least = round(one_v / 3.2);
    return interval(least, fmax(least, 4.0 * floor((one_v + 0.1) / 12.0))); /* or called by 12 V for every four */
}

Interval battery_cells_v(BatteryFigure figure, Chemistry chemistry, double one_v, double series)
{
    Interval cells = battery_cells(chemistry, one_v);
    double cell_v = battery_figure(figure, chemistry) / (chemistry == CHEMISTRY_LIFEPO4 ? 4.0 : 6.0);
    return interval(series * cells.low * cell_v, series * cells.high * cell_v);
}

double battery_open_v(Chemistry chemistry, double one_v, double series)
{
    return fmax(series * one_v, battery_cells_v(BATTERY_OPEN_FULL, chemistry, one_v, series).high);
}

Interval battery_resistance_ohm(Chemistry chemistry, double nominal_v, double capacity_coulomb)
{
    double scale = 1e-3 * (nominal_v / 12.0) * (100.0 * COULOMB_PER_AH / capacity_coulomb);

    assert(nominal_v > 0.0 && capacity_coulomb > 0.0);
    return interval(battery_figure(BATTERY_RESISTANCE_LOW, chemistry) * scale,
                    battery_figure(BATTERY_RESISTANCE_HIGH, chemistry) * scale);
}

static double rated_current_a(double capacity_coulomb, double rated_hours)
{
    assert(capacity_coulomb > 0.0 && rated_hours > 0.0);
    return capacity_coulomb / (rated_hours * SECONDS_PER_HOUR);
}

double peukert_share(double capacity_coulomb, double rated_hours, double current_a, double exponent)
{
    double rated_a = rated_current_a(capacity_coulomb, rated_hours);
    return current_a <= rated_a ? 1.0 : pow(rated_a / current_a, exponent - 1.0);
}

double peukert_effective_a(double capacity_coulomb, double rated_hours, double current_a, double exponent)
{
    return current_a / peukert_share(capacity_coulomb, rated_hours, current_a, exponent);
}

double battery_lasting_s(double capacity_coulomb, double usable_share, double rated_hours, double current_a, double exponent)
{
    if (current_a <= 0.0) {
        return INFINITY;
    }
    if (capacity_coulomb <= 0.0 || usable_share <= 0.0 || isinf(current_a)) {
        return 0.0;
    }
    double charge = capacity_coulomb * usable_share;
    return isinf(charge) ? INFINITY : charge / peukert_effective_a(capacity_coulomb, rated_hours, current_a, exponent);
}

double battery_steady_a(double capacity_coulomb, double usable_share, double rated_hours, double seconds, double exponent)
{
    if (capacity_coulomb <= 0.0 || usable_share <= 0.0) {
        return 0.0;
    }
    double effective_a = capacity_coulomb * usable_share / seconds;
    double rated_a = rated_current_a(capacity_coulomb, rated_hours);
    return effective_a <= rated_a ? effective_a : rated_a * pow(effective_a / rated_a, 1.0 / exponent);
}

BatteryModel battery_model(Chemistry chemistry, double capacity_coulomb)
{
    double low = battery_figure(BATTERY_PEUKERT_LOW, chemistry);
    double high = battery_figure(BATTERY_PEUKERT_HIGH, chemistry);

    return (BatteryModel){
        .capacity_coulomb = capacity_coulomb,
        .rated_hours = BATTERY_RATED_HOURS,
        .exponent = (low + high) / 2.0,
        .efficiency = battery_figure(BATTERY_CHARGE_EFFICIENCY, chemistry),
        .acceptance_a = battery_rate_a(battery_figure(BATTERY_ACCEPTANCE, chemistry), capacity_coulomb),
        .taper_begins = battery_figure(BATTERY_TAPER_BEGINS, chemistry),
        .tail_a = battery_rate_a(battery_figure(BATTERY_TAIL, chemistry), capacity_coulomb),
    };
}

double battery_acceptance_a(const BatteryModel *model, double charge_share)
{
    double along;

    if (charge_share >= 1.0)
        return 0.0;
    if (charge_share <= model->taper_begins)
        return model->acceptance_a;
    along = (charge_share - model->taper_begins) / (1.0 - model->taper_begins);
    return model->acceptance_a + along * (model->tail_a - model->acceptance_a);
}

double battery_cold_limit_a_per_ah(Chemistry chemistry, double celsius)
{
    static const struct {
        double up_to_celsius;
        double amps_per_ah;
    } limits[] = {
#define COLD_CHARGE(CELSIUS, LIMIT) {CELSIUS, LIMIT},
#include "tables/cold-charge.def"
#undef COLD_CHARGE
    };
    for (unsigned i = 0; i < sizeof limits / sizeof limits[0] && chemistry == CHEMISTRY_LIFEPO4; i++) {
        if (celsius <= limits[i].up_to_celsius)
            return limits[i].amps_per_ah;
    }
    return INFINITY;
}

double battery_cold_lead_factor(double celsius)
{
    static const struct {
        double celsius, factor;
    } points[] = {
#define COLD_LEAD(CELSIUS, FACTOR) {CELSIUS, FACTOR},
#include "tables/cold-lead.def"
#undef COLD_LEAD
    };
    enum { LAST = sizeof points / sizeof points[0] - 1 };
    int i = 0;
    while (i < LAST && points[i + 1].celsius < celsius) {
        i++;
    }
    if (celsius <= points[0].celsius || i == LAST) {
        return points[i].factor;
    }
    double along = (celsius - points[i].celsius) / (points[i + 1].celsius - points[i].celsius);
    return points[i].factor + along * (points[i + 1].factor - points[i].factor);
}

BatteryAir battery_air(Chemistry chemistry, double cells, double capacity_coulomb)
{
    enum {
#define HYDROGEN(ID, CURRENT) ID,
#include "tables/hydrogen.def"
#undef HYDROGEN
    };
    static const double gas_ma_per_ah[] = {
#define HYDROGEN(ID, CURRENT) [ID] = CURRENT,
#include "tables/hydrogen.def"
#undef HYDROGEN
    };
    double current = chemistry == CHEMISTRY_LIFEPO4 ? 0.0 : gas_ma_per_ah[chemistry == CHEMISTRY_FLOODED ? VENTED : SEALED];
    double m3_per_h = 0.05 * cells * current / 1000.0 * capacity_coulomb / COULOMB_PER_AH;
    return (BatteryAir){.flow_m3_per_s = m3_per_h / SECONDS_PER_HOUR, .opening_m2 = 28.0 * m3_per_h * 1e-4};
}
