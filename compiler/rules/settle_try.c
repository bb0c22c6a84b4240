/* See settle_try.h. */
#include "rules/settle_try.h"

#include <math.h>
#include <string.h>

/* The same thing of another case; NULL if that has none. */
static Entity *same_thing(const Model *model, const Entity *entity)
{
    return entity != NULL && entity->name < model->symbol_count ? model->by_symbol[entity->name] : NULL;
}

static const Feed *same_feed(const Model *model, const Feed *feed)
{
    const Entity *subject = feed != NULL ? same_thing(model, feed->subject) : NULL;
    const Feed *other = subject == NULL ? NULL : feed->maker ? subject->gives : subject->fed;
    while (other != NULL && (other->maker != feed->maker || entity_symbol(other->giver) != entity_symbol(feed->giver) ||
                             entity_symbol(other->taker) != entity_symbol(feed->taker))) {
        other = feed->maker ? other->next_of_giver : other->next;
    }
    return other;
}

/* Judging again */

static Judge quiet_judge(const Try *try, const TryCase *c, const Figures *figures)
{
    const Finding *f = try->finding;
    Judge judge = rules_begin_again(c->in->judge, try->settler->scratch, figures);
    judge.compared = f->by_boat ? NULL : same_thing(c->in->model, f->subject);
    judge.comparison = c->comparison;
    judge.quiet = !try->listens;
    judge.wanted = same_thing(c->in->model, f->at);
    return judge;
}

static bool is_same(const Try *try, const Finding *now)
{
    const Finding *f = try->finding;
    const OptionCases *options = try->settler->outcome->options;
    bool place = try->put_in || options_place(options, now->place) == options_place(options, f->place);
    return place && finding_same_thing(now, f);
}

/* What is found of the same thing at other places, such as another line of it. */
static uint32_t count_others(const Try *try, const Judge *judge)
{
    uint32_t count = 0;
    for (const Finding *now = judge->first; now != NULL; now = now->next) {
        count += finding_same_thing(now, try->finding) && !is_same(try, now);
    }
    return count;
}

static bool is_besides(const Finding *now, const Finding *f)
{
    return entity_symbol(now->subject) == entity_symbol(f->subject) &&
           (entity_symbol(now->at) != entity_symbol(f->at) || !finding_same_matter(now, f));
}

/* What is found of the same subject in other matters: "holds" is no word for a value that brings more of it. */
static uint32_t count_besides(const Try *try, const Judge *judge)
{
    const Finding *f = try->finding;
    uint32_t count = 0;
    for (const Finding *now = judge->first; now != NULL; now = now->next) {
        count += is_besides(now, f);
    }
    return count;
}

Told told_as(const Finding *finding, Severity severity)
{
    static const Told others[] = {
        [SEVERITY_ADVICE] = TOLD_ADVICE, [SEVERITY_WARNING] = TOLD_WARNING, [SEVERITY_FAULT] = TOLD_FAULT};
    return severity == finding->severity ? TOLD_BROKEN : others[severity];
}

/* Whether the trial came to the comparison that made the finding; so it is taken to be where none did. */
static bool was_compared(const TryCase *c, const Judge *judge)
{
    return c->comparison == 0 || judge->judged >= c->comparison;
}

/* Broken in another matter, and as grave or graver: where one is new, the finding may be gone because that one speaks first. */
static uint32_t count_graver(const Try *try, const Judge *judge)
{
    const Finding *f = try->finding;
    uint32_t count = 0;
    for (const Finding *now = judge->first; now != NULL; now = now->next) {
        count += now->verdict == VERDICT_BROKEN && now->severity >= f->severity && is_besides(now, f);
    }
    return count;
}

/* Where there are more of the same at other places than before, it was found again, and tells of another place. */
static Told tell(const Try *try, const TryCase *c, const Judge *judge)
{
    const Finding *worst = NULL;
    bool moved = count_others(try, judge) > c->others;
    for (const Finding *now = judge->first; now != NULL; now = now->next) {
        bool same = is_same(try, now) || (moved && finding_same_thing(now, try->finding));
        if (same && now->verdict == VERDICT_OPEN) {
            return TOLD_NOTHING;
        }
        worst = same && (worst == NULL || now->severity > worst->severity) ? now : worst;
    }
    if (worst == NULL) {
        bool hidden = !was_compared(c, judge) && count_graver(try, judge) > c->graver;
        return hidden || count_besides(try, judge) > c->besides ? TOLD_NOTHING : TOLD_HOLDS;
    }
    return told_as(try->finding, worst->severity);
}

/* The comparison that made it; where a rule makes several, the margins of the others say nothing of this one. */
static uint32_t which_comparison(const Try *try, const Judge *judge)
{
    const Finding *now = judge->first;
    while (now != NULL && !(is_same(try, now) && now->compared)) {
        now = now->next;
    }
    return now != NULL ? now->comparison : 0;
}

static void keep_margins(Try *try, const Judge *judge)
{
    try->worst = judge->value.low - judge->limit.high;
    try->best = judge->value.high - judge->limit.low;
}

