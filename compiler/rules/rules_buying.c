/*
 * Rules of buying: money against the budget, what is late or has gone quiet, what cannot be had again.
 *
 * Dates are compared as they stand, with today as the caller says; money by judge_*.
 */
#include "rules/ask.h"
#include "rules/buying.h"
#include "rules/families.h"

#include "rules/dates.h"

#include "model/status.h"

#include <math.h>

/* Six weeks; common practice, no source. */
enum { SILENT_DAYS = 42 };

/*
 * The next thing that is bought and not dropped, from number *at on; NULL at the end. A status that is a mistake has to be
 * mended first.
 */
static const Entity *next_bought(Judge *judge, uint32_t *at)
{
    const Bought *bought = bought_aboard(judge);
    while (*at < bought->count) {
        const Entity *thing = bought->things[(*at)++];
        if (thing_status(thing) != STATUS_WAITING) {
            return thing;
        }
        judge_waiting(judge);
    }
    return NULL;
}

static void each_bought(Judge *judge, void (*look)(Judge *, const Entity *))
{
    uint32_t at = 0;
    for (const Entity *thing = next_bought(judge, &at); thing != NULL; thing = next_bought(judge, &at)) {
        look(judge, thing);
    }
}

/* Whether it is ordered and not here: SURE, or PERHAPS where that hangs on how many are wanted. */
typedef enum UnderWay { NOT, PERHAPS, SURE } UnderWay;

static UnderWay under_way(const Entity *thing, Purchase *purchase)
{
    if (thing->purchase == NULL) {
        return NOT; /* nothing is said of it */
    }
    *purchase = purchase_of(thing);
    return purchase_is_under_way(purchase) || purchase_awaits_spares(purchase) ? SURE : purchase_may_go_on(purchase) ? PERHAPS : NOT;
}

/* Broken; or left open by how many are wanted, as stated or by the layout. */
static Finding *judge_order(Judge *judge, const Entity *thing, const Property *line, UnderWay sure)
{
    static const PropId by_layout[] = {PROP_BANK_SERIES, PROP_BANK_PARALLEL, PROP_SOLAR_SERIES, PROP_SOLAR_PARALLEL};
    Span place = property_span(judge->model, line);
    if (sure == SURE) {
        return judge_broken(judge, thing, place);
    }
    Finding *finding = NULL;
    if (entity_states(thing, PROP_COMMON_COUNT)) {
        return judge_open(judge, thing, place, thing, PROP_COMMON_COUNT);
    }
    for (size_t i = 0; i < sizeof by_layout / sizeof by_layout[0]; i++) {
        if (props[by_layout[i]].owner != thing->kind || !entity_states(thing, by_layout[i])) {
            continue;
        }
        if (finding == NULL) {
            finding = judge_open(judge, thing, place, thing, by_layout[i]);
        } else {
            finding_rests_on(judge, finding, thing, by_layout[i]);
        }
    }
    return finding != NULL ? finding : judge_open(judge, thing, place, thing, PROP_COMMON_COUNT);
}

static const char *if_more(UnderWay sure)
{
    return sure == SURE ? "" : ", if more are wanted than came";
}

/* late */

static bool job_is_done(const Entity *job)
{
    return entity_states(job, PROP_JOB_DONE) || job->flags & ENTITY_BROKEN;
}

/* Where a job that is still to do says that it needs a thing. */
typedef struct Need {
    const Entity *job;
    const Value *value;
    struct Need *next; /* of the same thing */
} Need;

/* What is needed, by Entity.index, in the order of the jobs. */
static Need **find_needs(const Judge *judge)
{
    const Model *model = judge->model;
    Need **first = ARENA_ARRAY(judge->scratch, Need *, model->entity_count);
    Need **last = ARENA_ARRAY(judge->scratch, Need *, model->entity_count);
    for (const Entity *job = model->first_of_kind[KIND_JOB]; job != NULL; job = job->next_of_kind) {
        const Property *needs = job_is_done(job) ? NULL : entity_property(job, PROP_JOB_NEEDS);
        for (uint16_t i = 0; needs != NULL && i < needs->count; i++) {
            const Value *value = property_value(needs, i);
            if (value_entity(value) == NULL) {
                continue;
            }
            Need *need = ARENA_NEW(judge->scratch, Need);
            *need = (Need){.job = job, .value = value};
            uint32_t thing = value_entity(value)->index;
            *(last[thing] != NULL ? &last[thing]->next : &first[thing]) = need;
            last[thing] = need;
        }
    }
    return first;
}

