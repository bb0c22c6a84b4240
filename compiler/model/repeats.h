/*
 * Lines of a property that repeats: whether one more says of the same thing what another line says already. Private to
 * compiler/model/.
 */
#ifndef GARBOARD_MODEL_REPEATS_H
#define GARBOARD_MODEL_REPEATS_H

#include "model/checker.h"

/** Whether a line may say what another line of its property says, or itself say something twice. */
static inline bool repeat_is_possible(const Property *line)
{
    return (line->count > 1 && line->flags & PROPERTY_NAMES) || props[line->id].repeats;
}
/**
 * Tells a line that feeds what another one feeds, names a source twice, or runs while another one does; whether it
 * is to be kept. What is not known then is marked broken. before: the lines that stand before it.
 */
bool repeat_is_kept(Checker *checker, const Block *before, Property *line);

#endif
