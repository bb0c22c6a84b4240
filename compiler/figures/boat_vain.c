/*
 * Money that went into what is no part of the boat: what is dropped, and what belongs to options that are not picked. Neither
 * is in any other sum; what was paid for it is gone all the same, until it comes back. Where nothing is picked yet, each
 * option is told with what the others have cost.
 *
 * What has come is paid, and what is on order owed, as in all sums. So an order that was called off before anything came has
 * cost nothing, unless `refunded` says that money went there; one of an option that is not picked still stands, and may cost all.
 */
#include "figures/boat.h"

#include "model/status.h"

#include <math.h>

typedef struct Vain {
    Interval amount;
    uint32_t things, without_price, called_off;
} Vain;

/* Ordered, dropped before any of it came, and nothing is said of money. */
static bool is_called_off(const Entity *entity, const Purchase *p)
{
    return p->status == STATUS_DROPPED && (p->ordered != NULL || p->first_promise != NULL) && purchase_came(p).high == 0.0 &&
           !entity_states(entity, PROP_COMMON_REFUNDED) && !entity_states(entity, PROP_COMMON_DEPOSIT);
}

/* A deposit says what was paid, and not how many pieces for: as long as none has come. */
static bool goes_by_deposit(const Entity *entity, const Purchase *p)
{
    return entity_states(entity, PROP_COMMON_DEPOSIT) && purchase_came(p).high == 0.0;
}

Interval boat_pieces_paid(const Entity *entity, const Purchase *p)
{
    Interval came = purchase_came(p), all = interval_add(p->count, p->spare);
    if (came.high == 0.0 && entity_states(entity, PROP_COMMON_REFUNDED)) {
        return all; /* nothing can come back, or fail to, of what was not paid */
    }
    bool stands = (status_is_committed(p->status) || p->status == STATUS_LOST) && purchase_to_come(p).high > 0.0;
    return stands ? interval(came.low, all.high) : came;
}

static bool is_paid_for(const Entity *entity)
{
    Purchase purchase = purchase_of(entity);
    return boat_pieces_paid(entity, &purchase).high > 0.0;
}

/* Paid for, and nothing says how much. */
static bool is_unpriced(const Entity *entity)
{
    Purchase purchase = purchase_of(entity);
    return !entity_states(entity, PROP_COMMON_PRICE) && !goes_by_deposit(entity, &purchase) && is_paid_for(entity);
}

const Entity *boat_vain_unpriced(const Model *model)
{
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *entity = model->entities[i];
        if (entity->flags & ENTITY_DROPPED && is_bought(entity) && is_unpriced(entity)) {
            return entity;
        }
    }
    for (uint32_t i = 0; i < model->left_out_count; i++) {
        if (is_unpriced(model->left_out[i])) {
            return model->left_out[i];
        }
    }
    return NULL;
}

/* Whether with another option of a choice that is open something would be paid for in vain: with this one that is nothing. */
static bool is_in_vain_with_another(const Model *model)
{
    bool open = false;
    for (uint32_t i = 0; i < model->choice_count && !open; i++) {
        open = choice_is_open(&model->choices[i]);
    }
    for (uint32_t i = 0; i < model->entity_count && open; i++) {
        const Entity *entity = model->entities[i];
        if (entity->choice != NULL && choice_is_open(entity->choice) && is_bought(entity) && is_paid_for(entity)) {
            return true;
        }
    }
    return false;
}

static void record_in_all(Work *work, const Figure *vain)
{
    begin_money(work);
    const Figure *cost = figure_find(work->figures, work->model->boat, FIGURE_COST, NULL);
    Interval sum = use_figure(work, cost).value; /* in the order of the formula */
    sum = interval_add(sum, use_figure(work, vain).value);
    Figure *figure = work_record(work, FIGURE_COST_IN_ALL, work->model->boat, NULL, sum, "{cost} + {paid-in-vain}");
    figure->money = true;
    figure->remark = cost->remark == NULL   ? vain->remark
                     : vain->remark == NULL ? cost->remark
                                            : text_format(work->figures->arena, "%s; %s", cost->remark, vain->remark);
}

static void add(Work *work, Vain *vain, const Entity *entity, bool picked)
{
    Purchase purchase = purchase_of(entity);
    Interval pieces = boat_pieces_paid(entity, &purchase);
    Interval price, paid, refunded;
    bool by_deposit = goes_by_deposit(entity, &purchase) && entity_quantity(entity, PROP_COMMON_DEPOSIT, 0, &paid);
    vain->called_off += is_called_off(entity, &purchase);
    if (pieces.high <= 0.0 && !by_deposit) {
        return;
    }
    bool priced = entity_quantity(entity, PROP_COMMON_PRICE, 0, &price);
    vain->things++;
    if (!priced && !by_deposit) {
        vain->without_price++;
        return;
    }
    if (!by_deposit) {
        paid = interval_multiply(price, pieces);
    } else if (priced && status_is_committed(purchase.status)) { /* the order stands: the rest may be owed */
        paid = interval_hull(paid, interval_multiply(price, pieces));
    }
    if (entity_quantity(entity, PROP_COMMON_REFUNDED, 0, &refunded)) {
        paid = interval_max(interval_left(paid, refunded), point(0.0));
    }
    if (picked) {
        if (by_deposit) {
            use_stated(work, entity, PROP_COMMON_DEPOSIT, 0);
        } else {
            boat_price(work, entity);
        }
        use_stated(work, entity, PROP_COMMON_REFUNDED, 0);
    } else { /* the model has no such thing: its line cannot be an input */
        const char *what = text_format(work->figures->arena, "paid for %.*s, of an option that is not picked",
                                       STR_ARG(entity_name(work->model, entity)));
        use_fact(work, what, paid, UNIT_ALONE(UNIT_NONE), "the spec, in the boat's currency");
    }
    vain->amount = interval_add(vain->amount, paid);
}

void boat_paid_in_vain(Work *work)
{
    const Model *model = work->model;
    Vain vain = {.amount = point(0.0)};
    begin_money(work);
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *entity = model->entities[i];
        if (entity->flags & ENTITY_DROPPED && is_bought(entity)) {
            add(work, &vain, entity, true);
        }
    }
    for (uint32_t i = 0; i < model->left_out_count; i++) {
        add(work, &vain, model->left_out[i], false);
    }
    if (vain.called_off == 0 && vain.things == vain.without_price && (vain.things > 0 || !is_in_vain_with_another(model))) {
        return;
    }
    Figure *figure = work_record(work, FIGURE_PAID_IN_VAIN, model->boat, NULL, vain.amount,
                                 "sum of price x what has come, or deposit, - refunded");
    figure->money = true;
    Buf remark;
    buf_init(&remark, work->figures->arena);
    if (vain.without_price > 0) {
        buf_format(&remark, "%u more %s no price", (unsigned)vain.without_price, vain.without_price == 1 ? "has" : "have");
    }
    if (vain.called_off > 0) {
        buf_format(&remark, "%s%u %s dropped before %s came: taken as not paid for, for no `refunded` is stated", remark.length > 0 ? "; " : "",
                   (unsigned)vain.called_off, vain.called_off == 1 ? "was" : "were", vain.called_off == 1 ? "it" : "they");
    }
    figure->remark = remark.length > 0 ? remark.text : NULL;
    record_in_all(work, figure);
}
