/*
 * Waste overboard: follows it from toilets and holding tanks through hoses and pumps to the hull. And what tanks are made of, sewage
 * tanks first.
 */
#include "rules/plumbing.h"

#include "rules/families.h"

typedef struct Outfall {
    const Entity *source; /* the toilet or tank that the waste comes from; NULL: not reached */
    const Entity *hose;   /* the last one on the way; NULL: none stated */
} Outfall;

typedef struct Search {
    Judge *judge;
    const Plumbing *plumbing;
    Outfall *reached;     /* by Entity.index */
    const Entity **waits; /* reached, and its ways not followed yet */
    uint32_t waiting;
} Search;

static bool keeps_shut(Str secured)
{
    return str_is(secured, "handle-off") || str_is(secured, "padlocked") || str_is(secured, "tied");
}

/* Whether waste may not go overboard where she goes: `waters` says so, says not, or nothing. */
static Answer is_prohibited(const Judge *judge)
{
    const Entity *boat = judge->model->boat;
    const Property *waters = entity_property(boat, PROP_BOAT_WATERS);
    if (waters == NULL || has_mistake(boat, PROP_BOAT_WATERS)) {
        return ANSWER_UNKNOWN;
    }
    for (uint16_t i = 0; i < waters->count; i++) {
        if (!str_is(waters->values[i].u.word, "offshore")) {
            return ANSWER_YES;
        }
    }
    return ANSWER_NO;
}

static void reach(Search *search, const Entity *thing, const Entity *source, const Entity *hose)
{
    if (search->reached[thing->index].source == NULL) {
        search->reached[thing->index] = (Outfall){.source = source, .hose = hose};
        search->waits[search->waiting++] = thing;
    }
}

/* Follows the waste from a thing; a hose that is kept shut ends the way, and so does the hull. */
static void follow(Search *search, const Entity *thing)
{
    Str secured;
    for (const Way *way = search->plumbing->ways[thing->index]; way != NULL; way = way->next) {
        bool shut = way->hose != NULL &&
                    stated_word(way->hose, PROP_HOSE_SECURED, &secured) != STATE_MISSING &&
                    (has_mistake(way->hose, PROP_HOSE_SECURED) || keeps_shut(secured));
        if (!shut && is_aboard(way->to)) {
            reach(search, way->to, search->reached[thing->index].source, way->hose);
        }
    }
}

static void follow_waste(Search *search)
{
    const Model *model = search->judge->model;
    for (const Entity *e = first_aboard(model, KIND_TOILET); e != NULL; e = next_aboard(e)) {
        reach(search, e, e, NULL);
    }
    for (const Entity *e = first_tank(model, "black"); e != NULL; e = next_tank(e, "black")) {
        reach(search, e, e, NULL);
    }
    while (search->waiting > 0) {
        const Entity *thing = search->waits[--search->waiting];
        if (thing->kind != KIND_THROUGH_HULL) {
            follow(search, thing);
        }
    }
}

static void say_overboard(Judge *judge, Finding *finding, const Entity *fitting, const Outfall *outfall,
                          const char *what)
{
    const Entity *boat = judge->model->boat;
    finding_say(judge, finding, "waste from `%s` can go overboard by `%s`, %s",
                say_name(judge, outfall->source), say_name(judge, fitting), what);
    finding_note(judge, finding, place_of_name(judge, outfall->source), "the waste comes from here");
    if (entity_states(boat, PROP_BOAT_WATERS)) {
        finding_note(judge, finding, place_of(judge, boat, PROP_BOAT_WATERS), "it may not be let out here");
    }
    finding_remedy(judge, finding, "secured padlocked");
    finding_remedy(judge, finding, "secured handle-off");
    finding_remedy(judge, finding, "secured tied");
}

static bool says_not_secured(const Entity *hose)
{
    return hose != NULL && str_is(entity_word(hose, PROP_HOSE_SECURED), "none");
}

/* A through-hull that waste reaches, and that nothing is known to keep shut, where that is asked. */
static void judge_outfall(Judge *judge, const Entity *fitting, const Outfall *outfall)
{
    Str secured;
    State state = stated_word(fitting, PROP_THROUGH_HULL_SECURED, &secured);
    Finding *finding;
    if (state == STATE_WAITING) {
        judge_waiting(judge);
    } else if (state == STATE_KNOWN && keeps_shut(secured)) {
        judge_holds(judge);
    } else if (is_prohibited(judge) == ANSWER_UNKNOWN) {
        finding = judge_open(judge, fitting, place_of(judge, fitting, PROP_THROUGH_HULL_SECURED),
                             judge->model->boat, PROP_BOAT_WATERS);
        say_overboard(judge, finding, fitting, outfall,
                      "and the boat does not say in which `waters` she goes");
    } else if (state == STATE_KNOWN) {
        finding = judge_broken(judge, fitting, place_of(judge, fitting, PROP_THROUGH_HULL_SECURED));
        say_overboard(judge, finding, fitting, outfall, "which is not kept shut");
    } else if (says_not_secured(outfall->hose)) {
        finding = judge_broken(judge, fitting, place_of(judge, outfall->hose, PROP_HOSE_SECURED));
        say_overboard(judge, finding, fitting, outfall, "and the valve in its hose is not kept shut");
    } else {
        finding =
            judge_open(judge, fitting, place_of_name(judge, fitting), fitting, PROP_THROUGH_HULL_SECURED);
        say_overboard(judge, finding, fitting, outfall, "which does not say how it is kept shut");
    }
}

