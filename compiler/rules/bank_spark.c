/*
 * What may spark where petrol vapour or gas can lie: all that switches, turns or charges, not only what draws.
 */
#include "rules/bank.h"

#include "figures/drive.h"

/* By Entity.index of a space: why vapour can lie in it, an engine, a tank, the space itself or a gas locker; else NULL. */
typedef const Entity **Reasons;

static bool burns_petrol(const Entity *engine)
{
    return str_is(entity_word(engine, PROP_ENGINE_FUEL), "petrol");
}

/* The tanks from which a fuel line leads to an engine that burns petrol, an outboard too: its tank stands in the boat. */
static bool feeds_petrol(const Model *model, const Entity *tank)
{
    for (const Entity *line = first_aboard(model, KIND_FUEL_LINE); line != NULL; line = next_aboard(line)) {
        const Entity *to = entity_reference(line, PROP_FUEL_LINE_TO);
        if (to != NULL && to->kind == KIND_ENGINE && burns_petrol(to) &&
            entity_reference(line, PROP_FUEL_LINE_FROM) == tank) {
            return true;
        }
    }
    return false;
}

static void mark_petrol(const Model *model, Reasons because)
{
    bool petrol = false;
    bool diesel = false;
    for (const Entity *e = first_aboard(model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        const Entity *space = entity_reference(e, PROP_COMMON_SPACE);
        petrol = petrol || burns_petrol(e);
        diesel = diesel || str_is(entity_word(e, PROP_ENGINE_FUEL), "diesel");
        if (is_petrol_inboard(e) && space != NULL) {
            because[space->index] = e;
        }
    }
    for (const Entity *tank = first_aboard(model, KIND_TANK); tank != NULL; tank = next_aboard(tank)) {
        const Entity *space = entity_reference(tank, PROP_COMMON_SPACE);
        bool fuel = str_is(entity_word(tank, PROP_TANK_HOLDS), "fuel");
        if (space != NULL && fuel && ((petrol && !diesel) || feeds_petrol(model, tank))) {
            because[space->index] = tank;
        }
    }
    for (const Entity *e = model->first_of_kind[KIND_SPACE]; e != NULL; e = e->next_of_kind) {
        if (entity_yes(e, PROP_SPACE_PETROL) == 1) {
            because[e->index] = e;
        }
    }
}

static Reasons spaces_of_vapour(const Judge *judge)
{
    const Model *model = judge->model;
    Reasons because = ARENA_ARRAY(judge->scratch, const Entity *, model->entity_count + 1);
    for (const Entity *e = first_aboard(model, KIND_GAS_LOCKER); e != NULL; e = next_aboard(e)) {
        const Entity *space = entity_reference(e, PROP_COMMON_SPACE);
        if (space != NULL) {
            because[space->index] = e;
        }
    }
    mark_petrol(model, because); /* petrol comes last: it is the stricter reason */
    return because;
}

/* What draws is electric where something feeds it or it says its draw: a fan may be driven by gas, a pump by hand. */
static bool can_spark(const Entity *thing)
{
    if (!is_there(thing) || !(kinds[thing->kind].groups & GROUPS_SPARK) ||
        entity_yes(thing, PROP_COMMON_PORTABLE) == 1) {
        return false;
    }
    switch (thing->kind) {
    case KIND_ENGINE: return !is_outboard(thing) && (thing->fed != NULL || burns_petrol(thing));
    case KIND_WATER_HEATER: return thing->fed != NULL;
    default:
        return !(kinds[thing->kind].groups & GROUPS_LOAD) || thing->fed != NULL ||
               entity_states(thing, PROP_LOAD_DRAW);
    }
}

/* Where a thing stands: an alternator that does not say so is bolted to its engine. */
static const Entity *place_where(const Entity *thing)
{
    bool bolted = thing->kind == KIND_ALTERNATOR && !entity_states(thing, PROP_COMMON_SPACE);
    const Entity *engine = bolted ? entity_reference(thing, PROP_ALTERNATOR_ENGINE) : NULL;
    return entity_reference(engine != NULL ? engine : thing, PROP_COMMON_SPACE);
}

/* Gas that a locker holds back reaches nothing, and a spec does not say how tight one is: a warning. */
static void say_why(Judge *judge, Finding *finding, const Entity *because)
{
    bool gas = because->kind == KIND_GAS_LOCKER;
    finding_note(judge, finding, place_of_name(judge, because),
                 gas ? "what leaks here can lie in the space, unless the locker is tight towards it and a "
                       "space of its own"
                     : "for this the space counts as one of petrol");
    if (gas) {
        finding_severity(finding, SEVERITY_WARNING);
    }
    finding_remedy(judge, finding, "another `space`");
}

/* No bank is made so that its terminals cannot spark: in petrol's space covers count, which a rule of their own asks for. */
static void judge_bank_at_gas(Judge *judge, const Entity *bank, const Entity *space, const Entity *because)
{
    Finding *finding = judge_broken(judge, bank, place_of(judge, bank, PROP_COMMON_SPACE));
    finding_say(judge, finding, "gas can lie in `%s`, and the terminals of `%s` can set fire to it",
                say_name(judge, space), say_name(judge, bank));
    say_why(judge, finding, because);
}

static void judge_sparking(Judge *judge, const Entity *thing, const Entity *space, const Entity *because)
{
    Finding *finding = judge_yes(judge, thing, PROP_SPARK_IGNITION_PROTECTED, "");
    if (finding == NULL) {
        return;
    }
    finding_say(judge, finding, "%s can lie in `%s`, and `%s` %s",
                because->kind == KIND_GAS_LOCKER ? "gas" : "petrol vapour", say_name(judge, space),
                say_name(judge, thing),
                finding->verdict == VERDICT_BROKEN ? "is not protected against setting fire to it"
                                                   : "does not say whether it can set fire to it");
    say_why(judge, finding, because);
}

static bool is_any(const Model *model, Reasons because)
{
    const Entity *space = model->first_of_kind[KIND_SPACE];
    while (space != NULL && because[space->index] == NULL) {
        space = space->next_of_kind;
    }
    return space != NULL;
}

void judge_spark(Judge *judge)
{
    Reasons because = spaces_of_vapour(judge);
    if (!is_any(judge->model, because)) {
        return;
    }
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *thing = judge->model->entities[i];
        bool bank = thing->kind == KIND_BANK && is_there(thing);
        const Entity *space = bank || can_spark(thing) ? place_where(thing) : NULL;
        const Entity *reason = space != NULL ? because[space->index] : NULL;
        if (reason == NULL || (bank && reason->kind != KIND_GAS_LOCKER)) {
            continue;
        }
        if (bank) {
            judge_bank_at_gas(judge, thing, space, reason);
        } else {
            judge_sparking(judge, thing, space, reason);
        }
    }
}
