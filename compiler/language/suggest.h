/*
 * "Did you mean": near spellings among the words that fit a place. At most a third of the length away, at least 1 and
 * at most 3 edits (a swap of neighbours is one edit); at most three words, nearest first, ties by the order offered.
 */
#ifndef GARBOARD_LANGUAGE_SUGGEST_H
#define GARBOARD_LANGUAGE_SUGGEST_H

#include "base/buf.h"
#include "base/str.h"

typedef struct Suggestions {
    Str word;        /* what was written */
    Str best[3];
    int distance[3];
    int count;
} Suggestions;

Suggestions suggest_begin(Str word);
void suggest_offer(Suggestions *suggestions, Str candidate);
/** Appends "`main-engine` or `main-engines`"; nothing and false if there is no near word. */
bool suggest_write(Buf *buf, const Suggestions *suggestions);

#endif
