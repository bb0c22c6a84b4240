/*
 * What the files of the family rules_bilge share: the rule that is too long for its table's own file.
 */
#ifndef GARBOARD_RULES_BILGE_H
#define GARBOARD_RULES_BILGE_H

#include "rules/rule.h"

void judge_bilge_capacity(Judge *judge); /* bilge_capacity.c */

#endif
