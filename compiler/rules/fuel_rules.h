/*
 * What the files of the family rules_fuel share: the rules that are too long for its table's own file.
 */
#ifndef GARBOARD_RULES_FUEL_RULES_H
#define GARBOARD_RULES_FUEL_RULES_H

#include "rules/rule.h"

void judge_fuel_shut(Judge *judge, const Entity *line);   /* fuel_ways.c */
void judge_fuel_valves(Judge *judge, const Entity *line); /* fuel_ways.c */

/** A line from what burns to a tank that says of itself that it is no return: `fuel-shut` tells it at the line. */
bool is_turned_feed(const Entity *line);

void judge_petrol_siphon(Judge *judge, const Entity *line); /* fuel_siphon.c */

void judge_wrong_fuel(Judge *judge, const Entity *burner);  /* fuel_kinds.c */
void judge_which_fuel(Judge *judge, const Entity *subject); /* fuel_kinds.c */

void judge_consumption_odd(Judge *judge, const Entity *engine); /* fuel_slips.c */
void judge_heat_odd(Judge *judge, const Entity *heater);        /* fuel_slips.c */

#endif
