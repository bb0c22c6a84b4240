/*
 * The functions of the rules of networks and faults: their entries stand in rules_network.c.
 */
#ifndef GARBOARD_RULES_NETWORK_H
#define GARBOARD_RULES_NETWORK_H

#include "rules/rule.h"

/* network_voltage.c */
void judge_low_voltage(Judge *judge);
void judge_collapse(Judge *judge, const Feed *feed);
void judge_bank_collapse(Judge *judge, const Entity *bank); /* network_bank.c */
void judge_surge(Judge *judge);
void judge_bus_overloaded(Judge *judge, const Entity *thing);

/* network_devices.c */
void judge_protect_blind(Judge *judge, const Feed *feed);
void judge_protect_order(Judge *judge, const Feed *feed);
void judge_protect_voltage(Judge *judge, const Feed *feed);
/** For what voltage a device is asked that does not say it: that which charges, where it is above the circuit's own. */
const char *asked_volts(const Judge *judge, const Feed *feed, Interval circuit_v);
void judge_output_device(Judge *judge, const Feed *feed);
void judge_joined_banks(Judge *judge);
void judge_dc_ground_thin(Judge *judge, const Feed *feed);

#endif
