/* See bom_days.h. */
#include "output/bom_days.h"

#include "rules/decide.h"

#include <math.h>

/* One more day by which it is to be ordered: the earliest counts. Of a range that is the first, which is safe in any case. */
static void add_day(BomLine *line, const Figure *by)
{
    bool before = by->state == STATE_KNOWN && !isfinite(by->low);
    double day_s = before ? by->high : by->low;
    if (by->state != STATE_KNOWN || !isfinite(day_s)) {
        line->undated = true;
        return;
    }
    Date day = (Date)floor(day_s / SECONDS_A_DAY);
    line->order_by = line->dated && line->order_by < day ? line->order_by : day;
    line->before = line->before || before;
    line->dated = true;
}

/* The earliest day of the cases that have this thing: one of another option may have the same name, and another day. */
void bom_find_day(const Outcome *outcome, BomLine *line)
{
    Str name = entity_name(line->of->model, line->entity);
    for (uint32_t i = 0; i < outcome->case_count; i++) {
        const Case *in = &outcome->cases[i];
        const Entity *entity = model_find(in->model, name);
        const Figure *by = entity != NULL && entity->node == line->entity->node
                               ? figure_find(in->figures, entity, FIGURE_ORDER_BY, NULL)
                               : NULL;
        if (by != NULL) {
            add_day(line, by);
        }
    }
    line->undated = line->undated && !line->dated;
}

/* What is undecided of the things on the list, where a finding or a goal hangs on it. */
void bom_find_undecided(Arena *arena, const Outcome *outcome, BomLine *const *line_of)
{
    const Decisions *decisions = decide_compute(arena, outcome);
    for (uint32_t i = 0; i < decisions->count; i++) {
        const Decision *d = decisions->list[i];
        BomLine *line = d->entity != NULL && d->property != NULL ? line_of[d->entity->node] : NULL;
        if (line == NULL || d->faults + d->goals + d->warnings == 0 || !decide_before_order(d->prop) ||
            !decide_is_of_thing(d->prop)) {
            continue;
        }
        const char *stands =
            text_format(arena, "%s %s", props[d->prop].word, decide_stands(arena, outcome, d));
        line->undecided =
            line->undecided == NULL ? stands : text_format(arena, "%s, %s", line->undecided, stands);
    }
}
