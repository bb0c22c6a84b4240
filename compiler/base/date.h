/*
 * Dates as days since 1970-01-01 in the Gregorian calendar. No clock, no time zone: "today" is handed in.
 */
#ifndef GARBOARD_BASE_DATE_H
#define GARBOARD_BASE_DATE_H

#include "base/buf.h"
#include "base/str.h"

#include <stdbool.h>
#include <stdint.h>

typedef int32_t Date; /* days since 1970-01-01 */

#define SECONDS_A_DAY 86400.0

/** Reads `2026-03-14`; false if it is not a day of the calendar (years 1000 to 9999). */
bool date_read(Str text, Date *date);
void date_write(Buf *buf, Date date);
Date date_of(int year, int month, int day); /* month 1..12, day 1..31; must exist */
void date_parts(Date date, int *year, int *month, int *day);
/** The day `months` months on, at most the last day of that month. */
Date date_add_months(Date date, int months);

#endif
