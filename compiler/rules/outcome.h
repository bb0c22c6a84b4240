/*
 * The outcome of a compilation: every model that it takes to cover the open choices, with its figures, and the findings
 * of all of them as one list. Outputs read this and nothing before it.
 */
#ifndef GARBOARD_RULES_OUTCOME_H
#define GARBOARD_RULES_OUTCOME_H

#include "model/build.h"
#include "rules/rule.h"

/** So many combinations of open choices are judged one by one; of more, a sample: see outcome_compute. */
enum { OUTCOME_MOST = 64 };

typedef struct Case {
    const Model *model;
    const Figures *figures;
    const Judge *judge;
} Case;

typedef struct Outcome {
    Arena *arena;
    Spec *spec;
    Basis basis;          /* of the first case, and of all: that options differ in it is told as a mistake */
    Date today;
    bool strict;          /* warnings count as faults */
    Case *cases;          /* at least one, unless there is no boat at all */
    uint32_t case_count;
    bool sampled;         /* more combinations than OUTCOME_MOST: not all were judged */
    uint32_t unseen;      /* options that stand in no combination that was judged */
    struct OptionCases *options; /* which case takes which option; see options.h */
    bool settled;         /* settle_findings has looked at them */
    Finding *findings;    /* merged and sorted */
    uint32_t faults, warnings, advice; /* broken and not waived; faults that endanger count though they are waived */
    uint32_t open;        /* open, not waived */
    uint32_t waived;
    uint32_t waived_faults; /* of them: faults that count all the same */
    uint32_t unjudged;    /* judgements that lack a property */
    uint32_t waiting;     /* judgements that wait for a mistake to be mended */
    uint32_t mistakes;    /* messages about the spec */
} Outcome;

/** Options from outside of the spec. basis < 0: the boat's own. */
typedef struct OutcomeRequest {
    int basis;
    Date today;
    bool strict;
} OutcomeRequest;

/**
 * Builds, computes and judges: every combination, or of more than OUTCOME_MOST those that spec_cover samples, and where it
 * tries each option alone those with the least and the greatest cost and mass, which add up over the choices.
 */
Outcome *outcome_compute(Arena *arena, Spec *spec, OutcomeRequest request);

/** Whether a finding is a fault that endangers somebody and that a waiver sets aside: on paper, for it counts all the same. */
bool outcome_counts_though_waived(const Finding *f);
/** Whether anything counts as a fault: for the exit status. */
bool outcome_is_broken(const Outcome *outcome);

/** The case that single-valued outputs show: the first. */
static inline const Case *outcome_first(const Outcome *outcome)
{
    return &outcome->cases[0];
}

/** The cases that have a thing of that name: bit i is case i. Of what only some options bring, no other can say anything. */
uint64_t outcome_cases_with(const Outcome *outcome, const Entity *thing);
/** A figure over all cases: the interval that covers it, the remarks of all. False if it is not known in any. */
bool outcome_figure(const Outcome *outcome, Str subject, FigureId id, Str at, Figure *merged);
/** The same over some of the cases: bit i is case i. */
bool outcome_figure_in(const Outcome *outcome, uint64_t cases, Str subject, FigureId id, Str at, Figure *merged);

#endif
