/* See maintenance.h. */
#include "figures/maintenance.h"

#include "figures/water.h"

#include "model/status.h"

#include <math.h>

/* The slots of a `service` line. */
enum { SLOT_EVERY, SLOT_WHAT, SLOT_LAST, SLOT_READING, SLOT_PARTS };

const Value *maintenance_every(const Maintenance *service)
{
    return property_value(service->line, SLOT_EVERY);
}

Str maintenance_what(const Maintenance *service)
{
    return property_value(service->line, SLOT_WHAT)->u.text;
}

/*
 * The 4th of a month and 12 months more is the 4th again, whatever a month has of days; between whole months by their
 * share, so that it never falls as `every` grows.
 */
static double later_s(Date since, UnitPair unit, double every_s)
{
    double months = every_s / units[UNIT_MONTH].factor, whole = floor(months + 1e-9);
    if ((unit.unit != UNIT_MONTH && unit.unit != UNIT_YEAR) || !(months < 1e5)) {
        return (double)since * SECONDS_A_DAY + every_s;
    }
    double before = date_add_months(since, (int)whole), after = date_add_months(since, (int)whole + 1);
    return (before + fmax(months - whole, 0.0) * (after - before)) * SECONDS_A_DAY;
}

Date maintenance_after(const Maintenance *service, Date day)
{
    const Value *every = maintenance_every(service);
    double next = floor(later_s(day, every->unit, every->u.quantity.low) / SECONDS_A_DAY);
    double last = date_of(9999, 12, 31);
    return next >= last ? (Date)last : next <= day ? day + 1 : (Date)next;
}

PropId maintenance_meter_prop(const Entity *meter)
{
    return meter->kind == KIND_GENERATOR ? PROP_GENERATOR_HOURS : PROP_ENGINE_HOURS;
}

static bool has_meter(const Entity *thing)
{
    return thing->kind == KIND_ENGINE || thing->kind == KIND_GENERATOR;
}

/* Either end of what leads fuel to an engine or generator, or back from it. */
static const Entity *at_an_end(const Entity *line)
{
    const Entity *to = entity_reference(line, PROP_FUEL_LINE_TO), *from = entity_reference(line, PROP_FUEL_LINE_FROM);
    return to != NULL && has_meter(to) ? to : from != NULL && has_meter(from) ? from : NULL;
}

/*
 * The engine or generator that the thing is, or belongs to; where it says none, the only one aboard. A generator counts for
 * what belongs to it alone: where an engine is aboard too, that is meant.
 */
static const Entity *meter_of(const Model *model, const Entity *thing)
{
    static const PropId says[] = {PROP_ALTERNATOR_ENGINE, PROP_WATER_HEATER_ENGINE, PROP_GEARBOX_ENGINE,
                                  PROP_PROPELLER_ENGINE};
    if (has_meter(thing)) {
        return thing;
    }
    for (size_t i = 0; i < sizeof says / sizeof says[0]; i++) {
        if (schema_has((KindId)thing->kind, says[i]) && entity_states(thing, says[i])) {
            return entity_reference(thing, says[i]);
        }
    }
    if (thing->kind == KIND_FUEL_LINE && at_an_end(thing) != NULL) {
        return at_an_end(thing);
    }
    const Entity *only = first_aboard(model, KIND_ENGINE);
    only = only != NULL ? only : first_aboard(model, KIND_GENERATOR);
    return only != NULL && next_aboard(only) == NULL ? only : NULL;
}

static bool is_date(const Value *value)
{
    return value->kind == VALUE_DATE && !(value->flags & VALUE_BROKEN);
}

static void count_days(Maintenance *service)
{
    const Value *every = maintenance_every(service), *last = property_value(service->line, SLOT_LAST);
    Purchase purchase = purchase_of(service->thing);
    service->done = is_date(last);
    service->counted = service->done || purchase.last_fitting != NULL;
    if (!service->counted) {
        return;
    }
    service->since = service->done ? last->u.date : property_date(purchase.last_fitting);
    service->due_s = interval_corners(later_s(service->since, every->unit, every->u.quantity.low),
                                      later_s(service->since, every->unit, every->u.quantity.high));
}

