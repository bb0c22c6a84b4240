/* See rule.h: the families in their order, running them, waivers, sorting. */
#include "rules/rule.h"

#include "rules/ask.h"
#include "rules/families.h"
#include "rules/upstream.h"

#include "model/status.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const RuleFamily *const rule_families[] = {
    /* clang-format off: one a line */
    &rules_wiring,
    &rules_network,
    &rules_bank,
    &rules_days,
    &rules_shore,
    &rules_mains,
    &rules_water,
    &rules_hot,
    &rules_pipes,
    &rules_hull,
    &rules_waste,
    &rules_siphon,
    &rules_bilge,
    &rules_fire,
    &rules_drive,
    &rules_propeller,
    &rules_fuel,
    &rules_passage,
    &rules_petrol,
    &rules_fittings,
    &rules_lights,
    &rules_data,
    &rules_form,
    &rules_slips,
    &rules_weight,
    &rules_service,
    &rules_buying,
    &rules_plan,
    &rules_whole,
    &rules_found,   /* behind all whose findings they speak of */
    &rules_waivers, /* last: they ask which waivers the others have left without use */
    /* clang-format on */
};
const size_t rule_family_count = sizeof rule_families / sizeof rule_families[0];

const Rule *rule_find(Str name)
{
    for (size_t f = 0; f < rule_family_count; f++) {
        for (size_t r = 0; r < rule_families[f]->count; r++) {
            if (str_is_row(name, rule_families[f]->rules[r].name)) {
                return &rule_families[f]->rules[r];
            }
        }
    }
    return NULL;
}

/*
 * What a rule finds by going by a mistake waits: a word, a name or a yes that could not be read is not one that was left out.
 * `last` is the last finding before the rule looked at something.
 */
static void drop_if_it_waits(Judge *judge, Finding *last)
{
    if (judge->last == last || !model_asked_wrong(judge->model)) {
        return;
    }
    for (const Finding *f = last != NULL ? last->next : judge->first; f != NULL; f = f->next) {
        judge->count--;
    }
    if (last != NULL) {
        last->next = NULL;
    } else {
        judge->first = NULL;
    }
    judge->last = last;
    judge_waiting(judge);
}

/* What is gathered once for all rules is asked for before any of them: it is no rule's own question. */
static void gather_first(Judge *judge)
{
    if (judge->model->wrong_count > 0) {
        upstream_of(judge);
        bought_aboard(judge);
        for (int which = SOURCES_DIRECT; which <= SOURCES_ALTERNATING; which++) {
            meetings_of(judge, (SourceClass)which);
        }
    }
}

/*
 * What a rule may be asked of, the first time and again: a thing aboard of one of its kinds, a feed between two that are aboard
 * and that has a cable of its own, the boat if there is one; by a basis that it belongs to.
 */
static bool is_of_basis(const Judge *judge, const Rule *rule)
{
    return rule->basis & (1 << judge->basis);
}

static bool asks_of_thing(const Rule *rule, const Entity *thing)
{
    bool of_kind = false;
    for (size_t k = 0; k < sizeof rule->kinds / sizeof rule->kinds[0] && !of_kind && rule->kinds[k] != KIND_NONE; k++) {
        of_kind = rule->kinds[k] == (KindId)thing->kind;
    }
    return of_kind && rule->judge != NULL && is_aboard(thing);
}

static bool has_rules(const Feed *feed)
{
    bool loop = (feed->subject->flags | feed->taker->flags) & ENTITY_LOOP;
    return !feed->shares && !feeds_by_starter_cable(feed) && !loop && is_aboard(feed->subject) && is_aboard(feed->taker);
}

/* One rule on one thing, or on one feed, or on the boat: the one way to run a rule. */
static void ask_of(Judge *judge, const Rule *rule, const Entity *thing, const Feed *feed)
{
    Finding *last = judge->last;
    judge->rule = rule;
    model_ask_anew(judge->model);
    if (feed != NULL) {
        rule->judge_feed(judge, feed);
    } else if (thing != NULL) {
        rule->judge(judge, thing);
    } else {
        rule->judge_boat(judge);
    }
    drop_if_it_waits(judge, last);
}

/* All rules of a family that look at feeds, one feed after the other: what they ask of it is near then. */
static void judge_feeds(Judge *judge, const RuleFamily *family)
{
    const Rule **asking = ARENA_ARRAY(judge->arena, const Rule *, family->count);
    size_t count = 0;
    for (size_t r = 0; r < family->count; r++) {
        if (family->rules[r].judge_feed != NULL && is_of_basis(judge, &family->rules[r])) {
            asking[count++] = &family->rules[r];
        }
    }
    for (uint32_t i = 0; i < judge->model->feed_count && count > 0; i++) {
        const Feed *feed = judge->model->feeds[i];
        if (has_rules(feed)) {
            judge_look_at_feed(judge, i);
            for (size_t r = 0; r < count; r++) {
                ask_of(judge, asking[r], NULL, feed);
            }
        }
    }
    judge_look_at_no_feed(judge);
}

static void judge_things(Judge *judge, const Rule *rule)
{
    for (size_t k = 0; k < sizeof rule->kinds / sizeof rule->kinds[0] && rule->kinds[k] != KIND_NONE; k++) {
        for (const Entity *e = judge->model->first_of_kind[rule->kinds[k]]; e != NULL; e = e->next_of_kind) {
            if (is_aboard(e)) {
                judge->looked_at = e;
                ask_of(judge, rule, e, NULL);
            }
        }
    }
    judge->looked_at = NULL;
}

