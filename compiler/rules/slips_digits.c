/*
 * The rule digits-grouped: a number in which a point stands before three digits, as many lands write thousands, of something that
 * hardly is a thousandth of that. Money is read more strictly: see habit_tell_grouped in model/habits.c.
 */
#include "rules/slips.h"

#include "base/num.h"
#include "language/unit.h"

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
    {KIND_INVERTER, PROP_INVERTER_RATED, {UNIT_W, UNIT_NONE}, 20},
    {KIND_GENERATOR, PROP_GENERATOR_RATED, {UNIT_W, UNIT_NONE}, 50},
    {KIND_SOLAR, PROP_SOLAR_RATED, {UNIT_W, UNIT_NONE}, 5},
    {KIND_ENGINE, PROP_COMMON_MASS, {UNIT_KG, UNIT_NONE}, 5},
    {KIND_BILGE_PUMP, PROP_BILGE_PUMP_RATED, {UNIT_L, UNIT_H}, 50},
    {KIND_PUMP, PROP_PUMP_FLOW, {UNIT_L, UNIT_H}, 10},
};

/* `1.200`, of which the digits without the point go to `digits`; false of anything else. */
static bool is_grouped(Str written, char digits[static 8])
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

static void judge_digits(Judge *judge, const Entity *thing, const Scarce *row)
{
    const Property *stated = entity_property(thing, (PropId)row->prop);
    const Value *value = property_value(stated, 0);
    char digits[8];
    if (value->kind != VALUE_QUANTITY || value->flags & (VALUE_BROKEN | VALUE_HOLE)) {
        return;
    }
    if (entity_yes(thing, PROP_COMMON_PORTABLE) == 1 || value->u.quantity.high >= unit_to_si(row->unit, row->least) || value->u.quantity.high <= 0.0 ||
        !is_grouped(span_text(judge->model->tree->sources, value_span(judge->model, value)), digits)) {
        judge_holds(judge);
        return;
    }
    Buf unit, plain;
    buf_init(&unit, judge->arena);
    buf_init(&plain, judge->arena);
    unit_write(&unit, value->unit);
    Str written = span_text(judge->model->tree->sources, value_span(judge->model, value));
    double number;
    num_read(written, &number);
    num_write(&plain, number, 6);
    const char *word = props[row->prop].word;
    Finding *f = judge_broken(judge, thing, value_span(judge->model, value));
    finding_about(f, (PropId)row->prop);
    finding_say(judge, f, "`%s` states `%s %.*s %s`, and hardly means so little: a point stands before decimals and groups no digits",
                say_name(judge, thing), word, STR_ARG(written), unit.text);
    finding_remedy(judge, f, "%s %s %s", word, digits, unit.text);
    if (!str_is(written, plain.text)) {
        finding_remedy(judge, f, "`%s %s %s`, if it is so little", word, plain.text, unit.text);
    }
}

void judge_digits_grouped(Judge *judge)
{
    for (size_t i = 0; i < sizeof scarce / sizeof scarce[0]; i++) {
        for (const Entity *thing = judge->model->first_of_kind[scarce[i].kind]; thing != NULL; thing = thing->next_of_kind) {
            if (!(thing->flags & ENTITY_DROPPED) && entity_states(thing, (PropId)scarce[i].prop)) {
                judge_digits(judge, thing, &scarce[i]);
            }
        }
    }
}