static void judge_overboard(Judge *judge)
{
    const Model *model = judge->model;
    if (first_aboard(model, KIND_THROUGH_HULL) == NULL) {
        return;
    }
    Answer prohibited = is_prohibited(judge);
    if (prohibited == ANSWER_NO) {
        judge_holds(judge);
        return;
    }
    if (has_mistake(model->boat, PROP_BOAT_WATERS)) {
        judge_waiting(judge);
        return;
    }
    Search search = {.judge = judge,
                     .plumbing = plumbing_of(judge->figures),
                     .reached = ARENA_ARRAY(judge->scratch, Outfall, model->entity_count + 1),
                     .waits = ARENA_ARRAY(judge->scratch, const Entity *, model->entity_count + 1)};
    follow_waste(&search);
    for (const Entity *e = first_aboard(model, KIND_THROUGH_HULL); e != NULL; e = next_aboard(e)) {
        if (search.reached[e->index].source != NULL) {
            judge_outfall(judge, e, &search.reached[e->index]);
        }
    }
}

/* ---- tank-material --------------------------------------------------------------------------------------- */

/* What eats the wall of a tank, or comes off it into what is drunk; NULL: nothing. */
static const char *why_coated(const Entity *tank)
{
    Str material = entity_word(tank, PROP_TANK_MATERIAL), holds = entity_word(tank, PROP_TANK_HOLDS);
    bool steel = str_is(material, "steel");
    if (str_is(holds, "black") && (steel || str_is(material, "aluminium"))) {
        return "sewage eats through it at the welds";
    }
    return str_is(holds, "fresh") && steel ? "drinking water rusts it, and tastes of it" : NULL;
}

static void judge_tank_material(Judge *judge, const Entity *tank)
{
    const char *why = why_coated(tank);
    int coated = entity_yes(tank, PROP_TANK_COATED);
    if (!entity_states(tank, PROP_TANK_MATERIAL)) {
        return;
    }
    if (why == NULL || coated == 1) {
        judge_holds(judge);
        return;
    }
    if (coated == -2) {
        judge_waiting(judge);
        return;
    }
    Finding *finding = coated == 0 ? judge_broken(judge, tank, place_of(judge, tank, PROP_TANK_COATED))
                                   : judge_open(judge, tank, place_of(judge, tank, PROP_TANK_MATERIAL), tank, PROP_TANK_COATED);
    finding_say(judge, finding, coated == 0 ? "`%s` is of %s and not coated: %s" : "`%s` is of %s, and does not say whether it is coated: %s",
                say_name(judge, tank), str_copy(judge->arena, entity_word(tank, PROP_TANK_MATERIAL)), why);
    finding_remedy(judge, finding, "coated yes");
    finding_remedy(judge, finding, "a tank of plastic, or of stainless");
}

#define OUTFALL(SAYS)                                                                                     \
    "edition 1\n"                                                                                         \
    "boat wren \"Wren\" {\n"                                                                              \
    "  length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us\n"                  \
    "  waters coastal\n"                                                                                  \
    "}\n"                                                                                                 \
    "tank holding { holds black; capacity 80 l; vent 38 mm; pump-out 38 mm }\n"                           \
    "pump discharge { from holding; to outfall }\n"                                                       \
    "through-hull outfall { bore 38 mm; height -0.2 m; seacock yes; reach yes; material bronze; backing " \
    "yes; " SAYS " }\n"

static const Rule rules[] = {
    {.name = "overboard",
     .severity = SEVERITY_FAULT,
     .title = "where no sewage may go overboard, each way for it is kept shut",
     .basis = ON_BOTH,
     .source = "33 CFR 159.7(c): handle removed, padlock or non-releasable tie (a locked door does not "
               "count for a holding tank); untreated sewage within three nautical miles: Clean Water Act, "
               "section 312; lakes: 40 CFR 140.3 (both from summaries of the EPA). On iso the same is taken "
               "as a benchmark: local law decides",
     .why = "A valve that can be opened by a passing knee lets the holding tank out in the harbour. Where "
            "the boat's `waters` name inland, coastal or no-discharge waters, every way from a toilet or a "
            "holding tank to a through-hull must be kept shut while she is there: `secured` on the "
            "through-hull, or on the hose that has the valve. Boats that only sail offshore, beyond three "
            "miles, are left alone. Treatment plants are not looked at.",
     .breaks = OUTFALL("secured none"),
     .holds = OUTFALL("secured padlocked"),
     .open = OUTFALL(""),
     .judge_boat = judge_overboard},
    {.name = "tank-material",
     .severity = SEVERITY_WARNING,
     .title = "sewage does not stand against bare light metal or steel, nor drinking water against bare steel",
     .basis = ON_BOTH,
     .danger = DANGER_DRINKING,
     .source = "common practice, no source",
     .why = "What stands in a sewage tank makes acid, which finds the welds of aluminium and of mild steel within years; plastic "
            "lasts, stainless with walls to spare. Steel for drinking water, the hull's own plate above all, wants a coating that is made "
            "for drinking water. Asked of tanks that state their `material`; other metals, and "
            "fuel, are not looked at, nor which liquids stand on the two sides of one wall.",
     .breaks = OUTFALL("secured padlocked") "tank sewage { holds black; capacity 80 l; material aluminium; coated no }\n",
     .holds = OUTFALL("secured padlocked") "tank sewage { holds black; capacity 80 l; material plastic }\n",
     .open = OUTFALL("secured padlocked") "tank sewage { holds black; capacity 80 l; material aluminium }\n",
     .kinds = {KIND_TANK},
     .judge = judge_tank_material},
};
const RuleFamily rules_waste = RULE_FAMILY("Waste overboard", rules);
