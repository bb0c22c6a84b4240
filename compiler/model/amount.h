/*
 * Amounts: one number in its unit, turned to SI; what a quantity is made of. Private to compiler/model/.
 */
#ifndef GARBOARD_MODEL_AMOUNT_H
#define GARBOARD_MODEL_AMOUNT_H

#include "base/interval.h"
#include "model/number.h"

/* An amount: a number in a unit. */
typedef struct Amount {
    Number number;
    UnitPair unit;
    bool money;
    Str currency;
    bool has_unit;
    double si;
    Span unit_span;
} Amount;

/**
 * Reads a number and its unit, which it `may_lack` where another amount of the quantity states it; false
 * after a message.
 */
bool amount_read(Checker *checker, Cursor *cursor, const QuantityPlace *place, bool may_lack, Amount *amount);
/** Adds the inches behind an amount in feet, where some stand there. */
bool amount_read_inches(Checker *checker, Cursor *cursor, const QuantityPlace *place, Amount *amount, Interval *si);
/** Turns an amount to SI; a unit that is lacking is the one of `other`. False after a message. */
bool amount_finish(Checker *checker, Amount *amount, const Amount *other, const QuantityPlace *place, Span at,
                   Interval *si);

#endif
