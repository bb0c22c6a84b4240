/*
 * What the owner probably meant by a word that is no property of a thing: another word of the trade for one (weight for
 * mass), else a near spelling; and by a word that a property does not take (gasoline for petrol).
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
/** Of a word that stands for something that burns gas: whether it may as well burn spirit, paraffin or diesel. */
bool kind_may_be_burner(Str word);

/**
 * What the language calls a word of the trade where a property takes one of its own words: `petrol` for gasoline. `takes`
 * says, of `of`, whether a word may stand there. Appends it to `right`, with what has to be known of it; false: none is known.
 */
bool value_meant(Buf *right, const char *property, Str word, bool (*takes)(const void *of, Str word), const void *of);
/** The rows of that table, for the test that goes over it; false behind the last. */
bool usual_value_at(size_t index, const char **property, const char **words, const char **meant);

/** Whether a word is a property of any kind of thing. */
bool is_property_of_something(Str word);

#endif
