/* See trial.h. */
#include "model/trial.h"

#include "model/money.h"

#include <math.h>
#include <string.h>

static const Property *find_statement(const Block *block, PropId prop, NodeId statement)
{
    const Property *property = block_property(block, prop);
    while (property != NULL && property->node != statement) {
        property = block_next(block, property);
    }
    return property;
}

/* A copy of a block with room for one more property; the index of `property` is the same in it. */
static Property *copy_properties(Arena *arena, const Block *block)
{
    Property *copy = ARENA_ARRAY(arena, Property, block->count + 1);
    if (block->count > 0) {
        memcpy(copy, block->properties, block->count * sizeof(Property));
    }
    return copy;
}

static Value *copy_values(Arena *arena, Property *property, uint16_t least)
{
    uint16_t count = property->count > least ? property->count : least;
    Value *copy = ARENA_ARRAY(arena, Value, (size_t)count + 1);
    if (property->count > 0) {
        memcpy(copy, property->values, property->count * sizeof(Value));
    }
    if (property->flags & PROPERTY_WRONG) {
        copy[count] = property->values[property->count]; /* see property_ask */
    }
    property->values = copy;
    property->count = count;
    return copy;
}

/* Lays a copy of a block over it in which the values of one property can be changed; these are returned. */
static Value *lay_over(Arena *arena, Block *block, const Property *property, unsigned slot)
{
    Property *properties = copy_properties(arena, block);
    size_t at = (size_t)(property - block->properties);
    block->properties = properties;
    return copy_values(arena, &properties[at], (uint16_t)(slot + 1)); /* it may leave that value out */
}

/* Not from a statement of this thing: findings about it point to the thing's name, as they do without it. */
static Value *put_in(Arena *arena, Block *block, PropId prop, const Property *fallback, unsigned slot)
{
    Property *properties = copy_properties(arena, block);
    Property *added = &properties[block->count];
    *added = (Property){.id = (uint16_t)prop, .flags = PROPERTY_FROM_PART};
    if (fallback != NULL) {
        added->values = fallback->values;
        added->count = fallback->count;
    }
    Value *values = copy_values(arena, added, (uint16_t)(slot + 1));
    block->properties = properties;
    block->count++;
    block->has |= block_bit(prop);
    return values;
}

/* The feed that reads this block of a property's own, if one does. */
static void turn_feeds(const Entity *entity, const Block *from, const Block *to)
{
    for (Feed *feed = entity->gives; feed != NULL; feed = feed->next_of_giver) {
        if (feed->block == from) {
            feed->block = to;
        }
    }
}

static Value *lay_over_inner(Trial *trial, Arena *arena, PropId prop, NodeId statement, unsigned slot)
{
    Entity *entity = trial->entity;
    for (uint32_t i = 0; i < entity->block.count; i++) {
        const Property *outer = &entity->block.properties[i];
        const Value *last = property_value(outer, outer->count > 0 ? outer->count - 1u : 0);
        const Property *property =
            last->kind == VALUE_BLOCK ? find_statement(last->u.block, prop, statement) : NULL;
        if (property != NULL) {
            Block *copy = ARENA_NEW(arena, Block);
            *copy = *last->u.block;
            Value *values = lay_over(arena, copy, property, slot);
            trial->inner = last->u.block;
            trial->inner_copy = copy;
            lay_over(arena, &entity->block, outer, 0)[outer->count - 1].u.block = copy;
            turn_feeds(entity, trial->inner, copy);
            return values;
        }
    }
    return NULL;
}

bool trial_begin(Trial *trial, Arena *arena, Entity *entity, PropId prop, const Property *fallback,
                 NodeId statement, unsigned slot)
{
    *trial = (Trial){.entity = entity, .before = entity->block};
    const Property *property = statement != 0 ? find_statement(&entity->block, prop, statement) : NULL;
    Value *values = NULL;
    if (property != NULL) {
        values = lay_over(arena, &entity->block, property, slot);
    } else if (statement != 0) {
        values = lay_over_inner(trial, arena, prop, statement, slot);
    } else if (schema_has((KindId)entity->kind, prop) && !entity_states(entity, prop)) {
        values = put_in(arena, &entity->block, prop, fallback, slot);
    }
    trial->value = values != NULL ? &values[slot] : NULL;
    return values != NULL;
}

/* Lays over the amounts of one property that are in another currency. */
static void follow_property(Trial *trial, Arena *arena, Entity *entity, const Property *property)
{
    Value *values = NULL;
    Block before = entity->block;
    for (uint16_t slot = 0; slot < property->count; slot++) {
        const Value *value = &property->values[slot];
        bool money = value->kind == VALUE_QUANTITY && value->flags & VALUE_MONEY && !(value->flags & VALUE_BROKEN) && value->node != 0;
        Str currency = money ? money_currency(trial->model, value) : trial->model->currency;
        if (str_equal(currency, trial->model->currency)) {
            continue;
        }
        Interval written = money_as_written(trial->model, value);
        values = values != NULL ? values : lay_over(arena, &entity->block, property, slot);
        TrialMoney *follows = ARENA_NEW(arena, TrialMoney);
        *follows = (TrialMoney){entity, before, &values[slot], written, currency, trial->money};
        trial->money = follows;
    }
}

void trial_with_money(Trial *trial, Arena *arena, const Model *model)
{
    trial->model = model;
    for (uint32_t i = 0; i < model->entity_count; i++) {
        Entity *entity = model->entities[i];
        for (uint32_t p = 0; p < entity->block.count; p++) {
            follow_property(trial, arena, entity, &entity->block.properties[p]);
        }
    }
}

static void set_quantity(Value *value, double low, double high)
{
    value->kind = VALUE_QUANTITY;
    value->u.quantity.low = low;
    value->u.quantity.high = high;
    value->flags &= (uint8_t) ~(VALUE_HOLE | VALUE_NO_LOW | VALUE_NO_HIGH | VALUE_ASSUMED);
    if (isinf(high)) {
        value->flags |= VALUE_NO_HIGH;
    }
    if (isinf(low)) {
        value->flags |= VALUE_NO_LOW;
    }
}

void trial_set_range(Trial *trial, double low, double high)
{
    set_quantity(trial->value, low, high);
    for (TrialMoney *money = trial->money; money != NULL; money = money->next) {
        Interval rate;
        if (money_rate(trial->model, money->currency, &rate)) {
            Interval is = interval_divide(money->written, rate);
            set_quantity(money->value, is.low, is.high);
        }
    }
}

void trial_end(const Trial *trial)
{
    for (const TrialMoney *money = trial->money; money != NULL; money = money->next) {
        money->entity->block = money->before;
    }
    trial->entity->block = trial->before;
    if (trial->inner != NULL) {
        turn_feeds(trial->entity, trial->inner_copy, trial->inner);
    }
}
