/*
 * Part of the rule unplumbed: what pumps, toilets and sinks say of where their water comes from and goes, against the hoses
 * that are stated of them.
 */
#include "rules/pipes.h"

#include "figures/pipes.h"
#include "rules/plumbing.h"

/* A thing that does not pass water on by itself, at which a way ends. */
static bool ends_at(const Entity *thing)
{
    return is_outlet(thing) && thing->kind != KIND_PUMP;
}

/* Ends that the hoses of a thing lead to, or (back) come from; `first` is one of them. */
typedef struct Ends {
    const Entity *first;
    bool reached; /* the one that is looked for is among them */
} Ends;

static void note_end(Ends *ends, const Entity *end, const Entity *wanted)
{
    ends->first = ends->first == NULL ? end : ends->first;
    ends->reached = ends->reached || end == wanted;
}

/* Room for following hoses: made once for all things that are asked about. */
typedef struct Walks {
    const Plumbing *plumbing;
    uint32_t *seen; /* by Entity.index: the number of the walk that came by last */
    const Entity **queue;
    uint32_t walk;
} Walks;

/* Follows hoses alone, from the thing on or back to what it draws from. */
static Ends follow(Walks *walks, const Entity *thing, bool back, const Entity *wanted)
{
    Ends ends = {.first = NULL};
    const HoseList *hoses = back ? &walks->plumbing->into : &walks->plumbing->from;
    const Entity **queue = walks->queue;
    uint32_t count = 1, walk = ++walks->walk;
    queue[0] = thing;
    walks->seen[thing->index] = walk;
    for (uint32_t i = 0; i < count; i++) {
        for (const Entity *hose = hoses->first[queue[i]->index]; hose != NULL; hose = hoses->next[hose->index]) {
            const Entity *there = entity_reference(hose, back ? PROP_HOSE_FROM : PROP_HOSE_TO);
            if (there == NULL || walks->seen[there->index] == walk) {
                continue;
            }
            walks->seen[there->index] = walk;
            if (ends_at(there)) {
                note_end(&ends, there, wanted);
            } else {
                queue[count++] = there;
            }
        }
    }
    return ends;
}

/* What a thing says, and what its hoses say: without hoses there is nothing to hold it against. */
static void judge_said(Judge *judge, Walks *walks, const Entity *thing, PropId prop, bool back)
{
    const Entity *said = entity_reference(thing, prop);
    if (said == NULL) {
        return;
    }
    Ends ends = follow(walks, thing, back, said);
    if (ends.first == NULL || ends.reached) {
        return;
    }
    Finding *finding = judge_broken(judge, thing, place_of(judge, thing, prop));
    finding_about(finding, prop);
    finding_say(judge, finding, "`%s` says `%s %s`, and its hoses %s `%s`", say_name(judge, thing), props[prop].word,
                say_name(judge, said), back ? "come from" : "lead to", say_name(judge, ends.first));
    finding_remedy(judge, finding, "%s %s", props[prop].word, say_name(judge, ends.first));
}

/* A drain whose hose is stated from the outlet to the sink. */
static void judge_turned(Judge *judge, const Entity *hose)
{
    const Entity *from = entity_reference(hose, PROP_HOSE_FROM), *to = entity_reference(hose, PROP_HOSE_TO);
    if (from == NULL || to == NULL || to->kind != KIND_FIXTURE || entity_reference(to, PROP_FIXTURE_DRAINS_TO) != from) {
        return;
    }
    Finding *finding = judge_broken(judge, hose, place_of(judge, hose, PROP_HOSE_FROM));
    finding_say(judge, finding, "`%s` leads from `%s` to `%s`, which drains there", say_name(judge, hose), say_name(judge, from),
                say_name(judge, to));
    finding_note(judge, finding, place_of(judge, to, PROP_FIXTURE_DRAINS_TO), "this way the water goes");
    finding_remedy(judge, finding, "`from %s` and `to %s`", say_name(judge, to), say_name(judge, from));
}

void judge_what_is_said(Judge *judge)
{
    static const struct {
        KindId kind;
        PropId prop;
        bool back; /* where it comes from, not where it goes */
    } said[] = {{KIND_PUMP, PROP_PUMP_FROM, true},
                {KIND_TOILET, PROP_TOILET_TO, false},
                {KIND_FIXTURE, PROP_FIXTURE_DRAINS_TO, false}};
    if (first_aboard(judge->model, KIND_HOSE) == NULL) {
        return;
    }
    size_t count = (size_t)judge->model->entity_count + 1;
    Walks walks = {.plumbing = plumbing_of(judge->figures),
                   .seen = ARENA_ARRAY(judge->scratch, uint32_t, count),
                   .queue = ARENA_ARRAY(judge->scratch, const Entity *, count)};
    for (size_t i = 0; i < sizeof said / sizeof said[0]; i++) {
        for (const Entity *e = first_aboard(judge->model, said[i].kind); e != NULL; e = next_aboard(e)) {
            judge_said(judge, &walks, e, said[i].prop, said[i].back);
        }
    }
    for (const Entity *hose = first_aboard(judge->model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        judge_turned(judge, hose);
    }
}
