/*
 * What may set fire to petrol vapour or gas where it can lie: all that switches, turns or charges, not only what draws; banks;
 * and what burns with a flame, which no mark makes safe.
 */
#include "rules/bank.h"

#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "model/status.h"
#include "rules/ask.h"

/* By Entity.index of a space: why vapour can lie in it, an engine, a tank, the space itself or a gas locker; else NULL. */
typedef const Entity **Reasons;

/* Gas lies round its locker whether the space is shut in or open to the sky, where petrol vapour would be gone. */
static Reasons spaces_of_gas(const Judge *judge)
{
    const Model *model = judge->model;
    Reasons because = ARENA_ARRAY(judge->scratch, const Entity *, model->entity_count + 1);
    for (const Entity *e = first_aboard(model, KIND_GAS_LOCKER); e != NULL; e = next_aboard(e)) {
        const Entity *space = entity_reference(e, PROP_COMMON_SPACE);
        if (space != NULL) {
            because[space->index] = e;
        }
    }
    return because;
}

/* Petrol comes last: it is the stricter reason, but for that of an outboard alone. */
static Reasons spaces_of_vapour(const Judge *judge, Reasons of_gas)
{
    const Model *model = judge->model;
    Reasons because = ARENA_ARRAY(judge->scratch, const Entity *, model->entity_count + 1);
    petrol_mark(model, because);
    for (const Entity *e = model->first_of_kind[KIND_SPACE]; e != NULL; e = e->next_of_kind) {
        const Entity *petrol = because[e->index];
        bool stricter = petrol != NULL && !(of_gas[e->index] != NULL && is_outboard_with_petrol(model, petrol));
        because[e->index] = stricter ? petrol : of_gas[e->index];
    }
    return because;
}

/* What is built into an engine is what the engine says of all that is electric on it; of an outboard nothing is asked. */
static bool is_spoken_for(const Entity *alternator)
{
    const Entity *engine = is_built_in(alternator) ? entity_reference(alternator, PROP_ALTERNATOR_ENGINE) : NULL;
    return engine != NULL && !entity_states(alternator, PROP_SPARK_IGNITION_PROTECTED) &&
           (is_outboard(engine) || is_petrol_inboard(engine) || entity_states(engine, PROP_SPARK_IGNITION_PROTECTED));
}

