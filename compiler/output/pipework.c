/* See pipework.h. */
#include "output/pipework.h"

#include <string.h>

enum { DEEPEST = 7 }; /* columns; what lies deeper is cut off and told as such */

/* ---- Nodes --------------------------------------------------------------------------------------------- */

static PipeNode *add_node(Pipework *work, PipeNode *parent)
{
    PipeNode *node = ARENA_NEW(work->book->arena, PipeNode);
    *node = (PipeNode){.parent = parent, .column = parent != NULL ? parent->column + 1 : 0};
    if (parent != NULL && parent->children != NULL) {
        parent->last_child->next = node;
    } else if (parent != NULL) {
        parent->children = node;
    }
    if (parent != NULL) {
        parent->last_child = node;
    }
    return node;
}

static PipeIcon icon_of(const Entity *thing)
{
    switch (thing->kind) {
    case KIND_TANK: return ICON_TANK;
    case KIND_PUMP:
    case KIND_BILGE_PUMP: return ICON_PUMP;
    case KIND_FIXTURE: return ICON_TAP;
    case KIND_WATER_HEATER: return ICON_HEATER;
    case KIND_TOILET: return ICON_TOILET;
    case KIND_THROUGH_HULL:
        return entity_yes(thing, PROP_THROUGH_HULL_SEACOCK) == 1 ? ICON_SEACOCK : ICON_HULL;
    default: return ICON_JOINT;
    }
}

static void add_part(Buf *to, const char *before, Str part)
{
    if (part.length > 0 && !str_equal(part, book_nothing)) {
        buf_text(to, to->length > 0 ? ", " : "");
        buf_text(to, before);
        buf_add(to, part);
    }
}

/* What is to be known of a thing in a line. */
static Str more_of(const Book *book, const Entity *thing)
{
    Buf text;
    buf_init(&text, book->arena);
    switch (thing->kind) {
    case KIND_TANK: add_part(&text, "", book_figure_short(book, thing, FIGURE_VOLUME, NULL)); break;
    case KIND_PUMP:
        add_part(&text, "", book_figure_short(book, thing, FIGURE_FLOW, NULL));
        if (text.length == 0) {
            add_part(&text, "free ", book_value(book, thing, PROP_PUMP_FLOW, 0));
        }
        if (entity_yes(thing, PROP_PUMP_HAND) == 1) {
            add_part(&text, "", STR("by hand or foot"));
        }
        break;
    case KIND_FIXTURE: add_part(&text, "gets ", book_figure_short(book, thing, FIGURE_FLOW, NULL)); break;
    case KIND_WATER_HEATER:
        add_part(&text, "", book_value(book, thing, PROP_WATER_HEATER_CAPACITY, 0));
        break;
    case KIND_TOILET: add_part(&text, "rim ", book_value(book, thing, PROP_TOILET_RIM, 0)); break;
    case KIND_THROUGH_HULL:
        add_part(&text, "", book_value(book, thing, PROP_THROUGH_HULL_BORE, 0));
        add_part(&text, "at ", book_value(book, thing, PROP_THROUGH_HULL_HEIGHT, 0));
        add_part(&text, "", book_value(book, thing, PROP_THROUGH_HULL_SECURED, 0));
        break;
    default: buf_add(&text, thing->title); break;
    }
    return buf_str(&text);
}

static void dress(Pipework *work, PipeNode *node, const Entity *thing)
{
    node->icon = icon_of(thing);
    node->name = book_name(work->book, thing);
    node->more = more_of(work->book, thing);
    if (work->drawn != NULL) {
        work->drawn[thing->index] = true;
    }
}

static void dress_edge(Pipework *work, PipeNode *node, const Entity *hose)
{
    Buf text;
    if (hose == NULL) {
        node->edge = STR("no hose stated");
        return;
    }
    if (work->drawn != NULL) {
        work->drawn[hose->index] = true;
    }
    buf_init(&text, work->book->arena);
    add_part(&text, "", book_value(work->book, hose, PROP_HOSE_BORE, 0));
    add_part(&text, "", book_value(work->book, hose, PROP_HOSE_RUN, 0));
    add_part(&text, "", book_value(work->book, hose, PROP_HOSE_SECURED, 0));
    for (const Entity *e = first_aboard(work->book->model, KIND_VENT_LOOP); e != NULL; e = next_aboard(e)) {
        if (entity_reference(e, PROP_VENT_LOOP_ON) == hose) {
            node->has_loop = true;
            node->loop = book_value(work->book, e, PROP_VENT_LOOP_HEIGHT, 0);
        }
    }
    node->edge = book_name(work->book, hose);
    node->edge_more = buf_str(&text);
}

/* One that stands on the page already: no second one of its sort. */
static void dress_again(PipeNode *node)
{
    node->icon = ICON_AGAIN;
    node->more = STR("see above");
}

