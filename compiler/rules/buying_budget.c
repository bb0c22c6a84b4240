/*
 * Rule of the family rules_buying: everything that the boat costs, and what was paid in vain, against the owner's budget.
 */
#include "rules/ask.h"
#include "rules/buying.h"

#include "figures/boat.h"
#include "base/num.h"
#include "model/status.h"
#include "model/tax.h"

#include <math.h>

static const char *say_money(const Judge *judge, Interval amount)
{
    Side side = side_interval(amount, UNIT_ALONE(UNIT_NONE));
    side.money = true;
    return say_side(judge, side);
}

/* The budget that would do, in the currency in which it is written, rounded up to a hundredth of it. */
static const char *say_budget(const Judge *judge, const Entity *goal, double amount)
{
    const Property *budget = entity_property(goal, PROP_GOAL_BUDGET);
    Str currency;
    double written = amount * tax_as_written(judge->model, goal, budget, property_value(budget, 0), &currency);
    Buf text;
    buf_init(&text, judge->arena);
    num_write_fixed(&text, ceil(written * 100.0 - 1e-6) / 100.0, 2);
    buf_format(&text, " %.*s", STR_ARG(currency));
    return text.text;
}

/*
 * The first thing without a price that is not said to be fitted: it will cost something, for all that the spec says. NULL: none.
 * What was always aboard is `status fitted`, and costs nothing any more.
 */
static const Entity *first_unpriced(const Judge *judge)
{
    const Bought *bought = bought_aboard(judge);
    for (uint32_t i = 0; i < bought->count; i++) {
        const Entity *thing = bought->things[i];
        Status status = thing_status(thing);
        bool is_priced = entity_states(thing, PROP_COMMON_PRICE) || entity_states(thing, PROP_COMMON_QUOTE);
        if (!is_priced && status != STATUS_FITTED && status != STATUS_WAITING) {
            return thing;
        }
    }
    return NULL;
}

/* Lost, and nobody says what was paid for it: all of it may be gone, or nothing. */
static void leave_to_deposits(Judge *judge, Finding *finding)
{
    const Bought *bought = bought_aboard(judge);
    for (uint32_t i = 0; i < bought->count; i++) {
        if (is_lost_unsaid(bought->things[i])) {
            finding_left_open(judge, finding, bought->things[i], PROP_COMMON_DEPOSIT);
        }
    }
}

/* What stands without a price could cost any amount: what is to come, and what was paid for in vain. */
static void leave_to_prices(Judge *judge, Finding *finding, const Entity *unpriced, const Entity *sunk)
{
    if (unpriced != NULL) {
        finding_left_open(judge, finding, unpriced, PROP_COMMON_PRICE);
    }
    if (sunk != NULL && sunk->flags & ENTITY_DROPPED) {
        finding_left_open(judge, finding, sunk, PROP_COMMON_PRICE);
    } else if (sunk != NULL) { /* the model has no such thing */
        finding_hangs_on(judge, finding, judge->model->boat, PROP_NONE, "the price of what is not picked");
    }
}

/* What is spent is spent: what is still to buy can be left out, or bought for less. */
static void offer_dearest(Judge *judge, Finding *finding)
{
    const Bought *bought = bought_aboard(judge);
    const Entity *dearest = NULL;
    Interval most = point(0.0), term;
    for (uint32_t i = 0; i < bought->count && !judge->quiet; i++) {
        const Entity *thing = bought->things[i];
        bool asked = status_is_to_buy(thing_status(thing)) && (entity_states(thing, PROP_COMMON_PRICE) || entity_states(thing, PROP_COMMON_QUOTE));
        bool known = asked && boat_term(judge->figures, thing, FIGURE_STILL_TO_BUY, &term) == TERM_KNOWN && isfinite(term.high);
        if (known && term.low > most.low) {
            dearest = thing;
            most = term;
        }
    }
    if (dearest != NULL) {
        finding_remedy(judge, finding, "less to buy: the dearest that is not bought yet is `%s`, for %s", say_name(judge, dearest), say_money(judge, most));
    }
}

