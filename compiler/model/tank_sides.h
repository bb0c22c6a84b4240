/*
 * How a tank states what shape it has: by a `size`, with a `bottom` where it narrows downward, or as a `cylinder`. Each has a box
 * around it, whose sides are read from one of these lines.
 */
#ifndef GARBOARD_MODEL_TANK_SIDES_H
#define GARBOARD_MODEL_TANK_SIDES_H

#include "base/interval.h"
#include "model/model.h"

typedef enum TankShape {
    TANK_UNSAID,  /* no sides are stated */
    TANK_BOX,
    TANK_TAPERED, /* it narrows downward */
    TANK_UPRIGHT, /* a cylinder that stands */
    TANK_LYING,   /* one that lies, whichever way */
} TankShape;
TankShape tank_shape(const Entity *tank);

/* Sides of the box around it: along the boat, across her, and up. */
typedef enum TankAxis { TANK_LENGTH, TANK_BREADTH, TANK_HEIGHT } TankAxis;

typedef struct TankSide {
    PropId prop;
    unsigned slot;
} TankSide;
/** Where a side is stated; of a tank that states none in its `size`. */
TankSide tank_side(const Entity *tank, TankAxis axis);
/** The line that tells the sides, and the volume where no `capacity` does: `cylinder` or `size`. */
static inline PropId tank_sides(const Entity *tank)
{
    return tank_side(tank, TANK_LENGTH).prop;
}

/** What a tank of these sides holds, one of them, in m3; false where a side is not known. */
bool tank_volume_by_sides(const Entity *tank, Interval *volume);
/** Tells what the lines of a tank's shape contradict. */
void tank_check_shape(Model *model, const Entity *tank);

#endif
