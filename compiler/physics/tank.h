/*
 * Tanks: volume by shape, mass of the contents, least bores of vents, fills and pump-outs, and how water
 * expands.
 *
 * Knows shapes and liquids; not what a boat carries.
 */
#ifndef GARBOARD_PHYSICS_TANK_H
#define GARBOARD_PHYSICS_TANK_H

#include "physics/basis.h"

typedef enum Content {
#define CONTENT(ID, ...) CONTENT_##ID,
#define BORE(...)
#include "tables/tanks.def"
#undef CONTENT
#undef BORE
    CONTENT_COUNT
} Content;

typedef enum Opening {
    OPENING_VENT,
    OPENING_VENT_DIPPED, /* vent of a fuel tank whose fill pipe reaches into the tank */
    OPENING_FILL,
    OPENING_PUMP_OUT
} Opening;

typedef struct Bore {
    double least_m; /* 0: the basis asks nothing */
    Evidence evidence;
    const char *source; /* NULL where nothing is asked */
    const char *note;
} Bore;

/** What the walls of a fuel tank are made of; WALL_OTHER: the table has no figure for it. */
typedef enum WallMetal { WALL_OTHER, WALL_STEEL, WALL_STAINLESS, WALL_ALUMINIUM } WallMetal;
/**
 * Least wall of an independent fuel tank, in m, by its metal, its fuel and what it holds to the brim; 0: the table has no figure.
 *
 * Source, us: 46 CFR 182.440, Table 1 to (a)(1) (verified): steel but for stainless 1.90 mm to 300 l, 2.66 mm to 570 l, 4.55 mm beyond;
 * aluminium 5052, 5083 and 5086 6.35 mm; from 4 l on. Rises with the capacity. iso: ISO 21487:2022, second hand:
 * aluminium 2.0 mm, steel but for stainless 1.5 mm, stainless 1.0 mm for diesel; whatever it holds.
 */
double tank_wall_m(Basis basis, WallMetal metal, Content content, double capacity_m3);

/** Least bore of an opening (tanks.def). A DIPPED vent is a question for fuel only; other contents give 0. */
Bore tank_bore(Basis basis, Content content, Opening opening);

/** Density in kg/m3: fresh water, grey and black 1000, diesel 840 (EN 590 allows 820 to 845), petrol 745. */
double content_density_kg_per_m3(Content content);
/** The Evidence of that density. */
Evidence content_evidence(Content content);
const char *content_name(Content content);

/** Mass in kg of what is in a tank filled to fill_share (0..1). */
double content_mass_kg(Content content, double volume_m3, double fill_share);

/** l x w x h, inside measures. */
double box_volume_m3(double length_m, double width_m, double height_m);

/**
 * Air that an accumulator gives up as water between two pressures: V (P1/P2 - P1/P3). All pressures absolute,
 * in any one unit: pre-charge P1 <= cut-in P2 < cut-out P3. Boyle's law, at one temperature.
 */
double accumulator_drawdown_m3(double volume_m3, double pre_charge_pa, double cut_in_pa, double cut_out_pa);
/**
 * Pump starts a second while water is drawn at draw below the pump's flow: one cycle is Vd/q + Vd/(Qp - q). 0
 * where the draw is zero, or keeps the pump running.
 */
double accumulator_starts_per_s(double drawdown_m3, double draw_m3_per_s, double pump_m3_per_s);

#endif
