/*
 * What is bought by the metre and by the piece for the things of the spec, and is no thing of the spec itself: cable by
 * size with its terminals, fuses and breakers by sort, hose by bore with its clamps, elbows and tails, chain and rope of anchors.
 *
 * Knows the feeds and hoses of one case and their figures; must not know how they are printed.
 */
#ifndef GARBOARD_OUTPUT_MATERIALS_H
#define GARBOARD_OUTPUT_MATERIALS_H

#include "rules/outcome.h"

/** All of one sort. */
typedef struct Material {
    Str name;          /* "cable-6-mm2" */
    const char *title; /* "Cable, 6 mm2, in metres of single conductor" */
    const char *kind;  /* "cable", "battery" (a link of one to the next), "terminal", "protection", "hose-by-the-metre", "clamp", "fitting", "chain", "rope" */
    System system;
    Interval count;    /* m, or ft in a boat that is stated in feet, rounded up, with what is wasted; or pieces */
    UnitPair length;   /* which; none for pieces */
    uint64_t cases;    /* that need some of it: bit i is case i */
    double order_by_s; /* the first day by which it is to be ordered for one of the things that it is for; infinite: none says */
    struct Material *next;
} Material;

/**
 * In the order of kinds, then sizes. to_buy: without those that must be had already, as the thing that they are for is
 * fitted, or is nothing but they (a circuit, a hose) and was ordered.
 */
Material *materials_of(Arena *arena, const Case *of, bool to_buy);

/** Whether a thing is nothing but its cable or its hose, which is listed here: a circuit, a hose, a fuel line. */
bool material_is_thing(const Entity *entity);
/** Whether what is listed here may be in a thing's price: it is nothing but that, or an anchor with its chain or rope. */
bool material_is_below(const Entity *entity);
/** Whether a material is a fuse, by its title: no breaker, and not what a fuse is put in. */
bool material_is_fuse(const Material *material);

#endif
