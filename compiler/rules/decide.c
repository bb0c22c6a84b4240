/* See decide.h. */
#include "rules/decide.h"

#include "figures/boat.h"
#include "model/status.h"
#include "rules/settle.h"

#include <stdlib.h>
#include <string.h>

typedef struct Gathering {
    Arena *arena;
    const Outcome *outcome;
    Decision **list;
    uint32_t count, capacity;
    Decision **by_symbol; /* of properties: by the name of their thing */
    Decision *others;     /* choices, and what goes by a word alone */
    uint32_t symbol_count;
    uint32_t *jobs; /* by the name of a thing: how many jobs to do need it */
    const Entity **first_job;
} Gathering;

static Decision *add_decision(Gathering *gathering, Decision decision)
{
    if (gathering->count == gathering->capacity) {
        uint32_t capacity = gathering->capacity ? gathering->capacity * 2 : 32;
        gathering->list = arena_grow(gathering->arena, gathering->list, gathering->capacity * sizeof(Decision *),
                                     capacity * sizeof(Decision *));
        gathering->capacity = capacity;
    }
    Decision *added = ARENA_NEW(gathering->arena, Decision);
    *added = decision;
    added->place = gathering->count;
    gathering->list[gathering->count++] = added;
    return added;
}

/* What is not ordered yet */

static void add_thing(Decision *decision, const Case *in, const Entity *entity)
{
    Interval term;
    if (boat_term(in->figures, entity, FIGURE_STILL_TO_BUY, &term) == TERM_KNOWN && term.high > 0.0) {
        decision->money = decision->to_order ? interval_add(decision->money, term) : term;
        decision->to_order = true;
    }
    if (boat_term(in->figures, entity, FIGURE_LONGEST_LEAD, &term) == TERM_KNOWN && term.high > 0.0) {
        decision->lead_s = decision->has_lead ? interval_max(decision->lead_s, term) : term;
        decision->has_lead = true;
    }
}

static void add_jobs(const Gathering *gathering, Decision *decision, Symbol thing)
{
    decision->jobs += gathering->jobs[thing];
    decision->first_job = decision->first_job != NULL ? decision->first_job : gathering->first_job[thing];
}

/* Jobs are read in the first case: they name things, and names are the same in all. */
static void count_jobs(Gathering *gathering)
{
    const Model *model = outcome_first(gathering->outcome)->model;
    for (const Entity *job = model->first_of_kind[KIND_JOB]; job != NULL; job = job->next_of_kind) {
        const Property *needs = entity_property(job, PROP_JOB_NEEDS);
        bool done = entity_states(job, PROP_JOB_DONE) || job->flags & ENTITY_BROKEN;
        for (uint16_t i = 0; needs != NULL && i < needs->count && !done; i++) {
            const Entity *thing = value_entity(&needs->values[i]);
            if (thing != NULL && gathering->jobs[thing->name]++ == 0) {
                gathering->first_job[thing->name] = job;
            }
        }
    }
}

/* Choices */

static const Case *case_of(const Outcome *outcome, uint32_t choice, uint32_t option)
{
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        if (outcome->cases[c].model->choices[choice].chosen == (int32_t)option) {
            return &outcome->cases[c];
        }
    }
    return NULL;
}

/* What one option brings, added to what is known of the others. */
static void add_option(const Gathering *gathering, Decision *decision, const Case *in, NodeId option, bool first)
{
    Decision of_option = {.jobs = 0};
    for (uint32_t i = 0; i < in->model->entity_count; i++) {
        const Entity *entity = in->model->entities[i];
        if (entity->option == option) {
            add_thing(&of_option, in, entity);
            add_jobs(gathering, &of_option, entity->name);
        }
    }
    decision->to_order = decision->to_order || of_option.to_order;
    decision->money = first ? of_option.money : interval_hull(decision->money, of_option.money);
    if (of_option.has_lead) {
        decision->lead_s =
            decision->has_lead ? interval_hull(decision->lead_s, of_option.lead_s) : of_option.lead_s;
        decision->has_lead = true;
    }
    if (of_option.jobs > decision->jobs) {
        decision->jobs = of_option.jobs;
        decision->first_job = of_option.first_job;
    }
}

