/*
 * Radial networks by sweeps. See network.h.
 *
 * At a node with voltage U, load i takes amps + watts / U + siemens x U. In its tangent at the last U that is a line, and
 * so is, by the parent's voltage, all that a subtree takes: the branch I = a + b U with U = U_parent - R I gives
 * U = (U_parent - R a) / (1 + R b). The pivot 1 + R b stays above zero as long as the voltages are above those at which
 * the power that gets through is greatest; where it does not, there is no solution. (Currents are convex in the voltages,
 * so Newton's method comes down to the highest solution monotonically: Ortega and Rheinboldt, Iterative Solution of
 * Nonlinear Equations in Several Variables, 13.3, from memory.)
 */
#include "physics/network.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>

enum { MOST_ROUNDS = 100 };
static const double least_move = 1e-8; /* the rounds converge quadratically: what is left is far below */
static const double least_pivot = 1e-9;
static const double tenth = 0.1; /* of what is brief: see flow_at_once of the figures */

static const NetworkLine nothing = {0.0, 0.0};

static double line_at(NetworkLine line, double volts)
{
    return line.a + line.b * volts;
}

static NetworkLine line_add(NetworkLine one, NetworkLine other)
{
    return (NetworkLine){one.a + other.a, one.b + other.b};
}

static NetworkLine line_scale(NetworkLine line, double factor)
{
    return (NetworkLine){line.a * factor, line.b * factor};
}

/* By the parent's voltage, when the branch's own current is back_a + ... and U = (U_parent - R back_a) / pivot. */
static NetworkLine line_through(NetworkLine line, double ohm, double back_a, double pivot)
{
    return (NetworkLine){line.a - line.b * ohm * back_a / pivot, line.b / pivot};
}

static NetworkLine line_larger(NetworkLine one, NetworkLine other, double volts)
{
    return line_at(other, volts) > line_at(one, volts) ? other : one;
}

static NetworkLine line_smaller(NetworkLine one, NetworkLine other, double volts)
{
    return line_at(other, volts) < line_at(one, volts) ? other : one;
}

static const double starved_share = 0.5; /* of the source's voltage: see network.h */

/* What a node itself takes, in its tangent at the voltage that it has now. */
static void take_tangent(NetworkNode *node, bool shares)
{
    NetworkLine own = {node->amps, node->siemens};
    if (node->starved) {
        own.a += node->watts / (starved_share * node->emf_v);
    } else if (node->watts != 0.0) {
        own.a += 2.0 * node->watts / node->volts;
        own.b -= node->watts / (node->volts * node->volts);
    }
    node->lasting = node->brief ? nothing : own;
    if (node->fleets) {
        node->fleeting = node->largest = node->brief ? own : nothing;
    }
    if (shares) {
        node->whole = own;
        node->one = line_scale(own, 1.0 / node->pieces);
        node->lasting_one = node->brief ? nothing : node->one;
        node->fleeting_one = node->brief ? node->one : nothing;
    }
}

/* Whether what it takes hangs on its voltage in another way than by a current that is always the same. */
static bool is_bent(const NetworkNode *node)
{
    return node->siemens != 0.0 || (node->watts != 0.0 && !node->starved);
}

/* What the branch of a node carries, by the node's voltage. */
static NetworkLine carried(const NetworkNode *node, bool shares)
{
    if (!node->columns && shares) {
        return node->whole;
    }
    if (!node->fleets) {
        return node->lasting;
    }
    if (!node->columns) {
        return line_add(node->lasting, node->fleeting);
    }
    NetworkLine columns = line_add(node->lasting, line_larger(node->largest, line_scale(node->fleeting, tenth), node->volts));
    return shares ? line_smaller(columns, node->whole, node->volts) : columns;
}

static NetworkLine share_of(const NetworkNode *node, NetworkLine all, NetworkLine one)
{
    return line_larger(line_scale(all, node->share), one, node->volts);
}

/* What runs at all runs whole: a share of several loads is never less than the largest. */
static void take_share(NetworkNode *node)
{
    node->lasting = share_of(node, node->lasting, node->lasting_one);
    node->whole = share_of(node, node->whole, node->one);
    if (node->fleets) {
        node->fleeting = share_of(node, node->fleeting, node->fleeting_one);
        node->largest = share_of(node, node->largest, node->fleeting_one);
    }
}

/* Adds to the parent of a node what only shares ask for. */
static void hand_on_pieces(NetworkNode *parent, const NetworkNode *node, double pivot)
{
    NetworkLine one = line_through(node->one, node->ohm, node->back_a, pivot);
    NetworkLine lasting_one = line_through(node->lasting_one, node->ohm, node->back_a, pivot);
    NetworkLine fleeting_one = line_through(node->fleeting_one, node->ohm, node->back_a, pivot);
    parent->whole = line_add(parent->whole, line_through(node->whole, node->ohm, node->back_a, pivot));
    parent->one = line_larger(parent->one, one, parent->volts);
    parent->lasting_one = line_larger(parent->lasting_one, lasting_one, parent->volts);
    parent->fleeting_one = line_larger(parent->fleeting_one, fleeting_one, parent->volts);
}

