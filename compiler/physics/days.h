/*
 * Banks through days, in steps of a quarter of an hour: what their loads take, what their sources offer, what they
 * accept, and what one charges another with.
 *
 * A day is made of tables of 96 mean currents, filled beforehand, so that a step is a few additions. What runs for a part of a
 * step alone counts there at its own current (DayBurst), not at the mean: in what Peukert withholds, and in what the bank takes
 * of what charges it. It is taken to begin with its step, so that with more of it, or for longer, nothing flows less at any moment.
 * Of a bank that passes something on to another the latter goes by means, of one that is charged by another bank both do: what
 * comes and goes between banks is no more than a mean. Currents are in A at
 * the bank's own voltage, charge in C, times in s, states of charge as shares from 0 to 1. Steps begin at midnight. Knows
 * numbers; no loads, no sun, no spec. Nothing is allocated.
 *
 * Charge is counted in coulombs: what goes out is what has to be put back. Peukert's law says how much of it can be had at a
 * current, not that the rest were lost: while a bank is drawn from faster than at its rate, what a counter by that law would
 * subtract beyond the coulombs is withheld; it is there again as soon as the bank rests, is charged, or gives no more than its
 * rate. A steady current from full so comes to its end when Peukert says. Usable limits, the lowest charge and what others may
 * ask of a bank go by what can be had; what it takes, keeps and gains goes by the charge alone.
 *
 * Which way each input leans: let the lack of a bank be the charge by which it is not full, and its shortage that lack and what
 * is withheld. It ends a step with no greater lack when it began with no greater one and has more of its sources, charge
 * efficiency or acceptance, and with no smaller one when it has more loads. (In a step charge rises by the least of what is
 * offered, what is taken at that lack and the lack itself; each of the three leaves the order as it is.) The same holds of its
 * shortage, which grows besides with what is counted by Peukert: where the better of two banks is drawn from so fast that some is
 * withheld, so is the worse, which gives no less and has no higher rate; and where that comes back to the worse, it has come back
 * to the better, and the lacks decide.
 *
 * Bounds. Where inputs are open, one plan is run with everything at its worse end and one with everything at its better one.
 * Sizes lean both ways: a larger bank is counted less by Peukert and takes more at the same lack, but a given share of it is
 * more charge, and it may lack more. So each plan takes what suits it of both ends of a size (DayBounds): the worse counts
 * and charges as the smallest, lets the lack grow up to the largest, and tells it as a share of the smallest. And what one
 * bank draws from another, or what is refused, leans against the rest of a plan: it is reckoned with the other end.
 */
#ifndef GARBOARD_PHYSICS_DAYS_H
#define GARBOARD_PHYSICS_DAYS_H

#include "physics/battery.h"
#include "physics/day_capped.h"

#include <stdbool.h>

enum { DAY_STEPS = 96, DAY_BANKS = 16 };
#define DAY_SECONDS 86400.0
#define DAY_STEP_S (DAY_SECONDS / DAY_STEPS)

/**
 * Adds to each step the share of it that lies in a span of the day. from_s is 0..86400 from midnight, length_s 0..86400;
 * what passes midnight goes on at the beginning of the day. weight multiplies all.
 */
void day_add_span(double share[DAY_STEPS], double from_s, double length_s, double weight);

/* Of a bank in a plan that bounds others; all of it as in `model` where nothing is open. */
typedef struct DayBounds {
    double other_least_share; /* the usable limit at the other end */
    double told_coulomb;    /* its lack is told as a share of this */
    double counted_coulomb; /* loads are counted as if it were so large */
    double floor_share;     /* no boat's bank falls below this share, being empty then */
    double acceptance_a, taper_begins, tail_a; /* what it takes at the other end: see battery.h */
    double other_larger; /* of one that is as at one end of its size: by how much of that the other end is larger */
    bool capped, other_capped; /* what it takes, here or at the other end, is the least of these: */
    DayCapped sizes;
} DayBounds;

/* A bank, from day to day the same. Shares are those of model.capacity_coulomb; day_told gives what they tell. */
typedef struct DayBank {
    BatteryModel model;
    double least_share; /* the usable limit */
    DayBounds bounds;   /* of plans with `bounds` */
} DayBank;

/* A bank at one moment, in shares of model.capacity_coulomb. */
typedef struct DayCharge {
    double share;    /* how much of its charge is there */
    double withheld; /* and how much of that cannot be had as long as it is drawn from so fast */
} DayCharge;

static const DayCharge day_full = {.share = 1.0};

/** The state of charge that a share of a bank tells, in a plan that bounds others. */
double day_told(const DayBank *bank, double share);
/** The share with which a bank begins that is told to have so much, in a plan that bounds others. */
double day_begun(const DayBank *bank, double told);

/* What flows for a part of a step alone: at the beginning of it. */
typedef struct DayBurst {
    int step;
    int source;   /* its number in the plan; of a load negative */
    double share; /* of the step, above 0 and below 1 */
    double amps;  /* drawn from the bank; of a source negative */
} DayBurst;

