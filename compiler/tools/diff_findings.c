/*
 * Which findings are new, gone or in another state, and which goals were met or lost by it.
 *
 * A finding is known by its rule, its subject, and what tells it apart (a day, a second thing, a property),
 * followed through renamings; never by its line or its words. Judges nothing.
 */
#include "rules/goal_figures.h"
#include "tools/diff_parts.h"

#include <string.h>

/* A finding with the names that it has in the new spec. */
typedef struct Keyed {
    const Finding *finding;
    Symbol subject, at;
    bool subject_gone; /* no such thing in the other spec */
    bool done;
    struct Keyed *next; /* of the same hash */
} Keyed;

typedef struct Keys {
    Keyed *list;
    uint32_t count;
} Keys;

static Keys keys_of(Diff *diff, const DiffSide *side)
{
    Keys keys = {0};
    for (const Finding *f = side->outcome->findings; f != NULL; f = f->next) {
        keys.count++;
    }
    keys.list = ARENA_ARRAY(diff->arena, Keyed, keys.count);
    bool old = side == &diff->before;
    uint32_t i = 0;
    for (const Finding *f = side->outcome->findings; f != NULL; f = f->next) {
        Symbol subject = entity_symbol(f->subject);
        Symbol at = entity_symbol(f->at);
        keys.list[i] = (Keyed){.finding = f, .subject = subject, .at = at};
        if (old) {
            keys.list[i].subject = name_after(diff, subject);
            keys.list[i].at = name_after(diff, at);
            keys.list[i].subject_gone =
                (subject != 0 && keys.list[i].subject == 0) || (at != 0 && keys.list[i].at == 0);
        }
        i++;
    }
    return keys;
}

static uint32_t hash_of(const Keyed *key, uint32_t mask)
{
    uint64_t hash = (uint64_t)(uintptr_t)key->finding->rule * 0x9E3779B97F4A7C15u + key->subject;
    hash = (hash * 0x9E3779B97F4A7C15u + key->at) * 0x9E3779B97F4A7C15u + (uint64_t)key->finding->about;
    return (uint32_t)((hash * 0x9E3779B97F4A7C15u) >> 32) & mask;
}

static bool same_key(const Keyed *before, const Keyed *after)
{
    return !before->subject_gone && before->finding->rule == after->finding->rule &&
           before->subject == after->subject && before->at == after->at &&
           finding_same_matter(before->finding, after->finding);
}

static bool same_state(Arena *arena, const Finding *a, const Finding *b)
{
    return a->severity == b->severity && a->verdict == b->verdict &&
           (a->waiver != NULL) == (b->waiver != NULL) &&
           (a->only_with == b->only_with || strcmp(finding_state(arena, a), finding_state(arena, b)) == 0);
}

/* Of several with one key, those that say the same belong together; then those in the same state. */
typedef enum Pairing { PAIR_SAME, PAIR_STATE, PAIR_ANY } Pairing;

static bool fits(const Diff *diff, const Keyed *before, const Keyed *after, Pairing pairing)
{
    if (before->done || !same_key(before, after)) {
        return false;
    }
    bool state = same_state(diff->arena, before->finding, after->finding);
    bool words = strcmp(before->finding->message, after->finding->message) == 0;
    return pairing == PAIR_ANY || (state && (pairing == PAIR_STATE || words));
}

static void add_finding(Diff *diff, DiffFindingList *list, const Finding *before, const Finding *after)
{
    DiffFinding *added = ARENA_NEW(diff->arena, DiffFinding);
    *added = (DiffFinding){.before = before, .after = after};
    if (list->first == NULL) {
        list->first = added;
    } else {
        list->last->next = added;
    }
    list->last = added;
    list->count++;
}

static void pair_with(Diff *diff, Keyed *before, Keyed *after, Pairing pairing)
{
    DiffFindings *findings = &diff->findings;
    before->done = after->done = true;
    if (pairing == PAIR_ANY) {
        add_finding(diff, &findings->changed, before->finding, after->finding);
        return;
    }
    findings->still++;
    findings->reworded += pairing == PAIR_STATE;
}

static Keyed **hash_findings(Diff *diff, Keys *keys, uint32_t *mask)
{
    uint32_t size = 64;
    while (size < keys->count * 2) {
        size *= 2;
    }
    *mask = size - 1;
    Keyed **table = ARENA_ARRAY(diff->arena, Keyed *, size);
    for (uint32_t i = keys->count; i-- > 0;) {
        Keyed **slot = &table[hash_of(&keys->list[i], *mask)];
        keys->list[i].next = *slot;
        *slot = &keys->list[i];
    }
    return table;
}

