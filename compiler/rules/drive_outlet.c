/*
 * Two rules of the family rules_drive: exhaust-lagged, whether a dry pipe is lagged, and exhaust-outlet. The opening in the hull by which an exhaust leaves: above the water or shut off,
 * of what lasts there, and as wide as the pipe; of a dry one, out of reach of the sea that she heels into.
 */
#include "rules/drive_rules.h"

#include "figures/drive.h"
#include "rules/plumbing.h"

#include <math.h>

/* The next exhaust that a fitting serves, from `*at` on; NULL: no more, or those that are dropped. */
static const Entity *exhaust_served(const Entity *fitting, uint16_t *at)
{
    const Entity *served = next_served(fitting, at);
    while (served != NULL && served->kind != KIND_EXHAUST) {
        served = next_served(fitting, at);
    }
    return served;
}

/* Nearer than that to the water in which she rests it is under it when she is loaded or heels; common practice, no source. */
static const double clear_of_rest_m = 0.05;

/* Its height against the water in which she lies, as a warning where it is above it by a hair; NULL: it is clear, or not known. */
static Finding *judge_if_under(Judge *judge, const Entity *fitting, PropId about)
{
    Side height = side_value(judge, fitting, PROP_THROUGH_HULL_HEIGHT, 0);
    if (height.state == STATE_MISSING) {
        return NULL;
    }
    Span place = place_of(judge, fitting, about);
    Finding *finding = judge_at_least(judge, fitting, place, height, side_number(0.0, height.unit));
    const char *lies = finding == NULL                         ? "so near to the water it is under it when she is loaded or heels"
                       : finding->verdict == VERDICT_BROKEN ? "it lies under water"
                                                               : "it may lie under water";
    if (finding == NULL) {
        finding = judge_at_least(judge, fitting, place, height, side_number(clear_of_rest_m, height.unit));
        if (finding == NULL) {
            return NULL;
        }
        finding_severity(finding, SEVERITY_WARNING);
    }
    finding_about(finding, about);
    finding_note(judge, finding, place_of(judge, fitting, PROP_THROUGH_HULL_HEIGHT), "%s", lies);
    return finding;
}

static const char *say_where(const Finding *finding)
{
    return finding->severity == SEVERITY_WARNING ? "hardly above the water" : "under water";
}

/* Under water the hose of an exhaust is one more that can come off. */
static void judge_outlet_shut(Judge *judge, const Entity *fitting, const Entity *exhaust)
{
    int seacock = entity_yes(fitting, PROP_THROUGH_HULL_SEACOCK);
    if (seacock == 1 || seacock == -2) {
        return;
    }
    Finding *finding = judge_if_under(judge, fitting, PROP_THROUGH_HULL_SEACOCK);
    if (finding == NULL) {
        return;
    }
    if (seacock == -1 && finding->verdict == VERDICT_BROKEN) {
        finding_left_open(judge, finding, fitting, PROP_THROUGH_HULL_SEACOCK);
    }
    finding_say(judge, finding, seacock == 0 ? "`%s` leaves by `%s` %s, and nothing shuts it: the sea stands in the pipe, and comes in where that fails"
                                             : "`%s` leaves by `%s` %s, which does not say whether it has a seacock",
                say_name(judge, exhaust), say_name(judge, fitting), say_where(finding));
    finding_remedy(judge, finding, "a `height` above the waterline, as high as the hull lets it");
    finding_remedy(judge, finding, "seacock yes");
}

static void judge_outlet_material(Judge *judge, const Entity *fitting)
{
    Str material = entity_word(fitting, PROP_THROUGH_HULL_MATERIAL);
    if (!str_is(material, "plastic") && !str_is(material, "brass")) {
        return;
    }
    Finding *finding = judge_if_under(judge, fitting, PROP_THROUGH_HULL_MATERIAL);
    if (finding != NULL) {
        finding_say(judge, finding, "`%s` is of %s, which %s, and hot exhaust leaves by it %s", say_name(judge, fitting),
                    str_copy(judge->arena, material), str_is(material, "brass") ? "loses its zinc in water" : "ages and breaks",
                    say_where(finding));
        finding_remedy(judge, finding, "material bronze");
        finding_remedy(judge, finding, "material stainless");
    }
}

static void judge_outlet_bore(Judge *judge, const Entity *fitting, const Entity *exhaust)
{
    if (!entity_states(exhaust, PROP_EXHAUST_BORE)) {
        return;
    }
    Side bore = side_value(judge, fitting, PROP_THROUGH_HULL_BORE, 0), pipe = side_value(judge, exhaust, PROP_EXHAUST_BORE, 0);
    Finding *finding = judge_at_least(judge, fitting, place_of(judge, fitting, PROP_THROUGH_HULL_BORE), bore, pipe);
    if (finding != NULL) {
        finding_at(finding, exhaust);
        finding_about(finding, PROP_THROUGH_HULL_BORE);
        finding_severity(finding, SEVERITY_WARNING);
        finding_say(judge, finding, "`%s` has a bore of %s, and `%s` one of %s: it presses back more than `exhaust-back` reckons with",
                    say_name(judge, fitting), say_side(judge, bore), say_name(judge, exhaust), say_side(judge, pipe));
        finding_note(judge, finding, place_of(judge, exhaust, PROP_EXHAUST_BORE), "the pipe before it");
        finding_remedy(judge, finding, "bore %s", interval_is_point(pipe.value) ? say_side(judge, pipe) : say_no_less(judge, pipe.value.high, pipe.unit));
    }
}

