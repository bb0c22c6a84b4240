/*
 * What things cost without the tax in their prices: for an owner who gets it back, or who compares with offers that leave it out.
 * All prices of a model are with tax (model/tax.h); of what nobody states the rate, all counts.
 */
#include "figures/boat.h"

#include "model/status.h"
#include "model/tax.h"

/* Prices over 1 + tax, times pieces, of what is bound or still to buy. */
static Interval use_net(Work *work, bool (*belongs)(Status), uint32_t *without_rate)
{
    Interval sum = point(0.0);
    const BoatThings *things = boat_things(work);
    for (uint32_t i = 0; i < things->count; i++) {
        const Entity *thing = things->list[i];
        if (!belongs(thing_status(thing))) {
            continue;
        }
        Quantity price = boat_price(work, thing);
        if (price.state == STATE_MISSING) {
            continue; /* cost tells how many */
        }
        PropId prop;
        const Entity *says = tax_stated_by(work->model, thing, &prop);
        Interval tax = says != NULL ? use_value(work, says, prop, 0).value : point(0.0);
        *without_rate += says == NULL;
        Interval net = interval_divide(price.value, interval_add(point(1.0), tax));
        sum = interval_add(sum, interval_multiply(net, boat_pieces(work, thing)));
    }
    return sum;
}

static void record(Work *work, FigureId id, Interval value, const char *formula, uint32_t without_rate)
{
    Figure *figure = work_record(work, id, work->model->boat, NULL, value, formula);
    figure->money = true;
    if (without_rate > 0) {
        figure->remark = text_format(work->figures->arena, "of %u %s no tax is stated: all of %s price counts", (unsigned)without_rate,
                                     without_rate == 1 ? "thing" : "things", without_rate == 1 ? "its" : "their");
    }
}

void boat_without_tax(Work *work)
{
    uint32_t without_rate = 0;
    if (!tax_is_told(work->model)) {
        return;
    }
    begin_money(work);
    Interval to_buy = use_net(work, status_is_to_buy, &without_rate);
    record(work, FIGURE_TO_BUY_WITHOUT_TAX, to_buy, "sum of price / (1 + tax) x (count + spare)", without_rate);
    begin_money(work);
    without_rate = 0;
    Interval cost = use_net(work, status_is_committed, &without_rate);
    Interval rest = use_net(work, status_is_to_buy, &without_rate);
    Interval share = use_value(work, work->model->boat, PROP_BOAT_CONTINGENCY, 0).value;
    cost = interval_add(cost, interval_multiply(rest, interval_add(point(1.0), share)));
    const Figure *lost = figure_find(work->figures, work->model->boat, FIGURE_LOST_ON_RETURNS, NULL);
    cost = lost != NULL ? interval_add(cost, use_figure(work, lost).value) : cost;
    record(work, FIGURE_COST_WITHOUT_TAX, cost,
           lost != NULL ? "sum of price / (1 + tax) x (count + spare), of what is still to buy times 1 + contingency, and lost-on-returns"
                        : "sum of price / (1 + tax) x (count + spare), of what is still to buy times 1 + contingency",
           without_rate);
}
