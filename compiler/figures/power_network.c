/*
 * The solved networks: which current flows in each cable, and which voltage reaches its end, when each load has the voltage
 * that reaches it.
 *
 * All sources are solved at once, each a tree of its own. Two corners bound what is undecided: the worst has the thinnest
 * and longest cables, the most draw and the lowest voltage, the best the reverse. Every voltage falls and every current
 * rises from the best to the worst, so what lies between is inside, with one exception: a resistance that is starved
 * leaves more to others. So where anything is undecided, resistances count in either corner as the current that they take
 * in the other one. What a branch carries at once is what its `current` says (physics/network.h). Where a cable's length,
 * size or current has no end, what hangs on it is reckoned with its stated current, and its own drop has no end.
 */
#include "figures/cable.h"

#include "physics/network.h"

#include <math.h>

typedef enum Corner { CORNER_WORST, CORNER_BEST, CORNER_COUNT } Corner;

struct Net {
    Power *power;
    const Entity **things; /* by place */
    uint32_t count;
    NetworkNode *nodes;
    bool *collapsed;       /* no voltage brings it what it asks */
    bool *endless;         /* the worst of the way to it has no end */
    double *lowest_volts;  /* of the worst corner, for resistances in the best */
    bool *passing;         /* something is passed through here that hangs elsewhere */
    uint32_t *root;        /* the place of its source */
    bool *open;            /* by that place: something in its tree is a range ... */
    bool decided;          /* ... nothing is, in any */
};
typedef struct Net Net;

static double end_of(Interval value, Corner corner, bool most_is_worst)
{
    return (corner == CORNER_WORST) == most_is_worst ? value.high : value.low;
}

/* Places */

static bool is_root(const Power *power, const Entity *thing)
{
    const Entity *giver = thing->fed != NULL ? thing->fed->giver : NULL;
    return giver == NULL || turns_power(giver) || power_node(power, giver)->net == 0;
}

static void place_things(Net *net)
{
    const Model *model = net->power->model;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        const Entity *thing = model->feed_order[i];
        PowerNode *node = power_node(net->power, thing);
        const Entity *giver = thing->fed != NULL ? thing->fed->giver : NULL;
        bool hangs_on_nothing = giver != NULL && !turns_power(giver) && power_node(net->power, giver)->net == 0;
        if (!(thing->flags & ENTITY_DROPPED) && !is_cranked(thing) && node->working_v.low > 0.0 && isfinite(node->working_v.high) &&
            !hangs_on_nothing) {
            net->things[net->count++] = thing;
            node->net = net->count;
        }
    }
}

/* A corner */

static double branch_ohm(const Cable *cable, Corner corner, bool *endless)
{
    const Conductor *row = corner == CORNER_WORST ? cable->thin : cable->thick;
    double run_m = end_of(cable->run.value, corner, true);
    *endless = corner == CORNER_WORST && isinf(cable->current.value.high);
    if (cable->run.state != STATE_KNOWN || row == NULL || isinf(run_m)) {
        *endless = corner == CORNER_WORST;
        return 0.0;
    }
    return conductor_resistance_ohm(row, 2.0 * run_m, CABLE_WORKING_CELSIUS, cable->parallel);
}

static void set_load(const Net *net, uint32_t i, Corner corner, double emf_v)
{
    const PowerNode *of = power_node(net->power, net->things[i]);
    NetworkNode *node = &net->nodes[i];
    double own = end_of(of->own, corner, true);
    own = isfinite(own) ? own : of->own.low;
    switch (of->sort) {
    case LOAD_CURRENT:
        node->amps = own;
        break;
    case LOAD_POWER:
        node->watts = own;
        break;
    case LOAD_RESISTANCE:
        if (!net->open[net->root[i]]) {
            node->siemens = own;
        } else {
            node->amps = own * (corner == CORNER_WORST ? emf_v : net->lowest_volts[i]);
        }
        break;
    default:
        break;
    }
}

/* What of all that hangs on it flows into it: as the current of that kind of thing is gathered (power_current.c). */
static void set_gathering(const Entity *thing, NetworkNode *node, Corner corner)
{
    PropId prop = power_together_prop(thing);
    const Value *share = property_value(prop != PROP_NONE ? entity_property(thing, prop) : NULL, 0);
    node->share = 1.0;
    if (share->kind == VALUE_QUANTITY && !(share->flags & VALUE_BROKEN)) {
        double most = end_of((Interval){share->u.quantity.low, share->u.quantity.high}, corner, true);
        node->share = isfinite(most) ? most : 1.0;
        return;
    }
    node->columns = thing->kind != KIND_CIRCUIT && thing->kind != KIND_OUTLET;
}

