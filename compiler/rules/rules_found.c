/*
 * Rules that speak of what the other rules have found: what is bought already and has come to break a rule, what rests on
 * assumptions. They run behind all others, waivers applied, read only the list of findings, and add to it.
 */
#include "rules/families.h"

#include "rules/dates.h"

#include "model/status.h"

/* What counts: broken, a fault, and not set aside. */
static bool is_fault(const Finding *f)
{
    return f->verdict == VERDICT_BROKEN && f->severity == SEVERITY_FAULT && f->waiver == NULL;
}

/* bought-and-broken */

/* Faults of one thing that is bought. */
typedef struct Broken {
    const Finding *first;
    uint32_t count;
} Broken;

/* Rules about buying, the plan and the spec as a whole do not say that a thing is wrong for its place. */
static bool speaks_of_things(const Rule *rule)
{
    static const RuleFamily *const others[] = {&rules_buying, &rules_plan, &rules_whole, &rules_weight};
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        if (rule >= others[i]->rules && rule < others[i]->rules + others[i]->count) {
            return false;
        }
    }
    return true;
}

static bool is_received(const Entity *thing)
{
    if (thing->purchase == NULL) {
        return false; /* nothing is said of it */
    }
    Purchase purchase = purchase_of(thing);
    bool here = purchase.status == STATUS_HERE || purchase.status == STATUS_FITTED;
    return is_bought(thing) && here && !purchase_may_go_on(&purchase);
}

static void tell_bought(Judge *judge, const Entity *thing, const Broken *broken)
{
    Purchase purchase = purchase_of(thing);
    const Property *line = purchase.last_fitting    ? purchase.last_fitting
                           : purchase.last_arrival ? purchase.last_arrival
                                                   : purchase.stated;
    Span place = line != NULL ? property_span(judge->model, line) : place_of_name(judge, thing);
    Finding *finding = judge_broken(judge, thing, place);
    const char *more = broken->count > 1 ? text_format(judge->arena, " and %u more", (unsigned)(broken->count - 1)) : "";
    finding_say(judge, finding, "`%s` is %s, and now breaks `%s`%s", say_name(judge, thing),
                status_word(purchase.status), broken->first->rule->name, more);
    finding_note(judge, finding, broken->first->place, "%s", broken->first->message);
    finding_remedy(judge, finding, "what is around it, made to fit it again");
    finding_remedy(judge, finding, "status returned, and another one");
}

static void judge_bought_and_broken(Judge *judge)
{
    const Model *model = judge->model;
    Broken *of = ARENA_ARRAY(judge->arena, Broken, model->entity_count);
    for (const Finding *f = judge->first; f != NULL; f = f->next) {
        if (!is_fault(f) || f->by_boat || !is_received(f->subject) || !speaks_of_things(f->rule)) {
            continue;
        }
        Broken *broken = &of[f->subject->index];
        broken->first = broken->count++ == 0 ? f : broken->first;
    }
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *thing = model->entities[i];
        if (of[i].count > 0) {
            tell_bought(judge, thing, &of[i]);
        } else if (is_received(thing)) {
            judge_holds(judge);
        }
    }
}

/* assumption-heavy */

/* A finding about a cable says what it assumes of it; from so many on it is said once for all. */
enum { NAMES_MOST = 6, PLACES_MOST = 3, SAID_THEMSELVES = 3 };

/* The assumptions of all that counts, each once. */
typedef struct Assumptions {
    const Depend *list[64];
    uint32_t count;
    bool more; /* than the list has room for */
    uint32_t findings;
    bool beyond_itself; /* more than what each of a few findings says of itself anyway */
    const Finding *first[PLACES_MOST];
} Assumptions;

static bool is_known(const Assumptions *all, const Depend *depend)
{
    for (uint32_t i = 0; i < all->count; i++) {
        if (all->list[i]->entity == depend->entity && all->list[i]->prop == depend->prop) {
            return true;
        }
    }
    return false;
}

static void note_assumed(Assumptions *all, const Finding *f)
{
    if (all->findings < PLACES_MOST) {
        all->first[all->findings] = f;
    }
    all->findings++;
    all->beyond_itself = all->beyond_itself || all->findings >= SAID_THEMSELVES;
    for (const Depend *d = f->assumed; d != NULL; d = d->next) {
        all->beyond_itself = all->beyond_itself || d->slot == 0;
    }
    for (const Depend *d = f->assumed; d != NULL && !all->more; d = d->next) {
        bool known = is_known(all, d);
        all->more = !known && all->count == sizeof all->list / sizeof all->list[0];
        if (!known && !all->more) {
            all->list[all->count++] = d;
        }
    }
}

