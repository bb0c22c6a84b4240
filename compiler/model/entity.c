/* See model.h: what is stated of a thing, and where. */
#include "model/model.h"

Entity *model_find(const Model *model, Str name)
{
    Symbol symbol = symbols_find(model->tree->symbols, name);
    return symbol != 0 && symbol < model->symbol_count ? model->by_symbol[symbol] : NULL;
}

Str entity_old_name(const Model *model, const Entity *entity, unsigned n)
{
    NodeId first = tree_header(model->tree, entity->node).was, was = first + 2 * n;
    bool said = first != 0 && was <= entity->node + tree_node(model->tree, entity->node)->terms &&
                str_is(tree_text(model->tree, was - 1), "was");
    return said ? tree_text(model->tree, was) : (Str){"", 0};
}

bool entity_was(const Model *model, const Entity *entity, Str name)
{
    Str was = entity_old_name(model, entity, 0);
    for (unsigned n = 1; was.length > 0 && !str_equal(was, name); n++) {
        was = entity_old_name(model, entity, n);
    }
    return was.length > 0;
}

Str entity_name(const Model *model, const Entity *entity)
{
    return symbols_text(model->tree->symbols, entity->name);
}

Str entity_label(const Model *model, const Entity *entity)
{
    return entity->title.length > 0 ? entity->title : entity_name(model, entity);
}

Span entity_span(const Model *model, const Entity *entity)
{
    Header header = tree_header(model->tree, entity->node);
    return tree_span(model->tree, header.name);
}

const Property *block_search(const Block *block, PropId id)
{
    for (uint32_t i = 0; i < block->count; i++) {
        if (block->properties[i].id == id) {
            return &block->properties[i];
        }
    }
    return NULL;
}

const Property *block_next(const Block *block, const Property *previous)
{
    for (const Property *p = previous + 1; p < block->properties + block->count; p++) {
        if (p->id == previous->id) {
            return p;
        }
    }
    return NULL;
}

uint32_t entity_statement_count(const Entity *entity, PropId id)
{
    uint32_t count = 0;
    for (const Property *p = entity_property(entity, id); p != NULL; p = block_next(&entity->block, p)) {
        count++;
    }
    return count;
}

const Value value_none = {.kind = VALUE_NONE};

double clock_seconds(const Value *value)
{
    int32_t minutes = value->u.clock.to - value->u.clock.from;
    return (minutes <= 0 ? minutes + 1440 : minutes) * 60.0;
}

bool entity_names(const Entity *entity, PropId id, const Entity *thing)
{
    const Property *list = entity_property(entity, id);
    property_value(list, 0); /* asked for, though it may be a mistake */
    for (uint16_t i = 0; list != NULL && i < list->count; i++) {
        if (list->values[i].kind == VALUE_REFERENCE && list->values[i].u.entity == thing) {
            return true;
        }
    }
    return false;
}

Str entity_text(const Entity *entity, PropId id)
{
    const Value *value = property_value(entity_property(entity, id), 0);
    return value->kind == VALUE_TEXT ? value->u.text : (Str){"", 0};
}

bool property_lists(const Property *property, Str word)
{
    for (uint16_t i = 0; property != NULL && i < property->count; i++) {
        if (property->values[i].kind == VALUE_WORD && str_equal(property->values[i].u.word, word)) {
            return true;
        }
    }
    return false;
}

bool entity_quantity(const Entity *entity, PropId id, unsigned slot, Interval *value)
{
    const Property *property = entity_property(entity, id);
    const Value *stated = property_value(property, slot);
    if (stated->kind != VALUE_QUANTITY || stated->flags & (VALUE_BROKEN | VALUE_DOUBTED) || property->flags & PROPERTY_BROKEN) {
        return false;
    }
    *value = (Interval){stated->u.quantity.low, stated->u.quantity.high};
    return true;
}

bool model_is_in_feet(const Model *model)
{
    /* Not property_value: how numbers are told is no question whose answer waits for a mistake. */
    const Property *stated = entity_property(model->boat, PROP_BOAT_LENGTH);
    const Value *length = stated != NULL && stated->count > 0 ? &stated->values[0] : &value_none;
    return length->kind == VALUE_QUANTITY && (length->unit.unit == UNIT_FT || length->unit.unit == UNIT_IN);
}

UnitPair model_unit(const Model *model, UnitPair unit)
{
    return model_is_in_feet(model) && unit.unit != UNIT_KW ? unit_customary(unit) : unit;
}

bool property_is_mistaken(const Property *property)
{
    bool mistaken = property->flags & PROPERTY_BROKEN;
    for (uint16_t i = 0; i < property->count && !mistaken; i++) {
        mistaken = property->values[i].flags & VALUE_BROKEN;
    }
    return mistaken;
}

Span property_span(const Model *model, const Property *property)
{
    return tree_span(model->tree, property->node);
}

Span value_span(const Model *model, const Value *value)
{
    return tree_span(model->tree, value->node);
}

/* All of a property behind its word, as it stands in the spec. */
Str value_written(const Model *model, const Property *property)
{
    const Tree *tree = model->tree;
    const Node *node = tree_node(tree, property->node);
    uint16_t first = node->kind == NODE_SET ? (uint16_t)(tree_set_header(tree, property->node).value - property->node - 1) : 1;
    if (node->terms <= first) {
        return (Str){"", 0};
    }
    uint32_t start = tree_node(tree, property->node + 1 + first)->start;
    return span_text(tree->sources, (Span){start, node->end});
}
