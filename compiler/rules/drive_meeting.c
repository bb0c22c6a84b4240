/*
 * A part of the rule exhaust-riser: exhausts that meet on their way out, in one fitting, behind a T, or the one in the other.
 * What the engine that runs blows out fills the one that stands, whichever riser each has.
 */
#include "rules/drive_rules.h"

#include "figures/drive.h"
#include "figures/joints.h"

/* Where what blows out leaves: fittings, and whatever its hoses lead to in the end. */
typedef FarEnds Outlets;

static void add_outlet(Outlets *outlets, const Entity *thing)
{
    if (outlets->count < ENDS_MOST) {
        outlets->hoses[outlets->count] = NULL;
        outlets->things[outlets->count++] = thing;
    }
}

/* By the hoses that begin at a thing; `exhaust_alone`: by those that are made for it, for others bring water somewhere. */
static void add_by_hoses(const Plumbing *plumbing, const Entity *thing, bool exhaust_alone, Outlets *outlets)
{
    for (const Entity *hose = plumbing->from.first[thing->index]; hose != NULL; hose = plumbing->from.next[hose->index]) {
        if (!is_aboard(hose) || (exhaust_alone && !str_is(entity_word(hose, PROP_HOSE_GRADE), "exhaust"))) {
            continue;
        }
        FarEnds ends;
        joint_ends(plumbing, hose, entity_reference(hose, PROP_HOSE_TO), FOLLOW_ON, &ends);
        for (uint32_t i = 0; i < ends.count; i++) {
            add_outlet(outlets, ends.things[i]);
        }
    }
}

/* What serves an engine may bring it the sea, unless it surely lies above the water, or lets some exhaust out. */
static bool lets_out(const Entity *fitting)
{
    Interval height;
    uint16_t at = 0;
    const Entity *served = next_served(fitting, &at);
    while (served != NULL && served->kind != KIND_EXHAUST) {
        served = next_served(fitting, &at);
    }
    return entity_yes(fitting, PROP_THROUGH_HULL_AIR_INTAKE) != 1 &&
           (served != NULL || (entity_quantity(fitting, PROP_THROUGH_HULL_HEIGHT, 0, &height) && height.low > 0.0));
}

/* Of a fitting that is counted each may have its own. */
static void add_by_fittings(const Judge *judge, const Entity *thing, Outlets *outlets)
{
    for (const Entity *e = first_aboard(judge->model, KIND_THROUGH_HULL); e != NULL; e = next_aboard(e)) {
        if (entity_names(e, PROP_THROUGH_HULL_SERVES, thing) && (thing->kind == KIND_EXHAUST || lets_out(e))) {
            add_outlet(outlets, e);
        }
    }
}

/* An exhaust, or an engine or generator that names none. */
static void find_outlets(const Judge *judge, const Entity *blowing, Outlets *outlets)
{
    const Plumbing *plumbing = plumbing_of(judge->figures);
    bool exhaust = blowing->kind == KIND_EXHAUST;
    const Entity *engine = exhaust ? engine_of_exhaust(judge->model, blowing) : blowing;
    outlets->count = 0;
    if (exhaust) {
        add_by_fittings(judge, blowing, outlets);
        add_by_hoses(plumbing, blowing, false, outlets);
    }
    if (engine != NULL) {
        add_by_hoses(plumbing, engine, true, outlets);
    }
    if (engine != NULL && outlets->count == 0) {
        add_by_fittings(judge, engine, outlets);
    }
}

/* In what two of them meet: each with where it leaves; NULL: nowhere. */
static const Entity *meeting_of(const Entity *one, const Outlets *of_one, const Entity *other, const Outlets *of_other)
{
    for (uint32_t i = 0; i < of_one->count; i++) {
        const Entity *thing = of_one->things[i];
        if (thing == other || (is_end(of_other, thing) && thing != one && !entity_states(thing, PROP_COMMON_COUNT))) {
            return thing;
        }
    }
    return is_end(of_other, one) ? one : NULL;
}

/* An engine names one exhaust: another that none names is a generator's, or a second one of the same engine. */
static bool is_of_another(const Judge *judge, const Entity *exhaust)
{
    return engine_of_exhaust(judge->model, exhaust) != NULL || first_aboard(judge->model, KIND_GENERATOR) != NULL;
}

/* What blows beside a wet exhaust, and is not told at another one: exhausts before it, dry ones, and what names no exhaust. */
static bool blows_beside(const Judge *judge, const Entity *exhaust, const Entity *other)
{
    switch (other->kind) {
    case KIND_EXHAUST:
        return other != exhaust && (other->index < exhaust->index || !exhaust_is_wet(other)) &&
               is_of_another(judge, other);
    case KIND_ENGINE: return burns_within(other) && entity_reference(other, PROP_ENGINE_EXHAUST) == NULL;
    default: return entity_yes(other, PROP_COMMON_PORTABLE) != 1 && exhaust_of_burner(judge, other) == NULL;
    }
}

static void tell_meeting(Judge *judge, const Entity *exhaust, const Entity *other, const Entity *meeting)
{
    Finding *finding = judge_broken(judge, exhaust, place_of_name(judge, exhaust));
    const char *first = say_name(judge, other), *second = say_name(judge, exhaust);
    finding_severity(finding, SEVERITY_WARNING);
    finding_matter(finding, "several engines");
    finding_at(finding, other);
    const char *meets = meeting == exhaust ? text_format(judge->arena, "`%s` leads into `%s`", first, second)
                        : meeting == other ? text_format(judge->arena, "`%s` leads into `%s`", second, first)
                                           : text_format(judge->arena, "`%s` and `%s` meet in `%s`", first, second, say_name(judge, meeting));
    finding_say(judge, finding, "%s, and water is blown out there: the engine that runs fills the other that stands", meets);
    finding_note(judge, finding, place_of_name(judge, meeting == exhaust ? other : meeting), meeting == exhaust ? "this one" : "here");
    finding_remedy(judge, finding, "a way of its own out of the hull for each");
}

void judge_exhausts_meet(Judge *judge, const Entity *exhaust)
{
    static const KindId blowing[] = {KIND_EXHAUST, KIND_ENGINE, KIND_GENERATOR};
    Outlets own, of_other;
    if (!is_of_another(judge, exhaust)) {
        return;
    }
    find_outlets(judge, exhaust, &own);
    for (size_t i = 0; i < sizeof blowing / sizeof blowing[0]; i++) {
        for (const Entity *e = first_aboard(judge->model, blowing[i]); e != NULL; e = next_aboard(e)) {
            if (!blows_beside(judge, exhaust, e)) {
                continue;
            }
            find_outlets(judge, e, &of_other);
            const Entity *meeting = meeting_of(exhaust, &own, e, &of_other);
            if (meeting != NULL) {
                tell_meeting(judge, exhaust, e, meeting);
            }
        }
    }
}
