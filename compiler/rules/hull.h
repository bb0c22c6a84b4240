/*
 * What the files of the family rules_hull share: the rules that are too long for its table's own file.
 */
#ifndef GARBOARD_RULES_HULL_H
#define GARBOARD_RULES_HULL_H

#include "rules/rule.h"

void judge_unlike_metals(Judge *judge, const Entity *thing); /* hull_metals.c */
void judge_anode_unfit(Judge *judge, const Entity *anode);   /* hull_metals.c */

void judge_unprotected_hull(Judge *judge);                   /* hull_metals.c */
void judge_gas_outlet(Judge *judge, const Entity *subject);    /* hull_outlets.c */
void judge_burner_outlet(Judge *judge, const Entity *fitting); /* hull_outlets.c */

/**
 * The gas locker that drains by a fitting, by its `serves` or by a hose, or the burner that breathes by it: nothing may shut it.
 * NULL: none.
 */
const Entity *kept_open(const Judge *judge, const Entity *fitting); /* hull_outlets.c */
/** What else runs out by such a fitting, which lets gas or fumes, or the sea, in by it; NULL: nothing, as it should be. */
const Entity *runs_out_too(const Judge *judge, const Entity *fitting); /* hull_outlets.c */
/** Such a fitting by which nothing else runs out. */
bool nothing_may_shut(const Judge *judge, const Entity *fitting); /* hull_outlets.c */

/** What an anode is made of for the water that she floats in, as far as the spec says: "zinc". */
const char *anode_metal(const Judge *judge); /* hull_metals.c */

#endif
