/*
 * `figures`: every computed number, as text, JSON (docs/figures.schema.json) or CSV.
 *
 * Where choices are open, a figure is the interval that covers all options. `subject` is the name of the
 * thing whose figures are wanted, or empty for all; `boat` means the boat, whatever her name. It prints
 * numbers and computes none.
 */
#ifndef GARBOARD_OUTPUT_FIGURES_OUT_H
#define GARBOARD_OUTPUT_FIGURES_OUT_H

#include "rules/outcome.h"

void figures_text(Buf *to, const Outcome *outcome, Str subject);
void figures_json(Buf *to, const Outcome *outcome, Str subject);
/**
 * Columns: subject, figure, low, high, unit, shown, state, formula, inputs, source. low and high are in the
 * unit.
 */
void figures_csv(Buf *to, const Outcome *outcome, Str subject);

/** NULL if the subject is empty or names a thing; else a sentence that says so, with near names. */
const char *figures_subject_unknown(Arena *arena, const Outcome *outcome, Str subject);

/** The thing's name: the subject itself, or the boat's name for `boat`. */
Str figures_subject_name(const Outcome *outcome, Str subject);

/** A formula as it is read: `{current} x {resistance}` without its braces. NULL gives nothing. */
void figures_formula(Buf *to, const char *formula);

/** Of what a figure lacks: "not stated", or "not decided" where a thing states it and leaves it open. */
const char *figures_lacking(const Model *model, const Input *input);
/** What a fact is, in the units that the boat is stated in; its source tells it in its own. */
void figures_fact(Buf *to, const Model *model, const Fact *fact);

/** What an input is called: `house.capacity`, `wren.mass`, "resistance of 6 mm2 at 20 C". */
void figures_input_name(Buf *to, const Figures *figures, const Input *input);

#endif
