/* See outcome.h. */
#include "rules/outcome.h"

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

/* Merging the findings of several cases */

typedef struct Merged {
    Finding *finding;
    uint32_t number; /* of those in one case that nothing tells apart: which */
    CaseSet found_in;
    CaseSet broken_in;
} Merged;

typedef struct Merger {
    Outcome *outcome;
    OptionCases *options;
    Merged *list;
    uint32_t count, capacity;
    uint32_t *index; /* hash: 1 + position in list */
    uint32_t index_capacity;
} Merger;

static Symbol name_of(const Entity *entity)
{
    return entity != NULL ? entity->name : 0;
}

static uint64_t key_of(const Finding *f)
{
    uint64_t key = (uint64_t)(uintptr_t)f->rule;
    key = key * 0x9E3779B97F4A7C15u + name_of(f->subject);
    key = key * 0x9E3779B97F4A7C15u + name_of(f->at);
    return (key * 0x9E3779B97F4A7C15u + f->place.start) * 0x9E3779B97F4A7C15u + (uint64_t)f->about;
}

static bool same_finding(const Finding *a, const Finding *b)
{
    return a->rule == b->rule && name_of(a->subject) == name_of(b->subject) &&
           name_of(a->at) == name_of(b->at) && a->place.start == b->place.start && finding_same_matter(a, b);
}

static uint32_t *slot_of(Merger *merger, const Finding *finding, uint32_t number)
{
    uint32_t mask = merger->index_capacity - 1;
    uint32_t i = (uint32_t)(key_of(finding) >> 32) & mask;
    for (; merger->index[i] != 0; i = (i + 1) & mask) {
        const Merged *there = &merger->list[merger->index[i] - 1];
        if (there->number == number && same_finding(there->finding, finding)) {
            break;
        }
    }
    return &merger->index[i];
}

static void grow_merger(Merger *merger)
{
    Arena *arena = merger->outcome->arena;
    if (merger->count == merger->capacity) {
        uint32_t capacity = merger->capacity ? merger->capacity * 2 : 64;
        merger->list =
            arena_grow(arena, merger->list, merger->capacity * sizeof(Merged), capacity * sizeof(Merged));
        merger->capacity = capacity;
    }
    if (merger->count * 2 >= merger->index_capacity) {
        merger->index_capacity = merger->index_capacity ? merger->index_capacity * 2 : 256;
        merger->index = ARENA_ARRAY(arena, uint32_t, merger->index_capacity);
        for (uint32_t i = 0; i < merger->count; i++) {
            *slot_of(merger, merger->list[i].finding, merger->list[i].number) = i + 1;
        }
    }
}

/* Where a finding belongs. A case has the second of two that nothing tells apart for the second: none is lost. */
static Merged *merged_of(Merger *merger, Finding *finding, CaseSet bit)
{
    uint32_t number = 0;
    uint32_t *slot = slot_of(merger, finding, number);
    while (*slot != 0 && merger->list[*slot - 1].found_in & bit) {
        slot = slot_of(merger, finding, ++number);
    }
    if (*slot == 0) {
        merger->list[merger->count++] = (Merged){.finding = finding, .number = number};
        *slot = merger->count;
    }
    return &merger->list[*slot - 1];
}

static void merge_case(Merger *merger, uint32_t number)
{
    CaseSet bit = (CaseSet)1 << number;
    for (Finding *f = merger->outcome->cases[number].judge->first; f != NULL; f = f->next) {
        grow_merger(merger);
        Merged *merged = merged_of(merger, f, bit);
        merged->found_in |= bit;
        if (f->verdict == VERDICT_BROKEN) {
            merged->broken_in |= bit;
            if (merged->finding->verdict == VERDICT_OPEN) {
                merged->finding = f; /* the broken one has more to say */
            }
        }
    }
}

/* Turns what the cases said into one finding: broken only if it is broken in each, else open. */
static void settle(const Merger *merger, Merged *merged)
{
    /* A copy: each case keeps its own findings, as it was judged. */
    Finding *f = ARENA_NEW(merger->outcome->arena, Finding);
    *f = *merged->finding;
    merged->finding = f;
    CaseSet all = options_all_cases(merger->outcome);
    f->found_in = merged->found_in;
    f->broken_in = merged->broken_in;
    f->combinations = 0;
    for (CaseSet bits = merged->found_in; bits != 0; bits &= bits - 1) {
        f->combinations++;
    }
    if (f->rule->of_choice || merged->broken_in == all ||
        (merged->found_in == all && f->verdict == VERDICT_OPEN)) {
        return;
    }
    f->verdict = VERDICT_OPEN;
    bool in_all = merged->found_in == all;
    options_tell(merger->options, f, in_all ? merged->broken_in : merged->found_in, in_all);
}

static void merge_findings(Outcome *outcome)
{
    if (outcome->case_count == 1) {
        const Judge *judge = outcome->cases[0].judge;
        outcome->findings = findings_sort(outcome->arena, judge->first, judge->count);
        return;
    }
    Merger merger = {.outcome = outcome, .options = options_of_cases(outcome)};
    for (uint32_t i = 0; i < outcome->case_count; i++) {
        merge_case(&merger, i);
    }
    Finding **end = &outcome->findings;
    for (uint32_t i = 0; i < merger.count; i++) {
        settle(&merger, &merger.list[i]);
    }
    /* Linked only now: until here the lists of the cases were still walked through `next`. */
    uint32_t kept = 0;
    for (uint32_t i = 0; i < merger.count; i++) {
        const Merged *merged = &merger.list[i];
        if (merged->finding->rule->of_all_cases && merged->found_in != options_all_cases(outcome)) {
            continue;
        }
        *end = merged->finding;
        end = &merged->finding->next;
        kept++;
    }
    *end = NULL;
    outcome->findings = findings_sort(outcome->arena, outcome->findings, kept);
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
    merge_findings(outcome);
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
    bool any = false;
    for (uint32_t i = 0; i < outcome->case_count; i++) {
        const Case *c = &outcome->cases[i];
        const Entity *entity = model_find(c->model, subject);
        const Entity *at_entity = at.length > 0 ? model_find(c->model, at) : NULL;
        if (at.length > 0 && at_entity == NULL) {
            continue; /* that day or target is not there in this case */
        }
        const Figure *f = figure_find(c->figures, entity, id, at_entity);
        if (f == NULL || f->state != STATE_KNOWN) {
            continue;
        }
        if (!any) {
            *merged = *f;
            any = true;
        } else {
            merged->low = f->low < merged->low ? f->low : merged->low;
            merged->high = f->high > merged->high ? f->high : merged->high;
        }
    }
    return any;
}
