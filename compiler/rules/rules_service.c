/*
 * Rules of service: whether it is said what has to be done, whether it is done in time, and whether its parts are aboard.
 */
#include "rules/families.h"

#include "rules/ask.h"
#include "rules/dates.h"
#include "rules/plumbing.h"

#include "figures/fuel_plan.h"
#include "figures/maintenance.h"
#include "figures/water.h"
#include "model/status.h"

#include <math.h>

/* ---- service-blind ------------------------------------------------------------------------------------- */

/* Work that is typical of a kind, as an example of the line. */
static const char *usual_service(const Entity *thing)
{
    switch (thing->kind) {
    case KIND_ENGINE:
    case KIND_GENERATOR:
        return str_is(entity_word(thing, PROP_ENGINE_FUEL), "electric")
                   ? "service every 12 month \"Cooling and terminals\""
                   : "service every 100 h \"Oil and filter\"";
    case KIND_HEATER: return "service every 12 month \"Burner and exhaust\"";
    default: return "service every 12 month \"Valves and diaphragm\"";
    }
}

static void judge_service_blind(Judge *judge, const Entity *thing)
{
    bool burnerless = thing->kind == KIND_HEATER && heater_burns(judge->model, thing) == BURNS_NO;
    if (entity_states(thing, PROP_COMMON_SERVICE) || burnerless) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, thing, place_of_name(judge, thing));
    finding_say(judge, finding, "nothing says what `%s` needs done to it, and how often",
                say_name(judge, thing));
    finding_remedy(judge, finding, "%s, for example; its maker's book says what and how often",
                   usual_service(thing));
    finding_of_heater(judge, finding, thing);
}

/* ---- service-overdue ----------------------------------------------------------------------------------- */

static Span line_of(const Judge *judge, const Maintenance *service)
{
    return property_span(judge->model, service->line);
}

/* Of the lines of one thing that count one way, from `first` on, the one that is due first; NULL: none counts. */
static const Maintenance *soonest_of(const Maintenance *first)
{
    const Maintenance *soonest = NULL;
    for (const Maintenance *m = first; m != NULL && m->thing == first->thing; m = m->next) {
        if (m->by_hours == first->by_hours && m->counted &&
            (soonest == NULL || m->due_s.low < soonest->due_s.low)) {
            soonest = m;
        }
    }
    return soonest;
}

static void note_others(Judge *judge, Finding *finding, const Maintenance *first, const Maintenance *soonest,
                        double now_s)
{
    for (const Maintenance *m = first; m != NULL && m->thing == first->thing; m = m->next) {
        if (m != soonest && m->by_hours == first->by_hours && m->counted && m->due_s.high < now_s) {
            finding_note(judge, finding, line_of(judge, m), "due too");
        }
    }
}

/* Compares when the first of the lines is due with now: a day, or the reading of the meter. */
static void look_at_lines(Judge *judge, const Maintenance *first, Side now)
{
    const Entity *thing = first->thing;
    const Figure *due = figure_of(judge, thing, first->by_hours ? FIGURE_SERVICE_AT : FIGURE_SERVICE_DUE);
    const Maintenance *soonest = soonest_of(first);
    Finding *finding = due == NULL || soonest == NULL
                           ? NULL
                           : judge_at_least(judge, thing, line_of(judge, soonest), side_figure(due), now);
    if (finding == NULL) {
        return;
    }
    const char *was = finding->verdict == VERDICT_OPEN ? "may have been" : "was";
    const char *today = say_date(judge, judge->today);
    if (first->by_hours) {
        finding_matter(finding, "hours");
        finding_say(judge, finding, "\"%s\" of `%s` %s due at %s; the meter of `%s` shows %s", due->remark,
                    say_name(judge, thing), was, say_figure(judge, due), say_name(judge, first->meter),
                    say_side(judge, now));
        finding_remedy(judge, finding, "do it, and say when and at which reading: `last %s at %s`", today,
                       say_side(judge, now));
    } else {
        finding_say(judge, finding, "\"%s\" of `%s` %s due on %s", due->remark, say_name(judge, thing), was,
                    say_figure(judge, due));
        finding_remedy(judge, finding, "do it, and say when: `last %s`", today);
    }
    note_others(judge, finding, first, soonest, now.value.low);
}

