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
    bool names; /* a value is a name, or a block */
    bool first_quantity; /* the row's limits hold for the first quantity alone */
} Match;

/** The kinds of terms that each kind of atom can begin with, a bit each. */
extern const uint32_t match_first_terms[];
/** Whether the atom takes the word that stands next. */
bool match_takes_word(const Match *m, const Atom *atom);
/** Whether the next term can begin this atom, judged by its looks alone. */
static inline bool match_begins(const Match *m, const Atom *atom)
{
    NodeKind kind = cursor_kind(&m->cursor);
    bool any_word = kind != NODE_WORD || atom->kind == ATOM_REFERENCE;
    return match_first_terms[atom->kind] >> kind & 1 && (any_word || match_takes_word(m, atom));
}
/** The place of one value more, behind all others; it is empty. */
Value *match_append(Match *m);
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
