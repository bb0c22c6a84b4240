/*
 * Two rules of the family rules_pipes about openings through which something draws the sea in: drain-intake, what runs out by
 * one; intake-dry, one that the sea does not reach.
 */
#include "rules/pipes.h"

#include "figures/water.h"
#include "rules/plumbing.h"

/* A hose from the one leads to the other, joints between or not. */
static bool has_hose(const Judge *judge, const Entity *from, const Entity *to)
{
    const Plumbing *plumbing = plumbing_of(judge->figures);
    FarEnds ends;
    for (const Entity *hose = plumbing->from.first[from->index]; hose != NULL; hose = plumbing->from.next[hose->index]) {
        joint_ends(plumbing, hose, entity_reference(hose, PROP_HOSE_TO), FOLLOW_ON, &ends);
        for (uint32_t i = 0; i < ends.count; i++) {
            if (ends.things[i] == to) {
                return true;
            }
        }
    }
    return false;
}

static bool is_cooled(const Entity *thing)
{
    return thing->kind == KIND_ENGINE || thing->kind == KIND_GENERATOR;
}

/* A strainer that nothing leads on from yet is there for something, too. */
static bool draws(const Entity *thing)
{
    return is_cooled(thing) || thing->kind == KIND_PUMP || thing->kind == KIND_TOILET || thing->kind == KIND_STRAINER;
}

/* What draws by a hose, joints between or not: an engine before all else, which is lost without. NULL: nothing. */
static const Entity *drawing_by(const Plumbing *plumbing, const Entity *hose)
{
    const Entity *found = NULL;
    FarEnds ends;
    joint_ends(plumbing, hose, entity_reference(hose, PROP_HOSE_TO), FOLLOW_ON, &ends);
    for (uint32_t i = 0; i < ends.count; i++) {
        bool better = found == NULL || (is_cooled(ends.things[i]) && !is_cooled(found));
        found = draws(ends.things[i]) && better ? ends.things[i] : found;
    }
    return found;
}

/* Above the water what serves a generator is its exhaust: it names no `exhaust` of its own. */
static bool lets_out(const Entity *fitting)
{
    Interval height;
    return entity_quantity(fitting, PROP_THROUGH_HULL_HEIGHT, 0, &height) && height.low > 0.0;
}

/* An engine or a pump that it serves, without letting out what that pumps; or what a hose from it leads to. NULL: it is no intake. */
static const Entity *drawn_by(const Judge *judge, const Entity *fitting)
{
    const Plumbing *plumbing = plumbing_of(judge->figures);
    for (const Entity *hose = plumbing->from.first[fitting->index]; hose != NULL; hose = plumbing->from.next[hose->index]) {
        const Entity *by = drawing_by(plumbing, hose);
        if (by != NULL) {
            return by;
        }
    }
    for (const Entity *pump = first_aboard(judge->model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        if (entity_reference(pump, PROP_PUMP_FROM) == fitting) {
            return pump;
        }
    }
    uint16_t at = 0;
    for (const Entity *served = next_served(fitting, &at); served != NULL; served = next_served(fitting, &at)) {
        bool draws_there = served->kind == KIND_ENGINE || (served->kind == KIND_GENERATOR && !lets_out(fitting));
        if (draws_there && !has_hose(judge, served, fitting)) {
            return served;
        }
    }
    return NULL;
}

static void judge_drained(Judge *judge, const Entity *fitting, const Entity *by, const Entity *thing, PropId prop)
{
    if ((prop == PROP_NONE || entity_reference(thing, prop) != fitting) && !has_hose(judge, thing, fitting)) {
        return;
    }
    Side height = side_value(judge, fitting, PROP_THROUGH_HULL_HEIGHT, 0);
    Span place = prop != PROP_NONE ? place_of(judge, thing, prop) : place_of_name(judge, thing);
    Finding *finding = judge_at_least(judge, thing, place, height, side_number(0.0, height.unit));
    if (finding == NULL) {
        return;
    }
    finding_at(finding, fitting);
    finding_say(judge, finding, "`%s` drains into `%s`, through which `%s` draws the sea in", say_name(judge, thing),
                say_name(judge, fitting), say_name(judge, by));
    finding_note(judge, finding, place_of(judge, fitting, PROP_THROUGH_HULL_HEIGHT), finding->verdict == VERDICT_BROKEN ? "it lies under water" : "it may lie under water");
    finding_remedy(judge, finding, "a through-hull of its own, above the waterline if it can be");
}

void judge_drain_intake(Judge *judge, const Entity *fitting)
{
    static const struct {
        KindId kind;
        PropId prop;
    } drained[] = {{KIND_FIXTURE, PROP_FIXTURE_DRAINS_TO}, {KIND_TOILET, PROP_TOILET_TO}, {KIND_BILGE_PUMP, PROP_NONE}};
    const Entity *by = drawn_by(judge, fitting);
    for (size_t i = 0; by != NULL && i < sizeof drained / sizeof drained[0]; i++) {
        for (const Entity *e = first_aboard(judge->model, drained[i].kind); e != NULL; e = next_aboard(e)) {
            judge_drained(judge, fitting, by, e, drained[i].prop);
        }
    }
}

/* ---- intake-dry ---------------------------------------------------------------------------------------- */

/* On the waterline itself it draws air at every wave. A choice of this program, as little as counts for under it. */
static const double under_m = 0.01;

void judge_intake_dry(Judge *judge, const Entity *fitting)
{
    const Entity *by = drawn_by(judge, fitting);
    Side height = side_value(judge, fitting, PROP_THROUGH_HULL_HEIGHT, 0);
    if (by == NULL || height.state == STATE_MISSING) {
        return; /* how high it stands is asked by `seacock` */
    }
    Finding *finding = judge_at_most(judge, fitting, place_of(judge, fitting, PROP_THROUGH_HULL_HEIGHT), height,
                                     side_number(-under_m, height.unit));
    if (finding == NULL) {
        return;
    }
    bool cooled = is_cooled(by);
    if (!cooled) {
        finding_severity(finding, SEVERITY_WARNING);
    }
    bool broken = finding->verdict == VERDICT_BROKEN;
    finding_say(judge, finding, "`%s` draws the sea in through `%s`, which %s under water, at %s: it %s air%s", say_name(judge, by),
                say_name(judge, fitting), broken ? "does not lie" : "may not lie",
                say_side(judge, side_value(judge, fitting, PROP_THROUGH_HULL_HEIGHT, 0)), broken ? "draws" : "would draw",
                !cooled ? "" : broken ? ", and runs hot" : ", and run hot");
    finding_note(judge, finding, place_of_name(judge, by), "this draws there");
    finding_remedy(judge, finding, "a `height` below the waterline, which is negative");
}
