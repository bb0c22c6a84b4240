/* See diagram_tree.h. Nothing here calls itself: a chain of feeds may be as long as the spec. */
#include "output/diagram_tree.h"

static bool is_out(const Entity *entity)
{
    return !is_aboard(entity) || entity->flags & ENTITY_LOOP;
}

/* Whether it hands on current of this kind through a cable or to loads. */
static bool gives(const DiagramTree *tree, const Entity *entity)
{
    for (const Feed *feed = entity->gives; feed != NULL; feed = feed->next_of_giver) {
        if (!feed->maker && !is_out(feed->taker)) {
            return book_gives_ac(entity) == tree->ac;
        }
    }
    return false;
}

static Spot *new_spot(DiagramTree *tree, const Entity *entity)
{
    Spot *spot = ARENA_NEW(tree->book->arena, Spot);
    spot->entity = entity;
    spot->kind = SPOT_BAR;
    tree->order[tree->count++] = spot;
    return spot;
}

static void hang_on(Spot *parent, Spot *child)
{
    child->parent = parent;
    if (parent->last_child == NULL) {
        parent->children = child;
    } else {
        parent->last_child->next = child;
    }
    parent->last_child = child;
}

/* Roots: what is fed by nothing and stands at the beginning of this kind of current. */

/* Which things a maker of this kind of current feeds, by Entity.index. */
static bool *find_fed_by_makers(const DiagramTree *tree)
{
    bool *fed = ARENA_ARRAY(tree->book->arena, bool, tree->model->entity_count);
    for (uint32_t i = 0; i < tree->model->feed_count; i++) {
        const Feed *feed = tree->model->feeds[i];
        if (feed->maker && feed->giver != NULL && book_gives_ac(feed->giver) == tree->ac) {
            fed[feed->taker->index] = true;
        }
    }
    return fed;
}

static bool is_root(const DiagramTree *tree, const Entity *entity, const bool *fed_by_maker)
{
    if (is_out(entity)) {
        return false;
    }
    if (entity->kind == KIND_BANK) {
        return !tree->ac;
    }
    if (entity->kind == KIND_INLET) {
        return tree->ac;
    }
    if (entity->kind == KIND_GENERATOR) {
        return tree->ac && (gives(tree, entity) || entity->gives == NULL);
    }
    if (entity->kind == KIND_INVERTER) {
        return tree->ac && gives(tree, entity);
    }
    bool right_current = ((entity->flags & ENTITY_AC) != 0) == tree->ac;
    return right_current && entity->fed == NULL && !book_makes_power(entity) &&
           (gives(tree, entity) || fed_by_maker[entity->index]);
}

/* Of mains the shore comes first, then what is made aboard. */
static int rank_of(const Entity *entity)
{
    return entity->kind == KIND_INLET ? 0 : entity->kind == KIND_GENERATOR ? 1 : entity->kind == KIND_INVERTER ? 2 : 3;
}

static void add_roots(DiagramTree *tree)
{
    const bool *fed_by_maker = find_fed_by_makers(tree);
    for (int rank = 0; rank <= 3; rank++) {
        for (uint32_t i = 0; i < tree->model->entity_count; i++) {
            const Entity *entity = tree->model->entities[i];
            if (rank_of(entity) == rank && is_root(tree, entity, fed_by_maker)) {
                tree->of_entity[i] = new_spot(tree, entity);
            }
        }
    }
}

/* Loads: what uses the cable of the thing that feeds it. */

static void add_load(DiagramTree *tree, Spot *spot, const Entity *entity, bool inside)
{
    SpotLoad **end = &spot->loads;
    while (*end != NULL) {
        end = &(*end)->next;
    }
    *end = ARENA_NEW(tree->book->arena, SpotLoad);
    **end = (SpotLoad){.entity = entity, .inside = inside};
    spot->load_count++;
}

static bool is_load(const DiagramTree *tree, const Feed *feed)
{
    bool outlet = feed->taker->kind == KIND_OUTLET;
    return feed->shares && feed->taker->kind != KIND_SWITCH && (outlet || !gives(tree, feed->taker));
}