/* Fills in one corner at the sources' stated voltage, or at their lowest. */
static void fill(Net *net, Corner corner, bool at_lowest)
{
    for (uint32_t i = 0; i < net->count; i++) {
        const Entity *thing = net->things[i];
        PowerNode *of = power_node(net->power, thing);
        NetworkNode *node = &net->nodes[i];
        bool endless = false;
        *node = (NetworkNode){.parent = NETWORK_SOURCE, .brief = of->flow.brief.high > 0.0};
        node->emf_v = end_of(at_lowest ? of->least_v : of->working_v, corner, false);
        node->ohm = of->cable != NULL ? branch_ohm(of->cable, corner, &endless) : 0.0;
        if (!is_root(net->power, thing)) {
            node->parent = power_node(net->power, thing->fed->giver)->net - 1;
            node->emf_v = net->nodes[node->parent].emf_v;
        }
        set_gathering(thing, node, corner);
        set_load(net, i, corner, node->emf_v);
        bool behind = node->parent != NETWORK_SOURCE && net->endless[node->parent];
        net->endless[i] = endless || behind;
        if (net->endless[i]) {
            node->amps += node->watts / node->emf_v;
            node->watts = 0.0;
        }
    }
}

enum { COLLAPSES_MOST = 8 };

/* Solves; what collapses is taken out of it by and by, and in the end all of it. collapsed[] tells of which. */
static void solve(Net *net)
{
    for (uint32_t i = 0; i < net->count; i++) {
        net->collapsed[i] = false;
    }
    for (int tries = 0; tries < COLLAPSES_MOST; tries++) {
        NetworkSolution solution = network_solve(net->nodes, net->count);
        if (!solution.collapses) {
            return;
        }
        network_relieve(net->nodes, net->count, solution.at, net->collapsed);
    }
    for (uint32_t i = 0; i < net->count; i++) {
        if (net->nodes[i].parent == NETWORK_SOURCE) {
            network_relieve(net->nodes, net->count, i, net->collapsed);
        }
    }
    network_solve(net->nodes, net->count);
}

/* What it says of the cables */

/* What an inverter passes through to its loads is asked for those too, and the network does not know of them. */
static void mark_passing(Net *net)
{
    const Entity *inverter = net->power->model->first_of_kind[KIND_INVERTER];
    for (; inverter != NULL; inverter = inverter->next_of_kind) {
        const Entity *passed = inverter->flags & ENTITY_DROPPED ? NULL : entity_reference(inverter, PROP_INVERTER_PASSES);
        uint32_t place = passed != NULL ? power_node(net->power, passed)->net : 0;
        while (place != 0 && !net->passing[place - 1]) {
            net->passing[place - 1] = true;
            uint32_t parent = net->nodes[place - 1].parent;
            place = parent != NETWORK_SOURCE ? parent + 1 : 0;
        }
    }
}

static bool collapses_first(const Net *net, uint32_t i)
{
    uint32_t parent = net->nodes[i].parent;
    return net->collapsed[i] && (parent == NETWORK_SOURCE || !net->collapsed[parent]);
}

static void keep_currents(Net *net, Corner corner)
{
    for (uint32_t i = 0; i < net->count; i++) {
        Cable *cable = power_node(net->power, net->things[i])->cable;
        net->lowest_volts[i] = corner == CORNER_WORST ? net->nodes[i].volts : net->lowest_volts[i];
        if (cable == NULL || net->passing[i]) {
            continue;
        }
        double amps = fmax(net->nodes[i].current_a, 0.0);
        cable->solved = true;
        if (corner == CORNER_WORST) {
            cable->solved_a = point(isinf(cable->current.value.high) ? INFINITY : amps);
            cable->may_collapse = collapses_first(net, i);
        } else {
            cable->solved_a.low = fmin(amps, cable->solved_a.high);
            cable->collapses = collapses_first(net, i);
        }
    }
}