/* "; `fit-panel` and 2 more need it"; nothing where no job does. Notes the first few places. */
static const char *say_jobs(Judge *judge, Finding *finding, const Need *first)
{
    enum { MOST_PLACES = 3 };
    uint32_t count = 0;
    for (const Need *need = first; need != NULL; need = need->next) {
        if (count++ < MOST_PLACES) {
            finding_note(judge, finding, value_span(judge->model, need->value), "`%s` needs it",
                         say_name(judge, need->job));
        }
    }
    if (count < 2) {
        return count == 0 ? "" : text_format(judge->arena, "; `%s` needs it", say_name(judge, first->job));
    }
    return text_format(judge->arena, "; `%s` and %u more need it", say_name(judge, first->job),
                       (unsigned)(count - 1));
}

static const char *say_part_here(const Judge *judge, const Purchase *purchase)
{
    if (purchase->first_arrival == NULL || !interval_is_point(purchase->count)) {
        return "";
    }
    return text_format(judge->arena, " (%d of %d are here)", (int)purchase->arrived,
                       (int)(purchase->count.low + purchase->spare.low));
}

static void say_late(Judge *judge, Finding *finding, const Entity *thing, const Purchase *purchase,
                     const Need *needs)
{
    const char *name = say_name(judge, thing);
    const char *part = finding->verdict == VERDICT_BROKEN ? say_part_here(judge, purchase) : if_more(PERHAPS);
    const char *jobs = purchase_awaits_spares(purchase) ? "; what is still to come are spares" : say_jobs(judge, finding, needs);
    const Property *promise = purchase->last_promise;
    if (promise == NULL) {
        finding_say(judge, finding, "`%s` is delayed, and no day is promised%s%s", name, part, jobs);
    } else if (property_date(promise) < judge->today) {
        finding_say(judge, finding, "`%s` is %s late: promised for %s%s%s", name,
                    say_days(judge, judge->today - property_date(promise)),
                    say_date(judge, property_date(promise)), part, jobs);
    } else {
        finding_say(judge, finding, "`%s` is delayed, and promised for %s now%s%s", name,
                    say_date(judge, property_date(promise)), part, jobs);
    }
    if (purchase->first_promise != promise) {
        finding_note(judge, finding, property_span(judge->model, purchase->first_promise),
                     "the first promise");
    }
    finding_remedy(judge, finding,
                   "`arrived` with its day once it is here, or a `promised` line with the new day");
}

static void look_late(Judge *judge, const Entity *thing, const Need *needs)
{
    Purchase purchase;
    UnderWay sure = under_way(thing, &purchase);
    if (sure == NOT) {
        return;
    }
    if (purchase.unread) {
        judge_waiting(judge);
        return;
    }
    if (closed_line(judge, entity_reference(thing, PROP_COMMON_SUPPLIER)) != NULL) {
        judge_gives_way(judge); /* no promise of theirs counts: `supplier-closed` tells what is right */
        return;
    }
    const Property *promise = purchase.last_promise;
    bool past = promise != NULL && property_date(promise) < judge->today;
    if (!past && purchase.status != STATUS_DELAYED) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_order(judge, thing, promise != NULL ? promise : purchase.stated, sure);
    say_late(judge, finding, thing, &purchase, needs);
}

static void judge_late(Judge *judge)
{
    Need **needs = find_needs(judge);
    uint32_t at = 0;
    for (const Entity *thing = next_bought(judge, &at); thing != NULL; thing = next_bought(judge, &at)) {
        look_late(judge, thing, needs[thing->index]);
    }
}

/* silent */

static void later(const Property **latest, const Property *line)
{
    if (line != NULL && (*latest == NULL || property_date(line) > property_date(*latest))) {
        *latest = line;
    }
}

static void look_silent(Judge *judge, const Entity *thing)
{
    Purchase purchase;
    UnderWay sure = under_way(thing, &purchase);
    /* What is promised is on time or late, and what is delayed is late: told by `late`. */
    if (sure == NOT || purchase.last_promise != NULL || purchase.status == STATUS_DELAYED) {
        return;
    }
    if (purchase.unread) {
        judge_waiting(judge);
        return;
    }
    const Property *news = purchase.ordered;
    later(&news, purchase.last_event);
    later(&news, purchase.last_arrival);
    later(&news, purchase.last_fitting);
    if (news == NULL) {
        judge_unmeasured(judge, thing, PROP_COMMON_ORDERED);
        return;
    }
    int days = judge->today - property_date(news);
    if (days < SILENT_DAYS) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_order(judge, thing, news, sure);
    finding_say(judge, finding, "nothing was heard of `%s` for %s, and no day is promised%s",
                say_name(judge, thing), say_days(judge, days), if_more(sure));
    finding_here(judge, finding, "the last that is known");
    finding_remedy(judge, finding,
                   "a question to the supplier, and its answer as a `promised` or an `event` line");
}