/* A meter that nobody has read says of nothing whether it is due; one reading is told to be missing, once. */
static void look_at_hours(Judge *judge, const Maintenance *first)
{
    PropId prop = first->meter != NULL ? maintenance_meter_prop(first->meter) : PROP_NONE;
    if (first->meter == NULL || soonest_of(first) == NULL) {
        return;
    }
    if (entity_states(first->meter, prop)) {
        look_at_lines(judge, first, side_value(judge, first->meter, prop, 0));
    } else {
        judge_unmeasured(judge, first->meter, prop);
    }
}

static void judge_service_overdue(Judge *judge)
{
    Side today = side_number((double)judge->today * SECONDS_A_DAY, UNIT_ALONE(UNIT_DATE));
    const Entity *day_of = NULL, *hours_of = NULL; /* the thing that was looked at last */
    for (const Maintenance *m = maintenance_list(judge->arena, judge->model); m != NULL; m = m->next) {
        if (!m->by_hours && m->thing != day_of) {
            look_at_lines(judge, m, today);
            day_of = m->thing;
        } else if (m->by_hours && m->thing != hours_of) {
            look_at_hours(judge, m);
            hours_of = m->thing;
        }
    }
}

/* ---- service-reading ----------------------------------------------------------------------------------- */

/* Hours that a meter may gain on the day itself. */
static const double a_day_s = 86400.0;

static void look_at_reading(Judge *judge, const Maintenance *service)
{
    Date read_on;
    Interval meter, done;
    if (!maintenance_readings(service, &read_on, &meter, &done)) {
        return;
    }
    PropId prop = maintenance_meter_prop(service->meter);
    bool dated = read_on != 0, later = dated && service->since > read_on;
    Side reading = side_value(judge, service->meter, prop, 0);
    Side other = side_stated(service->thing, service->line, 3);
    double spare = dated && service->since == read_on ? a_day_s : 0.0;
    other.value = interval_add(other.value, point(later ? spare : -spare));
    /* Both are readings of one meter: the later day has the greater one. */
    Finding *finding = later ? judge_at_least(judge, service->thing, line_of(judge, service), other, reading)
                             : judge_at_most(judge, service->thing, line_of(judge, service), other, reading);
    if (finding == NULL) {
        return;
    }
    Str what = maintenance_what(service);
    finding_say(judge, finding, "\"%.*s\" of `%s` was done on %s at %s, and the meter of `%s` shows %s%s: no meter runs backwards",
                STR_ARG(what), say_name(judge, service->thing), say_date(judge, service->since),
                say_side(judge, side_stated(service->thing, service->line, 3)), say_name(judge, service->meter),
                say_side(judge, reading),
                dated ? text_format(judge->arena, " on %s", say_date(judge, read_on)) : ", read on a day that is not stated");
    finding_matter(finding, str_copy(judge->arena, what));
    finding_note(judge, finding, place_of(judge, service->meter, prop), "the meter");
    finding_remedy(judge, finding, "the reading, or the day, as the log has it");
    if (!dated) {
        finding_hangs_on(judge, finding, service->meter, prop, text_format(judge->arena, "day of %s.hours", say_name(judge, service->meter)));
    }
}

static void judge_service_reading(Judge *judge)
{
    for (const Maintenance *m = maintenance_list(judge->arena, judge->model); m != NULL; m = m->next) {
        look_at_reading(judge, m);
    }
}

/* ---- service-stale ------------------------------------------------------------------------------------- */

/* So long after a meter was read nobody knows what it shows. A choice of this program. */
static const Date stale_days = 366;

