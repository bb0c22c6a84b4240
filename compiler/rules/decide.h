/*
 * What to decide next: everything that the spec leaves open (a choice, a range, a hole, a fact that is not stated and
 * that a rule waits for), in the order of what hangs on it.
 *
 * Before another stands what holds up more open faults; then more goals; then what a job waits for and takes eight weeks or more
 * to come; then more open warnings, more jobs that are to be done; then what takes longer to come once it is ordered, and costs more; then more open advice; last the order of the
 * spec. Rests on the outcome alone and writes nothing.
 */
#ifndef GARBOARD_RULES_DECIDE_H
#define GARBOARD_RULES_DECIDE_H

#include "rules/outcome.h"

typedef struct Decision {
    const char *name;         /* "house.capacity", "engine-size" */
    const Choice *choice;     /* that it is, or NULL: */
    const Case *in;           /* the first case that leaves it open */
    const Entity *entity;     /* what it is a property of; NULL: a thing that is not there at all, such as an alarm */
    PropId prop;
    const Property *property; /* NULL: it is not stated */
    uint32_t faults, goals, warnings, advice; /* open findings that hang on it, the owner's goals apart */
    /* Of a thing whose choice, size or make is open, not of one whose price or mass is not known yet: */
    uint32_t jobs;            /* jobs to do that need the thing, or one that an option brings */
    const Entity *first_job;
    bool to_order;            /* the thing, or one of an option, is not ordered yet, and has a price: */
    Interval money;           /* what waits to be spent on it; over all options */
    bool has_lead;
    Interval lead_s;          /* how long it takes to come then; the longest of an option, over all options */
    uint32_t place;           /* in the order of the spec, choices first */
    struct Decision *next_of_name;
} Decision;

typedef struct Decisions {
    Decision **list;
    uint32_t count;
    uint32_t holding; /* so many of them, the first, hold up anything at all */
} Decisions;

const Decisions *decide_compute(Arena *arena, const Outcome *outcome);

/** Whether a thing cannot be ordered before that is decided: what it costs, weighs and how long it takes can be learned. */
bool decide_before_order(PropId prop);
/** Whether it is a property of the thing itself, not of how it is used and laid out aboard or of the cable to it. */
bool decide_is_of_thing(PropId prop);
/** Whether what is here has it on its label, its papers or its bill: how many are wanted and how long more take has not. */
bool decide_is_on_label(PropId prop);
/** "house.capacity" as it stands: "180..220 Ah", "lean, stout or old-iron", "not stated". */
const char *decide_stands(Arena *arena, const Outcome *outcome, const Decision *decision);
/** What hangs on it: "1 open fault, 1 goal; `fit-power` needs it; 540.00 EUR to order, then 6 week until it comes". */
const char *decide_holds_up(Arena *arena, const Decision *decision);

#endif