static void judge_silent(Judge *judge)
{
    each_bought(judge, look_silent);
}

/* promised-not-ordered */

/* A promise stands for an order; of an offer that names a day there is none, and the thing is on no list any more. */
static void look_not_ordered(Judge *judge, const Entity *thing)
{
    if (thing->purchase == NULL || thing->purchase->last_promise == NULL) {
        return;
    }
    Purchase p = purchase_of(thing);
    if (p.unread) {
        judge_waiting(judge);
        return;
    }
    if (p.closed != NULL) {
        judge_gives_way(judge);
        return;
    }
    if (p.ordered != NULL || p.stated != NULL || p.first_arrival != NULL || p.first_fitting != NULL) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, thing, property_span(judge->model, p.last_promise));
    finding_say(judge, finding, "`%s` is promised for %s, and nothing says that it was ordered: it is taken to be, and is on no shopping list",
                say_name(judge, thing), say_date(judge, property_date(p.last_promise)));
    finding_remedy(judge, finding, "`ordered` with its day");
    finding_remedy(judge, finding, "`status wanted`, while it is only offered for that day");
}

static void judge_not_ordered(Judge *judge)
{
    each_bought(judge, look_not_ordered);
}

/* no-parts */

static void look_no_parts(Judge *judge, const Entity *thing)
{
    int discontinued = entity_yes(thing, PROP_COMMON_DISCONTINUED);
    if (discontinued == -2) {
        judge_waiting(judge);
    }
    if (discontinued != 1) {
        return;
    }
    Side spare = side_value(judge, thing, PROP_COMMON_SPARE, 0);
    Finding *finding = judge_at_least(judge, thing, place_of(judge, thing, PROP_COMMON_DISCONTINUED), spare,
                                      side_number(1.0, UNIT_ALONE(UNIT_NONE)));
    if (finding == NULL) {
        return;
    }
    finding_say(judge, finding,
                finding->verdict == VERDICT_OPEN
                    ? "`%s` is no longer made, and it is not decided whether a spare is carried"
                    : "`%s` is no longer made, and no spare is carried",
                say_name(judge, thing));
    finding_remedy(judge, finding, "spare 1");
}

static void judge_no_parts(Judge *judge)
{
    each_bought(judge, look_no_parts);
}

static void judge_read_off(Judge *judge)
{
    each_bought(judge, look_read_off);
}

/* bought-before-chosen */

static const char *say_symbol(const Judge *judge, Symbol symbol)
{
    return str_copy(judge->arena, symbols_text(judge->model->tree->symbols, symbol));
}

/* The line that says that money is bound. */
static Span bound_at(const Judge *judge, const Entity *thing, const Purchase *p)
{
    const Property *line = p->stated          ? p->stated
                           : p->first_fitting ? p->first_fitting
                           : p->first_arrival ? p->first_arrival
                           : p->ordered       ? p->ordered
                                              : p->last_promise;
    return line != NULL ? property_span(judge->model, line) : place_of_name(judge, thing);
}

static void look_bought_before_chosen(Judge *judge, const Entity *thing)
{
    const Choice *choice = thing->choice;
    if (choice == NULL || choice->picked >= 0) {
        return;
    }
    if (!status_is_committed(thing_status(thing))) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, thing, bound_at(judge, thing, thing->purchase));
    finding_say(judge, finding, "`%s` is %s, but `%s` is not decided", say_name(judge, thing),
                status_word(thing_status(thing)), say_symbol(judge, choice->name));
    finding_note(judge, finding, tree_span(judge->model->tree, choice->node + 2), "nothing is picked here");
    finding_remedy(judge, finding, "pick %s in `%s`", say_symbol(judge, choice->options[choice->chosen].name),
                   say_symbol(judge, choice->name));
}

/* bought-not-picked */

