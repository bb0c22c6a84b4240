/*
 * What rules of every family share beside a comparison: asking whether something is so without a finding, and leaving
 * a finding open.
 */
#ifndef GARBOARD_RULES_ASK_H
#define GARBOARD_RULES_ASK_H

#include "rules/rule.h"

/** Whether findings about that thing, or some thing of that kind, are asked for: where a value is tried, only those of one. */
static inline bool is_asked(const Judge *judge, const Entity *thing)
{
    return judge->compared == NULL || judge->compared == thing;
}

static inline bool kind_is_asked(const Judge *judge, KindId kind)
{
    return judge->compared == NULL || judge->compared->kind == kind;
}

/* Asking: for the conditions under which a rule applies. */

typedef enum Answer {
    ANSWER_NO,
    ANSWER_PERHAPS, /* something that it hangs on is not decided */
    ANSWER_YES,
    ANSWER_UNKNOWN, /* a side is missing, or rests on a mistake */
} Answer;

/** Whether value >= limit, by the judge's own comparison. */
Answer ask_at_least(Side value, Side limit);

/** A word that a thing states: STATE_MISSING if it states none, STATE_WAITING if there is a mistake in it. */
State stated_word(const Entity *entity, PropId prop, Str *word);
/** Whether a thing states a property in which there is a mistake. */
bool has_mistake(const Entity *entity, PropId prop);

/**
 * Whether a thing of that kind may stand in the spec unread: in the first line of one, or of a thing whose kind nobody
 * knows, there is a mistake. Then nothing can be said of there being none.
 */
bool some_is_mistaken(const Judge *judge, KindId kind);
/** Whether any `fed-by` or `feeds` is a mistake: then nothing can be said of a thing that feeds nothing. */
bool some_feed_is_mistaken(const Judge *judge);

/* Saying */

/** A figure's remark behind its value: "; 7 things have no mass"; empty for NULL, or where there is none. */
const char *say_remark(const Judge *judge, const Figure *figure);

/** Leaves a finding open, for it hangs on something that the spec does not state: "hose.vent-loop". */
void finding_hangs_on(Judge *judge, Finding *finding, const Entity *entity, PropId prop, const char *what);
/** Leaves a broken finding open, for it is not decided whether the rule asks anything there: name what that hangs on. */
void finding_may_not_apply(Finding *finding);
/** Leaves a finding open because this property is not stated. */
void finding_left_open(Judge *judge, Finding *finding, const Entity *entity, PropId prop);

/**
 * Says below a finding on what burns that a heater which does not say so is taken to burn diesel, and how to say otherwise.
 * Where it is open whether it burns at all, so is the finding. Of anything else nothing.
 */
void finding_of_heater(Judge *judge, Finding *finding, const Entity *heater);

/** The physical things that are aboard, in the order of the spec. */
typedef struct Bought {
    const Entity **things;
    uint32_t count;
} Bought;
const Bought *bought_aboard(const Judge *judge);

#endif
