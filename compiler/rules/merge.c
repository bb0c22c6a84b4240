/* See merge.h. */
#include "rules/merge.h"

#include "rules/merge_parts.h"

#include <string.h>

typedef struct Merger {
    Outcome *outcome;
    OptionCases *options;
    Merged *list;
    uint32_t count, capacity;
    uint32_t *index; /* hash: 1 + position in list */
    uint32_t index_capacity;
} Merger;

static uint64_t key_of(const Finding *f, uint64_t place)
{
    uint64_t key = (uint64_t)(uintptr_t)f->rule;
    key = key * 0x9E3779B97F4A7C15u + entity_symbol(f->subject);
    key = key * 0x9E3779B97F4A7C15u + entity_symbol(f->at);
    return (key * 0x9E3779B97F4A7C15u + place) * 0x9E3779B97F4A7C15u + (uint64_t)f->about;
}

/* Where in the index that reading of a finding stands, or has room. */
static uint32_t *slot_of(const Merger *merger, const Finding *finding, uint64_t place, uint32_t number)
{
    uint32_t mask = merger->index_capacity - 1;
    uint32_t i = (uint32_t)(key_of(finding, place) >> 32) & mask;
    for (; merger->index[i] != 0; i = (i + 1) & mask) {
        const Merged *there = &merger->list[merger->index[i] - 1];
        if (there->number == number && there->place == place && there->finding->rule == finding->rule &&
            finding_same_thing(there->finding, finding)) {
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
            const Merged *there = &merger->list[i];
            *slot_of(merger, there->finding, there->place, there->number) = i + 1;
        }
    }
}

/* Where a finding belongs. A case has the second of two that nothing tells apart for the second: none is lost. */
static Merged *merged_of(Merger *merger, Finding *finding, CaseSet bit)
{
    uint32_t number = 0;
    uint64_t place = options_place(merger->options, finding->place);
    uint32_t *slot = slot_of(merger, finding, place, number);
    while (*slot != 0 && merger->list[*slot - 1].found_in & bit) {
        slot = slot_of(merger, finding, place, ++number);
    }
    if (*slot == 0) {
        merger->list[merger->count++] = (Merged){.finding = finding, .place = place, .notes = {.outcome = merger->outcome}, .number = number};
        *slot = merger->count;
    }
    return &merger->list[*slot - 1];
}

static void note_reading(Merger *merger, Merged *merged, const Finding *finding, CaseSet bit)
{
    Reading **end = &merged->readings;
    while (*end != NULL && strcmp((*end)->finding->message, finding->message) != 0) {
        end = &(*end)->next;
    }
    if (*end == NULL) {
        *end = ARENA_NEW(merger->outcome->arena, Reading);
        **end = (Reading){.finding = finding, .text = finding->message};
    }
    (*end)->cases |= bit;
}

static void merge_case(Merger *merger, uint32_t number)
{
    CaseSet bit = (CaseSet)1 << number;
    for (Finding *f = merger->outcome->cases[number].judge->first; f != NULL; f = f->next) {
        grow_merger(merger);
        Merged *merged = merged_of(merger, f, bit);
        merged->found_in |= bit;
        merged->severe_in[f->severity] |= bit;
        note_reading(merger, merged, f, bit);
        alternatives_add(&merged->notes, f->place_note, bit);
        if (f->verdict == VERDICT_BROKEN) {
            merged->broken_in |= bit;
        }
        if (finding_says_more(f, merged->finding)) {
            merged->finding = f;
        }
    }
}

/* ---- Telling them ---- */

/* Sentences that differ in numbers alone. */
typedef struct Group {
    Alternatives list;
    const Finding *finding; /* of the first */
    struct Group *next;
} Group;

static CaseSet cases_of(const Alternatives *list)
{
    CaseSet cases = 0;
    for (const Alternative *a = list->first; a != NULL; a = a->next) {
        cases |= a->cases;
    }
    return cases;
}

/* Whether one more text differs from the first in numbers alone; it stays with them then. */
static bool joins(Group *group, const char *text, CaseSet cases)
{
    Alternatives pair = {.outcome = group->list.outcome};
    Spread spread;
    alternatives_add(&pair, group->list.first->text, group->list.first->cases);
    alternatives_add(&pair, text, cases);
    if (pair.count > 1 && !alternatives_spread(&pair, &spread)) {
        return false;
    }
    alternatives_add(&group->list, text, cases);
    return true;
}

static void add_to_groups(const Merger *merger, Group **groups, const Finding *finding, const char *text, CaseSet cases)
{
    while (*groups != NULL && !joins(*groups, text, cases)) {
        groups = &(*groups)->next;
    }
    if (*groups == NULL) {
        *groups = ARENA_NEW(merger->outcome->arena, Group);
        **groups = (Group){.list = {.outcome = merger->outcome}, .finding = finding};
        alternatives_add(&(*groups)->list, text, cases);
    }
}

