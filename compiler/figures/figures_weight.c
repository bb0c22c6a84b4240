/*
 * Figures of the weight study: what the things aboard do to how she floats, with her tanks at their fill-level, empty,
 * half full and full; and what any mass more would do.
 *
 * Angles are sizes, their remark says to which side. Displacement and waterplane are hers on her lines, so the angles are
 * what the things aboard do to a boat that would float level without them.
 */
#include "figures/boat.h"
#include "figures/water.h"

#include "model/agree.h"
#include "model/tank_sides.h"
#include "physics/weight.h"

#include <math.h>

/* With the tanks at their fill-level first. */
static const FigureScope states[] = {SCOPE_WHOLE, SCOPE_TANKS_EMPTY, SCOPE_TANKS_HALF, SCOPE_TANKS_FULL};
enum { STATES = sizeof states / sizeof states[0] };

/* Her hull */

static double density_of(const Model *model)
{
    Str water = entity_word(model->boat, PROP_BOAT_WATER);
    return str_is(water, "fresh")      ? FRESH_WATER_KG_PER_M3
           : str_is(water, "brackish") ? BRACKISH_WATER_KG_PER_M3
                                       : SALT_WATER_KG_PER_M3;
}

static const Figure *of_boat(const Work *work, FigureId id, FigureScope scope)
{
    return figure_find_in(work->figures, work->model->boat, id, scope);
}

static Figure *record(Work *work, FigureId id, FigureScope scope, Interval value, const char *formula)
{
    Figure *figure = work_record(work, id, work->model->boat, NULL, value, formula);
    figure->scope = (uint8_t)scope;
    return figure;
}

/* Mass for each metre that she floats deeper, kg/m. */
static Interval use_immersion(Work *work)
{
    const Entity *boat = work->model->boat;
    Interval area = use_value(work, boat, PROP_BOAT_WATERLINE, 0).value;
    area = interval_multiply(area, use_value(work, boat, PROP_BOAT_BEAM, 0).value);
    area = interval_multiply(area, use_value(work, boat, PROP_BOAT_WATERPLANE, 0).value);
    double density = density_of(work->model);
    use_fact(work, "density of the water, kg/m3", point(density), UNIT_ALONE(UNIT_NONE),
             "salt 1025, brackish 1010, fresh 1000");
    return interval_scale(area, density);
}

static void record_sinkage(Work *work, FigureScope scope)
{
    const Entity *boat = work->model->boat;
    const Figure *loaded = of_boat(work, FIGURE_LOADED_MASS, scope);
    if (loaded == NULL || !entity_states(boat, PROP_BOAT_DISPLACEMENT)) {
        return;
    }
    work_begin(work);
    Interval weighs = use_figure(work, loaded).value;
    Interval more = interval_subtract(weighs, use_value(work, boat, PROP_BOAT_DISPLACEMENT, 0).value);
    Figure *figure =
        record(work, FIGURE_SINKAGE, scope, interval_divide(more, use_immersion(work)),
               "({loaded-mass} - {displacement}) / ({waterline} x {beam} x {waterplane} x {density})");
    figure->partial = loaded->partial;
    figure->remark = loaded->remark;
}

/* ---- Height over the water ----------------------------------------------------------------------------- */

/* Whether it is a study at all: at least half of what she displaces is weighed. */
static bool weighs_half(Work *work, const Figure *mass)
{
    Quantity displacement = use_stated(work, work->model->boat, PROP_BOAT_DISPLACEMENT, 0);
    return displacement.state == STATE_KNOWN && mass->high >= 0.5 * displacement.value.low;
}

/*
 * What is not weighed sinks her deeper, down to her lines at most: with it she stands somewhere between there and what is
 * weighed alone.
 */
static void record_height(Work *work, FigureScope scope)
{
    const Figure *sinkage = of_boat(work, FIGURE_SINKAGE, scope), *loaded = of_boat(work, FIGURE_LOADED_MASS, scope);
    if (sinkage == NULL || loaded == NULL) {
        return;
    }
    work_begin(work);
    Interval stated = use_value(work, work->model->boat, PROP_BOAT_AIR_DRAFT, 0).value;
    Interval height = interval_subtract(stated, use_figure(work, sinkage).value);
    if (loaded->partial) {
        height.low = fmin(height.low, stated.low);
    }
    Figure *figure = record(work, FIGURE_HEIGHT_OVER_WATER, scope, height,
                            loaded->partial ? "from {air-draft} to {air-draft} - {sinkage}" : "{air-draft} - {sinkage}");
    figure->remark = loaded->remark; /* no bound is lacking: what is not weighed lowers her, and is in the range */
}

