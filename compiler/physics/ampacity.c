/*
 * Ampacity: the published tables and the factors on them. See ampacity.h.
 */
#include "physics/ampacity.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>

#define COLUMNS_MOST 7

typedef struct AmpacityRow {
    double size; /* gauge number (us), mm2 (iso) */
    double amps[COLUMNS_MOST];
} AmpacityRow;

static const AmpacityRow rows_us[] = {
#define AMPACITY_US(GAUGE, ...) {GAUGE, {__VA_ARGS__}},
#include "tables/ampacity-us.def"
#undef AMPACITY_US
};

static const AmpacityRow rows_iso[] = {
#define AMPACITY_ISO(AREA_MM2, ...) {AREA_MM2, {__VA_ARGS__}},
#include "tables/ampacity-iso.def"
#undef AMPACITY_ISO
};

#define ROWS_US (sizeof rows_us / sizeof rows_us[0])
#define ROWS_ISO (sizeof rows_iso / sizeof rows_iso[0])

typedef struct AmpacityTable {
    Series series; /* in which its sizes are named */
    const AmpacityRow *rows;
    size_t row_count;
    double columns[COLUMNS_MOST]; /* insulation rating, C */
    size_t column_count;
    Evidence evidence;
    const char *source;
} AmpacityTable;

static const AmpacityTable tables[BASIS_COUNT] = {
    [BASIS_US] = {SERIES_AWG,
                  rows_us,
                  ROWS_US,
                  {60, 75, 80, 90, 105, 125, 200},
                  7,
                  EVIDENCE_VERIFIED,
                  "33 CFR 183.425, Table 5"},
    [BASIS_ISO] = {SERIES_METRIC,
                   rows_iso,
                   ROWS_ISO,
                   {60, 70, 85, 105, 125, 200},
                   6,
                   EVIDENCE_MEMORY,
                   "ISO 13297:2020, table of ampacity, from memory"},
};

typedef struct Factor {
    Basis basis;
    double from; /* insulation rating in C, or count of conductors */
    double factor;
} Factor;

static const Factor engine_factors[] = {
#define ENGINE_SPACE(BASIS, CELSIUS, FACTOR) {BASIS, CELSIUS, FACTOR},
#define BUNDLE(BASIS, FROM, FACTOR)
#include "tables/ampacity-factors.def"
#undef ENGINE_SPACE
#undef BUNDLE
};

static const Factor bundle_factors[] = {
#define ENGINE_SPACE(BASIS, CELSIUS, FACTOR)
#define BUNDLE(BASIS, FROM, FACTOR) {BASIS, FROM, FACTOR},
#include "tables/ampacity-factors.def"
#undef ENGINE_SPACE
#undef BUNDLE
};

/*
 * The factor of the last row of that basis whose key is not above the one asked for; `below` before the
 * first.
 */
static double factor_find(const Factor *factors, size_t count, Basis basis, double key, double below)
{
    double found = below;

    for (size_t i = 0; i < count; i++) {
        if (factors[i].basis == basis && factors[i].from <= key)
            found = factors[i].factor;
    }
    return found;
}

/* The conductor that a row of the table is about. */
static const Conductor *row_conductor(const AmpacityTable *table, const AmpacityRow *row)
{
    if (table->series == SERIES_AWG)
        return conductor_find_gauge(SERIES_AWG, (int)row->size);
    return conductor_find(SERIES_METRIC, row->size * 1e-6);
}

/* Whether a row of the table is about just this conductor, of the series that the table is printed for. */
static bool is_row_of(const AmpacityTable *table, const AmpacityRow *row, const Conductor *conductor)
{
    if (table->series == SERIES_AWG)
        return row->size == (double)conductor->gauge;
    return fabs(row->size * 1e-6 - conductor->area_m2) < 1e-9;
}

/* SAE counts as its number under us; everything else by its copper. */
static double area_counted(Basis basis, const Conductor *row)
{
    if (basis == BASIS_US && row->series == SERIES_SAE)
        return awg_area_m2(row->gauge);
    return row->area_m2;
}

