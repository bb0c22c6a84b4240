/*
 * What drives a thing, carries it, or is all that it is there for, is aboard. Feeds, pipes, tanks and jobs have rules of their
 * own that say so.
 */
#include "rules/whole.h"

/* A property that names what a thing cannot do without, or is there for. */
typedef struct Rest {
    PropId prop;
    const char *is;   /* "`alt` IS `old-iron`" */
    const char *then; /* what comes of it where that is dropped; where several are named, all of them */
} Rest;

#define HOLE "the hole in the hull is still there, and nothing says that it is closed"

static const Rest rests[] = {
    {PROP_ALTERNATOR_ENGINE, "is driven by", "it charges nothing"},
    {PROP_WATER_HEATER_ENGINE, "is heated by", "that heats no water"},
    {PROP_WATER_HEATER_HEATED_BY, "is heated by", "that heats no water"},
    {PROP_GEARBOX_ENGINE, "is driven by", "it turns nothing"},
    {PROP_PROPELLER_ENGINE, "is turned by", "it drives her no more"},
    {PROP_SHAFT_SEAL_PROPELLER, "seals the shaft of", "the hole in the hull is still there, or the seal is not"},
    {PROP_ENGINE_EXHAUST, "has the exhaust", "nothing is judged of where its gas goes"},
    {PROP_GENERATOR_EXHAUST, "has the exhaust", "nothing is judged of where its gas goes"},
    {PROP_GAS_APPLIANCE_LOCKER, "takes its gas from", "nothing says where that comes from"},
    {PROP_NETWORKED_NETWORK, "is on", "it has neither data nor power from there"},
    {PROP_INVERTER_PASSES, "passes on", "it carries alone what hangs on it"},
    {PROP_STRAINER_ON, "sits on", "it strains nothing"},
    {PROP_VENT_LOOP_ON, "sits on", "it breaks no siphon"},
    {PROP_THROUGH_HULL_SERVES, "serves", HOLE},
    {PROP_ANODE_PROTECTS, "protects", "it wastes for nothing"},
    {PROP_INSTRUMENT_BACKUP_FOR, "stands in for", "it is a spare for nothing that is aboard"},
};

/* The first that is named and dropped, if none that is named is aboard, and none is a mistake. */
static const Entity *lost_of(const Entity *thing, PropId prop)
{
    const Property *names = entity_property(thing, prop);
    const Entity *lost = NULL;
    for (uint16_t i = 0; names != NULL && i < names->count; i++) {
        const Entity *named = value_entity(property_value(names, i));
        if (named == NULL || named->flags & ENTITY_BROKEN || !(named->flags & ENTITY_DROPPED)) {
            return NULL;
        }
        lost = lost != NULL ? lost : named;
    }
    return lost;
}

static Finding *tell_dropped(Judge *judge, const Entity *thing, PropId place, const Entity *on)
{
    Finding *finding = judge_broken(judge, thing, place_of(judge, thing, place));
    finding_at(finding, on);
    finding_note(judge, finding, place_of_name(judge, on), "dropped");
    return finding;
}

static void judge_rest(Judge *judge, const Entity *thing, const Rest *rest)
{
    if (whole_is_out(thing) || !entity_states(thing, rest->prop)) {
        return;
    }
    const Entity *on = lost_of(thing, rest->prop);
    if (on == NULL) {
        judge_holds(judge);
        return;
    }
    Finding *finding = tell_dropped(judge, thing, rest->prop, on);
    finding_about(finding, rest->prop);
    finding_say(judge, finding, "`%s` %s `%s`, which is dropped: %s", say_name(judge, thing), rest->is, say_name(judge, on),
                rest->then);
    finding_remedy(judge, finding, "`%s` with what comes in its place, or `status dropped` on `%s` too", props[rest->prop].word,
                   say_name(judge, thing));
}

/* By Entity.index: what makes power feeds it. */
static bool *find_made_for(Judge *judge)
{
    const Model *model = judge->model;
    bool *made_for = ARENA_ARRAY(judge->scratch, bool, (size_t)model->entity_count + 1);
    for (uint32_t i = 0; i < model->feed_count; i++) {
        const Feed *feed = model->feeds[i];
        if (feed->maker && feed->giver != NULL && !whole_is_out(feed->giver)) {
            made_for[feed->taker->index] = true;
        }
    }
    return made_for;
}

/*
 * Something that feeds it, while others still do: of a switch of several sources one, or all of a bus that an array or a charger
 * feeds too. Where nothing is left, `unpowered` tells it.
 */
