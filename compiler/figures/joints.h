/*
 * What lies at the far ends of a pipe that other pipes lead on from: through joints, which are whatever an `item` stands for in a
 * pipe (a T, a valve, an elbow, a manifold, a bubble tester) and strainers. A joint takes nothing from what flows and adds
 * nothing to it, so no rule may end at one.
 */
#ifndef GARBOARD_FIGURES_JOINTS_H
#define GARBOARD_FIGURES_JOINTS_H

#include "figures/plumbing.h"

/* Which of the hoses at a joint are followed. */
typedef enum Follow {
    FOLLOW_ON,   /* those that lead on from it: where the water goes */
    FOLLOW_BACK, /* those that lead to it: where the water comes from */
    FOLLOW_BOTH, /* gas, and a level that evens out, ask for no direction */
} Follow;

enum { ENDS_MOST = 64 };

/* What is at the ends, the nearest first; a joint at which nothing more is stated is an end itself. */
typedef struct FarEnds {
    const Entity *things[ENDS_MOST];
    const Entity *hoses[ENDS_MOST]; /* of each: the hose that leads to it; NULL: it is where the look began */
    uint32_t count;
} FarEnds;

bool is_joint(const Entity *thing);
/**
 * From `at`, one end of a hose or of a fuel line, to all that is reached by joints without coming back through that pipe; itself,
 * if it is no joint. Nothing is reached that is not aboard. `at` may be NULL: then there is none.
 */
void joint_ends(const Plumbing *plumbing, const Entity *pipe, const Entity *at, Follow follow, FarEnds *ends);
bool is_end(const FarEnds *ends, const Entity *thing);
/** The first of a kind among the ends; NULL: there is none. */
const Entity *end_of_kind(const FarEnds *ends, KindId kind);
/** What a hose brings its water from, of such a kind, whatever joints are between; NULL: nothing. */
const Entity *comes_from(const Plumbing *plumbing, const Entity *hose, KindId kind);

enum { HOSES_BACK = 64 };
/**
 * All hoses by which water comes to a thing, through joints and pumps, whichever of them is open; those that lead to it first.
 * How many. None is twice among them.
 */
uint32_t hoses_back(const Plumbing *plumbing, const Entity *thing, const Entity *hoses[HOSES_BACK]);

/** A thing at which the water ends. */
bool is_outlet(const Entity *thing);

enum { HOSES_AFTER = 8 };
/**
 * The hoses on the way from a thing to where its water ends, the first one first: as long as no more than one leads on. How many;
 * 0 if none is stated, or if several lead from the thing itself.
 */
uint32_t hoses_after(const Plumbing *plumbing, const Entity *thing, const Entity *hoses[HOSES_AFTER]);

#endif
