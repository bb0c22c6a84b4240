/*
 * From the findings of several cases to one list.
 *
 * A finding stands once, whatever options bring it: broken only if it is broken in each case, else open, and hanging on
 * the choices that tell the cases apart. Its cases may have different things to say of it: one engine is too much for the
 * propeller, and another too little. Each reading is then told with its options.
 */
#ifndef GARBOARD_RULES_MERGE_H
#define GARBOARD_RULES_MERGE_H

#include "rules/outcome.h"

/** Fills Outcome.findings from the judges of its cases. */
void findings_merge(Outcome *outcome);

#endif
