/*
 * Findings of things side by side on one panel that say the same: the first is told, and names the others. Broken or open, with
 * and without open choices.
 */
#ifndef GARBOARD_OUTPUT_FINDINGS_SAME_H
#define GARBOARD_OUTPUT_FINDINGS_SAME_H

#include "rules/outcome.h"

/** One that may be told so. */
typedef struct AlikeRow {
    const Finding *finding;
    uint32_t first; /* which of the list names it; itself if none does */
    uint32_t next;  /* of those that name others on a panel: the one before, plus 1; 0: none */
} AlikeRow;

/** All of them, in their order, in which they are to be asked for. */
typedef struct Alike {
    AlikeRow *list;
    uint32_t count, at;
} Alike;

Alike findings_alike(Arena *arena, const Outcome *outcome);
/** Whether an earlier finding names this one's thing. */
bool finding_is_named_before(Alike *alike, const Finding *finding);
/** "  the same is found of `nav`, `fans` on `main`"; nothing where it is of none. */
void finding_write_same(Buf *to, Alike *alike, const Model *model, const Finding *finding);

#endif
