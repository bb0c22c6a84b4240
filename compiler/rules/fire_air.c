/*
 * One rule of the family rules_fire: flame-air. Whether fixed openings bring air to where gas burns, and take away what it leaves.
 */
#include "rules/fire.h"

#include "figures/drive.h"
#include "rules/plumbing.h"

/* The first appliance of a space speaks for all of them. */
static bool is_first_there(const Judge *judge, const Entity *appliance, const Entity *space)
{
    const Entity *e = first_aboard(judge->model, KIND_GAS_APPLIANCE);
    while (e != appliance && entity_reference(e, PROP_COMMON_SPACE) != space) {
        e = next_aboard(e);
    }
    return e == appliance;
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

static void judge_flame_area(Judge *judge, const Entity *appliance, const Entity *space, Side area, Side need)
{
    Finding *finding = judge_at_least(judge, appliance, place_of(judge, space, PROP_SPACE_OPENINGS), area, need);
    if (finding == NULL) {
        return;
    }
    finding_severity(finding, SEVERITY_WARNING);
    finding_at(finding, space);
    finding_say(judge, finding, "`%s` lets air in through %s; for what burns gas there and for her crew %s is asked, high and low together",
                say_name(judge, space), say_side(judge, area), say_side(judge, need));
    finding_note(judge, finding, place_of_name(judge, appliance), "this burns there");
    offer_openings(judge, finding, need);
}

void judge_flame_air(Judge *judge, const Entity *appliance)
{
    const Entity *space = entity_reference(appliance, PROP_COMMON_SPACE);
    if (has_mistake(appliance, PROP_COMMON_SPACE)) {
        judge_waiting(judge);
        return;
    }
    if (space == NULL || is_open_air(space) || !is_first_there(judge, appliance, space)) {
        return; /* on deck, or nobody says where: `alarm-missing` asks for the space */
    }
    Side area = side_value(judge, space, PROP_SPACE_OPENINGS, 0);
    Side need = side_figure(figure_of(judge, space, FIGURE_FLAME_OPENING));
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
    } else if (!said || !side_is_known(need)) {
        judge_holds(judge); /* aired as it says; how much air that takes nobody knows without its `output` */
    } else {
        judge_flame_area(judge, appliance, space, area, need);
    }
}
