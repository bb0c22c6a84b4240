/*
 * `why`: the working of one figure, down to the lines of the spec, the tables and the assumptions that it
 * rests on.
 *
 *     galley.voltage-drop = 2.1 %
 *       share of the nominal voltage lost in its own cable, out and back
 *       = current x resistance / voltage
 *       = 5.2 A x 48 mohm / 12 V
 *       source: Ohm's law ...
 *       current = 5.2 A: galley.current
 *         = draw x count
 *         ...
 *         draw of lamps = 0.4 A, power.boat:48: draw 0.4 A
 *
 * A figure is worked out once; where it comes up again, the text points back. Where choices are open, the
 * working is that of the first combination of options, and the range over all of them is given too. It prints
 * and computes nothing.
 */
#ifndef GARBOARD_OUTPUT_WHY_H
#define GARBOARD_OUTPUT_WHY_H

#include "rules/outcome.h"

/**
 * The working of `wanted`: SUBJECT.FIGURE or SUBJECT.FIGURE@DAY; without `@DAY`, of every such figure. `boat`
 * is the boat, whatever her name. NULL, or (nothing is written then) a sentence that says what is wrong with
 * it, with near names.
 */
const char *why_text(Buf *to, const Outcome *outcome, Str wanted);

#endif