/* "`main` is rated 50 A but 60..64 A can run through it (least with bilge=a, most with bilge=f)" */
static const char *group_text(const Merger *merger, const Group *group, bool with_options)
{
    enum { LONGEST = 160 };
    if (group->list.count == 1) {
        return group->list.first->text;
    }
    Spread spread;
    alternatives_spread(&group->list, &spread);
    const char *least = alternatives_words(&group->list, spread.least->cases);
    const char *most = alternatives_words(&group->list, spread.most->cases);
    bool said = with_options && spread.least != spread.most && strlen(least) <= LONGEST && strlen(most) <= LONGEST;
    return said ? text_format(merger->outcome->arena, "%s (least with %s, most with %s)", spread.text, least, most) : spread.text;
}

/* Many that differ in numbers alone are told from the least to the greatest, as one. */
static const Reading *grouped(const Merger *merger, const Reading *readings)
{
    Group *groups = NULL;
    Reading *first = NULL, **end = &first;
    uint32_t count = 0;
    for (const Reading *r = readings; r != NULL; r = r->next) {
        count++;
    }
    if (count <= READINGS_MOST) {
        return readings;
    }
    for (const Reading *r = readings; r != NULL; r = r->next) {
        add_to_groups(merger, &groups, r->finding, r->text, r->cases);
    }
    for (const Group *g = groups; g != NULL; g = g->next) {
        *end = ARENA_NEW(merger->outcome->arena, Reading);
        **end = (Reading){.finding = g->finding, .text = group_text(merger, g, groups->next == NULL), .cases = cases_of(&g->list)};
        end = &(*end)->next;
    }
    return first;
}

static void tell_readings(const Merger *merger, const Merged *merged, Finding *f)
{
    const Reading *readings = grouped(merger, merged->readings);
    f->message = readings->next == NULL ? readings->text : readings_told(merger->outcome->arena, merger->options, f, readings);
}

/* The value and the limit that were compared, over all cases; they stand only where all cases compared the same. */
static void cover_values(const Merged *merged, Finding *f)
{
    for (const Reading *reading = merged->readings; reading != NULL; reading = reading->next) {
        const Finding *other = reading->finding;
        f->compared = f->compared && other->compared && f->unit.per == other->unit.per &&
                      f->unit.unit == other->unit.unit && f->money == other->money;
        if (f->compared) {
            f->value = interval_hull(f->value, other->value);
            f->limit = interval_hull(f->limit, other->limit);
        }
    }
}

static bool has_remedy(const Remedy *remedy, const char *text)
{
    while (remedy != NULL && strcmp(remedy->text, text) != 0) {
        remedy = remedy->next;
    }
    return remedy != NULL;
}

static CaseSet cases_with_remedy(const Merged *merged, const char *remedy)
{
    CaseSet cases = 0;
    for (const Reading *reading = merged->readings; reading != NULL; reading = reading->next) {
        cases |= has_remedy(reading->finding->remedies, remedy) ? reading->cases : 0;
    }
    return cases;
}

static void add_remedy(const Merger *merger, Remedy ***end, const char *text)
{
    **end = ARENA_NEW(merger->outcome->arena, Remedy);
    (**end)->text = text;
    *end = &(**end)->next;
}

static const char *remedy_with(const Merger *merger, const Finding *f, const char *text, CaseSet cases)
{
    const char *with = options_words(merger->options, f, cases);
    return with != NULL ? text_format(merger->outcome->arena, "%s (%s)", text, with) : text;
}

/* Many that differ in numbers alone are told by the least and the greatest of them. */
static void tell_group(const Merger *merger, const Finding *f, const Group *group, Remedy ***end)
{
    Spread spread;
    if (group->list.count > ALTERNATIVES_MOST && alternatives_spread(&group->list, &spread) && spread.least != spread.most) {
        const Alternative *least = spread.least, *most = spread.most;
        add_remedy(merger, end, text_format(merger->outcome->arena, "%s up to %s, as the options ask",
                                            remedy_with(merger, f, least->text, least->cases),
                                            remedy_with(merger, f, most->text, most->cases)));
        return;
    }
    for (const Alternative *a = group->list.first; a != NULL; a = a->next) {
        add_remedy(merger, end, remedy_with(merger, f, a->text, a->cases));
    }
}

/* What helps in every option stands as it is; what helps in some says in which. */
static void join_remedies(const Merger *merger, const Merged *merged, Finding *f)
{
    Remedy **end = &f->remedies;
    Alternatives all = {.outcome = merger->outcome};
    Group *groups = NULL;
    f->remedies = NULL;
    for (const Reading *reading = merged->readings; reading != NULL; reading = reading->next) {
        for (const Remedy *remedy = reading->finding->remedies; remedy != NULL; remedy = remedy->next) {
            alternatives_add(&all, remedy->text, cases_with_remedy(merged, remedy->text));
        }
    }
    for (const Alternative *a = all.first; a != NULL; a = a->next) {
        if (a->cases == merged->found_in) {
            add_remedy(merger, &end, a->text);
        } else {
            add_to_groups(merger, &groups, f, a->text, a->cases);
        }
    }
    for (const Group *group = groups; group != NULL; group = group->next) {
        tell_group(merger, f, group, &end);
    }
}

