/* See pipe_flow.h. */
#include "figures/pipe_flow.h"

#include <math.h>

enum { MOST_RUNS = 64 };

/* ---- What a figure uses ------------------------------------------------------------------------------- */

/* A pressure, or a head in m of water, as head in m. */
static Interval head_of(const Entity *pump, PropId prop, Interval value)
{
    const Value *stated = property_value(entity_property(pump, prop), 0);
    bool length = stated->kind == VALUE_QUANTITY &&
                  dimension_equal(unit_dimension(stated->unit), unit_dimension(UNIT_ALONE(UNIT_M)));
    double scale = 1.0 / pressure_of_head_pa(1.0, liquid_density_kg_per_m3(LIQUID_FRESH_15_C));
    return length ? value : interval_scale(value, scale);
}

bool pump_has_curve(const Entity *pump)
{
    bool head = entity_states(pump, PROP_PUMP_SHUT_OFF) || entity_states(pump, PROP_PUMP_PRESSURE);
    return entity_yes(pump, PROP_PUMP_HAND) != 1 || (head && entity_states(pump, PROP_PUMP_FLOW));
}

Curve use_curve(Line *line, Sum *sum)
{
    const Entity *pump = line->pump;
    PropId shut_off = entity_states(pump, PROP_PUMP_SHUT_OFF) || !entity_states(pump, PROP_PUMP_PRESSURE)
                          ? PROP_PUMP_SHUT_OFF
                          : PROP_PUMP_PRESSURE;
    Curve curve;
    sum_label(sum, line->work, "", pump, "flow");
    curve.flow = use_value(line->work, pump, PROP_PUMP_FLOW, 0).value;
    sum_count(sum, line->work, pump);
    curve.flow = interval_multiply(curve.flow, use_count(line->work, pump).value);
    sum_label(sum, line->work, " falling to nothing at ", pump, props[shut_off].word);
    curve.shut_off = head_of(pump, shut_off, use_value(line->work, pump, shut_off, 0).value);
    curve.most = curve.shut_off;
    if (shut_off == PROP_PUMP_SHUT_OFF && entity_states(pump, PROP_PUMP_PRESSURE)) {
        sum_label(sum, line->work, ", stopped at ", pump, "pressure");
        curve.most =
            head_of(pump, PROP_PUMP_PRESSURE, use_value(line->work, pump, PROP_PUMP_PRESSURE, 0).value);
    }
    return curve;
}

void use_hose(Line *line, Sum *sum, const char *before, const Entity *hose)
{
    use_hose_size(line->work, sum, before, hose);
    sum_label(sum, line->work, " with ", hose, "bends");
    use_value(line->work, hose, PROP_HOSE_BENDS, 0);
    if (entity_states(hose, PROP_HOSE_RISE)) {
        sum_label(sum, line->work, " bends and a rise of ", hose, "rise");
        use_value(line->work, hose, PROP_HOSE_RISE, 0);
    } else {
        buf_text(&sum->formula, " bends");
    }
}

/* How many of the last hoses of a way are those of an earlier one: an input is used once. */
static uint32_t shared_hoses(const Pipes *pipes, uint32_t number)
{
    uint32_t most = 0;
    const Suction *way = &pipes->suctions[number];
    for (uint32_t w = 0; w < number; w++) {
        const Suction *earlier = &pipes->suctions[w];
        uint32_t same = 0;
        while (same < way->count && same < earlier->count && way->hoses[same] == earlier->hoses[same]) {
            same++;
        }
        most = same > most ? same : most;
    }
    return most;
}

void use_suction(Line *line, Sum *sum, const char *before)
{
    for (uint32_t w = 0; w < line->pipes->suction_count; w++) {
        const Suction *way = &line->pipes->suctions[w];
        for (uint32_t i = way->count, last = shared_hoses(line->pipes, w); i-- > last;) {
            use_hose(line, sum, i + 1 < way->count ? ", " : w > 0 ? ", or " : before, way->hoses[i]);
        }
    }
}

void use_delivery(Line *line, Sum *sum, uint32_t step)
{
    for (uint32_t i = step; i != 0; i = line->pipes->steps[i].before) {
        use_hose(line, sum, sum->formula.length > 0 ? ", " : "", line->pipes->steps[i].hose);
    }
}

/* ---- Solving ------------------------------------------------------------------------------------------ */

static MinorLoss end_loss(const Entity *thing)
{
    return thing->kind == KIND_FIXTURE ? MINOR_TAP : MINOR_EXIT;
}