/* The loads of an outlet, which are drawn with it; others of it are circuits of their own. */
static void add_inner_loads(DiagramTree *tree, Spot *spot, const Entity *outlet)
{
    if (outlet->kind != KIND_OUTLET) {
        return;
    }
    for (const Feed *feed = outlet->gives; feed != NULL; feed = feed->next_of_giver) {
        if (!feed->maker && feed->shares && !is_out(feed->taker) &&
            spot->load_count < 4 * DIAGRAM_MOST_LOADS) {
            add_load(tree, spot, feed->taker, true);
        }
    }
}

/* Children: what has a cable of its own, or is a switch. */

static const Feed *first_feed(const Entity *taker)
{
    for (const Feed *feed = taker->fed; feed != NULL; feed = feed->next) {
        if (feed->giver != NULL && !is_out(feed->giver)) {
            return feed;
        }
    }
    return NULL;
}

static void add_child(DiagramTree *tree, Spot *giver, const Feed *feed)
{
    Spot *child = new_spot(tree, feed->taker);
    child->wire = book_wire(tree->book, tree->model, feed);
    child->has_wire = true;
    hang_on(giver, child);
    if (first_feed(feed->taker) != feed) {
        child->kind = SPOT_LINK; /* a transfer switch is drawn where its first source is */
        return;
    }
    tree->of_entity[feed->taker->index] = child;
    child->kind = gives(tree, feed->taker) ? SPOT_BAR : SPOT_WAY;
}

static void add_what_it_feeds(DiagramTree *tree, const Entity *entity)
{
    Spot *spot = tree->of_entity[entity->index];
    if (spot == NULL || book_gives_ac(entity) != tree->ac) {
        return;
    }
    bool outlet = entity->kind == KIND_OUTLET && gives(tree, entity);
    if (outlet) {
        add_load(tree, spot, entity, false); /* it ends its own cable; what is plugged in comes behind it */
    }
    for (const Feed *feed = entity->gives; feed != NULL; feed = feed->next_of_giver) {
        if (feed->maker || is_out(feed->taker)) {
            continue;
        }
        if (is_load(tree, feed)) {
            if (spot->load_count < 4 * DIAGRAM_MOST_LOADS) {
                add_load(tree, spot, feed->taker, outlet);
                add_inner_loads(tree, spot, feed->taker);
            }
        } else {
            add_child(tree, spot, feed);
        }
    }
}

/*
 * A circuit whose loads all use its own cable is a way; one that is branched keeps its loads as a way of
 * their own.
 */
static void settle_kind(DiagramTree *tree, Spot *spot)
{
    if (spot->kind != SPOT_BAR) {
        return;
    }
    bool shares_out = spot->entity->kind != KIND_CIRCUIT && spot->entity->kind != KIND_OUTLET;
    if (spot->children == NULL && spot->parent != NULL && spot->loads != NULL && !shares_out) {
        spot->kind = SPOT_WAY;
        return;
    }
    if (spot->loads != NULL) {
        Spot *rest = new_spot(tree, spot->entity);
        rest->kind = SPOT_WAY;
        rest->loads = spot->loads;
        rest->load_count = spot->load_count;
        spot->loads = NULL;
        spot->load_count = 0;
        hang_on(spot, rest);
    }
}

static void hang_source(Spot *spot, SpotSource *source)
{
    if (spot->last_source == NULL) {
        spot->sources = source;
    } else {
        spot->last_source->next = source;
    }
    spot->last_source = source;
    spot->source_count++;
}

static void add_source(DiagramTree *tree, const Feed *feed)
{
    Spot *spot = tree->of_entity[feed->taker->index];
    bool further = !feed->maker && first_feed(feed->taker) != feed;
    bool drawn = (feed->maker || further) && feed->giver != NULL && spot != NULL &&
                 book_gives_ac(feed->giver) == tree->ac;
    if (!drawn || is_out(feed->giver)) {
        return;
    }
    SpotSource *source = ARENA_NEW(tree->book->arena, SpotSource);
    *source = (SpotSource){.wire = book_wire(tree->book, tree->model, feed), .elsewhere = further};
    hang_source(spot, source);
}