/* The line that is the next to be due by a meter, which it has not reached, or (*perhaps) may not have; NULL: none, or one is due already. */
static const Maintenance *next_by(const Maintenance *list, const Entity *meter, Interval reads_s, bool *perhaps)
{
    const Maintenance *next = NULL;
    for (const Maintenance *m = list; m != NULL; m = m->next) {
        if (!m->by_hours || m->meter != meter || !m->counted) {
            continue;
        }
        if (m->due_s.high <= reads_s.low) {
            return NULL; /* `service-overdue` tells it */
        }
        *perhaps = *perhaps || m->due_s.low <= reads_s.high;
        next = next == NULL || m->due_s.low < next->due_s.low ? m : next;
    }
    return next;
}

static void look_at_meter(Judge *judge, const Maintenance *list, const Entity *meter)
{
    Interval reads;
    PropId prop = maintenance_meter_prop(meter);
    const Value *day = property_value(entity_property(meter, prop), 1);
    if (day->kind != VALUE_DATE || day->flags & VALUE_BROKEN || !entity_quantity(meter, prop, 0, &reads)) {
        return;
    }
    bool perhaps = false;
    const Maintenance *next = next_by(list, meter, reads, &perhaps);
    if (next == NULL || day->u.date > judge->today - stale_days) {
        judge_holds(judge);
        return;
    }
    Str what = maintenance_what(next);
    Span place = place_of(judge, meter, prop);
    Finding *finding = perhaps ? judge_open(judge, meter, place, meter, prop) : judge_broken(judge, meter, place);
    finding_say(judge, finding, "the meter of `%s` was read on %s, more than a year ago: whether \"%.*s\" of `%s` is due, at %s, is not known",
                say_name(judge, meter), say_date(judge, day->u.date), STR_ARG(what), say_name(judge, next->thing),
                say_side(judge, side_interval(next->due_s, UNIT_ALONE(UNIT_H))));
    finding_note(judge, finding, line_of(judge, next), "the next that is due by it");
    finding_remedy(judge, finding, "read the meter: `hours ... h on %s`", say_date(judge, judge->today));
}

static void judge_service_stale(Judge *judge)
{
    static const KindId metered[] = {KIND_ENGINE, KIND_GENERATOR};
    const Maintenance *list = maintenance_list(judge->arena, judge->model);
    for (size_t i = 0; i < sizeof metered / sizeof metered[0]; i++) {
        for (const Entity *meter = first_aboard(judge->model, metered[i]); meter != NULL; meter = next_aboard(meter)) {
            look_at_meter(judge, list, meter);
        }
    }
}

/* ---- service-parts ------------------------------------------------------------------------------------- */

/* The first service that takes most of a part at once; *number is how many. */
static const Maintenance *takes_most(const Maintenance *list, const Entity *part, Interval *number)
{
    const Maintenance *most = NULL;
    for (const Maintenance *m = list; m != NULL; m = m->next) {
        for (size_t i = 0; i < MAINTENANCE_PARTS && m->parts[i] != NULL; i++) {
            if (m->parts[i] == part && (most == NULL || m->takes[i].high > number->high)) {
                most = m;
                *number = m->takes[i];
            }
        }
    }
    return most;
}

/* A part that one line names twice is looked at once. */
static bool is_first_in_line(const Maintenance *service, size_t slot)
{
    size_t i = 0;
    while (service->parts[i] != service->parts[slot]) {
        i++;
    }
    return i == slot;
}

/* Its spares went with it, or are of the wrong sort. */
static void tell_dropped_part(Judge *judge, const Maintenance *service, const Entity *part)
{
    Str what = maintenance_what(service);
    Finding *finding = judge_broken(judge, service->thing, line_of(judge, service));
    finding_at(finding, part);
    finding_say(judge, finding, "\"%.*s\" of `%s` takes `%s`, which is dropped: no spare of it counts", STR_ARG(what),
                say_name(judge, service->thing), say_name(judge, part));
    finding_note(judge, finding, place_of_name(judge, part), "dropped");
    finding_remedy(judge, finding, "`with` and what is taken in its place");
}

