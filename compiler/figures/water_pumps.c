/*
 * What a pump gives to the water, of the power that it draws, by what the spec states of it. Nothing is reckoned with it: flow, head
 * and current that cannot be of one pump are slips, and pumps save the boat on paper by them.
 */
#include "figures/drive.h"

#include "figures/power.h"
#include "physics/bilge.h"

#include <math.h>

/*
 * Watts of one of them, by what it states; false where that is amperes and no one bank says of how many volts. What is
 * not decided at all may be either.
 */
static bool use_power(Work *work, const Entity *pump, Interval *watts, const char **shown)
{
    const Value *draw = property_value(entity_property(pump, PROP_LOAD_DRAW), 0);
    bool amperes = dimension_equal(unit_dimension(draw->unit), unit_dimension(UNIT_ALONE(UNIT_A)));
    const Feed *cable = pump->fed != NULL ? cable_of(pump->fed) : NULL;
    const Entity *bank = cable != NULL ? bank_behind(cable) : NULL;
    amperes = amperes && (bank != NULL || !(draw->flags & VALUE_HOLE));
    if (pump->flags & ENTITY_AC || (amperes && bank == NULL)) {
        return false;
    }
    *watts = use_value(work, pump, PROP_LOAD_DRAW, 0).value;
    *shown = "{draw}";
    if (amperes) {
        const char *volts;
        *watts = interval_multiply(*watts, use_bank_volts(work, bank, &volts));
        *shown = text_format(work->figures->arena, "({draw} x %s)", volts);
    }
    return true;
}

/* A head in metres, by a property that is stated; what is stated as a pressure is that of so much fresh water. */
static Interval use_stated_head(Work *work, const Entity *pump, PropId prop)
{
    UnitPair unit = property_value(entity_property(pump, prop), 0)->unit;
    Interval value = use_value(work, pump, prop, 0).value;
    bool head = dimension_equal(unit_dimension(unit), unit_dimension(UNIT_ALONE(UNIT_M)));
    double each = head_of_pressure_m(1.0, liquid_density_kg_per_m3(LIQUID_FRESH_15_C));
    return head ? value : interval_scale(value, each);
}

/*
 * Its shut-off head; where that is not stated, no less than what it is to lift to or to press up to, and at least what any pump
 * that is sold for a boat does: what comes of that is a least (Figure.partial).
 */
static Interval use_head(Work *work, const Entity *pump, PropId shut_off, PropId at_least, const char **named)
{
    if (entity_states(pump, shut_off)) {
        *named = props[shut_off].word;
        return use_stated_head(work, pump, shut_off);
    }
    if (entity_states(pump, at_least)) {
        *named = props[at_least].word;
        return use_stated_head(work, pump, at_least);
    }
    *named = "least head";
    return use_fact(work, "what any pump lifts", point(0.5), UNIT_ALONE(UNIT_M), "common practice, no source").value;
}

static void record_efficiency(Work *work, const Entity *pump, PropId flow, PropId shut_off, PropId at_least, PumpShape shape)
{
    Interval watts = point(0.0);
    const char *shown = "", *named = "";
    if (!entity_states(pump, PROP_LOAD_DRAW) || !entity_states(pump, flow)) {
        return;
    }
    work_begin(work);
    Interval moved = use_value(work, pump, flow, 0).value, head = use_head(work, pump, shut_off, at_least, &named);
    if (!use_power(work, pump, &watts, &shown) || watts.high <= 0.0) {
        return; /* of nothing there is no share: told by pump-power */
    }
    double density = liquid_density_kg_per_m3(LIQUID_FRESH_15_C);
    Pump least = {shape, head.low, moved.low}, most = {shape, head.high, moved.high};
    Interval given = {pump_most_power_w(&least, density), pump_most_power_w(&most, density)};
    Figure *figure = work_record(work, FIGURE_PUMP_EFFICIENCY, pump, NULL, interval_divide(given, watts),
                                 text_format(work->figures->arena, "%s x density x g x {%s} x {%s} / %s",
                                             shape == PUMP_LINE ? "1/4" : "0.385", props[flow].word, named, shown));
    figure->partial = !entity_states(pump, shut_off);
    figure->remark = figure->partial ? "`shut-off` is not stated" : NULL;
}

void water_pumps(Work *work)
{
    for (const Entity *e = first_aboard(work->model, KIND_BILGE_PUMP); e != NULL; e = next_aboard(e)) {
        if (!is_worked_by_hand(e)) {
            record_efficiency(work, e, PROP_BILGE_PUMP_RATED, PROP_BILGE_PUMP_SHUT_OFF, PROP_BILGE_PUMP_LIFT, PUMP_PARABOLA);
        }
    }
    for (const Entity *e = first_aboard(work->model, KIND_PUMP); e != NULL; e = next_aboard(e)) {
        if (entity_yes(e, PROP_PUMP_HAND) != 1) {
            record_efficiency(work, e, PROP_PUMP_FLOW, PROP_PUMP_SHUT_OFF, PROP_PUMP_PRESSURE, PUMP_LINE);
        }
    }
}
