/* See wiring.h and wiring_rules.h: what is said of a cable, wherever it is. */
#include "rules/wiring.h"
#include "rules/wiring_rules.h"

static const UnitPair percent = {UNIT_PERCENT, UNIT_NONE};

bool is_in_no_table(const Figure *ampacity)
{
    return ampacity->state == STATE_KNOWN && ampacity->high <= 0.0;
}

const char *say_cable(const Judge *judge, const Feed *feed)
{
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    Buf text;
    buf_init(&text, judge->arena);
    buf_format(&text, "ampacity %s: %s%s", is_in_no_table(ampacity) ? "in no table" : say_figure(judge, ampacity),
               say_figure(judge, size), size->chosen ? " (chosen)" : "");
    for (uint16_t i = 0; i < ampacity->input_count; i++) {
        const Input *input = &ampacity->inputs[i];
        if (input->kind == INPUT_VALUE && input->slot == 2) {
            const Value *value = property_value(input->u.property, 2);
            buf_format(&text, ", %s insulation",
                       say_number(judge, value->u.quantity.low, UNIT_ALONE(UNIT_CELSIUS)));
        } else if (input->kind == INPUT_FACT && input->u.fact->unit.unit == UNIT_CELSIUS) {
            buf_format(&text, ", %s insulation (assumed: not stated)",
                       say_number(judge, input->u.fact->low, UNIT_ALONE(UNIT_CELSIUS)));
        } else if (input->kind == INPUT_FACT && input->u.fact->unit.unit == UNIT_NONE) {
            buf_format(&text, ", %s (%s)", input->u.fact->what,
                       say_number(judge, input->u.fact->low, UNIT_ALONE(UNIT_NONE)));
        }
    }
    return text.text;
}

const char *say_lost(const Judge *judge, const Figure *lost)
{
    if (lost->state != STATE_KNOWN || lost->high <= 1.0) {
        return say_figure(judge, lost);
    }
    return lost->low > 1.0   ? "more than all"
           : lost->low > 0.0 ? text_format(judge->arena, "%s or more", say_number(judge, lost->low, percent))
                             : "anything from nothing to all";
}
