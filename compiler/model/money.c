/* See money.h. */
#include "model/money.h"

#include <math.h>

bool money_is_code(Str word)
{
    if (word.length != 3) {
        return false;
    }
    for (size_t i = 0; i < 3; i++) {
        if (word.text[i] < 'A' || word.text[i] > 'Z') {
            return false;
        }
    }
    return true;
}

/* Of one line: how many of `currency` one of the boat's is; false if it says nothing of that. */
static bool rate_of_line(const Model *model, const Property *line, Str currency, Interval *rate)
{
    const Value *number = property_value(line, 0);
    const Value *one = property_value(line, 1);
    const Value *per = property_value(line, 2);
    if (number->kind != VALUE_QUANTITY || number->flags & VALUE_BROKEN || one->kind != VALUE_WORD ||
        per->kind != VALUE_WORD || number->u.quantity.high <= 0.0) {
        return false;
    }
    Interval stated = {number->u.quantity.low, number->u.quantity.high};
    if (str_equal(one->u.word, currency) && str_equal(per->u.word, model->currency)) {
        *rate = stated;
        return true;
    }
    if (str_equal(per->u.word, currency) && str_equal(one->u.word, model->currency)) {
        *rate = interval_divide(point(1.0), stated);
        return true;
    }
    return false;
}

/* The line that says so; NULL where none does, and none is needed. */
static const Property *rate_line(const Model *model, Str currency, Interval *rate)
{
    const Property *line = entity_property(model->boat, PROP_BOAT_RATE);
    while (line != NULL && !rate_of_line(model, line, currency, rate)) {
        line = block_next(&model->boat->block, line);
    }
    return line;
}

bool money_rate(const Model *model, Str currency, Interval *rate)
{
    *rate = point(1.0);
    return model->currency.length == 0 || str_equal(currency, model->currency) || rate_line(model, currency, rate) != NULL;
}

const Property *money_open_rate(const Model *model, const Value *value)
{
    if (entity_property(model->boat, PROP_BOAT_RATE) == NULL || !(value->flags & VALUE_MONEY) || value->node == 0 || !value_is_range(value)) {
        return NULL; /* nothing turns it, or it is one number, whatever it was turned by */
    }
    Interval rate;
    Str currency = money_currency(model, value);
    const Property *line = str_equal(currency, model->currency) ? NULL : rate_line(model, currency, &rate);
    return line != NULL && value_is_range(property_value(line, 0)) ? line : NULL;
}

bool money_is_decided(const Model *model, const Value *value)
{
    Interval written = money_as_written(model, value);
    return written.high - written.low <= 1e-9 * written.high; /* but for what turning it there and back leaves */
}

Str money_currency(const Model *model, const Value *value)
{
    const Tree *tree = model->tree;
    for (NodeId at = value->node; at != 0 && at < tree->count && tree_kind(tree, at) >= NODE_WORD; at++) {
        if (tree_kind(tree, at) == NODE_WORD && money_is_code(tree_text(tree, at))) {
            return tree_text(tree, at);
        }
    }
    return model->currency;
}

Interval money_as_written(const Model *model, const Value *value)
{
    Interval rate;
    Interval amount = {value->u.quantity.low, value->u.quantity.high};
    bool known = money_rate(model, money_currency(model, value), &rate);
    /* The low end was divided by the highest rate, the high end by the lowest. */
    if (!known) {
        return amount;
    }
    double low = amount.low > 0.0 ? amount.low * rate.high : 0.0; /* no NaN of a rate without a bound */
    return interval(low, isfinite(amount.high) ? amount.high * rate.low : INFINITY);
}