static void look_bought_not_picked(Judge *judge, const Entity *thing)
{
    Purchase purchase = purchase_of(thing);
    if (thing->choice->picked < 0) {
        return; /* `bought-before-chosen` tells of those */
    }
    if (purchase.status == STATUS_WAITING) {
        judge_waiting(judge);
        return;
    }
    if (!status_is_committed(purchase.status)) {
        return; /* as if it were not written */
    }
    Finding *finding = judge_broken(judge, NULL, bound_at(judge, thing, &purchase));
    Side price = side_value(judge, thing, PROP_COMMON_PRICE, 0);
    finding_matter(finding, str_copy(judge->arena, entity_name(judge->model, thing)));
    const char *money = side_is_known(price) ? text_format(judge->arena, ": the %s for %s are in no sum but `paid-in-vain`", say_side(judge, price),
                                                           purchase.count.high > 1.0 ? "each" : "it")
                                             : "";
    finding_say(judge, finding, "`%s` is %s, and its option is not picked%s", say_name(judge, thing), status_word(purchase.status), money);
    finding_remedy(judge, finding, "`status returned` and `refunded` with what came back, once it has gone back or is sold; or its option picked");
}

static void judge_bought_not_picked(Judge *judge)
{
    for (uint32_t i = 0; i < judge->model->left_out_count; i++) {
        look_bought_not_picked(judge, judge->model->left_out[i]);
    }
}

static void judge_bought_before_chosen(Judge *judge)
{
    each_bought(judge, look_bought_before_chosen);
}

/* The table */

#define STOVE(purchase) EXAMPLE_BOAT "item stove { price 480.00 EUR; " purchase " }\n"
#define STOVE_FOR(price)                                         \
    EXAMPLE_BOAT                                                 \
    "goal purse \"What there is to spend\" { budget 500 EUR }\n" \
    "item stove { price " price " }\n"
#define SOLD_FOR(refunded) EXAMPLE_BOAT "item winch { price 200 EUR; arrived 2020-05-01; status dropped; refunded " refunded " }\n"
#define COOKING(pick)                                                                             \
    EXAMPLE_BOAT                                                                                  \
    "choice cooking \"What do we cook on?\" {\n"                                                  \
    "  option gas { item stove { price 480.00 EUR; ordered 2026-11-20; promised 2027-06-01 } }\n" \
    "  option spirit { item stove { price 190.00 EUR } }\n" pick "}\n"

#define SOLD_BY(SUPPLIERS, SAYS) EXAMPLE_BOAT SUPPLIERS "\nitem stove { price 480.00 EUR; " SAYS " }\n"

