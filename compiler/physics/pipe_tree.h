/*
 * A pump and all the open taps behind it: hoses that branch, one head at each joint.
 *
 * At a joint what comes in goes out, and all hoses from it begin at one head: the parallel branches of the textbooks
 * (Cengel and Cimbala, and Munson et al., both chapter 8). First the curve of each branch is laid through some points,
 * from the taps to the pump: hoses one after the other add their heads, those side by side their flows. Where it meets the
 * pump's curve Newton's method goes on, with each hose taken for its tangent at the flow of the last step. A few points
 * are near enough for nearly all trees; where the steps do not settle, it begins anew with many. Knows hydraulics; not
 * what a boat has.
 */
#ifndef GARBOARD_PHYSICS_PIPE_TREE_H
#define GARBOARD_PHYSICS_PIPE_TREE_H

#include "physics/pipe.h"

enum { PIPE_CURVE_POINTS = 128 };

/* A hose of the tree. */
typedef struct PipeBranch {
    Hose hose;
    bool lossless;
    double rise_m; /* from where it begins to where it ends */
    int before;    /* the branch that it begins at the end of, an earlier one; -1: at the pump */
    double taps;   /* so many open taps side by side at its end; 0: it leads on to other branches */
} PipeBranch;

/* What is solved: the pump, its suction (shares are not used) and the tree behind it. */
typedef struct PipeTree {
    Pump pump;
    double most_m; /* the head at which its switch stops it; infinite if none does */
    double lift_m; /* of the suction */
    const PipeRun *suction;
    size_t suction_count;
    const PipeBranch *branches;
    size_t count;
    double viscosity_m2_per_s;
} PipeTree;

/* How the flow into a branch rises with the head at which it begins; below the first point nothing flows. */
typedef struct PipeCurve {
    int points; /* 2 .. PIPE_CURVE_POINTS */
    double head_m[PIPE_CURVE_POINTS], flow[PIPE_CURVE_POINTS];
} PipeCurve;

/* What the solver needs for itself, one a branch and one more, and what it gives. */
typedef struct PipeTreeRoom {
    PipeCurve curve;
    double flow; /* m3/s: what comes out */
    double near, next, slope, offset, inflow, held, head_m;
} PipeTreeRoom;

/**
 * The flow of each branch with every tap open, in room[i].flow, in m3/s; returns that of the pump. room has count + 1
 * elements. Nothing flows back through an open tap, and the pump gives no more than its free flow. What a tap gets falls
 * with what any hose on its way loses and rises with what any other hose loses.
 */
double pipe_tree_m3_per_s(const PipeTree *tree, PipeTreeRoom room[]);

#endif
