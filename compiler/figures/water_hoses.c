/*
 * Of a pump and its hoses: its head, the lift of its suction, the speed in each hose, how often it starts.
 */
#include "figures/pipe_flow.h"

#include <math.h>

const Figure *pump_flow(const Line *line)
{
    return figure_find(line->work->figures, line->pump, FIGURE_FLOW, NULL);
}

/* What the pump gives at its flow: its line falls from shut-off to nothing at its free flow. */
void record_head(Line *line, uint32_t outlet, uint32_t other)
{
    Sum sum;
    sum_begin(&sum, line->work);
    Curve curve = use_curve(line, &sum);
    buf_text(&sum.formula, ", at {what it moves}");
    Interval flow = use_figure(line->work, pump_flow(line)).value;
    Interval head = point(0.0);
    if (line->work->state == STATE_KNOWN) {
        head = head_at_flow(line, outlet, other, &curve, flow);
    }
    work_record(line->work, FIGURE_HEAD, line->pump, NULL, head, sum.formula.text);
}

/*
 * How high, and against how much, the water is drawn up: height and loss of the suction at the pump's flow. From several
 * tanks: by the way that asks for most. Of a pump without a curve, that a hand works, the height alone.
 */
void record_suction(Line *line)
{
    Sum sum;
    Interval most = point(-INFINITY);
    const Suction *worst = &line->pipes->suctions[0];
    sum_begin(&sum, line->work);
    use_suction(line, &sum, "");
    Interval flow = point(0.0);
    if (pump_has_curve(line->pump)) {
        sum_label(&sum, line->work, ", at ", line->pump, "flow");
        flow = use_figure(line->work, pump_flow(line)).value;
    } else {
        buf_text(&sum.formula, ", the height alone");
    }
    for (uint32_t i = 0; i < line->pipes->suction_count && line->work->state == STATE_KNOWN; i++) {
        Interval lift = suction_of(line, &line->pipes->suctions[i], flow);
        worst = lift.high > most.high ? &line->pipes->suctions[i] : worst;
        most = interval_max(most, lift);
    }
    Figure *figure = work_record(line->work, FIGURE_SUCTION_LIFT, line->pump, NULL, most, sum.formula.text);
    figure->unit = unit_of(line->pump, PROP_PUMP_SELF_PRIMING, work_unit(line->work, UNIT_ALONE(UNIT_M)));
    if (line->pipes->suction_count > 1) {
        const Entity *from = entity_reference(worst->hoses[worst->count - 1], PROP_HOSE_FROM);
        figure->remark = text_format(line->work->figures->arena, "from `%.*s`, the worst",
                                     STR_ARG(entity_name(line->work->model, from)));
    }
}

/* ---- Speeds --------------------------------------------------------------------------------------------- */

static void note_mover(Line *line, const Entity *hose, Interval flow, bool suction)
{
    Mover *mover = line->movers[hose->index];
    if (mover == NULL || mover->pump != line->pump) {
        mover = ARENA_NEW(line->work->scratch, Mover);
        *mover = (Mover){.pump = line->pump, .flow = flow, .next = line->movers[hose->index]};
        line->movers[hose->index] = mover;
    }
    mover->flow = interval_max(mover->flow, flow);
    mover->suction = mover->suction || suction;
}

void note_moved(Line *line)
{
    const Pipes *pipes = line->pipes;
    Interval most = {pump_flow(line)->low, pump_flow(line)->high};
    bool known = pump_flow(line)->state == STATE_KNOWN;
    for (uint32_t i = 1; i < pipes->step_count; i++) {
        const Entity *hose = pipes->steps[i].hose;
        if (!pipes->steps[i].whole) {
            continue;
        }
        Interval flow = interval_max(line->passes[hose->index], line->alone[hose->index]);
        most = interval_max(most, flow);
        if (flow.high > 0.0 || !known) {
            note_mover(line, hose, flow, false);
        }
    }
    for (uint32_t w = 0; w < pipes->suction_count; w++) {
        for (uint32_t i = 0; i < pipes->suctions[w].count; i++) {
            note_mover(line, pipes->suctions[w].hoses[i], most, true);
        }
    }
}

static void record_speed(Line *line, const Entity *hose)
{
    Sum sum;
    Interval flow = point(0.0);
    const Entity *drawn_by = NULL;
    const PipePiece *piece = line->pipes->pieces[hose->index];
    sum_begin(&sum, line->work);
    buf_text(&sum.formula, "what passes it of ");
    for (const Mover *mover = line->movers[hose->index]; mover != NULL; mover = mover->next) {
        sum_label(&sum, line->work, mover != line->movers[hose->index] ? " or " : "", mover->pump, "flow");
        use_figure(line->work, figure_find(line->work->figures, mover->pump, FIGURE_FLOW, NULL));
        flow = interval_max(flow, mover->flow);
        drawn_by = mover->suction ? mover->pump : drawn_by;
    }
    buf_text(&sum.formula, ", or what one tap alone draws, over the area of {bore}");
    use_value(line->work, hose, PROP_HOSE_BORE, 0);
    bool known = line->work->state == STATE_KNOWN && piece->least.bore_m > 0.0;
    double high = known ? pipe_speed_m_per_s(flow.high, piece->least.bore_m) : INFINITY;
    double low =
        known && isfinite(piece->most.bore_m) ? pipe_speed_m_per_s(flow.low, piece->most.bore_m) : 0.0;
    Figure *figure =
        work_record(line->work, FIGURE_VELOCITY, hose, NULL, interval_corners(low, high), sum.formula.text);
    figure->unit = work_unit(line->work, UNIT_BY(UNIT_M, UNIT_S));
    figure->remark = drawn_by != NULL ? text_format(line->work->figures->arena, "in the suction of `%.*s`",
                                                    STR_ARG(entity_name(line->work->model, drawn_by)))
                                      : NULL;
}

void record_speeds(Line *line)
{
    const Model *model = line->work->model;
    for (const Entity *hose = first_aboard(model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        if (line->movers[hose->index] != NULL) {
            record_speed(line, hose);
        }
    }
}

/* ---- Starts --------------------------------------------------------------------------------------------- */

/*
 * Starts in an hour while half of what the pump moves is drawn, which starts it most often: Qp / (4 Vd). The
 * drawdown is V (P1/P2 - P1/P3), with the pre-charge just below the cut-in.
 */
void record_starts(Line *line)
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
    bool said = entity_states(line->pump, PROP_PUMP_SHUT_OFF);
    if (!said) {
        buf_text(&sum.formula, "; up to all of its free flow, for no `shut-off` says how little it gives there");
    }
    if (line->work->state == STATE_KNOWN) {
        Interval middle = interval_scale(interval_add(cut_in, cut_out), 0.5);
        Interval left = interval_max(point(0.0), interval_subtract(point(1.0), interval_divide(middle, shut_off)));
        Interval moved = interval_multiply(flow, said ? left : (Interval){left.low, 1.0});
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