/* No water cools what a dry exhaust lets out: some 400 C, at any height. Common practice, no source. */
static void judge_outlet_hot(Judge *judge, const Entity *fitting, const Entity *exhaust)
{
    if (!str_is(entity_word(fitting, PROP_THROUGH_HULL_MATERIAL), "plastic")) {
        return;
    }
    Finding *finding = judge_broken(judge, fitting, place_of(judge, fitting, PROP_THROUGH_HULL_MATERIAL));
    finding_at(finding, exhaust);
    finding_about(finding, PROP_THROUGH_HULL_MATERIAL);
    finding_say(judge, finding, "`%s` is of plastic, and the dry exhaust `%s` leaves by it, which no water cools: it melts, and burns",
                say_name(judge, fitting), say_name(judge, exhaust));
    finding_note(judge, finding, place_of(judge, exhaust, PROP_EXHAUST_WET), "this says that it is dry");
    finding_remedy(judge, finding, "material stainless, and what is made for dry exhausts around it");
}

/* The highest place of a dry pipe, as far as it is known: its outlet, or where it rises to before. */
static Side highest_of(const Judge *judge, const Entity *fitting, const Entity *exhaust)
{
    Side outlet = side_value(judge, fitting, PROP_THROUGH_HULL_HEIGHT, 0);
    Side riser = side_value(judge, exhaust, PROP_EXHAUST_RISER_ABOVE_WATERLINE, 0);
    if (riser.state == STATE_MISSING || !side_is_known(outlet)) {
        return outlet;
    }
    riser.value = interval_max(riser.value, outlet.value);
    return riser;
}

/* Nothing but its height keeps the sea out of a dry pipe: no water lock, no mixing elbow. A pipe that may rise is left open. */
static void judge_outlet_heeled(Judge *judge, const Entity *fitting, const Entity *exhaust)
{
    Side outlet = side_value(judge, fitting, PROP_THROUGH_HULL_HEIGHT, 0), water = waterline_at(judge, fitting);
    if (entity_yes(fitting, PROP_THROUGH_HULL_SEACOCK) == 1 || (side_is_known(outlet) && outlet.value.high < 0.0)) {
        return; /* shut off, or under water as she lies: told already */
    }
    if (outlet.state == STATE_MISSING) {
        judge_unmeasured(judge, fitting, PROP_THROUGH_HULL_HEIGHT);
        return;
    }
    Finding *finding = judge_at_least(judge, fitting, place_of(judge, fitting, PROP_THROUGH_HULL_HEIGHT),
                                      highest_of(judge, fitting, exhaust), water);
    if (finding == NULL) {
        return;
    }
    finding_at(finding, exhaust);
    finding_about(finding, PROP_THROUGH_HULL_HEIGHT);
    finding_rests_on(judge, finding, fitting, PROP_THROUGH_HULL_HEIGHT);
    if (!entity_states(exhaust, PROP_EXHAUST_RISER_ABOVE_WATERLINE)) {
        finding_left_open(judge, finding, exhaust, PROP_EXHAUST_RISER_ABOVE_WATERLINE);
        finding_say(judge, finding, "the dry exhaust `%s` leaves by `%s`, %s: heeled, the sea comes up to %s, and nothing says "
                                    "that the pipe rises higher before it",
                    say_name(judge, exhaust), say_name(judge, fitting), say_from_water(judge, outlet), say_reach(judge, water, outlet.unit));
    } else {
        finding_say(judge, finding, "the dry exhaust `%s` leaves by `%s`, %s: heeled, the sea comes up to %s, %s", say_name(judge, exhaust),
                    say_name(judge, fitting), say_from_water(judge, outlet), say_reach(judge, water, outlet.unit),
                    finding->verdict == VERDICT_BROKEN ? "runs over its highest place, and into the engine"
                                                       : "and may run over its highest place into the engine");
    }
    note_heel(judge, finding);
    if (side_is_known(water) && isfinite(water.value.high)) {
        finding_remedy(judge, finding, "an outlet as high, or a pipe that rises before it: riser-above-waterline %s", say_up(judge, water.value.high, outlet.unit));
    }
}

/* A fitting may let several out: shut and lasting it is asked to be once, wide and high enough for each. */
void judge_exhaust_outlet(Judge *judge, const Entity *fitting)
{
    uint16_t at = 0;
    bool wet = false, first = true;
    for (const Entity *exhaust = exhaust_served(fitting, &at); exhaust != NULL; exhaust = exhaust_served(fitting, &at)) {
        if (first) {
            judge_outlet_shut(judge, fitting, exhaust);
        }
        if (!exhaust_is_wet(exhaust)) {
            judge_outlet_hot(judge, fitting, exhaust);
            judge_outlet_heeled(judge, fitting, exhaust);
        } else if (!wet) {
            judge_outlet_material(judge, fitting);
            wet = true;
        }
        judge_outlet_bore(judge, fitting, exhaust);
        first = false;
    }
}

/* ---- exhaust-lagged ------------------------------------------------------------------------------------- */

void judge_exhaust_lagged(Judge *judge, const Entity *exhaust)
{
    if (exhaust_is_wet(exhaust)) {
        return;
    }
    int lagged = entity_yes(exhaust, PROP_EXHAUST_LAGGED);
    Finding *finding = judge_yes(judge, exhaust, PROP_EXHAUST_LAGGED, "lagging");
    if (finding != NULL) {
        finding_say(judge, finding,
                    lagged == 0 ? "no water cools `%s`, and the hot pipe is neither lagged nor shielded"
                                : "no water cools `%s`, and nothing says whether the hot pipe is lagged",
                    say_name(judge, exhaust));
    }
}