static void gather_choices(Gathering *gathering)
{
    const Spec *spec = gathering->outcome->spec;
    for (uint32_t i = 0; i < spec->choice_count; i++) {
        const Choice *choice = &spec->choices[i];
        if (choice->picked >= 0 || choice->option_count < 2) {
            continue;
        }
        Decision *decision = add_decision(
            gathering, (Decision){.choice = choice,
                                  .in = outcome_first(gathering->outcome),
                                  .name = str_copy(gathering->arena, symbols_text(spec->symbols, choice->name)),
                                  .next_of_name = gathering->others});
        gathering->others = decision;
        for (uint32_t o = 0; o < choice->option_count; o++) {
            const Case *in = case_of(gathering->outcome, i, o);
            if (in != NULL) {
                add_option(gathering, decision, in, choice->options[o].node, o == 0);
            }
        }
    }
}

/* Ranges, bounds and holes */

/* Of a property; of the cables that several `feeds` of one thing lead through each has its own, by its name. */
static Decision *find_decision(const Gathering *gathering, Symbol thing, PropId prop, const char *name)
{
    bool by_name = props[prop].owner == KIND_FEEDS;
    Decision *decision = gathering->by_symbol[thing];
    while (decision != NULL && (decision->prop != prop || (by_name && strcmp(decision->name, name) != 0))) {
        decision = decision->next_of_name;
    }
    return decision;
}

bool decide_is_of_thing(PropId prop)
{
    static const PropId laid_out[] = {PROP_LOAD_USE,     PROP_WATER_HEATER_USE, PROP_GAS_APPLIANCE_USE, PROP_HOSE_RUN,     PROP_HOSE_RISE,
                                      PROP_HOSE_BENDS,   PROP_BILGE_PUMP_LIFT,
                                      PROP_EXHAUST_RUN, PROP_EXHAUST_BENDS, PROP_EXHAUST_LIFT, PROP_FUEL_LINE_RUN, PROP_COMMON_AT,
                                      PROP_EXHAUST_RISER_ABOVE_WATERLINE};
    for (size_t i = 0; i < sizeof laid_out / sizeof laid_out[0]; i++) {
        if (laid_out[i] == prop) {
            return false;
        }
    }
    return props[prop].owner != KIND_FEED && props[prop].owner != KIND_FEEDS;
}

bool decide_is_on_label(PropId prop)
{
    return decide_is_of_thing(prop) && prop != PROP_COMMON_COUNT && prop != PROP_COMMON_SPARE && prop != PROP_COMMON_LEAD &&
           prop != PROP_COMMON_QUOTE;
}

/* What a thing costs, weighs or how long it takes is learned, not decided: it can be ordered all the same. */
bool decide_before_order(PropId prop)
{
    return prop != PROP_COMMON_PRICE && prop != PROP_COMMON_QUOTE && prop != PROP_COMMON_MASS &&
           prop != PROP_COMMON_LEAD;
}

static Decision *add_property(Gathering *gathering, const Case *in, const Entity *entity, PropId prop,
                              const Property *property, const char *name)
{
    Decision *decision = add_decision(
        gathering,
        (Decision){.in = in,
                   .entity = entity,
                   .prop = prop,
                   .property = property,
                   .name = name,
                   .next_of_name = gathering->by_symbol[entity->name]});
    gathering->by_symbol[entity->name] = decision;
    if (property != NULL && decide_before_order(prop)) {
        add_thing(decision, in, entity);
        add_jobs(gathering, decision, entity->name);
    }
    return decision;
}

/* Also the properties in a property's own block: those of a `feeds`. */
static void gather_block(Gathering *gathering, const Case *in, const Entity *entity, const Block *block)
{
    for (uint32_t i = 0; i < block->count; i++) {
        const Property *property = &block->properties[i];
        PropId prop = (PropId)property->id;
        const char *name = property->flags & PROPERTY_UNDECIDED ? property_name(gathering->arena, in->model, entity, NULL, prop, property) : NULL;
        if (name != NULL && find_decision(gathering, entity->name, prop, name) == NULL) {
            add_property(gathering, in, entity, prop, property, name);
        }
        const Value *last = property->flags & PROPERTY_NAMES && property->count > 0 ? &property->values[property->count - 1] : NULL;
        if (last != NULL && last->kind == VALUE_BLOCK && last->u.block != NULL) {
            gather_block(gathering, in, entity, last->u.block);
        }
    }
}

static void gather_ranges(Gathering *gathering)
{
    for (uint32_t c = 0; c < gathering->outcome->case_count; c++) {
        const Case *in = &gathering->outcome->cases[c];
        for (uint32_t e = 0; e < in->model->entity_count; e++) {
            const Entity *entity = in->model->entities[e];
            if (!(entity->flags & (ENTITY_DROPPED | ENTITY_DOUBTFUL))) {
                gather_block(gathering, in, entity, &entity->block);
            }
        }
    }
}

/* Findings */

