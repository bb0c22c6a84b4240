/*
 * Two rules of the family rules_petrol: petrol-cabin, that nobody sleeps beside petrol, and generator-carried, where one stands
 * that is carried.
 */
#include "rules/petrol_rules.h"

#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "rules/plumbing.h"

/* ---- petrol-cabin -------------------------------------------------------------------------------------- */

const Entity *space_of_carried(Judge *judge, const Entity *engine)
{
    const Entity *space = entity_reference(engine, PROP_COMMON_SPACE);
    if (!carries_petrol(judge->model, engine)) {
        return NULL;
    }
    if (has_mistake(engine, PROP_COMMON_SPACE) || some_is_mistaken(judge, KIND_FUEL_LINE)) {
        judge_waiting(judge);
        return NULL;
    }
    return space == NULL || is_open_air(space) ? NULL : space;
}

void judge_petrol_cabin(Judge *judge, const Entity *tank)
{
    bool engine = tank->kind == KIND_ENGINE;
    const Entity *space = engine ? space_of_carried(judge, tank) : space_of_tank(judge, tank);
    if (space == NULL) {
        return;
    }
    int sleeps = entity_yes(space, PROP_SPACE_SLEEPING);
    bool other = sleeps < 0 && is_machinery_space(judge->model, space);
    if (sleeps == -2) {
        judge_waiting(judge);
        return;
    }
    if (sleeps == 0 || other) {
        judge_holds(judge);
        return;
    }
    Finding *finding = sleeps == 1 ? judge_broken(judge, tank, place_of(judge, tank, PROP_COMMON_SPACE))
                                   : judge_open(judge, tank, place_of_name(judge, space), space, PROP_SPACE_SLEEPING);
    finding_at(finding, space);
    const char *holds = engine ? "carries a tank of" : "holds";
    finding_say(judge, finding,
                sleeps == 1 ? "`%s` %s petrol, and people sleep in `%s`: its vapour poisons, and burns at the first spark"
                            : "`%s` %s petrol in `%s`, which does not say whether people sleep there",
                say_name(judge, tank), holds, say_name(judge, space));
    if (sleeps == 1) {
        finding_remedy(judge, finding, "a `space` of its own that is tight towards the cabin and aired to the outside");
    } else {
        finding_remedy(judge, finding, "sleeping no");
    }
}

/* ---- generator-carried --------------------------------------------------------------------------------- */

/* Where a generator that is carried stands: it brings its tank and its exhaust with it. */
static void judge_carried_in(Judge *judge, const Entity *generator, const Entity *space)
{
    int open_air = entity_yes(space, PROP_SPACE_OPEN_AIR), sleeps = entity_yes(space, PROP_SPACE_SLEEPING);
    if (open_air == -2 || sleeps == -2) {
        judge_waiting(judge);
        return;
    }
    if (open_air == 1 && sleeps != 1) {
        judge_holds(judge);
        return;
    }
    bool shut = open_air == 0 || sleeps == 1 || is_machinery_space(judge->model, space);
    Span place = place_of(judge, generator, PROP_COMMON_SPACE);
    Finding *finding = shut ? judge_broken(judge, generator, place)
                            : judge_open(judge, generator, place, space, PROP_SPACE_OPEN_AIR);
    finding_severity(finding, sleeps == 1 ? SEVERITY_FAULT : SEVERITY_WARNING);
    finding_at(finding, space);
    if (shut) {
        finding_say(judge, finding, "`%s` carries its fuel and its exhaust into `%s`, %s", say_name(judge, generator),
                    say_name(judge, space),
                    sleeps == 1 ? "where people sleep: what it breathes out kills before anybody wakes"
                                : "which is not open to the sky: what it breathes out stays in the boat");
    } else {
        finding_say(judge, finding, "`%s` carries its fuel and its exhaust into `%s`, which does not say whether it is open to the sky",
                    say_name(judge, generator), say_name(judge, space));
    }
    finding_remedy(judge, finding, "a `space` with `open-air yes` to stow it in; it is run there, or ashore, downwind of every opening");
}

void judge_generator_carried(Judge *judge, const Entity *generator)
{
    const Entity *space = entity_reference(generator, PROP_COMMON_SPACE);
    if (entity_yes(generator, PROP_COMMON_PORTABLE) != 1) {
        return;
    }
    if (has_mistake(generator, PROP_COMMON_SPACE)) {
        judge_waiting(judge);
    } else if (space != NULL) {
        judge_carried_in(judge, generator, space);
    } else {
        Finding *finding = judge_open(judge, generator, place_of_name(judge, generator), generator, PROP_COMMON_SPACE);
        finding_say(judge, finding, "`%s` is carried, with its fuel and its exhaust, and does not say where it is stowed",
                    say_name(judge, generator));
        finding_remedy(judge, finding, "`space` with the name of one that is open to the sky");
    }
}

const Entity *space_of_tank(Judge *judge, const Entity *tank)
{
    const Entity *space = entity_reference(tank, PROP_COMMON_SPACE);
    if (!holds_fuel(tank) || fuel_held(judge->model, tank) != FUEL_PETROL) {
        return NULL;
    }
    if (has_mistake(tank, PROP_COMMON_SPACE)) {
        judge_waiting(judge);
        return NULL;
    }
    if (space == NULL && entity_yes(tank, PROP_COMMON_PORTABLE) != 1) {
        judge_unmeasured(judge, tank, PROP_COMMON_SPACE);
    }
    return space == NULL || is_open_air(space) ? NULL : space;
}
