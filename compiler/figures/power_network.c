/*
 * The solved networks: which current flows in each cable, and which voltage reaches its end, when each load has the voltage
 * that reaches it.
 *
 * All sources are solved at once, each a tree of its own. Where something in a tree is not decided, two networks bound it:
 * the worst has the thinnest and longest cables, the most draw and the lowest voltage, the best the reverse; and what may
 * run briefly does so in the best alone. With currents and powers as loads every voltage falls and every current rises from
 * the best to the worst (network_settle). Not so with resistances: one that is starved leaves more to others. So they count
 * in the worst network as the constant current that they take at the source's highest voltage, in the best one as that
 * which they take at the lowest voltage that can reach them, which is found first: no resistance takes more, or less.
 *
 * Then no boat inside the ranges has lower voltages than the worst network, nor higher ones than the best. For the best:
 * put a boat's voltages into the best network's loads; they take less than they do in the boat, so what comes out is higher
 * still, and step by step it rises to the best network's voltages (a rising map on a bounded set: Tarski). For the worst:
 * let a boat's loads grow from nothing to what they are. At first its voltages are above the worst network's, and they fall
 * without a jump; if one met the worst network's, all others being above still, its loads would take less than those do,
 * and it would be above.
 *
 * Where a transfer switch has several sources, and where an inverter passes mains through, what hangs there is in one tree
 * at a time. The networks are solved once for each such state: all transfer switches at their first source, at their second
 * and so on, inverters making their own power or passing through. What a cable carries is the most of all states, of the
 * worst and of the best network alike, so the bounds hold as they do for one. Voltages are the lowest of all states that
 * switches can stand in, inverters making their own power; an emergency switch, closed for a moment with somebody at it, and
 * what has several feeds and is no switch, count for the first.
 *
 * What a branch carries at once is what its `current` says (physics/network.h). A cable whose length or size has no end
 * brings what hangs on it any voltage down to none: that counts as starved, which is the most that it can take. A cable
 * that no length is stated of is left out until there is one: its loads count as if they hung on what feeds it.
 */
#include "figures/cable.h"

#include "physics/network.h"

#include <math.h>

typedef enum Corner { CORNER_WORST, CORNER_BEST, CORNER_COUNT } Corner;

/* A thing with the branch that feeds it. */
typedef struct Spot {
    const Entity *thing;
    PowerNode *of;
    Cable *cable;        /* of the branch; NULL: it has none of its own */
    uint32_t parent;     /* the place of what it hangs on in this state; NETWORK_SOURCE: it is a source */
    uint32_t root;       /* the place of its source */
    bool open;           /* of a source: something in its tree is a range */
    bool hungry;         /* it, or something behind it, is not served, or has no voltage */
    bool collapsed;      /* it is at or behind the place where the voltage collapses */
    bool endless;        /* the worst of the way to it has no end */
    bool stands;         /* switches may stand so that it hangs there for long */
    bool may_starve;     /* in the worst corner that was last solved it gets less power than it asks for */
    double lowest_volts; /* of the worst corner that was last solved, for resistances in the best */
    double worst_a;      /* what the branch carries in the worst corner */
} Spot;

struct Net {
    Power *power;
    Spot *places;
    uint32_t count;
    NetworkNode *nodes;    /* one a place */
    uint32_t *number;      /* by Entity.index: of its place, plus 1; 0: it has none */
    unsigned way;          /* which of its feeds each transfer switch has taken, from 0 */
    bool passes;           /* inverters pass through what they can */
    struct Net *next;      /* the networks of the next state */
    bool looked_at;        /* whether the next is known yet: it hangs on sizes that are chosen after places are */
    bool decided;          /* nothing is a range, in any tree */
};
typedef struct Net Net;

static double end_of(Interval value, Corner corner, bool most_is_worst)
{
    return (corner == CORNER_WORST) == most_is_worst ? value.high : value.low;
}

/* States */

enum { WAYS_MOST = 4 }; /* sources of one transfer switch that are told apart */

