/*
 * Sizes as the trade writes them: hose, pipe, shafts, bolts and their holes in fractions of an inch, where the owner states inches.
 */
#ifndef GARBOARD_FIGURES_INCHES_H
#define GARBOARD_FIGURES_INCHES_H

#include "model/model.h"

/**
 * Appends a value of a property as quantity_write does; but of what the schema tells in millimetres, in whole thirty-seconds of an
 * inch and stated in inches, a fraction: `1 1/4 in`, `9/16 in`; and feet that are no whole ones as feet and inches: `8 ft 9 in`.
 */
void size_write(Buf *to, const Model *model, PropId prop, unsigned slot, const Value *value);

/** The same of a fraction alone; false, and nothing appended, of everything else. */
bool size_write_fraction(Buf *to, const Model *model, PropId prop, unsigned slot, const Value *value);

#endif
