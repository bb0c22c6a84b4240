/* See boat.h. */
#include "figures/boat.h"

#include "model/status.h"

#include <math.h>

/* The longest lead */

/* Who says how long it takes: the thing itself, else its supplier, who may be NULL. */
static const Entity *says_lead(const Entity *entity)
{
    return entity_states(entity, PROP_COMMON_LEAD) ? entity : entity_reference(entity, PROP_COMMON_SUPPLIER);
}

Quantity boat_lead_of(Work *work, const Entity *entity)
{
    const Entity *says = says_lead(entity);
    return says == NULL ? (Quantity){{0.0, 0.0}, STATE_MISSING}
                        : use_stated(work, says, says == entity ? PROP_COMMON_LEAD : PROP_SUPPLIER_LEAD, 0);
}

static void say_lead(Figure *figure, const Work *work, const Entity *longest, uint32_t without)
{
    Buf remark;
    buf_init(&remark, work->figures->arena);
    buf_format(&remark, "that of `%.*s`", STR_ARG(entity_name(work->model, longest)));
    if (without > 0) {
        buf_format(&remark, "; %u to order %s no lead", (unsigned)without, without == 1 ? "says" : "say");
    }
    figure->remark = remark.text;
}

void boat_lead(Work *work)
{
    const Model *model = work->model;
    Interval greatest = point(0.0);
    const Entity *longest = NULL;
    uint32_t without = 0;
    bool *used =
        ARENA_ARRAY(work->scratch, bool, model->entity_count); /* a supplier is an input once */
    work_begin(work);
    const BoatThings *things = boat_things(work);
    for (uint32_t i = 0; i < things->count; i++) {
        const Entity *entity = things->list[i];
        const Entity *says = says_lead(entity);
        if (!thing_is_to_order(entity, thing_status(entity)) || (says != NULL && used[says->index])) {
            continue;
        }
        Quantity lead = boat_lead_of(work, entity);
        if (says != NULL) {
            used[says->index] = lead.state == STATE_KNOWN;
        }
        if (lead.state == STATE_MISSING) {
            without++;
        } else if (lead.state == STATE_KNOWN) {
            longest = longest == NULL || lead.value.high > greatest.high ? entity : longest;
            greatest = interval_max(greatest, lead.value);
        }
    }
    if (longest != NULL) {
        Figure *figure = work_record(work, FIGURE_LONGEST_LEAD, model->boat, NULL, greatest,
                                     "the greatest lead of what is to be ordered");
        say_lead(figure, work, longest, without);
    }
}

/* What one thing adds */

/* Not a sum, but the greatest of what each thing gives: what is not ordered and says no lead may be the greatest. */
static bool goes_by_lead(FigureId id)
{
    return id == FIGURE_LONGEST_LEAD || id == FIGURE_READY;
}

bool boat_is_sum(FigureId id)
{
    return id == FIGURE_COST || id == FIGURE_COMMITTED || id == FIGURE_STILL_TO_BUY || id == FIGURE_MASS ||
           goes_by_lead(id);
}

/* By what a price counts in that sum; a point of 0 if not at all. */
static Interval share_of(Work *work, FigureId id, Status status)
{
    bool committed = status_is_committed(status);
    bool to_buy = status_is_to_buy(status);
    if (id == FIGURE_COST && to_buy) {
        Quantity contingency = use_value(work, work->model->boat, PROP_BOAT_CONTINGENCY, 0);
        return interval_add(point(1.0), contingency.value);
    }
    bool in = id == FIGURE_COMMITTED ? committed : id == FIGURE_STILL_TO_BUY ? to_buy : committed || to_buy;
    return point(in ? 1.0 : 0.0);
}

static BoatTerm lead_term(Work *work, const Entity *entity, Interval *term)
{
    if (!thing_is_to_order(entity, thing_status(entity))) {
        return TERM_NONE;
    }
    Quantity lead = boat_lead_of(work, entity);
    *term = lead.value;
    return lead.state == STATE_KNOWN ? TERM_KNOWN : TERM_UNKNOWN;
}

static BoatTerm money_term(Work *work, const Entity *entity, FigureId id, Interval *term)
{
    Status status = thing_status(entity);
    Interval share = share_of(work, id, status);
    if (share.high == 0.0) {
        return TERM_NONE;
    }
    /* What was sent back, or never came, counts twice in a cost, by what it cost and by what has come back: not told apart here. */
    if ((status == STATUS_RETURNED || status == STATUS_LOST) && id == FIGURE_COST) {
        return TERM_UNKNOWN;
    }
    Quantity price = boat_price(work, entity);
    *term = interval_multiply(interval_multiply(price.value, boat_pieces(work, entity)), share);
    return price.state == STATE_KNOWN ? TERM_KNOWN : TERM_UNKNOWN;
}

static BoatTerm mass_term(Work *work, const Entity *entity, Interval *term)
{
    if (is_ashore(entity)) {
        return TERM_NONE;
    }
    Quantity mass = boat_mass(work, entity);
    *term = interval_multiply(mass.value, boat_pieces(work, entity));
    return mass.state == STATE_KNOWN ? TERM_KNOWN : TERM_UNKNOWN;
}

