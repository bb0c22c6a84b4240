/*
 * Reading all properties of a model: the things (gather.c), what options and the command line set over them, waivers and
 * scores, and what no model takes, for its mistakes alone.
 */
#include "model/gather.h"
#include "model/match.h"
#include "model/walk.h"

#include "base/num.h"

#include <string.h>

/*
 * With choices open, many models are built of one spec. What stands outside of options is read once; later models take it
 * over, and only the names in it are looked up again, among their own things.
 */
struct ReadThing {
    Block block;
    Str title;
    NodeId part;
    uint8_t flags;
};

static Block with_own_names(Checker *checker, const Block *read);

/* Whether what has a name here can stand where another thing of that name does in the first model: of one kind, or of two that may. */
static bool may_stand_for(const Checker *checker, PropId prop, const Entity *named, const Entity *first)
{
    const Shape *shape = named->kind != first->kind ? shapes_get(checker->spec->shapes, prop) : NULL;
    for (uint8_t i = 0; shape != NULL && i < shape->item_count; i++) {
        const ShapeItem *item = &shape->items[i];
        for (uint8_t a = 0; item->kind == ITEM_ATOM && a < item->atom_count; a++) {
            const Atom *atom = &item->atoms[a];
            bool both = atom->kind == ATOM_REFERENCE && kind_set_has(atom->things, (KindId)named->kind) &&
                        kind_set_has(atom->things, (KindId)first->kind);
            if (both) {
                return true;
            }
        }
    }
    return shape == NULL;
}

static const Value *own_values(Checker *checker, const Property *property)
{
    Value *values = ARENA_ARRAY(checker->arena, Value, property->count);
    memcpy(values, property->values, property->count * sizeof(Value));
    for (uint16_t i = 0; i < property->count; i++) {
        Value *value = &values[i];
        if (value->kind == VALUE_BLOCK) {
            Block *block = ARENA_NEW(checker->arena, Block);
            *block = with_own_names(checker, value->u.block);
            value->u.block = block;
        } else if (value->kind == VALUE_REFERENCE && !(value->flags & VALUE_BROKEN)) {
            Entity *named = checker->model->by_symbol[tree_node(checker->tree, value->node)->u.symbol];
            bool stands = named != NULL && may_stand_for(checker, (PropId)property->id, named, value->u.entity);
            value->u.entity = stands ? named : NULL;
            value->flags |= stands ? 0 : VALUE_BROKEN;
        }
    }
    return values;
}

static Block with_own_names(Checker *checker, const Block *read)
{
    Block block = *read;
    Property *properties = NULL;
    for (uint32_t i = 0; i < read->count; i++) {
        if (!(read->properties[i].flags & PROPERTY_NAMES)) {
            continue;
        }
        if (properties == NULL) {
            properties = ARENA_ARRAY(checker->arena, Property, read->count);
            memcpy(properties, read->properties, read->count * sizeof(Property));
            block.properties = properties;
        }
        properties[i].values = own_values(checker, &read->properties[i]);
        properties[i].flags &= (uint8_t)~PROPERTY_WRONG; /* it is marked again, by this model */
    }
    return block;
}

static void take_over(Checker *checker, Entity *entity, const ReadThing *read)
{
    entity->block = with_own_names(checker, &read->block);
    entity->title = read->title;
    entity->part = read->part;
    entity->flags |= read->flags;
}

