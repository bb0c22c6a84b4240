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
/** What starters behind it take through it for seconds; NULL: none, or it is a starter's own, whose current that is. */
const Figure *feeding_cranking(const Figures *figures, const Feed *feed);

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

/* The cables that join the batteries of a bank: in no row of a wire list, for they are as long as these stand apart. */
typedef struct BankLinks {
    Interval count;     /* from each battery of a string to the next, and two from each string to the next */
    const Figure *size; /* of the thickest cable at the bank, which they are no thinner than; NULL: not known */
} BankLinks;
/** False where the bank is one battery, or nobody says how several are joined. */
bool feeding_bank_links(const Figures *figures, const Entity *bank, BankLinks *links);

/**
 * The fuse at each battery, or at each string in series, of a bank; how many there are, 1 at least where that is
 * not known. NULL where the spec states none, or with a mistake.
 */
const Property *feeding_battery_fuse(const Entity *bank, Interval *count);
/** "150 A fuse", or "fuse of a rating that is not decided". */
void feeding_write_battery_fuse(Buf *to, const Model *model, const Property *fuse);

/** Whether anything of the cable from an array's panels to its controller is stated, which is no feed. */
bool panel_cable_is_stated(const Entity *array);

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

/**
 * Of mains, what its device does besides: ", 2-pole, opens at 30 mA", or briefly ", 2-pole, 30 mA". Nothing of direct
 * current, and of what is not stated.
 */
void feeding_write_mains(Buf *to, const Model *model, const Feed *feed, bool briefly);
/**
 * Whether mains reach it as two lines that are both live, as 240 V do under the rules of the US: from what the first source on
 * its way says of its voltage. One of 50 Hz is not of such a net.
 */
bool feeding_has_two_legs(const Feed *feed, Basis basis);
/** Which conductors its own device opens: "line and neutral", "line alone", "not stated"; NULL: it has no device. */
const char *feeding_opens(Arena *arena, const Feed *feed, Basis basis);
/* What opens at leakage on the ways to a cable of mains, one for each source that can reach it. */
typedef struct LeakageWay {
    const Property *opens;  /* the nearest `ground-fault` on that way; NULL: there is none ... */
    const Entity *where;    /* ... and where it stands, or the source that comes unguarded; NULL: not known */
} LeakageWay;
enum { LEAKAGE_WAYS_MOST = 4 };
/** Fills in the ways, each device and each source once; how many there are. A device of its own is the only one. */
unsigned feeding_leakage_ways(const Feed *feed, LeakageWay ways[LEAKAGE_WAYS_MOST]);
/** Whether a cable of mains has a device of its own that opens at leakage. */
bool feeding_opens_at_leakage(const Feed *feed);

#endif