/* An inverter that lets something through: a source of its bar, and a link where that is drawn. */
static void add_passed(DiagramTree *tree, const Entity *inverter)
{
    const Entity *passed = entity_reference(inverter, PROP_INVERTER_PASSES);
    Spot *at = passed != NULL ? tree->of_entity[passed->index] : NULL;
    Spot *bar = tree->of_entity[inverter->index];
    if (is_out(inverter) || at == NULL || bar == NULL || bar->kind != SPOT_BAR) {
        return;
    }
    SpotSource *source = ARENA_NEW(tree->book->arena, SpotSource);
    *source = (SpotSource){.wire = {.giver = passed, .taker = inverter, .model = tree->model, .ac = true},
                           .elsewhere = true,
                           .passed = true};
    hang_source(bar, source);
    if (at->kind == SPOT_WAY) {
        at->passed_by = inverter;
        return;
    }
    Spot *link = new_spot(tree, inverter);
    link->kind = SPOT_LINK;
    link->passed_by = inverter;
    hang_on(at, link);
}

static void add_sources(DiagramTree *tree)
{
    for (uint32_t i = 0; i < tree->model->feed_count; i++) {
        add_source(tree, tree->model->feeds[i]);
    }
    const Entity *inverter = tree->ac ? tree->model->first_of_kind[KIND_INVERTER] : NULL;
    for (; inverter != NULL; inverter = inverter->next_of_kind) {
        add_passed(tree, inverter);
    }
}

/* A switch with one thing behind it is drawn in that thing's cable. */
static void fold_switch(Spot *spot)
{
    Spot *only = spot->children;
    bool foldable = spot->entity->kind == KIND_SWITCH && spot->parent != NULL && spot->wire.shares &&
                    only != NULL && only->next == NULL && only->kind != SPOT_LINK && only->through == NULL &&
                    only->has_wire && !only->wire.shares && spot->sources == NULL && spot->kind == SPOT_BAR;
    if (!foldable) {
        return;
    }
    only->through = spot->entity;
    only->parent = spot->parent;
    only->next = spot->next;
    for (Spot **link = &spot->parent->children; *link != NULL; link = &(*link)->next) {
        if (*link == spot) {
            *link = only;
            break;
        }
    }
    if (spot->parent->last_child == spot) {
        spot->parent->last_child = only;
    }
    spot->children = NULL;
    spot->kind = SPOT_LINK; /* out of the drawing */
    spot->parent = spot;
}

/* What should be in the drawing and has no place in it. */
static void find_lost(DiagramTree *tree)
{
    tree->lost = ARENA_ARRAY(tree->book->arena, const Entity *, tree->model->entity_count);
    for (uint32_t i = 0; i < tree->model->entity_count; i++) {
        const Entity *entity = tree->model->entities[i];
        bool taken = entity_states(entity, PROP_FEED_FED_BY) && kinds[entity->kind].groups & GROUPS_FEED;
        bool right_current = ((entity->flags & ENTITY_AC) != 0) == tree->ac;
        bool homeless = entity->flags & ENTITY_LOOP || first_feed(entity) == NULL;
        if (taken && right_current && homeless && !(entity->flags & ENTITY_DROPPED)) {
            tree->lost[tree->lost_count++] = entity;
        }
    }
}

const Entity *spot_joins(const DiagramTree *tree, const Spot *spot)
{
    if (spot->entity->kind != KIND_SWITCH || !spot->has_wire || gives(tree, spot->entity)) {
        return NULL;
    }
    for (const Feed *feed = spot->entity->fed; feed != NULL; feed = feed->next) {
        if (feed != spot->wire.feed && feed->giver != NULL && !is_out(feed->giver)) {
            return feed->giver;
        }
    }
    return NULL;
}

/* Heights and sections */

static double way_height(const Spot *spot)
{
    unsigned loads = spot->load_count < DIAGRAM_MOST_LOADS ? spot->load_count : DIAGRAM_MOST_LOADS + 1;
    double passed = spot->passed_by != NULL && loads > 0 ? DIAGRAM_PASSED : 0.0;
    double with_loads = 8.4 + passed + DIAGRAM_LOAD * (loads > 0 ? loads - 1 : 0);
    return with_loads > DIAGRAM_ROW ? with_loads : DIAGRAM_ROW;
}

double spot_height(const Spot *spot)
{
    return spot->cut || spot->kind == SPOT_LINK ? DIAGRAM_ROW : spot->height_mm;
}

double spot_head(const Spot *first)
{
    bool bar = first != NULL && first->kind == SPOT_BAR && !first->cut;
    return bar ? 0.0 : DIAGRAM_HEAD;
}

double spot_root_height(const Spot *spot)
{
    return spot->entity->kind == KIND_INLET ? 1.6 * DIAGRAM_ROW : 1.5 * DIAGRAM_ROW;
}

