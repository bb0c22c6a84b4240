/*
 * Specs that are generated: texts, and in them, by chance that is the same every time, ranges, tolerances, bounds and holes in
 * place of quantities.
 */
#ifndef TESTS_GENERATE_H
#define TESTS_GENERATE_H

#include "compile.h"

enum { MOST_HOLES = 400 };

typedef enum Form {
    FORM_AS_IT_IS,
    FORM_RANGE,
    FORM_TOLERANCE,
    FORM_AT_LEAST,
    FORM_AT_MOST,
    FORM_HOLE,
    FORMS
} Form;

/* A value in the text, from `start` to `end`. */
typedef struct Hole {
    size_t start, end;
    Str thing; /* on which it stands */
    PropId prop;
    unsigned slot;
    UnitPair unit;
    Str unit_text; /* as it stands in the text; a currency for money */
    bool size, whole, decided;
    double usual;          /* what stood there before, in its unit */
    const char *undecided; /* how it is written in the spec with ranges */
    double low, high;      /* in its unit; may be infinite */
    const char *written;   /* what is put there now */
} Hole;

typedef struct Generated {
    Arena arena;
    Str text; /* before anything was replaced */
    Hole holes[MOST_HOLES];
    int count;
} Generated;

/**
 * The text of spec `number`: a demo boat, an example of a rule, or a boat of the schema's own examples. seed is drawn from,
 * and moved on, by all of these functions.
 */
Str generate_base(Arena *arena, int number, uint64_t *seed);

enum { RICH_BASES = 3 };
/** A spec with much in it: mains by several ways, a plan, a boat of the project with its choices. */
Str generate_rich(Arena *arena, int number);

/** A file of the project, which must be there. */
Str generate_read(Arena *arena, const char *path);

/** Finds where values stand in g->text, which is set. */
void generate_holes(Generated *g);
/** Makes some of them undecided; one that makes a mistake of the spec, such as one beyond a limit, is taken back. */
void generate_ranges(Generated *g, uint64_t *seed);

/** The text with what is written in each hole. */
const char *generated_text(Generated *g);
/** Writes in each hole what it was made: undecided, or as it was. */
void generate_undecided(Generated *g);
/** Writes in each hole that is undecided one value of what it may be. */
void generate_exact(Generated *g, uint64_t *seed);

/** A value in the unit of a hole, between two texts; the unit is left out where something follows. */
const char *hole_number(Generated *g, const Hole *hole, double value, const char *before, const char *after);

#endif
