/*
 * See status.h.
 *
 * Without a `status` line the facts decide: fitted once as many as the design wants are fitted, here once
 * as many have arrived, ordered as soon as there is an order, a promise or a part of the delivery. As a
 * later fact never undoes an earlier one (a return is stated), that is the latest dated fact.
 */
#include "model/status.h"

#include "model/agree.h"

#include <math.h>

static const char *const status_words[] = {
    [STATUS_UNSAID] = "not ordered", [STATUS_WANTED] = "wanted",
    [STATUS_RETURNED] = "returned",  [STATUS_ORDERED] = "ordered",
    [STATUS_DELAYED] = "delayed",    [STATUS_SHIPPED] = "shipped",
    [STATUS_HERE] = "here",          [STATUS_FITTED] = "fitted",
    [STATUS_LOST] = "lost",
    [STATUS_DROPPED] = "dropped",    [STATUS_WAITING] = "not known yet",
};

bool thing_is_to_order(const Entity *entity, Status status)
{
    bool sold = entity_states(entity, PROP_COMMON_PRICE) || entity_states(entity, PROP_COMMON_QUOTE) ||
                entity_states(entity, PROP_COMMON_SUPPLIER) || status != STATUS_UNSAID;
    return status_is_to_buy(status) && sold;
}

const char *status_word(Status status)
{
    return status_words[status];
}

bool status_is_committed(Status status)
{
    return status >= STATUS_ORDERED && status <= STATUS_FITTED;
}

bool status_is_to_buy(Status status)
{
    return status == STATUS_UNSAID || status == STATUS_WANTED || status == STATUS_RETURNED || status == STATUS_LOST;
}

bool purchase_is_under_way(const Purchase *purchase)
{
    return status_is_committed(purchase->status) && purchase->status < STATUS_HERE;
}

bool purchase_may_go_on(const Purchase *purchase)
{
    bool over = purchase->status == STATUS_HERE || purchase->status == STATUS_FITTED;
    return over && purchase->stated == NULL && !purchase->all_came && fmax(purchase->arrived, purchase->fitted) < purchase->count.high;
}

Interval purchase_came(const Purchase *purchase)
{
    bool came = purchase->status == STATUS_HERE || purchase->status == STATUS_FITTED || purchase->status == STATUS_RETURNED;
    bool dated = purchase->first_arrival != NULL || purchase->first_fitting != NULL;
    return purchase->all_came || (came && !dated) ? interval_add(purchase->count, purchase->spare)
                                                  : point(fmax(purchase->arrived, purchase->fitted));
}

Interval purchase_to_come(const Purchase *purchase)
{
    Interval came = purchase_came(purchase), all = interval_add(purchase->count, purchase->spare);
    bool none = purchase->all_came || (came.low == all.low && came.high == all.high);
    return none ? point(0.0) : interval_max(interval_subtract(all, came), point(0.0));
}

Interval spares_aboard(const Entity *entity)
{
    Purchase purchase = purchase_of(entity);
    Interval spare = purchase.spare;
    if (purchase.status == STATUS_WAITING || purchase.unread) {
        return interval(0.0, spare.high);
    }
    if (purchase.status == STATUS_DROPPED || (status_is_to_buy(purchase.status) && thing_is_to_order(entity, purchase.status))) {
        return point(0.0);
    }
    if (purchase.status == STATUS_UNSAID || purchase_to_come(&purchase).high == 0.0) {
        return spare;
    }
    Interval over = interval_max(interval_subtract(purchase_came(&purchase), purchase.count), point(0.0));
    return interval(fmin(over.low, spare.low), fmin(over.high, spare.high));
}

bool purchase_awaits_spares(const Purchase *purchase)
{
    bool here = purchase->status == STATUS_HERE || purchase->status == STATUS_FITTED;
    return here && !purchase_may_go_on(purchase) && purchase_to_come(purchase).low > 0.0;
}

/* Reading the lines */

static bool has_date(const Property *property)
{
    return property != NULL && !(property->flags & PROPERTY_BROKEN) &&
           property_value(property, 0)->kind == VALUE_DATE;
}

Date property_date(const Property *property)
{
    return property_value(property, 0)->u.date;
}

