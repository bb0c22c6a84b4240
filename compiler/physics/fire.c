/*
 * Extinguishers by length, and gas drains. See fire.h.
 */
#include "physics/fire.h"

#include <stddef.h>

#define METRES_PER_FOOT 0.3048

typedef struct ExtinguisherRow {
    double to_ft;
    bool end_in;
    int without, with;
} ExtinguisherRow;

static const ExtinguisherRow rows[] = {
#define EXTINGUISHERS(TO, END_IN, WITHOUT, WITH) {TO, END_IN, WITHOUT, WITH},
#define GAS_BORE(...)
#include "tables/fire.def"
#undef EXTINGUISHERS
#undef GAS_BORE
};

typedef struct BoreRow {
    double mm;
    Evidence evidence;
    const char *source;
} BoreRow;

static const BoreRow drains[BASIS_COUNT] = {
#define EXTINGUISHERS(...)
#define GAS_BORE(BASIS, MM, EVIDENCE, SOURCE) [BASIS] = {MM, EVIDENCE, SOURCE},
#include "tables/fire.def"
#undef EXTINGUISHERS
#undef GAS_BORE
};

int extinguishers_asked(double length_m, bool fixed)
{
    double feet = length_m / METRES_PER_FOOT;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        /* With a hair of tolerance: 7.9248 m / 0.3048 is 26 ft. */
        bool in =
            rows[i].end_in ? feet <= rows[i].to_ft * (1.0 + 1e-12) : feet < rows[i].to_ft * (1.0 - 1e-12);
        if (in) {
            return fixed ? rows[i].with : rows[i].without;
        }
    }
    return -1;
}

GasBore gas_drain_bore(Basis basis)
{
    return (GasBore){drains[basis].mm / 1000.0, drains[basis].evidence, drains[basis].source};
}
