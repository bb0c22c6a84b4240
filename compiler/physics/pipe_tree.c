/* See pipe_tree.h. */
#include "physics/pipe_tree.h"

#include <math.h>
#include <stdlib.h>

enum { STEPS = 30, TURNS = 8, FEW_POINTS = 8 };

/* Where laminar flow ends the loss jumps, since friction_factor takes the larger value from there on: a tangent needs a ramp. */
#define LAMINAR_END 2300.0
#define JUMP_WIDTH 1e-3
#define HAIR_M 1e-6

/* ---- Hoses ---------------------------------------------------------------------------------------------- */

static double kink_m3_per_s(const Hose *hose, double viscosity)
{
    return LAMINAR_END * viscosity * 3.14159265358979323846 * hose->bore_m / 4.0;
}

/* The loss with the jump drawn as a very steep ramp. */
static double smooth_loss_m(const Hose *hose, double flow, double viscosity)
{
    double kink = kink_m3_per_s(hose, viscosity), over = kink * (1.0 + JUMP_WIDTH);
    if (flow <= kink * (1.0 - 1e-9) || flow >= over) {
        return flow > 0.0 ? hose_loss_m(hose, flow, viscosity) : 0.0;
    }
    double low = hose_loss_m(hose, kink * (1.0 - 1e-9), viscosity), high = hose_loss_m(hose, over, viscosity);
    return low + (high - low) * fmax(0.0, flow - kink) / (over - kink);
}

static double branch_loss_m(const PipeTree *tree, size_t branch, double flow)
{
    const PipeBranch *own = &tree->branches[branch];
    Hose hose = own->hose;
    if (own->taps > 0.0) { /* what an open tap adds to the hose that it ends, or several side by side */
        hose.minor_k += minor_k(MINOR_TAP) / (own->taps * own->taps);
    }
    /* a curve needs some loss: a hair at the free flow */
    return own->lossless ? HAIR_M * flow / tree->pump.free_flow_m3_per_s
                         : smooth_loss_m(&hose, flow, tree->viscosity_m2_per_s);
}

static double suction_loss_m(const PipeTree *tree, double flow)
{
    double loss = 0.0;
    for (size_t i = 0; i < tree->suction_count; i++) {
        loss += smooth_loss_m(&tree->suction[i].hose, flow, tree->viscosity_m2_per_s);
    }
    return loss;
}

/* ---- Curves, from the taps to the pump ------------------------------------------------------------------- */

static double flow_at(const PipeCurve *curve, double head)
{
    int low = 0, high = curve->points - 1;
    if (head <= curve->head_m[low]) {
        return 0.0;
    }
    if (head >= curve->head_m[high]) {
        return curve->flow[high];
    }
    while (high - low > 1) {
        int middle = (low + high) / 2;
        *(curve->head_m[middle] <= head ? &low : &high) = middle;
    }
    double width = curve->head_m[high] - curve->head_m[low];
    double share = width > 0.0 ? (head - curve->head_m[low]) / width : 1.0;
    return curve->flow[low] + share * (curve->flow[high] - curve->flow[low]);
}

/* No head in the tree is higher: what the pump gives, and what hoses that fall add. */
static double highest_m(const PipeTree *tree)
{
    double head = fmin(tree->pump.shut_off_m, tree->most_m) - fmin(tree->lift_m, 0.0);
    for (size_t i = 0; i < tree->count; i++) {
        head += fmax(-tree->branches[i].rise_m, 0.0);
    }
    return head;
}

/* Behind an open tap there is no head: points up to the flow at which its hose takes all that there can be. */
static void lay_end(const PipeTree *tree, size_t branch, double highest, PipeCurve *curve)
{
    double low = 0.0, high = tree->pump.free_flow_m3_per_s;
    for (int step = 0; step < 30 && step < curve->points; step++) { /* with few points no finer */
        double middle = (low + high) / 2.0;
        *(branch_loss_m(tree, branch, middle) < highest ? &low : &high) = middle;
    }
    for (int p = 0; p < curve->points; p++) {
        curve->head_m[p] = 0.0;
        curve->flow[p] = high * p / (curve->points - 1);
    }
}

/* All branches that begin at the end of that one (-1: at the pump), as one. */
static void lay_side_by_side(const PipeTree *tree, PipeTreeRoom room[], int before, double highest, PipeCurve *curve)
{
    double low = INFINITY, high = -INFINITY;
    for (size_t i = 0; i < tree->count; i++) {
        if (tree->branches[i].before == before) {
            low = fmin(low, room[i].curve.head_m[0]);
            high = fmax(high, room[i].curve.head_m[curve->points - 1]);
        }
    }
    high = fmax(fmin(high, highest), low);
    for (int p = 0; p < curve->points; p++) {
        double share = (double)p / (curve->points - 1);
        curve->head_m[p] = low + (high - low) * share * share;
        curve->flow[p] = 0.0;
        for (size_t i = 0; i < tree->count; i++) {
            curve->flow[p] += tree->branches[i].before == before ? flow_at(&room[i].curve, curve->head_m[p]) : 0.0;
        }
    }
}

