/*
 * Whether so much of what she displaces is weighed and placed that it says how she lies.
 *
 * Angles are those of what is placed alone, and she is taken to float level without it. While less than half of her
 * displacement is placed, the rest outweighs it and may just as well lie on the other side: nothing follows.
 */
#ifndef GARBOARD_RULES_PLACED_H
#define GARBOARD_RULES_PLACED_H

#include "rules/ask.h"

/** What a finding hangs on that names no single thing: one decision, of however many things with this option or that. */
extern const char mass_of_things[];

/**
 * Whether an angle of her is known although less than half of her displacement is, or perhaps is, weighed and placed: then it
 * says nothing. angle may be NULL.
 */
bool rests_on_little(const Judge *judge, const Figure *angle);
/**
 * An open finding at a place about a subject because not, or perhaps not, so much is: it hangs on the heaviest thing that
 * has no place, else on the one that has no mass, or on the mass of things if several have none, else on a hull that nothing states.
 */
Finding *judge_little_placed(Judge *judge, const Entity *subject, Span place);
/**
 * An open finding because less than half of her displacement is weighed, or perhaps is: what she weighs is then less than
 * nobody knows what. It hangs on what has no mass, else on a hull that nothing states. NULL: at least half is.
 */
Finding *judge_little_weighed(Judge *judge, const Entity *subject, Span place);
/** "only 240 kg of the 2500 kg that she displaces is weighed and placed" */
const char *say_placed(const Judge *judge);

#endif
