/* See settings.h. */
#include "model/settings.h"

#include "model/clash.h"
#include "model/gather.h"
#include "model/match.h"
#include "model/walk.h"

#include <string.h>

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

/* Whether a statement is one of the command line's: these are read behind all files. */
static bool is_by_command(const Checker *checker, NodeId statement)
{
    return checker->spec->set_count > 0 && statement >= checker->spec->sets[0];
}

static void note_over(Checker *checker, const Setting *setting, const Property *line)
{
    if (props[line->id].repeats && setting->outer == NULL) {
        SetOver *over = ARENA_NEW(checker->arena, SetOver);
        *over = (SetOver){setting->entity, *line, setting->statement, checker->set_over};
        checker->set_over = over;
    }
}

/* By which value its lines are told apart: of what day, at what speed ... -1: by none. */
static int slot_of_key(PropId id)
{
    static const PropId keyed[] = {PROP_LOAD_USE,          PROP_WATER_HEATER_USE,    PROP_ALTERNATOR_GIVES, PROP_ALTERNATOR_CURVE,
                                   PROP_ENGINE_CONSUMPTION, PROP_ENGINE_TAKES,       PROP_MAKER_FEEDS};
    for (size_t i = 0; i < sizeof keyed / sizeof keyed[0]; i++) {
        if (keyed[i] == id) {
            return 0;
        }
    }
    return -1;
}

static bool same_words(const Property *a, unsigned slot_of_a, const Property *b, unsigned slot_of_b)
{
    const Value *one = property_value(a, slot_of_a), *other = property_value(b, slot_of_b);
    return one->kind == VALUE_WORD && other->kind == VALUE_WORD && str_equal(one->u.word, other->u.word);
}

static bool same_key(const Property *a, const Property *b)
{
    if (a->id == PROP_BOAT_RATE) { /* either way round */
        return (same_words(a, 1, b, 1) && same_words(a, 2, b, 2)) || (same_words(a, 1, b, 2) && same_words(a, 2, b, 1));
    }
    const Value *one = property_value(a, (unsigned)slot_of_key((PropId)a->id)), *other = property_value(b, (unsigned)slot_of_key((PropId)b->id));
    if (one->kind == VALUE_QUANTITY && other->kind == VALUE_QUANTITY) {
        return dimension_equal(unit_dimension(one->unit), unit_dimension(other->unit)) &&
               one->u.quantity.low == other->u.quantity.low && one->u.quantity.high == other->u.quantity.high;
    }
    return value_entity(one) != NULL && value_entity(one) == value_entity(other);
}

/*
 * Whether a line stays beside one that is set: one that was set with it does, and of her rates those of other currencies.
 * No price of these could be read without them, and nobody who sets one rate means to strike out the others.
 */
static bool stays_beside(const Checker *checker, const Property *old, const Property *set)
{
    bool together = old->flags & PROPERTY_FROM_SET && is_by_command(checker, old->node) == is_by_command(checker, set->node);
    return old->id != set->id || (props[set->id].repeats && together) || (set->id == PROP_BOAT_RATE && !same_key(old, set));
}

