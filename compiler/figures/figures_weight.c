/*
 * Figures of the weight study: what the things aboard do to how she floats, with her tanks at their fill-level, empty,
 * half full and full; and what any mass more would do.
 *
 * Angles are sizes, their remark says to which side. Displacement and waterplane are hers on her lines, so the angles are
 * what the things aboard do to a boat that would float level without them.
 */
#include "figures/boat.h"
#include "figures/water.h"

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
    figure->remark = loaded->remark;
}

/* How far from the foremost point her centre of buoyancy lies. */
static Interval use_buoyancy(Work *work, Buf *formula)
{
    const Entity *boat = work->model->boat;
    Quantity stated = use_stated(work, boat, PROP_BOAT_BUOYANCY, 0);
    if (stated.state != STATE_MISSING) {
        buf_text(formula, "{buoyancy}");
        return stated.value;
    }
    Interval share =
        use_fact(work, "centre of buoyancy, share of the waterline aft of its fore end", interval(0.51, 0.55),
                 UNIT_ALONE(UNIT_PERCENT), "common practice, no source; equal overhangs")
            .value;
    Interval waterline = use_value(work, boat, PROP_BOAT_WATERLINE, 0).value;
    Interval length = use_value(work, boat, PROP_BOAT_LENGTH, 0).value;
    buf_text(formula, "({share} x {waterline} + ({length} - waterline) / 2)");
    Interval overhang = interval_scale(interval_subtract(length, waterline), 0.5);
    return interval_add(interval_multiply(share, waterline), overhang);
}

static Interval size_of(Interval signed_value)
{
    double low = fabs(signed_value.low), high = fabs(signed_value.high);
    bool both = signed_value.low < 0.0 && signed_value.high > 0.0;
    return interval(both ? 0.0 : fmin(low, high), fmax(low, high));
}

