/*
 * The schema: every kind of thing, every property, its shape, its default, one line of help. One table (schema.def)
 * that the checker, "did you mean", the formatter, the manual and the defaults all read. A new property is one row.
 *
 * schema.def is a list of these, in the order in which the manual prints them:
 *
 *   KIND(ID, "word", .groups = ..., .system = SYSTEM_X, .help = "...", .example = "...")
 *       a kind of thing. Its own properties follow it as PROP rows. `.groups` are the shared property groups it also takes.
 *   GROUP(ID, "word", .help = "...")
 *       a shared group of properties, or the inside of a property's own block; not a kind of thing.
 *   PROP(OWNER, ID, "word", "shape", .required = true, .repeats = true, ...)
 *       a property of kind or group OWNER. The same word may occur under several owners with different shapes.
 *
 * Shape notation (shape.h compiles it): items separated by blanks.
 *   Q(l)        a quantity, of the dimension of that unit; `Q(A/W)`... is the unit A/W; alternatives of unit: Q(A|W)
 *   Q(1)        a plain number        Q(money) money          Q(size) a conductor size (mm2, AWG, SAE)
 *   R(a|b)      the name of a thing of one of these kinds;  R(*) of any kind;  R(%sources) etc. see KIND_SETS in schema.c
 *   W(a|b)      one of these words    W(*) any word (a currency, a network word)
 *   T text in quotes    D date    H clock range 18:00..23:00    Y yes or no    M a month name (january .. december)
 *   word        a connecting word, written as it is: at, from, per, by, on, of, to, for, ...
 *   X|Y         one or the other atom, no blanks: Q(h|%)|H
 *   [ ... ]     may be left out (blanks around the brackets)
 *   { ... },    one or more, separated by commas
 * Values go to slots, numbered from 0 in the order of the atoms in the shape (connecting words have none).
 */
#ifndef GARBOARD_LANGUAGE_SCHEMA_H
#define GARBOARD_LANGUAGE_SCHEMA_H

#include "base/arena.h"
#include "base/str.h"

#include <stdbool.h>
#include <stdint.h>

typedef enum System {
    SYSTEM_NONE,
    SYSTEM_POWER,
    SYSTEM_WATER,
    SYSTEM_DRIVE,
    SYSTEM_NAVIGATION,
    SYSTEM_CLIMATE,
    SYSTEM_SAFETY,
    SYSTEM_CABIN,
    SYSTEM_HULL,
    SYSTEM_COUNT
} System;

/* Bits for `.groups`. GROUPS_LOAD: the own properties of kind `load`, which is a kind and a group in one. */
enum {
    GROUPS_NONE = 0,
    GROUPS_COMMON = 1 << 0, /* a physical thing: price, mass, place, status ... */
    GROUPS_FEED = 1 << 1,   /* takes power: fed-by, run, wire, protect ... */
    GROUPS_LOAD = 1 << 2,   /* draws power of its own: draw, surge, use ... */
    GROUPS_MAKER = 1 << 3,  /* gives power: feeds ... */
    GROUPS_NETWORK = 1 << 4,/* sits on a data network */
    GROUPS_SPARK = 1 << 5,  /* may set fire to petrol vapour: ignition-protected */
};

/* Whether a quantity may be zero or negative. The default, zero, is `not negative`. */
typedef enum Sign { SIGN_NOT_NEGATIVE, SIGN_POSITIVE, SIGN_ANY, SIGN_NOT_POSITIVE } Sign;

typedef struct KindRow {
    const char *word;
    const char *help;    /* one line: what such a thing is */
    const char *example; /* a short block that compiles inside a boat; for the manual */
    uint16_t groups;
    uint8_t system;      /* System that it belongs to unless the spec says otherwise */
    bool single;         /* at most one in a boat (boat) */
    bool group;          /* a GROUP row */
} KindRow;

/* Of a limit, `<=` before the most and `>=` before the least say what it is, and leave nothing undecided. */
typedef enum PropLimit { LIMIT_NONE, LIMIT_MOST, LIMIT_LEAST } PropLimit;

