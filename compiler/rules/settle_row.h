/*
 * The round numbers of a range: what is tried along it, and printed. Private to settle*.c.
 */
#ifndef GARBOARD_RULES_SETTLE_ROW_H
#define GARBOARD_RULES_SETTLE_ROW_H

#include "model/model.h"

enum { ROW_MOST = 512 };

/** `at` in SI, rising; the first and the last are the ends of the range. */
typedef struct Row {
    double at[ROW_MOST];
    int count;
    bool close; /* its numbers stand as close as they are printed */
    double written; /* of money: by what an amount in the boat's currency is multiplied to be as the owner writes it */
} Row;

/** A number as the owner writes it, of one in SI. */
double row_number(const Row *row, const Value *value, double si);

/**
 * The whole range of a value: round in the unit of the value, and what can be: sizes that are made, whole counts. Of one
 * without an upper bound up to `most`, in SI, which may be infinite.
 */
void row_lay_out(Row *row, const Value *value, PropId prop, double most);

/** Part of it, in steps of one, ten, a tenth ... of the value's unit. */
void row_lay_out_steps(Row *row, const Value *value, double low, double high, bool whole);

/**
 * Between `yes` and `no`, told as places in the row, at which a rule says something and something else by so much: the place
 * where a line through both comes to nought. Half way where the row rises unevenly, or where it is not known by how much.
 */
int row_guess(const Row *row, int yes, int no, double at_yes, double at_no);

#endif
