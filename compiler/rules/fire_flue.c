/*
 * One rule of the family rules_fire: gas-flue. A cooker is watched while it burns. Whatever else burns gas burns while nobody
 * looks: its fumes leave the boat by a way that the spec states, and where people wash or sleep its air comes from outside.
 */
#include "rules/fire.h"

#include "figures/water.h"
#include "rules/ask.h"

typedef enum Watch { WATCHED, UNWATCHED, NOBODY_KNOWS } Watch;

static bool is_of_water(const Entity *end)
{
    return end != NULL && (end->kind == KIND_PUMP || end->kind == KIND_FIXTURE || end->kind == KIND_TANK || end->kind == KIND_WATER_HEATER);
}

/* Water that runs through it is heated by it: no cooker. */
static bool heats_water(const Judge *judge, const Entity *appliance)
{
    for (const Entity *e = first_aboard(judge->model, KIND_PUMP); e != NULL; e = next_aboard(e)) {
        if (entity_names(e, PROP_PUMP_TO, appliance)) {
            return true;
        }
    }
    for (const Entity *e = first_aboard(judge->model, KIND_HOSE); e != NULL; e = next_aboard(e)) {
        const Entity *from = entity_reference(e, PROP_HOSE_FROM), *to = entity_reference(e, PROP_HOSE_TO);
        if ((from == appliance && is_of_water(to)) || (to == appliance && is_of_water(from))) {
            return true;
        }
    }
    return false;
}

/* A fitting that serves it and brings it no air, or a hose for hot gas that leads from it. */
static bool has_way_out(const Judge *judge, const Entity *appliance)
{
    for (const Entity *e = first_aboard(judge->model, KIND_THROUGH_HULL); e != NULL; e = next_aboard(e)) {
        if (entity_names(e, PROP_THROUGH_HULL_SERVES, appliance) && entity_yes(e, PROP_THROUGH_HULL_AIR_INTAKE) != 1) {
            return true;
        }
    }
    for (const Entity *e = first_aboard(judge->model, KIND_HOSE); e != NULL; e = next_aboard(e)) {
        if (entity_reference(e, PROP_HOSE_FROM) == appliance && str_is(entity_word(e, PROP_HOSE_GRADE), "exhaust")) {
            return true;
        }
    }
    return false;
}

static Watch watch_of(const Judge *judge, const Entity *appliance)
{
    Str works_as = entity_word(appliance, PROP_GAS_APPLIANCE_WORKS_AS);
    if (works_as.length > 0) {
        return str_is(works_as, "cooker") ? WATCHED : UNWATCHED;
    }
    bool unwatched = entity_yes(appliance, PROP_GAS_APPLIANCE_ROOM_SEALED) == 1 || heats_water(judge, appliance) ||
                     has_way_out(judge, appliance);
    return unwatched ? UNWATCHED : NOBODY_KNOWS;
}

static void ask_what_it_is(Judge *judge, const Entity *appliance)
{
    Finding *finding = judge_open(judge, appliance, place_of_name(judge, appliance), appliance, PROP_GAS_APPLIANCE_WORKS_AS);
    finding_severity(finding, SEVERITY_WARNING);
    finding_say(judge, finding,
                "`%s` burns gas, and nothing says whether it is a cooker, which is watched, or something that burns by itself and needs a "
                "way out for its fumes",
                say_name(judge, appliance));
    finding_remedy(judge, finding, "works-as cooker");
    finding_remedy(judge, finding, "what else it is, with a `through-hull` that `serves %s`", say_name(judge, appliance));
}

static void judge_way_out(Judge *judge, const Entity *appliance)
{
    if (some_is_mistaken(judge, KIND_THROUGH_HULL) || some_is_mistaken(judge, KIND_HOSE)) {
        judge_waiting(judge);
    } else if (has_way_out(judge, appliance)) {
        judge_holds(judge);
    } else {
        const char *name = say_name(judge, appliance);
        Finding *finding = judge_open(judge, appliance, place_of_name(judge, appliance), NULL, PROP_NONE);
        finding_matter(finding, "way out");
        finding_say(judge, finding, "nothing says where the fumes of `%s` leave the boat", name);
        finding_hangs_on(judge, finding, appliance, PROP_NONE, text_format(judge->arena, "%s.through-hull", name));
        finding_remedy(judge, finding, "a `through-hull` that `serves %s`", name);
    }
}

/* A toilet or a shower that is fixed there; NULL: nobody is known to wash there. */
static const Entity *washed_at(const Judge *judge, const Entity *space)
{
    for (const Entity *e = first_aboard(judge->model, KIND_TOILET); e != NULL; e = next_aboard(e)) {
        if (entity_reference(e, PROP_COMMON_SPACE) == space && entity_yes(e, PROP_COMMON_PORTABLE) != 1) {
            return e;
        }
    }
    for (const Entity *e = first_aboard(judge->model, KIND_FIXTURE); e != NULL; e = next_aboard(e)) {
        if (entity_reference(e, PROP_COMMON_SPACE) == space && entity_yes(e, PROP_FIXTURE_SHOWER) == 1) {
            return e;
        }
    }
    return NULL;
}

static void judge_its_air(Judge *judge, const Entity *appliance)
{
    const Entity *space = entity_reference(appliance, PROP_COMMON_SPACE);
    const Entity *washed = space != NULL ? washed_at(judge, space) : NULL;
    bool slept = space != NULL && entity_yes(space, PROP_SPACE_SLEEPING) == 1;
    if (washed == NULL && !slept) {
        return;
    }
    Finding *finding = judge_yes(judge, appliance, PROP_GAS_APPLIANCE_ROOM_SEALED, "");
    if (finding == NULL) {
        return;
    }
    finding_say(judge, finding, finding->verdict == VERDICT_BROKEN
                                    ? "`%s` burns the air of `%s`, where people %s: what its flame lacks or leaves stays with them"
                                    : "`%s` does not say whether it burns the air of `%s`, where people %s",
                say_name(judge, appliance), say_name(judge, space), washed != NULL ? "wash" : "sleep");
    if (washed != NULL) {
        finding_note(judge, finding, place_of_name(judge, washed), "this stands there too");
    } else {
        finding_severity(finding, SEVERITY_WARNING);
        finding_note(judge, finding, place_of(judge, space, PROP_SPACE_SLEEPING), "people sleep in it");
    }
    finding_remedy(judge, finding, "another `space`");
}

void judge_gas_flue(Judge *judge, const Entity *appliance)
{
    Watch watch = watch_of(judge, appliance);
    if (entity_yes(appliance, PROP_COMMON_PORTABLE) == 1) {
        return;
    }
    if (watch == NOBODY_KNOWS) {
        ask_what_it_is(judge, appliance);
    } else if (watch == WATCHED) {
        judge_holds(judge);
    } else {
        judge_way_out(judge, appliance);
        judge_its_air(judge, appliance);
    }
}
