/*
 * What the words of a cell of a table say: a name of the language made out of them, how far buying has come, or that their row is
 * no thing but a sum of those above it. Pure functions of the text: no columns, no things.
 */
#ifndef GARBOARD_TOOLS_CELL_WORDS_H
#define GARBOARD_TOOLS_CELL_WORDS_H

#include "base/buf.h"

#include <stdbool.h>

/** Whether two texts are the same but for capitals. */
bool same_words(Str a, Str b);
/** Whether a text is one of several with a `|` between them. */
bool is_one_of_words(Str text, const char *words);

/** A name of the language out of any words: `Bilge pump, 12 V` makes `bilge-pump-12-v`; `otherwise` where there are no letters. */
Str cell_name(Arena *arena, Str words, const char *otherwise);

/** The status that people mean by it, as the language has it: `received` is `here`. NULL: none is meant for certain. */
const char *cell_status(Str words);

/** Whether a row so called is the list's own sum, or what has been paid of it. */
typedef enum CellSum {
    CELL_NO_SUM,
    CELL_SUM_PERHAPS, /* `Total flow meter`, `Total for the pump`: the word, and others that a thing may be called by */
    CELL_SUM,         /* `Total incl. VAT` */
} CellSum;

/** counted: the row has a count. */
CellSum cell_is_sum(Str words, bool counted);

#endif
