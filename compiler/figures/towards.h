/*
 * A number whose sign is a direction, in words: `0.163 m to port`, and no `-0.163 m to starboard`.
 */
#ifndef GARBOARD_FIGURES_TOWARDS_H
#define GARBOARD_FIGURES_TOWARDS_H

#include "figures/figure.h"

/* What a number above nought, and one below it, is called. */
typedef struct Directions {
    const char *along, *against;
    bool along_is_said; /* the heading of a column says it: of a number that goes along it stands alone */
} Directions;

/**
 * Appends a figure as figure_write does, without a sign: "0.1..0.2 m deeper", "from 0.1 m higher to 0.2 m deeper". Of what is
 * partial, "at most 0.1 m higher": the rest goes along. Nought goes nowhere.
 */
void figure_write_towards(Buf *to, const Figures *figures, const Figure *figure, const Directions *words);

#endif
