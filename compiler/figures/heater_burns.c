/*
 * Whether a heater burns a fuel. Most do, and many a spec leaves that to the default; one that turns current into heat, or
 * takes its heat from the engine's water, burns nothing. See fuel_plan.h.
 */
#include "figures/fuel_plan.h"

#include "figures/power.h"

/* Of its heat a heater that burns takes far less from the wires, for its fan and its pump; common practice, no source. */
#define ELECTRIC_SHARE 0.1

/* Between these lies what supplies a thing aboard: direct current of 12 to 48 V, mains of 120 to 240 V. */
static const Interval direct_volts = {10.0, 60.0};
static const Interval mains_volts = {100.0, 260.0};

static bool states_burning(const Entity *heater)
{
    return entity_states(heater, PROP_HEATER_FUEL) || entity_states(heater, PROP_HEATER_FUEL_RATE) ||
           entity_states(heater, PROP_HEATER_ROOM_SEALED);
}

bool heater_says_it_burns(const Model *model, const Entity *heater)
{
    return states_burning(heater) || has_fuel_line(model, heater);
}

/* The water of an engine, or of a heater that is known to burn, runs through it. */
static bool is_heated_by_water(const Model *model, const Entity *heater)
{
    for (const Entity *hose = first_aboard(model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        const Entity *from = entity_reference(hose, PROP_HOSE_FROM);
        if (from != NULL && entity_reference(hose, PROP_HOSE_TO) == heater &&
            (from->kind == KIND_ENGINE || (from != heater && from->kind == KIND_HEATER && states_burning(from)))) {
            return true;
        }
    }
    return false;
}

static bool read_stated(const Entity *entity, PropId prop, unsigned slot, Interval *interval)
{
    const Value *value = property_value(entity_property(entity, prop), slot);
    bool known = value->kind == VALUE_QUANTITY && !(value->flags & VALUE_BROKEN);
    if (known) {
        *interval = (Interval){value->u.quantity.low, value->u.quantity.high};
    }
    return known;
}

/* What the draw is stated at, the bank that feeds it gives, or the boat is wired for; else whatever may feed it. */
static Interval supply_volts(const Model *model, const Entity *heater)
{
    Interval volts = {direct_volts.low, mains_volts.high}, series;
    if (read_stated(heater, PROP_LOAD_DRAW, 1, &volts)) {
        return volts;
    }
    if (heater->flags & ENTITY_AC) {
        return mains_volts;
    }
    if (heater->fed == NULL) {
        return volts;
    }
    const Entity *source = heater;
    for (uint32_t i = 0; source != NULL && source->fed != NULL && i < model->entity_count; i++) {
        bool turns = source->kind == KIND_CONVERTER || source->kind == KIND_CHARGER;
        source = turns ? NULL : source->fed->giver;
    }
    if (source != NULL && source->kind == KIND_BANK && read_stated(source, PROP_BANK_VOLTAGE, 0, &volts)) {
        return read_stated(source, PROP_BANK_SERIES, 0, &series) ? interval_multiply(volts, series) : volts;
    }
    return direct_volts;
}

/* Of both: the draw is stated in watts, or in amperes of what supplies it. */
static Burns burns_by_draw(const Model *model, const Entity *heater)
{
    Interval draw, output;
    if (!read_stated(heater, PROP_LOAD_DRAW, 0, &draw) || !read_stated(heater, PROP_HEATER_OUTPUT, 0, &output)) {
        return BURNS_OPEN;
    }
    UnitPair unit = property_value(entity_property(heater, PROP_LOAD_DRAW), 0)->unit;
    if (dimension_equal(unit_dimension(unit), unit_dimension(UNIT_ALONE(UNIT_A)))) {
        draw = interval_multiply(draw, supply_volts(model, heater));
    }
    return draw.low >= ELECTRIC_SHARE * output.high  ? BURNS_NO
           : draw.high < ELECTRIC_SHARE * output.low ? BURNS_YES
                                                     : BURNS_OPEN;
}

Burns heater_burns(const Model *model, const Entity *heater)
{
    if (heater_says_it_burns(model, heater)) {
        return BURNS_YES;
    }
    if (is_heated_by_water(model, heater)) {
        return BURNS_NO;
    }
    return entity_states(heater, PROP_LOAD_DRAW) ? burns_by_draw(model, heater) : BURNS_YES;
}
