/*
 * What the steps of comparing two specs share. Private to compiler/tools/diff*.c.
 *
 * diff_side.c lists the things and options of each spec, diff_match.c pairs them, diff_value.c compares what
 * their properties say, diff_things.c tells where they differ, and choices, figures, findings and the bill
 * of materials have a file each. diff_text.c and diff_json.c write and compare nothing.
 */
#ifndef GARBOARD_TOOLS_DIFF_PARTS_H
#define GARBOARD_TOOLS_DIFF_PARTS_H

#include "tools/diff.h"

/* Of a property that only open options set: nothing is decided for the boat. Beside the flags of model.h. */
enum { PROPERTY_BY_OPTION = 1 << 7 };

/* One option of a choice of one spec. */
typedef struct DiffOption {
    const Choice *choice;
    uint32_t index; /* in the choice */
    NodeId node;
    bool picked;                /* the choice is decided, and for this one */
    bool open;                  /* the choice is not decided */
    struct DiffOption *partner; /* the option of that name of the choice of that name in the other spec */
    const Model *model;         /* one that takes it, or NULL */
} DiffOption;

/* A thing of one spec, or what one option sets on a thing. */
typedef struct DiffThing {
    const Model *model; /* the first that has it */
    const Entity *entity;
    DiffOption *option; /* that it stands in, or NULL */
    bool set;           /* not the thing: only what `option` sets on it */
    bool in_boat;       /* outside of options, or in a picked one */
    Block block;        /* its properties, whichever option is taken */
    struct DiffThing *partner;
    struct DiffThing *next_of_name;
    bool told;       /* it differs */
    uint32_t number; /* in DiffSide.things */
} DiffThing;

/* One of the two specs. */
typedef struct DiffSide {
    Outcome *outcome;
    const Model **models; /* of the cases; then some more, so that each option is taken by one */
    uint32_t model_count;
    DiffOption *options;
    uint32_t option_count;
    uint32_t
        *option_of; /* by NodeId, of options and the statements in them: 1 + index of the option; or NULL */
    uint32_t node_count;
    DiffThing **things; /* in the order of the spec, those in options behind the others */
    uint32_t thing_count, thing_capacity;
    DiffThing **by_name; /* by Symbol: the things of that name, linked by next_of_name */
    Symbol *other;       /* by Symbol: the name of that thing in the other spec; 0: it has none such */
    uint32_t symbol_count;
} DiffSide;

typedef enum DiffHow { DIFF_ADDED, DIFF_REMOVED, DIFF_CHANGED } DiffHow;

/* One property that differs. */
typedef struct DiffLine {
    DiffHow how;
    const char *property; /* "draw", "title", "kind" */
    const char *inside;   /* of one in a property's own block: "feeds positive"; or NULL */
    const char *before;   /* as it is written, on one line; NULL: not stated */
    const char *after;
    const char *assumed; /* what the schema takes where it is not stated, or NULL */
    const char *part;    /* the part that says it on both sides, or NULL */
    bool repeats;        /* a line of which there may be several */
    struct DiffLine *next;
} DiffLine;

/* A thing that differs. Where it is added or removed, the lines are all that it states. */
typedef struct DiffItem {
    DiffHow how;
    const DiffThing *before, *after; /* NULL where it is not there */
    const char *kind, *name;
    const char *was;   /* its name before, if that was another; or NULL */
    const char *title; /* may be empty */
    const char *where; /* "engine-size=stout", or NULL */
    const char *part;  /* of an added or removed thing: the part that it is, or NULL */
    bool set;
    DiffLine *lines;
    struct DiffItem *next;
} DiffItem;

/* A choice that differs; its lines are `pick`, `because`, `option lean`, `score mend of lean` ... */
typedef struct DiffChoice {
    DiffHow how;
    const char *name, *title;
    DiffLine *lines;
    struct DiffChoice *next;
} DiffChoice;

typedef struct DiffWaiver {
    const char *rule, *subject;
    const Waiver *before, *after; /* NULL where it is not there */
    struct DiffWaiver *next;
} DiffWaiver;

/* A figure over all cases of its spec. */
typedef struct DiffFigureSide {
    const Case *of; /* the first case that has it; NULL: it is not there */
    Figure figure;
    const char *text;
} DiffFigureSide;

