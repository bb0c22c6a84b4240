/*
 * The manual's own notation for a property's terms ("Q(A) at Q(V) [from source]", see schema.h), compiled for matching.
 * A shape is a flat list of items; an optional part or a list is a pair of begin and end items around its content.
 */
#ifndef GARBOARD_LANGUAGE_SHAPE_H
#define GARBOARD_LANGUAGE_SHAPE_H

#include "base/arena.h"
#include "base/buf.h"
#include "language/schema.h"
#include "language/unit.h"

typedef enum AtomKind {
    ATOM_QUANTITY,  /* one of up to four units names the dimension(s); the first is the natural unit */
    ATOM_REFERENCE, /* the name of a thing of one of `things` */
    ATOM_WORD,      /* one of `words`, or any word if there are none */
    ATOM_TEXT,
    ATOM_DATE,
    ATOM_CLOCK,     /* 18:00..23:00 */
    ATOM_YES_NO,
    ATOM_MONTH,
} AtomKind;

typedef struct Atom {
    uint8_t kind;       /* AtomKind */
    uint8_t unit_count; /* ATOM_QUANTITY */
    bool money;         /* ATOM_QUANTITY: Q(money) */
    bool size;          /* ATOM_QUANTITY: Q(size), a conductor size; units[0] is mm2 */
    UnitPair units[4];
    KindSet things;     /* ATOM_REFERENCE */
    const Str *words;   /* ATOM_WORD */
    uint16_t word_count;
} Atom;

typedef enum ItemKind {
    ITEM_ATOM,         /* one value, to slot `slot`: any of `atoms` */
    ITEM_CONNECTING,   /* the word `word` */
    ITEM_OPTION,       /* up to item `end` may be left out */
    ITEM_OPTION_END,
    ITEM_LIST,         /* up to item `end` one or more times, with commas between */
    ITEM_LIST_END,
} ItemKind;

typedef struct ShapeItem {
    uint8_t kind;       /* ItemKind */
    uint8_t slot;       /* ITEM_ATOM */
    uint8_t atom_count; /* ITEM_ATOM */
    uint8_t end;        /* ITEM_OPTION, ITEM_LIST: index of the matching end */
    const Atom *atoms;  /* ITEM_ATOM */
    Str word;           /* ITEM_CONNECTING */
} ShapeItem;

typedef struct Shape {
    const ShapeItem *items;
    uint8_t item_count;
    uint8_t slots;      /* how many atoms */
    bool list;          /* has a list: the number of values is not fixed */
    bool quantity;      /* takes a quantity somewhere: how well it is known can be told */
} Shape;

enum { SHAPE_SLOTS = 1024 }; /* a power of two, some times as many as there are notations */

/** Compiled shapes, made when first asked for. */
typedef struct Shapes {
    Arena *arena;
    const Shape *compiled[PROP_COUNT];
    /* By the address of the notation: the compiler keeps one copy of equal literals, and `Y` is the shape of many. */
    struct {
        const char *notation;
        const Shape *shape;
    } same[SHAPE_SLOTS];
} Shapes;
Shapes *shapes_new(Arena *arena);
/** The shape of a property that is asked for the first time. */
const Shape *shapes_compile(Shapes *shapes, PropId prop);
static inline const Shape *shapes_get(Shapes *shapes, PropId prop)
{
    const Shape *shape = shapes->compiled[prop];
    return shape != NULL ? shape : shapes_compile(shapes, prop);
}

/** A shape in words for messages and the manual: "a current [at a voltage]", "one of lifepo4, agm, gel or flooded". */
void shape_describe(Buf *buf, const Shape *shape);
/**
 * How a property is written, without a value of anybody's boat: "waterline ... m", "ordered YYYY-MM-DD", "gauge yes or no".
 * What may be left out is. In feet it is told in the units of a boat that is stated in feet: "waterline ... ft".
 */
void shape_form(Buf *buf, PropId prop, const Shape *shape, bool in_feet);
/** One atom in words: "a length", "the name of a tank or a through-hull", "yes or no". */
void atom_describe(Buf *buf, const Atom *atom);

/** False and *why set if a notation is malformed; a test runs it over the whole table. */
bool shape_check(const char *notation, const char **why);

#endif
