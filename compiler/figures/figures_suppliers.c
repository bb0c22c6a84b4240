/*
 * What suppliers kept: the day that was promised first against the day on which all of it was here.
 *
 * A promise that was put off is held against its first day: the plan was made with that one. A thing that is still owed
 * counts from the day on which its promise has passed, with the days that it is late today.
 */
#include "figures/boat.h"

#include "model/status.h"

#include <math.h>

/* Ranges, for where it is open how many are wanted, a delivery may be the last one or not. */
typedef struct Record {
    Interval promises, kept, owing;
    Interval late_d, most_d; /* all days together; the most */
    bool waits;              /* for a mistake in one of the things */
} Record;

static Record late_record(Date promised, Date came, bool here)
{
    double late = came > promised ? came - promised : 0;
    return (Record){.promises = point(1.0),
                    .kept = point(here && late == 0.0),
                    .late_d = point(late),
                    .most_d = point(late)};
}

static Record either(Record a, Record b)
{
    return (Record){.promises = interval_hull(a.promises, b.promises),
                    .kept = interval_hull(a.kept, b.kept),
                    .owing = interval_hull(a.owing, b.owing),
                    .late_d = interval_hull(a.late_d, b.late_d),
                    .most_d = interval_hull(a.most_d, b.most_d)};
}

/* Of a thing that is fitted no day may be stated on which it came: it was any up to that of its fitting. */
static Record came_record(const Purchase *purchase, Date promised)
{
    if (purchase->last_arrival != NULL) {
        return late_record(promised, property_date(purchase->last_arrival), true);
    }
    return either(late_record(promised, promised, true), late_record(promised, property_date(purchase->last_fitting), true));
}

/* What a thing adds if it is on its way, or has come. */
static Record record_of(const Purchase *purchase, bool coming, Date today)
{
    Record record = {.waits = false};
    if (purchase->first_promise != NULL) {
        Date promised = property_date(purchase->first_promise);
        if (coming && promised < today) {
            record = late_record(promised, today, false);
        } else if (!coming && (purchase->last_arrival != NULL || purchase->last_fitting != NULL)) {
            record = came_record(purchase, promised);
        }
    }
    record.owing = point(coming);
    return record;
}

static void note(Record *record, const Purchase *purchase, Date today)
{
    Record of = record_of(purchase, purchase_is_under_way(purchase), today);
    if (purchase_may_go_on(purchase)) {
        of = either(of, record_of(purchase, true, today));
    }
    record->promises = interval_add(record->promises, of.promises);
    record->kept = interval_add(record->kept, of.kept);
    record->owing = interval_add(record->owing, of.owing);
    record->late_d = interval_add(record->late_d, of.late_d);
    record->most_d = interval_max(record->most_d, of.most_d);
}

/* Of each supplier, by Entity.index; NULL of all else. What is dropped was not aboard, and was not kept either way. */
static Record **gather(Work *work)
{
    const Model *model = work->model;
    Record **records = ARENA_ARRAY(work->scratch, Record *, model->entity_count);
    for (const Entity *s = model->first_of_kind[KIND_SUPPLIER]; s != NULL; s = s->next_of_kind) {
        records[s->index] = ARENA_NEW(work->scratch, Record);
    }
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *thing = model->entities[i];
        const Entity *seller = is_bought(thing) ? entity_reference(thing, PROP_COMMON_SUPPLIER) : NULL;
        if (seller == NULL || thing->flags & ENTITY_DROPPED) {
            continue;
        }
        Record *record = records[seller->index];
        Purchase purchase = purchase_of(thing);
        record->waits |= purchase.status == STATUS_WAITING || purchase.unread;
        note(record, &purchase, work->figures->today);
    }
    return records;
}

static void put(Work *work, const Entity *supplier, FigureId id, Interval value, const char *formula)
{
    work_record(work, id, supplier, NULL, value, formula);
}

/* No mean is more than the most; where perhaps there is no promise at all, that is all that is known. */
static Interval mean_late_d(const Record *record)
{
    double high = record->promises.low > 0.0 ? record->late_d.high / record->promises.low : INFINITY;
    return interval(record->late_d.low / record->promises.high, fmin(high, record->most_d.high));
}

void figures_suppliers(Work *work)
{
    const Entity *first = work->model->first_of_kind[KIND_SUPPLIER];
    Record **records = first != NULL ? gather(work) : NULL;
    for (const Entity *s = first; s != NULL; s = s->next_of_kind) {
        Record record = *records[s->index];
        if (record.promises.high == 0.0 && record.owing.high == 0.0) {
            continue;
        }
        work_begin(work);
        if (record.waits) {
            use_waiting(work);
        }
        double days = (double)SECONDS_A_DAY;
        put(work, s, FIGURE_PROMISES, record.promises, "things whose promised day is past, or that are here");
        put(work, s, FIGURE_KEPT, record.kept, "of these, here by the day that was promised first");
        put(work, s, FIGURE_OWING, record.owing, "things that are on order");
        if (record.promises.high > 0.0) {
            put(work, s, FIGURE_LATE_MEAN, interval_scale(mean_late_d(&record), days),
                "mean over promises of the days from the first promised day to the last arrival, or today");
            put(work, s, FIGURE_LATE_MOST, interval_scale(record.most_d, days), "the most of these");
        }
    }
}
