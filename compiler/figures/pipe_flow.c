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
    sum_label(sum, line->work, before, hose, "run");
    use_value(line->work, hose, PROP_HOSE_RUN, 0);
    sum_label(sum, line->work, " of ", hose, "bore");
    use_value(line->work, hose, PROP_HOSE_BORE, 0);
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

static void add_run(Route *route, const PipePiece *piece, bool least, double extra_k, double share)
{
    route->blocked |= least && piece->blocked;
    route->lift += least ? piece->rise.high : piece->rise.low;
    if (route->count == MOST_RUNS || (!least && piece->open)) {
        return;
    }
    PipeRun *run = &route->runs[route->count++];
    *run = (PipeRun){.hose = least ? piece->least : piece->most, .share = share};
    run->hose.minor_k += extra_k;
}

/* weight NULL: everything flows to this step alone; else what of it passes each hose, of `whole`. */
static void find_route(const Line *line, const Suction *way, uint32_t step, bool least, const double *weight, double whole,
                       Route *route)
{
    const Pipes *pipes = line->pipes;
    *route = (Route){.count = 0};
    for (uint32_t i = step; i != 0; i = pipes->steps[i].before) {
        const Entity *hose = pipes->steps[i].hose;
        double end = i == step ? minor_k(end_loss(pipes->steps[i].thing)) : 0.0;
        add_run(route, pipes->pieces[hose->index], least, end,
                weight != NULL ? weight[hose->index] / whole : 1.0);
    }
    for (uint32_t i = 0; i < way->count; i++) {
        double begin = i + 1 == way->count ? minor_k(MINOR_ENTRANCE) : 0.0;
        add_run(route, pipes->pieces[way->hoses[i]->index], least, begin, 1.0);
    }
}

static double flow_on(const Route *route, const Curve *curve, bool least)
{
    Pump pump = {.shape = PUMP_LINE,
                 .shut_off_m = least ? curve->shut_off.low : curve->shut_off.high,
                 .free_flow_m3_per_s = least ? curve->flow.low : curve->flow.high};
    if (least && (route->blocked || !isfinite(route->lift))) {
        return 0.0;
    }
    if (!isfinite(pump.shut_off_m) || !isfinite(pump.free_flow_m3_per_s) || !isfinite(route->lift)) {
        return pump.free_flow_m3_per_s;
    }
    return pump_through_m3_per_s(&pump, least ? curve->most.low : curve->most.high, route->lift, route->runs,
                                 route->count, liquid_viscosity_m2_per_s(LIQUID_FRESH_15_C));
}

/* By the way of the suction that lets least through. */
static double flow_to(const Line *line, uint32_t step, const Curve *curve, bool least, const double *weight, double whole)
{
    Route route;
    double flow = INFINITY;
    for (uint32_t i = 0; i < line->pipes->suction_count; i++) {
        find_route(line, &line->pipes->suctions[i], step, least, weight, whole, &route);
        flow = fmin(flow, flow_on(&route, curve, least));
    }
    return flow;
}

/* ---- One tap alone ------------------------------------------------------------------------------------- */

Interval flow_alone(const Line *line, uint32_t step, const Curve *curve)
{
    return interval_corners(flow_to(line, step, curve, true, NULL, 1.0), flow_to(line, step, curve, false, NULL, 1.0));
}

void note_alone(Line *line, uint32_t step, Interval flow)
{
    for (uint32_t i = step; i != 0; i = line->pipes->steps[i].before) {
        Interval *alone = &line->alone[line->pipes->steps[i].hose->index];
        *alone = interval_max(*alone, flow);
    }
}

/* ---- Everything open ----------------------------------------------------------------------------------- */

