/*
 * The working of a figure: which input each `{label}` of its formula stands for.
 */
#ifndef GARBOARD_FIGURES_WORKING_H
#define GARBOARD_FIGURES_WORKING_H

#include "figures/figure.h"

/*
 * The k-th different label stands for the k-th input. Where there are more inputs than labels, one that a recipe used
 * before is passed over: where its label stands in the formula again, or where the next label does not name it. Inputs
 * that have no label come behind.
 * Of a figure that waits for a mistake, a label stands for the input that has its name, or for none.
 */
typedef struct Working {
    const Input **inputs; /* of the labels, and then the different ones that are left */
    uint16_t input_count;
    Str *labels;          /* the different ones that an input is left for */
    uint16_t label_count;
} Working;

Working working_of(Arena *arena, const Figure *figure);
/** The next `{label}` from *at on, and the text before it; *at is moved behind it. False at the end. */
bool working_next_label(const char **at, Str *before, Str *label);
/** The input that a label stands for; NULL: none is left for it. */
const Input *working_input(const Working *working, Str label);

#endif
