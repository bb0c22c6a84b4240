/*
 * What the rules of water, waste, hull and bilge share: asking whether something is so without a finding,
 * leaving a finding open, and the way that water takes through hoses, pumps and toilets.
 */
#ifndef GARBOARD_RULES_PLUMBING_H
#define GARBOARD_RULES_PLUMBING_H

#include "figures/water.h"
#include "rules/rule.h"

/* Asking: for the conditions under which a rule applies. */

typedef enum Answer {
    ANSWER_NO,
    ANSWER_PERHAPS, /* something that it hangs on is not decided */
    ANSWER_YES,
    ANSWER_UNKNOWN, /* a side is missing, or rests on a mistake */
} Answer;

/** Whether value >= limit, by the judge's own comparison. */
Answer ask_at_least(const Judge *judge, Side value, Side limit);

/** A word that a thing states: STATE_MISSING if it states none, STATE_WAITING if there is a mistake in it. */
State stated_word(const Entity *entity, PropId prop, Str *word);
/** Whether a thing states a property in which there is a mistake. */
bool has_mistake(const Entity *entity, PropId prop);

/* Saying */

/** Leaves a finding open, for it hangs on something that the spec does not state: "hose.vent-loop". */
void finding_hangs_on(Judge *judge, Finding *finding, const Entity *entity, PropId prop, const char *what);
/** Leaves a finding open because this property is not stated. */
void finding_left_open(Judge *judge, Finding *finding, const Entity *entity, PropId prop);
/** A number rounded up to two digits, as it may be typed: "0.42 m". */
const char *say_up(const Judge *judge, double si, UnitPair unit);
/** Notes that the heel was assumed, if it was. */
void note_heel(Judge *judge, Finding *finding);

/* Heights */

/** How far up the hull the water comes at a thing when she heels: its own figure, else the boat's. */
Side waterline_at(const Judge *judge, const Entity *thing);
/** The height from which a through-hull, a loop or a bilge outlet is clear of the sea. */
Side least_height(const Judge *judge, const Entity *thing);

/* The way of the water */

/* From a thing to the next. hose is NULL where the spec states the way (`to`, `from`) and no hose. */
typedef struct Way {
    const Entity *to;
    const Entity *hose;
    struct Way *next;
} Way;

typedef struct Loop {
    const Entity *loop; /* the vent-loop */
    struct Loop *next;
} Loop;

typedef struct Plumbing {
    Way **ways;           /* by Entity.index: where the water goes from there */
    uint32_t *hoses_from; /* by Entity.index: how many hoses begin at it ... */
    uint32_t *hoses_to;   /* ... and end at it */
    Loop **loops;         /* by Entity.index of a hose: the vented loops on it */
    bool states_loops;    /* the spec has vented loops at all */
    bool lost_loops;      /* the hose of some vented loop is a mistake */
    bool lost_hoses;      /* an end of some hose is a mistake */
} Plumbing;

/** The plumbing of the model, in the judge's arena. */
Plumbing plumbing_make(const Judge *judge);
/** The two ends of a hose; false if one of them is a mistake. */
bool hose_ends(const Entity *hose, const Entity **from, const Entity **to);

#endif