/* Another default, where the property that a row's `usual_by` names says this: a word, or a whole number. */
typedef struct PropUsual {
    const char *says, *assumed;
} PropUsual;

enum { USUALS_MOST = 2 };

typedef struct PropRow {
    uint8_t owner;         /* KindId */
    const char *word;
    const char *shape;
    const char *help;      /* one line */
    const char *example;   /* one statement as it would be written */
    const char *assumed;   /* the terms taken if it is left out, as they would be written; NULL: no default */
    const char *authority; /* who says so; required with `assumed` */
    PropUsual usual[USUALS_MOST]; /* what is taken instead, by what `usual_by` says; the same authority; NULL: none */
    uint16_t usual_by;     /* a PropId of the same owner; only with `assumed` */
    double least, most;    /* limits of the first quantity, in the unit that the shape names first for it; 0: none */
    double most_second;    /* of a value in the unit that the shape names second, where that measures something else; 0: none */
    uint8_t later_slot;    /* the slot of one more quantity that has limits; 0: none */
    double later_least, later_most; /* in the unit that the shape names first for that one; 0: none */
    uint8_t sign;          /* Sign */
    bool later_nought;     /* quantities behind the first may be 0 whatever the sign of the row is */
    uint16_t spared_by;    /* the PropId that makes a required one needless ... */
    const char *spared_word; /* ... if it says that word; NULL: whatever it says */
    bool required;
    bool repeats;
    uint8_t block;         /* KindId of the GROUP whose properties stand in this property's own block, or 0 */
    bool whole;            /* a whole number */
    bool electric;         /* a power taken of a supply: horsepower is a mistake */
    uint8_t limit;         /* PropLimit: the first quantity is itself the most or the least that may be */
} PropRow;

typedef enum KindId {
    KIND_NONE,
#define KIND(ID, ...) KIND_##ID,
#define GROUP(ID, ...) KIND_##ID,
#define PROP(...)
#include "language/schema.def"
#undef KIND
#undef GROUP
#undef PROP
    KIND_COUNT
} KindId;

typedef enum PropId {
    PROP_NONE,
#define KIND(...)
#define GROUP(...)
#define PROP(OWNER, ID, ...) PROP_##OWNER##_##ID,
#include "language/schema.def"
#undef KIND
#undef GROUP
#undef PROP
    PROP_COUNT
} PropId;

extern const KindRow kinds[KIND_COUNT];
extern const PropRow props[PROP_COUNT];

/** Whether a default only says how a spec is read ("one", "nothing runs"), and guesses nothing about the boat. */
bool schema_is_plain(const PropRow *row);
/** The kind of that word (GROUP rows are not found), or KIND_NONE. */
KindId schema_find_kind(Str word);
/** What is taken where a property is left out, as a text: "3 l; with `worked-by vacuum` 1 l". NULL: nothing is. */
const char *schema_assumed_text(Arena *arena, PropId prop);
/** Whether a thing of `kind` may have this property (its own, or of one of its groups). */
bool schema_has(KindId kind, PropId prop);
/** The property of that word for that kind or group, or PROP_NONE. Linear in the kind's properties. */
PropId schema_find_prop(KindId kind, Str word);
/** Steps through the properties of a kind, own ones first: start with PROP_NONE; PROP_NONE at the end. */
PropId schema_next_prop(KindId kind, PropId previous);
const char *system_word(System system); /* "power" ... */
System system_find(Str word);           /* SYSTEM_NONE if there is none */

/** Kinds that a set name in R(%...) stands for, or that have a group: bit k of word k/64 is kind k. */
typedef struct KindSet {
    uint64_t bits[2];
} KindSet;
static inline bool kind_set_has(KindSet set, KindId kind)
{
    return set.bits[kind / 64] >> (kind % 64) & 1;
}
void kind_set_add(KindSet *set, KindId kind);
KindSet kind_set_every(void);
KindSet kind_set_things(void); /* what can be bought and stands aboard: "things" */
/** The set of that name ("sources", without the %); false if there is none. */
bool kind_set_find(Str name, KindSet *set);

#endif