/* The feed that is in use: of fewer the last. */
static const Feed *feed_in_use(const Net *net, const Entity *thing)
{
    const Feed *feed = thing->fed;
    for (unsigned i = 0; feed != NULL && feed->next != NULL && i < net->way; i++) {
        feed = feed->next;
    }
    return feed;
}

/* Whether it may hang on the feed that is in use for as long as somebody likes. */
static bool stands_so(const Net *net, const Entity *thing)
{
    Str works = entity_word(thing, PROP_SWITCH_WORKS_AS);
    return feed_in_use(net, thing) == thing->fed || str_is(works, "transfer") || str_is(works, "parallel");
}

/* What it hangs on in this state; NULL: nothing, or on what makes power. */
static const Entity *parent_of(const Net *net, const Entity *thing)
{
    const Feed *feed = feed_in_use(net, thing);
    const Entity *giver = feed != NULL ? feed->giver : NULL;
    if (giver == NULL || !turns_power(giver)) {
        return giver;
    }
    const Entity *passed = net->passes && giver->kind == KIND_INVERTER ? entity_reference(giver, PROP_INVERTER_PASSES) : NULL;
    return passed != NULL && !(passed->flags & ENTITY_DROPPED) && !(giver->flags & ENTITY_DROPPED) ? passed : NULL;
}

static Cable *cable_in_use(const Net *net, const Entity *thing)
{
    const Feed *feed = feed_in_use(net, thing);
    return feed == NULL || feed == thing->fed ? power_node(net->power, thing)->cable : power_cable_of(net->power, feed);
}

/* Places */

static bool may_stand(const Net *net, const Entity *thing)
{
    const PowerNode *node = power_node(net->power, thing);
    return !(thing->flags & (ENTITY_DROPPED | ENTITY_LOOP)) && !is_cranked(thing) && node->working_v.low > 0.0 &&
           isfinite(node->working_v.high);
}

/* Puts a thing behind what it hangs on, which the order of feeds does for all but what is passed through. */
static void place_thing(Net *net, const Entity *thing, int depth)
{
    enum { DEEPEST = 64 };
    if (net->number[thing->index] != 0 || !may_stand(net, thing) || depth > DEEPEST) {
        return;
    }
    const Entity *parent = parent_of(net, thing);
    if (parent != NULL && net->number[parent->index] == 0 && net->passes) {
        place_thing(net, parent, depth + 1);
    }
    if (net->number[thing->index] == 0 && (parent == NULL || net->number[parent->index] != 0)) {
        net->places[net->count++] = (Spot){.thing = thing,
                                            .of = power_node(net->power, thing),
                                            .cable = cable_in_use(net, thing),
                                            .parent = parent != NULL ? net->number[parent->index] - 1 : NETWORK_SOURCE,
                                            .stands = stands_so(net, thing) &&
                                                      (parent == NULL || net->places[net->number[parent->index] - 1].stands)};
        net->number[thing->index] = net->count;
    }
}

/* What has a voltage by its first source, and is put on one here of which nobody knows it. */
static void note_adrift(const Net *net, const Entity *thing)
{
    enum { DEEPEST = 64 };
    const Entity *up = thing;
    Cable *cable = cable_in_use(net, thing);
    for (int depth = 0; up != NULL && may_stand(net, up) && depth < DEEPEST; depth++) {
        up = parent_of(net, up);
    }
    if (cable != NULL && up != NULL && up != thing && !(up->flags & (ENTITY_DROPPED | ENTITY_LOOP))) {
        cable->adrift = power_node(net->power, up)->source;
    }
}

static void place_things(Net *net)
{
    const Model *model = net->power->model;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        place_thing(net, model->feed_order[i], 0);
    }
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        if (net->number[model->feed_order[i]->index] == 0) {
            note_adrift(net, model->feed_order[i]);
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
    int parallel = corner == CORNER_WORST ? cable->parallel : cable->most_parallel;
    return conductor_resistance_ohm(row, 2.0 * run_m, CABLE_WORKING_CELSIUS, parallel);
}