BoatTerm boat_term(const Figures *figures, const Entity *entity, FigureId id, Interval *term)
{
    Figures scratch = *figures; /* a work wants figures that it may add to; nothing is recorded here */
    Work work;
    work_init(&work, &scratch);
    if (!boat_counts(&work, entity)) {
        return work.state == STATE_KNOWN ? TERM_NONE : TERM_UNKNOWN;
    }
    BoatTerm kind = goes_by_lead(id)    ? lead_term(&work, entity, term)
                    : id == FIGURE_MASS ? mass_term(&work, entity, term)
                                        : money_term(&work, entity, id, term);
    return kind == TERM_KNOWN && work.state != STATE_KNOWN ? TERM_UNKNOWN : kind;
}

/* Two models of one spec */

/* What decides what a thing adds to a sum. */
static const PropId telling[] = {
    PROP_COMMON_PRICE, PROP_COMMON_QUOTE,  PROP_COMMON_MASS,     PROP_COMMON_COUNT,
    PROP_ANCHOR_CHAIN, PROP_ANCHOR_ROPE,
    PROP_ITEM_ASHORE,
    PROP_COMMON_SPARE, PROP_COMMON_LEAD,   PROP_COMMON_SUPPLIER, PROP_COMMON_REFUNDED,
    PROP_COMMON_DEPOSIT,
    PROP_BANK_SERIES,  PROP_BANK_PARALLEL, PROP_SOLAR_SERIES,    PROP_SOLAR_PARALLEL,
};

/* Money of one line is another amount where an option sets another rate. */
static bool same_money(const Value *a, const Value *b)
{
    bool money = a->flags & VALUE_MONEY && b->flags & VALUE_MONEY;
    return !money || (a->u.quantity.low == b->u.quantity.low && a->u.quantity.high == b->u.quantity.high);
}

static bool same_statement(const Entity *a, const Entity *b, PropId prop)
{
    const Property *of_a = entity_property(a, prop);
    const Property *of_b = entity_property(b, prop);
    if (of_a == NULL || of_b == NULL) {
        return of_a == of_b;
    }
    return of_a->node == of_b->node && same_money(property_value(of_a, 0), property_value(of_b, 0));
}

/* By what a supplier's prices are turned into what is paid. */
static bool same_prices(const Entity *a, const Entity *b)
{
    const Entity *of_a = entity_reference(a, PROP_COMMON_SUPPLIER), *of_b = entity_reference(b, PROP_COMMON_SUPPLIER);
    return of_a == NULL || of_b == NULL ||
           (same_statement(of_a, of_b, PROP_SUPPLIER_TAX) && same_statement(of_a, of_b, PROP_SUPPLIER_PRICES));
}

/* Whether the other model has this very thing, and all that decides what it adds stands in the very same lines. */
static bool is_shared(const Entity *entity, const Model *other)
{
    const Entity *twin = entity->name < other->symbol_count ? other->by_symbol[entity->name] : NULL;
    bool shared = twin != NULL && twin->node == entity->node && twin->flags == entity->flags &&
                  thing_status(twin) == thing_status(entity) && same_prices(entity, twin);
    for (size_t i = 0; i < sizeof telling / sizeof telling[0] && shared; i++) {
        shared = same_statement(entity, twin, telling[i]);
    }
    return shared;
}

/* The sum of what only `of` has; false if it cannot be told. */
static bool sum_own(const Figures *of, const Model *other, FigureId id, Interval *sum)
{
    *sum = point(0.0);
    for (uint32_t i = 0; i < of->model->entity_count; i++) {
        const Entity *entity = of->model->entities[i];
        Interval term;
        if (is_shared(entity, other)) {
            continue;
        }
        BoatTerm kind = boat_term(of, entity, id, &term);
        if (kind == TERM_UNKNOWN) {
            return false;
        }
        *sum = kind == TERM_KNOWN ? interval_add(*sum, term) : *sum;
    }
    return true;
}

static bool difference_of_ends(const Figures *a, const Figures *b, FigureId id, Interval *difference)
{
    const Figure *of_a = figure_find(a, a->model->boat, id, NULL);
    const Figure *of_b = figure_find(b, b->model->boat, id, NULL);
    if (of_a == NULL || of_b == NULL || of_a->state != STATE_KNOWN || of_b->state != STATE_KNOWN) {
        return false;
    }
    *difference = interval_subtract((Interval){of_a->low, of_a->high}, (Interval){of_b->low, of_b->high});
    return true;
}

bool boat_difference(const Figures *a, const Figures *b, FigureId id, Interval *difference)
{
    Interval of_a;
    Interval of_b;
    if (!same_statement(a->model->boat, b->model->boat, PROP_BOAT_CONTINGENCY) ||
        !same_statement(a->model->boat, b->model->boat, PROP_BOAT_TAX) ||
        !sum_own(a, b->model, id, &of_a) || !sum_own(b, a->model, id, &of_b)) {
        return false;
    }
    if (goes_by_lead(id)) {
        return difference_of_ends(a, b, id, difference); /* what is shared counts */
    }
    *difference = interval_subtract(of_a, of_b);
    return true;
}
