/*
 * Sizes in which hose and tail shafts are made (tables/made.def): what to buy where at least so much is asked for. Knows
 * metres and words; not what asks.
 */
#ifndef GARBOARD_PHYSICS_MADE_H
#define GARBOARD_PHYSICS_MADE_H

#include <stdbool.h>

typedef enum MadeThing { MADE_HOSE, MADE_SHAFT } MadeThing;

/**
 * The smallest size that is made and has at least that diameter, as it is written: "16 mm", "5/8 in"; NULL if none is. A
 * thousandth less counts as that size: sizes are nominal.
 */
const char *made_at_least(MadeThing thing, bool inches, double least_m);

#endif
