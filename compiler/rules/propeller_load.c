/*
 * Whether a propeller takes what the engine gives, and which pitch or diameter would. See rules_propeller.c.
 */
#include "base/num.h"
#include "figures/drive.h"
#include "rules/ask.h"
#include "rules/drive_rules.h"
#include "rules/families.h"
#include "rules/plumbing.h"

#include <math.h>

#define PERCENT UNIT_ALONE(UNIT_PERCENT)

/* Whether the spec leaves no choice open, so that a number of this model is the number of the boat. */
static bool is_one_boat(const Judge *judge)
{
    for (uint32_t i = 0; i < judge->model->choice_count; i++) {
        if (judge->model->choices[i].picked < 0 && judge->model->choices[i].option_count > 1) {
            return false;
        }
    }
    return true;
}

/* ---- propeller-load ------------------------------------------------------------------------------------ */

/* How fast the propeller turns hangs on a gearbox that the spec does not state. */
static void leave_without_gearbox(Judge *judge, const Entity *propeller, const Entity *engine)
{
    Finding *finding = judge_open(judge, propeller, place_of_name(judge, propeller), NULL, PROP_NONE);
    finding_say(judge, finding, "the spec states no gearbox of `%s`, so how fast `%s` turns is not known",
                say_name(judge, engine), say_name(judge, propeller));
    finding_hangs_on(judge, finding, engine, PROP_NONE, "gearbox");
    finding_remedy(judge, finding, "a `gearbox` with `engine %s` and its `ratio`", say_name(judge, engine));
}

/*
 * No pitch within the series fits: told whether or not one is stated. Over ranges there is no best diameter to tell of; of a
 * stated pitch its load says the same then, with the diameters that fit it.
 */
static bool judge_size(Judge *judge, const Entity *propeller, const Figure *pitch)
{
    bool small = pitch->state == STATE_KNOWN && isinf(pitch->high) && pitch->remark != NULL;
    bool large = pitch->state == STATE_KNOWN && pitch->low == 0.0;
    const Figure *best = figure_of(judge, propeller, FIGURE_BEST_DIAMETER);
    Side diameter = side_value(judge, propeller, PROP_PROPELLER_DIAMETER, 0);
    bool alone = best == NULL && pitch->none && diameter.state == STATE_KNOWN && !states_number(propeller, PROP_PROPELLER_PITCH);
    if ((!small && !large) || (best == NULL && !alone) || !interval_is_point(diameter.value)) {
        return false;
    }
    Finding *finding = judge_broken(judge, propeller, place_of(judge, propeller, PROP_PROPELLER_DIAMETER));
    finding_say(judge, finding, "`%s` of %s is too %s: %s", say_name(judge, propeller),
                say_side(judge, diameter), small ? "small" : "large",
                small
                    ? "even with a pitch of 1.4 diameters it takes less than the engine gives at rated speed"
                    : "even with a pitch of half its diameter it takes more than the engine gives at rated "
                      "speed");
    if (best == NULL) {
        finding_remedy(judge, finding, "a %s `diameter`", small ? "larger" : "smaller");
        return true;
    }
    const Figure *pitch_of_best = figure_of(judge, propeller, FIGURE_BEST_PITCH);
    finding_remedy(judge, finding, "diameter %s%s", say_figure(judge, best),
                   pitch_of_best != NULL
                       ? text_format(judge->arena, " with a pitch of %s", say_figure(judge, pitch_of_best))
                       : "");
    return true;
}

/*
 * What a screw of that pitch is ordered as. Those of outboards and sterndrives are made in whole inches alone; one on a shaft
 * is pitched to order, in whole inches or halves where one is within what the rule allows: 106 % and 89 % of the power, which
 * goes about with the square of the pitch. Nought: none is. (Common practice, no source.)
 */
static double made_pitch_in(double inches, bool to_order)
{
    const double over = 0.03, under = 0.05; /* shares of the pitch */
    for (double step = 1.0; step >= 0.5; step /= 2.0) {
        double made = round(inches / step) * step;
        if (!to_order || (made <= (1.0 + over) * inches && made >= (1.0 - under) * inches)) {
            return made;
        }
    }
    return 0.0;
}

