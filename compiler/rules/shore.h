/*
 * What the files of the family rules_shore share: the rules that are too long for its table's own file.
 */
#ifndef GARBOARD_RULES_SHORE_H
#define GARBOARD_RULES_SHORE_H

#include "rules/upstream.h"

/** Where it is stated what brings a thing its mains by that feed. */
Span place_of_feed(const Judge *judge, const Feed *feed);
void judge_neutral_bond(Judge *judge, const Entity *source); /* shore_bonds.c */
void judge_earth_bond(Judge *judge, const Entity *source);
void judge_shore_isolation(Judge *judge, const Entity *inlet);

void judge_shore_first_breaker(Judge *judge, const Entity *inlet); /* shore_inlet.c */
void judge_shore_leakage(Judge *judge, const Entity *inlet);
void judge_inlet_earth(Judge *judge, const Entity *inlet);
void judge_feed_earth(Judge *judge, const Feed *feed);
/** How thick a grounding conductor iso asks beside such a live one: IEC 60364-5-54, Table 54.2, from memory: as the live one to
 * 16 mm2, 16 mm2 to 35 mm2, then half. */
double earth_by_live_m2(double live_m2);
/** The thinnest size in the owner's series that has so much copper; NULL: none is sold. */
const char *earth_size_word(Basis basis, double area_m2);
/** Whether a feed's cable carries alternating current. */
bool feed_carries_alternating(const Feed *feed);
void judge_ac_wire(Judge *judge, const Feed *feed); /* shore_wire.c */
void judge_outlet_leakage(Judge *judge); /* shore_outlet.c */
void judge_inverter_feed(Judge *judge, const Entity *inverter); /* shore_inverter.c */
void judge_inverter_overloaded(Judge *judge, const Entity *inverter);
void judge_converter_overloaded(Judge *judge, const Entity *converter);
void judge_generator_overloaded(Judge *judge, const Entity *generator);
void judge_ac_voltage(Judge *judge); /* shore_sources.c */
void judge_shore_polarity(Judge *judge);
/** What a source of mains gives, in V and in Hz: what an inverter does not state is that of what it passes through. */
Side mains_volts(const Judge *judge, const Upstream *upstream, const Entity *source);
Side mains_hertz(const Judge *judge, const Upstream *upstream, const Entity *source);
/** How far apart two voltages may be and still count as one, 220 and 230 V, 110 and 120 V; and two frequencies. */
#define SAME_VOLTAGE 0.9
#define SAME_FREQUENCY 0.95
/** Judges that two are the same but for that share. */
Finding *judge_same(Judge *judge, const Entity *subject, Span place, Side one, Side other, double share);
void judge_wrong_supply(Judge *judge); /* shore_supply.c */
/** What a thing on mains says that it is made for, against what its source gives. */
void judge_made_for(Judge *judge, const Upstream *upstream, const Entity *thing, const Entity *source);
void judge_inverter_passes(Judge *judge, const Entity *inverter); /* shore_passes.c */
void judge_switched_neutral(Judge *judge, const Entity *transfer);

/** What an inlet gives for long: no more than its own breaker lets pass, whatever its pins are made for. */
Side inlet_gives(const Judge *judge, const Entity *inlet);

#endif
