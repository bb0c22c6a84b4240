/*
 * One rule of the family rules_fire: flame-air. Whether fixed openings bring air to where gas, wood or coal burns, and take away what
 * it leaves.
 */
#include "rules/fire.h"

#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "rules/plumbing.h"
#include "rules/upstream.h"

#include <math.h>

/* The first appliance of a space speaks for all of them, and where there is none the first stove. */
static bool is_first_there(const Judge *judge, const Entity *appliance, const Entity *space)
{
    const Entity *e = first_aboard(judge->model, KIND_GAS_APPLIANCE);
    while (e != NULL && entity_reference(e, PROP_COMMON_SPACE) != space) {
        e = next_aboard(e);
    }
    const Entity *stove = e == NULL ? first_aboard(judge->model, KIND_HEATER) : NULL;
    while (stove != NULL && (!burns_wood(stove) || entity_reference(stove, PROP_COMMON_SPACE) != space)) {
        stove = next_aboard(stove);
    }
    return e == appliance || stove == appliance;
}

/* What burns there without an `output`; what is stated alone is the least that is asked then. */
static void name_unstated(Judge *judge, Finding *finding, const Entity *space)
{
    enum { NAMED = 4 };
    const Entity *named[NAMED];
    uint32_t count = 0;
    for (const Entity *e = first_aboard(judge->model, KIND_GAS_APPLIANCE); e != NULL; e = next_aboard(e)) {
        if (entity_reference(e, PROP_COMMON_SPACE) == space && !entity_states(e, PROP_GAS_APPLIANCE_OUTPUT)) {
            if (finding->verdict == VERDICT_OPEN) {
                finding_left_open(judge, finding, e, PROP_GAS_APPLIANCE_OUTPUT);
            }
            if (count < NAMED) {
                named[count] = e;
            }
            count++;
        }
    }
    finding_remedy(judge, finding, "`output` on %s, which adds to what is asked", say_names(judge, named, count < NAMED ? count : NAMED, count));
}

static void offer_openings(Judge *judge, Finding *finding, Side need)
{
    if (side_is_known(need)) {
        finding_remedy(judge, finding, "openings %s, half of them high and half low, that cannot be shut", say_up(judge, need.value.high, need.unit));
    } else {
        finding_remedy(judge, finding, "`openings` with their free area, half of them high and half low, that cannot be shut");
    }
}

/* What says that no air comes in; nothing: what has to be said yet. */
static void judge_airless(Judge *judge, const Entity *appliance, const Entity *space, PropId says, Side need)
{
    Finding *finding = says != PROP_NONE ? judge_broken(judge, appliance, place_of(judge, space, says))
                                         : judge_open(judge, appliance, place_of_name(judge, space), space, PROP_SPACE_VENTILATED);
    finding_at(finding, space);
    finding_say(judge, finding,
                says != PROP_NONE ? "`%s` burns in `%s`, into which no air comes by itself: the flame uses up what is there, and poisons it"
                                  : "`%s` burns in `%s`, which says neither what `openings` let air in nor whether it is `ventilated`",
                say_name(judge, appliance), say_name(judge, space));
    finding_note(judge, finding, place_of_name(judge, appliance), "this burns there");
    offer_openings(judge, finding, need);
    if (says == PROP_NONE) {
        finding_severity(finding, SEVERITY_WARNING);
        finding_remedy(judge, finding, "ventilated yes");
    }
}

/* need: what the remedy can name; missing where not every `output` is stated. */
static void judge_flame_area(Judge *judge, const Entity *appliance, const Entity *space, Side area, Side need)
{
    const Figure *asked = figure_of(judge, space, FIGURE_FLAME_OPENING);
    Side least = side_figure(asked);
    bool partial = asked != NULL && asked->partial;
    least.value.high = partial ? INFINITY : least.value.high;
    Finding *finding = judge_at_least(judge, appliance, place_of(judge, space, PROP_SPACE_OPENINGS), area, least);
    if (finding == NULL) {
        return;
    }
    finding_severity(finding, SEVERITY_WARNING);
    finding_at(finding, space);
    finding_say(judge, finding, "`%s` lets air in through %s; for what burns gas there and for her crew %s is asked, high and low together",
                say_name(judge, space), say_side(judge, area), say_figure(judge, asked));
    finding_note(judge, finding, place_of_name(judge, appliance), "this burns there");
    if (partial) {
        name_unstated(judge, finding, space);
    }
    if (finding->verdict == VERDICT_BROKEN || !partial) {
        offer_openings(judge, finding, need);
    }
}

void judge_flame_air(Judge *judge, const Entity *appliance)
{
    const Entity *space = entity_reference(appliance, PROP_COMMON_SPACE);
    if (appliance->kind == KIND_HEATER && !burns_wood(appliance)) {
        return; /* what burns diesel or petrol mostly draws its air from outside, and does not say */
    }
    if (has_mistake(appliance, PROP_COMMON_SPACE)) {
        judge_waiting(judge);
        return;
    }
    if (space == NULL || is_open_air(space) || !is_first_there(judge, appliance, space)) {
        return; /* on deck, or nobody says where: `alarm-missing` asks for the space */
    }
    Side area = side_value(judge, space, PROP_SPACE_OPENINGS, 0);
    const Figure *asked = figure_of(judge, space, FIGURE_FLAME_OPENING);
    Side need = asked != NULL && asked->partial ? (Side){.state = STATE_MISSING} : side_figure(asked);
    int aired = entity_yes(space, PROP_SPACE_VENTILATED);
    bool said = area.state != STATE_MISSING;
    if (area.state == STATE_WAITING || aired == -2 || entity_yes(space, PROP_SPACE_OPEN_AIR) == -2) {
        judge_waiting(judge);
    } else if (said && area.value.high <= 0.0) {
        judge_airless(judge, appliance, space, PROP_SPACE_OPENINGS, need);
    } else if (aired == 0 && (!said || area.value.low <= 0.0)) {
        judge_airless(judge, appliance, space, PROP_SPACE_VENTILATED, need);
    } else if (!said && aired == -1) {
        judge_airless(judge, appliance, space, PROP_NONE, need);
    } else if (!said) {
        judge_holds(judge); /* aired as it says */
    } else {
        judge_flame_area(judge, appliance, space, area, need);
    }
}