/* Of a metric screw the figure stands as it is. */
static void remedy_pitch(Judge *judge, Finding *finding, const Entity *propeller, const Figure *pitch)
{
    const Entity *engine = entity_reference(propeller, PROP_PROPELLER_ENGINE);
    double inches = unit_from_si(UNIT_ALONE(UNIT_IN), (pitch->low + pitch->high) / 2.0);
    Side stated = side_value(judge, propeller, PROP_PROPELLER_PITCH, 0);
    double now = stated.state == STATE_KNOWN ? unit_from_si(UNIT_ALONE(UNIT_IN), stated.value.low) : 0.0;
    if (!is_one_boat(judge) || pitch->state != STATE_KNOWN || pitch->low <= 0.0 || isinf(pitch->high)) {
        return;
    }
    bool in_inches = pitch->unit.unit == UNIT_IN && isfinite(inches);
    double made = in_inches ? made_pitch_in(inches, engine == NULL || turns_a_shaft(engine)) : 0.0;
    if (made > 0.0 && interval_is_point(stated.value) && fabs(now - made) < 1e-6) {
        return; /* it has that one: what is not certain is the engine, or the boat */
    }
    if (made > 0.0) {
        bool whole = made == floor(made);
        finding_remedy(judge, finding, "pitch %s in, the %sinch next to %s", num_text_fixed(judge->arena, made, whole ? 0 : 1),
                       whole ? "" : "half ", say_figure(judge, pitch));
    } else {
        finding_remedy(judge, finding, "pitch %s", say_figure(judge, pitch));
    }
}

/*
 * The same pitch on another diameter, where the series has one that leaves the tips clear of the hull. A range of them that
 * is so narrow that each takes what the rule allows is told as it is: power goes about with the fifth power of the diameter.
 */
static void remedy_diameter(Judge *judge, Finding *finding, const Entity *propeller)
{
    const Figure *fits = figure_of(judge, propeller, FIGURE_MATCHED_DIAMETER);
    const Figure *gap = figure_of(judge, propeller, FIGURE_TIP_GAP);
    Side now = side_value(judge, propeller, PROP_PROPELLER_DIAMETER, 0);
    const double widest = 1.02;
    if (fits == NULL || fits->state != STATE_KNOWN || fits->remark != NULL || fits->high > fits->low * widest) {
        return;
    }
    double more = now.state == STATE_KNOWN ? (fits->high - now.value.low) / 2.0 : 0.0;
    double left = gap != NULL && gap->state == STATE_KNOWN ? gap->low * now.value.low - more : INFINITY;
    if (is_one_boat(judge) && left >= drive_limit(DRIVE_TIP_GAP)->value * fits->high) {
        finding_remedy(judge, finding, "diameter %s with the pitch as it is", say_figure(judge, fits));
    }
}

/* The pitch is stated, and no diameter. */
static void leave_without_diameter(Judge *judge, const Entity *propeller)
{
    Finding *finding = judge_open(judge, propeller, place_of(judge, propeller, PROP_PROPELLER_DIAMETER),
                                  propeller, PROP_PROPELLER_DIAMETER);
    finding_say(judge, finding,
                "the diameter of `%s` is not decided; its figure `matched-diameter` takes all that the engine gives with "
                "the stated pitch",
                say_name(judge, propeller));
    remedy_diameter(judge, finding, propeller);
}

/* The pitch is not decided, or not stated. */
static void leave_without_pitch(Judge *judge, const Entity *propeller, const Figure *pitch)
{
    Finding *finding = judge_open(judge, propeller, place_of(judge, propeller, PROP_PROPELLER_PITCH),
                                  propeller, PROP_PROPELLER_PITCH);
    finding_say(judge, finding,
                "the pitch of `%s` is not decided; its figure `matched-pitch` takes all that "
                "the engine gives",
                say_name(judge, propeller));
    remedy_pitch(judge, finding, propeller, pitch);
}

/* What comes of a screw that takes too much or too little. A controller holds an electric motor to its current and its turns. */
static const char *say_labour(const Entity *engine, bool over)
{
    if (engine != NULL && !burns_fuel(engine)) {
        return over ? ": its controller holds the motor back before its rated speed, or the motor overheats"
                    : ": the motor cannot give its power at its rated speed";
    }
    return over ? ": the engine labours, smokes and never reaches its rated speed"
                : ": the engine runs beyond its rated speed and cannot give its power";
}

/* With choices open each option may ask for another number: the figures tell it of each. */
static void remedy_by_figures(Judge *judge, Finding *finding, const Entity *propeller)
{
    finding_remedy(judge, finding, "`pitch` by the figure `matched-pitch` of `%s`, which may differ by what is picked", say_name(judge, propeller));
    if (figure_of(judge, propeller, FIGURE_MATCHED_DIAMETER) != NULL) {
        finding_remedy(judge, finding, "`diameter` by its figure `matched-diameter`, with the pitch as it is");
    }
}