/* From the ends to the source; false where no voltage can bring what is asked, and `at` says where. */
static bool sweep_back(NetworkNode *nodes, uint32_t count, bool shares, uint32_t *at)
{
    for (uint32_t i = count; i-- > 0;) {
        NetworkNode *node = &nodes[i];
        if (node->share != 1.0) {
            take_share(node);
        }
        NetworkLine current = carried(node, shares);
        double pivot = 1.0 + node->ohm * current.b;
        node->back_a = current.a;
        node->current_a = current.b; /* kept for the way back */
        if (pivot <= least_pivot) {
            *at = i;
            return false;
        }
        if (node->parent != NETWORK_SOURCE) {
            NetworkNode *parent = &nodes[node->parent];
            parent->lasting = line_add(parent->lasting, line_through(node->lasting, node->ohm, node->back_a, pivot));
            if (shares) {
                hand_on_pieces(parent, node, pivot);
            }
            if (!node->fleets) {
                continue;
            }
            parent->fleeting = line_add(parent->fleeting, line_through(node->fleeting, node->ohm, node->back_a, pivot));
            parent->largest = line_larger(parent->largest, line_through(node->largest, node->ohm, node->back_a, pivot),
                                          parent->volts);
        }
    }
    return true;
}

/*
 * From the source to the ends: the greatest move of a voltage, as a share of the source's; not a number where that of a
 * constant power falls to nothing, and `at` says where. Leaves the nodes ready for the next round, if there is to be one.
 */
static double sweep_out(NetworkNode *nodes, uint32_t count, bool shares, bool last, uint32_t *at)
{
    double greatest = 0.0;
    for (uint32_t i = 0; i < count; i++) {
        NetworkNode *node = &nodes[i];
        double before = node->parent == NETWORK_SOURCE ? node->emf_v : nodes[node->parent].volts;
        double volts = (before - node->ohm * node->back_a) / (1.0 + node->ohm * node->current_a);
        if (!(volts > 0.0) && (node->watts != 0.0 && !node->starved)) {
            *at = i;
            return NAN;
        }
        node->current_a = node->back_a + node->current_a * volts;
        double move = fabs(volts - node->volts) / node->emf_v;
        greatest = move > greatest ? move : greatest; /* fmax is a call */
        node->volts = volts;
        if (!last) {
            take_tangent(node, shares);
        }
    }
    return greatest;
}

/* Whether one round is enough: nothing is bent. *shares: some node has a share. */
static bool start(NetworkNode *nodes, uint32_t count, bool *shares)
{
    bool straight = true;
    for (uint32_t i = 0; i < count; i++) {
        NetworkNode *node = &nodes[i];
        assert(node->parent == NETWORK_SOURCE || node->parent < i);
        if (node->parent != NETWORK_SOURCE) {
            node->emf_v = nodes[node->parent].emf_v;
        }
        assert(node->emf_v > 0.0);
        node->volts = node->emf_v;
        node->fleets = node->brief;
        straight = straight && !is_bent(node);
        *shares = *shares || node->share != 1.0;
    }
    for (uint32_t i = count; i-- > 0;) {
        NetworkNode *node = &nodes[i];
        if (node->fleets && node->parent != NETWORK_SOURCE) {
            nodes[node->parent].fleets = true;
        }
        take_tangent(node, *shares);
    }
    return straight;
}

static void sum_up(const NetworkNode *nodes, uint32_t count, NetworkSolution *solution)
{
    for (uint32_t i = 0; i < count; i++) {
        const NetworkNode *node = &nodes[i];
        solution->loss_w += node->current_a * node->current_a * node->ohm;
        solution->source_a += node->parent == NETWORK_SOURCE ? node->current_a : 0.0;
    }
}

NetworkSolution network_solve(NetworkNode *nodes, uint32_t count)
{
    NetworkSolution solution = {.collapses = false};
    double moved = INFINITY;
    bool shares = false, straight = start(nodes, count, &shares);

    while (moved > least_move && !solution.collapses) {
        solution.rounds++;
        moved = sweep_back(nodes, count, shares, &solution.at) ? sweep_out(nodes, count, shares, straight, &solution.at) : NAN;
        moved = straight && !isnan(moved) ? 0.0 : moved;
        solution.collapses = isnan(moved) || (solution.rounds == MOST_ROUNDS && moved > least_move);
    }
    sum_up(nodes, count, &solution);
    return solution;
}

/* Frees what has enough even so; whether there was any. */
static bool free_the_fed(NetworkNode *nodes, uint32_t count)
{
    bool any = false;
    for (uint32_t i = 0; i < count; i++) {
        NetworkNode *node = &nodes[i];
        node->freed = node->starved && !node->cut_off && node->volts >= starved_share * node->emf_v;
        node->starved = node->starved && !node->freed;
        any = any || node->freed;
    }
    return any;
}

NetworkSolution network_settle(NetworkNode *nodes, uint32_t count)
{
    for (uint32_t i = 0; i < count; i++) {
        nodes[i].starved = nodes[i].watts > 0.0;
    }
    NetworkSolution solution = network_solve(nodes, count);
    while (!solution.collapses && free_the_fed(nodes, count)) {
        solution = network_solve(nodes, count);
    }
    if (solution.collapses) { /* at the very edge, where rounding decides: as they were before */
        for (uint32_t i = 0; i < count; i++) {
            nodes[i].starved = nodes[i].starved || nodes[i].freed;
        }
        solution = network_solve(nodes, count);
    }
    return solution;
}
