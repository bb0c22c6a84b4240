/* See ask.h. */
#include "rules/ask.h"

/* Asking */

Answer ask_at_least(const Judge *judge, Side value, Side limit)
{
    if (!side_is_known(value) || !side_is_known(limit)) {
        return ANSWER_UNKNOWN;
    }
    Judge aside = *judge; /* what it finds and counts is forgotten */
    aside.first = aside.last = NULL;
    const Finding *finding = judge_at_least(&aside, NULL, (Span){0, 0}, value, limit);
    if (finding == NULL) {
        return ANSWER_YES;
    }
    return finding->verdict == VERDICT_BROKEN ? ANSWER_NO : ANSWER_PERHAPS;
}

bool has_mistake(const Entity *entity, PropId prop)
{
    const Property *property = entity_property(entity, prop);
    if (property == NULL) {
        return entity->flags & ENTITY_PARTLESS;
    }
    bool broken = property->flags & PROPERTY_BROKEN;
    for (uint16_t i = 0; i < property->count && !broken; i++) {
        broken = property->values[i].flags & VALUE_BROKEN;
    }
    return broken;
}

State stated_word(const Entity *entity, PropId prop, Str *word)
{
    *word = entity_word(entity, prop);
    if (!entity_states(entity, prop)) {
        return entity->flags & ENTITY_PARTLESS ? STATE_WAITING : STATE_MISSING;
    }
    return word->length == 0 || has_mistake(entity, prop) ? STATE_WAITING : STATE_KNOWN;
}

bool some_is_mistaken(const Judge *judge, KindId kind)
{
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *entity = judge->model->entities[i];
        if (entity->flags & ENTITY_BROKEN && (entity->kind == kind || entity->kind == KIND_NONE)) {
            return true;
        }
    }
    return judge->model->lost[kind] || judge->model->lost[KIND_NONE];
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

void finding_left_open(Judge *judge, Finding *finding, const Entity *entity, PropId prop)
{
    finding_hangs_on(judge, finding, entity, prop,
                     text_format(judge->arena, "%s.%s", say_name(judge, entity), props[prop].word));
}