/* A spare is wanted, but what came went back, or none ever comes, or is no more than the design takes for itself. What is still to come is on its way. */
static bool lacks_its_spare(const Entity *part)
{
    Purchase purchase = purchase_of(part);
    bool over = purchase.status == STATUS_RETURNED || purchase.status == STATUS_LOST || purchase_awaits_spares(&purchase);
    return purchase.spare.low >= 1.0 && over && spares_aboard(part).high < 1.0;
}

static void tell_lacking_spare(Judge *judge, const Maintenance *service, const Entity *part)
{
    Str what = maintenance_what(service);
    bool lost = thing_status(part) == STATUS_LOST, returned = lost || thing_status(part) == STATUS_RETURNED;
    Finding *finding = judge_broken(judge, part, place_of(judge, part, PROP_COMMON_SPARE));
    finding_say(judge, finding, "\"%.*s\" of `%s` takes `%s`, and %s", STR_ARG(what), say_name(judge, service->thing),
                say_name(judge, part), lost ? "it never comes" : returned ? "what came of it went back" : "no more has come than is fitted: no spare");
    finding_note(judge, finding, line_of(judge, service), "taken here");
    finding_remedy(judge, finding, returned ? "another one, with the day on which it `arrived`" : "`arrived`, with the day and how many came, once it is here");
}

static void look_at_part(Judge *judge, const Maintenance *service, const Entity *part, Interval takes)
{
    if (part->flags & ENTITY_DROPPED) {
        tell_dropped_part(judge, service, part);
        return;
    }
    if (lacks_its_spare(part)) {
        tell_lacking_spare(judge, service, part);
        return;
    }
    Side spare = side_value(judge, part, PROP_COMMON_SPARE, 0);
    Finding *finding = judge_at_least(judge, part, place_of(judge, part, PROP_COMMON_SPARE), spare,
                                      side_interval(takes, UNIT_ALONE(UNIT_NONE)));
    if (finding == NULL) {
        return;
    }
    Str what = maintenance_what(service);
    bool one = takes.low == 1.0 && takes.high == 1.0, some = side_is_known(spare) && spare.value.high > 0.0;
    const char *number = say_side(judge, side_interval(takes, UNIT_ALONE(UNIT_NONE)));
    finding_say(judge, finding, "\"%.*s\" of `%s` takes %s`%s`, and %s", STR_ARG(what), say_name(judge, service->thing),
                one ? "" : text_format(judge->arena, "%s of ", number), say_name(judge, part),
                finding->verdict == VERDICT_OPEN ? one ? "it is not decided whether one is carried" : "it is not decided whether so many are carried"
                : some ? text_format(judge->arena, "%s of them %s carried as spares", say_side(judge, spare), spare.value.high > 1.0 ? "are" : "is")
                       : "no spare is carried");
    finding_note(judge, finding, line_of(judge, service), "taken here");
    if (isfinite(takes.high)) {
        finding_remedy(judge, finding, "spare %s", say_up(judge, takes.high, UNIT_ALONE(UNIT_NONE)));
    }
}

