/* See outcome.h: what is asked of an outcome. */
#include "rules/outcome.h"

#include "rules/alternatives.h"

bool outcome_is_broken(const Outcome *outcome)
{
    return outcome->faults > 0 || outcome->mistakes > 0 || (outcome->strict && outcome->warnings > 0);
}

uint64_t outcome_cases_with(const Outcome *outcome, const Entity *thing)
{
    uint64_t cases = 0;
    for (uint32_t i = 0; i < outcome->case_count; i++) {
        const Model *model = outcome->cases[i].model;
        bool there = thing->name < model->symbol_count && model->by_symbol[thing->name] != NULL;
        cases |= there ? (uint64_t)1 << i : 0;
    }
    return cases;
}

bool outcome_figure(const Outcome *outcome, Str subject, FigureId id, Str at, Figure *merged)
{
    return outcome_figure_in(outcome, ~(uint64_t)0, subject, id, at, merged);
}

bool outcome_figure_in(const Outcome *outcome, uint64_t cases, Str subject, FigureId id, Str at, Figure *merged)
{
    bool any = false;
    Alternatives remarks = {.outcome = outcome};
    for (uint32_t i = 0; i < outcome->case_count; i++) {
        const Case *c = &outcome->cases[i];
        const Figure *f =
            cases >> i & 1 ? figure_find_at(c->figures, model_find(c->model, subject), id, at) : NULL;
        if (f == NULL || f->state != STATE_KNOWN) {
            continue;
        }
        if (!any) {
            *merged = *f;
            any = true;
        } else {
            merged->low = f->low < merged->low ? f->low : merged->low;
            merged->high = f->high > merged->high ? f->high : merged->high;
            merged->none = merged->none && f->none;
            merged->partial = merged->partial || f->partial;
        }
        alternatives_add(&remarks, f->remark, (CaseSet)1 << i);
    }
    if (any) {
        merged->remark = alternatives_remark(&remarks);
    }
    return any;
}
