/* See money_months.h. */
#include "output/money_months.h"

#include "model/status.h"

#include <math.h>

typedef struct Months {
    Arena *arena;
    Date today;
    bool first_case;
    MoneyMonth *list;
} Months;

static double rank_of(int year, int month)
{
    return month > 0 ? year * 12.0 + month : INFINITY;
}

static MoneyMonth *get_month(Months *months, const Date *day)
{
    int year = 0, month = 0, of_month;
    if (day != NULL) {
        date_parts(*day, &year, &month, &of_month);
    }
    MoneyMonth **at = &months->list;
    while (*at != NULL && rank_of((*at)->year, (*at)->month) < rank_of(year, month)) {
        at = &(*at)->next;
    }
    if (*at == NULL || (*at)->year != year || (*at)->month != month) {
        MoneyMonth *later = *at;
        *at = ARENA_NEW(months->arena, MoneyMonth);
        **at = (MoneyMonth){.year = year, .month = month, .next = later};
    }
    return *at;
}

static void add(Months *months, MoneyDue due, const Date *day, Interval price, Interval pieces)
{
    if (pieces.high > 0.0) {
        Interval *sum = &get_month(months, day)->in_case[due];
        *sum = interval_add(*sum, interval_multiply(price, interval_max(pieces, point(0.0))));
    }
}

/* What has come with a day and a number of its own; the rest of what is here came last. */
static double add_arrivals(Months *months, const Entity *entity, Interval price)
{
    double told = 0.0;
    for (const Property *p = entity_property(entity, PROP_COMMON_ARRIVED); p != NULL;
         p = block_next(&entity->block, p)) {
        const Value *of = property_value(p, 1);
        if (!(p->flags & PROPERTY_BROKEN) && of->kind == VALUE_QUANTITY) {
            Date day = property_date(p);
            add(months, DUE_CAME, &day, price, point(of->u.quantity.low));
            told += of->u.quantity.low;
        }
    }
    return told;
}

/* Not earlier than this month: what is past is due now. */
static Date not_past(const Months *months, Date day)
{
    return day > months->today ? day : months->today;
}

/* Its own lead time, else its supplier's. */
static bool read_lead(const Entity *entity, Interval *lead)
{
    const Entity *supplier = entity_reference(entity, PROP_COMMON_SUPPLIER);
    return entity_quantity(entity, PROP_COMMON_LEAD, 0, lead) ||
           (!entity_states(entity, PROP_COMMON_LEAD) && supplier != NULL &&
            entity_quantity(supplier, PROP_SUPPLIER_LEAD, 0, lead));
}

static void add_owed(Months *months, const Case *of, const Entity *entity, const Purchase *purchase, Interval price,
                     Interval pieces)
{
    const Figure *arrival = figure_find(of->figures, entity, FIGURE_ARRIVAL, NULL);
    bool expected = arrival != NULL && arrival->state == STATE_KNOWN && isfinite(arrival->high);
    Interval lead;
    Date day = 0;
    bool known = true;
    if (purchase->last_promise != NULL) {
        day = property_date(purchase->last_promise);
    } else if (expected) {
        day = (Date)floor(arrival->high / SECONDS_A_DAY);
    } else if (purchase->ordered != NULL && read_lead(entity, &lead)) {
        day = property_date(purchase->ordered) + (Date)ceil(fmin(lead.high / SECONDS_A_DAY, 1e6));
    } else {
        known = false;
    }
    day = not_past(months, day);
    add(months, DUE_OWED, known ? &day : NULL, price, pieces);
}

static void add_to_order(Months *months, const Case *of, const Entity *entity, Interval price, Interval pieces)
{
    const Figure *by = figure_find(of->figures, entity, FIGURE_ORDER_BY, NULL);
    bool known = by != NULL && by->state == STATE_KNOWN && isfinite(by->low);
    Date day = known ? not_past(months, (Date)floor(by->low / SECONDS_A_DAY)) : 0;
    add(months, DUE_TO_ORDER, known ? &day : NULL, price, pieces);
}

static void add_thing(Months *months, const Case *of, const Entity *entity)
{
    Interval price;
    bool priced = entity_quantity(entity, PROP_COMMON_PRICE, 0, &price) ||
                  entity_quantity(entity, PROP_COMMON_QUOTE, 0, &price);
    if (!priced) {
        return;
    }
    Purchase purchase = purchase_of(entity);
    Interval pieces = interval_add(purchase.count, purchase.spare);
    if (status_is_to_buy(purchase.status)) {
        add_to_order(months, of, entity, price, pieces);
        return;
    }
    if (!status_is_committed(purchase.status)) {
        return;
    }
    Interval rest = interval_subtract(purchase_came(&purchase), point(add_arrivals(months, entity, price)));
    add_owed(months, of, entity, &purchase, price, purchase_to_come(&purchase));
    const Property *line = purchase.last_arrival != NULL ? purchase.last_arrival : purchase.last_fitting;
    Date day = line != NULL ? property_date(line) : 0;
    add(months, DUE_CAME, line != NULL ? &day : NULL, price, rest);
}

static void close_case(Months *months)
{
    for (MoneyMonth *m = months->list; m != NULL; m = m->next) {
        for (int due = 0; due < DUE_KINDS; due++) {
            m->of[due] = months->first_case ? m->in_case[due] : interval_hull(m->of[due], m->in_case[due]);
            m->in_case[due] = point(0.0);
        }
    }
    months->first_case = false;
}

MoneyMonth *money_months(Arena *arena, const Outcome *outcome)
{
    Months months = {.arena = arena, .today = outcome->today, .first_case = true};
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        const Case *of = &outcome->cases[c];
        for (uint32_t i = 0; i < of->model->entity_count; i++) {
            const Entity *entity = of->model->entities[i];
            if (is_bought(entity) && !(entity->flags & ENTITY_DROPPED)) {
                add_thing(&months, of, entity);
            }
        }
        close_case(&months);
    }
    return months.list;
}
