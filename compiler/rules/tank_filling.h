/*
 * How a tank is filled where it has no filling pipe of its own: from another tank aboard.
 */
#ifndef GARBOARD_RULES_TANK_FILLING_H
#define GARBOARD_RULES_TANK_FILLING_H

#include "rules/ask.h"

typedef enum Filling {
    FILLING_OWN,    /* its own filling pipe is asked for */
    FILLING_ABOARD, /* it has none, and lines, hoses or pumps lead to it from a tank of the same that has one, or is carried */
    FILLING_WAITS,  /* it has none, and whether such a tank has one is not known: that one tells it */
} Filling;

/** The rule tank-breath (tank_breath.c). */
void judge_tank_breath(Judge *judge, const Entity *tank);

Filling tank_filling(const Judge *judge, const Entity *tank);
/** Whether a line from tank to tank lets out what is too much: a pump fills the one from the other. */
bool is_overflow(const Judge *judge, const Entity *line);

#endif
