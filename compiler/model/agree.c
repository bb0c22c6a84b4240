/* See agree.h. */
#include "model/agree.h"

#include "base/num.h"
#include "model/checker.h"
#include "model/status.h"
#include "model/tank_sides.h"
#include "model/walk.h"

#include <math.h>

static const double tank_tolerance =
    0.05; /* common practice, no source: more than inside radii and fittings take away */
/* Geometry: a wedge fills half of the box around it, a pyramid a third. Less is a slip. */
static const double tank_least_share = 0.25;

/* A quantity of a property that is stated without a mistake. */
static bool stated(const Entity *entity, PropId id, unsigned slot, Interval *is)
{
    const Property *property = entity_property(entity, id);
    const Value *value = property_value(property, slot);
    if (property == NULL || property->flags & PROPERTY_BROKEN || value->kind != VALUE_QUANTITY) {
        return false;
    }
    *is = interval(value->u.quantity.low, value->u.quantity.high);
    return true;
}

/* One thing stated in two ways */

static PropId series_of(const Entity *entity)
{
    return entity->kind == KIND_BANK    ? PROP_BANK_SERIES
           : entity->kind == KIND_SOLAR ? PROP_SOLAR_SERIES
                                        : PROP_NONE;
}

static PropId parallel_of(const Entity *entity)
{
    return entity->kind == KIND_BANK ? PROP_BANK_PARALLEL : PROP_SOLAR_PARALLEL;
}

bool layout_count(const Entity *entity, Interval *count)
{
    Interval series = point(1.0);
    Interval parallel = point(1.0);
    if (series_of(entity) == PROP_NONE) {
        return false;
    }
    bool in_series = stated(entity, series_of(entity), 0, &series);
    bool in_parallel = stated(entity, parallel_of(entity), 0, &parallel);
    *count = interval_multiply(series, parallel);
    return in_series || in_parallel;
}

static bool apart(Interval a, Interval b)
{
    return a.high < b.low || b.high < a.low;
}

/* Whether a whole number of strings of that length makes the count. */
static bool divides(Interval count, Interval series)
{
    bool points = interval_is_point(count) && interval_is_point(series);
    return !points || series.low <= 0.0 || fmod(count.low, series.low) == 0.0;
}

static void tell_layout(Model *model, const Entity *entity, PropId at)
{
    const Property *line = entity_property(entity, at);
    const Property *count = entity_property(entity, PROP_COMMON_COUNT);
    Message *m =
        message_report(model->messages, MESSAGE_SHAPE_OTHER, property_span(model, line),
                       "the strings of `%.*s` do not make its count: `series` times `parallel` is the count",
                       STR_ARG(entity_name(model, entity)));
    message_note(model->messages, m, property_span(model, count), "the count");
    message_right(model->messages, m,
                  "another number on one of the lines, or no `count`: the strings tell it");
}

static void check_layout(Model *model, const Entity *entity)
{
    Interval count;
    Interval series = point(1.0);
    Interval parallel;
    if (!stated(entity, PROP_COMMON_COUNT, 0, &count)) {
        return;
    }
    bool in_series = stated(entity, series_of(entity), 0, &series);
    if (stated(entity, parallel_of(entity), 0, &parallel)) {
        if (apart(count, interval_multiply(series, parallel))) {
            tell_layout(model, entity, parallel_of(entity));
        }
    } else if (in_series && (!divides(count, series) || count.high < series.low)) {
        tell_layout(model, entity, series_of(entity));
    }
}

static void write_in_unit(Buf *to, UnitPair unit, Interval value)
{
    unit_print(to, unit, value.low, value.high);
}

/* A tank's capacity and what its sides hold, where it states both. */
static bool states_both(const Entity *tank, Interval *capacity, Interval *box)
{
    return stated(tank, PROP_TANK_CAPACITY, 0, capacity) && tank_volume_by_sides(tank, box);
}

bool tank_is_no_box(const Entity *tank)
{
    Interval capacity, box;
    return states_both(tank, &capacity, &box) && capacity.low < box.high * (1.0 - tank_tolerance);
}

