/* See plumbing.h. */
#include "rules/plumbing.h"

#include "base/num.h"

#include <math.h>

/* Saying */

const char *say_up(const Judge *judge, double si, UnitPair unit)
{
    double number = unit_from_si(unit, si);
    if (isfinite(number) && number > 0.0) {
        double step = pow(10.0, floor(log10(number)) - 1.0);
        number = ceil(number / step - 1e-9) * step;
    }
    return say_number(judge, unit_to_si(unit, number), unit);
}

void note_heel(Judge *judge, Finding *finding)
{
    const Entity *boat = judge->model->boat;
    if (entity_states(boat, PROP_BOAT_HEEL)) {
        finding_note(judge, finding, place_of(judge, boat, PROP_BOAT_HEEL), "at this heel");
    } else if (!entity_states(boat, PROP_BOAT_SAILS)) {
        finding_note(judge, finding, place_of_name(judge, boat),
                     "a heel of 30 deg is assumed; `sails no` makes it 7 deg");
    }
}

/* Heights */

Side waterline_at(const Judge *judge, const Entity *thing)
{
    const Figure *own = figure_of(judge, thing, FIGURE_HEELED_WATERLINE);
    return side_figure(own != NULL ? own : figure_of(judge, judge->model->boat, FIGURE_HEELED_WATERLINE));
}

Side least_height(const Judge *judge, const Entity *thing)
{
    return side_figure(figure_of(judge, thing, FIGURE_LEAST_HEIGHT));
}

/* The way of the water */

bool hose_ends(const Entity *hose, const Entity **from, const Entity **to)
{
    *from = entity_reference(hose, PROP_HOSE_FROM);
    *to = entity_reference(hose, PROP_HOSE_TO);
    return *from != NULL && *to != NULL;
}

static void add_way(const Judge *judge, Plumbing *plumbing, const Entity *from, const Entity *to,
                    const Entity *hose)
{
    Way *way = ARENA_NEW(judge->arena, Way);
    *way = (Way){.to = to, .hose = hose, .next = plumbing->ways[from->index]};
    plumbing->ways[from->index] = way;
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

static void add_hoses(const Judge *judge, Plumbing *plumbing)
{
    const Entity *from;
    const Entity *to;
    plumbing->lost_hoses = some_is_broken(judge->model, KIND_HOSE);
    for (const Entity *hose = first_aboard(judge->model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        if (hose_ends(hose, &from, &to)) {
            add_way(judge, plumbing, from, to, hose);
            plumbing->hoses_from[from->index]++;
            plumbing->hoses_to[to->index]++;
        } else {
            plumbing->lost_hoses = true;
        }
    }
}

/* What a pump or toilet says of its way counts where no hose is stated: hoses say it better. */
static void add_stated_ways(const Judge *judge, Plumbing *plumbing)
{
    const Model *model = judge->model;
    for (const Entity *pump = first_aboard(model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        const Entity *from = entity_reference(pump, PROP_PUMP_FROM);
        const Property *to = entity_property(pump, PROP_PUMP_TO);
        if (from != NULL && plumbing->hoses_to[pump->index] == 0) {
            add_way(judge, plumbing, from, pump, NULL);
        }
        for (uint16_t i = 0; to != NULL && i < to->count && plumbing->hoses_from[pump->index] == 0; i++) {
            if (to->values[i].kind == VALUE_REFERENCE && to->values[i].u.entity != NULL) {
                add_way(judge, plumbing, pump, to->values[i].u.entity, NULL);
            }
        }
    }
    for (const Entity *toilet = first_aboard(model, KIND_TOILET); toilet != NULL;
         toilet = next_aboard(toilet)) {
        const Entity *to = entity_reference(toilet, PROP_TOILET_TO);
        if (to != NULL && plumbing->hoses_from[toilet->index] == 0) {
            add_way(judge, plumbing, toilet, to, NULL);
        }
    }
}

static void add_loops(const Judge *judge, Plumbing *plumbing)
{
    plumbing->lost_loops = some_is_broken(judge->model, KIND_VENT_LOOP);
    for (const Entity *e = first_aboard(judge->model, KIND_VENT_LOOP); e != NULL; e = next_aboard(e)) {
        const Entity *hose = entity_reference(e, PROP_VENT_LOOP_ON);
        plumbing->states_loops = true;
        if (hose == NULL) {
            plumbing->lost_loops = true;
            continue;
        }
        Loop *loop = ARENA_NEW(judge->arena, Loop);
        *loop = (Loop){.loop = e, .next = plumbing->loops[hose->index]};
        plumbing->loops[hose->index] = loop;
    }
}

Plumbing plumbing_make(const Judge *judge)
{
    uint32_t count = judge->model->entity_count + 1;
    Plumbing plumbing = {.ways = ARENA_ARRAY(judge->arena, Way *, count),
                         .hoses_from = ARENA_ARRAY(judge->arena, uint32_t, count),
                         .hoses_to = ARENA_ARRAY(judge->arena, uint32_t, count),
                         .loops = ARENA_ARRAY(judge->arena, Loop *, count)};
    add_hoses(judge, &plumbing);
    add_stated_ways(judge, &plumbing);
    add_loops(judge, &plumbing);
    return plumbing;
}
