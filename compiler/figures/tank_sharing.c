/*
 * Which tanks count in what a day lasts, and which of them share a load: all of fresh water, and of waste those that one
 * toilet or one sink can reach, or of which one runs into another. A toilet forward with a tank of its own fills no tank aft.
 */
#include "figures/plumbing.h"

static bool is_waste_tank(const Entity *thing)
{
    return is_aboard(thing) && holds_waste(thing);
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

/* What is looked through from one thing on; one after the other. */
typedef struct Search {
    const Model *model;
    Plumbing *plumbing;
    uint32_t *seen, at;         /* by Entity.index: the last search that came by; this one */
    const Entity *black, *grey; /* the first tank found of each */
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
        if (search->seen[way->to->index] == search->at) {
            continue;
        }
        search->seen[way->to->index] = search->at;
        if (is_waste_tank(way->to)) {
            found_tank(search, way->to);
        } else if (way->to->kind != KIND_TANK) {
            search_behind(search, way->to);
        }
    }
}

/* `to` is what the thing itself says of its way; or NULL. */
static void share_from(Search *search, const Entity *thing, const Entity *to)
{
    search->at++;
    search->black = search->grey = NULL;
    search->seen[thing->index] = search->at;
    if (is_waste_tank(thing)) {
        found_tank(search, thing);
    }
    if (to != NULL && is_waste_tank(to)) {
        found_tank(search, to);
    }
    search_behind(search, thing);
}

static void share_waste(Arena *room, const Model *model, Plumbing *plumbing)
{
    Search search = {.model = model, .plumbing = plumbing, .seen = ARENA_ARRAY(room, uint32_t, model->entity_count + 1)};
    for (const Entity *tank = first_aboard(model, KIND_TANK); tank != NULL; tank = next_aboard(tank)) {
        plumbing->shares[tank->index] = holds_waste(tank) ? tank : NULL;
    }
    for (const Entity *e = first_aboard(model, KIND_TANK); e != NULL; e = next_aboard(e)) {
        if (is_waste_tank(e)) {
            share_from(&search, e, NULL);
        }
    }
    for (const Entity *e = first_aboard(model, KIND_TOILET); e != NULL; e = next_aboard(e)) {
        share_from(&search, e, entity_reference(e, PROP_TOILET_TO));
    }
    for (const Entity *e = first_aboard(model, KIND_FIXTURE); e != NULL; e = next_aboard(e)) {
        share_from(&search, e, entity_reference(e, PROP_FIXTURE_DRAINS_TO));
    }
}

/* ---- Which of them count ------------------------------------------------------------------------------- */

/* Of water, those from which something draws, and a can that one pours; of sewage, those to which something leads; while nothing is said of any, all. */
static void count_those(const Model *model, Plumbing *plumbing, const char *holds, bool fresh)
{
    const bool *joined = fresh ? plumbing->drawn_from : plumbing->filled;
    bool any = false;
    for (const Entity *e = first_tank(model, holds); e != NULL; e = next_tank(e, holds)) {
        any = any || (entity_yes(e, PROP_COMMON_PORTABLE) != 1 && joined[e->index]);
    }
    for (const Entity *e = first_tank(model, holds); e != NULL; e = next_tank(e, holds)) {
        bool poured = fresh && entity_yes(e, PROP_COMMON_PORTABLE) == 1;
        plumbing->counted[e->index] = !any || poured || joined[e->index];
    }
}

static void count_tanks(const Model *model, Plumbing *plumbing)
{
    for (const Entity *e = first_aboard(model, KIND_TANK); e != NULL; e = next_aboard(e)) {
        const Property *holds = entity_property(e, PROP_TANK_HOLDS);
        plumbing->lost_tanks = plumbing->lost_tanks || (holds != NULL && property_is_mistaken(holds));
        bool pumped_away = str_is(entity_word(e, PROP_TANK_HOLDS), "grey") && plumbing->drawn_from[e->index]; /* as it comes */
        plumbing->counted[e->index] = !pumped_away;
    }
    count_those(model, plumbing, "fresh", true);
    count_those(model, plumbing, "black", false);
}

/* Those that count and share, in the order of the spec. */
static void link_tanks(Arena *room, const Model *model, Plumbing *plumbing)
{
    const Entity **last = ARENA_ARRAY(room, const Entity *, model->entity_count + 1); /* by Entity.index of what they share */
    const Entity *last_fresh = NULL;
    for (const Entity *e = first_aboard(model, KIND_TANK); e != NULL; e = next_aboard(e)) {
        const Entity *share = plumbing->shares[e->index];
        bool fresh = str_is(entity_word(e, PROP_TANK_HOLDS), "fresh");
        const Entity **before = share != NULL ? &last[share->index] : fresh ? &last_fresh : NULL;
        if (before == NULL || !plumbing->counted[e->index]) {
            continue;
        }
        plumbing->first_sharing[e->index] = *before == NULL ? e : plumbing->first_sharing[(*before)->index];
        if (*before != NULL) {
            plumbing->next_sharing[(*before)->index] = e;
        }
        *before = e;
    }
}

void plumbing_share_tanks(Arena *room, const Model *model, Plumbing *plumbing)
{
    share_waste(room, model, plumbing);
    count_tanks(model, plumbing);
    link_tanks(room, model, plumbing);
}
