/*
 * The families of rules, each in its own file. A new rule is one function and one entry in one of them.
 */
#ifndef GARBOARD_RULES_FAMILIES_H
#define GARBOARD_RULES_FAMILIES_H

#include "rules/rule.h"

extern const RuleFamily rules_wiring;  /* cables, protection, panels */
extern const RuleFamily rules_network; /* voltages, starts and faults in the solved network */
extern const RuleFamily rules_bank;    /* banks and charging */
extern const RuleFamily rules_days;    /* days of the banks; arrays, belts, heaters */
extern const RuleFamily rules_shore;   /* shore power, inverters, outlets */
extern const RuleFamily rules_mains;   /* what hangs on mains, and what an inverter passes */
extern const RuleFamily rules_water;   /* tanks and gas, for as long as they last */
extern const RuleFamily rules_hot;     /* water heaters */
extern const RuleFamily rules_pipes;   /* pumps, hoses, taps */
extern const RuleFamily rules_hull;    /* through-hulls */
extern const RuleFamily rules_waste;   /* waste overboard */
extern const RuleFamily rules_siphon;  /* hoses by which the sea could come in */
extern const RuleFamily rules_bilge;   /* bilge pumps */
extern const RuleFamily rules_fire;    /* gas, alarms, extinguishers */
extern const RuleFamily rules_drive;   /* engine, exhaust, air */
extern const RuleFamily rules_propeller;
extern const RuleFamily rules_fuel;    /* fuel tanks and lines */
extern const RuleFamily rules_passage; /* the engine's speed, the boat's, and what is burned */
extern const RuleFamily rules_petrol;  /* air for petrol engines */
extern const RuleFamily rules_fittings; /* thrusters, cabins, steering, anchors, anodes, safety gear */
extern const RuleFamily rules_lights;  /* navigation lights, sound signals */
extern const RuleFamily rules_data;    /* data backbone, antennas, second sources */
extern const RuleFamily rules_slips;   /* sizes that hardly can be */
extern const RuleFamily rules_form;    /* whether her measures can be those of one boat */
extern const RuleFamily rules_weight;  /* weight, what has no price */
extern const RuleFamily rules_service; /* service: said, done in time, with its parts aboard */
extern const RuleFamily rules_buying;  /* money, dates, spares */
extern const RuleFamily rules_plan;    /* the work plan */
extern const RuleFamily rules_whole;   /* the spec as a whole: feeds, goals, what is missing */
extern const RuleFamily rules_found;   /* what the findings of the others mean together */
extern const RuleFamily rules_waivers; /* waivers themselves */

#endif