static void set_load(const Net *net, uint32_t i, Corner corner, double most_v)
{
    const Spot *place = &net->places[i];
    const PowerNode *of = place->of;
    NetworkNode *node = &net->nodes[i];
    double own = end_of(of->own, corner, true);
    own = isfinite(own) ? own : of->own.low;
    double pieces = end_of(of->pieces, corner, true);
    node->pieces = pieces > 0.0 && isfinite(pieces) ? pieces : 1.0;
    switch (of->sort) {
    case LOAD_CURRENT:
        node->amps = own;
        break;
    case LOAD_POWER:
        node->watts = own;
        break;
    case LOAD_RESISTANCE:
        if (!net->places[place->root].open) {
            node->siemens = own;
        } else {
            node->amps = own * (corner == CORNER_WORST ? most_v : place->lowest_volts);
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
    node->columns = false;
    if (share->kind == VALUE_QUANTITY && !(share->flags & VALUE_BROKEN)) {
        double most = end_of((Interval){share->u.quantity.low, share->u.quantity.high}, corner, true);
        node->share = isfinite(most) ? most : 1.0;
        return;
    }
    node->columns = !takes_all_at_once(thing);
}

/* Whether it counts as brief: what is not decided so does in the best corner alone, where it takes less of others. */
static bool counts_as_brief(const Flow *flow, Corner corner)
{
    return flow->brief.high > 0.0 && (corner == CORNER_BEST || flow->lasting.high <= 0.0);
}

/* Fills in one corner at the sources' stated voltage, or at their lowest. */
static void fill(Net *net, Corner corner, bool at_lowest)
{
    for (uint32_t i = 0; i < net->count; i++) {
        Spot *place = &net->places[i];
        NetworkNode *node = &net->nodes[i];
        Interval source_v = at_lowest ? place->of->least_v : place->of->working_v;
        node->parent = place->parent;
        node->brief = counts_as_brief(&place->of->flow, corner);
        node->amps = node->watts = node->siemens = 0.0;
        node->emf_v = end_of(source_v, corner, false);
        place->endless = false;
        node->ohm = place->cable != NULL ? branch_ohm(place->cable, corner, &place->endless) : 0.0;
        node->cut_off = place->endless && place->cable->run.state == STATE_KNOWN;
        if (place->parent != NETWORK_SOURCE) {
            node->emf_v = net->nodes[place->parent].emf_v;
            node->cut_off = node->cut_off || net->nodes[place->parent].cut_off;
            place->endless = place->endless || net->places[place->parent].endless;
        }
        set_gathering(place->thing, node, corner);
        set_load(net, i, corner, source_v.high);
    }
}

/* The voltage collapses where it falls below half of the source's, before something that is not served for it. */
static bool falls_short(const Net *net, uint32_t i)
{
    return net->places[i].hungry && net->nodes[i].volts < net->nodes[i].emf_v / 2.0;
}

static void find_collapses(Net *net)
{
    for (uint32_t i = net->count; i-- > 0;) {
        const NetworkNode *node = &net->nodes[i];
        Spot *place = &net->places[i];
        place->hungry = place->hungry || node->starved || node->volts <= 0.0;
        if (place->hungry && place->parent != NETWORK_SOURCE) {
            net->places[place->parent].hungry = true;
        }
    }
    for (uint32_t i = 0; i < net->count; i++) {
        uint32_t parent = net->places[i].parent;
        net->places[i].collapsed = falls_short(net, i) || (parent != NETWORK_SOURCE && net->places[parent].collapsed);
    }
}

/*
 * Whatever may be starved takes no less than its current at the full voltage; whether anything may. Served at its best it
 * would take more, for its voltage falls; a boat in between may have it starved.
 */
static bool set_least(Net *net)
{
    bool any = false;
    for (uint32_t i = 0; i < net->count; i++) {
        NetworkNode *node = &net->nodes[i];
        if ((node->starved || net->places[i].may_starve) && net->places[net->places[i].root].open) {
            node->amps += node->watts / node->emf_v;
            node->watts = 0.0;
            any = true;
        }
    }
    return any;
}

static double volts_left(const Net *net, uint32_t i, Corner corner)
{
    bool none = net->places[i].collapsed || (corner == CORNER_WORST && net->places[i].endless);
    return none ? 0.0 : fmax(net->nodes[i].volts, 0.0);
}

static void solve(Net *net, Corner corner)
{
    for (uint32_t i = 0; i < net->count; i++) {
        net->places[i].hungry = false;
    }
    network_settle(net->nodes, net->count);
    find_collapses(net);
    for (uint32_t i = 0; i < net->count && corner == CORNER_WORST; i++) {
        net->places[i].lowest_volts = volts_left(net, i, corner);
        net->places[i].may_starve = net->nodes[i].starved;
    }
    if (corner == CORNER_BEST && set_least(net)) {
        network_settle(net->nodes, net->count);
    }
}

/* What it says of the cables */

static bool collapses_first(const Net *net, uint32_t i)
{
    uint32_t parent = net->places[i].parent;
    return net->places[i].collapsed && (parent == NETWORK_SOURCE || !net->places[parent].collapsed);
}

/* In a boat that is not decided it may be in any of the cables that fall short at the worst. */
static bool may_collapse(const Net *net, uint32_t i)
{
    return net->places[net->places[i].root].open ? falls_short(net, i) : collapses_first(net, i);
}

static void keep_worst(Net *net)
{
    for (uint32_t i = 0; i < net->count; i++) {
        Cable *cable = net->places[i].cable;
        if (cable != NULL) {
            net->places[i].worst_a = isinf(cable->current.value.high) ? INFINITY : fmax(net->nodes[i].current_a, 0.0);
            cable->may_collapse = cable->may_collapse || may_collapse(net, i);
        }
    }
}

/* The most of all states, at each end. */
static void keep_currents(Net *net)
{
    for (uint32_t i = 0; i < net->count; i++) {
        Cable *cable = net->places[i].cable;
        if (cable != NULL) {
            double worst_a = net->places[i].worst_a;
            Interval amps = {fmin(fmax(net->nodes[i].current_a, 0.0), worst_a), worst_a};
            cable->solved_a = cable->solved ? interval_max(cable->solved_a, amps) : amps;
            cable->solved = true;
            cable->collapses = cable->collapses || collapses_first(net, i);
        }
    }
}

static void keep_voltages(Net *net, Corner corner)
{
    for (uint32_t i = 0; i < net->count; i++) {
        PowerNode *of = net->places[i].of;
        double volts = volts_left(net, i, corner);
        if (!net->places[i].stands) {
            continue;
        }
        if (corner == CORNER_BEST) {
            of->end_v.high = fmax(fmin(volts, of->end_v.high), of->end_v.low);
        } else {
            of->end_v.low = of->end_known ? fmin(volts, of->end_v.low) : volts;
            of->end_v.high = of->end_known ? of->end_v.high : INFINITY;
            of->end_known = true;
        }
    }
}

/* The lowest voltage of each source, handed on */
static void lowest_voltages(Net *net)
{
    for (uint32_t i = 0; i < net->count; i++) {
        const Spot *place = &net->places[i];
        PowerNode *of = place->of;
        Chemistry chemistry;
        Interval least_v = of->working_v;
        const char *source = "what it gives";
        if (place->thing->kind == KIND_BANK && bank_chemistry(place->thing, &chemistry)) {
            Interval lowest = {battery_volts(BATTERY_LOWEST_WORKING, chemistry, of->nominal_v),
                               battery_volts(BATTERY_LOWEST_WORKING, chemistry, of->nominal_most_v)};
            least_v = interval_min(of->working_v, lowest);
            source = "lowest working voltage of its chemistry; common practice, no source";
        } else if (place->parent != NETWORK_SOURCE) {
            const PowerNode *giver = net->places[place->parent].of;
            least_v = giver->least_v;
            source = giver->least_source;
        }
        if (place->stands && (of->least_source == NULL || least_v.low < of->least_v.low)) {
            of->least_source = source;
        }
        if (place->stands) {
            of->least_v = of->least_v.low > 0.0 ? interval_min(of->least_v, least_v) : least_v;
        }
    }
}

/* One of no stated length is left out, which is the same in both corners. */
static bool spot_is_decided(const Spot *place)
{
    const PowerNode *of = place->of;
    PropId prop = power_together_prop(place->thing);
    const Value *share = property_value(prop != PROP_NONE ? entity_property(place->thing, prop) : NULL, 0);
    bool shares = !value_is_range(share);
    bool brief = counts_as_brief(&of->flow, CORNER_WORST) == counts_as_brief(&of->flow, CORNER_BEST);
    return shares && brief && interval_is_point(of->own) && interval_is_point(of->working_v) &&
           (place->cable == NULL || place->cable->run.state != STATE_KNOWN || cable_is_decided(place->cable));
}

/* Each tree by itself: what is open in one has nothing to say in another. */
static void find_open_trees(Net *net)
{
    net->looked_at = net->decided = true;
    for (uint32_t i = 0; i < net->count; i++) {
        Spot *place = &net->places[i];
        place->root = place->parent == NETWORK_SOURCE ? i : net->places[place->parent].root;
        if (!spot_is_decided(place)) {
            net->places[place->root].open = true;
            net->decided = false;
        }
    }
}

static Net *make_net(Power *power, unsigned way, bool passes)
{
    Arena *arena = power->work->scratch;
    Net *net = ARENA_NEW(arena, Net);
    *net = (Net){.power = power, .way = way, .passes = passes};
    net->places = ARENA_ARRAY(arena, Spot, power->model->feed_order_count + 1);
    net->number = ARENA_ARRAY(arena, uint32_t, power->model->entity_count + 1);
    place_things(net);
    net->nodes = ARENA_ARRAY(arena, NetworkNode, net->count + 1);
    return net;
}

static unsigned most_ways(const Model *model)
{
    unsigned most = 1;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        unsigned ways = 0;
        for (const Feed *feed = model->feed_order[i]->fed; feed != NULL; feed = feed->next) {
            ways++;
        }
        most = ways > most ? ways : most;
    }
    return most < WAYS_MOST ? most : WAYS_MOST;
}

static bool any_passes(const Model *model)
{
    const Entity *inverter = model->first_of_kind[KIND_INVERTER];
    while (inverter != NULL && (inverter->flags & ENTITY_DROPPED || entity_reference(inverter, PROP_INVERTER_PASSES) == NULL)) {
        inverter = inverter->next_of_kind;
    }
    return inverter != NULL;
}

/* The places of things stay, whatever sizes are tried: made once. */
static Net *net_of(Power *power)
{
    if (power->net != NULL) {
        return power->net;
    }
    power->net = make_net(power, 0, false);
    lowest_voltages(power->net);
    Net **end = &power->net->next;
    unsigned ways = most_ways(power->model);
    for (int passes = 0; passes <= any_passes(power->model); passes++) {
        for (unsigned way = passes == 0 ? 1 : 0; way < ways; way++) {
            *end = make_net(power, way, passes == 1);
            if (passes == 0) {
                lowest_voltages(*end);
            }
            end = &(*end)->next;
        }
    }
    return power->net;
}

void power_least_voltages(Power *power)
{
    net_of(power);
}

static void solve_corner(Net *net, Corner corner, bool at_lowest)
{
    fill(net, corner, at_lowest);
    solve(net, corner);
}

static void solve_currents(Net *net)
{
    solve_corner(net, CORNER_WORST, false);
    keep_worst(net);
    if (!net->decided) {
        solve_corner(net, CORNER_BEST, false);
    }
    keep_currents(net);
}

static void solve_voltages(Net *net)
{
    solve_corner(net, CORNER_WORST, true);
    keep_voltages(net, CORNER_WORST);
    if (!net->decided) {
        solve_corner(net, CORNER_BEST, true);
    }
    keep_voltages(net, CORNER_BEST);
}

void power_solve(Power *power)
{
    Net *first = net_of(power);
    for (uint32_t i = 0; i < first->count; i++) {
        first->places[i].of->end_known = false;
    }
    for (uint32_t i = 0; i < power->cable_count; i++) {
        power->cables[i].solved = power->cables[i].collapses = power->cables[i].may_collapse = false;
    }
    for (Net *net = first; net != NULL; net = net->next) {
        if (!net->looked_at) {
            find_open_trees(net);
        }
        solve_currents(net);
        if (!net->passes) {
            solve_voltages(net);
        }
    }
}
