/*
 * What flows: the operating point of each pump against the hoses that it serves, at every tap; the lift of
 * its suction, speeds, what is lost on the way, how often it starts.
 *
 * A pump is a straight line from its free flow to its shut-off head, as one that displaces is; several of one name
 * stand side by side and move as many times the flow. Its switch lets it give no more pressure than that at which it
 * stops. A tap loses what an open globe valve does. With everything open, all hoses from a joint begin at one head, and
 * each tap takes what its way lets through.
 *
 * One that is worked by hand or foot gives what the hand gives: nothing is computed of it, unless it states a curve all the same.
 *
 * Pumps are looked at one at a time. A tap to which several bring water (one worked by foot, say, for the day that the
 * other fails) has its figures by each of them, and gets what the strongest brings.
 */
#include "figures/pipe_flow.h"

#include <math.h>

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

/* What tells the figures of a tap by several pumps apart; NULL where one pump alone serves it. */
static const Entity *by_pump(const Line *line, const Entity *thing)
{
    return line->pumps_of[thing->index] > 1 ? line->pump : NULL;
}

/* The flow of an outlet that alone is open: by its worse way. Returns the step of that way; *perhaps: of another that may be it. */
static uint32_t record_alone(Line *line, const Entity *subject, uint32_t step, uint32_t *perhaps)
{
    Sum sum;
    sum_begin(&sum, line->work);
    Curve curve = use_curve(line, &sum);
    uint32_t other = other_way(line->pipes, step);
    Interval flow = point(0.0);
    *perhaps = 0;
    if (line->work->state == STATE_KNOWN) {
        flow = flow_alone(line, step, &curve);
        Interval by_other = other != 0 ? flow_alone(line, other, &curve) : flow;
        bool points = interval_is_point(flow) && interval_is_point(by_other);
        bool apart = by_other.high < flow.low || flow.high < by_other.low;
        bool worse = by_other.low < flow.low;
        *perhaps = other == 0 || points || apart ? 0 : worse ? step : other;
        step = worse ? other : step;
        flow = interval_min(flow, by_other);
        note_alone(line, step, *perhaps != 0 ? *perhaps : step, flow);
    }
    use_suction(line, &sum, ", against ");
    use_delivery(line, &sum, step);
    buf_text(&sum.formula, subject->kind == KIND_FIXTURE ? " and an open tap" : "");
    Figure *figure = work_record(line->work, FIGURE_FLOW, subject, by_pump(line, subject), flow, sum.formula.text);
    figure->unit = unit_of(subject, subject->kind == KIND_FIXTURE ? PROP_FIXTURE_FLOW : PROP_PUMP_FLOW,
                           unit_of(line->pump, PROP_PUMP_FLOW, work_unit(line->work, (UnitPair){UNIT_L, UNIT_MIN})));
    figure->remark = line->pipes->steps[step].hot && other != 0 ? "by its hot way, the worse" : NULL;
    return step;
}

/* One hose on the way, and at its end the open tap, if it is the last. */
static double lost_m(Hose hose, bool last, double flow)
{
    hose.minor_k += last ? minor_k(MINOR_TAP) : 0.0;
    return hose_loss_m(&hose, flow, liquid_viscosity_m2_per_s(LIQUID_FRESH_15_C));
}

/* Between pump and open tap, in m. */
static Interval lost_to(const Line *line, uint32_t step, Interval wish)
{
    const Pipes *pipes = line->pipes;
    double low = 0.0, high = 0.0;
    for (uint32_t i = step; i != 0; i = pipes->steps[i].before) {
        const PipePiece *piece = pipes->pieces[pipes->steps[i].hose->index];
        bool known = !piece->blocked && isfinite(wish.high);
        low += piece->open ? 0.0 : piece->rise.low + lost_m(piece->most, i == step, wish.low);
        high += known ? piece->rise.high + lost_m(piece->least, i == step, wish.high) : INFINITY;
    }
    return (Interval){low, high};
}

