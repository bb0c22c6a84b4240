/* A day of days.h run as days_lasting.c needs it. */
#ifndef GARBOARD_PHYSICS_DAYS_RUN_H
#define GARBOARD_PHYSICS_DAYS_RUN_H

#include "physics/days.h"

enum { DAY_ALL = DAY_BANKS };

typedef struct DayManner {
    int to_its_end;   /* the bank that is run to its end, which is not empty before: it has no floor; DAY_ALL; negative: none */
    int balanced;     /* the bank whose balance is asked for: see day_balance_c; negative: none ... */
    double filled_to; /* ... and up to where another's charge fills it */
} DayManner;

static const DayManner day_as_usual = {.to_its_end = -1, .balanced = -1, .filled_to = 1.0};

/** day_run in such a manner. Of a balance, what is told of other banks counts only where some charge one another. */
void day_run_as(const DayPlan *plan, DayManner manner, DayCharge charge[], DayBankTally tally[]);

#endif
