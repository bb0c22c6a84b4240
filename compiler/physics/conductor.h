/*
 * Copper conductors: the sizes that are sold, their copper and their resistance.
 *
 * Three series: METRIC (nominal mm2), AWG (areas by ASTM B258) and SAE (the smaller SAE minimum areas; the
 * printed US drop tables follow them). Rows come from compiler/tables/conductors-*.def, thin to thick. A
 * Conductor is never made, only looked up; it lives as long as the program. Knows sizes and copper; not
 * currents, insulation, nor specs.
 */
#ifndef GARBOARD_PHYSICS_CONDUCTOR_H
#define GARBOARD_PHYSICS_CONDUCTOR_H

#include "physics/basis.h"

#include <stdbool.h>
#include <stddef.h>

typedef enum Series { SERIES_METRIC, SERIES_AWG, SERIES_SAE, SERIES_COUNT } Series;

typedef struct Conductor {
    Series series;
    const char *word;     /* as a spec writes it: "6 mm2", "2/0 AWG", "10 SAE" */
    bool sold;            /* as boat cable: one that is not can be stated, and is never chosen */
    int gauge;            /* AWG and SAE: gauge number, 1/0 is 0, 4/0 is -3; 0 for metric */
    double area_m2;       /* copper */
    double r20_ohm_per_m; /* one conductor of tinned strand, 20 C, direct current */
    Evidence r20_evidence;
    const char *r20_source;
} Conductor;

/** How many sizes a series has. */
size_t conductor_count(Series series);
/** The i-th size, thin to thick; i < conductor_count(series). */
const Conductor *conductor_at(Series series, size_t i);
/**
 * The size of that area (within 0.1 per cent: neighbours are 15 per cent apart or more), or NULL if none is
 * made.
 */
const Conductor *conductor_find(Series series, double area_m2);
/** The size with that gauge number in SERIES_AWG or SERIES_SAE, or NULL. */
const Conductor *conductor_find_gauge(Series series, int gauge);
/** The next thicker size of the same series that is sold, or NULL after the last. */
const Conductor *conductor_next(const Conductor *row);
/** The next thinner size of the same series that is sold; the thinnest itself. */
const Conductor *conductor_one_thinner(const Conductor *row);
/** The thinnest size that is sold with at least that area, or NULL if none is thick enough. No tolerance. */
const Conductor *conductor_at_least(Series series, double area_m2);

/**
 * Area of a solid round wire of gauge n (1/0 is n = 0, 2/0 is -1 ...), ASTM B258, for any n from -3 to 40.
 */
double awg_area_m2(int n);
/**
 * Area in circular mils (1 circular mil = pi/4 x (0.0254 mm)^2), in which the US forms are written.
 */
double circular_mils(double area_m2);

/**
 * Resistance in ohm of `parallel` equal conductors laid as one, at the temperature of the copper.
 *
 * length_m   along the conductor: there and back for a circuit; >= 0
 * celsius    temperature of the copper, not of the air around it
 *
 * R = r20 x length / parallel x (1 + 0.00393 (celsius - 20)); alpha from IEC 60028 (from memory; it agrees
 * with the NEC coefficient at 75 C, verified). Direct current, and 50 or 60 Hz up to about 120 mm2. Rises
 * with length and temperature, falls with `parallel`.
 */
double conductor_resistance_ohm(const Conductor *row, double length_m, double celsius, int parallel);

#endif
