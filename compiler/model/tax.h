/*
 * Tax in prices: value added tax, or sales tax. A price or a quote says by a word whether tax is in it, else its supplier does by
 * `prices`; left out, it is. The rate is the supplier's, else the boat's. A price without tax has it added when a model is built,
 * so that all sums are with tax, as all are in the boat's currency.
 */
#ifndef GARBOARD_MODEL_TAX_H
#define GARBOARD_MODEL_TAX_H

#include "base/interval.h"
#include "model/model.h"

/** Who states the rate for what a thing costs: its supplier or the boat; NULL: nobody. *prop is which property. */
const Entity *tax_stated_by(const Model *model, const Entity *thing, PropId *prop);
/** That rate; false where nobody states one, or with a mistake. */
bool tax_rate(const Model *model, const Entity *thing, Interval *rate);
/** Whether a price or quote of a thing is written without tax. */
bool tax_is_to_add(const Entity *thing, const Property *price);
/** Whether the boat, or a supplier, states a rate. */
bool tax_is_told(const Model *model);
/** Adds tax to the prices and quotes of a model that are without it; one of which no rate is known is a mistake. */
void tax_add(Model *model);
/** The same of one thing: of what was bought for options that are not taken, which is in no list. */
void tax_add_to(Model *model, Entity *thing);

/**
 * By what an amount in the boat's currency, tax in it, is multiplied to be as it is written, and the currency of that; 1 and the
 * boat's where a rate is a range: nobody can tell then.
 */
double tax_as_written(const Model *model, const Entity *thing, const Property *price, const Value *value, Str *currency);

#endif
