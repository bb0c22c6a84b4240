/*
 * What has to be done to the things aboard again and again: every `service` line with the day, or the reading of an
 * engine's hour meter, at which it is due. Knows no day but those of the spec: what is overdue is for rules and the book.
 */
#ifndef GARBOARD_FIGURES_MAINTENANCE_H
#define GARBOARD_FIGURES_MAINTENANCE_H

#include "base/interval.h"
#include "model/model.h"

enum { MAINTENANCE_PARTS = 4 };

/** One `service` line. */
typedef struct Maintenance {
    const Entity *thing;
    const Property *line;
    bool by_hours;       /* of an engine or generator; else by the calendar */
    const Entity *meter; /* the engine or generator whose hours count; NULL: it cannot be told which */
    bool counted;        /* it is known from when on it counts */
    bool done;           /* `since` is when it was last done, not when it was fitted */
    Date since;          /* where counted by the calendar, or done */
    Interval due_s;      /* where counted: the day in seconds, or the reading of the meter */
    const Entity *parts[MAINTENANCE_PARTS]; /* that it takes; NULL at the end */
    Interval takes[MAINTENANCE_PARTS];      /* how many of each: one, unless the line says so */
    struct Maintenance *next;               /* in the order of the spec */
} Maintenance;

/** All that can be read of what is aboard, dropped things left out; NULL if there is none. */
Maintenance *maintenance_list(Arena *arena, const Model *model);
/** The property that says what a meter shows: of an engine, or of a generator. */
PropId maintenance_meter_prop(const Entity *meter);
/**
 * Whether a meter's reading is known beside the one at which the work was last done: both days, and both readings in s.
 * The meter's day is 0 where it is not stated.
 */
bool maintenance_readings(const Maintenance *service, Date *read_on, Interval *meter, Interval *at_service);
/** When a thing by the calendar is due again, if it is done on that day: the earliest. */
Date maintenance_after(const Maintenance *service, Date day);
/** How often, as stated, and what is to be done. */
const Value *maintenance_every(const Maintenance *service);
Str maintenance_what(const Maintenance *service);

#endif
