/*
 * The two specs to be compared: their options, the models that it takes to see what stands in each option,
 * and their things with the properties that hold whichever option is taken.
 *
 * Knows models; pairs nothing and compares nothing.
 */
#include "tools/diff_parts.h"

#include "model/walk.h"

#include <string.h>

const Symbols *side_symbols(const DiffSide *side)
{
    return side->outcome->spec->symbols;
}

DiffOption *side_option_of(const DiffSide *side, NodeId node)
{
    if (side->option_of == NULL || node >= side->node_count || side->option_of[node] == 0) {
        return NULL;
    }
    return &side->options[side->option_of[node] - 1];
}

const char *option_path(Arena *arena, const DiffSide *side, const DiffOption *option)
{
    if (option == NULL) {
        return NULL;
    }
    const Symbols *symbols = side_symbols(side);
    return text_format(arena, "%.*s=%.*s", STR_ARG(symbols_text(symbols, option->choice->name)),
                       STR_ARG(symbols_text(symbols, option->choice->options[option->index].name)));
}

const char *thing_name(Arena *arena, const DiffThing *thing)
{
    return str_copy(arena, entity_name(thing->model, thing->entity));
}

/* Options */

static void note_statements(DiffSide *side, uint32_t number)
{
    const Tree *tree = &side->outcome->spec->tree;
    NodeId option = side->options[number].node;
    side->option_of[option] = number + 1;
    for (NodeId id = walk_block(tree, option, 0); id != 0; id = walk_block(tree, option, id)) {
        side->option_of[id] = number + 1;
    }
}

static void list_options(Arena *arena, DiffSide *side)
{
    const Spec *spec = side->outcome->spec;
    for (uint32_t c = 0; c < spec->choice_count; c++) {
        side->option_count += spec->choices[c].option_count;
    }
    if (side->option_count == 0) {
        return;
    }
    side->options = ARENA_ARRAY(arena, DiffOption, side->option_count);
    side->node_count = spec->tree.count;
    side->option_of = ARENA_ARRAY(arena, uint32_t, side->node_count);
    uint32_t number = 0;
    for (uint32_t c = 0; c < spec->choice_count; c++) {
        const Choice *choice = &spec->choices[c];
        for (uint32_t o = 0; o < choice->option_count; o++) {
            side->options[number] = (DiffOption){.choice = choice,
                                                 .index = o,
                                                 .node = choice->options[o].node,
                                                 .picked = choice->picked == (int32_t)o,
                                                 .open = choice->picked < 0};
            note_statements(side, number++);
        }
    }
}

/* The option of the same name, of the choice of the same name. */
static DiffOption *find_option(DiffSide *side, Str choice, Str option)
{
    const Symbols *symbols = side_symbols(side);
    Symbol choice_symbol = symbols_find(symbols, choice);
    Symbol symbol = symbols_find(symbols, option);
    for (uint32_t i = 0; i < side->option_count && choice_symbol != 0 && symbol != 0; i++) {
        DiffOption *candidate = &side->options[i];
        if (candidate->choice->name == choice_symbol &&
            candidate->choice->options[candidate->index].name == symbol) {
            return candidate;
        }
    }
    return NULL;
}

static void pair_options(Diff *diff)
{
    const Symbols *symbols = side_symbols(&diff->after);
    for (uint32_t i = 0; i < diff->after.option_count; i++) {
        DiffOption *option = &diff->after.options[i];
        DiffOption *partner = find_option(&diff->before, symbols_text(symbols, option->choice->name),
                                          symbols_text(symbols, option->choice->options[option->index].name));
        if (partner != NULL && partner->partner == NULL) {
            option->partner = partner;
            partner->partner = option;
        }
    }
}

/* Models */

static void add_model(Arena *arena, DiffSide *side, const Model *model)
{
    uint32_t count = side->model_count;
    if ((count & (count - 1)) == 0) {
        side->models = arena_grow(arena, side->models, count * sizeof(Model *),
                                  (count == 0 ? 1 : count * 2) * sizeof(Model *));
    }
    side->models[side->model_count++] = model;
}

/* Takes, of each choice whose options no case tries, one that was not taken yet; false if there is none. */
static bool pick_others(Spec *spec, const int32_t *picked, bool sampled, uint32_t round)
{
    bool any = false;
    for (uint32_t c = 0; c < spec->choice_count; c++) {
        Choice *choice = &spec->choices[c];
        uint32_t other = picked[c] >= 0 && round >= (uint32_t)picked[c] ? round + 1 : round;
        bool wanted = (picked[c] >= 0 || sampled || choice->excluded > 0) && other < choice->option_count;
        choice->picked = wanted ? (int32_t)other : picked[c];
        any |= wanted;
    }
    return any;
}

