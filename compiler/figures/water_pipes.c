/*
 * What flows: the operating point of each pump against the hoses that it serves, at every tap; the lift of
 * its suction, speeds, what is lost on the way, how often it starts.
 *
 * A pump is a straight line from its free flow to its shut-off head, as one that displaces is; several of one name
 * stand side by side and move as many times the flow. Its switch lets it give no more pressure than that at which it
 * stops. A tap loses what an open globe valve does. With
 * everything open, each tap is taken to be throttled so that all get the same share of what is wished of them,
 * as far as the worst of them can get it.
 */
#include "figures/pipes.h"

#include <math.h>

enum { MOST_RUNS = 64 };

/* The pump at hand. */
typedef struct Line {
    Work *work;
    Pipes *pipes;
    const Entity *pump;
    uint32_t *taps; /* steps: of each fixture, the worse of its cold and its hot way */
    uint32_t tap_count;
    double *weight;   /* by Entity.index of a hose: what passes it, of what is wished for in all */
    Interval *passes; /* the same: what flows through it with everything open ... */
    Interval *alone;  /* ... and the most that one tap alone draws through it */
} Line;

/* A pump's curve, with heads in m. */
typedef struct Curve {
    Interval flow, shut_off, most;
} Curve;

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

/* Where no shut-off is stated, the pressure at which it stops stands for it: it gives less flow. */
static Curve use_curve(Line *line, Sum *sum)
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

static void use_hose(Line *line, Sum *sum, const char *before, const Entity *hose)
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

static void use_suction(Line *line, Sum *sum)
{
    for (uint32_t i = line->pipes->suction_count; i-- > 0;) {
        use_hose(line, sum, i + 1 == line->pipes->suction_count ? ", against " : ", ",
                 line->pipes->suction[i]);
    }
}

