/*
 * See upstream.h: the nominal voltage of a feed, which may be a range where its source leaves it open.
 */
#include "rules/upstream.h"

#include "physics/charging.h"

#include <math.h>

/* Where a source says what voltage it gives: the properties that a drop may lack for want of one. */
static bool tells_voltage(PropId prop)
{
    static const PropId says[] = {PROP_BANK_VOLTAGE,      PROP_BANK_SERIES,     PROP_INVERTER_OUTPUT,  PROP_CONVERTER_OUTPUT,
                                  PROP_ALTERNATOR_OUTPUT, PROP_CHARGER_OUTPUT, PROP_GENERATOR_RATED, PROP_INLET_RATED};
    for (size_t i = 0; i < sizeof says / sizeof says[0]; i++) {
        if (says[i] == prop) {
            return true;
        }
    }
    return false;
}

/* Where the drop of a feed says by which voltage it goes, or that its source leaves that without a bound; NULL: nowhere. */
static const Input *voltage_input(const Judge *judge, const Feed *feed)
{
    const Figure *drop = feed_figure(judge, feed, FIGURE_VOLTAGE_DROP);
    for (uint16_t i = 0; drop != NULL && i < drop->input_count; i++) {
        const Input *input = &drop->inputs[i];
        if ((input->kind == INPUT_MISSING && tells_voltage((PropId)input->prop)) ||
            (input->kind == INPUT_FACT && input->u.fact->unit.unit == UNIT_V)) {
            return input;
        }
    }
    return NULL;
}

/* Of a source that leaves it without a bound, as far as it has one; of one that says nothing, anything. */
static Interval unbounded_volts(const Judge *judge, const Input *input)
{
    const Entity *source = judge->model->entities[input->entity];
    PropId prop = (PropId)input->prop;
    unsigned slot = prop != PROP_BANK_VOLTAGE && prop != PROP_INVERTER_OUTPUT;
    Side volts = side_value(judge, source, prop, prop == PROP_BANK_SERIES ? 0 : slot);
    Interval range = side_is_known(volts) && prop != PROP_BANK_SERIES ? volts.value : (Interval){0.0, INFINITY};
    bool direct = !makes_alternating(source);
    return (Interval){direct ? nominal_class_v(range.low) : fmax(range.low, 1.0),
                      direct && isfinite(range.high) ? nominal_class_v(range.high) : range.high};
}

Interval nominal_volts(const Judge *judge, const Feed *feed)
{
    const Input *input = voltage_input(judge, feed);
    if (input == NULL) {
        return point(0.0);
    }
    return input->kind == INPUT_FACT ? (Interval){input->u.fact->low, input->u.fact->high} : unbounded_volts(judge, input);
}

/* Whether the current of a thing is not known because what it is for, or the voltage there, is not decided. */
static bool lacks_volts(const Figure *current, const Entity *thing)
{
    for (uint16_t i = 0; current->state == STATE_MISSING && i < current->input_count; i++) {
        const Input *input = &current->inputs[i];
        bool own = input->entity == thing->index && input->prop == prop_of_volts(thing);
        if (input->kind == INPUT_MISSING && (own || tells_voltage((PropId)input->prop))) {
            return true;
        }
    }
    return false;
}

Answer mains_on_direct(const Judge *judge, const Entity *thing, const Feed *feed)
{
    const Figure *current = figure_of(judge, thing, FIGURE_CURRENT);
    if (thing->flags & ENTITY_AC || !may_be_for_mains(thing) || current == NULL) {
        return ANSWER_NO;
    }
    bool waits = is_for_mains(thing) && current->state == STATE_WAITING && nominal_volts(judge, feed).high < MAINS_FROM_V;
    return waits ? ANSWER_YES : lacks_volts(current, thing) ? ANSWER_PERHAPS : ANSWER_NO;
}

void finding_rests_on_voltage(Judge *judge, Finding *finding, const Feed *feed)
{
    const Input *input = voltage_input(judge, feed);
    if (input != NULL && input->prop != PROP_NONE) {
        finding_rests_on(judge, finding, judge->model->entities[input->entity], (PropId)input->prop);
    }
}
