/*
 * Banks through days, in steps of a quarter of an hour: what their loads take, what their sources offer, what they
 * accept, and what one charges another with.
 *
 * A day is made of tables of 96 mean currents, filled beforehand, so that a step is a few additions. Currents are in A at
 * the bank's own voltage, charge in C, times in s, states of charge as shares from 0 to 1. Steps begin at midnight. Knows
 * numbers; no loads, no sun, no spec. Nothing is allocated.
 *
 * Which way each input leans: a bank ends a step no lower with more of its sources, capacity, charge efficiency,
 * acceptance or charge at the beginning, and no higher with more of its loads or a greater Peukert exponent. A bank that
 * charges another ends it no higher when that one is emptier, loses more in charging, or is larger.
 */
#ifndef GARBOARD_PHYSICS_DAYS_H
#define GARBOARD_PHYSICS_DAYS_H

#include "physics/battery.h"

#include <stdbool.h>

enum { DAY_STEPS = 96, DAY_BANKS = 16 };
#define DAY_SECONDS 86400.0
#define DAY_STEP_S (DAY_SECONDS / DAY_STEPS)

/**
 * Adds to each step the share of it that lies in a span of the day. from_s is 0..86400 from midnight, length_s 0..86400;
 * what passes midnight goes on at the beginning of the day. weight multiplies all.
 */
void day_add_span(double share[DAY_STEPS], double from_s, double length_s, double weight);

/* A bank, from day to day the same. */
typedef struct DayBank {
    BatteryModel model;
    double least_share; /* the usable limit */
} DayBank;

/* A bank's currents in one day. */
typedef struct DayTable {
    double load_a[DAY_STEPS];
    double offered_a[DAY_STEPS]; /* by its own sources together */
    double most_a;               /* the most charge that it may take that day: INFINITY, or less in the cold */
    double net_a[DAY_STEPS];     /* made by day_finish: sources less loads ... */
    double counted_a[DAY_STEPS]; /* ... and what a coulomb counter subtracts where that is negative */
} DayTable;

/** Makes net_a and counted_a from the rest. Whoever changes a table afterwards calls it again. */
void day_finish(DayTable *table, const BatteryModel *model);

/*
 * One bank charges another, while the sources of the giving one bring more than its loads take; it gives no more than
 * that surplus, and never from its own charge.
 */
typedef struct DayLink {
    int giver, taker; /* the giver comes first in the list of banks */
    double most_a;    /* into the taker */
    double ratio;     /* amperes taken from the giver for each that the taker gets: voltages and losses */
} DayLink;

/* A source, for telling what of its offer was refused: the last in the list is refused first. */
typedef struct DaySource {
    int bank;
    const double *offered_a; /* DAY_STEPS; part of the bank's offered_a */
} DaySource;

typedef struct DayPlan {
    int bank_count;
    const DayBank *banks;
    const DayTable *const *tables; /* one a bank */
    int link_count;
    const DayLink *links;
    int source_count;
    const DaySource *sources;
} DayPlan;

/* What came of one day, for one bank. All charges in C. */
typedef struct DayBankTally {
    double lowest_share; /* at the beginning or the end of a step */
    int lowest_step;     /* the number of steps passed then, 0..96 */
    double below_s;      /* when it first fell below its usable limit, from the day's beginning; negative: never */
    double kept_c;       /* charge that went in, after losses */
    double counted_c;    /* charge that went out, by Peukert, as far as there was any */
    double unserved_c;   /* what loads wanted of an empty bank, by Peukert */
    double refused_c;    /* offered and not taken */
    double passed_c;     /* given on to other banks */
    double received_c;   /* got from other banks */
} DayBankTally;

/**
 * Runs one day. share holds the states of charge, in and out. tally has bank_count entries; source_refused_c, which may
 * be NULL, has source_count entries and is added to.
 */
void day_run(const DayPlan *plan, double share[], DayBankTally tally[], double source_refused_c[]);

/** The same, which also keeps every bank's state of charge at the end of each step: bank after bank, DAY_STEPS of each. */
void day_trace(const DayPlan *plan, double share[], DayBankTally tally[], double trace[]);

/**
 * Runs such days from full until each bank has fallen below its usable limit; seconds, one a bank, are INFINITY for one
 * that never does. Where each day takes the same as the one before, those between are skipped, not run.
 */
void day_endure(const DayPlan *plan, double seconds[]);

/* The first two such days from full: what came of each, and the states of charge after it. */
typedef struct DayStart {
    DayBankTally tally[2][DAY_BANKS];
    double share[2][DAY_BANKS];
} DayStart;

/** Runs the first two days from full; source_refused_c, which may be NULL, is added to by the second. */
void day_start(const DayPlan *plan, DayStart *start, double source_refused_c[]);
/** day_endure of what has started so: those two days are not run again. */
void day_endure_from(const DayPlan *plan, const DayStart *start, double seconds[]);

/**
 * Charge in C that one bank gains or loses in a day that it begins halfway between full and its usable limit, all other
 * banks full. What loads want of an empty bank counts as lost.
 */
double day_balance_c(const DayPlan *plan, int bank);

#endif