/* "`lamps.insulation`, `house.usable` and 3 more" */
static const char *say_assumed(const Judge *judge, const Assumptions *all)
{
    Buf names;
    buf_init(&names, judge->arena);
    for (uint32_t i = 0; i < all->count && i < NAMES_MOST; i++) {
        buf_format(&names, "%s`%s`", i > 0 ? ", " : "", all->list[i]->text);
    }
    if (all->count > NAMES_MOST) {
        buf_format(&names, " and %s%u more", all->more ? "more than " : "", (unsigned)(all->count - NAMES_MOST));
    }
    return names.text;
}

static void judge_assumption_heavy(Judge *judge)
{
    Assumptions all = {.count = 0};
    for (const Finding *f = judge->first; f != NULL; f = f->next) {
        bool goal = f->verdict == VERDICT_BROKEN && f->waiver == NULL && f->subject->kind == KIND_GOAL;
        if ((is_fault(f) || goal) && f->assumed != NULL) {
            note_assumed(&all, f);
        }
    }
    if (all.findings == 0 || !all.beyond_itself) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, judge->model->boat, place_of_name(judge, judge->model->boat));
    finding_say(judge, finding, "%u %s on what is assumed, not stated: %s", (unsigned)all.findings,
                all.findings == 1 ? "fault or missed goal rests" : "faults and missed goals rest",
                say_assumed(judge, &all));
    for (uint32_t i = 0; i < all.findings && i < PLACES_MOST; i++) {
        finding_note(judge, finding, all.first[i]->place, "`%s`", all.first[i]->rule->name);
    }
    finding_remedy(judge, finding, "state or measure these, the first one first: what is found may then be no more, or be sure");
}

/* The table */

#define DRAIN(seacock, facts)                                                                                     \
    EXAMPLE_BOAT "through-hull drain { bore 38 mm; height -0.2 m; seacock " seacock "; reach yes; material bronze; " \
                 "backing yes; " facts " }\n"
#define WATER(usable)                                                  \
    EXAMPLE_BOAT                                                       \
    "day anchored { water 12 l per person; shore 0 h; engine 0 h }\n"  \
    "tank fresh { holds fresh; capacity 100 l; " usable " }\n"          \
    "goal quiet \"Four days at anchor\" { endure 4 d on anchored }\n"

static const char as_found[] = "it speaks of what is broken; what may still be is told, open, by the rule itself";

static const Rule rules[] = {
    {
        .name = "bought-and-broken",
        .severity = SEVERITY_FAULT,
        .title = "what is here or fitted still fits where it belongs",
        .basis = ON_BOTH,
        .of_findings = true,
        .source = "common practice, no source",
        .why = "While a thing is on paper a fault costs a line of text. Once it is paid for and aboard, each later "
               "change of what is around it is held against it: then either that change goes, or money does, and "
               "the sooner that is seen the more can still be sent back. It counts faults of rules about the thing "
               "itself, not waived.",
        .breaks = DRAIN("no", "arrived 2001-04-27"),
        .holds = DRAIN("yes", "arrived 2001-04-27"),
        .never_open = as_found,
        .judge_boat = judge_bought_and_broken,
    },
    {
        .name = "assumption-heavy",
        .of_assumptions = true,
        .severity = SEVERITY_ADVICE,
        .title = "faults and missed goals rest on what the spec states",
        .basis = ON_BOTH,
        .of_findings = true,
        .source = "common practice, no source",
        .why = "What is left out is assumed, on the cautious side where there is one. A fault that rests on that may be "
               "none: a tank may give more of what it holds than is usual. Each assumption is tried at half and at twice its "
               "value, a temperature 15 degrees off, insulation at 105 C: named are those with which a fault would be "
               "none; where there are none, nothing is said. What only says how a spec is read (one of each, nothing runs) is "
               "no assumption.",
        .breaks = WATER(""),
        .holds = WATER("usable 95 %"),
        .never_open = as_found,
        .judge_boat = judge_assumption_heavy,
    },
};
const RuleFamily rules_found = RULE_FAMILY("What the findings mean together", rules);