/* Things outside of options come first, in the same order in every model. */
static void read_things(Checker *checker)
{
    Model *model = checker->model;
    Spec *spec = checker->spec;
    bool again = spec->read_things != NULL;
    if (!again && spec_combinations(spec, 1) > 1) {
        spec->read_things = ARENA_ARRAY(checker->arena, ReadThing, model->entity_count);
    }
    if (model->boat != NULL) {
        /* First, so that money can be turned to its currency. */
        thing_read(checker, model->boat);
        model->currency = entity_word(model->boat, PROP_BOAT_CURRENCY);
        checker->currency = symbols_find(spec->symbols, model->currency);
    }
    for (uint32_t i = 0; i < model->entity_count; i++) {
        Entity *entity = model->entities[i];
        if (again && entity->option == 0) {
            take_over(checker, entity, &spec->read_things[i]);
        } else if (entity != model->boat) {
            thing_read(checker, entity);
        }
    }
    for (uint32_t i = 0; i < model->entity_count && !again && spec->read_things != NULL; i++) {
        const Entity *entity = model->entities[i]; /* behind all, for one thing may tell of another */
        spec->read_things[i] = (ReadThing){entity->block, entity->title, entity->part, entity->flags};
    }
}

/* A `set NAME.PROPERTY value` of a chosen option: its statement, the thing and the property. */
typedef struct Setting {
    NodeId statement;
    NodeId value; /* its first term */
    Entity *entity;
    const Property *outer; /* the one that has the block in which the property stands; NULL: none */
    PropId id;
} Setting;

/* Whether a property with a block goes to the thing that is named, or nobody named one. */
static bool leads_to(const Checker *checker, const Property *outer, NodeId target)
{
    const Value *to = property_value(outer, 0);
    return target == 0 || (value_entity(to) != NULL &&
                           to->u.entity->name == tree_node(checker->tree, target)->u.symbol);
}

static void tell_no_block(Checker *checker, const SetHeader *set, const Entity *entity, bool several)
{
    Str name = entity_name(checker->model, entity), word = tree_text(checker->tree, set->outer);
    NodeId at = set->target != 0 && !several ? set->target : set->outer;
    Message *m;
    if (set->target != 0 && !several) {
        m = message_report(checker->messages, MESSAGE_UNKNOWN_PROPERTY, tree_span(checker->tree, at),
                           "`%.*s` has no `%.*s` to `%.*s`", STR_ARG(name), STR_ARG(word),
                           STR_ARG(tree_text(checker->tree, set->target)));
    } else {
        m = message_report(checker->messages, MESSAGE_UNKNOWN_PROPERTY, tree_span(checker->tree, at),
                           several ? "`%.*s` has more than one `%.*s`" : "`%.*s` has no `%.*s`", STR_ARG(name), STR_ARG(word));
    }
    message_right(checker->messages, m, "`%.*s.%.*s.NAME.%.*s`, with the name that it leads to", STR_ARG(name), STR_ARG(word),
                  STR_ARG(tree_text(checker->tree, set->word)));
}

/* `NAME.feeds.wire`: the one `feeds` that there is, or the one to the target; NULL after a message. */
static const Property *find_outer(Checker *checker, const SetHeader *set, const Entity *entity, PropId id)
{
    const Property *found = NULL;
    for (const Property *p = entity_property(entity, id); p != NULL; p = block_next(&entity->block, p)) {
        if (!leads_to(checker, p, set->target)) {
            continue;
        }
        if (found != NULL) {
            tell_no_block(checker, set, entity, true);
            return NULL;
        }
        found = p;
    }
    if (found == NULL) {
        tell_no_block(checker, set, entity, false);
        return NULL;
    }
    bool has_block = property_value(found, found->count > 0 ? found->count - 1u : 0)->kind == VALUE_BLOCK;
    return has_block ? found : NULL; /* broken: told where it stands */
}