static const Rule rules[] = {
    {
        .name = "over-budget",
        .severity = SEVERITY_WARNING,
        .title = "everything together costs no more than the goal allows",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "What is ordered, here or fitted is bound; what is still to buy grows while it is bought, "
               "which is what the contingency is for. Both together, what a return has cost, and what was paid for things that are dropped or of an option that is "
               "not picked (`paid-in-vain`), are held against the budget; where nothing is picked yet, with each option what the others have cost. Things without a price are not in the sum, and come on top: "
               "while one that is not `fitted`, or that was paid for in vain, has none, the goal stays open.",
        .breaks = STOVE_FOR("620.00 EUR"),
        .holds = STOVE_FOR("480.00 EUR"),
        .open = STOVE_FOR("450..620 EUR"),
        .kinds = {KIND_GOAL},
        .judge = judge_over_budget,
    },
    {
        .name = "refund-over",
        .severity = SEVERITY_ADVICE,
        .title = "no more came back for a thing than was paid for it",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "What is lost on a thing is what was paid less what came back, and never less than nothing: a gain would make up in the sums for "
               "a loss elsewhere. What is sold out of the old boat, or for more than it cost, is money to spend: a greater `budget`.",
        .breaks = SOLD_FOR("250 EUR"),
        .holds = SOLD_FOR("150 EUR"),
        .open = SOLD_FOR("150..250 EUR"),
        .judge_boat = judge_refund_over,
    },
    {
        .name = "late",
        .severity = SEVERITY_WARNING,
        .title = "what is ordered comes by the day that was promised last",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "A promise that has passed is no date to plan with. A new one from the supplier, or another "
               "supplier, has to be found before the jobs that wait for the thing stand still.",
        .breaks = STOVE("ordered 2001-03-01; promised 2001-05-01"),
        .holds = STOVE("ordered 2001-03-01; promised 2001-05-01; arrived 2001-04-27"),
        .open = STOVE("count 1..2; ordered 2001-03-01; promised 2001-05-01; arrived 2001-04-27 of 1"),
        .judge_boat = judge_late,
    },
    {
        .name = "supplier-closed",
        .severity = SEVERITY_WARNING,
        .title = "nothing is waited for, or bought, from a supplier who has closed, and what is lost says what was paid",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "Who is bankrupt sends nothing, and what was paid in advance is a claim among many. What is on order there, and of which nothing has come, counts as "
               "`lost` from that day on: it is bought again, and no day that was promised counts. Its `deposit`, less what was `refunded`, is part of what everything "
               "costs (`lost-on-returns`); `price` is what the other one costs. Where neither is stated all of it may be gone or nothing.",
        .breaks = SOLD_BY("supplier quay { closed 2001-05-01 }", "supplier quay; ordered 2001-03-01"),
        .holds = SOLD_BY("supplier quay { closed 2001-05-01 }\nsupplier yard { lead 3 week }", "supplier yard; status lost; deposit 200 EUR"),
        .open = SOLD_BY("supplier yard { lead 3 week }", "supplier yard; status lost"),
        .judge_boat = judge_supplier_closed,
    },
    {
        .name = "silent",
        .severity = SEVERITY_WARNING,
        .title = "nothing is on order for six weeks without a promise or any news",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "An order that nobody speaks of is lost more often than it is under way. Six weeks is long "
               "enough to ask.",
        .breaks = STOVE("ordered 2001-03-01"),
        .holds = STOVE("ordered 2001-03-01; arrived 2001-04-27"),
        .open = STOVE("count 1..2; ordered 2001-03-01; arrived 2001-04-27 of 1"),
        .judge_boat = judge_silent,
    },
    {
        .name = "promised-not-ordered",
        .severity = SEVERITY_ADVICE,
        .title = "what is promised says that it was ordered",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "A day that is promised is taken as an order, for most are. An offer names a day too, and what nobody has ordered "
               "then stands on no shopping list, and never comes.",
        .breaks = STOVE("promised 2999-05-01"),
        .holds = STOVE("ordered 2001-03-01; promised 2999-05-01"),
        .never_open = "a line says it or none does",
        .judge_boat = judge_not_ordered,
    },
    {
        .name = "no-parts",
        .severity = SEVERITY_WARNING,
        .title = "of what is no longer made, a spare is carried",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "When it breaks there is nothing to be had for it, and what stands in its place may need "
               "other fittings, cables or holes.",
        .breaks = STOVE("discontinued yes"),
        .holds = STOVE("discontinued yes; spare 1"),
        .open = STOVE("discontinued yes; spare 0..1"),
        .judge_boat = judge_no_parts,
    },
    {
        .name = "read-off",
        .severity = SEVERITY_ADVICE,
        .title = "of what is here nothing is left open that its label says",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "A range was right while the thing was still to be chosen. Now it is one value, and figures and findings go on being wide "
               "for want of a look at the label, the papers or the bill. Told of a `?`, and of a range whose high end is half as much "
               "again as its low end or more; not of what is said to be measured or labelled.",
        .breaks = STOVE("arrived 2001-03-01; mass 5..15 kg"),
        .holds = STOVE("arrived 2001-03-01; mass 10..12 kg"),
        .never_open = "a thing is here or it is not",
        .judge_boat = judge_read_off,
    },
    {
        .name = "bought-before-chosen",
        .severity = SEVERITY_WARNING,
        .title = "no money is bound by an option while its choice is open",
        .basis = ON_BOTH,
        .of_choice = true,
        .source = "common practice, no source",
        .why = "What is bought decides the choice, whatever else speaks for the other options. Either it "
               "is decided, and the spec says so, or the thing goes back while it still can. With each of the other options its price is paid in vain.",
        .breaks = COOKING(""),
        .holds = COOKING("  pick gas\n"),
        .never_open = "a thing is ordered or it is not, and a choice is picked or it is not",
        .judge_boat = judge_bought_before_chosen,
    },
    {
        .name = "bought-not-picked",
        .severity = SEVERITY_WARNING,
        .title = "no money is bound by an option that is not picked",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "With the other option the thing has gone from every list and every sum, and stands in the shed all the same. It can "
               "go back or be sold while somebody still wants it; what does not come back is held against the budget.",
        .breaks = COOKING("  pick spirit\n"),
        .holds = COOKING("  pick gas\n"),
        .never_open = "a thing is ordered or it is not, and a choice is picked or it is not",
        .judge_boat = judge_bought_not_picked,
    },
};
const RuleFamily rules_buying = RULE_FAMILY("Buying and money", rules);