static void lay_curves(const PipeTree *tree, PipeTreeRoom room[], int points)
{
    double highest = highest_m(tree);
    room[tree->count].curve.points = points;
    for (size_t i = tree->count; i-- > 0;) {
        PipeCurve *curve = &room[i].curve;
        curve->points = points;
        if (tree->branches[i].taps > 0.0) {
            lay_end(tree, i, highest, curve);
        } else {
            lay_side_by_side(tree, room, (int)i, highest, curve);
        }
        for (int p = 0; p < points; p++) {
            curve->head_m[p] += tree->branches[i].rise_m + branch_loss_m(tree, i, curve->flow[p]);
        }
    }
    lay_side_by_side(tree, room, -1, highest, &room[tree->count].curve);
}

/* Head at the pump's outlet. */
static double head_given_m(const PipeTree *tree, double flow)
{
    return fmin(pump_head_m(&tree->pump, flow), tree->most_m) - tree->lift_m - suction_loss_m(tree, flow);
}

/* Where the pump's curve meets that of all branches; its own falls with the head, theirs rises. */
static double meet(const PipeTree *tree, const PipeCurve *curve, double *head)
{
    double low = 0.0, high = tree->pump.free_flow_m3_per_s;
    for (int step = 0; step < 60 && step < curve->points; step++) {
        double flow = (low + high) / 2.0;
        *(flow_at(curve, head_given_m(tree, flow)) > flow ? &low : &high) = flow;
    }
    *head = head_given_m(tree, low);
    if (high >= tree->pump.free_flow_m3_per_s) { /* it gives no more: the head is that which lets so much through */
        double least = curve->head_m[0];
        for (int step = 0; step < 60; step++) {
            double middle = (least + *head) / 2.0;
            *(flow_at(curve, middle) > high ? head : &least) = middle;
        }
    }
    return low;
}

static void distribute(const PipeTree *tree, PipeTreeRoom room[], double head)
{
    for (size_t i = 0; i < tree->count; i++) {
        double begins = tree->branches[i].before >= 0 ? room[tree->branches[i].before].head_m : head;
        room[i].flow = flow_at(&room[i].curve, begins);
        room[i].head_m = begins - tree->branches[i].rise_m - branch_loss_m(tree, i, room[i].flow);
    }
}

/* ---- Newton's steps ------------------------------------------------------------------------------------- */

/* The tangent of a branch at its flow: loss = offset + slope x flow. */
static void lay_tangent(const PipeTree *tree, size_t branch, PipeTreeRoom *own)
{
    double small = own->next * 1e-6;
    double loss = branch_loss_m(tree, branch, own->next);
    own->slope = fmax((branch_loss_m(tree, branch, own->next + small) - loss) / small, 1e-9);
    own->offset = loss - own->slope * own->next;
}

/*
 * What flows into each branch is inflow x head - held, for the head at which it begins; branches come after those that they
 * begin at, so that they are added up from the end, and into the last element. A branch in which nothing flows stays so.
 */
static void eliminate(const PipeTree *tree, PipeTreeRoom room[])
{
    for (size_t i = 0; i <= tree->count; i++) {
        room[i].inflow = room[i].held = 0.0;
    }
    for (size_t i = tree->count; i-- > 0;) {
        const PipeBranch *branch = &tree->branches[i];
        PipeTreeRoom *own = &room[i], *to = &room[branch->before >= 0 ? (size_t)branch->before : tree->count];
        double a = own->inflow / (1.0 + own->inflow * own->slope);
        double b = (own->inflow * (branch->rise_m + own->offset) + own->held) / (1.0 + own->inflow * own->slope);
        if (branch->taps > 0.0) {
            a = 1.0 / own->slope;
            b = (branch->rise_m + own->offset) * a;
        }
        bool flows = own->next > 0.0;
        own->inflow = flows ? a : 0.0;
        own->held = flows ? b : 0.0;
        to->inflow += own->inflow;
        to->held += own->held;
    }
}

/* What the pump moves against the linear tree: its own tangent is its line, and that of its suction. */
static double pump_step(const PipeTree *tree, const PipeTreeRoom *all, double flow)
{
    double small = flow * 1e-6;
    double slope = (head_given_m(tree, flow + small) - head_given_m(tree, flow)) / small;
    double offset = head_given_m(tree, flow) - slope * flow;
    double next = (all->inflow * offset - all->held) / (1.0 - all->inflow * slope);
    return fmin(fmax(next, 0.0), tree->pump.free_flow_m3_per_s);
}

