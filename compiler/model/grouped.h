/*
 * Slips of the pen in numbers that read well: `displacement 5.200 kg`. Money is read more strictly: see habit_tell_grouped in
 * habits.c.
 */
#ifndef GARBOARD_MODEL_GROUPED_H
#define GARBOARD_MODEL_GROUPED_H

#include "model/model.h"

/** Marks values whose point groups digits (VALUE_DOUBTED): so little of what they tell hardly is aboard. */
void grouped_doubt(Model *model);

/** Whether that is asked of a property of such a thing. */
bool grouped_is_asked(KindId kind, PropId prop);

/** `1.200`, of which the digits without the point go to `digits`; false of anything else. */
bool grouped_digits(Str written, char digits[static 8]);

#endif
