/*
 * Part of the rule pipe-end, of the family rules_pipes: a hose that was stated and is dropped, and nothing in its place, though
 * what stood at its end still says that it leads somewhere. Where no hose was ever stated a spec says enough with `to`.
 */
#include "rules/pipes.h"

#include "rules/plumbing.h"

/* What says of its own way that it leads on (or, of a suction, where it comes from). */
typedef struct Says {
    KindId kind;
    PropId prop;
    bool out, in; /* by a hose that begins, or ends, at the thing; both: by either */
} Says;

static const Says says_rows[] = {
    {KIND_TOILET, PROP_TOILET_TO, true, false},
    {KIND_FIXTURE, PROP_FIXTURE_DRAINS_TO, true, false},
    {KIND_PUMP, PROP_PUMP_TO, true, false},
    {KIND_PUMP, PROP_PUMP_FROM, false, true},
    {KIND_BILGE_PUMP, PROP_BILGE_PUMP_DISCHARGE_HEIGHT, true, false},
    {KIND_THROUGH_HULL, PROP_THROUGH_HULL_SERVES, true, true},
};

/* Whether all that a property names is dropped, which is told of that; or a mistake. */
static bool names_nothing_aboard(const Property *names)
{
    for (uint16_t i = 0; i < names->count; i++) {
        const Value *value = property_value(names, i);
        if (value->kind != VALUE_REFERENCE || is_aboard(value_entity(value))) {
            return false;
        }
    }
    return true;
}

/* No hose aboard takes the place of that one: none at the thing, or none that comes to what it names and the hose led to. */
static bool is_missed(const Plumbing *plumbing, const Entity *thing, const Says *says, const Entity *other)
{
    bool any = (says->out && plumbing->hoses_from[thing->index] > 0) || (says->in && plumbing->hoses_to[thing->index] > 0);
    bool both = says->out && says->in;
    if (!any || both || !is_aboard(other) || !entity_names(thing, says->prop, other)) {
        return !any;
    }
    return says->out ? plumbing->hoses_to[other->index] == 0 : plumbing->hoses_from[other->index] == 0;
}

static void tell_missed(Judge *judge, const Entity *thing, const Says *says, const Entity *hose, bool out)
{
    Finding *finding = judge_broken(judge, thing, place_of(judge, thing, says->prop));
    const char *name = say_name(judge, thing);
    finding_about(finding, says->prop);
    finding_at(finding, hose);
    finding_say(judge, finding, "`%s`, which led %s `%s`, is dropped, and no other hose does, though `%s` still states its `%s`",
                say_name(judge, hose), out ? "from" : "to", name, name, props[says->prop].word);
    finding_note(judge, finding, place_of_name(judge, hose), "dropped");
    finding_remedy(judge, finding, "a `hose` with `%s %s` in its place", props[out ? PROP_HOSE_FROM : PROP_HOSE_TO].word, name);
}

/* A fitting leaves it to what says itself that it leads there, or draws from there. */
static bool other_says(const Entity *other, const Entity *thing)
{
    bool says = false;
    for (size_t i = 0; thing->kind == KIND_THROUGH_HULL && other != NULL && i < sizeof says_rows / sizeof says_rows[0]; i++) {
        says = says || (other->kind == says_rows[i].kind && is_aboard(other) && entity_names(other, says_rows[i].prop, thing));
    }
    return says;
}

/* One end of a hose that is dropped. */
static void judge_left_end(Judge *judge, const Entity *hose, bool out)
{
    const Entity *thing = entity_reference(hose, out ? PROP_HOSE_FROM : PROP_HOSE_TO);
    const Entity *other = entity_reference(hose, out ? PROP_HOSE_TO : PROP_HOSE_FROM);
    for (size_t i = 0; is_aboard(thing) && i < sizeof says_rows / sizeof says_rows[0]; i++) {
        const Says *says = &says_rows[i];
        const Property *names = thing->kind == says->kind && (out ? says->out : says->in) ? entity_property(thing, says->prop) : NULL;
        if (names == NULL || names_nothing_aboard(names) || other_says(other, thing) ||
            (says->kind == KIND_BILGE_PUMP && entity_states(thing, PROP_BILGE_PUMP_OUTLET))) {
            continue; /* nothing is said here; or what `outlet` says of the hose of a bilge pump stands in for one */
        }
        if (is_missed(plumbing_of(judge->figures), thing, says, other)) {
            tell_missed(judge, thing, says, hose, out);
        } else {
            judge_holds(judge);
        }
    }
}

void judge_dropped_hoses(Judge *judge)
{
    for (const Entity *hose = judge->model->first_of_kind[KIND_HOSE]; hose != NULL; hose = hose->next_of_kind) {
        if (!(hose->flags & ENTITY_DROPPED) || hose->flags & ENTITY_BROKEN) {
            continue;
        }
        if (plumbing_of(judge->figures)->lost_hoses) {
            judge_waiting(judge);
            return;
        }
        judge_left_end(judge, hose, true);
        judge_left_end(judge, hose, false);
    }
}
