/*
 * Trying values of one input on one finding: what the rule says with the input narrowed, in all cases that have the finding.
 * Private to settle*.c.
 */
#ifndef GARBOARD_RULES_SETTLE_TRY_H
#define GARBOARD_RULES_SETTLE_TRY_H

#include "model/trial.h"
#include "rules/options.h"
#include "rules/settle.h"

/** What is shared by all that is tried. */
typedef struct Settler {
    Outcome *outcome;
    Arena *scratch; /* for one recomputation */
    uint64_t work; /* things that may still be computed */
} Settler;

/* One case that has the finding. */
typedef struct TryCase {
    const Case *in;
    Trial trial;
    const Entity *looked_at;
    const Feed *looked_at_feed;
    uint32_t unjudged; /* what the rule could not judge there before, or left to another: a trial must not add to it */
    uint32_t others;   /* what it found of the same thing at other places before */
    uint32_t besides;  /* ... and about the same subject besides, in other matters */
    uint32_t graver;   /* ... of these, what was broken and as grave as the finding, or graver */
    uint32_t comparison; /* which of the rule's comparisons found it; 0: none did */
} TryCase;

/** What was said of a range in a case: a search over several cases asks again what one over a single case has asked. */
typedef struct Tried {
    uint32_t number; /* of the case */
    Told told;
    double low, high, worst, best;
} Tried;
enum { TRIED_MOST = 64, TRIED_BESIDE = 3 };

/** One finding and one input. */
typedef struct Try {
    Settler *settler;
    const Finding *finding;
    PropId prop;
    unsigned slot;
    bool put_in; /* the value is not stated: places may move */
    PropId beside[TRIED_BESIDE]; /* of other inputs that are set meanwhile, in trials of their own */
    uint32_t beside_count;
    bool all;    /* the finding is in every case: it can be broken for good */
    TryCase *cases;
    uint32_t case_count;
    bool chose;  /* some size was chosen anew: what a whole range says need not be so of each value in it */
    uint32_t asked; /* of these cases, so many are asked: one to search, all to be sure */
    double worst,
        best; /* of the last trial, in the cases that were asked: how far value is above limit at the worst and at the best;
                           not a number where the rule compares nothing; to begin with, as it is in the first case */
    double worst_before, best_before; /* as it is */
    double moves; /* how far a trial has moved them, at most */
    bool listens;     /* what is found is kept: */
    const char *said; /* what the last trial found; NULL: nothing */
    Tried tried[TRIED_MOST]; /* the last ones */
    uint32_t tried_count;    /* so many there have been */
} Try;

/** Where a value stands: `statement` 0 is the default, or one that is not stated. */
typedef struct Spot {
    const Entity *entity;
    PropId prop;
    NodeId statement;
    unsigned slot;
} Spot;

/** Lays the input open in every case that has the finding; false if that cannot be done. try_end in any case. */
bool try_begin(Try *try, Settler *settler, const Finding *finding, Spot spot);
void try_end(Try *try);

/** Whether a case that has not the finding was judged at all: what waits for a mistake, or cannot be judged, does not hold. */
bool case_is_judged(Settler *settler, const Finding *finding, const Case *in);

/** What the rule says of all values of a range: TOLD_NOTHING where it is broken, but less severe than the finding. */
Told try_range(Try *try, double low, double high);
/** As if it were tried once more, if what was said of it is remembered; else false, and nothing is tried. */
bool try_known(Try *try, double low, double high);
/** Whether the rule says that of such a range in every case but the first, which has been asked. */
bool try_others(Try *try, double low, double high, Told told);
/** What is found with that value in the first case; NULL: nothing. */
const char *try_said(Try *try, double value);
/** What it says of a word, or of yes and no. */
Told try_word(Try *try, Str word);
Told try_yes(Try *try, bool yes);
/** What is said of a finding that is broken and that severe. */
Told told_as(const Finding *finding, Severity severity);
/** Whether there is work left for another trial. */
bool try_may(const Try *try);

/** How far the last trial moved the margins of the first case; infinite where that is not known. */
double try_moved(const Try *try);
/** Of very many that a finding hangs on, keeps the heaviest (settle_weigh.c). */
void settle_sift(Settler *settler, Finding *finding);
/** Once they are tried: the heaviest first, and none that cannot matter. */
void settle_weigh(Finding *finding);

/** Tells as remedies of a broken finding from which value on of each of its `mends` it would hold (settle_mend.c). */
void settle_mends(Settler *settler, Finding *finding);
/** ", of each of the 2" behind a number of what stands several times and adds up; else "". */
const char *settle_of_each(Arena *arena, const Entity *entity, PropId prop);
/** Says which of what is assumed the faults and missed goals rest on (settle_assumed.c). */
void settle_assumed(Settler *settler);
/**
 * Ranges of a quantity that settle the finding (settle_range.c): stated so, as a range, each of them does. In parts: every value
 * of them does, but of all at once that may be reckoned too wide to tell.
 */
void settle_ranges(Try *try, Settle *settle, const Value *value, bool in_parts);

#endif
