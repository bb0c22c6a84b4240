/*
 * Tanks: tables of liquids and bores, volumes, accumulators. See tank.h.
 */
#include "physics/tank.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>

#define PI 3.14159265358979323846

typedef struct ContentRow {
    const char *name;
    double density_kg_per_m3;
    Evidence evidence;
} ContentRow;

static const ContentRow contents[CONTENT_COUNT] = {
#define CONTENT(ID, NAME, DENSITY, EVIDENCE) [CONTENT_##ID] = {NAME, DENSITY, EVIDENCE},
#define BORE(...)
#include "tables/tanks.def"
#undef CONTENT
#undef BORE
};

typedef struct BoreRow {
    Basis basis;
    Content content;
    Opening opening;
    double bore_mm;
    Evidence evidence;
    const char *source;
    const char *note;
} BoreRow;

static const BoreRow bores[] = {
#define CONTENT(...)
#define BORE(BASIS, CONTENT_ID, OPENING, BORE_MM, EVIDENCE, SOURCE, NOTE) \
    {BASIS, CONTENT_ID, OPENING, BORE_MM, EVIDENCE, SOURCE, NOTE},
#include "tables/tanks.def"
#undef CONTENT
#undef BORE
};

Bore tank_bore(Basis basis, Content content, Opening opening)
{
    for (size_t i = 0; i < sizeof bores / sizeof bores[0]; i++) {
        const BoreRow *row = &bores[i];
        if (row->basis == basis && row->content == content && row->opening == opening)
            return (Bore){row->bore_mm / 1000.0, row->evidence, row->source, row->note};
    }
    return (Bore){0.0, EVIDENCE_MODEL, NULL, NULL};
}

static double wall_by_iso_m(WallMetal metal, Content content)
{
    switch (metal) {
    case WALL_ALUMINIUM: return 2.0e-3;
    case WALL_STEEL: return 1.5e-3;
    case WALL_STAINLESS: return content == CONTENT_DIESEL ? 1.0e-3 : 0.0;
    default: return 0.0;
    }
}

double tank_wall_m(Basis basis, WallMetal metal, Content content, double capacity_m3)
{
    if (basis == BASIS_ISO) {
        return wall_by_iso_m(metal, content);
    }
    double litres = capacity_m3 * 1000.0;
    if (metal == WALL_OTHER || metal == WALL_STAINLESS || litres < 4.0) {
        return 0.0;
    }
    return metal == WALL_ALUMINIUM ? 6.35e-3 : litres <= 300.0 ? 1.90e-3 : litres <= 570.0 ? 2.66e-3 : 4.55e-3;
}

double content_density_kg_per_m3(Content content)
{
    return contents[content].density_kg_per_m3;
}

Evidence content_evidence(Content content)
{
    return contents[content].evidence;
}

const char *content_name(Content content)
{
    return contents[content].name;
}

double content_mass_kg(Content content, double volume_m3, double fill_share)
{
    return contents[content].density_kg_per_m3 * volume_m3 * fill_share;
}

double box_volume_m3(double length_m, double width_m, double height_m)
{
    return length_m * width_m * height_m;
}

double accumulator_drawdown_m3(double volume_m3, double pre_charge_pa, double cut_in_pa, double cut_out_pa)
{
    assert(pre_charge_pa > 0.0 && cut_in_pa > 0.0 && cut_out_pa > 0.0);
    return volume_m3 * (pre_charge_pa / cut_in_pa - pre_charge_pa / cut_out_pa);
}

double accumulator_starts_per_s(double drawdown_m3, double draw_m3_per_s, double pump_m3_per_s)
{
    if (draw_m3_per_s <= 0.0 || draw_m3_per_s >= pump_m3_per_s)
        return 0.0;
    return 1.0 / (drawdown_m3 / draw_m3_per_s + drawdown_m3 / (pump_m3_per_s - draw_m3_per_s));
}
