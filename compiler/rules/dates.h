/*
 * Dates and days as findings say them. Text in the judge's arena.
 */
#ifndef GARBOARD_RULES_DATES_H
#define GARBOARD_RULES_DATES_H

#include "rules/rule.h"

/** "2027-03-12" */
const char *say_date(const Judge *judge, Date date);
/** "1 day", "17 days" */
const char *say_days(const Judge *judge, int days);

#endif
