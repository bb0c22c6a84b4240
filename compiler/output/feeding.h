/*
 * Feeds as tables of cables, fuses and parts lists show them: one way to read what both kinds of feed state.
 *
 * Knows the model and the figures of a feed; computes nothing, and prints only a protection in words.
 */
#ifndef GARBOARD_OUTPUT_FEEDING_H
#define GARBOARD_OUTPUT_FEEDING_H

#include "figures/figure.h"

/** Whether a feed has a cable of its own that is aboard, its ends known. */
bool feeding_is_listed(const Feed *feed);

bool feeding_is_alternating(const Feed *feed);

/** Its figure, or NULL. */
const Figure *feeding_figure(const Figures *figures, const Feed *feed, FigureId id);

/* What protects a cable. */
typedef enum Guarding {
    GUARDED_HERE,     /* a device of its own, stated or left to Garboard as `?` */
    GUARDED_UPSTREAM, /* the nearest one on the way up, which is small enough for it */
    GUARDED_NOT,      /* nothing does, as far as is known: a rule tells */
    GUARD_NOT_ASKED,  /* it cranks an engine */
} Guarding;
Guarding feeding_guarding(const Figures *figures, const Feed *feed);
/** "16 A of shore": the device upstream; only for GUARDED_UPSTREAM. */
void feeding_write_upstream(Buf *to, const Figures *figures, const Feed *feed);

/** The rating that Garboard chose for its protection where that is `?`, or NULL. */
const Figure *feeding_chosen_protection(const Figures *figures, const Feed *feed);

/** A stated quantity in SI; false if it is not stated or broken. */
bool feeding_value(const Feed *feed, PropId prop, unsigned slot, Interval *value);

/** How many conductors are laid as one; 1 if nothing is said. */
Interval feeding_parallel(const Feed *feed);

/** The feed's own name: the thing that states it, with the other end behind `@` where it has several. */
void feeding_write_name(Buf *to, const Model *model, const Feed *feed);

/**
 * A `protect` or `protect-output` line in words, without where it sits: "30 A breaker hydraulic, interrupts 6
 * kA". A property that is NULL or broken gives nothing.
 */
void feeding_write_protection(Buf *to, const Model *model, const Property *protect);

#endif
