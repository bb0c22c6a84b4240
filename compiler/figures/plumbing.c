/* See plumbing.h. */
#include "figures/plumbing.h"

/* The way of the water */

bool is_gas_hose(const Entity *hose)
{
    return hose->kind == KIND_HOSE && str_is(entity_word(hose, PROP_HOSE_GRADE), "gas");
}

bool hose_ends(const Entity *hose, const Entity **from, const Entity **to)
{
    *from = entity_reference(hose, PROP_HOSE_FROM);
    *to = entity_reference(hose, PROP_HOSE_TO);
    return *from != NULL && *to != NULL;
}

static void add_way(Arena *arena, Plumbing *plumbing, const Entity *from, const Entity *to,
                    const Entity *hose)
{
    Way *way = ARENA_NEW(arena, Way);
    *way = (Way){.to = to, .hose = hose, .next = plumbing->ways[from->index]};
    plumbing->ways[from->index] = way;
    plumbing->led_to[to->index] = true;
    plumbing->way_count++;
}

/* Whether the first line of some thing of a kind has a mistake: then nobody knows what it stands on. */
static bool some_is_broken(const Model *model, KindId kind)
{
    for (const Entity *e = model->first_of_kind[kind]; e != NULL; e = e->next_of_kind) {
        if (e->flags & ENTITY_BROKEN) {
            return true;
        }
    }
    return false;
}

