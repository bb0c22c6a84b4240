/*
 * Looks back from a tank along fuel lines, hoses and pumps to where its contents come from. Common practice, no source: a
 * day tank has no deck fill, nor has the second of two tanks that a hose joins.
 */
#include "rules/tank_filling.h"

#include "figures/fuel_plan.h"
#include "figures/plumbing.h"

typedef struct Search {
    const Judge *judge;
    const Entity *tank;   /* looked back from */
    const Entity *pumped; /* only a pump that draws from this tank counts; NULL: any tank that can be filled does */
    bool *seen;           /* by Entity.index */
    bool unsure;          /* some tank may have a filling pipe, or none */
} Search;

static bool comes_from(Search *search, const Entity *thing);

static bool holds_the_same(const Entity *tank, const Entity *other)
{
    return str_equal(entity_word(tank, PROP_TANK_HOLDS), entity_word(other, PROP_TANK_HOLDS));
}

static bool has_pipe(const Judge *judge, const Entity *tank)
{
    Side fill = side_value(judge, tank, PROP_TANK_FILL, 0);
    return fill.state == STATE_KNOWN && fill.value.low > 0.0;
}

static bool has_no_pipe(const Judge *judge, const Entity *tank)
{
    Side fill = side_value(judge, tank, PROP_TANK_FILL, 0);
    return fill.state == STATE_KNOWN && fill.value.high <= 0.0;
}

/* A filling pipe of its own, or hands that carry it ashore. */
static bool is_source(Search *search, const Entity *tank)
{
    bool source = has_pipe(search->judge, tank) || entity_yes(tank, PROP_COMMON_PORTABLE) == 1;
    search->unsure = search->unsure || (!source && !has_no_pipe(search->judge, tank));
    return source;
}

static bool visit(Search *search, const Entity *from)
{
    if (from == NULL || search->seen[from->index]) {
        return false;
    }
    search->seen[from->index] = true;
    if (from->kind == KIND_PUMP && search->pumped != NULL && entity_names(from, PROP_PUMP_FROM, search->pumped)) {
        return true;
    }
    if (from->kind == KIND_TANK && (search->pumped != NULL || !holds_the_same(from, search->tank))) {
        return false;
    }
    return (from->kind == KIND_TANK && is_source(search, from)) || comes_from(search, from);
}

static bool comes_by_line(Search *search, const Entity *thing)
{
    for (const Entity *line = first_aboard(search->judge->model, KIND_FUEL_LINE); line != NULL; line = next_aboard(line)) {
        if (!is_return(line) && entity_reference(line, PROP_FUEL_LINE_TO) == thing &&
            visit(search, entity_reference(line, PROP_FUEL_LINE_FROM))) {
            return true;
        }
    }
    return false;
}

/* In a hose from tank to tank the level evens out, whichever of them it is said to begin at. */
static bool comes_by_hose(Search *search, const Entity *thing)
{
    const Plumbing *plumbing = plumbing_of(search->judge->figures);
    const Entity *from, *to;
    for (const Entity *hose = plumbing->into.first[thing->index]; hose != NULL; hose = plumbing->into.next[hose->index]) {
        if (is_aboard(hose) && hose_ends(hose, &from, &to) && visit(search, from)) {
            return true;
        }
    }
    for (const Entity *hose = plumbing->from.first[thing->index]; hose != NULL && thing->kind == KIND_TANK;
         hose = plumbing->from.next[hose->index]) {
        if (is_aboard(hose) && hose_ends(hose, &from, &to) && to->kind == KIND_TANK && visit(search, to)) {
            return true;
        }
    }
    return false;
}

static bool comes_by_pump(Search *search, const Entity *thing)
{
    for (const Entity *pump = first_aboard(search->judge->model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        if (entity_names(pump, PROP_PUMP_TO, thing) && visit(search, pump)) {
            return true;
        }
    }
    const Property *draws = thing->kind == KIND_PUMP ? entity_property(thing, PROP_PUMP_FROM) : NULL;
    for (uint16_t i = 0; draws != NULL && i < draws->count; i++) {
        if (draws->values[i].kind == VALUE_REFERENCE && visit(search, value_entity(&draws->values[i]))) {
            return true;
        }
    }
    return false;
}

static bool comes_from(Search *search, const Entity *thing)
{
    return comes_by_line(search, thing) || comes_by_hose(search, thing) || comes_by_pump(search, thing);
}

static Search begin(const Judge *judge, const Entity *tank, const Entity *pumped)
{
    Search search = {.judge = judge,
                     .tank = tank,
                     .pumped = pumped,
                     .seen = ARENA_ARRAY(judge->scratch, bool, judge->model->entity_count + 1)};
    search.seen[tank->index] = true;
    return search;
}

Filling tank_filling(const Judge *judge, const Entity *tank)
{
    Str holds = entity_word(tank, PROP_TANK_HOLDS);
    bool none = has_no_pipe(judge, tank);
    bool asked = str_is(holds, "fuel") || str_is(holds, "fresh"); /* waste runs in by itself */
    if (!asked || (!none && entity_states(tank, PROP_TANK_FILL))) {
        return FILLING_OWN;
    }
    Search search = begin(judge, tank, NULL);
    if (comes_from(&search, tank)) {
        return FILLING_ABOARD;
    }
    return none && search.unsure ? FILLING_WAITS : FILLING_OWN;
}

bool is_overflow(const Judge *judge, const Entity *line)
{
    const Entity *from = entity_reference(line, PROP_FUEL_LINE_FROM);
    const Entity *to = entity_reference(line, PROP_FUEL_LINE_TO);
    bool between = from != NULL && to != NULL && from != to && from->kind == KIND_TANK && to->kind == KIND_TANK;
    if (!between) {
        return false;
    }
    Search search = begin(judge, from, to);
    return comes_from(&search, from);
}