static void keep_voltages(Net *net, Corner corner)
{
    for (uint32_t i = 0; i < net->count; i++) {
        PowerNode *of = power_node(net->power, net->things[i]);
        double volts = net->collapsed[i] || net->endless[i] ? 0.0 : fmax(net->nodes[i].volts, 0.0);
        if (corner == CORNER_WORST) {
            of->end_v = point(volts);
            of->end_known = true;
        } else {
            of->end_v.high = fmax(volts, of->end_v.low);
        }
    }
}

/* The lowest voltage of each source, handed on */
static void lowest_voltages(Net *net)
{
    for (uint32_t i = 0; i < net->count; i++) {
        const Entity *thing = net->things[i];
        PowerNode *of = power_node(net->power, thing);
        Chemistry chemistry;
        of->least_v = of->working_v;
        of->least_source = "what it gives";
        if (thing->kind == KIND_BANK && bank_chemistry(thing, &chemistry)) {
            double lowest = battery_volts(BATTERY_LOWEST_WORKING, chemistry, of->nominal_v);
            of->least_v = interval_min(of->working_v, point(lowest));
            of->least_source = "lowest working voltage of its chemistry; common practice, no source";
        } else if (!is_root(net->power, thing)) {
            const PowerNode *giver = power_node(net->power, thing->fed->giver);
            of->least_v = giver->least_v;
            of->least_source = giver->least_source;
        }
    }
}

static bool is_point(Interval value)
{
    return value.low == value.high;
}

static bool cable_is_decided(const Cable *cable)
{
    return cable == NULL || (cable->run.state == STATE_KNOWN && is_point(cable->run.value) && cable->thin == cable->thick);
}

static bool thing_is_decided(const Net *net, uint32_t i)
{
    const PowerNode *of = power_node(net->power, net->things[i]);
    PropId prop = power_together_prop(net->things[i]);
    const Value *share = property_value(prop != PROP_NONE ? entity_property(net->things[i], prop) : NULL, 0);
    bool shares = share->kind != VALUE_QUANTITY || share->u.quantity.low == share->u.quantity.high;
    return shares && is_point(of->own) && is_point(of->working_v) && cable_is_decided(of->cable);
}

/* Each tree by itself: what is open in one has nothing to say in another. */
static void find_open_trees(Net *net)
{
    net->decided = true;
    for (uint32_t i = 0; i < net->count; i++) {
        const Entity *thing = net->things[i];
        net->root[i] = is_root(net->power, thing) ? i : net->root[power_node(net->power, thing->fed->giver)->net - 1];
        if (!thing_is_decided(net, i)) {
            net->open[net->root[i]] = true;
            net->decided = false;
        }
    }
}

/* The places of things stay, whatever sizes are tried: made once. */
static Net *net_of(Power *power)
{
    if (power->net != NULL) {
        return power->net;
    }
    Arena *arena = power->work->scratch;
    Net net = {.power = power, .things = ARENA_ARRAY(arena, const Entity *, power->model->feed_order_count + 1)};
    place_things(&net);
    net.nodes = ARENA_ARRAY(arena, NetworkNode, net.count + 1);
    net.collapsed = ARENA_ARRAY(arena, bool, net.count + 1);
    net.passing = ARENA_ARRAY(arena, bool, net.count + 1);
    net.root = ARENA_ARRAY(arena, uint32_t, net.count + 1);
    net.open = ARENA_ARRAY(arena, bool, net.count + 1);
    net.endless = ARENA_ARRAY(arena, bool, net.count + 1);
    net.lowest_volts = ARENA_ARRAY(arena, double, net.count + 1);
    lowest_voltages(&net);
    find_open_trees(&net);
    power->net = ARENA_NEW(arena, Net);
    *power->net = net;
    return power->net;
}

static void solve_corner(Net *net, Corner corner, bool at_lowest)
{
    fill(net, corner, at_lowest);
    solve(net);
}

void power_solve(Power *power)
{
    Net *net = net_of(power);
    solve_corner(net, CORNER_WORST, false);
    mark_passing(net);
    keep_currents(net, CORNER_WORST);
    if (!net->decided) {
        solve_corner(net, CORNER_BEST, false);
    }
    keep_currents(net, CORNER_BEST);
    solve_corner(net, CORNER_WORST, true);
    keep_voltages(net, CORNER_WORST);
    if (!net->decided) {
        solve_corner(net, CORNER_BEST, true);
    }
    keep_voltages(net, CORNER_BEST);
}
