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
    bool mixed;   /* they are not all of one kind */
} Ends;

static void note_end(Ends *ends, const Entity *end, const Entity *wanted)
{
    ends->mixed = ends->mixed || (ends->first != NULL && ends->first->kind != end->kind);
    ends->first = ends->first == NULL ? end : ends->first;
    ends->reached = ends->reached || end == wanted;
}

/* Room for following hoses: made once for all things that are asked about. */
typedef struct Walks {
    const Judge *judge;
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
            if (there == NULL || walks->seen[there->index] == walk || hose_turned_by(walks->judge, hose) != NULL) {
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

/* How the water goes, by the end that tells it. */
static void note_way(Judge *judge, Finding *finding, const Entity *end)
{
    switch (end->kind) {
    case KIND_PUMP:
        finding_note(judge, finding, place_of(judge, end, PROP_PUMP_FROM), "it draws from there");
        return;
    case KIND_ENGINE:
        finding_note(judge, finding, place_of_name(judge, end), "the sea comes to it there, and leaves by its exhaust");
        return;
    default: finding_note(judge, finding, place_of(judge, end, PROP_FIXTURE_DRAINS_TO), "this way its waste water goes");
    }
}

/* A hose that is stated the wrong way round. */
static void judge_turned(Judge *judge, const Entity *hose)
{
    const Entity *end = hose_turned_by(judge, hose);
    if (end == NULL) {
        return;
    }
    const Entity *from = entity_reference(hose, PROP_HOSE_FROM), *to = entity_reference(hose, PROP_HOSE_TO);
    const char *does = end == to                      ? "which drains there"
                       : end->kind == KIND_FIXTURE    ? "which is to get its water by it"
                       : end->kind == KIND_PUMP       ? "which draws from there"
                                                      : "which is cooled by what comes from there";
    Finding *finding = judge_broken(judge, hose, place_of(judge, hose, PROP_HOSE_FROM));
    if (end == to) {
        finding_say(judge, finding, "`%s` leads from `%s` to `%s`, %s", say_name(judge, hose), say_name(judge, from),
                    say_name(judge, to), does);
    } else {
        finding_say(judge, finding, "`%s` leads to `%s` from `%s`, %s", say_name(judge, hose), say_name(judge, to),
                    say_name(judge, from), does);
    }
    note_way(judge, finding, end);
    finding_remedy(judge, finding, "`from %s` and `to %s`", say_name(judge, to), say_name(judge, from));
}

/* The water that a bowl says it is flushed with, and where its hoses come from: told where none of them comes from there. */
static void judge_flushed(Judge *judge, Walks *walks, const Entity *toilet)
{
    Str with = entity_word(toilet, PROP_TOILET_FLUSHES_WITH);
    bool sea = str_is(with, "sea");
    if (with.length == 0) {
        return;
    }
    const Entity *tank = first_tank(judge->model, "fresh");
    Ends ends = follow(walks, toilet, true, NULL);
    const Entity *end = ends.first;
    if (end == NULL || ends.mixed || (end->kind != KIND_THROUGH_HULL && !(end->kind == KIND_TANK && tank != NULL &&
                                      str_is(entity_word(end, PROP_TANK_HOLDS), "fresh")))) {
        return;
    }
    if (sea == (end->kind == KIND_THROUGH_HULL)) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, toilet, place_of(judge, toilet, PROP_TOILET_FLUSHES_WITH));
    finding_about(finding, PROP_TOILET_FLUSHES_WITH);
    finding_say(judge, finding, sea ? "`%s` says that it flushes with the sea, and its hose comes from `%s`: what it takes there counts in no day"
                                    : "`%s` says that it flushes with fresh water, and its hose comes from the sea, by `%s`",
                say_name(judge, toilet), say_name(judge, end));
    finding_remedy(judge, finding, "flushes-with %s", sea ? "fresh" : "sea");
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
    Walks walks = {.judge = judge,
                   .plumbing = plumbing_of(judge->figures),
                   .seen = ARENA_ARRAY(judge->scratch, uint32_t, count),
                   .queue = ARENA_ARRAY(judge->scratch, const Entity *, count)};
    for (size_t i = 0; i < sizeof said / sizeof said[0]; i++) {
        for (const Entity *e = first_aboard(judge->model, said[i].kind); e != NULL; e = next_aboard(e)) {
            judge_said(judge, &walks, e, said[i].prop, said[i].back);
        }
    }
    for (const Entity *e = first_aboard(judge->model, KIND_TOILET); e != NULL; e = next_aboard(e)) {
        judge_flushed(judge, &walks, e);
    }
    for (const Entity *hose = first_aboard(judge->model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        judge_turned(judge, hose);
    }
}