/* A way at one end of its ranges. */
typedef struct Route {
    PipeRun runs[MOST_RUNS];
    size_t count;
    double lift;
    bool blocked;
} Route;

static void add_run(Route *route, const PipePiece *piece, bool least, double extra_k)
{
    route->blocked |= least && piece->blocked;
    route->lift += least ? piece->rise.high : piece->rise.low;
    if (!least && piece->open) {
        return;
    }
    if (route->count == MOST_RUNS) {
        route->blocked |= least; /* longer than is followed: nobody knows that anything comes through */
        return;
    }
    PipeRun *run = &route->runs[route->count++];
    *run = (PipeRun){.hose = least ? piece->least : piece->most, .share = 1.0};
    run->hose.minor_k += extra_k;
}

static void add_suction(const Line *line, const Suction *way, bool least, Route *route)
{
    for (uint32_t i = 0; i < way->count; i++) {
        double begin = i + 1 == way->count ? minor_k(MINOR_ENTRANCE) : 0.0;
        add_run(route, line->pipes->pieces[way->hoses[i]->index], least, begin);
    }
}

static void find_route(const Line *line, const Suction *way, uint32_t step, bool least, Route *route)
{
    const Pipes *pipes = line->pipes;
    route->count = 0;
    route->lift = 0.0;
    route->blocked = false;
    for (uint32_t i = step; i != 0; i = pipes->steps[i].before) {
        const Entity *hose = pipes->steps[i].hose;
        double end = i == step ? minor_k(end_loss(pipes->steps[i].thing)) : 0.0;
        add_run(route, pipes->pieces[hose->index], least, end);
    }
    add_suction(line, way, least, route);
}

/* The pump's curve at one end of its ranges. */
static Pump pump_at(const Curve *curve, bool weak)
{
    return (Pump){.shape = PUMP_LINE,
                  .shut_off_m = weak ? curve->shut_off.low : curve->shut_off.high,
                  .free_flow_m3_per_s = weak ? curve->flow.low : curve->flow.high};
}

static double flow_on(const Route *route, const Curve *curve, bool least, bool weak)
{
    Pump pump = pump_at(curve, weak);
    if (least && (route->blocked || !isfinite(route->lift))) {
        return 0.0;
    }
    if (!isfinite(pump.shut_off_m) || !isfinite(pump.free_flow_m3_per_s) || !isfinite(route->lift)) {
        return pump.free_flow_m3_per_s;
    }
    return pump_through_m3_per_s(&pump, weak ? curve->most.low : curve->most.high, route->lift, route->runs,
                                 route->count, liquid_viscosity_m2_per_s(LIQUID_FRESH_15_C));
}

/* By the way of the suction that lets least through. */
static double flow_to(const Line *line, uint32_t step, const Curve *curve, bool least, bool weak)
{
    Route route;
    double flow = INFINITY;
    for (uint32_t i = 0; i < line->pipes->suction_count; i++) {
        find_route(line, &line->pipes->suctions[i], step, least, &route);
        flow = fmin(flow, flow_on(&route, curve, least, weak));
    }
    return flow;
}

/* ---- What is decided ----------------------------------------------------------------------------------- */

/* How many of one name are open side by side. */
static Interval taps_at(const Line *line, uint32_t tap)
{
    const Entity *fixture = line->pipes->steps[line->taps[tap]].thing;
    const Value *count = property_value(entity_property(fixture, PROP_COMMON_COUNT), 0);
    return count->kind == VALUE_QUANTITY ? (Interval){count->u.quantity.low, count->u.quantity.high} : point(1.0);
}

static bool is_point(const Hose *a, const Hose *b)
{
    return a->bore_m == b->bore_m && a->length_m == b->length_m && a->minor_k == b->minor_k;
}

/* No range anywhere: one solution tells all. */
static bool all_are_points(const Line *line, const Curve *curve)
{
    const Pipes *pipes = line->pipes;
    bool points = interval_is_point(curve->flow) && interval_is_point(curve->shut_off) && interval_is_point(curve->most);
    for (uint32_t i = 1; i < pipes->step_count && points; i++) {
        const PipePiece *piece = pipes->steps[i].hose != NULL ? pipes->pieces[pipes->steps[i].hose->index] : NULL;
        points = piece == NULL || (is_point(&piece->least, &piece->most) && interval_is_point(piece->rise));
    }
    for (uint32_t w = 0; w < pipes->suction_count && points; w++) {
        for (uint32_t i = 0; i < pipes->suctions[w].count; i++) {
            const PipePiece *piece = pipes->pieces[pipes->suctions[w].hoses[i]->index];
            points = points && is_point(&piece->least, &piece->most) && interval_is_point(piece->rise);
        }
    }
    for (uint32_t t = 0; t < line->tap_count && points; t++) {
        points = interval_is_point(taps_at(line, t));
    }
    return points;
}