static bool has_depend(const Depend *list, const Depend *depend)
{
    while (list != NULL && !(list->prop == depend->prop && entity_symbol(list->entity) == entity_symbol(depend->entity) &&
                             strcmp(list->text, depend->text) == 0)) {
        list = list->next;
    }
    return list != NULL;
}

/* What leaves it open in any option stays among what it hangs on. */
static void join_depends(const Merger *merger, const Merged *merged, Finding *f)
{
    Depend **end = &f->depends;
    f->depends = NULL;
    for (const Reading *reading = merged->readings; reading != NULL; reading = reading->next) {
        for (const Depend *depend = reading->finding->depends; depend != NULL; depend = depend->next) {
            if (!has_depend(f->depends, depend)) {
                *end = ARENA_NEW(merger->outcome->arena, Depend);
                **end = *depend;
                (*end)->next = NULL;
                end = &(*end)->next;
            }
        }
    }
}

/*
 * In which cases it is what it can be at worst: broken, if it is that anywhere, and as severe as in any of them. Where it
 * is found in others, it is less there.
 */
static CaseSet worst_in(const Merged *merged)
{
    CaseSet severe = merged->severe_in[merged->finding->severity];
    return severe & merged->broken_in ? severe & merged->broken_in : severe;
}

/* Turns what the cases said into one finding: broken only if it is broken in each, and equally so, else open. */
static void settle(const Merger *merger, Merged *merged)
{
    /* A copy: each case keeps its own findings, as it was judged. */
    Finding *f = ARENA_NEW(merger->outcome->arena, Finding);
    *f = *merged->finding;
    merged->finding = f;
    if (merged->notes.count > 1) { /* the same sentence may stand beside other numbers */
        f->place_note = alternatives_remark(&merged->notes);
    }
    if (merged->readings->next != NULL) {
        tell_readings(merger, merged, f);
        cover_values(merged, f);
        join_remedies(merger, merged, f);
        join_depends(merger, merged, f);
    }
    f->found_in = merged->found_in;
    f->broken_in = merged->broken_in;
    memcpy(f->severe_in, merged->severe_in, sizeof f->severe_in);
    f->combinations = 0;
    for (CaseSet bits = merged->found_in; bits != 0; bits &= bits - 1) {
        f->combinations++;
    }
    CaseSet worst = worst_in(merged);
    if (f->rule->of_choice || f->rule->of_all_cases || worst == options_all_cases(merger->outcome)) {
        return;
    }
    f->verdict = VERDICT_OPEN;
    bool in_all = merged->found_in == options_all_cases(merger->outcome);
    options_tell(merger->options, f, in_all ? worst : merged->found_in, in_all);
}

/* Whether a choice is decided for this run alone: what only its other options use then looks as if nothing used it. */
static bool is_trial(const Outcome *outcome)
{
    for (uint32_t i = 0; i < outcome->spec->choice_count; i++) {
        if (outcome->spec->choices[i].by_command) {
            return true;
        }
    }
    return false;
}

/* A rule that speaks of the whole spec has not seen it where an option was left out. */
static bool speaks_too_soon(const Outcome *outcome, const Finding *f, CaseSet found_in, bool trial)
{
    return f->rule->of_all_cases && (trial || found_in != outcome_cases_with(outcome, f->subject));
}

static void take_findings(Outcome *outcome, const Judge *judge)
{
    bool trial = is_trial(outcome);
    uint32_t kept = 0;
    Finding **end = &outcome->findings;
    for (Finding *f = judge->first; f != NULL; f = f->next) {
        if (!speaks_too_soon(outcome, f, options_all_cases(outcome), trial)) {
            *end = f;
            end = &f->next;
            kept++;
        }
    }
    *end = NULL;
    outcome->findings = findings_sort(outcome->arena, outcome->findings, kept);
}

void findings_merge(Outcome *outcome)
{
    if (outcome->case_count == 1) {
        take_findings(outcome, outcome->cases[0].judge);
        return;
    }
    Merger merger = {.outcome = outcome, .options = outcome->options};
    for (uint32_t i = 0; i < outcome->case_count; i++) {
        merge_case(&merger, i);
    }
    merged_join_twins(outcome->arena, merger.list, merger.count, options_all_cases(outcome));
    Finding **end = &outcome->findings;
    for (uint32_t i = 0; i < merger.count; i++) {
        if (merger.list[i].found_in != 0) {
            settle(&merger, &merger.list[i]);
        }
    }
    /* Linked only now: until here the lists of the cases were still walked through `next`. */
    uint32_t kept = 0;
    bool trial = is_trial(outcome);
    for (uint32_t i = 0; i < merger.count; i++) {
        const Merged *merged = &merger.list[i];
        if (merged->found_in == 0 || speaks_too_soon(outcome, merged->finding, merged->found_in, trial)) {
            continue;
        }
        *end = merged->finding;
        end = &merged->finding->next;
        kept++;
    }
    *end = NULL;
    outcome->findings = findings_sort(outcome->arena, outcome->findings, kept);
}