/* A choice, or what no thing of the spec is yet: "alarm". */
static Decision *named(Gathering *gathering, const char *name)
{
    Decision *decision = gathering->others;
    while (decision != NULL && strcmp(decision->name, name) != 0) {
        decision = decision->next_of_name;
    }
    if (decision == NULL) {
        decision = add_decision(gathering, (Decision){.in = outcome_first(gathering->outcome),
                                                      .name = name,
                                                      .next_of_name = gathering->others});
        gathering->others = decision;
    }
    return decision;
}

/*
 * The property that it hangs on, of the thing itself. Not so a hose that leads to a toilet: "head.hose" hangs on the `to` of
 * something that is not stated. NULL: it is none.
 */
static const char *own_name(const Gathering *gathering, const Depend *depend)
{
    const Model *model = outcome_first(gathering->outcome)->model;
    if (props[depend->prop].owner == KIND_FEEDS) { /* which of several `feeds`, the finding knows */
        return text_format(gathering->arena, "%.*s", (int)strcspn(depend->text, " "), depend->text);
    }
    const char *own = property_name(gathering->arena, model, depend->entity, NULL, depend->prop, NULL);
    return strncmp(depend->text, own, strlen(own)) == 0 ? own : NULL;
}

/* Which decision a finding hangs on there; one more for what is not stated. */
static Decision *decision_of(Gathering *gathering, const Depend *depend)
{
    const char *own = depend->entity != NULL && depend->prop != PROP_NONE ? own_name(gathering, depend) : NULL;
    if (own == NULL) {
        return named(gathering, depend->text);
    }
    Decision *there = find_decision(gathering, depend->entity->name, depend->prop, own);
    return there != NULL ? there
                         : add_property(gathering, outcome_first(gathering->outcome), depend->entity,
                                        depend->prop, NULL, own);
}

static void count_finding(Decision *decision, const Finding *finding)
{
    uint32_t *count = finding->subject != NULL && finding->subject->kind == KIND_GOAL ? &decision->goals
                      : finding->severity == SEVERITY_FAULT                           ? &decision->faults
                      : finding->severity == SEVERITY_WARNING                         ? &decision->warnings
                                                                                      : &decision->advice;
    (*count)++;
}

/* Where a hole decides it whatever the rest turns out to be, the rest holds nothing up. */
static bool holds_up_finding(const Finding *finding, const Depend *depend)
{
    const Settle *cause = settle_cause(finding);
    return cause == NULL || strncmp(cause->input, depend->text, strlen(depend->text)) == 0;
}

static void gather_findings(Gathering *gathering)
{
    for (const Finding *f = gathering->outcome->findings; f != NULL; f = f->next) {
        for (const Depend *d = f->verdict == VERDICT_OPEN && f->waiver == NULL ? f->depends : NULL; d != NULL;
             d = d->next) {
            if (holds_up_finding(f, d)) {
                count_finding(decision_of(gathering, d), f);
            }
        }
    }
}

/* The order */

static int more_first(double a, double b)
{
    return a > b ? -1 : a < b ? 1 : 0;
}

static double waiting(bool any, Interval value)
{
    return any ? value.high : 0.0;
}

/* How long a job has to wait for it once it is decided, where that is long: nothing else is lost sooner than a season. */
static double awaited(const Decision *d)
{
    static const double long_s = 8.0 * 7.0 * SECONDS_A_DAY; /* a choice of this program */
    return d->jobs > 0 && d->has_lead && d->lead_s.high >= long_s ? d->lead_s.high : 0.0;
}

static int compare_decisions(const void *left, const void *right)
{
    const Decision *a = *(Decision *const *)left;
    const Decision *b = *(Decision *const *)right;
    const int steps[] = {
        more_first(a->faults, b->faults),
        more_first(a->goals, b->goals),
        more_first(awaited(a), awaited(b)),
        more_first(a->warnings, b->warnings),
        more_first(a->jobs, b->jobs),
        more_first(waiting(a->has_lead, a->lead_s), waiting(b->has_lead, b->lead_s)),
        more_first(waiting(a->to_order, a->money), waiting(b->to_order, b->money)),
        more_first(a->advice, b->advice),
        more_first(b->place, a->place),
    };
    size_t i = 0;
    while (steps[i] == 0 && i + 1 < sizeof steps / sizeof steps[0]) {
        i++;
    }
    return steps[i];
}

static bool holds_up(const Decision *d)
{
    return d->faults + d->goals + d->warnings + d->advice + d->jobs > 0 || d->to_order || d->has_lead;
}

