/*
 * Ways of writing that are usual elsewhere, and what they are in a spec: slashes in a date, the gauge behind its name, two
 * conductors as `2 x`, a comment where a number was meant. Private to compiler/model/; gives words for messages and judges
 * nothing.
 */
#ifndef GARBOARD_MODEL_HABITS_H
#define GARBOARD_MODEL_HABITS_H

#include "model/amount.h"
#include "model/match.h"

/** Says what would be right instead of the term at hand, where an atom stands; false if no habit is known in it. */
bool habit_right(const Match *m, Message *message, const Atom *atom);

/** The same of a number that lacks its unit, from there on; `cursor` stands behind it. False: no habit. */
bool habit_right_number(Checker *checker, const Cursor *cursor, NodeId number, const Atom *atom, Message *message);

/**
 * `3000 1/min`, `3000 U/min` and `3000 /min`, as speeds of rotation stand on plates: tells it; false if that is not what stands
 * there. `cursor` stands at the number.
 */
bool habit_tell_turns(Checker *checker, const Cursor *cursor, const Atom *atom);

/** `x50 mm2` behind a number where a conductor's size stands; `cursor` stands at it. False: it is not that. */
bool habit_right_times(Checker *checker, const Cursor *cursor, const Atom *atom, Message *message);

/**
 * An amount that is left over behind one of a greater unit, `14 in` behind feet and `4 oz` behind pounds: tells it; false if
 * that is not what stands there.
 */
bool habit_tell_parts(Match *m);

/** A unit that the language does not have, behind its number: so many of one that it has. False: it is another form. */
bool habit_right_elsewhere(Checker *checker, const Cursor *cursor, const UnitElsewhere *unit, Message *message);

/** What the sheets of batteries state otherwise: a current as a rate, `0.5 C`; a capacity as the energy in it. False: it is neither. */
bool habit_right_of_battery(Checker *checker, const Amount *amount, const Atom *atom, Message *message);

/** `inboard/outboard`: two words of the trade that are one; `cursor` stands at the slash. False: they are not. */
bool habit_tell_joined(Match *m);

/** Where a length is missing: says which feet and inches before it were read as one; false if none were. */
bool habit_right_parts(const Match *m, Message *message);

/** `"He said "no" to it"`: a quote inside of a text ended it: tells it; false if that is not what stands there. */
bool habit_tell_quote(Match *m);

/** Whether a term is the word of a property that may follow, and not the name of a thing. */
bool habit_is_property(const Match *m, NodeId term);

/** Whether the term at hand begins another property of the thing, or of the block of this one, on the same line: tells it. */
bool habit_tell_property(Match *m);

/**
 * `1.250 EUR`, `1.234,50 EUR`: three digits behind the point of an amount are a group of thousands as often as they are a
 * slip. Tells it; false if that is not what stands there, or a coin of that currency is a thousandth. `cursor` stands behind
 * the number.
 */
bool habit_tell_grouped(Checker *checker, const Cursor *cursor, NodeId number);

/** `1.000,5 Ah` and `3 000 kg`, of what is no money: tells it; false if that is not what stands there. */
bool habit_tell_groups(Checker *checker, const Cursor *cursor, NodeId number);

#endif
