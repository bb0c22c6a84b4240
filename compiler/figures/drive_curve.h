/*
 * Power against speed as curves, for a picture: computed only when one is drawn. The numbers are those that the
 * figures rest on, at more speeds than the spec speaks of.
 */
#ifndef GARBOARD_FIGURES_DRIVE_CURVE_H
#define GARBOARD_FIGURES_DRIVE_CURVE_H

#include "figures/drive.h"

enum { DRIVE_CURVE_POINTS = 61 };

/* Speeds in m/s, and the power in W that the engine has to give there. */
typedef struct DriveCurve {
    double speed[DRIVE_CURVE_POINTS], power[DRIVE_CURVE_POINTS];
} DriveCurve;

/**
 * What the hull takes of an engine, up to a speed: `needed-power`, or `needed-power-low` if `low`; at the greatest
 * of what is not decided. False where that is not known.
 */
bool drive_hull_curve(const Figures *figures, const Entity *engine, bool low, double to_m_per_s,
                      DriveCurve *curve);
/**
 * What a propeller takes at the engine's rated speed while the boat goes at each speed: of its stated pitch, else
 * of the one that is matched. False where anything of it is a range, or not known.
 */
bool drive_propeller_curve(const Figures *figures, const Entity *propeller, double to_m_per_s,
                           DriveCurve *curve);

#endif