/* It may hold less than its box, as one that follows the hull does; it cannot hold more. */
static void check_tank(Model *model, const Entity *tank)
{
    Interval capacity, box;
    if (!states_both(tank, &capacity, &box)) {
        return;
    }
    Interval about = interval_multiply(capacity, interval(1.0 - tank_tolerance, 1.0 + tank_tolerance));
    Interval can_be = interval_multiply(box, interval(tank_least_share, 1.0));
    if (!apart(about, can_be)) {
        return;
    }
    const Property *stated_capacity = entity_property(tank, PROP_TANK_CAPACITY);
    UnitPair unit = property_value(stated_capacity, 0)->unit;
    Buf volume;
    Buf said;
    buf_init(&volume, model->arena);
    buf_init(&said, model->arena);
    write_in_unit(&volume, unit, box);
    write_in_unit(&said, unit, capacity);
    Message *m = message_report(
        model->messages, MESSAGE_SHAPE_OTHER, property_span(model, entity_property(tank, tank_sides(tank))),
        "a tank of this size holds %s, but its capacity is %s", volume.text, said.text);
    message_note(model->messages, m, property_span(model, stated_capacity), "the capacity");
    if (tank_shape(tank) != TANK_BOX) {
        message_right(model->messages, m, "a `capacity` of at most what it holds by its sides, and at least a quarter of that, or none");
        return;
    }
    message_right(model->messages, m, "`size` of the box around it, and a `capacity` of at most what that holds, and at least a quarter of it");
}

/* Rates */

static bool same_currencies(const Property *a, const Property *b)
{
    Str one = property_value(a, 1)->u.word, per = property_value(a, 2)->u.word;
    Str other = property_value(b, 1)->u.word, each = property_value(b, 2)->u.word;
    return (str_equal(one, other) && str_equal(per, each)) || (str_equal(one, each) && str_equal(per, other));
}

static bool is_whole(const Property *rate)
{
    return !(rate->flags & PROPERTY_BROKEN) && property_value(rate, 1)->kind == VALUE_WORD &&
           property_value(rate, 2)->kind == VALUE_WORD;
}

/* Two rates for the same two currencies, either way round: sums would go by the first alone. */
static void check_rates(Model *model, const Entity *boat)
{
    for (const Property *p = entity_property(boat, PROP_BOAT_RATE); p != NULL; p = block_next(&boat->block, p)) {
        const Property *first = entity_property(boat, PROP_BOAT_RATE);
        while (first != p && !(is_whole(first) && is_whole(p) && same_currencies(first, p))) {
            first = block_next(&boat->block, first);
        }
        if (first == p) {
            continue;
        }
        Str one = property_value(p, 1)->u.word, per = property_value(p, 2)->u.word;
        Message *m = message_report(model->messages, MESSAGE_PROPERTY_TWICE, property_span(model, p),
                                    "the rate between `%.*s` and `%.*s` is stated twice", STR_ARG(one), STR_ARG(per));
        message_note(model->messages, m, property_span(model, first), "here first");
        message_right(model->messages, m, "one of the two lines");
    }
}

/* Hours */

/* How long a line says that something runs, at least, in s: hours, from when to when, or a share of the day. */
static double least_seconds(const Property *line, unsigned slot)
{
    const Value *value = property_value(line, slot);
    if (value->kind == VALUE_CLOCK) {
        return clock_seconds(value);
    }
    if (value->kind != VALUE_QUANTITY || line->flags & PROPERTY_BROKEN) {
        return 0.0;
    }
    return unit_tag(value->unit) == TAG_RATIO ? value->u.quantity.low * SECONDS_A_DAY : value->u.quantity.low;
}

/* The same of all lines together, whatever their days. */
static double least_seconds_in_all(const Entity *entity, PropId id, unsigned slot)
{
    double sum = 0.0;
    for (const Property *line = entity_property(entity, id); line != NULL; line = block_next(&entity->block, line)) {
        sum += least_seconds(line, slot);
    }
    return sum;
}

