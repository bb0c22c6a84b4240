/*
 * Copper conductors: the tables of sizes, look-up, and resistance. See conductor.h.
 */
#include "physics/conductor.h"

#include <assert.h>
#include <math.h>

#define PI 3.14159265358979323846
#define SQUARE_MILLIMETRE 1e-6
#define CIRCULAR_MIL_M2 (PI / 4.0 * 2.54e-5 * 2.54e-5)
#define METRES_PER_1000_FEET 304.8
/* Back from 75 C to 20 C with the coefficient that the NEC table itself gives. */
#define FROM_75_TO_20_C (1.0 - 0.00323 * 55.0)

static const double alpha20_per_kelvin = 0.00393;

static const char source_metric[] = "IEC 60228 class 5, tinned, greatest at 20 C";
static const char source_awg[] = "NEC chapter 9 table 8, coated strand, turned from 75 to 20 C";
static const char source_sae[] = "AWG coated strand (NEC chapter 9 table 8) scaled to the SAE least area";

static const Conductor metric[] = {
#define METRIC(WORD, AREA_MM2, OHM_PER_KM)                                                    \
    {SERIES_METRIC,     WORD " mm2",  true, 0, (AREA_MM2)*SQUARE_MILLIMETRE, (OHM_PER_KM) / 1000.0, \
     EVIDENCE_VERIFIED, source_metric},
#include "tables/conductors-metric.def"
#undef METRIC
};

#define AWG_R20(R75) ((R75) / METRES_PER_1000_FEET * FROM_75_TO_20_C)
#define AWG_ROW(WORD, SOLD, N, AREA_MM2, R75, EVIDENCE) \
    {SERIES_AWG, WORD " AWG", SOLD, N, (AREA_MM2)*SQUARE_MILLIMETRE, AWG_R20(R75), EVIDENCE, source_awg},

static const Conductor awg[] = {
#define GAUGE(WORD, N, AREA_MM2, R75, EVIDENCE, CM_SAE) AWG_ROW(WORD, true, N, AREA_MM2, R75, EVIDENCE)
#define GAUGE_AWG_ONLY(WORD, N, AREA_MM2, R75, EVIDENCE) AWG_ROW(WORD, false, N, AREA_MM2, R75, EVIDENCE)
#include "tables/conductors-gauge.def"
#undef GAUGE
#undef GAUGE_AWG_ONLY
};

/*
 * No published resistance of SAE strand was found: the same copper, so resistance goes with the inverse of
 * the area.
 */
static const Conductor sae[] = {
#define GAUGE(WORD, N, AREA_MM2, R75, EVIDENCE, CM_SAE)                          \
    {SERIES_SAE,                                                                 \
     WORD " SAE",                                                                \
     true,                                                                       \
     N,                                                                          \
     (CM_SAE)*CIRCULAR_MIL_M2,                                                   \
     AWG_R20(R75) * ((AREA_MM2)*SQUARE_MILLIMETRE) / ((CM_SAE)*CIRCULAR_MIL_M2), \
     EVIDENCE == EVIDENCE_VERIFIED ? EVIDENCE_COMPUTED : EVIDENCE,               \
     source_sae},
#define GAUGE_AWG_ONLY(WORD, N, AREA_MM2, R75, EVIDENCE)
#include "tables/conductors-gauge.def"
#undef GAUGE
#undef GAUGE_AWG_ONLY
};

static const struct {
    const Conductor *rows;
    size_t count;
} all[SERIES_COUNT] = {
    [SERIES_METRIC] = {metric, sizeof metric / sizeof metric[0]},
    [SERIES_AWG] = {awg, sizeof awg / sizeof awg[0]},
    [SERIES_SAE] = {sae, sizeof sae / sizeof sae[0]},
};

size_t conductor_count(Series series)
{
    return all[series].count;
}

const Conductor *conductor_at(Series series, size_t i)
{
    assert(i < all[series].count);
    return &all[series].rows[i];
}

const Conductor *conductor_find(Series series, double area_m2)
{
    for (size_t i = 0; i < all[series].count; i++) {
        const Conductor *row = &all[series].rows[i];
        if (fabs(area_m2 - row->area_m2) <= 1e-3 * row->area_m2)
            return row;
    }
    return NULL;
}

const Conductor *conductor_find_gauge(Series series, int gauge)
{
    for (size_t i = 0; series != SERIES_METRIC && i < all[series].count; i++) {
        if (all[series].rows[i].gauge == gauge)
            return &all[series].rows[i];
    }
    return NULL;
}

const Conductor *conductor_next(const Conductor *row)
{
    const Conductor *end = all[row->series].rows + all[row->series].count;
    do {
        row++;
    } while (row < end && !row->sold);
    return row < end ? row : NULL;
}

const Conductor *conductor_one_thinner(const Conductor *row)
{
    const Conductor *thinnest = all[row->series].rows;
    do {
        row = row > thinnest ? row - 1 : row;
    } while (row > thinnest && !row->sold);
    return row;
}

const Conductor *conductor_at_least(Series series, double area_m2)
{
    for (size_t i = 0; i < all[series].count; i++) {
        if (all[series].rows[i].sold && all[series].rows[i].area_m2 >= area_m2)
            return &all[series].rows[i];
    }
    return NULL;
}

double awg_area_m2(int n)
{
    const Conductor *row = conductor_find_gauge(SERIES_AWG, n);
    double diameter_m = 0.127e-3 * pow(92.0, (36.0 - n) / 39.0);

    /* A tabulated size has one area, whichever way it is asked for. */
    return row != NULL ? row->area_m2 : PI / 4.0 * diameter_m * diameter_m;
}

double circular_mils(double area_m2)
{
    return area_m2 / CIRCULAR_MIL_M2;
}

double conductor_resistance_ohm(const Conductor *row, double length_m, double celsius, int parallel)
{
    assert(length_m >= 0.0 && parallel >= 1);
    return row->r20_ohm_per_m * length_m / parallel * (1.0 + alpha20_per_kelvin * (celsius - 20.0));
}
