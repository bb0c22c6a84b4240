/*
 * What suppliers kept: the day that was promised first against the day on which all of it was here.
 *
 * A promise that was put off is held against its first day: the plan was made with that one. A thing that is still owed
 * counts from the day on which its promise has passed, with the days that it is late today.
 */
#include "figures/boat.h"

#include "model/status.h"

#include <math.h>

typedef struct Record {
    uint32_t promises, kept, owing;
    double late_d, most_d; /* all days together; the most */
    bool waits;            /* for a mistake in one of the things */
} Record;

static void note_late(Record *record, Date promised, Date came, bool here)
{
    int late = came > promised ? came - promised : 0;
    record->promises++;
    record->kept += here && late == 0;
    record->late_d += late;
    record->most_d = fmax(record->most_d, late);
}

static void note(Record *record, const Purchase *purchase, Date today)
{
    bool coming = purchase_is_under_way(purchase);
    record->owing += coming;
    if (purchase->first_promise == NULL) {
        return;
    }
    Date promised = property_date(purchase->first_promise);
    if (coming && promised < today) {
        note_late(record, promised, today, false);
    } else if (!coming && purchase->last_arrival != NULL) {
        note_late(record, promised, property_date(purchase->last_arrival), true);
    }
}

/* Of each supplier, by Entity.index. What is dropped was not aboard, and was not kept either way. */
static Record *gather(Work *work)
{
    const Model *model = work->model;
    Record *records = ARENA_ARRAY(work->scratch, Record, model->entity_count);
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *thing = model->entities[i];
        const Entity *seller = is_bought(thing) ? entity_reference(thing, PROP_COMMON_SUPPLIER) : NULL;
        if (seller == NULL || thing->flags & ENTITY_DROPPED) {
            continue;
        }
        Record *record = &records[seller->index];
        Purchase purchase = purchase_of(thing);
        record->waits |= purchase.status == STATUS_WAITING || purchase.unread;
        note(record, &purchase, work->figures->today);
    }
    return records;
}

static void put(Work *work, const Entity *supplier, FigureId id, double value, const char *formula)
{
    work_record(work, id, supplier, NULL, point(value), formula);
}

void figures_suppliers(Work *work)
{
    const Entity *first = work->model->first_of_kind[KIND_SUPPLIER];
    const Record *records = first != NULL ? gather(work) : NULL;
    for (const Entity *s = first; s != NULL; s = s->next_of_kind) {
        Record record = records[s->index];
        if (record.promises == 0 && record.owing == 0) {
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
        if (record.promises > 0) {
            put(work, s, FIGURE_LATE_MEAN, record.late_d / record.promises * days,
                "mean over promises of the days from the first promised day to the last arrival, or today");
            put(work, s, FIGURE_LATE_MOST, record.most_d * days, "the most of these");
        }
    }
}