const Decisions *decide_compute(Arena *arena, const Outcome *outcome)
{
    Gathering gathering = {.arena = arena, .outcome = outcome};
    gathering.symbol_count = outcome_first(outcome)->model->symbol_count;
    for (uint32_t c = 1; c < outcome->case_count; c++) {
        uint32_t symbols = outcome->cases[c].model->symbol_count;
        gathering.symbol_count = symbols > gathering.symbol_count ? symbols : gathering.symbol_count;
    }
    gathering.by_symbol = ARENA_ARRAY(arena, Decision *, gathering.symbol_count);
    gathering.jobs = ARENA_ARRAY(arena, uint32_t, gathering.symbol_count);
    gathering.first_job = ARENA_ARRAY(arena, const Entity *, gathering.symbol_count);
    count_jobs(&gathering);
    gather_choices(&gathering);
    gather_ranges(&gathering);
    gather_findings(&gathering);
    if (gathering.count > 1) {
        qsort(gathering.list, gathering.count, sizeof(Decision *), compare_decisions);
    }
    Decisions *decisions = ARENA_NEW(arena, Decisions);
    *decisions = (Decisions){.list = gathering.list, .count = gathering.count};
    for (uint32_t i = 0; i < gathering.count; i++) {
        decisions->holding += holds_up(gathering.list[i]);
    }
    return decisions;
}

/* Words */

const char *decide_stands(Arena *arena, const Outcome *outcome, const Decision *decision)
{
    if (decision->choice == NULL) {
        return decision->property == NULL
                   ? "not stated"
                   : str_copy(arena, value_written(decision->in->model, decision->property));
    }
    Buf text;
    buf_init(&text, arena);
    const Choice *choice = decision->choice;
    for (uint32_t o = 0; o < choice->option_count; o++) {
        const char *before = o == 0 ? "" : o + 1 == choice->option_count ? " or " : ", ";
        buf_format(&text, "%s%.*s", before, STR_ARG(symbols_text(outcome->spec->symbols, choice->options[o].name)));
    }
    return text.text;
}

static void write_count(Buf *to, uint32_t count, const char *what)
{
    if (count > 0) {
        buf_format(to, "%s%u %s%s", to->length > 0 ? ", " : "", (unsigned)count, what, count == 1 ? "" : "s");
    }
}

static void write_quantity(Buf *to, const Decision *decision, Interval value, UnitPair unit, bool money)
{
    Figure shown = {.low = value.low, .high = value.high, .state = STATE_KNOWN, .unit = unit, .money = money};
    figure_write(to, decision->in->figures, &shown);
}

static void write_waiting(Buf *to, const Decision *decision)
{
    const char *between = to->length > 0 ? "; " : "";
    if (decision->jobs > 0) {
        Str job = entity_name(decision->in->model, decision->first_job);
        buf_format(to, "%s`%.*s`", between, STR_ARG(job));
        if (decision->jobs > 1) {
            buf_format(to, " and %u more need it", (unsigned)(decision->jobs - 1));
        } else {
            buf_text(to, " needs it");
        }
        between = "; ";
    }
    if (decision->to_order) {
        buf_text(to, between);
        write_quantity(to, decision, decision->money, UNIT_ALONE(UNIT_NONE), true);
        buf_text(to, " to order");
        between = ", then ";
    }
    if (decision->has_lead) {
        buf_text(to, between);
        write_quantity(to, decision, decision->lead_s, UNIT_ALONE(UNIT_WEEK), false);
        buf_text(to, " until it comes");
    }
}

/* What is here is what it is: that is not decided but read off. */
static bool is_aboard_already(const Decision *decision)
{
    if (decision->entity == NULL || decision->property == NULL || !is_bought(decision->entity)) {
        return false;
    }
    Status status = thing_status(decision->entity);
    return (status == STATUS_HERE || status == STATUS_FITTED) && decide_is_on_label(decision->prop);
}

const char *decide_holds_up(Arena *arena, const Decision *decision)
{
    Buf text;
    buf_init(&text, arena);
    write_count(&text, decision->faults, "open fault");
    write_count(&text, decision->goals, "goal");
    write_count(&text, decision->warnings, "open warning");
    if (decision->advice > 0) {
        buf_format(&text, "%s%u open advice", text.length > 0 ? ", " : "", (unsigned)decision->advice);
    }
    write_waiting(&text, decision);
    if (is_aboard_already(decision)) {
        buf_format(&text, "%sit is here: read its label, or measure", text.length > 0 ? "; " : "");
    }
    return text.length > 0 ? text.text : "nothing that is known";
}
