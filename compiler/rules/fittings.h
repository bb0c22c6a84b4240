/*
 * What the files of the family rules_fittings share: the rules that are too long for its table's own file.
 */
#ifndef GARBOARD_RULES_FITTINGS_H
#define GARBOARD_RULES_FITTINGS_H

#include "rules/rule.h"

void judge_life_jackets(Judge *judge); /* fittings_safety.c */
void judge_throwable(Judge *judge);
void judge_distress_signals(Judge *judge);

#endif
