/*
 * What a `protect` line says of a device that is none: a fuse of a class of breakers. Private to compiler/model/.
 */
#ifndef GARBOARD_MODEL_DEVICE_H
#define GARBOARD_MODEL_DEVICE_H

#include "model/checker.h"

/** Tells a class of fuses on a breaker, and the other way round; true: there is none in the line, or it is another property. */
bool device_agrees(Checker *checker, const Property *line, const Shape *shape);

#endif