static void spend(Settler *settler, uint64_t cost)
{
    settler->work -= cost < settler->work ? cost : settler->work;
}

/* What is not judged, waits, or is left to another finding is no word that the rule holds. */
static uint32_t left_unsaid(const Judge *judge)
{
    return judge->unjudged + judge->waiting + judge->given_way;
}

static const char *what_is_said(const Try *try, const Judge *judge)
{
    const Finding *now = judge->first;
    while (now != NULL && !is_same(try, now)) {
        now = now->next;
    }
    return now != NULL ? text_format(try->settler->outcome->arena, "%s", now->message) : NULL;
}

/* All that is told in money follows a rate. */
static void also_money(Figures *figures)
{
    for (int p = PROP_NONE + 1; p < PROP_COUNT; p++) {
        if (strstr(props[p].shape, "Q(money)") != NULL) {
            figures_also(figures, (PropId)p);
        }
    }
}

static Told judge_case(Try *try, const TryCase *c)
{
    const Case *in = c->in;
    Figures *figures = figures_again(try->settler->scratch, in->figures, try->prop, try->put_in);
    if (try->prop == PROP_BOAT_RATE) {
        also_money(figures);
    }
    for (uint32_t i = 0; i < try->beside_count; i++) {
        figures_also(figures, try->beside[i]);
    }
    Judge judge = quiet_judge(try, c, figures);
    rules_judge_again(&judge, try->finding->rule, c->looked_at, c->looked_at_feed);
    keep_margins(try, &judge);
    try->said = try->listens ? what_is_said(try, &judge) : NULL;
    try->chose = try->chose || figures_choose_again(figures);
    spend(try->settler, in->model->entity_count + 1u + SETTLE_WORK_OF_A_SIZE * figures->trace->sizes_tried);
    return left_unsaid(&judge) > c->unjudged ? TOLD_NOTHING : tell(try, c, &judge);
}

/* With what is set in its trial. */
static Told judge_one(Try *try, const TryCase *c)
{
    Told told = judge_case(try, c);
    arena_rewind(try->settler->scratch);
    return told;
}

const char *try_said(Try *try, double value)
{
    try->listens = true;
    trial_set_range(&try->cases[0].trial, value, value);
    judge_one(try, &try->cases[0]);
    try->listens = false;
    return try->said;
}

static bool less_severe(const Finding *finding, Told told)
{
    return told == TOLD_ADVICE || (told == TOLD_WARNING && finding->severity == SEVERITY_FAULT);
}

static const Tried *remembered(const Try *try, uint32_t number, double low, double high)
{
    uint32_t count = try->tried_count < TRIED_MOST ? try->tried_count : TRIED_MOST;
    for (uint32_t i = 0; i < count; i++) {
        const Tried *before = &try->tried[i];
        if (before->low == low && before->high == high && before->number == number) {
            return before;
        }
    }
    return NULL;
}

/* With that range; what was asked lately is remembered. */
static Told judge_range(Try *try, uint32_t number, double low, double high)
{
    const Tried *before = remembered(try, number, low, high);
    if (before != NULL) {
        try->worst = before->worst;
        try->best = before->best;
        return before->told;
    }
    trial_set_range(&try->cases[number].trial, low, high);
    Told told = judge_one(try, &try->cases[number]);
    try->moves = number == 0 ? fmax(try->moves, try_moved(try)) : try->moves;
    told = told > TOLD_BROKEN ? less_severe(try->finding, told) ? TOLD_NOTHING : TOLD_BROKEN : told;
    try->tried[try->tried_count++ % TRIED_MOST] = (Tried){number, told, low, high, try->worst, try->best};
    return told;
}

/* What all that are asked say together: of that range, or for NULL of what is set in their trials. */
static Told judge_all(Try *try, const Interval *range)
{
    Told all = TOLD_NOTHING;
    double worst = NAN, best = NAN;
    for (uint32_t i = 0; i < try->asked; i++) {
        Told told = range != NULL ? judge_range(try, i, range->low, range->high) : judge_one(try, &try->cases[i]);
        try->worst = worst = fmin(worst, try->worst);
        try->best = best = fmax(best, try->best);
        if (told == TOLD_NOTHING || (i > 0 && told != all) || (told != TOLD_HOLDS && !try->all)) {
            return TOLD_NOTHING;
        }
        all = told;
    }
    return all;
}

bool try_known(Try *try, double low, double high)
{
    for (uint32_t i = 0; i < try->asked; i++) {
        if (remembered(try, i, low, high) == NULL) {
            return false;
        }
    }
    try_range(try, low, high);
    return true;
}

Told try_range(Try *try, double low, double high)
{
    return judge_all(try, &(Interval){low, high});
}

bool try_others(Try *try, double low, double high, Told told)
{
    bool same = true;
    for (uint32_t i = 1; i < try->case_count && same; i++) {
        same = judge_range(try, i, low, high) == told;
    }
    return same;
}

Told try_word(Try *try, Str word)
{
    for (uint32_t i = 0; i < try->case_count; i++) {
        try->cases[i].trial.value->kind = VALUE_WORD;
        try->cases[i].trial.value->u.word = word;
    }
    return judge_all(try, NULL);
}

