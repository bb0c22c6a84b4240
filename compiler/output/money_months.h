/*
 * Money by the month in which it is due, over all cases. docs/computing.md tells the rule, under "Mass and money".
 *
 * It adds up prices as the shopping list does, in the boat's currency; must not know how they are printed.
 */
#ifndef GARBOARD_OUTPUT_MONEY_MONTHS_H
#define GARBOARD_OUTPUT_MONEY_MONTHS_H

#include "rules/outcome.h"

typedef enum MoneyDue {
    DUE_CAME,     /* for what has come: taken as paid */
    DUE_OWED,     /* for what is on order */
    DUE_TO_ORDER, /* for what is still to buy */
    DUE_KINDS
} MoneyDue;

typedef struct MoneyMonth {
    int year, month;        /* 0: nothing says a day */
    Interval of[DUE_KINDS]; /* over all cases */
    Interval in_case[DUE_KINDS];
    struct MoneyMonth *next; /* a later one; the one without a day is last */
} MoneyMonth;

MoneyMonth *money_months(Arena *arena, const Outcome *outcome);

#endif