/* Gives every node its row, and links them in that order. */
static void place(Pipework *work, PipeNode *node)
{
    node->row = work->rows;
    work->columns = node->column + 1 > work->columns ? node->column + 1 : work->columns;
    if (work->last == NULL) {
        work->first = node;
    } else {
        work->last->next_drawn = node;
    }
    work->last = node;
    for (PipeNode *child = node->children; child != NULL; child = child->next) {
        place(work, child);
    }
    work->rows += node->children == NULL;
}

/* What a tank has by the deck. */
static void draw_leaf(Pipework *work, PipeNode *parent, Str name, Str more)
{
    if (!str_equal(more, book_nothing) && parent->column + 1 < DEEPEST) {
        PipeNode *leaf = add_node(work, parent);
        leaf->icon = ICON_DECK;
        leaf->name = name;
        leaf->more = more;
    }
}

/* ---- Fresh water --------------------------------------------------------------------------------------- */

static bool is_supply(const Entity *pump)
{
    const Entity *from = entity_reference(pump, PROP_PUMP_FROM);
    return from != NULL &&
           (from->kind == KIND_THROUGH_HULL || str_is(entity_word(from, PROP_TANK_HOLDS), "fresh"));
}

static const Entity *source_of(const Suction *way, const Entity *pump)
{
    return way != NULL ? entity_reference(way->hoses[way->count - 1], PROP_HOSE_FROM) : entity_reference(pump, PROP_PUMP_FROM);
}

/* The chain of one way of the suction, from the source on; returns the pump's node. NULL: no hoses are stated. */
static PipeNode *draw_suction(Pipework *work, const Suction *way, const Entity *pump, PipeNode **root)
{
    PipeNode *node = *root = add_node(work, NULL);
    dress(work, node, source_of(way, pump));
    for (uint32_t i = way != NULL ? way->count : 0; i-- > 1;) {
        node = add_node(work, node);
        dress(work, node, entity_reference(way->hoses[i], PROP_HOSE_TO));
        dress_edge(work, node, way->hoses[i]);
    }
    node = add_node(work, node);
    dress(work, node, pump);
    dress_edge(work, node, way != NULL ? way->hoses[0] : NULL);
    return node;
}

/* A further source: up to where its way joins what is drawn already. */
static void draw_other_source(Pipework *work, const Pipes *pipes, uint32_t number)
{
    const Suction *way = &pipes->suctions[number], *first = &pipes->suctions[0];
    uint32_t joins = 0; /* so many of the last hoses are those of the first way */
    while (joins + 1 < way->count && joins + 1 < first->count && way->hoses[joins] == first->hoses[joins]) {
        joins++;
    }
    PipeNode *root = add_node(work, NULL), *node = root;
    dress(work, node, entity_reference(way->hoses[way->count - 1], PROP_HOSE_FROM));
    for (uint32_t i = way->count; i-- > joins;) {
        node = add_node(work, node);
        dress(work, node, entity_reference(way->hoses[i], PROP_HOSE_TO));
        dress_edge(work, node, way->hoses[i]);
    }
    dress_again(node);
    place(work, root);
}

static void draw_supply(Pipework *work, Pipes *pipes, const Entity *pump)
{
    PipeNode *root;
    PipeNode **of_step = ARENA_ARRAY(work->book->arena, PipeNode *, 2 * work->book->model->entity_count + 2);
    pipes_walk(pipes, pump);
    const Entity *source = source_of(pipes->suction_count > 0 ? &pipes->suctions[0] : NULL, pump);
    bool first = source->kind == KIND_TANK && !work->drawn[source->index];
    of_step[0] = draw_suction(work, pipes->suction_count > 0 ? &pipes->suctions[0] : NULL, pump, &root);
    for (uint32_t i = 1; i < pipes->step_count; i++) {
        const PipeStep *step = &pipes->steps[i];
        PipeNode *before = of_step[step->before];
        if (before == NULL || before->column + 1 >= DEEPEST) {
            continue;
        }
        PipeNode *node = of_step[i] = add_node(work, before);
        dress(work, node, step->thing);
        dress_edge(work, node, step->hose);
        node->hot = step->hot && step->thing->kind != KIND_WATER_HEATER;
    }
    if (first) {
        draw_leaf(work, root, STR("fill"), book_value(work->book, source, PROP_TANK_FILL, 0));
        draw_leaf(work, root, STR("vent"), book_value(work->book, source, PROP_TANK_VENT, 0));
    }
    place(work, root);
    for (uint32_t i = 1; i < pipes->suction_count; i++) {
        draw_other_source(work, pipes, i);
    }
}

static bool is_fresh_tank(const Entity *thing)
{
    return thing != NULL && is_aboard(thing) && thing->kind == KIND_TANK && str_is(entity_word(thing, PROP_TANK_HOLDS), "fresh");
}