/* Widens first..last by the dated lines of a property that repeats; NULL where there is none. */
static void find_dates(const Entity *entity, PropId id, const Property **first, const Property **last)
{
    for (const Property *p = entity_property(entity, id); p != NULL; p = block_next(&entity->block, p)) {
        if (!has_date(p)) {
            continue;
        }
        if (*first == NULL || property_date(p) < property_date(*first)) {
            *first = p;
        }
        if (*last == NULL || property_date(p) >= property_date(*last)) {
            *last = p;
        }
    }
}

/* In the order of the spec: a later line is a later word of the supplier, and may well name an earlier day. */
static void find_promises(const Entity *entity, const Property **first, const Property **last)
{
    for (const Property *p = entity_property(entity, PROP_COMMON_PROMISED); p != NULL; p = block_next(&entity->block, p)) {
        if (has_date(p)) {
            *first = *first == NULL ? p : *first;
            *last = p;
        }
    }
}

/* A plain count that is stated; `otherwise` where it is not, or is a mistake. */
static Interval stated_count(const Entity *entity, PropId id, double otherwise)
{
    Interval count;
    return entity_quantity(entity, id, 0, &count) ? count : point(otherwise);
}

/*
 * How many came, or were fitted, up to a day, that day included. A line such as `arrived 2026-12-20 of 2`
 * says how many; one without `of` is about all that were still to come: where the number wanted is not decided, so many at least
 * as are wanted at the least.
 */
static double pieces_until(const Entity *entity, PropId id, Date day, Interval all)
{
    double sum = 0.0;
    bool rest = false;
    for (const Property *p = entity_property(entity, id); p != NULL; p = block_next(&entity->block, p)) {
        const Value *of = property_value(p, 1);
        if (!has_date(p) || property_date(p) > day) {
            continue;
        }
        if (of->kind == VALUE_QUANTITY) {
            sum += of->u.quantity.low;
        } else {
            rest = true;
        }
    }
    return rest ? fmax(sum, all.low) : sum;
}

/* Whether a line without `of` says that all have come, or are fitted, however many those are. */
static bool says_all(const Entity *entity, PropId id)
{
    const Property *p = entity_property(entity, id);
    while (p != NULL && !(has_date(p) && property_value(p, 1)->kind != VALUE_QUANTITY)) {
        p = block_next(&entity->block, p);
    }
    return p != NULL;
}

static Status read_status(Str word)
{
    for (Status status = STATUS_WANTED; status < STATUS_WAITING; status++) {
        if (str_is(word, status_words[status])) {
            return status;
        }
    }
    return STATUS_WAITING;
}

static Status status_by_facts(const Purchase *purchase)
{
    if (purchase->first_fitting != NULL && purchase->fitted >= purchase->count.low) {
        return STATUS_FITTED;
    }
    if (purchase->first_arrival != NULL && purchase->arrived >= purchase->count.low) {
        return STATUS_HERE;
    }
    bool begun = purchase->ordered != NULL || purchase->first_promise != NULL ||
                 purchase->first_arrival != NULL || purchase->first_fitting != NULL;
    return begun ? STATUS_ORDERED : STATUS_UNSAID;
}

/* Most things are only wanted, and say nothing yet. */
static bool says_anything(const Entity *entity)
{
    static const uint16_t facts[] = {PROP_COMMON_STATUS,  PROP_COMMON_ORDERED, PROP_COMMON_PROMISED,
                                     PROP_COMMON_ARRIVED, PROP_COMMON_FITTED,  PROP_COMMON_EVENT};
    for (size_t i = 0; i < sizeof facts / sizeof facts[0]; i++) {
        if (entity_states(entity, (PropId)facts[i])) {
            return true;
        }
    }
    return false;
}

/* As stated; panels and batteries also by their layout. */
static Interval count_of(const Entity *entity)
{
    Interval laid_out;
    bool by_layout = !entity_states(entity, PROP_COMMON_COUNT) && layout_count(entity, &laid_out);
    return by_layout ? laid_out : stated_count(entity, PROP_COMMON_COUNT, 1.0);
}