/* With her tanks empty she stands highest; as she states where too little is weighed to say how deep she floats. */
static void record_air_draft(Work *work)
{
    const Figure *loaded = of_boat(work, FIGURE_LOADED_MASS, SCOPE_WHOLE);
    bool study = loaded != NULL && weighs_half(work, loaded);
    for (size_t i = 0; i < STATES && study; i++) {
        record_height(work, states[i]);
    }
    const Figure *most = of_boat(work, FIGURE_HEIGHT_OVER_WATER, SCOPE_TANKS_EMPTY);
    most = most != NULL ? most : of_boat(work, FIGURE_HEIGHT_OVER_WATER, SCOPE_WHOLE);
    work_begin(work);
    Interval height = most != NULL ? use_figure(work, most).value : use_value(work, work->model->boat, PROP_BOAT_AIR_DRAFT, 0).value;
    Figure *figure = record(work, FIGURE_AIR_DRAFT, SCOPE_WHOLE, height, most != NULL ? "{height-over-water}, tanks empty" : "{air-draft}, as stated");
    figure->remark = most != NULL ? most->remark : "on her lines: too little is weighed to say how deep she floats";
}

/* To which side, and `more`; of what is not known only that. */
static const char *side_remark(const Work *work, Interval value, const char *negative, const char *positive,
                               const char *more)
{
    Arena *arena = work->figures->arena;
    if (work->state != STATE_KNOWN || (value.low == 0.0 && value.high == 0.0)) {
        return more; /* she leans to neither */
    }
    const char *side = value.high <= 0.0  ? negative
                       : value.low >= 0.0 ? positive
                                          : text_format(arena, "%s or %s", negative, positive);
    return more != NULL ? text_format(arena, "%s; %s", side, more) : side;
}

/* Longitudinal radius over all corners: it rises with waterplane, waterline and beam, falls with displacement. */
static Interval use_radius_along(Work *work, Interval *displacement)
{
    const Entity *boat = work->model->boat;
    double density = density_of(work->model);
    Interval cwp = use_value(work, boat, PROP_BOAT_WATERPLANE, 0).value;
    Interval length = use_value(work, boat, PROP_BOAT_WATERLINE, 0).value;
    Interval beam = use_value(work, boat, PROP_BOAT_BEAM, 0).value;
    *displacement = use_value(work, boat, PROP_BOAT_DISPLACEMENT, 0).value;
    return interval_corners(radius_along_m(cwp.low, length.low, beam.low, displacement->high, density),
                            radius_along_m(cwp.high, length.high, beam.high, displacement->low, density));
}

/* Such a length goes by the inverse of the displacement, so each of its ends belongs to the other end of that. */
static Interval times_inverse(Interval displacement, Interval length)
{
    bool bounded = displacement.low > 0.0 && isfinite(displacement.high) && isfinite(length.high);
    return bounded ? interval_corners(displacement.high * length.low, displacement.low * length.high)
                   : interval_multiply(displacement, length);
}

/* The angle whose tangent is moment / lever. A lever that is nothing or less leaves her no rest on this side of 90 degrees. */
static Interval turned_by(Interval moment, Interval lever)
{
    static const double over = 1.5707963267948966;
    if (lever.high <= 0.0) {
        return point(over);
    }
    Interval by = interval_size(moment);
    if (lever.low <= 0.0) {
        return interval_corners(atan(by.low / lever.high), over);
    }
    Interval tangent = interval_divide(by, lever);
    return interval_corners(atan(tangent.low), atan(tangent.high));
}

static void record_trim(Work *work, FigureScope scope)
{
    const Figure *centre = of_boat(work, FIGURE_LCG, scope);
    work_begin(work);
    Interval displacement;
    Interval radius = use_radius_along(work, &displacement);
    Interval moment = use_figure(work, of_boat(work, FIGURE_TRIMMING, scope)).value;
    record(work, FIGURE_TRIM, scope, turned_by(moment, times_inverse(displacement, radius)),
           "with the radius by {waterplane}, {waterline}, {beam}, x {displacement}: atan({trimming} / that)")
        ->remark = side_remark(work, moment, "by the head", "by the stern", centre->remark);
}

/*
 * What rights her: displacement x (gm - what slack tanks take). That loss goes by the inverse of the displacement, so
 * their product does not hang on it: each end of the one belongs to the other end of the other.
 */
