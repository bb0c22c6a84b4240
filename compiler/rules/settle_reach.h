/*
 * How far from an end of a range a finding is settled: number by number along a row of round ones, by halving or by drawing a
 * line through two margins. Private to settle_range.c.
 */
#ifndef GARBOARD_RULES_SETTLE_REACH_H
#define GARBOARD_RULES_SETTLE_REACH_H

#include "rules/settle_row.h"
#include "rules/settle_try.h"

typedef struct Search {
    Try *try;
    const Value *value;
    const Model *model;
    bool in_parts; /* whether every value of a stretch has to settle it, and not all of it at once */
    double most; /* in SI: the schema lets nobody state more; infinite if it does not */
    Row row;
    Str currency; /* of money: that it is written in */
} Search;

/* An end of the row, and how far from it the finding is settled. */
typedef struct End {
    int at;
    Told told;
    double worst, best; /* margins there */
    int reach;
    int from; /* all beyond it is settled: from there on values are tried */
    bool by_values; /* no stretch of it was settled whole: see reach_by_values */
    double whole;   /* the margin of the whole stretch up to there, once it is refined; else not a number ... */
    double beyond;  /* ... and the next round number, in SI, up to which it did not go */
} End;

/** What the rule says of all that lies between two numbers of the row, told by their places. */
Told reach_tell(Search *search, int a, int b);

/**
 * The number farthest from `outer` towards `no` up to which it is as wanted; `yes` lies between, and is so. Where two guesses
 * have not halved what lies between, the next one does.
 */
int reach_stretch(Search *search, Told wanted, double outer, int yes, int no, double at_yes, double at_no);

/** Whether it is told so of that value alone, in SI; where no value can stand, nothing speaks against it. */
bool reach_is_so_at(Search *search, Told told, double si);

/** The same of some values evenly between both ends; from the only end that is a number on, up to thrice that. */
bool reach_is_so_between(Search *search, Told told, double low, double high);

/** An end before it reaches anywhere. A side without bound has no value there: the last stretch of the row stands for it. */
End reach_begin(Search *search, bool upper);

/** From its end on towards the place `no`, where it falls short by at_no. */
void reach_out(Search *search, End *end, int no, double at_no);

/**
 * All of a long range at once is reckoned wider than it is: where all from a number on is settled, and so is a stretch that
 * ends at that number, both together are.
 */
void reach_on(Search *search, End *end, int no);

/**
 * Where even the next part is reckoned too wide, as with the size of a bank, by which all goes that is in it: the limit is sought
 * value by value, and what lies between there and the last whole part is asked at some of them.
 */
void reach_by_values(Search *search, End *end, int no);

/** Where the numbers stand far apart, reaches on along closer ones. Beyond the limit of the other end little is lacking. */
void reach_refine(Search *search, End *end, const End *other);

/**
 * The same value by value, where the number there is farther on the wanted side by itself than all of the stretch up to it: that
 * is reckoned wider than it is, and may end too soon.
 */
void reach_further(Search *search, End *end);

/** What is broken ends where it begins to hold: nearly always the next number, and else not far from there. */
void reach_to(Search *search, End *end, const End *other);

/**
 * The number that is told is one that the owner may write: it has to be so by itself. It need not be, though all from
 * there on is: what is met exactly there hangs on rounding, and of a range without an end no bound stands for a number.
 */
void reach_hold(Search *search, End *end);

#endif
