/*
 * What cannot be judged for want of a property: counted, and each such property noted once, for the rule
 * `unmeasured` to tell.
 */
#include "rules/judge.h"

static uint32_t unmeasured_slot(const Judge *judge, const Entity *entity, PropId prop)
{
    uint64_t key = ((uint64_t)entity->index << 16 | (uint64_t)prop) * 0x9E3779B97F4A7C15u;
    uint32_t mask = judge->unmeasured_capacity - 1;
    uint32_t i = (uint32_t)(key >> 32) & mask;
    while (judge->unmeasured_index[i] != NULL &&
           (judge->unmeasured_index[i]->entity != entity || judge->unmeasured_index[i]->prop != prop)) {
        i = (i + 1) & mask;
    }
    return i;
}

static void grow_unmeasured(Judge *judge)
{
    if ((judge->unmeasured_count + 1) * 2 <= judge->unmeasured_capacity) {
        return;
    }
    judge->unmeasured_capacity = judge->unmeasured_capacity ? judge->unmeasured_capacity * 2 : 32;
    judge->unmeasured_index = ARENA_ARRAY(judge->arena, Unmeasured *, judge->unmeasured_capacity);
    for (Unmeasured *u = judge->unmeasured; u != NULL; u = u->next) {
        judge->unmeasured_index[unmeasured_slot(judge, u->entity, u->prop)] = u;
    }
}

static void note_unmeasured(Judge *judge, const Entity *entity, PropId prop, FigureId figure)
{
    grow_unmeasured(judge);
    uint32_t slot = unmeasured_slot(judge, entity, prop);
    if (judge->unmeasured_index[slot] == NULL) {
        Unmeasured *u = ARENA_NEW(judge->arena, Unmeasured);
        *u = (Unmeasured){.entity = entity, .prop = prop, .first = judge->rule->name, .first_rule = judge->rule,
                          .figure = figure};
        if (judge->last_unmeasured == NULL) {
            judge->unmeasured = u;
        } else {
            judge->last_unmeasured->next = u;
        }
        judge->last_unmeasured = u;
        judge->unmeasured_index[slot] = u;
        judge->unmeasured_count++;
    }
    Unmeasured *known = judge->unmeasured_index[slot];
    known->rules += known->judgement != judge->unjudged; /* one may lack it by way of several figures */
    known->judgement = judge->unjudged;
}

void judge_unmeasured(Judge *judge, const Entity *entity, PropId prop)
{
    if (entity->flags & ENTITY_PARTLESS) {
        judge_waiting(judge);
        return;
    }
    judge->unjudged++;
    note_unmeasured(judge, entity, prop, FIGURE_NONE);
}

/* Notes every property that a missing figure lacks, followed down through its inputs. */
static void note_lacking(Judge *judge, const Figure *figure, int depth)
{
    for (uint16_t i = 0; i < figure->input_count && depth <= DEEPEST_INPUT; i++) {
        const Input *input = &figure->inputs[i];
        if (input->kind == INPUT_MISSING) {
            note_unmeasured(judge, judge->model->entities[input->entity], (PropId)input->prop, (FigureId)figure->id);
        } else if (input->kind == INPUT_FIGURE && input->u.figure->state == STATE_MISSING) {
            note_lacking(judge, input->u.figure, depth + 1);
        }
    }
}

void cannot_judge(Judge *judge, const Side *side)
{
    if (side->state == STATE_WAITING) {
        judge->waiting++;
        return;
    }
    judge->unjudged++;
    if (side->figure != NULL) {
        note_lacking(judge, side->figure, 0);
    } else if (side->entity != NULL && side->prop != PROP_NONE) {
        note_unmeasured(judge, side->entity, side->prop, FIGURE_NONE);
    }
}
