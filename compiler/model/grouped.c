/*
 * Numbers in which a point stands before three digits, as many lands write thousands, of something that hardly is a thousandth of
 * that: they are doubted, and what rests on them waits. The rule digits-grouped tells of them. See grouped.h.
 */
#include "model/grouped.h"

#include "language/unit.h"

#include <string.h>

/* So little of it hardly is aboard. Common practice, no source. */
typedef struct Scarce {
    uint8_t kind;
    uint16_t prop;
    UnitPair unit;
    double least; /* in that unit */
} Scarce;

static const Scarce scarce[] = {
    {KIND_BOAT, PROP_BOAT_DISPLACEMENT, {UNIT_KG, UNIT_NONE}, 100},
    {KIND_GOAL, PROP_GOAL_MASS, {UNIT_KG, UNIT_NONE}, 100},
    {KIND_GOAL, PROP_GOAL_RANGE, {UNIT_NMI, UNIT_NONE}, 5},
    {KIND_BANK, PROP_BANK_CAPACITY, {UNIT_AH, UNIT_NONE}, 3},
    {KIND_TANK, PROP_TANK_CAPACITY, {UNIT_L, UNIT_NONE}, 4},
    {KIND_WATER_HEATER, PROP_WATER_HEATER_CAPACITY, {UNIT_L, UNIT_NONE}, 2},
    {KIND_WATER_HEATER, PROP_WATER_HEATER_ELEMENT, {UNIT_W, UNIT_NONE}, 20},
    {KIND_HEATER, PROP_HEATER_OUTPUT, {UNIT_W, UNIT_NONE}, 50},
    {KIND_BURNER, PROP_BURNER_OUTPUT, {UNIT_W, UNIT_NONE}, 50},
    {KIND_INVERTER, PROP_INVERTER_RATED, {UNIT_W, UNIT_NONE}, 20},
    {KIND_GENERATOR, PROP_GENERATOR_RATED, {UNIT_W, UNIT_NONE}, 50},
    {KIND_SOLAR, PROP_SOLAR_RATED, {UNIT_W, UNIT_NONE}, 5},
    {KIND_ENGINE, PROP_COMMON_MASS, {UNIT_KG, UNIT_NONE}, 5},
    {KIND_BILGE_PUMP, PROP_BILGE_PUMP_RATED, {UNIT_L, UNIT_H}, 50},
    {KIND_PUMP, PROP_PUMP_FLOW, {UNIT_L, UNIT_H}, 10},
};

/* `1.200`, of which the digits without the point go to `digits`; false of anything else. */
static bool grouped_digits(Str written, char digits[static 8])
{
    const char *point = memchr(written.text, '.', written.length);
    size_t before = point != NULL ? (size_t)(point - written.text) : 0;
    if (before < 1 || before > 3 || written.length != before + 4 || written.text[0] == '0' || written.text[0] == '-') {
        return false;
    }
    memcpy(digits, written.text, before);
    memcpy(digits + before, point + 1, 3);
    digits[before + 3] = '\0';
    return true;
}

/* Who sets the finding aside means what stands there. */
static bool is_waived(const Model *model, const Entity *thing)
{
    for (uint32_t i = 0; i < model->waiver_count; i++) {
        if (model->waivers[i].subject == thing->name && str_is(model->waivers[i].rule, "digits-grouped")) {
            return true;
        }
    }
    return false;
}

static const Scarce *row_of(KindId kind, PropId prop)
{
    for (size_t i = 0; i < sizeof scarce / sizeof scarce[0]; i++) {
        if (scarce[i].kind == kind && scarce[i].prop == prop) {
            return &scarce[i];
        }
    }
    return NULL;
}

bool grouped_asked(size_t i, KindId *kind, PropId *prop)
{
    if (i >= sizeof scarce / sizeof scarce[0]) {
        return false;
    }
    *kind = (KindId)scarce[i].kind;
    *prop = (PropId)scarce[i].prop;
    return true;
}

bool grouped_is_asked(const Entity *thing, const Property *stated)
{
    const Value *value = property_value(stated, 0);
    return row_of((KindId)thing->kind, (PropId)stated->id) != NULL && value->kind == VALUE_QUANTITY &&
           !(value->flags & (VALUE_BROKEN | VALUE_HOLE));
}

bool grouped_is_slip(const Model *model, const Entity *thing, const Property *stated, char digits[static 8])
{
    const Scarce *row = row_of((KindId)thing->kind, (PropId)stated->id);
    const Value *value = property_value(stated, 0);
    return row != NULL && grouped_is_asked(thing, stated) && value->u.quantity.high > 0.0 &&
           value->u.quantity.high < unit_to_si(row->unit, row->least) && entity_yes(thing, PROP_COMMON_PORTABLE) != 1 &&
           grouped_digits(span_text(model->tree->sources, value_span(model, value)), digits);
}

void grouped_doubt(Model *model)
{
    for (size_t i = 0; i < sizeof scarce / sizeof scarce[0]; i++) {
        for (const Entity *thing = model->first_of_kind[scarce[i].kind]; thing != NULL; thing = thing->next_of_kind) {
            const Property *stated = entity_property(thing, (PropId)scarce[i].prop);
            char digits[8];
            if (stated != NULL && grouped_is_slip(model, thing, stated, digits) && !is_waived(model, thing)) {
                ((Value *)(uintptr_t)&stated->values[0])->flags |= VALUE_DOUBTED; /* nobody but the model writes values */
            }
        }
    }
}
