/* See outcome.h. */
#include "rules/outcome.h"

#include "model/clash.h"
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

static void compute_case(Outcome *outcome, const int32_t *taken, int basis)
{
    Case *c = &outcome->cases[outcome->case_count++];
    Model *model = model_build(outcome->spec, outcome->arena, taken);
    c->model = model;
    Basis by = basis_of(model, basis);
    outcome->basis = outcome->case_count == 1 ? by : outcome->basis;
    c->figures = figures_compute(outcome->arena, model, by, outcome->today);
    c->judge = rules_judge(outcome->arena, model, c->figures, by, outcome->today);
}

/* ---- The least and the greatest of a sample ---------------------------------------------------------------------------- */

/* A figure of the boat in a case, its lower or its higher end; NAN if it is not known. */
static double end_of_figure(const Outcome *outcome, uint32_t number, FigureId id, bool least)
{
    const Case *c = &outcome->cases[number];
    const Figure *figure = c->model->boat != NULL ? figure_find(c->figures, c->model->boat, id, NULL) : NULL;
    bool known = figure != NULL && figure->state == STATE_KNOWN && isfinite(figure->low) && isfinite(figure->high);
    return !known ? NAN : least ? figure->low : figure->high;
}

/* The one choice in which two combinations differ, or -1. */
static int32_t differs_in(const Spec *spec, const int32_t *a, const int32_t *b)
{
    int32_t in = -1;
    for (uint32_t c = 0; c < spec->choice_count; c++) {
        if (a[c] != b[c]) {
            if (in >= 0) {
                return -1;
            }
            in = (int32_t)c;
        }
    }
    return in;
}

/*
 * Of what adds up over the choices, as money and mass do: of each choice the option with which alone it is least, or
 * greatest. False where that is not known of every option.
 */
static bool find_extreme(const Outcome *outcome, const Combinations *combinations, FigureId id, bool least, int32_t *taken)
{
    const Spec *spec = outcome->spec;
    double *best = ARENA_ARRAY(outcome->arena, double, spec->choice_count + 1);
    uint64_t left = 0;
    double first = end_of_figure(outcome, 0, id, least);
    for (uint32_t c = 0; c < spec->choice_count; c++) {
        taken[c] = combinations->taken[0][c];
        best[c] = first;
        left += spec->choices[c].picked < 0 && spec->choices[c].option_count > 0 ? spec->choices[c].option_count - 1 : 0;
    }
    for (uint32_t i = 1; i < outcome->case_count; i++) {
        int32_t c = differs_in(spec, combinations->taken[0], combinations->taken[i]);
        double value = c >= 0 ? end_of_figure(outcome, i, id, least) : NAN;
        if (!isnan(value)) {
            left--;
            if (least ? value < best[c] : value > best[c]) {
                best[c] = value;
                taken[c] = combinations->taken[i][c];
            }
        }
    }
    return left == 0 && !isnan(first);
}

static bool is_taken(const Spec *spec, const Combinations *combinations, const int32_t *taken)
{
    for (uint32_t i = 0; i < combinations->count; i++) {
        if (memcmp(combinations->taken[i], taken, spec->choice_count * sizeof *taken) == 0) {
            return true;
        }
    }
    return false;
}

/* Adds to a sample the cheapest and the dearest of all combinations, and the lightest and the heaviest. */
static void add_extremes(Outcome *outcome, Combinations *combinations, int basis)
{
    static const FigureId sums[] = {FIGURE_COST, FIGURE_MASS};
    const uint32_t sampled = outcome->case_count;
    for (size_t i = 0; i < 2 * sizeof sums / sizeof sums[0]; i++) {
        int32_t *taken = ARENA_ARRAY(outcome->arena, int32_t, outcome->spec->choice_count + 1);
        Outcome sample = *outcome;
        sample.case_count = sampled;
        if (combinations->count < OUTCOME_MOST && find_extreme(&sample, combinations, sums[i / 2], i % 2 == 0, taken) &&
            !is_taken(outcome->spec, combinations, taken) && clashes_allow(outcome->spec, taken)) {
            combinations->taken[combinations->count++] = taken;
            compute_case(outcome, taken, basis);
        }
    }
}

/*
 * She is checked against one body of rules and paid for in one currency, whichever options are taken: totals and verdicts of
 * two that differ in that cannot be told as one. A body of rules from the command line stands above what the options say.
 */
static void tell_unlike(Outcome *outcome, const Model *model, PropId prop)
{
    const Entity *first = outcome_first(outcome)->model->boat;
    const Property *here = entity_property(model->boat, prop), *there = entity_property(first, prop);
    bool stated = here != NULL && there != NULL && !property_is_mistaken(here) && !property_is_mistaken(there);
    if (!stated || str_equal(entity_word(model->boat, prop), entity_word(first, prop))) {
        return;
    }
    Message *m = message_report(&outcome->spec->messages, MESSAGE_OPTION_BASIS, tree_span(model->tree, here->node),
                                "with other options her `%s` is another; she has one, whichever are taken", props[prop].word);
    message_note(&outcome->spec->messages, m, tree_span(model->tree, there->node), "the other");
    message_right(&outcome->spec->messages, m,
                  prop == PROP_BOAT_BASIS ? "one of them; `--basis` looks at her by the other" : "one of them");
}

static void tell_all_unlike(Outcome *outcome, int basis)
{
    for (uint32_t i = 1; i < outcome->case_count && outcome_first(outcome)->model->boat != NULL; i++) {
        const Model *model = outcome->cases[i].model;
        if (model->boat != NULL && basis < 0) {
            tell_unlike(outcome, model, PROP_BOAT_BASIS);
        }
        if (model->boat != NULL) {
            tell_unlike(outcome, model, PROP_BOAT_CURRENCY);
        }
    }
}

static void compute_cases(Outcome *outcome, Combinations *combinations, int basis)
{
    outcome->cases = ARENA_ARRAY(outcome->arena, Case, OUTCOME_MOST);
    for (uint32_t i = 0; i < combinations->count; i++) {
        compute_case(outcome, combinations->taken[i], basis);
    }
    if (combinations->sampled) {
        add_extremes(outcome, combinations, basis);
    }
    tell_all_unlike(outcome, basis);
}

bool outcome_counts_though_waived(const Finding *f)
{
    return f->waiver != NULL && f->verdict == VERDICT_BROKEN && f->severity == SEVERITY_FAULT &&
           f->rule->danger != DANGER_NONE;
}

static void count_findings(Outcome *outcome)
{
    for (const Finding *f = outcome->findings; f != NULL; f = f->next) {
        if (outcome_counts_though_waived(f)) {
            outcome->faults++;
            outcome->waived_faults++;
        }
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
    spec->today = request.today;
    Combinations combinations = spec_cover(spec, arena, OUTCOME_MOST);
    outcome->sampled = combinations.sampled;
    outcome->unseen = combinations.unseen;
    compute_cases(outcome, &combinations, request.basis);
    messages_sort(&spec->messages);
    outcome->options = options_of_cases(outcome);
    findings_merge(outcome);
    count_findings(outcome);
    return outcome;
}
