/* See model.h: what is taken where nothing is stated. */
#include "model/model.h"

#include "model/checker.h"
#include "syntax/parse.h"

#include <math.h>

/* `word terms` of a default as a source of its own, read once for all models of a spec. */
static const Property *read_default(Checker *checker, PropId id, const char *terms)
{
    Spec *spec = checker->spec;
    Buf text;
    buf_init(&text, checker->arena);
    buf_format(&text, "%s %s", props[id].word, terms);
    Source *source = sources_add(&spec->sources, STR("default"), text.text, text.length);
    NodeId statement = source != NULL ? parse_property(&spec->tree, source, &spec->messages) : 0;
    if (statement == 0) {
        return NULL;
    }
    Property *property = ARENA_NEW(checker->arena, Property);
    *property = check_statement(checker, statement, id);
    property->flags |= PROPERTY_ASSUMED;
    for (uint16_t i = 0; i < property->count; i++) {
        ((Value *)property->values)[i].flags |= VALUE_ASSUMED;
    }
    return property;
}

/* Air and sea are told in degrees Fahrenheit where lengths are in feet; what insulation stands is in Celsius everywhere. */
static UnitPair unit_of_default(PropId id, UnitPair unit)
{
    bool weather = id == PROP_BOAT_AIR_TEMPERATURE || id == PROP_BOAT_SEA_TEMPERATURE;
    return weather ? (UnitPair){UNIT_FAHRENHEIT, UNIT_NONE} : unit_customary(unit);
}

/* A default as the owner would write it. */
static void use_customary_units(const Property *property, PropId id)
{
    for (uint16_t i = 0; property != NULL && i < property->count; i++) {
        Value *value = (Value *)&property->values[i];
        if (value->kind == VALUE_QUANTITY) {
            value->unit = unit_of_default(id, value->unit);
        }
    }
}

static const Property *make_default(const Model *model, PropId id, const char *terms)
{
    const Property *made = read_default(model->checker, id, terms);
    if (model_is_in_feet(model)) {
        use_customary_units(made, id);
    }
    return made;
}

const Property *model_default(const Model *model, PropId id)
{
    Spec *spec = model->checker->spec;
    if (props[id].assumed == NULL) {
        return NULL;
    }
    if (spec->defaults[id] == NULL) {
        spec->defaults[id] = make_default(model, id, props[id].assumed);
    }
    return spec->defaults[id];
}

/* Bits of the defaults that may be meant: one for each of `usual`, and behind them that of all other answers. */
enum { OTHER_ANSWERS = 1 << USUALS_MOST, ANSWERS = 2 * OTHER_ANSWERS };

/* Whether a value is, or may be, what a row of `usual` says. */
static void compare_answer(const Value *value, const char *says, bool *is, bool *may_be)
{
    if (value->kind == VALUE_WORD) {
        *is = *may_be = str_is(value->u.word, says);
    } else if (value->kind == VALUE_QUANTITY) {
        double number = says[0] - '0';
        *may_be = value->u.quantity.low <= number && number <= value->u.quantity.high;
        *is = *may_be && value->u.quantity.low == value->u.quantity.high;
    } else {
        *is = *may_be = false;
    }
}

static unsigned answers_of(const Model *model, const Block *block, const PropRow *row)
{
    const Property *stated = block_property(block, (PropId)row->usual_by);
    const Value *value = property_value(stated != NULL ? stated : model_default(model, (PropId)row->usual_by), 0);
    unsigned answers = 0;
    for (int i = 0; i < USUALS_MOST && row->usual[i].says != NULL && !(value->flags & VALUE_BROKEN); i++) {
        bool is, may_be;
        compare_answer(value, row->usual[i].says, &is, &may_be);
        if (is) {
            return 1u << i;
        }
        answers |= may_be ? 1u << i : 0;
    }
    return answers | OTHER_ANSWERS;
}

/* The first value so wide that it holds another's. */
static const Property *widened(const Model *model, const Property *property, const Property *other)
{
    const Value *more = property_value(other, 0);
    Property *wide = ARENA_NEW(model->checker->arena, Property);
    Value *values = ARENA_ARRAY(model->checker->arena, Value, property->count);
    *wide = *property;
    for (uint16_t i = 0; i < property->count; i++) {
        values[i] = property->values[i];
    }
    values[0].u.quantity.low = fmin(values[0].u.quantity.low, more->u.quantity.low);
    values[0].u.quantity.high = fmax(values[0].u.quantity.high, more->u.quantity.high);
    wide->values = values;
    return wide;
}

static const Property *usual_default(const Model *model, PropId id, unsigned answers)
{
    const Property *made = answers & OTHER_ANSWERS ? model_default(model, id) : NULL;
    for (int i = 0; i < USUALS_MOST; i++) {
        if (answers >> i & 1u) {
            const Property *one = make_default(model, id, props[id].usual[i].assumed);
            made = made != NULL ? widened(model, made, one) : one;
        }
    }
    return made;
}

const Property *model_default_in(const Model *model, const Block *block, PropId id)
{
    Spec *spec = model->checker->spec;
    unsigned answers = props[id].usual_by != PROP_NONE ? answers_of(model, block, &props[id]) : OTHER_ANSWERS;
    if (answers == OTHER_ANSWERS) {
        return model_default(model, id);
    }
    if (spec->usuals[id] == NULL) {
        spec->usuals[id] = ARENA_ARRAY(model->checker->arena, const Property *, ANSWERS);
    }
    if (spec->usuals[id][answers] == NULL) {
        spec->usuals[id][answers] = usual_default(model, id, answers);
    }
    return spec->usuals[id][answers];
}

const Property *model_property(const Model *model, const Entity *entity, PropId id)
{
    const Property *stated = entity_property(entity, id);
    return stated != NULL ? stated : model_default_in(model, &entity->block, id);
}