/* What draws is electric where something feeds it or it says its draw: a fan may be driven by gas, a pump by hand. */
static bool can_spark(const Entity *thing)
{
    if (!is_aboard(thing) || !(kinds[thing->kind].groups & GROUPS_SPARK) ||
        entity_yes(thing, PROP_COMMON_PORTABLE) == 1) {
        return false;
    }
    switch (thing->kind) {
    case KIND_ALTERNATOR: return !is_spoken_for(thing);
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
static void say_why(Judge *judge, Finding *finding, const Entity *space, const Entity *because)
{
    bool gas = because->kind == KIND_GAS_LOCKER;
    finding_note(judge, finding, place_of_name(judge, because),
                 !gas                ? "for this the space counts as one of petrol"
                 : is_open_air(space) ? "what leaks here lies round it before it has run off; a locker that is a box by itself "
                                        "is a `space` of its own"
                                      : "what leaks here can lie in the space, unless the locker is tight towards it and a "
                                        "space of its own");
    if (gas || is_outboard_with_petrol(judge->model, because)) { /* what is in its carburettor and its hose is less than a tank */
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
    say_why(judge, finding, space, because);
    if (covered) {
        finding_severity(finding, SEVERITY_WARNING);
    }
}

/* A cooker, a burner: a flame is what vapour waits for, whatever is electric on it. */
static bool has_flame(const Model *model, const Entity *thing)
{
    return is_aboard(thing) && (thing->kind == KIND_GAS_APPLIANCE || (burns_by_use(thing) && is_burner(model, thing)) || burns_wood(thing));
}

static void judge_flame(Judge *judge, const Entity *thing, const Entity *space, const Entity *because)
{
    Finding *finding = judge_broken(judge, thing, place_of(judge, thing, PROP_COMMON_SPACE));
    finding_say(judge, finding, "%s can lie in `%s`, and `%s` burns there: its flame sets fire to it", vapour(because),
                say_name(judge, space), say_name(judge, thing));
    say_why(judge, finding, space, because);
    finding_of_heater(judge, finding, thing);
}

/* With a cylinder nothing else is stowed; a can that stands in the cockpit, as its locker does, is well beside it. */
static void judge_fuel_there(Judge *judge, const Entity *tank, const Entity *space, const Entity *locker)
{
    Finding *finding = judge_broken(judge, tank, place_of(judge, tank, PROP_COMMON_SPACE));
    finding_say(judge, finding, "`%s` stands in `%s` with `%s`: the fire of one is fed by the other", say_name(judge, tank),
                say_name(judge, space), say_name(judge, locker));
    say_why(judge, finding, space, locker);
    if (is_open_air(space)) {
        finding_severity(finding, SEVERITY_ADVICE);
    }
}

/* In the open air round a gas locker, as in a cockpit, what has said nothing is not asked: engines alone are. */
static bool is_asked_there(const Entity *thing, const Entity *space, const Entity *because)
{
    return because->kind != KIND_GAS_LOCKER || !is_open_air(space) || thing->kind == KIND_ENGINE ||
           thing->kind == KIND_GENERATOR || entity_yes(thing, PROP_SPARK_IGNITION_PROTECTED) == 0;
}

static void judge_sparking(Judge *judge, const Entity *thing, const Entity *space, const Entity *because)
{
    if (!is_asked_there(thing, space, because)) {
        return;
    }
    Finding *finding = judge_yes(judge, thing, PROP_SPARK_IGNITION_PROTECTED, "");
    if (finding == NULL) {
        return;
    }
    finding_say(judge, finding, "%s can lie in `%s`, and `%s` %s",
                vapour(because), say_name(judge, space), say_name(judge, thing),
                finding->verdict == VERDICT_BROKEN ? "is not protected against setting fire to it"
                                                   : "does not say whether it can set fire to it");
    say_why(judge, finding, space, because);
}

static bool is_any(const Model *model, Reasons because)
{
    const Entity *space = model->first_of_kind[KIND_SPACE];
    while (space != NULL && because[space->index] == NULL) {
        space = space->next_of_kind;
    }
    return space != NULL;
}

/* Fuel, a bank, a flame, or what may spark: whatever it is, where there is gas or vapour. */
static void judge_there(Judge *judge, const Entity *thing, const Entity *space, const Entity *reason)
{
    bool flame = has_flame(judge->model, thing);
    if (flame && reason->kind == KIND_GAS_LOCKER && thing->kind == KIND_GAS_APPLIANCE) {
        return; /* where a gas locker stands beside its cooker, the rules of gas speak */
    }
    if (thing->kind == KIND_BANK) {
        judge_bank_there(judge, thing, space, reason);
    } else if (flame) {
        judge_flame(judge, thing, space, reason);
    } else if (can_spark(thing)) {
        judge_sparking(judge, thing, space, reason);
    }
}

/* Out on deck by its nature, or bolted to an engine, which is asked itself. */
static bool is_placed_anyway(const Entity *thing)
{
    switch (thing->kind) {
    case KIND_NAV_LIGHT:
    case KIND_HORN:
    case KIND_SOLAR:
    case KIND_INLET:
    case KIND_WINDLASS: return true;
    case KIND_ALTERNATOR: return entity_states(thing, PROP_ALTERNATOR_ENGINE);
    default: return false;
    }
}

static bool is_unplaced(const Model *model, const Entity *thing)
{
    if (!is_aboard(thing) || entity_states(thing, PROP_COMMON_SPACE) || is_placed_anyway(thing) || entity_yes(thing, PROP_COMMON_PORTABLE) == 1) {
        return false;
    }
    return thing->kind == KIND_BANK || has_flame(model, thing) ||
           (can_spark(thing) && entity_yes(thing, PROP_SPARK_IGNITION_PROTECTED) != 1);
}

/* The first space in which petrol vapour can lie, of an outboard alone where it lies in no other; NULL: none. */
static const Entity *space_of_petrol(const Model *model, Reasons because)
{
    const Entity *of_outboard = NULL;
    for (const Entity *space = model->first_of_kind[KIND_SPACE]; space != NULL; space = space->next_of_kind) {
        const Entity *why = because[space->index];
        if (why == NULL || why->kind == KIND_GAS_LOCKER) {
            continue;
        }
        if (!is_outboard_with_petrol(model, why)) {
            return space;
        }
        of_outboard = of_outboard != NULL ? of_outboard : space;
    }
    return of_outboard;
}

/* What states no space would be passed by, and silence be read as safe: one open finding for all of it. */
static void judge_unplaced(Judge *judge, Reasons because)
{
    enum { NAMED = 8 };
    const Entity *named[NAMED], *space = space_of_petrol(judge->model, because);
    uint32_t count = 0;
    for (uint32_t i = 0; space != NULL && i < judge->model->entity_count; i++) {
        const Entity *thing = judge->model->entities[i];
        if (is_unplaced(judge->model, thing)) {
            named[count < NAMED ? count : NAMED - 1] = thing;
            count++;
        }
    }
    uint32_t given = count < NAMED ? count : NAMED - 1;
    if (count == 0) {
        return;
    }
    Finding *finding = judge_open(judge, named[0], place_of_name(judge, named[0]), named[0], PROP_COMMON_SPACE);
    for (uint32_t i = 1; i < given; i++) {
        finding_left_open(judge, finding, named[i], PROP_COMMON_SPACE);
    }
    finding_say(judge, finding, "petrol vapour can lie in `%s`, and nothing says whether %s %s there or elsewhere: what can set fire to it must not",
                say_name(judge, space), say_names(judge, named, given, count), count == 1 ? "stands" : "stand");
    finding_note(judge, finding, place_of_name(judge, because[space->index]),
                 "for this the space counts as one of petrol");
    if (is_outboard_with_petrol(judge->model, because[space->index])) {
        finding_severity(finding, SEVERITY_WARNING);
    }
    finding_remedy(judge, finding, "`space` of %s; or `ignition-protected yes` of what the maker says it of", count == 1 ? "it" : "each");
}

void judge_spark(Judge *judge)
{
    Reasons of_gas = spaces_of_gas(judge);
    Reasons because = spaces_of_vapour(judge, of_gas);
    if (!is_any(judge->model, because)) {
        return;
    }
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *thing = judge->model->entities[i];
        const Entity *space = is_aboard(thing) ? place_where(thing) : NULL;
        if (space == NULL || because[space->index] == NULL) {
            continue;
        }
        if (thing->kind == KIND_TANK && holds_fuel(thing) && of_gas[space->index] != NULL) {
            judge_fuel_there(judge, thing, space, of_gas[space->index]);
        } else {
            judge_there(judge, thing, space, because[space->index]);
        }
    }
    judge_unplaced(judge, because);
}