static Interval use_righting(Work *work, const Figure *slack, const char **formula)
{
    const Entity *boat = work->model->boat;
    Interval displacement = use_value(work, boat, PROP_BOAT_DISPLACEMENT, 0).value;
    Interval righting = interval_multiply(displacement, use_value(work, boat, PROP_BOAT_GM, 0).value);
    *formula = "{displacement} x {gm}";
    if (slack == NULL) {
        return righting;
    }
    *formula = "{displacement} x ({gm} - {slack-loss})";
    return interval_subtract(righting, times_inverse(displacement, use_figure(work, slack).value));
}

static void record_heel(Work *work, FigureScope scope)
{
    const Figure *slack = of_boat(work, FIGURE_SLACK_LOSS, scope);
    const Figure *centre = of_boat(work, FIGURE_TCG, scope);
    Arena *arena = work->figures->arena;
    work_begin(work);
    Interval moment = use_figure(work, of_boat(work, FIGURE_MOMENT_STARBOARD, scope)).value;
    const char *formula;
    Interval righting = use_righting(work, slack, &formula);
    const char *more = righting.high <= 0.0 && work->state == STATE_KNOWN
                           ? "she does not stand upright by herself"
                           : centre->remark;
    record(work, FIGURE_HEEL, scope, turned_by(moment, righting),
           text_format(arena, "atan({moment-starboard} / (%s))", formula))
        ->remark = side_remark(work, moment, "to port", "to starboard", more);
}

/* ---- Free surface -------------------------------------------------------------------------------------- */

/* A choice of this program: no tank is taken to be shallower, so that one of known volume cannot be as wide as the sea. */
static const double shallowest_m = 0.05;

/* How the surface in a tank lies: that of a box, or anything from a point up to `most`, or a circle. */
typedef enum Surface { SURFACE_BOX, SURFACE_IN_BOX, SURFACE_UNKNOWN, SURFACE_ROUND } Surface;

/* A tank that holds less than the box around it is narrower somewhere, and nobody says at which level. */
static Surface surface_of(const Entity *tank)
{
    TankShape shape = tank_shape(tank);
    bool narrower = shape == TANK_LYING || shape == TANK_TAPERED || tank_is_no_box(tank);
    return shape == TANK_UNSAID ? SURFACE_UNKNOWN : narrower ? SURFACE_IN_BOX : shape == TANK_UPRIGHT ? SURFACE_ROUND : SURFACE_BOX;
}

/* The second moment of a circle by that of the square around it: pi / 64 over 1 / 12. */
#define ROUND_SHARE (12.0 * 3.14159265358979323846 / 64.0)

typedef struct Sides {
    Interval length, breadth;
} Sides;

/* gm and displacement. */
static bool states_what_slack_takes_of(const Entity *boat)
{
    return boat != NULL && entity_states(boat, PROP_BOAT_GM) && entity_states(boat, PROP_BOAT_DISPLACEMENT);
}

/* One that says neither what it holds nor its sides. */
static bool says_nothing(const Entity *tank)
{
    return !entity_states(tank, PROP_TANK_CAPACITY) && tank_shape(tank) == TANK_UNSAID;
}

/* The broadest that such a volume can lie: from side to side of her, and shallow; without a volume there is no bound. */
static Sides use_broadest(Work *work, const Entity *tank)
{
    if (says_nothing(tank)) {
        return (Sides){point(INFINITY), point(1.0)};
    }
    Interval beam = use_value(work, work->model->boat, PROP_BOAT_BEAM, 0).value;
    Interval volume = use_figure(work, figure_find(work->figures, tank, FIGURE_VOLUME, NULL)).value;
    Interval depth = use_fact(work, "depth", point(shallowest_m), UNIT_ALONE(UNIT_M),
                              "no tank is taken to be shallower: a choice of this program").value;
    return (Sides){point(volume.high / depth.low / beam.high), point(beam.high)};
}

static Sides use_sides(Work *work, const Entity *tank)
{
    TankSide along = tank_side(tank, TANK_LENGTH), across = tank_side(tank, TANK_BREADTH);
    Interval length = use_value(work, tank, along.prop, along.slot).value;
    return (Sides){length, use_value(work, tank, across.prop, across.slot).value};
}

/*
 * What a tank takes of her metacentric height while it is slack. Of one that does not say its sides it is asked only where
 * she states what there is to take of: nothing else rests on a bound so wide.
 */