/* A block with a property in place of all lines of its kind, but for those that stay. */
static Block replaced(Checker *checker, const Setting *setting, const Block *block, Property property)
{
    Property *kept = ARENA_ARRAY(checker->arena, Property, block->count + 1);
    uint32_t count = 0;
    for (uint32_t i = 0; i < block->count; i++) {
        const Property *old = &block->properties[i];
        if (stays_beside(checker, old, &property)) {
            kept[count++] = *old;
        } else {
            note_over(checker, setting, old);
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
        entity->block = replaced(checker, setting, &entity->block, property);
        return;
    }
    Property *copy = ARENA_ARRAY(checker->arena, Property, entity->block.count);
    memcpy(copy, entity->block.properties, entity->block.count * sizeof(Property));
    Property *outer = &copy[setting->outer - entity->block.properties];
    Value *values = ARENA_ARRAY(checker->arena, Value, outer->count);
    memcpy(values, outer->values, outer->count * sizeof(Value));
    Block *inner = ARENA_NEW(checker->arena, Block);
    *inner = replaced(checker, setting, values[outer->count - 1].u.block, property);
    values[outer->count - 1].u.block = inner;
    outer->values = values;
    outer->flags &= (uint8_t)~PROPERTY_WRONG; /* it is marked again, by this model */
    entity->block.properties = copy;
}

static void set_property(Checker *checker, const Setting *setting, const Entity *in_option)
{
    Property property = property_read(checker, setting->statement, setting->value, setting->id, in_option);
    property.flags |= PROPERTY_FROM_SET;
    replace_property(checker, setting, property);
}

/* ---- money --------------------------------------------------------------------------------------------- */

/* The property of her rates or her currency that a statement sets; PROP_NONE: another, or of another thing. */
static PropId money_set(Checker *checker, NodeId statement, Setting *setting)
{
    Entity *boat = checker->model->boat;
    if (boat == NULL || tree_kind(checker->tree, statement) != NODE_SET || tree_node(checker->tree, statement)->flags & NODE_BAD) {
        return PROP_NONE;
    }
    SetHeader set = tree_set_header(checker->tree, statement);
    PropId id = set.outer == 0 && symbol_of(checker, set.name) == boat->name ? property_find(checker, KIND_BOAT, set.word) : PROP_NONE;
    *setting = (Setting){.statement = statement, .value = set.value, .entity = boat, .id = id};
    return id == PROP_BOAT_RATE || id == PROP_BOAT_CURRENCY ? id : PROP_NONE;
}

/* The word that an option sets as her currency; 0: none. */
static Symbol currency_set(Checker *checker, NodeId option)
{
    Setting setting;
    for (NodeId id = walk_block(checker->tree, option, 0); id != 0; id = walk_block(checker->tree, option, id)) {
        if (money_set(checker, id, &setting) == PROP_BOAT_CURRENCY) {
            return symbol_of(checker, setting.value);
        }
    }
    return 0;
}

/*
 * Whether all money is to be read in the currency that the chosen option sets: not where another option would leave her
 * with another one, which is a mistake that is told once, and not with each price again.
 */
static bool is_settled(Checker *checker, const Choice *choice)
{
    Symbol currency = currency_set(checker, choice->options[choice->chosen].node);
    for (uint32_t o = 0; o < choice->option_count && choice_is_open(choice); o++) {
        if (currency_set(checker, choice->options[o].node) != currency) {
            return false;
        }
    }
    return true;
}

void settings_apply_money(Checker *checker)
{
    Setting setting;
    for (uint32_t i = 0; i < checker->model->choice_count; i++) {
        const Choice *choice = &checker->model->choices[i];
        NodeId option = choice->chosen >= 0 ? choice->options[choice->chosen].node : 0;
        Entity in_option = {.option = option};
        for (NodeId id = option != 0 ? walk_block(checker->tree, option, 0) : 0; id != 0;
             id = walk_block(checker->tree, option, id)) {
            PropId set = money_set(checker, id, &setting);
            if (set == PROP_BOAT_RATE || (set == PROP_BOAT_CURRENCY && is_settled(checker, choice))) {
                set_property(checker, &setting, &in_option);
            }
        }
    }
    Entity nowhere = {.option = 0};
    for (uint32_t i = 0; i < checker->spec->set_count; i++) {
        if (money_set(checker, checker->spec->sets[i], &setting) != PROP_NONE) {
            set_property(checker, &setting, &nowhere);
        }
    }
}

bool settings_vary_money(Checker *checker)
{
    Setting setting;
    for (uint32_t i = 0; i < checker->spec->choice_count; i++) {
        const Choice *choice = &checker->spec->choices[i];
        for (uint32_t o = 0; o < choice->option_count; o++) {
            NodeId option = choice->options[o].node;
            for (NodeId id = walk_block(checker->tree, option, 0); id != 0; id = walk_block(checker->tree, option, id)) {
                if (money_set(checker, id, &setting) != PROP_NONE) {
                    return true;
                }
            }
        }
    }
    return false;
}

/* Whether that was set before anything else was read. */
static bool is_set_already(const Checker *checker, const Setting *setting)
{
    if (setting->entity != checker->model->boat || setting->outer != NULL) {
        return false;
    }
    const Property *currency = entity_property(setting->entity, PROP_BOAT_CURRENCY);
    return setting->id == PROP_BOAT_RATE ||
           (setting->id == PROP_BOAT_CURRENCY && currency != NULL && currency->node == setting->statement);
}

/* ---- everything else ----------------------------------------------------------------------------------- */

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

void settings_apply(Checker *checker)
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
                            leads_alike(done[j].outer, setting.outer) &&
                            !clash_is_of_other_rate(checker->tree, done[j].statement, id);
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
            if (!is_set_already(checker, &setting)) {
                set_property(checker, &setting, &in_option);
            }
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
void settings_apply_command(Checker *checker)
{
    for (uint32_t i = 0; i < checker->spec->set_count; i++) {
        NodeId statement = checker->spec->sets[i];
        bool elsewhere;
        const Entity *optional = brought_here(checker, statement + 2, &elsewhere);
        Entity in_option = {.option = optional != NULL ? optional->option : 0};
        Setting setting;
        if (!elsewhere && find_setting(checker, statement, &in_option, &setting) && !is_set_already(checker, &setting)) {
            set_property(checker, &setting, &in_option);
        }
    }
}

void settings_read_spare(Checker *checker)
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

/* ---- what is set over ---------------------------------------------------------------------------------- */

const SetOver *settings_over(const Model *model)
{
    return model->checker->set_over;
}

bool settings_say_anew(const Model *model, const SetOver *over)
{
    PropId id = (PropId)over->line.id;
    bool keyed = id == PROP_BOAT_RATE || slot_of_key(id) >= 0;
    uint32_t there = 0, were = 0;
    for (const Property *p = entity_property(over->thing, id); p != NULL; p = block_next(&over->thing->block, p)) {
        there++;
        if (p->flags & PROPERTY_BROKEN || over->line.flags & PROPERTY_BROKEN || (keyed && same_key(p, &over->line))) {
            return true;
        }
    }
    for (const SetOver *other = settings_over(model); other != NULL; other = other->next) {
        were += other->thing == over->thing && other->line.id == over->line.id && other->by == over->by;
    }
    return !keyed && there >= were;
}
