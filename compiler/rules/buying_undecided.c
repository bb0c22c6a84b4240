/*
 * What is here, or on order, is what it is: a range in its lines is no longer a decision but something to be read off.
 */
#include "rules/buying.h"

#include "rules/decide.h"

#include "model/status.h"

/* A range so wide that it is no tolerance. A choice of this program. */
static const double no_tolerance = 1.5;

static bool is_wide(const Property *property)
{
    for (uint16_t i = 0; i < property->count; i++) {
        const Value *value = &property->values[i];
        if (value_is_range(value) && !(value->flags & (VALUE_ASSUMED | VALUE_BROKEN)) &&
            (value_is_hole(value) || value->u.quantity.high >= no_tolerance * value->u.quantity.low)) {
            return true;
        }
    }
    return false;
}

static bool is_to_read(const Property *property)
{
    return decide_is_on_label((PropId)property->id) && property->known != KNOWN_MEASURED &&
           property->known != KNOWN_LABELLED;
}

void look_read_off(Judge *judge, const Entity *thing)
{
    enum { NAMED = 4 };
    Status status = thing_status(thing);
    if (status != STATUS_HERE && status != STATUS_FITTED) {
        return;
    }
    const Property *first = NULL;
    uint32_t count = 0;
    Buf words;
    buf_init(&words, judge->arena);
    for (uint32_t i = 0; i < thing->block.count; i++) {
        const Property *property = &thing->block.properties[i];
        if (property->flags & PROPERTY_BROKEN || !is_to_read(property) || !is_wide(property)) {
            continue;
        }
        first = first != NULL ? first : property;
        if (count++ < NAMED && !judge->quiet) {
            buf_format(&words, "%s`%s`", count > 1 ? ", " : "", props[property->id].word);
        }
    }
    if (count == 0) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, thing, place_of(judge, thing, (PropId)first->id));
    finding_say(judge, finding, "`%s` is %s, and the spec leaves open of it: %s%s", say_name(judge, thing),
                status_word(status), words.text, count > NAMED ? " and more" : "");
    finding_remedy(
        judge, finding,
        "what its label, its papers or the bill say; or what was measured, with `measured` behind it");
}