static void record_tank(Work *work, const Entity *tank)
{
    static const char *const formulas[] = {"{length} x ({breadth})^3 x {density} / (12 x {displacement})",
                                           "from 0 to {length} x ({breadth})^3 x {density} / (12 x {displacement})",
                                           "from 0 to ({beam})^2 x {volume} / {depth} x {density} / (12 x {displacement})",
                                           "pi / 64 x ({diameter})^4 x {density} / {displacement}"};
    static const char *const remarks[] = {"baffles are not counted on",
                                          "it is narrower somewhere: its surface is that of the box around it at most",
                                          "it does not say how broad it is: from side to side of her at most",
                                          "baffles are not counted on"};
    Surface surface = surface_of(tank);
    const Entity *boat = work->model->boat;
    bool can = entity_yes(tank, PROP_COMMON_PORTABLE) == 1; /* what one carries is as broad as one's arms, not as she is */
    if (surface == SURFACE_UNKNOWN && (can || !states_what_slack_takes_of(boat))) {
        return;
    }
    work_begin(work);
    Sides sides = surface == SURFACE_UNKNOWN ? use_broadest(work, tank) : use_sides(work, tank);
    double density = content_density_kg_per_m3(tank_content(work->model, tank));
    use_fact(work, "density of what it holds", point(density), UNIT_BY(UNIT_KG, UNIT_M3), "as in its full-mass");
    Interval displacement = use_value(work, boat, PROP_BOAT_DISPLACEMENT, 0).value;
    Interval loss = interval_corners(slack_loss_m(density, sides.length.low, sides.breadth.low, displacement.high),
                                     slack_loss_m(density, sides.length.high, sides.breadth.high, displacement.low));
    loss = surface == SURFACE_ROUND ? interval_scale(loss, ROUND_SHARE) : loss;
    loss.low = surface == SURFACE_BOX || surface == SURFACE_ROUND ? loss.low : 0.0;
    if (says_nothing(tank)) {
        work_record(work, FIGURE_SLACK_LOSS, tank, NULL, interval(0.0, INFINITY), "anything: neither `size` nor `capacity` is stated")
            ->remark = remarks[surface];
        return;
    }
    bool several = surface != SURFACE_UNKNOWN && entity_states(tank, PROP_COMMON_COUNT); /* its volume is that of all */
    loss = several ? interval_multiply(loss, use_count(work, tank).value) : loss;
    work_record(work, FIGURE_SLACK_LOSS, tank, NULL, loss,
                several ? text_format(work->figures->arena, "%s x {count}", formulas[surface]) : formulas[surface])
        ->remark = remarks[surface];
}

/* A tank is slack unless it is full or empty. */
static bool is_slack(const Work *work, const Entity *tank, FigureScope scope)
{
    const Value *level = property_value(model_property(work->model, tank, PROP_TANK_FILL_LEVEL), 0);
    return scope == SCOPE_TANKS_HALF || level->kind != VALUE_QUANTITY ||
           (level->u.quantity.high > 0.0 && level->u.quantity.low < 1.0);
}

static void record_slack_loss(Work *work, FigureScope scope)
{
    Sum sum;
    size_t slack = 0;
    sum_begin(&sum, work);
    for (const Entity *tank = first_aboard(work->model, KIND_TANK); tank != NULL; tank = next_aboard(tank)) {
        const Figure *loss = figure_find(work->figures, tank, FIGURE_SLACK_LOSS, NULL);
        if (loss != NULL && is_slack(work, tank, scope)) {
            sum_next(&sum);
            sum_label(&sum, work, "", tank, "slack-loss");
            sum_add(&sum, use_figure(work, loss).value);
            slack++;
        }
    }
    for (const Entity *tank = first_aboard(work->model, KIND_TANK); tank != NULL && scope == SCOPE_WHOLE;
         tank = next_aboard(tank)) {
        use_value(work, tank, PROP_TANK_FILL_LEVEL, 0); /* which of them are slack hangs on it */
    }
    if (slack > 0) {
        record(work, FIGURE_SLACK_LOSS, scope, sum.value, sum.formula.text)->remark =
            states_what_slack_takes_of(work->model->boat) ? "baffles are not counted on"
                                            : "tanks that state neither `size` nor `cylinder` are left out; baffles are not counted on";
    }
}

/* ---- Any mass more ------------------------------------------------------------------------------------- */