static void add_hoses(Arena *arena, const Model *model, Plumbing *plumbing)
{
    const Entity *from;
    const Entity *to;
    plumbing->lost_hoses = some_is_broken(model, KIND_HOSE);
    for (const Entity *hose = first_aboard(model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        if (hose_ends(hose, &from, &to)) {
            add_way(arena, plumbing, from, to, hose);
            plumbing->hoses_from[from->index]++;
            plumbing->hoses_to[to->index]++;
        } else {
            plumbing->lost_hoses = true;
        }
    }
}

/* What a pump or toilet says of its way counts where no hose is stated: hoses say it better. */
static void add_stated_ways(Arena *arena, const Model *model, Plumbing *plumbing)
{
    for (const Entity *pump = first_aboard(model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        const Entity *from = entity_reference(pump, PROP_PUMP_FROM);
        const Property *to = entity_property(pump, PROP_PUMP_TO);
        if (from != NULL && plumbing->hoses_to[pump->index] == 0) {
            add_way(arena, plumbing, from, pump, NULL);
        }
        for (uint16_t i = 0; to != NULL && i < to->count && plumbing->hoses_from[pump->index] == 0; i++) {
            if (value_entity(&to->values[i]) != NULL) {
                add_way(arena, plumbing, pump, value_entity(&to->values[i]), NULL);
            }
        }
    }
    for (const Entity *toilet = first_aboard(model, KIND_TOILET); toilet != NULL;
         toilet = next_aboard(toilet)) {
        const Entity *to = entity_reference(toilet, PROP_TOILET_TO);
        if (to != NULL && plumbing->hoses_from[toilet->index] == 0) {
            add_way(arena, plumbing, toilet, to, NULL);
        }
    }
}

static void add_loops(Arena *arena, const Model *model, Plumbing *plumbing)
{
    plumbing->lost_loops = some_is_broken(model, KIND_VENT_LOOP);
    for (const Entity *e = first_aboard(model, KIND_VENT_LOOP); e != NULL; e = next_aboard(e)) {
        const Entity *hose = entity_reference(e, PROP_VENT_LOOP_ON);
        plumbing->states_loops = true;
        if (hose == NULL) {
            plumbing->lost_loops = true;
            continue;
        }
        Loop *loop = ARENA_NEW(arena, Loop);
        *loop = (Loop){.loop = e, .next = plumbing->loops[hose->index]};
        plumbing->loops[hose->index] = loop;
    }
}

static void mark(bool *marks, const Entity *thing)
{
    if (thing != NULL) {
        marks[thing->index] = true;
    }
}

static void mark_said(Plumbing *plumbing, const Entity *by, const Entity *end)
{
    if (end != NULL && plumbing->said_by[end->index] == NULL) {
        plumbing->said_by[end->index] = by;
    }
}

static void add_drains(const Model *model, Plumbing *plumbing)
{
    for (const Entity *sink = first_aboard(model, KIND_FIXTURE); sink != NULL; sink = next_aboard(sink)) {
        mark(plumbing->led_to, entity_reference(sink, PROP_FIXTURE_DRAINS_TO));
        mark_said(plumbing, sink, entity_reference(sink, PROP_FIXTURE_DRAINS_TO));
    }
}

/* last: by Entity.index of a thing, the last hose that is in its list. */
static void list_hose(HoseList *list, const Entity **last, const Entity *hose, const Entity *at)
{
    if (at == NULL) {
        return;
    }
    const Entity *before = last[at->index];
    *(before != NULL ? &list->next[before->index] : &list->first[at->index]) = hose;
    last[at->index] = hose;
}

static void list_hoses(Arena *arena, const Model *model, Plumbing *plumbing)
{
    const Entity **last_from = ARENA_ARRAY(arena, const Entity *, model->entity_count + 1);
    const Entity **last_into = ARENA_ARRAY(arena, const Entity *, model->entity_count + 1);
    for (const Entity *hose = first_aboard(model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        const Entity *from = entity_reference(hose, PROP_HOSE_FROM), *to = entity_reference(hose, PROP_HOSE_TO);
        list_hose(&plumbing->from, last_from, hose, from);
        list_hose(&plumbing->into, last_into, hose, to);
        mark(plumbing->drawn_from, from);
        mark(plumbing->filled, to);
    }
}

/* What pumps and toilets say: of its suction a pump is asked where no hose leads to it. */
static void mark_ends(const Model *model, Plumbing *plumbing)
{
    for (const Entity *pump = first_aboard(model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        if (plumbing->into.first[pump->index] == NULL) {
            mark(plumbing->drawn_from, entity_reference(pump, PROP_PUMP_FROM));
        }
        const Property *to = entity_property(pump, PROP_PUMP_TO);
        for (uint16_t i = 0; to != NULL && i < to->count; i++) {
            mark(plumbing->filled, value_entity(&to->values[i]));
            mark_said(plumbing, pump, value_entity(&to->values[i]));
        }
    }
    for (const Entity *toilet = first_aboard(model, KIND_TOILET); toilet != NULL; toilet = next_aboard(toilet)) {
        mark(plumbing->filled, entity_reference(toilet, PROP_TOILET_TO));
        mark_said(plumbing, toilet, entity_reference(toilet, PROP_TOILET_TO));
    }
}

static HoseList no_hoses(Arena *arena, uint32_t count)
{
    return (HoseList){.first = ARENA_ARRAY(arena, const Entity *, count), .next = ARENA_ARRAY(arena, const Entity *, count)};
}

static Plumbing *plumbing_make(Arena *arena, const Model *model)
{
    uint32_t count = model->entity_count + 1;
    Plumbing *plumbing = ARENA_NEW(arena, Plumbing);
    *plumbing = (Plumbing){.ways = ARENA_ARRAY(arena, Way *, count),
                           .hoses_from = ARENA_ARRAY(arena, uint32_t, count),
                           .hoses_to = ARENA_ARRAY(arena, uint32_t, count),
                           .from = no_hoses(arena, count),
                           .into = no_hoses(arena, count),
                           .led_to = ARENA_ARRAY(arena, bool, count),
                           .drawn_from = ARENA_ARRAY(arena, bool, count),
                           .filled = ARENA_ARRAY(arena, bool, count),
                           .said_by = ARENA_ARRAY(arena, const Entity *, count),
                           .drains_with = ARENA_ARRAY(arena, const Entity *, count),
                           .sinks_of = ARENA_ARRAY(arena, uint32_t, count),
                           .shares = ARENA_ARRAY(arena, const Entity *, count),
                           .counted = ARENA_ARRAY(arena, bool, count),
                           .first_sharing = ARENA_ARRAY(arena, const Entity *, count),
                           .next_sharing = ARENA_ARRAY(arena, const Entity *, count),
                           .loops = ARENA_ARRAY(arena, Loop *, count)};
    add_hoses(arena, model, plumbing);
    add_stated_ways(arena, model, plumbing);
    add_loops(arena, model, plumbing);
    add_drains(model, plumbing);
    list_hoses(arena, model, plumbing);
    mark_ends(model, plumbing);
    plumbing_share_tanks(arena, model, plumbing);
    plumbing_drain(model, plumbing);
    return plumbing;
}

const Plumbing *plumbing_of(const Figures *figures)
{
    const Figures *first = figures->before != NULL ? figures->before : figures;
    if (first->trace->plumbing == NULL) {
        first->trace->plumbing = plumbing_make(first->arena, first->model);
    }
    return first->trace->plumbing;
}
