/*
 * The rule digits-grouped: a number in which a point stands before three digits, as many lands write thousands, of something that
 * hardly is a thousandth of that. Money is read more strictly: see habit_tell_grouped in model/habits.c.
 */
#include "rules/slips.h"

#include "base/num.h"
#include "language/unit.h"
#include "model/grouped.h"

static void judge_digits(Judge *judge, const Entity *thing, const Property *stated)
{
    const Value *value = property_value(stated, 0);
    char digits[8];
    if (!grouped_is_slip(judge->model, thing, stated, digits)) {
        judge_holds(judge);
        return;
    }
    Str written = span_text(judge->model->tree->sources, value_span(judge->model, value));
    Buf unit, plain;
    buf_init(&unit, judge->arena);
    buf_init(&plain, judge->arena);
    unit_write(&unit, value->unit);
    double number;
    num_read(written, &number);
    num_write(&plain, number, 6);
    const char *word = props[stated->id].word;
    Finding *f = judge_broken(judge, thing, value_span(judge->model, value));
    finding_about(f, (PropId)stated->id);
    finding_say(judge, f, "`%s` states `%s %.*s %s`, and hardly means so little: a point stands before decimals and groups no digits",
                say_name(judge, thing), word, STR_ARG(written), unit.text);
    finding_remedy(judge, f, "%s %s %s", word, digits, unit.text);
    if (!str_is(written, plain.text)) {
        finding_remedy(judge, f, "`%s %s %s`, if it is so little", word, plain.text, unit.text);
    }
}

void judge_digits_grouped(Judge *judge)
{
    KindId kind;
    PropId prop;
    for (size_t i = 0; grouped_asked(i, &kind, &prop); i++) {
        for (const Entity *thing = judge->model->first_of_kind[kind]; thing != NULL; thing = thing->next_of_kind) {
            const Property *stated = entity_property(thing, prop);
            if (stated != NULL && !(thing->flags & ENTITY_DROPPED) && grouped_is_asked(thing, stated)) {
                judge_digits(judge, thing, stated);
            }
        }
    }
}