static void judge_sources(Judge *judge, const Entity *thing, bool made_for)
{
    bool any = false;
    for (const Feed *feed = thing->fed; feed != NULL; feed = feed->next) {
        any = any || feed->giver == NULL || !(feed->giver->flags & ENTITY_DROPPED);
    }
    for (const Feed *feed = thing->fed; feed != NULL && (any || made_for) && !whole_is_out(thing); feed = feed->next) {
        if (feed->giver == NULL || feed->giver->flags & ENTITY_BROKEN || !(feed->giver->flags & ENTITY_DROPPED)) {
            continue;
        }
        Finding *finding = judge_broken(judge, thing, place_of(judge, thing, PROP_FEED_FED_BY));
        finding_about(finding, PROP_FEED_FED_BY);
        finding_at(finding, feed->giver);
        finding_say(judge, finding, "`%s` is fed by `%s`, which is dropped: nothing comes from there, %s", say_name(judge, thing),
                    say_name(judge, feed->giver),
                    !any                         ? "and all that hangs on it lives on what else feeds it alone"
                    : thing->kind == KIND_SWITCH ? "however it is turned"
                                                 : "whatever else feeds it");
        finding_note(judge, finding, place_of_name(judge, feed->giver), "dropped");
        finding_remedy(judge, finding, any ? "`fed-by` without it, or with what comes in its place" : "`fed-by` something that stays aboard");
    }
}

/* What a thing is there for is said by another, which names it. */
typedef struct Named {
    KindId kind;
    PropId by[6];     /* up to PROP_NONE */
    const char *is;   /* "`pipe` IS `old-iron`" */
    const char *then; /* what comes of it where all that name it are dropped */
    const char *too;  /* what has to be done before it is dropped too */
} Named;

static const Named named_things[] = {
    {KIND_EXHAUST, {PROP_ENGINE_EXHAUST, PROP_GENERATOR_EXHAUST}, "is the exhaust of", "no engine aboard blows through it, and it still leads out of the hull",
     "once its way out is closed"},
    {KIND_THROUGH_HULL,
     {PROP_HOSE_FROM, PROP_HOSE_TO, PROP_PUMP_FROM, PROP_PUMP_TO, PROP_TOILET_TO, PROP_FIXTURE_DRAINS_TO},
     "is there for", HOLE, "once the hole is closed"},
};

/* By Entity.index: what names a thing; something that is aboard where there is such a one. NULL: nothing does. */
static const Entity **find_namers(Judge *judge, const Named *named)
{
    const Entity **namers = ARENA_ARRAY(judge->scratch, const Entity *, (size_t)judge->model->entity_count + 1);
    for (size_t i = 0; i < sizeof named->by / sizeof named->by[0] && named->by[i] != PROP_NONE; i++) {
        for (const Entity *e = judge->model->first_of_kind[props[named->by[i]].owner]; e != NULL; e = e->next_of_kind) {
            const Property *names = entity_property(e, named->by[i]);
            for (uint16_t v = 0; names != NULL && v < names->count; v++) {
                const Entity *thing = value_entity(property_value(names, v));
                if (thing != NULL && (namers[thing->index] == NULL || !(e->flags & ENTITY_DROPPED))) {
                    namers[thing->index] = e;
                }
            }
        }
    }
    return namers;
}

/* Only a thing that is dropped names it, and it does not say itself what it serves: where it does, that is judged. */
static void judge_named(Judge *judge, const Named *named)
{
    const Entity **namers = find_namers(judge, named);
    for (const Entity *thing = judge->model->first_of_kind[named->kind]; thing != NULL; thing = thing->next_of_kind) {
        const Entity *by = namers[thing->index];
        bool says = named->kind == KIND_THROUGH_HULL && entity_states(thing, PROP_THROUGH_HULL_SERVES);
        if (whole_is_out(thing) || by == NULL || says) {
            continue;
        }
        if (!(by->flags & ENTITY_DROPPED)) {
            judge_holds(judge);
            continue;
        }
        Finding *finding = tell_dropped(judge, thing, PROP_NONE, by);
        finding_say(judge, finding, "`%s` %s `%s`, which is dropped: %s", say_name(judge, thing), named->is, say_name(judge, by),
                    named->then);
        finding_remedy(judge, finding, "`status dropped` on `%s` too, %s, or what comes in the place of `%s`", say_name(judge, thing),
                       named->too, say_name(judge, by));
    }
}

void judge_rests_on_dropped(Judge *judge)
{
    const bool *made_for = find_made_for(judge);
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        judge_sources(judge, judge->model->entities[i], made_for[i]);
    }
    for (size_t i = 0; i < sizeof rests / sizeof rests[0]; i++) {
        for (int kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
            const Entity *thing = judge->model->first_of_kind[kind];
            bool may = thing != NULL && schema_has((KindId)kind, rests[i].prop);
            for (; may && thing != NULL; thing = thing->next_of_kind) {
                judge_rest(judge, thing, &rests[i]);
            }
        }
    }
    for (size_t i = 0; i < sizeof named_things / sizeof named_things[0]; i++) {
        judge_named(judge, &named_things[i]);
    }
}
