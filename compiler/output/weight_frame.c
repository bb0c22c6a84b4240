/* See weight_frame.h. */
#include "output/weight_frame.h"

#include "figures/water.h"
#include "output/picture.h"

#include <math.h>

#define BOTTOM 152.0 /* of the field */
#define AXIS 156.0
#define WORDS_LEFT 17.0 /* before the bow: what the line across is */
#define AFT 6.0         /* behind the stern */

/* The middle of a stated range; false where it has none. */
bool middle_of(const Entity *entity, PropId prop, unsigned slot, double *middle)
{
    const Value *value = property_value(entity_property(entity, prop), slot);
    if (value->kind != VALUE_QUANTITY || value->flags & VALUE_BROKEN || !isfinite(value->u.quantity.low) ||
        !isfinite(value->u.quantity.high)) {
        return false;
    }
    *middle = (value->u.quantity.low + value->u.quantity.high) / 2.0;
    return true;
}

void frame_see(Frame *frame, double aft_m, double across_m)
{
    frame->from_m = fmin(frame->from_m, aft_m);
    frame->to_m = fmax(frame->to_m, aft_m);
    frame->low_m = fmin(frame->low_m, across_m);
    frame->high_m = fmax(frame->high_m, across_m);
}

SvgPoint frame_at(const Frame *frame, double aft_m, double across_m)
{
    return (SvgPoint){frame->left_mm + (aft_m - frame->from_m) * frame->scale,
                      frame->top_mm + (frame->high_m - across_m) * frame->scale};
}

/* What of the outline is stated; the rest is drawn as is usual, in dashes. */
typedef struct Hull {
    double length_m, beam_m, waterline_m, draft_m, bow_m, stern_m; /* the last two: deck above water */
    bool has_waterline, has_draft, has_freeboard;
} Hull;

static Hull hull_of(const Entity *boat)
{
    Hull hull = {0};
    middle_of(boat, PROP_BOAT_LENGTH, 0, &hull.length_m);
    middle_of(boat, PROP_BOAT_BEAM, 0, &hull.beam_m);
    hull.has_waterline = middle_of(boat, PROP_BOAT_WATERLINE, 0, &hull.waterline_m);
    hull.has_draft = middle_of(boat, PROP_BOAT_DRAFT, 0, &hull.draft_m);
    hull.has_freeboard = middle_of(boat, PROP_BOAT_FREEBOARD, 0, &hull.bow_m);
    hull.stern_m = hull.bow_m;
    middle_of(boat, PROP_BOAT_FREEBOARD, 1, &hull.stern_m);
    hull.waterline_m = hull.has_waterline ? fmin(hull.waterline_m, hull.length_m) : 0.9 * hull.length_m;
    hull.draft_m = hull.has_draft ? hull.draft_m : 0.1 * hull.length_m;
    hull.bow_m = hull.has_freeboard ? hull.bow_m : 0.12 * hull.length_m;
    hull.stern_m = hull.has_freeboard ? hull.stern_m : 0.09 * hull.length_m;
    return hull;
}

/* The line at nought, from edge to edge, and what it is. */
static void draw_across(Frame *frame, const char *what, SvgPen pen)
{
    double y = frame_at(frame, 0.0, 0.0).y_mm;
    svg_line(&frame->svg, (SvgPoint){PICTURE_LEFT, y}, (SvgPoint){PICTURE_RIGHT, y}, pen);
    svg_text(&frame->svg, (SvgPoint){PICTURE_LEFT, y - 1.0}, FRAME_SMALL, SVG_START, str_from(what));
}

static void draw_profile(Frame *frame, const Hull *hull)
{
    double overhang = (hull->length_m - hull->waterline_m) / 2.0, wl = hull->waterline_m;
    const SvgPoint above[] = {
        frame_at(frame, overhang, 0.0), frame_at(frame, 0.0, hull->bow_m),
        frame_at(frame, hull->length_m * 0.6, (hull->bow_m + 2.0 * hull->stern_m) / 3.0),
        frame_at(frame, hull->length_m, hull->stern_m), frame_at(frame, hull->length_m - overhang, 0.0)};
    const SvgPoint below[] = {frame_at(frame, overhang, 0.0),
                              frame_at(frame, overhang + 0.12 * wl, -0.6 * hull->draft_m),
                              frame_at(frame, overhang + 0.35 * wl, -hull->draft_m),
                              frame_at(frame, overhang + 0.7 * wl, -hull->draft_m),
                              frame_at(frame, overhang + 0.9 * wl, -0.35 * hull->draft_m),
                              frame_at(frame, overhang + wl, 0.0)};
    svg_polyline(&frame->svg, above, 5, hull->has_waterline && hull->has_freeboard ? SVG_LINE : SVG_DASHED);
    svg_polyline(&frame->svg, below, 6, hull->has_waterline && hull->has_draft ? SVG_LINE : SVG_DASHED);
    draw_across(frame, "waterline", SVG_THIN);
}