static bool find_setting(Checker *checker, NodeId statement, const Entity *in_option, Setting *setting)
{
    if (tree_node(checker->tree, statement)->flags & NODE_BAD) {
        return false;
    }
    KindSet any = {{~(uint64_t)0, ~(uint64_t)0}};
    bool broken;
    SetHeader set = tree_set_header(checker->tree, statement);
    Entity *entity = names_resolve(checker, set.name, in_option, any, &broken);
    if (entity == NULL) {
        return false;
    }
    NodeId first = set.outer != 0 ? set.outer : set.word;
    PropId id = property_find(checker, (KindId)entity->kind, first);
    if (id == PROP_NONE || (set.outer != 0 && props[id].block == KIND_NONE)) {
        property_tell_unknown(checker, statement, id == PROP_NONE ? first : set.word, (KindId)entity->kind, entity);
        return false;
    }
    *setting = (Setting){.statement = statement, .value = set.value, .entity = entity, .id = id};
    if (set.outer == 0) {
        return true;
    }
    setting->id = property_find(checker, props[id].block, set.word);
    if (setting->id == PROP_NONE) {
        property_tell_unknown(checker, statement, set.word, props[id].block, NULL);
        return false;
    }
    setting->outer = find_outer(checker, &set, entity, id);
    return setting->outer != NULL;
}

/* A block with a property in place of all lines of its kind. */
static Block replaced(Checker *checker, const Block *block, Property property)
{
    Property *kept = ARENA_ARRAY(checker->arena, Property, block->count + 1);
    uint32_t count = 0;
    for (uint32_t i = 0; i < block->count; i++) {
        const Property *old = &block->properties[i];
        bool same_setting = old->flags & PROPERTY_FROM_SET && property.flags & PROPERTY_FROM_SET;
        if (old->id != property.id || (props[property.id].repeats && same_setting)) {
            kept[count++] = *old;
        }
    }
    kept[count++] = property;
    return block_of(kept, count);
}

/* Puts a property in place of all lines of its kind that the thing has, or the block that it stands in. */
static void replace_property(Checker *checker, const Setting *setting, Property property)
{
    Entity *entity = setting->entity;
    if (setting->outer == NULL) {
        entity->block = replaced(checker, &entity->block, property);
        return;
    }
    Property *copy = ARENA_ARRAY(checker->arena, Property, entity->block.count);
    memcpy(copy, entity->block.properties, entity->block.count * sizeof(Property));
    Property *outer = &copy[setting->outer - entity->block.properties];
    Value *values = ARENA_ARRAY(checker->arena, Value, outer->count);
    memcpy(values, outer->values, outer->count * sizeof(Value));
    Block *inner = ARENA_NEW(checker->arena, Block);
    *inner = replaced(checker, values[outer->count - 1].u.block, property);
    values[outer->count - 1].u.block = inner;
    outer->values = values;
    outer->flags &= (uint8_t)~PROPERTY_WRONG; /* it is marked again, by this model */
    entity->block.properties = copy;
}

static void tell_set_twice(Checker *checker, const Setting *now, const Setting *before)
{
    Message *m =
        message_report(checker->messages, MESSAGE_SET_TWICE, tree_span(checker->tree, tree_set_header(checker->tree, now->statement).word),
                       "two options that go together set `%.*s.%s`",
                       STR_ARG(entity_name(checker->model, now->entity)), props[now->id].word);
    message_note(checker->messages, m, tree_span(checker->tree, tree_set_header(checker->tree, before->statement).word), "the other");
    message_right(checker->messages, m, "one of them, or one choice for both");
}

/* Whether two settings are of the same block: what it leads to tells. */
static bool leads_alike(const Property *one, const Property *other)
{
    return one == other ||
           (one != NULL && other != NULL && property_value(one, 0)->u.entity == property_value(other, 0)->u.entity);
}