static void say_load(Judge *judge, Finding *finding, const Entity *propeller, const Figure *load, bool over)
{
    const Figure *pitch = figure_of(judge, propeller, FIGURE_MATCHED_PITCH);
    finding_say(judge, finding, "at rated speed `%s` takes %s of what the engine gives%s",
                say_name(judge, propeller), say_figure(judge, load),
                finding->verdict == VERDICT_OPEN ? "" : say_labour(entity_reference(propeller, PROP_PROPELLER_ENGINE), over));
    if (!is_one_boat(judge)) {
        remedy_by_figures(judge, finding, propeller);
    } else if (pitch != NULL) {
        remedy_pitch(judge, finding, propeller, pitch);
    }
    remedy_diameter(judge, finding, propeller);
    if (load->remark != NULL) {
        finding_here(judge, finding, "%s", load->remark);
    }
}

/*
 * Whether no whole inch is nearer to the pitch that fits: there is no better screw to be had. Of outboards and sterndrives
 * alone: one on a shaft is pitched to order. (Common practice, no source.)
 */
static bool is_nearest_inch(Judge *judge, const Entity *propeller)
{
    const Entity *engine = entity_reference(propeller, PROP_PROPELLER_ENGINE);
    if (engine == NULL || turns_a_shaft(engine)) {
        return false;
    }
    const Figure *fits = figure_of(judge, propeller, FIGURE_MATCHED_PITCH);
    Side pitch = side_value(judge, propeller, PROP_PROPELLER_PITCH, 0);
    if (fits == NULL || fits->state != STATE_KNOWN || fits->unit.unit != UNIT_IN || pitch.state != STATE_KNOWN) {
        return false;
    }
    double off_m = fmax(fabs(pitch.value.high - fits->low), fabs(fits->high - pitch.value.low));
    return unit_from_si(UNIT_ALONE(UNIT_IN), off_m) <= 0.5;
}

static void judge_load(Judge *judge, const Entity *propeller)
{
    const Figure *load = figure_of(judge, propeller, FIGURE_PROPELLER_LOAD);
    Span place = place_of(judge, propeller, PROP_PROPELLER_PITCH);
    Side most = side_number(drive_limit(DRIVE_LOAD_MOST)->value, PERCENT);
    Side least = side_number(drive_limit(DRIVE_LOAD_LEAST)->value, PERCENT);
    Side takes = side_figure(load);
    if (is_nearest_inch(judge, propeller) && side_is_known(takes)) {
        takes.value = point(1.0); /* compared all the same: what settles it looks at the comparison */
    }
    Finding *finding = judge_at_most(judge, propeller, place, takes, most);
    if (finding != NULL) {
        say_load(judge, finding, propeller, load, true);
    } else if (load != NULL && load->state == STATE_KNOWN) {
        finding = judge_at_least(judge, propeller, place, takes, least);
        if (finding != NULL) {
            say_load(judge, finding, propeller, load, false);
        }
    }
}

void judge_propeller_load(Judge *judge, const Entity *propeller)
{
    const Entity *engine = entity_reference(propeller, PROP_PROPELLER_ENGINE);
    if (engine == NULL || has_mistake(propeller, PROP_PROPELLER_DIAMETER) ||
        has_mistake(propeller, PROP_PROPELLER_PITCH)) {
        judge_waiting(judge);
        return;
    }
    if (!is_aboard(engine)) {
        return;
    }
    bool geared = gearbox_of(judge->model, engine) != NULL || is_direct(judge->model, engine);
    if (!geared && some_is_mistaken(judge, KIND_GEARBOX)) {
        judge_waiting(judge);
        return;
    }
    if (!geared) {
        leave_without_gearbox(judge, propeller, engine);
        return;
    }
    const Figure *pitch = figure_of(judge, propeller, FIGURE_MATCHED_PITCH);
    if (pitch == NULL || pitch->state == STATE_MISSING) {
        judge_at_most(judge, propeller, place_of_name(judge, propeller), side_figure(pitch),
                      side_figure(pitch));
    } else if (judge_size(judge, propeller, pitch)) {
        return;
    } else if (!states_number(propeller, PROP_PROPELLER_PITCH)) {
        leave_without_pitch(judge, propeller, pitch);
    } else if (!states_number(propeller, PROP_PROPELLER_DIAMETER)) {
        leave_without_diameter(judge, propeller);
    } else {
        judge_load(judge, propeller);
    }
}