/* Tanks that a hose joins stand level, and no pump draws by that hose: a row of its own. */
static void draw_joined(Pipework *work, const Entity *hose)
{
    const Entity *from = entity_reference(hose, PROP_HOSE_FROM), *to = entity_reference(hose, PROP_HOSE_TO);
    if (work->drawn[hose->index] || !is_fresh_tank(from) || !is_fresh_tank(to) || from == to) {
        return;
    }
    const Entity *ends[] = {from, to};
    if (work->drawn[from->index] && !work->drawn[to->index]) {
        ends[0] = to;
        ends[1] = from;
    }
    PipeNode *root = NULL, *node = NULL;
    for (int i = 0; i < 2; i++) {
        bool again = work->drawn[ends[i]->index];
        node = add_node(work, node);
        root = i == 0 ? node : root;
        dress(work, node, ends[i]);
        if (again) {
            dress_again(node);
        }
    }
    dress_edge(work, node, hose);
    place(work, root);
}

Pipework pipework_fresh(const Book *book)
{
    Pipework work = {.book = book, .drawn = ARENA_ARRAY(book->arena, bool, book->model->entity_count + 1)};
    Pipes pipes = pipes_make(book->arena, book->figures);
    for (const Entity *pump = first_aboard(book->model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        if (is_supply(pump)) {
            draw_supply(&work, &pipes, pump);
        }
    }
    for (const Entity *hose = first_aboard(book->model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        draw_joined(&work, hose);
    }
    return work;
}

/* ---- Waste --------------------------------------------------------------------------------------------- */

typedef struct Waste {
    Pipework *work;
    const Plumbing *plumbing;
    bool *drawn; /* by Entity.index */
} Waste;

static void draw_waste(Waste *waste, PipeNode *parent, const Entity *thing, const Entity *hose,
                       PipeNode **root);

static void draw_ways(Waste *waste, PipeNode *node, const Entity *thing)
{
    const Entity *drain =
        thing->kind == KIND_FIXTURE ? entity_reference(thing, PROP_FIXTURE_DRAINS_TO) : NULL;
    const Way *way = waste->plumbing->ways[thing->index];
    if (drain != NULL && way == NULL) {
        draw_waste(waste, node, drain, NULL, NULL);
    }
    for (; way != NULL; way = way->next) {
        draw_waste(waste, node, way->to, way->hose, NULL);
    }
    if (thing->kind == KIND_TANK) {
        const Book *book = waste->work->book;
        draw_leaf(waste->work, node, STR("pump-out"), book_value(book, thing, PROP_TANK_PUMP_OUT, 0));
        draw_leaf(waste->work, node, STR("vent"), book_value(book, thing, PROP_TANK_VENT, 0));
    }
}

static void draw_waste(Waste *waste, PipeNode *parent, const Entity *thing, const Entity *hose,
                       PipeNode **root)
{
    if (!is_aboard(thing) || (parent != NULL && parent->column + 1 >= DEEPEST)) {
        return;
    }
    PipeNode *node = add_node(waste->work, parent);
    dress(waste->work, node, thing);
    if (parent != NULL) {
        dress_edge(waste->work, node, hose);
    }
    if (root != NULL) {
        *root = node;
    }
    bool ends = thing->kind == KIND_THROUGH_HULL && parent != NULL;
    if (waste->drawn[thing->index]) {
        dress_again(node);
        return;
    }
    waste->drawn[thing->index] = true;
    if (!ends) {
        draw_ways(waste, node, thing);
    }
}

static void draw_root(Waste *waste, const Entity *thing)
{
    PipeNode *root = NULL;
    if (!waste->drawn[thing->index]) {
        draw_waste(waste, NULL, thing, NULL, &root);
        place(waste->work, root);
    }
}

/* Whether the sea comes by it to a toilet. */
static bool leads_to_toilet(const Waste *waste, const Entity *thing, int deep)
{
    for (const Way *way = waste->plumbing->ways[thing->index]; way != NULL && deep < 6; way = way->next) {
        if (way->to->kind == KIND_TOILET ||
            (way->to->kind == KIND_PUMP && leads_to_toilet(waste, way->to, deep + 1))) {
            return true;
        }
    }
    return false;
}

Pipework pipework_waste(const Book *book)
{
    static const KindId kinds_of_roots[] = {KIND_THROUGH_HULL, KIND_TOILET, KIND_FIXTURE, KIND_TANK};
    Pipework work = {.book = book};
    Waste waste = {.work = &work,
                   .plumbing = plumbing_of(book->figures),
                   .drawn = ARENA_ARRAY(book->arena, bool, book->model->entity_count + 1)};
    for (size_t k = 0; k < sizeof kinds_of_roots / sizeof kinds_of_roots[0]; k++) {
        for (const Entity *e = first_aboard(book->model, kinds_of_roots[k]); e != NULL; e = next_aboard(e)) {
            bool wanted = e->kind == KIND_THROUGH_HULL ? leads_to_toilet(&waste, e, 0)
                          : e->kind == KIND_TANK       ? holds_waste(e)
                                                       : true;
            if (wanted) {
                draw_root(&waste, e);
            }
        }
    }
    return work;
}
