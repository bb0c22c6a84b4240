/*
 * Whether what is computed of exact values lies within what is computed of ranges: figures, findings.
 *
 * The oracle is the arithmetic of exact values, which never sees an interval. What does not hold is told on standard error, as
 * of the spec of that number, and counted.
 */
#ifndef TESTS_WITHIN_H
#define TESTS_WITHIN_H

#include "compile.h"

/** NOT_READ: the schema's own limit, which the printed digits may pass by a hair. */
typedef enum Verdicts { NOTHING_FOUND, FOUND_OPEN, FOUND_BROKEN, NOT_READ } Verdicts;

/** Told one after the other, so that one run shows what there is; the test fails at its end if any was told. */
void tell(const char *format, ...) __attribute__((format(printf, 1, 2)));
/** So many were told. */
int told(void);

/** Figures of an exact spec against those of ranges; so many were compared. */
unsigned compare_figures(int spec, const Compiled *ranges, const Compiled *exact);
/** The same of findings. */
unsigned compare_findings(int spec, const Compiled *ranges, const Compiled *exact);
/** A size that the program chooses is not too small for its own rules, but where it says that none was found. */
void check_chosen_sizes(int spec, const Compiled *exact);

/**
 * Whether what was drawn makes a mistake of its own: such a value is none of those that the ranges leave possible, and what
 * rests on it waits. (There may be as many of them all the same, if it mended another.)
 */
bool has_other_mistake(const Compiled *ranges, const Compiled *exact);

/** What c says of a finding of another spec: on its line; or on another, where there are no fewer of them than before. */
Verdicts verdict_there(const Compiled *c, const Compiled *of, const Finding *finding);
/** "wire-drop on lamp@-: its message", for whoever reads what was told. */
const char *finding_name(const Compiled *c, const Finding *finding);

#endif
