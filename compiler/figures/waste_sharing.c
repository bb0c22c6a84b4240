/*
 * Tanks of waste that share what comes: those that one toilet or one sink can reach, and those of which one runs into
 * another. A toilet forward with a tank of its own fills no tank aft.
 */
#include "figures/plumbing.h"

static bool holds_waste(const Entity *thing)
{
    Str holds = thing->kind == KIND_TANK ? entity_word(thing, PROP_TANK_HOLDS) : (Str){0};
    return is_aboard(thing) && (str_is(holds, "black") || str_is(holds, "grey"));
}

static bool is_alike(const Entity *a, const Entity *b)
{
    return str_equal(entity_word(a, PROP_TANK_HOLDS), entity_word(b, PROP_TANK_HOLDS));
}

/* One of two sets of tanks takes the name of the other, whose first tank stands before its own in the spec. */
static void join(const Model *model, Plumbing *plumbing, const Entity *a, const Entity *b)
{
    const Entity *first = plumbing->shares[a->index], *second = plumbing->shares[b->index];
    if (first == second || !is_alike(a, b)) {
        return;
    }
    if (second->index < first->index) {
        const Entity *other = first;
        first = second;
        second = other;
    }
    for (const Entity *tank = first_aboard(model, KIND_TANK); tank != NULL; tank = next_aboard(tank)) {
        if (plumbing->shares[tank->index] == second) {
            plumbing->shares[tank->index] = first;
        }
    }
}

/* What is looked through from one thing on. */
typedef struct Search {
    const Model *model;
    Plumbing *plumbing;
    bool *seen;                  /* by Entity.index */
    const Entity *black, *grey;  /* the first tank found of each */
} Search;

static void found_tank(Search *search, const Entity *tank)
{
    const Entity **first = str_is(entity_word(tank, PROP_TANK_HOLDS), "black") ? &search->black : &search->grey;
    if (*first == NULL) {
        *first = tank;
    }
    join(search->model, search->plumbing, *first, tank);
}

/* All tanks of waste that a thing's water may come to, through hoses, pumps and valves, but not through another tank. */
static void search_behind(Search *search, const Entity *thing)
{
    for (const Way *way = search->plumbing->ways[thing->index]; way != NULL; way = way->next) {
        if (search->seen[way->to->index]) {
            continue;
        }
        search->seen[way->to->index] = true;
        if (holds_waste(way->to)) {
            found_tank(search, way->to);
        } else if (way->to->kind != KIND_TANK) {
            search_behind(search, way->to);
        }
    }
}

/* `to` is what the thing itself says of its way; or NULL. */
static void share_from(Arena *room, const Model *model, Plumbing *plumbing, const Entity *thing, const Entity *to)
{
    Search search = {.model = model, .plumbing = plumbing, .seen = ARENA_ARRAY(room, bool, model->entity_count + 1)};
    search.seen[thing->index] = true;
    if (holds_waste(thing)) {
        found_tank(&search, thing);
    }
    if (to != NULL && holds_waste(to)) {
        found_tank(&search, to);
    }
    search_behind(&search, thing);
}

void plumbing_share_waste(Arena *room, const Model *model, Plumbing *plumbing)
{
    uint32_t waste = 0;
    for (const Entity *tank = first_aboard(model, KIND_TANK); tank != NULL; tank = next_aboard(tank)) {
        plumbing->shares[tank->index] = holds_waste(tank) ? tank : NULL;
        waste += holds_waste(tank);
    }
    if (waste < 2) {
        return;
    }
    for (const Entity *e = first_aboard(model, KIND_TANK); e != NULL; e = next_aboard(e)) {
        if (holds_waste(e)) {
            share_from(room, model, plumbing, e, NULL);
        }
    }
    for (const Entity *e = first_aboard(model, KIND_TOILET); e != NULL; e = next_aboard(e)) {
        share_from(room, model, plumbing, e, entity_reference(e, PROP_TOILET_TO));
    }
    for (const Entity *e = first_aboard(model, KIND_FIXTURE); e != NULL; e = next_aboard(e)) {
        share_from(room, model, plumbing, e, entity_reference(e, PROP_FIXTURE_DRAINS_TO));
    }
}
