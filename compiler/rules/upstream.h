/*
 * What the rules of banks and of alternating current share: what a thing hangs on, which sources can reach
 * it, what draws the most from a source. Knows the model and the figures; judges nothing.
 *
 * Everything is gathered in one pass over the feeds, givers before takers: a spec may be long, and a chain of
 * feeds may be deep.
 */
#ifndef GARBOARD_RULES_UPSTREAM_H
#define GARBOARD_RULES_UPSTREAM_H

#include "figures/power.h"
#include "rules/ask.h"

/** A feed by which something charges a bank. */
typedef struct Charging {
    const Feed *feed;
    bool turned; /* when a switch is turned to that bank, or by a feed that is not the first: no day counts it */
    struct Charging *next;
} Charging;

typedef struct Upstream {
    /*
     * By Entity.index, what a thing hangs on by the first of its feeds that is aboard: a bank, an inlet, a
     * generator, inverter, charger or converter. NULL if that is not known: no feed, a loop, a mistake.
     */
    const Entity **source;
    const Entity **first; /* by Entity.index of a source: what hangs on it, in the order of the spec ... */
    const Entity **next;  /* ... by Entity.index of the one before */
    Charging **charging;  /* by Entity.index of a bank */
} Upstream;

/** " by way of `choose`" of what charges a bank when a switch is turned; else "". */
const char *say_turned(const Judge *judge, const Charging *charging);

/** Gathered by the first rule that asks for it, like the meetings below. */
const Upstream *upstream_of(const Judge *judge);

/** The bank that a maker's feed charges: its target, or what the target hangs on; NULL if that is no bank. */
const Entity *bank_charged(const Upstream *upstream, const Feed *feed);

/**
 * By Entity.index, whether a thing can be fed by that source: by any of its feeds, and by an inverter that passes the source
 * through. What makes another kind of power out of it is behind it, what hangs on that is not.
 */
const bool *all_behind(const Judge *judge, const Entity *source);

/** What can draw on a bank: good until it is asked of the next one. */
typedef struct Drawn {
    const Entity **things; /* in no order that means anything */
    uint32_t count;
    uint32_t *seen, asked; /* by Entity.index: when it was last found */
} Drawn;

/**
 * All that hangs on a bank, and what a transfer or a parallel switch can put on it, wherever it stands in that switch's list.
 * An emergency switch is closed for a moment, with somebody at it: what hangs there counts for the first of its banks.
 */
const Drawn *drawn_on(const Judge *judge, const Entity *bank);

/** Whether a thing draws power by itself, and does not only hand it on. */
bool draws_itself(const Judge *judge, const Entity *thing);

enum { LARGEST_COUNT = 3 };
typedef struct Largest {
    const Entity *thing[LARGEST_COUNT]; /* falling by current; NULL where there are no more */
    const Figure *current[LARGEST_COUNT];
} Largest;

/** What draws the most of all that hangs on a source; on an inlet also by way of an inverter that passes it through. */
Largest largest_on(const Judge *judge, const Upstream *upstream, const Entity *source, FigureId id);
/** Notes at each of them what it takes. */
void note_largest(Judge *judge, Finding *finding, const Largest *largest);

/** Remedies what is asked of a source at once: `together`, unless a single thing alone takes more than limit_a. */
void remedy_together(Judge *judge, Finding *finding, const Upstream *upstream, const Entity *source, double limit_a);

/* Where power from different sources meets. */
typedef enum SourceClass {
    SOURCES_DIRECT,
    SOURCES_DIRECT_SWITCHED, /* at a transfer switch too, which takes one of them at a time */
    SOURCES_ALTERNATING,
} SourceClass;

enum { SOURCES_APART = 4 }; /* so many that can reach a thing are told apart */

typedef struct Meeting {
    const Entity *at;           /* what is fed by both */
    const Feed *first, *second; /* the feeds that bring them there */
    const Entity *one, *other;  /* a source of each that the other feed does not bring */
    const Entity *ones[SOURCES_APART], *others[SOURCES_APART]; /* all that each brings, up to NULL where there are fewer */
    bool with_first;            /* the first of them is the first feed that brings any there at all */
    struct Meeting *next;
} Meeting;

/**
 * Things, other than a transfer switch, at which two feeds bring power of different banks (SOURCES_DIRECT),
 * or of different inlets, generators and inverters (SOURCES_ALTERNATING). Where more than two meet, each meets each
 * that came before it. An inverter also brings what it `passes`. Of more than four sources that can reach a thing only the
 * first four are told apart.
 */
const Meeting *meetings_of(const Judge *judge, SourceClass which);

/** How many strings lie in parallel: as stated, else the count over those in series. */
Interval strings_of_bank(const Judge *judge, const Entity *bank);
/** Nominal voltage of a feed, as its drop was reckoned with: a range where what it hangs on is open; 0 if not known. */
Interval nominal_volts(const Judge *judge, const Feed *feed);
/**
 * Whether a thing that is for mains hangs on direct current of a lower voltage by that feed: its own current is not known then.
 * Never ANSWER_UNKNOWN.
 */
Answer mains_on_direct(const Judge *judge, const Entity *thing, const Feed *feed);
/** An open finding hangs on that voltage too, where that is open. */
void finding_rests_on_voltage(Judge *judge, Finding *finding, const Feed *feed);

/**
 * Whether `inverter-feed` judges the cable and device of a feed by more than normal use asks for: what the inverter takes when
 * its bank is low. The rules of all cables leave that to it, for nobody wants to read it twice.
 */
bool is_inverter_feed(const Judge *judge, const Feed *feed);
/** Whether a rule before this one has found something about that thing, so that its echo can be left out. */
bool already_told(const Judge *judge, const char *rule, const Entity *subject);

/** "`a`", "`a` and `b`", "`a`, `b` and 3 more": of `count` names the first few are given. */
const char *say_names(const Judge *judge, const Entity *const *things, uint32_t given, uint32_t count);

/** A generator, an array or an alternator that may charge a bank, by whatever it passes; NULL: nothing aboard does. */
const Entity *charges_on_the_way(const Judge *judge, const Entity *bank);

#endif