static void judge_rule(Judge *judge, const Rule *rule)
{
    if (!is_of_basis(judge, rule)) {
        return;
    }
    if (rule->judge != NULL) {
        judge_things(judge, rule);
    }
    if (rule->judge_boat != NULL && judge->model->boat != NULL) {
        ask_of(judge, rule, NULL, NULL);
    }
}

/* What is in an option that is not picked is no thing of the model: a finding about it is the boat's, and names it. */
static bool is_of_left_out(const Model *model, const Waiver *waiver, const Finding *f)
{
    for (uint32_t i = 0; i < model->left_out_count && f->by_boat && f->matter != NULL; i++) {
        const Entity *thing = model->left_out[i];
        if (thing->name == waiver->subject && str_is(entity_name(model, thing), f->matter)) {
            return true;
        }
    }
    return false;
}

/* Sets aside what is waived, of what was found after `last` (NULL: of all); a waiver past its date sets nothing aside. */
static void apply_waivers(Judge *judge, const Finding *last)
{
    const Model *model = judge->model;
    for (Finding *f = last != NULL ? last->next : judge->first; f != NULL; f = f->next) {
        for (uint32_t w = 0; w < model->waiver_count && f->waiver == NULL; w++) {
            const Waiver *waiver = &model->waivers[w];
            bool on_it = waiver->subject == f->subject->name || is_of_left_out(model, waiver, f);
            if (!on_it || !str_is(waiver->rule, f->rule->name)) {
                continue;
            }
            judge->waiver_matches[w]++;
            if (!waiver->has_until || waiver->until >= judge->today) {
                f->waiver = waiver;
            }
        }
    }
}

/* A judge who has seen nothing yet. */
static Judge begin(Arena *arena, Arena *scratch, const Model *model, const Figures *figures, Basis basis, Date today)
{
    return (Judge){.arena = arena,
                   .scratch = scratch,
                   .model = model,
                   .figures = figures,
                   .survey = ARENA_NEW(arena, Survey),
                   .basis = basis,
                   .today = today,
                   .value = {NAN, NAN},
                   .limit = {NAN, NAN}};
}

Judge *rules_judge(Arena *arena, const Model *model, const Figures *figures, Basis basis, Date today)
{
    Judge *judge = ARENA_NEW(arena, Judge);
    *judge = begin(arena, arena_scratch(arena, 0), model, figures, basis, today);
    judge->waiver_matches = ARENA_ARRAY(arena, uint32_t, model->waiver_count + 1);
    gather_first(judge);
    const Finding *looked_at = NULL; /* the last that waivers were held against */
    for (size_t f = 0; f < rule_family_count; f++) {
        if (rule_families[f] == &rules_found || rule_families[f] == &rules_waivers) {
            apply_waivers(judge, looked_at);
            looked_at = judge->last;
        }
        judge_feeds(judge, rule_families[f]);
        for (size_t r = 0; r < rule_families[f]->count; r++) {
            judge_rule(judge, &rule_families[f]->rules[r]);
            arena_rewind(judge->scratch);
        }
    }
    judge->scratch = NULL;
    return judge;
}

Judge rules_begin_again(const Judge *first, Arena *scratch, const Figures *figures)
{
    Judge judge = begin(scratch, scratch, first->model, figures, first->basis, first->today);
    judge.quiet = true;
    gather_first(&judge);
    return judge;
}

bool rules_may_judge_again(const Judge *judge, const Rule *rule)
{
    return is_of_basis(judge, rule) && !rule->of_findings;
}

void rules_judge_again(Judge *judge, const Rule *rule, const Entity *looked_at, const Feed *looked_at_feed)
{
    bool asked = looked_at_feed != NULL ? rule->judge_feed != NULL && has_rules(looked_at_feed)
                 : looked_at != NULL    ? asks_of_thing(rule, looked_at)
                                        : rule->judge_boat != NULL && judge->model->boat != NULL;
    if (asked && rules_may_judge_again(judge, rule)) {
        judge->looked_at = looked_at;
        judge->looked_at_feed = looked_at_feed;
        ask_of(judge, rule, looked_at, looked_at_feed);
    }
}

static int compare_text(const char *a, const char *b)
{
    return strcmp(a != NULL ? a : "", b != NULL ? b : "");
}

static int compare_findings(const void *a, const void *b)
{
    const Finding *x = *(Finding *const *)a;
    const Finding *y = *(Finding *const *)b;
    if (x->place.start != y->place.start) {
        return x->place.start < y->place.start ? -1 : 1;
    }
    if (x->severity != y->severity) {
        return x->severity > y->severity ? -1 : 1;
    }
    int order = compare_text(x->rule->name, y->rule->name);
    return order != 0 ? order : compare_text(x->message, y->message);
}

Finding *findings_sort(Arena *arena, Finding *first, uint32_t count)
{
    if (count < 2) {
        return first;
    }
    Finding **list = ARENA_ARRAY(arena, Finding *, count);
    uint32_t n = 0;
    for (Finding *f = first; f != NULL; f = f->next) {
        list[n++] = f;
    }
    qsort(list, n, sizeof(Finding *), compare_findings);
    for (uint32_t i = 0; i + 1 < n; i++) {
        list[i]->next = list[i + 1];
    }
    list[n - 1]->next = NULL;
    return list[0];
}
