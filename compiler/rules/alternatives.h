/*
 * What the combinations of the open choices say of one thing, as one text: numbers that differ are told from the least to the
 * greatest, sentences that differ with the options that they belong to. Knows texts and cases; must not know what they speak of.
 */
#ifndef GARBOARD_RULES_ALTERNATIVES_H
#define GARBOARD_RULES_ALTERNATIVES_H

#include "rules/options.h"

/** One text, and the cases that say it. */
typedef struct Alternative {
    const char *text;
    CaseSet cases;
    struct Alternative *next;
} Alternative;

/** All of them, each text once, in the order of the cases. */
typedef struct Alternatives {
    const Outcome *outcome;
    Alternative *first;
    uint32_t count;
} Alternatives;

/** More than so many are not told one by one, if they can be told from the least to the greatest. */
enum { ALTERNATIVES_MOST = 3 };

/** Adds what a case says; NULL: nothing. */
void alternatives_add(Alternatives *list, const char *text, CaseSet cases);

/** Texts that differ in numbers, and ranges of them, alone. */
typedef struct Spread {
    const char *text; /* with the least and the greatest: "60..64 A can run through it" */
    const Alternative *least, *most; /* by the first number that differs */
} Spread;

/** False where they differ in anything else. Dates, times and digits in names are no numbers. */
bool alternatives_spread(const Alternatives *list, Spread *spread);

/** Which options say so; "some options" where none tells these cases apart. */
const char *alternatives_words(const Alternatives *list, CaseSet cases);

/** What the remarks of a figure say together; NULL if there is none. */
const char *alternatives_remark(const Alternatives *list);

#endif