/* ---- One tap alone ------------------------------------------------------------------------------------- */

Interval flow_alone(const Line *line, uint32_t step, const Curve *curve)
{
    bool followed = line->pipes->step_count + SUCTION_HOSES <= MOST_RUNS; /* whatever the way: see add_run */
    double least = flow_to(line, step, curve, true, true);
    return followed && all_are_points(line, curve) ? point(least)
                                                   : interval_corners(least, flow_to(line, step, curve, false, false));
}

/* Whether a hose lies on the way to a step. */
static bool passes(const Line *line, uint32_t step, const Entity *hose)
{
    while (step != 0 && line->pipes->steps[step].hose != hose) {
        step = line->pipes->steps[step].before;
    }
    return step != 0;
}

/* What flows in a hose of which nobody can tell whether it is on the way. */
static Interval perhaps(const Line *line, uint32_t other, const Entity *hose, Interval flow)
{
    return passes(line, other, hose) ? flow : interval_hull(flow, point(0.0));
}

void note_alone(Line *line, uint32_t step, uint32_t other, Interval flow)
{
    const uint32_t ends[2][2] = {{step, other}, {other, step}};
    for (int way = 0; way < (step == other ? 1 : 2); way++) {
        for (uint32_t i = ends[way][0]; i != 0; i = line->pipes->steps[i].before) {
            const Entity *hose = line->pipes->steps[i].hose;
            line->alone[hose->index] = interval_max(line->alone[hose->index], perhaps(line, ends[way][1], hose, flow));
        }
    }
}

/* ---- Everything open ----------------------------------------------------------------------------------- */

#define NO_TAP UINT32_MAX
static const double closed_m = 1e6; /* so high nothing rises: a hose of which nothing is known to pass */

/* All ways to open taps as one tree. */
typedef struct Net {
    const Line *line;
    PipeBranch *branches;
    PipeTreeRoom *room;
    uint32_t *branch_of; /* by step: its branch, from 1 on; 0: it leads to no tap */
    size_t count;
} Net;

/* The same for one pump after the other. */
static PipeTreeRoom *solving_room(Line *line, size_t count)
{
    if (line->room_count < count) {
        line->room = ARENA_ARRAY(line->work->scratch, PipeTreeRoom, count);
        line->room_count = count;
    }
    return line->room;
}

static Net make_net(Line *line)
{
    const Pipes *pipes = line->pipes;
    Net net = {.line = line, .branch_of = ARENA_ARRAY(line->work->scratch, uint32_t, pipes->step_count)};
    for (uint32_t t = 0; t < line->tap_count; t++) {
        for (uint32_t i = line->taps[t]; i != 0; i = pipes->steps[i].before) {
            net.branch_of[i] = 1;
        }
    }
    for (uint32_t i = 1; i < pipes->step_count; i++) {
        net.count += net.branch_of[i];
        net.branch_of[i] = net.branch_of[i] > 0 ? (uint32_t)net.count : 0;
    }
    net.branches = ARENA_ARRAY(line->work->scratch, PipeBranch, net.count);
    net.room = solving_room(line, net.count + 1);
    return net;
}

/* A hose at one end of its ranges. */
static PipeBranch branch_at(const PipePiece *piece, bool least, int before)
{
    if (least ? piece->blocked : !isfinite(piece->rise.low)) {
        return (PipeBranch){.lossless = true, .rise_m = least ? closed_m : -closed_m, .before = before};
    }
    return (PipeBranch){.hose = least ? piece->least : piece->most,
                        .lossless = !least && piece->open,
                        .rise_m = least ? piece->rise.high : piece->rise.low,
                        .before = before};
}

/* The tree for one tap at one end: the hoses on its way at that end, all others at the other one. NO_TAP: all at that end. */
static void lay_net(Net *net, uint32_t of, bool least)
{
    const Line *line = net->line;
    const Pipes *pipes = line->pipes;
    for (uint32_t i = 1; i < pipes->step_count; i++) {
        if (net->branch_of[i] > 0) {
            uint32_t before = pipes->steps[i].before;
            net->branches[net->branch_of[i] - 1] = branch_at(pipes->pieces[pipes->steps[i].hose->index],
                                                             of == NO_TAP ? least : !least,
                                                             before == 0 ? -1 : (int)net->branch_of[before] - 1);
        }
    }
    for (uint32_t i = of != NO_TAP ? line->taps[of] : 0; i != 0; i = pipes->steps[i].before) {
        PipeBranch *own = &net->branches[net->branch_of[i] - 1];
        *own = branch_at(pipes->pieces[pipes->steps[i].hose->index], least, own->before);
    }
    for (uint32_t t = 0; t < line->tap_count; t++) {
        Interval taps = taps_at(line, t);
        bool few = of == NO_TAP || t == of ? least : !least;
        net->branches[net->branch_of[line->taps[t]] - 1].taps = few ? taps.low : taps.high;
    }
}