/* A bank's currents in one day. */
typedef struct DayTable {
    double load_a[DAY_STEPS];
    double offered_a[DAY_STEPS]; /* by its own sources together */
    double most_a;               /* the most charge that it may take that day: INFINITY, or less in the cold */
    double other_most_a;         /* the same at the other end, in plans with `bounds` */
    const DayBurst *bursts;      /* what is in both above as a mean; by step, then by share */
    int burst_count;
    double net_a[DAY_STEPS];     /* made by day_finish: sources less loads ... */
    double withheld_a[DAY_STEPS]; /* ... and what Peukert's law counts beyond that where it is negative */
} DayTable;

/** Makes net_a and withheld_a from the rest; of model the size by which loads are counted. Whoever changes a table afterwards calls it again. */
void day_finish(DayTable *table, const BatteryModel *model);
/** The same of one that differs in some steps from a finished one, of the same model: faster. */
void day_finish_like(DayTable *table, const BatteryModel *model, const DayTable *like);

/*
 * One bank charges another, while the sources of the giving one bring more than its loads take; it gives no more than
 * that surplus. One that `drains` gives from the bank's own charge too, as far as the other's loads ask for it, and until that
 * one is full: down to the usable limit of the giving bank.
 */
typedef struct DayLink {
    int giver, taker; /* the giver comes first in the list of banks */
    double most_a;    /* into the taker */
    double ratio;     /* amperes taken from the giver for each that the taker gets: voltages and losses */
    double other_most_a, other_ratio; /* by which the giver is drained, in plans with `bounds` */
    bool drains;
    double carry_ratio; /* of such a one, as ratio, for what comes out of the giver's charge */
} DayLink;

/** Puts a burst among `count` others where it belongs; there is room for it. Nothing where it is none. Returns how many there are. */
int day_add_burst(DayBurst bursts[], int count, DayBurst burst);
/** In which part of the first and of the last step of a span it lies, where that is not the whole of it: up to two, without current. */
int day_edges(double from_s, double length_s, DayBurst edges[2]);

/* A source, for telling what of its offer was refused: the last in the list is refused first. */
typedef struct DaySource {
    int bank;
    const double *offered_a; /* DAY_STEPS; part of the bank's offered_a */
    const double *other_a;   /* the same at the other end, in plans with `bounds` */
} DaySource;

typedef struct DayPlan {
    int bank_count;
    bool bounds; /* some of it is open, and this is one end of it */
    const DayBank *banks;
    const DayBank *alone; /* each as it is at that end of its own size: for day_balance_c; NULL: as in banks */
    const DayTable *const *tables; /* one a bank */
    int link_count;
    const DayLink *links;
    int source_count;
    const DaySource *sources;
} DayPlan;

/* What came of one day, for one bank. All charges in C. */
typedef struct DayBankTally {
    double lowest_share; /* that could be had, at the beginning or the end of a step */
    int lowest_step;     /* the number of steps passed then, 0..96 */
    double below_s;      /* when what could be had first fell below its usable limit, or could not give others what they wanted above it,
                            from the day's beginning; negative: never */
    double kept_c;       /* charge that went in, after losses */
    double out_c;        /* charge that went out, as far as there was any */
    double unserved_c;   /* what loads wanted of an empty bank */
    double refused_c;    /* offered and not taken */
    double passed_c;     /* given on to other banks ... */
    double drained_c;    /* ... and what of it came out of its own charge */
    double received_c;   /* got from other banks */
} DayBankTally;

/**
 * Runs one day. charge holds the states of charge, in and out. tally has bank_count entries; source_refused_c, which may
 * be NULL, has source_count entries and is added to.
 */
void day_run(const DayPlan *plan, DayCharge charge[], DayBankTally tally[], double source_refused_c[]);

/** What links carry in each step, link after link, DAY_STEPS of each: into the taker, and out of the giver. */
typedef struct DayCarried {
    double *brings_a, *takes_a;
} DayCarried;

/** The same, which also keeps every bank's charge that can be had, as it is told, at the end of each step: bank after bank,
 * DAY_STEPS of each; and sets what links carry. */
void day_trace(const DayPlan *plan, DayCharge charge[], DayBankTally tally[], double trace[], DayCarried carried);

/**
 * Runs such days from full until each bank has fallen below its usable limit; seconds, one a bank, are INFINITY for one
 * that never does. Where each day takes the same as the one before, those between are skipped, not run.
 */
void day_endure(const DayPlan *plan, double seconds[]);

/* The first two such days from full: what came of each, and the states of charge after it. */
typedef struct DayStart {
    DayBankTally tally[2][DAY_BANKS];
    DayCharge charge[2][DAY_BANKS];
} DayStart;

/** Runs the first two days from full; source_refused_c, which may be NULL, is added to by the second. */
void day_start(const DayPlan *plan, DayStart *start, double source_refused_c[]);
/** day_endure of what has started so: those two days are not run again. */
void day_endure_from(const DayPlan *plan, const DayStart *start, double seconds[]);

/**
 * Charge in C that one bank gains in a day that it begins halfway between full and its usable limit, all other banks full. If
 * it loses: what it gains where it begins as empty as lets it stay above the limit, for then it takes most, but no more than 0:
 * days like that come to rest. What loads want of an empty bank counts as lost. It gains nothing out of the charge of
 * another bank, and loses nothing that this makes good; it gives what other banks ask of it, whatever it has left, and those
 * begin as such a day leaves them.
 */
double day_balance_c(const DayPlan *plan, int bank);

#endif
