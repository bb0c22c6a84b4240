/*
 * Money that went into what is no part of the boat: what is dropped, and what belongs to options that are not picked. Neither
 * is in any other sum; what was paid for it is gone all the same, until it comes back. Where nothing is picked yet, each
 * option is told with what the others have cost.
 *
 * What has come is paid. What was ordered and never came may have cost all or nothing: nobody says.
 */
#include "figures/boat.h"

#include "model/status.h"

#include <math.h>

typedef struct Vain {
    Interval amount;
    uint32_t things, without_price;
} Vain;

/* How many pieces were paid for, as far as that is said. */
static Interval pieces_paid(const Entity *entity, const Purchase *p)
{
    double all = p->count.high + p->spare.high;
    bool said = p->ordered != NULL || p->first_promise != NULL || p->first_arrival != NULL ||
                p->first_fitting != NULL;
    /* What went back, or money for it came back, was paid. */
    if (p->status == STATUS_RETURNED || (!said && entity_states(entity, PROP_COMMON_REFUNDED))) {
        return interval_add(p->count, p->spare);
    }
    bool here = p->status == STATUS_HERE || p->status == STATUS_FITTED;
    double came = fmax(p->arrived, p->fitted);
    if (here && came == 0.0) {
        came = p->count.low;
    }
    bool bound = here || status_is_committed(p->status) || p->ordered != NULL || p->first_promise != NULL;
    bool more = bound && came < p->count.high;
    return interval(came, more ? all : came);
}

static bool is_paid_for(const Entity *entity)
{
    Purchase purchase = purchase_of(entity);
    return pieces_paid(entity, &purchase).high > 0.0;
}

const Entity *boat_vain_unpriced(const Model *model)
{
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *entity = model->entities[i];
        if (entity->flags & ENTITY_DROPPED && is_bought(entity) && !entity_states(entity, PROP_COMMON_PRICE) && is_paid_for(entity)) {
            return entity;
        }
    }
    for (uint32_t i = 0; i < model->left_out_count; i++) {
        if (!entity_states(model->left_out[i], PROP_COMMON_PRICE) && is_paid_for(model->left_out[i])) {
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
    Interval pieces = pieces_paid(entity, &purchase);
    Interval price, refunded;
    if (pieces.high <= 0.0) {
        return;
    }
    vain->things++;
    if (!entity_quantity(entity, PROP_COMMON_PRICE, 0, &price)) {
        vain->without_price++;
        return;
    }
    Interval paid = interval_multiply(price, pieces);
    if (entity_quantity(entity, PROP_COMMON_REFUNDED, 0, &refunded)) {
        paid = interval_max(interval_subtract(paid, refunded), point(0.0));
    }
    if (picked) {
        boat_price(work, entity);
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
    if (vain.things == vain.without_price && (vain.things > 0 || !is_in_vain_with_another(model))) {
        return;
    }
    Figure *figure = work_record(work, FIGURE_PAID_IN_VAIN, model->boat, NULL, vain.amount,
                                 "sum of price x what has come - refunded");
    figure->money = true;
    if (vain.without_price > 0) {
        figure->remark = text_format(work->figures->arena, "%u more %s no price",
                                     (unsigned)vain.without_price, vain.without_price == 1 ? "has" : "have");
    }
    record_in_all(work, figure);
}
