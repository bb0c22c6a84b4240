/*
 * Numbers as they are written, before their units: decimals, fractions, a whole number and a fraction, the noughts of a
 * conductor's gauge. Private to compiler/model/.
 */
#ifndef GARBOARD_MODEL_NUMBER_H
#define GARBOARD_MODEL_NUMBER_H

#include "model/checker.h"

/* A number as written, before its unit. */
typedef struct Number {
    double value;
    int aught;    /* of `2/0`: 2; else 0 */
    double over, under; /* of a fraction without a whole number before it; under is 0 for any other */
    bool parts;   /* written with a `/`; of `2/0` too */
    bool written; /* false: nothing was there, or a message was given */
} Number;

/** A message of that text. */
Message *checker_tell(Checker *checker, MessageId id, Span at, const char *text);
/** Tells a number that is greater than anything aboard; false, to be handed on. */
bool number_tell_too_long(Checker *checker, Span at);
/** Tells a division by 0; false, to be handed on. */
bool number_tell_no_fraction(Checker *checker, Span at);
/** Reads a number; false after a message. */
bool number_read(Checker *checker, Cursor *cursor, Number *number);

#endif
