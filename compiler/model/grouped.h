/*
 * Slips of the pen in numbers that read well: `displacement 5.200 kg`. Money is read more strictly: see habit_tell_grouped in
 * habits.c.
 */
#ifndef GARBOARD_MODEL_GROUPED_H
#define GARBOARD_MODEL_GROUPED_H

#include "model/model.h"

/** Marks values that are such slips (VALUE_DOUBTED), unless the finding that tells of them is waived. */
void grouped_doubt(Model *model);

/** The i-th kind and property of which it is asked; false at the end. */
bool grouped_asked(size_t i, KindId *kind, PropId *prop);
/** Whether that is asked of a statement of such a thing. */
bool grouped_is_asked(const Entity *thing, const Property *stated);

/**
 * Whether a point stands before three digits of something of which so little hardly is aboard; `digits` gets the number
 * without the point.
 */
bool grouped_is_slip(const Model *model, const Entity *thing, const Property *stated, char digits[static 8]);

#endif
