/* See outcome.h. */
#include "rules/outcome.h"

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

/* Where a remark's first clause ends: it may say to which side, the rest what is left out. */
static size_t clause_of(const char *remark)
{
    return strcspn(remark, ";");
}

/* "7 or 6 weighed things have no place": two texts that differ in one number alone; NULL if in more. */
static const char *join_numbers(Arena *arena, const char *all, const char *one)
{
    size_t before = 0, behind = 0, length = strlen(all), other = strlen(one);
    while (all[before] != '\0' && all[before] == one[before]) {
        before++;
    }
    while (before > 0 && strchr("0123456789.", all[before - 1]) != NULL) {
        before--; /* a number is told whole */
    }
    while (behind < length - before && behind < other - before && all[length - behind - 1] == one[other - behind - 1]) {
        behind++;
    }
    while (behind > 0 && strchr("0123456789.", all[length - behind]) != NULL) {
        behind--;
    }
    const char *digits = "0123456789. or";
    bool numbers = strspn(all + before, digits) >= length - behind - before && strspn(one + before, digits) >= other - behind - before;
    if (!numbers) {
        return NULL;
    }
    Str told = {all + before, length - behind - before}, more = {one + before, other - behind - before};
    const char *is_told = strstr(text_format(arena, " %.*s ", STR_ARG(told)), text_format(arena, " %.*s ", STR_ARG(more)));
    return is_told != NULL ? all
                           : text_format(arena, "%.*s or %.*s%s", (int)(length - behind), all, STR_ARG(more),
                                         all + length - behind);
}

/* What two texts say together, if they do not say the same. */
static const char *join_clauses(Arena *arena, const char *all, const char *one)
{
    const char *numbers = join_numbers(arena, all, one);
    if (numbers != NULL) {
        return numbers;
    }
    if (strstr(all, one) != NULL || strstr(one, all) != NULL) {
        return strlen(all) >= strlen(one) ? all : one;
    }
    return strchr(all, ',') != NULL || strstr(all, " or ") != NULL || strchr(one, ',') != NULL || strstr(one, " or ") != NULL
               ? text_format(arena, "%s, or, with other options, %s", all, one) /* each with an "or" of its own */
               : text_format(arena, "%s or %s", all, one);
}

/* What the remarks of two cases say together: "by the head or by the stern; 2 weighed things have no place". */
static const char *join_remarks(Arena *arena, const char *all, const char *one)
{
    if (all == NULL || one == NULL || strcmp(all, one) == 0) {
        return all != NULL ? all : one;
    }
    Str told = {all, clause_of(all)}, more = {one, clause_of(one)};
    const char *first = join_clauses(arena, str_copy(arena, told), str_copy(arena, more));
    const char *rest = join_clauses(arena, all + told.length, one + more.length);
    return text_format(arena, "%s%s", first, rest);
}

bool outcome_figure(const Outcome *outcome, Str subject, FigureId id, Str at, Figure *merged)
{
    return outcome_figure_in(outcome, ~(uint64_t)0, subject, id, at, merged);
}

bool outcome_figure_in(const Outcome *outcome, uint64_t cases, Str subject, FigureId id, Str at, Figure *merged)
{
    bool any = false;
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
            merged->remark = join_remarks(outcome->arena, merged->remark, f->remark);
            merged->none = merged->none && f->none;
            merged->partial = merged->partial || f->partial;
        }
    }
    return any;
}
