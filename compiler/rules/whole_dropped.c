/*
 * What drives a thing, or carries it, is aboard. Feeds, pipes, tanks and jobs have rules of their own that say so.
 */
#include "rules/whole.h"

/* A property that names what a thing cannot do without. */
typedef struct Rest {
    PropId prop;
    const char *is;   /* "`alt` IS `old-iron`" */
    const char *then; /* what comes of it where that is dropped */
} Rest;

static const Rest rests[] = {
    {PROP_ALTERNATOR_ENGINE, "is driven by", "it charges nothing"},
    {PROP_WATER_HEATER_ENGINE, "is heated by", "that heats no water"},
    {PROP_WATER_HEATER_HEATED_BY, "is heated by", "that heats no water"},
    {PROP_GEARBOX_ENGINE, "is driven by", "it turns nothing"},
    {PROP_PROPELLER_ENGINE, "is turned by", "it drives her no more"},
    {PROP_SHAFT_SEAL_PROPELLER, "seals the shaft of", "the hole in the hull is still there, or the seal is not"},
    {PROP_ENGINE_EXHAUST, "has the exhaust", "nothing is judged of where its gas goes"},
    {PROP_GAS_APPLIANCE_LOCKER, "takes its gas from", "nothing says where that comes from"},
    {PROP_NETWORKED_NETWORK, "is on", "it has neither data nor power from there"},
    {PROP_INVERTER_PASSES, "passes on", "it carries alone what hangs on it"},
    {PROP_STRAINER_ON, "sits on", "it strains nothing"},
    {PROP_VENT_LOOP_ON, "sits on", "it breaks no siphon"},
};

static void judge_rest(Judge *judge, const Entity *thing, const Rest *rest)
{
    const Entity *on = entity_reference(thing, rest->prop);
    if (on == NULL || whole_is_out(thing) || on->flags & ENTITY_BROKEN) {
        return; /* nothing is named, or it is a mistake and told */
    }
    if (!(on->flags & ENTITY_DROPPED)) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, thing, place_of(judge, thing, rest->prop));
    finding_about(finding, rest->prop);
    finding_at(finding, on);
    finding_say(judge, finding, "`%s` %s `%s`, which is dropped: %s", say_name(judge, thing), rest->is, say_name(judge, on),
                rest->then);
    finding_note(judge, finding, place_of_name(judge, on), "dropped");
    finding_remedy(judge, finding, "`%s` with what comes in its place, or `status dropped` on `%s` too", props[rest->prop].word,
                   say_name(judge, thing));
}

/* Of a switch of several sources one: the others still come, and what it was there for does not. Of all of them: unpowered. */
static void judge_sources(Judge *judge, const Entity *thing)
{
    bool any = false;
    for (const Feed *feed = thing->fed; feed != NULL; feed = feed->next) {
        any = any || feed->giver == NULL || !(feed->giver->flags & ENTITY_DROPPED);
    }
    for (const Feed *feed = thing->fed; feed != NULL && any && thing->fed->next != NULL && !whole_is_out(thing); feed = feed->next) {
        if (feed->giver == NULL || feed->giver->flags & ENTITY_BROKEN || !(feed->giver->flags & ENTITY_DROPPED)) {
            continue;
        }
        Finding *finding = judge_broken(judge, thing, place_of(judge, thing, PROP_FEED_FED_BY));
        finding_about(finding, PROP_FEED_FED_BY);
        finding_at(finding, feed->giver);
        finding_say(judge, finding, "`%s` is fed by `%s`, which is dropped: nothing comes from there, however it is turned",
                    say_name(judge, thing), say_name(judge, feed->giver));
        finding_note(judge, finding, place_of_name(judge, feed->giver), "dropped");
        finding_remedy(judge, finding, "`fed-by` without it, or with what comes in its place");
    }
}

void judge_rests_on_dropped(Judge *judge)
{
    for (const Entity *e = judge->model->first_of_kind[KIND_SWITCH]; e != NULL; e = e->next_of_kind) {
        judge_sources(judge, e);
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
}
