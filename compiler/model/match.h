/*
 * Matching the terms of one property with the shape that the schema gives it. Private to compiler/model/: match.c knows
 * shapes and lists, match_atom.c what one term may be and what to say of one that may not.
 */
#ifndef GARBOARD_MODEL_MATCH_H
#define GARBOARD_MODEL_MATCH_H

#include "model/checker.h"

/* Values of one property as they are matched. */
typedef struct Match {
    Checker *checker;
    Cursor cursor;
    const Shape *shape;
    const PropRow *row;
    const Entity *entity; /* the thing, for names in options */
    Value *values;
    uint32_t count;
    uint32_t capacity;
    bool list;
    bool first_quantity; /* the row's limits hold for the first quantity alone */
} Match;

/** Whether the next term can begin this atom, judged by its looks alone; `loosely`, if another word stands there. */
bool match_begins(const Match *m, const Atom *atom, bool loosely);
/** A place for one more value: of a list the next, else that of the slot. */
Value *match_add_value(Match *m, uint8_t slot);
/** A message about the term at hand. */
Message *match_tell(Match *m, MessageId id, const char *what);
/** What would be right: the example of the schema. */
void match_right_example(Match *m, Message *message);
/** Tells that something else has to stand here; false, to be handed on. */
bool match_tell_expected(Match *m, const ShapeItem *item);
/** Reads the value of one atom; false after a message. */
bool match_atom(Match *m, const Atom *atom, uint8_t slot);

/** Reads the terms of one property; first is its first term behind the property's word. */
Property property_read(Checker *checker, NodeId statement, NodeId first, PropId id, const Entity *entity);

#endif