static bool has_broken_line(const Entity *entity)
{
    static const uint16_t dated[] = {PROP_COMMON_ORDERED, PROP_COMMON_PROMISED, PROP_COMMON_ARRIVED, PROP_COMMON_FITTED,
                                     PROP_COMMON_EVENT};
    for (size_t i = 0; i < sizeof dated / sizeof dated[0]; i++) {
        const Property *p = entity_property(entity, (PropId)dated[i]);
        while (p != NULL && has_date(p)) {
            p = block_next(&entity->block, p);
        }
        if (p != NULL) {
            return true;
        }
    }
    return false;
}

static Purchase read_purchase(const Entity *entity)
{
    Purchase p = {.count = count_of(entity),
                  .spare = stated_count(entity, PROP_COMMON_SPARE, 0.0)};
    if (!says_anything(entity)) {
        p.status = status_by_facts(&p);
        return p;
    }
    p.unread = has_broken_line(entity);
    const Property *first_event = NULL;
    const Property *ordered = entity_property(entity, PROP_COMMON_ORDERED);
    p.ordered = has_date(ordered) ? ordered : NULL;
    find_promises(entity, &p.first_promise, &p.last_promise);
    find_dates(entity, PROP_COMMON_ARRIVED, &p.first_arrival, &p.last_arrival);
    find_dates(entity, PROP_COMMON_FITTED, &p.first_fitting, &p.last_fitting);
    find_dates(entity, PROP_COMMON_EVENT, &first_event, &p.last_event);
    p.arrived = p.last_arrival
                    ? pieces_until(entity, PROP_COMMON_ARRIVED, property_date(p.last_arrival), p.count)
                    : 0.0;
    p.fitted = p.last_fitting
                   ? pieces_until(entity, PROP_COMMON_FITTED, property_date(p.last_fitting), p.count)
                   : 0.0;
    p.all_fitted = says_all(entity, PROP_COMMON_FITTED);
    p.all_came = says_all(entity, PROP_COMMON_ARRIVED) || p.all_fitted;
    const Property *stated = entity_property(entity, PROP_COMMON_STATUS);
    if (stated == NULL) {
        p.status = status_by_facts(&p);
    } else if (stated->flags & PROPERTY_BROKEN) {
        p.status = STATUS_WAITING;
    } else {
        p.stated = stated;
        p.status = read_status(property_value(stated, 0)->u.word);
    }
    return p;
}

Purchase purchase_of(const Entity *entity)
{
    /* How many are wanted may be tried with other values; all else of it is fact. */
    bool known = entity->purchase != NULL && interval_is_point(entity->purchase->count);
    Purchase purchase = known ? *entity->purchase : read_purchase(entity);
    if (entity->purchase != NULL && entity->purchase->closed != NULL) {
        purchase.closed = entity->purchase->closed;
        purchase.status = STATUS_LOST;
    }
    return purchase;
}

/* Contradictions */

/* What a check works on. */
typedef struct Look {
    Model *model;
    const Entity *entity;
    const Purchase *purchase;
} Look;

static const char *name_of(const Look *look)
{
    return str_copy(look->model->arena, entity_name(look->model, look->entity));
}

static Span date_span(const Look *look, const Property *property)
{
    return value_span(look->model, property_value(property, 0));
}

static const char *date_text(const Look *look, const Property *property)
{
    Buf text;
    buf_init(&text, look->model->arena);
    date_write(&text, property_date(property));
    return text.text;
}

/* `early` happened before `late`, which has to come first. */
static void tell_order(const Look *look, const Property *early, const char *is, const Property *late,
                       const char *had_to)
{
    Messages *messages = look->model->messages;
    Message *m = message_report(messages, MESSAGE_STATUS_CONTRADICTS, date_span(look, early),
                                "`%s` %s %s, which is before it %s", name_of(look), is,
                                date_text(look, early), had_to);
    message_note(messages, m, date_span(look, late), "%s", date_text(look, late));
    message_right(messages, m, "the right date on either line; of an earlier purchase keep an `event` line");
}

/* No day is wrong where more are fitted than ever came. */
static void tell_too_many_fitted(const Look *look, const Property *line)
{
    const Purchase *p = look->purchase;
    Messages *messages = look->model->messages;
    Message *m = message_report(messages, MESSAGE_STATUS_CONTRADICTS, property_span(look->model, line),
                                "%d of `%s` %s fitted, and only %d came", (int)p->fitted, name_of(look), p->fitted == 1.0 ? "is" : "are",
                                (int)p->arrived);
    message_note(messages, m, property_span(look->model, p->last_arrival), "what came");
    message_right(messages, m, "an `arrived` line for the rest, or `fitted` with as many as are");
}