/* Pressure lost between pump and open tap at the flow that is wished for, height included; by that way, or perhaps by another. */
static void record_loss(Line *line, uint32_t step, uint32_t perhaps)
{
    Sum sum;
    const Entity *tap = line->pipes->steps[step].thing;
    Interval lost = point(0.0);
    sum_begin(&sum, line->work);
    use_delivery(line, &sum, step);
    if (perhaps != 0) {
        buf_text(&sum.formula, "; or ");
        use_delivery(line, &sum, perhaps);
    }
    sum_label(&sum, line->work, " and an open tap, at ", tap, "flow");
    Interval wish = use_value(line->work, tap, PROP_FIXTURE_FLOW, 0).value;
    if (line->work->state == STATE_KNOWN) {
        lost = lost_to(line, step, wish);
        lost = perhaps != 0 ? interval_hull(lost, lost_to(line, perhaps, wish)) : lost;
    }
    double density = liquid_density_kg_per_m3(LIQUID_FRESH_15_C);
    work_record(line->work, FIGURE_PRESSURE_LOSS, tap, by_pump(line, tap),
                interval_corners(pressure_of_head_pa(lost.low, density), pressure_of_head_pa(lost.high, density)),
                sum.formula.text)
        ->unit = unit_of(line->pump, PROP_PUMP_PRESSURE, work_unit(line->work, UNIT_ALONE(UNIT_BAR)));
}

/* ---- Everything open ----------------------------------------------------------------------------------- */

static void record_together(Line *line)
{
    Sum sum;
    Interval all = point(0.0);
    Interval *flows = ARENA_ARRAY(line->work->scratch, Interval, line->tap_count);
    sum_begin(&sum, line->work);
    Curve curve = use_curve(line, &sum);
    use_suction(line, &sum, ", against ");
    buf_text(&sum.formula, ", and the hoses to ");
    for (uint32_t t = 0; t < line->tap_count; t++) {
        const Entity *tap = line->pipes->steps[line->taps[t]].thing;
        sum_label(&sum, line->work, t > 0 ? ", " : "", tap, "flow");
        use_figure(line->work, figure_find(line->work->figures, tap, FIGURE_FLOW, by_pump(line, tap)));
        sum_count(&sum, line->work, tap);
        use_count(line->work, tap);
    }
    if (line->work->state == STATE_KNOWN) {
        flow_together(line, &curve, flows, &all);
    }
    Figure *of_pump = work_record(line->work, FIGURE_FLOW, line->pump, NULL, all, sum.formula.text);
    of_pump->unit = unit_of(line->pump, PROP_PUMP_FLOW, work_unit(line->work, (UnitPair){UNIT_L, UNIT_MIN}));
    for (uint32_t t = 0; t < line->tap_count; t++) {
        const Entity *tap = line->pipes->steps[line->taps[t]].thing;
        sum_begin(&sum, line->work);
        use_figure(line->work, of_pump);
        Interval each = interval_divide(flows[t], use_count(line->work, tap).value);
        work_record(line->work, FIGURE_FLOW_TOGETHER, tap, by_pump(line, tap), each,
                    entity_states(tap, PROP_COMMON_COUNT)
                        ? "what its way takes of {flow of the pump}, one head at each joint, over {count}"
                        : "what its way takes of {flow of the pump}, one head at each joint")
            ->unit = figure_find(line->work->figures, tap, FIGURE_FLOW, by_pump(line, tap))->unit;
    }
}

/* ---- One pump after the other --------------------------------------------------------------------------- */

