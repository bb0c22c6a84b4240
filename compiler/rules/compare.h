/*
 * The open choices side by side: what each option of a choice does to the boat, in rows of figures, counts of findings
 * and the owner's scores, which of them is best or worst in a row, and which is dominated by another.
 *
 * Each choice is compared on its own. A cell covers every combination of the other open choices that was computed; best
 * and worst are decided within each such combination, and hold only if they hold in all of them, whatever the values
 * turn out to be that are not decided yet. Rests on the outcome alone; writes nothing, but gives texts as figures do.
 */
#ifndef GARBOARD_RULES_COMPARE_H
#define GARBOARD_RULES_COMPARE_H

#include "rules/outcome.h"

typedef enum CompareBetter { COMPARE_NEITHER, COMPARE_LESS, COMPARE_MORE } CompareBetter;
typedef enum CompareMark { MARK_NONE, MARK_BEST, MARK_WORST } CompareMark;

typedef enum CompareState {
    COMPARE_ABSENT,  /* there is no such figure with this option */
    COMPARE_UNKNOWN, /* it cannot be computed, or is not scored */
    COMPARE_PARTLY,  /* known with some options of the other choices only: what is given covers those */
    COMPARE_KNOWN,
} CompareState;

typedef struct CompareCell {
    uint8_t state; /* CompareState */
    uint8_t mark;  /* CompareMark */
    Interval value; /* SI; of a count or a score the number */
    const char *text;   /* "3.91..4.5 d", "2..3", "4 of 5", "not known" */
    const char *remark; /* "`house` ends it", "without `stove`"; or NULL */
} CompareCell;

typedef struct CompareRow {
    const char *name;  /* for programs: "cost", "endurance@anchored", "house.daily-use@anchored", "score.mend" */
    const char *title; /* for people: "endurance on `anchored`" */
    uint8_t better;    /* CompareBetter */
    bool same;         /* surely the same with every option, decided or not */
    bool money;
    UnitPair unit;
    double most;        /* of the weighted sum: what can be had at most; else 0 */
    CompareCell *cells; /* one an option */
    struct CompareRow *next;
} CompareRow;

typedef struct CompareOption {
    const char *name, *title;
    const char *brings;   /* "`engine`, `mounts`": the things that stand in it; NULL if there is none */
    const char *sets;     /* "`propeller.pitch`": what it sets on other things; NULL if nothing */
    const char *unscored; /* the criteria that only other options have a score for; NULL */
    int32_t dominated_by; /* an option that is no worse in any row and better in one; -1 if there is none */
    const char *worse_in; /* then: the titles of those rows */
} CompareOption;

typedef struct CompareChoice {
    const Choice *choice;
    const char *name, *title;
    const char *others;   /* the other open choices: "`fuel`, `cooking`"; NULL if there is none */
    uint32_t tried;       /* in how many combinations of those it was compared; 0: in none */
    const char *unscored; /* the criteria that no option has a score for; NULL */
    CompareOption *options;
    uint32_t option_count;
    CompareRow *rows; /* none where nothing was tried */
} CompareChoice;

typedef struct Comparison {
    const Outcome *outcome;
    CompareChoice *choices; /* those that are open and have two options at least */
    uint32_t count;
} Comparison;

const Comparison *compare_compute(Arena *arena, const Outcome *outcome);

#endif