Ampacity ampacity_find(Basis basis, const Conductor *row, double insulation_celsius)
{
    const AmpacityTable *table = &tables[basis];
    Ampacity found = {0.0, NULL, 0.0, table->evidence, table->source};
    double area_m2 = area_counted(basis, row) * (1.0 + 1e-6);
    size_t column = table->column_count;

    for (size_t i = 0; i < table->column_count; i++) {
        if (table->columns[i] <= insulation_celsius)
            column = i;
    }
    if (column == table->column_count)
        return found;
    /* From the thick end: the first that has no more copper is the one. */
    for (size_t i = table->row_count; i-- > 0;) {
        bool own = row->series == table->series;
        if (own && !is_row_of(table, &table->rows[i], row))
            continue;
        const Conductor *size = own ? row : row_conductor(table, &table->rows[i]);
        if (size != NULL && size->area_m2 <= area_m2) {
            found.amps = table->rows[i].amps[column];
            found.row = size;
            found.insulation_celsius = table->columns[column];
            break;
        }
    }
    return found;
}

double ampacity_table(Basis basis, const Conductor *row, double insulation_celsius)
{
    return ampacity_find(basis, row, insulation_celsius).amps;
}

double engine_space_factor(Basis basis, double insulation_celsius)
{
    return factor_find(engine_factors, sizeof engine_factors / sizeof engine_factors[0], basis,
                       insulation_celsius, 0.0);
}

double ambient_factor(double insulation_celsius, double ambient_celsius)
{
    if (ambient_celsius <= 30.0)
        return 1.0;
    if (ambient_celsius >= insulation_celsius)
        return 0.0;
    return sqrt((insulation_celsius - ambient_celsius) / (insulation_celsius - 30.0));
}

double bundle_factor(Basis basis, int conductors, double volts)
{
    if (basis == BASIS_US && volts < 50.0)
        return 1.0;
    return factor_find(bundle_factors, sizeof bundle_factors / sizeof bundle_factors[0], basis, conductors,
                       1.0);
}

double heat_factor(Basis basis, double insulation_celsius, bool engine_space, double ambient_celsius)
{
    double engine = engine_space ? engine_space_factor(basis, insulation_celsius) : 1.0;
    double air = ambient_factor(insulation_celsius, ambient_celsius);
    return air < engine ? air : engine;
}

double ampacity_allowed(Basis basis, const Conductor *row, double insulation_celsius, Laid laid)
{
    assert(laid.parallel >= 1);
    return ampacity_table(basis, row, insulation_celsius) *
           heat_factor(basis, insulation_celsius, laid.engine_space, laid.ambient_celsius) *
           bundle_factor(basis, laid.bundle, laid.volts) * laid.parallel;
}

/* IEC 60949, of copper, second hand: A s^0.5/mm2, and C below zero at which it would lose nothing. */
static const double adiabatic_copper = 226.0, adiabatic_zero_celsius = 234.5;

double short_time_a(double area_m2, double insulation_celsius, double heat, double time_s)
{
    static const double table_celsius = 30.0;
    if (insulation_celsius <= table_celsius || isinf(insulation_celsius) || heat <= 0.0) {
        return isinf(insulation_celsius) && heat > 0.0 ? INFINITY : 0.0;
    }
    double start = insulation_celsius - heat * heat * (insulation_celsius - table_celsius);
    double rise = (adiabatic_zero_celsius + insulation_celsius) / (adiabatic_zero_celsius + start);
    return adiabatic_copper * (area_m2 * 1e6) * sqrt(log(rise) / time_s);
}

double short_time_celsius(double area_m2, double start_celsius, double current_a, double time_s)
{
    static const double melts_celsius = 1084.62;
    double density = current_a / (area_m2 * 1e6) / adiabatic_copper;
    double rise = current_a > 0.0 ? exp(density * density * time_s) : 1.0;
    return fmin((adiabatic_zero_celsius + start_celsius) * rise - adiabatic_zero_celsius, melts_celsius);
}

const Conductor *conductor_minimum(Basis basis, bool sheathed)
{
    if (basis == BASIS_US)
        return conductor_find_gauge(SERIES_AWG, sheathed ? 18 : 16);
    return conductor_find(SERIES_METRIC, sheathed ? 0.75e-6 : 1e-6);
}