/* What is wished of a tap, or of all taps of one name together. */
static Interval wish_of(const Line *line, uint32_t tap)
{
    const Entity *fixture = line->pipes->steps[line->taps[tap]].thing;
    const Value *value = property_value(model_property(line->work->model, fixture, PROP_FIXTURE_FLOW), 0);
    const Value *count = property_value(entity_property(fixture, PROP_COMMON_COUNT), 0);
    Interval one = {value->u.quantity.low, value->u.quantity.high};
    Interval times = {count->u.quantity.low, count->u.quantity.high};
    return count->kind == VALUE_QUANTITY ? interval_multiply(one, times) : one;
}

/* Lays what is wished for on the hoses; returns the sum. Tap `of` at one end of its range, the others at the other. */
static double weigh(Line *line, uint32_t of, bool least, double *own)
{
    double whole = 0.0;
    for (uint32_t t = 0; t < line->tap_count; t++) {
        for (uint32_t i = line->taps[t]; i != 0; i = line->pipes->steps[i].before) {
            line->weight[line->pipes->steps[i].hose->index] = 0.0;
        }
    }
    for (uint32_t t = 0; t < line->tap_count; t++) {
        Interval wish = wish_of(line, t);
        double weight = (t == of) == least ? wish.low : wish.high;
        whole += weight;
        *own = t == of ? weight : *own;
        for (uint32_t i = line->taps[t]; i != 0; i = line->pipes->steps[i].before) {
            line->weight[line->pipes->steps[i].hose->index] += weight;
        }
    }
    return whole;
}

/*
 * What one tap gets at one end of everything. It rises with its own wish and falls with those of the others:
 * if it fell with its own, every flow would, and the pump would have head to spare.
 */
static double together_at(Line *line, uint32_t of, const Curve *curve, bool least)
{
    double own = 0.0, flow = INFINITY;
    double whole = weigh(line, of, least, &own);
    if (!isfinite(whole) || whole <= 0.0) {
        return least ? 0.0 : curve->flow.high;
    }
    for (uint32_t t = 0; t < line->tap_count; t++) {
        flow = fmin(flow, flow_to(line, line->taps[t], curve, least, line->weight, whole));
    }
    return flow * own / whole;
}

static bool wishes_are_points(const Line *line)
{
    for (uint32_t t = 0; t < line->tap_count; t++) {
        if (!interval_is_point(wish_of(line, t))) {
            return false;
        }
    }
    return true;
}

static void note_together(Line *line, uint32_t step, Interval flow)
{
    for (uint32_t i = step; i != 0; i = line->pipes->steps[i].before) {
        Interval *passes = &line->passes[line->pipes->steps[i].hose->index];
        *passes = interval_add(*passes, flow);
    }
}

void flow_together(Line *line, const Curve *curve, Interval flows[], Interval *all)
{
    bool points = wishes_are_points(line);
    Interval first = point(0.0);
    *all = point(0.0);
    for (uint32_t t = 0; t < line->tap_count; t++) {
        if (points && t > 0) { /* the same share of every wish */
            flows[t] = interval_scale(first, wish_of(line, t).low / wish_of(line, 0).low);
        } else {
            flows[t] =
                interval_corners(together_at(line, t, curve, true), together_at(line, t, curve, false));
        }
        first = t == 0 ? flows[0] : first;
        *all = interval_add(*all, flows[t]);
        note_together(line, line->taps[t], flows[t]);
    }
}

/* ---- The suction ---------------------------------------------------------------------------------------- */

Interval suction_of(const Line *line, const Suction *way, Interval flow)
{
    double low = 0.0, high = 0.0;
    double viscosity = liquid_viscosity_m2_per_s(LIQUID_FRESH_15_C);
    for (uint32_t i = 0; i < way->count; i++) {
        const PipePiece *piece = line->pipes->pieces[way->hoses[i]->index];
        low += piece->open ? 0.0 : piece->rise.low + hose_loss_m(&piece->most, flow.low, viscosity);
        high += piece->blocked ? INFINITY : piece->rise.high + hose_loss_m(&piece->least, flow.high, viscosity);
    }
    return interval_corners(low, high);
}
