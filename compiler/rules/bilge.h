/*
 * What the files of the family rules_bilge share: rules that are too long for its table's own file.
 */
#ifndef GARBOARD_RULES_BILGE_H
#define GARBOARD_RULES_BILGE_H

#include "rules/ask.h"

#define US_AUTHORITY "46 CFR 182.520, a benchmark from small passenger vessels,"

void judge_bilge_capacity(Judge *judge); /* bilge_capacity.c */
/** Notes of each pump of a sort what it really moves, and why that is less than its plate says. */
void note_pumps(Judge *judge, Finding *finding, bool (*is_sort)(const Entity *));
/** The same of those that the water of a well reaches; NULL: of all. */
void note_pumps_of(Judge *judge, Finding *finding, bool (*is_sort)(const Entity *), const Entity *well);
/** Part of bilge-capacity: no pump at all is stated (bilge_systems.c). */
void judge_no_pump(Judge *judge);
/**
 * The same: iso asks for two pumps, however they are worked, in each well of hers. Whether they may be there; what falls short
 * or may is told.
 */
bool judge_two_pumps(Judge *judge, const Figure *need);
void judge_bilge_outlet(Judge *judge, const Entity *pump); /* bilge_outlet.c */
void judge_bilge_valve(Judge *judge, const Entity *pump);
void judge_bilge_check(Judge *judge, const Entity *pump);

#endif