static void compare_findings(Diff *diff)
{
    Keys before = keys_of(diff, &diff->before);
    Keys after = keys_of(diff, &diff->after);
    uint32_t mask;
    Keyed **table = hash_findings(diff, &before, &mask);
    for (Pairing pairing = PAIR_SAME; pairing <= PAIR_ANY; pairing++) {
        for (uint32_t i = 0; i < after.count; i++) {
            Keyed *now = &after.list[i];
            for (Keyed *old = table[hash_of(now, mask)]; old != NULL && !now->done; old = old->next) {
                if (fits(diff, old, now, pairing)) {
                    pair_with(diff, old, now, pairing);
                }
            }
        }
    }
    DiffFindings *findings = &diff->findings;
    for (uint32_t i = 0; i < after.count; i++) {
        if (!after.list[i].done) {
            add_finding(diff, &findings->fresh, NULL, after.list[i].finding);
        }
    }
    for (uint32_t i = 0; i < before.count; i++) {
        if (!before.list[i].done) {
            add_finding(diff, &findings->gone, before.list[i].finding, NULL);
        }
    }
}

/* Goals */

static bool is_answered(const DiffSide *side, const DiffThing *goal, const GoalFigure *row)
{
    const Entity *boat = goal->model->boat;
    Str day = STR("");
    Figure merged;
    if (row->day_slot >= 0) {
        const Value *value =
            property_value(entity_property(goal->entity, row->prop), (unsigned)row->day_slot);
        if (value_entity(value) == NULL) {
            return false;
        }
        day = entity_name(goal->model, value_entity(value));
    } else if (row->day_slot == GOAL_AT_ITSELF) {
        day = entity_name(goal->model, goal->entity);
    }
    return boat != NULL &&
           outcome_figure(side->outcome, entity_name(goal->model, boat), row->figure, day, &merged);
}

static bool is_about_goal(const Finding *finding, const DiffThing *goal)
{
    return finding->subject != NULL && finding->subject->name == goal->entity->name &&
           (strcmp(finding->rule->name, "goal-missed") == 0 ||
            strcmp(finding->rule->name, "over-budget") == 0);
}

/* Missed where a finding says so, waived or not; met only where every line of it has its answer. */
static const char *goal_state(const DiffSide *side, const DiffThing *goal)
{
    const char *state = NULL;
    for (const Finding *f = side->outcome->findings; f != NULL; f = f->next) {
        if (is_about_goal(f, goal)) {
            state = f->verdict == VERDICT_BROKEN ? "missed" : state == NULL ? "open" : state;
        }
    }
    if (state != NULL) {
        return state;
    }
    bool answered = false;
    for (size_t i = 0; i < GOAL_FIGURES; i++) {
        if (!entity_states(goal->entity, goal_figures[i].prop)) {
            continue;
        }
        if (!is_answered(side, goal, &goal_figures[i])) {
            return "not judged";
        }
        answered = true;
    }
    return answered ? "met" : "not judged";
}

static bool is_goal(const DiffThing *thing)
{
    return thing->entity->kind == KIND_GOAL && thing->in_boat && !thing->set;
}

static void add_goal(Diff *diff, DiffGoal ***end, const DiffThing *before, const DiffThing *after)
{
    const char *was = before != NULL ? goal_state(&diff->before, before) : NULL;
    const char *is = after != NULL ? goal_state(&diff->after, after) : NULL;
    if (was != NULL && is != NULL && strcmp(was, is) == 0) {
        return;
    }
    const DiffThing *goal = after != NULL ? after : before;
    DiffGoal *added = ARENA_NEW(diff->arena, DiffGoal);
    *added = (DiffGoal){.name = thing_name(diff->arena, goal),
                        .title = str_copy(diff->arena, goal->entity->title),
                        .before = was,
                        .after = is};
    **end = added;
    *end = &added->next;
}

static void compare_goals(Diff *diff)
{
    DiffGoal **end = &diff->goals;
    for (uint32_t i = 0; i < diff->after.thing_count; i++) {
        const DiffThing *goal = diff->after.things[i];
        if (is_goal(goal)) {
            const DiffThing *before = goal->partner;
            add_goal(diff, &end, before != NULL && is_goal(before) ? before : NULL, goal);
        }
    }
    for (uint32_t i = 0; i < diff->before.thing_count; i++) {
        const DiffThing *goal = diff->before.things[i];
        if (is_goal(goal) && (goal->partner == NULL || !is_goal(goal->partner))) {
            add_goal(diff, &end, goal, NULL);
        }
    }
}

void diff_find_findings(Diff *diff)
{
    compare_findings(diff);
    compare_goals(diff);
}
