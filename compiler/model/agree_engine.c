/* What an engine states that only one of another fuel has. See agree.h. */
#include "model/agree.h"

/* What is of engines that burn something, and what of electric ones: on another it would be counted nowhere. */
static const PropId of_burning[] = {PROP_ENGINE_CONSUMPTION, PROP_ENGINE_SPECIFIC, PROP_ENGINE_STARTER, PROP_ENGINE_EXHAUST,
                                    PROP_ENGINE_BACK_PRESSURE};
static const PropId of_electric[] = {PROP_ENGINE_TAKES, PROP_ENGINE_EFFICIENCY};

/* All that is out of place is one mistake: it may be the fuel that is wrong. */
void agree_check_engine(Model *model, const Entity *engine)
{
    const Property *fuel = entity_property(engine, PROP_ENGINE_FUEL);
    Str word = entity_word(engine, PROP_ENGINE_FUEL);
    bool electric = str_is(word, "electric");
    const PropId *strange = electric ? of_burning : of_electric;
    size_t count = electric ? sizeof of_burning / sizeof of_burning[0] : sizeof of_electric / sizeof of_electric[0];
    const Property *first = NULL;
    Buf names;
    uint32_t found = 0;
    buf_init(&names, model->arena);
    for (size_t i = 0; i < count && word.length > 0; i++) {
        const Property *line = entity_property(engine, strange[i]);
        if (line != NULL && !(line->flags & PROPERTY_BROKEN)) { /* that one is told already */
            first = first == NULL ? line : first;
            buf_format(&names, "%s`%s`", found++ > 0 ? ", " : "", props[strange[i]].word);
        }
    }
    if (first == NULL) {
        return;
    }
    Message *m = message_report(model->messages, MESSAGE_SHAPE_OTHER, property_span(model, first),
                                electric ? "`%.*s` is electric, and %s %s of one that burns fuel"
                                         : "`%.*s` burns fuel, and %s %s of an electric one",
                                STR_ARG(entity_name(model, engine)), names.text, found == 1 ? "is" : "are");
    message_note(model->messages, m, property_span(model, fuel), "this says so");
    if (first->id == PROP_ENGINE_CONSUMPTION || first->id == PROP_ENGINE_TAKES) {
        message_right(model->messages, m, "`%s`, for example", props[electric ? PROP_ENGINE_TAKES : PROP_ENGINE_CONSUMPTION].example);
    } else {
        message_right(model->messages, m, electric ? "none of that, or another `fuel`" : "none of that, or `fuel electric`");
    }
}