/*
 * Builds models for the options that the boat does not take, so that they can be compared by value too. Their
 * mistakes were told when the spec was checked.
 */
static void add_other_models(Diff *diff, DiffSide *side)
{
    Spec *spec = side->outcome->spec;
    int32_t *picked = ARENA_ARRAY(diff->arena, int32_t, spec->choice_count);
    for (uint32_t c = 0; c < spec->choice_count; c++) {
        picked[c] = spec->choices[c].picked;
    }
    MessagesMark mark = messages_mark(&spec->messages);
    for (uint32_t round = 0; pick_others(spec, picked, side->outcome->sampled, round); round++) {
        add_model(diff->arena, side, model_build(spec, side->outcome->arena, spec_combination(spec, diff->arena, 0)));
    }
    for (uint32_t c = 0; c < spec->choice_count; c++) {
        spec->choices[c].picked = picked[c];
    }
    messages_rewind(&spec->messages, mark);
}

static void list_models(Diff *diff, DiffSide *side)
{
    for (uint32_t c = 0; c < side->outcome->case_count; c++) {
        add_model(diff->arena, side, side->outcome->cases[c].model);
    }
    if (side->option_count > 0) {
        add_other_models(diff, side);
    }
    for (uint32_t i = 0; i < side->option_count; i++) {
        DiffOption *option = &side->options[i];
        size_t choice = (size_t)(option->choice - side->outcome->spec->choices);
        for (uint32_t m = 0; m < side->model_count && option->model == NULL; m++) {
            if (side->models[m]->choices[choice].chosen == (int32_t)option->index) {
                option->model = side->models[m];
            }
        }
    }
}

/* The properties that hold whichever option is taken */

/* The option that sets a property and is not the boat's own; NULL: the property holds. */
static const DiffOption *setting_option(const DiffSide *side, const Property *property)
{
    const DiffOption *option =
        property->flags & PROPERTY_FROM_SET ? side_option_of(side, property->node) : NULL;
    return option != NULL && !option->picked ? option : NULL;
}

/* The same thing in another model: what stands outside of options has the same number in each. */
static const Entity *in_model(const Model *model, const Entity *entity)
{
    const Entity *same = entity->index < model->entity_count ? model->entities[entity->index] : NULL;
    return same != NULL && same->node == entity->node ? same : NULL;
}

static bool any_by_option(const DiffSide *side, const Block *block)
{
    for (uint32_t i = 0; i < block->count; i++) {
        if (setting_option(side, &block->properties[i]) != NULL) {
            return true;
        }
    }
    return false;
}

typedef struct Merging {
    Arena *arena;
    const DiffSide *side;
    Property *list;
    uint32_t count, capacity;
} Merging;

static void merge_add(Merging *merging, Property property)
{
    if (merging->count == merging->capacity) {
        uint32_t capacity = merging->capacity * 2 + 8;
        merging->list = arena_grow(merging->arena, merging->list, merging->capacity * sizeof(Property),
                                   capacity * sizeof(Property));
        merging->capacity = capacity;
    }
    merging->list[merging->count++] = property;
}

static bool merge_has(const Merging *merging, uint32_t end, uint16_t id)
{
    for (uint32_t i = 0; i < end; i++) {
        if (merging->list[i].id == id) {
            return true;
        }
    }
    return false;
}

/* What holds in this model and was not stated in those before. */
static void merge_block(Merging *merging, const Block *block)
{
    uint32_t before = merging->count;
    for (uint32_t i = 0; i < block->count; i++) {
        const Property *property = &block->properties[i];
        if (setting_option(merging->side, property) == NULL && !merge_has(merging, before, property->id)) {
            merge_add(merging, *property);
        }
    }
}

/* What only open options set: that it is left to them. */
static void merge_left_open(Merging *merging, const Block *block)
{
    for (uint32_t i = 0; i < block->count; i++) {
        const Property *property = &block->properties[i];
        const DiffOption *option = setting_option(merging->side, property);
        if (option != NULL && option->open && !merge_has(merging, merging->count, property->id)) {
            merge_add(merging, (Property){.id = property->id, .flags = PROPERTY_BY_OPTION});
        }
    }
}

static Block block_of(const Merging *merging)
{
    Block block = {.properties = merging->list, .count = merging->count};
    for (uint32_t i = 0; i < block.count; i++) {
        block.has |= (uint64_t)1 << (block.properties[i].id % 64);
    }
    return block;
}