/* Lines that state hours, of one day where they name it: together no more than it has. */
static void check_hours(Model *model, const Entity *entity, PropId id, unsigned slot)
{
    if (least_seconds_in_all(entity, id, slot) <= SECONDS_A_DAY) {
        return;
    }
    for (const Property *line = entity_property(entity, id); line != NULL; line = block_next(&entity->block, line)) {
        const Entity *day = slot > 0 ? property_value(line, 0)->u.entity : NULL;
        if (slot > 0 && day == NULL) {
            continue; /* which day is meant is a mistake, and told */
        }
        double sum = 0.0;
        const Property *first = NULL, *p = entity_property(entity, id);
        for (;; p = block_next(&entity->block, p)) {
            if (slot == 0 || property_value(p, 0)->u.entity == day) {
                first = first == NULL ? p : first;
                sum += least_seconds(p, slot);
            }
            if (p == line) {
                break;
            }
        }
        if (first == line || sum <= SECONDS_A_DAY * (1.0 + 1e-9) || sum - least_seconds(line, slot) > SECONDS_A_DAY * (1.0 + 1e-9)) {
            continue; /* told at the line that fills the day */
        }
        Buf hours;
        buf_init(&hours, model->arena);
        num_write(&hours, sum / 3600.0, 4);
        Message *m = message_report(model->messages, MESSAGE_OUT_OF_RANGE, property_span(model, line),
                                    "the lines `%s` of `%.*s` are more than a day together: %s h", props[id].word,
                                    STR_ARG(entity_name(model, entity)), hours.text);
        message_note(model->messages, m, property_span(model, first), "the first of them");
        message_right(model->messages, m, "no more than 24 h in all");
    }
}

static void check_day(Model *model, const Entity *day)
{
    static const PropId lines[] = {PROP_DAY_ENGINE, PROP_DAY_SHORE, PROP_DAY_GENERATOR};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        check_hours(model, day, lines[i], 0);
    }
}

/* What only one that an engine drives has. */
static const Property *of_an_engine(const Entity *alternator)
{
    static const PropId of_engine[] = {PROP_ALTERNATOR_ENGINE, PROP_ALTERNATOR_BUILT_IN, PROP_ALTERNATOR_PULLEY_RATIO,
                                       PROP_ALTERNATOR_BELTS,  PROP_ALTERNATOR_CURVE,    PROP_ALTERNATOR_EFFICIENCY,
                                       PROP_ALTERNATOR_HOT_OUTPUT};
    for (size_t i = 0; i < sizeof of_engine / sizeof of_engine[0]; i++) {
        const Property *line = entity_property(alternator, of_engine[i]);
        if (line != NULL && !(line->flags & PROPERTY_BROKEN)) {
            return line;
        }
    }
    return NULL;
}

/* Wind or water drives it, or an engine does: what only the other has would be counted nowhere. */
static void check_driven(Model *model, const Entity *alternator)
{
    const Property *driven = entity_property(alternator, PROP_ALTERNATOR_DRIVEN_BY);
    const Property *gives = entity_property(alternator, PROP_ALTERNATOR_GIVES);
    const Property *line = driven != NULL ? of_an_engine(alternator) : gives;
    if (line == NULL || line->flags & PROPERTY_BROKEN || (driven != NULL && driven->flags & PROPERTY_BROKEN)) {
        return;
    }
    Str name = entity_name(model, alternator);
    Message *m = message_report(model->messages, MESSAGE_SHAPE_OTHER, property_span(model, line),
                                driven != NULL ? "`%.*s` is driven by wind or water, and `%s` is of one that an engine drives"
                                               : "`%.*s` is driven by an engine, and `%s` is of one that wind or water drives",
                                STR_ARG(name), props[line->id].word);
    if (driven != NULL) {
        message_note(model->messages, m, property_span(model, driven), "this drives it");
        message_right(model->messages, m, "one of the two lines");
    } else {
        message_right(model->messages, m, "no `gives`: it follows from the hours of the `engine` in a `day`; or `driven-by wind`");
    }
}

/* What is ashore is neither placed nor carried aboard: one of both lines would count for nothing. */
static void check_ashore(Model *model, const Entity *item)
{
    static const PropId aboard[] = {PROP_COMMON_AT, PROP_COMMON_SPACE, PROP_ITEM_CARRIED};
    for (size_t i = 0; i < sizeof aboard / sizeof aboard[0] && is_ashore(item); i++) {
        const Property *line = entity_property(item, aboard[i]);
        if (line == NULL || line->flags & PROPERTY_BROKEN) {
            continue;
        }
        Message *m = message_report(model->messages, MESSAGE_SHAPE_OTHER, property_span(model, line),
                                    "`%.*s` is ashore, and `%s` is of what is aboard", STR_ARG(entity_name(model, item)), props[aboard[i]].word);
        message_note(model->messages, m, property_span(model, entity_property(item, PROP_ITEM_ASHORE)), "it says so here");
        message_right(model->messages, m, "one of the two lines");
        return;
    }
}

