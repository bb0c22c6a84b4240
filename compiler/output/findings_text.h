/*
 * `check` on a terminal: first the mistakes in the spec, then the findings, in the order of the text, last
 * the summary.
 *
 * Advice is held back, and said to be, while there are mistakes: it only gets in the way then. What is waived
 * is counted. It prints what was judged and judges nothing.
 */
#ifndef GARBOARD_OUTPUT_FINDINGS_TEXT_H
#define GARBOARD_OUTPUT_FINDINGS_TEXT_H

#include "rules/outcome.h"
#include "text/snippet.h"

void findings_text(Buf *to, const Outcome *outcome, Colour colour);

/** The mistakes alone, without a summary. */
void findings_text_mistakes(Buf *to, const Outcome *outcome, Colour colour);

/** The summary, without a line end: "2 faults, 5 warnings, 3 open, 1 waived; 4 could not be judged". */
void findings_summary(Buf *to, const Outcome *outcome);

/**
 * What the printed digits hide: that a value and its limit look equal and are not. False, and nothing, if
 * they differ.
 */
bool findings_look_equal(Buf *to, const Outcome *outcome, const Finding *finding);

#endif
