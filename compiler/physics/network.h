/*
 * Radial networks of conductors behind their sources: which voltage reaches each load, and which current flows where.
 *
 * Loads take a current that is constant, or constant power, or what a resistance takes, or a mixture; so voltages and
 * currents hang on each other. Solved by sweeps from the ends to the source and back, each with the loads in their
 * tangent (Newton's method, with the elimination that a tree allows): work that grows with the nodes, a handful of
 * rounds. Knows volts, amperes and ohms; not conductors, nor specs. Allocates nothing.
 */
#ifndef GARBOARD_PHYSICS_NETWORK_H
#define GARBOARD_PHYSICS_NETWORK_H

#include <stdbool.h>
#include <stdint.h>

#define NETWORK_SOURCE UINT32_MAX

/* a + b x volts, in A. */
typedef struct NetworkLine {
    double a, b;
} NetworkLine;

/* A node with the branch that feeds it, and what it takes. */
typedef struct NetworkNode {
    /* Given: */
    uint32_t parent; /* the node that feeds it, before it in the array; NETWORK_SOURCE: a source of its own */
    bool brief;      /* its own load runs briefly */
    bool columns;    /* its branch need not carry all that hangs on it: what lasts, and of what is brief the greater of the
                        largest one and a tenth of all (network.c); else everything */
    bool cut_off;    /* nobody knows how far it is from its source: its constant power is starved (network_settle) */
    double emf_v;    /* > 0; of its source without load: given where that is its parent, found for the others */
    double share;    /* of all that hangs on it this runs at once, and never less than the largest piece of it; 1: all */
    double pieces;   /* its own load is so many alike, each by itself; > 0 */
    double ohm;      /* of its branch, out and back; >= 0 */
    double amps, watts, siemens; /* its own load: the parts add up */
    /* Found: */
    double volts;
    double current_a; /* in its branch */
    bool starved;    /* its constant power is not served: it takes what it would take at half the voltage */
    /* Used on the way: */
    bool fleets;     /* it, or something that hangs on it, is brief: else fleeting and largest are not looked at */
    bool freed;
    NetworkLine lasting, fleeting, largest; /* what hangs on it, by its volts; then, by its parent's */
    NetworkLine whole, one, lasting_one, fleeting_one; /* the same of all, and of the largest piece of each */
    double back_a;
} NetworkNode;

typedef struct NetworkSolution {
    bool collapses;  /* there is none: more power is asked than the conductors can bring */
    uint32_t at;     /* the branch in which that was found */
    int rounds;
    double source_a; /* what the sources give together */
    double loss_w;   /* turned to heat in all branches */
} NetworkSolution;

/**
 * Solves networks, one or several at once. (The inner resistance of a source is a branch like others.)
 *
 * Of the solutions that constant power allows it gives the one with the highest voltages, which a real load settles on: the
 * rounds begin above it and come down to it without crossing it. They end where no voltage moves by more than 1e-8 of
 * it. With currents, powers and resistances of conductors rising, every voltage falls and every current rises; with
 * emf_v rising, voltages rise, and currents of constant power fall. Not so the resistances: a resistance that takes
 * less, being starved, leaves more to others. Where a node has `columns`, what flows into it is less than what flows out:
 * each branch is given for its own worst case.
 * Where a node has a `share`, each part of what hangs on it, and all of it, counts so much, and at least the largest piece.
 */
NetworkSolution network_solve(NetworkNode *nodes, uint32_t count);

/**
 * Solves networks whatever is asked of them: constant power that is left with less than half of its source's voltage is
 * starved, and takes the constant current that it would take at that half. (Behind one resistance that is where the most
 * power comes through: the theorem of maximum power transfer. What holds its power has given up by then.)
 *
 * It begins with all of them starved and frees those that have enough even so, until there are no more. In every round
 * there is a solution, since what is freed takes no more than before; and each round's voltages fall with rising currents,
 * powers and resistances of conductors, since those of the round before do. So the outcome has the directions that are told
 * above, which is what bounds networks that are not decided.
 */
NetworkSolution network_settle(NetworkNode *nodes, uint32_t count);

#endif
