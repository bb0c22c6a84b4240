/*
 * What an electric engine takes from its bank at a speed that the spec speaks of: by the points of its `takes` that are of the
 * boat's speed; else by what the hull asks for, over what motor and controller keep, and by the points of its turns where these
 * say more. A point is what somebody has read off a display.
 */
#include "figures/drive.h"

#include "figures/power.h"

#include <math.h>

/* Whether a point is of the engine's turns, or of the boat's speed. One with a mistake may be of either. */
static bool is_point_of(const Property *line, bool by_turns)
{
    const Value *speed = property_value(line, 0);
    bool known = !(line->flags & PROPERTY_BROKEN) && speed->kind == VALUE_QUANTITY && !(speed->flags & VALUE_BROKEN);
    return !known || (unit_tag(speed->unit) == TAG_TURNING) == by_turns;
}

bool states_taken(const Entity *engine, bool by_turns)
{
    const Property *line = burns_fuel(engine) ? NULL : entity_property(engine, PROP_ENGINE_TAKES);
    while (line != NULL && !is_point_of(line, by_turns)) {
        line = block_next(&engine->block, line);
    }
    return line != NULL;
}

FuelCurve use_taken_curve(Work *work, const Entity *engine, bool by_turns, Buf *formula)
{
    uint32_t room = entity_statement_count(engine, PROP_ENGINE_TAKES);
    FuelCurve curve = fuel_curve_in(ARENA_ARRAY(work->scratch, FuelPoint, 2u * room + 1u), (int)room);
    int points = 0;
    for (const Property *line = entity_property(engine, PROP_ENGINE_TAKES); line != NULL; line = block_next(&engine->block, line)) {
        if (!is_point_of(line, by_turns)) {
            continue;
        }
        Quantity speed = use_statement(work, engine, line, 0);
        Quantity power = use_statement(work, engine, line, 1);
        points++;
        buf_format(formula, "%s{point %d}: {power %d}", points > 1 ? ", " : "", points, points);
        if (speed.state == STATE_KNOWN && power.state == STATE_KNOWN) {
            fuel_curve_add(&curve, speed.value, power.value);
        }
    }
    return curve;
}

Interval taken_at(const FuelCurve *curve, Interval speed)
{
    return curve->count > 0 ? fuel_curve_rate(curve, speed) : point(0.0); /* all of it is broken: the figure waits */
}

Figure *record_measured_power(Work *work, const Entity *engine, const Entity *asks)
{
    Buf formula;
    buf_init(&formula, work->figures->arena);
    buf_text(&formula, "what it takes at {speed} x {what its motor keeps}, by ");
    work_begin(work);
    Interval speed = use_value(work, asks, speed_of(asks), 1).value;
    Interval keeps = use_motor_keeps(work, engine).value;
    FuelCurve curve = use_taken_curve(work, engine, false, &formula);
    Figure *figure = work_record(work, FIGURE_NEEDED_POWER, engine, asks, interval_multiply(taken_at(&curve, speed), keeps), formula.text);
    figure->unit = unit_of(engine, PROP_ENGINE_RATED, figure->unit);
    return figure;
}

void record_measured_full_speed(Work *work, const Entity *of, const Entity *engine, const Entity *asks)
{
    Buf formula;
    buf_init(&formula, work->figures->arena);
    buf_text(&formula, "where it takes {rated power} / {what its motor keeps}, by ");
    work_begin(work);
    Interval rated = use_value(work, engine, PROP_ENGINE_RATED, 0).value;
    Interval taken = interval_divide(rated, use_motor_keeps(work, engine).value);
    FuelCurve curve = use_taken_curve(work, engine, false, &formula);
    bool known = work->state == STATE_KNOWN && curve.count > 0 && taken.low > 0.0 && isfinite(taken.high);
    Interval speed = known ? fuel_curve_speed(&curve, taken) : interval(0.0, INFINITY);
    Figure *figure = work_record(work, FIGURE_FULL_SPEED, of, asks, speed, formula.text);
    figure->remark = "by what was measured; beyond the greatest of its points by the cube of the speed";
}

/* By points of the boat's speed. */
static Interval use_taken_by_speed(Work *work, const Entity *engine, const Entity *asks, Buf *formula)
{
    buf_text(formula, "what it takes at {speed}, by ");
    Interval speed = use_value(work, asks, speed_of(asks), 1).value;
    FuelCurve curve = use_taken_curve(work, engine, false, formula);
    return taken_at(&curve, speed);
}

/* What the hull asks for. Points of its turns say nothing of the hull: they count where they say that it takes more. */
static Interval use_taken_by_hull(Work *work, const Entity *engine, const Entity *asks, const Figure *needed, Buf *formula)
{
    buf_text(formula, "{needed-power} / {what its motor keeps}");
    Interval power = use_figure(work, needed).value;
    Interval taken = interval_divide(power, use_motor_keeps(work, engine).value);
    if (states_taken(engine, true)) {
        buf_text(formula, ", or if that is more what it takes at {turns} by ");
        Interval turns = use_figure(work, figure_find(work->figures, engine, FIGURE_TURNS, asks)).value;
        FuelCurve curve = use_taken_curve(work, engine, true, formula);
        taken = interval_max(taken, taken_at(&curve, turns));
    }
    return taken;
}

void drive_taken(Work *work, const Entity *engine, const Entity *asks, const Figure *needed)
{
    const Entity *bank = bank_behind(engine->fed);
    Buf formula;
    buf_init(&formula, work->figures->arena);
    work_begin(work);
    Interval power = states_taken(engine, false) ? use_taken_by_speed(work, engine, asks, &formula)
                                                 : use_taken_by_hull(work, engine, asks, needed, &formula);
    Figure *taken = work_record(work, FIGURE_TAKEN_POWER, engine, asks, power, formula.text);
    taken->unit = UNIT_ALONE(UNIT_KW); /* electric power, whatever the shaft is rated in */
    bool rises = mile_rises(work, engine, asks);
    work_begin(work);
    power = use_figure(work, taken).value;
    Interval speed = use_value(work, asks, speed_of(asks), 1).value;
    Interval mile = rises ? interval_corners(power.low / speed.low, power.high / speed.high) : interval_divide(power, speed);
    work_record(work, FIGURE_MILE_ENERGY, engine, asks, mile, "{taken-power} / {speed}")->unit = UNIT_BY(UNIT_WH, UNIT_NMI);
    if (bank != NULL) {
        work_begin(work);
        power = use_figure(work, taken).value;
        const char *shown;
        Interval volts = use_bank_volts(work, bank, &shown);
        work_record(work, FIGURE_TAKEN_CURRENT, engine, asks, interval_divide(power, volts),
                    text_format(work->figures->arena, "{taken-power} / %s", shown));
    }
}
