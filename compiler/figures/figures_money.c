/*
 * Where the money is: what was offered, what is bound, what is paid and what is still to buy, for the boat and for each of her
 * systems; figures_boat.c has the sums that make her cost.
 *
 * The spec has no bills. What has come is taken as paid and what is on order as owed: a choice of this program. Of a thing that
 * has come in part, that part is paid.
 */
#include "figures/boat.h"

#include "model/status.h"

#include <math.h>

/* How many pieces of a thing count in a sum; none where it does not belong there. */
typedef Interval Pieces(Work *work, const Entity *entity);

static Interval committed(Work *work, const Entity *entity)
{
    return status_is_committed(thing_status(entity)) ? boat_pieces(work, entity) : point(0.0);
}

static Interval paid(Work *work, const Entity *entity)
{
    Status status = thing_status(entity);
    if (status == STATUS_HERE || status == STATUS_FITTED) {
        /* Of a number that is not decided only the least may have come: then with a greater one no more than that is paid. */
        Purchase purchase = purchase_of(entity);
        Interval pieces = boat_pieces(work, entity);
        bool all = purchase.stated != NULL || fmax(purchase.arrived, purchase.fitted) >= purchase.count.high;
        return all ? pieces : (Interval){fmin(pieces.low, purchase.arrived), pieces.high};
    }
    return status_is_committed(status) ? point(purchase_of(entity).arrived) : point(0.0);
}

static Interval to_buy(Work *work, const Entity *entity)
{
    return status_is_to_buy(thing_status(entity)) ? boat_pieces(work, entity) : point(0.0);
}

static Interval quoted(Work *work, const Entity *entity)
{
    bool offer = !entity_states(entity, PROP_COMMON_PRICE) && entity_states(entity, PROP_COMMON_QUOTE);
    return offer ? to_buy(work, entity) : point(0.0);
}

static const struct {
    FigureId id;
    Pieces *pieces;
    bool of_boat; /* her own is recorded here too */
    const char *formula;
} sums[] = {
    {FIGURE_QUOTED, quoted, true, "sum of quote x (count + spare), of what is still to buy"},
    {FIGURE_COMMITTED, committed, false, "sum of price x (count + spare)"},
    {FIGURE_PAID, paid, true, "sum of price x what has come"},
    {FIGURE_STILL_TO_BUY, to_buy, false, "sum of price x (count + spare)"},
};
enum { SUM_COUNT = sizeof sums / sizeof sums[0] };

static bool is_in(const Entity *entity, FigureScope scope)
{
    return scope == SCOPE_WHOLE || entity->system == scope;
}

static Figure *record(Work *work, FigureId id, FigureScope scope, Interval value, const char *formula)
{
    Figure *figure = work_record(work, id, work->model->boat, NULL, value, formula);
    figure->scope = (uint8_t)scope;
    figure->money = true;
    return figure;
}

static bool has_price(const Model *model, FigureScope scope)
{
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *entity = model->entities[i];
        bool priced = entity_states(entity, PROP_COMMON_PRICE) || entity_states(entity, PROP_COMMON_QUOTE);
        if (is_bought(entity) && priced && is_in(entity, scope)) {
            return true;
        }
    }
    return false;
}

static const Figure *record_sum(Work *work, size_t row, FigureScope scope)
{
    Interval sum = point(0.0);
    begin_money(work);
    for (uint32_t i = 0; i < work->model->entity_count; i++) {
        const Entity *entity = work->model->entities[i];
        if (!boat_counts(work, entity) || !is_in(entity, scope)) {
            continue;
        }
        Interval pieces = sums[row].pieces(work, entity);
        if (pieces.high > 0.0) {
            Quantity price = boat_price(work, entity);
            sum = interval_add(sum, price.state == STATE_KNOWN ? interval_multiply(price.value, pieces) : point(0.0));
        }
    }
    return record(work, sums[row].id, scope, sum, sums[row].formula);
}

static void record_contingency(Work *work, const Figure *rest, FigureScope scope)
{
    begin_money(work);
    Interval money = use_figure(work, rest).value;
    Interval share = use_value(work, work->model->boat, PROP_BOAT_CONTINGENCY, 0).value;
    record(work, FIGURE_CONTINGENCY, scope, interval_multiply(money, share), "{still-to-buy} x {contingency}");
}

void figures_money(Work *work)
{
    if (figure_find(work->figures, work->model->boat, FIGURE_COST, NULL) == NULL) {
        return;
    }
    for (int scope = SCOPE_WHOLE; scope < SYSTEM_COUNT; scope++) {
        bool told = has_price(work->model, (FigureScope)scope);
        for (size_t row = 0; row < SUM_COUNT && told; row++) {
            if (scope == SCOPE_WHOLE && !sums[row].of_boat) {
                continue;
            }
            const Figure *sum = record_sum(work, row, (FigureScope)scope);
            if (sums[row].id == FIGURE_STILL_TO_BUY) {
                record_contingency(work, sum, (FigureScope)scope);
            }
        }
    }
}
