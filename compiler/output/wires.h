/*
 * wires.csv: every cable of the boat's wiring, one row a feed with a cable of its own.
 *
 * Columns: feed, from, to, size, conductors, insulation_c, run_m (one way), length_m (out and back),
 * current_a, protection, drop_percent (of its own cable), colour, label, sized_by (spec or Garboard). Labels
 * come from names and hold no number of ours, so that one that is on a cable stays right. Values that are
 * ranges are texts: `3..5`. Of open choices, the first combination is shown.
 */
#ifndef GARBOARD_OUTPUT_WIRES_H
#define GARBOARD_OUTPUT_WIRES_H

#include "rules/outcome.h"

void wires_csv(Buf *to, const Outcome *outcome);

/**
 * The colours of a feed's conductors by the basis: "red; returning black or yellow". *source is whose they
 * are.
 */
const char *wires_colour(Arena *arena, const Feed *feed, Basis basis, const char **source);

/** What is written on the cable's label at both ends: "main-panel to galley". */
void wires_label(Buf *to, const Model *model, const Feed *feed);

#endif