static void judge_service_parts(Judge *judge)
{
    const Maintenance *list = maintenance_list(judge->arena, judge->model);
    for (const Maintenance *m = list; m != NULL; m = m->next) {
        for (size_t i = 0; i < MAINTENANCE_PARTS && m->parts[i] != NULL; i++) {
            Interval takes = m->takes[i];
            if (takes_most(list, m->parts[i], &takes) == m && is_first_in_line(m, i)) {
                look_at_part(judge, m, m->parts[i], takes);
            }
        }
    }
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define PUMP(SAYS)                                              \
    EXAMPLE_BOAT "tank fresh { holds fresh; capacity 100 l }\n" \
                 "pump galley-pump { from fresh; flow 8 l/min; " SAYS " }\n"
#define SERVICED(EVERY, LAST) \
    PUMP("draw 4 A; portable yes; service every " EVERY " \"Valves and diaphragm\" last " LAST)
#define KIT(SAYS)                                                                                  \
    PUMP("draw 4 A; portable yes; service every 12 month \"Valves and diaphragm\" with valve-kit") \
    "item valve-kit \"Kit of valves\" { " SAYS " }\n"

#define METER(HOURS) \
    EXAMPLE_BOAT "engine diesel { rated 30 kW at 2600 rpm; fuel diesel; hours " HOURS "; service every 150 h \"Oil\" last 2026-06-01 at 980 h }\n"

#define READ(HOURS, DAY)                                                                                                      \
    EXAMPLE_BOAT "engine diesel { rated 30 kW at 2600 rpm; fuel diesel; hours " HOURS " h on " DAY "; service every 150 h \"Oil\" " \
                 "last 2001-06-01 at 980 h }\n"

static const char practice[] = "common practice, no source";

static const Rule rules[] = {
    {.name = "service-blind",
     .severity = SEVERITY_ADVICE,
     .title = "engines, pumps and heaters say what has to be done to them",
     .basis = ON_BOTH,
     .source = practice,
     .why = "What is in no plan is done after it has failed. The maker's book says what and how often; here "
            "it is one line.",
     .breaks = PUMP("draw 4 A; portable yes"),
     .holds = PUMP("draw 4 A; portable yes; service every 12 month \"Valves and diaphragm\""),
     .never_open = "a line is in the spec or it is not",
     .kinds = {KIND_ENGINE, KIND_PUMP, KIND_GENERATOR, KIND_HEATER},
     .judge = judge_service_blind},
    {.name = "service-overdue",
     .severity = SEVERITY_WARNING,
     .title = "what has to be done to a thing is done in time",
     .basis = ON_BOTH,
     .source = practice,
     .why = "A diaphragm, a belt or an impeller that is past its day fails at sea, not in the harbour. "
            "Counted from "
            "when it was last done, else from when the thing was fitted; by hours from the reading of the "
            "meter of its engine or generator.",
     .breaks = SERVICED("12 month", "2001-05-01"),
     .holds = SERVICED("12 month", "9990-05-01"),
     .open = SERVICED("1..9000 year", "2001-05-01"),
     .judge_boat = judge_service_overdue},
    {.name = "service-reading",
     .severity = SEVERITY_WARNING,
     .title = "the meter has run on since the work was done",
     .basis = ON_BOTH,
     .source = "a meter does not run backwards; one that was changed begins anew, and the readings of the old one no longer count",
     .why = "The next service is due so many hours after the last reading. A nought too many, or two digits the wrong way round, "
            "puts it off for years.",
     .breaks = METER("210 h on 2026-10-01"),
     .holds = METER("1010 h on 2026-10-01"),
     .open = METER("210 h"),
     .judge_boat = judge_service_reading},
    {.name = "service-stale",
     .severity = SEVERITY_WARNING,
     .title = "the meter that service goes by was read within a year",
     .basis = ON_BOTH,
     .source = "common practice, no source; a year: a choice of this program",
     .why = "A service by hours is due by the meter alone. While nobody reads it, nothing falls due, however far she goes.",
     .breaks = READ("1010", "2001-10-01"),
     .holds = READ("1010", "9990-10-01"),
     .open = READ("1010..1200", "2001-10-01"),
     .judge_boat = judge_service_stale},
    {.name = "service-parts",
     .severity = SEVERITY_ADVICE,
     .title = "of each part that a service takes as many spares are aboard",
     .basis = ON_BOTH,
     .source = practice,
     .why = "Where the service falls due, the part may not be for sale, or not for weeks. A line takes one of each part, or as many "
            "as it says (`with 4 plug`); of several lines that take a part, that which takes most is looked at. A part that is `dropped` is none: it had "
            "the wrong thread, or its spares are gone.",
     .breaks = KIT("price 38 EUR"),
     .holds = KIT("price 38 EUR; spare 1"),
     .open = KIT("price 38 EUR; spare 0..1"),
     .judge_boat = judge_service_parts},
};
const RuleFamily rules_service = RULE_FAMILY("Service", rules);