/* From the reading when it was last done; from nought on where the engine has not run so long yet. */
static void count_hours(Maintenance *service)
{
    const Value *every = maintenance_every(service), *last = property_value(service->line, SLOT_LAST);
    const Value *reading = property_value(service->line, SLOT_READING);
    Interval since = {0.0, 0.0};
    service->done = is_date(last);
    service->since = service->done ? last->u.date : 0;
    if (reading->kind == VALUE_QUANTITY && !(reading->flags & VALUE_BROKEN)) {
        since = (Interval){reading->u.quantity.low, reading->u.quantity.high};
        service->counted = true;
    } else if (service->meter != NULL && !service->done) {
        const Value *now = property_value(entity_property(service->meter, maintenance_meter_prop(service->meter)), 0);
        service->counted = now->kind == VALUE_QUANTITY && !(now->flags & VALUE_BROKEN) &&
                           now->u.quantity.high <= every->u.quantity.low;
    }
    service->due_s = interval_add(since, (Interval){every->u.quantity.low, every->u.quantity.high});
}

bool maintenance_readings(const Maintenance *service, Date *read_on, Interval *meter, Interval *at_service)
{
    if (!service->by_hours || !service->done || service->meter == NULL) {
        return false;
    }
    PropId prop = maintenance_meter_prop(service->meter);
    const Value *reading = property_value(service->line, SLOT_READING);
    const Value *day = property_value(entity_property(service->meter, prop), 1);
    *read_on = is_date(day) ? day->u.date : 0;
    if (reading->kind != VALUE_QUANTITY || reading->flags & VALUE_BROKEN || day->flags & VALUE_BROKEN) {
        return false;
    }
    *at_service = (Interval){reading->u.quantity.low, reading->u.quantity.high};
    return entity_quantity(service->meter, prop, 0, meter);
}

static Maintenance *read_line(Arena *arena, const Model *model, const Entity *thing, const Property *line)
{
    const Value *every = property_value(line, SLOT_EVERY);
    if (line->flags & PROPERTY_BROKEN || every->kind != VALUE_QUANTITY || every->flags & VALUE_BROKEN ||
        property_value(line, SLOT_WHAT)->kind != VALUE_TEXT) {
        return NULL;
    }
    Maintenance *service = ARENA_NEW(arena, Maintenance);
    *service = (Maintenance){.thing = thing, .line = line, .by_hours = unit_is_of_the_clock(every->unit)};
    if (service->by_hours) {
        service->meter = meter_of(model, thing);
        count_hours(service);
    } else {
        count_days(service);
    }
    size_t parts = 0;
    for (unsigned slot = SLOT_PARTS; slot < SLOT_PARTS + 2 * MAINTENANCE_PARTS; slot += 2) { /* each has its number before it */
        const Value *number = property_value(line, slot), *part = property_value(line, slot + 1);
        bool told = number->kind == VALUE_QUANTITY && !(number->flags & VALUE_BROKEN);
        if (value_entity(part) != NULL) {
            service->takes[parts] = told ? (Interval){number->u.quantity.low, number->u.quantity.high} : point(1.0);
            service->parts[parts++] = value_entity(part);
        }
    }
    return service;
}

Maintenance *maintenance_list(Arena *arena, const Model *model)
{
    Maintenance *first = NULL, **end = &first;
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *thing = model->entities[i];
        const Property *line =
            is_bought(thing) && is_aboard(thing) ? entity_property(thing, PROP_COMMON_SERVICE) : NULL;
        for (; line != NULL; line = block_next(&thing->block, line)) {
            *end = read_line(arena, model, thing, line);
            end = *end != NULL ? &(*end)->next : end;
        }
    }
    return first;
}
