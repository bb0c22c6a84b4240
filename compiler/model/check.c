/*
 * Reading all properties of a model: the things (gather.c), what is set over them (settings.c), waivers and scores, and what no
 * model takes, for its mistakes alone.
 */
#include "model/gather.h"
#include "model/settings.h"
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

/* The boat has been read already, and what has a price is read again, where her money is another in each model. */
static void take_over(Checker *checker, Entity *entity, const ReadThing *read)
{
    entity->title = read->title;
    entity->part = read->part;
    entity->flags |= read->flags;
    if (entity != checker->model->boat && checker->spec->money_varies) {
        thing_read(checker, entity);
    } else if (entity != checker->model->boat) {
        entity->block = with_own_names(checker, &read->block);
    }
}

/* Things outside of options come first, in the same order in every model; the boat before all, for money is told by her lines. */
static void read_things(Checker *checker)
{
    Model *model = checker->model;
    Spec *spec = checker->spec;
    bool again = spec->read_things != NULL;
    if (!again && spec_combinations(spec, 1) > 1) {
        spec->read_things = ARENA_ARRAY(checker->arena, ReadThing, model->entity_count);
        spec->money_varies = settings_vary_money(checker);
    }
    if (model->boat != NULL) {
        thing_read(checker, model->boat);
        settings_apply_money(checker);
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
    settings_apply(checker);
    settings_apply_command(checker);
    for (uint32_t i = 0; i < model->entity_count; i++) {
        read_system(model->entities[i]);
        thing_tell_missing(checker, model->entities[i]);
    }
    read_orphans(checker);
    left_out_read(checker);
    if (checker->spec->first_checker == NULL) {
        read_unused_parts(checker);
        settings_read_spare(checker);
        read_waivers(checker);
    } else {
        model->waivers = checker->spec->first_checker->model->waivers;
        model->waiver_count = checker->spec->first_checker->model->waiver_count;
    }
    read_scores(checker);
}
