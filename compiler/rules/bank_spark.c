/*
 * What may set fire to petrol vapour or gas where it can lie: all that switches, turns or charges, not only what draws; banks;
 * and what burns with a flame, which no mark makes safe.
 */
#include "rules/bank.h"

#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "rules/ask.h"

/* By Entity.index of a space: why vapour can lie in it, an engine, a tank, the space itself or a gas locker; else NULL. */
typedef const Entity **Reasons;

static Reasons spaces_of_vapour(const Judge *judge)
{
    const Model *model = judge->model;
    Reasons because = ARENA_ARRAY(judge->scratch, const Entity *, model->entity_count + 1);
    for (const Entity *e = first_aboard(model, KIND_GAS_LOCKER); e != NULL; e = next_aboard(e)) {
        const Entity *space = entity_reference(e, PROP_COMMON_SPACE);
        if (space != NULL && !is_open_air(space)) {
            because[space->index] = e;
        }
    }
    petrol_mark(model, because); /* petrol comes last: it is the stricter reason */
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
    case KIND_ENGINE: return !is_outboard(thing) && (thing->fed != NULL || is_petrol_inboard(thing));
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

static const char *vapour(const Entity *because)
{
    return because->kind == KIND_GAS_LOCKER ? "gas" : "petrol vapour";
}

/*
 * No bank is made so that its terminals cannot spark. Beside petrol one whose terminals are covered may stand, where the
 * regulation is for engines and not for what is best: a warning (33 CFR 183.420 asks for covers, and for no tank, filter or
 * fitting of a fuel line above or below it).
 */
static void judge_bank_there(Judge *judge, const Entity *bank, const Entity *space, const Entity *because)
{
    bool gas = because->kind == KIND_GAS_LOCKER;
    bool covered = !gas && entity_yes(bank, PROP_BANK_TERMINALS_COVERED) == 1;
    Finding *finding = judge_broken(judge, bank, place_of(judge, bank, PROP_COMMON_SPACE));
    finding_say(judge, finding, covered ? "%s can lie in `%s`, and `%s` stands there: covers keep tools off, not what a loose "
                                          "terminal does; above or below a tank, a filter or a joint of a fuel line it must not"
                                        : "%s can lie in `%s`, and the terminals of `%s` can set fire to it",
                vapour(because), say_name(judge, space), say_name(judge, bank));
    say_why(judge, finding, because);
    if (covered) {
        finding_severity(finding, SEVERITY_WARNING);
    }
}

/* A cooker, a burner: a flame is what vapour waits for, whatever is electric on it. */
static bool has_flame(const Model *model, const Entity *thing)
{
    bool heats = thing->kind == KIND_HEATER || thing->kind == KIND_COOLER;
    return is_there(thing) && (thing->kind == KIND_GAS_APPLIANCE || (heats && is_burner(model, thing)));
}

static void judge_flame(Judge *judge, const Entity *thing, const Entity *space, const Entity *because)
{
    Finding *finding = judge_broken(judge, thing, place_of(judge, thing, PROP_COMMON_SPACE));
    finding_say(judge, finding, "%s can lie in `%s`, and `%s` burns there: its flame sets fire to it", vapour(because),
                say_name(judge, space), say_name(judge, thing));
    say_why(judge, finding, because);
}

static void judge_sparking(Judge *judge, const Entity *thing, const Entity *space, const Entity *because)
{
    Finding *finding = judge_yes(judge, thing, PROP_SPARK_IGNITION_PROTECTED, "");
    if (finding == NULL) {
        return;
    }
    finding_say(judge, finding, "%s can lie in `%s`, and `%s` %s",
                vapour(because), say_name(judge, space), say_name(judge, thing),
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
        bool flame = has_flame(judge->model, thing);
        const Entity *space = bank || flame || can_spark(thing) ? place_where(thing) : NULL;
        const Entity *reason = space != NULL ? because[space->index] : NULL;
        if (reason == NULL || (flame && reason->kind == KIND_GAS_LOCKER && thing->kind == KIND_GAS_APPLIANCE)) {
            continue; /* where a gas locker stands beside its cooker, the rules of gas speak */
        }
        if (bank) {
            judge_bank_there(judge, thing, space, reason);
        } else if (flame) {
            judge_flame(judge, thing, space, reason);
        } else {
            judge_sparking(judge, thing, space, reason);
        }
    }
}