static void apply_settings(Checker *checker)
{
    Setting *done = NULL;
    NodeId *owners = NULL;
    uint32_t count = 0;
    for (uint32_t i = 0; i < checker->model->choice_count; i++) {
        const Choice *choice = &checker->model->choices[i];
        if (choice->chosen < 0) {
            continue;
        }
        NodeId option = choice->options[choice->chosen].node;
        Entity in_option = {.option = option};
        for (NodeId id = walk_block(checker->tree, option, 0); id != 0;
             id = walk_block(checker->tree, option, id)) {
            Setting setting;
            if (tree_kind(checker->tree, id) != NODE_SET ||
                !find_setting(checker, id, &in_option, &setting)) {
                continue;
            }
            bool clash = false;
            for (uint32_t j = 0; j < count && !clash; j++) {
                bool same = done[j].entity == setting.entity && done[j].id == setting.id &&
                            leads_alike(done[j].outer, setting.outer);
                if (same && (owners[j] != option || !props[setting.id].repeats)) {
                    tell_set_twice(checker, &setting, &done[j]);
                    clash = true;
                }
            }
            if (clash) {
                continue;
            }
            if ((count & (count - 1)) == 0) { /* the lists double */
                uint32_t room = count == 0 ? 1 : count * 2;
                done = arena_grow(checker->arena, done, count * sizeof(Setting), room * sizeof(Setting));
                owners = arena_grow(checker->arena, owners, count * sizeof(NodeId), room * sizeof(NodeId));
            }
            done[count] = setting;
            owners[count++] = option;
            Property property = property_read(checker, id, setting.value, setting.id, &in_option);
            property.flags |= PROPERTY_FROM_SET;
            replace_property(checker, &setting, property);
        }
    }
}

/* The thing that an option of an open choice brings to this model; *elsewhere if it is one of other options alone. */
static const Entity *brought_here(Checker *checker, NodeId term, bool *elsewhere)
{
    const Choice *choice = name_brought_by(checker, term);
    bool optional = choice != NULL && choice_is_open(choice);
    const Entity *thing = optional ? checker->model->by_symbol[tree_node(checker->tree, term)->u.symbol] : NULL;
    *elsewhere = optional && thing == NULL;
    return thing;
}

/* What the command line sets, after everything else: where only some of the open options bring the thing, with these. */
static void apply_command_sets(Checker *checker)
{
    for (uint32_t i = 0; i < checker->spec->set_count; i++) {
        NodeId statement = checker->spec->sets[i];
        bool elsewhere;
        const Entity *optional = brought_here(checker, statement + 2, &elsewhere);
        Entity in_option = {.option = optional != NULL ? optional->option : 0};
        Setting setting;
        if (!elsewhere && find_setting(checker, statement, &in_option, &setting)) {
            Property property = property_read(checker, statement, setting.value, setting.id, &in_option);
            property.flags |= PROPERTY_FROM_SET;
            replace_property(checker, &setting, property);
        }
    }
}

static bool is_blank(Str text)
{
    size_t i = 0;
    while (i < text.length && (text.text[i] == ' ' || text.text[i] == '\t')) {
        i++;
    }
    return i == text.length;
}

static void read_waiver(Checker *checker, NodeId id)
{
    Model *model = checker->model;
    const Tree *tree = checker->tree;
    Waiver *waiver = &model->waivers[model->waiver_count];
    *waiver = (Waiver){.node = id,
                       .rule = tree_text(tree, id + 2),
                       .rule_at = tree_span(tree, id + 2),
                       .subject = tree_node(tree, id + 4)->u.symbol,
                       .subject_at = tree_span(tree, id + 4)};
    uint16_t term = 4;
    if (tree_kind(tree, id + 1 + term) == NODE_WORD && str_is(tree_text(tree, id + 1 + term), "until")) {
        waiver->has_until = date_read(tree_text(tree, id + 2 + term), &waiver->until);
        term = (uint16_t)(term + 2);
    }
    term++; /* because */
    NodeId reason = id + 1 + term;
    waiver->because = tree_joined_text(tree, id, &term);
    if (is_blank(waiver->because)) {
        Message *m = message_report(checker->messages, MESSAGE_TERM_MISSING, tree_span(tree, reason),
                                    "what is set aside needs its reason, and this says nothing");
        message_right(checker->messages, m, "`because \"why\"`, in words that somebody else understands");
    } else {
        model->waiver_count++; /* without a reason it sets nothing aside */
    }
    bool broken;
    KindSet any = {{~(uint64_t)0, ~(uint64_t)0}};
    if (name_brought_by(checker, id + 4) == NULL) {
        names_resolve(checker, id + 4, NULL, any, &broken);
    }
}