static void record_immersion(Work *work)
{
    work_begin(work);
    Interval mass = use_immersion(work);
    record(work, FIGURE_IMMERSION, SCOPE_WHOLE, mass, "{waterline} x {beam} x {waterplane} x {density}")
        ->unit = work_unit(work, UNIT_BY(UNIT_KG, UNIT_CM));
}

static void record_trim_moment(Work *work)
{
    work_begin(work);
    Interval displacement;
    Interval radius = use_radius_along(work, &displacement);
    Interval length = use_value(work, work->model->boat, PROP_BOAT_WATERLINE, 0).value;
    record(work, FIGURE_TRIM_MOMENT, SCOPE_WHOLE,
           interval_divide(times_inverse(displacement, radius), length),
           "radius by {waterplane}, {waterline}, {beam}; x {displacement} / {waterline}")
        ->unit = work_unit(work, UNIT_BY(UNIT_KG_M, UNIT_CM));
}

static void record_heel_moment(Work *work)
{
    const Figure *slack = of_boat(work, FIGURE_SLACK_LOSS, SCOPE_WHOLE);
    const char *formula;
    work_begin(work);
    Interval righting = use_righting(work, slack, &formula);
    record(work, FIGURE_HEEL_MOMENT, SCOPE_WHOLE, righting, formula)->unit =
        work_unit(work, UNIT_BY(UNIT_KG_M, UNIT_DEG));
}

/* How much of what she displaces stands behind the figures of how she floats. */
static void record_share(Work *work, FigureId id, FigureId mass, const char *formula)
{
    const Figure *figure = of_boat(work, mass, SCOPE_WHOLE);
    if (figure == NULL || !entity_states(work->model->boat, PROP_BOAT_DISPLACEMENT)) {
        return;
    }
    work_begin(work);
    Interval share = use_figure(work, figure).value;
    share = interval_divide(share, use_value(work, work->model->boat, PROP_BOAT_DISPLACEMENT, 0).value);
    record(work, id, SCOPE_WHOLE, share, formula);
}

/* For what nobody has weighed, where something is left out of a study. */
static void record_allowance(Work *work)
{
    const Figure *mass = of_boat(work, FIGURE_MASS, SCOPE_WHOLE);
    if (!weighs_half(work, mass) || !boat_leaves_out(work, PROP_COMMON_MASS)) {
        return;
    }
    work_begin(work);
    Interval all = use_figure(work, mass).value;
    Quantity share = use_fact(work, "allowed for what is not weighed", interval(0.05, 0.1),
                              UNIT_ALONE(UNIT_PERCENT), "common practice, no source");
    Figure *allowance =
        record(work, FIGURE_ALLOWANCE, SCOPE_WHOLE, interval_multiply(all, share.value), "{mass} x {share}");
    allowance->unit = mass->unit;
    work_begin(work);
    Interval more = use_figure(work, allowance).value;
    record(work, FIGURE_ALLOWANCE_SINKAGE, SCOPE_WHOLE, interval_divide(more, use_immersion(work)),
           "{allowance} / ({waterline} x {beam} x {waterplane} x {density})");
}

void figures_weight(Work *work)
{
    for (const Entity *tank = first_aboard(work->model, KIND_TANK); tank != NULL; tank = next_aboard(tank)) {
        record_tank(work, tank);
    }
    record_slack_loss(work, SCOPE_WHOLE);
    record_slack_loss(work, SCOPE_TANKS_HALF);
    for (size_t i = 0; i < STATES; i++) {
        record_sinkage(work, states[i]);
        if (of_boat(work, FIGURE_LCG, states[i]) != NULL) {
            record_trim(work, states[i]);
            record_heel(work, states[i]);
        }
    }
    if (work->model->boat != NULL && entity_states(work->model->boat, PROP_BOAT_AIR_DRAFT)) {
        record_air_draft(work);
    }
    record_share(work, FIGURE_WEIGHED_SHARE, FIGURE_LOADED_MASS, "{loaded-mass} / {displacement}");
    record_share(work, FIGURE_PLACED_SHARE, FIGURE_PLACED_MASS, "{placed-mass} / {displacement}");
    bool weighed = of_boat(work, FIGURE_MASS, SCOPE_WHOLE) != NULL;
    if (weighed || (work->model->boat != NULL && entity_states(work->model->boat, PROP_BOAT_DISPLACEMENT))) {
        record_immersion(work); /* neither needs anything weighed */
        record_trim_moment(work);
    }
    if (weighed) {
        record_heel_moment(work);
        record_allowance(work);
    }
}