/* A figure that moved, or that only one of the specs has. */
typedef struct DiffFigure {
    const char *subject;
    const char *was; /* the subject's name before, if that was another; or NULL */
    const char *title;
    const char *name; /* "endurance@anchored" */
    DiffFigureSide before, after;
    bool of_boat;
    bool shown; /* of a bank, a tank or a thing that differs: not only in the JSON */
    struct DiffFigure *next;
} DiffFigure;

/* What a goal has come to. */
typedef struct DiffGoal {
    const char *name, *title;
    const char *before, *after; /* "met", "open", "missed", "not judged"; NULL: no such goal */
    struct DiffGoal *next;
} DiffGoal;

/* A finding that is new, gone, or in another state. */
typedef struct DiffFinding {
    const Finding *before, *after; /* NULL where it is not there */
    struct DiffFinding *next;
} DiffFinding;

typedef struct DiffFindingList {
    DiffFinding *first, *last;
    uint32_t count;
} DiffFindingList;

typedef struct DiffFindings {
    DiffFindingList fresh, gone, changed;
    uint32_t still;    /* in the same state as before ... */
    uint32_t reworded; /* ... of which so many say something else: their numbers moved */
} DiffFindings;

/* A line of the bill of materials that differs. */
typedef struct DiffBom {
    DiffHow how;
    const char *name, *title;
    const char *was;
    const char *where; /* "engine-size=stout", or NULL */
    DiffLine *lines;   /* `count`, `price`, `status` ...: those that differ, or of an added one all */
    struct DiffBom *next;
} DiffBom;

struct Diff {
    Arena *arena;
    DiffSide before, after;
    DiffItem *items; /* added, removed, then what changed, each in the order of its spec */
    DiffChoice *choices;
    DiffWaiver *waivers;
    DiffFigure *figures;
    DiffBom *bom;
    DiffGoal *goals;
    DiffFindings findings;
};

/* The steps, in this order. */
void diff_list_sides(Diff *diff); /* diff_side.c: options, models, things */
void diff_match(Diff *diff);      /* diff_match.c: names and partners */
void diff_find_things(Diff *diff);
void diff_find_choices(Diff *diff); /* choices and waivers */
void diff_find_figures(Diff *diff);
void diff_find_bom(Diff *diff);
void diff_find_findings(Diff *diff); /* findings and goals */

/* diff_side.c */

/** The option that a statement stands in, or NULL. */
DiffOption *side_option_of(const DiffSide *side, NodeId node);
const Symbols *side_symbols(const DiffSide *side);
/** "engine-size=stout", or NULL for no option. */
const char *option_path(Arena *arena, const DiffSide *side, const DiffOption *option);
/** The name of a thing in the arena. */
const char *thing_name(Arena *arena, const DiffThing *thing);

/* diff_match.c */

/** The thing of that name that is in the boat, or NULL. */
DiffThing *side_boat_thing(const DiffSide *side, Symbol name);
/** The name that a thing of the old spec has in the new one; 0 if there is none such. 0 gives 0. */
Symbol name_after(const Diff *diff, Symbol before);

/* diff_value.c */

/** The properties in a property's own block; an empty block where it has none. */
const Block *property_block(const Property *property);

/** What a property says, in the owner's words on one line, its own block behind it if asked for. */
const char *property_words(const Diff *diff, const DiffThing *thing, const Property *property,
                           bool with_block);
/** Whether two properties say the same, their own blocks left out unless they are asked for. */
bool property_same(const Diff *diff, const DiffThing *before, const Property *a, const DiffThing *after,
                   const Property *b, bool with_block);
/** Whether the first values are the same. */
bool property_same_first(const Diff *diff, const DiffThing *before, const Property *a, const DiffThing *after,
                         const Property *b);
/** Within 1e-9 of each other, as the judge forgives. */
bool numbers_same(double a, double b);

/* diff_line.c */

/** Puts a line behind the last of a list. */
void diff_add_line(Diff *diff, DiffLine **list, DiffLine line);
/** A line for two texts that differ; none if they are equal. NULL: not stated. */
void diff_add_texts(Diff *diff, DiffLine **list, const char *property, const char *before, const char *after);

/* What the writers share. */

/** "fault", "open (warning)", "fault, waived", "open (fault), only with engine-size=lean" */
const char *finding_state(Arena *arena, const Finding *finding);
/** What a figure has changed by at one end, in the unit of the new value; false if that cannot be said. */
bool figure_change(const DiffFigure *figure, bool high, double *change, double *percent);

#endif
