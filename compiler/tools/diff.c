/* See diff.h. */
#include "tools/diff_parts.h"

#include <math.h>
#include <string.h>

/* What the writers share */

bool figure_change(const DiffFigure *figure, bool high, double *change, double *percent)
{
    const Figure *before = &figure->before.figure;
    const Figure *after = &figure->after.figure;
    if (figure->before.of == NULL || figure->after.of == NULL || before->state != STATE_KNOWN ||
        after->state != STATE_KNOWN || before->money != after->money ||
        (after->money && !str_equal(figure->before.of->model->currency, figure->after.of->model->currency))) {
        return false;
    }
    double was = high ? before->high : before->low;
    double is = high ? after->high : after->low;
    if (!isfinite(was) || !isfinite(is)) {
        return false;
    }
    UnitPair unit = after->size ? UNIT_ALONE(UNIT_MM2) : after->unit;
    bool plain = after->money || unit.unit == UNIT_NONE;
    *change = plain ? is - was : unit_from_si(unit, is) - unit_from_si(unit, was);
    /* Of a temperature or a date a share says nothing: its zero is a convention. */
    bool offset = unit_dimension(unit).tag == TAG_TEMPERATURE || unit.unit == UNIT_DATE;
    *percent = was == 0.0 || offset ? NAN : (is - was) / fabs(was) * 100.0;
    return true;
}

/* The whole */

const Diff *diff_compute(Arena *arena, Outcome *before, Outcome *after)
{
    Diff *diff = ARENA_NEW(arena, Diff);
    *diff = (Diff){.arena = arena, .before = {.outcome = before}, .after = {.outcome = after}};
    diff_list_sides(diff);
    diff_match(diff);
    diff_find_things(diff);
    diff_find_choices(diff);
    diff_find_figures(diff);
    diff_find_bom(diff);
    diff_find_findings(diff);
    return diff;
}

bool diff_is_different(const Diff *diff)
{
    const DiffFindings *findings = &diff->findings;
    return diff->items != NULL || diff->choices != NULL || diff->waivers != NULL || diff->figures != NULL ||
           diff->bom != NULL || diff->goals != NULL ||
           findings->fresh.count + findings->gone.count + findings->changed.count > 0;
}