void agree_check(Model *model)
{
    if (model->boat != NULL) {
        check_rates(model, model->boat);
    }
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *entity = model->entities[i];
        if (entity->flags & ENTITY_BROKEN) {
            continue;
        }
        if (series_of(entity) != PROP_NONE) {
            check_layout(model, entity);
        } else if (entity->kind == KIND_TANK) {
            tank_check_shape(model, entity);
            check_tank(model, entity);
        } else if (entity->kind == KIND_DAY) {
            check_day(model, entity);
        } else if (entity->kind == KIND_ALTERNATOR) {
            check_driven(model, entity);
        } else if (entity->kind == KIND_ENGINE) {
            agree_check_engine(model, entity);
        } else if (entity->kind == KIND_ITEM) {
            check_ashore(model, entity);
        }
        if (entity_states(entity, prop_of_use(entity))) {
            check_hours(model, entity, prop_of_use(entity), 1);
        }
    }
}

/* What is never used */

/* What the whole text tells, found in one pass over it for all models of a spec. */
struct Uses {
    bool *used;         /* by symbol: named as a part, or behind a property's own word */
    NodeId *candidates; /* the statements that declare a part or a space */
    uint32_t count;
    Symbol space;       /* the word of the kind */
    const Unused *parts, *spaces; /* those of them that nothing uses */
};

/* The words among terms: names of things, and words of the language, which do no harm here. */
static void note_terms(const Tree *tree, Uses *uses, NodeId from, NodeId end)
{
    for (NodeId id = from; id < end; id++) {
        const Node *term = tree_node(tree, id);
        if (term->kind == NODE_WORD) {
            uses->used[term->u.symbol] = true;
        }
    }
}

static void note_candidate(Arena *arena, Uses *uses, NodeId id)
{
    if ((uses->count & (uses->count + 1)) == 0) { /* 0, 1, 3, 7 ...: room for as many again and one */
        uses->candidates = arena_grow(arena, uses->candidates, uses->count * sizeof(NodeId),
                                      (uses->count * 2 + 1) * sizeof(NodeId));
    }
    uses->candidates[uses->count++] = id;
}

/* A thing's `is PART`, and a space that it declares. */
static void note_thing(const Tree *tree, Arena *arena, Uses *uses, NodeId id)
{
    NodeId part = tree_node(tree, id)->terms >= 4 ? tree_header(tree, id).part : 0;
    if (part != 0) {
        note_terms(tree, uses, part, part + 1);
    }
    if (tree_node(tree, id + 1)->u.symbol == uses->space) {
        note_candidate(arena, uses, id);
    }
}

/* Everything that is declared with that statement, and not used. */
static const Unused *list_unused(const Model *model, const Uses *uses, NodeKind statement)
{
    const Tree *tree = model->tree;
    Unused *first = NULL;
    Unused **end = &first;
    for (uint32_t i = 0; i < uses->count; i++) {
        NodeId id = uses->candidates[i];
        if (tree_kind(tree, id) != statement || tree_node(tree, id)->flags & NODE_BAD) {
            continue;
        }
        Header header = tree_header(tree, id);
        if (header.name == 0 || uses->used[tree_node(tree, header.name)->u.symbol]) {
            continue;
        }
        *end = ARENA_NEW(model->arena, Unused);
        **end = (Unused){.node = id, .name = tree_text(tree, header.name), .at = tree_span(tree, header.name)};
        end = &(*end)->next;
    }
    return first;
}

/* Marks the names that a block uses, and those that the blocks in it do. */
static void mark_named(const Block *block, bool *used)
{
    for (uint32_t i = 0; i < block->count; i++) {
        const Property *p = &block->properties[i];
        for (uint16_t v = 0; v < p->count && p->flags & PROPERTY_NAMES; v++) {
            const Entity *thing = value_entity(&p->values[v]);
            if (thing != NULL) {
                used[thing->name] = true;
            } else if (p->values[v].kind == VALUE_BLOCK) {
                mark_named(p->values[v].u.block, used);
            }
        }
    }
}

