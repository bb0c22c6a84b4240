/*
 * Under which options of the open choices something occurs that was found in some of the cases. Knows which option each
 * case takes; must not know what was found.
 */
#ifndef GARBOARD_RULES_OPTIONS_H
#define GARBOARD_RULES_OPTIONS_H

#include "rules/outcome.h"

typedef struct OptionCases OptionCases;

/** A set of cases: bit i is case i. */
typedef uint64_t CaseSet;

/**
 * Where a finding stands, as far as the options of a choice have it in common: within an option it is the choice, else the
 * place itself. What two options say of one thing stands in two places, and is one finding.
 */
uint64_t options_place(const OptionCases *options, Span place);

/** All cases of an outcome. */
CaseSet options_all_cases(const Outcome *outcome);

/** Which cases take which option; made once, for Outcome.options. */
OptionCases *options_of_cases(Outcome *outcome);

/**
 * Adds to a finding the choices on which it hangs whether a case is in `found`, and as `only_with` which options bring it
 * ("engine-size=lean or middle and heat=stove") unless `silent`. As few choices as tell those cases from the others; the
 * choice that brings the finding's own subject is tried first. Where no one row of options tells them apart, it hangs on all
 * open choices, and `only_with` has up to three rows, as options_words says; else it stays empty.
 */
void options_tell(OptionCases *options, Finding *finding, CaseSet found, bool silent);

/**
 * The same words alone, and exactly: with these options it is found, with no others; "cold=box, or cold=ice and heat=stove"
 * where one row of choices does not tell. NULL where it would take more than three, or all cases are meant; of a sample, where
 * no options tell. `finding` may be NULL: no choice is tried first then.
 */
const char *options_words(OptionCases *options, const Finding *finding, CaseSet found);

#endif
