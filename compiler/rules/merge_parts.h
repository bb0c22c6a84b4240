/*
 * What the files of merging share: a finding over all cases of an outcome, while it is put together.
 */
#ifndef GARBOARD_RULES_MERGE_PARTS_H
#define GARBOARD_RULES_MERGE_PARTS_H

#include "rules/alternatives.h"

/* What some of the cases say of a finding. */
typedef struct Reading {
    const Finding *finding;
    const char *text; /* its sentence, or one for several that differ in numbers alone */
    CaseSet cases;
    struct Reading *next;
} Reading;

typedef struct Merged {
    Finding *finding;
    uint64_t place;     /* see options_place */
    Reading *readings;  /* in the order of the cases */
    Alternatives notes; /* what stands at the place itself */
    uint32_t number;    /* of those in one case that nothing tells apart: which */
    CaseSet found_in;   /* empty: it was joined with another */
    CaseSet broken_in;
    CaseSet severe_in[SEVERITY_COUNT];
} Merged;

/** More readings than so many are told by these alone, and that there are others. */
enum { READINGS_MOST = ALTERNATIVES_MOST };

/** The sentences of several readings as one: the options that each belongs to stand at its end, once (merge_words.c). */
const char *readings_told(Arena *arena, OptionCases *options, const Finding *finding, const Reading *readings);

/** The gravest speaks for all; of two of the same weight the broken one has more to say. */
bool finding_says_more(const Finding *f, const Finding *than);

/**
 * Joins findings that say the same of the same place in different cases: with some options a rule may tell them apart by a
 * second thing and with others not. `all`: those found in all of them have no such twin.
 */
void merged_join_twins(Arena *arena, Merged *list, uint32_t count, CaseSet all); /* merge_twins.c */

#endif