static void check_order_of_dates(const Look *look)
{
    const Purchase *p = look->purchase;
    const struct {
        const Property *line;
        const char *is;
    } after_order[] = {{p->first_promise, "is promised for"},
                       {p->last_promise, "is promised for"},
                       {p->first_arrival, "arrived on"},
                       {p->first_fitting, "was fitted on"}};
    for (size_t i = 0; i < sizeof after_order / sizeof after_order[0]; i++) {
        const Property *line = after_order[i].line;
        if (p->ordered != NULL && line != NULL && property_date(line) < property_date(p->ordered)) {
            tell_order(look, line, after_order[i].is, p->ordered, "was ordered");
            return; /* the rest is the echo of one wrong date */
        }
    }
    const Entity *entity = look->entity;
    for (const Property *f = entity_property(entity, PROP_COMMON_FITTED);
         f != NULL && p->first_arrival != NULL; f = block_next(&entity->block, f)) {
        Date day = has_date(f) ? property_date(f) : 0;
        if (has_date(f) && p->fitted > p->arrived && !says_all(entity, PROP_COMMON_ARRIVED)) {
            tell_too_many_fitted(look, p->last_fitting);
            return;
        }
        if (has_date(f) && pieces_until(entity, PROP_COMMON_FITTED, day, p->count) >
                               pieces_until(entity, PROP_COMMON_ARRIVED, day, p->count)) {
            bool none_yet = day < property_date(p->first_arrival);
            tell_order(look, f, "was fitted on", none_yet ? p->first_arrival : p->last_arrival,
                       none_yet ? "arrived" : "arrived in full");
            return;
        }
    }
}

/* More came, or were fitted, than were wanted. */
static void check_pieces(const Look *look, double came, const Property *last, const char *is)
{
    const Purchase *p = look->purchase;
    double most = p->count.high + p->spare.high;
    if (last == NULL || came <= most || property_value(last, 1)->kind != VALUE_QUANTITY) {
        return;
    }
    Messages *messages = look->model->messages;
    Message *m =
        message_report(messages, MESSAGE_STATUS_CONTRADICTS, value_span(look->model, property_value(last, 1)),
                       "%d of `%s` %s, and only %d are wanted", (int)came, name_of(look), is, (int)most);
    message_right(messages, m, "a `count` of %d, or a `spare` for those that are too many", (int)came);
}

static const Property *later_line(const Property *a, const Property *b)
{
    return b == NULL || (a != NULL && property_date(a) > property_date(b)) ? a : b;
}

/* The line that shows that the purchase is further than its stated status says; NULL if none does. */
static const Property *ahead_of_status(const Purchase *p)
{
    bool all_fitted = p->first_fitting != NULL && p->fitted >= p->count.low;
    bool all_here = all_fitted || (p->first_arrival != NULL && p->arrived >= p->count.low);
    switch (p->status) {
    case STATUS_WANTED:
        return p->last_fitting != NULL ? p->last_fitting : later_line(p->ordered, p->last_arrival);
    case STATUS_LOST: return later_line(p->last_fitting, p->last_arrival);
    case STATUS_ORDERED:
    case STATUS_DELAYED:
    case STATUS_SHIPPED: return !all_here ? NULL : all_fitted ? p->last_fitting : p->last_arrival;
    case STATUS_HERE: return all_fitted ? p->last_fitting : NULL;
    default: return NULL;
    }
}

/* The line that shows that it is not yet as far as the stated status says: only a part came, or is fitted. */
static const Property *behind_status(const Purchase *p)
{
    if (p->status == STATUS_HERE && p->last_arrival != NULL && p->arrived < p->count.low) {
        return p->last_arrival;
    }
    if (p->status == STATUS_FITTED && p->last_fitting != NULL && p->fitted < p->count.low) {
        return p->last_fitting;
    }
    return NULL;
}

static const char *line_words(const Property *line)
{
    return line->id == PROP_COMMON_ORDERED   ? "was ordered on"
           : line->id == PROP_COMMON_ARRIVED ? "arrived on"
                                             : "was fitted on";
}

