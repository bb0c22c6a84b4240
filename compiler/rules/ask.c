/* See ask.h. */
#include "rules/ask.h"

#include "figures/fuel_plan.h"

#include "model/status.h"

/* Asking */

Answer ask_at_least(Side value, Side limit)
{
    if (!side_is_known(value) || !side_is_known(limit)) {
        return ANSWER_UNKNOWN;
    }
    if (number_at_least(value.value.low, limit.value.high)) {
        return ANSWER_YES;
    }
    return number_at_least(value.value.high, limit.value.low) ? ANSWER_PERHAPS : ANSWER_NO;
}

bool has_mistake(const Entity *entity, PropId prop)
{
    const Property *property = entity_property(entity, prop);
    if (property == NULL) {
        return entity->flags & ENTITY_PARTLESS;
    }
    return property_is_mistaken(property);
}

State stated_word(const Entity *entity, PropId prop, Str *word)
{
    *word = entity_word(entity, prop);
    if (!entity_states(entity, prop)) {
        return entity->flags & ENTITY_PARTLESS ? STATE_WAITING : STATE_MISSING;
    }
    return word->length == 0 || has_mistake(entity, prop) ? STATE_WAITING : STATE_KNOWN;
}

static bool some_is_broken(const Entity *first)
{
    while (first != NULL && !(first->flags & ENTITY_BROKEN)) {
        first = first->next_of_kind;
    }
    return first != NULL;
}

bool some_feed_is_mistaken(const Judge *judge)
{
    for (uint32_t i = 0; i < judge->model->wrong_count; i++) {
        PropId id = (PropId)judge->model->wrong[i]->id;
        if (id == PROP_FEED_FED_BY || id == PROP_MAKER_FEEDS) {
            return true;
        }
    }
    return false;
}

bool some_is_mistaken(const Judge *judge, KindId kind)
{
    const Model *model = judge->model;
    return some_is_broken(model->first_of_kind[kind]) || some_is_broken(model->first_of_kind[KIND_NONE]) || model->lost[kind] ||
           model->lost[KIND_NONE];
}

const Bought *bought_aboard(const Judge *judge)
{
    const Model *model = judge->model;
    if (judge->survey->bought == NULL) {
        Bought *bought = ARENA_NEW(judge->arena, Bought);
        bought->things = ARENA_ARRAY(judge->arena, const Entity *, model->entity_count);
        for (uint32_t i = 0; i < model->entity_count; i++) {
            const Entity *thing = model->entities[i];
            if (is_bought(thing) && !(thing->flags & ENTITY_DROPPED)) {
                bought->things[bought->count++] = thing;
            }
        }
        judge->survey->bought = bought;
    }
    return judge->survey->bought;
}

/* Saying */

const char *say_remark(const Judge *judge, const Figure *figure)
{
    return figure != NULL && figure->remark != NULL ? text_format(judge->arena, "; %s", figure->remark) : "";
}

void finding_hangs_on(Judge *judge, Finding *finding, const Entity *entity, PropId prop, const char *what)
{
    Depend **end = &finding->depends;
    while (*end != NULL) {
        end = &(*end)->next;
    }
    finding->verdict = VERDICT_OPEN;
    *end = ARENA_NEW(judge->arena, Depend);
    (*end)->entity = entity;
    (*end)->prop = prop;
    (*end)->text = what;
}

void finding_may_not_apply(Finding *finding)
{
    finding->verdict = VERDICT_OPEN;
    finding->broken_in = 0;
}

void finding_left_open(Judge *judge, Finding *finding, const Entity *entity, PropId prop)
{
    if (entity == NULL) { /* of a boat that the spec has not, which is a mistake of its own */
        finding->verdict = VERDICT_OPEN;
        return;
    }
    finding_hangs_on(judge, finding, entity, prop, say_property(judge, entity, prop));
}

void finding_of_heater(Judge *judge, Finding *finding, const Entity *heater)
{
    if (finding == NULL || heater->kind != KIND_HEATER || heater_says_it_burns(judge->model, heater)) {
        return;
    }
    bool open = heater_burns(judge->model, heater) == BURNS_OPEN;
    finding_note(judge, finding, place_of_name(judge, heater),
                 open ? "it states no `fuel`, and its `draw` and `output` do not tell whether it burns any: state what it burns, or "
                        "both of them; one that draws a tenth of its `output` or more is electric"
                      : "it states no `fuel` and is taken to burn diesel; one that draws a tenth of its `output` or more is electric");
    if (open) {
        finding_left_open(judge, finding, heater, entity_states(heater, PROP_HEATER_OUTPUT) ? PROP_LOAD_DRAW : PROP_HEATER_OUTPUT);
    }
}