static void measure(Spot *spot)
{
    if (spot->kind != SPOT_BAR) {
        spot->height_mm = spot->kind == SPOT_WAY ? way_height(spot) : DIAGRAM_ROW;
        return;
    }
    double right = spot_head(spot->children);
    for (const Spot *child = spot->children; child != NULL; child = child->next) {
        right += spot_height(child);
    }
    bool heads_section = spot->parent == NULL || spot->cut;
    double left = DIAGRAM_HEAD + (heads_section ? spot_root_height(spot) : DIAGRAM_ROW) +
                  DIAGRAM_SOURCE * spot->source_count;
    spot->height_mm = right > left ? right : left;
}

static void measure_all(DiagramTree *tree)
{
    for (size_t i = tree->count; i-- > 0;) {
        measure(tree->order[i]);
    }
}

static bool is_in_drawing(const Spot *spot)
{
    return spot->parent != spot;
}

/* Bars that are too deep go to sections of their own; a section begins again at depth 0. */
static void cut_deep(DiagramTree *tree)
{
    for (size_t i = 0; i < tree->count; i++) {
        Spot *spot = tree->order[i];
        if (!is_in_drawing(spot) || spot->parent == NULL) {
            continue;
        }
        spot->depth = spot->parent->depth + 1;
        if (spot->kind == SPOT_BAR && (spot->depth >= DIAGRAM_COLUMNS || spot->cut)) {
            spot->cut = true;
            spot->depth = 0;
        }
    }
}

static double whole_height(const DiagramTree *tree)
{
    double height = 0.0;
    for (size_t i = 0; i < tree->count; i++) {
        const Spot *spot = tree->order[i];
        if (spot->parent == NULL || spot->cut) {
            height += spot->height_mm;
        }
    }
    return height;
}

static bool is_worth_a_section(const Spot *spot)
{
    return spot->kind == SPOT_BAR && spot->entity->kind == KIND_PANEL && spot->children != NULL &&
           spot->children->next != NULL && spot->parent != NULL && is_in_drawing(spot);
}

/* Where it does not fit a page as one, panels get pages of their own; then whatever is still too tall. */
static void cut_tall(DiagramTree *tree, double page_height_mm)
{
    if (whole_height(tree) <= page_height_mm) {
        return;
    }
    for (size_t i = 0; i < tree->count; i++) {
        tree->order[i]->cut = tree->order[i]->cut || is_worth_a_section(tree->order[i]);
    }
    measure_all(tree);
    for (size_t i = tree->count; i-- > 0;) {
        Spot *spot = tree->order[i];
        bool tall = spot->kind == SPOT_BAR && spot->height_mm > page_height_mm - DIAGRAM_HEAD;
        if (tall && spot->parent != NULL && is_in_drawing(spot)) {
            spot->cut = true;
        }
        measure(spot);
    }
}

static void list_sections(DiagramTree *tree)
{
    Spot **end = &tree->sections;
    for (int cut = 0; cut <= 1; cut++) {
        for (size_t i = 0; i < tree->count; i++) {
            Spot *spot = tree->order[i];
            if (cut ? spot->cut : spot->parent == NULL) {
                *end = spot;
                end = &spot->next_section;
            }
        }
    }
}

DiagramTree diagram_tree(const Book *book, bool ac, double page_height_mm)
{
    const Model *model = book->model;
    DiagramTree tree = {.book = book, .model = model, .ac = ac};
    tree.of_entity = ARENA_ARRAY(book->arena, Spot *, model->entity_count);
    /* A spot for each thing and for each feed, and one more for the loads of each. */
    tree.order = ARENA_ARRAY(book->arena, Spot *, 2 * ((size_t)model->entity_count + model->feed_count));
    add_roots(&tree);
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        add_what_it_feeds(&tree, model->feed_order[i]);
    }
    for (size_t i = 0, count = tree.count; i < count; i++) {
        settle_kind(&tree, tree.order[i]);
    }
    add_sources(&tree);
    for (size_t i = 0; i < tree.count; i++) {
        fold_switch(tree.order[i]);
    }
    find_lost(&tree);
    cut_deep(&tree);
    measure_all(&tree);
    cut_tall(&tree, page_height_mm);
    cut_deep(&tree);
    measure_all(&tree);
    list_sections(&tree);
    return tree;
}
