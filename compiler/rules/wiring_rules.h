/*
 * The functions of the rules of wiring: their entries stand in rules_wiring.c.
 */
#ifndef GARBOARD_RULES_WIRING_RULES_H
#define GARBOARD_RULES_WIRING_RULES_H

#include "physics/conductor.h"
#include "physics/protection.h"
#include "rules/rule.h"

/* wiring_cables.c */
void judge_wire_overloaded(Judge *judge, const Feed *feed);
void judge_wire_unprotected(Judge *judge, const Feed *feed);
void judge_switch_unprotected(Judge *judge, const Entity *thing);
void judge_wire_small(Judge *judge, const Feed *feed);

/* wiring_drop.c */
void judge_wire_drop(Judge *judge, const Feed *feed);

/* wiring_words.c */
/** A size that the table does not know: no current is none that it could carry, and 0 A is no ampacity. */
bool is_in_no_table(const Figure *ampacity);
/** What lessens a cable's ampacity, as is to be seen at the wire: "ampacity 20 A: 2.5 mm2, 60 C insulation, engine space". */
const char *say_cable(const Judge *judge, const Feed *feed);

/* wiring_cranking.c: parts of wire-overloaded and of wire-drop */
void judge_cranks(Judge *judge, const Feed *feed);
void judge_lent_drop(Judge *judge, const Feed *feed);

/* wiring_remedies.c: what is offered is tried against what else cable and device have to do. */
/** What flows, with the margin for the part of it that lasts; `back`: what makes power sends it to the bank. */
Side rating_wanted(const Judge *judge, const Feed *feed, const Figure *flow, bool back);
/**
 * A thicker cable that carries so many A behind a device of so many (0: none), or the insulation that was not stated: where
 * that may mend what was chosen, the finding is left open.
 */
void remedy_size(Judge *judge, Finding *finding, const Feed *feed, Interval amps, Interval device_a);
/** What an inverter takes at its rated power while its bank is low: what is offered has to carry that too (inverter-feed); else 0. */
double when_low(const Judge *judge, const Feed *feed);
/**
 * The device that a cable is to stand, known as it is: where it is too small for what flows, and a larger one is asked for in
 * its place (protect-tight), that one; so all that is said of one cable asks for one size.
 */
Interval device_to_stand(const Judge *judge, const Feed *feed, const Figure *device);
/** A device of so many A at least, with the cable that it takes where this one is too thin for it. */
void remedy_larger_device(Judge *judge, Finding *finding, const Feed *feed, double at_least_a);
/** A device for a feed that has none. */
void remedy_no_device(Judge *judge, Finding *finding, const Feed *feed);
/** A fuse that is told of the batteries is held against no cable: only as its `protect` is it. */
void note_battery_fuse(Judge *judge, Finding *f, const Feed *feed);
/** For a device that is too large for its cable: a thicker cable, a smaller device, or both others. */
void remedy_device_or_size(Judge *judge, Finding *finding, const Feed *feed, const Figure *device);
/** Where nobody says of which class a device is: the classes made in those ratings that break so much, if it is of one. */
void remedy_class(Judge *judge, Finding *finding, const Property *protect, Interval rating, double fault_a, double volts);
/** The size of its own cable, or of the one before it, with which a feed keeps its limit. */
void remedy_drop(Judge *judge, Finding *finding, const Feed *feed, double limit);
/** The size of its own cable that keeps that limit and carries what flows. */
void remedy_carrying(Judge *judge, Finding *finding, const Feed *feed, double limit);

/* wiring_lent.c */
/** How long a device has to let a starter crank: a choice of this program. */
#define CRANKS_SECONDS 5.0
/**
 * Of a feed of a switch that lends a start, the device and the cable with which all rules are content at once; false, and nothing
 * is offered, of any other feed, and where no such pair is made or not all is known.
 */
bool remedy_lent(Judge *judge, Finding *finding, const Feed *feed);

/* wiring_devices.c */
void judge_protect_far(Judge *judge, const Feed *feed);
void judge_protect_tight(Judge *judge, const Feed *feed);
void judge_panel_overloaded(Judge *judge, const Entity *panel);
void judge_wire_terminals(Judge *judge, const Feed *feed);
void judge_switch_cranking(Judge *judge, const Entity *thing);

/* wiring_breaking.c */
void judge_protect_breaking(Judge *judge, const Feed *feed);

/* wiring_switch.c */
void judge_battery_switch(Judge *judge, const Entity *bank);
void judge_insulated_poles(Judge *judge, const Entity *thing);

/* wiring_ratings.c */
void judge_protect_made(Judge *judge, const Feed *feed);
void judge_protect_large(Judge *judge, const Entity *thing);
void judge_motor_jam(Judge *judge, const Entity *motor);
/**
 * What allows a device of a feed no more than so many A, its own cable apart: what is rated so, or another cable that it
 * guards; *who says which. Infinite: nothing does.
 */
double device_at_most(const Judge *judge, const Feed *feed, const char **who);
/** What a device that a feed has not yet may be at most for what it leads to, or for the inlet it comes from (protect-large,
 * shore-first-breaker); infinite: neither says. */
double end_at_most(const Judge *judge, const Feed *feed);
/** The next device from so many A on that is made, or the largest up to so many: of the class that is stated, else of the
 * series of the basis. Infinite, or 0: none is. */
double next_made(const Judge *judge, const Feed *feed, double amps);
double largest_made(const Judge *judge, const Feed *feed, double amps);
/** The bank that a cable begins at, or of a maker ends at, past switches that have no cable of their own; NULL: there is none. */
const Entity *bank_at_its_end(const Feed *feed);
/** "6 in from source": a place for a device at a battery, within what every clause and practice of the basis asks. */
const char *place_by_battery(const Judge *judge);
/*
 * What is put in the place of a stated `protect` or `wire` is the whole line: it keeps what was stated besides, for the line
 * that is followed to the letter says no more than it spells. Remedies of these two are written by these alone.
 */
/** " 0.1 m from source": the place that a line states for its device; "" where it states none. */
const char *stated_place(const Judge *judge, const Property *protect);
/** " fuse class-t 6 in from source": what stands there of a device besides its rating. */
const char *stated_kind(const Judge *judge, const Feed *feed);
/** "protect 100 A fuse class-t 0.1 m from source": a fuse of another class or rating, where the stated device stands. */
const char *say_fuse(const Judge *judge, const Feed *feed, double rating_a, ProtectionClass class);
/** "wire 35 mm2 conductors 2 insulation 70 C": a cable of that size; of that insulation, or (0) of the one that is stated. */
const char *say_wire(const Judge *judge, const Feed *feed, const Conductor *row, double insulation_c);
/** "by the formula of the basis ", before what is lost by it; "" where no number of it stands there. */
const char *say_by_formula(const Figure *by_rule);
/** " (in real cable at 50 C 3.1 %)": what the book prints beside it, for the formula of the basis goes by other copper than warm. */
const char *say_real(const Judge *judge, const Figure *physical);
/** The word that states the device that guards a feed's cable, or is to: `protect`, or `protect-output`. */
const char *device_word(const Feed *feed);

#endif
