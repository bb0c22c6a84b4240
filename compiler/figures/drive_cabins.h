/*
 * What the recipes of heaters and coolers share. Private to drive_climate.c and drive_crossing.c.
 */
#ifndef GARBOARD_FIGURES_DRIVE_CABINS_H
#define GARBOARD_FIGURES_DRIVE_CABINS_H

#include "figures/drive.h"
#include "physics/allot.h"

/* Heating or cooling: which kind, which properties, what temperature inside. */
typedef struct Climate {
    KindId kind;
    PropId serves, output;
    FigureId need, thumb;
    DriveLimit inside, changes, by_volume;
    bool cools;
} Climate;

/* Spaces and makers that hang together, where some serve other spaces than others: what falls to each is allotted. */
typedef struct Crossing {
    const Entity *spaces[ALLOT_SPACES], *makers[ALLOT_MAKERS];
    Allotment allotment; /* its asks and gives: the caller's */
    int own;             /* which of the makers is meant */
} Crossing;

/** Whether a maker is one of such; false also where there are more than can be allotted. */
bool find_crossing(const Model *model, const Climate *climate, const Entity *maker, Crossing *crossing);
/**
 * Uses what each of them gives, or counts each as one where one does not say it: whom it is allotted to, in words, is added to
 * the formula. Then what falls to the maker that is meant.
 */
Interval use_allotted(Work *work, const Climate *climate, Crossing *crossing, Sum *sum);
/** The same with so much more that may be asked for in any one of the spaces that it serves, whichever is the worst for it. */
Interval use_allotted_with(Work *work, const Climate *climate, Crossing *crossing, Interval anywhere, Sum *sum);
/** What is given by all that are counted (drive_climate.c). */
Interval use_given(Work *work, const Climate *climate, const Entity *thing, const char *before, Sum *sum);

#endif
