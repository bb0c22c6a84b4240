/* See outcome.h. */
#include "rules/outcome.h"

#include "rules/alternatives.h"

#include "rules/merge.h"
#include "rules/options.h"

#include <math.h>
#include <string.h>

/* Which basis a model is judged by: the request's, else the boat's own, else ISO. */
static Basis basis_of(const Model *model, int requested)
{
    if (requested >= 0) {
        return (Basis)requested;
    }
    bool us = model->boat != NULL && str_is(entity_word(model->boat, PROP_BOAT_BASIS), "us");
    return us ? BASIS_US : BASIS_ISO;
}

static void compute_cases(Outcome *outcome, const Combinations *combinations, int basis)
{
    outcome->cases = ARENA_ARRAY(outcome->arena, Case, outcome->case_count);
    for (uint32_t i = 0; i < outcome->case_count; i++) {
        Case *c = &outcome->cases[i];
        Model *model = model_build(outcome->spec, outcome->arena, combinations->taken[i]);
        c->model = model;
        outcome->basis = basis_of(model, basis);
        c->figures = figures_compute(outcome->arena, model, outcome->basis, outcome->today);
        c->judge = rules_judge(outcome->arena, model, c->figures, outcome->basis, outcome->today);
    }
}

static void count_findings(Outcome *outcome)
{
    for (const Finding *f = outcome->findings; f != NULL; f = f->next) {
        uint32_t *count = f->waiver != NULL                 ? &outcome->waived
                          : f->verdict == VERDICT_OPEN      ? &outcome->open
                          : f->severity == SEVERITY_FAULT   ? &outcome->faults
                          : f->severity == SEVERITY_WARNING ? &outcome->warnings
                                                            : &outcome->advice;
        (*count)++;
    }
    for (uint32_t i = 0; i < outcome->case_count; i++) {
        const Judge *judge = outcome->cases[i].judge;
        outcome->unjudged = judge->unjudged > outcome->unjudged ? judge->unjudged : outcome->unjudged;
        outcome->waiting = judge->waiting > outcome->waiting ? judge->waiting : outcome->waiting;
    }
    outcome->mistakes = outcome->spec->messages.count;
}

Outcome *outcome_compute(Arena *arena, Spec *spec, OutcomeRequest request)
{
    Outcome *outcome = ARENA_NEW(arena, Outcome);
    *outcome = (Outcome){.arena = arena, .spec = spec, .today = request.today, .strict = request.strict};
    Combinations combinations = spec_cover(spec, arena, OUTCOME_MOST);
    outcome->case_count = combinations.count;
    outcome->sampled = combinations.sampled;
    outcome->unseen = combinations.unseen;
    compute_cases(outcome, &combinations, request.basis);
    messages_sort(&spec->messages);
    outcome->options = options_of_cases(outcome);
    findings_merge(outcome);
    count_findings(outcome);
    return outcome;
}

static bool waived_danger(const Finding *f)
{
    return f->waiver != NULL && f->verdict == VERDICT_BROKEN && f->severity == SEVERITY_FAULT &&
           f->rule->danger != DANGER_NONE;
}

bool outcome_is_broken(const Outcome *outcome)
{
    if (outcome->faults > 0 || outcome->mistakes > 0 || (outcome->strict && outcome->warnings > 0)) {
        return true;
    }
    /* Faults of mains, gas, fuel or flooding are set aside on paper, not in the exit status. */
    for (const Finding *f = outcome->findings; f != NULL; f = f->next) {
        if (waived_danger(f)) {
            return true;
        }
    }
    return false;
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
