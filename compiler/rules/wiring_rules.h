/*
 * The functions of the rules of wiring: their entries stand in rules_wiring.c.
 */
#ifndef GARBOARD_RULES_WIRING_RULES_H
#define GARBOARD_RULES_WIRING_RULES_H

#include "rules/rule.h"

/* wiring_cables.c */
void judge_wire_overloaded(Judge *judge, const Feed *feed);
void judge_wire_unprotected(Judge *judge, const Feed *feed);
void judge_wire_small(Judge *judge, const Feed *feed);
void judge_wire_drop(Judge *judge, const Feed *feed);

/* wiring_devices.c */
void judge_protect_far(Judge *judge, const Feed *feed);
void judge_protect_tight(Judge *judge, const Feed *feed);
void judge_protect_breaking(Judge *judge, const Feed *feed);
void judge_panel_overloaded(Judge *judge, const Entity *panel);
void judge_switch_cranking(Judge *judge, const Entity *thing);

#endif