static void read_waivers(Checker *checker)
{
    uint32_t count = 0;
    Walk counting = walk_others(checker->spec);
    for (NodeId id = walk_next(&counting); id != 0; id = walk_next(&counting)) {
        count += tree_kind(checker->tree, id) == NODE_WAIVE;
    }
    checker->model->waivers = ARENA_ARRAY(checker->arena, Waiver, count);
    Walk walk = walk_others(checker->spec);
    for (NodeId id = walk_next(&walk); id != 0; id = walk_next(&walk)) {
        if (tree_kind(checker->tree, id) == NODE_WAIVE && !(tree_node(checker->tree, id)->flags & NODE_BAD)) {
            read_waiver(checker, id);
        }
    }
}

/* The score of that option by that criterion so far; NULL if there is none. */
static const Score *scored_before(const Model *model, const Score *score)
{
    for (uint32_t i = 0; i < model->score_count; i++) {
        const Score *other = &model->scores[i];
        if (other->choice == score->choice && other->option == score->option && other->criterion == score->criterion) {
            return other;
        }
    }
    return NULL;
}

static void tell_scored_twice(Checker *checker, const Score *again, const Score *first)
{
    Message *m = message_report(checker->messages, MESSAGE_PROPERTY_TWICE, tree_span(checker->tree, again->node + 2),
                                "this option is scored twice by `%.*s`", STR_ARG(tree_text(checker->tree, again->node + 2)));
    message_note(checker->messages, m, tree_span(checker->tree, first->node + 2), "here first");
    message_right(checker->messages, m, "one of the two lines");
}

static void add_score(Checker *checker, const Choice *choice, uint32_t option, NodeId id)
{
    Model *model = checker->model;
    KindSet criteria = {{0, 0}};
    criteria.bits[KIND_CRITERION / 64] |= (uint64_t)1 << (KIND_CRITERION % 64);
    bool broken;
    names_resolve(checker, id + 2, NULL, criteria, &broken);
    Score score = {.node = id,
                   .choice = choice,
                   .option = option,
                   .criterion = tree_node(checker->tree, id + 2)->u.symbol};
    if (broken || !num_read(tree_text(checker->tree, id + 3), &score.points) ||
        !num_read(tree_text(checker->tree, id + 5), &score.of)) {
        return;
    }
    if (score.points < 0.0 || score.of <= 0.0 || score.points > score.of) {
        Message *m = message_report(checker->messages, MESSAGE_OUT_OF_RANGE, tree_span(checker->tree, id + 3),
                                    "a score lies between 0 and the most that can be had");
        message_right(checker->messages, m, "`score mend 4 of 5`, for example");
        return;
    }
    const Score *first = scored_before(model, &score);
    if (first != NULL) {
        tell_scored_twice(checker, &score, first);
        return;
    }
    uint32_t count = model->score_count;
    if ((count & (count - 1)) == 0) { /* the list doubles */
        model->scores = arena_grow(checker->arena, model->scores, count * sizeof(Score),
                                   (count == 0 ? 1 : count * 2) * sizeof(Score));
    }
    model->scores[model->score_count++] = score;
}

static void read_scores(Checker *checker)
{
    for (uint32_t i = 0; i < checker->model->choice_count; i++) {
        const Choice *choice = &checker->model->choices[i];
        for (uint32_t o = 0; o < choice->option_count; o++) {
            NodeId option = choice->options[o].node;
            for (NodeId id = walk_block(checker->tree, option, 0); id != 0;
                 id = walk_block(checker->tree, option, id)) {
                if (tree_kind(checker->tree, id) == NODE_SCORE &&
                    !(tree_node(checker->tree, id)->flags & NODE_BAD)) {
                    add_score(checker, choice, o, id);
                }
            }
        }
    }
}

