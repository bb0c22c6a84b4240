/*
 * Money in its currency. Values of the model are in the boat's currency, whatever they were written in; a bill for a
 * supplier is in the one that the supplier asks for.
 */
#ifndef GARBOARD_MODEL_MONEY_H
#define GARBOARD_MODEL_MONEY_H

#include "base/interval.h"
#include "model/model.h"

/** Whether a word has the form of a currency's code: three capitals, as in ISO 4217. */
bool money_is_code(Str word);

/** How many of `currency` one of the boat's is, by the boat's `rate` lines; false if none says. */
bool money_rate(const Model *model, Str currency, Interval *rate);

/** The boat's line that turns this amount to her currency, while it is a range; NULL: none, or a decided one. */
const Property *money_open_rate(const Model *model, const Value *value);

/** Whether an amount is one number as it is written, whatever the rate makes of it. */
bool money_is_decided(const Model *model, const Value *value);

/** The currency's code that an amount of money was written with; the boat's for one that has none. */
Str money_currency(const Model *model, const Value *value);

/** The amount in that currency, as it was written. The value is a quantity of money, and not broken. */
Interval money_as_written(const Model *model, const Value *value);

#endif
