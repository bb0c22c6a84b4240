/*
 * What the files of the family rules_buying share: the rules that are too long for its table's own file.
 */
#ifndef GARBOARD_RULES_BUYING_H
#define GARBOARD_RULES_BUYING_H

#include "rules/rule.h"

/** Something that is bought: whether what is known of it is as exact as a thing that is here. */
void look_read_off(Judge *judge, const Entity *thing); /* buying_undecided.c */
/** What is ordered, or to be bought, from a supplier who has closed, and what was lost. */
void judge_supplier_closed(Judge *judge); /* buying_lost.c */
/** The day on which a supplier has closed, today at the latest; NULL: that is open, or nobody says. */
const Property *closed_line(const Judge *judge, const Entity *supplier);
/** Lost, and nothing says what was paid for it. */
bool is_lost_unsaid(const Entity *thing);
/** A goal's budget against all that she costs, and what was paid in vain. */
void judge_over_budget(Judge *judge, const Entity *goal); /* buying_budget.c */
/** What came back beyond what was paid is in no sum. */
void judge_refund_over(Judge *judge);

#endif