/* Half of her breadth, as a share of the greatest: a pointed bow, a stern that is a little narrower than the middle. */
static double half_breadth(double share_aft)
{
    static const double widest = 0.55, narrower = 0.35, quarter_turn = 1.5707963267948966;
    double behind = (share_aft - widest) / (1.0 - widest);
    return share_aft < widest ? sin(share_aft / widest * quarter_turn) : 1.0 - narrower * behind * behind;
}

bool frame_is_box(const Entity *boat)
{
    double hulls = 1.0;
    return middle_of(boat, PROP_BOAT_HULLS, 0, &hulls) && hulls >= 2.0;
}

static void draw_box(Frame *frame, const Hull *hull)
{
    double half = hull->beam_m / 2.0;
    SvgPoint bow = frame_at(frame, 0.0, half), stern = frame_at(frame, hull->length_m, -half);
    SvgBox box = {bow.x_mm, bow.y_mm, stern.x_mm - bow.x_mm, stern.y_mm - bow.y_mm};
    svg_rectangle(&frame->svg, box, SVG_LINE, SVG_HOLLOW);
    draw_across(frame, "middle", SVG_DOTTED);
}

/* From above only length and beam are known. */
static void draw_deck(Frame *frame, const Hull *hull)
{
    enum { STEPS = 24 };
    SvgPoint outline[2 * (STEPS + 1)];
    for (int i = 0; i <= STEPS; i++) {
        double share = (double)i / STEPS, half = 0.5 * hull->beam_m * half_breadth(share);
        outline[i] = frame_at(frame, share * hull->length_m, half);
        outline[2 * STEPS + 1 - i] = frame_at(frame, share * hull->length_m, -half);
    }
    svg_polyline(&frame->svg, outline, 2 * (STEPS + 1), SVG_DASHED);
    draw_across(frame, "middle", SVG_DOTTED);
}

/* Every metre aft of the bow, or every second foot where the owner measures in feet. */
static void draw_axis(Frame *frame, const Entity *boat)
{
    UnitPair unit = unit_of(boat, PROP_BOAT_LENGTH, UNIT_ALONE(UNIT_M));
    bool feet = unit.unit == UNIT_FT || unit.unit == UNIT_IN;
    unit = UNIT_ALONE(feet ? UNIT_FT : UNIT_M);
    double step = feet ? 2.0 : 1.0, metres = unit_to_si(unit, step);
    if (metres * frame->scale < 9.0) {
        step *= 5.0;
        metres *= 5.0;
    }
    double from = ceil(frame->from_m / metres), to = floor(frame->to_m / metres);
    svg_line(&frame->svg, (SvgPoint){frame_at(frame, from * metres, 0.0).x_mm, AXIS},
             (SvgPoint){frame_at(frame, to * metres, 0.0).x_mm, AXIS}, SVG_THIN);
    for (double i = from; i <= to; i += 1.0) {
        double x = frame_at(frame, i * metres, 0.0).x_mm;
        svg_line(&frame->svg, (SvgPoint){x, AXIS}, (SvgPoint){x, AXIS - 1.5}, SVG_THIN);
        const char *word = i == 0.0 ? (feet ? "0 ft aft of the bow" : "0 m aft of the bow")
                                    : text_format(frame->svg.buf->arena, "%d", (int)(i * step));
        if (i <= 0.0 || i * metres * frame->scale > 32.0) { /* the words at 0 take room */
            svg_text(&frame->svg, (SvgPoint){x, AXIS + 3.2}, FRAME_SMALL, i == 0.0 ? SVG_START : SVG_MIDDLE,
                     str_from(word));
        }
    }
}

void frame_fit(Frame *frame, const Entity *boat)
{
    Hull hull = hull_of(boat);
    bool side = frame->view == VIEW_SIDE;
    frame_see(frame, 0.0, side ? hull.bow_m : hull.beam_m / 2.0);
    frame_see(frame, hull.length_m, side ? -hull.draft_m : -hull.beam_m / 2.0);
    double width = PICTURE_RIGHT - PICTURE_LEFT - WORDS_LEFT - AFT, height = BOTTOM - FRAME_TOP;
    double long_m = frame->to_m - frame->from_m, high_m = frame->high_m - frame->low_m;
    frame->scale = fmin(width / long_m, height / high_m);
    frame->left_mm = PICTURE_LEFT + WORDS_LEFT + (width - frame->scale * long_m) / 2.0;
    frame->top_mm = FRAME_TOP + (height - frame->scale * high_m) / 2.0;
}

void frame_draw_hull(Frame *frame, const Entity *boat)
{
    Hull hull = hull_of(boat);
    if (frame->view == VIEW_SIDE) {
        draw_profile(frame, &hull);
    } else if (frame_is_box(boat)) {
        draw_box(frame, &hull);
    } else {
        draw_deck(frame, &hull);
    }
    draw_axis(frame, boat);
}
