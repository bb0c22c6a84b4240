/*
 * One rule of the family rules_fire: flame-air. Whether fixed openings bring air to where a flame burns, and take away what
 * it leaves.
 */
#include "rules/fire.h"

#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "rules/plumbing.h"
#include "rules/upstream.h"

#include <math.h>

/* The first of a kind that burns the air of a space. */
static const Entity *first_flame(const Judge *judge, KindId kind, const Entity *space)
{
    const Entity *e = first_aboard(judge->model, kind);
    while (e != NULL && (entity_reference(e, PROP_COMMON_SPACE) != space || !burns_cabin_air(judge->model, e))) {
        e = next_aboard(e);
    }
    return e;
}

/* The first gas appliance of a space speaks for all that burns there; where there is none the first burner, or the first stove. */
static bool is_first_there(const Judge *judge, const Entity *appliance, const Entity *space)
{
    const Entity *first = NULL;
    for (int k = 0; k < FLAME_KIND_COUNT && first == NULL; k++) {
        first = first_flame(judge, flame_kinds[k], space);
    }
    return first == appliance;
}

/* What burns there without an `output`; what is stated alone is the least that is asked then. */
static void name_unstated(Judge *judge, Finding *finding, const Entity *space)
{
    enum { NAMED = 4 };
    const Entity *named[NAMED];
    uint32_t count = 0;
    for (int k = 0; k < FLAME_KIND_COUNT; k++) {
        for (const Entity *e = first_aboard(judge->model, flame_kinds[k]); e != NULL; e = next_aboard(e)) {
            PropId output = flame_output(e);
            bool there = entity_reference(e, PROP_COMMON_SPACE) == space && burns_cabin_air(judge->model, e);
            if (!there || entity_states(e, output)) {
                continue;
            }
            if (finding->verdict == VERDICT_OPEN) {
                finding_left_open(judge, finding, e, output);
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
    finding_say(judge, finding, "`%s` lets air in through %s; for what burns there and for her crew %s is asked, high and low together",
                say_name(judge, space), say_side(judge, area), say_figure(judge, asked));
    finding_note(judge, finding, place_of_name(judge, appliance), "this burns there");
    if (partial) {
        name_unstated(judge, finding, space);
    }
    if (finding->verdict == VERDICT_BROKEN || !partial) {
        offer_openings(judge, finding, need);
    }
}

/* Of what burns diesel or petrol some draws its air from outside; in the engine's space air is asked for the engine. */
static bool may_burn_cabin_air(const Judge *judge, const Entity *heater, const Entity *space)
{
    return heater->kind == KIND_HEATER && !burns_wood(heater) && entity_yes(heater, PROP_HEATER_ROOM_SEALED) < 0 &&
           is_burner(judge->model, heater) && !is_engine_space(judge->model, space);
}

static void judge_unsealed(Judge *judge, const Entity *heater, const Entity *space)
{
    if (has_mistake(heater, PROP_HEATER_ROOM_SEALED)) {
        judge_waiting(judge);
        return;
    }
    Finding *finding = judge_open(judge, heater, place_of_name(judge, heater), heater, PROP_HEATER_ROOM_SEALED);
    finding_severity(finding, SEVERITY_WARNING);
    finding_say(judge, finding, "`%s` burns fuel in `%s`, and does not say whether the air for that comes from outside or from there",
                say_name(judge, heater), say_name(judge, space));
    finding_remedy(judge, finding, "room-sealed yes");
    finding_of_heater(judge, finding, heater);
    finding_remedy(judge, finding, "`room-sealed no`, with the `openings` of `%s`", say_name(judge, space));
}

void judge_flame_air(Judge *judge, const Entity *appliance)
{
    const Entity *space = entity_reference(appliance, PROP_COMMON_SPACE);
    if (has_mistake(appliance, PROP_COMMON_SPACE)) {
        judge_waiting(judge);
        return;
    }
    if (space == NULL && appliance->kind == KIND_BURNER) {
        Finding *finding = judge_open(judge, appliance, place_of_name(judge, appliance), appliance, PROP_COMMON_SPACE);
        finding_severity(finding, SEVERITY_WARNING);
        finding_say(judge, finding, "`%s` burns %s, and does not say in which space", say_name(judge, appliance),
                    fuel_word(fuel_stated(appliance)));
        return;
    }
    if (space != NULL && !is_open_air(space) && may_burn_cabin_air(judge, appliance, space)) {
        judge_unsealed(judge, appliance, space);
        return;
    }
    if (space == NULL || is_open_air(space) || !burns_cabin_air(judge->model, appliance) || !is_first_there(judge, appliance, space)) {
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
    } else if (aired == 0 && !said) {
        judge_airless(judge, appliance, space, PROP_SPACE_VENTILATED, need);
    } else if (!said && aired == -1) {
        judge_airless(judge, appliance, space, PROP_NONE, need);
    } else if (!said) {
        judge_holds(judge); /* aired as it says */
    } else {
        judge_flame_area(judge, appliance, space, area, need);
    }
}
