/*
 * Which options of an open choice bring a thing that is not in all cases of an outcome. Knows no document.
 */
#ifndef GARBOARD_OUTPUT_ONLY_WITH_H
#define GARBOARD_OUTPUT_ONLY_WITH_H

#include "rules/outcome.h"

/** "engine-size=lean or stout"; NULL: it is in all cases, or its place is in no option. The thing is of that model. */
const char *only_with(Arena *arena, const Outcome *outcome, const Model *model, const Entity *entity);

#endif
