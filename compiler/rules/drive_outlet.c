/*
 * One rule of the family rules_drive: exhaust-outlet. The opening in the hull by which an exhaust leaves: above the water or shut off,
 * of what lasts there, and as wide as the pipe.
 */
#include "rules/drive_rules.h"

#include "figures/drive.h"
#include "rules/plumbing.h"

/* The exhaust that a fitting serves; NULL: none. */
static const Entity *exhaust_served(const Entity *fitting)
{
    const Property *serves = entity_property(fitting, PROP_THROUGH_HULL_SERVES);
    for (uint16_t i = 0; serves != NULL && i < serves->count; i++) {
        const Value *value = &serves->values[i];
        if (value->kind == VALUE_REFERENCE && value->u.entity != NULL && value->u.entity->kind == KIND_EXHAUST) {
            return value->u.entity;
        }
    }
    return NULL;
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
        finding_about(finding, PROP_THROUGH_HULL_BORE);
        finding_severity(finding, SEVERITY_WARNING);
        finding_say(judge, finding, "`%s` has a bore of %s, and `%s` one of %s: it presses back more than `exhaust-back` reckons with",
                    say_name(judge, fitting), say_side(judge, bore), say_name(judge, exhaust), say_side(judge, pipe));
        finding_note(judge, finding, place_of(judge, exhaust, PROP_EXHAUST_BORE), "the pipe before it");
        finding_remedy(judge, finding, "bore %s", say_side(judge, pipe));
    }
}

void judge_exhaust_outlet(Judge *judge, const Entity *fitting)
{
    const Entity *exhaust = exhaust_served(fitting);
    if (exhaust == NULL) {
        return;
    }
    judge_outlet_shut(judge, fitting, exhaust);
    judge_outlet_material(judge, fitting);
    judge_outlet_bore(judge, fitting, exhaust);
}
