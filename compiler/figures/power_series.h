/*
 * The course of a bank through a day or a cruise, step by step, for what draws it. Run when it is asked for, not before:
 * figures hold what rules and tables want of it.
 */
#ifndef GARBOARD_FIGURES_POWER_SERIES_H
#define GARBOARD_FIGURES_POWER_SERIES_H

#include "figures/figure.h"

/*
 * What a source offers, along the course; or a converter between this bank and another, which takes from it or brings it
 * something: what it may, of the surplus of the one alone, or what it does, where it draws on that one's charge too.
 */
typedef struct SeriesSource {
    const Entity *maker;
    const Entity *other;     /* of a converter the other bank; else NULL */
    bool takes, draws;
    const double *offered_w; /* mean of each step, in the worse case */
    double moved_j;          /* of a converter: what it brings or takes in all, in the worse case */
} SeriesSource;

typedef struct PowerSeries {
    uint32_t steps;
    double step_s;
    const double *worse, *better; /* charge that can be had at the beginning and after each step: steps + 1 of each */
    const double *load_w;         /* mean of each step, in the worse case; one a step, as of sources */
    double least_charge;          /* the usable limit, in the worse case */
    const SeriesSource *sources;
    uint32_t source_count;
    uint32_t left_out;            /* days at the end of a long cruise that are not in it */
} PowerSeries;

/**
 * Runs it: a day begun full at midnight, or a cruise as it says, of which the first `most_days` count. False if there is
 * nothing to draw: the bank is not known, or nothing draws from it nor charges it then.
 */
bool power_series(Arena *arena, const Figures *figures, const Entity *bank, const Entity *when, uint32_t most_days,
                  PowerSeries *series);

#endif
