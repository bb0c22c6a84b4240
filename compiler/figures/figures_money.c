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
    if (!status_is_committed(thing_status(entity))) {
        return point(0.0);
    }
    Purchase purchase = purchase_of(entity);
    Interval to_come = purchase_to_come(&purchase);
    return to_come.high > 0.0 ? purchase_came(&purchase) : boat_pieces(work, entity);
}

static Interval to_buy(Work *work, const Entity *entity)
{
    return status_is_to_buy(thing_status(entity)) ? boat_pieces(work, entity) : point(0.0);
}

static Interval quoted(Work *work, const Entity *entity)
{
    bool offer = entity_states(entity, PROP_COMMON_QUOTE) && !entity_states(entity, PROP_COMMON_PRICE);
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

/* What counts, by system; a price or a quote in one of these, or in any, tells that it is summed. */
typedef struct Counted {
    const Entity **by_system;
    size_t first[SYSTEM_COUNT + 1];
    bool priced[SYSTEM_COUNT]; /* by FigureScope; SCOPE_WHOLE: anything is */
} Counted;

static Counted gather(Work *work)
{
    const Model *model = work->model;
    const BoatThings *things = boat_things(work);
    Counted counted = {.by_system = ARENA_ARRAY(work->scratch, const Entity *, things->count)};
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *entity = model->entities[i];
        bool priced = entity_states(entity, PROP_COMMON_PRICE) || entity_states(entity, PROP_COMMON_QUOTE);
        if (priced && is_bought(entity)) {
            counted.priced[entity->system] = counted.priced[SCOPE_WHOLE] = true;
        }
    }
    boat_order_by_system(things->list, things->count, counted.by_system, counted.first);
    return counted;
}

static Figure *record(Work *work, FigureId id, FigureScope scope, Interval value, const char *formula)
{
    Figure *figure = work_record(work, id, work->model->boat, NULL, value, formula);
    figure->scope = (uint8_t)scope;
    figure->money = true;
    return figure;
}

static const Figure *record_sum(Work *work, const Counted *counted, size_t row, FigureScope scope)
{
    bool whole = scope == SCOPE_WHOLE;
    Interval sum = point(0.0);
    begin_money(work);
    const BoatThings *all = boat_things(work);
    const Entity **things = whole ? all->list : counted->by_system + counted->first[scope];
    size_t count = whole ? all->count : counted->first[scope + 1] - counted->first[scope];
    for (size_t i = 0; i < count; i++) {
        Interval pieces = sums[row].pieces(work, things[i]);
        if (pieces.high > 0.0) {
            Quantity price = boat_price(work, things[i]);
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
    boat_paid_in_vain(work);
    Counted counted = gather(work);
    for (int scope = SCOPE_WHOLE; scope < SYSTEM_COUNT; scope++) {
        for (size_t row = 0; row < SUM_COUNT && counted.priced[scope]; row++) {
            if (scope == SCOPE_WHOLE && !sums[row].of_boat) {
                continue;
            }
            const Figure *sum = record_sum(work, &counted, row, (FigureScope)scope);
            if (sums[row].id == FIGURE_STILL_TO_BUY) {
                record_contingency(work, sum, (FigureScope)scope);
            }
        }
    }
}
