/*
 * What the files of the family rules_bilge share: the rule that is too long for its table's own file.
 */
#ifndef GARBOARD_RULES_BILGE_H
#define GARBOARD_RULES_BILGE_H

#include "rules/rule.h"

void judge_bilge_capacity(Judge *judge); /* bilge_capacity.c */

static inline bool is_worked_by_hand(const Entity *pump)
{
    return entity_yes(pump, PROP_BILGE_PUMP_HAND) == 1;
}

#endif
