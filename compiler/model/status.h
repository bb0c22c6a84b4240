/*
 * How far buying a thing has come: its status, stated or taken from its dated facts, and the dates that
 * matter.
 *
 * Knows the purchase properties of one thing (status, ordered, promised, arrived, fitted, event, count,
 * spare) and how they can contradict each other. Knows no day but those of the spec, and whether a supplier has closed by
 * today: whether something is late is for the rules.
 */
#ifndef GARBOARD_MODEL_STATUS_H
#define GARBOARD_MODEL_STATUS_H

#include "base/interval.h"
#include "model/model.h"

/* Ordered to fitted are money that is bound; the order counts. */
typedef enum Status {
    STATUS_UNSAID, /* nothing stated and no dated fact: still to be bought */
    STATUS_WANTED,
    STATUS_RETURNED, /* sent back: part of the design still, and to be bought again */
    STATUS_LOST,     /* ordered, and never to come: part of the design still, and to be bought again */
    STATUS_ORDERED,
    STATUS_DELAYED,
    STATUS_SHIPPED,
    STATUS_HERE,
    STATUS_FITTED,
    STATUS_DROPPED, /* not aboard, out of every figure */
    STATUS_WAITING, /* the line that says so has a mistake */
} Status;

/** What is known of buying one thing. Lines with a mistake are left out; a line that is not there is NULL. */
typedef struct Purchase {
    Status status;
    const Property *stated; /* the `status` line */
    const Property *ordered;
    const Property *first_promise; /* by their place in the spec; all else by its date */
    const Property *last_promise;
    const Property *first_arrival;
    const Property *last_arrival;
    const Property *first_fitting;
    const Property *last_fitting;
    const Property *last_event;
    Interval count; /* how many the design wants, spares not counted: stated, or series x parallel; else 1 */
    Interval spare;
    const Property *closed; /* the supplier's line: lost by it, for nothing had come; NULL: not so */
    bool unread;    /* one of its dated lines has a mistake: what came last is not known */
    double arrived; /* how many came, and were fitted, as far as it is said */
    double fitted;
    bool all_came; /* a line says that all have come, or are fitted, however many those are: `arrived` and `fitted` are the least */
    bool all_fitted;            /* a line without `of` says that all are fitted, however many those are */
} Purchase;

Purchase purchase_of(const Entity *entity);
/** The status alone, found by status_check when the model was built. */
static inline Status thing_status(const Entity *entity)
{
    return (Status)entity->status;
}
bool status_is_committed(Status status); /* ordered to fitted */
bool status_is_to_buy(Status status);    /* wanted, sent back, lost, or nothing said */
/** Ordered, and not all of it is here. */
bool purchase_is_under_way(const Purchase *purchase);
/** All that is wanted at least is here, by its dated facts; but more may be wanted, and then it is under way still. */
bool purchase_may_go_on(const Purchase *purchase);
/**
 * How many have come, spares among them: as many as dated lines say; all, where one says so, or where `status` alone says that
 * it is here, fitted, or went back.
 */
Interval purchase_came(const Purchase *purchase);
/** How many of an order are still to come; spares among them. */
Interval purchase_to_come(const Purchase *purchase);
/**
 * How many of its spares have come: those over what the design wants. None of what is still to be bought or went back; all where
 * nothing is said of buying it at all.
 */
Interval spares_aboard(const Entity *entity);
/** As many as the design wants are here, by dated lines, and spares are still to come. */
bool purchase_awaits_spares(const Purchase *purchase);
/** Not ordered yet, and something that is sold: it has a price, a quote, a supplier or a status. */
bool thing_is_to_order(const Entity *entity, Status status);
const char *status_word(Status status); /* "ordered"; "not ordered" where nothing is said */

/** An alternator that comes with its engine: no belt drives it, and nobody buys it. */
static inline bool is_built_in(const Entity *entity)
{
    return entity->kind == KIND_ALTERNATOR && entity_yes(entity, PROP_ALTERNATOR_BUILT_IN) == 1;
}

/** Whether a property is left out, or states the very quantity that another one does, or may: there is a mistake in either. */
static inline bool says_no_other(const Property *property, const Property *other)
{
    if (property == NULL || property_is_mistaken(property) || (other != NULL && property_is_mistaken(other))) {
        return true;
    }
    const Value *one = property_value(property, 0), *two = property_value(other, 0);
    return one->kind == VALUE_NONE || (two->kind != VALUE_NONE && one->kind == VALUE_QUANTITY && two->kind == VALUE_QUANTITY &&
                           one->u.quantity.low == two->u.quantity.low && one->u.quantity.high == two->u.quantity.high);
}

/**
 * Whether such a one charges through the cable of its engine's starter: it feeds what the starter hangs on, and states no cable
 * of its own, or that of the starter once more.
 */
static inline bool feeds_by_starter_cable(const Feed *feed)
{
    bool built_in = feed->maker && is_built_in(feed->giver);
    const Property *of = built_in ? entity_property(feed->giver, PROP_ALTERNATOR_ENGINE) : NULL;
    if (of != NULL && property_is_mistaken(of)) {
        return true; /* nobody knows */
    }
    const Entity *engine = built_in ? entity_reference(feed->giver, PROP_ALTERNATOR_ENGINE) : NULL;
    return engine != NULL && engine->fed != NULL && engine->fed->giver == feed->taker &&
           block_property(feed->block, PROP_FEEDS_PROTECT) == NULL &&
           says_no_other(block_property(feed->block, PROP_FEEDS_RUN), entity_property(engine, PROP_FEED_RUN)) &&
           says_no_other(block_property(feed->block, PROP_FEEDS_WIRE), entity_property(engine, PROP_FEED_WIRE));
}

/** An alternator that wind or water drives: it has no engine, no belt and no speed of its own, and gives what it says. */
static inline bool is_engineless(const Entity *entity)
{
    return entity->kind == KIND_ALTERNATOR && entity_states(entity, PROP_ALTERNATOR_DRIVEN_BY);
}

/** Whether a thing is one that is bought: a physical thing of its own, whose first line is fine. */
static inline bool is_bought(const Entity *entity)
{
    return kinds[entity->kind].groups & GROUPS_COMMON && !(entity->flags & ENTITY_BROKEN) && !is_built_in(entity);
}

/** The date of a line such as `ordered 2026-09-02`. The property must not be broken. */
Date property_date(const Property *property);

/**
 * Tells where the status of a thing and its dated facts cannot both be true. Mistakes go to
 * model->messages. What is on order, and of which nothing came, from a supplier who has closed by that day is lost.
 */
void status_check(Model *model, Date today);

#endif