Told try_yes(Try *try, bool yes)
{
    for (uint32_t i = 0; i < try->case_count; i++) {
        try->cases[i].trial.value->kind = VALUE_YES_NO;
        try->cases[i].trial.value->u.yes = yes;
    }
    return judge_all(try, NULL);
}

bool try_may(const Try *try)
{
    return try->settler->work > 0;
}

/* Whether a mistake hides what that finding was about: the thing itself, or what feeds it. */
static bool is_hidden(const Model *model, const Finding *finding)
{
    const Entity *thing = same_thing(model, finding->looked_at_feed != NULL ? finding->looked_at_feed->subject : finding->looked_at);
    if (thing == NULL || thing->flags & ENTITY_DROPPED) {
        return false;
    }
    bool no_feed = finding->looked_at_feed != NULL && same_feed(model, finding->looked_at_feed) == NULL;
    return thing->flags & ENTITY_BROKEN || (no_feed && model->wrong_count > 0);
}

bool case_is_judged(Settler *settler, const Finding *finding, const Case *in)
{
    if (is_hidden(in->model, finding)) {
        return false;
    }
    if (finding->rule->of_findings) {
        return in->judge->waiting == 0;
    }
    if (!rules_may_judge_again(in->judge, finding->rule)) {
        return false;
    }
    const Entity *looked_at = same_thing(in->model, finding->looked_at);
    const Feed *feed = same_feed(in->model, finding->looked_at_feed);
    bool is_there = (finding->looked_at == NULL || looked_at != NULL) &&
                    (finding->looked_at_feed == NULL || feed != NULL);
    if (!is_there) {
        return true; /* nothing of that kind to find fault with */
    }
    Try try = {.settler = settler, .finding = finding};
    TryCase c = {.in = in};
    Judge judge = quiet_judge(&try, &c, in->figures);
    rules_judge_again(&judge, finding->rule, looked_at, feed);
    arena_rewind(settler->scratch);
    return left_unsaid(&judge) == 0;
}

/* Laying the input open */

static bool begin_case(Try *try, const Case *in, Spot spot)
{
    const Finding *f = try->finding;
    TryCase *c = &try->cases[try->case_count];
    Entity *entity = same_thing(in->model, spot.entity);
    *c = (TryCase){.in = in,
                   .looked_at = same_thing(in->model, f->looked_at),
                   .looked_at_feed = same_feed(in->model, f->looked_at_feed)};
    bool is_there = is_aboard(entity) && entity->kind == spot.entity->kind;
    if (!is_there || (f->looked_at != NULL && c->looked_at == NULL) ||
        (f->looked_at_feed != NULL && c->looked_at_feed == NULL) || !rules_may_judge_again(in->judge, f->rule)) {
        return false;
    }
    /* As it is: open there, or broken, or else it would not have the finding. */
    Judge judge = quiet_judge(try, c, in->figures);
    rules_judge_again(&judge, f->rule, c->looked_at, c->looked_at_feed);
    c->others = count_others(try, &judge);
    c->besides = count_besides(try, &judge);
    c->graver = count_graver(try, &judge);
    bool found = tell(try, c, &judge) != TOLD_HOLDS;
    c->comparison = which_comparison(try, &judge);
    c->unjudged = left_unsaid(&judge);
    if (c == try->cases) {
        keep_margins(try, &judge);
    }
    arena_rewind(try->settler->scratch);
    const Property *fallback = spot.statement == 0 ? model_default_in(in->model, &entity->block, spot.prop) : NULL;
    if (!found || !trial_begin(&c->trial, try->settler->outcome->arena, entity, spot.prop, fallback,
                               spot.statement, spot.slot)) {
        return false;
    }
    if (spot.prop == PROP_BOAT_RATE) {
        trial_with_money(&c->trial, try->settler->outcome->arena, in->model);
    }
    try->case_count++;
    return true;
}

bool try_begin(Try *try, Settler *settler, const Finding *finding, Spot spot)
{
    const Outcome *outcome = settler->outcome;
    *try = (Try){.settler = settler,
                 .finding = finding,
                 .prop = spot.prop,
                 .slot = spot.slot,
                 .put_in = spot.statement == 0,
                 .all = finding->combinations == outcome->case_count};
    try->cases = ARENA_ARRAY(outcome->arena, TryCase, finding->combinations);
    for (uint32_t i = 0; i < outcome->case_count; i++) {
        if (finding->found_in >> i & 1 && !begin_case(try, &outcome->cases[i], spot)) {
            return false;
        }
    }
    try->asked = try->case_count;
    try->worst_before = try->worst;
    try->best_before = try->best;
    return try->case_count > 0;
}

void try_end(Try *try)
{
    while (try->case_count > 0) {
        trial_end(&try->cases[--try->case_count].trial);
    }
}

static double shift(double before, double now)
{
    return before == now ? 0.0 : fabs(now - before);
}

double try_moved(const Try *try)
{
    double moved = fmax(shift(try->worst_before, try->worst), shift(try->best_before, try->best));
    return isnan(try->worst) || isnan(try->best) || isnan(moved) ? INFINITY : moved;
}
