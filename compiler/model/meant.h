/*
 * What the owner probably meant by a word that is no property of a thing: another word of the trade for one (weight for
 * mass), else a near spelling.
 */
#ifndef GARBOARD_MODEL_MEANT_H
#define GARBOARD_MODEL_MEANT_H

#include "base/buf.h"
#include "language/schema.h"

/** Whether a word is one of several, a blank between. */
bool word_is_among(Str word, const char *words);

/** The property of that kind that is meant, or PROP_NONE; appends what to write instead to `right`. */
PropId property_meant(Buf *right, KindId kind, Str word);

/** The kind that is meant by a usual word for a thing, such as `fridge` or `battery`; KIND_NONE if it is none. */
KindId kind_meant(Str word);

/** Whether a word is a property of any kind of thing. */
bool is_property_of_something(Str word);

#endif