/* Parts that nothing uses are read all the same, so that their mistakes show. */
static void read_unused_parts(Checker *checker)
{
    for (Symbol s = 1; s < checker->model->symbol_count; s++) {
        if (checker->parts[s] != 0 && checker->part_blocks[s] == NULL) {
            Header header = tree_header(checker->tree, checker->parts[s]);
            KindId kind = part_kind(checker, &header);
            if (kind != KIND_NONE) {
                checker->part_blocks[s] = block_read(checker, checker->parts[s], kind, NULL);
            }
        }
    }
}

/* Things that the model cannot hold: for their mistakes. */
static void read_orphans(Checker *checker)
{
    for (uint32_t i = 0; i < checker->orphan_count; i++) {
        const Orphan *orphan = &checker->orphans[i];
        Entity nobody = {.kind = (uint8_t)orphan->kind, .option = orphan->option, .node = orphan->statement};
        block_read(checker, orphan->statement, orphan->kind, &nobody);
    }
}

static void read_spare_settings(Checker *checker)
{
    for (uint32_t i = 0; i < checker->model->choice_count; i++) {
        const Choice *choice = &checker->model->choices[i];
        for (uint32_t o = 0; o < choice->option_count; o++) {
            NodeId option = choice->options[o].node;
            Entity in_option = {.option = option};
            for (NodeId id = walk_block(checker->tree, option, 0); id != 0 && !choice_takes(choice, option);
                 id = walk_block(checker->tree, option, id)) {
                Setting setting;
                if (tree_kind(checker->tree, id) == NODE_SET &&
                    find_setting(checker, id, &in_option, &setting)) {
                    property_read(checker, id, setting.value, setting.id, &in_option);
                }
            }
        }
    }
}

/* What a thing is for says where it belongs, where that is not where most of its kind do. */
static const struct {
    KindId kind;
    PropId prop;
    const char *word; /* NULL: any */
    System system;
} usual_systems[] = {
    {KIND_TANK, PROP_TANK_HOLDS, "fuel", SYSTEM_DRIVE},    /* to the engine */
    {KIND_HOSE, PROP_HOSE_GRADE, "gas", SYSTEM_CLIMATE},
    {KIND_ITEM, PROP_ITEM_CARRIED, NULL, SYSTEM_SAFETY}, /* what is carried to save lives */
};

static void read_system(Entity *entity)
{
    Str word = entity_word(entity, PROP_COMMON_SYSTEM);
    for (size_t i = 0; i < sizeof usual_systems / sizeof usual_systems[0] && word.length == 0; i++) {
        Str says = entity->kind == usual_systems[i].kind ? entity_word(entity, usual_systems[i].prop) : STR("");
        if (says.length > 0 && (usual_systems[i].word == NULL || str_is(says, usual_systems[i].word))) {
            entity->system = (uint8_t)usual_systems[i].system;
        }
    }
    if (word.length > 0) {
        entity->system = (uint8_t)system_find(word);
    }
    if (str_is(entity_word(entity, PROP_COMMON_STATUS), "dropped")) {
        entity->flags |= ENTITY_DROPPED;
    }
}

void check_properties(Checker *checker)
{
    Model *model = checker->model;
    read_things(checker);
    apply_settings(checker);
    apply_command_sets(checker);
    for (uint32_t i = 0; i < model->entity_count; i++) {
        read_system(model->entities[i]);
        thing_tell_missing(checker, model->entities[i]);
    }
    read_orphans(checker);
    left_out_read(checker);
    if (checker->spec->first_checker == NULL) {
        read_unused_parts(checker);
        read_spare_settings(checker);
        read_waivers(checker);
    } else {
        model->waivers = checker->spec->first_checker->model->waivers;
        model->waiver_count = checker->spec->first_checker->model->waiver_count;
    }
    read_scores(checker);
}
