/*
 * What would settle an open finding: for each undecided thing that it hangs on, the values of that one thing from which on
 * the rule holds, or is broken, whatever the others turn out to be.
 *
 * It is found by trying: one input is narrowed, everything else is left as undecided as it is, the figures that can change
 * are computed again, and the rule is judged again. What is printed was tried just so, after rounding. It knows no rule and
 * no figure by name. What moves the comparison most stands first, and what moves it next to nothing is not told.
 */
#ifndef GARBOARD_RULES_SETTLE_H
#define GARBOARD_RULES_SETTLE_H

#include "rules/outcome.h"

typedef enum SettleState {
    SETTLE_FOUND,     /* by the ranges and words below */
    SETTLE_NOT_ALONE, /* none of the values that were tried settles it: see settle_findings */
    SETTLE_NO_VALUE,  /* no quantity, word or yes and no: a thing that is missing, a name, a text */
    SETTLE_NOT_TRIED, /* there was too much to compute */
} SettleState;

/* What is said of a finding with some value. */
typedef enum Told {
    TOLD_NOTHING, /* that alone does not tell */
    TOLD_HOLDS,
    TOLD_BROKEN,  /* as severe as the finding says, or ... */
    TOLD_FAULT,   /* ... less or more severe than that */
    TOLD_WARNING,
    TOLD_ADVICE,
    TOLD_OPEN,    /* of an option: open, with whatever else is decided by the other choices */
} Told;

typedef struct SettleRange {
    Interval value; /* SI; a side may be infinite */
    bool holds;     /* else broken */
} SettleRange;

typedef struct SettleWord {
    Str word; /* an option, a word, `yes` or `no` */
    Told told;
    struct SettleWord *next;
} SettleWord;

enum { SETTLE_RANGES = 3 };

/** What one input can do to one finding. */
typedef struct Settle {
    const Depend *of; /* what it is told of */
    double moves;     /* how far it moves what is compared, at most; infinite: not known, or without bound */
    const char *
        input; /* "fresh-tank.capacity", "engine-size"; with its value where several of a property are undecided */
    SettleState state;
    const char *text; /* "holds from 147 l up, broken up to 146 l"; "" unless SETTLE_FOUND */
    SettleRange ranges[SETTLE_RANGES];
    uint32_t range_count;
    UnitPair unit; /* of the ranges, as the owner writes them */
    bool money;
    bool parts;      /* every part of its range holds, and only the whole of it at once was too wide to tell: it is no finding */
    const char *broken; /* with each of its whole numbers it is broken: what is said then; NULL: that is not so */
    bool hole;       /* `?` stands there */
    SettleWord *words; /* in the order of the spec, or of the schema */
    struct Settle *next;
} Settle;

/**
 * So many things are computed again at most, over all findings of one spec: a recomputation counts as many as the boat has,
 * and each size that is tried in place of what is left to this program as SETTLE_WORK_OF_A_SIZE more, for it has days run.
 * What is left then is SETTLE_NOT_TRIED. A boat of so few things as a boat has gets all that it may ask for; a spec as long
 * as a book does not make its owner wait.
 */
enum { SETTLE_WORK = 100000, SETTLE_WORK_OF_A_BOAT = 1000000, SETTLE_WORK_OF_A_SIZE = 1000, SETTLE_BOAT = 1000 };

/**
 * Finds `settles` of every open finding that is not waived, and remedies of broken ones that say what may mend them, once. A range without bound is tried at round numbers up to a
 * million units. An input that settles nothing at either end of its range nor at three values between counts as
 * SETTLE_NOT_ALONE.
 */
void settle_findings(Outcome *outcome);

/** The one hole (`?`) of an open finding some values of which make it hold whatever else is undecided; NULL if there is not one. */
const Settle *settle_cause(const Finding *finding);

/**
 * Of the open findings that one hole causes, all but the one that leaves it least room are `told_with` that one: what makes
 * it hold makes them hold. Done by settle_findings; left alone where there are fewer than FOLD_LEAST of them.
 */
enum { FOLD_LEAST = 3 };
void settle_fold(Outcome *outcome);

#endif
