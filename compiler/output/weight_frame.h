/*
 * The field of a sketch of the weight study: which place of the boat comes to lie where on the page, the outline of her
 * hull in it, and the scale below.
 */
#ifndef GARBOARD_OUTPUT_WEIGHT_FRAME_H
#define GARBOARD_OUTPUT_WEIGHT_FRAME_H

#include "model/model.h"
#include "output/svg.h"

#define FRAME_TOP 62.0  /* of the field, mm */
#define FRAME_SMALL 2.4 /* size of its words */

typedef enum View { VIEW_SIDE, VIEW_ABOVE } View;

/* Places in m: aft of the bow; up from the waterline, or to starboard of the middle. */
typedef struct Frame {
    View view;
    Svg svg;
    double from_m, to_m, low_m, high_m; /* what is to be seen */
    double scale;                       /* mm for each m */
    double left_mm, top_mm;
} Frame;

/** Makes sure that a place can be seen. */
void frame_see(Frame *frame, double aft_m, double across_m);
/** Sees the hull too, and takes the largest scale at which all that is seen has room. */
void frame_fit(Frame *frame, const Entity *boat);
/** Where a place comes to lie; seen from above, starboard is up the page. */
SvgPoint frame_at(const Frame *frame, double aft_m, double across_m);
/** Seen from above a boat of two hulls or more is a box of her length by her beam: nothing says how they lie in it. */
bool frame_is_box(const Entity *boat);
/** The outline, the waterline or the middle, and the scale. What of the hull is not stated is drawn in dashes. */
void frame_draw_hull(Frame *frame, const Entity *boat);

/** The middle of a stated range; false where it has none. */
bool middle_of(const Entity *entity, PropId prop, unsigned slot, double *middle);

#endif
