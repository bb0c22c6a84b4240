/*
 * The cables of all combinations of the open choices, as they are cut and made: a cable that stands alike in several
 * combinations is one row, one that differs in anything a person wires by is a row for each of what it may be. Knows no
 * document.
 */
#ifndef GARBOARD_OUTPUT_WIRE_ROWS_H
#define GARBOARD_OUTPUT_WIRE_ROWS_H

#include "rules/options.h"

typedef struct WireRow {
    const Feed *feed;           /* as the first of its combinations has it */
    const Case *in;             /* that one */
    CaseSet cases;              /* all in which it stands so */
    const char *only_with;      /* the options that bring it so; NULL: it always stands so */
    struct WireRow *next;       /* rows of one cable stand together; else in the order of combinations and of the spec */
    struct WireRow *of_subject; /* the next one of the same subject */
    Str alike;                  /* what a person wires by */
} WireRow;

typedef struct WireRows {
    const Outcome *outcome;
    WireRow *first;
    WireRow **by_subject; /* indexed by Symbol: the first of that subject */
} WireRows;

/* A cable that is no feed, as it belongs to one thing alone: from the panels of an array to its controller, between batteries. */
typedef struct ThingRow {
    const Entity *thing;
    const Case *in;
    CaseSet cases;
    const char *only_with;
    struct ThingRow *next;
    Str alike;
} ThingRow;

/** Of each array that states the cable of its panels; NULL where none does. */
const ThingRow *panel_rows(Arena *arena, const Outcome *outcome);
/** Of each bank that states a fuse at each of its batteries. */
const ThingRow *battery_rows(Arena *arena, const Outcome *outcome);

/** Of every feed with a giver, and of inlets' own cables; shared ways too. */
const WireRows *wire_rows(Arena *arena, const Outcome *outcome);
/** The row of a feed of that model; NULL for one that wire_rows leaves out. */
const WireRow *wire_row_of(const WireRows *rows, const Model *model, const Feed *feed);

#endif
