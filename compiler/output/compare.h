/*
 * `compare`: the open choices side by side, for people, for spreadsheets and for programs, and what the book says of
 * them in the same words. It prints what rules/compare.h gives and compares nothing.
 */
#ifndef GARBOARD_OUTPUT_COMPARE_H
#define GARBOARD_OUTPUT_COMPARE_H

#include "rules/compare.h"
#include "text/snippet.h"

/** A table a choice, an option a column. */
void compare_text(Buf *to, const Outcome *outcome, Colour colour);
/** A line for each cell. */
void compare_csv(Buf *to, const Outcome *outcome);
/** One document, described by docs/compare.schema.json. */
void compare_json(Buf *to, const Outcome *outcome);

/* Sentences that the terminal and the book share; names stand between backquotes. */

/** "51250.00 EUR, best; without `stove`" */
const char *compare_cell_words(Arena *arena, const CompareCell *cell);
/** What the columns cover; empty if there is nothing to say. */
const char *compare_covers(Arena *arena, const Comparison *comparison, const CompareChoice *compared);
/** The rows that are the same with every option, with their value, in one sentence; empty if there are none. */
const char *compare_same(Arena *arena, const CompareChoice *compared);
/** What the scores leave open; empty if nothing. */
const char *compare_unscored(Arena *arena, const CompareChoice *compared);
/** Which option is no better than another anywhere; empty if that is said of none. */
const char *compare_dominated(Arena *arena, const CompareChoice *compared);
/** What `best` and `worst` mean, and what is not compared. */
extern const char compare_note[];

#endif
