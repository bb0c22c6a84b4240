/*
 * A day under way is told twice: by how fast the engine turns and for how long, and by how fast she goes and how far. Both
 * are computed here, so that a rule can hold them against each other.
 */
#include "figures/drive.h"

#include "figures/power.h"

/* What it burns in an hour at the speeds that the day states. */
static void record_running_rate(Work *work, const Entity *engine, const Entity *day)
{
    Sum sum;
    sum_begin(&sum, work);
    Interval seconds, rate = use_running_rate(work, day, engine, &sum, &seconds);
    if (seconds.high <= 0.0 && work->state == STATE_KNOWN) {
        return;
    }
    bool once = interval_is_point(seconds) && block_next(&day->block, entity_property(day, PROP_DAY_ENGINE)) == NULL;
    work_record(work, FIGURE_RUNNING_RATE, engine, day, rate,
                text_format(work->figures->arena, "(%s) / the time%s", sum.formula.text, once ? "" : " of all"))
        ->unit = work_unit(work, UNIT_BY(UNIT_L, UNIT_H));
}

static Interval use_span(Work *work, const Entity *day, const Property *line)
{
    const Value *value = property_value(line, 0);
    if (value->kind != VALUE_CLOCK) {
        return use_statement(work, day, line, 0).value;
    }
    return use_fact(work, "time that it runs", point(clock_seconds(value)), UNIT_ALONE(UNIT_H),
                    "from when to when, as the day says")
        .value;
}

/* The lines of a day, in memory that goes with the step: what each lasts, and what it is worth. */
typedef struct Lines {
    Interval *worth, *seconds;
    int count;
} Lines;

static Lines lines_of(const Work *work, const Entity *day)
{
    uint32_t room = entity_statement_count(day, PROP_DAY_ENGINE);
    Lines lines = {.worth = ARENA_ARRAY(work->scratch, Interval, 2u * room + 1u)};
    lines.seconds = lines.worth + room;
    return lines;
}

static void add_line(Lines *lines, Interval seconds, Interval worth)
{
    lines->seconds[lines->count] = seconds;
    lines->worth[lines->count++] = worth;
}

static Interval mean_of(const Lines *lines)
{
    return mean_over_time(lines->worth, lines->seconds, lines->count);
}

/* What an electric one gives at those speeds on the whole, by what it takes at them. */
static void record_measured_run(Work *work, const Entity *engine, const Entity *day)
{
    Sum sum;
    Lines lines = lines_of(work, day);
    sum_begin(&sum, work);
    buf_text(&sum.formula, "by ");
    FuelCurve curve = use_taken_curve(work, engine, true, &sum.formula);
    buf_text(&sum.formula, ": (");
    unsigned line = 0;
    for (const Property *p = entity_property(day, PROP_DAY_ENGINE); p != NULL; p = block_next(&day->block, p)) {
        const char *tail = ++line > 1 ? text_format(work->figures->arena, " %u", line) : "";
        buf_format(&sum.formula, "%s{time%s} x power at {speed%s}", line > 1 ? " + " : "", tail, tail);
        Interval time = use_span(work, day, p);
        add_line(&lines, time, taken_at(&curve, use_statement(work, day, p, 1).value));
    }
    buf_text(&sum.formula, ") / all of the time x {what its motor keeps}");
    Interval taken = mean_of(&lines);
    Figure *figure = work_record(work, FIGURE_RUNNING_POWER, engine, day,
                                 interval_multiply(taken, use_motor_keeps(work, engine).value), sum.formula.text);
    figure->unit = unit_of(engine, PROP_ENGINE_RATED, figure->unit);
}

/* What it gives at those speeds on the whole, along the curve of a propeller that takes rated power at rated speed. */
static void record_running_power(Work *work, const Entity *engine, const Entity *day)
{
    Sum sum;
    Lines lines = lines_of(work, day);
    if (!states_speeds(day)) {
        return;
    }
    if (states_taken(engine, true)) {
        record_measured_run(work, engine, day);
        return;
    }
    sum_begin(&sum, work);
    buf_text(&sum.formula, "{rated power} x (");
    Interval rated = use_value(work, engine, PROP_ENGINE_RATED, 0).value;
    unsigned line = 0;
    for (const Property *p = entity_property(day, PROP_DAY_ENGINE); p != NULL; p = block_next(&day->block, p)) {
        const char *tail = ++line > 1 ? text_format(work->figures->arena, " %u", line) : "";
        buf_format(&sum.formula, "%s{time%s} x {speed%s}^3", line > 1 ? " + " : "", tail, tail);
        Interval time = use_span(work, day, p);
        add_line(&lines, time, interval_cube(use_statement(work, day, p, 1).value));
    }
    buf_text(&sum.formula, ") / {rated speed}^3 / all of the time");
    Interval turns = interval_cube(use_value(work, engine, PROP_ENGINE_RATED, 1).value);
    Figure *figure = work_record(work, FIGURE_RUNNING_POWER, engine, day,
                                 interval_multiply(rated, interval_divide(mean_of(&lines), turns)), sum.formula.text);
    figure->unit = unit_of(engine, PROP_ENGINE_RATED, figure->unit);
}

static void record_under_way(Work *work, const Entity *day)
{
    work_begin(work);
    Interval way = use_value(work, day, PROP_DAY_DISTANCE, 0).value;
    Interval speed = use_value(work, day, PROP_DAY_DISTANCE, 1).value;
    work_record(work, FIGURE_UNDER_WAY, day, NULL, interval_divide(way, speed), "{distance} / {speed}");
}

static void record_engine_time(Work *work, const Entity *day)
{
    Sum sum;
    sum_begin(&sum, work);
    for (const Property *p = entity_property(day, PROP_DAY_ENGINE); p != NULL; p = block_next(&day->block, p)) {
        sum_next(&sum);
        buf_text(&sum.formula, "{engine}");
        sum_add(&sum, use_span(work, day, p));
    }
    bool none = entity_property(day, PROP_DAY_ENGINE) == NULL;
    Figure *time = work_record(work, FIGURE_ENGINE_TIME, day, NULL, sum.value,
                               none ? "the day does not say that it runs" : sum.formula.text);
    time->remark = engine_by_distance(day) ? "distance / speed, for she has no sails and the day states no `engine`" : NULL;
}

void drive_running(Work *work)
{
    for (const Entity *day = first_aboard(work->model, KIND_DAY); day != NULL; day = next_aboard(day)) {
        if (!entity_states(day, PROP_DAY_DISTANCE)) {
            continue;
        }
        record_under_way(work, day);
        record_engine_time(work, day);
        for (const Entity *e = first_driving_on(work->model, day); e != NULL; e = next_driving_on(work->model, e, day)) {
            record_running_power(work, e, day);
            if (burns_fuel(e)) {
                record_running_rate(work, e, day);
            }
        }
    }
}