/* Of each fixture that hoses lead to, the step of its worse way; or the first other outlet. */
static void record_taps(Line *line)
{
    const Pipes *pipes = line->pipes;
    for (uint32_t i = 1; i < pipes->step_count; i++) {
        const Entity *thing = pipes->steps[i].thing;
        if (!pipes->steps[i].whole || thing->kind != KIND_FIXTURE || line->taken[thing->index] == pipes->walks) {
            continue;
        }
        line->taken[thing->index] = pipes->walks;
        uint32_t perhaps, step = record_alone(line, thing, i, &perhaps);
        record_loss(line, step, perhaps);
        line->ways[0][line->tap_count] = line->taps[line->tap_count] = step;
        line->ways[1][line->tap_count++] = perhaps != 0 ? perhaps : step;
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

/*
 * How often it starts hangs on no hose: what runs between two pressures serves taps, stated or not, unless its hoses lead to
 * something else alone.
 */
static bool serves_taps(const Pipes *pipes)
{
    bool other = false;
    for (uint32_t i = 1; i < pipes->step_count; i++) {
        if (pipes->steps[i].thing->kind == KIND_FIXTURE) {
            return true;
        }
        other = other || is_outlet(pipes->steps[i].thing);
    }
    return !other;
}

static void record_pump(Line *line)
{
    if (!pump_has_curve(line->pump)) {
        if (entity_states(line->pump, PROP_PUMP_SELF_PRIMING) && line->pipes->suction_count > 0) {
            record_suction(line);
        }
        return;
    }
    record_taps(line);
    uint32_t other = first_other_outlet(line->pipes);
    if (line->tap_count > 0) {
        record_together(line);
    } else if (other != 0) {
        uint32_t perhaps;
        record_alone(line, line->pump, other, &perhaps);
    }
    if (line->tap_count > 0 || other != 0) {
        record_head(line, other, other != 0 ? other_way(line->pipes, other) : 0);
        record_suction(line);
        note_moved(line);
    }
    if (serves_taps(line->pipes) && entity_states(line->pump, PROP_PUMP_CUT_IN) &&
        entity_states(line->pump, PROP_PUMP_PRESSURE)) {
        record_starts(line);
    }
}

/* What an earlier pump has moved through these hoses. */
static void forget_flows(Line *line)
{
    for (uint32_t i = 1; i < line->pipes->step_count; i++) {
        const Entity *hose = line->pipes->steps[i].hose;
        if (hose != NULL) {
            line->passes[hose->index] = line->alone[hose->index] = point(0.0);
        }
    }
}

/* Whether hoses alone lead from the pump to each fixture; one walk a pump. */
static void count_pumps(Line *line)
{
    const Model *model = line->work->model;
    for (const Entity *pump = first_aboard(model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        if (!pump_has_curve(pump)) {
            continue;
        }
        pipes_walk(line->pipes, pump);
        for (uint32_t i = 1; i < line->pipes->step_count; i++) {
            const PipeStep *step = &line->pipes->steps[i];
            bool again = line->taken[step->thing->index] == line->pipes->walks;
            if (step->whole && step->thing->kind == KIND_FIXTURE && !again) {
                line->taken[step->thing->index] = line->pipes->walks;
                line->pumps_of[step->thing->index]++;
            }
        }
    }
}

/* A figure of a tap that several pumps serve: what the strongest of them brings. */
static void record_strongest(Line *line, const Entity *tap, FigureId id, const char *what)
{
    Sum sum;
    Interval most = point(0.0);
    const Figure *strongest = NULL;
    const Model *model = line->work->model;
    sum_begin(&sum, line->work);
    buf_text(&sum.formula, "the greatest of ");
    for (const Entity *pump = first_aboard(model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        const Figure *by_it = figure_find(line->work->figures, tap, id, pump);
        if (by_it != NULL) {
            sum_label(&sum, line->work, strongest != NULL ? ", " : "", pump, what);
            Interval flow = use_figure(line->work, by_it).value;
            strongest = strongest == NULL || flow.high > most.high ? by_it : strongest;
            most = interval_max(most, flow);
        }
    }
    if (strongest != NULL) {
        Figure *figure = work_record(line->work, id, tap, NULL, most, sum.formula.text);
        figure->unit = strongest->unit;
        figure->remark = text_format(line->work->figures->arena, "by `%.*s`, the strongest of its pumps%s%s",
                                     STR_ARG(entity_name(model, strongest->at)), strongest->remark != NULL ? ", " : "",
                                     strongest->remark != NULL ? strongest->remark : "");
    }
}

static void record_shared_taps(Line *line)
{
    const Model *model = line->work->model;
    for (const Entity *tap = first_aboard(model, KIND_FIXTURE); tap != NULL; tap = next_aboard(tap)) {
        if (line->pumps_of[tap->index] > 1) {
            record_strongest(line, tap, FIGURE_FLOW, "flow");
            record_strongest(line, tap, FIGURE_FLOW_TOGETHER, "flow-together");
        }
    }
}

void water_pipes(Work *work)
{
    Arena *arena = work->scratch;
    uint32_t count = work->model->entity_count + 1;
    if (first_aboard(work->model, KIND_PUMP) == NULL) {
        return;
    }
    Pipes pipes = pipes_make(arena, work->figures);
    Line line = {.work = work,
                 .pipes = &pipes,
                 .taps = ARENA_ARRAY(arena, uint32_t, 2 * count),
                 .ways = {ARENA_ARRAY(arena, uint32_t, 2 * count), ARENA_ARRAY(arena, uint32_t, 2 * count)},
                 .pumps_of = ARENA_ARRAY(arena, uint32_t, count),
                 .taken = ARENA_ARRAY(arena, uint32_t, count),
                 .passes = ARENA_ARRAY(arena, Interval, count),
                 .alone = ARENA_ARRAY(arena, Interval, count),
                 .movers = ARENA_ARRAY(arena, Mover *, count)};
    count_pumps(&line);
    for (const Entity *pump = first_aboard(work->model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        line.pump = pump;
        line.tap_count = 0;
        pipes_walk(&pipes, pump);
        forget_flows(&line);
        record_pump(&line);
    }
    record_shared_taps(&line);
    record_speeds(&line);
}
