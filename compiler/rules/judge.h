/*
 * What the files of judging share: judge.c makes findings, judge_depends.c looks for what they hang on,
 * judge_unmeasured.c counts what cannot be judged. For these alone: what rules may ask stands in rule.h.
 */
#ifndef GARBOARD_RULES_JUDGE_H
#define GARBOARD_RULES_JUDGE_H

#include "rules/rule.h"

/* So deep the inputs of figures are followed. */
enum { DEEPEST_INPUT = 24 };

/** To a list of what a finding hangs or rests on; NULL if that is too much already. `property` as for property_name. */
Depend *add_depend(Judge *judge, Depend **list, const Entity *entity, PropId prop, const Property *property);
/** Notes at a finding what a side of its comparison hangs and rests on; nothing where only verdicts are wanted. */
void look_at_side(Judge *judge, Finding *finding, const Side *side);

/**
 * Counts a comparison of which this side is missing, or rests on a mistake, and notes which properties it lacks
 * (judge_unmeasured.c).
 */
void cannot_judge(Judge *judge, const Side *side);

#endif
