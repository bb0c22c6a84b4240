/*
 * One rule of the family rules_buying: supplier-closed. Who has closed for good sends nothing any more: what is on order there is
 * lost, and what is still to be bought is bought elsewhere; and of what is lost it is known what went with it.
 */
#include "rules/ask.h"
#include "rules/buying.h"

#include "figures/water.h"
#include "model/status.h"

const Property *closed_line(const Judge *judge, const Entity *supplier)
{
    const Property *line = supplier != NULL ? entity_property(supplier, PROP_SUPPLIER_CLOSED) : NULL;
    bool dated = line != NULL && property_value(line, 0)->kind == VALUE_DATE;
    return dated && property_date(line) <= judge->today ? line : NULL;
}

static const char *say_closed(const Judge *judge, const Entity *supplier, const Property *closed)
{
    Buf text;
    buf_init(&text, judge->arena);
    buf_format(&text, "`%s`, who closed on ", say_name(judge, supplier));
    date_write(&text, property_date(closed));
    return text.text;
}

/* Of which nothing came, that is lost in every figure and list; of a part only its owner can say how it is bought again. */
static void tell_on_order(Judge *judge, Finding *finding, const Entity *thing, const Purchase *purchase, const char *from)
{
    bool part = purchase->closed == NULL;
    finding_say(judge, finding, "`%s` is on order from %s: %s", say_name(judge, thing), from,
                part ? "what is missing of it does not come any more" : "it does not come any more, and counts as lost and to be bought again");
    finding_remedy(judge, finding, part ? "`count` of those that have come, and the rest as a thing of its own, which is `status lost`"
                                        : "`status lost`, and the `supplier` from whom it is bought again; what was paid is its `deposit`");
}

static void look_closed(Judge *judge, const Entity *thing, const Entity *supplier, const Property *closed)
{
    Purchase purchase = purchase_of(thing);
    bool on_order = purchase.closed != NULL || purchase_is_under_way(&purchase) || purchase_awaits_spares(&purchase);
    if (purchase.unread || purchase.status == STATUS_WAITING) {
        judge_waiting(judge);
        return;
    }
    if (!on_order && !thing_is_to_order(thing, purchase.status)) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, thing, place_of(judge, thing, PROP_COMMON_SUPPLIER));
    const char *from = say_closed(judge, supplier, closed);
    finding_about(finding, PROP_COMMON_SUPPLIER);
    if (on_order) {
        tell_on_order(judge, finding, thing, &purchase, from);
    } else {
        finding_say(judge, finding, "`%s` is to be bought from %s", say_name(judge, thing), from);
        finding_remedy(judge, finding, "another `supplier`");
    }
    finding_note(judge, finding, property_span(judge->model, closed), "closed");
}

bool is_lost_unsaid(const Entity *thing)
{
    return thing_status(thing) == STATUS_LOST && !entity_states(thing, PROP_COMMON_DEPOSIT) && !entity_states(thing, PROP_COMMON_REFUNDED);
}

/* Nothing, a part or all of it may be gone: the cost covers that, and nobody can plan with it. */
static void look_lost(Judge *judge, const Entity *thing)
{
    if (!is_lost_unsaid(thing)) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_open(judge, thing, place_of(judge, thing, PROP_COMMON_STATUS), thing, PROP_COMMON_DEPOSIT);
    finding_about(finding, PROP_COMMON_DEPOSIT);
    finding_say(judge, finding, "`%s` is lost, and does not say what was paid for it before", say_name(judge, thing));
    finding_remedy(judge, finding, "deposit 0 %.*s, if nothing was; what has come back of it is `refunded`", STR_ARG(judge->model->currency));
}

void judge_supplier_closed(Judge *judge)
{
    const Bought *bought = bought_aboard(judge);
    for (uint32_t i = 0; i < bought->count; i++) {
        const Entity *thing = bought->things[i], *supplier = entity_reference(thing, PROP_COMMON_SUPPLIER);
        const Property *closed = closed_line(judge, supplier);
        if (closed != NULL) {
            look_closed(judge, thing, supplier, closed);
        }
        if (thing_status(thing) == STATUS_LOST && thing->purchase->closed == NULL) {
            look_lost(judge, thing);
        }
    }
}