/* Of what stands outside of options, over all models; of what stands in one, in that option's own. */
static Block merged_block(Arena *arena, const DiffSide *side, const Entity *entity)
{
    uint32_t count = entity->option == 0 ? side->model_count : 1;
    bool any = false;
    for (uint32_t m = 0; m < count && !any; m++) {
        const Entity *same = count == 1 ? entity : in_model(side->models[m], entity);
        any = same != NULL && any_by_option(side, &same->block);
    }
    if (!any) {
        return entity->block;
    }
    Merging merging = {.arena = arena, .side = side};
    for (int left_open = 0; left_open < 2; left_open++) {
        for (uint32_t m = 0; m < count; m++) {
            const Entity *same = count == 1 ? entity : in_model(side->models[m], entity);
            if (same != NULL && left_open) {
                merge_left_open(&merging, &same->block);
            } else if (same != NULL) {
                merge_block(&merging, &same->block);
            }
        }
    }
    return block_of(&merging);
}

/* Things */

static DiffThing *add_thing(Arena *arena, DiffSide *side, DiffThing thing)
{
    if (side->thing_count == side->thing_capacity) {
        uint32_t capacity = side->thing_capacity ? side->thing_capacity * 2 : 64;
        side->things = arena_grow(arena, side->things, side->thing_capacity * sizeof(DiffThing *),
                                  capacity * sizeof(DiffThing *));
        side->thing_capacity = capacity;
    }
    DiffThing *added = ARENA_NEW(arena, DiffThing);
    *added = thing;
    added->number = side->thing_count;
    side->things[side->thing_count++] = added;
    return added;
}

static void list_outside(Arena *arena, DiffSide *side)
{
    const Model *model = side->model_count > 0 ? side->models[0] : NULL;
    for (uint32_t i = 0; model != NULL && i < model->entity_count; i++) {
        const Entity *entity = model->entities[i];
        if (entity->option == 0) {
            add_thing(arena, side,
                      (DiffThing){.model = model,
                                  .entity = entity,
                                  .in_boat = true,
                                  .block = merged_block(arena, side, entity)});
        }
    }
}

static void list_inside(Arena *arena, DiffSide *side, DiffOption *option)
{
    for (uint32_t i = 0; i < option->model->entity_count; i++) {
        const Entity *entity = option->model->entities[i];
        if (entity->option == option->node) {
            add_thing(arena, side,
                      (DiffThing){.model = option->model,
                                  .entity = entity,
                                  .option = option,
                                  .in_boat = option->picked,
                                  .block = merged_block(arena, side, entity)});
        }
    }
}

static void add_setting(Arena *arena, DiffSide *side, DiffOption *option, uint32_t first,
                        const Entity *entity, const Property *property)
{
    DiffThing *thing = NULL;
    for (uint32_t i = first; i < side->thing_count && thing == NULL; i++) {
        thing = side->things[i]->set && side->things[i]->entity == entity ? side->things[i] : NULL;
    }
    if (thing == NULL) {
        thing =
            add_thing(arena, side,
                      (DiffThing){.model = option->model, .entity = entity, .option = option, .set = true});
    }
    Merging merging = {.arena = arena, .side = side};
    for (uint32_t i = 0; i < thing->block.count; i++) {
        merge_add(&merging, thing->block.properties[i]);
    }
    merge_add(&merging, *property);
    thing->block = block_of(&merging);
}

/* What an option sets that is not the boat's; of a picked one the things themselves show it. */
static void list_settings(Arena *arena, DiffSide *side, DiffOption *option)
{
    const Tree *tree = &side->outcome->spec->tree;
    uint32_t first = side->thing_count;
    for (NodeId id = walk_block(tree, option->node, 0); id != 0; id = walk_block(tree, option->node, id)) {
        if (tree_kind(tree, id) != NODE_SET || tree_node(tree, id)->terms < 4) {
            continue;
        }
        const Entity *entity = model_find(option->model, tree_text(tree, id + 2));
        for (uint32_t i = 0; entity != NULL && i < entity->block.count; i++) {
            if (entity->block.properties[i].node == id) {
                add_setting(arena, side, option, first, entity, &entity->block.properties[i]);
            }
        }
    }
}

static void list_things(Arena *arena, DiffSide *side)
{
    list_outside(arena, side);
    for (uint32_t i = 0; i < side->option_count; i++) {
        DiffOption *option = &side->options[i];
        if (option->model == NULL) {
            continue;
        }
        list_inside(arena, side, option);
        if (!option->picked) {
            list_settings(arena, side, option);
        }
    }
}

void diff_list_sides(Diff *diff)
{
    list_options(diff->arena, &diff->before);
    list_options(diff->arena, &diff->after);
    pair_options(diff);
    list_models(diff, &diff->before);
    list_models(diff, &diff->after);
    list_things(diff->arena, &diff->before);
    list_things(diff->arena, &diff->after);
}
