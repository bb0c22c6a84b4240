/*
 * Which figure of the boat answers a line of a goal: for the book, and for telling two boats apart.
 */
#ifndef GARBOARD_RULES_GOAL_FIGURES_H
#define GARBOARD_RULES_GOAL_FIGURES_H

#include "figures/figure.h"

/* Where the figure's day or goal stands, if not in a slot of the line. */
enum { GOAL_AT_NOTHING = -1, GOAL_AT_ITSELF = -2 };

typedef struct GoalFigure {
    PropId prop;
    FigureId figure;
    int day_slot; /* of the line, or one of the above */
} GoalFigure;

enum { GOAL_FIGURES = 8 };
extern const GoalFigure goal_figures[GOAL_FIGURES];

#endif