/* Whether an outermost statement that is no thing declares nothing, or a part that is used. */
static bool leaves_nothing_unused(const Tree *tree, NodeId id, const bool *used)
{
    const Node *node = tree_node(tree, id);
    switch ((NodeKind)node->kind) {
    case NODE_EDITION:
    case NODE_INCLUDE:
    case NODE_WAIVE:
        return true;
    case NODE_PART:
        return !(node->flags & NODE_BAD) && used[tree_node(tree, id + 2)->u.symbol];
    default:
        return false; /* a choice, or a mistake: there may be more in it than in the model */
    }
}

/* Whether the model shows that nothing is unused, as most do: its text need not be searched then. */
static bool all_are_used(const Model *model)
{
    const Checker *checker = model->checker;
    if (checker->orphan_count > 0) {
        return false;
    }
    bool *used = ARENA_ARRAY(model->arena, bool, model->symbol_count);
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *entity = model->entities[i];
        mark_named(&entity->block, used);
        if (entity->part != 0) {
            used[tree_node(model->tree, entity->part + 2)->u.symbol] = true;
        }
    }
    for (const Entity *space = model->first_of_kind[KIND_SPACE]; space != NULL; space = space->next_of_kind) {
        if (!used[space->name]) {
            return false;
        }
    }
    Walk walk = walk_others(checker->spec);
    for (NodeId id = walk_next(&walk); id != 0; id = walk_next(&walk)) {
        if (!leaves_nothing_unused(model->tree, id, used)) {
            return false;
        }
    }
    return true;
}

/* Whether the command line sets another value in place of a thing's own line. */
static bool is_set_over(const Model *model, NodeId line)
{
    const Tree *tree = model->tree;
    for (uint32_t i = 0; i < model->checker->spec->set_count; i++) {
        SetHeader set = tree_set_header(tree, model->checker->spec->sets[i]);
        Symbol name = tree_node(tree, set.name)->u.symbol;
        const Entity *thing = set.outer == 0 && name < model->symbol_count ? model->by_symbol[name] : NULL;
        bool same = thing != NULL && tree_node(tree, line + 1)->u.symbol == tree_node(tree, set.word)->u.symbol;
        for (NodeId id = same ? walk_block(tree, thing->node, 0) : 0; id != 0; id = walk_block(tree, thing->node, id)) {
            if (id == line) {
                return true;
            }
        }
    }
    return false;
}

/* The same from the whole text, with what no model takes; without what is set over. */
static void search_text(const Model *model, Uses *uses)
{
    const Tree *tree = model->tree;
    uses->used = ARENA_ARRAY(model->arena, bool, symbols_end(tree->symbols));
    uses->space = symbols_find(tree->symbols, str_from(kinds[KIND_SPACE].word));
    for (NodeId id = 1, next; id < tree->count; id = next) {
        const Node *statement = tree_node(tree, id);
        next = id + 1 + statement->terms;
        switch ((NodeKind)statement->kind) {
        case NODE_PROPERTY:
            if (!is_set_over(model, id)) {
                note_terms(tree, uses, id + 2, next); /* behind its own word */
            }
            break;
        case NODE_SET:
            note_terms(tree, uses, tree_set_header(tree, id).value, next);
            break;
        case NODE_THING:
            note_thing(tree, model->arena, uses, id);
            break;
        case NODE_PART:
            note_candidate(model->arena, uses, id);
            break;
        default:
            break;
        }
    }
    uses->parts = list_unused(model, uses, NODE_PART);
    uses->spaces = list_unused(model, uses, NODE_THING);
}

static const Uses *uses_of(const Model *model)
{
    Spec *spec = model->checker->spec;
    if (spec->uses == NULL) {
        Uses *uses = ARENA_NEW(model->arena, Uses);
        if (!all_are_used(model)) {
            search_text(model, uses);
        }
        spec->uses = uses;
    }
    return spec->uses;
}

const Unused *unused_parts(const Model *model)
{
    return uses_of(model)->parts;
}

const Unused *unused_spaces(const Model *model)
{
    return uses_of(model)->spaces;
}

bool states_edition(const Model *model, Span *first)
{
    const Spec *spec = model->checker->spec;
    for (uint32_t i = 0; i < spec->others.count; i++) {
        if (tree_kind(model->tree, spec->others.statements[i]) == NODE_EDITION) {
            return true; /* one that stands in a wrong place is a mistake, and told */
        }
    }
    if (spec->outermost.count == 0) {
        return true;
    }
    *first = tree_span(model->tree, spec->outermost.statements[0] + 1);
    return false;
}
