/*
 * What the files of the family rules_fire share: the rules that are too long for its table's own file.
 */
#ifndef GARBOARD_RULES_FIRE_H
#define GARBOARD_RULES_FIRE_H

#include "rules/rule.h"

void judge_alarm_missing(Judge *judge, const Entity *subject); /* fire_alarms.c */
void judge_gas_line(Judge *judge, const Entity *line);         /* fire_gas.c */

void judge_flame_air(Judge *judge, const Entity *appliance);   /* fire_air.c */
void judge_gas_flue(Judge *judge, const Entity *appliance);    /* fire_flue.c */
void judge_flame_pan(Judge *judge, const Entity *burner);      /* fire_burner.c */

/** Somebody stays in it: it says what parts it from the outside. A locker says nothing of the kind. */
static inline bool is_cabin(const Entity *space)
{
    return entity_states(space, PROP_SPACE_SKIN) || entity_states(space, PROP_SPACE_GLASS) ||
           entity_states(space, PROP_SPACE_BUILT);
}

#endif
