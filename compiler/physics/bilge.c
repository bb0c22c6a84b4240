/*
 * Bilge: requirement, real capacity, flooding. See bilge.h.
 */
#include "physics/bilge.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>

#define PI 3.14159265358979323846
#define METRES_PER_FOOT 0.3048
#define M3_PER_S_PER_LPM (1e-3 / 60.0)
#define LITRES_PER_GALLON 3.785411784

typedef struct UsRow {
    double to_ft;
    bool end_in;
    int power_pumps;
    double power_lpm, power_gpm;
    double hand_lpm, hand_gpm;
    double other_hand_lpm;
    const char *note;
} UsRow;

static const UsRow us_rows[] = {
#define BILGE_US(TO, END_IN, PUMPS, POWER_LPM, POWER_GPM, HAND_LPM, HAND_GPM, OTHER_LPM, NOTE) \
    {TO, END_IN, PUMPS, POWER_LPM, POWER_GPM, HAND_LPM, HAND_GPM, OTHER_LPM, NOTE},
#define BILGE_ISO(...)
#define BILGE_FRACTION(...)
#include "tables/bilge.def"
#undef BILGE_US
#undef BILGE_ISO
#undef BILGE_FRACTION
};

typedef struct IsoRow {
    double to_m;
    bool end_in;
    double lpm;
    const char *note;
} IsoRow;

static const IsoRow iso_rows[] = {
#define BILGE_US(...)
#define BILGE_ISO(TO, END_IN, LPM, NOTE) {TO, END_IN, LPM, NOTE},
#define BILGE_FRACTION(...)
#include "tables/bilge.def"
#undef BILGE_US
#undef BILGE_ISO
#undef BILGE_FRACTION
};

static const double fractions[BILGE_FRACTION_COUNT] = {
#define BILGE_US(...)
#define BILGE_ISO(...)
#define BILGE_FRACTION(ID, SHARE) [BILGE_FRACTION_##ID] = SHARE,
#include "tables/bilge.def"
#undef BILGE_US
#undef BILGE_ISO
#undef BILGE_FRACTION
};

static double smaller_m3_per_s(double lpm, double gpm)
{
    return fmin(lpm, gpm * LITRES_PER_GALLON) * M3_PER_S_PER_LPM;
}

/* Whether a length is in a band that ends at `to`. With a hair of tolerance: 7.9248 m / 0.3048 is 26 ft. */
static bool is_up_to(double length, double to, bool end_in)
{
    return end_in ? length <= to * (1.0 + 1e-12) : length < to * (1.0 - 1e-12);
}

static const UsRow *us_row(double length_ft)
{
    const UsRow *row = us_rows;

    while (!is_up_to(length_ft, row->to_ft, row->end_in))
        row++; /* the last band has no end */
    return row;
}

static BilgeNeed need_us(double length_m)
{
    const UsRow *row = us_row(length_m / METRES_PER_FOOT);
    BilgeNeed need = {.evidence = EVIDENCE_VERIFIED, .source = "46 CFR 182.520(a)", .note = row->note};

    need.power_pumps = row->power_pumps;
    need.power_m3_per_s = smaller_m3_per_s(row->power_lpm, row->power_gpm);
    need.hand_m3_per_s = smaller_m3_per_s(row->hand_lpm, row->hand_gpm);
    need.hand_lenient_m3_per_s = fmin(need.hand_m3_per_s, row->other_hand_lpm * M3_PER_S_PER_LPM);
    return need;
}

static BilgeNeed need_iso(double length_m)
{
    BilgeNeed need = {.evidence = EVIDENCE_SECOND_HAND, .source = NULL, .note = NULL};

    for (size_t i = 0; i < sizeof iso_rows / sizeof iso_rows[0]; i++) {
        if (!is_up_to(length_m, iso_rows[i].to_m, iso_rows[i].end_in))
            continue;
        need.power_pumps = 1;
        need.power_m3_per_s = iso_rows[i].lpm * M3_PER_S_PER_LPM;
        need.hand_m3_per_s = need.power_m3_per_s;
        need.hand_lenient_m3_per_s = need.power_m3_per_s;
        need.source = "ISO 15083:2020";
        need.note = iso_rows[i].note;
        break;
    }
    return need;
}

BilgeNeed bilge_need(Basis basis, double length_m)
{
    return basis == BASIS_ISO ? need_iso(length_m) : need_us(length_m);
}

Pump bilge_pump(double rated_m3_per_s, double shut_off_m)
{
    return (Pump){PUMP_PARABOLA, shut_off_m, rated_m3_per_s};
}

double bilge_real_m3_per_s(const Pump *pump, double volts, double rated_volts, double lift_m,
                           const PipeRun runs[], size_t count)
{
    Pump here = pump_at_voltage(*pump, volts, rated_volts);

    return pump_through_m3_per_s(&here, INFINITY, lift_m, runs, count, liquid_viscosity_m2_per_s(LIQUID_SEA_15_C));
}

double bilge_fraction(BilgeFraction fraction)
{
    return fractions[fraction];
}

/* Inflow divided by the square root of the head. */
static double hole_factor(double bore_m, double discharge)
{
    return discharge * PI / 4.0 * bore_m * bore_m * sqrt(2.0 * GRAVITY_M_PER_S2);
}

double hole_inflow_m3_per_s(double bore_m, double depth_m, double discharge)
{
    return depth_m > 0.0 ? hole_factor(bore_m, discharge) * sqrt(depth_m) : 0.0;
}

double flooding_time_s(const Flooding *flooding)
{
    double k = hole_factor(flooding->hole_bore_m, flooding->discharge);
    double q = flooding->pumps_m3_per_s;
    double root_begin = sqrt(flooding->head_begin_m);
    double root_end = sqrt(flooding->head_end_m);

    assert(flooding->head_end_m >= 0.0 && flooding->head_begin_m >= flooding->head_end_m && q >= 0.0);
    /* The inflow falls as the water rises: what the pumps hold at the end they hold for good. */
    if (q > 0.0 && (root_end <= 0.0 || k * root_end <= q))
        return INFINITY;
    if (k <= 0.0)
        return INFINITY;
    if (isinf(k) || root_begin <= root_end) /* a hole of any size, or no way to rise: at once, over any area */
        return 0.0;
    if (q <= 0.0)
        return 2.0 * flooding->area_m2 * (root_begin - root_end) / k;
    return -2.0 * flooding->area_m2 / (k * k) *
           (k * (root_end - root_begin) + q * log((k * root_end - q) / (k * root_begin - q)));
}