static const char *side_remark(Arena *arena, Interval value, const char *negative, const char *positive,
                               const char *more)
{
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

/* The radius goes by the inverse of the displacement, so each of its ends belongs to the other end of that. */
static Interval times_radius(Interval displacement, Interval radius)
{
    bool bounded = displacement.low > 0.0 && isfinite(displacement.high) && isfinite(radius.high);
    return bounded ? interval_corners(displacement.high * radius.low, displacement.low * radius.high)
                   : interval_multiply(displacement, radius);
}

static void record_angle(Work *work, FigureId id, FigureScope scope, Interval moment, Interval lever,
                         const char *formula, const char *remark)
{
    Interval tangent = size_of(interval_divide(moment, lever));
    record(work, id, scope, interval_corners(atan(tangent.low), atan(tangent.high)), formula)->remark =
        remark;
}

static void record_trim(Work *work, FigureScope scope)
{
    Buf formula;
    buf_init(&formula, work->figures->arena);
    work_begin(work);
    Interval mass = use_figure(work, of_boat(work, FIGURE_PLACED_MASS, scope)).value;
    const Figure *centre = of_boat(work, FIGURE_LCG, scope);
    Interval lcg = use_figure(work, centre).value;
    buf_text(&formula, "atan({placed-mass} x ({lcg} - ");
    Interval arm = interval_subtract(lcg, use_buoyancy(work, &formula));
    Interval displacement;
    Interval radius = use_radius_along(work, &displacement);
    buf_text(&formula, ") / (radius by {waterplane}, {waterline}, {beam}; x {displacement}))");
    const char *remark =
        side_remark(work->figures->arena, arm, "by the head", "by the stern", centre->remark);
    record_angle(work, FIGURE_TRIM, scope, interval_multiply(mass, arm),
                 times_radius(displacement, radius), formula.text, remark);
}

/* What is left of the metacentric height where tanks are slack. */
static Interval use_gm(Work *work, const Figure *slack)
{
    Interval gm = use_value(work, work->model->boat, PROP_BOAT_GM, 0).value;
    return slack != NULL ? interval_subtract(gm, use_figure(work, slack).value) : gm;
}

static void record_heel(Work *work, FigureScope scope)
{
    const Entity *boat = work->model->boat;
    const Figure *slack = of_boat(work, FIGURE_SLACK_LOSS, scope);
    const Figure *centre = of_boat(work, FIGURE_TCG, scope);
    work_begin(work);
    Interval mass = use_figure(work, of_boat(work, FIGURE_PLACED_MASS, scope)).value;
    Interval tcg = use_figure(work, centre).value;
    Interval displacement = use_value(work, boat, PROP_BOAT_DISPLACEMENT, 0).value;
    Interval gm = use_gm(work, slack);
    const char *formula = slack != NULL ? "atan({placed-mass} x {tcg} / ({displacement} x ({gm} - {slack-loss})))"
                                        : "atan({placed-mass} x {tcg} / ({displacement} x {gm}))";
    if (work->state == STATE_KNOWN && gm.high <= 0.0) {
        return; /* she would not stand upright: told by the rule on slack water */
    }
    const char *remark = side_remark(work->figures->arena, tcg, "to port", "to starboard", centre->remark);
    record_angle(work, FIGURE_HEEL, scope, interval_multiply(mass, tcg), interval_multiply(displacement, gm),
                 formula, remark);
}

/* ---- Free surface -------------------------------------------------------------------------------------- */

/* What a tank takes of her metacentric height while it is slack; nothing of one that does not say its sides. */
static void record_tank(Work *work, const Entity *tank)
{
    if (!entity_states(tank, PROP_TANK_SIZE)) {
        return;
    }
    work_begin(work);
    Interval length = use_value(work, tank, PROP_TANK_SIZE, 0).value;
    Interval breadth = use_value(work, tank, PROP_TANK_SIZE, 1).value;
    double density = content_density_kg_per_m3(tank_content(work->model, tank));
    use_fact(work, "density of what it holds", point(density), UNIT_BY(UNIT_KG, UNIT_M3),
             "as in its full-mass");
    Interval displacement = use_value(work, work->model->boat, PROP_BOAT_DISPLACEMENT, 0).value;
    Interval loss = interval_corners(slack_loss_m(density, length.low, breadth.low, displacement.high),
                                     slack_loss_m(density, length.high, breadth.high, displacement.low));
    work_record(work, FIGURE_SLACK_LOSS, tank, NULL, loss,
                "{length} x ({breadth})^3 x {density} / (12 x {displacement})")
        ->remark = "baffles are not counted on";
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
            "tanks without a `size` are left out; baffles are not counted on";
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
           interval_divide(times_radius(displacement, radius), length),
           "radius by {waterplane}, {waterline}, {beam}; x {displacement} / {waterline}")
        ->unit = UNIT_BY(UNIT_KG_M, UNIT_CM);
}

static void record_heel_moment(Work *work)
{
    const Entity *boat = work->model->boat;
    const Figure *slack = of_boat(work, FIGURE_SLACK_LOSS, SCOPE_WHOLE);
    work_begin(work);
    Interval displacement = use_value(work, boat, PROP_BOAT_DISPLACEMENT, 0).value;
    Interval gm = use_gm(work, slack);
    record(work, FIGURE_HEEL_MOMENT, SCOPE_WHOLE, interval_multiply(displacement, gm),
           slack != NULL ? "{displacement} x ({gm} - {slack-loss})" : "{displacement} x {gm}")
        ->unit = UNIT_BY(UNIT_KG_M, UNIT_DEG);
}

/* Whether it is a study at all: at least half of what she displaces is weighed. */
static bool weighs_half(Work *work, const Figure *mass)
{
    Quantity displacement = use_stated(work, work->model->boat, PROP_BOAT_DISPLACEMENT, 0);
    return displacement.state == STATE_KNOWN && mass->high >= 0.5 * displacement.value.low;
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
    if (of_boat(work, FIGURE_MASS, SCOPE_WHOLE) != NULL) {
        record_immersion(work);
        record_trim_moment(work);
        record_heel_moment(work);
        record_allowance(work);
    }
}
