/*
 * Water as a drawing sees it: from where it comes to where it ends, as trees that read from left to right.
 *
 * Fresh water: from a tank through its pump to every tap, the hot way apart from the cold; tanks that a hose joins. Waste: from the sea
 * or a sink through toilets, tanks and pumps until it leaves the boat. Knows who is joined to whom, and rows
 * and columns; nothing of SVG.
 */
#ifndef GARBOARD_OUTPUT_PIPEWORK_H
#define GARBOARD_OUTPUT_PIPEWORK_H

#include "figures/pipes.h"
#include "output/book_page.h"

typedef enum PipeIcon {
    ICON_NONE,
    ICON_TANK,
    ICON_PUMP,
    ICON_TAP,
    ICON_HEATER,
    ICON_TOILET,
    ICON_SEACOCK, /* an opening in the hull, with a seacock */
    ICON_HULL,    /* one without, or that does not say */
    ICON_DECK,    /* out by the deck: a vent, a pump-out */
    ICON_JOINT,   /* anything else that hoses lead to */
    ICON_AGAIN,   /* one that is drawn above */
    ICON_COUNT
} PipeIcon;

typedef struct PipeNode {
    PipeIcon icon;
    Str name, more;      /* what stands beside the icon */
    Str edge, edge_more; /* over and under the hose that leads to it */
    Str loop;            /* height of a vented loop in that hose */
    bool has_loop;
    bool hot;
    unsigned column;
    unsigned row; /* that of its first child */
    struct PipeNode *parent, *children, *last_child, *next;
    struct PipeNode *next_drawn; /* all nodes, in the order of rows */
} PipeNode;

typedef struct Pipework {
    const Book *book;
    PipeNode *first, *last;
    unsigned rows, columns;
    bool *drawn; /* what stands in it, by Entity.index; of fresh water alone */
} Pipework;

Pipework pipework_fresh(const Book *book);
Pipework pipework_waste(const Book *book);

#endif
