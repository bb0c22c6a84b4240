/*
 * One rule of the family rules_pipes: hose-grade. What runs in a hose, followed from the tanks and toilets on.
 */
#include "rules/pipes.h"

#include "figures/pipes.h"
#include "rules/plumbing.h"

/* Marks the hoses that lead on from what is in the queue, which has room for all things. */
static void mark_hoses(const Plumbing *plumbing, const Entity **queue, uint32_t count, bool *seen, bool *carries)
{
    for (uint32_t i = 0; i < count; i++) {
        for (const Way *way = plumbing->ways[queue[i]->index]; way != NULL; way = way->next) {
            if (way->hose != NULL) {
                carries[way->hose->index] = true;
            }
            bool ends = is_outlet(way->to) && way->to->kind != KIND_PUMP;
            if (!ends && !seen[way->to->index]) {
                seen[way->to->index] = true;
                queue[count++] = way->to;
            }
        }
    }
}

/* By Entity.index of a hose: whether sewage, or drinking water, runs in it. */
static bool *find_carrying(Judge *judge, const Plumbing *plumbing, const char *holds)
{
    const Model *model = judge->model;
    uint32_t count = 0;
    bool *carries = ARENA_ARRAY(judge->scratch, bool, model->entity_count + 1);
    bool *seen = ARENA_ARRAY(judge->scratch, bool, model->entity_count + 1);
    const Entity **queue = ARENA_ARRAY(judge->scratch, const Entity *, 2 * model->entity_count + 1);
    for (const Entity *e = first_tank(model, holds); e != NULL; e = next_tank(e, holds)) {
        queue[count++] = e;
    }
    for (const Entity *e = first_aboard(model, KIND_TOILET); e != NULL && holds[0] == 'b'; e = next_aboard(e)) {
        queue[count++] = e;
    }
    mark_hoses(plumbing, queue, count, seen, carries);
    return carries;
}

static void judge_carrying(Judge *judge, const bool *carries, const char *grade, const char *what, const char *why)
{
    for (const Entity *hose = first_aboard(judge->model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        Str stated = entity_word(hose, PROP_HOSE_GRADE);
        if (!carries[hose->index] || stated.length == 0) {
            continue;
        }
        if (str_is(stated, grade)) {
            judge_holds(judge);
            continue;
        }
        Finding *finding = judge_broken(judge, hose, place_of(judge, hose, PROP_HOSE_GRADE));
        finding_say(judge, finding, "%s runs in `%s`, a hose that is made for %s: %s", what, say_name(judge, hose),
                    str_copy(judge->arena, stated), why);
        finding_remedy(judge, finding, "grade %s", grade);
    }
}

void judge_hose_grade(Judge *judge)
{
    const Model *model = judge->model;
    if (first_aboard(model, KIND_HOSE) == NULL) {
        return;
    }
    const Plumbing *plumbing = plumbing_of(judge->figures);
    if (plumbing->lost_hoses) {
        judge_waiting(judge);
        return;
    }
    judge_carrying(judge, find_carrying(judge, plumbing, "black"), "sanitation", "sewage", "its smell comes through");
    judge_carrying(judge, find_carrying(judge, plumbing, "fresh"), "water", "drinking water", "it tastes of it");
}