/* The hoses from the pump to a step, the last one first. */
static void use_delivery(Line *line, Sum *sum, uint32_t step)
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
static void find_route(const Line *line, uint32_t step, bool least, const double *weight, double whole,
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
    for (uint32_t i = 0; i < pipes->suction_count; i++) {
        double begin = i + 1 == pipes->suction_count ? minor_k(MINOR_ENTRANCE) : 0.0;
        add_run(route, pipes->pieces[pipes->suction[i]->index], least, begin, 1.0);
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

static double flow_to(const Line *line, uint32_t step, const Curve *curve, bool least)
{
    Route route;
    find_route(line, step, least, NULL, 1.0, &route);
    return flow_on(&route, curve, least);
}

/* ---- One tap alone ------------------------------------------------------------------------------------- */

static Interval alone_at(const Line *line, uint32_t step, const Curve *curve)
{
    return interval_corners(flow_to(line, step, curve, true), flow_to(line, step, curve, false));
}

static void note_alone(Line *line, uint32_t step, Interval flow)
{
    for (uint32_t i = step; i != 0; i = line->pipes->steps[i].before) {
        Interval *alone = &line->alone[line->pipes->steps[i].hose->index];
        *alone = interval_max(*alone, flow);
    }
}

/* The other way to the same fixture, cold or hot; 0 if there is none. */
static uint32_t other_way(const Pipes *pipes, uint32_t step)
{
    for (uint32_t i = step + 1; i < pipes->step_count; i++) {
        if (pipes->steps[i].thing == pipes->steps[step].thing && pipes->steps[i].whole) {
            return i;
        }
    }
    return 0;
}

/* The flow of an outlet that alone is open: by its worse way. Returns the step of that way. */
static uint32_t record_alone(Line *line, const Entity *subject, uint32_t step)
{
    Sum sum;
    sum_begin(&sum, line->work);
    Curve curve = use_curve(line, &sum);
    uint32_t other = other_way(line->pipes, step);
    Interval flow = point(0.0);
    if (line->work->state == STATE_KNOWN) {
        flow = alone_at(line, step, &curve);
        Interval by_other = other != 0 ? alone_at(line, other, &curve) : flow;
        step = by_other.low < flow.low ? other : step;
        flow = interval_min(flow, by_other);
        note_alone(line, step, flow);
    }
    use_suction(line, &sum);
    use_delivery(line, &sum, step);
    buf_text(&sum.formula, subject->kind == KIND_FIXTURE ? " and an open tap" : "");
    Figure *figure = work_record(line->work, FIGURE_FLOW, subject, NULL, flow, sum.formula.text);
    figure->unit = unit_of(subject, subject->kind == KIND_FIXTURE ? PROP_FIXTURE_FLOW : PROP_PUMP_FLOW,
                           unit_of(line->pump, PROP_PUMP_FLOW, work_unit(line->work, (UnitPair){UNIT_L, UNIT_MIN})));
    figure->remark = line->pipes->steps[step].hot && other != 0 ? "by its hot way, the worse" : NULL;
    return step;
}

/* Pressure lost between pump and tap at the flow that is wished for, height included. */
static void record_loss(Line *line, uint32_t step)
{
    Sum sum;
    const Pipes *pipes = line->pipes;
    const Entity *tap = pipes->steps[step].thing;
    double viscosity = liquid_viscosity_m2_per_s(LIQUID_FRESH_15_C);
    double low = 0.0, high = 0.0;
    sum_begin(&sum, line->work);
    use_delivery(line, &sum, step);
    sum_label(&sum, line->work, ", at ", tap, "flow");
    Interval wish = use_value(line->work, tap, PROP_FIXTURE_FLOW, 0).value;
    for (uint32_t i = step; i != 0 && line->work->state == STATE_KNOWN; i = pipes->steps[i].before) {
        const PipePiece *piece = pipes->pieces[pipes->steps[i].hose->index];
        bool known = !piece->blocked && isfinite(wish.high);
        low += piece->open ? 0.0 : piece->rise.low + hose_loss_m(&piece->most, wish.low, viscosity);
        high += known ? piece->rise.high + hose_loss_m(&piece->least, wish.high, viscosity) : INFINITY;
    }
    double density = liquid_density_kg_per_m3(LIQUID_FRESH_15_C);
    work_record(line->work, FIGURE_PRESSURE_LOSS, tap, NULL,
                interval_corners(pressure_of_head_pa(low, density), pressure_of_head_pa(high, density)),
                sum.formula.text)
        ->unit = unit_of(line->pump, PROP_PUMP_PRESSURE, work_unit(line->work, UNIT_ALONE(UNIT_BAR)));
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
        Route route;
        find_route(line, line->taps[t], least, line->weight, whole, &route);
        flow = fmin(flow, flow_on(&route, curve, least));
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

/* What the taps get, and the pump in all, with everything open. */
static void solve_together(Line *line, const Curve *curve, Interval flows[], Interval *all)
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

static void record_together(Line *line)
{
    Sum sum;
    Interval all = point(0.0);
    Interval *flows = ARENA_ARRAY(line->work->scratch, Interval, line->tap_count);
    sum_begin(&sum, line->work);
    Curve curve = use_curve(line, &sum);
    use_suction(line, &sum);
    buf_text(&sum.formula, ", and the hoses to ");
    for (uint32_t t = 0; t < line->tap_count; t++) {
        const Entity *tap = line->pipes->steps[line->taps[t]].thing;
        sum_label(&sum, line->work, t > 0 ? ", " : "", tap, "flow");
        use_figure(line->work, figure_find(line->work->figures, tap, FIGURE_FLOW, NULL));
        sum_count(&sum, line->work, tap);
        use_count(line->work, tap);
    }
    if (line->work->state == STATE_KNOWN) {
        solve_together(line, &curve, flows, &all);
    }
    Figure *of_pump = work_record(line->work, FIGURE_FLOW, line->pump, NULL, all, sum.formula.text);
    of_pump->unit = unit_of(line->pump, PROP_PUMP_FLOW, work_unit(line->work, (UnitPair){UNIT_L, UNIT_MIN}));
    for (uint32_t t = 0; t < line->tap_count; t++) {
        const Entity *tap = line->pipes->steps[line->taps[t]].thing;
        sum_begin(&sum, line->work);
        use_figure(line->work, of_pump);
        use_value(line->work, tap, PROP_FIXTURE_FLOW, 0);
        Interval each = interval_divide(flows[t], use_count(line->work, tap).value);
        work_record(line->work, FIGURE_FLOW_TOGETHER, tap, NULL, each,
                    entity_states(tap, PROP_COMMON_COUNT)
                        ? "the part of {flow of the pump} that {flow} of each of {count} has of all wishes"
                        : "the part of {flow of the pump} that {flow} has of all wishes")
            ->unit = figure_find(line->work->figures, tap, FIGURE_FLOW, NULL)->unit;
    }
}

/* ---- Of the pump and its hoses ------------------------------------------------------------------------- */

static const Figure *pump_flow(const Line *line)
{
    return figure_find(line->work->figures, line->pump, FIGURE_FLOW, NULL);
}

/* What the pump gives at its flow: its line falls from shut-off to nothing at its free flow. */
static void record_head(Line *line)
{
    Sum sum;
    sum_begin(&sum, line->work);
    Curve curve = use_curve(line, &sum);
    buf_text(&sum.formula, ", at {what it moves}");
    Interval flow = use_figure(line->work, pump_flow(line)).value;
    Interval head = point(0.0);
    if (line->work->state == STATE_KNOWN) {
        Interval left = interval_subtract(point(1.0), interval_divide(flow, curve.flow));
        head = interval_min(curve.most, interval_multiply(curve.shut_off, interval_max(point(0.0), left)));
    }
    work_record(line->work, FIGURE_HEAD, line->pump, NULL, head, sum.formula.text);
}

/* How high, and against how much, the water is drawn up: height and loss of the suction at the pump's flow. */
static void record_suction(Line *line)
{
    Sum sum;
    double viscosity = liquid_viscosity_m2_per_s(LIQUID_FRESH_15_C);
    double low = 0.0, high = 0.0;
    sum_begin(&sum, line->work);
    for (uint32_t i = line->pipes->suction_count; i-- > 0;) {
        use_hose(line, &sum, sum.formula.length > 0 ? ", " : "", line->pipes->suction[i]);
    }
    sum_label(&sum, line->work, ", at ", line->pump, "flow");
    Interval flow = use_figure(line->work, pump_flow(line)).value;
    for (uint32_t i = 0; i < line->pipes->suction_count && line->work->state == STATE_KNOWN; i++) {
        const PipePiece *piece = line->pipes->pieces[line->pipes->suction[i]->index];
        low += piece->open ? 0.0 : piece->rise.low + hose_loss_m(&piece->most, flow.low, viscosity);
        high +=
            piece->blocked ? INFINITY : piece->rise.high + hose_loss_m(&piece->least, flow.high, viscosity);
    }
    work_record(line->work, FIGURE_SUCTION_LIFT, line->pump, NULL, interval_corners(low, high),
                sum.formula.text)
        ->unit = unit_of(line->pump, PROP_PUMP_SELF_PRIMING, work_unit(line->work, UNIT_ALONE(UNIT_M)));
}

static void record_speed(Line *line, const Entity *hose, Interval flow)
{
    const PipePiece *piece = line->pipes->pieces[hose->index];
    work_begin(line->work);
    use_figure(line->work, pump_flow(line));
    use_value(line->work, hose, PROP_HOSE_BORE, 0);
    bool known = line->work->state == STATE_KNOWN && piece->least.bore_m > 0.0;
    double high = known ? pipe_speed_m_per_s(flow.high, piece->least.bore_m) : INFINITY;
    double low =
        known && isfinite(piece->most.bore_m) ? pipe_speed_m_per_s(flow.low, piece->most.bore_m) : 0.0;
    work_record(line->work, FIGURE_VELOCITY, hose, NULL, interval_corners(low, high),
                "what passes it of {flow of the pump}, or what one tap alone draws, over the area of {bore}")
        ->unit = work_unit(line->work, UNIT_BY(UNIT_M, UNIT_S));
}

static void record_speeds(Line *line)
{
    const Pipes *pipes = line->pipes;
    Interval most = {pump_flow(line)->low, pump_flow(line)->high};
    for (uint32_t i = 1; i < pipes->step_count; i++) {
        const Entity *hose = pipes->steps[i].hose;
        if (!pipes->steps[i].whole || figure_find(line->work->figures, hose, FIGURE_VELOCITY, NULL) != NULL) {
            continue;
        }
        Interval flow = interval_max(line->passes[hose->index], line->alone[hose->index]);
        most = interval_max(most, flow);
        if (flow.high > 0.0 || pump_flow(line)->state != STATE_KNOWN) {
            record_speed(line, hose, flow);
        }
    }
    for (uint32_t i = 0; i < pipes->suction_count; i++) {
        if (figure_find(line->work->figures, pipes->suction[i], FIGURE_VELOCITY, NULL) == NULL) {
            record_speed(line, pipes->suction[i], most);
        }
    }
}

/*
 * Starts in an hour while half of what the pump moves is drawn, which starts it most often: Qp / (4 Vd). The
 * drawdown is V (P1/P2 - P1/P3), with the pre-charge just below the cut-in.
 */
static void record_starts(Line *line)
{
    Sum sum;
    sum_begin(&sum, line->work);
    Curve curve = use_curve(line, &sum);
    Interval flow = curve.flow;
    buf_text(&sum.formula,
             "; half of that between both pressures, over what {accumulator} gives from {pressure} "
             "down to {cut-in}, pre-charged {below} under that");
    Interval vessel = use_value(line->work, line->pump, PROP_PUMP_ACCUMULATOR, 0).value;
    Interval cut_out = use_value(line->work, line->pump, PROP_PUMP_PRESSURE, 0).value;
    Interval cut_in = use_value(line->work, line->pump, PROP_PUMP_CUT_IN, 0).value;
    Interval shut_off =
        interval_scale(curve.shut_off, pressure_of_head_pa(1.0, liquid_density_kg_per_m3(LIQUID_FRESH_15_C)));
    use_fact(line->work, "pre-charge below the cut-in pressure", point(PRE_CHARGE_BELOW_PA),
             UNIT_ALONE(UNIT_BAR), "28 against 30 psi: a worked example in a magazine of well builders");
    Interval starts = point(0.0);
    if (line->work->state == STATE_KNOWN) {
        Interval middle = interval_scale(interval_add(cut_in, cut_out), 0.5);
        Interval moved = interval_multiply(
            flow, interval_max(point(0.0), interval_subtract(point(1.0), interval_divide(middle, shut_off))));
        Interval air = point(AIR_PA);
        Interval p2 = interval_add(cut_in, air), p3 = interval_add(cut_out, air);
        Interval share = interval_multiply(
            interval_subtract(point(1.0), interval_divide(point(PRE_CHARGE_BELOW_PA), p2)),
            interval_max(point(0.0), interval_subtract(point(1.0), interval_divide(p2, p3))));
        Interval drawn = interval_multiply(vessel, share);
        starts = drawn.high <= 0.0
                     ? point(INFINITY)
                     : interval_divide(interval_scale(moved, 3600.0), interval_scale(drawn, 4.0));
    }
    work_record(line->work, FIGURE_STARTS, line->pump, NULL, starts, sum.formula.text);
}

/* ---- One pump after the other --------------------------------------------------------------------------- */

/* Of each fixture that hoses lead to, the step of its worse way; or the first other outlet. */
static void record_taps(Line *line)
{
    const Pipes *pipes = line->pipes;
    for (uint32_t i = 1; i < pipes->step_count; i++) {
        const Entity *thing = pipes->steps[i].thing;
        if (!pipes->steps[i].whole || thing->kind != KIND_FIXTURE ||
            figure_find(line->work->figures, thing, FIGURE_FLOW, NULL) != NULL) {
            continue;
        }
        uint32_t step = record_alone(line, thing, i);
        record_loss(line, step);
        line->taps[line->tap_count++] = step;
    }
}

static uint32_t first_other_outlet(const Pipes *pipes)
{
    for (uint32_t i = 1; i < pipes->step_count; i++) {
        if (pipes->steps[i].whole && is_outlet(pipes->steps[i].thing)) {
            return i;
        }
    }
    return 0;
}

/* Taps that it leads to by name; how often it starts hangs on no hose. */
static bool serves_taps(const Pipes *pipes)
{
    for (uint32_t i = 1; i < pipes->step_count; i++) {
        if (pipes->steps[i].thing->kind == KIND_FIXTURE) {
            return true;
        }
    }
    return false;
}

static void record_pump(Line *line)
{
    record_taps(line);
    uint32_t other = first_other_outlet(line->pipes);
    if (line->tap_count > 0) {
        record_together(line);
    } else if (other != 0) {
        record_alone(line, line->pump, other);
    }
    if (line->tap_count > 0 || other != 0) {
        record_head(line);
        record_suction(line);
        record_speeds(line);
    }
    if (serves_taps(line->pipes) && entity_states(line->pump, PROP_PUMP_CUT_IN) &&
        entity_states(line->pump, PROP_PUMP_PRESSURE)) {
        record_starts(line);
    }
}

void water_pipes(Work *work)
{
    Arena *arena = work->scratch;
    uint32_t count = work->model->entity_count + 1;
    if (first_aboard(work->model, KIND_PUMP) == NULL) {
        return;
    }
    Pipes pipes = pipes_make(arena, work->model);
    Line line = {.work = work,
                 .pipes = &pipes,
                 .taps = ARENA_ARRAY(arena, uint32_t, 2 * count),
                 .weight = ARENA_ARRAY(arena, double, count),
                 .passes = ARENA_ARRAY(arena, Interval, count),
                 .alone = ARENA_ARRAY(arena, Interval, count)};
    for (const Entity *pump = first_aboard(work->model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        line.pump = pump;
        line.tap_count = 0;
        pipes_walk(&pipes, pump);
        record_pump(&line);
    }
}
