/*
 * A boat without sails goes under engine: a day that says how far and how fast she goes, and no word of the engine, lets that
 * run as long. It is put in before anything reads the day, so that banks, tanks, alternators and goals all count it. Of a
 * speed that is not decided, nor kept from nought, it may be as long as the day.
 */
#include "language/unit.h"
#include "model/checker.h"

#include <math.h>

static const double most_s = 24.0 * 3600.0; /* more than a day has no day */

static bool is_plain(const Value *value)
{
    return value->kind == VALUE_QUANTITY && !(value->flags & VALUE_BROKEN);
}

static bool has_an_engine(const Model *model)
{
    const Entity *engine = model->first_of_kind[KIND_ENGINE];
    while (engine != NULL && engine->flags & (ENTITY_DROPPED | ENTITY_BROKEN)) {
        engine = engine->next_of_kind;
    }
    return engine != NULL;
}

static void put_in(Checker *checker, Entity *day, const Property *distance)
{
    const Value *way = &distance->values[0], *speed = &distance->values[1];
    Value *hours = ARENA_NEW(checker->arena, Value);
    *hours = (Value){.kind = VALUE_QUANTITY, .unit = {UNIT_H, UNIT_NONE}, .node = way->node};
    hours->u.quantity.low = fmin(way->u.quantity.low / speed->u.quantity.high, most_s);
    hours->u.quantity.high = fmin(way->u.quantity.high / speed->u.quantity.low, most_s);
    Property *properties = ARENA_ARRAY(checker->arena, Property, (size_t)day->block.count + 1);
    for (uint32_t i = 0; i < day->block.count; i++) {
        properties[i] = day->block.properties[i];
    }
    properties[day->block.count] = (Property){.values = hours, .node = distance->node, .id = PROP_DAY_ENGINE, .count = 1,
                                              .flags = distance->flags, .known = distance->known};
    day->block.properties = properties;
    day->block.has |= block_bit(PROP_DAY_ENGINE);
    day->block.count++;
}

bool engine_by_distance(const Entity *day)
{
    const Property *engine = entity_property(day, PROP_DAY_ENGINE), *distance = entity_property(day, PROP_DAY_DISTANCE);
    return engine != NULL && distance != NULL && engine->node == distance->node;
}

void days_under_way(Checker *checker)
{
    const Model *model = checker->model;
    if (entity_yes(model->boat, PROP_BOAT_SAILS) != 0 || !has_an_engine(model)) {
        return;
    }
    for (const Entity *e = model->first_of_kind[KIND_DAY]; e != NULL; e = e->next_of_kind) {
        const Property *distance = entity_property(e, PROP_DAY_DISTANCE);
        bool told = distance != NULL && !(distance->flags & PROPERTY_BROKEN) && is_plain(property_value(distance, 0)) &&
                    is_plain(property_value(distance, 1)) && property_value(distance, 1)->u.quantity.high > 0.0;
        if (told && !entity_states(e, PROP_DAY_ENGINE)) {
            put_in(checker, model->entities[e->index], distance);
        }
    }
}
