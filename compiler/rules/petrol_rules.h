/*
 * What the files of the family rules_petrol share: rules that are too long for its table's own file.
 */
#ifndef GARBOARD_RULES_PETROL_RULES_H
#define GARBOARD_RULES_PETROL_RULES_H

#include "rules/ask.h"

void judge_petrol_cabin(Judge *judge, const Entity *thing); /* petrol_carried.c */
void judge_generator_carried(Judge *judge, const Entity *generator);
/** Where an engine that is carried is stowed with its tank; NULL where there is nothing to judge. */
const Entity *space_of_carried(Judge *judge, const Entity *engine);

/** The space of a tank of petrol in which vapour can gather; NULL where there is nothing to judge (petrol_carried.c). */
const Entity *space_of_tank(Judge *judge, const Entity *tank);

#endif