/* Solves the tree as it is laid, by one way of the suction; what the pump moves. */
static double solve_net(Net *net, const Suction *way, const Curve *curve, bool least, bool weak)
{
    Route suction = {.count = 0};
    add_suction(net->line, way, least, &suction);
    Pump pump = pump_at(curve, weak);
    double flow = pump.free_flow_m3_per_s;
    if ((least && suction.blocked) || !isfinite(flow) || !isfinite(pump.shut_off_m) || !isfinite(suction.lift)) {
        for (size_t i = 0; i < net->count; i++) {
            net->room[i].flow = least ? 0.0 : flow;
        }
        return least ? 0.0 : flow;
    }
    PipeTree tree = {.pump = pump,
                     .most_m = weak ? curve->most.low : curve->most.high,
                     .lift_m = suction.lift,
                     .suction = suction.runs,
                     .suction_count = suction.count,
                     .branches = net->branches,
                     .count = net->count,
                     .viscosity_m2_per_s = liquid_viscosity_m2_per_s(LIQUID_FRESH_15_C)};
    return pipe_tree_m3_per_s(&tree, net->room);
}

/* What a tap gets at one end of everything, or the pump moves in all; by the way of the suction that lets least through. */
static double together_at(Net *net, uint32_t of, const Curve *curve, bool least, bool weak)
{
    double flow = INFINITY;
    const Line *line = net->line;
    lay_net(net, of, least);
    for (uint32_t i = 0; i < line->pipes->suction_count; i++) {
        double all = solve_net(net, &line->pipes->suctions[i], curve, least, weak);
        flow = fmin(flow, of == NO_TAP ? all : net->room[net->branch_of[line->taps[of]] - 1].flow);
    }
    return flow;
}

/* What both ways have is passed once. */
static void note_together(Line *line, uint32_t step, uint32_t other, Interval flow)
{
    const uint32_t ends[2][2] = {{step, other}, {other, step}};
    for (int way = 0; way < (step == other ? 1 : 2); way++) {
        for (uint32_t i = ends[way][0]; i != 0; i = line->pipes->steps[i].before) {
            const Entity *hose = line->pipes->steps[i].hose;
            Interval *sum = &line->passes[hose->index];
            bool noted = way == 1 && passes(line, step, hose);
            *sum = noted ? *sum : interval_add(*sum, perhaps(line, ends[way][1], hose, flow));
        }
    }
}

enum { WAYS_OPEN = 4 }; /* so many taps of which it is open which way is the worse are followed by each of them */

/* In how many manners the taps may be reached by their worse ways; 0: in more than are followed. */
static uint32_t manners_of(const Line *line)
{
    unsigned open = 0;
    for (uint32_t t = 0; t < line->tap_count; t++) {
        open += line->ways[0][t] != line->ways[1][t];
    }
    return open <= WAYS_OPEN ? 1u << open : 0;
}

static void take_manner(Line *line, uint32_t manner)
{
    for (uint32_t t = 0; t < line->tap_count; t++) {
        bool open = line->ways[0][t] != line->ways[1][t];
        line->taps[t] = line->ways[open ? manner & 1u : 0][t];
        manner >>= open;
    }
}

static void solve_points(Net *net, const Curve *curve, Interval flows[], Interval *all)
{
    const Line *line = net->line;
    *all = point(INFINITY);
    lay_net(net, NO_TAP, true);
    for (uint32_t i = 0; i < line->pipes->suction_count; i++) {
        *all = interval_min(*all, point(solve_net(net, &line->pipes->suctions[i], curve, true, true)));
        for (uint32_t t = 0; t < line->tap_count; t++) {
            Interval flow = point(net->room[net->branch_of[line->taps[t]] - 1].flow);
            flows[t] = i > 0 ? interval_min(flows[t], flow) : flow;
        }
    }
}

