/* See joints.h. */
#include "figures/joints.h"

/* So many joints one behind the other, and hoses at them, are looked at; no boat has more, and a spec may have them in circles. */
enum { JOINTS_MOST = 32 };

typedef struct Look {
    const Plumbing *plumbing;
    const Entity *pipe; /* that it began with */
    const Entity *joints[JOINTS_MOST]; /* reached, and looked at in that order */
    uint32_t joint_count;
    FarEnds *ends;
} Look;

bool is_joint(const Entity *thing)
{
    return thing->kind == KIND_ITEM || thing->kind == KIND_STRAINER;
}

static bool is_among(const Entity *const things[], uint32_t count, const Entity *thing)
{
    for (uint32_t i = 0; i < count; i++) {
        if (things[i] == thing) {
            return true;
        }
    }
    return false;
}

static void add_end(FarEnds *ends, const Entity *thing, const Entity *hose)
{
    if (ends->count < ENDS_MOST && !is_among(ends->things, ends->count, thing)) {
        ends->things[ends->count] = thing;
        ends->hoses[ends->count++] = hose;
    }
}

static void reach(Look *look, const Entity *thing, const Entity *hose)
{
    if (thing == NULL || !is_aboard(thing)) {
        return;
    }
    if (!is_joint(thing)) {
        add_end(look->ends, thing, hose);
    } else if (look->joint_count < JOINTS_MOST && !is_among(look->joints, look->joint_count, thing)) {
        look->joints[look->joint_count++] = thing;
    }
}

/* The hoses of a list at a joint, but the pipe that it began with. How many there are. */
static uint32_t pass(Look *look, const HoseList *list, const Entity *joint, PropId far)
{
    uint32_t count = 0;
    for (const Entity *hose = list->first[joint->index]; hose != NULL && count < ENDS_MOST; hose = list->next[hose->index]) {
        if (hose != look->pipe) {
            reach(look, entity_reference(hose, far), hose);
            count++;
        }
    }
    return count;
}

void joint_ends(const Plumbing *plumbing, const Entity *pipe, const Entity *at, Follow follow, FarEnds *ends)
{
    ends->count = 0;
    if (at == NULL || !is_joint(at)) {
        if (at != NULL && is_aboard(at)) {
            add_end(ends, at, NULL);
        }
        return;
    }
    Look look = {.plumbing = plumbing, .pipe = pipe, .ends = ends};
    reach(&look, at, NULL);
    for (uint32_t i = 0; i < look.joint_count; i++) {
        const Entity *joint = look.joints[i];
        uint32_t on = follow != FOLLOW_BACK ? pass(&look, &plumbing->from, joint, PROP_HOSE_TO) : 0;
        uint32_t back = follow != FOLLOW_ON ? pass(&look, &plumbing->into, joint, PROP_HOSE_FROM) : 0;
        if (on == 0 && back == 0) {
            add_end(ends, joint, NULL);
        }
    }
}

bool is_end(const FarEnds *ends, const Entity *thing)
{
    return is_among(ends->things, ends->count, thing);
}

const Entity *end_of_kind(const FarEnds *ends, KindId kind)
{
    for (uint32_t i = 0; i < ends->count; i++) {
        if (ends->things[i]->kind == kind) {
            return ends->things[i];
        }
    }
    return NULL;
}

const Entity *comes_from(const Plumbing *plumbing, const Entity *hose, KindId kind)
{
    FarEnds ends;
    joint_ends(plumbing, hose, entity_reference(hose, PROP_HOSE_FROM), FOLLOW_BACK, &ends);
    return end_of_kind(&ends, kind);
}

/* Those of a list that are whole, behind the others. */
static uint32_t add_back(const Plumbing *plumbing, const Entity *thing, const Entity *hoses[], uint32_t count)
{
    const Entity *from, *to;
    for (const Entity *hose = plumbing->into.first[thing->index]; hose != NULL && count < HOSES_BACK; hose = plumbing->into.next[hose->index]) {
        if (is_aboard(hose) && hose_ends(hose, &from, &to) && !is_among(hoses, count, hose)) {
            hoses[count++] = hose;
        }
    }
    return count;
}

uint32_t hoses_back(const Plumbing *plumbing, const Entity *thing, const Entity *hoses[HOSES_BACK])
{
    uint32_t count = add_back(plumbing, thing, hoses, 0);
    for (uint32_t i = 0; i < count; i++) {
        const Entity *from = entity_reference(hoses[i], PROP_HOSE_FROM);
        if (is_joint(from) || from->kind == KIND_PUMP) {
            count = add_back(plumbing, from, hoses, count);
        }
    }
    return count;
}

bool is_outlet(const Entity *thing)
{
    return thing->kind == KIND_FIXTURE || thing->kind == KIND_TANK || thing->kind == KIND_THROUGH_HULL ||
           thing->kind == KIND_TOILET || thing->kind == KIND_PUMP || thing->kind == KIND_BILGE_PUMP;
}

uint32_t hoses_after(const Plumbing *plumbing, const Entity *thing, const Entity *hoses[HOSES_AFTER])
{
    uint32_t count = 0;
    const HoseList *from = &plumbing->from;
    while (thing != NULL && count < HOSES_AFTER && (count == 0 || !is_outlet(thing))) {
        const Entity *hose = from->first[thing->index];
        if (hose == NULL || from->next[hose->index] != NULL) {
            break;
        }
        hoses[count++] = hose;
        thing = entity_reference(hose, PROP_HOSE_TO);
    }
    return count;
}
