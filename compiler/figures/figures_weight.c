/*
 * Figures of the weight study: where the centre of what is aboard lies, and what that does to how she floats.
 *
 * Only what states both its mass and its place counts in the centres; the rest is taken to be where it does no harm, and a
 * remark says how much that is. Angles are sizes, their remark says to which side. Displacement and waterplane are hers on
 * her lines, so the angles are what the things aboard do to a boat that would float level without them.
 */
#include "figures/boat.h"
#include "figures/water.h"

#include "physics/weight.h"

#include <math.h>

/* Everything that is placed: masses and places side by side. */
typedef struct Study {
    Work *work;
    Interval *masses, *places;
    size_t count;
    uint32_t unplaced; /* things that are weighed and not placed */
    const char *remark;
} Study;

static bool is_placed(const Entity *entity)
{
    return entity_states(entity, PROP_COMMON_AT);
}

static Interval use_contents(Work *work, const Entity *tank)
{
    const Figure *full = figure_find(work->figures, tank, FIGURE_FULL_MASS, NULL);
    if (full == NULL) {
        return point(0.0);
    }
    Interval mass = use_figure(work, full).value;
    return interval_multiply(mass, use_value(work, tank, PROP_TANK_FILL_LEVEL, 0).value);
}

/* The mass of a thing and of what is in it; false if it is not stated. */
static bool use_mass(Work *work, const Entity *entity, Interval *mass)
{
    Quantity own = use_stated(work, entity, PROP_COMMON_MASS, 0);
    if (own.state == STATE_MISSING) {
        return false;
    }
    *mass = interval_multiply(own.value, boat_pieces(work, entity));
    if (entity->kind == KIND_TANK) {
        *mass = interval_add(*mass, use_contents(work, entity));
    }
    return true;
}

/* All that is weighed and placed; slot of `at` is the direction, or -1 for the masses alone. */
static void gather(Study *study, int slot)
{
    Work *work = study->work;
    const Model *model = work->model;
    work_begin(work);
    study->count = 0;
    study->unplaced = 0;
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *entity = model->entities[i];
        if (!entity_states(entity, PROP_COMMON_MASS) || !boat_counts(work, entity)) {
            continue;
        }
        if (!is_placed(entity)) {
            study->unplaced++;
            continue;
        }
        if (use_mass(work, entity, &study->masses[study->count])) {
            study->places[study->count] =
                slot >= 0 ? use_stated(work, entity, PROP_COMMON_AT, (unsigned)slot).value : point(0.0);
            study->count++;
        }
    }
}

static void record_placed_mass(Study *study)
{
    gather(study, -1);
    Interval sum = point(0.0);
    for (size_t i = 0; i < study->count; i++) {
        sum = interval_add(sum, study->masses[i]);
    }
    if (study->unplaced > 0) {
        study->remark =
            text_format(study->work->figures->arena, "%u weighed %s no place", (unsigned)study->unplaced,
                        study->unplaced == 1 ? "thing has" : "things have");
    }
    if (study->count > 0) {
        Figure *figure = work_record(study->work, FIGURE_PLACED_MASS, study->work->model->boat, NULL, sum,
                                     "sum of mass x (count + spare), and of full-mass x fill-level");
        figure->unit = mass_unit(study->work->model);
        figure->remark = study->remark;
    }
}

static void record_centre(Study *study, FigureId id, int slot)
{
    gather(study, slot);
    Figure *figure = work_record(study->work, id, study->work->model->boat, NULL,
                                 weighted_mean(study->masses, study->places, study->count),
                                 "sum of mass x place / sum of mass");
    figure->unit = unit_of(study->work->model->boat, PROP_BOAT_LENGTH, figure->unit);
    figure->remark = study->remark;
}

/* Her hull */

static double density_of(const Model *model)
{
    Str water = entity_word(model->boat, PROP_BOAT_WATER);
    return str_is(water, "fresh")      ? FRESH_WATER_KG_PER_M3
           : str_is(water, "brackish") ? BRACKISH_WATER_KG_PER_M3
                                       : SALT_WATER_KG_PER_M3;
}

static const Figure *of_boat(const Work *work, FigureId id)
{
    return figure_find(work->figures, work->model->boat, id, NULL);
}

