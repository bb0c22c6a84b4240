/* See tax.h. */
#include "model/tax.h"

#include "model/money.h"

#include <math.h>
#include <string.h>

static const PropId prices[] = {PROP_COMMON_PRICE, PROP_COMMON_QUOTE};
enum { PRICES = sizeof prices / sizeof prices[0], TAX_SLOT = 1 };

const Entity *tax_stated_by(const Model *model, const Entity *thing, PropId *prop)
{
    const Entity *supplier = entity_reference(thing, PROP_COMMON_SUPPLIER);
    bool theirs = supplier != NULL && entity_states(supplier, PROP_SUPPLIER_TAX);
    *prop = theirs ? PROP_SUPPLIER_TAX : PROP_BOAT_TAX;
    return theirs ? supplier : model->boat != NULL && entity_states(model->boat, PROP_BOAT_TAX) ? model->boat : NULL;
}

bool tax_rate(const Model *model, const Entity *thing, Interval *rate)
{
    PropId prop;
    const Entity *says = tax_stated_by(model, thing, &prop);
    return says != NULL && entity_quantity(says, prop, 0, rate);
}

bool tax_is_to_add(const Entity *thing, const Property *price)
{
    const Value *said = property_value(price, TAX_SLOT);
    if (said->kind == VALUE_WORD) {
        return str_is(said->u.word, "without-tax");
    }
    const Entity *supplier = entity_reference(thing, PROP_COMMON_SUPPLIER);
    return supplier != NULL && str_is(entity_word(supplier, PROP_SUPPLIER_PRICES), "without-tax");
}

bool tax_is_told(const Model *model)
{
    bool told = model->boat != NULL && entity_states(model->boat, PROP_BOAT_TAX);
    for (const Entity *supplier = model->first_of_kind[KIND_SUPPLIER]; supplier != NULL && !told; supplier = supplier->next_of_kind) {
        told = entity_states(supplier, PROP_SUPPLIER_TAX);
    }
    return told;
}

/* A copy of the thing's properties, in which that one is the caller's to change. */
static Property *own_property(Arena *arena, Entity *thing, const Property *property)
{
    Property *copy = ARENA_ARRAY(arena, Property, thing->block.count);
    size_t at = (size_t)(property - thing->block.properties);
    memcpy(copy, thing->block.properties, thing->block.count * sizeof(Property));
    thing->block.properties = copy;
    return &copy[at];
}

static void tell_no_rate(Model *model, const Entity *thing, const Property *price)
{
    const Value *said = property_value(price, TAX_SLOT);
    Message *m = message_report(model->messages, MESSAGE_TAX_MISSING,
                                said->kind == VALUE_WORD ? value_span(model, said) : property_span(model, price),
                                "this is without tax, and nothing says how much that is");
    const Entity *supplier = entity_reference(thing, PROP_COMMON_SUPPLIER);
    if (said->kind != VALUE_WORD && supplier != NULL) {
        message_note(model->messages, m, property_span(model, entity_property(supplier, PROP_SUPPLIER_PRICES)), "all that they sell is");
    }
    message_right(model->messages, m,
                  "in the boat's block, or in that of the supplier: `tax 20 %%`, for example; `tax 0 %%`, if none is due");
}

static bool rate_is_mistaken(const Model *model, const Entity *thing)
{
    PropId prop;
    const Entity *says = tax_stated_by(model, thing, &prop);
    return says != NULL && property_is_mistaken(entity_property(says, prop));
}

static void add_to(Model *model, Entity *thing, PropId prop)
{
    const Property *price = entity_property(thing, prop);
    const Value *value = property_value(price, 0);
    Interval rate;
    if (price == NULL || price->flags & PROPERTY_BROKEN || value->kind != VALUE_QUANTITY || !tax_is_to_add(thing, price)) {
        return;
    }
    Property *own = own_property(model->arena, thing, price);
    if (!tax_rate(model, thing, &rate)) {
        if (!rate_is_mistaken(model, thing)) { /* that is told already */
            tell_no_rate(model, thing, price);
        }
        own->flags |= PROPERTY_BROKEN;
        return;
    }
    Value *values = ARENA_ARRAY(model->arena, Value, (size_t)own->count + 1);
    memcpy(values, own->values, own->count * sizeof(Value));
    if (own->flags & PROPERTY_WRONG) {
        values[own->count] = own->values[own->count];
    }
    values[0].u.quantity.low *= 1.0 + rate.low;
    values[0].u.quantity.high *= 1.0 + rate.high;
    own->values = values;
}

void tax_add_to(Model *model, Entity *thing)
{
    for (size_t k = 0; k < PRICES; k++) {
        add_to(model, thing, prices[k]);
    }
}

void tax_add(Model *model)
{
    if (symbols_find(model->tree->symbols, STR("without-tax")) == 0) {
        return; /* nowhere in the spec */
    }
    for (uint32_t i = 0; i < model->entity_count; i++) {
        tax_add_to(model, model->entities[i]);
    }
}

double tax_as_written(const Model *model, const Entity *thing, const Property *price, const Value *value, Str *currency)
{
    Interval rate, tax = point(0.0);
    Str written = money_currency(model, value);
    bool known = money_rate(model, written, &rate) && interval_is_point(rate) && isfinite(rate.low);
    bool priced = price != NULL && (price->id == PROP_COMMON_PRICE || price->id == PROP_COMMON_QUOTE);
    bool without = thing != NULL && priced && tax_is_to_add(thing, price);
    known = known && (!without || (tax_rate(model, thing, &tax) && interval_is_point(tax)));
    *currency = known ? written : model->currency;
    return known ? rate.low / (1.0 + tax.low) : 1.0;
}
