/*
 * The wiring as a drawing sees it: who feeds whom as trees, cut into sections that fit a page.
 *
 * A bar shares current out (bank, bus, panel, switch); a way is a cable to something that does not; a link
 * stands for a bar that is drawn elsewhere. Knows feeds and heights in millimetres, nothing of SVG.
 */
#ifndef GARBOARD_OUTPUT_DIAGRAM_TREE_H
#define GARBOARD_OUTPUT_DIAGRAM_TREE_H

#include "output/book_wire.h"

enum {
    DIAGRAM_COLUMNS = 2,     /* bars side by side; a deeper one is cut off */
    DIAGRAM_MOST_LOADS = 24, /* drawn of one way; more are told in words */
};

/* Heights in mm. */
#define DIAGRAM_ROW 12.5
#define DIAGRAM_SOURCE 15.5 /* a row of what makes power: a name above, a symbol, two lines below */
#define DIAGRAM_HEAD 5.0 /* above the first row of a bar: its label */
#define DIAGRAM_LOAD 6.4 /* from one load to the next */
#define DIAGRAM_PASSED 8.0 /* from the inverter that lets a way through to the first load of that way */

typedef enum SpotKind { SPOT_BAR, SPOT_WAY, SPOT_LINK } SpotKind;

/* What uses the cable of a way; inside: it hangs on the one before (a load on an outlet). */
typedef struct SpotLoad {
    const Entity *entity;
    bool inside;
    struct SpotLoad *next;
} SpotLoad;

/* What makes power and feeds a bar, or the further source of a transfer switch; drawn at its left. */
typedef struct SpotSource {
    BookWire wire;
    bool elsewhere; /* its cable is drawn where it comes from */
    bool passed;    /* it is let through by the inverter whose bar this is */
    struct SpotSource *next;
} SpotSource;

typedef struct Spot {
    const Entity *entity;
    BookWire wire; /* the cable that leads to it */
    bool has_wire;
    const Entity *passed_by; /* a link: the inverter that lets its parent through; a way: the same, at its end */
    const Entity *through; /* a switch that is drawn in that cable, or NULL */
    SpotKind kind;
    struct Spot *parent; /* NULL: a root */
    struct Spot *children, *last_child, *next;
    SpotSource *sources, *last_source;
    unsigned source_count;
    SpotLoad *loads;
    unsigned load_count;
    unsigned depth;   /* 0: a root, or the bar of a section of its own */
    bool cut;         /* drawn in a section of its own, a link where it hangs */
    double height_mm; /* with everything that is drawn to its right; as a section, if it is cut */
    size_t page;      /* of a section: the first page that it is on */
    struct Spot *next_section;
} Spot;

typedef struct DiagramTree {
    const Book *book;
    const Model *model;
    bool ac;
    Spot **of_entity; /* indexed by Entity.index; NULL: not drawn as a spot */
    Spot **order;     /* givers before takers */
    size_t count;
    Spot *sections;      /* in the order of drawing, linked by next_section */
    const char **other_sheet; /* by Entity.index, of what makes the other current: "power-dc-2.svg" */
    const Entity **lost; /* takes power, but nothing says from where, or in a circle */
    size_t lost_count;
} DiagramTree;

/**
 * Builds the trees of one kind of current, and cuts them so that no section has more than DIAGRAM_COLUMNS
 * bars in a row.
 */
DiagramTree diagram_tree(const Book *book, bool ac, double page_height_mm);

/**
 * Of a switch that joins two sources and has nothing behind it, as one for an emergency: the source at its other end, seen from the
 * spot's own cable; or NULL.
 */
const Entity *spot_joins(const DiagramTree *tree, const Spot *spot);

/** Height of a child where it hangs: a link's, if it is cut. */
double spot_height(const Spot *spot);
/** What is drawn at the left of a bar that is the root of a section. */
double spot_root_height(const Spot *spot);
/**
 * Room above the first row of a bar that begins with this child, for its label; a bar as first child has its
 * own.
 */
double spot_head(const Spot *first);

#endif
