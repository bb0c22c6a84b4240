/*
 * What is bought by the metre and by the piece, gathered by sort until it is listed: shared by what lists cables (materials.c), hoses
 * (materials_hose.c) and what anchors hang on (materials_anchor.c), and by nothing else.
 */
#ifndef GARBOARD_OUTPUT_MATERIAL_SORTS_H
#define GARBOARD_OUTPUT_MATERIAL_SORTS_H

#include "output/materials.h"

/* What is wasted by cutting: common practice, no source. */
#define MATERIAL_WASTE 1.1
#define MATERIAL_PIECES ((UnitPair){UNIT_NONE, UNIT_NONE})

/* Things of one sort, to be bought together. */
typedef struct Sort {
    const char *text; /* "6 mm2", "30 A breaker hydraulic" */
    const char *shown; /* of hose, as the trade writes it: "3/4 in", where `text` is "0.75 in"; NULL: as `text` */
    double order;     /* sorts are listed by this, then by text */
    Interval count;   /* m, or pieces */
    uint32_t feeds;
    uint32_t unstated; /* feeds whose run is not stated */
    uint32_t chosen;   /* feeds that Garboard has sized */
    double order_by_s; /* the earliest of what it is for */
    bool climate;      /* of hose: for gas, which is no matter of water */
} Sort;

/* Texts are interned, and the n-th text is the n-th sort until they are put in order. */
typedef struct Sorts {
    Arena *arena;
    Symbols *texts;
    Sort *list;
    size_t count, capacity;
} Sorts;

/* The materials that are listed so far. */
typedef struct List {
    Arena *arena;
    UnitPair length; /* what lengths are told in */
    Material *first;
    Material **end;
} List;

Sorts sorts_new(Arena *arena);
/** The sort of that text, a new one where there is none yet. */
Sort *sorts_get(Sorts *sorts, const char *text, double order);
void sorts_put_in_order(Sorts *sorts);
/** One row more: so much of a sort. */
void add_material(List *list, const Sort *sort, const char *name, Material material);
/** What it is made of must be aboard: it is fitted, or it was this that was ordered. */
bool is_had(const Entity *entity);
/** The sort is needed by the day by which the thing has to be ordered. */
void note_day(Sort *sort, const Case *of, const Entity *entity);
/** In the list's unit, rounded up. */
Interval whole_lengths(const List *list, Interval length_m);
const char *length_word(const List *list);
/** By Entity.index, what a hose leads to or from. */
bool *joined_by_hoses(Arena *arena, const Model *model);
/** Hose, clamps, elbows and tails: materials_hose.c. */
void list_hoses(List *list, const Case *of, bool to_buy);
/** Chain and rope of anchors: materials_anchor.c. */
void list_anchor_lines(List *list, const Case *of, bool to_buy);

#endif