void judge_over_budget(Judge *judge, const Entity *goal)
{
    const Entity *boat = judge->model->boat;
    if (!entity_states(goal, PROP_GOAL_BUDGET) || boat == NULL) {
        return;
    }
    const Figure *cost = figure_of(judge, boat, FIGURE_COST);
    Span place = place_of(judge, goal, PROP_GOAL_BUDGET);
    Side budget = side_value(judge, goal, PROP_GOAL_BUDGET, 0);
    const Entity *unpriced = first_unpriced(judge);
    const Figure *vain = figure_of(judge, boat, FIGURE_PAID_IN_VAIN);
    const Figure *in_all = figure_of(judge, boat, FIGURE_COST_IN_ALL);
    const Entity *sunk = boat_vain_unpriced(judge->model);
    bool in_vain = vain != NULL && vain->state == STATE_KNOWN && vain->high > 0.0;
    Side sum = side_figure(in_all != NULL ? in_all : cost), costs = sum; /* what is in no sum of hers is gone all the same */
    costs.value.high = unpriced != NULL || sunk != NULL ? INFINITY : costs.value.high;
    Finding *finding = judge_at_most(judge, goal, place, costs, budget);
    if (finding == NULL) {
        return;
    }
    if (finding->verdict == VERDICT_OPEN) {
        leave_to_prices(judge, finding, unpriced, sunk);
        leave_to_deposits(judge, finding);
    }
    const char *more = cost->remark != NULL ? text_format(judge->arena, "; %s", cost->remark) : "";
    more = sunk == NULL ? more : text_format(judge->arena, "%s; what was paid for `%s`, %s, is not stated", more, say_name(judge, sunk),
                                             sunk->flags & ENTITY_DROPPED ? "which is dropped" : "of an option that is not picked");
    const char *with = !in_vain ? "" : text_format(judge->arena, " with %s for what is dropped or not picked", say_figure(judge, vain));
    if (finding->verdict == VERDICT_BROKEN) {
        finding_say(
            judge, finding, "everything costs %s%s, %s more than `%s` allows%s", say_side(judge, sum), with,
            say_money(judge, interval_subtract(sum.value, finding->limit)), say_name(judge, goal), more);
    } else {
        finding_say(judge, finding, "everything costs %s%s, and `%s` allows %s%s", say_side(judge, costs), with,
                    say_name(judge, goal), say_side(judge, budget), more);
    }
    const Figure *lost = figure_of(judge, boat, FIGURE_LOST_ON_RETURNS);
    bool any_lost = lost != NULL && lost->state == STATE_KNOWN && lost->high > 0.0;
    finding_here(judge, finding,
                 "%s bound by what is ordered, here or fitted, %s still to buy, %s of contingency on that%s",
                 say_figure(judge, figure_of(judge, boat, FIGURE_COMMITTED)),
                 say_figure(judge, figure_of(judge, boat, FIGURE_STILL_TO_BUY)),
                 say_figure(judge, figure_of(judge, boat, FIGURE_CONTINGENCY)),
                 !any_lost ? "" : text_format(judge->arena, ", %s lost on what went back or never came", say_figure(judge, lost)));
    if (isfinite(finding->value.high)) {
        finding_remedy(judge, finding, "budget %s", say_budget(judge, goal, finding->value.high));
    } else if (finding->verdict == VERDICT_BROKEN) {
        offer_dearest(judge, finding); /* a price or a bound more lowers no sum */
    } else if (unpriced != NULL || sunk != NULL) {
        finding_remedy(judge, finding, "the most that what has no price yet can cost, as in `price 80..120 %.*s`",
                       STR_ARG(judge->model->currency));
    } else {
        finding_remedy(judge, finding, "the most that may be wanted, or that each may cost, of what has no greatest `count` or `price`");
    }
}

void judge_refund_over(Judge *judge)
{
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *thing = judge->model->entities[i];
        Interval price;
        if (!is_bought(thing) || !entity_states(thing, PROP_COMMON_REFUNDED) || !entity_quantity(thing, PROP_COMMON_PRICE, 0, &price)) {
            continue;
        }
        Purchase purchase = purchase_of(thing);
        Side refunded = side_value(judge, thing, PROP_COMMON_REFUNDED, 0);
        Side paid = side_interval(interval_multiply(price, boat_pieces_paid(thing, &purchase)), UNIT_ALONE(UNIT_NONE));
        paid.money = true;
        Finding *finding = judge_at_most(judge, thing, place_of(judge, thing, PROP_COMMON_REFUNDED), refunded, paid);
        if (finding != NULL) {
            finding_say(judge, finding, "%s came back for `%s`, and %s was paid for it: what is over is in no sum and no budget",
                        say_side(judge, refunded), say_name(judge, thing), say_side(judge, paid));
            finding_remedy(judge, finding, "`price` with what it cost; what a sale brings beyond that, as so much more `budget`");
        }
    }
}
