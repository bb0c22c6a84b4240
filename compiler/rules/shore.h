/*
 * What the files of the family rules_shore share: the rules that are too long for its table's own file.
 */
#ifndef GARBOARD_RULES_SHORE_H
#define GARBOARD_RULES_SHORE_H

#include "rules/upstream.h"

void judge_shore_first_breaker(Judge *judge, const Entity *inlet); /* shore_inlet.c */
void judge_shore_leakage(Judge *judge, const Entity *inlet);
void judge_inlet_earth(Judge *judge, const Entity *inlet);
void judge_feed_earth(Judge *judge, const Feed *feed);
/** Whether a feed's cable carries alternating current. */
bool feed_carries_alternating(const Feed *feed);
void judge_ac_wire(Judge *judge, const Feed *feed); /* shore_wire.c */
void judge_outlet_leakage(Judge *judge); /* shore_outlet.c */
void judge_inverter_feed(Judge *judge, const Entity *inverter); /* shore_inverter.c */
void judge_inverter_overloaded(Judge *judge, const Entity *inverter);
void judge_generator_overloaded(Judge *judge, const Entity *generator);
void judge_ac_voltage(Judge *judge); /* shore_sources.c */
void judge_shore_polarity(Judge *judge);

#endif