static void solve_manner(Line *line, const Curve *curve, Interval flows[], Interval *all)
{
    Net net = make_net(line);
    if (all_are_points(line, curve)) {
        solve_points(&net, curve, flows, all);
        return;
    }
    for (uint32_t t = 0; t < line->tap_count; t++) {
        flows[t] = interval_corners(together_at(&net, t, curve, true, true), together_at(&net, t, curve, false, false));
    }
    *all = interval_corners(together_at(&net, NO_TAP, curve, true, true), together_at(&net, NO_TAP, curve, false, false));
}

void flow_together(Line *line, const Curve *curve, Interval flows[], Interval *all)
{
    uint32_t manners = manners_of(line);
    Interval *now = ARENA_ARRAY(line->work->scratch, Interval, line->tap_count), all_now;
    *all = (Interval){0.0, curve->flow.high};
    for (uint32_t t = 0; t < line->tap_count; t++) {
        flows[t] = *all;
    }
    for (uint32_t manner = 0; manner < manners; manner++) {
        take_manner(line, manner);
        solve_manner(line, curve, now, &all_now);
        *all = manner > 0 ? interval_hull(*all, all_now) : all_now;
        for (uint32_t t = 0; t < line->tap_count; t++) {
            flows[t] = manner > 0 ? interval_hull(flows[t], now[t]) : now[t];
        }
    }
    take_manner(line, 0);
    for (uint32_t t = 0; t < line->tap_count; t++) {
        note_together(line, line->ways[0][t], line->ways[1][t], flows[t]);
    }
}

/* ---- The head ------------------------------------------------------------------------------------------- */

/* What the pump moves in all, its hoses at one end of their ranges and its curve at one of its own. */
static double moved_at(Line *line, uint32_t outlet, uint32_t other, const Curve *curve, bool least, bool weak)
{
    uint32_t manners = manners_of(line);
    double moved = least ? (manners > 0 ? INFINITY : 0.0) : (manners > 0 ? 0.0 : pump_at(curve, weak).free_flow_m3_per_s);
    for (uint32_t manner = 0; line->tap_count > 0 && manner < manners; manner++) {
        take_manner(line, manner);
        Net net = make_net(line);
        double now = together_at(&net, NO_TAP, curve, least, weak);
        moved = least ? fmin(moved, now) : fmax(moved, now);
    }
    if (line->tap_count > 0) {
        take_manner(line, 0);
        return moved;
    }
    double flow = flow_to(line, outlet, curve, least, weak);
    return other != 0 ? fmin(flow, flow_to(line, other, curve, least, weak)) : flow;
}

static double head_on_line(const Pump *pump, double most_m, double flow)
{
    bool bounded = isfinite(pump->shut_off_m) && isfinite(pump->free_flow_m3_per_s);
    double left = bounded && pump->free_flow_m3_per_s > 0.0 ? fmax(0.0, 1.0 - flow / pump->free_flow_m3_per_s) : 0.0;
    return fmin(most_m, bounded ? pump->shut_off_m * left : pump->shut_off_m);
}

Interval head_at_flow(Line *line, uint32_t outlet, uint32_t other, const Curve *curve, Interval flow)
{
    Pump weak = pump_at(curve, true), strong = pump_at(curve, false);
    if (all_are_points(line, curve)) {
        return point(head_on_line(&weak, curve->most.low, flow.low));
    }
    double low = isfinite(weak.shut_off_m) && isfinite(weak.free_flow_m3_per_s)
                     ? head_on_line(&weak, curve->most.low, moved_at(line, outlet, other, curve, false, true))
                     : 0.0;
    return interval_corners(low, head_on_line(&strong, curve->most.high, moved_at(line, outlet, other, curve, true, false)));
}

/* ---- The suction ---------------------------------------------------------------------------------------- */

/* What is lost in a hose, and where the first one leaves the tank. */
static double loss_of(Hose hose, bool first, double flow, double viscosity)
{
    hose.minor_k += first ? minor_k(MINOR_ENTRANCE) : 0.0;
    return hose_loss_m(&hose, flow, viscosity);
}

Interval suction_of(const Line *line, const Suction *way, Interval flow)
{
    double low = 0.0, high = 0.0;
    double viscosity = liquid_viscosity_m2_per_s(LIQUID_FRESH_15_C);
    for (uint32_t i = 0; i < way->count; i++) {
        const PipePiece *piece = line->pipes->pieces[way->hoses[i]->index];
        bool first = i + 1 == way->count;
        low += piece->open ? 0.0 : piece->rise.low + loss_of(piece->most, first, flow.low, viscosity);
        high += piece->blocked ? INFINITY : piece->rise.high + loss_of(piece->least, first, flow.high, viscosity);
    }
    return interval_corners(low, high);
}
