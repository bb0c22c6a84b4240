/*
 * What differs between two compiled specs, told in things, figures, money and findings.
 *
 * Things are compared by what they mean, never by how they are written: `1000 mm` is `1 m`, and a block
 * that moved, another layout or a comment is no difference. A thing is known by its name; `was OLD-NAME`
 * follows it through a renaming. Nothing is computed here: figures and findings are those of the two
 * compilations.
 *
 * The compilations may live in two arenas. What the difference itself needs is put into the one that the
 * caller names; reading the specs may add to each spec's own. Both must have a place to jump to when memory
 * runs out, and after such a jump neither compilation is good for anything but being freed.
 */
#ifndef GARBOARD_TOOLS_DIFF_H
#define GARBOARD_TOOLS_DIFF_H

#include "rules/outcome.h"
#include "text/snippet.h"

typedef struct Diff Diff;

/** Compares. `before` and `after` may be the same. */
const Diff *diff_compute(Arena *arena, Outcome *before, Outcome *after);

/** Whether there is anything to tell. */
bool diff_is_different(const Diff *diff);

/** For people, 80 columns wide; the last line is a summary. */
void diff_text(Buf *to, const Diff *diff, Colour colour);

/** One document, described by docs/diff.schema.json. */
void diff_json(Buf *to, const Diff *diff);

#endif
