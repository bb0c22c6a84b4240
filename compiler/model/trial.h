/*
 * Trying a value: a built model with one of its values narrowed, or with one that nobody stated. Each trial lays a copy of the
 * thing's block over its own and takes it away again; nothing that other things or other models share is changed. Knows
 * where values stand; computes nothing.
 */
#ifndef GARBOARD_MODEL_TRIAL_H
#define GARBOARD_MODEL_TRIAL_H

#include "model/model.h"

/* What is in another currency, and follows a rate that is tried. */
typedef struct TrialMoney {
    Entity *entity;
    Block before;
    Value *value;
    Interval written;
    Str currency;
    struct TrialMoney *next; /* the one that was laid over before it */
} TrialMoney;

typedef struct Trial {
    Entity *entity;
    Block before; /* the entity's own block */
    const Block
        *inner; /* the block of a property's own in which the value stands; NULL: it stands in the thing's */
    const Block *inner_copy;
    Value *value; /* to be set; low, high, word ... */
    const Model *model; /* of a rate; NULL */
    TrialMoney *money;
} Trial;

/**
 * Begins to try the value in `slot` of a property: the one of that statement, which may leave it out, or for 0 the default
 * or one that is not stated. False if there is none such, or it cannot stand there. The value is what it was until it is set; for one that
 * is not stated, its kind is VALUE_NONE.
 */
bool trial_begin(Trial *trial, Arena *arena, Entity *entity, PropId prop, const Property *fallback,
                 NodeId statement, unsigned slot);

/** Of a rate of the boat that is tried: all money that it turns follows it. */
void trial_with_money(Trial *trial, Arena *arena, const Model *model);

/** What is tried from now on: a range, ends included. */
void trial_set_range(Trial *trial, double low, double high);

/** Takes the trial back. Of several trials of one thing, the last one first. */
void trial_end(const Trial *trial);

#endif