static void record_sinkage(Work *work)
{
    const Entity *boat = work->model->boat;
    const Figure *loaded = of_boat(work, FIGURE_LOADED_MASS);
    if (loaded == NULL || !entity_states(boat, PROP_BOAT_DISPLACEMENT)) {
        return;
    }
    work_begin(work);
    Interval more = interval_subtract(use_figure(work, loaded).value,
                                      use_value(work, boat, PROP_BOAT_DISPLACEMENT, 0).value);
    Interval area = interval_multiply(use_value(work, boat, PROP_BOAT_WATERLINE, 0).value,
                                      use_value(work, boat, PROP_BOAT_BEAM, 0).value);
    area = interval_multiply(area, use_value(work, boat, PROP_BOAT_WATERPLANE, 0).value);
    double density = density_of(work->model);
    use_fact(work, "density of the water, kg/m3", point(density), UNIT_ALONE(UNIT_NONE),
             "salt 1025, brackish 1010, fresh 1000");
    Figure *figure =
        work_record(work, FIGURE_SINKAGE, boat, NULL, interval_divide(more, interval_scale(area, density)),
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

static void record_angle(Work *work, FigureId id, Interval moment, Interval lever, const char *formula,
                         const char *remark)
{
    Interval tangent = size_of(interval_divide(moment, lever));
    Figure *figure = work_record(work, id, work->model->boat, NULL,
                                 interval_corners(atan(tangent.low), atan(tangent.high)), formula);
    figure->remark = remark;
}

static void record_trim(Study *study)
{
    Work *work = study->work;
    Buf formula;
    buf_init(&formula, work->figures->arena);
    work_begin(work);
    Interval mass = use_figure(work, of_boat(work, FIGURE_PLACED_MASS)).value;
    Interval lcg = use_figure(work, of_boat(work, FIGURE_LCG)).value;
    buf_text(&formula, "atan({placed-mass} x ({lcg} - ");
    Interval arm = interval_subtract(lcg, use_buoyancy(work, &formula));
    Interval displacement;
    Interval radius = use_radius_along(work, &displacement);
    buf_text(&formula, ") / (radius by {waterplane}, {waterline}, {beam}; x {displacement}))");
    const char *remark = side_remark(work->figures->arena, arm, "by the head", "by the stern", study->remark);
    record_angle(work, FIGURE_TRIM, interval_multiply(mass, arm), interval_multiply(displacement, radius),
                 formula.text, remark);
}

static void record_heel(Study *study)
{
    Work *work = study->work;
    const Entity *boat = work->model->boat;
    const Figure *slack = of_boat(work, FIGURE_SLACK_LOSS);
    work_begin(work);
    Interval mass = use_figure(work, of_boat(work, FIGURE_PLACED_MASS)).value;
    Interval tcg = use_figure(work, of_boat(work, FIGURE_TCG)).value;
    Interval displacement = use_value(work, boat, PROP_BOAT_DISPLACEMENT, 0).value;
    Interval gm = use_value(work, boat, PROP_BOAT_GM, 0).value;
    const char *formula = "atan({placed-mass} x {tcg} / ({displacement} x {gm}))";
    if (slack != NULL) {
        gm = interval_subtract(gm, use_figure(work, slack).value);
        formula = "atan({placed-mass} x {tcg} / ({displacement} x ({gm} - {slack-loss})))";
    }
    if (work->state == STATE_KNOWN && gm.low <= 0.0) {
        return; /* she would not stand upright: told by the rule on slack water */
    }
    const char *remark = side_remark(work->figures->arena, tcg, "to port", "to starboard", study->remark);
    record_angle(work, FIGURE_HEEL, interval_multiply(mass, tcg), interval_multiply(displacement, gm),
                 formula, remark);
}

/* A tank is slack unless it is full or empty. */
static bool is_slack(Work *work, const Entity *tank)
{
    Interval level = use_value(work, tank, PROP_TANK_FILL_LEVEL, 0).value;
    return level.high > 0.0 && level.low < 1.0;
}

static void record_slack_loss(Work *work)
{
    const Entity *boat = work->model->boat;
    Sum sum;
    sum_begin(&sum, work);
    Interval displacement = use_value(work, boat, PROP_BOAT_DISPLACEMENT, 0).value;
    size_t tanks = 0;
    buf_text(&sum.formula, "1 / {displacement} x (");
    for (const Entity *tank = first_aboard(work->model, KIND_TANK); tank != NULL; tank = next_aboard(tank)) {
        if (!entity_states(tank, PROP_TANK_SIZE) || !is_slack(work, tank)) {
            continue;
        }
        Interval length = use_value(work, tank, PROP_TANK_SIZE, 0).value;
        Interval breadth = use_value(work, tank, PROP_TANK_SIZE, 1).value;
        double density = content_density_kg_per_m3(tank_content(work->model, tank));
        buf_format(&sum.formula, "%sdensity x l x b^3 / 12 of %.*s", tanks++ > 0 ? " + " : "",
                   STR_ARG(entity_name(work->model, tank)));
        sum.value = interval_add(
            sum.value, interval_corners(slack_loss_m(density, length.low, breadth.low, displacement.high),
                                        slack_loss_m(density, length.high, breadth.high, displacement.low)));
    }
    buf_char(&sum.formula, ')');
    if (tanks > 0) {
        Figure *figure = work_record(work, FIGURE_SLACK_LOSS, boat, NULL, sum.value, sum.formula.text);
        figure->remark = "tanks without a `size` are left out; baffles are not counted on";
    }
}

void figures_weight(Work *work)
{
    const Model *model = work->model;
    if (model->boat == NULL) {
        return;
    }
    Study study = {.work = work,
                   .masses = ARENA_ARRAY(work->figures->arena, Interval, model->entity_count),
                   .places = ARENA_ARRAY(work->figures->arena, Interval, model->entity_count)};
    record_slack_loss(work);
    record_sinkage(work);
    record_placed_mass(&study);
    if (study.count == 0) {
        return;
    }
    record_centre(&study, FIGURE_LCG, 0);
    record_centre(&study, FIGURE_TCG, 1);
    record_centre(&study, FIGURE_VCG, 2);
    record_trim(&study);
    record_heel(&study);
}