/* Where the next tangent is laid: no step leaps over the jump at the end of laminar flow. */
static double next_flow(const PipeTree *tree, size_t branch, double from, double to)
{
    double kink = kink_m3_per_s(&tree->branches[branch].hose, tree->viscosity_m2_per_s), over = kink * (1.0 + JUMP_WIDTH);
    bool leaps = (from < kink && to > over) || (from > over && to < kink);
    return leaps && !tree->branches[branch].lossless ? (kink + over) / 2.0 : to;
}

/* One step for all: new flows in `next`, heads at the ends of the branches; what the pump moves. */
static double newton(const PipeTree *tree, PipeTreeRoom room[], double drawn, bool *settled)
{
    PipeTreeRoom *root = &room[tree->count];
    for (size_t i = 0; i < tree->count; i++) {
        if (room[i].next > 0.0) {
            lay_tangent(tree, i, &room[i]);
        }
    }
    eliminate(tree, room);
    double all = pump_step(tree, root, drawn);
    double head = root->inflow > 0.0 ? (all + root->held) / root->inflow : head_given_m(tree, all);
    *settled = fabs(all - drawn) <= 1e-11 * all;
    root->head_m = head;
    for (size_t i = 0; i < tree->count; i++) {
        const PipeBranch *branch = &tree->branches[i];
        double begins = branch->before >= 0 ? room[branch->before].head_m : head;
        double flow = room[i].inflow * begins - room[i].held;
        double lost = room[i].next > 0.0 ? room[i].offset + room[i].slope * flow : 0.0;
        room[i].head_m = begins - branch->rise_m - lost;
        *settled = *settled && fabs(flow - room[i].next) <= 1e-11 * all;
        room[i].next = room[i].next > 0.0 ? next_flow(tree, i, room[i].next, fmax(flow, 1e-6 * all)) : 0.0;
        room[i].flow = fmax(flow, 0.0);
    }
    return all;
}

/* A tap that would draw air is shut, one that has head again is opened by a little; whether any was. */
static bool turn_taps(const PipeTree *tree, PipeTreeRoom room[], double all)
{
    bool turned = false;
    for (size_t i = 0; i < tree->count; i++) {
        const PipeBranch *branch = &tree->branches[i];
        double begins = room[branch->before >= 0 ? (size_t)branch->before : tree->count].head_m;
        bool was = room[i].next > 0.0;
        bool flows = branch->taps > 0.0 ? begins > branch->rise_m + 1e-9 : was;
        turned = turned || flows != was;
        room[i].next = flows ? fmax(room[i].next, 1e-3 * all) : 0.0;
    }
    for (size_t i = tree->count; i-- > 0;) { /* what leads to an open tap is open */
        const PipeBranch *branch = &tree->branches[i];
        if (branch->before >= 0 && room[i].next > 0.0) {
            room[branch->before].next = fmax(room[branch->before].next, room[i].next);
        }
    }
    return turned;
}

/* Improves flows that are near, in place; false, and they stay as they were, where the steps do not settle. */
static bool improve(const PipeTree *tree, PipeTreeRoom room[], double *all)
{
    bool settled = false;
    double drawn = *all;
    for (size_t i = 0; i < tree->count; i++) {
        room[i].next = room[i].near = room[i].flow;
    }
    for (int turn = 0; turn < TURNS && drawn > 0.0; turn++) {
        settled = false;
        for (int step = 0; step < STEPS && !settled && drawn > 0.0; step++) {
            drawn = newton(tree, room, drawn, &settled);
        }
        if (settled && !turn_taps(tree, room, drawn)) {
            *all = drawn;
            return true;
        }
        if (!settled) {
            turn_taps(tree, room, drawn);
        }
    }
    for (size_t i = 0; i < tree->count; i++) {
        room[i].flow = room[i].near;
    }
    return false;
}

double pipe_tree_m3_per_s(const PipeTree *tree, PipeTreeRoom room[])
{
    double head = 0.0, all = 0.0;
    bool settled = false;
    for (size_t i = 0; i < tree->count; i++) {
        room[i].flow = 0.0;
    }
    if (tree->count == 0 || tree->lift_m >= fmin(tree->pump.shut_off_m, tree->most_m) ||
        tree->pump.free_flow_m3_per_s <= 0.0)
        return 0.0;
    for (int points = FEW_POINTS; points <= PIPE_CURVE_POINTS && !settled; points *= PIPE_CURVE_POINTS / FEW_POINTS) {
        lay_curves(tree, room, points);
        all = meet(tree, &room[tree->count].curve, &head);
        distribute(tree, room, head);
        settled = improve(tree, room, &all);
    }
    return all;
}
