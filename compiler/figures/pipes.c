/* See pipes.h. */
#include "figures/pipes.h"

#include <math.h>

static Interval value_of(const Model *model, const Entity *entity, PropId prop)
{
    const Value *value = property_value(model_property(model, entity, prop), 0);
    bool known = value->kind == VALUE_QUANTITY && !(value->flags & VALUE_BROKEN);
    return known ? (Interval){value->u.quantity.low, value->u.quantity.high} : point(NAN);
}

Roughness roughness_named(Str material)
{
    return str_is(material, "corrugated") ? ROUGHNESS_CORRUGATED : str_is(material, "rigid") ? ROUGHNESS_RIGID : ROUGHNESS_SMOOTH;
}

static Hose hose_at(double bore, double run, double roughness, double k)
{
    return (Hose){.bore_m = bore, .length_m = run, .roughness_m = roughness, .minor_k = k};
}

static void add_piece(Arena *arena, Pipes *pipes, const Entity *hose)
{
    Interval bore = value_of(pipes->model, hose, PROP_HOSE_BORE);
    Interval run = value_of(pipes->model, hose, PROP_HOSE_RUN);
    Interval bends = value_of(pipes->model, hose, PROP_HOSE_BENDS);
    Interval rise = value_of(pipes->model, hose, PROP_HOSE_RISE);
    double rough = roughness_m(roughness_named(entity_word(hose, PROP_HOSE_MATERIAL)));
    double elbow = minor_k(MINOR_ELBOW_90);
    PipePiece *piece = ARENA_NEW(arena, PipePiece);
    *piece = (PipePiece){.least = hose_at(bore.low, run.high, rough, elbow * bends.high),
                         .most = hose_at(bore.high, run.low, rough, elbow * bends.low),
                         .rise = rise};
    piece->blocked = !(bore.low > 0.0 && isfinite(bore.low) && isfinite(run.high) && isfinite(bends.high) &&
                       isfinite(rise.high));
    piece->open = !isfinite(bore.high) || !isfinite(rise.low);
    pipes->pieces[hose->index] = piece;
}

/* What sits in a hose costs flow too. */
static void add_fitting(Pipes *pipes, KindId kind, PropId on, MinorLoss loss)
{
    for (const Entity *e = first_aboard(pipes->model, kind); e != NULL; e = next_aboard(e)) {
        const Entity *hose = entity_reference(e, on);
        if (hose != NULL && pipes->pieces[hose->index] != NULL) {
            pipes->pieces[hose->index]->least.minor_k += minor_k(loss);
            pipes->pieces[hose->index]->most.minor_k += minor_k(loss);
        }
    }
}

Pipes pipes_make(Arena *arena, const Figures *figures)
{
    const Model *model = figures->model;
    uint32_t count = model->entity_count + 1;
    Pipes pipes = {.model = model,
                   .plumbing = plumbing_of(figures),
                   .pieces = ARENA_ARRAY(arena, PipePiece *, count),
                   .seen = ARENA_ARRAY(arena, uint32_t, 2 * count)};
    pipes.steps = ARENA_ARRAY(arena, PipeStep, 2 * pipes.plumbing->way_count + 1); /* to what ways lead, cold and hot */
    for (const Entity *hose = first_aboard(model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        add_piece(arena, &pipes, hose);
    }
    add_fitting(&pipes, KIND_STRAINER, PROP_STRAINER_ON, MINOR_STRAINER);
    add_fitting(&pipes, KIND_VENT_LOOP, PROP_VENT_LOOP_ON, MINOR_VENT_LOOP);
    return pipes;
}

/* Walking */

enum { SUCTION_LOOKS = 200 };

HoseSize use_hose_size(Work *work, Sum *said, const char *before, const Entity *hose)
{
    HoseSize size;
    sum_label(said, work, before, hose, "run");
    size.run = use_value(work, hose, PROP_HOSE_RUN, 0).value;
    sum_label(said, work, " of ", hose, "bore");
    size.bore = use_value(work, hose, PROP_HOSE_BORE, 0).value;
    return size;
}

static bool is_source(const Entity *thing)
{
    return thing != NULL && is_aboard(thing) && (thing->kind == KIND_TANK || thing->kind == KIND_THROUGH_HULL);
}

/* Back from a thing to all that water may come to it from; `way` holds what has been passed. */
static void walk_suction(Pipes *pipes, const Entity *thing, const Suction *way)
{
    const HoseList *into = &pipes->plumbing->into;
    for (const Entity *hose = into->first[thing->index]; hose != NULL; hose = into->next[hose->index]) {
        Suction longer = *way;
        const Entity *from = entity_reference(hose, PROP_HOSE_FROM);
        if (longer.count == SUCTION_HOSES || pipes->suction_count == SUCTION_WAYS || pipes->suction_looks++ > SUCTION_LOOKS) {
            return; /* no boat has so many; a spec in which hoses go in circles may */
        }
        longer.hoses[longer.count++] = hose;
        if (is_source(from)) {
            pipes->suctions[pipes->suction_count++] = longer;
        } else if (from != NULL) {
            walk_suction(pipes, from, &longer);
        }
    }
}

static void reach(Pipes *pipes, uint32_t before, const Way *way)
{
    const PipeStep *from = &pipes->steps[before];
    bool hot = from->hot || way->to->kind == KIND_WATER_HEATER;
    uint32_t *seen = &pipes->seen[2 * way->to->index + hot];
    if (*seen == pipes->walks || !is_aboard(way->to)) {
        return;
    }
    *seen = pipes->walks;
    pipes->steps[pipes->step_count++] = (PipeStep){.thing = way->to,
                                                   .hose = way->hose,
                                                   .before = before,
                                                   .hot = hot,
                                                   .whole = from->whole && way->hose != NULL};
}

void pipes_walk(Pipes *pipes, const Entity *pump)
{
    pipes->walks++;
    pipes->suction_count = pipes->suction_looks = 0;
    walk_suction(pipes, pump, &(Suction){.count = 0});
    pipes->steps[0] = (PipeStep){.thing = pump, .whole = pipes->suction_count > 0};
    pipes->step_count = 1;
    pipes->seen[2 * pump->index] = pipes->seen[2 * pump->index + 1] = pipes->walks;
    for (uint32_t i = 0; i < pipes->step_count; i++) {
        if (i > 0 && is_outlet(pipes->steps[i].thing)) {
            continue;
        }
        for (const Way *way = pipes->plumbing->ways[pipes->steps[i].thing->index]; way != NULL;
             way = way->next) {
            reach(pipes, i, way);
        }
    }
}