static void check_stated(const Look *look)
{
    const Purchase *p = look->purchase;
    const Property *ahead = ahead_of_status(p);
    const Property *behind = behind_status(p);
    if (p->stated == NULL || (ahead == NULL && behind == NULL)) {
        return;
    }
    Messages *messages = look->model->messages;
    Span at = value_span(look->model, property_value(p->stated, 0));
    Message *m;
    if (ahead != NULL) {
        m = message_report(messages, MESSAGE_STATUS_CONTRADICTS, at, "the status says `%s`, but `%s` %s %s",
                           status_word(p->status), name_of(look), line_words(ahead), date_text(look, ahead));
    } else {
        m = message_report(messages, MESSAGE_STATUS_CONTRADICTS, at,
                           "the status says `%s`, but only %d of %d %s", status_word(p->status),
                           (int)(p->status == STATUS_HERE ? p->arrived : p->fitted), (int)p->count.low,
                           p->status == STATUS_HERE ? "arrived" : "were fitted");
    }
    message_note(messages, m, property_span(look->model, ahead != NULL ? ahead : behind), "here");
    if (p->status == STATUS_LOST) {
        message_right(messages, m, "`count` of those that came, and what never comes as a thing of its own, which is `status lost`");
    } else {
        message_right(messages, m, "`status %s`, or no such line: the dated facts tell", status_word(status_by_facts(p)));
    }
}

/* What came back counts for what is returned alone, and would be left out of every sum otherwise. */
static void check_refund(Model *model, const Entity *entity)
{
    const Property *refunded = entity_property(entity, PROP_COMMON_REFUNDED);
    const Property *stated = entity_property(entity, PROP_COMMON_STATUS);
    Status status = thing_status(entity);
    if (refunded == NULL || refunded->flags & PROPERTY_BROKEN || status == STATUS_RETURNED || status == STATUS_LOST ||
        status == STATUS_DROPPED || (stated != NULL && (stated->flags & PROPERTY_BROKEN || property_value(stated, 0)->flags & VALUE_BROKEN))) {
        return;
    }
    const char *is = status == STATUS_UNSAID ? "says nothing of that" : text_format(model->arena, "is `%s`", status_word(status));
    Str name = entity_name(model, entity);
    Message *m = message_report(model->messages, MESSAGE_STATUS_CONTRADICTS, property_span(model, refunded),
                                "`refunded` counts only for what is returned, lost or dropped, and `%.*s` %s", STR_ARG(name), is);
    message_right(model->messages, m, "`status returned`; or a `price` that is lower by so much, and an `event` line that says why");
}

/* Nothing of an order has come, and who was to send it closed for good by today: the line that says so; else NULL. */
static const Property *closed_before_it_came(const Entity *entity, const Purchase *purchase, Date today)
{
    const Entity *supplier = purchase_is_under_way(purchase) ? entity_reference(entity, PROP_COMMON_SUPPLIER) : NULL;
    const Property *closed = supplier != NULL ? entity_property(supplier, PROP_SUPPLIER_CLOSED) : NULL;
    bool is_closed = has_date(closed) && property_date(closed) <= today;
    return is_closed && !purchase->unread && purchase_came(purchase).high == 0.0 ? closed : NULL;
}

void status_check(Model *model, Date today)
{
    for (uint32_t i = 0; i < model->entity_count; i++) {
        Entity *entity = model->entities[i];
        if (!says_anything(entity)) {
            if (is_bought(entity)) {
                check_refund(model, entity);
            }
            continue; /* STATUS_UNSAID, which is 0 */
        }
        Purchase *purchase = ARENA_NEW(model->arena, Purchase);
        *purchase = read_purchase(entity);
        entity->purchase = purchase;
        entity->status = (uint8_t)purchase->status;
        if (!is_bought(entity)) {
            continue;
        }
        Look look = {.model = model, .entity = entity, .purchase = purchase};
        check_order_of_dates(&look);
        check_pieces(&look, purchase->arrived, purchase->last_arrival, "arrived");
        check_pieces(&look, purchase->fitted, purchase->last_fitting, "were fitted");
        check_stated(&look);
        purchase->closed = closed_before_it_came(entity, purchase, today);
        if (purchase->closed != NULL) {
            entity->status = STATUS_LOST;
            purchase->status = STATUS_LOST;
        }
        check_refund(model, entity);
    }
}
