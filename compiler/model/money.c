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

bool money_rate(const Model *model, Str currency, Interval *rate)
{
    *rate = point(1.0);
    if (model->currency.length == 0 || str_equal(currency, model->currency)) {
        return true;
    }
    for (const Property *p = entity_property(model->boat, PROP_BOAT_RATE); p != NULL;
         p = block_next(&model->boat->block, p)) {
        const Value *number = property_value(p, 0);
        const Value *one = property_value(p, 1);
        const Value *per = property_value(p, 2);
        if (number->kind != VALUE_QUANTITY || number->flags & VALUE_BROKEN || one->kind != VALUE_WORD ||
            per->kind != VALUE_WORD || number->u.quantity.high <= 0.0) {
            continue;
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
    }
    return false;
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
